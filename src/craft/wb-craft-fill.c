/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-fill.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-vessel-private.h"
#include "wb-quantity.h"

static gboolean
is_above_0 (double value)
{
  return isfinite (value) && value > 0;
}

/* FALSE: its shape has no formula, or an axis is missing. */
static gboolean
has_formula (const WbVessel *vessel)
{
  return vessel->shape != WB_SHAPE_OTHER && (vessel->shape != WB_SHAPE_OVAL || is_above_0 (vessel->inner_width_mm))
         && is_above_0 (vessel->inner_diameter_mm) && is_above_0 (vessel->wax_height_mm);
}

static double
volume_by_shape (const WbVessel *vessel)
{
  WbVessel shape = *vessel;

  if (!has_formula (vessel))
    return NAN;
  /* a round one has one axis, whatever was typed before its shape was changed */
  if (vessel->shape == WB_SHAPE_ROUND)
    shape.inner_width_mm = NAN;
  return wb_craft_vessel_section_mm2 (&shape) * vessel->wax_height_mm / 1000;
}

/* As it is printed: what is worked out from it can be followed by hand. */
static double
printed (double value,
         int    places)
{
  double scale = pow (10, places);

  return round (value * scale) / scale;
}

WbCraftFill
wb_craft_fill_of (const WbVessel *vessel,
                  const WbWax    *wax)
{
  WbCraftFill self = { WB_CRAFT_FILL_UNKNOWN, NAN, NAN };

  if (vessel == NULL)
    return self;
  if (is_above_0 (vessel->water_g))
    {
      double water_g = printed (vessel->water_g, WB_CRAFT_FILL_DENSITY_PLACES);
      double density = printed (wb_water_density (vessel->water_c), WB_CRAFT_FILL_DENSITY_PLACES);

      self.way = density > 0 ? WB_CRAFT_FILL_BY_WATER : WB_CRAFT_FILL_BY_WATER_PLAIN;
      self.volume_cm3 = density > 0 ? water_g / density : water_g;
    }
  else
    {
      self.volume_cm3 = printed (volume_by_shape (vessel), WB_CRAFT_FILL_VOLUME_PLACES);
      self.way = isnan (self.volume_cm3) ? WB_CRAFT_FILL_UNKNOWN : WB_CRAFT_FILL_BY_SHAPE;
    }
  if (wax != NULL && is_above_0 (wax->density))
    self.g = self.volume_cm3 * printed (wax->density, WB_CRAFT_FILL_DENSITY_PLACES);
  return self;
}

char *
wb_craft_fill_dup_sum (const WbVessel *vessel,
                       const WbWax    *wax,
                       const char     *g)
{
  WbCraftFill fill = wb_craft_fill_of (vessel, wax);
  g_autofree char *density = NULL, *of_water = NULL, *amount = NULL;

  if (isnan (fill.g))
    return NULL;
  density = wb_number_format_trimmed (wax->density, WB_CRAFT_FILL_DENSITY_PLACES, NULL);
  if (fill.way == WB_CRAFT_FILL_BY_SHAPE)
    {
      amount = wb_number_format (fill.volume_cm3, WB_CRAFT_FILL_VOLUME_PLACES, NULL);
      return g_strdup_printf (_("%s\302\240cm³ by its diameters × %s\302\240g/cm³ = %s"), amount, density, g);
    }
  amount = wb_number_format_trimmed (vessel->water_g, WB_CRAFT_FILL_DENSITY_PLACES, NULL);
  if (fill.way == WB_CRAFT_FILL_BY_WATER_PLAIN)
    /* Translators: water, the wax's specific gravity, a mass. */
    return g_strdup_printf (_("%s\302\240g of water × %s = %s"), amount, density, g);
  of_water = wb_number_format_trimmed (wb_water_density (vessel->water_c), WB_CRAFT_FILL_DENSITY_PLACES, NULL);
  return g_strdup_printf (_("%s\302\240g of water ÷ %s\302\240g/cm³ × %s\302\240g/cm³ = %s"), amount, of_water, density, g);
}

char *
wb_craft_fill_dup_missing (const WbVessel *vessel,
                           const WbWax    *wax)
{
  if (wax == NULL || !is_above_0 (wax->density))
    return g_strdup (_("The density of the wax is not known: enter it under Materials."));
  if (vessel != NULL && wb_craft_fill_of (vessel, wax).way != WB_CRAFT_FILL_UNKNOWN)
    return NULL;
  return g_strdup_printf (_("How much %s holds is not known: weigh the water to its fill line, and enter it under Materials."),
                          vessel != NULL ? vessel->name : _("the vessel"));
}
