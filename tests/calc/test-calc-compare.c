/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-compare.h"

#include <math.h>

#include <glib.h>
#include <gsl/gsl_errno.h>

#include "calc-table.h"

typedef struct
{
  gsize k;
  double *mean;
  gsize *count;
} Means;

static Means
means_by (const CalcTable *data,
          const char      *factor,
          const char      *response)
{
  Means means = { 0 };
  g_autofree gsize *level = calc_table_levels (data, factor, &means.k);

  means.mean = g_new0 (double, means.k);
  means.count = g_new0 (gsize, means.k);
  for (gsize i = 0; i < calc_table_n_rows (data); i++)
    {
      means.mean[level[i]] += calc_table_number (data, response, i);
      means.count[level[i]]++;
    }
  for (gsize g = 0; g < means.k; g++)
    means.mean[g] /= (double) means.count[g];
  return means;
}

static void
free_means (Means *means)
{
  g_free (means->mean);
  g_free (means->count);
}

/* All pairs of one factor against R's TukeyHSD; the p also against scipy, whence the absolute tolerance. */
static void
check_tukey (const char        *stem,
             const char        *factor,
             const char        *response,
             const char        *prefix,
             const char *const *labels)
{
  g_autofree char *data_stem = g_strconcat (stem, "_data", NULL);
  g_autofree char *certified_stem = g_strconcat (stem, "_certified", NULL);
  g_autoptr (CalcTable) data = calc_table_load (data_stem);
  g_autoptr (CalcTable) certified = calc_table_load (certified_stem);
  Means means = means_by (data, factor, response);
  g_autofree WbCalcComparison *pairs = g_new (WbCalcComparison, means.k * (means.k - 1) / 2);
  double df = calc_table_certified (certified, "df[Residuals]");

  g_assert_cmpint (wb_calc_compare_tukey (means.mean, means.count, means.k, calc_table_certified (certified, "ss[Residuals]") / df, df, 0.95, pairs), ==, WB_CALC_OK);
  for (gsize i = 0; i < means.k * (means.k - 1) / 2; i++)
    {
      g_autofree char *pair = g_strdup_printf ("[%s-%s]", labels[pairs[i].second], labels[pairs[i].first]);
      g_autofree char *difference = g_strconcat (prefix, "_diff", pair, NULL);
      g_autofree char *low = g_strconcat (prefix, "_lwr", pair, NULL);
      g_autofree char *high = g_strconcat (prefix, "_upr", pair, NULL);
      g_autofree char *p = g_strconcat (prefix, "_p_adj", pair, NULL);

      calc_assert_digits (difference, pairs[i].difference, calc_table_certified (certified, difference), 10);
      calc_assert_digits (low, pairs[i].low, calc_table_certified (certified, low), 6);
      calc_assert_digits (high, pairs[i].high, calc_table_certified (certified, high), 6);
      g_assert_cmpfloat_with_epsilon (pairs[i].p, calc_table_certified (certified, p), 1e-9);
    }
  free_means (&means);
}

static void
test_tukey (void)
{
  check_tukey ("battery", "material", "y", "tukey_material", (const char *[]) { "1", "2", "3" });
  check_tukey ("battery", "temperature", "y", "tukey_temperature", (const char *[]) { "15", "70", "125" });
  check_tukey ("bottling", "carbonation", "y", "tukey_A", (const char *[]) { "10", "12", "14" });
  check_tukey ("toothgrowth", "dose", "len", "tukey_dose", (const char *[]) { "0.5", "1", "2" });
  check_tukey ("plantgrowth", "group", "weight", "tukey", (const char *[]) { "ctrl", "trt1", "trt2" });
}

static void
test_tukey_edges (void)
{
  double mean[] = { 1.0, 1.0, 3.0 };
  size_t count[] = { 2, 5, 1 };
  size_t empty[] = { 2, 0, 1 };
  WbCalcComparison pairs[3];

  g_assert_cmpint (wb_calc_compare_tukey (mean, count, 3, 0.0, 4, 0.95, pairs), ==, WB_CALC_OK);
  g_assert_cmpfloat (pairs[0].p, ==, 1.0);
  g_assert_cmpfloat (pairs[1].p, ==, 0.0);
  g_assert_cmpfloat (pairs[1].low, ==, 2.0);
  g_assert_cmpuint (pairs[1].first, ==, 0);
  g_assert_cmpuint (pairs[1].second, ==, 2);
  g_assert_cmpint (wb_calc_compare_tukey (mean, count, 1, 1.0, 4, 0.95, pairs), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_compare_tukey (mean, empty, 3, 1.0, 4, 0.95, pairs), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_compare_tukey (mean, count, 3, NAN, 4, 0.95, pairs), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_compare_tukey (mean, count, 3, 1.0, 0, 0.95, pairs), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_compare_tukey (mean, count, 3, 1.0, 4, 95, pairs), ==, WB_CALC_BAD_INPUT);
  mean[1] = NAN;
  g_assert_cmpint (wb_calc_compare_tukey (mean, count, 3, 1.0, 4, 0.95, pairs), ==, WB_CALC_BAD_INPUT);
}

/* R's airquality, ozone by month: kruskal.test, equal to scipy; ties and groups of unequal size. */
static void
test_kruskal_wallis (void)
{
  g_autoptr (CalcTable) data = calc_table_load ("airquality_ozone_data");
  g_autoptr (CalcTable) certified = calc_table_load ("airquality_ozone_certified");
  gsize n_groups;
  g_autofree gsize *month = calc_table_levels (data, "month", &n_groups);
  g_autofree double *ozone = calc_table_numbers (data, "ozone");
  double sums[5];
  WbCalcKruskalWallis result;

  g_assert_cmpuint (n_groups, ==, 5);
  g_assert_cmpint (wb_calc_compare_kruskal_wallis (ozone, month, calc_table_n_rows (data), 5, sums, &result), ==, WB_CALC_OK);
  calc_assert_digits ("H", result.h, calc_table_certified (certified, "kruskal_h"), 10);
  calc_assert_digits ("p", result.p, calc_table_certified (certified, "p"), 8);
  g_assert_cmpuint (result.df, ==, 4);
  for (gsize g = 0; g < 5; g++)
    {
      g_autofree char *name = g_strdup_printf ("rank_sum[%" G_GSIZE_FORMAT "]", g + 5);

      g_assert_cmpfloat (sums[g], ==, calc_table_certified (certified, name));
    }

  /* Any rising function of the values leaves the ranks alone. */
  for (gsize i = 0; i < calc_table_n_rows (data); i++)
    ozone[i] = log (ozone[i]) - 1e6;
  g_assert_cmpint (wb_calc_compare_kruskal_wallis (ozone, month, calc_table_n_rows (data), 5, NULL, &result), ==, WB_CALC_OK);
  calc_assert_digits ("H", result.h, calc_table_certified (certified, "kruskal_h"), 8);
}

static void
test_kruskal_wallis_edges (void)
{
  double y[] = { 1, 2, 3, 4 };
  double equal[] = { 2, 2, 2, 2 };
  size_t group[] = { 0, 0, 1, 1 };
  size_t one[] = { 0, 0, 0, 0 };
  WbCalcKruskalWallis result;

  g_assert_cmpint (wb_calc_compare_kruskal_wallis (y, group, 0, 2, NULL, &result), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_compare_kruskal_wallis (y, group, 1, 2, NULL, &result), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_compare_kruskal_wallis (y, one, 4, 2, NULL, &result), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_compare_kruskal_wallis (equal, group, 4, 2, NULL, &result), ==, WB_CALC_FLAT);
  g_assert_cmpint (wb_calc_compare_kruskal_wallis (y, group, 4, 1, NULL, &result), ==, WB_CALC_BAD_INPUT);
  y[0] = NAN;
  g_assert_cmpint (wb_calc_compare_kruskal_wallis (y, group, 4, 2, NULL, &result), ==, WB_CALC_BAD_INPUT);
}

/* R's p.adjust. */
static void
test_holm (void)
{
  g_autoptr (CalcTable) table = calc_table_load ("p_adjust");
  gsize n = calc_table_n_rows (table);
  g_autofree double *p = calc_table_numbers (table, "p");
  g_autofree double *adjusted = g_new (double, n);
  double bad[] = { 0.5, 1.5 };

  g_assert_cmpint (wb_calc_compare_holm (p, n, adjusted), ==, WB_CALC_OK);
  for (gsize i = 0; i < n; i++)
    calc_assert_digits ("holm", adjusted[i], calc_table_number (table, "holm", i), 12);

  /* Backwards and in place. */
  for (gsize i = 0; i < n; i++)
    adjusted[i] = p[n - 1 - i];
  g_assert_cmpint (wb_calc_compare_holm (adjusted, n, adjusted), ==, WB_CALC_OK);
  for (gsize i = 0; i < n; i++)
    calc_assert_digits ("holm backwards", adjusted[n - 1 - i], calc_table_number (table, "holm", i), 12);

  g_assert_cmpint (wb_calc_compare_holm (p, 0, adjusted), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_compare_holm (bad, 2, adjusted), ==, WB_CALC_BAD_INPUT);
  bad[1] = NAN;
  g_assert_cmpint (wb_calc_compare_holm (bad, 2, adjusted), ==, WB_CALC_BAD_INPUT);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/compare/tukey-agrees-with-published-designs", test_tukey);
  g_test_add_func ("/calc/compare/tukey-without-error-and-with-bad-input", test_tukey_edges);
  g_test_add_func ("/calc/compare/kruskal-wallis-with-ties", test_kruskal_wallis);
  g_test_add_func ("/calc/compare/kruskal-wallis-with-too-little", test_kruskal_wallis_edges);
  g_test_add_func ("/calc/compare/holm-adjusts-in-the-order-given", test_holm);
  return g_test_run ();
}
