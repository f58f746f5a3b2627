/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-photo-place.h"

#include "wb-clock.h"

#include <glib/gi18n.h>
#include <string.h>

/* A look at a candle up to the second morning is still one at its burn. */
#define LAST_MINUTE 2880

char *
wb_photo_place_dup_text (const WbBurn *burn,
                         WbInstant     taken_at)
{
  g_autofree char *day = NULL, *time = NULL;

  if (!taken_at.known)
    return g_strdup ("");
  if (burn != NULL)
    return burn->lit_at.known ? wb_number_format_trimmed ((taken_at.utc_us - burn->lit_at.utc_us) / 6e7, 1, NULL) : g_strdup ("");
  day = wb_day_format_local (wb_instant_get_day (taken_at));
  time = wb_instant_format_time (taken_at);
  return g_strdup_printf ("%s, %s", day, time);
}

static gboolean
read_minute (const WbBurn *burn,
             const char   *text,
             WbInstant    *taken_at,
             char        **refusal)
{
  double minute;

  if (!burn->lit_at.known)
    *refusal = g_strdup (_("It is not known when that burn was lit: leave the minute empty."));
  else if (!wb_number_parse (text, &minute, NULL) || !(minute >= 0 && minute <= LAST_MINUTE))
    *refusal = g_strdup_printf (_("“%s”: write the minute since lighting, 0 to %d, or leave it empty."), text, LAST_MINUTE);
  else
    {
      *taken_at = wb_clock_at (wb_clock_get (), burn->lit_at.utc_us + (gint64) (minute * 60 * G_USEC_PER_SEC));
      return TRUE;
    }
  return FALSE;
}

static gboolean
read_day_and_time (const char *text,
                   WbInstant   now,
                   WbInstant  *taken_at,
                   char      **refusal)
{
  int hour, minute;
  WbDay day;

  if (!wb_day_read_with_time (text, wb_instant_get_day (now), &day, &hour, &minute))
    {
      *refusal = g_strdup_printf (_("“%s”: write a day and a time, such as “2 Mar 2026, 19:40”, or leave it empty."), text);
      return FALSE;
    }
  *taken_at = wb_clock_local (wb_clock_get (), day, hour, minute, 0);
  return TRUE;
}

gboolean
wb_photo_place_read (const WbBurn *burn,
                     const char   *text,
                     WbInstant     now,
                     WbInstant    *taken_at,
                     char        **refusal)
{
  g_autofree char *clean = g_strstrip (g_strdup (text));

  *taken_at = WB_INSTANT_NONE;
  *refusal = NULL;
  if (*clean == '\0')
    return TRUE;
  return burn != NULL ? read_minute (burn, clean, taken_at, refusal) : read_day_and_time (clean, now, taken_at, refusal);
}
