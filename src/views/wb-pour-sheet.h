/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-pour.h"
#include "wb-app-timers.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * One batch that is not poured yet, in the order of the work: weigh, then the
 * steps of the pour along their temperature track, each with its caution, then
 * the samples; with fields for what was really done. Without the wax's density
 * or a vessel's fill it says what is missing, and the scales decide. Nothing is saved here. Signal "changed": the person typed.
 */
#define WB_TYPE_POUR_SHEET (wb_pour_sheet_get_type ())
G_DECLARE_FINAL_TYPE (WbPourSheet, wb_pour_sheet, WB, POUR_SHEET, GtkWidget)

GtkWidget *wb_pour_sheet_new         (void);
/* Shows the batch as it is now; what is typed stays. Borrowed for this call only. key: begins those of its timers. */
void       wb_pour_sheet_show        (WbPourSheet *self, const WbDataset *data, const WbAppPourBatch *batch, gboolean us_units, WbAppTimers *timers,
                                      const char *key);
gboolean   wb_pour_sheet_get_touched (WbPourSheet *self);
/* There are samples to pour. */
gboolean   wb_pour_sheet_get_ready   (WbPourSheet *self);
/* Shows what is wrong, focus into the first; TRUE: nothing is. */
gboolean   wb_pour_sheet_check       (WbPourSheet *self);
/* What is hard to believe, or half done: too hot, a timer that runs, masses that some samples lack, a day that nobody said. A line each; "": nothing. Caller frees. */
char      *wb_pour_sheet_dup_doubts  (WbPourSheet *self);
/* A copy of the batch's record with what was really done; caller frees. */
WbBatch   *wb_pour_sheet_dup_actual  (WbPourSheet *self, const WbBatch *planned);
/* WbBatchStep; caller unrefs. */
GPtrArray *wb_pour_sheet_dup_steps   (WbPourSheet *self);
/* WbAppPouredSample; caller unrefs. */
GArray    *wb_pour_sheet_dup_poured  (WbPourSheet *self);
/* NULL: not said. Caller frees. */
char      *wb_pour_sheet_dup_wick_lot (WbPourSheet *self);
/* WbAppPourWickLot of a batch with several wicks; caller unrefs. */
GArray    *wb_pour_sheet_dup_wick_lots (WbPourSheet *self);
char      *wb_pour_sheet_dup_vessel_lot (WbPourSheet *self);

/* Each field for a lot offers those of its material that are not used up. After it is shown. */
void wb_pour_sheet_offer_lots (WbPourSheet *self, WbAppPour *pour, const WbAppPourBatch *batch);

/* What is half typed in the sheet, right or wrong, into a group of such a file; and back, as if it were typed. After it is shown. */
void wb_pour_sheet_keep       (WbPourSheet *self, GKeyFile *file, const char *group);
void wb_pour_sheet_put_back   (WbPourSheet *self, GKeyFile *file, const char *group);

G_END_DECLS
