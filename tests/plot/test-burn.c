/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-chart-table.h"
#include "wb-plot-burn.h"

#include <math.h>
#include <string.h>

#include "test-plot.h"

#define NBSP "\302\240"

/* Two hours of a row a second: more than is drawn. One value alone, in row 4000, is above the limit. */
#define ROWS 7200

typedef struct
{
  WbLogger     *logger;
  GPtrArray    *limits;
  WbReadings   *readings;
  WbCraftLogger summary;
  WbPlotBurn    burn;
} Scene;

static void
set_up (Scene *scene,
        double peak_c)
{
  WbLogger *logger = scene->logger = g_new0 (WbLogger, 1);
  WbLimit *limit = wb_record_new (&wb_limit_type);
  guint row;

  logger->choice = wb_logger_choice_new ();
  wb_logger_choice_add (logger->choice, "T1", WB_LOGGER_WALL);
  logger->n = ROWS;
  logger->minutes = g_new (double, ROWS);
  logger->values[0] = g_new (double, ROWS);
  for (guint i = 0; i < ROWS; i++)
    {
      logger->minutes[i] = i / 60.0;
      logger->values[0][i] = 21.0 + 30.0 * i / ROWS;
    }
  logger->values[0][4000] = peak_c;
  limit->kind = WB_LIMIT_VESSEL;
  limit->stop_at = 60.0;
  limit->house = TRUE;
  scene->limits = g_ptr_array_new_with_free_func (wb_record_free);
  g_ptr_array_add (scene->limits, limit);
  scene->readings = wb_readings_new ();
  row = wb_readings_append (scene->readings, 1, 0, 60.0);
  wb_readings_set (scene->readings, row, WB_COLUMN_VESSEL_C, 36.5);
  wb_craft_logger_init (&scene->summary, logger, NAN, scene->limits);
  scene->burn = (WbPlotBurn) { "T1-1", 2, scene->readings, logger, &scene->summary, FALSE, TRUE };
}

static void
tear_down (Scene *scene)
{
  wb_logger_free (scene->logger);
  g_ptr_array_unref (scene->limits);
  wb_readings_free (scene->readings);
}

static void
test_peak (void)
{
  Scene scene;
  g_autoptr (WbChart) chart = NULL;
  g_autoptr (WbChartTable) table = NULL;
  g_autofree char *text = NULL;

  set_up (&scene, 63.4);
  chart = wb_plot_burn_new (&scene.burn);
  g_assert_cmpstr (wb_chart_get_title (chart), ==,
                   "T1-1, burn 2: Vessel wall (T1): highest 63.4" NBSP "°C at 66.7 min, over the house limit of 60" NBSP "°C from 66.7 min on");
  g_assert_nonnull (strstr (wb_chart_get_description (chart), wb_chart_get_title (chart)));
  g_assert_nonnull (strstr (wb_chart_get_footnote (chart), "no readings: they do not count in the score"));
  g_assert_nonnull (strstr (wb_chart_get_footnote (chart), "1 temperature was read by hand"));
  g_assert_nonnull (strstr (wb_chart_get_footnote (chart), "Invented data."));
  /* Of 12 rows two are drawn, the peak among them. */
  table = wb_chart_table_new (chart);
  text = wb_chart_table_dup_text (table);
  g_assert_cmpuint (wb_chart_table_get_n_rows (table), <=, 610);
  g_assert_nonnull (strstr (text, "63.4"));
  g_assert_nonnull (strstr (text, "36.5"));
  g_assert_nonnull (strstr (text, "house limit"));
  tear_down (&scene);
}

static void
test_within (void)
{
  Scene scene;
  g_autoptr (WbChart) chart = NULL;

  set_up (&scene, 59.0);
  scene.burn.us_units = TRUE;
  chart = wb_plot_burn_new (&scene.burn);
  g_assert_cmpstr (wb_chart_get_title (chart), ==,
                   "T1-1, burn 2: Vessel wall (T1): highest 138.2" NBSP "°F at 66.7 min, within the house limit of 140" NBSP "°F");
  tear_down (&scene);
}

static void
test_nothing (void)
{
  Scene scene;
  g_autoptr (WbChart) chart = NULL;

  set_up (&scene, 59.0);
  for (guint i = 0; i < scene.logger->n; i++)
    scene.logger->minutes[i] -= 1000.0;
  wb_craft_logger_init (&scene.summary, scene.logger, NAN, scene.limits);
  chart = wb_plot_burn_new (&scene.burn);
  g_assert_cmpstr (wb_chart_get_title (chart), ==, "T1-1, burn 2: the logger has no value within the burn");
  tear_down (&scene);
}

void
test_burn_add (void)
{
  g_test_add_func ("/plot/burn/no-peak-is-lost-and-the-limit-it-passed-is-told", test_peak);
  g_test_add_func ("/plot/burn/within-the-limit-in-us-units", test_within);
  g_test_add_func ("/plot/burn/nothing-within-the-burn-is-said", test_nothing);
}
