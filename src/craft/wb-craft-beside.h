/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-answer.h"

G_BEGIN_DECLS

/*
 * Several cells or samples laid side by side, of one experiment or of several: each figure of each, and in words which is
 * nearer to the aim.
 */

/* One of several things laid side by side: a cell, or one sample of it, of any experiment's answer. */
typedef struct
{
  const WbCraftAnswer *answer; /* borrowed */
  guint                cell;
  int                  sample; /* index; -1: all that count */
} WbCraftPick;

typedef enum
{
  WB_CRAFT_BESIDE_NOT_READ,
  WB_CRAFT_BESIDE_ALONE,   /* there is nothing to hold it against: no other was read, or no common aim asks for the figure */
  WB_CRAFT_BESIDE_ALIKE,   /* not told apart */
  WB_CRAFT_BESIDE_BETTER,  /* clearly nearer to the aim than some, and clearly farther than none */
  WB_CRAFT_BESIDE_WORSE,   /* clearly farther than some, and clearly nearer than none */
  WB_CRAFT_BESIDE_BETWEEN, /* clearly nearer than some and farther than others */
  WB_CRAFT_BESIDE_CROSSED  /* clearly nearer than some and farther than none, of a combination that crossed a limit: no better one */
} WbCraftBesideMark;
/* "better", "not told apart"; "" of ALONE. Static, translated. */
const char *wb_craft_beside_mark_get_label (WbCraftBesideMark mark);

/* Of a widest pool that would be wider than the vessel. Static, translated. */
const char *wb_craft_beside_get_beyond_wall (void);

/* One figure of one pick. */
typedef struct
{
  WbCraftInterval   interval; /* 90 %; in the figure's unit, times in h. Value NAN: see lack. Low or high NAN beside a value: no such end */
  guint             samples, burns;
  WbCraftBesideMark mark;
  gboolean          beyond;   /* a widest pool that is wider than the vessel: see wb_craft_beside_get_beyond_wall */
  gboolean          never;    /* the pool never gets to the wall: no value, and yet one that can be held against others */
  const char       *lack;     /* why there is no value, "never", "not read"; NULL where there is one. Static, translated */
  char             *why;      /* "nearer to the aim than B3", "its range overlaps that of B3", translated; "" where nothing is to be said */
} WbCraftBesideFigure;

typedef struct
{
  WbFigure             figure;
  WbStage              stage;   /* WB_STAGE_ALL: the whole life */
  gboolean             worst;   /* the worst of each burn, as the aim asks; else at its end */
  char                *label;   /* "Flame, lower third, at its worst", translated */
  WbCraftBesideFigure *figures; /* one a pick, in the order given */
} WbCraftBesideRow;

/* Immutable. */
typedef struct
{
  WbCraftBesideRow *rows;     /* figure by figure, of each the whole life and then the thirds; rows that nobody read are left out */
  guint             n_rows;
  gsize             n_picks;
  char            **names;    /* of the picks, see wb_craft_pick_dup_name; NULL-terminated */
  char            **verdicts; /* of the picks, translated: the combination's verdict, what crossed a limit, what was not tested; a line each */
  GPtrArray        *conditions; /* WbCraftBesideCondition, see wb-craft-beside-conditions.h */
} WbCraftBeside;

/*
 * "Better" is nearer to the aim by the aim's own shape, and clearly so: the worst that the one's 90 % interval holds is worth
 * more than the best of the other's. A whole life is judged by the aim that all thirds have in common; where picks come with
 * different aims, nothing is marked. What crossed a limit is better in nothing. A sample has the mean of its burns, with the interval of that mean.
 */
WbCraftBeside *wb_craft_beside_new  (const WbCraftPick *picks, gsize n_picks);
void           wb_craft_beside_free (WbCraftBeside *self);

/* One figure of one pick as it stands in the table, unmarked: `why` is NULL. */
WbCraftBesideFigure wb_craft_pick_read (const WbCraftPick *pick, WbFigure figure, WbStage stage, gboolean worst);

/*
 * "HF-1 · B4", only what tells the picks apart: the experiment's code, vessel, wick, scent, sample. The wick is always told,
 * but where the sample's code begins with it; vessel and scent only where the picks of one experiment differ in them. Caller frees.
 */
char          *wb_craft_pick_dup_name (const WbCraftPick *picks, gsize n_picks, gsize index);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftBeside, wb_craft_beside_free)

G_END_DECLS
