/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-craft.h"
#include "wb-craft-cohorts.h"

#include <math.h>
#include <string.h>

static WbDataset *
experiment_new (guint cells,
                guint samples)
{
  WbDataset *data = test_craft_data_new ();

  for (guint i = 0; i < cells; i++)
    {
      g_autofree char *size = g_strdup_printf ("S-%u", i + 1);
      guint cell = test_craft_add_cell (data, "Tern", 70, "Sedge", size, i + 1, 0);

      for (guint k = 0; k < samples; k++)
        {
          g_autofree char *code = g_strdup_printf ("S%u-%u", i + 1, k + 1);

          test_craft_add_sample (data, cell, code);
        }
    }
  return data;
}

static WbSample *
sample_of (const WbDataset *data,
           guint            sample)
{
  return (WbSample *) wb_dataset_get_sample (data, sample);
}

/* Each sample that counts is in one of n cohorts of at most `places`. */
static void
assert_divided (const WbCraftCohorts *cohorts,
                guint                 n,
                guint                 places)
{
  g_autofree guint *sizes = g_new0 (guint, n + 1);

  g_assert_cmpuint (cohorts->n_cohorts, ==, n);
  g_assert_cmpuint (cohorts->n_left_over, ==, 0);
  g_assert_cmpuint (cohorts->largest, <=, places);
  for (guint i = 0; i < cohorts->n_samples; i++)
    {
      g_assert_cmpint (cohorts->cohorts[i], >=, 1);
      g_assert_cmpint (cohorts->cohorts[i], <=, n);
      sizes[cohorts->cohorts[i]]++;
    }
  for (guint i = 1; i <= n; i++)
    g_assert_true (sizes[i] >= cohorts->smallest && sizes[i] <= cohorts->largest);
}

static void
assert_words (const WbCraftCohorts *cohorts,
              const char           *words)
{
  g_autofree char *said = wb_craft_cohorts_dup_words (cohorts);

  g_assert_cmpstr (said, ==, words);
}

static void
test_all_fit (void)
{
  g_autoptr (WbDataset) data = experiment_new (4, 3);
  g_autoptr (WbCraftCohorts) cohorts = wb_craft_cohorts_new (data, 12, 1, NULL, NULL);

  assert_divided (cohorts, 1, 12);
  g_assert_cmpint (cohorts->kind, ==, WB_CRAFT_COHORTS_ONE);
  g_assert_cmpfloat (cohorts->efficiency, ==, 1);
  assert_words (cohorts, "All 12 samples burn side by side: one cohort, and nothing is lost.");
}

/* 6 combinations, 4 of each, on 12 places: two of each in both cohorts; the first two samples in the first. */
static void
test_whole (void)
{
  g_autoptr (WbDataset) data = experiment_new (6, 4);
  g_autoptr (WbCraftCohorts) cohorts = wb_craft_cohorts_new (data, 12, 1, NULL, NULL);

  assert_divided (cohorts, 2, 12);
  g_assert_cmpint (cohorts->kind, ==, WB_CRAFT_COHORTS_WHOLE);
  g_assert_cmpfloat_with_epsilon (cohorts->efficiency, 1, 1e-9);
  for (guint i = 0; i < 24; i++)
    g_assert_cmpint (cohorts->cohorts[i], ==, i % 4 < 2 ? 1 : 2);
  assert_words (cohorts, "2 cohorts of 12. Each holds every combination: what differs between cohorts touches all of them alike, and nothing is lost.");
}

/* 7 combinations, 3 of each, a bench of 3: 7/9 (test-calc-blocks.c has the sources). */
static void
test_balanced (void)
{
  g_autoptr (WbDataset) data = experiment_new (7, 3);
  g_autoptr (WbCraftCohorts) cohorts = wb_craft_cohorts_new (data, 3, 5, NULL, NULL), again = wb_craft_cohorts_new (data, 3, 5, NULL, NULL);

  assert_divided (cohorts, 7, 3);
  g_assert_cmpint (cohorts->kind, ==, WB_CRAFT_COHORTS_MIXED);
  g_assert_cmpfloat_with_epsilon (cohorts->efficiency, 7.0 / 9, 1e-9);
  assert_words (cohorts, "7 cohorts of 3. Every pair of combinations burns side by side equally often: 78 of 100 parts of what one big bench would tell.");
  g_assert_cmpmem (cohorts->cohorts, 21 * sizeof (gint64), again->cohorts, 21 * sizeof (gint64));
  /* samples of a combination go out in the order of their codes */
  for (guint i = 0; i < 21; i++)
    if (i % 3 > 0)
      g_assert_cmpint (cohorts->cohorts[i], >=, cohorts->cohorts[i - 1]);
}

/* Eight sizes, three of each, on 12 places: 2 cohorts tell 98 of 100 parts (7 / (6 + 9/8)); whole duplicates would take 3. */
static void
test_fewer_evenings (void)
{
  g_autoptr (WbDataset) data = experiment_new (8, 3), small = experiment_new (5, 3);
  g_autoptr (WbCraftCohorts) cohorts = wb_craft_cohorts_new (data, 12, 1, NULL, NULL), whole = NULL;

  assert_divided (cohorts, 2, 12);
  g_assert_cmpfloat_with_epsilon (cohorts->efficiency, 7 / (6 + 9 / 8.0), 1e-9);
  g_assert_cmpuint (cohorts->whole, ==, 3);
  assert_words (cohorts, "2 cohorts of 12. Every pair of combinations burns side by side, 4 to 5 times: 98 of 100 parts of what one big bench would tell."
                         " Whole duplicates side by side would take 3 cohorts.");
  /* five of three on 5 places: whole at once */
  whole = wb_craft_cohorts_new (small, 5, 1, NULL, NULL);
  assert_divided (whole, 3, 5);
  g_assert_cmpint (whole->kind, ==, WB_CRAFT_COHORTS_WHOLE);
  g_assert_cmpuint (whole->whole, ==, 0);
}

/* One sample each and half of them on the bench: no comparison across. */
static void
test_apart (void)
{
  g_autoptr (WbDataset) data = experiment_new (8, 1);
  g_autoptr (WbCraftCohorts) cohorts = wb_craft_cohorts_new (data, 4, 1, NULL, NULL);
  g_autofree char *words = wb_craft_cohorts_dup_words (cohorts);

  assert_divided (cohorts, 2, 4);
  g_assert_cmpint (cohorts->kind, ==, WB_CRAFT_COHORTS_APART);
  g_assert_cmpfloat (cohorts->efficiency, ==, 0);
  g_assert_nonnull (strstr (words, "Some combinations never meet"));
}

/* Set aside or kept: neither counts nor takes a place, and the record keeps what it says of it. */
static void
test_not_counted (void)
{
  g_autoptr (WbDataset) data = experiment_new (4, 3);
  g_autoptr (WbCraftCohorts) cohorts = NULL;

  sample_of (data, 0)->set_aside_cause = WB_CAUSE_CAVITY;
  sample_of (data, 5)->retained = TRUE;
  sample_of (data, 5)->cohort = 9;
  cohorts = wb_craft_cohorts_new (data, 10, 1, NULL, NULL);
  g_assert_cmpuint (cohorts->n_cohorts, ==, 1);
  g_assert_cmpuint (cohorts->n_counted, ==, 10);
  g_assert_cmpint (cohorts->cohorts[0], ==, 0);
  g_assert_cmpint (cohorts->cohorts[5], ==, 9);
  g_assert_cmpuint (cohorts->n_left_over, ==, 0);
}

static void
record (WbDataset            *data,
        const WbCraftCohorts *cohorts)
{
  for (guint i = 0; i < cohorts->n_samples; i++)
    sample_of (data, i)->cohort = cohorts->cohorts[i];
}

/* What was burnt keeps its cohort; one that was burnt twice keeps all of its cohort together; the rest is divided anew, on a larger bench too. */
static void
test_burnt_stay (void)
{
  g_autoptr (WbDataset) data = experiment_new (7, 3);
  g_autoptr (WbCraftCohorts) first = wb_craft_cohorts_new (data, 3, 1, NULL, NULL), later = NULL;
  guint once = G_MAXUINT, twice = G_MAXUINT;
  gint64 closed;

  record (data, first);
  for (guint i = 0; i < 21; i++)
    {
      once = once == G_MAXUINT && first->cohorts[i] == 2 ? i : once;
      twice = twice == G_MAXUINT && first->cohorts[i] == 1 ? i : twice;
    }
  test_craft_add_burn (data, twice);
  test_craft_add_burn (data, twice);
  test_craft_add_burn (data, once);
  later = wb_craft_cohorts_new (data, 6, 1, NULL, NULL);
  closed = first->cohorts[twice];
  g_assert_cmpint (later->cohorts[once], ==, 2);
  for (guint i = 0; i < 21; i++)
    g_assert_cmpint (later->cohorts[i] == closed, ==, first->cohorts[i] == closed);
  /* 3 as they were and 18 on 6 places */
  g_assert_cmpuint (later->n_cohorts, ==, 4);
  g_assert_cmpuint (later->smallest, ==, 3);
  g_assert_cmpuint (later->largest, ==, 6);
}

/* Burnt before there was a plan: they are one cohort, and what was lit once may be joined. */
static void
test_strays (void)
{
  g_autoptr (WbDataset) data = experiment_new (5, 2);
  g_autoptr (WbCraftCohorts) cohorts = NULL;

  test_craft_add_burn (data, 3);
  test_craft_add_burn (data, 8);
  cohorts = wb_craft_cohorts_new (data, 5, 1, NULL, NULL);
  assert_divided (cohorts, 2, 5);
  g_assert_cmpint (cohorts->cohorts[3], ==, 1);
  g_assert_cmpint (cohorts->cohorts[8], ==, 1);
  /* 3 is of the second, 8 of the fifth: beside them a whole duplicate can be made */
  g_assert_cmpfloat_with_epsilon (cohorts->efficiency, 1, 1e-9);
}

static void
test_moved (void)
{
  g_autoptr (WbDataset) data = experiment_new (7, 3);
  g_autoptr (WbCraftCohorts) none = wb_craft_cohorts_read (data), planned = wb_craft_cohorts_new (data, 3, 1, NULL, NULL);
  g_autoptr (WbCraftCohorts) read = NULL, moved = NULL, alone = NULL, missing = NULL;
  gint64 to = planned->cohorts[0] == 7 ? 1 : 7;

  g_assert_cmpint (none->kind, ==, WB_CRAFT_COHORTS_NONE);
  g_assert_true (isnan (none->efficiency));
  g_assert_cmpuint (none->n_left_over, ==, 21);
  assert_words (none, "Not divided yet.");
  record (data, planned);
  read = wb_craft_cohorts_read (data);
  g_assert_cmpfloat_with_epsilon (read->efficiency, planned->efficiency, 1e-12);
  moved = wb_craft_cohorts_read_with (data, 0, to);
  g_assert_cmpfloat (moved->efficiency, <, read->efficiency);
  g_assert_cmpuint (moved->smallest, ==, 2);
  g_assert_cmpuint (moved->largest, ==, 4);
  alone = wb_craft_cohorts_read_with (data, 0, 8);
  g_assert_cmpuint (alone->n_cohorts, ==, 8);
  missing = wb_craft_cohorts_read_with (data, 0, 0);
  g_assert_cmpuint (missing->n_left_over, ==, 1);
  g_assert_cmpuint (missing->n_counted, ==, 20);
}

/* The one that was begun, however high its number; else the lowest that has any left. */
static void
test_running (void)
{
  g_autoptr (WbDataset) data = experiment_new (4, 2);
  gboolean ended[8] = { FALSE };

  g_assert_cmpint (wb_craft_cohorts_find_running (data, ended), ==, 0);
  for (guint i = 0; i < 8; i++)
    sample_of (data, i)->cohort = 1 + i % 2;
  g_assert_cmpint (wb_craft_cohorts_find_running (data, ended), ==, 1);
  test_craft_add_burn (data, 3);
  g_assert_cmpint (wb_craft_cohorts_find_running (data, ended), ==, 2);
  /* its only burnt one is at its end: the others still are of a cohort that was begun */
  ended[3] = TRUE;
  g_assert_cmpint (wb_craft_cohorts_find_running (data, ended), ==, 2);
  ended[1] = ended[5] = ended[7] = TRUE;
  g_assert_cmpint (wb_craft_cohorts_find_running (data, ended), ==, 1);
  ended[0] = ended[2] = ended[4] = ended[6] = TRUE;
  g_assert_cmpint (wb_craft_cohorts_find_running (data, ended), ==, 0);
}

/* A cohort that nobody poured yet keeps none that is there from the bench. */
static void
test_running_poured (void)
{
  g_autoptr (WbDataset) data = experiment_new (4, 2);
  gboolean ended[8] = { FALSE };

  for (guint i = 0; i < 8; i++)
    {
      sample_of (data, i)->cohort = 1 + i % 2;
      sample_of (data, i)->poured_on = i % 2 == 1 ? 20000 : WB_DAY_NONE;
    }
  g_assert_cmpint (wb_craft_cohorts_find_running (data, ended), ==, 2);
  sample_of (data, 6)->poured_on = 20001;
  g_assert_cmpint (wb_craft_cohorts_find_running (data, ended), ==, 1);
}

static gboolean
stop_at_third (double   done,
               gpointer n)
{
  g_assert_true (done >= 0 && done <= 1);
  return ++*(guint *) n < 3;
}

static void
test_stopped (void)
{
  g_autoptr (WbDataset) data = experiment_new (25, 4);
  guint n = 0;

  g_assert_null (wb_craft_cohorts_new (data, 12, 1, stop_at_third, &n));
  g_assert_cmpuint (n, ==, 3);
}

/* 200 samples on a bench of 12, 4 of each of 50 combinations. */
static void
test_two_hundred (void)
{
  g_autoptr (WbDataset) data = experiment_new (50, 4);
  g_autoptr (WbCraftCohorts) cohorts = wb_craft_cohorts_new (data, 12, 1, NULL, NULL);

  assert_divided (cohorts, 17, 12);
  g_assert_cmpuint (cohorts->smallest, ==, 11);
  g_assert_cmpfloat (cohorts->efficiency, >, 0.92);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/cohorts/all-fit", test_all_fit);
  g_test_add_func ("/craft/cohorts/whole-duplicates", test_whole);
  g_test_add_func ("/craft/cohorts/balanced", test_balanced);
  g_test_add_func ("/craft/cohorts/fewer-evenings", test_fewer_evenings);
  g_test_add_func ("/craft/cohorts/apart", test_apart);
  g_test_add_func ("/craft/cohorts/what-does-not-count", test_not_counted);
  g_test_add_func ("/craft/cohorts/what-was-burnt-stays", test_burnt_stay);
  g_test_add_func ("/craft/cohorts/burnt-before-there-was-a-plan", test_strays);
  g_test_add_func ("/craft/cohorts/one-moved-by-hand", test_moved);
  g_test_add_func ("/craft/cohorts/the-one-that-runs", test_running);
  g_test_add_func ("/craft/cohorts/an-unpoured-one-keeps-none-waiting", test_running_poured);
  g_test_add_func ("/craft/cohorts/stopped", test_stopped);
  g_test_add_func ("/craft/cohorts/two-hundred-on-twelve", test_two_hundred);
  return g_test_run ();
}
