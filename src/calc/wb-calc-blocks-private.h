/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-calc-blocks.h"

/* Plots of a layout; 0: its sums do not fit, it is empty, or too large. */
size_t       wb_calc_blocks_count_plots (const WbCalcBlocksLayout *layout);

/* How often a treatment stands in a block, treatments × blocks by rows; of plots that hold SIZE_MAX nothing. */
void         wb_calc_blocks_incidence   (const WbCalcBlocksLayout *layout,
                                         const size_t             *treatments,
                                         size_t                   *incidence);

/* R^-1/2 C R^-1/2, n_treatments square by rows. */
void         wb_calc_blocks_information (const WbCalcBlocksLayout *layout,
                                         const size_t             *incidence,
                                         double                   *information);
