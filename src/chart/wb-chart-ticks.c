/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Round places on an axis. All steps are found in the shown unit and carried back to the stored one. */
#include "config.h"

#include "wb-chart-ticks.h"

#include <math.h>

#include "wb-chart-private.h"

/* A value within this part of a step counts as lying on the tick. */
#define ON_TICK 1e-6
/* Beyond these sizes a label is written with a power of ten. */
#define LARGE 1e6
#define SMALL 1e-5
/* An end goes out to a tick where that adds at most this part of the range; else by a little air. */
#define ROUND_MOST 0.1
#define AIR 0.04
/* An axis this many times as long as what it shows has steps that fit it. */
#define MOST_LOOSE 1.4

static const double minute_steps[] = { 1, 2, 5, 10, 15, 30, 60, 120, 180, 240, 360, 720 };
static const double hour_steps[] = { 1, 2, 3, 4, 6, 12 };

static double
decimal_step_above (double raw)
{
  double power = pow (10.0, floor (log10 (raw) + 1e-9));
  double part = raw / power;

  return power * (part <= 1.0 + 1e-9 ? 1.0 : part <= 2.0 + 1e-9 ? 2.0 : part <= 5.0 + 1e-9 ? 5.0 : 10.0);
}

/* Round clock steps within a day, days by 1-2-5 above, decimals by 1-2-5 below one unit. */
static double
clock_step_above (double        raw,
                  const double *steps,
                  gsize         n,
                  double        day)
{
  if (raw <= 0.5 + 1e-9)
    return decimal_step_above (raw);
  for (gsize i = 0; i < n; i++)
    if (raw <= steps[i] * (1.0 + 1e-9))
      return steps[i];

  return day * fmax (1.0, decimal_step_above (raw / day));
}

static double
step_above (const WbChartAxis *axis,
            double             raw)
{
  if (axis->scale != WB_CHART_SCALE_DURATION)
    return decimal_step_above (raw);

  switch (wb_chart_axis_get_shown_unit (axis))
    {
    case WB_UNIT_HOUR:
      return clock_step_above (raw, hour_steps, G_N_ELEMENTS (hour_steps), 24.0);
    case WB_UNIT_MINUTE:
      return clock_step_above (raw, minute_steps, G_N_ELEMENTS (minute_steps), 1440.0);
    default:
      return decimal_step_above (raw);
    }
}

/* Parts into which a step falls so that minor ticks are round as well. */
static int
minor_parts (double step)
{
  double lead = step / pow (10.0, floor (log10 (step) + 1e-9));

  if (fabs (step - 24.0) < 1e-9 || fabs (step - 12.0) < 1e-9)
    return 4;
  if (fabs (step - 15.0) < 1e-9 || fabs (lead - 3.0) < 1e-6)
    return 3;
  if (fabs (lead - 2.0) < 1e-6 || fabs (lead - 4.0) < 1e-6)
    return 4;
  if (fabs (lead - 6.0) < 1e-6)
    return 6;

  return 5;
}

static const char *const superscripts[] = { "⁰", "¹", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹" };

static char *
format_power (double value,
              int    exponent,
              int    decimals)
{
  g_autofree char    *mantissa = wb_number_format (value / pow (10.0, exponent), MIN (decimals, 9), NULL);
  g_autofree char    *digits = g_strdup_printf ("%d", ABS (exponent));
  g_autoptr (GString) text = g_string_new (mantissa);

  g_string_append (text, "×10");
  if (exponent < 0)
    g_string_append (text, "⁻");
  for (const char *digit = digits; *digit != '\0'; digit++)
    g_string_append (text, superscripts[*digit - '0']);

  return g_string_free (g_steal_pointer (&text), FALSE);
}

static char *
format_tick (double value,
             double step,
             double largest)
{
  int place = (int) floor (log10 (step) + 1e-9);

  if (value == 0.0)
    return g_strdup ("0");
  if (largest >= LARGE || step < SMALL)
    {
      int exponent = (int) floor (log10 (largest) + 1e-9);

      return format_power (value, exponent, MAX (0, exponent - place));
    }

  /* 0.25 h and the like have one place more than their power of ten. */
  int decimals = MAX (0, -place);
  if (fabs (step * pow (10.0, decimals) - round (step * pow (10.0, decimals))) > 1e-6)
    decimals++;

  return wb_number_format (value, MIN (decimals, 9), NULL);
}

static void
add_tick (GArray *ticks,
          double  value,
          char   *text)
{
  WbChartTick tick = { value, text };

  g_array_append_val (ticks, tick);
}

static WbChartTicks *
take (GArray *ticks,
      GArray *minor,
      double  low,
      double  high)
{
  WbChartTicks *all = g_new0 (WbChartTicks, 1);

  all->n = ticks->len;
  all->ticks = (WbChartTick *) (void *) g_array_free (ticks, FALSE);
  all->n_minor = minor->len;
  all->minor = (double *) (void *) g_array_free (minor, FALSE);
  all->low = low;
  all->high = high;

  return all;
}

/* Ends of a linear axis in the shown unit for one step. */
typedef struct
{
  double step;
  double low, high;   /* of the axis */
  double first, last; /* ticks, in steps */
} Ladder;

static double
count_ticks (const Ladder *ladder)
{
  return ladder->last - ladder->first + 1.0;
}

/* Moves the ends that may move out to a tick; with `air`, to a little beyond the data where the tick is far. */
static Ladder
climb (double   low,
       double   high,
       gboolean round_low,
       gboolean round_high,
       double   step,
       gboolean air)
{
  Ladder ladder = { step, low, high, 0.0, 0.0 };
  double span = high - low;
  double below = floor (low / step + ON_TICK) * step, above = ceil (high / step - ON_TICK) * step;

  if (round_low && (!air || low - below <= ROUND_MOST * span))
    ladder.low = fmin (low, below);
  else if (round_low)
    /* Air alone does not take an axis of sizes below zero. */
    ladder.low = low >= 0.0 ? fmax (low - AIR * span, 0.0) : low - AIR * span;
  if (round_high && (!air || above - high <= ROUND_MOST * span))
    ladder.high = fmax (high, above);
  else if (round_high)
    ladder.high = high <= 0.0 ? fmin (high + AIR * span, 0.0) : high + AIR * span;
  ladder.first = ceil (ladder.low / step - ON_TICK);
  ladder.last = floor (ladder.high / step + ON_TICK);

  return ladder;
}

/* The ticks between the usual round ones whose ends lie nearest to the data, where those press the data into a part of the axis. */
static Ladder
fit (const WbChartAxis *axis,
     const Ladder      *usual,
     double             low,
     double             high,
     gboolean           round_low,
     gboolean           round_high,
     guint              max)
{
  static const double leads[] = { 1.5, 3.0, 4.0, 6.0, 8.0 };
  Ladder              best = *usual;

  if (axis->scale == WB_CHART_SCALE_DURATION || (usual->high - usual->low) <= MOST_LOOSE * (high - low))
    return best;
  for (guint i = 0; i < G_N_ELEMENTS (leads); i++)
    {
      double power = pow (10.0, floor (log10 (usual->step) + 1e-9));
      Ladder other = climb (low, high, round_low, round_high, power * leads[i], FALSE);

      if (count_ticks (&other) >= 3.0 && count_ticks (&other) <= max && other.high - other.low < best.high - best.low)
        best = other;
    }
  return best;
}

/* The smallest round step with at most `max` ticks. Fewer than three say little: then the ends go out to ticks, if those fit. */
static Ladder
find_ladder (const WbChartAxis *axis,
             double             low,
             double             high,
             gboolean           round_low,
             gboolean           round_high,
             guint              max)
{
  Ladder ladder = climb (low, high, round_low, round_high,
                         step_above (axis, (high - low) / (max + 1.0)), TRUE);

  while (count_ticks (&ladder) > max)
    ladder = climb (low, high, round_low, round_high, step_above (axis, ladder.step * 1.01), TRUE);
  if (count_ticks (&ladder) < 3.0)
    {
      Ladder wide = climb (low, high, round_low, round_high, ladder.step, FALSE);

      if (count_ticks (&wide) <= max)
        ladder = fit (axis, &wide, low, high, round_low, round_high, max);
    }

  return ladder;
}

static WbChartTicks *
linear_ticks (const WbChartAxis *axis,
              double             low,
              double             high,
              gboolean           round_low,
              gboolean           round_high,
              guint              max)
{
  Ladder ladder = find_ladder (axis, wb_chart_axis_to_shown (axis, low),
                               wb_chart_axis_to_shown (axis, high), round_low, round_high, max);
  double step = ladder.step;

  GArray *ticks = g_array_new (FALSE, FALSE, sizeof (WbChartTick));
  GArray *minor = g_array_new (FALSE, FALSE, sizeof (double));
  double  largest = fmax (fabs (ladder.first * step), fabs (ladder.last * step));
  int     parts = axis->scale == WB_CHART_SCALE_DURATION ? minor_parts (step) : 1;

  /* Fixed ends stay as they were given, to the last bit. */
  if (round_low)
    low = fmin (low, wb_chart_axis_from_shown (axis, ladder.low));
  if (round_high)
    high = fmax (high, wb_chart_axis_from_shown (axis, ladder.high));

  for (double k = ladder.first - 1.0; k <= ladder.last; k += 1.0)
    {
      if (k >= ladder.first)
        add_tick (ticks, wb_chart_axis_from_shown (axis, k * step), format_tick (k * step, step, largest));
      for (int part = 1; part < parts; part++)
        {
          double value = wb_chart_axis_from_shown (axis, (k + (double) part / parts) * step);

          if (value > low && value < high)
            g_array_append_val (minor, value);
        }
    }

  return take (ticks, minor, low, high);
}

/* The numbers 1, 2, 5 times powers of ten, counted through: 0 is 1, 1 is 2, 2 is 5, 3 is 10. */
static double
series_125 (int index)
{
  int power = index >= 0 ? index / 3 : -((2 - index) / 3);

  return pow (10.0, power) * (index - 3 * power == 0 ? 1.0 : index - 3 * power == 1 ? 2.0 : 5.0);
}

static int
index_125 (double   value,
           gboolean above)
{
  int index = 3 * (int) floor (log10 (value)) - 1;

  while (series_125 (index + 1) <= value * (1.0 + ON_TICK))
    index++;

  return above && series_125 (index) < value * (1.0 - ON_TICK) ? index + 1 : index;
}

static char *
format_log_tick (double value)
{
  if (value >= LARGE || value < 1e-4)
    return format_power (value, (int) floor (log10 (value) + 1e-9), 0);

  return wb_number_format_trimmed (value, 5, NULL);
}

static WbChartTicks *
log_ticks (const WbChartAxis *axis,
           double             low,
           double             high,
           gboolean           round_low,
           gboolean           round_high,
           guint              max)
{
  double shown_low = wb_chart_axis_to_shown (axis, low);
  double shown_high = wb_chart_axis_to_shown (axis, high);
  int    first = index_125 (shown_low, !round_low);
  int    last = index_125 (shown_high, round_high);

  GArray *ticks = g_array_new (FALSE, FALSE, sizeof (WbChartTick));
  GArray *minor = g_array_new (FALSE, FALSE, sizeof (double));

  if (round_low)
    low = fmin (low, wb_chart_axis_from_shown (axis, series_125 (first)));
  if (round_high)
    high = fmax (high, wb_chart_axis_from_shown (axis, series_125 (last)));

  int stride = 1;
  if ((guint) (last - first + 1) > max)
    for (stride = 3; (guint) ((last - first) / stride + 1) > max; stride += 3)
      ;

  for (int index = first; index <= last; index++)
    {
      double value = wb_chart_axis_from_shown (axis, series_125 (index));

      if (((index % stride) + stride) % stride == 0)
        add_tick (ticks, value, format_log_tick (series_125 (index)));
      else
        g_array_append_val (minor, value);
    }

  return take (ticks, minor, low, high);
}

static WbChartTicks *
category_ticks (const WbChartAxis *axis,
                double             low,
                double             high)
{
  GArray *ticks = g_array_new (FALSE, FALSE, sizeof (WbChartTick));
  GArray *minor = g_array_new (FALSE, FALSE, sizeof (double));

  for (guint i = 0; i < wb_chart_axis_get_n_categories (axis) && i < high; i++)
    add_tick (ticks, i, g_strdup (wb_chart_axis_get_category (axis, i)));

  return take (ticks, minor, low, high);
}

WbChartTicks *
wb_chart_ticks_new (const WbChartAxis *axis,
                    double             low,
                    double             high,
                    gboolean           round_low,
                    gboolean           round_high,
                    guint              max)
{
  g_return_val_if_fail (axis != NULL, NULL);
  g_return_val_if_fail (isfinite (low) && isfinite (high) && low < high, NULL);

  /* Ends rounded outwards on both sides of zero are three ticks however wide the step. */
  max = MAX (max, 3);
  if (axis->scale == WB_CHART_SCALE_CATEGORY)
    return category_ticks (axis, low, high);
  /* Within a decade the round places are those of a ruler. */
  if (axis->scale == WB_CHART_SCALE_LOG && high / low >= 10.0)
    return log_ticks (axis, low, high, round_low, round_high, max);
  if (axis->scale == WB_CHART_SCALE_LOG)
    return linear_ticks (axis, low, high, FALSE, FALSE, max);

  return linear_ticks (axis, low, high, round_low, round_high, max);
}

void
wb_chart_ticks_free (WbChartTicks *ticks)
{
  if (ticks == NULL)
    return;

  for (gsize i = 0; i < ticks->n; i++)
    g_free (ticks->ticks[i].text);
  g_free (ticks->ticks);
  g_free (ticks->minor);
  g_free (ticks);
}
