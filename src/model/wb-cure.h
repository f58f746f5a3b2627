/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-dataset.h"

G_BEGIN_DECLS

/*
 * Days from the pour until a candle is fit to burn and fit to smell, NAN where nobody states it: its fragrance's own,
 * else its wax's. Fit to burn is what a sample's own record states first. A candle without a fragrance is never told as fit to smell.
 */
typedef struct
{
  double burn_days;
  double smell_days;
  double burn_wait_days; /* burn_days, or the day in which wax sets right through (wb_wax_get_burn_wait_days) */
} WbCure;

/* Any of them NULL: not known, or none; without a fragrance there is nothing to smell. */
WbCure wb_cure_of          (const WbSample *sample, const WbFragrance *fragrance, const WbWax *wax);
/* Of a sample of the set, by index. */
WbCure wb_cure_of_sample   (const WbDataset *data, guint sample);
/* What its recipe asks for, whatever the sample's record says that it got. */
WbCure wb_cure_of_recipe   (const WbDataset *data, guint sample);

/*
 * When that is: the one rule, for bench, calendar, lists, labels and the poured page.
 *
 * A day is a day. A wait of two days or more, in whole days, is over at the start of the day that lies so many days after that of
 * the pour, whatever the hour of the pour was. A wait of one day or less, and one with a part of a day, is meant in hours
 * and counts from the pour itself: a candle poured late in the evening has not set an hour later, when the date changes.
 * Where the time of the pour is not known, such a wait ends with the day in which it ends at the latest. Nothing to wait: the day of the pour.
 */
typedef struct
{
  WbDay     day;   /* on which it is fit; WB_DAY_NONE: pour or wait are not known */
  WbInstant at;    /* from when, in the zone in force; unknown where the day is */
  gboolean  timed; /* the hour counts, and is told; else it is the start of that day */
} WbCureFit;

/* poured_at: unknown where only the day is; not looked at where it lies on another day. */
WbCureFit wb_cure_fit           (WbDay poured_on, WbInstant poured_at, double days);
/* Of a sample of the set, by index, with the time of its melt's pour, and its melt's day where its own is not written down. burn_wait_days: so that each sample that was poured has one. */
WbCureFit wb_cure_fit_to_burn   (const WbDataset *data, guint sample);
WbCureFit wb_cure_fit_to_smell  (const WbDataset *data, guint sample);
/* What its recipe asks for, where that is stated, whatever the sample's record says that it got. */
WbCureFit wb_cure_fit_of_recipe (const WbDataset *data, guint sample);
/* "9 Dec 2026", "3 Dec 2026, 19:40"; NULL: not known. Caller frees. */
char     *wb_cure_fit_format    (const WbCureFit *self);
/* The moment alone, as a wait ends: a day's start is that day, "9 Dec 2026", any other a time, "3 Dec, 19:40"; "" if unknown. Caller frees. */
char     *wb_cure_format_at     (WbInstant at);

G_END_DECLS
