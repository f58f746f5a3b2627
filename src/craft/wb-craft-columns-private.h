/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-dataset.h"

G_BEGIN_DECLS

/*
 * The columns by which the cells of an experiment borrow from each other: a mean;
 * what each vessel, scent and kind of wick (series and count) has of its own, all of
 * the same spread, so that none is the one that the others are told from; a line over
 * the step of each series; and where a wick was poured in several vessels or scents,
 * its own deviation from that line. What a cell has beyond their sum is its own.
 */
typedef struct
{
  guint   n;        /* columns */
  guint   n_cells;
  double *cell;     /* n_cells × n */
  double *sd;       /* n: weak opinion on the coefficient, on a logarithm; INFINITY none; 0: random, of a spread estimated */
  guint   n_levels; /* columns that come first: the mean, and those of vessels, scents and kinds of wick */
  guint   n_vessels;
  gsize  *vessel;   /* a cell: number of its vessel */
} WbCraftColumns;

void wb_craft_columns_init  (WbCraftColumns  *self,
                             const WbDataset *data);
void wb_craft_columns_clear (WbCraftColumns  *self);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (WbCraftColumns, wb_craft_columns_clear)

G_END_DECLS
