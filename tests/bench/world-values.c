/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "world-values.h"

#include <math.h>

#define STREAM_CANDLES 14     /* no other's of a world */
#define EXACT 1e-8            /* variance that keeps values apart which are the same by the law */
#define SIDE_TELLS (2 / G_PI) /* of the information of a normal quantity, its side of the middle */

void
world_values_init (WorldValues *self,
                   const World *world,
                   gboolean     by_candles)
{
  const Lab *habits = world->habits;
  double candles = WORLD_SAMPLES, burns = WORLD_SAMPLES * 3.0 * LAB_STAGE_BURNS;

  *self = (WorldValues) { .world = world };
  for (guint f = 0; f < WORLD_N_FIGURES; f++)
    self->beliefs[f] = world_believe (world, f);
  if (!by_candles)
    return;
  self->sample_sd[WORLD_LIMIT] = habits->limit_sample_sd / sqrt (candles);
  self->burn_sd[WORLD_LIMIT] = habits->limit_burn_sd / sqrt (burns);
  for (guint m = 0; m < LAB_N_MEASURES; m++)
    {
      self->sample_sd[WORLD_DEPTH + m] = habits->measure_sample_sd[m] / sqrt (candles);
      self->burn_sd[WORLD_DEPTH + m] = habits->measure_burn_sd[m] / sqrt (burns);
    }
  for (guint r = 0; r < LAB_N_RATINGS; r++)
    {
      self->sample_sd[WORLD_SOOT + r] = habits->rating_sample_sd[r] / sqrt (candles);
      self->burn_sd[WORLD_SOOT + r] = 1 / sqrt (SIDE_TELLS * burns);
    }
}

static double
wider (const World *self,
       guint        vessel)
{
  return log (self->inner_mm[vessel] / WORLD_REFERENCE_MM);
}

double
world_values_believe (const WorldValues *self,
                      const WorldValue  *value)
{
  const WorldBelief *belief = &self->beliefs[value->figure];

  return belief->base.mean + belief->width.mean * wider (self->world, value->vessel) + belief->load.mean * (value->load_pct - 6)
         + (self->world->is_tin[value->vessel] ? self->world->tin.of[value->figure] : 0);
}

/* How far a sample's deviation of a figure goes with that of ln D-inf. */
static double
with_limit (const WorldValues *self,
            guint              figure)
{
  return figure == WORLD_LIMIT ? 1 : figure == WORLD_TAU ? 0 : self->world->habits->hot;
}

/* Of what is read of two figures of one cell. */
static double
reading_covariance (const WorldValues *self,
                    guint              one,
                    guint              other)
{
  if (one == other)
    return self->sample_sd[one] * self->sample_sd[one] + self->burn_sd[one] * self->burn_sd[one] + EXACT;
  return self->sample_sd[one] * self->sample_sd[other] * with_limit (self, one) * with_limit (self, other);
}

double
world_values_covariance (const WorldValues *self,
                         const WorldValue  *one,
                         const WorldValue  *other)
{
  const World *world = self->world;
  const WorldBelief *belief = &self->beliefs[one->figure];
  double x = wider (world, one->vessel), y = wider (world, other->vessel), sum = 0;
  gboolean burnt = one->experiment == other->experiment && one->experiment < WORLD_EARLIER;

  if (one->wax == other->wax)
    sum += world_shift_covariance (one->figure, other->figure, WORLD_WAX_SD, WORLD_HOT);
  if (burnt)
    sum += world_shift_covariance (one->figure, other->figure, WORLD_POUR_SD, WORLD_HOT);
  if (burnt && one->vessel == other->vessel && one->wick == other->wick && one->load_pct == other->load_pct)
    sum += reading_covariance (self, one->figure, other->figure);
  if (one->figure != other->figure)
    return sum;
  sum += belief->base.sd * belief->base.sd + belief->width.sd * belief->width.sd * x * y
         + belief->curve.sd * belief->curve.sd * x * x * y * y
         + belief->load.sd * belief->load.sd * (one->load_pct - 6) * (other->load_pct - 6);
  if (world->wicks[one->wick].series == world->wicks[other->wick].series)
    sum += belief->series_sd * belief->series_sd;
  if (one->wick != other->wick)
    return sum;
  sum += belief->own_sd * belief->own_sd;
  if (one->vessel == other->vessel)
    sum += world->off_sd.of[one->figure] * world->off_sd.of[one->figure];
  return sum;
}

/* A cell's figures, as they are told. */
static void
read_cell (const WorldValues *self,
           const WorldValue  *cell,
           WbCalcRandom      *random,
           GArray            *values)
{
  const World *world = self->world;
  double of_limit = wb_calc_random_normal (random);

  for (guint f = 0; f < WORLD_N_FIGURES; f++)
    {
      double own = wb_calc_random_normal (random), of_burns = wb_calc_random_normal (random), with = with_limit (self, f);
      WorldValue value = *cell;

      value.figure = f;
      value.read = world_law (world, f, cell->vessel, cell->wick, cell->wax, cell->load_pct)
                   + world->off[cell->vessel][cell->wick].of[f] + world->earlier[cell->experiment].pour.of[f]
                   + self->sample_sd[f] * (with * of_limit + sqrt (1 - with * with) * own) + self->burn_sd[f] * of_burns;
      g_array_append_val (values, value);
    }
}

GArray *
world_values_read (const WorldValues *self,
                   guint              earlier)
{
  const World *world = self->world;
  GArray *values = g_array_new (FALSE, FALSE, sizeof (WorldValue));
  WbCalcRandom random;

  world_random_init (world, STREAM_CANDLES, &random);
  for (guint e = 0; e < earlier; e++)
    for (guint v = 0; v < world->earlier[e].n_vessels; v++)
      for (guint load = 0; load < world->earlier[e].n_loads; load++)
        for (guint w = 0; w < world->n_wicks; w++)
          {
            WorldValue cell = { 0, w, world->earlier[e].vessels[v], world->earlier[e].wax, e, world->earlier[e].load_pct[load], NAN };

            if (world->earlier[e].tries[w])
              read_cell (self, &cell, &random, values);
          }
  return values;
}

GArray *
world_values_next (const WorldValues *self)
{
  const World *world = self->world;
  GArray *values = g_array_new (FALSE, FALSE, sizeof (WorldValue));

  for (guint w = 0; w < world->n_wicks; w++)
    for (guint f = 0; f < WORLD_N_FIGURES; f++)
      {
        WorldValue value = { f, w, world->next_vessel, world->next_wax, WORLD_EARLIER, world->next_load_pct, NAN };

        g_array_append_val (values, value);
      }
  return values;
}
