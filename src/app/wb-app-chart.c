/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-chart.h"

#include "wb-app-error-private.h"
#include "wb-app-export-private.h"
#include "wb-chart-output.h"

#include <glib/gi18n-lib.h>

/* As wide as a page of A4 or Letter has room for between its margins, in points. */
#define WIDTH_PT 480.0

gboolean
wb_app_chart_check_path (const char *path,
                         GError    **error)
{
  WbChartFormat format;

  if (wb_chart_output_format_for_path (path, &format))
    return TRUE;
  g_set_error (error, WB_APP_ERROR, WB_APP_ERROR_UNKNOWN, _("“%s”: a chart is written as .png, .svg or .pdf"), path);
  return FALSE;
}

typedef struct
{
  WbCraftAnswer *answer;
  WbPlotKind     kind;
  WbPlotOptions  options; /* its cells are owned */
} Plot;

static void
plot_free (gpointer data)
{
  Plot *plot = data;

  wb_craft_answer_unref (plot->answer);
  g_free ((gpointer) plot->options.cells);
  g_free ((gpointer) plot->options.reopened);
  g_free ((gpointer) plot->options.font_family);
  g_free (plot);
}

static void
run_plot (GTask        *task,
          gpointer      source,
          gpointer      data,
          GCancellable *cancellable)
{
  const Plot *plot = data;
  GError *error = NULL;
  WbChart *chart = wb_plot_new (plot->kind, plot->answer, &plot->options, &error);

  if (chart != NULL)
    g_task_return_pointer (task, chart, (GDestroyNotify) wb_chart_unref);
  else
    g_task_return_error (task, error);
}

void
wb_app_chart_plot_async (WbCraftAnswer       *answer,
                         WbPlotKind           kind,
                         const WbPlotOptions *options,
                         GCancellable        *cancellable,
                         GAsyncReadyCallback  callback,
                         gpointer             user)
{
  g_autoptr (GTask) task = NULL;
  Plot *plot;

  g_return_if_fail (answer != NULL && options != NULL);

  task = g_task_new (NULL, cancellable, callback, user);
  plot = g_new (Plot, 1);
  *plot = (Plot) { wb_craft_answer_ref (answer), kind, *options };
  plot->options.cells = g_memdup2 (options->cells, options->n_cells * sizeof *options->cells);
  plot->options.reopened = g_memdup2 (options->reopened, options->n_reopened * sizeof *options->reopened);
  plot->options.font_family = g_strdup (options->font_family);
  g_task_set_source_tag (task, wb_app_chart_plot_async);
  g_task_set_task_data (task, plot, plot_free);
  g_task_run_in_thread (task, run_plot);
}

WbChart *
wb_app_chart_plot_finish (GAsyncResult *result,
                          GError      **error)
{
  g_return_val_if_fail (g_task_is_valid (result, NULL), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}

typedef struct
{
  WbCraftPick  *picks;   /* with a reference on each answer */
  gsize         n_picks;
  WbPlotKind    kind;
  WbPlotOptions options; /* without cells; its font is owned */
} Beside;

static void
beside_free (gpointer data)
{
  Beside *beside = data;

  for (gsize i = 0; i < beside->n_picks; i++)
    wb_craft_answer_unref ((WbCraftAnswer *) beside->picks[i].answer);
  g_free (beside->picks);
  g_free ((gpointer) beside->options.font_family);
  g_free (beside);
}

static void
run_beside (GTask        *task,
            gpointer      source,
            gpointer      data,
            GCancellable *cancellable)
{
  const Beside *beside = data;
  GError *error = NULL;
  WbChart *chart = wb_plot_beside_new (beside->kind, beside->picks, beside->n_picks, &beside->options, &error);

  if (chart != NULL)
    g_task_return_pointer (task, chart, (GDestroyNotify) wb_chart_unref);
  else
    g_task_return_error (task, error);
}

void
wb_app_chart_beside_async (const WbCraftPick   *picks,
                           gsize                n_picks,
                           WbPlotKind           kind,
                           const WbPlotOptions *options,
                           GCancellable        *cancellable,
                           GAsyncReadyCallback  callback,
                           gpointer             user)
{
  g_autoptr (GTask) task = NULL;
  Beside *beside;

  g_return_if_fail (n_picks == 0 || picks != NULL);
  g_return_if_fail (options != NULL);

  task = g_task_new (NULL, cancellable, callback, user);
  beside = g_new (Beside, 1);
  *beside = (Beside) { g_memdup2 (picks, n_picks * sizeof *picks), n_picks, kind, *options };
  for (gsize i = 0; i < n_picks; i++)
    wb_craft_answer_ref ((WbCraftAnswer *) picks[i].answer);
  beside->options.cells = NULL;
  beside->options.n_cells = 0;
  beside->options.reopened = NULL;
  beside->options.n_reopened = 0;
  beside->options.font_family = g_strdup (options->font_family);
  g_task_set_source_tag (task, wb_app_chart_beside_async);
  g_task_set_task_data (task, beside, beside_free);
  g_task_run_in_thread (task, run_beside);
}

WbChart *
wb_app_chart_beside_finish (GAsyncResult *result,
                            GError      **error)
{
  g_return_val_if_fail (g_task_is_valid (result, NULL), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}

/* The path's ending was checked. */
static gboolean
write_chart (WbChart    *chart,
             double      height,
             const char *path,
             GError    **error)
{
  WbChartOutput output = WB_CHART_OUTPUT_INIT (WB_CHART_FORMAT_PNG);

  wb_chart_output_format_for_path (path, &output.format);
  output.width = WIDTH_PT;
  output.height = height;
  if (wb_chart_output_write (chart, &output, path, error))
    return TRUE;
  wb_app_error_from_writing (error, path);
  return FALSE;
}

gboolean
wb_app_chart_write_sync (WbAppNotebook       *notebook,
                         const WbCraftAnswer *answer,
                         WbPlotKind           kind,
                         const WbPlotOptions *options,
                         const char          *path,
                         GError             **error)
{
  g_autoptr (WbChart) chart = NULL;

  if (!wb_app_chart_check_path (path, error) || wb_app_export_is_notebook (wb_app_notebook_get_path (notebook), path, error))
    return FALSE;
  chart = wb_plot_new (kind, answer, options, error);
  if (chart == NULL)
    {
      if (error != NULL && *error != NULL && (*error)->domain == WB_PLOT_ERROR)
        {
          (*error)->domain = WB_APP_ERROR;
          (*error)->code = WB_APP_ERROR_REFUSED;
        }
      return FALSE;
    }
  return write_chart (chart, wb_plot_get_height (kind, chart, WIDTH_PT), path, error);
}

gboolean
wb_app_chart_write_ladder_sync (WbAppNotebook       *notebook,
                                const WbCraftLadder *ladder,
                                const char          *path,
                                GError             **error)
{
  const WbNotebook *settings;
  g_autoptr (WbChart) chart = NULL;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), FALSE);
  g_return_val_if_fail (ladder != NULL && path != NULL, FALSE);

  if (!wb_app_chart_check_path (path, error) || wb_app_export_is_notebook (wb_app_notebook_get_path (notebook), path, error))
    return FALSE;
  settings = wb_app_notebook_get_settings (notebook);
  chart = wb_plot_ladder_new (ladder, WB_PLOT_LADDER_BOTH, settings->us_units, settings->invented);
  return write_chart (chart, wb_plot_ladder_get_height (chart, WIDTH_PT), path, error);
}
