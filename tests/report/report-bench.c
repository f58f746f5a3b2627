/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "report-bench.h"

#include "test-craft.h"
#include "wb-craft-method.h"

#define HOUR_US (G_GINT64_CONSTANT (3600) * G_USEC_PER_SEC)
#define FIRST_US (G_GINT64_CONSTANT (1769000000) * G_USEC_PER_SEC) /* a day in January 2026 */

static const struct { const char *name; double inner_mm, wax_height_mm, tare_g, load; } families[] = {
  { "Heron", 64.0, 70.0, 180.0, 0 },
  { "Heron", 64.0, 70.0, 180.0, 8 },
  { "Tern", 76.2, 80.0, 215.0, 0 },
  { "Tern", 76.2, 80.0, 215.0, 8 },
};

static void
set_text (char      **field,
          const char *text)
{
  g_free (*field);
  *field = g_strdup (text);
}

static WbDataset *
plan_new (guint n_families,
          guint wicks)
{
  WbDataset *data = test_craft_data_new ();

  data->notebook->invented = TRUE;
  data->notebook->maker = g_strdup ("Gull Lane candles (invented)");
  data->notebook->address = g_strdup ("7 Gull Lane\nAnywhere");
  data->experiment->question = g_strdup ("Which wick for the two vessels, with and without scent?");
  data->experiment->note = g_strdup ("Begin with L-1 and L-2: their suppliers name both vessels.");
  data->wax->burn_cure_days = 7;
  for (guint f = 0; f < n_families; f++)
    for (guint w = 0; w < wicks; w++)
      {
        g_autofree char *size = g_strdup_printf ("L-%u", w + 1);

        test_craft_add_cell (data, families[f].name, families[f].inner_mm, "L", size, w + 1, families[f].load);
      }
  return data;
}

static void
burn_cell (WbDataset *data,
           guint      cell,
           guint      wicks,
           guint      samples,
           double     strength,
           double     bottom_heat)
{
  WbCraftPhysicsSpec candle = wb_craft_physics_spec_usual ();
  guint f = cell / wicks;

  candle.inner_mm = families[f].inner_mm;
  candle.wax_height_mm = families[f].wax_height_mm;
  candle.tare_g = families[f].tare_g;
  candle.strength_g_per_h = strength;
  candle.bottom_heat = bottom_heat;
  candle.load_pct = families[f].load;
  candle.load_effect = -0.012;
  test_craft_burn_physics (data, cell, &candle, samples, 0, 11);
}

/* Dates, places, instruments and people, as a careful maker notes them. */
static void
annotate (WbDataset *data)
{
  for (guint i = 0; i < data->samples->len; i++)
    {
      WbSample *sample = g_ptr_array_index (data->samples, i);

      sample->poured_on = 20440;
      set_text (&sample->wax_lot, "W-1");
      set_text (&sample->wick_lot, "K-1");
    }
  for (guint i = 0; i < data->burns->len; i++)
    {
      WbBurn *burn = g_ptr_array_index (data->burns, i);

      burn->lit_at = (WbInstant) { FIRST_US + burn->number * 24 * HOUR_US, 0, TRUE };
      burn->trim_mm = i == 5 ? 9 : 6;
    }
  for (guint row = 0; row < wb_readings_get_length (data->readings); row++)
    {
      wb_readings_set (data->readings, row, WB_COLUMN_DRAUGHT, WB_DRAUGHT_NONE);
      wb_readings_set (data->readings, row, WB_COLUMN_FLAME_DATUM, 0);
      wb_readings_set_text (data->readings, row, WB_READING_TEXT_RATER, "Ola");
      wb_readings_set_text (data->readings, row, WB_READING_TEXT_INSTRUMENT, "contact probe");
      wb_readings_set_text (data->readings, row, WB_READING_TEXT_INSTRUMENT_PLACE, "side, at the pool");
    }
  if (wb_readings_get_length (data->readings) > 7)
    wb_readings_set_late (data->readings, 7);
}

static WbDataset *
burnt_new (void)
{
  const guint wicks = 3;
  WbDataset *data = plan_new (G_N_ELEMENTS (families), wicks);
  WbSample *aside;

  for (guint cell = 0; cell < data->cells->len; cell++)
    burn_cell (data, cell, wicks, 2, 3.2 + 0.8 * (cell % wicks), 0.6);
  annotate (data);
  aside = g_ptr_array_index (data->samples, 3);
  aside->set_aside_cause = WB_CAUSE_CAVITY;
  set_text (&aside->set_aside, "A cavity beside the wick, found at the first burn.");
  set_text (&((WbSample *) g_ptr_array_index (data->samples, 1))->deviation, "Poured 4 degrees too cold.");
  return data;
}

static WbCraftAnswer *
answer_new (WbDataset *data)
{
  return wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 1, NULL, NULL);
}

/* The same to the bit, by the fits of the one that all share where they rest on the same bytes: most of its time. */
static WbCraftAnswer *
like_answer_new (WbDataset *data)
{
  g_autoptr (WbCraftAnswer) shared = report_bench_answer_get ();

  return wb_craft_answer_new_after (shared->estimates->memo, data, NULL, WB_CRAFT_WITHIN_SCENT, 1, NULL, NULL);
}

WbCraftAnswer *
report_bench_answer_anew (void)
{
  return answer_new (burnt_new ());
}

WbCraftAnswer *
report_bench_answer_get (void)
{
  static WbCraftAnswer *answer;

  if (answer == NULL)
    answer = report_bench_answer_anew ();
  return wb_craft_answer_ref (answer);
}

WbCraftAnswer *
report_bench_answer_new (void)
{
  return like_answer_new (burnt_new ());
}

WbCraftAnswer *
report_bench_logged_new (void)
{
  WbDataset *data = burnt_new ();

  test_craft_log (data, 0, 85, 130, NAN, NAN);
  return like_answer_new (data);
}

static WbCraftAnswer *
anonymous_new (WbCraftAlias **alias,
               WbCraftAnswer *(*make) (WbDataset *data))
{
  WbDataset *data = burnt_new ();

  set_text (&data->experiment->title, "Heron and Tern with L-1, L-2 and Sweet Larkspur");
  set_text (&data->experiment->question, "Does sweet larkspur ask for L-2 in the tern?");
  set_text (&data->wax->name, "Plover soft");
  set_text (&data->wax->supplier, "Bittern Supplies");
  set_text (&data->wax->note, "From Bittern, as the last one.");
  for (guint i = 0; i < data->fragrances->len; i++)
    set_text (&((WbFragrance *) g_ptr_array_index (data->fragrances, i))->name, "Sweet Larkspur");
  set_text (&((WbSample *) g_ptr_array_index (data->samples, 1))->deviation, "Bittern Supplies sent another Plover soft.");
  *alias = wb_craft_alias_new (data, NULL);
  return make (data);
}

WbCraftAnswer *
report_bench_anonymous_new (WbCraftAlias **alias)
{
  return anonymous_new (alias, like_answer_new);
}

WbCraftAnswer *
report_bench_anonymous_anew (WbCraftAlias **alias)
{
  return anonymous_new (alias, answer_new);
}

WbCraftAnswer *
report_bench_planned_new (void)
{
  return answer_new (plan_new (2, 3));
}

WbCraftAnswer *
report_bench_left_out_new (void)
{
  WbDataset *data = plan_new (1, 3);

  ((WbCell *) g_ptr_array_index (data->cells, data->cells->len - 1))->left_out = TRUE;
  return answer_new (data);
}

WbCraftAnswer *
report_bench_empty_new (void)
{
  return answer_new (test_craft_data_new ());
}

WbCraftAnswer *
report_bench_hopeless_new (void)
{
  WbDataset *data = plan_new (1, 2);

  for (guint cell = 0; cell < data->cells->len; cell++)
    burn_cell (data, cell, 2, 2, 8 + cell, 3);
  return answer_new (data);
}

WbCraftAnswer *
report_bench_named_new (const char *name)
{
  WbDataset *data = burnt_new ();

  set_text (&data->notebook->maker, name);
  set_text (&data->notebook->address, name);
  set_text (&data->experiment->code, name);
  set_text (&data->experiment->title, name);
  set_text (&data->experiment->question, name);
  set_text (&data->experiment->note, name);
  set_text (&data->wax->name, name);
  for (guint i = 0; i < data->vessels->len; i++)
    set_text (&((WbVessel *) g_ptr_array_index (data->vessels, i))->name, name);
  for (guint i = 0; i < data->fragrances->len; i++)
    set_text (&((WbFragrance *) g_ptr_array_index (data->fragrances, i))->name, name);
  for (guint i = 0; i < data->wicks->len; i++)
    set_text (&((WbWick *) g_ptr_array_index (data->wicks, i))->size, name);
  for (guint i = 0; i < data->samples->len; i++)
    {
      WbSample *sample = g_ptr_array_index (data->samples, i);

      set_text (&sample->code, name);
      set_text (&sample->wax_lot, name);
      set_text (&sample->deviation, name);
    }
  return like_answer_new (data);
}

void
report_bench_options (WbReportOptions *options)
{
  *options = (WbReportOptions) {
    .paper = WB_REPORT_A4,
    .invented = TRUE,
    .letterhead = "Gull Lane candles (invented)",
    .address = "7 Gull Lane\nAnywhere",
    .fingerprint = "80:6fac28a066970ef6d4043987e5c9855cf00583d322f5dff71ed7527170907ce0",
    .date = "2 Mar 2026",
  };
}

/* ---- Papers of the bench ---- */

static WbReportDocument *
batch_new (const WbReportOptions *options,
           gboolean               scented)
{
  static const char *const heron[] = { "H1-A", "H1-B", "H1-C", NULL };
  static const char *const tern[] = { "T2-A", "T2-B", NULL };
  WbVessel *first = wb_record_new (&wb_vessel_type);
  WbVessel *second = wb_record_new (&wb_vessel_type);
  WbWax *wax = wb_record_new (&wb_wax_type);
  WbFragrance *oil = wb_record_new (&wb_fragrance_type);
  g_autoptr (WbCraftBatchSheet) sheet = NULL;
  g_autoptr (GPtrArray) method = NULL, steps = NULL;
  WbReportDocument *document;
  WbCraftBatchLine fills[] = { { first, 3, 182 }, { second, 2, 240 } };
  WbCraftBatchInput input = { .lines = fills, .n_lines = 2, .load_pct = 8, .load_basis = WB_BASIS_WAX, .overage_pct = 5,
                              .hold_back_pct = 10, .resolution_g = 0.1, .dye_drops_per_kg = NAN, .dye_pct = NAN, .drop_g = NAN, .additive_pct = NAN, .specific_gravity = 0.9 };
  WbReportBatchLine lines[] = { { first, "L-1", 3, 182, 163.8, heron }, { second, "2 × L-2", 2, 240, 216, tern } };
  WbReportBatch batch = { .experiment = "T1 · Wicks for two vessels", .batch = "B-7", .scent = "Harbour mist 8 % of the wax", .wax = wax, .fragrance = oil,
                          .load_pct = 8, .load_basis = WB_BASIS_WAX, .overage_pct = 5, .hold_back_pct = 10, .resolution_g = 0.1, .lines = lines, .n_lines = 2 };

  first->name = g_strdup ("Heron, 64 mm");
  second->name = g_strdup ("Tern, 76 mm");
  second->origin = WB_ORIGIN_DRINKING_GLASS;
  wax->name = g_strdup ("Shingle soft");
  wax->heat_c = 85;
  wax->add_c = 75;
  wax->pour_c = 62;
  wax->burn_cure_days = 7;
  wax->smell_cure_days = 14;
  wax->max_load_pct = 7;
  wax->max_load_basis = WB_BASIS_WAX;
  wax->crystallises = TRUE;
  oil->name = g_strdup ("Harbour mist");
  oil->flash_c = 71;
  oil->ifra_limit_pct = 6;
  if (!scented)
    {
      g_clear_pointer (&oil, wb_record_free);
      batch.fragrance = NULL;
      batch.scent = "no fragrance";
      batch.load_pct = input.load_pct = 0;
    }
  input.wax = wax;
  input.fragrance = oil;
  sheet = wb_craft_batch_sheet_new (&input, NULL);
  g_assert_nonnull (sheet);
  batch.sheet = sheet;
  method = wb_craft_method_of (wax, NULL);
  steps = wb_craft_method_plan (method, (WbCraftMethodOf) { TRUE, FALSE, TRUE });
  batch.steps = steps;
  document = wb_report_batch_new (&batch, options);
  wb_record_free (first);
  wb_record_free (second);
  wb_record_free (wax);
  g_clear_pointer (&oil, wb_record_free);
  return document;
}

WbReportDocument *
report_bench_batch_new (const WbReportOptions *options)
{
  return batch_new (options, TRUE);
}

WbReportDocument *
report_bench_control_new (const WbReportOptions *options)
{
  return batch_new (options, FALSE);
}

WbReportDocument *
report_bench_log_new (const WbReportOptions *options,
                      guint                  rows)
{
  static const WbReportLogRow samples[] = {
    { "H1-A", "Heron · L-1", "1", 3, FALSE }, { "H1-B", "Heron · L-1", "2", 3, FALSE }, { "H2-A", "Heron · L-2", "3", 9, TRUE },
    { "T1-A", "Tern · L-1", "4", 2, FALSE }, { "T2-A", NULL, NULL, 0, FALSE },
  };
  WbProtocol *protocol = wb_protocol_new_house ();
  g_autoptr (GPtrArray) limits = wb_limits_new_house ();
  WbReportLogSheet sheet = { "T1 · Wicks for two vessels", protocol, limits, samples, MIN (rows, G_N_ELEMENTS (samples)) };
  WbReportDocument *document;

  document = wb_report_log_sheet_new (&sheet, options);
  wb_record_free (protocol);
  return document;
}

WbReportDocument *
report_bench_plan_new (const WbReportOptions *options,
                       gboolean               planned)
{
  static const WbReportBenchPlanSample first[] = {
    { "H1-A", "Heron · L-1" }, { "H1-B", "Heron · L-1" }, { "H2-A", "Heron · L-2" }, { "H2-B", "Heron · L-2" }, { "H3-A", "Heron · L-3" }, { "H3-B", NULL },
  };
  static const WbReportBenchPlanSample second[] = {
    { "T1-A", "Tern · L-1" }, { "T1-B", "Tern · L-1" }, { "T2-A", "Tern · L-2" }, { "T2-B", "Tern · L-2" }, { "T3-A", "Tern · L-3" }, { "T3-B", "Tern · L-3" },
  };
  static const WbReportBenchPlanCohort cohorts[] = { { "Cohort 1", first, 6 }, { "Cohort 2", second, 6 } };
  /* 2026-10-24, the last Saturday of summer time in Europe, at 19:00 there; the second a week later. */
  static const WbReportBenchPlanEvening evenings[] = {
    { 20750, { G_GINT64_CONSTANT (1792861200000000), 7200, TRUE }, 0, 3, 8 }, { 20757, { G_GINT64_CONSTANT (1793469600000000), 3600, TRUE }, 1, 1, 6 },
  };
  static const WbReportBenchPlanEvening blank[] = {
    { WB_DAY_NONE, { 0 }, 0, 3, 0 }, { WB_DAY_NONE, { 0 }, 0, 4, 0 }, { WB_DAY_NONE, { 0 }, 1, 1, 0 },
  };
  static const char *const at[8] = { "H2-A", NULL, "H1-B", "H3-A", "H1-A", "H3-B", NULL, "H2-B" };
  static const char *const problems[] = { "T9: its 14 samples burn together, and places on the bench: 8. Its evenings are not planned.", NULL };
  WbReportBenchPlan plan = { "T1 · Wicks for two vessels", cohorts, 2, planned ? evenings : blank, planned ? 2 : 3, planned ? problems : NULL, 8, 4,
                             planned ? at : NULL, planned ? 20750 : WB_DAY_NONE };

  return wb_report_bench_plan_new (&plan, options);
}

WbReportDocument *
report_bench_plan_large_new (const WbReportOptions *options,
                             guint                  n_samples,
                             guint                  n_evenings,
                             guint                  places,
                             guint                  columns)
{
  g_autofree WbReportBenchPlanSample *samples = g_new0 (WbReportBenchPlanSample, n_samples);
  g_autofree WbReportBenchPlanEvening *evenings = g_new0 (WbReportBenchPlanEvening, n_evenings);
  g_autofree const char **at = g_new0 (const char *, places);
  g_autoptr (GPtrArray) codes = g_ptr_array_new_with_free_func (g_free);
  WbReportBenchPlanCohort cohort = { NULL, samples, n_samples };
  WbReportBenchPlan plan = { "T1 · Wicks for two vessels", &cohort, 1, evenings, n_evenings, NULL, places, columns, at, 20750 };

  for (guint i = 0; i < n_samples; i++)
    {
      g_ptr_array_add (codes, g_strdup_printf ("S%u-LONGCODE", i + 1));
      samples[i] = (WbReportBenchPlanSample) { g_ptr_array_index (codes, i), "Heron, 64 mm · 2 × L-12 · Harbour mist 8 % of the total" };
      if (i < places)
        at[i] = samples[i].code;
    }
  for (guint i = 0; i < n_evenings; i++)
    evenings[i] = (WbReportBenchPlanEvening) { 20750 + (WbDay) i, { G_GINT64_CONSTANT (1793469600000000) + i * 24 * HOUR_US, 3600, TRUE }, 0, i + 1, n_samples };
  return wb_report_bench_plan_new (&plan, options);
}

WbReportLabel
report_bench_label (guint i)
{
  static const char *const codes[] = { "H1-A", "H1-B", "H2-A", "T1-A", "T2-A" };
  WbUuid space = { { 1, 2, 3 } };

  return (WbReportLabel) {
    .uuid = wb_uuid_new_named (&space, codes[i % G_N_ELEMENTS (codes)]),
    .code = codes[i % G_N_ELEMENTS (codes)],
    .cell = "Heron, 64 mm · L-1 · Harbour mist 8 %",
    .experiment = "T1",
    .poured_on = 20440,
    .burn_from = wb_cure_fit (20440, WB_INSTANT_NONE, 7),
    .smell_from = wb_cure_fit (20440, WB_INSTANT_NONE, 14),
    .keep_until = WB_DAY_NONE,
  };
}

WbReportDocument *
report_bench_labels_new (const WbReportOptions *options,
                         guint                  n,
                         WbReportLabelPreset    preset,
                         guint                  first)
{
  g_autofree WbReportLabel *labels = g_new0 (WbReportLabel, n);
  WbReportLabelSheet sheet = wb_report_label_sheet_preset (preset);
  g_autoptr (GError) error = NULL;
  WbReportDocument *document;

  for (guint i = 0; i < n; i++)
    labels[i] = report_bench_label (i);
  document = wb_report_labels_new (labels, n, &sheet, first, TRUE, options, &error);
  g_assert_no_error (error);
  return document;
}

WbReportDocument *
report_bench_cards_new (const WbReportOptions *options,
                        guint                  n,
                        WbReportPaper          paper,
                        gboolean               folds,
                        gboolean               blind)
{
  g_autofree WbReportLabel *labels = g_new0 (WbReportLabel, n);
  WbReportLabelSheet sheet = wb_report_cards_sheet (paper, folds);
  g_autoptr (GError) error = NULL;
  WbReportDocument *document;

  for (guint i = 0; i < n; i++)
    {
      labels[i] = report_bench_label (i);
      labels[i].blind_code = blind ? 417 + i : 0;
    }
  document = wb_report_cards_new (labels, n, &sheet, 0, TRUE, folds, options, &error);
  g_assert_no_error (error);
  return document;
}
