/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-demo-private.h"

#include <glib/gstdio.h>

#include "wb-app-error-private.h"
#include "wb-clock.h"
#include "wb-craft-decision.h"
#include "wb-store-dataset.h"
#include "wb-store-records.h"

/*
 * The story of the demo's invented workshop, day by day, so that the record's
 * entries stand in the order in which a maker would have written them.
 */

#define FIRST_DAY -132
#define LOT_DAY -2
#define CRYSTAL_DAY -1
#define KEPT_DAY -1
#define WHO "Wren (invented)"

/* Finished: which Brosk for two vessels and two scents, three samples a cell, burnt to the end. */
static const WbAppDemoCell both_vessels[] = {
  { WB_APP_DEMO_HOB, 3, WB_APP_DEMO_QUIMBER }, { WB_APP_DEMO_HOB, 4, WB_APP_DEMO_QUIMBER },
  { WB_APP_DEMO_HOB, 5, WB_APP_DEMO_QUIMBER }, { WB_APP_DEMO_HOB, 3, WB_APP_DEMO_OSTREL },
  { WB_APP_DEMO_HOB, 4, WB_APP_DEMO_OSTREL }, { WB_APP_DEMO_HOB, 5, WB_APP_DEMO_OSTREL },
  { WB_APP_DEMO_FIRKIN, 4, WB_APP_DEMO_QUIMBER }, { WB_APP_DEMO_FIRKIN, 5, WB_APP_DEMO_QUIMBER },
  { WB_APP_DEMO_FIRKIN, 6, WB_APP_DEMO_QUIMBER }, { WB_APP_DEMO_FIRKIN, 4, WB_APP_DEMO_OSTREL },
  { WB_APP_DEMO_FIRKIN, 5, WB_APP_DEMO_OSTREL }, { WB_APP_DEMO_FIRKIN, 6, WB_APP_DEMO_OSTREL },
};

/* Finished: the wick that looked best at the top crosses a limit near the end. */
static const WbAppDemoCell thick_base[] = {
  { WB_APP_DEMO_THIMBLE, 1, WB_APP_DEMO_UNSCENTED }, { WB_APP_DEMO_THIMBLE, 2, WB_APP_DEMO_UNSCENTED },
  { WB_APP_DEMO_THIMBLE, 3, WB_APP_DEMO_UNSCENTED }, { WB_APP_DEMO_THIMBLE, 4, WB_APP_DEMO_UNSCENTED },
};

/* On the bench now. */
static const WbAppDemoCell on_bench[] = {
  { WB_APP_DEMO_FIRKIN, 2, WB_APP_DEMO_OSTREL }, { WB_APP_DEMO_FIRKIN, 3, WB_APP_DEMO_OSTREL },
  { WB_APP_DEMO_FIRKIN, 4, WB_APP_DEMO_OSTREL }, { WB_APP_DEMO_FIRKIN, 5, WB_APP_DEMO_OSTREL },
  { WB_APP_DEMO_FIRKIN, 6, WB_APP_DEMO_OSTREL },
};

static const WbAppDemoCell curing[] = {
  { WB_APP_DEMO_HOB, 3, WB_APP_DEMO_QUIMBER }, { WB_APP_DEMO_HOB, 4, WB_APP_DEMO_QUIMBER },
  { WB_APP_DEMO_HOB, 5, WB_APP_DEMO_QUIMBER }, { WB_APP_DEMO_HOB, 4, WB_APP_DEMO_UNSCENTED },
};

static const WbAppDemoCell planned[] = {
  { WB_APP_DEMO_THIMBLE, 1, WB_APP_DEMO_OSTREL }, { WB_APP_DEMO_THIMBLE, 2, WB_APP_DEMO_OSTREL },
  { WB_APP_DEMO_THIMBLE, 3, WB_APP_DEMO_OSTREL },
  { WB_APP_DEMO_THIMBLE, 4, WB_APP_DEMO_OSTREL, .left_out = TRUE },
};

static const WbAppDemoExperiment experiments[] = {
  { .code = "HF-1", .title = "Brosk for the Hob and the Firkin",
    .question = "Which Brosk is right for each vessel, with either scent, in Dunmarl soft?",
    .wax = WB_APP_DEMO_DUNMARL, .series = WB_APP_DEMO_BROSK, .cells = both_vessels, .n_cells = G_N_ELEMENTS (both_vessels),
    .samples = 3, .load_pct = 8, .planned_day = -131, .poured_day = -130, .first_day = -116, .stride = 3, .seed = 11, .chosen = 1, .reference = TRUE },
  { .code = "TH-1", .title = "Arrel for the Thimble, unscented",
    .question = "Does an Arrel that is right at the top of the Thimble stay cool at its thick base?",
    .wax = WB_APP_DEMO_PELLOW, .series = WB_APP_DEMO_ARREL, .cells = thick_base, .n_cells = G_N_ELEMENTS (thick_base),
    .samples = 3, .planned_day = -48, .poured_day = -47, .first_day = -44, .stride = 1, .seed = 23, .chosen = -1 },
  { .code = "FC-1", .title = "Cindle for the Firkin",
    .question = "Does a Cindle burn the Firkin as well as a Brosk, in Pellow blend?",
    .wax = WB_APP_DEMO_PELLOW, .series = WB_APP_DEMO_CINDLE, .cells = on_bench, .n_cells = G_N_ELEMENTS (on_bench),
    .samples = 2, .load_pct = 6, .planned_day = -9, .poured_day = -8, .first_day = -3, .stride = 1, .alight = TRUE, .seed = 37, .chosen = -1,
    .steps_noted = TRUE },
  { .code = "HA-1", .title = "Arrel for the Hob",
    .question = "Is there an Arrel that does what the Brosk does in the Hob?",
    .wax = WB_APP_DEMO_DUNMARL, .series = WB_APP_DEMO_ARREL, .cells = curing, .n_cells = G_N_ELEMENTS (curing),
    .samples = 2, .load_pct = 8, .planned_day = -5, .poured_day = -4, .seed = 41, .chosen = -1 },
  { .code = "TC-1", .title = "Cindle for the Thimble",
    .question = "Which Cindle for the Thimble with Ostrel water?",
    .wax = WB_APP_DEMO_PELLOW, .series = WB_APP_DEMO_CINDLE, .cells = planned, .n_cells = G_N_ELEMENTS (planned),
    .samples = 3, .load_pct = 6, .planned_day = -1, .seed = 53, .chosen = -1 },
};

WbInstant
wb_app_demo_at (WbAppDemo *demo,
                int        day,
                int        hour,
                int        minute)
{
  WbInstant at = wb_clock_local (wb_clock_get (), demo->today + day, hour + minute / 60, minute % 60, 0);

  return at.utc_us > demo->now.utc_us ? demo->now : at;
}

WbStoreChange *
wb_app_demo_begin (WbAppDemo  *demo,
                   int         day,
                   int         hour,
                   int         minute,
                   const char *topic,
                   const char *why,
                   GError    **error)
{
  return wb_store_begin (demo->store, WB_ENTRY_COMMAND, topic, WHO, why, wb_app_demo_at (demo, day, hour, minute), error);
}

static gboolean
mark_invented (WbAppDemo *demo,
               GError   **error)
{
  g_autoptr (WbRecord) record = wb_store_load_notebook (demo->store, error);
  WbNotebook *notebook = (WbNotebook *) record;
  WbStoreChange *change;

  if (notebook == NULL)
    return FALSE;
  notebook->invented = TRUE;
  notebook->bench_places = 12;
  notebook->evenings = g_strdup ("tue thu sun");
  notebook->evening_begins_min = 19 * 60;
  notebook->maker = g_strdup ("The Ninefold Wick workshop (invented)");
  notebook->address = g_strdup ("Every name and figure in this notebook is invented.");
  change = wb_app_demo_begin (demo, FIRST_DAY, 9, 30, "notebook", "Mark the notebook as invented", error);
  if (change == NULL)
    return FALSE;
  if (!wb_store_change_put (change, notebook, error))
    {
      wb_store_rollback (change);
      return FALSE;
    }
  return wb_store_commit (change, NULL, error);
}

/* In the words that the program proposes to everybody. To rank takes seconds, which nobody waits for here: verdict and chances are left out. */
static WbDecision *
propose (WbAppDemo    *demo,
         WbAppDemoRun *run,
         GError      **error)
{
  gint64 id = ((const WbRecord *) g_ptr_array_index (run->cells, (guint) run->plan->chosen))->id;
  g_autoptr (WbDataset) data = wb_store_load_dataset (demo->store, run->experiment->record.id, error);
  g_autoptr (WbCraftFigures) figures = NULL;
  g_autoptr (WbCraftLimits) limits = NULL;
  WbDecision *record;

  if (data == NULL)
    return NULL;
  figures = wb_craft_figures_new (data);
  limits = wb_craft_limits_new (data, figures);
  record = wb_record_new (&wb_decision_type);
  for (guint i = 0; i < data->cells->len; i++)
    if (wb_dataset_get_cell (data, i)->record.id == id)
      wb_craft_decision_fill_unranked (data, figures, limits, i, record);
  record->answer_entry = data->last_entry;
  return record;
}

static gboolean
put_decision (WbAppDemo     *demo,
              WbAppDemoRun  *run,
              WbDecision    *decision, /* NULL: none */
              int            day,
              WbStoreChange *change,
              GError       **error)
{
  run->experiment->closed = TRUE;
  if (!wb_store_change_put (change, run->experiment, error))
    return FALSE;
  if (decision == NULL)
    return TRUE;
  decision->signed_by = g_strdup (WHO);
  decision->signed_at = wb_app_demo_at (demo, day, 12, 0);
  return wb_store_change_put (change, decision, error);
}

static gboolean
decide (WbAppDemo    *demo,
        WbAppDemoRun *run,
        int           day,
        GError      **error)
{
  g_autoptr (WbRecord) decision = NULL;
  WbStoreChange *change;

  if (run->plan->chosen >= 0 && (decision = (WbRecord *) propose (demo, run, error)) == NULL)
    return FALSE;
  change = wb_app_demo_begin (demo, day, 12, 0, "decision", "Close the experiment", error);
  if (change == NULL)
    return FALSE;
  if (!put_decision (demo, run, (WbDecision *) (gpointer) decision, day, change, error))
    {
      wb_store_rollback (change);
      return FALSE;
    }
  run->decided = TRUE;
  return wb_store_commit (change, NULL, error);
}

static gboolean
is_burnt_down (const WbAppDemoRun *run)
{
  for (guint i = 0; i < run->candles->len; i++)
    if (!g_array_index (run->candles, WbAppDemoCandle, i).ended)
      return FALSE;
  return run->candles->len > 0;
}

static gboolean
live_day (WbAppDemo    *demo,
          WbAppDemoRun *run,
          int           day,
          GError      **error)
{
  const WbAppDemoExperiment *plan = run->plan;

  if (day == plan->planned_day && !wb_app_demo_run_plan (demo, run, error))
    return FALSE;
  if (plan->poured_day != 0 && day == plan->poured_day && !wb_app_demo_run_pour (demo, run, error))
    return FALSE;
  if (day == KEPT_DAY && plan->reference && !wb_app_demo_run_keep (demo, run, day, error))
    return FALSE;
  if (plan->first_day == 0 || day < plan->first_day || run->decided)
    return TRUE;
  if (is_burnt_down (run))
    return decide (demo, run, day, error);
  if (day == 0 && !plan->alight)
    return TRUE;
  return wb_app_demo_run_burn (demo, run, day, error);
}

static gboolean
live (WbAppDemo *demo,
      GPtrArray *runs,
      GError   **error)
{
  for (int day = FIRST_DAY; day <= 0; day++)
    {
      if (day == FIRST_DAY && (!mark_invented (demo, error) || !wb_app_demo_stock_shelf (demo, day, error)))
        return FALSE;
      if (day == LOT_DAY && !wb_app_demo_receive_lot (demo, day, error))
        return FALSE;
      if (day == CRYSTAL_DAY && !wb_app_demo_enter_crystal (demo, day, error))
        return FALSE;
      for (guint i = 0; i < runs->len; i++)
        if (!live_day (demo, g_ptr_array_index (runs, i), day, error))
          return FALSE;
    }
  return TRUE;
}

gboolean
wb_app_demo_write (const char *path,
                   GError    **error)
{
  g_autoptr (GPtrArray) runs = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_app_demo_run_free);
  WbAppDemo demo = { .now = wb_clock_now (wb_clock_get ()) };
  gboolean well;

  demo.today = wb_instant_get_day (demo.now);
  demo.store = wb_store_create (path, "Demo notebook", WHO, wb_app_demo_at (&demo, FIRST_DAY, 9, 0), error);
  if (demo.store == NULL)
    {
      wb_app_error_from_store (error, WB_APP_ERROR_EXISTS);
      return FALSE;
    }
  for (guint i = 0; i < G_N_ELEMENTS (experiments); i++)
    g_ptr_array_add (runs, wb_app_demo_run_new (&experiments[i]));
  well = live (&demo, runs, error);
  wb_app_demo_clear_shelf (&demo);
  wb_record_free (demo.protocol);
  wb_store_close (demo.store);
  if (!well)
    {
      g_unlink (path);
      wb_app_error_from_store (error, WB_APP_ERROR_REFUSED);
    }
  return well;
}
