/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-backup-own-private.h"

#include "wb-clock.h"
#include "wb-store-backup-name.h"

#include <glib/gstdio.h>
#include <string.h>

#define DAY_US (24 * G_TIME_SPAN_HOUR)
/* "NAME.x8Qz1a", as wb_store_backup() writes it until it has its name; SQLite's own file may stand beside it. */
#define PART_RANDOM 6
#define PART_JOURNAL "-journal"

gboolean
wb_app_backup_own_parse (const char     *name,
                         WbAppBackupOwn *own)
{
  g_autoptr (GRegex) shape = g_regex_new ("^(\\d{4})-(\\d\\d)-(\\d\\d)T(\\d\\d)(\\d\\d)(\\d\\d)Z (\\d{9,18}) ([0-9a-f]{8})(?: ([0-9a-f]{8}))?(?: version-(\\d{1,6}))?\\.wickbench$",
                                          G_REGEX_DOLLAR_ENDONLY | G_REGEX_RAW, 0, NULL);
  g_autoptr (GMatchInfo) match = NULL;
  g_autoptr (GDateTime) at = NULL;
  g_autofree char *mark = NULL, *branch = NULL, *version = NULL, *again = NULL;
  gint64 numbers[7];

  if (!g_regex_match (shape, name, 0, &match))
    return FALSE;
  for (int i = 0; i < 7; i++)
    {
      g_autofree char *digits = g_match_info_fetch (match, i + 1);

      numbers[i] = g_ascii_strtoll (digits, NULL, 10);
    }
  at = g_date_time_new_utc ((int) numbers[0], (int) numbers[1], (int) numbers[2], (int) numbers[3], (int) numbers[4], (double) numbers[5]);
  if (at == NULL)
    return FALSE;
  mark = g_match_info_fetch (match, 8);
  own->made_us = g_date_time_to_unix (at) * G_USEC_PER_SEC;
  own->entry = numbers[6];
  g_strlcpy (own->mark, mark, sizeof own->mark);
  branch = g_match_info_fetch (match, 9);
  g_strlcpy (own->branch, branch != NULL ? branch : "", sizeof own->branch);
  version = g_match_info_fetch (match, 10);
  own->version = version != NULL ? (int) g_ascii_strtoll (version, NULL, 10) : 0;
  /* Exactly as it would be written: no second spelling of the same. */
  again = wb_store_backup_dup_name (own->made_us, own->entry, own->mark, own->branch, own->version);
  return g_strcmp0 (again, name) == 0;
}

static void
own_free (gpointer data)
{
  WbAppBackupOwn *self = data;

  g_free (self->path);
  g_free (self);
}

static int
compare (gconstpointer a,
         gconstpointer b)
{
  const WbAppBackupOwn *one = *(WbAppBackupOwn *const *) a, *two = *(WbAppBackupOwn *const *) b;

  if (one->entry != two->entry)
    return one->entry > two->entry ? -1 : 1;
  if (one->made_us != two->made_us)
    return one->made_us > two->made_us ? -1 : 1;
  return strcmp (one->path, two->path);
}

GPtrArray *
wb_app_backup_own_list (const char *folder)
{
  GPtrArray *list = g_ptr_array_new_with_free_func (own_free);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      WbAppBackupOwn own = { .term = WB_APP_BACKUP_DAY };
      g_autofree char *path = g_build_filename (folder, name, NULL);
      GStatBuf info;

      if (!wb_app_backup_own_parse (name, &own) || g_lstat (path, &info) != 0 || !S_ISREG (info.st_mode))
        continue;
      own.bytes = info.st_size;
      own.path = g_steal_pointer (&path);
      g_ptr_array_add (list, g_memdup2 (&own, sizeof own));
    }
  g_ptr_array_sort (list, compare);
  return list;
}

gint64
wb_app_backup_own_get_day (gint64 made_us)
{
  return wb_instant_get_day (wb_clock_at (wb_clock_get (), made_us));
}

/* Day 0, the first of 1970, was a Thursday. */
static gint64
get_week (gint64 made_us)
{
  gint64 days = wb_app_backup_own_get_day (made_us) + 3;

  return days / 7 - (days % 7 < 0 ? 1 : 0);
}

static gint64
get_month (gint64 made_us)
{
  g_autoptr (GDateTime) at = g_date_time_new_from_unix_utc (wb_app_backup_own_get_day (made_us) * (DAY_US / G_USEC_PER_SEC));

  return at != NULL ? g_date_time_get_year (at) * 12 + g_date_time_get_month (at) : 0;
}

gboolean
wb_app_backup_own_is_akin (const WbAppBackupOwn *a,
                           const WbAppBackupOwn *b)
{
  return strcmp (a->mark, b->mark) == 0 && strcmp (a->branch, b->branch) == 0 && (a->version > 0) == (b->version > 0);
}

/* TRUE where it is the first that is seen of this span. */
static gboolean
is_first (GHashTable *seen,
          gint64      span)
{
  return g_hash_table_add (seen, g_memdup2 (&span, sizeof span));
}

/* One made before a migration stays, whatever its size, until some of the days were made so much later: one alone may be of a clock that jumped. */
static void
judge_before_migration (GPtrArray      *list,
                        WbAppBackupOwn *own)
{
  guint later = 0;

  for (guint i = 0; i < list->len; i++)
    {
      const WbAppBackupOwn *other = list->pdata[i];

      later += other->version == 0 && strcmp (other->mark, own->mark) == 0 && other->made_us - own->made_us > WB_APP_BACKUP_MIGRATION_DAYS * DAY_US;
    }
  own->term = later >= WB_APP_BACKUP_LEAST ? WB_APP_BACKUP_GOES : WB_APP_BACKUP_DAY;
}

static void
judge_branch (GPtrArray            *list,
              const WbAppBackupOwn *of)
{
  g_autoptr (GHashTable) days = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  g_autoptr (GHashTable) weeks = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  g_autoptr (GHashTable) months = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);

  for (guint i = 0; i < list->len; i++)
    {
      WbAppBackupOwn *own = list->pdata[i];
      gint64 day = wb_app_backup_own_get_day (own->made_us), week = get_week (own->made_us), month = get_month (own->made_us);

      if (!wb_app_backup_own_is_akin (own, of))
        continue;
      own->term = WB_APP_BACKUP_GOES;
      if (g_hash_table_contains (days, &day))
        {
          if (own->held)
            own->term = WB_APP_BACKUP_DAY;
          continue;
        }
      if (g_hash_table_size (days) < WB_APP_BACKUP_DAYS)
        {
          is_first (days, day);
          own->term = WB_APP_BACKUP_DAY;
        }
      else if (g_hash_table_contains (weeks, &week))
        continue;
      else if (g_hash_table_size (weeks) < WB_APP_BACKUP_WEEKS)
        {
          is_first (weeks, week);
          own->term = WB_APP_BACKUP_WEEK;
        }
      else if (is_first (months, month))
        own->term = WB_APP_BACKUP_MONTH;
    }
}

/* Of its branch the newest by entry, or the one made last. */
static gboolean
always_stays (GPtrArray            *list,
              const WbAppBackupOwn *own)
{
  gboolean newest = TRUE, last = TRUE;

  for (guint i = 0; i < list->len; i++)
    {
      const WbAppBackupOwn *other = list->pdata[i];

      if (other == own || !wb_app_backup_own_is_akin (other, own))
        continue;
      newest &= compare (&own, &other) < 0;
      last &= other->made_us < own->made_us || (other->made_us == own->made_us && compare (&own, &other) < 0);
    }
  return newest || last;
}

/* Whether it is one of the few that stay whatever their size: damage that is seen late must not be in all there is. */
static gboolean
is_of_least (GPtrArray            *list,
             const WbAppBackupOwn *own)
{
  guint newer = 0;

  for (guint i = 0; i < list->len; i++)
    {
      const WbAppBackupOwn *other = list->pdata[i];

      newer += other->term != WB_APP_BACKUP_GOES && wb_app_backup_own_is_akin (other, own) && compare (&other, &own) < 0;
    }
  return newer < WB_APP_BACKUP_LEAST;
}

/* What is next to go: of the longest term the one made longest ago, of those made at once the one with fewer entries. NULL: nothing may go. */
static WbAppBackupOwn *
find_next_to_go (GPtrArray *list)
{
  WbAppBackupOwn *found = NULL;

  for (guint i = 0; i < list->len; i++)
    {
      WbAppBackupOwn *own = list->pdata[i];

      if (own->term == WB_APP_BACKUP_GOES || own->version > 0 || always_stays (list, own) || is_of_least (list, own))
        continue;
      if (found == NULL || own->term > found->term
          || (own->term == found->term && (own->made_us < found->made_us || (own->made_us == found->made_us && own->entry < found->entry))))
        found = own;
    }
  return found;
}

guint
wb_app_backup_own_judge (GPtrArray *list,
                         gint64     most_bytes)
{
  WbAppBackupOwn *next;
  gint64 bytes = 0;
  guint days = 0;

  /* A branch is judged once for each that is of it: with the same result. */
  for (guint i = 0; i < list->len; i++)
    if (((WbAppBackupOwn *) list->pdata[i])->version == 0)
      judge_branch (list, list->pdata[i]);
    else
      judge_before_migration (list, list->pdata[i]);
  for (guint i = 0; i < list->len; i++)
    {
      WbAppBackupOwn *own = list->pdata[i];

      if (own->term == WB_APP_BACKUP_GOES && own->version == 0 && always_stays (list, own))
        own->term = WB_APP_BACKUP_DAY;
      if (own->term != WB_APP_BACKUP_GOES)
        bytes += own->bytes;
    }
  while (bytes > most_bytes && (next = find_next_to_go (list)) != NULL)
    {
      days += next->term == WB_APP_BACKUP_DAY;
      next->term = WB_APP_BACKUP_GOES;
      bytes -= next->bytes;
    }
  return days;
}

guint
wb_app_backup_own_tidy (GPtrArray  *list,
                        const char *fresh)
{
  guint gone = 0;

  for (guint i = 0; i < list->len; i++)
    {
      const WbAppBackupOwn *own = list->pdata[i];

      if (own->term == WB_APP_BACKUP_GOES && strcmp (own->path, fresh) != 0 && g_unlink (own->path) == 0)
        gone++;
    }
  return gone;
}

static gboolean
is_part (const char *name)
{
  WbAppBackupOwn own;
  g_autofree char *stem = g_strndup (name, strlen (name) - (g_str_has_suffix (name, PART_JOURNAL) ? strlen (PART_JOURNAL) : 0));
  char *dot = strrchr (stem, '.');

  if (dot == NULL || strlen (dot + 1) != PART_RANDOM)
    return FALSE;
  for (const char *at = dot + 1; *at != '\0'; at++)
    if (!g_ascii_isalnum (*at))
      return FALSE;
  *dot = '\0';
  return wb_app_backup_own_parse (stem, &own);
}

guint
wb_app_backup_own_tidy_parts (const char *folder,
                              gint64      now_us)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;
  guint gone = 0;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      GStatBuf info;

      if (is_part (name) && g_lstat (path, &info) == 0 && S_ISREG (info.st_mode) && (gint64) info.st_mtime * G_USEC_PER_SEC < now_us - DAY_US
          && g_unlink (path) == 0)
        gone++;
    }
  return gone;
}
