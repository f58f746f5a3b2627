/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-aims-private.h"
#include "wb-craft-estimates.h"
#include "wb-craft-kinship-private.h"
#include "wb-craft-shuffles-private.h"
#include "wb-craft-ratings-private.h"

G_BEGIN_DECLS

/*
 * What is taken of the burns of a stage: the end of each; the worst of each; the worst
 * of them all, one value a candle. A limit is passed by the last: a candle that is calm
 * until its last burn and dangerous then is dangerous, whatever its typical burn shows.
 */
typedef enum { WB_CRAFT_LOOK_END, WB_CRAFT_LOOK_WORST, WB_CRAFT_LOOK_PEAK, WB_CRAFT_N_LOOKS } WbCraftLook;

/*
 * Joint draws of what all cells of an experiment would show, one set a figure, stage
 * and look. Cells borrow from each
 * other along the columns of the design as far as they agree; the spreads' own
 * uncertainty is drawn with them, and the correlation between cells, and between figures, stays in the draw.
 */
typedef struct
{
  WbFigure  figure;
  WbStage   stage;
  WbCraftLook look;
  gboolean  growth;     /* level is ln D∞, pace ln tau; else level is on the figure's scale */
  gboolean  log_scale;
  double    offset;     /* after going back from the scale */
  double    exponent;   /* of the growth law */
  double    low, high;  /* ends of the figure */
  double   *level;      /* n_draws × n_cells */
  double   *pace;       /* likewise; growth alone */
  double   *sample_sd;  /* n_draws: between candles of a recipe */
  double   *burn_sd;    /* n_draws: between burns of a candle; of peaks, what is not the candle's own */
  gboolean *read;       /* a cell: has it readings of its own? */
  const WbCraftRatings **lent;   /* a cell: whose ratings stand in for it, NULL its own; NULL: nobody's do */
  const WbCraftRatings *ratings; /* of a rating: level, sample_sd and the rest are its; draw i is its draw i modulo their number */
} WbCraftDraw;

typedef struct
{
  guint      n_draws;
  guint      n_cells;
  GPtrArray *all;       /* WbCraftDraw */
  WbCraftKinship candles; /* of the figures, by WbFigure: how they go together in a candle */
  WbCraftShuffles *shuffles; /* of the same seed, for the scores of all groups; NULL: each makes its own */
} WbCraftDraws;

/* Of every aim and every measured limit of the data set. `estimates` must stay as long. NULL: stopped. */
WbCraftDraws      *wb_craft_draws_new  (const WbDataset        *data,
                                        const WbCraftFigures   *figures,
                                        const WbCraftEstimates *estimates,
                                        guint64                 seed,
                                        guint                   n_draws,
                                        WbCraftKeepGoing        keep_going,
                                        gpointer                user);
void               wb_craft_draws_free (WbCraftDraws *self);
WbCraftLook        wb_craft_look_of    (const WbCraftAim *aim);
/* NULL: no cell of the experiment has it. */
const WbCraftDraw *wb_craft_draws_find (const WbCraftDraws *self,
                                        WbFigure            figure,
                                        WbStage             stage,
                                        WbCraftLook         look);
/* Has any of the cells `members` readings of its own? */
gboolean           wb_craft_draw_is_read (const WbCraftDraw *self,
                                          const guint       *members,
                                          guint              n);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftDraws, wb_craft_draws_free)

G_END_DECLS
