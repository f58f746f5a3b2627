/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-dataset.h"

G_BEGIN_DECLS

/* Batch arithmetic. Masses in g. Every sheet states its basis and shows its sums. */

/* Fill mass = water mass × specific gravity; common practice. NAN outside the domain (both above 0). */
double wb_craft_batch_fill_g (double water_g, double specific_gravity);
/* From a volume measured with water at water_c and the mix's density: water_g / rho_water × density. */
double wb_craft_batch_fill_by_density_g (double water_g, double water_c, double density);
/* t = w/(1+w), w = t/(1−t); per cent. */
double wb_craft_load_to_total_pct (double of_wax_pct);
double wb_craft_load_to_wax_pct   (double of_total_pct);

typedef struct { char *name; double share_pct; } WbCraftOilPart;
typedef struct { char *name; double g; } WbCraftPartMass;

typedef struct
{
  double  fill_g;           /* one candle, wax and oil */
  guint   candles;
  double  load_pct;
  WbBasis load_basis;
  double  overage_pct;
  double  hold_back_pct;    /* of the whole melt, kept for the second pour */
  double  resolution_g;     /* of the balance; 0: exact */
  double  dye_pct;          /* of the wax; NAN none */
  double  drop_g;           /* mass of a drop of dye; NAN unknown */
  double  additive_pct;     /* of the wax; NAN none */
  const GArray *oil_parts;  /* WbCraftOilPart of a blend; NULL: one oil */
  /* for warnings; NAN or NULL where not known */
  const WbWax *wax;
  const WbFragrance *fragrance;
  double  specific_gravity;
} WbCraftBatchInput;

typedef enum { WB_CRAFT_WARN_MAX_LOAD, WB_CRAFT_WARN_IFRA, WB_CRAFT_WARN_FLASH, WB_CRAFT_WARN_GRAVITY, WB_CRAFT_WARN_NO_IFRA, WB_CRAFT_WARN_ORDER } WbCraftWarningKind;
typedef struct { WbCraftWarningKind kind; char *text; } WbCraftWarning;

typedef struct
{
  double     total_g;       /* wax and oil, overage included */
  double     wax_g, oil_g;  /* rounded to the balance so that they add up to total_g */
  double     dye_g, dye_drops, additive_g;  /* NAN none */
  double     first_pour_g, hold_back_g;
  double     load_of_wax_pct, load_of_total_pct;
  GArray    *oil_parts;     /* WbCraftPartMass: add up to oil_g exactly at the resolution */
  GPtrArray *sums;          /* char *: each step as a line that a pocket calculator can follow; translated */
  GPtrArray *warnings;      /* WbCraftWarning */
} WbCraftBatchSheet;

/* NULL and a GError (WB_RECORD_ERROR_RANGE) naming the field for impossible input. */
WbCraftBatchSheet *wb_craft_batch_sheet_new  (const WbCraftBatchInput *input, GError **error);
void               wb_craft_batch_sheet_free (WbCraftBatchSheet *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftBatchSheet, wb_craft_batch_sheet_free)

G_END_DECLS
