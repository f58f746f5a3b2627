/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Things laid side by side: names, figures, and which is nearer to the aim. Estimates are set by hand, so that the marks can be told beforehand. */
#include "config.h"

#include <math.h>
#include <string.h>

#include "test-craft.h"
#include "wb-craft-beside.h"
#include "wb-craft-beside-conditions.h"

#define N_CELLS 3

/* Three wicks in a vessel of 76.2 mm, two samples each, two calm burns each. */
static WbCraftAnswer *
make_answer (const char *code)
{
  WbDataset *data = test_craft_data_new ();

  g_free (data->experiment->code);
  data->experiment->code = g_strdup (code);
  for (guint i = 0; i < N_CELLS; i++)
    {
      g_autofree char *size = g_strdup_printf ("L-%u", i + 1);

      test_craft_add_cell (data, "Tern", 76.2, "L", size, i + 1, 0.0);
    }
  for (guint i = 0; i < 2 * N_CELLS; i++)
    {
      g_autofree char *sample_code = g_strdup_printf ("T%u", i + 1);
      guint            sample = test_craft_add_sample (data, i / 2, sample_code);

      for (guint burn = 0; burn < 2; burn++)
        test_craft_calm_burn (data, sample, 72.0 + 4.0 * (i / 2), 1.2, 76.2);
    }
  return wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 1, NULL, NULL);
}

static void
set_told (WbCraftAnswer  *answer,
          guint           cell,
          WbFigure        figure,
          WbCraftInterval told)
{
  WbCraftEstimate *estimate = &answer->estimates->cells[cell].figure[figure];

  estimate->told = told;
  estimate->samples = isnan (told.value) ? 0 : 2;
  estimate->burns = isnan (told.value) ? 0 : 4;
}

static const WbCraftBesideRow *
find_row (const WbCraftBeside *beside,
          WbFigure             figure,
          WbStage              stage)
{
  for (guint i = 0; i < beside->n_rows; i++)
    if (beside->rows[i].figure == figure && beside->rows[i].stage == stage)
      return &beside->rows[i];
  return NULL;
}

static void
assert_name (const WbCraftPick *picks,
             gsize              n,
             gsize              index,
             const char        *expected)
{
  g_autofree char *name = wb_craft_pick_dup_name (picks, n, index);

  g_assert_cmpstr (name, ==, expected);
}

static void
test_names (void)
{
  g_autoptr (WbCraftAnswer) one = make_answer ("HF-1"), other = make_answer ("TH-1");
  const WbCraftPick         within[] = { { one, 0, -1 }, { one, 2, -1 } };
  const WbCraftPick         across[] = { { one, 1, -1 }, { other, 1, -1 } };
  const WbCraftPick         samples[] = { { one, 1, 2 }, { one, 1, 3 }, { one, 0, -1 } };

  assert_name (within, 2, 0, "L-1");
  assert_name (within, 2, 1, "L-3");
  assert_name (within, 1, 0, "L-1");
  assert_name (across, 2, 0, "HF-1 · L-2");
  assert_name (across, 2, 1, "TH-1 · L-2");
  assert_name (samples, 3, 0, "L-2 · T3");
  assert_name (samples, 3, 1, "L-2 · T4");
  assert_name (samples, 3, 2, "L-1");

  g_free (((WbSample *) g_ptr_array_index (one->data->samples, 3))->code);
  ((WbSample *) g_ptr_array_index (one->data->samples, 3))->code = g_strdup ("L-2AF-1");
  assert_name (samples, 3, 1, "L-2AF-1");
}

/* Of two experiments with a vessel each, the experiment tells the vessel; where one has several they are told. */
static void
test_names_across (void)
{
  g_autoptr (WbCraftAnswer) one = make_answer ("HF-1"), other = make_answer ("TH-1");
  const WbCraftPick         picks[] = { { one, 0, -1 }, { other, 0, -1 }, { other, 1, -1 } };
  WbVessel                 *wide = wb_record_copy (g_ptr_array_index (other->data->vessels, 0));

  g_free (wide->name);
  wide->name = g_strdup ("Gannet");
  g_ptr_array_add (other->data->vessels, wide);
  other->data->cell_vessels->pdata[0] = other->data->cell_vessels->pdata[1] = wide;
  assert_name (picks, 3, 0, "HF-1 · L-1");
  assert_name (picks, 3, 2, "TH-1 · L-2");

  other->data->cell_vessels->pdata[1] = g_ptr_array_index (other->data->vessels, 0);
  assert_name (picks, 3, 0, "HF-1 · L-1");
  assert_name (picks, 3, 2, "TH-1 · Tern, 76.2\302\240mm · L-2");
}

/* The house aim for hang-up is 1 up to 3 mm and falls to 0 at 8 mm (common practice, no source). */
static void
test_marks (void)
{
  const struct
  {
    const char       *name;
    WbCraftInterval   told[N_CELLS];
    WbCraftBesideMark marks[N_CELLS];
    const char       *why; /* of the first */
  } cases[] = {
    { "clear", { { 4.0, 3.8, 4.2 }, { 6.0, 5.5, 6.5 }, WB_CRAFT_INTERVAL_NONE },
      { WB_CRAFT_BESIDE_BETTER, WB_CRAFT_BESIDE_WORSE, WB_CRAFT_BESIDE_NOT_READ }, "nearer to the aim than L-2" },
    { "overlap", { { 4.0, 3.5, 5.0 }, { 5.0, 4.5, 6.5 }, WB_CRAFT_INTERVAL_NONE },
      { WB_CRAFT_BESIDE_ALIKE, WB_CRAFT_BESIDE_ALIKE, WB_CRAFT_BESIDE_NOT_READ }, "the ranges overlap" },
    { "both within", { { 1.0, 0.5, 1.5 }, { 2.5, 2.2, 2.8 }, WB_CRAFT_INTERVAL_NONE },
      { WB_CRAFT_BESIDE_ALIKE, WB_CRAFT_BESIDE_ALIKE, WB_CRAFT_BESIDE_NOT_READ }, "all within the aim" },
    { "both beyond", { { 9.0, 8.5, 9.5 }, { 12.0, 11.0, 13.0 }, WB_CRAFT_INTERVAL_NONE },
      { WB_CRAFT_BESIDE_ALIKE, WB_CRAFT_BESIDE_ALIKE, WB_CRAFT_BESIDE_NOT_READ }, "all beyond what the aim allows" },
    { "three", { { 5.0, 4.9, 5.1 }, { 7.0, 6.8, 7.2 }, { 3.2, 3.1, 3.3 } },
      { WB_CRAFT_BESIDE_BETWEEN, WB_CRAFT_BESIDE_WORSE, WB_CRAFT_BESIDE_BETTER }, "nearer to the aim than L-2, farther than L-3" },
    { "alone", { { 5.0, 4.9, 5.1 }, WB_CRAFT_INTERVAL_NONE, WB_CRAFT_INTERVAL_NONE },
      { WB_CRAFT_BESIDE_ALONE, WB_CRAFT_BESIDE_NOT_READ, WB_CRAFT_BESIDE_NOT_READ }, "" },
    { "no upper end", { { 4.0, 3.9, NAN }, { 6.0, 5.5, 6.5 }, WB_CRAFT_INTERVAL_NONE },
      { WB_CRAFT_BESIDE_ALIKE, WB_CRAFT_BESIDE_ALIKE, WB_CRAFT_BESIDE_NOT_READ }, "the ranges overlap" },
  };
  g_autoptr (WbCraftAnswer) answer = make_answer ("HF-1");
  const WbCraftPick         picks[] = { { answer, 0, -1 }, { answer, 1, -1 }, { answer, 2, -1 } };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      for (guint cell = 0; cell < N_CELLS; cell++)
        set_told (answer, cell, WB_FIGURE_HANG_UP, cases[i].told[cell]);

      g_autoptr (WbCraftBeside) beside = wb_craft_beside_new (picks, N_CELLS);
      const WbCraftBesideRow   *row = find_row (beside, WB_FIGURE_HANG_UP, WB_STAGE_ALL);

      g_test_message ("%s", cases[i].name);
      g_assert_nonnull (row);
      for (guint cell = 0; cell < N_CELLS; cell++)
        g_assert_cmpint (row->figures[cell].mark, ==, cases[i].marks[cell]);
      g_assert_cmpstr (row->figures[0].why, ==, cases[i].why);
    }
}

/* Too high and too low are as far from the aim as each other: a flame of 13 to 25 mm is aimed at, worthless at 5 and at 45 mm. */
static void
test_both_sides (void)
{
  g_autoptr (WbCraftAnswer) answer = make_answer ("HF-1");
  const WbCraftPick         picks[] = { { answer, 0, -1 }, { answer, 1, -1 } };

  set_told (answer, 0, WB_FIGURE_FLAME, (WbCraftInterval) { 43.0, 42.0, 44.0 });
  set_told (answer, 1, WB_FIGURE_FLAME, (WbCraftInterval) { 11.0, 10.0, 12.0 });
  g_autoptr (WbCraftBeside) low = wb_craft_beside_new (picks, 2);
  g_assert_cmpint (find_row (low, WB_FIGURE_FLAME, WB_STAGE_ALL)->figures[1].mark, ==, WB_CRAFT_BESIDE_BETTER);

  /* an interval from too low to too high holds the aim */
  set_told (answer, 0, WB_FIGURE_FLAME, (WbCraftInterval) { 20.0, 6.0, 44.0 });
  g_autoptr (WbCraftBeside) wide = wb_craft_beside_new (picks, 2);
  g_assert_cmpint (find_row (wide, WB_FIGURE_FLAME, WB_STAGE_ALL)->figures[1].mark, ==, WB_CRAFT_BESIDE_ALIKE);
}

/* A pool that never comes has no time, and is worse than one in time: due in 3 h, worthless from 4.5 h on. */
static void
test_never (void)
{
  g_autoptr (WbCraftAnswer)  answer = make_answer ("HF-1");
  const WbCraftPick          picks[] = { { answer, 0, -1 }, { answer, 1, -1 } };
  WbCraftGrowth             *first = &answer->estimates->cells[0].growth, *second = &answer->estimates->cells[1].growth;

  first->status = second->status = WB_CRAFT_FIT_OK;
  first->pool_limit_mm = (WbCraftInterval) { 70.0, 69.0, 71.0 };
  first->full_pool_h = WB_CRAFT_INTERVAL_NONE;
  second->pool_limit_mm = (WbCraftInterval) { 82.0, 81.0, 83.0 };
  second->full_pool_h = (WbCraftInterval) { 3.0, 2.8, 3.2 };

  g_autoptr (WbCraftBeside)  beside = wb_craft_beside_new (picks, 2);
  const WbCraftBesideRow    *row = find_row (beside, WB_FIGURE_FULL_POOL, WB_STAGE_ALL);

  g_assert_cmpstr (row->figures[0].lack, ==, "never");
  g_assert_cmpint (row->figures[0].mark, ==, WB_CRAFT_BESIDE_WORSE);
  g_assert_cmpint (row->figures[1].mark, ==, WB_CRAFT_BESIDE_BETTER);
  g_assert_cmpstr (row->figures[1].why, ==, "nearer to the aim than L-1");
}

/* What one maker aims at is no measure of another's candle. */
static void
test_other_aims (void)
{
  g_autoptr (WbCraftAnswer) one = make_answer ("HF-1"), other = make_answer ("TH-1");
  const WbCraftPick         picks[] = { { one, 0, -1 }, { other, 0, -1 } };

  set_told (one, 0, WB_FIGURE_HANG_UP, (WbCraftInterval) { 4.0, 3.8, 4.2 });
  set_told (other, 0, WB_FIGURE_HANG_UP, (WbCraftInterval) { 6.0, 5.5, 6.5 });
  g_autoptr (WbCraftBeside) alike = wb_craft_beside_new (picks, 2);
  g_assert_cmpint (find_row (alike, WB_FIGURE_HANG_UP, WB_STAGE_ALL)->figures[0].mark, ==, WB_CRAFT_BESIDE_BETTER);

  for (guint i = 0; i < other->data->aims->len; i++)
    {
      WbAim *aim = g_ptr_array_index (other->data->aims, i);

      if (aim->figure == WB_FIGURE_HANG_UP)
        aim->zero_above = 12.0;
    }
  g_autoptr (WbCraftBeside) apart = wb_craft_beside_new (picks, 2);
  g_assert_cmpint (find_row (apart, WB_FIGURE_HANG_UP, WB_STAGE_ALL)->figures[0].mark, ==, WB_CRAFT_BESIDE_ALONE);
  g_assert_cmpint (find_row (apart, WB_FIGURE_HANG_UP, WB_STAGE_ALL)->figures[1].mark, ==, WB_CRAFT_BESIDE_ALONE);
}

/* A sample has the mean of its own burns, with the interval that t gives a mean of two: half width 6.314 s / √2. */
static void
test_sample (void)
{
  g_autoptr (WbCraftAnswer) answer = make_answer ("HF-1");
  const WbCraftPick         pick = { answer, 0, 0 };
  WbCraftBurn              *burns = answer->figures->burns;

  burns[0].depth_mm = 8.0;
  burns[1].depth_mm = 10.0;

  WbCraftBesideFigure depth = wb_craft_pick_read (&pick, WB_FIGURE_DEPTH, WB_STAGE_ALL, FALSE);
  g_assert_cmpfloat_with_epsilon (depth.interval.value, 9.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (depth.interval.high, 9.0 + 6.313752 * sqrt (2.0) / sqrt (2.0), 1e-4);
  g_assert_cmpuint (depth.samples, ==, 1);
  g_assert_cmpuint (depth.burns, ==, 2);

  burns[1].depth_mm = NAN;
  depth = wb_craft_pick_read (&pick, WB_FIGURE_DEPTH, WB_STAGE_ALL, FALSE);
  g_assert_cmpfloat_with_epsilon (depth.interval.value, 8.0, 1e-9);
  g_assert_true (isnan (depth.interval.low) && isnan (depth.interval.high));

  /* between the last look short of the wall and the first at it */
  burns[0].not_full_h = 2.0;
  burns[0].full_seen_h = 2.5;
  burns[1].not_full_h = NAN;
  burns[1].full_seen_h = NAN;
  WbCraftBesideFigure full = wb_craft_pick_read (&pick, WB_FIGURE_FULL_POOL, WB_STAGE_ALL, FALSE);
  g_assert_true (isnan (full.interval.value));
  g_assert_cmpstr (full.lack, ==, "not in every burn");
  burns[1].full_seen_h = 2.75;
  full = wb_craft_pick_read (&pick, WB_FIGURE_FULL_POOL, WB_STAGE_ALL, FALSE);
  g_assert_cmpfloat_with_epsilon (full.interval.value, 2.5, 1e-9);
}

/* What crossed a limit is out, however near to the aim it is: better in nothing, and its verdict says why. */
static void
test_crossed (void)
{
  g_autoptr (WbCraftAnswer) answer = NULL;
  WbDataset                *data = test_craft_data_new ();

  for (guint i = 0; i < 2; i++)
    {
      guint sample;

      test_craft_add_cell (data, "Tern", 76.2, "L", i == 0 ? "L-1" : "L-2", i + 1, 0.0);
      sample = test_craft_add_sample (data, i, i == 0 ? "T1" : "T2");
      for (guint burn = 0; burn < 2; burn++)
        test_craft_calm_burn (data, sample, 72.0, 1.2, 76.2);
      if (i == 0)
        test_craft_read (data, data->burns->len - 1, 250, WB_COLUMN_FLAME_MAX_MM, 90);
    }
  answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 1, NULL, NULL);
  set_told (answer, 0, WB_FIGURE_HANG_UP, (WbCraftInterval) { 4.0, 3.8, 4.2 });
  set_told (answer, 1, WB_FIGURE_HANG_UP, (WbCraftInterval) { 6.0, 5.5, 6.5 });

  const WbCraftPick         picks[] = { { answer, 0, -1 }, { answer, 1, -1 }, { answer, 0, 0 } };
  g_autoptr (WbCraftBeside) two = wb_craft_beside_new (picks, 2), beside = wb_craft_beside_new (picks, 3);
  const WbCraftBesideRow   *row = find_row (two, WB_FIGURE_HANG_UP, WB_STAGE_ALL);

  for (guint i = 0; i < 3; i++)
    g_test_message ("%s", beside->verdicts[i]);
  g_assert_cmpint (row->figures[0].mark, ==, WB_CRAFT_BESIDE_CROSSED);
  g_assert_cmpint (row->figures[1].mark, ==, WB_CRAFT_BESIDE_WORSE);
  g_assert_true (g_str_has_prefix (beside->verdicts[0], "crossed a limit\nlimit crossed: "));
  g_assert_nonnull (strstr (beside->verdicts[0], "90"));
  g_assert_nonnull (strstr (beside->verdicts[0], "limits not tested: "));
  g_assert_null (strstr (beside->verdicts[1], "crossed"));
  g_assert_true (g_str_has_prefix (beside->verdicts[2], "its combination: crossed a limit\n"));
  for (guint i = 0; i < beside->n_rows; i++)
    {
      g_assert_cmpint (beside->rows[i].figures[0].mark, !=, WB_CRAFT_BESIDE_BETTER);
      g_assert_cmpint (beside->rows[i].figures[2].mark, !=, WB_CRAFT_BESIDE_BETTER);
    }
}

static gboolean
touch (WbCraftInterval a,
       WbCraftInterval b)
{
  return a.low <= b.high && b.low <= a.high;
}

/* Whatever the ranges are: what is said of a pair is true of that pair, and "all" of all. */
static void
test_overlap (void)
{
  g_autoptr (WbCraftAnswer) answer = make_answer ("HF-1");
  const WbCraftPick         picks[] = { { answer, 0, -1 }, { answer, 1, -1 }, { answer, 2, -1 } };
  guint                     all = 0, some = 0, none = 0;

  for (guint round = 0; round < 300; round++)
    {
      WbCraftInterval told[N_CELLS];

      for (guint cell = 0; cell < N_CELLS; cell++)
        {
          double value = g_test_rand_double_range (1.0, 9.0), half = g_test_rand_double_range (0.1, 3.0);

          told[cell] = (WbCraftInterval) { value, value - half, value + half };
          set_told (answer, cell, WB_FIGURE_HANG_UP, told[cell]);
        }

      g_autoptr (WbCraftBeside) beside = wb_craft_beside_new (picks, N_CELLS);
      const WbCraftBesideRow   *row = find_row (beside, WB_FIGURE_HANG_UP, WB_STAGE_ALL);

      for (guint cell = 0; cell < N_CELLS; cell++)
        {
          const char *why = row->figures[cell].why, *over = strstr (why, "overlaps that of "), *maybe = strstr (why, "may be as near");

          g_assert_cmpstr (why, !=, "the ranges overlap");
          if (g_str_equal (why, "all ranges overlap"))
            {
              g_assert_true (touch (told[0], told[1]) && touch (told[0], told[2]) && touch (told[1], told[2]));
              all++;
            }
          for (guint other = 0; other < N_CELLS; other++)
            {
              const char *at = other == cell || over == NULL ? NULL : strstr (over, beside->names[other]);

              if (other == cell || (over == NULL && maybe == NULL))
                continue;
              some += at != NULL && (maybe == NULL || at < maybe);
              none += maybe != NULL && strstr (maybe, beside->names[other]) != NULL;
              g_assert_cmpint (at != NULL && (maybe == NULL || at < maybe), ==, touch (told[cell], told[other]));
              g_assert_cmpint (maybe != NULL && strstr (maybe, beside->names[other]) != NULL, ==, !touch (told[cell], told[other]));
            }
        }
    }
  g_assert_cmpuint (all, >, 0);
  g_assert_cmpuint (some, >, 0);
  g_assert_cmpuint (none, >, 0);
}

/* A single value, of one burn, has no range that could overlap. */
static void
test_no_range (void)
{
  g_autoptr (WbCraftAnswer) answer = make_answer ("HF-1");
  const WbCraftPick         picks[] = { { answer, 0, -1 }, { answer, 1, -1 } };

  set_told (answer, 0, WB_FIGURE_HANG_UP, (WbCraftInterval) { 4.0, NAN, NAN });
  set_told (answer, 1, WB_FIGURE_HANG_UP, (WbCraftInterval) { 6.0, 5.5, 6.5 });
  g_autoptr (WbCraftBeside) beside = wb_craft_beside_new (picks, 2);
  const WbCraftBesideRow   *row = find_row (beside, WB_FIGURE_HANG_UP, WB_STAGE_ALL);

  g_assert_cmpstr (row->figures[0].why, ==, "one value alone has no range");
  g_assert_cmpstr (row->figures[1].why, ==, "may be as near to the aim as L-1");
}

static const WbCraftBesideCondition *
find_condition (const GPtrArray *conditions,
                const char      *label)
{
  for (guint i = 0; i < conditions->len; i++)
    if (g_str_equal (((const WbCraftBesideCondition *) g_ptr_array_index (conditions, i))->label, label))
      return g_ptr_array_index (conditions, i);
  return NULL;
}

static void
read_rooms (WbDataset *data,
            guint      first,
            guint      end,
            double     room_c)
{
  for (guint burn = first; burn < end; burn++)
    {
      guint row, n;

      wb_readings_get_burn_rows (data->readings, burn, &row, &n);
      for (guint end_row = row + n; row < end_row; row++)
        wb_readings_set (data->readings, row, WB_COLUMN_ROOM_C, room_c);
    }
}

/* Wick against wick is what one compares; another wax, vessel or room is told, and what is alike too. */
static void
test_conditions (void)
{
  g_autoptr (WbCraftAnswer) one = make_answer ("HF-1"), other = make_answer ("TH-1");
  const WbCraftPick         within[] = { { one, 0, -1 }, { one, 1, -1 } }, across[] = { { one, 0, -1 }, { other, 0, -1 } };
  WbVessel                 *wide = wb_record_copy (g_ptr_array_index (other->data->vessels, 0));

  g_free (wide->name);
  wide->name = g_strdup ("Gannet");
  g_ptr_array_add (other->data->vessels, wide);
  other->data->cell_vessels->pdata[0] = wide;
  ((WbCell *) g_ptr_array_index (other->data->cells, 0))->load_pct = 10.0;
  g_free (other->data->wax->name);
  other->data->wax->name = g_strdup ("Hard one");
  read_rooms (one->data, 0, 8, 21.0);
  read_rooms (other->data, 0, 8, 26.0);

  g_autoptr (GPtrArray) fair = wb_craft_beside_list_conditions (within, 2), unfair = wb_craft_beside_list_conditions (across, 2);
  g_autofree char      *line = wb_craft_beside_dup_conditions (fair, 2), *other_line = wb_craft_beside_dup_conditions (unfair, 2);
  g_autofree char      *quiet = wb_craft_beside_dup_warning (fair, 2), *warning = wb_craft_beside_dup_warning (unfair, 2);
  g_autofree char      *alone = wb_craft_beside_dup_conditions (fair, 1);

  g_test_message ("%s", line);
  g_test_message ("%s", other_line);
  g_assert_true (g_str_has_prefix (line, "They differ in: wick. Alike: vessel, wax, scent and load, "));
  g_assert_nonnull (strstr (line, "room"));
  g_assert_nonnull (strstr (line, "Not noted: "));
  g_assert_cmpstr (quiet, ==, "");
  g_assert_cmpstr (alone, ==, "");
  g_assert_true (g_str_has_prefix (other_line, "They differ in: vessel, wax, scent and load, room. Alike: wick, "));
  g_assert_cmpstr (warning, ==, "The candles differ in more than the wick: vessel, wax, scent and load, room.");
  g_assert_cmpstr (find_condition (unfair, "room")->values[0], ==, "21\302\240°C");
  g_assert_cmpstr (find_condition (unfair, "room")->values[1], ==, "26\302\240°C");
}

/* Noted of the one alone is no likeness; two degrees are none too many. */
static void
test_conditions_noted (void)
{
  g_autoptr (WbCraftAnswer) answer = make_answer ("HF-1");
  const WbCraftPick         cells[] = { { answer, 0, -1 }, { answer, 1, -1 } }, samples[] = { { answer, 0, 0 }, { answer, 0, 1 } };

  read_rooms (answer->data, 0, 8, NAN);
  read_rooms (answer->data, 0, 2, 21.0);
  g_autoptr (GPtrArray) half = wb_craft_beside_list_conditions (cells, 2);
  g_assert_cmpint (find_condition (half, "room")->likeness, ==, WB_CRAFT_BESIDE_IS_UNLIKE);
  g_assert_cmpstr (find_condition (half, "room")->values[1], ==, "not noted");

  read_rooms (answer->data, 4, 8, 22.5);
  g_autoptr (GPtrArray) near = wb_craft_beside_list_conditions (cells, 2), single = wb_craft_beside_list_conditions (samples, 2);
  g_assert_cmpint (find_condition (near, "room")->likeness, ==, WB_CRAFT_BESIDE_IS_ALIKE);
  g_assert_cmpint (find_condition (single, "room")->likeness, ==, WB_CRAFT_BESIDE_IS_UNLIKE);
  g_assert_cmpint (find_condition (single, "wick")->likeness, ==, WB_CRAFT_BESIDE_IS_ALIKE);
  g_assert_cmpint (find_condition (single, "draught")->likeness, ==, WB_CRAFT_BESIDE_IS_NOT_NOTED);
}

static void
test_shape (void)
{
  g_autoptr (WbCraftAnswer) answer = make_answer ("HF-1");
  const WbCraftPick         picks[] = { { answer, 0, -1 }, { answer, 1, 2 } };
  g_autoptr (WbCraftBeside) none = wb_craft_beside_new (NULL, 0), both = wb_craft_beside_new (picks, 2);

  g_assert_cmpuint (none->n_rows, ==, 0);
  g_assert_cmpuint (both->n_rows, >, 5);
  g_assert_cmpint (both->rows[0].figure, ==, WB_FIGURE_SCORE);
  for (guint i = 0; i < both->n_rows; i++)
    {
      const WbCraftBesideRow *row = &both->rows[i];

      g_assert_cmpuint (strlen (row->label), >, 0);
      for (guint k = 0; k < 2; k++)
        {
          /* either a value or a word for its lack */
          g_assert_cmpint (isnan (row->figures[k].interval.value), ==, row->figures[k].lack != NULL);
          g_assert_false (isinf (row->figures[k].interval.value));
          g_assert_nonnull (row->figures[k].why);
        }
    }
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/beside/a-name-says-what-tells-the-picks-apart", test_names);
  g_test_add_func ("/craft/beside/an-experiment-tells-its-only-vessel", test_names_across);
  g_test_add_func ("/craft/beside/nearer-to-the-aim-is-better-where-it-is-clear", test_marks);
  g_test_add_func ("/craft/beside/an-aim-has-two-sides", test_both_sides);
  g_test_add_func ("/craft/beside/never-is-worse-than-in-time", test_never);
  g_test_add_func ("/craft/beside/different-aims-mark-nothing", test_other_aims);
  g_test_add_func ("/craft/beside/a-sample-is-the-mean-of-its-burns", test_sample);
  g_test_add_func ("/craft/beside/what-crossed-a-limit-is-better-in-nothing", test_crossed);
  g_test_add_func ("/craft/beside/ranges-overlap-where-it-is-said-of-them", test_overlap);
  g_test_add_func ("/craft/beside/one-value-has-no-range", test_no_range);
  g_test_add_func ("/craft/beside/unlike-candles-and-rooms-are-told", test_conditions);
  g_test_add_func ("/craft/beside/what-is-noted-of-one-alone-is-unlike", test_conditions_noted);
  g_test_add_func ("/craft/beside/every-figure-has-a-value-or-a-word", test_shape);
  return g_test_run ();
}
