/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "commands-run.h"

#include <math.h>

/* Invented logs of four wicks in one vessel that were read seldom, late or not at all: what is told of their pools. */

#define INNER 78.0
#define WICKS 4

typedef struct
{
  const char *title;
  guint       minutes[5];    /* of the readings, up to 0 */
  guint       samples, burns;
  double      base_mm;       /* the limit of a wick is this and 6 mm a step */
  double      tau_h;
} Log;

/* What a reading is written as; NULL: as it is. */
typedef const char *(*Rewrite) (guint wick, guint sample, guint burn, guint index);

static double
jitter (guint *state)
{
  *state = *state * 1103515245u + 12345u;
  return ((*state >> 16) & 0x7fff) / 16383.5 - 1;
}

static double
limit_of (const Log *log,
          guint      wick)
{
  return log->base_mm + 6 * wick;
}

static void
add_burn (GString   *text,
          const Log *log,
          guint      wick,
          guint      sample,
          guint      burn,
          double     off,
          Rewrite    rewrite,
          guint     *state)
{
  for (guint i = 0; log->minutes[i] != 0; i++)
    {
      double pool = limit_of (log, wick) * exp (off) * (1 - exp (-(double) log->minutes[i] / 60 / log->tau_h)) + 0.7 * jitter (state);
      const char *as = rewrite != NULL ? rewrite (wick, sample, burn, i) : NULL;

      g_string_append_printf (text, "%s,Heron,%.1f,Moor blend,Reed,R-%u,%u,6,R%u-%u,%u,%u,", log->title, INNER, wick, wick, wick, sample,
                              burn, log->minutes[i]);
      if (as != NULL)
        g_string_append_printf (text, "%s,15\n", as);
      else if (pool >= INNER - 0.5)
        g_string_append (text, "full,15\n");
      else
        g_string_append_printf (text, "%.1f,15\n", pool);
    }
}

/* The answer of `fit` to such a log; the parser keeps it. */
static JsonArray *
fit_log (const Log  *log,
         Rewrite     rewrite,
         JsonParser *parser)
{
  g_autoptr (GString) text = g_string_new ("experiment,vessel,inner_diameter_mm,wax,wick_series,wick_size,wick_step,load_pct,sample,burn,"
                                           "elapsed_min,pool_mm,flame_mm\n");
  g_autofree char *file = commands_path ("few.csv"), *name = g_strdup_printf ("%s.wickbench", log->title), *path = commands_path (name);
  g_autoptr (Run) import = NULL, fit = NULL;
  guint state = 11;

  for (guint wick = 1; wick <= WICKS; wick++)
    for (guint sample = 1; sample <= log->samples; sample++)
      {
        double off = 0.04 * jitter (&state);

        for (guint burn = 1; burn <= log->burns; burn++)
          add_burn (text, log, wick, sample, burn, off + 0.02 * jitter (&state), rewrite, &state);
      }
  g_assert_true (g_file_set_contents (file, text->str, -1, NULL));
  import = commands_run ("import", path, file, NULL);
  if (import->status != 0)
    g_error ("%s%s", import->out, import->err);
  fit = commands_run ("fit", path, log->title, "--json", NULL);
  return json_object_get_array_member (commands_json (fit, parser), "cells");
}

static double
end_of (JsonObject *interval,
        const char *end,
        double      open)
{
  return json_object_get_null_member (interval, end) ? open : json_object_get_double_member (interval, end);
}

static void
assert_holds (JsonObject *cell,
              const char *figure,
              double      truth)
{
  JsonObject *interval = json_object_get_object_member (cell, figure);
  double low = end_of (interval, "low", 0), high = end_of (interval, "high", INFINITY);

  if (truth < low || truth > high)
    g_error ("%s: %g is not within %g to %g", figure, truth, low, high);
}

static double
full_h (const Log *log,
        guint      wick)
{
  return -log->tau_h * log1p (-INNER / limit_of (log, wick));
}

static const char *
status_of (JsonObject *cell)
{
  return json_object_get_string_member (cell, "status");
}

/* Two readings a burn are enough for a level each and a pace in common; with one burn a recipe the noise is a stated one. */
static void
test_two_readings_a_burn (void)
{
  static const Log logs[] = {
    { "Two of two", { 120, 240 }, 2, 2, 60, 1.1 },
    { "Two of one", { 120, 240 }, 1, 1, 60, 1.1 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (logs); i++)
    {
      g_autoptr (JsonParser) parser = json_parser_new ();
      JsonArray *cells = fit_log (&logs[i], NULL, parser);

      for (guint wick = 1; wick <= WICKS; wick++)
        {
          JsonObject *cell = json_array_get_object_element (cells, wick - 1);

          g_assert_cmpstr (status_of (cell), ==, i == 0 ? "ok" : "spread_stated");
          assert_holds (cell, "pool_limit_mm", limit_of (&logs[i], wick));
          assert_holds (cell, "tau_h", logs[i].tau_h);
        }
    }
}

/* Hourly readings of wicks that all are at the wall from the second hour on: the limit stays open, when it is full does not. */
static void
test_one_reading_short_of_the_wall (void)
{
  static const Log logs[] = {
    { "Quick of two", { 60, 120, 180, 240 }, 2, 2, 92, 0.9 },
    { "Quick of one", { 60, 120, 180, 240 }, 1, 1, 92, 0.9 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (logs); i++)
    {
      g_autoptr (JsonParser) parser = json_parser_new ();
      JsonArray *cells = fit_log (&logs[i], NULL, parser);

      for (guint wick = 1; wick <= 2; wick++)
        {
          JsonObject *cell = json_array_get_object_element (cells, wick - 1);
          JsonObject *full = json_object_get_object_member (cell, "full_pool_h");

          assert_holds (cell, "pool_limit_mm", limit_of (&logs[i], wick));
          assert_holds (cell, "full_pool_h", full_h (&logs[i], wick));
          g_assert_cmpfloat (end_of (full, "low", -1), >=, 0);
          g_assert_cmpfloat (end_of (full, "high", INFINITY), <=, 2.5);
          g_assert_cmpfloat (json_object_get_double_member (full, "p_never"), ==, 0);
        }
    }
}

static const char *
read_none_of_second (guint wick,
                     guint sample,
                     guint burn,
                     guint index)
{
  return wick == 2 ? "0" : NULL;
}

static const char *
read_none (guint wick,
           guint sample,
           guint burn,
           guint index)
{
  return "0";
}

/* A pool that was read as 0 was read. */
static void
test_no_pool (void)
{
  static const Log logs[] = { { "None", { 60, 120, 180, 240 }, 2, 2, 60, 1.1 }, { "None of one", { 60, 120, 180, 240 }, 2, 2, 60, 1.1 } };

  for (guint i = 0; i < G_N_ELEMENTS (logs); i++)
    {
      g_autoptr (JsonParser) parser = json_parser_new ();
      JsonArray *cells = fit_log (&logs[i], i == 0 ? read_none : read_none_of_second, parser);

      for (guint wick = 1; wick <= WICKS; wick++)
        {
          JsonObject *cell = json_array_get_object_element (cells, wick - 1);
          gboolean none = i == 0 || wick == 2;

          g_assert_cmpstr (status_of (cell), ==, none ? "no_pool" : "ok");
          g_assert_cmpint (json_object_get_null_member (cell, "pool_limit_mm"), ==, none);
        }
    }
}

static const char *
read_second_once (guint wick,
                  guint sample,
                  guint burn,
                  guint index)
{
  return wick != 2 || (sample == 1 && burn == 1 && index == 2) ? NULL : "";
}

/* One reading among good ones borrows their pace, and is told less surely. */
static void
test_one_reading_in_a_cell (void)
{
  static const Log few = { "Once", { 60, 120, 180, 240 }, 2, 2, 60, 1.1 };
  g_autoptr (JsonParser) parser = json_parser_new ();
  JsonArray *cells = fit_log (&few, read_second_once, parser);
  JsonObject *first = json_object_get_object_member (json_array_get_object_element (cells, 0), "pool_limit_mm");
  JsonObject *once = json_array_get_object_element (cells, 1), *limit = json_object_get_object_member (once, "pool_limit_mm");

  g_assert_cmpstr (status_of (once), ==, "one_sample");
  assert_holds (once, "pool_limit_mm", limit_of (&few, 2));
  g_assert_cmpfloat (log (end_of (limit, "high", INFINITY) / end_of (limit, "low", 0)), >,
                     1.2 * log (end_of (first, "high", INFINITY) / end_of (first, "low", 0)));
}

static const char *
read_last (guint wick,
           guint sample,
           guint burn,
           guint index)
{
  return index == 3 ? NULL : "";
}

/* Readings at one time alone, none of them at the wall, tell nothing of a pace: that is refused, with words. */
static void
test_one_time_alone (void)
{
  static const Log few = { "Late", { 60, 120, 180, 240 }, 2, 2, 50, 1.1 };
  g_autoptr (JsonParser) parser = json_parser_new ();
  JsonArray *cells = fit_log (&few, read_last, parser);

  for (guint wick = 1; wick <= WICKS; wick++)
    {
      JsonObject *cell = json_array_get_object_element (cells, wick - 1);

      g_assert_cmpstr (status_of (cell), ==, "too_few");
      g_assert_true (json_object_get_null_member (cell, "tau_h"));
    }
}

void
test_commands_few_add (void)
{
  g_test_add_func ("/commands/few/two-readings-a-burn", test_two_readings_a_burn);
  g_test_add_func ("/commands/few/one-reading-short-of-the-wall", test_one_reading_short_of_the_wall);
  g_test_add_func ("/commands/few/no-pool-formed", test_no_pool);
  g_test_add_func ("/commands/few/one-reading-in-a-cell", test_one_reading_in_a_cell);
  g_test_add_func ("/commands/few/one-time-alone-is-refused", test_one_time_alone);
}
