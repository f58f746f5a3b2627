/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"

G_BEGIN_DECLS

/*
 * What is half done beside a notebook and no record yet, in the person's state folder: a file of each kind ("pour", "plan", "timers") for a
 * notebook at its place, with groups that are their writer's. Written at each change, by a thread; it outlives the window, and a
 * program that is killed. After a power cut it may be the one before. Main thread.
 *
 * Signal "loaded": what an earlier program left is there; before that, nothing of it is. Signal "changed": a group came or went.
 */
#define WB_TYPE_APP_DRAFT (wb_app_draft_get_type ())
G_DECLARE_FINAL_TYPE (WbAppDraft, wb_app_draft, WB, APP_DRAFT, GObject)

/* Of kind "materials": the group of the material that is half typed; its key "title" says what it is called. */
#define WB_APP_DRAFT_MATERIAL "of"
/* Of kind "pour": groups are an experiment's UUID, this, and a batch, or what is the same for all its batches. */
#define WB_APP_DRAFT_POUR_DIVIDER "/"
#define WB_APP_DRAFT_POUR_TERMS "terms"
/* Of kind "decision": an experiment's UUID, this, and a combination's id, with its words in that key; or who signs, the same for all. */
#define WB_APP_DRAFT_DECISION_DIVIDER "/"
#define WB_APP_DRAFT_DECISION_RECIPE "recipe"
#define WB_APP_DRAFT_DECISION_SIGNER "all"

/* The notebook's; borrowed, lives as long as it. The first call begins to read it. */
WbAppDraft *wb_app_draft_of         (WbAppNotebook *notebook, const char *kind);
gboolean    wb_app_draft_get_loaded (WbAppDraft *self);
/* All groups as they stand; borrowed, to be read only. */
GKeyFile   *wb_app_draft_get_file   (WbAppDraft *self);
/* Lets the group stand as in `from`, whatever it held; a group that `from` does not have is gone. Written only where it is another. */
void        wb_app_draft_set        (WbAppDraft *self, const char *group, GKeyFile *from);
void        wb_app_draft_drop       (WbAppDraft *self, const char *group);
/* FALSE: it could not be written when that was last tried, and goes with the window. */
gboolean    wb_app_draft_is_kept    (WbAppDraft *self);

G_END_DECLS
