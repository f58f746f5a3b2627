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
