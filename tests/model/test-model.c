/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-model.h"

#include <glib.h>

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  test_model_add_record ();
  test_model_add_readings ();
  test_model_add_house ();
  test_model_add_evenings ();
  test_model_add_lesson ();
  return g_test_run ();
}
