/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-moment-private.h"

#include "wb-store-records.h"

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

/* ---- In the file itself ---- */

static gboolean
is_new_reading (const WbRecord *record)
{
  return record->type == &wb_reading_type && record->id <= 0 && !record->deleted && ((const WbReading *) record)->burn > 0;
}

static gboolean
is_among_records (const WbReading *reading,
                  gpointer         stored)
{
  const GPtrArray *all = stored;

  for (guint i = 0; i < all->len; i++)
    {
      const WbReading *other = g_ptr_array_index (all, i);

      if (wb_app_moment_is_same (reading, other->elapsed_min, other->rater, other->values[WB_COLUMN_EVENT],
                                 other->values[WB_COLUMN_WICK_NUMBER]))
        return TRUE;
    }
  return FALSE;
}

/* The newest of what was read in that whole minute, if it came after it. */
static double
find_last_within (const GPtrArray *stored,
                  double           minute)
{
  double last = minute;

  for (guint i = 0; i < stored->len; i++)
    {
      const WbReading *other = g_ptr_array_index (stored, i);

      if (floor (other->elapsed_min) == floor (minute))
        last = MAX (last, other->elapsed_min);
    }
  return last;
}

/* The readings of one moment, of which each is asked after the others have moved. */
static void
move_together (GPtrArray       *moment,
               const GPtrArray *stored)
{
  double minute = ((const WbReading *) g_ptr_array_index (moment, 0))->elapsed_min;
  gboolean moved = TRUE;

  for (guint i = 0; i < moment->len; i++)
    {
      double event = ((const WbReading *) g_ptr_array_index (moment, i))->values[WB_COLUMN_EVENT];

      if (!isnan (event) && wb_event_ends_burn (event))
        minute = find_last_within (stored, minute);
    }
  while (moved)
    {
      moved = FALSE;
      for (guint i = 0; i < moment->len; i++)
        {
          WbReading *reading = g_ptr_array_index (moment, i);

          reading->elapsed_min = minute;
          wb_app_moment_move_on (reading, is_among_records, (gpointer) stored);
          moved = moved || reading->elapsed_min != minute;
          minute = reading->elapsed_min;
        }
    }
}

gboolean
wb_app_moment_make_free (WbStore   *store,
                         GPtrArray *records,
                         GError   **error)
{
  g_autoptr (GPtrArray) left = g_ptr_array_new (), stored = NULL;
  gint64 burn = 0;

  for (guint i = 0; i < records->len; i++)
    if (is_new_reading (g_ptr_array_index (records, i)))
      g_ptr_array_add (left, g_ptr_array_index (records, i));
  while (left->len > 0)
    {
      g_autoptr (GPtrArray) moment = g_ptr_array_new ();
      const WbReading *first = g_ptr_array_index (left, 0);
      double minute = first->elapsed_min;

      if (first->burn != burn)
        {
          burn = first->burn;
          g_clear_pointer (&stored, g_ptr_array_unref);
          stored = wb_store_list (store, &wb_reading_type, "burn", burn, error);
          if (stored == NULL)
            return FALSE;
        }
      for (guint i = 0; i < left->len;)
        {
          WbReading *reading = g_ptr_array_index (left, i);

          if (reading->burn == burn && reading->elapsed_min == minute)
            g_ptr_array_add (moment, g_ptr_array_steal_index (left, i));
          else
            i++;
        }
      move_together (moment, stored);
      /* The next moment of this save must not come to stand on this one. */
      for (guint i = 0; i < moment->len; i++)
        g_ptr_array_add (stored, wb_record_copy (g_ptr_array_index (moment, i)));
    }
  return TRUE;
}
