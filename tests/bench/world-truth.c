/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "world-truth.h"

#include <math.h>
#include <string.h>

#define STREAM_ORACLE 1
#define STREAM_RIGHT 2
#define WINDOW_LOW 0.75       /* of an hour an inch: the house protocol's */
#define WINDOW_HIGH 1.25
#define MM_PER_INCH 25.4
#define FILL_MM 75.0          /* as the labs are filled */
#define G_PER_ML 0.9

const char *
world_said_get_label (WorldSaid said)
{
  static const char *labels[WORLD_N_SAID] = { "pool limit", "full pool", "flame", "vessel", "consumption", "burn time" };

  return labels[said];
}

double
world_fill_g (const World *self)
{
  double radius_cm = self->inner_mm[self->next_vessel] / 20;

  return G_PI * radius_cm * radius_cm * FILL_MM / 10 * G_PER_ML;
}

/* The lower third is a lab's last stage; where no thirds are told, there is the one. */
static const LabStageTruth *
stage_of (const Lab      *lab,
          const LabTruth *truth,
          WorldPlace      place)
{
  return &truth->stage[place == WORLD_TOP ? 0 : lab_n_stages (lab) - 1];
}

void
world_tell_figures (const World    *self,
                    const Lab      *lab,
                    const LabTruth *truth,
                    double          figure[WORLD_N_PLACES][WORLD_N_SAID])
{
  for (guint place = 0; place < WORLD_N_PLACES; place++)
    {
      const LabStageTruth *at = stage_of (lab, truth, place);

      figure[place][WORLD_SAID_LIMIT] = at->limit_mm;
      figure[place][WORLD_SAID_FULL_POOL] = at->full_pool_h;
      figure[place][WORLD_SAID_FLAME] = at->measure[LAB_FLAME];
      figure[place][WORLD_SAID_VESSEL] = at->measure[LAB_RISE];
      figure[place][WORLD_SAID_CONSUMPTION] = at->measure[LAB_CONSUMPTION];
      figure[place][WORLD_SAID_BURN_H] = world_fill_g (self) / at->measure[LAB_CONSUMPTION];
    }
}

/* One candle of the next experiment: its pool comes in the window, and no burn of it crosses a limit. */
static gboolean
candle_crosses (const Lab     *lab,
                const LabCell *cell,
                const double   of_measure[LAB_N_MEASURES],
                WbCalcRandom  *random)
{
  for (guint burn = 0; burn < lab_n_burns (lab); burn++)
    {
      double flame = cell->log_measure[LAB_FLAME] + of_measure[LAB_FLAME] + lab_burn_measure (lab, burn, LAB_FLAME)
                     + lab->measure_burn_sd[LAB_FLAME] * wb_calc_random_normal (random);
      double rise = cell->log_measure[LAB_RISE] + of_measure[LAB_RISE] + lab_burn_measure (lab, burn, LAB_RISE)
                    + lab->measure_burn_sd[LAB_RISE] * wb_calc_random_normal (random);

      if (exp (flame) > LAB_FLAME_STOP_MM || exp (rise) + lab->mean_room > LAB_VESSEL_STOP_C)
        return TRUE;
    }
  return FALSE;
}

static void
try_candles (const World    *self,
             const Lab      *lab,
             guint           wick,
             WbCalcRandom   *random,
             WorldWickTruth *truth)
{
  const LabCell *cell = &lab->cells[wick];
  double inner = lab->vessels[0].inner_mm, due = inner / MM_PER_INCH;

  for (guint k = 0; k < WORLD_RIGHT_CANDLES; k++)
    {
      WorldShift pour = world_draw_shift (random, WORLD_POUR_SD, 0.5);
      double of_limit = wb_calc_random_normal (random), measures[LAB_N_MEASURES], full_h;
      gboolean crosses;

      for (guint m = 0; m < LAB_N_MEASURES; m++)
        measures[m] = pour.of[WORLD_DEPTH + m]
                      + lab->measure_sample_sd[m] * lab_deviation (lab, of_limit, wb_calc_random_normal (random));
      full_h = lab_time_to (lab, exp (cell->log_limit + lab_stage_limit (lab, WB_STAGE_UPPER) + pour.of[WORLD_LIMIT]
                                      + lab->limit_sample_sd * of_limit),
                            cell->tau_h * exp (pour.of[WORLD_TAU]), inner);
      crosses = candle_crosses (lab, cell, measures, random);
      truth->p_cross += (double) crosses / WORLD_RIGHT_CANDLES;
      if (!crosses && full_h >= WINDOW_LOW * due && full_h <= WINDOW_HIGH * due)
        truth->p_right += 1.0 / WORLD_RIGHT_CANDLES;
    }
}

static int
compare_doubles (const void *a,
                 const void *b)
{
  double one = *(const double *) a, other = *(const double *) b;

  return one < other ? -1 : one > other;
}

/* Of the middle 90 % of some values; INFINITY where it has no end. */
static double
width_of (double *values,
          guint   n)
{
  qsort (values, n, sizeof *values, compare_doubles);
  return values[(guint) (0.95 * (n - 1) + 0.5)] - values[(guint) (0.05 * (n - 1) + 0.5)];
}

void
world_tell_widths (const double (*seen)[WORLD_N_PLACES][WORLD_N_SAID],
                   guint        n,
                   double       width[WORLD_N_PLACES][WORLD_N_SAID])
{
  g_autofree double *values = g_new (double, n);

  for (guint place = 0; place < WORLD_N_PLACES; place++)
    for (guint said = 0; said < WORLD_N_SAID; said++)
      {
        for (guint draw = 0; draw < n; draw++)
          values[draw] = seen[draw][place][said];
        width[place][said] = width_of (values, n);
      }
}

typedef double (*Seen)[WORLD_ORACLE_DRAWS][WORLD_N_PLACES][WORLD_N_SAID];

/* Each wick's vessel × wick drawn anew, with a pour or without; tells scores where there is none. */
static void
draw_oracle (const World     *self,
             const GPtrArray *aims,
             gboolean         pours,
             WbCalcRandom    *random,
             WorldWickTruth  *truths,
             Seen             seen)
{
  for (guint draw = 0; draw < WORLD_ORACLE_DRAWS; draw++)
    {
      WorldShift off[WORLD_MOST_WICKS], pour = world_draw_shift (random, WORLD_POUR_SD, 0.5);
      g_autoptr (Lab) lab = NULL;
      g_autofree LabTruth *drawn = NULL;

      for (guint w = 0; w < self->n_wicks; w++)
        for (guint f = 0; f < WORLD_N_FIGURES; f++)
          off[w].of[f] = self->off_sd.of[f] * wb_calc_random_normal (random);
      lab = world_lab_of_next (self, off, pours ? &pour : NULL);
      drawn = lab_truth_new_by (lab, aims, pours ? 2 : WORLD_ORACLE_CANDLES);
      for (guint w = 0; w < self->n_wicks; w++)
        {
          world_tell_figures (self, lab, &drawn[w], seen[w][draw]);
          if (!pours)
            truths[w].oracle_score[draw] = drawn[w].score;
        }
    }
}

static void
tell_oracle (const World     *self,
             const GPtrArray *aims,
             WorldWickTruth  *truths)
{
  g_autofree Seen seen = g_malloc (sizeof (*seen) * self->n_wicks);
  WbCalcRandom random;

  world_random_init (self, STREAM_ORACLE, &random);
  for (guint pours = 0; pours < 2; pours++)
    {
      draw_oracle (self, aims, pours, &random, truths, seen);
      for (guint w = 0; w < self->n_wicks; w++)
        world_tell_widths (&seen[w][0], WORLD_ORACLE_DRAWS, pours ? truths[w].oracle_pour_width : truths[w].oracle_width);
    }
}

WorldWickTruth *
world_truth_new (const World     *self,
                 const GPtrArray *aims)
{
  WorldWickTruth *truths = g_new0 (WorldWickTruth, self->n_wicks);
  g_autoptr (Lab) lab = world_lab_of_next (self, NULL, NULL);
  g_autoptr (Lab) poured = world_lab_of_next (self, NULL, &self->next_pour);
  g_autofree LabTruth *of_recipe = lab_truth_new (lab, aims);
  g_autofree LabTruth *of_pour = lab_truth_new_by (poured, aims, 2);
  WbCalcRandom random;

  world_random_init (self, STREAM_RIGHT, &random);
  for (guint w = 0; w < self->n_wicks; w++)
    {
      truths[w].score = of_recipe[w].score;
      world_tell_figures (self, lab, &of_recipe[w], truths[w].figure);
      world_tell_figures (self, poured, &of_pour[w], truths[w].next_pour);
      try_candles (self, lab, w, &random, &truths[w]);
    }
  tell_oracle (self, aims, truths);
  return truths;
}

guint
world_best (const World          *self,
            const WorldWickTruth *truth,
            const gboolean       *asked)
{
  guint best = G_MAXUINT;

  for (guint w = 0; w < self->n_wicks; w++)
    if (asked[w] && (best == G_MAXUINT || truth[w].score > truth[best].score))
      best = w;
  return best;
}

double
world_loss (const World          *self,
            const WorldWickTruth *truth,
            const gboolean       *asked,
            const gboolean       *chosen)
{
  double best = truth[world_best (self, truth, asked)].score, held = 0;

  for (guint w = 0; w < self->n_wicks; w++)
    if (asked[w] && chosen[w])
      held = fmax (held, truth[w].score);
  return best - held;
}

gboolean
world_holds (const World          *self,
             const WorldWickTruth *truth,
             const gboolean       *asked,
             const gboolean       *chosen,
             double                within)
{
  guint best = world_best (self, truth, asked);
  gboolean any = chosen[best];

  for (guint w = 0; w < self->n_wicks && within > 0; w++)
    any = any || (asked[w] && chosen[w] && truth[w].score >= truth[best].score - within);
  return any;
}

double
world_choose (const World         *self,
              const double *const *scores,
              guint                n_draws,
              const gboolean      *asked,
              gboolean            *chosen)
{
  guint wins[WORLD_MOST_WICKS] = { 0 };
  double said = 0;

  memset (chosen, 0, self->n_wicks * sizeof *chosen);
  for (guint draw = 0; draw < n_draws; draw++)
    {
      guint best = G_MAXUINT;

      for (guint w = 0; w < self->n_wicks; w++)
        if (asked[w] && (best == G_MAXUINT || scores[w][draw] > scores[best][draw]))
          best = w;
      wins[best]++;
    }
  for (guint i = 0; i < WORLD_SIZES; i++)
    {
      guint most = G_MAXUINT;

      for (guint w = 0; w < self->n_wicks; w++)
        if (asked[w] && !chosen[w] && (most == G_MAXUINT || wins[w] > wins[most]))
          most = w;
      if (most == G_MAXUINT)
        break;
      chosen[most] = TRUE;
      said += (double) wins[most] / n_draws;
    }
  return said;
}

double
world_oracle (const World          *self,
              const WorldWickTruth *truth,
              const gboolean       *asked,
              gboolean             *chosen)
{
  const double *scores[WORLD_MOST_WICKS];

  for (guint w = 0; w < self->n_wicks; w++)
    scores[w] = truth[w].oracle_score;
  return world_choose (self, scores, WORLD_ORACLE_DRAWS, asked, chosen);
}

void
world_chart (const World    *self,
             const gboolean *asked,
             gboolean       *chosen)
{
  guint series = 0, first;

  memset (chosen, 0, self->n_wicks * sizeof *chosen);
  for (guint w = self->n_wicks; w-- > 0;)
    if (asked[w])
      series = self->wicks[w].series;
  first = CLAMP ((int) self->charted[series] - 1, 0, (int) self->n_steps[series] - WORLD_SIZES);
  for (guint w = 0; w < self->n_wicks; w++)
    chosen[w] = self->wicks[w].series == series && self->wicks[w].step >= first && self->wicks[w].step < first + WORLD_SIZES;
}
