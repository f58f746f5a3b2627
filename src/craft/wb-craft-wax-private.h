/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-last-inch.h"

G_BEGIN_DECLS

/* The wax of one sample: how much it was, how fast it goes, how much of it is left. */
typedef struct
{
  const WbVessel    *vessel;
  const WbCraftBurn *burns;  /* its own, in order */
  guint              n;
  double             height_mm, fill_g; /* NAN: not known */
} WbCraftWax;

WbCraftWax wb_craft_wax_find      (const WbDataset      *data,
                                   const WbCraftFigures *figures,
                                   guint                 sample);

/* g/h: what the sample lost, else others of its combination, else `usual_g_per_h` a wick. */
double     wb_craft_wax_find_pace (const WbDataset      *data,
                                   const WbCraftFigures *figures,
                                   guint                 sample,
                                   double                usual_g_per_h,
                                   WbCraftPace          *from);

/* Share of the fill that is left after all that is known of its burns, 0 to 1. */
double     wb_craft_wax_find_left (const WbCraftFigures *figures,
                                   guint                 sample,
                                   const WbCraftWax     *candle,
                                   double                g_per_h);

G_END_DECLS
