/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-amend-private.h"

#include "wb-app-items-private.h"
#include "wb-app-moment-private.h"
#include "wb-app-notebook-private.h"
#include "wb-app-reader-private.h"
#include "wb-app-save-task-private.h"
#include "wb-number.h"

#include <glib/gi18n-lib.h>
#include <math.h>

struct _WbAppAmend
{
  GObject        parent_instance;

  /* owned */
  WbAppNotebook *notebook;
  GCancellable  *cancellable;
  GPtrArray     *items;       /* WbAppAmendItem, as listed */
  GError        *error;

  /* state */
  gint64         sample;
  gboolean       loaded;
  gboolean       loading;
  gboolean       again;
};

static GType
get_item_type (GListModel *model)
{
  return WB_TYPE_APP_AMEND_ITEM;
}

static guint
get_n_items (GListModel *model)
{
  return WB_APP_AMEND (model)->items->len;
}

static gpointer
get_item (GListModel *model,
          guint       position)
{
  WbAppAmend *self = WB_APP_AMEND (model);

  return position < self->items->len ? g_object_ref (g_ptr_array_index (self->items, position)) : NULL;
}

static void
list_model_init (GListModelInterface *iface)
{
  iface->get_item_type = get_item_type;
  iface->get_n_items = get_n_items;
  iface->get_item = get_item;
}

G_DEFINE_FINAL_TYPE_WITH_CODE (WbAppAmend, wb_app_amend, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (G_TYPE_LIST_MODEL, list_model_init))

enum { PROP_0, PROP_LOADED, N_PROPS };
static GParamSpec *properties[N_PROPS];

/* Keeps the object of what did not change, and with it the row on the screen. */
static void
take_items (WbAppAmend *self,
            GPtrArray  *read)
{
  GPtrArray *fresh = g_ptr_array_new_with_free_func (g_object_unref);
  guint n = self->items->len, at = 0;

  for (guint i = 0; i < read->len; i++)
    {
      WbAppAmendItem *item = g_ptr_array_index (read, i);

      /* Both are in the same order, but for the few that are new: the one sought stands behind the one found last. */
      for (guint k = 0; k < n; k++)
        if (wb_app_amend_item_is_same (item, g_ptr_array_index (self->items, (at + k) % n)))
          {
            at = (at + k) % n;
            item = g_ptr_array_index (self->items, at++);
            break;
          }
      g_ptr_array_add (fresh, g_object_ref (item));
    }
  wb_app_items_replace (G_LIST_MODEL (self), &self->items, fresh);
}

static void load (WbAppAmend *self);

static void
on_read_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      user)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) read = g_task_propagate_pointer (G_TASK (result), &error);
  WbAppAmend *self;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  self = WB_APP_AMEND (user);
  self->loading = FALSE;
  g_clear_error (&self->error);
  if (read != NULL)
    take_items (self, read);
  else
    self->error = g_steal_pointer (&error);
  self->loaded = TRUE;
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_LOADED]);
  if (self->again)
    load (self);
}

static void
load (WbAppAmend *self)
{
  GTask *task;

  self->again = self->loading;
  if (self->loading)
    return;
  self->loading = TRUE;
  task = g_task_new (NULL, self->cancellable, on_read_cb, self);
  wb_app_reader_run (self->notebook, task, wb_app_amend_read_thread, g_memdup2 (&self->sample, sizeof self->sample), g_free,
                     (GDestroyNotify) g_ptr_array_unref);
}

static void
on_notebook_changed_cb (WbAppAmend *self,
                        gint64      entry,
                        gpointer    types)
{
  if (wb_app_change_touches (types, &wb_reading_type) || wb_app_change_touches (types, &wb_burn_type)
      || wb_app_change_touches (types, &wb_inspection_type) || wb_app_change_touches (types, &wb_sample_type) || wb_app_change_touches (types, &wb_batch_type))
    load (self);
}

static void
wb_app_amend_get_property (GObject    *object,
                           guint       prop_id,
                           GValue     *value,
                           GParamSpec *pspec)
{
  if (prop_id == PROP_LOADED)
    g_value_set_boolean (value, WB_APP_AMEND (object)->loaded);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, prop_id, pspec);
}

static void
wb_app_amend_dispose (GObject *object)
{
  WbAppAmend *self = WB_APP_AMEND (object);

  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->notebook);
  G_OBJECT_CLASS (wb_app_amend_parent_class)->dispose (object);
}

static void
wb_app_amend_finalize (GObject *object)
{
  WbAppAmend *self = WB_APP_AMEND (object);

  g_object_unref (self->cancellable);
  g_ptr_array_unref (self->items);
  g_clear_error (&self->error);
  G_OBJECT_CLASS (wb_app_amend_parent_class)->finalize (object);
}

static void
wb_app_amend_class_init (WbAppAmendClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->get_property = wb_app_amend_get_property;
  object_class->dispose = wb_app_amend_dispose;
  object_class->finalize = wb_app_amend_finalize;
  properties[PROP_LOADED] = g_param_spec_boolean ("loaded", NULL, NULL, FALSE, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);
}

static void
wb_app_amend_init (WbAppAmend *self)
{
  self->cancellable = g_cancellable_new ();
  self->items = g_ptr_array_new_with_free_func (g_object_unref);
}

WbAppAmend *
wb_app_amend_new (WbAppNotebook *notebook,
                  gint64         sample)
{
  WbAppAmend *self;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  g_return_val_if_fail (sample > 0, NULL);

  self = g_object_new (WB_TYPE_APP_AMEND, NULL);
  self->notebook = g_object_ref (notebook);
  self->sample = sample;
  g_signal_connect_object (notebook, "changed", G_CALLBACK (on_notebook_changed_cb), self, G_CONNECT_SWAPPED);
  load (self);
  return self;
}

gboolean
wb_app_amend_get_loaded (WbAppAmend *self)
{
  g_return_val_if_fail (WB_IS_APP_AMEND (self), FALSE);
  return self->loaded;
}

const GError *
wb_app_amend_get_error (WbAppAmend *self)
{
  g_return_val_if_fail (WB_IS_APP_AMEND (self), NULL);
  return self->error;
}

const char *
wb_app_amend_get_code (WbAppAmend *self)
{
  g_return_val_if_fail (WB_IS_APP_AMEND (self), NULL);
  for (guint i = 0; i < self->items->len; i++)
    {
      const WbRecord *record = wb_app_amend_item_get_record (g_ptr_array_index (self->items, i));

      if (record->type == &wb_sample_type)
        return ((const WbSample *) record)->code;
    }
  return NULL;
}

static gboolean
is_taken (const WbReading *reading,
          gpointer         user)
{
  WbAppAmend *self = user;

  for (guint i = 0; i < self->items->len; i++)
    {
      WbAppAmendItem *item = g_ptr_array_index (self->items, i);
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
  wb_app_notebook_save_topic_async (self->notebook, WB_APP_AMEND_TOPIC, why, records, g_task_get_cancellable (task), on_saved_cb, task);
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
