/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-page.h"
#include "test-bench.h"

#include "wb-amend-dialog.h"
#include "wb-amend-words.h"
#include "wb-app-query.h"
#include "wb-burn-page.h"
#include "wb-clock.h"
#include "wb-inspection-dialog.h"
#include "wb-rating-bar.h"

/* The page Burn with one unlit sample. */
typedef struct
{
  Bench bench;
} Page;

static void
page_open (Page *page)
{
  bench_open (&page->bench, 1, "pool_mm,flame_mm");
}

static void
page_close (Page *page)
{
  bench_close (&page->bench);
}

static gboolean
is_closed (gpointer type)
{
  return test_find_window (GPOINTER_TO_SIZE (type)) == NULL;
}

static WbInspectionDialog *
open_sheet (Page *page)
{
  g_assert_true (test_enabled (page->bench.window, "page.inspect"));
  gtk_widget_activate_action (GTK_WIDGET (page->bench.window), "page.inspect", NULL);
  return WB_INSPECTION_DIALOG (test_find_window (WB_TYPE_INSPECTION_DIALOG));
}

/* What a hand types: a digit goes to the bar that has the keyboard, the rest to the sheet. */
static void
type (WbInspectionDialog *sheet,
      const char         *keys)
{
  for (; *keys != '\0'; keys++)
    {
      guint keyval = *keys == '\n' ? GDK_KEY_Return : gdk_unicode_to_keyval ((guint) *keys);
      GtkWidget *focus = gtk_root_get_focus (GTK_ROOT (sheet));
      GtkWidget *bar = focus != NULL ? gtk_widget_get_ancestor (focus, WB_TYPE_RATING_BAR) : NULL;
      g_autoptr (GListModel) controllers = NULL;
      gboolean done = FALSE;

      if (!g_ascii_isdigit (*keys))
        {
          g_assert_true (wb_inspection_dialog_press (sheet, keyval));
          continue;
        }
      g_assert_nonnull (bar);
      controllers = gtk_widget_observe_controllers (bar);
      for (guint i = 0; !done && i < g_list_model_get_n_items (controllers); i++)
        {
          g_autoptr (GObject) controller = g_list_model_get_item (controllers, i);

          if (GTK_IS_EVENT_CONTROLLER_KEY (controller))
            g_signal_emit_by_name (controller, "key-pressed", keyval, 0, 0, &done);
        }
      g_assert_true (done);
    }
}

static WbInspection *
dup_look (Page *page)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) looks = wb_app_query_list_sync (test_notebook (page->bench.window), &wb_inspection_type, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (looks->len, ==, 1);
  return wb_record_copy (g_ptr_array_index (looks, 0));
}

static void
test_by_key (void)
{
  Page page;
  WbInspectionDialog *sheet;
  g_autoptr (WbRecord) record = NULL;
  const WbInspection *look;

  page_open (&page);
  sheet = open_sheet (&page);
  g_assert_nonnull (sheet);
  /* Frosting 2; wet spots passed over; the sink hole 1; by its letter back to the wet spots; cold throw by its letter. */
  type (sheet, "2\n1w3c4");
  g_assert_cmpint (wb_inspection_dialog_get_rating (sheet, "frosting"), ==, 2);
  g_assert_cmpint (wb_inspection_dialog_get_rating (sheet, "wet_spots"), ==, 3);
  g_assert_cmpint (wb_inspection_dialog_get_rating (sheet, "sweating"), ==, -1);
  /* By whom and the note; behind them it saves. */
  type (sheet, "\n\n");
  test_wait (is_closed, GSIZE_TO_POINTER (WB_TYPE_INSPECTION_DIALOG));
  test_settle (page.bench.window);
  record = (WbRecord *) dup_look (&page);
  look = (const WbInspection *) record;
  g_assert_cmpint (look->frosting, ==, 2);
  g_assert_cmpint (look->wet_spots, ==, 3);
  g_assert_cmpint (look->sink_hole, ==, 1);
  g_assert_cmpint (look->sweating, ==, -1);
  g_assert_cmpfloat (look->cold_throw, ==, 4);
  g_assert_cmpint (look->seen_at.utc_us, ==, wb_clock_now (wb_clock_get ()).utc_us);
  page_close (&page);
}

static gboolean
is_told (gpointer sheet)
{
  return gtk_widget_get_visible (test_child (sheet, "problem"));
}

static void
test_nothing (void)
{
  Page page;
  WbInspectionDialog *sheet;
  gint64 before;

  page_open (&page);
  before = wb_app_notebook_get_last_entry (test_notebook (page.bench.window));
  sheet = open_sheet (&page);
  g_signal_emit_by_name (test_child (GTK_WIDGET (sheet), "save"), "clicked");
  test_wait (is_told, sheet);
  gtk_window_destroy (GTK_WINDOW (sheet));
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (page.bench.window)), ==, before);
  page_close (&page);
}

static void
test_alight (void)
{
  Page page;

  page_open (&page);
  test_bench_light_first (wb_desk_get_bench (wb_host_get_desk (WB_HOST (page.bench.window))));
  g_assert_false (test_enabled (page.bench.window, "page.inspect"));
  page_close (&page);
}

static gboolean
is_read (gpointer log)
{
  WbAppAmend *amend = wb_reading_log_get_amend (log);

  return amend != NULL && wb_app_live_list_get_loaded (WB_APP_LIVE_LIST (amend));
}

typedef struct
{
  WbReadingLog *log;
  const char   *values;
  gboolean      taken_out;
} Wanted;

/* The look is the first line. */
static gboolean
says (gpointer user)
{
  const Wanted *wanted = user;
  g_autoptr (WbAppAmendItem) item = is_read (wanted->log) ? g_list_model_get_item (G_LIST_MODEL (wb_reading_log_get_amend (wanted->log)), 0) : NULL;
  g_autofree char *values = item != NULL ? wb_amend_words_dup_values (item, FALSE) : NULL;

  return g_strcmp0 (values, wanted->values) == 0 && wb_app_amend_item_get_taken_out (item) == wanted->taken_out;
}

static void
wait_for_line (WbReadingLog *log,
               const char   *values,
               gboolean      taken_out)
{
  Wanted wanted = { log, values, taken_out };

  test_wait (says, &wanted);
}

/* On the morning after a burn; amended and taken out like a reading, and undone. */
static void
test_log (void)
{
  Page page;
  WbAppBench *bench;
  WbReadingLog *log;
  WbInspectionDialog *sheet;
  g_autoptr (WbAppAmendItem) item = NULL;
  g_autofree char *title = NULL;
  GtkWidget *dialog;

  page_open (&page);
  bench = wb_desk_get_bench (wb_host_get_desk (WB_HOST (page.bench.window)));
  log = wb_burn_page_get_log (page.bench.page);
  test_bench_snuff (bench, test_bench_light_first (bench));
  wb_clock_advance (wb_clock_get (), G_GINT64_CONSTANT (12) * 3600 * G_USEC_PER_SEC);
  gtk_widget_activate_action (GTK_WIDGET (page.bench.window), "page.readings", NULL);
  test_wait (is_read, log);
  sheet = open_sheet (&page);
  type (sheet, "e2c4");
  /* What Ctrl+S does. */
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (sheet), "look.save", NULL));
  test_wait (is_closed, GSIZE_TO_POINTER (WB_TYPE_INSPECTION_DIALOG));
  wait_for_line (log, "Sweating light · Cold throw clear", FALSE);
  item = g_list_model_get_item (G_LIST_MODEL (wb_reading_log_get_amend (log)), 0);
  title = wb_amend_words_dup_title (item, "T1");
  g_assert_true (g_str_has_prefix (title, "Look at T1, "));
  g_assert_true (g_str_has_suffix (title, ", after burn 1"));

  wb_reading_log_amend (log, item);
  dialog = test_find_window (WB_TYPE_AMEND_DIALOG);
  g_assert_true (gtk_widget_get_visible (test_child (dialog, "take_out")));
  gtk_editable_set_text (GTK_EDITABLE (test_child (dialog, "reason")), "it was the other candle");
  g_signal_emit_by_name (test_child (dialog, "take_out"), "clicked");
  test_wait (is_closed, GSIZE_TO_POINTER (WB_TYPE_AMEND_DIALOG));
  wait_for_line (log, "Sweating light · Cold throw clear", TRUE);
  gtk_widget_activate_action (GTK_WIDGET (page.bench.window), "win.undo", NULL);
  wait_for_line (log, "Sweating light · Cold throw clear", FALSE);
  page_close (&page);
}

void
test_inspection_add (void)
{
  g_test_add_func ("/views/inspection/a-key-each", test_by_key);
  g_test_add_func ("/views/inspection/nothing-rated-is-not-saved", test_nothing);
  g_test_add_func ("/views/inspection/not-of-what-burns", test_alight);
  g_test_add_func ("/views/inspection/in-the-log-amended-and-taken-out", test_log);
}
