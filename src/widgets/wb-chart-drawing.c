/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-chart-drawing.h"

gboolean
wb_chart_wish_equal (const WbChartWish *a,
                     const WbChartWish *b)
{
  return a->chart == b->chart && a->width == b->width && a->height == b->height && !(a->scale < b->scale) && !(a->scale > b->scale)
         && a->device_scale == b->device_scale && a->theme == b->theme;
}

void
wb_chart_drawing_free (WbChartDrawing *self)
{
  if (self == NULL)
    return;
  g_clear_pointer (&self->layout, wb_chart_layout_free);
  g_clear_object (&self->texture);
  g_clear_error (&self->error);
  wb_chart_unref (self->wish.chart);
  g_free (self);
}

/* Takes the surface; its pixels are not copied. */
static GdkTexture *
texture_from_surface (cairo_surface_t *surface)
{
  int width = cairo_image_surface_get_width (surface);
  int height = cairo_image_surface_get_height (surface);
  gsize stride = (gsize) cairo_image_surface_get_stride (surface);
  g_autoptr (GBytes) bytes = NULL;

  cairo_surface_flush (surface);
  bytes = g_bytes_new_with_free_func (cairo_image_surface_get_data (surface), stride * (gsize) height,
                                      (GDestroyNotify) cairo_surface_destroy, surface);
  return gdk_memory_texture_new (width, height, GDK_MEMORY_DEFAULT, bytes, stride);
}

static GdkTexture *
paint (const WbChartWish   *wish,
       const WbChartLayout *layout)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, wish->width * wish->device_scale,
                                                         wish->height * wish->device_scale);
  cairo_t *cr = cairo_create (surface);
  double scale = wish->scale * wish->device_scale;

  cairo_scale (cr, scale, scale);
  wb_chart_layout_draw (layout, cr, wish->theme);
  cairo_destroy (cr);
  return texture_from_surface (surface);
}

static void
make (GTask        *task,
      gpointer      source,
      gpointer      data,
      GCancellable *cancellable)
{
  const WbChartWish *wish = data;
  g_autoptr (PangoFontMap) fonts = pango_cairo_font_map_new ();
  WbChartDrawing *self = g_new0 (WbChartDrawing, 1);

  self->wish = *wish;
  wb_chart_ref (wish->chart);
  self->layout = wb_chart_layout_new_with_fonts (wish->chart, fonts, MAX (wish->width / wish->scale, WB_CHART_MIN_WIDTH),
                                                 MAX (wish->height / wish->scale, WB_CHART_MIN_HEIGHT), 1.0, &self->error);
  if (self->layout != NULL)
    self->texture = paint (wish, self->layout);
  g_task_return_pointer (task, self, (GDestroyNotify) wb_chart_drawing_free);
}

static void
wish_free (gpointer data)
{
  WbChartWish *wish = data;

  wb_chart_unref (wish->chart);
  g_free (wish);
}

void
wb_chart_drawing_make_async (const WbChartWish  *wish,
                             GCancellable       *cancellable,
                             GAsyncReadyCallback callback,
                             gpointer            user)
{
  g_autoptr (GTask) task = NULL;
  WbChartWish *copy;

  g_return_if_fail (wish->chart != NULL && wish->width > 0 && wish->height > 0 && wish->scale > 0 && wish->device_scale > 0);

  task = g_task_new (NULL, cancellable, callback, user);
  copy = g_new (WbChartWish, 1);
  *copy = *wish;
  wb_chart_ref (copy->chart);
  g_task_set_source_tag (task, wb_chart_drawing_make_async);
  g_task_set_task_data (task, copy, wish_free);
  g_task_run_in_thread (task, make);
}

WbChartDrawing *
wb_chart_drawing_make_finish (GAsyncResult *result,
                              GError      **error)
{
  g_return_val_if_fail (g_task_is_valid (result, NULL), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}
