/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-effects.h"
#include "wb-craft-growth-private.h"
#include "wb-craft-means-private.h"

G_BEGIN_DECLS

/*
 * Every cell's value of a figure in its unit, each cell for itself, with what is
 * needed to judge weighted sums of them: the restricted likelihood fit behind it and
 * how each value moves with what the fit estimates (the delta method). Differences are
 * of values told back in units, so that the answer is the one a maker would
 * subtract; on a logarithm sd is a few per cent, where the linear part is all of it.
 */
typedef struct
{
  WbCraftEffectsBasis basis;       /* BY_MODEL or BY_CURVES */
  gboolean            log_scale;   /* steps multiply */
  guint               n_cells;
  gboolean           *has;
  double             *told;        /* in the figure's unit; of a vessel its rise over the room */
  double             *of_level;    /* change of `told` with the cell's mean on the scale, or its ln D∞ */
  double             *of_tau;      /* with its ln tau */
  guint              *samples;     /* that its value rests on */
  guint              *burns;
  const WbCraftMeans *means;       /* the memo's */
  WbCraftPools       *pools;
} WbCraftEffectsModel;

typedef struct { double value, error, df; } WbCraftContrast;

/* NULL: the figure is one of samples (ratings, score), or no fit came about. */
WbCraftEffectsModel *wb_craft_effects_model_new      (const WbDataset        *data,
                                                      const WbCraftFigures   *figures,
                                                      const WbCraftEstimates *estimates,
                                                      WbFigure                figure);
void                 wb_craft_effects_model_free     (WbCraftEffectsModel *self);
/* sum of weights × told, weights 0 for cells without a value. FALSE: not told. */
gboolean             wb_craft_effects_model_contrast (const WbCraftEffectsModel *self,
                                                      const double              *weights,
                                                      WbCraftContrast           *contrast);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftEffectsModel, wb_craft_effects_model_free)

G_END_DECLS
