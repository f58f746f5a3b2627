/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"

G_BEGIN_DECLS

typedef enum
{
  WB_APP_CALENDAR_EVENING,    /* samples burn on that evening */
  WB_APP_CALENDAR_RELIGHT,    /* they have cooled and may be lit again */
  WB_APP_CALENDAR_BURN_CURE,  /* they are fit to burn */
  WB_APP_CALENDAR_SMELL_CURE, /* they are fit to smell */
  WB_APP_CALENDAR_KEEP        /* a kept sample has been kept for as long as was said */
} WbAppCalendarKind;

/* What happens on a day, in words. */
#define WB_TYPE_APP_CALENDAR_ITEM (wb_app_calendar_item_get_type ())
G_DECLARE_FINAL_TYPE (WbAppCalendarItem, wb_app_calendar_item, WB, APP_CALENDAR_ITEM, GObject)

/* Texts are translated and borrowed. */
WbAppCalendarKind wb_app_calendar_item_get_kind       (WbAppCalendarItem *self);
const char       *wb_app_calendar_item_get_title      (WbAppCalendarItem *self);
const char       *wb_app_calendar_item_get_detail     (WbAppCalendarItem *self);
WbDay             wb_app_calendar_item_get_day        (WbAppCalendarItem *self);
WbInstant         wb_app_calendar_item_get_at         (WbAppCalendarItem *self); /* unknown: all that day */
gint64            wb_app_calendar_item_get_experiment (WbAppCalendarItem *self);

/*
 * What is to come in a notebook: the evenings of the bench as they are planned from its places and days of the week, ends of cures and
 * coolings, days until which samples are kept. A GListModel of WbAppCalendarItem by day, what burns of one experiment on one evening
 * as one; follows the notebook and the clock. Property "loaded" (boolean); it is notified with each new plan, too.
 */
#define WB_TYPE_APP_CALENDAR (wb_app_calendar_get_type ())
G_DECLARE_FINAL_TYPE (WbAppCalendar, wb_app_calendar, WB, APP_CALENDAR, GObject)

/* Loads itself off the main thread. Caller owns it. */
WbAppCalendar *wb_app_calendar_new          (WbAppNotebook *notebook);
gboolean       wb_app_calendar_get_loaded   (WbAppCalendar *self);
/* Day of the next evening on which something burns; WB_DAY_NONE: none is planned. */
WbDay          wb_app_calendar_get_next_evening (WbAppCalendar *self);
/* Day of the last one. */
WbDay          wb_app_calendar_get_last_evening (WbAppCalendar *self);
/* Samples burn on, and it is not said on which days of the week. */
gboolean       wb_app_calendar_get_asks_days (WbAppCalendar *self);
/* What is not planned, and why, a line each; NULL: all is. Borrowed. */
const char    *wb_app_calendar_get_problems (WbAppCalendar *self);
/* Looks at the clock now; it does so by itself every minute. */
void           wb_app_calendar_update       (WbAppCalendar *self);

G_END_DECLS
