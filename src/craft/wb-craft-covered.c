/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-covered.h"

#include "wb-craft-decision-private.h"
#include "wb-craft-figures.h"
#include "wb-craft-lot.h"
#include "wb-craft-lot-part.h"
#include "wb-cure.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static void
offer_free (gpointer data)
{
  g_free (((WbCraftLotOffer *) data)->code);
  g_free (data);
}

static const WbCraftLotPart *
find_part (const GPtrArray *parts,
           gint64           material)
{
  for (guint i = 0; i < parts->len; i++)
    if (((const WbRecord *) ((const WbCraftLotPart *) g_ptr_array_index (parts, i))->material)->id == material)
      return g_ptr_array_index (parts, i);
  return NULL;
}

/* A reason why that lot needs no test is its maker's signature for it. */
static gboolean
is_covered (const WbCraftLotPart *part,
            const WbDecision     *decision,
            const GPtrArray      *changes,
            const char           *code)
{
  if (wb_craft_lot_names (part->lots, code))
    return TRUE;
  for (guint i = 0; changes != NULL && i < changes->len; i++)
    {
      const WbCraftTouched *change = g_ptr_array_index (changes, i);

      if (change->decision == decision->record.id && change->part == ((const WbRecord *) part->material)->id && change->lot != NULL
          && change->state == WB_CRAFT_TOUCHED_EXPLAINED && wb_craft_lot_names (change->lot, code))
        return TRUE;
    }
  return FALSE;
}

static void
add_offer (GPtrArray  *offers,
           const char *code,
           gboolean    covered)
{
  WbCraftLotOffer *offer;

  for (guint i = 0; i < offers->len; i++)
    if (wb_craft_lot_names (((const WbCraftLotOffer *) g_ptr_array_index (offers, i))->code, code))
      return;
  offer = g_new (WbCraftLotOffer, 1);
  *offer = (WbCraftLotOffer) { g_strdup (code), covered };
  g_ptr_array_add (offers, offer);
}

static gboolean
is_of (const WbLot  *lot,
       const GArray *owners)
{
  for (guint i = 0; i < owners->len; i++)
    if (g_array_index (owners, gint64, i) == lot->material)
      return TRUE;
  return FALSE;
}

GPtrArray *
wb_craft_covered_offer (const WbDataset  *data,
                        const WbDecision *decision,
                        const GPtrArray  *changes,
                        gint64            material,
                        const GPtrArray  *lots,
                        const GPtrArray  *parts)
{
  GPtrArray *offers = g_ptr_array_new_with_free_func (offer_free);
  g_autoptr (GPtrArray) burnt = NULL;
  g_autoptr (GArray) owners = NULL;
  g_auto (GStrv) codes = NULL;
  const WbCraftLotPart *part;

  g_return_val_if_fail (data != NULL && decision != NULL && lots != NULL && parts != NULL, offers);

  burnt = wb_craft_lot_parts_of_decision (data, decision);
  part = find_part (burnt, material);
  if (part == NULL)
    return offers;
  codes = wb_craft_lot_split (part->lots);
  for (guint i = 0; codes[i] != NULL; i++)
    add_offer (offers, codes[i], TRUE);
  owners = wb_craft_lot_dup_owners (material, parts);
  for (int covered = TRUE; covered >= FALSE; covered--)
    for (guint i = 0; i < lots->len; i++)
      {
        const WbLot *lot = g_ptr_array_index (lots, i);

        if (!lot->used_up && is_of (lot, owners) && is_covered (part, decision, changes, lot->code) == covered)
          add_offer (offers, lot->code, covered);
      }
  return offers;
}

char *
wb_craft_covered_dup_lack (const WbDataset  *data,
                           const WbDecision *decision,
                           const GPtrArray  *changes,
                           gint64            material,
                           const char       *text)
{
  g_autoptr (GPtrArray) burnt = NULL, lacking = g_ptr_array_new ();
  g_auto (GStrv) codes = wb_craft_lot_split (text);
  g_autofree char *joined = NULL, *title = NULL;
  const WbCraftLotPart *part;

  g_return_val_if_fail (data != NULL && decision != NULL, NULL);

  burnt = wb_craft_lot_parts_of_decision (data, decision);
  part = find_part (burnt, material);
  for (guint i = 0; part != NULL && codes[i] != NULL; i++)
    if (!is_covered (part, decision, changes, codes[i]))
      g_ptr_array_add (lacking, codes[i]);
  if (lacking->len == 0)
    return NULL;
  g_ptr_array_add (lacking, NULL);
  joined = g_strjoinv (", ", (char **) lacking->pdata);
  title = wb_material_dup_title (part->material);
  if (part->lots == NULL)
    /* Translators: kind of material, codes of lots, name, code of an experiment. */
    return g_strdup_printf (_("%s lot %s of %s: the decision for %s tells no lot of it. A confirmation test comes before candles of it are sold or given away."),
                            _(((const WbRecord *) part->material)->type->label), joined, title, data->experiment->code);
  /* Translators: kind of material, codes of lots, name, code of an experiment, codes of the lots that were burnt. */
  return g_strdup_printf (_("%s lot %s of %s is not covered: the decision for %s holds for %s only. A confirmation test comes before candles of it are sold or "
                            "given away."),
                          _(((const WbRecord *) part->material)->type->label), joined, title, data->experiment->code, part->lots);
}

/* ---- Cure and fill ---- */

void
wb_craft_covered_take (WbCraftCovered   *self,
                       const WbDataset  *data,
                       const WbDecision *decision,
                       guint             cell)
{
  g_autoptr (WbCraftFigures) figures = NULL;
  WbCraftSurvey survey;
  WbCure sheet;

  g_return_if_fail (self != NULL && data != NULL && decision != NULL && cell < data->cells->len);

  figures = wb_craft_figures_new (data);
  wb_craft_survey_take_before (&survey, data, figures, cell, decision->signed_at);
  sheet = wb_cure_of (NULL, wb_dataset_get_fragrance (data, cell), data->wax);
  *self = (WbCraftCovered) {
    .tested_days = wb_craft_survey_get_cure_days (&survey), .sheet_days = sheet.burn_days,
    .fill_low_g = survey.fill_g.n > 0 ? survey.fill_g.low : NAN, .fill_high_g = survey.fill_g.n > 0 ? survey.fill_g.high : NAN,
  };
  /* fmax passes over what is not known */
  self->cure_days = fmax (self->tested_days, sheet.burn_wait_days);
  self->smell_days = isnan (sheet.smell_days) ? NAN : fmax (sheet.smell_days, self->cure_days);
}

static char *
dup_days (double days)
{
  return wb_quantity_format (WB_UNIT_DAY, days * 86400, days == floor (days) ? 0 : 1);
}

char *
wb_craft_covered_dup_cure (const WbCraftCovered *self)
{
  g_autofree char *cure = NULL, *tested = NULL, *sheet = NULL, *smell = NULL, *text = NULL;

  g_return_val_if_fail (self != NULL, NULL);

  cure = dup_days (self->cure_days);
  tested = isnan (self->tested_days) ? NULL : dup_days (self->tested_days);
  sheet = isnan (self->sheet_days) ? NULL : dup_days (self->sheet_days);
  if (tested == NULL)
    /* Translators: "7 d"; the next ones too. */
    text = sheet != NULL ? g_strdup_printf (_("Cure: at least %s before it is burnt, as the material's sheet says. How long the burnt candles had cured is not on record."), cure)
                         : g_strdup_printf (_("Cure: at least %s before it is burnt, until it has set. No sheet states more, and how long the burnt candles had cured is not on record."), cure);
  else if (self->tested_days < self->cure_days)
    text = sheet != NULL ? g_strdup_printf (_("Cure: at least %s before it is burnt, as the material's sheet says. It was burnt from %s on."), cure, tested)
                         : g_strdup_printf (_("Cure: at least %s before it is burnt, until it has set. It was burnt from %s on."), cure, tested);
  else if (sheet != NULL && self->sheet_days < self->tested_days)
    text = g_strdup_printf (_("Cure: at least %s before it is burnt, as it was tested. The material's sheet says %s, but so short a cure was not tested."), cure, sheet);
  else
    text = g_strdup_printf (_("Cure: at least %s before it is burnt, as it was tested."), cure);
  if (isnan (self->smell_days))
    return g_steal_pointer (&text);
  smell = dup_days (self->smell_days);
  /* Translators: sentences about the cure; days. */
  return g_strdup_printf (_("%s Its scent is judged after %s."), text, smell);
}

char *
wb_craft_covered_dup_fill (const WbCraftCovered *self,
                           gboolean              us_units)
{
  WbCraftSpan span;

  g_return_val_if_fail (self != NULL, NULL);

  span = (WbCraftSpan) { self->fill_low_g, self->fill_high_g, 1 };
  return isnan (self->fill_low_g) ? NULL : wb_craft_span_dup_text (&span, wb_quantity_get_shown_unit (WB_QUANTITY_MASS, us_units), -1);
}

char *
wb_craft_covered_dup_fill_lack (const WbCraftCovered *self,
                                double                fill_g,
                                gboolean              us_units)
{
  g_autofree char *fill = NULL, *tested = NULL;
  double beside;

  g_return_val_if_fail (self != NULL, NULL);

  beside = fmax (self->fill_high_g - self->fill_low_g, WB_CRAFT_COVERED_FILL_SHARE * fill_g);
  if (!(fill_g < self->fill_low_g - beside || fill_g > self->fill_high_g + beside))
    return NULL;
  fill = wb_quantity_format (wb_quantity_get_shown_unit (WB_QUANTITY_MASS, us_units), fill_g, -1);
  tested = wb_craft_covered_dup_fill (self, us_units);
  /* Translators: the mass in one vessel; the masses that were burnt. */
  return g_strdup_printf (_("A fill of %s is not covered by the signature: candles of %s were burnt. A confirmation test comes before candles of it are sold or given away."),
                          fill, tested);
}
