/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-advice-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-verdict-private.h"
#include "wb-craft-words-private.h"

/* Whether a wick is carried on with or gives way to another size or series, by what its signs say and what the size beside it did. */

/*
 * What all earlier tests foretell of a size errs to the safe side, for their spreads are told too wide rather than too narrow: after
 * three earlier tests in 60 invented worlds (bench-ladder) crossings told as 0.14 were true in 0.07 of the candles, those told as 0.25
 * in 0.22, and in 20 worlds, asked anew, 0.14 in 0.06 and 0.25 in 0.25. So 0.1 is where about WB_CRAFT_CROSS_AT_MOST are true. Below it the test's own candles, which know the pour, speak alone.
 */
#define FORETOLD_AT_MOST 0.1

/* What a cell's signs ask for before anything else is looked at. */
static WbCraftSize
ask_signs (const GPtrArray *signs)
{
  gboolean up = wb_craft_signs_speak (signs, TRUE), down = wb_craft_signs_speak (signs, FALSE);

  /* a carbon cap with a ring of hard wax is both kinds at once, though a cap alone may be the trim's */
  for (guint i = 0; up && i < signs->len; i++)
    {
      const WbCraftSign *sign = g_ptr_array_index (signs, i);

      down = down || wb_craft_sign_is_cap (sign);
    }
  if (up && down)
    return WB_CRAFT_SIZE_CHANGE_SERIES;
  return up ? WB_CRAFT_SIZE_UP : down ? WB_CRAFT_SIZE_DOWN : WB_CRAFT_SIZE_CARRY_ON;
}

static gboolean
is_of_series (const WbWick *wick,
              const WbWick *other)
{
  return g_strcmp0 (wick->series, other->series) == 0 && wick->kind == other->kind;
}

/* The nearest size of its series on that side, of all wicks known; NULL: none. */
static const WbWick *
find_next (const WbCraftAdvising *self,
           const WbWick          *wick,
           gboolean               up)
{
  const GPtrArray *wicks = self->wicks != NULL ? self->wicks : self->data->wicks;
  const WbWick *next = NULL;

  for (guint i = 0; i < wicks->len; i++)
    {
      const WbWick *other = g_ptr_array_index (wicks, i);

      if (!is_of_series (wick, other) || (up ? other->step <= wick->step : other->step >= wick->step))
        continue;
      if (next == NULL || (up ? other->step < next->step : other->step > next->step))
        next = other;
    }
  return next;
}

/* The cell of the group with that wick, as many of them in the vessel; NULL: it is not in the test. */
static WbCraftAdvised *
find_cell (const WbCraftAdvising *self,
           WbCraftAdviceGroup    *group,
           const WbCraftAdvised  *beside,
           gint64                 wick)
{
  const WbCraftGroup *of = wb_craft_advising_get_group (self, group);

  for (guint i = 0; i < group->n_cells; i++)
    {
      guint cell = group->cells[i].cell;

      if (of->by_vessel && of->by_scent && wb_dataset_get_wick (self->data, cell)->record.id == wick
          && wb_dataset_get_cell (self->data, cell)->wick_count == wb_dataset_get_cell (self->data, beside->cell)->wick_count)
        return &group->cells[i];
    }
  return NULL;
}

static void G_GNUC_PRINTF (2, 3)
add_reason (WbCraftAdvised *advised,
            const char     *format,
            ...)
{
  va_list args;

  va_start (args, format);
  g_ptr_array_add (advised->reasons, g_strdup_vprintf (format, args));
  va_end (args);
}

static void
take_next (const WbCraftAdvising *self,
           WbCraftAdvised        *advised,
           const WbWick          *next,
           gboolean               tested)
{
  advised->next_wick = next->record.id;
  g_free (advised->next_name);
  advised->next_name = g_strdup (next->size);
  advised->next_tested = tested;
}

/* What of the size beside it says so: what crossed a limit, else the first of its signs. "–": nothing. Caller frees. */
static char *
dup_beside (const WbCraftAdvising *self,
            const WbCraftAdvised  *next)
{
  char *words = next->running == WB_CRAFT_RUNNING_CROSSED ? wb_craft_advice_dup_crossing_of_heat (self, next->cell) : NULL;

  if (words == NULL)
    words = wb_craft_advice_dup_evidence (self, next);
  return words != NULL ? words : g_strdup ("–");
}

/* The size beside it on that side is in the test, and out or asking for the way back. */
static gboolean
turn_back (const WbCraftAdvising *self,
           WbCraftAdvised        *advised,
           const WbCraftAdvised  *next,
           gboolean               up,
           const char            *name)
{
  WbCraftSize      back = ask_signs (next->signs);
  gboolean         opposite = back == (up ? WB_CRAFT_SIZE_DOWN : WB_CRAFT_SIZE_UP) || back == WB_CRAFT_SIZE_CHANGE_SERIES;
  g_autofree char *beside = dup_beside (self, next);

  if (next->running == WB_CRAFT_RUNNING_CROSSED || next->running == WB_CRAFT_RUNNING_ABOVE_CROSSED)
    {
      if (!up)
        return FALSE;
      /* Translators: a size; what was read of it: "flame of 52 mm (burn 9 of T5-1)". */
      add_reason (advised, _("%s, the next size up, is out for a limit (%s): not larger, but another series."), name, beside);
      return TRUE;
    }
  if (next->running != WB_CRAFT_RUNNING_BEHIND && !opposite)
    return FALSE;
  if (advised->running == WB_CRAFT_RUNNING_OPEN)
    {
      advised->size = WB_CRAFT_SIZE_CARRY_ON;
      /* Translators: a size; what was read of it: "flame of 52 mm (burn 9 of T5-1)". */
      add_reason (advised, opposite ? _("%s, the size beside it, errs to the other side (%s): what suits better is another series, or this one as it is.")
                                    : _("%s, the size beside it, does worse (%s): no other size of this series is better so far."), name, beside);
      return FALSE;
    }
  if (!opposite)
    return FALSE;
  /* Translators: a size; what was read of it: "flame of 52 mm (burn 9 of T5-1)". */
  add_reason (advised, _("%s, the size beside it, errs to the other side (%s): no size of this series lies between them, so another series."), name, beside);
  return TRUE;
}

/* That the wick crosses a limit in the cell's place, by all earlier tests; NAN: nothing is foretold. */
static double
get_foretold (const WbCraftAdvising *self,
              guint                  cell,
              gint64                 wick)
{
  for (guint i = 0; self->foretold != NULL && i < self->foretold->len; i++)
    {
      const WbCraftForetoldSize *size = &g_array_index (self->foretold, WbCraftForetoldSize, i);

      if (size->cell == cell && size->wick == wick)
        return size->p_cross;
    }
  return NAN;
}

/* Up: never where the next size would come near a limit. */
static void
judge_up (const WbCraftAdvising *self,
          WbCraftAdviceGroup    *group,
          WbCraftAdvised        *advised)
{
  const WbCraftGroup  *of = wb_craft_advising_get_group (self, group);
  const WbWick        *next = find_next (self, wb_dataset_get_wick (self->data, advised->cell), TRUE);
  WbCraftAdvised      *tested = next != NULL ? find_cell (self, group, advised, next->record.id) : NULL;
  const WbCraftRanked *ranked = NULL;
  g_autofree char     *chance = NULL, *hottest = wb_craft_advice_dup_hottest (self, advised->cell);
  double               foretold = next != NULL && tested == NULL ? get_foretold (self, advised->cell, next->record.id) : NAN;
  gboolean             by_all;

  for (guint i = 0; tested != NULL && i < of->n_cells; i++)
    if (of->cells[i].cell == tested->cell)
      ranked = &of->cells[i];
  if (tested != NULL && turn_back (self, advised, tested, TRUE, next->size))
    {
      advised->size = WB_CRAFT_SIZE_CHANGE_SERIES;
      return;
    }
  if (advised->size != WB_CRAFT_SIZE_UP)
    return;
  /* what it did itself says more than what is foretold of it */
  advised->p_hot = ranked != NULL && isfinite (ranked->p_cross) && !ranked->cross_part
                     ? ranked->p_cross : wb_craft_advice_foretell_hot (self, of, advised->cell);
  /* either may know what the other does not: the test its candles, the others a size beyond them */
  by_all = foretold > FORETOLD_AT_MOST && !(advised->p_hot >= foretold);
  if (by_all)
    advised->p_hot = foretold;
  if (advised->p_hot > WB_CRAFT_CROSS_AT_MOST)
    {
      chance = wb_craft_dup_chance (MAX (advised->p_hot, WB_CRAFT_CROSS_AT_MOST + 0.01));
      /* Translators: "12 in 100"; the hottest that was read: "flame of 42 mm (burn 9 of S2-1)". */
      add_reason (advised, by_all ? _("By all earlier tests the next size up would come near a limit: about %s of its candles would cross one; here the hottest so far is %s. Not larger, but another series.")
                                  : _("The next size up would come near a limit: about %s of its candles would cross one; the hottest so far is %s. Not larger, but another series."),
                  chance, hottest);
      advised->size = WB_CRAFT_SIZE_CHANGE_SERIES;
      return;
    }
  if (isnan (advised->p_hot))
    add_reason (advised, _("How near a limit the next size up would come is not known: no flame and no vessel were read."));
  else if (self->estimates->cells[advised->cell].stage_figure[WB_STAGE_LOWER][WB_FIGURE_FLAME].burns == 0
           && (ranked == NULL || ranked->cross_part))
    add_reason (advised, _("How hot the next size up gets near the bottom is not known: nothing of the lower third was read yet."));
  if (next != NULL)
    take_next (self, advised, next, tested != NULL);
  else
    add_reason (advised, _("No larger size of this series is among the materials."));
}

static void
judge_down (const WbCraftAdvising *self,
            WbCraftAdviceGroup    *group,
            WbCraftAdvised        *advised)
{
  const WbWick   *next = find_next (self, wb_dataset_get_wick (self->data, advised->cell), FALSE);
  WbCraftAdvised *tested = next != NULL ? find_cell (self, group, advised, next->record.id) : NULL;

  if (tested != NULL && turn_back (self, advised, tested, FALSE, next->size))
    {
      advised->size = WB_CRAFT_SIZE_CHANGE_SERIES;
      return;
    }
  if (advised->size != WB_CRAFT_SIZE_DOWN)
    return;
  if (next != NULL)
    take_next (self, advised, next, tested != NULL);
  else
    add_reason (advised, _("No smaller size of this series is among the materials."));
}

/* What a ring of hard wax may still do: above mid-life, however often it was seen. */
static gboolean
may_clean_up (const WbCraftSign *sign)
{
  return sign->kind == WB_CRAFT_SIGN_HANG_UP && sign->often;
}

/* Why what was seen of too small a wick is no reason yet, so that nobody acts on it too early. */
static void
tell_faint (const WbCraftAdvising *self,
            WbCraftAdvised        *advised)
{
  const WbCraftCell *cell = &self->estimates->cells[advised->cell];

  /* of what has burnt down, and of what is out, nobody waits for more */
  if (wb_craft_advice_count_living (&advised->candles) == 0
      || (advised->running != WB_CRAFT_RUNNING_OPEN && advised->running != WB_CRAFT_RUNNING_RESTING))
    return;
  for (guint i = 0; i < advised->signs->len; i++)
    {
      const WbCraftSign *sign = g_ptr_array_index (advised->signs, i);

      if (!sign->up)
        continue;
      /* Translators: what was seen: "hang-up of 5 mm (burn 2 of C3-2; in 6 of 6 burns)". */
      add_reason (advised, cell->burns <= MAX (cell->samples, 1) ? _("The first burn alone is no reason for a larger wick: %s.")
                           : may_clean_up (sign) ? _("No reason for a larger wick so far, for above mid-life it may still clean up: %s.")
                                                 : _("No reason for a larger wick so far, for it was seen too seldom: %s."), sign->text);
    }
}

/* What leads and does well is not left for another wick, though something of it could be better; heat, and what went out, are another matter. */
static gboolean
does_well (const WbCraftAdvising    *self,
           const WbCraftAdviceGroup *group,
           const WbCraftAdvised     *advised)
{
  const WbCraftGroup *of = wb_craft_advising_get_group (self, group);

  for (guint i = 0; i < advised->signs->len; i++)
    {
      const WbCraftSign *sign = g_ptr_array_index (advised->signs, i);

      if (sign->kind == WB_CRAFT_SIGN_DROWNED || sign->kind == WB_CRAFT_SIGN_WENT_OUT || (sign->speaks && !sign->up))
        return FALSE;
    }
  return group->leader < group->n_cells && &group->cells[group->leader] == advised
         && of->cells[group->leader].score.value >= WB_CRAFT_SCORE_WELL;
}

/* What was found, and is good enough, is not left for a series that nobody has tried; heat is another matter. */
static void
keep_found (const WbCraftAdviceGroup *group,
            WbCraftAdvised           *advised)
{
  if (!group->over || group->poor || group->leader >= group->n_cells || &group->cells[group->leader] != advised
      || advised->size != WB_CRAFT_SIZE_CHANGE_SERIES || wb_craft_signs_speak (advised->signs, FALSE))
    return;
  advised->size = WB_CRAFT_SIZE_CARRY_ON;
  add_reason (advised, _("It is the best of this test all the same; what would be better is none of its sizes."));
}

static void
judge_size (const WbCraftAdvising *self,
            WbCraftAdviceGroup    *group,
            WbCraftAdvised        *advised)
{
  g_autofree char *up = wb_craft_signs_dup_words (advised->signs, TRUE);
  g_autofree char *down = wb_craft_signs_dup_words (advised->signs, FALSE);
  gboolean well = does_well (self, group, advised);

  switch (advised->size)
    {
    case WB_CRAFT_SIZE_UP:
      /* Translators: what was seen. */
      add_reason (advised, _("Too small: %s."), up);
      if (well)
        {
          advised->size = WB_CRAFT_SIZE_CARRY_ON;
          add_reason (advised, _("It leads and does well all the same."));
        }
      else
        judge_up (self, group, advised);
      break;
    case WB_CRAFT_SIZE_DOWN:
      if (*down != '\0')
        add_reason (advised, _("Too large: %s."), down);
      judge_down (self, group, advised);
      break;
    case WB_CRAFT_SIZE_CHANGE_SERIES:
      if (*down == '\0')
        add_reason (advised, _("Too small: %s."), up);
      else
        /* Translators: what was seen that tells of too small a wick; of too large a one. */
        add_reason (advised, _("Too small and too large at once: %s; but also %s. Another size cures one and worsens the other."), up, down);
      if (well)
        {
          advised->size = WB_CRAFT_SIZE_CARRY_ON;
          add_reason (advised, _("It leads and does well all the same."));
        }
      break;
    case WB_CRAFT_SIZE_CARRY_ON:
    default:
      tell_faint (self, advised);
      break;
    }
  wb_craft_advice_tell_throw (self, advised);
  keep_found (group, advised);
}

/* Do all that were burnt ask for the same side? Then the size that is wanted lies outside of the test. */
static void
judge_all (const WbCraftAdvising *self,
           WbCraftAdviceGroup    *group)
{
  const WbWick *end = NULL, *next;
  WbCraftSize all = WB_CRAFT_SIZE_CARRY_ON;

  /* one alone says it itself */
  for (guint i = 0; i < group->n_cells && group->n_cells > 1; i++)
    {
      const WbCraftAdvised *advised = &group->cells[i];
      WbCraftSize size = ask_signs (advised->signs);
      const WbWick *wick = wb_dataset_get_wick (self->data, advised->cell);

      if ((size != WB_CRAFT_SIZE_UP && size != WB_CRAFT_SIZE_DOWN) || (i > 0 && size != all))
        return;
      all = size;
      /* of the series of the best placed */
      if (end == NULL || (is_of_series (end, wick) && (size == WB_CRAFT_SIZE_UP ? wick->step > end->step : wick->step < end->step)))
        end = wick;
    }
  if (end == NULL)
    return;
  group->all = all;
  for (guint i = 0; i < group->n_cells; i++)
    if (wb_dataset_get_wick (self->data, group->cells[i].cell) == end && group->cells[i].size != all)
      return; /* too near a limit for a larger one */
  next = find_next (self, end, all == WB_CRAFT_SIZE_UP);
  if (next == NULL)
    return;
  group->outside = next->record.id;
  group->outside_name = g_strdup (next->size);
}

void
wb_craft_advice_judge_sizes (const WbCraftAdvising *self,
                             WbCraftAdviceGroup    *group)
{
  for (guint i = 0; i < group->n_cells; i++)
    group->cells[i].size = ask_signs (group->cells[i].signs);
  for (guint i = 0; i < group->n_cells; i++)
    judge_size (self, group, &group->cells[i]);
  judge_all (self, group);
}
