/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-means-private.h"

#include <math.h>

/* One sample's values. */
typedef struct
{
  guint  cell;
  guint  n;
  double mean;
} Sample;

typedef struct
{
  double within_ss;    /* of burns about their sample */
  guint  within_df;
  double between_ss;   /* of samples about their cell */
  guint  between_df;
  double n0;           /* burns a sample, as the expected mean square counts them */
} Layout;

static GArray *
gather_samples (const GArray *values,
                double       *within_ss)
{
  GArray *samples = g_array_new (FALSE, FALSE, sizeof (Sample));

  *within_ss = 0;
  for (guint i = 0; i < values->len;)
    {
      const WbCraftMeanValue *first = &g_array_index (values, WbCraftMeanValue, i);
      Sample sample = { first->cell, 0, 0 };
      guint end = i;

      while (end < values->len && g_array_index (values, WbCraftMeanValue, end).sample == first->sample)
        sample.mean += g_array_index (values, WbCraftMeanValue, end++).y;
      sample.n = end - i;
      sample.mean /= sample.n;
      for (; i < end; i++)
        *within_ss += pow (g_array_index (values, WbCraftMeanValue, i).y - sample.mean, 2);
      g_array_append_val (samples, sample);
    }
  return samples;
}

static Layout
lay_out (const GArray *values,
         GArray       *samples,
         double        within_ss,
         guint         n_cells)
{
  Layout layout = { .within_ss = within_ss, .within_df = values->len - samples->len };
  double unequal = 0;
  guint filled = 0;

  for (guint cell = 0; cell < n_cells; cell++)
    {
      double sum = 0, squares = 0, n = 0;

      for (guint i = 0; i < samples->len; i++)
        {
          const Sample *sample = &g_array_index (samples, Sample, i);

          if (sample->cell != cell)
            continue;
          sum += sample->n * sample->mean;
          squares += (double) sample->n * sample->n;
          n += sample->n;
        }
      if (n == 0)
        continue;
      filled++;
      unequal += squares / n;
      for (guint i = 0; i < samples->len; i++)
        {
          const Sample *sample = &g_array_index (samples, Sample, i);

          if (sample->cell == cell)
            layout.between_ss += sample->n * pow (sample->mean - sum / n, 2);
        }
    }
  layout.between_df = samples->len - filled;
  layout.n0 = layout.between_df > 0 ? (values->len - unequal) / layout.between_df : 1;
  return layout;
}

/* A variance joined by its prior's, each weighed by its degrees of freedom. */
static double
join (double variance,
      double df,
      double prior_sd,
      double prior_df)
{
  return df + prior_df > 0 ? (df * variance + prior_df * prior_sd * prior_sd) / (df + prior_df) : 0;
}

static void
fit_cell (GArray          *samples,
          guint            cell,
          double           sample_var,
          double           burn_var,
          WbCraftEstimate *estimate)
{
  double weights = 0, sum = 0;
  guint n_samples = 0, n_burns = 0;
  gboolean exact = !(sample_var + burn_var > 0);

  for (guint i = 0; i < samples->len; i++)
    {
      const Sample *sample = &g_array_index (samples, Sample, i);
      double weight;

      if (sample->cell != cell)
        continue;
      weight = exact ? 1 : 1 / (sample_var + burn_var / sample->n);
      weights += weight;
      sum += weight * sample->mean;
      n_samples++;
      n_burns += sample->n;
    }
  estimate->samples = n_samples;
  estimate->burns = n_burns;
  if (n_samples == 0)
    return;
  estimate->mean = sum / weights;
  estimate->se = exact ? 0 : sqrt (1 / weights);
}

void
wb_craft_means_fit (const GArray           *values,
                    guint                   n_cells,
                    const WbCraftMeanPrior *prior,
                    WbCraftEstimate        *estimates)
{
  double within_ss, burn_var, sample_var, observed;
  g_autoptr (GArray) samples = gather_samples (values, &within_ss);
  Layout layout = lay_out (values, samples, within_ss, n_cells);

  observed = layout.within_df > 0 ? layout.within_ss / layout.within_df : 0;
  burn_var = join (observed, layout.within_df, prior->burn_sd, prior->df);
  observed = layout.between_df > 0 ? (layout.between_ss / layout.between_df - burn_var) / layout.n0 : 0;
  sample_var = join (MAX (observed, 0), layout.between_df, prior->sample_sd, prior->df);
  for (guint cell = 0; cell < n_cells; cell++)
    {
      estimates[cell].mean = estimates[cell].se = NAN;
      estimates[cell].sample_sd = sqrt (sample_var);
      estimates[cell].burn_sd = sqrt (burn_var);
      estimates[cell].df = MAX (layout.between_df + prior->df, 1);
      fit_cell (samples, cell, sample_var, burn_var, &estimates[cell]);
    }
}
