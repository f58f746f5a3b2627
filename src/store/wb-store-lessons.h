/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-lesson.h"
#include "wb-store.h"

G_BEGIN_DECLS

/*
 * What is kept beside the record of what experiments taught. All of it is derived: no hash covers it, no entry tells of it, undo and
 * restoring leave it alone, and whoever reads it holds it against the record first. A salvaged or migrated notebook begins without.
 */

/* An experiment with a burn. */
typedef struct
{
  gint64 experiment;
  gint64 last_entry; /* newest entry that changed any record of it */
} WbStoreBurnt;

/* What lessons are held against, as of one moment. */
typedef struct
{
  GArray     *burnt;    /* WbStoreBurnt, by experiment: those with a burn, deleted ones not among them */
  GHashTable *shared;   /* gint64 id of a material or protocol to the newest entry (gint64) of it; of a protocol, of its limits too */
} WbStoreLessonStamps;

WbStoreLessonStamps *wb_store_lesson_stamps_new  (WbStore *self, GError **error);
void                 wb_store_lesson_stamps_free (WbStoreLessonStamps *self);
/* The newest entry of the materials and of the protocol that the lesson rests on; 0: nothing is known of them. */
gint64               wb_store_lesson_stamps_get_shared (const WbStoreLessonStamps *self, const WbLesson *lesson);

/*
 * All that are kept, as WbLesson, by experiment, in one pass, whether or not they are up to date. One whose rows are not as they were
 * kept has version 0: it is not to be read. The array owns them.
 */
GPtrArray *wb_store_load_lessons (WbStore *self, GError **error);
/* The same without their figures, which are most of them. */
GPtrArray *wb_store_load_lessons_recipes (WbStore *self, GError **error);
/*
 * Takes away the lessons of the experiments (gint64) in `gone`, and then keeps `lessons` in place of those of the same experiments, in one
 * transaction, which makes no entry. Either may be NULL. A lesson that rests on another last entry than the experiment has by now is let
 * be, and so is one that is there already as of the same entries and version.
 * Errors: LOCKED, READ_ONLY, MOVED, FULL, FAILED, with nothing changed.
 */
gboolean   wb_store_keep_lessons (WbStore *self, const GPtrArray *lessons, const GArray *gone, GError **error);
/* Whether this connection reads a copy of an older notebook, beside which nothing is to be kept. */
gboolean   wb_store_reads_copy   (WbStore *self);

/* The bytes that were kept last; NULL without an error: none. Caller unrefs. */
GBytes    *wb_store_load_school  (WbStore *self, GError **error);
/* Errors as of wb_store_keep_lessons. */
gboolean   wb_store_keep_school  (WbStore *self, GBytes *kept, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbStoreLessonStamps, wb_store_lesson_stamps_free)

G_END_DECLS
