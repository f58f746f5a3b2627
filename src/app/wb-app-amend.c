/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-amend-private.h"

#include "wb-app-live-list-private.h"
#include "wb-app-moment-private.h"
#include "wb-app-notebook-private.h"
#include "wb-app-save-task-private.h"
#include "wb-number.h"

#include <glib/gi18n-lib.h>
#include <math.h>

struct _WbAppAmend
{
  WbAppLiveList  parent_instance;

  /* owned */
  WbAppLotShelf *shelf; /* NULL: not known */
};

G_DEFINE_FINAL_TYPE (WbAppAmend, wb_app_amend, WB_TYPE_APP_LIVE_LIST)

static gboolean
is_same (gpointer item,
         gpointer other)
{
  return wb_app_amend_item_is_same (item, other);
}

static const WbRecordType *const types[] = {
  &wb_reading_type, &wb_burn_type, &wb_inspection_type, &wb_sample_type, &wb_batch_type, NULL
};

static const WbAppLiveListKind kind = { wb_app_amend_item_get_type, is_same, wb_app_amend_read_thread, types };

static void
wb_app_amend_finalize (GObject *object)
{
  g_clear_pointer (&WB_APP_AMEND (object)->shelf, wb_app_lot_shelf_free);
  G_OBJECT_CLASS (wb_app_amend_parent_class)->finalize (object);
}

static void
wb_app_amend_class_init (WbAppAmendClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = wb_app_amend_finalize;
}

static void
wb_app_amend_init (WbAppAmend *self)
{
}

WbAppAmend *
wb_app_amend_new (WbAppNotebook *notebook,
                  gint64         sample)
{
  WbAppAmend *self;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  g_return_val_if_fail (sample > 0, NULL);

  self = g_object_new (WB_TYPE_APP_AMEND, NULL);
  wb_app_live_list_start (WB_APP_LIVE_LIST (self), notebook, &kind, &sample, sizeof sample);
  return self;
}

void
wb_app_amend_set_shelf (WbAppAmend    *self,
                        WbAppLotShelf *shelf)
{
  g_return_if_fail (WB_IS_APP_AMEND (self));
  g_clear_pointer (&self->shelf, wb_app_lot_shelf_free);
  self->shelf = shelf;
}

GPtrArray *
wb_app_amend_find_pot (WbAppAmend   *self,
                       gconstpointer record,
                       gboolean      us_units)
{
  g_return_val_if_fail (WB_IS_APP_AMEND (self), NULL);
  g_return_val_if_fail (record != NULL, NULL);

  if (((const WbRecord *) record)->type != &wb_batch_type)
    return g_ptr_array_new ();
  return wb_craft_pot_find (record, self->shelf != NULL ? (const WbWax *) (gpointer) self->shelf->wax_record : NULL,
                            self->shelf != NULL ? (const WbFragrance *) (gpointer) self->shelf->fragrance_record : NULL, us_units);
}

/* NULL: not loaded yet. */
static const WbSample *
find_sample (WbAppAmend *self)
{
  const GPtrArray *items = wb_app_live_list_get_items (WB_APP_LIVE_LIST (self));

  for (guint i = 0; i < items->len; i++)
    {
      const WbRecord *record = wb_app_amend_item_get_record (g_ptr_array_index (items, i));

      if (record->type == &wb_sample_type)
        return (const WbSample *) record;
    }
  return NULL;
}

const char *
wb_app_amend_get_code (WbAppAmend *self)
{
  const WbSample *sample;

  g_return_val_if_fail (WB_IS_APP_AMEND (self), NULL);
  sample = find_sample (self);
  return sample != NULL ? sample->code : NULL;
}

gint64
wb_app_amend_get_sample (WbAppAmend *self)
{
  const WbSample *sample;

  g_return_val_if_fail (WB_IS_APP_AMEND (self), 0);
  sample = find_sample (self);
  return sample != NULL ? sample->record.id : 0;
}

static gboolean
is_taken (const WbReading *reading,
          gpointer         user)
{
  const GPtrArray *items = wb_app_live_list_get_items (user);

  for (guint i = 0; i < items->len; i++)
    {
      WbAppAmendItem *item = g_ptr_array_index (items, i);
      const WbReading *other = wb_app_amend_item_get_record (item);

      if (other->record.type == &wb_reading_type && other->burn == reading->burn && other->record.id != reading->record.id
          && !wb_app_amend_item_get_taken_out (item)
          && wb_app_moment_is_same (reading, other->elapsed_min, other->rater, other->values[WB_COLUMN_EVENT],
                                    other->values[WB_COLUMN_WICK_NUMBER]))
        return TRUE;
    }
  return FALSE;
}

/* Only what tells readings apart can make two of them the same: else what stood there is left where it stood. */
static void
move_on (WbAppAmend      *self,
         const WbReading *was,
         WbReading       *reading)
{
  if (reading->elapsed_min == was->elapsed_min
      && wb_app_moment_is_same (reading, was->elapsed_min, was->rater, was->values[WB_COLUMN_EVENT],
                                was->values[WB_COLUMN_WICK_NUMBER]))
    return;
  wb_app_moment_move_on (reading, is_taken, self);
}

/* What is amended, for the record page and for undo; the reason follows. Caller frees. */
static char *
dup_what (WbAppAmend     *self,
          WbAppAmendItem *item,
          gboolean        take_out)
{
  const WbRecord *record = wb_app_amend_item_get_record (item);
  const char *code = wb_app_amend_get_code (self);
  g_autofree char *minute = NULL;
  double wick;

  if (record->type == &wb_burn_type)
    return g_strdup_printf (_("Amend burn %d of %s"), wb_app_amend_item_get_burn (item), code);
  if (record->type == &wb_sample_type)
    return g_strdup_printf (_("Amend the pour of %s"), code);
  if (record->type == &wb_inspection_type)
    return g_strdup_printf (take_out ? _("Take out a look at %s") : _("Amend a look at %s"), code);
  if (record->type == &wb_batch_type)
    return g_strdup_printf (_("Amend batch %s"), ((const WbBatch *) record)->code);
  minute = wb_number_format_trimmed (((const WbReading *) record)->elapsed_min, 1, NULL);
  wick = ((const WbReading *) record)->values[WB_COLUMN_WICK_NUMBER];
  if (!isnan (wick))
    return g_strdup_printf (take_out ? _("Take out the reading of %s, burn %d, at %s min, wick %d")
                                     : _("Amend the reading of %s, burn %d, at %s min, wick %d"),
                            code, wb_app_amend_item_get_burn (item), minute, (int) wick);
  return g_strdup_printf (take_out ? _("Take out the reading of %s, burn %d, at %s min") : _("Amend the reading of %s, burn %d, at %s min"),
                          code, wb_app_amend_item_get_burn (item), minute);
}

static void
on_saved_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      user)
{
  g_autoptr (GTask) task = user;
  GError *error = NULL;

  if (wb_app_notebook_save_finish (WB_APP_NOTEBOOK (source), result, NULL, &error) > 0)
    g_task_return_boolean (task, TRUE);
  else if (error != NULL)
    g_task_return_error (task, error);
  else
    g_task_return_new_error (task, WB_APP_ERROR, WB_APP_ERROR_NOTHING, "%s", _("Nothing was changed."));
}

static const char *
find_refusal (WbAppAmendItem *item,
              const char     *reason)
{
  if (wb_app_amend_item_get_taken_out (item))
    return _("It was taken out. Undo brings it back.");
  if (reason == NULL || *reason == '\0')
    return _("Say why: the reason stays beside both versions.");
  return NULL;
}

/* Takes the record. */
static void
save (WbAppAmend         *self,
      WbAppAmendItem     *item,
      WbRecord           *record,
      const char         *reason,
      GTask              *task)
{
  g_autofree char *clean = g_strstrip (g_strdup (reason != NULL ? reason : ""));
  g_autofree char *what = dup_what (self, item, record->deleted);
  g_autofree char *why = g_strdup_printf ("%s: %s", what, clean);
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  const char *refusal = find_refusal (item, clean);

  g_ptr_array_add (records, record);
  if (refusal != NULL)
    {
      wb_app_save_task_refuse (task, g_strdup (refusal));
      return;
    }
  if (self->shelf != NULL && !record->deleted)
    wb_app_lot_shelf_add_missing (self->shelf, records, record, wb_app_amend_item_get_record (item));
  wb_app_notebook_save_topic_async (wb_app_live_list_get_notebook (WB_APP_LIVE_LIST (self)), WB_APP_AMEND_TOPIC, why, records,
                                    g_task_get_cancellable (task), on_saved_cb, task);
}

void
wb_app_amend_save_async (WbAppAmend         *self,
                         WbAppAmendItem     *item,
                         gconstpointer       record,
                         const char         *reason,
                         GCancellable       *cancellable,
                         GAsyncReadyCallback callback,
                         gpointer            user)
{
  const WbRecord *was;
  WbRecord *copy;

  g_return_if_fail (WB_IS_APP_AMEND (self));
  g_return_if_fail (WB_IS_APP_AMEND_ITEM (item));
  was = wb_app_amend_item_get_record (item);
  g_return_if_fail (record != NULL && ((const WbRecord *) record)->type == was->type && ((const WbRecord *) record)->id == was->id);

  copy = wb_record_copy (record);
  /* The version that the person saw: a newer one by somebody else is not written over. */
  copy->entry = was->entry;
  if (copy->type == &wb_reading_type)
    move_on (self, (const WbReading *) was, (WbReading *) copy);
  save (self, item, copy, reason, wb_app_save_task_new (self, wb_app_amend_save_async, cancellable, callback, user));
}

void
wb_app_amend_take_out_async (WbAppAmend         *self,
                             WbAppAmendItem     *item,
                             const char         *reason,
                             GCancellable       *cancellable,
                             GAsyncReadyCallback callback,
                             gpointer            user)
{
  WbRecord *copy;

  g_return_if_fail (WB_IS_APP_AMEND (self));
  g_return_if_fail (WB_IS_APP_AMEND_ITEM (item));
  g_return_if_fail (wb_app_amend_item_may_take_out (item));

  copy = wb_record_copy (wb_app_amend_item_get_record (item));
  copy->deleted = TRUE;
  save (self, item, copy, reason, wb_app_save_task_new (self, wb_app_amend_take_out_async, cancellable, callback, user));
}

gboolean
wb_app_amend_finish (WbAppAmend   *self,
                     GAsyncResult *result,
                     GError      **error)
{
  g_return_val_if_fail (g_task_is_valid (result, self), FALSE);
  return g_task_propagate_boolean (G_TASK (result), error);
}
