/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-report.h"

#include <glib/gi18n-lib.h>

gboolean
wb_app_report_write_sync (const WbCraftAnswer *answer,
                          int                  paper,
                          const char          *path,
                          GError             **error)
{
  g_autofree char *fingerprint = g_strdup_printf (_("up to entry %" G_GINT64_FORMAT), answer->data->last_entry);
  g_autoptr (WbReportDocument) document = NULL;
  g_autoptr (GBytes) bytes = NULL;
  WbReportOptions options;

  wb_report_options_init (&options, answer->data->notebook);
  options.fingerprint = fingerprint;
  if (paper >= 0)
    options.paper = (WbReportPaper) paper;
  document = wb_report_test_new (answer, &options);
  bytes = wb_report_document_dup_pdf (document, NULL, error);
  return bytes != NULL
         && g_file_set_contents_full (path, g_bytes_get_data (bytes, NULL), (gssize) g_bytes_get_size (bytes),
                                      G_FILE_SET_CONTENTS_CONSISTENT | G_FILE_SET_CONTENTS_DURABLE, 0666, error);
}
