/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-views.h"

#include "wb-paper-sheet.h"
#include "wb-paper-view.h"
#include "wb-print.h"
#include "wb-report-choice.h"
#include "wb-report-page.h"

#include <string.h>

static WbPaperView *
get_preview (WbWindow *window)
{
  return WB_PAPER_VIEW (test_find (GTK_WIDGET (wb_window_get_page (window)), WB_TYPE_PAPER_VIEW));
}

static gboolean
has_report (gpointer user)
{
  return wb_paper_view_get_paper (get_preview (user)) != NULL;
}

static gboolean
is_drawn (gpointer user)
{
  GtkWidget *sheet = test_find (GTK_WIDGET (get_preview (user)), WB_TYPE_PAPER_SHEET);

  return gtk_widget_get_width (sheet) > 0 && wb_paper_sheet_is_drawn (WB_PAPER_SHEET (sheet));
}

static WbWindow *
open_report (void)
{
  WbWindow *window = test_window_new_demo ();

  g_assert_true (wb_window_go (window, "report", test_experiment (window, WB_CRAFT_STATE_FINISHED)));
  test_wait (has_report, window);
  test_wait (is_drawn, window);
  return window;
}

static gboolean
is_on_second_page (gpointer user)
{
  return wb_paper_view_get_page (get_preview (user)) == 1;
}

static gboolean
is_on_first_page (gpointer user)
{
  return wb_paper_view_get_page (get_preview (user)) == 0;
}

static void
test_preview (void)
{
  WbWindow *window = open_report ();
  GtkWidget *sheet = test_find (GTK_WIDGET (get_preview (window)), WB_TYPE_PAPER_SHEET);
  GtkLabel *number = GTK_LABEL (test_child (GTK_WIDGET (window), "number"));
  guint n = wb_paper_get_n_pages (wb_paper_view_get_paper (get_preview (window)));
  g_autofree char *first = g_strdup_printf ("Page 1 of %u", n);
  g_autofree char *second = g_strdup_printf ("Page 2 of %u", n);
  g_autofree char *text = wb_paper_dup_text (wb_paper_view_get_paper (get_preview (window)), 0);

  g_assert_cmpuint (n, >, 3);
  gtk_test_accessible_assert_role (GTK_ACCESSIBLE (sheet), GTK_ACCESSIBLE_ROLE_IMG);
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (sheet), GTK_ACCESSIBLE_PROPERTY_LABEL, first);
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (sheet), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, text);
  g_assert_nonnull (strstr (text, "The answer"));
  /* zoomed to the width that there is, in the paper's own shape: ISO 216, 1 to the root of 2 */
  g_assert_cmpint (gtk_widget_get_width (sheet), >, gtk_widget_get_width (GTK_WIDGET (get_preview (window))) * 3 / 4);
  g_assert_cmpfloat_with_epsilon ((double) gtk_widget_get_height (sheet) / gtk_widget_get_width (sheet), G_SQRT2, 0.01);

  g_assert_cmpstr (gtk_label_get_text (number), ==, first);
  g_assert_false (test_enabled (window, "page.previous-page"));
  gtk_widget_activate_action (GTK_WIDGET (window), "page.next-page", NULL);
  test_wait (is_on_second_page, window);
  g_assert_cmpstr (gtk_label_get_text (number), ==, second);
  g_assert_true (test_enabled (window, "page.previous-page"));
  gtk_widget_activate_action (GTK_WIDGET (window), "page.previous-page", NULL);
  test_wait (is_on_first_page, window);
  test_window_destroy (window);
}

static gboolean
is_letter (gpointer user)
{
  double width, height;

  if (!has_report (user))
    return FALSE;
  wb_paper_get_size (wb_paper_view_get_paper (get_preview (user)), &width, &height);
  return width == 612;
}

static void
test_paper (void)
{
  WbWindow *window = open_report ();

  /* The notebook's is A4. */
  g_assert_false (is_letter (window));
  gtk_widget_activate_action (GTK_WIDGET (window), "page.paper", "s", "letter");
  test_wait (is_letter, window);
  test_window_destroy (window);
}

static WbReportChoice *
get_choice (WbWindow *window)
{
  return WB_REPORT_CHOICE (test_child (GTK_WIDGET (wb_window_get_page (window)), "choice"));
}

/* As a person does: what the page hears of it is the signal. */
static void
choose (WbWindow *window,
        guint     left_out,
        gboolean  anonymous)
{
  WbAppReportChoice choice;

  wb_report_choice_get (get_choice (window), &choice);
  choice.left_out = left_out;
  choice.anonymous = anonymous;
  wb_report_choice_set (get_choice (window), &choice);
  g_signal_emit_by_name (get_choice (window), "changed");
}

/* What the report says that stands there now. Caller frees. */
static char *
dup_all_text (WbWindow *window)
{
  WbPaper *paper = wb_paper_view_get_paper (get_preview (window));
  GString *text = g_string_new (NULL);

  for (guint i = 0; paper != NULL && i < wb_paper_get_n_pages (paper); i++)
    {
      g_autofree char *page = wb_paper_dup_text (paper, i);

      g_string_append_printf (text, "%s\n", page);
    }
  return g_string_free (text, FALSE);
}

static gboolean
is_short (gpointer user)
{
  g_autofree char *text = dup_all_text (user);

  return strstr (text, "Left out of this report") != NULL && strstr (text, "By which protocol") == NULL;
}

/* What is left out goes from the preview, and is left out again in the next window. */
static void
test_choice (void)
{
  WbWindow *window = open_report ();
  WbAppReportChoice choice;

  wb_report_choice_get (get_choice (window), &choice);
  g_assert_cmpuint (choice.left_out, ==, 0);
  choose (window, 1u << WB_REPORT_SECTION_METHOD, FALSE);
  test_wait (is_short, window);
  g_assert_cmpstr (wb_app_settings_get_report_choice (wb_desk_get_settings (wb_page_get_desk (wb_window_get_page (window)))), ==,
                   "without=method;photos=12");
  choose (window, 0, FALSE);
  test_window_destroy (window);
}

static gboolean
is_nameless (gpointer user)
{
  g_autofree char *text = dup_all_text (user);

  return strstr (text, "have other names here") != NULL;
}

static gboolean
may_write_key (gpointer user)
{
  return test_enabled (user, "page.write-key");
}

/* Other names in the preview; the key is there to be written only then, and has the real ones. */
static void
test_names (void)
{
  WbWindow *window = open_report ();
  g_autofree char *path = test_path ("key.pdf");
  g_autofree char *named = NULL, *nameless = NULL;
  g_autofree char *text = NULL;
  g_autofree char *bytes = NULL;
  gsize length;

  g_assert_false (may_write_key (window));
  named = wb_report_page_dup_name (WB_REPORT_PAGE (wb_window_get_page (window)));
  choose (window, 0, TRUE);
  nameless = wb_report_page_dup_name (WB_REPORT_PAGE (wb_window_get_page (window)));
  g_assert_cmpstr (nameless, ==, "Test report");
  g_assert_cmpstr (named, !=, nameless);
  test_wait (is_nameless, window);
  text = dup_all_text (window);
  g_assert_nonnull (strstr (text, "Wick A"));
  g_assert_null (strstr (text, "Brosk"));
  test_wait (may_write_key, window);
  wb_report_page_write_key (WB_REPORT_PAGE (wb_window_get_page (window)), path);
  g_assert_false (may_write_key (window));
  test_wait (may_write_key, window);
  g_assert_true (g_file_get_contents (path, &bytes, &length, NULL));
  g_assert_true (g_str_has_prefix (bytes, "%PDF-"));
  choose (window, 0, FALSE);
  test_window_destroy (window);
}

/* With the names photos go, for a label may stand on them; whoever wants them all the same ticks them again. */
static void
test_photos_go (void)
{
  WbWindow *window = open_report ();
  guint photos = 1u << WB_REPORT_SECTION_PHOTOS;
  WbAppReportChoice choice;

  wb_report_choice_keep_names_back (get_choice (window), TRUE);
  wb_report_choice_get (get_choice (window), &choice);
  g_assert_true (choice.anonymous);
  g_assert_cmpuint (choice.left_out, ==, photos);
  wb_report_choice_keep_names_back (get_choice (window), FALSE);
  wb_report_choice_get (get_choice (window), &choice);
  g_assert_cmpuint (choice.left_out, ==, 0);
  /* taken out by the person they stay out, asked for anew they stay in */
  choose (window, photos, FALSE);
  wb_report_choice_keep_names_back (get_choice (window), TRUE);
  wb_report_choice_keep_names_back (get_choice (window), FALSE);
  wb_report_choice_get (get_choice (window), &choice);
  g_assert_cmpuint (choice.left_out, ==, photos);
  choose (window, 0, TRUE);
  wb_report_choice_get (get_choice (window), &choice);
  g_assert_cmpuint (choice.left_out, ==, 0);
  choose (window, 0, FALSE);
  test_window_destroy (window);
}

static gboolean
has_problem (gpointer user)
{
  return g_strcmp0 (wb_problem_bar_get_heading (wb_host_get_problem_bar (WB_HOST (user))), "The logo was not kept") == 0;
}

/* What is no picture is refused. */
static void
test_logo (void)
{
  WbWindow *window = open_report ();
  g_autofree char *path = test_path ("logo.png");

  g_assert_true (g_file_set_contents (path, "no picture", -1, NULL));
  g_assert_true (test_enabled (window, "page.choose-logo"));
  wb_report_page_keep_logo (WB_REPORT_PAGE (wb_window_get_page (window)), path);
  test_wait (has_problem, window);
  test_window_destroy (window);
}

static gboolean
has_logo (gpointer user)
{
  return test_enabled (user, "page.remove-logo");
}

static gboolean
has_no_logo (gpointer user)
{
  return !has_logo (user);
}

/* Only a logo that is there can be taken off; one is chosen while the report is still being made, too. */
static void
test_logo_off (void)
{
  g_autofree char *path = test_path ("letterhead.png");
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 40, 20);
  WbWindow *window = test_window_new_demo ();
  GtkWidget *page;

  g_assert_cmpint (cairo_surface_write_to_png (surface, path), ==, CAIRO_STATUS_SUCCESS);
  cairo_surface_destroy (surface);
  g_assert_true (wb_window_go (window, "report", test_experiment (window, WB_CRAFT_STATE_FINISHED)));
  page = GTK_WIDGET (wb_window_get_page (window));
  g_assert_true (test_enabled (window, "page.choose-logo"));
  test_settle (window);
  g_assert_true (has_no_logo (window));
  wb_report_page_keep_logo (WB_REPORT_PAGE (page), path);
  test_wait (has_logo, window);
  gtk_widget_activate_action (page, "page.remove-logo", NULL);
  test_wait (has_no_logo, window);
  test_window_destroy (window);
}

static gboolean
may_write (gpointer user)
{
  return test_enabled (user, "page.write-pdf");
}

static void
test_write (void)
{
  WbWindow *window = open_report ();
  g_autofree char *path = test_path ("report.pdf");
  g_autofree char *nowhere = g_build_filename (path, "report.pdf", NULL);
  g_autofree char *bytes = NULL;
  gsize length;

  wb_report_page_write (WB_REPORT_PAGE (wb_window_get_page (window)), path);
  g_assert_false (may_write (window));
  test_wait (may_write, window);
  g_assert_true (g_file_get_contents (path, &bytes, &length, NULL));
  g_assert_true (g_str_has_prefix (bytes, "%PDF-"));
  g_assert_nonnull (strstr (gtk_label_get_text (GTK_LABEL (test_child (test_child (GTK_WIDGET (window), "status_line"), "words"))), path));

  /* Under a file there is no folder. */
  wb_report_page_write (WB_REPORT_PAGE (wb_window_get_page (window)), nowhere);
  test_wait (may_write, window);
  g_assert_cmpstr (wb_problem_bar_get_heading (wb_host_get_problem_bar (WB_HOST (window))), ==, "The PDF was not written");
  test_window_destroy (window);
}

/* What is asked for is written, though the window goes at once. */
static void
test_write_and_go (void)
{
  WbWindow *window = open_report ();
  g_autofree char *path = test_path ("late.pdf");

  wb_report_page_write (WB_REPORT_PAGE (wb_window_get_page (window)), path);
  test_window_destroy (window);
  g_assert_true (g_file_test (path, G_FILE_TEST_EXISTS));
}

/* By the printer's way, into a file: as many pages as the preview, with their text. */
static void
test_print (void)
{
  WbWindow *window = open_report ();
  WbPaper *paper = wb_paper_view_get_paper (get_preview (window));
  g_autoptr (GtkPrintOperation) operation = wb_print_operation_new (paper, "Report");
  g_autofree char *path = test_path ("printed.pdf");
  g_autofree char *text = NULL;
  g_autoptr (GSubprocess) reader = NULL;
  g_auto (GStrv) pages = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_true (test_enabled (window, "page.print"));
  gtk_print_operation_set_export_filename (operation, path);
  gtk_print_operation_set_show_progress (operation, FALSE);
  gtk_print_operation_set_allow_async (operation, FALSE);
  g_assert_cmpint (gtk_print_operation_run (operation, GTK_PRINT_OPERATION_ACTION_EXPORT, NULL, &error), ==, GTK_PRINT_OPERATION_RESULT_APPLY);
  g_assert_no_error (error);
  reader = g_subprocess_new (G_SUBPROCESS_FLAGS_STDOUT_PIPE, &error, "pdftotext", path, "-", NULL);
  g_assert_no_error (error);
  g_assert_true (g_subprocess_communicate_utf8 (reader, NULL, NULL, &text, NULL, &error));
  pages = g_strsplit (text, "\f", -1);
  /* a form feed behind each page */
  g_assert_cmpuint (g_strv_length (pages), ==, wb_paper_get_n_pages (paper) + 1);
  g_assert_nonnull (strstr (pages[0], "The answer"));
  test_window_destroy (window);
}

static gboolean
has_words (gpointer user)
{
  return strstr (gtk_label_get_text (GTK_LABEL (test_child (GTK_WIDGET (wb_window_get_page (user)), "empty"))), "nothing to report yet") != NULL;
}

static void
test_nothing (void)
{
  WbWindow *window = test_window_new_demo ();

  g_assert_true (wb_window_go (window, "report", test_experiment (window, WB_CRAFT_STATE_PLANNED)));
  test_wait (has_words, window);
  g_assert_false (test_enabled (window, "page.write-pdf"));
  g_assert_false (test_enabled (window, "page.print"));
  g_assert_false (test_enabled (window, "page.next-page"));
  test_window_destroy (window);
}

/* Another experiment while the first one's report is being made: the first one never comes up. */
static void
test_change_of_mind (void)
{
  WbWindow *window = test_window_new_demo ();

  g_assert_true (wb_window_go (window, "report", test_experiment (window, WB_CRAFT_STATE_FINISHED)));
  g_assert_true (wb_window_go (window, "report", test_experiment (window, WB_CRAFT_STATE_PLANNED)));
  test_wait (has_words, window);
  test_settle (window);
  g_assert_false (has_report (window));
  test_window_destroy (window);
}

void
test_report_page_add (void)
{
  g_test_add_func ("/views/report/the-report-stands-page-by-page", test_preview);
  g_test_add_func ("/views/report/the-paper-is-chosen", test_paper);
  g_test_add_func ("/views/report/what-it-holds-is-chosen-and-remembered", test_choice);
  g_test_add_func ("/views/report/names-are-others-and-the-key-tells-them", test_names);
  g_test_add_func ("/views/report/photos-go-with-the-names", test_photos_go);
  g_test_add_func ("/views/report/a-logo-that-is-no-picture-is-refused", test_logo);
  g_test_add_func ("/views/report/only-a-logo-that-is-there-is-taken-off", test_logo_off);
  g_test_add_func ("/views/report/a-pdf-is-written-or-the-reason-told", test_write);
  g_test_add_func ("/views/report/a-pdf-outlives-its-window", test_write_and_go);
  g_test_add_func ("/views/report/the-printer-gets-the-same-pages", test_print);
  g_test_add_func ("/views/report/before-the-first-burn-there-are-words", test_nothing);
  g_test_add_func ("/views/report/the-experiment-chosen-last-counts", test_change_of_mind);
}
