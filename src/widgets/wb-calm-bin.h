/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * Holds bars that come and go by themselves. While a button of the pointer is
 * down in the window, it keeps its height: what is pressed is still there when
 * the button is let go. Not for longer than a click takes.
 *
 * Property "child".
 */
#define WB_TYPE_CALM_BIN (wb_calm_bin_get_type ())
G_DECLARE_FINAL_TYPE (WbCalmBin, wb_calm_bin, WB, CALM_BIN, GtkWidget)

/* As the pointer's button does, down and up; a test can make no events. */
void wb_calm_bin_hold   (WbCalmBin *self);
void wb_calm_bin_let_go (WbCalmBin *self);

G_END_DECLS
