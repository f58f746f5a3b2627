/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-craft.h"
#include "wb-calc-random.h"
#include "wb-craft-answer.h"
#include "wb-craft-workers-private.h"

/* Cells that differ, two samples, two burns of four hours; soot is rated `soot_of_first` in the first burn. */
static WbDataset *
small_lab (double soot_of_first,
           double second_pool)
{
  WbDataset *data = test_craft_data_new ();
  WbCalcRandom random;

  wb_calc_random_init (&random, 5, 0);
  for (guint cell = 0; cell < 4; cell++)
    {
      g_autofree char *size = g_strdup_printf ("S-%u", cell + 1);

      test_craft_add_cell (data, "Tern", 76.2, "Sedge", size, cell + 1, 0);
      for (guint sample = 0; sample < 2; sample++)
        {
          g_autofree char *code = g_strdup_printf ("%u-%u", cell + 1, sample + 1);
          guint of = test_craft_add_sample (data, cell, code);

          for (guint k = 0; k < 2; k++)
            {
              guint burn = test_craft_calm_burn (data, of, 72 + 4 * cell + 2 * wb_calc_random_normal (&random), 1.3, 76.2);
              test_craft_read (data, burn, 241, WB_COLUMN_SOOT,
                               cell + sample + k == 0 ? soot_of_first : (cell + k) % 3);
            }
        }
    }
  /* the second reading of the first burn */
  test_craft_set (data, 1, WB_COLUMN_POOL_MM, second_pool);
  return data;
}

static void
same_answer (const WbCraftAnswer *one,
             const WbCraftAnswer *other)
{
  const WbCraftGroup *a = one->ranking->groups, *b = other->ranking->groups;

  g_assert_cmpuint (a->n_cells, ==, b->n_cells);
  g_assert_cmpmem (one->estimates->cells, one->estimates->n_cells * sizeof (WbCraftCell),
                   other->estimates->cells, other->estimates->n_cells * sizeof (WbCraftCell));
  for (guint i = 0; i < a->n_cells; i++)
    {
      g_assert_cmpuint (a->cells[i].cell, ==, b->cells[i].cell);
      g_assert_cmpmem (&a->cells[i].score, sizeof a->cells[i].score, &b->cells[i].score, sizeof b->cells[i].score);
      g_assert_cmpmem (a->cells[i].p_rank, a->n_cells * sizeof (double), b->cells[i].p_rank, a->n_cells * sizeof (double));
      g_assert_cmpfloat (a->cells[i].p_best, ==, b->cells[i].p_best);
      g_assert_cmpfloat (a->cells[i].p_cross, ==, b->cells[i].p_cross);
    }
}

/* What a new answer works out anew after another: how many fits. The answer is that from scratch, to the bit. */
static guint
made_after (double soot_of_first,
            double second_pool)
{
  g_autoptr (WbCraftAnswer) before = wb_craft_answer_new (small_lab (2, 56), NULL, WB_CRAFT_WITHIN_SCENT, 3, NULL, NULL);
  g_autoptr (WbCraftAnswer) anew
      = wb_craft_answer_new (small_lab (soot_of_first, second_pool), NULL, WB_CRAFT_WITHIN_SCENT, 3, NULL, NULL);
  g_autoptr (WbCraftAnswer) after = wb_craft_answer_new_after (before->estimates->memo, small_lab (soot_of_first, second_pool), NULL,
                                                               WB_CRAFT_WITHIN_SCENT, 3, NULL, NULL);

  same_answer (anew, after);
  g_assert_cmpuint (wb_craft_memo_get_made (anew->estimates->memo), ==, wb_craft_memo_get_kept (anew->estimates->memo));
  g_assert_cmpuint (wb_craft_memo_get_kept (after->estimates->memo), ==, wb_craft_memo_get_kept (anew->estimates->memo));
  g_assert_cmpuint (wb_craft_memo_get_made (anew->estimates->memo), >, 6);
  return wb_craft_memo_get_made (after->estimates->memo);
}

static void
test_only_what_is_touched (void)
{
  g_assert_cmpuint (made_after (2, 56), ==, 0);
  /* a rating of soot: its own figure and stage, one fit by the ratings' model */
  g_assert_cmpuint (made_after (3, 56), ==, 1);
  /* a pool amid a burn: growth of its stage with each cell for itself, and with cells that borrow */
  g_assert_cmpuint (made_after (2, 53), ==, 2);
}

static void
test_threads (void)
{
  g_autoptr (WbCraftAnswer) alone = NULL;

  wb_craft_workers_set_threads (1);
  alone = wb_craft_answer_new (small_lab (2, 56), NULL, WB_CRAFT_WITHIN_SCENT, 3, NULL, NULL);
  for (guint threads = 2; threads <= 4; threads++)
    {
      g_autoptr (WbCraftAnswer) together = NULL;

      wb_craft_workers_set_threads (threads);
      together = wb_craft_answer_new (small_lab (2, 56), NULL, WB_CRAFT_WITHIN_SCENT, 3, NULL, NULL);
      same_answer (alone, together);
    }
  wb_craft_workers_set_threads (0);
}

typedef struct
{
  double last, until;
} Patience;

static gboolean
lose_patience (double   done,
               gpointer user)
{
  Patience *self = user;

  g_assert_cmpfloat (done, >=, self->last - 1e-12);
  g_assert_cmpfloat (done, <=, 1);
  self->last = done;
  return done < self->until;
}

/* Progress goes one way and reaches the end; told to stop anywhere, there is no answer. */
static void
test_progress (void)
{
  static const double untils[] = { 0.05, 0.12, 0.3, 0.55, 0.7, 0.9, 2 };

  for (guint threads = 1; threads <= 2; threads++)
    for (guint i = 0; i < G_N_ELEMENTS (untils); i++)
      {
        Patience patience = { 0, untils[i] };
        g_autoptr (WbCraftAnswer) answer = NULL;

        wb_craft_workers_set_threads (threads);
        answer = wb_craft_answer_new (small_lab (2, 56), NULL, WB_CRAFT_WITHIN_SCENT, 3, lose_patience, &patience);
        g_assert_true ((answer != NULL) == (untils[i] > 1));
        g_assert_cmpfloat (patience.last, >=, MIN (untils[i], 1) - 1e-12);
      }
  wb_craft_workers_set_threads (0);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/memo/a-reading-costs-the-fits-of-its-own-figure-and-stage", test_only_what_is_touched);
  g_test_add_func ("/craft/memo/threads-change-no-bit", test_threads);
  g_test_add_func ("/craft/memo/progress-goes-one-way-and-stops-when-told", test_progress);
  return g_test_run ();
}
