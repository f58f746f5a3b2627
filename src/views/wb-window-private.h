/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-badge.h"
#include "wb-close-wait.h"
#include "wb-experiment-bar.h"
#include "wb-keeper.h"
#include "wb-notice.h"
#include "wb-place.h"
#include "wb-scanner.h"
#include "wb-sidebar.h"
#include "wb-status-line.h"
#include "wb-watch.h"
#include "wb-window.h"

G_BEGIN_DECLS

/* The window in files: what it shows and where it goes, and its verbs. */

struct _WbWindow
{
  GtkApplicationWindow  parent_instance;

  /* children */
  WbBadge              *invented;
  WbBadge              *read_only;
  WbBadge              *test_clock;
  GtkLabel             *heading;
  GtkLabel             *subheading;
  GtkWidget            *undo;
  GtkWidget            *redo;
  WbProblemBar         *problem_bar;
  WbNotice             *notice;
  WbJobBar             *job_bar;
  GtkPaned             *paned;
  WbSidebar            *sidebar;
  WbExperimentBar      *experiment_bar;
  GtkScrolledWindow    *across;
  GtkStack             *stack;
  WbStatusLine         *status_line;

  /* owned */
  WbDesk               *desk;
  WbWatch              *watch;      /* NULL: no notebook */
  WbKeeper             *keeper;     /* the same */
  WbCloseWait          *close_wait;
  WbScanner            *scanner;
  WbAppSettings        *settings;
  GSignalGroup         *notebook_signals;
  GSignalGroup         *experiments_signals;

  /* state */
  const WbPlace        *place;      /* shown; NULL before the first */
  gint64                experiment; /* open; 0: none, or one being planned */
  const WbPlace        *wanted;     /* where to go once the page is released; NULL: nowhere */
  gint64                wanted_experiment;
  gboolean              wants_close; /* close once the page is released */
  guint                 clock_id;   /* shows the test clock anew */
  gboolean              may_close;  /* the person said so though something is alight */
  gboolean              may_drop;   /* the person said so though something typed is not saved */
  gboolean              asks_alight; /* whether to close though something is alight */
};

/* NULL: none is open. */
WbAppNotebook *wb_window_get_notebook    (WbWindow *self);
/* Goes there, and the keyboard with it. */
void           wb_window_go_and_focus    (WbWindow *self, const char *name, gint64 experiment);
/* To the page that the experiment waits for. */
void           wb_window_open_experiment (WbWindow *self, gint64 id, gboolean focus);

/* wb-window-verbs.c */
void           wb_window_add_verbs       (WbWindow *self);

/* wb-window-label.c: labels that are scanned, whatever has the keyboard. */
void           wb_window_follow_scanner  (WbWindow *self);

G_END_DECLS
