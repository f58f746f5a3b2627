/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* The only place that knows GtkMessageDialog. */

/* yes: the person agreed. Called once, always, unless `where`'s window goes first. */
typedef void (*WbQuestionFunc) (gboolean yes, gpointer user);

/* Asks; `yes_label` is the verb ("_Delete"), drawn as dangerous where `destructive`. `where` lies in the window to ask in front of. */
void wb_question_ask  (GtkWidget *where, const char *heading, const char *body, const char *yes_label, gboolean destructive,
                       WbQuestionFunc callback, gpointer user);
/* Asks which of two; `no_label` is the safe one, which Enter and Escape take. */
void wb_question_choose (GtkWidget *where, const char *heading, const char *body, const char *no_label, const char *yes_label,
                         WbQuestionFunc callback, gpointer user);
/* Asks which of three, the safe one as before; closed without an answer, it is that one. Called once, as above. */
typedef enum { WB_QUESTION_NO, WB_QUESTION_YES, WB_QUESTION_OTHER } WbQuestionAnswer;
typedef void (*WbQuestionAnswerFunc) (WbQuestionAnswer answer, gpointer user);
void wb_question_choose_of_three (GtkWidget *where, const char *heading, const char *body, const char *no_label, const char *other_label,
                                  const char *yes_label, WbQuestionAnswerFunc callback, gpointer user);
/* Says something that must be seen; nothing to decide. */
void wb_question_tell (GtkWidget *where, const char *heading, const char *body);

G_END_DECLS
