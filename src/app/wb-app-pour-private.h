/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-pour.h"
#include "wb-store.h"

G_BEGIN_DECLS

typedef struct
{
  WbDataset *dataset;
  GPtrArray *parts;       /* WbFragrancePart of all blends */
  GPtrArray *lots;        /* WbLot, all */
  GPtrArray *fragrances;  /* WbFragrance, all: names of the parts */
  GPtrArray *method;      /* WbMethodStep of the wax */
  GPtrArray *typed;       /* WbAppPourTyped, the newest first */
  GPtrArray *covers;      /* of wb-app-covered-private.h; NULL: not asked */
} WbAppPourData;

/* Of one experiment; NULL on error. */
WbAppPourData *wb_app_pour_data_read (WbStore *store, gint64 experiment, GError **error);
/* NULL is let pass. */
void           wb_app_pour_data_free (WbAppPourData *self);
/* Parts of a blend as a sheet wants them (WbCraftOilPart); NULL: one oil, or none. Caller frees. */
GArray        *wb_app_pour_dup_oil_parts (const WbAppPourData *data, const WbFragrance *fragrance);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbAppPourData, wb_app_pour_data_free)

/* Common practice, no source: what sticks to the pot, and the steps of a kitchen scale. The page asks for the maker's own. */
#define WB_APP_POUR_USUAL_OVERAGE_PCT 5.0
#define WB_APP_POUR_USUAL_RESOLUTION_G 0.1

/* A pour that was marked and taken back: the batch and its samples as they stood while it was. */
typedef struct
{
  WbBatch   *batch;
  GPtrArray *samples; /* WbSample */
  GPtrArray *steps;   /* WbBatchStep */
} WbAppPourTyped;

/* Of an experiment, by its history; those whose samples were changed since are left out. NULL on error. WbAppPourTyped. */
GPtrArray *wb_app_pour_typed_read (WbStore *store, gint64 experiment, GError **error);
/* Puts what was typed into the proposed or planned batches that it is of. */
void       wb_app_pour_typed_give (const WbDataset *data, const GPtrArray *typed, GPtrArray *batches);

typedef struct { double overage_pct, hold_back_pct, resolution_g; } WbAppPourTerms;

GPtrArray *wb_app_pour_batches_new (void);
/* Stored batches, and a proposed one for each scent with samples in none; by their codes. WbAppPourBatch; borrows from data. */
GPtrArray *wb_app_pour_gather      (const WbAppPourData *data, const WbAppPourTerms *terms);

G_END_DECLS
