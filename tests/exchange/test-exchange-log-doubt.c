/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-exchange.h"

#include "wb-exchange-log-reader.h"

#define HEADER "experiment,vessel,inner_diameter_mm,wax,wick_series,wick_size,load_pct,sample,burn,elapsed_min,"
#define ROW(sample, burn, minute, more) "Autumn trial,Tern,76.2,Marsh soy,Sedge,S-3,8," sample "," burn "," minute "," more "\n"

/* Every row comes in; `doubts` is "line column; line column" of what was said beside them. */
static void
assert_doubts (const char *log,
               const char *doubts)
{
  GFile *file = test_exchange_file (log, -1);
  g_autoptr (GError) error = NULL;
  WbExchangeLogReader *reader = wb_exchange_log_reader_new (file, NULL, &error);
  g_autoptr (WbLogRow) row = wb_log_row_new ();
  g_autoptr (GPtrArray) remarks = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
  g_autoptr (GString) said = g_string_new (NULL);
  WbExchangeLogResult result;

  g_assert_no_error (error);
  while ((result = wb_exchange_log_reader_next (reader, row, remarks, &error)) != WB_EXCHANGE_LOG_END)
    g_assert_cmpint (result, ==, WB_EXCHANGE_LOG_ROW);
  g_assert_no_error (error);
  for (guint i = 0; i < remarks->len; i++)
    {
      const WbLogRemark *remark = remarks->pdata[i];

      g_string_append_printf (said, "%s%" G_GUINT64_FORMAT " %s", i > 0 ? "; " : "", remark->line, remark->column);
    }
  g_assert_cmpstr (said->str, ==, doubts);
  wb_exchange_log_reader_free (reader);
  test_exchange_drop (file);
}

static void
test_mass (void)
{
  /* The wrong one alone, not the right one after it. */
  assert_doubts (HEADER "tare_g,fill_g,mass_g\n"
                 ROW ("S3-1", "1", "0", "308,220,528") ROW ("S3-1", "1", "240", "308,220,5.15")
                 ROW ("S3-1", "2", "0", "308,220,515") ROW ("S3-1", "2", "240", "308,220,920"),
                 "3 mass_g; 5 mass_g");
}

static void
test_mass_without_tare (void)
{
  /* As heavy again within what a scale says, as a first row of another sample, or in a row that tells of an earlier moment. */
  assert_doubts (HEADER "mass_g\n" ROW ("S3-1", "1", "0", "528") ROW ("S3-1", "1", "240", "515") ROW ("S3-1", "2", "0", "516.5")
                 ROW ("S3-2", "1", "0", "540") ROW ("S3-2", "2", "0", "530") ROW ("S3-2", "1", "240", "535"),
                 "");
  /* Shuffled: heavier than a later burn's, whatever row without a mass stands between. */
  assert_doubts (HEADER "mass_g\n" ROW ("S3-1", "2", "240", "500") ROW ("S3-1", "1", "60", "") ROW ("S3-1", "2", "0", "514"), "");
  assert_doubts (HEADER "mass_g\n" ROW ("S3-1", "1", "0", "515") ROW ("S3-1", "1", "60", "") ROW ("S3-1", "1", "240", "528"), "4 mass_g");
}

static void
test_fahrenheit (void)
{
  assert_doubts (HEADER "vessel_c,base_c\n" ROW ("S3-1", "1", "60", "56,48") ROW ("S3-1", "1", "120", "133,121"), "3 vessel_c; 3 base_c");
}

static void
test_tall_flame (void)
{
  assert_doubts (HEADER "flame_mm,flame_max_mm\n" ROW ("S3-1", "1", "60", "19.5,24") ROW ("S3-1", "1", "120", "195,100")
                 ROW ("S3-1", "1", "180", "20,240"),
                 "3 flame_mm; 4 flame_max_mm");
}

static void
test_burnt_before_poured (void)
{
  assert_doubts (HEADER "poured_on,lit_at\n" ROW ("S3-1", "1", "60", "2026-03-01,2026-03-01T18:00:00+01:00")
                 ROW ("S3-2", "1", "60", "2026-03-01,2026-02-28T18:00:00+01:00"),
                 "3 lit_at");
}

void
test_exchange_add_log_doubt (void)
{
  g_test_add_func ("/exchange/log-doubt/a-slip-in-a-mass-is-told", test_mass);
  g_test_add_func ("/exchange/log-doubt/a-candle-that-grows-heavier-is-told", test_mass_without_tare);
  g_test_add_func ("/exchange/log-doubt/fahrenheit-in-a-celsius-column-is-told", test_fahrenheit);
  g_test_add_func ("/exchange/log-doubt/a-flame-too-tall-is-told", test_tall_flame);
  g_test_add_func ("/exchange/log-doubt/a-burn-before-the-pour-is-told", test_burnt_before_poured);
}
