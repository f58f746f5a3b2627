/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-job.h"
#include "wb-app-lesson-keeper-private.h"
#include "wb-craft-answer.h"
#include "wb-store-lessons.h"

G_BEGIN_DECLS

/* What every experiment with a burn taught: read in one go, and made anew where it is out of date. */
typedef struct
{
  GPtrArray *lessons; /* WbLesson, by experiment */
  GPtrArray *anew;    /* WbLesson: copies of those that were made anew, to be kept */
  GArray    *gone;    /* gint64: experiments whose kept lesson is to go */
  GBytes    *school;  /* as kept last; NULL: none */
  gboolean   apart;   /* a copy was read, beside which nothing is to be kept */
} WbAppLessons;

/*
 * On a reading connection. A lesson is out of date where the experiment's newest entry, that of a material or of the protocol that it
 * rests on, or the version of the estimates is another; `keeper` (may be NULL) has those that are not in the file. Experiments are loaded
 * one at a time. job may be NULL: progress from 0 to `until`. NULL with an error, cancelled is G_IO_ERROR_CANCELLED; what was made by
 * then is given to the keeper.
 */
WbAppLessons *wb_app_lessons_gather (WbStore *store, WbAppLessonKeeper *keeper, double until, WbAppJob *job, GError **error);
/*
 * The lessons without their figures, where every one that is kept is up to date and a school is kept as well: all that a ladder needs
 * if the school rests on them. NULL without an error: not so, and they are to be gathered.
 */
WbAppLessons *wb_app_lessons_glance (WbStore *store, WbAppLessonKeeper *keeper, GError **error);
void          wb_app_lessons_free   (WbAppLessons *self);

/*
 * What the answer's experiment taught, at no further cost than a few fits. `stamps`: as of before its data were loaded. NULL where
 * other experiments speak in the answer: a lesson is the experiment's alone.
 */
WbLesson     *wb_app_lessons_of_answer (const WbCraftAnswer *answer, const WbStoreLessonStamps *stamps);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbAppLessons, wb_app_lessons_free)

G_END_DECLS
