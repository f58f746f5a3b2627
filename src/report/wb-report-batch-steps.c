/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-batch-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-cure.h"
#include "wb-report-words-private.h"

/* The pour, step by step. Cautions as the trade's safety advice gives them; temperatures are the wax's own record. */

/* What is asked of a step: a label over each box. */
static void
add_boxes (WbReportDocument *document,
           guint             n,
           const char *const *labels)
{
  static const WbReportAlign aligns[] = { WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT };
  static const double shares[] = { 1, 1, 1, 1 };
  const char *empty[4] = { NULL };
  WbReportTable *table;

  g_assert (n <= G_N_ELEMENTS (shares));
  table = wb_report_table_new (n, labels, aligns, shares);
  wb_report_table_set_boxes (table, WB_REPORT_BOX);
  wb_report_table_add_row (table, empty, FALSE);
  wb_report_document_add_table (document, table);
}

/* What is said stays with the boxes that are filled in for it. */
static void
say (WbReportDocument *document,
     const char       *text)
{
  wb_report_document_add_paragraph (document, WB_REPORT_TEXT_BODY, text);
  wb_report_document_keep_with_next (document);
}

/* "Heat the wax to 85 °C." or, where the wax does not tell, as its supplier says. */
static void
say_temperature (WbReportDocument      *document,
                 const WbReportOptions *options,
                 double                 celsius,
                 const char            *with,
                 const char            *without)
{
  g_autofree char *temperature = NULL;
  g_auto (GStrv) parts = NULL;
  g_autofree char *text = NULL;

  if (!isfinite (celsius))
    {
      say (document, without);
      return;
    }
  temperature = wb_report_dup_value (options->us_units, WB_UNIT_CELSIUS, celsius, 0);
  parts = g_strsplit (with, "{}", 2);
  text = g_strjoinv (temperature, parts);
  say (document, text);
}

static void
add_before (WbReportDocument *document)
{
  wb_report_document_add_heading (document, 2, _("Before you begin"));
  wb_report_document_add_warning (document, _("Water never on burning wax. Have a metal lid and a dry-chemical or CO₂ extinguisher within reach. "
                                              "If a fire does not go out, leave and call the fire service."));
  wb_report_document_add_paragraph (document, WB_REPORT_TEXT_BODY,
                                    _("Level surface that takes heat; window open or fan on; children and pets out of the room; hair and sleeves tied. "
                                      "Vessels are clean, dry, at room temperature unless the wax asks for more, each with its wick fixed in the middle and weighed."));
}

static void
add_melt (WbReportDocument      *document,
          const WbReportBatch   *batch,
          const WbReportOptions *options)
{
  const char *labels[] = { _("Began at"), _("Reached, temperature"), _("Reached at"), _("Room temperature") };

  wb_report_document_add_heading (document, 2, _("Melt the wax"));
  wb_report_document_add_warning (document, _("Never leave melting wax. Double boiler or thermostat, and a thermometer in the wax. "
                                              "If it smokes, switch the heat off and leave the lid off."));
  say_temperature (document, options, batch->wax != NULL ? batch->wax->heat_c : NAN,
                   /* Translators: {} stands for a temperature. */
                   _("Heat the wax to {}, no further."), _("Heat the wax as its supplier's data sheet says, no further."));
  add_boxes (document, 4, labels);
}

static void
add_fragrance (WbReportDocument      *document,
               const WbReportBatch   *batch,
               const WbReportOptions *options)
{
  const char *labels[] = { _("In at, temperature"), _("In at, time"), _("Stirred until"), _("Oil really added") };
  const WbFragrance *fragrance = batch->fragrance;

  if (!(batch->sheet->oil_g > 0))
    return;
  wb_report_document_add_heading (document, 2, _("Fragrance in"));
  wb_report_document_add_warning (document, _("Goggles and gloves for undiluted oil. Ventilate. No open flame near the oil or the pot."));
  say_temperature (document, options, batch->wax != NULL ? batch->wax->add_c : NAN,
                   _("At {} take the pot off the heat, add the oil and stir until it is even."),
                   _("Add the oil at the temperature that the supplier's data sheet gives, off the heat, and stir until it is even."));
  if (fragrance != NULL)
    say_temperature (document, options, fragrance->flash_c, _("Flash point of the oil: {}."),
                     _("The flash point of the oil is not on record: read its data sheet first."));
  add_boxes (document, 4, labels);
}

static void
add_pour (WbReportDocument      *document,
          const WbReportBatch   *batch,
          const WbReportOptions *options)
{
  const char *labels[] = { _("Poured at, temperature"), _("First one at"), _("Last one at"), _("Room temperature") };
  g_autofree char *hold = wb_report_batch_dup_mass (batch, options, batch->sheet->hold_back_g);
  g_autofree char *second = NULL;

  wb_report_document_add_heading (document, 2, _("Pour"));
  wb_report_document_add_warning (document, _("Hot wax burns the skin: cool a burn under cool running water at once, then get medical advice."));
  say_temperature (document, options, batch->wax != NULL ? batch->wax->pour_c : NAN,
                   _("Pour at {}, slowly, beside the wick, each vessel on the scale to its fill."),
                   _("Pour as the supplier's data sheet says, slowly, beside the wick, each vessel on the scale to its fill."));
  if (batch->wax != NULL && batch->wax->crystallises)
    say (document, _("This wax crystallises: preheat the vessels, let them cool slowly and insulated, and pierce beside the wick while the middle is still soft, so that trapped air leaves."));
  if (batch->sheet->hold_back_g > 0)
    {
      second = g_strdup_printf (_("Keep %s melted, watched all the while, and top up when a skin has formed and been pierced."), hold);
      say (document, second);
    }
  add_boxes (document, 4, labels);
  if (batch->sheet->hold_back_g > 0)
    {
      const char *again[] = { _("Second pour, temperature"), _("Second pour at"), _("Mass topped up") };

      add_boxes (document, 3, again);
    }
}

/* "7 days"; NAN: none. */
static char *
dup_days (double days)
{
  g_autofree char *number = wb_number_format_trimmed (isnan (days) ? 0 : days, 1, NULL);

  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s day", "%s days", isnan (days) ? 0 : (gulong) ceil (days)), number);
}

static void
add_cure (WbReportDocument    *document,
          const WbReportBatch *batch)
{
  const char *labels[] = { _("Set at"), _("Fit to burn from"), _("Fit to smell from"), _("Kept at (place)") };
  WbCure cure = wb_cure_of (NULL, batch->fragrance, batch->wax);
  double burn = cure.burn_days, smell = cure.smell_days;
  g_autofree char *burn_days = dup_days (burn);
  g_autofree char *smell_days = dup_days (smell);
  g_autofree char *text = NULL;

  wb_report_document_add_heading (document, 2, _("Clean up and cure"));
  say (document, _("Nothing down the drain: let leftover wax set and throw it away or keep it. Leave only when all heat is off. Do not move the samples before they are set."));
  if (!isnan (burn) && !isnan (smell))
    text = g_strdup_printf (/* Translators: "7 days", "14 days". */
                            _("Cure: fit to burn after %s, fit to smell after %s."), burn_days, smell_days);
  else if (!isnan (burn))
    text = g_strdup_printf (_("Cure: fit to burn after %s."), burn_days);
  else
    text = g_strdup (_("Cure as the supplier's data sheet says."));
  say (document, text);
  add_boxes (document, 4, labels);
}

void
wb_report_batch_add_steps (WbReportDocument      *document,
                           const WbReportBatch   *batch,
                           const WbReportOptions *options)
{
  wb_report_document_add_page_break (document);
  wb_report_document_add_heading (document, 1, _("The pour, step by step"));
  add_before (document);
  add_melt (document, batch, options);
  add_fragrance (document, batch, options);
  add_pour (document, batch, options);
  add_cure (document, batch);
}
