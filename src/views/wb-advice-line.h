/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-desk.h"

G_BEGIN_DECLS

/*
 * In one line what to light next of a test that is under way, above the bench while nothing of it burns; of several vessels and scents
 * a line each. Where nothing may be lit it says what is waited for, and of what is finished where its decision stands. Works it out by
 * itself, off the main thread, while it is mapped.
 *
 * CSS node: adviceline.
 */
#define WB_TYPE_ADVICE_LINE (wb_advice_line_get_type ())
G_DECLARE_FINAL_TYPE (WbAdviceLine, wb_advice_line, WB, ADVICE_LINE, GtkWidget)

/* desk NULL or experiment 0: nothing. The desk is held. What stands is worked out anew only when it went stale. */
void        wb_advice_line_set      (WbAdviceLine *self, WbDesk *desk, gint64 experiment);
/* "" while nothing is shown. Borrowed, for tests. */
const char *wb_advice_line_get_text (WbAdviceLine *self);

G_END_DECLS
