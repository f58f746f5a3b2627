/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-figures.h"

G_BEGIN_DECLS

/*
 * The pool readings that speak of growth, as columns: standard burns of samples
 * that count, after lighting, a pool held by a ring left out. A run is a burn, a
 * unit a sample, a group a cell.
 */
typedef struct
{
  GArray *t, *y;       /* double: h, mm */
  GArray *censored;    /* bool: "at least" */
  GArray *run;         /* size_t */
  GArray *run_unit, *unit_group;
  GArray *unit_sample; /* guint: the sample of each unit */
  GArray *run_burn;    /* guint: the burn of each run, in the figures */
  guint  *held;        /* a cell: burns held by a ring */
  double *wall_sum;    /* a cell: sum over burns of the first reading at the wall, h */
  double *short_sum;   /* over the same burns, of the last reading short of the wall before it; 0 where there was none */
  guint  *wall_n;
  guint  *zero;        /* a cell: readings that no pool had formed, which say nothing of its growth */
} WbCraftPoolReadings;

void wb_craft_pool_readings_init   (WbCraftPoolReadings *self,
                                    guint                n_cells);
void wb_craft_pool_readings_clear  (WbCraftPoolReadings *self);
/* Of one stage or WB_STAGE_ALL; of one sample or G_MAXUINT for all. */
void wb_craft_pool_readings_gather (WbCraftPoolReadings  *self,
                                    const WbDataset      *data,
                                    const WbCraftFigures *figures,
                                    WbStage               stage,
                                    guint                 sample);

G_END_DECLS
