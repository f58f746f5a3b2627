/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "calc-table.h"

#include <math.h>
#include <string.h>

struct _CalcTable
{
  char *stem;
  GStrv header;
  GPtrArray *rows; /* GStrv */
};

CalcTable *
calc_table_load (const char *stem)
{
  g_autofree char *name = g_strconcat (stem, ".csv", NULL);
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "calc", "data", name, NULL);
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;

  if (!g_file_get_contents (path, &text, NULL, &error))
    g_error ("%s", error->message);

  CalcTable *table = g_new0 (CalcTable, 1);
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);

  table->stem = g_strdup (stem);
  table->rows = g_ptr_array_new_with_free_func ((GDestroyNotify) g_strfreev);
  for (gsize i = 0; lines[i] != NULL; i++)
    {
      g_strchomp (lines[i]);
      if (lines[i][0] == '\0')
        continue;
      if (table->header == NULL)
        table->header = g_strsplit (lines[i], ",", -1);
      else
        g_ptr_array_add (table->rows, g_strsplit (lines[i], ",", -1));
    }
  g_assert_cmpuint (table->rows->len, >, 0);
  return table;
}

void
calc_table_free (CalcTable *table)
{
  g_free (table->stem);
  g_strfreev (table->header);
  g_ptr_array_unref (table->rows);
  g_free (table);
}

gsize
calc_table_n_rows (const CalcTable *table)
{
  return table->rows->len;
}

const char *
calc_table_text (const CalcTable *table,
                 const char      *column,
                 gsize            row)
{
  for (gsize c = 0; table->header[c] != NULL; c++)
    if (strcmp (table->header[c], column) == 0)
      {
        GStrv fields = g_ptr_array_index (table->rows, row);

        if (c >= g_strv_length (fields))
          g_error ("%s: row %" G_GSIZE_FORMAT " has no %s", table->stem, row, column);
        return fields[c];
      }
  g_error ("%s has no column %s", table->stem, column);
}

static double
number_of (const char *text)
{
  g_autofree char *trimmed = g_strstrip (g_strdup (text));

  return trimmed[0] == '\0' ? NAN : g_ascii_strtod (trimmed, NULL);
}

double
calc_table_number (const CalcTable *table,
                   const char      *column,
                   gsize            row)
{
  return number_of (calc_table_text (table, column, row));
}

double *
calc_table_numbers (const CalcTable *table,
                    const char      *column)
{
  double *numbers = g_new (double, table->rows->len);

  for (gsize i = 0; i < table->rows->len; i++)
    numbers[i] = calc_table_number (table, column, i);
  return numbers;
}

gsize *
calc_table_levels (const CalcTable *table,
                   const char      *column,
                   gsize           *n_levels)
{
  gsize *levels = g_new (gsize, table->rows->len);
  g_autoptr (GPtrArray) seen = g_ptr_array_new ();

  for (gsize i = 0; i < table->rows->len; i++)
    {
      const char *text = calc_table_text (table, column, i);
      guint at = 0;

      while (at < seen->len && strcmp (g_ptr_array_index (seen, at), text) != 0)
        at++;
      if (at == seen->len)
        g_ptr_array_add (seen, (gpointer) text);
      levels[i] = at;
    }
  *n_levels = seen->len;
  return levels;
}

static double
certified (const CalcTable *table,
           const char      *parameter,
           const char      *column)
{
  for (gsize i = 0; i < table->rows->len; i++)
    {
      GStrv fields = g_ptr_array_index (table->rows, i);

      if (strcmp (fields[0], parameter) == 0)
        return calc_table_number (table, column, i);
    }
  g_error ("%s has no parameter %s", table->stem, parameter);
}

double
calc_table_certified (const CalcTable *table,
                      const char      *parameter)
{
  return certified (table, parameter, "value");
}

double
calc_table_certified_sd (const CalcTable *table,
                         const char      *parameter)
{
  return certified (table, parameter, "std_dev");
}

void
calc_assert_digits_at (const char *file,
                       int         line,
                       const char *what,
                       double      actual,
                       double      expected,
                       double      digits)
{
  double error = fabs (actual - expected);
  double scale = expected == 0.0 ? 1.0 : fabs (expected);

  if (error <= scale * pow (10.0, -digits))
    return;

  g_autofree char *message
      = g_strdup_printf ("%s: %.17g is not %.17g to %g digits", what, actual, expected, digits);

  g_assertion_message (G_LOG_DOMAIN, file, line, G_STRFUNC, message);
}
