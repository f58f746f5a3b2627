/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-verdict-private.h"

#include "wb-craft-crossed.h"
#include "wb-craft-ranking.h"
#include "wb-craft-told.h"
#include "wb-craft-trials-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define SHORT_MM 2.0 /* narrower than the vessel by less, a pool is as good as at the wall: hang-up of 1 mm all round */
#define FAR_CHANCE 0.02
#define FAR_LOSS 0.1
#define BURNS_AT_LEAST 2
#define LEAST_SAMPLES 3      /* EN 15426:2018, clause 6; a protocol may ask for more, never for fewer */

char *
wb_craft_dup_chance (double p)
{
  long in_hundred = lround (100 * p);

  /* it was counted in random draws: all of them, or none, is no certainty */
  if (in_hundred == 0)
    return g_strdup (_("fewer than 1 in 100"));
  if (in_hundred == 100)
    return g_strdup (_("more than 99 in 100"));
  /* Translators: a chance, said as a count. */
  return g_strdup_printf (_("%ld in 100"), in_hundred);
}

gboolean
wb_craft_verdict_has_crossed (const WbCraftLimits *limits,
                              guint                cell)
{
  for (guint i = 0; i < limits->n_limits; i++)
    if (wb_craft_limits_get (limits, cell, i)->state == WB_CRAFT_LIMIT_CROSSED)
      return TRUE;
  return FALSE;
}

gboolean
wb_craft_verdict_is_uncleared (const WbCraftLimits *limits,
                               guint                cell)
{
  for (guint i = 0; i < limits->n_limits; i++)
    if (wb_craft_limits_get (limits, cell, i)->set_aside_only)
      return TRUE;
  return FALSE;
}

char *
wb_craft_verdict_dup_crossed (const WbDataset    *data,
                              const WbCraftLimit *limit)
{
  g_autofree char *text = wb_craft_limit_dup_text (data, limit);

  return g_strdup_printf (_("A limit was crossed: %s."), text);
}

char *
wb_craft_verdict_dup_set_aside (const WbDataset    *data,
                                const WbCraftLimit *limit)
{
  WbCraftLimit crossing = wb_craft_limit_get_set_aside (limit);
  g_autofree char *text = wb_craft_limit_dup_text (data, &crossing);

  return g_strdup_printf (_("A sample that was set aside crossed a limit: %s."), text);
}

static void
tell_crossed (const WbDataset    *data,
              const WbCraftLimit *limit,
              WbCraftRanked      *ranked)
{
  const WbLimit *record = g_ptr_array_index (data->limits, limit->limit);
  g_autofree char *text = wb_craft_verdict_dup_crossed (data, limit);
  WbCraftReason *reason = wb_craft_ranked_add_reason (ranked, "limit_crossed", limit->reading, "%s", text);

  wb_craft_reason_name (reason, NULL, g_dgettext (GETTEXT_PACKAGE, wb_craft_limit_get_measure (record->kind)));
  reason->house = record->house;
}

static void
tell_set_aside (const WbDataset    *data,
                const WbCraftLimit *limit,
                WbCraftRanked      *ranked)
{
  WbCraftLimit crossing = wb_craft_limit_get_set_aside (limit);
  g_autofree char *text = wb_craft_verdict_dup_set_aside (data, limit);
  g_autofree char *seen = wb_craft_limit_dup_seen (data, &crossing);
  /* Translators: what was read, "outside wall of the vessel 84.0 °C"; code of a sample. */
  g_autofree char *place = g_strdup_printf (_("%s, sample %s"), seen, wb_dataset_get_sample (data, crossing.sample)->code);

  wb_craft_reason_name (wb_craft_ranked_add_reason (ranked, "set_aside_crossed", crossing.reading, "%s", text), NULL, place);
}

/* Its flame was that of the combination until somebody shows otherwise: to set it aside recommends nothing. */
static gboolean
tell_not_cleared (const WbCraftLimits *limits,
                  WbCraftRanked       *ranked)
{
  if (!wb_craft_verdict_is_uncleared (limits, ranked->cell))
    return FALSE;
  wb_craft_ranked_add_reason (ranked, "set_aside_not_cleared", 0,
                              _("That it was set aside does not clear the combination, which is not recommended for it. "
                                "Such a crossing must be explained by burning another sample."));
  return TRUE;
}

char *
wb_craft_verdict_dup_cracked (const WbDataset *data,
                              guint            row,
                              char           **place)
{
  guint burn = wb_readings_get_burn (data->readings, row);
  g_autofree char *where = NULL;
  char *text;

  /* Translators: number of the burn; code of the sample. */
  where = g_strdup_printf (_("burn %d of sample %s"), (int) wb_dataset_get_burn (data, burn)->number,
                           wb_dataset_get_sample (data, g_array_index (data->burn_sample, guint, burn))->code);
  /* Translators: "burn 2 of sample 14-2"; "vessel cracked; its limit is turned off". */
  text = g_strdup_printf (_("In %s: %s. Whatever its limit, a combination whose vessel cracked is not recommended."), where,
                          wb_craft_crossed_get_crack_words (data));
  if (place != NULL)
    *place = g_steal_pointer (&where);
  return text;
}

/* A limit that is turned off takes no crack off the record. */
static gboolean
tell_crack (const WbDataset *data,
            WbCraftRanked   *ranked)
{
  guint row = wb_craft_crossed_find_crack (data, ranked->cell);
  g_autofree char *place = NULL, *text = NULL;

  if (row == G_MAXUINT)
    return FALSE;
  text = wb_craft_verdict_dup_cracked (data, row, &place);
  wb_craft_reason_name (wb_craft_ranked_add_reason (ranked, "vessel_cracked", wb_readings_get_id (data->readings, row), "%s", text), NULL, place);
  return TRUE;
}

static void
tell_crossings (const WbDataset     *data,
                const WbCraftLimits *limits,
                WbCraftRanked       *ranked)
{
  for (guint i = 0; i < limits->n_limits; i++)
    {
      const WbCraftLimit *limit = wb_craft_limits_get (limits, ranked->cell, i);

      if (limit->state == WB_CRAFT_LIMIT_CROSSED)
        tell_crossed (data, limit, ranked);
      else if (limit->set_aside_only)
        tell_set_aside (data, limit, ranked);
      else if (limit->state == WB_CRAFT_LIMIT_OFF)
        {
          const WbLimit *record = g_ptr_array_index (data->limits, i);

          wb_craft_ranked_add_reason (ranked, "limit_off", 0, _("A limit is turned off: %s."),
                      g_dgettext (GETTEXT_PACKAGE, wb_limit_kind_get_label (record->kind)));
        }
    }
}

/* One candle of many, or each: the worst reading alone does not tell them apart. */
static void
tell_samples_crossed (const WbDataset      *data,
                      const WbCraftFigures *figures,
                      WbCraftRanked        *ranked)
{
  WbCraftTrials trials = wb_craft_trials_count (data, figures, ranked->cell);
  g_autofree char *share = NULL;

  if (trials.crossed == 0)
    return;
  /* Translators: so many of all samples. */
  share = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u of %u sample", "%u of %u samples", trials.burnt), trials.crossed, trials.burnt);
  /* Translators: "2 of 3 samples". */
  wb_craft_reason_name (wb_craft_ranked_add_reason (ranked, "samples_crossed", 0, _("Crossed a limit, of those burnt: %s."), share), NULL, share);
}

guint
wb_craft_ranking_get_samples_wanted (const WbProtocol *protocol)
{
  gint64 wanted = protocol != NULL ? protocol->samples_wanted : LEAST_SAMPLES;

  return (guint) CLAMP (wanted, LEAST_SAMPLES, 1000); /* WB_INTEGER_NONE falls to the least */
}

static guint
count_ended (const WbDataset      *data,
             const WbCraftFigures *figures,
             guint                 cell)
{
  guint ended = 0;

  for (guint i = 0; i < figures->n_samples; i++)
    ended += wb_craft_verdict_counts (data, i, cell) && figures->ended[i];
  return ended;
}

/* A limit that a reading measures: flame and temperatures. What is watched is judged by what was noted. */
static gboolean
must_be_read (const WbLimit *limit)
{
  return !limit->off && (limit->kind == WB_LIMIT_FLAME || limit->kind == WB_LIMIT_FLAME_HOUSE
                         || limit->kind == WB_LIMIT_VESSEL || limit->kind == WB_LIMIT_BASE);
}

/* Samples of a cell that may still be burnt or were: what was set aside is no longer among them. */
static guint
count_poured (const WbDataset *data,
              guint            cell)
{
  guint poured = 0;

  for (guint i = 0; i < data->samples->len; i++)
    poured += wb_craft_verdict_counts (data, i, cell);
  return poured;
}

static gboolean
tell_missing_samples (const WbDataset      *data,
                      const WbCraftFigures *figures,
                      WbCraftRanked        *ranked)
{
  guint wanted = wb_craft_ranking_get_samples_wanted (data->protocol);
  guint ended = count_ended (data, figures, ranked->cell), poured = count_poured (data, ranked->cell);
  gboolean missing = FALSE;

  if (poured < wanted)
    wb_craft_ranked_add_reason (ranked, "few_poured", 0,
                                g_dngettext (GETTEXT_PACKAGE,
                                             "%u sample was poured and counts, and a recommendation asks for %u: however it burns, more must be poured.",
                                             "%u samples were poured and count, and a recommendation asks for %u: however they burn, more must be poured.",
                                             poured),
                                poured, wanted);
  if (ranked->samples < wanted)
    {
      wb_craft_ranked_add_reason (ranked, "few_samples", 0, _("Samples burnt: %u of %u."), ranked->samples, wanted);
      missing = TRUE;
    }
  if (ended < wanted)
    {
      wb_craft_ranked_add_reason (ranked, "not_burnt_down", 0,
                  _("Samples burnt to the end that the protocol states: %u of %u. The upper part does not foretell the lower."),
                  ended, wanted);
      missing = TRUE;
    }
  return missing;
}

static gboolean
tell_missing_limits (const WbDataset     *data,
                     const WbCraftLimits *limits,
                     WbCraftRanked       *ranked)
{
  guint wanted = wb_craft_ranking_get_samples_wanted (data->protocol);
  gboolean missing = FALSE;

  for (guint i = 0; i < limits->n_limits; i++)
    {
      const WbLimit *record = g_ptr_array_index (data->limits, i);
      const WbCraftLimit *limit = wb_craft_limits_get (limits, ranked->cell, i);

      if (!must_be_read (record) || limit->samples_read >= wanted)
        continue;
      /* Translators: of samples, "2 of 3" */
      g_autofree char *read = g_strdup_printf (_("%u of %u"), limit->samples_read, wanted);
      wb_craft_reason_name (wb_craft_ranked_add_reason (ranked, "limit_not_tested", 0, _("%s: read in the lower third on %u of %u samples."),
                                g_dgettext (GETTEXT_PACKAGE, wb_limit_kind_get_label (record->kind)),
                                limit->samples_read, wanted),
                    g_dgettext (GETTEXT_PACKAGE, wb_craft_limit_get_measure (record->kind)), read);
      missing = TRUE;
    }
  return missing;
}

/* Surely so little that being the best of its group is no praise. */
static gboolean
is_worthless (const WbCraftRanked *ranked)
{
  return ranked->score.high < WB_CRAFT_VERDICT_NOTHING;
}

static void
tell_worthless (WbCraftRanked *ranked)
{
  g_autofree char *score = wb_number_format (ranked->score.value, 2, NULL);

  wb_craft_ranked_add_reason (ranked, "scores_nothing", 0, _("It scores %s of 1, hardly more than nothing."), score);
}

static gboolean
tell_missing_certainty (WbCraftRanked *ranked)
{
  /* a chance that misses its bound is not rounded up, or down, to it */
  g_autofree char *near_best = wb_craft_dup_chance (ranked->p_near < WB_CRAFT_NEAR_ENOUGH ? MIN (ranked->p_near, WB_CRAFT_NEAR_ENOUGH - 0.01) : ranked->p_near);
  g_autofree char *crossing = wb_craft_dup_chance (ranked->p_cross > WB_CRAFT_CROSS_AT_MOST ? MAX (ranked->p_cross, WB_CRAFT_CROSS_AT_MOST + 0.01) : ranked->p_cross);
  gboolean missing = FALSE;

  if (!(ranked->p_near >= WB_CRAFT_NEAR_ENOUGH))
    {
      wb_craft_ranked_add_reason (ranked, "not_near_best", 0,
                  _("Its chance of being within 0.05 of the best is %s; at least 90 in 100 is asked."), near_best);
      missing = TRUE;
    }
  if (ranked->score.value < WB_CRAFT_VERDICT_NOTHING)
    {
      tell_worthless (ranked);
      missing = TRUE;
    }
  if (ranked->p_cross > WB_CRAFT_CROSS_AT_MOST)
    {
      wb_craft_ranked_add_reason (ranked, "may_cross", 0,
                  _("The chance that the next candle crosses a limit in its burns is %s; at most 5 in 100 is allowed."),
                  crossing);
      missing = TRUE;
    }
  return missing;
}

static gboolean
every_stage_read (const WbCraftEstimates *estimates,
                  const WbCraftRanked    *ranked)
{
  const WbCraftCell *cell = &estimates->cells[ranked->cell];

  for (WbStage stage = 0; stage < WB_N_STAGES; stage++)
    if (cell->stage_figure[stage][WB_FIGURE_FLAME].burns == 0 && cell->stage_figure[stage][WB_FIGURE_VESSEL].burns == 0
        && cell->stage_growth[stage].readings == 0)
      return FALSE;
  return TRUE;
}

static gboolean
is_far_behind (const WbCraftRanked *ranked)
{
  return ranked->p_near < FAR_CHANCE && ranked->expected_loss > FAR_LOSS;
}

static void
tell_distance (WbCraftRanked *ranked,
               gboolean       for_good)
{
  g_autofree char *loss = wb_number_format (ranked->expected_loss, 2, NULL);

  wb_craft_ranked_add_reason (ranked, "far_behind", 0, for_good
              ? _("It scores %s below the best on average, over its whole life.")
              : _("It scores %s below the best on average so far; the rest of its life may still change that."), loss);
}

/* What keeps its score down; said of every cell that has one and is not recommended. */
static void
tell_cost (WbCraftRanked *ranked)
{
  const WbCraftPart *part = wb_craft_ranked_find_costliest (ranked);

  if (part != NULL && isfinite (ranked->score.value))
    wb_craft_ranked_add_reason (ranked, "costs_most", 0, _("Most of what its score lacks is: %s, %s."),
                                g_dgettext (GETTEXT_PACKAGE, wb_figure_get_label (part->figure)),
                                g_dgettext (GETTEXT_PACKAGE, wb_stage_get_label (part->stage)));
}

/* A wick too small is told as that, whatever figure costs its score most. */
static void
tell_short_pool (const WbDataset   *data,
                 const WbCraftCell *cell,
                 WbCraftRanked     *ranked)
{
  const WbCraftGrowth *growth = &cell->growth;
  double inner_mm = wb_dataset_get_vessel (data, ranked->cell)->inner_diameter_mm;
  g_autofree char *share = NULL;

  if (!(growth->p_never > 0.5) || !(inner_mm - growth->pool_limit_mm.value >= SHORT_MM))
    return;
  /* a share reads alike in every unit */
  share = wb_quantity_format (WB_UNIT_PERCENT, 100 * growth->pool_limit_mm.value / inner_mm, 0);
  wb_craft_ranked_add_reason (ranked, "pool_short", 0, _("Its melt pool does not get to the wall: its curve, the mean of its burns, ends at %s of the inner diameter."), share);
}

/* Why its pool tells no time to a full melt pool; NULL when it does. */
static const char *
why_no_full_pool (const WbCraftCell *cell)
{
  gboolean read = FALSE;

  for (WbStage stage = 0; stage < WB_N_STAGES && !read; stage++)
    {
      const WbCraftGrowth *growth = &cell->stage_growth[stage];

      read = growth->status == WB_CRAFT_FIT_ALL_AT_WALL || wb_craft_fit_status_is_fitted (growth->status);
    }
  return read ? NULL : wb_craft_fit_status_get_label (cell->growth.status);
}

static gboolean
tell_too_little (const WbCraftCell *cell,
                 WbCraftRanked     *ranked)
{
  const char *why = why_no_full_pool (cell);

  if (cell->burns == 0)
    {
      wb_craft_ranked_add_reason (ranked, "no_burns", 0, _("No burn of this combination counts yet."));
      return TRUE;
    }
  if (cell->burns < BURNS_AT_LEAST)
    {
      wb_craft_ranked_add_reason (ranked, "few_burns", 0, _("One burn alone decides nothing: two are asked at least."));
      return TRUE;
    }
  if (why != NULL)
    {
      wb_craft_ranked_add_reason (ranked, "no_full_pool", 0, _("The time to a full melt pool is not known: %s."), why);
      return TRUE;
    }
  return FALSE;
}

char *
wb_craft_ranked_dup_crossing (const WbCraftRanked *ranked,
                              const char          *chance)
{
  g_autofree char *covered = NULL, *crossed = NULL;
  const char *samples;

  g_return_val_if_fail (ranked != NULL, NULL);

  if (chance != NULL)
    /* Translators: the chance that a candle crosses a limit. */
    covered = ranked->cross_part ? g_strdup_printf (_("%s (of what was read)"), chance) : g_strdup (chance);
  if (!ranked->crossed && !ranked->cracked)
    return g_steal_pointer (&covered);
  if (!ranked->crossed)
    /* Translators: the chance that the next candle crosses a limit; the limit of cracks is turned off. */
    return covered != NULL ? g_strdup_printf (_("vessel cracked; %s"), covered) : g_strdup (_("vessel cracked"));
  samples = wb_craft_ranked_get_samples_crossed (ranked);
  /* Translators: a limit was crossed, by "2 of 3 samples". */
  crossed = samples != NULL ? g_strdup_printf (_("crossed by %s"), samples) : g_strdup (_("crossed"));
  /* Translators: "crossed by 2 of 3 samples"; the chance that the next candle crosses a limit. */
  return covered != NULL ? g_strdup_printf (_("%s; %s"), crossed, covered) : g_steal_pointer (&crossed);
}

static gboolean
every_limit_read (const WbDataset     *data,
                  const WbCraftLimits *limits,
                  guint                cell)
{
  for (guint i = 0; i < limits->n_limits; i++)
    if (must_be_read (g_ptr_array_index (data->limits, i)) && wb_craft_limits_get (limits, cell, i)->samples_read == 0)
      return FALSE;
  return TRUE;
}

void
wb_craft_verdict_judge (const WbDataset        *data,
                        const WbCraftFigures   *figures,
                        const WbCraftLimits    *limits,
                        const WbCraftEstimates *estimates,
                        WbCraftRanked          *ranked)
{
  const WbCraftCell *cell = &estimates->cells[ranked->cell];
  gboolean missing = FALSE, went_out;

  ranked->crossed = wb_craft_verdict_has_crossed (limits, ranked->cell);
  ranked->cross_part = !every_stage_read (estimates, ranked) || !every_limit_read (data, limits, ranked->cell);
  tell_crossings (data, limits, ranked);
  ranked->cracked = tell_crack (data, ranked);
  went_out = wb_craft_verdict_tell_went_out (data, figures, ranked);
  if (wb_craft_verdict_has_crossed (limits, ranked->cell))
    {
      ranked->verdict = WB_CRAFT_VERDICT_REJECTED;
      tell_samples_crossed (data, figures, ranked);
      if (ranked->score.value > 0)
        wb_craft_ranked_add_reason (ranked, "score_of_the_rest", 0,
                                    _("Its score is what the rest of its readings are worth; a limit was crossed, so it is out."));
    }
  else if (tell_too_little (cell, ranked))
    ranked->verdict = WB_CRAFT_VERDICT_TOO_LITTLE_DATA;
  else if ((is_far_behind (ranked) || is_worthless (ranked)) && every_stage_read (estimates, ranked))
    {
      ranked->verdict = WB_CRAFT_VERDICT_REJECTED;
      if (is_far_behind (ranked))
        tell_distance (ranked, TRUE);
      else
        tell_worthless (ranked);
      tell_short_pool (data, cell, ranked);
      tell_cost (ranked);
    }
  else
    {
      missing = tell_not_cleared (limits, ranked) || ranked->cracked || went_out;
      missing = tell_missing_samples (data, figures, ranked) || missing;
      missing = tell_missing_limits (data, limits, ranked) || missing;
      missing = tell_missing_certainty (ranked) || missing;
      if (is_far_behind (ranked))
        tell_distance (ranked, FALSE);
      if (missing)
        {
          tell_short_pool (data, cell, ranked);
          tell_cost (ranked);
        }
      ranked->verdict = missing ? WB_CRAFT_VERDICT_CANDIDATE : WB_CRAFT_VERDICT_RECOMMENDED;
      if (!missing)
        wb_craft_ranked_add_reason (ranked, "burnt_down", 0,
                    _("%u samples were burnt to the end that the protocol states, and crossed no limit."),
                    count_ended (data, figures, ranked->cell));
    }
  wb_craft_verdict_tell_thirds (data, figures, ranked);
  wb_craft_verdict_tell_unread (data, cell, ranked);
}

static const struct { const char *key, *label; } verdicts[] = {
  [WB_CRAFT_VERDICT_RECOMMENDED] = { "recommended", N_("recommended") },
  [WB_CRAFT_VERDICT_CANDIDATE] = { "candidate", N_("candidate") },
  [WB_CRAFT_VERDICT_REJECTED] = { "rejected", N_("rejected") },
  [WB_CRAFT_VERDICT_TOO_LITTLE_DATA] = { "too_little_data", N_("too little data") },
};

const char *
wb_craft_verdict_get_key (WbCraftVerdict verdict)
{
  g_return_val_if_fail (verdict < G_N_ELEMENTS (verdicts), "unknown");
  return verdicts[verdict].key;
}

const char *
wb_craft_verdict_get_label (WbCraftVerdict verdict)
{
  g_return_val_if_fail (verdict < G_N_ELEMENTS (verdicts), "");
  return _(verdicts[verdict].label);
}
