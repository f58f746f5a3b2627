/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-retain.h"

#include "wb-app-notebook-private.h"
#include "wb-app-query.h"
#include "wb-app-save-task-private.h"
#include "wb-clock.h"

#include <glib/gi18n-lib.h>

static WbDay
get_today (void)
{
  return wb_instant_get_day (wb_clock_now (wb_clock_get ()));
}

/* What stands in the way; NULL: nothing. */
static char *
dup_refusal (WbAppRetainDeed deed,
             const char     *place,
             WbDay           keep_until)
{
  if (deed != WB_APP_RETAIN_KEEP)
    return NULL;
  if (*place == '\0')
    return g_strdup (_("Say where it stands: a reference that nobody finds is none."));
  if (keep_until == WB_DAY_NONE)
    return g_strdup (_("Say until which day it is kept."));
  return keep_until < get_today () ? g_strdup (_("That day is over.")) : NULL;
}

static char *
dup_why (const WbSample *sample,
         WbAppRetainDeed deed)
{
  switch (deed)
    {
    case WB_APP_RETAIN_RELEASE:
      return g_strdup_printf (_("Let %s be burnt"), sample->code);
    case WB_APP_RETAIN_THROWN_OUT:
      return g_strdup_printf (_("Throw out the reference %s"), sample->code);
    case WB_APP_RETAIN_KEEP:
    default:
      return g_strdup_printf (_("Keep %s as a reference"), sample->code);
    }
}

char *
wb_app_retain_dup_words (const WbSample *sample)
{
  const char *place;
  g_autofree char *until = NULL;

  g_return_val_if_fail (sample != NULL, NULL);

  place = sample->place != NULL && *sample->place != '\0' ? sample->place : NULL;
  if (!sample->retained)
    return NULL;
  if (sample->keep_until == WB_DAY_NONE)
    return place != NULL ? g_strdup_printf (_("a reference: %s"), place) : g_strdup (_("kept as a reference"));
  until = wb_day_format_local (sample->keep_until);
  if (place == NULL)
    /* Translators: of a sample; a day. */
    return g_strdup_printf (_("kept as a reference until %s"), until);
  /* Translators: of a sample; a day, and where it stands. */
  return g_strdup_printf (_("kept as a reference until %s (%s)"), until, place);
}

void
wb_app_retain_async (WbAppNotebook      *notebook,
                     const WbSample     *sample,
                     WbAppRetainDeed     deed,
                     const char         *place,
                     WbDay               keep_until,
                     GCancellable       *cancellable,
                     GAsyncReadyCallback callback,
                     gpointer            user)
{
  g_autofree char *where = g_strstrip (g_strdup (place != NULL ? place : ""));
  g_autofree char *today = NULL, *refusal = NULL, *why = NULL;
  g_autoptr (GPtrArray) records = NULL;
  WbSample *record;
  GTask *task;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));
  g_return_if_fail (sample != NULL && sample->record.id > 0);

  task = wb_app_save_task_new (notebook, wb_app_retain_async, cancellable, callback, user);
  refusal = dup_refusal (deed, where, keep_until);
  if (refusal != NULL)
    {
      wb_app_save_task_refuse (task, g_steal_pointer (&refusal));
      return;
    }
  record = wb_record_copy (sample);
  record->retained = deed != WB_APP_RETAIN_RELEASE;
  record->keep_until = deed == WB_APP_RETAIN_KEEP ? keep_until : WB_DAY_NONE;
  if (deed == WB_APP_RETAIN_THROWN_OUT)
    {
      today = wb_day_format_local (get_today ());
      g_free (where);
      /* Translators: in place of where a reference sample stands; a day */
      where = g_strdup_printf (_("thrown out on %s"), today);
    }
  wb_record_set_text (record, wb_record_type_find_field (&wb_sample_type, "place"), deed == WB_APP_RETAIN_RELEASE ? NULL : where);
  records = g_ptr_array_new_with_free_func (wb_record_free);
  g_ptr_array_add (records, record);
  why = dup_why (sample, deed);
  wb_app_notebook_save_topic_async (notebook, "sample", why, records, cancellable, wb_app_save_task_end_cb, task);
}

gboolean
wb_app_retain_finish (WbAppNotebook *notebook,
                      GAsyncResult  *result,
                      GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), FALSE);
  return g_task_propagate_boolean (G_TASK (result), error);
}

/* ---- The list ---- */

struct _WbAppRetained
{
  GObject        parent_instance;

  WbAppNotebook *notebook;
  GPtrArray     *items;       /* WbSample */
  GCancellable  *cancellable;
  gboolean       loading;
  gboolean       again;
};

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WbAppRetained, wb_app_retained, G_TYPE_OBJECT)

static void load (WbAppRetained *self);

static void
on_listed_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      user)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) samples = wb_app_query_list_finish (WB_APP_NOTEBOOK (source), result, &error);
  WbAppRetained *self;
  guint before;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  self = WB_APP_RETAINED (user);
  self->loading = FALSE;
  before = self->items->len;
  /* What cannot be read now stays as it was told; the next save or look tells why. */
  if (samples != NULL)
    g_ptr_array_set_size (self->items, 0);
  for (guint i = 0; samples != NULL && i < samples->len; i++)
    if (((const WbSample *) samples->pdata[i])->retained)
      g_ptr_array_add (self->items, wb_record_copy (samples->pdata[i]));
  if (before > 0 || self->items->len > 0)
    g_signal_emit (self, signals[CHANGED], 0);
  if (self->again)
    load (self);
}

static void
load (WbAppRetained *self)
{
  self->again = self->loading;
  if (self->loading)
    return;
  self->loading = TRUE;
  wb_app_query_list_async (self->notebook, &wb_sample_type, self->cancellable, on_listed_cb, self);
}

static void
on_notebook_changed_cb (WbAppNotebook *notebook,
                        gint64         entry,
                        gpointer       types,
                        gboolean       own,
                        WbAppRetained *self)
{
  if (wb_app_change_touches (types, &wb_sample_type))
    load (self);
}

static void
wb_app_retained_dispose (GObject *object)
{
  WbAppRetained *self = WB_APP_RETAINED (object);

  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->notebook);
  G_OBJECT_CLASS (wb_app_retained_parent_class)->dispose (object);
}

static void
wb_app_retained_finalize (GObject *object)
{
  WbAppRetained *self = WB_APP_RETAINED (object);

  g_object_unref (self->cancellable);
  g_ptr_array_unref (self->items);
  G_OBJECT_CLASS (wb_app_retained_parent_class)->finalize (object);
}

static void
wb_app_retained_class_init (WbAppRetainedClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_app_retained_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_app_retained_finalize;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_APP_RETAINED, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
wb_app_retained_init (WbAppRetained *self)
{
  self->items = g_ptr_array_new_with_free_func (wb_record_free);
  self->cancellable = g_cancellable_new ();
}

WbAppRetained *
wb_app_retained_new (WbAppNotebook *notebook)
{
  WbAppRetained *self;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);

  self = g_object_new (WB_TYPE_APP_RETAINED, NULL);
  self->notebook = g_object_ref (notebook);
  g_signal_connect_object (notebook, "changed", G_CALLBACK (on_notebook_changed_cb), self, 0);
  load (self);
  return self;
}

const GPtrArray *
wb_app_retained_get (WbAppRetained *self)
{
  g_return_val_if_fail (WB_IS_APP_RETAINED (self), NULL);
  return self->items;
}

const WbSample *
wb_app_retained_find (WbAppRetained *self,
                      gint64         sample)
{
  g_return_val_if_fail (WB_IS_APP_RETAINED (self), NULL);

  for (guint i = 0; i < self->items->len; i++)
    if (((const WbRecord *) g_ptr_array_index (self->items, i))->id == sample)
      return g_ptr_array_index (self->items, i);
  return NULL;
}
