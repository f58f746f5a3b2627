/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-trend.h"

#include "wb-calc-quantile.h"
#include "wb-craft-limits-private.h"
#include "wb-craft-scale-private.h"

#include <math.h>

/*
 * Two courses are laid through the last readings by least squares: straight on, and
 * easing off as what warms up does,
 *
 *   y (t) = a + b u (t)   with   u (t) = t   and   u (t) = tau (1 - exp (-t / tau)),
 *
 * tau 2 h (common practice, no source: hourly steps of a wall that warms are about 0.6
 * of the one before). What is foretold is the middle of the two; they lie two standard
 * deviations of not knowing the course apart. The reader's error, which is known, makes
 * the rest of the variance: s^2 (1/n + (u - mean u)^2 / sum (u_i - mean u)^2).
 *
 * Rule: a limit is told of where the candle climbs by more than readers err, one-sided
 * 95 of 100, and is over it at the next reading with a chance of one in three or more.
 * To look once more costs a minute, a flame over its limit that nobody sees for an hour
 * may cost a house: so the chance is below a half; and a hint that is nearly always
 * wrong is not heeded for long: so it is no lower. In tests/bench/test-trend.c, which
 * counts both kinds of error, one in seven sees no twentieth more of what comes, and is
 * wrong half as often again. Two readings are needed, and none of the first minutes, in
 * which every flame grows.
 */
#define CHANCE (1 / 3.0)
#define TOLD 1.645        /* standard deviations by which the climb stands out */
#define EASING_MIN 120.0
#define WINDOW_MIN 90.0   /* how far back a course is followed, but for the look before the last */
#define FIRST_MIN 10.0
/* Of looks so near to each other the last counts: a ruler held twice to one flame is no trend. */
#define ONE_LOOK_MIN 5.0
/* A ruler beside a flame, an infrared thermometer aimed by hand: never better than this. Common practice, no source. */
#define LEAST_ERROR_MM 1.0
#define LEAST_ERROR_K 1.0
/* A wall's error goes by its rise over the room; here the room is taken for 22 °C, the middle of what tests ask. */
#define ROOM_C 22.0
#define EARLY_SHARE 0.25
/* Nobody reads a candle more often than this. */
#define SOONEST_MIN 5.0

/* A moment of its own between two readings. */
static double
stop_at (double next,
         double last,
         double stop)
{
  return last < stop && next > stop ? stop : next;
}

double
wb_craft_trend_next_min (const WbCraftTrendRounds *rounds,
                         double                    last_min,
                         gboolean                  watched)
{
  double last = isnan (last_min) ? 0 : last_min, interval = rounds->interval_min;

  if (watched || last >= rounds->close_from_min)
    interval = interval > 0 ? fmin (interval, rounds->close_min) : rounds->close_min;
  if (!(interval > 0))
    return last < rounds->close_from_min ? rounds->close_from_min : NAN;
  return stop_at (stop_at ((floor (last / interval + EARLY_SHARE) + 1) * interval, last, rounds->length_min), last, rounds->close_from_min);
}

static gboolean
is_followed (const WbLimit *limit)
{
  switch ((WbLimitKind) limit->kind)
    {
    case WB_LIMIT_FLAME:
    case WB_LIMIT_FLAME_HOUSE:
    case WB_LIMIT_VESSEL:
    case WB_LIMIT_BASE:
      return !limit->off;
    default:
      return FALSE;
    }
}

/* Standard deviation of a reading: the share that the figure's estimates rest on, but never better than the tool. */
static double
get_error (const WbLimit *limit,
           double         value)
{
  if (limit->kind == WB_LIMIT_VESSEL || limit->kind == WB_LIMIT_BASE)
    return fmax (LEAST_ERROR_K, wb_craft_scale_get_prior (WB_FIGURE_VESSEL).reader_sd * (value - ROOM_C));
  return fmax (LEAST_ERROR_MM, wb_craft_scale_get_prior (WB_FIGURE_FLAME).reader_sd * value);
}

typedef struct
{
  double minute, value;
  double wick;
  guint  look;
} Point;

/* Where each wick is read for itself, each has a flame of its own. */
static gboolean
is_same_wick (double a,
              double b)
{
  return a == b || (isnan (a) && isnan (b));
}

static GArray *
gather (const WbLimit          *limit,
        const WbCraftTrendLook *looks,
        guint                   n)
{
  GArray *points = g_array_new (FALSE, FALSE, sizeof (Point));

  for (guint i = 0; i < n; i++)
    {
      Point point = { looks[i].elapsed_min, wb_craft_limit_value (limit, looks[i].values), looks[i].values[WB_COLUMN_WICK_NUMBER], i };

      if (!isnan (point.value) && point.minute >= FIRST_MIN)
        g_array_append_val (points, point);
    }
  return points;
}

/* The last points of a course, the newest first. Returns how many, at most `most`. */
static guint
follow_back (const GArray *points,
             guint         last,
             Point        *course,
             guint         most)
{
  guint n = 0;

  for (guint i = last + 1; i > 0; i--)
    {
      const Point *point = &g_array_index (points, Point, i - 1);

      if (!is_same_wick (point->wick, g_array_index (points, Point, last).wick))
        continue;
      if (n > 0 && course[n - 1].minute - point->minute < ONE_LOOK_MIN)
        continue;
      if (n == most || (n >= 2 && course[0].minute - point->minute > WINDOW_MIN))
        break;
      course[n++] = *point;
    }
  return n;
}

/* Minutes from the newest point on a clock that runs evenly, or slows down as the course eases. */
static double
run (double minutes,
     gboolean easing)
{
  return easing ? EASING_MIN * -expm1 (-minutes / EASING_MIN) : minutes;
}

/* The line through the points, and what it says `ahead` minutes after the newest; variance for an error of 1. */
typedef struct
{
  double slope, slope_variance;
  double ahead, ahead_variance;
} Line;

static Line
lay (const Point *course,
     guint        n,
     double       ahead_min,
     gboolean     easing)
{
  double mean_u = 0, mean_y = 0, squares = 0, products = 0, u = run (ahead_min, easing);
  Line line;

  for (guint i = 0; i < n; i++)
    {
      mean_u += run (course[i].minute - course[0].minute, easing) / n;
      mean_y += course[i].value / n;
    }
  for (guint i = 0; i < n; i++)
    {
      double off = run (course[i].minute - course[0].minute, easing) - mean_u;

      squares += off * off;
      products += off * (course[i].value - mean_y);
    }
  line.slope = products / squares;
  line.slope_variance = 1 / squares;
  line.ahead = mean_y + line.slope * (u - mean_u);
  line.ahead_variance = 1.0 / n + (u - mean_u) * (u - mean_u) / squares;
  return line;
}

/* Half of the way to where the faster course meets the limit, and no earlier than anybody would look; at most close_min. */
static double
find_again (const WbLimit *limit,
            const Line    *straight,
            double         last_min,
            double         ahead_min,
            double         close_min)
{
  double meets = ahead_min - (straight->ahead - limit->stop_at) / straight->slope;

  return last_min + CLAMP (floor (meets / 2), SOONEST_MIN, fmax (close_min, SOONEST_MIN));
}

/* FALSE: nothing is to be told of the newest of the points. */
static gboolean
foretell (const WbLimit            *limit,
          const Point              *course,
          guint                     n,
          const WbCraftTrendRounds *rounds,
          gboolean                  closely,
          WbCraftTrend             *trend)
{
  double last_min = course[0].minute, until = wb_craft_trend_next_min (rounds, last_min, closely);
  double error = get_error (limit, course[0].value), apart;
  Line straight = lay (course, n, until - last_min, FALSE), easing = lay (course, n, until - last_min, TRUE);

  /* the newest alone may be lower than the one before it, while the course of all still climbs: that is no climb */
  if (course[0].value <= course[1].value || straight.slope < TOLD * error * sqrt (straight.slope_variance))
    return FALSE;
  apart = (straight.ahead - easing.ahead) / 2;
  trend->foretold = (straight.ahead + easing.ahead) / 2;
  trend->sd = sqrt (error * error * (straight.ahead_variance + easing.ahead_variance) / 2 + apart * apart);
  trend->chance = wb_calc_normal_below ((trend->foretold - limit->stop_at) / trend->sd);
  if (trend->chance < CHANCE)
    return FALSE;
  trend->value = course[0].value;
  trend->rise = course[0].value - course[1].value;
  trend->over_min = last_min - course[1].minute;
  trend->until_min = until;
  trend->again_min = fmin (until, find_again (limit, &straight, last_min, until - last_min, rounds->close_min));
  return TRUE;
}

#define MOST_POINTS 16

/* Wicks of which a climb is told; NAN stands for the vessel's own readings. */
static gboolean
is_told (const GArray *wicks,
         double        wick)
{
  for (guint i = 0; i < wicks->len; i++)
    if (is_same_wick (g_array_index (wicks, double, i), wick))
      return TRUE;
  return FALSE;
}

static void
forget_wick (GArray *wicks,
             double  wick)
{
  for (guint i = wicks->len; i > 0; i--)
    if (is_same_wick (g_array_index (wicks, double, i - 1), wick))
      g_array_remove_index_fast (wicks, i - 1);
}

/* A forecast holds until the same is read again. */
static gboolean
is_read_later (const GArray *points,
               guint         point)
{
  for (guint i = point + 1; i < points->len; i++)
    if (is_same_wick (g_array_index (points, Point, i).wick, g_array_index (points, Point, point).wick))
      return TRUE;
  return FALSE;
}

static void
find_of_limit (const WbLimit            *limit,
               guint                     index,
               const WbCraftTrendLook   *looks,
               guint                     n,
               const WbCraftTrendRounds *rounds,
               GArray                   *trends)
{
  g_autoptr (GArray) points = gather (limit, looks, n), told = g_array_new (FALSE, FALSE, sizeof (double));

  for (guint i = 0; i < points->len; i++)
    {
      const Point *point = &g_array_index (points, Point, i);
      /* only what is near a limit is read every close_min whatever is foretold; the rest goes back to the rounds */
      gboolean near = wb_craft_limit_is_near (limit, point->value), closely = near && is_told (told, point->wick);
      Point course[MOST_POINTS];
      guint n_course;
      WbCraftTrend trend = { .limit = index };

      /* what is over it is told as that */
      if (wb_craft_limit_is_over (limit, point->value))
        continue;
      n_course = follow_back (points, i, course, MOST_POINTS);
      if (n_course < 2 || !foretell (limit, course, n_course, rounds, closely, &trend))
        {
          if (!near)
            forget_wick (told, point->wick);
          continue;
        }
      trend.look = point->look;
      trend.lapsed = is_read_later (points, i);
      if (!is_told (told, point->wick))
        g_array_append_val (told, point->wick);
      g_array_append_val (trends, trend);
    }
}

GArray *
wb_craft_trends_find (const GPtrArray          *limits,
                      const WbCraftTrendLook   *looks,
                      guint                     n,
                      const WbCraftTrendRounds *rounds)
{
  GArray *trends = g_array_new (FALSE, FALSE, sizeof (WbCraftTrend));

  g_return_val_if_fail (limits != NULL && rounds != NULL, trends);
  g_return_val_if_fail (looks != NULL || n == 0, trends);

  if (!(rounds->interval_min > 0) || !(rounds->close_min > 0))
    return trends;
  for (guint i = 0; i < limits->len; i++)
    if (is_followed (g_ptr_array_index (limits, i)))
      find_of_limit (g_ptr_array_index (limits, i), i, looks, n, rounds, trends);
  return trends;
}
