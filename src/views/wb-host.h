/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-desk.h"
#include "wb-job-bar.h"
#include "wb-problem-bar.h"

G_BEGIN_DECLS

/*
 * What a window of the program does for all that stands in it: its open
 * notebook, its bars and its status line. Pages and dialogs find it as the
 * root of their widgets and so need not know the window that holds them.
 */
#define WB_TYPE_HOST (wb_host_get_type ())
G_DECLARE_INTERFACE (WbHost, wb_host, WB, HOST, GtkWidget)

struct _WbHostInterface
{
  GTypeInterface  parent_iface;
  WbDesk       *(*get_desk)        (WbHost *self);
  WbProblemBar *(*get_problem_bar) (WbHost *self);
  WbJobBar     *(*get_job_bar)     (WbHost *self);
  void          (*say)             (WbHost *self, const char *text);
  void          (*typed)           (WbHost *self);
};

/* The root of a widget where that is a host, else NULL: a dialog's, or none. Borrowed, as all that follow. */
WbHost       *wb_host_find            (GtkWidget *where);
WbDesk       *wb_host_get_desk        (WbHost *self); /* NULL: no notebook */
WbProblemBar *wb_host_get_problem_bar (WbHost *self);
/* Progress of what the window itself does. */
WbJobBar     *wb_host_get_job_bar     (WbHost *self);
/* Words for the status line, until the next save or words; NULL clears. */
void          wb_host_say             (WbHost *self, const char *text);
/* Something was typed that is not in the file yet: what was said of the last save goes. */
void          wb_host_typed           (WbHost *self);

G_END_DECLS
