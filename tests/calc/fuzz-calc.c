/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <glib.h>
#include <gsl/gsl_errno.h>

#include "calc-fuzz.h"

/*
 * Calls every public function of calc with numbers that nobody would write down, and
 * complains about a crash (which the sanitizers see), a result that is not what its
 * header promises, a NaN or an infinity that passes, and a call that does not end.
 *
 *   fuzz-calc [--seconds S] [--seed N] [--case K] [--only NAME]
 *
 * WICKBENCH_FUZZ_SECONDS is the same as --seconds. A case depends on seed and number alone.
 */

/* A case that takes longer has lost its way, sanitizers included. */
#define LONGEST_CASE_S 60

#define DEFAULT_SECONDS 3.0

/* `every`: of how many rounds the case is in one; those that take milliseconds leave the others their time. */
static const struct
{
  const char *name;
  CalcFuzzCase run;
  guint64 every;
} CASES[] = {
  { "summary", calc_fuzz_summary, 1 },
  { "quantiles", calc_fuzz_quantiles, 1 },
  { "linear", calc_fuzz_linear, 1 },
  { "anova", calc_fuzz_anova, 1 },
  { "ridge", calc_fuzz_ridge, 1 },
  { "blocks", calc_fuzz_blocks, 4 },
  { "ellipse", calc_fuzz_ellipse, 1 },
  { "tukey", calc_fuzz_tukey, 20 },
  { "range", calc_fuzz_range, 20 },
  { "ranks", calc_fuzz_ranks, 1 },
  { "power", calc_fuzz_power, 4 },
  { "equivalence", calc_fuzz_equivalence, 1 },
  { "desirability", calc_fuzz_desirability, 1 },
  { "rank", calc_fuzz_rank, 1 },
  { "random", calc_fuzz_random, 1 },
  { "censored", calc_fuzz_censored, 1 },
  { "nonlinear", calc_fuzz_nonlinear, 1 },
  { "growth", calc_fuzz_growth, 1 },
  { "growth-runs", calc_fuzz_growth_runs, 2 },
  { "pool", calc_fuzz_pool, 10 },
  { "foretell", calc_fuzz_foretell, 1 },
  { "mixed", calc_fuzz_mixed, 1 },
  { "ordinal", calc_fuzz_ordinal, 40 },
  { "pooled", calc_fuzz_pooled, 4 },
  { "joint", calc_fuzz_joint, 1 },
  { "allocation", calc_fuzz_allocation, 1 },
  { "inverse", calc_fuzz_inverse, 1 },
};

static CalcFuzz fuzz;

static void
on_alarm (int number)
{
  g_printerr ("%s does not end (--seed %" G_GUINT64_FORMAT " --case %" G_GUINT64_FORMAT ")\n", fuzz.subject, fuzz.seed, fuzz.number);
  abort ();
}

/* Whether it is this case's turn, with `only` one kind wanted or (NULL) all. */
static bool
is_due (guint64     number,
        const char *only)
{
  gsize kind = number % G_N_ELEMENTS (CASES);

  if (only != NULL)
    return strcmp (only, CASES[kind].name) == 0;
  return number / G_N_ELEMENTS (CASES) % CASES[kind].every == 0;
}

static void
run_case (guint64 seed,
          guint64 number)
{
  calc_fuzz_begin (&fuzz, seed, number);
  alarm (LONGEST_CASE_S);
  CASES[number % G_N_ELEMENTS (CASES)].run (&fuzz);
  alarm (0);
}

int
main (int   argc,
      char *argv[])
{
  const char *told = g_getenv ("WICKBENCH_FUZZ_SECONDS");
  double seconds = told != NULL ? g_ascii_strtod (told, NULL) : DEFAULT_SECONDS;
  gint64 seed = 1;
  gint64 only_case = -1;
  g_autofree char *only = NULL;
  const GOptionEntry entries[] = {
    { "seconds", 0, 0, G_OPTION_ARG_DOUBLE, &seconds, "How long", "S" },
    { "seed", 0, 0, G_OPTION_ARG_INT64, &seed, "Where the numbers come from", "N" },
    { "case", 0, 0, G_OPTION_ARG_INT64, &only_case, "This case alone", "K" },
    { "only", 0, 0, G_OPTION_ARG_STRING, &only, "One kind of case", "NAME" },
    { NULL },
  };
  g_autoptr (GOptionContext) context = g_option_context_new (NULL);
  g_autoptr (GError) error = NULL;
  guint64 n_run = 0;
  gint64 end;

  g_option_context_add_main_entries (context, entries, NULL);
  if (!g_option_context_parse (context, &argc, &argv, &error))
    g_error ("%s", error->message);
  gsl_set_error_handler_off ();
  signal (SIGALRM, on_alarm);
  fuzz.seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  end = g_get_monotonic_time () + (gint64) (seconds * G_USEC_PER_SEC);
  if (only_case >= 0)
    run_case ((guint64) seed, (guint64) only_case);
  for (guint64 number = 0; only_case < 0 && (number < G_N_ELEMENTS (CASES) || g_get_monotonic_time () < end); number++)
    if (is_due (number, only))
      {
        run_case ((guint64) seed, number);
        n_run++;
      }
  g_print ("%" G_GUINT64_FORMAT " cases, %u complaints, %u of them different\n", n_run, fuzz.n_complaints, g_hash_table_size (fuzz.seen));
  g_hash_table_unref (fuzz.seen);
  return fuzz.n_complaints > 0 ? EXIT_FAILURE : EXIT_SUCCESS;
}
