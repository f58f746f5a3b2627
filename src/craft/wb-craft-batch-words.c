/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-batch-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-fill.h"
#include "wb-craft-vessel-check.h"
#include "wb-craft-wax-check.h"
#include "wb-quantity.h"

/* Outside this band a specific gravity is worth a question; common practice, no source. */
#define GRAVITY_LOW 0.82
#define GRAVITY_HIGH 1.0
/* Shares add up to 100 as exactly as they are told. */
#define BLEND_TOLERANCE_PCT 0.005

static char *
grams (double value,
       int    decimals)
{
  return wb_quantity_format (WB_UNIT_G, value, decimals);
}

char *
wb_craft_batch_dup_mass (const WbCraftBatchSheet *self,
                         double                   g,
                         gboolean                 us_units)
{
  g_autofree char *number = NULL, *ounces = NULL;

  g_return_val_if_fail (self != NULL, NULL);

  number = grams (isfinite (g) ? g : 0, self->places);
  if (!us_units)
    return g_steal_pointer (&number);
  ounces = wb_quantity_format (WB_UNIT_OZ, isfinite (g) ? g : 0, 2);
  return g_strdup_printf ("%s (%s)", number, ounces);
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

/* "1.08" of 8 %: a share that is reckoned with stands as it is reckoned with. */
static char *
factor (double value)
{
  return wb_number_format_trimmed (value, WB_CRAFT_BATCH_PCT_PLACES + 2, NULL);
}

static char *
share (double value)
{
  g_autofree char *number = wb_number_format_trimmed (value, WB_CRAFT_BATCH_PCT_PLACES, NULL);

  return g_strdup_printf (_("%s %%"), number);
}

static void
tell_basis (WbCraftBatchSheet       *sheet,
            const WbCraftBatchInput *input)
{
  g_autofree char *of_wax = per_cent (sheet->load_of_wax_pct);
  g_autofree char *of_total = per_cent (sheet->load_of_total_pct);

  if (!(input->load_pct > 0))
    sheet->basis = g_strdup (_("No fragrance."));
  else if (input->load_basis == WB_BASIS_TOTAL)
    sheet->basis = g_strdup_printf (_("Fragrance load: %s of the total, which is %s of the wax."), of_total, of_wax);
  else
    sheet->basis = g_strdup_printf (_("Fragrance load: %s of the wax, which is %s of the total."), of_wax, of_total);
}

static void
tell_fill (WbCraftBatchSheet       *sheet,
           const WbCraftBatchInput *input,
           guint                    i)
{
  const WbCraftBatchLine *line = &input->lines[i];
  const WbCraftBatchFill *fill = &g_array_index (sheet->fills, WbCraftBatchFill, i);
  g_autofree char *name = line->vessel != NULL ? wb_material_dup_title (line->vessel) : NULL;
  g_autofree char *one = grams (fill->fill_g, sheet->places);
  g_autofree char *together = grams (fill->together_g, sheet->places);
  g_autofree char *how = isnan (line->fill_g) ? wb_craft_fill_dup_sum (line->vessel, input->wax, one) : NULL;

  if (how != NULL)
    add_sum (sheet, "%s: %s", name, how);
  if (name != NULL)
    add_sum (sheet, "%s: %u × %s = %s", name, line->candles, one, together);
  else
    add_sum (sheet, "%u × %s = %s", line->candles, one, together);
}

static void
tell_total (WbCraftBatchSheet       *sheet,
            const WbCraftBatchInput *input)
{
  g_autofree char *plain = grams (sheet->plain_g, sheet->places);
  g_autofree char *over = grams (sheet->over_g, sheet->places);
  g_autofree char *total = grams (sheet->total_g, sheet->places);
  g_autofree char *overage = share (input->overage_pct);

  for (guint i = 0; i < input->n_lines; i++)
    tell_fill (sheet, input, i);
  if (input->n_lines > 1)
    {
      g_autoptr (GString) all = g_string_new (NULL);

      for (guint i = 0; i < sheet->fills->len; i++)
        {
          g_autofree char *together = grams (g_array_index (sheet->fills, WbCraftBatchFill, i).together_g, sheet->places);

          g_string_append_printf (all, "%s%s", i > 0 ? " + " : "", together);
        }
      add_sum (sheet, _("%s = %s in all vessels"), all->str, plain);
    }
  if (!(input->overage_pct > 0))
    return;
  add_sum (sheet, _("%s × %s = %s over, for what stays in the pot"), plain, overage, over);
  add_sum (sheet, _("%s + %s = %s in all"), plain, over, total);
}

/* Load of the total: oil first, then what is left. */
static void
tell_of_total (WbCraftBatchSheet       *sheet,
               const WbCraftBatchInput *input)
{
  g_autofree char *total = grams (sheet->total_g, sheet->places), *oil = grams (sheet->oil_g, sheet->places);
  g_autofree char *wax = grams (sheet->wax_g, sheet->places), *load = share (input->load_pct);
  g_autofree char *rest = grams (sheet->total_g - sheet->oil_g, sheet->places);
  g_autofree char *additive = NULL, *by = NULL;

  add_sum (sheet, _("%s × %s = %s of fragrance"), total, load, oil);
  if (isnan (sheet->additive_g))
    {
      add_sum (sheet, _("%s − %s = %s of wax"), total, oil, wax);
      return;
    }
  additive = grams (sheet->additive_g, sheet->places);
  by = factor (1 + input->additive_pct / 100);
  add_sum (sheet, _("%s − %s = %s of wax and additive"), total, oil, rest);
  add_sum (sheet, _("%s ÷ %s = %s of wax"), rest, by, wax);
  add_sum (sheet, _("%s − %s = %s of additive"), rest, wax, additive);
}

/* Load of the wax, or none: wax first. */
static void
tell_of_wax (WbCraftBatchSheet       *sheet,
             const WbCraftBatchInput *input)
{
  double with = isnan (input->additive_pct) ? 0 : input->additive_pct;
  g_autofree char *total = grams (sheet->total_g, sheet->places), *wax = grams (sheet->wax_g, sheet->places);
  g_autofree char *oil = grams (sheet->oil_g, sheet->places), *by = factor (1 + (input->load_pct + with) / 100);
  g_autofree char *load = factor (input->load_pct / 100), *added = factor (with / 100), *pct = share (with);
  g_autofree char *additive = NULL;

  if (!(input->load_pct > 0) && !(with > 0))
    return;
  if (input->load_pct > 0 && with > 0)
    add_sum (sheet, "1 + %s + %s = %s", load, added, by);
  add_sum (sheet, _("%s ÷ %s = %s of wax"), total, by, wax);
  if (!(with > 0))
    {
      add_sum (sheet, _("%s − %s = %s of fragrance"), total, wax, oil);
      return;
    }
  additive = grams (sheet->additive_g, sheet->places);
  if (!(input->load_pct > 0))
    {
      add_sum (sheet, _("%s − %s = %s of additive"), total, wax, additive);
      return;
    }
  add_sum (sheet, _("%s × %s = %s of additive"), wax, pct, additive);
  add_sum (sheet, _("%s − %s − %s = %s of fragrance"), total, wax, additive, oil);
}

static void
tell_oil_parts (WbCraftBatchSheet       *sheet,
                const WbCraftBatchInput *input)
{
  g_autofree char *oil = grams (sheet->oil_g, sheet->places);
  g_autoptr (GString) rest = g_string_new (oil);
  guint largest;

  if (sheet->oil_parts->len == 0)
    return;
  largest = wb_craft_batch_find_largest (input->oil_parts);
  for (guint i = 0; i < sheet->oil_parts->len; i++)
    {
      const WbCraftPartMass *part = &g_array_index (sheet->oil_parts, WbCraftPartMass, i);
      g_autofree char *mass = grams (part->g, sheet->places);
      g_autofree char *of_oil = share (g_array_index (input->oil_parts, WbCraftOilPart, i).share_pct);

      if (i == largest)
        continue;
      /* Translators: "Cedar: 52.1 g × 30 % = 15.6 g". */
      add_sum (sheet, _("%s: %s × %s = %s"), part->name != NULL ? part->name : "", oil, of_oil, mass);
      g_string_append_printf (rest, " − %s", mass);
    }
  if (sheet->oil_parts->len > 1)
    {
      const WbCraftPartMass *part = &g_array_index (sheet->oil_parts, WbCraftPartMass, largest);
      g_autofree char *mass = grams (part->g, sheet->places);

      /* Translators: the last oil of a blend is what the others leave: "Bergamot: 52.1 g − 15.6 g = 36.5 g". */
      add_sum (sheet, _("%s: %s = %s"), part->name != NULL ? part->name : "", rest->str, mass);
    }
}

static void
tell_dye (WbCraftBatchSheet       *sheet,
          const WbCraftBatchInput *input)
{
  g_autofree char *wax = grams (sheet->wax_g, sheet->places);
  g_autofree char *dye = isnan (sheet->dye_g) ? NULL : grams (sheet->dye_g, 3);
  g_autofree char *drop = isnan (input->drop_g) ? NULL : wb_number_format_trimmed (input->drop_g, 4, NULL);
  g_autofree char *drops = isnan (sheet->dye_drops) ? NULL : wb_number_format (sheet->dye_drops, 0, NULL);

  if (!isnan (input->dye_pct))
    {
      g_autofree char *of_wax = share (input->dye_pct);

      add_sum (sheet, _("%s × %s = %s of dye"), wax, of_wax, dye);
      if (drops != NULL)
        add_sum (sheet, _("%s ÷ %s\302\240g a drop = %s drops"), dye, drop, drops);
    }
  else if (drops != NULL && input->dye_drops_per_kg > 0)
    {
      g_autofree char *per_kg = wb_number_format_trimmed (input->dye_drops_per_kg, WB_CRAFT_BATCH_PCT_PLACES, NULL);

      add_sum (sheet, _("%s ÷ 1000 × %s drops per kg = %s drops of dye"), wax, per_kg, drops);
      if (dye != NULL)
        add_sum (sheet, _("%s drops × %s\302\240g a drop = %s of dye"), drops, drop, dye);
      else
        add_sum (sheet, "%s", _("What a drop of this dye weighs is not recorded."));
    }
}

/* What a sum holds and what it does not. */
static void
tell_belonging (WbCraftBatchSheet       *sheet,
                const WbCraftBatchInput *input)
{
  g_autofree char *step = wb_number_format_trimmed (input->resolution_g, 4, NULL);

  if (sheet->additive_g > 0)
    add_sum (sheet, "%s", _("The additive is part of the total."));
  if (!isnan (input->dye_pct) || input->dye_drops_per_kg > 0)
    add_sum (sheet, "%s", _("The dye comes on top: it is in no sum above."));
  if (input->resolution_g > 0)
    add_sum (sheet, _("Every mass is rounded to the balance's steps of %s\302\240g before it is used again."), step);
}

static void
tell_pours (WbCraftBatchSheet       *sheet,
            const WbCraftBatchInput *input)
{
  g_autofree char *total = grams (sheet->total_g, sheet->places);
  g_autofree char *of_all = share (input->hold_back_pct);
  g_autofree char *kept = grams (sheet->hold_back_g, sheet->places);
  g_autofree char *first = grams (sheet->first_pour_g, sheet->places);

  if (!(input->hold_back_pct > 0))
    return;
  add_sum (sheet, _("%s × %s = %s kept for the second pour"), total, of_all, kept);
  add_sum (sheet, _("%s − %s = %s for the first pour"), total, kept, first);
  for (guint i = 0; i < sheet->fills->len; i++)
    {
      const WbCraftBatchFill *fill = &g_array_index (sheet->fills, WbCraftBatchFill, i);
      g_autofree char *name = input->lines[i].vessel != NULL ? wb_material_dup_title (input->lines[i].vessel) : g_strdup (_("Each candle"));
      g_autofree char *one = grams (fill->fill_g, sheet->places), *second = grams (fill->second_g, sheet->places);
      g_autofree char *begin = grams (fill->first_g, sheet->places);

      add_sum (sheet, _("%s: %s × %s = %s at the second pour"), name, one, of_all, second);
      add_sum (sheet, _("%s: %s − %s = %s at the first pour"), name, one, second, begin);
    }
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

/* c: degC. */
static char *
temperature (const WbCraftBatchInput *input,
             double                   c)
{
  return isnan (c) ? g_strdup ("") : wb_quantity_format (wb_quantity_get_shown_unit (WB_QUANTITY_TEMPERATURE, input->us_units), c, 0);
}

/* What a step of the method asks for, or without a method the wax. degC; NAN: not said. */
static double
find_c (const WbCraftBatchInput *input,
        WbStepKind               kind,
        double                   of_wax)
{
  if (input->steps == NULL)
    return of_wax;
  for (guint i = 0; i < input->steps->len; i++)
    if (((const WbBatchStep *) input->steps->pdata[i])->kind == (gint64) kind)
      return ((const WbBatchStep *) input->steps->pdata[i])->to_c;
  return NAN;
}

/* Temperatures that no pot can follow one after the other: the sheet would tell them as steps all the same. */
static void
warn_of_order (WbCraftBatchSheet       *sheet,
               const WbCraftBatchInput *input)
{
  const WbWax *wax = input->wax;
  const WbCraftWaxHeat heat = {
    find_c (input, WB_STEP_HEAT, wax->heat_c), find_c (input, WB_STEP_FRAGRANCE, wax->add_c), find_c (input, WB_STEP_POUR, wax->pour_c)
  };
  g_autofree char *wrong = wb_craft_wax_dup_doubt (&heat, wax->melt_c, input->load_pct > 0, input->us_units, NULL);

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

/*
 * The hottest that the pot is meant to be while oil is in it: from the fragrance on, a rest that is heated again too. Where the
 * step states nothing the pot is as hot as the one before left it; where no step is the fragrance's, the oil may be in from the first on.
 */
static double
hottest_c (const WbCraftBatchInput *input)
{
  const WbWax *wax = input->wax;
  double hottest = NAN, before = NAN;
  gboolean in = TRUE;

  for (guint i = 0; input->steps != NULL && i < input->steps->len; i++)
    in = in && ((const WbBatchStep *) input->steps->pdata[i])->kind != WB_STEP_FRAGRANCE;
  for (guint i = 0; input->steps != NULL && i < input->steps->len; i++)
    {
      const WbBatchStep *step = input->steps->pdata[i];

      /* the vessels are warmed, not the pot */
      if (step->kind == WB_STEP_PREHEAT)
        continue;
      if (step->kind == WB_STEP_FRAGRANCE && !in && isnan (step->to_c))
        hottest = before;
      in = in || step->kind == WB_STEP_FRAGRANCE;
      before = isnan (step->to_c) ? before : step->to_c;
      if (in)
        hottest = fmax (hottest, step->to_c);
    }
  if (!isnan (hottest) || wax == NULL)
    return hottest;
  hottest = input->steps == NULL ? fmax (wax->add_c, wax->pour_c) : NAN;
  return isnan (hottest) ? wax->heat_c : hottest;
}

static void
warn_of_fragrance (WbCraftBatchSheet       *sheet,
                   const WbFragrance       *fragrance,
                   const WbCraftBatchInput *input)
{
  double hottest = hottest_c (input);

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
      g_autofree char *flash = temperature (input, fragrance->flash_c);
      g_autofree char *pot = temperature (input, hottest);

      warn (sheet, WB_CRAFT_WARN_FLASH,
            g_strdup_printf (_("The pot at %s is at or above the fragrance's flash point, %s: keep every flame and spark away while it is open."),
                             pot, flash));
    }
}

char *
wb_craft_blend_dup_wrong (double sum_pct)
{
  g_autofree char *sum = NULL, *by = NULL;

  if (fabs (sum_pct - 100.0) <= BLEND_TOLERANCE_PCT)
    return NULL;
  sum = per_cent (sum_pct);
  by = per_cent (fabs (sum_pct - 100.0));
  /* Translators: the sum of shares; by how much it is wrong; both per cent. */
  return g_strdup_printf (sum_pct < 100.0 ? _("The parts of the blend add up to %s: %s is missing to make 100 %%.")
                                          : _("The parts of the blend add up to %s: %s more than 100 %%."), sum, by);
}

static void
warn_of_vessels (WbCraftBatchSheet       *sheet,
                 const WbCraftBatchInput *input)
{
  for (guint i = 0; i < input->n_lines; i++)
    {
      const WbVessel *vessel = input->lines[i].vessel;
      const char *caution = vessel != NULL ? wb_craft_vessel_get_caution (vessel) : NULL;
      gboolean told = caution == NULL;

      /* one vessel with two wicks is two lines */
      for (guint k = 0; k < i && !told; k++)
        told = input->lines[k].vessel == vessel;
      if (!told)
        /* Translators: a vessel; a sentence. */
        warn (sheet, WB_CRAFT_WARN_VESSEL, g_strdup_printf (_("%s: %s"), vessel->name, caution));
    }
}

void
wb_craft_batch_warn (WbCraftBatchSheet       *sheet,
                     const WbCraftBatchInput *input)
{
  warn_of_vessels (sheet, input);
  if (input->wax != NULL)
    {
      warn_of_order (sheet, input);
      warn_of_wax (sheet, input->wax);
    }
  if (input->fragrance != NULL && input->load_pct > 0)
    warn_of_fragrance (sheet, input->fragrance, input);
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
  tell_basis (sheet, input);
  tell_total (sheet, input);
  if (input->load_basis == WB_BASIS_TOTAL && input->load_pct > 0)
    tell_of_total (sheet, input);
  else
    tell_of_wax (sheet, input);
  tell_oil_parts (sheet, input);
  tell_dye (sheet, input);
  tell_pours (sheet, input);
  tell_belonging (sheet, input);
}
