/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-job.h"
#include "wb-app-notebook.h"

G_BEGIN_DECLS

/*
 * Copies the notebook, whole as of one moment, to a file of its own while saves go on; never over a file:
 * WB_APP_ERROR_EXISTS. Where the copy is gets remembered, and a check holds the record against it. job may be NULL.
 */
void     wb_app_backup_async  (WbAppNotebook *notebook, const char *path, WbAppJob *job, GAsyncReadyCallback callback,
                               gpointer user);
gboolean wb_app_backup_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);

/* "Bench book 2026-11-25.wickbench", for the notebook of that path on that day. Caller frees. */
char    *wb_app_backup_dup_name (WbAppNotebook *notebook, WbDay day);

typedef enum
{
  WB_APP_BACKUP_IF_NONE_TODAY, /* not where this day, in the zone in force, has its backup */
  WB_APP_BACKUP_IF_NEW         /* wherever something is new: it takes the place of this day's earlier one, but for one whose steps were undone since */
} WbAppBackupNeed;

/*
 * The day's backup, made by the program itself in the person's data folder, and only where the notebook has an
 * entry that none of them has. It is read through before it counts: a damaged one is removed again (WB_APP_ERROR_DAMAGED), and
 * then none of the older ones goes; nor does one count that is damaged, whatever its name says. Of those older ones some stay: of 7 days, 4 weeks, and then of every month, together
 * at most `most_bytes`; the newest three always. Nothing but such backups is ever removed. Given up when the notebook is closed.
 * daily_finish: the new one's path; NULL without error where there was nothing to do. Caller frees. *squeezed (may be NULL):
 * with so little room not every one of the 7 days could stay.
 */
void     wb_app_backup_daily_async  (WbAppNotebook *notebook, WbAppBackupNeed need, gint64 most_bytes, GAsyncReadyCallback callback,
                                     gpointer user);
char    *wb_app_backup_daily_finish (WbAppNotebook *notebook, GAsyncResult *result, gboolean *squeezed, GError **error);

/*
 * The same for a notebook that is being closed, whatever becomes of it: it holds no reference, nothing cancels it, and
 * an earlier backup of the same newest entry is believed by its head. leave_finish: FALSE with the error where none could be made.
 */
void     wb_app_backup_leave_async  (const char *path, gint64 most_bytes, GAsyncReadyCallback callback, gpointer user);
gboolean wb_app_backup_leave_finish (GAsyncResult *result, GError **error);

typedef enum
{
  WB_APP_BACKUP_BY_PROGRAM, /* the day's */
  WB_APP_BACKUP_BY_HAND,    /* from a window, somewhere */
  WB_APP_BACKUP_MIGRATION   /* as it was before a newer program brought it up */
} WbAppBackupOrigin;

typedef enum
{
  WB_APP_BACKUP_UNKNOWN,    /* the notebook cannot be read, so nothing can be compared */
  WB_APP_BACKUP_SAME,       /* holds all that the notebook holds */
  WB_APP_BACKUP_EARLIER,    /* the notebook went on after it */
  WB_APP_BACKUP_MORE,       /* holds entries, from `from` on, that the notebook has lost */
  WB_APP_BACKUP_OTHER,      /* from entry `from` on it is another record */
  WB_APP_BACKUP_UNREADABLE,
  WB_APP_BACKUP_DAMAGED     /* never so in a list, which reads none through: for whoever tried to restore it */
} WbAppBackupFit;

typedef struct
{
  char             *path;
  WbAppBackupOrigin origin;
  WbAppBackupFit    fit;
  WbInstant         made_at;  /* of those by hand: when the file was last written */
  gint64            entry;    /* its last entry; 0: unreadable */
  WbInstant         entry_at; /* when that was written */
  gint64            now;      /* the notebook's last entry; 0: it cannot be read */
  gint64            from;     /* see fit */
  gint64            bytes;
} WbAppBackupItem;

void       wb_app_backup_item_free   (WbAppBackupItem *self);
/*
 * Every backup that can be found of the notebook at `path`, which may be damaged or gone, the newest first. Never an
 * error: where there is none the list is empty. list_finish: array of WbAppBackupItem that owns them; NULL where cancelled.
 */
void       wb_app_backup_list_async  (const char *path, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
GPtrArray *wb_app_backup_list_finish (GAsyncResult *result, GError **error);

/*
 * Writes what the backup holds into a new notebook at `to`, or, where that is NULL, beside the notebook under a name that is free
 * ("Bench book restored.wickbench"), with one entry more that says so; WB_APP_ERROR_EXISTS where `to` is there. What was restored is
 * read through first: a damaged one is removed again (WB_APP_ERROR_DAMAGED). The backup stays as it is. who: as in wb_app_notebook_set_who(). job may be NULL. restore_finish: the new notebook's path; caller frees.
 */
void       wb_app_backup_restore_async  (const char *backup, const char *notebook, const char *to, const char *who, WbAppJob *job,
                                         GAsyncReadyCallback callback, gpointer user);
char      *wb_app_backup_restore_finish (GAsyncResult *result, GError **error);

/* The stem's path with a word in it, under which there is no file yet: "Bench book restored 2.wickbench". Asks the disk. Caller frees. */
char      *wb_app_backup_dup_free_path  (const char *notebook, const char *word);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbAppBackupItem, wb_app_backup_item_free)

G_END_DECLS
