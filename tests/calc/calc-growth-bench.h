/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

#include "wb-calc-growth.h"
#include "wb-calc-random.h"

/* Invented growth data put together run by run. */
typedef struct
{
  GArray *t;          /* double */
  GArray *y;          /* double */
  GArray *censored;   /* bool */
  GArray *run;        /* size_t */
  GArray *run_unit;   /* size_t */
  GArray *unit_group; /* size_t */
  gsize   n_groups;
} CalcGrowthBench;

CalcGrowthBench *calc_growth_bench_new (void);
void             calc_growth_bench_free (CalcGrowthBench *bench);
gsize            calc_growth_bench_add_group (CalcGrowthBench *bench);
gsize            calc_growth_bench_add_unit (CalcGrowthBench *bench, gsize group);
gsize            calc_growth_bench_add_run (CalcGrowthBench *bench, gsize unit);
void             calc_growth_bench_read (CalcGrowthBench *bench, gsize run, double t, double y, bool censored);
/* Hourly readings 1 .. n of a curve with normal noise (NULL: none), stopped at `wall` (INFINITY: none). */
void             calc_growth_bench_grow (CalcGrowthBench *bench,
                                         gsize            run,
                                         double           level,
                                         double           pace,
                                         gsize            n,
                                         double           noise,
                                         WbCalcRandom    *random,
                                         double           wall);
/* Borrows the bench's arrays. */
WbCalcGrowthData calc_growth_bench_data (const CalcGrowthBench *bench);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (CalcGrowthBench, calc_growth_bench_free)
