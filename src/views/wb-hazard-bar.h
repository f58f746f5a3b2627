/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-bench.h"

G_BEGIN_DECLS

/*
 * What to do at once: limits that values of a sample are over, may be over soon, or are near. One
 * question a sample, by the most urgent of them; it stays until it is
 * answered, or the flame is out, and hides when nothing is left.
 *
 * Signal "answered" (gint64 sample, gboolean out, gboolean typed, string text):
 * the person has seen to what `text` says, each limit that was told, behind
 * semicolons; out: and put the flame out; typed: the reading that told it is
 * not saved yet.
 */
#define WB_TYPE_HAZARD_BAR (wb_hazard_bar_get_type ())
G_DECLARE_FINAL_TYPE (WbHazardBar, wb_hazard_bar, WB, HAZARD_BAR, GtkWidget)

GtkWidget  *wb_hazard_bar_new         (void);
/* Tells the limits that readings (WbReading) just typed of a sample at one moment, the vessel's and its wicks', are over, near, or
 * may be over before the next reading, of each the worst; what was told of it
 * already, in the same words, is not told again, answered or not. What was told of earlier typing that they no longer hold goes. */
void        wb_hazard_bar_look        (WbHazardBar *self, WbAppBenchSample *sample, const GPtrArray *readings);
/* Tells likewise what the record has of that sample without an answer. */
void        wb_hazard_bar_look_at_record (WbHazardBar *self, WbAppBenchSample *sample);
/* What the flame of a candle told goes with the flame; fire and broken glass stay until they are answered. */
void        wb_hazard_bar_follow      (WbHazardBar *self, WbAppBench *bench);
/* What was typed of that sample is saved: the next reading is told anew, whatever was answered. */
void        wb_hazard_bar_forget      (WbHazardBar *self, gint64 sample);
/* Nothing is told any more. */
void        wb_hazard_bar_clear       (WbHazardBar *self);
/* What was answered of a sample is open again, for the answer could not be saved; why: said beside it until the next answer. */
void        wb_hazard_bar_ask_again   (WbHazardBar *self, gint64 sample, const char *why);
/* What is open of a sample counts as answered: nobody is told so. */
void        wb_hazard_bar_hush        (WbHazardBar *self, gint64 sample);
/* Something told of that sample waits for its answer. */
gboolean    wb_hazard_bar_is_open     (WbHazardBar *self, gint64 sample);
/* The same, of a limit that is crossed. */
gboolean    wb_hazard_bar_is_over     (WbHazardBar *self, gint64 sample);
/* How many samples wait for an answer. */
guint       wb_hazard_bar_get_n_open  (WbHazardBar *self);
/* What is shown; "" : nothing. */
const char *wb_hazard_bar_get_text    (WbHazardBar *self);
const char *wb_hazard_bar_get_more    (WbHazardBar *self); /* what else is said below the advice */
const char *wb_hazard_bar_get_advice  (WbHazardBar *self);
/* As its buttons do. */
void        wb_hazard_bar_answer      (WbHazardBar *self, gboolean out);

G_END_DECLS
