/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-reading.h"
#include "wb-store-change.h"

#include <sqlite3.h>

G_BEGIN_DECLS

/* A notebook for tests: a file of its own in an isolated folder, and records to put into it. Invented data. */

#define TEST_NOW ((WbInstant) { G_GINT64_CONSTANT (1770000000000000), 3600, TRUE })

/* Paths in a new folder below the test's own; caller frees. */
char     *test_path       (const char *name);
/* A new notebook at that path. */
WbStore  *test_notebook   (const char *path);
/* Begins an edit; ends the test if it cannot. */
WbStoreChange *test_begin (WbStore *store, const char *why);
/* Puts a record and gives its id back; frees the record. */
gint64    test_put        (WbStoreChange *change, gpointer record);
gint64    test_commit     (WbStoreChange *change);

gpointer  test_wax        (const char *name);
gpointer  test_vessel     (const char *name, double inner_diameter_mm);
gpointer  test_wick       (const char *series, const char *size, gint64 step);
gpointer  test_reading    (gint64 burn, double elapsed_min, double pool_mm);

/* One of everything, in one edit: a wax, a vessel, a wick, an experiment of one cell, a sample, a burn, three readings. */
typedef struct
{
  gint64 wax, vessel, wick, protocol, profile, experiment, cell, sample, burn;
  gint64 readings[3];
  gint64 entry;
} TestRecords;

TestRecords test_fill (WbStore *store);

/* Runs SQL on the file behind the store's back, as another program could. */
void      test_tamper     (const char *path, const char *sql);
/* One number from the file, by a connection of its own. */
gint64    test_query      (const char *path, const char *sql);

G_END_DECLS
