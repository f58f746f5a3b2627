/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-views.h"

#include "wb-app-label-sheets.h"
#include "wb-labels-dialog.h"
#include "wb-paper-dialog.h"
#include "wb-paper-view.h"
#include "wb-quantity-entry.h"
#include "wb-sheet-form.h"
#include "wb-sheet-picker.h"

#include <string.h>

/* The dialog of the labels: sheets, where they begin, digits, and what it shows before it prints. */

static gboolean
may_print (gpointer user)
{
  return test_enabled (user, "page.print");
}

static GtkWidget *
open_dialog (WbWindow *window)
{
  gtk_widget_activate_action (GTK_WIDGET (window), "page.labels", NULL);
  g_assert_nonnull (test_find_window (WB_TYPE_LABELS_DIALOG));
  return test_find_window (WB_TYPE_LABELS_DIALOG);
}

static WbWindow *
open_pour (void)
{
  WbWindow *window = test_window_new_demo ();

  g_assert_true (wb_window_go (window, "pour", test_experiment (window, WB_CRAFT_STATE_CURING)));
  test_wait (may_print, window);
  return window;
}

static void
choose (GtkWidget  *dialog,
        const char *list,
        guint       position)
{
  gtk_drop_down_set_selected (GTK_DROP_DOWN (test_child (dialog, list)), position);
}

static guint
count_sheets (GtkWidget *dialog)
{
  return g_list_model_get_n_items (gtk_drop_down_get_model (GTK_DROP_DOWN (test_child (dialog, "preset"))));
}

static void
type (GtkWidget           *dialog,
      WbReportLabelMeasure measure,
      const char          *text)
{
  GtkWidget *field = wb_sheet_form_get_field (WB_SHEET_FORM (test_child (dialog, "form")), measure);

  gtk_editable_set_text (GTK_EDITABLE (test_find (field, GTK_TYPE_TEXT)), text);
}

static const char *
get_words (GtkWidget           *dialog,
           WbReportLabelMeasure measure)
{
  return wb_quantity_entry_get_problem (WB_QUANTITY_ENTRY (wb_sheet_form_get_field (WB_SHEET_FORM (test_child (dialog, "form")), measure)));
}

static void
press (GtkWidget  *dialog,
       const char *button)
{
  g_assert_true (gtk_widget_get_sensitive (test_child (dialog, button)));
  g_signal_emit_by_name (test_child (dialog, button), "clicked");
}

static gboolean
has_preview (gpointer dialog)
{
  return wb_labels_dialog_is_set (dialog) && wb_paper_view_get_paper (WB_PAPER_VIEW (test_child (dialog, "preview"))) != NULL
         && gtk_widget_get_sensitive (test_child (dialog, "show"));
}

static gboolean
has_no_preview (gpointer dialog)
{
  return wb_labels_dialog_is_set (dialog) && wb_paper_view_get_paper (WB_PAPER_VIEW (test_child (dialog, "preview"))) == NULL
         && !gtk_widget_get_sensitive (test_child (dialog, "show"));
}

static gboolean
has_paper (gpointer user)
{
  return test_find_window (WB_TYPE_PAPER_DIALOG) != NULL;
}

/* The button lays the whole out in a thread, and then shows it. */
static GtkWidget *
press_for_paper (GtkWidget  *dialog,
                 const char *button)
{
  g_assert_false (has_paper (NULL));
  press (dialog, button);
  g_assert_false (has_paper (NULL));
  test_wait (has_paper, NULL);
  return test_find_window (WB_TYPE_PAPER_DIALOG);
}

static char *
dup_preview (GtkWidget *dialog)
{
  return wb_paper_dup_text (wb_paper_view_get_paper (WB_PAPER_VIEW (test_child (dialog, "preview"))), 0);
}

/* What is typed is checked at once; kept under its name, it is there again next time, with the shift of the printer. */
static void
test_own_sheet_is_kept (void)
{
  WbWindow *window = open_pour ();
  GtkWidget *dialog = open_dialog (window);
  guint n = count_sheets (dialog);

  test_wait (has_preview, dialog);
  choose (dialog, "preset", n - 1);
  g_assert_true (gtk_widget_get_visible (test_child (dialog, "own")));
  type (dialog, WB_REPORT_LABEL_WIDTH, "80");
  g_assert_nonnull (get_words (dialog, WB_REPORT_LABEL_PITCH_X));
  g_assert_null (get_words (dialog, WB_REPORT_LABEL_WIDTH));
  test_wait (has_no_preview, dialog);
  type (dialog, WB_REPORT_LABEL_WIDTH, "2 1/2\"");
  type (dialog, WB_REPORT_LABEL_ROWS, "7");
  g_assert_null (get_words (dialog, WB_REPORT_LABEL_PITCH_X));
  test_wait (has_preview, dialog);
  g_assert_false (gtk_widget_get_sensitive (test_child (dialog, "keep")));
  gtk_editable_set_text (GTK_EDITABLE (test_child (dialog, "name")), " Shelf labels ");
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (test_child (dialog, "right")), 1.5);
  press (dialog, "keep");
  g_assert_cmpuint (count_sheets (dialog), ==, n + 1);
  gtk_window_destroy (GTK_WINDOW (dialog));

  dialog = open_dialog (window);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (test_child (dialog, "name"))), ==, "Shelf labels");
  g_assert_cmpfloat (gtk_spin_button_get_value (GTK_SPIN_BUTTON (test_child (dialog, "right"))), ==, 1.5);
  {
    WbReportLabelSheet sheet;

    g_assert_true (wb_sheet_form_get_sheet (WB_SHEET_FORM (test_child (dialog, "form")), &sheet));
    g_assert_cmpfloat_with_epsilon (sheet.width, 63.5, 1e-9);
    g_assert_cmpuint (sheet.rows, ==, 7);
  }
  press (dialog, "forget");
  g_assert_cmpuint (count_sheets (dialog), ==, n);
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (test_child (dialog, "right")), 0);
  gtk_window_destroy (GTK_WINDOW (dialog));
  wb_app_settings_set_label_sheets (wb_desk_get_settings (wb_host_get_desk (WB_HOST (window))), "");
  test_window_destroy (window);
}

/* A label that is too small: the words say which size would do, nothing is printed, and what was typed stays. */
static void
test_too_small_is_told (void)
{
  WbWindow *window = open_pour ();
  GtkWidget *dialog = open_dialog (window);

  choose (dialog, "preset", count_sheets (dialog) - 1);
  type (dialog, WB_REPORT_LABEL_WIDTH, "20");
  type (dialog, WB_REPORT_LABEL_HEIGHT, "10");
  test_wait (has_no_preview, dialog);
  g_assert_nonnull (strstr (gtk_label_get_text (GTK_LABEL (test_child (dialog, "problem"))), "It would do at"));
  type (dialog, WB_REPORT_LABEL_WIDTH, "70");
  type (dialog, WB_REPORT_LABEL_HEIGHT, "37");
  test_wait (has_preview, dialog);
  g_assert_false (gtk_widget_get_visible (test_child (dialog, "problem")));
  gtk_window_destroy (GTK_WINDOW (dialog));
  test_window_destroy (window);
}

/* The drawing and the number go together; the paper begins there. */
static void
test_begins_where_it_was_picked (void)
{
  WbWindow *window = open_pour ();
  GtkWidget *dialog = open_dialog (window);
  WbSheetPicker *picker = WB_SHEET_PICKER (test_child (dialog, "picker"));
  GtkSpinButton *first = GTK_SPIN_BUTTON (test_child (dialog, "first"));
  guint found;

  test_wait (has_preview, dialog);
  found = wb_sheet_picker_find (picker, gtk_widget_get_width (GTK_WIDGET (picker)) / 2.0,
                                gtk_widget_get_height (GTK_WIDGET (picker)) / 2.0 + 5);
  g_assert_cmpuint (found, ==, 13); /* the middle one of the fifth of eight rows of three */
  g_assert_cmpuint (wb_sheet_picker_find (picker, -1, -1), ==, 24);
  gtk_spin_button_set_value (first, 24);
  g_assert_cmpuint (wb_sheet_picker_get_first (picker), ==, 23);
  test_wait (has_preview, dialog);
  g_assert_cmpuint (wb_paper_get_n_pages (wb_paper_view_get_paper (WB_PAPER_VIEW (test_child (dialog, "preview")))), >=, 1);
  choose (dialog, "preset", WB_REPORT_LABELS_ROLL_62);
  g_assert_false (gtk_widget_get_visible (test_child (dialog, "first_row")));
  g_assert_cmpfloat (gtk_spin_button_get_value (first), ==, 1);
  gtk_window_destroy (GTK_WINDOW (dialog));
  test_window_destroy (window);
}

static gboolean
is_written (gpointer path)
{
  return g_file_test (path, G_FILE_TEST_EXISTS);
}

static gboolean
has_begun (gpointer window)
{
  g_autoptr (WbAppLabelSheets) sheets = wb_app_label_sheets_parse (wb_app_settings_get_label_sheets (wb_desk_get_settings (wb_host_get_desk (window))));

  return wb_app_label_sheets_get_next (sheets, "a4-24") == 13;
}

/* What was printed, here into a PDF, is used: the next print on such a sheet begins behind it, unless the person says another place. */
static void
test_goes_on_where_it_ended (void)
{
  WbWindow *window = open_pour ();
  GtkWidget *dialog = open_dialog (window), *paper;
  g_autofree char *path = test_path ("labels.pdf");

  test_wait (has_preview, dialog);
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (test_child (dialog, "first")), 8);
  test_wait (has_preview, dialog);
  paper = press_for_paper (dialog, "show");
  /* looked at alone, none is used */
  dialog = open_dialog (window);
  g_assert_cmpfloat (gtk_spin_button_get_value (GTK_SPIN_BUTTON (test_child (dialog, "first"))), ==, 1);
  gtk_window_destroy (GTK_WINDOW (dialog));
  wb_paper_dialog_write (WB_PAPER_DIALOG (paper), path);
  test_wait (is_written, path);
  test_wait (has_begun, window); /* six from the eighth on */
  gtk_window_destroy (GTK_WINDOW (paper));

  dialog = open_dialog (window);
  g_assert_cmpfloat (gtk_spin_button_get_value (GTK_SPIN_BUTTON (test_child (dialog, "first"))), ==, 14);
  g_assert_nonnull (strstr (gtk_label_get_text (GTK_LABEL (test_child (dialog, "hint"))), "used its first 13 labels"));
  g_assert_cmpuint (wb_sheet_picker_get_first (WB_SHEET_PICKER (test_child (dialog, "picker"))), ==, 13);
  /* another sheet was not begun, and coming back keeps the place */
  choose (dialog, "preset", WB_REPORT_LABELS_LETTER_10);
  g_assert_cmpfloat (gtk_spin_button_get_value (GTK_SPIN_BUTTON (test_child (dialog, "first"))), ==, 1);
  choose (dialog, "preset", WB_REPORT_LABELS_A4_24);
  g_assert_cmpfloat (gtk_spin_button_get_value (GTK_SPIN_BUTTON (test_child (dialog, "first"))), ==, 14);
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (test_child (dialog, "first")), 1);
  g_assert_cmpuint (wb_sheet_picker_get_first (WB_SHEET_PICKER (test_child (dialog, "picker"))), ==, 0);
  gtk_window_destroy (GTK_WINDOW (dialog));
  wb_app_settings_set_label_sheets (wb_desk_get_settings (wb_host_get_desk (WB_HOST (window))), "");
  test_window_destroy (window);
}

/* At the size it opens in, the dialog's left side is full: the sheet, large enough to hit a label, takes what the words leave. */
static void
test_no_dead_space (void)
{
  WbWindow *window = open_pour ();
  GtkWidget *dialog = open_dialog (window), *picker = test_child (dialog, "picker"), *show = test_child (dialog, "show");
  graphene_rect_t bounds, end;

  test_wait (has_preview, dialog);
  g_assert_true (gtk_widget_compute_bounds (picker, dialog, &bounds));
  g_assert_true (gtk_widget_compute_bounds (show, dialog, &end));
  g_assert_cmpfloat (end.origin.y - (bounds.origin.y + bounds.size.height), <, 200);
  g_assert_cmpint (gtk_widget_get_width (dialog), <=, 1000);
  g_assert_cmpint (gtk_widget_get_height (dialog), <=, 680);
  gtk_window_destroy (GTK_WINDOW (dialog));
  test_window_destroy (window);
}

static gboolean
has_digits (gpointer dialog)
{
  return !gtk_widget_get_visible (test_child (dialog, "draw")) && has_preview (dialog);
}

/* Blind ones need their digits: drawn at the press of a button as one entry, which undo takes back. */
static void
test_digits_are_drawn (void)
{
  WbWindow *window = open_pour ();
  GtkWidget *dialog = open_dialog (window);
  g_autofree char *open = NULL, *blind = NULL, *code = NULL;

  test_wait (has_preview, dialog);
  open = dup_preview (dialog);
  code = g_strndup (open, strcspn (open, "\n"));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (test_child (dialog, "blind")), TRUE);
  test_wait (has_no_preview, dialog);
  g_assert_nonnull (strstr (gtk_label_get_text (GTK_LABEL (test_child (dialog, "problem"))), "draw the blind codes first"));
  press (dialog, "draw");
  test_wait (has_digits, dialog);
  blind = dup_preview (dialog);
  g_assert_null (strstr (blind, code));
  g_assert_true (g_ascii_isdigit (blind[0]) && g_ascii_isdigit (blind[1]) && g_ascii_isdigit (blind[2]) && blind[3] == '\n');
  g_assert_nonnull (strstr (blind, "TEST SAMPLE, NOT FOR SALE OR GIFT"));
  test_settle (window);
  g_assert_true (g_str_has_prefix (wb_app_notebook_get_undo_label (test_notebook (window)), "Blind codes for "));

  choose (dialog, "kind", 2);
  test_wait (has_preview, dialog);
  g_assert_cmpstr (gtk_window_get_title (GTK_WINDOW (press_for_paper (dialog, "show"))), ==, "Bench cards");
  gtk_window_destroy (GTK_WINDOW (test_find_window (WB_TYPE_PAPER_DIALOG)));
  gtk_widget_activate_action (GTK_WIDGET (window), "win.undo", NULL);
  test_settle (window);
  test_window_destroy (window);
}

static void
test_alignment (void)
{
  WbWindow *window = open_pour ();
  GtkWidget *dialog = open_dialog (window), *paper;

  test_wait (has_preview, dialog);
  paper = press_for_paper (dialog, "align");
  g_assert_cmpstr (gtk_window_get_title (GTK_WINDOW (paper)), ==, "Alignment print");
  gtk_window_destroy (GTK_WINDOW (paper));
  gtk_window_destroy (GTK_WINDOW (dialog));
  test_window_destroy (window);
}

void
test_labels_dialog_add (void)
{
  g_test_add_func ("/views/labels-dialog/an-own-sheet-is-kept", test_own_sheet_is_kept);
  g_test_add_func ("/views/labels-dialog/what-is-too-small-is-told", test_too_small_is_told);
  g_test_add_func ("/views/labels-dialog/it-begins-where-it-was-picked", test_begins_where_it_was_picked);
  g_test_add_func ("/views/labels-dialog/it-goes-on-where-the-last-print-ended", test_goes_on_where_it_ended);
  g_test_add_func ("/views/labels-dialog/it-has-no-large-empty-part", test_no_dead_space);
  g_test_add_func ("/views/labels-dialog/digits-are-drawn", test_digits_are_drawn);
  g_test_add_func ("/views/labels-dialog/an-alignment-print", test_alignment);
}
