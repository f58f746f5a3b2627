/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gstdio.h>
#include <sqlite3.h>
#include <stdlib.h>
#include <sys/resource.h>

#include "wb-clock.h"
#include "wb-reading.h"
#include "wb-store-change.h"

/*
 * One durable save of a reading with its entry and hash, against a bare insert
 * of the same values with the same pragmas, in turn, on the machine's disk.
 */

#define PAIRS 300

typedef struct { double wall, cpu; } Cost;

static double
cpu_now (void)
{
  struct rusage usage;

  getrusage (RUSAGE_SELF, &usage);
  return (double) usage.ru_utime.tv_sec + (double) usage.ru_stime.tv_sec
         + (double) (usage.ru_utime.tv_usec + usage.ru_stime.tv_usec) / 1e6;
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

static gint64
make_burn (WbStore *store)
{
  g_autoptr (GError) error = NULL;
  WbStoreChange *change = wb_store_begin (store, WB_ENTRY_EDIT, "plan", "bench", "Prepare", wb_clock_now (wb_clock_get ()), &error);
  WbVessel *vessel = wb_record_new (&wb_vessel_type);
  WbWax *wax = wb_record_new (&wb_wax_type);
  WbWick *wick = wb_record_new (&wb_wick_type);
  WbExperiment *experiment = wb_record_new (&wb_experiment_type);
  WbCell *cell = wb_record_new (&wb_cell_type);
  WbSample *sample = wb_record_new (&wb_sample_type);
  WbBurn *burn = wb_record_new (&wb_burn_type);
  gint64 id;

  vessel->name = g_strdup ("Vessel");
  vessel->inner_diameter_mm = 80;
  wax->name = g_strdup ("Wax");
  wick->series = g_strdup ("Series");
  wick->size = g_strdup ("1");
  wick->step = 1;
  experiment->code = g_strdup ("B-1");
  experiment->title = g_strdup ("Bench");
  experiment->wax = put (change, wax);
  experiment->protocol = put (change, wb_protocol_new_house ());
  experiment->profile = put (change, wb_profile_new_house ());
  experiment->samples_per_cell = 1;
  experiment->seed = 1;
  cell->experiment = sample->experiment = put (change, experiment);
  cell->vessel = put (change, vessel);
  cell->wick = put (change, wick);
  cell->wick_count = 1;
  cell->load_pct = 0;
  cell->load_basis = WB_BASIS_WAX;
  sample->cell = put (change, cell);
  sample->code = g_strdup ("S1");
  burn->sample = put (change, sample);
  burn->number = 1;
  burn->kind = WB_BURN_STANDARD;
  id = put (change, burn);
  if (!wb_store_commit (change, NULL, &error))
    g_error ("%s", error->message);
  return id;
}

static void
save (WbStore *store,
      gint64   burn,
      guint    i)
{
  g_autoptr (GError) error = NULL;
  WbStoreChange *change = wb_store_begin (store, WB_ENTRY_EDIT, "reading", "bench", "Log a reading", wb_clock_now (wb_clock_get ()), &error);
  WbReading *reading = wb_record_new (&wb_reading_type);

  if (change == NULL)
    g_error ("%s", error->message);
  reading->burn = burn;
  reading->elapsed_min = i;
  reading->source = WB_SOURCE_TYPED;
  reading->values[WB_COLUMN_POOL_MM] = 54.5;
  reading->values[WB_COLUMN_FLAME_MM] = 21;
  reading->values[WB_COLUMN_VESSEL_C] = 44.5;
  reading->values[WB_COLUMN_SOOT] = 0;
  put (change, reading);
  if (!wb_store_commit (change, NULL, &error))
    g_error ("%s", error->message);
}

static sqlite3 *
open_bare (const char *path)
{
  sqlite3 *db;

  g_assert_cmpint (sqlite3_open (path, &db), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (db, "PRAGMA journal_mode=TRUNCATE; PRAGMA synchronous=EXTRA;"
                                     "CREATE TABLE reading (id INTEGER PRIMARY KEY, burn INTEGER, minute REAL, pool REAL, flame REAL, vessel REAL, soot REAL) STRICT",
                                 NULL, NULL, NULL), ==, SQLITE_OK);
  return db;
}

static void
save_bare (sqlite3_stmt *insert,
           guint         i)
{
  sqlite3_bind_int64 (insert, 1, 1);
  sqlite3_bind_double (insert, 2, i);
  sqlite3_bind_double (insert, 3, 54.5);
  sqlite3_bind_double (insert, 4, 21);
  sqlite3_bind_double (insert, 5, 44.5);
  sqlite3_bind_double (insert, 6, 0);
  g_assert_cmpint (sqlite3_step (insert), ==, SQLITE_DONE);
  sqlite3_reset (insert);
}

static int
by_value (const void *a,
          const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return x < y ? -1 : x > y;
}

int
main (int    argc,
      char **argv)
{
  g_autofree char *folder = g_strdup (WB_BUILD_DIR "/bench-save-XXXXXX");
  g_autofree char *ours = NULL;
  g_autofree char *bare = NULL;
  g_autofree double *wall = g_new (double, PAIRS);
  g_autoptr (GError) error = NULL;
  Cost spent[2] = { { 0, 0 }, { 0, 0 } };
  sqlite3_stmt *insert;
  sqlite3 *db;
  WbStore *store;
  gint64 burn;

  g_assert_nonnull (g_mkdtemp (folder));
  ours = g_build_filename (folder, "bench.wickbench", NULL);
  bare = g_build_filename (folder, "bare.db", NULL);
  store = wb_store_create (ours, NULL, "bench", wb_clock_now (wb_clock_get ()), &error);
  g_assert_no_error (error);
  burn = make_burn (store);
  db = open_bare (bare);
  sqlite3_prepare_v2 (db, "INSERT INTO reading (burn, minute, pool, flame, vessel, soot) VALUES (?, ?, ?, ?, ?, ?)", -1, &insert, NULL);

  for (guint i = 0; i < PAIRS; i++)
    {
      double cpu[3];
      gint64 at[3];

      at[0] = g_get_monotonic_time ();
      cpu[0] = cpu_now ();
      save (store, burn, i);
      at[1] = g_get_monotonic_time ();
      cpu[1] = cpu_now ();
      save_bare (insert, i);
      at[2] = g_get_monotonic_time ();
      cpu[2] = cpu_now ();
      wall[i] = (double) (at[1] - at[0]) / (double) MAX (at[2] - at[1], 1);
      for (guint side = 0; side < 2; side++)
        {
          spent[side].wall += (double) (at[side + 1] - at[side]) / 1e6;
          spent[side].cpu += cpu[side + 1] - cpu[side];
        }
    }
  qsort (wall, PAIRS, sizeof *wall, by_value);
  g_print ("durable save with entry and hash: %.2f times a bare insert by the clock (middle half %.2f to %.2f), %.2f by CPU time; aim 1.5; %u pairs, ours %.3f ms and the floor %.3f ms on average\n",
           wall[PAIRS / 2], wall[PAIRS / 4], wall[3 * PAIRS / 4], spent[0].cpu / spent[1].cpu, PAIRS,
           spent[0].wall / PAIRS * 1e3, spent[1].wall / PAIRS * 1e3);

  sqlite3_finalize (insert);
  sqlite3_close (db);
  wb_store_close (store);
  g_unlink (ours);
  g_unlink (bare);
  g_rmdir (folder);
  return 0;
}
