/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "lab.h"
#include "test-craft.h"
#include "wb-craft-limits.h"
#include "wb-craft-trend.h"

/*
 * How often a trend cries wolf, and how often it sees a limit coming, in invented
 * labs read hourly (lab.h). No figure here is measured at a bench. Counted are the
 * looks from the second hour on, for one alone tells no trend, and only those that
 * have a next one. A flame's steps of its last hours, 5 and 3 in 100, are no larger than what
 * its reader errs by: most of those that just pass the limit nobody can foretell.
 */

#define LABS 60
#define NEAR 3.0

typedef struct
{
  guint looks;      /* not over the limit, with a look an hour later */
  guint told;       /* of those, told to pass it before the next look */
  guint told_right; /* and it did */
  guint told_near;  /* or came as near to it as a reader errs by: 3 mm or 3 K */
  guint crossed;    /* the next look is over it */
} Tally;

static double
value_at (const WbDataset *data,
          guint            row,
          WbLimitKind      kind)
{
  return wb_readings_get (data->readings, row, kind == WB_LIMIT_VESSEL ? WB_COLUMN_VESSEL_C : WB_COLUMN_FLAME_MM);
}

static gboolean
is_told (const GArray    *trends,
         const WbLimit   *limit,
         const GPtrArray *limits,
         guint            look)
{
  for (guint i = 0; i < trends->len; i++)
    {
      const WbCraftTrend *trend = &g_array_index (trends, WbCraftTrend, i);

      if (trend->look == look && g_ptr_array_index (limits, trend->limit) == limit)
        return TRUE;
    }
  return FALSE;
}

static void
count_burn (const WbDataset *data,
            guint            burn,
            const WbLimit   *limit,
            Tally           *tally)
{
  const WbCraftTrendRounds rounds = { 60, 60, 240, NAN };
  double values[8][WB_N_COLUMNS];
  WbCraftTrendLook looks[8];
  g_autoptr (GArray) trends = NULL;
  guint first, n;

  wb_readings_get_burn_rows (data->readings, burn, &first, &n);
  g_assert_cmpuint (n, <=, G_N_ELEMENTS (looks));
  for (guint i = 0; i < n; i++)
    {
      wb_readings_get_values (data->readings, first + i, values[i]);
      looks[i] = (WbCraftTrendLook) { wb_readings_get_elapsed_min (data->readings, first + i), values[i] };
    }
  trends = wb_craft_trends_find (data->limits, looks, n, &rounds);
  for (guint i = 0; i + 1 < n; i++)
    {
      double now = value_at (data, first + i, limit->kind), next = value_at (data, first + i + 1, limit->kind);
      gboolean told = is_told (trends, limit, data->limits, i);

      if (isnan (now) || isnan (next) || now > limit->stop_at || looks[i].elapsed_min < 120
          || looks[i + 1].elapsed_min > looks[i].elapsed_min + 60)
        continue;
      tally->looks++;
      tally->told += told;
      tally->crossed += next > limit->stop_at;
      tally->told_right += told && next > limit->stop_at;
      tally->told_near += told && next > limit->stop_at - NEAR;
    }
}

static Tally
count (WbLimitKind kind)
{
  Tally tally = { 0 };

  for (guint number = 0; number < LABS; number++)
    {
      const LabSpec spec = { 2, 5, 2, 2, 2, LAB_WORLD_MIXED, FALSE, TRUE, 23 };
      g_autoptr (Lab) lab = lab_new (&spec, number);
      g_autoptr (WbDataset) data = lab_burn (lab);

      for (guint i = 0; i < data->limits->len; i++)
        if (((const WbLimit *) g_ptr_array_index (data->limits, i))->kind == (int) kind)
          for (guint burn = 0; burn < data->burns->len; burn++)
            count_burn (data, burn, g_ptr_array_index (data->limits, i), &tally);
    }
  g_test_message ("%u looks, %u told, %u of them rightly, %u at least near; %u crossed at the next look", tally.looks, tally.told, tally.told_right, tally.told_near, tally.crossed);
  return tally;
}

static void
test_flame (void)
{
  Tally tally = count (WB_LIMIT_FLAME_HOUSE);

  g_assert_cmpuint (tally.crossed, >, 100);
  /* wrong in fewer than 1 of 100 looks; when told, right or near it in half */
  g_assert_cmpuint (100 * (tally.told - tally.told_right), <, tally.looks);
  g_assert_cmpuint (2 * tally.told_near, >, tally.told);
  g_assert_cmpuint (3 * tally.told_right, >, tally.crossed);
}

static void
test_vessel (void)
{
  Tally tally = count (WB_LIMIT_VESSEL);

  g_assert_cmpuint (tally.crossed, >, 300);
  /* wrong in fewer than 3 of 100 looks; when told, right or near it in two of three; of what comes, four of five are told */
  g_assert_cmpuint (100 * (tally.told - tally.told_right), <, 3 * tally.looks);
  g_assert_cmpuint (3 * tally.told_near, >, 2 * tally.told);
  g_assert_cmpuint (5 * tally.told_right, >, 4 * tally.crossed);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/bench/trend/of-a-flame", test_flame);
  g_test_add_func ("/bench/trend/of-a-wall", test_vessel);
  return g_test_run ();
}
