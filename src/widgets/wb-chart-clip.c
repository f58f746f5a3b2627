/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-chart-clip.h"

#include "wb-chart-output.h"
#include "wb-chart-table.h"

#include <string.h>

/* Points of a picture that reads well wherever it is put in, however small the window. */
#define WIDTH_MIN_PT 480.0
#define HEIGHT_MIN_PT 320.0
/* Pixels of a screen of 96 dpi a point, and twice as many: sharp on a dense screen and on paper. */
#define PIXELS_A_POINT (2.0 * 96.0 / 72.0)

typedef struct
{
  WbChart     *chart;
  WbChartClip  clip;
} Order;

static void
order_free (gpointer data)
{
  Order *order = data;

  wb_chart_unref (order->chart);
  g_free (order);
}

/* Light, whatever the window's look: it is put on paper, or into a letter. */
static GBytes *
dup_picture (const Order *order,
             GError     **error)
{
  WbChartOutput output = WB_CHART_OUTPUT_INIT (WB_CHART_FORMAT_PNG);

  output.width = MAX (order->clip.width, WIDTH_MIN_PT);
  output.height = MAX (order->clip.height, HEIGHT_MIN_PT);
  output.scale = PIXELS_A_POINT;
  return wb_chart_output_dup_bytes (order->chart, &output, error);
}

static char *
dup_table (const Order *order)
{
  g_autoptr (WbChartTable) table = wb_chart_table_new (order->chart);

  return order->clip.what == WB_CHART_COPY_CSV ? wb_chart_table_dup_csv (table) : wb_chart_table_dup_text (table);
}

static void
make (GTask        *task,
      gpointer      source,
      gpointer      data,
      GCancellable *cancellable)
{
  const Order *order = data;
  GError *error = NULL;
  GBytes *bytes;
  char *text;

  if (order->clip.what != WB_CHART_COPY_PICTURE)
    {
      text = dup_table (order);
      g_task_return_pointer (task, g_bytes_new_take (text, strlen (text) + 1), (GDestroyNotify) g_bytes_unref);
      return;
    }
  bytes = dup_picture (order, &error);
  if (bytes == NULL)
    g_task_return_error (task, error);
  else
    g_task_return_pointer (task, bytes, (GDestroyNotify) g_bytes_unref);
}

void
wb_chart_clip_make_async (WbChartView         *view,
                          WbChart             *chart,
                          const WbChartClip   *clip,
                          GAsyncReadyCallback  callback,
                          gpointer             user)
{
  g_autoptr (GTask) task = g_task_new (view, NULL, callback, user);
  Order *order = g_new (Order, 1);

  *order = (Order) { wb_chart_ref (chart), *clip };
  g_task_set_source_tag (task, wb_chart_clip_make_async);
  g_task_set_task_data (task, order, order_free);
  g_task_run_in_thread (task, make);
}

GdkContentProvider *
wb_chart_clip_make_finish (GAsyncResult *result,
                           GError      **error)
{
  const Order *order = g_task_get_task_data (G_TASK (result));
  g_autoptr (GBytes) bytes = g_task_propagate_pointer (G_TASK (result), error);

  if (bytes == NULL)
    return NULL;
  if (order->clip.what == WB_CHART_COPY_PICTURE)
    return gdk_content_provider_new_for_bytes ("image/png", bytes);
  return gdk_content_provider_new_typed (G_TYPE_STRING, g_bytes_get_data (bytes, NULL));
}
