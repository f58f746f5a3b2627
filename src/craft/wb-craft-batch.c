/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-batch.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-batch-private.h"
#include "wb-craft-fill.h"
#include "wb-quantity.h"

/* A sheet that is told to no balance's steps, g; a dye's mass, which no balance for wax shows. */
#define EXACT_G 0.01
#define DYE_PLACES 3
#define PCT_PLACES WB_CRAFT_BATCH_PCT_PLACES
#define MOST_PLACES 4

double
wb_craft_batch_fill_g (double water_g,
                       double specific_gravity)
{
  if (!(water_g > 0 && specific_gravity > 0 && isfinite (water_g) && isfinite (specific_gravity)))
    return NAN;
  return water_g * specific_gravity;
}

WbCraftSplit
wb_craft_batch_split (double  total_g,
                      double  load_pct,
                      WbBasis load_basis,
                      double  additive_pct)
{
  double load = load_pct / 100, additive = isnan (additive_pct) ? 0 : additive_pct / 100;
  gboolean of_total = load_basis == WB_BASIS_TOTAL;
  double wax = of_total ? total_g * (1 - load) / (1 + additive) : total_g / (1 + load + additive);

  return (WbCraftSplit) { wax, of_total ? total_g * load : wax * load, wax * additive };
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

/* As it is printed. */
static double
printed (double value,
         int    places)
{
  double scale = pow (10, places);

  return round (value * scale) / scale;
}

static double
step_of (double resolution_g)
{
  return resolution_g > 0 ? printed (resolution_g, MOST_PLACES) : EXACT_G;
}

int
wb_craft_batch_places (double resolution_g)
{
  double step = step_of (resolution_g);

  for (int places = 0; places < MOST_PLACES; places++)
    if (fabs (printed (step, places) - step) < 1e-9)
      return places;
  return MOST_PLACES;
}

/*
 * Balance steps. A mass on the sheet is a whole number of them, so that parts
 * add up to their sum without a rounding error of their own; n / (1 / r) is the
 * double nearest to the decimal where 1 / r is whole, n × r is not.
 */
static double
from_steps (gint64 steps,
            double step_g)
{
  double per_g = round (1.0 / step_g);

  if (per_g >= 1 && fabs (per_g * step_g - 1.0) < 1e-9)
    return steps / per_g;
  return printed (steps * step_g, MOST_PLACES);
}

static double
weighable (double g,
           double step_g)
{
  return from_steps (llround (g / step_g), step_g);
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
  g_autofree char *wrong = NULL;
  double sum = 0;

  for (guint i = 0; i < parts->len; i++)
    {
      const WbCraftOilPart *part = &g_array_index (parts, WbCraftOilPart, i);

      if (!in_range (part->share_pct, 0, 100))
        return refuse (error, part->name != NULL ? part->name : _("Part of the blend"), _("a share is 0 to 100 %"));
      sum += part->share_pct;
    }
  wrong = parts->len > 0 ? wb_craft_blend_dup_wrong (sum) : NULL;
  if (wrong != NULL)
    g_set_error_literal (error, WB_RECORD_ERROR, WB_RECORD_ERROR_RANGE, wrong);
  return wrong == NULL;
}

static gboolean
check_lines (const WbCraftBatchInput *input,
             GError                 **error)
{
  guint candles = 0;

  for (guint i = 0; i < input->n_lines; i++)
    {
      const WbCraftBatchLine *line = &input->lines[i];
      g_autofree char *missing = isnan (line->fill_g) ? wb_craft_fill_dup_missing (line->vessel, input->wax) : NULL;
      double fill = isnan (line->fill_g) && missing == NULL ? wb_craft_fill_of (line->vessel, input->wax).g : line->fill_g;

      if (missing != NULL)
        {
          g_set_error_literal (error, WB_RECORD_ERROR, WB_RECORD_ERROR_RANGE, missing);
          return FALSE;
        }
      if (!in_range (fill, 0.001, 20000))
        return refuse (error, _("Fill mass"), _("above 0 and up to 20,000 g"));
      if (llround (fill / step_of (input->resolution_g)) < 1)
        return refuse (error, _("Resolution of the balance"), _("a candle's fill is less than one of its steps"));
      if (line->candles < 1 || line->candles > 10000)
        return refuse (error, _("Number of candles"), _("1 to 10,000"));
      candles += line->candles;
    }
  return candles > 0 || refuse (error, _("Number of candles"), _("1 to 10,000"));
}

static gboolean
check_input (const WbCraftBatchInput *input,
             GError                 **error)
{
  if (!in_range (input->resolution_g, 0, 1000) || (input->resolution_g > 0 && input->resolution_g < 0.0001))
    return refuse (error, _("Resolution of the balance"), _("0 to 1,000 g, in steps of 0.0001 g"));
  if (!check_lines (input, error))
    return FALSE;
  if (!in_range (input->load_pct, 0, 50))
    return refuse (error, _("Fragrance load"), _("0 to 50 %"));
  if (!in_range (input->overage_pct, 0, 100))
    return refuse (error, _("Overage"), _("0 to 100 %"));
  if (!in_range (input->hold_back_pct, 0, 90))
    return refuse (error, _("Hold-back"), _("0 to 90 %"));
  if (!isnan (input->dye_pct) && !in_range (input->dye_pct, 0, 20))
    return refuse (error, _("Dye"), /* xgettext:no-c-format */ _("0 to 20 % of the wax"));
  if (!isnan (input->dye_drops_per_kg) && !in_range (input->dye_drops_per_kg, 0, 100000))
    return refuse (error, _("Dye"), _("0 to 100,000 drops per kg of wax"));
  if (!isnan (input->drop_g) && !in_range (input->drop_g, 0.0001, 10))
    return refuse (error, _("Mass of a drop"), _("above 0 and up to 10 g"));
  if (!isnan (input->additive_pct) && !in_range (input->additive_pct, 0, 100))
    return refuse (error, _("Additive"), /* xgettext:no-c-format */ _("0 to 100 % of the wax"));
  return input->oil_parts == NULL || check_parts (input->oil_parts, error);
}

static void
clear_part (gpointer data)
{
  g_free (((WbCraftPartMass *) data)->name);
}

/* The largest part is what the others leave: its share of a rounding step is the smallest. */
guint
wb_craft_batch_find_largest (const GArray *parts)
{
  guint largest = 0;

  for (guint i = 1; i < parts->len; i++)
    if (g_array_index (parts, WbCraftOilPart, i).share_pct > g_array_index (parts, WbCraftOilPart, largest).share_pct)
      largest = i;
  return largest;
}

static gboolean
split_oil (WbCraftBatchSheet       *sheet,
           const WbCraftBatchInput *input,
           GError                 **error)
{
  const GArray *parts = input->oil_parts;
  double step = step_of (input->resolution_g);
  gint64 left = llround (sheet->oil_g / step);
  guint largest;

  if (parts == NULL || parts->len == 0 || !(sheet->oil_g > 0))
    return TRUE;
  largest = wb_craft_batch_find_largest (parts);
  for (guint i = 0; i < parts->len; i++)
    {
      const WbCraftOilPart *part = &g_array_index (parts, WbCraftOilPart, i);
      gint64 steps = i != largest ? llround (sheet->oil_g * printed (part->share_pct, PCT_PLACES) / 100 / step) : 0;
      WbCraftPartMass mass = { g_strdup (part->name), from_steps (steps, step) };

      left -= steps;
      g_array_append_val (sheet->oil_parts, mass);
    }
  if (left < 1)
    return refuse (error, _("Resolution of the balance"), _("its steps are too coarse for the parts of this blend"));
  g_array_index (sheet->oil_parts, WbCraftPartMass, largest).g = from_steps (left, step);
  return TRUE;
}

static void
weigh_fills (WbCraftBatchSheet       *sheet,
             const WbCraftBatchInput *input,
             double                   step)
{
  gint64 plain = 0;

  for (guint i = 0; i < input->n_lines; i++)
    {
      const WbCraftBatchLine *line = &input->lines[i];
      double exact = isnan (line->fill_g) ? wb_craft_fill_of (line->vessel, input->wax).g : line->fill_g;
      gint64 fill = llround (exact / step);
      gint64 second = llround (from_steps (fill, step) * input->hold_back_pct / 100 / step);
      WbCraftBatchFill self = { from_steps (fill, step), from_steps (fill * line->candles, step), from_steps (second, step),
                                from_steps (fill - second, step) };

      plain += fill * line->candles;
      g_array_append_val (sheet->fills, self);
    }
  sheet->plain_g = from_steps (plain, step);
}

/* Of the wax: wax by division. Of the total: oil by multiplication. What is left over is by subtraction either way. */
static gboolean
weigh_parts (WbCraftBatchSheet       *sheet,
             const WbCraftBatchInput *input,
             double                   step,
             GError                 **error)
{
  double load = input->load_pct / 100;
  double additive = isnan (input->additive_pct) ? 0 : input->additive_pct / 100;
  double total = sheet->total_g;
  gboolean scented = load > 0;

  if (input->load_basis == WB_BASIS_TOTAL && scented)
    {
      sheet->oil_g = weighable (total * load, step);
      sheet->wax_g = weighable (weighable (total - sheet->oil_g, step) / (1 + additive), step);
      sheet->additive_g = weighable (total - sheet->oil_g - sheet->wax_g, step);
    }
  else
    {
      sheet->wax_g = weighable (wb_craft_batch_split (total, input->load_pct, WB_BASIS_WAX, input->additive_pct).wax_g, step);
      sheet->additive_g = weighable (scented ? sheet->wax_g * additive : total - sheet->wax_g, step);
      sheet->oil_g = weighable (total - sheet->wax_g - sheet->additive_g, step);
    }
  if (isnan (input->additive_pct))
    sheet->additive_g = NAN;
  if (scented && !(sheet->oil_g > step / 2))
    return refuse (error, _("Resolution of the balance"), _("its steps are too coarse for so little fragrance"));
  return TRUE;
}

static void
weigh_dye (WbCraftBatchSheet       *sheet,
           const WbCraftBatchInput *input)
{
  sheet->dye_g = sheet->dye_drops = NAN;
  if (!isnan (input->dye_pct))
    {
      sheet->dye_g = printed (sheet->wax_g * input->dye_pct / 100, DYE_PLACES);
      sheet->dye_drops = round (sheet->dye_g / input->drop_g);
    }
  else if (input->dye_drops_per_kg > 0)
    {
      sheet->dye_drops = round (sheet->wax_g / 1000 * input->dye_drops_per_kg);
      sheet->dye_g = printed (sheet->dye_drops * input->drop_g, DYE_PLACES);
    }
}

static gboolean
weigh (WbCraftBatchSheet       *sheet,
       const WbCraftBatchInput *input,
       GError                 **error)
{
  double step = step_of (input->resolution_g);

  sheet->places = wb_craft_batch_places (input->resolution_g);
  weigh_fills (sheet, input, step);
  sheet->over_g = weighable (sheet->plain_g * input->overage_pct / 100, step);
  sheet->total_g = weighable (sheet->plain_g + sheet->over_g, step);
  if (!weigh_parts (sheet, input, step, error))
    return FALSE;
  sheet->hold_back_g = weighable (sheet->total_g * input->hold_back_pct / 100, step);
  sheet->first_pour_g = weighable (sheet->total_g - sheet->hold_back_g, step);
  /* dye is far lighter than a balance for wax can show: told to a milligram, and in drops */
  weigh_dye (sheet, input);
  return split_oil (sheet, input, error);
}

/* The share on both bases, the additive counted where it is. */
static void
set_loads (WbCraftBatchSheet       *sheet,
           const WbCraftBatchInput *input)
{
  WbCraftSplit of_one = wb_craft_batch_split (1, input->load_pct, input->load_basis, input->additive_pct);

  sheet->load_of_total_pct = input->load_basis == WB_BASIS_TOTAL ? input->load_pct : 100 * of_one.oil_g;
  sheet->load_of_wax_pct = input->load_basis == WB_BASIS_TOTAL ? 100 * of_one.oil_g / of_one.wax_g : input->load_pct;
}

static void
free_warning (gpointer data)
{
  WbCraftWarning *warning = data;

  g_free (warning->text);
  g_free (warning);
}

/* What is reckoned with is what is printed. */
static WbCraftBatchInput
as_printed (const WbCraftBatchInput *input)
{
  WbCraftBatchInput self = *input;
  double *shares[] = { &self.load_pct, &self.overage_pct, &self.hold_back_pct, &self.dye_pct, &self.dye_drops_per_kg, &self.additive_pct };

  for (guint i = 0; i < G_N_ELEMENTS (shares); i++)
    *shares[i] = printed (*shares[i], PCT_PLACES);
  self.drop_g = printed (self.drop_g, MOST_PLACES);
  return self;
}

WbCraftBatchSheet *
wb_craft_batch_sheet_new (const WbCraftBatchInput *input,
                          GError                 **error)
{
  g_autoptr (WbCraftBatchSheet) sheet = NULL;
  WbCraftBatchInput exact;

  g_return_val_if_fail (input != NULL && (input->lines != NULL || input->n_lines == 0), NULL);

  if (!check_input (input, error))
    return NULL;

  sheet = g_new0 (WbCraftBatchSheet, 1);
  sheet->fills = g_array_new (FALSE, TRUE, sizeof (WbCraftBatchFill));
  sheet->oil_parts = g_array_new (FALSE, TRUE, sizeof (WbCraftPartMass));
  g_array_set_clear_func (sheet->oil_parts, clear_part);
  sheet->sums = g_ptr_array_new_with_free_func (g_free);
  sheet->warnings = g_ptr_array_new_with_free_func (free_warning);
  exact = as_printed (input);
  set_loads (sheet, &exact);
  if (!weigh (sheet, &exact, error))
    return NULL;
  wb_craft_batch_tell (sheet, &exact);
  wb_craft_batch_warn (sheet, &exact);
  return g_steal_pointer (&sheet);
}

void
wb_craft_batch_sheet_free (WbCraftBatchSheet *self)
{
  if (self == NULL)
    return;
  g_array_unref (self->fills);
  g_array_unref (self->oil_parts);
  g_ptr_array_unref (self->sums);
  g_ptr_array_unref (self->warnings);
  g_free (self->basis);
  g_free (self);
}
