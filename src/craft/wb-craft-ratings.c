/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-ratings-private.h"

#include <math.h>

#include "wb-craft-means-private.h"
#include "wb-craft-scale-private.h"

#define COVERAGE 0.9
#define DRAWS 4000
#define SEED 1   /* the same ratings give the same answer */

/* Opinions on the latent scale, no source: recipes around the line 0.3, known to a factor of 2.5; candles of a recipe 0.3, to one of 2. */
static const WbCalcOrdinalPrior prior = { { 0.3, 2.5 }, { 0.3, 2.0 }, 2.0, 0.0 };

/* The columns that are numbers of the recipe: neither the mean, which the thresholds hold, nor deviations. */
static double *
make_columns (const WbCraftColumns *columns,
              gsize                *n)
{
  double *x = g_new (double, (gsize) MAX (columns->n_cells, 1) * MAX (columns->n, 1));
  gsize kept = 0;

  *n = 0;
  for (guint j = 0; j < columns->n; j++)
    *n += columns->sd[j] > 0 && isfinite (columns->sd[j]);
  for (guint j = 0; j < columns->n; j++)
    {
      if (!(columns->sd[j] > 0 && isfinite (columns->sd[j])))
        continue;
      for (guint cell = 0; cell < columns->n_cells; cell++)
        x[cell * *n + kept] = columns->cell[cell * columns->n + j];
      kept++;
    }
  return x;
}

/* Samples by number, in order of first appearance. */
static gsize
number_units (const GArray *values,
              gsize        *unit)
{
  g_autoptr (GHashTable) numbers = g_hash_table_new (NULL, NULL);
  gsize n = 0;

  for (guint i = 0; i < values->len; i++)
    {
      gpointer sample = GUINT_TO_POINTER (g_array_index (values, WbCraftMeanValue, i).sample + 1);
      gpointer known = g_hash_table_lookup (numbers, sample);

      if (known == NULL)
        g_hash_table_insert (numbers, sample, known = GSIZE_TO_POINTER (++n));
      unit[i] = GPOINTER_TO_SIZE (known) - 1;
    }
  return n;
}

WbCraftRatings *
wb_craft_ratings_new (const WbDataset      *data,
                      const GArray         *values,
                      const WbCraftColumns *columns,
                      WbFigure              figure,
                      WbStage               stage,
                      WbCalcKeepGoing       keep_going,
                      gpointer              user)
{
  g_autoptr (WbCraftRatings) self = g_new0 (WbCraftRatings, 1);
  gsize n = MAX (values->len, 1);
  g_autofree gsize *rating = g_new (gsize, n), *unit = g_new (gsize, n), *group = g_new (gsize, n);
  g_autofree double *x = NULL;
  double low, high;
  WbCalcOrdinalData ratings = { .n = values->len, .rating = rating, .unit = unit, .group = group, .n_groups = data->cells->len };
  WbCalcStatus status;

  wb_craft_scale_get_ends (figure, &low, &high);
  self->figure = figure;
  self->stage = stage;
  self->lowest = (guint) low;
  self->read = g_new0 (gboolean, MAX (data->cells->len, 1));
  for (guint i = 0; i < values->len; i++)
    {
      const WbCraftMeanValue *value = &g_array_index (values, WbCraftMeanValue, i);

      /* a mean over raters is taken for the nearest rating */
      rating[i] = (gsize) lround (CLAMP (value->y, low, high) - low);
      group[i] = value->cell;
      self->read[value->cell] = TRUE;
    }
  ratings.n_categories = (gsize) (high - low) + 1;
  ratings.n_units = number_units (values, unit);
  ratings.x = x = make_columns (columns, &ratings.n_columns);
  status = wb_calc_ordinal_fit (&ratings, &prior, DRAWS, SEED, keep_going, user, &self->draws);
  self->all_same = status == WB_CALC_ALL_SAME;
  return status == WB_CALC_OK || self->all_same ? g_steal_pointer (&self) : NULL;
}

typedef struct
{
  const WbDataset      *data;
  const GArray         *values;
  const WbCraftColumns *columns;
  WbFigure              figure;
  WbStage               stage;
  WbCalcKeepGoing       keep_going;
  gpointer              user;
} Question;

static gpointer
answer_question (gpointer  data,
                 gboolean *stopped)
{
  const Question *question = data;
  WbCraftRatings *ratings = wb_craft_ratings_new (question->data, question->values, question->columns, question->figure,
                                                  question->stage, question->keep_going, question->user);

  *stopped = ratings == NULL && question->keep_going != NULL && !question->keep_going (question->user);
  return ratings;
}

const WbCraftRatings *
wb_craft_ratings_find (WbCraftMemo          *memo,
                       const WbDataset      *data,
                       const GArray         *values,
                       const WbCraftColumns *columns,
                       WbFigure              figure,
                       WbStage               stage,
                       WbCalcKeepGoing       keep_going,
                       gpointer              user)
{
  Question question = { data, values, columns, figure, stage, keep_going, user };
  GByteArray *bytes = g_byte_array_new ();

  wb_craft_question_add (bytes, "ratings", 7);
  wb_craft_question_add_number (bytes, data->cells->len);
  wb_craft_question_add_columns (bytes, columns);
  wb_craft_question_add_number (bytes, figure);
  wb_craft_question_add_number (bytes, stage);
  /* neither room nor burn number is in the model */
  for (guint i = 0; i < values->len; i++)
    {
      const WbCraftMeanValue *value = &g_array_index (values, WbCraftMeanValue, i);

      wb_craft_question_add_number (bytes, value->y);
      wb_craft_question_add_number (bytes, value->cell);
      wb_craft_question_add_number (bytes, value->sample);
    }
  return wb_craft_memo_get (memo, bytes, answer_question, &question, (GDestroyNotify) wb_craft_ratings_free);
}

void
wb_craft_ratings_free (WbCraftRatings *self)
{
  if (self == NULL)
    return;
  wb_calc_ordinal_clear (&self->draws);
  g_free (self->read);
  g_free (self);
}

WbCraftInterval
wb_craft_ratings_tell (const WbCraftRatings *self,
                       guint                 cell)
{
  WbCalcOrdinalSummary summary;

  if (wb_calc_ordinal_summarise (&self->draws, cell, COVERAGE, &summary) != WB_CALC_OK)
    return WB_CRAFT_INTERVAL_NONE;
  return (WbCraftInterval) { self->lowest + summary.mean, self->lowest + summary.low, self->lowest + summary.high };
}
