/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-quantity.h"
#include "wb-quantity-private.h"

#include <math.h>
#include <string.h>

#define NO_BREAK_SPACE "\u00a0"

/*
 * stored = value * factor / divisor + offset, and each is exact as a decimal:
 * the inch is 25.4 mm, the avoirdupois pound 453.59237 g and an ounce its 16th
 * (international yard and pound agreement, 1959), the US gallon 231 cubic
 * inches and its fluid ounce the 128th part, the imperial gallon 4.54609 l and
 * its fluid ounce the 160th part.
 */
static const struct
{
  WbQuantity quantity;
  const char *symbol;
  double factor;
  double divisor;
  double zero; /* value of the unit's scale at which the stored scale reads 0 */
  int decimals;
} units[WB_N_UNITS] = {
  [WB_UNIT_MM] = { WB_QUANTITY_LENGTH, "mm", 1, 1, 0, 1 },
  [WB_UNIT_CM] = { WB_QUANTITY_LENGTH, "cm", 10, 1, 0, 2 },
  [WB_UNIT_M] = { WB_QUANTITY_LENGTH, "m", 1000, 1, 0, 3 },
  [WB_UNIT_INCH] = { WB_QUANTITY_LENGTH, "in", 25.4, 1, 0, 2 },
  [WB_UNIT_G] = { WB_QUANTITY_MASS, "g", 1, 1, 0, 1 },
  [WB_UNIT_KG] = { WB_QUANTITY_MASS, "kg", 1000, 1, 0, 3 },
  [WB_UNIT_OZ] = { WB_QUANTITY_MASS, "oz", 28.349523125, 1, 0, 2 },
  [WB_UNIT_LB] = { WB_QUANTITY_MASS, "lb", 453.59237, 1, 0, 3 },
  [WB_UNIT_CELSIUS] = { WB_QUANTITY_TEMPERATURE, "°C", 1, 1, 0, 1 },
  [WB_UNIT_FAHRENHEIT] = { WB_QUANTITY_TEMPERATURE, "°F", 5, 9, 32, 1 },
  [WB_UNIT_KELVIN_DIFFERENCE] = { WB_QUANTITY_TEMPERATURE_DIFFERENCE, "°C", 1, 1, 0, 1 },
  [WB_UNIT_FAHRENHEIT_DIFFERENCE] = { WB_QUANTITY_TEMPERATURE_DIFFERENCE, "°F", 5, 9, 0, 1 },
  [WB_UNIT_SECOND] = { WB_QUANTITY_DURATION, "s", 1, 1, 0, 0 },
  [WB_UNIT_MINUTE] = { WB_QUANTITY_DURATION, "min", 60, 1, 0, 0 },
  [WB_UNIT_HOUR] = { WB_QUANTITY_DURATION, "h", 3600, 1, 0, 2 },
  [WB_UNIT_DAY] = { WB_QUANTITY_DURATION, "d", 86400, 1, 0, 1 },
  [WB_UNIT_PERCENT] = { WB_QUANTITY_PERCENT, "%", 1, 1, 0, 1 },
  [WB_UNIT_ML] = { WB_QUANTITY_VOLUME, "ml", 1, 1, 0, 1 },
  [WB_UNIT_L] = { WB_QUANTITY_VOLUME, "l", 1000, 1, 0, 3 },
  [WB_UNIT_FL_OZ_US] = { WB_QUANTITY_VOLUME, "fl oz", 29.5735295625, 1, 0, 2 },
  [WB_UNIT_FL_OZ_IMP] = { WB_QUANTITY_VOLUME, "imp fl oz", 28.4130625, 1, 0, 2 },
  [WB_UNIT_G_PER_CM3] = { WB_QUANTITY_DENSITY, "g/cm³", 1, 1, 0, 3 },
  [WB_UNIT_G_PER_H] = { WB_QUANTITY_MASS_RATE, "g/h", 1, 1, 0, 2 },
  [WB_UNIT_OZ_PER_H] = { WB_QUANTITY_MASS_RATE, "oz/h", 28.349523125, 1, 0, 3 },
  [WB_UNIT_NONE] = { WB_QUANTITY_PLAIN, "", 1, 1, 0, 2 },
};

static const WbUnit stored_units[WB_N_QUANTITIES] = {
  [WB_QUANTITY_LENGTH] = WB_UNIT_MM,
  [WB_QUANTITY_MASS] = WB_UNIT_G,
  [WB_QUANTITY_TEMPERATURE] = WB_UNIT_CELSIUS,
  [WB_QUANTITY_TEMPERATURE_DIFFERENCE] = WB_UNIT_KELVIN_DIFFERENCE,
  [WB_QUANTITY_DURATION] = WB_UNIT_SECOND,
  [WB_QUANTITY_PERCENT] = WB_UNIT_PERCENT,
  [WB_QUANTITY_VOLUME] = WB_UNIT_ML,
  [WB_QUANTITY_DENSITY] = WB_UNIT_G_PER_CM3,
  [WB_QUANTITY_MASS_RATE] = WB_UNIT_G_PER_H,
  [WB_QUANTITY_PLAIN] = WB_UNIT_NONE,
};

static gboolean
is_unit (WbUnit unit)
{
  return (int) unit >= 0 && unit < WB_N_UNITS;
}

WbQuantity
wb_unit_get_quantity (WbUnit unit)
{
  g_return_val_if_fail (is_unit (unit), WB_QUANTITY_PLAIN);

  return units[unit].quantity;
}

const char *
wb_unit_get_symbol (WbUnit unit)
{
  g_return_val_if_fail (is_unit (unit), "");

  return units[unit].symbol;
}

int
wb_unit_get_decimals (WbUnit unit)
{
  g_return_val_if_fail (is_unit (unit), 0);

  return units[unit].decimals;
}

WbUnit
wb_quantity_get_stored_unit (WbQuantity quantity)
{
  g_return_val_if_fail ((int) quantity >= 0 && quantity < WB_N_QUANTITIES, WB_UNIT_NONE);

  return stored_units[quantity];
}

WbUnit
wb_quantity_get_shown_unit (WbQuantity quantity, gboolean us_units)
{
  g_return_val_if_fail ((int) quantity >= 0 && quantity < WB_N_QUANTITIES, WB_UNIT_NONE);

  if (!us_units)
    return stored_units[quantity];
  switch (quantity)
    {
    case WB_QUANTITY_LENGTH:
      return WB_UNIT_INCH;
    case WB_QUANTITY_MASS:
      return WB_UNIT_OZ;
    case WB_QUANTITY_TEMPERATURE:
      return WB_UNIT_FAHRENHEIT;
    case WB_QUANTITY_TEMPERATURE_DIFFERENCE:
      return WB_UNIT_FAHRENHEIT_DIFFERENCE;
    case WB_QUANTITY_VOLUME:
      return WB_UNIT_FL_OZ_US;
    case WB_QUANTITY_MASS_RATE:
      return WB_UNIT_OZ_PER_H;
    default:
      return stored_units[quantity];
    }
}

gboolean
wb_quantity_takes_unit (WbQuantity quantity, WbUnit unit)
{
  return wb_unit_get_quantity (unit) == quantity || (quantity == WB_QUANTITY_DENSITY && unit == WB_UNIT_NONE);
}

double
wb_unit_to_stored (WbUnit unit, double value)
{
  g_return_val_if_fail (is_unit (unit), value);

  return (value - units[unit].zero) * units[unit].factor / units[unit].divisor;
}

double
wb_unit_from_stored (WbUnit unit, double stored)
{
  g_return_val_if_fail (is_unit (unit), stored);

  return stored * units[unit].divisor / units[unit].factor + units[unit].zero;
}

char *
wb_quantity_format_number (WbUnit unit, double stored, int decimals)
{
  g_return_val_if_fail (is_unit (unit), g_strdup (""));

  double value = wb_unit_from_stored (unit, stored);
  /* A count has no places, a score has: the plain number shows what it has of two. */
  if (decimals < 0 && unit == WB_UNIT_NONE)
    return wb_number_format_trimmed (value, units[unit].decimals, NULL);
  return wb_number_format (value, decimals < 0 ? units[unit].decimals : decimals, NULL);
}

char *
wb_quantity_format (WbUnit unit, double stored, int decimals)
{
  g_return_val_if_fail (is_unit (unit), g_strdup (""));

  g_autofree char *number = wb_quantity_format_number (unit, stored, decimals);
  gboolean plus = units[unit].quantity == WB_QUANTITY_TEMPERATURE_DIFFERENCE
                  && number[0] != '-' && strpbrk (number, "123456789") != NULL;
  const char *symbol = units[unit].symbol;

  return g_strconcat (plus ? "+" : "", number, *symbol != '\0' ? NO_BREAK_SPACE : "", symbol, NULL);
}

char *
wb_quantity_format_duration (double seconds)
{
  g_return_val_if_fail (isfinite (seconds) && fabs (seconds) < 1e12, g_strdup (""));

  gint64 whole = (gint64) (fabs (seconds) + 0.5);
  gint64 parts[] = { whole / 3600, whole / 60 % 60, whole % 60 };
  const WbUnit part_units[] = { WB_UNIT_HOUR, WB_UNIT_MINUTE, WB_UNIT_SECOND };
  g_autoptr (GString) out = g_string_new (seconds < 0 && whole > 0 ? "-" : "");

  for (gsize i = 0; i < G_N_ELEMENTS (parts); i++)
    {
      gboolean nothing_yet = out->len == 0 && i == G_N_ELEMENTS (parts) - 1;
      if (parts[i] == 0 && !nothing_yet)
        continue;
      g_autofree char *number = wb_number_format ((double) parts[i], 0, NULL);
      g_string_append_printf (out, "%s%s" NO_BREAK_SPACE "%s", out->len > 1 ? " " : "", number,
                              units[part_units[i]].symbol);
    }
  return g_string_free (g_steal_pointer (&out), FALSE);
}

/*
 * G. S. Kell, J. Chem. Eng. Data 20 (1975) 97, equation for air-free water at
 * 101.325 kPa. Some reprints swap two digits of the denominator, 16.8978e-3:
 * that one is 0.07 kg/m3 off at 4 degC.
 */
double
wb_water_density (double celsius)
{
  static const double numerator[] = {
    999.83952, 16.945176, -7.9870401e-3, -46.170461e-6, 105.56302e-9, -280.54253e-12,
  };
  double t = celsius;
  double sum = 0;

  if (!(t >= 0 && t <= 99))
    return NAN;
  for (int i = G_N_ELEMENTS (numerator) - 1; i >= 0; i--)
    sum = sum * t + numerator[i];
  return sum / (1 + 16.879850e-3 * t) / 1000;
}
