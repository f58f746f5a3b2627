/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "wb-clock.h"
#include "wb-craft-batch.h"
#include "wb-craft-grid.h"

static GPtrArray *
make_cells (guint n_vessels,
            guint n_wicks,
            guint n_scents)
{
  g_autoptr (GArray) vessels = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr (GArray) wicks = g_array_new (FALSE, FALSE, sizeof (WbCraftWickChoice));
  g_autoptr (GArray) scents = g_array_new (FALSE, FALSE, sizeof (WbCraftScent));

  for (gint64 i = 1; i <= n_vessels; i++)
    g_array_append_val (vessels, i);
  for (gint64 i = 1; i <= n_wicks; i++)
    {
      WbCraftWickChoice choice = { i, 1, NAN };

      g_array_append_val (wicks, choice);
    }
  for (guint i = 0; i < n_scents; i++)
    {
      WbCraftScent scent = { i == 0 ? 0 : 7, i * 3, WB_BASIS_WAX };

      g_array_append_val (scents, scent);
    }
  return wb_craft_grid_cells (vessels, wicks, scents);
}

static void
test_every_combination (void)
{
  g_autoptr (GPtrArray) cells = make_cells (2, 5, 3);
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  g_assert_cmpuint (cells->len, ==, 30);
  for (guint i = 0; i < cells->len; i++)
    {
      const WbCell *cell = g_ptr_array_index (cells, i);

      g_assert_true (g_hash_table_add (seen, g_strdup_printf ("%d %d %d %g", (int) cell->vessel, (int) cell->wick,
                                                              (int) cell->fragrance, cell->load_pct)));
      g_assert_cmpint (cell->record.id, ==, 0);
      g_assert_cmpint (cell->wick_count, ==, 1);
      if (cell->fragrance == 0)
        g_assert_cmpfloat (cell->load_pct, ==, 0);
    }
}

/* Nobody takes one label for another: O for 0, I and l for 1, Z for 2, S for 5, B for 8, G for 6. */
static char *
as_misread (const char *code)
{
  char *text = g_utf8_strup (code, -1);
  static const char from[] = "OQDILZSGB", to[] = "000112568";

  for (char *p = text; *p != '\0'; p++)
    for (guint i = 0; from[i] != '\0'; i++)
      if (*p == from[i])
        *p = to[i];
  return text;
}

static void
check_codes (guint       n_vessels,
             const char *sizes[],
             guint       n_sizes,
             guint       n_scents,
             guint       samples)
{
  g_autoptr (GPtrArray) cells = make_cells (n_vessels, n_sizes, n_scents);
  g_autoptr (GPtrArray) of_cells = g_ptr_array_new ();
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_auto (GStrv) codes = NULL;

  for (guint i = 0; i < cells->len; i++)
    g_ptr_array_add (of_cells, (gpointer) sizes[((WbCell *) g_ptr_array_index (cells, i))->wick - 1]);
  codes = wb_craft_grid_codes (cells, of_cells, samples, 1, NULL);
  g_assert_cmpuint (g_strv_length (codes), ==, cells->len * samples);
  for (guint i = 0; codes[i] != NULL; i++)
    {
      g_assert_cmpint (g_utf8_strlen (codes[i], -1), <=, 20);
      if (!g_hash_table_add (seen, as_misread (codes[i])))
        g_error ("%s is easily taken for another code", codes[i]);
    }
}

static void
test_codes (void)
{
  static const char *plain[] = { "L-1", "L-2", "L-3", "L-4", "L-5" };
  static const char *alike[] = { "S-1", "5-1", "O-2", "0-2", "l-2" };
  static const char *odd[] = { "", "--", "A very long size indeed 1", "A very long size indeed 2", "\330\247\331\204" };

  check_codes (1, plain, 5, 1, 3);
  check_codes (3, plain, 5, 3, 2);
  check_codes (12, plain, 5, 9, 2);
  check_codes (2, alike, 5, 2, 2);
  check_codes (2, odd, 5, 2, 12);
}

static void
test_codes_are_short (void)
{
  g_autoptr (GPtrArray) cells = make_cells (1, 1, 1);
  g_autoptr (GPtrArray) sizes = g_ptr_array_new ();
  g_auto (GStrv) codes = NULL;

  g_ptr_array_add (sizes, (gpointer) "S-3");
  codes = wb_craft_grid_codes (cells, sizes, 2, 1, NULL);
  g_assert_cmpstr (codes[0], ==, "S3-1");
  g_assert_cmpstr (codes[1], ==, "S3-2");
}

/* A label's code is on no other candle of the workshop, nor one that is easily taken for it. */
static void
test_codes_go_on (void)
{
  g_autoptr (GPtrArray) cells = make_cells (1, 2, 1);
  g_autoptr (GPtrArray) sizes = g_ptr_array_new (), taken = g_ptr_array_new ();
  g_auto (GStrv) codes = NULL;

  g_ptr_array_add (sizes, (gpointer) "B1");
  g_ptr_array_add (sizes, (gpointer) "B2");
  g_ptr_array_add (taken, (gpointer) "81-2");  /* 8 for B */
  g_ptr_array_add (taken, (gpointer) "B1-1");
  g_ptr_array_add (taken, (gpointer) "B1-tin");
  g_ptr_array_add (taken, (gpointer) "lower shelf");
  g_ptr_array_add (taken, (gpointer) "B3-7");
  codes = wb_craft_grid_codes (cells, sizes, 2, 1, taken);
  g_assert_cmpuint (g_strv_length (codes), ==, 4);
  g_assert_cmpstr (codes[0], ==, "B1-3");
  g_assert_cmpstr (codes[1], ==, "B1-4");
  g_assert_cmpstr (codes[2], ==, "B2-1");
  g_assert_cmpstr (codes[3], ==, "B2-2");
}

/* The labels of a repeat tell that it is one, and each further one tells another number. */
static void
test_codes_of_a_repeat (void)
{
  static const struct { const char *code; guint run; } told[] = {
    { "S3-1", 1 }, { "R2-1", 1 }, { "R2-S3-1", 2 }, { "R12-2S3AJ-4", 12 }, { "R1-S3-1", 1 }, { "Rx-S3-1", 1 }, { "H1-A-2", 1 }, { "", 1 }, { NULL, 1 },
  };
  g_autoptr (GPtrArray) cells = make_cells (1, 1, 1), sizes = g_ptr_array_new (), taken = g_ptr_array_new ();
  g_auto (GStrv) second = NULL, third = NULL, grown = NULL;

  g_ptr_array_add (sizes, (gpointer) "S-3");
  g_ptr_array_add (taken, (gpointer) "S3-1");
  second = wb_craft_grid_codes (cells, sizes, 2, WB_CRAFT_GRID_NEXT_RUN, taken);
  g_assert_cmpstr (second[0], ==, "R2-S3-1");
  g_assert_cmpstr (second[1], ==, "R2-S3-2");
  g_ptr_array_add (taken, second[0]);
  third = wb_craft_grid_codes (cells, sizes, 1, WB_CRAFT_GRID_NEXT_RUN, taken);
  g_assert_cmpstr (third[0], ==, "R3-S3-1");
  /* What comes to a run that is there already. */
  grown = wb_craft_grid_codes (cells, sizes, 1, 2, taken);
  g_assert_cmpstr (grown[0], ==, "R2-S3-2");
  for (guint i = 0; i < G_N_ELEMENTS (told); i++)
    g_assert_cmpuint (wb_craft_grid_run_of_code (told[i].code), ==, told[i].run);
}

static void
add_cell (GPtrArray  *cells,
          GPtrArray  *sizes,
          gint64      wick,
          guint       count,
          double      spacing_mm,
          const char *size)
{
  WbCell *cell = wb_record_new (&wb_cell_type);

  cell->vessel = 1;
  cell->wick = wick;
  cell->wick_count = count;
  cell->wick_spacing_mm = spacing_mm;
  cell->load_pct = 0;
  g_ptr_array_add (cells, cell);
  g_ptr_array_add (sizes, (gpointer) size);
}

/* One wick beside two of it, and two at two distances: each its own combination, each told by its label. */
static void
test_several_wicks (void)
{
  g_autoptr (GArray) vessels = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr (GArray) wicks = g_array_new (FALSE, FALSE, sizeof (WbCraftWickChoice));
  g_autoptr (GArray) scents = g_array_new (FALSE, FALSE, sizeof (WbCraftScent));
  g_autoptr (GPtrArray) cells = NULL;
  const WbCraftWickChoice choices[] = { { 4, 1, 30 }, { 4, 2, 30 }, { 5, 2, NAN } };
  const WbCraftScent control = { 0, 0, WB_BASIS_WAX };
  const gint64 vessel = 1;

  g_array_append_val (vessels, vessel);
  g_array_append_vals (wicks, choices, G_N_ELEMENTS (choices));
  g_array_append_val (scents, control);
  cells = wb_craft_grid_cells (vessels, wicks, scents);
  g_assert_cmpuint (cells->len, ==, 3);
  for (guint i = 0; i < 3; i++)
    {
      const WbCell *cell = g_ptr_array_index (cells, i);

      g_assert_cmpint (cell->wick, ==, choices[i].wick);
      g_assert_cmpint (cell->wick_count, ==, choices[i].count);
    }
  /* one alone stands no distance from another */
  g_assert_true (isnan (((WbCell *) g_ptr_array_index (cells, 0))->wick_spacing_mm));
  g_assert_cmpfloat (((WbCell *) g_ptr_array_index (cells, 1))->wick_spacing_mm, ==, 30);
  g_assert_true (isnan (((WbCell *) g_ptr_array_index (cells, 2))->wick_spacing_mm));
}

static void
test_codes_of_several (void)
{
  const struct
  {
    const char *size[2];
    guint       count[2];
    double      spacing_mm[2];
    const char *code[2];
  } cases[] = {
    { { "S-4", "S-4" }, { 1, 2 }, { NAN, NAN }, { "S4-1", "2S4-1" } },
    { { "12", "12" }, { 1, 3 }, { NAN, NAN }, { "12-1", "3x12-1" } },
    /* "2S4" is a size of its own here: a letter tells them apart */
    { { "2S4", "S4" }, { 1, 2 }, { NAN, NAN }, { "a2S4-1", "e2S4-1" } },
    { { "S-4", "S-4" }, { 2, 2 }, { 25, 40 }, { "a2S4-1", "e2S4-1" } },
    { { "S-4", "--" }, { 12, 12 }, { NAN, NAN }, { "12S4-1", "12W-1" } },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GPtrArray) cells = g_ptr_array_new_with_free_func (wb_record_free);
      g_autoptr (GPtrArray) sizes = g_ptr_array_new ();
      g_auto (GStrv) codes = NULL;

      for (guint k = 0; k < 2; k++)
        add_cell (cells, sizes, g_str_equal (cases[i].size[0], cases[i].size[1]) ? 1 : 1 + k, cases[i].count[k], cases[i].spacing_mm[k],
                  cases[i].size[k]);
      codes = wb_craft_grid_codes (cells, sizes, 1, 1, NULL);
      g_assert_cmpuint (g_strv_length (codes), ==, 2);
      for (guint k = 0; k < 2; k++)
        g_assert_cmpstr (codes[k], ==, cases[i].code[k]);
    }
}

static void
test_totals (void)
{
  g_autoptr (GPtrArray) cells = make_cells (1, 2, 2);
  g_autoptr (GArray) items = g_array_new (FALSE, FALSE, sizeof (WbCraftGridCell));
  WbVessel *vessel = wb_record_new (&wb_vessel_type);
  WbWax *wax = wb_record_new (&wb_wax_type);
  WbProtocol *protocol = wb_protocol_new_house ();
  WbCraftGridTotals totals;
  WbCraftGridBench bench = { .evenings = { .places = 4, .begins_min = 19 * 60, .first = 20514, .horizon_days = 366 } }; /* 2 March 2026, a Monday */

  bench.poured_at = wb_clock_local (wb_clock_get (), 20514, 12, 0, 0);
  vessel->inner_diameter_mm = 76.2;
  vessel->water_g = 214;
  wax->density = 0.85;
  wax->burn_cure_days = 7;
  for (guint i = 0; i < cells->len; i++)
    {
      WbCraftGridCell item = { g_ptr_array_index (cells, i), vessel, NULL, wax, NULL };

      g_array_append_val (items, item);
    }
  ((WbCell *) g_ptr_array_index (cells, 0))->left_out = TRUE;
  totals = wb_craft_grid_totals (items, 3, NULL, protocol, &bench);
  g_assert_cmpuint (totals.cells, ==, 3);
  g_assert_cmpuint (totals.samples, ==, 9);
  g_assert_cmpuint (totals.wicks, ==, 9);
  g_assert_cmpfloat_with_epsilon (totals.fill_g, 9 * 181.9, 1e-9);
  g_assert_cmpfloat_with_epsilon (totals.wax_g + totals.oil_g, totals.fill_g, 1e-9);
  g_assert_cmpfloat_with_epsilon (totals.oil_g, 6 * 181.9 * 0.03 / 1.03, 1e-9);
  g_assert_cmpfloat (totals.cure_days, ==, 7);
  g_assert_cmpfloat (totals.bench_hours, ==, 12); /* nine samples on four places: three burns of four hours */
  /*
   * 45.6 cm2 of 0.85 g/cm3 are 3.876 g a mm; without the last 10 mm 181.9 - 38.8 = 143.1 g, at 5 g/h 28.6 h: eight burns of 4 h.
   * Three cohorts on four places, an evening each a burn: 24 evenings, eight weeks at three of them, from Monday, the 9th, on.
   */
  g_assert_cmpuint (totals.burns, ==, 8);
  g_assert_true (totals.burns_usual);
  g_assert_cmpuint (totals.evenings, ==, 24);
  g_assert_true (totals.evenings_assumed);
  g_assert_cmpuint (totals.evenings_a_week, ==, 3);
  g_assert_cmpint (totals.answered, ==, 20514 + 7 + 7 * 7 + 4);
  g_assert_cmpuint (totals.days, ==, 7 + 7 * 7 + 4);
  g_assert_cmpuint (totals.days_alone, ==, totals.days);
  bench.evenings.evenings = 0x3f;
  g_assert_false (wb_craft_grid_totals (items, 3, NULL, protocol, &bench).evenings_assumed);
  g_assert_cmpuint (wb_craft_grid_totals (items, 3, NULL, protocol, &bench).days, <, totals.days);
  bench.evenings.places = 0;
  g_assert_cmpuint (wb_craft_grid_totals (items, 3, NULL, protocol, &bench).days, ==, 0);
  bench.evenings.places = 4;

  vessel->water_g = NAN;
  g_assert_cmpuint (wb_craft_grid_totals (items, 3, NULL, protocol, &bench).days, ==, 0);
  g_assert_true (isnan (wb_craft_grid_totals (items, 3, NULL, protocol, &bench).fill_g));
  wb_record_free (vessel);
  wb_record_free (wax);
  wb_record_free (protocol);
}

static void
add_lot (GPtrArray *lots,
         gint64     material,
         double     amount,
         double     price)
{
  WbLot *lot = wb_record_new (&wb_lot_type);

  lot->record.id = 900 + lots->len;
  lot->material = material;
  lot->code = g_strdup_printf ("L%u", lots->len);
  lot->amount = amount;
  lot->price = price;
  g_ptr_array_add (lots, lot);
}

static double
amount_of (const GArray *needs,
           gint64        material)
{
  for (guint i = 0; i < needs->len; i++)
    if (g_array_index (needs, WbCraftGridNeed, i).material == material)
      return g_array_index (needs, WbCraftGridNeed, i).amount;
  return 0;
}

/* Three candles of 200 g water × 0.9 = 180 g at 20 % of the total, two wicks each, dye 0.1 % of the wax: by hand. */
static void
test_needs (void)
{
  enum { VESSEL = 11, WICK, WAX, SCENT, DYE };
  g_autoptr (GArray) items = g_array_new (FALSE, FALSE, sizeof (WbCraftGridCell));
  g_autoptr (GArray) needs = NULL;
  g_autoptr (GPtrArray) lots = g_ptr_array_new_with_free_func (wb_record_free), none = g_ptr_array_new ();
  g_autoptr (WbCraftStock) stock = NULL;
  g_autoptr (WbRecord) cell = wb_record_new (&wb_cell_type), vessel = wb_record_new (&wb_vessel_type), wax = wb_record_new (&wb_wax_type);
  g_autoptr (WbRecord) experiment = wb_record_new (&wb_experiment_type), dye = wb_record_new (&wb_dye_type);
  WbCraftGridCell item = { (WbCell *) cell, (WbVessel *) vessel, NULL, (WbWax *) wax, NULL };
  WbCraftGridCost cost;

  *(WbCell *) cell = (WbCell) { .record = *cell, .vessel = VESSEL, .wick = WICK, .wick_count = 2, .wick_spacing_mm = NAN, .fragrance = SCENT,
                                .load_pct = 20, .load_basis = WB_BASIS_TOTAL };
  ((WbVessel *) vessel)->water_g = 200;
  ((WbWax *) wax)->density = 0.9;
  ((WbExperiment *) experiment)->wax = WAX;
  ((WbExperiment *) experiment)->dye = DYE;
  ((WbExperiment *) experiment)->dye_pct = 0.1;
  g_array_append_val (items, item);
  needs = wb_craft_grid_needs (items, 3, (WbExperiment *) experiment, (WbDye *) dye);
  g_assert_cmpfloat (amount_of (needs, VESSEL), ==, 3);
  g_assert_cmpfloat (amount_of (needs, WICK), ==, 6);
  g_assert_cmpfloat_with_epsilon (amount_of (needs, WAX), 3 * 180 * 0.8, 1e-9);
  g_assert_cmpfloat_with_epsilon (amount_of (needs, SCENT), 3 * 180 * 0.2, 1e-9);
  g_assert_cmpfloat_with_epsilon (amount_of (needs, DYE), 3 * 180 * 0.8 * 0.001, 1e-9);

  /* 20 drops to 1 kg: 0.432 kg take 8.64 drops of 0.05 g */
  ((WbExperiment *) experiment)->dye_pct = NAN;
  ((WbExperiment *) experiment)->dye_drops_per_kg = 20;
  ((WbDye *) dye)->drop_g = 0.05;
  g_clear_pointer (&needs, g_array_unref);
  needs = wb_craft_grid_needs (items, 3, (WbExperiment *) experiment, (WbDye *) dye);
  g_assert_cmpfloat_with_epsilon (amount_of (needs, DYE), 0.432 * 20 * 0.05, 1e-9);

  add_lot (lots, WAX, 1000, 10);    /* 0.01 a g: 4.32 */
  add_lot (lots, WICK, 5, 2.5);     /* 0.5 a piece: 3; one is lacking */
  add_lot (lots, VESSEL, 2, NAN);
  stock = wb_craft_stock_new (&(WbCraftStockInput) { lots, none, none, none, none, none });
  cost = wb_craft_grid_cost (needs, stock);
  g_assert_cmpfloat_with_epsilon (cost.money, 4.32 + 3, 1e-9);
  g_assert_cmpuint (cost.priced, ==, 2);
  g_assert_cmpuint (cost.unpriced, ==, 3);
  g_assert_cmpfloat (wb_craft_stock_get_short (stock, WICK, amount_of (needs, WICK)), ==, 1);
  g_assert_cmpfloat (wb_craft_stock_get_short (stock, WAX, amount_of (needs, WAX)), ==, 0);
}

/* 200 g at 8 % and 10 % of the wax: 200 / 1.18 = 169.49 g of wax, 13.56 g of oil, 16.95 g of additive, by hand; as the batch sheet has it. */
static void
test_additive (void)
{
  enum { VESSEL = 11, WICK, WAX, SCENT, ADDITIVE };
  g_autoptr (WbRecord) cell = wb_record_new (&wb_cell_type), vessel = wb_record_new (&wb_vessel_type), wax = wb_record_new (&wb_wax_type);
  g_autoptr (WbRecord) experiment = wb_record_new (&wb_experiment_type);
  g_autoptr (GArray) items = g_array_new (FALSE, FALSE, sizeof (WbCraftGridCell)), needs = NULL;
  g_autoptr (GError) error = NULL;
  WbCraftGridCell item = { (WbCell *) cell, (WbVessel *) vessel, NULL, (WbWax *) wax, NULL };
  const WbCraftBatchLine line = { (WbVessel *) vessel, 1, NAN };
  WbCraftBatchInput input = { .lines = &line, .n_lines = 1, .wax = (WbWax *) wax, .dye_pct = NAN, .dye_drops_per_kg = NAN, .drop_g = NAN,
                              .additive_pct = 10, .load_pct = 8, .specific_gravity = NAN };
  const WbCraftGridBench bench = { .evenings = { .places = 4, .begins_min = 19 * 60, .first = 20514, .horizon_days = 366 } };
  WbCraftGridTotals totals;

  *(WbCell *) cell = (WbCell) { .record = *cell, .vessel = VESSEL, .wick = WICK, .wick_count = 1, .wick_spacing_mm = NAN, .fragrance = SCENT, .load_pct = 8 };
  ((WbVessel *) vessel)->water_g = 250;
  ((WbWax *) wax)->density = 0.8;
  ((WbExperiment *) experiment)->wax = WAX;
  ((WbExperiment *) experiment)->additive = ADDITIVE;
  ((WbExperiment *) experiment)->additive_pct = 10;
  g_array_append_val (items, item);
  for (int basis = WB_BASIS_WAX; basis <= WB_BASIS_TOTAL; basis++)
    {
      g_autoptr (WbCraftBatchSheet) sheet = NULL;

      ((WbCell *) cell)->load_basis = basis;
      input.load_basis = basis;
      sheet = wb_craft_batch_sheet_new (&input, &error);
      g_assert_no_error (error);
      g_clear_pointer (&needs, g_array_unref);
      needs = wb_craft_grid_needs (items, 1, (WbExperiment *) experiment, NULL);
      g_assert_cmpfloat_with_epsilon (amount_of (needs, WAX) + amount_of (needs, SCENT) + amount_of (needs, ADDITIVE), 200, 1e-9);
      g_assert_cmpfloat_with_epsilon (amount_of (needs, WAX), basis == WB_BASIS_WAX ? 169.4915 : 167.2727, 1e-4);
      g_assert_cmpfloat_with_epsilon (amount_of (needs, WAX), sheet->wax_g, 0.02);
      g_assert_cmpfloat_with_epsilon (amount_of (needs, SCENT), sheet->oil_g, 0.02);
      g_assert_cmpfloat_with_epsilon (amount_of (needs, ADDITIVE), sheet->additive_g, 0.02);
      totals = wb_craft_grid_totals (items, 1, (WbExperiment *) experiment, NULL, &bench);
      g_assert_cmpfloat_with_epsilon (totals.fill_g, 200, 1e-9);
      g_assert_cmpfloat_with_epsilon (totals.additive_g, amount_of (needs, ADDITIVE), 1e-9);
    }
  /* no cure is stated: as long as the bench waits */
  g_assert_cmpfloat (totals.cure_days, ==, wb_wax_get_burn_wait_days (NULL));
  g_assert_cmpfloat (totals.cure_days, >, 0);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/craft/grid/every-combination-once", test_every_combination);
  g_test_add_func ("/craft/grid/no-code-is-taken-for-another", test_codes);
  g_test_add_func ("/craft/grid/a-small-grid-has-short-codes", test_codes_are_short);
  g_test_add_func ("/craft/grid/codes-go-on-after-those-on-other-labels", test_codes_go_on);
  g_test_add_func ("/craft/grid/codes-tell-a-repeat", test_codes_of_a_repeat);
  g_test_add_func ("/craft/grid/one-wick-stands-beside-two", test_several_wicks);
  g_test_add_func ("/craft/grid/a-code-tells-how-many-wicks", test_codes_of_several);
  g_test_add_func ("/craft/grid/totals-add-up", test_totals);
  g_test_add_func ("/craft/grid/what-it-takes-is-priced", test_needs);
  g_test_add_func ("/craft/grid/wax-oil-and-additive-are-the-fill", test_additive);
  return g_test_run ();
}
