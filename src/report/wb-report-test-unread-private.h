/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-ranked.h"

G_BEGIN_DECLS

/* What reasons of one code are about, gathered over several combinations: what they lack is told in one list. */
typedef struct _WbReportUnread WbReportUnread;
WbReportUnread *wb_report_unread_new (const char *code);
/* The reasons of that code, which a cell or group of that name has. */
void            wb_report_unread_add (WbReportUnread *self, const WbCraftRanked *ranked, const char *name);
/* "Hot throw (lower third of all; upper third of B5, B6)", `n_all` being all; "Hot throw (lower third)". Empty: nothing. Caller frees. */
char           *wb_report_unread_free_to_text (WbReportUnread *self, guint n_all);

G_END_DECLS
