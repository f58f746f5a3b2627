/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-evenings.h"

#include "wb-clock.h"
#include "wb-craft-cohorts.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* A burn of the house protocol. */
#define HOUSE_BURN_S (4 * 3600.0)

/* How far the plan has come with a cohort. */
typedef struct
{
  guint     planned;
  gint64    ready_us;  /* UTC; G_MININT64: at any time */
  guint     begun;     /* its place among those that are begun; G_MAXUINT: not yet */
  gboolean  too_large;
} Progress;

typedef struct
{
  const WbCraftEveningsCohort *cohorts;
  guint                        n;
  const WbCraftEveningsBench  *bench;
  Progress                    *progress;
  guint                        n_begun;
} Planning;

static gboolean
is_done (const Planning *self,
         guint           cohort)
{
  return self->progress[cohort].too_large || self->cohorts[cohort].samples == 0
         || self->progress[cohort].planned >= self->cohorts[cohort].left;
}

static gboolean
is_all_done (const Planning *self)
{
  for (guint i = 0; i < self->n; i++)
    if (!is_done (self, i))
      return FALSE;
  return TRUE;
}

static gboolean
is_begun (const WbCraftEveningsCohort *cohort)
{
  return cohort->begun || cohort->done > 0;
}

/* Whether one of the same experiment burns before it that is not at its end yet, or has its last burn this evening. */
static gboolean
waits_for_another (const Planning *self,
                   guint           cohort,
                   const gboolean *lit)
{
  const WbCraftEveningsCohort *own = &self->cohorts[cohort];

  for (guint i = 0; i < self->n && own->number > 0; i++)
    {
      const WbCraftEveningsCohort *other = &self->cohorts[i];

      if (i != cohort && other->experiment == own->experiment && other->number > 0 && (self->progress[i].too_large || !is_done (self, i) || lit[i])
          && wb_craft_cohorts_is_before (is_begun (other), other->number, is_begun (own), own->number))
        return TRUE;
    }
  return FALSE;
}

/* The next of those that may be lit and fit on what is free: begun ones as they began, then new ones as they were poured. G_MAXUINT: none. */
static guint
find_next (const Planning *self,
           gint64          begins_us,
           guint           free_places,
           const gboolean *lit)
{
  guint best = G_MAXUINT;

  for (guint i = 0; i < self->n; i++)
    if (!lit[i] && !is_done (self, i) && self->cohorts[i].samples <= free_places && self->progress[i].ready_us <= begins_us
        && (best == G_MAXUINT || self->progress[i].begun < self->progress[best].begun) && !waits_for_another (self, i, lit))
      best = i;
  return best;
}

static void
light (Planning        *self,
       guint            cohort,
       WbCraftEvening  *evening,
       WbCraftEvenings *into)
{
  const WbCraftEveningsCohort *from = &self->cohorts[cohort];
  Progress *progress = &self->progress[cohort];
  WbCraftEveningsBurn burn = { cohort, from->done + progress->planned + 1 };
  double wait_s = (isnan (from->burn_s) ? HOUSE_BURN_S : from->burn_s) + (isnan (from->cool_s) ? 0 : from->cool_s);

  g_array_append_val (into->burns, burn);
  evening->n++;
  evening->places += from->samples;
  progress->planned++;
  progress->ready_us = evening->begins.utc_us + (gint64) (wait_s * G_USEC_PER_SEC);
  if (progress->begun == G_MAXUINT)
    progress->begun = self->n_begun++;
}

static void
plan_evening (Planning        *self,
              WbDay            day,
              WbCraftEvenings *into)
{
  int minute = self->bench->begins_min;
  WbCraftEvening evening = { .day = day, .begins = wb_clock_local (wb_clock_get (), day, minute / 60, minute % 60, 0),
                             .first = into->burns->len };
  g_autofree gboolean *lit = g_new0 (gboolean, MAX (self->n, 1));
  guint next;

  if (!evening.begins.known)
    return;
  while ((next = find_next (self, evening.begins.utc_us, self->bench->places - evening.places, lit)) != G_MAXUINT)
    {
      lit[next] = TRUE;
      light (self, next, &evening, into);
    }
  if (evening.n > 0)
    g_array_append_val (into->evenings, evening);
}

static void
begin (Planning        *self,
       WbCraftEvenings *into)
{
  for (guint i = 0; i < self->n; i++)
    {
      const WbCraftEveningsCohort *cohort = &self->cohorts[i];
      Progress *progress = &self->progress[i];

      progress->ready_us = cohort->ready_at.known ? cohort->ready_at.utc_us : G_MININT64;
      progress->begun = is_begun (cohort) ? self->n_begun++ : G_MAXUINT;
      progress->too_large = cohort->left > 0 && cohort->samples > self->bench->places;
      if (progress->too_large)
        g_ptr_array_add (into->problems,
                         g_strdup_printf (_("%s: its %u samples burn together, and places on the bench: %u. Its evenings are not planned: divide it among "
                                            "cohorts on its plan page."),
                                          cohort->name, cohort->samples, self->bench->places));
    }
}

/* Too large for the bench, or behind one of its experiment that is: told already. */
static gboolean
is_stuck (const Planning *self,
          guint           cohort)
{
  for (guint i = 0; i < self->n; i++)
    if (self->progress[i].too_large
        && (i == cohort || (self->cohorts[i].experiment == self->cohorts[cohort].experiment && self->cohorts[i].number > 0 && self->cohorts[cohort].number > 0)))
      return TRUE;
  return FALSE;
}

static void
finish (Planning        *self,
        WbCraftEvenings *into)
{
  guint late = 0;

  for (guint i = 0; i < self->n; i++)
    if (self->cohorts[i].samples > 0)
      {
        guint left = self->cohorts[i].left - self->progress[i].planned;

        into->left += left;
        late += is_stuck (self, i) ? 0 : left;
      }
  into->cut = late > 0;
  if (late > 0)
    g_ptr_array_add (into->problems,
                     g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u burn comes later than %u days from now and is not planned yet",
                                                   "%u burns come later than %u days from now and are not planned yet", late),
                                      late, self->bench->horizon_days));
}

WbCraftEvenings *
wb_craft_evenings_new (const WbCraftEveningsCohort *cohorts,
                       guint                        n,
                       const WbCraftEveningsBench  *bench)
{
  WbCraftEvenings *self = g_new0 (WbCraftEvenings, 1);
  g_autofree Progress *progress = g_new0 (Progress, MAX (n, 1));
  Planning planning = { cohorts, n, bench, progress, 0 };

  self->evenings = g_array_new (FALSE, FALSE, sizeof (WbCraftEvening));
  self->burns = g_array_new (FALSE, FALSE, sizeof (WbCraftEveningsBurn));
  self->problems = g_ptr_array_new_with_free_func (g_free);
  begin (&planning, self);
  if (bench->first != WB_DAY_NONE && bench->evenings != WB_EVENINGS_NONE)
    for (WbDay day = wb_evenings_next (bench->evenings, bench->first);
         day < bench->first + (WbDay) bench->horizon_days && !is_all_done (&planning);
         day = wb_evenings_next (bench->evenings, day + 1))
      if (!wb_evenings_out_has (bench->out, day))
        plan_evening (&planning, day, self);
  finish (&planning, self);
  return self;
}

void
wb_craft_evenings_free (WbCraftEvenings *self)
{
  if (self == NULL)
    return;
  g_array_unref (self->evenings);
  g_array_unref (self->burns);
  g_ptr_array_unref (self->problems);
  g_free (self);
}

WbDay
wb_craft_evenings_get_last (const WbCraftEvenings *self)
{
  g_return_val_if_fail (self != NULL, WB_DAY_NONE);

  return self->evenings->len > 0 ? g_array_index (self->evenings, WbCraftEvening, self->evenings->len - 1).day : WB_DAY_NONE;
}

/* The grid's cohorts, behind the others, as those of an experiment that is none of theirs. */
static GArray *
dup_with_grid (const WbCraftEveningsCohort *cohorts,
               guint                        n,
               guint                        places,
               const WbCraftEveningsGrid   *grid)
{
  GArray *all = g_array_new (FALSE, FALSE, sizeof (WbCraftEveningsCohort));
  guint parts = (guint) (((guint64) grid->samples + places - 1) / places);

  g_array_append_vals (all, cohorts, n);
  for (guint i = 0; i < parts; i++)
    {
      WbCraftEveningsCohort cohort = { "", grid->samples / parts + (i < grid->samples % parts), 0, grid->burns, grid->ready_at,
                                       grid->burn_s, grid->cool_s, G_MAXINT64, i + 1, FALSE };

      g_array_append_val (all, cohort);
    }
  return all;
}

WbCraftEveningsOutlook
wb_craft_evenings_foretell (const WbCraftEveningsCohort *cohorts,
                            guint                        n,
                            const WbCraftEveningsBench  *bench,
                            const WbCraftEveningsGrid   *grid)
{
  WbCraftEveningsOutlook outlook = { 0, WB_DAY_NONE, FALSE };
  g_autoptr (WbCraftEvenings) plan = NULL;
  g_autoptr (GArray) all = NULL;
  guint planned = 0, wanted;

  g_return_val_if_fail (bench != NULL && grid != NULL && (cohorts != NULL || n == 0), outlook);

  if (bench->places == 0 || bench->evenings == WB_EVENINGS_NONE || grid->samples == 0 || grid->burns == 0)
    return outlook;
  all = dup_with_grid (cohorts, n, bench->places, grid);
  wanted = (all->len - n) * grid->burns;
  plan = wb_craft_evenings_new ((const WbCraftEveningsCohort *) (gpointer) all->data, all->len, bench);
  for (guint i = 0; i < plan->evenings->len; i++)
    {
      const WbCraftEvening *evening = &g_array_index (plan->evenings, WbCraftEvening, i);
      guint before = planned;

      for (guint k = evening->first; k < evening->first + evening->n; k++)
        planned += g_array_index (plan->burns, WbCraftEveningsBurn, k).cohort >= n;
      if (planned == before)
        continue;
      outlook.evenings++;
      outlook.last = evening->day;
    }
  outlook.late = planned < wanted;
  if (outlook.late)
    outlook.last = WB_DAY_NONE;
  return outlook;
}
