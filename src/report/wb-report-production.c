/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-production.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "wb-craft-covered.h"
#include "wb-craft-lot-part.h"
#include "wb-craft-method.h"
#include "wb-report-batch-private.h"
#include "wb-report-options-private.h"
#include "wb-report-pour-track.h"
#include "wb-report-recipe-private.h"
#include "wb-report-words-private.h"

/* Characters of one crossing. */
#define CROSSED_MOST 400

/* The sheet while it is written. */
typedef struct
{
  WbReportDocument         *document;
  const WbReportProduction *production;
  const WbReportOptions    *options;
  const WbCraftBatchSheet  *first;   /* of the first melt: what all melts share */
  const WbFragrance        *fragrance;
  WbCraftCovered            covered;
} Sheet;

static char *
dup_mass (const Sheet *sheet,
          double       g)
{
  return wb_craft_batch_dup_mass (sheet->first, g, sheet->options->us_units);
}

/* ---- The order ---- */

static void
add_fact (WbReportTable *table,
          const char    *what,
          const char    *value)
{
  const char *cells[] = { what, value };

  if (value != NULL)
    wb_report_table_add_row (table, cells, FALSE);
}

static void
add_order (const Sheet *sheet)
{
  static const WbReportAlign aligns[] = { WB_REPORT_LEFT, WB_REPORT_LEFT };
  static const double shares[] = { 1, 3.4 };
  const WbReportProduction *production = sheet->production;
  WbReportTable *table = wb_report_table_new (2, NULL, aligns, shares);
  g_autofree char *vessels = g_strdup_printf ("%u", production->production->vessels);
  g_autofree char *melts = wb_craft_production_dup_melts (production->production);
  g_autofree char *fill = dup_mass (sheet, g_array_index (sheet->first->fills, WbCraftBatchFill, 0).fill_g);
  g_autofree char *tested = wb_craft_covered_dup_fill (&sheet->covered, sheet->options->us_units);
  g_autofree char *total = dup_mass (sheet, production->production->total_g);
  g_autofree char *pot = isnan (production->production->pot_g) ? NULL : dup_mass (sheet, production->production->pot_g);
  g_autofree char *overage = wb_quantity_format (WB_UNIT_PERCENT, production->overage_pct, -1);
  g_autofree char *held = production->hold_back_pct > 0 ? wb_quantity_format (WB_UNIT_PERCENT, production->hold_back_pct, -1) : NULL;
  g_autofree char *wick = wb_report_recipe_dup_wick (&production->recipe, sheet->options);

  add_fact (table, _("Vessels"), vessels);
  add_fact (table, _("Wick of each"), wick);
  add_fact (table, _("Fill of one"), fill);
  add_fact (table, _("Fill as tested"), tested);
  add_fact (table, _("Melts"), melts);
  add_fact (table, _("The pot holds"), pot != NULL ? pot : _("not told: all in one melt"));
  add_fact (table, _("For what stays in the pot"), overage);
  add_fact (table, _("Kept for the second pour"), held);
  add_fact (table, _("All melts together"), total);
  wb_report_document_add_heading (sheet->document, 2, _("The order"));
  wb_report_document_add_table (sheet->document, table);
}

/* ---- Materials and lots ---- */

static const char *
find_lots (const GPtrArray *parts,
           gconstpointer    material)
{
  for (guint i = 0; i < parts->len; i++)
    if (((const WbCraftLotPart *) g_ptr_array_index (parts, i))->material == material)
      return ((const WbCraftLotPart *) g_ptr_array_index (parts, i))->lots;
  return NULL;
}

/* "W-107, not W-112". */
static char *
dup_approved (const Sheet     *sheet,
              const GPtrArray *parts,
              gconstpointer    material)
{
  const char *lots = find_lots (parts, material);
  g_autofree char *others = material != NULL ? wb_report_recipe_dup_uncovered (&sheet->production->recipe, ((const WbRecord *) material)->id) : NULL;

  if (lots == NULL)
    lots = _("none on record");
  /* Translators: codes of lots that were approved, or "none on record"; codes of others in the notebook. */
  return others != NULL ? g_strdup_printf (_("%s; not %s"), lots, others) : g_strdup (lots);
}

static gboolean
is_told (const WbReportProduction *production)
{
  return production->wax_lot != NULL || production->oil_lot != NULL || production->wick_lot != NULL;
}

static void
add_material (const Sheet     *sheet,
              WbReportTable   *table,
              const GPtrArray *parts,
              gconstpointer    material,
              const char      *name,
              const char      *much,
              const char      *used)
{
  g_autofree char *lots = dup_approved (sheet, parts, material);
  const char *told[] = { name, much, lots, used != NULL ? used : WB_REPORT_NONE, NULL }, *cells[] = { name, much, lots, NULL };

  wb_report_table_add_row (table, is_told (sheet->production) ? told : cells, FALSE);
}

static char *
dup_dye (const WbCraftProduction *production)
{
  g_autofree char *much = NULL;

  if (isfinite (production->dye_g))
    return wb_quantity_format (WB_UNIT_G, production->dye_g, 3);
  if (isnan (production->dye_drops))
    return g_strdup (WB_REPORT_NONE);
  much = wb_number_format (production->dye_drops, 0, NULL);
  return g_strdup_printf (_("%s drops"), much);
}

static void
add_materials (const Sheet *sheet)
{
  /* what is planned need not be what was taken: there is a place for that beside it */
  gboolean told = is_told (sheet->production);
  const char *heads[] = { _("Material"), _("For all melts"), _("Lots approved"), told ? _("Lot to be used") : _("Lot used, written by hand"), _("Lot used, written by hand") };
  static const WbReportAlign aligns[] = { WB_REPORT_LEFT, WB_REPORT_RIGHT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT };
  static const double shares[] = { 1.8, 1.2, 1.3, 1.5, 1.5 };
  const WbReportRecipe *recipe = &sheet->production->recipe;
  const WbCraftProduction *production = sheet->production->production;
  const WbDataset *data = recipe->data;
  const WbCell *cell = wb_dataset_get_cell (data, recipe->cell);
  const WbVessel *vessel = wb_dataset_get_vessel (data, recipe->cell);
  g_autoptr (GPtrArray) parts = wb_craft_lot_parts_of_decision (data, recipe->decision);
  WbReportTable *table = wb_report_table_new (told ? 5 : 4, heads, aligns, shares);
  g_autofree char *vessels = g_strdup_printf ("%u", production->vessels), *vessel_name = wb_material_dup_title (vessel);
  g_autofree char *wicks = g_strdup_printf ("%u", production->vessels * (guint) MAX (cell->wick_count, 1));
  g_autofree char *wick = wb_material_dup_title (wb_dataset_get_wick (data, recipe->cell));
  g_autofree char *wax = dup_mass (sheet, production->wax_g), *oil = dup_mass (sheet, production->oil_g), *dye = dup_dye (production);
  g_autofree char *additive = isnan (production->additive_g) ? g_strdup (WB_REPORT_NONE) : dup_mass (sheet, production->additive_g);

  wb_report_table_set_boxes (table, WB_REPORT_BOX);
  add_material (sheet, table, parts, vessel, vessel_name, vessels, NULL);
  add_material (sheet, table, parts, wb_dataset_get_wick (data, recipe->cell), wick, wicks, sheet->production->wick_lot);
  add_material (sheet, table, parts, data->wax, data->wax != NULL ? data->wax->name : _("Wax"), wax, sheet->production->wax_lot);
  if (sheet->fragrance != NULL)
    add_material (sheet, table, parts, sheet->fragrance, sheet->fragrance->name, oil, sheet->production->oil_lot);
  if (data->dye != NULL)
    add_material (sheet, table, parts, data->dye, data->dye->name, dye, NULL);
  if (data->additive != NULL)
    add_material (sheet, table, parts, data->additive, data->additive->name, additive, NULL);
  wb_report_document_add_heading (sheet->document, 2, _("Materials and lots"));
  for (guint i = 0; sheet->production->lacking != NULL && i < sheet->production->lacking->len; i++)
    wb_report_document_add_warning (sheet->document, g_ptr_array_index (sheet->production->lacking, i));
  wb_report_document_add_table (sheet->document, table);
  wb_report_document_add_warning (sheet->document,
                                  _("The approval rests on these lots. A lot other than the approved one asks for a confirmation test before candles of it "
                                    "are sold or given away: wax, wick, fragrance, dye and vessel all change how a candle burns. Write down each lot before it is "
                                    "used: candles of a lot that nobody noted count as candles of another lot."));
}

/* ---- A melt ---- */

static WbReportBatch
make_batch (const Sheet             *sheet,
            const WbCraftBatchSheet *of,
            WbReportBatchLine       *line)
{
  const WbReportProduction *production = sheet->production;
  const WbDataset *data = production->recipe.data;
  const WbCell *cell = wb_dataset_get_cell (data, production->recipe.cell);

  return (WbReportBatch) {
    .wax = data->wax, .fragrance = sheet->fragrance, .dye = data->dye, .additive = data->additive, .load_pct = cell->load_pct,
    .load_basis = cell->load_basis, .overage_pct = production->overage_pct, .hold_back_pct = production->hold_back_pct, .sheet = of,
    .steps = production->recipe.steps, .lines = line, .n_lines = 1, .to_read = TRUE,
  };
}

/* "12"; "9 or 8": of each melt. */
static char *
dup_candles (const WbCraftProduction *production)
{
  guint larger = g_array_index (production->melts, WbCraftMelt, 0).candles;
  guint smaller = g_array_index (production->melts, WbCraftMelt, production->melts->len - 1).candles;

  return larger == smaller ? g_strdup_printf ("%u", larger) : g_strdup_printf (_("%u or %u"), larger, smaller);
}

/* A column a melt, between what stands before them and behind. heads: room for all. */
static guint
put_melts (const char **heads,
           guint        before,
           guint        first,
           guint        n,
           GPtrArray   *names)
{
  for (guint i = 0; i < n; i++)
    {
      g_ptr_array_add (names, g_strdup_printf (_("Melt %u"), first + i));
      heads[before + i] = g_ptr_array_index (names, names->len - 1);
    }
  return before + n;
}

/* What is planned at the step, the cure's days too; NULL: nothing is stated. */
static char *
dup_planned (const Sheet       *sheet,
             const WbBatchStep *step)
{
  return step->kind == WB_STEP_CURE ? wb_report_recipe_dup_days (sheet->covered.cure_days) : wb_report_recipe_dup_planned (step, sheet->options);
}

/* Before the pour; with what it is fixed no record tells: written by hand. */
static void
add_setting (const Sheet   *sheet,
             WbReportTable *table)
{
  const WbReportRecipe *recipe = &sheet->production->recipe;
  const WbCell *cell = wb_dataset_get_cell (recipe->data, recipe->cell);
  gboolean several = cell->wick_count > 1;
  g_autofree char *apart = several && isfinite (cell->wick_spacing_mm) ? wb_report_dup_set (sheet->options->us_units, WB_UNIT_MM, cell->wick_spacing_mm) : NULL;
  g_autofree char *where = apart != NULL ? g_strdup_printf (_("%s apart"), apart) : g_strdup (several ? WB_REPORT_NONE : _("in the middle"));
  const char *cells[3 + WB_REPORT_MELTS_ACROSS] = { several ? _("Wicks set, and fixed with") : _("Wick set, and fixed with"), where };

  wb_report_table_add_row (table, cells, FALSE);
}

/* Melts of which each has a box: when it was done, and how hot it was. */
static void
add_record_of (const Sheet *sheet,
               guint        first,
               guint        n)
{
  const char *heads[3 + WB_REPORT_MELTS_ACROSS] = { _("Step"), _("Planned") };
  static const WbReportAlign aligns[] = { WB_REPORT_LEFT, WB_REPORT_RIGHT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT,
                                          WB_REPORT_LEFT, WB_REPORT_LEFT };
  double shares[3 + WB_REPORT_MELTS_ACROSS] = { 1.7, 1.2 };
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  const GPtrArray *steps = sheet->production->recipe.steps;
  guint columns = put_melts (heads, 2, first, n, names);
  WbReportTable *table;

  for (guint i = 2; i < columns; i++)
    shares[i] = n > 1 ? 0.9 : 2;
  heads[columns] = _("Done otherwise");
  shares[columns++] = 1.6;
  table = wb_report_table_new (columns, heads, aligns, shares);
  wb_report_table_set_boxes (table, WB_REPORT_BOX);
  add_setting (sheet, table);
  for (guint i = 0; i < steps->len; i++)
    {
      const WbBatchStep *step = g_ptr_array_index (steps, i);
      g_autofree char *title = wb_craft_method_dup_title (step->kind), *name = g_strdup_printf ("%d. %s", (int) step->position, title);
      g_autofree char *planned = dup_planned (sheet, step);
      const char *cells[3 + WB_REPORT_MELTS_ACROSS] = { name, planned != NULL ? planned : WB_REPORT_NONE };

      /*
       * That it sets, and that it cures, is no deed with a moment: without a stated time there is nothing to hold it against, so no box. The
       * row stays: a number that is left out would read as a step that was forgotten.
       */
      for (guint k = 2; planned == NULL && (step->kind == WB_STEP_SET || step->kind == WB_STEP_CURE) && k < 2 + n; k++)
        cells[k] = WB_REPORT_NONE;
      wb_report_table_add_row (table, cells, FALSE);
    }
  wb_report_document_add_table (sheet->document, table);
}

static void
add_record (const Sheet *sheet,
            guint        first,
            guint        n)
{
  if (sheet->production->recipe.steps->len == 0)
    return;
  wb_report_document_add_heading (sheet->document, 2, _("As it was done"));
  wb_report_document_add_paragraph (sheet->document, WB_REPORT_TEXT_SMALL,
                                    _("In each melt's box: a tick, the temperature measured, and the time of the day. How long a step takes you is yours to "
                                      "write: where no minutes are planned, none are known."));
  for (guint i = 0; i < n; i += WB_REPORT_MELTS_ACROSS)
    add_record_of (sheet, first + i, MIN (WB_REPORT_MELTS_ACROSS, n - i));
}

static void
add_outcome (const Sheet *sheet,
             guint        first,
             guint        n)
{
  const char *heads[] = { _("Melt"), _("Day"), _("Code of the melt"), _("Candles poured"), _("Of them put aside, and why"), _("By") };
  static const WbReportAlign aligns[] = { WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT };
  static const double shares[] = { 0.5, 1, 1.1, 1.1, 2.2, 1.2 };
  WbReportTable *table = wb_report_table_new (G_N_ELEMENTS (heads), heads, aligns, shares);

  wb_report_table_set_boxes (table, WB_REPORT_BOX);
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *number = g_strdup_printf ("%u", first + i);
      const char *cells[6] = { number };

      wb_report_table_add_row (table, cells, FALSE);
    }
  wb_report_document_add_heading (sheet->document, 2, _("What came of it"));
  wb_report_document_add_table (sheet->document, table);
}

/* "Melts 1 to 4 of 5: 12 candles each". */
static char *
dup_title (guint first,
           guint n,
           guint of,
           guint candles)
{
  if (n == 1)
    /* Translators: number of the melt; how many there are; how many candles it makes. */
    return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "Melt %u of %u: %u candle", "Melt %u of %u: %u candles", candles), first, of, candles);
  /* Translators: the first and the last melt; how many there are; how many candles each makes. */
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "Melts %u to %u of %u: %u candle each", "Melts %u to %u of %u: %u candles each", candles),
                          first, first + n - 1, of, candles);
}

/* Those that are weighed alike share their pages: n, from that index on. */
static void
add_melts (const Sheet *sheet,
           guint        index,
           guint        n)
{
  const WbCraftProduction *production = sheet->production->production;
  const WbCraftMelt *melt = &g_array_index (production->melts, WbCraftMelt, index);
  WbReportBatchLine line = { NULL };
  WbReportBatch batch = make_batch (sheet, melt->sheet, &line);
  g_autofree char *title = dup_title (index + 1, n, production->melts->len, melt->candles);

  batch.first_melt = index + 1;
  batch.n_melts = n;
  wb_report_document_add_page_break (sheet->document);
  wb_report_document_add_heading (sheet->document, 1, title);
  wb_report_batch_add_masses (sheet->document, &batch, sheet->options);
  wb_report_batch_add_sums (sheet->document, &batch);
  add_record (sheet, index + 1, n);
  add_outcome (sheet, index + 1, n);
}

WbReportDocument *
wb_report_production_new (const WbReportProduction *production,
                          const WbReportOptions    *options)
{
  g_autofree char *name = NULL, *title = NULL, *by = NULL, *day = NULL, *below = NULL, *candles = NULL, *cure = NULL, *lack = NULL, *doubt = NULL;
  WbReportBatchLine line = { NULL };
  WbReportBatch batch;
  WbCraftBatchFill fill;
  Sheet sheet;

  g_return_val_if_fail (production != NULL && production->production != NULL && production->production->melts->len > 0 && options != NULL, NULL);
  g_return_val_if_fail (production->recipe.steps != NULL && production->recipe.state != NULL, NULL);

  name = wb_report_recipe_dup_name (&production->recipe);
  title = wb_report_dup_clipped (name, 160);
  by = wb_report_recipe_dup_signed (&production->recipe);
  day = wb_report_options_dup_day (options);
  below = g_strdup_printf (_("%s · printed %s"), by, day);
  sheet = (Sheet) { wb_report_options_begin (options, _("Production batch sheet"), title, _("Suppliers' data sheets and local codes take precedence.")),
                    production, options, g_array_index (production->production->melts, WbCraftMelt, 0).sheet,
                    wb_dataset_get_fragrance (production->recipe.data, production->recipe.cell) };
  wb_craft_covered_take (&sheet.covered, production->recipe.data, production->recipe.decision, production->recipe.cell);
  fill = g_array_index (sheet.first->fills, WbCraftBatchFill, 0);
  line = (WbReportBatchLine) { wb_dataset_get_vessel (production->recipe.data, production->recipe.cell), NULL, production->production->vessels,
                               fill.fill_g, fill.first_g, NULL };
  batch = make_batch (&sheet, sheet.first, &line);
  batch.candles = candles = dup_candles (production->production);
  batch.cure = cure = wb_craft_covered_dup_cure (&sheet.covered);
  lack = wb_craft_covered_dup_fill_lack (&sheet.covered, fill.fill_g, options->us_units);
  wb_report_document_add_title (sheet.document, _("Production batch sheet"), below);
  wb_report_document_add_answer (sheet.document, NULL, title, NULL);
  wb_report_recipe_add_state (sheet.document, &production->recipe);
  wb_report_recipe_add_crossed (sheet.document, &production->recipe, CROSSED_MOST);
  wb_report_batch_add_warnings (sheet.document, &batch);
  if (lack != NULL)
    wb_report_document_add_warning (sheet.document, lack);
  doubt = wb_craft_production_dup_pot_doubt (production->production, options->us_units);
  if (doubt != NULL)
    wb_report_document_add_warning (sheet.document, doubt);
  add_order (&sheet);
  wb_report_batch_add_basis (sheet.document, &batch);
  add_materials (&sheet);
  wb_report_pour_track_add (sheet.document, &batch, options);
  for (guint i = 0, n; (n = wb_craft_production_count_alike (production->production, i)) > 0; i += n)
    add_melts (&sheet, i, n);
  return sheet.document;
}
