/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-log-doubt-private.h"

#include "wb-craft-doubt.h"
#include "wb-number.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>
#include <math.h>

void
wb_exchange_log_doubts_init (WbExchangeLogDoubts *self)
{
  *self = (WbExchangeLogDoubts) { .mass_g = NAN };
}

static void
forget_sample (WbExchangeLogDoubts *self)
{
  g_clear_pointer (&self->experiment, g_free);
  g_clear_pointer (&self->sample, g_free);
  self->mass_g = NAN;
  self->burn = 0;
  self->elapsed_min = 0;
}

void
wb_exchange_log_doubts_clear (WbExchangeLogDoubts *self)
{
  forget_sample (self);
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

static const char *
get_format (WbCraftDoubtKind kind)
{
  switch ((int) kind)
    {
    case WB_CRAFT_DOUBT_BELOW_VESSEL:
      return _("%s g is less than the empty vessel's %s g");
    case WB_CRAFT_DOUBT_ABOVE_FILL:
      return _("%s g is more than vessel and fill together, %s g");
    case WB_CRAFT_DOUBT_GAINED:
      return _("%s g is more than the %s g before it: a candle that burns grows lighter");
    case WB_CRAFT_DOUBT_HOT:
      return _("%s °C is above %s °C: was it read in °F?");
    case WB_CRAFT_DOUBT_TALL:
      return _("%s mm is more than %s mm: hardly a candle's flame is so tall");
    default:
      g_assert_not_reached ();
    }
}

/* A mass that cannot be is not held against those that follow. */
static void
doubt_mass (WbExchangeLogDoubts *self,
            const WbLogRow      *row,
            gboolean             later,
            GPtrArray           *remarks)
{
  double mass_g = row->values[WB_COLUMN_MASS_G];
  WbCraftDoubt found;
  gboolean any;

  if (isnan (mass_g))
    return;
  any = wb_craft_doubt_mass (mass_g, row->tare_g, row->fill_g, later ? self->mass_g : NAN, &found);
  if (any)
    doubt (remarks, row, "mass_g", get_format (found.kind), mass_g, found.bound);
  if (any && found.kind != WB_CRAFT_DOUBT_GAINED)
    return;
  self->mass_g = mass_g;
  self->burn = row->burn;
  self->elapsed_min = row->elapsed_min;
}

static void
doubt_heat (const WbLogRow *row,
            WbColumn        column,
            GPtrArray      *remarks)
{
  WbCraftDoubt found;

  if (wb_craft_doubt_heat (column, row->values[column], &found))
    doubt (remarks, row, wb_column_get_spec (column)->name, get_format (found.kind), found.value, found.bound);
}

static void
doubt_flame (const WbLogRow *row,
             WbColumn        column,
             GPtrArray      *remarks)
{
  WbCraftDoubt found;

  if (wb_craft_doubt_flame (column, row->values[column], &found))
    doubt (remarks, row, wb_column_get_spec (column)->name, get_format (found.kind), found.value, found.bound);
}

static void
doubt_days (const WbLogRow *row,
            GPtrArray      *remarks)
{
  g_autofree char *poured = NULL;

  if (!wb_craft_doubt_day (row->poured_on, row->lit_at.known ? wb_instant_get_day (row->lit_at) : WB_DAY_NONE))
    return;
  poured = wb_day_format (row->poured_on);
  g_ptr_array_add (remarks, wb_log_remark_new (row->line, "lit_at", g_strdup_printf (_("the burn is before the day of the pour, %s"), poured)));
}

static void
note_unnamed (WbExchangeLogDoubts *self,
              const WbLogRow      *row)
{
  if (!(row->load_pct > 0) || (row->fragrance != NULL && *row->fragrance != '\0'))
    return;
  if (self->unnamed++ > 0)
    return;
  self->unnamed_line = row->line;
  self->unnamed_pct = row->load_pct;
}

void
wb_exchange_log_doubts_finish (const WbExchangeLogDoubts *self,
                               GPtrArray                 *remarks)
{
  g_autofree char *load = wb_number_shortest (self->unnamed_pct);

  if (self->unnamed == 0)
    return;
  g_ptr_array_add (remarks,
                   wb_log_remark_new (self->unnamed_line, "load_pct",
                                      g_strdup_printf (g_dngettext (GETTEXT_PACKAGE,
                                                                    "a load of %s %% and no fragrance named: the sample counts as unscented; so it is in %" PRIu64 " reading",
                                                                    "a load of %s %% and no fragrance named: the sample counts as unscented; so it is in %" PRIu64 " readings",
                                                                    self->unnamed),
                                                       load, self->unnamed)));
}

void
wb_exchange_log_doubts_add (WbExchangeLogDoubts *self,
                            const WbLogRow      *row,
                            GPtrArray           *remarks)
{
  gboolean same = g_strcmp0 (self->sample, row->sample) == 0 && g_strcmp0 (self->experiment, row->experiment) == 0;
  gboolean later = same && (row->burn > self->burn || (row->burn == self->burn && row->elapsed_min >= self->elapsed_min));

  doubt_heat (row, WB_COLUMN_VESSEL_C, remarks);
  doubt_heat (row, WB_COLUMN_BASE_C, remarks);
  doubt_flame (row, WB_COLUMN_FLAME_MM, remarks);
  doubt_flame (row, WB_COLUMN_FLAME_MAX_MM, remarks);
  doubt_days (row, remarks);
  note_unnamed (self, row);
  if (!same)
    {
      forget_sample (self);
      self->experiment = g_strdup (row->experiment);
      self->sample = g_strdup (row->sample);
    }
  doubt_mass (self, row, later, remarks);
}
