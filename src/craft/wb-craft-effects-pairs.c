/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-effects-pairs-private.h"

#include <math.h>

#include "wb-calc-compare.h"
#include "wb-calc-quantile.h"

#define COVERAGE 0.9
#define ALPHA 0.05         /* of each of the two one-sided tests */
#define SAME_DF 1e-6       /* degrees of freedom that differ by less, as a share, have the same quantile */
#define MOST_EXACT 12      /* levels, 66 pairs */
#define NODE 0.02          /* of the logarithm of degrees of freedom */
#define MOST_DF 1e5        /* above it they are few */

/*
 * The quantile of the studentized range is dear. Pairs of an even grid share theirs; with
 * very many pairs it is found at degrees of freedom NODE apart, and between them by a
 * line over 1 / df, which is right to some 1e-6 of it.
 */
typedef struct
{
  size_t      k;
  double      df, value;  /* the last one found */
  GHashTable *nodes;      /* number of the node → its value; NULL: each is found for itself */
} Quantile;

static void
quantile_init (Quantile *self,
               size_t    k)
{
  *self = (Quantile) { k, NAN, NAN, k > MOST_EXACT ? g_hash_table_new_full (g_int_hash, g_int_equal, g_free, g_free) : NULL };
}

static void
quantile_clear (Quantile *self)
{
  g_clear_pointer (&self->nodes, g_hash_table_unref);
}

static double
quantile_at (size_t k,
             double df)
{
  double value;

  return wb_calc_compare_studentized_range_quantile (COVERAGE, k, df, &value) == WB_CALC_OK ? value : NAN;
}

static double
node_at (Quantile *self,
         int       node)
{
  double *value = g_hash_table_lookup (self->nodes, &node);

  if (value == NULL)
    {
      value = g_memdup2 (&(double) { quantile_at (self->k, exp (NODE * node)) }, sizeof *value);
      g_hash_table_insert (self->nodes, g_memdup2 (&node, sizeof node), value);
    }
  return *value;
}

static gboolean
find_quantile (Quantile *self,
               double    df)
{
  if (self->df == df || fabs (self->df - df) < SAME_DF * df)
    return TRUE;
  self->df = df;
  if (self->nodes != NULL && df < MOST_DF)
    {
      int node = (int) floor (log (df) / NODE);
      double below = exp (-NODE * node), above = exp (-NODE * (node + 1)), share = (below - 1 / df) / (below - above);

      self->value = (1 - share) * node_at (self, node) + share * node_at (self, node + 1);
    }
  else
    self->value = quantile_at (self->k, df);
  return !isnan (self->value);
}

/* A difference, and what it is made of. */
typedef struct
{
  WbCraftContrast contrast;
  guint           combinations, samples;
} Difference;

static void
add_comparison (WbCraftEffects         *self,
                const WbCraftLevels    *levels,
                WbCraftFactor           factor,
                const WbCalcComparison *pair,
                const Difference       *difference)
{
  WbCraftComparison *comparison = g_new0 (WbCraftComparison, 1);
  double error = difference->contrast.error, df = difference->contrast.df;
  double half = error > 0 ? wb_calc_student_quantile (1 - (1 - COVERAGE) / 2, df) * error : 0;

  comparison->a = wb_craft_levels_dup_name (levels, factor, pair->second);
  comparison->b = wb_craft_levels_dup_name (levels, factor, pair->first);
  comparison->difference = (WbCraftInterval) { pair->difference, pair->low, pair->high };
  comparison->p = pair->p;
  comparison->error = error;
  comparison->df = df;
  comparison->alone = (WbCraftInterval) { pair->difference, pair->difference - half, pair->difference + half };
  comparison->combinations = difference->combinations;
  comparison->samples = difference->samples;
  g_ptr_array_add (self->comparisons, comparison);
}

/* FALSE: the pair is not compared. */
static gboolean
find_difference (const WbCraftLevels       *levels,
                 WbCraftFactor              factor,
                 size_t                     first,
                 size_t                     second,
                 const WbCalcAnova         *anova,
                 const WbCraftEffectsModel *model,
                 const gboolean            *has,
                 double                    *weights,
                 Difference                *difference)
{
  WbCraftContrast *contrast = &difference->contrast;

  *difference = (Difference) { .combinations = wb_craft_levels_weigh (levels, factor, first, second, has, weights) };
  for (guint cell = 0; cell < levels->data->cells->len; cell++)
    if (weights[cell] != 0)
      difference->samples += model != NULL ? model->samples[cell] : levels->cell_n[cell];
  if (difference->combinations == 0)
    return FALSE;
  if (model != NULL)
    return wb_craft_effects_model_contrast (model, weights, contrast);
  for (guint cell = 0; cell < levels->data->cells->len; cell++)
    if (weights[cell] != 0)
      {
        contrast->value += weights[cell] * levels->cell_mean[cell];
        contrast->error += weights[cell] * weights[cell] / levels->cell_n[cell];
      }
  contrast->error = sqrt (contrast->error * anova->residual_mean_sq);
  contrast->df = anova->residual_df;
  return TRUE;
}

void
wb_craft_effects_compare (WbCraftEffects            *self,
                          const WbCraftLevels       *levels,
                          WbCraftFactor              factor,
                          const WbCalcAnova         *anova,
                          double                     least,
                          const WbCraftEffectsModel *model)
{
  Quantile quantile;
  guint n_cells = levels->data->cells->len;
  g_autofree double *weights = g_new (double, MAX (n_cells, 1));
  g_autofree gboolean *has = g_new (gboolean, MAX (n_cells, 1));

  for (guint cell = 0; cell < n_cells; cell++)
    has[cell] = model != NULL ? model->has[cell] : levels->cell_n[cell] > 0;
  quantile_init (&quantile, levels->n_levels[factor]);
  for (size_t second = 1; second < quantile.k; second++)
    for (size_t first = 0; first < second; first++)
      {
        WbCalcComparison pair = { .first = first, .second = second };
        Difference difference;
        const WbCraftContrast *contrast = &difference.contrast;
        double value;

        if (!find_difference (levels, factor, first, second, anova, model, has, weights, &difference)
            || !find_quantile (&quantile, contrast->df))
          continue;
        value = fabs (contrast->value) > least ? contrast->value : 0;
        if (wb_calc_compare_tukey_pair (value, 1, quantile.k, contrast->error * contrast->error, contrast->df, quantile.value, &pair)
            == WB_CALC_OK)
          add_comparison (self, levels, factor, &pair, &difference);
      }
  quantile_clear (&quantile);
}

/* Two one-sided tests; a difference that nothing says the error of is taken as it stands. */
static WbCraftAlike
judge_alike (const WbCraftComparison *comparison,
             double                   margin)
{
  WbCalcEquivalence result;

  if (!(margin > 0)
      || wb_calc_compare_equivalence (comparison->difference.value, comparison->error, comparison->df, margin, ALPHA, &result)
           != WB_CALC_OK)
    return WB_CRAFT_ALIKE_NOT_ASKED;
  return result.equivalent ? WB_CRAFT_ALIKE_YES : WB_CRAFT_ALIKE_NO;
}

void
wb_craft_effects_judge_alike (WbCraftEffects *self)
{
  for (guint i = 0; i < self->comparisons->len; i++)
    {
      WbCraftComparison *comparison = g_ptr_array_index (self->comparisons, i);

      comparison->alike = judge_alike (comparison, self->margin);
    }
}
