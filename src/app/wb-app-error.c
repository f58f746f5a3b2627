/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-error-private.h"

#include "wb-store.h"

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
