/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-views.h"

#include "bench-page.h"
#include "wb-app-experiment.h"
#include "wb-lot-dialog.h"
#include "wb-material-editor.h"
#include "wb-plan-page.h"
#include "wb-uses-dialog.h"

#include <string.h>

static gboolean
asks (gpointer says)
{
  GtkWidget *dialog = test_find_window (GTK_TYPE_MESSAGE_DIALOG);

  return dialog != NULL && test_says (dialog, says);
}

static void
answer (int response)
{
  gtk_dialog_response (GTK_DIALOG (test_find_window (GTK_TYPE_MESSAGE_DIALOG)), response);
}

static gboolean
lists_uses (gpointer user)
{
  return test_find_window (WB_TYPE_USES_DIALOG) != NULL;
}

static gboolean
shows_a_lot (gpointer user)
{
  return test_find_window (WB_TYPE_LOT_DIALOG) != NULL;
}

static gboolean
can_delete (gpointer window)
{
  return test_enabled (window, "page.delete");
}

static void
show_kind (WbWindow   *window,
           const char *kind)
{
  gtk_widget_activate_action (GTK_WIDGET (window), "page.kind", "s", kind);
  test_wait (can_delete, window);
}

static GtkListBoxRow *
find_line (const char *begins)
{
  GtkListBox *list = GTK_LIST_BOX (test_child (test_find_window (WB_TYPE_USES_DIALOG), "list"));
  GtkListBoxRow *row;

  for (int i = 0; (row = gtk_list_box_get_row_at_index (list, i)) != NULL; i++)
    if (g_str_has_prefix (gtk_label_get_text (GTK_LABEL (test_find (GTK_WIDGET (row), GTK_TYPE_LABEL))), begins))
      return row;
  return NULL;
}

static guint
count_lines (void)
{
  GtkListBox *list = GTK_LIST_BOX (test_child (test_find_window (WB_TYPE_USES_DIALOG), "list"));
  guint n = 0;

  while (gtk_list_box_get_row_at_index (list, (int) n) != NULL)
    n++;
  return n;
}

static void
list_uses (WbWindow *window)
{
  gtk_widget_activate_action (GTK_WIDGET (window), "page.delete", NULL);
  test_wait (lists_uses, NULL);
}

static gboolean
is_on_plan (gpointer window)
{
  return WB_IS_PLAN_PAGE (wb_window_get_page (window));
}

/* Of the demo's wax: its last experiment, not only its first, and its lot. */
static void
test_lines_lead (void)
{
  WbWindow *window = test_window_new_demo ();
  g_autoptr (GPtrArray) experiments = NULL;
  WbAppExperiment *last = NULL;
  guint n;

  g_assert_true (wb_window_go (window, "materials", 0));
  test_settle (window);
  experiments = wb_app_query_experiments_sync (test_notebook (window), NULL);
  g_assert_cmpuint (experiments->len, >, 1);
  show_kind (window, "wax");
  list_uses (window);
  test_check_names (test_find_window (WB_TYPE_USES_DIALOG), "uses");
  n = count_lines ();
  g_assert_cmpuint (n, >, 2);
  for (guint i = 0; i < experiments->len; i++)
    if (find_line (wb_app_experiment_get_code (experiments->pdata[i])) != NULL)
      last = experiments->pdata[i];
  gtk_widget_activate (GTK_WIDGET (find_line (wb_app_experiment_get_code (last))));
  test_wait (is_on_plan, window);
  g_assert_cmpint (wb_page_get_experiment (wb_window_get_page (window)), ==, wb_app_experiment_get_id (last));
  g_assert_false (lists_uses (NULL));

  g_assert_true (wb_window_go (window, "materials", 0));
  test_wait (can_delete, window);
  list_uses (window);
  gtk_widget_activate (GTK_WIDGET (find_line ("Its lot ")));
  test_wait (shows_a_lot, NULL);
  gtk_window_destroy (GTK_WINDOW (test_find_window (WB_TYPE_LOT_DIALOG)));
  test_window_destroy (window);
}

static gint64
save_one (WbWindow *window,
          gpointer  record)
{
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GArray) ids = NULL;
  g_autoptr (GError) error = NULL;

  g_ptr_array_add (records, record);
  wb_app_notebook_save_sync (test_notebook (window), "Save one", records, &ids, &error);
  g_assert_no_error (error);
  return g_array_index (ids, gint64, 0);
}

static gboolean
shows_evening (gpointer window)
{
  GtkWidget *title = test_child (GTK_WIDGET (wb_window_get_page (window)), "title");

  return title != NULL && g_str_equal (gtk_label_get_text (GTK_LABEL (title)), "Evening");
}

/* A line of a blend opens that blend. */
static void
test_blend (void)
{
  g_autofree char *path = test_path ("uses-blend.wickbench");
  WbWindow *window = test_window_new_with (path);
  WbFragrance *oil = wb_record_new (&wb_fragrance_type), *blend = wb_record_new (&wb_fragrance_type);
  WbFragrancePart *part = wb_record_new (&wb_fragrance_part_type);

  oil->name = g_strdup ("Harbour mist");
  part->part = save_one (window, oil);
  blend->name = g_strdup ("Evening");
  blend->blend = TRUE;
  part->fragrance = save_one (window, blend);
  part->share_pct = 100;
  g_assert_true (wb_window_go (window, "materials", 0));
  test_settle (window);
  gtk_widget_activate_action (GTK_WIDGET (window), "page.kind", "s", "fragrance");
  gtk_widget_activate_action (GTK_WIDGET (window), "page.open", "(sx)", "fragrance", part->part);
  save_one (window, part);
  test_wait (can_delete, window);
  test_settle (window);
  /* from a page that shows another kind by now */
  list_uses (window);
  gtk_widget_activate_action (GTK_WIDGET (window), "page.kind", "s", "vessel");
  gtk_widget_activate (GTK_WIDGET (find_line ("Part of a blend: Evening")));
  test_wait (shows_evening, window);
  test_window_destroy (window);
}

static gboolean
has_nothing (gpointer window)
{
  return !can_delete (window);
}

/* Nothing uses it: the lots that go along are named before. */
static void
test_lots_go_along (void)
{
  g_autofree char *path = test_path ("uses-lots.wickbench");
  WbWindow *window = test_window_new_with (path);
  WbWax *wax = wb_record_new (&wb_wax_type);
  WbLot *lot = wb_record_new (&wb_lot_type);

  wax->name = g_strdup ("Heath blend");
  lot->material = save_one (window, wax);
  lot->code = g_strdup ("W-107");
  save_one (window, lot);
  g_assert_true (wb_window_go (window, "materials", 0));
  test_settle (window);
  show_kind (window, "wax");
  gtk_widget_activate_action (GTK_WIDGET (window), "page.delete", NULL);
  test_wait (asks, (gpointer) "1 lot goes with it: W-107.");
  answer (GTK_RESPONSE_ACCEPT);
  test_wait (has_nothing, window);
  test_window_destroy (window);
}

static GtkWidget *
find_named (GtkWidget  *widget,
            const char *tooltip)
{
  if (g_strcmp0 (gtk_widget_get_tooltip_text (widget), tooltip) == 0 && gtk_widget_get_mapped (widget))
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_named (child, tooltip);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static gboolean
has_trash (gpointer window)
{
  return find_named (GTK_WIDGET (wb_window_get_page (window)), "Delete") != NULL;
}

/* A lot that was poured from stays, too. */
static void
test_poured_lot (void)
{
  WbWindow *window = test_window_new_demo ();

  g_assert_true (wb_window_go (window, "materials", 0));
  test_settle (window);
  show_kind (window, "wax");
  test_wait (has_trash, window);
  g_signal_emit_by_name (find_named (GTK_WIDGET (wb_window_get_page (window)), "Delete"), "clicked");
  test_wait (asks, (gpointer) " is in use");
  g_assert_true (asks ((gpointer) "Lot "));
  answer (GTK_RESPONSE_CANCEL);
  test_window_destroy (window);
}

void
test_material_delete_add (void)
{
  g_test_add_func ("/views/materials/each-line-of-what-uses-it-leads-there", test_lines_lead);
  g_test_add_func ("/views/materials/the-line-of-a-blend-opens-it", test_blend);
  g_test_add_func ("/views/materials/lots-that-go-along-are-named-before", test_lots_go_along);
  g_test_add_func ("/views/materials/a-lot-that-was-poured-from-stays", test_poured_lot);
}
