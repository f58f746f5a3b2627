/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-estimates.h"

G_BEGIN_DECLS

/*
 * Effects on one figure of vessel, wick and scent. The unit is the sample, never the burn.
 *
 * Analysis of variance: each sample gives the mean over its burns that count; all
 * interactions that the grid can carry; sums of squares of type II.
 *
 * Comparisons, slope and the samples needed rest on what suits the figure, see
 * WbCraftEffectsBasis. Comparisons are made like with like: over the combinations of
 * the other factors that both were burnt in; what was never burnt alike is not
 * compared, and the finding says so. They are Tukey and Kramer's within the figure;
 * nothing is corrected across figures.
 */

/*
 * term: "vessel", "wick", "scent", joined by ":" in an interaction, or "residual"; untranslated.
 * f is INFINITY and p 0 where the term differs and samples of one kind read exactly alike; both
 * are NAN where nothing differs at all.
 */
typedef struct { char *term; double df, sum_sq, f, p; } WbCraftTerm;

/* Mean of one point of an interaction plot, in the figure's unit. */
typedef struct
{
  char  *first, *second; /* names of the levels */
  double mean;           /* over the combinations with the third factor, each counting once */
  guint  combinations;
  guint  samples;
} WbCraftInteractionMean;

/* Two factors, by key, and the means of the levels of theirs that were burnt together. */
typedef struct { const char *first, *second; GPtrArray *means; } WbCraftInteraction;

/* What comparisons, slope and samples needed rest on. */
typedef enum
{
  WB_CRAFT_EFFECTS_BY_SAMPLES, /* plain means of the samples and the spread of the analysis of variance: ratings, score */
  WB_CRAFT_EFFECTS_BY_MODEL,   /* the mixed model of the burns (wb-craft-means) */
  WB_CRAFT_EFFECTS_BY_CURVES   /* the growth curves of the cells; pool_mm: at the end of the protocol's burn, as if there were no wall */
} WbCraftEffectsBasis;

typedef enum { WB_CRAFT_ALIKE_NOT_ASKED, WB_CRAFT_ALIKE_NO, WB_CRAFT_ALIKE_YES } WbCraftAlike;

typedef struct
{
  char           *a, *b;
  WbCraftInterval difference; /* a less b, with a simultaneous 90 % interval, in the figure's unit */
  double          p;          /* adjusted for all pairs */
  double          error, df;  /* standard error of the difference, and its degrees of freedom */
  WbCraftInterval alone;      /* the same difference with the 90 % interval of this pair by itself: what a margin is held against */
  WbCraftAlike    alike;      /* is `alone` inside the margin? Two one-sided tests at 5 % */
  guint           combinations; /* of the other factors, that both were compared in */
  guint           samples;      /* of both, that the difference rests on */
} WbCraftComparison;

/* What one step up of a series adds. */
typedef struct
{
  WbCraftInterval interval;       /* 90 %, in the figure's unit, at the grand mean; value NAN: not told */
  guint           samples, burns; /* it rests on */
  char           *text;           /* translated sentence, or NULL */
} WbCraftSlope;

/* How many samples of each combination would tell two wicks apart, all else alike. */
typedef struct
{
  double difference;              /* to be found; NAN: no margin, and no aim that says what matters */
  guint  samples;                 /* of each; 0: not told, or more than anybody would burn */
  double power;                   /* reached with them */
  double alpha;
  /*
   * `samples` at the ends of the 90 % interval of the spread between samples, by its degrees of freedom; low 0: not told,
   * high 0: more than anybody would burn.
   */
  guint  samples_low, samples_high;
  double sample_sd;               /* of the mean of one sample's burns, in the figure's unit; NAN: not told */
  double sample_df;               /* its degrees of freedom; NAN: not told */
  guint  combinations;            /* that tell it */
  guint  least, most;             /* samples that a combination has */
  double aimed;                   /* what `difference` is without a margin */
  char  *text;                    /* translated sentence, or NULL */
} WbCraftSamplesNeeded;

typedef struct
{
  WbFigure             figure;
  guint                n;            /* samples with a value */
  GPtrArray           *terms;        /* WbCraftTerm; the last is "residual", its f and p NAN */
  GPtrArray           *interactions; /* WbCraftInteraction: each pair of factors that vary */
  WbCraftEffectsBasis  basis;
  GPtrArray           *comparisons;  /* WbCraftComparison: wicks against each other; without several wicks the first factor that varies */
  gboolean             compares_wicks;
  double               margin;       /* NAN: none */
  WbCraftSlope         slope;
  WbCraftSamplesNeeded needed;
  double               rank_h, rank_df, rank_p; /* Kruskal-Wallis over the wicks, for ratings; NAN for other figures */
  char                *finding;      /* translated sentences */
  char                *refusal;      /* why there are no terms, or NULL */
} WbCraftEffects;

WbCraftEffects *wb_craft_effects_new  (const WbDataset *data, const WbCraftFigures *figures, const WbCraftEstimates *estimates, WbFigure figure);
void            wb_craft_effects_free (WbCraftEffects *self);
/*
 * Holds the comparisons against a margin, > 0 in the figure's unit: are two alike within it? The
 * samples needed are those for a difference as large as the margin. NAN: no margin.
 */
void            wb_craft_effects_set_margin (WbCraftEffects *self, double margin);
/* "samples", "model", "curves" */
const char     *wb_craft_effects_basis_get_key (WbCraftEffectsBasis basis);
/* How it was worked out, in translated sentences: the sums of squares, the comparisons, what is corrected and what is not. Caller frees. */
char           *wb_craft_effects_dup_method (const WbCraftEffects *self);
/* "wick × scent" for "wick:scent". Caller frees. */
char           *wb_craft_term_dup_label (const char *term);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftEffects, wb_craft_effects_free)

G_END_DECLS
