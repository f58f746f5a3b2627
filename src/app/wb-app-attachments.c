/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-attachments-private.h"

#include "wb-app-items-private.h"
#include "wb-app-reader-private.h"
#include "wb-store-records.h"

struct _WbAppAttachments
{
  GObject          parent_instance;

  /* owned */
  WbAppNotebook   *notebook;
  GCancellable    *cancellable;
  GPtrArray       *items;       /* WbAppAttachmentsItem, as listed */
  GError          *error;

  /* state */
  gint64           sample;
  WbAttachmentRole role;
  gboolean         loaded;
  gboolean         loading;
  gboolean         again;
};

static GType
get_item_type (GListModel *model)
{
  return WB_TYPE_APP_ATTACHMENTS_ITEM;
}

static guint
get_n_items (GListModel *model)
{
  return WB_APP_ATTACHMENTS (model)->items->len;
}

static gpointer
get_item (GListModel *model,
          guint       position)
{
  WbAppAttachments *self = WB_APP_ATTACHMENTS (model);

  return position < self->items->len ? g_object_ref (g_ptr_array_index (self->items, position)) : NULL;
}

static void
list_model_init (GListModelInterface *iface)
{
  iface->get_item_type = get_item_type;
  iface->get_n_items = get_n_items;
  iface->get_item = get_item;
}

G_DEFINE_FINAL_TYPE_WITH_CODE (WbAppAttachments, wb_app_attachments, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (G_TYPE_LIST_MODEL, list_model_init))

enum { PROP_0, PROP_LOADED, N_PROPS };
static GParamSpec *properties[N_PROPS];

typedef struct
{
  gint64           sample;
  WbAttachmentRole role;
} Question;

static int
order_items (gconstpointer a,
             gconstpointer b)
{
  const WbAttachment *one = wb_app_attachments_item_get_record (*(WbAppAttachmentsItem *const *) a);
  const WbAttachment *other = wb_app_attachments_item_get_record (*(WbAppAttachmentsItem *const *) b);

  if (one->taken_at.known != other->taken_at.known)
    return one->taken_at.known ? -1 : 1;
  if (one->taken_at.known && one->taken_at.utc_us != other->taken_at.utc_us)
    return one->taken_at.utc_us < other->taken_at.utc_us ? -1 : 1;
  return one->record.id < other->record.id ? -1 : one->record.id > other->record.id;
}

/* Attachments are few and have no index by owner: one look at them all. */
static gpointer
read_thread (WbStore      *store,
             gpointer      data,
             GCancellable *cancellable,
             GError      **error)
{
  const Question *question = data;
  g_autoptr (GPtrArray) burns = wb_store_list (store, &wb_burn_type, "sample", question->sample, error);
  g_autoptr (GPtrArray) all = burns != NULL ? wb_store_list (store, &wb_attachment_type, "role", question->role, error) : NULL;
  g_autoptr (GHashTable) by_id = g_hash_table_new (g_int64_hash, g_int64_equal);
  GPtrArray *items;

  if (all == NULL)
    return NULL;
  for (guint i = 0; i < burns->len; i++)
    g_hash_table_insert (by_id, &((WbBurn *) g_ptr_array_index (burns, i))->record.id, g_ptr_array_index (burns, i));
  items = g_ptr_array_new_with_free_func (g_object_unref);
  for (guint i = 0; i < all->len; i++)
    {
      const WbAttachment *attachment = g_ptr_array_index (all, i);
      const WbBurn *burn = g_hash_table_lookup (by_id, &attachment->owner);

      if (burn != NULL || attachment->owner == question->sample)
        g_ptr_array_add (items, wb_app_attachments_item_new (attachment, burn));
    }
  g_ptr_array_sort (items, order_items);
  return items;
}

/* Keeps the object of what did not change, and with it what the screen has of it. */
static void
take_items (WbAppAttachments *self,
            GPtrArray        *read)
{
  GPtrArray *fresh = g_ptr_array_new_with_free_func (g_object_unref);

  for (guint i = 0; i < read->len; i++)
    {
      WbAppAttachmentsItem *item = g_ptr_array_index (read, i);

      for (guint k = 0; k < self->items->len; k++)
        if (wb_app_attachments_item_is_same (item, g_ptr_array_index (self->items, k)))
          {
            item = g_ptr_array_index (self->items, k);
            break;
          }
      g_ptr_array_add (fresh, g_object_ref (item));
    }
  wb_app_items_replace (G_LIST_MODEL (self), &self->items, fresh);
}

static void load (WbAppAttachments *self);

static void
on_read_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      user)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) read = g_task_propagate_pointer (G_TASK (result), &error);
  WbAppAttachments *self;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  self = WB_APP_ATTACHMENTS (user);
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
load (WbAppAttachments *self)
{
  Question question = { self->sample, self->role };

  self->again = self->loading;
  if (self->loading)
    return;
  self->loading = TRUE;
  wb_app_reader_run (self->notebook, g_task_new (NULL, self->cancellable, on_read_cb, self), read_thread,
                     g_memdup2 (&question, sizeof question), g_free, (GDestroyNotify) g_ptr_array_unref);
}

static void
on_notebook_changed_cb (WbAppAttachments *self,
                        gint64            entry,
                        gpointer          types)
{
  if (wb_app_change_touches (types, &wb_attachment_type) || wb_app_change_touches (types, &wb_burn_type))
    load (self);
}

static void
wb_app_attachments_get_property (GObject    *object,
                                 guint       prop_id,
                                 GValue     *value,
                                 GParamSpec *pspec)
{
  if (prop_id == PROP_LOADED)
    g_value_set_boolean (value, WB_APP_ATTACHMENTS (object)->loaded);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, prop_id, pspec);
}

static void
wb_app_attachments_dispose (GObject *object)
{
  WbAppAttachments *self = WB_APP_ATTACHMENTS (object);

  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->notebook);
  G_OBJECT_CLASS (wb_app_attachments_parent_class)->dispose (object);
}

static void
wb_app_attachments_finalize (GObject *object)
{
  WbAppAttachments *self = WB_APP_ATTACHMENTS (object);

  g_object_unref (self->cancellable);
  g_ptr_array_unref (self->items);
  g_clear_error (&self->error);
  G_OBJECT_CLASS (wb_app_attachments_parent_class)->finalize (object);
}

static void
wb_app_attachments_class_init (WbAppAttachmentsClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->get_property = wb_app_attachments_get_property;
  object_class->dispose = wb_app_attachments_dispose;
  object_class->finalize = wb_app_attachments_finalize;
  properties[PROP_LOADED] = g_param_spec_boolean ("loaded", NULL, NULL, FALSE, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);
}

static void
wb_app_attachments_init (WbAppAttachments *self)
{
  self->cancellable = g_cancellable_new ();
  self->items = g_ptr_array_new_with_free_func (g_object_unref);
}

WbAppAttachments *
wb_app_attachments_new (WbAppNotebook   *notebook,
                        gint64           sample,
                        WbAttachmentRole role)
{
  WbAppAttachments *self;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  g_return_val_if_fail (sample > 0, NULL);

  self = g_object_new (WB_TYPE_APP_ATTACHMENTS, NULL);
  self->notebook = g_object_ref (notebook);
  self->sample = sample;
  self->role = role;
  g_signal_connect_object (notebook, "changed", G_CALLBACK (on_notebook_changed_cb), self, G_CONNECT_SWAPPED);
  load (self);
  return self;
}

gboolean
wb_app_attachments_get_loaded (WbAppAttachments *self)
{
  g_return_val_if_fail (WB_IS_APP_ATTACHMENTS (self), FALSE);
  return self->loaded;
}

const GError *
wb_app_attachments_get_error (WbAppAttachments *self)
{
  g_return_val_if_fail (WB_IS_APP_ATTACHMENTS (self), NULL);
  return self->error;
}
