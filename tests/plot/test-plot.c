/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-plot.h"

#include <libintl.h>

#include "test-craft.h"
#include "wb-language.h"

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

/* A run in German that would lay out English words again shows nothing. */
static void
test_language (void)
{
  const char *text = dgettext (GETTEXT_PACKAGE, "Time after lighting");

  g_assert_cmpstr (text, ==, g_strcmp0 (g_getenv ("LANGUAGE"), "de") == 0 ? "Zeit nach dem Anzünden" : "Time after lighting");
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  wb_language_set_up (GETTEXT_PACKAGE, WB_BUILD_DIR "/po");
  g_test_add_func ("/plot/layout/is-in-the-language-of-the-run", test_language);
  test_options_add ();
  test_finding_add ();
  test_beside_add ();
  test_burn_add ();
  test_table_add ();
  test_names_add ();
  test_ladder_add ();
  test_layout_add ();
  return g_test_run ();
}
