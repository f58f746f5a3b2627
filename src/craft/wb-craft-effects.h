/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-estimates.h"

G_BEGIN_DECLS

/* Analysis of variance of one figure over vessel, wick and scent with the interactions that the grid can carry; unit: the sample. */
typedef struct { char *term; double df, sum_sq, f, p; } WbCraftTerm;
typedef struct { char *a, *b; WbCraftInterval difference; double p; } WbCraftComparison;
typedef struct
{
  WbFigure   figure;
  guint      n;             /* samples with a value */
  GPtrArray *terms;         /* WbCraftTerm; the last is "residual", its f and p NAN */
  GPtrArray *comparisons;   /* WbCraftComparison: wicks against each other, Tukey-Kramer */
  char      *finding;       /* translated sentence */
  char      *refusal;       /* why there are no terms, or NULL */
} WbCraftEffects;

WbCraftEffects *wb_craft_effects_new  (const WbDataset *data, const WbCraftFigures *figures, const WbCraftEstimates *estimates, WbFigure figure);
void            wb_craft_effects_free (WbCraftEffects *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftEffects, wb_craft_effects_free)

G_END_DECLS
