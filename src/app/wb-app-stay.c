/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-stay.h"

#include "wb-app-bench-private.h"
#include "wb-app-notebook-private.h"
#include "wb-app-save-task-private.h"

#include <glib/gi18n-lib.h>
#include <stdlib.h>

#define HALF_DAY_S (12 * 3600)
#define DAY_S (24 * 3600)

/* In running words, unlike wb_time_of_day_parse(). Group 1 and 2: hour and minutes; 3: a or p. */
#define TIME_PATTERN "(?<![\\d:.])(\\d{1,2})(?:[:.](\\d{2}))?(?![\\d:])\\s*(?:([ap])\\.?\\s?m\\b)?"

/* Seconds of the day; FALSE: not a time. `half`: it may be of the morning or the evening. */
static gboolean
read_time (GMatchInfo *match,
           int        *seconds,
           gboolean   *half)
{
  g_autofree char *hour_text = g_match_info_fetch (match, 1);
  g_autofree char *minute_text = g_match_info_fetch (match, 2);
  g_autofree char *part = g_match_info_fetch (match, 3);
  gboolean named = part != NULL && *part != '\0';
  gboolean whole = minute_text == NULL || *minute_text == '\0';
  int hour = atoi (hour_text), minute = whole ? 0 : atoi (minute_text);

  /* "2 candles", "room 12": a number alone is no time. */
  if ((whole && !named) || minute > 59 || hour > (named ? 12 : 23) || (named && hour == 0))
    return FALSE;
  if (named)
    hour = hour % 12 + (g_ascii_tolower (*part) == 'p' ? 12 : 0);
  *seconds = hour * 3600 + minute * 60;
  *half = !named && hour <= 12;
  return TRUE;
}

static gboolean
find_time (const char *words,
           int        *seconds,
           gboolean   *half)
{
  g_autoptr (GRegex) regex = g_regex_new (TIME_PATTERN, G_REGEX_CASELESS, 0, NULL);
  g_autoptr (GMatchInfo) match = NULL;
  gboolean found = FALSE;

  for (g_regex_match (regex, words, 0, &match); g_match_info_matches (match); g_match_info_next (match, NULL))
    found = read_time (match, seconds, half) || found;
  return found;
}

WbInstant
wb_app_stay_get_end (const WbSession *session)
{
  WbInstant end = WB_INSTANT_NONE;
  gboolean half = FALSE;
  int seconds = 0;
  gint64 opened_s, wait_s;

  if (session == NULL || !session->opened_at.known || session->staying == NULL || !find_time (session->staying, &seconds, &half))
    return end;
  opened_s = (session->opened_at.utc_us / G_USEC_PER_SEC + session->opened_at.offset_s) % DAY_S;
  wait_s = (seconds - opened_s + 2 * DAY_S) % DAY_S;
  if (half && wait_s > HALF_DAY_S)
    wait_s -= HALF_DAY_S;
  end = session->opened_at;
  end.utc_us = (end.utc_us / G_USEC_PER_SEC + wait_s) * G_USEC_PER_SEC;
  return end;
}

gboolean
wb_app_stay_is_past (const WbSession *session,
                     WbInstant        now)
{
  WbInstant end = wb_app_stay_get_end (session);

  return end.known && now.known && now.utc_us > end.utc_us;
}

void
wb_app_stay_say_async (WbAppBench         *bench,
                       const char         *staying,
                       GCancellable       *cancellable,
                       GAsyncReadyCallback callback,
                       gpointer            user)
{
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  GTask *task;
  WbSession *session;

  g_return_if_fail (WB_IS_APP_BENCH (bench));
  task = wb_app_save_task_new (bench, wb_app_stay_say_async, cancellable, callback, user);
  if (wb_app_bench_get_session (bench) == NULL)
    {
      wb_app_save_task_refuse (task, g_strdup (_("No session is open.")));
      return;
    }
  session = wb_record_copy (wb_app_bench_get_session (bench));
  wb_record_set_text (session, wb_record_type_find_field (&wb_session_type, "staying"), staying);
  g_ptr_array_add (records, session);
  wb_app_notebook_save_topic_async (wb_app_bench_get_notebook (bench), "session", _("Say who stays with the flames"), records,
                                    cancellable, wb_app_save_task_end_cb, task);
}
