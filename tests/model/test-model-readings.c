/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-model.h"

#include "wb-dataset.h"

#include <math.h>

static void
test_zero_is_not_empty (void)
{
  g_autoptr (WbReadings) readings = wb_readings_new ();

  for (guint i = 0; i < 20; i++)
    wb_readings_append (readings, 100 + i, i / 4, 60.0 * (i % 4));
  wb_readings_set (readings, 3, WB_COLUMN_SOOT, 0);
  wb_readings_set (readings, 7, WB_COLUMN_DEPTH_MM, 0);
  wb_readings_set (readings, 8, WB_COLUMN_DEPTH_MM, 7.3);
  for (guint i = 0; i < 20; i++)
    {
      g_assert_cmpint (wb_readings_taken (readings, i, WB_COLUMN_SOOT), ==, i == 3);
      g_assert_cmpint (wb_readings_taken (readings, i, WB_COLUMN_DEPTH_MM), ==, i == 7 || i == 8);
      g_assert_false (wb_readings_taken (readings, i, WB_COLUMN_FLAME_MM));
    }
  g_assert_cmpfloat (wb_readings_get (readings, 3, WB_COLUMN_SOOT), ==, 0);
  g_assert_cmpfloat (wb_readings_get (readings, 8, WB_COLUMN_DEPTH_MM), ==, 7.3);
  g_assert_true (isnan (wb_readings_get (readings, 9, WB_COLUMN_DEPTH_MM)));
  wb_readings_set (readings, 8, WB_COLUMN_DEPTH_MM, NAN);
  g_assert_false (wb_readings_taken (readings, 8, WB_COLUMN_DEPTH_MM));
}

/* Against a plain array of the same values, over more rows than one allocation holds. */
static void
test_columns_keep_every_value (void)
{
  enum { N = 10000 };
  g_autoptr (WbReadings) readings = wb_readings_new ();
  g_autofree double *plain = g_new (double, N * WB_N_COLUMNS);
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);

  for (guint row = 0; row < N; row++)
    {
      wb_readings_append (readings, row + 1, row / 5, row % 5);
      for (guint c = 0; c < WB_N_COLUMNS; c++)
        {
          const WbColumnSpec *spec = wb_column_get_spec (c);
          double value = NAN;

          if (g_rand_int_range (rand, 0, 3) == 0)
            {
              value = g_rand_double_range (rand, spec->minimum, spec->maximum);
              if (spec->integer)
                value = floor (value);
              wb_readings_set (readings, row, c, value);
            }
          plain[row * WB_N_COLUMNS + c] = value;
        }
    }
  for (guint row = 0; row < N; row++)
    for (guint c = 0; c < WB_N_COLUMNS; c++)
      {
        double kept = wb_readings_get (readings, row, c), given = plain[row * WB_N_COLUMNS + c];

        g_assert_true (isnan (given) ? isnan (kept) : kept == given);
      }
}

static void
test_burns_have_their_rows (void)
{
  g_autoptr (WbReadings) readings = wb_readings_new ();
  guint first, n;

  wb_readings_append (readings, 1, 0, 0);
  wb_readings_append (readings, 2, 2, 0);
  wb_readings_append (readings, 3, 2, 60);
  wb_readings_append (readings, 4, 2, 60);
  wb_readings_append (readings, 5, 5, 0);
  wb_readings_get_burn_rows (readings, 2, &first, &n);
  g_assert_cmpuint (first, ==, 1);
  g_assert_cmpuint (n, ==, 3);
  wb_readings_get_burn_rows (readings, 3, &first, &n);
  g_assert_cmpuint (n, ==, 0);
  wb_readings_get_burn_rows (readings, 5, &first, &n);
  g_assert_cmpuint (first, ==, 4);
  g_assert_cmpuint (n, ==, 1);
  wb_readings_get_burn_rows (readings, 9, &first, &n);
  g_assert_cmpuint (n, ==, 0);
  g_assert_cmpint (wb_readings_get_id (readings, 3), ==, 4);
}

static void
test_texts_are_shared (void)
{
  g_autoptr (WbReadings) readings = wb_readings_new ();

  for (guint i = 0; i < 3; i++)
    wb_readings_append (readings, i + 1, 0, i);
  wb_readings_set_text (readings, 0, WB_READING_TEXT_RATER, "Ada");
  wb_readings_set_text (readings, 2, WB_READING_TEXT_RATER, "Ada");
  wb_readings_set_text (readings, 1, WB_READING_TEXT_NOTE, "");
  g_assert_cmpstr (wb_readings_get_text (readings, 0, WB_READING_TEXT_RATER), ==, "Ada");
  g_assert_true (wb_readings_get_text (readings, 0, WB_READING_TEXT_RATER)
                 == wb_readings_get_text (readings, 2, WB_READING_TEXT_RATER));
  g_assert_null (wb_readings_get_text (readings, 1, WB_READING_TEXT_RATER));
  g_assert_null (wb_readings_get_text (readings, 1, WB_READING_TEXT_NOTE));
  wb_readings_set_text (readings, 0, WB_READING_TEXT_RATER, NULL);
  g_assert_null (wb_readings_get_text (readings, 0, WB_READING_TEXT_RATER));
}

typedef struct
{
  const char *name;
  double      single, a, b, full, ring[4]; /* 12, 3, 6, 9 o'clock */
  double      diameter;                    /* NAN: not read */
  gboolean    at_wall, both;
} PoolCase;

#define NO_RINGS { NAN, NAN, NAN, NAN }

/* Vessel of 80 mm; plain geometry. */
static const PoolCase pool_cases[] = {
  { "nothing read", NAN, NAN, NAN, NAN, NO_RINGS, NAN, FALSE, FALSE },
  { "one diameter", 60, NAN, NAN, NAN, NO_RINGS, 60, FALSE, FALSE },
  { "no pool yet", 0, NAN, NAN, NAN, NO_RINGS, 0, FALSE, FALSE },
  { "half a millimetre short is at the wall", 79.5, NAN, NAN, NAN, NO_RINGS, 79.5, TRUE, TRUE },
  { "0.6 mm short is not", 79.4, NAN, NAN, NAN, NO_RINGS, 79.4, FALSE, FALSE },
  { "marked full", NAN, NAN, NAN, 1, NO_RINGS, 80, TRUE, TRUE },
  { "above the inner diameter", 83, NAN, NAN, NAN, NO_RINGS, 80, TRUE, TRUE },
  { "two diameters", NAN, 60, 70, NAN, NO_RINGS, 65, FALSE, FALSE },
  { "one of two", NAN, NAN, 70, NAN, NO_RINGS, 70, FALSE, FALSE },
  { "one of two at the wall", NAN, NAN, 70, 2, NO_RINGS, 75, TRUE, FALSE },
  { "both marked full", NAN, NAN, NAN, 6, NO_RINGS, 80, TRUE, TRUE },
  { "four rings", NAN, NAN, NAN, NAN, { 5, 4, 7, 6 }, 69, FALSE, FALSE },
  { "rings at the wall all round", NAN, NAN, NAN, NAN, { 0, 0, 0, 0 }, 80, TRUE, TRUE },
  { "wick off centre", NAN, NAN, NAN, NAN, { 0, 5, 10, 5 }, 70, FALSE, FALSE },
  { "one ring", NAN, NAN, NAN, NAN, { NAN, 5, NAN, NAN }, 70, FALSE, FALSE },
  { "rings of half the vessel", NAN, NAN, NAN, NAN, { 40, 40, 40, 40 }, 0, FALSE, FALSE },
};

static void
test_pool (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (pool_cases); i++)
    {
      const PoolCase *c = &pool_cases[i];
      g_autoptr (WbReadings) readings = wb_readings_new ();
      WbPool pool = { 0 };

      g_test_message ("case: %s", c->name);
      wb_readings_append (readings, 1, 0, 60);
      wb_readings_set (readings, 0, WB_COLUMN_POOL_MM, c->single);
      wb_readings_set (readings, 0, WB_COLUMN_POOL_A_MM, c->a);
      wb_readings_set (readings, 0, WB_COLUMN_POOL_B_MM, c->b);
      wb_readings_set (readings, 0, WB_COLUMN_POOL_FULL, c->full);
      for (guint r = 0; r < 4; r++)
        wb_readings_set (readings, 0, WB_COLUMN_RING_12_MM + r, c->ring[r]);
      g_assert_cmpint (wb_readings_get_pool (readings, 0, 80, &pool), ==, !isnan (c->diameter));
      if (isnan (c->diameter))
        continue;
      g_assert_cmpfloat_with_epsilon (pool.diameter_mm, c->diameter, 1e-9);
      g_assert_cmpint (pool.at_wall, ==, c->at_wall);
      g_assert_cmpint (pool.both_at_wall, ==, c->both);
    }
}

static void
test_columns_are_described (void)
{
  for (int i = 0; i < WB_N_COLUMNS; i++)
    {
      const WbColumnSpec *spec = wb_column_get_spec (i);
      const WbFieldSpec *field = wb_record_type_find_field (&wb_reading_type, spec->name);

      g_assert_cmpint (wb_column_find (spec->name), ==, i);
      g_assert_nonnull (field);
      g_assert_cmpuint (field->offset, ==, G_STRUCT_OFFSET (WbReading, values) + i * sizeof (double));
      if (spec->words != NULL)
        for (int w = (int) spec->minimum; w <= (int) spec->maximum; w++)
          g_assert_nonnull (spec->words[w].label);
    }
  g_assert_cmpint (wb_column_find ("pool"), ==, -1);
  g_assert_cmpint (wb_words_find (wb_event_words, "end_of_life"), ==, WB_EVENT_END_OF_LIFE);
  g_assert_cmpint (wb_words_find (wb_soot_words, "4"), ==, 4);
}

static void
test_what_ends_a_burn (void)
{
  guint n = 0;

  for (int event = 0; event < WB_N_EVENTS; event++)
    n += wb_event_ends_burn (event);
  g_assert_cmpuint (n, ==, 3);
  g_assert_true (wb_event_ends_burn (WB_EVENT_SNUFFED));
  g_assert_true (wb_event_ends_burn (WB_EVENT_SELF_EXTINGUISHED));
  g_assert_true (wb_event_ends_burn (WB_EVENT_END_OF_LIFE));
  g_assert_false (wb_event_ends_burn (NAN));
  g_assert_false (wb_event_ends_burn (-1));
}

/* What a hand reads at each wick, and what can befall one; the rest is the vessel's. */
static void
test_what_is_of_a_wick (void)
{
  guint columns = 0, events = 0;

  for (WbColumn column = 0; column < WB_N_COLUMNS; column++)
    columns += wb_column_is_of_wick (column);
  for (int event = 0; event < WB_N_EVENTS; event++)
    events += wb_event_is_of_wick (event);
  g_assert_cmpuint (columns, ==, 4);
  g_assert_cmpuint (events, ==, 9);
  g_assert_true (wb_column_is_of_wick (WB_COLUMN_FLAME_MAX_MM));
  g_assert_true (wb_column_is_of_wick (WB_COLUMN_MUSHROOM));
  g_assert_false (wb_column_is_of_wick (WB_COLUMN_POOL_MM));
  g_assert_false (wb_column_is_of_wick (WB_COLUMN_VESSEL_C));
  g_assert_true (wb_event_is_of_wick (WB_EVENT_SELF_EXTINGUISHED));
  g_assert_false (wb_event_is_of_wick (WB_EVENT_FLAMES_MERGED));
  g_assert_false (wb_event_is_of_wick (WB_EVENT_VESSEL_CRACK));
  g_assert_false (wb_event_is_of_wick (NAN));
}

void
test_model_add_readings (void)
{
  g_test_add_func ("/model/readings/what-is-of-a-wick", test_what_is_of_a_wick);
  g_test_add_func ("/model/readings/nought-is-not-not-taken", test_zero_is_not_empty);
  g_test_add_func ("/model/readings/columns-keep-every-value", test_columns_keep_every_value);
  g_test_add_func ("/model/readings/a-burn-finds-its-rows", test_burns_have_their_rows);
  g_test_add_func ("/model/readings/equal-texts-are-kept-once", test_texts_are_shared);
  g_test_add_func ("/model/readings/the-pool-is-told-whatever-way-it-was-read", test_pool);
  g_test_add_func ("/model/readings/every-column-is-a-field-of-the-record", test_columns_are_described);
  g_test_add_func ("/model/readings/three-events-end-a-burn", test_what_ends_a_burn);
}
