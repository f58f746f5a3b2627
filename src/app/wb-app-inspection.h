/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"
#include "wb-sample.h"

G_BEGIN_DECLS

/*
 * A look at a sample that does not burn: frosting, wet spots, sink hole, sweating, cold throw, on the morning after a burn too.
 * What was seen is listed, amended and taken out with all else that is in the sample's record (WbAppAmend).
 */

/*
 * Saves a new look as an entry of its own that undo takes back. Its time unknown: now. code: of the sample that it names.
 * Errors: REFUSED where it says nothing at all, and those of a save.
 */
void     wb_app_inspection_add_async  (WbAppNotebook *notebook, const WbInspection *inspection, const char *code,
                                       GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/* TRUE when it is durable in the file. */
gboolean wb_app_inspection_add_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);

G_END_DECLS
