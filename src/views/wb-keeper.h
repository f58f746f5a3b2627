/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-desk.h"

G_BEGIN_DECLS

/*
 * Keeps an open notebook safe for its window: the day's backup, once the window has drawn its first frame, looked for
 * again now and then as long as it is open, and made anew when a session at the bench was closed, and when the window is. What does not work is told once, calmly, and nothing waits for it. Damage that the
 * check after the opening finds is told, too. Owned by the window.
 */
#define WB_TYPE_KEEPER (wb_keeper_get_type ())
G_DECLARE_FINAL_TYPE (WbKeeper, wb_keeper, WB, KEEPER, GObject)

/* window, which is a WbHost, is borrowed; it outlives it. */
WbKeeper *wb_keeper_new (GtkWidget *window, WbDesk *desk);
/* The window closes: what no backup holds yet goes into one. The window does not wait for it, but the program does not end before it. */
void      wb_keeper_leave (WbKeeper *self);

G_END_DECLS
