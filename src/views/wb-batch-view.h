/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-pour.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* A batch sheet to be read: masses, the basis of the load, and the sums that a pocket calculator can follow. */
#define WB_TYPE_BATCH_VIEW (wb_batch_view_get_type ())
G_DECLARE_FINAL_TYPE (WbBatchView, wb_batch_view, WB, BATCH_VIEW, GtkWidget)

GtkWidget  *wb_batch_view_new      (void);
/* Masses and sums under each other, with that widget between them: for a narrow column. */
void        wb_batch_view_stack    (WbBatchView *self, GtkWidget *between);
/* Borrowed for this call only. Without a sheet there is nothing to show. */
void        wb_batch_view_show     (WbBatchView *self, const WbAppPourBatch *batch, gboolean us_units);
/* The sums as shown, a line each. */
const char *wb_batch_view_get_sums (WbBatchView *self);

G_END_DECLS
