/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-bench.h"

G_BEGIN_DECLS

/*
 * Burns for the throw: one scented sample alight in a named room. The room of such a burn is its place; of any other it is
 * the place of its session. A room without a name may be any room.
 */

/* TRUE: its combination has a fragrance. */
gboolean   wb_app_bench_sample_is_scented   (WbAppBenchSample *sample);

/*
 * Other samples that burn, or burnt, at that instant (unknown: now) in that room: WbAppBenchSample, borrowed, by the bench's
 * order. room: NULL or "": no name. scented: only those whose scent a nose takes for this one's. Caller frees the array.
 */
GPtrArray *wb_app_bench_dup_beside          (WbAppBench *self, WbAppBenchSample *sample, const char *room, WbInstant at, gboolean scented);

/* Room of the throw burn that was lit last, in whatever experiment; NULL: none was. distance_m (may be NULL): from which it was
 * smelt, NAN. Caller frees. */
char      *wb_app_bench_dup_last_room       (WbAppBench *self, double *distance_m);

/* Why a rating of the throw that is taken now of an alight sample will not be scored; a translated sentence. NULL: it will be.
 * Caller frees. */
char      *wb_app_bench_dup_unscored        (WbAppBench *self, WbAppBenchSample *sample);

/* A rating typed of its last burn, where the same person rated the throw within a minute of it. FALSE: no doubt. */
gboolean   wb_app_bench_find_throw_again    (WbAppBenchSample *sample, const WbReading *typed, WbCraftDoubt *doubt);

/*
 * What lighting it now would spoil: a burn of that kind at that place or in that room. Its own throw, because others burn there
 * or it is not fit to smell yet, or the throw burn of another. Translated sentences; NULL: nothing. Caller frees.
 */
char      *wb_app_bench_dup_throw_deviation (WbAppBench *self, WbAppBenchSample *sample, WbBurnKind kind, const char *place);

G_END_DECLS
