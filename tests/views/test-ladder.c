/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-views.h"

#include "wb-app-plan-ladder.h"
#include "wb-app-query.h"
#include "wb-chart-view.h"
#include "wb-grey.h"
#include "wb-ladder-page.h"
#include "wb-measure-dialog.h"
#include "wb-plan-editor.h"
#include "wb-quantity-entry.h"
#include "wb-record-form.h"
#include "wb-text-table.h"
#include "wb-tick-list.h"
#include "wb-wick-list.h"

#include <string.h>

static const char *
label (WbWindow   *window,
       const char *id)
{
  return gtk_label_get_text (GTK_LABEL (test_part (window, id)));
}

static gboolean
can_test (gpointer window)
{
  return test_enabled (window, "page.test");
}

static void
show (WbWindow *window)
{
  gtk_widget_activate_action (GTK_WIDGET (window), "win.show", "s", "ladder");
}

/* A ladder stands there, of the question as it is. */
static WbWindow *
show_ladder (WbWindow *window)
{
  show (window);
  test_wait (can_test, window);
  return window;
}

static WbWindow *
open_demo (void)
{
  return show_ladder (test_window_new_demo_learnt ());
}

static GtkEditable *
get_field (WbWindow   *window,
           const char *box)
{
  return GTK_EDITABLE (test_find (test_part (window, box), GTK_TYPE_ENTRY));
}

static void
type (WbWindow   *window,
      const char *box,
      const char *text)
{
  gtk_editable_set_text (get_field (window, box), text);
}

static void
choose (WbWindow   *window,
        const char *list,
        guint       line)
{
  gtk_drop_down_set_selected (GTK_DROP_DOWN (test_part (window, list)), line);
}

static guint
count_why (WbWindow *window)
{
  guint n = 0;

  for (GtkWidget *child = gtk_widget_get_first_child (test_part (window, "why")); child != NULL; child = gtk_widget_get_next_sibling (child))
    n++;
  return n;
}

/* Nobody asked yet: the newest vessel, the first wax, three sizes. Answer, drawing, a reason each, and all in numbers. */
static void
test_answer (void)
{
  WbWindow *window = show_ladder (test_window_new_demo ()); /* nothing is kept yet */
  WbChartView *chart = WB_CHART_VIEW (test_part (window, "chart"));
  GtkWidget *numbers = test_part (window, "numbers");
  GtkWidget *table;

  g_assert_nonnull (strstr (label (window, "answer_text"), "63.5\u00a0mm"));
  g_assert_nonnull (strstr (label (window, "sureness"), " in 100."));
  g_assert_cmpstr (gtk_button_get_label (GTK_BUTTON (test_find (test_part (window, "rests_on"), GTK_TYPE_LINK_BUTTON))), ==, "HF-1");
  g_assert_nonnull (strstr (label (window, "caution"), "Foretold, not tested"));
  g_assert_cmpuint (count_why (window), ==, 3);
  g_assert_nonnull (wb_chart_view_get_chart (chart));
  g_assert_nonnull (strstr (wb_chart_get_footnote (wb_chart_view_get_chart (chart)), "at the top"));
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (test_part (window, "bottom")), TRUE);
  g_assert_nonnull (strstr (wb_chart_get_footnote (wb_chart_view_get_chart (chart)), "at the bottom"));
  g_assert_cmpuint (wb_chart_get_n_rows (wb_chart_view_get_chart (chart)), ==, 2);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (test_part (window, "both")), TRUE);
  g_assert_cmpuint (wb_chart_get_n_rows (wb_chart_view_get_chart (chart)), ==, 3);
  g_assert_nonnull (strstr (wb_chart_get_footnote (wb_chart_view_get_chart (chart)), "and below at its bottom"));
  g_assert_nonnull (strstr (wb_chart_get_description (wb_chart_view_get_chart (chart)), " after 1\u00a0h"));

  gtk_expander_set_expanded (GTK_EXPANDER (test_find (numbers, GTK_TYPE_EXPANDER)), TRUE);
  table = test_find (numbers, WB_TYPE_TEXT_TABLE);
  /* every wick of the demo */
  g_assert_cmpuint (wb_text_table_get_n_rows (WB_TEXT_TABLE (table)), ==, 18);
  g_assert_cmpuint (test_check_names (GTK_WIDGET (window), "ladder"), >, 12);
  test_look_at (GTK_WIDGET (window), "ladder");
  test_window_destroy (window);
}

typedef struct
{
  WbWindow   *window;
  const char *begins;
} Wanted;

static gboolean
begins (gpointer user)
{
  const Wanted *wanted = user;

  return can_test (wanted->window) && g_str_has_prefix (label (wanted->window, "answer_text"), wanted->begins);
}

/* What is typed while an answer is on its way is what is answered; until then nothing can be made of the old one, and it is said why. */
static void
test_change (void)
{
  WbWindow *window = open_demo ();
  GtkWidget *test = test_part (window, "test");
  Wanted wanted = { window, "For 72.0\u00a0mm" };

  choose (window, "vessel", 0);
  g_assert_false (can_test (window));
  g_assert_cmpstr (wb_grey_get_reason (test), ==, "It is being worked out");
  type (window, "inner_box", "90");
  type (window, "inner_box", "72");
  type (window, "sizes_box", "2");
  test_wait (begins, &wanted);
  g_assert_cmpuint (count_why (window), ==, 2);
  /* a wider one takes more wicks, until a person says how many */
  type (window, "inner_box", "120");
  g_assert_cmpstr (gtk_editable_get_text (get_field (window, "wicks_box")), ==, "2");
  type (window, "wicks_box", "3");
  type (window, "inner_box", "70");
  g_assert_cmpstr (gtk_editable_get_text (get_field (window, "wicks_box")), ==, "3");
  test_settle (window);
  test_window_destroy (window);
}

static gboolean
says_missing (gpointer user)
{
  const Wanted *wanted = user;

  return gtk_widget_get_visible (test_part (wanted->window, "missing")) && strstr (label (wanted->window, "missing"), wanted->begins) != NULL;
}

static const char *
get_problem (WbWindow   *window,
             const char *box)
{
  return wb_quantity_entry_get_problem (WB_QUANTITY_ENTRY (test_find (test_part (window, box), WB_TYPE_QUANTITY_ENTRY)));
}

typedef struct
{
  WbWindow   *window;
  const char *box;
  const char *rule;
} Broken;

static gboolean
tells (gpointer user)
{
  const Broken *broken = user;
  const char *problem = get_problem (broken->window, broken->box);

  return problem != NULL && strstr (problem, broken->rule) != NULL;
}

/*
 * What is wrong is said at its field, of all fields at once, and no answer stands under a question that is none. What nobody has typed
 * yet is no mistake.
 */
static void
test_wrong (void)
{
  WbWindow *window = open_demo ();
  Wanted none = { window, "Choose a vessel" };
  Broken wide = { window, "inner_box", "400" }, load = { window, "load_box", "30" }, rooms = { window, "cold_box", "coldest room is warmer" };

  choose (window, "vessel", 0);
  test_wait (says_missing, &none);
  g_assert_false (gtk_widget_get_visible (test_part (window, "box")));
  g_assert_null (get_problem (window, "inner_box"));
  g_assert_false (gtk_widget_has_css_class (test_part (window, "missing"), "problem"));
  type (window, "inner_box", "4000");
  type (window, "load_box", "50");
  test_wait (tells, &wide);
  test_wait (tells, &load);
  g_assert_false (gtk_widget_get_visible (test_part (window, "missing")));
  test_look_at (GTK_WIDGET (window), "ladder-wrong");
  type (window, "inner_box", "72");
  type (window, "load_box", "6");
  type (window, "cold_box", "30");
  test_wait (tells, &rooms);
  g_assert_null (get_problem (window, "inner_box"));
  type (window, "cold_box", "18");
  test_wait (can_test, window);
  g_assert_false (gtk_widget_get_visible (test_part (window, "missing")));
  test_window_destroy (window);
}

static gboolean
has_answer (gpointer window)
{
  return gtk_widget_get_visible (test_part (window, "box"));
}

/* Wicks that nobody burnt and no supplier recommends: no basis, and what to do. */
static void
test_no_basis (void)
{
  g_autofree char *path = test_path ("ladder-none.wickbench");
  WbWindow *window = test_window_new_with (path);
  TestShelf shelf;

  test_shelf_fill (window, "Tern", &shelf);
  show (window);
  test_wait (has_answer, window);
  g_assert_true (g_str_has_prefix (label (window, "answer_text"), "No basis"));
  g_assert_nonnull (strstr (label (window, "advice"), "supplier recommends"));
  g_assert_false (gtk_widget_get_visible (test_part (window, "test")));
  g_assert_true (gtk_widget_get_visible (test_part (window, "materials")));
  g_assert_false (gtk_widget_get_visible (test_part (window, "drawing")));
  g_assert_false (gtk_widget_get_visible (test_part (window, "caution")));
  g_assert_false (gtk_widget_get_visible (test_part (window, "open_materials")));
  g_assert_false (can_test (window));
  test_window_destroy (window);
}

/* A notebook without a material: what comes first, and the way there. */
static void
test_no_wax (void)
{
  g_autofree char *path = test_path ("ladder-empty.wickbench");
  WbWindow *window = test_window_new_with (path);
  Wanted wax = { window, "Type in the wax first" };

  show (window);
  test_wait (says_missing, &wax);
  g_assert_true (gtk_widget_get_visible (test_part (window, "open_materials")));
  g_assert_false (gtk_widget_get_visible (test_part (window, "box")));
  g_assert_cmpstr (gtk_actionable_get_action_name (GTK_ACTIONABLE (test_part (window, "open_materials"))), ==, "win.show");
  test_window_destroy (window);
}

/* ---- Into a plan ---- */

static gboolean
is_planning (gpointer window)
{
  return test_enabled (window, "page.save");
}

/* Those that the answer names are ticked, and no others. */
static void
assert_ticked (WbWindow   *window,
               const char *answer)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) wicks = wb_app_query_list_sync (test_notebook (window), &wb_wick_type, &error);
  WbTickList *ticks = WB_TICK_LIST (test_find (test_part (window, "wicks_box"), WB_TYPE_TICK_LIST));

  g_assert_no_error (error);
  for (guint i = 0; i < wicks->len; i++)
    {
      const WbWick *wick = g_ptr_array_index (wicks, i);
      g_autofree char *name = g_strdup_printf ("%s %s", wick->series, wick->size);

      g_assert_cmpint (wb_tick_list_get_on (ticks, wick->record.id), ==, strstr (answer, name) != NULL);
    }
}

static char *
dup_text (WbWindow   *window,
          const char *field)
{
  GtkWidget *widget = wb_record_form_get_field (WB_RECORD_FORM (test_part (window, "form")), field);
  GtkWidget *view = test_find (widget, GTK_TYPE_TEXT_VIEW);
  GtkTextIter start, end;

  if (view == NULL)
    return g_strdup (gtk_editable_get_text (GTK_EDITABLE (test_find (widget, GTK_TYPE_ENTRY))));
  gtk_text_buffer_get_bounds (gtk_text_view_get_buffer (GTK_TEXT_VIEW (view)), &start, &end);
  return gtk_text_buffer_get_text (gtk_text_view_get_buffer (GTK_TEXT_VIEW (view)), &start, &end, FALSE);
}

static void
test_plan (void)
{
  WbWindow *window = open_demo ();
  gint64 before = wb_app_notebook_get_last_entry (test_notebook (window));
  g_autofree char *answer = g_strdup (label (window, "answer_text")), *title = NULL, *note = NULL;

  choose (window, "fragrance", 1);
  test_wait (can_test, window);
  gtk_widget_activate_action (GTK_WIDGET (window), "page.test", NULL);
  test_wait (is_planning, window);
  test_settle (window);
  title = dup_text (window, "title");
  note = dup_text (window, "note");
  g_assert_cmpstr (title, ==, "Which wick for Thimble");
  g_assert_true (g_str_has_prefix (note, answer));
  g_assert_nonnull (strstr (note, "load of 6\u00a0% (of the wax)"));
  assert_ticked (window, answer);
  /* three wicks in one vessel with one scent, three samples each; nothing is saved */
  g_assert_cmpstr (label (window, "grid_heading"), ==, "9 samples of 3 combinations");
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (window)), ==, before);
  test_look_at (GTK_WIDGET (window), "ladder-plan");
  test_window_destroy (window);
}

/* Two wicks stand so far apart as the drawing has them: 63.5 mm × (1 − 1 ÷ √2) = 18.6 mm. */
static void
test_plan_several (void)
{
  WbWindow *window = open_demo ();
  g_autoptr (GArray) choices = NULL;
  g_autofree char *note = NULL;
  guint n_two = 0;

  type (window, "wicks_box", "2");
  choose (window, "fragrance", 1);
  test_wait (can_test, window);
  gtk_widget_activate_action (GTK_WIDGET (window), "page.test", NULL);
  test_wait (is_planning, window);
  test_settle (window);
  choices = wb_wick_list_dup_choices (WB_WICK_LIST (test_find (GTK_WIDGET (wb_window_get_page (window)), WB_TYPE_WICK_LIST)));
  for (guint i = 0; i < choices->len; i++)
    if (g_array_index (choices, WbCraftWickChoice, i).count == 2)
      {
        g_assert_cmpfloat (g_array_index (choices, WbCraftWickChoice, i).spacing_mm, ==, 19);
        n_two++;
      }
  g_assert_cmpuint (n_two, >, 0);
  note = dup_text (window, "note");
  g_assert_nonnull (strstr (note, "stand 19\u00a0mm apart"));
  test_window_destroy (window);
}

static gboolean
is_measuring (gpointer user)
{
  return test_find_window (WB_TYPE_MEASURE_DIALOG) != NULL;
}

/* One of the materials, no diameter alone, and answered. */
static gboolean
asks_for_vessel (gpointer window)
{
  return test_find_window (WB_TYPE_MEASURE_DIALOG) == NULL && can_test (window) && gtk_drop_down_get_selected (GTK_DROP_DOWN (test_part (window, "vessel"))) > 0
         && !gtk_widget_get_visible (test_part (window, "add_vessel"));
}

/* Names the vessel that is measured, and saves it. */
static void
save_vessel (const char *name)
{
  WbMeasureDialog *dialog = WB_MEASURE_DIALOG (test_find_window (WB_TYPE_MEASURE_DIALOG));
  GtkWidget *field = wb_record_form_get_field (WB_RECORD_FORM (test_find (test_child (GTK_WIDGET (dialog), "steps"), WB_TYPE_RECORD_FORM)), "name");
  WbVessel *vessel = wb_measure_dialog_dup_vessel (dialog);

  g_assert_cmpfloat (vessel->inner_diameter_mm, ==, 72);
  wb_record_free (vessel);
  gtk_editable_set_text (GTK_EDITABLE (test_find (field, GTK_TYPE_ENTRY)), name);
  g_assert_false (gtk_widget_get_visible (test_child (GTK_WIDGET (dialog), "instead")));
  g_signal_emit_by_name (test_child (GTK_WIDGET (dialog), "save"), "clicked");
}

/* A diameter alone becomes a vessel of the materials, which then is the one that is asked for. */
static void
test_add_vessel (void)
{
  WbWindow *window = open_demo ();
  Wanted wanted = { window, "For 72.0\u00a0mm" };

  g_assert_false (gtk_widget_get_visible (test_part (window, "add_vessel")));
  g_assert_false (test_enabled (window, "page.add-vessel"));
  choose (window, "vessel", 0);
  type (window, "inner_box", "72");
  test_wait (begins, &wanted);
  g_assert_true (gtk_widget_get_visible (test_part (window, "add_vessel")));
  gtk_widget_activate_action (GTK_WIDGET (window), "page.add-vessel", NULL);
  test_wait (is_measuring, NULL);
  save_vessel ("Quern");
  test_wait (asks_for_vessel, window);
  g_assert_false (gtk_widget_get_visible (test_part (window, "add_vessel")));
  test_window_destroy (window);
}

static gboolean
has_gone_to_plan (gpointer window)
{
  return !WB_IS_LADDER_PAGE (wb_window_get_page (window)) && is_planning (window);
}

/* A plan needs the vessel of a diameter: it is asked for first, and the plan then holds it. */
static void
test_plan_diameter (void)
{
  WbWindow *window = open_demo ();
  Wanted wanted = { window, "For 72.0\u00a0mm" };
  WbPlanEditor *editor;
  g_autofree char *title = NULL;

  choose (window, "vessel", 0);
  type (window, "inner_box", "72");
  choose (window, "fragrance", 1);
  test_wait (begins, &wanted);
  gtk_widget_activate_action (GTK_WIDGET (window), "page.test", NULL);
  test_wait (is_measuring, NULL);
  g_assert_true (WB_IS_LADDER_PAGE (wb_window_get_page (window)));
  g_assert_nonnull (strstr (label (window, "missing"), "needs the vessel"));
  save_vessel ("Quern");
  test_wait (has_gone_to_plan, window);
  test_settle (window);
  editor = WB_PLAN_EDITOR (test_find (GTK_WIDGET (wb_window_get_page (window)), WB_TYPE_PLAN_EDITOR));
  /* it is ticked: what is told is what its maker did not measure */
  g_assert_nonnull (strstr (wb_plan_editor_get_problem (editor, "vessels"), "Quern"));
  g_assert_null (wb_plan_editor_get_problem (editor, "scents"));
  g_assert_null (wb_plan_editor_get_problem (editor, "wicks"));
  g_assert_cmpstr (label (window, "grid_heading"), ==, "9 samples of 3 combinations");
  title = dup_text (window, "title");
  g_assert_cmpstr (title, ==, "Which wick for Quern");
  test_window_destroy (window);
}

/* Nor has a plan a place for a load without its fragrance; asked for a load of 0, it is of the control. */
static void
test_plan_load (void)
{
  WbWindow *window = open_demo ();
  Wanted wanted = { window, "hold the load of" };
  WbPlanEditor *editor;

  gtk_widget_activate_action (GTK_WIDGET (window), "page.test", NULL);
  g_assert_true (says_missing (&wanted));
  g_assert_true (WB_IS_LADDER_PAGE (wb_window_get_page (window)));
  g_assert_false (gtk_widget_get_visible (test_part (window, "open_materials")));
  g_assert_true (gtk_widget_is_ancestor (gtk_root_get_focus (GTK_ROOT (window)), test_part (window, "fragrance"))
                 || gtk_root_get_focus (GTK_ROOT (window)) == test_part (window, "fragrance"));
  type (window, "load_box", "0");
  test_wait (can_test, window);
  g_assert_false (says_missing (&wanted));
  gtk_widget_activate_action (GTK_WIDGET (window), "page.test", NULL);
  test_wait (is_planning, window);
  test_settle (window);
  editor = WB_PLAN_EDITOR (test_find (GTK_WIDGET (wb_window_get_page (window)), WB_TYPE_PLAN_EDITOR));
  g_assert_null (wb_plan_editor_get_problem (editor, "scents"));
  test_window_destroy (window);
}

/* To begin with, a ladder is asked for the highest load of the newest experiment, in its own basis. */
static void
test_newest_load (void)
{
  g_autoptr (GPtrArray) cells = g_ptr_array_new_with_free_func (wb_record_free);
  static const struct { gint64 experiment; double load_pct; int basis; gboolean left_out; } rows[] = {
    { 1, 9, WB_BASIS_WAX, FALSE },
    { 3, 0, WB_BASIS_WAX, FALSE },
    { 3, 7, WB_BASIS_TOTAL, FALSE }, /* 7.53 % of the wax */
    { 3, 7.5, WB_BASIS_WAX, FALSE },
    { 3, 10, WB_BASIS_WAX, TRUE },
    { 2, 8, WB_BASIS_WAX, FALSE },
  };
  WbBasis basis;
  double load_pct;

  g_assert_false (wb_app_plan_ladder_find_load (cells, &load_pct, &basis));
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      WbCell *cell = wb_record_new (&wb_cell_type);

      cell->experiment = rows[i].experiment;
      cell->load_pct = rows[i].load_pct;
      cell->load_basis = rows[i].basis;
      cell->left_out = rows[i].left_out;
      g_ptr_array_add (cells, cell);
    }
  g_assert_true (wb_app_plan_ladder_find_load (cells, &load_pct, &basis));
  g_assert_cmpfloat (load_pct, ==, 7);
  g_assert_cmpint (basis, ==, WB_BASIS_TOTAL);
}

static gboolean
begins_with_load (gpointer window)
{
  return g_ascii_strtod (gtk_editable_get_text (get_field (window, "load_box")), NULL) == 11.5
         && gtk_drop_down_get_selected (GTK_DROP_DOWN (test_part (window, "basis"))) == WB_BASIS_TOTAL;
}

/* One more combination of the newest experiment, of more than all the others. */
static void
test_begins_with_load (void)
{
  WbWindow *window = test_window_new_demo_learnt ();
  g_autoptr (GPtrArray) cells = wb_app_query_list_sync (test_notebook (window), &wb_cell_type, NULL);
  WbCell *newest = g_ptr_array_index (cells, 0), *more;

  for (guint i = 0; i < cells->len; i++)
    if (((const WbCell *) g_ptr_array_index (cells, i))->experiment >= newest->experiment)
      newest = g_ptr_array_index (cells, i);
  more = wb_record_copy (newest);
  more->record.id = 0;
  more->left_out = FALSE;
  more->load_pct = 11.5;
  more->load_basis = WB_BASIS_TOTAL;
  wb_app_notebook_save_record_async (test_notebook (window), "Add a combination", more, NULL, NULL, NULL);
  test_settle (window);
  wb_record_free (more);
  show (window);
  test_wait (begins_with_load, window);
  test_window_destroy (window);
}

/* What is half planned is not dropped unasked. */
static void
test_plan_begun (void)
{
  WbWindow *window = test_window_new_demo_learnt ();
  GtkWidget *title;
  g_autofree char *kept = NULL;

  gtk_widget_activate_action (GTK_WIDGET (window), "win.new-experiment", NULL);
  test_wait (is_planning, window);
  title = wb_record_form_get_field (WB_RECORD_FORM (test_part (window, "form")), "title");
  gtk_editable_set_text (GTK_EDITABLE (test_find (title, GTK_TYPE_ENTRY)), "Half planned");
  show (window);
  test_wait (can_test, window);
  choose (window, "fragrance", 1);
  test_wait (can_test, window);
  gtk_widget_activate_action (GTK_WIDGET (window), "page.test", NULL);
  test_settle (window);
  kept = dup_text (window, "title");
  g_assert_cmpstr (kept, ==, "Half planned");
  g_assert_nonnull (test_find_window (GTK_TYPE_MESSAGE_DIALOG));
  gtk_dialog_response (GTK_DIALOG (test_find_window (GTK_TYPE_MESSAGE_DIALOG)), GTK_RESPONSE_CANCEL);
  test_settle (window);
  test_window_destroy (window);
}

/* ---- Around it ---- */

/* An answer waits while another page is looked at; what was recorded meanwhile is news to it. */
static void
test_kept (void)
{
  WbWindow *window = open_demo ();
  g_autofree char *answer = g_strdup (label (window, "answer_text"));

  gtk_widget_activate_action (GTK_WIDGET (window), "win.show", "s", "today");
  show (window);
  g_assert_true (can_test (window));
  g_assert_cmpstr (label (window, "answer_text"), ==, answer);
  test_window_destroy (window);
}

static gboolean
shows_materials (gpointer window)
{
  return test_enabled (window, "page.ladder");
}

/* From the vessel's own page; the demo's first one. */
static void
test_from_vessel (void)
{
  WbWindow *window = test_window_new_demo_learnt ();
  Wanted wanted = { window, "For 76.2\u00a0mm" };

  gtk_widget_activate_action (GTK_WIDGET (window), "win.show", "s", "materials");
  test_wait (shows_materials, window);
  gtk_widget_activate_action (GTK_WIDGET (window), "page.ladder", NULL);
  g_assert_true (WB_IS_LADDER_PAGE (wb_window_get_page (window)));
  test_wait (begins, &wanted);
  test_window_destroy (window);
}

/* The tests that it rests on are one step away. */
static void
test_earlier (void)
{
  WbWindow *window = open_demo ();
  GtkWidget *link = test_find (test_part (window, "rests_on"), GTK_TYPE_LINK_BUTTON);
  gint64 first = g_ascii_strtoll (gtk_link_button_get_uri (GTK_LINK_BUTTON (link)), NULL, 10);

  g_assert_cmpint (first, !=, 0);
  g_signal_emit_by_name (link, "clicked");
  g_assert_cmpint (wb_page_get_experiment (wb_window_get_page (window)), ==, first);
  test_settle (window);
  test_window_destroy (window);
}

void
test_ladder_add (void)
{
  g_test_add_func ("/views/ladder/a-question-has-an-answer", test_answer);
  g_test_add_func ("/views/ladder/what-is-asked-last-is-answered", test_change);
  g_test_add_func ("/views/ladder/what-is-wrong-is-said", test_wrong);
  g_test_add_func ("/views/ladder/no-basis-says-what-to-do", test_no_basis);
  g_test_add_func ("/views/ladder/no-wax-leads-to-the-materials", test_no_wax);
  g_test_add_func ("/views/ladder/its-wicks-go-into-a-plan", test_plan);
  g_test_add_func ("/views/ladder/several-wicks-keep-their-places-in-a-plan", test_plan_several);
  g_test_add_func ("/views/ladder/a-diameter-s-vessel-is-asked-for-before-its-plan", test_plan_diameter);
  g_test_add_func ("/views/ladder/a-load-s-fragrance-is-asked-for-before-its-plan", test_plan_load);
  g_test_add_func ("/views/ladder/the-newest-load-is-the-highest-of-the-newest-experiment", test_newest_load);
  g_test_add_func ("/views/ladder/it-begins-with-the-newest-load", test_begins_with_load);
  g_test_add_func ("/views/ladder/a-diameter-becomes-a-vessel", test_add_vessel);
  g_test_add_func ("/views/ladder/a-plan-that-was-begun-is-kept", test_plan_begun);
  g_test_add_func ("/views/ladder/an-answer-waits-while-another-page-is-shown", test_kept);
  g_test_add_func ("/views/ladder/a-vessel-asks-for-its-own", test_from_vessel);
  g_test_add_func ("/views/ladder/an-earlier-test-is-one-step-away", test_earlier);
}
