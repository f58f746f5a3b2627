/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <gsl/gsl_errno.h>
#include <math.h>

#include "world-rounds.h"

/*
 * How many candles a test takes until its best wick is known, by who gets the next ones
 * (world-rounds.h): all alike, those that can still win alike, or as the program advises.
 * The same seed prints the same, on any number of threads.
 */

#define USUAL_WORLDS 30

static const struct { const char *label; WorldShare share; } strategies[] = {
  { "all alike", world_share_equal }, { "those that can win", world_share_running }, { "as advised", world_share_advised },
};

static int n_worlds = USUAL_WORLDS, first_world;
static gboolean tell;
static gint64 seed = 1;

static const GOptionEntry entries[] = {
  { "worlds", 0, 0, G_OPTION_ARG_INT, &n_worlds, "Worlds (30)", "N" },
  { "first", 0, 0, G_OPTION_ARG_INT, &first_world, "Number of the first (0)", "N" },
  { "tell", 0, 0, G_OPTION_ARG_NONE, &tell, "Tells every round: candles, p_best/p_near, true and said score of each wick; > leads", NULL },
  { "seed", 0, 0, G_OPTION_ARG_INT64, &seed, "Seed of the worlds (1)", "N" },
  G_OPTION_ENTRY_NULL
};

typedef struct
{
  WorldRounds of[G_N_ELEMENTS (strategies)];
  GString    *told[G_N_ELEMENTS (strategies)];
} Result;

static void
on_world (gpointer data,
          gpointer user)
{
  Result *results = user;
  guint number = GPOINTER_TO_UINT (data) - 1;
  g_autoptr (World) world = world_new (WORLD_PLAIN, (guint64) seed, (guint) first_world + number);

  for (guint s = 0; s < G_N_ELEMENTS (strategies); s++)
    {
      results[number].told[s] = g_string_new (NULL);
      results[number].of[s] = world_rounds_run (world, strategies[s].share, results[number].told[s]);
    }
}

static int
compare_counts (const void *a,
                const void *b)
{
  guint one = *(const guint *) a, other = *(const guint *) b;

  return one < other ? -1 : one > other;
}

static void
print_strategy (const Result *results,
                guint         strategy)
{
  g_autofree guint *counts = g_new (guint, n_worlds);
  double samples = 0, both = 0, square = 0;
  guint sure = 0, best = 0, near = 0, allowed = 0, both_true = 0;

  for (int i = 0; i < n_worlds; i++)
    {
      const WorldRounds *rounds = &results[i].of[strategy];
      double less = (double) results[i].of[0].samples_until_both - rounds->samples_until_both;

      counts[i] = rounds->samples_until_both;
      samples += rounds->samples;
      both += rounds->samples_until_both;
      square += less * less;
      sure += rounds->sure;
      best += rounds->sure && rounds->best;
      near += rounds->sure && rounds->near;
      allowed += rounds->sure && rounds->allowed;
      both_true += rounds->sure_and_near;
    }
  qsort (counts, n_worlds, sizeof *counts, compare_counts);
  both /= n_worlds;
  g_print ("%-20s %8.1f %8u %9.1f%% %9.1f%% %9.1f%% %9.1f%%   %8.1f %8u %9.1f%%", strategies[strategy].label, samples / n_worlds, sure,
           100.0 * sure / n_worlds, 100.0 * allowed / MAX (sure, 1), 100.0 * near / MAX (sure, 1), 100.0 * best / MAX (sure, 1), both, counts[n_worlds / 2],
           100.0 * both_true / n_worlds);
  if (strategy > 0)
    {
      double all = 0, first = 0, less;

      for (int i = 0; i < n_worlds; i++)
        {
          all += results[i].of[0].samples_until_both;
          first += results[i].of[0].cells;
        }
      less = all / n_worlds - both;
      g_print ("   %+.1f +- %.1f (%.0f %%; of those after the first of each wick %.0f %%)", -less, sqrt (fmax (square / n_worlds - less * less, 0) / n_worlds),
               -100 * less / (all / n_worlds), -100 * less * n_worlds / fmax (all - first, 1));
    }
  g_print ("\n");
}

int
main (int   argc,
      char *argv[])
{
  g_autoptr (GOptionContext) context = g_option_context_new (NULL);
  g_autoptr (GError) error = NULL;
  g_autofree Result *results = NULL;
  GThreadPool *pool;

  gsl_set_error_handler_off ();
  g_option_context_add_main_entries (context, entries, NULL);
  if (!g_option_context_parse (context, &argc, &argv, &error) || n_worlds < 1 || first_world < 0)
    {
      g_printerr ("%s\n", error != NULL ? error->message : "Out of range: see --help");
      return 2;
    }
  results = g_new0 (Result, n_worlds);
  pool = g_thread_pool_new (on_world, results, (int) g_get_num_processors (), FALSE, NULL);
  for (int i = 0; i < n_worlds; i++)
    g_thread_pool_push (pool, GUINT_TO_POINTER (i + 1), NULL);
  g_thread_pool_free (pool, FALSE, TRUE);
  for (int i = 0; i < n_worlds; i++)
    for (guint s = 0; s < G_N_ELEMENTS (strategies); s++)
      {
        if (tell)
          g_print ("world %d, %s\n%s", first_world + i, strategies[s].label, results[i].told[s]->str);
        g_string_free (results[i].told[s], TRUE);
      }
  g_print ("%d tests of 5 or 6 wicks, seed %" G_GINT64_FORMAT "; candles until a wick is said with 9 of 10 to be the best or as good; given up "
           "at %u; how often it then is, of those that may be recommended (no candle of them crossed a limit) and of all, and the best "
           "of all. Then until the first of these is true, too; against all alike.\n", n_worlds, seed, WORLD_MOST_BURNT);
  g_print ("%-20s %8s %8s %10s %10s %10s %10s   %8s %8s %10s\n", "next candles to", "mean", "sure", "", "allowed", "true", "best", "mean", "median",
           "both");
  for (guint s = 0; s < G_N_ELEMENTS (strategies); s++)
    print_strategy (results, s);
  return 0;
}
