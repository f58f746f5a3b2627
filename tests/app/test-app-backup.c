/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"
#include "wb-app-backup-own-private.h"
#include "wb-app-backup.h"
#include "wb-app-record.h"
#include "wb-clock.h"
#include "wb-experiment.h"
#include "wb-store-backup-name.h"

#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>
#include <utime.h>

#define DAY_US (24 * G_TIME_SPAN_HOUR)
#define NO_LIMIT G_MAXINT64

/* ---- Names ---- */

static const struct { const char *name; gboolean ours; } names[] = {
  { "2026-03-02T180000Z 000000123 0f3a9c11.wickbench", TRUE },
  { "2026-03-02T180000Z 1000000123 0f3a9c11.wickbench", TRUE },
  { "2026-03-02T180000Z 0000000123 0f3a9c11.wickbench", FALSE }, /* another spelling of the first */
  { "2026-02-30T180000Z 000000123 0f3a9c11.wickbench", FALSE },
  { "2026-03-02T186000Z 000000123 0f3a9c11.wickbench", FALSE },
  { "2026-03-02T180000Z 000000123 0F3A9C11.wickbench", FALSE },
  { "2026-03-02T180000Z 000000123 0f3a9c11.wickbench.x8Qz1a", FALSE },
  { "2026-03-02T180000Z 000000123 0f3a9c11.wickbench\n", FALSE },
  { "copy 2026-03-02T180000Z 000000123 0f3a9c11.wickbench", FALSE },
  { "2026-03-02T180000Z 000000123 0f3a9c11 5e1c22d0.wickbench", TRUE }, /* of a branch */
  { "2026-03-02T180000Z 000000123 0f3a9c11 .wickbench", FALSE },
  { "2026-03-02T180000Z 000000123 0f3a9c11 5e1c22.wickbench", FALSE },
  { "2026-03-02T180000Z 000000123 0f3a9c11 version-1.wickbench", TRUE }, /* before a migration */
  { "2026-03-02T180000Z 000000123 0f3a9c11 version-01.wickbench", FALSE },
  { "2026-03-02T180000Z 000000123 0f3a9c11 version-0.wickbench", FALSE },
  { "Candles.wickbench", FALSE },
  { "", FALSE },
};

static void
test_names (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      WbAppBackupOwn own = { 0 };
      gboolean ours = wb_app_backup_own_parse (names[i].name, &own);

      g_test_message ("%s", names[i].name);
      g_assert_cmpint (ours, ==, names[i].ours);
      if (!ours)
        continue;
      /* `date -u -d 2026-03-02T18:00:00Z +%s` */
      g_assert_cmpint (own.made_us, ==, G_GINT64_CONSTANT (1772474400) * G_USEC_PER_SEC);
      g_assert_cmpint (own.entry % 1000000000, ==, 123);
      g_assert_cmpstr (own.mark, ==, "0f3a9c11");
      g_assert_cmpint (own.version, ==, strstr (names[i].name, "version-1") != NULL ? 1 : 0);
      g_assert_cmpstr (own.branch, ==, strstr (names[i].name, "5e1c22d0") != NULL ? "5e1c22d0" : "");
    }
}

/* ---- Which stay ---- */

static void
own_free (gpointer data)
{
  g_free (((WbAppBackupOwn *) data)->path);
  g_free (data);
}

/* As the folder's list has them: the newest entry first. */
static void
add (GPtrArray *list,
     gint64     day,
     gint64     entry)
{
  WbAppBackupOwn *own = g_new0 (WbAppBackupOwn, 1);

  own->made_us = day * DAY_US + 20 * G_TIME_SPAN_HOUR;
  own->entry = entry;
  own->bytes = 1000;
  g_strlcpy (own->mark, "0f3a9c11", sizeof own->mark);
  own->path = wb_store_backup_dup_name (own->made_us, entry, own->mark, NULL, 0);
  g_ptr_array_insert (list, 0, own);
}

/* Judges, and takes away what goes. Gives how many. */
static guint
tidy (GPtrArray *list,
      gint64     most_bytes)
{
  guint gone = 0;

  wb_app_backup_own_judge (list, most_bytes);
  for (guint i = list->len; i-- > 0;)
    if (((WbAppBackupOwn *) list->pdata[i])->term == WB_APP_BACKUP_GOES)
      {
        g_ptr_array_remove_index (list, i);
        gone++;
      }
  return gone;
}

static char *
dup_dates (GPtrArray *list)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < list->len; i++)
    g_string_append_printf (text, "%s%.10s", i > 0 ? " " : "", ((WbAppBackupOwn *) list->pdata[i])->path);
  return g_string_free (text, FALSE);
}

/* Days since 1970; `date -u -d 2026-03-02 +%s` / 86400. */
#define MONDAY 20514

/* A year of evenings, one backup each, tidied each time: by hand from a calendar of 2026. */
static void
test_terms (void)
{
  g_autoptr (GPtrArray) list = g_ptr_array_new_with_free_func (own_free);
  g_autofree char *dates = NULL;

  /* 2026-03-02 to 2026-09-30. */
  for (gint64 day = 0; day <= 212; day++)
    {
      add (list, MONDAY + day, 10 + day);
      g_assert_cmpuint (tidy (list, NO_LIMIT), <=, 1);
    }
  dates = dup_dates (list);
  g_assert_cmpstr (dates, ==,
                   "2026-09-30 2026-09-29 2026-09-28 2026-09-27 2026-09-26 2026-09-25 2026-09-24 " /* seven days */
                   "2026-09-23 2026-09-20 2026-09-13 2026-09-06 "                                  /* four weeks, to Sunday */
                   "2026-08-30 2026-07-26 2026-06-28 2026-05-31 2026-04-26 2026-03-29");           /* the last Sunday of each month */
}

/* Whether a name, by the entry that it ends with, is still there. */
static gboolean
has (GPtrArray *list,
     gint64     entry)
{
  for (guint i = 0; i < list->len; i++)
    if (((WbAppBackupOwn *) list->pdata[i])->entry == entry)
      return TRUE;
  return FALSE;
}

/* The clock goes back two years for three evenings, is set right, and goes ahead by ten years for one. */
static void
test_jumping_clock (void)
{
  g_autoptr (GPtrArray) list = g_ptr_array_new_with_free_func (own_free);
  gint64 entry = 1;

  for (gint64 day = 0; day < 100; day++)
    {
      add (list, MONDAY + day, entry++);
      tidy (list, NO_LIMIT);
    }
  for (gint64 i = 0; i < 5; i++)
    {
      gint64 day = i < 3 ? MONDAY - 730 + i : i == 3 ? MONDAY + 100 : MONDAY + 3652;
      gint64 newest = entry - 1;

      add (list, day, entry++);
      g_assert_cmpuint (tidy (list, NO_LIMIT), <=, 1);
      g_assert_true (has (list, newest));
      g_assert_true (has (list, entry - 1));
    }
  /* The month before last is as it was: 2026-04-26 is day 55. */
  g_assert_true (has (list, 56));
  /* A notebook put back to an older state counts on from fewer entries: what was made last stays, whatever its number. */
  add (list, MONDAY + 3653, 3);
  g_ptr_array_add (list, g_ptr_array_steal_index (list, 0));
  tidy (list, 1);
  g_assert_true (has (list, 3));
  g_assert_true (has (list, entry - 1));
  g_assert_cmpuint (list->len, ==, 4);
}

/* Made before a migration it is no backup of its day: it stays for thirty days of evenings, whatever room there is, then it goes. */
static void
test_before_migration (void)
{
  g_autoptr (GPtrArray) list = g_ptr_array_new_with_free_func (own_free);
  WbAppBackupOwn *before;

  add (list, MONDAY, 5);
  before = g_ptr_array_index (list, 0);
  before->version = 1;
  for (gint64 day = 0; day <= 32; day++)
    {
      add (list, MONDAY + day, 10 + day);
      tidy (list, 0);
      g_assert_true (has (list, 5));
    }
  /* it was of no use as one of the three that always stay */
  g_assert_cmpuint (list->len, ==, 4);
  add (list, MONDAY + 33, 43);
  tidy (list, 0);
  g_assert_false (has (list, 5));
  g_assert_cmpuint (list->len, ==, 3);
}

static void
test_size (void)
{
  g_autoptr (GPtrArray) list = g_ptr_array_new_with_free_func (own_free);

  for (gint64 day = 0; day <= 212; day++)
    {
      add (list, MONDAY + day, 10 + day);
      tidy (list, NO_LIMIT);
    }
  g_assert_cmpuint (list->len, ==, 17);
  /* 1,000 bytes each: the oldest month first. */
  g_assert_cmpuint (tidy (list, 16999), ==, 1);
  g_assert_false (has (list, 10 + 27));
  g_assert_true (has (list, 10 + 55));
  g_assert_cmpuint (tidy (list, 12000), ==, 4);
  g_assert_cmpuint (tidy (list, 11000), ==, 1);
  for (guint i = 0; i < list->len; i++)
    g_assert_cmpint (((WbAppBackupOwn *) list->pdata[i])->term, !=, WB_APP_BACKUP_MONTH);
  g_assert_cmpuint (tidy (list, 7000), ==, 4);
  g_assert_true (has (list, 10 + 206));
  /* Whatever there is room for: three days. */
  g_assert_cmpuint (tidy (list, 0), ==, 4);
  for (gint64 day = 210; day <= 212; day++)
    g_assert_true (has (list, 10 + day));
}

/* 260 MB each, and room for 500: said to be so. */
static void
test_squeezed (void)
{
  g_autoptr (GPtrArray) list = g_ptr_array_new_with_free_func (own_free);

  for (gint64 day = 0; day < 14; day++)
    {
      add (list, MONDAY + day, 100 + day);
      ((WbAppBackupOwn *) list->pdata[0])->bytes = 260000000;
    }
  /* Seven days and the Sunday before them. */
  g_assert_cmpuint (wb_app_backup_own_judge (list, 8 * G_GINT64_CONSTANT (260000000)), ==, 0);
  g_assert_cmpuint (wb_app_backup_own_judge (list, 500000000), ==, 4);
  g_assert_cmpuint (tidy (list, 500000000), ==, 11);
  g_assert_cmpuint (list->len, ==, WB_APP_BACKUP_LEAST);
}

/* ---- A notebook's ---- */

/* Caller frees. */
static char *
dup_folder (WbAppNotebook *notebook)
{
  g_autofree char *uuid = wb_uuid_format (&wb_app_notebook_get_settings (notebook)->uuid);

  return wb_store_backup_dup_folder (uuid);
}

/* Path of the new one; NULL: none was made. Caller frees. */
static char *
back_up (WbAppNotebook  *notebook,
         WbAppBackupNeed need,
         GError        **error)
{
  g_autoptr (GAsyncResult) result = NULL;
  gboolean squeezed = TRUE;
  char *path;

  wb_app_backup_daily_async (notebook, need, NO_LIMIT, app_keep_result_cb, &result);
  path = wb_app_backup_daily_finish (notebook, app_wait_result (&result), &squeezed, error);
  g_assert_false (squeezed);
  return path;
}

static char *
back_up_for (WbAppNotebook  *notebook,
             WbAppBackupNeed need)
{
  g_autoptr (GError) error = NULL;
  char *path = back_up (notebook, need, &error);

  g_assert_no_error (error);
  return path;
}

static char *
back_up_well (WbAppNotebook *notebook)
{
  return back_up_for (notebook, WB_APP_BACKUP_IF_NONE_TODAY);
}

static void
test_daily (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *folder = dup_folder (notebook), *foreign = g_build_filename (folder, "Candles.wickbench", NULL);
  g_autofree char *first = NULL, *again = NULL, *unchanged = NULL, *second = NULL;
  g_autoptr (GPtrArray) list = NULL;
  g_autoptr (WbAppCheck) check = NULL;

  first = back_up_well (notebook);
  g_assert_nonnull (first);
  g_assert_true (g_str_has_prefix (first, folder));
  g_assert_true (g_file_set_contents (foreign, "mine", -1, NULL));
  app_add_wax (notebook, "Heath blend");
  again = back_up_well (notebook);
  g_assert_null (again);
  wb_clock_advance (wb_clock_get (), DAY_US);
  second = back_up_well (notebook);
  g_assert_nonnull (second);
  wb_clock_advance (wb_clock_get (), DAY_US);
  unchanged = back_up_well (notebook);
  g_assert_null (unchanged);
  list = wb_app_backup_own_list (folder);
  g_assert_cmpuint (list->len, ==, 2);
  g_assert_cmpint (((WbAppBackupOwn *) list->pdata[0])->entry, ==, 2);
  g_assert_cmpstr (((WbAppBackupOwn *) list->pdata[0])->path, ==, second);
  g_assert_true (g_file_test (foreign, G_FILE_TEST_EXISTS));
  check = wb_app_record_check_sync (second, NULL, NULL, NULL);
  g_assert_true (check->sound);
  app_close (notebook);
}

/* What came this evening is in a backup this evening, and the one of the morning gives it its place. */
static void
test_evening (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *folder = dup_folder (notebook), *morning = back_up_well (notebook), *evening = NULL, *again = NULL;
  g_autoptr (GPtrArray) list = NULL;
  g_autoptr (GError) error = NULL;

  wb_clock_advance (wb_clock_get (), G_TIME_SPAN_HOUR);
  app_add_wax (notebook, "Heath blend");
  evening = back_up_for (notebook, WB_APP_BACKUP_IF_NEW);
  g_assert_nonnull (evening);
  again = back_up_for (notebook, WB_APP_BACKUP_IF_NEW);
  g_assert_null (again);
  list = wb_app_backup_own_list (folder);
  g_assert_cmpuint (list->len, ==, 1);
  g_assert_cmpstr (((WbAppBackupOwn *) list->pdata[0])->path, ==, evening);
  g_assert_false (g_file_test (morning, G_FILE_TEST_EXISTS));
  app_close (notebook);
}

/* A computer whose clock begins the same day at every start: what is new is in a backup all the same. */
static void
test_same_day_again (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *first = NULL, *earlier = NULL;

  app_add_wax (notebook, "Heath blend");
  first = back_up_well (notebook);
  g_assert_nonnull (first);
  for (int i = 0; i < 3; i++)
    {
      g_autofree char *name = g_strdup_printf ("Meadow blend %d", i), *next = NULL;

      app_add_wax (notebook, name);
      next = back_up_for (notebook, WB_APP_BACKUP_IF_NEW);
      g_assert_nonnull (next);
    }
  /* Set back by an hour: the backup of later does not speak for this day. */
  wb_clock_step (wb_clock_get (), -G_TIME_SPAN_HOUR);
  app_add_wax (notebook, "Moor blend");
  earlier = back_up_well (notebook);
  g_assert_nonnull (earlier);
  app_close (notebook);
}

/* Half a backup, from a program that was killed: gone when it is a day old, and nothing of another name with it. */
static void
test_parts (void)
{
  static const char stem[] = "2026-03-01T180000Z 000000123 0f3a9c11.wickbench";
  static const struct { const char *ending; gint64 age_h; gboolean stays; } parts[] = {
    { ".x8Qz1a", 25, FALSE },        { ".x8Qz1a-journal", 25, FALSE }, { ".Y8Qz1a", 1, TRUE },
    { ".x8Qz1ab", 25, TRUE },        { "", 25, TRUE },                 { ".by-me!", 25, TRUE },
  };
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *folder = dup_folder (notebook), *backup = back_up_well (notebook);
  gint64 now_us = wb_clock_now (wb_clock_get ()).utc_us;
  guint gone;

  g_assert_nonnull (backup);
  for (gsize i = 0; i < G_N_ELEMENTS (parts); i++)
    {
      g_autofree char *path = g_strconcat (folder, "/", stem, parts[i].ending, NULL);
      struct utimbuf times = { 0, (now_us - parts[i].age_h * G_TIME_SPAN_HOUR) / G_USEC_PER_SEC };

      g_assert_true (g_file_set_contents (path, "half", -1, NULL));
      g_assert_cmpint (g_utime (path, &times), ==, 0);
    }
  gone = wb_app_backup_own_tidy_parts (folder, now_us);
  g_assert_cmpuint (gone, ==, 2);
  for (gsize i = 0; i < G_N_ELEMENTS (parts); i++)
    {
      g_autofree char *path = g_strconcat (folder, "/", stem, parts[i].ending, NULL);

      g_test_message ("“%s”", parts[i].ending);
      g_assert_cmpint (g_file_test (path, G_FILE_TEST_EXISTS), ==, parts[i].stays);
    }
  app_close (notebook);
}

/* What stands in the way is told, and the notebook goes on. */
static void
test_no_room (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *folder = dup_folder (notebook), *above = g_path_get_dirname (folder);
  g_autofree char *path = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (g_mkdir_with_parents (above, 0700), ==, 0);
  g_assert_true (g_file_set_contents (folder, "in the way", -1, NULL));
  path = back_up (notebook, WB_APP_BACKUP_IF_NONE_TODAY, &error);
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_FAILED);
  g_assert_null (path);
  g_assert_cmpint (app_add_wax (notebook, "Heath blend"), >, 0);
  app_close (notebook);
}

/* Zeroes the page that the text stands in. */
static void
damage (const char *path,
        const char *text)
{
  g_autofree char *bytes = NULL;
  gsize length;
  gsize at = 0;

  g_assert_true (g_file_get_contents (path, &bytes, &length, NULL));
  while (at + strlen (text) <= length && memcmp (bytes + at, text, strlen (text)) != 0)
    at++;
  g_assert_cmpuint (at + strlen (text), <=, length);
  memset (bytes + at / 4096 * 4096, 0, 4096);
  g_assert_true (g_file_set_contents (path, bytes, (gssize) length, NULL));
}

/* Its name says that it is today's, and its inside is damaged: it does not count, and goes for a good one. */
static void
test_rotten (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *folder = dup_folder (notebook), *first = NULL, *again = NULL, *third = NULL;
  g_autoptr (GPtrArray) list = NULL;

  app_add_wax (notebook, "Heath blend");
  first = back_up_well (notebook);
  g_assert_nonnull (first);
  damage (first, "Heath blend");
  wb_clock_advance (wb_clock_get (), G_TIME_SPAN_HOUR);
  again = back_up_well (notebook);
  g_assert_nonnull (again);
  list = wb_app_backup_own_list (folder);
  g_assert_cmpuint (list->len, ==, 1);
  g_assert_cmpstr (((WbAppBackupOwn *) list->pdata[0])->path, ==, again);
  third = back_up_for (notebook, WB_APP_BACKUP_IF_NEW);
  g_assert_null (third);
  app_close (notebook);
}

static guint
count_files (const char *folder)
{
  g_autoptr (GPtrArray) list = wb_app_backup_own_list (folder);

  return list->len;
}

/* A backup of the day at the worst moment, with steps undone: what held them stays beside it. */
static void
test_undone (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *folder = dup_folder (notebook), *held = NULL, *undone = NULL, *later = NULL, *redone = NULL;

  app_add_wax (notebook, "Heath blend");
  app_add_wax (notebook, "Meadow blend");
  held = back_up_for (notebook, WB_APP_BACKUP_IF_NEW);
  wb_clock_advance (wb_clock_get (), G_TIME_SPAN_HOUR);
  app_undo (notebook, FALSE);
  undone = back_up_for (notebook, WB_APP_BACKUP_IF_NEW);
  g_assert_nonnull (undone);
  g_assert_true (g_file_test (held, G_FILE_TEST_EXISTS));
  wb_clock_advance (wb_clock_get (), G_TIME_SPAN_HOUR);
  app_undo (notebook, FALSE);
  later = back_up_for (notebook, WB_APP_BACKUP_IF_NEW);
  g_assert_nonnull (later);
  g_assert_true (g_file_test (held, G_FILE_TEST_EXISTS));
  /* Done again: the day's last holds it all. */
  wb_clock_advance (wb_clock_get (), G_TIME_SPAN_HOUR);
  app_undo (notebook, TRUE);
  app_undo (notebook, TRUE);
  redone = back_up_for (notebook, WB_APP_BACKUP_IF_NEW);
  g_assert_cmpuint (count_files (folder), ==, 1);
  g_assert_true (g_file_test (redone, G_FILE_TEST_EXISTS));
  app_close (notebook);
}

/* Damage is not kept for a backup, and pushes no good one out. */
static void
test_damaged (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *path = g_strdup (wb_app_notebook_get_path (notebook)), *folder = dup_folder (notebook);
  g_autofree char *first = back_up_well (notebook), *second = NULL;
  g_autoptr (GPtrArray) list = NULL;
  g_autoptr (GError) error = NULL;

  app_add_wax (notebook, "Heath blend");
  app_close (notebook);
  damage (path, "Heath blend");
  wb_clock_advance (wb_clock_get (), DAY_US);
  notebook = app_open (path);
  second = back_up (notebook, WB_APP_BACKUP_IF_NONE_TODAY, &error);
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_DAMAGED);
  g_assert_null (second);
  list = wb_app_backup_own_list (folder);
  g_assert_cmpuint (list->len, ==, 1);
  g_assert_cmpstr (((WbAppBackupOwn *) list->pdata[0])->path, ==, first);
  app_close (notebook);
}

/* The check is held against these too; a copy in another place that goes its own way raises no alarm. */
static void
test_witness (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *path = g_strdup (wb_app_notebook_get_path (notebook)), *elsewhere = app_new_path (), *young = NULL;
  g_autofree char *backup = NULL, *other = NULL;
  g_autoptr (WbAppCheck) good = NULL, apart = NULL, cut = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (path, &young, &length, NULL));
  g_assert_true (g_file_set_contents (elsewhere, young, (gssize) length, NULL));
  app_add_wax (notebook, "Heath blend");
  backup = back_up_well (notebook);
  app_close (notebook);
  notebook = app_open (elsewhere);
  app_add_wax (notebook, "Meadow blend");
  other = back_up_well (notebook);
  g_assert_nonnull (other);
  app_close (notebook);
  good = wb_app_record_check_sync (path, NULL, NULL, NULL);
  g_assert_cmpstr (good->finding, ==, NULL);
  apart = wb_app_record_check_sync (elsewhere, NULL, NULL, NULL);
  g_assert_cmpstr (apart->finding, ==, NULL);

  /* The notebook in its first state, in a place where this program noted no entry of it. */
  g_assert_true (g_file_set_contents (path, young, (gssize) length, NULL));
  {
    g_autofree char *anchors = g_build_filename (g_get_user_state_dir (), "wickbench", "anchors", NULL);
    g_autofree char *aside = g_strconcat (anchors, ".aside", NULL);

    g_assert_cmpint (g_rename (anchors, aside), ==, 0);
    cut = wb_app_record_check_sync (path, NULL, NULL, NULL);
    g_assert_cmpint (g_rename (aside, anchors), ==, 0);
  }
  g_assert_false (cut->sound);
  g_assert_cmpint (cut->entry, ==, 2);
  g_assert_nonnull (strstr (cut->finding, backup));
}

/* ---- Back from one ---- */

static GPtrArray *
list_of (const char *path)
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  GPtrArray *items;

  wb_app_backup_list_async (path, NULL, app_keep_result_cb, &result);
  items = wb_app_backup_list_finish (app_wait_result (&result), &error);
  g_assert_no_error (error);
  return items;
}

/* to NULL: beside it. Caller frees. */
static char *
restore (const char *backup,
         const char *notebook,
         const char *to,
         GError    **error)
{
  g_autoptr (GAsyncResult) result = NULL;

  wb_app_backup_restore_async (backup, notebook, to, "Robin", NULL, app_keep_result_cb, &result);
  return wb_app_backup_restore_finish (app_wait_result (&result), error);
}

static char *
dup_checksum (const char *path)
{
  g_autofree char *bytes = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (path, &bytes, &length, NULL));
  return g_compute_checksum_for_data (G_CHECKSUM_SHA256, (const guchar *) bytes, length);
}

static void
test_restore (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *path = g_strdup (wb_app_notebook_get_path (notebook)), *by_hand = g_strconcat (path, ".copy", NULL);
  g_autofree char *first = NULL, *to = NULL, *next = NULL, *before = NULL, *after = NULL;
  g_autoptr (GPtrArray) items = NULL, entries = NULL;
  g_autoptr (WbAppCheck) check = NULL;
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  const WbAppBackupItem *item;

  app_add_wax (notebook, "Heath blend");
  first = back_up_well (notebook);
  app_add_wax (notebook, "Meadow blend");
  wb_app_backup_async (notebook, by_hand, NULL, app_keep_result_cb, &result);
  g_assert_true (wb_app_backup_finish (notebook, app_wait_result (&result), NULL));
  g_clear_object (&result);
  app_close (notebook);

  items = list_of (path);
  g_assert_cmpuint (items->len, ==, 2);
  for (guint i = 0; i < items->len; i++)
    {
      item = items->pdata[i];
      g_assert_cmpint (item->now, ==, 3);
      g_assert_cmpint (item->fit, ==, item->origin == WB_APP_BACKUP_BY_HAND ? WB_APP_BACKUP_SAME : WB_APP_BACKUP_EARLIER);
      g_assert_cmpint (item->entry, ==, item->origin == WB_APP_BACKUP_BY_HAND ? 3 : 2);
      g_assert_cmpstr (item->path, ==, item->origin == WB_APP_BACKUP_BY_HAND ? by_hand : first);
      g_assert_true (item->entry_at.known);
    }

  before = dup_checksum (first);
  g_assert_null (restore (first, path, path, &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_EXISTS);
  g_clear_error (&error);
  to = restore (first, path, NULL, &error);
  g_assert_no_error (error);
  g_assert_true (g_str_has_suffix (to, " restored.wickbench"));
  after = dup_checksum (first);
  g_assert_cmpstr (before, ==, after);
  next = restore (first, path, NULL, &error);
  g_assert_no_error (error);
  g_assert_true (g_str_has_suffix (next, " restored 2.wickbench"));

  check = wb_app_record_check_sync (to, NULL, NULL, NULL);
  g_assert_cmpstr (check->finding, ==, NULL);
  g_assert_cmpint (check->entries, ==, 3);
  notebook = app_open (to);
  wb_app_record_entries_async (notebook, 0, 1, NULL, app_keep_result_cb, &result);
  entries = wb_app_record_entries_finish (notebook, app_wait_result (&result), &error);
  g_assert_no_error (error);
  g_assert_cmpstr (((WbAppEntry *) entries->pdata[0])->kind, ==, "restore");
  g_assert_cmpstr (((WbAppEntry *) entries->pdata[0])->who, ==, "Robin");
  g_clear_object (&result);
  app_close (notebook);
}

/* A notebook that cannot be opened any more says nothing of itself: its place does. So does one that is gone. */
static void
test_list_of_damaged (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *path = g_strdup (wb_app_notebook_get_path (notebook)), *backup = NULL, *to = NULL, *left = NULL;
  g_autoptr (GPtrArray) damaged = NULL, gone = NULL, none = NULL;
  g_autoptr (GError) error = NULL;

  app_add_wax (notebook, "Heath blend");
  backup = back_up_well (notebook);
  app_close (notebook);
  g_assert_true (g_file_set_contents (path, "nothing of a notebook", -1, NULL));
  damaged = list_of (path);
  g_assert_cmpuint (damaged->len, ==, 1);
  g_assert_cmpint (((WbAppBackupItem *) damaged->pdata[0])->fit, ==, WB_APP_BACKUP_UNKNOWN);
  g_assert_cmpint (((WbAppBackupItem *) damaged->pdata[0])->entry, ==, 2);
  g_assert_cmpint (g_unlink (path), ==, 0);
  gone = list_of (path);
  g_assert_cmpuint (gone->len, ==, 1);
  to = restore (backup, path, NULL, &error);
  g_assert_no_error (error);
  g_assert_true (g_file_test (to, G_FILE_TEST_EXISTS));

  /* One that was cut is listed, and is not taken for good. */
  g_assert_true (g_file_set_contents (backup, "cut", -1, NULL));
  none = list_of (path);
  g_assert_cmpint (((WbAppBackupItem *) none->pdata[0])->fit, ==, WB_APP_BACKUP_UNREADABLE);
  left = wb_app_backup_dup_free_path (path, "left");
  g_assert_null (restore (backup, path, left, &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_NOT_A_NOTEBOOK);
  g_assert_false (g_file_test (left, G_FILE_TEST_EXISTS));
}

static void
assert_sound (const char *path)
{
  g_autoptr (WbAppCheck) check = wb_app_record_check_sync (path, NULL, NULL, NULL);

  g_assert_cmpstr (check->finding, ==, NULL);
}

/* A page of the backup went bad on the disk: nothing is called restored, and nothing is left of the attempt. */
static void
test_restore_of_damaged (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *path = g_strdup (wb_app_notebook_get_path (notebook)), *backup = NULL, *left = NULL;
  g_autoptr (GError) error = NULL;

  for (int i = 0; i < 200; i++)
    {
      g_autofree char *name = g_strdup_printf ("Heath blend %d", i);

      app_add_wax (notebook, name);
    }
  backup = back_up_well (notebook);
  app_close (notebook);
  damage (backup, "Heath blend 100");
  left = wb_app_backup_dup_free_path (path, "restored");
  g_assert_null (restore (backup, path, NULL, &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_DAMAGED);
  g_assert_false (g_file_test (left, G_FILE_TEST_EXISTS));
}

/* Put back, under its own name, to where it stood eight days before, and written on: sound from the first day, and backed up each day. */
static void
test_restore_in_place (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *path = g_strdup (wb_app_notebook_get_path (notebook)), *aside = g_strconcat (path, ".aside", NULL);
  g_autofree char *folder = dup_folder (notebook), *early = NULL, *to = NULL;
  g_autoptr (GPtrArray) list = NULL;
  g_autoptr (GError) error = NULL;
  guint n = 0;

  for (int day = 0; day < 8; day++)
    {
      g_autofree char *backup = NULL;

      for (int i = 0; i < 10; i++)
        {
          g_autofree char *name = g_strdup_printf ("Heath blend %d", 10 * day + i);

          app_add_wax (notebook, name);
        }
      backup = back_up_well (notebook);
      g_assert_nonnull (backup);
      if (day == 0)
        {
          /* Out of the way of the tidying. */
          early = app_new_path ();
          g_assert_cmpint (link (backup, early), ==, 0);
        }
      wb_clock_advance (wb_clock_get (), DAY_US);
    }
  app_close (notebook);
  g_assert_cmpint (g_rename (path, aside), ==, 0);
  to = restore (early, path, path, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (to, ==, path);
  assert_sound (path);
  notebook = app_open (path);
  for (int day = 0; day < 9; day++)
    {
      g_autofree char *backup = NULL, *name = g_strdup_printf ("Meadow blend %d", day);

      app_add_wax (notebook, name);
      backup = back_up_well (notebook);
      g_assert_nonnull (backup);
      wb_clock_advance (wb_clock_get (), DAY_US);
    }
  app_close (notebook);
  assert_sound (path);
  list = wb_app_backup_own_list (folder);
  for (guint i = 0; i < list->len; i++)
    n += ((WbAppBackupOwn *) list->pdata[i])->branch[0] != '\0';
  /* All seven days of the new branch, and those of the old one beside them. */
  g_assert_cmpuint (n, >=, WB_APP_BACKUP_DAYS);
  g_assert_cmpuint (list->len - n, >=, WB_APP_BACKUP_DAYS);
}

/* Restored, written on, thrown away, and restored again to the name that is free once more: no alarm. */
static void
test_restore_twice (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *path = g_strdup (wb_app_notebook_get_path (notebook)), *backup = NULL, *one = NULL, *two = NULL, *other = NULL;
  g_autoptr (GError) error = NULL;

  app_add_wax (notebook, "Heath blend");
  backup = back_up_well (notebook);
  app_close (notebook);
  one = restore (backup, path, NULL, &error);
  g_assert_no_error (error);
  notebook = app_open (one);
  app_add_wax (notebook, "Meadow blend");
  wb_clock_advance (wb_clock_get (), DAY_US);
  other = back_up_well (notebook);
  g_assert_nonnull (other);
  app_close (notebook);
  g_assert_cmpint (g_unlink (one), ==, 0);
  wb_clock_advance (wb_clock_get (), G_TIME_SPAN_MINUTE);
  two = restore (backup, path, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (one, ==, two);
  assert_sound (two);
  notebook = app_open (two);
  app_add_wax (notebook, "Moor blend");
  app_close (notebook);
  assert_sound (two);
}

void
test_app_backup_add (void)
{
  g_test_add_func ("/app/backup/only-its-own-names-are-known", test_names);
  g_test_add_func ("/app/backup/seven-days-four-weeks-then-months-stay", test_terms);
  g_test_add_func ("/app/backup/a-jumping-clock-removes-no-good-one", test_jumping_clock);
  g_test_add_func ("/app/backup/one-from-before-a-migration-stays-for-thirty-days", test_before_migration);
  g_test_add_func ("/app/backup/the-oldest-months-go-first-for-size", test_size);
  g_test_add_func ("/app/backup/once-a-day-if-there-is-something-new", test_daily);
  g_test_add_func ("/app/backup/less-than-a-week-for-want-of-room-is-said", test_squeezed);
  g_test_add_func ("/app/backup/an-evening-is-in-a-backup-the-same-evening", test_evening);
  g_test_add_func ("/app/backup/a-day-that-comes-again-has-its-backup", test_same_day_again);
  g_test_add_func ("/app/backup/half-a-backup-goes-after-a-day", test_parts);
  g_test_add_func ("/app/backup/what-stands-in-the-way-is-told", test_no_room);
  g_test_add_func ("/app/backup/todays-that-is-damaged-inside-is-made-anew", test_rotten);
  g_test_add_func ("/app/backup/what-holds-undone-steps-stays-beside-the-days-last", test_undone);
  g_test_add_func ("/app/backup/a-damaged-notebook-makes-no-backup", test_damaged);
  g_test_add_func ("/app/backup/a-check-is-held-against-it", test_witness);
  g_test_add_func ("/app/backup/restoring-writes-a-new-file", test_restore);
  g_test_add_func ("/app/backup/a-damaged-backup-is-not-restored", test_restore_of_damaged);
  g_test_add_func ("/app/backup/put-back-in-its-place-it-is-sound-and-backed-up", test_restore_in_place);
  g_test_add_func ("/app/backup/restoring-again-to-a-name-raises-no-alarm", test_restore_twice);
  g_test_add_func ("/app/backup/a-damaged-notebook-has-its-backups", test_list_of_damaged);
}
