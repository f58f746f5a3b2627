/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-shortlist-private.h"

#include <glib/gi18n-lib.h>

/* The search where nothing is known: sizes spread over each series, so that one round halves it and halves it again. */

/* Which of the gaps are longer by one: the outermost in pairs, so that the marks are closest about the middle; an odd one in the middle. */
static gboolean
is_longer (guint gap,
           guint gaps,
           guint longer)
{
  guint from_outside = MIN (gap, gaps - 1 - gap);

  return from_outside < longer / 2 || (longer % 2 == 1 && gap == (gaps - 1) / 2);
}

guint
wb_craft_shortlist_spread (guint  n,
                           guint  k,
                           guint *places)
{
  guint picked = MIN (n, k), gaps = picked + 1, place = 0;

  g_return_val_if_fail (k > 0, 0);

  for (guint i = 0; i < picked; i++)
    {
      place += (n - picked) / gaps + is_longer (i, gaps, (n - picked) % gaps);
      places[i] = place++;
    }
  return picked;
}

guint
wb_craft_shortlist_rounds (guint n,
                           guint k)
{
  guint rounds = 0;
  guint64 reach = 0;

  g_return_val_if_fail (k > 0, 0);

  while (reach < n)
    {
      reach = reach * (k + 1) + k;
      rounds++;
    }
  return rounds;
}

/* Three, or four where that saves a round; of several series fewer of each, so that all of it stays a pour of at most four. */
static guint
count_of_each (const GPtrArray *series)
{
  const WbCraftShortlistSeries *only = g_ptr_array_index (series, 0);

  if (series->len > 1)
    return series->len == 2 ? WB_CRAFT_SHORTLIST_MOST / 2 : 1;
  return wb_craft_shortlist_rounds (only->items->len, WB_CRAFT_SHORTLIST_MOST) < wb_craft_shortlist_rounds (only->items->len, WB_CRAFT_SHORTLIST_USUAL)
           ? WB_CRAFT_SHORTLIST_MOST : WB_CRAFT_SHORTLIST_USUAL;
}

static WbCraftShortlistItem *
get_item (const WbCraftShortlistSeries *series,
          guint                         place)
{
  return g_ptr_array_index (series->items, place);
}

static char *
dup_taken_reason (const WbCraftShortlistSeries *series,
                  guint                         picked,
                  guint                         rank)
{
  if (picked == series->items->len)
    return g_strdup (_("There are so few of its series that all of them are burnt at once."));
  if (picked == 1)
    return g_strdup (_("The middle of its series: the best guess."));
  if (picked == 3 && rank == 1)
    return g_strdup (_("The middle of the series: the best guess."));
  if (rank == 0)
    return g_strdup (_("Towards the weak end: tells whether the right size lies below it."));
  if (rank == picked - 1)
    return g_strdup (_("Towards the strong end: tells whether the right size lies above it."));
  return g_strdup (_("Inside the series: tells on which side of it the right size lies."));
}

static char *
dup_left_reason (const WbCraftShortlistSeries *series,
                 const guint                  *places,
                 guint                         picked,
                 guint                         place)
{
  guint above = 0;

  while (above < picked && places[above] < place)
    above++;
  if (above == 0)
    return g_strdup_printf (_("Next, if %s burns too strong."), get_item (series, places[0])->name);
  if (above == picked)
    return g_strdup_printf (_("Next, if %s burns too weak."), get_item (series, places[picked - 1])->name);
  return g_strdup_printf (_("Next, if the right size lies between %s and %s."), get_item (series, places[above - 1])->name,
                          get_item (series, places[above])->name);
}

static void
search_series (const WbCraftShortlistSeries *series,
               guint                         k)
{
  g_autofree guint *places = g_new0 (guint, k);
  guint picked = wb_craft_shortlist_spread (series->items->len, k, places);

  for (guint i = 0; i < picked; i++)
    {
      get_item (series, places[i])->taken = TRUE;
      get_item (series, places[i])->reason = dup_taken_reason (series, picked, i);
    }
  for (guint i = 0; i < series->items->len; i++)
    if (!get_item (series, i)->taken)
      get_item (series, i)->reason = dup_left_reason (series, places, picked, i);
}

static void
leave_series (const WbCraftShortlistSeries *series)
{
  for (guint i = 0; i < series->items->len; i++)
    get_item (series, i)->reason = g_strdup (_("Its series waits: four at once are enough to tell which series suits the vessel and the wax."));
}

static char *
dup_why (const GPtrArray *series,
         guint            k)
{
  const WbCraftShortlistSeries *only = g_ptr_array_index (series, 0);
  guint rounds = wb_craft_shortlist_rounds (only->items->len, k);

  if (series->len > 1)
    return g_strdup (k == 1 ? _("the middle size of each series, to tell the series apart first")
                            : _("two sizes spread over each series, to tell the series apart and on which side the right size lies"));
  if (only->items->len <= k)
    return g_strdup (_("all of them, as they are so few"));
  /* Translators: %u wicks; %u rounds of burning, two or more. */
  return g_strdup_printf (_("spread over the %u, so that their burns show between which two the right one lies; usually %u rounds find it"),
                          only->items->len, rounds);
}

static gboolean
any_by_name (const GPtrArray *series)
{
  for (guint i = 0; i < series->len; i++)
    if (((const WbCraftShortlistSeries *) g_ptr_array_index (series, i))->by_name)
      return TRUE;
  return FALSE;
}

void
wb_craft_shortlist_search (WbCraftShortlist            *self,
                           const WbCraftLadderQuestion *question,
                           const GPtrArray             *series)
{
  guint k = count_of_each (series);
  g_autofree char *vessel = wb_craft_shortlist_dup_vessel (question);
  g_autofree char *names = NULL;
  g_autofree char *why = dup_why (series, k);

  for (guint i = 0; i < series->len; i++)
    {
      const WbCraftShortlistSeries *one = g_ptr_array_index (series, i);

      if (i * k < WB_CRAFT_SHORTLIST_MOST)
        search_series (one, k);
      else
        leave_series (one);
    }
  names = wb_craft_shortlist_dup_names (self);
  /* Translators: "Tern, 76 mm"; names of wicks; why these. */
  self->answer = g_strdup_printf (_("Nothing is known of these wicks in %s: no earlier burns, no supplier's diameters. Begin with %s: %s."),
                                  vessel, names, why);
  if (any_by_name (series))
    {
      g_autofree char *answer = g_steal_pointer (&self->answer);

      self->answer = g_strdup_printf (_("%s Their order is taken from their names, as a wick's place in its series is not stated."), answer);
    }
}
