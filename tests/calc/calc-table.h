/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

/*
 * The reference tables in tests/calc/data: comma separated, a header line, no
 * quoting. A missing file, column or row ends the test program with its name.
 */
typedef struct _CalcTable CalcTable;

CalcTable  *calc_table_load (const char *stem);
void        calc_table_free (CalcTable *table);
gsize       calc_table_n_rows (const CalcTable *table);
const char *calc_table_text (const CalcTable *table, const char *column, gsize row);
/* NaN for an empty field. */
double      calc_table_number (const CalcTable *table, const char *column, gsize row);
/* A column as numbers, or as levels 0, 1, ... in order of first sight; free with g_free. */
double     *calc_table_numbers (const CalcTable *table, const char *column);
gsize      *calc_table_levels (const CalcTable *table, const char *column, gsize *n_levels);

/* `value` and `std_dev` of the row whose first column, `parameter`, is as given. */
double      calc_table_certified (const CalcTable *table, const char *parameter);
double      calc_table_certified_sd (const CalcTable *table, const char *parameter);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (CalcTable, calc_table_free)

/* At least `digits` correct significant digits (log relative error); absolute where 0 is expected. */
void calc_assert_digits_at (const char *file, int line, const char *what, double actual, double expected, double digits);
#define calc_assert_digits(what, actual, expected, digits) \
  calc_assert_digits_at (__FILE__, __LINE__, what, actual, expected, digits)
