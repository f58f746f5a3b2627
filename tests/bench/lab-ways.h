/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-figures.h"

/*
 * Plainer ways of ranking wicks than the program's, for the loss that it saves.
 *
 * Plain average: each figure's readings at the end of the burns of a cell are
 * averaged, in each stage, and put on the same profile. The pool is full when it is
 * first seen full, on average over the burns in which it was, and never where that is
 * less than half of them. A cell of which any reading was over a house limit scores 0;
 * a figure that was never read leaves its score.
 *
 * The same, halfway: full half way between the last reading that was not at the wall
 * and the first that was, as a maker does who knows what hourly readings do to a time.
 *
 * A maker's sheet, points: the hour at which the pool is first seen full, on average,
 * is the hour in which it is due: 3; next to it, or never: 1. Depth from 6 to 13 mm: 1.
 * Flame from 13 to 25 mm: 1. Vessel to 60 °C: 1. Hang-up to 3 mm: 1. Soot to 0.5 on
 * average: 2, to 1.5: 1. Mushroom to 1: 1. Over a house limit: out. Invented here after
 * the aims of the house profile.
 *
 * Any wick is the mean over all choices, and the bound is that of lab-bound.h. Among
 * equals the smaller wick is taken.
 */
typedef enum { LAB_WAY_PROGRAM, LAB_WAY_PLAIN, LAB_WAY_HALFWAY, LAB_WAY_SHEET, LAB_WAY_ANY, LAB_WAY_BOUND, LAB_N_WAYS } LabWay;

const char *lab_way_get_label (LabWay way);
/* What LAB_WAY_PLAIN, _HALFWAY or _SHEET gives each cell, n_cells long, larger is better; NAN where it was not burnt. g_free. */
double     *lab_way_rate      (LabWay way, const WbDataset *data, const WbCraftFigures *figures);
