/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-state-private.h"

#include "wb-app-error-private.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <unistd.h>

char *
wb_app_state_dup_folder (const char *kind)
{
  return g_build_filename (g_get_user_state_dir (), "wickbench", kind, NULL);
}

static gboolean
fail (GError **error)
{
  int reason = errno;

  g_set_error_literal (error, G_FILE_ERROR, (int) g_file_error_from_errno (reason), g_strerror (reason));
  return FALSE;
}

/* GLib's own way of replacing a file as a whole waits for the disk wherever there was one before. */
static gboolean
replace (const char *path,
         const char *text,
         GError    **error)
{
  g_autofree char *fresh = g_strconcat (path, ".XXXXXX", NULL);
  int fd = g_mkstemp_full (fresh, O_WRONLY | O_CLOEXEC, 0600);
  gboolean done;

  if (fd < 0)
    return fail (error);
  close (fd);
  done = g_file_set_contents_full (fresh, text, -1, G_FILE_SET_CONTENTS_NONE, 0600, error)
         && (g_rename (fresh, path) == 0 || fail (error));
  if (!done)
    g_unlink (fresh);
  return done;
}

gboolean
wb_app_state_write (const char *path,
                    const char *text,
                    GError    **error)
{
  g_autofree char *folder = NULL;

  g_return_val_if_fail (path != NULL && text != NULL, FALSE);

  folder = g_path_get_dirname (path);
  if ((g_mkdir_with_parents (folder, 0700) == 0 || fail (error)) && replace (path, text, error))
    return TRUE;
  wb_app_error_from_writing (error, path);
  return FALSE;
}

/* ---- From a thread of its own ---- */

static GMutex lock;
static GCond idle;
static GHashTable *waiting;  /* path -> text; NULL: to be removed */
static GHashTable *failures; /* path -> words of the last that was not written */
static gboolean busy;

static gboolean
take_one (char **path,
          char **text)
{
  GHashTableIter iter;
  gpointer key, value;

  g_hash_table_iter_init (&iter, waiting);
  if (!g_hash_table_iter_next (&iter, &key, &value))
    return FALSE;
  g_hash_table_iter_steal (&iter);
  *path = key;
  *text = value;
  return TRUE;
}

static gpointer
write_waiting (gpointer user)
{
  char *path, *text;

  g_mutex_lock (&lock);
  while (take_one (&path, &text))
    {
      g_autoptr (GError) error = NULL;

      g_mutex_unlock (&lock);
      if (text == NULL)
        g_unlink (path);
      else
        wb_app_state_write (path, text, &error);
      g_mutex_lock (&lock);
      if (error != NULL)
        g_hash_table_replace (failures, g_strdup (path), g_strdup (error->message));
      else
        g_hash_table_remove (failures, path);
      g_free (path);
      g_free (text);
    }
  busy = FALSE;
  g_cond_broadcast (&idle);
  g_mutex_unlock (&lock);
  return NULL;
}

gboolean
wb_app_state_write_soon (const char *path,
                         const char *text,
                         GError    **error)
{
  g_autofree char *failure = NULL;

  g_return_val_if_fail (path != NULL, FALSE);

  g_mutex_lock (&lock);
  if (waiting == NULL)
    {
      waiting = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
      failures = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
    }
  g_hash_table_replace (waiting, g_strdup (path), g_strdup (text));
  failure = g_strdup (g_hash_table_lookup (failures, path));
  if (!busy)
    {
      busy = TRUE;
      g_thread_unref (g_thread_new ("state", write_waiting, NULL));
    }
  g_mutex_unlock (&lock);
  if (failure == NULL)
    return TRUE;
  g_set_error_literal (error, WB_APP_ERROR, WB_APP_ERROR_FAILED, failure);
  return FALSE;
}

gboolean
wb_app_state_has_failed (const char *path)
{
  gboolean failed;

  g_return_val_if_fail (path != NULL, FALSE);

  g_mutex_lock (&lock);
  failed = failures != NULL && g_hash_table_contains (failures, path);
  g_mutex_unlock (&lock);
  return failed;
}

void
wb_app_state_settle (void)
{
  g_mutex_lock (&lock);
  while (busy)
    g_cond_wait (&idle, &lock);
  g_mutex_unlock (&lock);
}
