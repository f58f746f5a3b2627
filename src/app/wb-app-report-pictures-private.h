/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-job.h"
#include "wb-craft-answer.h"
#include "wb-report-picture.h"
#include "wb-store.h"

G_BEGIN_DECLS

/* Pictures of a report, decoded for print. Block; on a reading connection. */

/*
 * `most` photos of the experiment's samples and burns, of each combination in turn, best-ranked first and of each the newest first;
 * in the order of ranking and time. *kept: how many there are. *entry goes up to the newest entry that wrote one of them.
 * One that cannot be read is passed over. WbReportPhoto; NULL with an error. keep_going: between two; stops short.
 */
GPtrArray       *wb_app_report_photos_read (WbStore *store, const WbCraftAnswer *answer, guint most, WbAppJob *job, guint *kept, gint64 *entry,
                                            GError **error);

/* The notebook's logo: the newest photo that is kept with the notebook itself. *attachment (may be NULL): a copy of it. NULL: there is none, or an error. */
WbReportPicture *wb_app_report_logo_read   (WbStore *store, const WbNotebook *notebook, WbAttachment **attachment, GError **error);

G_END_DECLS
