/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-views.h"

#include "wb-app-mapping.h"
#include "wb-import-dialog.h"
#include "wb-mapping-columns.h"
#include "wb-mapping-dialog.h"
#include "wb-mapping-editor.h"
#include "wb-mapping-preview.h"
#include "wb-mapping-values.h"
#include "wb-transfer.h"

#include <glib/gstdio.h>

/* The sheets are invented; tests/exchange/data/README.md says what is in them. */

static const char *
get_text (GtkWidget  *dialog,
          const char *label)
{
  return gtk_label_get_text (GTK_LABEL (test_child (dialog, label)));
}

static void
click (GtkWidget  *dialog,
       const char *button)
{
  GtkWidget *widget = test_child (dialog, button);

  g_assert_true (gtk_widget_get_sensitive (widget));
  g_signal_emit_by_name (widget, "clicked");
}

static gboolean
has_looked (gpointer dialog)
{
  return strstr (get_text (dialog, "summary"), "nothing is written yet") == NULL;
}

static gboolean
has_columns (gpointer dialog)
{
  return strstr (get_text (dialog, "found"), "Columns:") != NULL;
}

static gboolean
has_previewed (gpointer dialog)
{
  GtkWidget *summary = test_find (test_child (dialog, "preview"), GTK_TYPE_LABEL);

  return strstr (gtk_label_get_text (GTK_LABEL (summary)), "Reading the first rows") == NULL;
}

static const char *
get_preview (GtkWidget *dialog)
{
  return gtk_label_get_text (GTK_LABEL (test_find (test_child (dialog, "preview"), GTK_TYPE_LABEL)));
}

static gboolean
has_come_in (gpointer dialog)
{
  return strstr (get_text (dialog, "summary"), "came in") != NULL;
}

static gboolean
has_saved (gpointer dialog)
{
  return strstr (get_text (dialog, "said"), "is saved") != NULL;
}

/* By the way that a person takes: import, told that it is no burn log, on to the columns. */
static GtkWidget *
open_sheet (WbWindow   *window,
            const char *name)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "exchange", "data", name, NULL);
  GtkWidget *import, *dialog;

  wb_transfer_import_file (WB_HOST (window), path);
  import = test_find_window (WB_TYPE_IMPORT_DIALOG);
  test_wait (has_looked, import);
  g_assert_nonnull (strstr (get_text (import, "summary"), "The log could not be read"));
  g_assert_false (gtk_widget_get_sensitive (test_child (import, "import")));
  click (import, "match");
  g_assert_null (test_find_window (WB_TYPE_IMPORT_DIALOG));
  dialog = test_find_window (WB_TYPE_MAPPING_DIALOG);
  test_wait (has_columns, dialog);
  return dialog;
}

/* The control that is shown and has this name. */
static GtkWidget *
find_named (GtkWidget  *widget,
            GType       type,
            const char *name)
{
  if (!gtk_widget_get_visible (widget))
    return NULL;
  if (G_TYPE_CHECK_INSTANCE_TYPE (widget, type))
    {
      g_autofree char *wrong = gtk_test_accessible_check_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, name);

      if (wrong == NULL)
        return widget;
    }
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_named (child, type, name);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static void
fill_in (GtkWidget  *dialog,
         const char *name,
         const char *text)
{
  GtkWidget *entry = find_named (test_child (dialog, "values"), GTK_TYPE_ENTRY, name);

  if (entry == NULL)
    g_error ("no field “%s”", name);
  g_assert_true (gtk_widget_get_visible (entry));
  gtk_editable_set_text (GTK_EDITABLE (entry), text);
}

static void
on_saved_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      saved)
{
  *(gboolean *) saved = wb_app_mapping_save_finish (result, NULL);
}

typedef struct { GtkDropDown *list; const char *name; guint at; } Saved;

static gboolean
is_listed (gpointer data)
{
  Saved *saved = data;
  GListModel *names = gtk_drop_down_get_model (saved->list);

  for (saved->at = 1; saved->at < g_list_model_get_n_items (names); saved->at++)
    {
      g_autoptr (GtkStringObject) name = g_list_model_get_item (names, saved->at);

      if (g_str_equal (gtk_string_object_get_string (name), saved->name))
        return TRUE;
    }
  return FALSE;
}

/* Chooses it in the list of saved ones, and waits until it is in use. */
static void
use_saved (GtkWidget  *dialog,
           const char *name)
{
  Saved saved = { GTK_DROP_DOWN (test_child (dialog, "saved")), name, 0 };

  test_wait (is_listed, &saved);
  gtk_drop_down_set_selected (saved.list, saved.at);
  g_assert_false (has_columns (dialog));
  test_wait (has_columns, dialog);
}

/* From the file to the notebook: guesses, what is missing, preview, check, import. */
static void
test_whole_way (void)
{
  g_autofree char *notebook = test_path ("sheet.wickbench");
  WbWindow *window = test_window_new_with (notebook);
  gint64 before = wb_app_notebook_get_last_entry (test_notebook (window));
  GtkWidget *dialog = open_sheet (window, "sheet-us-hours.csv"), *import, *editor;
  GListModel *titles;

  g_assert_cmpint (gtk_spin_button_get_value_as_int (GTK_SPIN_BUTTON (test_child (dialog, "header_line"))), ==, 3);
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (test_child (dialog, "date_order"))), ==, WB_LOG_DATE_MONTH_FIRST);
  gtk_editable_set_text (GTK_EDITABLE (test_child (dialog, "zone")), "America/Chicago");
  click (dialog, "next");
  click (dialog, "next");
  /* Chosen in the list, a column is edited; passed over, it is not read. */
  wb_mapping_columns_choose (WB_MAPPING_COLUMNS (test_child (dialog, "columns")), "Soot");
  editor = test_find (test_child (dialog, "columns"), WB_TYPE_MAPPING_EDITOR);
  g_assert_cmpstr (gtk_label_get_text (GTK_LABEL (test_find (editor, GTK_TYPE_LABEL))), ==, "Soot");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (test_find (editor, GTK_TYPE_DROP_DOWN)), 0);
  /* Without a wax the preview says what is needed. */
  click (dialog, "next");
  test_wait (has_previewed, dialog);
  g_assert_nonnull (strstr (get_preview (dialog), "not told yet: “Wax” (choose"));
  g_assert_false (gtk_widget_get_sensitive (test_child (dialog, "next")));
  click (dialog, "back");
  fill_in (dialog, "Wax (needed)", "Meadow soy");
  click (dialog, "next");
  test_wait (has_previewed, dialog);
  g_assert_nonnull (strstr (get_preview (dialog), "3 lines, 11 readings of 3 samples; refused: 0"));
  g_assert_cmpuint (wb_mapping_preview_get_n_rows (WB_MAPPING_PREVIEW (test_child (dialog, "preview"))), ==, 11);
  titles = gtk_column_view_get_columns (GTK_COLUMN_VIEW (test_find (test_child (dialog, "preview"), GTK_TYPE_COLUMN_VIEW)));
  for (guint i = 0; i < g_list_model_get_n_items (titles); i++)
    {
      g_autoptr (GtkColumnViewColumn) title = g_list_model_get_item (titles, i);

      g_assert_cmpstr (gtk_column_view_column_get_title (title), !=, "Soot on the vessel");
    }
  g_assert_cmpuint (g_list_model_get_n_items (titles), >, 10);
  /* Nothing is written until the import dialog has been told to. */
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (window)), ==, before);
  click (dialog, "next");
  import = test_find_window (WB_TYPE_IMPORT_DIALOG);
  g_assert_false (gtk_widget_get_visible (test_child (import, "match")));
  test_wait (has_looked, import);
  g_assert_nonnull (strstr (get_text (import, "summary"), "would come in: 11"));
  click (import, "import");
  test_wait (has_come_in, import);
  g_assert_null (test_find_window (WB_TYPE_MAPPING_DIALOG));
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (window)), ==, before + 1);
  gtk_window_destroy (GTK_WINDOW (import));
  test_window_destroy (window);
}

/* What is refused stands with its line, column and rule, and the rest is shown. */
static void
test_refused (void)
{
  g_autofree char *notebook = test_path ("sheet-refused.wickbench");
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "exchange", "data", "sheet-refused.mapping", NULL);
  g_autoptr (WbLogMapping) mapping = wb_app_mapping_load (path, NULL);
  WbWindow *window = test_window_new_with (notebook);
  GtkWidget *dialog, *list;
  GListModel *refused;
  g_autoptr (GtkStringObject) first = NULL, last = NULL;
  gboolean saved = FALSE;

  wb_app_mapping_save_async (mapping, NULL, on_saved_cb, &saved);
  test_wait (test_is_true, &saved);
  dialog = open_sheet (window, "sheet-refused.csv");
  use_saved (dialog, "Refused");
  gtk_stack_set_visible_child_name (GTK_STACK (test_child (dialog, "stack")), "preview");
  test_wait (has_previewed, dialog);
  g_assert_nonnull (strstr (get_preview (dialog), "20 lines, 20 readings of 1 sample; refused: 18"));
  list = test_find (test_child (dialog, "preview"), GTK_TYPE_LIST_VIEW);
  refused = G_LIST_MODEL (gtk_list_view_get_model (GTK_LIST_VIEW (list)));
  /* And below them what is doubted. */
  g_assert_cmpuint (g_list_model_get_n_items (refused), ==, 19);
  last = g_list_model_get_item (refused, 18);
  g_assert_true (g_str_has_prefix (gtk_string_object_get_string (last), "Warning: line "));
  first = g_list_model_get_item (refused, 0);
  g_assert_true (g_str_has_prefix (gtk_string_object_get_string (first), "Line 2, Day: “2/30/2026”"));
  g_assert_cmpuint (wb_mapping_preview_get_n_rows (WB_MAPPING_PREVIEW (test_child (dialog, "preview"))), ==, 2);
  gtk_window_destroy (GTK_WINDOW (dialog));
  test_window_destroy (window);
}

/* The editor writes what is chosen into the column: target, unit, hour, words. */
static void
test_editor (void)
{
  g_autoptr (WbLogMapping) mapping = wb_log_mapping_new ();
  WbLogMappingColumn *column = wb_log_mapping_add_column (mapping, "Blackening", NULL);
  char *examples[] = { (char *) "sooty", (char *) "light", (char *) "3", NULL };
  WbMappingEditor *editor = g_object_new (WB_TYPE_MAPPING_EDITOR, NULL);
  GtkWidget *window = g_object_new (GTK_TYPE_WINDOW, "child", editor, NULL);
  GtkWidget *words, *drop_down, *minute;
  GtkDropDown *target = GTK_DROP_DOWN (test_find (GTK_WIDGET (editor), GTK_TYPE_DROP_DOWN));
  const WbLogTarget *soot = wb_app_mapping_find_target ("soot"), *pool = wb_app_mapping_find_target ("pool_mm");

  wb_mapping_editor_set_column (editor, column, examples);
  gtk_window_present (GTK_WINDOW (window));
  while (g_main_context_iteration (NULL, FALSE))
    ;
  for (guint i = 0; i < wb_app_mapping_n_targets (); i++)
    if (wb_app_mapping_get_target (i) == soot)
      gtk_drop_down_set_selected (target, i + 2);
  g_assert_cmpstr (column->target, ==, "soot");
  /* Two words and one number: the number needs none, and "light" is the scale's own. */
  words = test_find (GTK_WIDGET (editor), GTK_TYPE_GRID);
  drop_down = gtk_grid_get_child_at (GTK_GRID (words), 1, 0);
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (drop_down)), ==, 0);
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (gtk_grid_get_child_at (GTK_GRID (words), 1, 1))), ==, 4);
  g_assert_null (gtk_grid_get_child_at (GTK_GRID (words), 1, 2));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (drop_down), 5);
  g_assert_cmpuint (column->words->len, ==, 1);
  g_assert_cmpstr (((WbLogPair *) column->words->pdata[0])->key, ==, "sooty");
  g_assert_cmpstr (((WbLogPair *) column->words->pdata[0])->value, ==, "3");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (drop_down), 1);
  g_assert_cmpuint (column->words->len, ==, 1);
  g_assert_cmpstr (((WbLogPair *) column->words->pdata[0])->value, ==, "");

  minute = find_named (GTK_WIDGET (editor), GTK_TYPE_ENTRY, "Minutes since lighting");
  g_assert_nonnull (minute);
  gtk_editable_set_text (GTK_EDITABLE (minute), "1 h 30");
  g_assert_cmpfloat (column->minute, ==, 90);
  gtk_editable_set_text (GTK_EDITABLE (minute), "soon");
  g_assert_true (gtk_widget_has_css_class (minute, "error"));
  gtk_editable_set_text (GTK_EDITABLE (minute), "120");
  g_assert_false (gtk_widget_has_css_class (minute, "error"));

  for (guint i = 0; i < wb_app_mapping_n_targets (); i++)
    if (wb_app_mapping_get_target (i) == pool)
      gtk_drop_down_set_selected (target, i + 2);
  g_assert_cmpstr (column->target, ==, "pool_mm");
  g_assert_cmpuint (column->words->len, ==, 0);
  g_assert_cmpfloat (column->minute, ==, 120);
  gtk_drop_down_set_selected (target, 1);
  g_assert_cmpstr (column->pattern, ==, "{wick_series}-{wick_size}");
  g_assert_null (column->target);
  gtk_editable_set_text (GTK_EDITABLE (find_named (GTK_WIDGET (editor), GTK_TYPE_ENTRY, "Pattern")), "{dye}/{}");
  g_assert_cmpstr (column->pattern, ==, "{dye}/{}");
  gtk_drop_down_set_selected (target, 0);
  g_assert_null (column->pattern);
  gtk_window_destroy (GTK_WINDOW (window));
}

/* Saved by name, it stands in the next dialog's list, and chosen there it is used. */
static void
test_saved (void)
{
  g_autofree char *notebook = test_path ("sheet-saved.wickbench");
  WbWindow *window = test_window_new_with (notebook);
  GtkWidget *dialog = open_sheet (window, "sheet-comma.csv");
  Saved saved = { GTK_DROP_DOWN (test_child (dialog, "saved")), "Abende", 0 };

  g_assert_false (gtk_widget_get_sensitive (test_child (dialog, "save")));
  gtk_stack_set_visible_child_name (GTK_STACK (test_child (dialog, "stack")), "values");
  fill_in (dialog, "Wax (needed)", "Wiesenwachs");
  gtk_editable_set_text (GTK_EDITABLE (test_child (dialog, "name")), "Abende");
  click (dialog, "save");
  test_wait (has_saved, dialog);
  /* It stands in the list at once, chosen. */
  test_wait (is_listed, &saved);
  g_assert_cmpuint (gtk_drop_down_get_selected (saved.list), ==, saved.at);
  gtk_window_destroy (GTK_WINDOW (dialog));

  dialog = open_sheet (window, "sheet-comma.csv");
  use_saved (dialog, "Abende");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (test_child (dialog, "name"))), ==, "Abende");
  gtk_stack_set_visible_child_name (GTK_STACK (test_child (dialog, "stack")), "values");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (find_named (test_child (dialog, "values"), GTK_TYPE_ENTRY, "Wax (needed)"))), ==, "Wiesenwachs");
  /* Chosen, it stays when the file's shape is set right. */
  gtk_drop_down_set_selected (GTK_DROP_DOWN (test_child (dialog, "encoding")), 2);
  test_wait (has_columns, dialog);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (test_child (dialog, "name"))), ==, "Abende");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (find_named (test_child (dialog, "values"), GTK_TYPE_ENTRY, "Wax (needed)"))), ==, "Wiesenwachs");
  gtk_window_destroy (GTK_WINDOW (dialog));
  test_window_destroy (window);
}

/* Another encoding or line of the header is another sheet: it is looked into anew. */
static void
test_shape (void)
{
  g_autofree char *notebook = test_path ("sheet-shape.wickbench");
  WbWindow *window = test_window_new_with (notebook);
  GtkWidget *dialog = open_sheet (window, "sheet-us-hours.csv");

  g_assert_nonnull (strstr (get_text (dialog, "found"), "1 h pool"));
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (test_child (dialog, "header_line")), 4);
  test_wait (has_columns, dialog);
  g_assert_nonnull (strstr (get_text (dialog, "found"), "Rush-4"));
  gtk_window_destroy (GTK_WINDOW (dialog));
  test_window_destroy (window);
}

/* Dates that two orders can read, and times that two clocks can show, wait for a person's choice. */
static void
test_asked (void)
{
  g_autofree char *notebook = test_path ("sheet-asked.wickbench"), *path = test_path ("asked.csv");
  WbWindow *window = test_window_new_with (notebook);
  GtkWidget *dialog;

  g_assert_true (g_file_set_contents (path, "Date,Start,Candle,Pool 1 h\n3/2/2026,7:00,A,30\n3/4/2026,7:00,B,32\n", -1, NULL));
  dialog = wb_mapping_dialog_new (GTK_WIDGET (window), test_notebook (window), path);
  gtk_window_present (GTK_WINDOW (dialog));
  test_wait (has_columns, dialog);
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (test_child (dialog, "date_order"))), ==, GTK_INVALID_LIST_POSITION);
  g_assert_nonnull (strstr (get_text (dialog, "said"), "choose the order of dates"));
  g_assert_false (gtk_widget_get_sensitive (test_child (dialog, "next")));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (test_child (dialog, "date_order")), WB_LOG_DATE_MONTH_FIRST);
  g_assert_nonnull (strstr (get_text (dialog, "said"), "choose the clock"));
  g_assert_false (gtk_widget_get_sensitive (test_child (dialog, "next")));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (test_child (dialog, "clock")), WB_LOG_CLOCK_PM);
  g_assert_cmpstr (get_text (dialog, "said"), ==, "");
  g_assert_true (gtk_widget_get_sensitive (test_child (dialog, "next")));
  gtk_window_destroy (GTK_WINDOW (dialog));
  test_window_destroy (window);
}

/* Dates of which one is a slip, and a load of a fragrance without a name: read by most, told, and the name asked for where it is missing. */
static void
test_told (void)
{
  g_autofree char *notebook = test_path ("sheet-told.wickbench"), *path = test_path ("told.csv");
  WbWindow *window = test_window_new_with (notebook);
  static const char *const fixed[][2] = {
    { "Vessel (needed)", "Tern" }, { "Inner diameter, mm (needed)", "76" }, { "Wax (needed)", "Marsh" }, { "Wick series (needed)", "Sedge" },
    { "Wick size (needed)", "3" },
  };
  GtkWidget *dialog, *name, *preview;

  g_assert_true (g_file_set_contents (path, "Date,Start,Candle,Oil %,Pool 1 h,Notes\n3/14/2025,7:00 PM,A,6,30,fine\n3/16/2025,7:00 PM,B,6,32\n"
                                            "13/16/2025,7:00 PM,C,6,33,\n", -1, NULL));
  dialog = wb_mapping_dialog_new (GTK_WIDGET (window), test_notebook (window), path);
  gtk_window_present (GTK_WINDOW (dialog));
  test_wait (has_columns, dialog);
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (test_child (dialog, "date_order"))), ==, WB_LOG_DATE_MONTH_FIRST);
  g_assert_nonnull (strstr (get_text (dialog, "said"), "with the month first, as most of them stand. They do not fit: line 4, Date: “13/16/2025”."));
  gtk_stack_set_visible_child_name (GTK_STACK (test_child (dialog, "stack")), "values");
  for (guint i = 0; i < G_N_ELEMENTS (fixed); i++)
    fill_in (dialog, fixed[i][0], fixed[i][1]);
  gtk_stack_set_visible_child_name (GTK_STACK (test_child (dialog, "stack")), "preview");
  test_wait (has_previewed, dialog);
  preview = test_child (dialog, "preview");
  g_assert_nonnull (strstr (get_preview (dialog), "3 lines, 3 readings of 2 samples; refused: 1"));
  name = test_find (preview, GTK_TYPE_BUTTON);
  g_assert_true (gtk_widget_get_visible (name));
  g_signal_emit_by_name (name, "clicked");
  g_assert_cmpstr (gtk_stack_get_visible_child_name (GTK_STACK (test_child (dialog, "stack"))), ==, "values");
  fill_in (dialog, "Fragrance", "Hay");
  gtk_stack_set_visible_child_name (GTK_STACK (test_child (dialog, "stack")), "preview");
  test_wait (has_previewed, dialog);
  g_assert_false (gtk_widget_get_visible (name));
  gtk_window_destroy (GTK_WINDOW (dialog));
  test_window_destroy (window);
}

/* A dialog that was closed while a call is on its way is gone at once: held, it would ask the window before which it stood, which may be gone. */
static void
test_closed_underway (void)
{
  g_autofree char *notebook = test_path ("sheet-closed.wickbench");
  g_autofree char *sheet = g_test_build_filename (G_TEST_DIST, "exchange", "data", "sheet-us-hours.csv", NULL);
  WbWindow *window = test_window_new_with (notebook);
  gpointer dialogs[] = { wb_mapping_dialog_new (GTK_WIDGET (window), test_notebook (window), sheet),
                         wb_import_dialog_new (GTK_WIDGET (window), test_notebook (window), sheet),
                         wb_mapping_dialog_new (GTK_WIDGET (window), test_notebook (window), sheet),
                         wb_import_dialog_new (GTK_WIDGET (window), test_notebook (window), sheet) };

  for (guint i = 0; i < G_N_ELEMENTS (dialogs); i++)
    g_object_add_weak_pointer (G_OBJECT (dialogs[i]), &dialogs[i]);
  for (guint i = 0; i < 2; i++)
    {
      gtk_window_present (GTK_WINDOW (dialogs[i]));
      gtk_window_destroy (GTK_WINDOW (dialogs[i]));
      g_assert_null (dialogs[i]);
    }
  /* With their window. */
  test_window_destroy (window);
  for (guint i = 0; i < G_N_ELEMENTS (dialogs); i++)
    g_assert_null (dialogs[i]);
}

void
test_mapping_add (void)
{
  g_test_add_func ("/views/mapping/what-most-dates-say-is-told-and-a-missing-name-is-asked", test_told);
  g_test_add_func ("/views/mapping/closed-underway-it-is-gone", test_closed_underway);
  g_test_add_func ("/views/mapping/dates-in-two-orders-are-asked-about", test_asked);
  g_test_add_func ("/views/mapping/a-sheet-comes-in-step-by-step", test_whole_way);
  g_test_add_func ("/views/mapping/what-is-refused-is-shown", test_refused);
  g_test_add_func ("/views/mapping/a-column-is-edited", test_editor);
  g_test_add_func ("/views/mapping/saved-it-can-be-used-again", test_saved);
  g_test_add_func ("/views/mapping/another-shape-is-another-sheet", test_shape);
}
