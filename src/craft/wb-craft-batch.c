/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-batch.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-batch-private.h"
#include "wb-quantity.h"

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

static void
free_warning (gpointer data)
{
  WbCraftWarning *warning = data;

  g_free (warning->text);
  g_free (warning);
}

WbCraftBatchSheet *
wb_craft_batch_sheet_new (const WbCraftBatchInput *input,
                          GError                 **error)
{
  WbCraftBatchSheet *sheet;

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
  wb_craft_batch_tell (sheet, input);
  wb_craft_batch_warn (sheet, input);
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
