/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-experiment.h"

G_BEGIN_DECLS

/*
 * Whether the measurements of a vessel go together: the volume that water tells against the one of its diameters and
 * height, and sizes that no vessel has. Nothing here is stored.
 */

/* Two volumes further apart than this share of the smaller one are asked about (common practice, no source). */
#define WB_CRAFT_VESSEL_APART 0.15

/* What so much water at that temperature says of the volume, and what the sizes say, cm3, by wb_craft_fill_of(); NAN: not known. */
double wb_craft_vessel_by_water (const WbVessel *vessel);
double wb_craft_vessel_by_sizes (const WbVessel *vessel);

typedef enum
{
  WB_CRAFT_VESSEL_NOTE,  /* to know */
  WB_CRAFT_VESSEL_DOUBT, /* something is probably wrong: the person is asked */
  WB_CRAFT_VESSEL_WRONG  /* cannot be: not to be saved */
} WbCraftVesselGrade;

typedef enum
{
  WB_CRAFT_VESSEL_TARE_LEFT,    /* the empty vessel is probably still in the mass of the water */
  WB_CRAFT_VESSEL_APART_VOLUMES, /* water and sizes tell two volumes */
  WB_CRAFT_VESSEL_SIZE,         /* a diameter that does not go with the one at the fill line */
  WB_CRAFT_VESSEL_AXIS,         /* the two axes at one height are further apart than any vessel's */
  WB_CRAFT_VESSEL_WALL,         /* the wall is thicker than the vessel has room for */
  WB_CRAFT_VESSEL_NO_HEIGHT,    /* the wax would have no height */
  WB_CRAFT_VESSEL_WIDE_BASE,    /* wider at the base than at the fill line */
  WB_CRAFT_VESSEL_NARROW_BASE,  /* narrower there: hotter glass near the end */
  WB_CRAFT_VESSEL_NARROW_MOUTH,
  WB_CRAFT_VESSEL_NO_C          /* the water's temperature is not known */
} WbCraftVesselIssueKind;

typedef struct
{
  WbCraftVesselIssueKind kind;
  WbCraftVesselGrade     grade;
  const char            *field; /* of the vessel, where it is best said; static */
  char                  *text;  /* translated */
} WbCraftVesselIssue;

/* In order of grade, worst first. A GPtrArray of WbCraftVesselIssue that frees them; empty: nothing to say. */
GPtrArray *wb_craft_vessel_check (const WbVessel *vessel, gboolean us_units);

/* What is dangerous about a vessel of its origin, translated; NULL: nothing that its record tells. Common practice, no source. */
const char *wb_craft_vessel_get_caution (const WbVessel *vessel);

/* The widest that a melt pool can get in a third of the fill, mm: what wb_craft figures with; NAN: not known. */
double     wb_craft_vessel_pool_mm (const WbVessel *vessel, WbStage third);

G_END_DECLS
