/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-chart-layout.h"

G_BEGIN_DECLS

/* What is drawn, and how. */
typedef struct
{
  WbChart      *chart;         /* NULL: nothing */
  int           width, height; /* pixels of the window's coordinates */
  double        scale;         /* of those a point */
  int           device_scale;  /* device pixels a pixel */
  WbChartTheme  theme;
} WbChartWish;

/*
 * A chart laid out and drawn for the screen, with fonts of its own, in a thread: the main thread only shows it. Once
 * made it is only read. Part of WbChartCanvas.
 */
typedef struct
{
  WbChartWish    wish;    /* its chart is owned */
  WbChartLayout *layout;  /* NULL: error says why */
  GdkTexture    *texture;
  GError        *error;
} WbChartDrawing;

/* The wish is copied. The callback comes on the thread that asks. */
void            wb_chart_drawing_make_async  (const WbChartWish *wish, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/* Caller frees. NULL only for G_IO_ERROR_CANCELLED: a chart that cannot be drawn is a drawing with an error. */
WbChartDrawing *wb_chart_drawing_make_finish (GAsyncResult *result, GError **error);
void            wb_chart_drawing_free        (WbChartDrawing *self);
gboolean        wb_chart_wish_equal          (const WbChartWish *a, const WbChartWish *b);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbChartDrawing, wb_chart_drawing_free)

G_END_DECLS
