/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"

/* What asks for a ranking, which takes seconds. */

int
main (int    argc,
      char **argv)
{
  app_init (&argc, &argv);
  test_app_advice_add ();
  test_app_answers_add ();
  test_app_check_burn_add ();
  test_app_decision_add ();
  test_app_decision_news_add ();
  test_app_decision_papers_add ();
  test_app_lessons_add ();
  return g_test_run ();
}
