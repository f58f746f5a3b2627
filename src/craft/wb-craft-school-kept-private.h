/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-school-private.h"

G_BEGIN_DECLS

/* What a school keeps for the next one: the points of its models' spreads, and the sites of walls, with a fingerprint of what they rest on. */
typedef struct _WbCraftKept WbCraftKept;

/* SHA-256 over the lessons, in their order, and the guides. */
void          wb_craft_kept_fingerprint (const GPtrArray *lessons, const GPtrArray *guides, guint8 fingerprint[32]);
/* NULL for NULL, and for bytes that are not understood. */
WbCraftKept  *wb_craft_kept_read        (GBytes *bytes);
void          wb_craft_kept_free        (WbCraftKept *self);
GBytes       *wb_craft_kept_write       (const WbCraftSchool *school);
/* self may be NULL in all of these. */
gboolean      wb_craft_kept_is_of       (const WbCraftKept *self, const guint8 fingerprint[32]);
/* Of all points, the mode's first, as wb_calc_pooled_at has them. NULL: none were kept of that model. */
const double *wb_craft_kept_get_spreads (const WbCraftKept *self, const WbCraftSchoolModel *model, const double **weights, gsize *n_points);
/* FALSE: they do not fit the model's. */
gboolean      wb_craft_kept_put_walls   (const WbCraftKept *self, WbCraftSchoolModel *growth);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftKept, wb_craft_kept_free)

G_END_DECLS
