/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "wb-craft-physics.h"

static WbCraftPhysicsSpec
exact_spec (double strength)
{
  WbCraftPhysicsSpec spec = wb_craft_physics_spec_usual ();

  spec.strength_g_per_h = strength;
  spec.noise = spec.sample_sd = spec.burn_sd = 0;
  return spec;
}

/* 76.2 mm at 0.90 g/cm3: 45.6 cm2, 4.10 g per mm; 5 g/h sinks 1.22 mm/h; the last 13 mm hold 52 g at the
 * rounded 4.0 to 4.1 g/mm. Arithmetic on the vessel's section, no other source. */
static void
test_geometry (void)
{
  WbCraftPhysicsSpec spec = exact_spec (5);
  g_autoptr (WbCraftPhysicsCandle) candle = NULL;
  double g_per_mm = wb_craft_physics_g_per_mm (&spec);
  double before;
  WbCraftPhysicsReading reading;

  g_assert_cmpfloat_with_epsilon (g_per_mm, 4.10, 0.01);
  g_assert_cmpfloat_with_epsilon (5 / g_per_mm, 1.22, 0.005);
  g_assert_cmpfloat_with_epsilon (13 * g_per_mm, 52, 1.5);

  candle = wb_craft_physics_candle_new (&spec, 1);
  before = wb_craft_physics_candle_get_level_mm (candle);
  wb_craft_physics_candle_light (candle, 22);
  wb_craft_physics_candle_look (candle, 60, &reading);
  g_assert_cmpfloat_with_epsilon (before - wb_craft_physics_candle_get_level_mm (candle), 1.22, 0.01);
}

/* One hour per inch of inner diameter for the right wick: common practice, no source. */
static void
test_full_pool (void)
{
  WbCraftPhysicsSpec usual = exact_spec (4.5);
  WbCraftPhysicsSpec weak = exact_spec (3.2);
  WbCraftPhysicsSpec strong = exact_spec (7);

  g_assert_cmpfloat_with_epsilon (wb_craft_physics_full_pool_h (&usual), 3.0, 0.15);
  g_assert_true (isinf (wb_craft_physics_full_pool_h (&weak)));
  g_assert_cmpfloat (wb_craft_physics_full_pool_h (&strong), <, 2.0);
}

/* Flame height is linear in fuel flow while laminar (Sunderland and others, Proc. Combust. Inst. 33 (2011), as told in
 * accounts of it); a calm flame is 13 to 25 mm high and a jar candle uses 3 to 7 g/h (common practice, no source). */
static void
test_flame_is_linear_in_flow (void)
{
  double height[3];
  const double flow[3] = { 4, 5, 6 };

  for (guint i = 0; i < 3; i++)
    {
      WbCraftPhysicsSpec spec = exact_spec (flow[i]);
      g_autoptr (WbCraftPhysicsCandle) candle = NULL;
      WbCraftPhysicsReading reading;

      spec.cap_tendency = 0;
      spec.bottom_heat = 0;
      candle = wb_craft_physics_candle_new (&spec, 1);
      wb_craft_physics_candle_light (candle, 22);
      wb_craft_physics_candle_look (candle, 60, &reading);
      height[i] = reading.flame_mm;
    }
  g_assert_cmpfloat_with_epsilon (height[2] - height[1], height[1] - height[0], 0.02);
  g_assert_cmpfloat (height[0], >, 13);
  g_assert_cmpfloat (height[1], <, 25);
}

static void
test_everything_grows_from_nothing (void)
{
  WbCraftPhysicsSpec spec = exact_spec (6.5);
  g_autoptr (WbCraftPhysicsCandle) candle = wb_craft_physics_candle_new (&spec, 1);
  WbCraftPhysicsReading before, now;

  wb_craft_physics_candle_light (candle, 22);
  wb_craft_physics_candle_look (candle, 0, &before);
  g_assert_cmpfloat (before.flame_mm, ==, 0);
  g_assert_cmpfloat (before.pool_a_mm, ==, 0);
  g_assert_cmpfloat (before.depth_mm, ==, 0);
  g_assert_cmpint (before.mushroom, ==, 0);
  g_assert_cmpfloat_with_epsilon (before.vessel_c, 22, 1e-9);
  for (double minutes = 5; minutes <= 240; minutes += 5)
    {
      wb_craft_physics_candle_look (candle, minutes, &now);
      g_assert_cmpfloat (now.pool_a_mm, >=, before.pool_a_mm);
      g_assert_cmpfloat (now.depth_mm, >=, before.depth_mm);
      g_assert_cmpfloat (now.depth_mm - before.depth_mm, <, 1.0); /* it does not jump about */
      g_assert_cmpfloat (now.mass_g, <, before.mass_g);
      g_assert_cmpint (now.mushroom, >=, before.mushroom);
      before = now;
    }
  g_assert_cmpint (now.mushroom, >, 0);
}

static void
test_hang_up_agrees_with_the_ring (void)
{
  WbCraftPhysicsSpec spec = exact_spec (3.6);
  g_autoptr (WbCraftPhysicsCandle) candle = wb_craft_physics_candle_new (&spec, 1);
  WbCraftPhysicsReading reading;

  wb_craft_physics_candle_light (candle, 22);
  wb_craft_physics_candle_look (candle, 240, &reading);
  g_assert_cmpfloat (reading.hang_up_mm, >, 0);
  g_assert_cmpfloat_with_epsilon (reading.hang_up_mm,
                                  (spec.inner_mm - (reading.pool_a_mm + reading.pool_b_mm) / 2) / 2, 1e-9);
}

static void
test_a_short_first_burn_leaves_a_ring (void)
{
  WbCraftPhysicsSpec spec = exact_spec (4.5);
  g_autoptr (WbCraftPhysicsCandle) candle = wb_craft_physics_candle_new (&spec, 1);
  WbCraftPhysicsReading first, later;

  wb_craft_physics_candle_light (candle, 22);
  wb_craft_physics_candle_look (candle, 60, &first);
  wb_craft_physics_candle_snuff (candle);
  wb_craft_physics_candle_light (candle, 22);
  wb_craft_physics_candle_look (candle, 240, &later);
  g_assert_cmpfloat_with_epsilon (later.pool_a_mm, first.pool_a_mm, 1.0);
}

static double
burn_down (const WbCraftPhysicsSpec *spec,
           guint64                   seed,
           double                   *hottest_top,
           double                   *hottest_bottom)
{
  g_autoptr (WbCraftPhysicsCandle) candle = wb_craft_physics_candle_new (spec, seed);
  double mass = G_MAXDOUBLE, hours = 0;
  gboolean out = FALSE;

  *hottest_top = NAN;
  for (guint burn = 0; burn < 100 && !out; burn++)
    {
      WbCraftPhysicsReading reading;

      wb_craft_physics_candle_light (candle, 22);
      for (guint hour = 0; hour <= 4 && !out; hour++)
        {
          wb_craft_physics_candle_read (candle, hour * 60, &reading);
          g_assert_cmpfloat (reading.mass_g, <=, mass + 1);
          g_assert_cmpfloat (reading.pool_a_mm, <=, spec->inner_mm);
          mass = reading.mass_g;
          out = reading.out;
          if (!out)
            *hottest_bottom = reading.vessel_c;
        }
      hours += 4;
      if (burn == 0)
        *hottest_top = reading.vessel_c;
      wb_craft_physics_candle_snuff (candle);
    }
  g_assert_true (out);
  g_assert_true (wb_craft_physics_candle_is_spent (candle));
  return hours;
}

static void
test_the_lower_third_is_hotter (void)
{
  WbCraftPhysicsSpec spec = wb_craft_physics_spec_usual ();
  double top = NAN, bottom = NAN;
  double hours = burn_down (&spec, 7, &top, &bottom);

  g_assert_cmpfloat (bottom, >, top + 5);
  /* 312 g at about 4.8 g/h */
  g_assert_cmpfloat (hours, >, 55);
  g_assert_cmpfloat (hours, <, 75);
}

static void
test_a_seed_tells_all (void)
{
  WbCraftPhysicsSpec spec = wb_craft_physics_spec_usual ();
  g_autoptr (WbCraftPhysicsCandle) a = wb_craft_physics_candle_new (&spec, 5);
  g_autoptr (WbCraftPhysicsCandle) b = wb_craft_physics_candle_new (&spec, 5);
  g_autoptr (WbCraftPhysicsCandle) c = wb_craft_physics_candle_new (&spec, 6);
  WbCraftPhysicsReading of_a, of_b, of_c;

  wb_craft_physics_candle_light (a, 22);
  wb_craft_physics_candle_light (b, 22);
  wb_craft_physics_candle_light (c, 22);
  wb_craft_physics_candle_read (a, 120, &of_a);
  wb_craft_physics_candle_read (b, 120, &of_b);
  wb_craft_physics_candle_read (c, 120, &of_c);
  g_assert_cmpfloat (of_a.pool_a_mm, ==, of_b.pool_a_mm);
  g_assert_cmpfloat (of_a.vessel_c, ==, of_b.vessel_c);
  g_assert_cmpfloat (of_a.mass_g, !=, of_c.mass_g);
}

static void
test_far_too_weak_drowns (void)
{
  WbCraftPhysicsSpec spec = exact_spec (1.3);
  g_autoptr (WbCraftPhysicsCandle) candle = wb_craft_physics_candle_new (&spec, 1);
  WbCraftPhysicsReading reading;

  wb_craft_physics_candle_light (candle, 22);
  wb_craft_physics_candle_look (candle, 240, &reading);
  g_assert_true (reading.out);
  g_assert_true (reading.drowned);
  g_assert_cmpfloat (reading.flame_mm, ==, 0);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/craft/physics/wax-sinks-by-mass-over-density-and-section", test_geometry);
  g_test_add_func ("/craft/physics/the-right-wick-takes-an-hour-an-inch", test_full_pool);
  g_test_add_func ("/craft/physics/flame-is-linear-in-fuel-flow", test_flame_is_linear_in_flow);
  g_test_add_func ("/craft/physics/everything-grows-from-nothing", test_everything_grows_from_nothing);
  g_test_add_func ("/craft/physics/hang-up-agrees-with-the-ring", test_hang_up_agrees_with_the_ring);
  g_test_add_func ("/craft/physics/a-short-first-burn-leaves-a-ring", test_a_short_first_burn_leaves_a_ring);
  g_test_add_func ("/craft/physics/the-lower-third-is-hotter", test_the_lower_third_is_hotter);
  g_test_add_func ("/craft/physics/a-seed-tells-all", test_a_seed_tells_all);
  g_test_add_func ("/craft/physics/far-too-weak-drowns", test_far_too_weak_drowns);
  return g_test_run ();
}
