/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-desk.h"
#include "wb-notice.h"

G_BEGIN_DECLS

/*
 * Watches over an open notebook for its window: what is due and what is over a
 * limit is told in the window's notices, by the desktop and, where wanted, by a
 * sound, and withdrawn when it is answered; so is what became of the computer's
 * clock. While something is alight, or photos are on their way into the
 * notebook, the desktop is asked not to end the session.
 * Owned by the window.
 */
#define WB_TYPE_WATCH (wb_watch_get_type ())
G_DECLARE_FINAL_TYPE (WbWatch, wb_watch, WB, WATCH, GObject)

/* window and notice are borrowed; they outlive it. */
WbWatch *wb_watch_new        (GtkWindow *window, WbDesk *desk, WbNotice *notice);
/* So many photos are not in the notebook yet. */
void     wb_watch_set_adding (WbWatch *self, guint n_adding);

G_END_DECLS
