/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-job.h"
#include "wb-app-lesson-keeper-private.h"
#include "wb-craft-shortlist.h"
#include "wb-store.h"

G_BEGIN_DECLS

/*
 * What all lessons together say of a vessel (wb-app-lessons-private.h): none of the readings is gone through again, but those of
 * experiments that changed since they were last asked. What is new is kept for the next who asks; whether that could be done
 * changes no answer.
 */

/* Blocks, and keeps in the file. */
WbCraftLadder *wb_app_ladder_sync            (WbAppNotebook *notebook, const WbCraftLadderQuestion *question, WbAppJob *job, GError **error);
/* Ends the task, which it takes, with a WbCraftLadder. */
void           wb_app_ladder_async           (WbAppNotebook *notebook, WbAppLessonKeeper *keeper, const WbCraftLadderQuestion *question,
                                              WbAppJob *job, GTask *task);
/* Of those wicks, gint64, alone; copied. Ends the task with a WbCraftShortlist. */
void           wb_app_ladder_shortlist_async (WbAppNotebook *notebook, WbAppLessonKeeper *keeper, const WbCraftLadderQuestion *question,
                                              const GArray *wicks, WbAppJob *job, GTask *task);

/* How likely a wick crosses a limit in a vessel, by all lessons. */
typedef struct
{
  WbCraftLadderQuestion question; /* its texts, and who judges, borrowed */
  gint64                wick;     /* record id */
  double                p_cross;  /* filled in; NAN: nothing is foretold */
} WbAppLadderCrossing;
/* asked: WbAppLadderCrossing. On a reading connection; keeps nothing. */
gboolean       wb_app_ladder_find_crossings  (WbStore *store, GArray *asked, GCancellable *cancellable, GError **error);

G_END_DECLS
