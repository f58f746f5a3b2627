/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-report.h"

#include "test-craft.h"

#include <string.h>

/* The table on the first page: each cell of it says what is so of its vessel and scent, and no more. */

#define INNER_MM 76.2

static guint
burn_calmly (WbDataset *data,
             guint      sample,
             guint      burns)
{
  guint burn = 0;

  for (guint i = 0; i < burns; i++)
    burn = test_craft_calm_burn (data, sample, 76, 1.2, INNER_MM);
  return burn;
}

/* A vessel with one wick, and one sample of it: `code`. */
static guint
add_sample (WbDataset  *data,
            const char *vessel,
            const char *code)
{
  return test_craft_add_sample (data, test_craft_add_cell (data, vessel, INNER_MM, "Sedge", "S-1", 1, 0), code);
}

static void
set_aside (WbDataset *data,
           guint      sample)
{
  ((WbSample *) g_ptr_array_index (data->samples, sample))->set_aside_cause = WB_CAUSE_OTHER;
}

static void
see_in (WbDataset *data,
        guint      burn,
        WbColumn   column,
        double     value)
{
  guint first, n;

  wb_readings_get_burn_rows (data->readings, burn, &first, &n);
  test_craft_set (data, first + n - 1, column, value);
}

static void
turn_crack_off (WbDataset *data)
{
  for (guint i = 0; i < data->limits->len; i++)
    {
      WbLimit *limit = g_ptr_array_index (data->limits, i);

      limit->off = limit->off || limit->kind == WB_LIMIT_VESSEL_CRACK;
    }
}

static WbCraftAnswer *
ask (WbDataset *data)
{
  return wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 1, NULL, NULL);
}

/* The row of the first page's table that begins so, its cells parted by "; ". */
static char *
dup_row (const WbCraftAnswer *answer,
         const char          *vessel)
{
  g_autoptr (WbReportDocument) document = NULL;
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;
  WbReportOptions options;

  report_bench_options (&options);
  document = wb_report_test_new (answer, &options);
  text = wb_report_document_dup_page_text (document, 0);
  lines = g_strsplit (text, "\n", -1);
  for (guint i = 0; lines[i] != NULL; i++)
    if (g_str_has_prefix (lines[i], vessel) && strstr (lines[i], "; ") != NULL)
      return test_report_squeeze (lines[i]);
  g_test_message ("%s", text);
  return g_strdup ("");
}

static void
check_row (const WbCraftAnswer *answer,
           const char          *vessel,
           const char          *said)
{
  g_autofree char *row = dup_row (answer, vessel);

  g_test_message ("%s", row);
  g_assert_cmpstr (row, ==, said);
}

/* Nothing was burnt only where nothing was: a burn past its time, one that was set aside, one still alight were. */
static void
test_what_was_burnt (void)
{
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;
  guint sample, burn;

  add_sample (data, "Auk", "A-1");
  sample = add_sample (data, "Brant", "B-1");
  burn = burn_calmly (data, sample, 1);
  ((WbBurn *) g_ptr_array_index (data->burns, burn))->kind = WB_BURN_POWER;
  sample = add_sample (data, "Crane", "C-1");
  burn_calmly (data, sample, 2);
  set_aside (data, sample);
  sample = add_sample (data, "Dunlin", "D-1");
  burn = burn_calmly (data, sample, 1);
  ((WbBurn *) g_ptr_array_index (data->burns, burn))->session = 1;
  sample = add_sample (data, "Eider", "E-1");
  burn_calmly (data, sample, 2);
  answer = ask (data);
  check_row (answer, "Auk", "Auk, 76.2 mm · no fragrance; "
                            "Nothing can be said yet: no burn counts.; nothing was burnt; not tested; not signed");
  check_row (answer, "Brant", "Brant, 76.2 mm · no fragrance; "
                              "Nothing can be said yet: no burn counts.; no burn counts yet; none in what was read; not all was; not signed");
  check_row (answer, "Crane", "Crane, 76.2 mm · no fragrance; "
                              "Nothing can be said yet: no burn counts.; no burn counts yet; none in what was read; not all was; not signed");
  check_row (answer, "Dunlin", "Dunlin, 76.2 mm · no fragrance; "
                               "Nothing can be said yet: no burn counts.; no burn counts yet; none in what was read; not all was; not signed");
  check_row (answer, "Eider", "Eider, 76.2 mm · no fragrance; "
                              "S-1: does fairly well: 0.62 of 1; not recommended yet; on 1 sample and 2 burns; thirds not known; none in what was read; not all was; not signed");
}

/* A crack stands there though its limit is turned off, and a crossing though its sample was set aside. */
static void
test_what_is_on_record (void)
{
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;
  guint sample, burn;

  sample = add_sample (data, "Auk", "A-1");
  see_in (data, burn_calmly (data, sample, 2), WB_COLUMN_EVENT, WB_EVENT_VESSEL_CRACK);
  burn_calmly (data, add_sample (data, "Brant", "B-1"), 2);
  sample = test_craft_add_sample (data, data->cells->len - 1, "B-2");
  burn = burn_calmly (data, sample, 2);
  see_in (data, burn, WB_COLUMN_VESSEL_C, 84);
  see_in (data, burn, WB_COLUMN_FLAME_MM, 60);
  set_aside (data, sample);
  turn_crack_off (data);
  answer = ask (data);
  check_row (answer, "Auk", "Auk, 76.2 mm · no fragrance; "
                            "S-1: does fairly well: 0.65 of 1; not recommended yet; on 1 sample and 2 burns; thirds not known; S-1 (vessel cracked; its limit is turned off); not signed");
  check_row (answer, "Brant", "Brant, 76.2 mm · no fragrance; "
                              "S-1: does fairly well: 0.65 of 1; not recommended yet; on 1 sample and 2 burns; thirds not known; S-1 (flame height, by a sample set aside, not cleared; outside wall of the vessel, by a sample set aside, not cleared); not signed");
}

/* What was signed for a combination that was deleted may have been of any vessel: none is said to be unsigned. */
static void
test_chosen_is_gone (void)
{
  WbDataset *data = test_craft_data_new ();
  WbDecision *decision = wb_record_new (&wb_decision_type);
  g_autoptr (WbCraftAnswer) answer = NULL;
  g_autofree char *auk = NULL, *brant = NULL;

  burn_calmly (data, add_sample (data, "Auk", "A-1"), 2);
  burn_calmly (data, add_sample (data, "Brant", "B-1"), 2);
  decision->record.id = 700;
  decision->cell = 9999;
  decision->signed_by = g_strdup ("Ada Wren");
  g_ptr_array_add (data->decisions, decision);
  answer = ask (data);
  auk = dup_row (answer, "Auk");
  brant = dup_row (answer, "Brant");
  g_assert_true (g_str_has_suffix (auk, "; see below"));
  g_assert_true (g_str_has_suffix (brant, "; see below"));
}

/* Names with commas of their own are told apart, and "all" and "the other 7" are of those without a word of their own. */
static void
test_limits_of_a_combination (void)
{
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;
  g_autoptr (WbReportDocument) document = NULL;
  g_autoptr (GString) all = g_string_new (NULL);
  WbReportOptions options;
  guint sample;

  sample = add_sample (data, "Auk", "A-1");
  burn_calmly (data, sample, 2);
  sample = add_sample (data, "Brant", "B-1");
  see_in (data, burn_calmly (data, sample, 2), WB_COLUMN_FLAME_MM, 80);
  set_aside (data, sample);
  turn_crack_off (data);
  answer = ask (data);
  report_bench_options (&options);
  document = wb_report_test_new (answer, &options);
  for (guint i = 0; i < wb_report_document_get_n_pages (document); i++)
    {
      g_autofree char *page = wb_report_document_dup_page_text (document, i);

      g_string_append_printf (all, "%s\n", page);
    }
  g_test_message ("%s", all->str);
  g_assert_nonnull (strstr (all->str, "flame height, by a sample set aside, not cleared; flame height, house limit, by a sample set aside, not cleared; "));
}

void
test_glance_add (void)
{
  g_test_add_func ("/report/glance/nothing-was-burnt-only-where-nothing-was", test_what_was_burnt);
  g_test_add_func ("/report/glance/what-is-on-record-stands-there", test_what_is_on_record);
  g_test_add_func ("/report/glance/a-decision-whose-combination-is-gone", test_chosen_is_gone);
  g_test_add_func ("/report/glance/limits-of-a-combination-are-told-apart", test_limits_of_a_combination);
}
