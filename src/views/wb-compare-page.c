/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-compare-page.h"

#include "wb-accessible-name.h"
#include "wb-app-chart.h"
#include "wb-bundle.h"
#include "wb-chart-file.h"
#include "wb-chart-view.h"
#include "wb-choice-list.h"
#include "wb-decision-strip.h"
#include "wb-file-choice.h"
#include "wb-job-bar.h"
#include "wb-plot.h"
#include "wb-problem.h"
#include "wb-ranking-list.h"

#include <glib/gi18n.h>

#define PICTURE_WIDTH_PT 720.0

struct _WbComparePage
{
  WbPage         parent_instance;

  /* children */
  GtkStack      *stack;
  GtkLabel      *empty;
  WbJobBar      *job_bar;
  GtkDropDown   *group;
  GtkLabel      *answer_text;
  GtkLabel      *sureness;
  WbDecisionStrip *decision;
  WbRankingList *ranking;
  GtkDropDown   *kind;
  GtkWidget     *figure_row;
  GtkDropDown   *figure;
  GtkDropDown   *stage;
  WbChartView   *chart;

  /* owned */
  WbCraftAnswer *answer;
  WbAppJob      *job;      /* the answer's; NULL: none */
  WbAppJob      *plot;     /* the chart's; NULL: none */
  GArray        *figures;  /* int: WbFigure of each line of the figure's list; -1: all that the kind shows */

  /* state */
  gint64         shown_experiment; /* whose answer it is */
  WbPlotKind     plotted;          /* what the chart in front is */
  int            wanted_figure;    /* WbFigure that the person chose last; -1: none so far */
  gboolean       filling;
};

G_DEFINE_FINAL_TYPE (WbComparePage, wb_compare_page, WB_TYPE_PAGE)

/* Figures that a person compares, in the order of the list. */
static const WbFigure offered[] = {
  WB_FIGURE_FULL_POOL, WB_FIGURE_POOL_LIMIT, WB_FIGURE_DEPTH, WB_FIGURE_FLAME, WB_FIGURE_VESSEL, WB_FIGURE_CONSUMPTION,
  WB_FIGURE_HANG_UP, WB_FIGURE_SOOT, WB_FIGURE_MUSHROOM, WB_FIGURE_THROW, WB_FIGURE_SCORE,
};

static WbPlotKind
get_kind (WbComparePage *self)
{
  guint selected = gtk_drop_down_get_selected (self->kind);

  return selected == GTK_INVALID_LIST_POSITION ? WB_PLOT_GROWTH : (WbPlotKind) selected;
}

/* Of a single burn, to be followed over a life. */
static gboolean
is_of_a_burn (WbFigure figure)
{
  return figure != WB_FIGURE_FULL_POOL && figure != WB_FIGURE_POOL_LIMIT && figure != WB_FIGURE_SCORE;
}

/* What the kind shows unless told otherwise. */
static int
get_usual_figure (WbPlotKind kind)
{
  return kind == WB_PLOT_HEAT ? (int) WB_FIGURE_SCORE : kind == WB_PLOT_EFFECTS ? (int) WB_FIGURE_FULL_POOL : -1;
}

/* The figures that the kind in front can show; the one chosen last stays chosen where it is among them. */
static void
fill_figures (WbComparePage *self)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  WbPlotKind kind = get_kind (self);
  int all = -1;
  guint usual = 0, wanted = G_MAXUINT;

  g_array_set_size (self->figures, 0);
  if (kind == WB_PLOT_LIFE)
    {
      gtk_string_list_append (names, _("the usual four"));
      g_array_append_val (self->figures, all);
    }
  for (guint i = 0; i < G_N_ELEMENTS (offered); i++)
    {
      int figure = (int) offered[i];

      if (kind == WB_PLOT_LIFE && !is_of_a_burn (offered[i]))
        continue;
      if (figure == get_usual_figure (kind))
        usual = self->figures->len;
      if (figure == self->wanted_figure)
        wanted = self->figures->len;
      gtk_string_list_append (names, _(wb_figure_get_label (offered[i])));
      g_array_append_val (self->figures, figure);
    }
  self->filling = TRUE;
  gtk_drop_down_set_model (self->figure, G_LIST_MODEL (names));
  gtk_drop_down_set_selected (self->figure, wanted != G_MAXUINT ? wanted : usual);
  self->filling = FALSE;
  gtk_widget_set_visible (self->figure_row, wb_plot_kind_takes_figure (kind));
}

static guint
get_group (WbComparePage *self)
{
  guint selected = gtk_drop_down_get_selected (self->group);

  return selected == GTK_INVALID_LIST_POSITION ? 0 : selected;
}

/* ---- The chart ---- */

/* What a chart of this kind shows of the group in front: the cells switched on, or the whole grid. */
static void
choose_what (WbComparePage *self,
             WbPlotKind     kind,
             const GArray  *cells,
             WbPlotOptions *options)
{
  guint figure = gtk_drop_down_get_selected (self->figure);
  guint stage = gtk_drop_down_get_selected (self->stage);

  wb_plot_options_init (options, self->answer->data->notebook->us_units);
  options->group = (int) get_group (self);
  if (wb_plot_kind_takes_figure (kind) && figure < self->figures->len)
    options->figure = g_array_index (self->figures, int, figure);
  options->stage = stage == GTK_INVALID_LIST_POSITION || stage == 0 ? WB_STAGE_ALL : (WbStage) (stage - 1);
  if (cells->len > 0 && (kind == WB_PLOT_GROWTH || kind == WB_PLOT_RINGS || kind == WB_PLOT_LIFE))
    {
      options->cells = (const guint *) (gpointer) cells->data;
      options->n_cells = cells->len;
    }
}

/* The bar shows what the person waits for: the answer before a chart of the one before. */
static void
update_bar (WbComparePage *self)
{
  WbAppJob *job = self->job != NULL ? self->job : self->plot;
  const char *text = self->job != NULL ? _("Working out the comparison") : _("Drawing the chart");

  if (self->job_bar != NULL && wb_job_bar_get_job (self->job_bar) != job)
    wb_job_bar_set_job (self->job_bar, job, job != NULL ? text : NULL);
}

static void
stop_plot (WbComparePage *self)
{
  if (self->plot == NULL)
    return;
  wb_app_job_cancel (self->plot);
  g_clear_object (&self->plot);
  update_bar (self);
}

typedef struct
{
  WbComparePage *page;
  WbAppJob      *job;
  WbPlotKind     kind;
} Plot;

static void
take_chart (WbComparePage *self,
            WbPlotKind     kind,
            WbChart       *chart,
            const GError  *error)
{
  self->plotted = kind;
  wb_chart_view_set_chart (self->chart, chart);
  if (chart == NULL && !g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    wb_problem_show (GTK_WIDGET (self), _("The chart was not drawn"), error);
  wb_page_update_actions (WB_PAGE (self));
}

static void
on_plotted_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      data)
{
  Plot *plot = data;
  g_autoptr (WbComparePage) self = plot->page;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbChart) chart = wb_app_chart_plot_finish (result, &error);

  /* Where the person cancelled it, no chart stands under choices that are not its own. */
  if (self->plot == plot->job)
    {
      stop_plot (self);
      take_chart (self, plot->kind, chart, error);
    }
  g_object_unref (plot->job);
  g_free (plot);
}

static void
draw (WbComparePage *self)
{
  g_autoptr (GArray) cells = NULL;
  WbPlotKind kind = get_kind (self);
  WbPlotOptions options;
  Plot *plot;

  stop_plot (self);
  if (self->answer == NULL)
    {
      wb_chart_view_set_chart (self->chart, NULL);
      return;
    }
  cells = wb_ranking_list_dup_shown (self->ranking);
  choose_what (self, kind, cells, &options);
  self->plot = wb_app_job_new ();
  update_bar (self);
  plot = g_new (Plot, 1);
  *plot = (Plot) { g_object_ref (self), g_object_ref (self->plot), kind };
  wb_app_chart_plot_async (self->answer, kind, &options, wb_app_job_get_cancellable (self->plot), on_plotted_cb, plot);
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
  wb_ranking_list_set_answer (self->ranking, self->answer, MIN (get_group (self), ranking->n_groups - 1));
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
  gtk_widget_set_visible (GTK_WIDGET (self->group), ranking->n_groups > 0);
  self->filling = FALSE;
}

/* ---- The answer ---- */

static void
say_nothing (WbComparePage *self,
             const char    *why)
{
  gtk_label_set_text (self->empty, why);
  gtk_stack_set_visible_child_name (self->stack, "empty");
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
  gtk_stack_set_visible_child_name (self->stack, "answer");
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
  stop_plot (self);
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
      wb_ranking_list_set_answer (self->ranking, NULL, 0);
      wb_chart_view_set_chart (self->chart, NULL);
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
  wb_ranking_list_set_answer (self->ranking, NULL, 0);
  wb_chart_view_set_chart (self->chart, NULL);
  WB_PAGE_CLASS (wb_compare_page_parent_class)->close (page);
}

/* ---- Choices ---- */

static void
on_group_selected_cb (WbComparePage *self)
{
  if (!self->filling && self->answer != NULL)
    show_group (self);
}

static void
on_choice_cb (WbComparePage *self)
{
  if (!self->filling)
    draw (self);
}

static void
on_kind_cb (WbComparePage *self)
{
  if (self->filling)
    return;
  fill_figures (self);
  draw (self);
}

static void
on_figure_cb (WbComparePage *self)
{
  guint figure = gtk_drop_down_get_selected (self->figure);

  if (self->filling || figure >= self->figures->len)
    return;
  self->wanted_figure = g_array_index (self->figures, int, figure);
  draw (self);
}

/* ---- Actions ---- */

static void
on_chart_path_cb (const char *path,
                  gpointer    user)
{
  g_autoptr (WbComparePage) self = user;
  WbChart *chart = self->chart != NULL ? wb_chart_view_get_chart (self->chart) : NULL;

  if (path != NULL && chart != NULL)
    wb_chart_file_write (GTK_WIDGET (self), chart, PICTURE_WIDTH_PT, wb_plot_get_height (self->plotted, chart, PICTURE_WIDTH_PT), path);
}

static void
on_save_chart_cb (GSimpleAction *action,
                  GVariant      *parameter,
                  gpointer       user)
{
  WbComparePage *self = user;
  g_autofree char *name = g_strdup_printf ("%s-%s.png", self->answer->data->experiment->code, wb_plot_kind_get_key (self->plotted));

  wb_file_choice_save (GTK_WIDGET (self), _("Save the chart"), WB_FILE_PICTURE, name, on_chart_path_cb, g_object_ref (self));
}

/* For menus, shortcuts and tests: the kind by its key. */
static void
on_chart_kind_cb (GSimpleAction *action,
                  GVariant      *parameter,
                  gpointer       user)
{
  int kind = wb_plot_kind_from_key (g_variant_get_string (parameter, NULL));

  if (kind >= 0)
    gtk_drop_down_set_selected (WB_COMPARE_PAGE (user)->kind, (guint) kind);
}

static const GActionEntry actions[] = {
  { "save-chart", on_save_chart_cb, NULL, NULL, NULL },
  { "chart", on_chart_kind_cb, "s", NULL, NULL },
};

static void
wb_compare_page_update_actions (WbPage *page)
{
  WbComparePage *self = WB_COMPARE_PAGE (page);
  gboolean drawn = self->answer != NULL && wb_chart_view_get_chart (self->chart) != NULL;

  wb_page_enable_action (page, "save-chart", drawn);
  wb_page_enable_action (page, "chart", self->answer != NULL);
}

/* ---- Class ---- */

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
wb_compare_page_finalize (GObject *object)
{
  g_array_unref (WB_COMPARE_PAGE (object)->figures);
  G_OBJECT_CLASS (wb_compare_page_parent_class)->finalize (object);
}

static void
wb_compare_page_class_init (WbComparePageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  WbPageClass *page_class = WB_PAGE_CLASS (klass);

  g_type_ensure (WB_TYPE_JOB_BAR);
  g_type_ensure (WB_TYPE_DECISION_STRIP);
  g_type_ensure (WB_TYPE_RANKING_LIST);
  g_type_ensure (WB_TYPE_CHART_VIEW);
  G_OBJECT_CLASS (klass)->dispose = wb_compare_page_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_compare_page_finalize;
  page_class->reload = wb_compare_page_reload;
  page_class->close = wb_compare_page_close;
  page_class->set_experiment = wb_compare_page_set_experiment;
  page_class->update_actions = wb_compare_page_update_actions;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "compare-page.ui");
  gtk_widget_class_bind_template_child (widget_class, WbComparePage, stack);
  gtk_widget_class_bind_template_child (widget_class, WbComparePage, empty);
  gtk_widget_class_bind_template_child (widget_class, WbComparePage, job_bar);
  gtk_widget_class_bind_template_child (widget_class, WbComparePage, group);
  gtk_widget_class_bind_template_child (widget_class, WbComparePage, answer_text);
  gtk_widget_class_bind_template_child (widget_class, WbComparePage, sureness);
  gtk_widget_class_bind_template_child (widget_class, WbComparePage, decision);
  gtk_widget_class_bind_template_child (widget_class, WbComparePage, ranking);
  gtk_widget_class_bind_template_child (widget_class, WbComparePage, kind);
  gtk_widget_class_bind_template_child (widget_class, WbComparePage, figure_row);
  gtk_widget_class_bind_template_child (widget_class, WbComparePage, figure);
  gtk_widget_class_bind_template_child (widget_class, WbComparePage, stage);
  gtk_widget_class_bind_template_child (widget_class, WbComparePage, chart);
  gtk_widget_class_bind_template_callback (widget_class, on_group_selected_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_choice_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_kind_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_figure_cb);
}

static void
fill_choices (WbComparePage *self)
{
  g_autoptr (GtkStringList) kinds = gtk_string_list_new (NULL);
  g_autoptr (GtkStringList) stages = gtk_string_list_new (NULL);

  for (guint i = 0; i < WB_PLOT_N_KINDS; i++)
    gtk_string_list_append (kinds, wb_plot_kind_get_label ((WbPlotKind) i));
  gtk_string_list_append (stages, _("whole life"));
  for (guint i = 0; i < WB_N_STAGES; i++)
    gtk_string_list_append (stages, _(wb_stage_get_label ((WbStage) i)));
  self->filling = TRUE;
  gtk_drop_down_set_model (self->kind, G_LIST_MODEL (kinds));
  gtk_drop_down_set_model (self->stage, G_LIST_MODEL (stages));
  self->filling = FALSE;
  fill_figures (self);
}

static void
wb_compare_page_init (WbComparePage *self)
{
  self->figures = g_array_new (FALSE, FALSE, sizeof (int));
  self->wanted_figure = -1;
  self->filling = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  wb_accessible_name_drop_down (self->group, _("Vessel and scent"));
  wb_accessible_name_drop_down (self->kind, _("Chart"));
  wb_accessible_name_drop_down (self->figure, _("Figure"));
  wb_accessible_name_drop_down (self->stage, _("Stage of the candle's life"));
  wb_page_add_actions (WB_PAGE (self), actions, G_N_ELEMENTS (actions));
  wb_chart_view_set_minimum (self->chart, 380, 230);
  /* No choice is so long that it pushes the sidebar aside. */
  wb_choice_list_fit (self->kind, 19);
  wb_choice_list_fit (self->stage, 9);
  wb_choice_list_fit (self->figure, 24);
  fill_choices (self);
  g_signal_connect_object (self->ranking, "shown-changed", G_CALLBACK (on_choice_cb), self, G_CONNECT_SWAPPED);
  say_nothing (self, "");
  wb_page_update_actions (WB_PAGE (self));
}
