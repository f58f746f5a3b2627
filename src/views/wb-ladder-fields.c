/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-ladder-fields.h"

#include "wb-craft-ladder.h"

#include <glib/gi18n.h>
#include <math.h>

#define NARROWEST_MM 20.0
#define WIDEST_MM    400.0
#define LOAD_MOST    30.0
#define ROOM_MOST_C  45.0
#define SIZES_MOST   9
/* To begin with, where no experiment says another load; common practice, no source. */
#define USUAL_LOAD   6.0
#define USUAL_SIZES  3
/* Of what is wrong with a field, a line of it below the field. */
#define PROBLEM_CHARS 18

static const struct
{
  const char *label;
  WbQuantity  quantity;
  WbUnit      unit;
  double      low, high, value;
  int         characters;
  gboolean    whole;
} fields[WB_LADDER_N_FIELDS] = {
  [WB_LADDER_INNER] = { N_("Inner diameter"), WB_QUANTITY_LENGTH, WB_UNIT_MM, NARROWEST_MM, WIDEST_MM, NAN, 6, FALSE },
  [WB_LADDER_LOAD] = { N_("Fragrance load"), WB_QUANTITY_PERCENT, WB_UNIT_PERCENT, 0, LOAD_MOST, USUAL_LOAD, 4, FALSE },
  [WB_LADDER_WICKS] = { N_("Wicks in it"), WB_QUANTITY_PLAIN, WB_UNIT_NONE, 1, WB_LADDER_MOST_WICKS, 1, 3, TRUE },
  [WB_LADDER_SIZES] = { N_("Sizes to buy"), WB_QUANTITY_PLAIN, WB_UNIT_NONE, 1, SIZES_MOST, USUAL_SIZES, 3, TRUE },
  [WB_LADDER_COLD] = { N_("Coldest room"), WB_QUANTITY_TEMPERATURE, WB_UNIT_CELSIUS, 0, ROOM_MOST_C, WB_CRAFT_ROOM_COLD_C, 4, FALSE },
  [WB_LADDER_WARM] = { N_("Warmest room"), WB_QUANTITY_TEMPERATURE, WB_UNIT_CELSIUS, 0, ROOM_MOST_C, WB_CRAFT_ROOM_WARM_C, 4, FALSE },
};

WbQuantityEntry *
wb_ladder_field_new (WbLadderField field)
{
  WbQuantityEntry *entry = WB_QUANTITY_ENTRY (wb_quantity_entry_new (fields[field].quantity, fields[field].unit));

  wb_quantity_entry_set_width_chars (entry, fields[field].characters);
  wb_quantity_entry_set_label (entry, _(fields[field].label));
  wb_quantity_entry_set_range (entry, fields[field].low, fields[field].high);
  wb_quantity_entry_set_required (entry, TRUE);
  wb_quantity_entry_set_integer (entry, fields[field].whole);
  wb_quantity_entry_set_problem_chars (entry, PROBLEM_CHARS);
  if (isfinite (fields[field].value))
    wb_quantity_entry_set_value (entry, fields[field].value);
  return entry;
}

gboolean
wb_ladder_fields_check (WbQuantityEntry *const *entries,
                        gboolean                no_diameter)
{
  gboolean right = TRUE;

  for (WbLadderField field = 0; field < WB_LADDER_N_FIELDS; field++)
    if (field != WB_LADDER_INNER || !no_diameter)
      right = wb_quantity_entry_check (entries[field]) && right;
  if (right && wb_quantity_entry_get_value (entries[WB_LADDER_COLD]) > wb_quantity_entry_get_value (entries[WB_LADDER_WARM]))
    {
      wb_quantity_entry_set_problem (entries[WB_LADDER_COLD], _("The coldest room is warmer than the warmest."));
      right = FALSE;
    }
  return right;
}
