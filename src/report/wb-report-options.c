/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-options-private.h"

#include <glib/gi18n-lib.h>

#include "wb-clock.h"

#define EPOCH_MAXIMUM G_GINT64_CONSTANT (7258118400) /* the year 2200, where base's instants end */

void
wb_report_options_init (WbReportOptions  *options,
                        const WbNotebook *notebook)
{
  g_return_if_fail (options != NULL && notebook != NULL);

  *options = (WbReportOptions) {
    .paper = notebook->paper == WB_REPORT_LETTER ? WB_REPORT_LETTER : WB_REPORT_A4,
    .us_units = notebook->us_units,
    .invented = notebook->invented,
    .letterhead = notebook->maker,
    .address = notebook->address,
  };
}

int
wb_report_paper_from_key (const char *key)
{
  g_return_val_if_fail (key != NULL, -1);

  if (g_ascii_strcasecmp (key, "a4") == 0)
    return WB_REPORT_A4;
  if (g_ascii_strcasecmp (key, "letter") == 0)
    return WB_REPORT_LETTER;
  return -1;
}

WbInstant
wb_report_now (void)
{
  const char *epoch = g_getenv ("SOURCE_DATE_EPOCH");
  gint64 seconds;

  if (epoch != NULL && g_ascii_string_to_signed (epoch, 10, 0, EPOCH_MAXIMUM, &seconds, NULL))
    return (WbInstant) { seconds * G_USEC_PER_SEC, 0, TRUE };
  return wb_clock_now (wb_clock_get ());
}

WbReportDocument *
wb_report_options_begin (const WbReportOptions *options,
                         const char            *title,
                         const char            *subject,
                         const char            *foot)
{
  WbReportDocument *document = wb_report_document_new (options->paper, title, subject, options->letterhead);
  /* Translators: a sentence; the fingerprint of the record. */
  g_autofree char *told = options->fingerprint != NULL ? g_strdup_printf (_("%s Fingerprint of the record: %s"), foot, options->fingerprint)
                                                       : g_strdup (foot);

  wb_report_document_set_letterhead (document, options->letterhead, options->address);
  wb_report_document_set_logo (document, options->logo);
  wb_report_document_set_foot (document, told);
  wb_report_document_set_mark (document, options->invented ? _("Invented data") : NULL);
  return document;
}

char *
wb_report_options_dup_day (const WbReportOptions *options)
{
  return options->date != NULL ? g_strdup (options->date) : wb_instant_format_date (wb_report_now ());
}
