/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-words-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-told.h"
#include "wb-craft-verdict-private.h"

/* The answer of a group in a maker's words. */

#define TIE 0.5           /* more than one cell with this chance of being near the best: a tie */
#define ALL_ALIKE 0.9     /* every one with this chance: they are alike; else they only cannot be told apart */
#define NOTHING 0.5       /* the chance that nothing scores from which that is the answer */

char *
wb_craft_words_dup_name (const WbDataset    *data,
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

char *
wb_craft_words_join (const GPtrArray *names)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < names->len; i++)
    {
      if (i > 0)
        /* Translators: between the last two of a list, and between those before. */
        g_string_append (text, i + 1 == names->len ? _(" and ") : ", ");
      g_string_append (text, g_ptr_array_index (names, i));
    }
  return g_string_free (text, FALSE);
}

gboolean
wb_craft_words_may_lead (const WbCraftRanked *ranked)
{
  return isfinite (ranked->score.value) && ranked->score.value > 0 && ranked->verdict != WB_CRAFT_VERDICT_REJECTED;
}

gboolean
wb_craft_words_are_hopeless (const WbCraftGroup *group)
{
  return group->n_cells > 0 && isfinite (group->cells[0].score.value)
         && (group->p_none >= NOTHING || group->cells[0].score.value < WB_CRAFT_VERDICT_NOTHING);
}

GPtrArray *
wb_craft_words_find_tie (const WbCraftGroup *group)
{
  GPtrArray *tied = g_ptr_array_new ();

  for (guint i = 0; i < group->n_cells; i++)
    if (wb_craft_words_may_lead (&group->cells[i]) && group->cells[i].p_near >= TIE)
      g_ptr_array_add (tied, &group->cells[i]);
  if (tied->len < 2)
    g_ptr_array_set_size (tied, 0);
  return tied;
}

gboolean
wb_craft_words_has_reason (const WbCraftRanked *ranked,
                           const char          *code)
{
  for (guint i = 0; i < ranked->reasons->len; i++)
    if (g_str_equal (((WbCraftReason *) g_ptr_array_index (ranked->reasons, i))->code, code))
      return TRUE;
  return FALSE;
}

gboolean
wb_craft_words_crossed_published (const WbCraftRanked *ranked)
{
  for (guint i = 0; i < ranked->reasons->len; i++)
    {
      const WbCraftReason *reason = g_ptr_array_index (ranked->reasons, i);

      if (g_str_equal (reason->code, "limit_crossed") && !reason->house)
        return TRUE;
    }
  return FALSE;
}

/* What is true of the cells that were burnt at all. */
typedef struct { guint burnt, crossed, published, rejected, n; } Tally;

static Tally
tally (const WbCraftGroup *group)
{
  Tally tally = { .n = group->n_cells };

  for (guint i = 0; i < group->n_cells; i++)
    {
      tally.burnt += group->cells[i].burns > 0;
      tally.crossed += wb_craft_words_has_reason (&group->cells[i], "limit_crossed");
      tally.published += wb_craft_words_crossed_published (&group->cells[i]);
      tally.rejected += group->cells[i].verdict == WB_CRAFT_VERDICT_REJECTED;
    }
  return tally;
}

/* Nothing scores: how little the least bad one does, so that nobody takes it for a winner. */
static char *
dup_hopeless (const WbDataset    *data,
              const WbCraftGroup *group)
{
  const WbCraftRanked *first = &group->cells[0];
  g_autofree char *name = wb_craft_words_dup_name (data, group, first->cell);
  g_autofree char *score = wb_number_format (first->score.value, 2, NULL);

  /* Translators: a wick; its score. */
  return g_strdup_printf (_("None of those burnt would do: even %s, the best of them, scores %s of 1, hardly more than nothing."), name, score);
}

/* A limit that a house set for itself is not called one of safety. */
static char *
dup_all_crossed (const Tally *cells)
{
  if (cells->published == cells->crossed)
    return cells->burnt == cells->n ? g_strdup (_("None of these may be used: each crossed a safety limit."))
                                    : g_strdup (_("None of those burnt so far may be used: each crossed a safety limit."));
  return cells->burnt == cells->n ? g_strdup (_("None of these may be used: each crossed a limit."))
                                  : g_strdup (_("None of those burnt so far may be used: each crossed a limit."));
}

/* The answer where nothing may lead; NULL where something may. */
static char *
dup_no_leader (const WbDataset    *data,
               const WbCraftGroup *group)
{
  Tally cells = tally (group);

  if (cells.crossed > 0 && cells.crossed == cells.burnt)
    return dup_all_crossed (&cells);
  if (cells.crossed == 0 && wb_craft_words_are_hopeless (group))
    return dup_hopeless (data, group);
  if (cells.rejected > 0 && cells.rejected == cells.n)
    return g_strdup (_("None of these may be used: each crossed a limit or would not do."));
  if (cells.rejected > 0 && cells.rejected == cells.burnt)
    return g_strdup (_("None of those burnt so far may be used: each crossed a limit or would not do."));
  if (cells.burnt == 0)
    return g_strdup (_("Nothing can be said yet: no burn counts."));
  if (isnan (group->cells[0].score.value))
    return g_strdup (_("Nothing can be said yet: nothing that the score asks for was read."));
  if (wb_craft_words_are_hopeless (group))
    return dup_hopeless (data, group);
  if (wb_craft_words_may_lead (&group->cells[0]))
    return NULL;
  return cells.burnt == cells.n ? g_strdup (_("None of these would do: every one scores nothing or crossed a limit."))
                                : g_strdup (_("None of those burnt so far would do: every one scores nothing or crossed a limit."));
}

gboolean
wb_craft_words_rests_on_little (const WbCraftRanked *ranked)
{
  return ranked->verdict == WB_CRAFT_VERDICT_TOO_LITTLE_DATA || wb_craft_words_has_reason (ranked, "few_samples") || wb_craft_words_has_reason (ranked, "not_burnt_down");
}

static char *
dup_basis_of (guint n_samples,
              guint n_burns)
{
  g_autofree char *samples = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u sample", "%u samples", n_samples), n_samples);
  g_autofree char *burns = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u burn", "%u burns", n_burns), n_burns);

  /* Translators: "1 sample", "2 burns". */
  return g_strdup_printf (_("%s and %s"), samples, burns);
}

char *
wb_craft_words_dup_basis (const WbCraftGroup *group)
{
  g_autoptr (GPtrArray) tied = wb_craft_words_find_tie (group);
  guint n_samples = 0, n_burns = 0;

  if (tied->len == 0 && wb_craft_words_may_lead (&group->cells[0]) && !wb_craft_words_are_hopeless (group))
    return dup_basis_of (group->cells[0].samples, group->cells[0].burns);
  for (guint i = 0; i < group->n_cells && tied->len == 0; i++)
    {
      n_samples += group->cells[i].samples;
      n_burns += group->cells[i].burns;
    }

  for (guint i = 0; i < tied->len; i++)
    {
      n_samples += ((const WbCraftRanked *) g_ptr_array_index (tied, i))->samples;
      n_burns += ((const WbCraftRanked *) g_ptr_array_index (tied, i))->burns;
    }
  return dup_basis_of (n_samples, n_burns);
}

/* Which of those that tie are recommended. */
static char *
dup_recommended (const WbDataset    *data,
                 const WbCraftGroup *group,
                 const GPtrArray    *tied)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *joined = NULL;
  gboolean poor = FALSE;

  for (guint i = 0; i < tied->len; i++)
    {
      const WbCraftRanked *ranked = g_ptr_array_index (tied, i);
      WbCraftTold          told = wb_craft_ranked_get_told (ranked);

      poor = poor || told == WB_CRAFT_TOLD_BEST_OF_POOR;
      if (told == WB_CRAFT_TOLD_RECOMMENDED)
        g_ptr_array_add (names, wb_craft_words_dup_name (data, group, ranked->cell));
    }
  if (names->len == 0)
    return g_strdup (poor ? _("Test other wicks: they are only the best of those burnt.") : _("None is recommended yet."));
  if (names->len == tied->len)
    return g_strdup (_("Each of them is recommended."));
  joined = wb_craft_words_join (names);
  /* Translators: one or more wicks. */
  return g_strdup_printf (_("Recommended so far: %s."), joined);
}

gboolean
wb_craft_words_are_alike (const GPtrArray *tied)
{
  for (guint i = 0; i < tied->len; i++)
    if (((const WbCraftRanked *) g_ptr_array_index (tied, i))->p_near < ALL_ALIKE)
      return FALSE;
  return TRUE;
}

/* No winner where there is none. */
static char *
dup_tie (const WbDataset    *data,
         const WbCraftGroup *group,
         const GPtrArray    *tied)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) chances = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *who = NULL;
  g_autofree char *near_best = NULL;
  g_autofree char *basis = wb_craft_words_dup_basis (group);
  g_autofree char *recommended = dup_recommended (data, group, tied);
  g_autofree char *poor = wb_craft_words_dup_poor (group);
  g_autofree char *second = g_strconcat (recommended, poor, NULL);
  gboolean alike = wb_craft_words_are_alike (tied);

  for (guint i = 0; i < tied->len; i++)
    {
      const WbCraftRanked *ranked = g_ptr_array_index (tied, i);
      g_autofree char *name = wb_craft_words_dup_name (data, group, ranked->cell);
      g_autofree char *chance = wb_craft_dup_chance (ranked->p_near);

      /* Translators: a wick; a chance. */
      g_ptr_array_add (chances, g_strdup_printf (_("%s %s"), name, chance));
      g_ptr_array_add (names, g_steal_pointer (&name));
    }
  who = wb_craft_words_join (names);
  near_best = wb_craft_words_join (chances);
  if (wb_craft_words_rests_on_little (g_ptr_array_index (tied, 0)))
    /* Translators: "6 samples and 18 burns"; two or more wicks; the same wicks, each with its chance; a sentence. */
    return g_strdup_printf (alike ? _("On %s so far, %s are as good as each other; within 0.05 of the best: %s. %s")
                                  : _("On %s so far, %s cannot be told apart; within 0.05 of the best: %s. %s"), basis, who, near_best, second);
  /* Translators: two or more wicks; the same wicks, each with its chance; a sentence. */
  return g_strdup_printf (alike ? _("%s are as good as each other by these burns; within 0.05 of the best: %s. %s")
                                : _("%s cannot be told apart by these burns; within 0.05 of the best: %s. %s"), who, near_best, second);
}

/* Is the first all that is left of several, the others having crossed a limit? Then its chance of being the best says nothing. */
static gboolean
is_alone (const WbCraftGroup *group)
{
  guint crossed = 0, burnt = 0;

  for (guint i = 0; i < group->n_cells; i++)
    {
      burnt += group->cells[i].burns > 0;
      crossed += wb_craft_words_has_reason (&group->cells[i], "limit_crossed");
    }
  return crossed > 0 && crossed + 1 == burnt;
}

/* The only one left, though not one that crossed no limit. */
static char *
dup_alone_set_aside (const WbCraftRanked *first,
                     const char          *name,
                     const char          *basis,
                     const char          *second)
{
  return !wb_craft_words_rests_on_little (first)
           /* Translators: a wick; a sentence. */
           ? g_strdup_printf (_("%s is the only one of those burnt that no sample that counts speaks against by crossing a limit. %s"), name, second)
           /* Translators: "3 samples and 9 burns"; a wick; a sentence. */
           : g_strdup_printf (_("On %s so far, %s is the only one of those burnt that no sample that counts speaks against by crossing a limit. %s"), basis, name, second);
}

/* Whether to take it. */
static char *
dup_advice (const WbCraftRanked *first,
            const char          *name)
{
  switch (wb_craft_ranked_get_told (first))
    {
    case WB_CRAFT_TOLD_RECOMMENDED:
      /* Translators: a wick. */
      return g_strdup_printf (_("%s is recommended."), name);
    case WB_CRAFT_TOLD_BEST_OF_POOR:
      /* Translators: a wick. */
      return g_strdup_printf (_("Test other wicks: %s is only the best of those burnt."), name);
    case WB_CRAFT_TOLD_CANDIDATE:
    case WB_CRAFT_TOLD_CANDIDATE_POOR:
    case WB_CRAFT_TOLD_CROSSED:
    case WB_CRAFT_TOLD_WOULD_NOT_DO:
    case WB_CRAFT_TOLD_NOT_BEST:
    case WB_CRAFT_TOLD_TOO_LITTLE_DATA:
    case WB_CRAFT_N_TOLD:
    default:
      return g_strdup (_("It is not recommended yet."));
    }
}

static char *
dup_leader (const WbDataset    *data,
            const WbCraftGroup *group)
{
  const WbCraftRanked *first = &group->cells[0];
  g_autofree char *name = wb_craft_words_dup_name (data, group, first->cell);
  g_autofree char *basis = wb_craft_words_dup_basis (group);
  g_autofree char *best = wb_craft_dup_chance (first->p_best);
  g_autofree char *near_best = wb_craft_dup_chance (first->p_near);
  g_autofree char *recommended = dup_advice (first, name);
  g_autofree char *poor = wb_craft_words_dup_poor (group);
  g_autofree char *second = g_strconcat (recommended, poor, NULL);

  if (is_alone (group) && wb_craft_words_has_reason (first, "set_aside_crossed"))
    return dup_alone_set_aside (first, name, basis, second);
  if (is_alone (group))
    return !wb_craft_words_rests_on_little (first)
             /* Translators: a wick; a sentence. */
             ? g_strdup_printf (_("%s is the only one of those burnt that crossed no limit. %s"), name, second)
             /* Translators: "3 samples and 9 burns"; a wick; a sentence. */
             : g_strdup_printf (_("On %s so far, %s is the only one of those burnt that crossed no limit. %s"), basis, name, second);
  if (!wb_craft_words_rests_on_little (first))
    /* Translators: wick, chance of being best, chance of being near it, then a sentence. */
    return g_strdup_printf (_("%s would do best on average: %s; within 0.05 of the best: %s. %s"), name, best, near_best, second);
  /* Translators: "3 samples and 9 burns"; wick, chance of being best, chance of being near it, then a sentence. */
  return g_strdup_printf (_("On %s so far, %s would do best on average: %s; within 0.05 of the best: %s. %s"), basis, name, best, near_best, second);
}

char *
wb_craft_words_dup_no_answer (const WbDataset    *data,
                              const WbCraftGroup *group)
{
  g_autofree char *none = NULL;

  if (group->n_cells == 0)
    return g_strdup (_("Nothing can be said yet: no burn counts."));
  none = dup_no_leader (data, group);
  if (none != NULL)
    return g_steal_pointer (&none);
  /* chances worked out from so little look surer than they are: they stand in the table alone */
  if (group->cells[0].verdict == WB_CRAFT_VERDICT_TOO_LITTLE_DATA)
    {
      g_autofree char *name = wb_craft_words_dup_name (data, group, group->cells[0].cell);
      g_autofree char *basis = dup_basis_of (group->cells[0].samples, group->cells[0].burns);

      /* Translators: "1 sample and 1 burn"; a wick. */
      return g_strdup_printf (_("There is too little data to answer: on %s alone, %s comes first so far."), basis, name);
    }
  return NULL;
}

char *
wb_craft_group_dup_answer (const WbDataset    *data,
                           const WbCraftGroup *group)
{
  g_autoptr (GPtrArray) tied = NULL;
  g_autofree char *none = NULL;

  g_return_val_if_fail (data != NULL && group != NULL, NULL);

  none = wb_craft_words_dup_no_answer (data, group);
  if (none != NULL)
    return g_steal_pointer (&none);
  tied = wb_craft_words_find_tie (group);
  return tied->len > 0 ? dup_tie (data, group, tied) : dup_leader (data, group);
}
