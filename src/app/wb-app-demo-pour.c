/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-demo-private.h"

#include <math.h>
#include <string.h>

#include "wb-app-retain.h"
#include "wb-craft-batch.h"
#include "wb-craft-grid.h"

/* Planning and pouring of the demo's experiments. */

WbAppDemoRun *
wb_app_demo_run_new (const WbAppDemoExperiment *plan)
{
  WbAppDemoRun *run = g_new0 (WbAppDemoRun, 1);

  run->plan = plan;
  run->cells = g_ptr_array_new_with_free_func (wb_record_free);
  run->candles = g_array_new (FALSE, TRUE, sizeof (WbAppDemoCandle));
  return run;
}

void
wb_app_demo_run_free (WbAppDemoRun *run)
{
  for (guint i = 0; i < run->candles->len; i++)
    {
      WbAppDemoCandle *candle = &g_array_index (run->candles, WbAppDemoCandle, i);

      wb_record_free (candle->sample);
      wb_craft_physics_candle_free (candle->candle);
    }
  g_array_unref (run->candles);
  g_ptr_array_unref (run->cells);
  wb_record_free (run->experiment);
  g_free (run);
}

static gboolean
put_all (WbStoreChange *change,
         GPtrArray     *records,
         GError       **error)
{
  for (guint i = 0; i < records->len; i++)
    if (!wb_store_change_put (change, g_ptr_array_index (records, i), error))
      return FALSE;
  return TRUE;
}

static gboolean
put_rules (WbAppDemo     *demo,
           WbStoreChange *change,
           GError       **error)
{
  g_autoptr (GPtrArray) limits = wb_limits_new_house ();
  g_autoptr (GPtrArray) aims = wb_aims_new_house ();
  g_autoptr (WbRecord) profile = (WbRecord *) wb_profile_new_house ();

  if (demo->protocol != NULL)
    return TRUE;
  g_ptr_array_set_free_func (limits, wb_record_free);
  g_ptr_array_set_free_func (aims, wb_record_free);
  demo->protocol = wb_protocol_new_house ();
  if (!wb_store_change_put (change, demo->protocol, error) || !wb_store_change_put (change, profile, error))
    return FALSE;
  demo->profile = profile->id;
  for (guint i = 0; i < limits->len; i++)
    ((WbLimit *) g_ptr_array_index (limits, i))->protocol = demo->protocol->record.id;
  for (guint i = 0; i < aims->len; i++)
    ((WbAim *) g_ptr_array_index (aims, i))->profile = demo->profile;
  return put_all (change, limits, error) && put_all (change, aims, error);
}

static gboolean
put_experiment (WbAppDemo     *demo,
                WbAppDemoRun  *run,
                WbStoreChange *change,
                GError       **error)
{
  const WbAppDemoExperiment *plan = run->plan;
  WbExperiment *experiment = run->experiment = wb_record_new (&wb_experiment_type);

  experiment->code = g_strdup (plan->code);
  experiment->title = g_strdup (plan->title);
  experiment->question = g_strdup (plan->question);
  experiment->wax = demo->shelf.waxes[plan->wax]->record.id;
  experiment->protocol = demo->protocol->record.id;
  experiment->profile = demo->profile;
  experiment->samples_per_cell = plan->samples;
  experiment->seed = 1;
  experiment->note = g_strdup ("Invented data.");
  return wb_store_change_put (change, experiment, error);
}

static gboolean
put_cells (WbAppDemo     *demo,
           WbAppDemoRun  *run,
           WbStoreChange *change,
           GError       **error)
{
  const WbAppDemoExperiment *plan = run->plan;

  for (guint i = 0; i < plan->n_cells; i++)
    {
      const WbAppDemoCell *of = &plan->cells[i];
      WbCell *cell = wb_record_new (&wb_cell_type);

      g_ptr_array_add (run->cells, cell);
      cell->experiment = run->experiment->record.id;
      cell->vessel = demo->shelf.vessels[of->vessel]->record.id;
      cell->wick = demo->shelf.wicks[plan->series][of->step - 1]->record.id;
      cell->wick_count = 1;
      cell->load_pct = 0;
      cell->load_basis = WB_BASIS_WAX;
      if (of->fragrance != WB_APP_DEMO_UNSCENTED)
        {
          cell->fragrance = demo->shelf.fragrances[of->fragrance]->record.id;
          cell->load_pct = plan->load_pct;
        }
      cell->left_out = of->left_out;
      if (!wb_store_change_put (change, cell, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
put_samples (WbAppDemo     *demo,
             WbAppDemoRun  *run,
             WbStoreChange *change,
             GError       **error)
{
  const WbAppDemoExperiment *plan = run->plan;
  g_autoptr (GPtrArray) sizes = g_ptr_array_new ();
  g_auto (GStrv) codes = NULL;

  for (guint i = 0; i < plan->n_cells; i++)
    g_ptr_array_add (sizes, demo->shelf.wicks[plan->series][plan->cells[i].step - 1]->size);
  codes = wb_craft_grid_codes (run->cells, sizes, plan->samples, 1, NULL);
  for (guint i = 0; i < plan->n_cells * plan->samples; i++)
    {
      WbAppDemoCandle candle = { .cell = i / plan->samples, .mass_g = NAN };

      if (plan->cells[candle.cell].left_out)
        continue;
      candle.sample = wb_record_new (&wb_sample_type);
      candle.sample->experiment = run->experiment->record.id;
      candle.sample->cell = ((WbCell *) g_ptr_array_index (run->cells, candle.cell))->record.id;
      candle.sample->code = g_strdup (codes[i]);
      /* those of one number burn on the same evenings */
      if (plan->stride > 1)
        candle.sample->cohort = 1 + i % plan->samples;
      g_array_append_val (run->candles, candle);
      if (!wb_store_change_put (change, candle.sample, error))
        return FALSE;
    }
  return TRUE;
}

gboolean
wb_app_demo_run_plan (WbAppDemo    *demo,
                      WbAppDemoRun *run,
                      GError      **error)
{
  WbStoreChange *change = wb_app_demo_begin (demo, run->plan->planned_day, 11, 30, "plan", "Plan an experiment", error);

  if (change == NULL)
    return FALSE;
  if (!put_rules (demo, change, error) || !put_experiment (demo, run, change, error)
      || !put_cells (demo, run, change, error) || !put_samples (demo, run, change, error))
    {
      wb_store_rollback (change);
      return FALSE;
    }
  return wb_store_commit (change, NULL, error);
}

/* The candles of a scent, and what fills them. */
static double
scent_fill (const WbAppDemoRun *run,
            guint               fragrance,
            guint              *n)
{
  double fill_g = 0;

  *n = 0;
  for (guint i = 0; i < run->candles->len; i++)
    {
      const WbAppDemoCandle *candle = &g_array_index (run->candles, WbAppDemoCandle, i);

      if (run->plan->cells[candle->cell].fragrance != fragrance)
        continue;
      fill_g += wb_craft_physics_candle_get_fill_g (candle->candle);
      (*n)++;
    }
  return fill_g;
}

static WbBatch *
weigh_batch (WbAppDemo    *demo,
             WbAppDemoRun *run,
             guint         fragrance,
             double        fill_g,
             GError      **error)
{
  const WbAppDemoExperiment *plan = run->plan;
  const WbWax *wax = demo->shelf.waxes[plan->wax];
  gboolean scented = fragrance != WB_APP_DEMO_UNSCENTED;
  WbCraftBatchLine all = { NULL, 1, fill_g };
  WbCraftBatchInput input = {
    .lines = &all, .n_lines = 1, .load_pct = scented ? plan->load_pct : 0, .load_basis = WB_BASIS_WAX,
    .overage_pct = 3, .hold_back_pct = wax->hold_back_pct, .resolution_g = 0.1,
    .dye_pct = NAN, .dye_drops_per_kg = NAN, .drop_g = NAN, .additive_pct = NAN,
    .wax = wax, .fragrance = scented ? demo->shelf.fragrances[fragrance] : NULL, .specific_gravity = wax->density,
  };
  g_autoptr (WbCraftBatchSheet) sheet = wb_craft_batch_sheet_new (&input, error);
  WbBatch *batch;

  if (sheet == NULL)
    return NULL;
  batch = wb_record_new (&wb_batch_type);
  batch->experiment = run->experiment->record.id;
  batch->code = g_strdup_printf ("%s-M%u", plan->code, fragrance + 1);
  batch->fragrance = scented ? demo->shelf.fragrances[fragrance]->record.id : 0;
  batch->load_pct = input.load_pct;
  batch->load_basis = WB_BASIS_WAX;
  batch->overage_pct = input.overage_pct;
  batch->hold_back_pct = input.hold_back_pct;
  batch->resolution_g = input.resolution_g;
  batch->wax_g = sheet->wax_g;
  batch->oil_g = sheet->oil_g;
  batch->actual_wax_g = sheet->wax_g + 0.2;
  batch->actual_oil_g = scented ? sheet->oil_g : NAN;
  batch->poured_on = demo->today + plan->poured_day;
  batch->poured_at = wb_app_demo_at (demo, plan->poured_day, 14, 20 * (int) fragrance);
  batch->heat_c = wax->heat_c;
  batch->add_c = wax->add_c - 0.5;
  batch->pour_c = wax->pour_c + 0.5;
  batch->room_c = 21.5;
  batch->wax_lot = g_strdup_printf ("W-%u07", (guint) plan->wax + 1);
  return batch;
}

static gboolean
pour_candle (WbAppDemo       *demo,
             WbAppDemoRun    *run,
             WbStoreChange   *change,
             WbAppDemoCandle *candle,
             guint            number,
             const WbBatch   *batch,
             GError         **error)
{
  const WbAppDemoExperiment *plan = run->plan;
  WbSample *sample = candle->sample;
  const WbVessel *vessel = demo->shelf.vessels[plan->cells[candle->cell].vessel];

  sample->batch = batch->record.id;
  sample->poured_on = demo->today + plan->poured_day;
  sample->wax_lot = g_strdup (batch->wax_lot);
  sample->wick_lot = g_strdup_printf ("K-%02u", (guint) plan->series + 41);
  sample->tare_g = vessel->tare_g;
  sample->fill_g = round (wb_craft_physics_candle_get_fill_g (candle->candle) * 10) / 10;
  sample->wax_height_mm = vessel->wax_height_mm;
  sample->wick_offset_mm = (number * 7 % 5) * 0.5;
  sample->pour_c = batch->pour_c;
  candle->mass_g = sample->tare_g + sample->fill_g;
  return wb_store_change_put (change, sample, error);
}

static gboolean
pour_candles (WbAppDemo     *demo,
              WbAppDemoRun  *run,
              WbStoreChange *change,
              guint          fragrance,
              const WbBatch *batch,
              GError       **error)
{
  const WbAppDemoExperiment *plan = run->plan;

  for (guint i = 0; i < run->candles->len; i++)
    {
      WbAppDemoCandle *candle = &g_array_index (run->candles, WbAppDemoCandle, i);

      if (plan->cells[candle->cell].fragrance == fragrance && !pour_candle (demo, run, change, candle, i, batch, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
put_batch (WbAppDemo     *demo,
           WbAppDemoRun  *run,
           WbStoreChange *change,
           WbBatch       *batch,
           GError       **error)
{
  if (run->plan->steps_noted)
    return wb_app_demo_put_steps (change, demo->shelf.waxes[run->plan->wax], batch, error);
  return wb_store_change_put (change, batch, error);
}

gboolean
wb_app_demo_run_pour (WbAppDemo    *demo,
                      WbAppDemoRun *run,
                      GError      **error)
{
  WbStoreChange *change;

  for (guint i = 0; i < run->candles->len; i++)
    {
      WbAppDemoCandle *candle = &g_array_index (run->candles, WbAppDemoCandle, i);
      WbCraftPhysicsSpec spec = wb_app_demo_spec (demo, run->plan, candle->cell);

      candle->candle = wb_craft_physics_candle_new (&spec, run->plan->seed * 1000 + i);
    }
  change = wb_app_demo_begin (demo, run->plan->poured_day, 16, 0, "pour", "Pour the samples", error);
  if (change == NULL)
    return FALSE;
  for (guint fragrance = 0; fragrance <= WB_APP_DEMO_UNSCENTED; fragrance++)
    {
      guint n;
      double fill_g = scent_fill (run, fragrance, &n);
      g_autoptr (WbRecord) batch = NULL;

      if (n == 0)
        continue;
      batch = (WbRecord *) weigh_batch (demo, run, fragrance, fill_g, error);
      if (batch == NULL || !put_batch (demo, run, change, (WbBatch *) batch, error)
          || !pour_candles (demo, run, change, fragrance, (const WbBatch *) batch, error))
        {
          wb_store_rollback (change);
          return FALSE;
        }
    }
  return wb_store_commit (change, NULL, error);
}

/* One more of the chosen cell, with the number behind its others, from what the overage of its melt left. */
gboolean
wb_app_demo_run_keep (WbAppDemo    *demo,
                      WbAppDemoRun *run,
                      int           day,
                      GError      **error)
{
  const WbAppDemoExperiment *plan = run->plan;
  const WbSample *other = g_array_index (run->candles, WbAppDemoCandle, (guint) plan->chosen * plan->samples + plan->samples - 1).sample;
  WbStoreChange *change = wb_app_demo_begin (demo, day, 10, 30, "retain", "Enter the candle that was kept of HF-1", error);
  g_autoptr (WbRecord) record = wb_record_new (&wb_sample_type);
  WbSample *sample = (WbSample *) (gpointer) record;

  if (change == NULL)
    return FALSE;
  sample->experiment = other->experiment;
  sample->cell = other->cell;
  sample->code = g_strdup (other->code);
  sample->code[strlen (sample->code) - 1] += 1;
  sample->batch = other->batch;
  sample->poured_on = other->poured_on;
  sample->wax_lot = g_strdup (other->wax_lot);
  sample->wick_lot = g_strdup (other->wick_lot);
  sample->tare_g = other->tare_g;
  sample->fill_g = 150;
  sample->wax_height_mm = 36;
  sample->pour_c = other->pour_c;
  sample->retained = TRUE;
  sample->place = g_strdup ("Cellar, second shelf, in the dark");
  sample->keep_until = other->poured_on + WB_APP_RETAIN_USUAL_DAYS;
  sample->note = g_strdup ("Poured from what was left of the melt, to half its height. Invented.");
  if (!wb_store_change_put (change, record, error))
    {
      wb_store_rollback (change);
      return FALSE;
    }
  return wb_store_commit (change, NULL, error);
}
