/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-dataset.h"

G_BEGIN_DECLS

/*
 * Days from the pour until a candle is fit to burn and fit to smell, NAN where nobody states it: its fragrance's own,
 * else its wax's. Fit to burn is what a sample's own record states first.
 */
typedef struct
{
  double burn_days;
  double smell_days;
  double burn_wait_days; /* burn_days, or the day in which wax sets right through (wb_wax_get_burn_wait_days) */
} WbCure;

/* Any of them NULL: not known, or none. */
WbCure wb_cure_of          (const WbSample *sample, const WbFragrance *fragrance, const WbWax *wax);
/* Of a sample of the set, by index. */
WbCure wb_cure_of_sample   (const WbDataset *data, guint sample);
/* What its recipe asks for, whatever the sample's record says that it got. */
WbCure wb_cure_of_recipe   (const WbDataset *data, guint sample);
/* The first day on which so many days are over; WB_DAY_NONE where either is not known. */
WbDay  wb_cure_get_day     (WbDay poured_on, double days);

G_END_DECLS
