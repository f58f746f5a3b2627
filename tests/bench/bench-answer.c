/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <time.h>

#include "test-craft.h"
#include "wb-calc-random.h"
#include "wb-craft-answer.h"

/*
 * The answer of an experiment of 200 samples, invented: what it costs to answer again after
 * one more rating, or one more pool, as a share of answering from scratch in the same run;
 * and the longest work that a cancel has to wait for, as a share of the whole.
 *
 *   bench-answer
 */

#define N_VESSELS 10
#define N_STEPS 10
#define N_SAMPLES 2
#define N_BURNS 3

typedef struct
{
  double last;
  double longest; /* between two questions, seconds of the asking thread */
} Patience;

static double
cpu_now (clockid_t clock)
{
  struct timespec now;

  clock_gettime (clock, &now);
  return (double) now.tv_sec + 1e-9 * (double) now.tv_nsec;
}

static gboolean
wait_patiently (double   done,
                gpointer user)
{
  Patience *self = user;
  double now = cpu_now (CLOCK_THREAD_CPUTIME_ID);

  self->longest = MAX (self->longest, now - self->last);
  self->last = now;
  return TRUE;
}

static WbDataset *
make (double soot,
      double pool_mm)
{
  WbDataset *data = test_craft_data_new ();
  WbCalcRandom random;

  wb_calc_random_init (&random, 1, 0);
  for (guint cell = 0; cell < N_VESSELS * N_STEPS; cell++)
    {
      guint step = cell % N_STEPS;
      double inner = 66 + cell / N_STEPS, limit = inner * (0.9 + 0.03 * step + 0.02 * wb_calc_random_normal (&random));
      g_autofree char *vessel = g_strdup_printf ("Vessel %u", cell / N_STEPS), *size = g_strdup_printf ("S-%u", step + 1);

      test_craft_add_cell (data, vessel, inner, "Sedge", size, step + 1, 0);
      for (guint sample = 0; sample < N_SAMPLES; sample++)
        {
          g_autofree char *code = g_strdup_printf ("%u-%u", cell + 1, sample + 1);
          double of_sample = limit * exp (0.04 * wb_calc_random_normal (&random));
          guint of = test_craft_add_sample (data, cell, code);

          for (guint k = 0; k < N_BURNS; k++)
            {
              guint burn = test_craft_calm_burn (data, of, of_sample * exp (0.025 * wb_calc_random_normal (&random)), 1.2, inner);
              double latent = step / 4.0 + 0.5 * wb_calc_random_normal (&random);

              test_craft_read (data, burn, 241, WB_COLUMN_SOOT, CLAMP (round (latent), 0, 4));
              test_craft_read (data, burn, 242, WB_COLUMN_FLAME_MM, 14 + 2 * step + wb_calc_random_normal (&random));
            }
        }
    }
  /* the first reading of the first burn, and the one after its end */
  test_craft_set (data, 0, WB_COLUMN_POOL_MM, pool_mm);
  test_craft_set (data, 4, WB_COLUMN_SOOT, soot);
  return data;
}

static WbCraftAnswer *
answer (WbCraftMemo *before,
        double       soot,
        double       pool_mm,
        double      *cpu,
        Patience    *patience)
{
  WbDataset *data = make (soot, pool_mm);
  double from = cpu_now (CLOCK_PROCESS_CPUTIME_ID);
  WbCraftAnswer *made;

  patience->last = cpu_now (CLOCK_THREAD_CPUTIME_ID);
  made = wb_craft_answer_new_after (before, data, NULL, WB_CRAFT_WITHIN_SCENT, 1, wait_patiently, patience);
  wait_patiently (1, patience);
  *cpu = cpu_now (CLOCK_PROCESS_CPUTIME_ID) - from;
  return made;
}

int
main (int    argc,
      char **argv)
{
  Patience patience = { 0 }, other = { 0 };
  double scratch, rated, read;
  g_autoptr (WbCraftAnswer) first = NULL, after_rating = NULL, after_pool = NULL;

  test_craft_init (&argc, &argv);
  first = answer (NULL, 0, 35, &scratch, &patience);
  after_rating = answer (first->estimates->memo, 1, 35, &rated, &other);
  after_pool = answer (first->estimates->memo, 0, 36, &read, &other);
  g_print ("answer of %u samples: again after a rating %.2f, after a pool %.2f of the CPU time from scratch (%.2f s), "
           "%u and %u of %u fits; the asking thread works at most %.3f of that (%.2f s) between two questions whether to go on\n",
           first->data->samples->len, rated / scratch, read / scratch, scratch,
           wb_craft_memo_get_made (after_rating->estimates->memo), wb_craft_memo_get_made (after_pool->estimates->memo),
           wb_craft_memo_get_made (first->estimates->memo), patience.longest / scratch, patience.longest);
  return 0;
}
