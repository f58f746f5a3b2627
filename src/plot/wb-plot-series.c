/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-series-private.h"

#include "wb-chart-layer.h"
#include "wb-chart-theme.h"

#include <math.h>

static int
compare_reals (double a,
               double b)
{
  /* Not known sorts last. */
  if (isnan (a) || isnan (b))
    return isnan (a) - isnan (b);
  return (a > b) - (a < b);
}

static int
compare_wicks (const WbDataset *data,
               guint            a,
               guint            b)
{
  const WbWick *first = wb_dataset_get_wick (data, a), *second = wb_dataset_get_wick (data, b);
  const WbCell *one = wb_dataset_get_cell (data, a), *other = wb_dataset_get_cell (data, b);
  int           order = g_strcmp0 (first->series, second->series);

  if (order == 0)
    order = (first->step > second->step) - (first->step < second->step);
  if (order == 0)
    order = g_strcmp0 (first->size, second->size);
  if (order == 0)
    order = (one->wick_count > other->wick_count) - (one->wick_count < other->wick_count);
  return order != 0 ? order : compare_reals (one->wick_spacing_mm, other->wick_spacing_mm);
}

static gboolean
is_first_of_its_wick (const WbDataset *data,
                      guint            cell)
{
  for (guint i = 0; i < cell; i++)
    if (compare_wicks (data, i, cell) == 0)
      return FALSE;
  return TRUE;
}

guint
wb_plot_get_wick_place (const WbDataset *data,
                        guint            cell,
                        guint           *n)
{
  guint before = 0, all = 0;

  for (guint i = 0; i < data->cells->len; i++)
    {
      if (!is_first_of_its_wick (data, i))
        continue;
      all++;
      before += compare_wicks (data, i, cell) < 0;
    }
  if (n != NULL)
    *n = all;
  return before;
}

gboolean
wb_plot_same_family (const WbDataset *data,
                     guint            a,
                     guint            b)
{
  const WbCell *one = wb_dataset_get_cell (data, a), *other = wb_dataset_get_cell (data, b);

  return wb_dataset_get_vessel (data, a) == wb_dataset_get_vessel (data, b)
         && wb_dataset_get_fragrance (data, a) == wb_dataset_get_fragrance (data, b)
         && compare_reals (one->load_pct, other->load_pct) == 0 && one->load_basis == other->load_basis;
}

guint
wb_plot_find_families (const WbDataset *data,
                       guint           *family)
{
  guint n = 0;

  for (guint cell = 0; cell < data->cells->len; cell++)
    {
      family[cell] = G_MAXUINT;
      for (guint i = 0; i < cell && family[cell] == G_MAXUINT; i++)
        if (wb_plot_same_family (data, i, cell))
          family[cell] = family[i];
      if (family[cell] == G_MAXUINT)
        family[cell] = n++;
    }
  return n;
}

int
wb_plot_get_series (const WbDataset *data,
                    guint            cell)
{
  guint n, place;

  g_return_val_if_fail (data != NULL && cell < data->cells->len, WB_CHART_SERIES_NONE);

  g_autofree guint *family = g_new (guint, data->cells->len);
  wb_plot_find_families (data, family);
  place = wb_plot_get_wick_place (data, cell, &n);
  /* A whole turn of the colours a family, so that a wick keeps its colour and changes marker. */
  guint turn = (n + WB_CHART_N_SERIES_COLOURS - 1) / WB_CHART_N_SERIES_COLOURS * WB_CHART_N_SERIES_COLOURS;

  return (int) (place + turn * family[cell]);
}

gint64
wb_plot_get_cell_tag (const WbDataset *data,
                      guint            cell)
{
  return -wb_dataset_get_cell (data, cell)->record.id;
}
