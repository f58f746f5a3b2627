/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-job.h"
#include "wb-app-notebook.h"

G_BEGIN_DECLS

/* The record page: entries, the versions of a record, and the check. */

typedef struct
{
  gint64    number;
  WbInstant made_at;
  char     *kind, *who, *why;
  gint64    takes_back;   /* 0: none */
  gboolean  taken_back;
  char     *hash;         /* lower-case hex */
} WbAppEntry;

void       wb_app_entry_free (WbAppEntry *self);

/* Entries with a number below `before` (0: from the newest), newest first, at most `n`. GPtrArray of WbAppEntry. */
void       wb_app_record_entries_async   (WbAppNotebook *notebook, gint64 before, guint n, GCancellable *cancellable,
                                          GAsyncReadyCallback callback, gpointer user);
GPtrArray *wb_app_record_entries_finish  (WbAppNotebook *notebook, GAsyncResult *result, GError **error);

/* Every version of one record, oldest first (deleted ones too). GPtrArray of records. */
void       wb_app_record_versions_async  (WbAppNotebook *notebook, const WbRecordType *type, gint64 id, GCancellable *cancellable,
                                          GAsyncReadyCallback callback, gpointer user);
GPtrArray *wb_app_record_versions_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);

/* What a check found. It finds damage, and edits by someone who did not also recompute chain and anchors; it proves nothing more. */
typedef struct
{
  gboolean   sound;
  gint64     entries;
  guint64    versions;
  char      *fingerprint; /* of the last entry: number and hash, to be kept elsewhere */
  GPtrArray *findings;    /* char *: one line each; empty when sound */
} WbAppCheck;

void        wb_app_check_free          (WbAppCheck *self);
/* fingerprint: one noted down before, or NULL. */
void        wb_app_record_check_async  (WbAppNotebook *notebook, const char *fingerprint, WbAppJob *job, GAsyncReadyCallback callback, gpointer user);
WbAppCheck *wb_app_record_check_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);
/* Works on a file that no notebook opens: for the command. */
WbAppCheck *wb_app_record_check_sync   (const char *path, const char *fingerprint, WbAppJob *job, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbAppEntry, wb_app_entry_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbAppCheck, wb_app_check_free)

G_END_DECLS
