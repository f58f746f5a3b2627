/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-calc-pooled.h"
#include "wb-craft-ladder.h"
#include "wb-craft-school.h"

G_BEGIN_DECLS

/*
 * The models of the school. Of each figure, on its scale, one row a cell × stage × look of all lessons:
 *
 *   y = common + step + ln served diameter + ln wicks + load + dye + room + headspace + stage + look
 *       + series + step × series + wick + wax + material + vessel + vessel × stage + pour + vessel × wick + vessel × wick × stage + error
 *
 * Terms of the first line have a stated prior each, those of the second are families whose spread is estimated (wb-calc-pooled.h).
 * Growth is one model of ln D∞ and ln tau: of a cell's curve both are rows, the second less its regression on the first, so that their
 * errors do not go together.
 */

#define WB_CRAFT_SCHOOL_MIDDLE_STEP 3.0
#define WB_CRAFT_SCHOOL_INNER_MM 76.2
#define WB_CRAFT_SCHOOL_LOAD_PCT 6.0
#define WB_CRAFT_SCHOOL_ROOM_C 22.0
#define WB_CRAFT_SCHOOL_HEADSPACE_MM 15.0
#define WB_CRAFT_SCHOOL_SAME_INNER_MM 0.5 /* vessels that differ by less are one */
#define WB_CRAFT_SCHOOL_BURN_H 4.0        /* of the house's protocol: when a burn's end is read */

/* Terms with a stated prior; each is a column of every model. */
typedef enum
{
  WB_CRAFT_TERM_COMMON,
  WB_CRAFT_TERM_STEP,       /* a step, from the third */
  WB_CRAFT_TERM_INNER,      /* ln of the diameter that one wick serves, from 76.2 mm */
  WB_CRAFT_TERM_WICKS,      /* ln of how many */
  WB_CRAFT_TERM_LOAD,       /* a per cent of the wax, from 6 */
  WB_CRAFT_TERM_DYE,
  WB_CRAFT_TERM_ROOM,       /* a kelvin, from 22 */
  WB_CRAFT_TERM_HEADSPACE,  /* 10 mm, from 15 */
  WB_CRAFT_TERM_SHORTFALL,  /* hang-up alone: mm on each side by which the growth's pool misses the wall at a burn's end */
  WB_CRAFT_TERM_MIDDLE,     /* stages, from the upper third */
  WB_CRAFT_TERM_LOWER,
  WB_CRAFT_TERM_WORST,      /* looks, from the end: one a stage */
  WB_CRAFT_TERM_PEAK = WB_CRAFT_TERM_WORST + WB_N_STAGES,
  WB_CRAFT_TERM_PACE_COMMON = WB_CRAFT_TERM_PEAK + WB_N_STAGES, /* of ln tau */
  WB_CRAFT_TERM_PACE_INNER,
  WB_CRAFT_TERM_PACE_MIDDLE,
  WB_CRAFT_TERM_PACE_LOWER,
  WB_CRAFT_N_TERMS
} WbCraftTerm;

/* Families of terms. */
typedef enum
{
  WB_CRAFT_KIN_SERIES,
  WB_CRAFT_KIN_SLOPE,     /* step × series */
  WB_CRAFT_KIN_WICK,
  WB_CRAFT_KIN_WAX,
  WB_CRAFT_KIN_MATERIAL,  /* of the vessel's wall; of a vessel of which nobody said it, its own */
  WB_CRAFT_KIN_VESSEL,
  WB_CRAFT_KIN_BOTTOM,    /* vessel × stage, of middle and lower third */
  WB_CRAFT_KIN_POUR,      /* an experiment */
  WB_CRAFT_KIN_HERE,      /* vessel × wick */
  WB_CRAFT_KIN_HERE_STAGE,
  WB_CRAFT_KIN_SUPPLIER,  /* by which a supplier's diameters of a series are off, all together */
  WB_CRAFT_KIN_PACE_WAX,  /* of ln tau */
  WB_CRAFT_KIN_PACE_POUR,
  WB_CRAFT_KIN_PACE_HERE,
  WB_CRAFT_N_KINS
} WbCraftKin;

typedef struct { double mean, sd; } WbCraftBelief;
/*
 * A family's spread, and how badly that is known, on the logarithm. The spread is stated as its root mean square: who says that two pours differ by 2 %
 * means the variance to expect, whatever he would not vouch for. usual 0: the figure has no such family.
 */
typedef struct { double usual, factor; } WbCraftKinBelief;

/* What is believed of a figure before any data. */
typedef struct
{
  WbFigure         figure;
  WbCraftBelief    term[WB_CRAFT_N_TERMS];
  WbCraftKinBelief kin[WB_CRAFT_N_KINS];
  double           least_noise; /* standard deviation below which no summary is taken to be known */
  double           strength;    /* correlation with what all figures of a wick have in common */
  double           sample_sd, burn_sd; /* usual, on the figure's scale */
  gboolean         has_looks;   /* read several times in a burn, so that worst and peak are more than its end */
} WbCraftSchoolBelief;

#define WB_CRAFT_SCHOOL_N_MODELS 8
#define WB_CRAFT_SCHOOL_GROWTH 0
/* In the order of the models, in which they stand one behind the other; growth first, its figure WB_FIGURE_POOL_LIMIT. */
const WbCraftSchoolBelief *wb_craft_school_get_belief (guint model);

/* Levels that the families are numbered by. */
typedef enum
{
  WB_CRAFT_LEVEL_SERIES, WB_CRAFT_LEVEL_WICK, WB_CRAFT_LEVEL_WAX, WB_CRAFT_LEVEL_MATERIAL, WB_CRAFT_LEVEL_VESSEL, WB_CRAFT_LEVEL_HERE, WB_CRAFT_LEVEL_POUR, WB_CRAFT_N_LEVELS
} WbCraftLevel;

/* Who sits where: a combination, of a lesson or asked about, by its levels and covariates. */
typedef struct
{
  const WbLesson     *lesson; /* NULL: asked about */
  const WbLessonCell *cell;
  guint               index;  /* in the lesson */
  guint               first, n_figures; /* its figures there */
  const char         *series; /* borrowed */
  gint64              step;
  guint               wicks;
  int                 wall;   /* WbWall; -1: nobody said */
  double              inner_mm, load_pct;
  guint               level[WB_CRAFT_N_LEVELS]; /* G_MAXUINT: never tried, or not known */
  double              x[WB_CRAFT_TERM_SHORTFALL];
} WbCraftSeat;

/* All names that the lessons know. */
typedef struct
{
  GHashTable *series, *wicks, *waxes, *materials, *here; /* name -> number + 1 */
  GArray     *inner_mm;                      /* of the vessels */
  guint       n_pours;
} WbCraftRegister;

void  wb_craft_register_init  (WbCraftRegister *self);
void  wb_craft_register_clear (WbCraftRegister *self);
guint wb_craft_register_count (const WbCraftRegister *self, WbCraftLevel level);
/* Fills levels and covariates from the rest of the seat and these; `add`: names that are new are added. wax may be NULL or "". */
void  wb_craft_register_seat  (WbCraftRegister *self, WbCraftSeat *seat, const char *series, const char *size, const char *wax,
                               gboolean add);

typedef struct
{
  const WbCraftSchoolBelief *belief;
  WbCalcPooled *fit;                    /* NULL: nobody read it */
  guint         family[WB_CRAFT_N_KINS]; /* G_MAXUINT: none */
  guint         spare[WB_CRAFT_N_KINS];  /* column of a level that was never tried */
  guint        *column[WB_CRAFT_N_KINS]; /* a level; G_MAXUINT: no data of it */
  guint         n_levels[WB_CRAFT_N_KINS];
  GArray       *coefficients;           /* WbCalcPooledCoefficient */
  GArray       *start, *columns;        /* gsize: rows, as WbCalcPooledRows has them */
  GArray       *values, *y, *noise;     /* double */
  GArray       *walls;                  /* WbCraftWall: of growth alone */
  double        sample_sd, burn_sd, sample_df, burn_df;       /* of typical burns, */
  double        peak_sample_sd, peak_burn_sd, peak_df;        /* and of the worst of all of a candle */
  gboolean      read[WB_N_STAGES][WB_LESSON_N_LOOKS];
} WbCraftSchoolModel;

/* A cell that was at the wall whenever it was read: between which times, and the row that stands for it. */
typedef struct
{
  guint  seat;
  WbStage stage;
  double early_h, late_h;
  gsize  row;
  double mean, noise;    /* of the site: what the interval says of ln D∞; noise INFINITY: nothing beyond what the others say */
} WbCraftWall;

/* What was read of a seat's growth in the upper third, as in its lesson; NAN: nothing. */
typedef struct { double mean, pace, exponent, at_wall_h; } WbCraftCurve;

struct _WbCraftSchool
{
  GPtrArray         *lessons;  /* const WbLesson *, by experiment */
  WbCraftRegister    names;
  GArray            *seats;    /* WbCraftSeat: cells whose wick has a place in its series */
  GArray            *curves;   /* WbCraftCurve: theirs */
  guint              n_burnt;  /* of them with a burn */
  double             exponent; /* of the growth law, mean over the lessons */
  double             flame_stop, vessel_stop;
  WbCraftSchoolModel models[WB_CRAFT_SCHOOL_N_MODELS];
  guint8             fingerprint[32];
  GBytes            *recalled; /* what it was recalled from, whose lessons may be without figures; NULL: it learnt from the lessons */
};

/* ---- rows ---- */

/* Terms of one side of an equation while it is put together. */
typedef struct { GArray *columns, *values; } WbCraftTerms;

void  wb_craft_terms_init  (WbCraftTerms *self);
void  wb_craft_terms_clear (WbCraftTerms *self);
void  wb_craft_terms_add   (WbCraftTerms *self, gsize column, double value);
/* Adds `factor` times the other's. */
void  wb_craft_terms_mix   (WbCraftTerms *self, const WbCraftTerms *other, double factor);

/* A further column; returns its number. */
gsize wb_craft_school_model_add_coefficient (WbCraftSchoolModel *self, double mean, double sd, gsize family);
/* Column of a level; G_MAXUINT: it has none, and `add` is FALSE. */
guint wb_craft_school_model_find   (WbCraftSchoolModel *self, WbCraftKin kin, guint level, gboolean add);
/*
 * The terms of a seat's level at a stage, at a burn's end, times `factor`; `learn`: with pour, and columns are added. What has no column is left out:
 * who foretells draws it.
 */
void  wb_craft_school_model_put    (WbCraftSchoolModel *self, const WbCraftSeat *seat, WbStage stage, gboolean learn, double factor, WbCraftTerms *terms);
void  wb_craft_school_model_put_pace (WbCraftSchoolModel *self, const WbCraftSeat *seat, WbStage stage, gboolean learn, double factor, WbCraftTerms *terms);
void  wb_craft_school_model_add_row (WbCraftSchoolModel *self, const WbCraftTerms *terms, double y, double noise);
void  wb_craft_school_model_init   (WbCraftSchoolModel *self, const WbCraftSchool *school, guint model);
void  wb_craft_school_model_clear  (WbCraftSchoolModel *self);
/* Rows of all lessons, and the re-pooled spreads between candles and burns. */
void  wb_craft_school_model_learn  (WbCraftSchoolModel *self, const WbCraftSchool *school);
/* Rows of what the suppliers say, into growth. */
void  wb_craft_school_learn_guides (WbCraftSchool *self, const GPtrArray *guides, const GPtrArray *wicks, const GPtrArray *waxes);
/* The seat of a supplier's diameters; FALSE: they tell nothing. */
gboolean wb_craft_school_seat_guide (WbCraftSchool *self, const WbWickGuide *guide, const GPtrArray *wicks, const GPtrArray *waxes, gboolean add, WbCraftSeat *seat);
/* Puts every wall's site into its row. */
void  wb_craft_school_put_walls    (WbCraftSchool *self);
/* Moves every wall's site to what it says beside the others under the current fit. */
void  wb_craft_school_move_walls   (WbCraftSchool *self);
/* A rating on the scale that it is modelled on, and back; slope: its derivative there. Others as they are. */
double wb_craft_school_bend        (WbFigure figure, double y, double *slope);
double wb_craft_school_unbend      (WbFigure figure, double y);
/* What a pool misses of the wall at a burn's end, mm on each side, 0 where it gets there. */
double wb_craft_school_shortfall   (double log_limit, double log_tau, double inner_mm);

G_END_DECLS
