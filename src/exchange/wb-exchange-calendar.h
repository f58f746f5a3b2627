/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-dataset.h"

#include <gio/gio.h>

G_BEGIN_DECLS

/*
 * Dates for a calendar, as iCalendar (RFC 5545): days on which poured samples
 * are fit to burn or to smell, and planned sessions. The same notebook gives
 * the same UIDs, so that a calendar that reads the file again moves an event
 * and does not double it. Times are UTC.
 */
typedef struct _WbExchangeCalendar WbExchangeCalendar;

/* `notebook` may be NULL; one of invented data says so in every event. */
WbExchangeCalendar *wb_exchange_calendar_new         (const WbNotebook *notebook);
void                wb_exchange_calendar_free        (WbExchangeCalendar *self);
/* From `today` on: one event a day on which samples of the experiment are fit, if its wax says after how many days. */
void                wb_exchange_calendar_add_cures   (WbExchangeCalendar *self, const WbDataset *data, WbDay today);
/* A session that has not been closed and begins at or behind `now`. `length_s` NAN: the house's burn of 4 h. */
void                wb_exchange_calendar_add_session (WbExchangeCalendar *self, const WbSession *session, WbInstant now,
                                                      double length_s);
guint               wb_exchange_calendar_get_length  (const WbExchangeCalendar *self);
/* The whole calendar; `stamp` is when it is made. Caller frees. */
char               *wb_exchange_calendar_to_text     (const WbExchangeCalendar *self, WbInstant stamp);
/* The same into a file, whole or not at all. */
gboolean            wb_exchange_calendar_save        (const WbExchangeCalendar *self, GFile *file, WbInstant stamp,
                                                      GCancellable *cancellable, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbExchangeCalendar, wb_exchange_calendar_free)

G_END_DECLS
