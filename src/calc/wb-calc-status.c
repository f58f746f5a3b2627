/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-status.h"

const char *
wb_calc_status_get_name (WbCalcStatus status)
{
  switch (status)
    {
    case WB_CALC_OK:
      return "ok";
    case WB_CALC_BAD_INPUT:
      return "bad-input";
    case WB_CALC_TOO_FEW:
      return "too-few";
    case WB_CALC_ONLY_CENSORED:
      return "only-censored";
    case WB_CALC_FLAT:
      return "flat";
    case WB_CALC_ALL_SAME:
      return "all-same";
    case WB_CALC_UNIDENTIFIED:
      return "unidentified";
    case WB_CALC_NOT_CONVERGED:
      return "not-converged";
    case WB_CALC_CANCELLED:
      return "cancelled";
    case WB_CALC_NO_MEMORY:
      return "no-memory";
    default:
      return "unknown";
    }
}
