/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-private.h"

#include <gio/gio.h>
#include <glib/gi18n-lib.h>
#include <string.h>

const char *
wb_store_get_path (WbStore *self)
{
  return self->path;
}

gboolean
wb_store_is_read_only (WbStore *self)
{
  wb_store_assert_thread (self);

  return self->read_only;
}

gboolean
wb_store_has_moved (WbStore *self)
{
  int moved = 0;

  return !self->in_memory && sqlite3_file_control (self->db, "main", SQLITE_FCNTL_HAS_MOVED, &moved) == SQLITE_OK && moved;
}

gboolean
wb_store_begin_read (WbStore  *self,
                     gboolean *begun,
                     GError  **error)
{
  wb_store_assert_thread (self);

  *begun = FALSE;
  if (!sqlite3_get_autocommit (self->db))
    return TRUE;
  *begun = wb_store_exec (self, "BEGIN", error);
  return *begun;
}

void
wb_store_end_read (WbStore *self,
                   gboolean begun)
{
  if (begun)
    sqlite3_exec (self->db, "COMMIT", NULL, NULL, NULL);
}

gboolean
wb_store_begin_look (WbStore  *self,
                     gboolean  patient,
                     GError  **error)
{
  g_return_val_if_fail (self != NULL && self->change == NULL, FALSE);
  wb_store_assert_thread (self);

  gboolean begun;

  if (!patient)
    sqlite3_busy_timeout (self->db, 0);
  /* BEGIN alone takes no lock: the first read does. */
  begun = wb_store_exec (self, "BEGIN; SELECT 1 FROM head", error);
  if (!patient)
    sqlite3_busy_timeout (self->db, self->patience_ms);
  if (!begun)
    wb_store_end_look (self);
  return begun;
}

void
wb_store_end_look (WbStore *self)
{
  wb_store_end_read (self, !sqlite3_get_autocommit (self->db));
}

gint64
wb_store_get_last_entry (WbStore *self)
{
  gint64 entry = 0;

  wb_store_get_integer (self, wb_store_statement (self, "SELECT max (number) FROM entry", NULL), 0, &entry, NULL);
  return entry;
}

gint64
wb_store_get_type_entry (WbStore            *self,
                         const WbRecordType *type)
{
  sqlite3_stmt *statement = wb_store_statement (self, "SELECT entry FROM derived_type WHERE type = ?", NULL);
  gint64 entry = 0;

  if (statement == NULL)
    return 0;
  sqlite3_bind_text (statement, 1, type->name, -1, SQLITE_STATIC);
  wb_store_get_integer (self, statement, 0, &entry, NULL);
  return entry;
}

guint32
wb_store_get_data_version (WbStore *self)
{
  gint64 version = 0;

  wb_store_get_integer (self, wb_store_statement (self, "PRAGMA data_version", NULL), 0, &version, NULL);
  return (guint32) version;
}

typedef struct
{
  gboolean (*keep_going) (gpointer data);
  gpointer data;
  gboolean stopped;
} Watch;

static int
on_progress_cb (gpointer user)
{
  Watch *watch = user;

  watch->stopped = !watch->keep_going (watch->data);
  return watch->stopped;
}

gboolean
wb_store_quick_check (WbStore   *self,
                      gboolean (*keep_going) (gpointer data),
                      gpointer   data,
                      GError   **error)
{
  Watch watch = { keep_going, data, FALSE };
  sqlite3_stmt *statement = wb_store_statement (self, "PRAGMA quick_check (1)", error);
  WbStep step;
  gboolean good = FALSE;

  if (statement == NULL)
    return FALSE;
  if (keep_going != NULL)
    sqlite3_progress_handler (self->db, 10000, on_progress_cb, &watch);
  step = wb_store_step (self, statement, error);
  if (step == WB_STEP_ROW)
    {
      const char *finding = (const char *) sqlite3_column_text (statement, 0);

      good = g_strcmp0 (finding, "ok") == 0;
      if (!good)
        g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_DAMAGED, _("“%s” is damaged: %s."), self->path, finding);
      sqlite3_reset (statement);
    }
  sqlite3_progress_handler (self->db, 0, NULL, NULL);
  if (watch.stopped)
    {
      g_clear_error (error);
      g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_CANCELLED, _("The check was cancelled."));
    }
  return good && !watch.stopped;
}
