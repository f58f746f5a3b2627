/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-pour-terms.h"

#include <glib/gi18n.h>
#include <math.h>

enum { OVERAGE, HOLD_BACK, RESOLUTION };

static void
set_term (WbQuantityEntry *entry,
          WbQuantity       quantity,
          WbUnit           unit,
          const char      *field,
          const char      *name)
{
  const WbFieldSpec *spec = wb_record_type_find_field (&wb_batch_type, field);

  wb_quantity_entry_set_quantity (entry, quantity, unit);
  wb_quantity_entry_set_range (entry, spec->minimum, spec->maximum);
  wb_quantity_entry_set_required (entry, TRUE);
  wb_quantity_entry_set_width_chars (entry, 6);
  wb_quantity_entry_set_label (entry, name);
}

void
wb_pour_terms_set_up (WbQuantityEntry *const terms[WB_POUR_N_TERMS])
{
  set_term (terms[OVERAGE], WB_QUANTITY_PERCENT, WB_UNIT_PERCENT, "overage_pct", _("Over, for what stays in the pot"));
  set_term (terms[HOLD_BACK], WB_QUANTITY_PERCENT, WB_UNIT_PERCENT, "hold_back_pct", _("Kept for the second pour"));
  set_term (terms[RESOLUTION], WB_QUANTITY_MASS, WB_UNIT_G, "resolution_g", _("Steps of the balance"));
}

static gboolean
is_touched (WbQuantityEntry *const terms[WB_POUR_N_TERMS])
{
  for (guint i = 0; i < WB_POUR_N_TERMS; i++)
    if (wb_quantity_entry_get_touched (terms[i]))
      return TRUE;
  return FALSE;
}

gboolean
wb_pour_terms_take (WbQuantityEntry *const terms[WB_POUR_N_TERMS],
                    WbAppPour             *pour)
{
  if (!is_touched (terms))
    return FALSE;
  for (guint i = 0; i < WB_POUR_N_TERMS; i++)
    if (isnan (wb_quantity_entry_get_value (terms[i])))
      return FALSE;
  wb_app_pour_set_terms (pour, wb_quantity_entry_get_value (terms[OVERAGE]), wb_quantity_entry_get_value (terms[HOLD_BACK]),
                         wb_quantity_entry_get_value (terms[RESOLUTION]));
  return TRUE;
}

void
wb_pour_terms_fill (WbQuantityEntry *const terms[WB_POUR_N_TERMS],
                    const GPtrArray       *batches)
{
  if (is_touched (terms))
    return;
  for (guint i = 0; i < batches->len; i++)
    {
      const WbAppPourBatch *batch = batches->pdata[i];

      if (batch->poured)
        continue;
      wb_quantity_entry_set_value (terms[OVERAGE], batch->batch->overage_pct);
      wb_quantity_entry_set_value (terms[HOLD_BACK], batch->batch->hold_back_pct);
      wb_quantity_entry_set_value (terms[RESOLUTION], batch->batch->resolution_g);
      return;
    }
}

gboolean
wb_pour_terms_check (WbQuantityEntry *const terms[WB_POUR_N_TERMS])
{
  gboolean valid = TRUE;

  for (guint i = 0; i < WB_POUR_N_TERMS; i++)
    valid = wb_quantity_entry_check (terms[i]) && valid;
  return valid;
}
