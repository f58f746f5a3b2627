/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-decision-private.h"

#include "wb-craft-decision.h"
#include "wb-craft-lot-part.h"

#include <glib/gi18n-lib.h>

/* For which lots a decision would hold: those that were burnt, whatever else lies in the notebook. */

/* What stood there, with a line before it. */
static void
put_before (char      **text,
            const char *line)
{
  char *whole = *text != NULL && **text != '\0' ? g_strconcat (line, "\n", *text, NULL) : g_strdup (line);

  g_free (*text);
  *text = whole;
}

static void
take_lot (WbCraftDecision      *self,
          const WbCraftTouched *change)
{
  g_autofree char *line = g_strconcat (change->what, ".", NULL);

  /* Translators: "Wax lot W-112 of Dunmarl soft is in the notebook and was not burnt"; codes of the lots that were. */
  g_ptr_array_add (self->not_burnt, g_strdup_printf (_("%s: what you sign holds for %s only."), change->what, change->burnt));
  put_before (&self->not_tested, line);
}

/* Once for all materials of which nobody noted a lot: it is one omission. */
static void
take_untold (WbCraftDecision *self,
             const GPtrArray *changes)
{
  g_autofree char *untold = wb_craft_touched_dup_untold (changes, changes->len > 0 ? ((const WbCraftTouched *) g_ptr_array_index (changes, 0))->decision : 0);
  g_autofree char *line = NULL;

  if (untold == NULL)
    return;
  /* Translators: codes of lots. */
  g_ptr_array_add (self->not_burnt, g_strdup_printf (_("Which lots were burnt was not noted: what you sign holds for none by name, so for none of %s."), untold));
  line = g_strdup_printf (_("Lots in the notebook of which nobody knows whether they were burnt: %s."), untold);
  put_before (&self->not_tested, line);
}

void
wb_craft_decision_take_lots (WbCraftDecision *self,
                             const WbDataset *data,
                             const GPtrArray *changes)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_decision_type);
  g_autoptr (GPtrArray) parts = NULL;
  g_autofree char *lots = NULL, *line = NULL;

  g_return_if_fail (self != NULL && data != NULL && changes != NULL);

  ((WbDecision *) (gpointer) record)->cell = wb_dataset_get_cell (data, self->cell)->record.id;
  parts = wb_craft_lot_parts_of_decision (data, (WbDecision *) (gpointer) record);
  lots = wb_craft_lot_parts_dup_text (parts);
  for (guint i = changes->len; i > 0; i--)
    {
      const WbCraftTouched *change = g_ptr_array_index (changes, i - 1);

      if (wb_craft_touched_is_uncovered (change) && change->burnt != NULL)
        take_lot (self, change);
    }
  take_untold (self, changes);
  if (lots == NULL)
    return;
  /* Translators: materials with the codes of their lots: "Dunmarl soft W-107; Brosk B4 K-42". */
  line = g_strdup_printf (_("It holds for these lots and for no other: %s."), lots);
  put_before (&self->holds_until, line);
}
