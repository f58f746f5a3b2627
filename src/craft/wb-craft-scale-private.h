/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-means-private.h"
#include "wb-experiment.h"

G_BEGIN_DECLS

/*
 * The scale on which a figure is estimated: its spread is the same there for
 * weak and strong wicks. Lengths, consumption and the vessel's rise over the
 * room go by their logarithm; hang-up, which may be 0, and ratings stay plain.
 */

gboolean         wb_craft_scale_is_log    (WbFigure figure);
gboolean         wb_craft_scale_is_rating (WbFigure figure);
/* A stored value on the scale; room_c matters for the vessel alone. NAN for NAN. */
double           wb_craft_scale_from      (WbFigure figure, double value, double room_c);
/* Back to the stored unit, inside the ends of the figure. */
double           wb_craft_scale_to        (WbFigure figure, double y, double offset);
/* Lowest and highest value that the figure can have. */
void             wb_craft_scale_get_ends  (WbFigure figure, double *low, double *high);
/* What is believed about its spreads before the data; no source. */
WbCraftMeanPrior wb_craft_scale_get_prior (WbFigure figure);

G_END_DECLS
