/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-shortlist-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-ladder-private.h"
#include "wb-craft-verdict-private.h"
#include "wb-craft-words-private.h"

#define SURE_ENOUGH 0.8    /* chance that a right one is among three, below which a fourth is looked for */
#define WORTH_A_FOURTH 0.05 /* what the fourth must add to it */
#define RISKY 0.05          /* chance of crossing a limit, above which no size is poured just for comparison */

static void
free_item (gpointer data)
{
  WbCraftShortlistItem *item = data;

  g_free (item->name);
  g_free (item->reason);
  g_free (item);
}

static void
free_series (gpointer data)
{
  WbCraftShortlistSeries *series = data;

  g_ptr_array_unref (series->items);
  g_free (series);
}

/* ---- The wicks in their order ---- */

static gboolean
has_unknown_step (const GPtrArray *wicks,
                  const char      *series)
{
  for (guint i = 0; i < wicks->len; i++)
    {
      const WbWick *wick = g_ptr_array_index (wicks, i);

      if (wick->step == WB_INTEGER_NONE && g_strcmp0 (wick->series, series) == 0)
        return TRUE;
    }
  return FALSE;
}

/* By the numbers in the names: "S-2" before "S-10". */
static int
compare_sizes (const char *a,
               const char *b)
{
  g_autofree char *first = g_utf8_collate_key_for_filename (a != NULL ? a : "", -1);
  g_autofree char *second = g_utf8_collate_key_for_filename (b != NULL ? b : "", -1);

  return strcmp (first, second);
}

static int
compare_wicks (gconstpointer a,
               gconstpointer b,
               gpointer      all)
{
  const WbWick *one = *(const WbWick *const *) a, *other = *(const WbWick *const *) b;
  int order = g_strcmp0 (one->series, other->series);

  if (order != 0)
    return order;
  if (one->step != other->step && !has_unknown_step (all, one->series))
    return one->step < other->step ? -1 : 1;
  return compare_sizes (one->size, other->size);
}

/* In their order: the first and the last tell. */
static gboolean
is_one_series (const GPtrArray *wicks)
{
  return wicks->len > 0 && g_strcmp0 (((const WbWick *) g_ptr_array_index (wicks, 0))->series,
                                      ((const WbWick *) g_ptr_array_index (wicks, wicks->len - 1))->series) == 0;
}

/* The series of the wicks, which are in their order; the items go into the list. */
static GPtrArray *
list_series (WbCraftShortlist *self,
             const GPtrArray  *wicks)
{
  GPtrArray *all = g_ptr_array_new_with_free_func (free_series);
  const char *name = NULL;
  gboolean one_series = is_one_series (wicks);

  for (guint i = 0; i < wicks->len; i++)
    {
      const WbWick *wick = g_ptr_array_index (wicks, i);
      WbCraftShortlistItem *item = g_new0 (WbCraftShortlistItem, 1);

      if (all->len == 0 || g_strcmp0 (name, wick->series) != 0)
        {
          WbCraftShortlistSeries *series = g_new0 (WbCraftShortlistSeries, 1);

          series->items = g_ptr_array_new ();
          series->first = i;
          series->by_name = has_unknown_step (wicks, wick->series);
          g_ptr_array_add (all, series);
          name = wick->series;
        }
      item->wick = wick->record.id;
      item->name = one_series ? g_strdup (wick->size) : wb_material_dup_title (wick);
      g_ptr_array_add (self->items, item);
      g_ptr_array_add (((WbCraftShortlistSeries *) g_ptr_array_index (all, all->len - 1))->items, item);
    }
  return all;
}

/* ---- From a ladder ---- */

static WbCraftShortlistItem *
get_item (const WbCraftShortlist *self,
          guint                   index)
{
  return g_ptr_array_index (self->items, index);
}

static const WbCraftLadderStep *
find_step (const WbCraftLadder *ladder,
           const WbWick        *wick)
{
  for (guint i = 0; i < ladder->steps->len; i++)
    {
      const WbCraftLadderStep *step = g_ptr_array_index (ladder->steps, i);

      if (g_strcmp0 (step->series, wick->series) == 0 && g_strcmp0 (step->size, wick->size) == 0)
        return step;
    }
  return NULL;
}

guint
wb_craft_shortlist_count_taken (const WbCraftShortlist *self)
{
  guint n = 0;

  g_return_val_if_fail (self != NULL, 0);

  for (guint i = 0; i < self->items->len; i++)
    n += get_item (self, i)->taken;
  return n;
}

/* The wick that the ladder thinks most of: likeliest to be right, or nearest to what its supplier says. */
static guint
find_best (const WbCraftShortlist *self,
           const WbCraftLadder    *ladder,
           const GPtrArray        *wicks)
{
  guint best = G_MAXUINT;
  double most = -1;

  for (guint i = 0; i < wicks->len; i++)
    {
      const WbCraftLadderStep *step = find_step (ladder, g_ptr_array_index (wicks, i));

      if (step != NULL && get_item (self, i)->taken && (best == G_MAXUINT || step->p_right > most))
        {
          best = i;
          most = step->p_right;
        }
    }
  return best;
}

/* The middle of those that are taken; where a supplier speaks, distances tell no chances. */
static guint
find_middle_taken (const WbCraftShortlist *self)
{
  guint n = wb_craft_shortlist_count_taken (self), seen = 0;

  for (guint i = 0; i < self->items->len; i++)
    if (get_item (self, i)->taken && seen++ == (n - 1) / 2)
      return i;
  return G_MAXUINT;
}

static const WbCraftShortlistSeries *
series_of (const GPtrArray *series,
           guint            index)
{
  for (guint i = 0; i < series->len; i++)
    {
      const WbCraftShortlistSeries *one = g_ptr_array_index (series, i);

      if (index >= one->first && index < one->first + one->items->len)
        return one;
    }
  return NULL;
}

/* The nearest wick of the series on one side that is not taken yet and may be poured; G_MAXUINT: none. */
static guint
find_beside (const WbCraftShortlist       *self,
             const WbCraftLadder          *ladder,
             const GPtrArray              *wicks,
             const WbCraftShortlistSeries *series,
             guint                         from,
             int                           side)
{
  for (gint64 i = (gint64) from + side; i >= series->first && i < series->first + series->items->len; i += side)
    {
      const WbCraftLadderStep *step = find_step (ladder, g_ptr_array_index (wicks, (guint) i));

      if (get_item (self, (guint) i)->taken)
        continue;
      return step != NULL && step->p_cross > RISKY ? G_MAXUINT : (guint) i;
    }
  return G_MAXUINT;
}

/* A ladder of one or two says little of which way to go: its neighbours come in, as long as none of them is foretold near a limit. */
static void
fill_with_neighbours (WbCraftShortlist    *self,
                      const WbCraftLadder *ladder,
                      const GPtrArray     *wicks,
                      const GPtrArray     *series,
                      guint                best)
{
  int side = 1;
  guint misses = 0;

  while (best != G_MAXUINT && wb_craft_shortlist_count_taken (self) < WB_CRAFT_SHORTLIST_USUAL && misses < 2)
    {
      guint beside = find_beside (self, ladder, wicks, series_of (series, best), best, side);
      const WbCraftLadderStep *step;

      side = -side;
      if (beside == G_MAXUINT)
        {
          misses++;
          continue;
        }
      misses = 0;
      step = find_step (ladder, g_ptr_array_index (wicks, beside));
      get_item (self, beside)->taken = TRUE;
      get_item (self, beside)->reason =
        g_strdup_printf (_("Beside %s, to see which way to go.%s%s"), get_item (self, best)->name, step != NULL ? " " : "",
                         step != NULL ? step->reason : "");
    }
}

/* "Chance of being right: 84 in 100. Full melt pool foretold after 3.1 h ..." */
static char *
dup_step_reason (const WbCraftLadderStep *step)
{
  g_autofree char *chance = NULL;

  if (isnan (step->p_right))
    return g_strdup (step->reason);
  chance = wb_craft_dup_chance (step->p_right);
  return g_strdup_printf (_("Chance of being right: %s. %s"), chance, step->reason);
}

static void
tell_items (WbCraftShortlist    *self,
            const WbCraftLadder *ladder,
            const GPtrArray     *wicks)
{
  for (guint i = 0; i < wicks->len; i++)
    {
      const WbWick *wick = g_ptr_array_index (wicks, i);
      const WbCraftLadderStep *step = find_step (ladder, wick);
      WbCraftShortlistItem *item = get_item (self, i);

      if (item->reason != NULL)
        continue;
      if (step != NULL)
        item->reason = dup_step_reason (step);
      else if (ladder->rests_on == WB_CRAFT_RESTS_ON_SUPPLIER)
        item->reason = g_strdup (_("No diameter of its supplier was typed in."));
      else
        item->reason = g_strdup (_("Its place in the series is not stated, so nothing is foretold of it."));
    }
}

static void
take_ladder (WbCraftShortlist    *self,
             const WbCraftLadder *ladder,
             const GPtrArray     *wicks)
{
  for (guint i = 0; i < wicks->len; i++)
    {
      const WbCraftLadderStep *step = find_step (ladder, g_ptr_array_index (wicks, i));

      get_item (self, i)->taken = step != NULL && step->in_ladder;
    }
}

/* No recommendation reaches so far: the nearest of them, and what is said of each tells that it is beyond. */
static void
take_nearest (WbCraftShortlist            *self,
              const WbCraftLadderQuestion *question,
              const WbCraftLadder         *ladder,
              const GPtrArray             *wicks,
              const GPtrArray             *guides,
              const GPtrArray             *waxes)
{
  g_autofree char *served = wb_quantity_format (WB_UNIT_MM, wb_craft_ladder_served_mm (question), 1);

  for (guint k = 0; k < WB_CRAFT_SHORTLIST_USUAL; k++)
    {
      guint nearest = G_MAXUINT;
      double least = INFINITY;

      for (guint i = 0; i < wicks->len; i++)
        {
          double gap = wb_craft_ladder_supplier_gap_mm (question, g_ptr_array_index (wicks, i), guides, waxes);

          if (get_item (self, i)->taken || isnan (gap) || gap >= least)
            continue;
          nearest = i;
          least = gap;
        }
      if (nearest == G_MAXUINT)
        return;
      get_item (self, nearest)->taken = TRUE;
      get_item (self, nearest)->reason = g_strdup_printf (_("%s %s lies beyond that."), find_step (ladder, g_ptr_array_index (wicks, nearest))->reason, served);
    }
}

char *
wb_craft_shortlist_dup_vessel (const WbCraftLadderQuestion *question)
{
  g_autofree char *inner = NULL;

  if (question->vessel != NULL)
    return g_strdup (question->vessel);
  inner = wb_quantity_format (WB_UNIT_MM, question->inner_diameter_mm, 1);
  return g_strdup_printf (_("a vessel of %s"), inner);
}

char *
wb_craft_shortlist_dup_names (const WbCraftShortlist *self)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  g_autofree char *joined = NULL;

  for (guint i = 0; i < self->items->len; i++)
    if (get_item (self, i)->taken)
      g_ptr_array_add (names, get_item (self, i)->name);
  joined = wb_craft_words_join (names);
  return self->series != NULL && names->len > 0 ? g_strdup_printf ("%s %s", self->series, joined) : g_steal_pointer (&joined);
}

static gboolean
any_taken_extrapolated (const WbCraftShortlist *self,
                        const WbCraftLadder    *ladder,
                        const GPtrArray        *wicks)
{
  for (guint i = 0; i < wicks->len; i++)
    {
      const WbCraftLadderStep *step = find_step (ladder, g_ptr_array_index (wicks, i));

      if (get_item (self, i)->taken && step != NULL && step->extrapolated)
        return TRUE;
    }
  return FALSE;
}

static void
tell_supplier (WbCraftShortlist            *self,
               const WbCraftLadderQuestion *question,
               gboolean                     beyond)
{
  g_autofree char *names = wb_craft_shortlist_dup_names (self);
  g_autofree char *served = wb_quantity_format (WB_UNIT_MM, wb_craft_ladder_served_mm (question), 1);

  if (beyond)
    /* Translators: a diameter; names of wicks. */
    self->answer = g_strdup_printf (_("No supplier's diameter that was typed in reaches %s. The nearest are %s: a guess beyond what is recommended."), served, names);
  else
    self->answer = g_strdup_printf (_("Begin with %s: their suppliers' diameters lie about %s. No earlier burns say more."), names, served);
}

/* Of what the ladder does not foretell. */
static void
tell_what_is_open (WbCraftShortlist    *self,
                   const WbCraftLadder *ladder)
{
  g_autofree char *told = NULL;

  if (ladder->knows_the_end)
    return;
  told = g_steal_pointer (&self->answer);
  self->answer = g_strdup_printf (_("%s No earlier candle was read near its end, so heat there is not foretold."), told);
}

static void
tell_history (WbCraftShortlist    *self,
              const WbCraftLadder *ladder,
              const GPtrArray     *wicks)
{
  g_autofree char *names = wb_craft_shortlist_dup_names (self);
  g_autofree char *experiments = wb_craft_words_join (ladder->experiments);
  g_autofree char *chance = wb_craft_dup_chance (ladder->p_holds_best);

  if (*names == '\0')
    {
      /* The ladder's own sentence says all of it. */
      self->answer = g_strdup_printf (_("%s This rests on the burns of %s."), ladder->answer, experiments);
      return;
    }
  if (any_taken_extrapolated (self, ladder, wicks))
    /* Translators: names of wicks; codes of experiments; a chance. */
    self->answer = g_strdup_printf (_("Begin with %s: by the burns of %s the chance that one of them is right is %s. Some of it goes beyond what was burnt, as said at each."),
                                    names, experiments, chance);
  else
    self->answer = g_strdup_printf (_("Begin with %s: by the burns of %s the chance that one of them is right is %s."), names, experiments, chance);
  tell_what_is_open (self, ladder);
}

/* With three, or four where three are not likely enough to hold a right one and the fourth helps. */
static WbCraftLadder *
ask_ladder (const WbCraftLadderQuestion *question,
            const WbCraftSchool         *school,
            const GPtrArray             *wicks,
            const GPtrArray             *guides,
            const GPtrArray             *waxes,
            guint                        n_series,
            guint64                      seed)
{
  WbCraftLadderQuestion asked = *question;
  g_autoptr (WbCraftLadder) three = NULL;
  g_autoptr (WbCraftLadder) four = NULL;

  asked.sizes = WB_CRAFT_SHORTLIST_USUAL;
  three = wb_craft_ladder_new (&asked, school, wicks, guides, waxes, seed);
  asked.sizes = WB_CRAFT_SHORTLIST_MOST;
  if (three->rests_on == WB_CRAFT_RESTS_ON_SUPPLIER && n_series > 1)
    return wb_craft_ladder_new (&asked, school, wicks, guides, waxes, seed);
  if (three->rests_on != WB_CRAFT_RESTS_ON_HISTORY || three->p_holds_best >= SURE_ENOUGH)
    return g_steal_pointer (&three);
  four = wb_craft_ladder_new (&asked, school, wicks, guides, waxes, seed);
  return four->p_holds_best >= three->p_holds_best + WORTH_A_FOURTH ? g_steal_pointer (&four) : g_steal_pointer (&three);
}

static void
tell_wicks (WbCraftShortlist            *self,
            const WbCraftLadderQuestion *question)
{
  g_autofree char *vessel = wb_craft_shortlist_dup_vessel (question);
  g_autofree char *answer = g_steal_pointer (&self->answer);

  /* Translators: a sentence; "Gannet, 110 mm"; how many wicks. */
  self->answer = g_strdup_printf (_("%s In %s makers use more than one wick (common practice): these are meant with %u in a vessel."), answer, vessel,
                                  self->wicks);
}

static char *
dup_next (const WbCraftShortlist *self)
{
  guint taken = wb_craft_shortlist_count_taken (self);

  if (taken == 0)
    return g_strdup ("");
  if (taken == self->items->len)
    return g_strdup (_("This says where to begin, not what is right or safe: only burning them does."));
  return g_strdup (_("Next: the sizes beside the one that burns best. This says where to begin, not what is right or safe: only burning them does."));
}

static void
answer (WbCraftShortlist            *self,
        const WbCraftLadderQuestion *question,
        const GPtrArray             *wicks,
        const GPtrArray             *series,
        const WbCraftLadder         *ladder,
        const GPtrArray             *guides,
        const GPtrArray             *waxes)
{
  gboolean beyond;

  if (ladder->rests_on == WB_CRAFT_RESTS_ON_NOTHING)
    {
      wb_craft_shortlist_search (self, question, series);
      return;
    }
  take_ladder (self, ladder, wicks);
  beyond = ladder->rests_on == WB_CRAFT_RESTS_ON_SUPPLIER && wb_craft_shortlist_count_taken (self) == 0;
  if (beyond)
    take_nearest (self, question, ladder, wicks, guides, waxes);
  fill_with_neighbours (self, ladder, wicks, series,
                        ladder->rests_on == WB_CRAFT_RESTS_ON_HISTORY ? find_best (self, ladder, wicks) : find_middle_taken (self));
  tell_items (self, ladder, wicks);
  if (ladder->rests_on == WB_CRAFT_RESTS_ON_HISTORY)
    tell_history (self, ladder, wicks);
  else
    tell_supplier (self, question, beyond);
}

WbCraftShortlist *
wb_craft_shortlist_new (const WbCraftLadderQuestion *question,
                        const WbCraftSchool         *school,
                        const GPtrArray             *wicks,
                        const GPtrArray             *guides,
                        const GPtrArray             *waxes,
                        guint64                      seed)
{
  WbCraftShortlist *self;
  WbCraftLadderQuestion asked;
  g_autoptr (GPtrArray) sorted = NULL;
  g_autoptr (GPtrArray) series = NULL;
  g_autoptr (WbCraftLadder) ladder = NULL;

  g_return_val_if_fail (question != NULL && wicks != NULL && guides != NULL && waxes != NULL, NULL);

  asked = *question;
  asked.wicks = question->wicks > 0 ? question->wicks : wb_craft_ladder_usual_wicks (question->inner_diameter_mm);
  self = g_new0 (WbCraftShortlist, 1);
  self->wicks = asked.wicks;
  self->items = g_ptr_array_new_with_free_func (free_item);
  sorted = g_ptr_array_new ();
  for (guint i = 0; i < wicks->len; i++)
    g_ptr_array_add (sorted, g_ptr_array_index (wicks, i));
  g_ptr_array_sort_with_data (sorted, compare_wicks, (gpointer) wicks);
  series = list_series (self, sorted);
  if (series->len == 1)
    self->series = g_strdup (((const WbWick *) g_ptr_array_index (sorted, 0))->series);
  if (wicks->len == 0)
    self->answer = g_strdup (_("There is no wick to choose among."));
  else if (!(question->inner_diameter_mm > 0))
    self->answer = g_strdup (_("The vessel's inner diameter is not known: nothing can be said of its wick."));
  else
    {
      ladder = ask_ladder (&asked, school, sorted, guides, waxes, series->len, seed);
      self->rests_on = ladder->rests_on;
      answer (self, &asked, sorted, series, ladder, guides, waxes);
      if (question->wicks == 0 && self->wicks > 1)
        tell_wicks (self, &asked);
    }
  for (guint i = 0; i < self->items->len; i++)
    if (get_item (self, i)->reason == NULL)
      get_item (self, i)->reason = g_strdup ("");
  self->next = dup_next (self);
  return self;
}

void
wb_craft_shortlist_free (WbCraftShortlist *self)
{
  if (self == NULL)
    return;
  g_ptr_array_unref (self->items);
  g_free (self->series);
  g_free (self->answer);
  g_free (self->next);
  g_free (self);
}
