/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-error-private.h"

#include "wb-store.h"

#include <gio/gio.h>
#include <glib/gi18n-lib.h>

G_DEFINE_QUARK (wb-app-error-quark, wb_app_error)

static WbAppError
code_from_store (int        code,
                 WbAppError conflict)
{
  switch ((WbStoreError) code)
    {
    case WB_STORE_ERROR_NOT_A_NOTEBOOK:
      return WB_APP_ERROR_NOT_A_NOTEBOOK;
    case WB_STORE_ERROR_NEWER:
      return WB_APP_ERROR_NEWER;
    case WB_STORE_ERROR_DAMAGED:
      return WB_APP_ERROR_DAMAGED;
    case WB_STORE_ERROR_LOCKED:
      return WB_APP_ERROR_LOCKED;
    case WB_STORE_ERROR_READ_ONLY:
      return WB_APP_ERROR_READ_ONLY;
    case WB_STORE_ERROR_MISSING:
    case WB_STORE_ERROR_MOVED:
      return WB_APP_ERROR_MISSING;
    case WB_STORE_ERROR_FULL:
      return WB_APP_ERROR_FULL;
    case WB_STORE_ERROR_CONFLICT:
      return conflict;
    case WB_STORE_ERROR_IN_USE:
      return WB_APP_ERROR_IN_USE;
    case WB_STORE_ERROR_CHANGED:
      return WB_APP_ERROR_CHANGED;
    case WB_STORE_ERROR_FAILED:
      return WB_APP_ERROR_FAILED;
    default:
      return WB_APP_ERROR_FAILED;
    }
}

void
wb_app_error_from_store (GError   **error,
                         WbAppError conflict)
{
  if (error == NULL || *error == NULL || (*error)->domain != WB_STORE_ERROR)
    return;
  (*error)->code = code_from_store ((*error)->code, conflict);
  (*error)->domain = WB_APP_ERROR;
}

void
wb_app_error_propagate_read (GError **error,
                             GError  *reason)
{
  if (g_error_matches (reason, WB_STORE_ERROR, WB_STORE_ERROR_MISSING))
    {
      g_set_error (error, WB_APP_ERROR, WB_APP_ERROR_UNKNOWN, "%s", reason->message);
      g_error_free (reason);
    }
  else if (reason != NULL)
    g_propagate_error (error, reason);
}

/* The same reason has a code in each of the two domains. */
static gboolean
is_reason (const GError *error,
           GFileError    file,
           GIOErrorEnum  io)
{
  return g_error_matches (error, G_FILE_ERROR, (int) file) || g_error_matches (error, G_IO_ERROR, (int) io);
}

static char *
dup_writing_words (const GError *error,
                   const char   *path)
{
  if (is_reason (error, G_FILE_ERROR_NOSPC, G_IO_ERROR_NO_SPACE))
    return g_strdup_printf (_("There is no room left on the disk for “%s”: nothing was written."), path);
  if (is_reason (error, G_FILE_ERROR_NOENT, G_IO_ERROR_NOT_FOUND) || is_reason (error, G_FILE_ERROR_NOTDIR, G_IO_ERROR_NOT_DIRECTORY))
    return g_strdup_printf (_("“%s” cannot be written: there is no such folder."), path);
  if (is_reason (error, G_FILE_ERROR_ACCES, G_IO_ERROR_PERMISSION_DENIED) || is_reason (error, G_FILE_ERROR_PERM, G_IO_ERROR_PERMISSION_DENIED)
      || is_reason (error, G_FILE_ERROR_ROFS, G_IO_ERROR_READ_ONLY))
    return g_strdup_printf (_("“%s” cannot be written: its permissions forbid it."), path);
  if (is_reason (error, G_FILE_ERROR_ISDIR, G_IO_ERROR_IS_DIRECTORY))
    return g_strdup_printf (_("“%s” cannot be written: it is a folder."), path);
  return g_strdup_printf (_("“%s” cannot be written: %s"), path, error->message);
}

void
wb_app_error_from_writing (GError    **error,
                           const char *path)
{
  gboolean full;
  char *words;

  if (error == NULL || *error == NULL || ((*error)->domain != G_FILE_ERROR && (*error)->domain != G_IO_ERROR)
      || g_error_matches (*error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  full = is_reason (*error, G_FILE_ERROR_NOSPC, G_IO_ERROR_NO_SPACE);
  words = dup_writing_words (*error, path);
  g_clear_error (error);
  g_set_error_literal (error, WB_APP_ERROR, full ? WB_APP_ERROR_FULL : WB_APP_ERROR_FAILED, words);
  g_free (words);
}
