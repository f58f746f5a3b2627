/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-bench.h"

G_BEGIN_DECLS

/*
 * A row of samples that a hand lights, or snuffs, one after another, with the stagger of the protocol between them. It only
 * counts down and says which is next: nothing is recorded that no hand confirmed. Lit early, late or another way, the next
 * one's time is counted from there. The bench keeps one row at a time, until it is stopped or all of it is done.
 */

typedef enum { WB_APP_ROW_LIGHT, WB_APP_ROW_SNUFF } WbAppRowKind;

typedef struct
{
  WbAppRowKind      kind;
  WbAppBenchSample *next;  /* borrowed */
  gint64            in_s;  /* seconds until it is its turn; 0: now */
  guint             after; /* how many follow it */
} WbAppRowStep;

/* The row that is on ends. samples: WbAppBenchSample in their order, fit to light or alight; copied. */
void     wb_app_bench_start_row    (WbAppBench *self, WbAppRowKind kind, const GPtrArray *samples);
void     wb_app_bench_stop_row     (WbAppBench *self);
/* FALSE: no row is on, or all of it is done. */
gboolean wb_app_bench_get_row_step (WbAppBench *self, WbAppRowStep *step);

G_END_DECLS
