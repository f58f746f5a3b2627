/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-log-row.h"

#include <math.h>

static void
clear_texts (WbLogRow *self)
{
  char **texts[] = {
    &self->experiment, &self->wax, &self->dye, &self->additive, &self->vessel, &self->wick_series, &self->wick_size,
    &self->fragrance, &self->sample, &self->wax_lot, &self->wick_lot, &self->fragrance_lot, &self->set_aside,
    &self->throw_room, &self->rater, &self->note,
  };

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    g_clear_pointer (texts[i], g_free);
  g_clear_pointer (&self->extra, g_strfreev);
}

static void
forget_numbers (WbLogRow *self)
{
  self->line = 0;
  self->inner_diameter_mm = NAN;
  self->wick_step = WB_INTEGER_NONE;
  self->wick_count = WB_INTEGER_NONE;
  self->wick_spacing_mm = NAN;
  self->load_pct = NAN;
  self->load_basis = -1;
  self->poured_on = WB_DAY_NONE;
  self->cure_days = NAN;
  self->tare_g = self->fill_g = self->wax_height_mm = self->wick_offset_mm = NAN;
  self->burn = WB_INTEGER_NONE;
  self->burn_kind = -1;
  self->lit_at = WB_INSTANT_NONE;
  self->trim_mm = NAN;
  self->elapsed_min = NAN;
  for (guint i = 0; i < WB_N_COLUMNS; i++)
    self->values[i] = NAN;
}

WbLogRow *
wb_log_row_new (void)
{
  WbLogRow *self = g_new0 (WbLogRow, 1);

  forget_numbers (self);
  return self;
}

void
wb_log_row_clear (WbLogRow *self)
{
  clear_texts (self);
  forget_numbers (self);
}

void
wb_log_row_clear_numbers (WbLogRow *self)
{
  forget_numbers (self);
}

void
wb_log_row_free (WbLogRow *self)
{
  if (self == NULL)
    return;
  clear_texts (self);
  g_free (self);
}

WbLogRemark *
wb_log_remark_new (guint64     line,
                   const char *column,
                   char       *rule)
{
  WbLogRemark *self = g_new0 (WbLogRemark, 1);

  self->line = line;
  self->column = g_strdup (column);
  self->rule = rule;
  return self;
}

void
wb_log_remark_free (WbLogRemark *self)
{
  if (self == NULL)
    return;
  g_free (self->column);
  g_strfreev (self->also);
  g_free (self->rule);
  g_free (self);
}

int
wb_log_remark_order (gconstpointer a,
                     gconstpointer b)
{
  const WbLogRemark *one = *(const WbLogRemark *const *) a, *other = *(const WbLogRemark *const *) b;

  return one->line < other->line ? -1 : one->line > other->line;
}
