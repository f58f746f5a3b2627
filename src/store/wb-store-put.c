/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-change-private.h"

#include "wb-store-identity-private.h"
#include "wb-store-private.h"
#include "wb-store-records.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>
#include <string.h>

/* What may be put or deleted, and what is refused: the rules before wb_store_change_write(). */

gboolean
wb_store_change_load_newest (WbStoreChange      *self,
                             const WbStoreTable *table,
                             gint64              id,
                             gpointer           *record,
                             GError            **error)
{
  sqlite3_stmt *statement = wb_store_statement (self->store, table->load, error);
  WbStep step;

  *record = NULL;
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, id);
  step = wb_store_step (self->store, statement, error);
  if (step == WB_STEP_ROW)
    *record = wb_store_table_read (table, statement);
  wb_store_reset (statement);
  return step != WB_STEP_ERROR;
}

/* The version to be amended or deleted, which must be there. */
static gpointer
load_current (WbStoreChange      *self,
              const WbStoreTable *table,
              gint64              id,
              GError            **error)
{
  g_autoptr (WbRecord) record = NULL;

  if (!wb_store_change_load_newest (self, table, id, (gpointer *) &record, error))
    return NULL;
  if (record == NULL || record->deleted)
    {
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_MISSING, _("The record is not there any more (%s %" PRId64 ")."),
                   table->type->name, id);
      return NULL;
    }
  if (record->entry == self->entry)
    {
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_FAILED,
                   _("A record can be written once in a change (%s %" PRId64 ")."), table->type->name, id);
      return NULL;
    }
  return g_steal_pointer (&record);
}

static gboolean
target_is_there (WbStoreChange      *self,
                 const WbStoreTable *table,
                 const WbFieldSpec  *field,
                 gint64              id,
                 GError            **error)
{
  g_autofree char *type = NULL;
  g_autoptr (WbRecord) target = NULL;
  const WbStoreTable *of = NULL;
  sqlite3_stmt *statement = wb_store_statement (self->store, "SELECT type FROM object WHERE id = ?", error);
  WbStep step;

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, id);
  step = wb_store_step (self->store, statement, error);
  if (step == WB_STEP_ERROR)
    return FALSE;
  if (step == WB_STEP_ROW)
    type = wb_store_column_dup_text (statement, 0);
  wb_store_reset (statement);

  if (type != NULL && (field->target == NULL || strcmp (type, field->target->name) == 0))
    of = wb_store_table_named (type);
  if (of != NULL && !wb_store_change_load_newest (self, of, id, (gpointer *) &target, error))
    return FALSE;
  if (target != NULL && !target->deleted)
    return TRUE;
  g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_MISSING,
               /* Translators: table, field, number */
               _("%s: %s refers to record %" PRId64 ", which is not there."), table->type->name, field->name, id);
  return FALSE;
}

/* References that the version before had are sound already: what they lead to cannot be deleted while they do. */
static gboolean
references_are_there (WbStoreChange      *self,
                      const WbStoreTable *table,
                      gconstpointer       record,
                      gconstpointer       before,
                      GError            **error)
{
  for (guint i = 0; i < table->type->n_fields; i++)
    {
      const WbFieldSpec *field = &table->type->fields[i];
      gint64 id;

      if (field->type != WB_FIELD_REFERENCE || (before != NULL && wb_record_field_equal (record, before, field)))
        continue;
      id = wb_record_get_integer (record, field);
      if (id == 0 || (table->is_reading && id == self->sound_burn))
        continue;
      if (!target_is_there (self, table, field, id, error))
        return FALSE;
      if (table->is_reading)
        self->sound_burn = id;
    }
  return TRUE;
}

gboolean
wb_store_change_references_are_there (WbStoreChange      *self,
                                      const WbStoreTable *table,
                                      gconstpointer       record,
                                      GError            **error)
{
  return references_are_there (self, table, record, NULL, error);
}

static gboolean
attachment_is_kept (WbStoreChange *self,
                    gconstpointer  record,
                    GError       **error)
{
  const WbRecordType *type = ((const WbRecord *) record)->type;
  sqlite3_stmt *statement;
  gint64 found;

  if (type != &wb_attachment_type)
    return TRUE;
  statement = wb_store_statement (self->store, "SELECT 1 FROM attachment_data WHERE sha256 = ?", error);
  if (statement != NULL)
    wb_store_bind_text (statement, 1, ((const WbAttachment *) record)->sha256);
  if (!wb_store_get_integer (self->store, statement, 0, &found, error))
    return FALSE;
  if (!found)
    g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_MISSING, _("The bytes of “%s” are not in the notebook."),
                 ((const WbAttachment *) record)->name);
  return found;
}

static void
fill_uuid (const WbStoreTable *table,
           gpointer            record,
           gconstpointer       before)
{
  if (table->uuid == NULL)
    return;
  if (before != NULL)
    wb_record_set_uuid (record, table->uuid, wb_record_get_uuid (before, table->uuid));
  else if (!wb_record_is_known (record, table->uuid))
    wb_record_set_uuid (record, table->uuid, wb_uuid_new ());
}

static gboolean
was_read_newest (gconstpointer record,
                 gconstpointer before,
                 GError      **error)
{
  const WbRecord *head = record, *now = before;

  if (head->entry == 0 || head->entry == now->entry)
    return TRUE;
  g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_CHANGED,
               _("The record was changed in the meantime (%s %" PRId64 ", by entry %" PRId64 ")."),
               now->type->name, now->id, now->entry);
  return FALSE;
}

gboolean
wb_store_change_put (WbStoreChange *self,
                     gpointer       record,
                     GError       **error)
{
  g_return_val_if_fail (self != NULL && record != NULL && !self->broken, FALSE);
  wb_store_assert_thread (self->store);

  WbRecord *head = record;
  const WbStoreTable *table = wb_store_table_find (head->type);
  g_autoptr (WbRecord) before = NULL;

  g_return_val_if_fail (head->id >= 0 && !head->deleted, FALSE);
  if (head->id != 0)
    {
      before = load_current (self, table, head->id, error);
      if (before == NULL || !was_read_newest (record, before, error))
        return FALSE;
    }
  fill_uuid (table, record, before);
  if (before != NULL && wb_record_equal (before, record))
    {
      head->entry = before->entry;
      return TRUE;
    }
  if (!wb_record_validate (record, error)
      || !references_are_there (self, table, record, before, error)
      || !attachment_is_kept (self, record, error)
      || !wb_store_identity_is_free (self->store, table, record, error))
    return FALSE;
  if (before == NULL)
    head->id = table->is_reading ? self->next_reading++ : self->next_object++;
  return wb_store_change_write (self, table, record, before, error);
}

static gboolean
delete_version (WbStoreChange      *self,
                const WbStoreTable *table,
                gint64              id,
                GError            **error)
{
  g_autoptr (WbRecord) before = load_current (self, table, id, error);
  g_autoptr (WbRecord) gone = NULL;

  if (before == NULL)
    return FALSE;
  gone = wb_record_copy (before);
  gone->deleted = TRUE;
  self->sound_burn = 0;
  return wb_store_change_write (self, table, gone, before, error);
}

/* Every part that goes with a record, as (table, id). They have no parts of their own that others use. */
static gboolean
delete_parts (WbStoreChange *self,
              const GArray  *uses,
              gint64         id,
              GError       **error)
{
  for (guint i = 0; i < uses->len; i++)
    {
      const WbStoreUse *use = &g_array_index (uses, WbStoreUse, i);
      g_autoptr (GPtrArray) parts = NULL;

      if (!use->part)
        continue;
      parts = wb_store_list (self->store, use->type, use->field->name, id, error);
      if (parts == NULL)
        return FALSE;
      for (guint j = 0; j < parts->len; j++)
        if (!wb_store_change_delete (self, use->type, ((WbRecord *) parts->pdata[j])->id, error))
          return FALSE;
    }
  return TRUE;
}

gboolean
wb_store_change_delete (WbStoreChange      *self,
                        const WbRecordType *type,
                        gint64              id,
                        GError            **error)
{
  g_return_val_if_fail (self != NULL && type != NULL && !self->broken, FALSE);
  wb_store_assert_thread (self->store);

  const WbStoreTable *table = wb_store_table_find (type);
  g_autoptr (WbRecord) before = load_current (self, table, id, error);
  g_autoptr (GArray) uses = NULL;
  g_autofree char *who = NULL;

  if (before == NULL)
    return FALSE;
  if (type == &wb_notebook_type)
    {
      g_set_error_literal (error, WB_STORE_ERROR, WB_STORE_ERROR_IN_USE, _("The notebook's own record cannot be deleted."));
      return FALSE;
    }
  uses = wb_store_list_uses (self->store, type, id, error);
  if (uses == NULL)
    return FALSE;
  who = wb_store_uses_dup_words (uses);
  if (who != NULL)
    {
      g_autofree char *what = wb_store_identity_dup_words (before);

      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_IN_USE,
                   /* Translators: what it is, "3 × Sample, 1 × Batch" */
                   _("%s cannot be deleted, because it is in use: %s."), what, who);
      return FALSE;
    }
  return delete_parts (self, uses, id, error) && delete_version (self, table, id, error);
}
