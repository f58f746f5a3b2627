/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"
#include "wb-store.h"

G_BEGIN_DECLS

/*
 * The thread that owns a notebook's only writing connection. It runs what it
 * is given, one after the other, and in between looks twice a second whether
 * another process wrote. It outlives nothing: wb_app_writer_stop joins it.
 */
typedef struct _WbAppWriter WbAppWriter;

/* What the thread knows of the notebook after a task or a look; immutable once handed out. */
typedef struct
{
  gint64      last_entry;
  gboolean    read_only;
  char       *undo_label;  /* NULL: nothing to undo */
  char       *redo_label;
  char       *passed_label; /* what undo would pass over; NULL: nothing */
  WbNotebook *settings;
  gboolean    wrote;       /* there are entries that were not there before */
  gboolean    own;         /* all of them by this writer */
  gpointer    types;       /* tables touched: NULL-terminated array of const WbRecordType *; NULL where it did not write */
} WbAppNews;

void wb_app_news_free (WbAppNews *self);

/* Runs on the writer's thread. Returns a result that the task hands over, or NULL with an error set. */
typedef gpointer (*WbAppWriterFunc) (WbStore *store, gpointer data, GCancellable *cancellable, GError **error);
/* On the context of the thread that made the writer, before the callback of the task that made the news. */
typedef void     (*WbAppNewsFunc)   (const WbAppNews *news, gpointer user);

/* Opens or makes the notebook on the thread's own connection. Nothing runs before wb_app_writer_start. */
WbAppWriter *wb_app_writer_new     (const char *path, WbAppOpenMode mode, const char *title, const char *who);
/* Starts the thread and opens the file; the task ends with a WbAppNews (free with wb_app_news_free). */
void         wb_app_writer_start   (WbAppWriter *self, GTask *task);
/* The same, waiting. */
WbAppNews   *wb_app_writer_start_sync (WbAppWriter *self, GError **error);
void         wb_app_writer_set_news_func (WbAppWriter *self, WbAppNewsFunc func, gpointer user);

/* Queues a function; its result ends the task, with `free_result`. `data` belongs to the task and is freed with it. */
void         wb_app_writer_run      (WbAppWriter *self, GTask *task, WbAppWriterFunc func, gpointer data, GDestroyNotify free_data, GDestroyNotify free_result);
/* Queues and waits; the news are given to the news function before it returns. */
gpointer     wb_app_writer_run_sync (WbAppWriter *self, WbAppWriterFunc func, gpointer data, GError **error);
/* Ends the thread after what was queued, and joins it. Later tasks are refused. */
void         wb_app_writer_stop     (WbAppWriter *self);
void         wb_app_writer_unref    (WbAppWriter *self);

G_END_DECLS
