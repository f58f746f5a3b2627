/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-cautions-private.h"

#include <glib/gi18n-lib.h>

#define TICK "☐  "

void
wb_report_cautions_add_check (WbReportDocument *document)
{
  const char *checks[] = {
    _("A level top that cannot burn; each sample in a heat-proof tray of its own."),
    _("15 to 20 cm from one sample to the next; nothing above them; no draught."),
    _("The smoke alarm works. Metal lid and extinguisher within reach."),
    _("Hair and sleeves tied. Children and pets out of the room."),
    _("Somebody stays for the whole evening, and until no wick glows."),
  };

  wb_report_document_add_heading (document, 1, _("Before the first light"));
  for (guint i = 0; i < G_N_ELEMENTS (checks); i++)
    {
      g_autofree char *line = g_strconcat (TICK, checks[i], NULL);

      wb_report_document_add_paragraph (document, WB_REPORT_TEXT_BODY, line);
    }
}
