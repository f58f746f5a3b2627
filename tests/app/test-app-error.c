/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"

#include "wb-app-error-private.h"

#include <gio/gio.h>

/* What GLib and GIO call the file that grows is not what a person chose. */
static void
test_from_writing (void)
{
  const struct { GQuark domain; int code; WbAppError becomes; const char *words; } cases[] = {
    { G_FILE_ERROR, G_FILE_ERROR_NOSPC, WB_APP_ERROR_FULL, "There is no room left on the disk for “r.pdf”: nothing was written." },
    { G_IO_ERROR, G_IO_ERROR_NO_SPACE, WB_APP_ERROR_FULL, "There is no room left on the disk for “r.pdf”: nothing was written." },
    { G_FILE_ERROR, G_FILE_ERROR_NOENT, WB_APP_ERROR_FAILED, "“r.pdf” cannot be written: there is no such folder." },
    { G_IO_ERROR, G_IO_ERROR_NOT_DIRECTORY, WB_APP_ERROR_FAILED, "“r.pdf” cannot be written: there is no such folder." },
    { G_FILE_ERROR, G_FILE_ERROR_ACCES, WB_APP_ERROR_FAILED, "“r.pdf” cannot be written: its permissions forbid it." },
    { G_IO_ERROR, G_IO_ERROR_READ_ONLY, WB_APP_ERROR_FAILED, "“r.pdf” cannot be written: its permissions forbid it." },
    { G_FILE_ERROR, G_FILE_ERROR_ISDIR, WB_APP_ERROR_FAILED, "“r.pdf” cannot be written: it is a folder." },
    { G_FILE_ERROR, G_FILE_ERROR_IO, WB_APP_ERROR_FAILED, "“r.pdf” cannot be written: in words of its own" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = g_error_new_literal (cases[i].domain, cases[i].code, "in words of its own");

      wb_app_error_from_writing (&error, "r.pdf");
      g_assert_error (error, WB_APP_ERROR, (int) cases[i].becomes);
      g_assert_cmpstr (error->message, ==, cases[i].words);
    }
}

/* Giving up is no failure, and what this room said already stays. */
static void
test_not_from_writing (void)
{
  g_autoptr (GError) cancelled = g_error_new_literal (G_IO_ERROR, G_IO_ERROR_CANCELLED, "cancelled");
  g_autoptr (GError) refused = g_error_new_literal (WB_APP_ERROR, WB_APP_ERROR_REFUSED, "refused");
  g_autoptr (GError) none = NULL;

  wb_app_error_from_writing (&cancelled, "r.pdf");
  g_assert_error (cancelled, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  wb_app_error_from_writing (&refused, "r.pdf");
  g_assert_cmpstr (refused->message, ==, "refused");
  wb_app_error_from_writing (&none, "r.pdf");
  g_assert_null (none);
  wb_app_error_from_writing (NULL, "r.pdf");
}

void
test_app_error_add (void)
{
  g_test_add_func ("/app/error/a-file-not-written-is-named", test_from_writing);
  g_test_add_func ("/app/error/other-errors-stay", test_not_from_writing);
}
