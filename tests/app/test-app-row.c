/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-evening.h"
#include "wb-app-row.h"
#include "wb-clock.h"

#define SECOND_US ((gint64) G_USEC_PER_SEC)

static void
set_up (Evening   *evening,
        GPtrArray *row)
{
  evening_set_up (evening);
  wb_clock_advance (wb_clock_get (), 3 * DAY_US);
  wb_app_bench_update (evening->bench);
  evening_open_session (evening);
  for (guint i = 0; i < 3; i++)
    g_ptr_array_add (row, evening_nth (evening, i));
}

static void
advance (Evening *evening,
         gint64   seconds)
{
  wb_clock_advance (wb_clock_get (), seconds * SECOND_US);
  wb_app_bench_update (evening->bench);
}

static void
assert_step (Evening    *evening,
             gpointer    next,
             gint64      in_s,
             guint       after)
{
  WbAppRowStep step;

  g_assert_true (wb_app_bench_get_row_step (evening->bench, &step));
  g_assert_true (step.next == next);
  g_assert_cmpint (step.in_s, ==, in_s);
  g_assert_cmpuint (step.after, ==, after);
}

/* Two minutes, the house's stagger, from the hand's own lighting; the program lights nothing by itself. */
static void
test_light (void)
{
  Evening evening;
  g_autoptr (GPtrArray) row = g_ptr_array_new ();
  WbAppRowStep step;

  set_up (&evening, row);
  g_assert_false (wb_app_bench_get_row_step (evening.bench, &step));
  wb_app_bench_start_row (evening.bench, WB_APP_ROW_LIGHT, row);
  assert_step (&evening, row->pdata[0], 0, 2);
  advance (&evening, 300);
  assert_step (&evening, row->pdata[0], 0, 2);
  g_assert_cmpuint (wb_app_bench_get_alight (evening.bench), ==, 0);
  evening_light (&evening, row->pdata[0]);
  assert_step (&evening, row->pdata[1], 120, 1);
  advance (&evening, 40);
  assert_step (&evening, row->pdata[1], 80, 1);
  /* A wall clock that is set moves nothing. */
  wb_clock_step (wb_clock_get (), HOUR_US);
  assert_step (&evening, row->pdata[1], 80, 1);
  wb_clock_step (wb_clock_get (), -HOUR_US);
  advance (&evening, 200);
  assert_step (&evening, row->pdata[1], 0, 1);
  g_assert_cmpuint (wb_app_bench_get_alight (evening.bench), ==, 1);

  /* Late, and not in the order: what is left waits its time from there. */
  evening_light (&evening, row->pdata[2]);
  assert_step (&evening, row->pdata[1], 120, 0);
  evening_light (&evening, row->pdata[1]);
  g_assert_false (wb_app_bench_get_row_step (evening.bench, &step));
  evening_tear_down (&evening);
}

static void
test_snuff_and_stop (void)
{
  Evening evening;
  g_autoptr (GPtrArray) row = g_ptr_array_new ();
  WbAppRowStep step;

  set_up (&evening, row);
  for (guint i = 0; i < 3; i++)
    evening_light (&evening, row->pdata[i]);
  advance (&evening, 3600);
  wb_app_bench_start_row (evening.bench, WB_APP_ROW_SNUFF, row);
  assert_step (&evening, row->pdata[0], 0, 2);
  evening_snuff (&evening, row->pdata[0]);
  evening_wait_for_state (row->pdata[0], WB_APP_BENCH_COOLING);
  assert_step (&evening, row->pdata[1], 120, 1);
  advance (&evening, 119);
  assert_step (&evening, row->pdata[1], 1, 1);
  wb_app_bench_stop_row (evening.bench);
  g_assert_false (wb_app_bench_get_row_step (evening.bench, &step));
  g_assert_cmpuint (wb_app_bench_get_alight (evening.bench), ==, 2);
  evening_tear_down (&evening);
}

void
test_app_row_add (void)
{
  g_test_add_func ("/app/row/counts-from-each-hands-lighting", test_light);
  g_test_add_func ("/app/row/snuffs-and-stops", test_snuff_and_stop);
}
