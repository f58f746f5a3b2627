/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stdbool.h>

#include <glib.h>

#define CALC_SAMPLE_N 12

/* Readings that any of calc's functions takes: y near 20 + 2 x1 - x2, three groups, four times. */
typedef struct
{
  double x[CALC_SAMPLE_N * 2]; /* two columns by rows */
  double y[CALC_SAMPLE_N];
  double t[CALC_SAMPLE_N];
  double weights[CALC_SAMPLE_N];
  bool   censored[CALC_SAMPLE_N];
  gsize  group[CALC_SAMPLE_N];
} CalcSample;

CalcSample calc_sample_draw (guint64 seed);

/* A line in t over a sample as `user`, for fits that take a model; `curvature` NULL or zeroed. */
double     calc_sample_line (const double *beta, gsize i, double *gradient, double *curvature, void *user);
double     calc_sample_line_alone (const double *beta, gsize i, double *gradient, void *user);
