/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-bench-life-private.h"
#include "wb-app-running-private.h"
#include "wb-app-save-private.h"

G_BEGIN_DECLS

/* Since when a sample's burn counts; main thread. All zero: nothing is known yet. */
typedef struct
{
  gint64   burn;       /* id of the burn that it is of */
  gint64   elapsed_us; /* at `steady_us` */
  gint64   steady_us;
  gboolean unsure;     /* at least so long: nobody has said yet */
  gint64   by_wall_us; /* how long it would be by the wall clock alone, at `steady_us` */
} WbAppBenchAnchor;

/* At the first sight of the burn, which is alight; at later ones it stays. noted may be NULL. */
void   wb_app_bench_anchor_set            (WbAppBenchAnchor *self, const WbAppBenchLife *life, const WbAppRunning *noted,
                                           WbInstant last_entry);
/*
 * The same of a burn that is out; FALSE: it has cooled, or when is not known, and what the record says by the wall clock holds.
 * noted may be NULL.
 */
gboolean wb_app_bench_anchor_set_cooling  (WbAppBenchAnchor *self, const WbAppBenchLoad *load, const WbAppBenchLife *life,
                                           const WbAppRunning *noted);
gint64 wb_app_bench_anchor_get_elapsed_us (const WbAppBenchAnchor *self);

/* Of a sample; borrowed. */
WbAppBenchAnchor *wb_app_bench_sample_get_anchor (WbAppBenchSample *self);
/* Where it is alight or cools. noted: what the state folder says of its burn; NULL: nothing. */
void   wb_app_bench_sample_set_anchor     (WbAppBenchSample *self, const WbAppRunning *noted, WbInstant last_entry);
/* It is alight, or it cools by a clock that nobody sets: the state folder has to know. */
gboolean wb_app_bench_sample_is_counted   (WbAppBenchSample *self);

/*
 * After a load: anchors what was seen for the first time, and lets the state folder, in a thread, hold what is alight or cools and
 * no more. At the first load it tells that the clock was set, or stands behind what cools.
 * noted: what the folder held; it is used up.
 */
void   wb_app_bench_keep_running          (WbAppBench *self, GHashTable *noted, WbInstant last_entry);
/* The save that lights the burn notes its minute 0 before it is told as saved. */
void   wb_app_bench_note_lighting         (WbAppBench *self, WbAppSave *save, const WbBurn *burn);

G_END_DECLS
