/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-bench.h"
#include "wb-craft-crossing.h"
#include "wb-craft-figures.h"
#include "wb-store-dataset.h"

G_BEGIN_DECLS

/* One experiment as the bench holds it: loaded in a thread, immutable, shared by its samples. */
typedef struct
{
  gatomicrefcount  ref_count;
  gint64           id;
  gint64           stamp;      /* how fresh, see wb-app-stamp-private.h */
  WbDataset       *data;
  WbCraftFigures  *figures;
  WbCraftCrossing *crossings;  /* by sample */
  gint64           cohort;     /* that goes to the bench now; 0: its samples are not divided, or none is left */
  WbInstant        file_lit_at; /* see wb_app_bench_find_file_lit_at */
  GArray          *notes;      /* of what burns and waits, see wb_app_bench_notes_find */
} WbAppBenchLoad;

WbAppBenchLoad *wb_app_bench_load_ref   (WbAppBenchLoad *self);
void            wb_app_bench_load_unref (WbAppBenchLoad *self);

/* What the bench was loaded from: experiments that may have samples at the bench, and the open session. */
typedef struct
{
  GPtrArray *loads;    /* WbAppBenchLoad */
  WbSession *session;  /* the newest that is not closed; NULL: none */
  guint64    n_sessions; /* that the record has */
  GHashTable *running; /* what the state folder says of burns, see wb-app-running-private.h */
  WbInstant  last_entry; /* when the record was written to last */
  gint64     entry;      /* number of that entry; what was read is at least as new */
} WbAppBenchRead;

void     wb_app_bench_read_free   (WbAppBenchRead *self);
/* WbAppReaderFunc: data is the notebook's WbAppLoads; what did not change is taken over. */
gpointer wb_app_bench_read_thread (WbStore *store, gpointer data, GCancellable *cancellable, GError **error);

/* When an experiment that came in from a file, and was neither poured nor burnt here, was lit last; unknown: another, or nobody says. */
WbInstant wb_app_bench_find_file_lit_at (const WbDataset *data);
/* That was so long ago that its candles are taken for put away. */
gboolean wb_app_bench_load_is_put_away (const WbAppBenchLoad *load, WbInstant now);
/* It may have samples at the bench: it is open, and no archive from a file. */
gboolean wb_app_bench_has_experiment  (const WbStoreExperiment *experiment);
/* Notes of its samples' last burns that may be told again, the latest first. Of a load whose data, figures and crossings are there. */
GArray  *wb_app_bench_notes_find  (const WbAppBenchLoad *load);

/* The end of a burn: minute at which the last of its wicks was out; NAN while one is alight. */
double   wb_app_bench_burn_end_min (const WbDataset *data, guint burn);

WbAppBenchSample *wb_app_bench_sample_new    (WbAppBenchLoad *load, guint sample);
/* The same sample in newer data. */
void              wb_app_bench_sample_take   (WbAppBenchSample *self, WbAppBenchLoad *load, guint sample);
/* Works out state and times at this moment; notifies what changed. */
void              wb_app_bench_sample_update (WbAppBenchSample *self, gboolean us_units);
/* As it was given at the last update. */
gboolean          wb_app_bench_sample_get_us_units (WbAppBenchSample *self);
/* Order of the list. A GCompareFunc on pointers to WbAppBenchSample *. */
/* Another sample at the bench has the same code: its own then names the experiment too. */
void              wb_app_bench_sample_set_twin (WbAppBenchSample *self, gboolean twin);
int               wb_app_bench_sample_order  (gconstpointer a, gconstpointer b);
const WbAppBenchLoad *wb_app_bench_sample_get_load (WbAppBenchSample *self);
const WbDataset  *wb_app_bench_sample_get_data  (WbAppBenchSample *self);
guint             wb_app_bench_sample_get_index (WbAppBenchSample *self);
const WbCraftCrossing *wb_app_bench_sample_get_crossing (WbAppBenchSample *self);
/* Index of the burn that is alight, or of the last one; only where there is one. */
guint             wb_app_bench_sample_get_burn_index (WbAppBenchSample *self);

/* WbAppBenchLoad; borrowed. */
const GPtrArray  *wb_app_bench_get_loads      (WbAppBench *self);
/* Experiments all of whose samples are ended, with a vessel and scent for which nothing is signed, as WbAppBenchLoad; borrowed. */
GPtrArray        *wb_app_bench_list_undecided (WbAppBench *self);
WbAppNotebook    *wb_app_bench_get_notebook   (WbAppBench *self);
/* Of the places' shuffle, from 1: what the open session recorded, or what the one that the next light opens will record. */
guint64           wb_app_bench_get_seed       (WbAppBench *self);
/* What a session that is written now records: its number in the record. */
guint64           wb_app_bench_get_next_seed  (WbAppBench *self);
/*
 * Those that the clock can move, WbAppBenchSample in the list's order, ended ones too: all that were burnt in a session, and
 * what cures, cools or did so a day ago. What needs no other goes along these, however many the notebook holds. Borrowed,
 * until the next update.
 */
const GPtrArray  *wb_app_bench_get_live       (WbAppBench *self);
/* All of the loads, ended ones too: values are WbAppBenchSample. Borrowed. */
GHashTable       *wb_app_bench_get_samples    (WbAppBench *self);
/*
 * Last value of a column over those rows of a burn, and the one before it (before may be NULL); NAN: none. Of what was read
 * wick by wick in one moment the largest stands for the vessel.
 */
double            wb_app_bench_find_last      (const WbReadings *readings, guint first, guint n, WbColumn column, double *before);
/* Takes flame and mushroom out of a reading's values that is of another wick (NAN: of the vessel). */
void              wb_app_bench_blank_other_wicks (double values[WB_N_COLUMNS], double wick);
/* TRUE: that row is a look at the candle. */
gboolean          wb_app_bench_is_look_row    (const WbReadings *readings, guint row);
/* Rows of the newest minute of a burn at which it was looked at, the vessel's and its wicks', and of what happened since. */
void              wb_app_bench_get_last_moment (const WbReadings *readings, guint burn, guint *first, guint *n);
/* Words and advice of a limit at these values; of a wick's reading with its number. */
char             *wb_app_bench_dup_hit_text   (const WbLimit *limit, WbCraftLimitLevel level, const double values[WB_N_COLUMNS], gboolean us_units);
/* What crossed a limit or broke on a sample, with burn and minute; NULL: nothing. Caller frees. */
char             *wb_app_bench_dup_crossing_text (const WbDataset *data, const WbCraftCrossing *crossing, gboolean us_units);
GPtrArray        *wb_app_bench_check          (const GPtrArray *limits, const double values[WB_N_COLUMNS], gboolean us_units);
/* What a logger's file says of its burn that is over a limit; what is only near one asks for nothing. */
GPtrArray        *wb_app_bench_check_logger   (const GPtrArray *limits, const WbAttachment *logger, gboolean us_units);
/* The same of a reading, and what those of the trends (WbCraftTrend, NULL: none) say that this look of theirs tells. lit_at: when the burn's minute 0 was, for times of day. */
GPtrArray        *wb_app_bench_check_look     (const GPtrArray *limits, const double values[WB_N_COLUMNS], const GArray *trends, guint look,
                                               WbInstant lit_at, gboolean us_units);
/* The room of the open session as a person read it last, by the record: what the readings of the same round take over. */
typedef struct
{
  double values[2]; /* room and draught, NAN: not read */
  gint64 at_us[2];  /* UTC: when each was read */
  gint64 session;   /* 0: none is open */
} WbAppBenchRoom;
/* The same of a reading that is being saved: until the bench has read an entry that is newer than `after`. */
typedef struct
{
  double values[2];
  gint64 at_us;
  gint64 session;   /* 0: there is none */
  gint64 after;
} WbAppBenchPending;
const WbAppBenchPending *wb_app_bench_get_pending (WbAppBench *self);
void              wb_app_bench_keep_pending    (WbAppBench *self, gint64 session, gint64 at_us, double room_c, double draught);
/* Works out the room of the session anew and tells all samples. */
void              wb_app_bench_update_room     (WbAppBench *self);
/* Of what is to be saved of one moment: takes the room over from the reading of its round where a person has not read it. */
void              wb_app_bench_carry_room      (WbAppBench *self, WbAppBenchSample *sample, WbReading *reading);
const WbAppBenchRoom *wb_app_bench_sample_get_room (WbAppBenchSample *self);
/* TRUE: the room was read in the round in which the sample is due, and need not be asked. */
gboolean          wb_app_bench_sample_has_room (WbAppBenchSample *self, WbColumn column);
void              wb_app_bench_sample_set_room (WbAppBenchSample *self, const WbAppBenchRoom *room);
/*
 * TRUE: `said` tells that hit of those values: limit, level, value and bound, in whatever units it was said. Of what soon may be,
 * the climb and the times are not compared, which the minute of saving or an earlier reading that is amended moves.
 */
/* Where the answer to a hazard begins in a note; NULL: there is none. */
const char       *wb_app_bench_find_answer    (const char *note);
gboolean          wb_app_bench_is_told        (const WbAppBenchHit *hit, const double values[WB_N_COLUMNS], const char *said);
/* It outlasts the flame. */
gboolean          wb_app_bench_is_fire_or_glass (const WbAppBenchHit *hit);
/* No hits yet; holds WbAppBenchHit. */
GPtrArray        *wb_app_bench_hits_new       (void);
/* Of each limit the worst hit stays in `hits`; what may be over it soon stays beside what is. Takes `more`. */
void              wb_app_bench_merge_hits     (GPtrArray *hits, GPtrArray *more);
/* The same of the newest minute of a burn; looks of the trends are its rows. */
GPtrArray        *wb_app_bench_check_last     (const WbDataset *data, guint burn, const GArray *trends, WbInstant lit_at, gboolean us_units);

G_END_DECLS
