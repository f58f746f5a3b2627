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

/*
 * The sample at the bench that carries these three digits, or the label of that text (see wb-report-label-code.h), and is not burnt
 * out; NULL: none does. Borrowed.
 */
WbAppBenchSample *wb_app_blind_find    (WbAppBench *bench, const char *text);
/* The digits that it carries; 0: none. */
guint             wb_app_blind_get_code (WbAppBenchSample *sample);
/*
 * Saves a rating, 1 to 5, by somebody who did not know the sample: the hot throw of one that is alight, as a reading of its burn,
 * else the cold throw, as a look at it. Its entry names the digits alone where it can. Errors: REFUSED where nobody is named to have rated,
 * and those of a save.
 */
void     wb_app_blind_rate_async  (WbAppBench *bench, WbAppNotebook *notebook, WbAppBenchSample *sample, int throw_, const char *rater,
                                   GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
gboolean wb_app_blind_rate_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);

G_END_DECLS
