/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plan-shortlist.h"

#include "wb-app-plan-shortlist.h"
#include "wb-bundle.h"
#include "wb-grey.h"
#include "wb-job-bar.h"
#include "wb-problem.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>

/* CSS node: planshortlist. Accessible: a group; the answer is a status. */

struct _WbPlanShortlist
{
  GtkWidget         parent_instance;

  /* children */
  GtkWidget        *ask_box;
  GtkWidget        *ask;
  GtkLabel         *hint;
  WbJobBar         *job_bar;
  GtkWidget        *answer_box;
  GtkLabel         *answer;
  GtkWidget        *items;
  GtkLabel         *next;
  GtkWidget        *take;
  GtkWidget        *back;

  /* owned */
  WbDesk           *desk;
  WbAppPlan        *plan;
  GSignalGroup     *plan_signals;
  WbAppJob         *job;      /* the question that is on its way; NULL: none */
  WbCraftShortlist *list;     /* what is shown; NULL: nothing */
  char             *asked;    /* of what the answer speaks */
  char             *taken;    /* the same, once it is taken; NULL: it is not */
  GArray           *before;   /* WbCraftWickChoice: what was chosen when it was taken */
  char             *noted;    /* the answer that the plan's note got; it outlives the list. NULL: none */
};

G_DEFINE_FINAL_TYPE (WbPlanShortlist, wb_plan_shortlist, GTK_TYPE_WIDGET)

enum { TAKEN, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
stop_asking (WbPlanShortlist *self)
{
  if (self->job == NULL)
    return;
  wb_app_job_cancel (self->job);
  g_clear_object (&self->job);
  if (self->job_bar != NULL)
    wb_job_bar_set_job (self->job_bar, NULL, NULL);
}

static void
clear_answer (WbPlanShortlist *self)
{
  stop_asking (self);
  g_clear_pointer (&self->list, wb_craft_shortlist_free);
  g_clear_pointer (&self->asked, g_free);
  g_clear_pointer (&self->taken, g_free);
  g_clear_pointer (&self->before, g_array_unref);
}

/* ---- The answer ---- */

static GtkWidget *
text_new (const char *text,
          gboolean    strong,
          int         characters)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0, "yalign", 0.0, "wrap", TRUE, "wrap-mode",
                                   PANGO_WRAP_WORD_CHAR, "max-width-chars", characters, NULL);

  if (strong)
    gtk_widget_add_css_class (label, "strong");
  return label;
}

/* Those beside each other of whom the same is said stand in one line. */
static void
show_items (WbPlanShortlist *self)
{
  GtkWidget *child;
  int row = 0;

  while ((child = gtk_widget_get_first_child (self->items)) != NULL)
    gtk_grid_remove (GTK_GRID (self->items), child);
  for (guint i = 0, end; i < self->list->items->len; i = end)
    {
      const WbCraftShortlistItem *item = self->list->items->pdata[i];
      g_autoptr (GString) names = g_string_new (item->name);
      GtkWidget *mark;

      for (end = i + 1; end < self->list->items->len; end++)
        {
          const WbCraftShortlistItem *other = self->list->items->pdata[end];

          if (other->taken != item->taken || g_strcmp0 (other->reason, item->reason) != 0)
            break;
          g_string_append_printf (names, ", %s", other->name);
        }
      mark = gtk_image_new_from_icon_name (item->taken ? "object-select-symbolic" : "list-remove-symbolic");
      gtk_widget_set_valign (mark, GTK_ALIGN_START);
      gtk_accessible_update_property (GTK_ACCESSIBLE (mark), GTK_ACCESSIBLE_PROPERTY_LABEL, item->taken ? _("first") : _("waits"), -1);
      gtk_grid_attach (GTK_GRID (self->items), mark, 0, row, 1, 1);
      gtk_grid_attach (GTK_GRID (self->items), text_new (names->str, item->taken, 14), 1, row, 1, 1);
      child = text_new (item->reason, FALSE, 30);
      gtk_widget_set_hexpand (child, TRUE);
      gtk_grid_attach (GTK_GRID (self->items), child, 2, row++, 1, 1);
    }
}

static void
show_answer (WbPlanShortlist *self)
{
  gtk_widget_set_visible (self->answer_box, self->list != NULL);
  if (self->list == NULL)
    return;
  gtk_label_set_text (self->answer, self->list->answer);
  gtk_label_set_text (self->next, self->list->next);
  gtk_widget_set_visible (GTK_WIDGET (self->next), *self->list->next != '\0');
  show_items (self);
}

static void
update_actions (WbPlanShortlist *self)
{
  gboolean can = self->plan != NULL && wb_app_plan_can_ask_shortlist (self->plan);

  wb_grey_set (self->ask, !can ? _("Tick the wicks at hand and one vessel, then ask") : self->job != NULL ? _("It is being reckoned") : NULL);
  gtk_label_set_text (self->hint, can ? _("The three or four to burn first, and why") : _("Tick the wicks at hand and one vessel, then ask"));
  gtk_widget_set_visible (self->take, self->taken == NULL && self->list != NULL && wb_craft_shortlist_count_taken (self->list) > 0);
  gtk_widget_set_visible (self->back, self->taken != NULL);
}

static void
on_plan_changed_cb (WbPlanShortlist *self)
{
  g_autofree char *asked = wb_app_plan_dup_asked (self->plan);

  if (self->asked != NULL && g_strcmp0 (asked, self->asked) != 0 && g_strcmp0 (asked, self->taken) != 0)
    {
      clear_answer (self);
      show_answer (self);
    }
  update_actions (self);
}

/* ---- What the person does ---- */

static void
on_answered_cb (GObject      *source,
                GAsyncResult *result,
                gpointer      data)
{
  g_autoptr (WbPlanShortlist) self = wb_weak_widget_take (data);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbCraftShortlist) list = wb_app_answers_shortlist_finish (WB_APP_ANSWERS (source), result, &error);

  /* Given up, or asked for another plan meanwhile: stop_asking has shown it. */
  if (self == NULL || self->job == NULL || g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    {
      if (self != NULL && self->job != NULL && wb_app_job_is_cancelled (self->job))
        {
          clear_answer (self);
          update_actions (self);
        }
      return;
    }
  g_clear_object (&self->job);
  wb_job_bar_set_job (self->job_bar, NULL, NULL);
  if (list == NULL)
    wb_problem_show (GTK_WIDGET (self), _("The wicks could not be looked up"), error);
  self->list = g_steal_pointer (&list);
  show_answer (self);
  update_actions (self);
  if (self->list != NULL)
    gtk_widget_grab_focus (gtk_widget_get_visible (self->take) ? self->take : self->ask);
}

static void
on_ask_clicked_cb (WbPlanShortlist *self)
{
  clear_answer (self);
  show_answer (self);
  self->asked = wb_app_plan_dup_asked (self->plan);
  self->job = wb_app_job_new ();
  wb_job_bar_set_job (self->job_bar, self->job, _("Looking through earlier burns"));
  update_actions (self);
  wb_app_plan_shortlist_async (self->plan, wb_desk_get_answers (self->desk), self->job, on_answered_cb, wb_weak_widget_new (self));
}

static void
on_take_clicked_cb (WbPlanShortlist *self)
{
  const GArray *choices = wb_app_plan_get_wick_choices (self->plan);

  self->before = g_array_copy ((GArray *) choices);
  /* Known before the plan tells of its change: that change is the answer's own. */
  g_signal_group_block (self->plan_signals);
  wb_app_plan_take_shortlist (self->plan, self->list, self->noted);
  g_signal_group_unblock (self->plan_signals);
  g_free (self->noted);
  self->noted = g_strdup (self->list->answer);
  self->taken = wb_app_plan_dup_asked (self->plan);
  update_actions (self);
  gtk_widget_grab_focus (self->back);
  g_signal_emit (self, signals[TAKEN], 0);
}

static void
on_back_clicked_cb (WbPlanShortlist *self)
{
  g_autoptr (GArray) before = g_steal_pointer (&self->before);

  wb_app_plan_undo_shortlist (self->plan, self->list, before);
  g_clear_pointer (&self->noted, g_free);
  g_clear_pointer (&self->taken, g_free);
  update_actions (self);
  gtk_widget_grab_focus (self->take);
  g_signal_emit (self, signals[TAKEN], 0);
}

/* ---- Class ---- */

static void
wb_plan_shortlist_dispose (GObject *object)
{
  WbPlanShortlist *self = WB_PLAN_SHORTLIST (object);

  clear_answer (self);
  g_clear_pointer (&self->noted, g_free);
  g_clear_object (&self->plan_signals);
  g_clear_object (&self->plan);
  g_clear_object (&self->desk);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_PLAN_SHORTLIST);
  G_OBJECT_CLASS (wb_plan_shortlist_parent_class)->dispose (object);
}

static void
wb_plan_shortlist_class_init (WbPlanShortlistClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_JOB_BAR);
  G_OBJECT_CLASS (klass)->dispose = wb_plan_shortlist_dispose;
  signals[TAKEN] = g_signal_new ("taken", WB_TYPE_PLAN_SHORTLIST, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_css_name (widget_class, "planshortlist");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "plan-shortlist.ui");
  gtk_widget_class_bind_template_child (widget_class, WbPlanShortlist, ask_box);
  gtk_widget_class_bind_template_child (widget_class, WbPlanShortlist, ask);
  gtk_widget_class_bind_template_child (widget_class, WbPlanShortlist, hint);
  gtk_widget_class_bind_template_child (widget_class, WbPlanShortlist, job_bar);
  gtk_widget_class_bind_template_child (widget_class, WbPlanShortlist, answer_box);
  gtk_widget_class_bind_template_child (widget_class, WbPlanShortlist, answer);
  gtk_widget_class_bind_template_child (widget_class, WbPlanShortlist, items);
  gtk_widget_class_bind_template_child (widget_class, WbPlanShortlist, next);
  gtk_widget_class_bind_template_child (widget_class, WbPlanShortlist, take);
  gtk_widget_class_bind_template_child (widget_class, WbPlanShortlist, back);
  gtk_widget_class_bind_template_callback (widget_class, on_ask_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_take_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_back_clicked_cb);
}

static void
wb_plan_shortlist_init (WbPlanShortlist *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->plan_signals = g_signal_group_new (WB_TYPE_APP_PLAN);
  g_signal_group_connect_swapped (self->plan_signals, "changed", G_CALLBACK (on_plan_changed_cb), self);
}

void
wb_plan_shortlist_set_plan (WbPlanShortlist *self,
                            WbDesk          *desk,
                            WbAppPlan       *plan)
{
  g_return_if_fail (WB_IS_PLAN_SHORTLIST (self));
  g_return_if_fail ((desk == NULL) == (plan == NULL));

  clear_answer (self);
  g_clear_pointer (&self->noted, g_free);
  g_set_object (&self->desk, desk);
  g_set_object (&self->plan, plan);
  g_signal_group_set_target (self->plan_signals, plan);
  show_answer (self);
  update_actions (self);
}

const char *
wb_plan_shortlist_get_answer (WbPlanShortlist *self)
{
  g_return_val_if_fail (WB_IS_PLAN_SHORTLIST (self), NULL);
  return self->list != NULL ? self->list->answer : NULL;
}
