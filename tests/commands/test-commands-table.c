/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "commands-run.h"
#include "wb-commands-private.h"
#include "wb-commands-table-private.h"

#include <math.h>

static void
test_aligned (void)
{
  g_autoptr (WbCommandsTable) table = wb_commands_table_new ();
  g_autofree char *text = NULL;

  wb_commands_table_add_column (table, "Name", WB_COMMANDS_LEFT);
  wb_commands_table_add_column (table, "n", WB_COMMANDS_RIGHT);
  wb_commands_table_add_column (table, "Note", WB_COMMANDS_LEFT);
  wb_commands_table_add (table, "L-3");
  wb_commands_table_add (table, "12");
  wb_commands_table_add (table, NULL);
  /* Two ideographs take four columns; a combining accent takes none. */
  wb_commands_table_add (table, "蝋燭");
  wb_commands_table_add (table, "7");
  wb_commands_table_add (table, "a\u0301\nb");
  text = wb_commands_table_to_text (table);
  g_assert_cmpstr (text, ==,
                   "Name   n  Note\n"
                   "L-3   12\n"
                   "蝋燭   7  a\u0301 b\n");
}

static void
test_numbers (void)
{
  const struct { double value, low, high; const char *text; } cases[] = {
    { 3.214, 2.9, 3.6, "3.21 (2.9 to 3.6)" },
    { 76, 74, NAN, "76 (74 or more)" },
    { 76, NAN, 80, "76 (up to 80)" },
    { 76, NAN, NAN, "76" },
    { NAN, 76, NAN, "76 or more" },
    { NAN, 1, 2, "1 to 2" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = wb_commands_dup_interval (cases[i].value, cases[i].low, cases[i].high, 2);

      g_assert_cmpstr (text, ==, cases[i].text);
    }
}

static void
test_p (void)
{
  g_autofree char *small = wb_commands_dup_p (1e-9), *usual = wb_commands_dup_p (0.03125), *none = wb_commands_dup_p (NAN);

  g_assert_cmpstr (small, ==, "<0.0001");
  g_assert_cmpstr (usual, ==, "0.0313");
  g_assert_cmpstr (none, ==, "-");
}

void
test_commands_table_add (void)
{
  g_test_add_func ("/commands/table/columns-stand-below-each-other", test_aligned);
  g_test_add_func ("/commands/table/an-interval-in-words", test_numbers);
  g_test_add_func ("/commands/table/a-tiny-p-is-not-nought", test_p);
}
