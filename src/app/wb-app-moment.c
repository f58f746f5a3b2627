/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-moment-private.h"

#include <math.h>

/* Minutes are told to a tenth. */
#define HALF_A_TENTH_MIN 0.05

/* Not taken is a value of its own. */
static gboolean
is_same_value (double a,
               double b)
{
  return isnan (a) ? isnan (b) : a == b;
}

gboolean
wb_app_moment_is_same (const WbReading *reading,
                       double           elapsed_min,
                       const char      *rater,
                       double           event,
                       double           wick)
{
  return fabs (elapsed_min - reading->elapsed_min) < HALF_A_TENTH_MIN && g_strcmp0 (rater, reading->rater) == 0
         && is_same_value (event, reading->values[WB_COLUMN_EVENT])
         && is_same_value (wick, reading->values[WB_COLUMN_WICK_NUMBER]);
}

gboolean
wb_app_moment_is_among (const WbReading  *reading,
                        const WbReadings *readings,
                        guint             first,
                        guint             n)
{
  for (guint row = first; row < first + n; row++)
    if (wb_app_moment_is_same (reading, wb_readings_get_elapsed_min (readings, row),
                               wb_readings_get_text (readings, row, WB_READING_TEXT_RATER),
                               wb_readings_get (readings, row, WB_COLUMN_EVENT),
                               wb_readings_get (readings, row, WB_COLUMN_WICK_NUMBER)))
      return TRUE;
  return FALSE;
}

void
wb_app_moment_move_on (WbReading        *reading,
                       WbAppMomentTaken  is_taken,
                       gpointer          user)
{
  while (is_taken (reading, user) && reading->elapsed_min < WB_APP_MOMENT_LONGEST_MIN)
    reading->elapsed_min = MIN (round (reading->elapsed_min * 10 + 1) / 10, WB_APP_MOMENT_LONGEST_MIN);
}
