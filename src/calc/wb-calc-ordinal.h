/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stddef.h>
#include <stdint.h>

#include "wb-calc-status.h"

/*
 * Ordered categories 0 .. K-1 by a cumulative probit model with random effects
 * (McCullagh, J. R. Stat. Soc. B 42 (1980) 109-142):
 *
 *   P (y <= k) = Phi (theta_k - eta_g - s_unit z_u)
 *   eta_g      = (x_g - c)' beta + s_group a_g,      a_g, z_u ~ N (0, 1)
 *
 * for a rating of unit u in group g. Thresholds and both spreads are common to
 * all. Everything is on the scale of the latent normal whose own spread is 1.
 * c is the mean of x over the observations, so a shift of a column changes
 * nothing. Probit and not logit because a normal unit effect then integrates in
 * closed form: P (y <= k) = Phi ((theta_k - eta_g) / sqrt (1 + s_unit^2)).
 *
 * A unit usually lies in one group; nothing is wrong with one seen in several
 * (a judge who rates every group).
 *
 * Priors, all proper, so that ratings that separate the groups wholly still have
 * an answer:
 *
 *   s_group, s_unit   log-normal with a median and a factor: ln s ~ N (ln median, (ln factor)^2)
 *   beta_j            N (0, (slope_sd / d_j)^2), d_j the standard deviation of column j over the groups
 *                     (a unit of measure changes nothing)
 *   thresholds        the chances of the K categories in a new group at x = c, both effects integrated,
 *                     are Dirichlet (w, ..., w). With w = 1 / K all categories together weigh one
 *                     observation (Berger, Bernardo and Sun, Bayesian Analysis 10 (2015) 189-221), so that
 *                     a category that was never seen stays rare
 *
 * The posterior is drawn, not approximated by a normal: the answer of a group
 * whose ratings are all at an end is skewed.
 */

#define WB_CALC_ORDINAL_MAX_CATEGORIES 32

typedef struct
{
  size_t        n;            /* observations */
  const size_t *rating;       /* n: 0 .. n_categories - 1 */
  const size_t *unit;         /* n: 0 .. n_units - 1 */
  const size_t *group;        /* n: 0 .. n_groups - 1 */
  size_t        n_categories; /* 2 .. WB_CALC_ORDINAL_MAX_CATEGORIES; not all need be seen */
  size_t        n_units;
  size_t        n_groups;     /* a group without observations is answered from the line, its deviation drawn */
  size_t        n_columns;    /* 0 is fine */
  const double *x;            /* n_groups x n_columns by rows, no column of ones */
} WbCalcOrdinalData;

/* Median 0: there is no such effect. Else factor > 1. */
typedef struct
{
  double median;
  double factor;
} WbCalcOrdinalSpread;

typedef struct
{
  WbCalcOrdinalSpread between_groups;
  WbCalcOrdinalSpread between_units;
  double              slope_sd;        /* > 0 */
  double              category_weight; /* w above, > 0; 0 for 1 / K */
} WbCalcOrdinalPrior;

/* Wide enough for ratings by people: both spreads 0.5 within a factor of 2, slopes 2, weight 1 / K. */
#define WB_CALC_ORDINAL_PRIOR_USUAL ((WbCalcOrdinalPrior) { { 0.5, 2.0 }, { 0.5, 2.0 }, 2.0, 0.0 })

typedef struct
{
  size_t  n_draws;
  size_t  n_groups;
  size_t  n_columns;
  size_t  n_categories;
  double *eta;         /* n_draws x n_groups by rows */
  double *threshold;   /* n_draws x (n_categories - 1) by rows, never falling within a row */
  double *slope;       /* n_draws x n_columns by rows: beta, per unit of x */
  double *group_sd;    /* n_draws: s_group */
  double *unit_sd;     /* n_draws: s_unit */
  size_t  n_distinct;  /* states of the chain that the draws were taken from: each is used about n_draws / n_distinct times */
  double  n_effective; /* independent draws that the worst of what is said below is worth */

  /* Where every rating is the same (WB_CALC_ALL_SAME), else 0 and 1: */
  size_t  same_category;
  double  differs_at_most; /* one-sided 90 % bound on the chance that the next unit differs */
} WbCalcOrdinalDraws;

typedef struct
{
  double mean; /* expected rating of the next unit, 0 .. K-1, mean over the draws */
  double low;
  double high;
  double chance[WB_CALC_ORDINAL_MAX_CATEGORIES]; /* that the next unit's rating is k, mean over the draws; sums to 1 */
} WbCalcOrdinalSummary;

/*
 * Draws from the posterior by Hamiltonian Monte Carlo (Neal, in Handbook of Markov
 * Chain Monte Carlo, 2011; the step by dual averaging after Hoffman and Gelman,
 * J. Mach. Learn. Res. 15 (2014) 1593-1623) over deviates, slopes, log spreads and
 * thresholds, the spreads moved once more with their effects held after each
 * trajectory; categories never seen below the lowest and above the highest rating
 * are drawn from their prior share. The chain is lengthened until the worst of the
 * groups' expected ratings and of thresholds and spreads (as shares of the total
 * spread) is worth 400 independent draws, or to 8,000 states; the n_draws come from
 * it evenly, in shuffled order. The result is a function of data, prior, n_draws
 * and seed alone.
 *
 * WB_CALC_OK.
 * WB_CALC_ALL_SAME: every rating is the same. All of `draws` stands, and with the n
 *   units that were rated differs_at_most is 1 - 0.1^(1/n), the one-sided 90 % bound
 *   of Clopper and Pearson, Biometrika 26 (1934) 404-413. With the weight 1 / K the
 *   chance in the draws, averaged over the groups rated, keeps to it.
 * WB_CALC_BAD_INPUT: an index outside its range, x not finite, a prior outside its
 *   domain, fewer than 2 or too many categories, n_draws 0.
 * WB_CALC_TOO_FEW: no observation.
 * WB_CALC_NOT_CONVERGED: the chain was worth fewer than 100 independent draws, or x or slope_sd of extreme size left the range of a double.
 * WB_CALC_CANCELLED, WB_CALC_NO_MEMORY.
 * After anything but the first two `draws` is cleared. Free with wb_calc_ordinal_clear.
 */
WbCalcStatus wb_calc_ordinal_fit (const WbCalcOrdinalData  *data,
                                  const WbCalcOrdinalPrior *prior,
                                  size_t                    n_draws,
                                  uint64_t                  seed,
                                  WbCalcKeepGoing           keep_going,
                                  void                     *user,
                                  WbCalcOrdinalDraws       *draws);

/* Frees what draws own. Zeroed or cleared ones are fine. */
void wb_calc_ordinal_clear (WbCalcOrdinalDraws *draws);

/*
 * The chances of the n_categories categories in one draw for a unit of `group`
 * whose deviate is `z` (standard normal; 0 is the typical unit). They sum to 1.
 * draw < n_draws, group < n_groups; NaN z gives NaN.
 */
void wb_calc_ordinal_chances (const WbCalcOrdinalDraws *draws,
                              size_t                    draw,
                              size_t                    group,
                              double                    z,
                              double                   *chances);

/* The same for the next unit, whose deviate is not known: integrated over z. */
void wb_calc_ordinal_chances_next (const WbCalcOrdinalDraws *draws,
                                   size_t                    draw,
                                   size_t                    group,
                                   double                   *chances);

/*
 * What the draws say of one group: the expected rating of the next unit (the sum
 * of k times its chance, integrated over the spread of units) with its interval of
 * `level` (0.9: from the 5 % to the 95 % quantile of the draws), and the chances.
 * WB_CALC_BAD_INPUT: no such group, or level not between 0 and 1.
 */
WbCalcStatus wb_calc_ordinal_summarise (const WbCalcOrdinalDraws *draws,
                                        size_t                    group,
                                        double                    level,
                                        WbCalcOrdinalSummary     *summary);
