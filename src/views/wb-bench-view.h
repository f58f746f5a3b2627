/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-bench-spot.h"

G_BEGIN_DECLS

/*
 * The bench from above: the places of the table with what burns on each, free
 * ones marked by their number, and below it the samples that wait. All vessels
 * are drawn to one scale. Arrow keys go from sample to sample, Tab leaves.
 */
#define WB_TYPE_BENCH_VIEW (wb_bench_view_get_type ())
G_DECLARE_FINAL_TYPE (WbBenchView, wb_bench_view, WB, BENCH_VIEW, GtkWidget)

GtkWidget   *wb_bench_view_new       (void);
/* WbAppBenchSample, borrowed by the arrays: those alight, and those that wait. n_places: of the table, 0: not known. n_columns: places in a
 * row of it, as it stands, free ones with it; 0: not known, as many as fit. Spots of samples that stay are kept. */
void         wb_bench_view_set       (WbBenchView *self, const GPtrArray *alight, const GPtrArray *waiting, guint n_places,
                                      guint n_columns);
/* FALSE: one was moved since: set it anew. */
gboolean     wb_bench_view_is_in_place (WbBenchView *self);
/* Says anew how each stands. unsaved: set of sample ids (gint64 *) whose reading could not be saved; NULL: none. */
void         wb_bench_view_update    (WbBenchView *self, gboolean us_units, GHashTable *unsaved);
/* What is seen of it without scrolling, pixels. Where all that burns would not be seen in it, vessels are drawn smaller and what
 * was read is left to tooltip and name. TRUE: that has changed. */
gboolean     wb_bench_view_set_room  (WbBenchView *self, int width, int height);
gboolean     wb_bench_view_get_dense (WbBenchView *self);
/* TRUE: those were given to it last. */
gboolean     wb_bench_view_has_size  (WbBenchView *self, guint n_places, guint n_columns);
/* The sample whose spot lies nearest that way from another's: left, right, up or down. NULL: none. Borrowed. */
WbAppBenchSample *wb_bench_view_find_beside (WbBenchView *self, gint64 from, GtkDirectionType direction);
/* NULL: it is not shown. */
WbBenchSpot *wb_bench_view_find      (WbBenchView *self, gint64 sample);
/* The lowest number of a place where nothing burns. */
guint        wb_bench_view_get_free_place (WbBenchView *self);
/* Where Tab comes in; 0: at the first. */
void         wb_bench_view_set_chosen (WbBenchView *self, gint64 sample);

G_END_DECLS
