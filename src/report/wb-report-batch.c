/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-batch-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-method.h"
#include "wb-report-options-private.h"
#include "wb-report-pour-track.h"
#include "wb-report-words-private.h"

/* Masses, sums, warnings and samples of a melt. */

char *
wb_report_batch_dup_mass (const WbReportBatch   *batch,
                          const WbReportOptions *options,
                          double                 g)
{
  return isfinite (g) ? wb_craft_batch_dup_mass (batch->sheet, g, options->us_units) : g_strdup (WB_REPORT_NONE);
}

/* ---- Candles ---- */

static void
add_candles (WbReportDocument      *document,
             const WbReportBatch   *batch,
             const WbReportOptions *options)
{
  const char *heads[] = { _("Vessel"), _("Wick"), _("Candles"), _("Fill of one, wax and oil"), _("Together") };
  static const WbReportAlign aligns[] = { WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_RIGHT, WB_REPORT_RIGHT, WB_REPORT_RIGHT };
  static const double shares[] = { 2, 1.2, 0, 1.4, 1.4 };
  WbReportTable *table = wb_report_table_new (G_N_ELEMENTS (heads), heads, aligns, shares);
  guint candles = 0;
  double sum = 0;

  for (guint i = 0; i < batch->n_lines; i++)
    {
      const WbReportBatchLine *line = &batch->lines[i];
      g_autofree char *count = g_strdup_printf ("%u", line->candles);
      g_autofree char *fill = wb_report_batch_dup_mass (batch, options, line->fill_g);
      g_autofree char *together = wb_report_batch_dup_mass (batch, options, line->fill_g * line->candles);
      g_autofree char *vessel = wb_material_dup_title (line->vessel);
      const char *cells[] = { vessel, line->wick, count, fill, together };

      candles += line->candles;
      sum += line->fill_g * line->candles;
      wb_report_table_add_row (table, cells, FALSE);
    }
  if (batch->n_lines > 1)
    {
      g_autofree char *count = g_strdup_printf ("%u", candles);
      g_autofree char *together = wb_report_batch_dup_mass (batch, options, sum);
      const char *cells[] = { _("All of them"), NULL, count, NULL, together };

      wb_report_table_add_row (table, cells, TRUE);
    }
  wb_report_document_add_heading (document, 2, _("Candles"));
  wb_report_document_add_table (document, table);
}

/* ---- Masses ---- */

static void
add_mass (WbReportTable         *table,
          const WbReportBatch   *batch,
          const WbReportOptions *options,
          const char            *what,
          double                 g,
          gboolean               strong)
{
  g_autofree char *mass = wb_report_batch_dup_mass (batch, options, g);
  const char *cells[2 + MAX (2, WB_REPORT_MELTS_ACROSS)] = { what, mass };

  wb_report_table_add_row (table, cells, strong);
}

/* Of several melts a line of its own for the lot of what was just told: a melt may begin another. */
static void
add_lot (WbReportTable *table,
         guint          melts)
{
  const char *cells[2 + MAX (2, WB_REPORT_MELTS_ACROSS)] = { _("its lot, written by hand") };

  if (melts > 0)
    wb_report_table_add_row (table, cells, FALSE);
}

/* FALSE: there is none to weigh. */
static gboolean
add_dye (WbReportTable       *table,
         const WbReportBatch *batch)
{
  g_autofree char *drops = NULL, *what = NULL, *mass = NULL;
  const char *cells[2 + MAX (2, WB_REPORT_MELTS_ACROSS)] = { NULL };

  if (batch->dye == NULL || (isnan (batch->sheet->dye_g) && isnan (batch->sheet->dye_drops)))
    return FALSE;
  if (!isnan (batch->sheet->dye_drops))
    {
      drops = wb_number_format (batch->sheet->dye_drops, 0, NULL);
      /* Translators: name of a dye; how many drops. */
      what = g_strdup_printf (_("%s, %s drops"), batch->dye->name, drops);
    }
  mass = isnan (batch->sheet->dye_g) ? NULL : wb_quantity_format (WB_UNIT_G, batch->sheet->dye_g, 3);
  cells[0] = what != NULL ? what : batch->dye->name;
  cells[1] = mass;
  wb_report_table_add_row (table, cells, FALSE);
  return TRUE;
}

/* The melts first to first + n - 1 of several, or the one. */
static void
add_masses_of (WbReportDocument      *document,
               const WbReportBatch   *batch,
               const WbReportOptions *options,
               guint                  first,
               guint                  n)
{
  const char *heads[2 + MAX (2, WB_REPORT_MELTS_ACROSS)] = { _("Material"), _("To weigh out"), _("Really weighed"), _("Lot") };
  static const WbReportAlign aligns[] = { WB_REPORT_LEFT, WB_REPORT_RIGHT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT,
                                          WB_REPORT_LEFT };
  static const double one_shares[] = { 1.8, 1.3, 1.2, 1.2 }, shares[] = { 1.8, 1.3, 0.9, 0.9, 0.9, 0.9, 0.9, 0.9 };
  g_autoptr (GPtrArray) melts = g_ptr_array_new_with_free_func (g_free);
  const WbCraftBatchSheet *sheet = batch->sheet;
  WbReportTable *table;

  for (guint i = 0; i < n; i++)
    {
      g_ptr_array_add (melts, g_strdup_printf (_("Melt %u"), first + i));
      heads[2 + i] = g_ptr_array_index (melts, i);
    }
  table = wb_report_table_new (n > 0 ? 2 + n : G_N_ELEMENTS (one_shares), heads, aligns, n > 0 ? shares : one_shares);
  wb_report_table_set_boxes (table, WB_REPORT_BOX);
  add_mass (table, batch, options, batch->wax != NULL ? batch->wax->name : _("Wax"), sheet->wax_g, FALSE);
  add_lot (table, n);
  for (guint i = 0; i < sheet->oil_parts->len; i++)
    {
      const WbCraftPartMass *part = &g_array_index (sheet->oil_parts, WbCraftPartMass, i);

      add_mass (table, batch, options, part->name, part->g, FALSE);
      add_lot (table, n);
    }
  if (sheet->oil_parts->len == 0 && sheet->oil_g > 0)
    {
      add_mass (table, batch, options, batch->fragrance != NULL ? batch->fragrance->name : _("Fragrance oil"), sheet->oil_g, FALSE);
      add_lot (table, n);
    }
  if (add_dye (table, batch))
    add_lot (table, n);
  if (batch->additive != NULL && !isnan (sheet->additive_g))
    {
      add_mass (table, batch, options, batch->additive->name, sheet->additive_g, FALSE);
      add_lot (table, n);
    }
  add_mass (table, batch, options, sheet->additive_g > 0 ? _("Wax, oil and additive together") : _("Wax and oil together"), sheet->total_g, TRUE);
  if (sheet->hold_back_g > 0)
    {
      add_mass (table, batch, options, _("of it for the first pour"), sheet->first_pour_g, FALSE);
      add_mass (table, batch, options, _("of it kept hot for the second pour"), sheet->hold_back_g, FALSE);
    }
  wb_report_document_add_table (document, table);
}

void
wb_report_batch_add_masses (WbReportDocument      *document,
                            const WbReportBatch   *batch,
                            const WbReportOptions *options)
{
  wb_report_document_add_heading (document, 2, batch->n_melts > 1 ? _("Masses of each of these melts, weighed") : _("Masses"));
  /* here the bottle is opened, pages before the step at which the oil goes in */
  if (batch->sheet->oil_g > 0)
    wb_report_document_add_warning (document, wb_craft_method_get_caution_of_oil ());
  if (batch->n_melts <= 1)
    add_masses_of (document, batch, options, 0, 0);
  else
    {
      wb_report_document_add_paragraph (document, WB_REPORT_TEXT_SMALL,
                                        _("Under each melt write what was really weighed, and below it the lot that it came from."));
      for (guint i = 0; i < batch->n_melts; i += WB_REPORT_MELTS_ACROSS)
        add_masses_of (document, batch, options, batch->first_melt + i, MIN (WB_REPORT_MELTS_ACROSS, batch->n_melts - i));
    }
}

static gboolean
is_warned_of (const WbReportBatch *batch,
              WbCraftWarningKind   kind)
{
  for (guint i = 0; i < batch->sheet->warnings->len; i++)
    if (((const WbCraftWarning *) g_ptr_array_index (batch->sheet->warnings, i))->kind == kind)
      return TRUE;
  return FALSE;
}

/* What the load was held against: that nothing is said above need not mean that somebody looked. */
static void
add_limits (WbReportDocument    *document,
            const WbReportBatch *batch)
{
  if (batch->wax != NULL && !isnan (batch->wax->max_load_pct) && !is_warned_of (batch, WB_CRAFT_WARN_MAX_LOAD))
    {
      g_autofree char *most = wb_quantity_format (WB_UNIT_PERCENT, batch->wax->max_load_pct, -1);
      g_autofree char *text = g_strdup_printf (batch->wax->max_load_basis == WB_BASIS_TOTAL
                                               ? _("The wax holds at most %s of the total, by its supplier: within.")
                                               : _("The wax holds at most %s of the wax, by its supplier: within."), most);

      wb_report_document_add_paragraph (document, WB_REPORT_TEXT_BODY, text);
    }
  if (batch->fragrance != NULL && !isnan (batch->fragrance->ifra_limit_pct) && !is_warned_of (batch, WB_CRAFT_WARN_IFRA))
    {
      g_autofree char *limit = wb_quantity_format (WB_UNIT_PERCENT, batch->fragrance->ifra_limit_pct, -1);
      g_autofree char *text = g_strdup_printf (_("The fragrance's IFRA limit, category 12, is %s of the finished candle: within."), limit);

      wb_report_document_add_paragraph (document, WB_REPORT_TEXT_BODY, text);
    }
}

void
wb_report_batch_add_basis (WbReportDocument    *document,
                           const WbReportBatch *batch)
{
  wb_report_document_add_paragraph (document, WB_REPORT_TEXT_STRONG, batch->sheet->basis);
  if (batch->sheet->oil_g > 0)
    add_limits (document, batch);
}

/* The sums as a pocket calculator follows them. */
void
wb_report_batch_add_sums (WbReportDocument    *document,
                          const WbReportBatch *batch)
{
  wb_report_document_add_heading (document, 2, _("The sums"));
  for (guint i = 0; i < batch->sheet->sums->len; i++)
    wb_report_document_add_paragraph (document, WB_REPORT_TEXT_SUM, g_ptr_array_index (batch->sheet->sums, i));
}

/* What could hurt or break a rule stands with the symbol; what is only odd without. */
void
wb_report_batch_add_warnings (WbReportDocument    *document,
                              const WbReportBatch *batch)
{
  for (guint i = 0; i < batch->sheet->warnings->len; i++)
    {
      const WbCraftWarning *warning = g_ptr_array_index (batch->sheet->warnings, i);

      if (warning->kind == WB_CRAFT_WARN_FLASH || warning->kind == WB_CRAFT_WARN_IFRA || warning->kind == WB_CRAFT_WARN_ORDER ||
          warning->kind == WB_CRAFT_WARN_VESSEL)
        wb_report_document_add_warning (document, warning->text);
      else
        wb_report_document_add_paragraph (document, WB_REPORT_TEXT_BODY, warning->text);
    }
}

/* ---- Samples ---- */

static gboolean
any_codes (const WbReportBatch *batch)
{
  for (guint i = 0; i < batch->n_lines; i++)
    if (batch->lines[i].codes != NULL && batch->lines[i].codes[0] != NULL)
      return TRUE;
  return FALSE;
}

static void
add_samples (WbReportDocument      *document,
             const WbReportBatch   *batch,
             const WbReportOptions *options)
{
  const char *heads[] = { _("Sample"), _("Vessel"), _("Wick"), _("Tare with wick"), _("Fill planned"), _("Fill weighed"), _("Wax height"), _("Wick off centre"),
                          _("Seen after setting") };
  static const WbReportAlign aligns[] = { WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_RIGHT, WB_REPORT_LEFT,
                                          WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT };
  static const double shares[] = { 0, 1.2, 0.9, 1, 1.1, 1, 1, 1, 1.7 };
  WbReportTable *table;

  if (!any_codes (batch))
    return;
  table = wb_report_table_new (G_N_ELEMENTS (heads), heads, aligns, shares);
  wb_report_table_set_boxes (table, WB_REPORT_BOX);
  for (guint i = 0; i < batch->n_lines; i++)
    for (const char *const *code = batch->lines[i].codes; code != NULL && *code != NULL; code++)
      {
        const WbReportBatchLine *line = &batch->lines[i];
        g_autofree char *fill = wb_report_batch_dup_mass (batch, options, line->fill_g);
        g_autofree char *vessel = wb_material_dup_title (line->vessel);
        const char *cells[] = { *code, vessel, line->wick, NULL, fill, NULL, NULL, NULL, NULL };

        wb_report_table_add_row (table, cells, FALSE);
      }
  wb_report_document_add_heading (document, 1, _("Samples"));
  wb_report_document_add_paragraph (document, WB_REPORT_TEXT_BODY,
                                    _("Weigh each vessel with its wick before the pour, and again when the wax has set: consumption and the last inch are foretold from it. "
                                      "Label each sample at once: TEST SAMPLE, NOT FOR SALE OR GIFT."));
  wb_report_document_keep_with_next (document);
  wb_report_document_add_table (document, table);
}

WbReportDocument *
wb_report_batch_new (const WbReportBatch   *batch,
                     const WbReportOptions *options)
{
  WbReportDocument *document;
  g_autofree char *title = NULL;
  g_autofree char *below = NULL;
  g_autofree char *day = NULL;

  g_return_val_if_fail (batch != NULL && batch->sheet != NULL && options != NULL, NULL);

  day = wb_report_options_dup_day (options);
  title = batch->batch != NULL ? g_strdup_printf (_("Batch sheet %s"), batch->batch) : g_strdup (_("Batch sheet"));
  /* Translators: experiment; scent; day on which the sheet was made. */
  below = g_strdup_printf (_("%s · %s · printed %s"), batch->experiment, batch->scent, day);
  document = wb_report_options_begin (options, title, batch->experiment, _("Suppliers' data sheets and local codes take precedence."));
  wb_report_document_add_title (document, title, below);
  wb_report_batch_add_basis (document, batch);
  wb_report_batch_add_warnings (document, batch);
  add_candles (document, batch, options);
  wb_report_batch_add_masses (document, batch, options);
  wb_report_batch_add_sums (document, batch);
  wb_report_pour_track_add (document, batch, options);
  add_samples (document, batch, options);
  return document;
}
