/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-backup.h"

#include "wb-store-open-private.h"
#include "wb-store-private.h"

/* A backup may be of an older version: only what every version has in the same place is asked of it. */
static char *
dup_text (WbStore    *store,
          const char *sql,
          gint64      number)
{
  sqlite3_stmt *statement = wb_store_statement (store, sql, NULL);
  char *text = NULL;

  if (statement == NULL)
    return NULL;
  if (sqlite3_bind_parameter_count (statement) > 0)
    sqlite3_bind_int64 (statement, 1, number);
  if (wb_store_step (store, statement, NULL) == WB_STEP_ROW)
    text = wb_store_column_dup_text (statement, 0);
  wb_store_reset (statement);
  return text;
}

static gboolean
is_same_entry (WbStore *a,
               WbStore *b,
               gint64   number)
{
  static const char sql[] = "SELECT hex (hash) FROM entry WHERE number = ?";
  g_autofree char *one = dup_text (a, sql, number), *two = dup_text (b, sql, number);

  return one != NULL && g_strcmp0 (one, two) == 0;
}

/* A connection to it if it is the same notebook. */
static WbStore *
open_backup (WbStore    *self,
             const char *path)
{
  static const char sql[] = "SELECT hex (uuid) FROM notebook ORDER BY entry LIMIT 1";
  g_autoptr (WbStore) there = wb_store_connect (path, FALSE, NULL);
  g_autofree char *its = NULL, *ours = NULL;
  int version;

  if (there == NULL || !wb_store_examine (there, G_MAXINT, &version, NULL))
    return NULL;
  its = dup_text (there, sql, 0);
  ours = dup_text (self, sql, 0);
  return its != NULL && g_strcmp0 (its, ours) == 0 ? g_steal_pointer (&there) : NULL;
}

/* The first entry in which they differ; both have `last`, and differ in it. */
static gint64
find_parting (WbStore *a,
              WbStore *b,
              gint64   last)
{
  gint64 same = 0, other = last;

  while (other - same > 1)
    {
      gint64 middle = same + (other - same) / 2;

      if (is_same_entry (a, b, middle))
        same = middle;
      else
        other = middle;
    }
  return other;
}

WbStoreBackupState
wb_store_compare_backup (WbStore    *self,
                         const char *path,
                         gint64     *entry)
{
  g_return_val_if_fail (self != NULL && path != NULL && entry != NULL, WB_STORE_BACKUP_NONE);
  wb_store_assert_thread (self);

  g_autoptr (WbStore) there = open_backup (self, path);
  gint64 ours, its;

  *entry = 0;
  if (there == NULL)
    return WB_STORE_BACKUP_NONE;
  ours = wb_store_get_last_entry (self);
  its = wb_store_get_last_entry (there);
  if (its < 1)
    return WB_STORE_BACKUP_NONE;
  if (ours > 0 && !is_same_entry (self, there, MIN (ours, its)))
    {
      *entry = find_parting (self, there, MIN (ours, its));
      return WB_STORE_BACKUP_DIFFERS;
    }
  if (its <= ours)
    return WB_STORE_BACKUP_FITS;
  *entry = ours + 1;
  return WB_STORE_BACKUP_KNOWS_MORE;
}

char *
wb_store_dup_branch (WbStore *self)
{
  g_return_val_if_fail (self != NULL, NULL);
  wb_store_assert_thread (self);

  return dup_text (self, "SELECT lower (hex (hash)) FROM entry WHERE kind = 'restore' ORDER BY number DESC LIMIT 1", 0);
}

gboolean
wb_store_takes_back (WbStore *self,
                     gint64   from,
                     gint64   to)
{
  sqlite3_stmt *statement = wb_store_statement (self, "SELECT count (*) FROM entry AS u WHERE u.kind = 'undo' AND u.undoes <= ?1 AND u.number > ?1 "
                                                "AND u.number <= ?2 AND NOT EXISTS (SELECT 1 FROM entry AS r WHERE r.undoes = u.number "
                                                "AND r.number <= ?2)", NULL);
  gint64 taken_back = 0;

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, from);
  sqlite3_bind_int64 (statement, 2, to);
  return wb_store_get_integer (self, statement, 0, &taken_back, NULL) && taken_back > 0;
}
