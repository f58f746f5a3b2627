/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"

#include <gsl/gsl_errno.h>

/* What asks for a ranking: of suite `slow`, as the seconds of each become minutes where leaks are looked for. */

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  gsl_set_error_handler_off ();
  g_setenv ("WICKBENCH_CLOCK", "2026-03-02T18:00:00+00:00,0", TRUE);

  test_app_answers_add ();
  test_app_check_burn_add ();
  test_app_decision_add ();
  test_app_decision_news_add ();
  test_app_decision_papers_add ();
  return g_test_run ();
}
