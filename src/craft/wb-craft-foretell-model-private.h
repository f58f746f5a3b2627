/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-calc-ridge.h"
#include "wb-craft-foretell-private.h"

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
#define WB_CRAFT_FORETELL_ROOM_C 22.0 /* in which a rise of the vessel is judged */

/* One cell of an earlier experiment. */
typedef struct
{
  WbCraftRecipe recipe;
  double        y[WB_CRAFT_N_ANSWERS];    /* NAN: not known */
  double        se[WB_CRAFT_N_ANSWERS];
  double        log_tau;
} WbCraftCase;

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

G_END_DECLS
