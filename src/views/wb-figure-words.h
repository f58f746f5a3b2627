/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-interval.h"
#include "wb-experiment.h"

G_BEGIN_DECLS

/* Figures as a person reads them. Caller frees. */

/* A value as craft gives it (times in h), with its unit; "–" for NAN. */
char *wb_figure_words_dup_value (WbFigure figure, double value, gboolean us_units);
/* "2.2 to 2.6 h", "2.2 h or more"; "" where there is neither end. */
char *wb_figure_words_dup_range (WbFigure figure, WbCraftInterval interval, gboolean us_units);
/* A chance, never certain: it was counted in draws. "99 in 100", "under 1 in 100"; "–" for NAN. */
char *wb_figure_words_dup_chance (double p);
/* A score, or anything of 0 to 1; "–" for NAN. */
char *wb_figure_words_dup_share (double share);

G_END_DECLS
