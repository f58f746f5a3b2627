/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-evening-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* A vessel of several wicks on the sheet: its cell of a flame or a mushroom holds a value a wick, as a pool's holds two sides. */

/* -1: it is read of the vessel. */
static int
find_place (WbColumn column)
{
  static const WbColumn columns[WB_N_APP_EVENING_OF_WICK] = {
    WB_COLUMN_FLAME_MM, WB_COLUMN_FLAME_MAX_MM, WB_COLUMN_FLAME_STATE, WB_COLUMN_MUSHROOM, WB_COLUMN_EVENT
  };

  for (int i = 0; i < WB_N_APP_EVENING_OF_WICK; i++)
    if (columns[i] == column)
      return i;
  return -1;
}

gboolean
wb_app_evening_is_by_wick (const WbAppEveningRow *row,
                           WbColumn               column)
{
  return wb_column_is_of_wick (column) && wb_app_bench_sample_get_n_wicks (row->sample) > 1;
}

double
wb_app_evening_wicks_get (const WbAppEveningWicks *wicks,
                          guint                    wick,
                          WbColumn                 column)
{
  int place = find_place (column);

  return place >= 0 && wick >= 1 && wick <= WB_MOST_WICKS ? wicks->values[wick - 1][place] : NAN;
}

void
wb_app_evening_wicks_set (WbAppEveningWicks *wicks,
                          guint              wick,
                          WbColumn           column,
                          double             value)
{
  int place = find_place (column);

  if (place >= 0 && wick >= 1 && wick <= WB_MOST_WICKS)
    wicks->values[wick - 1][place] = value;
}

void
wb_app_evening_wicks_clear (WbAppEveningWicks *wicks)
{
  for (guint wick = 0; wick < WB_MOST_WICKS; wick++)
    for (guint i = 0; i < WB_N_APP_EVENING_OF_WICK; i++)
      wicks->values[wick][i] = NAN;
}

gboolean
wb_app_evening_wicks_fill (const WbAppEveningWicks *wicks,
                           guint                    wick,
                           double                   values[WB_N_COLUMNS])
{
  gboolean any = FALSE;

  for (WbColumn column = 0; column < WB_N_COLUMNS; column++)
    {
      values[column] = wb_app_evening_wicks_get (wicks, wick, column);
      any = any || !isnan (values[column]);
    }
  values[WB_COLUMN_WICK_NUMBER] = wick;
  return any;
}

/* In inches a stroke is a fraction's. */
static char **
split (const char *text,
       gboolean    us_units)
{
  g_autoptr (GString) plain = g_string_new (text);

  if (!us_units && strchr (text, '"') == NULL && strstr (text, "in") == NULL)
    g_string_replace (plain, "/", ";", 0);
  return g_strsplit (plain->str, ";", -1);
}

gboolean
wb_app_evening_is_left_out (const char *text)
{
  return *text == '\0' || g_str_equal (text, "-") || g_str_equal (text, "–");
}

gboolean
wb_app_evening_read_wicks (WbColumn           column,
                           const char        *text,
                           gboolean           us_units,
                           guint              n_wicks,
                           WbAppEveningWicks *wicks,
                           char             **problem)
{
  g_auto (GStrv) parts = split (text, us_units);
  double values[WB_N_COLUMNS];

  *problem = NULL;
  if (g_strv_length (parts) != n_wicks)
    {
      /* Translators: how many wicks a vessel has. */
      *problem = g_strdup_printf (_("A value for each of its %u wicks, in their order, as in 21/23; - where one was not read."), n_wicks);
      return FALSE;
    }
  for (guint i = 0; i < n_wicks; i++)
    {
      if (wb_app_evening_is_left_out (g_strstrip (parts[i])))
        continue;
      if (!wb_app_evening_read_field (column, parts[i], us_units, NAN, values, problem))
        return FALSE;
      if (column == WB_COLUMN_EVENT && !wb_event_is_of_wick (values[column]))
        {
          *problem = g_strdup (_("That befalls the vessel as a whole: it is written once, without strokes."));
          return FALSE;
        }
      wb_app_evening_wicks_set (wicks, i + 1, column, values[column]);
    }
  return TRUE;
}

char *
wb_app_evening_dup_wicks (WbColumn                 column,
                          const WbAppEveningWicks *wicks,
                          gboolean                 us_units,
                          guint                    n_wicks)
{
  GString *text = g_string_new (NULL);
  gboolean any = FALSE;

  for (guint wick = 1; wick <= n_wicks; wick++)
    {
      double values[WB_N_COLUMNS];
      g_autofree char *part = NULL;

      values[column] = wb_app_evening_wicks_get (wicks, wick, column);
      part = wb_app_evening_dup_field (column, values, us_units);
      any = any || part != NULL;
      g_string_append_printf (text, "%s%s", wick == 1 ? "" : us_units ? "; " : "/", part != NULL ? part : "-");
    }
  return g_string_free (text, !any);
}
