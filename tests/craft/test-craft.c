/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-craft.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_errno.h>

static gint64 last_id;

void
test_craft_init (int    *argc,
                 char ***argv)
{
  g_test_init (argc, argv, NULL);
  gsl_set_error_handler_off ();
}

static gpointer
new_record (const WbRecordType *type)
{
  WbRecord *record = wb_record_new (type);

  record->id = ++last_id;
  return record;
}

WbDataset *
test_craft_data_new (void)
{
  WbDataset *data = wb_dataset_new ();

  data->notebook = new_record (&wb_notebook_type);
  data->experiment = new_record (&wb_experiment_type);
  data->experiment->code = g_strdup ("T1");
  data->experiment->title = g_strdup ("Test");
  data->experiment->seed = 1;
  data->protocol = wb_protocol_new_house ();
  g_ptr_array_unref (data->limits);
  data->limits = wb_limits_new_house ();
  data->profile = wb_profile_new_house ();
  g_ptr_array_unref (data->aims);
  data->aims = wb_aims_new_house ();
  data->wax = new_record (&wb_wax_type);
  data->wax->name = g_strdup ("Test wax");
  data->wax->density = 0.9;
  return data;
}

static WbVessel *
find_vessel (WbDataset  *data,
             const char *name,
             double      inner_mm)
{
  WbVessel *vessel;

  for (guint i = 0; i < data->vessels->len; i++)
    {
      vessel = g_ptr_array_index (data->vessels, i);
      if (g_str_equal (vessel->name, name) && vessel->inner_diameter_mm == inner_mm)
        return vessel;
    }
  vessel = new_record (&wb_vessel_type);
  vessel->name = g_strdup (name);
  vessel->inner_diameter_mm = inner_mm;
  g_ptr_array_add (data->vessels, vessel);
  return vessel;
}

static WbWick *
find_wick (WbDataset  *data,
           const char *series,
           const char *size,
           gint64      step)
{
  WbWick *wick;

  for (guint i = 0; i < data->wicks->len; i++)
    {
      wick = g_ptr_array_index (data->wicks, i);
      if (g_str_equal (wick->series, series) && g_str_equal (wick->size, size))
        return wick;
    }
  wick = new_record (&wb_wick_type);
  wick->series = g_strdup (series);
  wick->size = g_strdup (size);
  wick->step = step;
  g_ptr_array_add (data->wicks, wick);
  return wick;
}

static WbFragrance *
any_fragrance (WbDataset *data)
{
  if (data->fragrances->len == 0)
    {
      WbFragrance *fragrance = new_record (&wb_fragrance_type);

      fragrance->name = g_strdup ("Harbour mist");
      g_ptr_array_add (data->fragrances, fragrance);
    }
  return g_ptr_array_index (data->fragrances, 0);
}

guint
test_craft_add_cell (WbDataset  *data,
                     const char *vessel,
                     double      inner_mm,
                     const char *series,
                     const char *size,
                     gint64      step,
                     double      load_pct)
{
  WbCell *cell = new_record (&wb_cell_type);
  WbVessel *of_vessel = find_vessel (data, vessel, inner_mm);
  WbWick *of_wick = find_wick (data, series, size, step);
  WbFragrance *of_fragrance = load_pct > 0 ? any_fragrance (data) : NULL;

  cell->vessel = of_vessel->record.id;
  cell->wick = of_wick->record.id;
  cell->wick_count = 1;
  cell->fragrance = of_fragrance != NULL ? of_fragrance->record.id : 0;
  cell->load_pct = load_pct;
  cell->load_basis = WB_BASIS_WAX;
  g_ptr_array_add (data->cells, cell);
  g_ptr_array_add (data->cell_vessels, of_vessel);
  g_ptr_array_add (data->cell_wicks, of_wick);
  g_ptr_array_add (data->cell_fragrances, of_fragrance);
  return data->cells->len - 1;
}

guint
test_craft_add_sample (WbDataset  *data,
                       guint       cell,
                       const char *code)
{
  WbSample *sample = new_record (&wb_sample_type);

  sample->cell = wb_dataset_get_cell (data, cell)->record.id;
  sample->code = g_strdup (code);
  sample->set_aside_cause = -1;
  g_ptr_array_add (data->samples, sample);
  g_array_append_val (data->sample_cell, cell);
  return data->samples->len - 1;
}

guint
test_craft_add_burn (WbDataset *data,
                     guint      sample)
{
  WbBurn *burn = new_record (&wb_burn_type);
  guint number = 1;

  for (guint i = 0; i < data->burn_sample->len; i++)
    number += g_array_index (data->burn_sample, guint, i) == sample;
  burn->sample = wb_dataset_get_sample (data, sample)->record.id;
  burn->number = number;
  burn->kind = WB_BURN_STANDARD;
  g_ptr_array_add (data->burns, burn);
  g_array_append_val (data->burn_sample, sample);
  return data->burns->len - 1;
}

guint
test_craft_add_reading (WbDataset *data,
                        guint      burn,
                        double     minute)
{
  return wb_readings_append (data->readings, ++last_id, burn, minute);
}

void
test_craft_set (WbDataset *data,
                guint      row,
                WbColumn   column,
                double     value)
{
  wb_readings_set (data->readings, row, column, value);
}

guint
test_craft_read (WbDataset *data,
                 guint      burn,
                 double     minute,
                 WbColumn   column,
                 double     value)
{
  guint row = test_craft_add_reading (data, burn, minute);

  test_craft_set (data, row, column, value);
  return row;
}

void
test_craft_log (WbDataset *data,
                guint      burn,
                double     wall_c,
                double     wall_min,
                double     base_c,
                double     base_min)
{
  WbAttachment *logger = wb_record_new (&wb_attachment_type);

  logger->record.id = 900000 + (gint64) data->loggers->len;
  logger->owner = wb_dataset_get_burn (data, burn)->record.id;
  logger->role = WB_ATTACHMENT_LOGGER;
  logger->name = g_strdup ("logger.csv");
  logger->wall_c = wall_c;
  logger->wall_min = wall_min;
  logger->base_c = base_c;
  logger->base_min = base_min;
  g_ptr_array_add (data->loggers, logger);
  g_array_append_val (data->logger_burn, burn);
}

guint
test_craft_calm_burn (WbDataset *data,
                      guint      sample,
                      double     limit_mm,
                      double     tau_h,
                      double     inner_mm)
{
  guint burn = test_craft_add_burn (data, sample);

  for (guint hour = 1; hour <= 4; hour++)
    {
      guint row = test_craft_add_reading (data, burn, hour * 60);
      double wobble = (hour % 2 == 0 ? 0.3 : -0.3) + (burn % 3) * 0.2;
      double pool = limit_mm * -expm1 (-(double) hour / tau_h) + wobble;

      test_craft_set (data, row, WB_COLUMN_POOL_MM, MIN (pool, inner_mm));
      test_craft_set (data, row, WB_COLUMN_DEPTH_MM, 2.5 * hour);
      test_craft_set (data, row, WB_COLUMN_FLAME_MM, 19 + wobble);
      test_craft_set (data, row, WB_COLUMN_VESSEL_C, 30 + 4 * hour + wobble);
      test_craft_set (data, row, WB_COLUMN_ROOM_C, 22);
      test_craft_set (data, row, WB_COLUMN_SOOT, 0);
      test_craft_set (data, row, WB_COLUMN_MUSHROOM, 0);
      if (hour == 4)
        test_craft_set (data, row, WB_COLUMN_HANG_UP_MM, MAX (inner_mm - pool, 0) / 2);
    }
  return burn;
}

static void
record_physics (WbDataset                   *data,
                guint                        burn,
                double                       minute,
                const WbCraftPhysicsReading *reading)
{
  guint row = test_craft_add_reading (data, burn, minute);
  const struct { WbColumn column; double value; } values[] = {
    { WB_COLUMN_POOL_A_MM, reading->pool_a_mm }, { WB_COLUMN_POOL_B_MM, reading->pool_b_mm },
    { WB_COLUMN_DEPTH_MM, reading->depth_mm }, { WB_COLUMN_FLAME_MM, reading->flame_mm },
    { WB_COLUMN_FLAME_MAX_MM, reading->flame_max_mm }, { WB_COLUMN_VESSEL_C, reading->vessel_c },
    { WB_COLUMN_SMOKE, reading->smoke }, { WB_COLUMN_SOOT, reading->soot }, { WB_COLUMN_MUSHROOM, reading->mushroom },
    { WB_COLUMN_HANG_UP_MM, reading->hang_up_mm }, { WB_COLUMN_ROOM_C, 22 }, { WB_COLUMN_MASS_G, reading->mass_g },
  };

  for (guint i = 0; i < G_N_ELEMENTS (values); i++)
    if (!reading->out || values[i].column == WB_COLUMN_MASS_G)
      test_craft_set (data, row, values[i].column, values[i].value);
  if (reading->out)
    test_craft_set (data, row, WB_COLUMN_EVENT, WB_EVENT_SELF_EXTINGUISHED);
}

static void
burn_once (WbDataset            *data,
           guint                 sample,
           WbCraftPhysicsCandle *candle)
{
  guint burn = test_craft_add_burn (data, sample);
  WbCraftPhysicsReading reading = { 0 };

  wb_craft_physics_candle_light (candle, 22);
  for (guint hour = 0; hour <= 4 && !reading.out; hour++)
    {
      wb_craft_physics_candle_read (candle, hour * 60, &reading);
      record_physics (data, burn, hour * 60, &reading);
    }
  wb_craft_physics_candle_snuff (candle);
}

void
test_craft_burn_physics (WbDataset                *data,
                         guint                     cell,
                         const WbCraftPhysicsSpec *spec,
                         guint                     samples,
                         guint                     burns,
                         guint64                   seed)
{
  for (guint i = 0; i < samples; i++)
    {
      g_autoptr (WbCraftPhysicsCandle) candle = wb_craft_physics_candle_new (spec, seed * 1000 + cell * 10 + i);
      g_autofree char *code = g_strdup_printf ("C%u-%u", cell + 1, i + 1);
      guint sample = test_craft_add_sample (data, cell, code);
      WbSample *record = g_ptr_array_index (data->samples, sample);

      record->tare_g = spec->tare_g;
      record->fill_g = wb_craft_physics_candle_get_fill_g (candle);
      record->wax_height_mm = spec->wax_height_mm;
      for (guint k = 0; (burns == 0 || k < burns) && !wb_craft_physics_candle_is_spent (candle); k++)
        burn_once (data, sample, candle);
    }
}

/* The sample log has neither quotes nor unknown columns: splitting at commas is enough for it, and for it alone. */
WbDataset *
test_craft_from_log (const char *path)
{
  WbDataset *data = test_craft_data_new ();
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;
  g_auto (GStrv) header = NULL;
  g_autofree char *last_sample = NULL;
  g_autofree char *last_burn = NULL;
  guint cell = 0, sample = 0, burn = 0;

  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  lines = g_strsplit (text, "\n", -1);
  header = g_strsplit (g_strchomp (lines[0]), ",", -1);
  for (guint i = 1; lines[i] != NULL && lines[i][0] != '\0'; i++)
    {
      g_auto (GStrv) field = g_strsplit (g_strchomp (lines[i]), ",", -1);
      g_autoptr (GHashTable) row = g_hash_table_new (g_str_hash, g_str_equal);
      guint reading;

      for (guint k = 0; header[k] != NULL && field[k] != NULL; k++)
        if (field[k][0] != '\0')
          g_hash_table_insert (row, header[k], field[k]);
#define TEXT(name) ((const char *) g_hash_table_lookup (row, name))
#define REAL(name) (g_ascii_strtod (TEXT (name), NULL))
      if (g_strcmp0 (last_sample, TEXT ("sample")) != 0)
        {
          cell = test_craft_find_cell (data, TEXT ("vessel"), TEXT ("wick_size"), REAL ("load_pct"));
          if (cell == G_MAXUINT)
            cell = test_craft_add_cell (data, TEXT ("vessel"), REAL ("inner_diameter_mm"), TEXT ("wick_series"),
                                        TEXT ("wick_size"), (gint64) REAL ("wick_step"), REAL ("load_pct"));
          sample = test_craft_add_sample (data, cell, TEXT ("sample"));
          g_free (last_sample);
          last_sample = g_strdup (TEXT ("sample"));
          g_clear_pointer (&last_burn, g_free);
        }
      if (g_strcmp0 (last_burn, TEXT ("burn")) != 0)
        {
          burn = test_craft_add_burn (data, sample);
          g_free (last_burn);
          last_burn = g_strdup (TEXT ("burn"));
        }
      reading = test_craft_add_reading (data, burn, REAL ("elapsed_min"));
      for (guint k = 0; header[k] != NULL; k++)
        {
          int column = wb_column_find (header[k]);

          if (column >= 0 && column != WB_COLUMN_EVENT && TEXT (header[k]) != NULL)
            test_craft_set (data, reading, column, REAL (header[k]));
        }
#undef TEXT
#undef REAL
    }
  return data;
}

guint
test_craft_find_cell (const WbDataset *data,
                      const char      *vessel,
                      const char      *size,
                      double           load_pct)
{
  for (guint i = 0; i < data->cells->len; i++)
    if (g_str_equal (wb_dataset_get_vessel (data, i)->name, vessel)
        && g_str_equal (wb_dataset_get_wick (data, i)->size, size)
        && wb_dataset_get_cell (data, i)->load_pct == load_pct)
      return i;
  return G_MAXUINT;
}
