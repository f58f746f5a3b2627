/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-pour.h"

G_BEGIN_DECLS

typedef struct
{
  WbDataset *dataset;
  GPtrArray *parts;       /* WbFragrancePart of all blends */
  GPtrArray *fragrances;  /* WbFragrance, all: names of the parts */
} WbAppPourData;

void       wb_app_pour_data_free   (WbAppPourData *self);

typedef struct { double overage_pct, hold_back_pct, resolution_g; } WbAppPourTerms;

GPtrArray *wb_app_pour_batches_new (void);
/* Stored batches, then a proposed one for each scent with samples in none. WbAppPourBatch; borrows from data. */
GPtrArray *wb_app_pour_gather      (const WbAppPourData *data, const WbAppPourTerms *terms);

G_END_DECLS
