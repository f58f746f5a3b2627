/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-material.h"

G_BEGIN_DECLS

/*
 * One vessel from the side, to scale: wall, wax, and each size that is known with its measure in the person's unit. What
 * is not known yet is drawn broken, at a usual size. An image to assistive technology; its description tells the sizes.
 */
#define WB_TYPE_VESSEL_SIDE (wb_vessel_side_get_type ())
G_DECLARE_FINAL_TYPE (WbVesselSide, wb_vessel_side, WB, VESSEL_SIDE, GtkWidget)

GtkWidget *wb_vessel_side_new (void);
/* Copies what it draws. */
void       wb_vessel_side_set (WbVesselSide *self, const WbVessel *vessel, gboolean us_units);

G_END_DECLS
