/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-ladder-private.h"
#include "wb-craft-ladder-told.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-verdict-private.h"
#include "wb-craft-words-private.h"

/* How far a ladder is to be doubted, and which way what it misses lies. */

#define LIKELY 0.5        /* more likely than not */
#define RISKY 0.05        /* chance of crossing a limit that a size named as the next one may have at most */
#define MUCH_LIKELIER 0.2 /* right than one that is on the ladder, to be asked after; no source */

char *
wb_craft_ladder_dup_place (const WbCraftLadder *self)
{
  guint wicks = self->question.wicks;
  g_autofree char *inner = wb_quantity_format (WB_UNIT_MM, self->question.inner_diameter_mm, 1);

  if (wicks < 2)
    return g_steal_pointer (&inner);
  /* Translators: a diameter, how many wicks; follows "For" */
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s with %u wick in it", "%s with %u wicks in it", wicks), inner, wicks);
}

/* ---- several wicks ---- */

static gboolean
were_as_many_burnt (const WbCraftSchool *school,
                    guint                wicks)
{
  for (guint i = 0; school != NULL && i < school->seats->len; i++)
    {
      const WbCraftSeat *seat = &g_array_index (school->seats, WbCraftSeat, i);

      if (seat->cell->burns > 0 && seat->wicks == wicks)
        return TRUE;
    }
  return FALSE;
}

static void
warn_of_many (WbCraftLadder       *self,
              const WbCraftSchool *school)
{
  if (!self->shares_vessel || were_as_many_burnt (school, self->question.wicks))
    return;
  /* Translators: how many wicks */
  g_ptr_array_add (self->warnings, g_strdup_printf (_("%u wicks in one vessel were never burnt in this notebook: flames may merge and heat each other, so that what is foretold of flame and vessel is unproven until it is tested."),
                                                    self->question.wicks));
}

/* ---- none is right ---- */

typedef struct
{
  guint n, late, early, in_time, hot;
} Sides;

/* By the typical candle at the top of the fill, by which the full melt pool is judged. */
static Sides
count_sides (const WbCraftLadder *self)
{
  Sides sides = { self->steps->len, 0, 0, 0, 0 };

  for (guint i = 0; i < self->steps->len; i++)
    {
      const WbCraftLadderStep *step = wb_craft_ladder_get_step (self, i);
      double hours = step->full_pool_h.value;

      if (isnan (hours) || hours > self->due_high_h)
        sides.late++;
      else if (hours < self->due_low_h)
        sides.early++;
      else
        {
          sides.in_time++;
          sides.hot += step->p_cross >= LIKELY;
        }
    }
  return sides;
}

/* The last of each series, or the first, "Fescue F-5 and Rush R-5"; of the last none beyond which a limit may be crossed. NULL: there is none. */
static char *
dup_ends (const WbCraftLadder *self,
          gboolean             last)
{
  g_autoptr (GPtrArray) ends = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < self->steps->len; i++)
    {
      const WbCraftLadderStep *step = wb_craft_ladder_get_step (self, i);
      guint beside = last ? i + 1 : i - 1;

      if (beside < self->steps->len && g_strcmp0 (wb_craft_ladder_get_step (self, beside)->series, step->series) == 0)
        continue;
      if (!last || step->p_cross <= RISKY)
        g_ptr_array_add (ends, wb_craft_ladder_step_dup_name (step));
    }
  return ends->len > 0 ? wb_craft_words_join (ends) : NULL;
}

static char *
dup_direction (const WbCraftLadder *self)
{
  Sides sides = count_sides (self);
  g_autofree char *ends = NULL;

  if (sides.n > 0 && sides.late == sides.n)
    {
      ends = dup_ends (self, TRUE);
      return ends == NULL ? g_strdup (_("All are foretold too small, and a larger size may cross a limit of heat: another series, or more wicks and smaller ones."))
                          /* Translators: wicks, "Fescue F-5 and Rush R-5" */
                          : g_strdup_printf (_("All are foretold too small: try a larger size than %s, or more wicks."), ends);
    }
  if (sides.n > 0 && sides.early == sides.n)
    {
      ends = dup_ends (self, FALSE);
      /* Translators: wicks, "Fescue F-1 and Rush R-1" */
      return g_strdup_printf (_("All are foretold too large: try a smaller size than %s."), ends);
    }
  if (sides.in_time > 0 && sides.hot == sides.in_time)
    return g_strdup (_("Those that are foretold in time are likely to cross a limit of heat: another series, or more wicks and smaller ones."));
  return NULL;
}

static void
warn_of_none (WbCraftLadder *self)
{
  g_autofree char *chance = wb_craft_dup_chance (self->p_none), *direction = NULL, *warning = NULL;

  if (!(self->p_none >= LIKELY))
    return;
  direction = dup_direction (self);
  /* Translators: a chance, "85 in 100" */
  warning = g_strdup_printf (_("None of the wicks known is likely to be right (that none is: %s)."), chance);
  g_ptr_array_add (self->warnings, direction != NULL ? g_strdup_printf ("%s %s", warning, direction) : g_steal_pointer (&warning));
}

void
wb_craft_ladder_warn_of_doubt (WbCraftLadder       *self,
                               const WbCraftSchool *school)
{
  warn_of_none (self);
  warn_of_many (self, school);
}

/* ---- why not ---- */

/* The likeliest right of those left out, or the least likely of those on the ladder; NULL: there is none. */
static const WbCraftLadderStep *
find_right (const WbCraftLadder *self,
            gboolean             in_ladder)
{
  const WbCraftLadderStep *found = NULL;

  for (guint i = 0; i < self->steps->len; i++)
    {
      const WbCraftLadderStep *step = wb_craft_ladder_get_step (self, i);

      if (step->in_ladder == in_ladder && isfinite (step->p_right)
          && (found == NULL || (in_ladder ? step->p_right < found->p_right : step->p_right > found->p_right)))
        found = step;
    }
  return found;
}

void
wb_craft_ladder_note_left_out (WbCraftLadder *self)
{
  const WbCraftLadderStep *out = find_right (self, FALSE), *on = find_right (self, TRUE);
  g_autofree char *name = NULL, *than = NULL, *chance = NULL, *chance_on = NULL;

  if (out == NULL || on == NULL || !(out->p_right >= on->p_right + MUCH_LIKELIER))
    return;
  name = wb_craft_ladder_step_dup_name (out);
  than = wb_craft_ladder_step_dup_name (on);
  chance = wb_craft_dup_chance (out->p_right);
  chance_on = wb_craft_dup_chance (on->p_right);
  /* Translators: a wick, a chance; another wick, a chance */
  g_ptr_array_add (self->notes, g_strdup_printf (_("%s is likelier right (%s) than %s (%s), but less likely to be the best of all, which goes by the score over the whole life; so it is not on the ladder."),
                                                 name, chance, than, chance_on));
}
