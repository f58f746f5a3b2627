/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-listing-private.h"

#include "wb-app-experiment-private.h"
#include "wb-app-stamp-private.h"
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
               WbAppLoads              *loads,
               gint64                   shared,
               const WbStoreExperiment *experiment,
               guint                   *waiting,
               GError                 **error)
{
  WbAppBenchLoad *load;

  *waiting = (guint) experiment->samples;
  if (experiment->closed || experiment->burns == 0 || experiment->readings > MOST_READINGS)
    return TRUE;
  load = wb_app_loads_get (loads, store, experiment->id, MAX (experiment->last_entry, shared), error);
  if (load == NULL)
    return FALSE;
  *waiting = 0;
  for (guint i = 0; i < load->data->samples->len; i++)
    *waiting += !counts_as_ended (load->data, load->figures, i);
  wb_app_bench_load_unref (load);
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
wb_app_listing_read (WbStore    *store,
                     WbAppLoads *loads,
                     GError    **error)
{
  g_autoptr (GPtrArray) counts = wb_store_list_experiments (store, wb_clock_now (wb_clock_get ()), error);
  g_autoptr (GPtrArray) records = counts != NULL ? wb_store_list (store, &wb_experiment_type, NULL, 0, error) : NULL;
  g_autoptr (GPtrArray) experiments = g_ptr_array_new_with_free_func (g_object_unref);
  gint64 shared = wb_app_stamp_get_shared (store);

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
      if (!count_waiting (store, loads, shared, count, &waiting, error))
        {
          wb_record_free (record);
          return NULL;
        }
      g_ptr_array_add (experiments, wb_app_experiment_new (record, count, waiting));
    }
  return g_steal_pointer (&experiments);
}
