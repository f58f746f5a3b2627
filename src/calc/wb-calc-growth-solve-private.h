/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-calc-growth-mode-private.h"

/* 1 / variance of each layer; paces 0 with one group. */
typedef struct
{
  double units;
  double runs;
  double paces;
} WbCalcGrowthStiffness;

/*
 * The Gauss-Newton step into mode->step, the (co)variances of the groups' figures,
 * and the log determinant of the curvature. False when a group's figures are open.
 */
bool wb_calc_growth_solve (const WbCalcGrowthLayout    *layout,
                           const WbCalcGrowthStiffness *stiff,
                           WbCalcGrowthMode            *mode,
                           double                      *log_det);
