/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "world-rounds.h"

#include <math.h>
#include <string.h>

#include "wb-craft-advice.h"
#include "wb-house.h"

#define MOST_CELLS 6
#define RUNNING 0.02          /* p_best of what can still win */

static void
copy_burns (const WbDataset *all,
            guint            of_sample,
            WbDataset       *to)
{
  guint sample = to->samples->len - 1;

  for (guint b = 0; b < all->burns->len; b++)
    {
      guint first, n, burn = to->burns->len;

      if (g_array_index (all->burn_sample, guint, b) != of_sample)
        continue;
      g_ptr_array_add (to->burns, wb_record_copy (g_ptr_array_index (all->burns, b)));
      g_array_append_val (to->burn_sample, sample);
      wb_readings_get_burn_rows (all->readings, b, &first, &n);
      for (guint row = first; row < first + n; row++)
        {
          guint copied = wb_readings_append (to->readings, wb_readings_get_id (all->readings, row), burn,
                                             wb_readings_get_elapsed_min (all->readings, row));

          for (WbColumn column = 0; column < WB_N_COLUMNS; column++)
            if (wb_readings_taken (all->readings, row, column))
              wb_readings_set (to->readings, copied, column, wb_readings_get (all->readings, row, column));
        }
    }
}

static gpointer
find_copy (const GPtrArray *from,
           gconstpointer    record,
           const GPtrArray *to)
{
  for (guint i = 0; i < from->len && record != NULL; i++)
    if (g_ptr_array_index (from, i) == record)
      return g_ptr_array_index (to, i);
  return NULL;
}

static void
copy_all (const GPtrArray *from,
          GPtrArray       *to)
{
  for (guint i = 0; i < from->len; i++)
    g_ptr_array_add (to, wb_record_copy (g_ptr_array_index (from, i)));
}

WbDataset *
world_take_samples (const WbDataset *all,
                    const guint     *counts)
{
  WbDataset *self = wb_dataset_new ();
  g_autofree guint *taken = g_new0 (guint, all->cells->len);

  self->notebook = wb_record_copy (all->notebook);
  self->experiment = wb_record_copy (all->experiment);
  self->protocol = wb_record_copy (all->protocol);
  self->profile = wb_record_copy (all->profile);
  self->wax = wb_record_copy (all->wax);
  copy_all (all->limits, self->limits);
  copy_all (all->aims, self->aims);
  copy_all (all->vessels, self->vessels);
  copy_all (all->wicks, self->wicks);
  copy_all (all->fragrances, self->fragrances);
  copy_all (all->cells, self->cells);
  for (guint c = 0; c < all->cells->len; c++)
    {
      g_ptr_array_add (self->cell_vessels, find_copy (all->vessels, g_ptr_array_index (all->cell_vessels, c), self->vessels));
      g_ptr_array_add (self->cell_wicks, find_copy (all->wicks, g_ptr_array_index (all->cell_wicks, c), self->wicks));
      g_ptr_array_add (self->cell_fragrances, find_copy (all->fragrances, g_ptr_array_index (all->cell_fragrances, c), self->fragrances));
    }
  for (guint s = 0; s < all->samples->len; s++)
    {
      guint cell = g_array_index (all->sample_cell, guint, s);

      if (taken[cell] >= counts[cell])
        continue;
      taken[cell]++;
      g_ptr_array_add (self->samples, wb_record_copy (g_ptr_array_index (all->samples, s)));
      g_array_append_val (self->sample_cell, cell);
      copy_burns (all, s, self);
    }
  return self;
}

void
world_share_equal (const WbCraftAnswer *answer,
                   double              *shares)
{
  for (guint c = 0; c < answer->data->cells->len; c++)
    shares[c] = 1.0 / answer->data->cells->len;
}

void
world_share_running (const WbCraftAnswer *answer,
                     double              *shares)
{
  const WbCraftGroup *group = &answer->ranking->groups[0];
  guint n = 0;

  for (guint i = 0; i < group->n_cells; i++)
    n += group->cells[i].p_best >= RUNNING;
  for (guint i = 0; i < group->n_cells; i++)
    shares[group->cells[i].cell] = group->cells[i].p_best >= RUNNING ? 1.0 / n : 0;
}

void
world_share_advised (const WbCraftAnswer *answer,
                     double              *shares)
{
  g_autoptr (WbCraftAdvice) advice = wb_craft_advice_new (answer->data, answer->figures, answer->limits, answer->estimates,
                                                          answer->ranking, NULL, WORLD_SURE, NULL, WB_INSTANT_NONE);

  for (guint i = 0; i < advice->groups[0].n_cells; i++)
    shares[advice->groups[0].cells[i].cell] = advice->groups[0].cells[i].share;
}

/* The sizes of a series nearest to what the chart names, as many as there are places. */
static guint
choose_cells (const World *self,
              gboolean    *tries)
{
  guint n = MIN (self->n_steps[0], MOST_CELLS);
  int first = CLAMP ((int) self->charted[0] - (int) n / 2, 0, (int) (self->n_steps[0] - n));

  memset (tries, 0, WORLD_MOST_WICKS * sizeof *tries);
  for (guint w = 0; w < self->n_wicks; w++)
    tries[w] = self->wicks[w].series == 0 && (int) self->wicks[w].step >= first && (int) self->wicks[w].step < first + (int) n;
  return n;
}

/* One test under way. */
typedef struct
{
  WbDataset *all;
  guint      n, counts[MOST_CELLS];
  double     owed[MOST_CELLS];      /* candles that its shares came to, less those that it got */
  double     score[MOST_CELLS], best;
} Test;

/* FALSE: no more are wanted, or there are no more. */
static gboolean
pour_round (Test                *test,
            const WbCraftAnswer *answer,
            WorldShare           share)
{
  double shares[MOST_CELLS] = { 0 };
  guint poured = 0;

  share (answer, shares);
  for (guint c = 0; c < test->n; c++)
    test->owed[c] = shares[c] > 0 ? test->owed[c] + WORLD_ROUND * shares[c] : 0;
  for (guint i = 0; i < WORLD_ROUND; i++)
    {
      guint most = G_MAXUINT;

      for (guint c = 0; c < test->n; c++)
        if (shares[c] > 0 && test->counts[c] < WORLD_MOST_SAMPLES && (most == G_MAXUINT || test->owed[c] > test->owed[most] + 1e-9))
          most = c;
      if (most == G_MAXUINT)
        break;
      test->counts[most]++;
      test->owed[most]--;
      poured++;
    }
  return poured > 0;
}

static guint
count_burnt (const Test *test)
{
  guint sum = 0;

  for (guint c = 0; c < test->n; c++)
    sum += test->counts[c];
  return sum;
}

static void
test_init (Test        *test,
           const World *self)
{
  gboolean tries[WORLD_MOST_WICKS];
  g_autoptr (Lab) lab = world_lab_of_next (self, NULL, &self->next_pour);
  g_autofree LabTruth *truth = NULL;
  guint c = 0;

  *test = (Test) { .best = -1 };
  test->n = choose_cells (self, tries);
  test->all = world_burn_next (self, tries, WORLD_MOST_SAMPLES, 0);
  truth = lab_truth_new (lab, test->all->aims);
  for (guint w = 0; w < self->n_wicks; w++)
    if (tries[w])
      {
        test->counts[c] = 1;
        test->score[c] = truth[w].score;
        test->best = fmax (test->best, truth[w].score);
        c++;
      }
}

/* What the best has that may be recommended at all. */
static double
best_allowed (const Test          *test,
              const WbCraftAnswer *answer)
{
  const WbCraftGroup *group = &answer->ranking->groups[0];
  double best = 0;

  for (guint i = 0; i < group->n_cells; i++)
    if (!group->cells[i].crossed)
      best = fmax (best, test->score[group->cells[i].cell]);
  return best;
}

/* TRUE: both came true. */
static gboolean
look (const Test          *test,
      const WbCraftAnswer *answer,
      WorldRounds         *rounds)
{
  const WbCraftRanked *leader = &answer->ranking->groups[0].cells[0];
  gboolean sure = leader->p_near >= WORLD_SURE;
  gboolean allowed = !leader->crossed && test->score[leader->cell] >= best_allowed (test, answer) - WORLD_NEAR;

  if (!rounds->sure)
    {
      rounds->sure = sure;
      rounds->samples = count_burnt (test);
      rounds->best = test->score[leader->cell] == test->best;
      rounds->near = test->score[leader->cell] >= test->best - WORLD_NEAR;
      rounds->allowed = allowed;
    }
  rounds->sure_and_near = sure && allowed;
  rounds->samples_until_both = count_burnt (test);
  return rounds->sure_and_near;
}

static void
trace_round (const Test          *test,
             const WbCraftAnswer *answer,
             GString             *trace)
{
  const WbCraftGroup *group = &answer->ranking->groups[0];

  for (guint c = 0; c < test->n; c++)
    for (guint i = 0; i < group->n_cells; i++)
      if (group->cells[i].cell == c)
        g_string_append_printf (trace, "  %s %u %.2f/%.2f true %.2f said %.2f%s", i == 0 ? ">" : "", test->counts[c], group->cells[i].p_best,
                                group->cells[i].p_near, test->score[c], group->cells[i].score.value,
                                group->cells[i].p_cross > 0.5 ? " hot" : "");
  g_string_append_c (trace, '\n');
}

WorldRounds
world_rounds_run (const World *self,
                  WorldShare   share,
                  GString     *trace)
{
  WorldRounds rounds = { 0 };
  g_autoptr (WbCraftAnswer) before = NULL;
  Test test;

  test_init (&test, self);
  rounds.cells = test.n;
  while (count_burnt (&test) <= WORLD_MOST_BURNT)
    {
      WbCraftAnswer *answer = wb_craft_answer_new_after (before != NULL ? before->estimates->memo : NULL,
                                                         world_take_samples (test.all, test.counts), NULL, WB_CRAFT_WITHIN_SCENT,
                                                         0, NULL, NULL);

      g_clear_pointer (&before, wb_craft_answer_unref);
      before = answer;
      rounds.rounds++;
      if (trace != NULL)
        trace_round (&test, answer, trace);
      if (look (&test, answer, &rounds) || !pour_round (&test, answer, share))
        break;
    }
  wb_dataset_free (test.all);
  return rounds;
}
