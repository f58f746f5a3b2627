/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-ladder.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <stdlib.h>

#include "wb-craft-batch.h"
#include "wb-craft-ladder-private.h"
#include "wb-craft-vessel-private.h"

#define LADDER_DRAWS 1024 /* a chance of a half is known to 1.6 in 100 */
#define USUAL_SIZES 3
#define UPPER_THIRD (1.0 / 3) /* of the fill, from the top */
#define WINDOW_LOW 0.75
#define WINDOW_HIGH 1.25

static const WbCraftInterval nothing = { NAN, NAN, NAN };

static void
free_nearest (gpointer data)
{
  WbCraftNearest *nearest = data;

  g_free (nearest->experiment);
  g_free (nearest->what);
  g_free (nearest->differs);
  g_free (nearest->result);
  g_free (nearest);
}

static void
free_step (gpointer data)
{
  WbCraftLadderStep *step = data;

  g_free (step->series);
  g_free (step->size);
  g_free (step->reason);
  g_free (step->outside);
  g_ptr_array_unref (step->nearest);
  g_free (step);
}

WbCraftLadderStep *
wb_craft_ladder_add_step (WbCraftLadder *self,
                          const WbWick  *wick)
{
  WbCraftLadderStep *step = g_new0 (WbCraftLadderStep, 1);

  step->series = g_strdup (wick->series);
  step->size = g_strdup (wick->size);
  step->step = wick->step;
  step->wick = wick->record.id;
  step->pool_limit_mm = step->full_pool_h = step->flame_mm = step->score = step->burn_h = nothing;
  for (guint place = 0; place < WB_CRAFT_N_FILLS; place++)
    {
      step->at[place] = (WbCraftForetoldAt) { nothing, nothing, nothing, nothing, nothing, NAN, { { 0 } } };
      for (guint hour = 0; hour < WB_CRAFT_LADDER_HOURS; hour++)
        step->at[place].pool_mm[hour] = nothing;
    }
  step->p_right = step->p_best = step->p_near = step->p_cross = NAN;
  step->nearest = g_ptr_array_new_with_free_func (free_nearest);
  g_ptr_array_add (self->steps, step);
  return step;
}

guint
wb_craft_ladder_usual_wicks (double inner_diameter_mm)
{
  double share = inner_diameter_mm / WB_CRAFT_ONE_WICK_MM;

  return share > 1 ? (guint) ceil (share * share) : 1;
}

double
wb_craft_ladder_spacing_mm (double inner_diameter_mm,
                            guint  wicks)
{
  double ring = inner_diameter_mm * (1 - 1 / sqrt (MAX (wicks, 1)));

  return wicks > 1 && inner_diameter_mm > 0 ? ring * sin (G_PI / wicks) : NAN;
}

double
wb_craft_ladder_due_h (const WbCraftLadder *self)
{
  return self->question.inner_diameter_mm / WB_CRAFT_MM_PER_INCH;
}

char *
wb_craft_ladder_dup_names (const WbCraftLadder *self)
{
  GString *names = g_string_new (NULL);

  for (guint i = 0; i < self->steps->len; i++)
    {
      const WbCraftLadderStep *step = g_ptr_array_index (self->steps, i);

      if (step->in_ladder)
        g_string_append_printf (names, "%s%s %s", names->len > 0 ? ", " : "", step->series, step->size);
    }
  return g_string_free (names, FALSE);
}

static int
compare_wicks (gconstpointer a,
               gconstpointer b)
{
  const WbWick *one = *(const WbWick *const *) a, *other = *(const WbWick *const *) b;
  int by_series = g_strcmp0 (one->series, other->series);

  if (by_series != 0)
    return by_series;
  if (one->step != other->step)
    return one->step < other->step ? -1 : 1;
  return g_strcmp0 (one->size, other->size);
}

static double
load_of_wax (const WbCraftLadderQuestion *question)
{
  return question->load_basis == WB_BASIS_TOTAL ? wb_craft_load_to_wax_pct (question->load_pct) : question->load_pct;
}

WbCraftLadderStep *
wb_craft_ladder_get_step (const WbCraftLadder *self,
                          guint                index)
{
  return g_ptr_array_index (self->steps, index);
}

/* A diameter says no material: it is taken to be that of all that were burnt and have one; -1 where they differ, or none has. */
static int
find_wall (const WbCraftSchool *school)
{
  int wall = -1;

  for (guint i = 0; i < school->seats->len; i++)
    {
      const WbCraftSeat *seat = &g_array_index (school->seats, WbCraftSeat, i);

      if (seat->cell->burns == 0 || seat->wall < 0 || seat->wall == wall)
        continue;
      if (wall >= 0)
        return -1;
      wall = seat->wall;
    }
  return wall;
}

/* Those whose place in their series is known, a step each. */
static GArray *
seat_wicks (WbCraftLadder       *self,
            const WbCraftSchool *school,
            const GPtrArray     *wicks)
{
  GArray *seats = g_array_new (FALSE, TRUE, sizeof (WbCraftSeat));
  const WbVessel *own = wb_craft_ladder_find_vessel (self);
  int wall = own != NULL ? own->wall : find_wall (school);

  for (guint i = 0; i < wicks->len; i++)
    {
      const WbWick *wick = g_ptr_array_index (wicks, i);
      WbCraftSeat seat = { .step = wick->step, .wicks = self->question.wicks, .wall = wall, .inner_mm = self->question.inner_diameter_mm,
                           .load_pct = load_of_wax (&self->question) };

      if (wick->step == WB_INTEGER_NONE || wick->series == NULL)
        continue;
      wb_craft_register_seat ((WbCraftRegister *) &school->names, &seat, wick->series, wick->size, self->question.wax, FALSE);
      if (self->question.another_vessel) /* drawn from its family, however near the school has one */
        {
          seat.level[WB_CRAFT_LEVEL_VESSEL] = seat.level[WB_CRAFT_LEVEL_HERE] = G_MAXUINT;
          if (wall < 0 || wall == WB_WALL_OTHER)
            seat.level[WB_CRAFT_LEVEL_MATERIAL] = G_MAXUINT;
        }
      g_array_append_val (seats, seat);
      wb_craft_ladder_add_step (self, wick);
    }
  return seats;
}

/* Was anything below the upper third read of the recipe? Where a log does not tell how deep, all of it counts as the upper third. */
static gboolean
is_read_below (const WbCraftSchool *school,
               const WbCraftSeat   *recipe)
{
  for (guint i = 0; i < school->seats->len; i++)
    {
      const WbCraftSeat *seat = &g_array_index (school->seats, WbCraftSeat, i);

      if (wb_craft_foretell_is_of (seat, recipe) && seat->cell->reach > UPPER_THIRD)
        return TRUE;
    }
  return FALSE;
}

/* Of the recipes that were themselves burnt, and only at the top, the one that would lead by that alone; G_MAXUINT: no such, or only one. */
static guint
find_upper_leader (const WbCraftLadder   *self,
                   const WbCraftForetell *foretell,
                   const gboolean        *barred)
{
  g_autoptr (WbCraftScore) score = NULL;
  guint leader = G_MAXUINT, n = 0;
  double most = 0;

  for (guint i = 0; i < self->steps->len; i++)
    if (wb_craft_ladder_get_step (self, i)->tested)
      {
        if (is_read_below (foretell->school, &g_array_index (foretell->seats, WbCraftSeat, i)))
          return G_MAXUINT;
        n++;
      }
  if (n < 2)
    return G_MAXUINT;
  score = wb_craft_foretell_score_upper (foretell);
  for (guint i = 0; i < self->steps->len; i++)
    {
      double sum = 0;

      for (guint draw = 0; draw < score->n_draws; draw++)
        sum += score->recipe[(gsize) draw * score->n_cells + i];
      if (!wb_craft_ladder_get_step (self, i)->tested || barred[i] || !(sum > most))
        continue;
      most = sum;
      leader = i;
    }
  return leader;
}

/* upper: as of wb_craft_ladder_put_notes. */
static gboolean
by_history (WbCraftLadder       *self,
            const WbCraftSchool *school,
            const GPtrArray     *wicks,
            guint64              seed,
            guint               *upper)
{
  g_autoptr (GArray) seats = NULL;
  g_autoptr (WbCraftForetell) foretell = NULL;
  g_autoptr (WbCraftScore) score = NULL;
  g_autofree gboolean *barred = NULL;

  if (school == NULL || !wb_craft_school_is_taught (school))
    return FALSE;
  seats = seat_wicks (self, school, wicks);
  if (seats->len == 0)
    return FALSE;
  self->rests_on = WB_CRAFT_RESTS_ON_HISTORY;
  foretell = wb_craft_foretell_new (school, &self->question, seats, LADDER_DRAWS, seed);
  score = wb_craft_foretell_score (foretell);
  barred = g_new (gboolean, seats->len);
  for (guint i = 0; i < seats->len; i++)
    barred[i] = wb_craft_foretell_crosses (school, &g_array_index (seats, WbCraftSeat, i));
  wb_craft_ladder_pick (self, score, barred);
  wb_craft_ladder_tell (self, foretell, score, barred);
  wb_craft_ladder_find_nearest (self, school, seats);
  wb_craft_ladder_put_words (self, foretell, score);
  *upper = find_upper_leader (self, foretell, barred);
  return TRUE;
}

/* The window that is asked for, else the protocol's. */
static void
take_window (WbCraftLadderQuestion *question)
{
  const WbProtocol *protocol = question->protocol;

  if (!(question->window_low > 0))
    question->window_low = protocol != NULL && protocol->window_low > 0 ? protocol->window_low : WINDOW_LOW;
  if (!(question->window_high > 0))
    question->window_high = protocol != NULL && protocol->window_high > 0 ? protocol->window_high : WINDOW_HIGH;
}

/* Who judged, and what the notebook holds, is borrowed no longer. */
static void
forget_borrowed (WbCraftLadderQuestion *question)
{
  question->vessels = question->decisions = question->cells = question->experiments = NULL;
  question->protocol = NULL;
  question->profile = NULL;
  question->aims = question->limits = NULL;
}

/* The rooms that are asked for, else the usual ones. */
static void
take_rooms (WbCraftLadderQuestion *question)
{
  double cold = question->room_cold_c, warm = question->room_warm_c;
  gboolean told = isfinite (cold) && isfinite (warm) && (cold != 0 || warm != 0);

  question->room_cold_c = told ? MIN (cold, warm) : WB_CRAFT_ROOM_COLD_C;
  question->room_warm_c = told ? MAX (cold, warm) : WB_CRAFT_ROOM_WARM_C;
}

static WbCraftLadder *
ladder_alloc (const WbCraftLadderQuestion *question)
{
  WbCraftLadder *self = g_new0 (WbCraftLadder, 1);

  self->question = *question;
  self->question.vessel = g_strdup (question->vessel);
  self->question.wax = g_strdup (question->wax);
  self->question.wicks = MAX (question->wicks, 1);
  self->question.sizes = question->sizes > 0 ? question->sizes : USUAL_SIZES;
  take_window (&self->question);
  take_rooms (&self->question);
  self->due_low_h = self->question.window_low * wb_craft_ladder_due_h (self);
  self->due_high_h = self->question.window_high * wb_craft_ladder_due_h (self);
  if (!(question->inner_diameter_mm > 0))
    self->due_low_h = self->due_high_h = NAN;
  self->experiments = g_ptr_array_new_with_free_func (g_free);
  self->warnings = g_ptr_array_new_with_free_func (g_free);
  self->notes = g_ptr_array_new_with_free_func (g_free);
  self->steps = g_ptr_array_new_with_free_func (free_step);
  self->p_holds_best = self->p_run_holds_best = self->p_wider_holds_best = self->p_none = NAN;
  self->wider = G_MAXUINT;
  self->shares_vessel = self->question.wicks > 1;
  return self;
}

WbCraftLadder *
wb_craft_ladder_new (const WbCraftLadderQuestion *question,
                     const WbCraftSchool         *school,
                     const GPtrArray             *wicks,
                     const GPtrArray             *guides,
                     const GPtrArray             *waxes,
                     guint64                      seed)
{
  WbCraftLadder *self;
  g_autoptr (GPtrArray) sorted = g_ptr_array_new ();
  guint upper = G_MAXUINT;

  g_return_val_if_fail (question != NULL && wicks != NULL && guides != NULL && waxes != NULL, NULL);

  self = ladder_alloc (question);
  for (guint i = 0; i < wicks->len; i++)
    g_ptr_array_add (sorted, g_ptr_array_index (wicks, i));
  g_ptr_array_sort (sorted, compare_wicks);
  if (!(question->inner_diameter_mm > 0))
    self->answer = g_strdup (_("No basis: the vessel's inner diameter is not known."));
  else if (!by_history (self, school, sorted, seed, &upper) && !wb_craft_ladder_by_supplier (self, sorted, guides, waxes))
    self->answer = g_strdup (_("No basis: there is no earlier experiment, and no supplier's recommendation was typed in."));
  wb_craft_ladder_put_notes (self, school, wicks, waxes, upper);
  forget_borrowed (&self->question);
  return self;
}

void
wb_craft_ladder_free (WbCraftLadder *self)
{
  if (self == NULL)
    return;
  g_free (self->question.vessel);
  g_free (self->question.wax);
  g_ptr_array_unref (self->experiments);
  g_ptr_array_unref (self->warnings);
  g_ptr_array_unref (self->notes);
  g_ptr_array_unref (self->steps);
  g_free (self->answer);
  g_free (self->learnt);
  g_free (self);
}
