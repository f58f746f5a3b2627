/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-advice-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-calc-allocation.h"
#include "wb-craft-aims-private.h"
#include "wb-craft-lifetime.h"
#include "wb-craft-verdict-private.h"
#include "wb-craft-words-private.h"

/*
 * Where the next burns go. What cannot win is left out first; the rest share half of them evenly and half by optimal computing budget allocation on the
 * scores (Chen, Lin, Yücesan and Chick, Discrete Event Dyn. Syst. 10 (2000) 251), as far as they have not had their share yet. What
 * is nearer to the best than NEAR is as good as it: no burns are spent on telling them apart.
 */

#define NEAR 0.05          /* of a score, as the ranking has it */
/*
 * Of the burns. Optimal allocation takes the means so far for the truth; of two or three candles they are far off too often: by the
 * scores alone a wick that had one bad candle gets hardly any burn and stays where it is (bench-advice: 11.2 candles instead of 10.6
 * until the best is known). Half and half is the choice that needs no figure of how far off they are; it also bounds what one wick of
 * n may have to (1 + n) / 2n, so that no test becomes a test of one wick while others can still win.
 */
#define EVENLY 0.5
#define Z_90 1.6448536     /* half of a 90 % interval in standard deviations */
#define LEAST_SD 0.005     /* no finer than a score is told */
#define BEGUN_BURNS 2      /* before that a score says too little to share by */
#define MOST_POURED 3      /* at once: a recommendation asks for three, and after three the spreads that ask for more are known better */

/* Those that are planned will be poured: no others are asked for in their place. */
static guint
count_poured (const WbCraftAdvising *self,
              guint                  cell)
{
  guint poured = 0;

  for (guint i = 0; i < self->data->samples->len; i++)
    poured += wb_craft_verdict_counts (self->data, i, cell);
  return poured;
}

static double
get_sd (const WbCraftRanked *ranked)
{
  return MAX ((ranked->score.high - ranked->score.low) / (2 * Z_90), LEAST_SD);
}

static gboolean
is_open (const WbCraftAdvised *advised)
{
  return advised->running == WB_CRAFT_RUNNING_OPEN;
}

static gboolean
is_begun (const WbCraftRanked *ranked)
{
  return ranked->burns >= BEGUN_BURNS && isfinite (ranked->score.value);
}

/* Those of which too little was burnt come first, all alike. TRUE: there were such. */
static gboolean
share_to_begin (const WbCraftGroup *of,
                WbCraftAdviceGroup *group)
{
  guint n = 0;

  for (guint i = 0; i < group->n_cells; i++)
    n += is_open (&group->cells[i]) && !is_begun (&of->cells[i]);
  for (guint i = 0; i < group->n_cells && n > 0; i++)
    if (is_open (&group->cells[i]) && !is_begun (&of->cells[i]))
      group->cells[i].share = 1.0 / n;
  return n > 0;
}

static void
share_by_scores (const WbCraftGroup *of,
                 WbCraftAdviceGroup *group)
{
  g_autofree WbCalcAllocationAlternative *open = g_new0 (WbCalcAllocationAlternative, MAX (group->n_cells, 1));
  g_autofree double *further = g_new0 (double, MAX (group->n_cells, 1));
  WbCalcAllocationQuestion question = { .larger = true, .indifference = NEAR };
  guint n = 0, k = 0;

  for (guint i = 0; i < group->n_cells; i++)
    {
      double sd = get_sd (&of->cells[i]), had = MAX (of->cells[i].samples, 1);

      if (is_open (&group->cells[i]))
        open[n++] = (WbCalcAllocationAlternative) { .mean = of->cells[i].score.value, .variance = sd * sd * had, .had = had, .cost = 1 };
    }
  question.budget = n; /* one more of each, as it were: then look again */
  /* one alone has nothing to be told from */
  if (n > 0 && wb_calc_allocation_share (open, n, &question, further) != WB_CALC_OK)
    for (guint i = 0; i < n; i++)
      further[i] = 1;
  for (guint i = 0; i < group->n_cells; i++)
    if (is_open (&group->cells[i]))
      group->cells[i].share = (EVENLY + (1 - EVENLY) * further[k++]) / n;
}

/* Half of the burns go evenly to what was not read yet where it is decided, whatever the scores so far say. */
static void
raise_unread (WbCraftAdviceGroup *group)
{
  guint n = 0;

  for (guint i = 0; i < group->n_cells; i++)
    n += group->cells[i].unread;
  for (guint i = 0; i < group->n_cells && n > 0; i++)
    group->cells[i].share = group->cells[i].share / 2 + (group->cells[i].unread ? 0.5 / n : 0);
}

/* ---- A further candle, or a further burn of one that is there? ---- */

/* Of the variance of an aim's mean, what further burns of the same candles do not take away. */
static double
sample_part (double sample_sd,
             double burn_sd,
             double burns)
{
  double of_samples = sample_sd * sample_sd, of_burns = burn_sd * burn_sd / MAX (burns, 1);

  return of_samples + of_burns > 0 ? of_samples / (of_samples + of_burns) : 1;
}

/* The same of the score: by the weights of the aims that the cell was read for. */
static double
find_sample_part (const WbCraftAdvising *self,
                  guint                  cell)
{
  const WbCraftCell *estimate = &self->estimates->cells[cell];
  g_autoptr (GArray) aims = wb_craft_aims_new (self->data);
  double part = 0, weights = 0;

  for (guint a = 0; a < aims->len; a++)
    {
      const WbCraftAim *aim = &g_array_index (aims, WbCraftAim, a);
      const WbCraftGrowth *growth = &estimate->stage_growth[aim->stage];
      const WbCraftEstimate *figure = aim->figure != WB_FIGURE_FULL_POOL ? wb_craft_aim_get_estimate (aim, estimate) : NULL;
      double one = NAN;

      if (figure == NULL && wb_craft_fit_status_is_fitted (growth->status) && growth->samples > 0)
        one = sample_part (growth->sample_sd, growth->burn_sd, (double) growth->burns / growth->samples);
      else if (figure != NULL && figure->samples > 0)
        one = sample_part (figure->sample_sd, figure->burn_sd, (double) figure->burns / figure->samples);
      if (isnan (one))
        continue;
      part += aim->weight * one;
      weights += aim->weight;
    }
  return weights > 0 ? part / weights : 1;
}

/* The share of their lives that the cell's candles have behind them, 0 to 1; 1 where it is not known. */
static double
find_done (const WbCraftAdvising *self,
           guint                  cell)
{
  double done = 0, all = 0;

  for (guint i = 0; i < self->data->samples->len; i++)
    {
      WbCraftLifetime life;

      if (!wb_craft_verdict_counts (self->data, i, cell))
        continue;
      wb_craft_lifetime_of_sample (self->data, self->figures, i, &life);
      if (isnan (life.burns))
        continue;
      done += life.burns_done;
      all += MAX (life.burns, life.burns_done);
    }
  return all > 0 ? done / all : 1;
}

/* The variance of its score once the candles that are there have been burnt to their end. */
static double
variance_after (const WbCraftAdvising *self,
                const WbCraftRanked   *ranked)
{
  double part = find_sample_part (self, ranked->cell), sd = get_sd (ranked);

  return sd * sd * (part + (1 - part) * find_done (self, ranked->cell));
}

/*
 * Candles to pour of a cell that is not the leader: as many as it takes, by their spreads, until it can be told from the leader
 * with the certainty asked for, once what is there has been burnt down; none where burning on is enough.
 */
static guint
find_pour (const WbCraftAdvising *self,
           const WbCraftRanked   *leader,
           const WbCraftRanked   *ranked)
{
  guint poured = count_poured (self, ranked->cell);
  double gap = MAX (leader->score.value - ranked->score.value, 0) + NEAR;
  double asked = gap / 1.2815516; /* a standard normal is below it in 9 of 10 */
  double times = (variance_after (self, leader) + variance_after (self, ranked)) / (asked * asked);

  return times > 1 ? (guint) MIN (ceil ((times - 1) * MAX (poured, 1)), MOST_POURED) : 0;
}

static void
advise_candles (const WbCraftAdvising *self,
                WbCraftAdviceGroup    *group)
{
  const WbCraftGroup *of = wb_craft_advising_get_group (self, group);
  guint wanted = wb_craft_ranking_get_samples_wanted (self->data->protocol);

  for (guint i = 0; i < group->n_cells; i++)
    {
      WbCraftAdvised *advised = &group->cells[i];
      guint poured = count_poured (self, advised->cell);

      if (!is_open (advised) || (group->over && (group->poor || i != group->leader)))
        continue;
      advised->burn_on = wb_craft_advice_count_living (&advised->candles);
      /* what leads must be read in as many as a recommendation asks for, however it compares */
      if (i == group->leader)
        advised->pour = wanted > poured ? wanted - poured : 0;
      else if (poured == 0)
        advised->pour = (guint) CLAMP (self->data->experiment->samples_per_cell, 1, MOST_POURED);
      else if (group->leader != G_MAXUINT && is_begun (&of->cells[i]) && !advised->unread)
        advised->pour = find_pour (self, &of->cells[group->leader], &of->cells[i]);
    }
}

/* ---- Whole burns, and why ---- */

static guint
find_largest_rest (const WbCraftAdviceGroup *group,
                   const double             *rest)
{
  guint largest = 0;

  /* of two alike the better placed */
  for (guint i = 1; i < group->n_cells; i++)
    if (rest[i] > rest[largest] + 1e-9)
      largest = i;
  return largest;
}

/* Largest remainders (Hamilton's method): whole burns that add up to ten, none of them a whole burn or more from its share. */
static void
share_ten (WbCraftAdviceGroup *group)
{
  g_autofree double *rest = g_new0 (double, MAX (group->n_cells, 1));
  double sum = 0;
  guint left = WB_CRAFT_ADVICE_TEN;

  for (guint i = 0; i < group->n_cells; i++)
    sum += group->cells[i].share;
  if (sum <= 0)
    return;
  for (guint i = 0; i < group->n_cells; i++)
    {
      double exact = WB_CRAFT_ADVICE_TEN * group->cells[i].share / sum;

      /* 3 of 10 that are 2.9999999 by their sum are 3 */
      group->cells[i].in_ten = (guint) floor (exact + 1e-9);
      rest[i] = exact - group->cells[i].in_ten;
      left -= group->cells[i].in_ten;
    }
  for (; left > 0; left--)
    {
      guint largest = find_largest_rest (group, rest);

      group->cells[largest].in_ten++;
      rest[largest] = -1;
    }
}

/* "0.74 (0.61 to 0.83) by 9 burns of 2 samples"; caller frees. */
static char *
dup_score (const WbCraftRanked *ranked)
{
  g_autofree char *score = wb_number_format (ranked->score.value, 2, NULL);
  g_autofree char *low = wb_number_format (ranked->score.low, 2, NULL), *high = wb_number_format (ranked->score.high, 2, NULL);
  g_autofree char *burns = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u burn", "%u burns", ranked->burns), ranked->burns);
  g_autofree char *samples = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u sample", "%u samples", ranked->samples), ranked->samples);

  /* Translators: a score with its interval; "9 burns"; "2 samples". */
  return g_strdup_printf (_("%s of 1 (%s to %s) by %s of %s"), score, low, high, burns, samples);
}

typedef enum
{
  BY_BEGINNING,
  BY_SCORES,
  BY_LEADING
} SharedBy;

/* Why further candles, where some are advised. */
static void
add_why_pour (const WbCraftAdvising    *self,
              const WbCraftAdviceGroup *group,
              guint                     i,
              GString                  *text)
{
  const WbCraftGroup *of = wb_craft_advising_get_group (self, group);
  guint pour = group->cells[i].pour, poured = count_poured (self, group->cells[i].cell);
  g_autofree char *leader = NULL;

  if (pour == 0)
    return;
  if (i == group->leader)
    /* Translators: so many candles to pour; so many are asked for; so many that are there. */
    g_string_append_printf (text, g_dngettext (GETTEXT_PACKAGE, " %u further candle, for a recommendation asks for %u and %u counts.",
                                               " %u further candles, for a recommendation asks for %u and %u count.", pour),
                            pour, pour + poured, poured);
  else if (poured == 0)
    g_string_append (text, _(" None of its candles counts: others have to be poured."));
  else
    {
      leader = wb_craft_words_dup_name (self->data, of, of->cells[group->leader].cell);
      /* Translators: so many candles to pour; a wick. */
      g_string_append_printf (text, g_dngettext (GETTEXT_PACKAGE, " %u further candle, for those that are there will not tell it from %s however they burn down.",
                                                 " %u further candles, for those that are there will not tell it from %s however they burn down.", pour),
                              pour, leader);
    }
}

static char *
dup_why_share (const WbCraftAdvising    *self,
               const WbCraftAdviceGroup *group,
               guint                     i,
               SharedBy                  by)
{
  const WbCraftRanked *ranked = &wb_craft_advising_get_group (self, group)->cells[i];
  const WbCraftAdvised *advised = &group->cells[i];
  g_autofree char *score = NULL, *evidence = wb_craft_advice_dup_evidence (self, advised);
  GString *text = g_string_new (NULL);

  switch (by)
    {
    case BY_BEGINNING:
      if (ranked->burns == 0)
        g_string_append (text, _("It was not burnt yet: wicks of which too little was burnt to compare come first, all alike as far as ten burns divide."));
      else
        g_string_append (text, _("Too little of it was burnt to compare: such wicks come first, all alike as far as ten burns divide."));
      break;
    case BY_LEADING:
      g_string_append (text, _("The search can stop, and what it found is burnt down: all further burns go there."));
      break;
    case BY_SCORES:
    default:
      score = dup_score (ranked);
      if (advised->in_ten == WB_CRAFT_ADVICE_TEN)
        {
          /* Translators: "0.74 of 1 (0.61 to 0.83) by 9 burns of 2 samples". */
          g_string_append_printf (text, _("Its score is %s, and of those that are in the running it alone needs burns: all of the next go to it."), score);
          break;
        }
      /* Translators: "0.74 of 1 (0.61 to 0.83) by 9 burns of 2 samples". */
      g_string_append_printf (text, _("Its score is %s: half of the burns go evenly to those that can win, half where they soonest tell which is best."), score);
      if (advised->unread)
        g_string_append_printf (text, " %s", _("Nothing of its lower third was read yet, and such wicks have half of all burns before that."));
    }
  add_why_pour (self, group, i, text);
  if (evidence != NULL)
    /* Translators: what was read: "tall flame of 42 mm (burn 3 of C5-1)". */
    g_string_append_printf (text, _(" What says most of it so far: %s."), evidence);
  return g_string_free (text, FALSE);
}

static void
tell_shares (const WbCraftAdvising *self,
             WbCraftAdviceGroup    *group,
             SharedBy               by)
{
  share_ten (group);
  for (guint i = 0; i < group->n_cells; i++)
    if (group->cells[i].share > 0)
      group->cells[i].why_share = dup_why_share (self, group, i, by);
}

void
wb_craft_advice_share_burns (const WbCraftAdvising *self,
                             WbCraftAdviceGroup    *group)
{
  const WbCraftGroup *of = wb_craft_advising_get_group (self, group);

  if (group->finished)
    return;
  advise_candles (self, group);
  if (group->over)
    {
      const WbCraftAdvised *leader = group->leader < group->n_cells ? &group->cells[group->leader] : NULL;

      /* the search is over, the burn-down is not */
      if (leader != NULL && (leader->burn_on > 0 || leader->candles.planned > 0 || leader->pour > 0))
        group->cells[group->leader].share = group->poor ? 0 : 1;
      tell_shares (self, group, BY_LEADING);
      return;
    }
  if (share_to_begin (of, group))
    {
      tell_shares (self, group, BY_BEGINNING);
      return;
    }
  share_by_scores (of, group);
  raise_unread (group);
  tell_shares (self, group, BY_SCORES);
}
