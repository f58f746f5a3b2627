/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-save-private.h"

#include "wb-app-error-private.h"
#include "wb-app-moment-private.h"
#include "wb-clock.h"
#include "wb-sample.h"
#include "wb-store-records.h"
#include "wb-store-undo.h"

WbAppSave *
wb_app_save_new (const char *topic,
                 const char *who,
                 const char *why,
                 GPtrArray  *records)
{
  WbAppSave *self = g_new0 (WbAppSave, 1);

  g_atomic_ref_count_init (&self->ref_count);
  if (topic == NULL && records != NULL && records->len > 0)
    topic = ((const WbRecord *) g_ptr_array_index (records, 0))->type->name;
  self->topic = g_strdup (topic);
  self->who = g_strdup (who);
  self->why = g_strdup (why);
  self->records = g_ptr_array_new_with_free_func (wb_record_free);
  self->ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  for (guint i = 0; records != NULL && i < records->len; i++)
    g_ptr_array_add (self->records, wb_record_copy (g_ptr_array_index (records, i)));
  return self;
}

static WbAppSave *
wb_app_save_ref (WbAppSave *self)
{
  g_atomic_ref_count_inc (&self->ref_count);
  return self;
}

void
wb_app_save_unref (WbAppSave *self)
{
  if (!g_atomic_ref_count_dec (&self->ref_count))
    return;
  if (self->before_free != NULL)
    self->before_free (self->before_data);
  g_free (self->topic);
  g_free (self->who);
  g_free (self->why);
  g_ptr_array_unref (self->records);
  g_clear_pointer (&self->ids, g_array_unref);
  g_clear_pointer (&self->kept, g_bytes_unref);
  g_free (self);
}

/* Puts the ids given so far in place of the negative ones that stand for them. */
static gboolean
resolve_references (WbRecord   *record,
                    GHashTable *placeholders,
                    GError    **error)
{
  for (guint i = 0; i < record->type->n_fields; i++)
    {
      const WbFieldSpec *field = &record->type->fields[i];
      gint64 value, *id;

      if (field->type != WB_FIELD_REFERENCE)
        continue;
      value = wb_record_get_integer (record, field);
      if (value >= 0)
        continue;
      id = g_hash_table_lookup (placeholders, &value);
      if (id == NULL)
        {
          g_set_error (error, WB_APP_ERROR, WB_APP_ERROR_FAILED,
                       "%s.%s refers to a record that is not saved before it", record->type->name, field->name);
          return FALSE;
        }
      wb_record_set_integer (record, field, *id);
    }
  return TRUE;
}

/* A put is checked by the store; a deletion names no version, so the newest one is compared here. */
static gboolean
check_version (WbStore  *store,
               WbRecord *record,
               GError  **error)
{
  g_autoptr (WbRecord) current = wb_store_load (store, record->type, record->id, error);

  if (current == NULL)
    return FALSE;
  if (record->entry == 0 || current->entry == record->entry)
    return TRUE;
  g_set_error (error, WB_APP_ERROR, WB_APP_ERROR_CHANGED,
               "Someone else has changed this %s since it was read; nothing was deleted", record->type->name);
  return FALSE;
}

static gint64 *
dup_number (gint64 number)
{
  gint64 *copy = g_new (gint64, 1);

  *copy = number;
  return copy;
}

static gboolean
write_record (WbStore       *store,
              WbStoreChange *change,
              WbRecord      *record,
              GHashTable    *placeholders,
              GError       **error)
{
  gint64 given = record->id;

  if (record->deleted)
    return check_version (store, record, error)
           && wb_store_change_delete (change, record->type, record->id, error);
  if (!resolve_references (record, placeholders, error))
    return FALSE;
  record->id = MAX (given, 0);
  if (!wb_store_change_put (change, record, error))
    return FALSE;
  if (given < 0)
    g_hash_table_insert (placeholders, dup_number (given), dup_number (record->id));
  return TRUE;
}

/* The bytes go in with the attachments that name them, or not at all. */
static gboolean
keep_bytes (WbAppSave     *self,
            WbStoreChange *change,
            GError       **error)
{
  char sha256[65];

  if (self->kept == NULL)
    return TRUE;
  if (!wb_store_change_attach (change, self->kept, sha256, error))
    return FALSE;
  for (guint i = 0; i < self->records->len; i++)
    {
      WbRecord *record = g_ptr_array_index (self->records, i);

      if (record->type == &wb_attachment_type && record->id <= 0)
        wb_record_set_text (record, wb_record_type_find_field (&wb_attachment_type, "sha256"), sha256);
    }
  return TRUE;
}

gpointer
wb_app_save_write (WbStore      *store,
                   gpointer      data,
                   GCancellable *cancellable,
                   GError      **error)
{
  WbAppSave *self = data;
  g_autoptr (GHashTable) placeholders = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  g_autoptr (WbStoreChange) change = NULL;

  if (self->before != NULL)
    self->before (self->before_data);
  change = wb_store_begin (store, WB_ENTRY_EDIT, self->topic, self->who, self->why, wb_clock_now (wb_clock_get ()), error);
  if (change == NULL)
    {
      wb_app_error_from_store (error, WB_APP_ERROR_FAILED);
      return NULL;
    }
  if (!keep_bytes (self, change, error))
    {
      wb_app_error_from_store (error, WB_APP_ERROR_FAILED);
      return NULL;
    }
  if (!wb_app_moment_make_free (store, self->records, error))
    {
      wb_app_error_from_store (error, WB_APP_ERROR_FAILED);
      return NULL;
    }
  for (guint i = 0; i < self->records->len; i++)
    {
      WbRecord *record = g_ptr_array_index (self->records, i);

      if (!write_record (store, change, record, placeholders, error))
        {
          wb_app_error_from_store (error, WB_APP_ERROR_REFUSED);
          return NULL;
        }
      g_array_append_val (self->ids, record->id);
    }
  if (!wb_store_commit (g_steal_pointer (&change), &self->entry, error))
    {
      wb_app_error_from_store (error, WB_APP_ERROR_FAILED);
      return NULL;
    }
  return wb_app_save_ref (self);
}

typedef gboolean (*TakeBack) (WbStore *store, const char *who, WbInstant now, gint64 *entry, GError **error);

static gpointer
take_back_by (TakeBack    take_back,
              const char *nothing,
              WbStore    *store,
              WbAppSave  *self,
              GError    **error)
{
  g_autoptr (GError) reason = NULL;

  if (take_back (store, self->who, wb_clock_now (wb_clock_get ()), &self->entry, &reason))
    return wb_app_save_ref (self);
  if (g_error_matches (reason, WB_STORE_ERROR, WB_STORE_ERROR_MISSING))
    {
      g_set_error_literal (error, WB_APP_ERROR, WB_APP_ERROR_NOTHING, nothing);
      return NULL;
    }
  wb_app_error_from_store (&reason, WB_APP_ERROR_CHANGED);
  g_propagate_error (error, g_steal_pointer (&reason));
  return NULL;
}

gpointer
wb_app_save_undo (WbStore      *store,
                  gpointer      data,
                  GCancellable *cancellable,
                  GError      **error)
{
  return take_back_by (wb_store_undo, "There is nothing to undo", store, data, error);
}

gpointer
wb_app_save_redo (WbStore      *store,
                  gpointer      data,
                  GCancellable *cancellable,
                  GError      **error)
{
  return take_back_by (wb_store_redo, "There is nothing to redo", store, data, error);
}

gpointer
wb_app_save_take_back (WbStore      *store,
                       gpointer      data,
                       GCancellable *cancellable,
                       GError      **error)
{
  WbAppSave *self = data;
  gint64 number = self->entry;

  if (wb_store_take_back (store, number, self->who, wb_clock_now (wb_clock_get ()), &self->entry, error))
    return wb_app_save_ref (self);
  wb_app_error_from_store (error, WB_APP_ERROR_CHANGED);
  return NULL;
}
