/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-job-bar.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * Holds a window open that is asked to close while photos are being added: it closes by itself when they are kept, and the
 * job bar shows how far they are; its button gives up the closing. Where one was refused it stays open, so that this is
 * read. Asked once more before that, it asks the person whether to do without them. Belongs to the window, which outlives it.
 */
#define WB_TYPE_CLOSE_WAIT (wb_close_wait_get_type ())
G_DECLARE_FINAL_TYPE (WbCloseWait, wb_close_wait, WB, CLOSE_WAIT, GObject)

/* Caller owns it. */
WbCloseWait *wb_close_wait_new     (GtkWindow *window, WbJobBar *job_bar);
/* The window is asked to close while so many are being added. TRUE: it stays open for now. */
gboolean     wb_close_wait_hold    (WbCloseWait *self, guint n_adding);
/* One more is to be added (well TRUE), or came out, well or not: so many are left. */
void         wb_close_wait_went_on (WbCloseWait *self, guint n_adding, gboolean well);

G_END_DECLS
