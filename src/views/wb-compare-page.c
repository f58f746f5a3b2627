/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-compare-page.h"

#include "wb-accessible-name.h"
#include "wb-advice-strip.h"
#include "wb-bundle.h"
#include "wb-chart-file.h"
#include "wb-choice-list.h"
#include "wb-compare-beside.h"
#include "wb-compare-chart.h"
#include "wb-decision-strip.h"
#include "wb-file-choice.h"
#include "wb-job-bar.h"
#include "wb-numbers-view.h"
#include "wb-plot.h"
#include "wb-problem.h"
#include "wb-ranking-list.h"

#include <glib/gi18n.h>

#define PICTURE_WIDTH_PT 720.0
/* Of letters so large ranking and chart stand one below the other, and the page scrolls. */
#define LARGE_DPI (96 * 1024 * 14 / 10)

struct _WbComparePage
{
  WbPage         parent_instance;

  /* children */
  GtkStack      *stack;
  GtkLabel      *empty;
  WbJobBar      *job_bar;
  GtkWidget     *group_row;
  GtkDropDown   *group;
  GtkPaned      *paned;
  GtkScrolledWindow *answer_place;
  GtkScrolledWindow *ranking_place;
  GtkLabel      *answer_text;
  GtkLabel      *sureness;
  WbDecisionStrip *decision;
  WbAdviceStrip *advice;
  WbRankingList *ranking;
  WbCompareChart *picture;
  WbCompareBeside *beside;
  WbNumbersView *numbers;

  /* owned */
  WbCraftAnswer *answer;
  WbAppJob      *job;      /* the answer's; NULL: none */

  /* state */
  gint64         shown_experiment; /* whose answer it is */
  gint64         top_experiment;   /* whose answer, and which group of it, was last brought to its top */
  guint          top_group;
  const char    *look;             /* "answer", "beside" or "numbers", static: what of the page is in front */
  gboolean       filling;
};

G_DEFINE_FINAL_TYPE (WbComparePage, wb_compare_page, WB_TYPE_PAGE)

static guint
get_group (WbComparePage *self)
{
  guint selected = gtk_drop_down_get_selected (self->group);

  return selected == GTK_INVALID_LIST_POSITION ? 0 : selected;
}

static gboolean
is_beside (WbComparePage *self)
{
  return g_str_equal (self->look, "beside");
}

/* The bar shows what the person waits for: the answer before a chart of the one before. */
static void
update_bar (WbComparePage *self)
{
  WbAppJob *job = self->job;
  const char *text = _("Working out the comparison");

  if (self->job_bar == NULL)
    return;
  if (job == NULL && is_beside (self))
    job = wb_compare_beside_get_job (self->beside, &text);
  else if (job == NULL)
    {
      job = wb_compare_chart_get_job (self->picture);
      text = _("Drawing the chart");
    }
  if (wb_job_bar_get_job (self->job_bar) != job)
    wb_job_bar_set_job (self->job_bar, job, job != NULL ? text : NULL);
}

static void
draw (WbComparePage *self)
{
  g_autoptr (GArray) cells = wb_ranking_list_dup_shown (self->ranking);

  wb_compare_chart_set (self->picture, self->answer, get_group (self), cells);
}

/* Another answer is read from its top; the same, worked out anew, stays where it is read. */
static void
go_to_top (WbComparePage *self)
{
  gint64 experiment = self->answer->data->experiment->record.id;

  if (experiment == self->top_experiment && get_group (self) == self->top_group)
    return;
  self->top_experiment = experiment;
  self->top_group = get_group (self);
  gtk_adjustment_set_value (gtk_scrolled_window_get_vadjustment (self->answer_place), 0.0);
  gtk_adjustment_set_value (gtk_scrolled_window_get_vadjustment (self->ranking_place), 0.0);
}

static void
show_group (WbComparePage *self)
{
  const WbCraftRanking *ranking = self->answer->ranking;
  g_autofree char *text = NULL;
  g_autofree char *sureness = NULL;

  if (ranking->n_groups == 0)
    return;
  text = wb_craft_group_dup_answer (self->answer->data, &ranking->groups[MIN (get_group (self), ranking->n_groups - 1)]);
  sureness = wb_craft_group_dup_sureness (self->answer->data, &ranking->groups[MIN (get_group (self), ranking->n_groups - 1)]);
  gtk_label_set_text (self->answer_text, text);
  gtk_label_set_text (self->sureness, sureness);
  wb_decision_strip_show (self->decision, wb_page_get_desk (WB_PAGE (self)), self->answer, MIN (get_group (self), ranking->n_groups - 1));
  wb_advice_strip_show (self->advice, wb_page_get_desk (WB_PAGE (self)), self->answer, MIN (get_group (self), ranking->n_groups - 1));
  wb_ranking_list_set_answer (self->ranking, self->answer, MIN (get_group (self), ranking->n_groups - 1));
  wb_numbers_view_set (self->numbers, self->answer, MIN (get_group (self), ranking->n_groups - 1));
  go_to_top (self);
  draw (self);
}

static void
fill_groups (WbComparePage *self)
{
  const WbCraftRanking *ranking = self->answer->ranking;
  g_autoptr (GtkStringList) titles = gtk_string_list_new (NULL);
  guint kept = self->shown_experiment == wb_page_get_experiment (WB_PAGE (self)) ? get_group (self) : 0;

  for (guint i = 0; i < ranking->n_groups; i++)
    {
      g_autofree char *title = wb_craft_group_dup_title (self->answer->data, &ranking->groups[i]);

      gtk_string_list_append (titles, title);
    }
  self->filling = TRUE;
  gtk_drop_down_set_model (self->group, G_LIST_MODEL (titles));
  gtk_drop_down_set_selected (self->group, kept < ranking->n_groups ? kept : 0);
  self->filling = FALSE;
}

/* ---- The answer ---- */

/* Something of this experiment was burnt, and what is said of it is there. */
static gboolean
has_answer (WbComparePage *self)
{
  return self->answer != NULL && self->answer->data->burns->len > 0;
}

/* What lies side by side may be of other experiments: it needs no answer of this one. */
static void
show_look (WbComparePage *self)
{
  const char *child = is_beside (self) || has_answer (self) ? self->look : "empty";

  gtk_stack_set_visible_child_name (self->stack, child);
  gtk_widget_set_visible (self->group_row, !is_beside (self) && has_answer (self) && self->answer->ranking->n_groups > 0);
  if (is_beside (self) && has_answer (self))
    {
      g_autoptr (GArray) cells = wb_ranking_list_dup_shown (self->ranking);

      wb_compare_beside_propose (self->beside, self->answer, cells);
    }
  wb_compare_beside_set_shown (self->beside, is_beside (self) && gtk_widget_get_mapped (GTK_WIDGET (self)));
  update_bar (self);
}

static void
set_look (WbComparePage *self,
          const char    *look)
{
  GAction *action = g_action_map_lookup_action (G_ACTION_MAP (wb_page_get_actions (WB_PAGE (self))), "look");

  self->look = g_intern_string (look);
  g_simple_action_set_state (G_SIMPLE_ACTION (action), g_variant_new_string (look));
  show_look (self);
  wb_page_update_actions (WB_PAGE (self));
}

static void
say_nothing (WbComparePage *self,
             const char    *why)
{
  gtk_label_set_text (self->empty, why);
  show_look (self);
}

static void
show_answer (WbComparePage *self)
{
  const WbDataset *data = self->answer->data;

  if (data->burns->len == 0)
    {
      say_nothing (self, _("Nothing has been burnt yet. Light the samples on the Burn page: after their first readings the comparison stands here."));
      return;
    }
  fill_groups (self);
  self->shown_experiment = wb_page_get_experiment (WB_PAGE (self));
  show_group (self);
  show_look (self);
}

/* An answer on its way. */
typedef struct
{
  WbComparePage *page;
  WbAppJob      *job;
} Wait;

static void
on_answer_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      data)
{
  g_autofree Wait *wait = data;
  g_autoptr (WbComparePage) self = wait->page;
  g_autoptr (WbAppJob) job = wait->job;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbCraftAnswer) answer = wb_app_answers_get_finish (WB_APP_ANSWERS (source), result, &error);

  /* Another one is waited for by now, or none. */
  if (self->job != job)
    return;
  g_clear_object (&self->job);
  update_bar (self);
  if (self->job_bar == NULL || g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  if (answer == NULL)
    {
      wb_problem_show (GTK_WIDGET (self), _("The comparison could not be worked out"), error);
      return;
    }
  if (answer->data->experiment->record.id != wb_page_get_experiment (WB_PAGE (self)))
    return;
  g_clear_pointer (&self->answer, wb_craft_answer_unref);
  self->answer = g_steal_pointer (&answer);
  show_answer (self);
  wb_page_update_actions (WB_PAGE (self));
}

static void
stop_job (WbComparePage *self)
{
  if (self->job != NULL)
    wb_app_job_cancel (self->job);
  g_clear_object (&self->job);
  update_bar (self);
}

static void
wb_compare_page_reload (WbPage *page)
{
  WbComparePage *self = WB_COMPARE_PAGE (page);
  WbDesk *desk = wb_page_get_desk (page);
  Wait *wait;

  stop_job (self);
  if (desk == NULL || wb_page_get_experiment (page) == 0)
    {
      say_nothing (self, _("Choose an experiment on the left."));
      return;
    }
  self->job = wb_app_job_new ();
  update_bar (self);
  wait = g_new (Wait, 1);
  *wait = (Wait) { g_object_ref (self), g_object_ref (self->job) };
  wb_app_answers_get_async (wb_desk_get_answers (desk), wb_page_get_experiment (page), WB_CRAFT_WITHIN_SCENT, 0, self->job,
                            on_answer_cb, wait);
}

static void
wb_compare_page_set_experiment (WbPage *page,
                                gint64  experiment)
{
  WbComparePage *self = WB_COMPARE_PAGE (page);

  if (experiment != wb_page_get_experiment (page))
    {
      stop_job (self);
      g_clear_pointer (&self->answer, wb_craft_answer_unref);
      wb_decision_strip_show (self->decision, NULL, NULL, 0);
      wb_advice_strip_show (self->advice, NULL, NULL, 0);
      wb_ranking_list_set_answer (self->ranking, NULL, 0);
      wb_numbers_view_set (self->numbers, NULL, 0);
      wb_compare_chart_set (self->picture, NULL, 0, NULL);
      wb_compare_beside_set_experiment (self->beside, experiment);
      say_nothing (self, "");
    }
  WB_PAGE_CLASS (wb_compare_page_parent_class)->set_experiment (page, experiment);
}

static void
wb_compare_page_close (WbPage *page)
{
  WbComparePage *self = WB_COMPARE_PAGE (page);

  stop_job (self);
  g_clear_pointer (&self->answer, wb_craft_answer_unref);
  wb_decision_strip_show (self->decision, NULL, NULL, 0);
  wb_advice_strip_show (self->advice, NULL, NULL, 0);
  wb_ranking_list_set_answer (self->ranking, NULL, 0);
  wb_numbers_view_set (self->numbers, NULL, 0);
  wb_compare_chart_set (self->picture, NULL, 0, NULL);
  wb_compare_beside_set_desk (self->beside, NULL);
  wb_compare_chart_set_touched (self->picture, NULL);
  WB_PAGE_CLASS (wb_compare_page_parent_class)->close (page);
}

static void
wb_compare_page_open (WbPage *page,
                      WbDesk *desk)
{
  WB_PAGE_CLASS (wb_compare_page_parent_class)->open (page, desk);
  wb_compare_beside_set_desk (WB_COMPARE_PAGE (page)->beside, desk);
  wb_compare_chart_set_touched (WB_COMPARE_PAGE (page)->picture, wb_app_today_get_touched (wb_desk_get_today (desk)));
}

/* ---- Choices ---- */

static void
on_group_selected_cb (WbComparePage *self)
{
  if (!self->filling && self->answer != NULL)
    show_group (self);
}

static void
on_shown_changed_cb (WbComparePage *self)
{
  if (!self->filling)
    draw (self);
}

/* A value of the chart was chosen: a combination's samples go side by side, a sample's readings into a window. */
static void
on_opened_cb (WbComparePage       *self,
              const WbChartTarget *target)
{
  gboolean whole = target->sample < 0;

  wb_compare_beside_open (self->beside, target);
  if (whole)
    set_look (self, "beside");
}

/* ---- Actions ---- */

/* The chart that stands in front; NULL: none does. */
static WbChartView *
get_front_chart (WbComparePage *self)
{
  if (is_beside (self))
    return wb_compare_beside_get_chart_view (self->beside);
  return g_str_equal (self->look, "answer") && has_answer (self) ? wb_compare_chart_get_view (self->picture) : NULL;
}

static WbPlotKind
get_front_kind (WbComparePage *self)
{
  return is_beside (self) ? wb_compare_beside_get_kind (self->beside) : wb_compare_chart_get_kind (self->picture);
}

static void
on_chart_path_cb (const char *path,
                  gpointer    user)
{
  g_autoptr (WbComparePage) self = user;
  WbChartView *view = self->picture != NULL ? get_front_chart (self) : NULL;
  WbChart *chart = view != NULL ? wb_chart_view_get_chart (view) : NULL;

  if (path != NULL && chart != NULL)
    wb_chart_file_write (GTK_WIDGET (self), chart, PICTURE_WIDTH_PT, wb_plot_get_height (get_front_kind (self), chart, PICTURE_WIDTH_PT), path);
}

static void
save_chart (WbComparePage *self)
{
  g_autofree char *name = NULL;

  if (get_front_chart (self) == NULL)
    return;
  name = is_beside (self) ? g_strdup_printf ("side-by-side-%s.png", wb_plot_kind_get_key (get_front_kind (self)))
                          : g_strdup_printf ("%s-%s.png", self->answer->data->experiment->code, wb_plot_kind_get_key (get_front_kind (self)));
  wb_file_choice_save (GTK_WIDGET (self), _("Save the chart"), WB_FILE_PICTURE, name, on_chart_path_cb, g_object_ref (self));
}

static void
on_save_chart_cb (GSimpleAction *action,
                  GVariant      *parameter,
                  gpointer       user)
{
  save_chart (user);
}

static void
on_copy_cb (GSimpleAction *action,
            GVariant      *parameter,
            gpointer       user)
{
  WbChartView *view = get_front_chart (user);
  const char *what = g_variant_get_string (parameter, NULL);

  if (view != NULL)
    wb_chart_view_copy (view, g_str_equal (what, "picture") ? WB_CHART_COPY_PICTURE : g_str_equal (what, "csv") ? WB_CHART_COPY_CSV : WB_CHART_COPY_TEXT);
}

/* For menus, shortcuts and tests: the kind by its key. */
static void
on_chart_kind_cb (GSimpleAction *action,
                  GVariant      *parameter,
                  gpointer       user)
{
  const char *key = g_variant_get_string (parameter, NULL);

  if (is_beside (user))
    wb_compare_beside_set_what (WB_COMPARE_PAGE (user)->beside, key);
  else
    wb_compare_chart_set_kind (WB_COMPARE_PAGE (user)->picture, key);
}

static void
on_look_cb (GSimpleAction *action,
            GVariant      *parameter,
            gpointer       user)
{
  static const char *const looks[] = { "answer", "beside", "numbers", NULL };

  if (g_strv_contains (looks, g_variant_get_string (parameter, NULL)))
    set_look (user, g_variant_get_string (parameter, NULL));
}

static void
on_find_cb (GSimpleAction *action,
            GVariant      *parameter,
            gpointer       user)
{
  set_look (user, "beside");
  wb_compare_beside_choose (WB_COMPARE_PAGE (user)->beside);
}

static const GActionEntry actions[] = {
  { "save-chart", on_save_chart_cb, NULL, NULL, NULL },
  { "copy-chart", on_copy_cb, "s", NULL, NULL },
  { "chart", on_chart_kind_cb, "s", NULL, NULL },
  { "look", on_look_cb, "s", "'answer'", NULL },
  { "find", on_find_cb, NULL, NULL, NULL },
};

static void
wb_compare_page_update_actions (WbPage *page)
{
  WbComparePage *self = WB_COMPARE_PAGE (page);
  gboolean drawn = get_front_chart (self) != NULL;

  wb_page_enable_action (page, "save-chart", drawn);
  wb_page_enable_action (page, "copy-chart", drawn);
  wb_page_enable_action (page, "chart", is_beside (self) || self->answer != NULL);
  wb_page_enable_action (page, "look", wb_page_get_desk (page) != NULL);
  wb_page_enable_action (page, "find", wb_page_get_desk (page) != NULL);
}

/* ---- Class ---- */

static void
wb_compare_page_map (GtkWidget *widget)
{
  WbComparePage *self = WB_COMPARE_PAGE (widget);

  GTK_WIDGET_CLASS (wb_compare_page_parent_class)->map (widget);
  wb_compare_beside_set_shown (self->beside, is_beside (self));
}

static void
wb_compare_page_unmap (GtkWidget *widget)
{
  wb_compare_beside_set_shown (WB_COMPARE_PAGE (widget)->beside, FALSE);
  GTK_WIDGET_CLASS (wb_compare_page_parent_class)->unmap (widget);
}

static void
wb_compare_page_dispose (GObject *object)
{
  WbComparePage *self = WB_COMPARE_PAGE (object);

  stop_job (self);
  g_clear_pointer (&self->answer, wb_craft_answer_unref);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_COMPARE_PAGE);
  G_OBJECT_CLASS (wb_compare_page_parent_class)->dispose (object);
}

static void
wb_compare_page_class_init (WbComparePageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  WbPageClass *page_class = WB_PAGE_CLASS (klass);

  g_type_ensure (WB_TYPE_JOB_BAR);
  g_type_ensure (WB_TYPE_DECISION_STRIP);
  g_type_ensure (WB_TYPE_ADVICE_STRIP);
  g_type_ensure (WB_TYPE_RANKING_LIST);
  g_type_ensure (WB_TYPE_COMPARE_CHART);
  g_type_ensure (WB_TYPE_COMPARE_BESIDE);
  g_type_ensure (WB_TYPE_NUMBERS_VIEW);
  G_OBJECT_CLASS (klass)->dispose = wb_compare_page_dispose;
  widget_class->map = wb_compare_page_map;
  widget_class->unmap = wb_compare_page_unmap;
  page_class->open = wb_compare_page_open;
  page_class->reload = wb_compare_page_reload;
  page_class->close = wb_compare_page_close;
  page_class->set_experiment = wb_compare_page_set_experiment;
  page_class->update_actions = wb_compare_page_update_actions;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "compare-page.ui");
  gtk_widget_class_bind_template_child (widget_class, WbComparePage, stack);
  gtk_widget_class_bind_template_child (widget_class, WbComparePage, empty);
  gtk_widget_class_bind_template_child (widget_class, WbComparePage, job_bar);
  gtk_widget_class_bind_template_child (widget_class, WbComparePage, group);
  gtk_widget_class_bind_template_child (widget_class, WbComparePage, group_row);
  gtk_widget_class_bind_template_child (widget_class, WbComparePage, paned);
  gtk_widget_class_bind_template_child (widget_class, WbComparePage, answer_place);
  gtk_widget_class_bind_template_child (widget_class, WbComparePage, ranking_place);
  gtk_widget_class_bind_template_child (widget_class, WbComparePage, answer_text);
  gtk_widget_class_bind_template_child (widget_class, WbComparePage, sureness);
  gtk_widget_class_bind_template_child (widget_class, WbComparePage, decision);
  gtk_widget_class_bind_template_child (widget_class, WbComparePage, advice);
  gtk_widget_class_bind_template_child (widget_class, WbComparePage, ranking);
  gtk_widget_class_bind_template_child (widget_class, WbComparePage, picture);
  gtk_widget_class_bind_template_child (widget_class, WbComparePage, beside);
  gtk_widget_class_bind_template_child (widget_class, WbComparePage, numbers);
  gtk_widget_class_bind_template_callback (widget_class, on_group_selected_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_opened_cb);
  gtk_widget_class_bind_template_callback (widget_class, save_chart);
  gtk_widget_class_bind_template_callback (widget_class, update_bar);
  gtk_widget_class_bind_template_callback (widget_class, wb_page_update_actions);
}

static void
on_dpi_cb (WbComparePage *self)
{
  int dpi = 0;

  g_object_get (gtk_widget_get_settings (GTK_WIDGET (self)), "gtk-xft-dpi", &dpi, NULL);
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self->paned), dpi >= LARGE_DPI ? GTK_ORIENTATION_VERTICAL : GTK_ORIENTATION_HORIZONTAL);
  gtk_scrolled_window_set_min_content_height (self->ranking_place, dpi >= LARGE_DPI ? 360 : 130);
  /* "Tern, 76 mm · Quimber leaf 8 %": no less, for groups may differ in the load alone; of large letters its list tells the rest. */
  wb_choice_list_fit (self->group, dpi >= LARGE_DPI ? 22 : 44);
  wb_decision_strip_set_tall (self->decision, dpi >= LARGE_DPI);
  wb_compare_chart_set_tall (self->picture, dpi >= LARGE_DPI);
  wb_compare_beside_set_tall (self->beside, dpi >= LARGE_DPI);
}

static void
wb_compare_page_init (WbComparePage *self)
{
  self->look = g_intern_static_string ("answer");
  self->filling = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  self->filling = FALSE;
  wb_accessible_name_drop_down (self->group, _("Vessel and scent"));
  wb_page_add_actions (WB_PAGE (self), actions, G_N_ELEMENTS (actions));
  g_signal_connect_object (self->ranking, "shown-changed", G_CALLBACK (on_shown_changed_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (gtk_settings_get_default (), "notify::gtk-xft-dpi", G_CALLBACK (on_dpi_cb), self, G_CONNECT_SWAPPED);
  on_dpi_cb (self);
  say_nothing (self, "");
  wb_page_update_actions (WB_PAGE (self));
}
