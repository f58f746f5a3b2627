/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-compare-beside.h"

#include "wb-accessible-name.h"
#include "wb-app-chart.h"
#include "wb-beside-conditions.h"
#include "wb-beside-photos.h"
#include "wb-beside-table.h"
#include "wb-bundle.h"
#include "wb-choice-list.h"
#include "wb-pick-dialog.h"
#include "wb-pick-list.h"
#include "wb-plot-beside.h"
#include "wb-problem.h"
#include "wb-sample-dialog.h"

#include <glib/gi18n.h>

/* CSS node: comparebeside. What the list "What to see" offers: the kinds that take picks, then these two. */
#define WHAT_TABLE ((int) WB_PLOT_N_KINDS)
#define WHAT_PHOTOS ((int) WB_PLOT_N_KINDS + 1)

struct _WbCompareBeside
{
  GtkWidget       parent_instance;

  /* children */
  GtkPaned       *paned;
  GtkScrolledWindow *list_place;
  WbPickList     *list;
  GtkWidget      *choose;
  GtkWidget      *back;
  GtkWidget      *retry;
  GtkDropDown    *what;
  GtkWidget      *stage_row;
  GtkDropDown    *stage;
  GtkWidget      *figure_row;
  GtkDropDown    *figure;
  WbBesideConditions *conditions;
  GtkStack       *stack;
  GtkLabel       *empty;
  WbChartView    *chart;
  WbBesideTable  *table;
  WbBesidePhotos *photos;

  /* owned */
  WbDesk         *desk;      /* NULL: no notebook is open */
  WbPicks        *picks;     /* the same */
  WbAppJob       *plot;      /* the chart's; NULL: none */
  GArray         *kinds;     /* int: kind, or one of the two, of each line of the list */
  GArray         *figures;   /* int: WbFigure of each line; -1: the usual ones */
  GArray         *drawn;     /* WbCraftPick: what the chart in front is of, with references on the answers */

  /* state */
  gint64          experiment;
  WbPlotKind      kind;      /* of the chart that is in front */
  gboolean        tall;      /* letters so large that the page is one column */
  gboolean        shown;
  gboolean        stale;     /* something changed while it was not shown */
  gboolean        quiet;
};

G_DEFINE_FINAL_TYPE (WbCompareBeside, wb_compare_beside, GTK_TYPE_WIDGET)

enum { JOB_CHANGED, DRAWN, SAVE, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
clear_pick (gpointer data)
{
  wb_craft_answer_unref ((WbCraftAnswer *) ((WbCraftPick *) data)->answer);
}

static int
get_what (WbCompareBeside *self)
{
  guint selected = gtk_drop_down_get_selected (self->what);

  return selected < self->kinds->len ? g_array_index (self->kinds, int, selected) : (int) WB_PLOT_GROWTH;
}

/* Those whose answer is there, in order, with references on it. Caller unrefs. */
static GArray *
list_there (WbCompareBeside *self)
{
  GArray *there = g_array_new (FALSE, FALSE, sizeof (WbCraftPick));

  g_array_set_clear_func (there, clear_pick);
  for (guint i = 0; self->picks != NULL && i < wb_picks_get_n (self->picks); i++)
    {
      const WbPicked *picked = wb_picks_get (self->picks, i);
      WbCraftPick pick;

      if (picked->answer == NULL)
        continue;
      pick = (WbCraftPick) { wb_craft_answer_ref (picked->answer), picked->index, picked->sample };
      g_array_append_val (there, pick);
    }
  return there;
}

static const WbCraftPick *
get_drawn (WbCompareBeside *self)
{
  return (const WbCraftPick *) (gpointer) self->drawn->data;
}

static void
set_drawn (WbCompareBeside *self,
           GArray          *picks)
{
  g_array_unref (self->drawn);
  self->drawn = picks;
}

/* ---- The chart ---- */

typedef struct
{
  WbCompareBeside *self;
  WbAppJob        *job;
  GArray          *picks;
  WbPlotKind       kind;
} Plot;

static void
stop_plot (WbCompareBeside *self)
{
  if (self->plot == NULL)
    return;
  wb_app_job_cancel (self->plot);
  g_clear_object (&self->plot);
  g_signal_emit (self, signals[JOB_CHANGED], 0);
}

static void
set_least (WbCompareBeside *self)
{
  wb_chart_view_set_minimum (self->chart, 360, wb_plot_get_least_height (wb_chart_view_get_chart (self->chart), self->tall));
}

static void
on_plotted_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      data)
{
  g_autofree Plot *plot = data;
  g_autoptr (WbCompareBeside) self = plot->self;
  g_autoptr (WbAppJob) job = plot->job;
  g_autoptr (GArray) picks = plot->picks;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbChart) chart = wb_app_chart_beside_finish (result, &error);

  /* Another one is drawn by now, or none. */
  if (self->plot != job || self->paned == NULL)
    return;
  g_clear_object (&self->plot);
  set_drawn (self, g_array_ref (picks));
  self->kind = plot->kind;
  wb_chart_view_set_chart (self->chart, chart);
  set_least (self);
  if (chart == NULL && !g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    wb_problem_show (GTK_WIDGET (self), _("The chart was not drawn"), error);
  g_signal_emit (self, signals[JOB_CHANGED], 0);
  g_signal_emit (self, signals[DRAWN], 0);
}

static gboolean
is_us (WbCompareBeside *self)
{
  return wb_desk_get_unit (self->desk, WB_QUANTITY_LENGTH) == WB_UNIT_INCH;
}

static void
draw (WbCompareBeside *self,
      GArray          *picks,
      WbPlotKind       kind)
{
  guint stage = gtk_drop_down_get_selected (self->stage), figure = gtk_drop_down_get_selected (self->figure);
  WbPlotOptions options;
  Plot *plot;

  stop_plot (self);
  wb_plot_options_init (&options, is_us (self));
  options.stage = stage == 0 || stage == GTK_INVALID_LIST_POSITION || kind != WB_PLOT_GROWTH ? WB_STAGE_ALL : (WbStage) (stage - 1);
  if (kind == WB_PLOT_LIFE && figure < self->figures->len)
    options.figure = g_array_index (self->figures, int, figure);
  self->plot = wb_app_job_new ();
  plot = g_new (Plot, 1);
  *plot = (Plot) { g_object_ref (self), g_object_ref (self->plot), g_array_ref (picks), kind };
  g_signal_emit (self, signals[JOB_CHANGED], 0);
  wb_app_chart_beside_async ((const WbCraftPick *) (gpointer) picks->data, picks->len, kind, &options,
                             wb_app_job_get_cancellable (self->plot), on_plotted_cb, plot);
}

/* ---- What is in front ---- */

static void
say (WbCompareBeside *self,
     const char      *text)
{
  stop_plot (self);
  gtk_label_set_text (self->empty, text);
  gtk_stack_set_visible_child_name (self->stack, "empty");
  wb_chart_view_set_chart (self->chart, NULL);
  wb_beside_conditions_show (self->conditions, NULL, 0);
  g_signal_emit (self, signals[DRAWN], 0);
}

static void
show_front (WbCompareBeside *self,
            GArray          *there)
{
  const WbCraftPick *picks = (const WbCraftPick *) (gpointer) there->data;
  int what = get_what (self);

  wb_beside_conditions_show (self->conditions, picks, there->len);
  if (what == WHAT_TABLE || what == WHAT_PHOTOS)
    {
      stop_plot (self);
      wb_chart_view_set_chart (self->chart, NULL);
      gtk_stack_set_visible_child_name (self->stack, what == WHAT_TABLE ? "table" : "photos");
    }
  if (what == WHAT_TABLE)
    wb_beside_table_show (self->table, picks, there->len, is_us (self));
  else if (what == WHAT_PHOTOS)
    wb_beside_photos_show (self->photos, wb_desk_get_notebook (self->desk), picks, there->len);
  else
    {
      gtk_stack_set_visible_child_name (self->stack, "chart");
      draw (self, there, (WbPlotKind) what);
    }
  if (what == WHAT_TABLE || what == WHAT_PHOTOS)
    g_signal_emit (self, signals[DRAWN], 0);
}

static gboolean
has_failed (WbCompareBeside *self)
{
  for (guint i = 0; self->picks != NULL && i < wb_picks_get_n (self->picks); i++)
    {
      const WbPicked *picked = wb_picks_get (self->picks, i);

      if (!picked->fresh && picked->why != NULL)
        return TRUE;
    }
  return FALSE;
}

static void
update_choices (WbCompareBeside *self)
{
  int what = get_what (self);

  gtk_widget_set_visible (self->stage_row, what == WB_PLOT_GROWTH);
  gtk_widget_set_visible (self->figure_row, what == WB_PLOT_LIFE);
  gtk_widget_set_visible (self->back, self->picks != NULL && wb_picks_can_go_back (self->picks));
  gtk_widget_set_visible (self->retry, has_failed (self) && wb_picks_get_job (self->picks) == NULL);
}

/* Shows all as it is now; while it is not shown only notes that it has to. */
static void
update (WbCompareBeside *self)
{
  g_autoptr (GArray) there = NULL;

  update_choices (self);
  self->stale = !self->shown;
  if (!self->shown || self->picks == NULL)
    return;
  there = list_there (self);
  if (wb_picks_get_n (self->picks) == 0)
    say (self, _("Choose combinations, single samples or whole experiments, also of other experiments: they stand here side by side, in the order that you give them."));
  else if (wb_picks_get_job (self->picks) != NULL)
    say (self, _("The answers that this rests on are being worked out…"));
  else if (there->len == 0)
    say (self, _("Of none of these is there an answer."));
  else
    show_front (self, there);
}

static void
on_job_cb (WbCompareBeside *self)
{
  g_signal_emit (self, signals[JOB_CHANGED], 0);
  update (self);
}

static void
on_what_cb (WbCompareBeside *self)
{
  if (!self->quiet)
    update (self);
}

/* ---- Verbs ---- */

static void
on_choose_clicked_cb (WbCompareBeside *self)
{
  wb_compare_beside_choose (self);
}

static void
on_back_clicked_cb (WbCompareBeside *self)
{
  wb_picks_go_back (self->picks);
}

static void
on_retry_clicked_cb (WbCompareBeside *self)
{
  wb_picks_retry (self->picks);
}

static void
on_opened_cb (WbCompareBeside *self,
              guint            index)
{
  const WbPicked *picked = wb_picks_get (self->picks, index);
  WbChartTarget target = { picked->answer, picked->index, picked->sample, 0 };

  if (picked->answer != NULL)
    wb_compare_beside_open (self, &target);
}

static void
on_save_cb (WbCompareBeside *self)
{
  g_signal_emit (self, signals[SAVE], 0);
}

static gboolean
find_target (WbCompareBeside *self,
             guint            panel,
             guint            layer,
             guint64          index,
             WbChartTarget   *target)
{
  g_autofree int *series = g_new0 (int, self->drawn->len + 1);
  WbChart *chart = wb_chart_view_get_chart (self->chart);

  for (guint i = 0; i < self->drawn->len; i++)
    series[i] = wb_plot_beside_get_series (get_drawn (self), self->drawn->len, i);
  return chart != NULL && wb_chart_target_find (chart, panel, layer, index, get_drawn (self), series, self->drawn->len, target);
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
on_chosen_cb (WbCompareBeside *self,
              guint            panel,
              guint            layer,
              guint64          index)
{
  WbChartTarget target;

  if (find_target (self, panel, layer, index, &target))
    wb_compare_beside_open (self, &target);
}

/* ---- Class ---- */

static void
wb_compare_beside_dispose (GObject *object)
{
  WbCompareBeside *self = WB_COMPARE_BESIDE (object);
  GtkWidget *child;

  if (self->paned != NULL)
    wb_compare_beside_set_desk (self, NULL);
  self->paned = NULL;
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_COMPARE_BESIDE);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))) != NULL)
    gtk_widget_unparent (child);
  G_OBJECT_CLASS (wb_compare_beside_parent_class)->dispose (object);
}

static void
wb_compare_beside_finalize (GObject *object)
{
  WbCompareBeside *self = WB_COMPARE_BESIDE (object);

  g_array_unref (self->kinds);
  g_array_unref (self->figures);
  g_array_unref (self->drawn);
  G_OBJECT_CLASS (wb_compare_beside_parent_class)->finalize (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, WbCompareBeside, paned);
  gtk_widget_class_bind_template_child (widget_class, WbCompareBeside, list);
  gtk_widget_class_bind_template_child (widget_class, WbCompareBeside, list_place);
  gtk_widget_class_bind_template_child (widget_class, WbCompareBeside, choose);
  gtk_widget_class_bind_template_child (widget_class, WbCompareBeside, back);
  gtk_widget_class_bind_template_child (widget_class, WbCompareBeside, retry);
  gtk_widget_class_bind_template_child (widget_class, WbCompareBeside, what);
  gtk_widget_class_bind_template_child (widget_class, WbCompareBeside, stage_row);
  gtk_widget_class_bind_template_child (widget_class, WbCompareBeside, stage);
  gtk_widget_class_bind_template_child (widget_class, WbCompareBeside, figure_row);
  gtk_widget_class_bind_template_child (widget_class, WbCompareBeside, figure);
  gtk_widget_class_bind_template_child (widget_class, WbCompareBeside, conditions);
  gtk_widget_class_bind_template_child (widget_class, WbCompareBeside, stack);
  gtk_widget_class_bind_template_child (widget_class, WbCompareBeside, empty);
  gtk_widget_class_bind_template_child (widget_class, WbCompareBeside, chart);
  gtk_widget_class_bind_template_child (widget_class, WbCompareBeside, table);
  gtk_widget_class_bind_template_child (widget_class, WbCompareBeside, photos);
}

static void
wb_compare_beside_class_init (WbCompareBesideClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_PICK_LIST);
  g_type_ensure (WB_TYPE_CHART_VIEW);
  g_type_ensure (WB_TYPE_BESIDE_CONDITIONS);
  g_type_ensure (WB_TYPE_BESIDE_TABLE);
  g_type_ensure (WB_TYPE_BESIDE_PHOTOS);
  G_OBJECT_CLASS (klass)->dispose = wb_compare_beside_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_compare_beside_finalize;
  signals[JOB_CHANGED] = g_signal_new ("job-changed", WB_TYPE_COMPARE_BESIDE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[DRAWN] = g_signal_new ("drawn", WB_TYPE_COMPARE_BESIDE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SAVE] = g_signal_new ("save", WB_TYPE_COMPARE_BESIDE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "comparebeside");
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "compare-beside.ui");
  bind_children (widget_class);
  gtk_widget_class_bind_template_callback (widget_class, on_choose_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_back_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_retry_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_what_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_opened_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_chosen_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_save_cb);
}

static void
fill_what (WbCompareBeside *self)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  static const int others[] = { WHAT_TABLE, WHAT_PHOTOS };

  for (int kind = 0; kind < (int) WB_PLOT_N_KINDS; kind++)
    if (wb_plot_kind_takes_picks ((WbPlotKind) kind))
      {
        gtk_string_list_append (names, wb_plot_kind_get_label ((WbPlotKind) kind));
        g_array_append_val (self->kinds, kind);
      }
  gtk_string_list_append (names, _("Figures, and which is better"));
  gtk_string_list_append (names, _("Photos at the same hour"));
  g_array_append_vals (self->kinds, others, G_N_ELEMENTS (others));
  gtk_drop_down_set_model (self->what, G_LIST_MODEL (names));
}

/* Figures of a single burn, that can be followed over a life. */
static void
fill_figures (WbCompareBeside *self)
{
  static const WbFigure offered[] = { WB_FIGURE_DEPTH, WB_FIGURE_FLAME, WB_FIGURE_VESSEL, WB_FIGURE_CONSUMPTION, WB_FIGURE_HANG_UP,
                                      WB_FIGURE_SOOT, WB_FIGURE_MUSHROOM, WB_FIGURE_THROW };
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  int all = -1;

  gtk_string_list_append (names, _("the usual four"));
  g_array_append_val (self->figures, all);
  for (guint i = 0; i < G_N_ELEMENTS (offered); i++)
    {
      int figure = (int) offered[i];

      gtk_string_list_append (names, _(wb_figure_get_label (offered[i])));
      g_array_append_val (self->figures, figure);
    }
  gtk_drop_down_set_model (self->figure, G_LIST_MODEL (names));
}

static void
fill_stages (WbCompareBeside *self)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);

  gtk_string_list_append (names, _("whole life"));
  for (guint i = 0; i < WB_N_STAGES; i++)
    gtk_string_list_append (names, _(wb_stage_get_label ((WbStage) i)));
  gtk_drop_down_set_model (self->stage, G_LIST_MODEL (names));
}

static void
wb_compare_beside_init (WbCompareBeside *self)
{
  self->kinds = g_array_new (FALSE, FALSE, sizeof (int));
  self->figures = g_array_new (FALSE, FALSE, sizeof (int));
  self->drawn = g_array_new (FALSE, FALSE, sizeof (WbCraftPick));
  self->quiet = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  wb_accessible_name_drop_down (self->what, _("What to see"));
  wb_accessible_name_drop_down (self->stage, _("Stage of the candle's life"));
  wb_accessible_name_drop_down (self->figure, _("Figure"));
  wb_choice_list_fit (self->what, 19);
  wb_choice_list_fit (self->stage, 9);
  wb_choice_list_fit (self->figure, 20);
  fill_what (self);
  fill_figures (self);
  fill_stages (self);
  self->quiet = FALSE;
  set_least (self);
  wb_chart_view_set_can_save (self->chart, TRUE);
  wb_chart_view_set_verb (self->chart, dup_verb, self);
  update_choices (self);
}

/* ---- Public ---- */

void
wb_compare_beside_set_desk (WbCompareBeside *self,
                            WbDesk          *desk)
{
  g_return_if_fail (WB_IS_COMPARE_BESIDE (self));

  if (desk == self->desk)
    return;
  stop_plot (self);
  wb_pick_list_set (self->list, NULL);
  if (self->picks != NULL)
    {
      g_signal_handlers_disconnect_by_data (self->picks, self);
      wb_picks_ask (self->picks, FALSE);
    }
  g_clear_object (&self->picks);
  g_set_object (&self->desk, desk);
  wb_chart_view_set_chart (self->chart, NULL);
  wb_beside_conditions_show (self->conditions, NULL, 0);
  wb_beside_table_show (self->table, NULL, 0, FALSE);
  wb_beside_photos_show (self->photos, NULL, NULL, 0);
  set_drawn (self, g_array_new (FALSE, FALSE, sizeof (WbCraftPick)));
  if (desk == NULL)
    return;
  self->picks = wb_picks_new (desk);
  g_signal_connect_swapped (self->picks, "changed", G_CALLBACK (update), self);
  g_signal_connect_swapped (self->picks, "answered", G_CALLBACK (update), self);
  g_signal_connect_swapped (self->picks, "notify::job", G_CALLBACK (on_job_cb), self);
  wb_pick_list_set (self->list, self->picks);
  update (self);
}

void
wb_compare_beside_set_experiment (WbCompareBeside *self,
                                  gint64           experiment)
{
  g_return_if_fail (WB_IS_COMPARE_BESIDE (self));
  self->experiment = experiment;
}

void
wb_compare_beside_set_shown (WbCompareBeside *self,
                             gboolean         shown)
{
  g_return_if_fail (WB_IS_COMPARE_BESIDE (self));

  if (shown == self->shown)
    return;
  self->shown = shown;
  if (self->picks != NULL)
    wb_picks_ask (self->picks, shown);
  if (shown && (self->stale || wb_chart_view_get_chart (self->chart) == NULL))
    update (self);
}

void
wb_compare_beside_set_tall (WbCompareBeside *self,
                            gboolean         tall)
{
  g_return_if_fail (WB_IS_COMPARE_BESIDE (self));
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self->paned), tall ? GTK_ORIENTATION_VERTICAL : GTK_ORIENTATION_HORIZONTAL);
  gtk_scrolled_window_set_min_content_height (self->list_place, tall ? 260 : 120);
  self->tall = tall;
  set_least (self);
}

void
wb_compare_beside_propose (WbCompareBeside     *self,
                           const WbCraftAnswer *answer,
                           const GArray        *cells)
{
  g_return_if_fail (WB_IS_COMPARE_BESIDE (self));
  g_return_if_fail (answer != NULL && cells != NULL);

  if (self->picks == NULL || wb_picks_get_n (self->picks) > 0)
    return;
  for (guint i = 0; i < cells->len; i++)
    {
      guint cell = g_array_index (cells, guint, i);
      WbPick pick = { answer->data->experiment->record.id, wb_dataset_get_cell (answer->data, cell)->record.id, 0 };
      g_autofree char *title = wb_pick_dup_title (answer->data, cell, -1);

      wb_picks_add (self->picks, &pick, title);
    }
}

void
wb_compare_beside_show_samples (WbCompareBeside     *self,
                                const WbCraftAnswer *answer,
                                guint                cell)
{
  g_autoptr (GArray) picks = g_array_new (FALSE, FALSE, sizeof (WbPick));
  g_autoptr (GPtrArray) titles = g_ptr_array_new_with_free_func (g_free);
  const WbDataset *data;

  g_return_if_fail (WB_IS_COMPARE_BESIDE (self));
  g_return_if_fail (answer != NULL && cell < answer->data->cells->len);

  if (self->picks == NULL)
    return;
  data = answer->data;
  for (guint i = 0; i < data->samples->len; i++)
    if (g_array_index (data->sample_cell, guint, i) == cell)
      {
        WbPick pick = { data->experiment->record.id, wb_dataset_get_cell (data, cell)->record.id, wb_dataset_get_sample (data, i)->record.id };

        g_array_append_val (picks, pick);
        g_ptr_array_add (titles, wb_pick_dup_title (data, cell, (int) i));
      }
  wb_picks_set (self->picks, (const WbPick *) (gpointer) picks->data, (const char *const *) titles->pdata, picks->len);
}

void
wb_compare_beside_open (WbCompareBeside     *self,
                        const WbChartTarget *target)
{
  g_return_if_fail (WB_IS_COMPARE_BESIDE (self));
  g_return_if_fail (target != NULL);

  if (self->desk == NULL)
    return;
  if (target->sample < 0)
    wb_compare_beside_show_samples (self, target->answer, target->cell);
  else
    gtk_window_present (GTK_WINDOW (wb_sample_dialog_new (GTK_WIDGET (self), self->desk, target->answer->data, (guint) target->sample,
                                                          target->burn)));
}

GtkWidget *
wb_compare_beside_choose (WbCompareBeside *self)
{
  GtkWidget *dialog;

  g_return_val_if_fail (WB_IS_COMPARE_BESIDE (self), NULL);

  if (self->picks == NULL)
    return NULL;
  dialog = wb_pick_dialog_new (GTK_WIDGET (self), self->desk, self->picks, self->experiment);
  gtk_window_present (GTK_WINDOW (dialog));
  return dialog;
}

static const char *
get_key (int what)
{
  return what == WHAT_TABLE ? "table" : what == WHAT_PHOTOS ? "photos" : wb_plot_kind_get_key ((WbPlotKind) what);
}

gboolean
wb_compare_beside_set_what (WbCompareBeside *self,
                            const char      *key)
{
  g_return_val_if_fail (WB_IS_COMPARE_BESIDE (self), FALSE);
  g_return_val_if_fail (key != NULL, FALSE);

  for (guint i = 0; i < self->kinds->len; i++)
    if (g_str_equal (get_key (g_array_index (self->kinds, int, i)), key))
      {
        gtk_drop_down_set_selected (self->what, i);
        return TRUE;
      }
  return FALSE;
}

const char *
wb_compare_beside_get_what (WbCompareBeside *self)
{
  g_return_val_if_fail (WB_IS_COMPARE_BESIDE (self), NULL);
  return get_key (get_what (self));
}

WbAppJob *
wb_compare_beside_get_job (WbCompareBeside *self,
                           const char     **text)
{
  WbAppJob *answers;

  g_return_val_if_fail (WB_IS_COMPARE_BESIDE (self), NULL);

  answers = self->picks != NULL ? wb_picks_get_job (self->picks) : NULL;
  *text = answers != NULL ? _("Working out what lies side by side") : _("Drawing the chart");
  return answers != NULL ? answers : self->plot;
}

WbChartView *
wb_compare_beside_get_chart_view (WbCompareBeside *self)
{
  g_return_val_if_fail (WB_IS_COMPARE_BESIDE (self), NULL);
  return wb_chart_view_get_chart (self->chart) != NULL ? self->chart : NULL;
}

const char *
wb_compare_beside_get_conditions (WbCompareBeside *self)
{
  g_return_val_if_fail (WB_IS_COMPARE_BESIDE (self), NULL);
  return wb_beside_conditions_get_text (self->conditions);
}

WbPicks *
wb_compare_beside_get_picks (WbCompareBeside *self)
{
  g_return_val_if_fail (WB_IS_COMPARE_BESIDE (self), NULL);
  return self->picks;
}

WbPlotKind
wb_compare_beside_get_kind (WbCompareBeside *self)
{
  g_return_val_if_fail (WB_IS_COMPARE_BESIDE (self), WB_PLOT_GROWTH);
  return self->kind;
}
