/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-exchange.h"

#include "wb-exchange-log-reader.h"
#include "wb-exchange-mapping-guess.h"

#include <math.h>
#include <string.h>

/* What a sheet does not say clearly is refused, asked or left for a person: never shifted, joined or swallowed. Sheets are invented. */

/* A mapping that gives what is needed, to which the lines of a case are added: keys of the head, then columns as "NAME>TARGET@MINUTE". */
static WbLogMapping *
new_mapping (const char *head, const char *const *columns)
{
  g_autofree char *text = g_strconcat ("[Log mapping]\nformat=1\nzone=Europe/Berlin\n", head, "[Fixed]\nexperiment=Autumn\nvessel=Tern\n"
                                       "inner_diameter_mm=70\nwax=Marsh\nwick_series=Sedge\nwick_size=1\nload_pct=8\nfragrance=Hay\nburn=1\n", NULL);
  g_autoptr (GError) error = NULL;
  WbLogMapping *mapping = wb_log_mapping_from_text (text, &error);

  g_assert_no_error (error);
  for (guint i = 0; columns[i] != NULL; i++)
    {
      g_auto (GStrv) parts = g_strsplit_set (columns[i], ">@", -1);
      WbLogMappingColumn *column = wb_log_mapping_add_column (mapping, parts[0], parts[1]);

      if (parts[2] != NULL)
        column->minute = g_ascii_strtod (parts[2], NULL);
      wb_log_mapping_set_fixed (mapping, parts[1], NULL);
    }
  return mapping;
}

static char *
dump_text (const char *sheet, const WbLogMapping *mapping)
{
  GFile *file = test_exchange_file (sheet, -1);
  char *text = test_exchange_dump_told (file, mapping);

  test_exchange_drop (file);
  return text;
}

/* The row stands among the rows: its line, and each of the texts. */
static void
assert_row (const char *rows, guint n, const char *start, const char *const *wanted)
{
  g_auto (GStrv) lines = g_strsplit (rows, "\n", -1);

  g_assert_cmpuint (n, <, g_strv_length (lines));
  if (!g_str_has_prefix (lines[n], start))
    g_error ("row %u: wanted “%s” in front of “%s”", n, start, lines[n]);
  for (guint i = 0; wanted[i] != NULL; i++)
    if (strstr (lines[n], wanted[i]) == NULL)
      g_error ("row %u: wanted “%s” in “%s”", n, wanted[i], lines[n]);
}

#define WANTED(...) ((const char *const[]) { __VA_ARGS__, NULL })

/* An unquoted decimal comma where the last cell is empty: 63,5 g would become a mass of 5. In a sheet of decimal commas a row too short may be one too. */
static void
test_shifted (void)
{
  const char *const columns[] = { "sample>sample", "min>elapsed_min", "pool>pool_mm", "mass>mass_g", "note>note", NULL };
  g_autoptr (WbLogMapping) mapping = new_mapping ("", columns);
  g_autoptr (WbLogMapping) commas = new_mapping ("decimal=,\n", columns);
  g_autofree char *rows = dump_text ("sample,min,pool,mass,note\nA1,60,63,120,fine\nA1,120,63,5,120,\nA1,180,\"41.5\",119,\n", mapping);
  g_autofree char *shifting = dump_text ("sample,min,pool,mass,note\nA1,120,63,5\nA1,180,\"41,5\",119,\n", commas);
  g_autofree char *other = dump_text ("sample;min;pool;mass;note\nA1;60;63;120\nA1;120;63;5;120;\n", mapping);

  assert_row (rows, 0, "2: sample=A1", WANTED ("pool_mm=63 mass_g=120"));
  assert_row (rows, 1, "3: refused : the row has 6 cells, and the header has 5", WANTED ("quotation marks"));
  assert_row (rows, 2, "4: sample=A1", WANTED ("pool_mm=41.5 mass_g=119"));
  assert_row (shifting, 0, "2: refused : the row has 4 cells, and the header has 5", WANTED ("quotation marks"));
  assert_row (shifting, 1, "3: sample=A1", WANTED ("pool_mm=41.5 mass_g=119"));
  /* Where no comma parts the columns a short row is short. */
  assert_row (other, 0, "2: sample=A1", WANTED ("pool_mm=63 mass_g=120"));
  assert_row (other, 1, "3: refused : the row has 6 cells, and the header has 5", WANTED ("cells"));
}

/* Rows that leave off what is empty at their end, as spreadsheets do, come in, and it is told once on which lines. */
static void
test_short (void)
{
  const char *const columns[] = { "sample>sample", "min>elapsed_min", "pool>pool_mm", "mass>mass_g", "note>note", NULL };
  static const char *const signs[] = { ",", ";" };

  for (guint i = 0; i < G_N_ELEMENTS (signs); i++)
    {
      g_autoptr (WbLogMapping) mapping = new_mapping ("", columns);
      g_autoptr (GString) sheet = g_string_new ("sample,min,pool,mass,note\nA1,60,41,120,fine\nA1,120,44\n\nA1,180,47,118,\nA1,240,49,117\nA1\nA1,300,51,116\n");
      g_autofree char *rows = NULL;

      g_string_replace (sheet, ",", signs[i], 0);
      rows = dump_text (sheet->str, mapping);
      assert_row (rows, 1, "3: sample=A1", WANTED ("elapsed_min=120 pool_mm=44"));
      assert_row (rows, 3, "6: sample=A1", WANTED ("elapsed_min=240 pool_mm=49 mass_g=117"));
      /* What is needed must stand all the same. */
      assert_row (rows, 4, "7: refused min", WANTED (""));
      assert_row (rows, 5, "8: sample=A1", WANTED ("pool_mm=51"));
      assert_row (rows, 6, "told 3 : the row has 3 cells, and the header has 5", WANTED ("read as empty; so it is on line 6, 7, 8"));
    }
}

/* A load of a fragrance that nobody named: said once, with the column of the sheet in which the load stands. */
static void
test_unnamed (void)
{
  const char *const columns[] = { "Candle>sample", "Oil, %>load_pct", "Min>elapsed_min", "Pool>pool_mm", NULL };
  static const char *const sheet = "Candle,\"Oil, %\",Min,Pool\nA,0,60,30\nB,6,60,30\nB,6,120,40\n";
  g_autoptr (WbLogMapping) named = new_mapping ("", columns), unnamed = new_mapping ("", columns);
  g_autofree char *of_named = NULL, *of_unnamed = NULL;

  wb_log_mapping_set_fixed (unnamed, "fragrance", NULL);
  of_named = dump_text (sheet, named);
  of_unnamed = dump_text (sheet, unnamed);
  g_assert_null (strstr (of_named, "told"));
  assert_row (of_unnamed, 2, "4: ", WANTED ("pool_mm=40"));
  assert_row (of_unnamed, 3, "told 3 Oil, %: a load of 6 % and no fragrance named", WANTED ("unscented", "2 readings"));
}

/* A sign for nothing makes no hour, blanks around it or not: the weight is that of the last hour read. */
static void
test_blanks (void)
{
  const char *const columns[] = { "Candle>sample", "1 h>pool_mm@60", "2 h>pool_mm@120", "3 h>pool_mm@180", "Weight>mass_g", "Note>note", NULL };
  g_autoptr (WbLogMapping) mapping = new_mapping ("nothing=-;\n", columns);
  g_autofree char *rows = dump_text ("Candle,1 h,2 h,3 h,Weight,Note\nA1,30,40, - ,180,snuffed\n", mapping);

  assert_row (rows, 1, "2: sample=A1 pool_mm=40 mass_g=180 note=snuffed", WANTED ("elapsed_min=120"));
  assert_row (rows, 2, "", WANTED (""));
  g_assert_null (strstr (rows, "elapsed_min=180"));
}

/* A refused hour says what goes with it, refused by this room or by the format; what all hours share refuses the row whole. */
static void
test_lost (void)
{
  const char *const columns[] = {
    "Candle>sample", "1 h>pool_mm@60", "3 h>pool_mm@180", "Flame 3 h>flame_mm@180", "Weight>mass_g", "Note>note", "Day>poured_on", NULL
  };
  g_autoptr (WbLogMapping) mapping = new_mapping ("", columns);
  g_autofree char *rows = dump_text ("Candle,1 h,3 h,Flame 3 h,Weight,Note,Day\nA1,30,tall,20,180,cracked,\nA2,30,400,20,180,cracked,\n"
                                     "A3,tall,40,20,180,fine,\nA4,30,40,20,180,fine,soon\n", mapping);

  assert_row (rows, 0, "2: sample=A1 pool_mm=30", WANTED ("elapsed_min=60"));
  assert_row (rows, 1, "2: refused 3 h: ", WANTED ("left out with it: “Flame 3 h”, “Weight”, “Note”"));
  assert_row (rows, 3, "3: refused 3 h: ", WANTED ("0 to 70", "left out with it: “Flame 3 h”, “Weight”, “Note”"));
  assert_row (rows, 4, "4: refused 1 h: ", WANTED ("not a number"));
  assert_row (rows, 5, "4: sample=A3 pool_mm=40", WANTED ("mass_g=180 note=fine"));
  assert_row (rows, 6, "5: refused Day: ", WANTED ("whole row is left out"));
  g_assert_null (strstr (rows, "note=cracked"));
}

/* What the format refuses in its own unit is told in the sheet's too: 3 1/2 in are 88.9 mm (1 in = 25.4 mm). */
static void
test_converted (void)
{
  const char *const columns[] = { "Candle>sample", "Min>elapsed_min", "Pool>pool_mm", NULL };
  g_autoptr (WbLogMapping) mapping = new_mapping ("", columns);
  g_autofree char *rows = NULL;

  ((WbLogMappingColumn *) mapping->columns->pdata[2])->unit = WB_UNIT_INCH;
  rows = dump_text ("Candle,Min,Pool\nA,60,3 1/2\nA,60,2\n", mapping);
  assert_row (rows, 0, "2: refused Pool: “88.9”", WANTED ("0 to 70", "“3 1/2” in the sheet is 88.9 mm"));
  assert_row (rows, 1, "3: ", WANTED ("pool_mm=50.8"));
}

/*
 * Times of day alone: a minute before the lighting, and a 12-hour clock without am and pm, are no readings of the next day. In
 * Germany 2:30 of 25 October 2026 comes twice (directive 2000/84/EC: the last Sunday of October, 1:00 UTC).
 */
static void
test_times (void)
{
  static const struct { const char *day, *lit, *read, *wanted; } cases[] = {
    { "2026-03-02", "19:00", "18:59", "refused Read: “18:59” is 23 h 59 min after the lighting at 19:00" },
    { "2026-03-02", "7:05", "1:05", "refused Read: “1:05” is 18 h 00 min after the lighting at 7:05" },
    { "", "11:30", "12:15 am", "refused Read: “12:15 am” is 12 h 45 min after the lighting at 11:30" },
    { "2026-03-02", "19:00", "7:00", "elapsed_min=720" },
    { "", "19:00", "7:00", "elapsed_min=720" },
    { "2026-10-25", "01:30", "02:30", "refused Read: “2026-10-25 02:30”: the clocks of the zone showed this time twice" },
    { "2026-10-25", "02:50", "03:20", "showed this time twice" },
    { "2026-10-24", "23:00", "03:00", "elapsed_min=300" },
    { "2026-10-25", "01:59", "03:00", "elapsed_min=121" },
  };
  const char *const columns[] = { "Day>lit_on", "Lit>lit_time", "Read>read_time", "Candle>sample", "Pool>pool_mm", NULL };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const char *const *used = *cases[i].day != '\0' ? columns : columns + 1;
      g_autoptr (WbLogMapping) mapping = new_mapping ("", used);
      g_autofree char *sheet = g_strdup_printf ("Day,Lit,Read,Candle,Pool\n%s,%s,%s,D1,30\n", cases[i].day, cases[i].lit, cases[i].read);
      g_autofree char *rows = dump_text (sheet, mapping);

      assert_row (rows, 0, "2:", WANTED (cases[i].wanted));
    }
}

static WbLogMapping *
guess_text (const char *sheet, WbLogHead **head)
{
  GFile *file = test_exchange_file (sheet, -1);
  g_autoptr (GError) error = NULL;
  WbLogMapping *mapping = wb_exchange_mapping_guess (file, NULL, head, NULL, &error);

  g_assert_no_error (error);
  test_exchange_drop (file);
  return mapping;
}

/* What one column, named so and holding that, is guessed to be: "" where it is kept, or passed over. */
static void
assert_guess (const char *name, const char *example, const char *target)
{
  g_autofree char *sheet = g_strdup_printf ("\"%s\",Other\n%s,y\n", name, example);
  g_autoptr (WbLogMapping) mapping = guess_text (sheet, NULL);
  const WbLogMappingColumn *column = mapping->columns->pdata[0];
  const char *found = column->target == NULL || strcmp (column->target, WB_LOG_TARGET_KEEP) == 0 ? "" : column->target;

  if (strcmp (found, target) != 0)
    g_error ("“%s” is read as “%s”, and “%s” was wanted", name, found, target);
}

/* Names near to a measure that are not one, and some that are. */
static void
test_names (void)
{
  static const struct { const char *name, *example, *target; } cases[] = {
    { "Smokeless", "yes", "" }, { "Soot-free", "yes", "" }, { "No smoke", "yes", "" }, { "Without mushroom", "yes", "" },
    { "Oven temp", "80", "" }, { "Temp", "55", "" }, { "Pool temp", "70", "" }, { "Pour temp", "65", "" }, { "Wax temp °C", "65", "" },
    { "Time to full pool", "3", "" }, { "FMP time (h)", "2.5", "" }, { "Pool %", "80", "" }, { "Melt point", "52", "" },
    { "Flame width", "8", "" }, { "Flame colour", "yellow", "" }, { "Cold throw", "3", "" }, { "Weight loss", "8", "" },
    { "Wax weight", "180", "" }, { "Mushroom (mm)", "2", "" }, { "Soot (1-10)", "3", "" }, { "Soot /10", "3", "" }, { "Humidity %", "55", "" },
    { "Outside diameter", "80", "" }, { "Wick height", "6", "" }, { "Jar height", "90", "" }, { "Crackle 2 h", "3", "" }, { "Burn quality", "2", "" },
    { "Throw 1-5", "3", "throw" }, { "Soot 0-4", "3", "soot" }, { "Smoke", "0", "smoke" }, { "Jar temp", "55", "vessel_c" },
    { "Temp of glass", "55", "vessel_c" }, { "Room temp", "21", "room_c" }, { "Melt pool", "50", "pool_mm" }, { "2 h", "50", "pool_mm" },
    { "2 h (cm)", "5", "pool_mm" }, { "No. of wicks", "2", "wick_count" }, { "Fragrance %", "8", "load_pct" }, { "Weight", "300", "mass_g" },
    { "Scent cold", "good", "" }, { "Scent hot", "good", "throw" }, { "Hot scent (1-5)", "3", "throw" }, { "Scent rating", "3", "" }, { "Scent", "Hay", "fragrance" },
  };
  g_autoptr (WbLogMapping) mapping = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    assert_guess (cases[i].name, cases[i].example, cases[i].target);
  /* "Yes" names no grade, and a lone x is a mark, not nothing. */
  mapping = guess_text ("Smoke,Soot,Note\nyes,yes,x\n", NULL);
  for (guint i = 0; i < 2; i++)
    g_assert_cmpuint (((const WbLogMappingColumn *) mapping->columns->pdata[i])->words->len, ==, 0);
  g_assert_null (mapping->nothing[0]);
}

static void
assert_column (const WbLogMapping *mapping, guint n, const char *target, double minute)
{
  const WbLogMappingColumn *column = mapping->columns->pdata[n];

  if (g_strcmp0 (column->target, target) != 0 || !(column->minute == minute || (isnan (column->minute) && isnan (minute))))
    g_error ("“%s” is read as “%s” at %g, and “%s” at %g was wanted", column->source, column->target, column->minute, target, minute);
}

/* A weight at the start is no weight at the end, and of two that may be it neither is. */
static void
test_weights (void)
{
  g_autoptr (WbLogMapping) both = guess_text ("Candle,Start weight,End weight,Pool 1 h,Pool 4 h\nA,220,190,30,50\n", NULL);
  g_autoptr (WbLogMapping) rows = guess_text ("Candle,Burn,Minutes,Pool,Weight before\nA,1,60,30,220\n", NULL);
  g_autoptr (WbLogMapping) rivals = guess_text ("Candle,Mass,Weight,Pool,Melt pool,Pool 1 h\nA,220,190,30,50,20\n", NULL);
  g_autoptr (WbLogMapping) own = guess_text ("sample,mass_g,Weight\nA,220,190\n", NULL);

  assert_column (both, 1, "mass_g", 0);
  assert_column (both, 2, "mass_g", NAN);
  assert_column (both, 4, "pool_mm", 240);
  assert_column (rows, 3, "pool_mm", NAN);
  assert_column (rows, 4, WB_LOG_TARGET_KEEP, NAN);
  for (guint i = 1; i < 5; i++)
    assert_column (rivals, i, WB_LOG_TARGET_KEEP, NAN);
  assert_column (rivals, 5, "pool_mm", 60);
  assert_column (own, 1, "mass_g", NAN);
  assert_column (own, 2, WB_LOG_TARGET_KEEP, NAN);
}

/* By the dates that can be read; where they can be read either way that is told. */
static void
test_date_order (void)
{
  /* misfit: line of the date that does not fit; 0: none. */
  static const struct { const char *dates[4]; WbLogDateOrder order; gboolean doubtful; guint64 misfit; } cases[] = {
    { { "3/1/2026", "3/25/2026", "TBD" }, WB_LOG_DATE_MONTH_FIRST, FALSE }, { { "3/1/2026", "25/3/2026", "?" }, WB_LOG_DATE_DAY_FIRST, FALSE },
    { { "3/1/2026", "3/4/2026" }, WB_LOG_DATE_DAY_FIRST, TRUE }, { { "3/3/2026" }, WB_LOG_DATE_DAY_FIRST, FALSE },
    { { "2026-03-01", "2 Mar 2026" }, WB_LOG_DATE_DAY_FIRST, FALSE }, { { "3/25/2026", "25/3/2026", "26/3/2026" }, WB_LOG_DATE_DAY_FIRST, FALSE, 2 },
    { { "3/14/2025", "3/16/2025", "13/16/2025" }, WB_LOG_DATE_MONTH_FIRST, FALSE, 4 }, { { "3/14/2025", "16/3/2025", "3/16/2025" }, WB_LOG_DATE_MONTH_FIRST, FALSE, 3 },
    { { "3/14/2025", "16/3/2025" }, WB_LOG_DATE_DAY_FIRST, TRUE },
    { { "none" }, WB_LOG_DATE_DAY_FIRST, FALSE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GString) sheet = g_string_new ("Date,Start,Candle\n");
      g_autoptr (WbLogHead) head = NULL;
      g_autoptr (WbLogMapping) mapping = NULL;

      for (guint d = 0; d < G_N_ELEMENTS (cases[i].dates) && cases[i].dates[d] != NULL; d++)
        g_string_append_printf (sheet, "%s,7:00 PM,C%u\n", cases[i].dates[d], d);
      mapping = guess_text (sheet->str, &head);
      if (mapping->date_order != cases[i].order || head->order_doubtful != cases[i].doubtful)
        g_error ("case %u: order %d, doubtful %d", i, mapping->date_order, head->order_doubtful);
      g_assert_cmpint (head->order, ==, mapping->date_order);
      g_assert_cmpuint (head->misfits->len, ==, cases[i].misfit > 0);
      if (cases[i].misfit > 0)
        {
          const WbLogMisfit *misfit = head->misfits->pdata[0];

          g_assert_cmpuint (misfit->line, ==, cases[i].misfit);
          g_assert_cmpstr (misfit->column, ==, "Date");
          g_assert_cmpstr (misfit->text, ==, cases[i].dates[cases[i].misfit - 2]);
        }
    }
}

/* Burns without a number and a date: one each, or for a person to say. */
static void
test_burns (void)
{
  static const struct { const char *sheet, *burn; } cases[] = {
    { "Candle,Minutes,Pool\nD1,60,30\nD1,120,40\nD1,60,35\nD1,180,55\n", NULL },
    { "Candle,Minutes,Pool\nD1,60,30\nD1,120,40\nD2,60,35\nD2,180,55\n", "1" },
    { "Candle,Minutes,Pool\nD1,60,30\nD2,60,35\nD1,120,40\nD2,180,55\n", "1" },
    { "Candle,Minutes,Pool\nD1,60,30\n,120,40\n,60,35\n", NULL },
    { "Candle,Minutes,Pool\nD1,60,30\nD1,60,35\n", NULL },
    { "Candle,Minutes,Pool\nD1,soon,30\n", NULL },
    { "Candle,Pool 1 h,Pool 2 h\nD1,30,40\nD2,35,55\n", "1" },
    { "Candle,Pool 1 h,Pool 2 h\nD1,30,40\nD1,35,55\n", NULL },
    { "Candle,Read on,Pool\nD1,2026-03-02 19:00,30\nD1,2026-03-02 22:00,55\n", "1" },
    { "Candle,Read on,Pool\nD1,2026-03-02 19:00,30\nD1,2026-03-04 19:00,55\n", NULL },
    { "Candle,Lit,Checked,Pool\nD1,19:00,20:00,30\nD1,19:00,19:30,55\n", NULL },
    { "Candle,Date,Lit,Checked,Pool\nD1,2026-03-02,19:00,20:00,30\nD1,2026-03-04,19:00,19:30,55\n", WB_LOG_COUNTED },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WbLogMapping) mapping = guess_text (cases[i].sheet, NULL);

      if (g_strcmp0 (wb_log_mapping_get_fixed (mapping, "burn"), cases[i].burn) != 0)
        g_error ("case %u: burn “%s”", i, wb_log_mapping_get_fixed (mapping, "burn"));
      /* When a burn was lit is never taken from what was read. */
      g_assert_null (wb_log_mapping_get_fixed (mapping, "lit_at"));
    }
}

/* Burns without numbers go by the time of their lightings, not by the order of the file. */
static void
test_counted (void)
{
  const char *const columns[] = { "Candle>sample", "Lit>lit_at", "Min>elapsed_min", "Pool>pool_mm", NULL };
  static const char *const burns[] = { "burn=3", "burn=1", "burn=1", "burn=2", "burn=3", "burn=1" };
  g_autoptr (WbLogMapping) mapping = new_mapping ("", columns);
  g_autofree char *rows = NULL;

  wb_log_mapping_set_fixed (mapping, "burn", WB_LOG_COUNTED);
  /* 17:00 UTC is 18:00 in Berlin, the same lighting as the row's before. */
  rows = dump_text ("Candle,Lit,Min,Pool\nA,2026-03-09 19:00,60,30\nA,2026-03-02 18:00,60,30\nA,2026-03-02T17:00Z,90,30\n"
                    "A,2026-03-04 19:00,60,30\nA,2026-03-09 19:00,120,40\nB,2026-03-09 19:00,60,30\n", mapping);
  for (guint i = 0; i < G_N_ELEMENTS (burns); i++)
    assert_row (rows, i, "", WANTED (burns[i]));
}

static void
assert_recorded (WbExchangeLogReader *reader, const char *wanted)
{
  g_autoptr (WbLogRow) row = wb_log_row_new ();
  g_autoptr (GPtrArray) remarks = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
  g_autoptr (GString) said = g_string_new (NULL);
  g_autoptr (GError) error = NULL;

  for (;;)
    {
      WbExchangeLogResult result = wb_exchange_log_reader_next (reader, row, remarks, &error);

      g_assert_no_error (error);
      if (result == WB_EXCHANGE_LOG_END)
        break;
      if (result == WB_EXCHANGE_LOG_ROW)
        g_string_append_printf (said, "%s%" G_GINT64_FORMAT " ", row->sample, row->burn);
      for (guint i = 0; i < remarks->len; i++)
        g_string_append_printf (said, "(%s: %s) ", ((const WbLogRemark *) remarks->pdata[i])->column, ((const WbLogRemark *) remarks->pdata[i])->rule);
      g_ptr_array_set_size (remarks, 0);
    }
  g_assert_cmpstr (said->str, ==, wanted);
}

/* A later sheet: counting goes on after the burns that the notebook has; one of the same minute is that burn, one before them is not known. */
static void
test_counted_on (void)
{
  const char *const columns[] = { "Candle>sample", "Lit>lit_at", "Min>elapsed_min", "Pool>pool_mm", NULL };
  g_autoptr (WbLogMapping) mapping = new_mapping ("", columns);
  g_autoptr (GFile) file = test_exchange_file ("Candle,Lit,Min,Pool\nA,2026-03-11 19:00,60,30\nA,2026-03-04 19:00,60,30\nA,2026-03-09 19:00,60,30\n"
                                               "A,2026-03-03 19:00,60,30\nB,2026-03-09 19:00,60,30\nC,2026-03-09 19:00,60,30\n", -1);
  g_autoptr (WbExchangeLogReader) reader = NULL;
  g_autoptr (GError) error = NULL;
  WbInstant lit;

  wb_log_mapping_set_fixed (mapping, "burn", WB_LOG_COUNTED);
  reader = wb_exchange_log_reader_new_mapped (file, mapping, NULL, &error);
  g_assert_no_error (error);
  g_assert_true (wb_exchange_log_reader_wants_recorded (reader));
  g_assert_true (wb_instant_parse ("2026-03-02T19:00:00+01:00", &lit, NULL));
  wb_exchange_log_reader_add_recorded (reader, "Autumn", "A", lit, 1);
  g_assert_true (wb_instant_parse ("2026-03-04T19:00:23+01:00", &lit, NULL));
  wb_exchange_log_reader_add_recorded (reader, "Autumn", "A", lit, 2);
  wb_exchange_log_reader_add_recorded (reader, "Autumn", "C", WB_INSTANT_NONE, 5);
  wb_exchange_log_reader_add_recorded (reader, "Spring", "B", lit, 7);
  assert_recorded (reader, "A4 (Burn (fixed value): the notebook has burns of this sample up to number 2: counting goes on after it, and this is burn 4) A2 A3 "
                           "(Lit: burns are counted by their lightings, and the notebook has one of this sample that was lit later, 4 Mar 2026, 19:00: "
                           "its number must be told, in a column of its own) "
                           "B1 C6 (Burn (fixed value): the notebook has burns of this sample up to number 5: counting goes on after it, and this is burn 6) ");
  test_exchange_drop (g_steal_pointer (&file));
}

/* Where the first row that is counted on is refused, for whatever it is, the next one that comes in says it, of hours across of the same line. */
static void
test_counted_on_refused (void)
{
#define GOES_ON "(Burn (fixed value): the notebook has burns of this sample up to number 1: counting goes on after it, and this is burn "
  static const struct { const char *columns[5], *rows; guint refused; const char *wanted; } cases[] = {
    { { "Candle>sample", "Lit>lit_at", "Min>elapsed_min", "Pool>pool_mm" },
      "Candle,Lit,Min,Pool\nA,2026-03-09 19:00,60,99999\nA,2026-03-11 19:00,soon,30\nA,2026-03-11 19:00,60,30\nA,2026-03-09 19:00,90,30\n",
      2, "A3 " GOES_ON "3) A2 " },
    { { "Candle>sample", "Lit>lit_at", "1 h>pool_mm@60", "2 h>pool_mm@120" },
      "Candle,Lit,1 h,2 h\nA,2026-03-09 19:00,99999,30\nA,2026-03-11 19:00,30,30\n", 1, "A2 " GOES_ON "2) A3 A3 " },
  };
  WbInstant lit;

  g_assert_true (wb_instant_parse ("2026-03-02T19:00:00+01:00", &lit, NULL));
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WbLogMapping) mapping = new_mapping ("", cases[i].columns);
      g_autoptr (GFile) file = test_exchange_file (cases[i].rows, -1);
      g_autoptr (WbExchangeLogReader) reader = NULL;
      g_autoptr (WbLogRow) row = wb_log_row_new ();
      g_autoptr (GPtrArray) remarks = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
      g_autoptr (GError) error = NULL;

      wb_log_mapping_set_fixed (mapping, "burn", WB_LOG_COUNTED);
      reader = wb_exchange_log_reader_new_mapped (file, mapping, NULL, &error);
      g_assert_no_error (error);
      g_assert_true (wb_exchange_log_reader_wants_recorded (reader));
      wb_exchange_log_reader_add_recorded (reader, "Autumn", "A", lit, 1);
      for (guint k = 0; k < cases[i].refused; k++)
        {
          g_assert_cmpint (wb_exchange_log_reader_next (reader, row, remarks, &error), ==, WB_EXCHANGE_LOG_REFUSED);
          g_assert_cmpuint (remarks->len, ==, k + 1);
        }
      assert_recorded (reader, cases[i].wanted);
      test_exchange_drop (g_steal_pointer (&file));
    }
#undef GOES_ON
}

/* A clock of 12 hours without am and pm, as the mapping says. */
static void
test_clock (void)
{
  static const struct { const char *clock, *day, *lit, *read, *wanted; } cases[] = {
    { "12-hour-pm", "2026-03-02", "7:05", "1:05", "lit_at=2026-03-02T19:05:00+01:00 elapsed_min=360" },
    { "12-hour-pm", "2026-03-02", "11:30", "12:15", "lit_at=2026-03-02T23:30:00+01:00 elapsed_min=45" },
    { "12-hour-am", "2026-03-02", "11:30", "12:15", "lit_at=2026-03-02T11:30:00+01:00 elapsed_min=45" },
    { "12-hour-am", "2026-03-02", "12:10", "1:00", "lit_at=2026-03-02T00:10:00+01:00 elapsed_min=50" },
    { "12-hour-pm", "2026-03-02", "12:10", "1:00", "lit_at=2026-03-02T12:10:00+01:00 elapsed_min=50" },
    { "12-hour-pm", "2026-03-02", "7:05", "19:35", "lit_at=2026-03-02T19:05:00+01:00 elapsed_min=30" },
    { "12-hour-am", "2026-03-02", "7:05 pm", "1:05", "lit_at=2026-03-02T19:05:00+01:00 elapsed_min=360" },
    { "12-hour-pm", "", "7:05", "1:05", "elapsed_min=360" },
    { "12-hour-pm", "2026-03-02", "7:05", "6:59", "elapsed_min=714" },
    { "12-hour-pm", "2026-03-02", "7:05", "6:59 pm", "refused Read" },
  };
  const char *const columns[] = { "Day>lit_on", "Lit>lit_time", "Read>read_time", "Candle>sample", "Pool>pool_mm", NULL };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *head = g_strdup_printf ("clock=%s\n", cases[i].clock);
      g_autoptr (WbLogMapping) mapping = new_mapping (head, *cases[i].day != '\0' ? columns : columns + 1);
      g_autofree char *sheet = g_strdup_printf ("Day,Lit,Read,Candle,Pool\n%s,%s,%s,D1,30\n", cases[i].day, cases[i].lit, cases[i].read);
      g_autofree char *rows = dump_text (sheet, mapping);

      assert_row (rows, 0, "2:", WANTED (cases[i].wanted));
    }
}

static gboolean
is_clock_asked (const char *sheet)
{
  g_autoptr (WbLogHead) head = NULL;
  g_autoptr (WbLogMapping) mapping = guess_text (sheet, &head);

  return head->clock_doubtful;
}

static void
test_clock_asked (void)
{
  g_assert_true (is_clock_asked ("Candle,Lit,Checked\nA,7:05,8:05\nA,7:05,12:30\n"));
  g_assert_false (is_clock_asked ("Candle,Lit,Checked\nA,7:05 pm,8:05 pm\n"));
  g_assert_false (is_clock_asked ("Candle,Lit,Checked\nA,7:05,8:05\nA,19:05,20:05\n"));
  g_assert_false (is_clock_asked ("Candle,Lit,Checked\nA,7:05,0:05\n"));
  g_assert_false (is_clock_asked ("Candle,Minutes\nA,60\n"));
}

/* Two rows of names: groups above, with gaps where cells are merged; units below; hours below. */
static void
test_two_rows (void)
{
  static const struct { const char *sheet; guint line, rows; const char *names; } cases[] = {
    { "Candle,1 h,,2 h,,Notes\n,Pool,Flame,Pool,Flame,\nA,30,20,40,22,fine\n", 1, 2, "Candle|1 h Pool|1 h Flame|2 h Pool|2 h Flame|Notes" },
    { "Tests of March,,,,\n\nCandle,Pool (mm),,Flame (mm),\n,1 h,2 h,1 h,2 h\nA,30,40,20,22\n", 3, 2,
      "Candle|Pool (mm) 1 h|Pool (mm) 2 h|Flame (mm) 1 h|Flame (mm) 2 h" },
    { "Candle,Pool,Temp\n,mm,°F\nA,30,140\n", 1, 2, "Candle|Pool mm|Temp °F" },
    { ",,1 hour,,2 hours,,\nCandle,Wick,Pool,Flame,Pool,Flame,Notes\nA,L-3,30,20,40,22,fine\n", 1, 2,
      "Candle|Wick|1 hour Pool|1 hour Flame|2 hours Pool|2 hours Flame|2 hours Notes" },
    { "Candle,Pool,Notes\nA,30,fine\n", 1, 1, "Candle|Pool|Notes" },
    { "Candle,\"Pool\nmm\",Notes\nA,30,fine\n", 1, 1, "Candle|Pool mm|Notes" },
    { "\"Candle\nno.\",\"Pool\nmm\",Notes\nA,30,fine\nB,31,\n", 1, 1, "Candle no.|Pool mm|Notes" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WbLogHead) head = NULL;
      g_autoptr (WbLogMapping) mapping = guess_text (cases[i].sheet, &head);
      g_autofree char *names = g_strjoinv ("|", head->names), *text = wb_log_mapping_to_text (mapping);
      g_autoptr (WbLogMapping) again = wb_log_mapping_from_text (text, NULL);

      if (mapping->header_line != cases[i].line || mapping->header_rows != cases[i].rows || strcmp (names, cases[i].names) != 0)
        g_error ("case %u: line %u, %u rows: %s", i, mapping->header_line, mapping->header_rows, names);
      g_assert_cmpuint (again->header_rows, ==, cases[i].rows);
    }
}

/* A weight of the last hour, and another without an hour, which is of the last too. */
static void
test_last_twice (void)
{
  const char *const columns[] = { "Candle>sample", "Mass 1 h>mass_g@60", "Mass 2 h>mass_g@120", "Mass>mass_g", NULL };
  g_autoptr (WbLogMapping) mapping = new_mapping ("", columns);
  g_autofree char *rows = dump_text ("Candle,Mass 1 h,Mass 2 h,Mass\nA,200,190,180\nB,200,190,190\nC,200,,180\nD,200,190,\n", mapping);

  assert_row (rows, 1, "2: refused Mass: of the last hour “Mass 2 h” says 190, and this column 180", WANTED ("Mass 2 h"));
  assert_row (rows, 3, "3: sample=B mass_g=190", WANTED ("elapsed_min=120"));
  assert_row (rows, 4, "4: refused Mass: of the last hour “Mass 1 h” says 200, and this column 180", WANTED (""));
  assert_row (rows, 6, "5: sample=D mass_g=190", WANTED ("elapsed_min=120"));
}

void
test_exchange_add_mapping_doubt (void)
{
  g_test_add_func ("/exchange/mapping-doubt/what-has-no-hour-does-not-vanish-beside-the-last", test_last_twice);
  g_test_add_func ("/exchange/mapping-doubt/burns-are-counted-in-the-order-of-lighting", test_counted);
  g_test_add_func ("/exchange/mapping-doubt/a-later-sheet-goes-on-counting", test_counted_on);
  g_test_add_func ("/exchange/mapping-doubt/counting-on-is-said-by-the-first-row-that-comes-in", test_counted_on_refused);
  g_test_add_func ("/exchange/mapping-doubt/a-row-that-ends-early-is-empty-there", test_short);
  g_test_add_func ("/exchange/mapping-doubt/a-load-without-a-name-is-told", test_unnamed);
  g_test_add_func ("/exchange/mapping-doubt/a-clock-of-12-hours-is-read-as-chosen", test_clock);
  g_test_add_func ("/exchange/mapping-doubt/a-clock-without-halves-is-asked-about", test_clock_asked);
  g_test_add_func ("/exchange/mapping-doubt/two-rows-of-names-are-joined", test_two_rows);
  g_test_add_func ("/exchange/mapping-doubt/a-shifted-row-is-refused", test_shifted);
  g_test_add_func ("/exchange/mapping-doubt/a-rule-in-another-unit-says-what-the-sheet-says", test_converted);
  g_test_add_func ("/exchange/mapping-doubt/blanks-around-a-sign-make-no-hour", test_blanks);
  g_test_add_func ("/exchange/mapping-doubt/a-refused-hour-says-what-goes-with-it", test_lost);
  g_test_add_func ("/exchange/mapping-doubt/names-near-to-a-measure-are-left-alone", test_names);
  g_test_add_func ("/exchange/mapping-doubt/of-two-weights-each-has-its-time-or-neither", test_weights);
  g_test_add_func ("/exchange/mapping-doubt/dates-in-two-orders-are-told", test_date_order);
  g_test_add_func ("/exchange/mapping-doubt/evenings-are-not-joined", test_burns);
  g_test_add_func ("/exchange/mapping-doubt/times-that-cannot-be-are-refused", test_times);
}
