/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <string.h>

#include "test-views.h"

#include "wb-app-draft.h"
#include "wb-materials-page.h"
#include "wb-today-page.h"

/* What Today says before the first experiment is planned. */

static const char *
label (gpointer    window,
       const char *id)
{
  return gtk_label_get_text (GTK_LABEL (test_part (window, id)));
}

static gboolean
is_empty (gpointer window)
{
  return WB_IS_TODAY_PAGE (wb_window_get_page (window)) && strcmp (label (window, "empty_title"), "The notebook is empty") == 0
         && strcmp (gtk_stack_get_visible_child_name (GTK_STACK (test_part (window, "stack"))), "empty") == 0;
}

static gboolean
tells_materials (gpointer window)
{
  return strcmp (label (window, "empty_holds"), "The notebook holds 1\302\240vessel, 1\302\240wax, 3\302\240wicks, 1\302\240fragrance.") == 0;
}

static gboolean
tells_draft (gpointer window)
{
  return gtk_widget_get_visible (test_part (window, "empty_due"))
         && test_says (test_part (window, "empty_due"), "A material is half typed and not saved") && test_says (test_part (window, "empty_due"), "Tern 2");
}

static gboolean
tells_no_draft (gpointer window)
{
  return !gtk_widget_get_visible (test_part (window, "empty_due"));
}

static gboolean
shows_materials (gpointer window)
{
  return WB_IS_MATERIALS_PAGE (wb_window_get_page (window));
}

/* A shelf is not nothing: it is told, and a plan is the next thing. What is half typed waits in a line that leads there. */
static void
test_no_experiment (void)
{
  g_autofree char *path = test_path ("no-experiment.wickbench");
  WbWindow *window = test_window_new_with (path);
  g_autoptr (GKeyFile) file = g_key_file_new ();
  WbAppDraft *draft;
  TestShelf shelf;

  gtk_widget_activate_action (GTK_WIDGET (window), "win.show", "s", "today");
  test_wait (is_empty, window);
  g_assert_false (gtk_widget_get_visible (test_part (window, "empty_holds")));
  g_assert_true (tells_no_draft (window));
  g_assert_true (gtk_widget_has_css_class (test_part (window, "empty_enter"), "suggested-action"));
  test_shelf_fill (window, "Tern", &shelf);
  test_wait (tells_materials, window);
  g_assert_cmpstr (label (window, "empty_title"), ==, "No experiment is planned yet");
  g_assert_false (gtk_widget_has_css_class (test_part (window, "empty_enter"), "suggested-action"));
  g_assert_true (gtk_widget_has_css_class (test_part (window, "empty_plan"), "suggested-action"));

  draft = wb_app_draft_of (test_notebook (window), "materials");
  g_key_file_set_string (file, WB_APP_DRAFT_MATERIAL, "title", "Tern 2");
  wb_app_draft_set (draft, WB_APP_DRAFT_MATERIAL, file);
  test_wait (tells_draft, window);
  wb_app_draft_drop (draft, WB_APP_DRAFT_MATERIAL);
  test_wait (tells_no_draft, window);
  wb_app_draft_set (draft, WB_APP_DRAFT_MATERIAL, file);
  test_wait (tells_draft, window);
  g_signal_emit_by_name (test_part (window, "empty_due"), "row-activated",
                         gtk_list_box_get_row_at_index (GTK_LIST_BOX (test_part (window, "empty_due")), 0));
  test_wait (shows_materials, window);
  test_window_destroy (window);
}

void
test_today_add (void)
{
  g_test_add_func ("/views/today/no-experiment-is-not-an-empty-notebook", test_no_experiment);
}
