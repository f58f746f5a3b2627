/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-cure.h"

#include "wb-clock.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define DAY_US (24 * 3600 * (gint64) G_USEC_PER_SEC)

static double
first_known (double one,
             double other)
{
  return isnan (one) ? other : one;
}

WbCure
wb_cure_of (const WbSample    *sample,
            const WbFragrance *fragrance,
            const WbWax       *wax)
{
  WbCure self = { NAN, NAN, NAN };

  if (wax != NULL)
    self = (WbCure) { wax->burn_cure_days, wax->smell_cure_days, NAN };
  if (fragrance != NULL)
    {
      self.burn_days = first_known (fragrance->burn_cure_days, self.burn_days);
      self.smell_days = first_known (fragrance->smell_cure_days, self.smell_days);
    }
  else
    self.smell_days = NAN;
  if (sample != NULL)
    self.burn_days = first_known (sample->cure_days, self.burn_days);
  self.burn_wait_days = first_known (self.burn_days, wb_wax_get_burn_wait_days (NULL));
  return self;
}

WbCure
wb_cure_of_sample (const WbDataset *data,
                   guint            sample)
{
  return wb_cure_of (wb_dataset_get_sample (data, sample),
                     wb_dataset_get_fragrance (data, g_array_index (data->sample_cell, guint, sample)), data->wax);
}

WbCure
wb_cure_of_recipe (const WbDataset *data,
                   guint            sample)
{
  return wb_cure_of (NULL, wb_dataset_get_fragrance (data, g_array_index (data->sample_cell, guint, sample)), data->wax);
}

/* A wait that counts from the hour of the pour. */
static gboolean
is_in_hours (double days)
{
  return days > 0 && (days <= 1 || days != floor (days));
}

WbCureFit
wb_cure_fit (WbDay     poured_on,
             WbInstant poured_at,
             double    days)
{
  WbCureFit self = { WB_DAY_NONE, WB_INSTANT_NONE, FALSE };

  if (poured_on == WB_DAY_NONE || isnan (days))
    return self;
  if (is_in_hours (days) && poured_at.known && wb_instant_get_day (poured_at) == poured_on)
    {
      self.timed = TRUE;
      self.at = wb_clock_at (wb_clock_get (), poured_at.utc_us + (gint64) (days * DAY_US));
      self.day = wb_instant_get_day (self.at);
      return self;
    }
  /* poured at midnight for all that anybody knows: wax may be liquid until the day is over in which it sets */
  self.day = poured_on + (WbDay) ceil (days) + (is_in_hours (days) ? 1 : 0);
  self.at = wb_clock_local (wb_clock_get (), self.day, 0, 0, 0);
  return self;
}

/* Its melt; NULL: none is written down. */
static const WbBatch *
find_melt (const WbDataset *data,
           const WbSample  *sample)
{
  for (guint i = 0; sample->batch != 0 && i < data->batches->len; i++)
    if (((const WbRecord *) g_ptr_array_index (data->batches, i))->id == sample->batch)
      return g_ptr_array_index (data->batches, i);
  return NULL;
}

/* By the sample's own day; where that is not written down, its melt's. */
static WbCureFit
fit_after (const WbDataset *data,
           guint            sample,
           double           days)
{
  const WbSample *record = wb_dataset_get_sample (data, sample);
  const WbBatch *melt = find_melt (data, record);
  WbDay day = record->poured_on == WB_DAY_NONE && melt != NULL ? wb_batch_get_day (melt) : record->poured_on;

  return wb_cure_fit (day, melt != NULL ? melt->poured_at : WB_INSTANT_NONE, days);
}

WbCureFit
wb_cure_fit_to_burn (const WbDataset *data,
                     guint            sample)
{
  return fit_after (data, sample, wb_cure_of_sample (data, sample).burn_wait_days);
}

WbCureFit
wb_cure_fit_to_smell (const WbDataset *data,
                      guint            sample)
{
  return fit_after (data, sample, wb_cure_of_sample (data, sample).smell_days);
}

WbCureFit
wb_cure_fit_of_recipe (const WbDataset *data,
                       guint            sample)
{
  return fit_after (data, sample, wb_cure_of_recipe (data, sample).burn_days);
}

char *
wb_cure_fit_format (const WbCureFit *self)
{
  g_autofree char *day = NULL, *time = NULL;

  g_return_val_if_fail (self != NULL, NULL);

  if (self->day == WB_DAY_NONE)
    return NULL;
  day = wb_day_format_local (self->day);
  if (!self->timed)
    return g_steal_pointer (&day);
  time = wb_instant_format_time (self->at);
  /* Translators: a day and a time of it: "3 Dec 2026, 19:40". */
  return g_strdup_printf (_("%s, %s"), day, time);
}

char *
wb_cure_format_at (WbInstant at)
{
  return at.known && wb_instant_shows (at, 0, 0) ? wb_instant_format_date (at) : wb_instant_format_short (at);
}
