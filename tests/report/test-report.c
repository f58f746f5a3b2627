/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-report.h"

#include <gio/gio.h>
#include <glib/gstdio.h>
#include <gsl/gsl_errno.h>
#include <string.h>

#include "wb-language.h"

char *
test_report_ask (GBytes     *pdf,
                 const char *tool,
                 const char *option)
{
  g_autofree char *path = NULL;
  g_autoptr (GBytes) said = NULL;
  g_autoptr (GSubprocess) process = NULL;
  g_autoptr (GError) error = NULL;
  int file = g_file_open_tmp ("wickbench-report-XXXXXX.pdf", &path, &error);
  gboolean read_back = g_str_equal (tool, "pdftotext");
  const char *arguments[] = { tool, option != NULL ? option : path, option != NULL ? path : NULL, read_back ? "-" : NULL, NULL };

  g_assert_no_error (error);
  g_assert_true (g_close (file, NULL));
  g_assert_true (g_file_set_contents (path, g_bytes_get_data (pdf, NULL), (gssize) g_bytes_get_size (pdf), NULL));
  /* with the files inherited GLib need not copy the process first */
  process = g_subprocess_newv (arguments, G_SUBPROCESS_FLAGS_STDOUT_PIPE | G_SUBPROCESS_FLAGS_INHERIT_FDS, &error);
  g_assert_no_error (error);
  g_assert_true (g_subprocess_communicate (process, NULL, NULL, &said, NULL, &error));
  g_assert_no_error (error);
  g_assert_true (g_subprocess_get_successful (process));
  g_unlink (path);
  /* poppler writes an emoji in two halves, which is no UTF-8 */
  return g_utf8_make_valid (g_bytes_get_data (said, NULL), (gssize) g_bytes_get_size (said));
}

char **
test_report_read (GBytes *pdf)
{
  g_autofree char *text = test_report_ask (pdf, "pdftotext", "-layout");

  return g_strsplit (text, "\f", -1);
}

GBytes *
test_report_print (WbReportDocument *document)
{
  g_autoptr (GError) error = NULL;
  GBytes *pdf = wb_report_document_dup_pdf (document, REPORT_BENCH_DATE, &error);

  g_assert_no_error (error);
  return pdf;
}

char *
test_report_squeeze (const char *text)
{
  g_autoptr (GString) squeezed = g_string_new (NULL);
  gboolean space = FALSE;

  for (const char *at = text; *at != '\0'; at = g_utf8_next_char (at))
    {
      gunichar letter = g_utf8_get_char (at);

      if (g_unichar_isspace (letter) || letter == 0xa0)
        {
          space = TRUE;
          continue;
        }
      if (space && squeezed->len > 0)
        g_string_append_c (squeezed, ' ');
      space = FALSE;
      g_string_append_unichar (squeezed, letter);
    }
  return g_string_free (g_steal_pointer (&squeezed), FALSE);
}

gboolean
test_report_says (char      **pages,
                  int         page,
                  const char *text)
{
  g_autofree char *wanted = test_report_squeeze (text);

  for (int i = MAX (page, 0); pages[i] != NULL && (page < 0 || i == page); i++)
    {
      g_autofree char *said = test_report_squeeze (pages[i]);

      if (strstr (said, wanted) != NULL)
        return TRUE;
    }
  return FALSE;
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  wb_language_set_up (GETTEXT_PACKAGE, WB_BUILD_DIR "/po");
  test_document_add ();
  test_filling_add ();
  test_layout_add ();
  test_choice_add ();
  test_customer_add ();
  test_glance_add ();
  test_decision_papers_add ();
  test_papers_add ();
  test_labels_add ();
  test_label_scan_add ();
  return g_test_run ();
}
