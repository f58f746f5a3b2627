/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-views.h"

#include "wb-app-query.h"
#include "wb-preferences.h"
#include "wb-record-dialog.h"
#include "wb-record-form.h"

/* What is asked and told of stock and prices. */

static gboolean
tells_stock (gpointer user)
{
  return test_says (user, "Left: 24 pieces · 1.50\302\240crowns a piece") && test_says (user, "24 pieces left");
}

static gboolean
tells_no_stock (gpointer user)
{
  return !test_says (user, "Left: 24 pieces · 1.50\302\240crowns a piece") && !test_says (user, "24 pieces left");
}

static gboolean
shows_lot (gpointer user)
{
  return test_says (user, "V-1");
}

static void
save_one (WbWindow *window,
          gpointer  record)
{
  g_autoptr (GPtrArray) records = g_ptr_array_new ();
  g_autoptr (GError) error = NULL;

  g_ptr_array_add (records, record);
  wb_app_notebook_save_sync (test_notebook (window), "Save one", records, NULL, &error);
  g_assert_no_error (error);
}

/* 24 vessels for 36 crowns are 1.50 a piece. */
static void
test_stock (void)
{
  g_autofree char *path = test_path ("stock.wickbench");
  WbWindow *window = test_window_new_with (path);
  TestShelf shelf;
  WbLot *lot = wb_record_new (&wb_lot_type);
  WbNotebook *settings = wb_record_copy (wb_app_notebook_get_settings (test_notebook (window)));

  test_shelf_fill (window, "Tern", &shelf);
  lot->material = shelf.vessel;
  lot->code = g_strdup ("V-1");
  lot->amount = 24;
  lot->price = 36;
  save_one (window, lot);
  g_assert_true (wb_window_go (window, "materials", 0));
  test_wait (shows_lot, window);
  g_assert_true (tells_no_stock (window));
  settings->keeps_stock = TRUE;
  settings->currency = g_strdup ("crowns");
  save_one (window, settings);
  test_wait (tells_stock, window);
  settings->record.entry = wb_app_notebook_get_settings (test_notebook (window))->record.entry;
  settings->keeps_stock = FALSE;
  save_one (window, settings);
  test_wait (tells_no_stock, window);
  test_window_destroy (window);
  wb_record_free (lot);
  wb_record_free (settings);
}

static void
set_stock (WbWindow   *window,
           gboolean    keeps,
           gboolean    us_units,
           const char *currency)
{
  WbNotebook *settings = wb_record_copy (wb_app_notebook_get_settings (test_notebook (window)));

  settings->keeps_stock = keeps;
  settings->us_units = us_units;
  g_free (settings->currency);
  settings->currency = g_strdup (currency);
  save_one (window, settings);
  wb_record_free (settings);
  test_settle (window);
}

static gboolean
has_dialog (gpointer user)
{
  return test_find_window (WB_TYPE_RECORD_DIALOG) != NULL;
}

static gboolean
has_no_dialog (gpointer user)
{
  return !has_dialog (user);
}

static gboolean
can_delete (gpointer window)
{
  return test_enabled (window, "page.delete");
}

static GtkWidget *
begin_lot (WbWindow   *window,
           const char *kind)
{
  gtk_widget_activate_action (GTK_WIDGET (window), "page.kind", "s", kind);
  test_settle (window);
  test_wait (can_delete, window);
  g_signal_emit_by_name (test_child (test_child (GTK_WIDGET (wb_window_get_page (window)), "lots"), "add"), "clicked");
  test_wait (has_dialog, NULL);
  return test_find_window (WB_TYPE_RECORD_DIALOG);
}

static void
type (GtkWidget  *dialog,
      const char *name,
      const char *text)
{
  GtkWidget *field = wb_record_form_get_field (wb_record_dialog_get_form (WB_RECORD_DIALOG (dialog)), name);

  gtk_editable_set_text (GTK_EDITABLE (test_find (field, GTK_TYPE_ENTRY)), text);
}

/* How much came in is asked in what people buy it by, and says so; it is stored in g, or in pieces. */
static void
test_units (void)
{
  static const struct { gboolean us; const char *kind, *unit, *typed; double stored; } cases[] = {
    { FALSE, "wax", "kg", "25", 25000 },
    { FALSE, "wax", "kg", "500 g", 500 },
    { FALSE, "fragrance", "g", "250", 250 },
    { FALSE, "vessel", "pieces", "24", 24 },
    { FALSE, "wick", "pieces", "100", 100 },
    { TRUE, "wax", "lb", "10", 4535.9237 },
    { TRUE, "fragrance", "oz", "16", 453.59237 },
  };
  g_autofree char *path = test_path ("lot-units.wickbench");
  WbWindow *window = test_window_new_with (path);
  TestShelf shelf;

  test_shelf_fill (window, "Tern", &shelf);
  g_assert_true (wb_window_go (window, "materials", 0));
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *code = g_strdup_printf ("L-%u", i);
      g_autoptr (WbAppMaterials) materials = NULL;
      const WbLot *lot;
      GtkWidget *dialog;

      g_test_message ("%s, %s", cases[i].kind, cases[i].typed);
      set_stock (window, TRUE, cases[i].us, "crowns");
      dialog = begin_lot (window, cases[i].kind);
      g_assert_true (test_says (dialog, cases[i].unit));
      g_assert_true (test_says (dialog, "crowns"));
      g_assert_false (test_says (dialog, "In g; of vessels and wicks in pieces."));
      type (dialog, "code", code);
      type (dialog, "amount", cases[i].typed);
      g_signal_emit_by_name (test_child (dialog, "save"), "clicked");
      test_wait (has_no_dialog, NULL);
      test_settle (window);
      materials = wb_app_query_materials_sync (test_notebook (window), NULL);
      lot = materials->lots->pdata[materials->lots->len - 1];
      g_assert_cmpstr (lot->code, ==, code);
      g_assert_cmpfloat_with_epsilon (lot->amount, cases[i].stored, 1e-9);
    }
  test_window_destroy (window);
}

static gboolean
tells_kilograms (gpointer window)
{
  return test_says (window, "Left: 25.000\302\240kg") && test_says (window, "25.000\302\240kg left");
}

/* And told in it. */
static void
test_told_in_kilograms (void)
{
  g_autofree char *path = test_path ("lot-kilograms.wickbench");
  WbWindow *window = test_window_new_with (path);
  WbLot *lot = wb_record_new (&wb_lot_type);
  TestShelf shelf;

  test_shelf_fill (window, "Tern", &shelf);
  lot->material = shelf.wax;
  lot->code = g_strdup ("W-1");
  lot->amount = 25000;
  save_one (window, lot);
  wb_record_free (lot);
  set_stock (window, TRUE, FALSE, NULL);
  g_assert_true (wb_window_go (window, "materials", 0));
  test_settle (window);
  gtk_widget_activate_action (GTK_WIDGET (window), "page.kind", "s", "wax");
  test_wait (tells_kilograms, window);
  test_window_destroy (window);
}

static gboolean
asks_currency (GtkWidget *preferences)
{
  return gtk_widget_get_visible (wb_record_form_get_field (WB_RECORD_FORM (test_find (preferences, WB_TYPE_RECORD_FORM)), "currency"));
}

static void
test_currency (void)
{
  g_autofree char *path = test_path ("currency.wickbench");
  WbWindow *window = test_window_new_with (path);
  g_autoptr (WbAppSettings) settings = wb_app_settings_new ();
  GtkWidget *preferences = wb_preferences_new (GTK_WINDOW (window), settings, test_notebook (window)), *tick;

  gtk_window_present (GTK_WINDOW (preferences));
  g_assert_false (asks_currency (preferences));
  tick = test_find (wb_record_form_get_field (WB_RECORD_FORM (test_find (preferences, WB_TYPE_RECORD_FORM)), "keeps_stock"), GTK_TYPE_CHECK_BUTTON);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (tick), TRUE);
  g_assert_true (asks_currency (preferences));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (tick), FALSE);
  g_assert_false (asks_currency (preferences));
  gtk_window_destroy (GTK_WINDOW (preferences));
  set_stock (window, TRUE, FALSE, "crowns");
  preferences = wb_preferences_new (GTK_WINDOW (window), settings, test_notebook (window));
  gtk_window_present (GTK_WINDOW (preferences));
  g_assert_true (asks_currency (preferences));
  gtk_window_destroy (GTK_WINDOW (preferences));
  test_window_destroy (window);
}

void
test_material_stock_add (void)
{
  g_test_add_func ("/views/materials/stock/is-told-to-who-keeps-it", test_stock);
  g_test_add_func ("/views/materials/stock/what-came-in-is-asked-in-its-usual-unit", test_units);
  g_test_add_func ("/views/materials/stock/what-is-left-is-told-in-its-usual-unit", test_told_in_kilograms);
  g_test_add_func ("/views/materials/stock/the-currency-is-asked-of-who-keeps-it", test_currency);
}
