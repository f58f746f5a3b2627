/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-bench.h"

G_BEGIN_DECLS

/* The bench of an open window as other tests than the burn page's own need it. */

/* Of what was asked of the bench; sets the gboolean. */
void              test_bench_done_cb     (GObject *source, GAsyncResult *result, gpointer done);
/* Opens one and waits until the bench knows. */
void              test_bench_open_session (WbAppBench *bench);
/* Opens a session, lights the first sample and waits until the bench knows; the bench keeps the sample. */
WbAppBenchSample *test_bench_light_first (WbAppBench *bench);
void              test_bench_snuff       (WbAppBench *bench, WbAppBenchSample *sample);
/* As if the key came to that widget; TRUE: one of ours took it. What GTK's own text would do with it is not asked. */
gboolean          test_bench_send_key    (GtkWidget *widget, guint keyval);

G_END_DECLS
