/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-exchange.h"

#include "wb-exchange-error.h"
#include "wb-exchange-log-reader.h"
#include "wb-exchange-mapping-guess.h"

#include <math.h>
#include <string.h>

/* Sheets and mappings are invented; data/README.md says what is in them. */

static WbLogMapping *
load_mapping (const char *name)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "exchange", "data", name, NULL);
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  WbLogMapping *mapping;

  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  mapping = wb_log_mapping_from_text (text, &error);
  g_assert_no_error (error);
  return mapping;
}

static void
append_told (GString *text, const GPtrArray *remarks)
{
  for (guint i = 0; i < remarks->len; i++)
    {
      const WbLogRemark *remark = remarks->pdata[i];

      g_string_append_printf (text, "told %" G_GUINT64_FORMAT " %s: %s\n", remark->line, remark->column, remark->rule);
    }
}

static char *
dump (GFile *file, const WbLogMapping *mapping, gboolean told)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbExchangeLogReader) reader = wb_exchange_log_reader_new_mapped (file, mapping, NULL, &error);
  g_autoptr (WbLogRow) row = wb_log_row_new ();
  g_autoptr (GPtrArray) remarks = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
  GString *text = g_string_new (NULL);

  g_assert_no_error (error);
  for (;;)
    {
      WbExchangeLogResult result = wb_exchange_log_reader_next (reader, row, remarks, &error);
      WbExchangeCsvRecord header, mapped;

      g_assert_no_error (error);
      if (result == WB_EXCHANGE_LOG_END)
        {
          if (told)
            wb_exchange_log_reader_finish (reader, remarks);
          append_told (text, remarks);
          return g_string_free (text, FALSE);
        }
      g_string_append_printf (text, "%" G_GUINT64_FORMAT ":", row->line);
      if (result == WB_EXCHANGE_LOG_REFUSED)
        {
          const WbLogRemark *remark = remarks->pdata[remarks->len - 1];

          g_string_append_printf (text, " refused %s: %s", remark->column, remark->rule);
        }
      else
        {
          wb_exchange_log_reader_get_mapped (reader, &header, &mapped);
          for (guint i = 0; i < mapped.n_cells; i++)
            if (mapped.cells[i].length > 0)
              g_string_append_printf (text, " %s=%s", header.cells[i].text, mapped.cells[i].text);
        }
      g_string_append_c (text, '\n');
      g_ptr_array_set_size (remarks, 0);
    }
}

char *
test_exchange_dump (GFile *file, const WbLogMapping *mapping)
{
  return dump (file, mapping, FALSE);
}

char *
test_exchange_dump_told (GFile *file, const WbLogMapping *mapping)
{
  return dump (file, mapping, TRUE);
}

static char *
dump_data (const char *sheet, const WbLogMapping *mapping)
{
  g_autoptr (GFile) file = test_exchange_data (sheet);

  return test_exchange_dump (file, mapping);
}

static void
assert_line (const char *text, guint n, const char *wanted)
{
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);

  g_assert_cmpuint (n, <, g_strv_length (lines));
  g_assert_cmpstr (lines[n], ==, wanted);
}

static void
assert_same (const char *a, const char *b)
{
  g_auto (GStrv) one = g_strsplit (a, "\n", -1), other = g_strsplit (b, "\n", -1);

  g_assert_cmpuint (g_strv_length (one), ==, g_strv_length (other));
  for (guint i = 0; one[i] != NULL; i++)
    g_assert_cmpstr (one[i], ==, other[i]);
}

/*
 * Hours across, US date order, a 12-hour clock, inches with fractions (1 in = 25.4 mm), °F (142 °F = 550/9 °C), a code that holds two
 * things, merged cells. Chicago is 6 h behind UTC on 2 March 2026, and 5 h from 8 March on (IANA time zone database).
 */
static void
test_hours (void)
{
  g_autoptr (WbLogMapping) mapping = load_mapping ("sheet-us-hours.mapping");
  g_autofree char *text = dump_data ("sheet-us-hours.csv", mapping);

#define CELL(size, code, at) " vessel=Fern tumbler inner_diameter_mm=69.85 wick_series=Rush wick_size=" size " load_pct=8 sample=" code
#define REST " experiment=Home tests wax=Meadow soy fragrance=Hay burn=1"
  assert_line (text, 0, "4:" CELL ("4", "F4-1",) " pool_mm=38.1" REST " lit_at=2026-03-02T19:05:00-06:00 elapsed_min=60");
  assert_line (text, 1, "4:" CELL ("4", "F4-1",) " pool_mm=53.975" REST " lit_at=2026-03-02T19:05:00-06:00 elapsed_min=120");
  assert_line (text, 3, "4:" CELL ("4", "F4-1",) " pool_mm=full flame_mm=22.225 vessel_c=61.1111111111 soot=2 note=steady" REST
                        " lit_at=2026-03-02T19:05:00-06:00 elapsed_min=240");
  /* The second row's empty cells say what stands above. */
  assert_line (text, 4, "5:" CELL ("5", "F5-1",) " pool_mm=44.45" REST " lit_at=2026-03-02T19:10:00-06:00 elapsed_min=60");
  /* "-" is no reading: the hour has no row. */
  assert_line (text, 9, "6:" CELL ("4", "F4-2",) " pool_mm=63.5" REST " lit_at=2026-03-14T23:30:00-05:00 elapsed_min=180");
  assert_line (text, 11, "");
#undef CELL
#undef REST
}

/*
 * Decimal commas, Windows-1252, a time of day alone past midnight, words. From 22:40 to 3:40 on the morning of 29 March 2026, when
 * Germany's clocks go from 2 to 3 (directive 2000/84/EC: the last Sunday of March, 1:00 UTC), are 4 hours.
 */
static void
test_evenings (void)
{
  g_autoptr (WbLogMapping) mapping = load_mapping ("sheet-comma.mapping");
  g_autofree char *text = dump_data ("sheet-comma.csv", mapping);

#define ROW " experiment=Küche vessel=Krug inner_diameter_mm=72.5 wick_series=Rohr wick_size=3 load_pct=7.5 Nr=A1 burn=1" \
  " lit_at=2026-03-28T22:40:00+01:00 pool_mm="
#define REST " dye=weiß wax=Wiesenwachs sample=Rohr 3 A1 elapsed_min="
  assert_line (text, 0, "2:" ROW "41 depth_mm=6.5 soot=0 mass_g=412.3" REST "60");
  assert_line (text, 1, "3:" ROW "52.5 depth_mm=8 soot=1" REST "120");
  assert_line (text, 2, "4:" ROW "full depth_mm=9.5 soot=4 mass_g=390.05" REST "240");
#undef ROW
#undef REST
}

/* Each rule on a cell once, by the sheet's line and column. */
static void
test_refused (void)
{
  static const struct { const char *column, *rule; } wanted[] = {
    { "Day", "no such day" }, { "Lit", "no such time of day" }, { "Lit", "write a time of day" }, { "Lit", "summer time" },
    { "Day", "month, day and year" }, { "Day", "without its time of day" }, { "Read", "time of the reading is missing" },
    { "Code", "pattern" }, { "Pool", "decimal sign here is the point" }, { "Pool", "not a number" }, { "Pool", "not a unit" },
    { "Soot", "none of the words none, trace, light" }, { "Soot", "0 to 4" }, { "Width", "must be given" }, { "Pool", "0 to 70" },
    { "", "10 cells, and the header has 9" }, { "", "quotation mark" }, { "Width", "not a number" },
  };
  g_autoptr (WbLogMapping) mapping = load_mapping ("sheet-refused.mapping");
  g_autofree char *text = dump_data ("sheet-refused.csv", mapping);
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);

  for (guint i = 0; i < G_N_ELEMENTS (wanted); i++)
    {
      g_autofree char *start = g_strdup_printf ("%u: refused %s:", i + 2, wanted[i].column);

      if (!g_str_has_prefix (lines[i], start) || strstr (lines[i], wanted[i].rule) == NULL)
        g_error ("wanted “%s …%s…”, and got “%s”", start, wanted[i].rule, lines[i]);
    }
  g_assert_nonnull (strstr (lines[18], "20: wick_series=Rush"));
}

/* Written and read again, it makes the same rows, and the same text. */
static void
test_round_trip (void)
{
  static const char *const sheets[] = { "sheet-us-hours", "sheet-comma", "sheet-refused" };

  for (guint i = 0; i < G_N_ELEMENTS (sheets); i++)
    {
      g_autofree char *name = g_strconcat (sheets[i], ".mapping", NULL), *sheet = g_strconcat (sheets[i], ".csv", NULL);
      g_autoptr (WbLogMapping) mapping = load_mapping (name), again = NULL, copy = wb_log_mapping_copy (mapping);
      g_autofree char *text = wb_log_mapping_to_text (copy), *second = NULL, *before = NULL, *after = NULL;
      g_autoptr (GError) error = NULL;

      again = wb_log_mapping_from_text (text, &error);
      g_assert_no_error (error);
      second = wb_log_mapping_to_text (again);
      g_assert_cmpstr (text, ==, second);
      before = dump_data (sheet, mapping);
      after = dump_data (sheet, again);
      assert_same (before, after);
    }
}

/* What a mapping's file may not say, by group and key. */
static void
test_text_refused (void)
{
  static const struct { const char *text, *wanted; } cases[] = {
    { "", "[Log mapping] format" },
    { "no key file", "" },
    { "[Log mapping]\nname=A\n", "[Log mapping] format: must be given" },
    { "[Log mapping]\nformat=2\n", "[Log mapping] format: “2”" },
    { "[Log mapping]\nformat=1\ncolour=red\n", "[Log mapping] colour: there is no such key" },
    { "[Log mapping]\nformat=1\nheader-line=0\n", "[Log mapping] header-line: “0”" },
    { "[Log mapping]\nformat=1\ndelimiter=ab\n", "[Log mapping] delimiter: “ab”" },
    { "[Log mapping]\nformat=1\ndecimal=;\n", "[Log mapping] decimal: “;”" },
    { "[Log mapping]\nformat=1\ndate-order=any\n", "[Log mapping] date-order: “any”" },
    { "[Log mapping]\nformat=1\nclock=sand\n", "[Log mapping] clock: “sand”: 24-hour" },
    { "[Log mapping]\nformat=1\nheader-rows=3\n", "[Log mapping] header-rows: “3”" },
    { "[Log mapping]\nformat=1\n[Columns]\na=b\n", "[Columns] : there is no such group" },
    { "[Log mapping]\nformat=1\n[Column 1]\nread-as=wax\n", "[Column 1] source: must be given" },
    { "[Log mapping]\nformat=1\n[Column 1]\nsource=A\nminute=soon\n", "[Column 1] minute: “soon”" },
    { "[Log mapping]\nformat=1\n[Column 1]\nsource=A\nminute=2881\n", "[Column 1] minute: “2881”" },
    { "[Log mapping]\nformat=1\n[Column 1]\nsource=A\nunit=ell\n", "[Column 1] unit: “ell”" },
    { "[Log mapping]\nformat=1\n[Column 1]\nsource=A\nrepeat=often\n", "[Column 1] repeat" },
    { "[Log mapping]\nformat=1\n[Column 1]\nsource=A\nwords=a;b;\nwords-as=1;\n", "[Column 1] words-as: 1 texts for 2 words" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (WbLogMapping) mapping = wb_log_mapping_from_text (cases[i].text, &error);

      g_assert_null (mapping);
      g_assert_nonnull (error);
      if (strstr (error->message, cases[i].wanted) == NULL)
        g_error ("case %u: “%s” does not say “%s”", i, error->message, cases[i].wanted);
    }
}

/* A mapping over the sheet "A,B,C,D" that gives what is needed by fixed values; a case adds its own. */
static WbLogMapping *
new_sound (void)
{
  static const char *const fixed[][2] = {
    { "experiment", "Autumn trial" }, { "vessel", "Tern" }, { "inner_diameter_mm", "76,2" }, { "wax", "Marsh soy" },
    { "wick_series", "Sedge" }, { "load_pct", "8 %" }, { "sample", "{B}-{C}" }, { "burn", "1" },
  };
  WbLogMapping *mapping = wb_log_mapping_new ();

  for (guint i = 0; i < G_N_ELEMENTS (fixed); i++)
    wb_log_mapping_set_fixed (mapping, fixed[i][0], fixed[i][1]);
  wb_log_mapping_add_column (mapping, "A", "elapsed_min");
  wb_log_mapping_add_column (mapping, "B", "wick_size");
  return mapping;
}

#define COLUMN(mapping, n) ((WbLogMappingColumn *) (mapping)->columns->pdata[n])

static void break_source (WbLogMapping *m) { wb_log_mapping_add_column (m, "E", "note"); }
static void break_target (WbLogMapping *m) { wb_log_mapping_add_column (m, "C", "shine"); }
static void break_unit (WbLogMapping *m) { wb_log_mapping_add_column (m, "C", "pool_mm")->unit = WB_UNIT_G; }
static void break_twice (WbLogMapping *m) { wb_log_mapping_add_column (m, "C", "wick_size"); }
static void break_fixed (WbLogMapping *m) { wb_log_mapping_set_fixed (m, "wick_size", "4"); }
static void break_number (WbLogMapping *m) { wb_log_mapping_set_fixed (m, "load_pct", "eight"); }
static void break_composed (WbLogMapping *m) { wb_log_mapping_set_fixed (m, "note", "{Z}"); }
static void break_brace (WbLogMapping *m) { wb_log_mapping_set_fixed (m, "note", "{A"); }
static void break_needed (WbLogMapping *m) { wb_log_mapping_set_fixed (m, "wax", NULL); }
static void break_hours (WbLogMapping *m) { wb_log_mapping_add_column (m, "C", "pool_mm")->minute = 60; }
static void break_hour (WbLogMapping *m) { COLUMN (m, 1)->minute = 60; }
static void break_times (WbLogMapping *m) { wb_log_mapping_add_column (m, "C", "read_time"); }
static void break_day (WbLogMapping *m) { wb_log_mapping_add_column (m, "C", "lit_on"); }
static void break_pattern (WbLogMapping *m) { wb_log_mapping_add_column (m, "C", NULL)->pattern = g_strdup ("{wax"); }
static void break_between (WbLogMapping *m) { wb_log_mapping_add_column (m, "C", NULL)->pattern = g_strdup ("{dye}{note}"); }
static void break_zone (WbLogMapping *m) { g_free (m->zone); m->zone = g_strdup ("Nowhere/Town"); }

static void
test_does_not_fit (void)
{
  static const struct { void (*breaks) (WbLogMapping *mapping); const char *wanted; } cases[] = {
    { break_source, "the file has no column “E”" },
    { break_target, "nothing can be read as “shine”" },
    { break_unit, "“g” is no unit of “Pool diameter”" },
    { break_twice, "“B” and “C” are both read as “Wick size”" },
    { break_fixed, "“Wick size” has a fixed value, and the column “B” is read as it" },
    { break_number, "Load (fixed value): “eight” is not a number" },
    { break_composed, "names “Z”" },
    { break_brace, "opens a brace" },
    { break_needed, "not told yet: “Wax” (choose" },
    { break_hours, "exclude each other" },
    { break_hour, "“B” is of one hour" },
    { break_times, "needs the time of lighting" },
    { break_day, "needs its time of day" },
    { break_pattern, "opens a brace" },
    { break_between, "nothing stands between" },
    { break_zone, "the zone “Nowhere/Town”" },
  };
  GFile *file = test_exchange_file ("A,B,C,D\n1 h,4,x,\n90 min,4,x,\n", -1);
  g_autoptr (WbLogMapping) sound = new_sound ();
  g_autofree char *text = test_exchange_dump (file, sound);

  /* The sound one: durations in any unit, a fixed value in either decimal sign, one that is composed. */
  assert_line (text, 0, "2: elapsed_min=60 wick_size=4 experiment=Autumn trial vessel=Tern inner_diameter_mm=76.2 wax=Marsh soy"
                        " wick_series=Sedge load_pct=8 sample=4-x burn=1");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WbLogMapping) mapping = new_sound ();
      g_autoptr (GError) error = NULL;

      cases[i].breaks (mapping);
      g_assert_null (wb_exchange_log_reader_new_mapped (file, mapping, NULL, &error));
      g_assert_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_HEADER);
      if (strstr (error->message, cases[i].wanted) == NULL)
        g_error ("case %u: “%s” does not say “%s”", i, error->message, cases[i].wanted);
    }
  test_exchange_drop (file);
}

/* A name twice, a column without one, titles above, a record cut short. */
static void
test_shape (void)
{
  GFile *file = test_exchange_file ("Tests of an evening|||\n\nA|B|B||\n30|4|x|y\n60|5\n\n", -1);
  g_autoptr (WbLogMapping) mapping = new_sound ();
  g_autofree char *text = NULL;

  mapping->delimiter = '|';
  mapping->header_line = 2;
  wb_log_mapping_set_fixed (mapping, "sample", "{B (2)}1");
  text = test_exchange_dump (file, mapping);
  g_assert_nonnull (strstr (text, "4: elapsed_min=30 wick_size=4"));
  g_assert_nonnull (strstr (text, "sample=x1"));
  g_assert_nonnull (strstr (text, "5: elapsed_min=60 wick_size=5"));
  test_exchange_drop (file);
}

static void
test_encoding (void)
{
  static const struct { const char *encoding, *bytes; gssize length; const char *wanted; } cases[] = {
    { "UTF-8", "A,B,C\n60,4,\xc3\xa9\n", -1, "sample=4-é" },
    { "WINDOWS-1252", "A,B,C\n60,4,\xe9\n", -1, "sample=4-é" },
    { "UTF-16", "\xff\xfe" "A\0,\0B\0,\0C\0\n\0" "6\0" "0\0,\0" "4\0,\0\xe9\0\n\0", 28, "sample=4-é" },
    { "UTF-8", "A,B,C\n60,4,\xe9\n", -1, "2: refused C: the text is not UTF-8" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      GFile *file = test_exchange_file (cases[i].bytes, cases[i].length);
      g_autoptr (WbLogMapping) mapping = new_sound ();
      g_autofree char *text = NULL;

      g_free (mapping->encoding);
      mapping->encoding = g_strdup (cases[i].encoding);
      text = test_exchange_dump (file, mapping);
      if (strstr (text, cases[i].wanted) == NULL)
        g_error ("case %u: “%s”", i, text);
      test_exchange_drop (file);
    }
}

static void
test_no_encoding (void)
{
  static const struct { const char *encoding, *bytes, *wanted; } cases[] = {
    { "KLINGON", "A,B,C\n60,4,x\n", "the encoding “KLINGON” is not known here" },
    { "ASCII", "A,B,C\n60,4,\xe9\n", "the text is not ASCII" },
    { "UTF-8", "", "no names of columns" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      GFile *file = test_exchange_file (cases[i].bytes, -1);
      g_autoptr (WbLogMapping) mapping = new_sound ();
      g_autoptr (GError) error = NULL;

      g_free (mapping->encoding);
      mapping->encoding = g_strdup (cases[i].encoding);
      g_assert_null (wb_exchange_log_reader_new_mapped (file, mapping, NULL, &error));
      g_assert_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT);
      g_assert_nonnull (strstr (error->message, cases[i].wanted));
      test_exchange_drop (file);
    }
}

/* A time of day is minutes since lighting, past midnight, with and without a day of the lighting. */
static void
test_past_midnight (void)
{
  static const struct { const char *lit, *read, *elapsed; } cases[] = {
    { "7:05 pm", "8:05 PM", "60" }, { "11:30 p.m.", "12:30 a.m.", "60" }, { "12:10 pm", "1 pm", "50" }, { "22.40", "0.10", "90" },
    { "23:59:30", "00:00:00", "0.5" }, { "19:00", "19:00", "0" }, { "7p", "3a", "480" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    for (int day = 0; day < 2; day++)
      {
        g_autofree char *bytes = g_strdup_printf ("A,B,C,D\n%s,4,x,%s\n", cases[i].read, cases[i].lit);
        g_autofree char *wanted = g_strdup_printf ("elapsed_min=%s\n", cases[i].elapsed), *text = NULL;
        GFile *file = test_exchange_file (bytes, -1);
        g_autoptr (WbLogMapping) mapping = new_sound ();

        g_free (COLUMN (mapping, 0)->target);
        COLUMN (mapping, 0)->target = g_strdup (WB_LOG_TARGET_READ_TIME);
        wb_log_mapping_add_column (mapping, "D", WB_LOG_TARGET_LIT_TIME);
        if (day)
          wb_log_mapping_set_fixed (mapping, WB_LOG_TARGET_LIT_ON, "2026-01-31");
        text = test_exchange_dump (file, mapping);
        if (!g_str_has_suffix (text, wanted))
          g_error ("“%s” to “%s”: wanted “%s” at the end of “%s”", cases[i].lit, cases[i].read, wanted, text);
        test_exchange_drop (file);
      }
}

static void
test_dates (void)
{
  static const struct { WbLogDateOrder order; const char *text, *wanted; } cases[] = {
    { WB_LOG_DATE_MONTH_FIRST, "3/2/26", "2026-03-02" }, { WB_LOG_DATE_DAY_FIRST, "3/2/26", "2026-02-03" },
    { WB_LOG_DATE_YEAR_FIRST, "26/3/2", NULL }, { WB_LOG_DATE_DAY_FIRST, "02. 03. 2026", "2026-03-02" },
    { WB_LOG_DATE_DAY_FIRST, "2026-03-02", "2026-03-02" }, { WB_LOG_DATE_MONTH_FIRST, "2 Mar 2026", "2026-03-02" },
    { WB_LOG_DATE_DAY_FIRST, "March 2, 2026", "2026-03-02" }, { WB_LOG_DATE_MONTH_FIRST, "2-Mar-26", "2026-03-02" },
    { WB_LOG_DATE_DAY_FIRST, "2.3.2026 0:00", "2026-03-02" }, { WB_LOG_DATE_DAY_FIRST, "29.2.2026", NULL },
    { WB_LOG_DATE_YEAR_FIRST, "2.3.2026", NULL }, { WB_LOG_DATE_DAY_FIRST, "2.13.2026", NULL },
    { WB_LOG_DATE_DAY_FIRST, "2.3.", NULL }, { WB_LOG_DATE_DAY_FIRST, "2.3.1066", NULL }, { WB_LOG_DATE_DAY_FIRST, "2 Foo 2026", NULL },
    { WB_LOG_DATE_DAY_FIRST, "46083", NULL }, { WB_LOG_DATE_DAY_FIRST, "2.3.2026!", NULL },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *bytes = g_strdup_printf ("A,B,C,D\n60,4,x,\"%s\"\n", cases[i].text);
      g_autofree char *wanted = g_strdup_printf ("poured_on=%s ", cases[i].wanted), *text = NULL;
      GFile *file = test_exchange_file (bytes, -1);
      g_autoptr (WbLogMapping) mapping = new_sound ();

      mapping->date_order = cases[i].order;
      wb_log_mapping_add_column (mapping, "D", "poured_on");
      text = test_exchange_dump (file, mapping);
      if (strstr (text, cases[i].wanted != NULL ? wanted : "2: refused D:") == NULL)
        g_error ("“%s” in order %d: “%s”", cases[i].text, cases[i].order, text);
      test_exchange_drop (file);
    }
}

/* Burns without numbers, in any order of their rows; another sample has burns of its own. */
static void
test_counted (void)
{
  static const char *const burns[] = { "burn=1", "burn=1", "burn=1", "burn=2", "burn=1", "refused D: burns are counted" };
  GFile *file = test_exchange_file ("A,B,C,D\n30,4,x,2026-03-02 19:00\n60,4,x,2026-03-02 19:00\n30,4,y,2026-03-02 19:00\n"
                                    "30,4,x,2026-03-03 19:00\n90,4,x,2026-03-02 19:00\n90,4,x,\n", -1);
  g_autoptr (WbLogMapping) mapping = new_sound ();
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;
  g_autoptr (GError) error = NULL;

  wb_log_mapping_set_fixed (mapping, "burn", WB_LOG_COUNTED);
  g_assert_null (wb_exchange_log_reader_new_mapped (file, mapping, NULL, &error));
  g_assert_nonnull (strstr (error->message, "day and time of lighting are needed"));
  wb_log_mapping_add_column (mapping, "D", "lit_at");
  text = test_exchange_dump (file, mapping);
  lines = g_strsplit (text, "\n", -1);
  for (guint i = 0; i < G_N_ELEMENTS (burns); i++)
    if (strstr (lines[i], burns[i]) == NULL)
      g_error ("row %u: wanted “%s” in “%s”", i, burns[i], lines[i]);
  test_exchange_drop (file);
}

/* Of a sheet that tells only when each reading was taken. */
static void
test_first_reading (void)
{
  static const char *const rows[] = {
    "lit_at=2026-03-02T19:00:00+00:00 elapsed_min=0", "lit_at=2026-03-02T19:00:00+00:00 elapsed_min=300.5",
    "lit_at=2026-03-03T20:00:00+00:00 elapsed_min=0", "lit_at=2026-03-02T19:00:00+00:00 elapsed_min=60",
    "refused A: the reading stands before the lighting", "refused A: “noon”",
  };
  GFile *file = test_exchange_file ("A,B,C,D\n2026-03-02 19:00,4,x,1\n2026-03-03 00:00:30,4,x,1\n2026-03-03 20:00,4,x,2\n"
                                    "2026-03-02 20:00,4,x,1\n2026-03-02 18:59,4,x,1\nnoon,4,z,1\n", -1);
  g_autoptr (WbLogMapping) mapping = new_sound ();
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;

  g_free (COLUMN (mapping, 0)->target);
  COLUMN (mapping, 0)->target = g_strdup (WB_LOG_TARGET_READ_AT);
  wb_log_mapping_set_fixed (mapping, "burn", NULL);
  wb_log_mapping_add_column (mapping, "D", "burn");
  wb_log_mapping_set_fixed (mapping, "lit_at", WB_LOG_FIRST_READING);
  text = test_exchange_dump (file, mapping);
  lines = g_strsplit (text, "\n", -1);
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    if (strstr (lines[i], rows[i]) == NULL)
      g_error ("row %u: wanted “%s” in “%s”", i, rows[i], lines[i]);
  test_exchange_drop (file);
}

static const WbLogMappingColumn *
find_column (const WbLogMapping *mapping, const char *source)
{
  for (guint i = 0; i < mapping->columns->len; i++)
    if (strcmp (COLUMN (mapping, i)->source, source) == 0)
      return COLUMN (mapping, i);
  g_error ("no column %s", source);
}

/* What is guessed of the sheet with hours, and that with what a person adds it makes the very rows of the mapping made by hand. */
static void
test_guess (void)
{
  g_autoptr (GFile) file = test_exchange_data ("sheet-us-hours.csv");
  g_autoptr (WbLogHead) head = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbLogMapping) guess = wb_exchange_mapping_guess (file, NULL, &head, NULL, &error), hand = load_mapping ("sheet-us-hours.mapping");
  g_autoptr (WbLogMapping) shape = wb_log_mapping_new (), told = NULL;
  g_autofree char *rows = NULL, *wanted = NULL;

  g_assert_no_error (error);
  g_assert_cmpstr (guess->encoding, ==, "UTF-8");
  g_assert_cmpint (guess->delimiter, ==, ',');
  g_assert_cmpuint (guess->header_line, ==, 3);
  g_assert_cmpint (guess->date_order, ==, WB_LOG_DATE_MONTH_FIRST);
  g_assert_cmpint (guess->decimal, ==, '.');
  g_assert_cmpstr (guess->nothing[0], ==, "-");
  g_assert_cmpuint (head->n_records, ==, 3);
  g_assert_cmpstr (head->examples[4][1], ==, "Rush-5");
  for (guint i = 0; i < hand->columns->len; i++)
    {
      const WbLogMappingColumn *a = COLUMN (hand, i), *b = find_column (guess, a->source);

      g_assert_cmpstr (a->target, ==, b->target);
      g_assert_cmpstr (a->pattern, ==, b->pattern);
      g_assert_true (a->repeat == b->repeat);
      g_assert_true (a->minute == b->minute || (isnan (a->minute) && isnan (b->minute)));
    }
  /* A shape that leaves the delimiter to the header has it told. */
  shape->header_line = 3;
  told = wb_exchange_mapping_guess (file, shape, NULL, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (told->delimiter, ==, ',');
  g_assert_cmpuint (told->columns->len, ==, guess->columns->len);
  g_assert_cmpstr (wb_log_mapping_get_fixed (guess, "experiment"), ==, "sheet-us-hours");
  g_assert_cmpstr (wb_log_mapping_get_fixed (guess, "burn"), ==, WB_LOG_COUNTED);
  /* What no sheet tells: the names of things, and the zone. */
  g_free (guess->zone);
  guess->zone = g_strdup ("America/Chicago");
  for (guint i = 0; i < hand->fixed->len; i++)
    {
      const WbLogPair *pair = hand->fixed->pdata[i];

      wb_log_mapping_set_fixed (guess, pair->key, NULL);
      wb_log_mapping_set_fixed (guess, pair->key, pair->value);
    }
  rows = test_exchange_dump (file, guess);
  wanted = test_exchange_dump (file, hand);
  assert_same (rows, wanted);
}

static void
test_guess_columns (void)
{
  static const struct { const char *name, *example, *target; double minute; WbUnit unit; } cases[] = {
    { "Pool @ 90 min", "40", "pool_mm", 90, WB_UNIT_MM }, { "Hour 2 (cm)", "4.5", "pool_mm", 120, WB_UNIT_CM },
    { "Flame 2.5hr", "20", "flame_mm", 150, WB_UNIT_MM }, { "Jar temp", "140", "vessel_c", NAN, WB_UNIT_FAHRENHEIT },
    { "Jar temp", "61", "vessel_c", NAN, WB_UNIT_CELSIUS }, { "Melt pool depth in", "1/4", "depth_mm", NAN, WB_UNIT_INCH },
    { "Hot throw", "good", "throw", NAN, WB_N_UNITS }, { "Burn time", "3", "elapsed_min", NAN, WB_UNIT_HOUR },
    { "Started", "19:05", "lit_time", NAN, WB_N_UNITS }, { "Checked", "20:05", "read_time", NAN, WB_N_UNITS },
    { "Date", "2/3/2026 19:05", "lit_at", NAN, WB_N_UNITS }, { "Poured", "2/3/2026", "poured_on", NAN, WB_N_UNITS },
    { "soot", "2", "soot", NAN, WB_N_UNITS }, { "Weight (oz)", "12", "mass_g", NAN, WB_UNIT_OZ }, { "Moon", "full", "keep", NAN, WB_N_UNITS },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *bytes = g_strdup_printf ("%s,other\n%s,x\n", cases[i].name, cases[i].example);
      GFile *file = test_exchange_file (bytes, -1);
      g_autoptr (WbLogMapping) guess = wb_exchange_mapping_guess (file, NULL, NULL, NULL, NULL);
      const WbLogMappingColumn *column = COLUMN (guess, 0);

      if (g_strcmp0 (column->target, cases[i].target) != 0 || column->unit != cases[i].unit
          || !(column->minute == cases[i].minute || (isnan (column->minute) && isnan (cases[i].minute))))
        g_error ("“%s”: read as %s, minute %g, unit %d", cases[i].name, column->target, column->minute, column->unit);
      test_exchange_drop (file);
    }
}

/* Bytes of the text changed, taken out or doubled at random. */
static char *
dup_spoilt (const char *text, gsize length, gsize *spoilt_length)
{
  static const char signs[] = ",;\"\n\r\t{}[]=-/:. 09aZ\0\xff\xc3";
  g_autoptr (GString) spoilt = g_string_new_len (text, (gssize) length);
  int n = g_test_rand_int_range (1, 12);

  for (int i = 0; i < n && spoilt->len > 0; i++)
    {
      gsize at = (gsize) g_test_rand_int_range (0, (int) spoilt->len);
      int most = g_test_rand_int_range (1, 30);

      switch (g_test_rand_int_range (0, 3))
        {
        case 0:
          spoilt->str[at] = signs[g_test_rand_int_range (0, sizeof signs - 1)];
          break;
        case 1:
          g_string_erase (spoilt, (gssize) at, MIN (most, (int) (spoilt->len - at)));
          break;
        default:
          {
            g_autofree char *part = g_strndup (spoilt->str + at, MIN ((gsize) most, spoilt->len - at));

            g_string_insert (spoilt, (gssize) at, part);
            break;
          }
        }
    }
  *spoilt_length = spoilt->len;
  return g_memdup2 (spoilt->str, spoilt->len + 1);
}

/* Whatever stands in sheet and mapping, every row comes or is refused by a rule, or the whole is by one error; guesses too. */
static void
test_spoilt (void)
{
  static const char *const sheets[] = { "sheet-us-hours", "sheet-comma", "sheet-refused" };

  for (guint i = 0; i < 300; i++)
    {
      g_autofree char *sheet_name = g_strconcat (sheets[i % 3], ".csv", NULL), *mapping_name = g_strconcat (sheets[i % 3], ".mapping", NULL);
      g_autoptr (GFile) sheet_file = test_exchange_data (sheet_name), mapping_file = test_exchange_data (mapping_name);
      g_autofree char *sheet = NULL, *text = NULL, *spoilt_sheet = NULL, *spoilt_text = NULL;
      gsize length, text_length, spoilt;
      g_autoptr (GError) error = NULL, of_text = NULL, of_guess = NULL;
      g_autoptr (WbLogMapping) mapping = NULL, guess = NULL;
      g_autoptr (WbExchangeLogReader) reader = NULL;
      g_autoptr (WbLogRow) row = wb_log_row_new ();
      g_autoptr (GPtrArray) remarks = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
      GFile *file;

      g_assert_true (g_file_load_contents (sheet_file, NULL, &sheet, &length, NULL, NULL));
      g_assert_true (g_file_load_contents (mapping_file, NULL, &text, &text_length, NULL, NULL));
      spoilt_text = dup_spoilt (text, text_length, &spoilt);
      mapping = wb_log_mapping_from_text (i % 2 ? text : spoilt_text, &of_text);
      g_assert_true ((mapping == NULL) == (of_text != NULL));
      if (mapping == NULL)
        mapping = load_mapping (mapping_name);
      spoilt_sheet = dup_spoilt (sheet, length, &spoilt);
      file = test_exchange_file (spoilt_sheet, (gssize) spoilt);
      guess = wb_exchange_mapping_guess (file, NULL, NULL, NULL, &of_guess);
      g_assert_true ((guess == NULL) == (of_guess != NULL));
      reader = wb_exchange_log_reader_new_mapped (file, mapping, NULL, &error);
      g_assert_true ((reader == NULL) == (error != NULL));
      while (reader != NULL)
        {
          guint before = remarks->len;
          WbExchangeLogResult result = wb_exchange_log_reader_next (reader, row, remarks, &error);

          g_assert_true ((result == WB_EXCHANGE_LOG_ERROR) == (error != NULL));
          if (result == WB_EXCHANGE_LOG_END || result == WB_EXCHANGE_LOG_ERROR)
            break;
          g_assert_true (result == WB_EXCHANGE_LOG_ROW || remarks->len == before + 1);
        }
      test_exchange_drop (file);
    }
}

void
test_exchange_add_mapping (void)
{
  g_test_add_func ("/exchange/mapping/a-sheet-with-hours-across-becomes-a-reading-an-hour", test_hours);
  g_test_add_func ("/exchange/mapping/an-evening-past-midnight-and-into-summer-time", test_evenings);
  g_test_add_func ("/exchange/mapping/each-refused-row-names-line-column-and-rule-of-the-sheet", test_refused);
  g_test_add_func ("/exchange/mapping/written-and-read-again-it-makes-the-same-rows", test_round_trip);
  g_test_add_func ("/exchange/mapping/a-wrong-file-is-told-by-group-and-key", test_text_refused);
  g_test_add_func ("/exchange/mapping/what-does-not-fit-the-sheet-is-told", test_does_not_fit);
  g_test_add_func ("/exchange/mapping/titles-above-doubled-names-and-short-records-are-read", test_shape);
  g_test_add_func ("/exchange/mapping/encodings-are-read", test_encoding);
  g_test_add_func ("/exchange/mapping/a-wrong-encoding-is-told", test_no_encoding);
  g_test_add_func ("/exchange/mapping/times-of-day-are-minutes-since-lighting", test_past_midnight);
  g_test_add_func ("/exchange/mapping/dates-go-by-the-order-chosen", test_dates);
  g_test_add_func ("/exchange/mapping/burns-without-numbers-are-counted-by-their-lightings", test_counted);
  g_test_add_func ("/exchange/mapping/a-burn-can-be-lit-at-its-first-reading", test_first_reading);
  g_test_add_func ("/exchange/mapping/spoilt-sheets-and-mappings-are-told", test_spoilt);
  g_test_add_func ("/exchange/mapping/a-guess-needs-little-to-be-right", test_guess);
  g_test_add_func ("/exchange/mapping/columns-are-guessed-by-name-and-content", test_guess_columns);
}
