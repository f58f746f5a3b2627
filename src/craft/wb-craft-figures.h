/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-burn.h"

G_BEGIN_DECLS

typedef struct
{
  WbCraftBurn   *burns;     /* one a burn of the data set, in its order */
  guint          n_burns;
  double        *life_left; /* a sample: least share left that was seen, of the fill; where thirds are OF_LIFE of what it burnt until its end; NAN unknown */
  gboolean      *ended;     /* a sample: burnt to the protocol's stated end */
  WbCraftThirds *thirds;    /* a sample */
  guint          n_samples;
} WbCraftFigures;

WbCraftFigures *wb_craft_figures_new  (const WbDataset *data);
void            wb_craft_figures_free (WbCraftFigures *self);

/* Inner diameter of a cell's vessel at a stage, mm: what its pools are judged against; the wider axis where it is not round. */
double          wb_craft_cell_get_inner_mm (const WbDataset *data, guint cell, WbStage stage);
/* When a full melt pool is due there, h: one hour per inch of that diameter; common practice, no source. */
double          wb_craft_cell_get_due_h    (const WbDataset *data, guint cell, WbStage stage);

/* Where an experiment stands. */
typedef enum { WB_CRAFT_STATE_PLANNED, WB_CRAFT_STATE_CURING, WB_CRAFT_STATE_BURNING, WB_CRAFT_STATE_FINISHED } WbCraftState;
/* From counts that a store can make without readings. */
WbCraftState wb_craft_state_of        (gboolean closed, guint poured, guint burns, guint waiting);
const char  *wb_craft_state_get_key   (WbCraftState state);   /* "planned" ... */
const char  *wb_craft_state_get_label (WbCraftState state);   /* translated */

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftFigures, wb_craft_figures_free)

G_END_DECLS
