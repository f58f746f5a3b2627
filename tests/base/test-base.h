/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-number.h"

G_BEGIN_DECLS

/* Each adds the tests of one source file. */
void test_clock_add          (void);
void test_instant_add        (void);
void test_language_add       (void);
void test_number_add         (void);
void test_number_style_add   (void);
void test_quantity_add       (void);
void test_quantity_parse_add (void);
void test_uuid_add           (void);

/* Rows of a file in data/, each a vector of cells, without its comments and header; free with g_ptr_array_unref(). */
GPtrArray *test_read_table (const char *name);
double     test_read_cell  (char **row, int column);
/* `text` with its point as the decimal sign of this run's language. */
char      *test_localize   (const char *text);

G_END_DECLS
