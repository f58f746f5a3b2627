/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-base.h"

#include <locale.h>
#include <string.h>

GPtrArray *
test_read_table (const char *name)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", name, NULL);
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  GPtrArray *rows = g_ptr_array_new_with_free_func ((GDestroyNotify) g_strfreev);

  g_file_get_contents (path, &text, NULL, &error);
  g_assert_no_error (error);
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  for (gsize i = 0; lines[i] != NULL; i++)
    if (*lines[i] != '\0' && *lines[i] != '#')
      g_ptr_array_add (rows, g_strsplit (lines[i], ",", -1));
  g_assert_cmpuint (rows->len, >, 1);
  g_ptr_array_remove_index (rows, 0);
  return rows;
}

double
test_read_cell (char **row, int column)
{
  char *end;

  g_assert_cmpint ((int) g_strv_length (row), >, column);
  double value = g_ascii_strtod (row[column], &end);
  g_assert_true (end != row[column] && *end == '\0');
  return value;
}

char *
test_localize (const char *text)
{
  return g_strdelimit (g_strdup (text), ".", wb_number_style_get_decimal (wb_number_style_default ()));
}

static void
test_decimal_sign (void)
{
  gboolean comma = g_strcmp0 (g_getenv ("WB_TEST_LANGUAGE"), "de") == 0;

  g_assert_cmpint (wb_number_style_get_decimal (wb_number_style_default ()), ==, comma ? ',' : '.');
  if (comma && setlocale (LC_ALL, NULL) != NULL && strcmp (localeconv ()->decimal_point, ",") != 0)
    {
      g_test_skip ("This system has no locale de_DE.UTF-8: .ci/setup makes it. The C library wrote points in this run.");
      return;
    }
  g_assert_cmpstr (localeconv ()->decimal_point, ==, comma ? "," : ".");
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  /* No isolated directories: nothing here writes a file, and GLib 2.74 leaks their names. */
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/base/locale/the-run-has-the-decimal-sign-it-is-for", test_decimal_sign);
  test_clock_add ();
  test_instant_add ();
  test_language_add ();
  test_number_add ();
  test_number_style_add ();
  test_quantity_add ();
  test_quantity_parse_add ();
  test_uuid_add ();
  return g_test_run ();
}
