/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-status.h"

#include <glib.h>

static void
test_names (void)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);

  for (int i = 0; i < WB_CALC_N_STATUSES; i++)
    {
      const char *name = wb_calc_status_get_name (i);

      g_assert_cmpstr (name, !=, "unknown");
      g_assert_true (g_hash_table_add (seen, (gpointer) name));
    }
  g_assert_cmpstr (wb_calc_status_get_name (WB_CALC_OK), ==, "ok");
  g_assert_cmpstr (wb_calc_status_get_name (WB_CALC_N_STATUSES), ==, "unknown");
  g_assert_cmpstr (wb_calc_status_get_name (-1), ==, "unknown");
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/calc/status/every-status-has-a-name-of-its-own", test_names);
  return g_test_run ();
}
