/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stdbool.h>
#include <stddef.h>

#include "wb-calc-status.h"

/*
 * A linear Gaussian model whose coefficients are pooled partially, by families, and which rests on summaries of known noise:
 *
 *   y_i    = sum over j of x_ij beta_j + e_i,   e_i ~ N (0, noise_i)        noise known
 *   beta_j ~ N (mean_j, sd_j^2)                                            no family: a stated prior
 *   beta_j ~ N (mean_j, spread_k^2)                                        of family k
 *   ln spread_k ~ N (ln usual_k, factor_k^2)                               a stated weak prior
 *
 * The spreads are estimated at the mode of their marginal posterior (empirical
 * Bayes; with flat priors on the coefficients without a family and factor_k
 * large it is REML), and how badly they are known is carried on by points around the mode.
 * Families may be crossed and nested as they like: the equations are solved sparse
 * (CHOLMOD: Chen, Davis, Hager and Rajamanickam, ACM TOMS 35 (2008) 22).
 * Sources: Henderson, Biometrics 31 (1975) 423 (mixed model equations); Bates and others, J. Stat. Softw. 67 (2015) 1
 * (the marginal likelihood from a sparse Cholesky factor); Gilmour, Thompson and Cullis, Biometrics 51 (1995) 1440 (steps by
 * average information); Rue, Martino and Chopin, JRSS B 71 (2009) 319 (points around the mode).
 *
 * A residual spread that is not known goes in as a family of its own with a member a row, and part of it as the noise: the
 * sum of both variances is what is estimated.
 */

#define WB_CALC_POOLED_NO_FAMILY ((size_t) -1)

typedef struct
{
  double usual;          /* guess of the spread before any data, above 0 */
  double factor;         /* how far from it, on the logarithm, standard deviation, 1e-6 to 1e6; 0: the spread is known */
} WbCalcPooledFamily;

typedef struct
{
  double mean;
  double sd;             /* without a family: > 0, INFINITY is flat; else not read */
  size_t family;         /* or WB_CALC_POOLED_NO_FAMILY */
} WbCalcPooledCoefficient;

/* Sparse rows: row i's terms stand at start[i] to start[i + 1]. */
typedef struct
{
  size_t        n;
  const size_t *start;   /* n + 1 */
  const size_t *column;
  const double *value;
} WbCalcPooledRows;

typedef struct _WbCalcPooled WbCalcPooled;

/*
 * `y` and `noise` (variances, > 0) are rows->n long; rows->n may be 0: then the answer is the prior. `log_spreads`, n_families
 * long or NULL: where the search begins (of spreads that are known it is not read, but has to be finite); the same mode is found
 * from anywhere near (relative tolerance 1e-9), so that a fit that goes on from an earlier one is the full fit. Where data and
 * opinion contradict each other so badly that there are two modes, it is the one uphill from the start.
 * A column may stand in a row more than once: its values add up. Everything is copied. Same input, same bits.
 * Fails with WB_CALC_BAD_INPUT, WB_CALC_UNIDENTIFIED (flat coefficients that the data do not tell apart),
 * WB_CALC_NOT_CONVERGED, WB_CALC_NO_MEMORY.
 */
WbCalcStatus wb_calc_pooled_fit  (const WbCalcPooledRows        *rows,
                                  const double                  *y,
                                  const double                  *noise,
                                  const WbCalcPooledCoefficient *coefficients,
                                  size_t                         n_coefficients,
                                  const WbCalcPooledFamily      *families,
                                  size_t                         n_families,
                                  const double                  *log_spreads,
                                  WbCalcPooled                 **fit);
/*
 * The same, which goes on from an earlier fit of a model that is nearly this one: from its mode and from what its search took for minus the second
 * derivatives there (wb_calc_pooled_get_curvature, n_families x n_families; NULL: not known), so that they need not be found again. The same mode
 * is found, in fewer steps. Any numbers that are finite will do; those that are no curvature are soon given up.
 */
WbCalcStatus wb_calc_pooled_fit_on (const WbCalcPooledRows       *rows,
                                   const double                  *y,
                                   const double                  *noise,
                                   const WbCalcPooledCoefficient *coefficients,
                                   size_t                         n_coefficients,
                                   const WbCalcPooledFamily      *families,
                                   size_t                         n_families,
                                   const double                  *log_spreads,
                                   const double                  *curvature,
                                   WbCalcPooled                 **fit);
void         wb_calc_pooled_free (WbCalcPooled *self);

/*
 * What predictions rest on, as bytes in the machine's own order, without data: Henderson's equations less the coefficients without a
 * family that `asked` (n_coefficients long) does not ask for and that lean on no others but through data, and the points. They stand
 * under a checksum of their own, so that bytes that were damaged are refused. *bytes is malloc's. WB_CALC_BAD_INPUT of a fit that
 * was itself taken up, WB_CALC_NO_MEMORY.
 */
WbCalcStatus wb_calc_pooled_keep    (const WbCalcPooled *self,
                                     const bool         *asked,
                                     unsigned char     **bytes,
                                     size_t             *size);
/*
 * The fit from what was kept of it, with all of its points: answers agree with its own to some 1e-12 of their size. Columns that were
 * left out have mean NAN, and predictions with them are WB_CALC_BAD_INPUT, as are bytes that are not such.
 */
WbCalcStatus wb_calc_pooled_take_up (const unsigned char *bytes,
                                     size_t               size,
                                     WbCalcPooled       **fit);

/* What a later fit begins from: the mode; and the curvature there. */
size_t        wb_calc_pooled_get_n_families (const WbCalcPooled *self);
size_t        wb_calc_pooled_get_n_coefficients (const WbCalcPooled *self);          /* the model's, left out ones among them */
const double *wb_calc_pooled_get_log_spreads (const WbCalcPooled *self);            /* n_families: the mode */
/* n_families x n_families: inverse Hessian at it; of well known spreads (see the points) inverse average information. NULL of wb_calc_pooled_take_up. */
const double *wb_calc_pooled_get_log_spreads_covariance (const WbCalcPooled *self);
/* What wb_calc_pooled_fit_on goes on from; NULL where there is no covariance. */
const double *wb_calc_pooled_get_curvature (const WbCalcPooled *self);
/* Log density of y and of the logarithms of the spreads that are not known, at the mode; flat coefficients as REML has them. */
double        wb_calc_pooled_get_log_marginal (const WbCalcPooled *self);
const double *wb_calc_pooled_get_mean (const WbCalcPooled *self);                   /* n_coefficients: posterior mean at the mode */

/*
 * Points that stand for the posterior of the spreads: the mode first, then two along each axis of the curvature, as far out as
 * makes mean and variance right along it. A spread that is known, by its factor or because the data tell its logarithm to a standard
 * deviation of 0.125, has none: it is held at the mode, where its variance is off by 3 % of itself. Weights, by the posterior
 * density, add up to 1.
 */
size_t        wb_calc_pooled_get_n_points (const WbCalcPooled *self);
double        wb_calc_pooled_get_weight   (const WbCalcPooled *self, size_t point);
const double *wb_calc_pooled_get_point    (const WbCalcPooled *self, size_t point); /* n_families: its logarithms of the spreads; NULL: no such */

/*
 * At a point: the joint posterior of the linear combinations `rows` of the coefficients; `mean` rows->n long, `covariance`
 * rows->n x rows->n (NULL: not asked for). A coefficient that no data row has keeps its prior, so that a level never
 * tried is a column of its family. Any number of threads may ask the same fit. WB_CALC_BAD_INPUT, WB_CALC_NO_MEMORY.
 */
WbCalcStatus  wb_calc_pooled_predict      (const WbCalcPooled     *self,
                                           size_t                  point,
                                           const WbCalcPooledRows *rows,
                                           double                 *mean,
                                           double                 *covariance);
