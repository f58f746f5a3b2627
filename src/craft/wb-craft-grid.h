/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-evenings.h"
#include "wb-craft-stock.h"
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
 * run: 1, the first; else the codes begin with it, "R2-S4-1", so that no label of a repeat reads as a further sample of what it repeats;
 * WB_CRAFT_GRID_NEXT_RUN is the lowest from 2 on of which no code is taken yet.
 * wick_sizes: the size of each cell's wick. taken: the codes (char *) of every other sample, or NULL; where a label
 * like it is on a candle already, the numbers go on after the highest one. Returns a strv of cells × n.
 */
#define WB_CRAFT_GRID_NEXT_RUN 0
char     **wb_craft_grid_codes (const GPtrArray *cells, const GPtrArray *wick_sizes, guint n, guint run, const GPtrArray *taken);
/* Which run a code is of; 1: it says none. */
guint      wb_craft_grid_run_of_code (const char *code);

/* Evenings at the bench where the notebook states none: Monday, Wednesday, Friday. No source. */
#define WB_CRAFT_GRID_EVENINGS (1u << 0 | 1u << 2 | 1u << 4)

/* The bench on which a grid is burnt, and what is booked there. */
typedef struct
{
  WbCraftEveningsBench         evenings;  /* places 0, no days of the week: not stated */
  const WbCraftEveningsCohort *others;    /* that are poured and burn on, as the calendar plans them; borrowed */
  guint                        n_others;
  WbInstant                    poured_at; /* when all of it would be poured */
} WbCraftGridBench;

typedef struct
{
  guint    cells, samples;     /* a vessel a sample */
  double   fill_g, wax_g, oil_g, additive_g; /* without overage; NAN where a vessel's fill is not known */
  guint    wicks;
  double   cure_days;          /* longest wait, as the bench keeps it: where none is stated, until wax has set right through */
  double   bench_hours;        /* a standard burn of each sample, one after the other on the bench's places */
  guint    burns;              /* of the sample that lives longest, to the protocol's stated end; 0: not known */
  gboolean burns_usual;        /* at what a wick usually takes */
  guint    evenings;           /* at the bench, until all are burnt to the end; 0: not known */
  WbDay    answered;           /* the day of the last burn; WB_DAY_NONE: not known, or later than the horizon */
  guint    days;               /* from the pour to that day, cure included; 0: as above */
  guint    days_alone;         /* the same on a bench where nothing else burns; 0: not known */
  gboolean late;               /* it is later than the horizon */
  guint    evenings_a_week;
  gboolean evenings_assumed;
} WbCraftGridTotals;

typedef struct { WbCell *cell; const WbVessel *vessel; const WbWick *wick; const WbWax *wax; const WbFragrance *fragrance; } WbCraftGridCell;
/* grid_cells: WbCraftGridCell; those left out do not count. experiment: for its additive; NULL: none. */
WbCraftGridTotals wb_craft_grid_totals (const GArray *grid_cells, guint samples_per_cell, const WbExperiment *experiment, const WbProtocol *protocol,
                                        const WbCraftGridBench *bench);

/* g of a wax, fragrance, dye or additive; pieces of vessels and wicks. NAN: not known. */
typedef struct { gint64 material; double amount; } WbCraftGridNeed;
/* What the grid takes of each material, WbCraftGridNeed, without overage. dye: the experiment's, or NULL. Caller unrefs. */
GArray           *wb_craft_grid_needs  (const GArray *grid_cells, guint samples_per_cell, const WbExperiment *experiment, const WbDye *dye);

/* In the notebook's currency, over those of the materials whose amount and price are known. */
typedef struct { double money; guint priced, unpriced; } WbCraftGridCost;
WbCraftGridCost   wb_craft_grid_cost   (const GArray *needs, const WbCraftStock *stock);


G_END_DECLS
