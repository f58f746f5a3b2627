/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-calc-ridge.h"
#include "wb-craft-lesson.h"
#include "wb-craft-recipe-private.h"
#include "wb-craft-score-private.h"

G_BEGIN_DECLS

/* What is foretold of a recipe, each by a regression of its own on the logarithm. */
typedef enum
{
  WB_CRAFT_ANSWER_LIMIT,
  WB_CRAFT_ANSWER_FLAME,
  WB_CRAFT_ANSWER_WORST_FLAME,
  WB_CRAFT_ANSWER_WORST_RISE,
  WB_CRAFT_N_ANSWERS
} WbCraftAnswerKind;

#define WB_CRAFT_FORETELL_N_CHI 64
#define WB_CRAFT_FORETELL_SAME_INNER_MM 0.5 /* vessels that differ by less are one */
#define WB_CRAFT_FORETELL_ROOM_C 22.0 /* in which a rise of the vessel is judged */

/* One cell of an earlier experiment. */
typedef struct
{
  WbCraftRecipe recipe;
  double        y[WB_CRAFT_N_ANSWERS];    /* NAN: not known */
  double        se[WB_CRAFT_N_ANSWERS];
  double        log_tau;                  /* NAN: no curve was fitted */
  double        log_least;                /* a pool that was at the wall whenever it was read: ln D∞ is at least this; else NAN */
  const WbCraftLesson *lesson;            /* where it was read; outlives the case */
  guint         cell;                     /* there */
  gboolean      crossed;                  /* a limit, by a sample that counts */
} WbCraftCase;

/* As the door has it, which the model does not know. */
typedef struct _WbCraftForetell WbCraftForetell;

struct _WbCraftForetell
{
  GArray      *cases;      /* WbCraftCase */
  GPtrArray   *series;     /* const char *, distinct */
  GPtrArray   *waxes;
  guint        p;
  WbCalcRidge  fit[WB_CRAFT_N_ANSWERS];
  double      *root[WB_CRAFT_N_ANSWERS];      /* NULL: no fit */
  double       chi[WB_CRAFT_N_ANSWERS][WB_CRAFT_FORETELL_N_CHI];
  double       log_tau, tau_sd;
  double       candle_sd[WB_CRAFT_N_ANSWERS]; /* between candles, and their burns */
  double       flame_stop, vessel_stop;
  GHashTable  *draws;      /* const WbCraftLesson * -> WbCraftDraws, made when first asked for */
  GHashTable  *scores;     /* WbCraftCase * -> WbCraftScore of it alone, made when first asked for */
};

/* Index of a name, or G_MAXUINT; `add`: appended when it is new. */
guint    wb_craft_foretell_find       (GPtrArray             *names,
                                       const char            *name,
                                       gboolean               add);

/* Fills everything from the lessons; FALSE where they are too few. */
gboolean wb_craft_foretell_learn      (WbCraftForetell       *self,
                                       const GArray          *lessons);

/* The row of the design, self->p long: common terms, then an offset and a slope a series, then an offset a wax. */
void     wb_craft_foretell_put_row    (const WbCraftForetell *self,
                                       const WbCraftRecipe   *recipe,
                                       double                *row);

/* What a series or a wax never tried adds to a prediction's spread: the row has no column for it. */
double   wb_craft_foretell_unknown_sd (const WbCraftForetell *self,
                                       const WbCraftRecipe   *recipe,
                                       WbCraftAnswerKind      answer);

/* Is it the recipe of the case, burnt itself? The scent is not asked: a ladder is for any. */
gboolean wb_craft_foretell_is_of      (const WbCraftCase     *item,
                                       const WbCraftRecipe   *recipe);

/*
 * Puts what was read of the recipe itself in the place of what the others foretell,
 * in draws × n `foretold` at column `index`: its own curve, flame and heat near the
 * end, and a limit that it crossed as crossed. Several cells of it take turns. Where
 * it was never burnt nothing changes. `row` is its row of the design.
 */
void     wb_craft_foretell_put_tested (const WbCraftForetell *self,
                                       const WbCraftRecipe   *recipe,
                                       const double          *row,
                                       guint                  index,
                                       guint                  n,
                                       guint                  draws,
                                       guint64                seed,
                                       WbCraftForetold       *foretold);

/* A recipe no cooler than one that crossed a limit of heat crosses it in every draw, unless its own burns say more. */
void     wb_craft_foretell_put_above  (const WbCraftForetell *self,
                                       const WbCraftRecipe   *recipe,
                                       guint                  index,
                                       guint                  n,
                                       guint                  draws,
                                       WbCraftForetold       *foretold);

G_END_DECLS
