/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-chart.h"

G_BEGIN_DECLS

/*
 * Writes a chart as PNG, SVG or PDF by the path's ending, off the main thread. What came of it stands in the status line or
 * the bar of the window that `where` lies in. Sizes in points.
 */
void wb_chart_file_write (GtkWidget *where, WbChart *chart, double width, double height, const char *path);

G_END_DECLS
