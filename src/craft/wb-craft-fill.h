/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-material.h"

G_BEGIN_DECLS

/*
 * How much a vessel takes to its fill line. By the water that was weighed in it, else by its diameters and the
 * height of the wax.
 */
typedef enum
{
  WB_CRAFT_FILL_UNKNOWN,
  WB_CRAFT_FILL_BY_WATER,       /* water mass over the density of water at its temperature (Kell 1975) */
  WB_CRAFT_FILL_BY_WATER_PLAIN, /* the water's temperature is not known: 1 g of it is taken for 1 cm3, within 0.5 % below 30 degC */
  WB_CRAFT_FILL_BY_SHAPE        /* frustums between the diameters at the line, in the middle and at the base */
} WbCraftFillWay;

typedef struct
{
  WbCraftFillWay way;
  double         volume_cm3;   /* NAN: not known */
  double         g;            /* wax and oil: volume × the wax's density; NAN: one of them is not known */
} WbCraftFill;

/* Places of the figures below: those of a density table, and of a ruler's volume. */
#define WB_CRAFT_FILL_DENSITY_PLACES 4
#define WB_CRAFT_FILL_VOLUME_PLACES 1

/* vessel, wax: NULL where not chosen. Neither is trusted: what is not above 0 is not known. */
WbCraftFill wb_craft_fill_of          (const WbVessel *vessel, const WbWax *wax);
/*
 * The sum of one candle as a pocket calculator follows it, to `g`: "350 g of water ÷ 0.9982 g/cm³ × 0.9 g/cm³ = 315.6 g". What
 * wb_craft_fill_of reckons with are the figures that stand here. NULL where the fill is not known. Translated; caller frees.
 */
char       *wb_craft_fill_dup_sum     (const WbVessel *vessel, const WbWax *wax, const char *g);
/* What to do so that the fill is known, a sentence; NULL: it is. Translated; caller frees. */
char       *wb_craft_fill_dup_missing (const WbVessel *vessel, const WbWax *wax);

G_END_DECLS
