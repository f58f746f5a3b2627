/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"
#include "wb-log-row.h"

G_BEGIN_DECLS

/*
 * The materials of a notebook out as CSV and in again (wb-exchange-shelf.h has the form). In: first a look, which writes nothing
 * and says of each row what it is; what was looked at is what is written after the person's yes, as one entry that undo takes back.
 */

typedef enum
{
  WB_APP_SHELF_NEW,
  WB_APP_SHELF_CHANGED,
  WB_APP_SHELF_UNCHANGED,
  WB_APP_SHELF_REFUSED,
  WB_APP_SHELF_N_STATES
} WbAppShelfState;

/* "new", "changed", "unchanged", "refused"; static. */
const char *wb_app_shelf_state_get_nick (WbAppShelfState state);

typedef struct
{
  guint64         line;
  WbAppShelfState state;
  char           *title;  /* "Wax: Plover", or what belongs to one: "Lot: Plover, W-1"; "" of a refused row */
  char           *words;  /* "Density 0.86 → 0.88", or column, value and rule of a refusal; "" where there is nothing to say */
} WbAppShelfRow;

typedef struct
{
  char      *file;
  GPtrArray *rows;     /* WbAppShelfRow, in the order of the file's lines, one a line */
  guint      n[WB_APP_SHELF_N_STATES];
  GPtrArray *refused;  /* WbLogRemark: all that is wrong, also twice in a line, in the order of lines */
  char     **unknown;  /* columns that say nothing here; strv */
  GPtrArray *warnings; /* char *: what would stand in the notebook as one would hardly want it */
  GPtrArray *records;  /* WbRecord: what is written, in that order */
} WbAppShelf;

/* NULL is let pass. */
void        wb_app_shelf_free          (WbAppShelf *self);
/* "12 rows: 3 new, 2 changed, 6 unchanged, 1 refused", translated. Caller frees. */
char       *wb_app_shelf_dup_sum       (const WbAppShelf *self);

/* kind: NULL, all of them (wb_app_shelf_find_kind). Writes the file whole or not at all. */
void        wb_app_shelf_export_async  (WbAppNotebook *notebook, const WbRecordType *kind, const char *file, GCancellable *cancellable,
                                        GAsyncReadyCallback callback, gpointer user);
gboolean    wb_app_shelf_export_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);
/* Blocks: for commands and tests. */
gboolean    wb_app_shelf_export_sync   (WbAppNotebook *notebook, const WbRecordType *kind, const char *file, GError **error);

/*
 * kind: of a file without the column "record"; NULL: it must have that. Errors: WB_APP_ERROR_REFUSED for a file that is no list of
 * materials, and those of GIO.
 */
void        wb_app_shelf_look_async    (WbAppNotebook *notebook, const WbRecordType *kind, const char *file, GCancellable *cancellable,
                                        GAsyncReadyCallback callback, gpointer user);
/* Caller owns it. */
WbAppShelf *wb_app_shelf_look_finish   (WbAppNotebook *notebook, GAsyncResult *result, GError **error);
/* Blocks: for commands and tests. */
WbAppShelf *wb_app_shelf_look_sync     (WbAppNotebook *notebook, const WbRecordType *kind, const char *file, GError **error);

/*
 * Writes what was looked at. partly: without the rows that are refused; else WB_APP_ERROR_REFUSED where one is.
 * WB_APP_ERROR_CHANGED where somebody else wrote to one of these materials meanwhile. Gives the entry, 0 with an error, and 0
 * without one where nothing is new.
 */
void        wb_app_shelf_write_async   (WbAppNotebook *notebook, const WbAppShelf *seen, gboolean partly, GAsyncReadyCallback callback, gpointer user);
gint64      wb_app_shelf_write_finish  (WbAppNotebook *notebook, GAsyncResult *result, GError **error);
/* Blocks: for commands and tests. */
gint64      wb_app_shelf_write_sync    (WbAppNotebook *notebook, const WbAppShelf *seen, gboolean partly, GError **error);

/* A kind of material by its table's name ("wax"). NULL with WB_APP_ERROR_UNKNOWN, which lists them. */
const WbRecordType *wb_app_shelf_find_kind (const char *name, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbAppShelf, wb_app_shelf_free)

G_END_DECLS
