/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-batch.h"
#include "wb-report-options.h"

G_BEGIN_DECLS

/*
 * The batch sheet for the pouring table: one melt into one kind of vessel or
 * several, each caution at its step of the pour, boxes for what was really done.
 * Everything is borrowed while the sheet is made.
 */

/* Candles of one kind that the melt fills. */
typedef struct
{
  const WbVessel    *vessel;
  const char        *wick;     /* "2 × S-3"; NULL: not told */
  guint              candles;
  double             fill_g;   /* of one candle, on the balance's steps */
  double             first_g;  /* of it, at the first pour */
  const char *const *codes;    /* sample codes, ends with NULL; NULL: none */
} WbReportBatchLine;

typedef struct
{
  const char              *experiment;  /* code and title */
  const char              *batch;       /* code of the melt; NULL: none yet */
  const char              *scent;       /* "Harbour mist 8 % of the wax", "no fragrance" */
  const WbWax             *wax;
  const WbFragrance       *fragrance;   /* NULL: none */
  const WbDye             *dye;         /* NULL: none */
  const WbAdditive        *additive;    /* NULL: none */
  double                   load_pct;
  WbBasis                  load_basis;
  double                   overage_pct, hold_back_pct;
  double                   resolution_g; /* of the balance; 0: exact */
  const WbCraftBatchSheet *sheet;
  const GPtrArray         *steps;       /* WbBatchStep in order */
  const WbReportBatchLine *lines;
  guint                    n_lines;
  gboolean                 to_read;     /* the steps of the pour without boxes and, for several melts share them, without masses */
  const char              *candles;     /* in words, of each of these melts: "12", "9 or 8"; NULL: the lines tell it */
  const char              *cure;        /* how long it cures, sentences; NULL: as its materials say */
  guint                    first_melt, n_melts; /* that are weighed alike, numbers from 1, a column each; 0: the one melt has no number */
} WbReportBatch;

WbReportDocument *wb_report_batch_new (const WbReportBatch *batch, const WbReportOptions *options);

G_END_DECLS
