/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-experiment.h"
#include "wb-picks.h"

G_BEGIN_DECLS

/*
 * A line of the chooser: an experiment, a combination of it that was burnt, or a burnt sample of that. Property "picked"
 * (boolean) is notified, and "open" (boolean): what is below it shows.
 */
#define WB_TYPE_PICK_ROW (wb_pick_row_get_type ())
G_DECLARE_FINAL_TYPE (WbPickRow, wb_pick_row, WB, PICK_ROW, GObject)

typedef enum { WB_PICK_ROW_EXPERIMENT, WB_PICK_ROW_CELL, WB_PICK_ROW_SAMPLE } WbPickRowKind;

/* Caller owns it. */
WbPickRow    *wb_pick_row_new_experiment (WbAppExperiment *experiment);
/*
 * Its combinations and samples that were burnt, each combination before its own: WbPickRow. answer: says of each how it stands;
 * NULL: it is not known. Caller unrefs.
 */
GPtrArray    *wb_pick_row_list_below     (WbPickRow *experiment, const WbDataset *data, const WbCraftAnswer *answer);

WbPickRowKind wb_pick_row_get_kind       (WbPickRow *self);
const WbPick *wb_pick_row_get_pick       (WbPickRow *self); /* of an experiment its id alone */
const char   *wb_pick_row_get_name       (WbPickRow *self); /* "B4" */
const char   *wb_pick_row_get_title      (WbPickRow *self); /* "HF-1 · B4": wherever it stands */
const char   *wb_pick_row_get_about      (WbPickRow *self); /* "3 samples, 45 burns", and how it stands where that is known */
/* NULL: of an experiment; that of a sample is its combination. Borrowed. */
WbPickRow    *wb_pick_row_get_parent     (WbPickRow *self);
/* Something of it was burnt. */
gboolean      wb_pick_row_is_burnt       (WbPickRow *self);
gboolean      wb_pick_row_get_picked     (WbPickRow *self);
void          wb_pick_row_set_picked     (WbPickRow *self, gboolean picked);
gboolean      wb_pick_row_get_open       (WbPickRow *self);
void          wb_pick_row_set_open       (WbPickRow *self, gboolean open);
/* Every word of it, folded as by g_utf8_casefold(), is somewhere in the row or above it. */
gboolean      wb_pick_row_matches        (WbPickRow *self, const char *const *words);

G_END_DECLS
