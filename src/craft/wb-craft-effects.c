/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-effects.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-calc-anova.h"
#include "wb-calc-compare.h"
#include "wb-craft-sample-private.h"
#include "wb-craft-scale-private.h"

#define COVERAGE 0.9
#define SHOWS 0.05        /* below this p a difference is said to show */

enum { VESSEL, WICK, SCENT, N_FACTORS };

static const char *factor_keys[N_FACTORS] = { "vessel", "wick", "scent" };
static const char *factor_labels[N_FACTORS] = { N_("vessel"), N_("wick"), N_("scent") };

/* The samples with a value, and their levels. */
typedef struct
{
  const WbDataset *data;
  guint    n;
  double  *y;
  guint   *cell;
  size_t  *level[N_FACTORS];
  size_t   n_levels[N_FACTORS];
  guint   *first_cell[N_FACTORS];   /* a level: a cell that has it */
  guint    factors[N_FACTORS];      /* those that vary */
  guint    n_factors;
  guint    n_never;                 /* samples whose full melt pool never comes: no number to average */
} Layout;

static gboolean
same_level (const WbDataset *data,
            guint            factor,
            guint            a,
            guint            b)
{
  const WbCell *one = wb_dataset_get_cell (data, a), *other = wb_dataset_get_cell (data, b);

  switch (factor)
    {
    case VESSEL: return wb_dataset_get_vessel (data, a) == wb_dataset_get_vessel (data, b);
    case WICK: return wb_dataset_get_wick (data, a) == wb_dataset_get_wick (data, b) && one->wick_count == other->wick_count;
    case SCENT:
    default: return one->fragrance == other->fragrance && one->load_pct == other->load_pct
                    && one->load_basis == other->load_basis;
    }
}

/* Levels in the order of the data set's cells, so that wicks come by series and step. */
static void
number_levels (Layout *layout,
               guint   factor)
{
  layout->level[factor] = g_new0 (size_t, MAX (layout->n, 1));
  layout->first_cell[factor] = g_new0 (guint, MAX (layout->n, 1));
  for (guint i = 0; i < layout->n; i++)
    {
      size_t level = 0;

      while (level < layout->n_levels[factor]
             && !same_level (layout->data, factor, layout->cell[i], layout->first_cell[factor][level]))
        level++;
      if (level == layout->n_levels[factor])
        layout->first_cell[factor][layout->n_levels[factor]++] = layout->cell[i];
      layout->level[factor][i] = level;
    }
  if (layout->n_levels[factor] > 1)
    layout->factors[layout->n_factors++] = factor;
}

static void
layout_init (Layout          *layout,
             const WbDataset *data,
             const double    *values)
{
  guint n_samples = data->samples->len;

  *layout = (Layout) { .data = data, .y = g_new (double, MAX (n_samples, 1)), .cell = g_new (guint, MAX (n_samples, 1)) };
  for (guint i = 0; i < n_samples; i++)
    if (isfinite (values[i]))
      {
        layout->y[layout->n] = values[i];
        layout->cell[layout->n++] = g_array_index (data->sample_cell, guint, i);
      }
    else if (isinf (values[i]))
      layout->n_never++;
  for (guint factor = 0; factor < N_FACTORS; factor++)
    number_levels (layout, factor);
}

static void
layout_clear (Layout *layout)
{
  g_free (layout->y);
  g_free (layout->cell);
  for (guint factor = 0; factor < N_FACTORS; factor++)
    {
      g_free (layout->level[factor]);
      g_free (layout->first_cell[factor]);
    }
}

/* The fullest model that leaves something to judge by: interactions of the highest order go first. */
static gboolean
fit (const Layout *layout,
     WbCalcAnova  *anova)
{
  const size_t *level[N_FACTORS];
  size_t n_levels[N_FACTORS];
  WbCalcAnovaData columns = { layout->n, layout->y, layout->n_factors, level, n_levels };
  unsigned terms[1 << N_FACTORS];

  for (guint i = 0; i < layout->n_factors; i++)
    {
      level[i] = layout->level[layout->factors[i]];
      n_levels[i] = layout->n_levels[layout->factors[i]];
    }
  for (guint order = layout->n_factors; order > 0; order--)
    {
      size_t n_terms = wb_calc_anova_all_terms (layout->n_factors, order, terms);

      if (wb_calc_anova_fit (&columns, terms, n_terms, NULL, NULL, anova) != WB_CALC_OK)
        continue;
      if (anova->residual_df > 0)
        return TRUE;
      wb_calc_anova_clear (anova);
    }
  return FALSE;
}

static char *
dup_term_key (const Layout *layout,
              unsigned      factors)
{
  GString *key = g_string_new (NULL);

  for (guint i = 0; i < layout->n_factors; i++)
    if ((factors & (1u << i)) != 0)
      g_string_append_printf (key, "%s%s", key->len > 0 ? ":" : "", factor_keys[layout->factors[i]]);
  return g_string_free (key, FALSE);
}

char *
wb_craft_term_dup_label (const char *term)
{
  GString *label = g_string_new (NULL);
  g_auto (GStrv) keys = NULL;

  g_return_val_if_fail (term != NULL, NULL);

  keys = g_strsplit (term, ":", -1);
  for (guint i = 0; keys[i] != NULL; i++)
    {
      const char *word = g_str_equal (keys[i], "residual") ? _("rest") : keys[i];

      for (guint factor = 0; factor < N_FACTORS; factor++)
        if (g_str_equal (keys[i], factor_keys[factor]))
          word = _(factor_labels[factor]);
      g_string_append_printf (label, "%s%s", i > 0 ? " × " : "", word);
    }
  return g_string_free (label, FALSE);
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

static char *
dup_level_name (const Layout *layout,
                guint         factor,
                size_t        level)
{
  guint cell = layout->first_cell[factor][level];

  switch (factor)
    {
    case VESSEL: return wb_material_dup_title (wb_dataset_get_vessel (layout->data, cell));
    case WICK: return wb_dataset_dup_wick_name (layout->data, cell);
    case SCENT:
    default: return wb_dataset_dup_scent_name (layout->data, cell);
    }
}

/* The factor whose levels are compared: the wick, else the first that varies. */
static guint
compared_factor (const Layout *layout)
{
  for (guint i = 0; i < layout->n_factors; i++)
    if (layout->factors[i] == WICK)
      return WICK;
  return layout->factors[0];
}

/*
 * Means of the levels of a factor over the combinations of the others, each
 * combination counting once, so that an uneven grid does not lean; the count that
 * stands for such a mean's variance is harmonic.
 */
static void
level_means (const Layout *layout,
             guint         factor,
             double       *mean,
             size_t       *count)
{
  for (size_t level = 0; level < layout->n_levels[factor]; level++)
    {
      double sum = 0, inverse = 0;
      guint combinations = 0;

      for (guint cell = 0; cell < layout->data->cells->len; cell++)
        {
          double of_cell = 0;
          guint n = 0;

          for (guint i = 0; i < layout->n; i++)
            if (layout->cell[i] == cell && layout->level[factor][i] == level)
              {
                of_cell += layout->y[i];
                n++;
              }
          if (n == 0)
            continue;
          sum += of_cell / n;
          inverse += 1.0 / n;
          combinations++;
        }
      mean[level] = sum / combinations;
      count[level] = (size_t) MAX (floor (combinations * combinations / inverse + 1e-9), 1);
    }
}

static void
compare (const Layout      *layout,
         const WbCalcAnova *anova,
         WbCraftEffects    *self)
{
  guint factor = compared_factor (layout);
  size_t k = layout->n_levels[factor];
  g_autofree double *mean = g_new (double, k);
  g_autofree size_t *count = g_new (size_t, k);
  g_autofree WbCalcComparison *pairs = g_new0 (WbCalcComparison, k * (k - 1) / 2);

  level_means (layout, factor, mean, count);
  if (wb_calc_compare_tukey (mean, count, k, anova->residual_mean_sq, anova->residual_df, COVERAGE, pairs) != WB_CALC_OK)
    return;
  for (size_t i = 0; i < k * (k - 1) / 2; i++)
    {
      WbCraftComparison *comparison = g_new0 (WbCraftComparison, 1);

      comparison->a = dup_level_name (layout, factor, pairs[i].second);
      comparison->b = dup_level_name (layout, factor, pairs[i].first);
      comparison->difference = (WbCraftInterval) { pairs[i].difference, pairs[i].low, pairs[i].high };
      comparison->p = pairs[i].p;
      g_ptr_array_add (self->comparisons, comparison);
    }
}

static void
rank_ratings (const Layout   *layout,
              WbCraftEffects *self)
{
  WbCalcKruskalWallis result;

  if (!wb_craft_scale_is_rating (self->figure) || layout->n_levels[WICK] < 2
      || wb_calc_compare_kruskal_wallis (layout->y, layout->level[WICK], layout->n, layout->n_levels[WICK], NULL, &result)
         != WB_CALC_OK)
    return;
  self->rank_h = result.h;
  self->rank_df = result.df;
  self->rank_p = result.p;
}

static char *
dup_p (double p)
{
  g_autofree char *number = NULL;

  if (p < 0.001)
    return g_strdup ("p < 0.001");
  number = wb_number_format (p, 3, NULL);
  return g_strdup_printf ("p = %s", number);
}

static char *
dup_value (WbFigure figure,
           double   value)
{
  WbUnit unit = wb_figure_get_unit (figure);

  /* a figure's hours are hours, a quantity's duration is stored in seconds */
  if (wb_unit_get_quantity (unit) == WB_QUANTITY_DURATION)
    return wb_quantity_format (unit, wb_unit_to_stored (unit, value), 1);
  return wb_quantity_format (unit, value, figure == WB_FIGURE_SCORE ? 2 : -1);
}

/* The factor that a term is about: its own if it is one alone, else the one compared. */
static guint
told_factor (const Layout      *layout,
             const WbCraftTerm *term)
{
  for (guint factor = 0; term != NULL && factor < N_FACTORS; factor++)
    if (g_str_equal (term->term, factor_keys[factor]))
      return factor;
  return compared_factor (layout);
}

/* Highest and lowest level of a factor. */
static char *
dup_span (const Layout *layout,
          guint         factor,
          WbFigure      figure)
{
  size_t k = layout->n_levels[factor], highest = 0, lowest = 0;
  g_autofree double *mean = g_new (double, k);
  g_autofree size_t *count = g_new (size_t, k);
  g_autofree char *high = NULL, *low = NULL, *high_name = NULL, *low_name = NULL;

  level_means (layout, factor, mean, count);
  for (size_t level = 1; level < k; level++)
    {
      highest = mean[level] > mean[highest] ? level : highest;
      lowest = mean[level] < mean[lowest] ? level : lowest;
    }
  high = dup_value (figure, mean[highest]);
  low = dup_value (figure, mean[lowest]);
  high_name = dup_level_name (layout, factor, highest);
  low_name = dup_level_name (layout, factor, lowest);
  /* Translators: name of a wick, vessel or scent, its mean; the same for the lowest. */
  return g_strdup_printf (_("%s is highest on average at %s, %s lowest at %s."), high_name, high, low_name, low);
}

/* The term with the smallest p, where one shows. */
static void
tell (const Layout   *layout,
      WbCraftEffects *self)
{
  const WbCraftTerm *strongest = NULL;
  g_autofree char *span = NULL;

  for (guint i = 0; i < self->terms->len; i++)
    {
      const WbCraftTerm *term = g_ptr_array_index (self->terms, i);

      if (term->p < SHOWS && (strongest == NULL || term->p < strongest->p
                              || (term->p == strongest->p && term->f > strongest->f)))
        strongest = term;
    }
  span = dup_span (layout, told_factor (layout, strongest), self->figure);
  if (strongest == NULL)
    self->finding = g_strdup_printf (_("No difference shows beyond that between samples of one kind. %s"), span);
  else
    {
      g_autofree char *label = wb_craft_term_dup_label (strongest->term);
      g_autofree char *p = dup_p (strongest->p);

      self->finding = g_strdup_printf (_("The difference shows most by %s (%s). %s"), label, p, span);
    }
  if (layout->n_never > 0)
    {
      g_autofree char *without = g_steal_pointer (&self->finding);

      self->finding = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE,
                                                    "%s Left out: %u sample whose pool never gets to the wall.",
                                                    "%s Left out: %u samples whose pool never gets to the wall.",
                                                    layout->n_never), without, layout->n_never);
    }
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
analyse (const Layout   *layout,
         WbCraftEffects *self)
{
  WbCalcAnova anova;

  if (layout->n == 0)
    self->refusal = g_strdup (_("No sample that counts has this figure."));
  else if (layout->n_factors == 0)
    self->refusal = g_strdup (_("Only one combination has this figure: there is nothing to compare."));
  else if (!fit (layout, &anova))
    self->refusal = g_strdup (_("Too few samples: a second one of at least one combination is needed to tell "
                                "differences from chance."));
  else
    {
      for (size_t i = 0; i < anova.n_terms; i++)
        if (anova.terms[i].df > 0)
          add_term (self, dup_term_key (layout, anova.terms[i].factors), anova.terms[i].df, anova.terms[i].sum_sq,
                    anova.terms[i].f, anova.terms[i].p);
      add_term (self, g_strdup ("residual"), anova.residual_df, anova.residual_sum_sq, NAN, NAN);
      compare (layout, &anova, self);
      rank_ratings (layout, self);
      tell (layout, self);
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
  Layout layout;

  g_return_val_if_fail (data != NULL && figures != NULL && estimates != NULL, self);

  self->figure = figure;
  self->terms = g_ptr_array_new_with_free_func (free_term);
  self->comparisons = g_ptr_array_new_with_free_func (free_comparison);
  self->rank_h = self->rank_df = self->rank_p = NAN;
  values = wb_craft_sample_values (data, figures, estimates, figure);
  layout_init (&layout, data, values);
  self->n = layout.n;
  analyse (&layout, self);
  layout_clear (&layout);
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
