/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-bench-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

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

  /* Translators: what a limit is about, and the number of the wick: "flame height, wick 2". */
  return isnan (wick) ? g_strdup (label) : g_strdup_printf (_("%s, wick %d"), label, (int) wick);
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

  if (isnan (value) || (level == WB_CRAFT_OVER && limit->stop_at == 0))
    return g_strdup_printf (_("%s: none is allowed"), label);
  seen = wb_quantity_format (unit, value, -1);
  bound = wb_quantity_format (unit, level == WB_CRAFT_OVER ? limit->stop_at : limit->ask_at, -1);
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
      return hit->level == WB_CRAFT_OVER ? 2 : 3;
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
  GPtrArray *hits = g_ptr_array_new_with_free_func (hit_free);

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

/* TRUE: the one is the worse hit of a limit; an event without a value is as bad as can be. */
static gboolean
is_worse (const WbAppBenchHit *one,
          const WbAppBenchHit *other)
{
  if (one->level != other->level)
    return one->level == WB_CRAFT_OVER;
  return one->value > other->value || (isnan (one->value) && !isnan (other->value));
}

/* Of each limit the worst hit stays. Takes `more`. */
static void
merge (GPtrArray *hits,
       GPtrArray *more)
{
  g_autoptr (GPtrArray) taken = more;

  while (taken->len > 0)
    {
      WbAppBenchHit *hit = g_ptr_array_steal_index (taken, 0);
      guint at = 0;

      while (at < hits->len && ((const WbAppBenchHit *) g_ptr_array_index (hits, at))->limit != hit->limit)
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

GPtrArray *
wb_app_bench_check_readings (WbAppBenchSample *sample,
                             const GPtrArray  *readings)
{
  GPtrArray *hits = g_ptr_array_new_with_free_func (hit_free);

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (sample) && readings != NULL, hits);

  for (guint i = 0; i < readings->len; i++)
    merge (hits, wb_app_bench_check_values (sample, ((const WbReading *) g_ptr_array_index (readings, i))->values));
  return hits;
}

GPtrArray *
wb_app_bench_check_last (const WbDataset *data,
                         guint            burn,
                         gboolean         us_units)
{
  GPtrArray *hits = g_ptr_array_new_with_free_func (hit_free);
  double values[WB_N_COLUMNS];
  guint first, n;

  wb_app_bench_get_last_moment (data->readings, burn, &first, &n);
  for (guint row = first; row < first + n; row++)
    {
      wb_readings_get_values (data->readings, row, values);
      merge (hits, wb_app_bench_check (data->limits, values, us_units));
    }
  return hits;
}
