/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-weekday.h"

#include "wb-number-private.h"

#include <string.h>

/* 1970-01-01, day 0, was a Thursday. */
#define FIRST_WEEKDAY 3

int
wb_day_get_weekday (WbDay day)
{
  int weekday;

  if (day == WB_DAY_NONE)
    return -1;
  weekday = (int) (((gint64) day + FIRST_WEEKDAY) % WB_WEEKDAYS);
  return weekday < 0 ? weekday + WB_WEEKDAYS : weekday;
}

const char *
wb_weekday_get_name (int                  weekday,
                     const WbNumberStyle *style)
{
  g_return_val_if_fail (weekday >= 0 && weekday < WB_WEEKDAYS, "");

  return (style != NULL ? style : wb_number_style_default ())->weekdays[weekday];
}

char *
wb_day_format_of_week (WbDay                day,
                       const WbNumberStyle *style)
{
  g_autofree char *date = wb_day_format_in (day, style);
  char *year = strrchr (date, ' ');

  if (*date == '\0' || year == NULL)
    return g_strdup ("");
  *year = '\0';
  return g_strdup_printf ("%s %s", wb_weekday_get_name (wb_day_get_weekday (day), style), date);
}
