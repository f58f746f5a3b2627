/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "test-craft-answer.h"
#include "test-craft-terms.h"
#include "test-craft.h"
#include "wb-craft-answer.h"

/*
 * Montgomery, Design and Analysis of Experiments, battery life: two factors at
 * three levels, four replicates (data as read on public course pages). The
 * published table: 10683.72, 39118.72, 9613.78, error 18230.75 on 27; F 7.91,
 * 28.97, 3.56. Here material plays the vessel and temperature the wick.
 */
static const double battery[3][3][4] = {
  { { 130, 155, 74, 180 }, { 34, 40, 80, 75 }, { 20, 70, 82, 58 } },
  { { 150, 188, 159, 126 }, { 136, 122, 106, 115 }, { 25, 70, 58, 45 } },
  { { 138, 110, 168, 160 }, { 174, 120, 150, 139 }, { 96, 104, 82, 60 } },
};

static void
test_published_two_way_table (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftEffects) self = NULL;
  const struct { const char *key; double df, sum_sq, f; } table[] = {
    { "vessel", 2, 10683.72, 7.91 }, { "wick", 2, 39118.72, 28.97 }, { "vessel:wick", 4, 9613.78, 3.56 },
    { "residual", 27, 18230.75, NAN },
  };

  for (guint m = 0; m < 3; m++)
    for (guint t = 0; t < 3; t++)
      {
        guint cell = test_craft_add_cell (data, m == 0 ? "A" : m == 1 ? "B" : "C", 70 + m, "Sedge",
                                          t == 0 ? "15" : t == 1 ? "70" : "125", t + 1, 0);

        for (guint k = 0; k < 4; k++)
          test_craft_add_value (data, cell, "x", WB_COLUMN_VESSEL_C, battery[m][t][k]);
      }
  self = test_craft_effects (data, WB_FIGURE_VESSEL);
  g_assert_null (self->refusal);
  g_assert_cmpuint (self->n, ==, 36);
  g_assert_cmpuint (self->terms->len, ==, 4);
  for (guint i = 0; i < G_N_ELEMENTS (table); i++)
    {
      const WbCraftTerm *term = test_craft_find_term (self, table[i].key);

      g_assert_cmpfloat (term->df, ==, table[i].df);
      g_assert_cmpfloat_with_epsilon (term->sum_sq, table[i].sum_sq, 0.006);
      if (isnan (table[i].f))
        g_assert_true (isnan (term->f) && isnan (term->p));
      else
        g_assert_cmpfloat_with_epsilon (term->f, table[i].f, 0.006);
    }
  g_assert_nonnull (strstr (self->finding, "wick"));
  g_assert_true (isnan (self->rank_h));
}

static void
test_one_sample_a_cell (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftEffects) self = NULL;

  for (guint m = 0; m < 2; m++)
    for (guint t = 0; t < 3; t++)
      test_craft_add_value (data, test_craft_add_cell (data, m == 0 ? "A" : "B", 70 + m, "Sedge", t == 0 ? "1" : t == 1 ? "2" : "3", t + 1, 0),
                 "x", WB_COLUMN_VESSEL_C, 40 + 5 * t + m + (m * t == 2 ? 0.3 : 0));
  self = test_craft_effects (data, WB_FIGURE_VESSEL);
  /* the grid cannot carry the interaction: it is what judges the rest */
  g_assert_nonnull (test_craft_find_term (self, "vessel"));
  g_assert_nonnull (test_craft_find_term (self, "wick"));
  g_assert_null (test_craft_find_term (self, "vessel:wick"));
  g_assert_cmpfloat (test_craft_find_term (self, "residual")->df, ==, 2);
}

static void
test_refusals (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftEffects) none = test_craft_effects (data, WB_FIGURE_FLAME);
  g_autoptr (WbCraftEffects) one = NULL;
  g_autoptr (WbCraftEffects) few = NULL;

  g_assert_nonnull (none->refusal);
  g_assert_cmpuint (none->terms->len, ==, 0);
  test_craft_add_value (data, test_craft_add_cell (data, "A", 70, "Sedge", "1", 1, 0), "x", WB_COLUMN_VESSEL_C, 40);
  one = test_craft_effects (data, WB_FIGURE_VESSEL);
  g_assert_nonnull (strstr (one->refusal, "nothing to compare"));
  test_craft_add_value (data, test_craft_add_cell (data, "A", 70, "Sedge", "2", 2, 0), "y", WB_COLUMN_VESSEL_C, 45);
  few = test_craft_effects (data, WB_FIGURE_VESSEL);
  g_assert_nonnull (strstr (few->refusal, "Too few samples"));
  g_assert_null (few->finding);
}

static void
test_set_aside_is_left_out (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftEffects) self = NULL;

  for (guint t = 0; t < 2; t++)
    {
      guint cell = test_craft_add_cell (data, "A", 70, "Sedge", t == 0 ? "1" : "2", t + 1, 0);

      for (guint k = 0; k < 3; k++)
        test_craft_add_value (data, cell, "x", WB_COLUMN_VESSEL_C, 40 + t + k);
    }
  ((WbSample *) g_ptr_array_index (data->samples, 0))->set_aside = g_strdup ("wrong pour");
  self = test_craft_effects (data, WB_FIGURE_VESSEL);
  g_assert_cmpuint (self->n, ==, 5);
}

static void
test_ratings_go_by_rank_too (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftEffects) self = NULL;

  for (guint t = 0; t < 3; t++)
    {
      guint cell = test_craft_add_cell (data, "A", 70, "Sedge", t == 0 ? "1" : t == 1 ? "2" : "3", t + 1, 0);

      for (guint k = 0; k < 3; k++)
        test_craft_add_value (data, cell, "x", WB_COLUMN_SOOT, t == 2 ? 2 + k % 2 : k % 2);
    }
  self = test_craft_effects (data, WB_FIGURE_SOOT);
  g_assert_cmpfloat (self->rank_df, ==, 2);
  g_assert_cmpfloat (self->rank_p, <, 0.1);
}

static void
test_sample_log (void)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", "burn-log-clean.csv", NULL);
  g_autoptr (WbDataset) data = test_craft_from_log (path);

  for (WbFigure figure = 0; figure < WB_N_FIGURES; figure++)
    {
      g_autoptr (WbCraftEffects) self = test_craft_effects (data, figure);

      g_test_message ("%s: n %u: %s", wb_figure_get_key (figure), self->n,
                      self->refusal != NULL ? self->refusal : self->finding);
      for (guint i = 0; i < self->terms->len; i++)
        {
          const WbCraftTerm *term = g_ptr_array_index (self->terms, i);

          g_assert_cmpfloat (term->df, >, 0);
          g_assert_true (isfinite (term->sum_sq));
        }
      if (figure == WB_FIGURE_CONSUMPTION || figure == WB_FIGURE_POOL_LIMIT || figure == WB_FIGURE_SCORE)
        {
          g_assert_cmpuint (self->n, ==, 40);
          g_assert_cmpuint (self->terms->len, ==, 8);
          g_assert_cmpfloat (test_craft_find_term (self, "wick")->p, <, 0.001);
          g_assert_cmpuint (self->comparisons->len, ==, 10);
        }
      if (figure == WB_FIGURE_THROW || figure == WB_FIGURE_SMOKE)
        g_assert_nonnull (self->refusal); /* throw was never rated alone, smoke never looked for */
    }
}

/* A grid whose vessels got different wicks: the wider one pools deeper whatever the wick, and must not lend that to its wicks. */
static void
test_an_uneven_grid_compares_like_with_like (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftEffects) self = NULL;
  const struct { guint vessel, wick; } cells[] = { { 0, 1 }, { 0, 2 }, { 1, 2 }, { 1, 3 } };
  const double rest[] = { -0.1, 0.1 };

  for (guint i = 0; i < G_N_ELEMENTS (cells); i++)
    {
      g_autofree char *size = g_strdup_printf ("%u", cells[i].wick);
      guint cell = test_craft_add_cell (data, cells[i].vessel == 0 ? "A" : "B", 70 + cells[i].vessel, "Sedge", size, cells[i].wick, 0);

      /* one degree a size; the second vessel ten degrees cooler */
      for (guint k = 0; k < 2; k++)
        test_craft_add_value (data, cell, "x", WB_COLUMN_VESSEL_C, 50 + cells[i].wick - 10.0 * cells[i].vessel + rest[k]);
    }
  self = test_craft_effects (data, WB_FIGURE_VESSEL);
  g_test_message ("%s", self->finding);
  g_assert_cmpuint (self->comparisons->len, ==, 2);
  for (guint i = 0; i < 2; i++)
    {
      const WbCraftComparison *pair = g_ptr_array_index (self->comparisons, i);

      /* two samples of a kind are 0.2 degrees apart, so that their geometric mean is theirs to a thousandth of that */
      g_assert_cmpfloat_with_epsilon (pair->difference.value, 1, 1e-3);
    }
  g_assert_nonnull (strstr (self->finding, "vessel"));
  g_assert_nonnull (strstr (self->finding, "Like with like, A, 70\302\240mm is furthest above: 10.0\302\240°C more than B, 71\302\240mm."));
  g_assert_nonnull (strstr (self->finding, "not compared: 1 with 3."));
}

static void
test_no_two_alike (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftEffects) self = NULL;

  for (guint i = 0; i < 2; i++)
    {
      guint cell = test_craft_add_cell (data, i == 0 ? "A" : "B", 70 + i, "Sedge", i == 0 ? "1" : "2", i + 1, 0);

      for (guint k = 0; k < 2; k++)
        test_craft_add_value (data, cell, "x", WB_COLUMN_VESSEL_C, 50 + 5 * i + 0.1 * k);
    }
  self = test_craft_effects (data, WB_FIGURE_VESSEL);
  g_assert_cmpuint (self->comparisons->len, ==, 0);
  g_assert_nonnull (strstr (self->finding, "none are compared"));
}

static void
test_all_alike (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftEffects) self = NULL;

  for (guint t = 0; t < 2; t++)
    for (guint k = 0, cell = test_craft_add_cell (data, "A", 70, "Sedge", t == 0 ? "1" : "2", t + 1, 0); k < 2; k++)
      test_craft_add_value (data, cell, "x", WB_COLUMN_VESSEL_C, 50);
  self = test_craft_effects (data, WB_FIGURE_VESSEL);
  g_assert_true (g_str_has_prefix (self->finding, "No difference shows beyond that between samples of one kind. "
                                   "All are at 50.0\302\240°C on average. One step up makes between "));
  g_assert_cmpfloat (((WbCraftComparison *) g_ptr_array_index (self->comparisons, 0))->p, ==, 1);
}

/* Throw is rated in burns of its own, on some samples: it has effects, and does not take the others' score away. */
static void
test_throw_has_burns_of_its_own (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftEffects) throws = NULL;
  g_autoptr (WbCraftEffects) scores = NULL;

  for (guint t = 0; t < 2; t++)
    {
      guint cell = test_craft_add_cell (data, "A", 76.2, "Sedge", t == 0 ? "1" : "2", t + 1, 8);

      for (guint k = 0; k < 5; k++)
        {
          guint sample = test_craft_add_sample (data, cell, "x"), burn, row;

          for (guint b = 0; b < 2; b++)
            test_craft_calm_burn (data, sample, 86 + 2 * t, 1.2, 76.2);
          if (k > 1)
            continue;
          burn = test_craft_add_burn (data, sample);
          ((WbBurn *) g_ptr_array_index (data->burns, burn))->kind = WB_BURN_THROW;
          row = test_craft_read (data, burn, 60, WB_COLUMN_THROW, 2 + t + k);
          test_craft_set (data, row, WB_COLUMN_ALONE, 1);
        }
    }
  throws = test_craft_effects (data, WB_FIGURE_THROW);
  scores = test_craft_effects (data, WB_FIGURE_SCORE);
  g_assert_null (throws->refusal);
  g_assert_cmpuint (throws->n, ==, 4);
  g_assert_null (scores->refusal);
  g_assert_cmpuint (scores->n, ==, 10);
  g_assert_nonnull (strstr (scores->finding, "for want of readings on most samples: Hot throw (upper third)."));
}

/* An answer works the effects of a figure out once, and keeps them. */
static void
test_an_answer_keeps_them (void)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", "burn-log-clean.csv", NULL);
  WbDataset *data = test_craft_from_log (path);
  g_autoptr (WbCraftAnswer) answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  g_autoptr (WbCraftEffects) fresh = test_craft_effects (data, WB_FIGURE_FLAME);
  const WbCraftEffects *kept = wb_craft_answer_get_effects (answer, WB_FIGURE_FLAME);

  g_assert_cmpstr (kept->finding, ==, fresh->finding);
  g_assert_true (wb_craft_answer_get_effects (answer, WB_FIGURE_FLAME) == kept);
  g_assert_true (wb_craft_answer_get_effects (answer, WB_FIGURE_SOOT) != kept);
}

static void
test_labels (void)
{
  const struct { const char *key, *label; } cases[] = {
    { "wick", "wick" }, { "vessel:wick:scent", "vessel × wick × scent" }, { "residual", "rest" }
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *label = wb_craft_term_dup_label (cases[i].key);

      g_assert_cmpstr (label, ==, cases[i].label);
    }
}

static gpointer
ask_for_flame (gpointer answer)
{
  return (gpointer) wb_craft_answer_get_effects (answer, WB_FIGURE_FLAME);
}

/* Asked by several threads at once, all get the same, which lives as long as the answer. */
static void
test_asked_by_many (void)
{
  static const double strength[] = { 3.4, 4.4 };
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;
  GThread *threads[8];
  gpointer first = NULL;

  test_craft_add_wicks (data, strength, 2, 2, 2, 0.6);
  answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    threads[i] = g_thread_new ("effects", ask_for_flame, answer);
  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    {
      gpointer got = g_thread_join (threads[i]);

      g_assert_nonnull (got);
      first = i == 0 ? got : first;
      g_assert_true (got == first);
    }
  g_assert_cmpint (((const WbCraftEffects *) first)->figure, ==, WB_FIGURE_FLAME);
  g_assert_true (wb_craft_answer_get_effects (answer, WB_FIGURE_FLAME) == first);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/effects/a-published-two-way-table", test_published_two_way_table);
  g_test_add_func ("/craft/effects/one-sample-a-cell-carries-no-interaction", test_one_sample_a_cell);
  g_test_add_func ("/craft/effects/what-cannot-be-told-is-refused-in-words", test_refusals);
  g_test_add_func ("/craft/effects/a-sample-set-aside-is-left-out", test_set_aside_is_left_out);
  g_test_add_func ("/craft/effects/ratings-go-by-rank-too", test_ratings_go_by_rank_too);
  g_test_add_func ("/craft/effects/the-sample-log-has-an-answer-for-every-figure", test_sample_log);
  g_test_add_func ("/craft/effects/an-uneven-grid-compares-like-with-like", test_an_uneven_grid_compares_like_with_like);
  g_test_add_func ("/craft/effects/no-two-alike-are-not-compared", test_no_two_alike);
  g_test_add_func ("/craft/effects/all-alike-is-said", test_all_alike);
  g_test_add_func ("/craft/effects/throw-has-burns-of-its-own", test_throw_has_burns_of_its_own);
  g_test_add_func ("/craft/effects/an-answer-keeps-them", test_an_answer_keeps_them);
  g_test_add_func ("/craft/effects/terms-have-labels", test_labels);
  g_test_add_func ("/craft/effects/asked-by-many-at-once", test_asked_by_many);
  return g_test_run ();
}
