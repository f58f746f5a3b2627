/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-views.h"

#include "wb-app-query.h"
#include "wb-chart-file.h"
#include "wb-material-editor.h"
#include "wb-preferences.h"
#include "wb-record-form.h"
#include "wb-save-mark.h"

#include <glib/gstdio.h>

/* What goes wrong around a window, and what a person types that cannot be: each is said, and nothing typed is lost. */

#define ARABIC "\xd9\x82\xd9\x86\xd8\xaf\xd9\x8a\xd9\x84"
#define CANDLE "\xf0\x9f\x95\xaf\xef\xb8\x8f"

static WbWindow *
open_materials (const char *path)
{
  WbWindow *window = test_window_new_with (path);

  g_assert_true (wb_window_go (window, "materials", 0));
  test_settle (window);
  return window;
}

static WbRecordForm *
get_form (GtkWidget *within)
{
  return WB_RECORD_FORM (test_find (within, WB_TYPE_RECORD_FORM));
}

static GtkEditable *
get_entry (GtkWidget  *within,
           const char *field)
{
  GtkWidget *widget = wb_record_form_get_field (get_form (within), field);

  g_assert_nonnull (widget);
  return GTK_EDITABLE (test_find (widget, GTK_TYPE_ENTRY));
}

static void
act (WbWindow   *window,
     const char *action)
{
  g_assert_true (test_enabled (window, action));
  gtk_widget_activate_action (GTK_WIDGET (window), action, NULL);
  test_settle (window);
}

static const char *
get_problem (WbWindow *window)
{
  return wb_problem_bar_get_heading (wb_host_get_problem_bar (WB_HOST (window)));
}

static void
type_vessel (WbWindow   *window,
             const char *name,
             const char *diameter)
{
  act (window, "page.new");
  gtk_editable_set_text (get_entry (GTK_WIDGET (window), "name"), name);
  gtk_editable_set_text (get_entry (GTK_WIDGET (window), "inner_diameter_mm"), diameter);
}

static gboolean
is_told (gpointer window)
{
  return *get_problem (window) != '\0';
}

static WbSaveState
get_state (GtkWidget *within)
{
  return wb_save_mark_get_state (WB_SAVE_MARK (test_find (within, WB_TYPE_SAVE_MARK)));
}

/* The material's own: its method has another. */
static WbSaveState
get_page_state (WbWindow *window)
{
  return wb_save_mark_get_state (WB_SAVE_MARK (test_child (test_find (GTK_WIDGET (wb_window_get_page (window)), WB_TYPE_MATERIAL_EDITOR), "mark")));
}

/* As the page itself says. */
static gboolean
is_saved (gpointer window)
{
  return get_page_state (window) == WB_SAVE_SAVED;
}

static void
test_moved (void)
{
  g_autofree char *path = test_path ("moved-under.wickbench");
  g_autofree char *elsewhere = test_path ("moved-away.wickbench");
  WbWindow *window = open_materials (path);
  GtkWidget *line = test_child (GTK_WIDGET (window), "status_line");

  type_vessel (window, "Tern", "76");
  g_assert_cmpint (g_rename (path, elsewhere), ==, 0);
  act (window, "page.save");
  test_wait (is_told, window);
  g_assert_cmpstr (get_problem (window), ==, "The material was not saved");
  g_assert_cmpstr (gtk_editable_get_text (get_entry (GTK_WIDGET (window), "name")), ==, "Tern");
  g_assert_cmpint (get_state (line), ==, WB_SAVE_IDLE);
  g_assert_cmpint (get_page_state (window), ==, WB_SAVE_FAILED);
  /* Put back where it was, the next save takes it in, and the window says no more that it failed. */
  g_assert_cmpint (g_rename (elsewhere, path), ==, 0);
  act (window, "page.save");
  test_wait (is_saved, window);
  g_assert_cmpstr (get_problem (window), ==, "");
  g_assert_cmpint (get_state (line), ==, WB_SAVE_SAVED);
  test_window_destroy (window);
}

static void
test_nothing_new (void)
{
  g_autofree char *path = test_path ("nothing-new.wickbench");
  WbWindow *window = open_materials (path);
  gint64 entry;

  type_vessel (window, "Tern", "76");
  act (window, "page.save");
  test_wait (is_saved, window);
  entry = wb_app_notebook_get_last_entry (test_notebook (window));
  gtk_editable_set_text (get_entry (GTK_WIDGET (window), "name"), "Terns");
  gtk_editable_set_text (get_entry (GTK_WIDGET (window), "name"), "Tern");
  act (window, "page.save");
  test_wait (is_saved, window);
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (window)), ==, entry);
  g_assert_cmpstr (get_problem (window), ==, "");
  test_window_destroy (window);
}

static void
test_names (void)
{
  static const char *const names[] = { ARABIC, CANDLE " " CANDLE, "e\xcc\x81t\xc3\xa9", "a & <b>%s</b>" };
  g_autofree char *path = test_path ("names.wickbench");
  g_autofree char *endless = g_strnfill (10000, 'x');
  WbWindow *window = open_materials (path);
  g_autoptr (WbAppMaterials) materials = NULL;
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      type_vessel (window, names[i], "76");
      act (window, "page.save");
      test_wait (is_saved, window);
    }
  materials = wb_app_query_materials_sync (test_notebook (window), &error);
  g_assert_no_error (error);
  g_assert_cmpuint (materials->vessels->len, ==, G_N_ELEMENTS (names));
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *composed = g_utf8_normalize (names[i], -1, G_NORMALIZE_NFC);

      g_assert_cmpstr (((const WbVessel *) materials->vessels->pdata[i])->name, ==, composed);
    }

  type_vessel (window, endless, "76");
  act (window, "page.save");
  g_assert_nonnull (strstr (wb_record_form_get_problem (get_form (GTK_WIDGET (window)), "name"), "200"));
  g_assert_cmpstr (gtk_editable_get_text (get_entry (GTK_WIDGET (window), "name")), ==, endless);
  test_window_destroy (window);
}

/* As another process does: another connection to the file, on its own. */
static void
write_elsewhere (const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppNotebook) other = wb_app_notebook_open_sync (path, WB_APP_OPEN_EXISTING, NULL, &error);
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  WbVessel *vessel = wb_record_new (&wb_vessel_type);

  g_assert_no_error (error);
  vessel->name = g_strdup ("Gull");
  vessel->inner_diameter_mm = 80;
  g_ptr_array_add (records, vessel);
  wb_app_notebook_save_sync (other, "Add a vessel", records, NULL, &error);
  g_assert_no_error (error);
  wb_app_notebook_close (other);
}

/* Words in a label of it. */
static gboolean
shows (GtkWidget  *widget,
       const char *text)
{
  if (GTK_IS_LABEL (widget) && strstr (gtk_label_get_text (GTK_LABEL (widget)), text) != NULL)
    return TRUE;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    if (shows (child, text))
      return TRUE;
  return FALSE;
}

static gboolean
has_form (gpointer window)
{
  GtkWidget *form = test_find (GTK_WIDGET (wb_window_get_page (window)), WB_TYPE_RECORD_FORM);

  return form != NULL && wb_record_form_get_field (WB_RECORD_FORM (form), "title") != NULL;
}

static gboolean
has_gull (gpointer window)
{
  return shows (GTK_WIDGET (wb_window_get_page (window)), "Gull");
}

static void
test_elsewhere (void)
{
  g_autofree char *path = test_path ("elsewhere-too.wickbench");
  WbWindow *window = test_window_new_with (path);

  g_assert_true (wb_window_go (window, "plan", 0));
  test_wait (has_form, window);
  gtk_editable_set_text (get_entry (GTK_WIDGET (window), "title"), "Half ty");
  write_elsewhere (path);
  test_wait (has_gull, window);
  g_assert_cmpstr (gtk_editable_get_text (get_entry (GTK_WIDGET (window), "title")), ==, "Half ty");
  test_window_destroy (window);
}

static gboolean
can_save (gpointer preferences)
{
  return gtk_widget_get_sensitive (test_child (preferences, "save"));
}

static void
save_and_wait (WbWindow  *window,
               GtkWidget *preferences)
{
  g_signal_emit_by_name (test_child (preferences, "save"), "clicked");
  test_settle (window);
}

/* What is typed while the first save is on its way is saved by the next. */
static void
test_preferences_typed_on (void)
{
  g_autofree char *path = test_path ("preferences-on.wickbench");
  WbWindow *window = test_window_new_with (path);
  g_autoptr (WbAppSettings) settings = wb_app_settings_new ();
  GtkWidget *preferences = wb_preferences_new (GTK_WINDOW (window), settings, test_notebook (window));

  gtk_window_present (GTK_WINDOW (preferences));
  gtk_editable_set_text (get_entry (preferences, "bench_places"), "7");
  g_signal_emit_by_name (test_child (preferences, "save"), "clicked");
  gtk_editable_set_text (get_entry (preferences, "title"), "Typed on");
  test_settle (window);
  test_wait (can_save, preferences);
  g_assert_cmpstr (gtk_editable_get_text (get_entry (preferences, "title")), ==, "Typed on");
  save_and_wait (window, preferences);
  g_assert_cmpstr (wb_app_notebook_get_title (test_notebook (window)), ==, "Typed on");
  g_assert_cmpint (wb_app_notebook_get_settings (test_notebook (window))->bench_places, ==, 7);
  gtk_window_destroy (GTK_WINDOW (preferences));
  test_window_destroy (window);
}

static void
test_preferences (void)
{
  static const struct { const char *field; const char *text; const char *rule; } cases[] = {
    { "bench_places", "many", "many" },
    { "bench_places", "0", "1" },
    { "bench_places", "2.5", "whole" },
  };
  g_autofree char *path = test_path ("preferences.wickbench");
  WbWindow *window = test_window_new_with (path);
  g_autoptr (WbAppSettings) settings = wb_app_settings_new ();
  GtkWidget *preferences = wb_preferences_new (GTK_WINDOW (window), settings, test_notebook (window));
  gint64 entry = wb_app_notebook_get_last_entry (test_notebook (window));

  gtk_window_present (GTK_WINDOW (preferences));
  test_settle (window);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const char *problem;

      g_test_message ("%s: %s", cases[i].field, cases[i].text);
      gtk_editable_set_text (get_entry (preferences, cases[i].field), cases[i].text);
      g_signal_emit_by_name (test_child (preferences, "save"), "clicked");
      test_settle (window);
      problem = wb_record_form_get_problem (get_form (preferences), cases[i].field);
      g_assert_nonnull (problem);
      g_test_message ("  %s", problem);
      g_assert_nonnull (strstr (problem, cases[i].rule));
      g_assert_cmpstr (gtk_editable_get_text (get_entry (preferences, cases[i].field)), ==, cases[i].text);
    }
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (window)), ==, entry);
  /* What is typed for the notebook and not saved keeps the window open, with a question. */
  gtk_window_close (GTK_WINDOW (preferences));
  test_settle (window);
  g_assert_true (gtk_widget_get_mapped (preferences));
  gtk_window_destroy (GTK_WINDOW (preferences));
  test_window_destroy (window);
}

static gboolean
says_written (gpointer window)
{
  g_assert_cmpstr (get_problem (window), ==, "");
  return shows (test_child (GTK_WIDGET (window), "status_line"), "chart.svg is written");
}

static void
test_picture (void)
{
  WbWindow *window = test_window_new ();
  g_autoptr (WbChart) chart = wb_chart_new ("Nothing", "An empty chart");
  g_autofree char *wrong = test_path ("chart.doc");
  g_autofree char *nowhere = test_path ("no/such/folder/chart.png");
  g_autofree char *right = test_path ("chart.svg");
  const char *refused[] = { wrong, nowhere };

  wb_chart_panel_set_empty_text (wb_chart_add_panel (chart, 0, 0, NULL), "Nothing");
  for (guint i = 0; i < G_N_ELEMENTS (refused); i++)
    {
      wb_chart_file_write (GTK_WIDGET (wb_window_get_page (window)), chart, 360, 240, refused[i]);
      test_wait (is_told, window);
      g_assert_cmpstr (get_problem (window), ==, "The picture was not written");
      g_assert_false (g_file_test (refused[i], G_FILE_TEST_EXISTS));
      wb_problem_bar_clear (wb_host_get_problem_bar (WB_HOST (window)));
    }
  wb_chart_file_write (GTK_WIDGET (wb_window_get_page (window)), chart, 360, 240, right);
  test_wait (says_written, window);
  g_assert_true (g_file_test (right, G_FILE_TEST_EXISTS));
  test_window_destroy (window);
}

void
test_bad_input_add (void)
{
  g_test_add_func ("/views/bad-input/a-moved-notebook-is-told-and-what-is-typed-stays", test_moved);
  g_test_add_func ("/views/bad-input/saving-what-is-stored-already-is-no-error", test_nothing_new);
  g_test_add_func ("/views/bad-input/a-material-has-any-name-of-a-lines-length", test_names);
  g_test_add_func ("/views/bad-input/what-another-program-writes-leaves-a-half-typed-plan-alone", test_elsewhere);
  g_test_add_func ("/views/bad-input/a-wrong-preference-stays-at-its-field", test_preferences);
  g_test_add_func ("/views/bad-input/a-preference-typed-during-a-save-is-saved-next", test_preferences_typed_on);
  g_test_add_func ("/views/bad-input/a-picture-is-written-or-the-reason-told", test_picture);
}
