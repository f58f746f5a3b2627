/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-material.h"

#include "wb-field-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

const WbWord wb_basis_words[] = {
  { "wax", N_("of the wax") },
  { "total", N_("of the total") },
  { NULL, NULL }
};

#define SETTING_DAYS 1.0

static const WbWord shape_words[] = {
  { "round", N_("round") },
  { "square", N_("square") },
  { "oval", N_("oval") },
  { "other", N_("other") },
  { NULL, NULL }
};

static const WbWord wall_words[] = {
  { "glass", N_("glass") },
  { "metal", N_("metal") },
  { "ceramic", N_("ceramic") },
  { "concrete", N_("concrete") },
  { "other", N_("other") },
  { NULL, NULL }
};

static const WbWord origin_words[] = {
  { "candle_ware", N_("made for candles") },
  { "drinking_glass", N_("drinking glass") },
  { "second_hand", N_("second hand") },
  { "other", N_("other") },
  { NULL, NULL }
};

static const WbWord wax_kind_words[] = {
  { "paraffin", N_("paraffin") },
  { "soy", N_("soy") },
  { "palm", N_("palm") },
  { "beeswax", N_("beeswax") },
  { "coconut", N_("coconut") },
  { "blend", N_("blend") },
  { "other", N_("other") },
  { NULL, NULL }
};

static const WbWord wick_kind_words[] = {
  { "flat_braid", N_("flat braid") },
  { "square_braid", N_("square braid") },
  { "cored", N_("cored") },
  { "wooden", N_("wooden") },
  { "other", N_("other") },
  { NULL, NULL }
};

static const WbWord dye_form_words[] = {
  { "liquid", N_("liquid") },
  { "chip", N_("chip or block") },
  { "powder", N_("powder") },
  { "other", N_("other") },
  { NULL, NULL }
};

static const WbFieldSpec vessel_fields[] = {
  WB_NAME (WbVessel, name, .required = TRUE, .label = N_("Name")),
  WB_ENUM (WbVessel, shape, shape_words, .label = N_("Shape")),
  WB_REAL (WbVessel, inner_diameter_mm, LENGTH, 20, 400, .required = TRUE, .label = N_("Inner diameter at the wax level"),
           .hint = N_("Measured inside the wall, where the top of the wax will be.")),
  WB_REAL (WbVessel, inner_width_mm, LENGTH, 20, 400, .label = N_("Other axis there"), .hint = N_("Only if the vessel is not round.")),
  WB_REAL (WbVessel, middle_diameter_mm, LENGTH, 20, 400, .label = N_("Inner diameter at half height")),
  WB_REAL (WbVessel, middle_width_mm, LENGTH, 20, 400, .label = N_("Other axis at half height")),
  WB_REAL (WbVessel, base_diameter_mm, LENGTH, 20, 400, .label = N_("Inner diameter at the base")),
  WB_REAL (WbVessel, base_width_mm, LENGTH, 20, 400, .label = N_("Other axis at the base")),
  WB_REAL (WbVessel, mouth_mm, LENGTH, 10, 400, .label = N_("Mouth"), .hint = N_("Narrowest opening above the wax.")),
  WB_REAL (WbVessel, wax_height_mm, LENGTH, 5, 500, .label = N_("Height of the wax")),
  WB_REAL (WbVessel, headspace_mm, LENGTH, 0, 300, .label = N_("Headspace"), .hint = N_("From the wax to the rim.")),
  WB_REAL (WbVessel, wall_mm, LENGTH, 0.1, 50, .label = N_("Thickness of the wall")),
  WB_REAL (WbVessel, tare_g, MASS, 0, 20000, .label = N_("Mass when empty")),
  WB_REAL (WbVessel, water_g, MASS, 1, 20000, .label = N_("Water to the fill line"),
           .hint = N_("Weigh the vessel filled with water to where the wax will end, less the empty vessel.")),
  WB_REAL (WbVessel, water_c, TEMPERATURE, 0, 99, .label = N_("Temperature of that water")),
  WB_ENUM (WbVessel, wall, wall_words, .label = N_("Material of the wall")),
  WB_ENUM (WbVessel, origin, origin_words, .label = N_("Where it is from"),
           .hint = N_("Only ware made for candles is made to stand their heat.")),
  WB_NAME (WbVessel, supplier, .label = N_("Supplier")),
  WB_NOTE (WbVessel, note, .label = N_("Note")),
};

const WbRecordType wb_vessel_type = WB_TYPE (WbVessel, "vessel", N_("Vessel"), vessel_fields);

static const WbFieldSpec wax_fields[] = {
  WB_NAME (WbWax, name, .required = TRUE, .label = N_("Name")),
  WB_ENUM (WbWax, kind, wax_kind_words, .label = N_("Kind")),
  WB_REAL (WbWax, density, DENSITY, 0.5, 1.5, .label = N_("Density or specific gravity"),
           .hint = N_("From the supplier's data sheet, of the solid wax.")),
  WB_REAL (WbWax, density_c, TEMPERATURE, 0, 150, .label = N_("Temperature of that density")),
  WB_REAL (WbWax, max_load_pct, PERCENT, 0, 30, .label = N_("Most fragrance it holds"), .hint = N_("The supplier's figure.")),
  WB_ENUM (WbWax, max_load_basis, wb_basis_words, .label = N_("That share is")),
  WB_REAL (WbWax, melt_c, TEMPERATURE, 20, 150, .label = N_("Melts at")),
  WB_REAL (WbWax, heat_c, TEMPERATURE, 20, 150, .label = N_("Heat the melt to"),
           .hint = N_("Use a double boiler or a thermostat, and a thermometer; never leave it.")),
  WB_REAL (WbWax, add_c, TEMPERATURE, 20, 150, .label = N_("Fragrance goes in at")),
  WB_REAL (WbWax, pour_c, TEMPERATURE, 20, 150, .label = N_("Pour at")),
  WB_REAL (WbWax, burn_cure_days, PLAIN, 0, 400, .label = N_("Days until fit to burn")),
  WB_REAL (WbWax, smell_cure_days, PLAIN, 0, 400, .label = N_("Days until fit to smell")),
  WB_FLAG (WbWax, crystallises, .label = N_("Crystallises: cool slowly, pierce and top up")),
  WB_REAL (WbWax, hold_back_pct, PERCENT, 0, 50, .label = N_("Kept for the second pour")),
  WB_NAME (WbWax, supplier, .label = N_("Supplier")),
  WB_NOTE (WbWax, note, .label = N_("Note")),
};

const WbRecordType wb_wax_type = WB_TYPE (WbWax, "wax", N_("Wax"), wax_fields);

static const WbFieldSpec wick_fields[] = {
  WB_NAME (WbWick, series, .required = TRUE, .label = N_("Series")),
  WB_NAME (WbWick, size, .required = TRUE, .label = N_("Size")),
  WB_INTEGER (WbWick, step, 1, G_MAXINT32, .label = N_("Step"), .hint = N_("Its place in the series, the smallest is 1.")),
  WB_ENUM (WbWick, kind, wick_kind_words, .label = N_("Kind")),
  WB_NAME (WbWick, priming, .label = N_("Priming")),
  WB_REAL (WbWick, tab_mm, LENGTH, 0, 100, .label = N_("Diameter of the tab")),
  WB_REAL (WbWick, collar_mm, LENGTH, 0, 50, .label = N_("Height of the collar"),
           .hint = N_("The flame goes out there: a safety part of the wick.")),
  WB_NAME (WbWick, supplier, .label = N_("Supplier")),
  WB_NOTE (WbWick, note, .label = N_("Note")),
};

const WbRecordType wb_wick_type = WB_TYPE (WbWick, "wick", N_("Wick"), wick_fields);

static const WbFieldSpec wick_guide_fields[] = {
  WB_REFERENCE (WbWickGuide, wick, &wb_wick_type, .required = TRUE, .label = N_("Wick")),
  WB_REFERENCE (WbWickGuide, wax, &wb_wax_type, .label = N_("Wax"), .hint = N_("Empty: for any wax.")),
  WB_REAL (WbWickGuide, from_mm, LENGTH, 5, 400, .required = TRUE, .label = N_("From diameter")),
  WB_REAL (WbWickGuide, to_mm, LENGTH, 5, 400, .required = TRUE, .label = N_("To diameter")),
  WB_NOTE (WbWickGuide, note, .label = N_("Note")),
};

const WbRecordType wb_wick_guide_type = WB_TYPE (WbWickGuide, "wick_guide", N_("Supplier's recommendation"), wick_guide_fields);

static const WbFieldSpec fragrance_fields[] = {
  WB_NAME (WbFragrance, name, .required = TRUE, .label = N_("Name")),
  WB_FLAG (WbFragrance, blend, .label = N_("A blend of others")),
  WB_REAL (WbFragrance, flash_c, TEMPERATURE, -50, 400, .label = N_("Flash point")),
  WB_REAL (WbFragrance, ifra_limit_pct, PERCENT, 0, 100, .label = N_("IFRA limit, category 12"),
           .hint = N_("From the supplier's certificate, per cent of the finished product.")),
  WB_REAL (WbFragrance, density, DENSITY, 0.5, 1.5, .label = N_("Density")),
  WB_REAL (WbFragrance, burn_cure_days, PLAIN, 0, 400, .label = N_("Days until fit to burn"), .hint = N_("Empty: as the wax says.")),
  WB_REAL (WbFragrance, smell_cure_days, PLAIN, 0, 400, .label = N_("Days until fit to smell"), .hint = N_("Empty: as the wax says.")),
  WB_NAME (WbFragrance, supplier, .label = N_("Supplier")),
  WB_NOTE (WbFragrance, note, .label = N_("Note")),
};

const WbRecordType wb_fragrance_type = WB_TYPE (WbFragrance, "fragrance", N_("Fragrance"), fragrance_fields);

static const WbFieldSpec fragrance_part_fields[] = {
  WB_REFERENCE (WbFragrancePart, fragrance, &wb_fragrance_type, .required = TRUE, .label = N_("Blend")),
  WB_REFERENCE (WbFragrancePart, part, &wb_fragrance_type, .required = TRUE, .label = N_("Fragrance")),
  WB_REAL (WbFragrancePart, share_pct, PERCENT, 0, 100, .required = TRUE, .label = N_("Share")),
};

const WbRecordType wb_fragrance_part_type = WB_TYPE (WbFragrancePart, "fragrance_part", N_("Part of a blend"), fragrance_part_fields);

static const WbFieldSpec dye_fields[] = {
  WB_NAME (WbDye, name, .required = TRUE, .label = N_("Name")),
  WB_ENUM (WbDye, form, dye_form_words, .label = N_("Form")),
  WB_REAL (WbDye, drop_g, MASS, 0.001, 1, .label = N_("Mass of a drop")),
  WB_NAME (WbDye, supplier, .label = N_("Supplier")),
  WB_NOTE (WbDye, note, .label = N_("Note")),
};

const WbRecordType wb_dye_type = WB_TYPE (WbDye, "dye", N_("Dye"), dye_fields);

static const WbFieldSpec additive_fields[] = {
  WB_NAME (WbAdditive, name, .required = TRUE, .label = N_("Name")),
  WB_REAL (WbAdditive, usual_pct, PERCENT, 0, 50, .label = N_("Usual share of the wax")),
  WB_NAME (WbAdditive, supplier, .label = N_("Supplier")),
  WB_NOTE (WbAdditive, note, .label = N_("Note")),
};

const WbRecordType wb_additive_type = WB_TYPE (WbAdditive, "additive", N_("Additive"), additive_fields);

static const WbFieldSpec lot_fields[] = {
  WB_REFERENCE (WbLot, material, NULL, .required = TRUE),
  WB_NAME (WbLot, code, .required = TRUE, .label = N_("Lot")),
  WB_PLAIN (WbLot, received_on, DAY, .label = N_("Received on")),
  WB_FLAG (WbLot, used_up, .label = N_("Used up")),
  WB_REAL (WbLot, amount, PLAIN, 0, 1e9, .label = N_("Received"), .hint = N_("In g; of vessels and wicks in pieces.")),
  WB_REAL (WbLot, price, PLAIN, 0, 1e9, .label = N_("Price of all of it")),
  WB_NOTE (WbLot, note, .label = N_("Note")),
};

const WbRecordType wb_lot_type = WB_TYPE (WbLot, "lot", N_("Lot"), lot_fields);

const WbWord wb_step_words[] = {
  [WB_STEP_PREHEAT] = { "preheat", N_("warm the vessels") },
  [WB_STEP_HEAT] = { "heat", N_("heat the wax") },
  [WB_STEP_DYE] = { "dye", N_("dye and additive in") },
  [WB_STEP_FRAGRANCE] = { "fragrance", N_("fragrance in") },
  [WB_STEP_STIR] = { "stir", N_("stir") },
  [WB_STEP_COOL] = { "cool", N_("let cool") },
  [WB_STEP_POUR] = { "pour", N_("pour") },
  [WB_STEP_INSULATE] = { "insulate", N_("insulate") },
  [WB_STEP_PIERCE] = { "pierce", N_("pierce beside the wick") },
  [WB_STEP_TOP_UP] = { "top_up", N_("top up") },
  [WB_STEP_TURN_OVER] = { "turn_over", N_("turn over") },
  [WB_STEP_SET] = { "set", N_("let set") },
  [WB_STEP_CURE] = { "cure", N_("cure") },
  [WB_STEP_OTHER] = { "other", N_("other") },
  { NULL, NULL }
};

static const WbFieldSpec method_step_fields[] = {
  WB_REFERENCE (WbMethodStep, wax, &wb_wax_type, .required = TRUE),
  WB_INTEGER (WbMethodStep, position, 1, 1000, .required = TRUE),
  WB_ENUM (WbMethodStep, kind, wb_step_words, .required = TRUE, .label = N_("Step")),
  WB_REAL (WbMethodStep, to_c, TEMPERATURE, -10, 200, .label = N_("At")),
  WB_REAL (WbMethodStep, minutes, PLAIN, 0, 100000, .label = N_("Minutes")),
  WB_NOTE (WbMethodStep, note, .label = N_("How")),
};

const WbRecordType wb_method_step_type = WB_TYPE (WbMethodStep, "method_step", N_("Step of a wax's method"), method_step_fields);

static char *
dup_vessel_title (const WbVessel *vessel)
{
  if (isnan (vessel->inner_diameter_mm))
    return g_strdup (vessel->name);

  g_autofree char *number = wb_number_format_trimmed (vessel->inner_diameter_mm, 1, NULL);

  return g_strdup_printf ("%s, %s\302\240mm", vessel->name, number);
}

double
wb_wax_get_burn_wait_days (const WbWax *wax)
{
  return wax != NULL && !isnan (wax->burn_cure_days) ? wax->burn_cure_days : SETTING_DAYS;
}

char *
wb_material_dup_title (gconstpointer material)
{
  g_return_val_if_fail (material != NULL, NULL);

  const WbRecordType *type = ((const WbRecord *) material)->type;
  const WbFieldSpec *name = wb_record_type_find_field (type, "name");

  if (type == &wb_vessel_type)
    return dup_vessel_title (material);
  if (type == &wb_wick_type)
    return g_strdup_printf ("%s %s", ((const WbWick *) material)->series, ((const WbWick *) material)->size);
  if (type == &wb_lot_type)
    return g_strdup (((const WbLot *) material)->code);
  g_return_val_if_fail (name != NULL, NULL);
  return g_strdup (wb_record_get_text (material, name));
}
