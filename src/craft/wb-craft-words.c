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

static gboolean
has_reason (const WbCraftRanked *ranked,
            const char          *code)
{
  for (guint i = 0; i < ranked->reasons->len; i++)
    if (g_str_equal (((WbCraftReason *) g_ptr_array_index (ranked->reasons, i))->code, code))
      return TRUE;
  return FALSE;
}

/* Does it rest on so little that the answer must begin with it? */
static gboolean
rests_on_little (const WbCraftRanked *ranked)
{
  return ranked->verdict == WB_CRAFT_VERDICT_TOO_LITTLE_DATA || has_reason (ranked, "few_samples") || has_reason (ranked, "not_burnt_down");
}

/* "3 samples and 9 burns". */
static char *
dup_basis (const WbCraftRanked *ranked)
{
  g_autofree char *samples = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u sample", "%u samples", ranked->samples), ranked->samples);
  g_autofree char *burns = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u burn", "%u burns", ranked->burns), ranked->burns);

  /* Translators: "1 sample", "2 burns". */
  return g_strdup_printf (_("%s and %s"), samples, burns);
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
  if (ties != NULL)
    return g_strdup_printf (_("It cannot yet be told from: %s. None is recommended yet."), ties);
  return g_strdup (_("It is not recommended yet."));
}

char *
wb_craft_group_dup_answer (const WbDataset    *data,
                           const WbCraftGroup *group)
{
  const WbCraftRanked *first;
  g_autofree char *name = NULL;
  g_autofree char *best = NULL;
  g_autofree char *near_best = NULL;
  g_autofree char *second = NULL;
  g_autofree char *none = NULL;
  g_autofree char *basis = NULL;

  g_return_val_if_fail (data != NULL && group != NULL, NULL);

  if (group->n_cells == 0)
    return g_strdup (_("Nothing can be said yet: no burn counts."));
  none = dup_no_leader (group);
  if (none != NULL)
    return g_steal_pointer (&none);
  first = &group->cells[0];
  name = dup_name (data, group, first->cell);
  basis = dup_basis (first);
  /* chances worked out from so little look surer than they are: they stand in the table alone */
  if (first->verdict == WB_CRAFT_VERDICT_TOO_LITTLE_DATA)
    /* Translators: "1 sample and 1 burn"; a wick. */
    return g_strdup_printf (_("There is too little data to answer: on %s alone, %s comes first so far."), basis, name);
  best = wb_craft_dup_chance (first->p_best);
  near_best = wb_craft_dup_chance (first->p_near);
  second = dup_second_sentence (data, group);
  if (!rests_on_little (first))
    /* Translators: wick, chance of being best, chance of being near it, then a sentence. */
    return g_strdup_printf (_("%s would do best on average: its chance of being the best is %s, of being within 0.05 of it %s. %s"), name, best, near_best, second);
  /* Translators: "3 samples and 9 burns"; wick, chance of being best, chance of being near it, then a sentence. */
  return g_strdup_printf (_("On %s so far, %s would do best on average: its chance of being the best is %s, of being within 0.05 of it %s. %s"), basis, name, best, near_best, second);
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

/* How good the first is, beside how sure: a leader of a poor group is still poor. */
static void
append_score (const WbCraftRanked *first,
              GString             *text)
{
  const WbCraftPart *costliest = wb_craft_ranked_find_costliest (first);
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

/*
 * What counts as the upper third for want of a fill or a mass was not shown to have been read there. One sample of which
 * the thirds are known shows it, and its reasons say what the others lack.
 */
static const char *
say_thirds (const WbCraftRanked *first)
{
  if (first->placed > 0)
    return say_stages (stages_read (first));
  if (has_reason (first, "fill_not_known") && has_reason (first, "not_weighed"))
    return _("For want of fills and masses all counts as the upper third.");
  if (has_reason (first, "fill_not_known"))
    return _("For want of a tare, fill or height all counts as the upper third.");
  if (has_reason (first, "not_weighed"))
    return _("For want of masses all counts as the upper third.");
  return say_stages (stages_read (first));
}

/* A leader of a group whose others were hardly burnt leads by default. */
static void
append_others (const WbCraftGroup *group,
               GString            *text)
{
  guint n = 0;

  for (guint i = 1; i < group->n_cells && group->cells[0].verdict != WB_CRAFT_VERDICT_TOO_LITTLE_DATA; i++)
    n += group->cells[i].verdict == WB_CRAFT_VERDICT_TOO_LITTLE_DATA;
  if (n > 0)
    g_string_append_printf (text, g_dngettext (GETTEXT_PACKAGE, " Of the others %u has too little data to be compared with.",
                                               " Of the others %u have too little data to be compared with.", n), n);
}

/* What the first limit measures that it crossed; it has such a reason. */
static const char *
find_crossed (const WbCraftRanked *ranked)
{
  for (guint i = 0; i < ranked->reasons->len; i++)
    {
      const WbCraftReason *reason = g_ptr_array_index (ranked->reasons, i);

      if (g_str_equal (reason->code, "limit_crossed"))
        return reason->place;
    }
  g_assert_not_reached ();
}

/* What is not to be used is told beside what leads: a reader of the answer alone is warned. */
static void
append_crossed (const WbDataset    *data,
                const WbCraftGroup *group,
                GString            *text)
{
  g_autoptr (GString) names = g_string_new (NULL);

  for (guint i = 0; i < group->n_cells; i++)
    {
      g_autofree char *name = NULL;

      if (group->cells[i].verdict != WB_CRAFT_VERDICT_REJECTED || !has_reason (&group->cells[i], "limit_crossed"))
        continue;
      name = dup_name (data, group, group->cells[i].cell);
      /* Translators: a wick; the limit that it crossed, "flame height". */
      g_string_append_printf (names, names->len > 0 ? _(", %s (%s)") : _("%s (%s)"), name, find_crossed (&group->cells[i]));
    }
  if (names->len > 0)
    /* Translators: one or more wicks, each with its limit. */
    g_string_append_printf (text, _(" Not to be used, because a safety limit was crossed: %s."), names->str);
}

char *
wb_craft_group_dup_sureness (const WbDataset    *data,
                             const WbCraftGroup *group)
{
  const WbCraftRanked *first;
  g_autofree char *basis = NULL;
  GString *text;

  g_return_val_if_fail (data != NULL && group != NULL, NULL);

  if (group->n_cells == 0 || isnan (group->cells[0].score.value))
    return g_strdup ("");
  first = &group->cells[0];
  text = g_string_new (NULL);
  basis = dup_basis (first);
  if (!rests_on_little (first)) /* else the answer said so */
    /* Translators: "3 samples and 9 burns". */
    g_string_append_printf (text, _("This rests on %s. "), basis);
  g_string_append (text, say_thirds (first));
  if (may_lead (first))
    append_score (first, text);
  append_crossed (data, group, text);
  append_others (group, text);
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
