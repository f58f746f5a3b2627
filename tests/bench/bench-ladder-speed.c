/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-ladder-speed.h"

#include <glib/gstdio.h>
#include <gsl/gsl_errno.h>
#include <math.h>
#include <sqlite3.h>
#include <stdlib.h>
#include <time.h>

#include "wb-app-answers.h"
#include "wb-app-lessons-private.h"
#include "wb-app-reader-private.h"
#include "wb-calc-random.h"
#include "wb-clock.h"
#include "wb-craft-lesson.h"
#include "wb-reading.h"
#include "wb-store-change.h"
#include "wb-store-dataset.h"
#include "wb-store-records.h"

/*
 * A ladder asked of a notebook of 1,000 experiments, whose lessons are written straight into the file, against SQLite going through the same
 * rows and nothing else. Then one of them gets a reading more and the ladder is asked again, against all of it made anew. All of it is
 * invented. `bench-ladder-speed N`: of so many.
 */

#define EXPERIMENTS 1000
#define SERIES 4
#define SIZES 8
#define VESSELS 12
#define WAXES 5
#define CELLS 6
#define TURNS 5
#define ASKS 3
#define BURNT_SAMPLES 2
#define BURNT_BURNS 4

static const char *const tables[] = { "derived_lesson", "derived_lesson_cell", "derived_lesson_figure" };

typedef struct
{
  gint64 wicks[SERIES][SIZES], vessels[VESSELS], waxes[WAXES], protocol, profile;
  GArray *experiments; /* gint64 */
  GArray *cells;       /* gint64, CELLS an experiment */
} World;

double
bench_cpu_now (void)
{
  struct timespec at;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &at);
  return (double) at.tv_sec + 1e-9 * (double) at.tv_nsec;
}

static double
inner_of (guint vessel)
{
  return 58 + 3.0 * vessel;
}

static gint64
put (WbStoreChange *change,
     gpointer       record)
{
  g_autoptr (GError) error = NULL;
  gint64 id;

  if (!wb_store_change_put (change, record, &error))
    g_error ("%s", error->message);
  id = ((WbRecord *) record)->id;
  wb_record_free (record);
  return id;
}

static WbStoreChange *
begin (WbStore    *store,
       const char *why)
{
  g_autoptr (GError) error = NULL;
  WbStoreChange *change = wb_store_begin (store, WB_ENTRY_EDIT, "plan", "bench", why, wb_clock_now (wb_clock_get ()), &error);

  if (change == NULL)
    g_error ("%s", error->message);
  return change;
}

static void
commit (WbStoreChange *change)
{
  g_autoptr (GError) error = NULL;

  if (!wb_store_commit (change, NULL, &error))
    g_error ("%s", error->message);
}

static void
make_materials (WbStore *store,
                World   *world)
{
  WbStoreChange *change = begin (store, "Materials");

  for (guint s = 0; s < SERIES; s++)
    for (guint k = 0; k < SIZES; k++)
      {
        WbWick *wick = wb_record_new (&wb_wick_type);

        wick->series = g_strdup_printf ("Reed %c", 'A' + s);
        wick->size = g_strdup_printf ("%u", k + 1);
        wick->step = k + 1;
        world->wicks[s][k] = put (change, wick);
      }
  for (guint v = 0; v < VESSELS; v++)
    {
      WbVessel *vessel = wb_record_new (&wb_vessel_type);

      vessel->name = g_strdup_printf ("Vessel %u", v + 1);
      vessel->inner_diameter_mm = inner_of (v);
      world->vessels[v] = put (change, vessel);
    }
  for (guint w = 0; w < WAXES; w++)
    {
      WbWax *wax = wb_record_new (&wb_wax_type);

      wax->name = g_strdup_printf ("Wax %u", w + 1);
      world->waxes[w] = put (change, wax);
    }
  world->protocol = put (change, wb_protocol_new_house ());
  world->profile = put (change, wb_profile_new_house ());
  commit (change);
}

static void
add_readings (WbStoreChange *change,
              gint64         burn,
              double         limit_mm)
{
  for (guint hour = 1; hour <= 4; hour++)
    {
      WbReading *reading = wb_record_new (&wb_reading_type);

      reading->burn = burn;
      reading->elapsed_min = 60 * hour;
      reading->source = WB_SOURCE_TYPED;
      reading->values[WB_COLUMN_POOL_MM] = limit_mm * (1 - exp (-(double) hour / 1.2));
      reading->values[WB_COLUMN_FLAME_MM] = 18 + hour;
      reading->values[WB_COLUMN_VESSEL_C] = 35 + 3.0 * hour;
      reading->values[WB_COLUMN_SOOT] = hour / 4;
      put (change, reading);
    }
}

/* A candle of a cell; only the first experiment's have readings, for the others' lessons are written as they are. */
static void
add_candle (WbStoreChange *change,
            gint64         experiment,
            gint64         cell,
            guint          number,
            guint          burns,
            double         limit_mm)
{
  WbSample *sample = wb_record_new (&wb_sample_type);
  gint64 id;

  sample->experiment = experiment;
  sample->cell = cell;
  sample->code = g_strdup_printf ("S%u", number);
  id = put (change, sample);
  for (guint b = 1; b <= burns; b++)
    {
      WbBurn *burn = wb_record_new (&wb_burn_type);

      burn->sample = id;
      burn->number = b;
      burn->kind = WB_BURN_STANDARD;
      if (limit_mm > 0)
        add_readings (change, put (change, burn), limit_mm + 0.5 * b + number % 3);
      else
        put (change, burn);
    }
}

/* Which materials a cell is made of. */
static void
choose (guint  experiment,
        guint  cell,
        guint *series,
        guint *size,
        guint *vessel,
        guint *wax)
{
  *series = (experiment + cell / 3) % SERIES;
  *size = (experiment / 5 + cell) % SIZES;
  *vessel = (experiment / 3) % VESSELS;
  *wax = experiment % WAXES;
}

static void
make_experiments (WbStore *store,
                  World   *world,
                  guint    n)
{
  WbStoreChange *change = begin (store, "Experiments");

  for (guint i = 0; i < n; i++)
    {
      WbExperiment *experiment = wb_record_new (&wb_experiment_type);
      guint series, size, vessel, wax;
      gint64 id;

      choose (i, 0, &series, &size, &vessel, &wax);
      experiment->code = g_strdup_printf ("E%u", i + 1);
      experiment->title = g_strdup_printf ("Experiment %u", i + 1);
      experiment->wax = world->waxes[wax];
      experiment->protocol = world->protocol;
      experiment->profile = world->profile;
      experiment->samples_per_cell = 2;
      experiment->seed = 1;
      id = put (change, experiment);
      g_array_append_val (world->experiments, id);
      for (guint c = 0; c < CELLS; c++)
        {
          WbCell *cell = wb_record_new (&wb_cell_type);
          gint64 of_cell;

          choose (i, c, &series, &size, &vessel, &wax);
          cell->experiment = id;
          cell->vessel = world->vessels[vessel];
          cell->wick = world->wicks[series][size];
          cell->wick_count = 1;
          cell->load_pct = 6;
          cell->load_basis = WB_BASIS_WAX;
          of_cell = put (change, cell);
          g_array_append_val (world->cells, of_cell);
          for (guint s = 0; s < BURNT_SAMPLES && i == 0; s++)
            add_candle (change, id, of_cell, 10 * c + s, BURNT_BURNS, 50 + 3.0 * size);
          if (i > 0 && c == 0)
            add_candle (change, id, of_cell, 1, 1, 0);
        }
    }
  commit (change);
}

static WbLessonFigure
figure_new (guint         cell,
            WbFigure      figure,
            WbStage       stage,
            WbLessonLook  look,
            double        mean,
            double        sd,
            WbCalcRandom *random)
{
  WbLessonFigure item = {
    .cell = cell, .figure = figure, .stage = stage, .look = look, .samples = 2, .burns = 6, .mean = mean + sd * wb_calc_random_normal (random),
    .variance = sd * sd, .pace = NAN, .pace_variance = NAN, .covariance = NAN, .df = 5, .pace_df = NAN, .exponent = NAN, .sample_sd = 0.02,
    .burn_sd = 0.03, .offset = figure == WB_FIGURE_VESSEL ? 22 : 0, .at_wall_h = NAN, .short_h = NAN,
  };

  if (figure != WB_FIGURE_POOL_LIMIT)
    return item;
  item.pace = log (1.2) + 0.05 * wb_calc_random_normal (random);
  item.pace_variance = 0.0025;
  item.covariance = 0.5 * sd * 0.05;
  item.pace_df = 5;
  item.exponent = 1;
  return item;
}

/* What something adds, of `sd` from one to the next; the same each time that it is asked for. */
static double
effect (guint64 what,
        guint64 number,
        double  sd)
{
  WbCalcRandom random;

  wb_calc_random_init (&random, 100 + what, number);
  return sd * wb_calc_random_normal (&random);
}

/* What a figure of a combination is beside the law that all figures follow: wick, vessel, wax, and how a vessel takes a wick. */
static double
deviate (guint figure,
         guint wick,
         guint vessel,
         guint wax,
         guint stage)
{
  guint here = vessel * SERIES * SIZES + wick;

  return effect (10 * figure, wick, 0.025) + effect (10 * figure + 1, vessel, 0.015) + effect (10 * figure + 2, wax, 0.06)
         + effect (10 * figure + 3, here, 0.03) + (stage > 0 ? effect (10 * figure + 4, 2 * here + stage - 1, 0.012) : 0);
}

/* By a law of its own: step, series and pour for all figures, and what a figure has to itself. */
static WbLesson *
make_lesson (const World               *world,
             guint                      i,
             gint64                     last_entry,
             const WbStoreLessonStamps *stamps)
{
  WbLesson *lesson = wb_lesson_new ();
  WbCalcRandom random;
  double pour;

  wb_calc_random_init (&random, 1, i);
  pour = 0.02 * wb_calc_random_normal (&random);
  lesson->experiment = g_array_index (world->experiments, gint64, i);
  lesson->code = g_strdup_printf ("E%u", i + 1);
  lesson->protocol = world->protocol;
  lesson->last_entry = last_entry;
  lesson->version = WB_CRAFT_LESSON_VERSION;
  lesson->flame_stop = 76;
  lesson->vessel_stop = 77;
  for (guint c = 0; c < CELLS; c++)
    {
      guint series, size, vessel, wax;
      double strength;
      WbLessonCell cell = { .samples = 2, .burns = 12, .basis = WB_BASIS_WAX, .wicks = 1, .load_pct = 6, .stated_pct = 6, .headspace_mm = 20,
                            .room_c = 22, .reach = 0.95, .crossed_limit = -1, .crossed_at = NAN, .crossed_stop = NAN, .crossed_min = NAN };

      choose (i, c, &series, &size, &vessel, &wax);
      strength = 0.07 * (size - 3.5) + 0.05 * series + pour;
      cell.cell = g_array_index (world->cells, gint64, i * CELLS + c);
      cell.wick = world->wicks[series][size];
      cell.vessel = world->vessels[vessel];
      cell.wax = world->waxes[wax];
      cell.series = g_strdup_printf ("Reed %c", 'A' + series);
      cell.size = g_strdup_printf ("%u", size + 1);
      cell.step = size + 1;
      cell.vessel_name = g_strdup_printf ("Vessel %u", vessel + 1);
      cell.wax_name = g_strdup_printf ("Wax %u", wax + 1);
      cell.inner_mm = inner_of (vessel);
      g_array_append_val (lesson->cells, cell);
      for (WbStage stage = 0; stage < WB_N_STAGES; stage++)
        {
          const struct { WbFigure figure; double mean, sd; gboolean looks; } figures[] = {
            { WB_FIGURE_DEPTH, log (11) + strength, 0.04, FALSE },
            { WB_FIGURE_FLAME, log (22) + 1.2 * strength + 0.05 * stage, 0.05, TRUE },
            { WB_FIGURE_VESSEL, log (30) + strength + 0.1 * stage, 0.03, TRUE },
            { WB_FIGURE_SOOT, 0.5 + strength, 0.2, FALSE },
            { WB_FIGURE_MUSHROOM, 0.4 + strength, 0.2, FALSE },
            { WB_FIGURE_POOL_LIMIT, log (74) + strength, 0.02, FALSE },
            { WB_FIGURE_CONSUMPTION, log (4.5) + 2 * strength, 0.03, FALSE },
          };

          for (guint f = 0; f < G_N_ELEMENTS (figures); f++)
            for (WbLessonLook look = 0; look <= (figures[f].looks ? WB_LESSON_LOOK_PEAK : WB_LESSON_LOOK_END); look++)
              {
                double mean = figures[f].mean + 0.1 * look + deviate (f, series * SIZES + size, vessel, wax, stage);
                WbLessonFigure figure = figure_new (c, figures[f].figure, stage, look, mean, figures[f].sd, &random);

                g_array_append_val (lesson->figures, figure);
              }
        }
    }
  lesson->shared_entry = wb_store_lesson_stamps_get_shared (stamps, lesson);
  return lesson;
}

static int
compare_figures (gconstpointer a,
                 gconstpointer b)
{
  const WbLessonFigure *one = a, *other = b;

  if (one->cell != other->cell)
    return one->cell < other->cell ? -1 : 1;
  if (one->figure != other->figure)
    return one->figure < other->figure ? -1 : 1;
  if (one->stage != other->stage)
    return one->stage < other->stage ? -1 : 1;
  return (int) one->look - (int) other->look;
}

static void
keep_lessons (WbStore     *store,
              const World *world)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStoreLessonStamps) stamps = wb_store_lesson_stamps_new (store, &error);
  g_autoptr (GPtrArray) lessons = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_lesson_free);

  g_assert_no_error (error);
  for (guint i = 0; i < stamps->burnt->len; i++)
    {
      WbLesson *lesson = make_lesson (world, i, g_array_index (stamps->burnt, WbStoreBurnt, i).last_entry, stamps);

      g_array_sort (lesson->figures, compare_figures);
      g_ptr_array_add (lessons, lesson);
    }
  if (!wb_store_keep_lessons (store, lessons, NULL, &error))
    g_error ("%s", error->message);
}

static const WbCraftLadderQuestion question = {
  .inner_diameter_mm = 73, .wax = (char *) "Wax 2", .load_pct = 6, .wicks = 1, .sizes = 3, .window_low = 0.75, .window_high = 1.25,
};

/* Seconds of CPU for SQLite to go through the rows, in the order in which they are wanted; the best of some turns. */
static double
time_bare (const char *path,
           guint64    *rows)
{
  double best = INFINITY;

  for (guint turn = 0; turn < TURNS; turn++)
    {
      sqlite3 *db = NULL;
      double at = bench_cpu_now ();

      *rows = 0;
      g_assert_cmpint (sqlite3_open_v2 (path, &db, SQLITE_OPEN_READONLY, NULL), ==, SQLITE_OK);
      for (guint i = 0; i < G_N_ELEMENTS (tables); i++)
        {
          g_autofree char *sql = g_strdup_printf ("SELECT * FROM %s", tables[i]);
          sqlite3_stmt *statement = NULL;

          g_assert_cmpint (sqlite3_prepare_v2 (db, sql, -1, &statement, NULL), ==, SQLITE_OK);
          while (sqlite3_step (statement) == SQLITE_ROW)
            (*rows)++;
          sqlite3_finalize (statement);
        }
      sqlite3_close (db);
      best = MIN (best, bench_cpu_now () - at);
    }
  return best;
}

/* The same until they are lessons that are known to be up to date; `glance`: but for their figures. */
static double
time_gather (const char *path,
             guint       n,
             gboolean    glance)
{
  double best = INFINITY;

  for (guint turn = 0; turn < TURNS; turn++)
    {
      g_autoptr (GError) error = NULL;
      double at = bench_cpu_now ();
      g_autoptr (WbStore) store = wb_app_reader_connect (path, &error);
      g_autoptr (WbAppLessons) lessons = NULL;

      if (store != NULL)
        lessons = glance ? wb_app_lessons_glance (store, NULL, &error) : wb_app_lessons_gather (store, NULL, 1, NULL, &error);
      if (lessons == NULL)
        g_error ("%s", error != NULL ? error->message : "no school is kept");
      best = MIN (best, bench_cpu_now () - at);
      g_assert_cmpuint (lessons->lessons->len, ==, n);
      g_assert_cmpuint (lessons->anew->len, ==, 0);
    }
  return best;
}

static double
time_ask (const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppNotebook) notebook = wb_app_notebook_open_sync (path, WB_APP_OPEN_EXISTING, NULL, &error);
  g_autoptr (WbCraftLadder) ladder = NULL;
  double at = bench_cpu_now (), spent;

  if (notebook != NULL)
    ladder = wb_app_answers_ladder_sync (notebook, &question, NULL, &error);
  if (ladder == NULL)
    g_error ("%s", error->message);
  spent = bench_cpu_now () - at;
  g_assert_cmpint (ladder->rests_on, ==, WB_CRAFT_RESTS_ON_HISTORY);
  wb_app_notebook_close (notebook);
  return spent;
}

static void
time_parts (const char *path,
            double      floor)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStore) store = wb_app_reader_connect (path, &error);
  g_autoptr (WbAppLessons) lessons = store != NULL ? wb_app_lessons_gather (store, NULL, 1, NULL, &error) : NULL;
  g_autoptr (GPtrArray) wicks = NULL, guides = NULL, waxes = NULL;

  if (lessons == NULL || (wicks = wb_store_list (store, &wb_wick_type, NULL, 0, &error)) == NULL
      || (guides = wb_store_list (store, &wb_wick_guide_type, NULL, 0, &error)) == NULL
      || (waxes = wb_store_list (store, &wb_wax_type, NULL, 0, &error)) == NULL)
    g_error ("%s", error->message);
  bench_parts (&question, lessons->lessons, guides, wicks, waxes, lessons->school, floor);
}

/* The first experiment gets a candle more. Gives the seconds that its own lesson takes by itself. */
static double
change_one (WbStore     *store,
            const World *world)
{
  WbStoreChange *change = begin (store, "One candle more");
  gint64 experiment = g_array_index (world->experiments, gint64, 0);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbDataset) data = NULL;
  g_autoptr (WbCraftFigures) figures = NULL;
  g_autoptr (WbCraftLimits) limits = NULL;
  g_autoptr (WbCraftEstimates) estimates = NULL;
  g_autoptr (WbLesson) lesson = NULL;
  double at, estimated, learnt;

  add_candle (change, experiment, g_array_index (world->cells, gint64, 0), 99, BURNT_BURNS, 52);
  commit (change);
  at = bench_cpu_now ();
  data = wb_store_load_dataset (store, experiment, &error);
  g_assert_no_error (error);
  figures = wb_craft_figures_new (data);
  estimates = wb_craft_estimates_new (data, figures, WB_STAGE_ALL, NULL, NULL, NULL);
  limits = wb_craft_limits_new (data, figures);
  estimated = bench_cpu_now () - at;
  lesson = wb_craft_lesson_new (data, figures, limits, estimates);
  learnt = bench_cpu_now () - at - estimated;
  g_print ("a lesson of %u combinations and %u burns: %.3f s, of which %.4f s behind its estimates\n", lesson->cells->len, data->burns->len,
           estimated + learnt, learnt);
  return estimated + learnt;
}

int
main (int    argc,
      char **argv)
{
  guint n = argc > 1 ? (guint) atoi (argv[1]) : EXPERIMENTS;
  g_autoptr (GError) error = NULL;
  g_autofree char *folder = g_dir_make_tmp ("ladder-speed-XXXXXX", &error);
  g_autofree char *path = g_build_filename (folder, "ladder.wickbench", NULL);
  World world = { .experiments = g_array_new (FALSE, FALSE, sizeof (gint64)), .cells = g_array_new (FALSE, FALSE, sizeof (gint64)) };
  WbStore *store;
  double floor, gathered, glanced, first, again, one, lesson;
  guint64 rows;

  gsl_set_error_handler_off ();
  store = wb_store_create (path, "Bench", "bench", wb_clock_now (wb_clock_get ()), &error);
  if (store == NULL)
    g_error ("%s", error->message);
  make_materials (store, &world);
  make_experiments (store, &world, n);
  keep_lessons (store, &world);

  floor = time_bare (path, &rows);
  g_print ("%u experiments, %" G_GUINT64_FORMAT " rows of lessons; seconds of CPU\n", n, rows);
  g_print ("SQLite alone goes through them in %.3f s: the floor\n", floor);
  gathered = time_gather (path, n, FALSE);
  g_print ("read and held against the record: %.3f s, ratio %.2f (aim 2)\n", gathered, gathered / floor);
  first = time_ask (path);
  g_print ("the first ladder: %.3f s, ratio %.1f\n", first, first / floor);
  again = INFINITY;
  for (guint turn = 0; turn < ASKS; turn++)
    again = MIN (again, time_ask (path));
  g_print ("a ladder with what was kept: %.3f s, ratio %.1f\n", again, again / floor);
  glanced = time_gather (path, n, TRUE);
  g_print ("  of it read without figures, with the school: %.3f s, ratio %.2f\n", glanced, glanced / floor);
  time_parts (path, floor);
  lesson = change_one (store, &world);
  one = time_ask (path);
  g_print ("a ladder after one experiment got a candle more: %.3f s, of which that lesson %.3f s, ratio of the rest %.1f; %.4f of all anew (%.0f s, that "
           "lesson so many times and the first ladder)\n",
           one, lesson, (one - lesson) / floor, one / (n * lesson + first), n * lesson + first);

  wb_store_close (store);
  g_array_unref (world.experiments);
  g_array_unref (world.cells);
  g_unlink (path);
  g_rmdir (folder);
  return 0;
}
