/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stddef.h>

#include "wb-calc-status.h"

typedef struct
{
  double centre_x;
  double centre_y;
  double semi_major; /* >= semi_minor > 0 */
  double semi_minor;
  double theta;      /* of the major axis from +x towards +y, in [0, pi) */
  double conic[6];   /* A x^2 + B x y + C y^2 + D x + E y + F = 0, of unit norm, A > 0 */
} WbCalcEllipse;

/*
 * Direct least squares fit of an ellipse: least algebraic distance under 4 A C - B^2 > 0
 * (Fitzgibbon, Pilu and Fisher, IEEE Trans. PAMI 21 (1999) 476-480), solved by the reduction of
 * Halir and Flusser (WSCG 1998) in coordinates about the mean and of unit size; shift, scale and
 * rotation of the points carry over. Pulled towards small ellipses where only a part of
 * the rim was seen.
 *
 * WB_CALC_TOO_FEW below 5 points, WB_CALC_BAD_INPUT when one is not finite, or the answer is not,
 * WB_CALC_UNIDENTIFIED when the points lie on a line or nowhere near an ellipse.
 */
WbCalcStatus wb_calc_ellipse_fit (const double  *x,
                                  const double  *y,
                                  size_t         n,
                                  WbCalcEllipse *ellipse);
