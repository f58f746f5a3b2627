/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "lab-truth.h"

#include <math.h>

#include "wb-calc-quantile.h"

#define WINDOW_LOW 0.75       /* of an hour an inch: the house protocol's */
#define WINDOW_HIGH 1.25
#define MM_PER_INCH 25.4
#define SURE_Z 6.0            /* further from a limit than this its chance is nothing */

enum { OF_LIMIT, OF_DEPTH, OF_FLAME, OF_RISE, OF_SOOT, OF_MUSHROOM, N_DEVIATIONS };

/* The candles that every cell of the lab is tried with; deviations as the lab has them. */
typedef struct
{
  double *z[N_DEVIATIONS];        /* times the sample's spread */
  double *factor[N_DEVIATIONS];   /* and its exponential, for logarithms */
  guint   n;
} Candles;

/* One cell under trial. */
typedef struct
{
  const Lab     *lab;
  const LabCell *cell;
  const Candles *candles;
  double         inner_mm, due_h;
  double        *log_score;       /* a candle each: sum of weight × ln desirability */
  double        *under;           /* chance that none of its burns crosses */
  double        *limit_mm;        /* in the stage at hand */
  double        *desired;         /* of the aim at hand */
  double         weights;
} Trial;

static double
below (double z)
{
  return 0.5 * erfc (-z * M_SQRT1_2);
}

double
lab_desire (const WbAim *aim,
            double       y)
{
  if (!isnan (aim->one_from) && y < aim->one_from)
    return y <= aim->zero_below ? 0 : (y - aim->zero_below) / (aim->one_from - aim->zero_below);
  if (!isnan (aim->one_to) && y > aim->one_to)
    {
      double flank = y >= aim->zero_above ? 0 : (aim->zero_above - y) / (aim->zero_above - aim->one_to);

      return aim->late_floor + (1 - aim->late_floor) * flank;
    }
  return 1;
}

/* Middles of equal chances. */
static double *
normal_strata (guint n)
{
  double *strata = g_new (double, n);

  for (guint k = 0; k < n; k++)
    strata[k] = wb_calc_normal_quantile ((k + 0.5) / n);
  return strata;
}

static double
sample_sd (const Lab *lab,
           guint      deviation)
{
  switch (deviation)
    {
    case OF_LIMIT: return lab->limit_sample_sd;
    case OF_DEPTH: return lab->measure_sample_sd[LAB_DEPTH];
    case OF_FLAME: return lab->measure_sample_sd[LAB_FLAME];
    case OF_RISE: return lab->measure_sample_sd[LAB_RISE];
    case OF_SOOT: return lab->rating_sample_sd[LAB_SOOT];
    default: return lab->rating_sample_sd[LAB_MUSHROOM];
    }
}

static void
candles_init (Candles      *self,
              const Lab    *lab,
              guint         n,
              WbCalcRandom *random)
{
  g_autofree double *strata = normal_strata (n);
  g_autofree size_t *order = g_new (size_t, n);
  g_autofree double *of_limit = g_new (double, n);

  self->n = n;
  for (guint d = 0; d < N_DEVIATIONS; d++)
    {
      double sd = sample_sd (lab, d);

      for (guint k = 0; k < n; k++)
        order[k] = k;
      wb_calc_random_shuffle (random, order, n);
      self->z[d] = g_new (double, n);
      self->factor[d] = g_new (double, n);
      for (guint k = 0; k < n; k++)
        {
          double own = strata[order[k]];

          if (d == OF_LIMIT)
            of_limit[k] = own;
          self->z[d][k] = sd * (d == OF_LIMIT ? own : lab_deviation (lab, of_limit[k], own));
          self->factor[d][k] = exp (self->z[d][k]);
        }
    }
}

static void
candles_clear (Candles *self)
{
  for (guint d = 0; d < N_DEVIATIONS; d++)
    {
      g_free (self->z[d]);
      g_free (self->factor[d]);
    }
}

/* Desirability of each candle's rating, the mean over many of its burns: as of any other figure. */
static void
desire_rating (const Trial  *trial,
               const WbAim  *aim,
               LabRating     rating,
               const double *z,
               double       *d)
{
  const Lab *lab = trial->lab;
  guint top = lab_rating_top (rating);

  for (guint k = 0; k < trial->candles->n; k++)
    {
      double latent = trial->cell->latent[rating] + z[k], expected = 0;

      for (guint r = 0; r < top; r++)
        expected += below (latent - lab->threshold[rating][r]);
      d[k] = lab_desire (aim, expected);
    }
}

static void
desire_measure (const Trial  *trial,
                const WbAim  *aim,
                LabMeasure    measure,
                const double *factor,
                double       *d)
{
  double typical = exp (trial->cell->log_measure[measure] + lab_stage_measure (trial->lab, aim->stage, measure));
  double offset = measure == LAB_RISE ? trial->lab->mean_room : 0;

  for (guint k = 0; k < trial->candles->n; k++)
    d[k] = lab_desire (aim, offset + typical * factor[k]);
}

static void
desire_pool (const Trial *trial,
             const WbAim *aim,
             double      *d)
{
  double tau = trial->cell->tau_h, inner = trial->inner_mm;
  double grown = lab_grown (trial->lab, LAB_BURN_H, tau);

  for (guint k = 0; k < trial->candles->n; k++)
    if (aim->figure == WB_FIGURE_HANG_UP)
      d[k] = lab_desire (aim, fmax (inner - grown * trial->limit_mm[k], 0) / 2);
    else
      d[k] = lab_desire (aim, lab_time_to (trial->lab, trial->limit_mm[k], tau, inner) / trial->due_h);
}

/* The desirability of an aim's figure for each candle. FALSE: no lab reads it. */
static gboolean
desire (const Trial *trial,
        const WbAim *aim,
        double      *d)
{
  const Candles *candles = trial->candles;

  switch (aim->figure)
    {
    case WB_FIGURE_FULL_POOL:
    case WB_FIGURE_HANG_UP:
      desire_pool (trial, aim, d);
      return TRUE;
    case WB_FIGURE_DEPTH:
      desire_measure (trial, aim, LAB_DEPTH, candles->factor[OF_DEPTH], d);
      return TRUE;
    case WB_FIGURE_FLAME:
      desire_measure (trial, aim, LAB_FLAME, candles->factor[OF_FLAME], d);
      return TRUE;
    case WB_FIGURE_VESSEL:
      desire_measure (trial, aim, LAB_RISE, candles->factor[OF_RISE], d);
      return TRUE;
    case WB_FIGURE_SOOT:
      desire_rating (trial, aim, LAB_SOOT, candles->z[OF_SOOT], d);
      return TRUE;
    case WB_FIGURE_MUSHROOM:
      desire_rating (trial, aim, LAB_MUSHROOM, candles->z[OF_MUSHROOM], d);
      return TRUE;
    default:
      return FALSE;
    }
}

static void
try_aim (Trial       *trial,
         const WbAim *aim)
{
  if (!(aim->weight > 0) || !desire (trial, aim, trial->desired))
    return;
  for (guint k = 0; k < trial->candles->n; k++)
    if (trial->desired[k] < 1)
      trial->log_score[k] += aim->weight * log (trial->desired[k]);
  trial->weights += aim->weight;
}

/* The chance that no burn of each candle passes a limit in a stage. */
static void
try_stops (Trial  *trial,
           WbStage stage)
{
  const Lab *lab = trial->lab;
  const struct { LabMeasure measure; guint deviation; double stop; } stops[] = {
    { LAB_FLAME, OF_FLAME, LAB_FLAME_STOP_MM }, { LAB_RISE, OF_RISE, LAB_VESSEL_STOP_C - lab->mean_room },
  };

  for (guint s = 0; s < G_N_ELEMENTS (stops); s++)
    {
      const double *z = trial->candles->z[stops[s].deviation];

      for (guint burn = 0; burn < lab_stage_burns (lab); burn++)
        {
          double gap = log (stops[s].stop) - trial->cell->log_measure[stops[s].measure]
                       - lab_burn_measure (lab, stage * lab_stage_burns (lab) + burn, stops[s].measure);

          for (guint k = 0; k < trial->candles->n; k++)
            {
              double at = (gap - z[k]) / lab->measure_burn_sd[stops[s].measure];

              if (at < SURE_Z)
                trial->under[k] *= below (at);
            }
        }
    }
}

static LabStageTruth
tell_stage (const Lab     *lab,
            const LabCell *cell,
            WbStage        stage)
{
  double inner = lab->vessels[cell->vessel].inner_mm, due = inner / MM_PER_INCH;
  double log_limit = cell->log_limit + lab_stage_limit (lab, stage);
  double soonest = inner / lab_grown (lab, WINDOW_LOW * due, cell->tau_h);
  double latest = inner / lab_grown (lab, WINDOW_HIGH * due, cell->tau_h);
  LabStageTruth truth = { .limit_mm = exp (log_limit), .tau_h = cell->tau_h };

  truth.full_pool_h = lab_time_to (lab, truth.limit_mm, cell->tau_h, inner);
  truth.p_in_window = below ((log (soonest) - log_limit) / lab->limit_sample_sd)
                      - below ((log (latest) - log_limit) / lab->limit_sample_sd);
  for (guint m = 0; m < LAB_N_MEASURES; m++)
    truth.measure[m] = exp (cell->log_measure[m] + lab_stage_measure (lab, stage, m)) + (m == LAB_RISE ? lab->mean_room : 0);
  for (guint r = 0; r < LAB_N_RATINGS; r++)
    for (guint i = 0; i < lab_rating_top (r); i++)
      truth.rating[r] += below ((cell->latent[r] - lab->threshold[r][i]) / hypot (1, lab->rating_sample_sd[r]));
  return truth;
}

static void
try_cell (Trial           *trial,
          const GPtrArray *aims,
          WbCalcRandom    *random,
          LabTruth        *truth)
{
  guint next = (guint) wb_calc_random_below (random, trial->candles->n);
  double luck = wb_calc_random_uniform (random);

  trial->weights = 0;
  for (guint k = 0; k < trial->candles->n; k++)
    {
      trial->log_score[k] = 0;
      trial->under[k] = 1;
    }
  for (guint stage = 0; stage < lab_n_stages (trial->lab); stage++)
    {
      double typical = exp (trial->cell->log_limit + lab_stage_limit (trial->lab, stage));

      truth->stage[stage] = tell_stage (trial->lab, trial->cell, stage);
      for (guint k = 0; k < trial->candles->n; k++)
        trial->limit_mm[k] = typical * trial->candles->factor[OF_LIMIT][k];
      for (guint a = 0; a < aims->len; a++)
        if (((const WbAim *) g_ptr_array_index (aims, a))->stage == (int) stage)
          try_aim (trial, g_ptr_array_index (aims, a));
      try_stops (trial, stage);
    }
  for (guint k = 0; k < trial->candles->n; k++)
    {
      double score = exp (trial->log_score[k] / trial->weights);

      truth->score += score * trial->under[k] / trial->candles->n;
      truth->p_cross += (1 - trial->under[k]) / trial->candles->n;
      if (k == next)
        truth->candle = luck < trial->under[k] ? score : 0;
    }
}

LabTruth *
lab_truth_new_by (const Lab       *lab,
                  const GPtrArray *aims,
                  guint            n)
{
  LabTruth *truths = g_new0 (LabTruth, lab->n_cells);
  g_autofree double *scratch = g_new (double, 4 * n);
  Candles candles;
  WbCalcRandom random;

  lab_random_init (lab, LAB_STREAM_TRUTH, &random);
  candles_init (&candles, lab, n, &random);
  for (guint i = 0; i < lab->n_cells; i++)
    {
      Trial trial = {
        .lab = lab, .cell = &lab->cells[i], .candles = &candles,
        .inner_mm = lab->vessels[lab->cells[i].vessel].inner_mm,
        .log_score = scratch, .under = scratch + n, .limit_mm = scratch + 2 * (gsize) n,
        .desired = scratch + 3 * (gsize) n,
      };

      trial.due_h = trial.inner_mm / MM_PER_INCH;
      try_cell (&trial, aims, &random, &truths[i]);
    }
  candles_clear (&candles);
  return truths;
}

LabTruth *
lab_truth_new (const Lab       *lab,
               const GPtrArray *aims)
{
  return lab_truth_new_by (lab, aims, LAB_CANDLES);
}
