/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-pour.h"
#include "wb-app-timers.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * A batch that is poured: when its candles are fit, the steps after the pour, what was found of them once they had set, which both may
 * be written down days later, what was really done, what was planned. Nothing is saved here. Signal "changed": the person typed.
 */
#define WB_TYPE_POURED_SHEET (wb_poured_sheet_get_type ())
G_DECLARE_FINAL_TYPE (WbPouredSheet, wb_poured_sheet, WB, POURED_SHEET, GtkWidget)

GtkWidget  *wb_poured_sheet_new      (void);
/* Borrowed for this call only. key: begins those of its timers. */
void        wb_poured_sheet_show     (WbPouredSheet *self, const WbDataset *data, const WbAppPourBatch *batch, gboolean us_units, WbAppTimers *timers,
                                             const char *key);
/* The sentences about the cure. */
const char *wb_poured_sheet_get_cure (WbPouredSheet *self);

gboolean    wb_poured_sheet_get_touched (WbPouredSheet *self);
/* Shows what is wrong, focus into the first; TRUE: nothing is. */
gboolean    wb_poured_sheet_check       (WbPouredSheet *self);
/* Copies with what was typed, as wb_app_pour_note_async takes them. */
WbBatch    *wb_poured_sheet_dup_batch   (WbPouredSheet *self);
GPtrArray  *wb_poured_sheet_dup_samples (WbPouredSheet *self);
GPtrArray  *wb_poured_sheet_dup_steps   (WbPouredSheet *self);

/* What is half typed in it, into a group of such a file; and back, as if it were typed. After it is shown. */
void        wb_poured_sheet_keep        (WbPouredSheet *self, GKeyFile *file, const char *group);
void        wb_poured_sheet_put_back    (WbPouredSheet *self, GKeyFile *file, const char *group);

G_END_DECLS
