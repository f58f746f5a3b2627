/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"
#include "wb-craft-deviations.h"
#include "wb-dataset.h"

G_BEGIN_DECLS

typedef enum
{
  WB_APP_BENCH_CURING,   /* not fit to burn yet */
  WB_APP_BENCH_COOLING,  /* burnt, and not cooled long enough */
  WB_APP_BENCH_CROSSED,  /* crossed a limit in an earlier burn: kept as evidence, or lit knowingly */
  WB_APP_BENCH_FIT,      /* may be lit */
  WB_APP_BENCH_ALIGHT,
  WB_APP_BENCH_ENDED     /* burnt to the protocol's end, or set aside */
} WbAppBenchState;

/*
 * One sample at the bench. Owned by WbAppBench, which keeps the same object
 * for the same sample. Main thread.
 *
 * Properties (read-only, notified at the bench's tick and after saves):
 * "sample", "experiment" (int64), "code", "title" (the cell in words),
 * "experiment-code" (strings), "state" (int, WbAppBenchState), "burn-number"
 * (int), "elapsed-s" (int, since lighting, 0 unless alight), "due-in-s" (int, seconds to the next
 * reading, negative: overdue; G_MAXINT: none), "overdue", "stop-due" (the burn's
 * length is reached) (booleans), "place" (string), "pool-share" (double, pool over
 * inner diameter at the last reading, below 0: not read), "alarm" (string: the
 * limit that the last reading is over or near, NULL: none).
 */
#define WB_TYPE_APP_BENCH_SAMPLE (wb_app_bench_sample_get_type ())
G_DECLARE_FINAL_TYPE (WbAppBenchSample, wb_app_bench_sample, WB, APP_BENCH_SAMPLE, GObject)

/* Whose sample, under which name, in which vessel, by which rules, and what it does now; borrowed. */
gint64              wb_app_bench_sample_get_id          (WbAppBenchSample *self);
gint64              wb_app_bench_sample_get_experiment  (WbAppBenchSample *self);
/* With its experiment's before it where another sample at the bench has the same one. */
const char         *wb_app_bench_sample_get_code        (WbAppBenchSample *self);
const char         *wb_app_bench_sample_get_title       (WbAppBenchSample *self);
const WbSample     *wb_app_bench_sample_get_record      (WbAppBenchSample *self);
const WbVessel     *wb_app_bench_sample_get_vessel      (WbAppBenchSample *self);
const WbProtocol   *wb_app_bench_sample_get_protocol    (WbAppBenchSample *self);
const GPtrArray    *wb_app_bench_sample_get_limits      (WbAppBenchSample *self); /* WbLimit */
WbAppBenchState     wb_app_bench_sample_get_state       (WbAppBenchSample *self);
/* The burn that is alight, or the last one; NULL: never lit. */
const WbBurn       *wb_app_bench_sample_get_burn        (WbAppBenchSample *self);
int                 wb_app_bench_sample_get_burn_number (WbAppBenchSample *self); /* of the burn alight, or the next one */
WbStage             wb_app_bench_sample_get_stage       (WbAppBenchSample *self);
/* TRUE: as it burns now, or as it will be lit next, it stands in its last inch. */
gboolean            wb_app_bench_sample_is_last_inch    (WbAppBenchSample *self);
/* Minute of the burn that is alight, else of the next one, at which its last inch begins: 0: from the first; may lie beyond the
 * burn; NAN: not known. */
double              wb_app_bench_sample_get_last_inch_min (WbAppBenchSample *self);
/* Likewise at which the protocol's residue is left; NAN: it states none, or not known. */
double              wb_app_bench_sample_get_end_min     (WbAppBenchSample *self);
/* Seconds since lighting by this sample's own clock; 0 unless alight. */
gint64              wb_app_bench_sample_get_elapsed_s   (WbAppBenchSample *self);
/* Minutes since lighting at that instant of the wall clock as it stands now (unknown: now); NAN: never lit, or it is not known when. */
double              wb_app_bench_sample_get_minutes_at  (WbAppBenchSample *self, WbInstant instant);
/*
 * TRUE: how long it burns could not be told when the notebook was opened, because the wall clock stands behind the record; it
 * counts on from what it has burnt at least. by_clock_s (may be NULL): how long it would be by the wall clock, below 0 too.
 */
gboolean            wb_app_bench_sample_get_unsure      (WbAppBenchSample *self, gint64 *by_clock_s);
/* When it was lit, by the wall clock as it stands now where the sample's own clock knows it, else as it is recorded. Unknown: never lit. */
WbInstant           wb_app_bench_sample_get_lit_at      (WbAppBenchSample *self);
gint64              wb_app_bench_sample_get_due_in_s    (WbAppBenchSample *self);
/* The stated length of the burn that is alight, in seconds; NAN: it has none, or nothing is alight. */
double              wb_app_bench_sample_get_length_s    (WbAppBenchSample *self);
gboolean            wb_app_bench_sample_get_overdue     (WbAppBenchSample *self);
gboolean            wb_app_bench_sample_get_stop_due    (WbAppBenchSample *self);
/* When it is fit to light: end of the cure or of cooling; unknown where nothing waits. */
WbInstant           wb_app_bench_sample_get_fit_at      (WbAppBenchSample *self);
/*
 * Number of its cohort where it is fit to light and another cohort of its experiment goes to the bench first (wb-craft-cohorts.h); 0: it
 * waits for none. It may be lit all the same.
 */
gint64              wb_app_bench_sample_get_waits_for_cohort (WbAppBenchSample *self);
/* FALSE: the wait before its first burn is no cure that its wax states. */
gboolean            wb_app_bench_sample_states_cure     (WbAppBenchSample *self);
/* TRUE: lit then (unknown: now), it would not have cured or cooled for as long as is asked, though it has by now. */
gboolean            wb_app_bench_sample_is_early        (WbAppBenchSample *self, WbInstant lit_at);
/* When its last burn ended; unknown: never burnt, alight, or not known. */
WbInstant           wb_app_bench_sample_get_out_at      (WbAppBenchSample *self);
/* When it is fit to smell, which a throw burn waits for; unknown: its wax does not say. */
WbInstant           wb_app_bench_sample_get_smell_at    (WbAppBenchSample *self);
/*
 * The newest limit that it crossed, as "outside wall of the vessel 79 °C: over the house limit of 77 °C, in burn 3 at 240 min";
 * where none was but its vessel cracked, "its vessel cracked in burn 3"; NULL: neither. Caller frees. `broken` may be NULL:
 * its vessel cracked, and nobody is to light it again.
 */
char               *wb_app_bench_sample_dup_crossing    (WbAppBenchSample *self, gboolean *broken);
/* Where the burn that is alight, or the last one, left its protocol so far: WbCraftDeviation; empty where it was never lit. Caller unrefs. */
GArray             *wb_app_bench_sample_dup_deviations  (WbAppBenchSample *self);
/* Number of the burn of that crossing; 0: none. */
int                 wb_app_bench_sample_get_crossed_burn (WbAppBenchSample *self);
/* Number of the first burn in which its vessel cracked, whatever the limits say; 0: it did not. */
int                 wb_app_bench_sample_get_cracked_burn (WbAppBenchSample *self);
/* Wicks in its vessel, 1 to WB_MOST_WICKS. */
guint               wb_app_bench_sample_get_n_wicks     (WbAppBenchSample *self);
/* Of the burn that is alight: those of its wicks that are out, a bit each, the first wick's the lowest; 0: all burn, or nothing does. */
guint               wb_app_bench_sample_get_wicks_out   (WbAppBenchSample *self);
double              wb_app_bench_sample_get_wick_spacing (WbAppBenchSample *self); /* mm; NAN: not stated */
/*
 * Last value read at that wick (from 1) in this burn, NAN: not read, and what it is more than the one before at the same
 * wick; change may be NULL.
 */
double              wb_app_bench_sample_get_wick_last   (WbAppBenchSample *self, guint wick, WbColumn column, double *change);
/* Last value read in this burn, of several wicks read in one moment the largest; NAN: not read. */
double              wb_app_bench_sample_get_last        (WbAppBenchSample *self, WbColumn column);
double              wb_app_bench_sample_get_last_min    (WbAppBenchSample *self); /* minute of the last reading; NAN: none yet */
/* Minute at which it was last looked at, what happened or was noted alone left out: the next round is counted from it; NAN: none yet. */
double              wb_app_bench_sample_get_look_min    (WbAppBenchSample *self);
/* That value less the one before it in this burn; NAN: fewer than two. */
double              wb_app_bench_sample_get_change      (WbAppBenchSample *self, WbColumn column);
/* The last pool of this burn, whatever way it was read, and the change of its diameter (NAN: none before). FALSE: not read. */
gboolean            wb_app_bench_sample_get_pool        (WbAppBenchSample *self, WbPool *pool, double *change_mm);
/* Last text of that kind in this burn, else in an earlier one of the sample; NULL: none. */
/* As last read in this burn: that column, or for one of the pool all of the pool as it was seen together; NAN elsewhere. FALSE: never. */
gboolean            wb_app_bench_sample_get_last_values (WbAppBenchSample *self, WbColumn column, double values[WB_N_COLUMNS]);
const char         *wb_app_bench_sample_get_last_text   (WbAppBenchSample *self, WbReadingText which);
/* Minutes since the last burn ended; NAN: never burnt, or alight. */
double              wb_app_bench_sample_get_out_min     (WbAppBenchSample *self);
/* TRUE: its last burn is over, and it was nobody who put it out. */
gboolean            wb_app_bench_sample_went_out        (WbAppBenchSample *self);
/*
 * Minutes after the last flame was out from which on its wax counts as set, and it is weighed out. Common practice, no source:
 * "when the wax has set, not at snuffing"; a pool of a finger's depth takes about that long.
 */
#define WB_APP_BENCH_SET_MIN 120.0
/* TRUE: it burnt, is out, its wax has set, and nobody has weighed it since; a log from a file is not weighed again. */
gboolean            wb_app_bench_sample_is_to_weigh     (WbAppBenchSample *self);
/* TRUE once it was weighed after its last burn, or was never burnt. */
gboolean            wb_app_bench_sample_is_weighed      (WbAppBenchSample *self);
const char         *wb_app_bench_sample_get_place       (WbAppBenchSample *self);
/* Of the numbered places 1 to `places` the one where its last burn stands or stood; 0: none, its place has another name, or the
 * burn is for the throw and its place a room. */
guint               wb_app_bench_sample_get_place_number (WbAppBenchSample *self, guint places);
const char         *wb_app_bench_sample_get_alarm       (WbAppBenchSample *self);
/* TRUE: the alarm tells of a limit that is crossed; FALSE: of one that is near, or there is none. */
gboolean            wb_app_bench_sample_get_over        (WbAppBenchSample *self);

G_END_DECLS
