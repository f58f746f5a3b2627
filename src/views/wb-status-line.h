/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-desk.h"
#include "wb-notice.h"

G_BEGIN_DECLS

/*
 * The window's lowest line: where the last save stands, a few words, what is due or comes next, with a way there, and what is
 * alight. It keeps its height whatever it says.
 */
#define WB_TYPE_STATUS_LINE (wb_status_line_get_type ())
G_DECLARE_FINAL_TYPE (WbStatusLine, wb_status_line, WB, STATUS_LINE, GtkWidget)

/* Follows the notebook's saves and its bench; NULL: none. */
void wb_status_line_set_desk (WbStatusLine *self, WbDesk *desk);
/* Follows what the window's notice has that is due; NULL: none. */
void wb_status_line_set_notice (WbStatusLine *self, WbNotice *notice);
/* Something was typed that is not in the file yet: "Saved" goes. */
void wb_status_line_typed    (WbStatusLine *self);
/* Until the next words; NULL clears. */
void wb_status_line_say      (WbStatusLine *self, const char *text);

G_END_DECLS
