/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-covered.h"

#include "wb-craft-lot.h"
#include "wb-craft-lot-part.h"

#include <glib/gi18n-lib.h>

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
