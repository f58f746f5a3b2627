/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-page.h"
#include "test-bench.h"

#include "wb-burn-page.h"
#include "wb-chart-view.h"
#include "wb-clock.h"
#include "wb-file-drop.h"
#include "wb-logger-dialog.h"
#include "wb-problem-bar.h"

#include <string.h>

/* The page Burn, its first sample alight for 35 minutes, its loggers unfolded. */
typedef struct
{
  Bench          bench;
  WbLoggerStrip *strip;
  GFile         *file;
} Page;

typedef struct
{
  Page *page;
  guint n;
} Count;

static gboolean
has_so_many (gpointer user)
{
  const Count *count = user;
  WbAppAttachments *files = wb_logger_strip_get_files (count->page->strip);

  return files != NULL && wb_app_live_list_get_loaded (WB_APP_LIVE_LIST (files)) && g_list_model_get_n_items (G_LIST_MODEL (files)) == count->n;
}

static void
wait_for (Page *page,
          guint n)
{
  Count count = { page, n };

  test_wait (has_so_many, &count);
}

/* Minutes, a wall that is over any limit in minute 20, and the room; invented. */
static GFile *
write_log (const char *name)
{
  g_autofree char *path = test_path (name);
  g_autoptr (GString) text = g_string_new ("Minutes,Wall (C),Other probe\n");
  g_autoptr (GError) error = NULL;

  for (int minute = -5; minute <= 35; minute += 5)
    g_string_append_printf (text, "%d,%s,%d\n", minute, minute == 20 ? "152.5" : minute == 25 ? "open" : "48.0", 21);
  g_assert_true (g_file_set_contents (path, text->str, -1, &error));
  g_assert_no_error (error);
  return g_file_new_for_path (path);
}

static void
page_open (Page *page)
{
  page->file = write_log ("wall.csv");
  bench_open (&page->bench, 2, "pool_mm,flame_mm");
  page->strip = wb_burn_page_get_loggers (page->bench.page);
  test_bench_light_first (wb_desk_get_bench (wb_host_get_desk (WB_HOST (page->bench.window))));
  wb_clock_advance (wb_clock_get (), 35 * 60 * G_USEC_PER_SEC);
  g_assert_true (test_enabled (page->bench.window, "page.add-logger"));
  gtk_widget_activate_action (GTK_WIDGET (page->bench.window), "page.loggers", NULL);
  wait_for (page, 0);
}

static void
page_close (Page *page)
{
  bench_close (&page->bench);
  g_object_unref (page->file);
}

static gboolean
is_read (gpointer dialog)
{
  return wb_logger_dialog_get_logger (dialog) != NULL;
}

/* Read, and at rest: nothing that is chosen is still on its way. */
static const WbAppLogger *
wait_read (GtkWidget *dialog)
{
  test_wait (is_read, dialog);
  return wb_logger_dialog_get_logger (WB_LOGGER_DIALOG (dialog));
}

static gboolean
is_gone (gpointer weak)
{
  return *(gpointer *) weak == NULL;
}

static void
wait_gone (GtkWidget  *dialog,
           const char *button)
{
  gpointer weak = dialog;

  g_object_add_weak_pointer (G_OBJECT (dialog), &weak);
  g_signal_emit_by_name (test_child (dialog, button), "clicked");
  test_wait (is_gone, &weak);
}

static void
assert_says (GtkWidget  *dialog,
             const char *id,
             const char *part)
{
  GtkWidget *label = test_child (dialog, id);

  g_assert_true (gtk_widget_get_visible (label));
  if (strstr (gtk_label_get_text (GTK_LABEL (label)), part) == NULL)
    g_error ("%s: “%s” does not say “%s”", id, gtk_label_get_text (GTK_LABEL (label)), part);
}

static gboolean
row_says_over (gpointer strip)
{
  GtkWidget *row = test_find (strip, GTK_TYPE_LIST_BOX_ROW);
  GtkWidget *box = row != NULL ? gtk_list_box_row_get_child (GTK_LIST_BOX_ROW (row)) : NULL;
  const char *said = box != NULL ? gtk_label_get_text (GTK_LABEL (gtk_widget_get_last_child (box))) : "";

  return strstr (said, "over the") != NULL && strstr (said, "does not count in the score") != NULL;
}

static gboolean
is_asked (gpointer user)
{
  return wb_hazard_bar_get_n_open (wb_burn_page_get_hazard (((Page *) user)->bench.page)) == 1;
}

static gboolean
is_not_asked (gpointer user)
{
  return wb_hazard_bar_get_n_open (wb_burn_page_get_hazard (((Page *) user)->bench.page)) == 0;
}

static void
test_whole_way (void)
{
  Page page;
  GtkWidget *dialog;
  g_autoptr (WbAppAttachmentsItem) item = NULL;

  page_open (&page);
  dialog = wb_logger_strip_add_file (page.strip, NULL, page.file);
  g_assert_nonnull (dialog);
  wait_read (dialog);
  assert_says (dialog, "summary", "Vessel wall (Wall (C)): highest 152.5");
  assert_says (dialog, "summary", "at 20 min, over the");
  assert_says (dialog, "summary", "does not count in the score");
  assert_says (dialog, "cut", "1 row is cut off before the lighting (5 min).");
  assert_says (dialog, "refused", "1 row is not read:\nLine 8, Wall (C): “open”");
  g_assert_nonnull (wb_chart_view_get_chart (WB_CHART_VIEW (test_child (dialog, "chart"))));
  wait_gone (dialog, "keep");
  wait_for (&page, 1);
  test_wait (row_says_over, page.strip);
  /* 152.5 °C at the wall of a candle that is alight: asked above the bench, until somebody has seen to it. */
  test_wait (is_asked, &page);
  g_assert_nonnull (strstr (wb_hazard_bar_get_text (wb_burn_page_get_hazard (page.bench.page)), "at 20 min in its logger's file"));
  /* One entry. */
  gtk_widget_activate_action (GTK_WIDGET (page.bench.window), "win.undo", NULL);
  wait_for (&page, 0);
  test_wait (is_not_asked, &page);
  gtk_widget_activate_action (GTK_WIDGET (page.bench.window), "win.redo", NULL);
  wait_for (&page, 1);

  item = g_list_model_get_item (G_LIST_MODEL (wb_logger_strip_get_files (page.strip)), 0);
  dialog = wb_logger_strip_open (page.strip, item);
  wait_read (dialog);
  assert_says (dialog, "summary", "highest 152.5");
  g_assert_false (gtk_widget_get_visible (test_child (dialog, "choosing")));
  /* Not without a reason. */
  g_signal_emit_by_name (test_child (dialog, "take_out"), "clicked");
  assert_says (dialog, "problem", "Say why");
  gtk_editable_set_text (GTK_EDITABLE (test_child (dialog, "reason")), "of another candle");
  wait_gone (dialog, "take_out");
  wait_for (&page, 0);
  g_clear_object (&item);
  page_close (&page);
}

static void
test_choice (void)
{
  Page page;
  GtkWidget *dialog;
  const WbAppLogger *logger;
  WbLoggerEditor *editor;

  page_open (&page);
  dialog = wb_logger_strip_add_file (page.strip, NULL, page.file);
  wait_read (dialog);
  editor = wb_logger_dialog_get_editor (WB_LOGGER_DIALOG (dialog));
  /* No wall any more, but the room, started 10 minutes after the lighting. */
  wb_logger_editor_choose (editor, 0, NULL, WB_LOGGER_OTHER);
  wb_logger_editor_choose (editor, 1, "Other probe", WB_LOGGER_ROOM);
  wb_logger_editor_set_offset (editor, 10.0);
  logger = wait_read (dialog);
  g_assert_cmpuint (logger->choice->n_columns, ==, 1);
  g_assert_cmpstr (logger->choice->columns[0].name, ==, "Other probe");
  g_assert_cmpuint (logger->logger->n_refused, ==, 0);
  g_assert_cmpfloat (logger->logger->minutes[0], ==, 5.0);
  assert_says (dialog, "summary", "no limit watches that place");
  g_assert_false (gtk_widget_get_visible (test_child (dialog, "cut")));
  /* Nothing at all: said, and not to be kept. */
  wb_logger_editor_choose (editor, 1, NULL, WB_LOGGER_OTHER);
  wait_read (dialog);
  assert_says (dialog, "problem", "Choose at least one column");
  g_assert_false (gtk_widget_get_sensitive (test_child (dialog, "keep")));
  wb_logger_editor_choose (editor, 3, "Wall (C)", WB_LOGGER_BASE);
  wait_read (dialog);
  g_assert_true (gtk_widget_get_sensitive (test_child (dialog, "keep")));
  gtk_window_destroy (GTK_WINDOW (dialog));
  wait_for (&page, 0);
  page_close (&page);
}

/* Read as Windows-1252, which the dialog says; in another encoding that a person chooses the columns have other names. */
static void
test_encoding (void)
{
  static const char bytes[] = "Minutes;Wand \xb0""C\n0;21\n10;30\n20;40\n";
  Page page;
  GtkWidget *dialog;
  const WbAppLogger *logger;
  WbLoggerEditor *editor;
  g_autofree char *path = test_path ("western.csv");
  g_autoptr (GFile) file = g_file_new_for_path (path);

  page_open (&page);
  g_assert_true (g_file_set_contents (path, bytes, sizeof bytes - 1, NULL));
  dialog = wb_logger_strip_add_file (page.strip, NULL, file);
  logger = wait_read (dialog);
  g_assert_cmpstr (logger->choice->encoding, ==, "WINDOWS-1252");
  g_assert_cmpstr (logger->choice->columns[0].name, ==, "Wand °C");
  editor = wb_logger_dialog_get_editor (WB_LOGGER_DIALOG (dialog));
  g_assert_cmpstr (wb_logger_editor_get_encoding_title (editor), ==, "Western (Windows-1252)");
  wb_logger_editor_set_encoding (editor, "WINDOWS-1251");
  logger = wait_read (dialog);
  g_assert_cmpstr (logger->choice->encoding, ==, "WINDOWS-1251");
  g_assert_cmpstr (wb_logger_editor_get_encoding_title (editor), ==, "Cyrillic (Windows-1251)");
  gtk_window_destroy (GTK_WINDOW (dialog));
  page_close (&page);
}

static gboolean
has_problem (gpointer dialog)
{
  return gtk_widget_get_visible (test_child (dialog, "problem"));
}

static void
test_refused (void)
{
  Page page;
  GtkWidget *dialog;
  g_autofree char *path = test_path ("empty.csv");
  g_autoptr (GFile) empty = g_file_new_for_path (path);

  page_open (&page);
  g_assert_true (g_file_set_contents (path, "", 0, NULL));
  dialog = wb_logger_strip_add_file (page.strip, NULL, empty);
  test_wait (has_problem, dialog);
  assert_says (dialog, "problem", "empty.csv” is empty");
  g_assert_false (gtk_widget_get_sensitive (test_child (dialog, "keep")));
  gtk_window_destroy (GTK_WINDOW (dialog));
  page_close (&page);
}

static GtkWidget *
find_dialog (void)
{
  return test_find_window (WB_TYPE_LOGGER_DIALOG);
}

static gboolean
drop (Page       *page,
      GFile      *one,
      const char *other)
{
  g_autofree char *path = test_path (other);
  GValue value = G_VALUE_INIT;
  gboolean taken;

  g_assert_true (g_file_set_contents (path, "Minutes,Wall (C)\n0,21\n", -1, NULL));
  g_value_init (&value, GDK_TYPE_FILE_LIST);
  g_value_take_boxed (&value, g_slist_prepend (g_slist_prepend (NULL, g_file_new_for_path (path)), g_object_ref (one)));
  taken = wb_file_drop_take (&value, wb_burn_page_get_photos (page->bench.page), page->strip, NULL);
  g_value_unset (&value);
  return taken;
}

static gboolean
is_told (gpointer user)
{
  return *wb_problem_bar_get_heading (wb_host_get_problem_bar (WB_HOST (((Page *) user)->bench.window))) != '\0';
}

/* What is dropped and named as a table is looked over as a logger's; a second one is not taken, and told by its name. */
static void
test_drop (void)
{
  Page page;
  WbProblemBar *bar;

  page_open (&page);
  bar = wb_host_get_problem_bar (WB_HOST (page.bench.window));
  g_assert_true (drop (&page, page.file, "SECOND.TSV"));
  g_assert_nonnull (find_dialog ());
  wait_read (find_dialog ());
  assert_says (find_dialog (), "summary", "Vessel wall (Wall (C)): highest 152.5");
  g_assert_cmpstr (wb_problem_bar_get_heading (bar), ==, "Several loggers' files were dropped");
  g_assert_true (test_says (GTK_WIDGET (bar), "SECOND.TSV"));
  gtk_window_destroy (GTK_WINDOW (find_dialog ()));
  wb_problem_bar_clear (bar);
  /* What is neither is refused by its name, and the table beside it is taken. */
  g_assert_true (drop (&page, page.file, "sheet.ods"));
  g_assert_nonnull (find_dialog ());
  gtk_window_destroy (GTK_WINDOW (find_dialog ()));
  test_wait (is_told, &page);
  g_assert_cmpstr (wb_problem_bar_get_heading (bar), ==, "The photo was not added");
  g_assert_true (test_says (GTK_WIDGET (bar), "sheet.ods"));
  page_close (&page);
}

void
test_loggers_add (void)
{
  g_test_add_func ("/views/loggers/a-file-is-looked-at-kept-undone-and-taken-out", test_whole_way);
  g_test_add_func ("/views/loggers/another-choice-is-drawn-at-once", test_choice);
  g_test_add_func ("/views/loggers/the-encoding-is-said-and-can-be-chosen", test_encoding);
  g_test_add_func ("/views/loggers/what-cannot-be-read-is-not-kept", test_refused);
  g_test_add_func ("/views/loggers/a-table-that-is-dropped-is-a-logger-s", test_drop);
}
