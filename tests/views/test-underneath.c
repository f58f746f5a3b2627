/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-notebook.h"
#include "test-bench.h"
#include "test-views.h"

#include "wb-burn-page.h"
#include "wb-clock.h"

#include <glib/gstdio.h>
#include <sqlite3.h>
#include <string.h>

#define HOUR_US (3600 * (gint64) G_USEC_PER_SEC)

/* What happens to the file underneath an open window while a reading is half typed: what was typed stays. */

typedef struct
{
  WbWindow         *window;
  WbReadingStack   *stack;
  WbAppBench       *bench;
  WbAppBenchSample *sample;
  char             *path;
} Evening;

static WbReadingPanel *
get_panel (Evening *self)
{
  return wb_reading_stack_get_shown (self->stack);
}

static gboolean
asks_round (gpointer user)
{
  WbReadingPanel *panel = get_panel (user);

  return panel != NULL && wb_reading_panel_get_ask (panel) == WB_APP_ASK_ROUND;
}

static void
evening_open (Evening *self)
{
  g_autoptr (WbAppNotebook) notebook = NULL;
  g_autoptr (GError) error = NULL;
  gint64 experiment;

  self->path = test_path ("underneath.wickbench");
  experiment = bench_notebook_write (self->path, 1, "pool_mm,flame_mm");
  notebook = wb_app_notebook_open_sync (self->path, WB_APP_OPEN_EXISTING, NULL, &error);
  g_assert_no_error (error);
  self->window = test_window_new ();
  wb_window_set_notebook (self->window, notebook);
  test_settle (self->window);
  self->bench = wb_desk_get_bench (wb_host_get_desk (WB_HOST (self->window)));
  self->sample = test_bench_light_first (self->bench);
  wb_clock_advance (wb_clock_get (), HOUR_US);
  wb_app_bench_update (self->bench);
  g_assert_true (wb_window_go (self->window, "burn", experiment));
  self->stack = wb_burn_page_get_stack (WB_BURN_PAGE (wb_window_get_page (self->window)));
  test_wait (asks_round, self);
}

static void
evening_close (Evening *self)
{
  test_window_destroy (self->window);
  g_free (self->path);
}

static GtkEditable *
get_text (Evening *self,
          WbColumn column)
{
  return GTK_EDITABLE (test_find (wb_reading_panel_get_field (get_panel (self), column), GTK_TYPE_TEXT));
}

static void
type_half (Evening *self)
{
  gtk_editable_set_text (get_text (self, WB_COLUMN_POOL_MM), "41");
  gtk_editable_set_text (get_text (self, WB_COLUMN_FLAME_MM), "2");
}

static void
assert_typed (Evening    *self,
              const char *flame)
{
  g_assert_true (wb_reading_panel_get_touched (get_panel (self)));
  g_assert_cmpstr (gtk_editable_get_text (get_text (self, WB_COLUMN_POOL_MM)), ==, "41");
  g_assert_cmpstr (gtk_editable_get_text (get_text (self, WB_COLUMN_FLAME_MM)), ==, flame);
}

static void
type_rest (Evening *self)
{
  gtk_editable_set_text (get_text (self, WB_COLUMN_FLAME_MM), "21");
}

static void
save (Evening *self)
{
  g_assert_true (test_enabled (self->window, "page.save"));
  gtk_widget_activate_action (GTK_WIDGET (self->window), "page.save", NULL);
}

static gboolean
has_failed (gpointer user)
{
  return wb_reading_panel_get_saving (get_panel (user)) == WB_SAVE_FAILED;
}

static void
assert_told (Evening *self)
{
  test_wait (has_failed, self);
  g_assert_cmpstr (wb_problem_bar_get_heading (wb_host_get_problem_bar (WB_HOST (self->window))), ==, "The reading was not saved");
  assert_typed (self, "21");
}

static sqlite3 *
open_other (Evening *self)
{
  sqlite3 *other = NULL;

  g_assert_cmpint (sqlite3_open_v2 (self->path, &other, SQLITE_OPEN_READWRITE, NULL), ==, SQLITE_OK);
  /* the window may be at the file at that very moment */
  sqlite3_busy_timeout (other, 30000);
  return other;
}

static int
count_readings (Evening *self)
{
  sqlite3 *other = open_other (self);
  sqlite3_stmt *statement = NULL;
  int n;

  g_assert_cmpint (sqlite3_prepare_v2 (other, "SELECT count (*) FROM reading WHERE pool_mm = 41 OR flame_mm = 18", -1, &statement, NULL),
                   ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_step (statement), ==, SQLITE_ROW);
  n = sqlite3_column_int (statement, 0);
  sqlite3_finalize (statement);
  sqlite3_close (other);
  return n;
}

static gboolean
knows_30 (gpointer user)
{
  return wb_app_bench_sample_get_last_min (user) == 30;
}

static gboolean
is_saved (gpointer user)
{
  return !wb_reading_panel_get_touched (get_panel (user));
}

/* Another program logs a reading of the same burn: it shows, and what is being typed here is left alone, then saved beside it. */
static void
test_another_writes (void)
{
  Evening evening;
  g_autoptr (WbAppNotebook) other = NULL;
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GError) error = NULL;
  WbReading *reading = wb_record_new (&wb_reading_type);

  evening_open (&evening);
  type_half (&evening);
  other = wb_app_notebook_open_sync (evening.path, WB_APP_OPEN_EXISTING, NULL, &error);
  g_assert_no_error (error);
  reading->burn = wb_app_bench_sample_get_burn (evening.sample)->record.id;
  reading->elapsed_min = 30;
  reading->source = WB_SOURCE_TYPED;
  reading->values[WB_COLUMN_FLAME_MM] = 18;
  g_ptr_array_add (records, reading);
  g_assert_cmpint (wb_app_notebook_save_sync (other, "Log a reading elsewhere", records, NULL, &error), >, 0);
  g_assert_no_error (error);
  wb_app_notebook_close (other);
  test_wait (knows_30, evening.sample);
  assert_typed (&evening, "2");
  type_rest (&evening);
  save (&evening);
  test_settle (evening.window);
  test_wait (is_saved, &evening);
  g_assert_cmpint (count_readings (&evening), ==, 2);
  evening_close (&evening);
}

/* Another program does not let go of the file: told after five seconds, and saved by the same key once it does. */
static void
test_another_holds_it (void)
{
  Evening evening;
  sqlite3 *other;

  evening_open (&evening);
  type_half (&evening);
  type_rest (&evening);
  other = open_other (&evening);
  g_assert_cmpint (sqlite3_exec (other, "BEGIN EXCLUSIVE", NULL, NULL, NULL), ==, SQLITE_OK);
  save (&evening);
  assert_told (&evening);
  g_assert_cmpint (sqlite3_exec (other, "COMMIT", NULL, NULL, NULL), ==, SQLITE_OK);
  sqlite3_close (other);
  g_assert_cmpint (count_readings (&evening), ==, 0);
  save (&evening);
  test_settle (evening.window);
  test_wait (is_saved, &evening);
  g_assert_cmpint (count_readings (&evening), ==, 1);
  evening_close (&evening);
}

/* The bar says why, in words, below its heading. */
static void
assert_words (Evening    *self,
              const char *words)
{
  GtkWidget *heading = test_find (GTK_WIDGET (wb_host_get_problem_bar (WB_HOST (self->window))), GTK_TYPE_LABEL);
  const char *detail = gtk_label_get_text (GTK_LABEL (gtk_widget_get_next_sibling (heading)));

  if (strstr (detail, words) == NULL)
    g_error ("the bar does not say “%s” but: %s", words, detail);
}

/* Nothing was typed anew. */
static void
assert_saved_by_same_key (Evening *self)
{
  assert_typed (self, "21");
  save (self);
  test_settle (self->window);
  test_wait (is_saved, self);
  g_assert_cmpint (count_readings (self), ==, 1);
}

/* Deleted: nothing can be saved, which is told, and what was typed can still be copied elsewhere. */
static void
test_deleted (void)
{
  Evening evening;

  evening_open (&evening);
  type_half (&evening);
  type_rest (&evening);
  g_assert_cmpint (g_unlink (evening.path), ==, 0);
  save (&evening);
  assert_told (&evening);
  g_assert_false (g_file_test (evening.path, G_FILE_TEST_EXISTS));
  evening_close (&evening);
}

/* Moved away: told; put back where it was, the same key saves it. */
static void
test_moved (void)
{
  Evening evening;
  g_autofree char *elsewhere = NULL;

  evening_open (&evening);
  elsewhere = g_strconcat (evening.path, ".elsewhere", NULL);
  type_half (&evening);
  type_rest (&evening);
  g_assert_cmpint (g_rename (evening.path, elsewhere), ==, 0);
  save (&evening);
  assert_told (&evening);
  assert_words (&evening, "moved, deleted or replaced");
  g_assert_false (g_file_test (evening.path, G_FILE_TEST_EXISTS));
  g_assert_cmpint (g_rename (elsewhere, evening.path), ==, 0);
  assert_saved_by_same_key (&evening);
  evening_close (&evening);
}

/* ---- A disk that takes nothing ---- */

/* What the disk says to each write while it is set; SQLITE_OK: it takes it. The writer's thread asks. */
static int refusal = SQLITE_OK;
static sqlite3_vfs disk;
static sqlite3_vfs *real_disk;
static sqlite3_io_methods methods;
static const sqlite3_io_methods *real_methods;

static int
refusing_write (sqlite3_file *file,
                const void   *bytes,
                int           n,
                sqlite3_int64 offset)
{
  int code = g_atomic_int_get (&refusal);

  return code != SQLITE_OK ? code : real_methods->xWrite (file, bytes, n, offset);
}

static int
open_on_disk (sqlite3_vfs  *vfs,
              const char   *name,
              sqlite3_file *file,
              int           flags,
              int          *given)
{
  int code = real_disk->xOpen (real_disk, name, file, flags, given);

  /* All files of one kind share their methods. */
  if (code != SQLITE_OK || file->pMethods == NULL || (real_methods != NULL && file->pMethods != real_methods))
    return code;
  if (real_methods == NULL)
    {
      real_methods = file->pMethods;
      methods = *real_methods;
      methods.xWrite = refusing_write;
    }
  file->pMethods = &methods;
  return code;
}

/* The same disk, which can be told to refuse. */
static void
put_in_disk (void)
{
  real_disk = sqlite3_vfs_find (NULL);
  disk = *real_disk;
  disk.zName = "refusing";
  disk.xOpen = open_on_disk;
  g_assert_cmpint (sqlite3_vfs_register (&disk, 1), ==, SQLITE_OK);
}

static void
take_out_disk (void)
{
  g_assert_cmpint (sqlite3_vfs_register (real_disk, 1), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_vfs_unregister (&disk), ==, SQLITE_OK);
}

static void
refuse (int         code,
        const char *words)
{
  Evening evening;

  put_in_disk ();
  evening_open (&evening);
  type_half (&evening);
  type_rest (&evening);
  g_atomic_int_set (&refusal, code);
  save (&evening);
  assert_told (&evening);
  assert_words (&evening, words);
  g_atomic_int_set (&refusal, SQLITE_OK);
  g_assert_cmpint (count_readings (&evening), ==, 0);
  assert_saved_by_same_key (&evening);
  evening_close (&evening);
  take_out_disk ();
}

/* Full: nothing is half written, and once there is room the same key saves it. */
static void
test_full (void)
{
  refuse (SQLITE_FULL, "no room left on the disk");
}

/* A medium that turned read-only while it was open. */
static void
test_read_only (void)
{
  refuse (SQLITE_READONLY, "the file, its folder or the medium is read-only");
}

void
test_underneath_add (void)
{
  g_test_add_func ("/views/underneath/another-program-writes-while-a-reading-is-typed", test_another_writes);
  g_test_add_func ("/views/underneath/another-program-holds-the-file", test_another_holds_it);
  g_test_add_func ("/views/underneath/the-file-is-deleted", test_deleted);
  g_test_add_func ("/views/underneath/the-file-is-moved-and-put-back", test_moved);
  g_test_add_func ("/views/underneath/the-disk-is-full", test_full);
  g_test_add_func ("/views/underneath/the-medium-turns-read-only", test_read_only);
}
