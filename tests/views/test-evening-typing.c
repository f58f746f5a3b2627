/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "evening-paper.h"

#include <string.h>

/* What the hand meets while it types a sheet of paper: what is kept of it, where Enter goes, what is locked. */

static WbEveningGrid *
get_grid (EveningPaper *paper)
{
  return wb_evening_sheet_get_grid (paper->sheet);
}

static const char *
get_words (EveningPaper *paper)
{
  return gtk_label_get_text (GTK_LABEL (test_child (GTK_WIDGET (paper->sheet), "words")));
}

static void
assert_at (EveningPaper *paper,
           guint         row,
           guint         column)
{
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (paper->sheet));

  g_assert_nonnull (focus);
  g_assert_true (gtk_widget_is_ancestor (focus, wb_evening_grid_get_entry (get_grid (paper), row, column)));
}

static gboolean
on_beat_cb (gpointer user)
{
  *(gboolean *) user = TRUE;
  return G_SOURCE_REMOVE;
}

static void
let_pass (guint ms)
{
  gboolean over = FALSE;

  g_timeout_add (ms, on_beat_cb, &over);
  while (!over)
    g_main_context_iteration (NULL, TRUE);
}

static gboolean
stands_in_state (const char *text)
{
  g_autofree char *root = g_build_filename (g_get_user_state_dir (), "wickbench", "evenings", NULL);
  g_autoptr (GDir) notebooks = g_dir_open (root, 0, NULL);
  const char *notebook, *name;
  gboolean found = FALSE;

  while (notebooks != NULL && (notebook = g_dir_read_name (notebooks)) != NULL)
    {
      g_autofree char *folder = g_build_filename (root, notebook, NULL);
      g_autoptr (GDir) files = g_dir_open (folder, 0, NULL);

      while ((name = g_dir_read_name (files)) != NULL)
        {
          g_autofree char *file = g_build_filename (folder, name, NULL), *kept = NULL;

          found = found || (g_file_get_contents (file, &kept, NULL, NULL) && strstr (kept, text) != NULL);
        }
    }
  return found;
}

/* A key every tenth of a second for two seconds: a crash then takes no more than the last of them. */
static void
test_no_pause (void)
{
  EveningPaper paper;

  evening_paper_set_morning ();
  evening_paper_open (&paper);
  wb_evening_grid_focus (get_grid (&paper), 0, 1);
  for (guint i = 0; i < 20; i++)
    {
      g_autofree char *place = g_strdup_printf ("Shelf %u", i);

      evening_paper_type (&paper, 0, 1, i % 2 == 0 ? "Shelf without pause" : place);
      let_pass (100);
    }
  g_assert_true (stands_in_state ("Shelf "));
  wb_app_evening_begin_anew (wb_evening_sheet_get_evening (paper.sheet));
  g_assert_false (stands_in_state ("Shelf "));
  evening_paper_close (&paper);
}

static void
test_enter (void)
{
  EveningPaper paper;
  guint last;

  evening_paper_set_morning ();
  evening_paper_open (&paper);
  for (last = 0; wb_app_evening_get_column (wb_evening_sheet_get_evening (paper.sheet), last)->kind != WB_APP_EVENING_BURN; last++)
    ;
  /* No time for all: each sample's is asked, its kind is not. */
  wb_evening_grid_focus (get_grid (&paper), WB_APP_EVENING_ALL, 0);
  g_assert_true (evening_paper_press (&paper, GDK_KEY_Return));
  assert_at (&paper, 0, 0);
  for (guint i = 1; i < last; i++)
    {
      g_assert_true (evening_paper_press (&paper, GDK_KEY_Return));
      assert_at (&paper, 0, i);
    }
  g_assert_true (evening_paper_press (&paper, GDK_KEY_Return));
  assert_at (&paper, 1, 0);
  /* With one: neither. */
  wb_evening_grid_focus (get_grid (&paper), WB_APP_EVENING_ALL, 0);
  evening_paper_type (&paper, WB_APP_EVENING_ALL, 0, "19:30");
  g_assert_true (evening_paper_press (&paper, GDK_KEY_Return));
  assert_at (&paper, 0, 1);
  /* As Ctrl+E does: both. */
  gtk_widget_activate_action (GTK_WIDGET (paper.sheet), "sheet.every", NULL);
  g_assert_true (gtk_check_button_get_active (GTK_CHECK_BUTTON (test_child (GTK_WIDGET (paper.sheet), "every"))));
  wb_evening_grid_focus (get_grid (&paper), 0, last - 1);
  g_assert_true (evening_paper_press (&paper, GDK_KEY_Return));
  assert_at (&paper, 0, last);
  g_assert_true (evening_paper_press (&paper, GDK_KEY_Return));
  assert_at (&paper, 1, 0);
  wb_app_evening_begin_anew (wb_evening_sheet_get_evening (paper.sheet));
  evening_paper_close (&paper);
}

static gboolean
is_locked (gpointer user)
{
  EveningPaper *paper = user;

  return !gtk_editable_get_editable (GTK_EDITABLE (wb_evening_grid_get_entry (get_grid (paper), 0, 1)));
}

static gboolean
may_be_saved (gpointer sheet)
{
  return g_str_has_prefix (gtk_button_get_label (GTK_BUTTON (test_child (sheet, "save"))), "Save 1 burn");
}

/* What the record has: a key is answered with why it does nothing, and what to do instead. */
static void
test_locked (void)
{
  EveningPaper paper;
  WbAppEvening *evening;
  guint last;

  evening_paper_set_morning ();
  evening_paper_open (&paper);
  evening = wb_evening_sheet_get_evening (paper.sheet);
  wb_app_evening_set_head (evening, WB_APP_EVENING_OPENED, "19:00");
  wb_app_evening_set_text (evening, 0, 0, "19:30");
  wb_app_evening_set_text (evening, 0, 1, "A1");
  last = wb_app_evening_get_n_moments (evening) - 2;
  wb_app_evening_set_text (evening, 0, wb_app_evening_get_moment (evening, last)->first, "23:30");
  test_wait (may_be_saved, paper.sheet);
  gtk_widget_activate_action (GTK_WIDGET (paper.sheet), "sheet.save", NULL);
  test_wait (evening_paper_is_closed, NULL);
  test_settle (paper.window);

  evening_paper_open_sheet (&paper);
  wb_app_evening_set_head (wb_evening_sheet_get_evening (paper.sheet), WB_APP_EVENING_OPENED, "19:00");
  test_wait (is_locked, &paper);
  wb_evening_grid_focus (get_grid (&paper), 0, 1);
  g_assert_nonnull (strstr (get_words (&paper), "the record has A1"));
  g_assert_nonnull (strstr (get_words (&paper), "Amend"));
  g_assert_null (strstr (get_words (&paper), "Nothing was typed"));
  g_assert_true (evening_paper_press (&paper, GDK_KEY_b));
  g_assert_true (g_str_has_prefix (get_words (&paper), "Nothing was typed"));
  /* One that is not locked takes it. */
  wb_evening_grid_focus (get_grid (&paper), 1, 1);
  g_assert_false (evening_paper_press (&paper, GDK_KEY_b));
  evening_paper_close (&paper);
}

void
test_evening_typing_add (void)
{
  g_test_add_func ("/views/evening/what-is-typed-without-a-pause-is-kept", test_no_pause);
  g_test_add_func ("/views/evening/enter-goes-to-the-times-that-are-not-given", test_enter);
  g_test_add_func ("/views/evening/a-locked-cell-says-why-and-how-to-amend", test_locked);
}
