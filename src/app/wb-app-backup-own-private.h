/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-instant.h"

G_BEGIN_DECLS

/*
 * The backups that this program makes by itself: where they are, what they are called, which of them stay. They lie in
 * the person's data folder, one folder a notebook by its UUID, and are called
 * "2026-03-02T180000Z 000000123 0f3a9c11.wickbench": when (UTC), number of the last entry, and the mark of the place
 * where the notebook stood, so that a copy of a notebook which goes its own way is not taken for the first one.
 * A file of any other name is none of them, and is never touched.
 */

typedef enum
{
  WB_APP_BACKUP_DAY,
  WB_APP_BACKUP_WEEK,
  WB_APP_BACKUP_MONTH,
  WB_APP_BACKUP_GOES
} WbAppBackupTerm;

typedef struct
{
  char           *path;
  gint64          made_us;  /* UTC, whole seconds */
  gint64          entry;    /* its last */
  char            mark[9];
  gint64          bytes;
  WbAppBackupTerm term;     /* as wb_app_backup_own_judge() says */
} WbAppBackupOwn;

#define WB_APP_BACKUP_DAYS 7
#define WB_APP_BACKUP_WEEKS 4

/* The folder of all notebooks (uuid NULL), or of one. Caller frees. */
char      *wb_app_backup_own_dup_folder (const char *uuid);
/* The mark of the place of a notebook. */
void       wb_app_backup_own_mark       (const char *notebook, char mark[9]);
char      *wb_app_backup_own_dup_name   (gint64 made_us, gint64 entry, const char *mark);
/* FALSE: that is no name of ours. Fills when, entry and mark. */
gboolean   wb_app_backup_own_parse      (const char *name, WbAppBackupOwn *own);
/* Plain files of such names in a folder, the one with the newest entry first. Never NULL; caller frees. */
GPtrArray *wb_app_backup_own_list       (const char *folder);
/* Whole days since 1970, UTC, rounded down. */
gint64     wb_app_backup_own_get_day    (gint64 made_us);

/*
 * Says of each which term it stays for: the newest of each of 7 days, of those before the newest of each of 4 weeks
 * (from Monday), of those before the newest of each month; the rest goes. Each mark for itself. Where what stays is more than
 * `most_bytes`, the oldest of the months go first, then of the weeks, then of the days. Of each mark the one with the
 * newest entry and the one made last always stay. Nothing depends on what time it is now: a clock that
 * jumps moves nothing out of its term. The order is by entry, and by time only among the same entry. `list` is as wb_app_backup_own_list() gives it.
 */
void       wb_app_backup_own_judge      (GPtrArray *list, gint64 most_bytes);
/* Removes those that go but for `fresh`, made a moment ago; one that cannot be removed is let be. Gives how many went. */
guint      wb_app_backup_own_tidy       (GPtrArray *list, const char *fresh);

G_END_DECLS
