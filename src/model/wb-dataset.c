/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-dataset.h"

#include <glib/gi18n-lib.h>
#include <math.h>

WbDataset *
wb_dataset_new (void)
{
  WbDataset *self = g_new0 (WbDataset, 1);
  GPtrArray **owned[] = {
    &self->limits, &self->aims, &self->cells, &self->vessels, &self->wicks, &self->fragrances, &self->batches, &self->batch_steps,
    &self->samples, &self->burns, &self->inspections, &self->decisions, &self->loggers,
  };
  GPtrArray **borrowed[] = { &self->cell_vessels, &self->cell_wicks, &self->cell_fragrances };
  GArray **indices[] = { &self->sample_cell, &self->burn_sample, &self->inspection_sample, &self->logger_burn };

  for (guint i = 0; i < G_N_ELEMENTS (owned); i++)
    *owned[i] = g_ptr_array_new_with_free_func (wb_record_free);
  for (guint i = 0; i < G_N_ELEMENTS (borrowed); i++)
    *borrowed[i] = g_ptr_array_new ();
  for (guint i = 0; i < G_N_ELEMENTS (indices); i++)
    *indices[i] = g_array_new (FALSE, FALSE, sizeof (guint));
  self->readings = wb_readings_new ();
  return self;
}

void
wb_dataset_free (WbDataset *self)
{
  if (self == NULL)
    return;

  GPtrArray *arrays[] = {
    self->limits, self->aims, self->cells, self->vessels, self->wicks, self->fragrances, self->batches, self->batch_steps, self->samples,
    self->burns, self->inspections, self->decisions, self->loggers, self->cell_vessels, self->cell_wicks, self->cell_fragrances,
  };
  gpointer records[] = {
    self->notebook, self->experiment, self->protocol, self->profile, self->wax, self->dye, self->additive,
  };

  for (guint i = 0; i < G_N_ELEMENTS (arrays); i++)
    g_ptr_array_unref (arrays[i]);
  for (guint i = 0; i < G_N_ELEMENTS (records); i++)
    wb_record_free (records[i]);
  g_array_unref (self->sample_cell);
  g_array_unref (self->burn_sample);
  g_array_unref (self->inspection_sample);
  g_array_unref (self->logger_burn);
  wb_readings_free (self->readings);
  g_free (self);
}

const WbVessel *
wb_dataset_get_vessel (const WbDataset *self,
                       guint            cell)
{
  g_return_val_if_fail (cell < self->cell_vessels->len, NULL);

  return g_ptr_array_index (self->cell_vessels, cell);
}

const WbWick *
wb_dataset_get_wick (const WbDataset *self,
                     guint            cell)
{
  g_return_val_if_fail (cell < self->cell_wicks->len, NULL);

  return g_ptr_array_index (self->cell_wicks, cell);
}

const WbFragrance *
wb_dataset_get_fragrance (const WbDataset *self,
                          guint            cell)
{
  g_return_val_if_fail (cell < self->cell_fragrances->len, NULL);

  return g_ptr_array_index (self->cell_fragrances, cell);
}

const WbCell *
wb_dataset_get_cell (const WbDataset *self,
                     guint            cell)
{
  g_return_val_if_fail (cell < self->cells->len, NULL);

  return g_ptr_array_index (self->cells, cell);
}

const WbSample *
wb_dataset_get_sample (const WbDataset *self,
                       guint            sample)
{
  g_return_val_if_fail (sample < self->samples->len, NULL);

  return g_ptr_array_index (self->samples, sample);
}

const WbBurn *
wb_dataset_get_burn (const WbDataset *self,
                     guint            burn)
{
  g_return_val_if_fail (burn < self->burns->len, NULL);

  return g_ptr_array_index (self->burns, burn);
}

static gboolean
several_series (const WbDataset *self)
{
  for (guint i = 1; i < self->cell_wicks->len; i++)
    if (g_strcmp0 (wb_dataset_get_wick (self, i)->series, wb_dataset_get_wick (self, 0)->series) != 0)
      return TRUE;
  return FALSE;
}

static gboolean
several_vessels (const WbDataset *self)
{
  for (guint i = 1; i < self->cell_vessels->len; i++)
    if (wb_dataset_get_vessel (self, i) != wb_dataset_get_vessel (self, 0))
      return TRUE;
  return FALSE;
}

/* A scent is a fragrance at a load with its basis. */
static gboolean
several_scents (const WbDataset *self)
{
  for (guint i = 1; i < self->cells->len; i++)
    {
      const WbCell *cell = wb_dataset_get_cell (self, i), *first = wb_dataset_get_cell (self, 0);

      if (cell->fragrance != first->fragrance || cell->load_pct != first->load_pct || cell->load_basis != first->load_basis)
        return TRUE;
    }
  return FALSE;
}

static gboolean
several_spacings (const WbDataset *self)
{
  for (guint i = 1; i < self->cells->len; i++)
    if (!wb_record_field_equal (wb_dataset_get_cell (self, i), wb_dataset_get_cell (self, 0),
                                wb_record_type_find_field (&wb_cell_type, "wick_spacing_mm")))
      return TRUE;
  return FALSE;
}

guint
wb_dataset_find_sample (const WbDataset *self,
                        gint64           id)
{
  g_return_val_if_fail (self != NULL, G_MAXUINT);

  for (guint i = 0; i < self->samples->len; i++)
    if (((const WbRecord *) g_ptr_array_index (self->samples, i))->id == id)
      return i;
  return G_MAXUINT;
}

static char *
dup_wick_name (const WbDataset *self,
               guint            cell,
               gboolean         with_series)
{
  const WbWick *wick = wb_dataset_get_wick (self, cell);
  const WbCell *record = wb_dataset_get_cell (self, cell);
  g_autoptr (GString) name = g_string_new (NULL);

  if (record->wick_count > 1)
    g_string_append_printf (name, "%" G_GINT64_FORMAT "\302\240\303\227\302\240", record->wick_count);
  if (with_series)
    g_string_append_printf (name, "%s ", wick->series);
  g_string_append (name, wick->size);
  if (record->wick_count > 1 && !isnan (record->wick_spacing_mm) && several_spacings (self))
    {
      g_autofree char *spacing = wb_number_format_trimmed (record->wick_spacing_mm, 1, NULL);

      /* Translators: how far the wicks of a candle stand apart */
      g_string_append_printf (name, _(", %s\302\240mm apart"), spacing);
    }
  return g_strdup (name->str);
}

char *
wb_dataset_dup_wick_name (const WbDataset *self,
                          guint            cell)
{
  return dup_wick_name (self, cell, several_series (self));
}

char *
wb_dataset_dup_wick_title (const WbDataset *self,
                           guint            cell)
{
  return dup_wick_name (self, cell, TRUE);
}

char *
wb_dataset_dup_scent_name (const WbDataset *self,
                           guint            cell)
{
  const WbFragrance *fragrance = wb_dataset_get_fragrance (self, cell);
  const WbCell *record = wb_dataset_get_cell (self, cell);
  g_autofree char *load = isnan (record->load_pct) ? NULL : wb_number_format_trimmed (record->load_pct, 2, NULL);

  if (fragrance == NULL && (load == NULL || record->load_pct == 0))
    return g_strdup (_("no fragrance"));

  const char *basis = record->load_basis == WB_BASIS_TOTAL ? _(" of the total") : "";

  return g_strdup_printf ("%s %s\302\240%%%s", fragrance != NULL ? fragrance->name : _("unnamed fragrance"),
                          load != NULL ? load : "?", basis);
}

char *
wb_dataset_dup_cell_name (const WbDataset *self,
                          guint            cell)
{
  g_autoptr (GString) name = g_string_new (NULL);
  g_autofree char *wick = wb_dataset_dup_wick_name (self, cell);

  if (several_vessels (self))
    {
      g_autofree char *vessel = wb_material_dup_title (wb_dataset_get_vessel (self, cell));

      g_string_append_printf (name, "%s · ", vessel);
    }
  g_string_append (name, wick);
  if (several_scents (self))
    {
      g_autofree char *scent = wb_dataset_dup_scent_name (self, cell);

      g_string_append_printf (name, " · %s", scent);
    }
  return g_strdup (name->str);
}
