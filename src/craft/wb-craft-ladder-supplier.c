/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-ladder-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* The ladder of a maker without history: the supplier's recommended diameters, as typed in. */

/* The supplier's guide for a wick in this wax: one for the wax itself before one for any. */
static const WbWickGuide *
find_guide (const WbCraftLadderQuestion *question,
            const WbWick                *wick,
            const GPtrArray             *guides,
            const GPtrArray             *waxes)
{
  const WbWickGuide *for_any = NULL;
  gint64 wax = 0;

  for (guint i = 0; i < waxes->len; i++)
    {
      const WbWax *record = g_ptr_array_index (waxes, i);

      if (question->wax != NULL && g_strcmp0 (record->name, question->wax) == 0)
        wax = record->record.id;
    }
  for (guint i = 0; i < guides->len; i++)
    {
      const WbWickGuide *guide = g_ptr_array_index (guides, i);

      if (guide->wick != wick->record.id || isnan (guide->from_mm) || isnan (guide->to_mm))
        continue;
      if (guide->wax != 0 && guide->wax == wax)
        return guide;
      if (guide->wax == 0)
        for_any = guide;
    }
  return for_any;
}

/* Several wicks share the section: each serves a circle of diameter ÷ √n. */
double
wb_craft_ladder_served_mm (const WbCraftLadderQuestion *question)
{
  return question->inner_diameter_mm / sqrt (question->wicks);
}

double
wb_craft_ladder_supplier_gap_mm (const WbCraftLadderQuestion *question,
                                 const WbWick                *wick,
                                 const GPtrArray             *guides,
                                 const GPtrArray             *waxes)
{
  const WbWickGuide *guide = find_guide (question, wick, guides, waxes);
  double served = wb_craft_ladder_served_mm (question);

  return guide == NULL ? NAN : MAX (0, MAX (guide->from_mm - served, served - guide->to_mm));
}

static void
pick_neighbours (WbCraftLadder *self,
                 GArray        *distance)
{
  for (guint k = 0; k < self->question.sizes; k++)
    {
      guint pick = G_MAXUINT;

      for (guint i = 0; i < self->steps->len; i++)
        {
          const WbCraftLadderStep *step = g_ptr_array_index (self->steps, i);
          double d = g_array_index (distance, double, i);

          if (!step->in_ladder && isfinite (d) && (pick == G_MAXUINT || d < g_array_index (distance, double, pick)))
            pick = i;
        }
      if (pick == G_MAXUINT)
        return;
      ((WbCraftLadderStep *) g_ptr_array_index (self->steps, pick))->in_ladder = TRUE;
    }
}

/* Of a wick that is on the ladder beside the one that holds: that its supplier would not take it. */
static void
tell_beside (WbCraftLadder   *self,
             const GPtrArray *wicks,
             const GPtrArray *guides,
             const GPtrArray *waxes)
{
  g_autofree char *served = wb_quantity_format (WB_UNIT_MM, wb_craft_ladder_served_mm (&self->question), 1);

  for (guint i = 0; i < self->steps->len; i++)
    {
      WbCraftLadderStep *step = wb_craft_ladder_get_step (self, i);
      const WbWick *wick = NULL;
      char *reason;

      for (guint k = 0; k < wicks->len && wick == NULL; k++)
        if (((const WbRecord *) g_ptr_array_index (wicks, k))->id == step->wick)
          wick = g_ptr_array_index (wicks, k);
      if (!step->in_ladder || wick == NULL || !(wb_craft_ladder_supplier_gap_mm (&self->question, wick, guides, waxes) > 0))
        continue;
      /* Translators: what its supplier recommends; the diameter that it is to serve */
      reason = g_strdup_printf (_("%s Not for %s: it is on the ladder as a neighbour, to see which way the right one lies."), step->reason, served);
      g_free (step->reason);
      step->reason = reason;
    }
}

gboolean
wb_craft_ladder_by_supplier (WbCraftLadder   *self,
                             const GPtrArray *wicks,
                             const GPtrArray *guides,
                             const GPtrArray *waxes)
{
  g_autoptr (GArray) distance = g_array_new (FALSE, FALSE, sizeof (double));
  g_autofree char *inner = wb_craft_ladder_dup_place (self);
  g_autofree char *names = NULL;
  double served = wb_craft_ladder_served_mm (&self->question);
  gboolean any_holds = FALSE;

  for (guint i = 0; i < wicks->len; i++)
    {
      const WbWick *wick = g_ptr_array_index (wicks, i);
      const WbWickGuide *guide = find_guide (&self->question, wick, guides, waxes);
      WbCraftLadderStep *step;
      double d;

      if (guide == NULL)
        continue;
      step = wb_craft_ladder_add_step (self, wick);
      d = fabs (served - (guide->from_mm + guide->to_mm) / 2);
      g_array_append_val (distance, d);
      g_autofree char *from = wb_quantity_format_number (WB_UNIT_MM, guide->from_mm, 0);
      g_autofree char *to = wb_quantity_format (WB_UNIT_MM, guide->to_mm, 0);
      step->reason = g_strdup_printf (_("Its supplier recommends it for %s to %s."), from, to);
      any_holds = any_holds || (served >= guide->from_mm && served <= guide->to_mm);
    }
  if (self->steps->len == 0)
    return FALSE;
  self->rests_on = WB_CRAFT_RESTS_ON_SUPPLIER;
  if (!any_holds)
    {
      self->answer = g_strdup_printf (_("No supplier's recommendation that was typed in reaches %s."), inner);
      return TRUE;
    }
  pick_neighbours (self, distance);
  tell_beside (self, wicks, guides, waxes);
  names = wb_craft_ladder_dup_names (self);
  self->answer = g_strdup_printf (_("For %s try %s: this rests on the suppliers' recommendations alone."), inner, names);
  return TRUE;
}
