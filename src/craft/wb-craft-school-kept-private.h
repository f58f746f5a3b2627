/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-school-private.h"

G_BEGIN_DECLS

/*
 * What a school keeps for the next one, with a fingerprint of what it rests on: of each model the points of its spreads, from which a
 * school of other lessons goes on, and all that questions need of its fit, so that the same lessons need not be learnt from again.
 */
typedef struct _WbCraftKept WbCraftKept;

/* SHA-256 over what tells the lessons, in their order, from others, but for their figures, and over the guides with their wicks and waxes. */
void          wb_craft_kept_fingerprint (const GPtrArray *lessons, const GPtrArray *guides, const GPtrArray *wicks, const GPtrArray *waxes,
                                         guint8 fingerprint[32]);
/* NULL for NULL, and for bytes that are not understood. */
WbCraftKept  *wb_craft_kept_read        (GBytes *bytes);
void          wb_craft_kept_free        (WbCraftKept *self);
GBytes       *wb_craft_kept_write       (const WbCraftSchool *school);
/* The mode's spreads, and its curvature, for wb_calc_pooled_fit_on. NULL: none were kept of that model; self may be NULL. */
const double *wb_craft_kept_get_spreads (const WbCraftKept *self, const WbCraftSchoolModel *model, const double **curvature);
/*
 * Puts what the lessons would teach into a school of the same lessons, whose seats are taken and whose models are begun. FALSE: they are
 * others, or something is damaged; then models and curves are as they were.
 */
gboolean      wb_craft_kept_recall      (const WbCraftKept *self, WbCraftSchool *school);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftKept, wb_craft_kept_free)

G_END_DECLS
