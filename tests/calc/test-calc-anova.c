/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-anova.h"

#include <math.h>

#include <glib.h>
#include <gsl/gsl_errno.h>

#include "calc-table.h"
#include "wb-calc-linear.h"

/*
 * NIST StRD, one-way; p by mpmath. SmLs04 holds 13 equal leading digits: F is right to 10.4 of
 * them once the first datum is taken off, 9.3 without; SmLs01's to 14.9.
 */
static void
test_nist (void)
{
  static const struct
  {
    const char *stem;
    double digits;
    double f_digits;
    double p_digits;
  } cases[] = { { "sirstv", 13, 13, 12.5 }, { "smls01", 15, 14.9, 13 }, { "smls04", 10, 10.3, 8.5 } };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *data_stem = g_strconcat (cases[i].stem, "_data", NULL);
      g_autofree char *certified_stem = g_strconcat (cases[i].stem, "_certified", NULL);
      g_autoptr (CalcTable) data = calc_table_load (data_stem);
      g_autoptr (CalcTable) certified = calc_table_load (certified_stem);
      gsize n_groups;
      g_autofree gsize *group = calc_table_levels (data, "group", &n_groups);
      g_autofree double *y = calc_table_numbers (data, "y");
      double digits = cases[i].digits;
      WbCalcAnova result;

      g_assert_cmpint (wb_calc_anova_one_way (y, group, calc_table_n_rows (data), n_groups, &result), ==, WB_CALC_OK);
      g_assert_cmpfloat ((double) result.terms[0].df, ==, calc_table_certified (certified, "df_between"));
      g_assert_cmpfloat ((double) result.residual_df, ==, calc_table_certified (certified, "df_within"));
      calc_assert_digits (data_stem, result.terms[0].sum_sq, calc_table_certified (certified, "ss_between"), digits);
      calc_assert_digits (data_stem, result.residual_sum_sq, calc_table_certified (certified, "ss_within"), digits);
      calc_assert_digits (data_stem, result.terms[0].f, calc_table_certified (certified, "f_statistic"), cases[i].f_digits);
      calc_assert_digits (data_stem, result.r_squared, calc_table_certified (certified, "r_squared"), digits);
      calc_assert_digits (data_stem, sqrt (result.residual_mean_sq), calc_table_certified (certified, "residual_sd"), digits);
      calc_assert_digits (data_stem, result.terms[0].p, calc_table_certified (certified, "p_value"), cases[i].p_digits);
      wb_calc_anova_clear (&result);
    }
}

typedef struct
{
  const char *stem;
  const char *response;
  const char *columns[3]; /* in the data */
  const char *names[3];   /* in the answers */
} Design;

static const Design DESIGNS[] = {
  { "battery", "y", { "material", "temperature", NULL }, { "material", "temperature", NULL } },
  { "bottling", "y", { "carbonation", "pressure", "speed" }, { "A", "B", "C" } },
  { "toothgrowth", "len", { "supp", "dose", NULL }, { "supp", "dose", NULL } },
  { "co2", "uptake", { "type", "treatment", "conc" }, { "Type", "Treatment", "concf" } },
};

typedef struct
{
  gsize n;
  gsize n_factors;
  double *y;
  gsize *level[3];
  gsize n_levels[3];
} Loaded;

static Loaded
load_design (const Design *design)
{
  g_autofree char *stem = g_strconcat (design->stem, "_data", NULL);
  g_autoptr (CalcTable) data = calc_table_load (stem);
  Loaded loaded = { .n = calc_table_n_rows (data), .y = calc_table_numbers (data, design->response) };

  while (loaded.n_factors < 3 && design->columns[loaded.n_factors] != NULL)
    {
      gsize f = loaded.n_factors++;

      loaded.level[f] = calc_table_levels (data, design->columns[f], &loaded.n_levels[f]);
    }
  return loaded;
}

static void
free_design (Loaded *loaded)
{
  g_free (loaded->y);
  for (gsize f = 0; f < loaded->n_factors; f++)
    g_free (loaded->level[f]);
}

static WbCalcAnova
analyse (const Loaded *loaded,
         gsize         max_order)
{
  const size_t *const level[3] = { loaded->level[0], loaded->level[1], loaded->level[2] };
  WbCalcAnovaData data = { loaded->n, loaded->y, loaded->n_factors, level, loaded->n_levels };
  unsigned terms[7];
  gsize n_terms = wb_calc_anova_all_terms (loaded->n_factors, max_order, terms);
  WbCalcAnova result;

  g_assert_cmpint (wb_calc_anova_fit (&data, terms, n_terms, NULL, NULL, &result), ==, WB_CALC_OK);
  return result;
}

static char *
term_name (const Design *design,
           unsigned      term)
{
  GString *name = g_string_new (NULL);

  for (gsize f = 0; f < 3; f++)
    if ((term >> f & 1u) != 0)
      g_string_append_printf (name, "%s%s", name->len > 0 ? "*" : "", design->names[f]);
  return g_string_free (name, FALSE);
}

/* Balanced factorials: Montgomery's battery and bottling, ToothGrowth and CO2 of R's datasets, by R's aov. */
static void
test_factorials (void)
{
  for (gsize d = 0; d < G_N_ELEMENTS (DESIGNS); d++)
    {
      const Design *design = &DESIGNS[d];
      g_autofree char *stem = g_strconcat (design->stem, "_certified", NULL);
      g_autoptr (CalcTable) certified = calc_table_load (stem);
      Loaded loaded = load_design (design);
      WbCalcAnova result = analyse (&loaded, 3);

      for (gsize t = 0; t < result.n_terms; t++)
        {
          const WbCalcAnovaTerm *term = &result.terms[t];
          g_autofree char *name = term_name (design, term->factors);
          g_autofree char *df = g_strdup_printf ("df[%s]", name);
          g_autofree char *ss = g_strdup_printf ("ss[%s]", name);
          g_autofree char *f = g_strdup_printf ("f[%s]", name);
          g_autofree char *p = g_strdup_printf ("p[%s]", name);

          g_assert_cmpfloat ((double) term->df, ==, calc_table_certified (certified, df));
          calc_assert_digits (ss, term->sum_sq, calc_table_certified (certified, ss), 10);
          calc_assert_digits (f, term->f, calc_table_certified (certified, f), 10);
          calc_assert_digits (p, term->p, calc_table_certified (certified, p), 8);
        }
      g_assert_cmpfloat ((double) result.residual_df, ==, calc_table_certified (certified, "df[Residuals]"));
      calc_assert_digits (stem, result.residual_sum_sq, calc_table_certified (certified, "ss[Residuals]"), 10);
      calc_assert_digits (stem, result.total_sum_sq, calc_table_certified (certified, "ss[Total]"), 10);
      calc_assert_digits (stem, result.r_squared, calc_table_certified (certified, "r_squared"), 10);
      calc_assert_digits (stem, result.mean, calc_table_certified (certified, "grand_mean"), 10);
      wb_calc_anova_clear (&result);
      free_design (&loaded);
    }
}

static void
test_shares (void)
{
  g_autoptr (CalcTable) certified = calc_table_load ("toothgrowth_certified");
  Loaded loaded = load_design (&DESIGNS[2]);
  WbCalcAnova result = analyse (&loaded, 2);

  calc_assert_digits ("eta2", result.terms[0].eta_sq, calc_table_certified (certified, "eta2[supp]"), 10);
  calc_assert_digits ("partial eta2", result.terms[1].partial_eta_sq, calc_table_certified (certified, "partial_eta2[dose]"), 10);
  calc_assert_digits ("partial eta2", result.terms[2].partial_eta_sq, calc_table_certified (certified, "partial_eta2[supp*dose]"), 10);
  wb_calc_anova_clear (&result);
  free_design (&loaded);
}

/* Does the model hold the dummy of levels (a, b), 0 standing for "any"? Bits: 1 the first factor, 2 the second, 4 both. */
static gboolean
holds_dummy (unsigned model,
             gsize    a,
             gsize    b)
{
  if (a > 0 && b > 0)
    return (model & 4u) != 0;
  if (a > 0)
    return (model & 1u) != 0;
  return b > 0 && (model & 2u) != 0;
}

/* Residual sum of squares of two three-level factors by regression on dummies: another way to the same figure. */
static double
rss_by_regression (const Loaded *loaded,
                   unsigned      model)
{
  g_autofree double *x = g_new0 (double, loaded->n * 8);
  gsize columns = 0;
  gsize at = 0;
  WbCalcLinear fit;

  for (gsize k = 0; k < 9; k++)
    columns += holds_dummy (model, k % 3, k / 3) ? 1 : 0;
  for (gsize k = 0; k < 9; k++)
    {
      gsize a = k % 3;
      gsize b = k / 3;

      if (!holds_dummy (model, a, b))
        continue;
      for (gsize i = 0; i < loaded->n; i++)
        {
          gboolean in_a = a == 0 || loaded->level[0][i] == a;
          gboolean in_b = b == 0 || loaded->level[1][i] == b;

          x[i * columns + at] = in_a && in_b ? 1.0 : 0.0;
        }
      at++;
    }
  g_assert_cmpint (wb_calc_linear_fit (x, loaded->y, NULL, loaded->n, columns, true, &fit), ==, WB_CALC_OK);

  double rss = fit.residual_sum_sq;

  wb_calc_linear_clear (&fit);
  return rss;
}

/* The battery data with observations missing: type II is a difference of regressions that can be had another way. */
static void
test_unbalanced (void)
{
  Loaded loaded = load_design (&DESIGNS[0]);
  gsize kept = 0;

  for (gsize i = 0; i < loaded.n; i++)
    {
      if (i % 5 == 2 || i % 7 == 0)
        continue;
      loaded.y[kept] = loaded.y[i];
      loaded.level[0][kept] = loaded.level[0][i];
      loaded.level[1][kept++] = loaded.level[1][i];
    }
  loaded.n = kept;

  WbCalcAnova result = analyse (&loaded, 2);

  calc_assert_digits ("material", result.terms[0].sum_sq, rss_by_regression (&loaded, 2) - rss_by_regression (&loaded, 3), 10);
  calc_assert_digits ("temperature", result.terms[1].sum_sq, rss_by_regression (&loaded, 1) - rss_by_regression (&loaded, 3), 10);
  calc_assert_digits ("both", result.terms[2].sum_sq, rss_by_regression (&loaded, 3) - rss_by_regression (&loaded, 7), 10);
  calc_assert_digits ("residual", result.residual_sum_sq, rss_by_regression (&loaded, 7), 10);
  g_assert_cmpuint (result.terms[2].df, ==, 4);
  wb_calc_anova_clear (&result);
  free_design (&loaded);
}

/* A cell of the grid that was never filled takes a degree of freedom from the interaction, and nothing breaks. */
static void
test_empty_cell (void)
{
  Loaded loaded = load_design (&DESIGNS[0]);
  gsize kept = 0;

  for (gsize i = 0; i < loaded.n; i++)
    {
      if (loaded.level[0][i] == 2 && loaded.level[1][i] == 2)
        continue;
      loaded.y[kept] = loaded.y[i];
      loaded.level[0][kept] = loaded.level[0][i];
      loaded.level[1][kept++] = loaded.level[1][i];
    }
  loaded.n = kept;

  WbCalcAnova result = analyse (&loaded, 2);

  g_assert_cmpuint (result.terms[0].df, ==, 2);
  g_assert_cmpuint (result.terms[1].df, ==, 2);
  g_assert_cmpuint (result.terms[2].df, ==, 3);
  g_assert_cmpuint (result.residual_df, ==, 24);
  calc_assert_digits ("material", result.terms[0].sum_sq, rss_by_regression (&loaded, 2) - rss_by_regression (&loaded, 3), 10);
  wb_calc_anova_clear (&result);
  free_design (&loaded);
}

/* Shift, scale and the numbering of levels leave F alone. */
static void
test_invariance (void)
{
  Loaded loaded = load_design (&DESIGNS[0]);
  WbCalcAnova plain = analyse (&loaded, 2);

  for (gsize i = 0; i < loaded.n; i++)
    {
      loaded.y[i] = 1e8 + 0.001 * loaded.y[i];
      loaded.level[0][i] = 2 - loaded.level[0][i];
    }

  WbCalcAnova moved = analyse (&loaded, 2);

  for (gsize t = 0; t < 3; t++)
    calc_assert_digits ("F", moved.terms[t].f, plain.terms[t].f, 5);
  wb_calc_anova_clear (&plain);
  wb_calc_anova_clear (&moved);
  free_design (&loaded);
}

static void
test_edges (void)
{
  double y[] = { 1.0, 2.0, 4.0, 7.0 };
  double equal[] = { 3.0, 3.0, 3.0, 3.0 };
  double bad[] = { 1.0, 2.0, INFINITY, 7.0 };
  size_t a[] = { 0, 0, 1, 1 };
  size_t b[] = { 0, 1, 0, 1 };
  size_t one[] = { 0, 0, 0, 0 };
  size_t out[] = { 0, 0, 1, 2 };
  const size_t *const level[] = { a, b };
  size_t n_levels[] = { 2, 2 };
  WbCalcAnovaData data = { 4, y, 2, level, n_levels };
  unsigned terms[] = { 1, 2, 3 };
  unsigned twice[] = { 1, 1 };
  unsigned strange[] = { 8 };
  WbCalcAnova result;

  /* One observation a cell: no residual, no F, but the sums of squares. By hand: 16, 4, 1. */
  g_assert_cmpint (wb_calc_anova_fit (&data, terms, 3, NULL, NULL, &result), ==, WB_CALC_OK);
  g_assert_cmpuint (result.residual_df, ==, 0);
  calc_assert_digits ("a", result.terms[0].sum_sq, 16.0, 12);
  calc_assert_digits ("b", result.terms[1].sum_sq, 4.0, 12);
  calc_assert_digits ("ab", result.terms[2].sum_sq, 1.0, 12);
  g_assert_true (isnan (result.terms[0].f) && isnan (result.terms[0].p) && isnan (result.residual_mean_sq));
  wb_calc_anova_clear (&result);

  /* Main effects alone: the interaction is the residual. */
  g_assert_cmpint (wb_calc_anova_fit (&data, terms, 2, NULL, NULL, &result), ==, WB_CALC_OK);
  g_assert_cmpuint (result.residual_df, ==, 1);
  calc_assert_digits ("F", result.terms[0].f, 16.0, 11);
  wb_calc_anova_clear (&result);

  g_assert_cmpint (wb_calc_anova_fit (&data, terms, 0, NULL, NULL, &result), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_anova_fit (&data, twice, 2, NULL, NULL, &result), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_anova_fit (&data, strange, 1, NULL, NULL, &result), ==, WB_CALC_BAD_INPUT);
  data.y = bad;
  g_assert_cmpint (wb_calc_anova_fit (&data, terms, 3, NULL, NULL, &result), ==, WB_CALC_BAD_INPUT);
  data.y = equal;
  g_assert_cmpint (wb_calc_anova_fit (&data, terms, 2, NULL, NULL, &result), ==, WB_CALC_OK);
  g_assert_cmpfloat (result.total_sum_sq, ==, 0.0);
  g_assert_true (isnan (result.terms[0].f) && isnan (result.r_squared) && isnan (result.terms[0].eta_sq));
  wb_calc_anova_clear (&result);

  g_assert_cmpint (wb_calc_anova_one_way (y, a, 0, 2, &result), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_anova_one_way (y, a, 1, 2, &result), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_anova_one_way (y, one, 4, 2, &result), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_anova_one_way (y, out, 4, 2, &result), ==, WB_CALC_BAD_INPUT);
  g_assert_null (result.terms);
  /* A group that is never seen changes nothing. */
  g_assert_cmpint (wb_calc_anova_one_way (y, a, 4, 3, &result), ==, WB_CALC_OK);
  g_assert_cmpuint (result.terms[0].df, ==, 1);
  calc_assert_digits ("F", result.terms[0].f, 16.0 / 2.5, 12);
  wb_calc_anova_clear (&result);
}

static void
test_terms (void)
{
  unsigned terms[7];

  g_assert_cmpuint (wb_calc_anova_all_terms (3, 3, terms), ==, 7);
  g_assert_cmpuint (terms[0], ==, 1);
  g_assert_cmpuint (terms[2], ==, 4);
  g_assert_cmpuint (terms[3], ==, 3);
  g_assert_cmpuint (terms[6], ==, 7);
  g_assert_cmpuint (wb_calc_anova_all_terms (3, 1, terms), ==, 3);
  g_assert_cmpuint (wb_calc_anova_all_terms (0, 1, terms), ==, 0);
}

static bool
say_no (void *user)
{
  return false;
}

static void
test_cancel (void)
{
  Loaded loaded = load_design (&DESIGNS[0]);
  const size_t *const level[2] = { loaded.level[0], loaded.level[1] };
  WbCalcAnovaData data = { loaded.n, loaded.y, 2, level, loaded.n_levels };
  unsigned term = 1;
  WbCalcAnova result;

  g_assert_cmpint (wb_calc_anova_fit (&data, &term, 1, say_no, NULL, &result), ==, WB_CALC_CANCELLED);
  g_assert_null (result.terms);
  free_design (&loaded);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/anova/nist-one-way-sets-agree", test_nist);
  g_test_add_func ("/calc/anova/balanced-factorials-give-the-textbook-table", test_factorials);
  g_test_add_func ("/calc/anova/shares-of-the-variance", test_shares);
  g_test_add_func ("/calc/anova/unbalanced-terms-are-differences-of-regressions", test_unbalanced);
  g_test_add_func ("/calc/anova/an-empty-cell-costs-a-degree-of-freedom", test_empty_cell);
  g_test_add_func ("/calc/anova/shift-scale-and-numbering-change-nothing", test_invariance);
  g_test_add_func ("/calc/anova/saturated-equal-and-bad-data-are-told", test_edges);
  g_test_add_func ("/calc/anova/terms-come-by-order", test_terms);
  g_test_add_func ("/calc/anova/an-analysis-stops-when-told", test_cancel);
  return g_test_run ();
}
