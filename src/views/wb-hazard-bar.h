/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-bench.h"

G_BEGIN_DECLS

/*
 * What to do at once: limits that values of a sample are over, or near. It
 * stays until it is answered, the most urgent first, and hides when nothing is left.
 *
 * Signal "answered" (gint64 sample, gboolean out): the person has seen to it;
 * out: and put the flame out.
 */
#define WB_TYPE_HAZARD_BAR (wb_hazard_bar_get_type ())
G_DECLARE_FINAL_TYPE (WbHazardBar, wb_hazard_bar, WB, HAZARD_BAR, GtkWidget)

GtkWidget  *wb_hazard_bar_new         (void);
/* Tells the limits that these values of a sample are over or near; what was told of it already, in the same words, is not told
 * again, answered or not. NULL: the last values of its record. */
void        wb_hazard_bar_look        (WbHazardBar *self, WbAppBenchSample *sample, const double *values);
/* The next reading of that sample is told anew, whatever was answered. */
void        wb_hazard_bar_forget      (WbHazardBar *self, gint64 sample);
/* Nothing is told any more. */
void        wb_hazard_bar_clear       (WbHazardBar *self);
/* How many are not answered yet. */
guint       wb_hazard_bar_get_n_open  (WbHazardBar *self);
/* What is shown; "" : nothing. */
const char *wb_hazard_bar_get_text    (WbHazardBar *self);
const char *wb_hazard_bar_get_advice  (WbHazardBar *self);
/* As its buttons do. */
void        wb_hazard_bar_answer      (WbHazardBar *self, gboolean out);

G_END_DECLS
