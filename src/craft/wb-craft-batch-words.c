/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-batch-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-quantity.h"

/* Outside this band a specific gravity is worth a question; common practice, no source. */
#define GRAVITY_LOW 0.82
#define GRAVITY_HIGH 1.0

static int
decimals_of (double resolution_g)
{
  if (!(resolution_g > 0))
    return 2;
  return CLAMP ((int) ceil (-log10 (resolution_g) - 1e-9), 0, 4);
}

static char *
grams (double value,
       int    decimals)
{
  return wb_quantity_format (WB_UNIT_G, value, decimals);
}

static char *
per_cent (double value)
{
  g_autofree char *number = wb_number_format_trimmed (value, 2, NULL);

  /* Translators: a per cent figure; a no-break space stands before the sign. */
  return g_strdup_printf (_("%s %%"), number);
}

static void G_GNUC_PRINTF (2, 3)
add_sum (WbCraftBatchSheet *sheet,
         const char        *format,
         ...)
{
  va_list args;

  va_start (args, format);
  g_ptr_array_add (sheet->sums, g_strdup_vprintf (format, args));
  va_end (args);
}

static void
tell_total (WbCraftBatchSheet       *sheet,
            const WbCraftBatchInput *input,
            int                      places)
{
  g_autofree char *fill = grams (input->fill_g, MAX (places, 1));
  g_autofree char *plain = grams (input->fill_g * input->candles, MAX (places, 1));
  g_autofree char *total = grams (sheet->total_g, places);
  g_autofree char *overage = per_cent (input->overage_pct);

  add_sum (sheet, _("%u × %s = %s"), input->candles, fill, plain);
  if (input->overage_pct > 0)
    add_sum (sheet, _("%s + %s over = %s of wax and oil"), plain, overage, total);
}

static void
tell_oil (WbCraftBatchSheet       *sheet,
          const WbCraftBatchInput *input,
          int                      places)
{
  g_autofree char *of_wax = per_cent (sheet->load_of_wax_pct);
  g_autofree char *of_total = per_cent (sheet->load_of_total_pct);
  g_autofree char *total = grams (sheet->total_g, places);
  g_autofree char *oil = grams (sheet->oil_g, places);
  g_autofree char *wax = grams (sheet->wax_g, places);

  if (input->load_basis == WB_BASIS_TOTAL)
    add_sum (sheet, _("Load: %s of the total, which is %s of the wax"), of_total, of_wax);
  else
    add_sum (sheet, _("Load: %s of the wax, which is %s of the total"), of_wax, of_total);
  add_sum (sheet, _("%s × %s = %s of fragrance"), total, of_total, oil);
  add_sum (sheet, _("%s − %s = %s of wax"), total, oil, wax);
  for (guint i = 0; i < sheet->oil_parts->len; i++)
    {
      const WbCraftPartMass *part = &g_array_index (sheet->oil_parts, WbCraftPartMass, i);
      g_autofree char *mass = grams (part->g, places);
      g_autofree char *share = per_cent (g_array_index (input->oil_parts, WbCraftOilPart, i).share_pct);

      /* Translators: "Cedar: 52.1 g × 30 % = 15.6 g". */
      add_sum (sheet, _("%s: %s × %s = %s"), part->name != NULL ? part->name : "", oil, share, mass);
    }
}

static void
tell_additions (WbCraftBatchSheet       *sheet,
                const WbCraftBatchInput *input,
                int                      places)
{
  g_autofree char *wax = grams (sheet->wax_g, places);

  if (!isnan (sheet->dye_g))
    {
      g_autofree char *share = wb_number_format_trimmed (input->dye_pct, 4, NULL);
      g_autofree char *dye = grams (sheet->dye_g, 3);

      add_sum (sheet, _("%s × %s %% = %s of dye"), wax, share, dye);
      if (!isnan (sheet->dye_drops))
        {
          g_autofree char *drop = grams (input->drop_g, 3);
          g_autofree char *drops = wb_number_format (sheet->dye_drops, 1, NULL);

          add_sum (sheet, _("%s ÷ %s a drop = %s drops"), dye, drop, drops);
        }
    }
  if (!isnan (sheet->additive_g))
    {
      g_autofree char *share = per_cent (input->additive_pct);
      g_autofree char *additive = grams (sheet->additive_g, places);

      add_sum (sheet, _("%s × %s = %s of additive"), wax, share, additive);
    }
}

static void
tell_pours (WbCraftBatchSheet       *sheet,
            const WbCraftBatchInput *input,
            int                      places)
{
  g_autofree char *total = grams (sheet->total_g, places);
  g_autofree char *share = per_cent (input->hold_back_pct);
  g_autofree char *kept = grams (sheet->hold_back_g, places);
  g_autofree char *first = grams (sheet->first_pour_g, places);

  if (!(input->hold_back_pct > 0))
    return;
  add_sum (sheet, _("%s × %s = %s kept for the second pour"), total, share, kept);
  add_sum (sheet, _("%s − %s = %s for the first pour"), total, kept, first);
}

static void
warn (WbCraftBatchSheet *sheet,
      WbCraftWarningKind kind,
      char              *text)
{
  WbCraftWarning *warning = g_new0 (WbCraftWarning, 1);

  warning->kind = kind;
  warning->text = text;
  g_ptr_array_add (sheet->warnings, warning);
}

static char *
celsius (double value)
{
  return isnan (value) ? g_strdup ("") : wb_quantity_format (WB_UNIT_CELSIUS, value, 0);
}

/* Temperatures that no pot can follow one after the other: the sheet would tell them as steps all the same. */
static void
warn_of_order (WbCraftBatchSheet *sheet,
               const WbWax       *wax,
               gboolean           scented)
{
  g_autofree char *heat = celsius (wax->heat_c), *add = celsius (wax->add_c);
  g_autofree char *pour = celsius (wax->pour_c), *melt = celsius (wax->melt_c);
  g_autofree char *wrong = NULL;

  /* what is not known is never less or more */
  if (wax->heat_c < wax->melt_c)
    wrong = g_strdup_printf (_("The wax melts at %s and is to be heated to %s only."), melt, heat);
  else if (scented && wax->add_c < wax->melt_c)
    wrong = g_strdup_printf (_("The fragrance is to go in at %s, where the wax is solid: it melts at %s."), add, melt);
  else if (scented && wax->add_c > wax->heat_c)
    wrong = g_strdup_printf (_("The fragrance is to go in at %s, hotter than the wax is heated to, %s."), add, heat);
  else if (wax->pour_c > wax->heat_c)
    wrong = g_strdup_printf (_("It is to be poured at %s, hotter than the wax is heated to, %s."), pour, heat);
  if (wrong != NULL)
    warn (sheet, WB_CRAFT_WARN_ORDER, g_strdup_printf (_("%s Do not begin: look the temperatures up in the wax's data sheet."), wrong));
}

static void
warn_of_wax (WbCraftBatchSheet *sheet,
             const WbWax       *wax)
{
  gboolean of_total = wax->max_load_basis == WB_BASIS_TOTAL;
  double load = of_total ? sheet->load_of_total_pct : sheet->load_of_wax_pct;

  if (load > wax->max_load_pct + 1e-9)
    {
      g_autofree char *is = per_cent (load);
      g_autofree char *most = per_cent (wax->max_load_pct);

      warn (sheet, WB_CRAFT_WARN_MAX_LOAD, of_total
            ? g_strdup_printf (_("A load of %s of the total is more than this wax holds by its supplier: %s."), is, most)
            : g_strdup_printf (_("A load of %s of the wax is more than this wax holds by its supplier: %s."), is, most));
    }
}

/* The hottest that the pot is meant to be while oil is in it. */
static double
hottest_c (const WbWax *wax)
{
  double hottest = -G_MAXDOUBLE;

  if (wax == NULL)
    return NAN;
  if (!isnan (wax->add_c))
    hottest = MAX (hottest, wax->add_c);
  if (!isnan (wax->pour_c))
    hottest = MAX (hottest, wax->pour_c);
  return hottest > -G_MAXDOUBLE ? hottest : NAN;
}

static void
warn_of_fragrance (WbCraftBatchSheet *sheet,
                   const WbFragrance *fragrance,
                   const WbWax       *wax)
{
  double hottest = hottest_c (wax);

  if (isnan (fragrance->ifra_limit_pct))
    warn (sheet, WB_CRAFT_WARN_NO_IFRA,
          g_strdup (_("No IFRA limit is recorded for this fragrance: look it up in its certificate (candles are category 12).")));
  else if (sheet->load_of_total_pct > fragrance->ifra_limit_pct + 1e-9)
    {
      g_autofree char *is = per_cent (sheet->load_of_total_pct);
      g_autofree char *limit = per_cent (fragrance->ifra_limit_pct);

      warn (sheet, WB_CRAFT_WARN_IFRA,
            g_strdup_printf (_("The candle holds %s of fragrance; its IFRA limit for category 12 is %s of the finished candle."),
                             is, limit));
    }
  if (hottest >= fragrance->flash_c)
    {
      g_autofree char *flash = wb_quantity_format (WB_UNIT_CELSIUS, fragrance->flash_c, 0);
      g_autofree char *pot = wb_quantity_format (WB_UNIT_CELSIUS, hottest, 0);

      warn (sheet, WB_CRAFT_WARN_FLASH,
            g_strdup_printf (_("The pot at %s is above the fragrance's flash point, %s: keep every flame and spark away while it is open."),
                             pot, flash));
    }
}

void
wb_craft_batch_warn (WbCraftBatchSheet       *sheet,
                     const WbCraftBatchInput *input)
{
  if (input->wax != NULL)
    {
      warn_of_order (sheet, input->wax, input->load_pct > 0);
      warn_of_wax (sheet, input->wax);
    }
  if (input->fragrance != NULL && input->load_pct > 0)
    warn_of_fragrance (sheet, input->fragrance, input->wax);
  if (input->specific_gravity < GRAVITY_LOW || input->specific_gravity > GRAVITY_HIGH)
    {
      g_autofree char *is = wb_number_format_trimmed (input->specific_gravity, 3, NULL);

      warn (sheet, WB_CRAFT_WARN_GRAVITY,
            g_strdup_printf (_("A specific gravity of %s is unusual for wax: 0.82 to 1 is. Weigh once more."), is));
    }
}

void
wb_craft_batch_tell (WbCraftBatchSheet       *sheet,
                     const WbCraftBatchInput *input)
{
  int places = decimals_of (input->resolution_g);

  tell_total (sheet, input, places);
  if (input->load_pct > 0)
    tell_oil (sheet, input, places);
  tell_additions (sheet, input, places);
  tell_pours (sheet, input, places);
}
