/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-log-mapping.h"
#include "wb-log-row.h"

#include <gio/gio.h>

G_BEGIN_DECLS

/*
 * Mappings of makers' own sheets: proposed from a file, tried on its first
 * rows, kept in the person's configuration folder or in any file. All of it
 * reads or writes files, on threads of its own; nothing touches a notebook.
 * Rows come in by wb-app-import.h.
 */

/* What a column may be read as; static. */
const WbLogTarget *wb_app_mapping_get_target (guint index);
guint              wb_app_mapping_n_targets  (void);
/* NULL: none of that name. */
const WbLogTarget *wb_app_mapping_find_target (const char *name);

/* `shape` says encoding, delimiter, line of the header; NULL: guessed too. */
void          wb_app_mapping_guess_async  (const char *file, const WbLogMapping *shape, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/* `*head` is what the file holds; the caller frees both. Errors: WB_APP_ERROR_REFUSED, those of the file. */
WbLogMapping *wb_app_mapping_guess_finish (GAsyncResult *result, WbLogHead **head, GError **error);

/* One row of the format that a row of the sheet would become, or why it does not. */
typedef struct
{
  guint64 line;    /* of the sheet */
  char  **cells;   /* strv, one a title; NULL: refused */
  char   *column;  /* of the sheet; "" where the row as a whole is meant */
  char   *rule;
} WbAppMappingRow;

typedef struct
{
  char     **titles;     /* strv, untranslated names of the format's columns */
  GPtrArray *rows;       /* WbAppMappingRow, in order of line */
  guint      n_refused;  /* of them */
  GPtrArray *warnings;   /* WbLogRemark, in order of line */
  gboolean   unnamed;    /* some have a load of a fragrance, and the mapping tells no name of it */
  guint64    lines, samples; /* of the sheet, and of which samples the rows are */
  gboolean   more;       /* the sheet goes on */
} WbAppMappingPreview;

#define WB_APP_MAPPING_PREVIEW_ROWS 200

/* NULL is let pass. */
void                 wb_app_mapping_preview_free   (WbAppMappingPreview *self);
/* The first rows, by the rules on a single row; what contradicts others or the notebook is told by wb_app_import_look_async(). */
void                 wb_app_mapping_preview_async  (const char *file, const WbLogMapping *mapping, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/* Errors: WB_APP_ERROR_REFUSED: what does not fit; those of the file. */
WbAppMappingPreview *wb_app_mapping_preview_finish (GAsyncResult *result, GError **error);

/* Here and now, for the command. Errors: WB_APP_ERROR_REFUSED naming group and key; those of the file. */
WbLogMapping *wb_app_mapping_load         (const char *path, GError **error);
void          wb_app_mapping_load_async   (const char *path, GAsyncReadyCallback callback, gpointer user);
WbLogMapping *wb_app_mapping_load_finish  (GAsyncResult *result, GError **error);
/* Into `path`, or, NULL, into the person's folder under the mapping's name, which it must have then. Over what stood there. */
void          wb_app_mapping_save_async   (const WbLogMapping *mapping, const char *path, GAsyncReadyCallback callback, gpointer user);
gboolean      wb_app_mapping_save_finish  (GAsyncResult *result, GError **error);
/* Those of the person's folder that can be read, by name: WbLogMapping, with a free function. Caller unrefs. */
void          wb_app_mapping_list_async   (GAsyncReadyCallback callback, gpointer user);
GPtrArray    *wb_app_mapping_list_finish  (GAsyncResult *result, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbAppMappingPreview, wb_app_mapping_preview_free)

G_END_DECLS
