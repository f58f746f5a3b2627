/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-row.h"

G_BEGIN_DECLS

/* Kept by the bench. */
typedef struct
{
  WbAppRowKind kind;
  GArray      *samples; /* ids (gint64) */
  guint        done;    /* at the last look */
  gint64       last_us; /* of the clock that never steps: when the last one was found done */
} WbAppRow;

void wb_app_row_free   (WbAppRow *self);
/* Notices what has been done since the last look; self may be NULL. */
void wb_app_row_update (WbAppRow *self, WbAppBench *bench);
/* Where the bench keeps it. */
WbAppRow **wb_app_bench_peek_row (WbAppBench *self);

G_END_DECLS
