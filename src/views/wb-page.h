/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-desk.h"

G_BEGIN_DECLS

/*
 * A page of the window. A subclass is a composite template whose parent is
 * WbPage and holds one child; it overrides what it needs and chains up first.
 *
 * The window calls open, set_experiment, close. `reload` is where a page reads
 * the notebook: it comes after each of these and after the notebook changed,
 * but only while the page is mapped; an unmapped page is marked stale and
 * reloaded when it is shown next. It must leave half-typed fields alone.
 *
 * A page's verbs are actions in the group "page", added in its init to
 * wb_page_get_actions() and enabled in its one update_actions, which comes after
 * every reload and whenever the page calls wb_page_update_actions(). The window
 * shows the visible page's group as its own, so that "page.light" works from
 * accelerators (wb-shortcuts.c), menus and tests wherever the focus is.
 */

#define WB_TYPE_PAGE (wb_page_get_type ())
G_DECLARE_DERIVABLE_TYPE (WbPage, wb_page, WB, PAGE, GtkWidget)

struct _WbPageClass
{
  GtkWidgetClass parent_class;

  void       (*open)           (WbPage *self, WbDesk *desk);
  void       (*close)          (WbPage *self);
  /* 0: none. Comes only to pages of an experiment. */
  void       (*set_experiment) (WbPage *self, gint64 experiment);
  void       (*reload)         (WbPage *self);
  void       (*update_actions) (WbPage *self);
  /* What the page shows, for people; NULL leaves the title that stands in the window's table. Caller frees. */
  char      *(*dup_title)      (WbPage *self);
  /* FALSE keeps the window on this page, or open: the page asks the person, and calls wb_page_release() once it may be left. */
  gboolean   (*leave)          (WbPage *self);
  /* Something typed stands on the page: it is kept when the page is left, and where keeps_draft says so when the window closes. */
  gboolean   (*has_draft)      (WbPage *self);
  /* The kind of wb-app-draft.h that it is kept in; NULL: it is not. */
  const char *draft;
  /* It outlives the window and stands there again at the next start: nobody is asked about it at closing. As `draft` was last written. */
  gboolean   (*keeps_draft)    (WbPage *self);
  /* Photos that were given to the page and are not in the notebook yet: the window does not close on them. */
  guint      (*count_adding)   (WbPage *self);
  /* The keyboard comes to the page: into the field where its work begins. The first control until overridden. */
  void       (*take_focus)     (WbPage *self);
};

void                wb_page_open           (WbPage *self, WbDesk *desk);
void                wb_page_close          (WbPage *self);
void                wb_page_set_experiment (WbPage *self, gint64 experiment);
/* Reloads now if mapped, else when shown next. */
void                wb_page_reload         (WbPage *self);
void                wb_page_update_actions (WbPage *self);
/* The person typed or chose something that is not in the file yet: what the window said of the last save goes, the actions follow. */
void                wb_page_typed          (WbPage *self);
char               *wb_page_dup_title      (WbPage *self);
gboolean            wb_page_leave          (WbPage *self);
gboolean            wb_page_has_draft      (WbPage *self);
gboolean            wb_page_keeps_draft    (WbPage *self);
guint               wb_page_count_adding   (WbPage *self);
/* One more is to be added (TRUE), or one of them came out, well or not. Signal "went-on" (gboolean). */
void                wb_page_went_on        (WbPage *self, gboolean well);
/* The hand on it went to something of that experiment: the window's head goes along. Signal "turned-to" (gint64), while it is shown. */
void                wb_page_turn_to        (WbPage *self, gint64 experiment);
/* Now, or once there is something that can take it. */
void                wb_page_take_focus     (WbPage *self);
/* The person agreed to leave after all: the window goes where it was asked to go. Signal "released". */
void                wb_page_release        (WbPage *self);

/* Both NULL: none is open. */
WbDesk             *wb_page_get_desk       (WbPage *self);
WbAppNotebook      *wb_page_get_notebook   (WbPage *self);
/* 0: none. */
gint64              wb_page_get_experiment (WbPage *self);
GSimpleActionGroup *wb_page_get_actions    (WbPage *self);
/* Adds entries to the page's group, `self` as their user data. */
void                wb_page_add_actions    (WbPage *self, const GActionEntry *entries, int n_entries);
/* An action of the page; a name that is not there is a programmer's error. */
void                wb_page_enable_action  (WbPage *self, const char *name, gboolean enabled);

G_END_DECLS
