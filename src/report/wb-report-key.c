/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-key.h"

#include <glib/gi18n-lib.h>

#include "wb-report-options-private.h"
#include "wb-report-words-private.h"

static void
add_names (WbReportDocument   *document,
           const WbCraftAlias *alias)
{
  enum { KIND, SHOWN, REAL, N_COLUMNS };
  const char *heads[N_COLUMNS] = { _("Kind"), _("In the report"), _("Really") };
  static const WbReportAlign aligns[N_COLUMNS] = { WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT };
  static const double shares[N_COLUMNS] = { 1, 1, 3 };
  WbReportTable *table = wb_report_table_new (N_COLUMNS, heads, aligns, shares);

  for (guint i = 0; i < wb_craft_alias_get_n (alias); i++)
    {
      const WbCraftAliasItem *item = wb_craft_alias_get_item (alias, i);
      g_autofree char *real = wb_report_dup_name (item->real != NULL ? item->real : WB_REPORT_NONE);
      const char *cells[N_COLUMNS] = { item->kind, item->shown, real };

      wb_report_table_add_row (table, cells, FALSE);
    }
  wb_report_document_add_table (document, table);
}

WbReportDocument *
wb_report_key_new (const WbCraftAlias    *alias,
                   const WbReportOptions *options)
{
  WbReportDocument *document;
  g_autofree char *code = NULL;
  g_autofree char *name = NULL;
  g_autofree char *title = NULL;
  g_autofree char *day = NULL;
  g_autofree char *below = NULL;

  g_return_val_if_fail (alias != NULL && options != NULL, NULL);

  code = wb_report_dup_name (wb_craft_alias_get_code (alias));
  name = wb_report_dup_clipped (wb_craft_alias_get_title (alias), 200);
  /* Translators: code of the experiment. */
  title = g_strdup_printf (_("Key to the report of burn test %s"), code);
  day = wb_report_options_dup_day (options);
  /* Translators: title of the experiment; a day. */
  below = g_strdup_printf (_("%s · report of %s"), name, day);
  document = wb_report_options_begin (options, title, NULL, _("Private: for the maker alone, not for the customer."));
  wb_report_document_add_title (document, title, below);
  wb_report_document_add_paragraph (document, WB_REPORT_TEXT_STRONG, _("Private. Keep it; never hand it out with the report."));
  wb_report_document_add_paragraph (document, WB_REPORT_TEXT_BODY,
                                    _("The report tells these by other names. Read its free texts before it goes out: what they call a material by "
                                      "yet another name, the program cannot know."));
  wb_report_document_add_paragraph (document, WB_REPORT_TEXT_BODY,
                                    _("Replaced are the names of vessels, wax, wicks, scents, dye and additive, the codes of samples, melts and lots, and who "
                                      "read and rated. Suppliers and the materials' own notes are left out."));
  wb_report_document_add_paragraph (document, WB_REPORT_TEXT_BODY,
                                    _("Not replaced are the experiment's code, which is the reference by which a customer asks for this report, the workshop's "
                                      "name and logo, who signed, instruments, dates, sizes, loads and readings. Notes, deviations and what was typed into the "
                                      "decision stand as they were written, with any person's name in them."));
  add_names (document, alias);
  return document;
}
