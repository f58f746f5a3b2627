/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stddef.h>
#include <stdint.h>

#include "wb-calc-status.h"

/*
 * Growth towards a level, with readings that may stop at a wall:
 *
 *   D (t) = A (1 - exp (-t / tau)),  y = D (t) + e,  e ~ N (0, sigma^2)
 *
 * t is time from the start (>= 0, any unit, here hours), y and A have one unit
 * (here mm). A censored reading says "at least y": it adds ln Phi ((D - y) / sigma)
 * to the log likelihood (Tobin, Econometrica 26 (1958) 24-36), never a residual.
 *
 * Three layers: one curve (`simple`, `least_squares`), and many curves pooled
 * (`pooled`). A *run* is one curve, a *unit* has several runs, a *group* has
 * several units, all groups of one question go into one call.
 */

/* ---- One curve ---- */

typedef struct
{
  double level;        /* A */
  double level_sd;     /* by the delta method from ln A */
  double pace;         /* tau */
  double pace_sd;
  double sigma;        /* of a reading: ML (simple), or sqrt (RSS / (n - 2)) (least squares) */
  double sigma_sd;     /* ML only, NaN for least squares */
  double log_var[2];   /* variances of ln A and ln tau */
  double log_cov;      /* their covariance */
  double minus_loglik; /* at the maximum; least squares: with sigma^2 = RSS / n */
  double rss;          /* over the readings that are not censored */
  size_t n;
  size_t n_censored;
} WbCalcGrowthCurve;

/*
 * Maximum likelihood over (ln A, ln tau, ln sigma) of the n readings of one curve,
 * censored ones included; standard errors from the observed information. Started
 * from a search of its own. `censored` NULL means none.
 *
 * WB_CALC_BAD_INPUT: not finite, t < 0.  WB_CALC_ONLY_CENSORED: every reading is.
 * WB_CALC_TOO_FEW: fewer than 4 readings, or fewer than 2 different times > 0.
 * WB_CALC_FLAT: no growth between the first and the last reading to tell tau by
 * (or no reading above 0).  WB_CALC_UNIDENTIFIED: still so straight at the last
 * reading that A and tau run off together, or the readings lie exactly on a
 * curve.  WB_CALC_NOT_CONVERGED.
 */
WbCalcStatus wb_calc_growth_fit_simple (const double      *t,
                                        const double      *y,
                                        const bool        *censored,
                                        size_t             n,
                                        WbCalcGrowthCurve *curve);

/*
 * Non-linear least squares over (ln A, ln tau) without censoring, by
 * wb_calc_nonlinear_fit and with its statuses, from the start (`level_start`,
 * `pace_start`), both > 0. n >= 3. Standard errors from sigma^2 (J'J)^-1 with
 * sigma^2 = RSS / (n - 2).
 */
WbCalcStatus wb_calc_growth_fit_least_squares (const double      *t,
                                               const double      *y,
                                               size_t             n,
                                               double             level_start,
                                               double             pace_start,
                                               WbCalcGrowthCurve *curve);

/* A (1 - exp (-t / tau)); NaN unless t >= 0 and tau > 0. */
double wb_calc_growth_value (double level,
                             double pace,
                             double t);

/* ---- Many curves ---- */

/*
 * Groups may share a pace (those of one vessel), runs may have covariates, and groups
 * may borrow their levels from each other through columns of a design.
 */
typedef struct
{
  size_t        n_readings;
  const double *t;             /* n_readings, >= 0 */
  const double *y;
  const bool   *censored;      /* NULL: none */
  const size_t *run;           /* 0 .. n_runs - 1 */
  size_t        n_runs;
  const size_t *run_unit;      /* n_runs: 0 .. n_units - 1 */
  size_t        n_units;
  const size_t *unit_group;    /* n_units: 0 .. n_groups - 1 */
  size_t        n_groups;
  size_t        n_paces;       /* common paces; used where group_pace is not NULL */
  const size_t *group_pace;    /* n_groups: 0 .. n_paces - 1; NULL: one common pace */
  size_t        n_covariates;  /* 0 to 4 */
  const double *run_covariate; /* n_runs x n_covariates */
  const double *group_covariate; /* n_groups x n_covariates: where a group's level is told; NULL: at 0 */
  const double *covariate_sd;  /* n_covariates, > 0: weak opinion on the change of ln A with each; INFINITY: none */
  bool          borrow;        /* levels are columns' sum and a deviation of the group; otherwise each level is its own */
  size_t        n_columns;     /* with borrow; a mean must be among them */
  const double *group_column;  /* n_groups x n_columns */
  const double *column_sd;     /* n_columns: weak opinion on each coefficient, INFINITY: none; 0: random, of a common spread estimated */
  bool          may_bend;      /* try an exponent on the time, see below */
} WbCalcGrowthData;

/* What is believed about a spread (a sd of logarithms) before the data: log-normal around `median`. factor 0: nothing. */
typedef struct
{
  double median; /* > 0 where factor > 1 */
  double factor; /* exp of the sd of its logarithm: > 1, or 0 */
} WbCalcGrowthSpread;

typedef struct
{
  WbCalcGrowthSpread between_units;
  WbCalcGrowthSpread between_runs;
  WbCalcGrowthSpread between_paces;  /* of ln tau between the groups of a common pace */
  WbCalcGrowthSpread between_groups; /* of ln A around the columns' sum, with borrow */
  WbCalcGrowthSpread of_columns;     /* of the random columns' coefficients */
  double             pace_sd;        /* of the common ln tau around where the readings' own curves begin; 0: next to nothing, 3 */
  double             reading_sd;     /* sigma where too few plain readings are there to tell it; 0: then nothing is fitted */
} WbCalcGrowthPrior;

/*
 * One group's answer. `status`:
 *   WB_CALC_OK             all figures stand
 *   WB_CALC_FLAT           grown up before the first reading: log_level and its variance stand, log_pace and what
 *                          belongs to it do not; or nothing above 0 was read: none stands
 *   WB_CALC_ONLY_CENSORED  only `lower_bound` stands; where groups borrow, figures stand that rest on the others
 *   WB_CALC_TOO_FEW        no reading at a time above 0; or plain readings at one time only and fewer than two
 *                          other groups to lend their pace (with an opinion on how far paces differ: none that has
 *                          plain readings at two times, or at one and others at the wall); or, without `reading_sd`,
 *                          all groups together hold no more plain readings than two a group; or columns that depend on each other leave its level open. Where groups
 *                          borrow, a group without readings has figures all the same
 *   WB_CALC_UNIDENTIFIED   figures are given, but sd (ln A) > 0.5 or sd (ln tau) > 1, or A is more than ten times the largest reading:
 *                          no estimate
 * Figures that do not stand are NaN. Counts always stand.
 */
typedef struct
{
  WbCalcStatus status;
  double       log_level;        /* mean of ln A over the units of the group */
  double       log_pace;         /* ln tau */
  double       var_log_level;    /* of the group's mean, between-unit spread included */
  double       var_log_pace;
  double       cov;              /* of log_level and log_pace */
  double       df;               /* of var_log_level, Satterthwaite, >= 1, may be INFINITY; with borrow 1: draw instead */
  double       df_pace;          /* of var_log_pace */
  double       sigma;            /* of a reading, unit of y, common to all groups */
  double       between_units_sd; /* of ln A, common to all groups; NaN: no replicates and no prior, then variances leave it out */
  double       between_runs_sd;  /* of ln A within a unit, likewise; NaN: one run a unit and no prior, then it is part of the above */
  double       exponent;         /* of the law, common to all groups: 1 unless bent */
  double       lower_bound;      /* largest censored y, NaN without one */
  size_t       n_readings;
  size_t       n_censored;
  size_t       n_runs;           /* with at least one reading */
  size_t       n_units;          /* with at least one reading */
} WbCalcGrowthGroup;

typedef struct _WbCalcGrowthModel WbCalcGrowthModel;

typedef struct
{
  WbCalcGrowthGroup *groups; /* n_groups */
  size_t             n_groups;
  double            *run_log_level; /* n_runs: ln A of each run, shrunken to its unit and group; NaN where its group has none */
  size_t             n_runs;
  double             sigma;
  double             between_units_sd;     /* as in the groups */
  double             between_runs_sd;
  double             between_pace_sd;      /* of ln tau between groups of a common pace; NaN where none has two */
  double             exponent;
  double             units_df;             /* units beyond one a group */
  double             minus_log_restricted; /* at the optimum */
  WbCalcGrowthModel *model;                /* for draws */
} WbCalcGrowthPool;

/*
 * All groups at once:
 *
 *   ln A of a run = level of its group + covariates + unit + run,  unit ~ N (0, su^2), run ~ N (0, sr^2)
 *   level         = m_group, flat; with borrow: columns + deviation, deviation ~ N (0, sg^2)
 *   ln tau        = common pace + deviation of the group, N (0, sp^2)
 *   D (t)         = A (1 - exp (-(t / tau)^g)), g = 1 unless twice the log-likelihood ratio passes 6.63 (the 1 %
 *                   point of chi-square with one degree of freedom)
 *
 * sigma and the spreads are common to all groups and maximise the restricted
 * likelihood times the priors, in which the runs' and units' deviations and all
 * coefficients are integrated out by Laplace's approximation with Gauss-Newton
 * curvature (Lindstrom and Bates, Biometrics 46 (1990) 673-687), censored readings by
 * their expected curvature. Where a group alone cannot tell its pace, the others'
 * pace stands in by as much as groups have been seen to agree.
 *
 * Variances of the group figures hold the uncertainty of both; the degrees of
 * freedom follow Satterthwaite from the curvature of the restricted likelihood; when
 * su comes out as 0 they are held to `units_df`. Where no group has a second unit, and
 * `prior` an opinion on su, they are those of the t with the 95 % point of a normal with a
 * log-normal sd, as of wb_calc_mixed_contrast.
 *
 * The call fails with WB_CALC_BAD_INPUT (not finite, t < 0, indexes out of range),
 * WB_CALC_TOO_FEW (no group can be fitted: the groups' own statuses and counts are
 * filled all the same), WB_CALC_NOT_CONVERGED, WB_CALC_CANCELLED. `prior` may be
 * NULL. wb_calc_growth_pool_clear frees the result, after a failure too. `data` need
 * not stay.
 */
WbCalcStatus wb_calc_growth_fit_pooled (const WbCalcGrowthData  *data,
                                        const WbCalcGrowthPrior *prior,
                                        WbCalcKeepGoing          keep_going,
                                        void                    *user,
                                        WbCalcGrowthPool        *pool);

void wb_calc_growth_pool_clear (WbCalcGrowthPool *pool);

/* Best linear predictor of a unit's deviation of ln A; NaN where it has no readings that are fitted. */
double wb_calc_growth_pool_get_unit (const WbCalcGrowthPool *pool, size_t unit);

/*
 * Joint draws of (ln A, ln tau) of the groups in `asked` (n of them, of the caller's
 * data) from their common distribution, the spreads' own uncertainty included; see
 * wb_calc_mixed_draw for `seed` and `z`, which has wb_calc_growth_pool_n_deviates
 * numbers a draw: of the n_shared global columns first, then one (level) or two
 * (level, pace) a group. `levels` and `paces` n_draws x n; `units`, `runs` n_draws:
 * the spreads of that draw (NULL: not asked).
 */
size_t       wb_calc_growth_pool_n_deviates (const WbCalcGrowthPool *pool, size_t *n_shared, size_t *n_local);
WbCalcStatus wb_calc_growth_pool_draw       (const WbCalcGrowthPool *pool,
                                             const size_t           *asked,
                                             size_t                  n,
                                             uint64_t                seed,
                                             size_t                  n_draws,
                                             const double           *z,
                                             double                 *levels,
                                             double                 *paces,
                                             double                 *units,
                                             double                 *runs);

typedef struct
{
  double value;
  double sd;
  double df;    /* Satterthwaite's, as of wb_calc_mixed_contrast on the linearised readings; >= 1 */
} WbCalcGrowthContrast;

/*
 * sum of of_level[k] ln A + of_pace[k] ln tau over the groups in `asked` (n of them, of the
 * caller's data), with the correlation that shared paces, covariates and columns make between
 * groups. WB_CALC_TOO_FEW: no fit, or a group asked whose own figures do not stand (a pace
 * only where its weight is not 0). WB_CALC_BAD_INPUT: an index out of range, a weight not
 * finite. WB_CALC_UNIDENTIFIED, WB_CALC_NO_MEMORY.
 */
WbCalcStatus wb_calc_growth_pool_contrast (const WbCalcGrowthPool *pool,
                                           const size_t           *asked,
                                           const double           *of_level,
                                           const double           *of_pace,
                                           size_t                  n,
                                           WbCalcGrowthContrast   *contrast);

/* ---- What a fit foretells ---- */

/* A (1 - exp (-(t / tau)^g)); NaN unless t >= 0, tau > 0 and g > 0. */
double wb_calc_growth_bent_value (double level,
                                  double pace,
                                  double exponent,
                                  double t);

/* tau (-ln (1 - D / A))^(1 / g): INFINITY where the level stays below `target`, NaN unless tau, g and target are > 0. */
double wb_calc_growth_bent_time  (double level,
                                  double pace,
                                  double exponent,
                                  double target);

typedef enum
{
  WB_CALC_GROWTH_MEAN,     /* the group's mean curve */
  WB_CALC_GROWTH_NEXT_RUN  /* a run of a unit not seen yet: both spreads added; WB_CALC_TOO_FEW when between_units_sd is NaN */
} WbCalcGrowthWhat;

typedef struct
{
  bool   never;       /* the estimate is "never": `value` is NaN */
  double value;       /* -tau ln (1 - D / A) at the estimates, unit of t */
  double low;         /* interval of the coverage asked; NaN when never even at its lower end */
  bool   low_never;
  double high;        /* NaN when high_never */
  bool   high_never;  /* the interval has no upper end */
  double p_never;     /* chance that the level stays below */
} WbCalcGrowthTime;

/*
 * Time to reach `target` (unit of y, > 0). Interval and p_never come from
 * `n_draws` (0: 4096) draws of (ln A, ln tau) with a joint t of the group's degrees
 * of freedom, the same for the same seed. `coverage` in (0, 1). Only for groups with
 * status WB_CALC_OK or WB_CALC_UNIDENTIFIED, else that group's status is returned.
 */
WbCalcStatus wb_calc_growth_time_to (const WbCalcGrowthGroup *group,
                                     double                   target,
                                     WbCalcGrowthWhat         what,
                                     double                   coverage,
                                     uint64_t                 seed,
                                     size_t                   n_draws,
                                     WbCalcGrowthTime        *time);

/*
 * One draw of (A, tau) of a group from three standard draws that the caller has
 * made: `z_level` and `z_pace` normal, `chi` = sqrt (df / chi-square (df)) (1 for
 * df = INFINITY), `z_new` a further normal for the spread of a run not yet seen.
 * For joint Monte Carlo over several figures. Same statuses as above.
 */
WbCalcStatus wb_calc_growth_draw (const WbCalcGrowthGroup *group,
                                  WbCalcGrowthWhat         what,
                                  double                   z_level,
                                  double                   z_pace,
                                  double                   chi,
                                  double                   z_new,
                                  double                  *level,
                                  double                  *pace);

/* D (t) of the group with an interval by the delta method on ln D and Student's t; at t = 0 all three are 0. */
WbCalcStatus wb_calc_growth_at (const WbCalcGrowthGroup *group,
                                double                   t,
                                WbCalcGrowthWhat         what,
                                double                   coverage,
                                double                  *value,
                                double                  *low,
                                double                  *high);
