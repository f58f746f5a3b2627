/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-effects-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-calc-anova.h"
#include "wb-calc-compare.h"
#include "wb-craft-sample-private.h"
#include "wb-craft-scale-private.h"

#define COVERAGE 0.9
#define ROUNDING 1e-20     /* a sum of squares below this share of that of the readings is what adding them up leaves */

/* The fullest model that leaves something to judge by: interactions of the highest order go first. */
static gboolean
fit (const WbCraftLevels *levels,
     WbCalcAnova         *anova)
{
  const size_t *level[WB_CRAFT_N_FACTORS];
  size_t n_levels[WB_CRAFT_N_FACTORS];
  WbCalcAnovaData columns = { levels->n, levels->y, levels->n_factors, level, n_levels };
  unsigned terms[1 << WB_CRAFT_N_FACTORS];

  for (guint i = 0; i < levels->n_factors; i++)
    {
      level[i] = levels->level[levels->factors[i]];
      n_levels[i] = levels->n_levels[levels->factors[i]];
    }
  for (guint order = levels->n_factors; order > 0; order--)
    {
      size_t n_terms = wb_calc_anova_all_terms (levels->n_factors, order, terms);

      if (wb_calc_anova_fit (&columns, terms, n_terms, NULL, NULL, anova) != WB_CALC_OK)
        continue;
      if (anova->residual_df > 0)
        return TRUE;
      wb_calc_anova_clear (anova);
    }
  return FALSE;
}

static double
rounding_sum_sq (const WbCraftLevels *levels)
{
  double sum = 0;

  for (guint i = 0; i < levels->n; i++)
    sum += levels->y[i] * levels->y[i];
  return ROUNDING * sum;
}

/*
 * Where samples of one kind read exactly alike there is no spread to judge by: what
 * differs then has F infinite and p 0, what does not neither. Sums that only rounding
 * left are none.
 */
static void
tidy (const WbCraftLevels *levels,
      WbCalcAnova         *anova)
{
  double least = rounding_sum_sq (levels);

  for (size_t i = 0; i < anova->n_terms; i++)
    if (anova->terms[i].sum_sq <= least)
      {
        anova->terms[i].sum_sq = 0;
        anova->terms[i].f = anova->residual_sum_sq > least ? 0 : NAN;
        anova->terms[i].p = anova->residual_sum_sq > least ? 1 : NAN;
      }
    else if (anova->residual_sum_sq <= least)
      {
        anova->terms[i].f = INFINITY;
        anova->terms[i].p = 0;
      }
  if (anova->residual_sum_sq <= least)
    anova->residual_sum_sq = anova->residual_mean_sq = 0;
}

static char *
dup_term_key (const WbCraftLevels *levels,
              unsigned             factors)
{
  GString *key = g_string_new (NULL);

  for (guint i = 0; i < levels->n_factors; i++)
    if ((factors & (1u << i)) != 0)
      g_string_append_printf (key, "%s%s", key->len > 0 ? ":" : "", wb_craft_factor_get_key (levels->factors[i]));
  return g_string_free (key, FALSE);
}

static void
add_term (WbCraftEffects *self,
          char           *key,
          double          df,
          double          sum_sq,
          double          f,
          double          p)
{
  WbCraftTerm *term = g_new0 (WbCraftTerm, 1);

  *term = (WbCraftTerm) { key, df, sum_sq, f, p };
  g_ptr_array_add (self->terms, term);
}

WbCraftFactor
wb_craft_effects_get_compared (const WbCraftLevels *levels)
{
  for (guint i = 0; i < levels->n_factors; i++)
    if (levels->factors[i] == WB_CRAFT_FACTOR_WICK)
      return WB_CRAFT_FACTOR_WICK;
  return levels->factors[0];
}

static void
add_comparison (const WbCraftLevels    *levels,
                WbCraftFactor           factor,
                const WbCalcComparison *pair,
                WbCraftEffects         *self)
{
  WbCraftComparison *comparison = g_new0 (WbCraftComparison, 1);

  comparison->a = wb_craft_levels_dup_name (levels, factor, pair->second);
  comparison->b = wb_craft_levels_dup_name (levels, factor, pair->first);
  comparison->difference = (WbCraftInterval) { pair->difference, pair->low, pair->high };
  comparison->p = pair->p;
  g_ptr_array_add (self->comparisons, comparison);
}

static void
compare (const WbCraftLevels *levels,
         const WbCalcAnova   *anova,
         WbCraftEffects      *self)
{
  WbCraftFactor factor = wb_craft_effects_get_compared (levels);
  size_t k = levels->n_levels[factor];
  double df = anova->residual_df, least = sqrt (rounding_sum_sq (levels)), quantile;

  if (wb_calc_compare_studentized_range_quantile (COVERAGE, k, df, &quantile) != WB_CALC_OK)
    return;
  for (size_t second = 1; second < k; second++)
    for (size_t first = 0; first < second; first++)
      {
        WbCalcComparison pair = { .first = first, .second = second };
        double difference, inverse;

        if (wb_craft_levels_match (levels, factor, first, second, &difference, &inverse) > 0
            && wb_calc_compare_tukey_pair (fabs (difference) > least ? difference : 0, inverse, k, anova->residual_mean_sq, df, quantile, &pair) == WB_CALC_OK)
          add_comparison (levels, factor, &pair, self);
      }
}

static void
rank_ratings (const WbCraftLevels *levels,
              WbCraftEffects      *self)
{
  WbCalcKruskalWallis result;

  if (!wb_craft_scale_is_rating (self->figure) || levels->n_levels[WB_CRAFT_FACTOR_WICK] < 2
      || wb_calc_compare_kruskal_wallis (levels->y, levels->level[WB_CRAFT_FACTOR_WICK], levels->n,
                                         levels->n_levels[WB_CRAFT_FACTOR_WICK], NULL, &result) != WB_CALC_OK)
    return;
  self->rank_h = result.h;
  self->rank_df = result.df;
  self->rank_p = result.p;
}

static void
free_term (gpointer data)
{
  WbCraftTerm *term = data;

  g_free (term->term);
  g_free (term);
}

static void
free_comparison (gpointer data)
{
  WbCraftComparison *comparison = data;

  g_free (comparison->a);
  g_free (comparison->b);
  g_free (comparison);
}

static void
analyse (const WbCraftLevels *levels,
         const char          *rare,
         WbCraftEffects      *self)
{
  WbCalcAnova anova;

  if (levels->n == 0)
    self->refusal = g_strdup (_("No sample that counts has this figure."));
  else if (levels->n_factors == 0)
    self->refusal = g_strdup (_("Only one combination has this figure: there is nothing to compare."));
  else if (!fit (levels, &anova))
    self->refusal = g_strdup (_("Too few samples: a second one of at least one combination is needed to tell "
                                "differences from chance."));
  else
    {
      tidy (levels, &anova);
      for (size_t i = 0; i < anova.n_terms; i++)
        if (anova.terms[i].df > 0)
          add_term (self, dup_term_key (levels, anova.terms[i].factors), anova.terms[i].df, anova.terms[i].sum_sq,
                    anova.terms[i].f, anova.terms[i].p);
      add_term (self, g_strdup ("residual"), anova.residual_df, anova.residual_sum_sq, NAN, NAN);
      compare (levels, &anova, self);
      rank_ratings (levels, self);
      self->finding = wb_craft_effects_dup_finding (self, levels, rare);
      wb_calc_anova_clear (&anova);
    }
}

WbCraftEffects *
wb_craft_effects_new (const WbDataset        *data,
                      const WbCraftFigures   *figures,
                      const WbCraftEstimates *estimates,
                      WbFigure                figure)
{
  WbCraftEffects *self = g_new0 (WbCraftEffects, 1);
  g_autofree double *values = NULL;
  g_autoptr (GString) rare = g_string_new (NULL);
  WbCraftLevels levels;

  g_return_val_if_fail (data != NULL && figures != NULL && estimates != NULL, self);

  self->figure = figure;
  self->terms = g_ptr_array_new_with_free_func (free_term);
  self->comparisons = g_ptr_array_new_with_free_func (free_comparison);
  self->rank_h = self->rank_df = self->rank_p = NAN;
  values = wb_craft_sample_values (data, figures, estimates, figure, rare);
  wb_craft_levels_init (&levels, data, values);
  self->n = levels.n;
  analyse (&levels, rare->str, self);
  wb_craft_levels_clear (&levels);
  return self;
}

void
wb_craft_effects_free (WbCraftEffects *self)
{
  if (self == NULL)
    return;
  g_clear_pointer (&self->terms, g_ptr_array_unref);
  g_clear_pointer (&self->comparisons, g_ptr_array_unref);
  g_free (self->finding);
  g_free (self->refusal);
  g_free (self);
}
