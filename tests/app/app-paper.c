/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-paper.h"

#include "app-loop.h"

#include <gio/gio.h>
#include <glib/gstdio.h>

char *
app_read_paper (WbReportDocument *document)
{
  g_autofree char *path = app_new_path ();
  g_autofree char *text = NULL;
  g_autoptr (GBytes) pdf = NULL;
  g_autoptr (GSubprocess) process = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_nonnull (document);
  pdf = wb_report_document_dup_pdf (document, "2026-03-02T08:07:00+00:00", &error);
  g_assert_no_error (error);
  wb_report_document_free (document);
  g_assert_true (g_file_set_contents (path, g_bytes_get_data (pdf, NULL), (gssize) g_bytes_get_size (pdf), NULL));
  process = g_subprocess_new (G_SUBPROCESS_FLAGS_STDOUT_PIPE, &error, "pdftotext", "-raw", path, "-", NULL);
  g_assert_no_error (error);
  g_assert_true (g_subprocess_communicate_utf8 (process, NULL, NULL, &text, NULL, &error));
  g_assert_true (g_subprocess_get_successful (process));
  g_unlink (path);
  return g_steal_pointer (&text);
}

WbReportDocument *
app_labels_new (WbAppPour              *pour,
                guint                   batch,
                const WbAppLabelsTerms *terms,
                GError                **error)
{
  g_autoptr (GAsyncResult) result = NULL;

  wb_app_labels_new_async (pour, batch, terms, NULL, app_keep_result_cb, &result);
  return wb_app_labels_new_finish (pour, app_wait_result (&result), error);
}
