/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-physics.h"

#include <math.h>

#include "wb-calc-random.h"

#define USUAL_POWER_G_PER_H 4.5
#define USUAL_LIMIT_MM 83.0    /* D-infinity at the usual power: at the wall of 76.2 mm in 3 h */
#define USUAL_INNER_MM 76.2
#define FLAME_MM_PER_G_H 5.5   /* slope and offset: 21 mm at 4.5 g/h a wick, a calm flame */
#define FLAME_OFFSET_MM -4.0
#define FLAME_RISE_MIN 5.0     /* a flame takes minutes to find its height */
#define CAP_RISE_H 2.5
#define USUAL_DEPTH_MM 13.5    /* towards which the depth grows; 9.5 mm after four hours */
#define DEPTH_RISE_H 3.2
#define USUAL_RISE_K 24.0      /* of the outside wall over the room */
#define WALL_RISE_H 1.1
#define MEMORY_SHARE 0.88      /* a pool that stopped short of this share of its own limit leaves a ring that rules */
#define DROWN_SHARE 0.60       /* of the inner diameter: less than that starves in its own wax */
#define MAXIMUM_STEP_MIN 2.0

struct _WbCraftPhysicsCandle
{
  WbCraftPhysicsSpec spec;
  WbCalcRandom       random;
  double             fill_g;
  double             left_g;
  double             own;            /* this candle's factor of power */
  double             lopsided;       /* relative difference between its two diameters */
  double             ring_mm;        /* inner edge of a ring that rules; INFINITY: none */
  double             hang_up_mm;     /* thickest wax left on the wall */
  double             soot;           /* deposit so far, on the scale of the ratings */
  /* the burn under way */
  gboolean           lit;
  gboolean           out, drowned;
  double             minutes;
  double             room_c;
  double             power_g_per_h;  /* of all wicks, at the top of the vessel */
  double             cap;            /* on the scale of the ratings */
  double             highest_mm;     /* flame since the last reading */
};

WbCraftPhysicsSpec
wb_craft_physics_spec_usual (void)
{
  return (WbCraftPhysicsSpec) {
    .inner_mm = USUAL_INNER_MM,
    .wax_height_mm = 80,
    .tare_g = 320,
    .density = 0.90,
    .wax_heat = 1,
    .strength_g_per_h = USUAL_POWER_G_PER_H,
    .wicks = 1,
    .load_effect = -0.01,
    .bottom_heat = 0.6,
    .soot_tendency = 1,
    .cap_tendency = 1,
    .flow_per_step_c = 0.01,
    .tau_h = 1.2,
    .residue_mm = 4,
    .sample_sd = 0.05,
    .burn_sd = 0.04,
    .noise = 1,
  };
}

double
wb_craft_physics_g_per_mm (const WbCraftPhysicsSpec *spec)
{
  double area_cm2 = G_PI * spec->inner_mm * spec->inner_mm / 400.0;

  return area_cm2 * spec->density / 10.0;
}

static double
typical_power (const WbCraftPhysicsSpec *spec,
               double                    room_c)
{
  return spec->wicks * spec->strength_g_per_h / spec->wax_heat
         * (1 + spec->load_effect * spec->load_pct)
         * (1 + spec->flow_per_step_c * (room_c - 22));
}

static double
limit_of_power (double power_g_per_h)
{
  return USUAL_LIMIT_MM * sqrt (power_g_per_h / USUAL_POWER_G_PER_H);
}

double
wb_craft_physics_pool_limit_mm (const WbCraftPhysicsSpec *spec)
{
  return limit_of_power (typical_power (spec, 22));
}

double
wb_craft_physics_full_pool_h (const WbCraftPhysicsSpec *spec)
{
  double limit = wb_craft_physics_pool_limit_mm (spec);

  if (limit <= spec->inner_mm)
    return INFINITY;
  return -spec->tau_h * log1p (-spec->inner_mm / limit);
}

WbCraftPhysicsCandle *
wb_craft_physics_candle_new (const WbCraftPhysicsSpec *spec,
                             guint64                   seed)
{
  WbCraftPhysicsCandle *self;

  g_return_val_if_fail (spec != NULL && spec->inner_mm > 0 && spec->wax_height_mm > 0, NULL);

  self = g_new0 (WbCraftPhysicsCandle, 1);
  self->spec = *spec;
  wb_calc_random_init (&self->random, seed, 0);
  self->fill_g = wb_craft_physics_g_per_mm (spec) * spec->wax_height_mm
                 * exp (0.006 * wb_calc_random_normal (&self->random) * (spec->noise > 0));
  self->left_g = self->fill_g;
  self->own = exp (spec->sample_sd * wb_calc_random_normal (&self->random));
  self->lopsided = 0.012 * wb_calc_random_normal (&self->random) * (spec->noise > 0);
  self->ring_mm = INFINITY;
  return self;
}

void
wb_craft_physics_candle_free (WbCraftPhysicsCandle *self)
{
  g_free (self);
}

double
wb_craft_physics_candle_get_fill_g (const WbCraftPhysicsCandle *self)
{
  return self->fill_g;
}

double
wb_craft_physics_candle_get_level_mm (const WbCraftPhysicsCandle *self)
{
  return self->left_g / wb_craft_physics_g_per_mm (&self->spec);
}

gboolean
wb_craft_physics_candle_is_spent (const WbCraftPhysicsCandle *self)
{
  return wb_craft_physics_candle_get_level_mm (self) <= self->spec.residue_mm;
}

void
wb_craft_physics_candle_light (WbCraftPhysicsCandle *self,
                               double                room_c)
{
  g_return_if_fail (!self->lit);

  self->lit = TRUE;
  self->out = wb_craft_physics_candle_is_spent (self);
  self->drowned = FALSE;
  self->minutes = 0;
  self->room_c = room_c;
  self->power_g_per_h = typical_power (&self->spec, room_c) * self->own
                        * exp (self->spec.burn_sd * wb_calc_random_normal (&self->random));
  self->cap = 0;
  self->highest_mm = 0;
}

/* How far down the wax has burnt: 0 at the fill line, 1 at the base. */
static double
down (const WbCraftPhysicsCandle *self)
{
  return CLAMP (1 - self->left_g / self->fill_g, 0, 1);
}

/* Power at the present level: the wall below keeps the heat, the pool runs hotter and faster. */
static double
power_now (const WbCraftPhysicsCandle *self)
{
  return self->power_g_per_h * (1 + 0.18 * down (self) * down (self));
}

static double
free_limit (const WbCraftPhysicsCandle *self)
{
  return limit_of_power (power_now (self)) * (1 + 0.03 * down (self));
}

/* Pool as it would stand without a wall, mm. */
static double
pool_at (const WbCraftPhysicsCandle *self)
{
  double pool = free_limit (self) * -expm1 (-self->minutes / 60.0 / self->spec.tau_h);

  return MIN (pool, self->ring_mm);
}

static double
flame_at (const WbCraftPhysicsCandle *self)
{
  double flow = power_now (self) / self->spec.wicks;
  double height = MAX (FLAME_MM_PER_G_H * flow + FLAME_OFFSET_MM, 3.0);

  if (self->out)
    return 0;
  /* a cap burns on and lifts the flame a little over the hours */
  return height * (1 + 0.05 * self->cap) * -expm1 (-self->minutes / FLAME_RISE_MIN);
}

static double
depth_at (const WbCraftPhysicsCandle *self)
{
  double width = free_limit (self) / self->spec.inner_mm;
  double level = wb_craft_physics_candle_get_level_mm (self);
  double depth = USUAL_DEPTH_MM * pow (width / (USUAL_LIMIT_MM / USUAL_INNER_MM), 1.5)
                 * (1 + 0.25 * down (self)) * -expm1 (-self->minutes / 60.0 / DEPTH_RISE_H);

  return MIN (depth, level);
}

/* Of the outside wall over the room, K. */
static double
rise_at (const WbCraftPhysicsCandle *self)
{
  double reach = MIN (pool_at (self) / self->spec.inner_mm, 1);
  double hot = power_now (self) / USUAL_POWER_G_PER_H * USUAL_INNER_MM / self->spec.inner_mm;
  double low = down (self);

  return USUAL_RISE_K * hot * (0.45 + 0.55 * reach * reach)
         * (1 + self->spec.bottom_heat * low * low * low)
         * -expm1 (-self->minutes / 60.0 / WALL_RISE_H);
}

static void
go_out (WbCraftPhysicsCandle *self,
        gboolean              drowned)
{
  self->out = TRUE;
  self->drowned = drowned;
}

static void
burn_on (WbCraftPhysicsCandle *self,
         double                minutes)
{
  while (self->minutes < minutes && !self->out)
    {
      double step = MIN (minutes - self->minutes, MAXIMUM_STEP_MIN);
      double flame;

      self->left_g = MAX (self->left_g - power_now (self) * step / 60.0, 0);
      self->minutes += step;
      flame = flame_at (self);
      self->highest_mm = MAX (self->highest_mm, flame);
      self->cap += self->spec.cap_tendency * 0.5 * pow (power_now (self) / self->spec.wicks / 5.0, 4)
                   * exp (-self->minutes / 60.0 / CAP_RISE_H) * step / 60.0;
      self->soot += self->spec.soot_tendency * MAX (flame - 27.0, 0) / 60.0 * step / 60.0;
      if (wb_craft_physics_candle_is_spent (self))
        go_out (self, FALSE);
      else if (free_limit (self) < DROWN_SHARE * self->spec.inner_mm && self->minutes > 150)
        go_out (self, TRUE);
    }
  self->minutes = MAX (self->minutes, minutes);
}

/* Wax on the wall: the ring of now, or what earlier burns left and the heat has not taken. */
static double
hang_up_at (const WbCraftPhysicsCandle *self)
{
  double ring = MAX (self->spec.inner_mm - pool_at (self), 0) / 2;
  double cleaning = CLAMP ((rise_at (self) - 18) / 14, 0, 1);

  return MAX (ring, self->hang_up_mm * (1 - cleaning));
}

static void
stand (const WbCraftPhysicsCandle *self,
       WbCraftPhysicsReading      *reading)
{
  double pool = pool_at (self);
  double inner = self->spec.inner_mm;
  double flame = flame_at (self);

  *reading = (WbCraftPhysicsReading) {
    .pool_a_mm = MIN (pool * (1 + self->lopsided / 2), inner),
    .pool_b_mm = MIN (pool * (1 - self->lopsided / 2), inner),
    .depth_mm = depth_at (self),
    .flame_mm = flame,
    .flame_max_mm = MAX (self->highest_mm, flame),
    .vessel_c = self->room_c + rise_at (self),
    .base_c = self->room_c + rise_at (self) * (0.25 + 0.6 * pow (down (self), 2)),
    .smoke = flame > 55 ? 2 : flame > 40 ? 1 : 0,
    .soot = (int) CLAMP (floor (self->soot), 0, 4),
    .mushroom = (int) CLAMP (floor (self->cap), 0, 2),
    .hang_up_mm = hang_up_at (self),
    .mass_g = self->spec.tare_g + self->left_g,
    .out = self->out,
    .drowned = self->drowned,
  };
  reading->hang_up_share_pct = reading->hang_up_mm > 0.5 ? MIN (100, 40 + 15 * reading->hang_up_mm) : 0;
  if (self->spec.throw_strength > 0)
    reading->throw_rating = (int) CLAMP (lround (1 + (self->spec.throw_strength - 1)
                                                 * MIN (pool / inner, 1)), 1, 5);
}

void
wb_craft_physics_candle_look (WbCraftPhysicsCandle  *self,
                              double                 minutes,
                              WbCraftPhysicsReading *truth)
{
  g_return_if_fail (self->lit);

  burn_on (self, minutes);
  stand (self, truth);
  self->highest_mm = 0;
}

static double
misread (WbCraftPhysicsCandle *self,
         double                value,
         double                sd,
         double                resolution)
{
  double seen = value + self->spec.noise * sd * wb_calc_random_normal (&self->random);

  /* Divided by tenths' whole number, so that 24.2 is written and not 24.200000000000003. */
  if (self->spec.noise > 0 && resolution < 1)
    seen = round (seen / resolution) / round (1 / resolution);
  else if (self->spec.noise > 0)
    seen = round (seen / resolution) * resolution;
  return MAX (seen, 0);
}

static int
misjudge (WbCraftPhysicsCandle *self,
          double                truth,
          int                   highest)
{
  double seen = truth + 0.22 * self->spec.noise * wb_calc_random_normal (&self->random);

  return (int) CLAMP (floor (seen), 0, highest);
}

void
wb_craft_physics_candle_read (WbCraftPhysicsCandle  *self,
                              double                 minutes,
                              WbCraftPhysicsReading *reading)
{
  double inner = self->spec.inner_mm;
  double wobble;

  g_return_if_fail (self->lit);

  wb_craft_physics_candle_look (self, minutes, reading);
  /* as many draws a reading whatever it shows, so that a burn's later luck does not hang on its earlier figures */
  wobble = self->spec.noise * 0.06 * wb_calc_random_normal (&self->random);
  /* nobody misreads a pool that is at the wall: the error falls on where the pool would be without it */
  reading->pool_a_mm = fmin (misread (self, pool_at (self) * (1 + self->lopsided / 2), 1.0, 0.5), inner);
  reading->pool_b_mm = fmin (misread (self, pool_at (self) * (1 - self->lopsided / 2), 1.0, 0.5), inner);
  reading->depth_mm = misread (self, reading->depth_mm, 0.3, 0.5);
  reading->flame_mm = misread (self, reading->flame_mm * (1 + wobble), 0, 1);
  reading->flame_max_mm = fmax (misread (self, reading->flame_max_mm * (1 + fabs (wobble)), 0, 1), reading->flame_mm);
  reading->vessel_c = misread (self, reading->vessel_c, 0.8, 0.1);
  reading->base_c = misread (self, reading->base_c, 0.8, 0.1);
  reading->soot = misjudge (self, self->soot, 4);
  reading->mushroom = misjudge (self, self->cap, 2);
  reading->hang_up_mm = misread (self, reading->hang_up_mm, 0.15, 0.5);
  reading->mass_g = misread (self, reading->mass_g, 0.05, 0.1);
  if (minutes <= 0)
    {
      reading->pool_a_mm = reading->pool_b_mm = reading->depth_mm = 0;
      reading->flame_mm = reading->flame_max_mm = 0;
      reading->mushroom = 0;
    }
}

void
wb_craft_physics_candle_snuff (WbCraftPhysicsCandle *self)
{
  double pool;

  g_return_if_fail (self->lit);

  pool = pool_at (self);
  self->hang_up_mm = hang_up_at (self);
  if (pool >= self->spec.inner_mm)
    self->ring_mm = INFINITY;
  else if (isfinite (self->ring_mm))
    self->ring_mm += 0.8; /* a ring gives way slowly */
  else if (pool < MEMORY_SHARE * MIN (free_limit (self), self->spec.inner_mm))
    self->ring_mm = pool;
  self->lit = FALSE;
}
