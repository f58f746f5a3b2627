/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-label-measure-private.h"

#include <glib/gi18n-lib.h>

#include "wb-number.h"

#define MM_AN_INCH 25.4
#define DECIMALS 1
#define DECIMALS_OF_INCHES 3 /* an eighth has three */

static char *
dup_number (double   mm,
            gboolean us_units)
{
  return us_units ? wb_number_format_trimmed (mm / MM_AN_INCH, DECIMALS_OF_INCHES, NULL) : wb_number_format_trimmed (mm, DECIMALS, NULL);
}

char *
wb_report_label_dup_length (double   mm,
                            gboolean us_units)
{
  g_autofree char *number = dup_number (mm, us_units);

  return us_units ? g_strdup_printf (_("%s in"), number) : g_strdup_printf (_("%s mm"), number);
}

char *
wb_report_label_dup_size (double   width_mm,
                          double   height_mm,
                          gboolean us_units)
{
  g_autofree char *width = dup_number (width_mm, us_units), *height = dup_number (height_mm, us_units);

  /* Translators: width and height. */
  return us_units ? g_strdup_printf (_("%s × %s in"), width, height) : g_strdup_printf (_("%s × %s mm"), width, height);
}
