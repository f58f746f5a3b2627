/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-evening-private.h"

#include "wb-app-state-private.h"
#include "wb-store-backup-name.h"

#include <glib/gstdio.h>
#include <string.h>

/*
 * A half-typed sheet in the person's state folder: a file for each notebook, experiment and day, gone when the sheet is saved. A
 * copy of a notebook has its UUID: so the file is named by the mark of the notebook's place too, and says where that was, by
 * which one that was moved is known.
 */

#define ENDING ".ini"
#define PLACE_KEY "notebook"

static char *
dup_folder (WbAppEvening *self)
{
  const WbNotebook *notebook = wb_app_notebook_get_settings (wb_app_bench_get_notebook (self->bench));
  g_autofree char *uuid = notebook != NULL ? wb_uuid_format (&notebook->uuid) : NULL;
  g_autofree char *folder = wb_app_state_dup_folder ("evenings");

  return uuid != NULL ? g_build_filename (folder, uuid, NULL) : NULL;
}

static const char *
get_path (WbAppEvening *self)
{
  return wb_app_notebook_get_path (wb_app_bench_get_notebook (self->bench));
}

/* How the names of a day's files begin; NULL: of any. A day that is none has a name that no day has. */
static char *
dup_day_prefix (WbAppEvening *self,
                const char   *day_text)
{
  g_autofree char *iso = NULL;
  WbDay day;

  if (day_text != NULL)
    iso = wb_app_evening_read_day (day_text, &day) ? wb_day_format (day) : g_strdup ("undated");
  return g_strdup_printf ("%" G_GINT64_FORMAT " %s%s", self->experiment, iso != NULL ? iso : "", iso != NULL ? " " : "");
}

static char *
dup_file (WbAppEvening *self,
          const char   *day_text,
          guint         n)
{
  g_autofree char *folder = dup_folder (self), *prefix = dup_day_prefix (self, day_text), *name = NULL;
  /* Between the day and the mark, by which the file is found again. */
  g_autofree char *number = n > 1 ? g_strdup_printf ("(%u) ", n) : g_strdup ("");
  char mark[9];

  if (folder == NULL)
    return NULL;
  wb_store_backup_mark (get_path (self), mark);
  name = g_strconcat (prefix, number, mark, ENDING, NULL);
  return g_build_filename (folder, name, NULL);
}

/* The notebook is not where it was, and its folder is: it was moved, and is no stick that is not plugged in now. */
static gboolean
is_moved (const char *draft)
{
  g_autoptr (GKeyFile) texts = g_key_file_new ();
  g_autofree char *uri = NULL, *path = NULL, *folder = NULL;

  if (!g_key_file_load_from_file (texts, draft, G_KEY_FILE_NONE, NULL))
    return FALSE;
  uri = g_key_file_get_string (texts, WB_APP_EVENING_HEAD_GROUP, PLACE_KEY, NULL);
  path = uri != NULL ? g_filename_from_uri (uri, NULL, NULL) : NULL;
  folder = path != NULL ? g_path_get_dirname (path) : NULL;
  return folder != NULL && g_file_test (folder, G_FILE_TEST_IS_DIR) && !g_file_test (path, G_FILE_TEST_EXISTS);
}

/* This notebook's, and not that of one it was copied from. */
static gboolean
is_own (WbAppEvening *self,
        const char   *name,
        const char   *path)
{
  g_autofree char *ending = NULL;
  char mark[9];

  wb_store_backup_mark (get_path (self), mark);
  ending = g_strconcat (" ", mark, ENDING, NULL);
  return g_str_has_suffix (name, ending) || is_moved (path);
}

/* The file written to last, of whichever day (NULL); NULL: none. */
static char *
find_newest (WbAppEvening *self,
             const char   *day_text)
{
  g_autofree char *folder = dup_folder (self), *prefix = dup_day_prefix (self, day_text), *newest = NULL;
  g_autoptr (GDir) dir = folder != NULL ? g_dir_open (folder, 0, NULL) : NULL;
  const char *name;
  GTimeSpan latest = G_MININT64;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      GTimeSpan written;
      GStatBuf status;

      if (!g_str_has_prefix (name, prefix) || !g_str_has_suffix (name, ENDING) || g_stat (path, &status) != 0 || !is_own (self, name, path))
        continue;
      written = (gint64) status.st_mtim.tv_sec * G_TIME_SPAN_SECOND + status.st_mtim.tv_nsec / 1000;
      if (written <= latest)
        continue;
      latest = written;
      g_free (newest);
      newest = g_steal_pointer (&path);
    }
  return g_steal_pointer (&newest);
}

static void
forget (WbAppEvening *self)
{
  if (self->kept_as != NULL)
    {
      wb_app_state_settle ();
      g_unlink (self->kept_as);
    }
  g_clear_pointer (&self->kept_as, g_free);
}

static gboolean
has_keys (WbAppEvening *self,
          const char   *group)
{
  g_auto (GStrv) keys = g_key_file_get_keys (self->texts, group, NULL, NULL);

  return keys != NULL && keys[0] != NULL;
}

gboolean
wb_app_evening_is_typed (WbAppEvening *self)
{
  g_auto (GStrv) groups = NULL;

  g_return_val_if_fail (WB_IS_APP_EVENING (self), FALSE);
  groups = g_key_file_get_groups (self->texts, NULL);
  for (guint i = 0; groups[i] != NULL; i++)
    if (strcmp (groups[i], WB_APP_EVENING_HEAD_GROUP) != 0 && has_keys (self, groups[i]))
      return TRUE;
  return FALSE;
}

gboolean
wb_app_evening_is_unkept (WbAppEvening *self)
{
  g_return_val_if_fail (WB_IS_APP_EVENING (self), FALSE);
  return self->unkept;
}

/* Where the sheet is kept: a file of its own, also where its day, set right, is that of another half-typed sheet. NULL: nowhere. */
static char *
dup_own_file (WbAppEvening *self)
{
  const char *day = wb_app_evening_get_head (self, WB_APP_EVENING_DAY);
  g_autofree char *file = dup_file (self, day, 1);

  for (guint n = 2; file != NULL && g_strcmp0 (file, self->kept_as) != 0 && g_file_test (file, G_FILE_TEST_EXISTS); n++)
    {
      g_free (file);
      file = dup_file (self, day, n);
    }
  return g_steal_pointer (&file);
}

/* text: what is to be kept, NULL: nothing; its file is kept_as then. */
static void
prepare (WbAppEvening *self,
         char        **text)
{
  g_autofree char *file = NULL, *uri = NULL;

  *text = NULL;
  file = dup_own_file (self);
  if (g_strcmp0 (file, self->kept_as) != 0 || !wb_app_evening_is_typed (self))
    forget (self);
  self->unkept = FALSE;
  if (file == NULL || !wb_app_evening_is_typed (self))
    return;
  g_key_file_set_integer (self->texts, WB_APP_EVENING_HEAD_GROUP, WB_APP_EVENING_ROUNDS_KEY, (int) self->rounds);
  uri = g_filename_to_uri (get_path (self), NULL, NULL);
  if (uri != NULL)
    g_key_file_set_string (self->texts, WB_APP_EVENING_HEAD_GROUP, PLACE_KEY, uri);
  *text = g_key_file_to_data (self->texts, NULL, NULL);
  g_free (self->kept_as);
  self->kept_as = g_steal_pointer (&file);
}

gboolean
wb_app_evening_keep (WbAppEvening *self,
                     GError      **error)
{
  g_autofree char *text = NULL;

  g_return_val_if_fail (WB_IS_APP_EVENING (self), FALSE);
  prepare (self, &text);
  /* Not overtaken by an older one that is on its way. */
  wb_app_state_settle ();
  return text == NULL || wb_app_state_write (self->kept_as, text, error);
}

gboolean
wb_app_evening_keep_soon (WbAppEvening *self,
                          GError      **error)
{
  g_autofree char *text = NULL;

  g_return_val_if_fail (WB_IS_APP_EVENING (self), FALSE);
  prepare (self, &text);
  return text == NULL || wb_app_state_write_soon (self->kept_as, text, error);
}

gboolean
wb_app_evening_take_up (WbAppEvening *self,
                        const char   *day)
{
  g_autoptr (GKeyFile) texts = g_key_file_new ();
  g_autofree char *file = NULL;
  int rounds;

  g_return_val_if_fail (WB_IS_APP_EVENING (self), FALSE);

  wb_app_state_settle ();
  file = find_newest (self, day);
  /* A file that cannot be read is left where it is. */
  if (file == NULL || !g_key_file_load_from_file (texts, file, G_KEY_FILE_NONE, NULL))
    return FALSE;
  g_key_file_unref (self->texts);
  self->texts = g_steal_pointer (&texts);
  g_hash_table_remove_all (self->borrowed);
  g_free (self->kept_as);
  self->kept_as = g_steal_pointer (&file);
  rounds = g_key_file_get_integer (self->texts, WB_APP_EVENING_HEAD_GROUP, WB_APP_EVENING_ROUNDS_KEY, NULL);
  if (rounds > 0)
    self->rounds = (guint) MIN (rounds, WB_APP_EVENING_MOST_ROUNDS);
  wb_app_evening_lay_out (self);
  self->unkept = FALSE;
  wb_app_evening_changed (self);
  return TRUE;
}

void
wb_app_evening_begin_anew (WbAppEvening *self)
{
  g_return_if_fail (WB_IS_APP_EVENING (self));

  forget (self);
  g_key_file_unref (self->texts);
  self->texts = g_key_file_new ();
  g_hash_table_remove_all (self->borrowed);
  wb_app_evening_set_last (self);
  wb_app_evening_changed (self);
}
