/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-doubt-words.h"

#include <glib/gi18n.h>
#include <math.h>

static char *
dup_value (const WbCraftDoubt *doubt,
           double              value,
           gboolean            us_units)
{
  WbQuantity quantity;

  if (doubt->kind == WB_CRAFT_DOUBT_FUTURE || doubt->kind == WB_CRAFT_DOUBT_AFTER_BURN)
    return wb_day_format_local ((WbDay) value);
  if (doubt->kind == WB_CRAFT_DOUBT_SLOW || doubt->kind == WB_CRAFT_DOUBT_FAST)
    return wb_quantity_format (wb_quantity_get_shown_unit (WB_QUANTITY_MASS_RATE, us_units), value, -1);
  if (doubt->kind == WB_CRAFT_DOUBT_EARLY)
    return wb_quantity_format_duration (ceil (value) * 60);
  if (doubt->column == WB_N_COLUMNS)
    return wb_quantity_format_duration (value * 60);
  quantity = wb_column_get_spec (doubt->column)->quantity;
  return wb_quantity_format (wb_quantity_get_shown_unit (quantity, us_units), value, -1);
}

char *
wb_doubt_words_dup (const WbCraftDoubt *doubt,
                    gboolean            us_units)
{
  g_autofree char *value = NULL, *bound = NULL;
  const char *label;

  g_return_val_if_fail (doubt != NULL, NULL);

  value = dup_value (doubt, doubt->value, us_units);
  bound = dup_value (doubt, doubt->bound, us_units);
  label = doubt->column < WB_N_COLUMNS ? _(wb_column_get_spec (doubt->column)->label) : "";
  switch (doubt->kind)
    {
    case WB_CRAFT_DOUBT_BELOW_VESSEL:
      return g_strdup_printf (_("%s is less than the empty vessel's %s."), value, bound);
    case WB_CRAFT_DOUBT_ABOVE_FILL:
      return g_strdup_printf (_("%s is more than vessel and fill together, %s."), value, bound);
    case WB_CRAFT_DOUBT_GAINED:
      return g_strdup_printf (_("It weighed %s; %s now. A candle that burns grows lighter."), bound, value);
    case WB_CRAFT_DOUBT_HALVED:
      return g_strdup_printf (_("It weighed %s; %s now."), bound, value);
    case WB_CRAFT_DOUBT_SLOW:
      return g_strdup_printf (_("By that mass it burns %s. Hardly a wick burns less than %s in all: was it weighed with its lid, or another one?"), value, bound);
    case WB_CRAFT_DOUBT_FAST:
      return g_strdup_printf (_("By that mass it burns %s. Hardly a wick burns more than %s in all: was it another one, or was wax poured off?"), value, bound);
    case WB_CRAFT_DOUBT_DEEP:
      return g_strdup_printf (_("A pool %s deep; the wax stood %s high when it was lit."), value, bound);
    case WB_CRAFT_DOUBT_EARLY:
      return g_strdup_printf (_("A full melt pool %s after lighting: hardly one comes before %s."), value, bound);
    case WB_CRAFT_DOUBT_HOT:
    case WB_CRAFT_DOUBT_COLD:
      return g_strdup_printf (_("%s: %s. Was it read in this unit?"), label, value);
    case WB_CRAFT_DOUBT_LEAP:
      return g_strdup_printf (_("%s: it was %s; %s now."), label, bound, value);
    case WB_CRAFT_DOUBT_TALL:
      return g_strdup_printf (_("%s: %s. Hardly a candle's flame is taller than %s."), label, value, bound);
    case WB_CRAFT_DOUBT_DECIMAL:
      return g_strdup_printf (_("%s: %s, and %s beside it in the same burn. Is the point in its place?"), label, value, bound);
    case WB_CRAFT_DOUBT_SHRUNK:
      return g_strdup_printf (_("The pool was %s; %s now. A pool grows while the candle burns."), bound, value);
    case WB_CRAFT_DOUBT_SWOLLEN:
      return g_strdup_printf (_("The pool is %s; %s after it. A pool grows while the candle burns."), value, bound);
    case WB_CRAFT_DOUBT_MISPLACED:
      return g_strdup_printf (_("That is %s after lighting; the reading beside it in the log was %s after it."), value, bound);
    case WB_CRAFT_DOUBT_ENDED:
      return g_strdup_printf (_("That is %s after lighting; the flame went out %s after it."), value, bound);
    case WB_CRAFT_DOUBT_EARLIER:
      return g_strdup_printf (_("That is %s after lighting; the last reading was %s after it."), value, bound);
    case WB_CRAFT_DOUBT_LONG:
      return g_strdup_printf (_("That is %s after lighting."), value);
    case WB_CRAFT_DOUBT_AGAIN:
      return g_strdup_printf (_("The throw of this burn was rated %s not more than a minute apart; %s now. Both would stand in the record."), bound, value);
    case WB_CRAFT_DOUBT_FUTURE:
      return g_strdup_printf (_("%s is yet to come."), value);
    case WB_CRAFT_DOUBT_AFTER_BURN:
      return g_strdup_printf (_("Poured on %s, and burnt on %s already."), value, bound);
    case WB_N_CRAFT_DOUBTS:
    default:
      g_return_val_if_reached (NULL);
    }
}

char *
wb_doubt_words_dup_all (const GArray *doubts,
                        gboolean      us_units)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < doubts->len; i++)
    {
      g_autofree char *words = wb_doubt_words_dup (&g_array_index (doubts, WbCraftDoubt, i), us_units);

      g_string_append_printf (text, "%s%s", i > 0 ? "\n" : "", words);
    }
  return g_string_free (text, FALSE);
}
