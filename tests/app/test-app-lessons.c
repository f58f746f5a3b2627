/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"
#include "wb-app-answers.h"
#include "wb-app-import.h"
#include "wb-app-lessons-private.h"
#include "wb-app-reader-private.h"
#include "wb-app-query.h"
#include "wb-store-change.h"
#include "wb-store-check.h"
#include "wb-store-records.h"

#include <math.h>

#define PAIR_SAMPLES 2

/* An invented log: two wicks, two candles each, two burns. */
static void
import_pair (const char *path,
             const char *experiment,
             double      offset_mm)
{
  g_autoptr (GString) log = g_string_new ("experiment,vessel,inner_diameter_mm,wax,wick_series,wick_size,wick_step,load_pct,sample,burn,"
                                          "elapsed_min,pool_mm,flame_mm\n");
  g_autofree char *file = app_new_path ();
  g_autoptr (WbAppImportSummary) summary = NULL;
  g_autoptr (GError) error = NULL;

  for (guint wick = 1; wick <= 2; wick++)
    for (guint sample = 1; sample <= PAIR_SAMPLES; sample++)
      for (guint burn = 1; burn <= 2; burn++)
        for (guint minute = 60; minute <= 240; minute += 60)
          g_string_append_printf (log, "%s,Heron,78,Moor blend,Reed,R-%u,%u,6,%c%u,%u,%u,%.1f,%.1f\n", experiment, wick, wick,
                                  'A' + sample - 1, wick, burn, minute,
                                  (55 + offset_mm + 5 * wick + sample) * (1 - exp (-(double) minute / 70)), 15 + 3.0 * wick + burn + 0.01 * minute);
  g_assert_true (g_file_set_contents (file, log->str, -1, NULL));
  summary = wb_app_import_sync (path, file, NULL, WB_APP_IMPORT_WRITE, NULL, &error);
  g_assert_no_error (error);
}

typedef struct
{
  WbAppNotebook *notebook;
  gint64         one, other; /* experiments */
} Bench;

static void
set_up (Bench *bench)
{
  g_autofree char *path = app_new_path ();
  g_autoptr (GError) error = NULL;

  import_pair (path, "One", 0);
  import_pair (path, "Other", 6);
  bench->notebook = app_open (path);
  bench->one = wb_app_query_find_experiment_sync (bench->notebook, "One", &error);
  bench->other = wb_app_query_find_experiment_sync (bench->notebook, "Other", &error);
  g_assert_cmpint (bench->one, >, 0);
  g_assert_cmpint (bench->other, >, bench->one);
}

static void
tear_down (Bench *bench)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStoreCheck) check = wb_store_check (wb_app_notebook_get_path (bench->notebook), NULL, NULL, NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpstr (check->text, ==, NULL);
  app_close (bench->notebook);
}

static WbAppLessons *
gather_with (const Bench       *bench,
             WbAppLessonKeeper *keeper,
             WbAppJob          *job,
             GError           **error)
{
  g_autoptr (WbStore) store = wb_app_reader_connect (wb_app_notebook_get_path (bench->notebook), error);

  g_assert_nonnull (store);
  return wb_app_lessons_gather (store, keeper, 1, job, error);
}

static WbAppLessons *
gather (const Bench *bench)
{
  g_autoptr (GError) error = NULL;
  WbAppLessons *lessons = gather_with (bench, NULL, NULL, &error);

  g_assert_no_error (error);
  return lessons;
}

static void
assert_same (const WbAppLessons *a,
             const WbAppLessons *b)
{
  g_assert_cmpuint (a->lessons->len, ==, b->lessons->len);
  for (guint i = 0; i < a->lessons->len; i++)
    g_assert_true (wb_lesson_equal (g_ptr_array_index (a->lessons, i), g_ptr_array_index (b->lessons, i)));
}

static void
keep (const Bench  *bench,
      WbAppLessons *lessons)
{
  g_assert_true (wb_app_lesson_keep_sync (bench->notebook, lessons->anew, lessons->gone, NULL));
}

/* Of all that is kept nothing is out of date. */
static void
keep_all (const Bench *bench)
{
  g_autoptr (WbAppLessons) lessons = gather (bench), again = NULL;

  keep (bench, lessons);
  again = gather (bench);
  g_assert_cmpuint (again->anew->len, ==, 0);
  g_assert_cmpuint (again->gone->len, ==, 0);
  assert_same (lessons, again);
}

/* Only that of `experiment` is (0: all are); kept anew, none is any more. */
static void
assert_out_of_date (const Bench *bench,
                    gint64       experiment)
{
  g_autoptr (WbAppLessons) lessons = gather (bench);

  g_assert_cmpuint (lessons->anew->len, ==, experiment != 0 ? 1 : lessons->lessons->len);
  if (experiment != 0)
    g_assert_cmpint (((const WbLesson *) g_ptr_array_index (lessons->anew, 0))->experiment, ==, experiment);
  keep_all (bench);
}

/* What was read back is, bit for bit, what was made; and the same data make it again. */
static void
test_kept (void)
{
  Bench bench;
  g_autoptr (WbAppLessons) first = NULL, second = NULL, third = NULL;
  gint64 entry;

  set_up (&bench);
  entry = wb_app_notebook_get_last_entry (bench.notebook);
  first = gather (&bench);
  second = gather (&bench);
  g_assert_cmpuint (first->lessons->len, ==, 2);
  g_assert_cmpuint (first->anew->len, ==, 2);
  g_assert_cmpuint (((const WbLesson *) g_ptr_array_index (first->lessons, 0))->cells->len, ==, 2);
  g_assert_cmpuint (((const WbLesson *) g_ptr_array_index (first->lessons, 0))->figures->len, >=, 6);
  assert_same (first, second);
  keep (&bench, first);
  third = gather (&bench);
  g_assert_cmpuint (third->anew->len, ==, 0);
  assert_same (first, third);
  g_assert_cmpint (wb_app_notebook_get_last_entry (bench.notebook), ==, entry);
  tear_down (&bench);
}

static gpointer
find_reading (const Bench *bench,
              gint64       experiment)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbDataset) data = wb_app_query_dataset_sync (bench->notebook, experiment, &error);
  g_autoptr (GPtrArray) readings = NULL;
  g_autoptr (WbStore) store = wb_store_open (wb_app_notebook_get_path (bench->notebook), WB_STORE_READ, &error);

  g_assert_no_error (error);
  readings = wb_store_list (store, &wb_reading_type, "burn", ((const WbRecord *) wb_dataset_get_burn (data, 0))->id, &error);
  g_assert_no_error (error);
  return wb_record_copy (g_ptr_array_index (readings, readings->len - 1));
}

static void
test_out_of_date (void)
{
  Bench bench;
  g_autoptr (WbRecord) reading = NULL, added = NULL;
  g_autoptr (GPtrArray) wicks = NULL;
  g_autoptr (GError) error = NULL;

  set_up (&bench);
  keep_all (&bench);

  /* an amendment */
  reading = find_reading (&bench, bench.one);
  ((WbReading *) reading)->values[WB_COLUMN_FLAME_MM] += 1;
  app_save (bench.notebook, reading);
  assert_out_of_date (&bench, bench.one);
  app_undo (bench.notebook, FALSE);
  assert_out_of_date (&bench, bench.one);

  /* a further reading */
  added = find_reading (&bench, bench.other);
  added->id = added->entry = 0;
  ((WbReading *) added)->elapsed_min += 5;
  app_save (bench.notebook, added);
  assert_out_of_date (&bench, bench.other);

  /* a wick with which both were burnt; what no experiment knows changes nothing */
  app_add_wick (bench.notebook, "Sedge", "S-1", 1);
  keep_all (&bench);
  {
    g_autoptr (WbAppLessons) lessons = gather (&bench);

    g_assert_cmpuint (lessons->anew->len, ==, 0);
  }
  wicks = wb_app_query_list_sync (bench.notebook, &wb_wick_type, &error);
  g_assert_no_error (error);
  for (guint i = 0; i < wicks->len; i++)
    {
      WbWick *wick = g_ptr_array_index (wicks, i);

      if (g_strcmp0 (wick->size, "R-2") != 0)
        continue;
      g_free (wick->size);
      wick->size = g_strdup ("R-2 waxed");
      app_save (bench.notebook, wick);
      assert_out_of_date (&bench, 0);
    }
  {
    g_autoptr (WbAppLessons) lessons = gather (&bench);

    g_assert_cmpstr (g_array_index (((const WbLesson *) g_ptr_array_index (lessons->lessons, 0))->cells, WbLessonCell, 1).size, ==,
                     "R-2 waxed");
  }
  tear_down (&bench);
}

static void
delete_all (GPtrArray    *records,
            gconstpointer record)
{
  WbRecord *copy = wb_record_copy (record);

  copy->deleted = TRUE;
  g_ptr_array_add (records, copy);
}

/* An experiment that is deleted takes its lesson with it, and undo brings it back. */
static void
test_deleted (void)
{
  Bench bench;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbDataset) data = NULL;
  g_autoptr (WbStore) store = NULL;
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (WbAppLessons) lessons = NULL;

  set_up (&bench);
  keep_all (&bench);
  data = wb_app_query_dataset_sync (bench.notebook, bench.other, &error);
  store = wb_store_open (wb_app_notebook_get_path (bench.notebook), WB_STORE_READ, &error);
  for (guint i = 0; i < data->burns->len; i++)
    {
      g_autoptr (GPtrArray) readings = wb_store_list (store, &wb_reading_type, "burn", ((const WbRecord *) wb_dataset_get_burn (data, i))->id, NULL);

      for (guint k = 0; k < readings->len; k++)
        delete_all (records, g_ptr_array_index (readings, k));
      delete_all (records, wb_dataset_get_burn (data, i));
    }
  for (guint i = 0; i < data->samples->len; i++)
    delete_all (records, wb_dataset_get_sample (data, i));
  for (guint i = 0; i < data->cells->len; i++)
    delete_all (records, wb_dataset_get_cell (data, i));
  for (guint i = 0; i < data->batches->len; i++)
    delete_all (records, g_ptr_array_index (data->batches, i));
  delete_all (records, data->experiment);
  wb_app_notebook_save_sync (bench.notebook, "Delete the other one", records, NULL, &error);
  g_assert_no_error (error);
  lessons = gather (&bench);
  g_assert_cmpuint (lessons->lessons->len, ==, 1);
  g_assert_cmpuint (lessons->anew->len, ==, 0);
  g_assert_cmpuint (lessons->gone->len, ==, 1);
  g_assert_cmpint (g_array_index (lessons->gone, gint64, 0), ==, bench.other);
  keep (&bench, lessons);
  keep_all (&bench);
  app_undo (bench.notebook, FALSE);
  assert_out_of_date (&bench, bench.other);
  tear_down (&bench);
}

static gpointer
count_kept (WbStore      *store,
            gpointer      data,
            GCancellable *cancellable,
            GError      **error)
{
  g_autoptr (GPtrArray) lessons = wb_store_load_lessons (store, error);

  *(guint *) data = lessons != NULL ? lessons->len : 0;
  return data;
}

static gboolean
is_one_kept (gpointer data)
{
  const Bench *bench = data;
  guint n = 0;

  wb_app_reader_run_sync (bench->notebook, count_kept, &n, NULL);
  return n > 0;
}

static void
on_changed_cb (guint *n)
{
  (*n)++;
}

/* An answer's lesson is kept by the way, is the one that would be made anew, and nobody hears of it. */
static void
test_of_an_answer (void)
{
  Bench bench;
  g_autoptr (WbAppAnswers) answers = NULL;
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (WbCraftAnswer) answer = NULL;
  g_autoptr (WbAppLessons) before = NULL, after = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *undo = NULL;
  guint changed = 0, saving = 0;

  set_up (&bench);
  before = gather (&bench);
  answers = wb_app_answers_new (bench.notebook);
  undo = g_strdup (wb_app_notebook_get_undo_label (bench.notebook));
  g_signal_connect_swapped (bench.notebook, "changed", G_CALLBACK (on_changed_cb), &changed);
  g_signal_connect_swapped (bench.notebook, "notify::saving", G_CALLBACK (on_changed_cb), &saving);
  wb_app_answers_get_async (answers, bench.one, WB_CRAFT_WITHIN_SCENT, 0, NULL, app_keep_result_cb, &result);
  answer = wb_app_answers_get_finish (answers, app_wait_result (&result), &error);
  g_assert_no_error (error);
  app_wait_until (is_one_kept, &bench, "the answer's lesson to be kept");
  after = gather (&bench);
  g_assert_cmpuint (after->anew->len, ==, 1);
  g_assert_cmpint (((const WbLesson *) g_ptr_array_index (after->anew, 0))->experiment, ==, bench.other);
  assert_same (before, after);
  g_assert_cmpuint (changed, ==, 0);
  g_assert_cmpuint (saving, ==, 0);
  g_assert_cmpstr (wb_app_notebook_get_undo_label (bench.notebook), ==, undo);
  g_signal_handlers_disconnect_by_func (bench.notebook, on_changed_cb, &changed);
  g_signal_handlers_disconnect_by_func (bench.notebook, on_changed_cb, &saving);
  g_clear_object (&result);
  app_finalize (g_steal_pointer (&answers), "the answers");
  tear_down (&bench);
}

static WbCraftLadder *
ask (const Bench  *bench,
     WbAppAnswers *answers)
{
  WbCraftLadderQuestion question = {
    .inner_diameter_mm = 78, .wax = (char *) "Moor blend", .load_pct = 6, .wicks = 1, .sizes = 2, .window_low = 0.75, .window_high = 1.25,
  };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  WbCraftLadder *ladder;

  if (answers == NULL)
    ladder = wb_app_answers_ladder_sync (bench->notebook, &question, NULL, &error);
  else
    {
      wb_app_answers_ladder_async (answers, &question, NULL, app_keep_result_cb, &result);
      ladder = wb_app_answers_ladder_finish (answers, app_wait_result (&result), &error);
    }
  g_assert_no_error (error);
  return ladder;
}

static void
assert_same_ladder (const WbCraftLadder *a,
                    const WbCraftLadder *b)
{
  g_assert_cmpstr (a->answer, ==, b->answer);
  g_assert_cmpuint (a->steps->len, ==, b->steps->len);
  for (guint i = 0; i < a->steps->len; i++)
    {
      const WbCraftLadderStep *one = g_ptr_array_index (a->steps, i), *other = g_ptr_array_index (b->steps, i);

      g_assert_cmpfloat (one->p_best, ==, other->p_best);
      g_assert_cmpfloat (one->p_right, ==, other->p_right);
      /* what is recalled is the same sums in another order */
      g_assert_cmpfloat_with_epsilon (one->pool_limit_mm.value, other->pool_limit_mm.value, 1e-8);
    }
}

static gpointer
has_school (WbStore      *store,
            gpointer      data,
            GCancellable *cancellable,
            GError      **error)
{
  g_autoptr (GBytes) school = wb_store_load_school (store, error);

  *(gboolean *) data = school != NULL;
  return data;
}

static gboolean
is_school_kept (gpointer data)
{
  const Bench *bench = data;
  gboolean kept = FALSE;

  wb_app_reader_run_sync (bench->notebook, has_school, &kept, NULL);
  return kept;
}

/* Asked in a window: lessons and school are kept behind the ladder, and the next ladder, the command's too, is the same. */
static void
test_ladder (void)
{
  Bench bench;
  g_autoptr (WbAppAnswers) answers = NULL;
  g_autoptr (WbCraftLadder) first = NULL, second = NULL, third = NULL;
  g_autoptr (WbAppLessons) kept = NULL;

  set_up (&bench);
  answers = wb_app_answers_new (bench.notebook);
  first = ask (&bench, answers);
  g_assert_cmpint (first->rests_on, ==, WB_CRAFT_RESTS_ON_HISTORY);
  app_wait_until (is_school_kept, &bench, "the school to be kept");
  kept = gather (&bench);
  g_assert_cmpuint (kept->anew->len, ==, 0);
  second = ask (&bench, answers);
  assert_same_ladder (first, second);
  third = ask (&bench, NULL);
  assert_same_ladder (first, third);
  app_finalize (g_steal_pointer (&answers), "the answers");
  tear_down (&bench);
}

/* Asked by a command, which opens for reading: kept as well, and the same where it cannot be. */
static void
test_command (void)
{
  Bench bench;
  g_autofree char *path = NULL;
  g_autoptr (WbCraftLadder) first = NULL, second = NULL, apart = NULL;
  g_autoptr (WbAppLessons) kept = NULL;
  g_autoptr (WbStore) holder = NULL;
  g_autoptr (GError) error = NULL;

  set_up (&bench);
  path = g_strdup (wb_app_notebook_get_path (bench.notebook));
  app_close (bench.notebook);
  bench.notebook = wb_app_notebook_open_sync (path, WB_APP_OPEN_READ, NULL, &error);
  g_assert_no_error (error);
  first = ask (&bench, NULL);
  kept = gather (&bench);
  g_assert_cmpuint (kept->anew->len, ==, 0);
  g_assert_true (is_school_kept (&bench));
  second = ask (&bench, NULL);
  assert_same_ladder (first, second);

  /* another program is just writing, for as long as this one has patience */
  holder = wb_store_open (path, WB_STORE_WRITE, &error);
  g_assert_no_error (error);
  {
    g_autoptr (GArray) gone = g_array_new (FALSE, FALSE, sizeof (gint64));
    WbStoreChange *change;

    g_array_append_val (gone, bench.one);
    g_assert_true (wb_store_keep_lessons (holder, NULL, gone, &error));
    change = wb_store_begin (holder, WB_ENTRY_EDIT, NULL, NULL, "Hold it", (WbInstant) { 1770000000000000, 0, TRUE }, &error);
    g_assert_nonnull (change);
    apart = ask (&bench, NULL);
    wb_store_rollback (change);
  }
  assert_same_ladder (first, apart);
  tear_down (&bench);
}

/* What cannot be written stays in memory for as long as the notebook is open. */
static void
test_read_only (void)
{
  Bench bench;
  g_autofree char *path = NULL;
  g_autoptr (WbAppLessonKeeper) keeper = NULL;
  g_autoptr (WbAppLessons) first = NULL, second = NULL;
  g_autoptr (GBytes) school = g_bytes_new_static ("learnt", 6);
  g_autoptr (GBytes) back = NULL;
  g_autoptr (GError) error = NULL;
  guint n = 99;

  set_up (&bench);
  path = g_strdup (wb_app_notebook_get_path (bench.notebook));
  app_close (bench.notebook);
  bench.notebook = wb_app_notebook_open_sync (path, WB_APP_OPEN_READ, NULL, &error);
  g_assert_no_error (error);
  g_assert_true (wb_app_notebook_get_read_only (bench.notebook));
  keeper = wb_app_lesson_keeper_new (bench.notebook);
  first = gather_with (&bench, keeper, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (first->anew->len, ==, 2);
  wb_app_lesson_keeper_give (keeper, first->anew, first->gone, school);
  while (g_main_context_iteration (NULL, FALSE))
    ;
  second = gather_with (&bench, keeper, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (second->anew->len, ==, 0);
  assert_same (first, second);
  back = g_bytes_ref (second->school);
  g_assert_true (g_bytes_equal (school, back));
  wb_app_reader_run_sync (bench.notebook, count_kept, &n, NULL);
  g_assert_cmpuint (n, ==, 0);
  tear_down (&bench);
}

static gboolean
is_all_written (gpointer data)
{
  const Bench *bench = data;
  guint n = 0;

  wb_app_reader_run_sync (bench->notebook, count_kept, &n, NULL);
  return n == 2;
}

/* Through the writer, and then no longer in memory. */
static void
test_keeper (void)
{
  Bench bench;
  g_autoptr (WbAppLessonKeeper) keeper = NULL;
  g_autoptr (WbAppLessons) first = NULL, second = NULL;
  g_autoptr (GBytes) school = g_bytes_new_static ("learnt", 6);
  g_autoptr (WbLesson) here = NULL;

  set_up (&bench);
  keeper = wb_app_lesson_keeper_new (bench.notebook);
  first = gather (&bench);
  wb_app_lesson_keeper_give (keeper, first->anew, first->gone, school);
  here = wb_app_lesson_keeper_dup (keeper, bench.other);
  app_wait_until (is_all_written, &bench, "the lessons to be written");
  while (g_main_context_iteration (NULL, FALSE))
    ;
  second = gather (&bench);
  g_assert_cmpuint (second->anew->len, ==, 0);
  assert_same (first, second);
  g_assert_null (wb_app_lesson_keeper_dup (keeper, bench.other));
  tear_down (&bench);
}

static void
test_cancelled (void)
{
  Bench bench;
  g_autoptr (WbAppLessonKeeper) keeper = NULL;
  g_autoptr (WbAppJob) job = wb_app_job_new ();
  g_autoptr (WbAppLessons) none = NULL;
  g_autoptr (GError) error = NULL;

  set_up (&bench);
  keeper = wb_app_lesson_keeper_new (bench.notebook);
  wb_app_job_cancel (job);
  none = gather_with (&bench, keeper, job, &error);
  g_assert_null (none);
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  tear_down (&bench);
}

void
test_app_lessons_add (void)
{
  g_test_add_func ("/app/lessons/kept-ones-are-those-made-anew", test_kept);
  g_test_add_func ("/app/lessons/out-of-date-with-what-they-rest-on", test_out_of_date);
  g_test_add_func ("/app/lessons/a-deleted-experiment-teaches-nothing", test_deleted);
  g_test_add_func ("/app/lessons/an-answer-s-is-kept-by-the-way", test_of_an_answer);
  g_test_add_func ("/app/lessons/a-ladder-keeps-them-and-comes-out-the-same", test_ladder);
  g_test_add_func ("/app/lessons/a-command-keeps-them-where-it-can", test_command);
  g_test_add_func ("/app/lessons/of-a-read-only-notebook-stay-in-memory", test_read_only);
  g_test_add_func ("/app/lessons/the-writer-takes-them", test_keeper);
  g_test_add_func ("/app/lessons/cancelled-is-cancelled", test_cancelled);
}
