/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-school-private.h"
#include "wb-craft-score-private.h"

G_BEGIN_DECLS

/*
 * Joint draws of what the recipes of a question would do, from the school's models: all that they share (series, vessel, wax, thirds) they share
 * in every draw, and how badly the spreads themselves are known is drawn with them. What was never tried is drawn from its family.
 * A recipe that was itself burnt is foretold by its own readings as far as they outweigh what the others say of it.
 */

/* Of one figure, on the school's scale. */
typedef struct
{
  gboolean told;       /* FALSE: nobody ever read it, and all the rest is NULL */
  double  *base;       /* draws × recipes: at the end of a burn in the upper third, in a room of 22 °C */
  double  *stage[2];   /* draws × recipes: what middle and lower third add */
  double  *pace;       /* draws × recipes: ln tau, of growth alone */
  double  *pace_stage[2]; /* draws */
  double  *look[WB_N_STAGES][WB_LESSON_N_LOOKS]; /* draws: what worst and peak add to the end; NULL: nothing */
  double  *per_kelvin; /* draws */
  double  *per_mm;     /* draws: of hang-up, a mm of shortfall */
  double  *pour_sd;    /* draws: between pours of a recipe */
} WbCraftForetoldFigure;

typedef struct
{
  const WbCraftSchool         *school;
  const WbCraftLadderQuestion *question;
  GArray  *seats;      /* WbCraftSeat: the recipes */
  guint    n, n_draws;
  guint64  seed;
  double   cold_c, warm_c;
  double  *room_c;     /* draws: evenly between the coldest and the warmest */
  double   exponent;   /* of the growth law */
  WbCraftForetoldFigure figures[WB_CRAFT_SCHOOL_N_MODELS];
} WbCraftForetell;

/* Takes a reference to seats. School and question outlive it. */
WbCraftForetell *wb_craft_foretell_new      (const WbCraftSchool *school, const WbCraftLadderQuestion *question, GArray *seats, guint n_draws,
                                             guint64 seed);
void             wb_craft_foretell_free     (WbCraftForetell *self);
/* A level of the recipe's typical candle over pours, on the figure's own scale; hang-up follows from the growth of the same draw. */
double           wb_craft_foretell_get      (const WbCraftForetell *self, guint model, WbStage stage, WbLessonLook look, guint draw, guint recipe,
                                             double room_c);
/* ln tau. */
double           wb_craft_foretell_get_pace (const WbCraftForetell *self, WbStage stage, guint draw, guint recipe);
/* The one score of the ranking, over a data set with a cell for each recipe that nobody burnt. */
WbCraftScore    *wb_craft_foretell_score    (const WbCraftForetell *self);
/* The same by the aims and limits of the upper third alone, as a test is judged that was not burnt below it. */
WbCraftScore    *wb_craft_foretell_score_upper (const WbCraftForetell *self);
/* What the next candle's ln D∞ in the upper third is further off than the recipe's, in that draw: z standard normal. */
double           wb_craft_foretell_candle_sd (const WbCraftForetell *self, guint draw);

/* ---- what burnt itself, and what burnt below (wb-craft-foretell-above.c) ---- */

/* Was it this very recipe, in whatever scent? Of a recipe whose vessel is another (no level) it never was. */
gboolean         wb_craft_foretell_is_of    (const WbCraftSeat *tried, const WbCraftSeat *recipe);
/* Does it stand that the recipe crosses a limit: by its own burns, or by those of one that is no hotter? */
gboolean         wb_craft_foretell_crosses  (const WbCraftSchool *school, const WbCraftSeat *recipe);
/* Was it itself burnt? */
gboolean         wb_craft_foretell_is_tested (const WbCraftSchool *school, const WbCraftSeat *recipe);
/* Where the recipe itself was burnt, and a limit that it crossed there, in sentences; NULL: nowhere. Caller frees. */
char            *wb_craft_foretell_dup_tested  (const WbCraftSchool *school, const WbCraftSeat *recipe);
/* The smaller size of the series that burnt too hot in this wax, in a vessel no narrower, in a sentence; NULL: none did. Caller frees. */
char            *wb_craft_foretell_dup_above   (const WbCraftSchool *school, const WbCraftSeat *recipe);
/* In what the recipe lies outside of what was tried, in words; NULL: in nothing. Caller frees. */
char            *wb_craft_foretell_dup_outside (const WbCraftSchool *school, const WbCraftSeat *recipe);
/* "flame height 52.0 mm at 240 min of burn 9 of sample T5-1: over the house limit of 50 mm", as far as it is known. Caller frees. */
char            *wb_craft_foretell_dup_crossing (const WbLessonCell *cell);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftForetell, wb_craft_foretell_free)

G_END_DECLS
