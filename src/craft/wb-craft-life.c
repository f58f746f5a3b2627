/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-life-private.h"

#include <math.h>

#include "wb-craft-vessel-private.h"

#define SHORTEST_MIN 15.0    /* over less, the balance's last digit rules the consumption */
#define RESIDUE_SLACK_MM 0.5
#define USUAL_DENSITY 0.88   /* g/cm3, between paraffin and soy: where the wax's own is not recorded; common practice, no source */

/* A row that tells of a burning candle though no flame height stands in it. */
static gboolean
tells_of_burning (const WbReadings *readings,
                  guint             row)
{
  static const WbColumn columns[] = {
    WB_COLUMN_POOL_MM, WB_COLUMN_POOL_A_MM, WB_COLUMN_POOL_B_MM, WB_COLUMN_POOL_FULL, WB_COLUMN_DEPTH_MM,
    WB_COLUMN_FLAME_MAX_MM, WB_COLUMN_FLAME_STATE, WB_COLUMN_VESSEL_C, WB_COLUMN_SMOKE
  };

  for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
    if (wb_readings_taken (readings, row, columns[i]))
      return TRUE;
  return FALSE;
}

/* Minute of the last reading with a flame; where no flame was ever read, of the last that tells of burning; else NAN. */
static double
last_alight (const WbReadings *readings,
             guint             first,
             guint             n)
{
  double with_flame = NAN, burning = NAN;
  gboolean flame_read = FALSE;

  for (guint row = first; row < first + n; row++)
    {
      double minute = wb_readings_get_elapsed_min (readings, row);
      double flame = wb_readings_get (readings, row, WB_COLUMN_FLAME_MM);

      flame_read = flame_read || (!isnan (flame) && minute > 0);
      if (flame > 0)
        with_flame = minute;
      if (tells_of_burning (readings, row))
        burning = minute;
    }
  return flame_read ? with_flame : burning;
}

/* Is the row's event one after which no flame stands? */
static gboolean
goes_out (double event)
{
  return event == WB_EVENT_SNUFFED || event == WB_EVENT_SELF_EXTINGUISHED || event == WB_EVENT_END_OF_LIFE;
}

/*
 * Minutes with a flame up to `until`, from lighting at 0: up to snuffing or
 * going out, without the time out until relit; where neither was noted, up to
 * the last reading with a flame. NAN where nothing tells.
 */
static double
alight_until (const WbReadings *readings,
              guint             first,
              guint             n,
              double            until)
{
  double alight = 0, lit = 0;
  gboolean burning = TRUE;

  for (guint row = first; row < first + n; row++)
    {
      double minute = wb_readings_get_elapsed_min (readings, row);
      double event = wb_readings_get (readings, row, WB_COLUMN_EVENT);

      if (minute > until)
        break;
      if (burning && goes_out (event))
        {
          alight += minute - lit;
          burning = FALSE;
        }
      else if (!burning && event == WB_EVENT_RELIT)
        {
          lit = minute;
          burning = TRUE;
        }
    }
  if (burning)
    {
      double last = last_alight (readings, first, n);

      if (isnan (last))
        return NAN;
      alight += MAX (MIN (last, until) - lit, 0);
    }
  return alight;
}

/* Minute at which the flame was out for good, or the last reading with one. */
static double
end_minute (const WbReadings *readings,
            guint             first,
            guint             n)
{
  double out = NAN;

  for (guint row = first; row < first + n; row++)
    {
      double event = wb_readings_get (readings, row, WB_COLUMN_EVENT);

      if (goes_out (event) && isnan (out))
        out = wb_readings_get_elapsed_min (readings, row);
      else if (event == WB_EVENT_RELIT)
        out = NAN;
    }
  return isnan (out) ? last_alight (readings, first, n) : out;
}

/* First and last mass of a burn and their minutes. */
typedef struct
{
  double first_g, first_min;
  double last_g, last_min;
} Masses;

static Masses
masses_of (const WbReadings *readings,
           guint             first,
           guint             n)
{
  Masses masses = { NAN, NAN, NAN, NAN };

  for (guint row = first; row < first + n; row++)
    {
      double mass = wb_readings_get (readings, row, WB_COLUMN_MASS_G);

      if (isnan (mass))
        continue;
      if (isnan (masses.first_g))
        {
          masses.first_g = mass;
          masses.first_min = wb_readings_get_elapsed_min (readings, row);
        }
      masses.last_g = mass;
      masses.last_min = wb_readings_get_elapsed_min (readings, row);
    }
  if (masses.last_min == masses.first_min && masses.first_min > 0)
    {
      /* one mass, taken after lighting: it is the end's */
      masses.first_g = NAN;
      masses.first_min = NAN;
    }
  else if (masses.last_min == masses.first_min)
    {
      masses.last_g = NAN;
      masses.last_min = NAN;
    }
  return masses;
}

/* Mass before the first burn where it was not weighed then: tare and fill. */
static double
poured_mass (const WbSample *sample)
{
  return sample->tare_g + sample->fill_g;
}

static void
weigh_burn (const WbDataset *data,
            guint            sample,
            WbCraftBurn     *burns,
            guint            n,
            guint            i)
{
  WbCraftBurn *burn = &burns[i];
  Masses masses, next;
  double before, after, before_min = 0, after_min = G_MAXDOUBLE;
  guint first, rows;

  wb_readings_get_burn_rows (data->readings, burn->burn, &first, &rows);
  masses = masses_of (data->readings, first, rows);
  burn->alight_min = alight_until (data->readings, first, rows, G_MAXDOUBLE);
  burn->last_min = end_minute (data->readings, first, rows);

  before = masses.first_g;
  if (!isnan (before))
    before_min = masses.first_min;
  else
    before = i > 0 ? burns[i - 1].mass_after_g : poured_mass (wb_dataset_get_sample (data, sample));
  after = masses.last_g;
  if (!isnan (after))
    after_min = masses.last_min;
  else if (i + 1 < n)
    {
      guint next_first, next_rows;

      wb_readings_get_burn_rows (data->readings, burns[i + 1].burn, &next_first, &next_rows);
      next = masses_of (data->readings, next_first, next_rows);
      after = next.first_min <= 0 ? next.first_g : NAN;
    }
  burn->mass_before_g = before;
  burn->mass_after_g = after;
  if (!isnan (before) && !isnan (after) && !isnan (burn->alight_min))
    {
      double minutes = alight_until (data->readings, first, rows, after_min)
                       - (before_min > 0 ? alight_until (data->readings, first, rows, before_min) : 0);

      if (minutes >= SHORTEST_MIN && before > after)
        burn->consumption_g_per_h = (before - after) / minutes * 60;
    }
}

static const WbVessel *
vessel_of (const WbDataset *data,
           guint            sample)
{
  return wb_dataset_get_vessel (data, g_array_index (data->sample_cell, guint, sample));
}

/* Mass of a millimetre of wax in the sample's vessel, g, as if its wall were straight. */
static double
g_per_mm (const WbDataset *data,
          guint            sample)
{
  double inner = wb_craft_vessel_inner_mm (vessel_of (data, sample), WB_STAGE_UPPER);
  double density = data->wax != NULL && data->wax->density > 0 ? data->wax->density : USUAL_DENSITY;

  return density * G_PI / 4000 * inner * inner;
}

/* Height of the fill as recorded, mm: the sample's, else the vessel's; NAN where neither is. */
static double
recorded_height_mm (const WbDataset *data,
                    guint            sample)
{
  double height = wb_dataset_get_sample (data, sample)->wax_height_mm;

  return height > 0 ? height : vessel_of (data, sample)->wax_height_mm;
}

double
wb_craft_life_fill_g (const WbDataset   *data,
                      guint              sample,
                      const WbCraftBurn *burns,
                      guint              n)
{
  const WbSample *record = wb_dataset_get_sample (data, sample);

  if (record->fill_g > 0)
    return record->fill_g;
  if (record->tare_g > 0 && n > 0 && burns[0].mass_before_g > record->tare_g)
    return burns[0].mass_before_g - record->tare_g;
  return recorded_height_mm (data, sample) * g_per_mm (data, sample);
}

static double
mean_consumption (const WbCraftBurn *burns,
                  guint              n)
{
  double sum = 0;
  guint with = 0;

  for (guint i = 0; i < n; i++)
    if (!isnan (burns[i].consumption_g_per_h))
      {
        sum += burns[i].consumption_g_per_h;
        with++;
      }
  return with > 0 ? sum / with : NAN;
}

static WbStage
stage_of (double left)
{
  return left > 2.0 / 3.0 ? WB_STAGE_UPPER : left > 1.0 / 3.0 ? WB_STAGE_MIDDLE : WB_STAGE_LOWER;
}

void
wb_craft_life_weigh (const WbDataset *data,
                     guint            sample,
                     WbCraftBurn     *burns,
                     guint            n,
                     double          *least_left)
{
  double tare, fill, rate, left = 1;

  for (guint i = 0; i < n; i++)
    weigh_burn (data, sample, burns, n, i);
  fill = wb_craft_life_fill_g (data, sample, burns, n);
  tare = wb_dataset_get_sample (data, sample)->tare_g;
  if (isnan (tare) && n > 0)
    tare = burns[0].mass_before_g - fill; /* the first mass is vessel and whole fill */
  rate = mean_consumption (burns, n);
  *least_left = NAN;
  for (guint i = 0; i < n && fill > 0; i++)
    {
      WbCraftBurn *burn = &burns[i];
      double before = (burn->mass_before_g - tare) / fill;
      double after = (burn->mass_after_g - tare) / fill;

      /* not weighed: as the burns before left it, and on at the sample's own rate */
      before = isnan (before) ? left : CLAMP (before, 0, 1);
      if (isnan (after))
        after = before - (isnan (burn->consumption_g_per_h) ? rate : burn->consumption_g_per_h)
                         * burn->alight_min / 60 / fill;
      left = isnan (after) ? left : CLAMP (after, 0, 1);
      if (isnan (after) && isnan (burn->mass_before_g) && i > 0)
        continue;
      burn->fill_left = left;
      burn->stage = stage_of ((before + left) / 2);
      burn->stage_known = !isnan (after) || !isnan (burn->mass_before_g);
      if (!isnan (after) && !(*least_left <= left))
        *least_left = left;
    }
}

/* Height of the fill, mm: as recorded, else from its mass and the vessel's section. */
static double
fill_height_mm (const WbDataset   *data,
                guint              sample,
                const WbCraftBurn *burns,
                guint              n)
{
  double height = recorded_height_mm (data, sample);

  return height > 0 ? height : wb_craft_life_fill_g (data, sample, burns, n) / g_per_mm (data, sample);
}

gboolean
wb_craft_life_ended (const WbDataset   *data,
                     guint              sample,
                     const WbCraftBurn *burns,
                     guint              n,
                     double             least_left)
{
  const WbProtocol *protocol = data->protocol;
  const WbCraftBurn *last = n > 0 ? &burns[n - 1] : NULL;
  gboolean out_by_itself;

  if (last == NULL || protocol == NULL)
    return FALSE;

  /* going out high up is drowning, not the end */
  out_by_itself = (last->events & (1u << WB_EVENT_END_OF_LIFE)) != 0
                  || ((last->events & (1u << WB_EVENT_SELF_EXTINGUISHED)) != 0
                      && last->stage_known && last->stage == WB_STAGE_LOWER);
  switch (protocol->end_rule)
    {
    case WB_END_BURNS:
      return protocol->end_burns > 0 && n >= (guint64) protocol->end_burns;
    case WB_END_SELF:
      return out_by_itself;
    case WB_END_RESIDUE:
    default:
      return out_by_itself
             || least_left * fill_height_mm (data, sample, burns, n) <= protocol->end_residue_mm + RESIDUE_SLACK_MM;
    }
}
