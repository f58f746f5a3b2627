/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-report.h"

G_BEGIN_DECLS

/*
 * What a report is to hold: sections, photos, names; and the letterhead's logo and the key, by the page's actions
 * "page.choose-logo", "page.remove-logo" and "page.write-key". Signal "changed": the person chose otherwise.
 */
#define WB_TYPE_REPORT_CHOICE (wb_report_choice_get_type ())
G_DECLARE_FINAL_TYPE (WbReportChoice, wb_report_choice, WB, REPORT_CHOICE, GtkBox)

/* Paper is none of it, and left as it is. */
void wb_report_choice_get (WbReportChoice *self, WbAppReportChoice *choice);
/* What the box does when it is ticked: photos go out with the names, and come back with them; one that asks for photos then gets them. */
void wb_report_choice_keep_names_back (WbReportChoice *self, gboolean back);
/* Says nothing of it by "changed". */
void wb_report_choice_set (WbReportChoice *self, const WbAppReportChoice *choice);

G_END_DECLS
