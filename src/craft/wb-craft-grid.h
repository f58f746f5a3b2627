/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-dataset.h"

G_BEGIN_DECLS

/* The grid of an experiment: vessels × wicks × scents, cells and sample codes. */

typedef struct { gint64 fragrance; double load_pct; int load_basis; } WbCraftScent;

/* A wick of the grid: one alone, or so many of a size in a vessel, so far apart; NAN: not said, and of one alone. */
typedef struct { gint64 wick; guint count; double spacing_mm; } WbCraftWickChoice;

/* By how many there are in a vessel and how far apart, and by their place in `wicks` (WbWick) before that; 0: they differ in nothing. */
int        wb_craft_wick_choice_compare (const WbCraftWickChoice *a, const WbCraftWickChoice *b, const GPtrArray *wicks);

/*
 * Every combination, as WbCell records without an id; the control has fragrance 0 and load 0. vessels: gint64 ids;
 * wicks: WbCraftWickChoice; scents: WbCraftScent.
 */
GPtrArray *wb_craft_grid_cells (const GArray *vessels, const GArray *wicks, const GArray *scents);

/*
 * Codes for the labels of `n` samples a cell: short, unique in the notebook, built from the wick's size, behind the
 * number of wicks where there are several ("2S4-1", "2x12-1"), and letters for vessel and scent where they vary; no two differ only in characters that are easily mistaken.
 * wick_sizes: the size of each cell's wick. taken: the codes (char *) of every other sample, or NULL; where a label
 * like it is on a candle already, the numbers go on after the highest one. Returns a strv of cells × n.
 */
char     **wb_craft_grid_codes (const GPtrArray *cells, const GPtrArray *wick_sizes, guint n, const GPtrArray *taken);

typedef struct
{
  guint  cells, samples;
  double fill_g, wax_g, oil_g;   /* without overage; NAN where a vessel's fill is not known */
  guint  wicks;
  double cure_days;              /* longest wait */
  double bench_hours;            /* a standard burn of each sample, one after the other on `places` places */
} WbCraftGridTotals;

typedef struct { WbCell *cell; const WbVessel *vessel; const WbWick *wick; const WbWax *wax; const WbFragrance *fragrance; } WbCraftGridCell;
WbCraftGridTotals wb_craft_grid_totals (const GArray *grid_cells, guint samples_per_cell, const WbProtocol *protocol, guint places);

G_END_DECLS
