/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-record.h"

G_BEGIN_DECLS

/*
 * Materials: what a candle is made of. Identity: vessel by name and inner
 * diameter at the wax level; wick by series and size; the others by name.
 */

typedef enum { WB_SHAPE_ROUND, WB_SHAPE_SQUARE, WB_SHAPE_OVAL, WB_SHAPE_OTHER } WbShape;
typedef enum { WB_WALL_GLASS, WB_WALL_METAL, WB_WALL_CERAMIC, WB_WALL_CONCRETE, WB_WALL_OTHER } WbWall;
typedef enum { WB_ORIGIN_CANDLE_WARE, WB_ORIGIN_DRINKING_GLASS, WB_ORIGIN_SECOND_HAND, WB_ORIGIN_OTHER } WbOrigin;
typedef enum { WB_BASIS_WAX, WB_BASIS_TOTAL } WbBasis; /* what a load is a share of */

typedef struct
{
  WbRecord record;
  char    *name;
  int      shape;             /* WbShape */
  double   inner_diameter_mm; /* at the wax level of the test; required; 20 to 400 */
  double   inner_width_mm;    /* the other axis there, if not round */
  double   middle_diameter_mm;
  double   middle_width_mm;
  double   base_diameter_mm;
  double   base_width_mm;
  double   mouth_mm;
  double   wax_height_mm;
  double   headspace_mm;
  double   wall_mm;
  double   tare_g;
  double   water_g;           /* mass of water to the fill line */
  double   water_c;
  int      wall;              /* WbWall */
  int      origin;            /* WbOrigin */
  char    *supplier;
  char    *note;
} WbVessel;

typedef struct
{
  WbRecord record;
  char    *name;
  int      kind;             /* WbWaxKind */
  double   density;          /* g/cm3 at density_c; the specific gravity within 0.2 % at room temperature */
  double   density_c;
  double   max_load_pct;     /* the supplier's figure */
  int      max_load_basis;   /* WbBasis */
  double   melt_c;
  double   heat_c;           /* heat the melt to */
  double   add_c;            /* fragrance goes in at */
  double   pour_c;
  double   burn_cure_days;   /* fit to burn after */
  double   smell_cure_days;  /* fit to smell after */
  gboolean crystallises;     /* slow cooling, piercing, topping up */
  double   hold_back_pct;    /* kept for the second pour */
  char    *supplier;
  char    *note;
} WbWax;

typedef enum
{
  WB_WAX_PARAFFIN, WB_WAX_SOY, WB_WAX_PALM, WB_WAX_BEESWAX, WB_WAX_COCONUT, WB_WAX_BLEND, WB_WAX_OTHER
} WbWaxKind;

typedef enum { WB_WICK_FLAT_BRAID, WB_WICK_SQUARE_BRAID, WB_WICK_CORED, WB_WICK_WOODEN, WB_WICK_OTHER } WbWickKind;

typedef struct
{
  WbRecord record;
  char    *series;
  char    *size;
  gint64   step;      /* place in the series, smallest first, from 1 */
  int      kind;      /* WbWickKind */
  char    *priming;
  double   tab_mm;
  double   collar_mm;
  char    *supplier;
  char    *note;
} WbWick;

/* What the supplier recommends, as the maker typed it in. */
typedef struct
{
  WbRecord record;
  gint64   wick;
  gint64   wax;             /* 0: for any wax */
  double   from_mm;
  double   to_mm;
  char    *note;
} WbWickGuide;

typedef struct
{
  WbRecord record;
  char    *name;
  gboolean blend;           /* its parts are WbFragrancePart records */
  double   flash_c;
  double   ifra_limit_pct;  /* Category 12, of the finished product */
  double   density;
  double   burn_cure_days;  /* in place of the wax's own; NAN: the wax's */
  double   smell_cure_days;
  char    *supplier;
  char    *note;
} WbFragrance;

typedef struct
{
  WbRecord record;
  gint64   fragrance;       /* the blend */
  gint64   part;            /* a fragrance of it */
  double   share_pct;       /* the shares of a blend add up to 100 */
} WbFragrancePart;

typedef enum { WB_DYE_LIQUID, WB_DYE_CHIP, WB_DYE_POWDER, WB_DYE_OTHER } WbDyeForm;

typedef struct
{
  WbRecord record;
  char    *name;
  int      form;            /* WbDyeForm */
  double   drop_g;          /* mass of a drop */
  char    *supplier;
  char    *note;
} WbDye;

typedef struct
{
  WbRecord record;
  char    *name;
  double   usual_pct;       /* of the wax */
  char    *supplier;
  char    *note;
} WbAdditive;

/*
 * What is done at a step of a pour. Steps stand along the temperature track of the melt; turning a candle over is there only where a
 * maker writes it in.
 */
typedef enum
{
  WB_STEP_PREHEAT,   /* warm the vessels */
  WB_STEP_HEAT,
  WB_STEP_DYE,       /* dye and additive in */
  WB_STEP_FRAGRANCE,
  WB_STEP_STIR,
  WB_STEP_COOL,      /* let the melt come down to */
  WB_STEP_POUR,
  WB_STEP_INSULATE,
  WB_STEP_PIERCE,    /* beside the wick, so that trapped air leaves */
  WB_STEP_TOP_UP,    /* from what was held back */
  WB_STEP_TURN_OVER,
  WB_STEP_SET,       /* not moved until it has set */
  WB_STEP_CURE,
  WB_STEP_OTHER
} WbStepKind;

/* A step of a wax's own method; a wax without any is poured by wb_method_new_usual. */
typedef struct
{
  WbRecord record;
  gint64   wax;
  gint64   position;        /* in the order of the work, from 1 */
  int      kind;            /* WbStepKind */
  double   to_c;            /* of the melt, or of the vessels where they are preheated; NAN: not said */
  double   minutes;         /* that it takes, or that one waits; NAN: not said */
  char    *note;
} WbMethodStep;

/* A delivery of a material. */
typedef struct
{
  WbRecord record;
  gint64   material;        /* any of the materials above */
  char    *code;
  WbDay    received_on;
  gboolean used_up;
  double   amount;          /* received: g; of vessels and wicks, pieces */
  double   price;           /* of all of it, in the notebook's currency */
  char    *note;
} WbLot;

extern const WbRecordType wb_vessel_type, wb_wax_type, wb_wick_type, wb_wick_guide_type,
  wb_fragrance_type, wb_fragrance_part_type, wb_dye_type, wb_additive_type, wb_lot_type, wb_method_step_type;

extern const WbWord wb_basis_words[], wb_step_words[];

/*
 * Days from the pour to the first burn: the wax's own cure, or one where it states none or none is chosen (NULL), as the wax
 * has to set right through (common practice, no source).
 */
double wb_wax_get_burn_wait_days (const WbWax *wax);

/* What a person calls it: "Tern, 76 mm", "Sedge S-3", "Harbour mist". Caller frees. */
char *wb_material_dup_title (gconstpointer material);

G_END_DECLS
