/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plan-editor.h"

#include "wb-ask-editor.h"
#include "wb-bundle.h"
#include "wb-cell-grid.h"
#include "wb-focus-walk.h"
#include "wb-limit-list.h"
#include "wb-plan-cells.h"
#include "wb-plan-shelf.h"
#include "wb-plan-shortlist.h"
#include "wb-plan-words.h"
#include "wb-quantity-entry.h"
#include "wb-record-field.h"
#include "wb-record-form.h"
#include "wb-scent-list.h"
#include "wb-wick-list.h"

#include <glib/gi18n.h>
#include <math.h>

struct _WbPlanEditor
{
  GtkWidget        parent_instance;

  /* children */
  GtkWidget       *paned;
  WbRecordForm    *form;
  GtkBox          *vessels_box;
  WbTickList      *vessels;
  GtkLabel        *vessels_problem;
  GtkBox          *wicks_box;
  WbTickList      *wicks;
  WbPlanShortlist *shortlist;
  WbWickList      *several;
  GtkLabel        *wicks_problem;
  WbScentList     *scents;
  GtkLabel        *scents_problem;
  WbQuantityEntry *samples;
  GtkWidget       *missing;
  GtkLabel        *missing_label;
  GtkLabel        *samples_problem;
  GtkExpander     *protocol_expander;
  WbRecordForm    *protocol;
  GtkExpander     *asked_expander;
  WbAskEditor     *asked;
  GtkExpander     *limits_expander;
  WbLimitList     *limits;
  GtkLabel        *limits_problem;
  GtkLabel        *changes;
  GtkLabel        *changes_warning;
  GtkLabel        *grid_heading;
  GtkLabel        *totals;
  GtkLabel        *stock;
  GtkLabel        *cells_problem;
  GtkWidget       *grid_side;
  WbCellGrid      *cells;
  GtkWidget       *order_hint;

  /* owned */
  WbDesk          *desk;
  WbAppPlan       *plan;
  GSignalGroup    *plan_signals;

  /* state */
  gboolean         touched;
  gboolean         told;    /* what is merely missing may be said: the person tried to save */
  gboolean         filling;
};

G_DEFINE_FINAL_TYPE (WbPlanEditor, wb_plan_editor, GTK_TYPE_WIDGET)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

/* Of the experiment; the rest is the program's own, or stands elsewhere on the page. */
static const char *const not_asked[] = {
  "code", "protocol", "profile", "samples_per_cell", "seed", "repeats", "closed", "imported", NULL
};
/* Of the protocol: its name comes from the experiment's code, and what it asks has an editor of its own. */
static const char *const not_asked_of_protocol[] = {
  "name", "samples_wanted", "ask_lighting", "ask_round", "ask_before_snuffing", "ask_after_snuffing", "ask_next_day", NULL
};

static void
touch (WbPlanEditor *self)
{
  self->touched = TRUE;
  g_signal_emit (self, signals[CHANGED], 0);
}

/* ---- Problems ---- */

static GtkLabel *
problem_label (WbPlanEditor *self,
               const char   *field)
{
  if (g_str_equal (field, "vessels"))
    return self->vessels_problem;
  if (g_str_equal (field, "wicks"))
    return self->wicks_problem;
  if (g_str_equal (field, "scents") || g_str_equal (field, "load"))
    return self->scents_problem;
  if (g_str_equal (field, "samples"))
    return self->samples_problem;
  if (g_str_equal (field, "limits"))
    return self->limits_problem;
  return self->cells_problem;
}

static void
clear_label (GtkLabel *label)
{
  gtk_label_set_text (label, "");
  gtk_widget_set_visible (GTK_WIDGET (label), FALSE);
  gtk_widget_remove_css_class (GTK_WIDGET (label), "problem");
  gtk_widget_add_css_class (GTK_WIDGET (label), "caution");
}

static void
add_to_label (GtkLabel               *label,
              const WbAppPlanProblem *problem)
{
  const char *before = gtk_label_get_text (label);
  g_autofree char *text = *before != '\0' ? g_strdup_printf ("%s\n%s", before, problem->text) : g_strdup (problem->text);

  gtk_label_set_text (label, text);
  gtk_widget_set_tooltip_text (GTK_WIDGET (label), text);
  gtk_widget_set_visible (GTK_WIDGET (label), TRUE);
  if (!problem->blocks)
    return;
  gtk_widget_remove_css_class (GTK_WIDGET (label), "caution");
  gtk_widget_add_css_class (GTK_WIDGET (label), "problem");
}

static void
show_problems (WbPlanEditor *self)
{
  GtkLabel *labels[] = { self->vessels_problem, self->wicks_problem, self->scents_problem, self->samples_problem, self->limits_problem,
                         self->cells_problem };
  const GPtrArray *problems = wb_app_plan_get_problems (self->plan);

  for (guint i = 0; i < G_N_ELEMENTS (labels); i++)
    clear_label (labels[i]);
  for (guint i = 0; i < problems->len; i++)
    {
      const WbAppPlanProblem *problem = problems->pdata[i];
      GtkWidget *field = wb_record_form_get_field (self->form, problem->field);

      if (problem->blocks && !self->told)
        continue;
      if (field != NULL)
        wb_record_field_set_problem (WB_RECORD_FIELD (field), problem->text);
      else
        add_to_label (problem_label (self, problem->field), problem);
    }
}

/* Puts the focus where the first of what stands in the way can be mended. */
static void
focus_problem (WbPlanEditor *self)
{
  const WbAppPlanProblem *problem = wb_app_plan_get_problems (self->plan)->pdata[0];
  GtkWidget *field = wb_record_form_get_field (self->form, problem->field);
  GtkLabel *label = problem_label (self, problem->field);

  if (field != NULL)
    gtk_widget_grab_focus (field);
  else if (label == self->vessels_problem)
    gtk_widget_child_focus (GTK_WIDGET (self->vessels_box), GTK_DIR_TAB_FORWARD);
  else if (label == self->wicks_problem)
    gtk_widget_child_focus (GTK_WIDGET (self->wicks_box), GTK_DIR_TAB_FORWARD);
  else if (label == self->scents_problem)
    gtk_widget_child_focus (GTK_WIDGET (self->scents), GTK_DIR_TAB_FORWARD);
  else if (label == self->samples_problem)
    gtk_widget_grab_focus (GTK_WIDGET (self->samples));
  else if (label == self->limits_problem)
    {
      gtk_expander_set_expanded (self->limits_expander, TRUE);
      gtk_widget_grab_focus (GTK_WIDGET (self->limits_expander));
    }
  else
    gtk_widget_child_focus (GTK_WIDGET (self->cells), GTK_DIR_TAB_FORWARD);
}

/* ---- What the plan comes to ---- */

static void
show_cells (WbPlanEditor *self)
{
  wb_plan_cells_fill (self->cells, self->plan, wb_desk_get_unit (self->desk, WB_QUANTITY_LENGTH));
  gtk_widget_set_visible (self->order_hint, wb_app_plan_get_cells (self->plan)->len > 1);
}

static void
show_words (GtkLabel   *label,
            const char *words)
{
  gtk_label_set_text (label, words != NULL ? words : "");
  gtk_widget_set_visible (GTK_WIDGET (label), words != NULL);
}

static void
show_stock (WbPlanEditor     *self,
            const WbNotebook *settings)
{
  const WbCraftStock *stock = wb_app_plan_get_stock (self->plan);
  g_autoptr (GArray) needs = wb_app_plan_dup_needs (self->plan);
  g_autofree char *text = NULL;

  if (stock != NULL)
    text = wb_plan_words_dup_stock (needs, stock, wb_app_plan_get_materials (self->plan), settings, wb_desk_get_unit (self->desk, WB_QUANTITY_MASS));
  show_words (self->stock, text);
}

static void
show_totals (WbPlanEditor *self)
{
  WbCraftGridTotals totals = wb_app_plan_get_totals (self->plan, 0);
  const WbNotebook *settings = wb_app_notebook_get_settings (wb_desk_get_notebook (self->desk));
  g_autofree char *heading = wb_plan_words_dup_heading (&totals);
  g_autofree char *text = wb_plan_words_dup_totals (&totals, settings, wb_desk_get_unit (self->desk, WB_QUANTITY_MASS));

  gtk_label_set_text (self->grid_heading, heading);
  gtk_label_set_text (self->totals, text);
  show_stock (self, settings);
}

/* What differs from the experiment that is repeated. */
static void
show_changes (WbPlanEditor *self)
{
  const GPtrArray *changes = wb_app_plan_get_changes (self->plan);
  g_autofree char *words = changes != NULL ? wb_craft_repeat_dup_words (changes, wb_app_plan_get_repeated (self->plan)) : NULL;
  g_autofree char *warning = changes != NULL ? wb_craft_repeat_dup_warning (changes) : NULL;

  show_words (self->changes, words);
  show_words (self->changes_warning, warning);
}

static void
on_plan_changed_cb (WbPlanEditor *self)
{
  show_changes (self);
  show_cells (self);
  show_totals (self);
  show_problems (self);
}

/* ---- What the person does ---- */

/* Shows a share only beside the material that it is a share of. */
static void
follow_reference (WbPlanEditor *self,
                  const char   *name,
                  gboolean      any,
                  gint64        chosen,
                  const char   *share)
{
  WbExperiment *experiment = wb_app_plan_get_experiment (self->plan);
  const WbFieldSpec *spec = wb_record_type_find_field (&wb_experiment_type, share);

  wb_record_form_set_shown (self->form, name, any || chosen != 0);
  wb_record_form_set_shown (self->form, share, chosen != 0);
  if (chosen != 0)
    return;
  wb_record_set_real (experiment, spec, NAN);
  wb_record_field_read (WB_RECORD_FIELD (wb_record_form_get_field (self->form, share)), experiment);
}

static void
follow_form (WbPlanEditor *self)
{
  const WbExperiment *experiment = wb_app_plan_get_experiment (self->plan);
  const WbAppMaterials *materials = wb_app_plan_get_materials (self->plan);

  follow_reference (self, "dye", materials->dyes->len > 0, experiment->dye, "dye_pct");
  follow_reference (self, "dye", materials->dyes->len > 0, experiment->dye, "dye_drops_per_kg");
  follow_reference (self, "additive", materials->additives->len > 0, experiment->additive, "additive_pct");
}

static void
on_form_changed_cb (WbPlanEditor *self)
{
  if (self->plan == NULL || self->filling)
    return;
  wb_record_form_write (self->form, wb_app_plan_get_experiment (self->plan));
  follow_form (self);
  wb_app_plan_touch (self->plan);
  touch (self);
}

static void
on_protocol_changed_cb (WbPlanEditor *self)
{
  if (self->plan == NULL || self->filling)
    return;
  wb_record_form_write (self->protocol, wb_app_plan_get_protocol (self->plan));
  wb_app_plan_touch (self->plan);
  touch (self);
}

static void
on_asked_changed_cb (WbPlanEditor *self)
{
  if (self->plan == NULL || self->filling)
    return;
  wb_ask_editor_write (self->asked, wb_app_plan_get_protocol (self->plan));
  wb_app_plan_touch (self->plan);
  touch (self);
}

static void
on_limits_changed_cb (WbPlanEditor *self)
{
  if (self->plan == NULL || self->filling)
    return;
  wb_app_plan_touch (self->plan);
  touch (self);
}

static void
on_vessel_toggled_cb (WbPlanEditor *self,
                      const GArray *ids,
                      gboolean      on)
{
  for (guint i = 0; i < ids->len; i++)
    wb_app_plan_set_vessel (self->plan, g_array_index (ids, gint64, i), on);
  touch (self);
}

/* A whole series, or one of it: the plan takes all in one step. */
static void
on_wick_toggled_cb (WbPlanEditor *self,
                    const GArray *ids,
                    gboolean      on)
{
  wb_app_plan_set_wicks (self->plan, ids, on);
  touch (self);
}

/* Those that are ticked stand alone; the lines hold the others. */
static void
on_several_changed_cb (WbPlanEditor *self)
{
  g_autoptr (GArray) choices = NULL;
  const GArray *before;

  if (self->plan == NULL || self->filling)
    return;
  choices = wb_wick_list_dup_choices (self->several);
  before = wb_app_plan_get_wick_choices (self->plan);
  for (guint i = 0; i < before->len; i++)
    if (g_array_index (before, WbCraftWickChoice, i).count == 1)
      g_array_append_val (choices, g_array_index (before, WbCraftWickChoice, i));
  wb_app_plan_set_wick_choices (self->plan, choices);
  touch (self);
}

static void
on_scents_changed_cb (WbPlanEditor *self)
{
  g_autoptr (GArray) scents = NULL;

  if (self->plan == NULL || self->filling)
    return;
  scents = wb_scent_list_dup_scents (self->scents);
  wb_app_plan_set_scents (self->plan, scents);
  touch (self);
}

static void
on_samples_changed_cb (WbPlanEditor *self)
{
  double n;

  if (self->plan == NULL || self->filling)
    return;
  n = wb_quantity_entry_get_value (self->samples);
  wb_app_plan_set_samples_per_cell (self->plan, isnan (n) ? 0 : (guint) n);
  touch (self);
}

static void
on_cell_toggled_cb (WbPlanEditor *self,
                    const GArray *cells,
                    gboolean      on)
{
  wb_app_plan_set_cells_on (self->plan, cells, on);
  touch (self);
}

/* What stands in the form follows where it is ordered too: the lines of the scents. */
static void
on_cells_moved_cb (WbPlanEditor *self,
                   int           part,
                   guint         cell,
                   guint         other)
{
  static const WbAppPlanPart parts[] = { WB_APP_PLAN_VESSEL, WB_APP_PLAN_WICK, WB_APP_PLAN_SCENT };

  if (part == WB_CELL_GRID_SCENT)
    wb_scent_list_move (self->scents, wb_app_plan_get_place (self->plan, WB_APP_PLAN_SCENT, cell),
                        wb_app_plan_get_place (self->plan, WB_APP_PLAN_SCENT, other));
  wb_app_plan_move (self->plan, parts[part], cell, other);
  touch (self);
}

/* ---- Filling ---- */

/* An empty shelf leads to where it is filled; the plan waits meanwhile. */
static void
say_missing (WbPlanEditor         *self,
             const WbAppMaterials *materials)
{
  g_autofree char *missing = wb_plan_shelf_dup_missing (materials);

  gtk_widget_set_visible (self->missing, missing != NULL);
  gtk_label_set_text (self->missing_label, missing != NULL ? missing : "");
}

static void
fill_ticks (WbPlanEditor *self)
{
  const WbAppMaterials *materials = wb_app_plan_get_materials (self->plan);

  for (guint i = 0; i < materials->vessels->len; i++)
    {
      gint64 id = ((const WbRecord *) materials->vessels->pdata[i])->id;

      wb_tick_list_set_on (self->vessels, id, wb_app_plan_has_vessel (self->plan, id));
    }
  for (guint i = 0; i < materials->wicks->len; i++)
    {
      gint64 id = ((const WbRecord *) materials->wicks->pdata[i])->id;

      wb_tick_list_set_on (self->wicks, id, wb_app_plan_has_wick (self->plan, id));
    }
}

static void
fill_units (WbPlanEditor *self)
{
  wb_wick_list_set_unit (self->several, wb_desk_get_unit (self->desk, WB_QUANTITY_LENGTH));
}

static void
offer_several (WbPlanEditor *self)
{
  g_autoptr (GPtrArray) wicks = wb_plan_shelf_sort_wicks (wb_app_plan_get_materials (self->plan)->wicks);

  wb_wick_list_set_wicks (self->several, wicks);
}

static void
fill_forms (WbPlanEditor *self)
{
  gboolean us_units = wb_app_notebook_get_settings (wb_desk_get_notebook (self->desk))->us_units;

  wb_record_form_set_us_units (self->form, us_units);
  wb_record_form_set_record (self->form, wb_app_plan_get_experiment (self->plan));
  wb_record_form_set_us_units (self->protocol, us_units);
  wb_record_form_set_record (self->protocol, wb_app_plan_get_protocol (self->plan));
  wb_ask_editor_set_protocol (self->asked, wb_app_plan_get_protocol (self->plan));
  wb_limit_list_set_limits (self->limits, wb_app_plan_get_limits (self->plan), us_units);
  wb_scent_list_set_fragrances (self->scents, wb_app_plan_get_materials (self->plan)->fragrances);
  wb_scent_list_set_scents (self->scents, wb_app_plan_get_scents (self->plan));
  wb_quantity_entry_set_value (self->samples, (double) wb_app_plan_get_experiment (self->plan)->samples_per_cell);
  offer_several (self);
  wb_wick_list_set_choices (self->several, wb_app_plan_get_wick_choices (self->plan));
  gtk_expander_set_expanded (self->protocol_expander, FALSE);
  gtk_expander_set_expanded (self->asked_expander, FALSE);
  gtk_expander_set_expanded (self->limits_expander, FALSE);
}

/* The plan's wicks are others, and its note says why: by the shortlist. */
static void
on_shortlist_taken_cb (WbPlanEditor *self)
{
  const char *note = wb_app_plan_get_experiment (self->plan)->note;

  self->filling = TRUE;
  wb_record_field_put_typed (WB_RECORD_FIELD (wb_record_form_get_field (self->form, "note")), note != NULL ? note : "");
  fill_ticks (self);
  wb_wick_list_set_choices (self->several, wb_app_plan_get_wick_choices (self->plan));
  self->filling = FALSE;
  touch (self);
}

/* ---- Class ---- */

static void
wb_plan_editor_dispose (GObject *object)
{
  WbPlanEditor *self = WB_PLAN_EDITOR (object);

  g_clear_object (&self->plan_signals);
  g_clear_object (&self->plan);
  g_clear_object (&self->desk);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_PLAN_EDITOR);
  G_OBJECT_CLASS (wb_plan_editor_parent_class)->dispose (object);
}

/* Of the title: it is the first that a new plan wants. */
static gboolean
wb_plan_editor_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (wb_record_form_get_field (WB_PLAN_EDITOR (widget)->form, "title"));
}

static void
wb_plan_editor_class_init (WbPlanEditorClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_ASK_EDITOR);
  g_type_ensure (WB_TYPE_CELL_GRID);
  g_type_ensure (WB_TYPE_LIMIT_LIST);
  g_type_ensure (WB_TYPE_PLAN_SHORTLIST);
  g_type_ensure (WB_TYPE_QUANTITY_ENTRY);
  g_type_ensure (WB_TYPE_RECORD_FORM);
  g_type_ensure (WB_TYPE_SCENT_LIST);
  g_type_ensure (WB_TYPE_WICK_LIST);
  G_OBJECT_CLASS (klass)->dispose = wb_plan_editor_dispose;
  widget_class->grab_focus = wb_plan_editor_grab_focus;
  widget_class->focus = wb_focus_walk;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_PLAN_EDITOR, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "plan-editor.ui");
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, paned);
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, form);
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, vessels_box);
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, vessels_problem);
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, wicks_box);
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, shortlist);
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, several);
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, wicks_problem);
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, scents);
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, scents_problem);
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, samples);
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, missing);
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, missing_label);
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, samples_problem);
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, protocol_expander);
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, protocol);
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, asked_expander);
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, asked);
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, limits_expander);
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, limits);
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, limits_problem);
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, changes);
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, changes_warning);
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, grid_heading);
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, totals);
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, stock);
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, cells_problem);
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, grid_side);
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, cells);
  gtk_widget_class_bind_template_child (widget_class, WbPlanEditor, order_hint);
  gtk_widget_class_bind_template_callback (widget_class, on_form_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_protocol_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_asked_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_limits_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_scents_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_samples_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_several_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_shortlist_taken_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_cell_toggled_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_cells_moved_cb);
}

static void
wb_plan_editor_init (WbPlanEditor *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  wb_focus_walk_fold (self->protocol_expander);
  wb_focus_walk_fold (self->asked_expander);
  wb_focus_walk_fold (self->limits_expander);
  self->vessels = WB_TICK_LIST (wb_tick_list_new (1, _("Vessels")));
  gtk_box_append (self->vessels_box, GTK_WIDGET (self->vessels));
  self->wicks = WB_TICK_LIST (wb_tick_list_new (6, _("Wicks")));
  gtk_box_append (self->wicks_box, GTK_WIDGET (self->wicks));
  wb_tick_list_add_drop_place (self->grid_side, GTK_WIDGET (self));
  g_signal_connect_object (self->vessels, "toggled", G_CALLBACK (on_vessel_toggled_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->wicks, "toggled", G_CALLBACK (on_wick_toggled_cb), self, G_CONNECT_SWAPPED);
  self->plan_signals = g_signal_group_new (WB_TYPE_APP_PLAN);
  g_signal_group_connect_swapped (self->plan_signals, "changed", G_CALLBACK (on_plan_changed_cb), self);
  g_signal_group_connect_swapped (self->plan_signals, "outlook-changed", G_CALLBACK (show_totals), self);
  wb_record_form_set_hidden (self->form, not_asked);
  wb_record_form_set_hidden (self->protocol, not_asked_of_protocol);
  wb_quantity_entry_set_range (self->samples, 1, 100);
  wb_quantity_entry_set_integer (self->samples, TRUE);
  wb_quantity_entry_set_required (self->samples, TRUE);
  wb_quantity_entry_set_label (self->samples, _("Samples of each combination"));
}

void
wb_plan_editor_set_plan (WbPlanEditor *self,
                         WbDesk       *desk,
                         WbAppPlan    *plan)
{
  g_return_if_fail (WB_IS_PLAN_EDITOR (self));
  g_return_if_fail ((desk == NULL) == (plan == NULL));

  g_set_object (&self->desk, desk);
  g_set_object (&self->plan, plan);
  g_signal_group_set_target (self->plan_signals, plan);
  wb_plan_shortlist_set_plan (self->shortlist, desk, plan);
  wb_limit_list_set_limits (self->limits, NULL, FALSE);
  self->touched = FALSE;
  self->told = FALSE;
  if (plan == NULL)
    return;
  self->filling = TRUE;
  fill_forms (self);
  self->filling = FALSE;
  wb_plan_editor_refresh (self);
}

void
wb_plan_editor_refresh (WbPlanEditor *self)
{
  const WbAppMaterials *materials;

  g_return_if_fail (WB_IS_PLAN_EDITOR (self));
  g_return_if_fail (self->plan != NULL);

  materials = wb_app_plan_get_materials (self->plan);
  say_missing (self, materials);
  self->filling = TRUE;
  wb_plan_shelf_offer (self->form, "wax", materials->waxes);
  wb_plan_shelf_offer (self->form, "dye", materials->dyes);
  wb_plan_shelf_offer (self->form, "additive", materials->additives);
  wb_plan_shelf_fill_vessels (self->vessels, materials->vessels);
  wb_plan_shelf_fill_wicks (self->wicks, materials->wicks);
  fill_ticks (self);
  offer_several (self);
  wb_scent_list_set_fragrances (self->scents, materials->fragrances);
  fill_units (self);
  follow_form (self);
  self->filling = FALSE;
  on_plan_changed_cb (self);
}

gboolean
wb_plan_editor_get_touched (WbPlanEditor *self)
{
  g_return_val_if_fail (WB_IS_PLAN_EDITOR (self), FALSE);
  return self->touched;
}

void
wb_plan_editor_tell (WbPlanEditor *self)
{
  g_return_if_fail (WB_IS_PLAN_EDITOR (self));
  g_return_if_fail (self->plan != NULL);

  self->told = TRUE;
  show_problems (self);
}

gboolean
wb_plan_editor_check (WbPlanEditor *self)
{
  g_return_val_if_fail (WB_IS_PLAN_EDITOR (self), FALSE);
  g_return_val_if_fail (self->plan != NULL, FALSE);

  self->told = TRUE;
  show_problems (self);
  /* A field that cannot be read comes first: the plan knows only that nothing stands there. */
  if (!wb_record_form_check (self->form) || !wb_scent_list_check (self->scents))
    return FALSE;
  if (!wb_record_form_check (self->protocol))
    {
      gtk_expander_set_expanded (self->protocol_expander, TRUE);
      return FALSE;
    }
  if (!wb_limit_list_check (self->limits))
    {
      gtk_expander_set_expanded (self->limits_expander, TRUE);
      return FALSE;
    }
  if (!wb_wick_list_check (self->several))
    return FALSE;
  if (!wb_quantity_entry_check (self->samples))
    {
      gtk_widget_grab_focus (GTK_WIDGET (self->samples));
      return FALSE;
    }
  if (wb_app_plan_is_complete (self->plan))
    return TRUE;
  focus_problem (self);
  return FALSE;
}

const char *
wb_plan_editor_get_problem (WbPlanEditor *self,
                            const char   *field)
{
  GtkLabel *label;

  g_return_val_if_fail (WB_IS_PLAN_EDITOR (self), NULL);

  if (wb_record_form_get_field (self->form, field) != NULL)
    return wb_record_form_get_problem (self->form, field);
  label = problem_label (self, field);
  return gtk_widget_get_visible (GTK_WIDGET (label)) ? gtk_label_get_text (label) : NULL;
}
