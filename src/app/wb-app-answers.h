/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-job.h"
#include "wb-app-notebook.h"
#include "wb-craft-answer.h"
#include "wb-craft-shortlist.h"

G_BEGIN_DECLS

/*
 * The notebook's answers: one an experiment and grouping, computed off the
 * main thread, kept until an entry touches the experiment. Window, report and
 * exports read the same one. Signal "stale" (gint64 experiment): what was
 * handed out is out of date; ask again. One object a notebook.
 */
#define WB_TYPE_APP_ANSWERS (wb_app_answers_get_type ())
G_DECLARE_FINAL_TYPE (WbAppAnswers, wb_app_answers, WB, APP_ANSWERS, GObject)

/* Holds the notebook, and follows it. Caller owns it. */
WbAppAnswers  *wb_app_answers_new        (WbAppNotebook *notebook);
/* seed 0: the experiment's own. job may be NULL. A kept answer is handed over on the next turn of the loop. */
void           wb_app_answers_get_async  (WbAppAnswers *self, gint64 experiment, WbCraftWithin within, guint64 seed,
                                          WbAppJob *job, GAsyncReadyCallback callback, gpointer user);
/* A new reference. */
WbCraftAnswer *wb_app_answers_get_finish (WbAppAnswers *self, GAsyncResult *result, GError **error);
/* What is kept, or NULL; borrowed; never computes. */
WbCraftAnswer *wb_app_answers_peek       (WbAppAnswers *self, gint64 experiment, WbCraftWithin within, guint64 seed);
/* Blocks and keeps nothing: for commands. The same notebook gives the same answer. */
WbCraftAnswer *wb_app_answers_compute_sync (WbAppNotebook *notebook, gint64 experiment, WbCraftWithin within, guint64 seed,
                                            WbAppJob *job, GError **error);

/* The ladder for a vessel, from all that the notebook holds. The question is copied. */
void           wb_app_answers_ladder_async  (WbAppAnswers *self, const WbCraftLadderQuestion *question, WbAppJob *job,
                                             GAsyncReadyCallback callback, gpointer user);
WbCraftLadder *wb_app_answers_ladder_finish (WbAppAnswers *self, GAsyncResult *result, GError **error);
WbCraftLadder *wb_app_answers_ladder_sync   (WbAppNotebook *notebook, const WbCraftLadderQuestion *question, WbAppJob *job, GError **error);

/* Which of those wicks (gint64, copied) to burn first, from all that the notebook holds. */
void              wb_app_answers_shortlist_async  (WbAppAnswers *self, const WbCraftLadderQuestion *question, const GArray *wicks,
                                                   WbAppJob *job, GAsyncReadyCallback callback, gpointer user);
WbCraftShortlist *wb_app_answers_shortlist_finish (WbAppAnswers *self, GAsyncResult *result, GError **error);

G_END_DECLS
