/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-logger.h"

#include "wb-craft-limits-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* What a limit would see if that were read at that place; NAN: it watches another. */
static double
watched_value (const WbLimit *limit,
               WbLoggerPlace  place,
               double         value)
{
  double values[WB_N_COLUMNS];
  int column = wb_logger_place_get_column (place);

  if (column < 0)
    return NAN;
  for (guint i = 0; i < WB_N_COLUMNS; i++)
    values[i] = NAN;
  values[column] = value;
  return wb_craft_limit_value (limit, values);
}

static const WbLimit *
find_limit (const GPtrArray *limits,
            WbLoggerPlace    place)
{
  const WbLimit *tightest = NULL;

  for (guint i = 0; i < limits->len; i++)
    {
      const WbLimit *limit = g_ptr_array_index (limits, i);

      if (!limit->off && !isnan (watched_value (limit, place, 0.0)) && (tightest == NULL || limit->stop_at < tightest->stop_at))
        tightest = limit;
    }
  return tightest;
}

static void
sum_column (WbCraftLogger   *self,
            const WbLogger  *logger,
            guint            n,
            const GPtrArray *limits)
{
  WbCraftLoggerColumn *column = &self->columns[n];

  *column = (WbCraftLoggerColumn) { .highest = NAN, .at_min = NAN, .over_min = NAN };
  column->limit = find_limit (limits, logger->choice->columns[n].place);
  for (guint i = self->first; i < self->first + self->n; i++)
    {
      double value = logger->values[n][i];

      if (isnan (value))
        continue;
      if (!(value <= column->highest))
        {
          column->highest = value;
          column->at_min = logger->minutes[i];
        }
      if (!column->over && column->limit != NULL && wb_craft_limit_is_over (column->limit, value))
        {
          column->over = TRUE;
          column->over_min = logger->minutes[i];
        }
    }
}

void
wb_craft_logger_init (WbCraftLogger   *self,
                      const WbLogger  *logger,
                      double           end_min,
                      const GPtrArray *limits)
{
  guint last = logger->n;

  g_return_if_fail (self != NULL && logger != NULL && limits != NULL);

  *self = (WbCraftLogger) { .n_columns = logger->choice->n_columns };
  while (self->first < logger->n && logger->minutes[self->first] < 0.0)
    self->first++;
  while (last > self->first && logger->minutes[last - 1] > end_min)
    last--;
  self->n = last - self->first;
  self->n_before = self->first;
  self->n_after = logger->n - last;
  self->before_min = self->n_before > 0 ? -logger->minutes[0] : 0.0;
  self->after_min = self->n_after > 0 ? logger->minutes[logger->n - 1] - end_min : 0.0;
  for (guint i = 0; i < self->n_columns; i++)
    sum_column (self, logger, i, limits);
}

gboolean
wb_craft_logger_is_over (const WbCraftLogger *self)
{
  for (guint i = 0; i < self->n_columns; i++)
    if (self->columns[i].over)
      return TRUE;
  return FALSE;
}

/* The hottest of all sensors at a place; NAN: none sat there, or none has a value within the burn. */
static void
find_hottest (const WbCraftLogger *self,
              const WbLogger      *logger,
              WbLoggerPlace        place,
              double              *celsius,
              double              *minute)
{
  *celsius = *minute = NAN;
  for (guint i = 0; i < self->n_columns; i++)
    if (logger->choice->columns[i].place == place && !isnan (self->columns[i].highest) && !(self->columns[i].highest <= *celsius))
      {
        *celsius = self->columns[i].highest;
        *minute = self->columns[i].at_min;
      }
}

void
wb_craft_logger_keep (const WbCraftLogger *self,
                      const WbLogger      *logger,
                      WbAttachment        *attachment)
{
  g_return_if_fail (self != NULL && logger != NULL && attachment != NULL);

  find_hottest (self, logger, WB_LOGGER_WALL, &attachment->wall_c, &attachment->wall_min);
  find_hottest (self, logger, WB_LOGGER_BASE, &attachment->base_c, &attachment->base_min);
}

void
wb_craft_logger_get_values (const WbAttachment *attachment,
                            double              values[WB_N_COLUMNS])
{
  g_return_if_fail (attachment != NULL && values != NULL);

  for (guint i = 0; i < WB_N_COLUMNS; i++)
    values[i] = NAN;
  values[WB_COLUMN_VESSEL_C] = attachment->wall_c;
  values[WB_COLUMN_BASE_C] = attachment->base_c;
}

/* As a person would say it: "182 min", "2.5 min". */
static char *
dup_minute (double minute)
{
  g_autofree char *text = wb_number_format_trimmed (minute, 1, NULL);

  return g_strdup_printf (_("%s min"), text);
}

/* As somebody set it: no zeros behind the decimal sign. */
static char *
dup_limit (const WbLimit *limit,
           WbUnit         unit)
{
  g_autofree char *text = wb_number_format_trimmed (wb_unit_from_stored (unit, limit->stop_at), wb_unit_get_decimals (unit), NULL);

  return g_strdup_printf ("%s\302\240%s", text, wb_unit_get_symbol (unit));
}

char *
wb_craft_logger_dup_text (const WbCraftLogger *self,
                          const WbLogger      *logger,
                          guint                n,
                          WbUnit               unit)
{
  const WbCraftLoggerColumn *column = &self->columns[n];
  g_autofree char *name = wb_logger_dup_name (logger, n);
  g_autofree char *highest = NULL, *minute = NULL, *stop = NULL, *over = NULL;

  g_return_val_if_fail (n < self->n_columns, NULL);

  if (isnan (column->highest))
    /* Translators: where a sensor sat. */
    return g_strdup_printf (_("%s: no value within this burn"), name);
  highest = wb_quantity_format (unit, column->highest, 1);
  minute = dup_minute (column->at_min);
  if (column->limit == NULL)
    /* Translators: where a sensor sat; a temperature; a minute. */
    return g_strdup_printf (_("%s: highest %s at %s; no limit watches that place"), name, highest, minute);
  stop = dup_limit (column->limit, unit);
  if (!column->over)
    /* Translators: where a sensor sat; a temperature; a minute; the limit. */
    return g_strdup_printf (column->limit->house ? _("%s: highest %s at %s, within the house limit of %s")
                                                 : _("%s: highest %s at %s, within the limit of %s"),
                            name, highest, minute, stop);
  over = dup_minute (column->over_min);
  /* Translators: where a sensor sat; a temperature; a minute; the limit; a minute. */
  return g_strdup_printf (column->limit->house ? _("%s: highest %s at %s, over the house limit of %s from %s on")
                                               : _("%s: highest %s at %s, over the limit of %s from %s on"),
                          name, highest, minute, stop, over);
}

char *
wb_craft_logger_dup_cut (const WbCraftLogger *self)
{
  g_autofree char *before = NULL, *after = NULL, *before_min = dup_minute (self->before_min), *after_min = dup_minute (self->after_min);

  if (self->n_before > 0)
    before = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u row is cut off before the lighting (%s).", "%u rows are cut off before the lighting (%s).",
                                           self->n_before), self->n_before, before_min);
  if (self->n_after > 0)
    after = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u row is cut off after the end (%s).", "%u rows are cut off after the end (%s).",
                                          self->n_after), self->n_after, after_min);
  if (before != NULL && after != NULL)
    return g_strjoin (" ", before, after, NULL);
  return g_strdup (before != NULL ? before : after != NULL ? after : "");
}
