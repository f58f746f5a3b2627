/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-loads-private.h"

G_BEGIN_DECLS

/*
 * The signed decisions, of any experiment, for recipes that an experiment pours: by them whoever fills the pot is told of a lot that
 * nobody signed for.
 */

/* own: the experiment's data. GPtrArray, its items are of this file; NULL with an error. A decision that a newer one replaced is none. */
GPtrArray *wb_app_covered_read     (WbStore *store, WbAppLoads *loads, const WbDataset *own, GError **error);
/*
 * covers: as above. cells: ids (gint64) of the combinations that are poured. What the decisions for their recipes do not cover of the
 * text's lots of that material, a sentence a decision; NULL: all of it is covered, or nothing is signed for any of them. Caller frees.
 */
char      *wb_app_covered_dup_lack (const GPtrArray *covers, const GArray *cells, gint64 material, const char *text);

G_END_DECLS
