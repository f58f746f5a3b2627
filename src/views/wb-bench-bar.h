/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-bench.h"

G_BEGIN_DECLS

/*
 * What stands above the bench: how many burn, who stays with them, the verbs of
 * the whole bench, and the question about burns that were found open.
 */
#define WB_TYPE_BENCH_BAR (wb_bench_bar_get_type ())
G_DECLARE_FINAL_TYPE (WbBenchBar, wb_bench_bar, WB, BENCH_BAR, GtkWidget)

void wb_bench_bar_update (WbBenchBar *self, WbAppBench *bench, gboolean us_units);

G_END_DECLS
