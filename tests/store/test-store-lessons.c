/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "store-notebook.h"
#include "wb-sample.h"
#include "wb-store-check.h"
#include "wb-store-counts-private.h"
#include "wb-store-lessons.h"
#include "wb-store-private.h"
#include "wb-store-records.h"
#include "wb-store-undo.h"

#include <math.h>

#define FIGURES 5

/* Of the records of test_fill, with numbers that a decimal text would not bring back. */
static WbLesson *
make_lesson (WbStore           *store,
             const TestRecords *records)
{
  WbLesson *lesson = wb_lesson_new ();
  WbLessonCell cells[2] = {
    { .cell = records->cell, .wick = records->wick, .vessel = records->vessel, .wax = records->wax, .series = g_strdup ("Larch"),
      .size = g_strdup ("L-3"), .step = 3, .vessel_name = g_strdup ("Tern"), .wax_name = NULL, .scent = g_strdup ("Hårbour “mist”"),
      .wall = WB_WALL_CERAMIC, .inner_mm = 79.4, .load_pct = NAN, .stated_pct = 6.000000000000001, .wicks = 1, .headspace_mm = NAN, .room_c = 1.0 / 3,
      .samples = 2, .burns = 7, .reach = 0.1 + 0.2, .crossed = TRUE, .crossed_heat = TRUE, .crossed_limit = WB_LIMIT_FLAME,
      .crossed_at = 79.99999999999999, .crossed_stop = 75, .crossed_min = 239.5, .crossed_burn = 9, .crossed_sample = g_strdup ("T5-1") },
    { .cell = records->cell + 1000, .fragrance = 7, .dye = 8, .crossed_house = TRUE, .crossed_logged = TRUE, .step = WB_INTEGER_NONE, .wall = -1, .inner_mm = 5e-324, .load_pct = 0, .stated_pct = 0, .basis = WB_BASIS_TOTAL,
      .wicks = 12, .headspace_mm = 1e300, .room_c = NAN, .reach = NAN, .uncleared = TRUE, .cracked = TRUE, .crossed_limit = -1,
      .crossed_at = NAN, .crossed_stop = NAN, .crossed_min = NAN },
  };

  lesson->experiment = records->experiment;
  lesson->code = g_strdup ("T1");
  lesson->protocol = records->protocol;
  lesson->last_entry = records->entry;
  lesson->shared_entry = 1;
  lesson->version = 7;
  lesson->flame_stop = 76.2;
  lesson->vessel_stop = NAN;
  g_array_append_vals (lesson->cells, cells, 2);
  for (guint i = 0; i < FIGURES; i++)
    {
      WbLessonFigure figure = {
        .cell = i / 3, .figure = i == 0 ? WB_FIGURE_FLAME : WB_FIGURE_POOL_LIMIT, .stage = i % 3, .look = i % 2, .status = (gint) i,
        .samples = i, .burns = 2 * i, .mean = exp (1.0 / (i + 1)), .variance = 1e-17 * (i + 1), .pace = i == 1 ? NAN : log (1.1 + i),
        .pace_variance = 1.0 / 7, .covariance = -1.0 / 9, .df = i == 2 ? INFINITY : 2.5, .pace_df = i == 3 ? -INFINITY : 3, .exponent = 1,
        .sample_sd = 0.02, .burn_sd = NAN, .offset = 21.7, .at_wall_h = i == 4 ? NAN : 2.25, .short_h = 0,
      };

      if (figure.figure != WB_FIGURE_POOL_LIMIT)
        figure.pace = figure.pace_variance = figure.covariance = figure.pace_df = figure.exponent = figure.at_wall_h = figure.short_h = NAN;
      g_array_append_val (lesson->figures, figure);
    }
  return lesson;
}

static void
keep (WbStore  *store,
      WbLesson *lesson,
      gint64    gone)
{
  g_autoptr (GPtrArray) lessons = g_ptr_array_new ();
  g_autoptr (GArray) out = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr (GError) error = NULL;

  if (lesson != NULL)
    g_ptr_array_add (lessons, lesson);
  if (gone != 0)
    g_array_append_val (out, gone);
  g_assert_true (wb_store_keep_lessons (store, lessons, out, &error));
  g_assert_no_error (error);
}

static GPtrArray *
load (WbStore *store)
{
  g_autoptr (GError) error = NULL;
  GPtrArray *lessons = wb_store_load_lessons (store, &error);

  g_assert_no_error (error);
  return lessons;
}

static WbStoreFinding
check (const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStoreCheck) found = wb_store_check (path, NULL, NULL, NULL, &error);

  g_assert_no_error (error);
  if (found->text != NULL)
    g_test_message ("%s", found->text);
  return found->finding;
}

static void
test_round_trip (void)
{
  g_autofree char *path = test_path ("round.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  TestRecords records = test_fill (store);
  g_autoptr (WbLesson) lesson = make_lesson (store, &records);
  g_autoptr (WbStore) reader = NULL;
  g_autoptr (GPtrArray) none = load (store);
  g_autoptr (GPtrArray) back = NULL;
  g_autoptr (GPtrArray) again = NULL;
  g_autoptr (GPtrArray) fewer = NULL;
  gint64 entry = wb_store_get_last_entry (store);

  g_assert_cmpuint (none->len, ==, 0);
  keep (store, lesson, 0);
  reader = wb_store_open (path, WB_STORE_READ, NULL);
  back = load (reader);
  g_assert_cmpuint (back->len, ==, 1);
  g_assert_true (wb_lesson_equal (lesson, g_ptr_array_index (back, 0)));
  /* it is no entry, and nothing to take back */
  g_assert_cmpint (wb_store_get_last_entry (store), ==, entry);
  /* in place of the one before, not beside it */
  g_array_set_size (lesson->figures, FIGURES - 1);
  lesson->shared_entry++;
  keep (store, lesson, 0);
  again = load (reader);
  g_assert_cmpuint (again->len, ==, 1);
  g_assert_true (wb_lesson_equal (lesson, g_ptr_array_index (again, 0)));
  /* as of the same entries there is one already, unless its place was made free */
  g_array_set_size (lesson->figures, FIGURES - 2);
  keep (store, lesson, 0);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM derived_lesson_figure"), ==, FIGURES - 1);
  keep (store, lesson, records.experiment);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM derived_lesson_figure"), ==, FIGURES - 2);
  keep (store, NULL, records.experiment);
  fewer = load (reader);
  g_assert_cmpuint (fewer->len, ==, 0);
  g_assert_cmpint (test_query (path, "SELECT (SELECT count (*) FROM derived_lesson_cell) + (SELECT count (*) FROM derived_lesson_figure)"), ==, 0);
  g_assert_cmpint (check (path), ==, WB_CHECK_GOOD);
}

static void
test_what_moved_on_is_not_kept (void)
{
  g_autofree char *path = test_path ("moved.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  TestRecords records = test_fill (store);
  g_autoptr (WbLesson) lesson = make_lesson (store, &records);
  g_autoptr (GPtrArray) there = NULL;
  WbStoreChange *change = test_begin (store, "Log a reading");

  test_put (change, test_reading (records.burn, 239, 70));
  test_commit (change);
  keep (store, lesson, 0);
  there = load (store);
  g_assert_cmpuint (there->len, ==, 0);
}

static gint64
last_entry_of (WbStore *store,
               gint64   experiment)
{
  g_autoptr (WbStoreLessonStamps) stamps = wb_store_lesson_stamps_new (store, NULL);

  for (guint i = 0; i < stamps->burnt->len; i++)
    if (g_array_index (stamps->burnt, WbStoreBurnt, i).experiment == experiment)
      return g_array_index (stamps->burnt, WbStoreBurnt, i).last_entry;
  return 0;
}

static gint64
shared_of (WbStore        *store,
           const WbLesson *lesson)
{
  g_autoptr (WbStoreLessonStamps) stamps = wb_store_lesson_stamps_new (store, NULL);

  return wb_store_lesson_stamps_get_shared (stamps, lesson);
}

/* Readings, their amendment and undo move the experiment's own stamp; materials and limits the shared one; nothing else does. */
static void
test_stamps (void)
{
  g_autofree char *path = test_path ("stamps.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  TestRecords records = test_fill (store);
  g_autoptr (WbLesson) lesson = make_lesson (store, &records);
  g_autoptr (WbRecord) loaded = NULL;
  WbWick *wick;
  g_autoptr (GPtrArray) limits = wb_limits_new_house ();
  WbLimit *limit;
  WbStoreChange *change;
  gint64 id, own = last_entry_of (store, records.experiment), shared = shared_of (store, lesson);

  g_assert_cmpint (own, ==, records.entry);
  g_assert_cmpint (shared, >, 0);
  g_assert_cmpint (shared, <=, records.entry);

  change = test_begin (store, "Add a wick that nothing was burnt with");
  test_put (change, test_wick ("Sedge", "S-1", 1));
  test_commit (change);
  g_assert_cmpint (last_entry_of (store, records.experiment), ==, own);
  g_assert_cmpint (shared_of (store, lesson), ==, shared);

  change = test_begin (store, "Log a reading");
  test_put (change, test_reading (records.burn, 239, 70));
  test_commit (change);
  g_assert_cmpint (last_entry_of (store, records.experiment), >, own);
  own = last_entry_of (store, records.experiment);
  g_assert_true (wb_store_undo (store, NULL, TEST_NOW, NULL, NULL));
  g_assert_cmpint (last_entry_of (store, records.experiment), >, own);
  own = last_entry_of (store, records.experiment);
  g_assert_cmpint (shared_of (store, lesson), ==, shared);

  loaded = wb_store_load (store, &wb_wick_type, records.wick, NULL);
  wick = (WbWick *) loaded;
  change = test_begin (store, "Rename a wick");
  g_free (wick->size);
  wick->size = g_strdup ("another");
  g_assert_true (wb_store_change_put (change, wick, NULL));
  test_commit (change);
  g_assert_cmpint (last_entry_of (store, records.experiment), ==, own);
  g_assert_cmpint (shared_of (store, lesson), >, shared);
  shared = shared_of (store, lesson);

  limit = wb_record_copy (g_ptr_array_index (limits, 0));
  limit->protocol = records.protocol;
  change = test_begin (store, "Add a limit");
  id = test_put (change, limit);
  test_commit (change);
  g_assert_cmpint (shared_of (store, lesson), >, shared);
  shared = shared_of (store, lesson);
  change = test_begin (store, "Take it away");
  g_assert_true (wb_store_change_delete (change, &wb_limit_type, id, NULL));
  test_commit (change);
  g_assert_cmpint (shared_of (store, lesson), >, shared);
  g_assert_cmpint (last_entry_of (store, records.experiment), ==, own);
}

static void
test_deleted_experiment (void)
{
  g_autofree char *path = test_path ("gone.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  TestRecords records = test_fill (store);
  const struct { const WbRecordType *type; gint64 id; } order[] = {
    { &wb_reading_type, records.readings[0] }, { &wb_reading_type, records.readings[1] }, { &wb_reading_type, records.readings[2] },
    { &wb_burn_type, records.burn }, { &wb_sample_type, records.sample }, { &wb_cell_type, records.cell },
    { &wb_experiment_type, records.experiment },
  };
  WbStoreChange *change = test_begin (store, "Delete it all");

  g_assert_cmpint (last_entry_of (store, records.experiment), >, 0);
  for (guint i = 0; i < G_N_ELEMENTS (order); i++)
    g_assert_true (wb_store_change_delete (change, order[i].type, order[i].id, NULL));
  test_commit (change);
  g_assert_cmpint (last_entry_of (store, records.experiment), ==, 0);
}

static void
test_school (void)
{
  g_autofree char *path = test_path ("school.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  g_autoptr (GBytes) one = g_bytes_new_static ("one\0two", 7);
  g_autoptr (GBytes) other = g_bytes_new_static ("", 0);
  g_autoptr (GBytes) back = NULL;
  g_autoptr (GBytes) again = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_null (wb_store_load_school (store, &error));
  g_assert_no_error (error);
  g_assert_true (wb_store_keep_school (store, one, &error));
  back = wb_store_load_school (store, &error);
  g_assert_true (g_bytes_equal (one, back));
  g_assert_true (wb_store_keep_school (store, other, &error));
  again = wb_store_load_school (store, &error);
  g_assert_cmpuint (g_bytes_get_size (again), ==, 0);
  g_assert_cmpint (check (path), ==, WB_CHECK_GOOD);
}

static void
test_read_only (void)
{
  g_autofree char *path = test_path ("read-only.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  TestRecords records = test_fill (store);
  g_autoptr (WbLesson) lesson = make_lesson (store, &records);
  g_autoptr (GPtrArray) lessons = g_ptr_array_new ();
  g_autoptr (WbStore) reader = wb_store_open (path, WB_STORE_READ, NULL);
  g_autoptr (GBytes) bytes = g_bytes_new_static ("x", 1);
  g_autoptr (GError) error = NULL;

  g_ptr_array_add (lessons, lesson);
  g_assert_false (wb_store_keep_lessons (reader, lessons, NULL, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_READ_ONLY);
  g_clear_error (&error);
  g_assert_false (wb_store_keep_school (reader, bytes, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_READ_ONLY);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM derived_lesson"), ==, 0);
}

/* Either all of a keep is in the file or none of it, and what was kept before stays. */
static void
test_full_disk (void)
{
  g_autofree char *path = test_path ("full.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  TestRecords records = test_fill (store);
  g_autoptr (WbLesson) lesson = make_lesson (store, &records);
  g_autoptr (WbLesson) large = make_lesson (store, &records);
  g_autoptr (GPtrArray) lessons = g_ptr_array_new ();
  g_autoptr (GPtrArray) back = NULL;
  g_autoptr (GError) error = NULL;

  keep (store, lesson, 0);
  g_free (large->code);
  large->code = g_strnfill (4 * 1024 * 1024, 'x');
  large->shared_entry++;
  g_ptr_array_add (lessons, large);
  g_assert_true (wb_store_exec (store, "PRAGMA max_page_count = 1", NULL));
  g_assert_false (wb_store_keep_lessons (store, lessons, NULL, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_FULL);
  g_assert_true (wb_store_exec (store, "PRAGMA max_page_count = 1000000", NULL));
  back = load (store);
  g_assert_cmpuint (back->len, ==, 1);
  g_assert_true (wb_lesson_equal (lesson, g_ptr_array_index (back, 0)));
}

static void
test_rebuild (void)
{
  g_autofree char *path = test_path ("rebuild.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  TestRecords records = test_fill (store);
  g_autoptr (WbLesson) lesson = make_lesson (store, &records);
  g_autoptr (GBytes) bytes = g_bytes_new_static ("x", 1);
  g_autoptr (GPtrArray) back = NULL;

  keep (store, lesson, 0);
  g_assert_true (wb_store_keep_school (store, bytes, NULL));
  g_assert_true (wb_store_counts_rebuild (store, NULL));
  back = load (store);
  g_assert_cmpuint (back->len, ==, 0);
  g_assert_null (wb_store_load_school (store, NULL));
  g_assert_cmpint (check (path), ==, WB_CHECK_GOOD);
}

/* What somebody wrote into the tables behind the store's back is found, and never taken for a lesson. */
static void
test_tampered (void)
{
  const char *const cases[] = {
    "UPDATE derived_lesson SET last_entry = last_entry + 1",
    "UPDATE derived_lesson SET shared_entry = 1000",
    "DELETE FROM derived_lesson_cell WHERE place = 1",
    "DELETE FROM derived_lesson",
    "UPDATE derived_lesson_figure SET cell = 40 WHERE cell = 1",
    "UPDATE derived_lesson_cell SET place = 5 WHERE place = 1",
    "UPDATE derived_lesson_figure SET figure = 77 WHERE cell = 1",
    "UPDATE derived_lesson_figure SET stage = -1 WHERE cell = 1",
    "UPDATE derived_lesson_figure SET look = 3 WHERE cell = 1 AND stage = 0",
    "UPDATE derived_lesson_cell SET crossed_limit = 99",
    "UPDATE derived_lesson_cell SET basis = -3",
    "UPDATE derived_lesson_figure SET mean = mean * (1 + 1e-15) WHERE cell = 1 AND stage = 0",
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *name = g_strdup_printf ("tampered-%u.wickbench", i);
      g_autofree char *path = test_path (name);
      g_autoptr (WbStore) store = test_notebook (path);
      TestRecords records = test_fill (store);
      g_autoptr (WbLesson) lesson = make_lesson (store, &records);
      g_autoptr (GPtrArray) back = NULL;

      g_test_message ("%s", cases[i]);
      keep (store, lesson, 0);
      g_assert_cmpint (check (path), ==, WB_CHECK_GOOD);
      test_tamper (path, cases[i]);
      g_assert_cmpint (check (path), ==, WB_CHECK_SUMMARY);
      back = load (store);
      for (guint k = 0; k < back->len; k++)
        {
          const WbLesson *read = g_ptr_array_index (back, k);

          /* another figure alone is found by the check: nobody reads by digests */
          g_assert_true (i == G_N_ELEMENTS (cases) - 1 || read->version == 0 || read->last_entry != lesson->last_entry
                         || read->shared_entry != lesson->shared_entry);
        }
    }
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/store/lessons/come-back-bit-for-bit", test_round_trip);
  g_test_add_func ("/store/lessons/of-what-moved-on-are-not-kept", test_what_moved_on_is_not_kept);
  g_test_add_func ("/store/lessons/stamps-move-with-what-they-rest-on-alone", test_stamps);
  g_test_add_func ("/store/lessons/a-deleted-experiment-has-none", test_deleted_experiment);
  g_test_add_func ("/store/lessons/the-schools-bytes-are-kept", test_school);
  g_test_add_func ("/store/lessons/are-not-kept-in-what-is-read-only", test_read_only);
  g_test_add_func ("/store/lessons/a-full-disk-leaves-those-before", test_full_disk);
  g_test_add_func ("/store/lessons/go-with-a-rebuild", test_rebuild);
  g_test_add_func ("/store/lessons/what-was-tampered-with-is-found-or-not-believed", test_tampered);
  return g_test_run ();
}
