/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stdbool.h>
#include <stddef.h>

#include "wb-calc-random.h"
#include "wb-calc-status.h"

/*
 * Hamiltonian Monte Carlo on a smooth density over all of R^n with a diagonal
 * metric: warmed up once (step by dual averaging, metric from the variances seen),
 * then any number of states.
 */

/* The log density up to a constant and its gradient at q; -INFINITY (gradient then unread) where it is no number. */
typedef double (*WbCalcChainDensity) (const double *q,
                                      double       *gradient,
                                      void         *user);

/* A move of q that leaves the density as it is, taken after every trajectory; true when q has changed. */
typedef bool (*WbCalcChainMove) (double       *q,
                                 WbCalcRandom *random,
                                 void         *user);

typedef struct
{
  size_t             n;
  WbCalcChainDensity density;
  WbCalcChainMove    move;      /* or NULL */
  void              *density_user; /* of both */
  WbCalcKeepGoing    keep_going;
  void              *keep_going_user;
  WbCalcRandom      *random;    /* borrowed */

  double            *q;         /* n: the state; set by the caller before the warm-up, density finite there */
  double            *scale;     /* n: standard deviations of the metric */
  double             value;     /* log density of q */
  double             step;
  double             accepted;  /* chance with which the last proposal was accepted */

  double            *gradient;
  double            *work;      /* 3 n: state, gradient and momentum under way */
  double            *moments;   /* 2 n: running mean and sum of squares of a warm-up window */
} WbCalcChain;

WbCalcStatus wb_calc_chain_init (WbCalcChain *chain,
                                 size_t       n);
void wb_calc_chain_clear (WbCalcChain *chain);

/* Adapts step and metric. WB_CALC_BAD_INPUT: no density at the start. WB_CALC_CANCELLED. */
WbCalcStatus wb_calc_chain_warm_up (WbCalcChain *chain);

/* One more state into chain->q. */
void wb_calc_chain_advance (WbCalcChain *chain);

/*
 * How many independent draws the mean of the n values, `stride` apart, is worth:
 * n / (1 + 2 sum of autocorrelations), the sum cut where a pair of neighbours
 * first falls below 0 and kept from rising (Geyer, Statistical Science 7 (1992)
 * 473-483). At most n; n where nothing varies.
 */
double wb_calc_chain_effective (const double *values,
                                size_t        n,
                                size_t        stride);
