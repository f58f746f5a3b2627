/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-lesson.h"

G_BEGIN_DECLS

/* The wick ladder for a vessel: from all earlier experiments, else from the supplier's diameters, else no basis. */

typedef struct
{
  double   inner_diameter_mm;
  char    *vessel;           /* name, or NULL */
  char    *wax;
  double   load_pct;
  int      load_basis;
  guint    wicks;            /* in the vessel; 0 means 1 */
  guint    sizes;            /* of the ladder; 0 means 3 */
  double   window_low, window_high;
} WbCraftLadderQuestion;

typedef enum { WB_CRAFT_RESTS_ON_NOTHING, WB_CRAFT_RESTS_ON_SUPPLIER, WB_CRAFT_RESTS_ON_HISTORY } WbCraftRestsOn;

typedef struct
{
  char           *series, *size;
  gint64          step;
  WbCraftInterval pool_limit_mm, full_pool_h, flame_mm;
  double          p_right;   /* its full melt pool comes within the window, it crosses no limit, and where it was itself burnt its score is not nothing */
  double          p_best;    /* it is right, and of all that are right the nearest to what is due */
  double          p_cross;   /* it crosses a limit near its end; NAN without history */
  gboolean        in_ladder, extrapolated;
  char           *reason;    /* translated */
} WbCraftLadderStep;

typedef struct
{
  WbCraftLadderQuestion question;
  WbCraftRestsOn        rests_on;
  GPtrArray            *experiments;  /* char *: codes that it rests on */
  GPtrArray            *steps;        /* WbCraftLadderStep, by series and step */
  double                p_holds_best; /* that a size of the ladder is right; NAN without history */
  gboolean              knows_the_end; /* an earlier candle was read near its end, so that heat there is foretold */
  char                 *answer;       /* translated sentence */
} WbCraftLadder;

/*
 * "Above about 90 to 100 mm of inner diameter more than one wick": common practice, no source; the middle of it. How many:
 * each serves its share of the section, and none more than that width would ask of one (plane geometry). 1 where the
 * diameter is not known.
 */
#define WB_CRAFT_ONE_WICK_MM 95.0
guint          wb_craft_ladder_usual_wicks (double inner_diameter_mm);

/* lessons: WbCraftLesson; wicks: every WbWick known; guides: WbWickGuide; waxes: WbWax. */
WbCraftLadder *wb_craft_ladder_new  (const WbCraftLadderQuestion *question, const GArray *lessons, const GPtrArray *wicks,
                                     const GPtrArray *guides, const GPtrArray *waxes, guint64 seed);
void           wb_craft_ladder_free (WbCraftLadder *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftLadder, wb_craft_ladder_free)

G_END_DECLS
