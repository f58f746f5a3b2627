/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-report-document-private.h"

G_BEGIN_DECLS

#define WB_REPORT_CELL_PT 8.5

typedef struct
{
  char   **cells;
  gboolean strong, head, band;  /* a band has one cell, across all columns */
} WbReportRow;

struct _WbReportTable
{
  guint          n;
  gboolean       has_heads;
  char         **heads;
  WbReportAlign *aligns;
  double        *shares;
  double         box_height;
  GPtrArray     *rows;      /* WbReportRow */
};

/* Where the columns stand, n + 1 places in points from the text's left edge; `pad` is on both sides of a cell. Caller frees. */
double *wb_report_table_place_columns (const WbReportDocument *self, const WbReportTable *table, double pad);

G_END_DECLS
