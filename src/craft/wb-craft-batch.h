/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-dataset.h"

G_BEGIN_DECLS

/*
 * Batch arithmetic. Masses in g. Every sheet states its basis and shows its sums: each is worked out from the figures as
 * they are printed, so that a pocket calculator gives what stands behind the "=".
 */

/* Fill mass = water mass × specific gravity; common practice. NAN outside the domain (both above 0). */
double wb_craft_batch_fill_g (double water_g, double specific_gravity);
/* t = w/(1+w), w = t/(1−t); per cent. */
double wb_craft_load_to_total_pct (double of_wax_pct);
double wb_craft_load_to_wax_pct   (double of_total_pct);
typedef struct { double wax_g, oil_g, additive_g; } WbCraftSplit;
/*
 * What so many g of filled candle are made of, exactly, before any balance: the three add up to total_g. additive_pct: of the wax, NAN: none,
 * additive_g is 0 then. Load of the wax w, of the total t, additive a: wax 1/(1+w+a) of the total, or (1−t)/(1+a); by algebra from what
 * the words say.
 */
WbCraftSplit wb_craft_batch_split (double total_g, double load_pct, WbBasis load_basis, double additive_pct);
/* Places after the decimal sign in which the steps of a balance are whole; 0: exact, 2 places. 0 to 4. */
int    wb_craft_batch_places      (double resolution_g);

/* The sum of a blend's shares, per cent: what it is and what is missing or too much, a sentence; NULL: it makes 100 %. Caller frees. */
char  *wb_craft_blend_dup_wrong   (double sum_pct);

typedef struct { char *name; double share_pct; } WbCraftOilPart;
typedef struct { char *name; double g; } WbCraftPartMass;

/* Candles of one kind. */
typedef struct
{
  const WbVessel *vessel;   /* NULL: not told */
  guint           candles;
  double          fill_g;   /* one candle; NAN: by the vessel and the wax's density (wb-craft-fill.h) */
} WbCraftBatchLine;

typedef struct
{
  const WbCraftBatchLine *lines;
  guint   n_lines;
  double  load_pct;
  WbBasis load_basis;
  double  overage_pct;
  double  hold_back_pct;    /* of the whole melt, kept for the second pour */
  double  resolution_g;     /* of the balance, 0.0001 or more; 0: told to 0.01 g */
  double  dye_pct;          /* of the wax; NAN none */
  double  dye_drops_per_kg; /* of the wax, where the dye is counted; NAN or 0: it is not */
  double  drop_g;           /* mass of a drop of dye; NAN unknown */
  double  additive_pct;     /* of the wax; NAN none. The additive is part of the total */
  const GArray *oil_parts;  /* WbCraftOilPart of a blend; NULL: one oil */
  /* for fills and warnings; NAN or NULL where not known */
  const WbWax *wax;
  const WbFragrance *fragrance;
  double  specific_gravity;
  const GPtrArray *steps;   /* WbBatchStep of the method that will be followed, in order; NULL: what the wax states */
  gboolean us_units;        /* words tell temperatures in °F; masses stay the balance's grams */
} WbCraftBatchInput;

typedef enum { WB_CRAFT_WARN_MAX_LOAD, WB_CRAFT_WARN_IFRA, WB_CRAFT_WARN_FLASH, WB_CRAFT_WARN_GRAVITY, WB_CRAFT_WARN_NO_IFRA, WB_CRAFT_WARN_ORDER, WB_CRAFT_WARN_VESSEL } WbCraftWarningKind;
typedef struct { WbCraftWarningKind kind; char *text; } WbCraftWarning;

/* What a line of the input comes to: of one candle, on the steps of the balance, but for together_g. */
typedef struct { double fill_g, together_g, second_g, first_g; } WbCraftBatchFill;

typedef struct
{
  double     plain_g;       /* all fills */
  double     over_g;        /* for what stays in the pot */
  double     total_g;       /* wax, oil and additive, overage included */
  double     wax_g, oil_g;  /* on the steps of the balance; with the additive they add up to total_g */
  double     dye_g;         /* to 0.001 g; NAN none, or its drops weigh one does not know what */
  double     dye_drops;     /* whole; NAN not counted */
  double     additive_g;    /* NAN none */
  double     first_pour_g, hold_back_g;
  double     load_of_wax_pct, load_of_total_pct;
  int        places;        /* after the decimal sign of every mass but the dye's */
  GArray    *fills;         /* WbCraftBatchFill, a line of the input each */
  GArray    *oil_parts;     /* WbCraftPartMass: add up to oil_g exactly */
  char      *basis;         /* "Fragrance load: 8 % of the wax, which is 7.41 % of the total."; translated */
  GPtrArray *sums;          /* char *: each step as a line that a pocket calculator can follow; translated */
  GPtrArray *warnings;      /* WbCraftWarning */
} WbCraftBatchSheet;

/* NULL and a GError (WB_RECORD_ERROR_RANGE) naming the field for impossible input, or with what is not known, in words. */
WbCraftBatchSheet *wb_craft_batch_sheet_new  (const WbCraftBatchInput *input, GError **error);
void               wb_craft_batch_sheet_free (WbCraftBatchSheet *self);

/* A mass on the sheet as the balance shows it, in grams; with ounces beside it where those are read. Caller frees. */
char              *wb_craft_batch_dup_mass   (const WbCraftBatchSheet *self, double g, gboolean us_units);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftBatchSheet, wb_craft_batch_sheet_free)

G_END_DECLS
