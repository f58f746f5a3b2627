/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-columns-private.h"

#include <math.h>

#include "test-craft.h"

static const char *const vessels[] = { "Auk", "Brent", "Crane" };
static const char *const series[] = { "Reed", "Sedge" };

/* Three vessels, three loads, two series of three sizes; vessels and series named in the order that `turn` says. */
static WbDataset *
make (guint turn)
{
  WbDataset *data = test_craft_data_new ();

  for (guint vessel = 0; vessel < 3; vessel++)
    for (guint load = 0; load < 3; load++)
      for (guint kind = 0; kind < 2; kind++)
        for (guint step = 1; step <= 3; step++)
          {
            g_autofree char *size = g_strdup_printf ("%u", step);

            test_craft_add_cell (data, vessels[(vessel + turn) % 3], 70 + 5 * ((vessel + turn) % 3), series[(kind + turn) % 2], size, step,
                                 3.0 * load);
          }
  return data;
}

/* What is believed of the difference of two cells before anything is read: its variance, on logarithms. */
static double
variance_between (const WbCraftColumns *columns,
                  guint                 one,
                  guint                 other)
{
  double sum = 0;

  for (guint j = 0; j < columns->n; j++)
    {
      double apart = columns->cell[one * columns->n + j] - columns->cell[other * columns->n + j];

      /* a flat coefficient, and one of a spread to be estimated: the same for all, or none */
      if (isfinite (columns->sd[j]))
        sum += apart * apart * (columns->sd[j] > 0 ? columns->sd[j] * columns->sd[j] : 1);
      else
        g_assert_cmpfloat (apart, ==, 0);
    }
  return sum;
}

static gboolean
is_like (const WbDataset *data,
         guint            cell,
         const WbDataset *other,
         guint            candidate)
{
  return strcmp (wb_dataset_get_vessel (data, cell)->name, wb_dataset_get_vessel (other, candidate)->name) == 0
         && wb_dataset_get_cell (data, cell)->load_pct == wb_dataset_get_cell (other, candidate)->load_pct
         && strcmp (wb_dataset_get_wick (data, cell)->series, wb_dataset_get_wick (other, candidate)->series) == 0
         && wb_dataset_get_wick (data, cell)->step == wb_dataset_get_wick (other, candidate)->step;
}

static guint
find_like (const WbDataset *data,
           guint            cell,
           const WbDataset *other)
{
  guint candidate = 0;

  while (!is_like (data, cell, other, candidate))
    candidate++;
  return candidate;
}

/* Any order of the cells, that is of the names, gives the same beliefs. */
static void
test_order_says_nothing (void)
{
  g_autoptr (WbDataset) data = make (0);
  g_auto (WbCraftColumns) columns = { 0 };

  wb_craft_columns_init (&columns, data);
  for (guint turn = 1; turn < 6; turn++)
    {
      g_autoptr (WbDataset) turned = make (turn);
      g_auto (WbCraftColumns) of_turned = { 0 };

      wb_craft_columns_init (&of_turned, turned);
      g_assert_cmpuint (of_turned.n, ==, columns.n);
      for (guint one = 0; one < data->cells->len; one++)
        for (guint other = 0; other < one; other++)
          g_assert_cmpfloat_with_epsilon (variance_between (&columns, one, other),
                                          variance_between (&of_turned, find_like (data, one, turned), find_like (data, other, turned)),
                                          1e-12);
    }
}

/* Of three vessels none is the one that the others are told from. */
static void
test_levels_are_alike (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_auto (WbCraftColumns) columns = { 0 };

  for (guint vessel = 0; vessel < 3; vessel++)
    test_craft_add_cell (data, vessels[vessel], 70 + 5 * vessel, "Reed", "2", 2, 0);
  wb_craft_columns_init (&columns, data);
  g_assert_cmpfloat_with_epsilon (variance_between (&columns, 0, 1), 0.7 * 0.7, 1e-12);
  g_assert_cmpfloat_with_epsilon (variance_between (&columns, 1, 2), 0.7 * 0.7, 1e-12);
  g_assert_cmpfloat_with_epsilon (variance_between (&columns, 0, 2), 0.7 * 0.7, 1e-12);
}

int
main (int    argc,
      char **argv)
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/columns/the-order-of-names-says-nothing", test_order_says_nothing);
  g_test_add_func ("/craft/columns/no-level-is-the-one-that-others-are-told-from", test_levels_are_alike);
  return g_test_run ();
}
