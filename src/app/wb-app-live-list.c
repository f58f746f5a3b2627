/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-live-list-private.h"

#include "wb-app-items-private.h"

typedef struct
{
  /* owned */
  WbAppNotebook           *notebook;
  GCancellable            *cancellable;
  GPtrArray               *items;     /* as listed */
  GError                  *error;
  gpointer                 question;

  /* state */
  const WbAppLiveListKind *kind;
  gsize                    size;      /* of the question */
  gboolean                 loaded;
  gboolean                 loading;
  gboolean                 again;
} WbAppLiveListPrivate;

static WbAppLiveListPrivate *get_private (gpointer self);

static GType
get_item_type (GListModel *model)
{
  return get_private (model)->kind->get_item_type ();
}

static guint
get_n_items (GListModel *model)
{
  return get_private (model)->items->len;
}

static gpointer
get_item (GListModel *model,
          guint       position)
{
  const GPtrArray *items = get_private (model)->items;

  return position < items->len ? g_object_ref (g_ptr_array_index (items, position)) : NULL;
}

static void
list_model_init (GListModelInterface *iface)
{
  iface->get_item_type = get_item_type;
  iface->get_n_items = get_n_items;
  iface->get_item = get_item;
}

G_DEFINE_ABSTRACT_TYPE_WITH_CODE (WbAppLiveList, wb_app_live_list, G_TYPE_OBJECT,
                                  G_ADD_PRIVATE (WbAppLiveList)
                                  G_IMPLEMENT_INTERFACE (G_TYPE_LIST_MODEL, list_model_init))

enum { PROP_0, PROP_LOADED, N_PROPS };
static GParamSpec *properties[N_PROPS];

static WbAppLiveListPrivate *
get_private (gpointer self)
{
  return wb_app_live_list_get_instance_private (WB_APP_LIVE_LIST (self));
}

static void
take_items (WbAppLiveList *self,
            GPtrArray     *read)
{
  WbAppLiveListPrivate *own = get_private (self);
  GPtrArray *fresh = g_ptr_array_new_with_free_func (g_object_unref);
  guint n = own->items->len, at = 0;

  for (guint i = 0; i < read->len; i++)
    {
      gpointer item = g_ptr_array_index (read, i);

      /* Both are in the same order, but for the few that are new: the one sought stands behind the one found last. */
      for (guint k = 0; k < n; k++)
        if (own->kind->is_same (item, g_ptr_array_index (own->items, (at + k) % n)))
          {
            at = (at + k) % n;
            item = g_ptr_array_index (own->items, at++);
            break;
          }
      g_ptr_array_add (fresh, g_object_ref (item));
    }
  wb_app_items_replace (G_LIST_MODEL (self), &own->items, fresh);
}

static void load (WbAppLiveList *self);

static void
on_read_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      user)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) read = g_task_propagate_pointer (G_TASK (result), &error);
  WbAppLiveListPrivate *own;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  own = get_private (user);
  own->loading = FALSE;
  g_clear_error (&own->error);
  if (read != NULL)
    take_items (user, read);
  else
    own->error = g_steal_pointer (&error);
  own->loaded = TRUE;
  g_object_notify_by_pspec (user, properties[PROP_LOADED]);
  if (own->again)
    load (user);
}

static void
load (WbAppLiveList *self)
{
  WbAppLiveListPrivate *own = get_private (self);

  own->again = own->loading;
  if (own->loading)
    return;
  own->loading = TRUE;
  wb_app_reader_run (own->notebook, g_task_new (NULL, own->cancellable, on_read_cb, self), own->kind->read,
                     g_memdup2 (own->question, own->size), g_free, (GDestroyNotify) g_ptr_array_unref);
}

static void
on_notebook_changed_cb (WbAppLiveList *self,
                        gint64         entry,
                        gpointer       types)
{
  const WbRecordType *const *type = get_private (self)->kind->types;

  while (*type != NULL && !wb_app_change_touches (types, *type))
    type++;
  if (*type != NULL)
    load (self);
}

static void
wb_app_live_list_get_property (GObject    *object,
                               guint       prop_id,
                               GValue     *value,
                               GParamSpec *pspec)
{
  if (prop_id == PROP_LOADED)
    g_value_set_boolean (value, get_private (object)->loaded);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, prop_id, pspec);
}

static void
wb_app_live_list_dispose (GObject *object)
{
  WbAppLiveListPrivate *own = get_private (object);

  g_cancellable_cancel (own->cancellable);
  g_clear_object (&own->notebook);
  G_OBJECT_CLASS (wb_app_live_list_parent_class)->dispose (object);
}

static void
wb_app_live_list_finalize (GObject *object)
{
  WbAppLiveListPrivate *own = get_private (object);

  g_object_unref (own->cancellable);
  g_ptr_array_unref (own->items);
  g_clear_error (&own->error);
  g_free (own->question);
  G_OBJECT_CLASS (wb_app_live_list_parent_class)->finalize (object);
}

static void
wb_app_live_list_class_init (WbAppLiveListClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->get_property = wb_app_live_list_get_property;
  object_class->dispose = wb_app_live_list_dispose;
  object_class->finalize = wb_app_live_list_finalize;
  properties[PROP_LOADED] = g_param_spec_boolean ("loaded", NULL, NULL, FALSE, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);
}

static void
wb_app_live_list_init (WbAppLiveList *self)
{
  WbAppLiveListPrivate *own = get_private (self);

  own->cancellable = g_cancellable_new ();
  own->items = g_ptr_array_new_with_free_func (g_object_unref);
}

gboolean
wb_app_live_list_get_loaded (WbAppLiveList *self)
{
  g_return_val_if_fail (WB_IS_APP_LIVE_LIST (self), FALSE);
  return get_private (self)->loaded;
}

const GError *
wb_app_live_list_get_error (WbAppLiveList *self)
{
  g_return_val_if_fail (WB_IS_APP_LIVE_LIST (self), NULL);
  return get_private (self)->error;
}

void
wb_app_live_list_start (WbAppLiveList           *self,
                        WbAppNotebook           *notebook,
                        const WbAppLiveListKind *kind,
                        gconstpointer            question,
                        gsize                    size)
{
  WbAppLiveListPrivate *own = get_private (self);

  g_assert (own->notebook == NULL && !own->loading);
  own->notebook = g_object_ref (notebook);
  own->kind = kind;
  own->question = g_memdup2 (question, size);
  own->size = size;
  g_signal_connect_object (notebook, "changed", G_CALLBACK (on_notebook_changed_cb), self, G_CONNECT_SWAPPED);
  load (self);
}

WbAppNotebook *
wb_app_live_list_get_notebook (WbAppLiveList *self)
{
  return get_private (self)->notebook;
}

const GPtrArray *
wb_app_live_list_get_items (WbAppLiveList *self)
{
  return get_private (self)->items;
}
