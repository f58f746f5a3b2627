/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-plot.h"

#include "test-craft.h"

WbChart *
test_plot_new (WbPlotKind           kind,
               const WbCraftAnswer *answer)
{
  g_autoptr (GError) error = NULL;
  WbChart           *chart = wb_plot_new (kind, answer, NULL, &error);

  g_assert_no_error (error);
  g_assert_nonnull (chart);
  return chart;
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  test_options_add ();
  test_finding_add ();
  test_beside_add ();
  test_burn_add ();
  test_table_add ();
  test_names_add ();
  test_layout_add ();
  return g_test_run ();
}
