/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-compare-chart.h"

#include "wb-accessible-name.h"
#include "wb-app-chart.h"
#include "wb-bundle.h"
#include "wb-choice-list.h"
#include "wb-plot.h"
#include "wb-problem.h"

#include <glib/gi18n.h>

/* CSS node: comparechart. */

struct _WbCompareChart
{
  GtkWidget      parent_instance;

  /* children */
  GtkWidget     *box;
  GtkDropDown   *kind;
  GtkDropDown   *stage;
  GtkWidget     *figure_row;
  GtkDropDown   *figure;
  WbChartView   *chart;

  /* owned */
  WbCraftAnswer *answer;   /* NULL: nothing is drawn */
  GArray        *cells;    /* guint: those that are shown */
  WbAppJob      *plot;     /* the chart's; NULL: none */
  WbAppTouchedList *touched; /* NULL: nothing is known of decisions */
  GSignalGroup  *touched_signals;
  GArray        *figures;  /* int: WbFigure of each line of the figure's list; -1: all that the kind shows */

  /* state */
  guint          group;
  WbPlotKind     plotted;       /* what the chart in front is */
  gboolean       tall;          /* letters so large that the page is one column */
  int            wanted_figure; /* WbFigure that the person chose last; -1: none so far */
  gboolean       filling;
};

G_DEFINE_FINAL_TYPE (WbCompareChart, wb_compare_chart, GTK_TYPE_WIDGET)

enum { JOB_CHANGED, DRAWN, SAVE, OPENED, N_SIGNALS };
static guint signals[N_SIGNALS];

/* Figures that a person compares, in the order of the list. */
static const WbFigure offered[] = {
  WB_FIGURE_FULL_POOL, WB_FIGURE_POOL_LIMIT, WB_FIGURE_DEPTH, WB_FIGURE_FLAME, WB_FIGURE_VESSEL, WB_FIGURE_CONSUMPTION,
  WB_FIGURE_HANG_UP, WB_FIGURE_SOOT, WB_FIGURE_MUSHROOM, WB_FIGURE_THROW, WB_FIGURE_SCORE,
};

static void
set_least (WbCompareChart *self)
{
  wb_chart_view_set_minimum (self->chart, 360, wb_plot_get_least_height (wb_chart_view_get_chart (self->chart), self->tall));
}

static WbPlotKind
get_kind (WbCompareChart *self)
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
fill_figures (WbCompareChart *self)
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

/* ---- The chart ---- */

/* What a chart of this kind shows of the group in front: the cells switched on, or the whole grid. */
static void
choose_what (WbCompareChart *self,
             WbPlotKind      kind,
             WbPlotOptions  *options)
{
  guint figure = gtk_drop_down_get_selected (self->figure);
  guint stage = gtk_drop_down_get_selected (self->stage);

  wb_plot_options_init (options, self->answer->data->notebook->us_units);
  options->group = (int) self->group;
  if (wb_plot_kind_takes_figure (kind) && figure < self->figures->len)
    options->figure = g_array_index (self->figures, int, figure);
  options->stage = stage == GTK_INVALID_LIST_POSITION || stage == 0 ? WB_STAGE_ALL : (WbStage) (stage - 1);
  if (self->cells->len > 0 && (kind == WB_PLOT_GROWTH || kind == WB_PLOT_RINGS || kind == WB_PLOT_LIFE || kind == WB_PLOT_MARKS))
    {
      options->cells = (const guint *) (gpointer) self->cells->data;
      options->n_cells = self->cells->len;
    }
}

static void
stop_plot (WbCompareChart *self)
{
  if (self->plot == NULL)
    return;
  wb_app_job_cancel (self->plot);
  g_clear_object (&self->plot);
  g_signal_emit (self, signals[JOB_CHANGED], 0);
}

typedef struct
{
  WbCompareChart *self;
  WbAppJob      *job;
  WbPlotKind     kind;
} Plot;

static void
take_chart (WbCompareChart *self,
            WbPlotKind     kind,
            WbChart       *chart,
            const GError  *error)
{
  self->plotted = kind;
  wb_chart_view_set_chart (self->chart, chart);
  set_least (self);
  if (chart == NULL && !g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    wb_problem_show (GTK_WIDGET (self), _("The chart was not drawn"), error);
  g_signal_emit (self, signals[DRAWN], 0);
}

static void
on_plotted_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      data)
{
  Plot *plot = data;
  g_autoptr (WbCompareChart) self = plot->self;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbChart) chart = wb_app_chart_plot_finish (result, &error);

  /* Where the person cancelled it, no chart stands under choices that are not its own. */
  if (self->plot == plot->job && self->box != NULL)
    {
      stop_plot (self);
      take_chart (self, plot->kind, chart, error);
    }
  g_object_unref (plot->job);
  g_free (plot);
}

static void
draw (WbCompareChart *self)
{
  WbPlotKind kind = get_kind (self);
  g_autoptr (GArray) reopened = self->touched != NULL ? wb_app_touched_dup_reopened (wb_app_touched_list_get (self->touched)) : NULL;
  WbPlotOptions options;
  Plot *plot;

  stop_plot (self);
  if (self->answer == NULL)
    {
      wb_chart_view_set_chart (self->chart, NULL);
      g_signal_emit (self, signals[DRAWN], 0);
      return;
    }
  choose_what (self, kind, &options);
  if (reopened != NULL)
    {
      options.reopened = (const gint64 *) (gpointer) reopened->data;
      options.n_reopened = reopened->len;
    }
  self->plot = wb_app_job_new ();
  g_signal_emit (self, signals[JOB_CHANGED], 0);
  plot = g_new (Plot, 1);
  *plot = (Plot) { g_object_ref (self), g_object_ref (self->plot), kind };
  wb_app_chart_plot_async (self->answer, kind, &options, wb_app_job_get_cancellable (self->plot), on_plotted_cb, plot);
}

/* The only one that says what is signed. */
static void
on_touched_changed_cb (WbAppTouchedList *touched,
                       WbCompareChart   *self)
{
  if (self->answer != NULL && get_kind (self) == WB_PLOT_HEAT)
    draw (self);
}

/* ---- A value, and what it stands for ---- */

static gboolean
find_target (WbCompareChart *self,
             guint          panel,
             guint          layer,
             guint64        index,
             WbChartTarget *target)
{
  WbChart *chart = wb_chart_view_get_chart (self->chart);
  guint n = self->answer != NULL ? self->answer->data->cells->len : 0;
  g_autofree WbCraftPick *picks = g_new0 (WbCraftPick, n + 1);
  g_autofree int *series = g_new0 (int, n + 1);

  for (guint i = 0; i < n; i++)
    {
      picks[i] = (WbCraftPick) { self->answer, i, -1 };
      series[i] = wb_plot_get_series (self->answer->data, i);
    }
  return chart != NULL && wb_chart_target_find (chart, panel, layer, index, picks, series, n, target);
}

static char *
dup_verb (guint    panel,
          guint    layer,
          guint64  index,
          gpointer user)
{
  WbChartTarget target;

  return find_target (user, panel, layer, index, &target) ? wb_chart_target_dup_verb (&target) : NULL;
}

static void
on_chosen_cb (WbCompareChart *self,
              guint          panel,
              guint          layer,
              guint64        index)
{
  WbChartTarget target;

  if (find_target (self, panel, layer, index, &target))
    g_signal_emit (self, signals[OPENED], 0, &target);
}

/* ---- Choices ---- */

static void
on_choice_cb (WbCompareChart *self)
{
  if (!self->filling)
    draw (self);
}

static void
on_kind_cb (WbCompareChart *self)
{
  if (self->filling)
    return;
  fill_figures (self);
  draw (self);
}

static void
on_figure_cb (WbCompareChart *self)
{
  guint figure = gtk_drop_down_get_selected (self->figure);

  if (self->filling || figure >= self->figures->len)
    return;
  self->wanted_figure = g_array_index (self->figures, int, figure);
  draw (self);
}

static void
on_save_cb (WbCompareChart *self)
{
  g_signal_emit (self, signals[SAVE], 0);
}

/* ---- Class ---- */

static void
wb_compare_chart_dispose (GObject *object)
{
  WbCompareChart *self = WB_COMPARE_CHART (object);
  GtkWidget *child;

  if (self->plot != NULL)
    wb_app_job_cancel (self->plot);
  g_clear_object (&self->plot);
  g_clear_pointer (&self->answer, wb_craft_answer_unref);
  g_clear_object (&self->touched_signals);
  g_clear_object (&self->touched);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_COMPARE_CHART);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))) != NULL)
    gtk_widget_unparent (child);
  self->box = NULL;
  G_OBJECT_CLASS (wb_compare_chart_parent_class)->dispose (object);
}

static void
wb_compare_chart_finalize (GObject *object)
{
  g_array_unref (WB_COMPARE_CHART (object)->figures);
  g_array_unref (WB_COMPARE_CHART (object)->cells);
  G_OBJECT_CLASS (wb_compare_chart_parent_class)->finalize (object);
}

static void
wb_compare_chart_class_init (WbCompareChartClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_CHART_VIEW);
  G_OBJECT_CLASS (klass)->dispose = wb_compare_chart_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_compare_chart_finalize;
  signals[JOB_CHANGED] = g_signal_new ("job-changed", WB_TYPE_COMPARE_CHART, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[DRAWN] = g_signal_new ("drawn", WB_TYPE_COMPARE_CHART, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SAVE] = g_signal_new ("save", WB_TYPE_COMPARE_CHART, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[OPENED] = g_signal_new ("opened", WB_TYPE_COMPARE_CHART, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_POINTER);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "comparechart");
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "compare-chart.ui");
  gtk_widget_class_bind_template_child (widget_class, WbCompareChart, box);
  gtk_widget_class_bind_template_child (widget_class, WbCompareChart, kind);
  gtk_widget_class_bind_template_child (widget_class, WbCompareChart, stage);
  gtk_widget_class_bind_template_child (widget_class, WbCompareChart, figure_row);
  gtk_widget_class_bind_template_child (widget_class, WbCompareChart, figure);
  gtk_widget_class_bind_template_child (widget_class, WbCompareChart, chart);
  gtk_widget_class_bind_template_callback (widget_class, on_choice_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_kind_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_figure_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_chosen_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_save_cb);
}

static void
fill_choices (WbCompareChart *self)
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
wb_compare_chart_init (WbCompareChart *self)
{
  self->figures = g_array_new (FALSE, FALSE, sizeof (int));
  self->cells = g_array_new (FALSE, FALSE, sizeof (guint));
  self->wanted_figure = -1;
  self->touched_signals = g_signal_group_new (WB_TYPE_APP_TOUCHED_LIST);
  g_signal_group_connect (self->touched_signals, "changed", G_CALLBACK (on_touched_changed_cb), self);
  self->filling = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  wb_accessible_name_drop_down (self->kind, _("Chart"));
  wb_accessible_name_drop_down (self->figure, _("Figure"));
  wb_accessible_name_drop_down (self->stage, _("Stage of the candle's life"));
  set_least (self);
  wb_chart_view_set_can_save (self->chart, TRUE);
  wb_chart_view_set_verb (self->chart, dup_verb, self);
  /* No choice is so long that it pushes the sidebar aside. */
  wb_choice_list_fit (self->kind, 19);
  wb_choice_list_fit (self->stage, 9);
  wb_choice_list_fit (self->figure, 20);
  fill_choices (self);
}

void
wb_compare_chart_set (WbCompareChart *self,
                      WbCraftAnswer  *answer,
                      guint           group,
                      const GArray   *cells)
{
  g_return_if_fail (WB_IS_COMPARE_CHART (self));

  if (answer != NULL)
    wb_craft_answer_ref (answer);
  g_clear_pointer (&self->answer, wb_craft_answer_unref);
  self->answer = answer;
  self->group = group;
  g_array_set_size (self->cells, 0);
  if (cells != NULL)
    g_array_append_vals (self->cells, cells->data, cells->len);
  draw (self);
}

void
wb_compare_chart_set_touched (WbCompareChart   *self,
                              WbAppTouchedList *touched)
{
  g_return_if_fail (WB_IS_COMPARE_CHART (self));
  g_return_if_fail (touched == NULL || WB_IS_APP_TOUCHED_LIST (touched));

  g_set_object (&self->touched, touched);
  g_signal_group_set_target (self->touched_signals, touched);
}

gboolean
wb_compare_chart_set_kind (WbCompareChart *self,
                           const char     *key)
{
  int kind;

  g_return_val_if_fail (WB_IS_COMPARE_CHART (self), FALSE);

  kind = wb_plot_kind_from_key (key);
  if (kind >= 0)
    gtk_drop_down_set_selected (self->kind, (guint) kind);
  return kind >= 0;
}

void
wb_compare_chart_set_tall (WbCompareChart *self,
                           gboolean        tall)
{
  g_return_if_fail (WB_IS_COMPARE_CHART (self));
  self->tall = tall;
  set_least (self);
}

WbPlotKind
wb_compare_chart_get_kind (WbCompareChart *self)
{
  g_return_val_if_fail (WB_IS_COMPARE_CHART (self), WB_PLOT_GROWTH);
  return self->plotted;
}

WbAppJob *
wb_compare_chart_get_job (WbCompareChart *self)
{
  g_return_val_if_fail (WB_IS_COMPARE_CHART (self), NULL);
  return self->plot;
}

WbChartView *
wb_compare_chart_get_view (WbCompareChart *self)
{
  g_return_val_if_fail (WB_IS_COMPARE_CHART (self), NULL);
  return wb_chart_view_get_chart (self->chart) != NULL ? self->chart : NULL;
}
