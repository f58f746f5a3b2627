/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-decision-strip.h"

#include "wb-accessible-name.h"
#include "wb-badge.h"
#include "wb-bundle.h"
#include "wb-decision-dialog.h"
#include "wb-finish-dialog.h"
#include "wb-grey.h"
#include "wb-paperwork.h"
#include "wb-production-dialog.h"
#include "wb-withdraw-dialog.h"

#include <glib/gi18n.h>

struct _WbDecisionStrip
{
  GtkWidget       parent_instance;

  /* children */
  GtkWidget      *column;
  GtkWidget      *box;
  WbBadge        *badge;
  GtkLabel       *text;
  GtkLabel       *standing;
  GtkWidget      *buttons;
  GtkWidget      *papers;
  GtkWidget      *finish;
  GtkWidget      *sign;
  GtkWidget      *withdraw;

  /* owned */
  WbDesk         *desk;
  WbCraftAnswer  *answer;
  WbAppDecisions *decisions;    /* NULL: not read yet */
  GCancellable   *cancellable;
  GSimpleActionGroup *actions;
  GSignalGroup   *notebook_signals;
  GSignalGroup   *touched_signals;

  /* state */
  guint           group;
};

G_DEFINE_FINAL_TYPE (WbDecisionStrip, wb_decision_strip, GTK_TYPE_WIDGET)

static const WbCraftGroup *
get_group (WbDecisionStrip *self)
{
  return &self->answer->ranking->groups[self->group];
}

const WbAppTouched *
wb_decision_strip_get_decision (WbDecisionStrip *self)
{
  g_return_val_if_fail (WB_IS_DECISION_STRIP (self), NULL);
  return self->answer != NULL && self->decisions != NULL ? wb_app_decisions_find (self->decisions, self->answer->data, get_group (self)) : NULL;
}

WbCraftAnswer *
wb_decision_strip_get_answer (WbDecisionStrip *self)
{
  g_return_val_if_fail (WB_IS_DECISION_STRIP (self), NULL);
  return self->answer;
}

/* ---- Words ---- */

/* "B4, signed by Wren on 2 Mar 2026." */
static char *
dup_decided (WbDecisionStrip    *self,
             const WbAppTouched *decision)
{
  const WbDataset *data = self->answer->data;
  g_autofree char *name = NULL;
  g_autofree char *day = decision->signed_at.known ? wb_instant_format_date (decision->signed_at) : NULL;
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < data->cells->len && name == NULL; i++)
    if (wb_dataset_get_cell (data, i)->record.id == decision->record->cell)
      name = wb_dataset_dup_wick_title (data, i);
  if (name == NULL)
    name = g_strdup (decision->cell);
  if (decision->signed_by != NULL && day != NULL)
    /* Translators: a wick; a person; a day. */
    g_string_append_printf (text, _("%s, signed by %s on %s."), name, decision->signed_by, day);
  else
    g_string_append_printf (text, _("%s, signed."), name);
  if (decision->record->against != NULL)
    g_string_append_printf (text, _(" Chosen against the verdict: %s."), decision->record->against);
  return g_string_free (text, FALSE);
}

/* Beside its buttons a decision is told in short. What it is worth now, and why, has the strip's whole width below them: cut off, it
 * would hide what reopened it. */
static void
tell_standing (WbDecisionStrip    *self,
               const WbAppTouched *decision)
{
  g_autofree char *text = decision != NULL ? wb_craft_touched_dup_standing (decision->changes, decision->decision) : NULL;

  gtk_label_set_text (self->standing, text != NULL ? text : "");
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->standing), text);
  gtk_widget_set_visible (GTK_WIDGET (self->standing), text != NULL);
}

static char *
dup_undecided (WbDecisionStrip *self)
{
  const WbAppWithdrawn *withdrawn = wb_app_decisions_find_withdrawn (self->decisions, self->answer->data, get_group (self));
  g_autofree char *day = NULL;

  if (withdrawn == NULL)
    return g_strdup (_("Nothing is signed for this vessel and scent."));
  day = withdrawn->at.known ? wb_instant_format_date (withdrawn->at) : g_strdup ("–");
  /* Translators: a day; what its maker said. */
  return g_strdup_printf (_("Nothing is signed for this vessel and scent. The last decision was withdrawn on %s. %s"), day, withdrawn->why);
}

static void
set_badge (WbDecisionStrip    *self,
           const WbAppTouched *decision)
{
  if (decision == NULL)
    {
      wb_badge_set (self->badge, WB_BADGE_NOTE, _("not decided"));
      return;
    }
  switch (wb_craft_touched_get_standing (decision->changes, decision->decision))
    {
    case WB_CRAFT_STANDING_REOPENED:
      wb_badge_set (self->badge, WB_BADGE_ASK, _("reopened"));
      break;
    case WB_CRAFT_STANDING_IN_PART:
      wb_badge_set (self->badge, WB_BADGE_ASK, _("for some lots only"));
      break;
    case WB_CRAFT_STANDING_IN_TEST:
      wb_badge_set (self->badge, WB_BADGE_ASK, _("in test"));
      break;
    case WB_CRAFT_STANDING_REPLACED:
      wb_badge_set (self->badge, WB_BADGE_NOTE, _("replaced"));
      break;
    case WB_CRAFT_STANDING_STANDS:
    default:
      wb_badge_set (self->badge, WB_BADGE_GOOD, _("decided"));
    }
}

static void
enable (WbDecisionStrip *self,
        const char      *name,
        GtkWidget       *button,
        const char      *why_not)
{
  GAction *action = g_action_map_lookup_action (G_ACTION_MAP (self->actions), name);

  g_simple_action_set_enabled (G_SIMPLE_ACTION (action), why_not == NULL);
  wb_grey_say (button, why_not);
}

static void
update (WbDecisionStrip *self)
{
  const WbAppTouched *decision = wb_decision_strip_get_decision (self);
  g_autofree char *text = NULL;
  const char *why_not;

  gtk_widget_set_visible (GTK_WIDGET (self), self->answer != NULL && self->decisions != NULL);
  if (self->answer == NULL || self->decisions == NULL)
    return;
  text = decision != NULL ? dup_decided (self, decision) : dup_undecided (self);
  set_badge (self, decision);
  tell_standing (self, decision);
  gtk_label_set_text (self->text, text);
  /* three lines at most stand there */
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->text), text);
  gtk_button_set_label (GTK_BUTTON (self->sign), decision != NULL ? _("Sign anew…") : _("Decide…"));
  wb_accessible_name_button (GTK_BUTTON (self->sign), gtk_button_get_label (GTK_BUTTON (self->sign)));
  gtk_widget_set_visible (self->withdraw, decision != NULL);
  gtk_widget_set_visible (self->finish, decision == NULL && !self->answer->data->experiment->closed && wb_craft_decision_is_all_rejected (self->answer));
  gtk_widget_set_visible (self->papers, decision != NULL);
  why_not = wb_app_notebook_get_read_only (wb_desk_get_notebook (self->desk)) ? _("The notebook can be read only") : NULL;
  enable (self, "sign", self->sign, why_not);
  enable (self, "finish", self->finish, why_not);
  enable (self, "withdraw", self->withdraw, decision == NULL ? _("Nothing is signed for this vessel and scent") : why_not);
}

/* ---- Reading ---- */

static void
stop (WbDecisionStrip *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
}

static void
on_read_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      user)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppDecisions) decisions = wb_app_decisions_finish (WB_APP_NOTEBOOK (source), result, &error);
  WbDecisionStrip *self;

  /* Cancelled, the strip may be gone. What cannot be read now is told by the page itself. */
  if (decisions == NULL)
    return;
  self = WB_DECISION_STRIP (user);
  g_clear_object (&self->cancellable);
  wb_app_decisions_free (self->decisions);
  self->decisions = g_steal_pointer (&decisions);
  update (self);
}

static void
read_decisions (WbDecisionStrip *self)
{
  stop (self);
  if (self->answer == NULL)
    return;
  self->cancellable = g_cancellable_new ();
  wb_app_decisions_async (wb_desk_get_notebook (self->desk), self->answer->data->experiment->record.id, self->cancellable, on_read_cb, self);
}

/* A signature is told at once, not when the comparison that it makes stale was worked out again. */
static void
on_notebook_changed_cb (WbAppNotebook   *notebook,
                        gint64           entry,
                        gpointer         types,
                        gboolean         own,
                        WbDecisionStrip *self)
{
  if (wb_app_change_touches (types, &wb_decision_type) || wb_app_change_touches (types, &wb_confirmation_type))
    read_decisions (self);
}

static void
on_touched_changed_cb (WbAppTouchedList *touched,
                       WbDecisionStrip  *self)
{
  read_decisions (self);
}

/* ---- Actions ---- */

static void
on_sign_cb (GSimpleAction *action,
            GVariant      *parameter,
            gpointer       user)
{
  WbDecisionStrip *self = user;

  gtk_window_present (GTK_WINDOW (wb_decision_dialog_new (GTK_WIDGET (self), self->desk, self->answer->data->experiment->record.id,
                                                          wb_dataset_get_cell (self->answer->data, get_group (self)->vessel)->record.id)));
}

static void
on_withdraw_cb (GSimpleAction *action,
                GVariant      *parameter,
                gpointer       user)
{
  WbDecisionStrip *self = user;
  const WbAppTouched *decision = wb_decision_strip_get_decision (self);

  if (decision != NULL)
    gtk_window_present (GTK_WINDOW (wb_withdraw_dialog_new (GTK_WIDGET (self), wb_desk_get_notebook (self->desk), decision)));
}

static void
on_finish_cb (GSimpleAction *action,
              GVariant      *parameter,
              gpointer       user)
{
  WbDecisionStrip *self = user;

  gtk_window_present (GTK_WINDOW (wb_finish_dialog_new (GTK_WIDGET (self), wb_desk_get_notebook (self->desk), self->answer->data->experiment)));
}

static void
on_card_cb (GSimpleAction *action,
            GVariant      *parameter,
            gpointer       user)
{
  WbDecisionStrip *self = user;
  const WbAppTouched *decision = wb_decision_strip_get_decision (self);

  if (decision != NULL)
    wb_paperwork_recipe_card (GTK_WIDGET (self), wb_desk_get_notebook (self->desk), decision);
}

static void
on_production_cb (GSimpleAction *action,
                  GVariant      *parameter,
                  gpointer       user)
{
  WbDecisionStrip *self = user;
  const WbAppTouched *decision = wb_decision_strip_get_decision (self);

  if (decision != NULL)
    gtk_window_present (GTK_WINDOW (wb_production_dialog_new (GTK_WIDGET (self), wb_desk_get_notebook (self->desk), self->answer->data, decision)));
}

static const GActionEntry entries[] = {
  { "card", on_card_cb, NULL, NULL, NULL },
  { "finish", on_finish_cb, NULL, NULL, NULL },
  { "production", on_production_cb, NULL, NULL, NULL },
  { "sign", on_sign_cb, NULL, NULL, NULL },
  { "withdraw", on_withdraw_cb, NULL, NULL, NULL },
};

/* ---- Class ---- */

static void
wb_decision_strip_dispose (GObject *object)
{
  WbDecisionStrip *self = WB_DECISION_STRIP (object);

  stop (self);
  g_clear_pointer (&self->decisions, wb_app_decisions_free);
  g_clear_pointer (&self->answer, wb_craft_answer_unref);
  g_clear_object (&self->desk);
  g_clear_object (&self->actions);
  g_clear_object (&self->notebook_signals);
  g_clear_object (&self->touched_signals);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_DECISION_STRIP);
  G_OBJECT_CLASS (wb_decision_strip_parent_class)->dispose (object);
}

static void
wb_decision_strip_class_init (WbDecisionStripClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_BADGE);
  G_OBJECT_CLASS (klass)->dispose = wb_decision_strip_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "decisionstrip");
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "decision-strip.ui");
  gtk_widget_class_bind_template_child (widget_class, WbDecisionStrip, column);
  gtk_widget_class_bind_template_child (widget_class, WbDecisionStrip, box);
  gtk_widget_class_bind_template_child (widget_class, WbDecisionStrip, badge);
  gtk_widget_class_bind_template_child (widget_class, WbDecisionStrip, text);
  gtk_widget_class_bind_template_child (widget_class, WbDecisionStrip, standing);
  gtk_widget_class_bind_template_child (widget_class, WbDecisionStrip, buttons);
  gtk_widget_class_bind_template_child (widget_class, WbDecisionStrip, papers);
  gtk_widget_class_bind_template_child (widget_class, WbDecisionStrip, sign);
  gtk_widget_class_bind_template_child (widget_class, WbDecisionStrip, finish);
  gtk_widget_class_bind_template_child (widget_class, WbDecisionStrip, withdraw);
}

static void
wb_decision_strip_init (WbDecisionStrip *self)
{
  self->actions = g_simple_action_group_new ();
  self->notebook_signals = g_signal_group_new (WB_TYPE_APP_NOTEBOOK);
  g_signal_group_connect (self->notebook_signals, "changed", G_CALLBACK (on_notebook_changed_cb), self);
  self->touched_signals = g_signal_group_new (WB_TYPE_APP_TOUCHED_LIST);
  g_signal_group_connect (self->touched_signals, "changed", G_CALLBACK (on_touched_changed_cb), self);
  g_action_map_add_action_entries (G_ACTION_MAP (self->actions), entries, G_N_ELEMENTS (entries), self);
  gtk_widget_insert_action_group (GTK_WIDGET (self), "decision", G_ACTION_GROUP (self->actions));
  gtk_widget_init_template (GTK_WIDGET (self));
}

void
wb_decision_strip_show (WbDecisionStrip *self,
                        WbDesk          *desk,
                        WbCraftAnswer   *answer,
                        guint            group)
{
  g_return_if_fail (WB_IS_DECISION_STRIP (self));
  g_return_if_fail (answer == NULL || (desk != NULL && group < answer->ranking->n_groups));

  /* what was read of another experiment says nothing of this one */
  if (answer == NULL || self->answer == NULL || answer->data->experiment->record.id != self->answer->data->experiment->record.id)
    g_clear_pointer (&self->decisions, wb_app_decisions_free);
  g_clear_pointer (&self->answer, wb_craft_answer_unref);
  self->group = group;
  g_set_object (&self->desk, desk);
  g_signal_group_set_target (self->notebook_signals, desk != NULL ? wb_desk_get_notebook (desk) : NULL);
  g_signal_group_set_target (self->touched_signals, desk != NULL ? wb_app_today_get_touched (wb_desk_get_today (desk)) : NULL);
  if (answer != NULL)
    self->answer = wb_craft_answer_ref (answer);
  read_decisions (self);
  update (self);
}

void
wb_decision_strip_set_tall (WbDecisionStrip *self,
                            gboolean         tall)
{
  g_return_if_fail (WB_IS_DECISION_STRIP (self));
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self->box), tall ? GTK_ORIENTATION_VERTICAL : GTK_ORIENTATION_HORIZONTAL);
  gtk_widget_set_halign (GTK_WIDGET (self->badge), tall ? GTK_ALIGN_START : GTK_ALIGN_FILL);
}
