/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-experiment.h"
#include "wb-store-dataset.h"

G_BEGIN_DECLS

/* Takes the record. waiting: samples that are still to be burnt. */
WbAppExperiment *wb_app_experiment_new    (WbExperiment *record, const WbStoreExperiment *counts, guint waiting);
/* TRUE if a list would show the same for both. */
gboolean         wb_app_experiment_equal  (WbAppExperiment *a, WbAppExperiment *b);
/* Order of the list: burning, curing, planned, finished; then newest first. A GCompareFunc on pointers to WbAppExperiment *. */
int              wb_app_experiment_order  (gconstpointer a, gconstpointer b);

G_END_DECLS
