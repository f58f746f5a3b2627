/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"
#include "wb-sample.h"

G_BEGIN_DECLS

/* A batch that is marked as poured, and what is still to be done of it: pierce, top up, let it set. */
typedef struct
{
  WbBatch   *batch;
  GPtrArray *steps;   /* WbBatchStep, all of it in order */
} WbAppOpenPour;

/*
 * The pours of a notebook of which a step waits (wb_craft_method_find_waiting) while it is near (wb_craft_method_is_near); reads
 * them off the main thread, and again when a batch or a step changed. One that was near when it was read may be so no more. Signal
 * "changed".
 */
#define WB_TYPE_APP_OPEN_POURS (wb_app_open_pours_get_type ())
G_DECLARE_FINAL_TYPE (WbAppOpenPours, wb_app_open_pours, WB, APP_OPEN_POURS, GObject)

/* Holds the notebook. Caller owns it. */
WbAppOpenPours  *wb_app_open_pours_new (WbAppNotebook *notebook);
/* WbAppOpenPour, borrowed until the next change; empty before they are read. */
const GPtrArray *wb_app_open_pours_get (WbAppOpenPours *self);

G_END_DECLS
