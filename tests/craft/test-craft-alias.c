/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-craft.h"

#include "wb-craft-alias.h"

#include <string.h>

/* Other names for what a maker does not tell, whatever the script and whatever a thing was called before. */

static void
set (char      **text,
     const char *to)
{
  g_free (*text);
  *text = g_strdup (to);
}

/* One combination of a wax of that name. */
static WbDataset *
data_new (const char *wax)
{
  WbDataset *data = test_craft_data_new ();

  if (data->wax == NULL)
    data->wax = wb_record_new (&wb_wax_type);
  set (&data->wax->name, wax);
  data->wax->record.id = 301;
  test_craft_add_cell (data, "Hob", 76.2, "Brosk", "B4", 4, 8);
  return data;
}

static WbWax *
wax_new (gint64      id,
         const char *name,
         const char *supplier)
{
  WbWax *wax = wb_record_new (&wb_wax_type);

  wax->record.id = id;
  set (&wax->name, name);
  set (&wax->supplier, supplier);
  return wax;
}

static WbLot *
lot_new (gint64      id,
         const char *code)
{
  WbLot *lot = wb_record_new (&wb_lot_type);

  lot->record.id = id;
  set (&lot->code, code);
  return lot;
}

static void
assert_shown (const char *wax,
              const char *text,
              const char *shown)
{
  g_autoptr (WbDataset) data = data_new (wax);
  g_autoptr (WbCraftAlias) alias = wb_craft_alias_new (data, NULL);
  g_autofree char *renamed = wb_craft_alias_dup_text (alias, text);

  g_assert_true (g_utf8_validate (renamed, -1, NULL));
  g_assert_cmpstr (renamed, ==, shown);
}

static void
test_scripts (void)
{
  assert_shown ("Роза Мира", "На «Роза Мира» и Мира не хуже; розарий тоже.", "На «Wax A» и Wax A не хуже; розарий тоже.");
  assert_shown ("Роза Мира", "РОЗА МИРА", "Wax A");
  assert_shown ("Κερί·Ήλιος", "το Ήλιος και το κερί·ήλιος", "το Wax A και το Wax A");
  assert_shown ("玫瑰蜡", "这里用玫瑰蜡做的。", "这里用Wax A做的。");
  assert_shown ("Harbour mist", "Harbour mist, Harbour-like; harbours", "Wax A, Wax A-like; harbours");
}

static void
test_letters (void)
{
  assert_shown ("Ébène", "ébène, ÉBÈNE et e\u0301be\u0300ne", "Wax A, Wax A et Wax A");
  assert_shown ("E\u0301be\u0300ne", "ébène", "Wax A");
  assert_shown ("Weißmoor", "WEISSMOOR; Weißmoore", "Wax A; Weißmoore");
  assert_shown ("Ébène", "Rien de cela : œuvre, ĳ, ﬁn", "Rien de cela : œuvre, ĳ, ﬁn");
}

/* What the wax was called before is the wax; what is no more is another; suppliers go in all versions. */
static void
test_versions (void)
{
  g_autoptr (WbDataset) data = data_new ("Tarnow firm");
  g_autoptr (GPtrArray) others = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (WbCraftAlias) alias = NULL;
  WbSample *sample;
  WbWax *gone = wax_new (302, "Grebe hard", NULL);

  test_craft_add_sample (data, 0, "T1");
  sample = g_ptr_array_index (data->samples, 0);
  set (&sample->wax_lot, "W-108");
  gone->record.deleted = TRUE;
  g_ptr_array_add (others, wax_new (301, "Dunmarl soft", "Oxbow Trade"));
  g_ptr_array_add (others, wax_new (301, "Tarnow firm", "Mere Trade"));
  g_ptr_array_add (others, gone);
  g_ptr_array_add (others, lot_new (501, "W-107"));
  g_ptr_array_add (others, lot_new (501, "W-108"));
  g_ptr_array_add (others, lot_new (502, "W-109"));
  g_ptr_array_add (others, lot_new (503, "W-110"));
  ((WbLot *) g_ptr_array_index (others, others->len - 1))->material = 301;
  set (&data->experiment->question, "Is Dunmarl soft of Oxbow Trade, now of Mere Trade, better than Grebe hard? W-107, W-109, wax lot W-110.");
  alias = wb_craft_alias_new (data, others);
  g_assert_cmpstr (data->experiment->question, ==,
                   "Is Wax A of the supplier, now of the supplier, better than another wax? L-1, another lot, wax lot L-2.");
}

/* "Vessel A" has no article. */
static void
test_articles (void)
{
  assert_shown ("Sedgewax", "For the Sedgewax and a Sedgewax, bathe Sedgewax; The Sedgewax is tall.", "For Wax A and Wax A, bathe Wax A; Wax A is tall.");
  assert_shown ("Tonkrug", "In dem Tonkrug und im Tonkrug", "In Wax A und im Wax A");
}

/* What stands for a name ends in a letter that is an article elsewhere: the next name leaves it alone. */
static void
test_neighbours (void)
{
  static const char *const texts[][2] = {
    { "Hob Tarnow", "Vessel A Wax A" }, { "Tarnow Hob Brosk B4", "Wax A Vessel A Wick A" }, { "The Hob Brosk B4 Tarnow is a Hob.", "Vessel A Wick A Wax A is Vessel A." },
  };
  g_autoptr (WbDataset) data = data_new ("Tarnow");
  g_autoptr (WbCraftAlias) alias = wb_craft_alias_new (data, NULL);

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_autofree char *renamed = wb_craft_alias_dup_text (alias, texts[i][0]);

      g_assert_cmpstr (renamed, ==, texts[i][1]);
    }
}

static WbRecord *
coded_new (const WbRecordType *type,
           gint64              id,
           const char         *code)
{
  WbRecord *record = wb_record_new (type);

  record->id = id;
  wb_record_set_text (record, wb_record_type_find_field (type, "code"), code);
  return record;
}

/* What other experiments and their samples are called is told by nobody, a wick's word in a code neither; its own code stays. */
static void
test_codes_of_others (void)
{
  g_autoptr (WbDataset) data = data_new ("Tarnow firm");
  g_autoptr (GPtrArray) others = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (WbCraftAlias) alias = NULL;
  WbDecision *decision = wb_record_new (&wb_decision_type);
  WbWick *wick = wb_record_new (&wb_wick_type);
  WbSample *sample;

  data->experiment->record.id = 11;
  set (&data->experiment->code, "Larch-Q3-b");
  test_craft_add_sample (data, 0, "T1");
  sample = g_ptr_array_index (data->samples, 0);
  sample->record.id = 71;
  wick->record.id = 402;
  set (&wick->series, "Larch");
  set (&wick->size, "R2");
  g_ptr_array_add (others, wick);
  g_ptr_array_add (others, coded_new (&wb_experiment_type, 11, "Larch-Q3-b"));
  g_ptr_array_add (others, coded_new (&wb_experiment_type, 12, "Larch-Q3"));
  g_ptr_array_add (others, coded_new (&wb_sample_type, 71, "Old-T1"));
  g_ptr_array_add (others, coded_new (&wb_sample_type, 72, "R2-1"));
  g_ptr_array_add (others, coded_new (&wb_sample_type, 73, "T1"));
  g_ptr_array_add (others, coded_new (&wb_sample_type, 74, "12"));
  set (&decision->crossed, "A limit was crossed in Larch-Q3: 52 mm at 12 min of burn 9 of sample R2-1. In Larch-Q3-b of sample T1, once Old-T1; of Larch R2.");
  g_ptr_array_add (data->decisions, decision);
  alias = wb_craft_alias_new (data, others);
  g_assert_cmpstr (decision->crossed, ==,
                   "A limit was crossed in another experiment: 52 mm at 12 min of burn 9 of sample (code not told). "
                   "In another series-Q3-b of sample S-01, once S-01; of another wick.");
  g_assert_cmpstr (data->experiment->code, ==, "another series-Q3-b");
}

/* Who rated is a number, the same for the same; who signed stays. */
static void
test_raters (void)
{
  static const char *const raters[] = { "Wren", "Ada", "Wren" }, *const shown[] = { "Rater 1", "Rater 2", "Rater 1" };
  g_autoptr (WbDataset) data = data_new ("Dunmarl soft");
  g_autoptr (WbCraftAlias) alias = NULL;
  WbDecision *decision = wb_record_new (&wb_decision_type);
  guint burn = test_craft_add_burn (data, test_craft_add_sample (data, 0, "T1"));
  const WbCraftAliasItem *last;

  for (guint i = 0; i < G_N_ELEMENTS (raters); i++)
    wb_readings_set_text (data->readings, test_craft_add_reading (data, burn, 60 * (i + 1)), WB_READING_TEXT_RATER, raters[i]);
  set (&decision->signed_by, "Wren");
  g_ptr_array_add (data->decisions, decision);
  alias = wb_craft_alias_new (data, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (raters); i++)
    g_assert_cmpstr (wb_readings_get_text (data->readings, i, WB_READING_TEXT_RATER), ==, shown[i]);
  g_assert_cmpstr (decision->signed_by, ==, "Wren");
  last = wb_craft_alias_get_item (alias, wb_craft_alias_get_n (alias) - 1);
  g_assert_cmpstr (last->shown, ==, "Rater 2");
  g_assert_cmpstr (last->real, ==, "Ada");
}

/* Whatever is printed of a reading or of a limit. */
static void
test_texts (void)
{
  static const WbReadingText texts[] = { WB_READING_TEXT_INSTRUMENT, WB_READING_TEXT_INSTRUMENT_PLACE, WB_READING_TEXT_RATER, WB_READING_TEXT_NOTE };
  g_autoptr (WbDataset) data = data_new ("Dunmarl soft");
  g_autoptr (WbCraftAlias) alias = NULL;
  WbLimit *limit = g_ptr_array_index (data->limits, 0);
  guint sample = test_craft_add_sample (data, 0, "T1"), row = test_craft_add_reading (data, test_craft_add_burn (data, sample), 60);

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    wb_readings_set_text (data->readings, row, texts[i], "with Dunmarl soft");
  set (&limit->off_reason, "Dunmarl soft is always that hot");
  set (&limit->source, "sheet of Dunmarl soft");
  alias = wb_craft_alias_new (data, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      const char *text = wb_readings_get_text (data->readings, row, texts[i]);

      g_assert_true (text == NULL || strstr (text, "Dunmarl") == NULL);
    }
  g_assert_cmpstr (limit->off_reason, ==, "Wax A is always that hot");
  g_assert_cmpstr (limit->source, ==, "sheet of Wax A");
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/alias/names-in-any-script-give-way", test_scripts);
  g_test_add_func ("/craft/alias/capitals-and-forms-of-a-letter-do-not-matter", test_letters);
  g_test_add_func ("/craft/alias/former-and-deleted-names-give-way", test_versions);
  g_test_add_func ("/craft/alias/an-article-goes-with-its-name", test_articles);
  g_test_add_func ("/craft/alias/names-side-by-side-stay-whole", test_neighbours);
  g_test_add_func ("/craft/alias/codes-of-other-experiments-give-way", test_codes_of_others);
  g_test_add_func ("/craft/alias/raters-are-numbers-and-signers-stay", test_raters);
  g_test_add_func ("/craft/alias/instruments-raters-and-limits-are-renamed", test_texts);
  return g_test_run ();
}
