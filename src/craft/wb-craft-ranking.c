/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-ranking.h"

#include <math.h>

#include "wb-calc-rank.h"
#include "wb-calc-summary.h"
#include "wb-craft-levels-private.h"
#include "wb-craft-score-private.h"
#include "wb-craft-trials-private.h"
#include "wb-craft-verdict-private.h"
#include "wb-craft-weights-private.h"

#define USUAL_DRAWS 4000
#define DRAWS_SHARE 0.7 /* of the progress told */
#define NEAR 0.05       /* of the best score */
#define TAIL 0.05       /* on either side of a 90 % interval */
#define FINEST 0.005    /* of a score: what happens to fewer than one candle in a hundred, 15 of them cannot tell */

static const char *withins[] = {
  [WB_CRAFT_WITHIN_SCENT] = "scent",
  [WB_CRAFT_WITHIN_VESSEL] = "vessel",
  [WB_CRAFT_WITHIN_ALL] = "all",
};

const char *
wb_craft_within_get_key (WbCraftWithin within)
{
  g_return_val_if_fail (within < G_N_ELEMENTS (withins), "unknown");
  return withins[within];
}

int
wb_craft_within_from_key (const char *key)
{
  for (guint i = 0; i < G_N_ELEMENTS (withins); i++)
    if (g_strcmp0 (key, withins[i]) == 0)
      return (int) i;
  return -1;
}

/* Do two cells answer the same question? */
static gboolean
same_group (const WbDataset *data,
            guint            a,
            guint            b,
            WbCraftWithin    within)
{
  return within == WB_CRAFT_WITHIN_ALL
         || (wb_craft_factor_is_same (data, WB_CRAFT_FACTOR_VESSEL, a, b)
             && (within == WB_CRAFT_WITHIN_VESSEL || wb_craft_factor_is_same (data, WB_CRAFT_FACTOR_SCENT, a, b)));
}

static gboolean
takes_part (const WbDataset        *data,
            const WbCraftEstimates *estimates,
            guint                   cell)
{
  return !wb_dataset_get_cell (data, cell)->left_out || estimates->cells[cell].burns > 0;
}

static void
free_reason (gpointer data)
{
  WbCraftReason *reason = data;

  g_free (reason->code);
  g_free (reason->text);
  g_free (reason->subject);
  g_free (reason->place);
  g_free (reason);
}

static void
ranked_init (WbCraftRanked     *ranked,
             const WbCraftCell *cell,
             guint              n)
{
  *ranked = (WbCraftRanked) {
    .cell = cell->cell,
    .score = WB_CRAFT_INTERVAL_NONE, .next_candle = WB_CRAFT_INTERVAL_NONE,
    .p_best = NAN, .p_near = NAN, .expected_loss = NAN, .loss_high = NAN, .p_cross = NAN,
    .p_best_error = NAN, .p_near_error = NAN, .p_cross_error = NAN,
    .p_rank = g_new0 (double, n),
    .reasons = g_ptr_array_new_with_free_func (free_reason),
    .parts = g_array_new (FALSE, FALSE, sizeof (WbCraftPart)),
    .samples = cell->samples, .burns = cell->burns, .alight = cell->alight,
  };
}

/* Mean and the middle 90 % of one column of the draws. */
static WbCraftInterval
summarise (const double *draws,
           guint         n_draws,
           guint         n,
           guint         column)
{
  g_autofree double *values = g_new (double, n_draws);
  double mean = 0;

  for (guint i = 0; i < n_draws; i++)
    {
      values[i] = draws[(gsize) i * n + column];
      mean += values[i];
    }
  mean /= n_draws;
  wb_calc_summary_sort (values, n_draws);
  /* a few draws far from all others may take the mean out of the middle: the interval reaches to it */
  return (WbCraftInterval) {
    mean, MIN (wb_calc_summary_sorted_quantile (values, n_draws, TAIL), mean),
    MAX (wb_calc_summary_sorted_quantile (values, n_draws, 1 - TAIL), mean)
  };
}

/* The expected score of a recipe: its ends are told outwards, no finer than its candles can tell. */
static WbCraftInterval
summarise_recipe (const WbCraftScore *score,
                  guint               column)
{
  WbCraftInterval told = summarise (score->recipe, score->n_draws, score->n_cells, column);

  told.low = FINEST * floor (told.low / FINEST);
  told.high = MIN (FINEST * ceil (told.high / FINEST), 1);
  if (told.high <= 0)
    told.high = FINEST;
  return told;
}

/* The figure of a part as it was told, in its stored unit; NAN where it was not read. */
static double
part_value (const WbCraftAim  *aim,
            const WbCraftCell *cell)
{
  const WbCraftGrowth *growth = &cell->stage_growth[aim->stage];

  if (aim->figure != WB_FIGURE_FULL_POOL)
    return wb_craft_aim_get_estimate (aim, cell)->told.value;
  return growth->status == WB_CRAFT_FIT_ALL_AT_WALL ? growth->at_wall_h : growth->full_pool_h.value;
}

static void
add_parts (const WbCraftScore *score,
           const WbCraftCell  *cell,
           guint               member,
           WbCraftRanked      *ranked)
{
  for (guint a = 0; a < score->aims->len; a++)
    {
      const WbCraftAim *aim = &g_array_index (score->aims, WbCraftAim, a);
      WbCraftPart part = {
        aim->figure, aim->stage, part_value (aim, cell), score->desirability[a * score->n_cells + member], aim->weight,
        score->dropped[a]
      };

      g_array_append_val (ranked->parts, part);
    }
}

/* Of a mean of chances, one a draw: their standard deviation over the square root of their number. NAN: it is none. */
static double
cross_error (const WbCraftScore *score,
             guint               member)
{
  double mean = score->p_cross[member];

  if (isnan (score->cross_squares[member]))
    return NAN;
  return score->n_draws > 1 ? sqrt (MAX (score->cross_squares[member] - mean * mean, 0) / (score->n_draws - 1)) : NAN;
}

/* What a member lacks of the best of a draw, and passes in a twentieth of them. */
static double
find_high_loss (const double *contest,
                guint         n_draws,
                guint         n,
                guint         member)
{
  g_autofree double *losses = g_new (double, n_draws);

  for (guint i = 0; i < n_draws; i++)
    {
      const double *draw = contest + (gsize) i * n;
      double        best = draw[0];

      for (guint k = 1; k < n; k++)
        best = MAX (best, draw[k]);
      losses[i] = best - draw[member];
    }
  wb_calc_summary_sort (losses, n_draws);
  return wb_calc_summary_sorted_quantile (losses, n_draws, 1 - TAIL);
}

static void
fill_member (const WbCraftScore *score,
             const WbCalcRank   *rank,
             const double       *contest,
             const WbCraftCell  *cell,
             guint               member,
             WbCraftRanked      *ranked)
{
  guint n = score->n_cells;

  ranked->score = summarise_recipe (score, member);
  ranked->next_candle = summarise (score->candle, score->n_draws, n, member);
  /* its mean is the recipe's; the middle of one draw a candle is rougher, and may lie beside it */
  ranked->next_candle.value = ranked->score.value;
  ranked->next_candle.low = MIN (ranked->next_candle.low, ranked->next_candle.value);
  ranked->next_candle.high = MAX (ranked->next_candle.high, ranked->next_candle.value);
  ranked->p_best = rank->p_best[member];
  ranked->p_near = rank->p_near[member];
  ranked->expected_loss = rank->expected_loss[member];
  ranked->loss_high = find_high_loss (contest, score->n_draws, n, member);
  /* what was not tested has no chance, which is not a chance of 0; what was seen to happen has one */
  ranked->p_cross = score->tested[member] || score->p_cross[member] > 0 ? score->p_cross[member] : NAN;
  ranked->p_best_error = wb_calc_rank_error (ranked->p_best, score->n_draws);
  ranked->p_near_error = wb_calc_rank_error (ranked->p_near, score->n_draws);
  ranked->p_cross_error = isnan (ranked->p_cross) ? NAN : cross_error (score, member);
  for (guint r = 0; r < n; r++)
    ranked->p_rank[r] = rank->rank[member * n + r];
  add_parts (score, cell, member, ranked);
}

/* Order: what may be used by its score, then what failed, then what was never burnt; the data set's order among equals. */
static int
compare_ranked (gconstpointer a,
                gconstpointer b,
                gpointer      user)
{
  const WbCraftRanked *one = a, *other = b;
  const gboolean *failed = user;

  if (isnan (one->score.value) != isnan (other->score.value))
    return isnan (one->score.value) ? 1 : -1;
  if (failed[one->cell] != failed[other->cell])
    return failed[one->cell] ? 1 : -1;
  if (!isnan (one->score.value) && one->score.value != other->score.value)
    return one->score.value > other->score.value ? -1 : 1;
  return one->cell < other->cell ? -1 : one->cell > other->cell;
}

typedef struct
{
  const WbDataset        *data;
  const WbCraftFigures   *figures;
  const WbCraftLimits    *limits;
  const WbCraftEstimates *estimates;
  const WbCraftDraws     *draws;
  guint64                 seed;
  gboolean               *failed;   /* a cell of the data set */
  const WbCraftUnlike    *unlike;   /* a sample */
  WbCraftKeepGoing        keep_going;
  gpointer                user;
  double                  from, to; /* progress */
} Job;

static gboolean
on_score_progress (double   done,
                   gpointer user)
{
  Job *job = user;

  return job->keep_going == NULL || job->keep_going (job->from + done * (job->to - job->from), job->user);
}

/* The draws in which the cells are ranked: one of which a sample crossed a limit cannot win, whatever it would score. */
static double *
let_contest (const WbCraftScore *score,
             const gboolean     *failed)
{
  gsize n = (gsize) score->n_draws * score->n_cells;
  double *contest = g_memdup2 (score->recipe, n * sizeof *contest);

  for (gsize at = 0; at < n; at++)
    if (failed[at % score->n_cells])
      contest[at] = 0;
  return contest;
}

/* Candles to which it happens score 0. */
static void
add_events (WbCraftScore        *score,
            const WbCraftTrials *trials)
{
  for (guint m = 0; m < score->n_cells; m++)
    {
      double chance = wb_craft_trials_expect (trials[m].happened, trials[m].burnt);
      double due = 0;

      if (!(chance > 0))
        continue;
      /* the same of every draw's chance c: 1 - a (1 - c), of which the square's mean follows from those of c and c² */
      score->cross_squares[m] = chance * chance + 2 * chance * (1 - chance) * score->p_cross[m]
                                + (1 - chance) * (1 - chance) * score->cross_squares[m];
      score->p_cross[m] = 1 - (1 - score->p_cross[m]) * (1 - chance);
      for (guint i = 0; i < score->n_draws; i++)
        {
          gsize at = (gsize) i * score->n_cells + m;

          score->recipe[at] *= 1 - chance;
          /* of the single candles every so many-th */
          due += chance;
          if (due < 1)
            continue;
          due -= 1;
          score->candle[at] = 0;
        }
    }
}

/*
 * What was seen of the samples is the least that is said of the next one, whatever the draws make of it: they take off what readers
 * err, judge by a spread that all combinations share, and know neither a logger's file nor a burn of another kind. The score stays:
 * it is what the rest of the readings are worth, and its combination is out.
 */
static void
raise_to_seen (WbCraftScore        *score,
               const WbCraftTrials *trials)
{
  for (guint m = 0; m < score->n_cells; m++)
    {
      double seen = wb_craft_trials_expect (trials[m].crossed, trials[m].burnt);

      if (!(seen > score->p_cross[m]))
        continue;
      score->p_cross[m] = seen;
      score->cross_squares[m] = NAN; /* counted, not drawn: more draws would tell it no better */
    }
}

static gboolean
score_members (Job          *job,
               WbCraftGroup *group,
               const guint  *members,
               guint         n)
{
  const WbCalcRankOptions options = { NEAR, 0 };
  g_autofree gboolean *failed = g_new0 (gboolean, n);
  g_autofree WbCraftTrials *trials = g_new0 (WbCraftTrials, n);
  g_autoptr (WbCraftScore) score = NULL;
  g_autofree double *contest = NULL;
  WbCalcRank rank;

  for (guint i = 0; i < n; i++)
    {
      failed[i] = job->failed[members[i]];
      if (failed[i] || wb_craft_verdict_is_uncleared (job->limits, members[i]))
        trials[i] = wb_craft_trials_count (job->data, job->figures, members[i]);
    }
  score = wb_craft_score_new (job->data, job->draws, members, n, job->seed, on_score_progress, job);
  if (score == NULL)
    return FALSE;
  add_events (score, trials);
  raise_to_seen (score, trials);
  contest = let_contest (score, failed);
  if (wb_calc_rank_acceptability (contest, score->n_draws, n, &options, NULL, NULL, &rank) != WB_CALC_OK)
    return FALSE;
  if (!score->asks)
    {
      /* nothing that the score asks for was read by anybody: no score, which is not a score of 0 */
      wb_calc_rank_clear (&rank);
      return TRUE;
    }
  group->p_none = rank.p_none;
  group->p_none_error = wb_calc_rank_error (rank.p_none, score->n_draws);
  g_array_unref (group->weights);
  group->weights = wb_craft_weights_new (score, members, failed);
  for (guint i = 0; i < group->n_cells; i++)
    for (guint m = 0; m < n; m++)
      if (group->cells[i].cell == members[m])
        fill_member (score, &rank, contest, &job->estimates->cells[members[m]], m, &group->cells[i]);
  wb_calc_rank_clear (&rank);
  return TRUE;
}

static gboolean
rank_group (Job          *job,
            WbCraftGroup *group)
{
  g_autofree guint *members = g_new (guint, group->n_cells);
  guint n = 0;

  for (guint i = 0; i < group->n_cells; i++)
    if (job->estimates->cells[group->cells[i].cell].burns > 0)
      members[n++] = group->cells[i].cell;
  if (n > 0 && !score_members (job, group, members, n))
    return FALSE;
  g_qsort_with_data (group->cells, (int) group->n_cells, sizeof *group->cells, compare_ranked, job->failed);
  for (guint i = 0; i < group->n_cells; i++)
    {
      group->cells[i].rank = i + 1;
      wb_craft_verdict_judge (job->data, job->figures, job->limits, job->estimates, &group->cells[i]);
      wb_craft_verdict_tell_unlike (job->data, job->unlike, &group->cells[i]);
    }
  return TRUE;
}

static void
group_init (WbCraftGroup           *group,
            const WbDataset        *data,
            const WbCraftEstimates *estimates,
            guint                   first,
            WbCraftWithin           within)
{
  guint n = 0;

  for (guint cell = first; cell < data->cells->len; cell++)
    n += takes_part (data, estimates, cell) && same_group (data, first, cell, within);
  *group = (WbCraftGroup) {
    .vessel = first, .by_vessel = within != WB_CRAFT_WITHIN_ALL, .by_scent = within == WB_CRAFT_WITHIN_SCENT,
    .p_none = NAN, .p_none_error = NAN, .cells = g_new0 (WbCraftRanked, n),
    .weights = g_array_new (FALSE, FALSE, sizeof (WbCraftWeight)),
  };
  for (guint cell = first; cell < data->cells->len; cell++)
    if (takes_part (data, estimates, cell) && same_group (data, first, cell, within))
      ranked_init (&group->cells[group->n_cells++], &estimates->cells[cell], n);
}

static void
make_groups (WbCraftRanking         *self,
             const WbDataset        *data,
             const WbCraftEstimates *estimates)
{
  self->groups = g_new0 (WbCraftGroup, MAX (data->cells->len, 1));
  for (guint cell = 0; cell < data->cells->len; cell++)
    {
      gboolean known = !takes_part (data, estimates, cell);

      for (guint g = 0; g < self->n_groups && !known; g++)
        known = same_group (data, self->groups[g].vessel, cell, self->within);
      if (!known)
        group_init (&self->groups[self->n_groups++], data, estimates, cell, self->within);
    }
}

WbCraftRanking *
wb_craft_ranking_new (const WbDataset        *data,
                      const WbCraftFigures   *figures,
                      const WbCraftLimits    *limits,
                      const WbCraftEstimates *estimates,
                      WbCraftWithin           within,
                      guint64                 seed,
                      guint                   draws,
                      WbCraftKeepGoing        keep_going,
                      gpointer                user)
{
  g_autoptr (WbCraftRanking) self = g_new0 (WbCraftRanking, 1);
  g_autofree gboolean *failed = g_new0 (gboolean, MAX (data->cells->len, 1));
  g_autofree WbCraftUnlike *unlike = wb_craft_unlike_new (data, figures);
  g_autoptr (WbCraftDraws) all = NULL;
  Job job = { data, figures, limits, estimates, NULL, seed, failed, unlike, keep_going, user, 0, DRAWS_SHARE };

  self->seed = seed;
  self->draws = draws > 0 ? draws : USUAL_DRAWS;
  job.draws = all = wb_craft_draws_new (data, figures, estimates, seed, self->draws, on_score_progress, &job);
  if (all == NULL)
    return NULL;
  self->within = within;
  for (guint cell = 0; cell < data->cells->len; cell++)
    failed[cell] = wb_craft_verdict_has_crossed (limits, cell);
  make_groups (self, data, estimates);
  for (guint g = 0; g < self->n_groups; g++)
    {
      job.from = DRAWS_SHARE + (1 - DRAWS_SHARE) * g / self->n_groups;
      job.to = DRAWS_SHARE + (1 - DRAWS_SHARE) * (g + 1) / self->n_groups;
      if (!rank_group (&job, &self->groups[g]))
        return NULL;
    }
  return g_steal_pointer (&self);
}

void
wb_craft_ranking_free (WbCraftRanking *self)
{
  if (self == NULL)
    return;
  for (guint g = 0; g < self->n_groups; g++)
    {
      for (guint i = 0; i < self->groups[g].n_cells; i++)
        {
          g_free (self->groups[g].cells[i].p_rank);
          g_ptr_array_unref (self->groups[g].cells[i].reasons);
          g_array_unref (self->groups[g].cells[i].parts);
        }
      g_free (self->groups[g].cells);
      g_array_unref (self->groups[g].weights);
    }
  g_free (self->groups);
  g_free (self);
}
