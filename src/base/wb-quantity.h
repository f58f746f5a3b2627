/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-number.h"

G_BEGIN_DECLS

/*
 * Quantities are stored in one unit each: g, mm, degrees Celsius, seconds,
 * per cent, g/cm3, g/h, ml. What a person reads and types is a unit of the
 * same quantity. A temperature difference is not a temperature.
 */

typedef enum
{
  WB_QUANTITY_LENGTH,                 /* stored mm */
  WB_QUANTITY_MASS,                   /* stored g */
  WB_QUANTITY_TEMPERATURE,            /* stored degC */
  WB_QUANTITY_TEMPERATURE_DIFFERENCE, /* stored K */
  WB_QUANTITY_DURATION,               /* stored s */
  WB_QUANTITY_PERCENT,                /* stored % */
  WB_QUANTITY_VOLUME,                 /* stored ml */
  WB_QUANTITY_DENSITY,                /* stored g/cm3; also a specific gravity, unit "" */
  WB_QUANTITY_MASS_RATE,              /* stored g/h */
  WB_QUANTITY_PLAIN,                  /* a rating, a count: no unit */
  WB_N_QUANTITIES
} WbQuantity;

typedef enum
{
  WB_UNIT_MM, WB_UNIT_CM, WB_UNIT_M, WB_UNIT_INCH,
  WB_UNIT_G, WB_UNIT_KG, WB_UNIT_OZ, WB_UNIT_LB,
  WB_UNIT_CELSIUS, WB_UNIT_FAHRENHEIT,
  WB_UNIT_KELVIN_DIFFERENCE, WB_UNIT_FAHRENHEIT_DIFFERENCE, /* shown as "°C" and "°F" with a sign */
  WB_UNIT_SECOND, WB_UNIT_MINUTE, WB_UNIT_HOUR, WB_UNIT_DAY,
  WB_UNIT_PERCENT,
  WB_UNIT_ML, WB_UNIT_L, WB_UNIT_FL_OZ_US, WB_UNIT_FL_OZ_IMP,
  WB_UNIT_G_PER_CM3,
  WB_UNIT_G_PER_H, WB_UNIT_OZ_PER_H,
  WB_UNIT_NONE,
  WB_N_UNITS
} WbUnit;

/* What the unit measures. */
WbQuantity  wb_unit_get_quantity (WbUnit unit);
/* As written behind a number ("mm", "in", "°F"); static, UTF-8, untranslated. */
const char *wb_unit_get_symbol   (WbUnit unit);
/* Stored unit of a quantity. */
WbUnit      wb_quantity_get_stored_unit (WbQuantity quantity);
/* What people read and type: the stored unit, or the US customary one where they want those and the quantity has one. */
WbUnit      wb_quantity_get_shown_unit (WbQuantity quantity, gboolean us_units);
/* A value of this unit in the stored unit of its quantity, and back; temperatures with their zero. */
double      wb_unit_to_stored    (WbUnit unit, double value);
double      wb_unit_from_stored  (WbUnit unit, double stored);

/*
 * Reads "54", "54 mm", "5,4 cm", "2 1/8 in", "2 1/8\"", "180 F", "1 h 20 min", "1:20".
 * `unit` is the unit of a bare number. Point and comma are both a decimal sign;
 * grouping is never accepted. Writes the stored value. Errors: WB_NUMBER_ERROR.
 */
gboolean wb_quantity_parse  (WbQuantity quantity, WbUnit unit, const char *text, double *stored, GError **error);
/* Number and unit, e.g. "54.2 mm", with a no-break space; decimals below 0: the usual number of places of the unit. */
char    *wb_quantity_format (WbUnit unit, double stored, int decimals);
/* The number alone, for fields and axes. */
char    *wb_quantity_format_number (WbUnit unit, double stored, int decimals);
/* Places after the decimal sign that people usually want in this unit. */
int      wb_unit_get_decimals (WbUnit unit);
/* Hours, minutes and seconds in whole seconds, "1 h 20 min"; parts that are 0 are left out. */
char    *wb_quantity_format_duration (double seconds);

/* Density of air-free water at 101.325 kPa, g/cm3, 0 to 99 degC (Kell 1975); NAN outside. */
double   wb_water_density (double celsius);

G_END_DECLS
