/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-bench-private.h"

#include "wb-app-stamp-private.h"
#include "wb-clock.h"
#include "wb-store-dataset.h"
#include "wb-store-records.h"

#include <math.h>

/*
 * What the bench reads, in a thread. An experiment is read again only when an
 * entry touched it. A log from a file with more readings than a person takes
 * at a bench is an archive, not something that burns tonight.
 */
#define MOST_IMPORTED_READINGS 20000

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
  g_free (self);
}

double
wb_app_bench_burn_end_min (const WbDataset *data,
                           guint            burn)
{
  double end = NAN;
  guint first, n;

  wb_readings_get_burn_rows (data->readings, burn, &first, &n);
  for (guint row = first; row < first + n; row++)
    {
      double event = wb_readings_get (data->readings, row, WB_COLUMN_EVENT);

      if (isnan (event))
        continue;
      if ((int) event == WB_EVENT_SNUFFED || (int) event == WB_EVENT_SELF_EXTINGUISHED || (int) event == WB_EVENT_END_OF_LIFE)
        end = wb_readings_get_elapsed_min (data->readings, row);
      else if ((int) event == WB_EVENT_RELIT)
        end = NAN;
    }
  return end;
}

static gboolean
belongs_at_the_bench (const WbStoreExperiment *experiment)
{
  if (experiment->closed || experiment->samples == 0)
    return FALSE;
  return !experiment->imported || experiment->readings <= MOST_IMPORTED_READINGS;
}

static WbAppBenchLoad *
find_held (GPtrArray *held,
           gint64     experiment,
           gint64     stamp)
{
  for (guint i = 0; i < held->len; i++)
    {
      WbAppBenchLoad *load = g_ptr_array_index (held, i);

      if (load->id == experiment && load->stamp == stamp)
        return load;
    }
  return NULL;
}

static WbAppBenchLoad *
load_new (WbStore *store,
          gint64   experiment,
          gint64   stamp,
          GError **error)
{
  WbDataset *data = wb_store_load_dataset (store, experiment, error);
  WbAppBenchLoad *load;

  if (data == NULL)
    return NULL;
  load = g_new0 (WbAppBenchLoad, 1);
  g_atomic_ref_count_init (&load->ref_count);
  load->id = experiment;
  load->stamp = stamp;
  load->data = data;
  load->figures = wb_craft_figures_new (data);
  load->crossings = wb_craft_crossings_new (data);
  return load;
}

static gboolean
read_session (WbStore        *store,
              WbAppBenchRead *into,
              GError        **error)
{
  g_autoptr (GPtrArray) sessions = wb_store_list (store, &wb_session_type, NULL, 0, error);

  if (sessions == NULL)
    return FALSE;
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

gpointer
wb_app_bench_read_thread (WbStore      *store,
                          gpointer      data,
                          GCancellable *cancellable,
                          GError      **error)
{
  GPtrArray *held = data;
  g_autoptr (GPtrArray) experiments = wb_store_list_experiments (store, wb_clock_now (wb_clock_get ()), error);
  WbAppBenchRead *read = g_new0 (WbAppBenchRead, 1);
  gint64 shared = wb_app_stamp_get_shared (store);

  read->loads = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_app_bench_load_unref);
  if (experiments == NULL || !read_session (store, read, error))
    {
      wb_app_bench_read_free (read);
      return NULL;
    }
  for (guint i = 0; i < experiments->len; i++)
    {
      const WbStoreExperiment *experiment = g_ptr_array_index (experiments, i);
      gint64 stamp = MAX (experiment->last_entry, shared);
      WbAppBenchLoad *load;

      if (!belongs_at_the_bench (experiment))
        continue;
      load = find_held (held, experiment->id, stamp);
      load = load != NULL ? wb_app_bench_load_ref (load) : load_new (store, experiment->id, stamp, error);
      if (load == NULL || g_cancellable_set_error_if_cancelled (cancellable, error))
        {
          g_clear_pointer (&load, wb_app_bench_load_unref);
          wb_app_bench_read_free (read);
          return NULL;
        }
      g_ptr_array_add (read->loads, load);
    }
  return read;
}
