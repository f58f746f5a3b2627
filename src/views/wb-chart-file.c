/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-chart-file.h"

#include "wb-app-chart.h"
#include "wb-chart-output.h"
#include "wb-host.h"
#include "wb-problem.h"

#include <glib/gi18n.h>

typedef struct
{
  WbChart       *chart;
  WbChartOutput  output;
  char          *path;
} Picture;

static void
picture_free (gpointer data)
{
  Picture *picture = data;

  wb_chart_unref (picture->chart);
  g_free (picture->path);
  g_free (picture);
}

static void
write_picture (GTask        *task,
               gpointer      source,
               gpointer      data,
               GCancellable *cancellable)
{
  const Picture *picture = data;
  GError *error = NULL;

  if (wb_chart_output_write (picture->chart, &picture->output, picture->path, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void
on_written_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      data)
{
  GtkWidget *where = GTK_WIDGET (source);
  const Picture *picture = g_task_get_task_data (G_TASK (result));
  WbHost *host = wb_host_find (where);
  g_autofree char *name = g_filename_display_basename (picture->path);
  g_autofree char *text = g_strdup_printf (_("%s is written"), name);
  g_autoptr (GError) error = NULL;

  /* Without a host the window is gone: nobody is left to tell. */
  if (!g_task_propagate_boolean (G_TASK (result), &error) && host != NULL)
    wb_problem_show (where, _("The picture was not written"), error);
  else if (host != NULL)
    wb_host_say (host, text);
}

void
wb_chart_file_write (GtkWidget  *where,
                     WbChart    *chart,
                     double      width,
                     double      height,
                     const char *path)
{
  WbChartOutput output = WB_CHART_OUTPUT_INIT (WB_CHART_FORMAT_PNG);
  g_autoptr (GError) error = NULL;
  g_autoptr (GTask) task = NULL;
  Picture *picture;

  g_return_if_fail (GTK_IS_WIDGET (where));
  g_return_if_fail (chart != NULL && path != NULL);

  if (!wb_app_chart_check_path (path, &error))
    {
      wb_problem_show (where, _("The picture was not written"), error);
      return;
    }
  output.width = width;
  output.height = height;
  wb_chart_output_format_for_path (path, &output.format);
  picture = g_new (Picture, 1);
  *picture = (Picture) { wb_chart_ref (chart), output, g_strdup (path) };
  task = g_task_new (where, NULL, on_written_cb, NULL);
  g_task_set_task_data (task, picture, picture_free);
  g_task_run_in_thread (task, write_picture);
}
