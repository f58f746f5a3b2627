/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-bench-words.h"

#include "wb-clock.h"
#include "wb-cure.h"

#include <glib/gi18n.h>
#include <math.h>

/* A round of twelve takes 12 to 15 minutes (common practice, no source): so long a reading is due before it is overdue. */
#define ROUND_S (12 * 60)

static WbBenchMood
mood_alight (WbAppBenchSample *sample)
{
  gint64 due_in_s = wb_app_bench_sample_get_due_in_s (sample);

  if (wb_app_bench_sample_get_over (sample))
    return WB_BENCH_MOOD_OVER;
  if (wb_app_bench_sample_get_stop_due (sample))
    return WB_BENCH_MOOD_STOP;
  if (due_in_s <= -ROUND_S)
    return WB_BENCH_MOOD_OVERDUE;
  if (due_in_s <= 0)
    return WB_BENCH_MOOD_DUE;
  return wb_app_bench_sample_get_alarm (sample) != NULL ? WB_BENCH_MOOD_NEAR : WB_BENCH_MOOD_ALIGHT;
}

WbBenchMood
wb_bench_words_get_mood (WbAppBenchSample *sample)
{
  const WbSample *record = wb_app_bench_sample_get_record (sample);

  switch (wb_app_bench_sample_get_state (sample))
    {
    case WB_APP_BENCH_CURING:
      return WB_BENCH_MOOD_CURING;
    case WB_APP_BENCH_COOLING:
      return WB_BENCH_MOOD_COOLING;
    case WB_APP_BENCH_CROSSED:
      return WB_BENCH_MOOD_CROSSED;
    case WB_APP_BENCH_FIT:
      return wb_app_bench_sample_get_waits_for_cohort (sample) > 0 ? WB_BENCH_MOOD_LATER : WB_BENCH_MOOD_FIT;
    case WB_APP_BENCH_ALIGHT:
      return mood_alight (sample);
    case WB_APP_BENCH_ENDED:
      return record->set_aside_cause >= 0 || record->set_aside != NULL ? WB_BENCH_MOOD_ASIDE : WB_BENCH_MOOD_ENDED;
    default:
      g_assert_not_reached ();
    }
}

WbBadgeKind
wb_bench_words_get_badge (WbBenchMood mood)
{
  switch (mood)
    {
    case WB_BENCH_MOOD_FIT:
      return WB_BADGE_GOOD;
    case WB_BENCH_MOOD_ALIGHT:
      return WB_BADGE_NOTE;
    case WB_BENCH_MOOD_NEAR:
    case WB_BENCH_MOOD_DUE:
    case WB_BENCH_MOOD_OVERDUE:
    case WB_BENCH_MOOD_STOP:
      return WB_BADGE_ASK;
    case WB_BENCH_MOOD_OVER:
    case WB_BENCH_MOOD_CROSSED:
      return WB_BADGE_STOP;
    default:
      return WB_BADGE_PLAIN;
    }
}

/* Whole minutes; a minute that has begun counts when time runs out, and does not when it has run. */
static char *
dup_minutes (double seconds)
{
  double minutes = seconds < 0 ? floor (-seconds / 60) : ceil (seconds / 60);

  if (minutes < 1)
    /* Translators: less than a minute. */
    return g_strdup (_("under a minute"));
  return wb_quantity_format_duration (minutes * 60);
}

/* Today's end of a wait by the time alone, another day's with its date, the start of a day by its date alone. */
static char *
dup_until (WbInstant instant)
{
  WbInstant now = wb_clock_now (wb_clock_get ());

  if (!instant.known || wb_instant_shows (instant, 0, 0))
    return wb_cure_format_at (instant);
  return wb_instant_get_day (now) == wb_instant_get_day (instant) ? wb_instant_format_time (instant)
                                                                  : wb_instant_format_short (instant);
}

char *
wb_bench_words_dup_until (WbAppBenchSample *sample)
{
  WbInstant fit_at = wb_app_bench_sample_get_fit_at (sample);
  g_autofree char *until = dup_until (fit_at);

  if (!fit_at.known || fit_at.utc_us <= wb_clock_now (wb_clock_get ()).utc_us)
    return g_strdup ("");
  return g_strdup_printf (_("It cools until %s."), until);
}

static char *
dup_state_ended (WbAppBenchSample *sample)
{
  if (!wb_app_bench_sample_is_weighed (sample))
    return g_strdup (_("at its end, to be weighed"));
  return g_strdup (wb_app_bench_sample_get_record (sample)->retained ? _("kept as a reference") : _("at its end"));
}

static char *
dup_state_aside (WbAppBenchSample *sample)
{
  const WbSample *record = wb_app_bench_sample_get_record (sample);
  const char *cause = record->set_aside_cause >= 0 ? _(wb_cause_words[record->set_aside_cause].label) : record->set_aside;

  return g_strdup_printf (_("set aside: %s"), cause);
}

char *
wb_bench_words_dup_state (WbAppBenchSample *sample)
{
  g_autofree char *until = dup_until (wb_app_bench_sample_get_fit_at (sample));
  gint64 due_in_s = wb_app_bench_sample_get_due_in_s (sample);
  g_autofree char *wait = due_in_s != G_MAXINT ? dup_minutes ((double) due_in_s) : NULL;

  switch (wb_bench_words_get_mood (sample))
    {
    case WB_BENCH_MOOD_CURING:
      return g_strdup_printf (_("cures until %s"), until);
    case WB_BENCH_MOOD_COOLING:
      if (wb_app_bench_sample_went_out (sample))
        /* Translators: of a candle that nobody put out; a time of day. */
        return g_strdup_printf (_("went out by itself, cools until %s"), until);
      return g_strdup_printf (_("cools until %s"), until);
    case WB_BENCH_MOOD_CROSSED:
      if (wb_app_bench_sample_get_cracked_burn (sample) > 0)
        /* Translators: of a candle; the number of a burn. */
        return g_strdup_printf (_("vessel cracked in burn %d"), wb_app_bench_sample_get_cracked_burn (sample));
      /* Translators: of a candle that is out; the number of a burn. */
      return g_strdup_printf (_("over a limit in burn %d"), wb_app_bench_sample_get_crossed_burn (sample));
    case WB_BENCH_MOOD_FIT:
      return g_strdup (_("fit to light"));
    case WB_BENCH_MOOD_LATER:
      /* Translators: of a candle whose turn comes later; the number of those with which it burns. */
      return g_strdup_printf (_("waits for cohort %d"), (int) wb_app_bench_sample_get_waits_for_cohort (sample));
    case WB_BENCH_MOOD_NEAR:
      return g_strdup_printf (_("watch: %s"), wait != NULL ? wait : "–");
    case WB_BENCH_MOOD_DUE:
      return g_strdup (_("reading due"));
    case WB_BENCH_MOOD_OVERDUE:
      return g_strdup_printf (_("overdue %s"), wait);
    case WB_BENCH_MOOD_STOP:
      return g_strdup (_("time to snuff"));
    case WB_BENCH_MOOD_OVER:
      return g_strdup (_("over a limit"));
    case WB_BENCH_MOOD_ENDED:
      return dup_state_ended (sample);
    case WB_BENCH_MOOD_ASIDE:
      return dup_state_aside (sample);
    case WB_BENCH_MOOD_ALIGHT:
    default:
      return wait != NULL ? g_strdup_printf (_("next in %s"), wait) : g_strdup (_("alight"));
    }
}

char *
wb_bench_words_dup_last_inch (WbAppBenchSample *sample)
{
  const WbProtocol *protocol = wb_app_bench_sample_get_protocol (sample);
  double at_min = wb_app_bench_sample_get_last_inch_min (sample), close_s = protocol->last_inch_interval_s;
  g_autofree char *interval = wb_quantity_format_duration (close_s > 0 ? close_s : 15 * 60), *when = NULL;

  if (wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ENDED)
    return NULL;
  if (wb_app_bench_sample_is_last_inch (sample))
    /* Translators: a time, such as "15 min". */
    return g_strdup_printf (_("In its last inch: read it every %s, wall and base, with someone in the room. Snuff it at the stated end."), interval);
  /* Not known: NAN compares as false. */
  if (!(at_min < protocol->burn_s / 60))
    return NULL;
  /* Nobody foretells it to the minute. */
  when = wb_quantity_format_duration (fmax (floor (at_min / 5) * 5, 5) * 60);
  /* Translators: two times, "2 h 40 min" and "15 min". */
  return g_strdup_printf (_("It comes into its last inch at about %s of this burn: from then on read it every %s, wall and base, with someone in the room. "
                            "Snuff it at the stated end."), when, interval);
}

char *
wb_bench_words_dup_deviations (WbAppBenchSample *sample)
{
  g_autoptr (GArray) found = wb_app_bench_sample_dup_deviations (sample);
  GString *text;

  if (found->len == 0)
    return NULL;
  text = g_string_new (_("Noted as deviations:"));
  for (guint i = 0; i < found->len; i++)
    {
      g_autofree char *one = wb_craft_deviation_dup_text (&g_array_index (found, WbCraftDeviation, i));

      g_string_append_printf (text, i == 0 ? " %s" : "; %s", one);
    }
  return g_string_free (text, FALSE);
}

char *
wb_bench_words_dup_room (WbAppBench *bench,
                         gboolean    us_units)
{
  WbUnit unit = wb_quantity_get_shown_unit (WB_QUANTITY_TEMPERATURE, us_units);
  GString *text = g_string_new (NULL);
  WbAppBenchClimate room;

  if (wb_app_bench_get_climate (bench, &room))
    {
      g_autofree char *last = wb_quantity_format (unit, isnan (room.last_c) ? room.high_c : room.last_c, -1);
      g_autofree char *low = wb_quantity_format_number (unit, room.low_c, -1), *high = wb_quantity_format (unit, room.high_c, -1);

      if (room.low_c == room.high_c)
        g_string_append_printf (text, _("Room %s"), last);
      else
        /* Translators: the newest temperature, the lowest and the highest: "Room 22.0 °C (20.5 to 23.0 °C)". */
        g_string_append_printf (text, _("Room %s (%s to %s)"), last, low, high);
      if (room.outside)
        g_string_append (text, _(", outside the protocol's range: noted as a deviation"));
    }
  if (room.draught)
    g_string_append (text, text->len > 0 ? _(", draught noted") : _("Draught noted"));
  return g_string_free (text, FALSE);
}

char *
wb_bench_words_dup_time (WbAppBenchSample *sample)
{
  gint64 elapsed_s = wb_app_bench_sample_get_elapsed_s (sample);
  g_autofree char *time = NULL;

  if (wb_app_bench_sample_get_state (sample) != WB_APP_BENCH_ALIGHT)
    return g_strdup ("");
  time = elapsed_s < 60 ? g_strdup (_("just lit")) : wb_quantity_format_duration ((double) (elapsed_s / 60 * 60));
  return g_steal_pointer (&time);
}

/* " +4" in the unit of the value before it; "" where it is not known. */
static char *
dup_change (WbUnit unit,
            double change,
            int    decimals)
{
  g_autofree char *number = NULL;

  if (isnan (change))
    return g_strdup ("");
  /* A difference: the zero of the scale is not in it. */
  if (unit == WB_UNIT_FAHRENHEIT)
    change *= 9.0 / 5.0;
  else if (unit != WB_UNIT_CELSIUS)
    change = wb_unit_from_stored (unit, change);
  number = wb_number_format (change, decimals < 0 ? wb_unit_get_decimals (unit) : decimals, NULL);
  return g_strconcat (" ", *number != '-' ? "+" : "", number, NULL);
}

static char *
dup_value (WbColumn column,
           double   value,
           gboolean us_units)
{
  const WbColumnSpec *spec = wb_column_get_spec (column);
  WbUnit unit = wb_quantity_get_shown_unit (spec->quantity, us_units);

  if (isnan (value))
    return NULL;
  if (spec->words != NULL)
    return g_strdup (_(spec->words[(int) value].label));
  return wb_quantity_format (unit, value, -1);
}

/* At a glance whole millimetres and degrees do; inches keep their places. */
static int
glance_decimals (WbUnit unit)
{
  return unit == WB_UNIT_INCH ? -1 : 0;
}

char *
wb_bench_words_dup_pool (WbAppBenchSample *sample,
                         gboolean          us_units)
{
  WbUnit unit = wb_quantity_get_shown_unit (WB_QUANTITY_LENGTH, us_units);
  g_autofree char *size = NULL;
  g_autofree char *change = NULL;
  double change_mm;
  WbPool pool;

  if (!wb_app_bench_sample_get_pool (sample, &pool, &change_mm))
    return g_strdup ("");
  if (pool.both_at_wall)
    return g_strdup (_("pool full"));
  size = wb_quantity_format (unit, pool.diameter_mm, glance_decimals (unit));
  change = dup_change (unit, change_mm, glance_decimals (unit));
  return g_strdup_printf (_("pool %s%s"), size, change);
}

char *
wb_bench_words_dup_figure (WbAppBenchSample *sample,
                           WbColumn          column,
                           gboolean          us_units)
{
  WbUnit unit = wb_quantity_get_shown_unit (wb_column_get_spec (column)->quantity, us_units);
  WbColumn read = column;
  g_autofree char *size = NULL;
  g_autofree char *change = NULL;
  double value;

  g_return_val_if_fail (column == WB_COLUMN_FLAME_MM || column == WB_COLUMN_VESSEL_C, NULL);

  /* Where a round asks for the highest flame, that is the flame. */
  if (column == WB_COLUMN_FLAME_MM && isnan (wb_app_bench_sample_get_last (sample, column)))
    read = WB_COLUMN_FLAME_MAX_MM;
  value = wb_app_bench_sample_get_last (sample, read);
  if (isnan (value))
    return g_strdup ("");
  size = wb_quantity_format (unit, value, glance_decimals (unit));
  change = dup_change (unit, wb_app_bench_sample_get_change (sample, read), glance_decimals (unit));
  return g_strdup_printf (column == WB_COLUMN_FLAME_MM ? _("flame %s%s") : _("wall %s%s"), size, change);
}

static gboolean
is_pool (WbColumn column)
{
  return column == WB_COLUMN_POOL_MM || column == WB_COLUMN_POOL_A_MM || column == WB_COLUMN_POOL_B_MM;
}

char *
wb_bench_words_dup_last (WbAppBenchSample *sample,
                         guint             wick,
                         WbColumn          column,
                         gboolean          us_units)
{
  const WbColumnSpec *spec = wb_column_get_spec (column);
  WbUnit unit = wb_quantity_get_shown_unit (spec->quantity, us_units);
  double change = NAN;
  g_autofree char *value = NULL;
  g_autofree char *moved = NULL;
  WbPool pool;

  if (is_pool (column))
    {
      if (!wb_app_bench_sample_get_pool (sample, &pool, &change))
        return g_strdup ("");
      value = pool.both_at_wall ? g_strdup (_("full")) : wb_quantity_format (unit, pool.diameter_mm, -1);
    }
  else
    {
      double last = wick > 0 ? wb_app_bench_sample_get_wick_last (sample, wick, column, &change)
                             : wb_app_bench_sample_get_last (sample, column);

      value = dup_value (column, last, us_units);
      if (spec->words != NULL)
        change = NAN;
      else if (wick == 0)
        change = wb_app_bench_sample_get_change (sample, column);
    }
  if (value == NULL)
    return g_strdup ("");
  moved = dup_change (unit, change, -1);
  return g_strconcat (value, moved, NULL);
}

static void
append_out (GString          *text,
            WbAppBenchSample *sample)
{
  guint out = wb_app_bench_sample_get_wicks_out (sample);

  for (guint i = 0; i < wb_app_bench_sample_get_n_wicks (sample); i++)
    if ((out & (1u << i)) != 0)
      g_string_append_printf (text, _(", wick %u is out"), i + 1);
}

char *
wb_bench_words_dup_spoken (WbAppBenchSample *sample,
                           gboolean          us_units)
{
  g_autofree char *state = wb_bench_words_dup_state (sample);
  g_autofree char *time = wb_bench_words_dup_time (sample);
  g_autofree char *pool = wb_bench_words_dup_pool (sample, us_units);
  g_autofree char *flame = wb_bench_words_dup_figure (sample, WB_COLUMN_FLAME_MM, us_units);
  g_autofree char *wall = wb_bench_words_dup_figure (sample, WB_COLUMN_VESSEL_C, us_units);
  const char *place = wb_app_bench_sample_get_place (sample);
  const char *alarm = wb_app_bench_sample_get_alarm (sample);
  g_autoptr (GString) text = g_string_new (wb_app_bench_sample_get_code (sample));

  g_string_append_printf (text, ", %s", wb_app_bench_sample_get_title (sample));
  if (*time != '\0')
    g_string_append_printf (text, _(", alight for %s"), time);
  if (*time != '\0' && place != NULL)
    g_string_append_printf (text, _(", at place %s"), place);
  g_string_append_printf (text, ", %s", state);
  append_out (text, sample);
  if (*time != '\0' && *pool != '\0')
    g_string_append_printf (text, ", %s", pool);
  if (*time != '\0' && *flame != '\0')
    g_string_append_printf (text, ", %s", flame);
  if (*time != '\0' && *wall != '\0')
    g_string_append_printf (text, ", %s", wall);
  if (alarm != NULL)
    g_string_append_printf (text, ", %s", alarm);
  if (*time != '\0' && wb_app_bench_sample_is_last_inch (sample))
    g_string_append (text, _(", in its last inch"));
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static WbVesselMood
vessel_mood (WbBenchMood mood)
{
  switch (mood)
    {
    case WB_BENCH_MOOD_CURING:
    case WB_BENCH_MOOD_COOLING:
    case WB_BENCH_MOOD_LATER:
      return WB_VESSEL_WAITING;
    case WB_BENCH_MOOD_FIT:
      return WB_VESSEL_FIT;
    case WB_BENCH_MOOD_DUE:
    case WB_BENCH_MOOD_OVERDUE:
    case WB_BENCH_MOOD_STOP:
      return WB_VESSEL_DUE;
    case WB_BENCH_MOOD_CROSSED:
      return WB_VESSEL_BARRED;
    case WB_BENCH_MOOD_OVER:
      return WB_VESSEL_OVER;
    case WB_BENCH_MOOD_ENDED:
    case WB_BENCH_MOOD_ASIDE:
      return WB_VESSEL_OUT;
    default:
      return WB_VESSEL_ALIGHT;
    }
}

/* Share of the wait for the next reading that has gone. */
static double
get_turn (WbAppBenchSample *sample)
{
  gint64 due_in_s = wb_app_bench_sample_get_due_in_s (sample);
  double last_min = wb_app_bench_sample_get_look_min (sample);
  double since_s, whole_s;

  if (wb_app_bench_sample_get_state (sample) != WB_APP_BENCH_ALIGHT || due_in_s == G_MAXINT)
    return NAN;
  since_s = (double) wb_app_bench_sample_get_elapsed_s (sample) - (isnan (last_min) ? 0 : last_min * 60);
  whole_s = since_s + (double) due_in_s;
  /* In steps of a hundredth, so that a second more draws nothing anew. */
  return whole_s > 0 ? floor (CLAMP (since_s / whole_s, 0, 1) * 100) / 100 : 1;
}

void
wb_bench_words_get_sight (WbAppBenchSample *sample,
                          WbVesselSight    *sight)
{
  const WbVessel *vessel = wb_app_bench_sample_get_vessel (sample);
  double change_mm;
  WbPool pool;

  *sight = (WbVesselSight) {
    .shape = vessel->shape,
    .inner_mm = vessel->inner_diameter_mm,
    .across_mm = vessel->shape == WB_SHAPE_ROUND ? NAN : vessel->inner_width_mm,
    .wall_mm = vessel->wall_mm,
    .pool_mm = NAN,
    .pool_across_mm = NAN,
    .mood = vessel_mood (wb_bench_words_get_mood (sample)),
    .n_wicks = wb_app_bench_sample_get_n_wicks (sample),
    .wicks_out = wb_app_bench_sample_get_wicks_out (sample),
    .spacing_mm = wb_app_bench_sample_get_wick_spacing (sample),
    .turn = get_turn (sample),
  };
  if (!wb_app_bench_sample_get_pool (sample, &pool, &change_mm))
    return;
  sight->at_wall = pool.both_at_wall;
  sight->pool_mm = pool.one_mm;
  sight->pool_across_mm = pool.other_mm;
}
