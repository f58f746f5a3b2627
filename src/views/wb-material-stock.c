/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-material-stock.h"

#include "wb-material.h"

#include <glib/gi18n.h>
#include <math.h>

#define MONEY_PLACES 2
#define G_PER_KG 1000.0

char *
wb_material_stock_dup_money (double            money,
                             const WbNotebook *settings)
{
  g_autofree char *number = wb_number_format (money, MONEY_PLACES, NULL);

  g_return_val_if_fail (settings != NULL, NULL);
  return settings->currency != NULL ? g_strdup_printf ("%s\302\240%s", number, settings->currency) : g_steal_pointer (&number);
}

WbUnit
wb_material_stock_get_unit (const WbRecordType *type,
                            gboolean            us_units)
{
  if (type == &wb_vessel_type || type == &wb_wick_type)
    return WB_UNIT_NONE;
  if (type == &wb_wax_type)
    return us_units ? WB_UNIT_LB : WB_UNIT_KG;
  return us_units ? WB_UNIT_OZ : WB_UNIT_G;
}

static gboolean
is_counted (gconstpointer material)
{
  return wb_material_stock_get_unit (((const WbRecord *) material)->type, FALSE) == WB_UNIT_NONE;
}

void
wb_material_stock_set_form (WbRecordForm       *form,
                            const WbRecordType *type,
                            const WbNotebook   *settings)
{
  WbUnit unit;

  g_return_if_fail (WB_IS_RECORD_FORM (form));
  g_return_if_fail (type != NULL && settings != NULL);

  unit = wb_material_stock_get_unit (type, settings->us_units);
  wb_record_form_set_unit (form, "amount", unit, unit == WB_UNIT_NONE ? _("pieces") : NULL,
                           unit == WB_UNIT_NONE ? "" : _("Another unit may be written behind it: 500 g, 2 lb."));
  wb_record_form_set_unit (form, "price", WB_UNIT_NONE, settings->currency, "");
}

char *
wb_material_stock_dup_amount (gconstpointer material,
                              double        amount,
                              gboolean      us_units)
{
  g_return_val_if_fail (material != NULL, NULL);

  if (is_counted (material))
    {
      g_autofree char *number = wb_number_format_trimmed (amount, 1, NULL);

      return g_strdup_printf (ngettext ("%s piece", "%s pieces", (gulong) ceil (amount)), number);
    }
  return wb_quantity_format (wb_material_stock_get_unit (((const WbRecord *) material)->type, us_units), amount, -1);
}

static char *
dup_price (gconstpointer     material,
           double            price,
           const WbNotebook *settings)
{
  double unit = is_counted (material) ? 1.0 : settings->us_units ? wb_unit_to_stored (WB_UNIT_LB, 1.0) : G_PER_KG;
  g_autofree char *money = wb_material_stock_dup_money (price * unit, settings);

  if (is_counted (material))
    return g_strdup_printf (_("%s a piece"), money);
  return g_strdup_printf (settings->us_units ? _("%s a lb") : _("%s a kg"), money);
}

char *
wb_material_stock_dup_words (gconstpointer       material,
                             const WbCraftStock *stock,
                             const WbNotebook   *settings)
{
  gint64 id;
  double left, price, unnamed;
  g_autoptr (GString) text = g_string_new (NULL);

  g_return_val_if_fail (material != NULL && stock != NULL && settings != NULL, NULL);

  id = ((const WbRecord *) material)->id;
  left = wb_craft_stock_get_left (stock, id);
  price = wb_craft_stock_get_price (stock, id);
  unnamed = wb_craft_stock_get_unnamed (stock, id);
  if (isnan (left))
    g_string_append (text, _("How much is left is not known: write into a lot how much was received."));
  else
    {
      g_autofree char *amount = wb_material_stock_dup_amount (material, left, settings->us_units);

      g_string_append_printf (text, _("Left: %s"), amount);
    }
  if (!isnan (price))
    {
      g_autofree char *words = dup_price (material, price, settings);

      g_string_append_printf (text, "%s%s", isnan (left) ? " " : " · ", words);
    }
  if (unnamed > 0)
    {
      g_autofree char *amount = wb_material_stock_dup_amount (material, unnamed, settings->us_units);

      g_string_append_printf (text, isnan (left) ? _("\nPoured without naming a lot: %s") : _("\nPoured without naming a lot, and taken off: %s"), amount);
    }
  return g_strdup (text->str);
}
