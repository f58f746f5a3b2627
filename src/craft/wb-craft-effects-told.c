/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-effects-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define HOUSE_BURN_S (4 * 3600.0)  /* without a protocol */
#define MOST_PLACES 3

const char *
wb_craft_effects_basis_get_key (WbCraftEffectsBasis basis)
{
  static const char *const keys[] = {
    [WB_CRAFT_EFFECTS_BY_SAMPLES] = "samples",
    [WB_CRAFT_EFFECTS_BY_MODEL] = "model",
    [WB_CRAFT_EFFECTS_BY_CURVES] = "curves",
  };

  g_return_val_if_fail (basis < G_N_ELEMENTS (keys), "unknown");
  return keys[basis];
}

/* Places that show the first digit of a distance. */
static int
places_for (double distance)
{
  if (!(distance > 0))
    return 1;
  return (int) CLAMP (ceil (-log10 (distance) - 1e-9), 0, MOST_PLACES);
}

/* A difference, so without the zero of a temperature; never below 0 here. Places below 0: as many as it has. */
static char *
dup_difference (WbFigure figure,
                double   value,
                int      places)
{
  WbUnit unit = wb_figure_get_unit (figure);
  g_autofree char *number = places < 0 ? wb_number_format_trimmed (value, MOST_PLACES, NULL) : wb_number_format (value, places, NULL);
  const char *symbol = wb_unit_get_symbol (unit);

  return *symbol != '\0' ? g_strdup_printf ("%s\302\240%s", number, symbol) : g_steal_pointer (&number);
}

/* "6 to 9 mm", or one of them where both read alike. */
static char *
dup_range (WbFigure figure,
           double   low,
           double   high)
{
  int places = places_for (high - low);
  g_autofree char *from = wb_number_format (low, places, NULL), *to = wb_number_format (high, places, NULL);
  g_autofree char *told = dup_difference (figure, high, places);

  if (g_str_equal (from, to))
    return g_steal_pointer (&told);
  /* Translators: two numbers, the second with its unit: "6 to 9 mm". */
  return g_strdup_printf (_("%s to %s"), from, told);
}

/* When figures of a burn's end are read: " after 4 h"; "" for others. */
static char *
dup_when (WbFigure         figure,
          const WbDataset *data)
{
  double burn_s = data->protocol != NULL && data->protocol->burn_s > 0 ? data->protocol->burn_s : HOUSE_BURN_S;
  g_autofree char *hours = NULL;

  if (figure != WB_FIGURE_POOL && figure != WB_FIGURE_DEPTH && figure != WB_FIGURE_FLAME && figure != WB_FIGURE_VESSEL
      && figure != WB_FIGURE_HANG_UP)
    return g_strdup ("");
  hours = wb_quantity_format_duration (burn_s);
  /* Translators: a duration, "4 h"; goes on a sentence such as "One step up adds 6 to 9 mm". */
  return g_strdup_printf (_(" after %s"), hours);
}

char *
wb_craft_effects_dup_slope (const WbCraftEffects *self,
                            const WbDataset      *data)
{
  const WbCraftInterval *interval = &self->slope.interval;
  g_autofree char *range = NULL, *more = NULL, *when = NULL, *samples = NULL, *burns = NULL;
  int places;

  if (!isfinite (interval->value) || !isfinite (interval->low) || !isfinite (interval->high))
    return NULL;
  when = dup_when (self->figure, data);
  samples = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u sample", "%u samples", self->slope.samples), self->slope.samples);
  burns = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u burn", "%u burns", self->slope.burns), self->slope.burns);
  if (interval->low > 0)
    {
      range = dup_range (self->figure, interval->low, interval->high);
      /* Translators: "6 to 9 mm"; " after 4 h" or nothing; "8 samples"; "16 burns". */
      return g_strdup_printf (_("One step up adds %s%s (90 in 100; %s, %s)."), range, when, samples, burns);
    }
  if (interval->high < 0)
    {
      range = dup_range (self->figure, -interval->high, -interval->low);
      return g_strdup_printf (_("One step up takes off %s%s (90 in 100; %s, %s)."), range, when, samples, burns);
    }
  places = places_for (0.1 * (interval->high - interval->low));
  range = dup_difference (self->figure, fabs (interval->low), places);
  more = dup_difference (self->figure, fabs (interval->high), places);
  /* Translators: "1.2 mm", "0.8 mm", " after 4 h" or nothing, "8 samples", "16 burns". */
  return g_strdup_printf (_("One step up makes between %s less and %s more%s, so nothing sure (90 in 100; %s, %s)."), range, more, when,
                          samples, burns);
}

/* "there are 2", "there are 1 to 3". */
static char *
dup_there_are (const WbCraftSamplesNeeded *needed)
{
  if (needed->least == needed->most)
    return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "there is %u", "there are %u", needed->least), needed->least);
  return g_strdup_printf (_("there are %u to %u"), needed->least, needed->most);
}

/* What the spread of few samples leaves open: ", between 3 and 11 (90 in 100)"; nothing where it leaves nothing open. */
static char *
dup_between (const WbCraftSamplesNeeded *needed)
{
  if (needed->samples_low == 0 || needed->samples_low == needed->samples_high)
    return g_strdup ("");
  if (needed->samples_high == 0)
    /* Translators: goes on after "about 5 samples of each would be needed". */
    return g_strdup_printf (_(", from %u to more than anybody would burn (90 in 100)"), needed->samples_low);
  /* Translators: goes on after "about 5 samples of each would be needed". */
  return g_strdup_printf (_(", between %u and %u (90 in 100)"), needed->samples_low, needed->samples_high);
}

char *
wb_craft_effects_dup_needed (const WbCraftEffects *self)
{
  const WbCraftSamplesNeeded *needed = &self->needed;
  g_autofree char *difference = NULL, *there = NULL, *between = NULL;

  if (!isfinite (needed->difference) || !(needed->sample_sd > 0))
    return NULL;
  difference = dup_difference (self->figure, needed->difference, -1);
  there = dup_there_are (needed);
  between = dup_between (needed);
  if (needed->samples == 0)
    /* Translators: a difference, "0.2 mm"; "there are 2". */
    return g_strdup_printf (_("Samples of one kind differ too much to tell a difference of %s by more of them; %s."), difference, there);
  if (self->compares_wicks)
    /* Translators: a difference, "5 mm"; a number of samples; ", between 3 and 11 (90 in 100)" or nothing; "there are 2". */
    return g_strdup_printf (_("To tell two wicks %s apart in one vessel and scent (found 80 times in 100, at 5 %%), about %u samples of each "
                              "would be needed%s; %s."),
                            difference, needed->samples, between, there);
  return g_strdup_printf (_("To tell two combinations %s apart (found 80 times in 100, at 5 %%), about %u samples of each would be "
                            "needed%s; %s."),
                          difference, needed->samples, between, there);
}

/* What the comparisons are differences of. */
static const char *
basis_words (const WbCraftEffects *self)
{
  switch (self->basis)
    {
    case WB_CRAFT_EFFECTS_BY_MODEL:
      return _("Differences are of the combinations' values by the mixed model of the burns, samples and burns spreading, with "
               "Satterthwaite's degrees of freedom.");
    case WB_CRAFT_EFFECTS_BY_CURVES:
      if (self->figure == WB_FIGURE_POOL)
        return _("Differences are of the growth curves at the end of a burn, as if the pool met no wall, with Satterthwaite's "
                 "degrees of freedom.");
      return _("Differences are of the growth curves, with Satterthwaite's degrees of freedom.");
    case WB_CRAFT_EFFECTS_BY_SAMPLES:
    default:
      if (self->figure != WB_FIGURE_SCORE && isfinite (self->rank_h))
        return _("Differences are of mean ratings, as if the steps of a rating were even; the rank test does without that.");
      return _("Differences are of the samples' means.");
    }
}

char *
wb_craft_effects_dup_method (const WbCraftEffects *self)
{
  g_return_val_if_fail (self != NULL, NULL);

  /* Translators: the first sentence says what the differences are of. */
  return g_strdup_printf (_("Sums of squares are of type II: each term given all that do not contain it. %s Their intervals and p hold for "
                            "all pairs of this figure together (Tukey and Kramer); nothing is corrected across figures."),
                          basis_words (self));
}
