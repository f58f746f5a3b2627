/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-answers.h"
#include "wb-app-plan.h"

G_BEGIN_DECLS

/*
 * "Which of these?", asked of a plan: of the wicks chosen in it, which three or four to burn first in its vessel and wax,
 * at the highest load of its scents. All on the main thread.
 */

/* One vessel and two wicks or more are chosen. */
gboolean          wb_app_plan_can_ask_shortlist (WbAppPlan *self);
/* What an answer rests on, as one string: another one where an answer is out of date. Caller frees. */
char             *wb_app_plan_dup_asked         (WbAppPlan *self);
/* Only where it can be asked. Ends with the answers as its source. */
void              wb_app_plan_shortlist_async   (WbAppPlan *self, WbAppAnswers *answers, WbAppJob *job, GAsyncReadyCallback callback, gpointer user);
/*
 * Those that it takes and no others, in its number of wicks. Its answer, which says why, stands in the experiment's note from then on:
 * once, and in place of `former`, which another answer had put there (NULL: none did).
 */
void              wb_app_plan_take_shortlist    (WbAppPlan *self, const WbCraftShortlist *list, const char *former);
/* WbCraftWickChoice, what was chosen before; its answer leaves the note, where nobody has written it otherwise meanwhile. */
void              wb_app_plan_undo_shortlist    (WbAppPlan *self, const WbCraftShortlist *list, const GArray *before);

G_END_DECLS
