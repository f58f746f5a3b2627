/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-experiment-private.h"
#include "wb-app-items-private.h"
#include "wb-app-query.h"

/*
 * A reload is asked for on every change; while one is on its way, further
 * changes ask for one more after it, never for two.
 */

struct _WbAppExperiments
{
  GObject        parent_instance;

  WbAppNotebook *notebook;
  GPtrArray     *items;     /* WbAppExperiment */
  GCancellable  *cancellable;
  gboolean       loaded;
  gboolean       loading;
  gboolean       again;
};

enum { PROP_0, PROP_LOADED, N_PROPS };

static GParamSpec *properties[N_PROPS];

static GType
get_item_type (GListModel *model)
{
  return WB_TYPE_APP_EXPERIMENT;
}

static guint
get_n_items (GListModel *model)
{
  return WB_APP_EXPERIMENTS (model)->items->len;
}

static gpointer
get_item (GListModel *model,
          guint       position)
{
  WbAppExperiments *self = WB_APP_EXPERIMENTS (model);

  return position < self->items->len ? g_object_ref (g_ptr_array_index (self->items, position)) : NULL;
}

static void
list_model_init (GListModelInterface *iface)
{
  iface->get_item_type = get_item_type;
  iface->get_n_items = get_n_items;
  iface->get_item = get_item;
}

G_DEFINE_FINAL_TYPE_WITH_CODE (WbAppExperiments, wb_app_experiments, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (G_TYPE_LIST_MODEL, list_model_init))

static WbAppExperiment *
find_equal (GPtrArray       *items,
            WbAppExperiment *wanted)
{
  for (guint i = 0; i < items->len; i++)
    if (wb_app_experiment_equal (g_ptr_array_index (items, i), wanted))
      return g_ptr_array_index (items, i);
  return NULL;
}

/* Items that show the same stay the same objects. */
static void
take_items (WbAppExperiments *self,
            GPtrArray        *fresh)
{
  for (guint i = 0; i < fresh->len; i++)
    {
      WbAppExperiment *kept = find_equal (self->items, g_ptr_array_index (fresh, i));

      if (kept == NULL)
        continue;
      g_object_unref (g_ptr_array_index (fresh, i));
      g_ptr_array_index (fresh, i) = g_object_ref (kept);
    }
  wb_app_items_replace (G_LIST_MODEL (self), &self->items, fresh);
}

static void load (WbAppExperiments *self);

static void
on_listed_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      user_data)
{
  g_autoptr (GError) error = NULL;
  GPtrArray *fresh = wb_app_query_experiments_finish (WB_APP_NOTEBOOK (source), result, &error);
  WbAppExperiments *self;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  self = WB_APP_EXPERIMENTS (user_data);
  self->loading = FALSE;
  /* What cannot be read now stays as it was shown; the next save or look tells why. */
  if (fresh != NULL)
    {
      g_ptr_array_sort (fresh, wb_app_experiment_order);
      take_items (self, fresh);
      if (!self->loaded)
        {
          self->loaded = TRUE;
          g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_LOADED]);
        }
    }
  if (self->again)
    load (self);
}

static void
load (WbAppExperiments *self)
{
  self->again = self->loading;
  if (self->loading)
    return;
  self->loading = TRUE;
  wb_app_query_experiments_async (self->notebook, self->cancellable, on_listed_cb, self);
}

static void
on_notebook_changed_cb (WbAppExperiments *self)
{
  load (self);
}

static void
wb_app_experiments_get_property (GObject    *object,
                                 guint       prop_id,
                                 GValue     *value,
                                 GParamSpec *pspec)
{
  WbAppExperiments *self = WB_APP_EXPERIMENTS (object);

  switch (prop_id)
    {
    case PROP_LOADED:
      g_value_set_boolean (value, self->loaded);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, prop_id, pspec);
    }
}

static void
wb_app_experiments_dispose (GObject *object)
{
  WbAppExperiments *self = WB_APP_EXPERIMENTS (object);

  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->notebook);
  G_OBJECT_CLASS (wb_app_experiments_parent_class)->dispose (object);
}

static void
wb_app_experiments_finalize (GObject *object)
{
  WbAppExperiments *self = WB_APP_EXPERIMENTS (object);

  g_object_unref (self->cancellable);
  g_ptr_array_unref (self->items);
  G_OBJECT_CLASS (wb_app_experiments_parent_class)->finalize (object);
}

static void
wb_app_experiments_class_init (WbAppExperimentsClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->get_property = wb_app_experiments_get_property;
  object_class->dispose = wb_app_experiments_dispose;
  object_class->finalize = wb_app_experiments_finalize;

  properties[PROP_LOADED] = g_param_spec_boolean ("loaded", NULL, NULL, FALSE, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);
}

static void
wb_app_experiments_init (WbAppExperiments *self)
{
  self->items = g_ptr_array_new_with_free_func (g_object_unref);
  self->cancellable = g_cancellable_new ();
}

WbAppExperiments *
wb_app_experiments_new (WbAppNotebook *notebook)
{
  WbAppExperiments *self = g_object_new (WB_TYPE_APP_EXPERIMENTS, NULL);

  self->notebook = g_object_ref (notebook);
  g_signal_connect_object (notebook, "changed", G_CALLBACK (on_notebook_changed_cb), self, G_CONNECT_SWAPPED);
  load (self);
  return self;
}

gboolean
wb_app_experiments_get_loaded (WbAppExperiments *self)
{
  g_return_val_if_fail (WB_IS_APP_EXPERIMENTS (self), FALSE);
  return self->loaded;
}
