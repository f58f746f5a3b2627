/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-bench-sample.h"
#include "wb-craft-doubt.h"
#include "wb-craft-limits.h"

G_BEGIN_DECLS

/*
 * The bench: which samples are alight, which may be lit, what is due next, by
 * each sample's own clock. All of it is read from the record, so a program that
 * starts again finds the burns that were left open. A GListModel of
 * WbAppBenchSample: alight first (by place, then code), then over a limit, fit, cooling, curing, then fit but of a cohort whose turn comes
 * later; ended ones are left out.
 *
 * Properties: "loaded", "session-open" (booleans), "alight", "due" (uint:
 * overdue readings), "found-open" (uint: burns that were alight when the
 * notebook was opened, until acknowledged), "unsure" (uint: burns of which somebody has to say how
 * long they have lasted). It ticks once a second of the
 * program's clock while something is alight; signal "tick".
 */
#define WB_TYPE_APP_BENCH (wb_app_bench_get_type ())
G_DECLARE_FINAL_TYPE (WbAppBench, wb_app_bench, WB, APP_BENCH, GObject)

/* Loads itself off the main thread, and again when the notebook changes. */
WbAppBench       *wb_app_bench_new              (WbAppNotebook *notebook);
gboolean          wb_app_bench_get_loaded       (WbAppBench *self);
/* TRUE: the record has news that the samples do not show yet; the first tick with FALSE comes with them. */
gboolean          wb_app_bench_is_behind        (WbAppBench *self);
guint             wb_app_bench_get_alight       (WbAppBench *self);
guint             wb_app_bench_get_due          (WbAppBench *self);
guint             wb_app_bench_get_found_open   (WbAppBench *self);
guint             wb_app_bench_get_unsure       (WbAppBench *self);
void              wb_app_bench_acknowledge_found (WbAppBench *self);
WbAppBenchSample *wb_app_bench_find             (WbAppBench *self, gint64 sample); /* borrowed; NULL: not here */
/* All poured samples of an experiment, ended ones too, in the list's order (ended last): borrowed WbAppBenchSample. Caller frees the array. */
GPtrArray        *wb_app_bench_dup_of_experiment (WbAppBench *self, gint64 experiment);
/* The alight one whose reading is due soonest; NULL: none is alight. Borrowed. */
/* At most so many notes (up to 10) of what burns and waits at the bench, each once, the latest first; answers to hazards are left out. Caller frees. */
char            **wb_app_bench_dup_last_notes   (WbAppBench *self, guint most);
WbAppBenchSample *wb_app_bench_get_next_due     (WbAppBench *self);
/* Last error of its loading, or NULL. */
const GError     *wb_app_bench_get_error        (WbAppBench *self);
/* Works out all times now; the tick does it by itself. */
void              wb_app_bench_update           (WbAppBench *self);

/* The open session, or NULL. */
const WbSession  *wb_app_bench_get_session      (WbAppBench *self);
/* Before the first light: the caution's check is answered, who stays and until when. End with wb_app_bench_finish. */
void              wb_app_bench_open_session_async  (WbAppBench *self, const char *place, const char *staying, gboolean checked,
                                                    GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/* Refused while something is alight. */
void              wb_app_bench_close_session_async (WbAppBench *self, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);

/*
 * Lights a sample now (lit_at unknown) or at a stated instant. Needs an open, checked
 * session; refuses one that is alight, curing, cooling or at its end, unless
 * `override` (then a deviation is noted); a throw burn also where it is not fit to smell yet. That a throw burn does not
 * stand alone is noted and not refused. trim_mm NAN: not measured. place: of a throw burn its room. first (may be NULL; copied):
 * what was seen and stated at lighting, stored as the reading at minute 0.
 */
void              wb_app_bench_light_async      (WbAppBench *self, gint64 sample, WbBurnKind kind, double trim_mm, const char *place,
                                                 WbInstant lit_at, const WbReading *first, gboolean override,
                                                 GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/*
 * Stores a reading of a sample that is alight. `reading` is copied; elapsed_min NAN means now by the sample's own
 * clock; burn, uuid, source are filled in, and the room where it was read with another sample within WB_APP_BENCH_ROUND_MIN. A reading of a
 * moment more than 10 minutes ago, or before the last one, is stored as `late`.
 */
void              wb_app_bench_read_async       (WbAppBench *self, gint64 sample, const WbReading *reading,
                                                 GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/* All that was read of it at one moment, as one entry: of a vessel of several wicks a WbReading of the vessel and one a wick. */
void              wb_app_bench_read_all_async   (WbAppBench *self, gint64 sample, const GPtrArray *readings,
                                                 GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/* Ends the burn: the reading (may be NULL) gets the event, one of WB_EVENT_SNUFFED, SELF_EXTINGUISHED, END_OF_LIFE; event_s NAN: not said. */
void              wb_app_bench_snuff_async      (WbAppBench *self, gint64 sample, WbEvent event, const WbReading *reading,
                                                 GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/* With all that was read of it at that moment; the event is the whole vessel's. */
void              wb_app_bench_snuff_all_async  (WbAppBench *self, gint64 sample, WbEvent event, const GPtrArray *readings,
                                                 GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/*
 * How long an alight sample has burnt now, where the clock cannot tell (see wb_app_bench_sample_get_unsure) or tells it wrong;
 * NAN: not known, it counts on from here. Stands in the burn's note. Refused below the minute of its last reading.
 */
void              wb_app_bench_tell_elapsed_async (WbAppBench *self, gint64 sample, double elapsed_s,
                                                 GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/* A reading after the end: mass when set, afterglow, hang-up next day; of the sample's last burn. */
void              wb_app_bench_read_after_async (WbAppBench *self, gint64 sample, const WbReading *reading,
                                                 GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
void              wb_app_bench_read_after_all_async (WbAppBench *self, gint64 sample, const GPtrArray *readings,
                                                     GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/* Sets a sample aside, or takes it back (cause -1). */
void              wb_app_bench_set_aside_async  (WbAppBench *self, gint64 sample, int cause, const char *why,
                                                 GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/* Code of another sample that burns at that place, not for the throw; NULL: none does. Borrowed. */
const char       *wb_app_bench_find_at            (WbAppBench *self, WbAppBenchSample *sample, const char *place);
/* Moves what is alight to another place of the bench, as an entry. Refused where something else burns, of a throw burn, whose place
 * is its room, and of what is out. */
void              wb_app_bench_move_async       (WbAppBench *self, gint64 sample, const char *place,
                                                 GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/*
 * Where a sample goes in this session on a bench of so many places, from 1: by the plan that is shuffled anew for each session
 * from the seed that it records, see wb-craft-bench-plan.h, past what burns there. places + 1: none is free.
 */
guint             wb_app_bench_propose_place    (WbAppBench *self, WbAppBenchSample *sample, guint places);
/* Ends each of the above: TRUE when it is durable in the file. */
gboolean          wb_app_bench_finish           (WbAppBench *self, GAsyncResult *result, GError **error);

/* Minutes that a round of readings takes at most: twelve take 12 to 15 min (common practice, no source). The room is read once in it. */
#define WB_APP_BENCH_ROUND_MIN 15

/* The room in the open session, read with whichever sample. °C. */
typedef struct
{
  double   last_c;         /* the newest; NAN: not known which it is */
  double   low_c, high_c;  /* lowest and highest */
  gboolean outside;        /* one of them lies outside what its sample's protocol states: a deviation, which the report tells */
  gboolean draught;        /* one was noted */
  double   last_draught;   /* WbDraught, the newest that was said; NAN: none, or not known which it is */
} WbAppBenchClimate;
/* FALSE: no session is open, or nobody has read the room in it; a draught may be noted all the same. */
gboolean          wb_app_bench_get_climate      (WbAppBench *self, WbAppBenchClimate *room);

/* What the protocol asks at a moment, in its order. */
typedef enum { WB_APP_ASK_LIGHTING, WB_APP_ASK_ROUND, WB_APP_ASK_BEFORE_SNUFFING, WB_APP_ASK_AFTER_SNUFFING, WB_APP_ASK_NEXT_DAY } WbAppAsk;
/*
 * TRUE: somebody looked at the candle itself, which a round asks. What happened, a note, and what is read of the room or
 * stated beside a figure are no look: noted alone they leave the round due.
 */
gboolean          wb_app_bench_is_look          (const double values[WB_N_COLUMNS]);
/* The moment that is next for a sample. */
WbAppAsk          wb_app_bench_get_ask          (WbAppBenchSample *sample);
/* int (WbColumn), names of the protocol that are no columns left out; empty where it asks nothing. Caller frees. */
GArray           *wb_app_bench_dup_asked        (const WbProtocol *protocol, WbAppAsk ask);
/* The same of a sample; in its last inch a reading while it burns asks side and base temperature, too. */
GArray           *wb_app_bench_dup_asked_of     (WbAppBenchSample *sample, WbAppAsk ask);

/* One limit that values come near, may be over soon, or are over, with what to do at once. */
typedef struct
{
  const WbLimit    *limit;
  WbCraftLimitLevel level;
  char             *text;    /* translated: "Vessel 79 °C: over the house limit of 77 °C" */
  char             *advice;  /* translated: "Snuff it with a long tool now." */
  double            value;   /* in the limit's unit; NAN: the event alone */
} WbAppBenchHit;
/* For values just typed, before or after they are saved: WbAppBenchHit, worst first; empty: none. Caller frees. */
GPtrArray        *wb_app_bench_check_values     (WbAppBenchSample *sample, const double values[WB_N_COLUMNS]);
/* The same of a reading of the burn that is alight, held against those before it: a limit that it may be over before the next
 * reading is told, too (WB_CRAFT_SOON). elapsed_min NAN: now. */
GPtrArray        *wb_app_bench_check_reading    (WbAppBenchSample *sample, const double values[WB_N_COLUMNS], double elapsed_min);
/* The same for all readings (WbReading) of one moment, that of the first (NAN: now): each wick's is held against the limits, and
 * of each limit the worst is told, and beside what is over it what soon may be. */
GPtrArray        *wb_app_bench_check_readings   (WbAppBenchSample *sample, const GPtrArray *readings);

/*
 * What is hard to believe of values just typed for a sample, held against what was read of it before. ask: the moment;
 * elapsed_min NAN: now. WbCraftDoubt, empty: nothing. Caller unrefs.
 */
GArray           *wb_app_bench_find_doubts      (WbAppBenchSample *sample, WbAppAsk ask, const double values[WB_N_COLUMNS],
                                                 double elapsed_min);

/*
 * The reading whose value the doubt of what was just typed rests on, and which may be the wrong one: its id; 0: it rests on none.
 * wick: at which it was typed, 0: of the vessel.
 */
gint64            wb_app_bench_find_earlier     (WbAppBenchSample *sample, const WbCraftDoubt *doubt, guint wick);

/* TRUE: it is alight, a reading of this burn is over a limit, or told that it may be over one soon, and nobody has said that it
 * was seen to, however calm it was later. Fire and broken glass wait for their answer when it is out, too, until it is lit again or
 * set aside; not those of a log from a file. */
gboolean          wb_app_bench_is_unanswered    (WbAppBenchSample *sample);
/* What all such readings tell, whenever they were read: WbAppBenchHit, of each limit the worst, worst first; that a limit may be passed is
 * told until the same is read again. NULL: none is unanswered. Caller frees. */
GPtrArray        *wb_app_bench_dup_unanswered   (WbAppBenchSample *sample);
/* WbAppBenchSample, those at their end, too; in the order of the bench. Caller frees. */
GPtrArray        *wb_app_bench_dup_asking       (WbAppBench *self);
/* A reading's note that says of all that its hits tell, but for what is only near, that it was seen to. note: what stands there, may be
 * NULL. Caller frees. */
char             *wb_app_bench_dup_answer       (const char *note, const GPtrArray *hits);
/* Says so of every such reading in the file, in the words of its own hazard, as one entry of its own, whose reason is `text`: the hazard that
 * the person was asked about. None is left: no entry, and no error. End with wb_app_bench_finish. */
void              wb_app_bench_answer_async     (WbAppBench *self, gint64 sample, const char *text, GCancellable *cancellable,
                                                 GAsyncReadyCallback callback, gpointer user);
/* The same of a flame that was just put out, whether or not the bench has read that: of fire and broken glass alone. */
void              wb_app_bench_answer_out_async (WbAppBench *self, gint64 sample, const char *text, GCancellable *cancellable,
                                                 GAsyncReadyCallback callback, gpointer user);

G_END_DECLS
