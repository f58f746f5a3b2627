/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stdbool.h>

/*
 * How a calculation ended. Every function of this room that can fail returns one
 * of these, prints nothing and keeps no global state. Unless a function says
 * otherwise, its result is untouched or cleared when it returns anything but
 * WB_CALC_OK. NaN and infinite input give WB_CALC_BAD_INPUT.
 *
 * GSL calls abort () on error unless told otherwise: the program calls
 * gsl_set_error_handler_off () once, before the first function of this room.
 */
typedef enum
{
  WB_CALC_OK,
  WB_CALC_BAD_INPUT,     /* not finite, outside the domain, or shapes that do not fit together */
  WB_CALC_TOO_FEW,       /* fewer data than the question needs */
  WB_CALC_ONLY_CENSORED, /* every reading says "at least": only a lower bound is known */
  WB_CALC_FLAT,          /* nothing changes over the readings: the pace cannot be told */
  WB_CALC_ALL_SAME,      /* every answer is the same: how they vary cannot be told, only bounded */
  WB_CALC_UNIDENTIFIED,  /* the data do not tell the parameters apart, or a design is singular */
  WB_CALC_NOT_CONVERGED, /* the iteration limit was reached */
  WB_CALC_CANCELLED,     /* keep_going said no */
  WB_CALC_NO_MEMORY
} WbCalcStatus;

#define WB_CALC_N_STATUSES (WB_CALC_NO_MEMORY + 1)

/*
 * Asked regularly by functions that may take long; false ends them with
 * WB_CALC_CANCELLED. Called on the thread that called the function. NULL means
 * "always".
 */
typedef bool (*WbCalcKeepGoing) (void *user);

/* The status as a stable identifier such as "too-few"; static, never NULL ("unknown" outside the enum). */
const char *wb_calc_status_get_name (WbCalcStatus status);
