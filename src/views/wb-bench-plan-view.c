/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-bench-plan-view.h"

#include "wb-app-bench-plan.h"
#include "wb-bundle.h"
#include "wb-grey.h"
#include "wb-job-bar.h"
#include "wb-problem.h"
#include "wb-tooltip.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>
#include <math.h>

/*
 * CSS node: benchplan; its rows have the class .cohort, their samples .chip. A chip is a button of the sample's code, which opens a menu of cohorts; its accessible
 * name tells combination and cohort besides. One that may not move is insensitive, and its tooltip says why.
 */

struct _WbBenchPlanView
{
  GtkWidget       parent_instance;

  /* children */
  GtkWidget      *box;
  GtkWidget      *preferences;
  GtkLabel       *words;
  GtkLabel       *life;
  GtkButton      *divide;
  WbJobBar       *job_bar;
  GtkLabel       *told;       /* what a move did */
  GtkWidget      *rows;

  /* owned */
  WbAppNotebook  *notebook;   /* NULL: none */
  WbAppBenchPlan *plan;       /* NULL: not read yet */
  GCancellable   *cancellable;
  WbAppJob       *job;        /* of a plan that is being made; NULL: none is */
  GtkWidget      *menu;       /* the popover that is open, or was last; NULL: none */

  /* state */
  gint64          experiment;
  gint64          moved;      /* sample that `told` speaks of, and its cohort; 0: none */
  gint64          moved_to;
  gint64          focus;      /* sample whose chip gets the focus when it is shown anew; 0: none */
};

G_DEFINE_FINAL_TYPE (WbBenchPlanView, wb_bench_plan_view, GTK_TYPE_WIDGET)

static GQuark quark_sample, quark_cohort;

static guint
get_sample (gpointer chip)
{
  return GPOINTER_TO_UINT (g_object_get_qdata (chip, quark_sample)) - 1;
}

static gint64
id_of (WbBenchPlanView *self,
       guint            sample)
{
  return wb_dataset_get_sample (self->plan->data, sample)->record.id;
}

static gboolean
any_may_move (const WbAppBenchPlan *plan)
{
  for (guint i = 0; i < plan->data->samples->len; i++)
    {
      g_autofree char *refusal = wb_app_bench_plan_dup_refusal (plan, i);

      if (refusal == NULL)
        return TRUE;
    }
  return FALSE;
}

/* Why the bench is not divided now; NULL: it can be. Static. */
static const char *
get_obstacle (WbBenchPlanView *self,
              gboolean         writable)
{
  if (self->notebook != NULL && !writable)
    return _("The notebook can be read only");
  if (self->plan == NULL)
    return _("The samples are not read yet");
  if (self->job != NULL)
    return _("It is being divided");
  return any_may_move (self->plan) ? NULL : _("No sample can be put into another cohort: each was burnt already, or is set aside or kept");
}

static void
update_actions (WbBenchPlanView *self)
{
  gboolean writable = self->notebook != NULL && !wb_app_notebook_get_read_only (self->notebook);
  gboolean ready = writable && self->plan != NULL && self->job == NULL && any_may_move (self->plan);

  gtk_widget_action_set_enabled (GTK_WIDGET (self), "bench-plan.divide", ready);
  wb_grey_say (GTK_WIDGET (self->divide), get_obstacle (self, writable));
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "bench-plan.move", ready);
}

/* ---- Moving ---- */

static void
on_moved_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      user)
{
  g_autoptr (WbBenchPlanView) self = wb_weak_widget_take (user);
  g_autoptr (GError) error = NULL;
  g_autofree char *words = wb_app_bench_plan_move_finish (WB_APP_NOTEBOOK (source), result, &error);

  if (self == NULL || self->notebook != WB_APP_NOTEBOOK (source))
    return;
  if (words == NULL)
    {
      wb_problem_show (GTK_WIDGET (self), _("The sample was not moved"), error);
      return;
    }
  gtk_label_set_text (self->told, words);
  gtk_widget_set_visible (GTK_WIDGET (self->told), *words != '\0');
  wb_bench_plan_view_set (self, self->notebook, self->experiment);
}

static void
move (WbBenchPlanView *self,
      gint64           sample,
      gint64           cohort)
{
  if (self->notebook == NULL || wb_app_notebook_get_read_only (self->notebook) || self->job != NULL)
    return;
  self->focus = self->moved = sample;
  self->moved_to = cohort;
  wb_app_bench_plan_move_async (self->notebook, self->experiment, sample, cohort, NULL, on_moved_cb, wb_weak_widget_new (self));
}

static void
on_move_action_cb (GtkWidget  *widget,
                   const char *action,
                   GVariant   *parameter)
{
  gint64 sample, cohort;

  g_variant_get (parameter, "(xx)", &sample, &cohort);
  move (WB_BENCH_PLAN_VIEW (widget), sample, cohort);
}

/* The chip in or around a widget; NULL: none. */
static GtkWidget *
find_chip (WbBenchPlanView *self,
           GtkWidget       *widget)
{
  for (; widget != NULL && widget != GTK_WIDGET (self); widget = gtk_widget_get_parent (widget))
    if (g_object_get_qdata (G_OBJECT (widget), quark_sample) != NULL)
      return widget;
  return NULL;
}

/* The cohort shown above or below; below the last a new one; 0: there is none. */
static gint64
find_beside (WbBenchPlanView *self,
             gint64           cohort,
             int              step)
{
  gint64 best = 0;

  for (guint i = 0; i < self->plan->cohorts->n_samples; i++)
    {
      gint64 other = self->plan->cohorts->cohorts[i];

      if (other > 0 && (other - cohort) * step > 0 && (best == 0 || (other - best) * step < 0))
        best = other;
    }
  return best == 0 && step > 0 ? self->plan->highest + 1 : best;
}

static gboolean
on_key_pressed_cb (WbBenchPlanView *self,
                   guint            key,
                   guint            code,
                   GdkModifierType  modifiers)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *chip = root != NULL ? find_chip (self, gtk_root_get_focus (root)) : NULL;
  gint64 cohort;

  if (chip == NULL || self->plan == NULL || (modifiers & gtk_accelerator_get_default_mod_mask ()) != GDK_ALT_MASK
      || (key != GDK_KEY_Up && key != GDK_KEY_Down))
    return FALSE;
  cohort = find_beside (self, self->plan->cohorts->cohorts[get_sample (chip)], key == GDK_KEY_Up ? -1 : 1);
  if (cohort > 0)
    move (self, id_of (self, get_sample (chip)), cohort);
  return TRUE;
}

static void
add_to_menu (WbBenchPlanView *self,
             GMenu           *menu,
             gint64           sample,
             gint64           cohort,
             const char      *label)
{
  g_autoptr (GMenuItem) item = g_menu_item_new (label, NULL);

  g_menu_item_set_action_and_target (item, "bench-plan.move", "(xx)", sample, cohort);
  g_menu_append_item (menu, item);
}

static void
drop_menu (WbBenchPlanView *self)
{
  g_clear_pointer (&self->menu, gtk_widget_unparent);
}

static void
on_chip_clicked_cb (GtkWidget       *chip,
                    WbBenchPlanView *self)
{
  g_autoptr (GMenu) menu = g_menu_new ();
  guint sample = get_sample (chip);
  graphene_rect_t bounds;

  drop_menu (self);
  if (!gtk_widget_compute_bounds (chip, GTK_WIDGET (self), &bounds))
    return;
  for (gint64 cohort = 1; cohort <= self->plan->highest; cohort++)
    if (cohort != self->plan->cohorts->cohorts[sample])
      {
        g_autofree char *label = g_strdup_printf (_("To cohort %d"), (int) cohort);

        add_to_menu (self, menu, id_of (self, sample), cohort, label);
      }
  add_to_menu (self, menu, id_of (self, sample), self->plan->highest + 1, _("To a new cohort"));
  self->menu = gtk_popover_menu_new_from_model (G_MENU_MODEL (menu));
  gtk_widget_set_parent (self->menu, GTK_WIDGET (self));
  gtk_popover_set_pointing_to (GTK_POPOVER (self->menu), &(GdkRectangle) { (int) bounds.origin.x, (int) bounds.origin.y, (int) bounds.size.width,
                                                                           (int) bounds.size.height });
  gtk_popover_popup (GTK_POPOVER (self->menu));
}

/* ---- Drag and drop ---- */

static GdkContentProvider *
on_drag_prepare_cb (GtkDragSource *source,
                    double         x,
                    double         y,
                    GtkWidget     *chip)
{
  WbBenchPlanView *self = WB_BENCH_PLAN_VIEW (gtk_widget_get_ancestor (chip, WB_TYPE_BENCH_PLAN_VIEW));
  g_autoptr (GdkPaintable) picture = gtk_widget_paintable_new (chip);

  if (!gtk_widget_is_sensitive (chip) || self == NULL || self->plan == NULL)
    return NULL;
  gtk_drag_source_set_icon (source, picture, (int) x, (int) y);
  return gdk_content_provider_new_typed (G_TYPE_INT64, id_of (self, get_sample (chip)));
}

static gboolean
on_drop_cb (GtkDropTarget *target,
            const GValue  *value,
            double         x,
            double         y,
            GtkWidget     *row)
{
  WbBenchPlanView *self = WB_BENCH_PLAN_VIEW (gtk_widget_get_ancestor (row, WB_TYPE_BENCH_PLAN_VIEW));
  gint64 sample = g_value_get_int64 (value), cohort = GPOINTER_TO_INT (g_object_get_qdata (G_OBJECT (row), quark_cohort));

  if (self == NULL || self->plan == NULL)
    return FALSE;
  /* a sample of another window's notebook is none of these */
  for (guint i = 0; i < self->plan->data->samples->len; i++)
    if (id_of (self, i) == sample)
      {
        if (self->plan->cohorts->cohorts[i] != cohort)
          move (self, sample, cohort);
        return TRUE;
      }
  return FALSE;
}

/* ---- Rows ---- */

static GtkWidget *
label_new (const char *text,
           const char *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0, "wrap", TRUE, NULL);

  if (style != NULL)
    gtk_widget_add_css_class (label, style);
  return label;
}

static GtkWidget *
chip_new (WbBenchPlanView *self,
          guint            sample)
{
  const WbSample *record = wb_dataset_get_sample (self->plan->data, sample);
  g_autofree char *cell = wb_dataset_dup_cell_name (self->plan->data, g_array_index (self->plan->data->sample_cell, guint, sample));
  g_autofree char *refusal = wb_app_bench_plan_dup_refusal (self->plan, sample);
  g_autofree char *tip = refusal != NULL ? g_strdup_printf ("%s\n%s", cell, refusal) : g_strdup (cell);
  gint64 cohort = self->plan->cohorts->cohorts[sample];
  g_autofree char *name = cohort > 0 ? g_strdup_printf (_("%s, %s, cohort %d"), record->code, cell, (int) cohort)
                                     : g_strdup_printf (_("%s, %s, no cohort"), record->code, cell);
  GtkWidget *chip = gtk_button_new_with_label (record->code);
  GtkDragSource *source = gtk_drag_source_new ();

  g_object_set_qdata (G_OBJECT (chip), quark_sample, GUINT_TO_POINTER (sample + 1));
  gtk_widget_add_css_class (chip, "chip");
  gtk_widget_set_sensitive (chip, refusal == NULL);
  wb_tooltip_set (chip, tip);
  gtk_accessible_update_property (GTK_ACCESSIBLE (chip), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_drag_source_set_actions (source, GDK_ACTION_MOVE);
  /* before the button takes the press for a click */
  gtk_event_controller_set_propagation_phase (GTK_EVENT_CONTROLLER (source), GTK_PHASE_CAPTURE);
  g_signal_connect_object (source, "prepare", G_CALLBACK (on_drag_prepare_cb), chip, 0);
  gtk_widget_add_controller (chip, GTK_EVENT_CONTROLLER (source));
  g_signal_connect_object (chip, "clicked", G_CALLBACK (on_chip_clicked_cb), self, 0);
  return chip;
}

/* "8 evenings": what the cohort still takes; NULL: nothing to say. */
static char *
dup_evenings (const WbAppBenchPlan *plan,
              gint64                cohort)
{
  double evenings = wb_app_bench_plan_get_evenings (plan, cohort);

  if (isnan (evenings))
    return g_strdup (_("evenings not known"));
  if (evenings == 0)
    return g_strdup (_("at its end"));
  return g_strdup_printf (ngettext ("%u evening", "%u evenings", (gulong) evenings), (guint) evenings);
}

static gboolean
is_begun (const WbAppBenchPlan *plan,
          gint64                cohort)
{
  for (guint i = 0; i < plan->cohorts->n_samples; i++)
    if (plan->cohorts->cohorts[i] == cohort && plan->burns[i] > 0)
      return TRUE;
  return FALSE;
}

/* Of samples of a cohort; NULL: all of them burn. */
static char *
dup_idle (guint n)
{
  if (n == 0)
    return NULL;
  return g_strdup_printf (ngettext ("%u does not burn: kept or set aside", "%u do not burn: kept or set aside", n), n);
}

/* shown: of its samples, those that do not burn among them. */
static GtkWidget *
head_new (WbBenchPlanView *self,
          gint64           cohort,
          guint            shown)
{
  guint n = wb_app_bench_plan_count (self->plan, cohort);
  g_autofree char *idle = dup_idle (shown - n);
  GtkWidget *head = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  g_autofree char *title = cohort > 0 ? g_strdup_printf (_("Cohort %d"), (int) cohort) : g_strdup (_("No cohort"));
  g_autofree char *samples = g_strdup_printf (ngettext ("%u sample", "%u samples", n), n);
  g_autofree char *evenings = cohort > 0 ? dup_evenings (self->plan, cohort) : NULL;
  g_autofree char *detail = evenings != NULL ? g_strdup_printf (_("%s, %s"), samples, evenings) : g_strdup (samples);

  gtk_box_append (GTK_BOX (head), label_new (title, "strong"));
  gtk_box_append (GTK_BOX (head), label_new (detail, "caption"));
  if (idle != NULL)
    gtk_box_append (GTK_BOX (head), label_new (idle, "caption"));
  if (cohort > 0 && cohort == self->plan->running)
    gtk_box_append (GTK_BOX (head), label_new (is_begun (self->plan, cohort) ? _("at the bench now") : _("goes to the bench first"), "caption"));
  if (n > self->plan->places && cohort > 0)
    {
      g_autofree char *over = g_strdup_printf (ngettext ("the bench has %u place", "the bench has %u places", self->plan->places), self->plan->places);

      gtk_box_append (GTK_BOX (head), label_new (over, "problem"));
    }
  gtk_widget_set_size_request (head, 170, -1);
  return head;
}

static void
add_row (WbBenchPlanView *self,
         gint64           cohort)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *flow = g_object_new (GTK_TYPE_FLOW_BOX, "selection-mode", GTK_SELECTION_NONE, "column-spacing", 4, "row-spacing", 4,
                                  "min-children-per-line", 4, "max-children-per-line", 24, "halign", GTK_ALIGN_START, "valign", GTK_ALIGN_CENTER, NULL);
  g_autofree char *name = cohort > 0 ? g_strdup_printf (_("Samples of cohort %d"), (int) cohort) : g_strdup (_("Samples without a cohort"));
  guint n = 0;

  for (guint i = 0; i < self->plan->data->samples->len; i++)
    if (self->plan->cohorts->cohorts[i] == cohort)
      {
        GtkWidget *child = gtk_flow_box_child_new ();

        gtk_flow_box_child_set_child (GTK_FLOW_BOX_CHILD (child), chip_new (self, i));
        gtk_widget_set_focusable (child, FALSE);
        gtk_widget_set_halign (child, GTK_ALIGN_START);
        gtk_flow_box_append (GTK_FLOW_BOX (flow), child);
        n++;
      }
  if (n == 0)
    {
      g_object_ref_sink (row);
      g_object_unref (row);
      g_object_ref_sink (flow);
      g_object_unref (flow);
      return;
    }
  gtk_accessible_update_property (GTK_ACCESSIBLE (flow), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_widget_add_css_class (row, "cohort");
  gtk_box_append (GTK_BOX (row), head_new (self, cohort, n));
  gtk_box_append (GTK_BOX (row), flow);
  if (cohort > 0)
    {
      GtkDropTarget *target = gtk_drop_target_new (G_TYPE_INT64, GDK_ACTION_MOVE);

      g_object_set_qdata (G_OBJECT (row), quark_cohort, GINT_TO_POINTER ((int) cohort));
      g_signal_connect_object (target, "drop", G_CALLBACK (on_drop_cb), row, 0);
      gtk_widget_add_controller (row, GTK_EVENT_CONTROLLER (target));
    }
  gtk_box_append (GTK_BOX (self->rows), row);
}

static GtkWidget *
find_chip_of (GtkWidget       *widget,
              WbBenchPlanView *self,
              gint64           sample)
{
  if (g_object_get_qdata (G_OBJECT (widget), quark_sample) != NULL)
    return id_of (self, get_sample (widget)) == sample ? widget : NULL;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *chip = find_chip_of (child, self, sample);

      if (chip != NULL)
        return chip;
    }
  return NULL;
}

/* The longest life of those that count: what the evenings rest on. */
static char *
dup_life (const WbAppBenchPlan *plan,
          gboolean              us_units)
{
  guint longest = G_MAXUINT;

  for (guint i = 0; i < plan->data->samples->len; i++)
    if (!plan->lives[i].ended
        && (longest == G_MAXUINT || isnan (plan->lives[i].burns_left) || plan->lives[i].burns_left > plan->lives[longest].burns_left))
      longest = i;
  return longest != G_MAXUINT ? wb_craft_lifetime_dup_words (&plan->lives[longest], us_units) : NULL;
}

static void
clear_rows (WbBenchPlanView *self)
{
  GtkWidget *child;

  drop_menu (self);
  while ((child = gtk_widget_get_first_child (self->rows)) != NULL)
    gtk_box_remove (GTK_BOX (self->rows), child);
}

/* What was told of a move, once it was taken back or another came after it. */
static void
forget_told (WbBenchPlanView *self)
{
  for (guint i = 0; i < self->plan->cohorts->n_samples; i++)
    if (id_of (self, i) == self->moved && self->plan->cohorts->cohorts[i] == self->moved_to)
      return;
  gtk_widget_set_visible (GTK_WIDGET (self->told), FALSE);
}

static char *
dup_places (guint    places,
            gboolean told)
{
  if (told)
    return g_strdup_printf (ngettext ("The bench has %u place.", "The bench has %u places.", places), places);
  return g_strdup_printf (ngettext ("The bench is taken to have %u place, the usual number, until Preferences say another.",
                                    "The bench is taken to have %u places, the usual number, until Preferences say another.", places), places);
}

static void
show_plan (WbBenchPlanView *self)
{
  const WbCraftCohorts *cohorts = self->plan->cohorts;
  gboolean divided = cohorts->kind != WB_CRAFT_COHORTS_NONE;
  g_autofree char *words = wb_craft_cohorts_dup_words (cohorts);
  gboolean told = !(wb_app_notebook_get_settings (self->notebook)->bench_places < 1);
  g_autofree char *places = dup_places (self->plan->places, told);
  g_autofree char *text = g_strdup_printf ("%s %s", words, places);
  g_autofree char *life = dup_life (self->plan, wb_app_notebook_get_settings (self->notebook)->us_units);
  GtkWidget *chip;

  gtk_label_set_text (self->words, text);
  gtk_widget_set_visible (self->preferences, !told);
  gtk_label_set_text (self->life, life != NULL ? life : "");
  gtk_widget_set_visible (GTK_WIDGET (self->life), life != NULL);
  gtk_button_set_label (self->divide, divided ? _("Divide anew") : _("Divide among cohorts"));
  clear_rows (self);
  for (gint64 cohort = 1; divided && cohort <= self->plan->highest; cohort++)
    add_row (self, cohort);
  if (divided)
    add_row (self, 0);
  gtk_widget_set_visible (self->rows, divided);
  forget_told (self);
  chip = self->focus != 0 ? find_chip_of (self->rows, self, self->focus) : NULL;
  self->focus = 0;
  if (chip != NULL)
    gtk_widget_grab_focus (chip);
  update_actions (self);
}

/* ---- Reading and making ---- */

static void
stop_reading (WbBenchPlanView *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
}

/* The rows are built anew: where one of their samples has the focus it keeps it. */
static void
keep_focus (WbBenchPlanView *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *chip = root != NULL && self->plan != NULL ? find_chip (self, gtk_root_get_focus (root)) : NULL;

  if (chip != NULL && self->focus == 0)
    self->focus = id_of (self, get_sample (chip));
}

static void
on_loaded_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      user)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppBenchPlan) plan = wb_app_bench_plan_load_finish (WB_APP_NOTEBOOK (source), result, &error);
  WbBenchPlanView *self;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  self = WB_BENCH_PLAN_VIEW (user);
  if (plan == NULL)
    {
      /* the page tells of an experiment that was taken back */
      if (!g_error_matches (error, WB_APP_ERROR, WB_APP_ERROR_UNKNOWN))
        wb_problem_show (GTK_WIDGET (self), _("The bench plan could not be read"), error);
      return;
    }
  keep_focus (self);
  g_clear_pointer (&self->plan, wb_app_bench_plan_free);
  self->plan = g_steal_pointer (&plan);
  show_plan (self);
}

static void
end_job (WbBenchPlanView *self)
{
  g_clear_object (&self->job);
  wb_job_bar_set_job (self->job_bar, NULL, NULL);
  update_actions (self);
}

static void
on_made_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      user)
{
  g_autoptr (WbBenchPlanView) self = wb_weak_widget_take (user);
  g_autoptr (GError) error = NULL;
  gboolean made = wb_app_bench_plan_make_finish (WB_APP_NOTEBOOK (source), result, &error);

  if (self == NULL || self->notebook != WB_APP_NOTEBOOK (source))
    return;
  end_job (self);
  if (!made)
    {
      wb_problem_show (GTK_WIDGET (self), _("The bench was not divided"), error);
      return;
    }
  gtk_widget_set_visible (GTK_WIDGET (self->told), FALSE);
  wb_bench_plan_view_set (self, self->notebook, self->experiment);
}

static void
on_divide_action_cb (GtkWidget  *widget,
                     const char *action,
                     GVariant   *parameter)
{
  WbBenchPlanView *self = WB_BENCH_PLAN_VIEW (widget);

  self->job = wb_app_job_new ();
  wb_job_bar_set_job (self->job_bar, self->job, _("Looking for the best cohorts"));
  wb_app_bench_plan_make_async (self->notebook, self->experiment, self->job, on_made_cb, wb_weak_widget_new (self));
  update_actions (self);
}

void
wb_bench_plan_view_set (WbBenchPlanView *self,
                        WbAppNotebook   *notebook,
                        gint64           experiment)
{
  gboolean same;

  g_return_if_fail (WB_IS_BENCH_PLAN_VIEW (self));

  same = notebook == self->notebook && experiment == self->experiment;
  stop_reading (self);
  if (!same)
    {
      if (self->job != NULL)
        wb_app_job_cancel (self->job);
      end_job (self);
      clear_rows (self);
      gtk_label_set_text (self->words, "");
      gtk_widget_set_visible (GTK_WIDGET (self->life), FALSE);
      gtk_widget_set_visible (GTK_WIDGET (self->told), FALSE);
      g_clear_pointer (&self->plan, wb_app_bench_plan_free);
    }
  g_set_object (&self->notebook, notebook);
  self->experiment = experiment;
  update_actions (self);
  if (notebook == NULL || experiment == 0)
    return;
  self->cancellable = g_cancellable_new ();
  wb_app_bench_plan_load_async (notebook, experiment, self->cancellable, on_loaded_cb, self);
}

/* ---- Class ---- */

static void
wb_bench_plan_view_dispose (GObject *object)
{
  WbBenchPlanView *self = WB_BENCH_PLAN_VIEW (object);

  stop_reading (self);
  if (self->job != NULL)
    wb_app_job_cancel (self->job);
  g_clear_object (&self->job);
  drop_menu (self);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_BENCH_PLAN_VIEW);
  g_clear_object (&self->notebook);
  G_OBJECT_CLASS (wb_bench_plan_view_parent_class)->dispose (object);
}

static void
wb_bench_plan_view_finalize (GObject *object)
{
  g_clear_pointer (&WB_BENCH_PLAN_VIEW (object)->plan, wb_app_bench_plan_free);
  G_OBJECT_CLASS (wb_bench_plan_view_parent_class)->finalize (object);
}

static void
wb_bench_plan_view_class_init (WbBenchPlanViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  quark_sample = g_quark_from_static_string ("wb-bench-plan-sample");
  quark_cohort = g_quark_from_static_string ("wb-bench-plan-cohort");
  g_type_ensure (WB_TYPE_JOB_BAR);
  G_OBJECT_CLASS (klass)->dispose = wb_bench_plan_view_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_bench_plan_view_finalize;
  gtk_widget_class_set_css_name (widget_class, "benchplan");
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "bench-plan-view.ui");
  gtk_widget_class_bind_template_child (widget_class, WbBenchPlanView, box);
  gtk_widget_class_bind_template_child (widget_class, WbBenchPlanView, preferences);
  gtk_widget_class_bind_template_child (widget_class, WbBenchPlanView, words);
  gtk_widget_class_bind_template_child (widget_class, WbBenchPlanView, life);
  gtk_widget_class_bind_template_child (widget_class, WbBenchPlanView, divide);
  gtk_widget_class_bind_template_child (widget_class, WbBenchPlanView, job_bar);
  gtk_widget_class_bind_template_child (widget_class, WbBenchPlanView, told);
  gtk_widget_class_bind_template_child (widget_class, WbBenchPlanView, rows);
  gtk_widget_class_bind_template_callback (widget_class, on_key_pressed_cb);
  gtk_widget_class_install_action (widget_class, "bench-plan.divide", NULL, on_divide_action_cb);
  gtk_widget_class_install_action (widget_class, "bench-plan.move", "(xx)", on_move_action_cb);
}

static void
wb_bench_plan_view_init (WbBenchPlanView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  update_actions (self);
}
