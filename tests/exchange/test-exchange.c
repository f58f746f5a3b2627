/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-exchange.h"

#include <string.h>

GFile *
test_exchange_file (const char *bytes,
                    gssize      length)
{
  g_autoptr (GFileIOStream) stream = NULL;
  g_autoptr (GError) error = NULL;
  GFile *file = g_file_new_tmp ("wickbench-test-XXXXXX", &stream, &error);

  g_assert_no_error (error);
  g_output_stream_write_all (g_io_stream_get_output_stream (G_IO_STREAM (stream)), bytes,
                             length < 0 ? strlen (bytes) : (gsize) length, NULL, NULL, &error);
  g_assert_no_error (error);
  return file;
}

void
test_exchange_drop (GFile *file)
{
  g_file_delete (file, NULL, NULL);
  g_object_unref (file);
}

GFile *
test_exchange_data (const char *name)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "exchange", "data", name, NULL);

  return g_file_new_for_path (path);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  test_exchange_add_csv ();
  test_exchange_add_log_doubt ();
  test_exchange_add_log_reader ();
  test_exchange_add_log_writer ();
  test_exchange_add_logger ();
  test_exchange_add_photo ();
  test_exchange_add_mapping ();
  test_exchange_add_mapping_doubt ();
  test_exchange_add_place ();
  test_exchange_add_json ();
  test_exchange_add_shelf ();
  test_exchange_add_calendar ();
  test_exchange_add_xlsx ();
  return g_test_run ();
}
