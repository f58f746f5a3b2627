/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-notebook-private.h"

#include "wb-app-clock-private.h"
#include "wb-app-document-copies-private.h"
#include "wb-app-error-private.h"
#include "wb-app-forward-private.h"
#include "wb-app-reader-private.h"
#include "wb-app-save-private.h"
#include "wb-store-records.h"

struct _WbAppNotebook
{
  GObject      parent_instance;

  char        *path;
  char        *who;         /* NULL: the account's */
  WbAppWriter *writer;      /* NULL: opened for reading, by a command */

  /* as the writer told last */
  WbNotebook  *settings;
  gint64       last_entry;
  gboolean     read_only;
  char        *undo_label;
  char        *redo_label;
  char        *passed_label; /* what undo would pass over; NULL: nothing */

  guint        saves;       /* on their way */

  GCancellable *life;       /* cancelled at the close */
  WbAppLoads   *loads;
  char         *damage;
  WbAppClock    clock;
};

enum
{
  PROP_0,
  PROP_PATH,
  PROP_TITLE,
  PROP_READ_ONLY,
  PROP_INVENTED,
  PROP_SAVING,
  PROP_CAN_UNDO,
  PROP_CAN_REDO,
  PROP_UNDO_LABEL,
  PROP_REDO_LABEL,
  PROP_PASSED_LABEL,
  PROP_DAMAGE,
  N_PROPS
};

enum { SIGNAL_CHANGED, SIGNAL_CLOCK_MOVED, N_SIGNALS };

static GParamSpec *properties[N_PROPS];
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WbAppNotebook, wb_app_notebook, G_TYPE_OBJECT)

static void
take_label (WbAppNotebook *self,
            char         **field,
            const char    *label,
            int            label_prop,
            int            can_prop)
{
  gboolean could = *field != NULL;

  if (g_strcmp0 (*field, label) == 0)
    return;
  g_free (*field);
  *field = g_strdup (label);
  g_object_notify_by_pspec (G_OBJECT (self), properties[label_prop]);
  if (could != (label != NULL))
    g_object_notify_by_pspec (G_OBJECT (self), properties[can_prop]);
}

static void
take_settings (WbAppNotebook    *self,
               const WbNotebook *settings)
{
  g_autoptr (WbRecord) old = (WbRecord *) self->settings;

  /* A look that could not read the file keeps what was known. */
  if (settings == NULL)
    {
      g_steal_pointer (&old);
      return;
    }
  self->settings = wb_record_copy (settings);
  if (old == NULL || g_strcmp0 (((WbNotebook *) old)->title, settings->title) != 0)
    g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_TITLE]);
  if (old == NULL || ((WbNotebook *) old)->invented != settings->invented)
    g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_INVENTED]);
}

static void
on_news_cb (const WbAppNews *news,
            gpointer         user)
{
  WbAppNotebook *self = user;

  g_object_ref (self);
  g_object_freeze_notify (G_OBJECT (self));
  /* A letter of an earlier task can arrive after the news of a save that somebody waited for. */
  if (news->last_entry >= self->last_entry)
    {
      self->last_entry = news->last_entry;
      take_settings (self, news->settings);
      if (self->read_only != news->read_only)
        {
          self->read_only = news->read_only;
          g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_READ_ONLY]);
        }
      take_label (self, &self->undo_label, news->undo_label, PROP_UNDO_LABEL, PROP_CAN_UNDO);
      take_label (self, &self->redo_label, news->redo_label, PROP_REDO_LABEL, PROP_CAN_REDO);
      take_label (self, &self->passed_label, news->passed_label, PROP_PASSED_LABEL, PROP_PASSED_LABEL);
    }
  g_object_thaw_notify (G_OBJECT (self));
  if (news->wrote && news->own)
    wb_app_clock_written (&self->clock);
  if (news->wrote)
    g_signal_emit (self, signals[SIGNAL_CHANGED], 0, news->last_entry, news->types, news->own);
  g_object_unref (self);
}

static void
wb_app_notebook_get_property (GObject    *object,
                              guint       prop_id,
                              GValue     *value,
                              GParamSpec *pspec)
{
  WbAppNotebook *self = WB_APP_NOTEBOOK (object);

  switch (prop_id)
    {
    case PROP_PATH:
      g_value_set_string (value, self->path);
      break;
    case PROP_TITLE:
      g_value_set_string (value, wb_app_notebook_get_title (self));
      break;
    case PROP_READ_ONLY:
      g_value_set_boolean (value, self->read_only);
      break;
    case PROP_INVENTED:
      g_value_set_boolean (value, wb_app_notebook_get_invented (self));
      break;
    case PROP_SAVING:
      g_value_set_boolean (value, self->saves > 0);
      break;
    case PROP_CAN_UNDO:
      g_value_set_boolean (value, self->undo_label != NULL);
      break;
    case PROP_CAN_REDO:
      g_value_set_boolean (value, self->redo_label != NULL);
      break;
    case PROP_UNDO_LABEL:
      g_value_set_string (value, self->undo_label);
      break;
    case PROP_REDO_LABEL:
      g_value_set_string (value, self->redo_label);
      break;
    case PROP_PASSED_LABEL:
      g_value_set_string (value, self->passed_label);
      break;
    case PROP_DAMAGE:
      g_value_set_string (value, self->damage);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, prop_id, pspec);
    }
}

static void
wb_app_notebook_dispose (GObject *object)
{
  WbAppNotebook *self = WB_APP_NOTEBOOK (object);

  wb_app_notebook_close (self);
  G_OBJECT_CLASS (wb_app_notebook_parent_class)->dispose (object);
}

static void
wb_app_notebook_finalize (GObject *object)
{
  WbAppNotebook *self = WB_APP_NOTEBOOK (object);

  g_clear_pointer (&self->writer, wb_app_writer_unref);
  g_clear_pointer (&self->settings, wb_record_free);
  g_free (self->path);
  g_free (self->who);
  g_free (self->undo_label);
  g_free (self->redo_label);
  g_free (self->passed_label);
  g_object_unref (self->life);
  wb_app_loads_unref (self->loads);
  g_free (self->damage);
  wb_app_clock_clear (&self->clock);
  G_OBJECT_CLASS (wb_app_notebook_parent_class)->finalize (object);
}

static void
wb_app_notebook_class_init (WbAppNotebookClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  const GParamFlags flags = G_PARAM_READABLE | G_PARAM_STATIC_STRINGS;

  object_class->get_property = wb_app_notebook_get_property;
  object_class->dispose = wb_app_notebook_dispose;
  object_class->finalize = wb_app_notebook_finalize;

  properties[PROP_PATH] = g_param_spec_string ("path", NULL, NULL, NULL, flags);
  properties[PROP_TITLE] = g_param_spec_string ("title", NULL, NULL, NULL, flags);
  properties[PROP_READ_ONLY] = g_param_spec_boolean ("read-only", NULL, NULL, FALSE, flags);
  properties[PROP_INVENTED] = g_param_spec_boolean ("invented", NULL, NULL, FALSE, flags);
  properties[PROP_SAVING] = g_param_spec_boolean ("saving", NULL, NULL, FALSE, flags);
  properties[PROP_CAN_UNDO] = g_param_spec_boolean ("can-undo", NULL, NULL, FALSE, flags);
  properties[PROP_CAN_REDO] = g_param_spec_boolean ("can-redo", NULL, NULL, FALSE, flags);
  properties[PROP_UNDO_LABEL] = g_param_spec_string ("undo-label", NULL, NULL, NULL, flags);
  properties[PROP_REDO_LABEL] = g_param_spec_string ("redo-label", NULL, NULL, NULL, flags);
  properties[PROP_PASSED_LABEL] = g_param_spec_string ("passed-label", NULL, NULL, NULL, flags);
  properties[PROP_DAMAGE] = g_param_spec_string ("damage", NULL, NULL, NULL, flags);
  g_object_class_install_properties (object_class, N_PROPS, properties);

  signals[SIGNAL_CHANGED] = g_signal_new ("changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                          G_TYPE_NONE, 3, G_TYPE_INT64, G_TYPE_POINTER, G_TYPE_BOOLEAN);
  signals[SIGNAL_CLOCK_MOVED] = g_signal_new ("clock-moved", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                              G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
wb_app_notebook_init (WbAppNotebook *self)
{
  self->life = g_cancellable_new ();
  self->loads = wb_app_loads_new ();
}

const char *
wb_app_notebook_account_name (void)
{
  const char *name = g_get_real_name ();

  return name != NULL && *name != '\0' && strcmp (name, "Unknown") != 0 ? name : g_get_user_name ();
}

/* A notebook before its file is open. */
static WbAppNotebook *
notebook_new (const char   *path,
              WbAppOpenMode mode,
              const char   *title)
{
  WbAppNotebook *self = g_object_new (WB_TYPE_APP_NOTEBOOK, NULL);

  self->path = g_canonicalize_filename (path, NULL);
  self->writer = wb_app_writer_new (self->path, mode, title, wb_app_notebook_account_name ());
  return self;
}

/* Takes the first news. */
static void
notebook_opened (WbAppNotebook *self,
                 WbAppNews     *news)
{
  news->wrote = FALSE;
  on_news_cb (news, self);
  wb_app_writer_set_news_func (self->writer, on_news_cb, self);
  wb_app_news_free (news);
}

static gboolean
goes_on (gpointer cancellable)
{
  return !g_cancellable_is_cancelled (cancellable);
}

static gpointer
check_quickly (WbStore      *store,
               gpointer      data,
               GCancellable *cancellable,
               GError      **error)
{
  return wb_store_quick_check (store, goes_on, cancellable, error) ? g_strdup ("") : NULL;
}

static void
on_quick_check_cb (GObject      *source,
                   GAsyncResult *result,
                   gpointer      user_data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *good = g_task_propagate_pointer (G_TASK (result), &error);
  WbAppNotebook *self;

  if (good != NULL || g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  self = WB_APP_NOTEBOOK (user_data);
  /* Locked or moved meanwhile is no damage: the next save says so. */
  if (!g_error_matches (error, WB_APP_ERROR, WB_APP_ERROR_DAMAGED))
    return;
  self->damage = g_strdup (error->message);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_DAMAGE]);
}

/* An opened file is not trusted: SQLite's own check runs behind the window's back. */
static void
start_quick_check (WbAppNotebook *self)
{
  wb_app_reader_run (self, g_task_new (NULL, self->life, on_quick_check_cb, self), check_quickly, NULL, NULL, g_free);
}

static void
on_started_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      user_data)
{
  g_autoptr (GTask) task = user_data;
  WbAppNotebook *self = g_task_get_task_data (task);
  g_autoptr (GError) error = NULL;
  WbAppNews *news = g_task_propagate_pointer (G_TASK (result), &error);

  if (news == NULL)
    {
      g_task_return_error (task, g_steal_pointer (&error));
      return;
    }
  notebook_opened (self, news);
  start_quick_check (self);
  g_task_return_pointer (task, g_object_ref (self), g_object_unref);
}

void
wb_app_notebook_open_async (const char         *path,
                            WbAppOpenMode       mode,
                            const char         *title,
                            GCancellable       *cancellable,
                            GAsyncReadyCallback callback,
                            gpointer            user)
{
  GTask *task = g_task_new (NULL, cancellable, callback, user);
  WbAppNotebook *self = notebook_new (path, mode, title);

  g_task_set_source_tag (task, wb_app_notebook_open_async);
  g_task_set_task_data (task, self, g_object_unref);
  wb_app_writer_start (self->writer, g_task_new (NULL, NULL, on_started_cb, task));
}

WbAppNotebook *
wb_app_notebook_open_finish (GAsyncResult *result,
                             GError      **error)
{
  g_return_val_if_fail (g_task_is_valid (result, NULL), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}

/* A command that only asks needs no thread that writes and watches. */
static gboolean
open_for_reading (WbAppNotebook *self,
                  GError       **error)
{
  g_autoptr (WbStore) store = wb_app_reader_connect (self->path, error);

  if (store == NULL)
    return FALSE;
  self->settings = wb_store_load_notebook (store, error);
  if (self->settings == NULL)
    {
      wb_app_error_from_store (error, WB_APP_ERROR_FAILED);
      return FALSE;
    }
  self->last_entry = wb_store_get_last_entry (store);
  self->read_only = TRUE;
  return TRUE;
}

WbAppNotebook *
wb_app_notebook_open_sync (const char   *path,
                           WbAppOpenMode mode,
                           const char   *title,
                           GError      **error)
{
  g_autoptr (WbAppNotebook) self = notebook_new (path, mode, title);
  WbAppNews *news;

  if (mode == WB_APP_OPEN_READ)
    {
      g_clear_pointer (&self->writer, wb_app_writer_unref);
      return open_for_reading (self, error) ? g_steal_pointer (&self) : NULL;
    }
  news = wb_app_writer_start_sync (self->writer, error);
  if (news == NULL)
    return NULL;
  notebook_opened (self, news);
  return g_steal_pointer (&self);
}

void
wb_app_notebook_close (WbAppNotebook *self)
{
  g_return_if_fail (WB_IS_APP_NOTEBOOK (self));
  g_cancellable_cancel (self->life);
  wb_app_document_copies_remove (self);
  if (self->writer == NULL)
    return;
  wb_app_writer_stop (self->writer);
  wb_app_writer_set_news_func (self->writer, NULL, NULL);
}

const char *
wb_app_notebook_get_path (WbAppNotebook *self)
{
  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (self), NULL);
  return self->path;
}

WbAppLoads *
wb_app_notebook_get_loads (WbAppNotebook *self)
{
  return self->loads;
}

const char *
wb_app_notebook_get_title (WbAppNotebook *self)
{
  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (self), NULL);
  return self->settings != NULL ? self->settings->title : NULL;
}

gboolean
wb_app_notebook_get_read_only (WbAppNotebook *self)
{
  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (self), TRUE);
  return self->read_only;
}

gboolean
wb_app_notebook_get_invented (WbAppNotebook *self)
{
  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (self), FALSE);
  return self->settings != NULL && self->settings->invented;
}

const WbNotebook *
wb_app_notebook_get_settings (WbAppNotebook *self)
{
  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (self), NULL);
  return self->settings;
}

gint64
wb_app_notebook_get_last_entry (WbAppNotebook *self)
{
  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (self), 0);
  return self->last_entry;
}

gboolean
wb_app_notebook_get_saving (WbAppNotebook *self)
{
  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (self), FALSE);
  return self->saves > 0;
}

gboolean
wb_app_notebook_get_can_undo (WbAppNotebook *self)
{
  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (self), FALSE);
  return self->undo_label != NULL;
}

gboolean
wb_app_notebook_get_can_redo (WbAppNotebook *self)
{
  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (self), FALSE);
  return self->redo_label != NULL;
}

const char *
wb_app_notebook_get_undo_label (WbAppNotebook *self)
{
  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (self), NULL);
  return self->undo_label;
}

const char *
wb_app_notebook_get_redo_label (WbAppNotebook *self)
{
  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (self), NULL);
  return self->redo_label;
}

const char *
wb_app_notebook_get_damage (WbAppNotebook *self)
{
  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (self), NULL);
  return self->damage;
}

void
wb_app_notebook_set_who (WbAppNotebook *self,
                         const char    *who)
{
  g_return_if_fail (WB_IS_APP_NOTEBOOK (self));
  g_free (self->who);
  self->who = who != NULL && *who != '\0' ? g_strdup (who) : NULL;
}

const char *
wb_app_notebook_get_who (WbAppNotebook *self)
{
  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (self), NULL);
  return self->who != NULL ? self->who : wb_app_notebook_account_name ();
}

static void
count_save (WbAppNotebook *self,
            int            by)
{
  gboolean was = self->saves > 0;

  self->saves += by;
  if (was != (self->saves > 0))
    g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_SAVING]);
}

static void
on_life_over_cb (GCancellable *life,
                 gpointer      cancellable)
{
  g_cancellable_cancel (cancellable);
}

static void
on_task_completed_cb (GTask      *task,
                      GParamSpec *pspec,
                      gpointer    id)
{
  WbAppNotebook *self = g_task_get_source_object (task);

  g_cancellable_disconnect (self->life, GPOINTER_TO_SIZE (id));
}

void
wb_app_notebook_cancel_at_close (WbAppNotebook *self,
                                 GTask         *task)
{
  GCancellable *cancellable = g_task_get_cancellable (task);
  gulong id;

  if (cancellable == NULL)
    return;
  id = g_cancellable_connect (self->life, G_CALLBACK (on_life_over_cb), g_object_ref (cancellable), g_object_unref);
  /* 0: it is closed already, and the task was cancelled. */
  if (id != 0)
    g_signal_connect (task, "notify::completed", G_CALLBACK (on_task_completed_cb), GSIZE_TO_POINTER (id));
}

/* Before the caller's callback, which may ask whether something is being saved. */
static void
on_written_cb (gpointer source)
{
  count_save (source, -1);
}

void
wb_app_notebook_write (WbAppNotebook  *self,
                       GTask          *task,
                       WbAppWriterFunc func,
                       gpointer        data,
                       GDestroyNotify  free_data,
                       GDestroyNotify  free_result)
{
  if (self->writer == NULL || self->read_only)
    {
      g_task_return_new_error (task, WB_APP_ERROR, WB_APP_ERROR_READ_ONLY, "%s is open for reading only", self->path);
      if (free_data != NULL)
        free_data (data);
      g_object_unref (task);
      return;
    }
  count_save (self, 1);
  wb_app_writer_run (self->writer, wb_app_forward_new (task, free_result, on_written_cb), func, data, free_data, free_result);
}

WbAppWriter *
wb_app_notebook_get_writer (WbAppNotebook *self)
{
  return self->read_only ? NULL : self->writer;
}

gpointer
wb_app_notebook_write_sync (WbAppNotebook  *self,
                            WbAppWriterFunc func,
                            gpointer        data,
                            GError        **error)
{
  if (self->writer == NULL || self->read_only)
    {
      g_set_error (error, WB_APP_ERROR, WB_APP_ERROR_READ_ONLY, "%s is open for reading only", self->path);
      return NULL;
    }
  return wb_app_writer_run_sync (self->writer, func, data, error);
}

static void
tell_clock (WbAppNotebook *self,
            char          *words)
{
  if (words != NULL)
    g_signal_emit (self, signals[SIGNAL_CLOCK_MOVED], 0, words);
  g_free (words);
}

void
wb_app_notebook_look_at_clock (WbAppNotebook *self)
{
  g_return_if_fail (WB_IS_APP_NOTEBOOK (self));
  tell_clock (self, wb_app_clock_look (&self->clock));
}

void
wb_app_notebook_note_clock (WbAppNotebook *self,
                            gint64         moved_us)
{
  tell_clock (self, wb_app_clock_note (&self->clock, moved_us));
}

/* The next entry says that the clock was moved before it: its instant is by another clock than those before it. */
static void
tell_in_entry (WbAppNotebook *self,
               WbAppSave     *save)
{
  char *why;

  wb_app_notebook_look_at_clock (self);
  why = save->why != NULL ? wb_app_clock_dup_why (&self->clock, save->why) : NULL;
  if (why == NULL)
    return;
  g_free (save->why);
  save->why = why;
}

static void
run_save (WbAppNotebook      *self,
          gpointer            tag,
          WbAppSave          *save,
          WbAppWriterFunc     func,
          GCancellable       *cancellable,
          GAsyncReadyCallback callback,
          gpointer            user)
{
  GTask *task = g_task_new (self, cancellable, callback, user);

  g_task_set_source_tag (task, tag);
  tell_in_entry (self, save);
  wb_app_notebook_write (self, task, func, save, (GDestroyNotify) wb_app_save_unref, (GDestroyNotify) wb_app_save_unref);
}

void
wb_app_notebook_save_topic_async (WbAppNotebook      *self,
                                  const char         *topic,
                                  const char         *why,
                                  GPtrArray          *records,
                                  GCancellable       *cancellable,
                                  GAsyncReadyCallback callback,
                                  gpointer            user)
{
  run_save (self, wb_app_notebook_save_async, wb_app_save_new (topic, wb_app_notebook_get_who (self), why, records),
            wb_app_save_write, cancellable, callback, user);
}

void
wb_app_notebook_run_save_async (WbAppNotebook      *self,
                                gpointer            save,
                                GCancellable       *cancellable,
                                GAsyncReadyCallback callback,
                                gpointer            user)
{
  run_save (self, wb_app_notebook_save_async, save, wb_app_save_write, cancellable, callback, user);
}

void
wb_app_notebook_save_async (WbAppNotebook      *self,
                            const char         *why,
                            GPtrArray          *records,
                            GCancellable       *cancellable,
                            GAsyncReadyCallback callback,
                            gpointer            user)
{
  g_return_if_fail (WB_IS_APP_NOTEBOOK (self));
  g_return_if_fail (why != NULL);
  g_return_if_fail (records != NULL);
  wb_app_notebook_save_topic_async (self, NULL, why, records, cancellable, callback, user);
}

static gint64
tell_save (WbAppSave *save,
           GArray   **ids)
{
  gint64 entry = save->entry;

  if (ids != NULL)
    *ids = g_steal_pointer (&save->ids);
  wb_app_save_unref (save);
  return entry;
}

gint64
wb_app_notebook_save_finish (WbAppNotebook *self,
                             GAsyncResult  *result,
                             GArray       **ids,
                             GError       **error)
{
  WbAppSave *save;

  g_return_val_if_fail (g_task_is_valid (result, self), 0);
  if (ids != NULL)
    *ids = NULL;
  save = g_task_propagate_pointer (G_TASK (result), error);
  return save != NULL ? tell_save (save, ids) : 0;
}

void
wb_app_notebook_save_record_async (WbAppNotebook      *self,
                                   const char         *why,
                                   gconstpointer       record,
                                   GCancellable       *cancellable,
                                   GAsyncReadyCallback callback,
                                   gpointer            user)
{
  g_autoptr (GPtrArray) records = g_ptr_array_new ();

  g_ptr_array_add (records, (gpointer) record);
  wb_app_notebook_save_async (self, why, records, cancellable, callback, user);
}

void
wb_app_notebook_delete_async (WbAppNotebook      *self,
                              const char         *why,
                              gconstpointer       record,
                              GCancellable       *cancellable,
                              GAsyncReadyCallback callback,
                              gpointer            user)
{
  g_autoptr (WbRecord) copy = wb_record_copy (record);

  /* wb_record_copy keeps id and entry, so that a newer version is noticed here as well. */
  copy->deleted = TRUE;
  wb_app_notebook_save_record_async (self, why, copy, cancellable, callback, user);
}

gint64
wb_app_notebook_save_sync (WbAppNotebook *self,
                           const char    *why,
                           GPtrArray     *records,
                           GArray       **ids,
                           GError       **error)
{
  WbAppSave *save, *written;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (self), 0);
  if (ids != NULL)
    *ids = NULL;
  save = wb_app_save_new (NULL, wb_app_notebook_get_who (self), why, records);
  written = wb_app_notebook_write_sync (self, wb_app_save_write, save, error);
  wb_app_save_unref (save);
  return written != NULL ? tell_save (written, ids) : 0;
}

void
wb_app_notebook_undo_async (WbAppNotebook      *self,
                            GCancellable       *cancellable,
                            GAsyncReadyCallback callback,
                            gpointer            user)
{
  g_return_if_fail (WB_IS_APP_NOTEBOOK (self));
  run_save (self, wb_app_notebook_undo_async, wb_app_save_new (NULL, wb_app_notebook_get_who (self), NULL, NULL),
            wb_app_save_undo, cancellable, callback, user);
}

void
wb_app_notebook_redo_async (WbAppNotebook      *self,
                            GCancellable       *cancellable,
                            GAsyncReadyCallback callback,
                            gpointer            user)
{
  g_return_if_fail (WB_IS_APP_NOTEBOOK (self));
  run_save (self, wb_app_notebook_redo_async, wb_app_save_new (NULL, wb_app_notebook_get_who (self), NULL, NULL),
            wb_app_save_redo, cancellable, callback, user);
}
