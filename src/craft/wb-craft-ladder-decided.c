/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-ladder-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-school-private.h"

/* A decision stands, whatever a ladder says: who asks for a vessel that was decided is told so. */

static gconstpointer
find_record (const GPtrArray *records,
             gint64           id)
{
  for (guint i = 0; records != NULL && i < records->len; i++)
    if (((const WbRecord *) g_ptr_array_index (records, i))->id == id)
      return g_ptr_array_index (records, i);
  return NULL;
}

/* The vessel by name; of a typed diameter any that the models would count as the same, for that may be meant. */
static gboolean
is_asked (const WbCraftLadder *self,
          const WbVessel      *vessel)
{
  return self->question.another_vessel ? fabs (vessel->inner_diameter_mm - self->question.inner_diameter_mm) <= WB_CRAFT_SCHOOL_SAME_INNER_MM
                                       : vessel == wb_craft_ladder_find_vessel (self);
}

/* "8 % of the wax"; "no fragrance" */
static char *
dup_load (const WbCell *cell)
{
  g_autofree char *number = wb_number_format_trimmed (cell->load_pct, 2, NULL);

  if (!(cell->load_pct > 0))
    return g_strdup (_("no fragrance"));
  return g_strdup_printf (_("%s\302\240%% %s"), number, g_dgettext (GETTEXT_PACKAGE, wb_basis_words[MAX (cell->load_basis, 0)].label));
}

static char *
dup_decision (const WbCraftLadder *self,
              const WbDecision    *decision,
              const GPtrArray     *wicks,
              const GPtrArray     *waxes)
{
  const WbCell *cell = find_record (self->question.cells, decision->cell);
  const WbExperiment *experiment = find_record (self->question.experiments, decision->experiment);
  const WbVessel *vessel = cell != NULL ? find_record (self->question.vessels, cell->vessel) : NULL;
  const WbWick *wick = cell != NULL ? find_record (wicks, cell->wick) : NULL;
  const WbWax *wax = experiment != NULL ? find_record (waxes, experiment->wax) : NULL;
  g_autofree char *load = NULL, *day = NULL, *title = NULL;

  if (vessel == NULL || wick == NULL || wax == NULL || !is_asked (self, vessel) || g_strcmp0 (wax->name, self->question.wax) != 0)
    return NULL;
  load = dup_load (cell);
  day = wb_instant_format_date (decision->signed_at);
  title = wb_material_dup_title (vessel);
  if (cell->wick_count > 1)
    /* Translators: a vessel, a wax, a load, how many wicks, a wick's series and size, an experiment's code, a date */
    return g_strdup_printf (_("Signed for %s, in %s, %s: %u of %s %s (%s, %s). This ladder does not replace that decision."), title, wax->name, load,
                            (guint) cell->wick_count, wick->series, wick->size, experiment->code, day);
  /* Translators: a vessel, a wax, a load, a wick's series and size, an experiment's code, a date */
  return g_strdup_printf (_("Signed for %s, in %s, %s: %s %s (%s, %s). This ladder does not replace that decision."), title, wax->name, load,
                          wick->series, wick->size, experiment->code, day);
}

void
wb_craft_ladder_note_decisions (WbCraftLadder   *self,
                                const GPtrArray *wicks,
                                const GPtrArray *waxes)
{
  const GPtrArray *decisions = self->question.decisions;

  /* one a scent: those that say the same are told once */
  for (guint i = 0; decisions != NULL && i < decisions->len; i++)
    {
      char *text = dup_decision (self, g_ptr_array_index (decisions, i), wicks, waxes);

      if (text != NULL && !g_ptr_array_find_with_equal_func (self->warnings, text, g_str_equal, NULL))
        g_ptr_array_add (self->warnings, text);
      else
        g_free (text);
    }
}
