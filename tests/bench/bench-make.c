/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "wb-calc-random.h"

/*
 * Input for the benchmarks, invented, the same at every run.
 *
 *   bench-make points N     "x y" a line: a growing pool with a reader's error
 *   bench-make log N        a burn log of N rows, in the exchange format
 *   bench-make one N        the same in one experiment, at most 200,000 rows of it
 *   bench-make report N     a burn log of one experiment of 60 samples, N burns each, of 30 vessels with scents: 120 charts
 */

static void
make_points (unsigned long n)
{
  WbCalcRandom random;

  wb_calc_random_init (&random, 1, 0);
  for (unsigned long i = 0; i < n; i++)
    {
      double t = 4.0 * (double) i / (double) n;

      printf ("%.5f %.3f\n", t, 80 * -expm1 (-t / 1.2) + wb_calc_random_normal (&random));
    }
}

/* 24 samples an experiment, burns of 25 readings. */
static void
make_log (unsigned long n,
          unsigned long evenings)
{
  WbCalcRandom random;

  wb_calc_random_init (&random, 2, 0);
  puts ("experiment,vessel,inner_diameter_mm,wax,wick_series,wick_size,wick_step,fragrance,load_pct,sample,burn,lit_at,"
        "elapsed_min,room_c,pool_a_mm,pool_b_mm,depth_mm,flame_mm,vessel_c,soot,mass_g,note");
  for (unsigned long i = 0; i < n; i++)
    {
      unsigned long reading = i % 25, burn = i / 25;
      unsigned long sample = burn % 24, evening = burn / 24 % evenings, experiment = burn / 24 / evenings;
      double t = (double) reading * 10;
      double pool = 80 * -expm1 (-t / 72);

      printf ("Experiment %lu,Vessel,84,Wax,Series,N-%lu,%lu,Scent,6,S%lu,%lu,2026-%02lu-%02luT18:%02lu:00+00:00,%.0f,%.1f,%.1f,%.1f,%.1f,%.0f,%.1f,%lu,%.1f,%s\n",
              experiment + 1, sample / 4 + 1, sample / 4 + 1, sample + 1, evening + 1, 1 + evening / 28, 1 + evening % 28, sample * 2, t,
              21 + wb_calc_random_uniform (&random), fmax (pool + wb_calc_random_normal (&random), 0),
              fmax (pool + wb_calc_random_normal (&random), 0), t / 30, fmin (t, 20), 22 + t / 12, reading / 20, 600 - t / 20,
              reading == 24 ? "calm" : "");
    }
}

/* 5 vessels, 6 scents, 2 samples of each; a burn has 5 readings. */
static void
make_report (unsigned long burns)
{
  WbCalcRandom random;

  wb_calc_random_init (&random, 3, 0);
  puts ("experiment,vessel,inner_diameter_mm,wax,wick_series,wick_size,wick_step,fragrance,load_pct,sample,burn,lit_at,"
        "elapsed_min,room_c,pool_mm,depth_mm,flame_mm,vessel_c,soot,mushroom,mass_g");
  for (unsigned long sample = 0; sample < 60; sample++)
    for (unsigned long burn = 0; burn < burns; burn++)
      for (unsigned long hour = 0; hour < 5; hour++)
        {
          unsigned long vessel = sample / 12, scent = sample / 2 % 6;
          double inner = 60 + 6 * (double) vessel, pool = (inner + 6) * -expm1 (-(double) hour / 1.2);

          printf ("Sixty samples,Vessel %c,%.0f,Wax,Series,N-1,1,Scent %c,6,S%02lu,%lu,2026-03-%02luT18:%02lu:00+00:00,%lu,%.1f,%.1f,%.1f,%.0f,%.1f,%lu,%lu,%.1f\n",
                  (char) ('A' + vessel), inner, (char) ('A' + scent), sample + 1, burn + 1, 1 + burn, sample % 60, hour * 60,
                  21 + wb_calc_random_uniform (&random), fmin (fmax (pool + wb_calc_random_normal (&random), 0), inner),
                  2.5 * (double) hour, 15 + 2 * wb_calc_random_uniform (&random), 22 + 8 * (double) hour, hour / 4, hour / 4,
                  400 - 20 * (double) burn - 5 * (double) hour);
        }
}

int
main (int    argc,
      char **argv)
{
  unsigned long n;

  if (argc != 3)
    return 2;
  n = strtoul (argv[2], NULL, 10);
  if (strcmp (argv[1], "points") == 0)
    make_points (n);
  else if (strcmp (argv[1], "log") == 0)
    make_log (n, 40);
  else if (strcmp (argv[1], "report") == 0)
    make_report (n);
  else if (strcmp (argv[1], "one") == 0)
    make_log (n, 334);
  else
    return 2;
  return 0;
}
