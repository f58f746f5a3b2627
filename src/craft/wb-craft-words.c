/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-ranking.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-verdict-private.h"

/* The answer of a group in a maker's words: first what, then how sure. */

#define TIE 0.5 /* more than one cell with this chance of being near the best: a tie */

/* What tells a cell apart in its group. */
static char *
dup_name (const WbDataset    *data,
          const WbCraftGroup *group,
          guint               cell)
{
  g_autofree char *wick = NULL;
  g_autofree char *scent = NULL;

  if (!group->by_vessel)
    return wb_dataset_dup_cell_name (data, cell);
  wick = wb_dataset_dup_wick_name (data, cell);
  if (group->by_scent)
    return g_steal_pointer (&wick);
  scent = wb_dataset_dup_scent_name (data, cell);
  return g_strdup_printf ("%s · %s", wick, scent);
}

char *
wb_craft_group_dup_title (const WbDataset    *data,
                          const WbCraftGroup *group)
{
  g_autofree char *vessel = NULL;
  g_autofree char *scent = NULL;

  g_return_val_if_fail (data != NULL && group != NULL, NULL);

  if (!group->by_vessel)
    return g_strdup (_("All combinations"));
  vessel = wb_material_dup_title (wb_dataset_get_vessel (data, group->vessel));
  if (!group->by_scent)
    return g_steal_pointer (&vessel);
  scent = wb_dataset_dup_scent_name (data, group->vessel);
  return g_strdup_printf ("%s · %s", vessel, scent);
}

static gboolean
may_lead (const WbCraftRanked *ranked)
{
  return isfinite (ranked->score.value) && ranked->score.value > 0 && ranked->verdict != WB_CRAFT_VERDICT_REJECTED;
}

/* The names of the cells from the second on that may be as good as the first; NULL where none is. */
static char *
dup_ties (const WbDataset    *data,
          const WbCraftGroup *group)
{
  GString *names = g_string_new (NULL);

  for (guint i = 1; i < group->n_cells; i++)
    {
      const WbCraftRanked *ranked = &group->cells[i];
      g_autofree char *name = NULL;
      g_autofree char *chance = NULL;

      if (!may_lead (ranked) || ranked->p_near < TIE)
        continue;
      name = dup_name (data, group, ranked->cell);
      chance = wb_craft_dup_chance (ranked->p_near);
      if (names->len > 0)
        g_string_append (names, ", ");
      g_string_append_printf (names, "%s (%s)", name, chance);
    }
  return names->len > 0 ? g_string_free (names, FALSE) : (g_string_free (names, TRUE), NULL);
}

/* What is true of the cells that were burnt at all. */
typedef struct { guint burnt, rejected, n; } Tally;

static Tally
tally (const WbCraftGroup *group)
{
  Tally tally = { 0, 0, group->n_cells };

  for (guint i = 0; i < group->n_cells; i++)
    {
      tally.burnt += group->cells[i].burns > 0;
      tally.rejected += group->cells[i].verdict == WB_CRAFT_VERDICT_REJECTED;
    }
  return tally;
}

/* The answer where nothing may lead; NULL where something may. */
static char *
dup_no_leader (const WbCraftGroup *group)
{
  Tally cells = tally (group);

  if (cells.rejected > 0 && cells.rejected == cells.n)
    return g_strdup (_("None of these may be used: each was rejected."));
  if (cells.rejected > 0 && cells.rejected == cells.burnt)
    return g_strdup (_("None of those burnt so far may be used: each was rejected."));
  if (cells.burnt == 0)
    return g_strdup (_("Nothing can be said yet: no burn counts."));
  if (isnan (group->cells[0].score.value))
    return g_strdup (_("Nothing can be said yet: nothing that the score asks for was read."));
  if (may_lead (&group->cells[0]))
    return NULL;
  return cells.burnt == cells.n ? g_strdup (_("None of these would do: every one scores nothing, or was rejected."))
                                : g_strdup (_("None of those burnt so far would do: every one scores nothing, or was rejected."));
}

static char *
dup_second_sentence (const WbDataset    *data,
                     const WbCraftGroup *group)
{
  const WbCraftRanked *first = &group->cells[0];
  g_autofree char *name = dup_name (data, group, first->cell);
  g_autofree char *ties = dup_ties (data, group);

  if (first->verdict == WB_CRAFT_VERDICT_RECOMMENDED)
    return ties == NULL ? g_strdup_printf (_("%s is recommended."), name)
                        : g_strdup_printf (_("%s is recommended; as good, or nearly: %s."), name, ties);
  if (first->verdict == WB_CRAFT_VERDICT_TOO_LITTLE_DATA)
    return g_strdup (_("That is too little data to rest on."));
  if (ties != NULL)
    return g_strdup_printf (_("It cannot yet be told from: %s. None is recommended yet."), ties);
  return g_strdup (_("It is not recommended yet."));
}

char *
wb_craft_group_dup_answer (const WbDataset    *data,
                           const WbCraftGroup *group)
{
  g_autofree char *name = NULL;
  g_autofree char *best = NULL;
  g_autofree char *near_best = NULL;
  g_autofree char *second = NULL;
  g_autofree char *none = NULL;

  g_return_val_if_fail (data != NULL && group != NULL, NULL);

  if (group->n_cells == 0)
    return g_strdup (_("Nothing can be said yet: no burn counts."));
  none = dup_no_leader (group);
  if (none != NULL)
    return g_steal_pointer (&none);
  name = dup_name (data, group, group->cells[0].cell);
  best = wb_craft_dup_chance (group->cells[0].p_best);
  near_best = wb_craft_dup_chance (group->cells[0].p_near);
  second = dup_second_sentence (data, group);
  /* Translators: wick, chance of being best, chance of being near it, then a sentence. */
  return g_strdup_printf (_("%s would do best on average: its chance of being the best is %s, of being within 0.05 of it %s. %s"), name, best, near_best, second);
}

/* Stages that the parts of a cell's score rest on, as bits. */
static guint
stages_read (const WbCraftRanked *ranked)
{
  guint bits = 0;

  for (guint i = 0; i < ranked->parts->len; i++)
    {
      const WbCraftPart *part = &g_array_index (ranked->parts, WbCraftPart, i);

      if (!part->dropped && !isnan (part->value))
        bits |= 1u << part->stage;
    }
  return bits;
}

/* What takes most from the cell's score, a weighted geometric mean: the part of largest −w ln d. NULL: nothing does. */
static const WbCraftPart *
find_costliest (const WbCraftRanked *ranked)
{
  const WbCraftPart *costliest = NULL;
  double most = 0;

  for (guint i = 0; i < ranked->parts->len; i++)
    {
      const WbCraftPart *part = &g_array_index (ranked->parts, WbCraftPart, i);
      double cost = part->dropped || isnan (part->desirability) ? 0 : -part->weight * log (part->desirability);

      if (cost > most)
        {
          most = cost;
          costliest = part;
        }
    }
  return costliest;
}

/* How good the first is, beside how sure: a leader of a poor group is still poor. */
static void
append_score (const WbCraftRanked *first,
              GString             *text)
{
  const WbCraftPart *costliest = find_costliest (first);
  g_autofree char *score = wb_number_format (first->score.value, 2, NULL);

  if (costliest == NULL)
    g_string_append_printf (text, _(" It scores %s of 1."), score);
  else
    /* Translators: a score; a figure, "Soot"; a part of the candle's life, "lower third" */
    g_string_append_printf (text, _(" It scores %s of 1; most of what it lacks is: %s, %s."), score,
                            g_dgettext (GETTEXT_PACKAGE, wb_figure_get_label (costliest->figure)),
                            g_dgettext (GETTEXT_PACKAGE, wb_stage_get_label (costliest->stage)));
}

/* "the upper third only", in words that say what is not known. */
static const char *
say_stages (guint bits)
{
  switch (bits)
    {
    case 1: return _("It was read in the upper third only; how it burns lower down is not known.");
    case 3: return _("It was read in the upper and middle thirds; how it burns at the bottom is not known.");
    case 7: return _("It was read in all three thirds.");
    case 0: return _("Nothing that the score asks for was read.");
    default: return _("Not every third of its life was read.");
    }
}

char *
wb_craft_group_dup_sureness (const WbDataset    *data,
                             const WbCraftGroup *group)
{
  const WbCraftRanked *first;
  GString *text;

  g_return_val_if_fail (data != NULL && group != NULL, NULL);

  if (group->n_cells == 0 || isnan (group->cells[0].score.value))
    return g_strdup ("");
  first = &group->cells[0];
  text = g_string_new (NULL);
  g_string_append_printf (text, g_dngettext (GETTEXT_PACKAGE, "This rests on %u sample", "This rests on %u samples",
                                             first->samples), first->samples);
  g_string_append_printf (text, g_dngettext (GETTEXT_PACKAGE, " and %u burn.", " and %u burns.", first->burns), first->burns);
  g_string_append_printf (text, " %s", say_stages (stages_read (first)));
  if (may_lead (first))
    append_score (first, text);
  if (first->verdict == WB_CRAFT_VERDICT_CANDIDATE)
    for (guint i = 0; i < first->reasons->len; i++)
      {
        const WbCraftReason *reason = g_ptr_array_index (first->reasons, i);

        if (g_str_equal (reason->code, "not_burnt_down") || g_str_equal (reason->code, "may_cross"))
          g_string_append_printf (text, " %s", reason->text);
        else if (g_str_equal (reason->code, "not_near_best"))
          g_string_append_printf (text, " %s", _("To be recommended, its chance of being within 0.05 of the best must be at least 90 in 100."));
      }
  if (group->p_none > 0.01)
    {
      g_autofree char *none = wb_craft_dup_chance (group->p_none);

      g_string_append_printf (text, _(" The chance that none of them would do is %s."), none);
    }
  return g_string_free (text, FALSE);
}
