/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-bench-private.h"
#include "wb-app-bench-throw.h"

G_BEGIN_DECLS

/* Why its throw is not to be rated yet, though it may be fit to burn; NULL: it is fit, or the kind is another. Caller frees. */
char *wb_app_bench_throw_dup_smell_refusal (WbAppBenchSample *sample, WbBurnKind kind);

/*
 * Fills in, for a reading that rates the throw, what the bench knows and nobody typed: room, whether it burnt alone then, and, of
 * a throw burn, distance, blindness and rater as stated at its lighting. now: it is of this moment, else of its minute.
 */
void  wb_app_bench_throw_complete          (WbAppBench *self, WbAppBenchSample *sample, gboolean now, WbReading *reading);

G_END_DECLS
