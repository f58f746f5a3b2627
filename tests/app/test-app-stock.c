/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"
#include "wb-app-stock.h"
#include "wb-clock.h"

#include <math.h>

static double
ask_left (WbAppNotebook *notebook,
          gint64         material)
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbCraftStock) stock = NULL;

  wb_app_stock_load_async (notebook, NULL, app_keep_result_cb, &result);
  stock = wb_app_stock_load_finish (notebook, app_wait_result (&result), &error);
  g_assert_no_error (error);
  return wb_craft_stock_get_left (stock, material);
}

static void
test_switch (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  gint64 wax = app_add_wax (notebook, "Plover");
  WbLot *lot = wb_record_new (&wb_lot_type);
  WbNotebook *settings;

  lot->material = wax;
  lot->code = g_strdup ("W-1");
  lot->amount = 5000;
  app_save (notebook, lot);
  g_assert_true (isnan (ask_left (notebook, wax)));
  settings = wb_record_copy (wb_app_notebook_get_settings (notebook));
  settings->keeps_stock = TRUE;
  app_save (notebook, settings);
  g_assert_cmpfloat (ask_left (notebook, wax), ==, 5000);
  wb_record_free (lot);
  wb_record_free (settings);
  app_close (notebook);
}

static void
keep_stock (WbAppNotebook *notebook)
{
  WbNotebook *settings = wb_record_copy (wb_app_notebook_get_settings (notebook));

  settings->keeps_stock = TRUE;
  app_save (notebook, settings);
  wb_record_free (settings);
}

static WbFragrancePart *
save_part (WbAppNotebook *notebook,
           gint64         blend,
           gint64         part,
           double         share)
{
  WbFragrancePart *record = wb_record_new (&wb_fragrance_part_type);

  record->fragrance = blend;
  record->part = part;
  record->share_pct = share;
  record->record.id = app_save (notebook, record);
  record->record.entry = wb_app_notebook_get_last_entry (notebook);
  return record;
}

static gint64
add_experiment (WbAppNotebook *notebook)
{
  g_autoptr (WbRecord) protocol = (WbRecord *) wb_protocol_new_house (), profile = (WbRecord *) wb_profile_new_house ();
  g_autoptr (WbRecord) record = wb_record_new (&wb_experiment_type);
  WbExperiment *experiment = (WbExperiment *) (gpointer) record;

  experiment->code = g_strdup ("T-1");
  experiment->title = g_strdup ("Test");
  experiment->samples_per_cell = 1;
  experiment->seed = 1;
  experiment->wax = app_add_wax (notebook, "Plover");
  experiment->protocol = app_save (notebook, protocol);
  experiment->profile = app_save (notebook, profile);
  return app_save (notebook, record);
}

/* Of the record's own versions: what is mixed otherwise after the pour takes nothing back. */
static void
test_blend_of_then (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  gint64 citrus = app_add_fragrance (notebook, "Citrus"), blend = app_add_fragrance (notebook, "Evening"), moss = app_add_fragrance (notebook, "Moss");
  g_autoptr (WbRecord) one = (WbRecord *) save_part (notebook, blend, citrus, 60), other = (WbRecord *) save_part (notebook, blend, moss, 40);
  WbLot *lot = wb_record_new (&wb_lot_type);
  WbBatch *batch = wb_record_new (&wb_batch_type);

  lot->material = citrus;
  lot->code = g_strdup ("C-1");
  lot->amount = 1000;
  app_save (notebook, lot);
  batch->experiment = add_experiment (notebook);
  batch->fragrance = blend;
  batch->code = g_strdup ("M-1");
  batch->oil_g = 100;
  batch->poured_at = wb_clock_now (wb_clock_get ());
  app_save (notebook, batch);
  keep_stock (notebook);
  g_assert_cmpfloat_with_epsilon (ask_left (notebook, citrus), 940, 1e-9);
  /* a minute later it is another blend */
  wb_clock_advance (wb_clock_get (), 60 * G_USEC_PER_SEC);
  ((WbFragrancePart *) (gpointer) one)->share_pct = 10;
  app_save (notebook, one);
  ((WbFragrancePart *) (gpointer) other)->share_pct = 90;
  app_save (notebook, other);
  g_assert_cmpfloat_with_epsilon (ask_left (notebook, citrus), 940, 1e-9);
  wb_record_free (lot);
  wb_record_free (batch);
  app_close (notebook);
}

void
test_app_stock_add (void)
{
  g_test_add_func ("/app/stock/nothing-is-told-before-it-is-switched-on", test_switch);
  g_test_add_func ("/app/stock/what-was-poured-of-a-blend-is-what-it-was-then", test_blend_of_then);
}
