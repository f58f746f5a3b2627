/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-calendar.h"

G_BEGIN_DECLS

/*
 * The next seven days on Today: evenings of the bench, ends of cures and coolings, and the next evening where it comes later. A row
 * leads to its experiment. Out of sight where nothing is to come.
 */
#define WB_TYPE_WEEK_LIST (wb_week_list_get_type ())
G_DECLARE_FINAL_TYPE (WbWeekList, wb_week_list, WB, WEEK_LIST, GtkWidget)

/* NULL: none. */
void wb_week_list_set_calendar (WbWeekList *self, WbAppCalendar *calendar);

G_END_DECLS
