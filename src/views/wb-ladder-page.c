/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-ladder-page.h"

#include "wb-app-plan-ladder.h"
#include "wb-app-query.h"
#include "wb-bundle.h"
#include "wb-job-bar.h"
#include "wb-ladder-answer.h"
#include "wb-ladder-question.h"
#include "wb-measure-dialog.h"
#include "wb-problem.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>

/* After the last key, ms: who types a diameter is not answered for its first digit. */
#define PATIENCE_MS 500

struct _WbLadderPage
{
  WbPage            parent_instance;

  /* children */
  WbLadderQuestion *question;
  GtkLabel         *missing;
  GtkWidget        *open_materials; /* where the wax is missing */
  WbJobBar         *job_bar;
  WbLadderAnswer   *answer;

  /* owned */
  WbAppMaterials   *materials;  /* as last read; NULL: not yet */
  WbCraftLadder    *ladder;     /* what is shown; NULL: nothing */
  char             *answered;   /* what it rests on, as dup_asked; NULL with it */
  char             *asked;      /* of the job; NULL: none is under way */
  WbAppJob         *job;
  GCancellable     *cancellable;

  /* state */
  gint64            added_vessel; /* chosen once it has been read; 0: none */
  gboolean          tests_added;  /* its ladder goes into a plan as soon as it is there */
  gboolean          load_offered; /* the notebook's newest */
  guint             wait_id;    /* until the person has finished typing */
};

G_DEFINE_FINAL_TYPE (WbLadderPage, wb_ladder_page, WB_TYPE_PAGE)

static void
stop_asking (WbLadderPage *self)
{
  g_clear_handle_id (&self->wait_id, g_source_remove);
  g_clear_pointer (&self->asked, g_free);
  if (self->job == NULL)
    return;
  wb_app_job_cancel (self->job);
  g_clear_object (&self->job);
  if (self->job_bar != NULL)
    wb_job_bar_set_job (self->job_bar, NULL, NULL);
}

static void
stop_reading (WbLadderPage *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
}

static void
clear_answer (WbLadderPage *self)
{
  wb_ladder_answer_set (self->answer, NULL, NULL);
  g_clear_pointer (&self->ladder, wb_craft_ladder_free);
  g_clear_pointer (&self->answered, g_free);
}

static void
say_missing (WbLadderPage *self,
             const char   *why)
{
  gtk_label_set_text (self->missing, why != NULL ? why : "");
  gtk_widget_set_visible (GTK_WIDGET (self->missing), why != NULL && *why != '\0');
  gtk_widget_set_visible (self->open_materials, why != NULL && self->materials != NULL && wb_ladder_question_get_wax (self->question) == 0);
}

/* All that an answer rests on: another string where it is out of date. */
static char *
dup_asked (WbLadderPage                *self,
           const WbCraftLadderQuestion *question)
{
  return g_strdup_printf ("%" G_GINT64_FORMAT " %.17g %s/%s %.17g %d %u %u %.17g %.17g %.17g",
                          wb_app_notebook_get_last_entry (wb_page_get_notebook (WB_PAGE (self))), question->inner_diameter_mm,
                          question->vessel != NULL ? question->vessel : "", question->wax, question->load_pct, question->load_basis, question->wicks,
                          question->sizes, question->room_cold_c, question->room_warm_c, question->fill_g);
}

static gboolean
is_fresh (WbLadderPage *self)
{
  return self->ladder != NULL && self->job == NULL && self->wait_id == 0;
}

/* ---- Asking ---- */

/* What the person asked for before the vessel was among the materials; not where they have gone elsewhere meanwhile. */
static void
test_added (WbLadderPage *self)
{
  gboolean tests = self->tests_added;

  self->tests_added = FALSE;
  if (tests && self->ladder != NULL && gtk_widget_get_mapped (GTK_WIDGET (self)))
    gtk_widget_activate_action (GTK_WIDGET (self), "page.test", NULL);
}

static void
on_answered_cb (GObject      *source,
                GAsyncResult *result,
                gpointer      data)
{
  g_autoptr (WbLadderPage) self = wb_weak_widget_take (data);
  g_autoptr (GError) error = NULL;
  WbCraftLadder *ladder = wb_app_answers_ladder_finish (WB_APP_ANSWERS (source), result, &error);

  /* Given up by the person, by another question, or by closing. */
  if (self == NULL || self->job == NULL || g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    {
      wb_craft_ladder_free (ladder);
      if (self != NULL && self->job != NULL && wb_app_job_is_cancelled (self->job))
        {
          stop_asking (self);
          clear_answer (self);
          self->tests_added = FALSE;
          say_missing (self, _("Not worked out. Change the question, or come back to this page, to ask again."));
          wb_page_update_actions (WB_PAGE (self));
        }
      return;
    }
  g_clear_object (&self->job);
  wb_job_bar_set_job (self->job_bar, NULL, NULL);
  clear_answer (self);
  if (ladder == NULL)
    {
      g_clear_pointer (&self->asked, g_free);
      wb_problem_show (GTK_WIDGET (self), _("The wick ladder could not be worked out"), error);
    }
  else
    {
      wb_problem_clear (GTK_WIDGET (self), _("The wick ladder could not be worked out"));
      self->ladder = ladder;
      self->answered = g_steal_pointer (&self->asked);
      wb_ladder_answer_set (self->answer, wb_page_get_desk (WB_PAGE (self)), ladder);
    }
  wb_page_update_actions (WB_PAGE (self));
  test_added (self);
}

/* What stands there already is not worked out again. */
static void
ask (WbLadderPage *self)
{
  WbDesk *desk = wb_page_get_desk (WB_PAGE (self));
  WbCraftLadderQuestion question;
  g_autofree char *why = NULL, *asked = NULL;

  g_clear_handle_id (&self->wait_id, g_source_remove);
  if (desk == NULL || self->materials == NULL)
    return;
  if (!wb_ladder_question_read (self->question, &question, &why))
    {
      stop_asking (self);
      clear_answer (self);
      say_missing (self, why);
      wb_page_update_actions (WB_PAGE (self));
      return;
    }
  say_missing (self, NULL);
  asked = dup_asked (self, &question);
  if (self->job != NULL && g_strcmp0 (asked, self->asked) == 0)
    return;
  stop_asking (self);
  if (g_strcmp0 (asked, self->answered) == 0)
    {
      wb_ladder_answer_set_stale (self->answer, FALSE);
      wb_page_update_actions (WB_PAGE (self));
      return;
    }
  wb_ladder_answer_set_stale (self->answer, TRUE);
  self->asked = g_steal_pointer (&asked);
  self->job = wb_app_job_new ();
  wb_job_bar_set_job (self->job_bar, self->job, _("Looking through earlier burns"));
  wb_page_update_actions (WB_PAGE (self));
  wb_app_answers_ladder_async (wb_desk_get_answers (desk), &question, self->job, on_answered_cb, wb_weak_widget_new (self));
}

static gboolean
on_waited_cb (gpointer user)
{
  WB_LADDER_PAGE (user)->wait_id = 0;
  ask (user);
  return G_SOURCE_REMOVE;
}

/* What is under way is of a question that nobody asks any more. */
static void
on_question_changed_cb (WbLadderPage *self)
{
  stop_asking (self);
  self->tests_added = FALSE;
  if (self->materials == NULL)
    return;
  wb_ladder_answer_set_stale (self->answer, self->ladder != NULL);
  self->wait_id = g_timeout_add (PATIENCE_MS, on_waited_cb, self);
  wb_page_update_actions (WB_PAGE (self));
}

/* ---- Reading ---- */

static void
on_materials_cb (GObject      *source,
                 GAsyncResult *result,
                 gpointer      data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppMaterials) materials = wb_app_query_materials_finish (WB_APP_NOTEBOOK (source), result, &error);
  WbLadderPage *self;
  gboolean tests_added;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  self = WB_LADDER_PAGE (data);
  if (materials == NULL)
    {
      wb_problem_show (GTK_WIDGET (self), _("The materials could not be read"), error);
      return;
    }
  wb_ladder_question_set_materials (self->question, wb_page_get_desk (WB_PAGE (self)), materials);
  g_clear_pointer (&self->materials, wb_app_materials_free);
  self->materials = g_steal_pointer (&materials);
  tests_added = self->tests_added;
  if (self->added_vessel != 0)
    wb_ladder_question_choose_vessel (self->question, self->added_vessel);
  self->added_vessel = 0;
  /* that change of the question was none of the person's */
  self->tests_added = tests_added;
  /* somebody may be typing: then the wait goes on */
  if (self->wait_id == 0)
    ask (self);
  wb_page_update_actions (WB_PAGE (self));
}

static void
on_cells_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) cells = wb_app_query_list_finish (WB_APP_NOTEBOOK (source), result, &error);
  WbLadderPage *self;
  WbBasis basis;
  double load_pct;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  self = WB_LADDER_PAGE (data);
  self->load_offered = TRUE;
  /* where it cannot be read, what is usual stands, and the materials say why */
  if (cells != NULL && wb_app_plan_ladder_find_load (cells, &load_pct, &basis))
    wb_ladder_question_offer_load (self->question, load_pct, basis);
  wb_app_query_materials_async (WB_APP_NOTEBOOK (source), self->cancellable, on_materials_cb, self);
}

static void
wb_ladder_page_reload (WbPage *page)
{
  WbLadderPage *self = WB_LADDER_PAGE (page);
  WbAppNotebook *notebook = wb_page_get_notebook (page);

  stop_reading (self);
  if (notebook == NULL)
    return;
  self->cancellable = g_cancellable_new ();
  if (self->load_offered)
    wb_app_query_materials_async (notebook, self->cancellable, on_materials_cb, self);
  else
    wb_app_query_list_async (notebook, &wb_cell_type, self->cancellable, on_cells_cb, self);
}

static void
wb_ladder_page_close (WbPage *page)
{
  WbLadderPage *self = WB_LADDER_PAGE (page);

  stop_reading (self);
  stop_asking (self);
  clear_answer (self);
  say_missing (self, NULL);
  self->tests_added = FALSE;
  self->load_offered = FALSE;
  wb_ladder_question_set_materials (self->question, NULL, NULL);
  g_clear_pointer (&self->materials, wb_app_materials_free);
  WB_PAGE_CLASS (wb_ladder_page_parent_class)->close (page);
}

/* ---- Actions ---- */

/* The new vessel is asked for as soon as it has been read. */
static void
on_vessel_added_cb (WbLadderPage *self,
                    gint64        vessel)
{
  self->added_vessel = vessel;
  wb_page_reload (WB_PAGE (self));
}

static void
on_vessel_to_test_added_cb (WbLadderPage *self,
                            gint64        vessel)
{
  self->tests_added = TRUE;
  on_vessel_added_cb (self, vessel);
}

/* A typed diameter's own vessel. */
static void
add_vessel (WbLadderPage *self,
            GCallback     added)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_vessel_type);
  GtkWidget *dialog;

  ((WbVessel *) (gpointer) record)->shape = WB_SHAPE_ROUND;
  ((WbVessel *) (gpointer) record)->inner_diameter_mm = self->ladder->question.inner_diameter_mm;
  dialog = wb_measure_dialog_new (GTK_WIDGET (self), wb_page_get_notebook (WB_PAGE (self)), (const WbVessel *) (gpointer) record, self->materials->vessels);
  wb_measure_dialog_hide_instead (WB_MEASURE_DIALOG (dialog));
  g_signal_connect_object (dialog, "saved", added, self, G_CONNECT_SWAPPED);
  gtk_window_present (GTK_WINDOW (dialog));
}

/* The plan page asks where something is half planned there, and saves nothing before its maker says so. */
static void
plan (WbLadderPage *self)
{
  GtkWidget *window = GTK_WIDGET (gtk_widget_get_root (GTK_WIDGET (self)));
  GVariant *packed;

  packed = g_variant_ref_sink (wb_app_plan_ladder_pack (self->ladder, wb_ladder_question_get_vessel (self->question),
                                                        wb_ladder_question_get_wax (self->question), wb_ladder_question_get_fragrance (self->question)));
  gtk_widget_activate_action (window, "win.new-experiment", NULL);
  /* the page in front is the plan's now */
  gtk_widget_activate_action_variant (window, "page.ladder", packed);
  g_variant_unref (packed);
}

/* A plan has no place for a load without its fragrance, nor for a diameter without its vessel: they are asked for here, where they are known. */
static void
on_test_cb (GSimpleAction *action,
            GVariant      *parameter,
            gpointer       user)
{
  WbLadderPage *self = user;
  g_autofree char *why = NULL;

  if (!is_fresh (self) || self->materials == NULL)
    return;
  why = wb_ladder_question_ask_fragrance (self->question);
  say_missing (self, why);
  gtk_widget_set_visible (self->open_materials, why != NULL && wb_ladder_question_lacks_fragrances (self->question));
  if (why != NULL)
    return;
  if (self->ladder->question.vessel == NULL)
    {
      say_missing (self, _("A plan needs the vessel among the materials: it opens once the vessel is saved."));
      add_vessel (self, G_CALLBACK (on_vessel_to_test_added_cb));
    }
  else
    plan (self);
}

static void
on_add_vessel_cb (GSimpleAction *action,
                  GVariant      *parameter,
                  gpointer       user)
{
  WbLadderPage *self = user;

  if (is_fresh (self) && self->ladder->question.vessel == NULL && self->materials != NULL)
    add_vessel (self, G_CALLBACK (on_vessel_added_cb));
}

static void
on_ask_cb (GSimpleAction *action,
           GVariant      *parameter,
           gpointer       user)
{
  wb_ladder_question_choose_vessel (WB_LADDER_PAGE (user)->question, g_variant_get_int64 (parameter));
}

static void
on_save_chart_cb (GSimpleAction *action,
                  GVariant      *parameter,
                  gpointer       user)
{
  wb_ladder_answer_save_drawing (WB_LADDER_PAGE (user)->answer);
}

static void
on_opened_cb (WbLadderPage *self,
              gint64        experiment)
{
  gtk_widget_activate_action (GTK_WIDGET (self), "win.go", "(sx)", "compare", experiment);
}

static const GActionEntry actions[] = {
  { "test", on_test_cb, NULL, NULL, NULL },
  { "add-vessel", on_add_vessel_cb, NULL, NULL, NULL },
  { "ask", on_ask_cb, "x", NULL, NULL },
  { "save-chart", on_save_chart_cb, NULL, NULL, NULL },
};

static void
wb_ladder_page_update_actions (WbPage *page)
{
  WbLadderPage *self = WB_LADDER_PAGE (page);
  WbAppNotebook *notebook = wb_page_get_notebook (page);
  gboolean writable = notebook != NULL && !wb_app_notebook_get_read_only (notebook), any = FALSE;

  for (guint i = 0; self->ladder != NULL && i < self->ladder->steps->len; i++)
    any = any || ((const WbCraftLadderStep *) g_ptr_array_index (self->ladder->steps, i))->in_ladder;
  wb_page_enable_action (page, "test", writable && any && is_fresh (self));
  wb_page_enable_action (page, "add-vessel", writable && is_fresh (self) && self->ladder->question.vessel == NULL);
  wb_page_enable_action (page, "ask", notebook != NULL);
  wb_page_enable_action (page, "save-chart", wb_ladder_answer_has_drawing (self->answer));
  wb_ladder_answer_say_grey (self->answer, notebook != NULL && !writable ? _("The notebook can only be read") : _("It is being worked out"));
}

/* ---- Class ---- */

static void
wb_ladder_page_dispose (GObject *object)
{
  WbLadderPage *self = WB_LADDER_PAGE (object);

  stop_reading (self);
  self->job_bar = NULL;
  stop_asking (self);
  if (self->answer != NULL)
    clear_answer (self);
  if (self->question != NULL)
    wb_ladder_question_set_materials (self->question, NULL, NULL);
  g_clear_pointer (&self->materials, wb_app_materials_free);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_LADDER_PAGE);
  self->answer = NULL;
  self->question = NULL;
  G_OBJECT_CLASS (wb_ladder_page_parent_class)->dispose (object);
}

static void
wb_ladder_page_class_init (WbLadderPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  WbPageClass *page_class = WB_PAGE_CLASS (klass);

  g_type_ensure (WB_TYPE_JOB_BAR);
  g_type_ensure (WB_TYPE_LADDER_ANSWER);
  g_type_ensure (WB_TYPE_LADDER_QUESTION);
  G_OBJECT_CLASS (klass)->dispose = wb_ladder_page_dispose;
  page_class->reload = wb_ladder_page_reload;
  page_class->close = wb_ladder_page_close;
  page_class->update_actions = wb_ladder_page_update_actions;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "ladder-page.ui");
  gtk_widget_class_bind_template_child (widget_class, WbLadderPage, question);
  gtk_widget_class_bind_template_child (widget_class, WbLadderPage, missing);
  gtk_widget_class_bind_template_child (widget_class, WbLadderPage, open_materials);
  gtk_widget_class_bind_template_child (widget_class, WbLadderPage, job_bar);
  gtk_widget_class_bind_template_child (widget_class, WbLadderPage, answer);
  gtk_widget_class_bind_template_callback (widget_class, on_question_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_opened_cb);
}

static void
wb_ladder_page_init (WbLadderPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  wb_page_add_actions (WB_PAGE (self), actions, G_N_ELEMENTS (actions));
  wb_ladder_answer_set (self->answer, NULL, NULL);
  wb_page_update_actions (WB_PAGE (self));
}
