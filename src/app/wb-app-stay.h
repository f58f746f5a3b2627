/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-bench.h"

G_BEGIN_DECLS

/*
 * Who stays with the flames, and until when: said in words at the first light ("Wren, until 22:30, and no wick glows"), and held
 * against the clock before each further one.
 */

/*
 * The end that the words name: the last time of day in them ("22:30", "22.30", "10:30 pm", "10 pm"), the first such after the
 * session was opened. One of the morning, more than half a day away, is taken as that of the evening. Not known where no session
 * is given or no time is named.
 */
WbInstant wb_app_stay_get_end   (const WbSession *session);
/* TRUE: that end was before `now`. */
gboolean  wb_app_stay_is_past   (const WbSession *session, WbInstant now);
/* Says anew who stays in the open session, as an entry of its own: one that is alight goes on. End with wb_app_bench_finish. */
void      wb_app_stay_say_async (WbAppBench *bench, const char *staying, GCancellable *cancellable, GAsyncReadyCallback callback,
                                 gpointer user);

G_END_DECLS
