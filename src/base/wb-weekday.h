/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-instant.h"

G_BEGIN_DECLS

/* Days of the week are counted from Monday, as ISO 8601 does, but from 0. */
#define WB_WEEKDAYS 7

/* 0 Monday to 6 Sunday; -1 of no day. */
int         wb_day_get_weekday       (WbDay day);
/* Short name as on a calendar's page ("Mon", "Mo"); weekday 0 to 6, style NULL: that of the language. Static. */
const char *wb_weekday_get_name      (int weekday, const WbNumberStyle *style);
/* "Tue 2 Dec", without the year; "" of no day; style NULL: that of the language. Caller frees. */
char       *wb_day_format_of_week    (WbDay day, const WbNumberStyle *style);

G_END_DECLS
