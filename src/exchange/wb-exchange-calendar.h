/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-dataset.h"

#include <gio/gio.h>

G_BEGIN_DECLS

/*
 * Events for a calendar, as iCalendar (RFC 5545). A moment is written in the maker's zone with the zone's rules beside it, so that
 * an evening at 19:00 is one at 19:00 in summer and winter; where no zone is known, in UTC. The same thing has the same UID in
 * every export, so that a calendar which reads the file again moves it and does not double it; SEQUENCE, LAST-MODIFIED and DTSTAMP
 * let it take the newer one.
 */
typedef struct _WbExchangeCalendar WbExchangeCalendar;

typedef struct
{
  const char *uid;         /* without the part behind the @ */
  const char *summary;
  const char *description; /* NULL: none */
  const char *place;       /* NULL: none */
  WbDay       day;         /* of an event that lasts a day; WB_DAY_NONE: `at` */
  WbInstant   at;
  double      length_s;    /* 0 or NAN: a moment, which takes no time of the day */
} WbExchangeEvent;

/*
 * `notebook` may be NULL; one of invented data says so in every event. zone: IANA name; "" or NULL, or one that the system does
 * not have: UTC. revised: since when the events are as they are; it never goes back from one export to the next.
 */
WbExchangeCalendar *wb_exchange_calendar_new         (const WbNotebook *notebook, const char *zone, WbInstant revised);
void                wb_exchange_calendar_free        (WbExchangeCalendar *self);
/* Only this experiment's events; NULL: all of the notebook's. */
void                wb_exchange_calendar_set_scope   (WbExchangeCalendar *self, const WbUuid *experiment);
/* Copies the event. */
void                wb_exchange_calendar_add         (WbExchangeCalendar *self, const WbExchangeEvent *event);
/*
 * After the last event: what an earlier export of the same notebook and scope has planned behind the day of `now` and is planned
 * no more is added as cancelled, so that a calendar takes it out. Text that is no such export is let pass: what was exported to
 * another file is not known here. Returns how many were added.
 */
guint               wb_exchange_calendar_cancel_lost (WbExchangeCalendar *self, const char *earlier, WbInstant now);
/* Events, those that are cancelled among them. */
guint               wb_exchange_calendar_get_length  (const WbExchangeCalendar *self);
/* The whole calendar; `stamp` is when it is made. Caller frees. */
char               *wb_exchange_calendar_to_text     (const WbExchangeCalendar *self, WbInstant stamp);
/* The same into a file, whole or not at all. */
gboolean            wb_exchange_calendar_save        (const WbExchangeCalendar *self, GFile *file, WbInstant stamp,
                                                      GCancellable *cancellable, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbExchangeCalendar, wb_exchange_calendar_free)

G_END_DECLS
