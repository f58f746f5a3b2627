/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-wax-check.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-quantity.h"

static char *
temperature (double   c,
             gboolean us_units)
{
  return isnan (c) ? g_strdup ("") : wb_quantity_format (wb_quantity_get_shown_unit (WB_QUANTITY_TEMPERATURE, us_units), c, 0);
}

WbCraftWaxHeat
wb_craft_wax_heat_of (const WbWax *wax)
{
  g_return_val_if_fail (wax != NULL, ((WbCraftWaxHeat) { NAN, NAN, NAN }));
  return (WbCraftWaxHeat) { wax->heat_c, wax->add_c, wax->pour_c };
}

char *
wb_craft_wax_dup_doubt (const WbCraftWaxHeat *heat,
                        double                melt_c,
                        gboolean              scented,
                        gboolean              us_units,
                        const char          **field)
{
  g_autofree char *hot = NULL, *add = NULL, *pour = NULL, *melt = NULL;
  const char *ignored;

  g_return_val_if_fail (heat != NULL, NULL);

  field = field != NULL ? field : &ignored;
  *field = NULL;
  hot = temperature (heat->heat_c, us_units);
  add = temperature (heat->add_c, us_units);
  pour = temperature (heat->pour_c, us_units);
  melt = temperature (melt_c, us_units);
  /* what is not known is never less or more */
  if (heat->heat_c < melt_c)
    {
      *field = "heat_c";
      return g_strdup_printf (_("The wax melts at %s and is to be heated to %s only."), melt, hot);
    }
  if (scented && heat->add_c < melt_c)
    {
      *field = "add_c";
      return g_strdup_printf (_("The fragrance is to go in at %s, where the wax is solid: it melts at %s."), add, melt);
    }
  if (scented && heat->add_c > heat->heat_c)
    {
      *field = "add_c";
      return g_strdup_printf (_("The fragrance is to go in at %s, hotter than the wax is heated to, %s."), add, hot);
    }
  if (heat->pour_c > heat->heat_c)
    {
      *field = "pour_c";
      return g_strdup_printf (_("It is to be poured at %s, hotter than the wax is heated to, %s."), pour, hot);
    }
  return NULL;
}
