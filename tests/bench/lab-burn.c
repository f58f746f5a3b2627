/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "lab.h"

#include <math.h>

#include "test-craft.h"

/*
 * What the reader of an invented lab writes down. Hourly, of each burn: two
 * diameters, depth, flame, vessel, room; at its end soot, mushroom and hang-up; the
 * candle is weighed before and after. 5 in 100 values are not written down.
 *
 * A diameter is that of the pool with an error of the moment and one of its own, to
 * the whole mm; what comes out at the wall, to half a mm, is written as the wall.
 * Depth and flame are read to 0.5 mm, a temperature to 0.5 K, a mass to 0.1 g.
 */

#define EMPTY 0.05            /* share of values that are not written down */
#define WILD 0.2              /* how far off a wild one is */
#define HANG_UP_SD_MM 0.5
#define TARE_G 300.0
#define G_PER_ML 0.9
#define FILL_MM 75.0
#define N_HOURS 4

/* Depth, flame and rise of the vessel after each hour, as a share of the burn's end. */
static const double by_hour[N_HOURS][LAB_CONSUMPTION] = {
  { 0.40, 0.85, 0.60 }, { 0.65, 0.92, 0.80 }, { 0.85, 0.97, 0.93 }, { 1, 1, 1 }
};

/* What is left of the fill at the middle of each burn, where the thirds are known: burnt down unread in between. */
static const double left_at[WB_N_STAGES * LAB_STAGE_BURNS] = { 0.92, 0.77, 0.57, 0.43, 0.24, 0.12 };

/* One candle. */
typedef struct
{
  double log_limit;                  /* deviations from the typical candle */
  double log_measure[LAB_N_MEASURES];
  double latent[LAB_N_RATINGS];
  double fill_g;
  double mass_g;
} Candle;

/* One burn of it. */
typedef struct
{
  double limit_mm;
  double measure[LAB_N_MEASURES];    /* at the end; mm, mm, K, g/h */
  double room_c;
  double late_h;                     /* how far its clock is off */
} Burn;

/* What goes along while a lab is read; `candles` and `notes` are generators of their own. */
typedef struct
{
  const Lab     *lab;
  WbDataset     *data;
  WbCalcRandom   candles, notes;
} Reader;

static double
to_nearest (double value,
            double step)
{
  return round (value / step) * step;
}

/* Writes a value down, unless it is one of those that are missing. Draws the same numbers whatever the world. */
static void
note (Reader  *reader,
      guint    row,
      WbColumn column,
      double   value)
{
  if (wb_calc_random_uniform (&reader->notes) >= EMPTY)
    test_craft_set (reader->data, row, column, value);
}

/* 1, or what a wild reading is multiplied by. */
static double
wildness (Reader *reader)
{
  double luck = wb_calc_random_uniform (&reader->notes);

  if (luck >= reader->lab->wild_share)
    return 1;
  return luck < reader->lab->wild_share / 2 ? 1 - WILD : 1 + WILD;
}

static double
read_pool (Reader *reader,
           double  pool_mm,
           double  of_moment_mm,
           double  inner_mm)
{
  double seen = pool_mm + of_moment_mm + reader->lab->own_mm * wb_calc_random_normal (&reader->notes);

  seen = round (seen * wildness (reader));
  return CLAMP (seen, 0, inner_mm);
}

static double
read_measure (Reader    *reader,
              double     value,
              LabMeasure measure)
{
  double error = exp (reader->lab->measure_reader_sd[measure] * wb_calc_random_normal (&reader->notes));

  return value * error * wildness (reader);
}

static void
read_hour (Reader        *reader,
           const LabCell *cell,
           const Burn    *burn,
           guint          index,
           guint          hour)
{
  const Lab *lab = reader->lab;
  double inner = lab->vessels[cell->vessel].inner_mm;
  double pool = burn->limit_mm * lab_grown (lab, hour + burn->late_h, cell->tau_h);
  double of_moment = lab->shared_mm * wb_calc_random_normal (&reader->notes);
  const double *share = by_hour[hour - 1];
  guint row = test_craft_add_reading (reader->data, index, hour * 60);

  note (reader, row, WB_COLUMN_POOL_A_MM, read_pool (reader, pool, of_moment, inner));
  note (reader, row, WB_COLUMN_POOL_B_MM, read_pool (reader, pool, of_moment, inner));
  note (reader, row, WB_COLUMN_DEPTH_MM,
        to_nearest (read_measure (reader, share[LAB_DEPTH] * burn->measure[LAB_DEPTH], LAB_DEPTH), 0.5));
  note (reader, row, WB_COLUMN_FLAME_MM,
        to_nearest (read_measure (reader, share[LAB_FLAME] * burn->measure[LAB_FLAME], LAB_FLAME), 0.5));
  note (reader, row, WB_COLUMN_VESSEL_C,
        to_nearest (burn->room_c + read_measure (reader, share[LAB_RISE] * burn->measure[LAB_RISE], LAB_RISE), 0.5));
  note (reader, row, WB_COLUMN_ROOM_C, to_nearest (burn->room_c, 0.1));
}

static double
rate (Reader        *reader,
      const LabCell *cell,
      const Candle  *candle,
      LabRating      rating)
{
  const double *threshold = reader->lab->threshold[rating];
  double latent = cell->latent[rating] + candle->latent[rating] + wb_calc_random_normal (&reader->candles);
  guint rated = 0;

  while (rated < lab_rating_top (rating) && latent > threshold[rated])
    rated++;
  return rated;
}

static void
read_end (Reader        *reader,
          const LabCell *cell,
          Candle        *candle,
          const Burn    *burn,
          guint          row)
{
  const Lab *lab = reader->lab;
  double inner = lab->vessels[cell->vessel].inner_mm;
  double pool = burn->limit_mm * lab_grown (lab, LAB_BURN_H, cell->tau_h);
  double hang_up = fmax (inner - pool, 0) / 2 + HANG_UP_SD_MM * wb_calc_random_normal (&reader->notes);

  note (reader, row, WB_COLUMN_SOOT, rate (reader, cell, candle, LAB_SOOT));
  note (reader, row, WB_COLUMN_MUSHROOM, rate (reader, cell, candle, LAB_MUSHROOM));
  note (reader, row, WB_COLUMN_HANG_UP_MM, fmax (round (hang_up * wildness (reader)), 0));
  test_craft_set (reader->data, row, WB_COLUMN_EVENT, WB_EVENT_SNUFFED);
}

/* The candle is weighed cold. Masses that tell the thirds are never missing: without one, what burns unread would be counted. */
static void
weigh (Reader       *reader,
       const Candle *candle,
       const Burn   *burn,
       double        hours,
       guint         row)
{
  double error = exp (reader->lab->measure_reader_sd[LAB_CONSUMPTION] * wb_calc_random_normal (&reader->notes));
  double after = candle->mass_g - burn->measure[LAB_CONSUMPTION] * hours * error;

  if (reader->lab->spec.stages)
    test_craft_set (reader->data, row, WB_COLUMN_MASS_G, to_nearest (after, 0.1));
  else
    note (reader, row, WB_COLUMN_MASS_G, to_nearest (after, 0.1));
}

/* What was written down in a row is over a limit of the house. */
static gboolean
is_over (const Reader *reader,
         guint         row)
{
  return wb_readings_get (reader->data->readings, row, WB_COLUMN_FLAME_MM) > LAB_FLAME_STOP_MM
         || wb_readings_get (reader->data->readings, row, WB_COLUMN_VESSEL_C) > LAB_VESSEL_STOP_C;
}

static Burn
light (Reader        *reader,
       const LabCell *cell,
       const Candle  *candle,
       double         room_c,
       guint          number)
{
  const Lab *lab = reader->lab;
  WbStage stage = lab_stage_of (lab, number);
  double first = stage * lab_stage_burns (lab) + (lab_stage_burns (lab) - 1) / 2.0;
  Burn burn = { .room_c = room_c };

  burn.limit_mm = exp (cell->log_limit + candle->log_limit + lab_stage_limit (lab, stage)
                       + lab->trend * (number - first) + lab->room_effect * (room_c - lab->mean_room)
                       + lab->limit_burn_sd * wb_calc_random_normal (&reader->candles));
  for (guint m = 0; m < LAB_N_MEASURES; m++)
    burn.measure[m] = exp (cell->log_measure[m] + candle->log_measure[m] + lab_burn_measure (lab, number, m)
                           + lab->measure_burn_sd[m] * wb_calc_random_normal (&reader->candles));
  burn.late_h = lab->clock_sd_min / 60 * wb_calc_random_normal (&reader->candles);
  return burn;
}

static void
burn_candle (Reader        *reader,
             const LabCell *cell,
             guint          sample,
             Candle        *candle,
             const double  *rooms)
{
  const Lab *lab = reader->lab;
  gboolean over = FALSE;

  for (guint i = 0; i < lab_n_burns (lab) && !over; i++)
    {
      Burn burn = light (reader, cell, candle, rooms[i], i);
      guint index = test_craft_add_burn (reader->data, sample);
      guint row = test_craft_add_reading (reader->data, index, 0), hour;

      if (lab->spec.stages)
        candle->mass_g = TARE_G + left_at[i] * candle->fill_g + burn.measure[LAB_CONSUMPTION] * LAB_BURN_H / 2;
      if (lab->spec.stages)
        test_craft_set (reader->data, row, WB_COLUMN_MASS_G, to_nearest (candle->mass_g, 0.1));
      else
        note (reader, row, WB_COLUMN_MASS_G, to_nearest (candle->mass_g, 0.1));
      test_craft_set (reader->data, row, WB_COLUMN_ROOM_C, to_nearest (burn.room_c, 0.1));
      for (hour = 1; hour <= N_HOURS && !over; hour++)
        {
          read_hour (reader, cell, &burn, index, hour);
          row = wb_readings_get_length (reader->data->readings) - 1;
          over = lab->spec.world == LAB_WORLD_SNUFFED && is_over (reader, row);
        }
      hour--;
      read_end (reader, cell, candle, &burn, row);
      weigh (reader, candle, &burn, hour, row);
      candle->mass_g -= burn.measure[LAB_CONSUMPTION] * hour;
    }
}

static Candle
pour (Reader        *reader,
      const LabCell *cell)
{
  const Lab *lab = reader->lab;
  double radius_cm = lab->vessels[cell->vessel].inner_mm / 20;
  double of_limit = wb_calc_random_normal (&reader->candles);
  Candle candle = { .log_limit = lab->limit_sample_sd * of_limit };

  for (guint m = 0; m < LAB_N_MEASURES; m++)
    candle.log_measure[m] = lab->measure_sample_sd[m]
                            * lab_deviation (lab, of_limit, wb_calc_random_normal (&reader->candles));
  for (guint r = 0; r < LAB_N_RATINGS; r++)
    candle.latent[r] = lab->rating_sample_sd[r]
                       * lab_deviation (lab, of_limit, wb_calc_random_normal (&reader->candles));
  candle.fill_g = to_nearest (G_PI * radius_cm * radius_cm * FILL_MM / 10 * G_PER_ML, 0.1);
  candle.mass_g = TARE_G + candle.fill_g;
  return candle;
}

static void
burn_cell (Reader *reader,
           guint   index)
{
  static const char *vessels[LAB_MOST_VESSELS] = { "Plover", "Tern" };
  const Lab *lab = reader->lab;
  const LabCell *cell = &lab->cells[index];
  g_autofree char *size = g_strdup_printf ("S-%u", cell->step + 1);
  guint at = test_craft_add_cell (reader->data, vessels[cell->vessel], lab->vessels[cell->vessel].inner_mm, "Sedge", size,
                                  cell->step + 1, lab_load_pct (lab, cell->load));

  g_assert (at == index);
  for (guint i = 0; i < lab->spec.samples && cell->poured; i++)
    {
      g_autofree char *code = g_strdup_printf ("C%02u-%u", index + 1, i + 1);
      guint sample = test_craft_add_sample (reader->data, index, code);
      WbSample *record = g_ptr_array_index (reader->data->samples, sample);
      Candle candle = pour (reader, cell);

      if (lab->spec.stages)
        {
          record->tare_g = TARE_G;
          record->fill_g = candle.fill_g;
        }
      burn_candle (reader, cell, sample, &candle, lab->rooms + (index * lab->spec.samples + i) * lab_n_burns (lab));
    }
}

WbDataset *
lab_burn (const Lab *self)
{
  static GMutex one_at_a_time; /* the builder counts its ids for the whole program */
  Reader reader = { self, NULL };

  lab_random_init (self, LAB_STREAM_CANDLES, &reader.candles);
  lab_random_init (self, LAB_STREAM_READINGS, &reader.notes);
  g_mutex_lock (&one_at_a_time);
  reader.data = test_craft_data_new ();
  reader.data->notebook->invented = TRUE;
  for (guint i = 0; i < self->n_cells; i++)
    burn_cell (&reader, i);
  g_mutex_unlock (&one_at_a_time);
  return reader.data;
}
