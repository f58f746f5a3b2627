/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-listing-private.h"

#include "wb-app-experiment-private.h"
#include "wb-clock.h"
#include "wb-store-records.h"

/*
 * Whether a sample is burnt to its end is read from its burns. Past this many
 * readings an experiment that nobody closed counts as burning, so that a list does not cost
 * by the readings of an archive.
 */
#define MOST_READINGS 20000

static gboolean
counts_as_ended (const WbDataset      *data,
                 const WbCraftFigures *figures,
                 guint                 sample)
{
  const WbSample *record = wb_dataset_get_sample (data, sample);

  return figures->ended[sample] || record->set_aside_cause >= 0 || record->set_aside != NULL || record->retained;
}

/* Samples that are still to be burnt; FALSE with an error. */
static gboolean
count_waiting (WbStore                 *store,
               const WbStoreExperiment *experiment,
               guint                   *waiting,
               GError                 **error)
{
  g_autoptr (WbDataset) data = NULL;
  g_autoptr (WbCraftFigures) figures = NULL;

  *waiting = (guint) experiment->samples;
  if (experiment->closed || experiment->burns == 0 || experiment->readings > MOST_READINGS)
    return TRUE;
  data = wb_store_load_dataset (store, experiment->id, error);
  if (data == NULL)
    return FALSE;
  figures = wb_craft_figures_new (data);
  *waiting = 0;
  for (guint i = 0; i < data->samples->len; i++)
    *waiting += !counts_as_ended (data, figures, i);
  return TRUE;
}

static WbExperiment *
steal_record (GPtrArray *records,
              gint64     id)
{
  for (guint i = 0; i < records->len; i++)
    if (((const WbRecord *) g_ptr_array_index (records, i))->id == id)
      return g_ptr_array_steal_index_fast (records, i);
  return NULL;
}

GPtrArray *
wb_app_listing_read (WbStore *store,
                     GError **error)
{
  g_autoptr (GPtrArray) counts = wb_store_list_experiments (store, wb_clock_now (wb_clock_get ()), error);
  g_autoptr (GPtrArray) records = counts != NULL ? wb_store_list (store, &wb_experiment_type, NULL, 0, error) : NULL;
  g_autoptr (GPtrArray) experiments = g_ptr_array_new_with_free_func (g_object_unref);

  if (records == NULL)
    return NULL;
  for (guint i = 0; i < counts->len; i++)
    {
      const WbStoreExperiment *count = g_ptr_array_index (counts, i);
      WbExperiment *record = steal_record (records, count->id);
      guint waiting;

      /* Between the two reads another process may have deleted it: the next look takes it away. */
      if (record == NULL)
        continue;
      if (!count_waiting (store, count, &waiting, error))
        {
          wb_record_free (record);
          return NULL;
        }
      g_ptr_array_add (experiments, wb_app_experiment_new (record, count, waiting));
    }
  return g_steal_pointer (&experiments);
}
