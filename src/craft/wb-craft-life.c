/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-life-private.h"

#include <math.h>

#include "wb-craft-alight.h"
#include "wb-craft-alight-private.h"
#include "wb-craft-vessel-private.h"

#define SHORTEST_MIN 15.0    /* over less, the balance's last digit rules the consumption */
#define RESIDUE_SLACK_MM 0.5
#define USUAL_DENSITY 0.88   /* g/cm3, between paraffin and soy: where the wax's own is not recorded; common practice, no source */

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

/*
 * Lit at the bench, and no end of it was noted. What is lit again was out, whoever forgot to note it; a log that was brought
 * in has no session, and seldom an end; and of what its maker calls finished nothing burns.
 */
static gboolean
is_alight (const WbDataset   *data,
           const WbCraftBurn *burns,
           guint              n,
           guint              i,
           guint              wicks)
{
  guint first, rows;

  if (data->experiment->closed || wb_dataset_get_burn (data, burns[i].burn)->session == 0)
    return FALSE;
  for (guint later = i + 1; later < n; later++)
    if (wb_dataset_get_burn (data, burns[later].burn)->session != 0)
      return FALSE;
  wb_readings_get_burn_rows (data->readings, burns[i].burn, &first, &rows);
  return isnan (wb_craft_alight_out_min (data->readings, first, rows, wicks));
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
  guint wicks = (guint) MAX (wb_dataset_get_cell (data, burn->cell)->wick_count, 1);
  guint first, rows;

  wb_readings_get_burn_rows (data->readings, burn->burn, &first, &rows);
  masses = masses_of (data->readings, first, rows);
  burn->alight_min = wb_craft_alight_until (data->readings, first, rows, wicks, G_MAXDOUBLE);
  burn->last_min = wb_craft_alight_end (data->readings, first, rows, wicks);
  burn->alight = is_alight (data, burns, n, i, wicks);

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
      double minutes = wb_craft_alight_until (data->readings, first, rows, wicks, after_min)
                       - (before_min > 0 ? wb_craft_alight_until (data->readings, first, rows, wicks, before_min) : 0);

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

/* Was the end of the candle's life noted in its last burn, and did it not burn on? */
static gboolean
was_burnt_out (const WbDataset   *data,
               const WbCraftBurn *burns,
               guint              n)
{
  gboolean spent = FALSE;
  guint first, rows;

  if (n == 0)
    return FALSE;
  wb_readings_get_burn_rows (data->readings, burns[n - 1].burn, &first, &rows);
  for (guint row = first; row < first + rows; row++)
    {
      double event = wb_readings_get (data->readings, row, WB_COLUMN_EVENT);

      if (event == WB_EVENT_END_OF_LIFE)
        spent = TRUE;
      else if (event == WB_EVENT_RELIT)
        spent = FALSE;
    }
  return spent;
}

/* What a burn takes, g: as weighed, else at the sample's own rate over the minutes alight; NAN where neither is known. */
static double
taken_by (const WbCraftBurn *burn,
          double             rate)
{
  double taken = burn->mass_before_g - burn->mass_after_g;

  return isnan (taken) ? rate * burn->alight_min / 60 : taken;
}

/*
 * What the candle lost over its whole life, g, and what it weighed in the end;
 * a first or last burn that was not weighed on one side goes at the sample's own
 * rate. NAN where the masses do not tell.
 */
static double
lost_in_life (const WbCraftBurn *burns,
              guint              n,
              double             rate,
              double            *end_g)
{
  double first = burns[0].mass_before_g, last = burns[n - 1].mass_after_g;
  double before = 0, after = 0;

  for (guint i = 0; i < n && isnan (first); i++)
    {
      before += taken_by (&burns[i], rate);
      first = burns[i].mass_after_g + before;
    }
  for (guint i = n; i-- > 0 && isnan (last);)
    {
      after += taken_by (&burns[i], rate);
      last = burns[i].mass_before_g - after;
    }
  *end_g = last;
  return first - last;
}

/*
 * Where the share that is left is counted from: `tare` is the mass at which
 * nothing is left, `fill` the whole, both g. Without a stated fill a candle that
 * was burnt out tells both by what it lost. Its thirds are then of what it burnt;
 * of the fill the lower third begins a little later, by the wax that stays in the
 * vessel, so that it errs on the side of judging more as the lower third.
 */
static WbCraftThirds
find_whole (const WbDataset   *data,
            guint              sample,
            const WbCraftBurn *burns,
            guint              n,
            double             rate,
            double            *tare,
            double            *fill)
{
  *fill = wb_craft_life_fill_g (data, sample, burns, n);
  *tare = wb_dataset_get_sample (data, sample)->tare_g;
  if (isnan (*tare) && n > 0)
    *tare = burns[0].mass_before_g - *fill; /* the first mass is vessel and whole fill */
  if (n == 0)
    return WB_CRAFT_THIRDS_NOT_BURNT;
  if (*fill > 0)
    return WB_CRAFT_THIRDS_OF_FILL;
  if (was_burnt_out (data, burns, n))
    {
      double end, lost = lost_in_life (burns, n, rate, &end);

      if (lost > 0)
        {
          *fill = lost;
          *tare = end;
          return WB_CRAFT_THIRDS_OF_LIFE;
        }
    }
  return WB_CRAFT_THIRDS_NO_FILL;
}

WbCraftThirds
wb_craft_life_weigh (const WbDataset *data,
                     guint            sample,
                     WbCraftBurn     *burns,
                     guint            n,
                     double          *least_left)
{
  WbCraftThirds thirds;
  gboolean any_known = FALSE;
  double tare, fill, rate, left = 1;

  for (guint i = 0; i < n; i++)
    weigh_burn (data, sample, burns, n, i);
  rate = mean_consumption (burns, n);
  thirds = find_whole (data, sample, burns, n, rate, &tare, &fill);
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
      any_known = any_known || burn->stage_known;
      if (!isnan (after) && !(*least_left <= left))
        *least_left = left;
    }
  return thirds == WB_CRAFT_THIRDS_OF_FILL && !any_known ? WB_CRAFT_THIRDS_NO_MASS : thirds;
}

double
wb_craft_life_height_mm (const WbDataset   *data,
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

  if (last == NULL || last->alight || protocol == NULL)
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
             || least_left * wb_craft_life_height_mm (data, sample, burns, n) <= protocol->end_residue_mm + RESIDUE_SLACK_MM;
    }
}
