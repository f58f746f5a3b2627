/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-burn.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Two values each: more than a picture has room for. */
#define STRETCHES 300

static WbUnit
get_unit (const WbPlotBurn *burn)
{
  return burn->us_units ? WB_UNIT_FAHRENHEIT : WB_UNIT_CELSIUS;
}

/* The column that passed its limit, else the hottest that a limit watches, else the hottest; G_MAXUINT: no value at all. */
static guint
find_told (const WbCraftLogger *summary)
{
  guint told = G_MAXUINT;

  for (guint i = 0; i < summary->n_columns; i++)
    {
      const WbCraftLoggerColumn *column = &summary->columns[i], *best = told < summary->n_columns ? &summary->columns[told] : NULL;

      if (isnan (column->highest))
        continue;
      if (best == NULL || column->over > best->over
          || (column->over == best->over
              && ((column->limit != NULL) > (best->limit != NULL)
                  || ((column->limit != NULL) == (best->limit != NULL) && column->highest > best->highest))))
        told = i;
    }
  return told;
}

static char *
dup_title (const WbPlotBurn *burn)
{
  guint told = find_told (burn->summary);

  if (told == G_MAXUINT)
    /* Translators: sample code; number of the burn. */
    return g_strdup_printf (_("%s, burn %d: the logger has no value within the burn"), burn->code, burn->number);

  g_autofree char *text = wb_craft_logger_dup_text (burn->summary, burn->logger, told, get_unit (burn));

  /* Translators: sample code; number of the burn; what the logger says. */
  return g_strdup_printf (_("%s, burn %d: %s"), burn->code, burn->number, text);
}

static char *
dup_description (const WbPlotBurn *burn,
                 const char       *title)
{
  g_autoptr (GString) text = g_string_new (NULL);

  g_string_append_printf (text, "%s. %s", title, _("Temperatures of one burn against the minutes since it was lit: lines are the logger's, points are readings."));
  for (guint i = 0; i < burn->summary->n_columns; i++)
    {
      g_autofree char *told = wb_craft_logger_dup_text (burn->summary, burn->logger, i, get_unit (burn));

      g_string_append_printf (text, " %s.", told);
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
append (GArray *x,
        GArray *y,
        double  minute,
        double  value)
{
  double seconds = minute * 60.0;

  g_array_append_val (x, seconds);
  g_array_append_val (y, value);
}

/* Rows from `first`, n of them: lowest and highest in the order in which they came; a gap where there is no value. */
static void
append_stretch (const WbLogger *logger,
                guint           column,
                guint           first,
                guint           n,
                GArray         *x,
                GArray         *y)
{
  const double *values = logger->values[column];
  guint low = G_MAXUINT, high = G_MAXUINT;

  for (guint i = first; i < first + n; i++)
    {
      if (isnan (values[i]))
        continue;
      if (low == G_MAXUINT || values[i] < values[low])
        low = i;
      if (high == G_MAXUINT || values[i] > values[high])
        high = i;
    }
  if (low == G_MAXUINT)
    append (x, y, logger->minutes[first], NAN);
  else
    {
      append (x, y, logger->minutes[MIN (low, high)], values[MIN (low, high)]);
      if (low != high)
        append (x, y, logger->minutes[MAX (low, high)], values[MAX (low, high)]);
    }
}

static void
add_series (const WbPlotBurn *burn,
            WbChartPanel     *panel,
            guint             column)
{
  const WbCraftLogger *summary = burn->summary;
  g_autoptr (GArray) x = g_array_new (FALSE, FALSE, sizeof (double)), y = g_array_new (FALSE, FALSE, sizeof (double));
  g_autofree char *name = wb_logger_dup_name (burn->logger, column);
  guint n_stretches = MIN (summary->n, 2 * STRETCHES);

  if (summary->n > 2 * STRETCHES)
    n_stretches = STRETCHES;
  for (guint i = 0; i < n_stretches; i++)
    {
      guint from = (guint) ((guint64) summary->n * i / n_stretches), to = (guint) ((guint64) summary->n * (i + 1) / n_stretches);

      append_stretch (burn->logger, column, summary->first + from, to - from, x, y);
    }
  if (!isnan (summary->columns[column].highest))
    wb_chart_layer_add_line (panel, name, (int) column, WB_CHART_LINE_JOINED, x->len, (const double *) x->data, (const double *) y->data);
}

/* In the colour of the sensor at the same place, so that the two are looked at together. */
static int
find_series (const WbLogger *logger,
             WbColumn        column)
{
  for (guint i = 0; i < logger->choice->n_columns; i++)
    if (wb_logger_place_get_column (logger->choice->columns[i].place) == (int) column)
      return (int) i;
  return WB_CHART_SERIES_NONE;
}

/* Returns how many there are. */
static guint
add_readings (const WbPlotBurn *burn,
              WbChartPanel     *panel,
              WbColumn          column,
              const char       *name)
{
  g_autoptr (GArray) x = g_array_new (FALSE, FALSE, sizeof (double)), y = g_array_new (FALSE, FALSE, sizeof (double));

  for (guint row = 0; row < wb_readings_get_length (burn->readings); row++)
    if (wb_readings_taken (burn->readings, row, column))
      append (x, y, wb_readings_get_elapsed_min (burn->readings, row), wb_readings_get (burn->readings, row, column));
  if (x->len > 0)
    wb_chart_layer_add_points (panel, name, find_series (burn->logger, column), x->len, (const double *) x->data, (const double *) y->data,
                               WB_CHART_Y, NULL, NULL);
  return x->len;
}

static void
add_limits (const WbPlotBurn *burn,
            WbChartPanel     *panel)
{
  for (guint i = 0; i < burn->summary->n_columns; i++)
    {
      const WbLimit *limit = burn->summary->columns[i].limit;
      gboolean drawn = limit == NULL;
      g_autofree char *stop = NULL, *words = NULL;

      for (guint k = 0; k < i; k++)
        drawn = drawn || burn->summary->columns[k].limit == limit;
      if (drawn)
        continue;
      stop = wb_quantity_format (get_unit (burn), limit->stop_at, 0);
      /* Translators: where a sensor sat; a temperature. */
      words = g_strdup_printf (limit->house ? _("%s: house limit, %s") : _("%s: limit, %s"),
                               wb_logger_place_get_label (burn->logger->choice->columns[i].place), stop);
      wb_chart_layer_add_rule (panel, words, WB_CHART_RULE_LIMIT, WB_CHART_Y, limit->stop_at);
      wb_chart_axis_include (wb_chart_panel_get_y (panel), limit->stop_at);
    }
}

static char *
dup_footnote (const WbPlotBurn *burn,
              guint             n_readings)
{
  g_autofree char *read = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u temperature was read by hand.", "%u temperatures were read by hand.", n_readings), n_readings);
  g_autofree char *cut = wb_craft_logger_dup_cut (burn->summary);

  return g_strconcat (_("A logger's values are no readings: they do not count in the score."), " ", read, *cut != '\0' ? " " : "", cut,
                      burn->invented ? " " : "", burn->invented ? _("Invented data.") : "", NULL);
}

WbChart *
wb_plot_burn_new (const WbPlotBurn *burn)
{
  g_autofree char *title = NULL, *description = NULL, *footnote = NULL;
  WbChartPanel *panel;
  WbChart *chart;
  guint n_readings;

  g_return_val_if_fail (burn != NULL && burn->logger != NULL && burn->summary != NULL && burn->readings != NULL, NULL);

  title = dup_title (burn);
  description = dup_description (burn, title);
  chart = wb_chart_new (title, description);
  panel = wb_chart_add_panel (chart, 0, 0, NULL);
  wb_chart_axis_set_scale (wb_chart_panel_get_x (panel), WB_CHART_SCALE_DURATION);
  wb_chart_axis_set_unit (wb_chart_panel_get_x (panel), WB_UNIT_MINUTE);
  wb_chart_axis_set_label (wb_chart_panel_get_x (panel), _("Since it was lit"));
  wb_chart_axis_include (wb_chart_panel_get_x (panel), 0.0);
  wb_chart_axis_set_unit (wb_chart_panel_get_y (panel), get_unit (burn));
  wb_chart_axis_set_label (wb_chart_panel_get_y (panel), _("Temperature"));
  add_limits (burn, panel);
  for (guint i = 0; i < burn->summary->n_columns; i++)
    add_series (burn, panel, i);
  n_readings = add_readings (burn, panel, WB_COLUMN_VESSEL_C, _("Wall, as read")) + add_readings (burn, panel, WB_COLUMN_BASE_C, _("Base, as read"))
               + add_readings (burn, panel, WB_COLUMN_ROOM_C, _("Room, as read"));
  wb_chart_panel_set_empty_text (panel, _("Nothing within this burn"));
  footnote = dup_footnote (burn, n_readings);
  wb_chart_set_footnote (chart, footnote);
  return chart;
}
