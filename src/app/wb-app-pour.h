/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"
#include "wb-craft-batch.h"
#include "wb-dataset.h"

G_BEGIN_DECLS

/*
 * The pour of one experiment: its batches by scent with their sheets, and the
 * marking of a batch as poured. Load it, read the batches, save. Follows no
 * changes by itself: load again on the notebook's "changed".
 */
#define WB_TYPE_APP_POUR (wb_app_pour_get_type ())
G_DECLARE_FINAL_TYPE (WbAppPour, wb_app_pour, WB, APP_POUR, GObject)

/* What is measured of a sample at the pour, and once it has set. */
typedef enum
{
  WB_APP_POURED_TARE, WB_APP_POURED_FILL, WB_APP_POURED_TOP_UP, WB_APP_POURED_HEIGHT, WB_APP_POURED_OFFSET, WB_APP_POURED_LEAN,
  WB_APP_POURED_CAVITIES, WB_APP_N_POURED
} WbAppPoured;

/* One sample of the batch; NAN where not measured. */
typedef struct { gint64 sample; double values[WB_APP_N_POURED]; } WbAppPouredSample;

/* The lot of the samples of one wick, of a batch that has several. */
typedef struct { gint64 wick; char *lot; } WbAppPourWickLot;
/* An array that frees what it holds; caller unrefs. */
GArray            *wb_app_pour_wick_lots_new (void);

/* The sample's field that holds it. */
const WbFieldSpec *wb_app_poured_get_spec  (WbAppPoured poured);
/* What the record says, NAN where it does not; and into it. */
double             wb_app_poured_get       (const WbSample *sample, WbAppPoured poured);
void               wb_app_poured_set       (WbSample *sample, WbAppPoured poured, double value);

/* One kind of candle of a batch. */
typedef struct
{
  const WbVessel *vessel;   /* borrowed from the pour's data */
  guint           candles;
  double          fill_g;   /* one candle, on the balance's steps; NAN: there is no sheet that says it */
} WbAppPourLine;

typedef struct
{
  WbBatch           *batch;    /* stored (id above 0), or proposed */
  WbCraftBatchSheet *sheet;    /* NULL: `refusal` says what is missing */
  char              *refusal;  /* translated */
  char              *title;    /* "Harbour mist 8 % of the wax" */
  const WbFragrance *fragrance; /* borrowed; NULL: none */
  GArray            *lines;    /* WbAppPourLine */
  GPtrArray         *samples;  /* WbSample, borrowed */
  GPtrArray         *steps;    /* WbBatchStep: as done, or as planned by the wax's method (id 0) */
  gboolean           poured;
  /* Marked as poured, and that was taken back: what was typed then. The fields of the batch itself stand in `batch`. */
  WbDay              typed_on;        /* WB_DAY_NONE: it was never marked */
  char              *typed_wick_lot;  /* NULL: not said */
  GArray            *typed_wick_lots; /* WbAppPourWickLot, where they are several */
  char              *typed_vessel_lot;
  GArray            *typed_samples;   /* WbAppPouredSample; empty: it was never marked */
} WbAppPourBatch;

/* Of the experiment with that id; nothing is loaded yet. Caller owns it. */
WbAppPour       *wb_app_pour_new          (WbAppNotebook *notebook, gint64 experiment);
/* Also the way to read it anew. */
void             wb_app_pour_load_async   (WbAppPour *self, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
gboolean         wb_app_pour_load_finish  (WbAppPour *self, GAsyncResult *result, GError **error);
const WbDataset *wb_app_pour_get_data     (WbAppPour *self); /* NULL before it is loaded */
/* WbAppPourBatch, borrowed until the next load or set. */
const GPtrArray *wb_app_pour_get_batches  (WbAppPour *self);
/* For batches that are not poured; recomputes their sheets. Per cent, per cent, g (0: exact). */
void             wb_app_pour_set_terms    (WbAppPour *self, double overage_pct, double hold_back_pct, double resolution_g);

/*
 * Marks a batch as poured in one entry: the batch with its actual values, the
 * samples' poured_on, lots and what was measured. `actual` is a copy of the
 * batch's record with poured_on, poured_at where the moment is known, and the measured fields filled in; neither is now;
 * steps: WbBatchStep as they were done, may be NULL; poured: WbAppPouredSample, may be NULL; wick_lot, vessel_lot may be NULL;
 * wick_lots: WbAppPourWickLot, before wick_lot, may be NULL.
 */
void             wb_app_pour_mark_async   (WbAppPour *self, guint batch, const WbBatch *actual, const GPtrArray *steps, const GArray *poured,
                                           const char *wick_lot, const GArray *wick_lots, const char *vessel_lot,
                                           GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
gboolean         wb_app_pour_mark_finish  (WbAppPour *self, GAsyncResult *result, GError **error);

/*
 * Of a batch that is poured, in one entry: what was found once it had set, days later too. actual: the batch with its deviation and
 * note; samples: copies of WbSample with what was found; steps: WbBatchStep with what was done after it was marked. What is as it was is not written; nothing at all: no entry.
 */
void             wb_app_pour_note_async   (WbAppPour *self, guint batch, const WbBatch *actual, const GPtrArray *samples, const GPtrArray *steps,
                                           GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
gboolean         wb_app_pour_note_finish  (WbAppPour *self, GAsyncResult *result, GError **error);

/* What a field for a lot offers (wb_lot_choice_offer): WbLot, and WbFragrancePart of the blends; NULL before it is loaded. */
const GPtrArray *wb_app_pour_get_lots     (WbAppPour *self);
const GPtrArray *wb_app_pour_get_parts    (WbAppPour *self);
/*
 * Of the text's lots of that material, what a signed decision for the recipe of those combinations (ids, gint64) does not cover, in any
 * experiment; NULL: all is covered, or nothing is signed for them. Caller frees.
 */
char            *wb_app_pour_dup_lack     (WbAppPour *self, const GArray *cells, gint64 material, const char *text);
/* The wick that all samples of a batch have, and the vessel; 0: several. */
gint64           wb_app_pour_find_wick    (WbAppPour *self, const WbAppPourBatch *batch);
/* Its wicks (WbWick, borrowed), each once; caller unrefs. */
GPtrArray       *wb_app_pour_dup_wicks    (WbAppPour *self, const WbAppPourBatch *batch);
gint64           wb_app_pour_find_vessel  (WbAppPour *self, const WbAppPourBatch *batch);

G_END_DECLS
