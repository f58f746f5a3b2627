/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-bench-private.h"

#include <math.h>

/* What the protocol asks, and when. */

static const char *
get_ask_list (const WbProtocol *protocol,
              WbAppAsk          ask)
{
  switch (ask)
    {
    case WB_APP_ASK_LIGHTING:
      return protocol->ask_lighting;
    case WB_APP_ASK_ROUND:
      return protocol->ask_round;
    case WB_APP_ASK_BEFORE_SNUFFING:
      return protocol->ask_before_snuffing;
    case WB_APP_ASK_AFTER_SNUFFING:
      return protocol->ask_after_snuffing;
    case WB_APP_ASK_NEXT_DAY:
      return protocol->ask_next_day;
    default:
      g_return_val_if_reached (NULL);
    }
}

GArray *
wb_app_bench_dup_asked (const WbProtocol *protocol,
                        WbAppAsk          ask)
{
  const char *list = get_ask_list (protocol, ask);
  g_auto (GStrv) names = g_strsplit (list != NULL ? list : "", ",", -1);
  GArray *columns = g_array_new (FALSE, FALSE, sizeof (int));

  for (guint i = 0; names[i] != NULL; i++)
    {
      int column = wb_column_find (g_strstrip (names[i]));

      if (column >= 0)
        g_array_append_val (columns, column);
    }
  return columns;
}

/* What the last inch asks besides: side and base. */
static void
add_asked (GArray  *columns,
           WbColumn column)
{
  int wanted = column;

  for (guint i = 0; i < columns->len; i++)
    if (g_array_index (columns, int, i) == wanted)
      return;
  g_array_append_val (columns, wanted);
}

/* One room, asked once a round. */
static void
drop_room (GArray           *columns,
           WbAppBenchSample *sample)
{
  for (guint i = columns->len; i > 0; i--)
    {
      int column = g_array_index (columns, int, i - 1);

      if ((column == WB_COLUMN_ROOM_C || column == WB_COLUMN_DRAUGHT) && wb_app_bench_sample_has_room (sample, (WbColumn) column))
        g_array_remove_index (columns, i - 1);
    }
}

GArray *
wb_app_bench_dup_asked_of (WbAppBenchSample *sample,
                           WbAppAsk          ask)
{
  GArray *columns = wb_app_bench_dup_asked (wb_app_bench_sample_get_protocol (sample), ask);

  if ((ask == WB_APP_ASK_ROUND || ask == WB_APP_ASK_BEFORE_SNUFFING) && wb_app_bench_sample_is_last_inch (sample))
    {
      add_asked (columns, WB_COLUMN_VESSEL_C);
      add_asked (columns, WB_COLUMN_BASE_C);
    }
  if (ask == WB_APP_ASK_ROUND || ask == WB_APP_ASK_BEFORE_SNUFFING)
    drop_room (columns, sample);
  return columns;
}

gboolean
wb_app_bench_is_look (const double values[WB_N_COLUMNS])
{
  static const WbColumn beside[] = {
    WB_COLUMN_EVENT, WB_COLUMN_EVENT_S, WB_COLUMN_WICK_NUMBER, WB_COLUMN_ROOM_C, WB_COLUMN_DRAUGHT, WB_COLUMN_ALONE,
    WB_COLUMN_FLAME_DATUM, WB_COLUMN_THROW_DISTANCE_M, WB_COLUMN_THROW_BLIND
  };

  for (WbColumn column = 0; column < WB_N_COLUMNS; column++)
    {
      gboolean is_beside = FALSE;

      for (guint i = 0; i < G_N_ELEMENTS (beside); i++)
        is_beside = is_beside || beside[i] == column;
      if (!is_beside && !isnan (values[column]))
        return TRUE;
    }
  return FALSE;
}

/* The reading due within this share of the interval before the burn's end is the one before snuffing. */
#define LAST_ROUND_SHARE 0.25

WbAppAsk
wb_app_bench_get_ask (WbAppBenchSample *sample)
{
  const WbProtocol *protocol = wb_app_bench_sample_get_protocol (sample);

  if (wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ALIGHT)
    {
      double left_s = protocol->burn_s - wb_app_bench_sample_get_elapsed_s (sample);

      return left_s <= LAST_ROUND_SHARE * protocol->interval_upper_s ? WB_APP_ASK_BEFORE_SNUFFING : WB_APP_ASK_ROUND;
    }
  /* No scales under liquid wax: until it has set, what is asked is what was seen when it went out. */
  if (wb_app_bench_sample_get_out_min (sample) < WB_APP_BENCH_SET_MIN && !wb_app_bench_sample_is_weighed (sample))
    return WB_APP_ASK_AFTER_SNUFFING;
  return wb_app_bench_sample_is_weighed (sample) ? WB_APP_ASK_LIGHTING : WB_APP_ASK_NEXT_DAY;
}
