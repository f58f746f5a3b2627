/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-bench.h"

G_BEGIN_DECLS

/*
 * Three-digit codes for the samples of an experiment that have none: each is the only one of its number among the notebook's samples
 * that are not burnt out. Drawn by the experiment's seed and written as one entry "Blind codes for E-1", which undo takes back.
 * bench: who is burnt out. Errors: REFUSED where each has one already, or no number is left, and those of a read and a save.
 */
void     wb_app_blind_draw_async  (WbAppBench *bench, WbAppNotebook *notebook, gint64 experiment, GCancellable *cancellable,
                                   GAsyncReadyCallback callback, gpointer user);
gboolean wb_app_blind_draw_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);

G_END_DECLS
