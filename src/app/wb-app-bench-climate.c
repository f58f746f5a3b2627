/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-bench-private.h"

#include <math.h>

/* The room of a session, by what was read of it with whichever sample: one room, however many candles burn in it. */

static const WbColumn room_columns[] = { WB_COLUMN_ROOM_C, WB_COLUMN_DRAUGHT };

#define ROUND_US (WB_APP_BENCH_ROUND_MIN * 60 * G_USEC_PER_SEC)

/* One value as it stands in the record. */
typedef struct
{
  gint64 at_us;
  double value;
} Look;

static int
by_time (gconstpointer a,
         gconstpointer b)
{
  const Look *first = a, *second = b;

  return (first->at_us > second->at_us) - (first->at_us < second->at_us);
}

/* When that row of a burn was read, by the wall clock. */
static gint64
get_row_us (WbAppBenchSample *sample,
            guint             row)
{
  return wb_app_bench_sample_get_lit_at (sample).utc_us
         + (gint64) (wb_readings_get_elapsed_min (wb_app_bench_sample_get_data (sample)->readings, row) * 60 * G_USEC_PER_SEC);
}

/* Rows of a sample's newest burn, if it is of that session and known when it was lit; else none. */
static void
get_session_rows (WbAppBenchSample *sample,
                  gint64            session,
                  guint            *first,
                  guint            *n)
{
  const WbBurn *burn = wb_app_bench_sample_get_burn (sample);

  *first = *n = 0;
  if (burn != NULL && burn->session == session && wb_app_bench_sample_get_lit_at (sample).known)
    wb_readings_get_burn_rows (wb_app_bench_sample_get_data (sample)->readings, wb_app_bench_sample_get_burn_index (sample), first, n);
}

/*
 * The newest look at the room among these: what stands in the record at most a round after one, and is the same, was taken over
 * from it and is no look of its own, or one reading of the room would wander on with the samples for hours.
 */
static void
find_newest (GArray *looks,
             double *value,
             gint64 *at_us)
{
  *value = NAN;
  *at_us = 0;
  g_array_sort (looks, by_time);
  for (guint i = 0; i < looks->len; i++)
    {
      const Look *look = &g_array_index (looks, Look, i);

      if (look->value == *value && look->at_us - *at_us <= ROUND_US)
        continue;
      *value = look->value;
      *at_us = look->at_us;
    }
}

/* From the record, so that a restart knows it and a reading taken back takes it along; beside it what is on its way there. */
void
wb_app_bench_update_room (WbAppBench *self)
{
  const WbSession *session = wb_app_bench_get_session (self);
  const WbAppBenchPending *pending = wb_app_bench_get_pending (self);
  WbAppBenchRoom room = { { NAN, NAN }, { 0, 0 }, session != NULL ? session->record.id : 0 };
  GArray *looks[] = { g_array_new (FALSE, FALSE, sizeof (Look)), g_array_new (FALSE, FALSE, sizeof (Look)) };
  GHashTableIter iter;
  gpointer sample;

  g_hash_table_iter_init (&iter, wb_app_bench_get_samples (self));
  while (session != NULL && g_hash_table_iter_next (&iter, NULL, &sample))
    {
      guint first, n;

      get_session_rows (sample, room.session, &first, &n);
      for (guint row = first; row < first + n; row++)
        for (guint i = 0; i < G_N_ELEMENTS (room_columns); i++)
          {
            Look look = { get_row_us (sample, row), wb_readings_get (wb_app_bench_sample_get_data (sample)->readings, row, room_columns[i]) };

            if (!isnan (look.value))
              g_array_append_val (looks[i], look);
          }
    }
  for (guint i = 0; i < G_N_ELEMENTS (room_columns); i++)
    {
      Look look = { pending->at_us, pending->values[i] };

      if (pending->session == room.session && !isnan (look.value))
        g_array_append_val (looks[i], look);
      find_newest (looks[i], &room.values[i], &room.at_us[i]);
      g_array_unref (looks[i]);
    }
  g_hash_table_iter_init (&iter, wb_app_bench_get_samples (self));
  while (g_hash_table_iter_next (&iter, NULL, &sample))
    wb_app_bench_sample_set_room (sample, &room);
}

/* A wick's own row and a look after the end take nothing over. */
void
wb_app_bench_carry_room (WbAppBench       *self,
                         WbAppBenchSample *sample,
                         WbReading        *reading)
{
  WbInstant at = wb_app_bench_sample_get_lit_at (sample);
  gint64 session = wb_app_bench_sample_get_burn (sample)->session;
  const WbAppBenchRoom *room;

  if (!at.known || session == 0 || wb_app_bench_sample_get_state (sample) != WB_APP_BENCH_ALIGHT
      || !isnan (reading->values[WB_COLUMN_WICK_NUMBER]))
    return;
  at.utc_us += (gint64) (reading->elapsed_min * 60 * G_USEC_PER_SEC);
  if (!isnan (reading->values[WB_COLUMN_ROOM_C]) || !isnan (reading->values[WB_COLUMN_DRAUGHT]))
    wb_app_bench_keep_pending (self, session, at.utc_us, reading->values[WB_COLUMN_ROOM_C], reading->values[WB_COLUMN_DRAUGHT]);
  room = wb_app_bench_sample_get_room (sample);
  for (guint i = 0; i < G_N_ELEMENTS (room_columns) && room->session == session; i++)
    if (isnan (reading->values[room_columns[i]]) && ABS (room->at_us[i] - at.utc_us) <= ROUND_US)
      reading->values[room_columns[i]] = room->values[i];
}

/* When the newest of each was read, by the wall clock. */
typedef struct
{
  gint64 room_us;
  gint64 draught_us;
} Newest;

static void
take_row (WbAppBenchClimate *room,
          WbAppBenchSample  *sample,
          guint              row,
          Newest            *newest)
{
  const WbReadings *readings = wb_app_bench_sample_get_data (sample)->readings;
  const WbProtocol *protocol = wb_app_bench_sample_get_protocol (sample);
  double celsius = wb_readings_get (readings, row, WB_COLUMN_ROOM_C), draught = wb_readings_get (readings, row, WB_COLUMN_DRAUGHT);
  WbInstant lit_at = wb_app_bench_sample_get_lit_at (sample);
  gint64 at_us = lit_at.utc_us + (gint64) (wb_readings_get_elapsed_min (readings, row) * 60 * G_USEC_PER_SEC);

  room->draught = room->draught || draught > WB_DRAUGHT_NONE;
  if (!isnan (draught) && lit_at.known && at_us >= newest->draught_us)
    {
      newest->draught_us = at_us;
      room->last_draught = draught;
    }
  if (isnan (celsius))
    return;
  room->low_c = fmin (room->low_c, celsius);
  room->high_c = fmax (room->high_c, celsius);
  /* a protocol that states none: NAN compares as false */
  room->outside = room->outside || celsius < protocol->room_low_c || celsius > protocol->room_high_c;
  if (!lit_at.known || at_us < newest->room_us)
    return;
  newest->room_us = at_us;
  room->last_c = celsius;
}

gboolean
wb_app_bench_get_climate (WbAppBench        *self,
                          WbAppBenchClimate *room)
{
  const WbSession *session;
  const GPtrArray *live;
  Newest newest = { G_MININT64, G_MININT64 };

  g_return_val_if_fail (WB_IS_APP_BENCH (self) && room != NULL, FALSE);

  *room = (WbAppBenchClimate) { NAN, NAN, NAN, FALSE, FALSE, NAN };
  session = wb_app_bench_get_session (self);
  live = wb_app_bench_get_live (self);
  for (guint i = 0; session != NULL && i < live->len; i++)
    {
      WbAppBenchSample *sample = g_ptr_array_index (live, i);
      const WbBurn *burn = wb_app_bench_sample_get_burn (sample);
      guint first, n;

      if (burn == NULL || burn->session != session->record.id || wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ENDED)
        continue;
      wb_readings_get_burn_rows (wb_app_bench_sample_get_data (sample)->readings, wb_app_bench_sample_get_burn_index (sample), &first, &n);
      for (guint row = first; row < first + n; row++)
        take_row (room, sample, row, &newest);
    }
  return !isnan (room->low_c);
}
