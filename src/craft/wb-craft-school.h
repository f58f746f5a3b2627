/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-keep-going.h"
#include "wb-lesson.h"

G_BEGIN_DECLS

/*
 * What all earlier experiments taught together: one partially pooled model a figure over the lessons of all of them
 * (wb-calc-pooled.h), in which every experiment speaks of wicks, vessels and waxes that others have tried too, and what the
 * suppliers say stands in as far as nothing was burnt. The ladder foretells from it.
 */
typedef struct _WbCraftSchool WbCraftSchool;

/*
 * lessons: WbLesson; guides: WbWickGuide; wicks: WbWick; waxes: WbWax. The lessons are borrowed for its life, in any order; of one experiment
 * there is one. `kept`: what wb_craft_school_get_kept gave earlier, of these lessons or of some of them; bytes that are not
 * understood are as good as none. It changes no figure, but of the same lessons nothing is learnt again. NULL: stopped.
 */
WbCraftSchool *wb_craft_school_new       (const GPtrArray *lessons, const GPtrArray *guides, const GPtrArray *wicks,
                                          const GPtrArray *waxes, GBytes *kept, WbCraftKeepGoing keep_going, gpointer user);
/*
 * The same from the kept bytes alone, which rest on these very lessons; their figures are not read and may not be there. NULL: the bytes rest on others, or
 * are damaged.
 */
WbCraftSchool *wb_craft_school_recall    (const GPtrArray *lessons, const GPtrArray *guides, const GPtrArray *wicks,
                                          const GPtrArray *waxes, GBytes *kept);
void           wb_craft_school_free      (WbCraftSchool *self);
/* Is there anything that a ladder could rest on: a burnt combination whose wick's place in its series is known? */
gboolean       wb_craft_school_is_taught (const WbCraftSchool *self);
/*
 * What to keep for next time: of every model its spreads, how well they are known, and what questions need of it, with a fingerprint of the lessons
 * (experiment, entries, version, recipes) and of the guides. Derived data; the same lessons give the same bytes. Caller unrefs.
 */
GBytes        *wb_craft_school_get_kept  (const WbCraftSchool *self);
/* Was it recalled from these bytes, so that keeping them anew changes nothing? */
gboolean       wb_craft_school_is_kept   (const WbCraftSchool *self, GBytes *kept);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftSchool, wb_craft_school_free)

G_END_DECLS
