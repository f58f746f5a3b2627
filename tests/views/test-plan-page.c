/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <string.h>

#include "test-views.h"

#include "wb-app-query.h"
#include "wb-ask-editor.h"
#include "wb-cell-grid.h"
#include "wb-limit-list.h"
#include "wb-plan-beginning.h"
#include "wb-plan-editor.h"
#include "wb-plan-view.h"
#include "wb-record-form.h"
#include "wb-scent-list.h"
#include "wb-tick-list.h"
#include "wb-wick-list.h"

#include <math.h>

/* The page draws at 1024 beside a sidebar of 236. */
#define PAGE_WIDTH 780

static WbPlanEditor *
get_editor (WbWindow *window)
{
  return WB_PLAN_EDITOR (test_find (GTK_WIDGET (wb_window_get_page (window)), WB_TYPE_PLAN_EDITOR));
}

static WbTickList *
get_ticks (WbWindow   *window,
           const char *box)
{
  return WB_TICK_LIST (test_find (test_part (window, box), WB_TYPE_TICK_LIST));
}

static gboolean
is_begun (gpointer user)
{
  return test_enabled (user, "page.save");
}

static WbWindow *
open_plan (const char  *name,
           const char  *vessel,
           TestShelf   *shelf)
{
  g_autofree char *path = test_path (name);
  WbWindow *window = test_window_new_with (path);

  test_shelf_fill (window, vessel, shelf);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.new-experiment", NULL);
  test_wait (is_begun, window);
  return window;
}

static void
type_title (WbWindow   *window,
            const char *title)
{
  GtkWidget *field = wb_record_form_get_field (WB_RECORD_FORM (test_part (window, "form")), "title");

  gtk_editable_set_text (GTK_EDITABLE (test_find (field, GTK_TYPE_ENTRY)), title);
}

static void
choose_wax (WbWindow *window)
{
  GtkWidget *field = wb_record_form_get_field (WB_RECORD_FORM (test_part (window, "form")), "wax");

  gtk_drop_down_set_selected (GTK_DROP_DOWN (test_find (field, GTK_TYPE_DROP_DOWN)), 1);
}

static void
tick (WbWindow   *window,
      const char *box,
      gint64      id)
{
  GtkCheckButton *check = wb_tick_list_get_tick (WB_TICK_LIST (test_find (test_part (window, box), WB_TYPE_TICK_LIST)), id);

  g_assert_nonnull (check);
  gtk_check_button_set_active (check, TRUE);
}

static void
type_load (WbWindow   *window,
           const char *load)
{
  gtk_editable_set_text (GTK_EDITABLE (test_find (test_part (window, "scents"), GTK_TYPE_ENTRY)), load);
}

/* One vessel, three wicks, a scent and the control: six combinations. */
static void
fill_in (WbWindow        *window,
         const TestShelf *shelf)
{
  type_title (window, "Which Sedge for the Tern");
  choose_wax (window);
  tick (window, "vessels_box", shelf->vessel);
  for (guint i = 0; i < G_N_ELEMENTS (shelf->wicks); i++)
    tick (window, "wicks_box", shelf->wicks[i]);
  wb_scent_list_add (WB_SCENT_LIST (test_part (window, "scents")), shelf->fragrance);
  type_load (window, "8");
  wb_scent_list_add (WB_SCENT_LIST (test_part (window, "scents")), 0);
}

static gboolean
is_open (gpointer user)
{
  return wb_page_get_experiment (wb_window_get_page (user)) != 0;
}

static void
save (WbWindow *window)
{
  gtk_widget_activate_action (GTK_WIDGET (window), "page.save", NULL);
  test_wait (is_open, window);
  test_settle (window);
}

static const char *
label (WbWindow   *window,
       const char *id)
{
  return gtk_label_get_text (GTK_LABEL (test_part (window, id)));
}

static void
test_make (void)
{
  TestShelf shelf;
  WbWindow *window = open_plan ("make.wickbench", "Tern", &shelf);
  gint64 before = wb_app_notebook_get_last_entry (test_notebook (window));
  g_autoptr (WbDataset) data = NULL;
  g_autoptr (GError) error = NULL;
  guint left_out = 0;

  fill_in (window, &shelf);
  g_assert_cmpstr (label (window, "grid_heading"), ==, "18 samples of 6 combinations");
  /* 350 g of water at 20 °C / 0.998207 g/cm3 × 0.9 = 315.57 g a candle; nine of them scented with 8 % of the wax: 23.38 g of oil each. */
  g_assert_nonnull (strstr (label (window, "totals"), "5469.8\u00a0g of wax, 210.4\u00a0g of oil, 18 wicks"));
  gtk_check_button_set_active (wb_cell_grid_get_tick (WB_CELL_GRID (test_part (window, "cells")), 5), FALSE);
  g_assert_cmpstr (label (window, "grid_heading"), ==, "15 samples of 5 combinations");
  save (window);

  /* One entry, and what stands in it. */
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (window)), ==, before + 1);
  data = wb_app_query_dataset_sync (test_notebook (window), wb_page_get_experiment (wb_window_get_page (window)), &error);
  g_assert_no_error (error);
  g_assert_cmpstr (data->experiment->title, ==, "Which Sedge for the Tern");
  g_assert_cmpuint (data->samples->len, ==, 15);
  for (guint i = 0; i < data->cells->len; i++)
    left_out += wb_dataset_get_cell (data, i)->left_out;
  g_assert_cmpuint (data->cells->len, ==, 6);
  g_assert_cmpuint (left_out, ==, 1);
  test_window_destroy (window);
}

static gboolean
shows_view (gpointer user)
{
  return g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (test_part (user, "stack"))), "view") == 0;
}

static gboolean
shows_empty (gpointer user)
{
  return g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (test_part (user, "stack"))), "empty") == 0 && *label (user, "empty") != '\0';
}

static void
test_view (void)
{
  TestShelf shelf;
  WbWindow *window = open_plan ("view.wickbench", "Tern", &shelf);

  fill_in (window, &shelf);
  save (window);
  test_wait (shows_view, window);
  g_assert_cmpstr (label (window, "title"), ==, "Which Sedge for the Tern");
  g_assert_true (g_str_has_prefix (label (window, "summary"), "18 samples of 6 combinations, none poured yet\nIn the codes: "));
  g_assert_nonnull (strstr (label (window, "summary"), "\u00a0no fragrance"));
  g_assert_true (test_says (test_part (window, "facts"), "Sedge"));
  g_assert_false (test_enabled (window, "page.save"));
  g_assert_true (test_enabled (window, "page.edit"));
  /* Taken back, the page says so; the form is empty again for the next one. */
  gtk_widget_activate_action (GTK_WIDGET (window), "win.undo", NULL);
  test_settle (window);
  test_wait (shows_empty, window);
  g_assert_false (test_enabled (window, "page.edit"));
  gtk_widget_activate_action (GTK_WIDGET (window), "win.new-experiment", NULL);
  test_wait (is_begun, window);
  g_assert_false (wb_page_has_draft (wb_window_get_page (window)));
  g_assert_cmpstr (label (window, "grid_heading"), ==, "No combination yet");
  test_window_destroy (window);
}

/* A new plan: what is typed is its title, and where there is no choice nothing is asked. */
static void
test_begin (void)
{
  TestShelf shelf;
  WbWindow *window = open_plan ("begin.wickbench", "Tern", &shelf);
  GtkWidget *title = wb_record_form_get_field (WB_RECORD_FORM (test_part (window, "form")), "title");
  GtkWidget *wax = wb_record_form_get_field (WB_RECORD_FORM (test_part (window, "form")), "wax");

  g_assert_true (gtk_widget_is_ancestor (gtk_window_get_focus (GTK_WINDOW (window)), title));
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (test_find (wax, GTK_TYPE_DROP_DOWN))), ==, 1);
  g_assert_true (gtk_check_button_get_active (wb_tick_list_get_tick (get_ticks (window, "vessels_box"),
                                                                     shelf.vessel)));
  g_assert_false (wb_page_has_draft (wb_window_get_page (window)));
  test_window_destroy (window);
}

static void
test_refuse (void)
{
  static const char *const fields[] = { "title", "wicks", "scents" };
  TestShelf shelf;
  WbWindow *window = open_plan ("refuse-plan.wickbench", "Tern", &shelf);
  gint64 before = wb_app_notebook_get_last_entry (test_notebook (window));
  GtkWidget *load;

  for (guint i = 0; i < G_N_ELEMENTS (fields); i++)
    g_assert_null (wb_plan_editor_get_problem (get_editor (window), fields[i]));
  gtk_widget_activate_action (GTK_WIDGET (window), "page.save", NULL);
  for (guint i = 0; i < G_N_ELEMENTS (fields); i++)
    g_assert_nonnull (wb_plan_editor_get_problem (get_editor (window), fields[i]));
  /* the only ones that there are */
  g_assert_null (wb_plan_editor_get_problem (get_editor (window), "wax"));
  g_assert_null (wb_plan_editor_get_problem (get_editor (window), "vessels"));

  fill_in (window, &shelf);
  g_assert_null (wb_plan_editor_get_problem (get_editor (window), "vessels"));
  g_assert_null (wb_plan_editor_get_problem (get_editor (window), "title"));
  type_load (window, "eight");
  gtk_widget_activate_action (GTK_WIDGET (window), "page.save", NULL);
  load = test_find (test_part (window, "scents"), GTK_TYPE_ENTRY);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (load)), ==, "eight");
  gtk_test_accessible_assert_state (GTK_ACCESSIBLE (load), GTK_ACCESSIBLE_STATE_INVALID, GTK_ACCESSIBLE_INVALID_TRUE);
  g_assert_nonnull (wb_plan_editor_get_problem (get_editor (window), "load"));
  g_assert_cmpint (wb_page_get_experiment (wb_window_get_page (window)), ==, 0);
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (window)), ==, before);

  /* A warning does not stand in the way: the wax takes 10 %. */
  type_load (window, "12,5");
  g_assert_nonnull (strstr (wb_plan_editor_get_problem (get_editor (window), "load"), "above the most"));
  save (window);
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (window)), ==, before + 1);
  test_window_destroy (window);
}

/* A limit that is off asks for its reason; a published one is not loosened. */
static void
test_limits (void)
{
  TestShelf shelf;
  WbWindow *window = open_plan ("limits.wickbench", "Tern", &shelf);
  GtkWidget *limits, *stop;
  g_autoptr (WbDataset) data = NULL;
  g_autoptr (GError) error = NULL;

  fill_in (window, &shelf);
  gtk_expander_set_expanded (GTK_EXPANDER (test_part (window, "limits_expander")), TRUE);
  limits = test_find (GTK_WIDGET (get_editor (window)), WB_TYPE_LIMIT_LIST);
  stop = test_find (limits, GTK_TYPE_ENTRY);
  /* The flame, published: EN 15493 has 75 mm. */
  gtk_editable_set_text (GTK_EDITABLE (stop), "80");
  gtk_widget_activate_action (GTK_WIDGET (window), "page.save", NULL);
  g_assert_nonnull (wb_plan_editor_get_problem (get_editor (window), "limits"));
  gtk_editable_set_text (GTK_EDITABLE (stop), "2 1/2 in");
  g_assert_null (wb_plan_editor_get_problem (get_editor (window), "limits"));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (test_find (limits, GTK_TYPE_CHECK_BUTTON)), TRUE);
  g_assert_nonnull (strstr (wb_plan_editor_get_problem (get_editor (window), "limits"), "reason"));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (test_find (limits, GTK_TYPE_CHECK_BUTTON)), FALSE);
  save (window);
  data = wb_app_query_dataset_sync (test_notebook (window), wb_page_get_experiment (wb_window_get_page (window)), &error);
  g_assert_no_error (error);
  for (guint i = 0; i < data->limits->len; i++)
    {
      const WbLimit *limit = data->limits->pdata[i];

      g_assert_false (limit->off);
      if (limit->kind == WB_LIMIT_FLAME)
        g_assert_cmpfloat_with_epsilon (limit->stop_at, 63.5, 1e-9);
    }
  test_window_destroy (window);
}

static gboolean
offers_second (gpointer user)
{
  WbTickList *list = WB_TICK_LIST (test_find (test_part (user, "vessels_box"), WB_TYPE_TICK_LIST));
  g_autoptr (WbAppMaterials) materials = wb_app_query_materials_sync (test_notebook (user), NULL);

  return materials->vessels->len == 2 && wb_tick_list_get_tick (list, ((WbRecord *) materials->vessels->pdata[1])->id) != NULL;
}

/* A vessel that is missing is entered under Materials, and what was typed is still there. */
static void
test_draft (void)
{
  TestShelf shelf;
  WbWindow *window = open_plan ("draft.wickbench", "Tern", &shelf);
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GError) error = NULL;
  WbVessel *vessel = wb_record_new (&wb_vessel_type);

  fill_in (window, &shelf);
  g_assert_true (wb_page_has_draft (wb_window_get_page (window)));
  g_assert_true (wb_window_go (window, "materials", 0));
  vessel->name = g_strdup ("Gannet");
  vessel->inner_diameter_mm = 70;
  g_ptr_array_add (records, vessel);
  wb_app_notebook_save_sync (test_notebook (window), "Add a vessel", records, NULL, &error);
  g_assert_no_error (error);
  test_settle (window);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.new-experiment", NULL);
  test_wait (offers_second, window);
  g_assert_cmpstr (label (window, "grid_heading"), ==, "18 samples of 6 combinations");
  g_assert_true (wb_tick_list_get_on (get_ticks (window, "vessels_box"), shelf.vessel));
  test_window_destroy (window);
}

static gboolean
is_stocked (gpointer user)
{
  return !gtk_widget_get_visible (test_part (user, "missing"));
}

/* A new notebook has nothing to choose among: the plan says so and leads there, and what is typed waits. */
static void
test_empty_shelf (void)
{
  g_autofree char *path = test_path ("empty-shelf.wickbench");
  WbWindow *window = test_window_new_with (path);
  TestShelf shelf;

  gtk_widget_activate_action (GTK_WIDGET (window), "win.new-experiment", NULL);
  test_wait (is_begun, window);
  g_assert_true (gtk_widget_get_visible (test_part (window, "missing")));
  g_assert_nonnull (strstr (label (window, "missing_label"), "vessels, waxes, wicks"));
  type_title (window, "Which wick");
  gtk_widget_activate_action (GTK_WIDGET (window), "win.show", "s", "materials");
  test_settle (window);
  test_shelf_fill (window, "Tern", &shelf);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.new-experiment", NULL);
  test_wait (is_stocked, window);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (test_find (wb_record_form_get_field (WB_RECORD_FORM (test_part (window, "form")), "title"),
                                                                     GTK_TYPE_ENTRY))), ==,
                   "Which wick");
  test_window_destroy (window);
}

static gboolean
shows_editor (gpointer user)
{
  return g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (test_part (user, "stack"))), "editor") == 0 && is_begun (user);
}

static gboolean
has_twelve (gpointer user)
{
  return shows_view (user) && g_str_has_prefix (label (user, "summary"), "12 samples of 4 combinations, none poured yet");
}

static void
answer_no (void)
{
  g_autoptr (GListModel) windows = g_object_ref (gtk_window_get_toplevels ());

  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr (GtkWindow) window = g_list_model_get_item (windows, i);

      if (GTK_IS_MESSAGE_DIALOG (window))
        {
          gtk_dialog_response (GTK_DIALOG (window), GTK_RESPONSE_CANCEL);
          return;
        }
    }
  g_assert_not_reached ();
}

/* A size too many is taken out of a stored plan; left as it was, nothing is written. */
static void
test_change (void)
{
  TestShelf shelf;
  WbWindow *window = open_plan ("change-plan.wickbench", "Tern", &shelf);
  gint64 experiment, entry;

  fill_in (window, &shelf);
  save (window);
  test_wait (shows_view, window);
  experiment = wb_page_get_experiment (wb_window_get_page (window));
  entry = wb_app_notebook_get_last_entry (test_notebook (window));
  gtk_widget_activate_action (GTK_WIDGET (window), "page.change", NULL);
  test_wait (shows_editor, window);
  g_assert_cmpstr (label (window, "grid_heading"), ==, "18 samples of 6 combinations");
  gtk_widget_activate_action (GTK_WIDGET (window), "page.revert", NULL);
  test_wait (shows_view, window);
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (window)), ==, entry);

  gtk_widget_activate_action (GTK_WIDGET (window), "page.change", NULL);
  test_wait (shows_editor, window);
  gtk_check_button_set_active (wb_tick_list_get_tick (get_ticks (window, "wicks_box"), shelf.wicks[2]), FALSE);
  g_assert_false (wb_page_leave (wb_window_get_page (window)));
  answer_no ();
  gtk_widget_activate_action (GTK_WIDGET (window), "page.save", NULL);
  test_wait (has_twelve, window);
  g_assert_cmpint (wb_page_get_experiment (wb_window_get_page (window)), ==, experiment);
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (window)), ==, entry + 1);

  gtk_widget_activate_action (GTK_WIDGET (window), "page.another", NULL);
  test_wait (shows_editor, window);
  g_assert_cmpint (wb_page_get_experiment (wb_window_get_page (window)), ==, 0);
  g_assert_cmpstr (label (window, "grid_heading"), ==, "12 samples of 4 combinations");
  test_window_destroy (window);
}

/* A line, a column and a vessel are switched off and on at once by their headings. */
static void
test_headings (void)
{
  TestShelf shelf;
  WbWindow *window = open_plan ("headings.wickbench", "Tern", &shelf);
  WbCellGrid *cells;
  GtkLabel *line;

  fill_in (window, &shelf);
  cells = WB_CELL_GRID (test_part (window, "cells"));
  gtk_check_button_set_active (wb_cell_grid_find_heading (cells, "no fragrance"), FALSE);
  g_assert_cmpstr (label (window, "grid_heading"), ==, "9 samples of 3 combinations");
  g_assert_true (gtk_check_button_get_inconsistent (wb_cell_grid_find_heading (cells, "Tern, 76\u00a0mm")));
  gtk_check_button_set_active (wb_cell_grid_find_heading (cells, "Sedge S-3"), TRUE);
  g_assert_cmpstr (label (window, "grid_heading"), ==, "12 samples of 4 combinations");
  gtk_check_button_set_active (wb_cell_grid_find_heading (cells, "Sedge S-3"), FALSE);
  g_assert_cmpstr (label (window, "grid_heading"), ==, "6 samples of 2 combinations");
  gtk_check_button_set_active (wb_cell_grid_find_heading (cells, "Tern, 76\u00a0mm"), TRUE);
  g_assert_cmpstr (label (window, "grid_heading"), ==, "18 samples of 6 combinations");
  gtk_check_button_set_active (wb_cell_grid_get_tick (cells, 0), FALSE);
  g_assert_true (gtk_check_button_get_inconsistent (wb_cell_grid_find_heading (cells, "Sedge S-2")));
  g_assert_false (gtk_check_button_get_inconsistent (wb_cell_grid_find_heading (cells, "no fragrance")));
  /* the series stands once over the lines, and the size is never cut */
  line = GTK_LABEL (gtk_check_button_get_child (wb_cell_grid_find_heading (cells, "Sedge S-2")));
  g_assert_cmpstr (gtk_label_get_text (line), ==, "S-2");
  g_assert_cmpint (gtk_label_get_ellipsize (line), ==, PANGO_ELLIPSIZE_NONE);
  g_assert_true (test_says (GTK_WIDGET (cells), "Sedge"));
  test_check_names (GTK_WIDGET (cells), "cells");
  test_window_destroy (window);
}

static void
on_heading_cb (GObject    *label,
               GParamSpec *spec,
               gpointer    user)
{
  ++*(guint *) user;
}

/* What a heading switches is one change: what the grid comes to is told once, not cell by cell. */
static void
test_one_step (void)
{
  TestShelf shelf;
  WbWindow *window = open_plan ("one-step.wickbench", "Tern", &shelf);
  WbCellGrid *cells;
  GtkCheckButton *series;
  guint told = 0;

  fill_in (window, &shelf);
  cells = WB_CELL_GRID (test_part (window, "cells"));
  g_signal_connect (test_part (window, "grid_heading"), "notify::label", G_CALLBACK (on_heading_cb), &told);
  gtk_check_button_set_active (wb_cell_grid_find_heading (cells, "no fragrance"), FALSE);
  g_assert_cmpstr (label (window, "grid_heading"), ==, "9 samples of 3 combinations");
  g_assert_cmpuint (told, ==, 1);
  gtk_check_button_set_active (wb_cell_grid_find_heading (cells, "Tern, 76\u00a0mm"), TRUE);
  g_assert_cmpstr (label (window, "grid_heading"), ==, "18 samples of 6 combinations");
  g_assert_cmpuint (told, ==, 2);
  /* a series among the choices is one step as well */
  series = GTK_CHECK_BUTTON (test_find (test_part (window, "wicks_box"), GTK_TYPE_CHECK_BUTTON));
  gtk_check_button_set_active (series, FALSE);
  g_assert_cmpstr (label (window, "grid_heading"), ==, "No combination yet");
  g_assert_cmpuint (told, ==, 3);
  gtk_check_button_set_active (series, TRUE);
  g_assert_cmpstr (label (window, "grid_heading"), ==, "18 samples of 6 combinations");
  g_assert_cmpuint (told, ==, 4);
  test_window_destroy (window);
}

static gboolean
tells_change (gpointer user)
{
  return shows_view (user) && strstr (label (user, "repeated"), "wick Sedge") != NULL && gtk_widget_get_visible (test_part (user, "repeated"));
}

/* Repeated with one wick more: said in the form at once, and by the stored plan. */
static void
test_repeat (void)
{
  TestShelf shelf;
  WbWindow *window = open_plan ("repeat-plan.wickbench", "Tern", &shelf);

  fill_in (window, &shelf);
  gtk_check_button_set_active (wb_tick_list_get_tick (get_ticks (window, "wicks_box"), shelf.wicks[2]), FALSE);
  save (window);
  test_wait (shows_view, window);
  g_assert_false (gtk_widget_get_visible (test_part (window, "repeated")));
  gtk_widget_activate_action (GTK_WIDGET (window), "page.repeat", NULL);
  test_wait (shows_editor, window);
  g_assert_nonnull (strstr (label (window, "changes"), "Repeats E-1. Nothing is changed yet."));
  gtk_check_button_set_active (wb_tick_list_get_tick (get_ticks (window, "wicks_box"), shelf.wicks[2]), TRUE);
  g_assert_nonnull (strstr (label (window, "changes"), " added."));
  g_assert_false (gtk_widget_get_visible (test_part (window, "changes_warning")));
  type_load (window, "9");
  g_assert_true (gtk_widget_get_visible (test_part (window, "changes_warning")));
  g_assert_nonnull (strstr (label (window, "changes_warning"), "nobody can tell"));
  type_load (window, "8");
  g_assert_false (gtk_widget_get_visible (test_part (window, "changes_warning")));
  save (window);
  test_wait (tells_change, window);
  test_window_destroy (window);
}

static gboolean
has_changes (gpointer user)
{
  return shows_editor (user) && strstr (label (user, "changes"), "Repeats E-1.") != NULL;
}

/* Further samples of one of its wicks: the action that carries them fills a plan with it alone. */
static void
test_further_samples (void)
{
  TestShelf shelf;
  WbWindow *window = open_plan ("further.wickbench", "Tern", &shelf);
  g_autoptr (WbDataset) data = NULL;
  g_autoptr (GError) error = NULL;
  GVariantBuilder cells;

  fill_in (window, &shelf);
  save (window);
  test_wait (shows_view, window);
  data = wb_app_query_dataset_sync (test_notebook (window), wb_page_get_experiment (wb_window_get_page (window)), &error);
  g_assert_no_error (error);
  g_variant_builder_init (&cells, G_VARIANT_TYPE ("ax"));
  g_variant_builder_add (&cells, "x", wb_dataset_get_cell (data, 0)->record.id);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.new-experiment", NULL);
  gtk_widget_activate_action (GTK_WIDGET (window), "page.samples", WB_PLAN_SAMPLES_FORMAT, data->experiment->record.id, &cells, 5);
  test_wait (has_changes, window);
  for (guint i = 0; i < G_N_ELEMENTS (shelf.wicks); i++)
    g_assert_cmpint (gtk_check_button_get_active (wb_tick_list_get_tick (get_ticks (window, "wicks_box"), shelf.wicks[i])), ==,
                     shelf.wicks[i] == wb_dataset_get_cell (data, 0)->wick);
  save (window);
  test_wait (shows_view, window);
  g_clear_pointer (&data, wb_dataset_free);
  data = wb_app_query_dataset_sync (test_notebook (window), wb_page_get_experiment (wb_window_get_page (window)), &error);
  g_assert_no_error (error);
  g_assert_cmpuint (data->samples->len, ==, 5);
  test_window_destroy (window);
}

static GtkDropDown *
find_drop_down (GtkWidget *where,
                guint      place)
{
  for (GtkWidget *child = gtk_widget_get_first_child (where); child != NULL; child = gtk_widget_get_next_sibling (child))
    if (GTK_IS_DROP_DOWN (child) && place-- == 0)
      return GTK_DROP_DOWN (child);
  g_assert_not_reached ();
}

/* One wick alone beside two and three of it, the distance typed; the stored plan has them, and a change of it begins with them. */
static void
test_several_wicks (void)
{
  TestShelf shelf;
  WbWindow *window = open_plan ("several.wickbench", "Tern", &shelf);
  WbWickList *list = WB_WICK_LIST (test_part (window, "several"));
  GtkWidget *lines = gtk_widget_get_first_child (gtk_widget_get_first_child (GTK_WIDGET (list))), *line;
  GtkEditable *spacing;
  g_autoptr (WbDataset) data = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) shown = NULL;
  guint alone = 0, twos = 0, threes = 0;

  fill_in (window, &shelf);
  wb_wick_list_add (list, shelf.wicks[0]);
  line = gtk_widget_get_first_child (lines);
  spacing = GTK_EDITABLE (test_find (line, GTK_TYPE_ENTRY));
  gtk_editable_set_text (spacing, "9 cm");
  gtk_widget_activate_action (GTK_WIDGET (window), "page.save", NULL);
  g_assert_nonnull (strstr (wb_plan_editor_get_problem (get_editor (window), "wicks"), "do not fit"));
  gtk_editable_set_text (spacing, "3 cm");
  g_assert_null (wb_plan_editor_get_problem (get_editor (window), "wicks"));
  wb_wick_list_add (list, shelf.wicks[0]);
  g_assert_nonnull (strstr (wb_plan_editor_get_problem (get_editor (window), "wicks"), "twice"));
  line = gtk_widget_get_last_child (lines);
  gtk_drop_down_set_selected (find_drop_down (line, 0), 1); /* three of them */
  g_assert_null (wb_plan_editor_get_problem (get_editor (window), "wicks"));
  g_assert_cmpstr (label (window, "grid_heading"), ==, "30 samples of 10 combinations");
  save (window);
  data = wb_app_query_dataset_sync (test_notebook (window), wb_page_get_experiment (wb_window_get_page (window)), &error);
  g_assert_no_error (error);
  for (guint i = 0; i < data->cells->len; i++)
    {
      const WbCell *cell = wb_dataset_get_cell (data, i);

      alone += cell->wick_count == 1;
      twos += cell->wick_count == 2 && cell->wick == shelf.wicks[0] && cell->wick_spacing_mm == 30;
      threes += cell->wick_count == 3 && cell->wick == shelf.wicks[0] && cell->wick_spacing_mm == 30;
    }
  g_assert_cmpuint (alone, ==, 6);
  g_assert_cmpuint (twos, ==, 2);
  g_assert_cmpuint (threes, ==, 2);

  test_wait (shows_view, window);
  gtk_widget_activate_action (GTK_WIDGET (window), "page.change", NULL);
  test_wait (shows_editor, window);
  shown = wb_wick_list_dup_choices (list);
  g_assert_cmpuint (shown->len, ==, 2);
  g_assert_cmpstr (label (window, "grid_heading"), ==, "30 samples of 10 combinations");
  test_window_destroy (window);
}

/* Names of every kind neither widen the page nor are lost. */
static void
test_names (void)
{
  g_autofree char *wide = g_strnfill (200, 'W');
  const char *names[] = { wide, "\xd9\x82\xd9\x86\xd8\xaf\xd9\x8a\xd9\x84", "\xf0\x9f\x95\xaf\xef\xb8\x8f \xf0\x9f\x90\x9d" };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      TestShelf shelf;
      WbWindow *window = open_plan ("names.wickbench", names[i], &shelf);
      int width;

      fill_in (window, &shelf);
      type_title (window, names[i]);
      gtk_widget_measure (GTK_WIDGET (wb_window_get_page (window)), GTK_ORIENTATION_HORIZONTAL, -1, &width, NULL, NULL, NULL);
      g_assert_cmpint (width, <=, PAGE_WIDTH);
      save (window);
      test_wait (shows_view, window);
      g_assert_cmpstr (label (window, "title"), ==, names[i]);
      gtk_widget_measure (GTK_WIDGET (wb_window_get_page (window)), GTK_ORIENTATION_HORIZONTAL, -1, &width, NULL, NULL, NULL);
      g_assert_cmpint (width, <=, PAGE_WIDTH);
      test_window_destroy (window);
    }
}

static void
click_named (GtkWidget  *where,
             const char *tooltip)
{
  for (GtkWidget *child = gtk_widget_get_first_child (where); child != NULL; child = gtk_widget_get_next_sibling (child))
    if (g_strcmp0 (gtk_widget_get_tooltip_text (child), tooltip) == 0)
      {
        g_assert_true (gtk_widget_is_sensitive (child));
        g_signal_emit_by_name (child, "clicked");
        return;
      }
  g_error ("no \"%s\"", tooltip);
}

/* What is asked in a round, and in which order, is the maker's; what nobody touched stays as it was. */
static void
test_asked (void)
{
  TestShelf shelf;
  WbWindow *window = open_plan ("asked.wickbench", "Tern", &shelf);
  WbAskEditor *editor;
  GtkWidget *lines;
  WbProtocol *house = wb_protocol_new_house ();
  g_autoptr (WbDataset) data = NULL;
  g_autoptr (GError) error = NULL;
  const WbProtocol *stored;

  gtk_expander_set_expanded (GTK_EXPANDER (test_part (window, "asked_expander")), TRUE);
  editor = WB_ASK_EDITOR (test_part (window, "asked"));
  lines = gtk_widget_get_last_child (gtk_widget_get_first_child (GTK_WIDGET (editor)));
  g_assert_false (wb_plan_editor_get_touched (get_editor (window)));
  /* As the list is changed a line at a time: first what is asked, then the rest. */
  for (WbColumn column = 0; column < WB_N_COLUMNS; column++)
    if (column == WB_COLUMN_FLAME_STATE || column == WB_COLUMN_SMOKE || column == WB_COLUMN_MUSHROOM || column == WB_COLUMN_VESSEL_C)
      wb_ask_editor_set_asked (editor, column, FALSE);
  wb_ask_editor_set_asked (editor, WB_COLUMN_SOOT, TRUE);
  g_assert_true (wb_plan_editor_get_touched (get_editor (window)));
  click_named (lines, "Soot on the vessel: ask it earlier");
  wb_ask_editor_move (editor, WB_COLUMN_POOL_MM, -1); /* the first stays the first */
  wb_ask_editor_show_moment (editor, WB_APP_ASK_LIGHTING);
  wb_ask_editor_move (editor, WB_COLUMN_MASS_G, 1);
  fill_in (window, &shelf);
  save (window);
  data = wb_app_query_dataset_sync (test_notebook (window), wb_page_get_experiment (wb_window_get_page (window)), &error);
  g_assert_no_error (error);
  stored = data->protocol;
  g_assert_cmpstr (stored->ask_round, ==, "pool_mm,soot,flame_max_mm");
  g_assert_cmpstr (stored->ask_lighting, ==, "room_c,mass_g,draught");
  g_assert_cmpstr (stored->ask_before_snuffing, ==, house->ask_before_snuffing);
  g_assert_cmpstr (stored->ask_after_snuffing, ==, house->ask_after_snuffing);
  wb_record_free (house);
  test_window_destroy (window);
}

static void
test_saved_goes (void)
{
  TestShelf shelf;
  WbWindow *window = open_plan ("saved-goes.wickbench", "Tern", &shelf);

  fill_in (window, &shelf);
  save (window);
  /* What the form does once the plan is in the file is nobody's typing. */
  test_wait (test_says_saved, window);
  test_settle (window);
  g_assert_true (test_says_saved (window));
  gtk_widget_activate_action (GTK_WIDGET (window), "win.new-experiment", NULL);
  test_wait (is_begun, window);
  g_assert_true (test_says_saved (window));
  type_title (window, "W");
  g_assert_false (test_says_saved (window));
  test_window_destroy (window);
}

void
test_plan_page_add (void)
{
  g_test_add_func ("/views/plan/a-grid-of-materials-becomes-one-entry", test_make);
  g_test_add_func ("/views/plan/a-plan-is-shown-and-taken-back", test_view);
  g_test_add_func ("/views/plan/begins-at-its-title", test_begin);
  g_test_add_func ("/views/plan/what-is-missing-is-said-at-its-field", test_refuse);
  g_test_add_func ("/views/plan/limits-are-only-tightened", test_limits);
  g_test_add_func ("/views/plan/what-is-asked-is-ticked-and-moved", test_asked);
  g_test_add_func ("/views/plan/what-is-typed-outlives-a-look-elsewhere", test_draft);
  g_test_add_func ("/views/plan/an-empty-shelf-leads-to-the-materials", test_empty_shelf);
  g_test_add_func ("/views/plan/a-stored-plan-is-changed-or-begins-another", test_change);
  g_test_add_func ("/views/plan/a-heading-switches-all-of-its-own", test_headings);
  g_test_add_func ("/views/plan/a-heading-is-one-step", test_one_step);
  g_test_add_func ("/views/plan/a-repeat-says-what-differs", test_repeat);
  g_test_add_func ("/views/plan/further-samples-are-planned-alone", test_further_samples);
  g_test_add_func ("/views/plan/several-wicks-stand-in-a-vessel", test_several_wicks);
  g_test_add_func ("/views/plan/names-of-every-kind-fit", test_names);
  g_test_add_func ("/views/plan/saved-goes-when-something-is-typed", test_saved_goes);
}
