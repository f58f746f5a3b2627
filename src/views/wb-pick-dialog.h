/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-picks.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * Chooses what lies side by side: the notebook's experiments, below each its combinations, below these their samples. What is
 * typed searches all of them. Space or Enter ticks a line (of an experiment all its combinations), Right and Left show and
 * hide what is below it, Ctrl+Enter takes the choice, Escape leaves it as it was. Combinations are read off the main thread,
 * one experiment after another, those that are open or picked first.
 */
#define WB_TYPE_PICK_DIALOG (wb_pick_dialog_get_type ())
G_DECLARE_FINAL_TYPE (WbPickDialog, wb_pick_dialog, WB, PICK_DIALOG, GtkWindow)

/* where: in the window to show in front of. experiment: the open one, shown first; 0: none. Changes the picks when it is taken. Present it. */
GtkWidget  *wb_pick_dialog_new       (GtkWidget *where, WbDesk *desk, WbPicks *picks, gint64 experiment);
/* For tests: all experiments are read. */
gboolean    wb_pick_dialog_get_ready (WbPickDialog *self);
/* For tests: the lines that show, WbPickRow. Borrowed. */
GListModel *wb_pick_dialog_get_rows  (WbPickDialog *self);

G_END_DECLS
