/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-desk.h"

G_BEGIN_DECLS

/*
 * Rates the throw of samples that carry three digits instead of their name: who rates, the digits typed or the label scanned, one to
 * five, saved; and then, or when everyone has rated, which sample it was. Until then nothing in it tells. An unlit sample is
 * rated for its cold throw, a burning one for its hot throw. Stays open for the next one. Owned by GTK like any toplevel.
 */
#define WB_TYPE_BLIND_DIALOG (wb_blind_dialog_get_type ())
G_DECLARE_FINAL_TYPE (WbBlindDialog, wb_blind_dialog, WB, BLIND_DIALOG, GtkWindow)

/* where: in the window to open before. Present it. */
GtkWidget *wb_blind_dialog_new  (GtkWidget *where, WbDesk *desk);
/* A label was scanned while it has the keyboard. */
void       wb_blind_dialog_scan (WbBlindDialog *self, const char *code);

G_END_DECLS
