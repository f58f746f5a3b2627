/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-cautions-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-number.h"
#include "wb-report-words-private.h"

/* A user is told to stop at what is left of the wax: never below the usual advice of candle makers' associations (common practice). */
#define USUAL_RESIDUE_MM 13.0

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

static char *
dup_hours (double seconds)
{
  g_autofree char *hours = wb_number_format_trimmed (seconds / 3600, 1, NULL);

  return g_strdup_printf (_("%s\302\240h"), hours);
}

static char *
dup_use (const WbProtocol *protocol,
         gboolean          us_units,
         gboolean          several_wicks,
         gboolean          burnt_longer)
{
  double residue = isfinite (protocol->end_residue_mm) ? MAX (protocol->end_residue_mm, USUAL_RESIDUE_MM) : USUAL_RESIDUE_MM;
  g_autofree char *left = wb_report_dup_set (us_units, WB_UNIT_MM, residue);
  g_autoptr (GString) text = g_string_new (NULL);

  if (isfinite (protocol->trim_mm))
    {
      g_autofree char *trim = wb_report_dup_set (us_units, WB_UNIT_MM, protocol->trim_mm);

      g_string_append_printf (text, several_wicks ? _("Trim every wick to %s before each burn.") : _("Trim the wick to %s before each burn."), trim);
    }
  g_string_append_c (text, ' ');
  if (isfinite (protocol->burn_s))
    {
      g_autofree char *burn = dup_hours (protocol->burn_s);

      g_string_append_printf (text, burnt_longer ? _("Burn it no longer than %s at a time.")
                                                 : _("Burn it no longer than %s at a time: longer was not tested."), burn);
    }
  g_string_append_c (text, ' ');
  if (isfinite (protocol->cool_s))
    {
      g_autofree char *cool = dup_hours (protocol->cool_s);

      g_string_append_printf (text, _("Let it cool and set for %s before it is lit again."), cool);
    }
  g_string_append_c (text, ' ');
  g_string_append_printf (text, _("Stop using it when %s of wax is left."), left);
  g_string_append_c (text, ' ');
  g_string_append (text, _("Set it level, on something that takes heat, out of draughts and apart from other candles. Do not move it while it is lit or its wax is liquid."));
  return g_strdup (g_strstrip (text->str));
}

void
wb_report_cautions_add_user (WbReportDocument *document,
                             const WbProtocol *protocol,
                             gboolean          us_units,
                             gboolean          several_wicks,
                             gboolean          burnt_longer)
{
  wb_report_document_add_heading (document, 2, _("For whoever burns the candle"));
  if (protocol != NULL)
    {
      g_autofree char *text = dup_use (protocol, us_units, several_wicks, burnt_longer);

      wb_report_document_add_paragraph (document, WB_REPORT_TEXT_BODY, text);
    }
  wb_report_document_add_warning (document, _("Burn within sight. Keep away from things that catch fire. Keep away from children and pets."));
}
