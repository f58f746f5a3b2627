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
  WbInstant               now;         /* unknown: nothing waits */
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
/* Where the hot throw is weak, a reason that names what else it may be: never a larger wick. */
void       wb_craft_advice_tell_throw    (const WbCraftAdvising *self,
                                          WbCraftAdvised        *advised);
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
/* The readings at the ends of those lines, in the same order. Translated sentences; NULL: no series tells it. Caller frees. */
char      *wb_craft_advice_dup_steps_basis (const WbCraftAdvising    *self,
                                            const WbCraftAdviceGroup *group);

/* Fills share, in_ten, why_share, burn_on and pour of every cell, from running, unread, candles, over, poor and leader. */
void       wb_craft_advice_share_burns   (const WbCraftAdvising *self,
                                          WbCraftAdviceGroup    *group);

/* What the cell's candles wait for. */
void       wb_craft_advice_find_candles  (const WbCraftAdvising *self,
                                          guint                  cell,
                                          WbCraftAdvisedCandles *candles);
/* Candles that were poured and have burns left. */
guint      wb_craft_advice_count_living  (const WbCraftAdvisedCandles *candles);
/*
 * Of a cell, the reading that says most, with sample, burn and figure: its first sign, else what came nearest to a limit of heat or was
 * read last; NULL: nothing was read. Caller frees.
 */
char      *wb_craft_advice_dup_evidence  (const WbCraftAdvising *self,
                                          const WbCraftAdvised  *advised);
/* The worst that was read of flame or vessel, whichever is nearer to its stop, in the same form; "–": neither was. Caller frees. */
char      *wb_craft_advice_dup_hottest   (const WbCraftAdvising *self,
                                          guint                  cell);
/* The widest pool that was read of it, in the same form; NULL: none was. Caller frees. */
char      *wb_craft_advice_dup_widest_pool (const WbCraftAdvising *self,
                                            guint                  cell);
/* "text (burn 3 of C5-1)". Caller frees. */
char      *wb_craft_advice_dup_at        (const WbCraftAdvising *self,
                                          const char            *text,
                                          guint                  sample,
                                          guint                  burn);
/* The crossing of the cell that tells of heat; NULL: none. Caller frees. */
char      *wb_craft_advice_dup_crossing_of_heat (const WbCraftAdvising *self,
                                                 guint                  cell);

/* The one word of a row, from all else that is advised. A function of these alone: tests go through every combination. */
WbCraftRow wb_craft_advice_find_row      (const WbCraftAdvised  *advised,
                                          gboolean               finished,
                                          gboolean               over,
                                          gboolean               poor,
                                          gboolean               leads);

/* Of a group of which none is good enough: names in `outside` what is to be tested instead. */
void       wb_craft_advice_find_instead  (const WbCraftAdvising *self,
                                          WbCraftAdviceGroup    *group);
/* Why none is good enough, and what to test instead, with the readings that say so; of a group that is poor. Caller frees. */
char      *wb_craft_advice_dup_poor      (const WbCraftAdvising    *self,
                                          const WbCraftAdviceGroup *group);
/* That it was decided, by whom and when, and where that stands; NULL: nothing is signed, and it is not finished. Caller frees. */
char      *wb_craft_advice_dup_decided   (const WbCraftAdvising    *self,
                                          const WbCraftAdviceGroup *group);

/* Fills answer and line. */
void       wb_craft_advice_tell          (const WbCraftAdvising *self,
                                          WbCraftAdviceGroup    *group);

G_END_DECLS
