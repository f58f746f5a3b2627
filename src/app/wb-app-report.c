/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-report.h"

#include "wb-app-reader-private.h"
#include "wb-store-records.h"

#include <glib/gi18n-lib.h>

static gpointer
read_fingerprint (WbStore      *store,
                  gpointer      data,
                  GCancellable *cancellable,
                  GError      **error)
{
  const gint64 *number = data;
  g_autoptr (GPtrArray) entries = wb_store_list_entries (store, *number + 1, 1, error);
  const WbEntry *entry;

  if (entries == NULL)
    return NULL;
  entry = entries->len > 0 ? g_ptr_array_index (entries, 0) : NULL;
  /* an empty text stands for none: NULL would be an error */
  return entry != NULL && entry->number == *number ? g_strdup_printf ("%" G_GINT64_FORMAT ":%s", entry->number, entry->hash) : g_strdup ("");
}

char *
wb_app_report_dup_fingerprint_sync (WbAppNotebook       *notebook,
                                    const WbCraftAnswer *answer,
                                    GError             **error)
{
  gint64 number = answer->data->last_entry;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);

  return wb_app_reader_run_sync (notebook, read_fingerprint, &number, error);
}

gboolean
wb_app_report_write_sync (WbAppNotebook       *notebook,
                          const WbCraftAnswer *answer,
                          int                  paper,
                          const char          *path,
                          GError             **error)
{
  g_autofree char *fingerprint = wb_app_report_dup_fingerprint_sync (notebook, answer, error);
  g_autoptr (WbReportDocument) document = NULL;
  g_autoptr (GBytes) bytes = NULL;
  WbReportOptions options;

  if (fingerprint == NULL)
    return FALSE;
  wb_report_options_init (&options, answer->data->notebook);
  options.fingerprint = *fingerprint != '\0' ? fingerprint : NULL;
  if (paper >= 0)
    options.paper = (WbReportPaper) paper;
  document = wb_report_test_new (answer, &options);
  bytes = wb_report_document_dup_pdf (document, NULL, error);
  return bytes != NULL
         && g_file_set_contents_full (path, g_bytes_get_data (bytes, NULL), (gssize) g_bytes_get_size (bytes),
                                      G_FILE_SET_CONTENTS_CONSISTENT | G_FILE_SET_CONTENTS_DURABLE, 0666, error);
}
