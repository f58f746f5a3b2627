/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-figures.h"

#include "wb-craft-burn-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-life-private.h"
#include "wb-craft-vessel-private.h"

#define END_SHARE 0.75       /* a figure "at the end" was read in the last quarter of the burn */
#define GRACE_MIN 15.0       /* a round takes 12 to 15 minutes: common practice, no source */
#define RING_ABOVE_MM 1.5    /* a pool that a ring holds ends at most this much wider than the ring */
#define RING_FLAT_MM 2.0     /* and does not grow by more than this over its last two readings */
#define RING_LONGER 1.25     /* or, read once, burnt longer by this factor than what left the ring */

/* The last value of a column over the rows of one moment: several wicks or raters are averaged. */
typedef struct
{
  double minute;
  double sum;
  guint  n;
} Last;

static void
last_add (Last  *last,
          double minute,
          double value)
{
  if (isnan (value))
    return;
  if (last->n == 0 || minute > last->minute)
    *last = (Last) { minute, 0, 0 };
  last->sum += value;
  last->n++;
}

static double
last_get (const Last *last)
{
  return last->n > 0 ? last->sum / last->n : NAN;
}

static void
raise_to (double *highest,
          double  value)
{
  if (!isnan (value) && !(*highest >= value))
    *highest = value;
}

/* Everything of a burn that is read at its end, while alight. */
static void
read_end (const WbDataset *data,
          WbCraftBurn     *burn,
          double           inner_mm)
{
  Last depth = { 0 }, flame = { 0 }, highest = { 0 }, vessel = { 0 }, pool = { 0 };
  gboolean at_wall = FALSE, flame_read = FALSE;
  double end = isnan (burn->last_min) ? 0 : burn->last_min;
  guint first, n;

  if (burn->kind == WB_BURN_STANDARD || burn->kind == WB_BURN_CHECK)
    end = MIN (end, wb_craft_burn_get_length_min (data) + GRACE_MIN);
  burn->end_min = end;
  wb_readings_get_burn_rows (data->readings, burn->burn, &first, &n);
  for (guint row = first; row < first + n; row++)
    {
      double minute = wb_readings_get_elapsed_min (data->readings, row);
      double height = wb_readings_get (data->readings, row, WB_COLUMN_FLAME_MM);
      WbPool seen;

      if (minute <= 0 || minute < END_SHARE * end || minute > end)
        continue;
      last_add (&depth, minute, wb_readings_get (data->readings, row, WB_COLUMN_DEPTH_MM));
      last_add (&flame, minute, height > 0 ? height : NAN);
      flame_read |= !isnan (height);
      last_add (&highest, minute, wb_readings_get (data->readings, row, WB_COLUMN_FLAME_MAX_MM));
      last_add (&vessel, minute, wb_readings_get (data->readings, row, WB_COLUMN_VESSEL_C));
      if (wb_readings_get_pool (data->readings, row, inner_mm, &seen))
        {
          last_add (&pool, minute, MIN (seen.diameter_mm, inner_mm));
          at_wall = seen.both_at_wall;
        }
    }
  burn->depth_mm = last_get (&depth);
  /* Where rounds asked for the highest flame alone, that is the flame. */
  burn->flame_mm = last_get (flame_read ? &flame : &highest);
  burn->vessel_c = last_get (&vessel);
  burn->pool_mm = last_get (&pool);
  burn->pool_at_wall = pool.n > 0 && at_wall;
}

static void
read_throw (const WbDataset *data,
            guint            row,
            double          *sum,
            guint           *n)
{
  double rating = wb_readings_get (data->readings, row, WB_COLUMN_THROW);
  double alone = wb_readings_get (data->readings, row, WB_COLUMN_ALONE);

  if (!isnan (rating) && alone == 1)
    {
      *sum += rating;
      (*n)++;
    }
}

/* The worst of the burn, and what may be read after it. */
static void
read_worst (const WbDataset *data,
            WbCraftBurn     *burn)
{
  Last hang_up = { 0 }, share = { 0 };
  double throw_sum = 0, room_sum = 0;
  guint first, n, room_n = 0;

  wb_readings_get_burn_rows (data->readings, burn->burn, &first, &n);
  for (guint row = first; row < first + n; row++)
    {
      const WbReadings *readings = data->readings;
      double minute = wb_readings_get_elapsed_min (readings, row);
      double room = wb_readings_get (readings, row, WB_COLUMN_ROOM_C);
      double event = wb_readings_get (readings, row, WB_COLUMN_EVENT);

      raise_to (&burn->depth_max_mm, minute > 0 ? wb_readings_get (readings, row, WB_COLUMN_DEPTH_MM) : NAN);
      raise_to (&burn->flame_max_mm, wb_readings_get (readings, row, WB_COLUMN_FLAME_MM));
      raise_to (&burn->flame_max_mm, wb_readings_get (readings, row, WB_COLUMN_FLAME_MAX_MM));
      raise_to (&burn->vessel_max_c, wb_readings_get (readings, row, WB_COLUMN_VESSEL_C));
      raise_to (&burn->base_max_c, wb_readings_get (readings, row, WB_COLUMN_BASE_C));
      raise_to (&burn->smoke, wb_readings_get (readings, row, WB_COLUMN_SMOKE));
      raise_to (&burn->soot, wb_readings_get (readings, row, WB_COLUMN_SOOT));
      raise_to (&burn->mushroom, minute > 0 ? wb_readings_get (readings, row, WB_COLUMN_MUSHROOM) : NAN);
      last_add (&hang_up, minute, wb_readings_get (readings, row, WB_COLUMN_HANG_UP_MM));
      last_add (&share, minute, wb_readings_get (readings, row, WB_COLUMN_HANG_UP_SHARE_PCT));
      read_throw (data, row, &throw_sum, &burn->throw_n);
      if (!isnan (room))
        {
          room_sum += room;
          room_n++;
        }
      if (event >= 0 && event < WB_N_EVENTS)
        burn->events |= 1u << (guint) event;
    }
  burn->hang_up_mm = last_get (&hang_up);
  burn->hang_up_share_pct = last_get (&share);
  burn->throw_rating = burn->throw_n > 0 ? throw_sum / burn->throw_n : NAN;
  burn->room_c = room_n > 0 ? room_sum / room_n : NAN;
}

/* When the pool was first seen at the wall, and when it was last seen short of it before that. */
static void
read_full_pool (const WbDataset *data,
                WbCraftBurn     *burn,
                double           inner_mm)
{
  guint first, n;

  wb_readings_get_burn_rows (data->readings, burn->burn, &first, &n);
  for (guint row = first; row < first + n && isnan (burn->full_seen_h); row++)
    {
      double hours = wb_readings_get_elapsed_min (data->readings, row) / 60.0;
      WbPool seen;

      if (hours <= 0)
        continue;
      if (wb_readings_get (data->readings, row, WB_COLUMN_EVENT) == WB_EVENT_FULL_MELT_POOL)
        burn->full_seen_h = hours;
      else if (wb_readings_get_pool (data->readings, row, inner_mm, &seen))
        {
          if (seen.both_at_wall)
            burn->full_seen_h = hours;
          else
            burn->not_full_h = hours;
        }
    }
  if (burn->not_full_h >= burn->full_seen_h)
    burn->not_full_h = NAN;
}

static double
cure_days (const WbDataset *data,
           guint            burn,
           guint            first_burn)
{
  const WbBurn *now = wb_dataset_get_burn (data, burn);
  const WbBurn *first = wb_dataset_get_burn (data, first_burn);
  const WbSample *sample = wb_dataset_get_sample (data, g_array_index (data->burn_sample, guint, burn));

  if (!isnan (sample->cure_days))
    {
      if (now->lit_at.known && first->lit_at.known)
        return sample->cure_days + wb_instant_get_day (now->lit_at) - wb_instant_get_day (first->lit_at);
      return sample->cure_days;
    }
  if (sample->poured_on != WB_DAY_NONE && now->lit_at.known)
    return wb_instant_get_day (now->lit_at) - sample->poured_on;
  return NAN;
}

static void
init_burn (const WbDataset *data,
           guint            index,
           WbCraftBurn     *burn)
{
  guint sample = g_array_index (data->burn_sample, guint, index);

  *burn = (WbCraftBurn) {
    .burn = index,
    .sample = sample,
    .cell = g_array_index (data->sample_cell, guint, sample),
    .kind = wb_dataset_get_burn (data, index)->kind,
    .alight_min = NAN, .last_min = NAN, .consumption_g_per_h = NAN, .mass_before_g = NAN, .mass_after_g = NAN,
    .fill_left = NAN, .pool_mm = NAN, .full_seen_h = NAN, .not_full_h = NAN, .depth_mm = NAN, .depth_max_mm = NAN,
    .flame_mm = NAN, .flame_max_mm = NAN, .vessel_c = NAN, .vessel_max_c = NAN, .base_max_c = NAN, .smoke = NAN,
    .soot = NAN, .mushroom = NAN, .hang_up_mm = NAN, .hang_up_share_pct = NAN, .throw_rating = NAN, .room_c = NAN,
    .cure_days = NAN,
  };
}

/* The pool's growth over the last two moments at which it was read, mm; NAN with fewer. */
static double
last_growth (const WbDataset *data,
             guint            burn,
             double           inner_mm)
{
  double before = NAN, last = NAN, last_minute = NAN;
  guint first, n;

  wb_readings_get_burn_rows (data->readings, burn, &first, &n);
  for (guint row = first; row < first + n; row++)
    {
      double minute = wb_readings_get_elapsed_min (data->readings, row);
      WbPool seen;

      if (minute <= 0 || !wb_readings_get_pool (data->readings, row, inner_mm, &seen))
        continue;
      if (minute != last_minute)
        before = last;
      last = seen.diameter_mm;
      last_minute = minute;
    }
  return last - before;
}

/* What an earlier burn left of hard wax: its inner edge, NAN none, and how long it took to get there. */
typedef struct
{
  double mm;
  double min;
} Ring;

/*
 * First-burn memory: a burn cut short before the pool reached the wall leaves a
 * ring; a later pool that stops at it, and has stopped growing, is held by it
 * and says nothing about the wick. The ring is gone once a pool gets past it. Of a
 * pool that was read once nobody saw whether it had stopped: after as long as the
 * ring took it would stand there anyway.
 */
static void
mark_held (const WbDataset *data,
           WbCraftBurn     *burn,
           double           inner_mm,
           Ring            *ring)
{
  if (!isnan (ring->mm) && !isnan (burn->pool_mm))
    {
      double growth = last_growth (data, burn->burn, inner_mm);

      if (burn->pool_mm > ring->mm + RING_ABOVE_MM || burn->pool_at_wall)
        ring->mm = NAN;
      else
        burn->ring_held = isnan (growth) ? burn->alight_min > RING_LONGER * ring->min : growth <= RING_FLAT_MM;
    }
  if (burn->cut_short && !burn->pool_at_wall && burn->pool_mm > 0 && !burn->ring_held)
    *ring = (Ring) { burn->pool_mm, burn->alight_min };
}

static void
read_burn (const WbDataset *data,
           WbCraftBurn     *burn,
           guint            first_burn)
{
  double inner_mm = wb_craft_vessel_inner_mm (wb_dataset_get_vessel (data, burn->cell), burn->stage);

  burn->cut_short = !burn->alight && wb_craft_burn_is_cut_short (data, burn->alight_min);
  read_end (data, burn, inner_mm);
  read_worst (data, burn);
  read_full_pool (data, burn, inner_mm);
  burn->cure_days = cure_days (data, burn->burn, first_burn);
}

/* What was read last of a burn that is alight is not what it ends with. Whether a ring holds its pool was told by it before. */
static void
forget_end (WbCraftBurn *burn)
{
  burn->depth_mm = burn->flame_mm = burn->vessel_c = burn->pool_mm = NAN;
  burn->hang_up_mm = burn->hang_up_share_pct = NAN;
  burn->pool_at_wall = FALSE;
}

static void
read_sample (const WbDataset *data,
             WbCraftFigures  *self,
             guint            sample,
             guint            first,
             guint            n)
{
  Ring ring = { NAN, NAN };

  for (guint i = first; i < first + n; i++)
    init_burn (data, i, &self->burns[i]);
  self->thirds[sample] = wb_craft_life_weigh (data, sample, self->burns + first, n, &self->life_left[sample]);
  for (guint i = first; i < first + n; i++)
    {
      WbCraftBurn *burn = &self->burns[i];

      read_burn (data, burn, first);
      mark_held (data, burn, wb_craft_vessel_inner_mm (wb_dataset_get_vessel (data, burn->cell), burn->stage), &ring);
      if (burn->alight)
        forget_end (burn);
    }
  self->ended[sample] = wb_craft_life_ended (data, sample, self->burns + first, n, self->life_left[sample]);
}

WbCraftFigures *
wb_craft_figures_new (const WbDataset *data)
{
  WbCraftFigures *self = g_new0 (WbCraftFigures, 1);

  g_return_val_if_fail (data != NULL, self);

  self->n_burns = data->burns->len;
  self->n_samples = data->samples->len;
  self->burns = g_new0 (WbCraftBurn, self->n_burns);
  self->life_left = g_new0 (double, self->n_samples);
  self->ended = g_new0 (gboolean, self->n_samples);
  self->thirds = g_new0 (WbCraftThirds, self->n_samples);
  for (guint i = 0; i < self->n_samples; i++)
    self->life_left[i] = NAN;
  for (guint first = 0; first < self->n_burns;)
    {
      guint sample = g_array_index (data->burn_sample, guint, first);
      guint n = 1;

      while (first + n < self->n_burns && g_array_index (data->burn_sample, guint, first + n) == sample)
        n++;
      read_sample (data, self, sample, first, n);
      first += n;
    }
  return self;
}

void
wb_craft_figures_free (WbCraftFigures *self)
{
  if (self == NULL)
    return;
  g_free (self->burns);
  g_free (self->life_left);
  g_free (self->ended);
  g_free (self->thirds);
  g_free (self);
}

double
wb_craft_cell_get_inner_mm (const WbDataset *data,
                            guint            cell,
                            WbStage          stage)
{
  g_return_val_if_fail (data != NULL && cell < data->cells->len, NAN);

  return wb_craft_vessel_inner_mm (wb_dataset_get_vessel (data, cell), stage);
}

double
wb_craft_cell_get_due_h (const WbDataset *data,
                         guint            cell,
                         WbStage          stage)
{
  g_return_val_if_fail (data != NULL && cell < data->cells->len, NAN);

  return wb_craft_vessel_due_h (wb_dataset_get_vessel (data, cell), stage);
}

static const struct { const char *key, *label; } states[] = {
  [WB_CRAFT_STATE_PLANNED] = { "planned", N_("planned") },
  [WB_CRAFT_STATE_CURING] = { "curing", N_("curing") },
  [WB_CRAFT_STATE_BURNING] = { "burning", N_("burning") },
  [WB_CRAFT_STATE_FINISHED] = { "finished", N_("finished") },
};

WbCraftState
wb_craft_state_of (gboolean closed,
                   guint    poured,
                   guint    burns,
                   guint    waiting)
{
  if (closed)
    return WB_CRAFT_STATE_FINISHED;
  if (burns > 0)
    return waiting > 0 ? WB_CRAFT_STATE_BURNING : WB_CRAFT_STATE_FINISHED;
  return poured > 0 ? WB_CRAFT_STATE_CURING : WB_CRAFT_STATE_PLANNED;
}

const char *
wb_craft_state_get_key (WbCraftState state)
{
  g_return_val_if_fail (state < G_N_ELEMENTS (states), "unknown");
  return states[state].key;
}

const char *
wb_craft_state_get_label (WbCraftState state)
{
  g_return_val_if_fail (state < G_N_ELEMENTS (states), "");
  return _(states[state].label);
}
