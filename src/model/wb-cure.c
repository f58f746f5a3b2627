/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-cure.h"

#include <math.h>

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

WbDay
wb_cure_get_day (WbDay  poured_on,
                 double days)
{
  return poured_on == WB_DAY_NONE || isnan (days) ? WB_DAY_NONE : poured_on + (WbDay) ceil (days);
}
