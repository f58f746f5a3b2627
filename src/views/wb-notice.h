/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * A window's notices: a line each, the most urgent first, in words, with a verb
 * and a way to put it away. Two that are news are shown, the rest are counted.
 * What is only due takes no line here, for nothing is to move when it falls due:
 * the status line tells it, see wb_notice_get_due(). A second one with the same
 * id takes the first one's place. Hidden while there is no news.
 *
 * Signals: "acted" (const char *id): its verb was pressed; "closed" (const char *id): it was put away; "changed".
 */
#define WB_TYPE_NOTICE (wb_notice_get_type ())
G_DECLARE_FINAL_TYPE (WbNotice, wb_notice, WB, NOTICE, GtkWidget)

typedef enum
{
  WB_NOTICE_STOP, /* now, for safety's or the record's sake */
  WB_NOTICE_TOLD, /* news */
  WB_NOTICE_ASK,  /* due */
  WB_NOTICE_NOTE  /* worth knowing */
} WbNoticeKind;

/* verb: of its button, with a mnemonic; NULL: none. may_close FALSE: it stays until it is dropped. All texts are copied. */
void        wb_notice_put      (WbNotice *self, const char *id, WbNoticeKind kind, const char *title, const char *body,
                                const char *verb, gboolean may_close);
void        wb_notice_drop     (WbNotice *self, const char *id);
void        wb_notice_clear    (WbNotice *self);
guint       wb_notice_get_n    (WbNotice *self);
/* What is due or worth knowing and comes first, and how many more there are: its id; NULL: nothing is. Borrowed until the next change. */
const char *wb_notice_get_due  (WbNotice *self, const char **title, const char **body, guint *more);
/* As its verb does. */
void        wb_notice_act      (WbNotice *self, const char *id);
/* Title and body of one, shown or counted; NULL: there is none. Caller frees. */
char       *wb_notice_dup_text (WbNotice *self, const char *id);

G_END_DECLS
