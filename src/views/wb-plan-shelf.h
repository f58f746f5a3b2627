/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-query.h"
#include "wb-record-form.h"
#include "wb-tick-list.h"

G_BEGIN_DECLS

/* What the shelf offers to a plan: materials into the controls that choose among them. Records are borrowed for the call. */

/* Into a reference field of a form. */
void wb_plan_shelf_offer        (WbRecordForm *form, const char *field, const GPtrArray *records);
/* WbVessel. */
void wb_plan_shelf_fill_vessels (WbTickList *list, const GPtrArray *vessels);
/* WbWick: a group a series, by step. */
void wb_plan_shelf_fill_wicks   (WbTickList *list, const GPtrArray *wicks);

/* WbWick by series and step, borrowed. Caller unrefs. */
GPtrArray *wb_plan_shelf_sort_wicks (const GPtrArray *wicks);

/* "This notebook has no waxes, no wicks yet: a plan needs them." NULL: it has what a plan needs. Caller frees. */
char *wb_plan_shelf_dup_missing (const WbAppMaterials *materials);

G_END_DECLS
