/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-words-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* How far the weights may move before the answer changes, in a maker's words. */

#define MOST_TOLD 4

/* By what factor it has to move at least; INFINITY where no factor within the reach, 0 included, changes the winner. */
static double
get_factor (const WbCraftWeight *weight)
{
  double down = isnan (weight->low) ? INFINITY : weight->low > 0 ? weight->weight / weight->low : G_MAXDOUBLE;
  double up = isnan (weight->high) ? INFINITY : weight->high / weight->weight;

  return MIN (down, up);
}

static int
compare_factors (gconstpointer a,
                 gconstpointer b)
{
  double one = get_factor (a), other = get_factor (b);

  return one < other ? -1 : one > other;
}

/* Up to which weight, from which, or from which to which the answer holds. */
static char *
dup_range (const WbCraftWeight *weight)
{
  g_autofree char *low = isnan (weight->low) ? NULL : wb_number_format (weight->low, 2, NULL);
  g_autofree char *high = isnan (weight->high) ? NULL : wb_number_format (weight->high, 2, NULL);

  if (low == NULL)
    return g_strdup_printf (_("the answer holds up to %s"), high);
  if (high == NULL)
    return weight->low > 0 ? g_strdup_printf (_("the answer holds from %s"), low) : g_strdup (_("the answer holds as long as it counts"));
  return weight->low > 0 ? g_strdup_printf (_("the answer holds from %s to %s"), low, high)
                         : g_strdup_printf (_("the answer holds as long as it counts, up to %s"), high);
}

static char *
dup_weight (const WbDataset     *data,
            const WbCraftGroup  *group,
            const WbCraftWeight *weight)
{
  g_autofree char *range = dup_range (weight);
  g_autofree char *now = wb_number_format_trimmed (weight->weight, 2, NULL);
  GString *text = g_string_new (NULL);

  /* Translators: a figure, "Soot"; a part of the candle's life, "lower third"; its weight; "the answer holds from 0.4 to 5.1". */
  g_string_append_printf (text, _("%s, %s, weighs %s: %s"), g_dgettext (GETTEXT_PACKAGE, wb_figure_get_label (weight->figure)),
                          g_dgettext (GETTEXT_PACKAGE, wb_stage_get_label (weight->stage)), now, range);
  if (weight->winner_below != G_MAXUINT)
    {
      g_autofree char *name = wb_craft_words_dup_name (data, group, weight->winner_below);

      g_string_append_printf (text, weight->low > 0 ? _("; below, %s would lead") : _("; left out, %s would lead"), name);
    }
  if (weight->winner_above != G_MAXUINT)
    {
      g_autofree char *name = wb_craft_words_dup_name (data, group, weight->winner_above);

      g_string_append_printf (text, _("; above, %s would lead"), name);
    }
  g_string_append_c (text, '.');
  return g_string_free (text, FALSE);
}

GPtrArray *
wb_craft_group_dup_weights (const WbDataset    *data,
                            const WbCraftGroup *group)
{
  GPtrArray *sentences = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GArray) sorted = NULL;
  guint n = 0;

  g_return_val_if_fail (data != NULL && group != NULL, sentences);

  /* where there is no answer, nothing holds it */
  if (group->weights->len == 0 || wb_craft_words_are_hopeless (group) || !wb_craft_words_may_lead (&group->cells[0])
      || group->cells[0].verdict == WB_CRAFT_VERDICT_TOO_LITTLE_DATA)
    return sentences;
  sorted = g_array_copy ((GArray *) group->weights);
  g_array_sort (sorted, compare_factors);
  if (!(get_factor (&g_array_index (sorted, WbCraftWeight, 0)) < 2))
    g_ptr_array_add (sentences, g_strdup (_("No single weight, halved or doubled, changes the winner.")));
  for (guint i = 0; i < sorted->len; i++)
    {
      const WbCraftWeight *weight = &g_array_index (sorted, WbCraftWeight, i);

      if (isinf (get_factor (weight)))
        break;
      if (++n <= MOST_TOLD)
        g_ptr_array_add (sentences, dup_weight (data, group, weight));
    }
  if (n > MOST_TOLD)
    g_ptr_array_add (sentences, g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u other weight could change it too, if moved further.",
                                                              "%u other weights could change it too, if moved further.", n - MOST_TOLD),
                                                 n - MOST_TOLD));
  return sentences;
}
