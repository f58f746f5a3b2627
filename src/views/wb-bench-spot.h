/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-bench-sample.h"

G_BEGIN_DECLS

/*
 * One sample at the bench: its vessel from above, its code, and how it stands.
 * A toggle button of the action "page.choose", so that click, Enter, the
 * accessible action and a test choose it alike.
 */
#define WB_TYPE_BENCH_SPOT (wb_bench_spot_get_type ())
G_DECLARE_FINAL_TYPE (WbBenchSpot, wb_bench_spot, WB, BENCH_SPOT, GtkToggleButton)

GtkWidget        *wb_bench_spot_new        (WbAppBenchSample *sample);
/* Borrowed. */
WbAppBenchSample *wb_bench_spot_get_sample (WbBenchSpot *self);
/* Says anew what may have changed with the clock or with a reading. unsaved: a reading of it could not be saved. */
void              wb_bench_spot_update     (WbBenchSpot *self, gboolean us_units, gboolean unsaved);
/* Without what was read, which its tooltip and its name tell all the same: where many stand side by side. */
void              wb_bench_spot_set_dense  (WbBenchSpot *self, gboolean dense);
void              wb_bench_spot_set_scale  (WbBenchSpot *self, double scale, double widest_mm);
/* Outer width of its vessel; mm. */
double            wb_bench_spot_get_width_mm (WbBenchSpot *self);

G_END_DECLS
