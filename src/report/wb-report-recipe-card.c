/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-recipe-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "wb-craft-covered.h"
#include "wb-craft-decision.h"
#include "wb-craft-lot-part.h"
#include "wb-craft-method.h"
#include "wb-report-cautions-private.h"
#include "wb-report-options-private.h"
#include "wb-report-words-private.h"

/* Characters of one text: a table's cell would be cut behind a few more. */
#define TEXT_MOST 1400

/* Characters of one crossing that stand on it whatever else is shortened: limit, value and sample. */
#define CROSSED_LEAST 160

/*
 * How small the card may become, and then how much stands on it of lots, reasons and a note: the first that gives one page is taken. What
 * was not tested, what was crossed, the conditions and what ends the approval are never shortened: rather than that, it goes on to
 * further pages, at a size that reads well.
 */
static const struct { double scale; int most; } fits[] = {
  { 1, TEXT_MOST }, { 0.95, TEXT_MOST }, { 0.9, TEXT_MOST }, { 0.85, TEXT_MOST }, { 0.8, TEXT_MOST },
  { 0.8, 700 }, { 0.8, 450 }, { 0.8, 300 }, { 0.8, 200 }, { 0.8, 120 }, { 0.75, 120 }, { 0.75, 80 },
};

/* Of a card of several pages, whose size nobody has to fit. */
#define MORE_PAGES_SCALE 0.9

/* The card while it is written. */
typedef struct
{
  WbReportDocument      *document;
  const WbReportRecipe  *recipe;
  const WbReportOptions *options;
  const WbCraftCovered  *covered;
  int                    most; /* characters of lots, of reasons and of a note; all else is whole */
} Card;

/* ---- Long texts ---- */

/* The last place up to `most` behind which a sentence has ended, or else a word; in bytes. */
static gsize
find_end (const char *text,
          glong       most)
{
  const char *end = g_utf8_offset_to_pointer (text, most);
  gsize sentence = 0, word = 0;

  for (const char *at = text; at < end; at = g_utf8_next_char (at))
    {
      const char *next = g_utf8_next_char (at);

      if ((*at == '.' || *at == ';' || *at == '\n') && (*next == ' ' || *next == '\n'))
        sentence = (gsize) (next - text);
      if (*at == ' ' || *at == '\n')
        word = (gsize) (at - text);
    }
  return sentence > 0 ? sentence : word > 0 ? word : (gsize) (end - text);
}

/* Whole, or its first sentences and where the rest is. NULL stays NULL. */
static char *
dup_short (const Card *card,
           const char *text)
{
  g_autofree char *start = NULL;

  if (text == NULL || *text == '\0')
    return NULL;
  if (g_utf8_strlen (text, -1) <= card->most)
    return g_strdup (text);
  start = g_strchomp (g_strndup (text, find_end (text, card->most)));
  /* Translators: the beginning of a longer text. */
  return g_strdup_printf (_("%s … (There is more of it in the notebook, with the decision.)"), start);
}

/* ---- The recipe ---- */

/* Two facts a row; an empty value is no fact. */
typedef struct { WbReportTable *table; const char *what; char *value; } Pairs;

static Pairs
pairs_new (void)
{
  static const WbReportAlign aligns[] = { WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT };
  static const double shares[] = { 1, 2, 1, 1.8 };

  return (Pairs) { wb_report_table_new (G_N_ELEMENTS (shares), NULL, aligns, shares), NULL, NULL };
}

static void
pairs_flush (Pairs      *pairs,
             const char *what,
             const char *value)
{
  const char *cells[] = { pairs->what, pairs->value, what, value };

  wb_report_table_add_row (pairs->table, cells, FALSE);
  pairs->what = NULL;
  g_clear_pointer (&pairs->value, g_free);
}

static void
pairs_add (Pairs      *pairs,
           const char *what,
           const char *value)
{
  if (value == NULL || *value == '\0')
    return;
  if (pairs->what != NULL)
    {
      pairs_flush (pairs, what, value);
      return;
    }
  pairs->what = what;
  pairs->value = g_strdup (value);
}

static char *
dup_fill (const Card *card)
{
  const WbReportRecipe *recipe = card->recipe;
  g_autofree char *mass = NULL;

  if (recipe->sheet == NULL)
    return g_strdup (recipe->no_sheet);
  mass = wb_craft_batch_dup_mass (recipe->sheet, recipe->sheet->total_g, card->options->us_units);
  return g_strdup_printf (recipe->sheet->additive_g > 0 ? _("%s of wax, oil and additive") : recipe->sheet->oil_g > 0 ? _("%s of wax and oil") : _("%s of wax"),
                          mass);
}

/* What one candle is made of, as the balance shows it. */
static char *
dup_masses (const Card *card)
{
  const WbCraftBatchSheet *sheet = card->recipe->sheet;
  g_autofree char *wax = NULL, *oil = NULL, *additive = NULL;

  if (sheet == NULL)
    return NULL;
  wax = wb_craft_batch_dup_mass (sheet, sheet->wax_g, card->options->us_units);
  oil = wb_craft_batch_dup_mass (sheet, sheet->oil_g, card->options->us_units);
  if (!(sheet->additive_g > 0))
    return sheet->oil_g > 0 ? g_strdup_printf (_("wax %s, oil %s"), wax, oil) : NULL;
  additive = wb_craft_batch_dup_mass (sheet, sheet->additive_g, card->options->us_units);
  return sheet->oil_g > 0 ? g_strdup_printf (_("wax %s, oil %s, additive %s"), wax, oil, additive) : g_strdup_printf (_("wax %s, additive %s"), wax, additive);
}

/* The oils of a blend in one candle; NULL: it is none. */
static char *
dup_oils (const Card *card)
{
  const WbCraftBatchSheet *sheet = card->recipe->sheet;
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; sheet != NULL && i < sheet->oil_parts->len; i++)
    {
      const WbCraftPartMass *part = &g_array_index (sheet->oil_parts, WbCraftPartMass, i);
      g_autofree char *mass = wb_craft_batch_dup_mass (sheet, part->g, card->options->us_units);

      g_string_append_printf (text, "%s%s %s", i > 0 ? "; " : "", part->name, mass);
    }
  return text->len > 0 ? g_string_free (g_steal_pointer (&text), FALSE) : NULL;
}

static char *
dup_length (const Card *card,
            double      mm)
{
  return isfinite (mm) ? wb_report_dup_set (card->options->us_units, WB_UNIT_MM, mm) : NULL;
}

/* Beside the conditions that were signed stands what the protocol asked then. */
static const WbProtocol *
get_protocol (const WbReportRecipe *recipe)
{
  return recipe->protocol != NULL ? recipe->protocol : recipe->data->protocol;
}

static void
add_facts (const Card *card)
{
  const WbReportRecipe *recipe = card->recipe;
  const WbVessel *vessel = wb_dataset_get_vessel (recipe->data, recipe->cell);
  g_autofree char *vessel_name = wb_material_dup_title (vessel), *wick = wb_report_recipe_dup_wick (recipe, card->options);
  g_autofree char *scent = wb_report_recipe_dup_scent (recipe), *dye = wb_report_recipe_dup_dye (recipe), *additive = wb_report_recipe_dup_additive (recipe);
  g_autofree char *fill = dup_fill (card), *masses = dup_masses (card), *height = dup_length (card, vessel->wax_height_mm);
  g_autofree char *oils = dup_oils (card), *headspace = dup_length (card, vessel->headspace_mm), *trim = dup_length (card, get_protocol (recipe)->trim_mm);
  g_autofree char *tested = wb_craft_covered_dup_fill (card->covered, card->options->us_units), *lack = NULL;
  Pairs pairs = pairs_new ();

  pairs_add (&pairs, _("Vessel"), vessel_name);
  pairs_add (&pairs, _("Fill of one"), fill);
  pairs_add (&pairs, _("Fill as tested"), tested);
  pairs_add (&pairs, _("Wick"), wick);
  pairs_add (&pairs, _("In it"), masses);
  pairs_add (&pairs, _("Trim to"), trim);
  pairs_add (&pairs, _("Height of wax"), height);
  pairs_add (&pairs, _("Wax"), recipe->data->wax != NULL ? recipe->data->wax->name : NULL);
  pairs_add (&pairs, _("Headspace"), headspace);
  pairs_add (&pairs, _("Fragrance"), scent);
  pairs_add (&pairs, _("Oils of the blend"), oils);
  pairs_add (&pairs, _("Dye"), dye);
  pairs_add (&pairs, _("Additive"), additive);
  if (pairs.what != NULL)
    pairs_flush (&pairs, NULL, NULL);
  wb_report_document_add_heading (card->document, 2, _("Recipe"));
  wb_report_document_add_table (card->document, pairs.table);
  if (recipe->sheet != NULL)
    lack = wb_craft_covered_dup_fill_lack (card->covered, recipe->sheet->total_g, card->options->us_units);
  if (lack != NULL)
    wb_report_document_add_warning (card->document, lack);
  if (recipe->sheet != NULL && recipe->sheet->oil_g > 0)
    wb_report_document_add_paragraph (card->document, WB_REPORT_TEXT_BODY, recipe->sheet->basis);
  for (guint i = 0; recipe->sheet != NULL && i < recipe->sheet->warnings->len; i++)
    wb_report_document_add_paragraph (card->document, WB_REPORT_TEXT_STRONG,
                                      ((const WbCraftWarning *) g_ptr_array_index (recipe->sheet->warnings, i))->text);
}

/* ---- Pour and cure ---- */

/* "2. Heat the wax", "75 °C · 10 min"; the second is empty where nothing is asked. */
static void
fill_step (const Card        *card,
           const WbBatchStep *step,
           char             **cells)
{
  g_autofree char *title = wb_craft_method_dup_title (step->kind);

  cells[0] = g_strdup_printf ("%d. %s", (int) step->position, title);
  cells[1] = wb_report_recipe_dup_planned (step, card->options);
}

static void
add_pour (const Card *card)
{
  static const WbReportAlign aligns[] = { WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT };
  static const double shares[] = { 1.6, 1.2, 1.6, 1.2 };
  const GPtrArray *steps = card->recipe->steps;
  g_autofree char *cure = wb_craft_covered_dup_cure (card->covered);
  WbReportTable *table;

  wb_report_document_add_heading (card->document, 2, _("Pour and cure"));
  table = wb_report_table_new (G_N_ELEMENTS (shares), NULL, aligns, shares);
  for (guint i = 0; i < steps->len; i += 2)
    {
      char *cells[4] = { NULL };

      fill_step (card, g_ptr_array_index (steps, i), cells);
      if (i + 1 < steps->len)
        fill_step (card, g_ptr_array_index (steps, i + 1), cells + 2);
      wb_report_table_add_row (table, (const char *const *) cells, FALSE);
      for (guint k = 0; k < G_N_ELEMENTS (cells); k++)
        g_free (cells[k]);
    }
  if (steps->len > 0)
    wb_report_document_add_table (card->document, table);
  else
    wb_report_table_free (table);
  wb_report_document_add_paragraph (card->document, WB_REPORT_TEXT_BODY, cure);
}

/* ---- How its user burns it ---- */

static gboolean
was_burnt_longer (const WbReportRecipe *recipe)
{
  const WbDataset *data = recipe->data;

  for (guint i = 0; i < data->burns->len; i++)
    if (wb_dataset_get_burn (data, i)->kind == WB_BURN_POWER
        && g_array_index (data->sample_cell, guint, g_array_index (data->burn_sample, guint, i)) == recipe->cell)
      return TRUE;
  return FALSE;
}

static void
add_user (const Card *card)
{
  wb_report_cautions_add_user (card->document, get_protocol (card->recipe), card->options->us_units,
                               wb_dataset_get_cell (card->recipe->data, card->recipe->cell)->wick_count > 1, was_burnt_longer (card->recipe));
}

/* ---- The approval ---- */

static void
add_fact (WbReportTable *table,
          const char    *what,
          const char    *value)
{
  const char *cells[] = { what, value };

  if (value != NULL)
    wb_report_table_add_row (table, cells, FALSE);
}

/* As many rows as it takes: a cell would be cut. */
static void
add_whole (WbReportTable *table,
           const char    *what,
           const char    *text)
{
  while (text != NULL && *text != '\0')
    {
      gsize end = g_utf8_strlen (text, -1) > TEXT_MOST ? find_end (text, TEXT_MOST) : strlen (text);
      g_autofree char *piece = g_strstrip (g_strndup (text, end));

      add_fact (table, what, piece);
      what = NULL;
      text += end;
    }
}

static void
add_approval (const Card *card)
{
  static const WbReportAlign aligns[] = { WB_REPORT_LEFT, WB_REPORT_LEFT };
  static const double shares[] = { 1, 4.8 };
  const WbDecision *decision = card->recipe->decision;
  WbReportTable *table = wb_report_table_new (2, NULL, aligns, shares);
  g_autoptr (GPtrArray) parts = wb_craft_lot_parts_of_decision (card->recipe->data, decision);
  g_autofree char *all_lots = wb_craft_lot_parts_dup_text (parts), *lots = dup_short (card, all_lots);
  g_autofree char *all_rests_on = wb_craft_decision_dup_stored (decision->rests_on), *rests_on = dup_short (card, all_rests_on);
  g_autofree char *conditions = wb_craft_decision_dup_stored (decision->conditions), *until = wb_craft_decision_dup_stored (decision->holds_until);
  g_autofree char *not_tested = wb_craft_decision_dup_stored (decision->not_tested), *against = dup_short (card, decision->against);
  /* it ends what it rests on, and stands by itself where that was shortened */
  g_autofree char *signed_verdict = wb_craft_decision_dup_signed (decision);
  g_autofree char *uncovered = wb_report_recipe_dup_uncovered (card->recipe, 0);
  g_autofree char *note = dup_short (card, decision->note);
  gboolean tells_untested = not_tested != NULL && *not_tested != '\0';

  wb_report_document_add_heading (card->document, 2, _("What the approval rests on"));
  add_fact (table, _("Lots approved"), lots != NULL ? lots : _("No lot is on record: whichever is poured asks for a test of its own."));
  add_fact (table, _("Lots not approved"), uncovered);
  add_whole (table, _("Conditions"), conditions);
  add_fact (table, _("Signed against"), against);
  if (g_strcmp0 (rests_on, all_rests_on) != 0)
    add_fact (table, _("Verdict when it was signed"), signed_verdict);
  add_fact (table, _("It rests on"), rests_on);
  add_whole (table, _("Not tested"), tells_untested ? not_tested : _("Nothing was written down."));
  add_whole (table, _("Holds until"), until);
  add_fact (table, _("Note"), note);
  wb_report_document_add_table (card->document, table);
}

static void
add_maker (const Card *card)
{
  wb_report_document_add_heading (card->document, 2, _("At the pouring table"));
  wb_report_document_add_warning (card->document,
                                  _("Never leave melting wax. Melt in a double boiler or under a thermostat, with a thermometer. Never put water on burning wax: "
                                    "smother it, or use a dry-chemical or CO₂ extinguisher; if it does not go out, leave and call the fire service."));
  if (card->recipe->sheet != NULL && card->recipe->sheet->oil_g > 0)
    wb_report_document_add_paragraph (card->document, WB_REPORT_TEXT_BODY, wb_craft_method_get_caution_of_oil ());
}

static WbReportDocument *
make (const WbReportRecipe  *recipe,
      const WbReportOptions *options,
      const WbCraftCovered  *covered,
      double                 scale,
      int                    most)
{
  g_autofree char *name = wb_report_recipe_dup_name (recipe);
  g_autofree char *title = wb_report_dup_clipped (name, most == TEXT_MOST ? 160 : 90);
  g_autofree char *by = wb_report_recipe_dup_signed (recipe), *day = wb_report_options_dup_day (options);
  /* Translators: "Approved by ... on ..."; the day on which the card was made. */
  g_autofree char *below = g_strdup_printf (_("%s · card of %s"), by, day);
  g_autofree char *head = g_strdup_printf (_("Recipe card: %s"), title);
  Card card = { wb_report_options_begin (options, head, by, _("A maker's own test, not a certification. Suppliers' data sheets and local codes take precedence.")),
                recipe, options, covered, most };

  wb_report_document_set_scale (card.document, scale);
  wb_report_document_add_title (card.document, _("Recipe card"), below);
  wb_report_document_add_answer (card.document, NULL, title, NULL);
  wb_report_recipe_add_state (card.document, recipe);
  wb_report_recipe_add_crossed (card.document, recipe, MAX (most, CROSSED_LEAST));
  add_facts (&card);
  add_pour (&card);
  add_approval (&card);
  add_user (&card);
  add_maker (&card);
  return card.document;
}

WbReportDocument *
wb_report_recipe_card_new (const WbReportRecipe  *recipe,
                           const WbReportOptions *options)
{
  WbReportDocument *document;
  WbCraftCovered covered;

  g_return_val_if_fail (recipe != NULL && recipe->data != NULL && recipe->decision != NULL && recipe->cell < recipe->data->cells->len, NULL);
  g_return_val_if_fail (recipe->steps != NULL && recipe->state != NULL && options != NULL, NULL);

  wb_craft_covered_take (&covered, recipe->data, recipe->decision, recipe->cell);
  for (guint i = 0; i < G_N_ELEMENTS (fits); i++)
    {
      document = make (recipe, options, &covered, fits[i].scale, fits[i].most);
      if (wb_report_document_get_n_pages (document) == 1)
        return document;
      wb_report_document_free (document);
    }
  return make (recipe, options, &covered, MORE_PAGES_SCALE, TEXT_MOST);
}
