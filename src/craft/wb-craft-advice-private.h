/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-advice.h"

G_BEGIN_DECLS

/* What the pieces of an advice share. */
typedef struct
{
  const WbDataset        *data;
  const WbCraftFigures   *figures;
  const WbCraftLimits    *limits;
  const WbCraftEstimates *estimates;
  const WbCraftRanking   *ranking;
  const GPtrArray        *wicks;       /* WbWick; NULL: the data set's */
  double                  near_enough;
  const GArray           *foretold;    /* WbCraftForetoldSize; NULL: none */
} WbCraftAdvising;

static inline const WbCraftGroup *
wb_craft_advising_get_group (const WbCraftAdvising    *self,
                             const WbCraftAdviceGroup *group)
{
  return &self->ranking->groups[group->group];
}

/* The signs that a cell's burns show, those that speak first: WbCraftSign. Caller unrefs. */
GPtrArray *wb_craft_signs_new            (const WbCraftAdvising *self,
                                          guint                  cell);
/* Of the signs, whether one that speaks asks for a larger wick (up) or for a smaller one. */
gboolean   wb_craft_signs_speak          (const GPtrArray       *signs,
                                          gboolean               up);
/* "tall flame of 42 mm (...); vessel at 66 °C (...)": those that speak of one direction, and a cap; a crossing is told elsewhere. Caller frees. */
char      *wb_craft_signs_dup_words      (const GPtrArray       *signs,
                                          gboolean               up);
/* A carbon cap seen often enough to stand beside a sign of the other kind, though alone it may be the trim's. */
gboolean   wb_craft_sign_is_cap          (const WbCraftSign     *sign);

/* Carry on, up, down or another series: fills size, p_hot, next_*, reasons of every cell, and all and outside* of the group. */
void       wb_craft_advice_judge_sizes   (const WbCraftAdvising *self,
                                          WbCraftAdviceGroup    *group);
/*
 * The chance that the next candle one size up crosses a limit of flame or vessel in a third that was read: the cell's own worst
 * readings, and what a step adds by the cells of its series (the wicks of one vessel and scent) and a stated opinion. NAN: not read.
 */
double     wb_craft_advice_foretell_hot  (const WbCraftAdvising *self,
                                          const WbCraftGroup    *group,
                                          guint                  cell);
/* Are both sizes of one series, as many of them, in the same vessel and scent? */
gboolean   wb_craft_advice_is_of_line    (const WbDataset       *data,
                                          guint                  a,
                                          guint                  b);
/* Did a candle of it cross a limit of heat? */
gboolean   wb_craft_advice_crossed_heat  (const WbCraftAdvising *self,
                                          guint                  cell);
/*
 * Of each series of which the pools of three sizes at least were read in a vessel and scent: at which size the pool is full when it
 * is due, with the sizes between which that lies, and whether heat allows it. Translated sentences; NULL: no series tells it. Caller frees.
 */
char      *wb_craft_advice_dup_steps     (const WbCraftAdvising    *self,
                                          const WbCraftAdviceGroup *group);

/* Fills share, burn_on and pour of every cell, from running, unread, over and leader. */
void       wb_craft_advice_share_burns   (const WbCraftAdvising *self,
                                          WbCraftAdviceGroup    *group);
/* Candles of the cell that count and have burns left. */
guint      wb_craft_advice_count_living  (const WbCraftAdvising *self,
                                          guint                  cell);

/* Fills answer and line. */
void       wb_craft_advice_tell          (const WbCraftAdvising *self,
                                          WbCraftAdviceGroup    *group);

G_END_DECLS
