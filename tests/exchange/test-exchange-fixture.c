/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-exchange-fixture.h"

static gpointer
add_material (GPtrArray *array, const WbRecordType *type, const char *field, const char *text)
{
  WbRecord *record = wb_record_new (type);

  record->id = 10 + array->len;
  wb_record_set_text (record, wb_record_type_find_field (type, field), text);
  g_ptr_array_add (array, record);
  return record;
}

static void
add_materials (WbDataset *data)
{
  WbVessel *tern = add_material (data->vessels, &wb_vessel_type, "name", "Tern");
  WbVessel *rail = add_material (data->vessels, &wb_vessel_type, "name", "Water rail \327\220");
  WbWick *three = add_material (data->wicks, &wb_wick_type, "series", "Sedge");
  WbWick *four = add_material (data->wicks, &wb_wick_type, "series", "Sedge");

  tern->inner_diameter_mm = 76.2;
  rail->inner_diameter_mm = 63;
  three->size = g_strdup ("S-3");
  three->step = 3;
  four->size = g_strdup ("S-4");
  add_material (data->fragrances, &wb_fragrance_type, "name", "Harbour mist");
}

static void
add_reading (WbDataset *data, guint burn, double minutes, double pool)
{
  guint row = wb_readings_append (data->readings, 1000 + wb_readings_get_length (data->readings), burn, minutes);

  wb_readings_set (data->readings, row, WB_COLUMN_POOL_MM, pool);
  wb_readings_set (data->readings, row, WB_COLUMN_FLAME_MM, 18.25);
  wb_readings_set (data->readings, row, WB_COLUMN_SOOT, 0);
  if (minutes > 200)
    {
      wb_readings_set (data->readings, row, WB_COLUMN_EVENT, WB_EVENT_SNUFFED);
      wb_readings_set_text (data->readings, row, WB_READING_TEXT_NOTE, "=calm, \"quiet\"");
    }
}

static void
add_cell (WbDataset *data, guint vessel, guint wick, gboolean scented)
{
  WbCell *cell = wb_record_new (&wb_cell_type);
  WbSample *sample = wb_record_new (&wb_sample_type);
  WbBurn *burn = wb_record_new (&wb_burn_type);
  guint index = data->cells->len;

  cell->record.id = 100 + index;
  cell->wick_count = 1;
  cell->fragrance = scented ? 10 : 0;
  cell->load_pct = scented ? 8.5 : 0;
  cell->load_basis = WB_BASIS_WAX;
  g_ptr_array_add (data->cells, cell);
  g_ptr_array_add (data->cell_vessels, data->vessels->pdata[vessel]);
  g_ptr_array_add (data->cell_wicks, data->wicks->pdata[wick]);
  g_ptr_array_add (data->cell_fragrances, scented ? data->fragrances->pdata[0] : NULL);
  sample->record.id = 200 + index;
  sample->uuid = wb_uuid_new ();
  sample->cell = cell->record.id;
  sample->code = g_strdup_printf ("%c-1", 'A' + index);
  g_ptr_array_add (data->samples, sample);
  g_array_append_val (data->sample_cell, index);
  burn->record.id = 300 + index;
  burn->uuid = wb_uuid_new ();
  burn->number = 1;
  burn->kind = WB_BURN_STANDARD;
  burn->lit_at = (WbInstant) { G_GINT64_CONSTANT (1772435220000000), 3600, TRUE };
  g_ptr_array_add (data->burns, burn);
  g_array_append_val (data->burn_sample, index);
  for (guint hour = 0; hour <= 4; hour++)
    add_reading (data, index, 60.0 * hour, 15.3 * hour);
}

WbDataset *
test_exchange_dataset_new (void)
{
  WbDataset *data = wb_dataset_new ();

  data->notebook = wb_record_new (&wb_notebook_type);
  data->notebook->uuid = wb_uuid_new ();
  data->notebook->invented = TRUE;
  data->experiment = wb_record_new (&wb_experiment_type);
  data->experiment->code = g_strdup ("E-1");
  data->experiment->title = g_strdup ("Autumn trial");
  data->experiment->uuid = wb_uuid_new ();
  data->experiment->seed = 1;
  data->protocol = wb_protocol_new_house ();
  data->profile = wb_profile_new_house ();
  g_ptr_array_unref (data->limits);
  data->limits = wb_limits_new_house ();
  g_ptr_array_unref (data->aims);
  data->aims = wb_aims_new_house ();
  data->wax = wb_record_new (&wb_wax_type);
  data->wax->name = g_strdup ("Marsh soy");
  add_materials (data);
  for (guint vessel = 0; vessel < 2; vessel++)
    for (guint wick = 0; wick < 2; wick++)
      add_cell (data, vessel, wick, vessel == 0);
  data->last_entry = 7;
  return data;
}
