/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-interval.h"
#include "wb-craft-school.h"
#include "wb-experiment.h"

G_BEGIN_DECLS

/* The wick ladder for a vessel: from all earlier experiments, else from the supplier's diameters, else no basis. */

typedef struct
{
  double   inner_diameter_mm;
  char    *vessel;           /* name, or NULL */
  gboolean another_vessel;   /* the diameter was typed: none of the notebook's vessels is meant, however near one is; its burns are not this one's */
  char    *wax;
  double   load_pct;
  int      load_basis;
  guint    wicks;            /* in the vessel; 0 means 1 */
  guint    sizes;            /* of the ladder; 0 means 3 */
  double   window_low, window_high; /* of the hour at which the full melt pool is due; not above 0: the protocol's */
  double   room_cold_c, room_warm_c; /* the coldest and the warmest room it is to burn in; NAN or both 0: not said, WB_CRAFT_ROOM_COLD_C and _WARM_C */
  double   wall_mm;          /* how thick the vessel's wall is, to draw it; not above 0: not known */
  double   fill_g;           /* wax and oil in the vessel, for the burn time; not above 0: not known */
  /* Who judges: borrowed until the ladder is told; NULL: the house's, its limits as tight as the tightest of the notebook. */
  const WbProtocol *protocol; /* its window, too, where none is asked for above */
  const WbProfile  *profile;
  const GPtrArray  *aims;     /* WbAim: of the profile */
  const GPtrArray  *limits;   /* WbLimit: of the protocol */
  /* What the notebook holds beside its burns; borrowed as these. NULL: nothing is said of it. */
  const GPtrArray  *vessels;  /* WbVessel */
  const GPtrArray  *decisions, *cells, *experiments; /* WbDecision, WbCell, WbExperiment: what was signed */
} WbCraftLadderQuestion;

/* Rooms that both ASTM F2417 (20 to 30) and EN 15426 (15 to 25) test in, degC. */
#define WB_CRAFT_ROOM_COLD_C 20.0
#define WB_CRAFT_ROOM_WARM_C 25.0

typedef enum { WB_CRAFT_RESTS_ON_NOTHING, WB_CRAFT_RESTS_ON_SUPPLIER, WB_CRAFT_RESTS_ON_HISTORY } WbCraftRestsOn;

/* At the top of the fill and at its bottom: upper and lower third. */
typedef enum { WB_CRAFT_FILL_TOP, WB_CRAFT_FILL_BOTTOM, WB_CRAFT_N_FILLS } WbCraftFillPlace;

/* The pool is told after that many full hours, the first after one. */
#define WB_CRAFT_LADDER_HOURS 4

/*
 * What is foretold of a recipe at one place of the fill, over the rooms that were named: of its typical candle over pours. All NAN: not foretold.
 */
typedef struct
{
  WbCraftInterval pool_limit_mm;   /* D∞; beyond the vessel's wall where it would get there with room to spare */
  WbCraftInterval full_pool_h;     /* value NAN: more likely than not never; high NAN: or never */
  WbCraftInterval flame_mm;        /* at the end of a burn */
  WbCraftInterval vessel_c;        /* hottest outside wall at the end of a burn */
  WbCraftInterval consumption_g_h;
  double          p_never;         /* that its full melt pool never comes */
  WbCraftInterval pool_mm[WB_CRAFT_LADDER_HOURS]; /* after 1, 2 ... h: by the law of its growth, as if no wall stopped it, below its limit */
} WbCraftForetoldAt;

/* An earlier test one step away: the same but for what `differs` names. */
typedef struct
{
  char  *experiment;  /* code */
  gint64 experiment_id, cell;
  char  *what;        /* translated: "Larch L-3 in 76 mm" */
  char  *differs;     /* translated: "one size up", "vessel 4 mm wider"; "" the same recipe */
  char  *result;      /* translated: "pool limit 74 mm, full after 3.1 h" */
} WbCraftNearest;

typedef struct
{
  char           *series, *size;
  gint64          step;
  gint64          wick;      /* record id */
  WbCraftInterval pool_limit_mm, full_pool_h, flame_mm;
  double          p_right;   /* the next candle's full melt pool comes within the window, and it crosses no limit */
  double          p_best;    /* its recipe's score, over pours, is the best of all, and worth something; in a bad lot the best may be wrong */
  double          p_cross;   /* it crosses a limit near its end; NAN without history */
  WbCraftForetoldAt at[WB_CRAFT_N_FILLS];
  WbCraftInterval score;     /* expected score of the recipe, 0 to 1 */
  WbCraftInterval burn_h;    /* the whole fill's; NAN: fill or consumption not known */
  double          p_near;    /* within 0.05 of the best */
  gboolean        tested;    /* this recipe was itself burnt */
  char           *outside;   /* translated: in what it lies outside of what was tried; NULL: in nothing */
  GPtrArray      *nearest;   /* WbCraftNearest: the earlier tests closest to it, nearest first, at most three */
  gboolean        in_ladder, extrapolated;
  gboolean        in_run;    /* of the best run of neighbours */
  char           *reason;    /* translated */
} WbCraftLadderStep;

typedef struct
{
  WbCraftLadderQuestion question;
  WbCraftRestsOn        rests_on;
  GPtrArray            *experiments;  /* char *: codes that it rests on */
  GPtrArray            *steps;        /* WbCraftLadderStep, by series and step */
  double                p_holds_best; /* that the best of all wicks known is on the ladder; NAN without history */
  double                p_run_holds_best; /* the same of the best run of as many neighbours of one series (in_run); NAN: no series is that long */
  double                p_wider_holds_best; /* of a ladder with one size more; NAN: there is none */
  guint                 wider;        /* index of that step; G_MAXUINT: there is none */
  double                p_none;       /* that of one next candle of each wick known none is right; counted together with p_right: never below 1 less their sum */
  double                due_low_h, due_high_h; /* between which the full melt pool is due; NAN: the diameter is not known */
  gboolean              shares_vessel; /* several wicks: what each does is by the trade's rule that they share the section evenly */
  gboolean              knows_the_end; /* an earlier candle was read near its end, so that heat there is foretold */
  char                 *answer;       /* translated sentence */
  GPtrArray            *warnings;     /* char *, translated sentences: what has to be heeded before any of it is poured, gravest first */
  GPtrArray            *notes;        /* char *, translated sentences: what was taken for granted, and what the answer does not cover */
  char                 *learnt;       /* translated: what it rests on and what that taught, in one or two sentences; NULL: nothing */
} WbCraftLadder;

/*
 * "Above about 90 to 100 mm of inner diameter more than one wick": common practice, no source; the middle of it. How many:
 * each serves its share of the section, and none more than that width would ask of one (plane geometry). 1 where the
 * diameter is not known.
 */
#define WB_CRAFT_ONE_WICK_MM 95.0
guint          wb_craft_ladder_usual_wicks (double inner_diameter_mm);

/*
 * How far apart neighbours of several wicks stand that share the vessel's section evenly, mm: on a ring, such that the circle of a share around
 * each reaches the wall (common practice to share it evenly; the rest is plane geometry). NAN: one wick, or the diameter is not known.
 */
double         wb_craft_ladder_spacing_mm  (double inner_diameter_mm, guint wicks);

/* When the full melt pool is due, h: an hour an inch of inner diameter (common practice); the question's window is a share of it. */
double         wb_craft_ladder_due_h (const WbCraftLadder *self);

/* school may be NULL: nothing was ever burnt. wicks: every WbWick known; guides: WbWickGuide; waxes: WbWax. */
WbCraftLadder *wb_craft_ladder_new  (const WbCraftLadderQuestion *question, const WbCraftSchool *school, const GPtrArray *wicks,
                                     const GPtrArray *guides, const GPtrArray *waxes, guint64 seed);
void           wb_craft_ladder_free (WbCraftLadder *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftLadder, wb_craft_ladder_free)

G_END_DECLS
