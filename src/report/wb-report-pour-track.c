/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-pour-track.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-method.h"
#include "wb-plot-pour.h"
#include "wb-report-batch-private.h"
#include "wb-report-words-private.h"

#define CHART_HEIGHT 230.0 /* points */

/* What is asked of a step: a label over each box. */
static void
add_boxes (WbReportDocument  *document,
           guint              n,
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
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);

  for (char **line = lines; *line != NULL; line++)
    if (**line != '\0')
      {
        wb_report_document_add_paragraph (document, WB_REPORT_TEXT_BODY, *line);
        wb_report_document_keep_with_next (document);
      }
}

/* How much goes into each vessel at the first pour; a vessel once, whatever wicks stand in it. */
static void
say_fills (WbReportDocument      *document,
           const WbReportBatch   *batch,
           const WbReportOptions *options)
{
  for (guint i = 0; i < batch->n_lines; i++)
    {
      const WbReportBatchLine *line = &batch->lines[i];
      g_autofree char *mass = wb_report_batch_dup_mass (batch, options, line->first_g), *vessel = wb_material_dup_title (line->vessel);
      g_autofree char *text = NULL;
      guint candles = 0, first = i;

      for (guint k = batch->n_lines; k-- > 0;)
        if (batch->lines[k].vessel == line->vessel && batch->lines[k].first_g == line->first_g)
          {
            candles += batch->lines[k].candles;
            first = k;
          }
      /* Translators: how many vessels each melt fills, "12" or "9 or 8"; the vessel; the mass in one. */
      text = batch->candles != NULL ? g_strdup_printf (_("%s × %s in each melt: %s each"), batch->candles, vessel, mass)
                                    : g_strdup_printf (_("%u × %s: %s each"), candles, vessel, mass);
      if (isfinite (line->first_g) && first == i)
        say (document, text);
    }
}

static void
say_flash_point (WbReportDocument      *document,
                 const WbReportBatch   *batch,
                 const WbReportOptions *options)
{
  g_autofree char *text = wb_craft_method_dup_flash (batch->fragrance, options->us_units);

  if (text != NULL)
    say (document, text);
}

/* A maker's own method may lack the step at which a caution stands: then it stands before all of them. */
static void
add_cautions_left (WbReportDocument      *document,
                   const WbReportBatch   *batch,
                   const WbReportOptions *options)
{
  gboolean scented = batch->sheet->oil_g > 0;
  g_autoptr (GPtrArray) left = wb_craft_method_find_cautions_left (batch->steps, scented);

  for (guint i = 0; i < left->len; i++)
    {
      const char *caution = left->pdata[i];

      wb_report_document_add_warning (document, caution);
      if (g_str_equal (caution, wb_craft_method_get_caution (WB_STEP_FRAGRANCE)))
        say_flash_point (document, batch, options);
    }
}

static void
add_before (WbReportDocument      *document,
            const WbReportBatch   *batch,
            const WbReportOptions *options)
{
  wb_report_document_add_heading (document, 2, _("Before you begin"));
  wb_report_document_add_warning (document, _("Water never on burning wax. Have a metal lid and a dry-chemical or CO₂ extinguisher within reach. "
                                              "If a fire does not go out, leave and call the fire service."));
  wb_report_document_add_paragraph (document, WB_REPORT_TEXT_BODY,
                                    _("Level surface that takes heat; window open or fan on; children and pets out of the room; hair and sleeves tied. "
                                      "Vessels are clean, dry, at room temperature unless the wax asks for more, each with its wick fixed in the middle and weighed."));
  add_cautions_left (document, batch, options);
}

static gboolean
has_temperature (const WbBatchStep *step)
{
  return !isnan (step->to_c) || (step->kind <= WB_STEP_POUR && step->kind != WB_STEP_STIR) || step->kind == WB_STEP_TOP_UP;
}

static void
add_step_boxes (WbReportDocument    *document,
                const WbReportBatch *batch,
                const WbBatchStep   *step)
{
  const char *melt[] = { _("Temperature, measured"), _("Done at"), _("Room temperature"), _("Done otherwise") };
  const char *waiting[] = { _("Done at"), _("Done otherwise") };
  const char *cure[] = { _("Fit to burn from"), _("Kept at (place)"), _("Fit to smell from") };

  if (step->kind == WB_STEP_CURE)
    add_boxes (document, batch->fragrance != NULL ? 3 : 2, cure);
  else if (has_temperature (step))
    add_boxes (document, G_N_ELEMENTS (melt), melt);
  else
    add_boxes (document, G_N_ELEMENTS (waiting), waiting);
}

static void
add_step (WbReportDocument      *document,
          const WbReportBatch   *batch,
          const WbReportOptions *options,
          const WbBatchStep     *step)
{
  WbCure cure = wb_cure_of (NULL, batch->fragrance, batch->wax);
  g_autofree char *title = wb_craft_method_dup_title (step->kind), *minutes = NULL, *heading = NULL;
  g_autofree char *words = wb_craft_method_dup_words (step, batch->to_read ? NULL : batch->sheet, &cure, options->us_units);

  if (step->minutes > 0)
    {
      minutes = wb_number_format_trimmed (step->minutes, 1, NULL);
      /* Translators: number and name of a step; minutes. */
      heading = g_strdup_printf (_("%d. %s, %s min"), (int) step->position, title, minutes);
    }
  else
    heading = g_strdup_printf ("%d. %s", (int) step->position, title);
  wb_report_document_begin_whole (document);
  wb_report_document_add_heading (document, 2, heading);
  if (wb_craft_method_get_caution (step->kind) != NULL)
    wb_report_document_add_warning (document, wb_craft_method_get_caution (step->kind));
  if (step->kind == WB_STEP_CURE && batch->cure != NULL)
    {
      say (document, batch->cure);
      if (step->note != NULL)
        say (document, step->note);
    }
  else
    say (document, words);
  if (step->kind == WB_STEP_FRAGRANCE)
    say_flash_point (document, batch, options);
  if (step->kind == WB_STEP_POUR)
    say_fills (document, batch, options);
  if (!batch->to_read)
    add_step_boxes (document, batch, step);
  wb_report_document_end_whole (document);
}

/* A line over time, by which somebody plans a day's work, is drawn from what the method states alone. */
static gboolean
are_all_timed (const GPtrArray *steps)
{
  for (guint i = 0; i < steps->len; i++)
    {
      const WbBatchStep *step = g_ptr_array_index (steps, i);

      if (step->kind < WB_STEP_POUR && !(step->minutes > 0))
        return FALSE;
    }
  return TRUE;
}

void
wb_report_pour_track_add (WbReportDocument      *document,
                          const WbReportBatch   *batch,
                          const WbReportOptions *options)
{
  g_autoptr (WbChart) chart = NULL;

  g_return_if_fail (document != NULL && batch != NULL && batch->steps != NULL);

  wb_report_document_add_page_break (document);
  wb_report_document_add_heading (document, 1, _("The pour, step by step"));
  if (!batch->to_read || are_all_timed (batch->steps))
    {
      chart = wb_plot_pour_new (batch->steps, batch->fragrance, options->us_units, options->invented);
      wb_report_document_add_chart (document, chart, CHART_HEIGHT);
    }
  add_before (document, batch, options);
  for (guint i = 0; i < batch->steps->len; i++)
    add_step (document, batch, options, g_ptr_array_index (batch->steps, i));
}
