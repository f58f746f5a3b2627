/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-figures.h"

G_BEGIN_DECLS

/*
 * The highest of each burn, of a figure that is read several times in it (depth, flame,
 * vessel), less what the reader's error adds: the highest of several readings is read
 * too high on average, the more so the more they are.
 *
 * On the figure's scale a reading is the burn's level, a course in time that all burns
 * share (a cubic), one that the burns of its cell share beside it, as far as they show it,
 * and a rest. The rest of a reading is the reader's as far as it is no
 * larger than readers err: that much is taken off before the highest is looked for. Of a
 * rest further out than readers ever err, no more than they ever err is taken off: what is left has happened.
 */
typedef struct
{
  double *burn;       /* a burn of the figures: on the figure's scale; NAN: not read, or it does not speak of the figure */
  double  reader_sd;  /* what is left of the reader's error in one of them */
} WbCraftHighest;

/* room_c stands in where a burn has no room temperature. NULL: the figure has one value a burn. */
WbCraftHighest *wb_craft_highest_new  (const WbDataset      *data,
                                       const WbCraftFigures *figures,
                                       WbFigure              figure,
                                       double                room_c);
void            wb_craft_highest_free (WbCraftHighest       *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftHighest, wb_craft_highest_free)

G_END_DECLS
