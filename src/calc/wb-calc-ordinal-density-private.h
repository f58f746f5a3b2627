/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-calc-ordinal.h"
#include "wb-calc-random.h"

/*
 * The posterior of wb-calc-ordinal.h as a density over unbounded numbers q, each
 * with a scale near 1:
 *
 *   thresholds   tau_c = q_c for the threshold c in the middle of the ratings, from there up and down by
 *                gaps exp (t_m), the width of category m; theta = S tau, S^2 = 1 + s_group^2 + s_unit^2,
 *                so that Phi (tau) are the integrated chances of the prior. An end that was hardly seen
 *                lies far out by an unknown amount: it must not be what the others are measured from
 *   slopes       beta_j = slope_sd / d_j q
 *   ln s         ln median + ln factor q, of the spreads that there are
 *   deviates     a_g of groups with observations, z_u of units with observations
 *
 * All categories below the lowest rating seen are one here, and all above the
 * highest: given its sum, how such a chance divides is prior alone (a property of
 * the Dirichlet), and is drawn afterwards.
 */

/* Equal ratings of one unit in one group, counted. */
typedef struct
{
  size_t category; /* of the merged ones */
  double count;
} WbCalcOrdinalEntry;

/* The entries of one unit in one group, categories rising. */
typedef struct
{
  size_t unit;
  size_t group;
  size_t first; /* entry */
  size_t n;
} WbCalcOrdinalPair;

typedef struct
{
  size_t              n_groups;
  size_t              n_columns;

  size_t              lowest;        /* ratings seen */
  size_t              highest;
  size_t              n_categories;  /* merged */
  size_t              n_below;       /* unseen categories merged at the lower and the upper end */
  size_t              n_above;
  double              weight[WB_CALC_ORDINAL_MAX_CATEGORIES]; /* Dirichlet, of merged categories */
  double              count[WB_CALC_ORDINAL_MAX_CATEGORIES];  /* observations */

  WbCalcOrdinalEntry *entries;
  WbCalcOrdinalPair  *pairs;
  size_t              n_pairs;
  size_t              n_units_seen;
  bool                units_alone;   /* no unit shares its group, none is in two groups */

  double             *centre;        /* n_columns */
  double             *column_scale;  /* n_columns: slope_sd / d_j */
  double             *x;             /* n_groups x n_columns, centred and scaled: slopes in q are N (0, 1) */

  WbCalcOrdinalSpread between_groups;
  WbCalcOrdinalSpread between_units;

  size_t              n;             /* of q, and where its parts begin */
  size_t              anchor;        /* c */
  size_t              slopes;
  size_t              log_group;     /* n where there is no such spread */
  size_t              log_unit;
  size_t              group_deviates; /* n_groups, those not seen too: theirs are prior draws */
  size_t              unit_deviates;  /* n_units_seen */

  double             *eta;           /* n_groups, work */
  double             *eta_gradient;  /* n_groups, work */
} WbCalcOrdinalDensity;

/* One state in the terms of the model, thresholds of merged categories. */
typedef struct
{
  double tau[WB_CALC_ORDINAL_MAX_CATEGORIES];
  double gap[WB_CALC_ORDINAL_MAX_CATEGORIES];      /* exp (t_m) */
  double log_gap[WB_CALC_ORDINAL_MAX_CATEGORIES];
  double bend[WB_CALC_ORDINAL_MAX_CATEGORIES];     /* dt_m / dq of category m */
  double group_sd;
  double unit_sd;
  double scale;                                    /* S */
} WbCalcOrdinalState;

/* Data and prior have been checked. Clear it in any case. */
WbCalcStatus wb_calc_ordinal_density_init (WbCalcOrdinalDensity     *density,
                                           const WbCalcOrdinalData  *data,
                                           const WbCalcOrdinalPrior *prior);
void wb_calc_ordinal_density_clear (WbCalcOrdinalDensity *density);

/* A state with a density: thresholds at the pooled frequencies, all else at its prior's middle. */
void wb_calc_ordinal_density_start (const WbCalcOrdinalDensity *density,
                                    double                     *q);

void wb_calc_ordinal_density_read (const WbCalcOrdinalDensity *density,
                                   const double               *q,
                                   WbCalcOrdinalState         *state);

/* (x_g - c)' beta + s_group a_g for every group. */
void wb_calc_ordinal_density_predict (const WbCalcOrdinalDensity *density,
                                      const double               *q,
                                      const WbCalcOrdinalState   *state,
                                      double                     *eta);

/* WbCalcChainDensity; `user` is the WbCalcOrdinalDensity, whose work it uses. */
double wb_calc_ordinal_density_at (const double *q,
                                   double       *gradient,
                                   void         *user);

/*
 * WbCalcChainMove; `user` as above. New spreads with every effect s a_g, s z_u and
 * theta held: the likelihood stays, so it costs next to nothing, and it goes far
 * where the effects are told well, which is where steps in q with the deviates held
 * go slowly (the interweaving of Yu and Meng, J. Comput. Graph. Stat. 20 (2011)
 * 531-570). Metropolis proposals for each ln s; and an exchange of both spreads
 * with their deviates where no group has two units.
 */
bool wb_calc_ordinal_density_rescale (double       *q,
                                      WbCalcRandom *random,
                                      void         *user);
