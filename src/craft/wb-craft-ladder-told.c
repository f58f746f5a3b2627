/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-ladder-told.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "wb-craft-verdict-private.h"

/* A chance below this is not worth a word. */
#define WORTH_TELLING 0.005
/* What adds less to a chance, adds nothing that a maker would pour for: it is told in hundredths. */
#define LEAST_GAIN 0.01

static const WbCraftLadderStep *
get_step (const WbCraftLadder *self,
          guint                index)
{
  return g_ptr_array_index (self->steps, index);
}

static guint
count_ladder (const WbCraftLadder *self)
{
  guint n = 0;

  for (guint i = 0; i < self->steps->len; i++)
    n += get_step (self, i)->in_ladder;
  return n;
}

char *
wb_craft_ladder_step_dup_name (const WbCraftLadderStep *step)
{
  g_return_val_if_fail (step != NULL, NULL);

  return step->series != NULL ? g_strdup_printf ("%s %s", step->series, step->size) : g_strdup (step->size);
}

char *
wb_craft_ladder_step_dup_chances (const WbCraftLadderStep *step)
{
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);

  g_return_val_if_fail (step != NULL, NULL);

  g_autofree char *best = wb_craft_dup_chance (step->p_best), *right = wb_craft_dup_chance (step->p_right);
  g_autofree char *near = wb_craft_dup_chance (step->p_near), *cross = wb_craft_dup_chance (step->p_cross);

  /* Translators: a chance, "42 in 100" */
  if (!isnan (step->p_best))
    g_ptr_array_add (parts, g_strdup_printf (_("recipe best of all: %s"), best));
  /* Translators: a chance, "42 in 100" */
  if (!isnan (step->p_right))
    g_ptr_array_add (parts, g_strdup_printf (_("next candle right: %s"), right));
  /* Translators: a chance, "42 in 100" */
  if (!isnan (step->p_near))
    g_ptr_array_add (parts, g_strdup_printf (_("within 0.05 of the best: %s"), near));
  /* Translators: a chance, "42 in 100" */
  if (step->p_cross > WORTH_TELLING && (step->reason == NULL || strstr (step->reason, cross) == NULL)) /* the reason tells a high one */
    g_ptr_array_add (parts, g_strdup_printf (_("over a limit of heat: %s"), cross));
  if (parts->len == 0)
    return NULL;
  g_ptr_array_add (parts, NULL);
  return g_strjoinv (" · ", (char **) parts->pdata);
}

/* The first and the last of the run; FALSE: there is none. */
static gboolean
find_run (const WbCraftLadder *self,
          guint               *first,
          guint               *last,
          gboolean            *is_ladder)
{
  gboolean found = FALSE;

  *is_ladder = TRUE;
  for (guint i = 0; i < self->steps->len; i++)
    {
      *is_ladder = *is_ladder && get_step (self, i)->in_run == get_step (self, i)->in_ladder;
      if (!get_step (self, i)->in_run)
        continue;
      if (!found)
        *first = i;
      *last = i;
      found = TRUE;
    }
  return found;
}

static void
add_run (const WbCraftLadder *self,
         GString             *text)
{
  guint first = 0, last = 0;
  gboolean is_ladder;

  if (isnan (self->p_run_holds_best) || count_ladder (self) < 2 || !find_run (self, &first, &last, &is_ladder))
    return;
  if (is_ladder)
    {
      g_string_append (text, _(" These are neighbours of one series."));
      return;
    }

  g_autofree char *from = wb_craft_ladder_step_dup_name (get_step (self, first));
  g_autofree char *chance = wb_craft_dup_chance (self->p_run_holds_best);

  if (fabs (self->p_run_holds_best - self->p_holds_best) < LEAST_GAIN)
    /* Translators: the first of several neighbouring wicks, the last one's size, a chance */
    g_string_append_printf (text, _(" %s to %s are as good (%s), and neighbours of one series."), from, get_step (self, last)->size, chance);
  else
    /* Translators: the first of several neighbouring wicks, the last one's size, a chance */
    g_string_append_printf (text, _(" For the best neighbours of one series, %s to %s, it is %s."), from, get_step (self, last)->size, chance);
}

char *
wb_craft_ladder_dup_sureness (const WbCraftLadder *self)
{
  g_autoptr (GString) text = g_string_new (NULL);

  g_return_val_if_fail (self != NULL, NULL);

  if (self->wider < self->steps->len && !isnan (self->p_wider_holds_best))
    {
      g_autofree char *name = wb_craft_ladder_step_dup_name (get_step (self, self->wider));
      g_autofree char *chance = wb_craft_dup_chance (self->p_wider_holds_best);

      if (self->p_wider_holds_best - self->p_holds_best < LEAST_GAIN)
        /* Translators: a wick */
        g_string_append_printf (text, _(" One size more, %s, adds less than 1 in 100."), name);
      else
        /* Translators: a wick, a chance */
        g_string_append_printf (text, _(" With one size more, %s, that chance is %s."), name, chance);
    }
  add_run (self, text);
  if (self->p_none > WORTH_TELLING)
    {
      g_autofree char *chance = wb_craft_dup_chance (self->p_none);

      /* Translators: a chance */
      g_string_append_printf (text, _(" That none is right, of the next candle of each wick known: %s."), chance);
    }
  g_strstrip (text->str);
  return *text->str != '\0' ? g_string_free (g_steal_pointer (&text), FALSE) : NULL;
}

char *
wb_craft_ladder_dup_advice (const WbCraftLadder *self)
{
  g_return_val_if_fail (self != NULL, NULL);

  switch (self->rests_on)
    {
    case WB_CRAFT_RESTS_ON_HISTORY:
      return NULL;
    case WB_CRAFT_RESTS_ON_SUPPLIER:
      return g_strdup (_("Burn these first. From the first burns on, pools, times and chances are foretold."));
    case WB_CRAFT_RESTS_ON_NOTHING:
    default:
      return g_strdup (_("Type in for which diameters the supplier recommends each wick, among the materials. Or pour and burn one wick of a series in a vessel and wax like these: from it the others are foretold."));
    }
}

char *
wb_craft_ladder_dup_caution (const WbCraftLadder *self)
{
  g_return_val_if_fail (self != NULL, NULL);

  return g_strdup (_("Foretold, not tested: nothing here says that a candle is safe. Burn what is chosen to its end, in a heat-proof tray and watched, with every limit read."));
}
