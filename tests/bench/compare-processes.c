/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <gio/gio.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <fcntl.h>
#include <unistd.h>

/*
 * Runs two commands in turn, A B A B ..., and prints the ratio of their times,
 * pair by pair: a machine that is busy is busy for both.
 *
 *   compare-processes NAME AIM RUNS RESET -- A ... -- B ...
 *
 * RESET is removed before each run ("-": nothing). AIM is only told.
 */

typedef struct { double wall, cpu; } Cost;

static double
seconds (struct timeval at)
{
  return (double) at.tv_sec + (double) at.tv_usec / 1e6;
}

static void
become (char **argv)
{
  int null = open ("/dev/null", O_RDWR);

  dup2 (null, STDIN_FILENO);
  dup2 (null, STDOUT_FILENO);
  execvp (argv[0], argv);
  _exit (127);
}

static Cost
run (char **argv)
{
  struct rusage usage;
  gint64 start = g_get_monotonic_time ();
  pid_t child = fork ();
  int status;

  if (child == 0)
    become (argv);
  g_assert_cmpint (wait4 (child, &status, 0, &usage), ==, child);
  if (!WIFEXITED (status) || WEXITSTATUS (status) != 0)
    g_error ("%s ended with %d", argv[0], WIFEXITED (status) ? WEXITSTATUS (status) : -1);
  return (Cost) { (double) (g_get_monotonic_time () - start) / 1e6, seconds (usage.ru_utime) + seconds (usage.ru_stime) };
}

static int
by_value (const void *a,
          const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return x < y ? -1 : x > y;
}

static double
median (double *values,
        guint   n)
{
  qsort (values, n, sizeof *values, by_value);
  return n % 2 == 1 ? values[n / 2] : (values[n / 2 - 1] + values[n / 2]) / 2;
}

static void
clear (const char *path)
{
  g_autofree char *journal = g_strconcat (path, "-journal", NULL);

  unlink (path);
  unlink (journal);
}

int
main (int    argc,
      char **argv)
{
  char **a = NULL, **b = NULL;
  guint runs;

  g_assert_cmpint (argc, >, 7);
  for (int i = 5; i < argc; i++)
    if (strcmp (argv[i], "--") == 0)
      {
        argv[i] = NULL;
        if (a == NULL)
          a = &argv[i + 1];
        else if (b == NULL)
          b = &argv[i + 1];
      }
  g_assert_nonnull (b);
  runs = (guint) atoi (argv[3]);
  {
    g_autofree double *wall = g_new (double, runs);
    g_autofree double *cpu = g_new (double, runs);
    double spent[2] = { 0, 0 };

    for (guint i = 0; i <= runs; i++)
      {
        Cost first, second;

        clear (argv[4]);
        first = run (a);
        clear (argv[4]);
        second = run (b);
        clear (argv[4]);
        if (i == 0)
          continue; /* both warm */
        wall[i - 1] = first.wall / second.wall;
        cpu[i - 1] = first.cpu / second.cpu;
        spent[0] += first.wall;
        spent[1] += second.wall;
      }
    qsort (wall, runs, sizeof *wall, by_value);
    g_print ("%s: %.2f times the floor by the clock (%.2f to %.2f), %.2f by CPU time; aim %s; %u pairs, ours %.2f s and the floor %.2f s on average\n",
             argv[1], median (wall, runs), wall[0], wall[runs - 1], median (cpu, runs), argv[2], runs, spent[0] / runs, spent[1] / runs);
  }
  return 0;
}
