/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-figures.h"

G_BEGIN_DECLS

/*
 * A safety limit judges the worst reading of the worst sample, in every stage; it is never averaged away. A logger's file tests no
 * limit, for nobody looked at the candle, but what it says of a burn crosses one as a reading would.
 */
typedef enum { WB_CRAFT_LIMIT_NOT_TESTED, WB_CRAFT_LIMIT_PASSED, WB_CRAFT_LIMIT_CROSSED, WB_CRAFT_LIMIT_OFF } WbCraftLimitState;

typedef struct
{
  guint             cell;
  guint             limit;       /* index in the data set's limits */
  WbCraftLimitState state;       /* over the whole life */
  WbCraftLimitState by_stage[WB_N_STAGES];
  double            worst;       /* worst reading, stored unit; NAN */
  guint             sample;      /* where it was read; G_MAXUINT: nowhere */
  guint             burn;
  double            elapsed_min;
  gint64            reading;     /* its id, of a logger's file that of the attachment; 0 none */
  gboolean          logged;      /* nobody read it: a logger's file says so */
  guint             samples_read; /* samples on which it was read in the lower third */
  gboolean          set_aside_only; /* crossed only by a sample that was set aside: does not fail the cell, nor is the cell recommended */
  struct { double worst; guint sample, burn; double elapsed_min; gint64 reading; gboolean logged; } aside; /* the worst crossing of a sample set aside; worst NAN: none */
} WbCraftLimit;

typedef struct
{
  WbCraftLimit *items;    /* n_cells × n_limits, cell by cell */
  guint         n_cells, n_limits;
} WbCraftLimits;

WbCraftLimits      *wb_craft_limits_new  (const WbDataset *data, const WbCraftFigures *figures);
void                wb_craft_limits_free (WbCraftLimits *self);
const WbCraftLimit *wb_craft_limits_get  (const WbCraftLimits *self, guint cell, guint limit);
/*
 * WbCraftLimit by limit, of one sample as if it were the only one of its cell: all that it crossed, also where another did worse,
 * and also where it was set aside. Caller unrefs.
 */
GArray             *wb_craft_limits_of_sample (const WbDataset *data, const WbCraftFigures *figures, guint sample);
const char         *wb_craft_limit_state_get_key   (WbCraftLimitState state); /* "passed", "crossed", "not_tested", "off" */
const char         *wb_craft_limit_state_get_label (WbCraftLimitState state); /* translated */
/* Two flames cannot merge where there is one wick: such a limit is passed without a test. */
gboolean            wb_craft_limit_cannot_happen   (const WbDataset *data, const WbLimit *limit, guint cell);
/* Does a limit of that kind tell of a wick that is too hot? Common practice, no source. */
gboolean            wb_craft_limit_is_of_heat      (WbLimitKind kind);
/* The label of what a limit measures: the house's flame limit reads the same flame as the published one. Untranslated. */
const char         *wb_craft_limit_get_measure     (WbLimitKind kind);
/* The same limit with the worst crossing of a sample that was set aside in place of the worst reading: only where set_aside_only. */
WbCraftLimit        wb_craft_limit_get_set_aside   (const WbCraftLimit *limit);
/* "flame height 52 mm": what was read or seen, without where. Only where something was. Caller frees. */
char               *wb_craft_limit_dup_seen (const WbDataset *data, const WbCraftLimit *limit);
/* "flame 52 mm at 240 min of burn 9 of sample T5-1: over the house limit of 50 mm". Caller frees. */
char               *wb_craft_limit_dup_text (const WbDataset *data, const WbCraftLimit *limit);

/* Over which limits one reading is, or which it comes near; for the bench, at once. SOON is told by several readings: see wb-craft-trend.h. */
typedef enum { WB_CRAFT_NEAR, WB_CRAFT_SOON, WB_CRAFT_OVER } WbCraftLimitLevel;
typedef struct { guint limit; WbCraftLimitLevel level; } WbCraftLimitHit;
GArray             *wb_craft_limits_check_reading (const GPtrArray *limits, const double values[WB_N_COLUMNS]);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftLimits, wb_craft_limits_free)

G_END_DECLS
