/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-bench.h"

G_BEGIN_DECLS

/*
 * What a protocol asks at each moment of a burn, and in which order: one moment
 * at a time, a line a field. A tick asks it, as the last; two buttons move it.
 *
 * Signal: "changed", when the person changed something.
 */
#define WB_TYPE_ASK_EDITOR (wb_ask_editor_get_type ())
G_DECLARE_FINAL_TYPE (WbAskEditor, wb_ask_editor, WB, ASK_EDITOR, GtkWidget)

/* Shows what that protocol asks, in a round first. */
void wb_ask_editor_set_protocol (WbAskEditor *self, const WbProtocol *protocol);
/* Writes the five lists; one that the person left alone stays as it stood, letter for letter. */
void wb_ask_editor_write        (WbAskEditor *self, WbProtocol *protocol);
void wb_ask_editor_show_moment  (WbAskEditor *self, WbAppAsk ask);
/* Asks that field as the last of the moment that shows, or no more. */
void wb_ask_editor_set_asked    (WbAskEditor *self, WbColumn column, gboolean asked);
/* Moves a field that is asked a place towards the first (-1) or the last (1) of the moment that shows. */
void wb_ask_editor_move         (WbAskEditor *self, WbColumn column, int by);

G_END_DECLS
