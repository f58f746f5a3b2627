/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "world-informed.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>
#include <math.h>

#include "world-values.h"

#define STREAM_INFORMED 3     /* of draws, after each number of experiments */
#define CANDLES 200
#define BURNT_IN 60           /* turns before the first draw, and from one draw to the next */
#define TURNS 10
#define FIXED_SD 1e-6         /* of what is known */

typedef struct
{
  const World *world;
  WorldValues *values;
  GArray      *read, *next;     /* WorldValue: what is known, and what is asked for, wick by wick and figure by figure */
  gsl_vector  *off;             /* what is known less what is believed of it, but for the strength */
  gsl_matrix  *within;          /* inverse covariance of what is known, but for strengths */
  gsl_matrix  *weights;         /* of what is known for what is asked for */
  gsl_matrix  *root;            /* Cholesky root of the covariance of what is asked for, given what is known and the strengths */
  gsl_matrix  *strength_precision;
  gsl_vector  *strength_mean;
  /* within, and within × off, summed over the values of a figure of a wick */
  double      *sums;
  double       pulls[WORLD_N_FIGURES][WORLD_MOST_WICKS];
  double       strength[WORLD_MOST_WICKS], ratio[WORLD_N_FIGURES];
} Informed;

static double
place_in_series (const World *self,
                 guint        wick)
{
  return self->wicks[wick].step - (self->n_steps[self->wicks[wick].series] - 1) / 2.0;
}

static gsl_matrix *
covariances_new (const Informed *self,
                 const GArray   *rows,
                 const GArray   *columns)
{
  gsl_matrix *all = gsl_matrix_alloc (rows->len, columns->len);

  for (guint i = 0; i < rows->len; i++)
    for (guint j = 0; j < columns->len; j++)
      gsl_matrix_set (all, i, j, world_values_covariance (self->values, &g_array_index (rows, WorldValue, i), &g_array_index (columns, WorldValue, j)));
  return all;
}

static void
believe_strengths (Informed *self)
{
  const World *world = self->world;
  double gap = (WORLD_GAP_LOW + WORLD_GAP_HIGH) / 2, gap_sd = (WORLD_GAP_HIGH - WORLD_GAP_LOW) / sqrt (12);

  self->strength_precision = gsl_matrix_calloc (world->n_wicks, world->n_wicks);
  self->strength_mean = gsl_vector_alloc (world->n_wicks);
  for (guint w = 0; w < world->n_wicks; w++)
    {
      double at = place_in_series (world, w);

      gsl_vector_set (self->strength_mean, w, gap * at);
      self->strength[w] = gap * at;
      for (guint v = 0; v < world->n_wicks; v++)
        if (world->wicks[v].series == world->wicks[w].series)
          gsl_matrix_set (self->strength_precision, w, v,
                          WORLD_LEVEL_SD * WORLD_LEVEL_SD + gap_sd * gap_sd * at * place_in_series (world, v)
                          + (v == w ? (gap * gap + gap_sd * gap_sd) * WORLD_UNEVEN * WORLD_UNEVEN : 0));
    }
  gsl_linalg_cholesky_decomp1 (self->strength_precision);
  gsl_linalg_cholesky_invert (self->strength_precision);
}

static double *
sum_at (const Informed *self,
        guint           f,
        guint           w,
        guint           g,
        guint           v)
{
  return &self->sums[((f * WORLD_N_FIGURES + g) * WORLD_MOST_WICKS + w) * WORLD_MOST_WICKS + v];
}

static void
sum_up (Informed *self)
{
  self->sums = g_new0 (double, WORLD_N_FIGURES * WORLD_N_FIGURES * WORLD_MOST_WICKS * WORLD_MOST_WICKS);
  for (guint i = 0; i < self->read->len; i++)
    {
      const WorldValue *one = &g_array_index (self->read, WorldValue, i);

      for (guint j = 0; j < self->read->len; j++)
        {
          const WorldValue *other = &g_array_index (self->read, WorldValue, j);
          double weight = gsl_matrix_get (self->within, i, j);

          *sum_at (self, one->figure, one->wick, other->figure, other->wick) += weight;
          self->pulls[one->figure][one->wick] += weight * gsl_vector_get (self->off, j);
        }
    }
}

static void
learn (Informed *self)
{
  gsl_matrix *between = covariances_new (self, self->next, self->read);

  self->within = covariances_new (self, self->read, self->read);
  gsl_linalg_cholesky_decomp1 (self->within);
  gsl_linalg_cholesky_invert (self->within);
  self->weights = gsl_matrix_alloc (self->next->len, self->read->len);
  gsl_blas_dgemm (CblasNoTrans, CblasNoTrans, 1, between, self->within, 0, self->weights);
  self->root = covariances_new (self, self->next, self->next);
  gsl_blas_dgemm (CblasNoTrans, CblasTrans, -1, self->weights, between, 1, self->root);
  gsl_linalg_cholesky_decomp1 (self->root);
  self->off = gsl_vector_alloc (self->read->len);
  for (guint i = 0; i < self->read->len; i++)
    {
      const WorldValue *value = &g_array_index (self->read, WorldValue, i);

      gsl_vector_set (self->off, i, value->read - world_values_believe (self->values, value));
    }
  sum_up (self);
  gsl_matrix_free (between);
}

/* A draw of what has that precision, and precision × mean; both are used up. */
static void
draw_normal (gsl_matrix   *precision,
             gsl_vector   *pull,
             WbCalcRandom *random,
             double       *drawn)
{
  gsl_vector *z = gsl_vector_alloc (pull->size);

  for (guint i = 0; i < pull->size; i++)
    gsl_vector_set (z, i, wb_calc_random_normal (random));
  gsl_linalg_cholesky_decomp1 (precision);
  gsl_linalg_cholesky_svx (precision, pull);
  gsl_blas_dtrsv (CblasLower, CblasTrans, CblasNonUnit, precision, z);
  for (guint i = 0; i < pull->size; i++)
    drawn[i] = gsl_vector_get (pull, i) + gsl_vector_get (z, i);
  gsl_vector_free (z);
  gsl_vector_free (pull);
  gsl_matrix_free (precision);
}

static void
draw_strengths (Informed     *self,
                WbCalcRandom *random)
{
  guint n = self->world->n_wicks;
  gsl_matrix *precision = gsl_matrix_alloc (n, n);
  gsl_vector *pull = gsl_vector_alloc (n);

  gsl_matrix_memcpy (precision, self->strength_precision);
  gsl_blas_dgemv (CblasNoTrans, 1, self->strength_precision, self->strength_mean, 0, pull);
  for (guint w = 0; w < n; w++)
    for (guint f = 0; f < WORLD_N_FIGURES; f++)
      {
        *gsl_vector_ptr (pull, w) += self->ratio[f] * self->pulls[f][w];
        for (guint v = 0; v < n; v++)
          for (guint g = 0; g < WORLD_N_FIGURES; g++)
            *gsl_matrix_ptr (precision, w, v) += self->ratio[f] * self->ratio[g] * *sum_at (self, f, w, g, v);
      }
  draw_normal (precision, pull, random, self->strength);
}

static void
draw_ratios (Informed     *self,
             WbCalcRandom *random)
{
  gsl_matrix *precision = gsl_matrix_calloc (WORLD_N_FIGURES, WORLD_N_FIGURES);
  gsl_vector *pull = gsl_vector_calloc (WORLD_N_FIGURES);

  for (guint f = 0; f < WORLD_N_FIGURES; f++)
    {
      double sd = fmax (self->values->beliefs[f].ratio.sd, FIXED_SD);

      *gsl_matrix_ptr (precision, f, f) += 1 / (sd * sd);
      *gsl_vector_ptr (pull, f) += self->values->beliefs[f].ratio.mean / (sd * sd);
      for (guint w = 0; w < self->world->n_wicks; w++)
        {
          *gsl_vector_ptr (pull, f) += self->strength[w] * self->pulls[f][w];
          for (guint g = 0; g < WORLD_N_FIGURES; g++)
            for (guint v = 0; v < self->world->n_wicks; v++)
              *gsl_matrix_ptr (precision, f, g) += self->strength[w] * self->strength[v] * *sum_at (self, f, w, g, v);
        }
    }
  draw_normal (precision, pull, random, self->ratio);
}

/* What is asked for, less what the law of the world itself says of it. */
static void
draw_next (const Informed *self,
           WbCalcRandom   *random,
           WorldShift     *off)
{
  const World *world = self->world;
  gsl_vector *rest = gsl_vector_alloc (self->read->len), *drawn = gsl_vector_alloc (self->next->len);

  gsl_vector_memcpy (rest, self->off);
  for (guint i = 0; i < self->read->len; i++)
    {
      const WorldValue *value = &g_array_index (self->read, WorldValue, i);

      *gsl_vector_ptr (rest, i) -= self->ratio[value->figure] * self->strength[value->wick];
    }
  for (guint i = 0; i < self->next->len; i++)
    gsl_vector_set (drawn, i, wb_calc_random_normal (random));
  gsl_blas_dtrmv (CblasLower, CblasNoTrans, CblasNonUnit, self->root, drawn);
  gsl_blas_dgemv (CblasNoTrans, 1, self->weights, rest, 1, drawn);
  for (guint i = 0; i < self->next->len; i++)
    {
      const WorldValue *value = &g_array_index (self->next, WorldValue, i);

      off[value->wick].of[value->figure] = gsl_vector_get (drawn, i) + world_values_believe (self->values, value)
                                           + self->ratio[value->figure] * self->strength[value->wick]
                                           - world_law (world, value->figure, value->vessel, value->wick, value->wax, value->load_pct);
    }
  gsl_vector_free (rest);
  gsl_vector_free (drawn);
}

static void
informed_init (Informed    *self,
               const World *world,
               WorldValues *values,
               guint        earlier)
{
  *self = (Informed) { .world = world, .values = values };
  for (guint f = 0; f < WORLD_N_FIGURES; f++)
    self->ratio[f] = values->beliefs[f].ratio.mean;
  self->read = world_values_read (values, earlier);
  self->next = world_values_next (values);
  believe_strengths (self);
  learn (self);
}

static void
informed_clear (Informed *self)
{
  gsl_vector_free (self->off);
  gsl_vector_free (self->strength_mean);
  gsl_matrix_free (self->strength_precision);
  gsl_matrix_free (self->root);
  gsl_matrix_free (self->weights);
  gsl_matrix_free (self->within);
  g_array_unref (self->read);
  g_array_unref (self->next);
  g_free (self->sums);
}

WorldInformed *
world_informed_new (const World     *self,
                    const GPtrArray *aims,
                    guint            earlier,
                    gboolean         by_candles)
{
  WorldInformed *told = g_new0 (WorldInformed, self->n_wicks);
  double (*seen)[WORLD_INFORMED_DRAWS][WORLD_N_PLACES][WORLD_N_SAID] = g_malloc (sizeof (*seen) * self->n_wicks);
  WorldValues values;
  Informed informed;
  WbCalcRandom random;

  g_assert (earlier > 0);
  world_values_init (&values, self, by_candles);
  informed_init (&informed, self, &values, earlier);
  world_random_init (self, STREAM_INFORMED + earlier, &random);
  for (guint draw = 0; draw < WORLD_INFORMED_DRAWS; draw++)
    {
      WorldShift off[WORLD_MOST_WICKS];
      g_autoptr (Lab) lab = NULL;
      g_autofree LabTruth *truth = NULL;

      for (guint turn = 0; turn < (draw == 0 ? BURNT_IN : TURNS); turn++)
        {
          draw_strengths (&informed, &random);
          draw_ratios (&informed, &random);
        }
      draw_next (&informed, &random, off);
      lab = world_lab_of_next (self, off, NULL);
      truth = lab_truth_new_by (lab, aims, CANDLES);
      for (guint w = 0; w < self->n_wicks; w++)
        {
          told[w].score[draw] = truth[w].score;
          told[w].log_limit[draw] = lab->cells[w].log_limit;
          world_tell_figures (self, lab, &truth[w], seen[w][draw]);
        }
    }
  for (guint w = 0; w < self->n_wicks; w++)
    world_tell_widths (&seen[w][0], WORLD_INFORMED_DRAWS, told[w].width);
  informed_clear (&informed);
  g_free (seen);
  return told;
}

double
world_informed_choose (const World         *self,
                       const WorldInformed *informed,
                       const gboolean      *asked,
                       gboolean            *chosen)
{
  const double *scores[WORLD_MOST_WICKS];

  for (guint w = 0; w < self->n_wicks; w++)
    scores[w] = informed[w].score;
  return world_choose (self, scores, WORLD_INFORMED_DRAWS, asked, chosen);
}
