/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-dataset.h"
#include "wb-desk.h"
#include "wb-reading-log.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * All that was read of one sample, whatever became of its experiment, in a window before the comparison that pointed at it:
 * to look up and amend, and with the way to it where it still stands at the bench.
 */
#define WB_TYPE_SAMPLE_DIALOG (wb_sample_dialog_get_type ())
G_DECLARE_FINAL_TYPE (WbSampleDialog, wb_sample_dialog, WB, SAMPLE_DIALOG, GtkWindow)

/* where: in the window to show in front of. sample: index in the data set. burn: id of the burn to begin with; 0: the last one. Present it. */
GtkWidget    *wb_sample_dialog_new     (GtkWidget *where, WbDesk *desk, const WbDataset *data, guint sample, gint64 burn);
/* Borrowed, for tests. */
WbReadingLog *wb_sample_dialog_get_log (WbSampleDialog *self);

G_END_DECLS
