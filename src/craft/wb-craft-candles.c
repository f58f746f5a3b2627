/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-candles-private.h"

#define MOST_KEPT 128       /* draws */
#define LEAST_KEPT 16
#define MOST_NUMBERS (1u << 22)

static gsize
count_candles (const WbCraftCandles *self)
{
  return (gsize) self->n_kept * WB_CRAFT_N_STRATA;
}

WbCraftCandles *
wb_craft_candles_new (guint n_cells,
                      guint n_aims,
                      guint n_draws)
{
  WbCraftCandles *self = g_new0 (WbCraftCandles, 1);
  guint64 a_draw = MAX ((guint64) n_cells * n_aims * WB_CRAFT_N_STRATA, 1);
  guint wanted = (guint) CLAMP (MOST_NUMBERS / a_draw, LEAST_KEPT, MOST_KEPT);

  self->n_cells = n_cells;
  self->n_aims = n_aims;
  self->every = MAX ((n_draws + wanted - 1) / wanted, 1);
  self->n_kept = (n_draws + self->every - 1) / self->every;
  self->worth = g_new0 (float, count_candles (self) * n_cells * n_aims);
  self->under = g_new0 (float, count_candles (self) * n_cells);
  return self;
}

void
wb_craft_candles_free (WbCraftCandles *self)
{
  if (self == NULL)
    return;
  g_free (self->worth);
  g_free (self->under);
  g_free (self);
}

float *
wb_craft_candles_get_worth (WbCraftCandles *self,
                            guint           aim,
                            guint           cell,
                            guint           draw)
{
  if (self == NULL || draw % self->every != 0)
    return NULL;
  return self->worth + ((gsize) aim * self->n_cells + cell) * count_candles (self) + (gsize) (draw / self->every) * WB_CRAFT_N_STRATA;
}

float *
wb_craft_candles_get_under (WbCraftCandles *self,
                            guint           cell,
                            guint           draw)
{
  if (self == NULL || draw % self->every != 0)
    return NULL;
  return self->under + (gsize) cell * count_candles (self) + (gsize) (draw / self->every) * WB_CRAFT_N_STRATA;
}
