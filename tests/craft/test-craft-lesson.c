/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "test-craft.h"
#include "wb-craft-lesson.h"

/* What an answer of the data would teach. */
typedef struct
{
  WbDataset        *data;
  WbCraftFigures   *figures;
  WbCraftLimits    *limits;
  WbCraftEstimates *estimates;
  WbLesson         *lesson;
} Bench;

/* Takes the data. */
static void
bench_init (Bench     *bench,
            WbDataset *data)
{
  bench->data = data;
  bench->figures = wb_craft_figures_new (data);
  bench->limits = wb_craft_limits_new (data, bench->figures);
  bench->estimates = wb_craft_estimates_new (data, bench->figures, WB_STAGE_ALL, NULL, NULL, NULL);
  bench->lesson = wb_craft_lesson_new (data, bench->figures, bench->limits, bench->estimates);
}

static void
bench_clear (Bench *bench)
{
  wb_lesson_free (bench->lesson);
  wb_craft_estimates_free (bench->estimates);
  wb_craft_limits_free (bench->limits);
  wb_craft_figures_free (bench->figures);
  wb_dataset_free (bench->data);
}

static const WbLessonCell *
get_cell (const Bench *bench,
          guint        cell)
{
  return &g_array_index (bench->lesson->cells, WbLessonCell, cell);
}

static const WbLessonFigure *
find (const Bench *bench,
      guint        cell,
      WbFigure     figure,
      WbStage      stage,
      WbLessonLook look)
{
  for (guint i = 0; i < bench->lesson->figures->len; i++)
    {
      const WbLessonFigure *item = &g_array_index (bench->lesson->figures, WbLessonFigure, i);

      if (item->cell == cell && item->figure == figure && item->stage == stage && item->look == look)
        return item;
    }
  return NULL;
}

static char *
log_path (void)
{
  return g_test_build_filename (G_TEST_DIST, "data", "burn-log-clean.csv", NULL);
}

static void
test_says_what_the_answer_says (void)
{
  g_autofree char *path = log_path ();
  Bench bench;
  guint n_growth = 0, n_ends = 0;

  bench_init (&bench, test_craft_from_log (path));
  g_assert_cmpuint (bench.lesson->version, ==, WB_CRAFT_LESSON_VERSION);
  g_assert_cmpuint (bench.lesson->cells->len, ==, bench.data->cells->len);
  for (guint i = 0; i < bench.lesson->cells->len; i++)
    {
      const WbLessonCell *cell = get_cell (&bench, i);
      const WbCraftCell *of = &bench.estimates->cells[i];

      g_assert_cmpint (cell->cell, ==, wb_dataset_get_cell (bench.data, i)->record.id);
      g_assert_cmpstr (cell->series, ==, wb_dataset_get_wick (bench.data, i)->series);
      g_assert_cmpstr (cell->wax_name, ==, bench.data->wax->name);
      g_assert_cmpuint (cell->burns, ==, of->burns);
      g_assert_cmpuint (cell->samples, ==, of->samples);
      for (WbStage stage = 0; stage < WB_N_STAGES; stage++)
        {
          const WbCraftGrowth *growth = &of->stage_growth[stage];
          const WbLessonFigure *curve = find (&bench, i, WB_FIGURE_POOL_LIMIT, stage, WB_LESSON_LOOK_END);

          g_assert_true ((curve != NULL) == (growth->burns > 0));
          if (curve != NULL && wb_craft_fit_status_is_fitted (growth->status))
            {
              g_assert_cmpfloat (curve->mean, ==, growth->log_limit);
              g_assert_cmpfloat (curve->pace, ==, growth->log_tau);
              g_assert_cmpfloat (curve->covariance, ==, growth->cov);
              g_assert_cmpfloat (curve->variance, ==, growth->var_limit);
              n_growth++;
            }
          for (WbFigure figure = 0; figure < WB_N_FIGURES; figure++)
            {
              const WbCraftEstimate *estimate = &of->stage_figure[stage][figure];
              const WbLessonFigure *end = figure != WB_FIGURE_POOL_LIMIT ? find (&bench, i, figure, stage, WB_LESSON_LOOK_END) : NULL;

              g_assert_true (figure == WB_FIGURE_POOL_LIMIT || (end != NULL) == !isnan (estimate->mean));
              if (end == NULL)
                continue;
              g_assert_cmpfloat (end->mean, ==, estimate->mean);
              g_assert_cmpfloat (end->variance, ==, estimate->se * estimate->se);
              g_assert_cmpfloat (end->sample_sd, >=, 0);
              g_assert_cmpfloat (end->burn_sd, >=, 0);
              n_ends++;
            }
        }
    }
  g_assert_cmpuint (n_growth, >, 0);
  g_assert_cmpuint (n_ends, >, 20);
  bench_clear (&bench);
}

/* By figure, stage and look within each cell: the order in which it is kept. */
static void
test_has_an_order (void)
{
  g_autofree char *path = log_path ();
  Bench bench;

  bench_init (&bench, test_craft_from_log (path));
  for (guint i = 1; i < bench.lesson->figures->len; i++)
    {
      const WbLessonFigure *a = &g_array_index (bench.lesson->figures, WbLessonFigure, i - 1), *b = a + 1;

      g_assert_true (a->cell < b->cell
                     || (a->cell == b->cell && (a->figure < b->figure
                                                || (a->figure == b->figure && (a->stage < b->stage || (a->stage == b->stage && a->look < b->look))))));
    }
  bench_clear (&bench);
}

/* Records made in memory have ids of their own each time. */
static void
take_ids (WbLesson       *lesson,
          const WbLesson *from)
{
  lesson->experiment = from->experiment;
  lesson->protocol = from->protocol;
  for (guint i = 0; i < lesson->cells->len; i++)
    {
      WbLessonCell *cell = &g_array_index (lesson->cells, WbLessonCell, i);
      const WbLessonCell *other = &g_array_index (from->cells, WbLessonCell, i);

      cell->cell = other->cell;
      cell->wick = other->wick;
      cell->vessel = other->vessel;
      cell->wax = other->wax;
      cell->fragrance = other->fragrance;
      cell->dye = other->dye;
    }
}

static void
test_comes_out_the_same (void)
{
  g_autofree char *path = log_path ();
  g_autoptr (WbLesson) again = NULL;
  g_autoptr (WbLesson) copy = NULL;
  Bench bench, other;

  bench_init (&bench, test_craft_from_log (path));
  bench_init (&other, test_craft_from_log (path));
  again = wb_craft_lesson_new (bench.data, bench.figures, bench.limits, bench.estimates);
  copy = wb_lesson_copy (bench.lesson);
  g_assert_true (wb_lesson_equal (bench.lesson, again));
  take_ids (other.lesson, bench.lesson);
  g_assert_true (wb_lesson_equal (bench.lesson, other.lesson));
  g_assert_true (wb_lesson_equal (bench.lesson, copy));
  g_array_index (copy->figures, WbLessonFigure, copy->figures->len - 1).mean += 1e-15;
  g_assert_false (wb_lesson_equal (bench.lesson, copy));
  bench_clear (&other);
  bench_clear (&bench);
}

/* Two candles, four burns each: flames that end at 20 mm, and that are seen at 30 mm in one burn of each candle. */
static void
test_peaks_stand_above (void)
{
  WbDataset *data = test_craft_data_new ();
  guint cell = test_craft_add_cell (data, "Hob", 76.2, "Moor", "M-3", 3, 6);
  const WbLessonFigure *end, *worst, *peak;
  Bench bench;

  for (guint s = 0; s < 2; s++)
    {
      guint sample = test_craft_add_sample (data, cell, s == 0 ? "A" : "B");

      for (guint b = 0; b < 4; b++)
        {
          guint burn = test_craft_add_burn (data, sample);

          for (guint hour = 1; hour <= 4; hour++)
            test_craft_read (data, burn, 60.0 * hour, WB_COLUMN_FLAME_MM, hour == 2 && b == 1 ? 30 : 20);
        }
    }
  bench_init (&bench, data);
  end = find (&bench, 0, WB_FIGURE_FLAME, WB_STAGE_UPPER, WB_LESSON_LOOK_END);
  worst = find (&bench, 0, WB_FIGURE_FLAME, WB_STAGE_UPPER, WB_LESSON_LOOK_WORST);
  peak = find (&bench, 0, WB_FIGURE_FLAME, WB_STAGE_UPPER, WB_LESSON_LOOK_PEAK);
  g_assert_nonnull (end);
  g_assert_nonnull (worst);
  g_assert_nonnull (peak);
  g_assert_cmpfloat_with_epsilon (end->mean, log (20), 0.01);
  /* what the reader may have added to the highest of several is taken off, so that they stay a little below what was read */
  g_assert_cmpfloat (peak->mean, >, log (27));
  g_assert_cmpfloat (peak->mean, <=, log (30));
  g_assert_cmpfloat (worst->mean, >, end->mean);
  g_assert_cmpfloat (worst->mean, <, peak->mean);
  g_assert_cmpuint (end->burns, ==, 8);
  g_assert_cmpuint (peak->burns, ==, 2); /* one a candle */
  g_assert_cmpuint (peak->samples, ==, 2);
  bench_clear (&bench);
}

static void
add_flame (WbDataset *data,
           guint      sample,
           double     flame_mm)
{
  guint burn = test_craft_calm_burn (data, sample, 70, 1.2, 76.2);

  test_craft_read (data, burn, 240, WB_COLUMN_FLAME_MM, flame_mm);
}

static void
test_tells_what_crossed (void)
{
  WbDataset *data = test_craft_data_new ();
  guint calm = test_craft_add_cell (data, "Hob", 76.2, "Moor", "M-2", 2, 6);
  guint hot = test_craft_add_cell (data, "Hob", 76.2, "Moor", "M-3", 3, 6);
  guint aside = test_craft_add_cell (data, "Hob", 76.2, "Moor", "M-4", 4, 6);
  guint unburnt = test_craft_add_cell (data, "Hob", 76.2, "Moor", "M-5", 5, 6);
  guint s_calm = test_craft_add_sample (data, calm, "A"), s_hot = test_craft_add_sample (data, hot, "B");
  guint s_aside = test_craft_add_sample (data, aside, "C"), s_fine = test_craft_add_sample (data, aside, "D");
  Bench bench;

  test_craft_add_sample (data, unburnt, "E");
  add_flame (data, s_calm, 20);
  add_flame (data, s_hot, 90);
  add_flame (data, s_aside, 90);
  add_flame (data, s_fine, 20);
  ((WbSample *) g_ptr_array_index (data->samples, s_aside))->set_aside_cause = WB_CAUSE_OTHER;
  bench_init (&bench, data);
  /* what was not burnt taught nothing */
  g_assert_cmpuint (bench.lesson->cells->len, ==, 3);
  g_assert_cmpstr (get_cell (&bench, 0)->size, ==, "M-2");
  g_assert_false (get_cell (&bench, 0)->crossed);
  g_assert_cmpint (get_cell (&bench, 0)->crossed_limit, ==, -1);
  g_assert_true (get_cell (&bench, 1)->crossed);
  g_assert_true (get_cell (&bench, 1)->crossed_heat);
  g_assert_cmpfloat (get_cell (&bench, 1)->crossed_at, ==, 90);
  g_assert_cmpfloat (get_cell (&bench, 1)->crossed_min, ==, 240);
  g_assert_cmpstr (get_cell (&bench, 1)->crossed_sample, ==, "B");
  g_assert_cmpint (get_cell (&bench, 1)->crossed_burn, ==, 1);
  g_assert_cmpfloat (get_cell (&bench, 1)->crossed_stop, <, 90);
  g_assert_false (get_cell (&bench, 2)->crossed);
  g_assert_true (get_cell (&bench, 2)->uncleared);
  bench_clear (&bench);
}

/* Burnt to its end in the narrow vessel: pools at the wall; every third was read. */
static void
test_a_whole_life (void)
{
  WbDataset *data = test_craft_data_new ();
  guint cell = test_craft_add_cell (data, "Hob", 60, "Moor", "M-9", 9, 6);
  WbCraftPhysicsSpec spec = wb_craft_physics_spec_usual ();
  Bench bench;

  spec.inner_mm = 60;
  test_craft_burn_physics (data, cell, &spec, 2, 0, 3);
  bench_init (&bench, data);
  g_assert_cmpfloat (get_cell (&bench, 0)->reach, >, 0.9);
  g_assert_cmpfloat (get_cell (&bench, 0)->reach, <=, 1);
  for (WbStage stage = 0; stage < WB_N_STAGES; stage++)
    g_assert_nonnull (find (&bench, 0, WB_FIGURE_POOL_LIMIT, stage, WB_LESSON_LOOK_END));
  bench_clear (&bench);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/lesson/says-what-the-answer-says", test_says_what_the_answer_says);
  g_test_add_func ("/craft/lesson/has-an-order", test_has_an_order);
  g_test_add_func ("/craft/lesson/comes-out-the-same", test_comes_out_the_same);
  g_test_add_func ("/craft/lesson/peaks-stand-above-what-is-usual", test_peaks_stand_above);
  g_test_add_func ("/craft/lesson/tells-what-crossed-and-by-which-sample", test_tells_what_crossed);
  g_test_add_func ("/craft/lesson/a-whole-life-was-read-to-its-end", test_a_whole_life);
  return g_test_run ();
}
