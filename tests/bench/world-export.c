/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "world-export.h"

#include <math.h>

#include "wb-house.h"

/* Rows are written here, not by the program's own export: what is measured is what an outsider's file becomes. */

static const struct { WbColumn column; const char *name; } columns[] = {
  { WB_COLUMN_POOL_A_MM, "pool_a_mm" }, { WB_COLUMN_POOL_B_MM, "pool_b_mm" }, { WB_COLUMN_DEPTH_MM, "depth_mm" },
  { WB_COLUMN_FLAME_MM, "flame_mm" }, { WB_COLUMN_VESSEL_C, "vessel_c" }, { WB_COLUMN_ROOM_C, "room_c" },
  { WB_COLUMN_SOOT, "soot" }, { WB_COLUMN_MUSHROOM, "mushroom" }, { WB_COLUMN_HANG_UP_MM, "hang_up_mm" },
  { WB_COLUMN_MASS_G, "mass_g" },
};

static void
append (GString *line,
        double   value)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];

  g_string_append_c (line, ',');
  if (!isnan (value))
    g_string_append (line, g_ascii_formatd (text, sizeof text, "%.10g", value));
}

static void
append_text (GString    *line,
             const char *text)
{
  g_string_append_printf (line, ",%s", text != NULL ? text : "");
}

static void
append_row (GString         *text,
            const WbDataset *data,
            guint            row)
{
  guint burn = wb_readings_get_burn (data->readings, row);
  guint sample = g_array_index (data->burn_sample, guint, burn), cell = g_array_index (data->sample_cell, guint, sample);
  const WbSample *of_sample = g_ptr_array_index (data->samples, sample);
  const WbVessel *vessel = g_ptr_array_index (data->cell_vessels, cell);
  const WbWick *wick = g_ptr_array_index (data->cell_wicks, cell);
  const WbFragrance *fragrance = g_ptr_array_index (data->cell_fragrances, cell);
  double event = wb_readings_get (data->readings, row, WB_COLUMN_EVENT);

  g_string_append (text, data->experiment->code);
  append_text (text, vessel->name);
  append (text, vessel->inner_diameter_mm);
  append_text (text, data->wax->name);
  append_text (text, wick->series);
  append_text (text, wick->size);
  append (text, wick->step);
  append_text (text, fragrance != NULL ? fragrance->name : "");
  append (text, ((const WbCell *) g_ptr_array_index (data->cells, cell))->load_pct);
  append_text (text, of_sample->code);
  append (text, of_sample->tare_g);
  append (text, of_sample->fill_g);
  append (text, ((const WbBurn *) g_ptr_array_index (data->burns, burn))->number);
  append (text, wb_readings_get_elapsed_min (data->readings, row));
  for (guint c = 0; c < G_N_ELEMENTS (columns); c++)
    append (text, wb_readings_get (data->readings, row, columns[c].column));
  append_text (text, !isnan (event) && (int) event == WB_EVENT_SNUFFED ? "snuffed" : "");
  g_string_append_c (text, '\n');
}

static GString *
header_new (void)
{
  GString *text = g_string_new ("experiment,vessel,inner_diameter_mm,wax,wick_series,wick_size,wick_step,fragrance,load_pct,"
                                "sample,tare_g,fill_g,burn,elapsed_min");

  for (guint c = 0; c < G_N_ELEMENTS (columns); c++)
    append_text (text, columns[c].name);
  g_string_append (text, ",event\n");
  return text;
}

static void
append_truth (const World          *self,
              const WorldWickTruth *truth,
              guint                 wick,
              GString              *text)
{
  const WbWick *record = g_ptr_array_index (self->wick_records, wick);

  g_string_append_printf (text, "%u", self->number + 1);
  append (text, self->inner_mm[self->next_vessel]);
  append_text (text, ((WbWax *) g_ptr_array_index (self->wax_records, self->next_wax))->name);
  append (text, self->next_load_pct);
  append (text, world_fill_g (self));
  append_text (text, record->series);
  append_text (text, record->size);
  append (text, record->step);
  append (text, truth->score);
  append (text, truth->p_right);
  append (text, truth->p_cross);
  for (guint place = 0; place < WORLD_N_PLACES; place++)
    for (guint s = 0; s < WORLD_SAID_BURN_H; s++)
      append (text, truth->figure[place][s]);
  g_string_append_c (text, '\n');
}

static void
append_burnt (const World     *self,
              guint            earlier,
              const WbDataset *data,
              const GPtrArray *aims,
              GString         *text)
{
  g_autoptr (Lab) lab = world_lab_of (self, earlier);
  g_autofree LabTruth *truth = lab_truth_new (lab, aims);

  for (guint c = 0; c < data->cells->len; c++)
    {
      const WbWick *wick = g_ptr_array_index (data->cell_wicks, c);

      g_string_append_printf (text, "%u,%s", self->number + 1, data->experiment->code);
      append (text, ((const WbVessel *) g_ptr_array_index (data->cell_vessels, c))->inner_diameter_mm);
      append (text, ((const WbCell *) g_ptr_array_index (data->cells, c))->load_pct);
      append_text (text, wick->series);
      append_text (text, wick->size);
      append (text, truth[c].score);
      g_string_append_c (text, '\n');
    }
}

gboolean
world_export (const World *self,
              const char  *folder,
              const guint *counts,
              guint        n_counts,
              FILE        *truth,
              FILE        *burnt)
{
  g_autoptr (GString) text = header_new ();
  g_autoptr (GString) lines = g_string_new (NULL), cells = g_string_new (NULL);
  g_autoptr (GPtrArray) aims = wb_aims_new_house ();
  g_autofree WorldWickTruth *of_wicks = world_truth_new (self, aims);
  guint written = 0;

  for (guint i = 0; i < n_counts; i++)
    {
      g_autofree char *name = g_strdup_printf ("%u-%u.csv", self->number + 1, counts[i]);
      g_autofree char *path = g_build_filename (folder, name, NULL);

      for (; written < counts[i]; written++)
        {
          g_autoptr (WbDataset) data = world_burn (self, written);

          for (guint row = 0; row < wb_readings_get_length (data->readings); row++)
            append_row (text, data, row);
          append_burnt (self, written, data, aims, cells);
        }
      if (counts[i] > 0 && !g_file_set_contents (path, text->str, (gssize) text->len, NULL))
        return FALSE;
    }
  for (guint w = 0; w < self->n_wicks; w++)
    append_truth (self, &of_wicks[w], w, lines);
  return fputs (lines->str, truth) >= 0 && fputs (cells->str, burnt) >= 0;
}
