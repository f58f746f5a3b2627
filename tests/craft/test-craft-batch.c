/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "wb-craft-batch.h"

/* Worked figures of common practice: 214 g of water at 0.85 is 181.9 g; 12.85 oz at 0.89 is 11.4365 oz. */
static void
test_fill (void)
{
  const struct { double water, gravity, fill; } cases[] = {
    { 214, 0.85, 181.9 },
    { 12.85, 0.89, 11.4365 },
    { 0, 0.85, NAN },
    { 214, 0, NAN },
    { -1, 0.85, NAN },
    { NAN, 0.85, NAN },
    { INFINITY, 0.85, NAN },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double fill = wb_craft_batch_fill_g (cases[i].water, cases[i].gravity);

      g_test_message ("%g × %g", cases[i].water, cases[i].gravity);
      if (isnan (cases[i].fill))
        g_assert_true (isnan (fill));
      else
        g_assert_cmpfloat_with_epsilon (fill, cases[i].fill, 1e-9);
    }
}

/* t = w/(1+w): arithmetic. 1 oz per lb is 1/16 of the wax. */
static void
test_bases_of_load (void)
{
  g_assert_cmpfloat_with_epsilon (wb_craft_load_to_total_pct (10), 9.0909, 1e-4);
  g_assert_cmpfloat_with_epsilon (wb_craft_load_to_wax_pct (10), 11.1111, 1e-4);
  for (double load = 0; load < 30; load += 1.7)
    g_assert_cmpfloat_with_epsilon (wb_craft_load_to_wax_pct (wb_craft_load_to_total_pct (load)), load, 1e-9);
  g_assert_true (isnan (wb_craft_load_to_wax_pct (100)));
  g_assert_true (isnan (wb_craft_load_to_total_pct (-1)));
}

static WbCraftBatchLine the_line;

/* Three candles of 182 g. */
static WbCraftBatchInput
usual_input (void)
{
  the_line = (WbCraftBatchLine) { NULL, 3, 182 };
  return (WbCraftBatchInput) {
    .lines = &the_line,
    .n_lines = 1,
    .load_pct = 10,
    .load_basis = WB_BASIS_WAX,
    .resolution_g = 0.1,
    .dye_pct = NAN,
    .dye_drops_per_kg = NAN,
    .drop_g = NAN,
    .additive_pct = NAN,
    .specific_gravity = NAN,
  };
}

/* One ounce to the pound of wax is 6.25 % of the wax (arithmetic: 16 oz are a pound): of 17 oz in the pot one is oil. */
static void
test_an_ounce_a_pound (void)
{
  const double ounce_g = 28.349523125; /* international avoirdupois, exact */
  WbCraftBatchInput input = usual_input ();
  g_autoptr (WbCraftBatchSheet) of_wax = NULL;
  g_autoptr (WbCraftBatchSheet) of_total = NULL;

  the_line.fill_g = 17 * ounce_g;
  the_line.candles = 1;
  input.resolution_g = 0.0001;
  input.load_pct = 6.25;
  of_wax = wb_craft_batch_sheet_new (&input, NULL);
  g_assert_cmpfloat_with_epsilon (of_wax->oil_g, ounce_g, 1e-4);
  g_assert_cmpfloat_with_epsilon (of_wax->wax_g, 16 * ounce_g, 1e-4);
  input.load_pct = 100.0 / 17;
  input.load_basis = WB_BASIS_TOTAL;
  of_total = wb_craft_batch_sheet_new (&input, NULL);
  /* 5.8824 %: a share is reckoned with as it is printed, to four places */
  g_assert_cmpfloat_with_epsilon (of_total->oil_g, ounce_g, 3e-4);
}

/* Three vessels of 182 g are 546 g (common practice); a tenth of the wax is a eleventh of the total. */
static void
test_sheet (void)
{
  WbCraftBatchInput input = usual_input ();
  g_autoptr (GError) error = NULL;
  g_autoptr (WbCraftBatchSheet) sheet = wb_craft_batch_sheet_new (&input, &error);

  g_assert_no_error (error);
  g_assert_cmpfloat (sheet->total_g, ==, 546);
  g_assert_cmpfloat (sheet->oil_g, ==, 49.6);
  g_assert_cmpfloat (sheet->wax_g, ==, 496.4);
  g_assert_true (isnan (sheet->dye_g));
  g_assert_true (isnan (sheet->additive_g));
  g_assert_cmpuint (sheet->sums->len, >=, 3);
  g_assert_cmpuint (sheet->warnings->len, ==, 0);
}

/* 0.05 % of a pound of wax at 0.03 g a drop is 7.6 drops: arithmetic, 1 lb = 453.59237 g. */
static void
test_dye (void)
{
  WbCraftBatchInput input = usual_input ();
  g_autoptr (WbCraftBatchSheet) sheet = NULL;

  the_line.fill_g = 453.59237;
  the_line.candles = 1;
  input.load_pct = 0;
  input.resolution_g = 0;
  input.dye_pct = 0.05;
  input.drop_g = 0.03;
  input.additive_pct = 2;
  sheet = wb_craft_batch_sheet_new (&input, NULL);
  /* 7.56 of a pound of wax: of the pound, 2 % are additive. */
  g_assert_cmpfloat_with_epsilon (sheet->dye_g, 453.59 / 1.02 * 0.0005, 0.0006);
  g_assert_cmpfloat (sheet->dye_drops, ==, 7);
  g_assert_cmpfloat_with_epsilon (sheet->additive_g, 453.59 - 453.59 / 1.02, 0.01);
  wb_craft_batch_sheet_free (sheet);
  input.additive_pct = NAN;
  sheet = wb_craft_batch_sheet_new (&input, NULL);
  g_assert_cmpfloat_with_epsilon (sheet->dye_g / 0.03, 7.56, 0.02);
  g_assert_cmpfloat (sheet->dye_drops, ==, 8);
}

/* 5 to 6 drops to the pound (common practice) are 11 to 13.2 to the kg: of two kg 24 at 12; what they weigh if that is known. */
static void
test_dye_is_counted (void)
{
  WbCraftBatchInput input = usual_input ();
  WbCraftBatchSheet *sheet;

  the_line = (WbCraftBatchLine) { NULL, 10, 200 };
  input.load_pct = 0;
  input.dye_drops_per_kg = 12;
  sheet = wb_craft_batch_sheet_new (&input, NULL);
  g_assert_cmpfloat (sheet->dye_drops, ==, 24);
  g_assert_true (isnan (sheet->dye_g));
  wb_craft_batch_sheet_free (sheet);
  input.drop_g = 0.03;
  sheet = wb_craft_batch_sheet_new (&input, NULL);
  g_assert_cmpfloat_with_epsilon (sheet->dye_g, 0.72, 1e-9);
  wb_craft_batch_sheet_free (sheet);
}

/* The additive is part of the total: T = W (1 + w + a), by hand 1130 / 1.13 = 1000, 50 and 80; of the total 1000 × 8 % = 80, 920 / 1.15 = 800. */
static void
test_additive (void)
{
  WbCraftBatchInput input = usual_input ();
  WbCraftBatchSheet *sheet;

  the_line = (WbCraftBatchLine) { NULL, 1, 1130 };
  input.load_pct = 8;
  input.additive_pct = 5;
  sheet = wb_craft_batch_sheet_new (&input, NULL);
  g_assert_cmpfloat (sheet->wax_g, ==, 1000);
  g_assert_cmpfloat (sheet->additive_g, ==, 50);
  g_assert_cmpfloat (sheet->oil_g, ==, 80);
  g_assert_cmpfloat_with_epsilon (sheet->load_of_total_pct, 100 * 80 / 1130.0, 1e-9);
  wb_craft_batch_sheet_free (sheet);
  the_line.fill_g = 1000;
  input.load_basis = WB_BASIS_TOTAL;
  input.additive_pct = 15;
  sheet = wb_craft_batch_sheet_new (&input, NULL);
  g_assert_cmpfloat (sheet->oil_g, ==, 80);
  g_assert_cmpfloat (sheet->wax_g, ==, 800);
  g_assert_cmpfloat (sheet->additive_g, ==, 120);
  g_assert_cmpfloat_with_epsilon (sheet->load_of_wax_pct, 10, 1e-9);
  wb_craft_batch_sheet_free (sheet);
}

/* 181.9 g is on steps of a gram 182 g, and three of them 546 g (common practice): not 3 × 181.9 = 545.7 and then 546. Seven tell it. */
static void
test_each_fill_is_rounded (void)
{
  WbCraftBatchInput input = usual_input ();
  g_autoptr (WbCraftBatchSheet) sheet = NULL, seven = NULL;

  the_line.fill_g = wb_craft_batch_fill_g (214, 0.85);
  input.resolution_g = 1;
  sheet = wb_craft_batch_sheet_new (&input, NULL);
  g_assert_cmpfloat (sheet->total_g, ==, 546);
  the_line.candles = 7;
  seven = wb_craft_batch_sheet_new (&input, NULL);
  g_assert_cmpfloat (seven->total_g, ==, 1274); /* 7 × 181.9 is 1273.3 */
}

/* Two kinds of vessel in a melt, by hand: 3 × 182 + 2 × 240 = 1026; of each 10 % for the second pour. */
static void
test_several_vessels (void)
{
  WbCraftBatchInput input = usual_input ();
  WbCraftBatchLine lines[] = { { NULL, 3, 182.04 }, { NULL, 2, 239.98 } };
  g_autoptr (WbCraftBatchSheet) sheet = NULL;

  input.lines = lines;
  input.n_lines = 2;
  input.hold_back_pct = 10;
  sheet = wb_craft_batch_sheet_new (&input, NULL);
  g_assert_cmpfloat (sheet->total_g, ==, 1026);
  g_assert_cmpfloat (g_array_index (sheet->fills, WbCraftBatchFill, 0).together_g, ==, 546);
  g_assert_cmpfloat (g_array_index (sheet->fills, WbCraftBatchFill, 1).first_g, ==, 216);
  g_assert_cmpfloat (g_array_index (sheet->fills, WbCraftBatchFill, 1).second_g, ==, 24);
}

static void
test_overage_and_hold_back (void)
{
  WbCraftBatchInput input = usual_input ();
  g_autoptr (WbCraftBatchSheet) sheet = NULL;

  input.overage_pct = 5;
  input.hold_back_pct = 15;
  sheet = wb_craft_batch_sheet_new (&input, NULL);
  g_assert_cmpfloat (sheet->total_g, ==, 573.3);
  g_assert_cmpfloat (sheet->hold_back_g, ==, 86);
  g_assert_cmpfloat (sheet->first_pour_g, ==, 487.3);
}

/* Whatever the shares and the balance: the parts are whole steps of it and add up to the oil. */
static void
test_parts_add_up (void)
{
  const double resolutions[] = { 0.01, 0.05, 0.1, 0.5, 1, 2 };
  const double shares[][4] = { { 33.33, 33.33, 33.34, 0 }, { 25, 25, 25, 25 }, { 70, 29, 0.9, 0.1 }, { 100, 0, 0, 0 } };

  for (guint r = 0; r < G_N_ELEMENTS (resolutions); r++)
    for (guint s = 0; s < G_N_ELEMENTS (shares); s++)
      for (double fill = 50; fill < 500; fill += 13.37)
        {
          WbCraftBatchInput input = usual_input ();
          g_autoptr (GArray) parts = g_array_new (FALSE, FALSE, sizeof (WbCraftOilPart));
          g_autoptr (WbCraftBatchSheet) sheet = NULL;
          gint64 steps = 0;

          for (guint i = 0; i < 4; i++)
            {
              WbCraftOilPart part = { (char *) "Oil", shares[s][i] };

              g_array_append_val (parts, part);
            }
          the_line.fill_g = fill;
          input.resolution_g = resolutions[r];
          input.oil_parts = parts;
          sheet = wb_craft_batch_sheet_new (&input, NULL);
          if (sheet == NULL) /* so coarse that the parts take more than the oil */
            {
              g_assert_cmpfloat (fill * 3 / 11, <, resolutions[r] * 60);
              continue;
            }
          for (guint i = 0; i < 4; i++)
            {
              double g = g_array_index (sheet->oil_parts, WbCraftPartMass, i).g;
              double exact = sheet->oil_g * shares[s][i] / 100;

              g_assert_cmpfloat_with_epsilon (g / resolutions[r], round (g / resolutions[r]), 1e-6);
              g_assert_cmpfloat (fabs (g - exact), <=, resolutions[r] * 1.5 + 1e-9); /* three halves of a step stay with the largest */
              steps += llround (g / resolutions[r]);
            }
          g_assert_cmpint (steps, ==, llround (sheet->oil_g / resolutions[r]));
          g_assert_cmpint (llround (sheet->oil_g / resolutions[r]) + llround (sheet->wax_g / resolutions[r]), ==,
                           llround (sheet->total_g / resolutions[r]));
        }
}

static gboolean
has_warning (const WbCraftBatchSheet *sheet,
             WbCraftWarningKind       kind)
{
  for (guint i = 0; i < sheet->warnings->len; i++)
    if (((WbCraftWarning *) g_ptr_array_index (sheet->warnings, i))->kind == kind)
      return TRUE;
  return FALSE;
}

static gboolean
says (const WbCraftBatchSheet *sheet,
      WbCraftWarningKind       kind,
      const char              *text)
{
  for (guint i = 0; i < sheet->warnings->len; i++)
    {
      const WbCraftWarning *warning = g_ptr_array_index (sheet->warnings, i);

      if (warning->kind == kind && strstr (warning->text, text) != NULL)
        return TRUE;
    }
  return FALSE;
}

static void
test_warnings (void)
{
  WbCraftBatchInput input = usual_input ();
  WbWax *wax = wb_record_new (&wb_wax_type);
  WbFragrance *fragrance = wb_record_new (&wb_fragrance_type);
  WbCraftBatchSheet *sheet;

  wax->max_load_pct = 10;
  wax->max_load_basis = WB_BASIS_WAX;
  wax->add_c = 85;
  fragrance->ifra_limit_pct = 9.5;
  fragrance->flash_c = 93;
  input.wax = wax;
  input.fragrance = fragrance;
  input.specific_gravity = 0.86;
  sheet = wb_craft_batch_sheet_new (&input, NULL);
  g_assert_cmpuint (sheet->warnings->len, ==, 0);
  wb_craft_batch_sheet_free (sheet);

  /* 10.1 % of the wax is 9.17 % of the total: over the wax's figure, under the limit on the total */
  input.load_pct = 10.1;
  sheet = wb_craft_batch_sheet_new (&input, NULL);
  g_assert_true (has_warning (sheet, WB_CRAFT_WARN_MAX_LOAD));
  g_assert_false (has_warning (sheet, WB_CRAFT_WARN_IFRA));
  wb_craft_batch_sheet_free (sheet);

  input.load_basis = WB_BASIS_TOTAL;
  fragrance->flash_c = 80;
  input.specific_gravity = 0.78;
  sheet = wb_craft_batch_sheet_new (&input, NULL);
  g_assert_true (has_warning (sheet, WB_CRAFT_WARN_IFRA));
  g_assert_true (has_warning (sheet, WB_CRAFT_WARN_FLASH));
  g_assert_true (has_warning (sheet, WB_CRAFT_WARN_GRAVITY));
  g_assert_true (says (sheet, WB_CRAFT_WARN_FLASH, "85\302\240°C"));
  g_assert_true (says (sheet, WB_CRAFT_WARN_FLASH, "80\302\240°C"));
  wb_craft_batch_sheet_free (sheet);

  /* 85 and 80 degC are 185 and 176 degF exactly */
  input.us_units = TRUE;
  sheet = wb_craft_batch_sheet_new (&input, NULL);
  g_assert_true (says (sheet, WB_CRAFT_WARN_FLASH, "185\302\240°F"));
  g_assert_true (says (sheet, WB_CRAFT_WARN_FLASH, "176\302\240°F"));
  wb_craft_batch_sheet_free (sheet);

  fragrance->ifra_limit_pct = NAN;
  sheet = wb_craft_batch_sheet_new (&input, NULL);
  g_assert_true (has_warning (sheet, WB_CRAFT_WARN_NO_IFRA));
  wb_craft_batch_sheet_free (sheet);
  wb_record_free (wax);
  wb_record_free (fragrance);
}

/* A vessel that is not made for candles is warned of once for each vessel, and the sheet is made all the same. */
static void
test_vessel_warnings (void)
{
  static const struct { WbOrigin origin; const char *says; } cases[] = {
    { WB_ORIGIN_DRINKING_GLASS, "Tern: A drinking glass" },
    { WB_ORIGIN_SECOND_HAND, "Tern: A second-hand vessel" },
    { WB_ORIGIN_CANDLE_WARE, NULL },
    { WB_ORIGIN_OTHER, NULL },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WbCraftBatchInput input = usual_input ();
      WbVessel *vessel = wb_record_new (&wb_vessel_type);
      const WbCraftBatchLine lines[] = { { vessel, 2, 182 }, { vessel, 1, 182 } };
      g_autoptr (WbCraftBatchSheet) sheet = NULL;

      vessel->name = g_strdup ("Tern");
      vessel->origin = cases[i].origin;
      input.lines = lines;
      input.n_lines = 2;
      sheet = wb_craft_batch_sheet_new (&input, NULL);
      g_assert_nonnull (sheet);
      g_assert_cmpuint (sheet->warnings->len, ==, cases[i].says != NULL ? 1 : 0);
      if (cases[i].says != NULL)
        {
          g_assert_true (has_warning (sheet, WB_CRAFT_WARN_VESSEL));
          g_assert_true (g_str_has_prefix (((WbCraftWarning *) sheet->warnings->pdata[0])->text, cases[i].says));
        }
      wb_record_free (vessel);
    }
}

/* Shares of a blend: 30 + 30 lack 40; 70 + 34.5 are 4.5 too many. */
static void
test_blend_sum (void)
{
  g_autofree char *less = wb_craft_blend_dup_wrong (30 + 30);
  g_autofree char *more = wb_craft_blend_dup_wrong (70 + 34.5);

  g_assert_cmpstr (less, ==, "The parts of the blend add up to 60 %: 40 % is missing to make 100 %.");
  g_assert_cmpstr (more, ==, "The parts of the blend add up to 104.5 %: 4.5 % more than 100 %.");
  /* ten tenths, which binary figures do not make exactly 100 */
  g_assert_null (wb_craft_blend_dup_wrong (33.3 + 33.3 + 33.4));
  less = (g_free (less), wb_craft_blend_dup_wrong (3 * 33.33));
  g_assert_nonnull (strstr (less, "0.01 % is missing"));
}

static void
add_step (GPtrArray *steps,
          WbStepKind kind,
          double     to_c)
{
  WbBatchStep *step = wb_record_new (&wb_batch_step_type);

  step->position = steps->len + 1;
  step->kind = kind;
  step->to_c = to_c;
  g_ptr_array_add (steps, step);
}

/* A maker's own steps are what is followed, whatever the wax states: an oil of flash point 80, wrong in one of them at a time. */
static void
test_warnings_of_the_method (void)
{
  static const struct { double heat_c, add_c, cool_c, pour_c, top_up_c; gboolean scent_step, flash, order; } cases[] = {
    { 85, 75, 60, 60, NAN, TRUE, FALSE, FALSE },  { 95, 90, 60, 60, NAN, TRUE, TRUE, FALSE },
    { 85, NAN, 60, 60, NAN, TRUE, TRUE, FALSE },  { 79, NAN, 60, 60, NAN, TRUE, FALSE, FALSE },
    { 85, 75, 60, 60, 90, TRUE, TRUE, FALSE },    { 85, 75, 60, 60, 79, TRUE, FALSE, FALSE },
    { 85, NAN, 60, 60, NAN, FALSE, TRUE, FALSE }, { 70, 75, 60, 60, NAN, TRUE, FALSE, TRUE },
    { 75, 70, 60, 78, NAN, TRUE, FALSE, TRUE },
  };
  WbWax *wax = wb_record_new (&wb_wax_type);
  WbFragrance *fragrance = wb_record_new (&wb_fragrance_type);

  wax->melt_c = 50;
  wax->heat_c = 76;
  wax->add_c = 70;
  wax->pour_c = 60;
  fragrance->ifra_limit_pct = 20;
  fragrance->flash_c = 80;
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GPtrArray) steps = g_ptr_array_new_with_free_func (wb_record_free);
      WbCraftBatchInput input = usual_input ();
      WbCraftBatchSheet *sheet;

      add_step (steps, WB_STEP_PREHEAT, 85);
      add_step (steps, WB_STEP_HEAT, cases[i].heat_c);
      add_step (steps, cases[i].scent_step ? WB_STEP_FRAGRANCE : WB_STEP_OTHER, cases[i].add_c);
      add_step (steps, WB_STEP_COOL, cases[i].cool_c);
      add_step (steps, WB_STEP_POUR, cases[i].pour_c);
      add_step (steps, WB_STEP_TOP_UP, cases[i].top_up_c);
      input.wax = wax;
      input.fragrance = fragrance;
      input.steps = steps;
      sheet = wb_craft_batch_sheet_new (&input, NULL);
      g_test_message ("case %u", i);
      g_assert_cmpint (has_warning (sheet, WB_CRAFT_WARN_FLASH), ==, cases[i].flash);
      g_assert_cmpint (has_warning (sheet, WB_CRAFT_WARN_ORDER), ==, cases[i].order);
      wb_craft_batch_sheet_free (sheet);
    }
  /* no method and a wax that only says how hot it is heated */
  {
    WbCraftBatchInput input = usual_input ();
    WbCraftBatchSheet *sheet;

    wax->heat_c = 85;
    wax->add_c = wax->pour_c = NAN;
    input.wax = wax;
    input.fragrance = fragrance;
    sheet = wb_craft_batch_sheet_new (&input, NULL);
    g_assert_true (has_warning (sheet, WB_CRAFT_WARN_FLASH));
    wb_craft_batch_sheet_free (sheet);
  }
  wb_record_free (wax);
  wb_record_free (fragrance);
}

/* Melt 52, heat 80, fragrance 70, pour 60, and one of them wrong at a time; NAN is not known and not doubted. */
static void
test_order_of_temperatures (void)
{
  static const struct { double melt_c, heat_c, add_c, pour_c, load_pct; gboolean warns; } cases[] = {
    { 52, 80, 70, 60, 8, FALSE }, { 52, 80, 70, 45, 8, FALSE }, { NAN, NAN, NAN, NAN, 8, FALSE },
    { 52, 50, NAN, NAN, 0, TRUE }, { 52, 80, 30, 60, 8, TRUE }, { 52, 80, 30, 60, 0, FALSE },
    { 52, 80, 85, 60, 8, TRUE }, { 52, 80, 70, 81, 8, TRUE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WbWax *wax = wb_record_new (&wb_wax_type);
      WbCraftBatchInput input = usual_input ();
      WbCraftBatchSheet *sheet;

      wax->melt_c = cases[i].melt_c;
      wax->heat_c = cases[i].heat_c;
      wax->add_c = cases[i].add_c;
      wax->pour_c = cases[i].pour_c;
      input.wax = wax;
      input.load_pct = cases[i].load_pct;
      sheet = wb_craft_batch_sheet_new (&input, NULL);
      g_assert_cmpint (has_warning (sheet, WB_CRAFT_WARN_ORDER), ==, cases[i].warns);
      wb_craft_batch_sheet_free (sheet);
      wb_record_free (wax);
    }
}

static void
test_refusals (void)
{
  static const char *const said[] = { "Fill mass", "Fill mass", "candles", "load", "Overage", "Hold-back", "Resolution", "blend", "load", "Resolution",
                                      "density", "holds is not known", "Additive", "Dye", "candles", "too coarse", "less than one" };

  for (guint i = 0; i < G_N_ELEMENTS (said); i++)
    {
      WbCraftBatchInput input = usual_input ();
      g_autoptr (GArray) parts = g_array_new (FALSE, TRUE, sizeof (WbCraftOilPart));
      WbCraftOilPart part = { (char *) "Oil", 60 };
      WbVessel *vessel = wb_record_new (&wb_vessel_type);
      WbWax *wax = wb_record_new (&wb_wax_type);
      g_autoptr (GError) error = NULL;

      vessel->name = g_strdup ("Tern");
      wax->density = 0.9;
      g_array_append_val (parts, part);
      switch (i)
        {
        case 0: the_line.fill_g = 0; break;
        case 1: the_line.fill_g = INFINITY; break;
        case 2: the_line.candles = 0; break;
        case 3: input.load_pct = -1; break;
        case 4: input.overage_pct = INFINITY; break;
        case 5: input.hold_back_pct = 100; break;
        case 6: input.resolution_g = -0.1; break;
        case 7: input.oil_parts = parts; break; /* shares add up to 60 */
        case 8: input.load_pct = 101; break;
        case 9: input.resolution_g = 0.00001; break;
        case 10: wax->density = 0; input.wax = wax; the_line = (WbCraftBatchLine) { vessel, 1, NAN }; break;
        case 11: input.wax = wax; the_line = (WbCraftBatchLine) { vessel, 1, NAN }; break;
        case 12: input.additive_pct = INFINITY; break;
        case 13: input.dye_pct = -1; break;
        case 14: input.n_lines = 0; break;
        case 15: input.load_pct = 0.01; input.resolution_g = 50; break;
        default: input.resolution_g = 500; break;
        }
      g_assert_null (wb_craft_batch_sheet_new (&input, &error));
      g_assert_error (error, WB_RECORD_ERROR, WB_RECORD_ERROR_RANGE);
      g_test_message ("%u: %s", i, error->message);
      g_assert_nonnull (strstr (error->message, said[i]));
      wb_record_free (vessel);
      wb_record_free (wax);
    }
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/craft/batch/fill-is-water-times-gravity", test_fill);
  g_test_add_func ("/craft/batch/both-bases-of-load-agree", test_bases_of_load);
  g_test_add_func ("/craft/batch/an-ounce-a-pound", test_an_ounce_a_pound);
  g_test_add_func ("/craft/batch/wax-and-oil-add-up", test_sheet);
  g_test_add_func ("/craft/batch/dye-is-told-in-drops", test_dye);
  g_test_add_func ("/craft/batch/dye-is-counted-where-it-is-not-weighed", test_dye_is_counted);
  g_test_add_func ("/craft/batch/an-additive-is-part-of-the-total", test_additive);
  g_test_add_func ("/craft/batch/each-fill-is-rounded-before-it-is-multiplied", test_each_fill_is_rounded);
  g_test_add_func ("/craft/batch/several-vessels-share-a-melt", test_several_vessels);
  g_test_add_func ("/craft/batch/overage-and-second-pour", test_overage_and_hold_back);
  g_test_add_func ("/craft/batch/parts-of-a-blend-add-up-exactly", test_parts_add_up);
  g_test_add_func ("/craft/batch/warnings-come-when-due", test_warnings);
  g_test_add_func ("/craft/batch/a-vessel-that-is-not-made-for-candles-is-warned-of", test_vessel_warnings);
  g_test_add_func ("/craft/batch/the-sum-of-a-blend-says-what-is-missing", test_blend_sum);
  g_test_add_func ("/craft/batch/warnings-go-by-the-method", test_warnings_of_the_method);
  g_test_add_func ("/craft/batch/temperatures-in-no-order-are-warned-of", test_order_of_temperatures);
  g_test_add_func ("/craft/batch/impossible-input-is-refused", test_refusals);
  return g_test_run ();
}
