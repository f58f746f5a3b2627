/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-advice-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-verdict-private.h"
#include "wb-craft-words-private.h"

/* Whether a wick is carried on with or gives way to another size or series, by what its signs say and what the size beside it did. */

#define WEAK_THROW 2.5 /* half of what the house profile asks, of 5 */
/*
 * What all earlier tests foretell of a size errs to the safe side: in invented worlds (bench-ladder) what it told as 0.14 was true in
 * 0.014, and as 0.26 in 0.09. From here on it is as likely as WB_CRAFT_CROSS_AT_MOST.
 */
#define FORETOLD_AT_MOST 0.2

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

/* The typical flat of an aim holds the figure as told. */
static gboolean
meets_aim (const WbCraftAdvising *self,
           guint                  cell,
           WbFigure               figure)
{
  const WbCraftCell *estimate = &self->estimates->cells[cell];

  for (guint i = 0; i < self->data->aims->len; i++)
    {
      const WbAim *aim = g_ptr_array_index (self->data->aims, i);
      double value = NAN;

      if (aim->figure != (int) figure || aim->stage < 0 || aim->stage >= WB_N_STAGES)
        continue;
      if (figure == WB_FIGURE_FULL_POOL)
        value = (estimate->stage_growth[aim->stage].status == WB_CRAFT_FIT_ALL_AT_WALL ? estimate->stage_growth[aim->stage].at_wall_h
                                                                                       : estimate->stage_growth[aim->stage].full_pool_h.value)
                / wb_craft_cell_get_due_h (self->data, cell, (WbStage) aim->stage);
      else
        value = estimate->stage_figure[aim->stage][figure].told.value;
      if (figure == WB_FIGURE_FULL_POOL && value <= self->data->protocol->window_high)
        return TRUE;
      if (figure == WB_FIGURE_DEPTH && value >= aim->one_from)
        return TRUE;
      /* its aim has no lower end: half way to it from the room it is warm */
      if (figure == WB_FIGURE_VESSEL && value >= (self->estimates->room_c + aim->one_to) / 2)
        return TRUE;
    }
  return FALSE;
}

/* Weak throw asks for no larger wick: it names what else it may be. */
static void
tell_throw (const WbCraftAdvising *self,
            WbCraftAdvised        *advised)
{
  const WbCraftEstimate *throw = &self->estimates->cells[advised->cell].figure[WB_FIGURE_THROW];
  g_autoptr (GPtrArray) met = g_ptr_array_new ();
  g_autofree char *rating = NULL, *words = NULL;

  if (!(throw->told.value < WEAK_THROW))
    return;
  rating = wb_number_format (throw->told.value, 1, NULL);
  if (meets_aim (self, advised->cell, WB_FIGURE_FULL_POOL))
    g_ptr_array_add (met, (gpointer) _("melt pool"));
  if (meets_aim (self, advised->cell, WB_FIGURE_DEPTH))
    g_ptr_array_add (met, (gpointer) _("depth"));
  if (meets_aim (self, advised->cell, WB_FIGURE_VESSEL))
    g_ptr_array_add (met, (gpointer) _("heat of the vessel"));
  if (met->len == 0)
    {
      add_reason (advised, _("Its hot throw is weak (%s of 5): look at cure, fragrance, load and room first; that alone is no reason for a larger wick."), rating);
      return;
    }
  words = wb_craft_words_join (met);
  /* Translators: a rating; "melt pool and depth". */
  add_reason (advised, _("Its hot throw is weak (%s of 5), but %s are as they should be: look at cure, fragrance, load and room, not for a larger wick."), rating, words);
}

/* The size beside it on that side is in the test, and out or asking for the way back. */
static gboolean
turn_back (WbCraftAdvised       *advised,
           const WbCraftAdvised *next,
           gboolean              up,
           const char           *name)
{
  WbCraftSize back = ask_signs (next->signs);
  gboolean    opposite = back == (up ? WB_CRAFT_SIZE_DOWN : WB_CRAFT_SIZE_UP) || back == WB_CRAFT_SIZE_CHANGE_SERIES;

  if (next->running == WB_CRAFT_RUNNING_CROSSED || next->running == WB_CRAFT_RUNNING_ABOVE_CROSSED)
    {
      if (!up)
        return FALSE;
      add_reason (advised, _("%s, the next size up, is out for a limit: not larger, but another series."), name);
      return TRUE;
    }
  if (next->running != WB_CRAFT_RUNNING_BEHIND && !opposite)
    return FALSE;
  if (advised->running == WB_CRAFT_RUNNING_OPEN)
    {
      advised->size = WB_CRAFT_SIZE_CARRY_ON;
      add_reason (advised, opposite ? _("%s, the size beside it, errs to the other side: what suits better is another series, or this one as it is.")
                                    : _("%s, the size beside it, does worse: no other size of this series is better so far."), name);
      return FALSE;
    }
  if (!opposite)
    return FALSE;
  add_reason (advised, _("%s, the size beside it, errs to the other side: no size of this series lies between them, so another series."), name);
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
  g_autofree char     *chance = NULL;
  double               foretold = next != NULL && tested == NULL ? get_foretold (self, advised->cell, next->record.id) : NAN;
  gboolean             by_all;

  for (guint i = 0; tested != NULL && i < of->n_cells; i++)
    if (of->cells[i].cell == tested->cell)
      ranked = &of->cells[i];
  if (tested != NULL && turn_back (advised, tested, TRUE, next->size))
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
      /* Translators: "12 in 100". */
      add_reason (advised, by_all ? _("By all earlier tests the next size up would come near a limit: about %s of its candles would cross one. Not larger, but another series.")
                                  : _("The next size up would come near a limit: about %s of its candles would cross one. Not larger, but another series."), chance);
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

  if (tested != NULL && turn_back (advised, tested, FALSE, next->size))
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

/* Why what was seen of too small a wick is no reason yet, so that nobody acts on it too early. */
static void
tell_faint (const WbCraftAdvising *self,
            WbCraftAdvised        *advised)
{
  const WbCraftCell *cell = &self->estimates->cells[advised->cell];
  gboolean seen = FALSE;

  for (guint i = 0; i < advised->signs->len; i++)
    seen = seen || ((const WbCraftSign *) g_ptr_array_index (advised->signs, i))->up;
  /* of what has burnt down nobody waits for more */
  if (!seen || wb_craft_advice_count_living (self, advised->cell) == 0)
    return;
  if (cell->burns <= MAX (cell->samples, 1))
    add_reason (advised, _("The first burn alone is no reason for a larger wick."));
  else
    add_reason (advised, _("No reason for a larger wick so far: what was seen may still clean up, or was seen too seldom."));
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
  tell_throw (self, advised);
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
