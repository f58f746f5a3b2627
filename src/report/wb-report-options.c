/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-options.h"

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
