/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-craft.h"
#include "wb-craft-crossing.h"

#include <math.h>

#define INNER 76.2

/* House limits: vessel stopped at 77 °C, flame at 50 mm (the maker's own, no published figure). */

static guint
add_sample (WbDataset  *data,
            const char *code)
{
  guint cell = data->cells->len > 0 ? 0 : test_craft_add_cell (data, "Tern", INNER, "Sedge", "S-3", 3, 0);

  return test_craft_add_sample (data, cell, code);
}

static guint
burn_with (WbDataset *data,
           guint      sample,
           WbColumn   column,
           double     value)
{
  guint burn = test_craft_add_burn (data, sample);

  test_craft_read (data, burn, 60, WB_COLUMN_VESSEL_C, 45);
  test_craft_read (data, burn, 120, column, value);
  test_craft_read (data, burn, 180, WB_COLUMN_VESSEL_C, 45);
  return burn;
}

static int
kind_of (const WbDataset       *data,
         const WbCraftCrossing *crossing)
{
  return ((WbLimit *) g_ptr_array_index (data->limits, crossing->limit))->kind;
}

static void
test_newest_of_its_own_sample (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autofree WbCraftCrossing *crossings = NULL;
  guint hot = add_sample (data, "S3-1"), calm = add_sample (data, "S3-2");
  guint first = burn_with (data, hot, WB_COLUMN_VESSEL_C, 79);
  guint second = burn_with (data, hot, WB_COLUMN_FLAME_MM, 52);

  burn_with (data, hot, WB_COLUMN_VESSEL_C, 60);
  burn_with (data, calm, WB_COLUMN_VESSEL_C, 77);
  crossings = wb_craft_crossings_new (data);
  g_assert_true (crossings[hot].crossed);
  g_assert_cmpuint (crossings[hot].first_burn, ==, first);
  g_assert_cmpuint (crossings[hot].burn, ==, second);
  g_assert_cmpint (kind_of (data, &crossings[hot]), ==, WB_LIMIT_FLAME_HOUSE);
  g_assert_cmpfloat (wb_readings_get_elapsed_min (data->readings, crossings[hot].row), ==, 120);
  g_assert_false (crossings[hot].broken);
  /* at the limit is not over it */
  g_assert_false (crossings[calm].crossed);
}

/* A crack stays a crack, whatever is crossed after it. */
static void
test_cracked_stays_cracked (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autofree WbCraftCrossing *crossings = NULL;
  guint sample = add_sample (data, "S3-1");

  burn_with (data, sample, WB_COLUMN_EVENT, WB_EVENT_VESSEL_CRACK);
  burn_with (data, sample, WB_COLUMN_VESSEL_C, 80);
  crossings = wb_craft_crossings_new (data);
  g_assert_true (crossings[sample].broken);
  g_assert_cmpint (kind_of (data, &crossings[sample]), ==, WB_LIMIT_VESSEL);
}

static void
test_off_and_empty (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autofree WbCraftCrossing *none = wb_craft_crossings_new (data);
  g_autofree WbCraftCrossing *off = NULL;
  guint sample = add_sample (data, "S3-1");

  g_assert_nonnull (none);
  burn_with (data, sample, WB_COLUMN_VESSEL_C, 90);
  for (guint i = 0; i < data->limits->len; i++)
    ((WbLimit *) g_ptr_array_index (data->limits, i))->off = TRUE;
  off = wb_craft_crossings_new (data);
  g_assert_false (off[sample].crossed);
}

/* The glass is as broken where nobody keeps a limit against it. */
static void
test_cracked_without_a_limit (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autofree WbCraftCrossing *crossings = NULL;
  guint cracked = add_sample (data, "S3-1"), whole = add_sample (data, "S3-2");
  guint first;

  burn_with (data, cracked, WB_COLUMN_VESSEL_C, 60);
  first = burn_with (data, cracked, WB_COLUMN_EVENT, WB_EVENT_VESSEL_CRACK);
  burn_with (data, cracked, WB_COLUMN_EVENT, WB_EVENT_VESSEL_CRACK);
  burn_with (data, whole, WB_COLUMN_EVENT, WB_EVENT_SNUFFED);
  for (guint i = 0; i < data->limits->len; i++)
    ((WbLimit *) g_ptr_array_index (data->limits, i))->off = TRUE;
  crossings = wb_craft_crossings_new (data);
  g_assert_false (crossings[cracked].crossed);
  g_assert_true (crossings[cracked].broken);
  g_assert_cmpuint (crossings[cracked].broken_burn, ==, first);
  g_assert_false (crossings[whole].broken);
}

/* In one burn what was later stands, read or logged; the values are those of whichever it was. */
static void
test_logger (void)
{
  const double minutes[] = { 90, 150 };

  for (guint i = 0; i < G_N_ELEMENTS (minutes); i++)
    {
      g_autoptr (WbDataset) data = test_craft_data_new ();
      g_autofree WbCraftCrossing *crossings = NULL;
      double values[WB_N_COLUMNS];
      guint sample = add_sample (data, "S3-1"), burn = burn_with (data, sample, WB_COLUMN_FLAME_MM, 52);

      test_craft_log (data, burn, 91, minutes[i], NAN, NAN);
      crossings = wb_craft_crossings_new (data);
      g_assert_true (crossings[sample].crossed);
      g_assert_cmpfloat (crossings[sample].minute, ==, i == 0 ? 120 : 150);
      g_assert_cmpint (kind_of (data, &crossings[sample]), ==, i == 0 ? WB_LIMIT_FLAME_HOUSE : WB_LIMIT_VESSEL);
      wb_craft_crossing_get_values (&crossings[sample], data, values);
      g_assert_cmpfloat (values[i == 0 ? WB_COLUMN_FLAME_MM : WB_COLUMN_VESSEL_C], ==, i == 0 ? 52 : 91);
    }
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/craft/crossing/the-newest-of-its-own-sample", test_newest_of_its_own_sample);
  g_test_add_func ("/craft/crossing/a-cracked-vessel-stays-cracked", test_cracked_stays_cracked);
  g_test_add_func ("/craft/crossing/a-limit-turned-off-is-not-crossed", test_off_and_empty);
  g_test_add_func ("/craft/crossing/cracked-is-cracked-without-a-limit", test_cracked_without_a_limit);
  g_test_add_func ("/craft/crossing/a-loggers-file-crosses", test_logger);
  return g_test_run ();
}
