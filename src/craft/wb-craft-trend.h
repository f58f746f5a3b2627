/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-experiment.h"
#include "wb-reading.h"

G_BEGIN_DECLS

/*
 * Where a flame or a temperature is going: whether it may be over its limit
 * before anybody looks again. Told from the readings of one burn alone, at once
 * after each; nothing is stored, so that the record tells it again as it was.
 */

/* One look at a burn. */
typedef struct
{
  double        elapsed_min;
  const double *values;       /* WB_N_COLUMNS, borrowed */
} WbCraftTrendLook;

/* When it is looked at. Minutes. */
typedef struct
{
  double interval_min; /* between readings, as the protocol asks; NAN or 0: none is asked, and nothing is foretold */
  double close_min;    /* between readings of a candle that is watched */
  double length_min;   /* the burn's stated length, at which it is read, too; NAN: it has none */
  double close_from_min; /* from this minute on it is read every close_min, and at it: its last inch; NAN: never */
} WbCraftTrendRounds;

/* A limit that is not passed and may be before the next reading. Values in the limit's stored unit. */
typedef struct
{
  guint  look;       /* which of the looks tells it */
  guint  limit;      /* index in the limits */
  double value;      /* as read then */
  double rise;       /* less the look before of the same thing */
  double over_min;   /* minutes between the two */
  double until_min;  /* minute of the next reading, for which it was foretold */
  double foretold;   /* at that minute */
  double sd;         /* of it: the reader's error, and how little is known of its course */
  double chance;     /* of being over the limit at that minute, 0 to 1 */
  double again_min;  /* minute at which it is to be read again: before it is likely to pass the limit */
  gboolean lapsed;   /* a later look has read the same at the same wick: what comes now is told by that one */
} WbCraftTrend;

/* The minute of the reading after one at last_min (NAN: none yet), counted from lighting; watched: every close_min. A reading counts as a round's that is at most a quarter of the interval early: a round of twelve takes 12
 * to 15 min of an hour (common practice, no source). NAN: none is asked. */
double  wb_craft_trend_next_min (const WbCraftTrendRounds *rounds, double last_min, gboolean watched);

/*
 * All trends of one burn, limit by limit, each in order of its looks: WbCraftTrend. looks: of that burn, by minute. What has been
 * foretold once and is near its limit is read every close_min, and told again only where that is too late; one that has come away
 * from its limit is read by the rounds again, and told by them. Each wick for itself. Caller unrefs.
 */
GArray *wb_craft_trends_find    (const GPtrArray *limits, const WbCraftTrendLook *looks, guint n, const WbCraftTrendRounds *rounds);

G_END_DECLS
