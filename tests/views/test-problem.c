/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-views.h"

#include "wb-app-error.h"
#include "wb-problem.h"

static void
test_every_code (void)
{
  /* Each error of a use case has words of its own, and its message is in them. */
  for (int code = WB_APP_ERROR_NOT_A_NOTEBOOK; code <= WB_APP_ERROR_FAILED; code++)
    {
      g_autoptr (GError) error = g_error_new_literal (WB_APP_ERROR, code, "the message itself");
      g_autofree char *heading = NULL;
      g_autofree char *detail = NULL;

      wb_problem_dup_words (NULL, error, &heading, &detail);
      g_test_message ("%d: %s: %s", code, heading, detail);
      g_assert_cmpstr (heading, !=, "");
      g_assert_nonnull (strstr (detail, "the message itself."));
    }
}

static void
test_clause (void)
{
  g_autoptr (GError) error = g_error_new_literal (WB_APP_ERROR, WB_APP_ERROR_FULL, "disk full!");
  g_autofree char *heading = NULL;
  g_autofree char *detail = NULL;

  wb_problem_dup_words ("The reading was not saved", error, &heading, &detail);
  g_assert_cmpstr (heading, ==, "The reading was not saved");
  g_assert_true (g_str_has_prefix (detail, "There is no space left on the disk. disk full!"));
}

static void
test_bar (void)
{
  WbWindow *window = test_window_new ();
  WbProblemBar *bar = wb_host_get_problem_bar (WB_HOST (window));
  g_autoptr (GError) cancelled = g_error_new_literal (G_IO_ERROR, G_IO_ERROR_CANCELLED, "cancelled");
  g_autoptr (GError) full = g_error_new_literal (G_IO_ERROR, G_IO_ERROR_NO_SPACE, "no space");

  wb_problem_show (GTK_WIDGET (wb_window_get_page (window)), NULL, cancelled);
  g_assert_false (gtk_widget_get_visible (GTK_WIDGET (bar)));
  wb_problem_show (GTK_WIDGET (wb_window_get_page (window)), "It was not written", full);
  g_assert_true (gtk_widget_get_visible (GTK_WIDGET (bar)));
  g_assert_cmpstr (wb_problem_bar_get_heading (bar), ==, "It was not written");
  gtk_test_accessible_assert_role (bar, GTK_ACCESSIBLE_ROLE_ALERT);
  wb_problem_bar_clear (bar);
  g_assert_false (gtk_widget_get_visible (GTK_WIDGET (bar)));
  test_window_destroy (window);
}

void
test_problem_add (void)
{
  g_test_add_func ("/views/problem/every-error-of-a-use-case-has-words", test_every_code);
  g_test_add_func ("/views/problem/what-failed-comes-first", test_clause);
  g_test_add_func ("/views/problem/it-stands-in-the-windows-bar", test_bar);
}
