/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-craft.h"

#include "wb-craft-lot.h"

static WbLot *
add_lot (GPtrArray  *lots,
         gint64      id,
         gint64      material,
         const char *code,
         gboolean    used_up)
{
  WbLot *lot = wb_record_new (&wb_lot_type);

  lot->record.id = id;
  lot->material = material;
  lot->code = g_strdup (code);
  lot->used_up = used_up;
  g_ptr_array_add (lots, lot);
  return lot;
}

static void
test_split (void)
{
  const struct { const char *text, *joined; } cases[] = {
    { NULL, NULL },
    { "", NULL },
    { " , ,", NULL },
    { "W-107", "W-107" },
    { " W-107 ", "W-107" },
    { "F-1,F-2", "F-1, F-2" },
    { "F-1, f-1 , F-2", "F-1, F-2" },
    { "Charge 12/3 (2. Fass)", "Charge 12/3 (2. Fass)" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_auto (GStrv) codes = wb_craft_lot_split (cases[i].text);
      g_autofree char *joined = g_strjoinv (", ", codes);
      g_autofree char *same = wb_craft_lot_join (cases[i].text, cases[i].text);

      g_test_message ("%s", cases[i].text != NULL ? cases[i].text : "(none)");
      g_assert_cmpstr (joined, ==, cases[i].joined != NULL ? cases[i].joined : "");
      g_assert_cmpstr (same, ==, cases[i].joined);
    }
}

static void
test_names (void)
{
  g_assert_true (wb_craft_lot_names ("W-107", "W-107"));
  g_assert_true (wb_craft_lot_names ("w-107", " W-107"));
  g_assert_true (wb_craft_lot_names ("F-1, F-22", "F-22"));
  /* part of a code is another lot */
  g_assert_false (wb_craft_lot_names ("F-1, F-22", "F-2"));
  g_assert_false (wb_craft_lot_names ("W-1070", "W-107"));
  g_assert_false (wb_craft_lot_names (NULL, "W-107"));
}

static void
test_used_up (void)
{
  g_autoptr (GPtrArray) lots = g_ptr_array_new_with_free_func (wb_record_free);
  const gint64 blend[] = { 5, 6, 7 };
  g_autofree char *gone = NULL, *other = NULL, *none = NULL;

  add_lot (lots, 11, 5, "B-1", TRUE);
  add_lot (lots, 12, 6, "F-1", FALSE);
  add_lot (lots, 13, 7, "F-2", TRUE);
  gone = wb_craft_lot_dup_used_up (lots, blend, 3, "b-1, F-1, F-2, unheard-of");
  g_assert_cmpstr (gone, ==, "B-1, F-2");
  /* the same code of another material says nothing */
  other = wb_craft_lot_dup_used_up (lots, blend + 1, 1, "B-1, F-2");
  g_assert_null (other);
  none = wb_craft_lot_dup_used_up (lots, blend, 3, NULL);
  g_assert_null (none);
}

static void
test_missing (void)
{
  g_autoptr (GPtrArray) lots = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GArray) owners = NULL;
  WbFragrancePart *part = wb_record_new (&wb_fragrance_part_type);
  const WbLot *lot;

  part->fragrance = 5;
  part->part = 6;
  g_ptr_array_add (parts, part);
  add_lot (lots, 12, 6, "F-1", FALSE);
  owners = wb_craft_lot_dup_owners (5, parts);
  g_assert_cmpuint (owners->len, ==, 2);
  g_assert_cmpint (g_array_index (owners, gint64, 1), ==, 6);
  {
    /* a blend of a blend, in a circle */
    WbFragrancePart *inner = wb_record_new (&wb_fragrance_part_type), *back = wb_record_new (&wb_fragrance_part_type);
    g_autoptr (GPtrArray) deep = g_ptr_array_new_with_free_func (wb_record_free);
    g_autoptr (GArray) all = NULL;

    inner->fragrance = 4;
    inner->part = 5;
    back->fragrance = 6;
    back->part = 4;
    g_ptr_array_add (deep, wb_record_copy (part));
    g_ptr_array_add (deep, inner);
    g_ptr_array_add (deep, back);
    all = wb_craft_lot_dup_owners (4, deep);
    g_assert_cmpuint (all->len, ==, 3);
    g_assert_cmpint (g_array_index (all, gint64, 2), ==, 6);
  }

  wb_craft_lot_add_missing (records, lots, (gint64 *) (gpointer) owners->data, owners->len, "F-1, B-2", 20000);
  wb_craft_lot_add_missing (records, lots, (gint64 *) (gpointer) owners->data, owners->len, "b-2", 20000);
  /* the same code of another material is a lot of its own */
  wb_craft_lot_add_missing (records, lots, (const gint64[]) { 9 }, 1, "B-2", WB_DAY_NONE);
  g_assert_cmpuint (records->len, ==, 2);
  lot = records->pdata[0];
  g_assert_true (lot->record.type == &wb_lot_type && lot->record.id == 0);
  g_assert_cmpstr (lot->code, ==, "B-2");
  g_assert_cmpint (lot->material, ==, 5);
  g_assert_cmpint (lot->received_on, ==, 20000);
  lot = records->pdata[1];
  g_assert_cmpint (lot->material, ==, 9);
  g_assert_true (wb_record_validate (lot, NULL));
}

static void
test_of_sample (void)
{
  g_autoptr (WbRecord) sample_record = wb_record_new (&wb_sample_type);
  g_autoptr (WbRecord) batch_record = wb_record_new (&wb_batch_type);
  WbSample *sample = (WbSample *) (gpointer) sample_record;
  WbBatch *batch = (WbBatch *) (gpointer) batch_record;
  g_autofree char *both = NULL, *wax = NULL, *dye = NULL, *none = NULL;

  sample->wick_lot = g_strdup ("K-42");
  sample->fragrance_lot = g_strdup ("F-2");
  batch->fragrance_lot = g_strdup ("F-1, F-2");
  batch->wax_lot = g_strdup ("W-107");
  batch->dye_lot = g_strdup ("D-3");
  g_assert_cmpstr (wb_craft_lot_get_text (sample, &wb_wick_type), ==, "K-42");
  g_assert_null (wb_craft_lot_get_text (batch, &wb_wick_type));
  both = wb_craft_lot_dup_of_sample (sample, batch, &wb_fragrance_type);
  g_assert_cmpstr (both, ==, "F-2, F-1");
  wax = wb_craft_lot_dup_of_sample (sample, batch, &wb_wax_type);
  g_assert_cmpstr (wax, ==, "W-107");
  dye = wb_craft_lot_dup_of_sample (sample, batch, &wb_dye_type);
  g_assert_cmpstr (dye, ==, "D-3");
  none = wb_craft_lot_dup_of_sample (sample, NULL, &wb_vessel_type);
  g_assert_null (none);
}

static void
test_of_others (void)
{
  g_autoptr (GPtrArray) lots = g_ptr_array_new_with_free_func (wb_record_free);
  g_autofree char *wrong = NULL, *right = NULL, *unknown = NULL;
  const gint64 wax[] = { 5 };

  add_lot (lots, 11, 5, "W-1", FALSE);
  add_lot (lots, 12, 6, "F-1", FALSE);
  add_lot (lots, 13, 6, "W-1", FALSE);
  wrong = wb_craft_lot_dup_of_others (lots, wax, 1, "W-1, f-1");
  g_assert_cmpstr (wrong, ==, "f-1");
  /* a code that two materials have, and one that none has yet, are nobody else's */
  right = wb_craft_lot_dup_of_others (lots, wax, 1, "W-1");
  unknown = wb_craft_lot_dup_of_others (lots, wax, 1, "W-2");
  g_assert_null (right);
  g_assert_null (unknown);
}

/* What differs from a lot by marks and case alone was probably meant to be it; what is a lot is itself. */
static void
test_near (void)
{
  const struct { const char *text, *near; } cases[] = {
    { "MF2611", "MF-2611" }, { "mf 2611", "MF-2611" }, { "MF–2611", "MF-2611" }, { "MF-2611", NULL }, { "mf-2611", NULL }, { "MF261", NULL },
    { "MF2612", NULL }, { "MF2611, B 7, MF_2611", "MF-2611, B7" }, { "F1", NULL }, { "-", NULL }, { "", NULL }, { NULL, NULL },
  };
  g_autoptr (GPtrArray) lots = g_ptr_array_new_with_free_func (wb_record_free);
  const gint64 wax[] = { 5 };

  add_lot (lots, 11, 5, "MF-2611", FALSE);
  add_lot (lots, 12, 5, "B7", TRUE);
  add_lot (lots, 13, 6, "F-1", FALSE);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *near = wb_craft_lot_dup_near (lots, wax, 1, cases[i].text);

      g_test_message ("%s", cases[i].text);
      g_assert_cmpstr (near, ==, cases[i].near);
    }
}

/* However several are written, trace and stock read the same. */
static void
test_between (void)
{
  const struct { const char *text, *codes; } cases[] = {
    { "W-1 + W-2", "W-1|W-2" }, { "W-1; W-2,W-3", "W-1|W-2|W-3" }, { "A+B", "A+B" }, { " + ", "" }, { "W-1 +", "W-1" }, { NULL, "" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_auto (GStrv) codes = wb_craft_lot_split (cases[i].text);
      g_autofree char *joined = g_strjoinv ("|", codes);

      g_assert_cmpstr (joined, ==, cases[i].codes);
    }
  g_assert_true (wb_craft_lot_names ("W-1 + W-2", "w-2"));
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/craft/lot/a-text-is-split-into-codes", test_split);
  g_test_add_func ("/craft/lot/part-of-a-code-is-not-the-lot", test_names);
  g_test_add_func ("/craft/lot/what-is-used-up-is-told-of-its-own-material", test_used_up);
  g_test_add_func ("/craft/lot/a-code-that-is-no-lot-becomes-one-once", test_missing);
  g_test_add_func ("/craft/lot/a-sample-has-its-own-lots-and-its-batch-s", test_of_sample);
  g_test_add_func ("/craft/lot/a-lot-of-another-material-is-asked-about", test_of_others);
  g_test_add_func ("/craft/lot/a-code-that-differs-by-marks-alone-is-known", test_near);
  g_test_add_func ("/craft/lot/several-are-told-apart-however-they-are-written", test_between);
  return g_test_run ();
}
