/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-batch.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "wb-quantity.h"

/* Outside this band a specific gravity is worth a question; common practice, no source. */
#define GRAVITY_LOW 0.82
#define GRAVITY_HIGH 1.0

double
wb_craft_batch_fill_g (double water_g,
                       double specific_gravity)
{
  if (!(water_g > 0 && specific_gravity > 0 && isfinite (water_g) && isfinite (specific_gravity)))
    return NAN;
  return water_g * specific_gravity;
}

double
wb_craft_batch_fill_by_density_g (double water_g,
                                  double water_c,
                                  double density)
{
  double water_density = wb_water_density (water_c);

  if (!(water_density > 0))
    return NAN;
  return wb_craft_batch_fill_g (water_g, density / water_density);
}

double
wb_craft_load_to_total_pct (double of_wax_pct)
{
  double w = of_wax_pct / 100.0;

  return w >= 0 ? 100.0 * w / (1.0 + w) : NAN;
}

double
wb_craft_load_to_wax_pct (double of_total_pct)
{
  double t = of_total_pct / 100.0;

  return t >= 0 && t < 1 ? 100.0 * t / (1.0 - t) : NAN;
}

/*
 * Balance steps. A mass on the sheet is a whole number of them, so that parts
 * add up to their sum without a rounding error of their own; n / (1 / r) is the
 * double nearest to the decimal where 1 / r is whole, n × r is not.
 */
static double
from_steps (gint64 steps,
            double resolution_g)
{
  double per_g = round (1.0 / resolution_g);

  if (per_g >= 1 && fabs (per_g * resolution_g - 1.0) < 1e-9)
    return steps / per_g;
  return steps * resolution_g;
}

static double
weighable (double g,
           double resolution_g)
{
  return resolution_g > 0 ? from_steps (llround (g / resolution_g), resolution_g) : g;
}

static int
decimals_of (double resolution_g)
{
  if (!(resolution_g > 0))
    return 2;
  return CLAMP ((int) ceil (-log10 (resolution_g) - 1e-9), 0, 4);
}

static gboolean
refuse (GError    **error,
        const char *field,
        const char *rule)
{
  /* Translators: a field of the batch sheet, then the rule that it breaks. */
  g_set_error (error, WB_RECORD_ERROR, WB_RECORD_ERROR_RANGE, _("%s: %s"), field, rule);
  return FALSE;
}

static gboolean
in_range (double value,
          double low,
          double high)
{
  return isfinite (value) && value >= low && value <= high;
}

static gboolean
check_parts (const GArray *parts,
             GError      **error)
{
  double sum = 0;

  for (guint i = 0; i < parts->len; i++)
    {
      const WbCraftOilPart *part = &g_array_index (parts, WbCraftOilPart, i);

      if (!in_range (part->share_pct, 0, 100))
        return refuse (error, part->name != NULL ? part->name : _("Part of the blend"), _("a share is 0 to 100 %"));
      sum += part->share_pct;
    }
  if (fabs (sum - 100) > 0.01)
    return refuse (error, _("Parts of the blend"), _("the shares must add up to 100 %"));
  return TRUE;
}

static gboolean
check_input (const WbCraftBatchInput *input,
             GError                 **error)
{
  if (!in_range (input->fill_g, 0.001, 20000))
    return refuse (error, _("Fill mass"), _("above 0 and up to 20,000 g"));
  if (input->candles < 1 || input->candles > 10000)
    return refuse (error, _("Number of candles"), _("1 to 10,000"));
  if (!in_range (input->load_pct, 0, 50))
    return refuse (error, _("Fragrance load"), _("0 to 50 %"));
  if (!in_range (input->overage_pct, 0, 100))
    return refuse (error, _("Overage"), _("0 to 100 %"));
  if (!in_range (input->hold_back_pct, 0, 90))
    return refuse (error, _("Hold-back"), _("0 to 90 %"));
  if (!in_range (input->resolution_g, 0, 1000))
    return refuse (error, _("Resolution of the balance"), _("0 to 1,000 g"));
  if (!isnan (input->dye_pct) && !in_range (input->dye_pct, 0, 20))
    return refuse (error, _("Dye"), _("0 to 20 % of the wax"));
  if (!isnan (input->drop_g) && !in_range (input->drop_g, 0.0001, 10))
    return refuse (error, _("Mass of a drop"), _("above 0 and up to 10 g"));
  if (!isnan (input->additive_pct) && !in_range (input->additive_pct, 0, 100))
    return refuse (error, _("Additive"), _("0 to 100 % of the wax"));
  return input->oil_parts == NULL || check_parts (input->oil_parts, error);
}

/* Hands out `steps` by shares: each gets the whole part of its share, the rest goes one by one to the largest remainders. */
static void
share_out (const GArray *parts,
           gint64        steps,
           gint64       *given)
{
  g_autofree double *remainder = g_new (double, parts->len);
  double sum = 0;
  gint64 left = steps;

  for (guint i = 0; i < parts->len; i++)
    sum += g_array_index (parts, WbCraftOilPart, i).share_pct;
  for (guint i = 0; i < parts->len; i++)
    {
      double exact = steps * g_array_index (parts, WbCraftOilPart, i).share_pct / sum;

      given[i] = (gint64) floor (exact + 1e-9);
      remainder[i] = exact - given[i];
      left -= given[i];
    }
  for (; left > 0; left--)
    {
      guint largest = 0;

      for (guint i = 1; i < parts->len; i++)
        if (remainder[i] > remainder[largest] + 1e-9)
          largest = i;
      given[largest]++;
      remainder[largest] -= 1;
    }
}

static void
clear_part (gpointer data)
{
  g_free (((WbCraftPartMass *) data)->name);
}

static void
split_oil (WbCraftBatchSheet       *sheet,
           const WbCraftBatchInput *input)
{
  const GArray *parts = input->oil_parts;
  g_autofree gint64 *given = NULL;

  if (parts == NULL || parts->len == 0)
    return;

  given = g_new0 (gint64, parts->len);
  if (input->resolution_g > 0)
    share_out (parts, llround (sheet->oil_g / input->resolution_g), given);
  for (guint i = 0; i < parts->len; i++)
    {
      const WbCraftOilPart *part = &g_array_index (parts, WbCraftOilPart, i);
      WbCraftPartMass mass = { g_strdup (part->name), sheet->oil_g * part->share_pct / 100.0 };

      if (input->resolution_g > 0)
        mass.g = from_steps (given[i], input->resolution_g);
      g_array_append_val (sheet->oil_parts, mass);
    }
}

static void
weigh (WbCraftBatchSheet       *sheet,
       const WbCraftBatchInput *input)
{
  double r = input->resolution_g;
  double total = input->fill_g * input->candles * (1 + input->overage_pct / 100.0);
  double oil = total * sheet->load_of_total_pct / 100.0;
  double hold_back = total * input->hold_back_pct / 100.0;

  sheet->total_g = weighable (total, r);
  sheet->oil_g = weighable (oil, r);
  sheet->wax_g = weighable (sheet->total_g - sheet->oil_g, r);
  sheet->hold_back_g = weighable (hold_back, r);
  sheet->first_pour_g = weighable (sheet->total_g - sheet->hold_back_g, r);
  /* dye is far lighter than a balance for wax can show: told exactly, and in drops */
  sheet->dye_g = sheet->wax_g * input->dye_pct / 100.0;
  sheet->dye_drops = sheet->dye_g / input->drop_g;
  sheet->additive_g = weighable (sheet->wax_g * input->additive_pct / 100.0, isnan (input->additive_pct) ? 0 : r);
  split_oil (sheet, input);
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

static void
free_warning (gpointer data)
{
  WbCraftWarning *warning = data;

  g_free (warning->text);
  g_free (warning);
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

static void
warn_of_all (WbCraftBatchSheet       *sheet,
             const WbCraftBatchInput *input)
{
  if (input->wax != NULL)
    warn_of_wax (sheet, input->wax);
  if (input->fragrance != NULL && input->load_pct > 0)
    warn_of_fragrance (sheet, input->fragrance, input->wax);
  if (input->specific_gravity < GRAVITY_LOW || input->specific_gravity > GRAVITY_HIGH)
    {
      g_autofree char *is = wb_number_format_trimmed (input->specific_gravity, 3, NULL);

      warn (sheet, WB_CRAFT_WARN_GRAVITY,
            g_strdup_printf (_("A specific gravity of %s is unusual for wax: 0.82 to 1 is. Weigh once more."), is));
    }
}

WbCraftBatchSheet *
wb_craft_batch_sheet_new (const WbCraftBatchInput *input,
                          GError                 **error)
{
  WbCraftBatchSheet *sheet;
  int places;

  g_return_val_if_fail (input != NULL, NULL);

  if (!check_input (input, error))
    return NULL;

  sheet = g_new0 (WbCraftBatchSheet, 1);
  sheet->oil_parts = g_array_new (FALSE, TRUE, sizeof (WbCraftPartMass));
  g_array_set_clear_func (sheet->oil_parts, clear_part);
  sheet->sums = g_ptr_array_new_with_free_func (g_free);
  sheet->warnings = g_ptr_array_new_with_free_func (free_warning);
  if (input->load_basis == WB_BASIS_TOTAL)
    {
      sheet->load_of_total_pct = input->load_pct;
      sheet->load_of_wax_pct = wb_craft_load_to_wax_pct (input->load_pct);
    }
  else
    {
      sheet->load_of_wax_pct = input->load_pct;
      sheet->load_of_total_pct = wb_craft_load_to_total_pct (input->load_pct);
    }
  weigh (sheet, input);
  places = decimals_of (input->resolution_g);
  tell_total (sheet, input, places);
  if (input->load_pct > 0)
    tell_oil (sheet, input, places);
  tell_additions (sheet, input, places);
  tell_pours (sheet, input, places);
  warn_of_all (sheet, input);
  return sheet;
}

void
wb_craft_batch_sheet_free (WbCraftBatchSheet *self)
{
  if (self == NULL)
    return;
  g_array_unref (self->oil_parts);
  g_ptr_array_unref (self->sums);
  g_ptr_array_unref (self->warnings);
  g_free (self);
}
