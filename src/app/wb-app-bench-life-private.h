/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-bench-private.h"
#include "wb-craft-last-inch.h"
#include "wb-craft-trend.h"

G_BEGIN_DECLS

/* What the record says of one sample, in a plain struct: its last burn with what was read there. The times of now are the sample's own. */
typedef struct
{
  const WbBurn *burn;       /* the one alight, or the last one; borrowed from the load; NULL: never lit */
  guint         burn_index;
  WbInstant     lit_at;     /* of that burn; where the sample's own clock knows it, by the wall clock as it stands now */
  double        end_min;    /* NAN: alight */
  double        last_min;   /* last reading of that burn; NAN: none */
  double        look_min;   /* last minute at which it was looked at, from which the next round is counted; NAN: none */
  double        last[WB_N_COLUMNS];
  gboolean      watched;    /* a limit was crossed, in whatever burn, or the last reading came near one */
  double        pool_share; /* pool over inner diameter; NAN: not read */
  WbCraftLastInch inch;     /* of the burn that is alight, else of the next one */
  GArray       *trends;     /* WbCraftTrend of a burn that is alight, by limit; looks are its rows. Owned; see wb_app_bench_life_clear */
  double        again_min;  /* minute at which a trend asks for the next reading; NAN: the newest reading told none */
} WbAppBenchLife;

/* Of a sample of the bench; borrowed, until it is taken anew. */
const WbAppBenchLife *wb_app_bench_sample_get_life (WbAppBenchSample *self);

void            wb_app_bench_life_read         (const WbAppBenchLoad *load, guint sample, WbAppBenchLife *life);
void            wb_app_bench_life_clear        (WbAppBenchLife *life);
/* When a burn of that sample is read as long as nothing is near or over a limit; for what was lit. */
WbCraftTrendRounds wb_app_bench_life_get_rounds (const WbAppBenchLoad *load, const WbAppBenchLife *life);
/* A burn from a file is never alight, whatever its last row says. */
gboolean        wb_app_bench_life_is_alight    (const WbAppBenchLife *life);
/* Burnt down, set aside or kept as it is, and not alight. */
gboolean        wb_app_bench_life_is_ended     (const WbAppBenchLoad *load, guint sample, const WbAppBenchLife *life);
/* At that moment; fit_at: end of the cure or of cooling, unknown where nothing waits. */
WbAppBenchState wb_app_bench_life_get_state    (const WbAppBenchLoad *load, guint sample, const WbAppBenchLife *life, WbInstant now, WbInstant *fit_at);
/* So long after it was lit it is out, and its wax has not set or has not cooled for as long as the protocol asks. Unknown: no. */
gboolean        wb_app_bench_life_is_cooling   (const WbAppBenchLoad *load, const WbAppBenchLife *life, gint64 elapsed_us);
/* When its scent may be judged, however often it has burnt; unknown: the wax does not say. */
WbInstant       wb_app_bench_life_get_smell_at (const WbAppBenchLoad *load, guint sample);
WbStage         wb_app_bench_life_get_stage    (const WbAppBenchLoad *load, const WbAppBenchLife *life);
/* Only a standard or an untrimmed burn has the protocol's length; of a sample that was lit. */
gboolean        wb_app_bench_life_has_length   (const WbAppBenchLife *life);
/* Seconds between readings now: the protocol's for the stage, shorter in the last inch and where a limit is near or was crossed. */
double          wb_app_bench_life_get_interval_s (const WbAppBenchLoad *load, const WbAppBenchLife *life);
/* Seconds after lighting at which the next reading is due; G_MAXINT: none is asked. Of a sample that was lit. */
gint64          wb_app_bench_life_get_due_s    (const WbAppBenchLoad *load, const WbAppBenchLife *life);

/* All trends of the burn that is alight; looks are its rows. Caller unrefs. */
GArray         *wb_app_bench_find_trends       (const WbAppBenchLoad *load, const WbAppBenchLife *life);
/* Minutes for which that burn of the data set was alight, as far as it was read; NAN: not known. */
double          wb_app_bench_sample_get_alight_min (WbAppBenchSample *self, guint burn);
/* wb_app_bench_life_get_rounds of a sample that was lit. */
WbCraftTrendRounds wb_app_bench_sample_get_rounds (WbAppBenchSample *self);

G_END_DECLS
