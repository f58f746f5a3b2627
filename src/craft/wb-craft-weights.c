/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-weights-private.h"

#include <math.h>

#define BISECTIONS 7        /* from a factor of 2 to about 1 % */
#define BISECTIONS_TO_0 10  /* from 1/8 to about 1/8000 */
#define LEFT_OUT 0.01       /* a winner that leads only below this factor leads only without the aim */
#define NOBODY G_MAXUINT
#define CONTENDERS 3      /* that are weighed with all kept draws: who leads, and the two nearest to it at a glance */
#define GLANCE 8          /* every so-many-th kept draw */
#define OUT_OF_REACH 0.1  /* of a score, at a glance: no need to look again */

static const double downwards[] = { 0.5, 0.25, 0.125, 0 };
static const double upwards[] = { 2, 4, 8 };

/* The kept candles, with what all aims together make of them. */
typedef struct
{
  const WbCraftScore *score;
  const gboolean     *failed;
  gsize               n;       /* kept candles of a cell */
  guint               leader;
  double              total;   /* of the weights that count */
  double             *mean;    /* a cell: over all draws */
  guint               able;    /* cells that may win */
  double             *kept;    /* a cell: over the kept candles */
  double             *glanced; /* a cell: over those of every GLANCE-th draw */
  float              *sum;     /* cells × n: weighted sum of the logarithms above -INFINITY */
  guint8             *zeros;   /* cells × n: how many aims find it worth nothing */
} Scale;

typedef struct
{
  guint cells[CONTENDERS];
  guint n;
} Contest;

static const float *
get_worth (const Scale *scale,
           guint        aim,
           guint        cell)
{
  return scale->score->candles->worth + ((gsize) aim * scale->score->n_cells + cell) * scale->n;
}

static double
get_weight (const Scale *scale,
            guint        aim)
{
  return g_array_index (scale->score->aims, WbCraftAim, aim).weight;
}

/* The mean score of a cell's candles in every `stride`-th kept draw with the weight of an aim times `factor`. */
static double
weigh (const Scale *scale,
       guint        cell,
       guint        aim,
       double       factor,
       guint        stride)
{
  const float *worth = get_worth (scale, aim, cell);
  const float *under = scale->score->candles->under + cell * scale->n;
  const float *sum = scale->sum + cell * scale->n;
  const guint8 *zeros = scale->zeros + cell * scale->n;
  double change = (factor - 1) * get_weight (scale, aim);
  float per_weight = (float) (1 / (scale->total + change));
  float added = (float) change * per_weight;
  double mean = 0;
  guint n = 0;

  for (gsize first = 0; first < scale->n; first += (gsize) stride * WB_CRAFT_N_STRATA, n++)
    for (gsize k = first; k < first + WB_CRAFT_N_STRATA; k++)
      {
        if (zeros[k] == 0)
          mean += expf (sum[k] * per_weight + added * worth[k]) * under[k];
        else if (!(factor > 0) && zeros[k] == 1 && isinf (worth[k]))
          /* what this aim alone finds worth nothing is worth something once it is left out */
          mean += expf (sum[k] * per_weight) * under[k];
      }
  return mean / (n * WB_CRAFT_N_STRATA);
}

static void
add_up (Scale *scale,
        guint  cell)
{
  const WbCraftScore *score = scale->score;
  float *sum = scale->sum + cell * scale->n;
  guint8 *zeros = scale->zeros + cell * scale->n;

  for (guint a = 0; a < score->aims->len; a++)
    {
      const float *worth = get_worth (scale, a, cell);
      float weight = (float) get_weight (scale, a);

      if (score->dropped[a])
        continue;
      for (gsize k = 0; k < scale->n; k++)
        if (isinf (worth[k]))
          zeros[k] = MIN (zeros[k] + 1, 2);
        else
          sum[k] += weight * worth[k];
    }
}

/* Those that might lead with that weight, the leader among them; all where they are few. */
static void
pick_contenders (const Scale *scale,
                 guint        aim,
                 double       factor,
                 Contest     *contest)
{
  double means[CONTENDERS];
  double leads = 0;

  contest->n = 0;
  if (scale->able > CONTENDERS)
    leads = scale->mean[scale->leader] + weigh (scale, scale->leader, aim, factor, GLANCE) - scale->glanced[scale->leader];
  for (guint i = 0; i < scale->score->n_cells; i++)
    {
      double mean = i == scale->leader ? INFINITY : 0;
      guint place;

      if (scale->failed[i])
        continue;
      if (scale->able > CONTENDERS && i != scale->leader)
        mean = scale->mean[i] + weigh (scale, i, aim, factor, GLANCE) - scale->glanced[i];
      if (scale->able > CONTENDERS && mean < leads - OUT_OF_REACH)
        continue;
      /* the highest few, in falling order */
      for (place = contest->n; place > 0 && means[place - 1] < mean; place--)
        if (place < CONTENDERS)
          {
            means[place] = means[place - 1];
            contest->cells[place] = contest->cells[place - 1];
          }
      if (place == CONTENDERS)
        continue;
      means[place] = mean;
      contest->cells[place] = i;
      contest->n = MIN (contest->n + 1, CONTENDERS);
    }
}

/* The cell of the highest expected score among the contenders; NOBODY: none is above 0. The leader before its equals. */
static guint
find_winner (const Scale   *scale,
             const Contest *contest,
             guint          aim,
             double         factor)
{
  guint winner = NOBODY;
  double most = 0;

  for (guint c = 0; c < contest->n && contest->n > 1; c++)
    {
      guint i = contest->cells[c];
      double mean = scale->mean[i] + weigh (scale, i, aim, factor, 1) - scale->kept[i];

      if (mean > most || (mean == most && i == scale->leader))
        {
          most = mean;
          winner = i;
        }
    }
  return winner;
}

static gboolean
leader_stays (const Scale *scale,
              guint        winner)
{
  return winner == scale->leader || winner == NOBODY;
}

/* Where between two factors, at the first of which the leader leads, another takes over, and which: `winner` goes in as that at `lost`. */
static double
bisect (const Scale   *scale,
        const Contest *contest,
        guint          aim,
        double         holds,
        double         lost,
        guint         *winner)
{
  guint times = lost > 0 ? BISECTIONS : BISECTIONS_TO_0;

  for (guint i = 0; i < times; i++)
    {
      double middle = lost > 0 ? sqrt (holds * lost) : (holds + lost) / 2;

      guint found = find_winner (scale, contest, aim, middle);

      if (leader_stays (scale, found))
        holds = middle;
      else
        {
          lost = middle;
          *winner = found;
        }
    }
  return holds;
}

/* Walks outwards; NAN: nobody else leads on that side. */
static double
find_switch (const Scale  *scale,
             guint         aim,
             const double *steps,
             guint         n_steps,
             guint        *winner)
{
  double holds = 1;
  Contest contest;

  for (guint i = 0; i < n_steps; i++)
    {
      /* with its only aim left out, nothing is asked */
      if (!(scale->total + (steps[i] - 1) * get_weight (scale, aim) > 1e-9 * scale->total))
        break;
      pick_contenders (scale, aim, steps[i], &contest);
      *winner = find_winner (scale, &contest, aim, steps[i]);
      if (!leader_stays (scale, *winner))
        {
          double at = bisect (scale, &contest, aim, holds, steps[i], winner);

          return at < LEFT_OUT ? 0 : at;
        }
      holds = steps[i];
    }
  *winner = NOBODY;
  return NAN;
}

/* FALSE: there is nothing that could change. */
static gboolean
scale_init (Scale              *scale,
            const WbCraftScore *score,
            const gboolean     *failed)
{
  *scale = (Scale) { .score = score, .failed = failed, .n = (gsize) score->candles->n_kept * WB_CRAFT_N_STRATA };
  scale->mean = g_new0 (double, score->n_cells);
  scale->kept = g_new0 (double, score->n_cells);
  scale->glanced = g_new0 (double, score->n_cells);
  scale->sum = g_new0 (float, scale->n * score->n_cells);
  scale->zeros = g_new0 (guint8, scale->n * score->n_cells);
  for (guint a = 0; a < score->aims->len; a++)
    scale->total += score->dropped[a] ? 0 : get_weight (scale, a);
  for (guint i = 0; i < score->n_cells; i++)
    {
      if (failed[i])
        continue;
      scale->able++;
      for (guint draw = 0; draw < score->n_draws; draw++)
        scale->mean[i] += score->recipe[(gsize) draw * score->n_cells + i];
      scale->mean[i] /= score->n_draws;
      add_up (scale, i);
    }
  if (scale->able < 2 || !score->asks)
    return FALSE;
  scale->leader = NOBODY;
  for (guint i = 0; i < score->n_cells; i++)
    {
      if (failed[i])
        continue;
      scale->kept[i] = weigh (scale, i, 0, 1, 1);
      scale->glanced[i] = weigh (scale, i, 0, 1, GLANCE);
      if (scale->mean[i] > (scale->leader == NOBODY ? 0 : scale->mean[scale->leader]))
        scale->leader = i;
    }
  return scale->leader != NOBODY;
}

static void
scale_clear (Scale *scale)
{
  g_free (scale->mean);
  g_free (scale->kept);
  g_free (scale->glanced);
  g_free (scale->sum);
  g_free (scale->zeros);
}

static void
add_weight (const Scale *scale,
            guint        index,
            const guint *members,
            GArray      *weights)
{
  const WbCraftAim *aim = &g_array_index (scale->score->aims, WbCraftAim, index);
  WbCraftWeight weight = { .figure = aim->figure, .stage = aim->stage, .weight = aim->weight };
  guint below, above;

  weight.low = aim->weight * find_switch (scale, index, downwards, G_N_ELEMENTS (downwards), &below);
  weight.high = aim->weight * find_switch (scale, index, upwards, G_N_ELEMENTS (upwards), &above);
  weight.winner_below = below != NOBODY ? members[below] : NOBODY;
  weight.winner_above = above != NOBODY ? members[above] : NOBODY;
  g_array_append_val (weights, weight);
}

GArray *
wb_craft_weights_new (const WbCraftScore *score,
                      const guint        *members,
                      const gboolean     *failed)
{
  GArray *weights = g_array_new (FALSE, FALSE, sizeof (WbCraftWeight));
  Scale scale;

  if (scale_init (&scale, score, failed))
    for (guint a = 0; a < score->aims->len; a++)
      if (!score->dropped[a])
        add_weight (&scale, a, members, weights);
  scale_clear (&scale);
  return weights;
}
