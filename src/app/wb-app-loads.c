/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-loads-private.h"

#include "wb-craft-cohorts.h"
#include "wb-store-dataset.h"

typedef struct
{
  gint64          experiment;
  gint64          stamp;
  WbAppBenchLoad *load; /* NULL: being read */
} Slot;

struct _WbAppLoads
{
  gatomicrefcount  refs;
  GMutex           mutex;
  GCond            settled; /* a reading has come to an end */
  GPtrArray       *slots;
};

static void
slot_free (gpointer data)
{
  Slot *slot = data;

  g_clear_pointer (&slot->load, wb_app_bench_load_unref);
  g_free (slot);
}

WbAppLoads *
wb_app_loads_new (void)
{
  WbAppLoads *self = g_new0 (WbAppLoads, 1);

  g_atomic_ref_count_init (&self->refs);
  g_mutex_init (&self->mutex);
  g_cond_init (&self->settled);
  self->slots = g_ptr_array_new_with_free_func (slot_free);
  return self;
}

WbAppLoads *
wb_app_loads_ref (WbAppLoads *self)
{
  g_atomic_ref_count_inc (&self->refs);
  return self;
}

void
wb_app_loads_unref (WbAppLoads *self)
{
  if (!g_atomic_ref_count_dec (&self->refs))
    return;
  g_ptr_array_unref (self->slots);
  g_cond_clear (&self->settled);
  g_mutex_clear (&self->mutex);
  g_free (self);
}

/* One of which all that is left crossed a limit keeps no other waiting. */
static gint64
find_cohort (const WbAppBenchLoad *load)
{
  g_autofree gboolean *over = wb_craft_crossings_dup_over (load->crossings, load->data, load->figures);

  return wb_craft_cohorts_find_running (load->data, over);
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
  load->cohort = find_cohort (load);
  load->file_lit_at = wb_app_bench_find_file_lit_at (data);
  load->notes = wb_app_bench_notes_find (load);
  return load;
}

static Slot *
find_slot (WbAppLoads *self,
           gint64      experiment,
           gint64      stamp)
{
  for (guint i = 0; i < self->slots->len; i++)
    {
      Slot *slot = g_ptr_array_index (self->slots, i);

      if (slot->experiment == experiment && slot->stamp == stamp)
        return slot;
    }
  return NULL;
}

static Slot *
add_slot (WbAppLoads *self,
          gint64      experiment,
          gint64      stamp)
{
  Slot *slot = g_new0 (Slot, 1);

  slot->experiment = experiment;
  slot->stamp = stamp;
  g_ptr_array_add (self->slots, slot);
  return slot;
}

/* What was read before a newer one of the same experiment; who reads it now still finds its slot. */
static void
drop_older (WbAppLoads *self,
            const Slot *newest)
{
  for (guint i = self->slots->len; i > 0; i--)
    {
      const Slot *slot = g_ptr_array_index (self->slots, i - 1);

      if (slot->experiment == newest->experiment && slot->stamp < newest->stamp && slot->load != NULL)
        g_ptr_array_remove_index_fast (self->slots, i - 1);
    }
}

WbAppBenchLoad *
wb_app_loads_get (WbAppLoads *self,
                  WbStore    *store,
                  gint64      experiment,
                  gint64      stamp,
                  GError    **error)
{
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&self->mutex);
  WbAppBenchLoad *load;
  Slot *slot;

  while ((slot = find_slot (self, experiment, stamp)) != NULL && slot->load == NULL)
    g_cond_wait (&self->settled, &self->mutex);
  if (slot != NULL)
    return wb_app_bench_load_ref (slot->load);
  slot = add_slot (self, experiment, stamp);
  g_mutex_unlock (&self->mutex);
  load = load_new (store, experiment, stamp, error);
  g_mutex_lock (&self->mutex);
  if (load == NULL)
    g_ptr_array_remove_fast (self->slots, slot);
  else
    {
      slot->load = wb_app_bench_load_ref (load);
      drop_older (self, slot);
    }
  g_cond_broadcast (&self->settled);
  return load;
}

void
wb_app_loads_trim (WbAppLoads *self)
{
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&self->mutex);

  for (guint i = self->slots->len; i > 0; i--)
    {
      const Slot *slot = g_ptr_array_index (self->slots, i - 1);

      if (slot->load != NULL && g_atomic_ref_count_compare (&slot->load->ref_count, 1))
        g_ptr_array_remove_index_fast (self->slots, i - 1);
    }
}
