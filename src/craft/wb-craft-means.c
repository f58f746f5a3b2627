/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-means-private.h"

#include <math.h>

#include "wb-calc-censored.h"

/*
 * Priors on the spreads, no source: the figure's own guesses known to a factor of
 * FACTOR; a cell's deviation from the sum of its row and column, and a wick's from the
 * line of its series, in units of the figure. Opinions on the trend with each burn and
 * on a kelvin of room, likewise.
 */
#define FACTOR WB_CRAFT_MEANS_FACTOR
#define ALONE_FACTOR 2.5   /* of the spread between samples where no cell has a second one */
#define CELL_SD 0.04
#define WICK_SD 0.06
#define DEVIATION_FACTOR 2.5
#define TREND_SD 0.03
#define ROOM_SD 0.02

enum { CELL = WB_CALC_MIXED_N_NESTED, WICK, N_SPREADS };
#define N_COVARIATES WB_CRAFT_MEANS_N_COVARIATES

/* Rounds of seeing values at the floor from where the last fit put them; of a change that ends them, in reader's errors. */
#define MAX_ROUNDS 12
#define ROUND_END 0.02
/*
 * A value at the floor begins this many reader's errors below it. Its row never says
 * less than a reading of 4.5 errors would: where all values of a cell are at the floor
 * nothing else keeps it from sinking to where a row says nothing, and a normal answer of
 * a width without end around there would reach far above the floor. No source.
 */
#define START_BELOW 1.0
#define LEAST_WEIGHT 0.05

struct _WbCraftMeans
{
  guint             n_cells;
  guint             n_columns;
  WbCalcMixedData   data;
  WbCalcMixedColumn local_column;
  WbCalcMixedColumn *global_column;
  WbCalcMixedSpread spread[N_SPREADS];
  double           *y, *variance, *local, *global;
  gsize            *unit, *block;
  guint            *sample;       /* a row */
  double           *cell_global;  /* n_cells × n_global: of the cell itself */
  WbCalcMixed      *fit;
};

static int
compare_values (gconstpointer a,
                gconstpointer b)
{
  const WbCraftMeanValue *one = a, *other = b;

  if (one->cell != other->cell)
    return one->cell < other->cell ? -1 : 1;
  if (one->sample != other->sample)
    return one->sample < other->sample ? -1 : 1;
  return (one->number > other->number) - (one->number < other->number);
}

/* Means of burn number and room, over what is known. */
static void
find_middles (const GArray *values,
              double       *number,
              double       *room)
{
  guint n = 0;

  *number = *room = 0;
  for (guint i = 0; i < values->len; i++)
    {
      const WbCraftMeanValue *value = &g_array_index (values, WbCraftMeanValue, i);

      *number += value->number / values->len;
      if (isnan (value->room))
        continue;
      *room += value->room;
      n++;
    }
  *room = n > 0 ? *room / n : 0;
}

/* A cell is told at the mean of its own burns, for a wick that burns out sooner has fewer: no figure is told beyond what was read. */
static void
fill_numbers (WbCraftMeans *self,
              const GArray *values,
              double        middle)
{
  guint n_global = self->n_columns + N_COVARIATES;
  g_autofree guint *n = g_new0 (guint, MAX (self->n_cells, 1));

  for (guint i = 0; i < values->len; i++)
    n[g_array_index (values, WbCraftMeanValue, i).cell]++;
  for (guint i = 0; i < values->len; i++)
    {
      const WbCraftMeanValue *value = &g_array_index (values, WbCraftMeanValue, i);

      self->cell_global[value->cell * n_global + self->n_columns] += (value->number - middle) / n[value->cell];
    }
}

static void
fill_rows (WbCraftMeans         *self,
           const GArray         *values,
           const WbCraftColumns *columns,
           double                reader_sd)
{
  g_autoptr (GArray) sorted = g_array_copy ((GArray *) values);
  guint n_global = self->n_columns + N_COVARIATES;
  double number, room;
  gsize unit = 0;

  g_array_sort (sorted, compare_values);
  find_middles (values, &number, &room);
  fill_numbers (self, values, number);
  for (guint i = 0; i < sorted->len; i++)
    {
      const WbCraftMeanValue *value = &g_array_index (sorted, WbCraftMeanValue, i);
      double *global = self->global + i * n_global;

      if (i > 0 && value->sample != g_array_index (sorted, WbCraftMeanValue, i - 1).sample)
        unit++;
      self->y[i] = value->y;
      self->variance[i] = reader_sd * reader_sd;
      self->local[i] = 1;
      self->unit[i] = unit;
      self->block[i] = value->cell;
      self->sample[i] = value->sample;
      for (guint j = 0; j < self->n_columns; j++)
        global[j] = columns->cell[value->cell * columns->n + j];
      global[self->n_columns] = value->number - number;
      global[self->n_columns + 1] = isnan (value->room) ? 0 : value->room - room;
    }
}

static void
fill_columns (WbCraftMeans           *self,
              const WbCraftColumns   *columns,
              const WbCraftMeanPrior *prior)
{
  self->local_column = columns != NULL ? (WbCalcMixedColumn) { CELL, 0 } : (WbCalcMixedColumn) { WB_CALC_MIXED_KNOWN, INFINITY };
  for (guint j = 0; j < self->n_columns; j++)
    self->global_column[j] = columns->sd[j] > 0 ? (WbCalcMixedColumn) { WB_CALC_MIXED_KNOWN, columns->sd[j] * prior->unit }
                                                : (WbCalcMixedColumn) { WICK, 0 };
  self->global_column[self->n_columns] = (WbCalcMixedColumn) { WB_CALC_MIXED_KNOWN, TREND_SD * prior->unit };
  self->global_column[self->n_columns + 1] = (WbCalcMixedColumn) { WB_CALC_MIXED_KNOWN, ROOM_SD * prior->unit };
}

static WbCalcMixedSpread
spread_of (double   median,
           double   factor,
           gboolean used)
{
  return (WbCalcMixedSpread) { .start = median, .held = !used, .median = median, .factor = factor };
}

/* Rows stand cell by cell, sample by sample. */
static gboolean
is_replicated (const WbCraftMeans *self)
{
  for (gsize i = 1; i < self->data.n_rows; i++)
    if (self->block[i] == self->block[i - 1] && self->unit[i] != self->unit[i - 1])
      return TRUE;
  return FALSE;
}

static WbCalcMixedSpread
opinion_on_samples (const WbCraftMeans     *self,
                    const WbCraftMeanPrior *prior)
{
  double alone = prior->sample_factor > 0 ? prior->sample_factor : ALONE_FACTOR;

  return spread_of (prior->sample_sd, is_replicated (self) ? FACTOR : alone, TRUE);
}

static gboolean
has_wicks (const WbCraftColumns *columns)
{
  for (guint j = 0; columns != NULL && j < columns->n; j++)
    if (columns->sd[j] == 0)
      return TRUE;
  return FALSE;
}

/* A row at the floor, 0, as it looks from `at`: "0 or less" read with the reader's error. */
static void
see_floor (WbCraftMeans *self,
           guint         row,
           double        at,
           double        reader_sd)
{
  /* turned round: minus the value is at least 0 */
  WbCalcCensoredReading seen = wb_calc_censored_reading (-at, 0, true, reader_sd);
  double weight = MAX (seen.weight, LEAST_WEIGHT / (reader_sd * reader_sd));

  self->y[row] = at + seen.score / weight;
  self->variance[row] = 1 / weight;
}

static void
fit_floored (WbCraftMeans   *self,
             double          reader_sd,
             WbCalcKeepGoing keep_going,
             gpointer        user)
{
  guint n = (guint) self->data.n_rows;
  g_autofree gboolean *floored = g_new (gboolean, MAX (n, 1));
  g_autofree double *at = g_new (double, MAX (n, 1));
  double moved = INFINITY;

  for (guint i = 0; i < n; i++)
    {
      floored[i] = self->y[i] <= 0;
      at[i] = -START_BELOW * reader_sd;
    }
  for (guint round = 0; round < MAX_ROUNDS && moved > ROUND_END * reader_sd; round++)
    {
      for (guint i = 0; i < n; i++)
        if (floored[i])
          see_floor (self, i, at[i], reader_sd);
      g_clear_pointer (&self->fit, wb_calc_mixed_free);
      if (wb_calc_mixed_fit (&self->data, keep_going, user, &self->fit) != WB_CALC_OK)
        return;
      moved = 0;
      for (guint i = 0; i < n; i++)
        {
          double now = floored[i] ? wb_calc_mixed_get_row (self->fit, i) : at[i];

          moved = MAX (moved, fabs (now - at[i]));
          at[i] = now;
        }
    }
}

static WbCraftMeans *
make (const GArray           *values,
      guint                   n_cells,
      const WbCraftColumns   *columns,
      const WbCraftMeanPrior *prior,
      WbCalcKeepGoing         keep_going,
      gpointer                user)
{
  g_autoptr (WbCraftMeans) self = g_new0 (WbCraftMeans, 1);
  guint n = MAX (values->len, 1), n_global;

  self->n_cells = n_cells;
  self->n_columns = columns != NULL ? columns->n : 0;
  n_global = self->n_columns + N_COVARIATES;
  self->y = g_new (double, n);
  self->variance = g_new (double, n);
  self->local = g_new (double, n);
  self->global = g_new0 (double, (gsize) n * n_global);
  self->unit = g_new (gsize, n);
  self->block = g_new (gsize, n);
  self->sample = g_new (guint, n);
  self->global_column = g_new (WbCalcMixedColumn, n_global);
  self->cell_global = g_new0 (double, (gsize) MAX (n_cells, 1) * n_global);
  for (guint cell = 0; cell < n_cells; cell++)
    for (guint j = 0; j < self->n_columns; j++)
      self->cell_global[cell * n_global + j] = columns->cell[cell * columns->n + j];
  fill_rows (self, values, columns, prior->reader_sd);
  fill_columns (self, columns, prior);
  self->data.n_rows = values->len;
  self->spread[WB_CALC_MIXED_RUN] = spread_of (prior->burn_sd, FACTOR, TRUE);
  self->spread[WB_CALC_MIXED_UNIT] = opinion_on_samples (self, prior);
  self->spread[CELL] = spread_of (CELL_SD * prior->unit, DEVIATION_FACTOR, columns != NULL);
  self->spread[WICK] = spread_of (WICK_SD * prior->unit, DEVIATION_FACTOR, has_wicks (columns));
  self->data = (WbCalcMixedData) {
    .n_rows = values->len, .y = self->y, .variance = self->variance, .unit = self->unit, .block = self->block,
    .n_blocks = n_cells, .n_local = 1, .local = self->local, .local_column = &self->local_column,
    .n_global = n_global, .global = self->global, .global_column = self->global_column,
    .n_spreads = N_SPREADS, .spread = self->spread,
  };
  if (prior->floored)
    fit_floored (self, prior->reader_sd, keep_going, user);
  else
    wb_calc_mixed_fit (&self->data, keep_going, user, &self->fit);
  return self->fit != NULL ? g_steal_pointer (&self) : NULL;
}

WbCraftMeans *
wb_craft_means_new (const GArray           *values,
                    guint                   n_cells,
                    const WbCraftColumns   *columns,
                    const WbCraftMeanPrior *prior)
{
  return make (values, n_cells, columns, prior, NULL, NULL);
}

void
wb_craft_means_free (WbCraftMeans *self)
{
  if (self == NULL)
    return;
  wb_calc_mixed_free (self->fit);
  g_free (self->y);
  g_free (self->variance);
  g_free (self->local);
  g_free (self->global);
  g_free (self->unit);
  g_free (self->block);
  g_free (self->sample);
  g_free (self->global_column);
  g_free (self->cell_global);
  g_free (self);
}

typedef struct
{
  const GArray           *values;
  guint                   n_cells;
  const WbCraftColumns   *columns;
  const WbCraftMeanPrior *prior;
  WbCalcKeepGoing         keep_going;
  gpointer                user;
} Question;

static gpointer
answer_question (gpointer  data,
                 gboolean *stopped)
{
  const Question *question = data;
  WbCraftMeans *means = make (question->values, question->n_cells, question->columns, question->prior, question->keep_going,
                              question->user);

  *stopped = means == NULL && question->keep_going != NULL && !question->keep_going (question->user);
  return means;
}

const WbCraftMeans *
wb_craft_means_find (WbCraftMemo            *memo,
                     const GArray           *values,
                     guint                   n_cells,
                     const WbCraftColumns   *columns,
                     const WbCraftMeanPrior *prior,
                     WbCalcKeepGoing         keep_going,
                     gpointer                user)
{
  Question question = { values, n_cells, columns, prior, keep_going, user };
  GByteArray *bytes = g_byte_array_new ();

  wb_craft_question_add (bytes, "means", 5);
  wb_craft_question_add_number (bytes, n_cells);
  wb_craft_question_add_columns (bytes, columns);
  wb_craft_question_add_number (bytes, prior->sample_sd);
  wb_craft_question_add_number (bytes, prior->sample_factor);
  wb_craft_question_add_number (bytes, prior->burn_sd);
  wb_craft_question_add_number (bytes, prior->reader_sd);
  wb_craft_question_add_number (bytes, prior->unit);
  wb_craft_question_add_number (bytes, prior->floored);
  wb_craft_question_add (bytes, values->data, values->len * sizeof (WbCraftMeanValue));
  return wb_craft_memo_get (memo, bytes, answer_question, &question, (GDestroyNotify) wb_craft_means_free);
}

static const double one_alone = 1;

static WbCalcMixedTarget
target_of (const WbCraftMeans *self,
           guint               cell)
{
  return (WbCalcMixedTarget) { cell, &one_alone, self->cell_global + (gsize) cell * (self->n_columns + N_COVARIATES) };
}

void
wb_craft_means_fill (const WbCraftMeans *self,
                     const GArray       *values,
                     guint               n_cells,
                     WbCraftEstimate    *estimates)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);

  for (guint cell = 0; cell < n_cells; cell++)
    {
      estimates[cell].mean = estimates[cell].se = estimates[cell].df = NAN;
      estimates[cell].sample_sd = self != NULL ? wb_calc_mixed_get_spread (self->fit, WB_CALC_MIXED_UNIT) : NAN;
      estimates[cell].burn_sd = self != NULL ? wb_calc_mixed_get_spread (self->fit, WB_CALC_MIXED_RUN) : NAN;
    }
  for (guint i = 0; i < values->len; i++)
    {
      const WbCraftMeanValue *value = &g_array_index (values, WbCraftMeanValue, i);

      estimates[value->cell].burns++;
      estimates[value->cell].samples += g_hash_table_add (seen, GUINT_TO_POINTER (value->sample + 1));
    }
  for (guint cell = 0; self != NULL && cell < n_cells; cell++)
    {
      WbCalcMixedTarget target = target_of (self, cell);
      double weight = 1;
      WbCalcMixedContrast contrast;

      if (estimates[cell].burns == 0 || wb_calc_mixed_contrast (self->fit, &target, &weight, 1, &contrast) != WB_CALC_OK)
        continue;
      estimates[cell].mean = contrast.value;
      estimates[cell].se = contrast.sd;
      estimates[cell].df = contrast.df;
    }
}

double *
wb_craft_means_dup_deviations (const WbCraftMeans *self,
                               guint               n_samples)
{
  double *deviations = g_new (double, MAX (n_samples, 1));

  for (guint i = 0; i < n_samples; i++)
    deviations[i] = NAN;
  for (gsize i = 0; i < self->data.n_rows; i++)
    deviations[self->sample[i]] = wb_calc_mixed_get_unit (self->fit, self->unit[i]);
  return deviations;
}

gboolean
wb_craft_means_contrast (const WbCraftMeans  *self,
                         const double        *weights,
                         WbCalcMixedContrast *contrast)
{
  g_autofree WbCalcMixedTarget *targets = g_new (WbCalcMixedTarget, MAX (self->n_cells, 1));
  g_autofree double *told = g_new (double, MAX (self->n_cells, 1));
  guint n = 0;

  for (guint cell = 0; cell < self->n_cells; cell++)
    if (weights[cell] != 0)
      {
        targets[n] = target_of (self, cell);
        told[n++] = weights[cell];
      }
  return wb_calc_mixed_contrast (self->fit, targets, told, n, contrast) == WB_CALC_OK;
}

gsize
wb_craft_means_get_n_deviates (const WbCraftMeans *self)
{
  return wb_calc_mixed_get_n_deviates (self->fit);
}

gboolean
wb_craft_means_draw (const WbCraftMeans *self,
                     guint64             seed,
                     guint               n_draws,
                     const double       *z,
                     double             *levels,
                     double             *sample_sd,
                     double             *burn_sd)
{
  g_autofree WbCalcMixedTarget *targets = g_new (WbCalcMixedTarget, MAX (self->n_cells, 1));
  g_autofree double *spreads = g_new (double, (gsize) n_draws * N_SPREADS);
  double none;

  for (guint cell = 0; cell < self->n_cells; cell++)
    targets[cell] = target_of (self, cell);
  if (wb_calc_mixed_draw (self->fit, targets, levels != NULL ? self->n_cells : 0, seed, n_draws, z, levels != NULL ? levels : &none,
                          spreads) != WB_CALC_OK)
    return FALSE;
  for (guint i = 0; i < n_draws; i++)
    {
      sample_sd[i] = spreads[i * N_SPREADS + WB_CALC_MIXED_UNIT];
      burn_sd[i] = spreads[i * N_SPREADS + WB_CALC_MIXED_RUN];
    }
  return TRUE;
}
