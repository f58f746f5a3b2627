/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-notebook.h"
#include "test-views.h"

#include "wb-amend-dialog.h"
#include "wb-amend-reading.h"
#include "wb-amend-words.h"
#include "wb-app-query.h"
#include "wb-app-record.h"
#include "wb-burn-page.h"
#include "wb-clock.h"
#include "wb-history-dialog.h"
#include "wb-quantity-entry.h"
#include "wb-reading-field.h"
#include "wb-record-form.h"

#include <math.h>

#define MINUTE_US (60 * G_GINT64_CONSTANT (1000000))

/* The page Burn on a bench where T1 was burnt once: read at 60 and 120 minutes, then snuffed. */
typedef struct
{
  WbWindow       *window;
  char           *path;
  gint64          experiment;
  WbBurnPage     *page;
  WbReadingLog   *log;
} Page;

static gint64
save_one (WbAppNotebook *notebook,
          gpointer       record)
{
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GArray) ids = NULL;
  g_autoptr (GError) error = NULL;

  g_ptr_array_add (records, record);
  wb_app_notebook_save_sync (notebook, "Write a test's burn", records, &ids, &error);
  g_assert_no_error (error);
  return g_array_index (ids, gint64, 0);
}

static void
add_reading (WbAppNotebook *notebook,
             gint64         burn,
             double         minute,
             WbColumn       column,
             double         value)
{
  WbReading *reading = wb_record_new (&wb_reading_type);

  reading->burn = burn;
  reading->elapsed_min = minute;
  reading->source = WB_SOURCE_TYPED;
  reading->values[column] = value;
  save_one (notebook, reading);
}

static void
write_burn (WbAppNotebook *notebook)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) samples = wb_app_query_list_sync (notebook, &wb_sample_type, &error);
  WbSession *session = wb_record_new (&wb_session_type);
  WbBurn *burn = wb_record_new (&wb_burn_type);
  gint64 id;

  g_assert_no_error (error);
  session->opened_at = wb_clock_now (wb_clock_get ());
  session->closed_at = session->opened_at;
  session->checked = TRUE;
  burn->sample = ((const WbSample *) g_ptr_array_index (samples, 0))->record.id;
  burn->number = 1;
  burn->kind = WB_BURN_STANDARD;
  burn->lit_at = session->opened_at;
  burn->trim_mm = 6;
  burn->bench_place = g_strdup ("3");
  burn->session = save_one (notebook, session);
  id = save_one (notebook, burn);
  add_reading (notebook, id, 60, WB_COLUMN_POOL_MM, 68);
  add_reading (notebook, id, 120, WB_COLUMN_POOL_MM, 72.4);
  add_reading (notebook, id, 240, WB_COLUMN_EVENT, WB_EVENT_SNUFFED);
}

static gboolean
is_shown (gpointer user)
{
  Page *page = user;

  return wb_reading_stack_get_shown (wb_burn_page_get_stack (page->page)) != NULL;
}

static void
page_open (Page *page)
{
  g_autoptr (WbAppNotebook) notebook = NULL;
  g_autoptr (GError) error = NULL;

  page->path = test_path ("amend.wickbench");
  page->experiment = bench_notebook_write (page->path, 1, "pool_mm,flame_mm,soot");
  notebook = wb_app_notebook_open_sync (page->path, WB_APP_OPEN_EXISTING, NULL, &error);
  g_assert_no_error (error);
  write_burn (notebook);
  wb_clock_advance (wb_clock_get (), 26 * 60 * MINUTE_US);
  page->window = test_window_new ();
  wb_window_set_notebook (page->window, notebook);
  test_settle (page->window);
  g_assert_true (wb_window_go (page->window, "burn", page->experiment));
  page->page = WB_BURN_PAGE (wb_window_get_page (page->window));
  page->log = wb_burn_page_get_log (page->page);
  test_wait (is_shown, page);
}

static void
page_close (Page *page)
{
  test_window_destroy (page->window);
  g_free (page->path);
}

static gboolean
is_read (gpointer log)
{
  WbAppAmend *amend = wb_reading_log_get_amend (log);

  return amend != NULL && wb_app_live_list_get_loaded (WB_APP_LIVE_LIST (amend));
}

static void
unfold (Page *page)
{
  g_assert_null (wb_reading_log_get_amend (page->log));
  g_assert_true (test_enabled (page->window, "page.readings"));
  gtk_widget_activate_action (GTK_WIDGET (page->window), "page.readings", NULL);
  test_wait (is_read, page->log);
}

/* By its title; NULL: no line says that. Borrowed from the list. */
static WbAppAmendItem *
find (Page       *page,
      const char *title)
{
  GListModel *model = G_LIST_MODEL (wb_reading_log_get_amend (page->log));

  for (guint i = 0; i < g_list_model_get_n_items (model); i++)
    {
      g_autoptr (WbAppAmendItem) item = g_list_model_get_item (model, i);
      g_autofree char *said = wb_amend_words_dup_title (item, "T1");

      if (g_str_equal (said, title))
        return item;
    }
  return NULL;
}

static WbAmendDialog *
find_dialog (void)
{
  return WB_AMEND_DIALOG (test_find_window (WB_TYPE_AMEND_DIALOG));
}

static WbAmendDialog *
open_dialog (Page       *page,
             const char *title)
{
  GListModel *model = G_LIST_MODEL (wb_reading_log_get_amend (page->log));
  WbAppAmendItem *item = find (page, title);
  GtkWidget *list = test_child (GTK_WIDGET (page->log), "list");

  g_assert_nonnull (item);
  /* Enter on the line. */
  for (guint i = 0; i < g_list_model_get_n_items (model); i++)
    {
      g_autoptr (WbAppAmendItem) other = g_list_model_get_item (model, i);

      if (other == item)
        g_signal_emit_by_name (list, "activate", i);
    }
  g_assert_nonnull (find_dialog ());
  return find_dialog ();
}

static void
type (GtkWidget  *field,
      const char *text)
{
  g_assert_nonnull (field);
  gtk_editable_set_text (GTK_EDITABLE (test_find (field, GTK_TYPE_TEXT)), text);
}

static void
say_why (WbAmendDialog *dialog,
         const char    *reason)
{
  gtk_editable_set_text (GTK_EDITABLE (test_child (GTK_WIDGET (dialog), "reason")), reason);
}

static void
click (WbAmendDialog *dialog,
       const char    *id)
{
  g_signal_emit_by_name (test_child (GTK_WIDGET (dialog), id), "clicked");
}

static gboolean
is_closed (gpointer user)
{
  return find_dialog () == NULL;
}

typedef struct
{
  Page       *page;
  const char *title;
  const char *reason; /* NULL: none */
} Wanted;

static gboolean
is_so (gpointer user)
{
  Wanted *wanted = user;
  WbAppAmendItem *item = find (wanted->page, wanted->title);

  return item != NULL && g_strcmp0 (wb_app_amend_item_get_reason (item), wanted->reason) == 0;
}

static WbAppAmendItem *
wait_for_reason (Page       *page,
                 const char *title,
                 const char *reason)
{
  Wanted wanted = { page, title, reason };

  test_wait (is_closed, NULL);
  test_settle (page->window);
  test_wait (is_so, &wanted);
  return find (page, title);
}

static void
assert_sound (Page *page)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppCheck) check = wb_app_record_check_sync (page->path, NULL, NULL, &error);

  g_assert_no_error (error);
  g_assert_true (check->sound);
}

/* Of the vessel: no wick is named. */
static void
assert_field_of (WbAmendReading *form,
                 WbColumn        column,
                 const char     *label)
{
  g_assert_cmpstr (wb_reading_field_get_label (WB_READING_FIELD (wb_amend_reading_get_field (form, column))), ==, label);
}

/* In a vessel of several wicks each field says at which it was read, and whatever is amended says whose it is. */
static void
test_wick_named (void)
{
  WbReading *reading = wb_record_new (&wb_reading_type);
  WbAmendReading *form;

  reading->elapsed_min = 60;
  reading->values[WB_COLUMN_WICK_NUMBER] = 2;
  reading->values[WB_COLUMN_FLAME_MM] = 21;
  form = WB_AMEND_READING (g_object_ref_sink (wb_amend_reading_new (reading, 80, FALSE)));
  assert_field_of (form, WB_COLUMN_FLAME_MM, "Flame height, wick 2");
  wb_amend_reading_ask_also (form, WB_COLUMN_MUSHROOM);
  assert_field_of (form, WB_COLUMN_MUSHROOM, "Mushroom, wick 2");
  wb_amend_reading_ask_also (form, WB_COLUMN_POOL_MM);
  assert_field_of (form, WB_COLUMN_POOL_MM, "Pool diameter");
  g_object_unref (form);
  wb_record_free (reading);
}

static void
test_titles (void)
{
  static const struct { const char *line, *title; } cases[] = {
    { "60 min", "Amend: T1, burn 1, 60 min" }, { "Burn 1", "Amend: T1, burn 1" }, { "Pour of T1", "Amend: Pour of T1" },
  };
  Page page;

  page_open (&page);
  unfold (&page);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WbAmendDialog *dialog = open_dialog (&page, cases[i].line);

      g_assert_cmpstr (gtk_window_get_title (GTK_WINDOW (dialog)), ==, cases[i].title);
      g_assert_true (test_says (GTK_WIDGET (dialog), cases[i].title));
      gtk_window_destroy (GTK_WINDOW (dialog));
    }
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (wb_reading_log_get_amend (page.log))); i++)
    {
      g_autoptr (WbAppAmendItem) item = g_list_model_get_item (G_LIST_MODEL (wb_reading_log_get_amend (page.log)), i);
      g_autofree char *whole = wb_amend_words_dup_whole (item, "T1");

      g_assert_nonnull (strstr (whole, "T1"));
    }
  page_close (&page);
}

/* The next day: 68 was typed for 62. The line says what it was and why; undo takes it back. */
static void
test_amend_a_reading (void)
{
  Page page;
  WbAmendDialog *dialog;
  WbAppAmendItem *item;
  GtkWidget *form;

  page_open (&page);
  unfold (&page);
  dialog = open_dialog (&page, "60 min");
  form = wb_amend_dialog_get_form (dialog);
  g_assert_true (WB_IS_AMEND_READING (form));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (test_find (wb_amend_reading_get_field (WB_AMEND_READING (form), WB_COLUMN_POOL_MM),
                                                                   GTK_TYPE_TEXT))), ==, "68.0");
  type (wb_amend_reading_get_field (WB_AMEND_READING (form), WB_COLUMN_POOL_MM), "62");
  /* Without a reason nothing is saved, and what is missing is said. */
  click (dialog, "save");
  g_assert_true (gtk_widget_get_visible (test_child (GTK_WIDGET (dialog), "problem")));
  say_why (dialog, "typed 68 for 62");
  click (dialog, "save");
  item = wait_for_reason (&page, "60 min", "typed 68 for 62");
  g_assert_cmpfloat (((const WbReading *) wb_app_amend_item_get_record (item))->values[WB_COLUMN_POOL_MM], ==, 62);
  g_assert_true (test_says (GTK_WIDGET (page.log), "typed 68 for 62. Before: Pool diameter 68.0"));
  assert_sound (&page);

  gtk_widget_activate_action (GTK_WIDGET (page.window), "win.undo", NULL);
  item = wait_for_reason (&page, "60 min", NULL);
  g_assert_cmpfloat (((const WbReading *) wb_app_amend_item_get_record (item))->values[WB_COLUMN_POOL_MM], ==, 68);
  g_assert_false (test_says (GTK_WIDGET (page.log), "typed 68 for 62"));
  assert_sound (&page);
  page_close (&page);
}

static WbHistoryDialog *
find_history (void)
{
  GtkWidget *found = test_find_window (WB_TYPE_HISTORY_DIALOG);

  g_assert_nonnull (found);
  return WB_HISTORY_DIALOG (found);
}

static gboolean
has_read_history (gpointer history)
{
  return wb_history_dialog_get_n (history) > 0;
}

static void
amend_pool (Page       *page,
            const char *value,
            const char *reason)
{
  WbAmendDialog *dialog = open_dialog (page, "60 min");

  type (wb_amend_reading_get_field (WB_AMEND_READING (wb_amend_dialog_get_form (dialog)), WB_COLUMN_POOL_MM), value);
  say_why (dialog, reason);
  click (dialog, "save");
  wait_for_reason (page, "60 min", reason);
}

/* The n-th version from the top, as assistive technology and the eye read it. */
static GtkWidget *
version (WbHistoryDialog *history,
         int              n)
{
  return GTK_WIDGET (gtk_list_box_get_row_at_index (GTK_LIST_BOX (test_child (GTK_WIDGET (history), "list")), n));
}

/* 68, then 62, then 61, which is undone: all four versions stand there, old and new, with who and why. */
static void
test_history (void)
{
  Page page;
  WbHistoryDialog *history;
  WbAmendDialog *dialog;

  page_open (&page);
  unfold (&page);
  wb_app_notebook_set_who (test_notebook (page.window), "Wren");
  amend_pool (&page, "62", "typed 68 for 62");
  wb_app_notebook_set_who (test_notebook (page.window), "Robin");
  amend_pool (&page, "61", "measured on the photo");
  gtk_widget_activate_action (GTK_WIDGET (page.window), "win.undo", NULL);
  wait_for_reason (&page, "60 min", "typed 68 for 62");

  dialog = open_dialog (&page, "60 min");
  click (dialog, "history");
  history = find_history ();
  g_assert_cmpstr (gtk_window_get_title (GTK_WINDOW (history)), ==, "History: T1, burn 1, 60 min");
  test_wait (has_read_history, history);
  g_assert_cmpuint (wb_history_dialog_get_n (history), ==, 4);
  g_assert_true (test_says (version (history, 0), "Pool diameter 68.0"));
  g_assert_true (test_says (version (history, 0), "Write a test's burn"));
  g_assert_true (test_says (version (history, 1), "by Wren"));
  g_assert_true (test_says (version (history, 1), "typed 68 for 62"));
  g_assert_true (test_says (version (history, 1), "68.0\302\240mm → 62.0\302\240mm") || test_says (version (history, 1), "68.0 mm → 62.0 mm"));
  g_assert_false (test_says (version (history, 1), "As it stands"));
  g_assert_true (test_says (version (history, 2), "by Robin"));
  g_assert_true (test_says (version (history, 2), "measured on the photo"));
  g_assert_true (test_says (version (history, 3), "As it stands"));
  g_assert_true (test_says (version (history, 3), "Taken back: "));
  gtk_window_destroy (GTK_WINDOW (history));
  gtk_window_destroy (GTK_WINDOW (dialog));
  assert_sound (&page);
  page_close (&page);
}

/* A pool that shrinks in a burn is asked about, and is no error. */
static void
test_doubt (void)
{
  Page page;
  WbAmendDialog *dialog;
  WbAmendReading *form;
  GtkWidget *question = NULL;
  g_autoptr (GListModel) windows = g_object_ref (gtk_window_get_toplevels ());

  page_open (&page);
  unfold (&page);
  dialog = open_dialog (&page, "120 min");
  form = WB_AMEND_READING (wb_amend_dialog_get_form (dialog));
  type (wb_amend_reading_get_field (form, WB_COLUMN_POOL_MM), "46");
  say_why (dialog, "the ruler says so");
  click (dialog, "save");
  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr (GtkWidget) window = g_list_model_get_item (windows, i);

      if (GTK_IS_MESSAGE_DIALOG (window))
        question = window;
    }
  g_assert_nonnull (question);
  gtk_dialog_response (GTK_DIALOG (question), GTK_RESPONSE_ACCEPT);
  wait_for_reason (&page, "120 min", "the ruler says so");
  page_close (&page);
}

/* What is left alone keeps its stored value whole, though it is shown rounded; a value that was forgotten can be added. */
static void
test_minute_and_more (void)
{
  Page page;
  WbAmendDialog *dialog;
  WbAppAmendItem *item;
  const WbReading *reading;
  WbAmendReading *form;

  page_open (&page);
  unfold (&page);
  dialog = open_dialog (&page, "120 min");
  form = WB_AMEND_READING (wb_amend_dialog_get_form (dialog));
  g_assert_null (wb_amend_reading_get_field (form, WB_COLUMN_FLAME_MM));
  type (test_find (GTK_WIDGET (form), WB_TYPE_QUANTITY_ENTRY), "2 h 5 min");
  gtk_widget_activate_action (test_find (GTK_WIDGET (form), GTK_TYPE_MENU_BUTTON), "amend.also", "s", "flame_mm");
  type (wb_amend_reading_get_field (form, WB_COLUMN_FLAME_MM), "21");
  say_why (dialog, "from the paper sheet");
  click (dialog, "save");
  item = wait_for_reason (&page, "125 min", "from the paper sheet");
  reading = wb_app_amend_item_get_record (item);
  g_assert_cmpfloat (reading->values[WB_COLUMN_POOL_MM], ==, 72.4);
  g_assert_cmpfloat (reading->values[WB_COLUMN_FLAME_MM], ==, 21);
  page_close (&page);
}

/* A reading that was not taken is taken out, stays in sight, and can be amended no more. */
static void
test_take_out (void)
{
  Page page;
  WbAmendDialog *dialog;
  WbHistoryDialog *history;
  WbAppAmendItem *item;

  page_open (&page);
  unfold (&page);
  dialog = open_dialog (&page, "120 min");
  say_why (dialog, "read at the neighbour");
  click (dialog, "take_out");
  item = wait_for_reason (&page, "120 min", "read at the neighbour");
  g_assert_true (wb_app_amend_item_get_taken_out (item));
  g_assert_true (test_says (GTK_WIDGET (page.log), "Taken out"));
  /* What can be amended no more still has its history. */
  wb_reading_log_amend (page.log, item);
  g_assert_null (find_dialog ());
  history = find_history ();
  test_wait (has_read_history, history);
  g_assert_cmpuint (wb_history_dialog_get_n (history), ==, 2);
  g_assert_true (test_says (GTK_WIDGET (history), "Taken out: it counts no longer."));
  g_assert_true (test_says (GTK_WIDGET (history), "read at the neighbour"));
  gtk_window_destroy (GTK_WINDOW (history));
  assert_sound (&page);
  page_close (&page);
}

/* The reading that ended the burn says what hangs on it. */
static void
test_end_is_told (void)
{
  Page page;
  WbAmendDialog *dialog;

  page_open (&page);
  unfold (&page);
  dialog = open_dialog (&page, "240 min");
  g_assert_true (test_says (GTK_WIDGET (dialog), "without its event T1 counts as alight"));
  gtk_window_destroy (GTK_WINDOW (dialog));
  dialog = open_dialog (&page, "60 min");
  g_assert_false (test_says (GTK_WIDGET (dialog), "counts as alight"));
  gtk_window_destroy (GTK_WINDOW (dialog));
  page_close (&page);
}

/* Wick and kind of a burn, fill of a sample. */
static void
test_facts (void)
{
  Page page;
  WbAmendDialog *dialog;
  WbAppAmendItem *item;
  WbRecordForm *form;

  page_open (&page);
  unfold (&page);
  dialog = open_dialog (&page, "Burn 1");
  form = WB_RECORD_FORM (wb_amend_dialog_get_form (dialog));
  g_assert_null (wb_record_form_get_field (form, "number"));
  type (wb_record_form_get_field (form, "trim_mm"), "5");
  say_why (dialog, "the trimmer says 5");
  click (dialog, "save");
  item = wait_for_reason (&page, "Burn 1", "the trimmer says 5");
  g_assert_cmpfloat (((const WbBurn *) wb_app_amend_item_get_record (item))->trim_mm, ==, 5);

  dialog = open_dialog (&page, "Pour of T1");
  form = WB_RECORD_FORM (wb_amend_dialog_get_form (dialog));
  type (wb_record_form_get_field (form, "fill_g"), "240.5");
  say_why (dialog, "weighed again");
  click (dialog, "save");
  item = wait_for_reason (&page, "Pour of T1", "weighed again");
  g_assert_cmpfloat (((const WbSample *) wb_app_amend_item_get_record (item))->fill_g, ==, 240.5);
  g_assert_true (test_says (GTK_WIDGET (page.log), "weighed again. Before: Wax and oil not stated"));
  assert_sound (&page);
  page_close (&page);
}

/* Folded, nothing is read; once more the same key folds it again. */
static void
test_fold (void)
{
  Page page;

  page_open (&page);
  unfold (&page);
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (wb_reading_log_get_amend (page.log))), ==, 5);
  test_settle (page.window);
  gtk_widget_activate_action (GTK_WIDGET (page.window), "page.readings", NULL);
  g_assert_null (wb_reading_log_get_amend (page.log));
  page_close (&page);
}

/* Whoever looks through the readings sees which of them came from paper. */
static void
test_late_words (void)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_reading_type);
  g_autofree char *at_once = NULL, *later = NULL;

  ((WbReading *) record)->values[WB_COLUMN_FLAME_MM] = 20;
  at_once = wb_amend_words_dup_record (record, FALSE);
  g_assert_null (strstr (at_once, "typed in later"));
  ((WbReading *) record)->late = TRUE;
  later = wb_amend_words_dup_record (record, FALSE);
  g_assert_nonnull (strstr (later, "typed in later"));
}

void
test_amend_add (void)
{
  g_test_add_func ("/views/amend/each-field-names-its-wick", test_wick_named);
  g_test_add_func ("/views/amend/the-title-says-whose-it-is", test_titles);
  g_test_add_func ("/views/amend/what-was-typed-in-later-says-so", test_late_words);
  g_test_add_func ("/views/amend/a-reading-of-yesterday-with-a-reason", test_amend_a_reading);
  g_test_add_func ("/views/amend/every-version-is-in-the-history", test_history);
  g_test_add_func ("/views/amend/what-can-hardly-be-is-asked-about", test_doubt);
  g_test_add_func ("/views/amend/the-minute-and-a-value-that-was-forgotten", test_minute_and_more);
  g_test_add_func ("/views/amend/a-reading-that-was-not-taken-stays-in-sight", test_take_out);
  g_test_add_func ("/views/amend/the-end-of-a-burn-says-what-hangs-on-it", test_end_is_told);
  g_test_add_func ("/views/amend/facts-of-a-burn-and-of-the-pour", test_facts);
  g_test_add_func ("/views/amend/folded-nothing-is-read", test_fold);
}
