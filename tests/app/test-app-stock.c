/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"
#include "wb-app-stock.h"

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

void
test_app_stock_add (void)
{
  g_test_add_func ("/app/stock/nothing-is-told-before-it-is-switched-on", test_switch);
}
