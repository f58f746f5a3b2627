/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"
#include "wb-craft-stock.h"

G_BEGIN_DECLS

/*
 * What is left of the materials and what they cost, read from the whole notebook in a thread. Where the notebook keeps no
 * stock it knows of nothing: every figure is NAN.
 */
void          wb_app_stock_load_async  (WbAppNotebook *notebook, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/* Caller owns it. */
WbCraftStock *wb_app_stock_load_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);
/* Blocks: for commands, tests and jobs. */
WbCraftStock *wb_app_stock_load_sync   (WbAppNotebook *notebook, GError **error);

G_END_DECLS
