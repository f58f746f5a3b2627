/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-vessel-check.h"

#include "wb-craft-fill.h"
#include "wb-craft-vessel-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Beyond these shares of the size at the fill line a size is a slip of the hand; common practice, no source. */
#define WIDEST 2.0
#define NARROWEST 0.3
/* And the two axes of one vessel. */
#define LONGEST_AXIS 4.0
/* Told as a note from here on: less is within what a ruler tells. */
#define NOTED 0.02
#define NARROW_MOUTH 0.6

double
wb_craft_vessel_by_water (const WbVessel *vessel)
{
  g_return_val_if_fail (vessel != NULL, NAN);
  return vessel->water_g > 0 ? wb_craft_fill_of (vessel, NULL).volume_cm3 : NAN;
}

double
wb_craft_vessel_by_sizes (const WbVessel *vessel)
{
  WbVessel dry;

  g_return_val_if_fail (vessel != NULL, NAN);
  dry = *vessel;
  dry.water_g = NAN;
  return wb_craft_fill_of (&dry, NULL).volume_cm3;
}

double
wb_craft_vessel_pool_mm (const WbVessel *vessel,
                         WbStage         third)
{
  double mm;

  g_return_val_if_fail (vessel != NULL, NAN);
  mm = wb_craft_vessel_inner_mm (vessel, third);
  return mm > 0 ? mm : NAN;
}

const char *
wb_craft_vessel_get_caution (const WbVessel *vessel)
{
  g_return_val_if_fail (vessel != NULL, NULL);

  if (vessel->origin == WB_ORIGIN_DRINKING_GLASS)
    return _("A drinking glass is not made for the heat of a flame: it can crack and spill burning wax. Use ware made for candles.");
  if (vessel->origin == WB_ORIGIN_SECOND_HAND)
    return _("A second-hand vessel can have cracks that nobody sees, and break in the heat. Use ware made for candles.");
  return NULL;
}

static void
free_issue (gpointer data)
{
  g_free (((WbCraftVesselIssue *) data)->text);
  g_free (data);
}

/* Takes the text. */
static void
add (GPtrArray             *issues,
     WbCraftVesselIssueKind kind,
     WbCraftVesselGrade     grade,
     const char            *field,
     char                  *text)
{
  WbCraftVesselIssue *issue = g_new0 (WbCraftVesselIssue, 1);

  *issue = (WbCraftVesselIssue) { kind, grade, field, text };
  g_ptr_array_add (issues, issue);
}

static char *
dup_length (double   mm,
            gboolean us_units)
{
  return wb_quantity_format (wb_quantity_get_shown_unit (WB_QUANTITY_LENGTH, us_units), mm, -1);
}

static char *
dup_volume (double   ml,
            gboolean us_units)
{
  return wb_quantity_format (wb_quantity_get_shown_unit (WB_QUANTITY_VOLUME, us_units), ml, us_units ? 1 : 0);
}

static gboolean
is_apart (double one,
          double other)
{
  return fabs (one - other) > WB_CRAFT_VESSEL_APART * MIN (one, other);
}

static void
check_volumes (const WbVessel *vessel,
               gboolean        us_units,
               GPtrArray      *issues)
{
  double water = wb_craft_vessel_by_water (vessel), sizes = wb_craft_vessel_by_sizes (vessel), without;
  WbVessel emptied = *vessel;
  g_autofree char *by_water = NULL;
  g_autofree char *by_sizes = NULL;

  emptied.water_g -= vessel->tare_g;
  without = wb_craft_vessel_by_water (&emptied);
  if (isnan (vessel->water_c) && !isnan (water))
    add (issues, WB_CRAFT_VESSEL_NO_C, WB_CRAFT_VESSEL_NOTE, "water_c",
         g_strdup (/* xgettext:no-c-format */ _("Without the water's temperature a gram is taken for a millilitre; of hot tap water it is 1.7 % more.")));
  if (isnan (water) || isnan (sizes) || !is_apart (water, sizes))
    return;
  by_water = dup_volume (water, us_units);
  by_sizes = dup_volume (sizes, us_units);
  if (water > sizes && without > 0 && !is_apart (without, sizes))
    add (issues, WB_CRAFT_VESSEL_TARE_LEFT, WB_CRAFT_VESSEL_DOUBT, "water_g",
         g_strdup_printf (_("By the water it holds %s, by its sizes %s. Without the mass of the empty vessel both would agree: "
                            "is the empty vessel still in the water's mass?"), by_water, by_sizes));
  else if (water > sizes)
    add (issues, WB_CRAFT_VESSEL_APART_VOLUMES, WB_CRAFT_VESSEL_DOUBT, "water_g",
         g_strdup_printf (_("The water is more than the sizes can hold: %s by the water, %s by diameters and height. "
                            "Which of them is wrong?"), by_water, by_sizes));
  else
    add (issues, WB_CRAFT_VESSEL_APART_VOLUMES, WB_CRAFT_VESSEL_DOUBT, "water_g",
         g_strdup_printf (_("The water is less than the sizes hold: %s by the water, %s by diameters and height. "
                            "Which of them is wrong?"), by_water, by_sizes));
}

static void
check_size (const WbVessel *vessel,
            double          size,
            const char     *field,
            gboolean        us_units,
            GPtrArray      *issues)
{
  double fill = vessel->inner_diameter_mm;
  g_autofree char *one = NULL;
  g_autofree char *other = NULL;

  if (!(fill > 0) || isnan (size) || (size <= WIDEST * fill && size >= NARROWEST * fill))
    return;
  one = dup_length (size, us_units);
  other = dup_length (fill, us_units);
  add (issues, WB_CRAFT_VESSEL_SIZE, WB_CRAFT_VESSEL_WRONG, field,
       g_strdup_printf (_("%s here and %s at the fill line cannot be one vessel. Measure both again, inside the wall."), one, other));
}

static void
check_axis (double      diameter,
            double      width,
            const char *field,
            GPtrArray  *issues)
{
  if (diameter > 0 && width > 0 && MAX (diameter, width) > LONGEST_AXIS * MIN (diameter, width))
    add (issues, WB_CRAFT_VESSEL_AXIS, WB_CRAFT_VESSEL_WRONG, field,
         g_strdup (_("One axis is more than four times the other. Measure both again, inside the wall.")));
}

static void
check_sizes (const WbVessel *vessel,
             gboolean        us_units,
             GPtrArray      *issues)
{
  double fill = vessel->inner_diameter_mm;
  double least = isnan (vessel->inner_width_mm) ? fill : MIN (fill, vessel->inner_width_mm);

  check_size (vessel, vessel->middle_diameter_mm, "middle_diameter_mm", us_units, issues);
  check_size (vessel, vessel->base_diameter_mm, "base_diameter_mm", us_units, issues);
  if (vessel->shape != WB_SHAPE_ROUND)
    {
      check_axis (fill, vessel->inner_width_mm, "inner_width_mm", issues);
      check_axis (vessel->middle_diameter_mm, vessel->middle_width_mm, "middle_width_mm", issues);
      check_axis (vessel->base_diameter_mm, vessel->base_width_mm, "base_width_mm", issues);
    }
  if (vessel->wall_mm > 0 && least > 0 && vessel->wall_mm > least / 2)
    add (issues, WB_CRAFT_VESSEL_WALL, WB_CRAFT_VESSEL_WRONG, "wall_mm",
         g_strdup (_("The wall would be thicker than half of what it encloses.")));
  if (vessel->wax_height_mm <= 0)
    add (issues, WB_CRAFT_VESSEL_NO_HEIGHT, WB_CRAFT_VESSEL_WRONG, "wax_height_mm",
         g_strdup (_("Wax without a height is no candle.")));
  if (!(fill > 0))
    return;
  if (vessel->base_diameter_mm > fill * (1 + NOTED) && vessel->base_diameter_mm <= WIDEST * fill)
    add (issues, WB_CRAFT_VESSEL_WIDE_BASE, WB_CRAFT_VESSEL_NOTE, "base_diameter_mm",
         g_strdup (_("Wider at the base than at the fill line: the wall moves away from the flame as the candle burns down.")));
  if (vessel->base_diameter_mm < fill * (1 - NOTED) && vessel->base_diameter_mm >= NARROWEST * fill)
    add (issues, WB_CRAFT_VESSEL_NARROW_BASE, WB_CRAFT_VESSEL_NOTE, "base_diameter_mm",
         g_strdup (_("It narrows towards the base: a wick that is right at the top runs hotter there. Burn a sample to its end.")));
  if (vessel->mouth_mm < NARROW_MOUTH * fill)
    add (issues, WB_CRAFT_VESSEL_NARROW_MOUTH, WB_CRAFT_VESSEL_NOTE, "mouth_mm",
         g_strdup (_("A mouth much narrower than the wax keeps the heat in and the air out: watch wall and soot closely.")));
}

static int
order_issues (gconstpointer a,
              gconstpointer b)
{
  const WbCraftVesselIssue *one = *(WbCraftVesselIssue *const *) a, *other = *(WbCraftVesselIssue *const *) b;

  return (int) other->grade - (int) one->grade;
}

GPtrArray *
wb_craft_vessel_check (const WbVessel *vessel,
                       gboolean        us_units)
{
  GPtrArray *issues;

  g_return_val_if_fail (vessel != NULL, NULL);

  issues = g_ptr_array_new_with_free_func (free_issue);
  check_sizes (vessel, us_units, issues);
  check_volumes (vessel, us_units, issues);
  g_ptr_array_sort (issues, order_issues);
  return issues;
}
