/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"
#include "wb-lesson.h"

G_BEGIN_DECLS

/*
 * Keeps lessons: in the notebook's file, by its writer thread, a few at a time so that a save waits for none of it; in memory for as long
 * as they are not there, which of a notebook that cannot be written is for good. Nobody is told where it fails. Any thread may give and
 * take; it is made on the thread of the notebook, which it does not hold.
 */
typedef struct _WbAppLessonKeeper WbAppLessonKeeper;

WbAppLessonKeeper *wb_app_lesson_keeper_new   (WbAppNotebook *notebook);
WbAppLessonKeeper *wb_app_lesson_keeper_ref   (WbAppLessonKeeper *self);
void               wb_app_lesson_keeper_unref (WbAppLessonKeeper *self);

/* Copies what is to be kept: lessons (WbLesson), experiments (gint64) whose kept ones are to go, the school's bytes. Each may be NULL. */
void               wb_app_lesson_keeper_give  (WbAppLessonKeeper *self, const GPtrArray *lessons, const GArray *gone, GBytes *school);
/* A copy of what is in memory of an experiment, or NULL. Caller frees. */
WbLesson          *wb_app_lesson_keeper_dup   (WbAppLessonKeeper *self, gint64 experiment);
/* The school's bytes that are in memory, or NULL. Caller unrefs. */
GBytes            *wb_app_lesson_keeper_ref_school (WbAppLessonKeeper *self);

/* Keeps them here and now; FALSE where that failed. For who waits for the disk: commands. */
gboolean           wb_app_lesson_keep_sync    (WbAppNotebook *notebook, const GPtrArray *lessons, const GArray *gone, GBytes *school);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbAppLessonKeeper, wb_app_lesson_keeper_unref)

G_END_DECLS
