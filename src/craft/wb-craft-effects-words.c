/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-effects-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define SHOWS 0.05        /* below this p a difference is said to show */

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

      for (guint factor = 0; factor < WB_CRAFT_N_FACTORS; factor++)
        if (g_str_equal (keys[i], wb_craft_factor_get_key (factor)))
          word = wb_craft_factor_get_label (factor);
      g_string_append_printf (label, "%s%s", i > 0 ? " × " : "", word);
    }
  return g_string_free (label, FALSE);
}

static char *
dup_p (double p)
{
  g_autofree char *number = NULL;

  number = wb_number_format (fmax (p, 0.001), 3, NULL);
  return g_strdup_printf (p < 0.001 ? "p < %s" : "p = %s", number);
}

char *
wb_craft_effects_dup_value (WbFigure figure,
                            double   value)
{
  WbUnit unit = wb_figure_get_unit (figure);

  /* a figure's hours are hours, a quantity's duration is stored in seconds */
  if (wb_unit_get_quantity (unit) == WB_QUANTITY_DURATION)
    return wb_quantity_format (unit, wb_unit_to_stored (unit, value), figure == WB_FIGURE_TAU ? 2 : 1);
  return wb_quantity_format (unit, value, figure == WB_FIGURE_SCORE ? 2 : -1);
}

/* The term with the smallest p, where one shows. */
static const WbCraftTerm *
find_strongest (const WbCraftEffects *self)
{
  const WbCraftTerm *strongest = NULL;

  for (guint i = 0; i < self->terms->len; i++)
    {
      const WbCraftTerm *term = g_ptr_array_index (self->terms, i);

      if (term->p < SHOWS && (strongest == NULL || term->p < strongest->p
                              || (term->p == strongest->p && term->sum_sq / term->df > strongest->sum_sq / strongest->df)))
        strongest = term;
    }
  return strongest;
}

/* The pair with the smallest p, of these the furthest apart; NULL where none shows. */
static const WbCraftComparison *
find_pair (const WbCraftEffects *self)
{
  const WbCraftComparison *strongest = NULL;

  for (guint i = 0; i < self->comparisons->len; i++)
    {
      const WbCraftComparison *pair = g_ptr_array_index (self->comparisons, i);

      if (pair->p < SHOWS && (strongest == NULL || pair->p < strongest->p
                              || (pair->p == strongest->p && fabs (pair->difference.value) > fabs (strongest->difference.value))))
        strongest = pair;
    }
  return strongest;
}

/* Samples of one kind that read exactly alike: the rest is nothing, though something differs. */
static gboolean
has_no_spread (const WbCraftEffects *self)
{
  for (guint i = 0; i < self->terms->len; i++)
    if (isinf (((WbCraftTerm *) g_ptr_array_index (self->terms, i))->f))
      return TRUE;
  return FALSE;
}

/* The factor that a term is about: its own if it is one alone, else the one compared. */
static WbCraftFactor
told_factor (const WbCraftLevels *levels,
             const WbCraftTerm   *term)
{
  for (guint factor = 0; term != NULL && factor < WB_CRAFT_N_FACTORS; factor++)
    if (g_str_equal (term->term, wb_craft_factor_get_key (factor)))
      return factor;
  return wb_craft_effects_get_compared (levels);
}

/* Highest and lowest level of a factor of an even grid. */
static char *
dup_span (const WbCraftLevels *levels,
          WbCraftFactor        factor,
          WbFigure             figure)
{
  size_t highest = 0, lowest = 0;
  g_autofree char *high = NULL, *low = NULL, *high_name = NULL, *low_name = NULL;

  for (size_t level = 1; level < levels->n_levels[factor]; level++)
    {
      double mean = wb_craft_levels_mean (levels, factor, level);

      highest = mean > wb_craft_levels_mean (levels, factor, highest) ? level : highest;
      lowest = mean < wb_craft_levels_mean (levels, factor, lowest) ? level : lowest;
    }
  high = wb_craft_effects_dup_value (figure, wb_craft_levels_mean (levels, factor, highest));
  low = wb_craft_effects_dup_value (figure, wb_craft_levels_mean (levels, factor, lowest));
  if (g_str_equal (high, low))
    return g_strdup_printf (highest == lowest ? _("All are at %s on average.") : _("Rounded, all are at %s on average."), high);
  high_name = wb_craft_levels_dup_name (levels, factor, highest);
  low_name = wb_craft_levels_dup_name (levels, factor, lowest);
  /* Translators: name of a wick, vessel or scent, its mean; the same for the lowest. */
  return g_strdup_printf (_("%s is highest on average at %s, %s lowest at %s."), high_name, high, low_name, low);
}

/* Of the compared factor's pairs the two furthest apart, as the comparisons have them; FALSE: none was compared. */
static gboolean
find_furthest (const WbCraftEffects *self,
               double               *most,
               char                **above,
               char                **below)
{
  const WbCraftComparison *furthest = NULL;
  gboolean turned;

  for (guint i = 0; i < self->comparisons->len; i++)
    {
      const WbCraftComparison *pair = g_ptr_array_index (self->comparisons, i);

      if (furthest == NULL || fabs (pair->difference.value) > fabs (furthest->difference.value))
        furthest = pair;
    }
  if (furthest == NULL)
    return FALSE;
  turned = furthest->difference.value < 0;
  *most = fabs (furthest->difference.value);
  *above = g_strdup (turned ? furthest->b : furthest->a);
  *below = g_strdup (turned ? furthest->a : furthest->b);
  return TRUE;
}

/* The same of a factor that is not compared, by the samples' means. */
static gboolean
find_furthest_levels (const WbCraftLevels *levels,
                      WbCraftFactor        factor,
                      double              *most,
                      char               **above,
                      char               **below)
{
  size_t high = 0, low = 0;

  *most = -1;
  for (size_t second = 1; second < levels->n_levels[factor]; second++)
    for (size_t first = 0; first < second; first++)
      {
        double difference, inverse;

        if (wb_craft_levels_match (levels, factor, first, second, &difference, &inverse) == 0 || fabs (difference) <= *most)
          continue;
        *most = fabs (difference);
        high = difference > 0 ? second : first;
        low = difference > 0 ? first : second;
      }
  if (*most < 0)
    return FALSE;
  *above = wb_craft_levels_dup_name (levels, factor, high);
  *below = wb_craft_levels_dup_name (levels, factor, low);
  return TRUE;
}

/* In an uneven grid averages lean to where a level was burnt: only what was burnt alike is told, the two furthest apart. */
static char *
dup_widest (const WbCraftEffects *self,
            const WbCraftLevels  *levels,
            WbCraftFactor         factor)
{
  double most;
  g_autofree char *apart = NULL, *above = NULL, *below = NULL;

  if (!(factor == wb_craft_effects_get_compared (levels) ? find_furthest (self, &most, &above, &below)
                                                         : find_furthest_levels (levels, factor, &most, &above, &below)))
    return g_strdup (_("No two were burnt alike in everything else, so none are compared."));
  apart = wb_craft_effects_dup_value (self->figure, most);
  /* Translators: name of a wick, vessel or scent; a difference; another name. */
  return g_strdup_printf (_("Like with like, %s is furthest above: %s more than %s."), above, apart, below);
}

/* Pairs of the compared factor that no combination of the others holds both of; NULL: there is none. */
static char *
dup_unmatched (const WbCraftLevels *levels)
{
  WbCraftFactor factor = wb_craft_effects_get_compared (levels);
  GString *pairs = g_string_new (NULL);

  for (size_t second = 1; second < levels->n_levels[factor]; second++)
    for (size_t first = 0; first < second; first++)
      {
        double difference, inverse;
        g_autofree char *a = NULL, *b = NULL;

        if (wb_craft_levels_match (levels, factor, first, second, &difference, &inverse) > 0)
          continue;
        a = wb_craft_levels_dup_name (levels, factor, first);
        b = wb_craft_levels_dup_name (levels, factor, second);
        if (pairs->len > 0)
          g_string_append (pairs, ", ");
        /* Translators: two wicks, vessels or scents */
        g_string_append_printf (pairs, _("%s with %s"), a, b);
      }
  return g_string_free (pairs, pairs->len == 0);
}

static gboolean
is_compared (const WbCraftEffects *self,
             const char           *name)
{
  for (guint i = 0; i < self->comparisons->len; i++)
    {
      const WbCraftComparison *pair = g_ptr_array_index (self->comparisons, i);

      if (g_str_equal (pair->a, name) || g_str_equal (pair->b, name))
        return TRUE;
    }
  return FALSE;
}

/* Levels that have samples but no curve that is sure enough to compare; NULL: there is none. */
static char *
dup_unsure (const WbCraftEffects *self,
            const WbCraftLevels  *levels)
{
  WbCraftFactor factor = wb_craft_effects_get_compared (levels);
  GString *names = g_string_new (NULL);

  for (size_t level = 0; self->basis == WB_CRAFT_EFFECTS_BY_CURVES && level < levels->n_levels[factor]; level++)
    {
      g_autofree char *name = wb_craft_levels_dup_name (levels, factor, level);

      if (!is_compared (self, name))
        g_string_append_printf (names, "%s%s", names->len > 0 ? ", " : "", name);
    }
  return g_string_free (names, names->len == 0);
}

static void
append_left_out (const WbCraftEffects *self,
                 const WbCraftLevels  *levels,
                 const char           *rare,
                 GString              *text)
{
  g_autofree char *unmatched = dup_unmatched (levels), *unsure = dup_unsure (self, levels);

  if (unsure != NULL && self->comparisons->len > 0)
    g_string_append_printf (text, self->figure == WB_FIGURE_FULL_POOL
                                    /* Translators: wicks, vessels or scents */
                                    ? _(" Not compared, as the pool may well never get to the wall: %s.")
                                    : _(" Not compared, for want of a curve: %s."), unsure);
  if (unmatched != NULL)
    g_string_append_printf (text, _(" Never burnt alike in everything else, so not compared: %s."), unmatched);
  if (levels->n_never > 0)
    g_string_append_printf (text, g_dngettext (GETTEXT_PACKAGE, " Left out: %u sample whose pool never gets to the wall.",
                                               " Left out: %u samples whose pool never gets to the wall.", levels->n_never),
                            levels->n_never);
  if (*rare != '\0')
    /* Translators: "Hot throw (upper third); Soot (lower third)" */
    g_string_append_printf (text, _(" Left out of these scores, for want of readings on most samples: %s."), rare);
}

/* Ratings have no even steps: what their ranks say comes first, and the means after it. */
static void
append_ranks (const WbCraftEffects *self,
              GString              *text)
{
  g_autofree char *p = NULL;

  if (!isfinite (self->rank_p))
    return;
  p = dup_p (self->rank_p);
  /* Translators: "p = 0.012". */
  g_string_append_printf (text, self->rank_p < SHOWS ? _("By rank, which suits ratings best, the wicks differ (%s). By their means: ")
                                                     : _("By rank, which suits ratings best, no difference between the wicks shows (%s). By their means: "), p);
}

static void
append_strongest (const WbCraftEffects *self,
                  const WbCraftLevels  *levels,
                  const WbCraftTerm    *strongest,
                  GString              *text)
{
  g_autofree char *label = wb_craft_term_dup_label (strongest->term);
  g_autofree char *p = dup_p (strongest->p);

  if (has_no_spread (self))
    /* Translators: "wick", "vessel × wick". */
    g_string_append_printf (text, _("The difference is largest by %s. Samples of one kind read exactly alike, so that nothing in them says how much of it is chance."), label);
  else
    g_string_append_printf (text, _("The difference shows most by %s (%s)."), label, p);
  if (!has_no_spread (self) && self->comparisons->len > 0 && find_pair (self) == NULL
      && g_str_equal (strongest->term, wb_craft_factor_get_key (wb_craft_effects_get_compared (levels))))
    g_string_append (text, _(" No single pair shows it by itself."));
}

static void
append_none (const WbCraftEffects *self,
             GString              *text)
{
  const WbCraftComparison *pair = find_pair (self);
  g_autofree char *p = NULL;

  if (pair == NULL)
    {
      g_string_append (text, _("No difference shows beyond that between samples of one kind."));
      return;
    }
  p = dup_p (pair->p);
  /* Translators: two wicks, vessels or scents; "p = 0.031". */
  g_string_append_printf (text, _("On the whole no difference shows beyond that between samples of one kind; of the pairs, %s against %s shows one (%s)."),
                          pair->a, pair->b, p);
}

char *
wb_craft_effects_dup_finding (const WbCraftEffects *self,
                              const WbCraftLevels  *levels,
                              const char           *rare)
{
  const WbCraftTerm *strongest = find_strongest (self);
  WbCraftFactor factor = told_factor (levels, strongest);
  g_autofree char *span = wb_craft_levels_is_even (levels, factor) ? dup_span (levels, factor, self->figure)
                                                                   : dup_widest (self, levels, factor);
  GString *text = g_string_new (NULL);

  append_ranks (self, text);
  if (strongest != NULL)
    append_strongest (self, levels, strongest, text);
  else
    append_none (self, text);
  g_string_append_printf (text, " %s", span);
  if (self->slope.text != NULL)
    g_string_append_printf (text, " %s", self->slope.text);
  append_left_out (self, levels, rare, text);
  return g_string_free (text, FALSE);
}
