/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-craft.h"
#include "wb-craft-stock.h"

#include <math.h>

/* Ids of an invented shelf. */
enum { WAX = 1, OIL, BLEND, CITRUS, MOSS, VESSEL, WICK, EXPERIMENT, CELL, BATCH, FIRST_LOT = 100 };

typedef struct
{
  WbCraftStockInput input;
  gint64            next;
} Shelf;

static GPtrArray *
records_new (void)
{
  return g_ptr_array_new_with_free_func (wb_record_free);
}

static gpointer
add (GPtrArray          *to,
     const WbRecordType *type,
     gint64              id)
{
  WbRecord *record = wb_record_new (type);

  record->id = id;
  g_ptr_array_add (to, record);
  return record;
}

static void
set_up (Shelf        *shelf,
        gconstpointer data)
{
  WbExperiment *experiment;
  WbCell *cell;

  shelf->input = (WbCraftStockInput) { records_new (), records_new (), records_new (), records_new (), records_new (), records_new () };
  shelf->next = FIRST_LOT;
  experiment = add (shelf->input.experiments, &wb_experiment_type, EXPERIMENT);
  experiment->wax = WAX;
  cell = add (shelf->input.cells, &wb_cell_type, CELL);
  cell->experiment = EXPERIMENT;
  cell->vessel = VESSEL;
  cell->wick = WICK;
  cell->wick_count = 2;
  cell->fragrance = OIL;
  cell->load_pct = 10;
  cell->load_basis = WB_BASIS_WAX;
}

static void
tear_down (Shelf        *shelf,
           gconstpointer data)
{
  GPtrArray *all[] = { shelf->input.lots, shelf->input.batches, shelf->input.samples, shelf->input.cells,
                       shelf->input.experiments, shelf->input.parts };

  for (guint i = 0; i < G_N_ELEMENTS (all); i++)
    g_ptr_array_unref (all[i]);
}

static WbLot *
add_lot (Shelf      *shelf,
         gint64      material,
         const char *code,
         double      amount,
         double      price)
{
  WbLot *lot = add (shelf->input.lots, &wb_lot_type, shelf->next++);

  lot->material = material;
  lot->code = g_strdup (code);
  lot->amount = amount;
  lot->price = price;
  return lot;
}

static WbBatch *
add_batch (Shelf      *shelf,
           const char *wax_lot,
           double      planned,
           double      actual)
{
  WbBatch *batch = add (shelf->input.batches, &wb_batch_type, BATCH);

  batch->experiment = EXPERIMENT;
  batch->fragrance = OIL;
  batch->wax_lot = g_strdup (wax_lot);
  batch->wax_g = planned;
  batch->actual_wax_g = actual;
  batch->poured_on = 20000;
  return batch;
}

static WbSample *
add_sample (Shelf *shelf,
            gint64 batch)
{
  WbSample *sample = add (shelf->input.samples, &wb_sample_type, shelf->next++);

  sample->experiment = EXPERIMENT;
  sample->cell = CELL;
  sample->batch = batch;
  sample->poured_on = 20000;
  return sample;
}

static double
left_of (Shelf *shelf,
         gint64 material)
{
  g_autoptr (WbCraftStock) stock = wb_craft_stock_new (&shelf->input);

  return wb_craft_stock_get_left (stock, material);
}

static void
test_a_melt (Shelf        *shelf,
             gconstpointer data)
{
  g_autoptr (WbCraftStock) stock = NULL;
  WbLot *first = add_lot (shelf, WAX, "W-1", 1000, NAN);

  add_lot (shelf, WAX, "W-2", 500, NAN);
  /* What was weighed, not what was planned; the case of a code is nobody's care. */
  add_batch (shelf, " w-1 ", 400, 410);
  stock = wb_craft_stock_new (&shelf->input);
  g_assert_cmpfloat (wb_craft_stock_get_left (stock, WAX), ==, 1090);
  g_assert_cmpfloat (wb_craft_stock_get_lot_left (stock, first->record.id), ==, 590);
  g_assert_cmpfloat (wb_craft_stock_get_short (stock, WAX, 1100), ==, 10);
  g_assert_cmpfloat (wb_craft_stock_get_short (stock, WAX, 1090), ==, 0);
  first->used_up = TRUE;
  g_assert_cmpfloat (left_of (shelf, WAX), ==, 500);
}

static void
test_not_poured (Shelf        *shelf,
                 gconstpointer data)
{
  add_lot (shelf, WAX, "W-1", 1000, NAN);
  add_batch (shelf, "W-1", 400, NAN)->poured_on = WB_DAY_NONE;
  g_assert_cmpfloat (left_of (shelf, WAX), ==, 1000);
}

static void
test_no_lot_named (Shelf        *shelf,
                   gconstpointer data)
{
  g_autoptr (WbCraftStock) stock = NULL;

  add_lot (shelf, WAX, "W-1", 1000, NAN);
  add_batch (shelf, NULL, 400, NAN);
  stock = wb_craft_stock_new (&shelf->input);
  g_assert_cmpfloat (wb_craft_stock_get_left (stock, WAX), ==, 600);
  g_assert_cmpfloat (wb_craft_stock_get_short (stock, WAX, 700), ==, 100);
  g_assert_cmpfloat (wb_craft_stock_get_unnamed (stock, WAX), ==, 400);
  g_assert_cmpfloat (wb_craft_stock_get_unnamed (stock, OIL), ==, 0);
}

/* It came out of what is used up first, as far as that held any. */
static void
test_no_lot_named_of_used_up (Shelf        *shelf,
                              gconstpointer data)
{
  WbLot *old = add_lot (shelf, WAX, "W-0", 300, NAN);

  old->used_up = TRUE;
  add_lot (shelf, WAX, "W-1", 1000, NAN);
  add_batch (shelf, NULL, 400, NAN);
  g_assert_cmpfloat (left_of (shelf, WAX), ==, 900);
  old->amount = NAN;
  g_assert_cmpfloat (left_of (shelf, WAX), ==, 1000);
  /* more than there ever was */
  old->amount = 10;
  ((WbBatch *) shelf->input.batches->pdata[0])->wax_g = 5000;
  g_assert_cmpfloat (left_of (shelf, WAX), ==, 0);
}

static void
test_more_than_it_held (Shelf        *shelf,
                        gconstpointer data)
{
  add_lot (shelf, WAX, "W-1", 300, NAN);
  add_lot (shelf, WAX, "W-2", 200, NAN);
  add_batch (shelf, "W-1", 400, NAN);
  g_assert_cmpfloat (left_of (shelf, WAX), ==, 200);
}

static void
test_two_lots_in_one_pot (Shelf        *shelf,
                          gconstpointer data)
{
  add_lot (shelf, WAX, "W-1", 300, NAN);
  add_lot (shelf, WAX, "W-2", 500, NAN);
  add_batch (shelf, "W-1, W-2", 400, NAN);
  g_assert_cmpfloat (left_of (shelf, WAX), ==, 400);
}

static void
test_pieces (Shelf        *shelf,
             gconstpointer data)
{
  add_lot (shelf, VESSEL, "V-1", 12, 18);
  add_lot (shelf, WICK, "K-1", 100, 5);
  for (guint i = 0; i < 3; i++)
    {
      WbSample *sample = add_sample (shelf, BATCH);

      sample->vessel_lot = g_strdup ("V-1");
      sample->wick_lot = g_strdup ("K-1");
      /* The last is only planned. */
      if (i == 2)
        sample->poured_on = WB_DAY_NONE;
    }
  g_assert_cmpfloat (left_of (shelf, VESSEL), ==, 10);
  g_assert_cmpfloat (left_of (shelf, WICK), ==, 96);
}

/* From a file: no melt, but what is in the candle. 10 % of the wax in 220 g is 20 g in 200 g. */
static void
test_a_sample_without_a_melt (Shelf        *shelf,
                              gconstpointer data)
{
  WbSample *sample = add_sample (shelf, 0);

  sample->fill_g = 220;
  sample->wax_lot = g_strdup ("W-1");
  sample->fragrance_lot = g_strdup ("O-1");
  add_lot (shelf, WAX, "W-1", 1000, NAN);
  add_lot (shelf, OIL, "O-1", 100, NAN);
  g_assert_cmpfloat_with_epsilon (left_of (shelf, WAX), 800, 1e-9);
  g_assert_cmpfloat_with_epsilon (left_of (shelf, OIL), 80, 1e-9);
  /* Of the total: 22 g. */
  ((WbCell *) shelf->input.cells->pdata[0])->load_basis = WB_BASIS_TOTAL;
  g_assert_cmpfloat_with_epsilon (left_of (shelf, OIL), 78, 1e-9);
}

static void
add_part (Shelf *shelf,
          gint64 blend,
          gint64 part,
          double share)
{
  WbFragrancePart *record = add (shelf->input.parts, &wb_fragrance_part_type, shelf->next++);

  record->fragrance = blend;
  record->part = part;
  record->share_pct = share;
}

/* 60 parts citrus, 40 parts moss: 90 g citrus make 150 g, 80 g moss make 200 g. */
static void
test_a_blend (Shelf        *shelf,
              gconstpointer data)
{
  g_autoptr (WbCraftStock) stock = NULL;
  WbBatch *batch;

  add_part (shelf, BLEND, CITRUS, 60);
  add_part (shelf, BLEND, MOSS, 40);
  add_lot (shelf, CITRUS, "C-1", 120, 12);
  add_lot (shelf, MOSS, "M-1", 100, 20);
  batch = add_batch (shelf, NULL, NAN, NAN);
  batch->fragrance = BLEND;
  batch->oil_g = 50;
  batch->fragrance_lot = g_strdup ("C-1; M-1");
  stock = wb_craft_stock_new (&shelf->input);
  g_assert_cmpfloat_with_epsilon (wb_craft_stock_get_left (stock, CITRUS), 90, 1e-9);
  g_assert_cmpfloat_with_epsilon (wb_craft_stock_get_left (stock, MOSS), 80, 1e-9);
  g_assert_cmpfloat_with_epsilon (wb_craft_stock_get_left (stock, BLEND), 150, 1e-9);
  g_assert_cmpfloat_with_epsilon (wb_craft_stock_get_price (stock, BLEND), 0.6 * 0.1 + 0.4 * 0.2, 1e-12);
}

static void
add_version (GPtrArray *versions,
             gint64     id,
             gint64     entry,
             gint64     part,
             double     share,
             gboolean   deleted)
{
  WbFragrancePart *record = add (versions, &wb_fragrance_part_type, id);

  record->record.entry = entry;
  record->record.deleted = deleted;
  record->fragrance = BLEND;
  record->part = part;
  record->share_pct = share;
}

static void
set_time (GHashTable *times,
          gint64      entry,
          WbDay       day,
          int         hour)
{
  WbInstant made = { .known = TRUE, .utc_us = (day * 24 + hour) * G_GINT64_CONSTANT (3600000000) };

  g_hash_table_insert (times, g_memdup2 (&entry, sizeof entry), g_memdup2 (&made, sizeof made));
}

/*
 * 100 g of a blend that was 60 citrus and 40 moss, entered in two steps, and became 10 and 90 later, in two steps too. What was poured
 * between holds 60 and 40; a step half done counts for nothing; what was poured before it was written down holds what it was first.
 */
static void
test_a_blend_of_then (Shelf        *shelf,
                      gconstpointer data)
{
  static const struct { const char *what; WbDay day; int hour; double citrus; } cases[] = {
    { "before it was written down", 19000, -1, 60 },
    { "between its two first entries", 20000, 9, 60 },
    { "while it was so", 20001, 12, 60 },
    { "on a day while it was so", 20001, -1, 60 },
    { "between the two entries that changed it", 20003, 9, 60 },
    { "after them", 20003, 11, 10 },
    { "on the day of the change", 20003, -1, 10 },
    { "later", 20009, -1, 10 },
  };
  g_autoptr (GPtrArray) versions = records_new ();
  g_autoptr (GHashTable) times = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  g_autoptr (WbCraftBlends) blends = NULL;
  WbBatch *batch;

  add_version (versions, 50, 1, CITRUS, 60, FALSE);
  add_version (versions, 51, 2, MOSS, 40, FALSE);
  add_version (versions, 50, 3, CITRUS, 10, FALSE);
  add_version (versions, 51, 4, MOSS, 90, FALSE);
  set_time (times, 1, 20000, 8);
  set_time (times, 2, 20000, 10);
  set_time (times, 3, 20003, 8);
  set_time (times, 4, 20003, 10);
  blends = wb_craft_blends_new (versions, times);
  shelf->input.blends = blends;
  add_part (shelf, BLEND, CITRUS, 10);
  add_part (shelf, BLEND, MOSS, 90);
  add_lot (shelf, CITRUS, "C-1", 1000, NAN);
  add_lot (shelf, MOSS, "M-1", 1000, NAN);
  batch = add_batch (shelf, NULL, NAN, NAN);
  batch->fragrance = BLEND;
  batch->oil_g = 100;
  batch->fragrance_lot = g_strdup ("C-1; M-1");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_test_message ("%s", cases[i].what);
      batch->poured_on = cases[i].day;
      batch->poured_at = (WbInstant) { .known = cases[i].hour >= 0, .utc_us = (cases[i].day * 24 + cases[i].hour) * G_GINT64_CONSTANT (3600000000) };
      g_assert_cmpfloat_with_epsilon (left_of (shelf, CITRUS), 1000 - cases[i].citrus, 1e-9);
      g_assert_cmpfloat_with_epsilon (left_of (shelf, MOSS), 1000 - (100 - cases[i].citrus), 1e-9);
    }
  /* Parts that went since, too; what is left of the blend itself goes by what it is now. */
  add_version (versions, 50, 5, CITRUS, 10, TRUE);
  add_version (versions, 51, 6, MOSS, 90, TRUE);
  set_time (times, 5, 20010, 8);
  set_time (times, 6, 20010, 9);
  g_assert_cmpfloat_with_epsilon (left_of (shelf, CITRUS), 990, 1e-9);
  /* What is poured once it is no blend any more takes nothing off its former parts; one of them gone is a change half done. */
  batch->poured_on = 20011;
  g_assert_cmpfloat_with_epsilon (left_of (shelf, CITRUS), 1000, 1e-9);
  g_assert_cmpfloat_with_epsilon (left_of (shelf, MOSS), 1000, 1e-9);
  batch->poured_on = 20010;
  batch->poured_at = (WbInstant) { .known = TRUE, .utc_us = (20010 * 24 + 8) * G_GINT64_CONSTANT (3600000000) + 1 };
  g_assert_cmpfloat_with_epsilon (left_of (shelf, CITRUS), 990, 1e-9);
  shelf->input.blends = NULL;
}

static void
test_a_blend_of_itself (Shelf        *shelf,
                        gconstpointer data)
{
  g_autoptr (WbCraftStock) stock = NULL;

  add_part (shelf, BLEND, BLEND, 100);
  stock = wb_craft_stock_new (&shelf->input);
  g_assert_true (isnan (wb_craft_stock_get_left (stock, BLEND)));
  g_assert_true (isnan (wb_craft_stock_get_price (stock, BLEND)));
}

static void
test_price (Shelf        *shelf,
            gconstpointer data)
{
  g_autoptr (WbCraftStock) stock = NULL;
  WbLot *old = add_lot (shelf, WAX, "W-1", 1000, 6), *newer = add_lot (shelf, WAX, "W-2", 500, 5);

  newer->received_on = 20100;
  newer->used_up = TRUE;
  old->received_on = 20000;
  /* Neither a gift of unknown size nor one without a price says what the next will cost. */
  add_lot (shelf, WAX, "W-3", NAN, 3)->received_on = 20200;
  add_lot (shelf, WAX, "W-4", 10, NAN)->received_on = 20200;
  add_lot (shelf, WAX, "W-5", 0, 3)->received_on = 20200;
  stock = wb_craft_stock_new (&shelf->input);
  g_assert_cmpfloat (wb_craft_stock_get_price (stock, WAX), ==, 0.01);
}

static void
test_nothing_known (Shelf        *shelf,
                    gconstpointer data)
{
  g_autoptr (WbCraftStock) stock = NULL;

  add_lot (shelf, WAX, "W-1", NAN, NAN);
  stock = wb_craft_stock_new (&shelf->input);
  g_assert_true (isnan (wb_craft_stock_get_left (stock, WAX)));
  g_assert_true (isnan (wb_craft_stock_get_left (stock, WICK)));
  g_assert_true (isnan (wb_craft_stock_get_lot_left (stock, 7)));
  g_assert_true (isnan (wb_craft_stock_get_price (stock, WAX)));
  g_assert_true (isnan (wb_craft_stock_get_short (stock, WAX, 5)));
}

#define ADD(path, func) g_test_add ("/craft/stock/" path, Shelf, NULL, set_up, func, tear_down)

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  ADD ("a-poured-melt-takes-from-its-lot", test_a_melt);
  ADD ("a-plan-takes-nothing", test_not_poured);
  ADD ("what-names-no-lot-is-told-apart", test_no_lot_named);
  ADD ("what-names-no-lot-came-out-of-what-is-used-up-first", test_no_lot_named_of_used_up);
  ADD ("a-lot-is-never-less-than-empty", test_more_than_it_held);
  ADD ("two-lots-in-one-pot-share", test_two_lots_in_one_pot);
  ADD ("vessels-and-wicks-are-pieces", test_pieces);
  ADD ("a-sample-without-a-melt", test_a_sample_without_a_melt);
  ADD ("a-blend-is-as-much-as-its-parts-make", test_a_blend);
  ADD ("what-was-poured-of-a-blend-is-what-it-was-then", test_a_blend_of_then);
  ADD ("a-blend-of-itself-ends", test_a_blend_of_itself);
  ADD ("the-newest-priced-lot-says-the-price", test_price);
  ADD ("nothing-known-is-not-zero", test_nothing_known);
  return g_test_run ();
}
