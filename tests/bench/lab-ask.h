/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "lab-truth.h"
#include "lab-ways.h"
#include "wb-craft-growth.h"

/* One invented lab burnt, put to the program, and its answer laid beside the truth. */

/* What the program says of a cell: intervals first, then chances, of which `said.value` alone counts. */
typedef enum
{
  LAB_SAID_LIMIT, LAB_SAID_TAU, LAB_SAID_FULL_POOL, LAB_SAID_CONSUMPTION, LAB_SAID_FLAME, LAB_SAID_VESSEL, LAB_SAID_DEPTH,
  LAB_SAID_SOOT, LAB_SAID_MUSHROOM,
  LAB_SAID_SCORE,       /* of cells no reading of which was over a limit */
  LAB_SAID_SCORE_OVER,  /* of the others: limits come first there */
  LAB_SAID_CANDLE,
  LAB_N_INTERVALS,
  LAB_SAID_P_BEST = LAB_N_INTERVALS, LAB_SAID_P_NEAR, LAB_SAID_P_CROSS, LAB_SAID_P_IN_WINDOW, LAB_SAID_P_NEVER,
  LAB_SAID_LOSS,
  LAB_N_SAID
} LabSaid;

const char *lab_said_get_label (LabSaid said);

typedef struct
{
  guint            cell;
  WbStage          stage;
  LabSaid          what;
  WbCraftFitStatus status;  /* of the cell's growth curve in that stage */
  double           truth;   /* INFINITY: never full; of p_best, p_near and p_never 0 or 1 */
  double           p_never; /* as said, beside a time to full pool; else NAN */
  WbCraftInterval  said;    /* all NAN: no answer */
} LabLine;

/* A group of cells, and how well a way chose from it. */
typedef struct
{
  guint  cell;              /* chosen; G_MAXUINT where all of them count alike */
  LabWay way;
  double right, near, loss; /* best, within 0.05 of it, score lost: 0 or 1 but for LAB_WAY_ANY */
} LabPick;

typedef struct
{
  Lab    *lab;
  GArray *lines;            /* LabLine */
  GArray *picks;            /* LabPick */
  guint   unpoured;
  double  answer_s, truth_s;
} LabResult;

#define LAB_NEAR 0.05

/* draws 0: as many as the program takes by itself. From any thread. */
LabResult *lab_ask         (const LabSpec *spec, guint number, guint draws);
void       lab_result_free (LabResult *self);
