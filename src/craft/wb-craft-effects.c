/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-effects-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-calc-anova.h"
#include "wb-calc-compare.h"
#include "wb-craft-effects-pairs-private.h"
#include "wb-craft-sample-private.h"
#include "wb-craft-scale-private.h"

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
free_mean (gpointer data)
{
  WbCraftInteractionMean *mean = data;

  g_free (mean->first);
  g_free (mean->second);
  g_free (mean);
}

static void
free_interaction (gpointer data)
{
  WbCraftInteraction *interaction = data;

  g_ptr_array_unref (interaction->means);
  g_free (interaction);
}

/* Each pair of factors that vary, with the means of the levels that were burnt together. */
static void
add_interactions (const WbCraftLevels *levels,
                  WbCraftEffects      *self)
{
  for (guint i = 0; i < levels->n_factors; i++)
    for (guint j = i + 1; j < levels->n_factors; j++)
      {
        WbCraftInteraction *interaction = g_new0 (WbCraftInteraction, 1);
        WbCraftFactor first = levels->factors[i], second = levels->factors[j];

        interaction->first = wb_craft_factor_get_key (first);
        interaction->second = wb_craft_factor_get_key (second);
        interaction->means = g_ptr_array_new_with_free_func (free_mean);
        for (size_t one = 0; one < levels->n_levels[first]; one++)
          for (size_t other = 0; other < levels->n_levels[second]; other++)
            {
              WbCraftInteractionMean mean;

              mean.combinations = wb_craft_levels_cross (levels, first, one, second, other, &mean.mean, &mean.samples);
              if (mean.combinations == 0)
                continue;
              mean.first = wb_craft_levels_dup_name (levels, first, one);
              mean.second = wb_craft_levels_dup_name (levels, second, other);
              g_ptr_array_add (interaction->means, g_memdup2 (&mean, sizeof mean));
            }
        g_ptr_array_add (self->interactions, interaction);
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

/* What rests on the figure's own model, or on the samples where it has none. */
static void
estimate (const WbCraftLevels    *levels,
          const WbCraftFigures   *figures,
          const WbCraftEstimates *estimates,
          const WbCalcAnova      *anova,
          WbCraftEffects         *self)
{
  g_autoptr (WbCraftEffectsModel) model = wb_craft_effects_model_new (levels->data, figures, estimates, self->figure);

  self->basis = model != NULL ? model->basis : WB_CRAFT_EFFECTS_BY_SAMPLES;
  wb_craft_effects_compare (self, levels, wb_craft_effects_get_compared (levels), anova, sqrt (rounding_sum_sq (levels)), model);
  if (levels->n_levels[WB_CRAFT_FACTOR_WICK] > 1)
    wb_craft_effects_find_slope (self, levels->data, model);
  wb_craft_effects_prepare_needed (self, levels->data, levels, anova, model);
}

static void
analyse (const WbCraftLevels    *levels,
         const WbCraftFigures   *figures,
         const WbCraftEstimates *estimates,
         const char             *rare,
         WbCraftEffects         *self)
{
  WbCalcAnova anova;

  add_interactions (levels, self);
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
      estimate (levels, figures, estimates, &anova, self);
      rank_ratings (levels, self);
      self->slope.text = wb_craft_effects_dup_slope (self, levels->data);
      self->compares_wicks = wb_craft_effects_get_compared (levels) == WB_CRAFT_FACTOR_WICK;
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
  self->interactions = g_ptr_array_new_with_free_func (free_interaction);
  self->slope.interval = WB_CRAFT_INTERVAL_NONE;
  self->needed = (WbCraftSamplesNeeded) { .sample_sd = NAN, .sample_df = NAN, .aimed = NAN };
  self->rank_h = self->rank_df = self->rank_p = NAN;
  values = wb_craft_sample_values (data, figures, estimates, figure, rare);
  wb_craft_levels_init (&levels, data, values);
  self->n = levels.n;
  analyse (&levels, figures, estimates, rare->str, self);
  wb_craft_effects_set_margin (self, NAN);
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
  g_clear_pointer (&self->interactions, g_ptr_array_unref);
  g_free (self->slope.text);
  g_free (self->needed.text);
  g_free (self->finding);
  g_free (self->refusal);
  g_free (self);
}
