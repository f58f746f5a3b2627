/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-words-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-told.h"
#include "wb-craft-verdict-private.h"

/* How sure an answer is, and what it rests on, in a maker's words. */

#define ALIKE 0.02 /* of 1: worths that differ by less are told apart by nobody */

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
  if (wb_craft_score_is_poor (first->score.value))
    g_string_append (text, _(" A wick that was not tried may do better."));
}

/* "the upper third only", in words that say what is not known. */
static const char *
say_stages (guint bits)
{
  switch (bits)
    {
    case 1: return _("Only the upper third was read; how it burns lower down is not known.");
    case 3: return _("The upper and middle thirds were read; how it burns at the bottom is not known.");
    case 7: return _("All three thirds were read.");
    case 0: return _("Nothing that the score asks for was read.");
    default: return _("Not every third was read.");
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
  if (wb_craft_words_has_reason (first, "fill_not_known") && wb_craft_words_has_reason (first, "not_weighed"))
    return _("For want of fills and masses all counts as the upper third.");
  if (wb_craft_words_has_reason (first, "fill_not_known"))
    return _("For want of a tare, fill or height all counts as the upper third.");
  if (wb_craft_words_has_reason (first, "not_weighed"))
    return _("For want of masses all counts as the upper third.");
  return say_stages (stages_read (first));
}

static gboolean
are_thirds_known (const WbCraftRanked *ranked)
{
  return ranked->placed > 0 || !(wb_craft_words_has_reason (ranked, "fill_not_known") || wb_craft_words_has_reason (ranked, "not_weighed"));
}

const char *
wb_craft_words_get_thirds (const GPtrArray *all)
{
  guint bits = 7;

  for (guint i = 0; i < all->len; i++)
    {
      if (!are_thirds_known (g_ptr_array_index (all, i)))
        return _("thirds not known");
      bits &= stages_read (g_ptr_array_index (all, i));
    }
  switch (bits)
    {
    case 1: return _("upper third only");
    case 3: return _("upper and middle third only");
    case 7: return _("all three thirds");
    case 0: return _("no third read");
    default: return _("not every third");
    }
}

/* What is alight has told no end yet: who counts the burns of the bench misses it among those that the answer rests on. */
static void
append_alight (const WbCraftGroup *group,
               GString            *text)
{
  guint n = 0;

  for (guint i = 0; i < group->n_cells; i++)
    n += group->cells[i].alight;
  if (n > 0)
    g_string_append_printf (text, g_dngettext (GETTEXT_PACKAGE, " %u burn is still alight and not counted.",
                                               " %u burns are still alight and not counted.", n), n);
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

/* "flame height, outside wall of the vessel": the places of all reasons of a code, each once. */
static char *
dup_places (const WbCraftRanked *ranked,
            const char          *code)
{
  g_autoptr (GPtrArray) places = g_ptr_array_new ();
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < ranked->reasons->len; i++)
    {
      const WbCraftReason *reason = g_ptr_array_index (ranked->reasons, i);

      if (!g_str_equal (reason->code, code) || reason->place == NULL
          || g_ptr_array_find_with_equal_func (places, reason->place, g_str_equal, NULL))
        continue;
      g_string_append_printf (text, "%s%s", places->len > 0 ? ", " : "", reason->place);
      g_ptr_array_add (places, reason->place);
    }
  return g_string_free (text, FALSE);
}

static void
append_named (const WbDataset    *data,
              const WbCraftGroup *group,
              guint               index,
              const char         *code,
              GString            *names)
{
  g_autofree char *name = wb_craft_words_dup_name (data, group, group->cells[index].cell);
  g_autofree char *limits = dup_places (&group->cells[index], code);
  const char *samples = g_str_equal (code, "limit_crossed") ? wb_craft_ranked_get_samples_crossed (&group->cells[index]) : NULL;
  g_autofree char *places = samples != NULL ? g_strdup_printf ("%s; %s", limits, samples) : g_strdup (limits);

  /* Translators: a wick; the limits that it crossed, "flame height; 2 of 3 samples". */
  g_string_append_printf (names, names->len > 0 ? _(", %s (%s)") : _("%s (%s)"), name, places);
}

/* What is not to be used is told beside what leads: a reader of the answer alone is warned. */
static void
append_crossed (const WbDataset    *data,
                const WbCraftGroup *group,
                GString            *text)
{
  g_autoptr (GString) names = g_string_new (NULL);
  gboolean published = TRUE;

  for (guint i = 0; i < group->n_cells; i++)
    {
      const WbCraftRanked *ranked = &group->cells[i];

      if (ranked->verdict != WB_CRAFT_VERDICT_REJECTED || !wb_craft_words_has_reason (ranked, "limit_crossed"))
        continue;
      published = published && wb_craft_words_crossed_published (ranked);
      append_named (data, group, i, "limit_crossed", names);
    }
  if (names->len > 0)
    /* Translators: one or more wicks, each with its limits. */
    g_string_append_printf (text, published ? _(" Not to be used, because a safety limit was crossed: %s.")
                                            : _(" Not to be used, because a limit was crossed: %s."), names->str);
}

/* A crossing that was set aside is no less seen: it is told beside the answer, not only among the reasons. */
static void
append_set_aside (const WbDataset    *data,
                  const WbCraftGroup *group,
                  GString            *text)
{
  g_autoptr (GString) names = g_string_new (NULL);

  for (guint i = 0; i < group->n_cells; i++)
    if (group->cells[i].verdict != WB_CRAFT_VERDICT_REJECTED && wb_craft_words_has_reason (&group->cells[i], "set_aside_crossed"))
      append_named (data, group, i, "set_aside_crossed", names);
  if (names->len > 0)
    /* Translators: one or more wicks, each with what was read of which sample. */
    g_string_append_printf (text, _(" Setting a sample aside clears no limit that it crossed: %s."), names->str);
}

/* Nor does a limit that is turned off take a crack off the answer. */
static void
append_cracked (const WbDataset    *data,
                const WbCraftGroup *group,
                GString            *text)
{
  g_autoptr (GString) names = g_string_new (NULL);

  for (guint i = 0; i < group->n_cells; i++)
    if (group->cells[i].cracked)
      append_named (data, group, i, "vessel_cracked", names);
  if (names->len > 0)
    /* Translators: one or more wicks, each with "burn 2 of sample 14-2". */
    g_string_append_printf (text, _(" A vessel cracked, which no limit tells here: %s."), names->str);
}

/* "14-2, 14-3": the subjects of all reasons of a code, each once. */
static void
add_subjects (const WbCraftRanked *ranked,
              const char          *code,
              GPtrArray           *subjects)
{
  for (guint i = 0; i < ranked->reasons->len; i++)
    {
      const WbCraftReason *reason = g_ptr_array_index (ranked->reasons, i);

      if (g_str_equal (reason->code, code) && !g_ptr_array_find_with_equal_func (subjects, reason->subject, g_str_equal, NULL))
        g_ptr_array_add (subjects, reason->subject);
    }
}

/* The score has no figure of a flame that drowned: it is told beside the answer, whoever leads. */
static void
append_went_out (const WbDataset    *data,
                 const WbCraftGroup *group,
                 GString            *text)
{
  g_autoptr (GString) names = g_string_new (NULL);

  for (guint i = 0; i < group->n_cells; i++)
    {
      g_autoptr (GPtrArray) subjects = g_ptr_array_new ();
      g_autofree char *name = NULL;
      g_autofree char *samples = NULL;

      add_subjects (&group->cells[i], "went_out", subjects);
      if (subjects->len == 0)
        continue;
      name = wb_craft_words_dup_name (data, group, group->cells[i].cell);
      samples = wb_craft_words_join (subjects);
      /* Translators: a wick; codes of its samples. */
      g_string_append_printf (names, names->len > 0 ? _(", %s (sample %s)") : _("%s (sample %s)"), name, samples);
    }
  if (names->len > 0)
    /* Translators: one or more wicks, each with samples. */
    g_string_append_printf (text, _(" Went out by itself before the protocol's length: %s. The score does not count that."), names->str);
}

/* By how much the cells of a tie differ in what a part is worth, from the least to the most. */
static double
get_spread (const GPtrArray *tied,
            guint            part)
{
  double least = INFINITY, most = -INFINITY;

  for (guint i = 0; i < tied->len; i++)
    {
      const WbCraftRanked *ranked = g_ptr_array_index (tied, i);
      double worth = g_array_index (ranked->parts, WbCraftPart, part).desirability;

      least = MIN (least, worth);
      most = MAX (most, worth);
    }
  return most - least;
}

/* What could tell those of a tie apart: the part in whose worth they differ most. */
static void
append_difference (const WbDataset    *data,
                   const WbCraftGroup *group,
                   const GPtrArray    *tied,
                   GString            *text)
{
  const GArray *parts = ((const WbCraftRanked *) g_ptr_array_index (tied, 0))->parts;
  g_autoptr (GPtrArray) worths = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *joined = NULL;
  const WbCraftPart *part;
  guint widest = G_MAXUINT;

  for (guint p = 0; p < parts->len; p++)
    if (!g_array_index (parts, WbCraftPart, p).dropped && (widest == G_MAXUINT || get_spread (tied, p) > get_spread (tied, widest)))
      widest = p;
  if (widest == G_MAXUINT || get_spread (tied, widest) < ALIKE)
    {
      g_string_append (text, _(" No figure that was read tells them apart."));
      return;
    }
  part = &g_array_index (parts, WbCraftPart, widest);
  for (guint i = 0; i < tied->len; i++)
    {
      const WbCraftRanked *ranked = g_ptr_array_index (tied, i);
      g_autofree char *name = wb_craft_words_dup_name (data, group, ranked->cell);
      g_autofree char *worth = wb_number_format (g_array_index (ranked->parts, WbCraftPart, widest).desirability, 2, NULL);

      g_ptr_array_add (worths, g_strdup_printf ("%s %s", name, worth));
    }
  joined = wb_craft_words_join (worths);
  /* Translators: a figure, "Soot"; a part of the candle's life, "lower third"; wicks, each with a number. */
  g_string_append_printf (text, _(" What tells them apart most is: %s, %s (worth, of 1: %s)."),
                          g_dgettext (GETTEXT_PACKAGE, wb_figure_get_label (part->figure)),
                          g_dgettext (GETTEXT_PACKAGE, wb_stage_get_label (part->stage)), joined);
}

/* Of those that tie, how good the best is: a tie of poor ones is still poor. */
static void
append_tie (const WbDataset    *data,
            const WbCraftGroup *group,
            const GPtrArray    *tied,
            GString            *text)
{
  g_autofree char *score = wb_number_format (((const WbCraftRanked *) g_ptr_array_index (tied, 0))->score.value, 2, NULL);

  /* Translators: a score. */
  g_string_append_printf (text, _(" None of them scores more than %s of 1."), score);
  append_difference (data, group, tied, text);
}

/* Does every one of a tie say so? */
static gboolean
all_say (const GPtrArray *tied,
         const char      *code)
{
  for (guint i = 0; i < tied->len; i++)
    if (!wb_craft_words_has_reason (g_ptr_array_index (tied, i), code))
      return FALSE;
  return TRUE;
}

/* What keeps the first from being recommended; of a tie, what keeps all of it. */
static void
append_missing (const WbCraftRanked *first,
                const GPtrArray     *tied,
                GString             *text)
{
  for (guint i = 0; i < first->reasons->len && first->verdict == WB_CRAFT_VERDICT_CANDIDATE; i++)
    {
      const WbCraftReason *reason = g_ptr_array_index (first->reasons, i);

      if (!all_say (tied, reason->code))
        continue;
      if (g_str_equal (reason->code, "few_poured") || g_str_equal (reason->code, "not_burnt_down")
          || (g_str_equal (reason->code, "may_cross") && tied->len == 0))
        g_string_append_printf (text, " %s", reason->text);
      else if (g_str_equal (reason->code, "not_near_best"))
        g_string_append_printf (text, " %s", _("To be recommended, the chance of being within 0.05 of the best must be at least 90 in 100."));
    }
}

/* A sample that reads unlike its fellows may have made the answer, or unmade it: whichever cell it is of. */
static void
append_unlike (const WbCraftGroup *group,
               GString            *text)
{
  for (guint i = 0; i < group->n_cells; i++)
    for (guint k = 0; k < group->cells[i].reasons->len; k++)
      {
        const WbCraftReason *reason = g_ptr_array_index (group->cells[i].reasons, k);

        if (g_str_equal (reason->code, "sample_unlike"))
          g_string_append_printf (text, " %s", reason->text);
      }
}

/* Where nothing would do: in which direction, as far as all say the same. */
static void
append_direction (const WbCraftGroup *group,
                  GString            *text)
{
  gboolean all = TRUE;

  for (guint i = 0; i < group->n_cells; i++)
    all = all && (group->cells[i].burns == 0 || wb_craft_words_has_reason (&group->cells[i], "pool_short"));
  if (all)
    g_string_append (text, _(" No melt pool gets to the wall."));
}

char *
wb_craft_group_dup_sureness (const WbDataset    *data,
                             const WbCraftGroup *group)
{
  const WbCraftRanked *first;
  g_autoptr (GPtrArray) tied = NULL;
  g_autofree char *basis = NULL;
  gboolean leads;
  GString *text;

  g_return_val_if_fail (data != NULL && group != NULL, NULL);

  if (group->n_cells == 0 || isnan (group->cells[0].score.value))
    return g_strdup ("");
  first = &group->cells[0];
  leads = wb_craft_words_may_lead (first) && !wb_craft_words_are_hopeless (group);
  tied = wb_craft_words_find_tie (group);
  text = g_string_new (NULL);
  basis = wb_craft_words_dup_basis (group);
  if (!leads || !wb_craft_words_rests_on_little (first)) /* else the answer said so */
    /* Translators: "3 samples and 9 burns". */
    g_string_append_printf (text, _("This rests on %s. "), basis);
  g_string_append (text, say_thirds (first));
  append_alight (group, text);
  if (!leads)
    append_direction (group, text);
  else if (tied->len > 0)
    append_tie (data, group, tied, text);
  else
    append_score (first, text);
  append_crossed (data, group, text);
  append_set_aside (data, group, text);
  append_cracked (data, group, text);
  append_went_out (data, group, text);
  append_others (group, text);
  append_unlike (group, text);
  append_missing (first, tied, text);
  if (leads && group->p_none > 0.01)
    {
      g_autofree char *none = wb_craft_dup_chance (group->p_none);

      g_string_append_printf (text, _(" The chance that none of them would do is %s."), none);
    }
  return g_string_free (text, FALSE);
}
