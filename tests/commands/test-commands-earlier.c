/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "commands-run.h"

#include <math.h>

/* Invented logs, all of one maker: four wicks in one vessel, burnt twice for four hours, read hourly. */

#define INNER 78.0
#define WICKS 4

/* A number that stands for chance, the same each time: between -1 and 1. */
static double
jitter (guint *state)
{
  *state = *state * 1103515245u + 12345u;
  return ((*state >> 16) & 0x7fff) / 16383.5 - 1;
}

/* One candle whose figures lie `off` of a logarithm from its recipe's. */
static void
add_candle (GString    *log,
            const char *experiment,
            guint       wick,
            const char *code,
            double      off,
            guint      *state)
{
  for (guint burn = 1; burn <= 2; burn++)
    {
      double of_burn = 0.01 * jitter (state);

      for (guint hour = 0; hour <= 4; hour++)
        {
          double pool = (52 + 6 * wick) * exp (off + of_burn) * (1 - exp (-(double) hour / 1.1)) + 0.4 * jitter (state);

          g_string_append_printf (log, "%s,Heron,%.1f,Moor blend,Reed,R-%u,%u,6,%s,%u,%u,", experiment, INNER, wick, wick, code, burn, 60 * hour);
          if (hour == 0)
            g_string_append_printf (log, "0,,10,%.1f\n", 420.0 - 20 * burn);
          else if (pool >= INNER - 0.5)
            g_string_append_printf (log, "full,8,%.1f,\n", (16 + 2 * wick) * exp (off + of_burn));
          else
            g_string_append_printf (log, "%.1f,8,%.1f,\n", pool, (16 + 2 * wick) * exp (off + of_burn));
        }
    }
}

/* Each combination with so many candles, whose logarithms differ by `apart` and lie as far to either side. */
static char *
write_log (const char *name,
           const char *experiment,
           guint       samples,
           double      apart)
{
  g_autoptr (GString) log = g_string_new ("experiment,vessel,inner_diameter_mm,wax,wick_series,wick_size,wick_step,load_pct,sample,burn,"
                                          "elapsed_min,pool_mm,depth_mm,flame_mm,mass_g\n");
  char *path = commands_path (name);
  guint state = 7;

  for (guint wick = 1; wick <= WICKS; wick++)
    for (guint sample = 0; sample < samples; sample++)
      {
        g_autofree char *code = g_strdup_printf ("R%u-%u", wick, sample + 1);

        add_candle (log, experiment, wick, code, samples > 1 ? (sample == 0 ? -apart / 2 : apart / 2) : 0, &state);
      }
  g_assert_true (g_file_set_contents (path, log->str, -1, NULL));
  return path;
}

static void
import (const char *notebook,
        const char *log)
{
  g_autoptr (Run) run = commands_run ("import", notebook, log, NULL);

  g_assert_cmpint (run->status, ==, 0);
  g_assert_nonnull (strstr (run->out, "0 refused"));
}

static char *
new_notebook (const char *name,
              const char *first,
              const char *second)
{
  char *path = commands_path (name);

  import (path, first);
  if (second != NULL)
    import (path, second);
  return path;
}

/* Mean width of an interval over the cells, of the logarithm; their status in `status`. */
static double
mean_width (JsonObject  *fit,
            const char  *figure,
            const char **status)
{
  JsonArray *cells = json_object_get_array_member (fit, "cells");
  double sum = 0;

  g_assert_cmpuint (json_array_get_length (cells), ==, WICKS);
  for (guint i = 0; i < WICKS; i++)
    {
      JsonObject *cell = json_array_get_object_element (cells, i), *interval = json_object_get_object_member (cell, figure);

      *status = json_object_get_string_member (cell, "status");
      sum += log (json_object_get_double_member (interval, "high") / json_object_get_double_member (interval, "low")) / WICKS;
    }
  return sum;
}

typedef struct
{
  double pool, flame;
} Widths;

/* learnt: the code of the experiment that the spread must come from, NULL for none. */
static Widths
tell_lone (const char *notebook,
           const char *learnt)
{
  g_autoptr (Run) run = commands_run ("fit", notebook, "Lone", "--json", NULL);
  g_autoptr (Run) text = commands_run ("fit", notebook, "Lone", NULL);
  g_autoptr (Run) ranked = commands_run ("rank", notebook, "Lone", NULL);
  g_autoptr (JsonParser) parser = json_parser_new ();
  JsonObject *fit = commands_json (run, parser);
  Widths widths;
  const char *status;

  widths.pool = mean_width (fit, "pool_limit_mm", &status);
  g_assert_cmpstr (status, ==, learnt != NULL ? "spread_from_earlier" : "spread_stated");
  widths.flame = mean_width (fit, "flame_mm", &status);
  g_assert_cmpint (json_object_has_member (fit, "spread_learnt_from"), ==, learnt != NULL);
  if (learnt != NULL)
    {
      g_autofree char *words = g_strdup_printf ("the spread between samples was learnt from the experiment %s.", learnt);
      JsonArray *codes = json_object_get_array_member (fit, "spread_learnt_from");

      g_assert_cmpuint (json_array_get_length (codes), ==, 1);
      g_assert_cmpstr (json_array_get_string_element (codes, 0), ==, learnt);
      g_assert_nonnull (strstr (text->out, words));
      g_assert_nonnull (strstr (ranked->out, words));
    }
  else
    g_assert_null (strstr (text->out, "was learnt from"));
  return widths;
}

/* The same log alone, beside candles of a recipe that differ a lot, beside ones that hardly do. */
static void
test_spread_is_learnt (void)
{
  g_autofree char *lone = write_log ("lone.csv", "Lone", 1, 0);
  g_autofree char *far = write_log ("far.csv", "Far apart", 2, 0.15), *near = write_log ("near.csv", "Near", 2, 0.01);
  g_autofree char *alone = new_notebook ("alone.wickbench", lone, NULL);
  g_autofree char *wide = new_notebook ("wide.wickbench", lone, far), *narrow = new_notebook ("narrow.wickbench", lone, near);
  Widths stated = tell_lone (alone, NULL), wider = tell_lone (wide, "FA"), narrower = tell_lone (narrow, "NEAR");

  g_assert_cmpfloat (wider.pool, >, 1.2 * stated.pool);
  /* of a flame a wider spread is believed beforehand, and less surely */
  g_assert_cmpfloat (wider.flame, >, 2 * narrower.flame);
  g_assert_cmpfloat (narrower.pool, <, 0.8 * stated.pool);
  g_assert_cmpfloat (narrower.flame, <, 0.9 * stated.flame);
}

/* Another one that has no second sample either has nothing to say. */
static void
test_lone_ones_teach_nothing (void)
{
  g_autofree char *lone = write_log ("lone.csv", "Lone", 1, 0), *other = write_log ("other.csv", "Other", 1, 0);
  g_autofree char *alone = new_notebook ("alone-2.wickbench", lone, NULL), *both = new_notebook ("both.wickbench", lone, other);
  Widths stated = tell_lone (alone, NULL), beside = tell_lone (both, NULL);

  g_assert_cmpfloat (stated.pool, ==, beside.pool);
  g_assert_cmpfloat (stated.flame, ==, beside.flame);
}

/* Where a second sample tells the spread, no other experiment has a say, in any bit. */
static void
test_samples_of_its_own_speak_alone (void)
{
  g_autofree char *near = write_log ("near.csv", "Near", 2, 0.01), *far = write_log ("far.csv", "Far apart", 2, 0.15);
  g_autofree char *alone = new_notebook ("near-alone.wickbench", near, NULL), *beside = new_notebook ("near-beside.wickbench", near, far);
  g_autoptr (Run) one = commands_run ("rank", alone, "Near", "--json", NULL), two = commands_run ("rank", beside, "Near", "--json", NULL);
  g_autoptr (Run) fitted = commands_run ("fit", alone, "Near", "--json", NULL), again = commands_run ("fit", beside, "Near", "--json", NULL);

  g_assert_cmpint (one->status, ==, 0);
  g_assert_cmpstr (one->out, ==, two->out);
  g_assert_cmpstr (fitted->out, ==, again->out);
}

void
test_commands_earlier_add (void)
{
  g_test_add_func ("/commands/earlier/the-spread-is-learnt", test_spread_is_learnt);
  g_test_add_func ("/commands/earlier/lone-ones-teach-nothing", test_lone_ones_teach_nothing);
  g_test_add_func ("/commands/earlier/samples-of-its-own-speak-alone", test_samples_of_its_own_speak_alone);
}
