/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "test-craft.h"
#include "wb-craft-ladder.h"

/* A question with all that it rests on. */
typedef struct
{
  GPtrArray *datasets, *estimates, *limits;
  GArray    *lessons;
  GPtrArray *wicks, *guides, *waxes;
  WbCraftLadderQuestion question;
} Bench;

static void
bench_init (Bench *bench)
{
  *bench = (Bench) {
    .datasets = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_dataset_free),
    .estimates = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_craft_estimates_free),
    .limits = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_craft_limits_free),
    .lessons = g_array_new (FALSE, FALSE, sizeof (WbCraftLesson)),
    .wicks = g_ptr_array_new (),
    .guides = g_ptr_array_new_with_free_func (wb_record_free),
    .waxes = g_ptr_array_new (),
    .question = { .inner_diameter_mm = 79.4, .wax = (char *) "Test wax", .load_pct = 6 },
  };
}

static void
bench_clear (Bench *bench)
{
  g_ptr_array_unref (bench->estimates);
  g_ptr_array_unref (bench->limits);
  g_ptr_array_unref (bench->wicks);
  g_ptr_array_unref (bench->datasets);
  g_array_unref (bench->lessons);
  g_ptr_array_unref (bench->guides);
  g_ptr_array_unref (bench->waxes);
}

/* Takes the data; its wicks and wax become known. */
static void
bench_learn (Bench     *bench,
             WbDataset *data)
{
  g_autoptr (WbCraftFigures) figures = wb_craft_figures_new (data);
  WbCraftLesson lesson = { data, wb_craft_estimates_new (data, figures, WB_STAGE_ALL, NULL, NULL, NULL),
                           wb_craft_limits_new (data, figures) };

  g_ptr_array_add (bench->datasets, data);
  g_ptr_array_add (bench->estimates, (gpointer) lesson.estimates);
  g_ptr_array_add (bench->limits, (gpointer) lesson.limits);
  g_array_append_val (bench->lessons, lesson);
  for (guint i = 0; i < data->wicks->len; i++)
    g_ptr_array_add (bench->wicks, g_ptr_array_index (data->wicks, i));
  g_ptr_array_add (bench->waxes, data->wax);
}

static WbCraftLadder *
bench_ask (Bench *bench)
{
  return wb_craft_ladder_new (&bench->question, bench->lessons, bench->wicks, bench->guides, bench->waxes, 1);
}

static const WbCraftLadderStep *
find_step (const WbCraftLadder *ladder,
           const char          *size)
{
  for (guint i = 0; i < ladder->steps->len; i++)
    if (g_str_equal (((WbCraftLadderStep *) g_ptr_array_index (ladder->steps, i))->size, size))
      return g_ptr_array_index (ladder->steps, i);
  g_assert_not_reached ();
}

static guint
count_in (const WbCraftLadder *ladder)
{
  guint n = 0;

  for (guint i = 0; i < ladder->steps->len; i++)
    n += ((WbCraftLadderStep *) g_ptr_array_index (ladder->steps, i))->in_ladder;
  return n;
}

/* What is told of the steps and of the whole fits together. */
static void
check_chances (const WbCraftLadder *ladder)
{
  double sum = 0, likeliest = 0, on_ladder = 0;

  for (guint i = 0; i < ladder->steps->len; i++)
    {
      const WbCraftLadderStep *step = g_ptr_array_index (ladder->steps, i);

      /* only what is right can be the best of what is right */
      g_assert_cmpfloat (step->p_best, <=, step->p_right + 1e-12);
      likeliest = MAX (likeliest, step->p_right);
      if (!step->in_ladder)
        continue;
      g_assert_cmpfloat (step->p_right, >, 0.01);
      on_ladder = MAX (on_ladder, step->p_right);
      sum += step->p_right;
    }
  g_assert_cmpfloat (ladder->p_holds_best, <=, MIN (sum, 1) + 1e-9);
  g_assert_cmpfloat (ladder->p_holds_best, >=, on_ladder - 1e-9);
  if (likeliest > 0.02)
    g_assert_cmpfloat (on_ladder, ==, likeliest);
}

static void
test_the_log_teaches (void)
{
  Bench bench;
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", "burn-log-clean.csv", NULL);
  g_autoptr (WbCraftLadder) ladder = NULL;
  g_autoptr (WbCraftLadder) again = NULL;

  bench_init (&bench);
  bench_learn (&bench, test_craft_from_log (path));
  ladder = bench_ask (&bench);
  g_test_message ("%s", ladder->answer);
  for (guint i = 0; i < ladder->steps->len; i++)
    {
      const WbCraftLadderStep *step = g_ptr_array_index (ladder->steps, i);

      g_test_message ("%s: right %.2f best %.2f %s", step->size, step->p_right, step->p_best, step->reason);
    }
  g_assert_cmpint (ladder->rests_on, ==, WB_CRAFT_RESTS_ON_HISTORY);
  g_assert_cmpuint (ladder->experiments->len, ==, 1);
  g_assert_cmpuint (ladder->steps->len, ==, 5);
  /* L-1 and L-2 stop short of the wall, L-5 is far too early: no third one is worth a pour */
  g_assert_cmpuint (count_in (ladder), ==, 2);
  /* the same vessel and scent as were burnt: L-3 took a little over three hours */
  g_assert_true (find_step (ladder, "L-3")->in_ladder);
  g_assert_true (find_step (ladder, "L-4")->in_ladder);
  g_assert_false (find_step (ladder, "L-1")->in_ladder);
  check_chances (ladder);
  g_assert_false (find_step (ladder, "L-3")->extrapolated);
  g_assert_cmpfloat_with_epsilon (find_step (ladder, "L-3")->pool_limit_mm.value, 84, 2.5);
  g_assert_cmpfloat (ladder->p_holds_best, >, 0.8);
  g_assert_cmpfloat (ladder->p_holds_best, <=, 1);
  g_assert_nonnull (strstr (ladder->answer, "No earlier candle was read near its end"));
  again = bench_ask (&bench);
  for (guint i = 0; i < ladder->steps->len; i++)
    g_assert_cmpfloat (((WbCraftLadderStep *) g_ptr_array_index (ladder->steps, i))->p_best, ==,
                       ((WbCraftLadderStep *) g_ptr_array_index (again->steps, i))->p_best);
  bench_clear (&bench);
}

static WbDataset *
burn_series (const char   *vessel,
             double        inner_mm,
             const double *strength,
             guint         n,
             guint         burns,
             guint64       seed)
{
  WbDataset *data = test_craft_data_new ();
  WbCraftPhysicsSpec spec = wb_craft_physics_spec_usual ();

  spec.inner_mm = inner_mm;
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *size = g_strdup_printf ("S-%u", i + 1);

      spec.strength_g_per_h = strength[i];
      test_craft_burn_physics (data, test_craft_add_cell (data, vessel, inner_mm, "Sedge", size, i + 1, 0), &spec, 2, burns, seed);
    }
  return data;
}

/* From a vessel of 76 mm to one of 70 and one of 84: the size that the model makes right is on the ladder. */
static void
test_another_vessel (void)
{
  const double strength[] = { 3.2, 3.7, 4.3, 5.0, 5.8, 6.7 };
  const double inner[] = { 70, 84 };

  for (guint v = 0; v < G_N_ELEMENTS (inner); v++)
    {
      Bench bench;
      g_autoptr (WbCraftLadder) ladder = NULL;
      guint best = 0;
      double least = INFINITY;
      g_autofree char *size = NULL;

      bench_init (&bench);
      bench_learn (&bench, burn_series ("Tern", 76.2, strength, 6, 3, 5));
      bench.question.inner_diameter_mm = inner[v];
      bench.question.load_pct = 0;
      ladder = bench_ask (&bench);
      for (guint i = 0; i < 6; i++)
        {
          WbCraftPhysicsSpec spec = wb_craft_physics_spec_usual ();
          double off;

          spec.inner_mm = inner[v];
          spec.strength_g_per_h = strength[i];
          off = fabs (wb_craft_physics_full_pool_h (&spec) / (inner[v] / 25.4) - 1);
          if (off < least)
            {
              least = off;
              best = i + 1;
            }
        }
      size = g_strdup_printf ("S-%u", best);
      g_test_message ("%g mm: %s; truly %s", inner[v], ladder->answer, size);
      check_chances (ladder);
      g_assert_true (find_step (ladder, size)->in_ladder);
      g_assert_true (find_step (ladder, size)->extrapolated); /* no vessel of that width was tried */
      g_assert_nonnull (strstr (find_step (ladder, size)->reason, "vessel outside those tried"));
      bench_clear (&bench);
    }
}

/* No single wick melts so wide a vessel: nothing is put forward, and the trade's way out is named. */
static void
test_too_wide_for_one_wick (void)
{
  const double strength[] = { 3.2, 3.7, 4.3, 5.0 };
  Bench bench;
  g_autoptr (WbCraftLadder) alone = NULL;
  g_autoptr (WbCraftLadder) many = NULL;

  bench_init (&bench);
  bench_learn (&bench, burn_series ("Tern", 76.2, strength, 4, 3, 5));
  bench.question.inner_diameter_mm = 180;
  bench.question.load_pct = 0;
  alone = bench_ask (&bench);
  g_test_message ("%s", alone->answer);
  check_chances (alone);
  g_assert_cmpuint (count_in (alone), ==, 0);
  g_assert_cmpfloat (alone->p_holds_best, ==, 0);
  g_assert_nonnull (strstr (alone->answer, "more than one wick (common practice)"));
  bench.question.wicks = 2;
  many = bench_ask (&bench);
  check_chances (many);
  g_assert_null (strstr (many->answer, "more than one wick"));
  bench_clear (&bench);
}

/* A series that was hot at the bottom: what would cross there is not put forward. */
static void
test_danger_is_foretold (void)
{
  Bench bench;
  WbDataset *data = test_craft_data_new ();
  WbCraftPhysicsSpec spec = wb_craft_physics_spec_usual ();
  g_autoptr (WbCraftLadder) ladder = NULL, untried = NULL;

  bench_init (&bench);
  spec.bottom_heat = 2.2;
  for (guint i = 0; i < 4; i++)
    {
      g_autofree char *size = g_strdup_printf ("S-%u", i + 1);

      spec.strength_g_per_h = 3.6 + 0.6 * i;
      test_craft_burn_physics (data, test_craft_add_cell (data, "Tern", 76.2, "Sedge", size, i + 1, 0), &spec, 2, 0, 5);
    }
  bench_learn (&bench, data);
  bench.question.inner_diameter_mm = 76.2;
  bench.question.load_pct = 0;
  ladder = bench_ask (&bench);
  g_assert_nonnull (strstr (find_step (ladder, "S-4")->reason, "where a limit was crossed"));
  g_assert_cmpfloat (find_step (ladder, "S-4")->p_right, <, 0.1);
  g_assert_null (strstr (ladder->answer, "No earlier candle"));
  bench.question.inner_diameter_mm = 79;
  untried = bench_ask (&bench);
  g_assert_nonnull (strstr (find_step (untried, "S-4")->reason, "may cross a limit"));
  g_assert_cmpfloat (find_step (untried, "S-4")->p_right, <, 0.2);
  bench_clear (&bench);
}

static WbWick *
new_wick (Bench      *bench,
          const char *series,
          const char *size,
          gint64      step,
          gint64      id)
{
  WbWick *wick = wb_record_new (&wb_wick_type);

  wick->record.id = id;
  wick->series = g_strdup (series);
  wick->size = g_strdup (size);
  wick->step = step;
  g_ptr_array_add (bench->wicks, wick);
  return wick;
}

static void
add_guide (Bench  *bench,
           gint64  wick,
           gint64  wax,
           double  from,
           double  to)
{
  WbWickGuide *guide = wb_record_new (&wb_wick_guide_type);

  guide->wick = wick;
  guide->wax = wax;
  guide->from_mm = from;
  guide->to_mm = to;
  g_ptr_array_add (bench->guides, guide);
}

static void
test_suppliers_guide (void)
{
  Bench bench;
  g_autoptr (WbCraftLadder) ladder = NULL;
  g_autoptr (WbCraftLadder) too_wide = NULL;
  const double middle[] = { 55, 62, 70, 78, 86 };

  bench_init (&bench);
  g_ptr_array_set_free_func (bench.wicks, wb_record_free);
  for (guint i = 0; i < 5; i++)
    {
      g_autofree char *size = g_strdup_printf ("F-%u", i + 1);

      new_wick (&bench, "Fescue", size, i + 1, i + 1);
      add_guide (&bench, i + 1, 0, middle[i] - 6, middle[i] + 6);
    }
  bench.question.inner_diameter_mm = 71;
  ladder = bench_ask (&bench);
  g_assert_cmpint (ladder->rests_on, ==, WB_CRAFT_RESTS_ON_SUPPLIER);
  g_assert_true (find_step (ladder, "F-2")->in_ladder);
  g_assert_true (find_step (ladder, "F-3")->in_ladder);
  g_assert_true (find_step (ladder, "F-4")->in_ladder);
  g_assert_cmpuint (count_in (ladder), ==, 3);
  g_assert_true (isnan (ladder->p_holds_best));
  g_assert_true (isnan (find_step (ladder, "F-3")->p_right));
  bench.question.inner_diameter_mm = 150;
  too_wide = bench_ask (&bench);
  g_assert_cmpuint (count_in (too_wide), ==, 0);
  bench_clear (&bench);
}

static void
test_no_basis (void)
{
  Bench bench;
  g_autoptr (WbCraftLadder) ladder = NULL;
  g_autoptr (WbCraftLadder) no_vessel = NULL;

  bench_init (&bench);
  g_ptr_array_set_free_func (bench.wicks, wb_record_free);
  new_wick (&bench, "Fescue", "F-1", 1, 1);
  ladder = bench_ask (&bench);
  g_assert_cmpint (ladder->rests_on, ==, WB_CRAFT_RESTS_ON_NOTHING);
  g_assert_true (g_str_has_prefix (ladder->answer, "No basis"));
  g_assert_cmpuint (count_in (ladder), ==, 0);
  bench.question.inner_diameter_mm = NAN;
  no_vessel = bench_ask (&bench);
  g_assert_true (g_str_has_prefix (no_vessel->answer, "No basis"));
  bench_clear (&bench);
}

static void
test_a_series_never_tried_is_named (void)
{
  Bench bench;
  const double strength[] = { 3.2, 3.7, 4.3, 5.0 };
  g_autoptr (WbCraftLadder) ladder = NULL;
  WbWick *stranger;

  bench_init (&bench);
  bench_learn (&bench, burn_series ("Tern", 76.2, strength, 4, 2, 5));
  bench.question.inner_diameter_mm = 76.2;
  bench.question.load_pct = 0;
  stranger = new_wick (&bench, "Fescue", "F-3", 3, 900);
  ladder = bench_ask (&bench);
  g_assert_nonnull (strstr (find_step (ladder, "F-3")->reason, "series never tried"));
  g_assert_true (find_step (ladder, "F-3")->extrapolated);
  /* and its foretold pool is far less sure */
  g_assert_cmpfloat (find_step (ladder, "F-3")->pool_limit_mm.high / find_step (ladder, "F-3")->pool_limit_mm.low, >,
                     1.2 * find_step (ladder, "S-3")->pool_limit_mm.high / find_step (ladder, "S-3")->pool_limit_mm.low);
  bench_clear (&bench);
  wb_record_free (stranger);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/ladder/the-sample-log-teaches", test_the_log_teaches);
  g_test_add_func ("/craft/ladder/another-vessel-gets-its-size", test_another_vessel);
  g_test_add_func ("/craft/ladder/too-wide-for-one-wick", test_too_wide_for_one_wick);
  g_test_add_func ("/craft/ladder/danger-near-the-end-is-foretold", test_danger_is_foretold);
  g_test_add_func ("/craft/ladder/without-history-it-rests-on-the-supplier", test_suppliers_guide);
  g_test_add_func ("/craft/ladder/without-either-there-is-no-basis", test_no_basis);
  g_test_add_func ("/craft/ladder/a-series-never-tried-is-named", test_a_series_never_tried_is_named);
  return g_test_run ();
}
