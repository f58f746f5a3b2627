/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-log-mapping.h"

#include <gio/gio.h>

/* A new file with these bytes (`length` -1: up to the NUL), deleted with test_exchange_drop(). */
GFile *test_exchange_file (const char *bytes, gssize length);
void   test_exchange_drop (GFile *file);
/* A file of the tests' own data. */
GFile *test_exchange_data (const char *name);
/*
 * All rows that a mapping makes of a sheet as text, a line each: the sheet's line, and the cells by name; what is refused with
 * column and rule. Caller frees.
 */
char  *test_exchange_dump (GFile *file, const WbLogMapping *mapping);
/* The same, and below the rows what is said of the file as a whole: "told 3 COLUMN: RULE". */
char  *test_exchange_dump_told (GFile *file, const WbLogMapping *mapping);

/* Each file of this room's tests adds its own. */
void   test_exchange_add_csv        (void);
void   test_exchange_add_log_doubt  (void);
void   test_exchange_add_log_reader (void);
void   test_exchange_add_log_writer (void);
void   test_exchange_add_logger     (void);
void   test_exchange_add_photo      (void);
void   test_exchange_add_mapping    (void);
void   test_exchange_add_mapping_doubt (void);
void   test_exchange_add_place      (void);
void   test_exchange_add_json       (void);
void   test_exchange_add_shelf      (void);
void   test_exchange_add_calendar   (void);
void   test_exchange_add_xlsx       (void);
