/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-pour.h"
#include "wb-report-cards.h"

G_BEGIN_DECLS

/* Labels and cards for the samples of a pour, from what the window has loaded; laid out in a thread, about a millisecond a label. */

typedef enum { WB_APP_LABELS_BASE, WB_APP_LABELS_CARDS, WB_APP_LABELS_FOLDED_CARDS, WB_APP_LABELS_N } WbAppLabelsKind;

typedef struct
{
  WbAppLabelsKind    kind;
  WbReportLabelSheet sheet;
  guint              first;     /* place on the first sheet, from 0 */
  gboolean           outlines;  /* for plain paper that is cut */
  gboolean           blind;     /* three digits, and not what is inside */
  gboolean           one_page;  /* the first page alone: to be looked at */
} WbAppLabelsTerms;

/*
 * Of a batch's samples, batch by batch's number; G_MAXUINT: of all. NULL with WB_REPORT_LABELS_ERROR, or WB_APP_ERROR_REFUSED
 * where blind ones are asked for and a sample has no blind code yet. Caller frees.
 */
void              wb_app_labels_new_async     (WbAppPour *pour, guint batch, const WbAppLabelsTerms *terms, GCancellable *cancellable,
                                               GAsyncReadyCallback callback, gpointer user);
/* The places of such a sheet, to be laid over one. */
void              wb_app_labels_new_alignment_async (WbAppPour *pour, const WbReportLabelSheet *sheet, GAsyncReadyCallback callback,
                                                     gpointer user);
/* Of either. */
WbReportDocument *wb_app_labels_new_finish    (WbAppPour *pour, GAsyncResult *result, GError **error);
/* Samples of that batch, and how many of them have no blind code. */
guint             wb_app_labels_count         (WbAppPour *pour, guint batch, guint *without_code);

G_END_DECLS
