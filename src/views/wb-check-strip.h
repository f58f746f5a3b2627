/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-bench.h"

G_BEGIN_DECLS

/* What the last burn of a sample says beside what was approved, where that was a check burn and is out; hidden else. */
#define WB_TYPE_CHECK_STRIP (wb_check_strip_get_type ())
G_DECLARE_FINAL_TYPE (WbCheckStrip, wb_check_strip, WB, CHECK_STRIP, GtkWidget)

/* sample NULL: none. Asked again it reads only what changed. */
void wb_check_strip_show (WbCheckStrip *self, WbAppNotebook *notebook, WbAppBenchSample *sample, gboolean us_units);

G_END_DECLS
