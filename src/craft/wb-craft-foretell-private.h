/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-lesson.h"
#include "wb-craft-recipe-private.h"

G_BEGIN_DECLS

/*
 * What all earlier experiments say of wicks, vessels, waxes and loads together:
 *
 *   ln D∞ = common + step + ln diameter + load + ln wicks + series + series × step + wax + cell
 *
 * by a conjugate linear regression whose series and wax terms are pulled towards
 * nothing as far as the data do not show them (partial pooling); the same for
 * flame, worst flame and worst rise of the vessel in the last third. The pace of
 * growth is one, with the spread seen between cells. A cell whose pool was at the
 * wall whenever it was read says "at least" (EM over a censored normal). A recipe
 * that was itself burnt is foretold by its own readings.
 */
typedef struct _WbCraftForetell WbCraftForetell;

/* NULL where the lessons hold fewer than three cells with a step whose pool was read, or no two different steps. They outlive it. */
WbCraftForetell *wb_craft_foretell_new  (const GArray *lessons);
void             wb_craft_foretell_free (WbCraftForetell *self);
/* Were last thirds read? */
gboolean         wb_craft_foretell_knows_the_end (const WbCraftForetell *self);
/* In what the recipe lies outside of what was tried, in words; NULL: in nothing. Caller frees. */
char            *wb_craft_foretell_dup_outside   (const WbCraftForetell *self, const WbCraftRecipe *recipe);
/* Where the recipe itself was burnt, and a limit that it crossed there, in sentences; NULL: nowhere. Caller frees. */
char            *wb_craft_foretell_dup_tested    (const WbCraftForetell *self, const WbCraftRecipe *recipe);
/* The smaller size of the series that burnt too hot in this wax, in a vessel no narrower, in a sentence; NULL: none did. Caller frees. */
char            *wb_craft_foretell_dup_above     (const WbCraftForetell *self, const WbCraftRecipe *recipe);
gboolean         wb_craft_foretell_knows_series  (const WbCraftForetell *self, const char *series);
/* n recipes × draws, draw by draw; what recipes share, they share in every draw. Caller frees. */
WbCraftForetold *wb_craft_foretell_draw (const WbCraftForetell *self, const WbCraftRecipe *recipes, guint n, guint draws,
                                         guint64 seed);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftForetell, wb_craft_foretell_free)

G_END_DECLS
