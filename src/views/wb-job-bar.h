/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-job.h"

G_BEGIN_DECLS

/* Something that lasts: its progress in words and as a bar, and a button to cancel it. Appears after 0.2 s, hides at the end. */
#define WB_TYPE_JOB_BAR (wb_job_bar_get_type ())
G_DECLARE_FINAL_TYPE (WbJobBar, wb_job_bar, WB, JOB_BAR, GtkWidget)

GtkWidget *wb_job_bar_new     (void);
/* Starts to show the job; NULL hides the bar at once. Takes a reference. `text` stands until the job says more. */
void       wb_job_bar_set_job (WbJobBar *self, WbAppJob *job, const char *text);
WbAppJob  *wb_job_bar_get_job (WbJobBar *self); /* NULL: none */

G_END_DECLS
