/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-decision-dialog.h"

#include "wb-accessible-name.h"
#include "wb-app-decision.h"
#include "wb-bundle.h"
#include "wb-choice-list.h"
#include "wb-craft-told.h"
#include "wb-decision-draft.h"
#include "wb-finish-dialog.h"
#include "wb-grey.h"
#include "wb-job-bar.h"
#include "wb-problem.h"
#include "wb-record-form.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>

#define DRAFT "decision"

struct _WbDecisionDialog
{
  GtkWindow           parent_instance;

  /* children */
  WbJobBar           *job_bar;
  GtkLabel           *heading;
  GtkLabel           *answer_text;
  GtkWidget          *choices;
  GtkWidget          *group_label;
  GtkDropDown        *group;
  GtkDropDown        *recipe;
  GtkLabel           *recipe_text;
  GtkLabel           *not_burnt;
  GtkLabel           *crossed;
  GtkLabel           *against;
  GtkWidget          *stale;
  GtkWidget          *kept;
  WbRecordForm       *form;
  GtkCheckButton     *finish;
  GtkLabel           *problem;
  GtkWidget          *none;
  GtkWidget          *sign;

  /* owned */
  WbDesk             *desk;
  WbAppJob           *job;      /* the answer's; NULL: none */
  GCancellable       *reading;  /* of the draft; NULL: none */
  WbCraftAnswer      *answer;
  WbAppDecisionDraft *draft;    /* of the group in front; NULL: not read yet */
  WbDecisionDraft    *typed;    /* what was typed; NULL: no answer came yet */

  /* state */
  gint64              experiment;
  gint64              first;    /* recipe to begin with; 0: the one that leads, or begun with already */
  gint64              cell;     /* of the vessel and scent to begin with; 0: the first undecided */
  gint64              shown;    /* the combination that is in the form; 0: none */
  gboolean            asked_anew; /* the answer, since a draft was stale */
  gboolean            filling;
  gboolean            saving;
};

G_DEFINE_FINAL_TYPE (WbDecisionDialog, wb_decision_dialog, GTK_TYPE_WINDOW)

/* What the answer says of the choice is kept with it, but is not the maker's to write. */
static const char *const hidden[] = {
  "experiment", "cell", "note", "crossed", "verdict", "score", "score_low", "score_high", "p_best", "p_near", "p_cross", "samples", "burns", "answer_entry", NULL
};

static guint
get_index (WbDecisionDialog *self)
{
  guint selected = gtk_drop_down_get_selected (self->recipe);

  return selected == GTK_INVALID_LIST_POSITION ? 0 : selected;
}

static const WbCraftDecision *
get_proposal (WbDecisionDialog *self)
{
  return self->draft != NULL && get_index (self) < self->draft->proposals->len ? g_ptr_array_index (self->draft->proposals, get_index (self)) : NULL;
}

static void
update (WbDecisionDialog *self)
{
  gtk_widget_set_visible (self->none, self->answer != NULL && !self->answer->data->experiment->closed && wb_craft_decision_is_all_rejected (self->answer)
                          && !wb_app_notebook_get_read_only (wb_desk_get_notebook (self->desk)));
  wb_grey_set (self->sign, wb_app_notebook_get_read_only (wb_desk_get_notebook (self->desk)) ? _("The notebook can be read only")
                           : self->saving ? _("It is being saved")
                           : get_proposal (self) != NULL ? NULL
                           : self->job != NULL || self->reading != NULL ? _("The recipes are being read") : _("There is no recipe to sign"));
}

/* ---- What stands first ---- */

/* A heading and a line each; nothing to tell hides it. */
static void
tell_list (GtkLabel        *label,
           const char      *heading,
           const GPtrArray *lines)
{
  g_autoptr (GString) text = g_string_new (heading);

  for (guint i = 0; i < lines->len; i++)
    g_string_append_printf (text, "\n• %s", (const char *) g_ptr_array_index (lines, i));
  gtk_label_set_text (label, text->str);
  gtk_widget_set_visible (GTK_WIDGET (label), lines->len > 0);
}

/* The verdict as the ranking beside the dialog tells it. */
static const char *
get_verdict (WbDecisionDialog      *self,
             const WbCraftDecision *proposal)
{
  const WbCraftRanking *ranking = self->answer != NULL ? self->answer->ranking : NULL;

  for (guint g = 0; ranking != NULL && g < ranking->n_groups; g++)
    for (guint i = 0; i < ranking->groups[g].n_cells; i++)
      if (ranking->groups[g].cells[i].cell == proposal->cell)
        return wb_craft_ranked_get_verdict_label (&ranking->groups[g].cells[i]);
  return wb_craft_verdict_get_label (proposal->verdict);
}

static char *
dup_against (WbDecisionDialog      *self,
             const WbCraftDecision *proposal)
{
  if (proposal->verdict == WB_CRAFT_VERDICT_REJECTED)
    /* Translators: a verdict on a wick, "crossed a limit"; reasons follow. */
    return g_strdup_printf (_("Verdict: %s, because:"), get_verdict (self, proposal));
  if (proposal->verdict == WB_CRAFT_VERDICT_RECOMMENDED)
    return g_strdup (_("It is the best of a poor field:"));
  return g_strdup (proposal->verdict == WB_CRAFT_VERDICT_TOO_LITTLE_DATA ? _("There is too little data on it:") : _("It is not recommended yet:"));
}

static void
show_cautions (WbDecisionDialog      *self,
               const WbCraftDecision *proposal)
{
  g_autofree char *against = dup_against (self, proposal);

  tell_list (self->not_burnt, _("It holds for the lots that were burnt only:"), proposal->not_burnt);
  tell_list (self->crossed, _("Candles of this recipe crossed a limit:"), proposal->crossed);
  tell_list (self->against, against, proposal->against);
}

/* ---- What is signed ---- */

static char *
dup_signer (WbDecisionDialog *self)
{
  const char *person = wb_app_settings_get_person (wb_desk_get_settings (self->desk));
  const WbDecision *earlier = self->draft->earlier->len > 0 ? g_ptr_array_index (self->draft->earlier, 0) : NULL;

  if (*person != '\0')
    return g_strdup (person);
  return earlier != NULL ? g_strdup (earlier->signed_by) : NULL;
}

static void
show_whole (GtkWidget *widget)
{
  if (GTK_IS_SCROLLED_WINDOW (widget))
    {
      gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (widget), -1);
      gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (widget), GTK_POLICY_NEVER, GTK_POLICY_NEVER);
    }
  else
    for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
      show_whole (child);
}

/* The usual field of a form shows the beginning of a text; here all is to be read before it is signed, and only the dialog scrolls. */
static void
make_room (WbDecisionDialog *self)
{
  static const char *const names[] = { "not_tested", "conditions", "rests_on", "holds_until", "against" };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    show_whole (wb_record_form_get_field (self->form, names[i]));
}

/* Written at each key: it outlives the dialog, and the program. */
static void
keep_typed (WbDecisionDialog *self)
{
  if (self->shown != 0)
    wb_decision_draft_keep (self->typed, self->shown, gtk_label_get_text (self->recipe_text), self->form);
}

/* What was typed for one recipe is there again when the person comes back to it from another, or on another day. */
static void
put_typed_back (WbDecisionDialog *self)
{
  gtk_widget_set_visible (self->kept,
                          wb_decision_draft_put_back (self->typed, self->shown, gtk_label_get_text (self->recipe_text), self->form));
}

static gboolean
has_typed (WbDecisionDialog *self)
{
  return wb_record_form_get_touched (self->form) || (self->typed != NULL && !wb_decision_draft_is_empty (self->typed));
}

static void
show_proposal (WbDecisionDialog *self)
{
  const WbCraftDecision *proposal = get_proposal (self);
  g_autoptr (WbRecord) record = NULL;

  if (proposal == NULL)
    return;
  record = (WbRecord *) wb_app_decision_draft_dup_record (self->draft, get_index (self));
  g_free (((WbDecision *) (gpointer) record)->signed_by);
  ((WbDecision *) (gpointer) record)->signed_by = dup_signer (self);
  keep_typed (self);
  gtk_label_set_text (self->recipe_text, proposal->recipe);
  show_cautions (self, proposal);
  wb_record_form_set_record (self->form, record);
  self->shown = ((WbDecision *) (gpointer) record)->cell;
  put_typed_back (self);
  make_room (self);
  wb_record_form_set_shown (self->form, "against", proposal->needs_reason);
  gtk_widget_set_visible (GTK_WIDGET (self->form), TRUE);
  gtk_widget_set_visible (GTK_WIDGET (self->recipe_text), TRUE);
  wb_problem_tell (self->problem, NULL);
  update (self);
}

static void
fill_recipes (WbDecisionDialog *self)
{
  g_autoptr (GtkStringList) titles = gtk_string_list_new (NULL);
  guint first = 0;

  for (guint i = 0; i < self->draft->proposals->len; i++)
    {
      const WbCraftDecision *proposal = g_ptr_array_index (self->draft->proposals, i);
      const char *verdict = get_verdict (self, proposal);
      const char *crossed = wb_craft_told_get_label (WB_CRAFT_TOLD_CROSSED);
      gboolean    adds = proposal->crossed->len > 0 && !g_str_equal (verdict, crossed);
      /* Translators: a wick; a verdict, "candidate"; "crossed a limit", though the samples that count did not. */
      g_autofree char *title = adds ? g_strdup_printf (_("%s · %s, %s"), proposal->name, verdict, crossed)
                                    : g_strdup_printf (_("%s · %s"), proposal->name, verdict);

      gtk_string_list_append (titles, title);
      if (wb_dataset_get_cell (self->answer->data, proposal->cell)->record.id == self->first)
        first = i;
    }
  self->first = 0;
  self->filling = TRUE;
  gtk_drop_down_set_model (self->recipe, G_LIST_MODEL (titles));
  gtk_drop_down_set_selected (self->recipe, first);
  self->filling = FALSE;
}

static gboolean
are_all_ended (const WbCraftAnswer *answer)
{
  for (guint i = 0; i < answer->data->samples->len; i++)
    {
      const WbSample *sample = wb_dataset_get_sample (answer->data, i);

      /* a reference is kept, not burnt */
      if (!answer->figures->ended[i] && !sample->retained && sample->set_aside == NULL && sample->set_aside_cause < 0)
        return FALSE;
    }
  return TRUE;
}

/* To finish the experiment goes with the decision that is its last, or where nothing is left to burn. */
static void
offer_finish (WbDecisionDialog *self)
{
  const WbExperiment *experiment = self->answer->data->experiment;
  gboolean ended = are_all_ended (self->answer);
  guint left = self->draft->undecided;
  g_autofree char *label = NULL;

  if (left == 0)
    label = g_strdup_printf (ended ? _("Finish %s with it") : _("Finish %s with it; its candles that still burn leave the bench"), experiment->code);
  else
    label = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "Finish %s with it, though for %u other vessel or scent nothing is signed",
                                          "Finish %s with it, though for %u other vessels or scents nothing is signed", left),
                             experiment->code, left);
  gtk_check_button_set_label (self->finish, label);
  gtk_check_button_set_active (self->finish, left == 0 && ended && !experiment->closed);
  gtk_widget_set_visible (GTK_WIDGET (self->finish), !experiment->closed && (left == 0 || ended));
}

/* ---- The draft ---- */

static void
stop_reading (WbDecisionDialog *self)
{
  if (self->reading != NULL)
    g_cancellable_cancel (self->reading);
  g_clear_object (&self->reading);
}

/* Nothing that can be signed: what was typed is kept for when there is again. */
static void
clear_draft (WbDecisionDialog *self)
{
  stop_reading (self);
  keep_typed (self);
  self->shown = 0;
  g_clear_pointer (&self->draft, wb_app_decision_draft_free);
  gtk_widget_set_visible (GTK_WIDGET (self->form), FALSE);
  gtk_widget_set_visible (GTK_WIDGET (self->recipe_text), FALSE);
  gtk_widget_set_visible (GTK_WIDGET (self->crossed), FALSE);
  gtk_widget_set_visible (GTK_WIDGET (self->against), FALSE);
  gtk_widget_set_visible (GTK_WIDGET (self->finish), FALSE);
  gtk_widget_set_visible (self->kept, FALSE);
  update (self);
}

static void ask_answer (WbDecisionDialog *self);

static void
on_draft_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      user)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppDecisionDraft) draft = wb_app_decision_draft_finish (WB_APP_NOTEBOOK (source), result, &error);
  WbDecisionDialog *self;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  self = WB_DECISION_DIALOG (user);
  g_clear_object (&self->reading);
  if (draft == NULL)
    {
      clear_draft (self);
      wb_problem_tell_error (self->problem, error);
      return;
    }
  /* once: where the next is as old, what came in is about to be told by the answers */
  if (draft->stale && !self->asked_anew)
    {
      self->asked_anew = TRUE;
      ask_answer (self);
      return;
    }
  self->asked_anew = draft->stale;
  if (draft->stale)
    gtk_widget_set_visible (self->stale, TRUE);
  wb_app_decision_draft_free (self->draft);
  self->draft = g_steal_pointer (&draft);
  fill_recipes (self);
  show_proposal (self);
  offer_finish (self);
}

static void
read_draft (WbDecisionDialog *self)
{
  const WbCraftGroup *group = &self->answer->ranking->groups[gtk_drop_down_get_selected (self->group)];
  g_autofree char *text = wb_craft_group_dup_answer (self->answer->data, group);

  stop_reading (self);
  g_clear_pointer (&self->draft, wb_app_decision_draft_free);
  gtk_label_set_text (self->answer_text, text);
  update (self);
  self->reading = g_cancellable_new ();
  wb_app_decision_draft_async (wb_desk_get_notebook (self->desk), self->answer, gtk_drop_down_get_selected (self->group), self->reading,
                               on_draft_cb, self);
}

/* ---- The answer ---- */

static guint
find_group (WbDecisionDialog *self)
{
  const WbCraftRanking *ranking = self->answer != NULL ? self->answer->ranking : NULL;

  for (guint g = 0; ranking != NULL && g < ranking->n_groups; g++)
    {
      const WbCraftGroup *group = &ranking->groups[g];

      if (self->cell == 0 && wb_craft_decision_find (self->answer->data, group) == NULL)
        return g;
      for (guint i = 0; i < group->n_cells; i++)
        if (wb_dataset_get_cell (self->answer->data, group->cells[i].cell)->record.id == self->cell)
          return g;
    }
  return 0;
}

static void
show_answer (WbDecisionDialog *self)
{
  const WbCraftRanking *ranking = self->answer->ranking;
  g_autoptr (GtkStringList) titles = gtk_string_list_new (NULL);
  g_autofree char *heading = g_strdup_printf (_("Decide %s"), self->answer->data->experiment->code);

  gtk_label_set_text (self->heading, heading);
  gtk_window_set_title (GTK_WINDOW (self), heading);
  if (ranking->n_groups == 0)
    {
      clear_draft (self);
      gtk_widget_set_visible (self->choices, FALSE);
      gtk_label_set_text (self->answer_text, _("There is nothing to decide: no combination was planned."));
      return;
    }
  for (guint i = 0; i < ranking->n_groups; i++)
    {
      g_autofree char *title = wb_craft_group_dup_title (self->answer->data, &ranking->groups[i]);

      gtk_string_list_append (titles, title);
    }
  self->filling = TRUE;
  gtk_drop_down_set_model (self->group, G_LIST_MODEL (titles));
  gtk_drop_down_set_selected (self->group, find_group (self));
  self->filling = FALSE;
  /* from here on it is the one that was chosen */
  self->cell = wb_dataset_get_cell (self->answer->data, ranking->groups[gtk_drop_down_get_selected (self->group)].vessel)->record.id;
  gtk_widget_set_visible (self->choices, TRUE);
  read_draft (self);
}

static void
stop_job (WbDecisionDialog *self)
{
  if (self->job != NULL)
    wb_app_job_cancel (self->job);
  g_clear_object (&self->job);
}

static WbAppDraft *
get_draft (WbDecisionDialog *self)
{
  WbAppNotebook *notebook = wb_desk_get_notebook (self->desk);

  return wb_app_notebook_get_read_only (notebook) ? NULL : wb_app_draft_of (notebook, DRAFT);
}

static void
on_answer_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      user)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbCraftAnswer) answer = wb_app_answers_get_finish (WB_APP_ANSWERS (source), result, &error);
  g_autoptr (WbDecisionDialog) self = wb_weak_widget_take (user);

  if (self == NULL || g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  g_clear_object (&self->job);
  wb_job_bar_set_job (self->job_bar, NULL, NULL);
  if (answer == NULL)
    {
      clear_draft (self);
      wb_problem_tell_error (self->problem, error);
      return;
    }
  g_clear_pointer (&self->answer, wb_craft_answer_unref);
  self->answer = g_steal_pointer (&answer);
  if (self->typed == NULL)
    self->typed = wb_decision_draft_new (get_draft (self), self->answer->data->experiment);
  gtk_widget_set_visible (self->stale, FALSE);
  show_answer (self);
}

static void
ask_answer (WbDecisionDialog *self)
{
  stop_job (self);
  self->job = wb_app_job_new ();
  wb_job_bar_set_job (self->job_bar, self->job, _("Working out the comparison"));
  wb_app_answers_get_async (wb_desk_get_answers (self->desk), self->experiment, WB_CRAFT_WITHIN_SCENT, 0, self->job, on_answer_cb,
                            wb_weak_widget_new (self));
}

/* What was typed is not taken away by what came in; what came in reopens what is signed, if it crosses a limit. */
static void
on_stale_cb (WbAppAnswers     *answers,
             gint64            experiment,
             WbDecisionDialog *self)
{
  if (experiment != self->experiment || self->saving)
    return;
  if (self->draft != NULL && !self->draft->stale && has_typed (self))
    gtk_widget_set_visible (self->stale, TRUE);
  else
    ask_answer (self);
}

/* ---- Choices ---- */

static void
on_group_selected_cb (WbDecisionDialog *self)
{
  guint group = gtk_drop_down_get_selected (self->group);

  if (self->filling || self->answer == NULL || group >= self->answer->ranking->n_groups)
    return;
  self->cell = wb_dataset_get_cell (self->answer->data, self->answer->ranking->groups[group].vessel)->record.id;
  read_draft (self);
}

static void
on_recipe_selected_cb (WbDecisionDialog *self)
{
  if (!self->filling)
    show_proposal (self);
}

static void
on_form_changed_cb (WbDecisionDialog *self)
{
  keep_typed (self);
  wb_problem_tell (self->problem, NULL);
}

/* An earlier program's came late, when the form was there. */
static void
on_draft_loaded_cb (WbAppDraft       *draft,
                    WbDecisionDialog *self)
{
  if (self->shown != 0 && !wb_record_form_get_touched (self->form))
    put_typed_back (self);
}

static void
on_forget_clicked_cb (WbDecisionDialog *self)
{
  wb_decision_draft_forget (self->typed, self->shown);
  self->shown = 0;
  show_proposal (self);
  gtk_widget_grab_focus (GTK_WIDGET (self->recipe));
}

/* ---- Signing ---- */

static void
remember_signer (WbDecisionDialog *self,
                 const WbDecision *record)
{
  WbAppSettings *settings = wb_desk_get_settings (self->desk);

  if (*wb_app_settings_get_person (settings) == '\0' && record->signed_by != NULL)
    wb_app_settings_set_person (settings, record->signed_by);
}

/* A signature on its way; it may outlast the dialog. */
typedef struct
{
  gpointer         weak;  /* the dialog */
  WbDecisionDraft *typed;
  GArray          *cells; /* gint64: all that might have been signed in its place */
} Signing;

static Signing *
signing_new (WbDecisionDialog *self)
{
  Signing *signing = g_new (Signing, 1);

  *signing = (Signing) { wb_weak_widget_new (self), wb_decision_draft_new (get_draft (self), self->answer->data->experiment),
                         g_array_new (FALSE, FALSE, sizeof (gint64)) };
  for (guint i = 0; i < self->draft->proposals->len; i++)
    {
      const WbCraftDecision *proposal = g_ptr_array_index (self->draft->proposals, i);

      g_array_append_val (signing->cells, wb_dataset_get_cell (self->answer->data, proposal->cell)->record.id);
    }
  return signing;
}

static void
on_signed_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      user)
{
  Signing *signing = user;
  g_autoptr (WbDecisionDialog) self = NULL;
  g_autoptr (GError) error = NULL;

  if (wb_app_decision_sign_finish (WB_APP_NOTEBOOK (source), result, &error))
    {
      for (guint i = 0; i < signing->cells->len; i++)
        wb_decision_draft_forget (signing->typed, g_array_index (signing->cells, gint64, i));
      wb_decision_draft_forget_signer (signing->typed);
    }
  self = wb_weak_widget_take_saved (signing->weak, _("The decision was not signed"), error);
  wb_decision_draft_free (signing->typed);
  g_array_unref (signing->cells);
  g_free (signing);
  if (self == NULL)
    return;
  self->saving = FALSE;
  update (self);
  wb_problem_tell_error (self->problem, error);
}

/* What is missing is told at its field, and the keyboard goes there. */
static gboolean
check (WbDecisionDialog      *self,
       const WbCraftDecision *proposal,
       const WbDecision      *record)
{
  const char *name = record->signed_by == NULL ? "signed_by" : proposal->needs_reason && record->against == NULL ? "against" : NULL;

  if (name == NULL)
    return TRUE;
  wb_record_form_set_problem (self->form, name,
                              g_str_equal (name, "signed_by") ? _("Say who signs it")
                              : proposal->crossed->len > 0    ? _("It crossed a limit: say why you choose it all the same")
                                                              : _("It is not recommended: say why you choose it all the same"));
  gtk_widget_grab_focus (wb_record_form_get_field (self->form, name));
  return FALSE;
}

static void
on_sign_clicked_cb (WbDecisionDialog *self)
{
  const WbCraftDecision *proposal = get_proposal (self);
  g_autoptr (WbRecord) record = NULL;
  gboolean finish = gtk_widget_get_visible (GTK_WIDGET (self->finish)) && gtk_check_button_get_active (self->finish);

  if (proposal == NULL || !gtk_widget_get_sensitive (self->sign))
    return;
  record = wb_record_form_dup_record (self->form);
  if (!proposal->needs_reason)
    g_clear_pointer (&((WbDecision *) (gpointer) record)->against, g_free);
  if (!check (self, proposal, (WbDecision *) (gpointer) record))
    return;
  remember_signer (self, (WbDecision *) (gpointer) record);
  self->saving = TRUE;
  update (self);
  wb_app_decision_sign_async (wb_desk_get_notebook (self->desk), self->draft, get_index (self), (WbDecision *) (gpointer) record, finish, NULL,
                              on_signed_cb, signing_new (self));
}

/* Nothing can be chosen: the other dialog takes this one's place. */
static void
on_none_clicked_cb (WbDecisionDialog *self)
{
  GtkWindow *window = gtk_window_get_transient_for (GTK_WINDOW (self));

  gtk_window_present (GTK_WINDOW (wb_finish_dialog_new (GTK_WIDGET (window), wb_desk_get_notebook (self->desk), self->answer->data->experiment)));
  gtk_window_close (GTK_WINDOW (self));
}

/* ---- Class ---- */

static void
wb_decision_dialog_dispose (GObject *object)
{
  WbDecisionDialog *self = WB_DECISION_DIALOG (object);

  stop_job (self);
  stop_reading (self);
  g_clear_pointer (&self->draft, wb_app_decision_draft_free);
  g_clear_pointer (&self->answer, wb_craft_answer_unref);
  g_clear_pointer (&self->typed, wb_decision_draft_free);
  g_clear_object (&self->desk);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_DECISION_DIALOG);
  G_OBJECT_CLASS (wb_decision_dialog_parent_class)->dispose (object);
}

static void
wb_decision_dialog_class_init (WbDecisionDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_JOB_BAR);
  g_type_ensure (WB_TYPE_RECORD_FORM);
  G_OBJECT_CLASS (klass)->dispose = wb_decision_dialog_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "decision-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, WbDecisionDialog, job_bar);
  gtk_widget_class_bind_template_child (widget_class, WbDecisionDialog, heading);
  gtk_widget_class_bind_template_child (widget_class, WbDecisionDialog, answer_text);
  gtk_widget_class_bind_template_child (widget_class, WbDecisionDialog, choices);
  gtk_widget_class_bind_template_child (widget_class, WbDecisionDialog, group_label);
  gtk_widget_class_bind_template_child (widget_class, WbDecisionDialog, group);
  gtk_widget_class_bind_template_child (widget_class, WbDecisionDialog, recipe);
  gtk_widget_class_bind_template_child (widget_class, WbDecisionDialog, recipe_text);
  gtk_widget_class_bind_template_child (widget_class, WbDecisionDialog, not_burnt);
  gtk_widget_class_bind_template_child (widget_class, WbDecisionDialog, crossed);
  gtk_widget_class_bind_template_child (widget_class, WbDecisionDialog, against);
  gtk_widget_class_bind_template_child (widget_class, WbDecisionDialog, stale);
  gtk_widget_class_bind_template_child (widget_class, WbDecisionDialog, kept);
  gtk_widget_class_bind_template_child (widget_class, WbDecisionDialog, form);
  gtk_widget_class_bind_template_child (widget_class, WbDecisionDialog, finish);
  gtk_widget_class_bind_template_child (widget_class, WbDecisionDialog, problem);
  gtk_widget_class_bind_template_child (widget_class, WbDecisionDialog, sign);
  gtk_widget_class_bind_template_child (widget_class, WbDecisionDialog, none);
  gtk_widget_class_bind_template_callback (widget_class, on_group_selected_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_recipe_selected_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_forget_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_none_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_sign_clicked_cb);
}

static void
wb_decision_dialog_init (WbDecisionDialog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  wb_accessible_name_drop_down (self->group, _("Vessel and scent"));
  wb_accessible_name_drop_down (self->recipe, _("Recipe"));
  wb_choice_list_fit (self->group, 40);
  wb_choice_list_fit (self->recipe, 40);
  wb_record_form_set_stacked (self->form, TRUE);
  wb_record_form_set_hidden (self->form, hidden);
  g_signal_connect_swapped (self->form, "changed", G_CALLBACK (on_form_changed_cb), self);
  g_signal_connect_swapped (self->form, "activate", G_CALLBACK (on_sign_clicked_cb), self);
}

static void
focus_recipe (WbDecisionDialog *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (self->recipe));
}

GtkWidget *
wb_decision_dialog_new (GtkWidget *where,
                        WbDesk    *desk,
                        gint64     experiment,
                        gint64     cell)
{
  GtkRoot *root = where != NULL ? gtk_widget_get_root (where) : NULL;
  WbDecisionDialog *self;

  g_return_val_if_fail (WB_IS_DESK (desk), NULL);

  self = g_object_new (WB_TYPE_DECISION_DIALOG, "title", _("Decide"), "transient-for", GTK_IS_WINDOW (root) ? root : NULL, NULL);
  self->desk = g_object_ref (desk);
  self->experiment = experiment;
  self->cell = cell;
  gtk_label_set_text (self->heading, _("Decide"));
  g_signal_connect_object (wb_desk_get_answers (desk), "stale", G_CALLBACK (on_stale_cb), self, 0);
  if (!wb_app_notebook_get_read_only (wb_desk_get_notebook (desk)))
    g_signal_connect_object (wb_app_draft_of (wb_desk_get_notebook (desk), DRAFT), "loaded", G_CALLBACK (on_draft_loaded_cb), self, 0);
  /* Focused before it is shown, GTK 4.8 tells assistive technology of no window. */
  g_signal_connect (self, "map", G_CALLBACK (focus_recipe), NULL);
  update (self);
  ask_answer (self);
  return GTK_WIDGET (self);
}

void
wb_decision_dialog_begin_with (WbDecisionDialog *self,
                               gint64            cell)
{
  g_return_if_fail (WB_IS_DECISION_DIALOG (self));
  self->first = cell;
}
