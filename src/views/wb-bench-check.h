/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * The check before the first light of a session: every caution is ticked, and
 * it is said who stays with the flames and until when.
 *
 * Signal "answered" (string place, string staying, gboolean typed), once; a
 * window closed without it was not answered. place: "" where none was said;
 * typed: Enter in the last field, which is not meant to light anything.
 */
#define WB_TYPE_BENCH_CHECK (wb_bench_check_get_type ())
G_DECLARE_FINAL_TYPE (WbBenchCheck, wb_bench_check, WB, BENCH_CHECK, GtkWindow)

/* who: proposed to stay, NULL: nobody. */
GtkWidget *wb_bench_check_new (GtkWidget *where, const char *who);
/*
 * A key went down, or was let go, anywhere in the window; TRUE: it is swallowed, for it was meant for what stood there before. What
 * the window's own controller asks, and a test, which can make no events.
 */
gboolean   wb_bench_check_swallow (WbBenchCheck *self, gboolean pressed);

G_END_DECLS
