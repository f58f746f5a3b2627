/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-craft.h"

#include "wb-craft-covered.h"
#include "wb-craft-touched.h"

#include <math.h>

/* A decision on one combination, signed in entry 100, whose two samples were poured of wax lot W-107 and wick lot K-41. */
typedef struct
{
  WbDataset    *data;
  WbDecision   *decision;
  WbCraftShelf *shelf;
} Bench;

static gpointer
add_version (GPtrArray    *all,
             gconstpointer record,
             gint64        entry)
{
  GPtrArray *versions = NULL;
  WbRecord *copy = wb_record_copy (record);

  copy->entry = entry;
  for (guint i = 0; i < all->len; i++)
    if (((const WbRecord *) g_ptr_array_index ((GPtrArray *) all->pdata[i], 0))->id == copy->id)
      versions = all->pdata[i];
  if (versions == NULL)
    {
      versions = g_ptr_array_new_with_free_func (wb_record_free);
      g_ptr_array_add (all, versions);
    }
  g_ptr_array_add (versions, copy);
  return copy;
}

static WbInstant
at (gint64 utc_us)
{
  return (WbInstant) { .utc_us = utc_us, .known = TRUE };
}

static void
bench_open (Bench *bench)
{
  guint cell;

  bench->data = test_craft_data_new ();
  bench->data->experiment->code = (g_free (bench->data->experiment->code), g_strdup ("FC-1"));
  if (bench->data->wax == NULL)
    bench->data->wax = wb_record_new (&wb_wax_type);
  g_free (bench->data->wax->name);
  bench->data->wax->name = g_strdup ("Dunmarl soft");
  bench->data->wax->record.id = 301;
  cell = test_craft_add_cell (bench->data, "Hob", 76.2, "Brosk", "B4", 4, 8);
  for (guint i = 0; i < 2; i++)
    {
      guint sample = test_craft_add_sample (bench->data, cell, i == 0 ? "T1" : "T2"), burn;
      WbSample *record = g_ptr_array_index (bench->data->samples, sample);

      record->poured_on = 20000;
      g_free (record->wax_lot);
      g_free (record->wick_lot);
      record->wax_lot = g_strdup ("W-107");
      record->wick_lot = g_strdup ("K-41");
      burn = test_craft_add_burn (bench->data, sample);
      ((WbBurn *) g_ptr_array_index (bench->data->burns, burn))->lit_at = at (2000 + i);
    }
  ((WbRecord *) g_ptr_array_index (bench->data->vessels, 0))->id = 302;
  ((WbRecord *) g_ptr_array_index (bench->data->wicks, 0))->id = 303;
  ((WbRecord *) g_ptr_array_index (bench->data->fragrances, 0))->id = 304;
  bench->decision = wb_record_new (&wb_decision_type);
  bench->decision->record.id = 400;
  bench->decision->signed_at = at (5000);
  bench->decision->cell = wb_dataset_get_cell (bench->data, cell)->record.id;
  bench->shelf = wb_craft_shelf_new ();
  add_version (bench->shelf->materials, bench->data->wax, 10);
  add_version (bench->shelf->materials, g_ptr_array_index (bench->data->vessels, 0), 10);
  add_version (bench->shelf->materials, g_ptr_array_index (bench->data->wicks, 0), 10);
  add_version (bench->shelf->materials, g_ptr_array_index (bench->data->fragrances, 0), 10);
}

static void
bench_close (Bench *bench)
{
  wb_craft_shelf_free (bench->shelf);
  wb_record_free (bench->decision);
  wb_dataset_free (bench->data);
}

static WbLot *
add_lot (Bench      *bench,
         gint64      id,
         gint64      material,
         const char *code,
         gint64      entry)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_lot_type);
  WbLot *lot = (WbLot *) (gpointer) record;

  lot->record.id = id;
  lot->material = material;
  lot->code = g_strdup (code);
  return add_version (bench->shelf->lots, lot, entry);
}

static GPtrArray *
search (Bench *bench)
{
  return wb_craft_touched_new (bench->data, bench->decision, 100, bench->shelf);
}

static void
assert_told (Bench      *bench,
             const char *text)
{
  g_autoptr (GPtrArray) touched = search (bench);

  if (text == NULL)
    {
      g_assert_cmpuint (touched->len, ==, 0);
      return;
    }
  g_assert_cmpuint (touched->len, ==, 1);
  g_assert_cmpstr (((const WbCraftTouched *) touched->pdata[0])->text, ==, text);
}

static WbConfirmation *
confirm (Bench *bench,
         gint64 changed,
         gint64 entry)
{
  WbConfirmation *confirmation = wb_record_new (&wb_confirmation_type);

  confirmation->decision = bench->decision->record.id;
  confirmation->changed = changed;
  confirmation->changed_entry = entry;
  g_ptr_array_add (bench->shelf->confirmations, confirmation);
  return confirmation;
}

static WbCraftTouchedState
get_state (Bench *bench)
{
  g_autoptr (GPtrArray) touched = search (bench);

  g_assert_cmpuint (touched->len, ==, 1);
  return ((const WbCraftTouched *) touched->pdata[0])->state;
}

static void
add_crossed (Bench      *bench,
             gint64      decision,
             gint64      entry,
             const char *text)
{
  g_ptr_array_add (bench->shelf->crossed, wb_craft_crossed_since_new (decision, 901, entry, "CF-2", text));
}

static void
assert_standing (Bench          *bench,
                 WbCraftStanding standing,
                 const char     *text)
{
  g_autoptr (GPtrArray) touched = search (bench);
  g_autofree char *words = wb_craft_touched_dup_standing (touched, 400);

  g_assert_cmpint (wb_craft_touched_get_standing (touched, 400), ==, standing);
  g_assert_cmpstr (words, ==, text);
}

static void
test_new_lot (void)
{
  Bench bench;
  WbLot *lot;

  bench_open (&bench);
  assert_told (&bench, NULL);
  add_lot (&bench, 501, 301, "W-101", 50)->used_up = TRUE; /* it lay there when the decision was signed, empty */
  add_lot (&bench, 502, 301, "w-107", 150); /* its own, entered later */
  add_lot (&bench, 503, 999, "W-200", 150); /* of another wax */
  assert_told (&bench, NULL);
  lot = add_lot (&bench, 504, 301, "W-112", 160);
  assert_told (&bench, "Wax lot W-112 of Dunmarl soft is new: the decision for FC-1 rests on W-107.");
  lot->used_up = TRUE;
  assert_told (&bench, NULL);
  lot->used_up = FALSE;
  lot->record.deleted = TRUE;
  assert_told (&bench, NULL);
  bench_close (&bench);
}

/* Whenever it came: what was not burnt is not approved, and the decision stands for the burnt lots alone. */
static void
test_not_burnt (void)
{
  Bench bench;
  WbLot *lot;
  WbConfirmation *confirmation;

  bench_open (&bench);
  lot = add_lot (&bench, 504, 301, "W-112", 50);
  assert_told (&bench, "Wax lot W-112 of Dunmarl soft is in the notebook and was not burnt: the decision for FC-1 holds for W-107 only.");
  assert_standing (&bench, WB_CRAFT_STANDING_IN_PART,
                   "It stands for the lots that were burnt, and for no other. Wax lot W-112 of Dunmarl soft is in the notebook and was not burnt: it holds "
                   "for W-107 only. Candles of any other lot ask for a confirmation test before they are sold or given away.");
  /* what came while it was being signed was not seen */
  bench.decision->answer_entry = 49;
  assert_told (&bench, "Wax lot W-112 of Dunmarl soft is new: the decision for FC-1 rests on W-107.");
  bench.decision->answer_entry = 99;
  confirmation = confirm (&bench, 504, 50);
  confirmation->experiment = 77;
  assert_standing (&bench, WB_CRAFT_STANDING_IN_PART,
                   "It stands for the lots that were burnt, and for no other. Wax lot W-112 of Dunmarl soft is in the notebook and was not burnt: it holds "
                   "for W-107 only. A test of W-112 is planned and not yet signed. Candles of any other lot ask for a confirmation test before they are "
                   "sold or given away.");
  confirmation->experiment = 0;
  confirmation->why = g_strdup ("The same drum.");
  g_assert_cmpint (get_state (&bench), ==, WB_CRAFT_TOUCHED_EXPLAINED);
  assert_standing (&bench, WB_CRAFT_STANDING_STANDS,
                   "It stands; its maker said why no test is needed. Wax lot W-112 of Dunmarl soft is in the notebook and was not burnt (The same drum.).");
  confirmation->changed++;
  add_crossed (&bench, 400, 150, "outside wall 90 °C");
  assert_standing (&bench, WB_CRAFT_STANDING_REOPENED,
                   "Reopened: it does not stand until it is tested and signed anew. A limit was crossed in CF-2: outside wall 90 °C; "
                   "Wax lot W-112 of Dunmarl soft is in the notebook and was not burnt.");
  lot->used_up = TRUE;
  g_ptr_array_set_size (bench.shelf->crossed, 0);
  assert_standing (&bench, WB_CRAFT_STANDING_STANDS, "It stands as it was signed: no change behind it is known.");
  bench_close (&bench);
}

/* Poured with the new lot, and even burnt since: the decision does not rest on it. */
static void
test_poured_since (void)
{
  Bench bench;
  WbSample *late;
  guint sample, burn;

  bench_open (&bench);
  add_lot (&bench, 504, 301, "W-112", 160);
  sample = test_craft_add_sample (bench.data, 0, "T3");
  late = g_ptr_array_index (bench.data->samples, sample);
  late->poured_on = 20010;
  g_free (late->wax_lot);
  late->wax_lot = g_strdup ("W-112");
  assert_told (&bench, "Wax lot W-112 of Dunmarl soft is new: the decision for FC-1 rests on W-107.");
  burn = test_craft_add_burn (bench.data, sample);
  ((WbBurn *) g_ptr_array_index (bench.data->burns, burn))->lit_at = at (9000);
  assert_told (&bench, "Wax lot W-112 of Dunmarl soft is new: the decision for FC-1 rests on W-107.");
  bench_close (&bench);
}

static void
test_no_lot_told (void)
{
  Bench bench;

  bench_open (&bench);
  add_lot (&bench, 504, 302, "V-9", 160);
  assert_told (&bench, "Vessel lot V-9 of Hob, 76.2\302\240mm is new: of the decision for FC-1 no lot is told.");
  bench_close (&bench);
}

static void
test_changed (void)
{
  Bench bench;
  WbVessel *vessel;
  g_autoptr (GPtrArray) touched = NULL;

  bench_open (&bench);
  vessel = add_version (bench.shelf->materials, g_ptr_array_index (bench.data->vessels, 0), 120);
  /* a note, a supplier and what was not known before are no change of the candle */
  g_free (vessel->note);
  vessel->note = g_strdup ("Looks the same");
  vessel->wall_mm = 2.5;
  assert_told (&bench, NULL);
  vessel = add_version (bench.shelf->materials, vessel, 130);
  vessel->inner_diameter_mm = 78;
  assert_told (&bench, "Vessel Hob, 76.2\302\240mm: Inner diameter at the wax level 78.0\302\240mm, was 76.2\302\240mm. The decision for FC-1 was signed before.");
  /* a later note leaves the entry of the change */
  vessel = add_version (bench.shelf->materials, vessel, 140);
  g_free (vessel->note);
  vessel->note = g_strdup ("Measured twice");
  touched = search (&bench);
  g_assert_cmpint (((const WbCraftTouched *) touched->pdata[0])->changed, ==, 302);
  g_assert_cmpint (((const WbCraftTouched *) touched->pdata[0])->changed_entry, ==, 130);
  /* changed back it is what it was */
  vessel = add_version (bench.shelf->materials, vessel, 150);
  vessel->inner_diameter_mm = 76.2;
  assert_told (&bench, NULL);
  vessel->record.deleted = TRUE;
  assert_told (&bench, "Vessel Hob, 76.2\302\240mm was deleted: the decision for FC-1 was signed before.");
  bench_close (&bench);
}

static WbFragrancePart *
add_part (Bench *bench,
          gint64 id,
          gint64 part,
          double share,
          gint64 entry)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_fragrance_part_type);
  WbFragrancePart *own = (WbFragrancePart *) (gpointer) record;

  own->record.id = id;
  own->fragrance = 304;
  own->part = part;
  own->share_pct = share;
  return add_version (bench->shelf->parts, own, entry);
}

static void
test_blend (void)
{
  Bench bench;
  g_autoptr (WbRecord) oil = wb_record_new (&wb_fragrance_type);
  g_autoptr (GPtrArray) touched = NULL;
  WbFragrance *cedar = (WbFragrance *) (gpointer) oil;
  WbFragrancePart *part;

  bench_open (&bench);
  ((WbFragrance *) g_ptr_array_index (bench.data->fragrances, 0))->blend = TRUE;
  cedar->record.id = 310;
  cedar->name = g_strdup ("Cedar");
  add_version (bench.shelf->materials, cedar, 20);
  cedar->record.id = 311;
  g_free (cedar->name);
  cedar->name = g_strdup ("Salt");
  add_version (bench.shelf->materials, cedar, 20);
  add_part (&bench, 601, 310, 60, 30);
  add_part (&bench, 602, 311, 40, 30);
  assert_told (&bench, NULL);
  /* a lot of a part is a lot of the blend */
  add_lot (&bench, 701, 311, "F-9", 150);
  touched = search (&bench);
  g_assert_cmpuint (touched->len, ==, 1);
  g_assert_nonnull (strstr (((const WbCraftTouched *) touched->pdata[0])->text, "Fragrance lot F-9 of Salt is new"));
  g_clear_pointer (&touched, g_ptr_array_unref);
  part = add_part (&bench, 601, 310, 50, 160);
  g_assert_nonnull (part);
  add_part (&bench, 602, 311, 50, 160);
  touched = search (&bench);
  g_assert_cmpuint (touched->len, ==, 2);
  g_assert_cmpint (((const WbCraftTouched *) touched->pdata[0])->kind, ==, WB_CRAFT_TOUCHED_BLEND);
  g_assert_cmpint (((const WbCraftTouched *) touched->pdata[0])->changed_entry, ==, 160);
  g_assert_nonnull (strstr (((const WbCraftTouched *) touched->pdata[0])->text, "Cedar 50"));
  bench_close (&bench);
}

static void
test_confirmed (void)
{
  Bench bench;
  WbVessel *vessel;
  WbConfirmation *confirmation;

  bench_open (&bench);
  vessel = add_version (bench.shelf->materials, g_ptr_array_index (bench.data->vessels, 0), 130);
  vessel->inner_diameter_mm = 78;
  g_assert_cmpint (get_state (&bench), ==, WB_CRAFT_TOUCHED_OPEN);
  confirm (&bench, 302, 129);             /* of an earlier version */
  confirm (&bench, 301, 130);             /* of another material */
  confirm (&bench, 302, 130)->decision++; /* of another decision */
  g_assert_cmpint (get_state (&bench), ==, WB_CRAFT_TOUCHED_OPEN);
  confirmation = confirm (&bench, 302, 130);
  confirmation->why = g_strdup ("Measured wrong before: it is the same glass.");
  g_assert_cmpint (get_state (&bench), ==, WB_CRAFT_TOUCHED_EXPLAINED);
  confirmation->experiment = 77;
  g_assert_cmpint (get_state (&bench), ==, WB_CRAFT_TOUCHED_TESTED);
  /* changed once more, it asks again */
  vessel = add_version (bench.shelf->materials, vessel, 170);
  vessel->inner_diameter_mm = 80;
  g_assert_cmpint (get_state (&bench), ==, WB_CRAFT_TOUCHED_OPEN);
  bench_close (&bench);
}

/* A later crossing reopens it, stands before all else, and is answered like any other change; one more asks again. */
static void
test_crossed (void)
{
  Bench bench;

  bench_open (&bench);
  assert_standing (&bench, WB_CRAFT_STANDING_STANDS, "It stands as it was signed: no change behind it is known.");
  add_crossed (&bench, 399, 140, "of another decision");
  assert_told (&bench, NULL);
  add_lot (&bench, 504, 301, "W-112", 160);
  add_crossed (&bench, 400, 150, "outside wall 90 °C");
  {
    g_autoptr (GPtrArray) touched = search (&bench);

    g_assert_cmpuint (touched->len, ==, 2);
    g_assert_cmpint (((const WbCraftTouched *) touched->pdata[0])->kind, ==, WB_CRAFT_TOUCHED_CROSSED);
    g_assert_cmpstr (((const WbCraftTouched *) touched->pdata[0])->text, ==,
                     "A limit was crossed in CF-2: outside wall 90 °C. The decision for FC-1 was signed before.");
  }
  assert_standing (&bench, WB_CRAFT_STANDING_REOPENED,
                   "Reopened: it does not stand until it is tested and signed anew. A limit was crossed in CF-2: outside wall 90 °C; "
                   "Wax lot W-112 of Dunmarl soft is new.");
  confirm (&bench, 901, 150)->why = g_strdup ("The probe lay against the flame.");
  confirm (&bench, 504, 160)->experiment = 77;
  assert_standing (&bench, WB_CRAFT_STANDING_IN_TEST,
                   "It waits for its confirmation test and a new signature. Wax lot W-112 of Dunmarl soft is new.");
  ((WbConfirmation *) g_ptr_array_index (bench.shelf->confirmations, 1))->experiment = 0;
  ((WbConfirmation *) g_ptr_array_index (bench.shelf->confirmations, 1))->why = g_strdup ("The same drum.");
  assert_standing (&bench, WB_CRAFT_STANDING_STANDS,
                   "It stands; its maker said why no test is needed. A limit was crossed in CF-2: outside wall 90 °C (The probe lay against the flame.); "
                   "Wax lot W-112 of Dunmarl soft is new (The same drum.).");
  ((WbCraftCrossedSince *) g_ptr_array_index (bench.shelf->crossed, 1))->entry = 170;
  {
    g_autoptr (GPtrArray) touched = search (&bench);

    g_assert_cmpint (wb_craft_touched_get_standing (touched, 400), ==, WB_CRAFT_STANDING_REOPENED);
    g_ptr_array_add (touched, wb_craft_touched_replaced_new (bench.decision, "CF-3", WB_INSTANT_NONE));
    g_assert_cmpint (wb_craft_touched_get_standing (touched, 400), ==, WB_CRAFT_STANDING_REPLACED);
  }
  bench_close (&bench);
}

/* Lots of two materials of which nobody noted which was burnt: one omission, told once. */
static void
test_untold (void)
{
  Bench bench;
  g_autoptr (GPtrArray) touched = NULL;
  g_autofree char *standing = NULL, *untold = NULL;

  bench_open (&bench);
  for (guint i = 0; i < bench.data->samples->len; i++)
    {
      WbSample *sample = g_ptr_array_index (bench.data->samples, i);

      g_clear_pointer (&sample->wax_lot, g_free);
      g_clear_pointer (&sample->wick_lot, g_free);
    }
  add_lot (&bench, 701, 301, "W-112", 50);
  add_lot (&bench, 702, 303, "K-42", 50);
  touched = search (&bench);
  g_assert_cmpuint (touched->len, ==, 2);
  g_assert_true (wb_craft_touched_is_untold (touched->pdata[0]));
  untold = wb_craft_touched_dup_untold (touched, bench.decision->record.id);
  g_assert_cmpstr (untold, ==, "W-112, K-42");
  standing = wb_craft_touched_dup_standing (touched, bench.decision->record.id);
  g_assert_cmpstr (standing, ==, "It stands for the lots that were burnt, and for no other. Which lots were burnt was not noted: it holds for none by name, so for "
                                 "none of W-112, K-42. Candles of any other lot ask for a confirmation test before they are sold or given away.");
  bench_close (&bench);
}

/* The burnt lots first, then what was signed for with a reason, then the rest of the shelf but for what is used up. */
static void
test_covered (void)
{
  static const struct { const char *code; gboolean covered; } expected[] = { { "W-107", TRUE }, { "W-114", TRUE }, { "W-112", FALSE } };
  Bench bench;
  g_autoptr (GPtrArray) touched = NULL, offers = NULL, lots = g_ptr_array_new (), parts = g_ptr_array_new ();
  g_autofree char *none = NULL, *lack = NULL, *other = NULL;
  const gint64 wax = 301;

  bench_open (&bench);
  g_ptr_array_add (lots, add_lot (&bench, 701, wax, "W-112", 150));
  g_ptr_array_add (lots, add_lot (&bench, 702, wax, "W-113", 50));
  ((WbLot *) lots->pdata[1])->used_up = TRUE;
  g_ptr_array_add (lots, add_lot (&bench, 703, wax, "W-114", 150));
  g_ptr_array_add (lots, add_lot (&bench, 704, 303, "K-42", 50));
  confirm (&bench, 703, 150)->why = g_strdup ("The same drum, filled over.");
  touched = search (&bench);
  offers = wb_craft_covered_offer (bench.data, bench.decision, touched, wax, lots, parts);
  g_assert_cmpuint (offers->len, ==, G_N_ELEMENTS (expected));
  for (guint i = 0; i < offers->len; i++)
    {
      const WbCraftLotOffer *offer = offers->pdata[i];

      g_assert_cmpstr (offer->code, ==, expected[i].code);
      g_assert_cmpint (offer->covered, ==, expected[i].covered);
    }
  none = wb_craft_covered_dup_lack (bench.data, bench.decision, touched, wax, "w-107, W-114");
  g_assert_null (none);
  lack = wb_craft_covered_dup_lack (bench.data, bench.decision, touched, wax, "W-107, W-112 + NEW-1");
  g_assert_true (g_str_has_prefix (lack, "Wax lot W-112, NEW-1 of Dunmarl soft is not covered: the decision for FC-1 holds for W-107 only."));
  other = wb_craft_covered_dup_lack (bench.data, bench.decision, touched, 999, "W-112");
  g_assert_null (other);
  bench_close (&bench);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/touched/a-lot-that-came-later-touches", test_new_lot);
  g_test_add_func ("/craft/touched/a-lot-that-was-not-burnt-is-not-covered", test_not_burnt);
  g_test_add_func ("/craft/touched/that-no-lot-was-noted-is-told-once", test_untold);
  g_test_add_func ("/craft/touched/whoever-pours-is-told-which-lots-are-covered", test_covered);
  g_test_add_func ("/craft/touched/a-lot-poured-since-is-still-new", test_poured_since);
  g_test_add_func ("/craft/touched/a-decision-that-tells-no-lot-is-touched-by-any", test_no_lot_told);
  g_test_add_func ("/craft/touched/a-material-that-is-another-touches-a-note-does-not", test_changed);
  g_test_add_func ("/craft/touched/a-blend-mixed-otherwise-and-a-part-s-lot-touch", test_blend);
  g_test_add_func ("/craft/touched/a-confirmation-speaks-of-one-change-alone", test_confirmed);
  g_test_add_func ("/craft/touched/a-later-crossing-reopens-it", test_crossed);
  return g_test_run ();
}
