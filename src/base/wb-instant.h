/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-number.h"

G_BEGIN_DECLS

/* An instant with the offset then in force: what a clock on the wall showed, and when that was. */
typedef struct
{
  gint64 utc_us;   /* microseconds since 1970-01-01 UTC */
  gint32 offset_s; /* seconds east of UTC, -64800 to 64800 */
  gboolean known;  /* FALSE: no instant */
} WbInstant;

#define WB_INSTANT_NONE ((WbInstant) { 0, 0, FALSE })

/* ISO 8601 date and time with offset ("2026-03-02T08:07:00+00:00", Z, seconds and fraction optional); proleptic Gregorian, years 1900 to 2200. */
gboolean  wb_instant_parse  (const char *text, WbInstant *instant, GError **error);
/* The same form back; seconds always, a fraction only where there is one; "" if unknown. */
char     *wb_instant_format (WbInstant instant);
/* For people, in the style of the language: day, month and time, in the instant's own offset. */
char     *wb_instant_format_short (WbInstant instant);
char     *wb_instant_format_date (WbInstant instant);
char     *wb_instant_format_time (WbInstant instant);
/* As format_short, in a given style; NULL means the default one. */
char     *wb_instant_format_short_in (WbInstant instant, const WbNumberStyle *style);

/* A time of day as a hand writes it: "19:30", "7.05"; blanks around it are let pass. FALSE: it is none, and nothing is set. */
gboolean  wb_time_of_day_parse (const char *text, int *hour, int *minute);
/* TRUE: the clock on the wall showed that hour and minute at the instant. */
gboolean  wb_instant_shows     (WbInstant instant, int hour, int minute);

/* A day without a time, as days since 1970-01-01; G_MININT32 is none. */
typedef gint32 WbDay;
#define WB_DAY_NONE G_MININT32
gboolean  wb_day_parse  (const char *iso, WbDay *day, GError **error);
/*
 * A day as a hand writes it: ISO 8601, "2 Mar 2026", "2. März 2026", "2.3.2026" (day first; an order is never guessed), and, where
 * `today` is one, "today", "yesterday" and a day without its year: the last one not after today. Months by name, from three
 * letters on, in each language that dates are written in.
 */
gboolean  wb_day_read   (const char *text, WbDay today, WbDay *day, GError **error);
/* Such a day and a time of it, which stands last: "2 Mar 2026, 19:40", "2.3. 19:40". FALSE: it is none. */
gboolean  wb_day_read_with_time (const char *text, WbDay today, WbDay *day, int *hour, int *minute);
char     *wb_day_format (WbDay day);        /* ISO 8601 */
char     *wb_day_format_local (WbDay day);  /* for people */
char     *wb_day_format_in (WbDay day, const WbNumberStyle *style);
WbDay     wb_instant_get_day (WbInstant instant);

G_END_DECLS
