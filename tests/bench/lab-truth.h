/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "lab.h"

/*
 * What is true of the cells of an invented lab, and what the program can only
 * estimate: figures of the typical candle (all sample and burn deviations 0, at
 * the mean room and the mean burn number of the burns that are read), and what
 * candles of the recipe would score under the aims of the data set.
 *
 * A candle's score is the weighted geometric mean of the desirabilities of its own
 * typical burn in each stage that is read: the deviations of the sample are in it,
 * those of the burns are not, nor is a reader's error. A rating counts with its
 * expected desirability over the ratings that a burn of the candle gets, since the
 * program takes the worst of a burn and averages over burns. The candle scores 0
 * when any of its burns, as many as the lab burns in each stage, truly passes a house
 * limit of flame or vessel; the chance of that is integrated over burns in closed form.
 * Throw is never read and leaves the score, as it does in the program.
 */

typedef struct
{
  double limit_mm, tau_h;
  double full_pool_h;                 /* of the typical candle; INFINITY: never */
  double p_in_window;                 /* of the next candle poured; 0.75 to 1.25 of an hour an inch */
  double measure[LAB_N_MEASURES];     /* median; the vessel as degC at the mean room */
  double rating[LAB_N_RATINGS];       /* mean over candles and burns */
} LabStageTruth;

typedef struct
{
  LabStageTruth stage[WB_N_STAGES];   /* the first lab_n_stages() of them */
  double        score;                /* expected */
  double        p_cross;
  double        candle;               /* the score of one candle, drawn anew */
} LabTruth;

/*
 * Candles that a recipe is tried with: each of their deviations takes every one of as
 * many equal chances once (Latin hypercube: McKay, Beckman and Conover, Technometrics
 * 21 (1979) 239), and the cells of a lab share them.
 */
#define LAB_CANDLES 2000

/* Of each cell of the lab, n_cells long; g_free. From any thread. */
LabTruth *lab_truth_new (const Lab *lab, const GPtrArray *aims);
/* Roughly the same by fewer candles, where many labs are gone through. */
LabTruth *lab_truth_new_by (const Lab *lab, const GPtrArray *aims, guint candles);

/* Desirability of `y`, straight flanks; INFINITY for a pool that never gets to the wall. */
double    lab_desire    (const WbAim *aim, double y);
