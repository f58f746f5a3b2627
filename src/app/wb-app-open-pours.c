/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-open-pours.h"

#include "wb-app-reader-private.h"
#include "wb-clock.h"
#include "wb-craft-method.h"
#include "wb-store-records.h"

struct _WbAppOpenPours
{
  GObject        parent_instance;

  WbAppNotebook *notebook;
  GPtrArray     *items;       /* WbAppOpenPour */
  GCancellable  *cancellable;
  gboolean       loading;
  gboolean       again;
};

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WbAppOpenPours, wb_app_open_pours, G_TYPE_OBJECT)

static void load (WbAppOpenPours *self);

static void
open_pour_free (gpointer data)
{
  WbAppOpenPour *self = data;

  wb_record_free (self->batch);
  g_ptr_array_unref (self->steps);
  g_free (self);
}

static int
compare_steps (gconstpointer a,
               gconstpointer b)
{
  const WbBatchStep *first = *(gconstpointer *) a, *second = *(gconstpointer *) b;

  return (first->position > second->position) - (first->position < second->position);
}

/* FALSE with an error. */
static gboolean
add_open (GPtrArray     *found,
          WbStore       *store,
          const WbBatch *batch,
          GError       **error)
{
  g_autoptr (GPtrArray) steps = wb_store_list (store, &wb_batch_step_type, "batch", batch->record.id, error);
  WbAppOpenPour *item;

  if (steps == NULL)
    return FALSE;
  g_ptr_array_sort (steps, compare_steps);
  if (wb_craft_method_find_waiting (steps) == G_MAXUINT)
    return TRUE;
  item = g_new0 (WbAppOpenPour, 1);
  item->batch = wb_record_copy (batch);
  item->steps = g_steal_pointer (&steps);
  g_ptr_array_add (found, item);
  return TRUE;
}

static gpointer
find_open (WbStore      *store,
           gpointer      today,
           GCancellable *cancellable,
           GError      **error)
{
  g_autoptr (GPtrArray) batches = wb_store_list (store, &wb_batch_type, NULL, 0, error);
  g_autoptr (GPtrArray) found = g_ptr_array_new_with_free_func (open_pour_free);

  if (batches == NULL)
    return NULL;
  for (guint i = 0; i < batches->len; i++)
    if (wb_craft_method_is_near (batches->pdata[i], *(WbDay *) today) && !add_open (found, store, batches->pdata[i], error))
      return NULL;
  return g_steal_pointer (&found);
}

static void
on_found_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      user)
{
  g_autoptr (GError) error = NULL;
  GPtrArray *found = g_task_propagate_pointer (G_TASK (result), &error);
  WbAppOpenPours *self;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  self = WB_APP_OPEN_POURS (user);
  self->loading = FALSE;
  /* What cannot be read now stays as it was told; the next save or look tells why. */
  if (found != NULL)
    {
      gboolean changed = self->items->len > 0 || found->len > 0;

      g_ptr_array_unref (self->items);
      self->items = found;
      if (changed)
        g_signal_emit (self, signals[CHANGED], 0);
    }
  if (self->again)
    load (self);
}

static void
load (WbAppOpenPours *self)
{
  WbDay today = wb_instant_get_day (wb_clock_now (wb_clock_get ()));
  GTask *task;

  self->again = self->loading;
  if (self->loading)
    return;
  self->loading = TRUE;
  task = g_task_new (self->notebook, self->cancellable, on_found_cb, self);
  g_task_set_source_tag (task, load);
  wb_app_reader_run (self->notebook, task, find_open, g_memdup2 (&today, sizeof today), g_free, (GDestroyNotify) g_ptr_array_unref);
}

static void
on_notebook_changed_cb (WbAppNotebook  *notebook,
                        gint64          entry,
                        gpointer        types,
                        gboolean        own,
                        WbAppOpenPours *self)
{
  if (wb_app_change_touches (types, &wb_batch_type) || wb_app_change_touches (types, &wb_batch_step_type))
    load (self);
}

static void
wb_app_open_pours_dispose (GObject *object)
{
  WbAppOpenPours *self = WB_APP_OPEN_POURS (object);

  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->notebook);
  G_OBJECT_CLASS (wb_app_open_pours_parent_class)->dispose (object);
}

static void
wb_app_open_pours_finalize (GObject *object)
{
  WbAppOpenPours *self = WB_APP_OPEN_POURS (object);

  g_object_unref (self->cancellable);
  g_ptr_array_unref (self->items);
  G_OBJECT_CLASS (wb_app_open_pours_parent_class)->finalize (object);
}

static void
wb_app_open_pours_class_init (WbAppOpenPoursClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_app_open_pours_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_app_open_pours_finalize;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_APP_OPEN_POURS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
wb_app_open_pours_init (WbAppOpenPours *self)
{
  self->items = g_ptr_array_new_with_free_func (open_pour_free);
  self->cancellable = g_cancellable_new ();
}

WbAppOpenPours *
wb_app_open_pours_new (WbAppNotebook *notebook)
{
  WbAppOpenPours *self;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);

  self = g_object_new (WB_TYPE_APP_OPEN_POURS, NULL);
  self->notebook = g_object_ref (notebook);
  g_signal_connect_object (notebook, "changed", G_CALLBACK (on_notebook_changed_cb), self, 0);
  load (self);
  return self;
}

const GPtrArray *
wb_app_open_pours_get (WbAppOpenPours *self)
{
  g_return_val_if_fail (WB_IS_APP_OPEN_POURS (self), NULL);
  return self->items;
}
