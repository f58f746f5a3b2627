/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-job.h"
#include "wb-app-notebook.h"
#include "wb-log-mapping.h"
#include "wb-log-row.h"

G_BEGIN_DECLS

/*
 * A burn log on its way in. The first pass reads the file, writes nothing and
 * makes the summary; after the person's yes the second pass writes it as one
 * entry. If the file changed in between it is read anew, and the summary of
 * what was really written is told. Memory is bounded whatever the file's length.
 */
typedef struct
{
  char      *file;
  WbLogMapping *mapping;   /* by which a maker's own sheet is read; NULL: a burn log of the format */
  guint64    rows, accepted, known, refused_rows;
  guint64    lines;        /* of the file that make the rows: a sheet with hours across has several a line */
  guint64    samples;      /* of which they are; those of refused rows are not known */
  GPtrArray *refused;      /* WbLogRemark, in order of line, at most WB_APP_IMPORT_REMARKS */
  GPtrArray *warnings;     /* WbLogRemark, the same */
  guint64    warning_rows;
  char     **kept;         /* names of the unknown columns; strv */
  char       delimiter;    /* ',', ';' or tab */
  char       decimal;      /* '.' or ',' */
  char     **experiments;  /* titles of the experiments that it brings rows for; strv */
  gint64     experiment;   /* the first of them, where the notebook has it; 0 */
  gint64     entry;        /* 0: nothing written (yet) */
} WbAppImportSummary;

#define WB_APP_IMPORT_REMARKS 10000

/* "6 lines, 15 readings of 6 samples", translated. Caller frees. */
char *wb_app_import_dup_extent (guint64 lines, guint64 readings, guint64 samples);

/* NULL is let pass. */
void wb_app_import_summary_free (WbAppImportSummary *self);

/* First pass. mapping, of a maker's own sheet, and job may be NULL; what is refused is told by the sheet's lines and columns. */
void                wb_app_import_look_async  (WbAppNotebook *notebook, const char *file, const WbLogMapping *mapping, WbAppJob *job, GAsyncReadyCallback callback, gpointer user);
/* Second pass, on the writer's thread, one transaction. `seen` is what the person said yes to. */
void                wb_app_import_write_async (WbAppNotebook *notebook, const WbAppImportSummary *seen, WbAppJob *job, GAsyncReadyCallback callback, gpointer user);
/* For both. */
WbAppImportSummary *wb_app_import_finish      (WbAppNotebook *notebook, GAsyncResult *result, GError **error);

typedef enum
{
  WB_APP_IMPORT_WRITE,
  WB_APP_IMPORT_STRICT,  /* writes only if no row is refused */
  WB_APP_IMPORT_DRY_RUN  /* looks only */
} WbAppImportMode;

/*
 * Both passes in one go, for the command: blocks. `path` is the notebook, made
 * if there is none and a row comes in; where nothing is written no file is left behind.
 */
WbAppImportSummary *wb_app_import_sync        (const char *path, const char *file, const WbLogMapping *mapping, WbAppImportMode mode, WbAppJob *job, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbAppImportSummary, wb_app_import_summary_free)

G_END_DECLS
