/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-report.h"

#include "wb-craft-method.h"
#include "wb-report-production.h"
#include "wb-report-recipe-card.h"

#include <math.h>
#include <string.h>

/* The papers of a decision: recipe card and production sheet. */

typedef struct
{
  WbCraftAnswer     *answer;
  WbDecision        *decision;
  GPtrArray         *steps;
  WbCraftBatchLine   line;
  WbCraftBatchInput  input;
  WbCraftBatchSheet *sheet;
  WbReportRecipe     recipe;
  WbReportOptions    options;
  const char        *wax_lot; /* of a production sheet; NULL: none is told */
} Paper;

static void
add_step (Paper *paper,
          int    kind,
          double to_c,
          double minutes)
{
  WbBatchStep *step = wb_record_new (&wb_batch_step_type);

  step->position = paper->steps->len + 1;
  step->kind = kind;
  step->to_c = to_c;
  step->minutes = minutes;
  g_ptr_array_add (paper->steps, step);
}

/* One candle of 182 g, 8 % of the wax. Takes the answer. */
static void
paper_init (Paper         *paper,
            WbCraftAnswer *answer)
{
  *paper = (Paper) { .answer = answer, .steps = g_ptr_array_new_with_free_func (wb_record_free) };
  paper->decision = wb_record_new (&wb_decision_type);
  paper->decision->cell = wb_dataset_get_cell (answer->data, 0)->record.id;
  paper->decision->signed_by = g_strdup ("Ada Wren");
  paper->decision->rests_on = g_strdup ("Three samples burnt to 10 mm.");
  paper->decision->crossed = g_strdup ("A limit was crossed in CF-9: outside wall 90 °C.");
  paper->decision->not_tested = g_strdup ("Draught; stability on a slope.");
  paper->decision->holds_until = g_strdup ("Another lot of wax.");
  paper->decision->conditions = g_strdup ("Trimmed before each burn.");
  add_step (paper, WB_STEP_HEAT, 85, NAN);
  add_step (paper, WB_STEP_FRAGRANCE, 70, 2);
  add_step (paper, WB_STEP_POUR, 62, NAN);
  paper->line = (WbCraftBatchLine) { wb_dataset_get_vessel (answer->data, 0), 1, 182 };
  paper->input = (WbCraftBatchInput) {
    .lines = &paper->line, .n_lines = 1, .load_pct = 8, .load_basis = WB_BASIS_WAX, .resolution_g = 0.1, .dye_pct = NAN, .dye_drops_per_kg = NAN,
    .drop_g = NAN, .additive_pct = NAN, .wax = answer->data->wax, .specific_gravity = 0.9,
  };
  paper->sheet = wb_craft_batch_sheet_new (&paper->input, NULL);
  g_assert_nonnull (paper->sheet);
  paper->recipe = (WbReportRecipe) { answer->data, paper->decision, 0, paper->steps, paper->sheet, NULL, WB_CRAFT_STANDING_STANDS, NULL, "It stands as it was signed." };
  report_bench_options (&paper->options);
}

static void
paper_clear (Paper *paper)
{
  wb_record_free (paper->decision);
  g_ptr_array_unref (paper->steps);
  wb_craft_batch_sheet_free (paper->sheet);
  wb_craft_answer_unref (paper->answer);
}

static char **
read_card (const Paper *paper)
{
  g_autoptr (WbReportDocument) document = wb_report_recipe_card_new (&paper->recipe, &paper->options);
  g_autoptr (GBytes) pdf = test_report_print (document);

  return test_report_read (pdf);
}

static char **
read_production (Paper *paper,
                 guint  vessels,
                 double pot_g)
{
  g_autoptr (WbCraftProduction) production = NULL;
  g_autoptr (WbReportDocument) document = NULL;
  g_autoptr (GBytes) pdf = NULL;
  WbReportProduction sheet = { .recipe = paper->recipe, .overage_pct = 5, .wax_lot = paper->wax_lot };

  paper->input.overage_pct = 5;
  production = wb_craft_production_new (&paper->input, vessels, pot_g, NULL);
  g_assert_nonnull (production);
  sheet.production = production;
  document = wb_report_production_new (&sheet, &paper->options);
  pdf = test_report_print (document);
  return test_report_read (pdf);
}

static void
check_says (char      **pages,
            const char *text)
{
  if (!test_report_says (pages, -1, text))
    g_error ("“%s” is not in: %s", text, pages[0]);
}

static void
test_card (void)
{
  /* 182 g of 8 % of the wax: 182 ÷ 1.08 = 168.5 g of wax, 13.5 g of oil. Worked by hand. */
  static const char *const said[] = {
    "Recipe card", "Approved by Ada Wren", "It stands as it was signed.", "182.0 g of wax and oil", "wax 168.5 g, oil 13.5 g", "8 % of the wax",
    "1. Heat the wax", "85 °C", "2. Fragrance in", "70 °C · 2 min", "3. Pour", "62 °C", "before it is burnt", "Lots approved", "Conditions", "Trimmed before each burn.",
    "Limits crossed", "A limit was crossed in CF-9: outside wall 90 °C.", "Three samples burnt to 10 mm.", "Not tested", "Draught; stability on a slope.", "Another lot of wax.", "Trim the wick to 6 mm before each burn.",
    "Burn it no longer than 4 h at a time", "Stop using it when 13 mm of wax is left.", "WARNING Burn within sight.", "Never put water on burning wax", "Page 1 of 1",
  };
  Paper paper;
  g_auto (GStrv) pages = NULL;

  paper_init (&paper, wb_craft_answer_ref (report_bench_answer_get ()));
  pages = read_card (&paper);
  for (guint i = 0; i < G_N_ELEMENTS (said); i++)
    check_says (pages, said[i]);
  g_assert_false (test_report_says (pages, -1, "There is more of it in the notebook"));
  /* nothing on it calls the candle safe */
  g_assert_null (strstr (pages[0], " safe"));
  paper_clear (&paper);
}

/* Nobody is told that longer was not tried where it was; how long a burn may be stays as it was signed. */
static void
test_card_of_power_burns (void)
{
  Paper paper;
  WbBurn *burn;
  g_auto (GStrv) before = NULL, after = NULL;

  paper_init (&paper, wb_craft_answer_ref (report_bench_answer_get ()));
  burn = g_ptr_array_index (paper.answer->data->burns, 0);
  g_assert_cmpuint (g_array_index (paper.answer->data->sample_cell, guint, g_array_index (paper.answer->data->burn_sample, guint, 0)), ==, 0);
  before = read_card (&paper);
  check_says (before, "Burn it no longer than 4 h at a time: longer was not tested.");
  burn->kind = WB_BURN_POWER;
  after = read_card (&paper);
  burn->kind = WB_BURN_STANDARD;
  check_says (after, "Burn it no longer than 4 h at a time.");
  g_assert_false (test_report_says (after, -1, "longer was not tested"));
  paper_clear (&paper);
}

/* The protocol was changed since: the card tells that of the signature. */
static void
test_card_of_then (void)
{
  Paper paper;
  g_autoptr (WbRecord) then = NULL;
  g_auto (GStrv) pages = NULL;

  paper_init (&paper, wb_craft_answer_ref (report_bench_answer_get ()));
  then = wb_record_copy (paper.answer->data->protocol);
  ((WbProtocol *) (gpointer) then)->trim_mm = 5;
  ((WbProtocol *) (gpointer) then)->burn_s = 3 * 3600;
  paper.recipe.protocol = (const WbProtocol *) (gpointer) then;
  pages = read_card (&paper);
  check_says (pages, "Trim the wick to 5 mm before each burn.");
  check_says (pages, "Burn it no longer than 3 h at a time");
  g_assert_false (test_report_says (pages, -1, "6 mm"));
  paper_clear (&paper);
}

static void
set_texts (WbDecision *decision,
           const char *sentence,
           guint       times)
{
  char **texts[] = { &decision->rests_on, &decision->not_tested, &decision->holds_until, &decision->conditions, &decision->against, &decision->note };

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      GString *text = g_string_new (NULL);

      for (guint k = 0; k < times; k++)
        g_string_append_printf (text, "%s%u.%u %s", k > 0 ? " " : "", i + 1, k + 1, sentence);
      g_free (*texts[i]);
      *texts[i] = g_string_free (text, FALSE);
    }
}

/*
 * What its maker wrote is whole as long as one page holds it; then lots, reasons and note are cut at the end of a sentence, and what was
 * not tested (2), what ends it (3) and the conditions (4) never are: rather has it further pages.
 */
static void
test_card_cuts_no_caution (void)
{
  static const char sentence[] = "The candle was burnt in a room of 20 to 24 degrees without draught and stood on a level tray.";
  const struct { guint times; gboolean one_page; } cases[] = { { 1, TRUE }, { 2, TRUE }, { 60, FALSE } };
  Paper paper;

  paper_init (&paper, wb_craft_answer_ref (report_bench_answer_get ()));
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    for (int size = WB_REPORT_A4; size <= WB_REPORT_LETTER; size++)
      for (int us = 0; us < 2; us++)
        {
          g_auto (GStrv) pages = NULL;

          g_test_message ("%u sentences, paper %d, us %d", cases[i].times, size, us);
          set_texts (paper.decision, sentence, cases[i].times);
          paper.options.paper = (WbReportPaper) size;
          paper.options.us_units = us;
          pages = read_card (&paper);
          g_assert_cmpint (test_report_says (pages, -1, "Page 1 of 1"), ==, cases[i].one_page);
          for (guint text = 1; text <= 6; text++)
            for (guint k = 1; k <= cases[i].times; k++)
              {
                g_autofree char *start = g_strdup_printf ("%u.%u The candle", text, k);

                if (text >= 2 && text <= 4)
                  check_says (pages, start);
              }
          check_says (pages, "leave and call the fire service.");
        }
  paper_clear (&paper);
}

/* Reason and note give way before a second page is begun; cautions do not. */
static void
test_card_cuts_reasons_first (void)
{
  static const char sentence[] = "The candle was burnt in a room of 20 to 24 degrees without draught and stood on a level tray.";
  Paper paper;
  g_auto (GStrv) pages = NULL;
  GString *reason = g_string_new (NULL);

  paper_init (&paper, wb_craft_answer_ref (report_bench_answer_get ()));
  set_texts (paper.decision, sentence, 3);
  for (guint i = 0; i < 60; i++)
    g_string_append_printf (reason, "1.%u %s ", i + 1, sentence);
  g_free (paper.decision->rests_on);
  paper.decision->rests_on = g_string_free (reason, FALSE);
  pages = read_card (&paper);
  check_says (pages, "Page 1 of 1");
  check_says (pages, "There is more of it in the notebook");
  check_says (pages, "2.3 The candle");
  check_says (pages, "3.3 The candle");
  check_says (pages, "4.3 The candle");
  paper_clear (&paper);
}

/* From day 20440 to the first burn on day 20475. */
#define TESTED_CURE "35"

/* The longer cure of the burns and of the sheet is the one of both papers; a burn after the signature is none of them. */
static void
test_cure (void)
{
  Paper paper;
  WbWax *wax;
  double sheet_days;
  g_auto (GStrv) card = NULL, order = NULL, longer = NULL, unburnt = NULL;

  paper_init (&paper, wb_craft_answer_ref (report_bench_answer_get ()));
  add_step (&paper, WB_STEP_CURE, NAN, NAN);
  wax = paper.answer->data->wax;
  sheet_days = wax->burn_cure_days;
  wax->burn_cure_days = 2;
  card = read_card (&paper);
  order = read_production (&paper, 4, NAN);
  wax->burn_cure_days = 90;
  longer = read_card (&paper);
  paper.decision->signed_at = (WbInstant) { G_USEC_PER_SEC, 0, TRUE };
  unburnt = read_card (&paper);
  wax->burn_cure_days = sheet_days;
  check_says (card, "Cure: at least " TESTED_CURE " d before it is burnt, as it was tested. The material's sheet says 2 d, but so short a cure was not tested.");
  check_says (order, "Cure: at least " TESTED_CURE " d before it is burnt, as it was tested.");
  check_says (order, "4. Cure " TESTED_CURE " days");
  g_assert_false (test_report_says (order, -1, "fit to burn after"));
  check_says (unburnt, "How long the burnt candles had cured is not on record.");
  check_says (longer, "Cure: at least 90 d before it is burnt, as the material's sheet says. It was burnt from " TESTED_CURE " d on.");
  paper_clear (&paper);
}

/* A fill beside all that was burnt is a warning on both papers; the scatter of the scale is none. */
static void
test_fill (void)
{
  Paper paper;
  g_auto (GStrv) within = NULL, card = NULL, order = NULL;
  WbDataset *data;

  paper_init (&paper, wb_craft_answer_ref (report_bench_answer_get ()));
  data = paper.answer->data;
  for (guint i = 0; i < data->samples->len; i++)
    ((WbSample *) g_ptr_array_index (data->samples, i))->fill_g = 182.4 + (i % 2);
  within = read_card (&paper);
  for (guint i = 0; i < data->samples->len; i++)
    ((WbSample *) g_ptr_array_index (data->samples, i))->fill_g = 200 + (i % 2);
  card = read_card (&paper);
  order = read_production (&paper, 4, NAN);
  for (guint i = 0; i < data->samples->len; i++)
    ((WbSample *) g_ptr_array_index (data->samples, i))->fill_g = 182;
  check_says (within, "Fill as tested");
  g_assert_false (test_report_says (within, -1, "is not covered by the signature"));
  check_says (card, "WARNING A fill of 182.0 g is not covered by the signature");
  check_says (order, "WARNING A fill of 182.0 g is not covered by the signature");
  paper_clear (&paper);
}

/* 48 × 182 g × 1.05 = 9172.8 g: one pot does not hold that unless somebody says so. */
static void
test_pot (void)
{
  Paper paper;
  g_auto (GStrv) asked = NULL, told = NULL, few = NULL;

  paper_init (&paper, wb_craft_answer_ref (report_bench_answer_get ()));
  asked = read_production (&paper, 48, NAN);
  told = read_production (&paper, 48, 20000);
  few = read_production (&paper, 4, NAN);
  check_says (asked, "WARNING What the pot holds was not told, so that all 9172.8 g stand as one melt.");
  /* 15 × 182 × 1.05 = 2866.5 g is the most below 3000 g */
  check_says (asked, "it would be 4 melts.");
  g_assert_false (test_report_says (told, -1, "What the pot holds was not told"));
  g_assert_false (test_report_says (few, -1, "What the pot holds was not told"));
  check_says (few, "Wick set, and fixed with in the middle");
  paper_clear (&paper);
}

/* One word of 3,000 letters, names of 200 in every material, 14 steps. */
static void
test_card_takes_anything (void)
{
  g_autofree char *name = g_strnfill (200, 'n'), *word = g_strnfill (3000, 'w');
  Paper paper;

  paper_init (&paper, report_bench_named_new (name));
  for (guint i = 0; i < 11; i++)
    add_step (&paper, WB_STEP_OTHER, 60, 5);
  set_texts (paper.decision, word, 1);
  for (int size = WB_REPORT_A4; size <= WB_REPORT_LETTER; size++)
    {
      g_auto (GStrv) pages = NULL;

      paper.options.paper = (WbReportPaper) size;
      pages = read_card (&paper);
      check_says (pages, "14.");
      check_says (pages, "WARNING");
    }
  paper_clear (&paper);
}

static void
test_reopened (void)
{
  Paper paper;
  g_auto (GStrv) pages = NULL;

  paper_init (&paper, wb_craft_answer_ref (report_bench_answer_get ()));
  paper.recipe.standing = WB_CRAFT_STANDING_REOPENED;
  paper.recipe.state = "Reopened: wax lot W-112 is new.";
  pages = read_card (&paper);
  check_says (pages, "WARNING Reopened: wax lot W-112 is new. Sell or give away no candle that is poured by this paper.");
  paper_clear (&paper);
}

/* Each crossing is a warning at the head of both papers, a crack first, however much else was written. */
static void
test_crossed (void)
{
  static const char said[] = "WARNING Limits crossed: A limit was crossed in CF-9: the vessel cracked in burn 3 of sample T5-4. "
    "A sample that was set aside crossed a limit: flame height 61 mm at 60 min of burn 1 of sample T5-1: over the house limit of 50 mm. "
    "A limit was crossed in CF-9: glass 91 °C of sample T5-3.";
  Paper paper;
  g_auto (GStrv) card = NULL, sheet = NULL;

  paper_init (&paper, wb_craft_answer_ref (report_bench_answer_get ()));
  g_free (paper.decision->crossed);
  paper.decision->crossed = g_strdup ("A sample that was set aside crossed a limit: flame height 61 mm at 60 min of burn 1 of sample T5-1: over the house limit of 50 mm.\n"
                                      "A limit was crossed in CF-9: glass 91 °C of sample T5-3.\n"
                                      "A limit was crossed in CF-9: the vessel cracked in burn 3 of sample T5-4.");
  set_texts (paper.decision, "The candle was burnt in a room of 20 to 24 degrees without draught and stood on a level tray.", 40);
  card = read_card (&paper);
  check_says (card, said);
  check_says (card, "There is more of it in the notebook");
  sheet = read_production (&paper, 4, NAN);
  check_says (sheet, said);
  paper_clear (&paper);
}

/* A lot is planned, and which was taken is written beside it; of each of several melts too. */
static void
test_lots_by_hand (void)
{
  Paper paper;
  g_auto (GStrv) one = NULL, told = NULL, several = NULL;

  paper_init (&paper, wb_craft_answer_ref (report_bench_answer_get ()));
  one = read_production (&paper, 4, NAN);
  check_says (one, "Lot used, written by hand");
  g_assert_false (test_report_says (one, -1, "Lot to be used"));
  paper.wax_lot = "W-107";
  told = read_production (&paper, 4, NAN);
  check_says (told, "Lot to be used");
  check_says (told, "W-107");
  check_says (told, "Lot used, written by hand");
  several = read_production (&paper, 25, 2000);
  check_says (several, "its lot, written by hand");
  check_says (several, "Under each melt write what was really weighed");
  paper_clear (&paper);
}

/* A lot that was not burnt is a warning on both papers, and stands beside the lots approved, for whoever takes one off the shelf. */
static void
test_not_burnt (void)
{
  Paper paper;
  g_auto (GStrv) card = NULL, sheet = NULL;
  g_autoptr (GPtrArray) changes = g_ptr_array_new ();
  WbCraftTouched change = { .kind = WB_CRAFT_TOUCHED_NOT_BURNT, .what = (char *) "Wax lot W-112 is here", .lot = (char *) "W-112" };

  paper_init (&paper, wb_craft_answer_ref (report_bench_answer_get ()));
  change.part = paper.answer->data->wax->record.id;
  g_ptr_array_add (changes, &change);
  paper.recipe.standing = WB_CRAFT_STANDING_IN_PART;
  paper.recipe.state = "It stands for the lots that were burnt, and for no other.";
  paper.recipe.changes = changes;
  card = read_card (&paper);
  check_says (card, "WARNING It stands for the lots that were burnt, and for no other.");
  check_says (card, "Lots not approved W-112");
  g_assert_false (test_report_says (card, -1, "Sell or give away no candle that is poured by this paper."));
  sheet = read_production (&paper, 4, NAN);
  check_says (sheet, "WARNING It stands for the lots that were burnt, and for no other.");
  check_says (sheet, "not W-112");
  check_says (sheet, "candles of a lot that nobody noted count as candles of another lot.");
  paper_clear (&paper);
}

static void
test_unknown_fill (void)
{
  Paper paper;
  g_auto (GStrv) pages = NULL;

  paper_init (&paper, wb_craft_answer_ref (report_bench_answer_get ()));
  paper.recipe.sheet = NULL;
  paper.recipe.no_sheet = "The density of the wax is not known.";
  pages = read_card (&paper);
  check_says (pages, "The density of the wax is not known.");
  g_assert_false (test_report_says (pages, -1, "of wax and oil"));
  paper_clear (&paper);
}

/* 25 × 182 g × 1.05 in pots of 2000 g: 10 candles at most, so 9, 8 and 8. 9 × 182 = 1638.0 g, 5 % is 81.9 g. Worked by hand. */
static void
test_production (void)
{
  static const char *const said[] = {
    "Production batch sheet", "Approved by Ada Wren", "3 melts: 1 of 9 candles, 2 of 8 candles", "2000.0 g", "182.0 g", "Materials and lots", "Lots approved",
    "Lot used, written by hand", "2. Fragrance in 70 °C · 2 min", "A lot other than the approved one asks for a confirmation test", "Fragrance load: 8 % of the wax, which is 7.41 % of the total.",
    "The pour, step by step", "Water never on burning wax", "9 or 8 × ", "in each melt: 182.0 g each", "Melt 1 of 3: 9 candles", "Melts 2 to 3 of 3: 8 candles each", "9 × 182.0 g = 1638.0 g",
    "1638.0 g × 5 % = 81.9 g over", "1719.9 g", "8 × 182.0 g = 1456.0 g", "As it was done", "What came of it", "Really weighed",
  };
  Paper paper;
  g_auto (GStrv) pages = NULL;
  g_autofree char *text = NULL;
  guint tables = 0;

  paper_init (&paper, wb_craft_answer_ref (report_bench_answer_get ()));
  pages = read_production (&paper, 25, 2000);
  for (guint i = 0; i < G_N_ELEMENTS (said); i++)
    check_says (pages, said[i]);
  text = g_strjoinv ("\n", pages);
  for (const char *at = text; (at = strstr (at, "As it was done")) != NULL; at++)
    tables++;
  g_assert_cmpuint (tables, ==, 2);
  /* no line over time where the method says not how long its steps take */
  g_assert_false (test_report_says (pages, -1, "drawn ten minutes long"));
  paper_clear (&paper);
}

/* A step without a deed keeps its row, so that the numbers are those of the pour step by step; what is planned keeps its box. */
static void
test_production_numbers (void)
{
  Paper paper;
  g_auto (GStrv) pages = NULL;
  g_autofree char *text = NULL;
  const char *record;

  paper_init (&paper, wb_craft_answer_ref (report_bench_answer_get ()));
  add_step (&paper, WB_STEP_SET, NAN, NAN);
  add_step (&paper, WB_STEP_TOP_UP, 64, NAN);
  pages = read_production (&paper, 4, NAN);
  text = g_strjoinv ("\n", pages);
  record = strstr (text, "As it was done");
  g_assert_nonnull (record);
  for (guint i = 0; i < paper.steps->len; i++)
    {
      g_autofree char *title = wb_craft_method_dup_title (((const WbBatchStep *) paper.steps->pdata[i])->kind);
      g_autofree char *name = g_strdup_printf ("%u. %s", i + 1, title);

      g_assert_nonnull (strstr (record, name));
    }
  paper_clear (&paper);
}

/* The wax's own limit and the fragrance's are held against the order as against any batch. */
static void
test_production_warns (void)
{
  Paper paper;
  g_auto (GStrv) pages = NULL;
  WbWax wax;
  WbFragrance fragrance = { .name = (char *) "Quimber leaf", .ifra_limit_pct = 5, .flash_c = NAN, .density = NAN };

  paper_init (&paper, wb_craft_answer_ref (report_bench_answer_get ()));
  wax = *paper.answer->data->wax;
  wax.max_load_pct = 6;
  wax.max_load_basis = WB_BASIS_WAX;
  paper.input.wax = &wax;
  paper.input.fragrance = &fragrance;
  pages = read_production (&paper, 4, NAN);
  check_says (pages, "One melt of 4 candles");
  check_says (pages, "A load of 8 % of the wax is more than this wax holds by its supplier: 6 %.");
  check_says (pages, "IFRA");
  paper_clear (&paper);
}

void
test_decision_papers_add (void)
{
  g_test_add_func ("/report/recipe-card/all-of-the-recipe-stands-on-it", test_card);
  g_test_add_func ("/report/recipe-card/that-longer-was-not-tested-is-said-only-where-it-was-not", test_card_of_power_burns);
  g_test_add_func ("/report/recipe-card/the-protocol-is-that-of-the-signature", test_card_of_then);
  g_test_add_func ("/report/recipe-card/cautions-are-never-cut", test_card_cuts_no_caution);
  g_test_add_func ("/report/recipe-card/reasons-give-way-before-a-second-page", test_card_cuts_reasons_first);
  g_test_add_func ("/report/decision-papers/the-cure-is-the-one-that-was-tested", test_cure);
  g_test_add_func ("/report/decision-papers/a-fill-beside-what-was-burnt-is-a-warning", test_fill);
  g_test_add_func ("/report/decision-papers/a-melt-too-heavy-for-a-pot-is-asked-about", test_pot);
  g_test_add_func ("/report/recipe-card/long-words-and-names-fit", test_card_takes_anything);
  g_test_add_func ("/report/recipe-card/what-reopened-it-is-a-warning", test_reopened);
  g_test_add_func ("/report/recipe-card/a-lot-that-was-not-burnt-is-a-warning", test_not_burnt);
  g_test_add_func ("/report/recipe-card/each-crossing-is-a-warning", test_crossed);
  g_test_add_func ("/report/production/the-lot-that-was-taken-has-its-place", test_lots_by_hand);
  g_test_add_func ("/report/recipe-card/a-fill-that-is-not-known-says-why", test_unknown_fill);
  g_test_add_func ("/report/production/vessels-are-shared-out-and-lots-are-asked-for", test_production);
  g_test_add_func ("/report/production/no-step-s-number-is-left-out", test_production_numbers);
  g_test_add_func ("/report/production/a-load-above-a-limit-is-told", test_production_warns);
}
