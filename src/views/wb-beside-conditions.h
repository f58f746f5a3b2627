/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-beside.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* A line that says in which conditions the things side by side differ, which are alike and which nobody noted. */
#define WB_TYPE_BESIDE_CONDITIONS (wb_beside_conditions_get_type ())
G_DECLARE_FINAL_TYPE (WbBesideConditions, wb_beside_conditions, WB, BESIDE_CONDITIONS, GtkWidget)

GtkWidget  *wb_beside_conditions_new      (void);
/* References are taken on the answers, and the line comes a little later; fewer than two picks: none. */
void        wb_beside_conditions_show     (WbBesideConditions *self, const WbCraftPick *picks, gsize n_picks);
/* What is shown; "" while it is worked out. */
const char *wb_beside_conditions_get_text (WbBesideConditions *self);

G_END_DECLS
