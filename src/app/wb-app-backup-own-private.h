/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-instant.h"

G_BEGIN_DECLS

/*
 * The backups that this program makes by itself, as wb-store-backup-name.h says where they are and what they are called, and which
 * of them stay.
 * A file of any other name is none of them, and is never touched, but for what a killed program left of one half written.
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
  char            branch[9]; /* empty: never put back */
  int             version;  /* of the file, made before a migration; 0: of the day */
  gint64          bytes;
  gboolean        held;     /* by whoever asks: steps of it are undone in the same day's last; FALSE as it is listed */
  WbAppBackupTerm term;     /* as wb_app_backup_own_judge() says */
} WbAppBackupOwn;

#define WB_APP_BACKUP_DAYS 7
#define WB_APP_BACKUP_WEEKS 4
/* Whatever size may be taken. */
#define WB_APP_BACKUP_LEAST 3
/* What was made before a migration stays for so long. */
#define WB_APP_BACKUP_MIGRATION_DAYS 30

/* FALSE: that is no name of ours. Fills when, entry, mark, branch and version. */
gboolean   wb_app_backup_own_parse      (const char *name, WbAppBackupOwn *own);
/* Plain files of such names in a folder, the one with the newest entry first. Never NULL; caller frees. */
GPtrArray *wb_app_backup_own_list       (const char *folder);
/* The day of the zone in force: an evening is one day, wherever it is. Days since 1970. */
gint64     wb_app_backup_own_get_day    (gint64 made_us);
/* Whether both are of the same branch of the notebook in the same place; one of the day and one before a migration are not. */
gboolean   wb_app_backup_own_is_akin    (const WbAppBackupOwn *a, const WbAppBackupOwn *b);

/*
 * Says of each which term it stays for: the newest of each of 7 days, of those before the newest of each of 4 weeks
 * (from Monday), and beside a day's newest those that are held of that day; of those before the newest of each month; the rest goes. Each branch of each mark for itself. Where what stays is
 * more than `most_bytes`, the oldest of the months go first, then of the weeks, then of the days; of each branch the
 * WB_APP_BACKUP_LEAST with the newest entries and the one made last always stay. One from before a migration is none of these: it stays
 * until WB_APP_BACKUP_LEAST of days were made WB_APP_BACKUP_MIGRATION_DAYS after it. Nothing depends on what time it is now: a clock that
 * jumps moves nothing out of its term. The order is by entry, and by time only among the same entry. `list` is as
 * wb_app_backup_own_list() gives it. Gives how many of the days go for their size.
 */
guint      wb_app_backup_own_judge      (GPtrArray *list, gint64 most_bytes);
/* Removes those that go but for `fresh`, made a moment ago; one that cannot be removed is let be. Gives how many went. */
guint      wb_app_backup_own_tidy       (GPtrArray *list, const char *fresh);
/* Removes what a program that was killed left of a backup half written, once that is a day old. Gives how many files went. */
guint      wb_app_backup_own_tidy_parts (const char *folder, gint64 now_us);

G_END_DECLS
