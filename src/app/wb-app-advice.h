/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"
#include "wb-craft-advice.h"

G_BEGIN_DECLS

/*
 * What to burn next in an answer's experiment, with the wicks that the notebook knows for sizes outside of the test. Worked out off
 * the main thread; the answer is held meanwhile. The _sync one blocks and is for commands and tests.
 */
void           wb_app_advice_async  (WbAppNotebook *notebook, WbCraftAnswer *answer, GCancellable *cancellable,
                                     GAsyncReadyCallback callback, gpointer user);
WbCraftAdvice *wb_app_advice_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);
WbCraftAdvice *wb_app_advice_sync   (WbAppNotebook *notebook, WbCraftAnswer *answer, GError **error);

G_END_DECLS
