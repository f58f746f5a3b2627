/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-asking-private.h"

G_BEGIN_DECLS

/*
 * What the figures of a wick have in common. A wick that feeds more melts wider, burns taller, heats and consumes more; so of a series, its step, a
 * wax, a vessel. Each such level, less what is believed of it and over its spread, is in every figure a part r (its belief's `strength`) of one
 * factor that all figures share, and sqrt (1 - r²) its own (wb-calc-joint.h). The models are fitted apart; what each says of the factors is then put
 * together here, and every figure is foretold given the factors as they are drawn from what all say: a figure that was read twice as sharply teaches
 * the others.
 *
 * Approximate is one thing: what a model says of the factors is taken at the mode of its spreads, while a draw is of any of its points, whose weights
 * the other figures do not change. Both are of the second order in how badly spreads are known.
 */

/* Room for one point of a model's spreads. */
typedef struct
{
  double *mean, *covariance; /* of all rows */
  double *gain;              /* main rows × items: what a unit of an item's factor adds */
  double *told_mean;         /* items, standardised */
  double *with;              /* items */
  gsize  *factor;            /* items: deviates */
} WbCraftPoint;

void    wb_craft_point_init  (WbCraftPoint *self, const WbCraftAsking *asking);
void    wb_craft_point_clear (WbCraftPoint *self);
/* The rows' posterior at a point, given the factors: mean and covariance of the main rows where all of them are 0, and the gain. */
void    wb_craft_point_find  (WbCraftPoint *self, const WbCraftAsking *asking, guint point);
/* The factors, draws × n_common, from what all models say of them; NULL askings are of no model. Caller frees. */
double *wb_craft_foretell_draw_factors (const WbCraftForetell *self, const WbCraftAsking *askings, guint n_askings, guint n_common);

G_END_DECLS
