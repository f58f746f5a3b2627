/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-chart.h"

#include <locale.h>

#include "wb-number.h"

char *
test_localize (const char *text)
{
  return g_strdelimit (g_strdup (text), ".", wb_number_style_get_decimal (wb_number_style_default ()));
}

int
main (int    argc,
      char **argv)
{
  setlocale (LC_ALL, "");
  /* No isolated directories: files are written into folders of their own, and the fonts are those of the system. */
  g_test_init (&argc, &argv, NULL);

  test_ticks_add ();
  test_range_add ();
  test_theme_add ();
  test_layout_add ();
  test_label_add ();
  test_draw_add ();
  test_find_add ();
  test_golden_add ();
  test_many_add ();
  test_output_add ();
  test_table_add ();

  return g_test_run ();
}
