/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-store-export.h"
#include "wb-store-import.h"

G_BEGIN_DECLS

/* Burn-log rows for tests, and their way in and out. Invented data. */

/* A row of sample `sample` in experiment "Vessel trial": vessel Osprey 79.4, wick Larch L-2, wax Harrow blend, no fragrance. Caller frees. */
WbLogRow  *test_row (guint64 line, const char *sample, gint64 burn, double elapsed_min);

/* Judges one row and gives the verdict; remarks are appended to `remarks`, which may be NULL. */
WbImportVerdict test_judge (WbStoreImport *import, const WbLogRow *row, GPtrArray *remarks);

/* Both passes over rows (WbLogRow) into a store; gives how many were accepted. */
guint      test_import (WbStore *store, GPtrArray *rows, const char *const *extra_columns);
GPtrArray *test_rows_new (void);

/* All rows of an export, one line of text each, every given cell named; caller frees. */
char      *test_export (WbStore *store);

G_END_DECLS
