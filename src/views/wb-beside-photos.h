/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"
#include "wb-craft-beside.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * Photos of what lies side by side at the same hour of a burn: a line each, a column an hour; the burn is chosen by its number, or a
 * third of the candles' lives. Of a combination any of its samples will do, and its code is told. Where there is none it says so. A
 * photo opens large. They are found and decoded off the main thread, one after another.
 *
 * Property "ready" (boolean, notified): what there is is known, though not all of it decoded.
 */
#define WB_TYPE_BESIDE_PHOTOS (wb_beside_photos_get_type ())
G_DECLARE_FINAL_TYPE (WbBesidePhotos, wb_beside_photos, WB, BESIDE_PHOTOS, GtkWidget)

GtkWidget  *wb_beside_photos_new       (void);
/* Copied, with references on the answers; 0: none. */
void        wb_beside_photos_show      (WbBesidePhotos *self, WbAppNotebook *notebook, const WbCraftPick *picks, gsize n_picks);
gboolean    wb_beside_photos_get_ready (WbBesidePhotos *self);
/* For tests: what stands in that line and column, "B4-2, 62 min" or "no photo"; NULL: there is no such place. Caller frees. */
char       *wb_beside_photos_dup_text  (WbBesidePhotos *self, guint pick, guint hour);
/* For tests: decoded pictures that are kept in memory; of one notebook, and a bounded number. */
guint       wb_beside_photos_get_n_kept (WbBesidePhotos *self);

G_END_DECLS
