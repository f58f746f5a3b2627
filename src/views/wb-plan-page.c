/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plan-page.h"

#include "wb-app-draft.h"
#include "wb-app-plan-draft.h"
#include "wb-app-plan-ladder.h"
#include "wb-app-query.h"
#include "wb-app-stock.h"
#include "wb-bundle.h"
#include "wb-grey.h"
#include "wb-plan-beginning.h"
#include "wb-plan-editor.h"
#include "wb-plan-view.h"
#include "wb-problem.h"
#include "wb-question.h"
#include "wb-record-dialog.h"
#include "wb-save-mark.h"

#include <glib/gi18n.h>

struct _WbPlanPage
{
  WbPage        parent_instance;

  /* children */
  GtkStack     *stack;
  GtkLabel     *empty;
  WbPlanEditor *editor;
  WbPlanView   *view;
  GtkWidget    *save;
  GtkButton    *revert;
  GtkWidget    *change;
  GtkWidget    *repeat;
  GtkWidget    *print;
  GtkWidget    *more;
  WbSaveMark   *mark;
  GtkWidget    *before;

  /* owned */
  WbAppPlan    *plan;         /* the new experiment, or the change of the open one; NULL: not begun */
  WbDataset    *dataset;      /* the open one as last read; NULL: none */
  WbPlanBeginning next;      /* what the next plan begins with */
  GCancellable *cancellable;

  /* state */
  gboolean      saving;
  gboolean      changing;     /* the plan is the open experiment's own */
  gboolean      of_before;    /* the plan is as an earlier program left it */
};

G_DEFINE_FINAL_TYPE (WbPlanPage, wb_plan_page, WB_TYPE_PAGE)

/* What is half planned: its file and its group. */
#define DRAFT "plan"

/* What a change of words does not touch. */
static const char *const not_words[] = {
  "code", "wax", "dye", "dye_pct", "dye_drops_per_kg", "additive", "additive_pct", "protocol", "profile", "samples_per_cell", "seed",
  "repeats", "closed", "imported", NULL
};

static gboolean
is_new (WbPlanPage *self)
{
  return wb_page_get_experiment (WB_PAGE (self)) == 0;
}

static gboolean
is_planning (WbPlanPage *self)
{
  return is_new (self) || self->changing;
}

static gboolean
is_touched (WbPlanPage *self)
{
  return self->of_before || wb_plan_editor_get_touched (self->editor);
}

/* What is half planned of a new experiment, beside the notebook; it goes once it is saved, or another is begun. NULL: nothing is kept. */
static WbAppDraft *
get_draft (WbPlanPage *self)
{
  WbAppNotebook *notebook = wb_page_get_notebook (WB_PAGE (self));

  return notebook != NULL && !wb_app_notebook_get_read_only (notebook) ? wb_app_draft_of (notebook, DRAFT) : NULL;
}

static void
keep_draft (WbPlanPage *self)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  WbAppDraft *draft = get_draft (self);

  if (draft == NULL || self->plan == NULL || self->changing || !is_touched (self))
    return;
  wb_app_plan_keep (self->plan, file, DRAFT);
  wb_app_draft_set (draft, DRAFT, file);
}

/* A new plan that would be lost by another: in the form, or kept since an earlier program and not looked at yet. */
static gboolean
has_begun (WbPlanPage *self)
{
  WbAppDraft *draft = get_draft (self);

  return (self->plan != NULL && is_touched (self)) || (draft != NULL && g_key_file_has_group (wb_app_draft_get_file (draft), DRAFT));
}

static void
forget_draft (WbPlanPage *self)
{
  WbAppDraft *draft = get_draft (self);

  if (draft != NULL && !self->changing)
    wb_app_draft_drop (draft, DRAFT);
}

static void
say_nothing (WbPlanPage *self,
             const char *why)
{
  gtk_label_set_text (self->empty, why);
  gtk_stack_set_visible_child_name (self->stack, "empty");
}

static void
stop_reading (WbPlanPage *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
}

static void
drop_plan (WbPlanPage *self)
{
  wb_plan_editor_set_plan (self->editor, NULL, NULL);
  g_clear_object (&self->plan);
  wb_plan_beginning_clear (&self->next);
  self->changing = FALSE;
  self->of_before = FALSE;
}

/* While it is saved the form stands still; a text field that has the focus does not like to be made insensitive. */
static void
set_saving (WbPlanPage *self,
            gboolean    saving)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));

  self->saving = saving;
  if (saving && root != NULL)
    gtk_root_set_focus (root, NULL);
  gtk_widget_set_sensitive (GTK_WIDGET (self->editor), !saving);
  wb_page_update_actions (WB_PAGE (self));
}

/* ---- Reading ---- */

/* What is left and costs comes after: nobody waits for it. */
static void
on_stock_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbCraftStock) stock = wb_app_stock_load_finish (WB_APP_NOTEBOOK (source), result, &error);
  WbPlanPage *self;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  self = WB_PLAN_PAGE (data);
  if (stock == NULL)
    wb_problem_show (GTK_WIDGET (self), _("The stock could not be read"), error);
  else if (self->plan != NULL)
    wb_app_plan_set_stock (self->plan, g_steal_pointer (&stock));
}

/* The experiment that the plan, or the open one, repeats. */
static void
on_repeated_cb (GObject      *source,
                GAsyncResult *result,
                gpointer      data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbDataset) repeated = wb_app_query_dataset_finish (WB_APP_NOTEBOOK (source), result, &error);
  WbPlanPage *self;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  self = WB_PLAN_PAGE (data);
  /* One that was taken back since is told by nothing: there is nothing to compare with. */
  if (repeated == NULL && !g_error_matches (error, WB_APP_ERROR, WB_APP_ERROR_UNKNOWN))
    wb_problem_show (GTK_WIDGET (self), _("The experiment that is repeated could not be read"), error);
  else if (repeated != NULL && is_planning (self) && self->plan != NULL)
    wb_app_plan_set_repeated (self->plan, repeated);
  else if (repeated != NULL && self->dataset != NULL && self->dataset->experiment->repeats == repeated->experiment->record.id)
    wb_plan_view_show_repeated (self->view, self->dataset, repeated);
}

static void
on_materials_cb (GObject      *source,
                 GAsyncResult *result,
                 gpointer      data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppMaterials) materials = wb_app_query_materials_finish (WB_APP_NOTEBOOK (source), result, &error);
  WbPlanPage *self;
  gboolean of_ladder;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  self = WB_PLAN_PAGE (data);
  if (materials == NULL)
    {
      wb_problem_show (GTK_WIDGET (self), _("The materials could not be read"), error);
      /* The stored plan is still there to be looked at, and to be changed another time. */
      if (self->changing)
        {
          drop_plan (self);
          wb_page_reload (WB_PAGE (self));
        }
      return;
    }
  gtk_stack_set_visible_child_name (self->stack, "editor");
  if (self->plan != NULL)
    {
      wb_app_plan_set_materials (self->plan, g_steal_pointer (&materials));
      wb_plan_editor_refresh (self->editor);
    }
  else
    {
      self->plan = wb_app_plan_new (WB_APP_NOTEBOOK (source), g_steal_pointer (&materials));
      wb_app_plan_set_calendar (self->plan, wb_desk_get_calendar (wb_page_get_desk (WB_PAGE (self))));
      of_ladder = self->next.model == NULL && self->next.ladder != NULL;
      self->of_before = wb_plan_beginning_fill (&self->next, self->plan, self->changing, get_draft (self), DRAFT);
      wb_plan_editor_set_plan (self->editor, wb_page_get_desk (WB_PAGE (self)), self->plan);
      /* a ladder fills in all that it knows: what it left open is not to be looked for */
      if (of_ladder)
        wb_plan_editor_tell (self->editor);
      gtk_widget_grab_focus (GTK_WIDGET (self->editor));
    }
  if (wb_app_plan_get_experiment (self->plan)->repeats != 0 && wb_app_plan_get_repeated (self->plan) == NULL)
    wb_app_query_dataset_async (WB_APP_NOTEBOOK (source), wb_app_plan_get_experiment (self->plan)->repeats, self->cancellable, on_repeated_cb, self);
  if (wb_app_notebook_get_settings (WB_APP_NOTEBOOK (source))->keeps_stock)
    wb_app_stock_load_async (WB_APP_NOTEBOOK (source), self->cancellable, on_stock_cb, self);
  else
    wb_app_plan_set_stock (self->plan, NULL);
  wb_page_update_actions (WB_PAGE (self));
}

static void
on_dataset_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbDataset) dataset = wb_app_query_dataset_finish (WB_APP_NOTEBOOK (source), result, &error);
  WbPlanPage *self;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  self = WB_PLAN_PAGE (data);
  g_clear_pointer (&self->dataset, wb_dataset_free);
  if (dataset != NULL)
    {
      wb_plan_view_show (self->view, dataset, wb_app_notebook_get_settings (WB_APP_NOTEBOOK (source))->us_units);
      self->dataset = g_steal_pointer (&dataset);
      wb_plan_view_show_bench (self->view, WB_APP_NOTEBOOK (source), wb_page_get_experiment (WB_PAGE (self)));
      if (self->dataset->experiment->repeats != 0)
        wb_app_query_dataset_async (WB_APP_NOTEBOOK (source), self->dataset->experiment->repeats, self->cancellable, on_repeated_cb, self);
      gtk_stack_set_visible_child_name (self->stack, "view");
    }
  else if (g_error_matches (error, WB_APP_ERROR, WB_APP_ERROR_UNKNOWN))
    say_nothing (self, _("This experiment is no longer in the notebook: its plan was taken back. Redo brings it back."));
  else
    wb_problem_show (GTK_WIDGET (self), _("The plan could not be read"), error);
  wb_page_update_actions (WB_PAGE (self));
}

static void
wb_plan_page_reload (WbPage *page)
{
  WbPlanPage *self = WB_PLAN_PAGE (page);
  WbAppNotebook *notebook = wb_page_get_notebook (page);

  stop_reading (self);
  if (notebook == NULL)
    return;
  self->cancellable = g_cancellable_new ();
  if (is_planning (self))
    wb_app_query_materials_async (notebook, self->cancellable, on_materials_cb, self);
  else
    wb_app_query_dataset_async (notebook, wb_page_get_experiment (page), self->cancellable, on_dataset_cb, self);
}

static void
wb_plan_page_set_experiment (WbPage *page,
                             gint64  experiment)
{
  WbPlanPage *self = WB_PLAN_PAGE (page);

  if (experiment != wb_page_get_experiment (page))
    {
      stop_reading (self);
      wb_plan_view_show_bench (self->view, NULL, 0);
      g_clear_pointer (&self->dataset, wb_dataset_free);
      /* A change that was begun is of the experiment that is left; leave() asked about it. What a new plan begins with is not of another's. */
      if (self->changing)
        drop_plan (self);
      if (experiment != 0)
        g_clear_pointer (&self->next.model, wb_dataset_free);
      wb_save_mark_set (self->mark, WB_SAVE_IDLE, NULL);
      say_nothing (self, "");
    }
  WB_PAGE_CLASS (wb_plan_page_parent_class)->set_experiment (page, experiment);
}

static void
wb_plan_page_close (WbPage *page)
{
  WbPlanPage *self = WB_PLAN_PAGE (page);

  stop_reading (self);
  wb_plan_view_show_bench (self->view, NULL, 0);
  drop_plan (self);
  g_clear_pointer (&self->dataset, wb_dataset_free);
  set_saving (self, FALSE);
  wb_save_mark_set (self->mark, WB_SAVE_IDLE, NULL);
  say_nothing (self, "");
  WB_PAGE_CLASS (wb_plan_page_parent_class)->close (page);
}

static gboolean
wb_plan_page_has_draft (WbPage *page)
{
  WbPlanPage *self = WB_PLAN_PAGE (page);

  return self->plan != NULL && is_touched (self);
}

/* A new plan; the change of a stored one is asked about. */
static gboolean
wb_plan_page_keeps_draft (WbPage *page)
{
  return !WB_PLAN_PAGE (page)->changing && WB_PAGE_CLASS (wb_plan_page_parent_class)->keeps_draft (page);
}

/* What an earlier program left is there: for a form that nobody has touched. */
static void
on_draft_loaded_cb (WbPlanPage *self)
{
  if (self->plan == NULL || self->changing || is_touched (self) || !is_new (self))
    return;
  drop_plan (self);
  wb_page_reload (WB_PAGE (self));
}

static void
wb_plan_page_open (WbPage *page,
                   WbDesk *desk)
{
  WB_PAGE_CLASS (wb_plan_page_parent_class)->open (page, desk);
  g_signal_connect_object (wb_app_draft_of (wb_desk_get_notebook (desk), DRAFT), "loaded", G_CALLBACK (on_draft_loaded_cb), page,
                           G_CONNECT_SWAPPED);
}

static void
on_leave_answered_cb (gboolean yes,
                      gpointer user)
{
  g_autoptr (WbPlanPage) self = user;

  if (!yes || self->editor == NULL)
    return;
  drop_plan (self);
  wb_page_reload (WB_PAGE (self));
  wb_page_release (WB_PAGE (self));
}

/* A new plan waits while another page is looked at; the change of a stored one does not outlive it. */
static gboolean
wb_plan_page_leave (WbPage *page)
{
  WbPlanPage *self = WB_PLAN_PAGE (page);

  if (!self->changing || self->saving || !is_touched (self))
    {
      if (self->changing && !self->saving)
        {
          drop_plan (self);
          wb_page_reload (page);
        }
      return TRUE;
    }
  wb_question_ask (GTK_WIDGET (self), _("Leave the plan as it was?"), _("What you typed is not saved, and is dropped."), _("_Leave it"), TRUE,
                   on_leave_answered_cb, g_object_ref (self));
  return FALSE;
}

static void
on_editor_changed_cb (WbPlanPage *self)
{
  wb_save_mark_set (self->mark, WB_SAVE_IDLE, NULL);
  keep_draft (self);
  wb_page_typed (WB_PAGE (self));
}

/* ---- Actions ---- */

static void
on_saved_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      data)
{
  g_autoptr (WbPlanPage) self = data;
  g_autoptr (GError) error = NULL;
  gint64 id = wb_app_plan_save_finish (WB_APP_PLAN (source), result, &error);

  /* The page or its notebook was closed in the meantime: what was asked is saved all the same. */
  if (self->editor == NULL || self->plan != WB_APP_PLAN (source))
    return;
  set_saving (self, FALSE);
  if (id == 0)
    {
      wb_save_mark_set (self->mark, WB_SAVE_FAILED, NULL);
      wb_problem_show (GTK_WIDGET (self), _("The plan was not saved"), error);
      return;
    }
  wb_problem_clear (GTK_WIDGET (self), _("The plan was not saved"));
  forget_draft (self);
  drop_plan (self);
  if (!is_new (self))
    wb_page_reload (WB_PAGE (self));
  else if (gtk_widget_get_mapped (GTK_WIDGET (self)))
    gtk_widget_activate_action (GTK_WIDGET (self), "win.go", "(sx)", "plan", id);
  wb_save_mark_set (self->mark, WB_SAVE_SAVED, NULL);
  wb_page_update_actions (WB_PAGE (self));
}

static void
on_save_cb (GSimpleAction *action,
            GVariant      *parameter,
            gpointer       user)
{
  WbPlanPage *self = user;

  if (!wb_plan_editor_check (self->editor))
    return;
  set_saving (self, TRUE);
  wb_save_mark_set (self->mark, WB_SAVE_SAVING, NULL);
  wb_app_plan_save_async (self->plan, NULL, on_saved_cb, g_object_ref (self));
}

static void
on_revert_answered_cb (gboolean yes,
                       gpointer user)
{
  g_autoptr (WbPlanPage) self = user;

  if (!yes || self->editor == NULL)
    return;
  forget_draft (self);
  drop_plan (self);
  wb_page_reload (WB_PAGE (self));
}

static void
on_revert_cb (GSimpleAction *action,
              GVariant      *parameter,
              gpointer       user)
{
  WbPlanPage *self = user;

  if (self->changing && !is_touched (self))
    {
      on_revert_answered_cb (TRUE, g_object_ref (self));
      return;
    }
  wb_question_ask (GTK_WIDGET (self), self->changing ? _("Leave the plan as it was?") : _("Begin the plan anew?"),
                   _("What you typed is not saved, and is dropped."), self->changing ? _("_Leave it") : _("_Begin anew"), TRUE,
                   on_revert_answered_cb, g_object_ref (self));
}

static void
on_edit_cb (GSimpleAction *action,
            GVariant      *parameter,
            gpointer       user)
{
  WbPlanPage *self = user;
  g_autofree char *why = g_strdup_printf (_("Change the words of %s"), self->dataset->experiment->code);
  GtkWidget *dialog = wb_record_dialog_new (GTK_WIDGET (self), wb_page_get_notebook (WB_PAGE (self)), self->dataset->experiment->code, why,
                                            self->dataset->experiment, not_words);

  gtk_window_present (GTK_WINDOW (dialog));
}

static void
on_change_cb (GSimpleAction *action,
              GVariant      *parameter,
              gpointer       user)
{
  WbPlanPage *self = user;

  drop_plan (self);
  self->next.model = g_steal_pointer (&self->dataset);
  self->changing = TRUE;
  wb_page_reload (WB_PAGE (self));
  wb_page_update_actions (WB_PAGE (self));
}

/* Before a plan that was begun is dropped for another. */
static void
ask_anew (WbPlanPage    *self,
          WbQuestionFunc answered)
{
  wb_question_ask (GTK_WIDGET (self), _("Begin the plan anew?"), _("Another plan was begun. What you typed there is not saved, and is dropped."),
                   _("_Begin anew"), TRUE, answered, g_object_ref (self));
}

static void
plan_another (WbPlanPage *self)
{
  gboolean repeating = self->next.repeating;

  forget_draft (self);
  drop_plan (self);
  self->next.repeating = repeating;
  self->next.model = g_steal_pointer (&self->dataset);
  gtk_widget_activate_action (GTK_WIDGET (self), "win.new-experiment", NULL);
}

static void
on_another_answered_cb (gboolean yes,
                        gpointer user)
{
  g_autoptr (WbPlanPage) self = user;

  if (yes && self->editor != NULL && self->dataset != NULL)
    plan_another (self);
}

static void
on_another_cb (GSimpleAction *action,
               GVariant      *parameter,
               gpointer       user)
{
  WbPlanPage *self = user;

  self->next.repeating = g_str_equal (g_action_get_name (G_ACTION (action)), "repeat");
  if (has_begun (self))
    ask_anew (self, on_another_answered_cb);
  else
    plan_another (self);
}

/* ---- The confirmation test of a decision, further samples of an experiment, the wicks of a ladder ---- */

/* Takes the model; NULL: none is needed. */
static void
begin_with (WbPlanPage *self,
            WbDataset  *model)
{
  WbPlanBeginning next = self->next;

  self->next = (WbPlanBeginning) { NULL };
  forget_draft (self);
  drop_plan (self);
  self->next = next;
  g_clear_pointer (&self->next.model, wb_dataset_free);
  self->next.model = model;
  wb_page_reload (WB_PAGE (self));
}

static void
on_model_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbDataset) dataset = wb_app_query_dataset_finish (WB_APP_NOTEBOOK (source), result, &error);
  WbPlanPage *self;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  self = WB_PLAN_PAGE (data);
  if (dataset == NULL)
    wb_problem_show (GTK_WIDGET (self), self->next.confirming != NULL ? _("The decision could not be read") : _("The experiment could not be read"), error);
  if (dataset != NULL && is_new (self) && wb_plan_beginning_get_asked (&self->next) != 0)
    begin_with (self, g_steal_pointer (&dataset));
  else
    wb_page_reload (WB_PAGE (self));
}

static void
begin (WbPlanPage *self)
{
  gint64 asked = wb_plan_beginning_get_asked (&self->next);

  if (asked == 0)
    {
      begin_with (self, NULL);
      return;
    }
  stop_reading (self);
  self->cancellable = g_cancellable_new ();
  wb_app_query_dataset_async (wb_page_get_notebook (WB_PAGE (self)), asked, self->cancellable, on_model_cb, self);
}

static void
on_begin_answered_cb (gboolean yes,
                      gpointer user)
{
  g_autoptr (WbPlanPage) self = user;

  if (self->editor == NULL || (wb_plan_beginning_get_asked (&self->next) == 0 && self->next.ladder == NULL))
    return;
  if (yes && is_new (self))
    begin (self);
  else
    wb_plan_beginning_clear (&self->next);
}

static void
ask_to_begin (WbPlanPage *self)
{
  if (has_begun (self))
    ask_anew (self, on_begin_answered_cb);
  else
    begin (self);
}

/* The page shows the new experiment; what was half planned there is not dropped unasked. */
static void
on_confirm_cb (GSimpleAction *action,
               GVariant      *parameter,
               gpointer       user)
{
  WbPlanPage *self = user;
  WbDesk *desk = wb_page_get_desk (WB_PAGE (self));
  WbAppTouched *touched = desk != NULL ? wb_app_touched_list_find (wb_app_today_get_touched (wb_desk_get_today (desk)), g_variant_get_int64 (parameter))
                                       : NULL;

  if (touched == NULL || touched->open == 0 || !is_new (self) || self->saving)
    return;
  wb_plan_beginning_clear (&self->next);
  self->next.confirming = wb_app_touched_ref (touched);
  ask_to_begin (self);
}

static void
on_samples_cb (GSimpleAction *action,
               GVariant      *parameter,
               gpointer       user)
{
  WbPlanPage *self = user;

  if (!is_new (self) || self->saving)
    return;
  wb_plan_beginning_clear (&self->next);
  self->next.samples = g_variant_ref (parameter);
  ask_to_begin (self);
}

static void
on_ladder_cb (GSimpleAction *action,
              GVariant      *parameter,
              gpointer       user)
{
  WbPlanPage *self = user;

  if (!is_new (self) || self->saving)
    return;
  wb_plan_beginning_clear (&self->next);
  self->next.ladder = g_variant_ref (parameter);
  ask_to_begin (self);
}

static void
on_print_cb (GSimpleAction *action,
             GVariant      *parameter,
             gpointer       user)
{
  gtk_widget_activate_action (GTK_WIDGET (user), "win.bench-plan", NULL);
}

static const GActionEntry actions[] = {
  { "confirm", on_confirm_cb, "x", NULL, NULL },
  { "samples", on_samples_cb, WB_PLAN_SAMPLES_FORMAT, NULL, NULL },
  { "ladder", on_ladder_cb, WB_APP_PLAN_LADDER_FORMAT, NULL, NULL },
  { "change", on_change_cb, NULL, NULL, NULL },
  { "another", on_another_cb, NULL, NULL, NULL },
  { "repeat", on_another_cb, NULL, NULL, NULL },
  { "save", on_save_cb, NULL, NULL, NULL },
  { "revert", on_revert_cb, NULL, NULL, NULL },
  { "edit", on_edit_cb, NULL, NULL, NULL },
  { "print", on_print_cb, NULL, NULL, NULL },
};

static void
wb_plan_page_update_actions (WbPage *page)
{
  WbPlanPage *self = WB_PLAN_PAGE (page);
  WbAppNotebook *notebook = wb_page_get_notebook (page);
  gboolean writable = notebook != NULL && !wb_app_notebook_get_read_only (notebook);
  gboolean planning = writable && is_planning (self) && self->plan != NULL && !self->saving;
  gboolean shown = !is_planning (self) && self->dataset != NULL;

  wb_page_enable_action (page, "save", planning);
  wb_page_enable_action (page, "revert", planning && (self->changing || is_touched (self)));
  wb_page_enable_action (page, "edit", writable && shown);
  wb_page_enable_action (page, "change", writable && shown && wb_app_plan_can_replace (self->dataset));
  wb_page_enable_action (page, "another", writable && shown);
  wb_page_enable_action (page, "repeat", writable && shown);
  wb_page_enable_action (page, "print", shown);
  wb_grey_say (GTK_WIDGET (self->revert), _("Nothing is changed yet"));
  gtk_button_set_label (self->revert, self->changing ? _("Leave it as it was…") : _("Begin anew…"));
  gtk_widget_set_visible (self->before, is_new (self) && self->of_before);
  gtk_widget_set_visible (self->save, is_planning (self));
  gtk_widget_set_visible (GTK_WIDGET (self->revert), is_planning (self));
  gtk_widget_set_visible (self->change, !is_planning (self) && (self->dataset == NULL || wb_app_plan_can_replace (self->dataset)));
  gtk_widget_set_visible (self->repeat, !is_planning (self));
  gtk_widget_set_visible (self->print, !is_planning (self));
  gtk_widget_set_visible (self->more, !is_planning (self));
}

/* ---- Class ---- */

static void
wb_plan_page_dispose (GObject *object)
{
  WbPlanPage *self = WB_PLAN_PAGE (object);

  stop_reading (self);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_PLAN_PAGE);
  g_clear_object (&self->plan);
  G_OBJECT_CLASS (wb_plan_page_parent_class)->dispose (object);
}

static void
wb_plan_page_finalize (GObject *object)
{
  g_clear_pointer (&WB_PLAN_PAGE (object)->dataset, wb_dataset_free);
  wb_plan_beginning_clear (&WB_PLAN_PAGE (object)->next);
  G_OBJECT_CLASS (wb_plan_page_parent_class)->finalize (object);
}

static void
wb_plan_page_class_init (WbPlanPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  WbPageClass *page_class = WB_PAGE_CLASS (klass);

  g_type_ensure (WB_TYPE_PLAN_EDITOR);
  g_type_ensure (WB_TYPE_PLAN_VIEW);
  g_type_ensure (WB_TYPE_SAVE_MARK);
  G_OBJECT_CLASS (klass)->dispose = wb_plan_page_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_plan_page_finalize;
  page_class->reload = wb_plan_page_reload;
  page_class->close = wb_plan_page_close;
  page_class->set_experiment = wb_plan_page_set_experiment;
  page_class->update_actions = wb_plan_page_update_actions;
  page_class->has_draft = wb_plan_page_has_draft;
  page_class->draft = DRAFT;
  page_class->keeps_draft = wb_plan_page_keeps_draft;
  page_class->open = wb_plan_page_open;
  page_class->leave = wb_plan_page_leave;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "plan-page.ui");
  gtk_widget_class_bind_template_child (widget_class, WbPlanPage, stack);
  gtk_widget_class_bind_template_child (widget_class, WbPlanPage, empty);
  gtk_widget_class_bind_template_child (widget_class, WbPlanPage, editor);
  gtk_widget_class_bind_template_child (widget_class, WbPlanPage, view);
  gtk_widget_class_bind_template_child (widget_class, WbPlanPage, save);
  gtk_widget_class_bind_template_child (widget_class, WbPlanPage, revert);
  gtk_widget_class_bind_template_child (widget_class, WbPlanPage, change);
  gtk_widget_class_bind_template_child (widget_class, WbPlanPage, print);
  gtk_widget_class_bind_template_child (widget_class, WbPlanPage, more);
  gtk_widget_class_bind_template_child (widget_class, WbPlanPage, repeat);
  gtk_widget_class_bind_template_child (widget_class, WbPlanPage, mark);
  gtk_widget_class_bind_template_child (widget_class, WbPlanPage, before);
  gtk_widget_class_bind_template_callback (widget_class, on_editor_changed_cb);
}

static void
wb_plan_page_init (WbPlanPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  wb_page_add_actions (WB_PAGE (self), actions, G_N_ELEMENTS (actions));
  say_nothing (self, "");
  wb_page_update_actions (WB_PAGE (self));
}
