/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-foretell-private.h"

G_BEGIN_DECLS

#define WB_CRAFT_ASKING_NOWHERE G_MAXUINT

/* Something never tried: a standard deviate of its own in every draw, by its family's spread. */
typedef struct
{
  guint      recipe;   /* WB_CRAFT_ASKING_NOWHERE: all */
  int        stage;    /* -1: base; 0, 1: middle, lower; 2: ln tau */
  WbCraftKin kin;
  guint      deviate;  /* recipes with the same one share it */
  double     factor;
} WbCraftFresh;

/* Something tried that is partly common to all figures: the deviate that it would be, had it not been. */
typedef struct
{
  guint      deviate;
  WbCraftKin kin;      /* WB_CRAFT_N_KINS: the step */
} WbCraftItem;

/* A model's question: which combinations of its terms are asked, and where each answer goes. */
typedef struct
{
  const WbCraftForetell *self;
  WbCraftSchoolModel    *model;
  WbCraftForetoldFigure *into;
  GArray                *start, *columns, *values;
  guint                  n_rows;
  guint                 *pace_row;     /* a recipe */
  guint                  stage_row[2], pace_stage_row[2], look_row[WB_N_STAGES][WB_LESSON_N_LOOKS], kelvin_row, mm_row;
  guint                 *here_row[2];  /* a recipe: WB_CRAFT_ASKING_NOWHERE none */
  guint                  n_main;       /* rows before those of the items */
  GArray                *items;        /* WbCraftItem: their rows follow the main ones, in their order */
  GArray                *fresh;        /* WbCraftFresh */
  guint                  n_deviates, n_common; /* of which the first are partly common to all figures */
  gboolean              *used;         /* a deviate */
} WbCraftAsking;

/* series_of: a number a recipe, of n_series. */
void  wb_craft_asking_init  (WbCraftAsking *self, const WbCraftForetell *foretell, guint model, const guint *series_of, guint n_series);
void  wb_craft_asking_clear (WbCraftAsking *self);
/* What an item's row has before any data at a point of the spreads. */
void  wb_craft_asking_get_item (const WbCraftAsking *self, guint point, guint item, double *mean, double *sd);
/* Standard deviation of a family's members at a point of the spreads; 0: the figure has none. */
double wb_craft_asking_get_kin_sd (const WbCraftAsking *self, guint point, WbCraftKin kin);
/* Which point of the spreads each draw is of, in shares of their weights and in an order of chance. Caller frees. */
guint *wb_craft_asking_share_draws (const WbCraftAsking *asking, guint64 seed);

G_END_DECLS
