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
  guint                  n_main;       /* rows before those of the spreads */
  guint                  kin_row[WB_CRAFT_N_KINS];
  GArray                *fresh;        /* WbCraftFresh */
  guint                  n_deviates;
  gboolean              *used;         /* a deviate */
  const float           *common;       /* draws × n_common: what all figures share of the recipes' rows, then of the first deviates */
  guint                  n_common;
} WbCraftAsking;

/* How many deviates of what was never tried are partly common to all figures. */
guint wb_craft_asking_count_common (guint n, guint n_series);
/* series_of: a number a recipe, of n_series; `common` and n_common are the caller's to set. */
void  wb_craft_asking_init  (WbCraftAsking *self, const WbCraftForetell *foretell, guint model, const guint *series_of, guint n_series);
void  wb_craft_asking_clear (WbCraftAsking *self);
/* Which point of the spreads each draw is of, in shares of their weights and in an order of chance. Caller frees. */
guint *wb_craft_asking_share_draws (const WbCraftAsking *asking, guint64 seed);

G_END_DECLS
