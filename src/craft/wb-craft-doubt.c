/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-doubt.h"

#include <math.h>

/* All of it common practice, no source. */

/* A kitchen scale and a tray wiped in between. */
#define SCALE_G 2.0
#define OVERFILL 1.02
/* No candle loses half of what stands on the scale between two weighings: a digit is missing. */
#define LEFT_SHARE 0.5
/* A thermometer left on the other scale: 77 °C, where tests stop, is 171 °F; a room of 20 °C, typed for 68 °F, is −7 °C. */
#define HOT_C 120.0
#define COLD_C 10.0
/* No candle wax pours so cold; 85 °C, typed for 185 °F, is read as 29. */
#define MELT_COLD_C 32.0
/* From one reading to the next: a wall warms slowly, and a flame four times as high is another digit, or a fire. */
#define LEAP_C 40.0
#define FLAME_FACTOR 4.0
#define FLAME_HIGH_MM 60.0
/* Twice the height at which a burn is stopped; 19.5 mm without its point is 195. */
#define FLAME_TALL_MM 100.0
/* A ruler over a hot vessel; wax that sets again at the rim when a flame calms down takes no more. */
#define SHRUNK_MM 4.0
/* A depth that the reader's rod makes deeper than the wax is. */
#define ROD_MM 3.0
/* Usually a full pool takes an hour per inch of the vessel; in a tenth of that none is seen, but for a slip of a key. */
#define MM_PER_HOUR 25.4
#define EARLY_SHARE 0.1
#define LEAST_G_PER_H 1.5
#define MOST_G_PER_H 12.0
#define WEIGHED_MIN 60.0
#define LONGEST_MIN (24.0 * 60)
/* Nobody goes out of the room, comes back and smells anew so soon. */
#define AGAIN_MIN 1.0
/* What was seen some minutes ago is typed after what was seen since: a hand at twelve flames does so all evening. */
#define EARLIER_MIN 10.0

static gboolean
say (WbCraftDoubt    *doubt,
     WbCraftDoubtKind kind,
     WbColumn         column,
     double           value,
     double           bound)
{
  *doubt = (WbCraftDoubt) { kind, column, value, bound };
  return TRUE;
}

gboolean
wb_craft_doubt_mass (double        mass_g,
                     double        tare_g,
                     double        fill_g,
                     double        before_g,
                     WbCraftDoubt *doubt)
{
  g_return_val_if_fail (doubt != NULL, FALSE);

  if (mass_g < tare_g)
    return say (doubt, WB_CRAFT_DOUBT_BELOW_VESSEL, WB_COLUMN_MASS_G, mass_g, tare_g);
  if (mass_g > (tare_g + fill_g) * OVERFILL)
    return say (doubt, WB_CRAFT_DOUBT_ABOVE_FILL, WB_COLUMN_MASS_G, mass_g, tare_g + fill_g);
  return mass_g > before_g + SCALE_G && say (doubt, WB_CRAFT_DOUBT_GAINED, WB_COLUMN_MASS_G, mass_g, before_g);
}

gboolean
wb_craft_doubt_consumption (double        mass_g,
                            double        before_g,
                            double        burnt_min,
                            guint         n_wicks,
                            WbCraftDoubt *doubt)
{
  double g_per_h = (before_g - mass_g) / burnt_min * 60;

  g_return_val_if_fail (doubt != NULL, FALSE);

  /* Not known: NAN compares as false. */
  if (n_wicks == 0 || !(burnt_min >= WEIGHED_MIN))
    return FALSE;
  if (g_per_h > MOST_G_PER_H * n_wicks)
    return say (doubt, WB_CRAFT_DOUBT_FAST, WB_COLUMN_MASS_G, g_per_h, MOST_G_PER_H * n_wicks);
  return g_per_h < LEAST_G_PER_H * n_wicks && say (doubt, WB_CRAFT_DOUBT_SLOW, WB_COLUMN_MASS_G, g_per_h, LEAST_G_PER_H * n_wicks);
}

gboolean
wb_craft_doubt_heat (WbColumn      column,
                     double        celsius,
                     WbCraftDoubt *doubt)
{
  g_return_val_if_fail (doubt != NULL, FALSE);
  return celsius > HOT_C && say (doubt, WB_CRAFT_DOUBT_HOT, column, celsius, HOT_C);
}

gboolean
wb_craft_doubt_flame (WbColumn      column,
                      double        flame_mm,
                      WbCraftDoubt *doubt)
{
  g_return_val_if_fail (doubt != NULL, FALSE);
  return flame_mm > FLAME_TALL_MM && say (doubt, WB_CRAFT_DOUBT_TALL, column, flame_mm, FLAME_TALL_MM);
}

gboolean
wb_craft_doubt_day (WbDay poured_on,
                    WbDay burnt_on)
{
  return poured_on != WB_DAY_NONE && burnt_on != WB_DAY_NONE && burnt_on < poured_on;
}

gboolean
wb_craft_doubt_melt (double celsius)
{
  return celsius > HOT_C || celsius < MELT_COLD_C;
}

gboolean
wb_craft_doubt_weighed (double mass_g,
                        double planned_g)
{
  return mass_g < planned_g * LEFT_SHARE || mass_g > planned_g / LEFT_SHARE;
}

gboolean
wb_craft_doubt_again (double        throw,
                      double        before,
                      double        apart_min,
                      WbCraftDoubt *doubt)
{
  g_return_val_if_fail (doubt != NULL, FALSE);

  return !isnan (throw) && !isnan (before) && fabs (apart_min) <= AGAIN_MIN && say (doubt, WB_CRAFT_DOUBT_AGAIN, WB_COLUMN_THROW, throw, before);
}

gboolean
wb_craft_doubt_pour (WbDay         poured_on,
                     WbDay         burnt_on,
                     WbDay         today,
                     WbCraftDoubt *doubt)
{
  g_return_val_if_fail (doubt != NULL, FALSE);

  if (poured_on != WB_DAY_NONE && poured_on > today)
    return say (doubt, WB_CRAFT_DOUBT_FUTURE, WB_N_COLUMNS, poured_on, today);
  return wb_craft_doubt_day (poured_on, burnt_on) && say (doubt, WB_CRAFT_DOUBT_AFTER_BURN, WB_N_COLUMNS, poured_on, burnt_on);
}

void
wb_craft_doubt_basis_init (WbCraftDoubtBasis *self)
{
  g_return_if_fail (self != NULL);

  self->tare_g = self->fill_g = self->mass_g = self->inner_mm = self->pool_mm = self->last_min = NAN;
  self->burnt_min = self->level_mm = NAN;
  self->n_wicks = 0;
  self->alight = FALSE;
  for (guint i = 0; i < WB_N_COLUMNS; i++)
    self->before[i] = NAN;
}

void
wb_craft_doubt_basis_take (WbCraftDoubtBasis *self,
                           const double       values[WB_N_COLUMNS],
                           double             elapsed_min)
{
  WbPool pool;

  g_return_if_fail (self != NULL && values != NULL);

  for (guint i = 0; i < WB_N_COLUMNS; i++)
    if (!isnan (values[i]))
      self->before[i] = values[i];
  self->mass_g = self->before[WB_COLUMN_MASS_G];
  if (wb_pool_from_values (values, self->inner_mm, &pool))
    self->pool_mm = pool.diameter_mm;
  if (!isnan (elapsed_min))
    self->last_min = elapsed_min;
}

void
wb_craft_doubt_basis_end_burn (WbCraftDoubtBasis *self)
{
  g_return_if_fail (self != NULL);

  for (guint i = 0; i < WB_N_COLUMNS; i++)
    self->before[i] = NAN;
  self->before[WB_COLUMN_MASS_G] = self->mass_g;
  self->pool_mm = self->last_min = NAN;
}

static void
find_mass (double                   mass_g,
           const WbCraftDoubtBasis *basis,
           GArray                  *doubts)
{
  WbCraftDoubt doubt;

  if (wb_craft_doubt_mass (mass_g, basis->tare_g, basis->fill_g, basis->mass_g, &doubt)
      || (mass_g < basis->mass_g * LEFT_SHARE && say (&doubt, WB_CRAFT_DOUBT_HALVED, WB_COLUMN_MASS_G, mass_g, basis->mass_g))
      || wb_craft_doubt_consumption (mass_g, basis->mass_g, basis->burnt_min, basis->n_wicks, &doubt))
    g_array_append_val (doubts, doubt);
}

static void
find_depth (double                   depth_mm,
            const WbCraftDoubtBasis *basis,
            GArray                  *doubts)
{
  WbCraftDoubt doubt;

  if (depth_mm > basis->level_mm + ROD_MM && say (&doubt, WB_CRAFT_DOUBT_DEEP, WB_COLUMN_DEPTH_MM, depth_mm, basis->level_mm))
    g_array_append_val (doubts, doubt);
}

static void
find_heat (WbColumn                 column,
           double                   celsius,
           const WbCraftDoubtBasis *basis,
           GArray                  *doubts)
{
  WbCraftDoubt doubt;

  if (wb_craft_doubt_heat (column, celsius, &doubt)
      || (celsius < COLD_C && say (&doubt, WB_CRAFT_DOUBT_COLD, column, celsius, COLD_C))
      || (fabs (celsius - basis->before[column]) > LEAP_C && say (&doubt, WB_CRAFT_DOUBT_LEAP, column, celsius, basis->before[column])))
    g_array_append_val (doubts, doubt);
}

static void
find_flame (WbColumn                 column,
            double                   flame_mm,
            const WbCraftDoubtBasis *basis,
            GArray                  *doubts)
{
  WbCraftDoubt doubt;

  if ((flame_mm > FLAME_HIGH_MM && flame_mm >= FLAME_FACTOR * basis->before[WB_COLUMN_FLAME_MM]
       && say (&doubt, WB_CRAFT_DOUBT_LEAP, column, flame_mm, basis->before[WB_COLUMN_FLAME_MM]))
      || wb_craft_doubt_flame (column, flame_mm, &doubt))
    g_array_append_val (doubts, doubt);
}

static void
find_pool (const double             values[WB_N_COLUMNS],
           double                   elapsed_min,
           const WbCraftDoubtBasis *basis,
           GArray                  *doubts)
{
  WbCraftDoubt doubt;
  double early_min = EARLY_SHARE * basis->inner_mm / MM_PER_HOUR * 60;
  WbPool pool;

  if (isnan (basis->inner_mm) || !wb_pool_from_values (values, basis->inner_mm, &pool))
    return;
  if ((pool.diameter_mm < basis->pool_mm - SHRUNK_MM && say (&doubt, WB_CRAFT_DOUBT_SHRUNK, WB_COLUMN_POOL_MM, pool.diameter_mm, basis->pool_mm))
      || (basis->alight && pool.both_at_wall && elapsed_min < early_min
          && say (&doubt, WB_CRAFT_DOUBT_EARLY, WB_COLUMN_POOL_MM, elapsed_min, early_min)))
    g_array_append_val (doubts, doubt);
}

static void
find_minute (double                   elapsed_min,
             const WbCraftDoubtBasis *basis,
             GArray                  *doubts)
{
  WbCraftDoubt doubt;

  if ((elapsed_min < basis->last_min - EARLIER_MIN && say (&doubt, WB_CRAFT_DOUBT_EARLIER, WB_N_COLUMNS, elapsed_min, basis->last_min))
      || (basis->alight && elapsed_min > LONGEST_MIN && say (&doubt, WB_CRAFT_DOUBT_LONG, WB_N_COLUMNS, elapsed_min, LONGEST_MIN)))
    g_array_append_val (doubts, doubt);
}

GArray *
wb_craft_doubts_find (const double             values[WB_N_COLUMNS],
                      double                   elapsed_min,
                      const WbCraftDoubtBasis *basis)
{
  GArray *doubts = g_array_new (FALSE, FALSE, sizeof (WbCraftDoubt));

  g_return_val_if_fail (values != NULL && basis != NULL, doubts);

  find_mass (values[WB_COLUMN_MASS_G], basis, doubts);
  find_depth (values[WB_COLUMN_DEPTH_MM], basis, doubts);
  find_heat (WB_COLUMN_VESSEL_C, values[WB_COLUMN_VESSEL_C], basis, doubts);
  find_heat (WB_COLUMN_BASE_C, values[WB_COLUMN_BASE_C], basis, doubts);
  find_heat (WB_COLUMN_ROOM_C, values[WB_COLUMN_ROOM_C], basis, doubts);
  find_flame (WB_COLUMN_FLAME_MM, values[WB_COLUMN_FLAME_MM], basis, doubts);
  find_flame (WB_COLUMN_FLAME_MAX_MM, values[WB_COLUMN_FLAME_MAX_MM], basis, doubts);
  find_pool (values, elapsed_min, basis, doubts);
  find_minute (elapsed_min, basis, doubts);
  return doubts;
}
