/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-dataset.h"

G_BEGIN_DECLS

typedef enum { WB_CRAFT_FACTOR_VESSEL, WB_CRAFT_FACTOR_WICK, WB_CRAFT_FACTOR_SCENT, WB_CRAFT_N_FACTORS } WbCraftFactor;

const char *wb_craft_factor_get_key   (WbCraftFactor factor); /* "vessel", "wick", "scent" */
const char *wb_craft_factor_get_label (WbCraftFactor factor); /* translated */
/* Are two cells of the data set at one level of the factor? A wick's level is its size and how many there are. */
gboolean    wb_craft_factor_is_same   (const WbDataset *data, WbCraftFactor factor, guint a, guint b);

/* The samples that have a value of a figure, and the level of each factor that they were poured at. */
typedef struct
{
  const WbDataset *data;
  guint    n;
  double  *y;
  guint   *cell;
  size_t  *level[WB_CRAFT_N_FACTORS];
  size_t   n_levels[WB_CRAFT_N_FACTORS];
  guint   *first_cell[WB_CRAFT_N_FACTORS];  /* a level: a cell that has it */
  guint    factors[WB_CRAFT_N_FACTORS];     /* those that vary */
  guint    n_factors;
  guint    n_never;                         /* samples whose full melt pool never comes: no number to average */
  double  *cell_mean;                       /* a cell of the data set; NAN where none of its samples has a value */
  guint   *cell_n;
} WbCraftLevels;

/* values: one a sample of the data set, NAN none, INFINITY never. */
void     wb_craft_levels_init     (WbCraftLevels   *self,
                                   const WbDataset *data,
                                   const double    *values);
void     wb_craft_levels_clear    (WbCraftLevels   *self);
/* Caller frees. */
char    *wb_craft_levels_dup_name (const WbCraftLevels *self,
                                   WbCraftFactor        factor,
                                   size_t               level);
/* Was every level of the factor burnt together with every combination of the others that there is? */
gboolean wb_craft_levels_is_even  (const WbCraftLevels *self,
                                   WbCraftFactor        factor);
/* Mean of a level over its combinations with the others, each counting once. Only in an even grid such means compare like with like. */
double   wb_craft_levels_mean     (const WbCraftLevels *self,
                                   WbCraftFactor        factor,
                                   size_t               level);
/*
 * Two levels of a factor, like with like: the mean of their differences, second
 * less first, over the combinations of the other factors that both were burnt in.
 * Its variance is that between samples times `inverse`, which for n samples a level
 * is 2 / n. Returns how many combinations they share; 0: nothing is compared.
 */
guint    wb_craft_levels_match    (const WbCraftLevels *self,
                                   WbCraftFactor        factor,
                                   size_t               first,
                                   size_t               second,
                                   double              *difference,
                                   double              *inverse);

/*
 * The same pair as weights of the cells, n_cells of them: those of the second level share 1,
 * those of the first -1. Only cells that `has` marks are matched. Returns how many combinations they share.
 */
guint    wb_craft_levels_weigh    (const WbCraftLevels *self,
                                   WbCraftFactor        factor,
                                   size_t               first,
                                   size_t               second,
                                   const gboolean      *has,
                                   double              *weights);
/* Mean of the cells at a level of two factors, each counting once; their number; the samples in them. */
guint    wb_craft_levels_cross    (const WbCraftLevels *self,
                                   WbCraftFactor        one,
                                   size_t               level,
                                   WbCraftFactor        other,
                                   size_t               other_level,
                                   double              *mean,
                                   guint               *samples);

G_END_DECLS
