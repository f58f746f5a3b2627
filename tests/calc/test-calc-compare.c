/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-compare.h"

#include <math.h>

#include <glib.h>
#include <gsl/gsl_errno.h>

#include "calc-table.h"
#include "wb-calc-anova.h"
#include "wb-calc-quantile.h"
#include "wb-calc-summary.h"

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

/* All six cells of a two-way grid at once: R's TukeyHSD on the interaction of ToothGrowth. */
static void
test_tukey_cells (void)
{
  static const char *const names[] = { "OJ:0.5", "VC:0.5", "OJ:1", "VC:1", "OJ:2", "VC:2" };
  g_autoptr (CalcTable) certified = calc_table_load ("toothgrowth_certified");
  double df = calc_table_certified (certified, "df[Residuals]");
  double mean[6];
  gsize count[6];
  WbCalcComparison pairs[15];

  for (gsize c = 0; c < 6; c++)
    {
      g_auto (GStrv) parts = g_strsplit (names[c], ":", 2);
      g_autofree char *name = g_strdup_printf ("cell_mean[%s;%s]", parts[0], parts[1]);

      mean[c] = calc_table_certified (certified, name);
      count[c] = 10;
    }
  g_assert_cmpint (wb_calc_compare_tukey (mean, count, 6, calc_table_certified (certified, "ss[Residuals]") / df, df, 0.95, pairs), ==, WB_CALC_OK);
  for (gsize i = 0; i < 15; i++)
    {
      g_autofree char *pair = g_strdup_printf ("[%s-%s]", names[pairs[i].second], names[pairs[i].first]);
      g_autofree char *low = g_strconcat ("tukey_cell_lwr", pair, NULL);
      g_autofree char *high = g_strconcat ("tukey_cell_upr", pair, NULL);
      g_autofree char *p = g_strconcat ("tukey_cell_p_adj", pair, NULL);

      calc_assert_digits (low, pairs[i].low, calc_table_certified (certified, low), 6);
      calc_assert_digits (high, pairs[i].high, calc_table_certified (certified, high), 6);
      g_assert_cmpfloat_with_epsilon (pairs[i].p, calc_table_certified (certified, p), 1e-9);
    }
}

/* The battery's materials at 70 degrees alone, on the variance of those 12: R's TukeyHSD. */
static void
test_tukey_of_a_slice (void)
{
  static const char *const labels[] = { "1", "2", "3" };
  g_autoptr (CalcTable) data = calc_table_load ("battery_data");
  g_autoptr (CalcTable) certified = calc_table_load ("battery_certified");
  gsize n_levels;
  g_autofree gsize *material = calc_table_levels (data, "material", &n_levels);
  double y[12];
  gsize group[12];
  double mean[3] = { 0.0 };
  gsize count[3] = { 4, 4, 4 };
  gsize n = 0;
  WbCalcAnova table;
  WbCalcComparison pairs[3];

  for (gsize i = 0; i < calc_table_n_rows (data); i++)
    if (calc_table_number (data, "temperature", i) == 70.0)
      {
        y[n] = calc_table_number (data, "y", i);
        group[n] = material[i];
        mean[material[i]] += y[n++] / 4.0;
      }
  g_assert_cmpuint (n, ==, 12);
  g_assert_cmpint (wb_calc_anova_one_way (y, group, n, 3, &table), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_compare_tukey (mean, count, 3, table.residual_mean_sq, (double) table.residual_df, 0.95, pairs), ==, WB_CALC_OK);
  wb_calc_anova_clear (&table);
  for (gsize i = 0; i < 3; i++)
    {
      g_autofree char *pair = g_strdup_printf ("[%s-%s]", labels[pairs[i].second], labels[pairs[i].first]);
      g_autofree char *difference = g_strconcat ("tukey_material_at70_onewayMSE_diff", pair, NULL);
      g_autofree char *low = g_strconcat ("tukey_material_at70_onewayMSE_lwr", pair, NULL);
      g_autofree char *p = g_strconcat ("tukey_material_at70_onewayMSE_p_adj", pair, NULL);

      calc_assert_digits (difference, pairs[i].difference, calc_table_certified (certified, difference), 10);
      calc_assert_digits (low, pairs[i].low, calc_table_certified (certified, low), 6);
      calc_assert_digits (p, pairs[i].p, calc_table_certified (certified, p), 5);
    }
}

static WbCalcSummary
summary_where (const CalcTable *data,
               const char      *factor,
               const char      *level,
               const char      *response)
{
  g_autofree double *y = g_new (double, calc_table_n_rows (data));
  WbCalcSummary summary;
  gsize n = 0;

  for (gsize i = 0; i < calc_table_n_rows (data); i++)
    if (g_str_equal (calc_table_text (data, factor, i), level))
      y[n++] = calc_table_number (data, response, i);
  g_assert_cmpint (wb_calc_summary_of (y, n, &summary), ==, WB_CALC_OK);
  return summary;
}

/* Two-sided p of Student's t, as the studentized range of two means. */
static double
p_of_t (double t,
        double df)
{
  double p = NAN;

  g_assert_cmpint (wb_calc_compare_studentized_range_tail (fabs (t) * G_SQRT2, 2, df, &p), ==, WB_CALC_OK);
  return p;
}

/* Pairs by t on the pooled variance, Holm over them: R's pairwise.t.test, to the digits of the tables. */
static void
check_pairwise (const char        *stem,
                const char        *factor,
                const char        *response,
                const char        *holm_name,
                const char        *plain_name,
                const char *const *labels,
                double             digits)
{
  g_autofree char *data_stem = g_strconcat (stem, "_data", NULL);
  g_autofree char *certified_stem = g_strconcat (stem, "_certified", NULL);
  g_autoptr (CalcTable) data = calc_table_load (data_stem);
  g_autoptr (CalcTable) certified = calc_table_load (certified_stem);
  Means means = means_by (data, factor, response);
  gsize n_pairs = means.k * (means.k - 1) / 2;
  gsize n_levels;
  g_autofree gsize *level = calc_table_levels (data, factor, &n_levels);
  g_autofree double *y = calc_table_numbers (data, response);
  g_autofree double *plain = g_new (double, n_pairs);
  g_autofree double *holm = g_new (double, n_pairs);
  gsize at = 0;
  WbCalcAnova table;

  g_assert_cmpint (wb_calc_anova_one_way (y, level, calc_table_n_rows (data), n_levels, &table), ==, WB_CALC_OK);
  for (gsize j = 1; j < means.k; j++)
    for (gsize i = 0; i < j; i++)
      plain[at++] = p_of_t ((means.mean[j] - means.mean[i])
                                / sqrt (table.residual_mean_sq * (1.0 / (double) means.count[i] + 1.0 / (double) means.count[j])),
                            (double) table.residual_df);
  wb_calc_anova_clear (&table);
  g_assert_cmpint (wb_calc_compare_holm (plain, n_pairs, holm), ==, WB_CALC_OK);
  at = 0;
  for (gsize j = 1; j < means.k; j++)
    for (gsize i = 0; i < j; i++, at++)
      {
        g_autofree char *in_holm = g_strdup_printf ("%s[%s-%s]", holm_name, labels[j], labels[i]);

        calc_assert_digits (in_holm, holm[at], calc_table_certified (certified, in_holm), digits);
        if (plain_name != NULL)
          {
            g_autofree char *in_plain = g_strdup_printf ("%s[%s-%s]", plain_name, labels[j], labels[i]);

            calc_assert_digits (in_plain, plain[at], calc_table_certified (certified, in_plain), digits);
          }
      }
  free_means (&means);
}

static void
test_pairwise (void)
{
  check_pairwise ("plantgrowth", "group", "weight", "pairwise_t_holm", "pairwise_t_none",
                  (const char *[]) { "ctrl", "trt1", "trt2" }, 8);
  check_pairwise ("airquality_ozone", "month", "ozone", "pairwise_t_pooled_holm", NULL,
                  (const char *[]) { "5", "6", "7", "8", "9" }, 6);
}

/*
 * R's InsectSprays after Games and Howell: t and Welch's degrees of freedom, which are no whole
 * numbers, by hand from the groups' summaries; p is the studentized range's. R's own p are good
 * to 1e-9 and the table holds them to 4 digits.
 */
static void
test_fractional_df (void)
{
  static const char *const sprays[] = { "A", "B", "C", "D", "E", "F" };
  g_autoptr (CalcTable) data = calc_table_load ("insectsprays_data");
  g_autoptr (CalcTable) certified = calc_table_load ("insectsprays_certified");

  for (gsize j = 1; j < 6; j++)
    for (gsize i = 0; i < j; i++)
      {
        g_autofree char *t_name = g_strdup_printf ("games_howell_t[%s-%s]", sprays[j], sprays[i]);
        g_autofree char *df_name = g_strdup_printf ("games_howell_df[%s-%s]", sprays[j], sprays[i]);
        g_autofree char *p_name = g_strdup_printf ("games_howell_p[%s-%s]", sprays[j], sprays[i]);
        WbCalcSummary a = summary_where (data, "spray", sprays[i], "count");
        WbCalcSummary b = summary_where (data, "spray", sprays[j], "count");
        double of_a = a.sd * a.sd / (double) a.n;
        double of_b = b.sd * b.sd / (double) b.n;
        double t = (b.mean - a.mean) / sqrt (of_a + of_b);
        double df = (of_a + of_b) * (of_a + of_b) / (of_a * of_a / (double) (a.n - 1) + of_b * of_b / (double) (b.n - 1));
        double p;

        calc_assert_digits (t_name, t, calc_table_certified (certified, t_name), 10);
        calc_assert_digits (df_name, df, calc_table_certified (certified, df_name), 10);
        g_assert_cmpint (wb_calc_compare_studentized_range_tail (fabs (t) * G_SQRT2, 6, df, &p), ==, WB_CALC_OK);
        g_assert_cmpfloat_with_epsilon (p, calc_table_certified (certified, p_name), 1e-9);
        if (p > 1e-5)
          calc_assert_digits (p_name, p, calc_table_certified (certified, p_name), 4);
      }
}

/* Student's sleep data: Welch and paired t by R's t.test; our part is summaries, p and the quantile of fractional degrees of freedom. */
static void
test_sleep (void)
{
  g_autoptr (CalcTable) data = calc_table_load ("sleep_data");
  g_autoptr (CalcTable) certified = calc_table_load ("sleep_certified");
  WbCalcSummary a = summary_where (data, "group", "1", "extra");
  WbCalcSummary b = summary_where (data, "group", "2", "extra");
  double of_a = a.sd * a.sd / 10.0;
  double of_b = b.sd * b.sd / 10.0;
  double error = sqrt (of_a + of_b);
  double df = (of_a + of_b) * (of_a + of_b) / ((of_a * of_a + of_b * of_b) / 9.0);
  double difference[10];
  WbCalcSummary paired;

  calc_assert_digits ("mean", a.mean, calc_table_certified (certified, "mean[1]"), 10);
  calc_assert_digits ("sd", b.sd, calc_table_certified_sd (certified, "mean[2]"), 10);
  calc_assert_digits ("df", df, calc_table_certified (certified, "welch_df"), 10);
  calc_assert_digits ("p", p_of_t ((a.mean - b.mean) / error, df), calc_table_certified (certified, "welch_p"), 8);
  calc_assert_digits ("low", a.mean - b.mean - wb_calc_student_quantile (0.975, df) * error,
                      calc_table_certified (certified, "welch_ci_low"), 10);

  for (gsize i = 0; i < 10; i++)
    difference[i] = calc_table_number (data, "extra", i) - calc_table_number (data, "extra", i + 10);
  g_assert_cmpint (wb_calc_summary_of (difference, 10, &paired), ==, WB_CALC_OK);
  calc_assert_digits ("paired p", p_of_t (paired.mean / paired.sd * sqrt (10.0), 9.0), calc_table_certified (certified, "paired_p"), 8);
  calc_assert_digits ("paired high", paired.mean + wb_calc_student_quantile (0.975, 9.0) * paired.sd / sqrt (10.0),
                      calc_table_certified (certified, "paired_ci_high"), 10);
}

/* Two one-sided tests of the sleep data by R's t.test with a shifted mean, Welch and in pairs; the interval is its 90 % one. */
static void
test_equivalence (void)
{
  g_autoptr (CalcTable) table = calc_table_load ("sleep_equivalence");

  for (gsize i = 0; i < calc_table_n_rows (table); i++)
    {
      double margin = calc_table_number (table, "margin", i);
      double difference = calc_table_number (table, "difference", i);
      double error = calc_table_number (table, "error", i);
      double df = calc_table_number (table, "df", i);
      WbCalcEquivalence result, turned;

      g_assert_cmpint (wb_calc_compare_equivalence (difference, error, df, margin, 0.05, &result), ==, WB_CALC_OK);
      calc_assert_digits ("p", result.p, calc_table_number (table, "p", i), 10);
      calc_assert_digits ("low", result.low, calc_table_number (table, "low", i), 10);
      calc_assert_digits ("high", result.high, calc_table_number (table, "high", i), 10);
      g_assert_true (result.equivalent == (result.low > -margin && result.high < margin));
      g_assert_cmpint (wb_calc_compare_equivalence (-25.4 * difference, 25.4 * error, df, 25.4 * margin, 0.05, &turned), ==, WB_CALC_OK);
      calc_assert_digits ("p turned round", turned.p, result.p, 12);
      calc_assert_digits ("low turned round", turned.low, -25.4 * result.high, 12);
    }
}

static void
test_equivalence_edges (void)
{
  static const double bad[] = { NAN, INFINITY, -INFINITY };
  WbCalcEquivalence result;

  g_assert_cmpint (wb_calc_compare_equivalence (1.0, 0.0, 5, 2.0, 0.05, &result), ==, WB_CALC_OK);
  g_assert_cmpfloat (result.p, ==, 0.0);
  g_assert_true (result.equivalent);
  g_assert_cmpint (wb_calc_compare_equivalence (2.0, 0.0, 5, 2.0, 0.05, &result), ==, WB_CALC_OK);
  g_assert_cmpfloat (result.p, ==, 1.0);
  g_assert_false (result.equivalent);
  /* A known error: the normal, at its 5 % point. */
  g_assert_cmpint (wb_calc_compare_equivalence (0.0, 1.0, INFINITY, 1.6448536269514722, 0.05, &result), ==, WB_CALC_OK);
  calc_assert_digits ("p", result.p, 0.05, 12);
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_assert_cmpint (wb_calc_compare_equivalence (bad[i], 1.0, 5, 2.0, 0.05, &result), ==, WB_CALC_BAD_INPUT);
      g_assert_cmpint (wb_calc_compare_equivalence (1.0, bad[i], 5, 2.0, 0.05, &result), ==, WB_CALC_BAD_INPUT);
      g_assert_cmpint (wb_calc_compare_equivalence (1.0, 1.0, 5, bad[i], 0.05, &result), ==, WB_CALC_BAD_INPUT);
      g_assert_cmpint (wb_calc_compare_equivalence (1.0, 1.0, 5, 2.0, bad[i], &result), ==, WB_CALC_BAD_INPUT);
    }
  g_assert_cmpint (wb_calc_compare_equivalence (1.0, 1.0, NAN, 2.0, 0.05, &result), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_compare_equivalence (1.0, 1.0, 5, 0.0, 0.05, &result), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_compare_equivalence (1.0, 1.0, 5, 2.0, 0.5, &result), ==, WB_CALC_BAD_INPUT);
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
  g_test_add_func ("/calc/compare/tukey-over-the-cells-of-a-grid", test_tukey_cells);
  g_test_add_func ("/calc/compare/tukey-within-a-slice-of-the-grid", test_tukey_of_a_slice);
  g_test_add_func ("/calc/compare/pairs-by-t-and-holm", test_pairwise);
  g_test_add_func ("/calc/compare/degrees-of-freedom-need-not-be-whole", test_fractional_df);
  g_test_add_func ("/calc/compare/two-groups-by-welch-and-in-pairs", test_sleep);
  g_test_add_func ("/calc/compare/equivalence-by-two-one-sided-tests", test_equivalence);
  g_test_add_func ("/calc/compare/equivalence-at-its-ends", test_equivalence_edges);
  g_test_add_func ("/calc/compare/tukey-without-error-and-with-bad-input", test_tukey_edges);
  g_test_add_func ("/calc/compare/kruskal-wallis-with-ties", test_kruskal_wallis);
  g_test_add_func ("/calc/compare/kruskal-wallis-with-too-little", test_kruskal_wallis_edges);
  g_test_add_func ("/calc/compare/holm-adjusts-in-the-order-given", test_holm);
  return g_test_run ();
}
