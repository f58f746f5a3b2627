/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-vessel-private.h"

#include <math.h>

#define HALVINGS 50

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

/* An axis at a share of the height, straight between base, middle and top; where they are not recorded, as at the top. */
static double
axis_at (double top,
         double middle,
         double base,
         double share)
{
  double mid = middle > 0 ? middle : base > 0 ? (top + base) / 2 : top, low = base > 0 ? base : mid;

  return share < 0.5 ? low + (mid - low) * 2 * share : mid + (top - mid) * (2 * share - 1);
}

static double
section_at (const WbVessel *vessel,
            double          share)
{
  double one = axis_at (vessel->inner_diameter_mm, vessel->middle_diameter_mm, vessel->base_diameter_mm, share);

  if (!(vessel->inner_width_mm > 0))
    return one * one;
  return one * axis_at (vessel->inner_width_mm, vessel->middle_width_mm, vessel->base_width_mm, share);
}

/* Of a section that is a parabola of height, as it is between two of the diameters: Simpson's rule is exact. */
static double
piece (const WbVessel *vessel,
       double          from,
       double          to)
{
  return (to - from) / 6 * (section_at (vessel, from) + 4 * section_at (vessel, (from + to) / 2) + section_at (vessel, to));
}

double
wb_craft_vessel_volume_below (const WbVessel *vessel,
                              double          share)
{
  double lower = piece (vessel, 0, 0.5), all = lower + piece (vessel, 0.5, 1);

  return (share <= 0.5 ? piece (vessel, 0, share) : lower + piece (vessel, 0.5, share)) / all;
}

double
wb_craft_vessel_height_of (const WbVessel *vessel,
                           double          volume)
{
  double low = 0, high = 1;

  for (guint i = 0; i < HALVINGS; i++)
    {
      double middle = (low + high) / 2;

      if (wb_craft_vessel_volume_below (vessel, middle) < volume)
        low = middle;
      else
        high = middle;
    }
  return (low + high) / 2;
}

double
wb_craft_vessel_section_mm2 (const WbVessel *vessel)
{
  double square = piece (vessel, 0, 0.5) + piece (vessel, 0.5, 1);

  return vessel->shape == WB_SHAPE_SQUARE ? square : G_PI / 4 * square;
}

double
wb_craft_vessel_height_mm (const WbVessel *vessel,
                           double          density,
                           double          fill_g)
{
  double section = wb_craft_vessel_section_mm2 (vessel);

  return section > 0 && density > 0 ? fill_g * 1000 / density / section : NAN;
}
