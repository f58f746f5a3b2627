/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-error.h"
#include "wb-app-notebook.h"
#include "wb-plot-beside.h"
#include "wb-plot-ladder.h"
#include "wb-plot.h"

G_BEGIN_DECLS

/*
 * As wb_plot_new, in a thread: an experiment of many burns takes its time. Holds the answer until then and copies the
 * options. Cancelled, the finish ends with G_IO_ERROR_CANCELLED when the thread is through. Caller unrefs.
 */
void     wb_app_chart_plot_async  (WbCraftAnswer *answer, WbPlotKind kind, const WbPlotOptions *options, GCancellable *cancellable,
                                   GAsyncReadyCallback callback, gpointer user);
WbChart *wb_app_chart_plot_finish (GAsyncResult *result, GError **error);

/* As wb_plot_beside_new, in a thread, with references on the answers and copies of picks and options until then. Caller unrefs. */
void     wb_app_chart_beside_async  (const WbCraftPick *picks, gsize n_picks, WbPlotKind kind, const WbPlotOptions *options,
                                     GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
WbChart *wb_app_chart_beside_finish (GAsyncResult *result, GError **error);

/* Whether the file's ending is one that charts are written in; else WB_APP_ERROR_UNKNOWN naming those. */
gboolean wb_app_chart_check_path (const char *path, GError **error);
/*
 * Draws a chart of an answer and writes it, whole or not at all, as PNG, SVG or PDF by the file's ending. options
 * NULL: automatic, in the notebook's units. Blocks. WB_APP_ERROR_REFUSED for options that name what is not there, and for
 * the notebook itself as the file.
 */
gboolean wb_app_chart_write_sync (WbAppNotebook *notebook, const WbCraftAnswer *answer, WbPlotKind kind,
                                  const WbPlotOptions *options, const char *path, GError **error);
/* The same of a wick ladder, at both places of the fill. */
gboolean wb_app_chart_write_ladder_sync (WbAppNotebook *notebook, const WbCraftLadder *ladder, const char *path, GError **error);

G_END_DECLS
