/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-ranking.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-told.h"
#include "wb-craft-verdict-private.h"

/* The reasons of a verdict as a person reads them: what is missing of one kind is one sentence, not one for each thing and third. */

WbCraftReason *
wb_craft_ranked_add_reason (WbCraftRanked *ranked,
                            const char    *code,
                            gint64         entry,
                            const char    *format,
                            ...)
{
  WbCraftReason *reason = g_new0 (WbCraftReason, 1);
  va_list args;

  va_start (args, format);
  reason->code = g_strdup (code);
  reason->text = g_strdup_vprintf (format, args);
  reason->entry = entry;
  va_end (args);
  g_ptr_array_add (ranked->reasons, reason);
  return reason;
}

void
wb_craft_reason_name (WbCraftReason *reason,
                      const char    *subject,
                      const char    *place)
{
  reason->subject = g_strdup (subject);
  reason->place = g_strdup (place);
}

const WbCraftPart *
wb_craft_ranked_find_costliest (const WbCraftRanked *ranked)
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

/* What one sentence says of the subjects of all reasons of a code; NULL: reasons of the code stand alone. */
static char *
dup_shared (const char *code,
            const char *subjects)
{
  if (g_str_equal (code, "limit_not_tested"))
    /* Translators: "flame height (0 of 3); outside wall of the vessel (2 of 3)" */
    return g_strdup_printf (_("Read in the lower third on too few samples: %s."), subjects);
  if (g_str_equal (code, "went_out"))
    /* Translators: "14-2 (burn 3, at 118 of 240 min); 14-3 (burn 1, at 200 of 240 min)" */
    return g_strdup_printf (_("Went out by itself before the protocol's length: %s."), subjects);
  if (g_str_equal (code, "figure_not_read"))
    /* Translators: "Hang-up (upper third); Soot (upper third, middle third)" */
    return g_strdup_printf (_("Not read in any combination, so out of the score: %s."), subjects);
  if (g_str_equal (code, "figure_borrowed"))
    return g_strdup_printf (_("Not read in this combination, so foretold from its other thirds and from the others: %s."), subjects);
  if (g_str_equal (code, "stage_not_read"))
    /* Translators: "middle third; lower third" */
    return g_strdup_printf (_("Nothing was read here, so it is out of the score: %s."), subjects);
  return NULL;
}

static gboolean
is_of (const WbCraftReason *reason,
       const char          *code,
       const char          *subject)
{
  return g_str_equal (reason->code, code) && reason->subject != NULL
         && (subject == NULL || g_str_equal (reason->subject, subject));
}

/* Has an earlier reason of the code the same subject? */
static gboolean
came_before (const WbCraftRanked *ranked,
             guint                index,
             const char          *subject)
{
  const WbCraftReason *reason = g_ptr_array_index (ranked->reasons, index);

  for (guint i = 0; i < index; i++)
    if (is_of (g_ptr_array_index (ranked->reasons, i), reason->code, subject))
      return TRUE;
  return FALSE;
}

/* "Soot (upper third, middle third)": a subject with the distinct places of all reasons of its code. */
static void
append_subject (const WbCraftRanked *ranked,
                guint                index,
                GString             *text)
{
  const WbCraftReason *reason = g_ptr_array_index (ranked->reasons, index);
  g_autoptr (GPtrArray) places = g_ptr_array_new ();

  for (guint i = index; i < ranked->reasons->len; i++)
    {
      const WbCraftReason *other = g_ptr_array_index (ranked->reasons, i);

      if (is_of (other, reason->code, reason->subject) && other->place != NULL
          && !g_ptr_array_find_with_equal_func (places, other->place, g_str_equal, NULL))
        g_ptr_array_add (places, other->place);
    }
  g_string_append (text, reason->subject);
  for (guint i = 0; i < places->len; i++)
    g_string_append_printf (text, "%s%s", i == 0 ? " (" : ", ", (const char *) g_ptr_array_index (places, i));
  if (places->len > 0)
    g_string_append_c (text, ')');
}

/* The subjects of all reasons of the code of the one at `index`, the first of them. */
static char *
dup_subjects (const WbCraftRanked *ranked,
              guint                index)
{
  const WbCraftReason *first = g_ptr_array_index (ranked->reasons, index);
  GString *subjects = g_string_new (NULL);

  for (guint i = index; i < ranked->reasons->len; i++)
    {
      const WbCraftReason *reason = g_ptr_array_index (ranked->reasons, i);

      if (!is_of (reason, first->code, NULL) || came_before (ranked, i, reason->subject))
        continue;
      if (subjects->len > 0)
        g_string_append (subjects, "; ");
      append_subject (ranked, i, subjects);
    }
  return g_string_free (subjects, FALSE);
}

static gboolean
has_code (const WbCraftRanked *ranked,
          const char          *code)
{
  for (guint i = 0; i < ranked->reasons->len; i++)
    if (g_str_equal (((const WbCraftReason *) g_ptr_array_index (ranked->reasons, i))->code, code))
      return TRUE;
  return FALSE;
}

gboolean
wb_craft_score_is_poor (double score)
{
  g_autofree char *told = isfinite (score) ? wb_number_format (score, 2, NULL) : NULL;
  g_autofree char *poor = wb_number_format (WB_CRAFT_SCORE_POOR, 2, NULL);

  /* as it is printed, so that nobody reads 0.50 and that it is poor: from 0 to 1 the texts sort as the numbers */
  return told != NULL && strcmp (told, poor) < 0;
}

WbCraftTold
wb_craft_ranked_get_told (const WbCraftRanked *ranked)
{
  g_return_val_if_fail (ranked != NULL, WB_CRAFT_TOLD_TOO_LITTLE_DATA);

  switch (ranked->verdict)
    {
    case WB_CRAFT_VERDICT_RECOMMENDED:
      return wb_craft_score_is_poor (ranked->score.value) ? WB_CRAFT_TOLD_BEST_OF_POOR : WB_CRAFT_TOLD_RECOMMENDED;
    case WB_CRAFT_VERDICT_CANDIDATE:
      return wb_craft_score_is_poor (ranked->score.value) ? WB_CRAFT_TOLD_CANDIDATE_POOR : WB_CRAFT_TOLD_CANDIDATE;
    case WB_CRAFT_VERDICT_REJECTED:
      if (has_code (ranked, "limit_crossed"))
        return WB_CRAFT_TOLD_CROSSED;
      return has_code (ranked, "scores_nothing") ? WB_CRAFT_TOLD_WOULD_NOT_DO : WB_CRAFT_TOLD_NOT_BEST;
    case WB_CRAFT_VERDICT_TOO_LITTLE_DATA:
    default:
      return WB_CRAFT_TOLD_TOO_LITTLE_DATA;
    }
}

const char *
wb_craft_told_get_label (WbCraftTold told)
{
  switch (told)
    {
    case WB_CRAFT_TOLD_RECOMMENDED:
      return wb_craft_verdict_get_label (WB_CRAFT_VERDICT_RECOMMENDED);
    case WB_CRAFT_TOLD_BEST_OF_POOR:
      /* Translators: a verdict on a wick that nothing burnt beats, though it does poorly. */
      return _("best of a poor field");
    case WB_CRAFT_TOLD_CANDIDATE_POOR:
      /* Translators: a verdict on a wick: it cannot be ruled out, but it does poorly so far. */
      return _("candidate, poor so far");
    case WB_CRAFT_TOLD_CANDIDATE:
      return wb_craft_verdict_get_label (WB_CRAFT_VERDICT_CANDIDATE);
    case WB_CRAFT_TOLD_CROSSED:
      /* Translators: a verdict on a wick. */
      return _("crossed a limit");
    case WB_CRAFT_TOLD_WOULD_NOT_DO:
      /* Translators: verdicts on a wick. */
      return _("would not do");
    case WB_CRAFT_TOLD_NOT_BEST:
      return _("not the best");
    case WB_CRAFT_TOLD_TOO_LITTLE_DATA:
    case WB_CRAFT_N_TOLD:
    default:
      return wb_craft_verdict_get_label (WB_CRAFT_VERDICT_TOO_LITTLE_DATA);
    }
}

const char *
wb_craft_ranked_get_samples_crossed (const WbCraftRanked *ranked)
{
  g_return_val_if_fail (ranked != NULL, NULL);

  for (guint i = 0; ranked->reasons != NULL && i < ranked->reasons->len; i++)
    {
      const WbCraftReason *reason = g_ptr_array_index (ranked->reasons, i);

      if (g_str_equal (reason->code, "samples_crossed"))
        return reason->place;
    }
  return NULL;
}

const char *
wb_craft_told_get_meaning (WbCraftTold told)
{
  switch (told)
    {
    case WB_CRAFT_TOLD_RECOMMENDED:
      return _("enough samples were burnt to their end within every limit, and nothing burnt is likely to be better by more than 0.05");
    case WB_CRAFT_TOLD_BEST_OF_POOR:
      return _("nothing burnt is better, but it does poorly itself: test other wicks");
    case WB_CRAFT_TOLD_CANDIDATE:
      return _("the burns so far cannot rule it out yet, nor are they enough to recommend it");
    case WB_CRAFT_TOLD_CANDIDATE_POOR:
      return _("the burns so far cannot rule it out yet, but it does poorly");
    case WB_CRAFT_TOLD_CROSSED:
      return _("a reading of it was over a limit, so it is out, whatever it scores");
    case WB_CRAFT_TOLD_WOULD_NOT_DO:
      return _("it crossed no limit, but its score is next to nothing");
    case WB_CRAFT_TOLD_NOT_BEST:
      return _("the burns are enough to say that another does better, however well it does itself");
    case WB_CRAFT_TOLD_TOO_LITTLE_DATA:
    case WB_CRAFT_N_TOLD:
    default:
      return _("too few burns were read to say anything of it");
    }
}

GPtrArray *
wb_craft_ranking_dup_meanings (const WbCraftRanking *ranking)
{
  GPtrArray *meanings = g_ptr_array_new_with_free_func (g_free);
  gboolean   has[WB_CRAFT_N_TOLD] = { FALSE };

  g_return_val_if_fail (ranking != NULL, meanings);

  for (guint g = 0; g < ranking->n_groups; g++)
    for (guint i = 0; i < ranking->groups[g].n_cells; i++)
      has[wb_craft_ranked_get_told (&ranking->groups[g].cells[i])] = TRUE;
  for (guint told = 0; told < WB_CRAFT_N_TOLD; told++)
    if (has[told])
      /* Translators: a verdict, "candidate"; what it means. */
      g_ptr_array_add (meanings, g_strdup_printf (_("%s: %s"), wb_craft_told_get_label ((WbCraftTold) told),
                                                  wb_craft_told_get_meaning ((WbCraftTold) told)));
  return meanings;
}

const char *
wb_craft_ranked_get_verdict_label (const WbCraftRanked *ranked)
{
  g_return_val_if_fail (ranked != NULL, "");

  return wb_craft_told_get_label (wb_craft_ranked_get_told (ranked));
}

GPtrArray *
wb_craft_ranked_dup_sentences (const WbCraftRanked *ranked)
{
  GPtrArray *sentences = g_ptr_array_new_with_free_func (g_free);

  g_return_val_if_fail (ranked != NULL, sentences);

  for (guint i = 0; i < ranked->reasons->len; i++)
    {
      const WbCraftReason *reason = g_ptr_array_index (ranked->reasons, i);
      g_autofree char *subjects = NULL;
      char *sentence = NULL;

      if (reason->subject != NULL)
        {
          if (came_before (ranked, i, NULL))
            continue;
          subjects = dup_subjects (ranked, i);
          sentence = dup_shared (reason->code, subjects);
        }
      g_ptr_array_add (sentences, sentence != NULL ? sentence : g_strdup (reason->text));
    }
  return sentences;
}

GPtrArray *
wb_craft_group_dup_common_sentences (const WbCraftGroup *group)
{
  GPtrArray *common;

  g_return_val_if_fail (group != NULL, g_ptr_array_new_with_free_func (g_free));

  common = group->n_cells > 1 ? wb_craft_ranked_dup_sentences (&group->cells[0]) : g_ptr_array_new_with_free_func (g_free);
  for (guint i = 1; i < group->n_cells; i++)
    {
      g_autoptr (GPtrArray) told = wb_craft_ranked_dup_sentences (&group->cells[i]);

      for (guint k = common->len; k > 0; k--)
        if (!g_ptr_array_find_with_equal_func (told, g_ptr_array_index (common, k - 1), g_str_equal, NULL))
          g_ptr_array_remove_index (common, k - 1);
    }
  return common;
}
