/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-exchange.h"

#include "wb-exchange-error.h"
#include "wb-exchange-log-reader.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>
#include <sys/stat.h>

/* A row that is good, cell by cell; a case changes what it is about. */
static const char *const usual[][2] = {
  { "experiment", "Autumn trial" }, { "vessel", "Tern" }, { "inner_diameter_mm", "76.2" }, { "wax", "Marsh soy" },
  { "wick_series", "Sedge" }, { "wick_size", "S-3" }, { "load_pct", "8" }, { "sample", "S3-1" }, { "burn", "1" },
  { "elapsed_min", "60" },
};

typedef struct
{
  GFile               *file;
  WbExchangeLogReader *reader;
  WbLogRow            *row;
  GPtrArray           *remarks;
} Reading;

static Reading *
reading_new (const char *bytes, gssize length)
{
  Reading *reading = g_new0 (Reading, 1);
  g_autoptr (GError) error = NULL;

  reading->file = test_exchange_file (bytes, length);
  reading->reader = wb_exchange_log_reader_new (reading->file, NULL, &error);
  g_assert_no_error (error);
  reading->row = wb_log_row_new ();
  reading->remarks = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
  return reading;
}

static void
reading_free (Reading *reading)
{
  test_exchange_drop (reading->file);
  wb_exchange_log_reader_free (reading->reader);
  wb_log_row_free (reading->row);
  g_ptr_array_unref (reading->remarks);
  g_free (reading);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Reading, reading_free)

static WbExchangeLogResult
reading_next (Reading *reading)
{
  g_autoptr (GError) error = NULL;
  WbExchangeLogResult result;

  g_ptr_array_set_size (reading->remarks, 0);
  result = wb_exchange_log_reader_next (reading->reader, reading->row, reading->remarks, &error);
  g_assert_no_error (error);
  return result;
}

/* A file of one row: the usual cells, and those of "column=value|column=value" changed or added. */
static char *
one_row (const char *changes, const char *delimiter)
{
  g_autoptr (GString) header = g_string_new (NULL), row = g_string_new (NULL);
  g_auto (GStrv) parts = g_strsplit (changes, "|", -1);

  for (guint i = 0; i < G_N_ELEMENTS (usual); i++)
    {
      const char *value = usual[i][1];

      for (guint c = 0; parts[c] != NULL; c++)
        if (g_str_has_prefix (parts[c], usual[i][0]) && parts[c][strlen (usual[i][0])] == '=')
          {
            value = parts[c] + strlen (usual[i][0]) + 1;
            *parts[c] = '\1'; /* used */
          }
      g_string_append_printf (header, "%s%s", i > 0 ? delimiter : "", usual[i][0]);
      g_string_append_printf (row, "%s%s", i > 0 ? delimiter : "", value);
    }
  for (guint c = 0; parts[c] != NULL; c++)
    if (*parts[c] > 1)
      {
        char *equals = strchr (parts[c], '=');

        g_string_append_printf (header, "%s%.*s", delimiter, (int) (equals - parts[c]), parts[c]);
        g_string_append_printf (row, "%s%s", delimiter, equals + 1);
      }
  return g_strdup_printf ("%s\n%s\n", header->str, row->str);
}

static void
test_clean_sample (void)
{
  g_autoptr (GFile) file = test_exchange_data ("burn-log-clean.csv");
  g_autoptr (GError) error = NULL;
  g_autoptr (WbExchangeLogReader) reader = wb_exchange_log_reader_new (file, NULL, &error);
  g_autoptr (WbLogRow) row = wb_log_row_new ();
  g_autoptr (GPtrArray) remarks = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);

  g_assert_no_error (error);
  for (guint i = 0; i < 800; i++)
    {
      g_assert_cmpint (wb_exchange_log_reader_next (reader, row, remarks, &error), ==, WB_EXCHANGE_LOG_ROW);
      g_assert_cmpuint (row->line, ==, i + 2);
    }
  g_assert_cmpint (wb_exchange_log_reader_next (reader, row, remarks, &error), ==, WB_EXCHANGE_LOG_END);
  g_assert_cmpuint (remarks->len, ==, 0);
  g_assert_cmpuint (wb_exchange_log_reader_get_rows (reader), ==, 800);
  g_assert_cmpuint (wb_exchange_log_reader_get_offset (reader), ==, wb_exchange_log_reader_get_size (reader));
  g_assert_null (wb_exchange_log_reader_get_extra (reader)[0]);
}

static void
test_messy_sample (void)
{
  static const struct { guint64 line; const char *column, *also; } refused[] = {
    { 12, "inner_diameter_mm", NULL }, { 28, "pool_a_mm", "pool_b_mm" }, { 82, "event", NULL }, { 98, "elapsed_min", NULL },
    { 110, "soot", NULL }, { 140, "flame_mm", NULL }, { 144, "burn", NULL }, { 145, "load_pct", NULL },
  };
  g_autoptr (GFile) file = test_exchange_data ("burn-log-messy.csv");
  g_autoptr (GError) error = NULL;
  g_autoptr (WbExchangeLogReader) reader = wb_exchange_log_reader_new (file, NULL, &error);
  g_autoptr (WbLogRow) row = wb_log_row_new ();
  g_autoptr (GPtrArray) remarks = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
  WbExchangeLogResult result;
  guint good = 0;

  g_assert_no_error (error);
  while ((result = wb_exchange_log_reader_next (reader, row, remarks, &error)) != WB_EXCHANGE_LOG_END)
    {
      if (result == WB_EXCHANGE_LOG_ROW)
        good++;
      if (row->line == 2)
        g_assert_cmpstr (row->note, ==, "said \"tall, calm\"\nand then, flickered");
    }
  g_assert_cmpuint (good, ==, 142);
  g_assert_cmpuint (remarks->len, ==, G_N_ELEMENTS (refused));
  for (guint i = 0; i < remarks->len; i++)
    {
      const WbLogRemark *remark = g_ptr_array_index (remarks, i);

      g_assert_cmpuint (remark->line, ==, refused[i].line);
      g_assert_cmpstr (remark->column, ==, refused[i].column);
      g_assert_cmpstr (remark->also != NULL ? remark->also[0] : NULL, ==, refused[i].also);
    }
}

typedef struct
{
  const char *changes;
  const char *refused;  /* column that is named; NULL: the row is good */
  const char *also;     /* the others, comma separated */
} RowCase;

/* Ranges and words of the burn-log format's table of columns. */
static const RowCase row_cases[] = {
  { "sample=S3-1", NULL, NULL },
  { "sample=", "sample", NULL },
  { "sample=  ", "sample", NULL },
  { "sample=\"  \"", "sample", NULL },
  { "experiment=|wax=", "experiment", "wax" },
  { "inner_diameter_mm=20", NULL, NULL },
  { "inner_diameter_mm=19.9", "inner_diameter_mm", NULL },
  { "inner_diameter_mm=400", NULL, NULL },
  { "inner_diameter_mm=400.1", "inner_diameter_mm", NULL },
  { "inner_diameter_mm=76 mm", "inner_diameter_mm", NULL },
  { "inner_diameter_mm=\"76,2\"", "inner_diameter_mm", NULL },
  { "inner_diameter_mm=seventy", "inner_diameter_mm", NULL },
  { "load_pct=30", NULL, NULL },
  { "load_pct=30.5", "load_pct", NULL },
  { "load_pct=-1", "load_pct", NULL },
  { "load_pct=", "load_pct", NULL },
  { "load_basis=total", NULL, NULL },
  { "load_basis=Wax", "load_basis", NULL },
  { "burn=0", "burn", NULL },
  { "burn=1.5", "burn", NULL },
  { "burn=-3", "burn", NULL },
  { "burn=1.0", NULL, NULL },
  { "elapsed_min=0", NULL, NULL },
  { "elapsed_min=2880", NULL, NULL },
  { "elapsed_min=2881", "elapsed_min", NULL },
  { "elapsed_min=NaN", "elapsed_min", NULL },
  { "elapsed_min=inf", "elapsed_min", NULL },
  { "elapsed_min=1e400", "elapsed_min", NULL },
  { "elapsed_min=1:00", "elapsed_min", NULL },
  { "elapsed_min=0x10", "elapsed_min", NULL },
  { "mass_g=\"1,234\"", "mass_g", NULL },
  { "mass_g=1 234", "mass_g", NULL },
  { "mass_g=1'234", "mass_g", NULL },
  { "mass_g=1.234.567", "mass_g", NULL },
  { "mass_g=20000", NULL, NULL },
  { "mass_g=1e3", NULL, NULL },
  { "wick_step=0", "wick_step", NULL },
  { "wick_step=3", NULL, NULL },
  { "wick_count=13", "wick_count", NULL },
  { "wick_count=2|wick_number=2", NULL, NULL },
  { "wick_count=2|wick_number=3", "wick_number", NULL },
  { "wick_number=3", NULL, NULL }, /* how many it has may stand in another row */
  { "wick_number=1.5", "wick_number", NULL },
  { "throw_distance_m=51", "throw_distance_m", NULL },
  { "throw_blind=maybe", "throw_blind", NULL },
  { "wick_spacing_mm=4", "wick_spacing_mm", NULL },
  { "cure_days=401", "cure_days", NULL },
  { "wax_height_mm=4", "wax_height_mm", NULL },
  { "wick_offset_mm=101", "wick_offset_mm", NULL },
  { "trim_mm=0.5", "trim_mm", NULL },
  { "room_c=-10", NULL, NULL },
  { "room_c=-10.1", "room_c", NULL },
  { "room_c=51", "room_c", NULL },
  { "poured_on=2026-02-28", NULL, NULL },
  { "poured_on=2026-02-29", "poured_on", NULL },
  { "poured_on=2024-02-29", NULL, NULL },
  { "poured_on=2026-13-01", "poured_on", NULL },
  { "poured_on=28.02.2026", "poured_on", NULL },
  { "poured_on=02/28/2026", "poured_on", NULL },
  { "lit_at=2026-03-02T08:07:00+00:00", NULL, NULL },
  { "lit_at=2026-03-02T08:07Z", NULL, NULL },
  { "lit_at=2026-03-02T08:07:00", "lit_at", NULL },
  { "lit_at=2026-03-32T08:07:00+00:00", "lit_at", NULL },
  { "lit_at=2026-03-02T25:07:00+00:00", "lit_at", NULL },
  { "lit_at=yesterday", "lit_at", NULL },
  { "draught=slight", NULL, NULL },
  { "draught=windy", "draught", NULL },
  { "burn_kind=power", NULL, NULL },
  { "burn_kind=long", "burn_kind", NULL },
  { "flame_mm=tall", "flame_mm", NULL },
  { "flame_mm=401", "flame_mm", NULL },
  { "flame_state=dancing", NULL, NULL },
  { "flame_state=jumping", "flame_state", NULL },
  { "flame_datum=arch", NULL, NULL },
  { "vessel_c=401", "vessel_c", NULL },
  { "smoke=2", NULL, NULL },
  { "smoke=3", "smoke", NULL },
  { "soot=4", NULL, NULL },
  { "soot=5", "soot", NULL },
  { "soot=2.5", "soot", NULL },
  { "soot=light", "soot", NULL },
  { "mushroom=3", "mushroom", NULL },
  { "hang_up_share_pct=101", "hang_up_share_pct", NULL },
  { "throw=0", "throw", NULL },
  { "throw=5", NULL, NULL },
  { "alone=yes", NULL, NULL },
  { "alone=true", "alone", NULL },
  { "event=end_of_life", NULL, NULL },
  { "event=exploded", "event", NULL },
  { "event_s=86401", "event_s", NULL },
  { "pool_mm=76.2", NULL, NULL },
  { "pool_mm=full", NULL, NULL },
  { "pool_mm=\" full \"", NULL, NULL },
  { "pool_mm=Full", "pool_mm", NULL },
  { "pool_mm=-1", "pool_mm", NULL },
  { "pool_mm=80.1", "pool_mm", NULL },
  { "pool_a_mm=50", NULL, NULL },
  { "pool_b_mm=full", NULL, NULL },
  { "pool_a_mm=50|pool_b_mm=full", NULL, NULL },
  { "pool_a_mm=999|pool_b_mm=998", "pool_a_mm", "pool_b_mm" },
  { "pool_mm=50|pool_a_mm=50", "pool_mm", "pool_a_mm" },
  { "pool_b_mm=50|ring_3_mm=5|pool_mm=", "pool_b_mm", "ring_3_mm" },
  { "pool_mm=50|ring_12_mm=5|ring_9_mm=4", "pool_mm", "ring_12_mm,ring_9_mm" },
  { "ring_12_mm=38.1", NULL, NULL },
  { "ring_12_mm=38.2", "ring_12_mm", NULL },
  { "inner_diameter_mm=9|pool_mm=50", "inner_diameter_mm", NULL },
  { "soot=9|event=bang|pool_mm=999", "soot", "event,pool_mm" },
  { "wick_size=\327\224\327\231|vessel=\360\237\225\257\357\270\217 pot", NULL, NULL },
};

static void
test_rows (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (row_cases); i++)
    {
      g_autofree char *bytes = one_row (row_cases[i].changes, ",");
      g_autoptr (Reading) reading = reading_new (bytes, -1);
      WbExchangeLogResult result = reading_next (reading);

      g_test_message ("case: %s", row_cases[i].changes);
      g_assert_cmpint (result, ==, row_cases[i].refused != NULL ? WB_EXCHANGE_LOG_REFUSED : WB_EXCHANGE_LOG_ROW);
      g_assert_cmpuint (reading->remarks->len, ==, row_cases[i].refused != NULL);
      if (row_cases[i].refused != NULL)
        {
          const WbLogRemark *remark = g_ptr_array_index (reading->remarks, 0);
          g_autofree char *also = remark->also != NULL ? g_strjoinv (",", remark->also) : NULL;

          g_assert_cmpuint (remark->line, ==, 2);
          g_assert_cmpstr (remark->column, ==, row_cases[i].refused);
          g_assert_cmpstr (also, ==, row_cases[i].also);
          g_assert_cmpuint (strlen (remark->rule), >, 5);
        }
      g_assert_cmpint (reading_next (reading), ==, WB_EXCHANGE_LOG_END);
    }
}

static void
test_values (void)
{
  g_autofree char *bytes =
    one_row ("wick_step=3|wick_count=2|load_basis=total|poured_on=2026-02-14|lit_at=2026-03-02T08:07:00+01:00|pool_a_mm=full|"
             "pool_b_mm=70.5|soot=0|alone=yes|event=relit|throw_room=hall|note=calm|set_aside=chipped|burn_kind=short|"
             "flame_state=starving|mass_g=|dye=  Moss |wick_number=2|throw_distance_m=2.5|throw_blind=no",
             ",");
  g_autoptr (Reading) reading = reading_new (bytes, -1);
  WbLogRow *row = reading->row;

  g_assert_cmpint (reading_next (reading), ==, WB_EXCHANGE_LOG_ROW);
  g_assert_cmpstr (row->experiment, ==, "Autumn trial");
  g_assert_cmpstr (row->dye, ==, "Moss");
  g_assert_null (row->additive);
  g_assert_cmpfloat (row->inner_diameter_mm, ==, 76.2);
  g_assert_cmpint (row->wick_step, ==, 3);
  g_assert_cmpint (row->wick_count, ==, 2);
  g_assert_cmpint (row->load_basis, ==, WB_BASIS_TOTAL);
  g_assert_cmpint (row->burn_kind, ==, WB_BURN_SHORT);
  g_assert_cmpint (row->poured_on, ==, 20498); /* date -d 2026-02-14 +%s, over 86400 */
  g_assert_true (row->lit_at.known);
  g_assert_cmpint (row->lit_at.offset_s, ==, 3600);
  g_assert_cmpint (row->lit_at.utc_us / G_USEC_PER_SEC, ==, 1772435220); /* date -d 2026-03-02T07:07Z +%s */
  g_assert_cmpfloat (row->values[WB_COLUMN_POOL_FULL], ==, 2);
  g_assert_true (isnan (row->values[WB_COLUMN_POOL_A_MM]));
  g_assert_cmpfloat (row->values[WB_COLUMN_POOL_B_MM], ==, 70.5);
  g_assert_cmpfloat (row->values[WB_COLUMN_SOOT], ==, 0);
  g_assert_cmpfloat (row->values[WB_COLUMN_ALONE], ==, 1);
  g_assert_cmpfloat (row->values[WB_COLUMN_EVENT], ==, WB_EVENT_RELIT);
  g_assert_cmpfloat (row->values[WB_COLUMN_FLAME_STATE], ==, WB_FLAME_STARVING);
  g_assert_cmpfloat (row->values[WB_COLUMN_WICK_NUMBER], ==, 2);
  g_assert_cmpfloat (row->values[WB_COLUMN_THROW_DISTANCE_M], ==, 2.5);
  g_assert_cmpfloat (row->values[WB_COLUMN_THROW_BLIND], ==, 0);
  g_assert_true (isnan (row->values[WB_COLUMN_MASS_G]));
  g_assert_true (isnan (row->values[WB_COLUMN_FLAME_DATUM]));
  g_assert_cmpstr (row->throw_room, ==, "hall");
  g_assert_cmpstr (row->note, ==, "calm");
  g_assert_cmpstr (row->set_aside, ==, "chipped");
}

/* What a row says must not stay for the next that says nothing. */
static void
test_rows_do_not_mix (void)
{
  g_autoptr (Reading) reading = reading_new (
    "experiment,vessel,inner_diameter_mm,wax,wick_series,wick_size,load_pct,sample,burn,elapsed_min,note,fragrance,soot,ph\n"
    "E,V,76,W,S,1,8,A,1,0,first,Moss,2,7\n"
    "E,V,76,W,S,1,8,A,1,60,,,,\n"
    "E,V,76,W,S,1,8,A,1,120,third,,x,\n"
    "E,V,76,W,S,1,8,A,1,180,,,,8\n",
    -1);

  g_assert_cmpint (reading_next (reading), ==, WB_EXCHANGE_LOG_ROW);
  g_assert_cmpstr (reading->row->extra[0], ==, "7");
  g_assert_cmpint (reading_next (reading), ==, WB_EXCHANGE_LOG_ROW);
  g_assert_null (reading->row->note);
  g_assert_null (reading->row->fragrance);
  g_assert_true (isnan (reading->row->values[WB_COLUMN_SOOT]));
  g_assert_cmpstr (reading->row->extra[0], ==, "");
  g_assert_cmpint (reading_next (reading), ==, WB_EXCHANGE_LOG_REFUSED);
  g_assert_cmpint (reading_next (reading), ==, WB_EXCHANGE_LOG_ROW);
  g_assert_null (reading->row->note);
  g_assert_cmpstr (reading->row->extra[0], ==, "8");
  g_assert_cmpstr (wb_exchange_log_reader_get_extra (reading->reader)[0], ==, "ph");
}

static void
test_above_the_wall (void)
{
  g_autofree char *at_five = one_row ("pool_mm=80.01", ","), *two = one_row ("pool_a_mm=77|pool_b_mm=78", ",");
  g_autofree char *over = one_row ("pool_mm=80.1", ",");
  g_autoptr (Reading) reading = reading_new (at_five, -1), both = reading_new (two, -1), above = reading_new (over, -1);
  WbPool pool;

  g_assert_cmpint (reading_next (reading), ==, WB_EXCHANGE_LOG_ROW);
  g_assert_cmpuint (reading->remarks->len, ==, 1);
  g_assert_cmpstr (((WbLogRemark *) reading->remarks->pdata[0])->column, ==, "pool_mm");
  g_assert_true (wb_pool_from_values (reading->row->values, 76.2, &pool));
  g_assert_true (pool.at_wall);

  g_assert_cmpint (reading_next (both), ==, WB_EXCHANGE_LOG_ROW);
  g_assert_cmpuint (both->remarks->len, ==, 2);

  /* what is refused is told the rule by which 80.01 came in */
  g_assert_cmpint (reading_next (above), ==, WB_EXCHANGE_LOG_REFUSED);
  g_assert_cmpstr (((WbLogRemark *) above->remarks->pdata[0])->rule, ==,
                   "“80.1”: 0 to 76.2, up to 5 % above that with a warning, or the word full, is accepted");
}

static void
test_long_names (void)
{
  g_autofree char *at_most = g_strnfill (200, 'n'), *too_long = g_strnfill (10000, 'n');
  g_autoptr (GString) umlauts = g_string_new (NULL);

  for (guint i = 0; i < 200; i++)
    g_string_append (umlauts, "\303\274");

  const struct { const char *column, *name; gboolean good; } cases[] = {
    { "sample", at_most, TRUE }, { "sample", too_long, FALSE }, { "sample", umlauts->str, TRUE },
    { "note", too_long, TRUE }, { "fragrance", too_long, FALSE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *changes = g_strdup_printf ("%s=%s", cases[i].column, cases[i].name);
      g_autofree char *bytes = one_row (changes, ",");
      g_autoptr (Reading) reading = reading_new (bytes, -1);

      g_assert_cmpint (reading_next (reading), ==, cases[i].good ? WB_EXCHANGE_LOG_ROW : WB_EXCHANGE_LOG_REFUSED);
      if (!cases[i].good)
        {
          const WbLogRemark *remark = g_ptr_array_index (reading->remarks, 0);

          g_assert_cmpstr (remark->column, ==, cases[i].column);
          g_assert_nonnull (strstr (remark->rule, "10000"));
          g_assert_cmpuint (strlen (remark->rule), <, 200);
        }
    }
}

static void
test_decimal_signs (void)
{
  static const struct { const char *changes, *delimiter; char decimal; const char *refused; } signs[] = {
    { "inner_diameter_mm=76,2|room_c=21,5", ";", ',', NULL },
    { "inner_diameter_mm=76.2|room_c=21.5", ";", '.', NULL },
    { "inner_diameter_mm=76,2|room_c=21.5", ";", ',', "room_c" },
    { "inner_diameter_mm=76.2|room_c=21,5", "\t", '.', "room_c" },
    { "inner_diameter_mm=76|note=1,5|room_c=21.5", ";", '.', NULL },
    { "inner_diameter_mm=76", ";", '.', NULL },
    { "inner_diameter_mm=76,2|mass_g=1.234,5", ";", ',', "mass_g" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (signs); i++)
    {
      g_autofree char *bytes = one_row (signs[i].changes, signs[i].delimiter);
      g_autoptr (Reading) reading = reading_new (bytes, -1);

      g_test_message ("case: %s", signs[i].changes);
      g_assert_cmpint (wb_exchange_log_reader_get_delimiter (reading->reader), ==, signs[i].delimiter[0]);
      g_assert_cmpint (wb_exchange_log_reader_get_decimal (reading->reader), ==, signs[i].decimal);
      g_assert_cmpint (reading_next (reading), ==, signs[i].refused != NULL ? WB_EXCHANGE_LOG_REFUSED : WB_EXCHANGE_LOG_ROW);
      if (signs[i].refused != NULL)
        g_assert_cmpstr (((WbLogRemark *) reading->remarks->pdata[0])->column, ==, signs[i].refused);
    }
}

static void
test_headers (void)
{
#define REQUIRED "experiment,vessel,inner_diameter_mm,wax,wick_series,wick_size,load_pct,sample,burn,elapsed_min"
  static const struct { const char *name, *bytes; int code; const char *named; } headers[] = {
    { "empty file", "", WB_EXCHANGE_ERROR_FORMAT, "empty" },
    { "blank file", "\n\n  \n", WB_EXCHANGE_ERROR_FORMAT, "empty" },
    { "missing", "experiment,vessel,wax,wick_series,wick_size,load_pct,sample,burn,elapsed_min\n", WB_EXCHANGE_ERROR_HEADER,
      "inner_diameter_mm is missing" },
    { "two missing", "vessel,inner_diameter_mm,wax,wick_series,wick_size,load_pct,sample,burn\n", WB_EXCHANGE_ERROR_HEADER,
      "experiment is missing; the column elapsed_min is missing" },
    { "doubled", REQUIRED ",soot,soot\n", WB_EXCHANGE_ERROR_HEADER, "soot stands twice" },
    { "unknown doubled", REQUIRED ",ph,ph\n", WB_EXCHANGE_ERROR_HEADER, "ph stands twice" },
    { "doubled by blanks", REQUIRED ",soot,\" soot \"\n", WB_EXCHANGE_ERROR_HEADER, "soot stands twice" },
    { "no name", REQUIRED ",,soot\n", WB_EXCHANGE_ERROR_HEADER, "column 11 has no name" },
    { "blank name", REQUIRED ",\"  \"\n", WB_EXCHANGE_ERROR_HEADER, "column 11 has no name" },
    { "no header at all", "1,2,3\n4,5,6\n", WB_EXCHANGE_ERROR_HEADER, "experiment is missing" },
    { "not UTF-8", REQUIRED ",gr\366\337e\n", WB_EXCHANGE_ERROR_FORMAT, "line 1" },
    { "UTF-16", "\377\376e", WB_EXCHANGE_ERROR_FORMAT, "UTF-16: save it as UTF-8" },
    { "broken quoting", "\"experiment\"x,vessel\n", WB_EXCHANGE_ERROR_FORMAT, "line 1" },
    { "not closed", "\n\"experiment,vessel\na,b\n", WB_EXCHANGE_ERROR_FORMAT, "line 2" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (headers); i++)
    {
      GFile *file = test_exchange_file (headers[i].bytes, -1);
      g_autoptr (GError) error = NULL;

      g_test_message ("case: %s", headers[i].name);
      g_assert_null (wb_exchange_log_reader_new (file, NULL, &error));
      g_assert_error (error, WB_EXCHANGE_ERROR, headers[i].code);
      g_assert_nonnull (strstr (error->message, headers[i].named));
      test_exchange_drop (file);
    }
}

static void
test_long_header (void)
{
  const guint lengths[] = { WB_NAME_MAXIMUM, WB_NAME_MAXIMUM + 1 };

  for (guint i = 0; i < G_N_ELEMENTS (lengths); i++)
    {
      g_autofree char *name = g_strnfill (lengths[i], 'x');
      g_autofree char *bytes = g_strconcat (REQUIRED, ",", name, "\n", NULL);
      GFile *file = test_exchange_file (bytes, -1);
      g_autoptr (GError) error = NULL;
      g_autoptr (WbExchangeLogReader) reader = wb_exchange_log_reader_new (file, NULL, &error);

      g_assert_true ((reader != NULL) == (i == 0));
      if (i == 1)
        {
          g_assert_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_HEADER);
          g_assert_nonnull (strstr (error->message, "column 11 has a name of 201 characters"));
          g_assert_cmpuint (strlen (error->message), <, 200);
        }
      test_exchange_drop (file);
    }
}

static void
test_header_in_any_order (void)
{
  g_autoptr (Reading) reading = reading_new (
    "elapsed_min,burn,sample,load_pct,wick_size,wick_series,wax,inner_diameter_mm,vessel,\"my, column\",experiment\n"
    "60,2,A,8,S-3,Sedge,Marsh soy,76,Tern,x,Trial\n",
    -1);

  g_assert_cmpint (reading_next (reading), ==, WB_EXCHANGE_LOG_ROW);
  g_assert_cmpstr (reading->row->experiment, ==, "Trial");
  g_assert_cmpint (reading->row->burn, ==, 2);
  g_assert_cmpstr (wb_exchange_log_reader_get_extra (reading->reader)[0], ==, "my, column");
}

static void
test_broken_rows (void)
{
  static const char bytes[] =
    REQUIRED ",note\n"
    "E,V,76,W,S,1,8,A,1,0,good\n"
    "E,V,76,W,S,1,8,A,1\n"
    "E,V,76,W,S,1,8,A,1,0,good,more\n"
    "E,V,76,W,S,1,8,A,1,60,\"two\nlines\"\n"
    ",,,,,,,,,,\n"
    "E,V,76,W,S,1,8,A,1,120,caf\351\n"
    "E,V,76,W,S,1,8,A\0,1,120,\n"
    "E,V,76,W,S,1,8,A,1,120,\"bad\"quote\n"
    "E,V,76,W,S,1,8,A,1,180,\"open\n"
    "E,V,76,W,S,1,8,A,1,240,last\n";
  static const struct { WbExchangeLogResult result; guint64 line; const char *column; } told[] = {
    { WB_EXCHANGE_LOG_ROW, 2, NULL },         { WB_EXCHANGE_LOG_REFUSED, 3, "elapsed_min" },
    { WB_EXCHANGE_LOG_REFUSED, 4, "" },       { WB_EXCHANGE_LOG_ROW, 5, NULL },
    { WB_EXCHANGE_LOG_REFUSED, 8, "note" },   { WB_EXCHANGE_LOG_REFUSED, 9, "sample" },
    { WB_EXCHANGE_LOG_REFUSED, 10, "" },      { WB_EXCHANGE_LOG_REFUSED, 11, "" },
    { WB_EXCHANGE_LOG_ROW, 12, NULL },
  };
  g_autoptr (Reading) reading = reading_new (bytes, sizeof bytes - 1);

  for (guint i = 0; i < G_N_ELEMENTS (told); i++)
    {
      g_assert_cmpint (reading_next (reading), ==, told[i].result);
      g_assert_cmpuint (reading->row->line, ==, told[i].line);
      if (told[i].column != NULL)
        g_assert_cmpstr (((WbLogRemark *) reading->remarks->pdata[0])->column, ==, told[i].column);
    }
  g_assert_cmpint (reading_next (reading), ==, WB_EXCHANGE_LOG_END);
}

static void
test_guards (void)
{
  static const struct { const char *cell, *text; } guards[] = {
    { "=1+1", "=1+1" },   { "'=1+1", "=1+1" },  { "''=1+1", "'=1+1" }, { "'plain", "'plain" },
    { "'-5", "-5" },      { "'+5", "+5" },      { "'@x", "@x" },       { "''", "''" },
    { "rock 'n'", "rock 'n'" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (guards); i++)
    {
      g_autofree char *changes = g_strdup_printf ("note=%s|mine=%s", guards[i].cell, guards[i].cell);
      g_autofree char *bytes = one_row (changes, ",");
      g_autoptr (Reading) reading = reading_new (bytes, -1);

      g_assert_cmpint (reading_next (reading), ==, WB_EXCHANGE_LOG_ROW);
      g_assert_cmpstr (reading->row->note, ==, guards[i].text);
      g_assert_cmpstr (reading->row->extra[0], ==, guards[i].text);
    }
}

/* Unicode Standard Annex 15: "e" with a combining acute accent and "é" are canonically equivalent. */
static void
test_names_have_one_spelling (void)
{
  g_autofree char *bytes = one_row ("vessel=Caf\145\314\201", ",");
  g_autoptr (Reading) reading = reading_new (bytes, -1);

  g_assert_cmpint (reading_next (reading), ==, WB_EXCHANGE_LOG_ROW);
  g_assert_cmpstr (reading->row->vessel, ==, "Caf\303\251");
}

static void
test_no_such_file (void)
{
  g_autoptr (GFile) file = g_file_new_for_path ("/nonexistent/log.csv");
  g_autoptr (GFile) folder = g_file_new_for_path (g_get_tmp_dir ());
  g_autoptr (GError) error = NULL;

  g_assert_null (wb_exchange_log_reader_new (file, NULL, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_NOT_FOUND);
  g_assert_cmpstr (error->message, ==, "There is no file “/nonexistent/log.csv”.");
  g_clear_error (&error);
  g_assert_null (wb_exchange_log_reader_new (folder, NULL, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_NOT_REGULAR_FILE);
}

/* It would be waited for until somebody writes, and be empty the second time. */
static void
test_a_pipe (void)
{
  g_autofree char *folder = g_dir_make_tmp ("wickbench-test-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "log.csv", NULL);
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (mkfifo (path, 0600), ==, 0);
  g_assert_null (wb_exchange_log_reader_new (file, NULL, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_NOT_REGULAR_FILE);
  g_assert_nonnull (strstr (error->message, path));
  g_unlink (path);
  g_rmdir (folder);
}

/* As they came: blanks too, which names are trimmed of. */
static void
test_kept_cells_keep_their_blanks (void)
{
  g_autofree char *bytes = one_row ("sample= A 1 |mine=  x |yours=  |load_pct= 8 |pool_mm= full |event= snuffed ", ",");
  g_autoptr (Reading) reading = reading_new (bytes, -1);

  g_assert_cmpint (reading_next (reading), ==, WB_EXCHANGE_LOG_ROW);
  g_assert_cmpstr (reading->row->sample, ==, "A 1");
  g_assert_cmpfloat (reading->row->load_pct, ==, 8);
  g_assert_cmpfloat (reading->row->values[WB_COLUMN_POOL_FULL], ==, 1);
  g_assert_cmpfloat (reading->row->values[WB_COLUMN_EVENT], ==, WB_EVENT_SNUFFED);
  g_assert_cmpstr (reading->row->extra[0], ==, "  x ");
  g_assert_cmpstr (reading->row->extra[1], ==, "  ");
}

/* Blank lines and rows of nothing but delimiters and blanks are no rows. */
static void
test_empty_rows (void)
{
  g_autofree char *one = one_row ("sample=A", ";");
  g_autofree char *bytes = g_strconcat ("\r\n\n", one, ";;;;;;;;;\n; ;\t;;;\" \";;;;\n\n", NULL);
  g_autoptr (Reading) reading = reading_new (bytes, -1);

  g_assert_cmpint (wb_exchange_log_reader_get_delimiter (reading->reader), ==, ';');
  g_assert_cmpint (reading_next (reading), ==, WB_EXCHANGE_LOG_ROW);
  g_assert_cmpuint (reading->row->line, ==, 4);
  g_assert_cmpint (reading_next (reading), ==, WB_EXCHANGE_LOG_END);
  g_assert_cmpuint (wb_exchange_log_reader_get_rows (reading->reader), ==, 1);
}

static void
test_a_changed_file_is_told (void)
{
  g_autofree char *bytes = one_row ("sample=A", ",");
  g_autoptr (Reading) first = reading_new (bytes, -1);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbExchangeLogReader) same = wb_exchange_log_reader_new (first->file, NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpstr (wb_exchange_log_reader_get_etag (first->reader), ==, wb_exchange_log_reader_get_etag (same));

  g_autofree char *longer = one_row ("sample=AB", ",");

  g_assert_true (g_file_replace_contents (first->file, longer, strlen (longer), NULL, FALSE, 0, NULL, NULL, &error));

  g_autoptr (WbExchangeLogReader) changed = wb_exchange_log_reader_new (first->file, NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpstr (wb_exchange_log_reader_get_etag (first->reader), !=, wb_exchange_log_reader_get_etag (changed));
}

/* A good file with bytes of it changed at random: every record is told as good or refused, never a crash. */
static void
test_random_damage (void)
{
  g_autoptr (GFile) sample = test_exchange_data ("burn-log-messy.csv");
  g_autoptr (GRand) rand = g_rand_new_with_seed (71);
  g_autofree char *bytes = NULL;
  gsize length;

  g_assert_true (g_file_load_contents (sample, NULL, &bytes, &length, NULL, NULL));
  for (guint turn = 0; turn < 80; turn++)
    {
      g_autofree char *damaged = g_memdup2 (bytes, length);

      for (guint i = 0; i < 40; i++)
        damaged[g_rand_int_range (rand, turn % 4 == 0 ? 0 : 400, (gint32) length)] = (char) g_rand_int_range (rand, 0, 256);

      GFile *file = test_exchange_file (damaged, length);
      g_autoptr (GError) error = NULL;
      g_autoptr (WbExchangeLogReader) reader = wb_exchange_log_reader_new (file, NULL, &error);
      g_autoptr (WbLogRow) row = wb_log_row_new ();
      g_autoptr (GPtrArray) remarks = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
      WbExchangeLogResult result = reader != NULL ? WB_EXCHANGE_LOG_ROW : WB_EXCHANGE_LOG_END;

      g_assert_true ((reader == NULL) == (error != NULL));
      while (result != WB_EXCHANGE_LOG_END)
        {
          guint before = remarks->len;

          result = wb_exchange_log_reader_next (reader, row, remarks, &error);
          g_assert_no_error (error);
          g_assert_true (result != WB_EXCHANGE_LOG_REFUSED || remarks->len == before + 1);
        }
      test_exchange_drop (file);
    }
}

void
test_exchange_add_log_reader (void)
{
  g_test_add_func ("/exchange/log-reader/the-clean-sample-comes-in-whole", test_clean_sample);
  g_test_add_func ("/exchange/log-reader/eight-records-of-the-messy-sample-are-refused", test_messy_sample);
  g_test_add_func ("/exchange/log-reader/each-column-has-its-rules", test_rows);
  g_test_add_func ("/exchange/log-reader/cells-become-members-of-the-row", test_values);
  g_test_add_func ("/exchange/log-reader/a-row-says-nothing-for-the-next", test_rows_do_not_mix);
  g_test_add_func ("/exchange/log-reader/five-per-cent-above-the-wall-is-warned-about", test_above_the_wall);
  g_test_add_func ("/exchange/log-reader/names-of-10000-characters-are-refused", test_long_names);
  g_test_add_func ("/exchange/log-reader/the-first-number-tells-the-decimal-sign", test_decimal_signs);
  g_test_add_func ("/exchange/log-reader/a-wrong-header-is-refused-by-name", test_headers);
  g_test_add_func ("/exchange/log-reader/columns-come-in-any-order", test_header_in_any_order);
  g_test_add_func ("/exchange/log-reader/rows-around-a-broken-one-come-in", test_broken_rows);
  g_test_add_func ("/exchange/log-reader/one-apostrophe-is-taken-off", test_guards);
  g_test_add_func ("/exchange/log-reader/names-have-one-spelling", test_names_have_one_spelling);
  g_test_add_func ("/exchange/log-reader/a-missing-file-is-told", test_no_such_file);
  g_test_add_func ("/exchange/log-reader/a-pipe-is-no-file", test_a_pipe);
  g_test_add_func ("/exchange/log-reader/kept-cells-keep-their-blanks", test_kept_cells_keep_their_blanks);
  g_test_add_func ("/exchange/log-reader/empty-rows-are-passed-over", test_empty_rows);
  g_test_add_func ("/exchange/log-reader/a-long-name-of-a-column-is-refused", test_long_header);
  g_test_add_func ("/exchange/log-reader/a-changed-file-has-another-tag", test_a_changed_file_is_told);
  g_test_add_func ("/exchange/log-reader/random-damage-is-refused-row-by-row", test_random_damage);
}
