/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-words-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-told.h"
#include "wb-craft-verdict-private.h"

/* The answer of a group for a glance: who, how good, how sure. */

static guint
count_burnt (const WbCraftGroup *group)
{
  guint n = 0;

  for (guint i = 0; i < group->n_cells; i++)
    n += group->cells[i].burns > 0;
  return n;
}

double
wb_craft_words_as_printed (double score)
{
  char printed[G_ASCII_DTOSTR_BUF_SIZE];

  return g_ascii_strtod (g_ascii_formatd (printed, sizeof printed, "%.2f", score), NULL);
}

gboolean
wb_craft_group_has_burns (const WbDataset    *data,
                          const WbCraftGroup *group)
{
  g_return_val_if_fail (data != NULL && group != NULL, FALSE);

  for (guint burn = 0; burn < data->burns->len; burn++)
    for (guint i = 0; i < group->n_cells; i++)
      if (g_array_index (data->sample_cell, guint, g_array_index (data->burn_sample, guint, burn)) == group->cells[i].cell)
        return TRUE;
  return FALSE;
}

/* Does anything lead that may be told as the answer? */
static gboolean
has_leader (const WbCraftGroup *group)
{
  return group->n_cells > 0 && wb_craft_words_may_lead (&group->cells[0]) && !wb_craft_words_are_hopeless (group)
         && group->cells[0].verdict != WB_CRAFT_VERDICT_TOO_LITTLE_DATA;
}

char *
wb_craft_words_dup_poor (const WbCraftGroup *group)
{
  g_autofree char *score = NULL;

  if (!has_leader (group) || !wb_craft_score_is_poor (group->cells[0].score.value))
    return g_strdup ("");
  score = wb_number_format (group->cells[0].score.value, 2, NULL);
  if (count_burnt (group) < 2)
    /* Translators: a score. */
    return g_strdup_printf (_(" It does poorly: %s of 1."), score);
  /* Translators: the best score. */
  return g_strdup_printf (_(" The field is poor: none of those burnt does well, and the best scores %s of 1."), score);
}

char *
wb_craft_group_dup_level (const WbCraftGroup *group)
{
  g_autofree char *score = NULL;
  double printed;

  g_return_val_if_fail (group != NULL, NULL);

  if (!has_leader (group))
    return g_strdup ("");
  printed = wb_craft_words_as_printed (group->cells[0].score.value);
  score = wb_number_format (group->cells[0].score.value, 2, NULL);
  if (printed >= WB_CRAFT_SCORE_WELL)
    /* Translators: of a wick: a score. */
    return g_strdup_printf (_("does well: %s of 1"), score);
  if (!wb_craft_score_is_poor (group->cells[0].score.value))
    return g_strdup_printf (_("does fairly well: %s of 1"), score);
  return count_burnt (group) < 2 ? g_strdup_printf (_("does poorly: %s of 1"), score)
                                 : g_strdup_printf (_("the best of a poor field, none does well: %s of 1"), score);
}

/* "B4 and B5, as good as each other". */
static char *
dup_brief_tie (const WbDataset    *data,
               const WbCraftGroup *group,
               const GPtrArray    *tied)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *joined = NULL;

  for (guint i = 0; i < tied->len; i++)
    g_ptr_array_add (names, wb_craft_words_dup_name (data, group, ((const WbCraftRanked *) g_ptr_array_index (tied, i))->cell));
  joined = wb_craft_words_join (names);
  /* Translators: two or more wicks. */
  return g_strdup_printf (wb_craft_words_are_alike (tied) ? _("%s, as good as each other") : _("%s, not told apart"), joined);
}

char *
wb_craft_group_dup_brief (const WbDataset    *data,
                          const WbCraftGroup *group)
{
  g_autoptr (GPtrArray) tied = NULL;
  g_autofree char *none = NULL;

  g_return_val_if_fail (data != NULL && group != NULL, NULL);

  none = wb_craft_words_dup_no_answer (data, group);
  if (none != NULL)
    return g_steal_pointer (&none);
  tied = wb_craft_words_find_tie (group);
  return tied->len > 0 ? dup_brief_tie (data, group, tied) : wb_craft_words_dup_name (data, group, group->cells[0].cell);
}

char *
wb_craft_group_dup_brief_verdict (const WbDataset    *data,
                                  const WbCraftGroup *group)
{
  g_autoptr (GPtrArray) tied = NULL, names = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *joined = NULL;

  g_return_val_if_fail (data != NULL && group != NULL, NULL);

  if (!has_leader (group))
    return g_strdup ("");
  tied = wb_craft_words_find_tie (group);
  if (tied->len == 0)
    {
      /* more burns would not make it one to choose: another wick might be */
      if (wb_craft_score_is_poor (group->cells[0].score.value) && group->cells[0].verdict == WB_CRAFT_VERDICT_RECOMMENDED)
        return g_strdup (_("test other wicks"));
      return g_strdup (group->cells[0].verdict == WB_CRAFT_VERDICT_RECOMMENDED ? _("recommended") : _("not recommended yet"));
    }
  for (guint i = 0; i < tied->len; i++)
    {
      const WbCraftRanked *ranked = g_ptr_array_index (tied, i);

      if (ranked->verdict == WB_CRAFT_VERDICT_RECOMMENDED && !wb_craft_score_is_poor (ranked->score.value))
        g_ptr_array_add (names, wb_craft_words_dup_name (data, group, ranked->cell));
    }
  if (names->len == 0)
    return g_strdup (_("none is recommended yet"));
  if (names->len == tied->len)
    return g_strdup (_("each is recommended"));
  joined = wb_craft_words_join (names);
  /* Translators: one or more wicks. */
  return g_strdup_printf (_("recommended so far: %s"), joined);
}

/* "3 samples and 9 burns; upper third only": of those that lead; "3 samples and 9 burns" where nothing does. */
static char *
dup_brief_basis (const WbCraftGroup *group,
                 const GPtrArray    *tied)
{
  g_autofree char *basis = wb_craft_words_dup_basis (group);
  g_autoptr (GPtrArray) lead = g_ptr_array_new ();

  if (!has_leader (group))
    return g_steal_pointer (&basis);
  if (tied->len == 0)
    g_ptr_array_add (lead, &group->cells[0]);
  for (guint i = 0; i < tied->len; i++)
    g_ptr_array_add (lead, g_ptr_array_index (tied, i));
  /* Translators: "3 samples and 9 burns"; which thirds of the candle were read, "upper third only". */
  return g_strdup_printf (_("%s; %s"), basis, wb_craft_words_get_thirds (lead));
}

char *
wb_craft_group_dup_brief_sureness (const WbDataset    *data,
                                   const WbCraftGroup *group)
{
  g_autoptr (GPtrArray) tied = NULL;
  g_autofree char *basis = NULL;
  g_autofree char *best = NULL;

  g_return_val_if_fail (data != NULL && group != NULL, NULL);

  if (count_burnt (group) == 0)
    return g_strdup (wb_craft_group_has_burns (data, group) ? _("no burn counts yet") : _("nothing was burnt"));
  tied = wb_craft_words_find_tie (group);
  basis = dup_brief_basis (group, tied);
  if (!has_leader (group) || tied->len > 0 || count_burnt (group) < 2)
    /* Translators: "3 samples and 9 burns". */
    return g_strdup_printf (_("on %s"), basis);
  best = wb_craft_dup_chance (group->cells[0].p_best);
  /* Translators: a chance, "94 in 100"; "3 samples and 9 burns". */
  return g_strdup_printf (_("the best of those burnt: %s; on %s"), best, basis);
}
