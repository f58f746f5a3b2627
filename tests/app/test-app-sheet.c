/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-evening.h"
#include "wb-app-evening.h"
#include "wb-clock.h"
#include "wb-store-records.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

/* An evening on paper, typed in the next morning: three samples of an invented workshop, house protocol, four hours, hourly. */

typedef struct
{
  Evening       at;
  WbAppEvening *sheet;
} Sheet;

/* So long after it was poured, vessels of so many wicks. */
static void
sheet_set_up_wicks (Sheet *sheet,
                    gint64 us,
                    guint  n_wicks)
{
  evening_set_up_wicks (&sheet->at, n_wicks);
  wb_clock_advance (wb_clock_get (), us);
  wb_app_bench_update (sheet->at.bench);
  sheet->sheet = wb_app_evening_new (sheet->at.bench, sheet->at.experiment);
}

static void
sheet_set_up_after (Sheet *sheet,
                    gint64 us)
{
  sheet_set_up_wicks (sheet, us, 1);
}

/* That many days after the evening before. Caller frees. */
static char *
dup_day (int         days,
         const char *time)
{
  WbInstant now = wb_clock_now (wb_clock_get ());
  g_autofree char *day = wb_day_format (wb_instant_get_day (now) - 1 + days);

  return g_strconcat (day, time, NULL);
}

/* At nine in the morning. */
static void
sheet_go_to_morning (Sheet *sheet)
{
  WbInstant now = wb_clock_now (wb_clock_get ());

  wb_clock_advance (wb_clock_get (), (33 - (now.utc_us / HOUR_US) % 24) * HOUR_US);
  g_clear_object (&sheet->sheet);
  wb_app_bench_update (sheet->at.bench);
  sheet->sheet = wb_app_evening_new (sheet->at.bench, sheet->at.experiment);
  wb_app_evening_set_head (sheet->sheet, WB_APP_EVENING_OPENED, "19:00");
}

/* Ten days later, at nine in the morning. */
static void
sheet_set_up (Sheet *sheet)
{
  sheet_set_up_after (sheet, 10 * DAY_US);
  sheet_go_to_morning (sheet);
}

static void
sheet_tear_down (Sheet *sheet)
{
  wb_app_evening_begin_anew (sheet->sheet);
  g_assert_finalize_object (sheet->sheet);
  evening_tear_down (&sheet->at);
}

static guint
find_moment (WbAppEvening *sheet,
             WbAppAsk      ask,
             guint         round)
{
  for (guint i = 0; i < wb_app_evening_get_n_moments (sheet); i++)
    if (wb_app_evening_get_moment (sheet, i)->ask == ask && wb_app_evening_get_moment (sheet, i)->round == round)
      return i;
  g_assert_not_reached ();
}

static guint
find_column (WbAppEvening *sheet,
             guint         moment,
             const char   *name)
{
  const WbAppEveningMoment *at = wb_app_evening_get_moment (sheet, moment);

  for (guint i = at->first; i < at->first + at->n; i++)
    {
      const WbAppEveningColumn *column = wb_app_evening_get_column (sheet, i);

      if (g_str_equal (name, column->kind == WB_APP_EVENING_FIELD   ? wb_column_get_spec (column->column)->name
                             : column->kind == WB_APP_EVENING_TIME  ? "time"
                             : column->kind == WB_APP_EVENING_PLACE ? "place"
                             : column->kind == WB_APP_EVENING_BURN  ? "burn"
                                                                    : "trim"))
        return i;
    }
  g_error ("No column %s", name);
}

/* where: "lighting time", "1 pool_mm", "before depth_mm", "after time", "next mass_g". */
static guint
find (WbAppEvening *sheet,
      const char   *where)
{
  g_auto (GStrv) words = g_strsplit (where, " ", 2);
  guint moment;

  if (g_str_equal (words[0], "lighting"))
    moment = 0;
  else if (g_str_equal (words[0], "before"))
    moment = find_moment (sheet, WB_APP_ASK_BEFORE_SNUFFING, 0);
  else if (g_str_equal (words[0], "after"))
    moment = find_moment (sheet, WB_APP_ASK_AFTER_SNUFFING, 0);
  else if (g_str_equal (words[0], "next"))
    moment = find_moment (sheet, WB_APP_ASK_NEXT_DAY, 0);
  else
    moment = find_moment (sheet, WB_APP_ASK_ROUND, (guint) (words[0][0] - '0'));
  return find_column (sheet, moment, words[1]);
}

static void
type (Sheet      *sheet,
      guint       row,
      const char *where,
      const char *text)
{
  wb_app_evening_set_text (sheet->sheet, row, find (sheet->sheet, where), text);
}

static const WbAppEveningCell *
look (Sheet      *sheet,
      guint       row,
      const char *where)
{
  return wb_app_evening_get_cell (sheet->sheet, row, find (sheet->sheet, where));
}

static void
assert_wrong (Sheet      *sheet,
              guint       row,
              const char *where,
              const char *words)
{
  const WbAppEveningCell *cell = look (sheet, row, where);

  g_assert_cmpint (cell->state, ==, WB_APP_EVENING_WRONG);
  if (strstr (cell->problem, words) == NULL)
    g_error ("%s says “%s”, not “%s”", where, cell->problem, words);
}

static gboolean
save (Sheet   *sheet,
      GError **error)
{
  g_autoptr (GAsyncResult) result = NULL;

  wb_app_evening_save_async (sheet->sheet, NULL, app_keep_result_cb, &result);
  return wb_app_evening_save_finish (sheet->sheet, app_wait_result (&result), error);
}

static gboolean
has_seen (gpointer data)
{
  Sheet *sheet = data;

  return wb_app_bench_sample_get_burn (wb_app_evening_get_sample (sheet->sheet, 0)) != NULL;
}

static gboolean
has_forgotten (gpointer data)
{
  return !has_seen (data);
}

/* A sheet of a whole burn: lit at half past seven, out at half past eleven, weighed in the morning. */
static void
fill (Sheet *sheet)
{
  static const struct { const char *where, *text; } times[] = {
    { "lighting time", "19:30" }, { "1 time", "20:30" }, { "2 time", "21:30" }, { "3 time", "2230" }, { "before time", "23:28" },
    { "after time", "23:30" }, { "next time", "8:30" },
  };
  static const struct { const char *where, *text; } cells[] = {
    { "lighting mass_g", "412" }, { "lighting trim", "6" }, { "lighting place", "A1" }, { "1 pool_mm", "40/44" }, { "1 flame_max_mm", "18" },
    { "1 flame_state", "0" }, { "1 smoke", "1" }, { "1 mushroom", "0" }, { "1 vessel_c", "48" }, { "2 pool_mm", "58" }, { "3 pool_mm", "f" },
    { "before pool_mm", "full" }, { "before depth_mm", "11" }, { "before soot", "2" }, { "after event", "after" }, { "after event_s", "12" },
    { "next mass_g", "391" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (times); i++)
    type (sheet, WB_APP_EVENING_ALL, times[i].where, times[i].text);
  for (guint row = 0; row < wb_app_evening_get_n_rows (sheet->sheet); row++)
    for (guint i = 0; i < G_N_ELEMENTS (cells); i++)
      type (sheet, row, cells[i].where, cells[i].text);
}

static void
assert_clean (Sheet *sheet)
{
  for (guint row = 0; row < wb_app_evening_get_n_rows (sheet->sheet); row++)
    for (guint column = 0; column < wb_app_evening_get_n_columns (sheet->sheet); column++)
      {
        const WbAppEveningCell *cell = wb_app_evening_get_cell (sheet->sheet, row, column);
        g_autofree char *label = wb_app_evening_dup_column_label (sheet->sheet, column);

        if (cell->state == WB_APP_EVENING_WRONG || cell->state == WB_APP_EVENING_DOUBTED)
          g_error ("row %u, %s (%u): %s %d", row, label, column, cell->problem, cell->doubt.kind);
      }
}

/* What stands in the file, by the store's own functions. */
static GPtrArray *
list (Sheet              *sheet,
      const WbRecordType *record_type,
      const char         *field,
      gint64              value)
{
  g_autoptr (GError) error = NULL;
  WbStore *store = wb_store_open (wb_app_notebook_get_path (sheet->at.notebook), WB_STORE_READ, &error);
  GPtrArray *records;

  g_assert_no_error (error);
  records = wb_store_list (store, record_type, field, value, &error);
  g_assert_no_error (error);
  wb_store_close (store);
  return records;
}

static const WbReading *
find_reading (GPtrArray *readings,
              double     minute,
              double     event)
{
  for (guint i = 0; i < readings->len; i++)
    {
      const WbReading *reading = g_ptr_array_index (readings, i);
      double has = reading->values[WB_COLUMN_EVENT];

      if (reading->elapsed_min == minute && (isnan (event) ? isnan (has) : has == event))
        return reading;
    }
  g_error ("No reading at %g min", minute);
}

static void
assert_burn (Sheet        *sheet,
             const WbBurn *burn)
{
  g_autoptr (GPtrArray) readings = list (sheet, &wb_reading_type, "burn", burn->record.id);
  g_autofree char *lit = wb_instant_format (burn->lit_at), *wanted = dup_day (0, "T19:30:00+00:00");
  const WbReading *reading;

  g_assert_cmpstr (lit, ==, wanted);
  g_assert_cmpint (burn->number, ==, 1);
  g_assert_cmpfloat (burn->trim_mm, ==, 6);
  g_assert_cmpstr (burn->bench_place, ==, "A1");
  g_assert_cmpuint (readings->len, ==, 8);
  for (guint i = 0; i < readings->len; i++)
    {
      g_assert_true (((const WbReading *) g_ptr_array_index (readings, i))->late);
      g_assert_cmpint (((const WbReading *) g_ptr_array_index (readings, i))->source, ==, WB_SOURCE_TYPED);
    }
  reading = find_reading (readings, 0, NAN);
  g_assert_cmpfloat (reading->values[WB_COLUMN_MASS_G], ==, 412);
  g_assert_cmpfloat (reading->values[WB_COLUMN_ROOM_C], ==, 21.5);
  reading = find_reading (readings, 60, NAN);
  g_assert_cmpfloat (reading->values[WB_COLUMN_POOL_A_MM], ==, 40);
  g_assert_cmpfloat (reading->values[WB_COLUMN_POOL_B_MM], ==, 44);
  g_assert_cmpfloat (reading->values[WB_COLUMN_SMOKE], ==, 1);
  g_assert_cmpfloat (find_reading (readings, 120, NAN)->values[WB_COLUMN_POOL_MM], ==, 58);
  reading = find_reading (readings, 180, NAN);
  g_assert_true (isnan (reading->values[WB_COLUMN_POOL_MM]));
  g_assert_cmpfloat (reading->values[WB_COLUMN_POOL_FULL], ==, 1);
  g_assert_cmpfloat (find_reading (readings, 238, NAN)->values[WB_COLUMN_DEPTH_MM], ==, 11);
  find_reading (readings, 240, WB_EVENT_SNUFFED);
  g_assert_cmpfloat (find_reading (readings, 240, WB_EVENT_AFTERGLOW)->values[WB_COLUMN_EVENT_S], ==, 12);
  g_assert_cmpfloat (find_reading (readings, 13 * 60, NAN)->values[WB_COLUMN_MASS_G], ==, 391);
}

/* One entry, with its session of then; no check is asked; all of it comes back by one undo. */
static void
test_one_entry (void)
{
  Sheet sheet;
  gint64 before;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) burns = NULL, sessions = NULL, none = NULL;
  g_autoptr (GAsyncResult) undone = NULL;
  g_autofree char *opened = NULL, *closed = NULL, *opening = NULL, *closing = NULL;
  WbAppEveningCounts counts;
  const WbSession *session;

  sheet_set_up (&sheet);
  before = wb_app_notebook_get_last_entry (sheet.at.notebook);
  wb_app_evening_set_head (sheet.sheet, WB_APP_EVENING_ROOM, "21.5");
  wb_app_evening_set_head (sheet.sheet, WB_APP_EVENING_WHO, "Robin");
  fill (&sheet);
  assert_clean (&sheet);
  wb_app_evening_count (sheet.sheet, &counts);
  g_assert_cmpuint (counts.burns, ==, 3);
  g_assert_cmpuint (counts.readings, ==, 24);
  g_assert_true (save (&sheet, &error));
  g_assert_no_error (error);
  app_wait_until (has_seen, &sheet, "the bench to read the evening");
  g_assert_cmpint (wb_app_notebook_get_last_entry (sheet.at.notebook), ==, before + 1);
  burns = list (&sheet, &wb_burn_type, NULL, 0);
  g_assert_cmpuint (burns->len, ==, 3);
  for (guint i = 0; i < burns->len; i++)
    assert_burn (&sheet, g_ptr_array_index (burns, i));
  sessions = list (&sheet, &wb_session_type, NULL, 0);
  g_assert_cmpuint (sessions->len, ==, 1);
  session = g_ptr_array_index (sessions, 0);
  opened = wb_instant_format (session->opened_at);
  closed = wb_instant_format (session->closed_at);
  opening = dup_day (0, "T19:00:00+00:00");
  closing = dup_day (0, "T23:30:00+00:00");
  g_assert_cmpstr (opened, ==, opening);
  g_assert_cmpstr (closed, ==, closing);
  g_assert_cmpint (session->seed, ==, 1);
  g_assert_cmpstr (session->who, ==, "Robin");
  g_assert_false (session->checked);
  g_assert_null (wb_app_bench_get_session (sheet.at.bench));
  g_assert_cmpuint (wb_app_bench_get_alight (sheet.at.bench), ==, 0);

  wb_app_notebook_undo_async (sheet.at.notebook, NULL, app_keep_result_cb, &undone);
  g_assert_cmpint (wb_app_notebook_save_finish (sheet.at.notebook, app_wait_result (&undone), NULL, &error), ==, before + 2);
  g_assert_no_error (error);
  g_clear_object (&undone);
  none = list (&sheet, &wb_burn_type, NULL, 0);
  g_assert_cmpuint (none->len, ==, 0);
  app_wait_until (has_forgotten, &sheet, "the bench to forget the evening");
  sheet_tear_down (&sheet);
}

/* The same sheet once more has nothing new; a cell that was forgotten is added alone. */
static void
test_twice (void)
{
  Sheet sheet;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) burns = NULL, readings = NULL, sessions = NULL;
  WbAppEveningCounts counts;

  sheet_set_up (&sheet);
  fill (&sheet);
  g_assert_true (save (&sheet, &error));
  app_wait_until (has_seen, &sheet, "the bench to read the evening");
  g_assert_false (wb_app_evening_is_typed (sheet.sheet));
  wb_app_evening_set_head (sheet.sheet, WB_APP_EVENING_OPENED, "19:00");
  g_assert_cmpint (look (&sheet, 0, "1 pool_mm")->state, ==, WB_APP_EVENING_STORED);
  g_assert_cmpstr (look (&sheet, 0, "1 pool_mm")->stored, ==, "40.0/44.0");
  g_assert_cmpstr (look (&sheet, 0, "1 time")->stored, ==, "20:30");
  g_assert_cmpstr (look (&sheet, 0, "after time")->stored, ==, "23:30");
  g_assert_cmpstr (look (&sheet, 0, "next time")->stored, ==, "08:30");
  g_assert_cmpint (look (&sheet, 0, "2 vessel_c")->state, ==, WB_APP_EVENING_EMPTY);

  fill (&sheet);
  assert_clean (&sheet);
  wb_app_evening_count (sheet.sheet, &counts);
  g_assert_cmpuint (counts.burns + counts.readings, ==, 0);
  g_assert_false (save (&sheet, &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED);
  g_clear_error (&error);

  type (&sheet, 1, "2 pool_mm", "59");
  assert_wrong (&sheet, 1, "2 pool_mm", "The record has 58.0 here");
  type (&sheet, 1, "2 pool_mm", "");
  type (&sheet, 1, "2 vessel_c", "52");
  wb_app_evening_count (sheet.sheet, &counts);
  g_assert_cmpuint (counts.readings, ==, 1);
  g_assert_true (save (&sheet, &error));
  g_assert_no_error (error);
  burns = list (&sheet, &wb_burn_type, "sample", wb_app_bench_sample_get_id (wb_app_evening_get_sample (sheet.sheet, 1)));
  g_assert_cmpuint (burns->len, ==, 1);
  readings = list (&sheet, &wb_reading_type, "burn", ((WbBurn *) g_ptr_array_index (burns, 0))->record.id);
  g_assert_cmpuint (readings->len, ==, 9);
  g_assert_cmpfloat (find_reading (readings, 120.1, NAN)->values[WB_COLUMN_VESSEL_C], ==, 52);
  sessions = list (&sheet, &wb_session_type, NULL, 0);
  g_assert_cmpuint (sessions->len, ==, 1);
  sheet_tear_down (&sheet);
}

/* Lit before midnight and out after it, with one sample of its own minutes. */
static void
test_past_midnight (void)
{
  Sheet sheet;

  sheet_set_up (&sheet);
  type (&sheet, WB_APP_EVENING_ALL, "lighting time", "21:40");
  type (&sheet, WB_APP_EVENING_ALL, "1 time", "22.40");
  type (&sheet, WB_APP_EVENING_ALL, "3 time", "0:40");
  type (&sheet, WB_APP_EVENING_ALL, "after time", "1:40");
  for (guint row = 0; row < 3; row++)
    {
      type (&sheet, row, "1 pool_mm", "40");
      type (&sheet, row, "3 pool_mm", "60");
    }
  type (&sheet, 1, "lighting time", "21:44");
  type (&sheet, 2, "3 time", "181");
  assert_clean (&sheet);
  g_assert_cmpfloat (wb_app_evening_get_minute (sheet.sheet, 0, find_moment (sheet.sheet, WB_APP_ASK_ROUND, 3)), ==, 180);
  g_assert_cmpfloat (wb_app_evening_get_minute (sheet.sheet, 1, find_moment (sheet.sheet, WB_APP_ASK_ROUND, 3)), ==, 176);
  g_assert_cmpfloat (wb_app_evening_get_minute (sheet.sheet, 2, find_moment (sheet.sheet, WB_APP_ASK_ROUND, 3)), ==, 181);
  g_assert_cmpfloat (wb_app_evening_get_minute (sheet.sheet, 0, find_moment (sheet.sheet, WB_APP_ASK_AFTER_SNUFFING, 0)), ==, 240);
  sheet_tear_down (&sheet);
}

/* In the night of 25 October 2026 clocks are put back from 3:00 to 2:00 (Directive 2000/84/EC): 2:20 comes twice. */
static void
test_end_of_summer_time (void)
{
  Sheet sheet;
  WbInstant october;
  gint64 moved_us;

  g_assert_true (wb_instant_parse ("2026-10-16T18:00:00+02:00", &october, NULL));
  moved_us = october.utc_us - wb_clock_now (wb_clock_get ()).utc_us;
  wb_clock_step (wb_clock_get (), moved_us);
  g_setenv ("TZ", "Europe/Berlin", TRUE);
  wb_clock_refresh_zone (wb_clock_get ());
  sheet_set_up_after (&sheet, 10 * DAY_US);
  wb_app_evening_set_head (sheet.sheet, WB_APP_EVENING_DAY, "2026-10-24");
  wb_app_evening_set_head (sheet.sheet, WB_APP_EVENING_OPENED, "23:00");
  type (&sheet, WB_APP_EVENING_ALL, "lighting time", "23:50");
  type (&sheet, WB_APP_EVENING_ALL, "1 time", "1:20");
  type (&sheet, WB_APP_EVENING_ALL, "2 time", "2:20");
  type (&sheet, WB_APP_EVENING_ALL, "3 time", "2:20");
  type (&sheet, WB_APP_EVENING_ALL, "after time", "3:20");
  for (guint round = 1; round <= 3; round++)
    {
      g_autofree char *where = g_strdup_printf ("%u pool_mm", round);

      type (&sheet, 0, where, "50");
    }
  assert_clean (&sheet);
  g_assert_cmpfloat (wb_app_evening_get_minute (sheet.sheet, 0, 1), ==, 90);
  g_assert_cmpfloat (wb_app_evening_get_minute (sheet.sheet, 0, 2), ==, 150);
  g_assert_cmpfloat (wb_app_evening_get_minute (sheet.sheet, 0, 3), ==, 210);
  g_assert_cmpfloat (wb_app_evening_get_minute (sheet.sheet, 0, 5), ==, 270);
  sheet_tear_down (&sheet);
  g_setenv ("TZ", "UTC", TRUE);
  wb_clock_refresh_zone (wb_clock_get ());
  wb_clock_step (wb_clock_get (), -moved_us);
}

/* Cell by cell, in words; nothing of it is saved while one is wrong. */
static void
test_wrong (void)
{
  static const struct { const char *where, *text, *words; } cases[] = {
    { "1 pool_mm", "5 4", "" }, { "1 pool_mm", "99", "wide inside" }, { "1 pool_mm", "50/51/52", "One diameter or two" },
    { "1 pool_mm", "50 g", "" }, { "1 smoke", "7", "0 none, 1 wisps, 2 steady" }, { "1 flame_state", "st", "0 steady" },
    { "1 vessel_c", "900", "between" }, { "1 vessel_c", "hot", "" }, { "lighting trim", "70", "between" }, { "1 time", "25:00", "A time of day" },
    { "1 time", "19:10", "does not come after" }, { "lighting time", "18:10", "before 19:00" }, { "after event", "xx", "A digit" },
    { "2 time", "21:30", "nothing that was read" },
  };
  Sheet sheet;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) burns = NULL;

  sheet_set_up (&sheet);
  type (&sheet, WB_APP_EVENING_ALL, "lighting time", "19:30");
  type (&sheet, WB_APP_EVENING_ALL, "1 time", "20:30");
  type (&sheet, WB_APP_EVENING_ALL, "after time", "23:30");
  type (&sheet, 0, "1 pool_mm", "44");
  type (&sheet, 0, "1 flame_max_mm", "18");
  assert_clean (&sheet);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *before = g_strdup (wb_app_evening_get_text (sheet.sheet, 0, find (sheet.sheet, cases[i].where)));
      WbAppEveningCounts counts;

      type (&sheet, 0, cases[i].where, cases[i].text);
      assert_wrong (&sheet, 0, cases[i].where, cases[i].words);
      wb_app_evening_count (sheet.sheet, &counts);
      g_assert_cmpuint (counts.wrong, ==, 1);
      g_assert_false (save (&sheet, &error));
      g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED);
      g_clear_error (&error);
      type (&sheet, 0, cases[i].where, before);
    }
  type (&sheet, WB_APP_EVENING_ALL, "after time", "");
  assert_wrong (&sheet, 0, "after time", "When was it snuffed?");
  wb_app_evening_set_head (sheet.sheet, WB_APP_EVENING_DAY, "2026-13-01");
  g_assert_nonnull (wb_app_evening_get_head_problem (sheet.sheet, WB_APP_EVENING_DAY));
  wb_app_evening_set_head (sheet.sheet, WB_APP_EVENING_DAY, "2199-01-01");
  g_assert_nonnull (strstr (wb_app_evening_get_head_problem (sheet.sheet, WB_APP_EVENING_DAY), "yet to come"));
  burns = list (&sheet, &wb_burn_type, NULL, 0);
  g_assert_cmpuint (burns->len, ==, 0);
  sheet_tear_down (&sheet);
}

/* What can hardly be is marked, and saved all the same. */
static void
test_doubts (void)
{
  Sheet sheet;
  g_autoptr (GError) error = NULL;

  sheet_set_up (&sheet);
  fill (&sheet);
  type (&sheet, 0, "1 vessel_c", "140");
  g_assert_cmpint (look (&sheet, 0, "1 vessel_c")->state, ==, WB_APP_EVENING_DOUBTED);
  g_assert_cmpint (look (&sheet, 0, "1 vessel_c")->doubt.kind, ==, WB_CRAFT_DOUBT_HOT);
  type (&sheet, 1, "next mass_g", "420");
  g_assert_cmpint (look (&sheet, 1, "next mass_g")->doubt.kind, ==, WB_CRAFT_DOUBT_GAINED);
  type (&sheet, 2, "2 pool_mm", "30");
  g_assert_cmpint (look (&sheet, 2, "2 pool_mm")->doubt.kind, ==, WB_CRAFT_DOUBT_SHRUNK);
  g_assert_true (save (&sheet, &error));
  g_assert_no_error (error);
  sheet_tear_down (&sheet);
}

/* A limit that was crossed that evening is told as at the bench. */
static void
test_limits (void)
{
  Sheet sheet;
  g_autoptr (GPtrArray) none = NULL, hits = NULL;

  sheet_set_up (&sheet);
  fill (&sheet);
  none = wb_app_evening_find_hits (sheet.sheet, 0, find_moment (sheet.sheet, WB_APP_ASK_ROUND, 1));
  g_assert_cmpuint (none->len, ==, 0);
  type (&sheet, 0, "1 vessel_c", "79");
  hits = wb_app_evening_find_hits (sheet.sheet, 0, find_moment (sheet.sheet, WB_APP_ASK_ROUND, 1));
  g_assert_cmpuint (hits->len, ==, 1);
  g_assert_cmpint (((WbAppBenchHit *) g_ptr_array_index (hits, 0))->level, ==, WB_CRAFT_OVER);
  g_assert_nonnull (strstr (((WbAppBenchHit *) g_ptr_array_index (hits, 0))->text, "over the house limit"));
  sheet_tear_down (&sheet);
}

/* The record has something else at that time. */
static void
test_contradictions (void)
{
  Sheet sheet;
  g_autofree char *before = NULL, *poured = NULL, *evening = NULL;
  g_autoptr (GError) error = NULL;

  sheet_set_up (&sheet);
  before = dup_day (-2, "");
  poured = dup_day (-11, "");
  evening = dup_day (0, "");
  fill (&sheet);
  g_assert_true (save (&sheet, &error));
  app_wait_until (has_seen, &sheet, "the bench to read the evening");

  /* The evening before, when a later burn is there already. */
  wb_app_evening_set_head (sheet.sheet, WB_APP_EVENING_DAY, before);
  wb_app_evening_set_head (sheet.sheet, WB_APP_EVENING_OPENED, "19:00");
  type (&sheet, 0, "lighting time", "19:30");
  type (&sheet, 0, "after time", "20:30");
  assert_wrong (&sheet, 0, "lighting time", "has a later one already: burn 1");
  wb_app_evening_set_head (sheet.sheet, WB_APP_EVENING_DAY, poured);
  assert_wrong (&sheet, 0, "lighting time", "It was poured on");

  /* Within that evening: what it was lit at stands in the record, and it was out. */
  wb_app_evening_set_head (sheet.sheet, WB_APP_EVENING_DAY, evening);
  type (&sheet, 0, "after time", "");
  assert_clean (&sheet);
  type (&sheet, 0, "lighting time", "19:45");
  assert_wrong (&sheet, 0, "lighting time", "lit at 19:30");
  type (&sheet, 0, "lighting time", "");
  type (&sheet, 0, "after time", "22:00");
  assert_wrong (&sheet, 0, "after time", "23:30");
  sheet_tear_down (&sheet);
}

/* A half-typed sheet is there again, for whoever opens one; a saved one is not. */
static void
test_draft (void)
{
  Sheet sheet;
  WbAppEvening *again;
  g_autoptr (GError) error = NULL;

  sheet_set_up (&sheet);
  wb_app_evening_set_rounds (sheet.sheet, 5);
  type (&sheet, WB_APP_EVENING_ALL, "5 time", "23:59");
  type (&sheet, 2, "5 pool_mm", "54/5");
  g_assert_true (wb_app_evening_is_unkept (sheet.sheet));
  g_assert_true (wb_app_evening_keep (sheet.sheet, &error));
  g_assert_no_error (error);
  g_assert_false (wb_app_evening_is_unkept (sheet.sheet));

  again = wb_app_evening_new (sheet.at.bench, sheet.at.experiment);
  g_assert_false (wb_app_evening_take_up (again, "2020-03-11"));
  g_assert_true (wb_app_evening_take_up (again, NULL));
  g_assert_cmpuint (wb_app_evening_get_rounds (again), ==, 5);
  g_assert_cmpstr (wb_app_evening_get_text (again, 2, find (again, "5 pool_mm")), ==, "54/5");
  g_assert_cmpstr (wb_app_evening_get_head (again, WB_APP_EVENING_OPENED), ==, "19:00");
  wb_app_evening_set_rounds (again, 2);
  g_assert_cmpuint (wb_app_evening_get_rounds (again), ==, 5);
  wb_app_evening_begin_anew (again);
  g_assert_false (wb_app_evening_take_up (sheet.sheet, NULL));
  g_assert_finalize_object (again);
  sheet_tear_down (&sheet);
}

/* A copy has the notebook's UUID, and no sheet of it; where the notebook was moved, its own sheet goes with it. */
static void
test_draft_of_copy (void)
{
  Sheet sheet;
  Evening other = { 0 };
  WbAppEvening *evening;
  g_autofree char *path = NULL, *copy = NULL, *moved = NULL, *bytes = NULL;
  g_autoptr (GError) error = NULL;
  gsize length;

  sheet_set_up (&sheet);
  type (&sheet, WB_APP_EVENING_ALL, "1 time", "20:00");
  type (&sheet, 1, "1 pool_mm", "31");
  g_assert_true (wb_app_evening_keep (sheet.sheet, &error));
  path = g_strdup (wb_app_notebook_get_path (sheet.at.notebook));
  copy = g_strconcat (path, " copy.wickbench", NULL);
  moved = g_strconcat (path, " moved.wickbench", NULL);
  g_assert_true (g_file_get_contents (path, &bytes, &length, NULL));
  g_assert_true (g_file_set_contents (copy, bytes, (gssize) length, NULL));

  evening_reopen (&other, copy);
  evening = wb_app_evening_new (other.bench, sheet.at.experiment);
  g_assert_false (wb_app_evening_take_up (evening, NULL));
  g_assert_false (wb_app_evening_take_up (evening, wb_app_evening_get_head (sheet.sheet, WB_APP_EVENING_DAY)));
  wb_app_evening_begin_anew (evening);
  g_assert_finalize_object (evening);
  evening_tear_down (&other);

  evening = wb_app_evening_new (sheet.at.bench, sheet.at.experiment);
  g_assert_true (wb_app_evening_take_up (evening, NULL));
  g_assert_cmpstr (wb_app_evening_get_text (evening, 1, find (evening, "1 pool_mm")), ==, "31");
  g_assert_finalize_object (evening);
  g_assert_finalize_object (sheet.sheet);
  evening_tear_down (&sheet.at);

  g_assert_cmpint (g_rename (path, moved), ==, 0);
  other = (Evening) { 0 };
  evening_reopen (&other, moved);
  evening = wb_app_evening_new (other.bench, sheet.at.experiment);
  g_assert_true (wb_app_evening_take_up (evening, NULL));
  g_assert_cmpstr (wb_app_evening_get_text (evening, 1, find (evening, "1 pool_mm")), ==, "31");
  wb_app_evening_begin_anew (evening);
  g_assert_false (wb_app_evening_take_up (evening, NULL));
  g_assert_finalize_object (evening);
  evening_tear_down (&other);
}

/* Value of a column at a wick (0: of the vessel) and minute; NAN: none. */
static double
read_at (GPtrArray *readings,
         double     minute,
         guint      wick,
         WbColumn   column)
{
  for (guint i = 0; i < readings->len; i++)
    {
      const WbReading *reading = g_ptr_array_index (readings, i);
      double of = reading->values[WB_COLUMN_WICK_NUMBER];

      if (reading->elapsed_min == minute && (wick == 0 ? isnan (of) : of == wick) && !isnan (reading->values[column]))
        return reading->values[column];
    }
  return NAN;
}

/* A flame a wick, written as they burn side by side; one alone is not known whose it is. */
static void
test_two_wicks (void)
{
  Sheet sheet;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) burns = NULL, readings = NULL, hits = NULL;
  WbAppEveningCounts counts;

  sheet_set_up_wicks (&sheet, 10 * DAY_US, 2);
  sheet_go_to_morning (&sheet);
  type (&sheet, 0, "lighting time", "19:30");
  type (&sheet, 0, "1 time", "20:30");
  type (&sheet, 0, "2 time", "21:30");
  type (&sheet, 0, "after time", "23:30");
  type (&sheet, 0, "1 pool_mm", "40/44");
  type (&sheet, 0, "1 flame_max_mm", "18");
  assert_wrong (&sheet, 0, "1 flame_max_mm", "each of its 2 wicks");
  type (&sheet, 0, "1 flame_max_mm", "18/19/20");
  assert_wrong (&sheet, 0, "1 flame_max_mm", "each of its 2 wicks");
  type (&sheet, 0, "1 flame_max_mm", "18/x");
  g_assert_cmpint (look (&sheet, 0, "1 flame_max_mm")->state, ==, WB_APP_EVENING_WRONG);
  type (&sheet, 0, "1 flame_max_mm", "18/2.3 cm");
  type (&sheet, 0, "1 flame_state", "steady; d");
  type (&sheet, 0, "1 mushroom", "-/2");
  /* Over the house's limit of 50 mm, which is no doubt; taller than candles burn is one. */
  type (&sheet, 0, "2 flame_max_mm", "55/20");
  hits = wb_app_evening_find_hits (sheet.sheet, 0, find_moment (sheet.sheet, WB_APP_ASK_ROUND, 2));
  g_assert_cmpuint (hits->len, ==, 1);
  g_assert_nonnull (strstr (((WbAppBenchHit *) g_ptr_array_index (hits, 0))->text, "wick 1"));
  assert_clean (&sheet);
  type (&sheet, 0, "2 flame_max_mm", "55/200");
  g_assert_cmpint (look (&sheet, 0, "2 flame_max_mm")->state, ==, WB_APP_EVENING_DOUBTED);
  type (&sheet, 0, "2 flame_max_mm", "25/20");

  g_assert_true (save (&sheet, &error));
  g_assert_no_error (error);
  app_wait_until (has_seen, &sheet, "the bench to read the evening");
  burns = list (&sheet, &wb_burn_type, NULL, 0);
  g_assert_cmpuint (burns->len, ==, 1);
  readings = list (&sheet, &wb_reading_type, "burn", ((const WbRecord *) g_ptr_array_index (burns, 0))->id);
  g_assert_cmpfloat (read_at (readings, 60, 0, WB_COLUMN_POOL_A_MM), ==, 40);
  g_assert_true (isnan (read_at (readings, 60, 0, WB_COLUMN_FLAME_MAX_MM)));
  g_assert_cmpfloat (read_at (readings, 60, 1, WB_COLUMN_FLAME_MAX_MM), ==, 18);
  g_assert_cmpfloat (read_at (readings, 60, 2, WB_COLUMN_FLAME_MAX_MM), ==, 23);
  g_assert_cmpfloat (read_at (readings, 60, 1, WB_COLUMN_FLAME_STATE), ==, WB_FLAME_STEADY);
  g_assert_cmpfloat (read_at (readings, 60, 2, WB_COLUMN_FLAME_STATE), ==, WB_FLAME_DANCING);
  g_assert_true (isnan (read_at (readings, 60, 1, WB_COLUMN_MUSHROOM)));
  g_assert_cmpfloat (read_at (readings, 60, 2, WB_COLUMN_MUSHROOM), ==, 2);
  g_assert_cmpfloat (read_at (readings, 120, 1, WB_COLUMN_FLAME_MAX_MM), ==, 25);
  /* Round 1: vessel and two wicks; round 2: two wicks; the end. */
  g_assert_cmpuint (readings->len, ==, 6);

  /* The record shows in the sheet as it was typed, and another value contradicts it. */
  wb_app_evening_set_head (sheet.sheet, WB_APP_EVENING_OPENED, "19:00");
  type (&sheet, 0, "1 time", "20:30");
  g_assert_cmpint (look (&sheet, 0, "1 flame_max_mm")->state, ==, WB_APP_EVENING_STORED);
  g_assert_cmpstr (look (&sheet, 0, "1 flame_max_mm")->stored, ==, "18.0/23.0");
  g_assert_cmpstr (look (&sheet, 0, "1 mushroom")->stored, ==, "-/2");
  type (&sheet, 0, "1 flame_max_mm", "18/23");
  g_assert_cmpint (look (&sheet, 0, "1 flame_max_mm")->state, ==, WB_APP_EVENING_STORED);
  type (&sheet, 0, "1 flame_max_mm", "23/18");
  assert_wrong (&sheet, 0, "1 flame_max_mm", "18.0/23.0");
  type (&sheet, 0, "1 flame_max_mm", "");
  wb_app_evening_count (sheet.sheet, &counts);
  g_assert_cmpuint (counts.readings, ==, 0);
  sheet_tear_down (&sheet);
}

/* Of each sample its own, by the word or its beginning; where nothing is typed, a standard burn. */
static void
test_kinds (void)
{
  Sheet sheet;
  g_autoptr (GPtrArray) burns = NULL;
  g_autoptr (GError) error = NULL;
  guint throws = 0, standard = 0;

  sheet_set_up (&sheet);
  fill (&sheet);
  type (&sheet, 0, "lighting burn", "candle");
  assert_wrong (&sheet, 0, "lighting burn", "throw");
  /* Standard or short? */
  type (&sheet, 0, "lighting burn", "s");
  g_assert_cmpint (look (&sheet, 0, "lighting burn")->state, ==, WB_APP_EVENING_WRONG);
  type (&sheet, 0, "lighting burn", "Thr");
  g_assert_cmpint (look (&sheet, 0, "lighting burn")->state, ==, WB_APP_EVENING_FINE);
  g_assert_true (save (&sheet, &error));
  g_assert_no_error (error);
  app_wait_until (has_seen, &sheet, "the bench to know the burns");
  burns = list (&sheet, &wb_burn_type, NULL, 0);
  for (guint i = 0; i < burns->len; i++)
    {
      throws += ((const WbBurn *) g_ptr_array_index (burns, i))->kind == WB_BURN_THROW;
      standard += ((const WbBurn *) g_ptr_array_index (burns, i))->kind == WB_BURN_STANDARD;
    }
  g_assert_cmpuint (throws, ==, 1);
  g_assert_cmpuint (standard, ==, burns->len - 1);
  sheet_tear_down (&sheet);
}

void
test_app_sheet_add (void)
{
  g_test_add_func ("/app/evening/the-kind-of-a-burn-is-typed-per-sample", test_kinds);
  g_test_add_func ("/app/evening/a-value-for-each-of-two-wicks", test_two_wicks);
  g_test_add_func ("/app/evening/a-sheet-of-paper-is-one-entry", test_one_entry);
  g_test_add_func ("/app/evening/the-same-sheet-twice-adds-nothing", test_twice);
  g_test_add_func ("/app/evening/times-past-midnight", test_past_midnight);
  g_test_add_func ("/app/evening/an-hour-that-comes-twice", test_end_of_summer_time);
  g_test_add_func ("/app/evening/what-is-wrong-is-told-cell-by-cell", test_wrong);
  g_test_add_func ("/app/evening/what-can-hardly-be-is-marked", test_doubts);
  g_test_add_func ("/app/evening/what-crossed-a-limit-is-told", test_limits);
  g_test_add_func ("/app/evening/what-contradicts-the-record-is-refused", test_contradictions);
  g_test_add_func ("/app/evening/a-half-typed-sheet-is-kept", test_draft);
  g_test_add_func ("/app/evening/a-copy-takes-no-half-typed-sheet-of-the-other", test_draft_of_copy);
}
