/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-pour.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* A batch that is poured: when its candles are fit, what was really done, what was planned, its samples. To be read. */
#define WB_TYPE_POURED_SHEET (wb_poured_sheet_get_type ())
G_DECLARE_FINAL_TYPE (WbPouredSheet, wb_poured_sheet, WB, POURED_SHEET, GtkWidget)

GtkWidget  *wb_poured_sheet_new      (void);
/* Borrowed for this call only. */
void        wb_poured_sheet_show     (WbPouredSheet *self, const WbDataset *data, const WbAppPourBatch *batch, gboolean us_units);
/* The sentences about the cure. */
const char *wb_poured_sheet_get_cure (WbPouredSheet *self);

G_END_DECLS
