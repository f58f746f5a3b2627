/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-craft.h"

#include "wb-craft-logger.h"

#include <math.h>

#define NBSP "\302\240"

/* From minute -4, each 2 minutes, 14 rows to minute 22; the wall rises by 5 °C a row from 20 °C, the room stays at 21 °C. */
static WbLogger *
make_logger (void)
{
  WbLogger *logger = g_new0 (WbLogger, 1);

  logger->choice = wb_logger_choice_new ();
  wb_logger_choice_add (logger->choice, "A", WB_LOGGER_WALL);
  wb_logger_choice_add (logger->choice, "B", WB_LOGGER_ROOM);
  wb_logger_choice_add (logger->choice, "C", WB_LOGGER_BASE);
  logger->n = 14;
  logger->minutes = g_new (double, logger->n);
  for (guint column = 0; column < 3; column++)
    logger->values[column] = g_new (double, logger->n);
  for (guint i = 0; i < logger->n; i++)
    {
      logger->minutes[i] = -4.0 + 2.0 * i;
      logger->values[0][i] = 20.0 + 5.0 * i;
      logger->values[1][i] = 21.0;
      logger->values[2][i] = NAN;
    }
  return logger;
}

static void
add_limit (GPtrArray  *limits,
           WbLimitKind kind,
           double      stop_at,
           gboolean    off)
{
  WbLimit *limit = wb_record_new (&wb_limit_type);

  limit->kind = kind;
  limit->stop_at = stop_at;
  limit->house = TRUE;
  limit->off = off;
  g_ptr_array_add (limits, limit);
}

static GPtrArray *
make_limits (void)
{
  GPtrArray *limits = g_ptr_array_new_with_free_func (wb_record_free);

  add_limit (limits, WB_LIMIT_FLAME, 10.0, FALSE);
  add_limit (limits, WB_LIMIT_VESSEL, 77.0, FALSE);
  add_limit (limits, WB_LIMIT_VESSEL, 60.0, FALSE);
  add_limit (limits, WB_LIMIT_VESSEL, 30.0, TRUE);
  add_limit (limits, WB_LIMIT_BASE, 40.0, FALSE);
  return limits;
}

static void
assert_text (const WbCraftLogger *summary,
             const WbLogger      *logger,
             guint                column,
             WbUnit               unit,
             const char          *expected)
{
  g_autofree char *text = wb_craft_logger_dup_text (summary, logger, column, unit);

  g_assert_cmpstr (text, ==, expected);
}

static void
test_over (void)
{
  g_autoptr (WbLogger) logger = make_logger ();
  g_autoptr (GPtrArray) limits = make_limits ();
  WbCraftLogger summary;
  g_autofree char *cut = NULL;

  /* Ended at minute 17: rows of minutes 0 to 16, the highest 70 °C; 60 °C, in minute 12, is at the limit and not over it. */
  wb_craft_logger_init (&summary, logger, 17.0, limits);
  g_assert_cmpuint (summary.first, ==, 2);
  g_assert_cmpuint (summary.n, ==, 9);
  g_assert_cmpfloat (summary.columns[0].highest, ==, 70.0);
  g_assert_cmpfloat (summary.columns[0].at_min, ==, 16.0);
  g_assert_true (summary.columns[0].limit == g_ptr_array_index (limits, 2));
  g_assert_cmpfloat (summary.columns[0].over_min, ==, 14.0);
  g_assert_true (wb_craft_logger_is_over (&summary));
  assert_text (&summary, logger, 0, WB_UNIT_CELSIUS,
               "Vessel wall (A): highest 70.0" NBSP "°C at 16 min, over the house limit of 60" NBSP "°C from 14 min on");
  assert_text (&summary, logger, 0, WB_UNIT_FAHRENHEIT,
               "Vessel wall (A): highest 158.0" NBSP "°F at 16 min, over the house limit of 140" NBSP "°F from 14 min on");
  assert_text (&summary, logger, 1, WB_UNIT_CELSIUS, "Room (B): highest 21.0" NBSP "°C at 0 min; no limit watches that place");
  assert_text (&summary, logger, 2, WB_UNIT_CELSIUS, "Vessel base (C): no value within this burn");
  cut = wb_craft_logger_dup_cut (&summary);
  g_assert_cmpstr (cut, ==, "2 rows are cut off before the lighting (4 min). 3 rows are cut off after the end (5 min).");
}

/* What lies beyond the burn's end passed no limit of it. */
static void
test_within (void)
{
  g_autoptr (WbLogger) logger = make_logger ();
  g_autoptr (GPtrArray) limits = make_limits ();
  WbCraftLogger summary;

  wb_craft_logger_init (&summary, logger, 12.0, limits);
  g_assert_false (wb_craft_logger_is_over (&summary));
  assert_text (&summary, logger, 0, WB_UNIT_CELSIUS, "Vessel wall (A): highest 60.0" NBSP "°C at 12 min, within the house limit of 60" NBSP "°C");
  /* Alight: to the file's end. */
  wb_craft_logger_init (&summary, logger, NAN, limits);
  g_assert_cmpuint (summary.n_after, ==, 0);
  g_assert_cmpfloat (summary.columns[0].highest, ==, 85.0);
  /* All of it before the lighting. */
  for (guint i = 0; i < logger->n; i++)
    logger->minutes[i] -= 100.0;
  wb_craft_logger_init (&summary, logger, NAN, limits);
  g_assert_cmpuint (summary.n, ==, 0);
  g_assert_cmpuint (summary.n_before, ==, 14);
  g_assert_true (isnan (summary.columns[0].highest));
  g_assert_false (wb_craft_logger_is_over (&summary));
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/logger/the-highest-within-the-burn-stands-beside-the-tightest-limit", test_over);
  g_test_add_func ("/craft/logger/what-lies-outside-of-the-burn-does-not-count", test_within);
  return g_test_run ();
}
