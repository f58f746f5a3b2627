/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/*
 * A reader of iCalendar that shares no code with the writer, and lets nothing pass: line ends and folding (RFC 5545, 3.1), names and
 * parameters (3.1, 3.2), escaping (3.3.11), dates, times and offsets (3.3.4, 3.3.5, 3.3.14), which property stands how often in
 * which component (3.6, 3.6.1, 3.6.5), and moments in a zone by the file's own rules of it.
 */
typedef struct
{
  char    *uid;
  char    *summary;
  char    *description;  /* NULL: none; without escapes, as the next */
  char    *place;
  char    *status;
  char    *zone;         /* TZID of its start; NULL: none */
  char    *start;        /* as written */
  gboolean day;          /* of a whole day */
  gint64   start_s;      /* UTC; of a day its midnight */
  gint64   end_s;        /* as start_s where none is stated */
  gint64   sequence;
  gint64   modified_s;
  gint64   stamp_s;
} CalendarEvent;

/* Aborts where a rule is broken. CalendarEvent, in the order of the file. Caller unrefs. */
GPtrArray     *calendar_rules_read (const char *text);
/* The only one of that UID; NULL: none. Borrowed. */
CalendarEvent *calendar_rules_find (const GPtrArray *events, const char *uid);

G_END_DECLS
