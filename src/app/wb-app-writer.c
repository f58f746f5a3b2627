/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-writer-private.h"

#include "wb-app-anchor-private.h"
#include "wb-app-error-private.h"
#include "wb-clock.h"
#include "wb-record-types.h"
#include "wb-store-records.h"
#include "wb-store-undo.h"

/*
 * Order that callers rely on: the news of a task are attached to the maker's
 * context before the task's own result, at the same priority, so the notebook
 * knows the new state when the callback of the save runs.
 */

#define LOOK_EVERY_US (400 * G_TIME_SPAN_MILLISECOND)

typedef enum { ITEM_OPEN, ITEM_RUN, ITEM_STOP } ItemKind;

typedef struct
{
  ItemKind        kind;
  WbAppWriterFunc func;
  gpointer        data;
  GDestroyNotify  free_data;
  GDestroyNotify  free_result;
  GTask          *task;      /* NULL: somebody waits */

  /* where somebody waits; under the writer's lock */
  gboolean        done;
  gpointer        result;
  GError         *error;
  WbAppNews      *news;
} Item;

struct _WbAppWriter
{
  gatomicrefcount  ref_count;
  char            *path;
  WbAppOpenMode    mode;
  char            *title;
  char            *who;
  GMainContext    *context;
  GThread         *thread;
  GAsyncQueue     *queue;
  gboolean         stopped;  /* the maker's thread only */

  WbAppNewsFunc    news_func; /* the maker's thread only */
  gpointer         news_user;

  GMutex           lock;
  GCond            done;

  /* the writer's thread only */
  WbStore         *store;
  gint64           seen_entry;
  guint32          seen_version;
  gboolean         owes_news;    /* of a task, which a lock hid */
  gboolean         anchor_due;   /* written when nobody waits for anything */
};

typedef struct
{
  WbAppWriter *writer;
  WbAppNews   *news;
} Letter;

void
wb_app_news_free (WbAppNews *self)
{
  if (self == NULL)
    return;
  g_free (self->undo_label);
  g_free (self->redo_label);
  g_free (self->passed_label);
  g_clear_pointer (&self->settings, wb_record_free);
  g_free (self->types);
  g_free (self);
}

static WbAppWriter *
wb_app_writer_ref (WbAppWriter *self)
{
  g_atomic_ref_count_inc (&self->ref_count);
  return self;
}

void
wb_app_writer_unref (WbAppWriter *self)
{
  if (!g_atomic_ref_count_dec (&self->ref_count))
    return;
  g_assert (self->thread == NULL);
  g_free (self->path);
  g_free (self->title);
  g_free (self->who);
  g_main_context_unref (self->context);
  g_async_queue_unref (self->queue);
  g_mutex_clear (&self->lock);
  g_cond_clear (&self->done);
  g_free (self);
}

static void
item_free (gpointer data)
{
  Item *self = data;

  if (self->free_data != NULL)
    self->free_data (self->data);
  g_clear_object (&self->task);
  g_free (self);
}

static void
letter_free (gpointer data)
{
  Letter *self = data;

  wb_app_writer_unref (self->writer);
  wb_app_news_free (self->news);
  g_free (self);
}

static gboolean
on_letter_cb (gpointer data)
{
  Letter *letter = data;

  if (letter->writer->news_func != NULL)
    letter->writer->news_func (letter->news, letter->writer->news_user);
  return G_SOURCE_REMOVE;
}

gboolean
wb_app_change_touches (gpointer            types,
                       const WbRecordType *type)
{
  const WbRecordType **touched = types;

  if (touched == NULL)
    return TRUE;
  for (guint i = 0; touched[i] != NULL; i++)
    if (touched[i] == type)
      return TRUE;
  return FALSE;
}

/* Takes the news. */
static void
send_news (WbAppWriter *self,
           WbAppNews   *news)
{
  g_autoptr (GSource) source = g_idle_source_new ();
  Letter *letter = g_new0 (Letter, 1);

  letter->writer = wb_app_writer_ref (self);
  letter->news = news;
  g_source_set_priority (source, G_PRIORITY_DEFAULT);
  g_source_set_callback (source, on_letter_cb, letter, letter_free);
  g_source_attach (source, self->context);
}

static char *
dup_label (WbEntry *entry)
{
  char *label = entry != NULL ? g_strdup (entry->why != NULL ? entry->why : "") : NULL;

  if (entry != NULL)
    wb_entry_free (entry);
  return label;
}

/* The tables that entries after `seen` touched. */
static gpointer
list_touched (WbStore *store,
              gint64   seen)
{
  g_autoptr (GPtrArray) touched = g_ptr_array_new ();
  const WbRecordType *const *types = wb_record_types ();
  gsize n;

  for (guint i = 0; types[i] != NULL; i++)
    if (wb_store_get_type_entry (store, types[i]) > seen)
      g_ptr_array_add (touched, (gpointer) types[i]);
  g_ptr_array_add (touched, NULL);
  return g_ptr_array_steal (touched, &n);
}

/* The state as of one moment. Another connection's write shows in the data version, and then not all that is new is ours. */
static WbAppNews *
read_news (WbAppWriter *self,
           gboolean     by_task)
{
  WbAppNews *news = g_new0 (WbAppNews, 1);
  gint64 last = wb_store_get_last_entry (self->store);
  guint32 version = wb_store_get_data_version (self->store);

  news->last_entry = last;
  news->read_only = wb_store_is_read_only (self->store);
  news->wrote = last > self->seen_entry;
  news->own = by_task && version == self->seen_version;
  if (news->wrote)
    news->types = list_touched (self->store, self->seen_entry);
  news->settings = wb_store_load_notebook (self->store, NULL);
  if (!news->read_only)
    {
      news->undo_label = dup_label (wb_store_get_undo (self->store, NULL));
      news->redo_label = dup_label (wb_store_get_redo (self->store, NULL));
      news->passed_label = dup_label (wb_store_get_passed (self->store, NULL));
    }
  self->anchor_due |= news->wrote && by_task;
  self->seen_entry = MAX (last, self->seen_entry);
  self->seen_version = version;
  return news;
}

/*
 * What there is to tell after a task or a look; NULL where the file cannot be
 * read now: the next look tries again. `patient` FALSE does not wait for a lock, so
 * that a save which waited for it in vain is refused then, and not some seconds later.
 */
static WbAppNews *
collect_news (WbAppWriter *self,
              gboolean     by_task,
              gboolean     patient,
              GError     **error)
{
  WbAppNews *news;

  self->owes_news |= by_task;
  if (!wb_store_begin_look (self->store, patient, error))
    return NULL;
  news = read_news (self, self->owes_news);
  self->owes_news = FALSE;
  wb_store_end_look (self->store);
  return news;
}

static gboolean
open_store (WbAppWriter *self,
            GError     **error)
{
  if (self->mode == WB_APP_OPEN_CREATE)
    self->store = wb_store_create (self->path, self->title, self->who, wb_clock_now (wb_clock_get ()), error);
  else
    self->store = wb_store_open (self->path, self->mode == WB_APP_OPEN_READ ? WB_STORE_READ : WB_STORE_WRITE, error);
  self->anchor_due = self->store != NULL && self->mode == WB_APP_OPEN_CREATE;
  return self->store != NULL;
}

/* Hands the outcome to the task or to who waits. Takes the item, result, error and news. */
static void
finish_item (WbAppWriter *self,
             Item        *item,
             gpointer     result,
             GError      *error,
             WbAppNews   *news)
{
  if (item->task != NULL)
    {
      if (news != NULL)
        send_news (self, news);
      if (error != NULL)
        g_task_return_error (item->task, error);
      else
        g_task_return_pointer (item->task, result, item->free_result);
      item_free (item);
      return;
    }
  g_mutex_lock (&self->lock);
  item->result = result;
  item->error = error;
  item->news = news;
  item->done = TRUE;
  g_cond_broadcast (&self->done);
  g_mutex_unlock (&self->lock);
}

static void
do_open (WbAppWriter *self,
         Item        *item)
{
  GError *error = NULL;
  WbAppNews *news = open_store (self, &error) ? collect_news (self, FALSE, TRUE, &error) : NULL;

  wb_app_error_from_store (&error, WB_APP_ERROR_EXISTS);
  finish_item (self, item, news, error, NULL);
}

static void
do_run (WbAppWriter *self,
        Item        *item)
{
  GCancellable *cancellable = item->task != NULL ? g_task_get_cancellable (item->task) : NULL;
  gpointer result = NULL;
  GError *error = NULL;

  if (self->store == NULL)
    g_set_error_literal (&error, WB_APP_ERROR, WB_APP_ERROR_FAILED, "The notebook is not open");
  else if (!g_cancellable_set_error_if_cancelled (cancellable, &error))
    result = item->func (self->store, item->data, cancellable, &error);
  finish_item (self, item, result, error, self->store != NULL ? collect_news (self, TRUE, error == NULL, NULL) : NULL);
}

static void
note_anchor (WbAppWriter *self)
{
  if (self->store != NULL && self->anchor_due)
    wb_app_anchor_write (self->store);
  self->anchor_due = FALSE;
}

/* Whether another connection wrote since; FALSE too where a lock hides it: the next look tries again. */
static gboolean
others_wrote (WbAppWriter *self)
{
  gboolean wrote;

  if (!wb_store_begin_look (self->store, FALSE, NULL))
    return FALSE;
  wrote = wb_store_get_data_version (self->store) != self->seen_version;
  wb_store_end_look (self->store);
  return wrote;
}

static void
look (WbAppWriter *self)
{
  WbAppNews *news;

  note_anchor (self);
  if (self->store == NULL || (!self->owes_news && !others_wrote (self)))
    return;
  /* Also where no entry came: an undo label may have gone. */
  news = collect_news (self, FALSE, FALSE, NULL);
  if (news != NULL)
    send_news (self, news);
}

static gpointer
writer_thread (gpointer data)
{
  WbAppWriter *self = data;
  gboolean going = TRUE;

  while (going)
    {
      Item *item = g_async_queue_timeout_pop (self->queue, LOOK_EVERY_US);

      if (item == NULL)
        {
          look (self);
          continue;
        }
      switch (item->kind)
        {
        case ITEM_OPEN:
          do_open (self, item);
          break;
        case ITEM_RUN:
          do_run (self, item);
          break;
        case ITEM_STOP:
          item_free (item);
          going = FALSE;
          break;
        default:
          g_assert_not_reached ();
        }
    }
  note_anchor (self);
  g_clear_pointer (&self->store, wb_store_close);
  wb_app_writer_unref (self);
  return NULL;
}

WbAppWriter *
wb_app_writer_new (const char   *path,
                   WbAppOpenMode mode,
                   const char   *title,
                   const char   *who)
{
  WbAppWriter *self = g_new0 (WbAppWriter, 1);

  g_atomic_ref_count_init (&self->ref_count);
  self->path = g_strdup (path);
  self->mode = mode;
  self->title = g_strdup (title);
  self->who = g_strdup (who);
  self->context = g_main_context_ref_thread_default ();
  self->queue = g_async_queue_new_full (item_free);
  g_mutex_init (&self->lock);
  g_cond_init (&self->done);
  return self;
}

static Item *
item_new (ItemKind kind,
          GTask   *task)
{
  Item *item = g_new0 (Item, 1);

  item->kind = kind;
  item->task = task;
  return item;
}

static void
start_thread (WbAppWriter *self,
              Item        *item)
{
  g_assert (self->thread == NULL);
  g_async_queue_push (self->queue, item);
  self->thread = g_thread_new ("writer", writer_thread, wb_app_writer_ref (self));
}

/* Blocks until the writer is done with the item; frees it; the news go to the news function unless the caller takes them. */
static gpointer
wait_for_item (WbAppWriter *self,
               Item        *item,
               GError     **error)
{
  gpointer result;
  WbAppNews *news;

  g_mutex_lock (&self->lock);
  while (!item->done)
    g_cond_wait (&self->done, &self->lock);
  g_mutex_unlock (&self->lock);

  result = item->result;
  news = item->news;
  if (item->error != NULL)
    g_propagate_error (error, item->error);
  item_free (item);
  if (news != NULL && self->news_func != NULL)
    self->news_func (news, self->news_user);
  wb_app_news_free (news);
  return result;
}

/* Takes the task. */
void
wb_app_writer_start (WbAppWriter *self,
                     GTask       *task)
{
  Item *item = item_new (ITEM_OPEN, task);

  item->free_result = (GDestroyNotify) wb_app_news_free;
  start_thread (self, item);
}

WbAppNews *
wb_app_writer_start_sync (WbAppWriter *self,
                          GError     **error)
{
  Item *item = item_new (ITEM_OPEN, NULL);

  start_thread (self, item);
  return wait_for_item (self, item, error);
}

void
wb_app_writer_set_news_func (WbAppWriter  *self,
                             WbAppNewsFunc func,
                             gpointer      user)
{
  self->news_func = func;
  self->news_user = user;
}

/* Takes the task. */
void
wb_app_writer_run (WbAppWriter    *self,
                   GTask          *task,
                   WbAppWriterFunc func,
                   gpointer        data,
                   GDestroyNotify  free_data,
                   GDestroyNotify  free_result)
{
  Item *item = item_new (ITEM_RUN, task);

  item->func = func;
  item->data = data;
  item->free_data = free_data;
  item->free_result = free_result;
  if (self->stopped)
    {
      g_task_return_new_error (task, WB_APP_ERROR, WB_APP_ERROR_FAILED, "The notebook is closed");
      item_free (item);
      return;
    }
  g_async_queue_push (self->queue, item);
}

gpointer
wb_app_writer_run_sync (WbAppWriter    *self,
                        WbAppWriterFunc func,
                        gpointer        data,
                        GError        **error)
{
  Item *item;

  if (self->stopped)
    {
      g_set_error_literal (error, WB_APP_ERROR, WB_APP_ERROR_FAILED, "The notebook is closed");
      return NULL;
    }
  item = item_new (ITEM_RUN, NULL);
  item->func = func;
  item->data = data;
  g_async_queue_push (self->queue, item);
  return wait_for_item (self, item, error);
}

void
wb_app_writer_stop (WbAppWriter *self)
{
  if (self->stopped)
    return;
  self->stopped = TRUE;
  if (self->thread == NULL)
    return;
  g_async_queue_push (self->queue, item_new (ITEM_STOP, NULL));
  g_thread_join (self->thread);
  self->thread = NULL;
}
