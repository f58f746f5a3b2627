/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-advice-private.h"

#include <math.h>

#include "wb-calc-allocation.h"
#include "wb-craft-aims-private.h"
#include "wb-craft-lifetime.h"
#include "wb-craft-verdict-private.h"

/*
 * Where the next burns go. What cannot win is left out first; the rest share half of them evenly and half by optimal computing budget allocation on the
 * scores (Chen, Lin, Yücesan and Chick, Discrete Event Dyn. Syst. 10 (2000) 251), as far as they have not had their share yet. What
 * is nearer to the best than NEAR is as good as it: no burns are spent on telling them apart.
 */

#define NEAR 0.05          /* of a score, as the ranking has it */
#define EVENLY 0.5         /* of the burns: means of two or three candles are far off too often to leave it all to them */
#define Z_90 1.6448536     /* half of a 90 % interval in standard deviations */
#define LEAST_SD 0.005     /* no finer than a score is told */
#define BEGUN_BURNS 2      /* before that a score says too little to share by */
#define MOST_POURED 3      /* at once: then look again */

guint
wb_craft_advice_count_living (const WbCraftAdvising *self,
                              guint                  cell)
{
  guint living = 0;

  for (guint i = 0; i < self->data->samples->len; i++)
    {
      const WbSample *sample = wb_dataset_get_sample (self->data, i);

      living += wb_craft_verdict_counts (self->data, i, cell) && !self->figures->ended[i] && !sample->retained;
    }
  return living;
}

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

      if (!is_open (advised) || (group->over && i != group->leader))
        continue;
      advised->burn_on = wb_craft_advice_count_living (self, advised->cell);
      /* what leads must be read in as many as a recommendation asks for, however it compares */
      if (i == group->leader)
        advised->pour = wanted > poured ? wanted - poured : 0;
      else if (poured == 0)
        advised->pour = (guint) CLAMP (self->data->experiment->samples_per_cell, 1, MOST_POURED);
      else if (group->leader != G_MAXUINT && is_begun (&of->cells[i]) && !advised->unread)
        advised->pour = find_pour (self, &of->cells[group->leader], &of->cells[i]);
    }
}

void
wb_craft_advice_share_burns (const WbCraftAdvising *self,
                             WbCraftAdviceGroup    *group)
{
  const WbCraftGroup *of = wb_craft_advising_get_group (self, group);

  advise_candles (self, group);
  if (group->over)
    {
      const WbCraftAdvised *leader = &group->cells[group->leader];

      /* the search is over, the burn-down is not */
      if (leader->burn_on > 0 || leader->pour > 0)
        group->cells[group->leader].share = 1;
      return;
    }
  if (share_to_begin (of, group))
    return;
  share_by_scores (of, group);
  raise_unread (group);
}
