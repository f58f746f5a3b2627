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
  char     *kind;         /* "create", "edit", "command", "import", "undo", "redo", "take-back", ... */
  char     *topic;        /* a word: "pour", "reading", "vessel"; NULL: none */
  char     *who;          /* NULL: not known */
  char     *why;
  gint64    takes_back;   /* the entry that it takes back; 0: none */
  gboolean  taken_back;   /* by a later entry, which stands */
  gint64    rows;         /* versions written */
  char     *hash;         /* lower-case hex */
} WbAppEntry;

/* NULL is let pass. */
void       wb_app_entry_free (WbAppEntry *self);

/* Entries with a number below `before` (0: from the newest), newest first, at most `n`. GPtrArray of WbAppEntry. */
void       wb_app_record_entries_async   (WbAppNotebook *notebook, gint64 before, guint n, GCancellable *cancellable,
                                          GAsyncReadyCallback callback, gpointer user);
GPtrArray *wb_app_record_entries_finish  (WbAppNotebook *notebook, GAsyncResult *result, GError **error);

/* One version of a record, and the entry that wrote it. */
typedef struct
{
  gpointer    record; /* with id, entry, deleted set */
  WbAppEntry *entry;
} WbAppVersion;

/* NULL is let pass. */
void       wb_app_version_free           (WbAppVersion *self);
/* Every version of one record, oldest first (deleted ones too). GPtrArray of WbAppVersion, which it frees. */
void       wb_app_record_versions_async  (WbAppNotebook *notebook, const WbRecordType *type, gint64 id, GCancellable *cancellable,
                                          GAsyncReadyCallback callback, gpointer user);
GPtrArray *wb_app_record_versions_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);

/* What a check found. It finds damage, and edits by someone who did not also recompute chain and anchors; it proves nothing more. */
typedef struct
{
  gboolean   sound;
  gint64     entries;     /* recomputed and found good */
  gint64     rows;        /* row versions read */
  gint64     entry;       /* first entry that the finding touches; 0: none */
  char      *finding;     /* one sentence; NULL when sound */
  char      *fingerprint; /* of the last entry, to be kept elsewhere; NULL where it cannot be told */
  gint64     named;       /* the entry that the fingerprint noted down before is of; 0: none was given */
  gint64     after;       /* entries that came after it, where the record is sound */
} WbAppCheck;

/* NULL is let pass. */
void        wb_app_check_free          (WbAppCheck *self);
/* fingerprint: one noted down before, or NULL; WB_APP_ERROR_UNKNOWN for what is none. */
void        wb_app_record_check_async  (WbAppNotebook *notebook, const char *fingerprint, WbAppJob *job, GAsyncReadyCallback callback, gpointer user);
WbAppCheck *wb_app_record_check_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);
/* Works on a file that no notebook opens: for the command. */
WbAppCheck *wb_app_record_check_sync   (const char *path, const char *fingerprint, WbAppJob *job, GError **error);

/* Takes back one given entry, an import among them: the person has been asked. End with wb_app_notebook_save_finish. */
void        wb_app_record_take_back_async (WbAppNotebook *notebook, gint64 entry, GCancellable *cancellable,
                                           GAsyncReadyCallback callback, gpointer user);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbAppEntry, wb_app_entry_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbAppVersion, wb_app_version_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbAppCheck, wb_app_check_free)

G_END_DECLS
