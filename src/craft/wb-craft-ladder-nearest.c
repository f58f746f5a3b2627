/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-ladder-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-growth-private.h"

/*
 * The earlier tests that a maker would look up: the recipe itself, and what differs from it in one thing by one step: the next size, a vessel next
 * to it, another wax or load. Where there is none of those, what differs in two.
 */

#define MOST_NEAREST 3
#define NEXT_VESSEL 0.15   /* of the diameter, within which a vessel is next to another; no source */
#define SAME_LOAD_PCT 0.05

/* In what a test differs: bits, what matters least first. */
typedef enum { DIFFERS_NOT = 0, DIFFERS_SIZE = 1, DIFFERS_VESSEL = 2, DIFFERS_LOAD = 4, DIFFERS_WAX = 8, DIFFERS_MORE = 16 } Differs;

static gboolean
is_two (Differs differs)
{
  return (differs & (differs - 1)) != 0;
}

static Differs
compare (const WbCraftSeat *tried,
         const WbCraftSeat *recipe)
{
  gboolean another = recipe->level[WB_CRAFT_LEVEL_VESSEL] == G_MAXUINT;
  guint differs = DIFFERS_NOT;

  if (tried->level[WB_CRAFT_LEVEL_SERIES] != recipe->level[WB_CRAFT_LEVEL_SERIES] || tried->wicks != recipe->wicks
      || ABS (tried->step - recipe->step) > 1 || fabs (log (tried->inner_mm / recipe->inner_mm)) > NEXT_VESSEL)
    return DIFFERS_MORE;
  if (tried->level[WB_CRAFT_LEVEL_WAX] != recipe->level[WB_CRAFT_LEVEL_WAX])
    differs |= DIFFERS_WAX;
  if (fabs (tried->load_pct - recipe->load_pct) > SAME_LOAD_PCT)
    differs |= DIFFERS_LOAD;
  if (another || fabs (tried->inner_mm - recipe->inner_mm) > WB_CRAFT_SCHOOL_SAME_INNER_MM)
    differs |= DIFFERS_VESSEL;
  if (tried->step != recipe->step)
    differs |= DIFFERS_SIZE;
  /* in three: two are left when the first is taken away */
  return is_two (differs & (differs - 1)) ? DIFFERS_MORE : (Differs) differs;
}

/* How far off, to sort by: what differs in less, then in what matters less, then the nearer diameter, then the newer experiment. */
static double
distance_of (const WbCraftSeat *tried,
             const WbCraftSeat *recipe,
             Differs            differs)
{
  return (is_two (differs) ? 100 : 0) + differs + MIN (fabs (log (tried->inner_mm / recipe->inner_mm)), 0.9);
}

static char *
dup_result (const WbCraftSeat  *seat,
            const WbCraftCurve *curve)
{
  g_autofree char *crossing = NULL, *limit = NULL, *hours = NULL;
  double full;

  if (seat->cell->crossed)
    {
      crossing = wb_craft_foretell_dup_crossing (seat->cell);
      return g_strdup_printf (_("crossed a limit: %s"), crossing);
    }
  if (isnan (curve->mean) && curve->at_wall_h > 0)
    {
      hours = wb_number_format (curve->at_wall_h, 1, NULL);
      return g_strdup_printf (_("at the wall by %s\302\240h, whenever it was read"), hours);
    }
  if (isnan (curve->mean) || isnan (curve->pace))
    return g_strdup (_("no pool was read"));
  limit = wb_quantity_format (WB_UNIT_MM, exp (curve->mean), 0);
  full = wb_craft_growth_time (exp (curve->mean), exp (curve->pace), curve->exponent > 0 ? curve->exponent : 1, seat->inner_mm);
  if (!isfinite (full))
    return g_strdup_printf (_("pool limit %s, never at the wall"), limit);
  hours = wb_number_format (full, 1, NULL);
  /* Translators: a length; hours. */
  return g_strdup_printf (_("pool limit %s, full after %s\302\240h"), limit, hours);
}

static char *
dup_vessel_differs (const WbCraftSeat *tried,
                    const WbCraftSeat *recipe)
{
  g_autofree char *by = wb_quantity_format (WB_UNIT_MM, fabs (tried->inner_mm - recipe->inner_mm), 0);

  if (fabs (tried->inner_mm - recipe->inner_mm) <= WB_CRAFT_SCHOOL_SAME_INNER_MM)
    return g_strdup (_("another vessel of that width"));
  return g_strdup_printf (tried->inner_mm > recipe->inner_mm ? _("vessel %s wider") : _("vessel %s narrower"), by);
}

static char *
dup_load_differs (const WbCraftSeat *tried)
{
  g_autofree char *load = wb_number_format_trimmed (tried->load_pct, 1, NULL);

  /* Translators: per cent of the wax. */
  return tried->load_pct > 0 ? g_strdup_printf (_("load %s\302\240%%"), load) : g_strdup (_("no fragrance"));
}

/* Of one thing or two, joined. */
static char *
dup_differs (const WbCraftSeat *tried,
             const WbCraftSeat *recipe,
             Differs            differs)
{
  g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);

  if (differs & DIFFERS_SIZE)
    g_ptr_array_add (words, g_strdup (tried->step > recipe->step ? _("one size up") : _("one size down")));
  if (differs & DIFFERS_VESSEL)
    g_ptr_array_add (words, dup_vessel_differs (tried, recipe));
  if (differs & DIFFERS_LOAD)
    g_ptr_array_add (words, dup_load_differs (tried));
  if (differs & DIFFERS_WAX)
    g_ptr_array_add (words, g_strdup_printf (_("in %s"), tried->cell->wax_name != NULL ? tried->cell->wax_name : _("another wax")));
  g_ptr_array_add (words, NULL);
  return g_strjoinv (", ", (char **) words->pdata);
}

/* Which scent it had, which no question knows: "Harbour mist"; NULL: none. */
static const char *
name_scent (const WbLessonCell *cell)
{
  return cell->scent != NULL ? cell->scent : cell->load_pct > 0 ? _("a fragrance") : NULL;
}

static void
add_nearest (WbCraftLadderStep   *step,
             const WbCraftSchool *school,
             guint                index,
             const WbCraftSeat   *recipe,
             Differs              differs)
{
  const WbCraftSeat *tried = &g_array_index (school->seats, WbCraftSeat, index);
  WbCraftNearest *nearest = g_new0 (WbCraftNearest, 1);
  g_autofree char *vessel = wb_quantity_format (WB_UNIT_MM, tried->inner_mm, 0);
  const char *scent = name_scent (tried->cell);

  nearest->experiment = g_strdup (tried->lesson->code);
  nearest->experiment_id = tried->lesson->experiment;
  nearest->cell = tried->cell->cell;
  /* Translators: series and size of a wick; a vessel's diameter; a fragrance. */
  nearest->what = scent != NULL ? g_strdup_printf (_("%s %s in %s with %s"), tried->cell->series, tried->cell->size != NULL ? tried->cell->size : "", vessel, scent)
                                /* Translators: series and size of a wick; a vessel's diameter. */
                                : g_strdup_printf (_("%s %s in %s"), tried->cell->series, tried->cell->size != NULL ? tried->cell->size : "", vessel);
  nearest->differs = dup_differs (tried, recipe, differs);
  nearest->result = dup_result (tried, &g_array_index (school->curves, WbCraftCurve, index));
  g_ptr_array_add (step->nearest, nearest);
}

void
wb_craft_ladder_find_nearest (WbCraftLadder       *self,
                              const WbCraftSchool *school,
                              const GArray        *seats)
{
  for (guint i = 0; i < self->steps->len; i++)
    {
      const WbCraftSeat *recipe = &g_array_index (seats, WbCraftSeat, i);
      struct { double distance; guint seat; Differs differs; } found[MOST_NEAREST];
      guint n = 0;

      /* newest first, so that of equals the newest stays */
      for (guint k = school->seats->len; k > 0; k--)
        {
          const WbCraftSeat *tried = &g_array_index (school->seats, WbCraftSeat, k - 1);
          Differs differs = compare (tried, recipe);
          double distance;
          guint place;

          if (differs == DIFFERS_MORE || (tried->cell->burns == 0 && !tried->cell->crossed))
            continue;
          distance = distance_of (tried, recipe, differs);
          for (place = n; place > 0 && distance < found[place - 1].distance; place--)
            if (place < MOST_NEAREST)
              found[place] = found[place - 1];
          if (place >= MOST_NEAREST)
            continue;
          found[place].distance = distance;
          found[place].seat = k - 1;
          found[place].differs = differs;
          n = MIN (n + 1, MOST_NEAREST);
        }
      for (guint k = 0; k < n; k++)
        if (!is_two (found[k].differs) || is_two (found[0].differs))
          add_nearest (wb_craft_ladder_get_step (self, i), school, found[k].seat, recipe, found[k].differs);
    }
}
