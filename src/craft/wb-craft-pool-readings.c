/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-pool-readings-private.h"

#include <math.h>
#include <stdbool.h>

#include "wb-craft-burn-private.h"
#include "wb-craft-vessel-private.h"

void
wb_craft_pool_readings_init (WbCraftPoolReadings *self,
                             guint                n_cells)
{
  self->t = g_array_new (FALSE, FALSE, sizeof (double));
  self->y = g_array_new (FALSE, FALSE, sizeof (double));
  self->censored = g_array_new (FALSE, FALSE, sizeof (bool));
  self->run = g_array_new (FALSE, FALSE, sizeof (size_t));
  self->run_unit = g_array_new (FALSE, FALSE, sizeof (size_t));
  self->unit_group = g_array_new (FALSE, FALSE, sizeof (size_t));
  self->unit_sample = g_array_new (FALSE, FALSE, sizeof (guint));
  self->run_burn = g_array_new (FALSE, FALSE, sizeof (guint));
  self->held = g_new0 (guint, n_cells);
  self->wall_sum = g_new0 (double, n_cells);
  self->short_sum = g_new0 (double, n_cells);
  self->zero = g_new0 (guint, n_cells);
  self->wall_n = g_new0 (guint, n_cells);
}

void
wb_craft_pool_readings_clear (WbCraftPoolReadings *self)
{
  g_array_unref (self->t);
  g_array_unref (self->y);
  g_array_unref (self->censored);
  g_array_unref (self->run);
  g_array_unref (self->run_unit);
  g_array_unref (self->unit_group);
  g_array_unref (self->unit_sample);
  g_array_unref (self->run_burn);
  g_free (self->held);
  g_free (self->wall_sum);
  g_free (self->short_sum);
  g_free (self->zero);
  g_free (self->wall_n);
}

static void
add_reading (WbCraftPoolReadings *self,
             size_t               run,
             double               hours,
             double               pool_mm,
             bool                 censored)
{
  g_array_append_val (self->t, hours);
  g_array_append_val (self->y, pool_mm);
  g_array_append_val (self->censored, censored);
  g_array_append_val (self->run, run);
}

/*
 * The pool readings of one burn after lighting. Two diameters of one moment are
 * one reading; with one of them at the wall it is "at least" their mean.
 * `full_melt_pool` says "at least the wall" where no pool was read that minute.
 */
static guint
add_burn (WbCraftPoolReadings *self,
          const WbDataset     *data,
          const WbCraftBurn   *burn,
          size_t               run)
{
  double inner = wb_craft_vessel_inner_mm (wb_dataset_get_vessel (data, burn->cell), burn->stage);
  guint first, n, added = 0;
  double read_at = NAN;

  wb_readings_get_burn_rows (data->readings, burn->burn, &first, &n);
  for (guint row = first; row < first + n; row++)
    {
      double minute = wb_readings_get_elapsed_min (data->readings, row);
      WbPool pool;

      if (minute <= 0 || minute > burn->last_min)
        continue;
      if (wb_readings_get_pool (data->readings, row, inner, &pool) && !(pool.diameter_mm > 0))
        self->zero[burn->cell]++;
      else if (wb_readings_get_pool (data->readings, row, inner, &pool))
        {
          add_reading (self, run, minute / 60, pool.both_at_wall ? inner : pool.diameter_mm, pool.at_wall);
          read_at = minute;
          added++;
        }
      else if (minute != read_at && wb_readings_get (data->readings, row, WB_COLUMN_EVENT) == WB_EVENT_FULL_MELT_POOL)
        {
          add_reading (self, run, minute / 60, inner, true);
          added++;
        }
    }
  return added;
}

/* When the pool of a run, the last one added, was last read short of the wall before it was seen there; 0: it was not. */
static double
last_short_h (const WbCraftPoolReadings *self,
              size_t                     run,
              double                     full_h)
{
  double last = 0;

  for (guint i = self->run->len; i > 0 && g_array_index (self->run, size_t, i - 1) == run; i--)
    if (!g_array_index (self->censored, bool, i - 1) && g_array_index (self->t, double, i - 1) < full_h)
      last = MAX (last, g_array_index (self->t, double, i - 1));
  return last;
}

void
wb_craft_pool_readings_gather (WbCraftPoolReadings  *self,
                               const WbDataset      *data,
                               const WbCraftFigures *figures,
                               WbStage               stage,
                               guint                 sample)
{
  guint last_sample = G_MAXUINT;

  for (guint i = 0; i < figures->n_burns; i++)
    {
      const WbCraftBurn *burn = &figures->burns[i];
      size_t run = self->run_unit->len;
      size_t unit, group = burn->cell;

      if (!wb_craft_burn_counts (data, burn) || (stage != WB_STAGE_ALL && burn->stage != stage)
          || (sample != G_MAXUINT && burn->sample != sample))
        continue;
      if (burn->ring_held)
        {
          self->held[burn->cell]++;
          continue;
        }
      if (add_burn (self, data, burn, run) == 0)
        continue;
      if (burn->sample != last_sample)
        {
          g_array_append_val (self->unit_group, group);
          g_array_append_val (self->unit_sample, burn->sample);
        }
      last_sample = burn->sample;
      unit = self->unit_group->len - 1;
      g_array_append_val (self->run_unit, unit);
      g_array_append_val (self->run_burn, i);
      if (!isnan (burn->full_seen_h))
        {
          self->wall_sum[burn->cell] += burn->full_seen_h;
          self->short_sum[burn->cell] += last_short_h (self, run, burn->full_seen_h);
          self->wall_n[burn->cell]++;
        }
    }
}
