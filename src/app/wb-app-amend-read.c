/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-amend-private.h"

#include "wb-craft-alight.h"
#include "wb-store.h"

#include <math.h>

/* What there is to amend of one sample, read in a thread. */

/* One array of versions a record, of an array that is in order of id; borrows the records. */
static GPtrArray *
split_by_record (GPtrArray *all)
{
  GPtrArray *records = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  GPtrArray *versions = NULL;
  gint64 id = 0;

  for (guint i = 0; i < all->len; i++)
    {
      WbRecord *version = g_ptr_array_index (all, i);

      if (versions == NULL || version->id != id)
        {
          versions = g_ptr_array_new ();
          g_ptr_array_add (records, versions);
        }
      id = version->id;
      g_ptr_array_add (versions, version);
    }
  return records;
}

/* Appends an item for each record that has something to show. */
static gboolean
add_items (WbStore   *store,
           GPtrArray *all,
           int        burn,
           GPtrArray *items,
           GError   **error)
{
  g_autoptr (GPtrArray) records = split_by_record (all);

  for (guint i = 0; i < records->len; i++)
    {
      GError *local = NULL;
      WbAppAmendItem *item = wb_app_amend_item_new (store, g_ptr_array_index (records, i), burn, &local);

      if (local != NULL)
        {
          g_propagate_error (error, local);
          return FALSE;
        }
      if (item != NULL)
        g_ptr_array_add (items, item);
    }
  return TRUE;
}

static const WbReading *
get_reading (gconstpointer item)
{
  return wb_app_amend_item_get_record (*(WbAppAmendItem *const *) item);
}

/* From the last to the first. */
static int
order_readings (gconstpointer a,
                gconstpointer b)
{
  const WbReading *one = get_reading (a), *other = get_reading (b);

  if (one->elapsed_min != other->elapsed_min)
    return one->elapsed_min > other->elapsed_min ? -1 : 1;
  return one->record.id > other->record.id ? -1 : one->record.id < other->record.id;
}

static int
order_burns (gconstpointer a,
             gconstpointer b)
{
  const WbBurn *one = wb_app_amend_item_get_record (*(WbAppAmendItem *const *) a);
  const WbBurn *other = wb_app_amend_item_get_record (*(WbAppAmendItem *const *) b);

  return one->number > other->number ? -1 : one->number < other->number;
}

/* Minute at which the burn's last flame was out, by its readings (newest first) without one of them; NAN: one burns. */
static double
find_end (GPtrArray            *readings,
          const WbAppAmendItem *without,
          guint                 n_wicks)
{
  g_autoptr (WbReadings) ends = wb_readings_new ();

  for (guint i = readings->len; i > 0; i--)
    {
      WbAppAmendItem *item = g_ptr_array_index (readings, i - 1);
      const WbReading *reading = wb_app_amend_item_get_record (item);
      guint row;

      if (item == without || wb_app_amend_item_get_taken_out (item) || isnan (reading->values[WB_COLUMN_EVENT]))
        continue;
      row = wb_readings_append (ends, reading->record.id, 0, reading->elapsed_min);
      wb_readings_set (ends, row, WB_COLUMN_EVENT, reading->values[WB_COLUMN_EVENT]);
      wb_readings_set (ends, row, WB_COLUMN_WICK_NUMBER, reading->values[WB_COLUMN_WICK_NUMBER]);
    }
  return wb_craft_alight_out_min (ends, 0, wb_readings_get_length (ends), n_wicks);
}

/* The end that a burn of the bench has, of several wicks each one's: without it the flame would burn on in the record. */
static void
mark_end (const WbBurn *burn,
          GPtrArray    *readings,
          guint         n_wicks)
{
  if (burn->session == 0 || isnan (find_end (readings, NULL, n_wicks)))
    return;
  for (guint i = 0; i < readings->len; i++)
    {
      WbAppAmendItem *item = g_ptr_array_index (readings, i);
      const WbReading *reading = wb_app_amend_item_get_record (item);

      if (!wb_app_amend_item_get_taken_out (item) && wb_event_ends_burn (reading->values[WB_COLUMN_EVENT])
          && isnan (find_end (readings, item, n_wicks)))
        wb_app_amend_item_set_ends_burn (item);
    }
}

static gboolean
add_burn (WbStore        *store,
          WbAppAmendItem *burn,
          guint           n_wicks,
          GPtrArray      *items,
          GError        **error)
{
  const WbBurn *record = wb_app_amend_item_get_record (burn);
  g_autoptr (GPtrArray) all = wb_store_list_versions (store, &wb_reading_type, "burn", record->record.id, error);
  g_autoptr (GPtrArray) readings = g_ptr_array_new_with_free_func (g_object_unref);

  if (all == NULL || !add_items (store, all, (int) record->number, readings, error))
    return FALSE;
  g_ptr_array_sort (readings, order_readings);
  mark_end (record, readings, n_wicks);
  g_ptr_array_add (items, g_object_ref (burn));
  g_ptr_array_extend (items, readings, (GCopyFunc) (void (*) (void)) g_object_ref, NULL);
  return TRUE;
}

/* A burn's number stands in its record: an item of its own for each. */
static gboolean
list_burns (WbStore   *store,
            gint64     sample,
            GPtrArray *burns,
            GError   **error)
{
  g_autoptr (GPtrArray) all = wb_store_list_versions (store, &wb_burn_type, "sample", sample, error);
  g_autoptr (GPtrArray) records = all != NULL ? split_by_record (all) : NULL;

  for (guint i = 0; records != NULL && i < records->len; i++)
    {
      GPtrArray *versions = g_ptr_array_index (records, i);
      const WbBurn *newest = g_ptr_array_index (versions, versions->len - 1);
      WbAppAmendItem *item;

      /* Its readings are gone with a lighting that was taken back. */
      if (newest->record.deleted)
        continue;
      item = wb_app_amend_item_new (store, versions, (int) newest->number, error);
      if (item == NULL)
        return FALSE;
      g_ptr_array_add (burns, item);
    }
  g_ptr_array_sort (burns, order_burns);
  return records != NULL;
}

/* A look is one of the morning after, where the last lighting was not longer ago. */
#define MORNING_AFTER_US ((gint64) 24 * 3600 * G_USEC_PER_SEC)

/* The burn that was lit last before; 0: none, or too long ago. */
static int
find_burn_before (GPtrArray *burns,
                  WbInstant  seen_at)
{
  /* The newest stands first. */
  for (guint i = 0; i < burns->len; i++)
    {
      const WbBurn *burn = wb_app_amend_item_get_record (g_ptr_array_index (burns, i));

      if (burn->lit_at.known && burn->lit_at.utc_us <= seen_at.utc_us)
        return seen_at.utc_us - burn->lit_at.utc_us <= MORNING_AFTER_US ? (int) burn->number : 0;
    }
  return 0;
}

/* From the newest to the oldest. */
static int
order_looks (gconstpointer a,
             gconstpointer b)
{
  const WbInspection *one = wb_app_amend_item_get_record (*(WbAppAmendItem *const *) a);
  const WbInspection *other = wb_app_amend_item_get_record (*(WbAppAmendItem *const *) b);

  if (one->seen_at.utc_us != other->seen_at.utc_us)
    return one->seen_at.utc_us > other->seen_at.utc_us ? -1 : 1;
  return one->record.id > other->record.id ? -1 : one->record.id < other->record.id;
}

static gboolean
add_looks (WbStore   *store,
           gint64     sample,
           GPtrArray *burns,
           GPtrArray *items,
           GError   **error)
{
  g_autoptr (GPtrArray) all = wb_store_list_versions (store, &wb_inspection_type, "sample", sample, error);
  g_autoptr (GPtrArray) records = all != NULL ? split_by_record (all) : NULL;
  g_autoptr (GPtrArray) looks = g_ptr_array_new_with_free_func (g_object_unref);

  for (guint i = 0; records != NULL && i < records->len; i++)
    {
      GPtrArray *versions = g_ptr_array_index (records, i);
      const WbInspection *newest = g_ptr_array_index (versions, versions->len - 1);
      GError *local = NULL;
      WbAppAmendItem *item = wb_app_amend_item_new (store, versions, find_burn_before (burns, newest->seen_at), &local);

      if (local != NULL)
        {
          g_propagate_error (error, local);
          return FALSE;
        }
      if (item != NULL)
        g_ptr_array_add (looks, item);
    }
  g_ptr_array_sort (looks, order_looks);
  g_ptr_array_extend (items, looks, (GCopyFunc) (void (*) (void)) g_object_ref, NULL);
  return records != NULL;
}

static gboolean
add_one (WbStore            *store,
         const WbRecordType *type,
         gint64              id,
         GPtrArray          *items,
         GError            **error)
{
  g_autoptr (GPtrArray) history = wb_store_list_history (store, type, id, error);
  g_autoptr (GPtrArray) versions = g_ptr_array_new ();

  if (history == NULL)
    return FALSE;
  for (guint i = 0; i < history->len; i++)
    g_ptr_array_add (versions, ((const WbStoreVersion *) g_ptr_array_index (history, i))->record);
  return versions->len == 0 || add_items (store, versions, 0, items, error);
}

gpointer
wb_app_amend_read_thread (WbStore      *store,
                          gpointer      data,
                          GCancellable *cancellable,
                          GError      **error)
{
  gint64 id = *(const gint64 *) data;
  g_autoptr (GPtrArray) items = g_ptr_array_new_with_free_func (g_object_unref);
  g_autoptr (GPtrArray) burns = g_ptr_array_new_with_free_func (g_object_unref);
  g_autoptr (WbRecord) sample = wb_store_load (store, &wb_sample_type, id, error);
  g_autoptr (WbRecord) cell = sample != NULL ? wb_store_load (store, &wb_cell_type, ((const WbSample *) sample)->cell, error) : NULL;
  guint n_wicks = cell != NULL ? (guint) MAX (((const WbCell *) cell)->wick_count, 1) : 1;

  if (cell == NULL || !list_burns (store, id, burns, error) || !add_looks (store, id, burns, items, error))
    return NULL;
  for (guint i = 0; i < burns->len; i++)
    if (!add_burn (store, g_ptr_array_index (burns, i), n_wicks, items, error) || g_cancellable_set_error_if_cancelled (cancellable, error))
      return NULL;
  if (!add_one (store, &wb_sample_type, id, items, error))
    return NULL;
  if (((const WbSample *) sample)->batch != 0
      && !add_one (store, &wb_batch_type, ((const WbSample *) sample)->batch, items, error))
    return NULL;
  return g_steal_pointer (&items);
}
