/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-calc-mixed.h"

/*
 * Henderson's equations of the mixed model at given spreads, with units and blocks
 * eliminated. The factors stay, so that coefficients, variances and draws can be had.
 */
typedef struct
{
  const WbCalcMixedData *data;
  size_t  width;          /* n_local + n_global */
  size_t  n_units;        /* largest unit + 1 */
  size_t  n_free;         /* rows less flat columns that were kept */
  double *local_factor;   /* n_blocks x n_local x n_local: upper Cholesky factor; INFINITY on the diagonal: left out */
  double *local_link;     /* n_blocks x n_local x n_global */
  double *local_right;    /* n_blocks x n_local */
  double *global_factor;  /* n_global x n_global */
  double *global_right;   /* n_global */
  double *a;              /* n_blocks x n_local: coefficients */
  double *b;              /* n_global */
  double *unit_effect;    /* n_units */
  double *square;         /* width x width, work */
  double *sums;           /* width, work: of a unit */
  double *right;          /* width, work */
  double  criterion;      /* -2 log restricted likelihood */
} WbCalcMixedSystem;

WbCalcStatus wb_calc_mixed_system_init  (WbCalcMixedSystem     *system,
                                         const WbCalcMixedData *data);
void         wb_calc_mixed_system_clear (WbCalcMixedSystem *system);

/* sd: n_spreads, >= 0, correlation in (-1, 1). False: not solvable there. */
bool wb_calc_mixed_system_solve (WbCalcMixedSystem *system,
                                 const double      *sd,
                                 double             correlation);

/* A target as independent standard deviates: covariances of targets are sums of products of these. */
typedef struct
{
  size_t  block;      /* SIZE_MAX: none */
  double *local;      /* n_local */
  double *global;     /* n_global */
} WbCalcMixedRay;

/* Fills a ray with room for its arrays; false: it leans on a column left out. */
bool   wb_calc_mixed_system_cast       (const WbCalcMixedSystem *system,
                                        const WbCalcMixedTarget *target,
                                        WbCalcMixedRay          *ray);
double wb_calc_mixed_system_covariance (const WbCalcMixedSystem *system,
                                        const WbCalcMixedRay    *one,
                                        const WbCalcMixedRay    *other);
double wb_calc_mixed_system_value      (const WbCalcMixedSystem *system,
                                        const WbCalcMixedTarget *target);
/* Coefficients by deviates: z n_global, then n_blocks x n_local; into a (n_blocks x n_local) and b (n_global). */
void   wb_calc_mixed_system_draw       (const WbCalcMixedSystem *system,
                                        const double            *z,
                                        double                  *a,
                                        double                  *b);
/* Squares of coefficients a (n_blocks x n_local) and b (n_global) by the opinions on them. */
double wb_calc_mixed_system_opinions   (const WbCalcMixedSystem *system,
                                        const double            *sd,
                                        double                   correlation,
                                        const double            *a,
                                        const double            *b);
/* Error variance of row i at the spreads. */
double wb_calc_mixed_system_variance   (const WbCalcMixedData *data,
                                        const double          *sd,
                                        size_t                 i);
