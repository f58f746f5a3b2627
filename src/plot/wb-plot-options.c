/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-options.h"

G_DEFINE_QUARK (wb-plot-error-quark, wb_plot_error)

void
wb_plot_options_init (WbPlotOptions *options,
                      gboolean       us_units)
{
  g_return_if_fail (options != NULL);

  *options = (WbPlotOptions) { .figure = -1, .stage = WB_STAGE_ALL, .group = -1, .sample = -1 };
  for (int i = 0; i < WB_N_QUANTITIES; i++)
    options->units[i] = wb_quantity_get_stored_unit (i);
  options->units[WB_QUANTITY_DURATION] = WB_UNIT_HOUR;
  if (us_units)
    {
      options->units[WB_QUANTITY_LENGTH] = WB_UNIT_INCH;
      options->units[WB_QUANTITY_MASS] = WB_UNIT_OZ;
      options->units[WB_QUANTITY_TEMPERATURE] = WB_UNIT_FAHRENHEIT;
      options->units[WB_QUANTITY_TEMPERATURE_DIFFERENCE] = WB_UNIT_FAHRENHEIT_DIFFERENCE;
      options->units[WB_QUANTITY_VOLUME] = WB_UNIT_FL_OZ_US;
      options->units[WB_QUANTITY_MASS_RATE] = WB_UNIT_OZ_PER_H;
    }
}
