/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-import.h"
#include "wb-store-import.h"

G_BEGIN_DECLS

/*
 * One import on one connection and one thread: the pass that judges, and the
 * pass that writes what it accepted. Keeps no row, and of some only the few numbers that
 * wb-exchange-log-burns.h says; what the judge remembers stands in the store's temporary database.
 */
typedef struct _WbAppImportPass WbAppImportPass;

/* store NULL: the notebook does not exist yet; mapping NULL: the file is a burn log of the format. Borrows all three and job. */
WbAppImportPass    *wb_app_import_pass_new  (WbStore *store, const char *file, const WbLogMapping *mapping, gboolean invented, WbAppJob *job);
void                wb_app_import_pass_free (WbAppImportPass *self);
/* First pass. Borrowed until the next call. */
const WbAppImportSummary *wb_app_import_pass_judge (WbAppImportPass *self, GError **error);
/*
 * Second pass into `store`, one entry. If the file or the notebook changed since the first, that one is made anew.
 * `strict`: nothing is written, without an error, if the new one refuses a row. The caller frees the summary.
 */
WbAppImportSummary *wb_app_import_pass_write (WbAppImportPass *self, WbStore *store, const char *who, gboolean strict, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbAppImportPass, wb_app_import_pass_free)

/* Counts what a file holds, row after row. */
typedef struct
{
  guint64     lines, readings;
  guint64     last_line;
  GHashTable *samples; /* names, a set */
} WbAppImportExtent;

void                wb_app_import_extent_init  (WbAppImportExtent *self);
void                wb_app_import_extent_clear (WbAppImportExtent *self);
/* A row that came from the reader, its line set; `good`: its names are. */
void                wb_app_import_extent_add   (WbAppImportExtent *self, const WbLogRow *row, gboolean good);

WbAppImportSummary *wb_app_import_summary_copy (const WbAppImportSummary *self);
/* Errors of the exchange room come out as this room's. */
void                wb_app_import_map_error    (GError **error);

G_END_DECLS
