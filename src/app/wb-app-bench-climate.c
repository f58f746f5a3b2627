/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-bench-private.h"

#include <math.h>
#include <string.h>

/* The room of a session, by what was read of it with whichever sample: one room, however many candles burn in it. */

static const WbColumn room_columns[] = { WB_COLUMN_ROOM_C, WB_COLUMN_DRAUGHT };

static void
keep_room (WbAppBench      *self,
           gint64           session,
           WbInstant        at,
           const WbReading *reading)
{
  WbAppBenchRoom *room = wb_app_bench_get_room_read (self);
  WbAppBenchRoom read = { { NAN, NAN }, at, session };
  GHashTableIter iter;
  gpointer sample;

  /* room and draught may be read one after the other */
  if (room->at.known && room->session == session && ABS (room->at.utc_us - at.utc_us) <= WB_APP_BENCH_ROUND_MIN * 60 * G_USEC_PER_SEC)
    memcpy (read.values, room->values, sizeof read.values);
  for (guint i = 0; i < G_N_ELEMENTS (room_columns); i++)
    if (!isnan (reading->values[room_columns[i]]))
      read.values[i] = reading->values[room_columns[i]];
  *room = read;
  g_hash_table_iter_init (&iter, wb_app_bench_get_samples (self));
  while (g_hash_table_iter_next (&iter, NULL, &sample))
    wb_app_bench_sample_set_room (sample, room);
}

/*
 * What is taken over is not taken over from again, or one reading of the room would wander on with the samples for hours. A wick's own
 * row and a look after the end take nothing over.
 */
void
wb_app_bench_carry_room (WbAppBench       *self,
                         WbAppBenchSample *sample,
                         WbReading        *reading)
{
  const WbAppBenchRoom *room = wb_app_bench_get_room_read (self);
  WbInstant at = wb_app_bench_sample_get_lit_at (sample);
  gint64 session = wb_app_bench_sample_get_burn (sample)->session;
  gboolean read;

  if (!at.known || session == 0 || wb_app_bench_sample_get_state (sample) != WB_APP_BENCH_ALIGHT
      || !isnan (reading->values[WB_COLUMN_WICK_NUMBER]))
    return;
  at.utc_us += (gint64) (reading->elapsed_min * 60 * G_USEC_PER_SEC);
  read = !isnan (reading->values[WB_COLUMN_ROOM_C]) || !isnan (reading->values[WB_COLUMN_DRAUGHT]);
  if (read)
    keep_room (self, session, at, reading);
  if (!room->at.known || room->session != session || ABS (room->at.utc_us - at.utc_us) > WB_APP_BENCH_ROUND_MIN * 60 * G_USEC_PER_SEC)
    return;
  for (guint i = 0; i < G_N_ELEMENTS (room_columns); i++)
    if (isnan (reading->values[room_columns[i]]))
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
  Newest newest = { G_MININT64, G_MININT64 };

  g_return_val_if_fail (WB_IS_APP_BENCH (self) && room != NULL, FALSE);

  *room = (WbAppBenchClimate) { NAN, NAN, NAN, FALSE, FALSE, NAN };
  session = wb_app_bench_get_session (self);
  for (guint i = 0; session != NULL && i < g_list_model_get_n_items (G_LIST_MODEL (self)); i++)
    {
      g_autoptr (WbAppBenchSample) sample = g_list_model_get_item (G_LIST_MODEL (self), i);
      const WbBurn *burn = wb_app_bench_sample_get_burn (sample);
      guint first, n;

      if (burn == NULL || burn->session != session->record.id)
        continue;
      wb_readings_get_burn_rows (wb_app_bench_sample_get_data (sample)->readings, wb_app_bench_sample_get_burn_index (sample), &first, &n);
      for (guint row = first; row < first + n; row++)
        take_row (room, sample, row, &newest);
    }
  return !isnan (room->low_c);
}
