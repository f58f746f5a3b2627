/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"
#include "wb-sample.h"

G_BEGIN_DECLS

/*
 * Where a lot went: every melt, sample and decision of the notebook that rests on it, as a recall needs it. A lot is a
 * material and a code; imported logs bring codes without a WbLot beside them. What is set aside is listed, too.
 */

typedef enum { WB_APP_LOT_BATCH, WB_APP_LOT_SAMPLE, WB_APP_LOT_DECISION } WbAppLotUseKind;

typedef struct
{
  WbAppLotUseKind kind;
  gint64          experiment;
  char           *experiment_code;
  gint64          id;       /* of the batch, sample or decision */
  char           *code;     /* "B1", "T5-1"; NULL of a decision */
  char           *cell;     /* its combination, with vessel and scent; of a batch its scent */
  WbDay           day;      /* poured or signed on; WB_DAY_NONE: not known */
  char           *state;    /* in words, translated: "burnt to its end", "3 burns", "set aside: ..." */
  char           *worst;    /* the newest that crossed a limit, in words; NULL: nothing is known to have */
  char           *lots;     /* all lots that it rests on: the way back; NULL: none is told */
} WbAppLotUse;

typedef struct
{
  gint64     material;
  char      *title;         /* "Dunmarl soft" */
  char      *code;
  gboolean   is_record;     /* a WbLot; else a code in a melt or sample alone */
  gboolean   used_up;
  GPtrArray *uses;          /* WbAppLotUse: decisions, samples that crossed a limit, then by experiment melts and samples */
  guint      batches, samples, decisions;
  guint      crossed;       /* of the samples: crossed a limit, or broke */
} WbAppLotTrace;

/* NULL is let pass. */
void           wb_app_lot_trace_free    (WbAppLotTrace *self);
/* "3 melts, 36 samples and 1 decision; 2 samples crossed a limit"; translated. Caller frees. */
char          *wb_app_lot_trace_dup_sum (const WbAppLotTrace *self);
/* Static, translated: "melt", "sample", "decision"; and as in JSON and CSV. */
const char    *wb_app_lot_use_kind_get_label (WbAppLotUseKind kind);
const char    *wb_app_lot_use_kind_get_key   (WbAppLotUseKind kind);

/* In a thread. Errors: UNKNOWN where there is no such material; those of reading. A code that nobody used is an empty trace. */
void           wb_app_lot_trace_async   (WbAppNotebook *notebook, gint64 material, const char *code, GCancellable *cancellable,
                                         GAsyncReadyCallback callback, gpointer user);
WbAppLotTrace *wb_app_lot_trace_finish  (WbAppNotebook *notebook, GAsyncResult *result, GError **error);
WbAppLotTrace *wb_app_lot_trace_sync    (WbAppNotebook *notebook, gint64 material, const char *code, GError **error);

/*
 * Every lot of the notebook: those of the list of materials and those that stand in melts and samples alone, with the uses
 * counted (`uses` is empty); in order of material and code. WbAppLotTrace; blocks, for commands.
 */
GPtrArray     *wb_app_lot_trace_list_sync (WbAppNotebook *notebook, GError **error);
/* The material of that title ("Brosk B4", or the name alone); 0 and UNKNOWN, the message naming the known ones that have lots. */
gint64         wb_app_lot_trace_find_material_sync (WbAppNotebook *notebook, const char *title, GError **error);
/* What each poured sample and each decision of an experiment rests on: WbAppLotUse, `lots` filled in. */
GPtrArray     *wb_app_lot_trace_back_sync (WbAppNotebook *notebook, gint64 experiment, GError **error);

/* Writes the uses as a CSV file, whole or not at all; in a thread. */
void           wb_app_lot_trace_write_async  (const WbAppLotTrace *self, const char *path, GAsyncReadyCallback callback, gpointer user);
gboolean       wb_app_lot_trace_write_finish (GAsyncResult *result, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbAppLotTrace, wb_app_lot_trace_free)

G_END_DECLS
