/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-vessel-private.h"

#include <math.h>

/* The wider of two axes; the second is NAN for a round vessel. */
static double
wider (double diameter,
       double width)
{
  return isnan (width) ? diameter : MAX (diameter, width);
}

double
wb_craft_vessel_inner_mm (const WbVessel *vessel,
                          WbStage         stage)
{
  double top = wider (vessel->inner_diameter_mm, vessel->inner_width_mm);
  double middle = wider (vessel->middle_diameter_mm, vessel->middle_width_mm);
  double base = wider (vessel->base_diameter_mm, vessel->base_width_mm);

  if (stage == WB_STAGE_MIDDLE && middle > 0)
    return middle;
  if (stage == WB_STAGE_LOWER && middle > 0 && base > 0)
    return (middle + 2 * base) / 3; /* a sixth of the height above the base */
  return top;
}

double
wb_craft_vessel_due_h (const WbVessel *vessel,
                       WbStage         stage)
{
  return wb_craft_vessel_inner_mm (vessel, stage) / WB_CRAFT_MM_PER_INCH;
}
