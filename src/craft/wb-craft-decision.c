/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-decision-private.h"

#include "wb-craft-crossed.h"
#include "wb-craft-decision.h"
#include "wb-craft-lot-part.h"
#include "wb-craft-ranking.h"
#include "wb-craft-recipe.h"
#include "wb-craft-told.h"
#include "wb-craft-verdict-private.h"
#include "wb-craft-words-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define SAMPLES_FOR_A_SPREAD 3 /* EN 15426:2018, clause 6: fewer say little of how one candle differs from the next */

/* The record keeps a verdict by this order. */
G_STATIC_ASSERT ((int) WB_DECIDED_RECOMMENDED == (int) WB_CRAFT_VERDICT_RECOMMENDED);
G_STATIC_ASSERT ((int) WB_DECIDED_CANDIDATE == (int) WB_CRAFT_VERDICT_CANDIDATE);
G_STATIC_ASSERT ((int) WB_DECIDED_REJECTED == (int) WB_CRAFT_VERDICT_REJECTED);
G_STATIC_ASSERT ((int) WB_DECIDED_TOO_LITTLE_DATA == (int) WB_CRAFT_VERDICT_TOO_LITTLE_DATA);

/* What is told of one combination. */
typedef struct
{
  const WbDataset      *data;
  const WbCraftFigures *figures;
  const WbCraftLimits  *limits;
  const WbCraftRanked  *ranked; /* NULL: nothing was ranked */
  guint                 cell;
  WbCraftSurvey         survey;
} Telling;

/* ---- The recipe ---- */

static void
append_part (GString    *text,
             const char *part)
{
  if (text->len > 0)
    g_string_append (text, " · ");
  g_string_append (text, part);
}

static char *
dup_scent (const WbDataset *data,
           guint            cell)
{
  const WbCell *record = wb_dataset_get_cell (data, cell);
  g_autofree char *name = wb_dataset_dup_scent_name (data, cell);

  if (record->fragrance == 0)
    return g_steal_pointer (&name);
  /* Translators: "Quimber leaf 8 %", "of the wax". */
  return g_strdup_printf (_("%s %s"), name, g_dgettext (GETTEXT_PACKAGE, wb_basis_words[record->load_basis].label));
}

static char *
dup_share (const char *name,
           double      pct)
{
  g_autofree char *share = isnan (pct) ? NULL : wb_quantity_format (WB_UNIT_PERCENT, pct, -1);

  return share != NULL ? g_strdup_printf ("%s %s", name, share) : g_strdup (name);
}

static char *
dup_recipe (const WbDataset *data,
            guint            cell)
{
  const WbCell *record = wb_dataset_get_cell (data, cell);
  g_autofree char *vessel = wb_material_dup_title (wb_dataset_get_vessel (data, cell)), *wick = wb_dataset_dup_wick_title (data, cell);
  g_autofree char *scent = dup_scent (data, cell), *dye = NULL, *additive = NULL, *apart = NULL;
  GString *text = g_string_new (NULL);

  append_part (text, vessel);
  append_part (text, wick);
  if (record->wick_count > 1 && !isnan (record->wick_spacing_mm))
    {
      g_autofree char *spacing = wb_quantity_format (wb_quantity_get_shown_unit (WB_QUANTITY_LENGTH, data->notebook != NULL && data->notebook->us_units),
                                                     record->wick_spacing_mm, -1);

      apart = g_strdup_printf (_("%s apart"), spacing);
      append_part (text, apart);
    }
  append_part (text, scent);
  if (data->wax != NULL && data->wax->name != NULL)
    append_part (text, data->wax->name);
  if (data->dye != NULL && data->dye->name != NULL)
    append_part (text, dye = dup_share (data->dye->name, data->experiment->dye_pct));
  if (data->additive != NULL && data->additive->name != NULL)
    append_part (text, additive = dup_share (data->additive->name, data->experiment->additive_pct));
  return g_string_free (text, FALSE);
}

/* ---- Limits ---- */

/* A house's own is told as such: the published one of the same measure may have ended otherwise. */
static char *
dup_limit_name (const WbLimit *limit)
{
  const char *name = g_dgettext (GETTEXT_PACKAGE, wb_craft_limit_get_measure ((WbLimitKind) limit->kind));

  /* Translators: what a limit measures, "flame height". */
  return limit->house ? g_strdup_printf (_("%s (house limit)"), name) : g_strdup (name);
}

/*
 * "flame height, outside wall of the vessel (house limit)": what the limits of a state measure, each once; NULL: none. aside: those
 * that a sample which was set aside alone crossed, whatever the others say of them; they are among no passed ones.
 */
static char *
dup_limits (const Telling    *telling,
            WbCraftLimitState state,
            gboolean          aside)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < telling->limits->n_limits; i++)
    {
      const WbCraftLimit *limit = wb_craft_limits_get (telling->limits, telling->cell, i);
      const WbLimit *record = g_ptr_array_index (telling->data->limits, i);
      g_autofree char *name = dup_limit_name (record);

      if ((aside ? limit->set_aside_only : limit->state == state && !(state == WB_CRAFT_LIMIT_PASSED && limit->set_aside_only))
          && !wb_craft_limit_cannot_happen (telling->data, record, telling->cell)
          && !g_ptr_array_find_with_equal_func (names, name, g_str_equal, NULL))
        g_ptr_array_add (names, g_steal_pointer (&name));
    }
  if (names->len == 0)
    return NULL;
  g_ptr_array_add (names, NULL);
  return g_strjoinv (", ", (char **) names->pdata);
}

/* ---- What it rests on ---- */

static void
say_extent (GString       *text,
            const Telling *telling)
{
  guint n = telling->survey.samples, n_burns = telling->survey.burns;
  g_autofree char *samples = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u sample", "%u samples", n), n);
  g_autofree char *burns = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u burn", "%u burns", n_burns), n_burns);

  if (telling->survey.ended > 0)
    /* Translators: "3 samples", "27 burns", a number of samples */
    wb_craft_decision_say (text, _("%s and %s; burnt to the end that the protocol states: %u."), samples, burns, telling->survey.ended);
  else
    wb_craft_decision_say (text, _("%s and %s; none burnt to the end that the protocol states."), samples, burns);
  if (telling->survey.aside > 0)
    wb_craft_decision_say (text, g_dngettext (GETTEXT_PACKAGE, "%u sample more was set aside.", "%u samples more were set aside.", telling->survey.aside),
                           telling->survey.aside);
}

/* "upper third, middle third": those that were read, or those that were not; NULL: none. */
static char *
dup_stages (guint    bits,
            gboolean read)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  for (guint stage = 0; stage < WB_N_STAGES; stage++)
    if (((bits >> stage) & 1) == (read ? 1u : 0u))
      g_ptr_array_add (names, (gpointer) g_dgettext (GETTEXT_PACKAGE, wb_stage_get_label ((WbStage) stage)));
  if (names->len == 0)
    return NULL;
  g_ptr_array_add (names, NULL);
  return g_strjoinv (", ", (char **) names->pdata);
}

static void
say_chances (GString             *text,
             const WbCraftRanked *ranked)
{
  g_autofree char *score = NULL, *low = NULL, *high = NULL, *best = NULL, *near_best = NULL, *crossing = NULL, *told = NULL;

  wb_craft_decision_say (text, _("Verdict: %s."), wb_craft_ranked_get_verdict_label (ranked));
  if (isnan (ranked->score.value) || isnan (ranked->p_best))
    return;
  score = wb_number_format (ranked->score.value, 2, NULL);
  if (!isnan (ranked->score.low) && !isnan (ranked->score.high))
    {
      low = wb_number_format (ranked->score.low, 2, NULL);
      high = wb_number_format (ranked->score.high, 2, NULL);
      wb_craft_decision_say (text, _("It scores %s of 1, very likely between %s and %s."), score, low, high);
    }
  else
    wb_craft_decision_say (text, _("It scores %s of 1."), score);
  best = wb_craft_dup_chance (ranked->p_best);
  near_best = wb_craft_dup_chance (ranked->p_near);
  crossing = isnan (ranked->p_cross) ? NULL : wb_craft_dup_chance (ranked->p_cross);
  wb_craft_decision_say (text, _("Chance that it is the best of those compared: %s; that it is within 0.05 of the best: %s."), best, near_best);
  told = wb_craft_ranked_dup_crossing (ranked, crossing);
  if (told != NULL)
    wb_craft_decision_say (text, _("Chance that the next candle crosses a limit in its burns: %s."), told);
}

static char *
dup_rests_on (const Telling   *telling,
              const GPtrArray *crossings)
{
  g_autofree char *read = dup_stages (telling->survey.stages, TRUE);
  g_autofree char *passed = dup_limits (telling, WB_CRAFT_LIMIT_PASSED, FALSE), *crossed = dup_limits (telling, WB_CRAFT_LIMIT_CROSSED, FALSE);
  g_autofree char *aside = dup_limits (telling, WB_CRAFT_LIMIT_CROSSED, TRUE);
  GString *text = g_string_new (NULL);

  say_extent (text, telling);
  if (read != NULL)
    wb_craft_decision_say (text, _("Parts of the candle that were read: %s."), read);
  if (crossed != NULL)
    wb_craft_decision_say (text, _("Limits that were crossed: %s."), crossed);
  if (aside != NULL)
    wb_craft_decision_say (text, _("Limits that a sample which was set aside crossed: %s."), aside);
  if (passed != NULL && crossings->len > 0)
    wb_craft_decision_say (text, _("Limits that the samples which count here passed: %s."), passed);
  else if (passed != NULL)
    wb_craft_decision_say (text, _("Limits that were kept: %s."), passed);
  if (telling->ranked != NULL)
    say_chances (text, telling->ranked);
  return g_string_free (text, FALSE);
}

/* ---- What was not tested ---- */

static void
say_limits_missing (GString       *text,
                    const Telling *telling)
{
  g_autofree char *untested = dup_limits (telling, WB_CRAFT_LIMIT_NOT_TESTED, FALSE);
  g_autofree char *off = dup_limits (telling, WB_CRAFT_LIMIT_OFF, FALSE);

  if (untested != NULL)
    wb_craft_decision_say (text, _("Limits not tested over the whole candle: %s."), untested);
  if (off != NULL)
    wb_craft_decision_say (text, _("Limits turned off by the maker: %s."), off);
}

static void
say_spread (GString       *text,
            const Telling *telling)
{
  if (telling->survey.samples == 0)
    wb_craft_decision_say (text, "%s", _("No candle of it was burnt to be judged."));
  else if (telling->survey.samples == 1)
    wb_craft_decision_say (text, "%s", _("How much one candle differs from the next: only one was burnt."));
  else if (telling->survey.samples < SAMPLES_FOR_A_SPREAD)
    wb_craft_decision_say (text, _("How much one candle differs from the next: only %u were burnt, which says little."), telling->survey.samples);
}

/* Figures that were read nowhere: what every such reason is about, each once. */
static void
say_unread (GString       *text,
            const Telling *telling)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  g_autofree char *joined = NULL;

  for (guint i = 0; telling->ranked != NULL && i < telling->ranked->reasons->len; i++)
    {
      const WbCraftReason *reason = g_ptr_array_index (telling->ranked->reasons, i);

      if (reason->subject != NULL && (g_str_equal (reason->code, "figure_not_read") || g_str_equal (reason->code, "figure_borrowed"))
          && !g_ptr_array_find_with_equal_func (names, reason->subject, g_str_equal, NULL))
        g_ptr_array_add (names, reason->subject);
    }
  if (names->len == 0)
    return;
  g_ptr_array_add (names, NULL);
  joined = g_strjoinv (", ", (char **) names->pdata);
  wb_craft_decision_say (text, _("Not read in every third of it: %s."), joined);
}

static char *
dup_not_tested (const Telling *telling)
{
  g_autofree char *unread = dup_stages (telling->survey.stages, FALSE);
  g_autofree char *unvaried = wb_craft_decision_dup_unvaried (telling->data, telling->cell, &telling->survey);
  GString *text = g_string_new (NULL);

  say_limits_missing (text, telling);
  if (unread != NULL)
    wb_craft_decision_say (text, _("Parts of the candle that were not read: %s."), unread);
  say_spread (text, telling);
  say_unread (text, telling);
  wb_craft_decision_say (text, "%s", unvaried);
  wb_craft_decision_say (text, "%s", _("Stability on a slope; storage, heat and transport; scent by a panel."));
  return g_string_free (text, FALSE);
}

/* ---- Until when ---- */

static const char *
name_of_material (const WbRecordType *type)
{
  /* Translators: what of it another lot may be. */
  return type == &wb_wax_type ? _("wax") : type == &wb_wick_type ? _("wick") : type == &wb_fragrance_type ? _("fragrance")
         : type == &wb_dye_type ? _("dye") : type == &wb_additive_type ? _("additive") : NULL;
}

static char *
dup_holds_until (const Telling *telling)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_decision_type);
  g_autoptr (GPtrArray) parts = NULL, names = g_ptr_array_new ();
  g_autofree char *joined = NULL;
  GString *text = g_string_new (NULL);

  ((WbDecision *) (gpointer) record)->cell = wb_dataset_get_cell (telling->data, telling->cell)->record.id;
  parts = wb_craft_lot_parts_of_decision (telling->data, (WbDecision *) (gpointer) record);
  for (guint i = 0; i < parts->len; i++)
    {
      const char *name = name_of_material (((const WbRecord *) ((const WbCraftLotPart *) g_ptr_array_index (parts, i))->material)->type);

      if (name != NULL)
        g_ptr_array_add (names, (gpointer) name);
    }
  g_ptr_array_add (names, NULL);
  joined = g_strjoinv (", ", (char **) names->pdata);
  /* Translators: "wax, wick, fragrance" */
  wb_craft_decision_say (text, _("Another lot of any of these: %s."), joined);
  wb_craft_decision_say (text, "%s", _("Another vessel, or the same from another maker."));
  wb_craft_decision_say (text, "%s", _("Any other change of the recipe or of the conditions above."));
  wb_craft_decision_say (text, "%s", _("Any candle of this recipe that crosses a limit."));
  return g_string_free (text, FALSE);
}

/* ---- What speaks against it ---- */

static gboolean
is_of_crossing (const WbCraftReason *reason)
{
  /* a crack is one whatever its limit says */
  return g_str_equal (reason->code, "limit_crossed") || g_str_equal (reason->code, "set_aside_crossed") || g_str_equal (reason->code, "vessel_cracked");
}

static gboolean
tells_crossing (const WbCraftRanked *ranked,
                const char          *sentence)
{
  for (guint i = 0; i < ranked->reasons->len; i++)
    {
      const WbCraftReason *reason = g_ptr_array_index (ranked->reasons, i);

      if (is_of_crossing (reason) && g_str_equal (reason->text, sentence))
        return TRUE;
    }
  return FALSE;
}

static void
add_cautions (WbCraftDecision *self,
              const Telling   *telling,
              const GPtrArray *elsewhere)
{
  g_autoptr (GPtrArray) sentences = wb_craft_ranked_dup_sentences (telling->ranked);

  for (guint i = 0; i < telling->ranked->reasons->len; i++)
    {
      const WbCraftReason *reason = g_ptr_array_index (telling->ranked->reasons, i);

      if (is_of_crossing (reason))
        g_ptr_array_add (self->crossed, g_strdup (reason->text));
    }
  for (guint i = 0; elsewhere != NULL && i < elsewhere->len; i++)
    g_ptr_array_add (self->crossed, g_strdup (g_ptr_array_index (elsewhere, i)));
  if (wb_craft_ranked_get_told (telling->ranked) == WB_CRAFT_TOLD_BEST_OF_POOR)
    {
      g_autofree char *score = wb_number_format (telling->ranked->score.value, 2, NULL);

      /* Translators: a score */
      g_ptr_array_add (self->against, g_strdup_printf (_("Nothing burnt is better, but it does poorly: %s of 1. Test other wicks."), score));
    }
  for (guint i = 0; i < sentences->len && telling->ranked->verdict != WB_CRAFT_VERDICT_RECOMMENDED; i++)
    if (!tells_crossing (telling->ranked, g_ptr_array_index (sentences, i)))
      g_ptr_array_add (self->against, g_strdup (g_ptr_array_index (sentences, i)));
}

/* The same of what was not ranked, and so has no reasons. */
static void
add_crossed (WbCraftDecision *self,
             const Telling   *telling)
{
  guint crack = wb_craft_crossed_find_crack (telling->data, telling->cell);

  for (guint i = 0; i < telling->limits->n_limits; i++)
    {
      const WbCraftLimit *limit = wb_craft_limits_get (telling->limits, telling->cell, i);

      if (limit->state == WB_CRAFT_LIMIT_CROSSED)
        g_ptr_array_add (self->crossed, wb_craft_verdict_dup_crossed (telling->data, limit));
      else if (limit->set_aside_only)
        g_ptr_array_add (self->crossed, wb_craft_verdict_dup_set_aside (telling->data, limit));
    }
  if (crack != G_MAXUINT)
    g_ptr_array_add (self->crossed, wb_craft_verdict_dup_cracked (telling->data, crack, NULL));
}

/* ---- The whole ---- */

void
wb_craft_decision_free (WbCraftDecision *self)
{
  if (self == NULL)
    return;
  g_free (self->name);
  g_free (self->recipe);
  g_free (self->conditions);
  g_free (self->rests_on);
  g_free (self->not_tested);
  g_free (self->holds_until);
  g_ptr_array_unref (self->not_burnt);
  g_ptr_array_unref (self->crossed);
  g_ptr_array_unref (self->against);
  g_free (self);
}

static void
set_text (char      **into,
          const char *text)
{
  g_free (*into);
  *into = text != NULL && *text != '\0' ? g_strdup (text) : NULL;
}

void
wb_craft_decision_keep_crossed (const WbCraftDecision *self,
                                WbDecision            *record)
{
  g_autoptr (GString) text = g_string_new (NULL);

  g_return_if_fail (self != NULL && record != NULL);

  for (guint i = 0; i < self->crossed->len; i++)
    wb_craft_decision_say (text, "%s", (const char *) g_ptr_array_index (self->crossed, i));
  set_text (&record->crossed, text->str);
}

static void
fill (const WbCraftDecision *self,
      const WbDataset       *data,
      WbDecision            *record)
{
  record->experiment = data->experiment->record.id;
  record->cell = wb_dataset_get_cell (data, self->cell)->record.id;
  set_text (&record->conditions, self->conditions);
  set_text (&record->rests_on, self->rests_on);
  wb_craft_decision_keep_crossed (self, record);
  set_text (&record->not_tested, self->not_tested);
  set_text (&record->holds_until, self->holds_until);
}

static WbCraftDecision *
tell (Telling         *telling,
      const GPtrArray *elsewhere)
{
  WbCraftDecision *self = g_new0 (WbCraftDecision, 1);

  wb_craft_survey_take (&telling->survey, telling->data, telling->figures, telling->cell);
  self->cell = telling->cell;
  self->verdict = WB_CRAFT_VERDICT_TOO_LITTLE_DATA;
  self->recipe = dup_recipe (telling->data, self->cell);
  self->conditions = wb_craft_decision_dup_conditions (telling->data, self->cell, &telling->survey);
  self->not_burnt = g_ptr_array_new_with_free_func (g_free);
  self->crossed = g_ptr_array_new_with_free_func (g_free);
  self->against = g_ptr_array_new_with_free_func (g_free);
  if (telling->ranked != NULL)
    add_cautions (self, telling, elsewhere);
  else
    add_crossed (self, telling);
  self->rests_on = dup_rests_on (telling, self->crossed);
  self->not_tested = dup_not_tested (telling);
  self->holds_until = dup_holds_until (telling);
  return self;
}

WbCraftDecision *
wb_craft_decision_new (const WbCraftAnswer *answer,
                       guint                group,
                       guint                index,
                       const GPtrArray     *elsewhere)
{
  const WbCraftGroup *of;
  WbCraftDecision *self;
  Telling telling;

  g_return_val_if_fail (answer != NULL && group < answer->ranking->n_groups, NULL);
  g_return_val_if_fail (index < answer->ranking->groups[group].n_cells, NULL);

  of = &answer->ranking->groups[group];
  telling = (Telling) { answer->data, answer->figures, answer->limits, &of->cells[index], of->cells[index].cell, { .samples = 0 } };
  self = tell (&telling, elsewhere);
  self->verdict = telling.ranked->verdict;
  self->name = wb_craft_words_dup_name (answer->data, of, self->cell);
  self->needs_reason = wb_craft_ranked_get_told (telling.ranked) != WB_CRAFT_TOLD_RECOMMENDED || self->crossed->len > 0;
  return self;
}

void
wb_craft_decision_fill_unranked (const WbDataset      *data,
                                 const WbCraftFigures *figures,
                                 const WbCraftLimits  *limits,
                                 guint                 cell,
                                 WbDecision           *record)
{
  Telling telling = { data, figures, limits, NULL, cell, { .samples = 0 } };
  g_autoptr (WbCraftDecision) self = NULL;

  g_return_if_fail (data != NULL && figures != NULL && limits != NULL && record != NULL);
  g_return_if_fail (cell < data->cells->len);

  self = tell (&telling, NULL);
  fill (self, data, record);
  record->samples = telling.survey.samples;
  record->burns = telling.survey.burns;
}

void
wb_craft_decision_fill (const WbCraftDecision *self,
                        const WbCraftAnswer   *answer,
                        WbDecision            *record)
{
  const WbCraftRanked *ranked;

  g_return_if_fail (self != NULL && answer != NULL && record != NULL);

  ranked = wb_craft_decision_find_ranked (answer, self->cell);
  fill (self, answer->data, record);
  record->verdict = (int) self->verdict;
  record->score = ranked->score.value;
  record->score_low = ranked->score.low;
  record->score_high = ranked->score.high;
  record->p_best = ranked->p_best;
  record->p_near = ranked->p_near;
  record->p_cross = ranked->p_cross;
  record->samples = ranked->samples;
  record->burns = ranked->burns;
}

const WbCraftRanked *
wb_craft_decision_find_ranked (const WbCraftAnswer *answer,
                               guint                cell)
{
  g_return_val_if_fail (answer != NULL, NULL);

  for (guint g = 0; g < answer->ranking->n_groups; g++)
    for (guint i = 0; i < answer->ranking->groups[g].n_cells; i++)
      if (answer->ranking->groups[g].cells[i].cell == cell)
        return &answer->ranking->groups[g].cells[i];
  return NULL;
}

char *
wb_craft_decision_dup_signed (const WbDecision *record)
{
  g_autofree char *score = NULL, *best = NULL, *near_best = NULL, *crossing = NULL;
  WbCraftRanked told;
  const char *verdict;

  g_return_val_if_fail (record != NULL, NULL);

  if (record->verdict < 0)
    return NULL;
  /* of one that was recommended with a poor score the record keeps both */
  told = (WbCraftRanked) { .verdict = (WbCraftVerdict) record->verdict, .score.value = record->score };
  verdict = told.verdict == WB_CRAFT_VERDICT_RECOMMENDED || told.verdict == WB_CRAFT_VERDICT_CANDIDATE
              ? wb_craft_ranked_get_verdict_label (&told) : wb_craft_verdict_get_label (told.verdict);
  if (isnan (record->score) || isnan (record->p_best) || isnan (record->p_near) || isnan (record->p_cross))
    return g_strdup (verdict);
  score = wb_number_format (record->score, 2, NULL);
  best = wb_craft_dup_chance (record->p_best);
  near_best = wb_craft_dup_chance (record->p_near);
  crossing = wb_craft_dup_chance (record->p_cross);
  /* Translators: verdict, "candidate"; a score; three chances, "92 in 100". */
  return g_strdup_printf (_("%s; it scored %s of 1; the best of those compared: %s; within 0.05 of the best: %s; the next candle crosses a limit: %s"),
                          verdict, score, best, near_best, crossing);
}

/* The newest decision for the candle of that cell, whatever its wick. */
static const WbDecision *
find_of_candle (const WbDataset *data,
                guint            like)
{
  for (guint i = data->decisions->len; i > 0; i--)
    {
      const WbDecision *decision = g_ptr_array_index (data->decisions, i - 1);

      for (guint cell = 0; cell < data->cells->len; cell++)
        if (wb_dataset_get_cell (data, cell)->record.id == decision->cell && wb_craft_recipe_is_same_candle (data, cell, data, like))
          return decision;
    }
  return NULL;
}

const WbDecision *
wb_craft_decision_find (const WbDataset    *data,
                        const WbCraftGroup *group)
{
  g_return_val_if_fail (data != NULL && group != NULL, NULL);

  return find_of_candle (data, group->vessel);
}

gboolean
wb_craft_decision_is_all_rejected (const WbCraftAnswer *answer)
{
  guint undecided = 0;

  g_return_val_if_fail (answer != NULL, FALSE);

  for (guint g = 0; g < answer->ranking->n_groups; g++)
    {
      const WbCraftGroup *group = &answer->ranking->groups[g];

      if (wb_craft_decision_find (answer->data, group) != NULL)
        continue;
      undecided++;
      for (guint i = 0; i < group->n_cells; i++)
        if (group->cells[i].verdict != WB_CRAFT_VERDICT_REJECTED)
          return FALSE;
    }
  return undecided > 0;
}

static gboolean
came_before (const WbDataset *data,
             guint            cell)
{
  for (guint i = 0; i < cell; i++)
    if (!wb_dataset_get_cell (data, i)->left_out && wb_craft_recipe_is_same_candle (data, i, data, cell))
      return TRUE;
  return FALSE;
}

guint
wb_craft_decision_count_undecided (const WbDataset *data,
                                   guint           *n)
{
  guint all = 0, undecided = 0;

  g_return_val_if_fail (data != NULL, 0);

  for (guint i = 0; i < data->cells->len; i++)
    {
      if (wb_dataset_get_cell (data, i)->left_out || came_before (data, i))
        continue;
      all++;
      undecided += find_of_candle (data, i) == NULL;
    }
  if (n != NULL)
    *n = all;
  return undecided;
}
