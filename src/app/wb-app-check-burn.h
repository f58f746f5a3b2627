/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"
#include "wb-craft-check-burn.h"

G_BEGIN_DECLS

/*
 * The check burns of an experiment beside what was approved: each against the newest decision of its recipe, the experiment's own
 * first, else that of any other of the notebook. WbCraftCheckBurn, in order of sample and number; empty: none was burnt.
 */
void       wb_app_check_burns_async  (WbAppNotebook *notebook, gint64 experiment, GCancellable *cancellable,
                                      GAsyncReadyCallback callback, gpointer user);
GPtrArray *wb_app_check_burns_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);
GPtrArray *wb_app_check_burns_sync   (WbAppNotebook *notebook, gint64 experiment, GError **error);

G_END_DECLS
