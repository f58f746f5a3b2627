/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-craft.h"
#include "wb-craft-deviations.h"

#include <math.h>
#include <string.h>

/* House: burns of 4 h, 4 h of cooling, trim 6 mm, room 20 to 25 °C, flame stopped at 50 mm (the maker's own, no published figure). */

#define HOUR_US ((gint64) 3600 * G_USEC_PER_SEC)

static WbDataset *
data_new (void)
{
  WbDataset *data = test_craft_data_new ();

  test_craft_add_sample (data, test_craft_add_cell (data, "Tern", 76.2, "Sedge", "S-3", 3, 0), "S3-1");
  return data;
}

/* Four hours, snuffed at their end. */
static guint
add_whole_burn (WbDataset *data)
{
  guint burn = test_craft_add_burn (data, 0), row = 0;

  for (guint hour = 1; hour <= 4; hour++)
    row = test_craft_read (data, burn, 60 * hour, WB_COLUMN_FLAME_MM, 25);
  test_craft_set (data, row, WB_COLUMN_EVENT, WB_EVENT_SNUFFED);
  return burn;
}

/* The codes as bits; of one of them its minute, too. */
static guint
find (const WbDataset     *data,
      guint                burn,
      double               alight_min,
      WbCraftDeviationCode code,
      double              *minute)
{
  g_autoptr (WbCraftFigures) figures = wb_craft_figures_new (data);
  g_autofree WbCraftCrossing *crossings = wb_craft_crossings_new (data);
  g_autoptr (GArray) found = wb_craft_deviations_find (data, figures, crossings, burn, alight_min);
  guint bits = 0;

  *minute = -1;
  for (guint i = 0; i < found->len; i++)
    {
      const WbCraftDeviation *deviation = &g_array_index (found, WbCraftDeviation, i);

      g_assert_cmpuint (bits & 1u << deviation->code, ==, 0);
      bits |= 1u << deviation->code;
      if (deviation->code == code)
        *minute = deviation->minute;
    }
  return bits;
}

static guint
find_codes (const WbDataset *data,
            guint            burn)
{
  double minute;

  return find (data, burn, NAN, WB_CRAFT_DEVIATION_TRIM, &minute);
}

static void
test_none (void)
{
  g_autoptr (WbDataset) data = data_new ();
  guint burn = add_whole_burn (data);

  g_assert_cmpuint (find_codes (data, burn), ==, 0);
}

/* 1 mm off is within the trim's tolerance; not measured is no deviation. */
static void
test_trim (void)
{
  g_autoptr (WbDataset) data = data_new ();
  guint burn = add_whole_burn (data);
  WbBurn *record = g_ptr_array_index (data->burns, burn);

  record->trim_mm = data->protocol->trim_mm + 1;
  g_assert_cmpuint (find_codes (data, burn), ==, 0);
  record->trim_mm = data->protocol->trim_mm + 1.5;
  g_assert_cmpuint (find_codes (data, burn), ==, 1u << WB_CRAFT_DEVIATION_TRIM);
  record->trim_mm = NAN;
  record->kind = WB_BURN_UNTRIMMED;
  g_assert_cmpuint (find_codes (data, burn), ==, 1u << WB_CRAFT_DEVIATION_TRIM | 1u << WB_CRAFT_DEVIATION_OTHER_KIND);
}

/* The first reading outside tells the minute, however many follow; a mean of the burn within the range hides none. */
static void
test_room (void)
{
  g_autoptr (WbDataset) data = data_new ();
  guint burn = test_craft_add_burn (data, 0);
  double minute;

  test_craft_read (data, burn, 60, WB_COLUMN_ROOM_C, data->protocol->room_high_c);
  test_craft_read (data, burn, 120, WB_COLUMN_ROOM_C, data->protocol->room_high_c + 0.5);
  test_craft_read (data, burn, 180, WB_COLUMN_ROOM_C, data->protocol->room_low_c);
  test_craft_read (data, burn, 181, WB_COLUMN_DRAUGHT, WB_DRAUGHT_NONE);
  test_craft_read (data, burn, 200, WB_COLUMN_DRAUGHT, WB_DRAUGHT_SLIGHT);
  test_craft_read (data, burn, 240, WB_COLUMN_FLAME_MM, 20);
  g_assert_cmpuint (find (data, burn, 240, WB_CRAFT_DEVIATION_ROOM, &minute), ==,
                    1u << WB_CRAFT_DEVIATION_ROOM | 1u << WB_CRAFT_DEVIATION_DRAUGHT);
  g_assert_cmpfloat (minute, ==, 120);
  find (data, burn, 240, WB_CRAFT_DEVIATION_DRAUGHT, &minute);
  g_assert_cmpfloat (minute, ==, 200);
}

/* One that is alight has not been cut short; one hour over its length it has been overrun, whether or not it was read. */
static void
test_length (void)
{
  g_autoptr (WbDataset) data = data_new ();
  guint burn = test_craft_add_burn (data, 0);
  double minute;

  test_craft_read (data, burn, 60, WB_COLUMN_FLAME_MM, 25);
  g_assert_cmpuint (find_codes (data, burn), ==, 1u << WB_CRAFT_DEVIATION_CUT_SHORT);
  g_assert_cmpuint (find (data, burn, 60, WB_CRAFT_DEVIATION_TRIM, &minute), ==, 0);
  g_assert_cmpuint (find (data, burn, 299, WB_CRAFT_DEVIATION_TRIM, &minute), ==, 0);
  g_assert_cmpuint (find (data, burn, 300, WB_CRAFT_DEVIATION_TRIM, &minute), ==, 1u << WB_CRAFT_DEVIATION_OVERRUN);
}

/* 52 mm at 120 min: burnt on once it is alight 5 min later, not before; lit again after it is another one. */
static void
test_burnt_on (void)
{
  g_autoptr (WbDataset) data = data_new ();
  guint burn = test_craft_add_burn (data, 0), again;
  double minute;

  test_craft_read (data, burn, 120, WB_COLUMN_FLAME_MM, 52);
  g_assert_cmpuint (find (data, burn, 124, WB_CRAFT_DEVIATION_BURNT_ON, &minute), ==, 0);
  g_assert_cmpuint (find (data, burn, 126, WB_CRAFT_DEVIATION_BURNT_ON, &minute), ==, 1u << WB_CRAFT_DEVIATION_BURNT_ON);
  g_assert_cmpfloat (minute, ==, 120);
  again = test_craft_add_burn (data, 0);
  test_craft_read (data, again, 60, WB_COLUMN_FLAME_MM, 20);
  g_assert_cmpuint (find (data, again, 60, WB_CRAFT_DEVIATION_CROSSED, &minute) & 1u << WB_CRAFT_DEVIATION_CROSSED, !=, 0);
  g_assert_true (isnan (minute));
}

static void
test_company (void)
{
  g_autoptr (WbDataset) data = data_new ();
  guint burn = test_craft_add_burn (data, 0), row;
  double minute;

  ((WbBurn *) g_ptr_array_index (data->burns, burn))->kind = WB_BURN_THROW;
  row = test_craft_read (data, burn, 60, WB_COLUMN_THROW, 6);
  test_craft_set (data, row, WB_COLUMN_ALONE, TRUE);
  g_assert_cmpuint (find (data, burn, NAN, WB_CRAFT_DEVIATION_COMPANY, &minute), ==, 1u << WB_CRAFT_DEVIATION_OTHER_KIND);
  row = test_craft_read (data, burn, 90, WB_COLUMN_THROW, 7);
  test_craft_set (data, row, WB_COLUMN_ALONE, FALSE);
  g_assert_cmpuint (find (data, burn, NAN, WB_CRAFT_DEVIATION_COMPANY, &minute), ==,
                    1u << WB_CRAFT_DEVIATION_OTHER_KIND | 1u << WB_CRAFT_DEVIATION_COMPANY);
  g_assert_cmpfloat (minute, ==, 90);
}

/* Alight for 4 h: cooled to the minute is none, an hour less is; 3 days of a cure of 7 are too few. */
static void
test_cooling_and_cure (void)
{
  g_autoptr (WbDataset) data = data_new ();
  guint first = add_whole_burn (data), second = add_whole_burn (data);
  WbBurn *earlier = g_ptr_array_index (data->burns, first), *later = g_ptr_array_index (data->burns, second);

  earlier->lit_at = (WbInstant) { G_GINT64_CONSTANT (1772452800) * G_USEC_PER_SEC, 0, TRUE }; /* 2026-03-02T12:00:00Z */
  later->lit_at = earlier->lit_at;
  later->lit_at.utc_us += (gint64) (4 * 3600 + data->protocol->cool_s) * G_USEC_PER_SEC;
  g_assert_cmpuint (find_codes (data, second), ==, 0);
  later->lit_at.utc_us -= HOUR_US;
  g_assert_cmpuint (find_codes (data, second), ==, 1u << WB_CRAFT_DEVIATION_COOLING);
  g_assert_nonnull (data->wax);
  ((WbSample *) g_ptr_array_index (data->samples, 0))->cure_days = 3;
  ((WbWax *) data->wax)->burn_cure_days = 7;
  earlier->number = 1;
  g_assert_cmpuint (find_codes (data, first), ==, 1u << WB_CRAFT_DEVIATION_CURE);
}

static WbInstant
at (const char *text)
{
  WbInstant instant;

  g_assert_true (wb_instant_parse (text, &instant, NULL));
  return instant;
}

/* The same moment as on the bench: the start of a day, and the hour where the wait is one in hours. */
static void
test_cure_by_its_moment (void)
{
  static const struct { double days; const char *lit_at; gboolean early; } cases[] = {
    { 7, "2026-03-08T23:00:00Z", TRUE }, { 7, "2026-03-09T08:00:00Z", FALSE },
    { 1, "2026-03-03T21:00:00Z", TRUE }, { 1, "2026-03-03T22:00:00Z", FALSE },
    { 2.5, "2026-03-05T09:00:00Z", TRUE }, { 2.5, "2026-03-05T10:00:00Z", FALSE },
  };
  g_autoptr (WbDataset) data = data_new ();
  guint index = add_whole_burn (data);
  WbBurn *burn = g_ptr_array_index (data->burns, index);
  WbSample *sample = g_ptr_array_index (data->samples, 0);
  WbBatch *batch = wb_record_new (&wb_batch_type);

  batch->record.id = sample->batch = 4711;
  batch->poured_at = at ("2026-03-02T22:00:00Z");
  sample->poured_on = wb_instant_get_day (batch->poured_at);
  sample->cure_days = NAN;
  burn->number = 1;
  g_ptr_array_add (data->batches, batch);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_test_message ("%g days, lit at %s", cases[i].days, cases[i].lit_at);
      ((WbWax *) data->wax)->burn_cure_days = cases[i].days;
      burn->lit_at = at (cases[i].lit_at);
      g_assert_cmpuint (find_codes (data, index), ==, cases[i].early ? 1u << WB_CRAFT_DEVIATION_CURE : 0);
    }
}

static void
test_words (void)
{
  const WbCraftDeviation whole = { WB_CRAFT_DEVIATION_COOLING, NAN }, at = { WB_CRAFT_DEVIATION_DRAUGHT, 60 };
  g_autofree char *first = wb_craft_deviation_dup_text (&whole), *second = wb_craft_deviation_dup_text (&at);

  g_assert_cmpstr (first, ==, wb_craft_deviation_get_label (WB_CRAFT_DEVIATION_COOLING));
  g_assert_cmpstr (second, ==, "Draught noted, at 60 min");
  for (guint i = 0; i < WB_CRAFT_N_DEVIATIONS; i++)
    g_assert_cmpuint (strlen (wb_craft_deviation_get_label ((WbCraftDeviationCode) i)), >, 5);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/deviations/a-burn-by-the-protocol-has-none", test_none);
  g_test_add_func ("/craft/deviations/trim", test_trim);
  g_test_add_func ("/craft/deviations/room-and-draught-by-the-first-reading", test_room);
  g_test_add_func ("/craft/deviations/length", test_length);
  g_test_add_func ("/craft/deviations/burnt-on-and-lit-again", test_burnt_on);
  g_test_add_func ("/craft/deviations/throw-in-company", test_company);
  g_test_add_func ("/craft/deviations/cooling-and-cure", test_cooling_and_cure);
  g_test_add_func ("/craft/deviations/cure-by-the-moment-of-the-bench", test_cure_by_its_moment);
  g_test_add_func ("/craft/deviations/words", test_words);
  return g_test_run ();
}
