/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-calc-desirability.h"
#include "wb-craft-estimates.h"

G_BEGIN_DECLS

/* An aim of the score profile, ready to be judged by. */
typedef struct
{
  WbFigure           figure;
  WbStage            stage;
  gboolean           worst;
  WbCalcDesirability shape;   /* of the figure in its stored unit; the full pool as a multiple of one hour per inch */
  double             weight;
} WbCraftAim;

/* The aims that weigh something and whose shape can be judged, in the profile's order: WbCraftAim. */
GArray *wb_craft_aims_new (const WbDataset *data);

/* Does this cell have a reading of its own for the aim? */
gboolean wb_craft_aim_is_read (const WbCraftAim  *aim,
                               const WbCraftCell *cell);

/* A cell's own estimate for an aim other than the full pool. */
const WbCraftEstimate *wb_craft_aim_get_estimate (const WbCraftAim  *aim,
                                                  const WbCraftCell *cell);

G_END_DECLS
