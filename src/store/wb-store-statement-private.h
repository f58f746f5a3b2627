/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-store.h"

#include <sqlite3.h>

G_BEGIN_DECLS

/*
 * The thin layer on SQLite: statements kept for as long as their connection,
 * and SQLite's codes as this room's errors. A statement belongs to the store;
 * between wb_store_statement() and wb_store_reset() nobody else may ask for the same text.
 */

typedef enum
{
  WB_STEP_ROW,
  WB_STEP_DONE, /* the statement has been reset */
  WB_STEP_ERROR /* the statement has been reset, the error is set */
} WbStep;

/* Sets `error` from the connection's last failure. `path` is for the message. */
void          wb_store_set_sqlite_error (GError **error, sqlite3 *db, const char *path);

/* Prepared once a connection; its bindings are cleared. `sql` is copied. */
sqlite3_stmt *wb_store_statement (WbStore *self, const char *sql, GError **error);
WbStep        wb_store_step      (WbStore *self, sqlite3_stmt *statement, GError **error);
/* Steps to the end and resets: for what returns no rows. */
gboolean      wb_store_run       (WbStore *self, sqlite3_stmt *statement, GError **error);
/* Runs statements that need no arguments, and are not kept. */
gboolean      wb_store_exec      (WbStore *self, const char *sql, GError **error);
/* The first column of the first row; `otherwise` if there is no row or it is NULL. FALSE with error. */
gboolean      wb_store_get_integer (WbStore *self, sqlite3_stmt *statement, gint64 otherwise, gint64 *value, GError **error);
/* Ends reading before the last row. */
void          wb_store_reset     (sqlite3_stmt *statement);

void          wb_store_bind_text (sqlite3_stmt *statement, int index, const char *text);
/* Caller frees; NULL where the column is NULL. */
char         *wb_store_column_dup_text (sqlite3_stmt *statement, int column);

G_END_DECLS
