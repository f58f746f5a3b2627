/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib.h>
#include <math.h>
#include <string.h>

#include "wb-craft-fill.h"
#include "wb-cure.h"

/* Trade facts have no volume of their own: these are the formulas of a frustum, computed by hand. */

static WbVessel *
vessel_new (WbShape shape)
{
  WbVessel *vessel = wb_record_new (&wb_vessel_type);

  vessel->name = g_strdup ("Tern");
  vessel->shape = shape;
  vessel->inner_diameter_mm = 80;
  vessel->wax_height_mm = 60;
  return vessel;
}

static WbWax *
wax_new (double density)
{
  WbWax *wax = wb_record_new (&wb_wax_type);

  wax->density = density;
  return wax;
}

static void
test_water (void)
{
  WbVessel *vessel = vessel_new (WB_SHAPE_ROUND);
  WbWax *wax = wax_new (0.85);
  WbCraftFill fill;

  vessel->water_g = 214;
  fill = wb_craft_fill_of (vessel, wax);
  g_assert_cmpint (fill.way, ==, WB_CRAFT_FILL_BY_WATER_PLAIN);
  g_assert_cmpfloat_with_epsilon (fill.g, 181.9, 1e-9); /* 214 g × 0.85, common practice */

  /* Kell 1975: 0.997045 g/cm3 at 25 degC */
  vessel->water_c = 25;
  fill = wb_craft_fill_of (vessel, wax);
  g_assert_cmpint (fill.way, ==, WB_CRAFT_FILL_BY_WATER);
  g_assert_cmpfloat_with_epsilon (fill.volume_cm3, 214 / 0.9970, 1e-9); /* to four places, as a table prints it */
  g_assert_cmpfloat_with_epsilon (fill.g, 214 / 0.997045 * 0.85, 0.02);
  /* a temperature at which there is no liquid water is none */
  vessel->water_c = 130;
  g_assert_cmpint (wb_craft_fill_of (vessel, wax).way, ==, WB_CRAFT_FILL_BY_WATER_PLAIN);
  wb_record_free (vessel);
  wb_record_free (wax);
}

static void
test_shape (void)
{
  static const struct
  {
    WbShape shape;
    double  top, middle, base, width, middle_width, base_width, cm3;
  } cases[] = {
    { WB_SHAPE_ROUND, 80, NAN, NAN, NAN, NAN, NAN, G_PI / 4 * 6400 * 60 / 1000 },
    /* a cone's frustum: pi h / 12 (D² + D d + d²) */
    { WB_SHAPE_ROUND, 80, NAN, 50, NAN, NAN, NAN, G_PI * 60 / 12 * (6400 + 4000 + 2500) / 1000 },
    /* two of them, on top of each other */
    { WB_SHAPE_ROUND, 80, 70, 40, NAN, NAN, NAN, G_PI * 30 / 12 * (6400 + 5600 + 4900 + 4900 + 2800 + 1600) / 1000 },
    /* a second axis that a round vessel has left over from before says nothing */
    { WB_SHAPE_ROUND, 80, NAN, NAN, 40, NAN, NAN, G_PI / 4 * 6400 * 60 / 1000 },
    { WB_SHAPE_OVAL, 80, NAN, NAN, 60, NAN, NAN, G_PI / 4 * 4800 * 60 / 1000 },
    { WB_SHAPE_SQUARE, 80, NAN, NAN, NAN, NAN, NAN, 6400 * 60 / 1000.0 },
    { WB_SHAPE_SQUARE, 80, NAN, NAN, 50, NAN, NAN, 4000 * 60 / 1000.0 },
    /* a pyramid's frustum: h / 3 (A + a + √(A a)) */
    { WB_SHAPE_SQUARE, 80, NAN, 40, NAN, NAN, NAN, 60 / 3.0 * (6400 + 1600 + 3200) / 1000 },
    { WB_SHAPE_OVAL, 80, NAN, NAN, NAN, NAN, NAN, NAN },
    { WB_SHAPE_OTHER, 80, NAN, NAN, 60, NAN, NAN, NAN },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WbVessel *vessel = vessel_new (cases[i].shape);
      WbWax *wax = wax_new (0.9);
      WbCraftFill fill;

      vessel->inner_diameter_mm = cases[i].top;
      vessel->middle_diameter_mm = cases[i].middle;
      vessel->base_diameter_mm = cases[i].base;
      vessel->inner_width_mm = cases[i].width;
      vessel->middle_width_mm = cases[i].middle_width;
      vessel->base_width_mm = cases[i].base_width;
      fill = wb_craft_fill_of (vessel, wax);
      if (isnan (cases[i].cm3))
        {
          g_assert_true (isnan (fill.volume_cm3) && isnan (fill.g));
          g_assert_cmpint (fill.way, ==, WB_CRAFT_FILL_UNKNOWN);
        }
      else
        {
          g_assert_cmpint (fill.way, ==, WB_CRAFT_FILL_BY_SHAPE);
          g_assert_cmpfloat_with_epsilon (fill.volume_cm3, cases[i].cm3, 0.05 + 1e-9);
          g_assert_cmpfloat_with_epsilon (fill.g, fill.volume_cm3 * 0.9, 1e-9);
        }
      wb_record_free (vessel);
      wb_record_free (wax);
    }
}

static void
test_missing (void)
{
  WbVessel *vessel = vessel_new (WB_SHAPE_ROUND);
  static const double bad[] = { 0, -1, NAN, INFINITY };

  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      WbWax *wax = wax_new (bad[i]);
      g_autofree char *missing = wb_craft_fill_dup_missing (vessel, wax);

      g_assert_true (isnan (wb_craft_fill_of (vessel, wax).g));
      g_assert_cmpfloat (wb_craft_fill_of (vessel, wax).volume_cm3, >, 0);
      g_assert_nonnull (strstr (missing, "density"));
      wb_record_free (wax);
    }
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      WbWax *wax = wax_new (0.9);
      g_autofree char *missing = NULL;

      vessel->wax_height_mm = bad[i];
      vessel->water_g = bad[i];
      missing = wb_craft_fill_dup_missing (vessel, wax);
      g_assert_true (isnan (wb_craft_fill_of (vessel, wax).g));
      g_assert_nonnull (strstr (missing, "Tern"));
      wb_record_free (wax);
    }
  g_assert_true (isnan (wb_craft_fill_of (NULL, NULL).g));
  wb_record_free (vessel);
}

static WbInstant
at (const char *text)
{
  WbInstant instant = WB_INSTANT_NONE;

  g_assert_true (*text == '\0' || wb_instant_parse (text, &instant, NULL));
  return instant;
}

/* Poured at ten in the evening, or nobody knows when: a day is a day, but hours are hours. */
static void
test_fit (void)
{
  static const struct { double days; const char *poured_at, *fit_at, *words; } cases[] = {
    { 7, "2026-03-02T22:00:00Z", "2026-03-09T00:00:00Z", "9 Mar 2026" },
    { 7, "2026-03-02T00:10:00Z", "2026-03-09T00:00:00Z", "9 Mar 2026" },
    { 7, "", "2026-03-09T00:00:00Z", "9 Mar 2026" },
    { 2, "2026-03-02T22:00:00Z", "2026-03-04T00:00:00Z", "4 Mar 2026" },
    /* wax that was poured two hours before the date changed is liquid */
    { 1, "2026-03-02T22:00:00Z", "2026-03-03T22:00:00Z", "3 Mar 2026, 22:00" },
    { 1, "", "2026-03-04T00:00:00Z", "4 Mar 2026" },
    { 0.5, "2026-03-02T22:00:00Z", "2026-03-03T10:00:00Z", "3 Mar 2026, 10:00" },
    { 2.5, "2026-03-02T08:00:00Z", "2026-03-04T20:00:00Z", "4 Mar 2026, 20:00" },
    { 2.5, "", "2026-03-06T00:00:00Z", "6 Mar 2026" },
    { 0, "2026-03-02T22:00:00Z", "2026-03-02T00:00:00Z", "2 Mar 2026" },
    /* of a melt that was poured on another day */
    { 1, "2026-03-01T22:00:00Z", "2026-03-04T00:00:00Z", "4 Mar 2026" },
  };
  WbDay poured_on;

  g_assert_true (wb_day_parse ("2026-03-02", &poured_on, NULL));
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WbCureFit fit = wb_cure_fit (poured_on, at (cases[i].poured_at), cases[i].days);
      g_autofree char *words = wb_cure_fit_format (&fit);

      g_test_message ("%g days after %s", cases[i].days, cases[i].poured_at);
      g_assert_cmpint (fit.at.utc_us, ==, at (cases[i].fit_at).utc_us);
      g_assert_cmpint (fit.day, ==, wb_instant_get_day (at (cases[i].fit_at)));
      g_assert_cmpstr (words, ==, cases[i].words);
    }
  g_assert_cmpint (wb_cure_fit (WB_DAY_NONE, WB_INSTANT_NONE, 2).day, ==, WB_DAY_NONE);
  g_assert_false (wb_cure_fit (poured_on, WB_INSTANT_NONE, NAN).at.known);
}

/* A sample's own, else its fragrance's, else its wax's. */
static void
test_cure (void)
{
  WbWax *wax = wax_new (0.9);
  WbFragrance *fragrance = wb_record_new (&wb_fragrance_type);
  WbSample *sample = wb_record_new (&wb_sample_type);

  g_assert_true (isnan (wb_cure_of (sample, fragrance, wax).burn_days));
  g_assert_cmpfloat (wb_cure_of (sample, fragrance, wax).burn_wait_days, ==, 1);
  g_assert_cmpfloat (wb_cure_of (NULL, NULL, NULL).burn_wait_days, ==, 1);
  wax->burn_cure_days = 3;
  wax->smell_cure_days = 7;
  g_assert_cmpfloat (wb_cure_of (sample, fragrance, wax).burn_days, ==, 3);
  g_assert_cmpfloat (wb_cure_of (sample, fragrance, wax).smell_days, ==, 7);
  fragrance->smell_cure_days = 14;
  g_assert_cmpfloat (wb_cure_of (sample, fragrance, wax).burn_wait_days, ==, 3);
  g_assert_cmpfloat (wb_cure_of (sample, fragrance, wax).smell_days, ==, 14);
  fragrance->burn_cure_days = 5;
  g_assert_cmpfloat (wb_cure_of (sample, fragrance, wax).burn_wait_days, ==, 5);
  sample->cure_days = 0;
  g_assert_cmpfloat (wb_cure_of (sample, fragrance, wax).burn_wait_days, ==, 0);
  g_assert_cmpfloat (wb_cure_of (sample, fragrance, wax).smell_days, ==, 14);
  /* What has no scent is never fit to smell. */
  g_assert_cmpfloat (wb_cure_of (sample, NULL, wax).burn_wait_days, ==, 0);
  g_assert_true (isnan (wb_cure_of (sample, NULL, wax).smell_days));
  wb_record_free (wax);
  wb_record_free (fragrance);
  wb_record_free (sample);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/craft/fill/water-is-taken-at-its-temperature", test_water);
  g_test_add_func ("/craft/fill/diameters-and-height-make-frustums", test_shape);
  g_test_add_func ("/craft/fill/what-is-missing-is-said", test_missing);
  g_test_add_func ("/craft/fill/a-fragrance-may-cure-for-longer-than-its-wax", test_cure);
  g_test_add_func ("/craft/fill/a-day-of-cure-is-a-day-and-hours-are-hours", test_fit);
  return g_test_run ();
}
