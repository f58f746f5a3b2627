/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-advice-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-crossed.h"
#include "wb-craft-decision.h"
#include "wb-craft-told.h"
#include "wb-craft-verdict-private.h"
#include "wb-craft-words-private.h"

static const char *const runnings[] = {
  [WB_CRAFT_RUNNING_OPEN] = "open",
  [WB_CRAFT_RUNNING_RESTING] = "resting",
  [WB_CRAFT_RUNNING_CROSSED] = "crossed",
  [WB_CRAFT_RUNNING_ABOVE_CROSSED] = "above_crossed",
  [WB_CRAFT_RUNNING_BEHIND] = "behind",
  [WB_CRAFT_RUNNING_LEFT_OUT] = "left_out",
};

static const struct { const char *key, *label; } sizes[] = {
  [WB_CRAFT_SIZE_CARRY_ON] = { "carry_on", N_("carry on") },
  [WB_CRAFT_SIZE_UP] = { "size_up", N_("one size up") },
  [WB_CRAFT_SIZE_DOWN] = { "size_down", N_("one size down") },
  [WB_CRAFT_SIZE_CHANGE_SERIES] = { "change_series", N_("another series") },
};

const char *
wb_craft_running_get_key (WbCraftRunning running)
{
  g_return_val_if_fail (running < G_N_ELEMENTS (runnings), "unknown");
  return runnings[running];
}

const char *
wb_craft_size_get_key (WbCraftSize size)
{
  g_return_val_if_fail (size < G_N_ELEMENTS (sizes), "unknown");
  return sizes[size].key;
}

const char *
wb_craft_size_get_label (WbCraftSize size)
{
  g_return_val_if_fail (size < G_N_ELEMENTS (sizes), "");
  return _(sizes[size].label);
}

/* ---- Still in the running? ---- */

gboolean
wb_craft_advice_crossed_heat (const WbCraftAdvising *self,
                              guint                  cell)
{
  for (guint i = 0; i < self->limits->n_limits; i++)
    if (wb_craft_limits_get (self->limits, cell, i)->state == WB_CRAFT_LIMIT_CROSSED
        && wb_craft_limit_is_of_heat (((const WbLimit *) g_ptr_array_index (self->data->limits, i))->kind))
      return TRUE;
  return FALSE;
}

static guint
count_ended (const WbCraftAdvising *self,
             guint                  cell)
{
  guint n = 0;

  for (guint i = 0; i < self->figures->n_samples; i++)
    n += self->figures->ended[i] && wb_craft_verdict_counts (self->data, i, cell);
  return n;
}

/* A smaller size of its series, as many of them, that crossed a limit of heat in the same vessel and scent; G_MAXUINT: none. */
static guint
find_crossed_below (const WbCraftAdvising *self,
                    const WbCraftGroup    *group,
                    guint                  cell)
{
  const WbDataset *data = self->data;
  const WbWick *wick = wb_dataset_get_wick (data, cell);

  for (guint i = 0; i < group->n_cells; i++)
    {
      guint other = group->cells[i].cell;

      if (wb_dataset_get_wick (data, other)->step < wick->step && wb_craft_advice_is_of_line (data, cell, other)
          && wb_craft_advice_crossed_heat (self, other))
        return other;
    }
  return G_MAXUINT;
}

static char *
dup_crossing (const WbCraftAdvising *self,
              guint                  cell)
{
  guint crack;

  for (guint i = 0; i < self->limits->n_limits; i++)
    {
      const WbCraftLimit *limit = wb_craft_limits_get (self->limits, cell, i);

      if (limit->state == WB_CRAFT_LIMIT_CROSSED)
        return wb_craft_verdict_dup_crossed (self->data, limit);
    }
  crack = wb_craft_crossed_find_crack (self->data, cell);
  return crack != G_MAXUINT ? wb_craft_verdict_dup_cracked (self->data, crack, NULL) : NULL;
}

static char *
dup_behind (const WbCraftAdvising *self,
            const WbCraftAdvised  *advised,
            const WbCraftRanked   *ranked,
            gboolean               decided)
{
  g_autofree char *best = wb_craft_dup_chance (MIN (ranked->p_best, WB_CRAFT_ADVICE_CANNOT_WIN - 0.01));
  g_autofree char *evidence = wb_craft_advice_dup_evidence (self, advised), *why = NULL;

  if (!decided)
    /* Translators: a chance, "fewer than 1 in 100". */
    why = g_strdup_printf (_("Behind so far, with a chance of %s of being the best; but nothing of the lower third was read yet, and it rests until the others were read there."), best);
  else if (ranked->p_near >= 0.5)
    /* Translators: a chance, "fewer than 1 in 100". */
    why = g_strdup_printf (_("Its chance of being the best is %s: it may be near the best, but need not be burnt to find it."), best);
  else
    why = g_strdup_printf (_("Its chance of being the best is %s."), best);
  if (evidence == NULL)
    return g_steal_pointer (&why);
  /* Translators: a sentence; what was read: "tall flame of 42 mm (burn 3 of C5-1)". */
  return g_strdup_printf (_("%s What says most of it: %s."), why, evidence);
}

/* Read in the last third, or burnt to the end that the protocol states, which may be a number of burns. */
static gboolean
is_read_to_the_end (const WbCraftAdvising *self,
                    guint                  cell)
{
  const WbCraftCell *estimate = &self->estimates->cells[cell];

  return estimate->stage_figure[WB_STAGE_LOWER][WB_FIGURE_FLAME].burns > 0
         || estimate->stage_figure[WB_STAGE_LOWER][WB_FIGURE_VESSEL].burns > 0
         || estimate->stage_growth[WB_STAGE_LOWER].readings > 0 || count_ended (self, cell) > 0;
}

static void
judge_running (const WbCraftAdvising *self,
               const WbCraftGroup    *group,
               const WbCraftRanked   *ranked,
               gboolean               decided,
               WbCraftAdvised        *advised)
{
  guint below;

  advised->running = WB_CRAFT_RUNNING_OPEN;
  if (wb_dataset_get_cell (self->data, advised->cell)->left_out)
    {
      g_autofree char *evidence = wb_craft_advice_dup_evidence (self, advised);

      advised->running = WB_CRAFT_RUNNING_LEFT_OUT;
      /* Translators: what was read: "tall flame of 42 mm (burn 3 of C5-1)". */
      advised->why = g_strdup_printf (_("It was left out of the test after it had been burnt: %s."), evidence != NULL ? evidence : "–");
      return;
    }
  if (ranked->crossed || ranked->cracked)
    {
      advised->running = WB_CRAFT_RUNNING_CROSSED;
      advised->why = dup_crossing (self, advised->cell);
      return;
    }
  below = find_crossed_below (self, group, advised->cell);
  /* what was itself burnt to its end says more */
  if (below != G_MAXUINT && count_ended (self, advised->cell) == 0)
    {
      g_autofree char *name = wb_craft_words_dup_name (self->data, group, below), *crossing = wb_craft_advice_dup_crossing_of_heat (self, below);

      advised->running = WB_CRAFT_RUNNING_ABOVE_CROSSED;
      /* Translators: a wick; "flame 52 mm at 240 min of burn 9 of sample T5-1: over the house limit of 50 mm". */
      advised->why = g_strdup_printf (_("%s, a smaller size of its series, was too hot, and a larger one is no cooler. %s crossed a limit: %s."), name, name, crossing);
    }
  else if (ranked->burns > 0 && ranked->p_best < WB_CRAFT_ADVICE_CANNOT_WIN && ranked->rank > 1)
    {
      advised->running = decided ? WB_CRAFT_RUNNING_BEHIND : WB_CRAFT_RUNNING_RESTING;
      advised->why = dup_behind (self, advised, ranked, decided);
    }
}

/* ---- May the search stop, and what is missing then ---- */

static gboolean
is_missing (const char *code)
{
  static const char *const codes[] = { "few_poured", "few_samples", "not_burnt_down", "limit_not_tested", "not_near_best", "may_cross",
                                       "went_out", "set_aside_not_cleared", "no_burns", "few_burns", "no_full_pool", NULL };

  return g_strv_contains (codes, code);
}

/* The sentences of the leader's reasons that stand between it and a recommendation. */
static GPtrArray *
find_missing (const WbCraftRanked *ranked)
{
  g_autoptr (GPtrArray) reasons = g_ptr_array_new ();
  WbCraftRanked only = *ranked;

  for (guint i = 0; i < ranked->reasons->len; i++)
    if (is_missing (((const WbCraftReason *) g_ptr_array_index (ranked->reasons, i))->code))
      g_ptr_array_add (reasons, g_ptr_array_index (ranked->reasons, i));
  only.reasons = reasons;
  return wb_craft_ranked_dup_sentences (&only);
}

static gboolean
is_all_read (const WbCraftAdviceGroup *group)
{
  for (guint i = 0; i < group->n_cells; i++)
    if (group->cells[i].unread)
      return FALSE;
  return TRUE;
}

/* Each that is left does poorly, as far as an interval of 90 % reaches. */
static gboolean
is_surely_poor (const WbCraftGroup       *of,
                const WbCraftAdviceGroup *group)
{
  for (guint i = 0; i < group->n_cells; i++)
    if (group->cells[i].running == WB_CRAFT_RUNNING_OPEN
        && (of->cells[i].verdict == WB_CRAFT_VERDICT_TOO_LITTLE_DATA || !wb_craft_score_is_poor (of->cells[i].score.high)))
      return FALSE;
  return TRUE;
}

/* Once nothing can lead: where all that is left was read to its end, or nothing is left, more burns of it find nothing. */
static void
judge_hopeless (const WbCraftAdvising *self,
                WbCraftAdviceGroup    *group)
{
  const WbCraftGroup *of = wb_craft_advising_get_group (self, group);
  guint open = 0;

  for (guint i = 0; i < group->n_cells; i++)
    open += group->cells[i].running == WB_CRAFT_RUNNING_OPEN || group->cells[i].running == WB_CRAFT_RUNNING_RESTING;
  group->over = group->n_cells > 0 && group->begun
                && (open == 0 || (wb_craft_words_are_hopeless (of) && of->cells[0].verdict != WB_CRAFT_VERDICT_TOO_LITTLE_DATA && is_all_read (group)));
  group->poor = group->over;
}

static void
judge_search (const WbCraftAdvising *self,
              WbCraftAdviceGroup    *group)
{
  const WbCraftGroup *of = wb_craft_advising_get_group (self, group);
  const WbCraftRanked *leader;

  group->leader = G_MAXUINT;
  for (guint i = 0; i < group->n_cells && group->leader == G_MAXUINT; i++)
    if (group->cells[i].running == WB_CRAFT_RUNNING_OPEN && wb_craft_words_may_lead (&of->cells[i]) && !wb_craft_words_are_hopeless (of))
      group->leader = i;
  if (group->leader == G_MAXUINT)
    {
      judge_hopeless (self, group);
      return;
    }
  leader = &of->cells[group->leader];
  g_ptr_array_unref (group->missing);
  group->missing = find_missing (leader);
  /* never before each that is left was read where it is decided */
  group->over = leader->p_near >= self->near_enough && leader->verdict != WB_CRAFT_VERDICT_TOO_LITTLE_DATA && is_all_read (group);
  /* where more burns of the best may still bring it there it is burnt down first */
  group->poor = group->over && wb_craft_score_is_poor (leader->score.value)
                && (wb_craft_score_is_poor (leader->score.high) || group->missing->len == 0
                    || wb_craft_advice_count_living (&group->cells[group->leader].candles) == 0);
  /* of a field that is surely poor nobody needs to know which is the best */
  if (!group->over && is_all_read (group) && is_surely_poor (of, group))
    group->over = group->poor = TRUE;
}

/* ---- A group ---- */

/* The cell that was signed for, in its vessel and scent. */
static guint
find_decided (const WbCraftAdvising *self,
              const WbCraftGroup    *of)
{
  const WbDecision *decision = of->by_vessel && of->by_scent ? wb_craft_decision_find (self->data, of) : NULL;

  for (guint i = 0; decision != NULL && i < self->data->cells->len; i++)
    if (wb_dataset_get_cell (self->data, i)->record.id == decision->cell)
      return i;
  return G_MAXUINT;
}

static void
init_group (const WbCraftAdvising *self,
            WbCraftAdviceGroup    *group)
{
  const WbCraftGroup *of = wb_craft_advising_get_group (self, group);
  gboolean decided = FALSE;

  /* where one was read to its end, the score of all of them foretells that */
  for (guint i = 0; i < of->n_cells; i++)
    decided = decided || (!of->cells[i].crossed && is_read_to_the_end (self, of->cells[i].cell));
  group->n_cells = of->n_cells;
  group->cells = g_new0 (WbCraftAdvised, MAX (of->n_cells, 1));
  group->missing = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < of->n_cells; i++)
    {
      WbCraftAdvised *advised = &group->cells[i];

      advised->cell = of->cells[i].cell;
      advised->p_hot = NAN;
      advised->reasons = g_ptr_array_new_with_free_func (g_free);
      advised->signs = wb_craft_signs_new (self, advised->cell);
      wb_craft_advice_find_candles (self, advised->cell, &advised->candles);
      judge_running (self, of, &of->cells[i], decided, advised);
      advised->unread = advised->running == WB_CRAFT_RUNNING_OPEN && !is_read_to_the_end (self, advised->cell);
    }
  group->begun = wb_craft_group_has_burns (self->data, of);
  group->finished = self->data->experiment->closed;
  group->decided = find_decided (self, of);
}

/* As sure as the maker wants to be; a file may state anything. */
static double
get_near_enough (const WbProtocol *protocol)
{
  double pct = protocol != NULL ? protocol->stop_sure_pct : NAN;

  return isfinite (pct) ? CLAMP (pct / 100, 0.5, 0.99) : WB_CRAFT_NEAR_ENOUGH;
}

WbCraftAdvice *
wb_craft_advice_new (const WbDataset        *data,
                     const WbCraftFigures   *figures,
                     const WbCraftLimits    *limits,
                     const WbCraftEstimates *estimates,
                     const WbCraftRanking   *ranking,
                     const GPtrArray        *wicks,
                     double                  near_enough,
                     const GArray           *foretold,
                     WbInstant               now)
{
  const WbCraftAdvising self = { data, figures, limits, estimates, ranking, wicks,
                                 near_enough > 0 ? near_enough : get_near_enough (data->protocol), foretold, now };
  WbCraftAdvice *advice;

  g_return_val_if_fail (data != NULL && figures != NULL && limits != NULL && estimates != NULL && ranking != NULL, NULL);
  g_return_val_if_fail (near_enough == 0 || (near_enough >= 0.5 && near_enough < 1), NULL);

  advice = g_new0 (WbCraftAdvice, 1);
  advice->near_enough = self.near_enough;
  advice->n_groups = ranking->n_groups;
  advice->groups = g_new0 (WbCraftAdviceGroup, MAX (ranking->n_groups, 1));
  for (guint g = 0; g < ranking->n_groups; g++)
    {
      WbCraftAdviceGroup *group = &advice->groups[g];

      group->group = g;
      init_group (&self, group);
      judge_search (&self, group);
      wb_craft_advice_judge_sizes (&self, group);
      wb_craft_advice_find_instead (&self, group);
      wb_craft_advice_share_burns (&self, group);
      for (guint i = 0; i < group->n_cells; i++)
        group->cells[i].row = wb_craft_advice_find_row (&group->cells[i], group->finished, group->over, group->poor, i == group->leader);
      wb_craft_advice_tell (&self, group);
    }
  return advice;
}

static void
advised_clear (WbCraftAdvised *advised)
{
  g_free (advised->why);
  g_free (advised->why_share);
  g_free (advised->next_name);
  g_ptr_array_unref (advised->signs);
  g_ptr_array_unref (advised->reasons);
}

void
wb_craft_advice_free (WbCraftAdvice *self)
{
  if (self == NULL)
    return;
  for (guint g = 0; g < self->n_groups; g++)
    {
      WbCraftAdviceGroup *group = &self->groups[g];

      for (guint i = 0; i < group->n_cells; i++)
        advised_clear (&group->cells[i]);
      g_free (group->cells);
      g_ptr_array_unref (group->missing);
      g_free (group->outside_name);
      g_free (group->answer);
      g_free (group->pools);
      g_free (group->line);
    }
  g_free (self->groups);
  g_free (self);
}
