/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-bench-private.h"
#include "wb-app-bench-throw.h"

G_BEGIN_DECLS

/* Why its throw is not to be rated yet, though it may be fit to burn; NULL: it is fit, or the kind is another. Caller frees. */
char *wb_app_bench_throw_dup_smell_refusal (WbAppBenchSample *sample, WbBurnKind kind);

/* The same of a burn that was lit at that instant. */
char *wb_app_bench_throw_dup_early         (WbAppBenchSample *sample, WbBurnKind kind, WbInstant at);

/* Names of rooms; one without a name may be any. */
gboolean    wb_app_bench_throw_may_be_same_room (const char *a, const char *b);
/* Of its last burn; NULL: it has no name. Borrowed. */
const char *wb_app_bench_throw_get_room         (WbAppBench *self, WbAppBenchSample *sample);

/*
 * Why a rating is not scored beside those samples, and what lighting a throw burn beside them spoils; NULL: they are none. named: it is
 * said that one of them is in the room. Translated; caller frees.
 */
char       *wb_app_bench_throw_dup_unscored_words (const GPtrArray *beside, gboolean named);
char       *wb_app_bench_throw_dup_crowd_words    (const GPtrArray *beside, gboolean named);
/* The same of a rating of another kind of burn. */
const char *wb_app_bench_throw_get_other_kind_words (void);

/*
 * Fills in, for a reading that rates the throw, what the bench knows and nobody typed: room, whether it burnt alone then, and, of
 * a throw burn, distance, blindness and rater as stated at its lighting. now: it is of this moment, else of its minute.
 */
void  wb_app_bench_throw_complete          (WbAppBench *self, WbAppBenchSample *sample, gboolean now, WbReading *reading);

G_END_DECLS
