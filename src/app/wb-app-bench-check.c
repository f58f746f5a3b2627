/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-bench-private.h"

#include "wb-clock.h"
#include "wb-craft-logger.h"
#include "wb-craft-trend.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* What is done before a limit is passed, by hazard; the time of the next look is said before it. */
static const char *
get_advice_soon (WbLimitKind kind)
{
  if (kind == WB_LIMIT_VESSEL || kind == WB_LIMIT_BASE)
    return _("Stay in the room and do not touch the vessel. Over the limit: snuff it with a long tool; do not carry it.");
  return _("Stay in the room, with the long tool beside it, and shut out any draught. Over the limit: snuff it; do not carry it.");
}

/* What a limit says to do at once, by hazard; in the order in which hands would need it. */
static const char *
get_advice (WbLimitKind       kind,
            WbCraftLimitLevel level)
{
  switch (kind)
    {
    case WB_LIMIT_SECONDARY_IGNITION:
      return _("Smother it with a metal lid. No water, do not blow, do not move it. "
               "If it does not go out, leave and call the fire service.");
    case WB_LIMIT_VESSEL_CRACK:
    case WB_LIMIT_TIPPED:
      return _("Do not lift it. Put it out only if that needs no reaching over it; keep away until the wax is set.");
    case WB_LIMIT_AFTERGLOW:
      return _("Stay until no wick glows.");
    case WB_LIMIT_FLAME:
    case WB_LIMIT_FLAME_HOUSE:
    case WB_LIMIT_VESSEL:
    case WB_LIMIT_BASE:
    case WB_LIMIT_FLAME_ON_WALL:
    case WB_LIMIT_FLAMES_MERGED:
    case WB_LIMIT_SURFACE_DAMAGED:
    case WB_LIMIT_BLACK_SMOKE:
      break;
    case WB_N_LIMITS:
    default:
      g_return_val_if_reached ("");
    }
  if (level == WB_CRAFT_SOON)
    return get_advice_soon (kind);
  return level == WB_CRAFT_OVER ? _("Snuff it now, with a long tool. Do not carry it.")
                                : _("Stay with it and read it again soon.");
}

/* The value that a limit watches; NAN where the reading has none. */
static double
watched_value (WbLimitKind  kind,
               const double values[WB_N_COLUMNS])
{
  switch (kind)
    {
    case WB_LIMIT_FLAME:
    case WB_LIMIT_FLAME_HOUSE:
      return fmax (values[WB_COLUMN_FLAME_MM], values[WB_COLUMN_FLAME_MAX_MM]);
    case WB_LIMIT_VESSEL:
      return values[WB_COLUMN_VESSEL_C];
    case WB_LIMIT_BASE:
      return values[WB_COLUMN_BASE_C];
    default:
      return values[WB_COLUMN_EVENT_S];
    }
}

static WbUnit
shown_unit (WbUnit   stored,
            gboolean us_units)
{
  if (us_units && stored == WB_UNIT_CELSIUS)
    return WB_UNIT_FAHRENHEIT;
  if (us_units && stored == WB_UNIT_MM)
    return WB_UNIT_INCH;
  return stored;
}

/* Of a reading at one wick of several with its number. Caller frees. */
static char *
dup_label (WbLimitKind kind,
           double      wick)
{
  const char *label = _(wb_limit_kind_get_label (kind));

  /* Translators: the number of one wick of several, and what a limit is about; a value follows: "wick 2, flame height". */
  return isnan (wick) ? g_strdup (label) : g_strdup_printf (_("wick %d, %s"), (int) wick, label);
}

/* More places than any instrument has: what is equal there is equal. */
#define MOST_DECIMALS 3

/*
 * Both in so many places that they read apart, where they are: "60.04 °C" and "60.00 °C", not twice "60.0 °C". FALSE: the value
 * stands at the bound, as near as anybody can read.
 */
static gboolean
format_apart (WbUnit unit,
              double value,
              double bound,
              char **seen,
              char **bound_text)
{
  for (int decimals = wb_unit_get_decimals (unit); decimals <= MOST_DECIMALS; decimals++)
    {
      g_autofree char *one = wb_quantity_format (unit, value, decimals), *other = wb_quantity_format (unit, bound, decimals);

      if (g_str_equal (one, other))
        continue;
      *seen = g_steal_pointer (&one);
      *bound_text = g_steal_pointer (&other);
      return TRUE;
    }
  *seen = wb_quantity_format (unit, value, -1);
  *bound_text = wb_quantity_format (unit, bound, -1);
  return FALSE;
}

char *
wb_app_bench_dup_hit_text (const WbLimit    *limit,
                           WbCraftLimitLevel level,
                           const double      values[WB_N_COLUMNS],
                           gboolean          us_units)
{
  /* That it is the house's own limit is said behind the value. */
  WbLimitKind told = limit->kind == WB_LIMIT_FLAME_HOUSE ? WB_LIMIT_FLAME : (WbLimitKind) limit->kind;
  g_autofree char *label = dup_label (told, values[WB_COLUMN_WICK_NUMBER]);
  WbUnit unit = shown_unit (wb_limit_kind_get_unit (limit->kind), us_units);
  double value = watched_value (limit->kind, values);
  g_autofree char *seen = NULL, *bound = NULL;
  gboolean apart;

  if (isnan (value) || (level == WB_CRAFT_OVER && limit->stop_at == 0))
    return g_strdup_printf (_("%s: none is allowed"), label);
  apart = format_apart (unit, value, level == WB_CRAFT_OVER ? limit->stop_at : limit->ask_at, &seen, &bound);
  if (level == WB_CRAFT_NEAR && !apart)
    /* Translators: what, the mark, which it has come to: "outside wall of the vessel: at the mark of 60 °C, near its limit". */
    return g_strdup_printf (_("%s: at the mark of %s, near its limit"), label, bound);
  if (level == WB_CRAFT_NEAR)
    /* Translators: what, how much, the mark: "outside wall of the vessel 64 °C: above the mark of 60 °C, near its limit". */
    return g_strdup_printf (_("%s %s: above the mark of %s, near its limit"), label, seen, bound);
  return g_strdup_printf (limit->house ? _("%s %s: over the house limit of %s") : _("%s %s: over the limit of %s"), label, seen, bound);
}

static void
hit_free (gpointer data)
{
  WbAppBenchHit *self = data;

  g_free (self->text);
  g_free (self->advice);
  g_free (self);
}

GPtrArray *
wb_app_bench_hits_new (void)
{
  return g_ptr_array_new_with_free_func (hit_free);
}

/* Fire before glass before the rest: whose advice has to be read first. */
static int
urgency (const WbAppBenchHit *hit)
{
  switch (hit->limit->kind)
    {
    case WB_LIMIT_SECONDARY_IGNITION:
      return 0;
    case WB_LIMIT_VESSEL_CRACK:
    case WB_LIMIT_TIPPED:
      return 1;
    default:
      return hit->level == WB_CRAFT_OVER ? 2 : hit->level == WB_CRAFT_SOON ? 3 : 4;
    }
}

static int
compare_hits (gconstpointer a,
              gconstpointer b)
{
  return urgency (*(WbAppBenchHit *const *) a) - urgency (*(WbAppBenchHit *const *) b);
}

GPtrArray *
wb_app_bench_check (const GPtrArray *limits,
                    const double     values[WB_N_COLUMNS],
                    gboolean         us_units)
{
  g_autoptr (GArray) found = wb_craft_limits_check_reading (limits, values);
  GPtrArray *hits = wb_app_bench_hits_new ();

  for (guint i = 0; i < found->len; i++)
    {
      const WbCraftLimitHit *item = &g_array_index (found, WbCraftLimitHit, i);
      WbAppBenchHit *hit = g_new0 (WbAppBenchHit, 1);

      hit->limit = g_ptr_array_index (limits, item->limit);
      hit->level = item->level;
      hit->value = watched_value (hit->limit->kind, values);
      hit->text = wb_app_bench_dup_hit_text (hit->limit, hit->level, values, us_units);
      hit->advice = g_strdup (get_advice (hit->limit->kind, hit->level));
      g_ptr_array_add (hits, hit);
    }
  g_ptr_array_sort (hits, compare_hits);
  return hits;
}

GPtrArray *
wb_app_bench_check_logger (const GPtrArray    *limits,
                           const WbAttachment *logger,
                           gboolean            us_units)
{
  double values[WB_N_COLUMNS];
  GPtrArray *hits;

  wb_craft_logger_get_values (logger, values);
  hits = wb_app_bench_check (limits, values, us_units);
  for (guint i = hits->len; i > 0; i--)
    {
      WbAppBenchHit *hit = g_ptr_array_index (hits, i - 1);
      g_autofree char *text = NULL, *minute = NULL;

      if (hit->level != WB_CRAFT_OVER)
        {
          g_ptr_array_remove_index (hits, i - 1);
          continue;
        }
      text = hit->text;
      minute = wb_number_format_trimmed (hit->limit->kind == WB_LIMIT_BASE ? logger->base_min : logger->wall_min, 1, NULL);
      /* Translators: a limit with its value and bound; a minute of the burn. */
      hit->text = g_strdup_printf (_("%s, at %s min in its logger's file"), text, minute);
    }
  return hits;
}

/* That one wick of a limit is over it says nothing of what another, or the same at a later look, soon may be; that one is near it is in both. */
static gboolean
is_same_question (const WbAppBenchHit *one,
                  const WbAppBenchHit *other)
{
  return one->limit == other->limit
         && ((one->level == WB_CRAFT_SOON) == (other->level == WB_CRAFT_SOON) || one->level == WB_CRAFT_NEAR || other->level == WB_CRAFT_NEAR);
}

/* TRUE: the one is the worse hit of a limit; an event without a value is as bad as can be. */
static gboolean
is_worse (const WbAppBenchHit *one,
          const WbAppBenchHit *other)
{
  if (one->level != other->level)
    return one->level > other->level;
  return one->value > other->value || (isnan (one->value) && !isnan (other->value));
}

void
wb_app_bench_merge_hits (GPtrArray *hits,
                         GPtrArray *more)
{
  g_autoptr (GPtrArray) taken = more;

  while (taken->len > 0)
    {
      WbAppBenchHit *hit = g_ptr_array_steal_index (taken, 0);
      guint at = 0;

      while (at < hits->len && !is_same_question (g_ptr_array_index (hits, at), hit))
        at++;
      if (at == hits->len)
        {
          g_ptr_array_add (hits, hit);
        }
      else if (is_worse (hit, g_ptr_array_index (hits, at)))
        {
          hit_free (g_ptr_array_index (hits, at));
          g_ptr_array_index (hits, at) = hit;
        }
      else
        {
          hit_free (hit);
        }
    }
  g_ptr_array_sort (hits, compare_hits);
}

/* Time of day of a minute of the burn. */
static char *
dup_time (WbInstant lit_at,
          double    minute)
{
  return wb_instant_format_time (wb_clock_at (wb_clock_get (), lit_at.utc_us + (gint64) (minute * 60 * G_USEC_PER_SEC)));
}

/* What a limit soon may be: `rise`, `over` and `until` as they are to stand there. Caller frees. */
static char *
dup_trend_text (const WbLimit *limit,
                double         value,
                double         wick,
                gboolean       us_units,
                const char    *rise,
                const char    *over,
                const char    *until)
{
  WbLimitKind told = limit->kind == WB_LIMIT_FLAME_HOUSE ? WB_LIMIT_FLAME : (WbLimitKind) limit->kind;
  g_autofree char *label = dup_label (told, wick);
  WbUnit unit = shown_unit (wb_limit_kind_get_unit (limit->kind), us_units);
  g_autofree char *seen = wb_quantity_format (unit, value, -1), *bound = wb_quantity_format (unit, limit->stop_at, -1);

  return g_strdup_printf (limit->house
                            /* Translators: what, how much, by how much it rose, in which time, the limit, a time of day. */
                            ? _("%s %s, up %s in %s: may pass the house limit of %s before %s")
                            : _("%s %s, up %s in %s: may pass the limit of %s before %s"),
                          label, seen, rise, over, bound, until);
}

static void
tell_trend (WbAppBenchHit      *hit,
            const WbCraftTrend *trend,
            double              wick,
            WbInstant           lit_at,
            gboolean            us_units)
{
  WbUnit unit = shown_unit (wb_limit_kind_get_unit (hit->limit->kind), us_units);
  WbUnit apart = unit == WB_UNIT_CELSIUS ? WB_UNIT_KELVIN_DIFFERENCE : unit == WB_UNIT_FAHRENHEIT ? WB_UNIT_FAHRENHEIT_DIFFERENCE : unit;
  g_autofree char *rise = wb_quantity_format (apart, trend->rise, -1), *over = wb_quantity_format_duration (round (trend->over_min) * 60);
  g_autofree char *until = dup_time (lit_at, trend->until_min), *again = dup_time (lit_at, trend->again_min);

  hit->level = WB_CRAFT_SOON;
  hit->value = trend->value;
  g_free (hit->text);
  g_free (hit->advice);
  hit->text = dup_trend_text (hit->limit, trend->value, wick, us_units, rise, over, until);
  /* Translators: a time of day, then what to do. */
  hit->advice = g_strdup_printf (_("Read it again at %s. %s"), again, get_advice (hit->limit->kind, WB_CRAFT_SOON));
}

/* The pieces of `text` between gaps stand in `said`, one behind the other. */
#define GAP "\x01"

static gboolean
stands_in (const char *text,
           const char *said)
{
  g_auto (GStrv) pieces = g_strsplit (text, GAP, -1);

  for (guint i = 0; pieces[i] != NULL; i++)
    {
      said = strstr (said, pieces[i]);
      if (said == NULL)
        return FALSE;
      said += strlen (pieces[i]);
    }
  return TRUE;
}

gboolean
wb_app_bench_is_told (const WbAppBenchHit *hit,
                      const double         values[WB_N_COLUMNS],
                      const char          *said)
{
  for (guint us_units = 0; us_units < 2; us_units++)
    {
      g_autofree char *text = hit->level == WB_CRAFT_SOON
                                ? dup_trend_text (hit->limit, hit->value, values[WB_COLUMN_WICK_NUMBER], us_units, GAP, GAP, GAP)
                                : wb_app_bench_dup_hit_text (hit->limit, hit->level, values, us_units);

      if (stands_in (text, said))
        return TRUE;
    }
  return FALSE;
}

gboolean
wb_app_bench_is_fire_or_glass (const WbAppBenchHit *hit)
{
  return urgency (hit) <= 1;
}

static WbAppBenchHit *
find_hit (GPtrArray     *hits,
          const WbLimit *limit)
{
  for (guint i = 0; i < hits->len; i++)
    if (((WbAppBenchHit *) g_ptr_array_index (hits, i))->limit == limit)
      return g_ptr_array_index (hits, i);
  return NULL;
}

GPtrArray *
wb_app_bench_check_look (const GPtrArray *limits,
                         const double     values[WB_N_COLUMNS],
                         const GArray    *trends,
                         guint            look,
                         WbInstant        lit_at,
                         gboolean         us_units)
{
  GPtrArray *hits = wb_app_bench_check (limits, values, us_units);

  for (guint i = 0; trends != NULL && i < trends->len; i++)
    {
      const WbCraftTrend *trend = &g_array_index (trends, WbCraftTrend, i);
      WbAppBenchHit *hit;

      if (trend->look != look || trend->lapsed)
        continue;
      hit = find_hit (hits, g_ptr_array_index (limits, trend->limit));
      if (hit == NULL)
        {
          hit = g_new0 (WbAppBenchHit, 1);
          hit->limit = g_ptr_array_index (limits, trend->limit);
          g_ptr_array_add (hits, hit);
        }
      tell_trend (hit, trend, values[WB_COLUMN_WICK_NUMBER], lit_at, us_units);
    }
  g_ptr_array_sort (hits, compare_hits);
  return hits;
}

GPtrArray *
wb_app_bench_check_last (const WbDataset *data,
                         guint            burn,
                         const GArray    *trends,
                         WbInstant        lit_at,
                         gboolean         us_units)
{
  GPtrArray *hits = wb_app_bench_hits_new ();
  double values[WB_N_COLUMNS];
  guint first_of_burn, n_of_burn, first, n;

  wb_readings_get_burn_rows (data->readings, burn, &first_of_burn, &n_of_burn);
  wb_app_bench_get_last_moment (data->readings, burn, &first, &n);
  for (guint row = first; row < first + n; row++)
    {
      wb_readings_get_values (data->readings, row, values);
      wb_app_bench_merge_hits (hits, wb_app_bench_check_look (data->limits, values, trends, row - first_of_burn, lit_at, us_units));
    }
  return hits;
}
