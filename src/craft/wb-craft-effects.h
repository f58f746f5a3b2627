/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-estimates.h"

G_BEGIN_DECLS

/*
 * Analysis of variance of one figure over vessel, wick and scent with the
 * interactions that the grid can carry. The unit is the sample, never the burn:
 * each gives the mean over its burns that count. Sums of squares are of type II.
 * Comparisons are made like with like: over the combinations of the other factors
 * that both were burnt in, by the method of Tukey and Kramer with the residual
 * variance; what was never burnt alike is not compared, and the finding says so.
 */

/*
 * term: "vessel", "wick", "scent", joined by ":" in an interaction, or "residual"; untranslated.
 * f is INFINITY and p 0 where the term differs and samples of one kind read exactly alike; both
 * are NAN where nothing differs at all.
 */
typedef struct { char *term; double df, sum_sq, f, p; } WbCraftTerm;
/* difference: a less b, with a simultaneous 90 % interval, in the figure's unit; p adjusted for all pairs. */
typedef struct { char *a, *b; WbCraftInterval difference; double p; } WbCraftComparison;
typedef struct
{
  WbFigure   figure;
  guint      n;             /* samples with a value */
  GPtrArray *terms;         /* WbCraftTerm; the last is "residual", its f and p NAN */
  GPtrArray *comparisons;   /* WbCraftComparison: wicks against each other; without several wicks the first factor that varies */
  double     rank_h, rank_df, rank_p; /* Kruskal-Wallis over the wicks, for ratings; NAN for other figures */
  char      *finding;       /* translated sentence */
  char      *refusal;       /* why there are no terms, or NULL */
} WbCraftEffects;

WbCraftEffects *wb_craft_effects_new  (const WbDataset *data, const WbCraftFigures *figures, const WbCraftEstimates *estimates, WbFigure figure);
void            wb_craft_effects_free (WbCraftEffects *self);
/* "wick × scent" for "wick:scent". Caller frees. */
char           *wb_craft_term_dup_label (const char *term);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftEffects, wb_craft_effects_free)

G_END_DECLS
