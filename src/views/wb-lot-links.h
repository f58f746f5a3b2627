/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-dataset.h"

G_BEGIN_DECLS

/* The lots of a melt and its samples, each a button that tells where else the lot was used. Hidden where none is told. */
#define WB_TYPE_LOT_LINKS (wb_lot_links_get_type ())
G_DECLARE_FINAL_TYPE (WbLotLinks, wb_lot_links, WB, LOT_LINKS, GtkWidget)

GtkWidget *wb_lot_links_new  (void);
/* batch: of the data set. */
void       wb_lot_links_show (WbLotLinks *self, const WbDataset *data, const WbBatch *batch);

G_END_DECLS
