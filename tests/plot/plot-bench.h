/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-answer.h"
#include "wb-craft-ladder.h"

/* Experiments for the tests of this room: candles of the physical model, burnt, read and answered. */

typedef struct
{
  guint    vessels;  /* 1 to 3 */
  guint    wicks;    /* steps of one series, up to 12 */
  guint    scents;   /* 1: without fragrance; 2: with and without */
  guint    samples;  /* a cell */
  guint    burns;    /* 0: to the end of the candle's life */
} PlotBenchSpec;

WbDataset     *plot_bench_data_new   (const PlotBenchSpec *spec, guint64 seed);
/* Takes the data. */
WbCraftAnswer *plot_bench_answer_new (WbDataset *data, WbCraftWithin within);
/* `cells` combinations of one vessel of 76.2 mm, two samples each, two burns each, all of them calm; takes 76.2 mm for granted. */
WbCraftAnswer *plot_bench_small      (guint cells);
/* Ten combinations of two vessels and five wicks, two candles each, burnt down. */
WbCraftAnswer *plot_bench_workshop   (void);
/*
 * A ladder of three for a vessel of 76.2 mm, from two series of five sizes: L-3 stops short of the wall, L-4 and R-2 fill it. Nothing
 * is foretold at the bottom of L-3.
 */
WbCraftLadder *plot_bench_ladder_new (void);
