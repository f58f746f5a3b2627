/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-bench.h"
#include "wb-badge.h"
#include "wb-vessel-top.h"

G_BEGIN_DECLS

/* How a sample stands, in words, in a shape, and in figures: what the bench, its panel and its tests say alike. */

typedef enum
{
  WB_BENCH_MOOD_CURING,
  WB_BENCH_MOOD_COOLING,
  WB_BENCH_MOOD_CROSSED, /* crossed a limit in an earlier burn */
  WB_BENCH_MOOD_FIT,
  WB_BENCH_MOOD_LATER,   /* fit, and another cohort of its experiment burns first */
  WB_BENCH_MOOD_ALIGHT,
  WB_BENCH_MOOD_NEAR,    /* alight, and a reading came near a limit */
  WB_BENCH_MOOD_DUE,     /* alight, and a reading is due */
  WB_BENCH_MOOD_OVERDUE, /* alight, and it has been due for longer than a round takes */
  WB_BENCH_MOOD_STOP,    /* alight, and the burn's length is reached */
  WB_BENCH_MOOD_OVER,    /* alight, and over a limit */
  WB_BENCH_MOOD_ENDED,   /* burnt to its end, or kept */
  WB_BENCH_MOOD_ASIDE    /* set aside */
} WbBenchMood;

WbBenchMood wb_bench_words_get_mood   (WbAppBenchSample *sample);
/* Badge whose shape goes with the words. */
WbBadgeKind wb_bench_words_get_badge  (WbBenchMood mood);
/* "next reading in 22 min", "overdue 12 min", "cools until 21:10". Caller frees. */
char       *wb_bench_words_dup_state  (WbAppBenchSample *sample);
/* "It cools until 21:10." while it does; "" once it has cooled. Caller frees. */
char       *wb_bench_words_dup_until  (WbAppBenchSample *sample);
/* What is to be done of its last inch, foretold for the burn that is alight or is lit next; NULL: nothing in this burn. Caller frees. */
char       *wb_bench_words_dup_last_inch (WbAppBenchSample *sample);
/* "Noted as deviations: draught noted, at 60 min; …", of the burn that is alight or the last one; NULL: it kept to its protocol. Caller frees. */
char       *wb_bench_words_dup_deviations (WbAppBenchSample *sample);
/* "Room 22.0 °C (20.5 to 23.0 °C)", what of it deviates from the protocol, and a draught; "": nothing was read. Caller frees. */
char       *wb_bench_words_dup_room   (WbAppBench *bench, gboolean us_units);
/* Time alight: "1 h 38 min", with the burn's number; "" unless alight. Caller frees. */
char       *wb_bench_words_dup_time   (WbAppBenchSample *sample);
/* "pool 52 mm +4"; "" where it was not read in this burn. Caller frees. */
char       *wb_bench_words_dup_pool   (WbAppBenchSample *sample, gboolean us_units);
/* "flame 21 mm +3", "wall 47 °C +2": of those two columns only; "" where it was not read in this burn. Caller frees. */
char       *wb_bench_words_dup_figure (WbAppBenchSample *sample, WbColumn column, gboolean us_units);
/* Last value of a column and its change, for beside its field: "21.0 mm +3.0", "steady"; "" : none. wick: 0 for the vessel. Caller frees. */
char       *wb_bench_words_dup_last   (WbAppBenchSample *sample, guint wick, WbColumn column, gboolean us_units);
/* All of it as a sentence, for assistive technology and tooltips. Caller frees. */
char       *wb_bench_words_dup_spoken (WbAppBenchSample *sample, gboolean us_units);
/* What is drawn of it. */
void        wb_bench_words_get_sight  (WbAppBenchSample *sample, WbVesselSight *sight);

G_END_DECLS
