/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"

G_BEGIN_DECLS

/* What a label stands on: the sample of a code that was scanned. */
typedef struct
{
  gint64   sample;
  gint64   experiment;
  char    *code;
  gboolean poured;
  char    *kept;      /* it is a reference, in words (wb_app_retain_dup_words); NULL: it is none */
} WbAppLabel;

void        wb_app_label_free        (WbAppLabel *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbAppLabel, wb_app_label_free)

/*
 * Finds the sample of a label's code (see wb-report-label-code.h). Errors: REFUSED where the text is no such code, UNKNOWN where
 * this notebook has no such sample; each says so in a sentence.
 */
void        wb_app_label_find_async  (WbAppNotebook *notebook, const char *code, GCancellable *cancellable, GAsyncReadyCallback callback,
                                      gpointer user);
WbAppLabel *wb_app_label_find_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);

G_END_DECLS
