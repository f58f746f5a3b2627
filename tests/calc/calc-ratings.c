/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "calc-ratings.h"

#include <math.h>

#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>

#include "calc-table.h"
#include "wb-calc-quantile.h"
#include "wb-calc-random.h"

#define N_DRAWS 4000

CalcRatings *
calc_ratings_new (gsize n_categories,
                  gsize n_groups,
                  gsize n_columns)
{
  CalcRatings *ratings = g_new0 (CalcRatings, 1);

  ratings->x = g_new0 (double, MAX (n_groups * n_columns, 1));
  ratings->rating = g_array_new (FALSE, FALSE, sizeof (gsize));
  ratings->unit = g_array_new (FALSE, FALSE, sizeof (gsize));
  ratings->group = g_array_new (FALSE, FALSE, sizeof (gsize));
  ratings->data = (WbCalcOrdinalData) {
    .n_categories = n_categories,
    .n_groups = n_groups,
    .n_columns = n_columns,
    .x = ratings->x,
  };
  return ratings;
}

void
calc_ratings_free (CalcRatings *ratings)
{
  g_free (ratings->x);
  g_array_unref (ratings->rating);
  g_array_unref (ratings->unit);
  g_array_unref (ratings->group);
  g_free (ratings);
}

void
calc_ratings_add (CalcRatings *ratings,
                  gsize        rating,
                  gsize        unit,
                  gsize        group)
{
  g_array_append_val (ratings->rating, rating);
  g_array_append_val (ratings->unit, unit);
  g_array_append_val (ratings->group, group);
  ratings->data.n = ratings->rating->len;
  ratings->data.rating = (gsize *) ratings->rating->data;
  ratings->data.unit = (gsize *) ratings->unit->data;
  ratings->data.group = (gsize *) ratings->group->data;
  ratings->data.n_units = MAX (ratings->data.n_units, unit + 1);
}

CalcRatings *
calc_ratings_load_wine (void)
{
  g_autoptr (CalcTable) table = calc_table_load ("ratings_wine_data");
  CalcRatings *ratings = calc_ratings_new (5, 4, 2);

  for (gsize i = 0; i < calc_table_n_rows (table); i++)
    {
      gsize warm = g_str_equal (calc_table_text (table, "temp", i), "warm") ? 1 : 0;
      gsize contact = g_str_equal (calc_table_text (table, "contact", i), "yes") ? 1 : 0;
      gsize group = 2 * warm + contact;

      ratings->x[2 * group] = (double) warm;
      ratings->x[2 * group + 1] = (double) contact;
      calc_ratings_add (ratings, (gsize) calc_table_number (table, "rating", i) - 1,
                        (gsize) calc_table_number (table, "judge", i) - 1, group);
    }
  return ratings;
}

CalcRatings *
calc_ratings_load_housing (double *centre)
{
  static const char *const columns[] = { "Infl", "Infl", "Type", "Type", "Type", "Cont" };
  static const char *const levels[] = { "Medium", "High", "Apartment", "Atrium", "Terrace", "High" };
  g_autoptr (CalcTable) table = calc_table_load ("ratings_housing_data");
  gsize n_rows = calc_table_n_rows (table);
  CalcRatings *ratings = calc_ratings_new (3, n_rows / 3, 6);

  /* Three rows, the answers in rising order, to each combination. */
  for (gsize i = 0; i < n_rows; i++)
    {
      gsize n = (gsize) calc_table_number (table, "Freq", i);

      for (gsize j = 0; j < 6; j++)
        ratings->x[i / 3 * 6 + j] = g_str_equal (calc_table_text (table, columns[j], i), levels[j]) ? 1.0 : 0.0;
      for (gsize r = 0; r < n; r++)
        calc_ratings_add (ratings, i % 3, 0, i / 3);
    }
  for (gsize j = 0; j < 6; j++)
    {
      centre[j] = 0.0;
      for (gsize i = 0; i < ratings->data.n; i++)
        centre[j] += ratings->x[ratings->data.group[i] * 6 + j] / (double) ratings->data.n;
    }
  return ratings;
}

CalcRatings *
calc_ratings_new_lab (guint64 seed,
                      double *truth)
{
  static const double threshold[] = { -1.08, -0.36, 0.36, 1.08 };
  CalcRatings *ratings = calc_ratings_new (5, 4, 1);
  WbCalcRandom random;

  wb_calc_random_init (&random, seed, 0);
  for (gsize g = 0; g < 4; g++)
    {
      double eta;

      ratings->x[g] = (double) g - 1.5;
      eta = 0.8 * ratings->x[g] + 0.3 * wb_calc_random_normal (&random);
      if (truth != NULL)
        truth[g] = 0.0;
      for (gsize k = 0; k < 4 && truth != NULL; k++)
        truth[g] += wb_calc_normal_below ((eta - threshold[k]) / sqrt (1.25));
      for (gsize u = 0; u < 2; u++)
        {
          double deviate = 0.5 * wb_calc_random_normal (&random);

          for (gsize r = 0; r < 2; r++)
            {
              double latent = eta + deviate + wb_calc_random_normal (&random);
              gsize rating = 0;

              while (rating < 4 && latent > threshold[rating])
                rating++;
              calc_ratings_add (ratings, rating, 2 * g + u, g);
            }
        }
    }
  return ratings;
}

void
calc_ratings_fit (const CalcRatings        *ratings,
                  const WbCalcOrdinalPrior *prior,
                  guint64                   seed,
                  WbCalcOrdinalDraws       *draws)
{
  WbCalcStatus status = wb_calc_ordinal_fit (&ratings->data, prior, N_DRAWS, seed, NULL, NULL, draws);

  if (status != WB_CALC_ALL_SAME)
    g_assert_cmpint (status, ==, WB_CALC_OK);
  g_assert_cmpuint (draws->n_draws, ==, N_DRAWS);
}

double
calc_ratings_named (const WbCalcOrdinalDraws *draws,
                    gsize                     draw,
                    const char               *name)
{
  const char *bracket = strchr (name, '[');
  gsize i = bracket != NULL ? g_ascii_strtoull (bracket + 1, NULL, 10) - 1 : 0;
  double chances[WB_CALC_ORDINAL_MAX_CATEGORIES];
  double mean = 0.0;

  if (g_str_has_prefix (name, "theta"))
    return draws->threshold[draw * (draws->n_categories - 1) + i];
  if (g_str_has_prefix (name, "beta"))
    return draws->slope[draw * draws->n_columns + i];
  if (g_str_has_prefix (name, "eta"))
    return draws->eta[draw * draws->n_groups + i];
  if (g_str_equal (name, "sg"))
    return draws->group_sd[draw];
  if (g_str_equal (name, "su"))
    return draws->unit_sd[draw];
  g_assert_true (g_str_has_prefix (name, "mean"));
  wb_calc_ordinal_chances_next (draws, draw, i, chances);
  for (gsize k = 0; k < draws->n_categories; k++)
    mean += (double) k * chances[k];
  return mean;
}

double
calc_ratings_share_below (const double *values,
                          gsize         n,
                          double        limit)
{
  double share = 0.0;

  for (gsize i = 0; i < n; i++)
    share += values[i] < limit ? 1.0 / (double) n : 0.0;
  return share;
}

double
calc_ratings_quantile (double *values,
                       gsize   n,
                       double  p)
{
  gsl_sort (values, 1, n);
  return gsl_stats_quantile_from_sorted_data (values, 1, n, p);
}

void
calc_moments_add (CalcMoments *moments,
                  double       value)
{
  moments->sum += value;
  moments->square += value * value;
  moments->n += 1.0;
}

double
calc_moments_mean (const CalcMoments *moments)
{
  return moments->sum / moments->n;
}

double
calc_moments_sd (const CalcMoments *moments)
{
  return sqrt (moments->square / moments->n - pow (calc_moments_mean (moments), 2.0));
}

void
calc_assert_within_at (const char *file,
                       int         line,
                       const char *what,
                       double      actual,
                       double      expected,
                       double      tolerance)
{
  if (!(fabs (actual - expected) <= tolerance))
    g_error ("%s:%d: %s is %.9g, not within %.3g of %.9g", file, line, what, actual, tolerance, expected);
}
