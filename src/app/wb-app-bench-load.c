/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-bench-private.h"

#include "wb-app-loads-private.h"
#include "wb-app-running-private.h"
#include "wb-app-stamp-private.h"
#include "wb-clock.h"
#include "wb-craft-alight.h"
#include "wb-store-dataset.h"
#include "wb-store-records.h"

/*
 * What the bench reads, in a thread. An experiment is read again only when an
 * entry touched it. A log from a file with more readings than a person takes
 * at a bench is an archive, not something that burns tonight.
 */
#define MOST_IMPORTED_READINGS 20000
/* Candles of an experiment that came in whole from a file are taken for put away where none has burnt for so long. Common practice, no source. */
#define PUT_AWAY_DAYS 90

WbAppBenchLoad *
wb_app_bench_load_ref (WbAppBenchLoad *self)
{
  g_atomic_ref_count_inc (&self->ref_count);
  return self;
}

void
wb_app_bench_load_unref (WbAppBenchLoad *self)
{
  if (!g_atomic_ref_count_dec (&self->ref_count))
    return;
  g_clear_pointer (&self->notes, g_array_unref);
  g_clear_pointer (&self->crossings, g_free);
  g_clear_pointer (&self->figures, wb_craft_figures_free);
  g_clear_pointer (&self->data, wb_dataset_free);
  g_free (self);
}

void
wb_app_bench_read_free (WbAppBenchRead *self)
{
  if (self == NULL)
    return;
  g_ptr_array_unref (self->loads);
  g_clear_pointer (&self->session, wb_record_free);
  g_clear_pointer (&self->running, g_hash_table_unref);
  g_free (self);
}

double
wb_app_bench_burn_end_min (const WbDataset *data,
                           guint            burn)
{
  guint sample = g_array_index (data->burn_sample, guint, burn);
  const WbCell *cell = wb_dataset_get_cell (data, g_array_index (data->sample_cell, guint, sample));
  guint first, n;

  wb_readings_get_burn_rows (data->readings, burn, &first, &n);
  return wb_craft_alight_out_min (data->readings, first, n, (guint) MAX (cell->wick_count, 1));
}

WbInstant
wb_app_bench_find_file_lit_at (const WbDataset *data)
{
  WbInstant last = WB_INSTANT_NONE;

  if (!data->experiment->imported || data->batches->len > 0)
    return WB_INSTANT_NONE;
  for (guint i = 0; i < data->burns->len; i++)
    {
      const WbBurn *burn = wb_dataset_get_burn (data, i);

      if (burn->session != 0)
        return WB_INSTANT_NONE;
      /* Where nobody says when they burnt it may have been last night. */
      if (burn->lit_at.known && (!last.known || burn->lit_at.utc_us > last.utc_us))
        last = burn->lit_at;
    }
  return last;
}

gboolean
wb_app_bench_load_is_put_away (const WbAppBenchLoad *load,
                               WbInstant             now)
{
  WbInstant last = load->file_lit_at;

  return last.known && wb_instant_get_day (now) - wb_instant_get_day (last) > PUT_AWAY_DAYS;
}

gboolean
wb_app_bench_has_experiment (const WbStoreExperiment *experiment)
{
  if (experiment->closed || experiment->samples == 0)
    return FALSE;
  return !experiment->imported || experiment->readings <= MOST_IMPORTED_READINGS;
}

static gboolean
read_session (WbStore        *store,
              WbAppBenchRead *into,
              GError        **error)
{
  g_autoptr (GPtrArray) sessions = wb_store_list (store, &wb_session_type, NULL, 0, error);

  if (sessions == NULL)
    return FALSE;
  into->n_sessions = sessions->len;
  for (guint i = sessions->len; i > 0; i--)
    {
      const WbSession *session = g_ptr_array_index (sessions, i - 1);

      if (!session->closed_at.known)
        {
          into->session = wb_record_copy (session);
          break;
        }
    }
  return TRUE;
}

/* Before the record: a lighting is noted in the state folder before it is in the file. */
static void
read_running (WbStore        *store,
              WbAppBenchRead *into)
{
  g_autoptr (WbRecord) notebook = wb_store_load_notebook (store, NULL);
  g_autoptr (WbEntry) last = wb_store_load_entry (store, wb_store_get_last_entry (store), NULL);

  if (notebook != NULL)
    into->running = wb_app_running_list (&((WbNotebook *) notebook)->uuid);
  else
    into->running = g_hash_table_new (g_str_hash, g_str_equal);
  into->entry = wb_store_get_last_entry (store);
  into->last_entry = last != NULL ? last->at : WB_INSTANT_NONE;
}

gpointer
wb_app_bench_read_thread (WbStore      *store,
                          gpointer      data,
                          GCancellable *cancellable,
                          GError      **error)
{
  WbAppLoads *loads = data;
  g_autoptr (GPtrArray) experiments = wb_store_list_experiments (store, wb_clock_now (wb_clock_get ()), error);
  WbAppBenchRead *read = g_new0 (WbAppBenchRead, 1);
  gint64 shared = wb_app_stamp_get_shared (store);

  read_running (store, read);
  read->loads = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_app_bench_load_unref);
  if (experiments == NULL || !read_session (store, read, error))
    {
      wb_app_bench_read_free (read);
      return NULL;
    }
  for (guint i = 0; i < experiments->len; i++)
    {
      const WbStoreExperiment *experiment = g_ptr_array_index (experiments, i);
      WbAppBenchLoad *load;

      if (!wb_app_bench_has_experiment (experiment))
        continue;
      load = wb_app_loads_get (loads, store, experiment->id, MAX (experiment->last_entry, shared), error);
      if (load == NULL || g_cancellable_set_error_if_cancelled (cancellable, error))
        {
          g_clear_pointer (&load, wb_app_bench_load_unref);
          wb_app_bench_read_free (read);
          return NULL;
        }
      g_ptr_array_add (read->loads, load);
    }
  wb_app_loads_trim (loads);
  return read;
}
