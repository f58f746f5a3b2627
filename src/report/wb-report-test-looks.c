/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-test-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* What was seen of samples that did not burn. */

enum { CODE, SEEN, FROSTING, WET_SPOTS, SINK_HOLE, SWEATING, COLD_THROW, NOTE, N_COLUMNS };

/* Fields of the record behind the first two columns, in their order. */
static const char *const fields[] = { "frosting", "wet_spots", "sink_hole", "sweating", "cold_throw", "note" };

static const WbFieldSpec *
find_field (int column)
{
  return wb_record_type_find_field (&wb_inspection_type, fields[column - FROSTING]);
}

/* By the words of the scale; those of the throw ratings are one for hot and cold. */
static const char *
get_word (const WbWord *words,
          int           value)
{
  return value >= 0 ? g_dgettext (GETTEXT_PACKAGE, words[value].label) : WB_REPORT_NONE;
}

static void
add_look (const WbReportTest *test,
          WbReportTable      *table,
          guint               index)
{
  const WbInspection *look = g_ptr_array_index (test->data->inspections, index);
  g_autofree char *code = wb_report_test_dup_code (test, g_array_index (test->data->inspection_sample, guint, index));
  g_autofree char *seen = wb_instant_format_short (look->seen_at);
  const char *cells[N_COLUMNS] = { [CODE] = code, [SEEN] = seen, [NOTE] = look->note != NULL ? look->note : "" };

  for (int column = FROSTING; column <= SWEATING; column++)
    cells[column] = get_word (find_field (column)->words, (int) wb_record_get_integer (look, find_field (column)));
  cells[COLD_THROW] = get_word (wb_throw_words, isnan (look->cold_throw) ? -1 : (int) lround (look->cold_throw));
  wb_report_table_add_row (table, cells, FALSE);
}

void
wb_report_test_add_looks (const WbReportTest *test)
{
  static const WbReportAlign aligns[N_COLUMNS] = { WB_REPORT_LEFT };
  static const double shares[N_COLUMNS] = { 1, 1.5, 1, 1, 1, 1, 1, 2 };
  const char *heads[N_COLUMNS] = { _("Sample"), _("Seen at") };
  WbReportTable *table;

  if (test->data->inspections->len == 0)
    return;
  for (int column = FROSTING; column < N_COLUMNS; column++)
    heads[column] = g_dgettext (GETTEXT_PACKAGE, find_field (column)->label);
  table = wb_report_table_new (N_COLUMNS, heads, aligns, shares);
  for (guint i = 0; i < test->data->inspections->len; i++)
    add_look (test, table, i);
  wb_report_document_add_heading (test->document, 2, _("Looks at unlit samples"));
  wb_report_test_say (test, "%s", _("Rated by eye and nose, before a burn or on the morning after one. They count in no score."));
  wb_report_document_add_table (test->document, table);
}
