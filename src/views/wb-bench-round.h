/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-bench.h"

G_BEGIN_DECLS

/* The way of a hand along the bench: who burns, who waits, and who is next. */
typedef struct _WbBenchRound WbBenchRound;

/* Tells whether a sample is to be passed over. */
typedef gboolean (*WbBenchSkipFunc) (WbAppBenchSample *sample, gpointer user);

WbBenchRound     *wb_bench_round_new         (void);
void              wb_bench_round_free        (WbBenchRound *self);
/* All that burns of whatever experiment, and what waits of the given one; before these what went out by itself in the open session, of
 * whichever. TRUE: other samples, or in another order. NULL: nothing. */
gboolean          wb_bench_round_take        (WbBenchRound *self, WbAppBench *bench, gint64 experiment);
/* WbAppBenchSample; borrowed until the next take. */
const GPtrArray  *wb_bench_round_get_alight  (const WbBenchRound *self);
const GPtrArray  *wb_bench_round_get_waiting (const WbBenchRound *self);
gboolean          wb_bench_round_has         (const WbBenchRound *self, WbAppBenchSample *sample);
/* After `current` (0: before the first) along the flames by when they are due, going round. NULL: no other. Borrowed. */
WbAppBenchSample *wb_bench_round_next_alight (const WbBenchRound *self, gint64 current, WbBenchSkipFunc skip, gpointer user);
/* The flame that is overdue longest, but `current`. NULL: no other is due. Borrowed. */
WbAppBenchSample *wb_bench_round_next_overdue (const WbBenchRound *self, gint64 current, WbBenchSkipFunc skip, gpointer user);
/* The flame that is to be put out first, but `current`: one whose burn has its length, else the one that burns longest. NULL: no other. Borrowed. */
WbAppBenchSample *wb_bench_round_next_to_snuff (const WbBenchRound *self, gint64 current, WbBenchSkipFunc skip, gpointer user);
/* After `current` along the samples that were just snuffed, and whose glow nobody noted yet. NULL: no other. Borrowed. */
WbAppBenchSample *wb_bench_round_next_glowing (const WbBenchRound *self, gint64 current, WbBenchSkipFunc skip, gpointer user);
/* After `current` along the samples that may be lit. NULL: no other. Borrowed. */
WbAppBenchSample *wb_bench_round_next_fit    (const WbBenchRound *self, gint64 current, WbBenchSkipFunc skip, gpointer user);
/* After `current` along the samples that are out and not weighed since. NULL: no other. Borrowed. */
WbAppBenchSample *wb_bench_round_next_to_weigh (const WbBenchRound *self, gint64 current, WbBenchSkipFunc skip, gpointer user);
/* What asks for a hand first: a reading that is due, else a flame of that experiment, else what may be lit of it, else anything. NULL: nothing. */
WbAppBenchSample *wb_bench_round_first       (const WbBenchRound *self, gint64 experiment, WbBenchSkipFunc skip, gpointer user);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbBenchRound, wb_bench_round_free)

G_END_DECLS
