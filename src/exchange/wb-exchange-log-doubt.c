/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-log-doubt-private.h"

#include "wb-number.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Common practice, no source: a kitchen scale and a tray wiped in between. */
#define SCALE_G 2.0
#define OVERFILL 1.02
/* A thermometer left on the other scale: 77 °C, where tests stop, is 171 °F. Common practice, no source. */
#define HOT_C 120.0

void
wb_exchange_log_doubts_init (WbExchangeLogDoubts *self)
{
  *self = (WbExchangeLogDoubts) { .mass_g = NAN };
}

void
wb_exchange_log_doubts_clear (WbExchangeLogDoubts *self)
{
  g_free (self->experiment);
  g_free (self->sample);
  wb_exchange_log_doubts_init (self);
}

/* `format` takes both numbers as text. */
static void
doubt (GPtrArray      *remarks,
       const WbLogRow *row,
       const char     *column,
       const char     *format,
       double          value,
       double          bound)
{
  g_autofree char *given = wb_number_shortest (value), *other = wb_number_shortest (bound);

#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
  g_ptr_array_add (remarks, wb_log_remark_new (row->line, column, g_strdup_printf (format, given, other)));
#pragma GCC diagnostic pop
}

/* A mass that cannot be is not held against those that follow. */
static void
doubt_mass (WbExchangeLogDoubts *self,
            const WbLogRow      *row,
            gboolean             later,
            GPtrArray           *remarks)
{
  double mass_g = row->values[WB_COLUMN_MASS_G];

  if (isnan (mass_g))
    return;
  if (mass_g < row->tare_g)
    doubt (remarks, row, "mass_g", _("%s g is less than the empty vessel's %s g"), mass_g, row->tare_g);
  else if (mass_g > (row->tare_g + row->fill_g) * OVERFILL)
    doubt (remarks, row, "mass_g", _("%s g is more than vessel and fill together, %s g"), mass_g, row->tare_g + row->fill_g);
  else
    {
      if (later && mass_g > self->mass_g + SCALE_G)
        doubt (remarks, row, "mass_g", _("%s g is more than the %s g before it: a candle that burns grows lighter"), mass_g, self->mass_g);
      self->mass_g = mass_g;
    }
}

static void
doubt_heat (const WbLogRow *row,
            WbColumn        column,
            const char     *name,
            GPtrArray      *remarks)
{
  if (row->values[column] > HOT_C)
    doubt (remarks, row, name, _("%s °C is above %s °C: was it read in °F?"), row->values[column], HOT_C);
}

static void
doubt_days (const WbLogRow *row,
            GPtrArray      *remarks)
{
  g_autofree char *poured = NULL;

  if (row->poured_on == WB_DAY_NONE || !row->lit_at.known || wb_instant_get_day (row->lit_at) >= row->poured_on)
    return;
  poured = wb_day_format (row->poured_on);
  g_ptr_array_add (remarks, wb_log_remark_new (row->line, "lit_at", g_strdup_printf (_("the burn is before the day of the pour, %s"), poured)));
}

void
wb_exchange_log_doubts_add (WbExchangeLogDoubts *self,
                            const WbLogRow      *row,
                            GPtrArray           *remarks)
{
  gboolean same = g_strcmp0 (self->sample, row->sample) == 0 && g_strcmp0 (self->experiment, row->experiment) == 0;
  gboolean later = same && (row->burn > self->burn || (row->burn == self->burn && row->elapsed_min >= self->elapsed_min));

  doubt_heat (row, WB_COLUMN_VESSEL_C, "vessel_c", remarks);
  doubt_heat (row, WB_COLUMN_BASE_C, "base_c", remarks);
  doubt_days (row, remarks);
  if (!same)
    {
      wb_exchange_log_doubts_clear (self);
      self->experiment = g_strdup (row->experiment);
      self->sample = g_strdup (row->sample);
    }
  doubt_mass (self, row, later, remarks);
  self->burn = row->burn;
  self->elapsed_min = row->elapsed_min;
}
