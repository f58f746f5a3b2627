/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "lab-bound.h"

#include <math.h>

#include "wb-calc-ridge.h"

#define RATING_VARIANCE 2.0   /* of a latent level by one rating: 1 by itself, and what steps hide; a rough figure */
#define NEARLY_FLAT 1e-6      /* precision that keeps a law of too few cells regular */
#define MOST_TERMS 4

/* The quantities of a cell that follow the law. */
enum { LIMIT, MEASURE, RATING = MEASURE + LAB_N_MEASURES, N_QUANTITIES = RATING + LAB_N_RATINGS };

static double *
quantity (LabCell *cell,
          guint    q)
{
  if (q == LIMIT)
    return &cell->log_limit;
  return q < RATING ? &cell->log_measure[q - MEASURE] : &cell->latent[q - RATING];
}

/* Variance of a cell's mean. */
static double
variance_of (const Lab *lab,
             guint      q)
{
  double samples = lab->spec.samples, burns = samples * lab_n_burns (lab);

  if (q == LIMIT)
    return pow (lab->limit_sample_sd, 2) / samples + pow (lab->limit_burn_sd, 2) / burns;
  if (q < RATING)
    return pow (lab->measure_sample_sd[q - MEASURE], 2) / samples
           + (pow (lab->measure_burn_sd[q - MEASURE], 2) + pow (lab->measure_reader_sd[q - MEASURE], 2)) / burns;
  return pow (lab->rating_sample_sd[q - RATING], 2) / samples + RATING_VARIANCE / burns;
}

static guint
put_terms (const Lab     *lab,
           const LabCell *cell,
           double        *row)
{
  guint p = 0;

  row[p++] = 1;
  row[p++] = cell->step;
  if (lab->spec.vessels > 1)
    row[p++] = cell->vessel;
  if (lab->spec.loads > 1)
    row[p++] = cell->load;
  return p;
}

/* Puts the law's value of a quantity, fitted to the poured cells, into `fitted`. */
static gboolean
fit_law (Lab    *lab,
         guint   q,
         double *fitted)
{
  g_autofree double *x = g_new (double, lab->n_cells * MOST_TERMS);
  g_autofree double *y = g_new (double, lab->n_cells);
  double mean[MOST_TERMS] = { 0 }, precision[MOST_TERMS * MOST_TERMS] = { 0 }, row[MOST_TERMS];
  WbCalcRidgePrior prior = { mean, precision, 1, 1 };
  WbCalcRidge fit;
  guint p = 0, n = 0;

  for (guint i = 0; i < lab->n_cells; i++)
    if (lab->cells[i].poured)
      {
        p = put_terms (lab, &lab->cells[i], row);
        for (guint j = 0; j < p; j++)
          x[n * p + j] = row[j];
        y[n++] = *quantity (&lab->cells[i], q);
      }
  for (guint j = 0; j < p; j++)
    precision[j * p + j] = NEARLY_FLAT;
  if (n == 0 || wb_calc_ridge_fit (x, y, NULL, n, p, &prior, &fit) != WB_CALC_OK)
    return FALSE;
  for (guint i = 0; i < lab->n_cells; i++)
    {
      put_terms (lab, &lab->cells[i], row);
      fitted[i] = 0;
      for (guint j = 0; j < p; j++)
        fitted[i] += row[j] * fit.mean[j];
    }
  wb_calc_ridge_clear (&fit);
  return TRUE;
}

/* A lab like the true one, but with the cells as they are told by their means and the law. */
static void
learn (Lab          *lab,
       WbCalcRandom *random)
{
  g_autofree double *fitted = g_new (double, lab->n_cells);

  for (guint q = 0; q < N_QUANTITIES; q++)
    {
      double variance = variance_of (lab, q), off = lab_off_law (lab) * (q < RATING ? 1 : LAB_LATENT_OFF);
      double own = off * off / (off * off + variance);

      for (guint i = 0; i < lab->n_cells; i++)
        *quantity (&lab->cells[i], q) += sqrt (variance) * wb_calc_random_normal (random);
      if (!fit_law (lab, q, fitted))
        continue;
      for (guint i = 0; i < lab->n_cells; i++)
        *quantity (&lab->cells[i], q) = fitted[i] + own * (*quantity (&lab->cells[i], q) - fitted[i]);
    }
}

double *
lab_bound_rate (const Lab       *lab,
                const GPtrArray *aims)
{
  double *rated = g_new (double, lab->n_cells);
  g_autofree LabCell *cells = g_memdup2 (lab->cells, lab->n_cells * sizeof (LabCell));
  g_autofree LabTruth *told = NULL;
  Lab learnt = *lab;
  WbCalcRandom random;

  learnt.cells = cells;
  lab_random_init (lab, LAB_STREAM_BOUND, &random);
  learn (&learnt, &random);
  told = lab_truth_new (&learnt, aims);
  for (guint i = 0; i < lab->n_cells; i++)
    rated[i] = lab->cells[i].poured ? told[i].score : NAN;
  return rated;
}
