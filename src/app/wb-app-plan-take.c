/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-plan-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* A plan that begins with what another experiment was planned with. */

gboolean
wb_app_plan_can_replace (const WbDataset *data)
{
  g_return_val_if_fail (data != NULL, FALSE);

  if (data->experiment->imported || data->experiment->closed || data->burns->len > 0 || data->batches->len > 0)
    return FALSE;
  for (guint i = 0; i < data->samples->len; i++)
    if (wb_dataset_get_sample (data, i)->poured_on != WB_DAY_NONE || wb_dataset_get_sample (data, i)->batch != 0)
      return FALSE;
  return TRUE;
}

static gboolean
is_listed (const GArray *scents,
           const WbCell *cell)
{
  for (guint i = 0; i < scents->len; i++)
    {
      const WbCraftScent *scent = &g_array_index (scents, WbCraftScent, i);

      if (scent->fragrance == cell->fragrance && (cell->fragrance == 0 || (scent->load_pct == cell->load_pct && (int) scent->load_basis == cell->load_basis)))
        return TRUE;
    }
  return FALSE;
}

static void
take_scents (WbAppPlan       *plan,
             const WbDataset *data)
{
  g_autoptr (GArray) scents = g_array_new (FALSE, FALSE, sizeof (WbCraftScent));

  for (guint i = 0; i < data->cells->len; i++)
    {
      const WbCell *cell = wb_dataset_get_cell (data, i);
      WbCraftScent scent = { cell->fragrance, cell->fragrance != 0 ? cell->load_pct : 0, (WbBasis) cell->load_basis };

      if (!is_listed (scents, cell))
        g_array_append_val (scents, scent);
    }
  wb_app_plan_set_scents (plan, scents);
}

/* Every wick of the other's, in as many as it was tried there. */
static void
take_wicks (WbAppPlan       *plan,
            const WbDataset *data)
{
  for (guint i = 0; i < data->cells->len; i++)
    {
      const WbCell *cell = wb_dataset_get_cell (data, i);

      wb_app_plan_set_wick_choice (plan, cell->wick, (guint) MAX (cell->wick_count, 1), cell->wick_spacing_mm, TRUE);
    }
}

/* What the other did not ask about is off, whether it was left out there or its grid was not full. */
static void
take_cells (WbAppPlan       *plan,
            const WbDataset *data)
{
  const GPtrArray *cells = wb_app_plan_get_cells (plan);
  g_autoptr (GArray) asked = g_array_new (FALSE, FALSE, sizeof (guint)), off = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint i = 0; i < cells->len; i++)
    {
      const WbCell *own = g_ptr_array_index (cells, i);
      gboolean on = FALSE;

      for (guint k = 0; k < data->cells->len; k++)
        {
          const WbCell *other = wb_dataset_get_cell (data, k);

          if (wb_app_plan_is_same_cell (own, other))
            on = on || !other->left_out;
        }
      g_array_append_val (on ? asked : off, i);
    }
  wb_app_plan_set_cells_on (plan, asked, TRUE);
  wb_app_plan_set_cells_on (plan, off, FALSE);
}

static int
compare_ids (gconstpointer a,
             gconstpointer b)
{
  gint64 first = (*(const WbRecord *const *) a)->id, second = (*(const WbRecord *const *) b)->id;

  return (first > second) - (first < second);
}

/* The other's samples, in the order in which they were planned, then its cells. */
static GPtrArray *
dup_former (const WbDataset *data)
{
  GPtrArray *former = g_ptr_array_new_with_free_func (wb_record_free);

  for (guint i = 0; i < data->samples->len; i++)
    g_ptr_array_add (former, wb_record_copy (g_ptr_array_index (data->samples, i)));
  g_ptr_array_sort (former, compare_ids);
  for (guint i = 0; i < data->cells->len; i++)
    g_ptr_array_add (former, wb_record_copy (g_ptr_array_index (data->cells, i)));
  return former;
}

/* A copy that is stored as a new record. */
static gpointer
dup_fresh (gconstpointer source)
{
  WbRecord *record = wb_record_copy (source);
  const WbFieldSpec *uuid = wb_record_type_find_field (record->type, "uuid");

  record->id = 0;
  record->entry = 0;
  if (uuid != NULL)
    wb_record_set_uuid (record, uuid, (WbUuid) { 0 });
  return record;
}

/* A plan's protocol is named after its experiment: that is not carried on. */
static WbProtocol *
dup_fresh_protocol (const WbDataset *data)
{
  WbProtocol *protocol = dup_fresh (data->protocol);
  g_autofree char *end = g_strdup_printf (", %s", data->experiment->code);

  if (protocol->name != NULL && g_str_has_suffix (protocol->name, end))
    protocol->name[strlen (protocol->name) - strlen (end)] = '\0';
  return protocol;
}

void
wb_app_plan_take (WbAppPlan       *self,
                  const WbDataset *data,
                  gboolean         replaces)
{
  GPtrArray *limits = g_ptr_array_new_with_free_func (wb_record_free);
  g_autofree char *again = NULL;
  WbExperiment *experiment;

  g_return_if_fail (WB_IS_APP_PLAN (self));
  g_return_if_fail (data != NULL);
  g_return_if_fail (!replaces || wb_app_plan_can_replace (data));

  for (guint i = 0; i < data->limits->len; i++)
    g_ptr_array_add (limits, replaces ? wb_record_copy (g_ptr_array_index (data->limits, i)) : dup_fresh (g_ptr_array_index (data->limits, i)));
  experiment = replaces ? wb_record_copy (data->experiment) : dup_fresh (data->experiment);
  if (!replaces)
    {
      experiment->closed = FALSE;
      experiment->imported = FALSE;
      experiment->repeats = 0;
      experiment->samples_per_cell = wb_craft_planned_count_samples (data);
      /* Translators: title of the experiment that a plan begins with; no two have the same. */
      again = g_strdup_printf (_("%s, again"), data->experiment->title);
      wb_record_set_text (experiment, wb_record_type_find_field (&wb_experiment_type, "title"), again);
    }
  wb_app_plan_put (self, experiment, replaces ? wb_record_copy (data->protocol) : dup_fresh_protocol (data), limits,
                   replaces ? dup_former (data) : NULL);
  for (guint i = 0; i < data->vessels->len; i++)
    wb_app_plan_set_vessel (self, ((const WbRecord *) g_ptr_array_index (data->vessels, i))->id, TRUE);
  take_wicks (self, data);
  take_scents (self, data);
  wb_app_plan_take_order (self, data);
  take_cells (self, data);
}

void
wb_app_plan_repeat (WbAppPlan       *self,
                    const WbDataset *source)
{
  g_return_if_fail (WB_IS_APP_PLAN (self));
  g_return_if_fail (source != NULL);

  wb_app_plan_take (self, source, FALSE);
  wb_app_plan_get_experiment (self)->repeats = source->experiment->record.id;
  wb_app_plan_set_repeated (self, source);
}

static gboolean
has_id (const GArray *cells,
        const WbCell *cell)
{
  for (guint i = 0; i < cells->len; i++)
    if (g_array_index (cells, gint64, i) == cell->record.id)
      return TRUE;
  return FALSE;
}

static gboolean
is_same_choice (const WbCell *a,
                const WbCell *b)
{
  return a->wick == b->wick && a->wick_count == b->wick_count
         && (a->wick_spacing_mm == b->wick_spacing_mm || (isnan (a->wick_spacing_mm) && isnan (b->wick_spacing_mm)));
}

/* Vessels and wicks of which nothing is wanted do not stand in the grid at all. */
static void
drop_unwanted (WbAppPlan       *self,
               const WbDataset *source,
               const GArray    *cells)
{
  for (guint i = 0; i < source->cells->len; i++)
    {
      const WbCell *cell = wb_dataset_get_cell (source, i);
      gboolean vessel = FALSE, wick = FALSE;

      for (guint k = 0; k < source->cells->len; k++)
        {
          const WbCell *other = wb_dataset_get_cell (source, k);

          vessel = vessel || (other->vessel == cell->vessel && has_id (cells, other));
          wick = wick || (is_same_choice (cell, other) && has_id (cells, other));
        }
      if (!vessel)
        wb_app_plan_set_vessel (self, cell->vessel, FALSE);
      if (!wick)
        wb_app_plan_set_wick_choice (self, cell->wick, (guint) MAX (cell->wick_count, 1), cell->wick_spacing_mm, FALSE);
    }
}

static gboolean
is_wanted (const WbDataset *source,
           const GArray    *cells,
           const WbCell    *own)
{
  for (guint i = 0; i < source->cells->len; i++)
    {
      const WbCell *cell = wb_dataset_get_cell (source, i);

      if (wb_app_plan_is_same_cell (own, cell) && has_id (cells, cell))
        return TRUE;
    }
  return FALSE;
}

void
wb_app_plan_repeat_some (WbAppPlan       *self,
                         const WbDataset *source,
                         const GArray    *cells,
                         guint            samples)
{
  g_autoptr (GArray) off = g_array_new (FALSE, FALSE, sizeof (guint));
  const GPtrArray *own;

  g_return_if_fail (WB_IS_APP_PLAN (self));
  g_return_if_fail (source != NULL && cells != NULL);
  g_return_if_fail (samples > 0);

  wb_app_plan_repeat (self, source);
  drop_unwanted (self, source, cells);
  own = wb_app_plan_get_cells (self);
  for (guint i = 0; i < own->len; i++)
    if (!is_wanted (source, cells, g_ptr_array_index (own, i)))
      g_array_append_val (off, i);
  wb_app_plan_set_cells_on (self, off, FALSE);
  wb_app_plan_get_experiment (self)->samples_per_cell = samples;
  wb_app_plan_touch (self);
}

void
wb_app_plan_choose_only (WbAppPlan *self)
{
  const WbAppMaterials *materials;

  g_return_if_fail (WB_IS_APP_PLAN (self));

  materials = wb_app_plan_get_materials (self);
  if (materials->waxes->len == 1)
    wb_app_plan_get_experiment (self)->wax = ((const WbRecord *) g_ptr_array_index (materials->waxes, 0))->id;
  if (materials->vessels->len == 1)
    wb_app_plan_set_vessel (self, ((const WbRecord *) g_ptr_array_index (materials->vessels, 0))->id, TRUE);
  wb_app_plan_touch (self);
}
