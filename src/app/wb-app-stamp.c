/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-stamp-private.h"

#include "wb-clock.h"
#include "wb-experiment.h"
#include "wb-store-dataset.h"

gint64
wb_app_stamp_get_shared (WbStore *store)
{
  const WbRecordType *const shared[] = {
    &wb_vessel_type, &wb_wax_type, &wb_wick_type, &wb_fragrance_type, &wb_dye_type, &wb_additive_type,
    &wb_protocol_type, &wb_limit_type, &wb_profile_type, &wb_aim_type,
    &wb_notebook_type, /* an answer's words are in its units, its report under its letterhead */
  };
  gint64 stamp = 0;

  for (guint i = 0; i < G_N_ELEMENTS (shared); i++)
    stamp = MAX (stamp, wb_store_get_type_entry (store, shared[i]));
  return stamp;
}

GHashTable *
wb_app_stamp_list (WbStore *store,
                   GError **error)
{
  g_autoptr (GPtrArray) experiments = wb_store_list_experiments (store, wb_clock_now (wb_clock_get ()), error);
  gint64 shared;
  GHashTable *stamps;

  if (experiments == NULL)
    return NULL;
  shared = wb_app_stamp_get_shared (store);
  stamps = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  for (guint i = 0; i < experiments->len; i++)
    {
      const WbStoreExperiment *experiment = g_ptr_array_index (experiments, i);
      gint64 stamp = MAX (experiment->last_entry, shared);

      g_hash_table_insert (stamps, g_memdup2 (&experiment->id, sizeof (gint64)), g_memdup2 (&stamp, sizeof stamp));
    }
  return stamps;
}

gint64
wb_app_stamp_find (GHashTable *stamps,
                   gint64      experiment)
{
  const gint64 *stamp = g_hash_table_lookup (stamps, &experiment);

  return stamp != NULL ? *stamp : 0;
}

/* The last step of splitmix64 (Steele, Lea and Flood, OOPSLA 2014): neighbours come out far apart. */
static guint64
scatter (guint64 x)
{
  x = (x ^ (x >> 30)) * G_GUINT64_CONSTANT (0xbf58476d1ce4e5b9);
  x = (x ^ (x >> 27)) * G_GUINT64_CONSTANT (0x94d049bb133111eb);
  return x ^ (x >> 31);
}

gint64
wb_app_stamp_find_whole (GHashTable *stamps)
{
  GHashTableIter iter;
  gpointer id, stamp;
  guint64 whole = 0;

  g_hash_table_iter_init (&iter, stamps);
  /* a sum, since the table has no order */
  while (g_hash_table_iter_next (&iter, &id, &stamp))
    whole += scatter (scatter ((guint64) *(gint64 *) id) + (guint64) *(gint64 *) stamp);
  return (gint64) whole;
}
