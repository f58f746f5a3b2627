/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-calendar-private.h"

#include "wb-clock.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* From cohorts to evenings and events. */

/* So long after an evening's beginning nobody lights a burn of some hours any more. Common practice, no source. */
#define LATEST_START_US (3 * 3600 * (gint64) G_USEC_PER_SEC)

WbAppCalendarEvent *
wb_app_calendar_event_new (WbAppCalendarKind kind,
                           gint64            experiment,
                           const char       *code,
                           char             *uid,
                           char             *title,
                           char             *detail)
{
  WbAppCalendarEvent *event = g_new0 (WbAppCalendarEvent, 1);

  event->kind = kind;
  event->experiment = experiment;
  event->code = g_strdup (code);
  event->day = WB_DAY_NONE;
  event->at = WB_INSTANT_NONE;
  event->length_s = NAN;
  event->uid = uid;
  event->title = title;
  event->detail = detail;
  return event;
}

char *
wb_app_calendar_dup_cure_title (const char *code,
                                gboolean    smell,
                                guint       n)
{
  return g_strdup_printf (smell ? g_dngettext (GETTEXT_PACKAGE, "%s: %u sample fit to smell", "%s: %u samples fit to smell", n)
                                : g_dngettext (GETTEXT_PACKAGE, "%s: %u sample fit to burn", "%s: %u samples fit to burn", n),
                          code, n);
}

char *
wb_app_calendar_dup_codes (const WbAppCalendarCohort *cohort)
{
  GString *codes = g_string_new (NULL);

  for (guint i = 0; i < cohort->samples->len; i++)
    g_string_append_printf (codes, "%s%s", i > 0 ? ", " : "", ((WbAppCalendarSample *) g_ptr_array_index (cohort->samples, i))->code);
  return g_string_free (codes, FALSE);
}

static int
get_begins_min (const WbNotebook *notebook)
{
  return notebook->evening_begins_min == WB_INTEGER_NONE ? WB_EVENING_BEGINS_MIN : (int) notebook->evening_begins_min;
}

static WbInstant
get_begin (const WbNotebook *notebook,
           WbDay             day)
{
  int minute = get_begins_min (notebook);

  return wb_clock_local (wb_clock_get (), day, minute / 60, minute % 60, 0);
}

static void
note_moment (WbInstant *earliest,
             WbInstant  moment,
             WbInstant  now)
{
  if (moment.known && moment.utc_us > now.utc_us && (!earliest->known || moment.utc_us < earliest->utc_us))
    *earliest = moment;
}

static void
note_revised (WbAppCalendarRead *self,
              WbInstant          moment,
              WbInstant          now)
{
  if (moment.known && moment.utc_us <= now.utc_us && (!self->revised.known || moment.utc_us > self->revised.utc_us))
    self->revised = moment;
}

/* Today's evening is one to plan until it is too late to light, or something has been lit; `first` is tomorrow where it was. */
static void
find_first (WbAppCalendarRead *self,
            const WbNotebook  *notebook,
            WbInstant          now)
{
  WbDay today = wb_instant_get_day (now);
  WbInstant latest = get_begin (notebook, today);

  latest.utc_us += LATEST_START_US;
  if (self->first == WB_DAY_NONE || self->first < today)
    self->first = latest.known && now.utc_us > latest.utc_us ? today + 1 : today;
  note_revised (self, wb_clock_local (wb_clock_get (), today, 0, 0, 0), now);
  note_revised (self, latest, now);
  note_moment (&self->until, latest, now);
  note_moment (&self->until, wb_clock_local (wb_clock_get (), today + 1, 0, 0, 0), now);
}

static void
add_evening_event (WbAppCalendarRead    *self,
                   const WbCraftEvening *evening,
                   const WbCraftEveningsBurn *burn)
{
  const WbAppCalendarCohort *cohort = g_ptr_array_index (self->cohorts, burn->cohort);
  guint n = cohort->samples->len;
  g_autofree char *codes = wb_app_calendar_dup_codes (cohort), *uuid = wb_uuid_format (&cohort->uuid);
  WbAppCalendarEvent *event;

  event = wb_app_calendar_event_new (WB_APP_CALENDAR_EVENING, cohort->experiment, cohort->code,
                                     g_strdup_printf ("%s-c%" G_GINT64_FORMAT "-b%u", uuid, cohort->cohort, burn->burn),
                                     g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s: burn %u, %u sample", "%s: burn %u, %u samples", n),
                                                      cohort->name, burn->burn, n),
                                     g_steal_pointer (&codes));
  event->day = evening->day;
  event->at = evening->begins;
  event->length_s = isnan (cohort->burn_s) ? 4 * 3600.0 : cohort->burn_s;
  event->cohort = burn->cohort;
  event->burn = burn->burn;
  event->samples = n;
  g_ptr_array_add (self->events, event);
}

static void
add_relight (WbAppCalendarRead *self,
             guint              index,
             WbInstant          now)
{
  const WbAppCalendarCohort *cohort = g_ptr_array_index (self->cohorts, index);
  g_autofree char *uuid = NULL;
  WbAppCalendarEvent *event;

  if (!cohort->cooling || !cohort->ready_at.known || cohort->ready_at.utc_us <= now.utc_us)
    return;
  uuid = wb_uuid_format (&cohort->uuid);
  event = wb_app_calendar_event_new (WB_APP_CALENDAR_RELIGHT, cohort->experiment, cohort->code,
                                     g_strdup_printf ("%s-c%" G_GINT64_FORMAT "-relight%u", uuid, cohort->cohort, cohort->done + 1),
                                     g_strdup_printf (_("%s: cooled, may be lit again"), cohort->name),
                                     wb_app_calendar_dup_codes (cohort));
  event->at = wb_clock_at (wb_clock_get (), cohort->ready_at.utc_us);
  event->day = wb_instant_get_day (event->at);
  event->cohort = index;
  event->burn = cohort->done + 1;
  event->samples = cohort->samples->len;
  g_ptr_array_add (self->events, event);
}

/* In the order in which they come: what is for all of a day before what has its hour. */
static int
compare_events (gconstpointer a,
                gconstpointer b)
{
  const WbAppCalendarEvent *first = *(WbAppCalendarEvent *const *) a, *second = *(WbAppCalendarEvent *const *) b;

  if (first->day != second->day)
    return first->day < second->day ? -1 : 1;
  if (first->at.known != second->at.known)
    return first->at.known ? 1 : -1;
  if (first->at.known && first->at.utc_us != second->at.utc_us)
    return first->at.utc_us < second->at.utc_us ? -1 : 1;
  if (first->kind != second->kind)
    return (int) first->kind - (int) second->kind;
  return strcmp (first->uid, second->uid);
}

static gboolean
burns_on (const WbAppCalendarRead *self)
{
  for (guint i = 0; i < self->cohorts->len; i++)
    if (((WbAppCalendarCohort *) g_ptr_array_index (self->cohorts, i))->left > 0)
      return TRUE;
  return FALSE;
}

WbCraftEveningsBench
wb_app_calendar_get_bench (const WbAppCalendarRead *self)
{
  return (WbCraftEveningsBench) { self->places, self->days, self->begins_min, self->first, WB_CRAFT_EVENINGS_HORIZON_DAYS, self->out };
}

GArray *
wb_app_calendar_dup_cohorts (const WbAppCalendarRead *self)
{
  GArray *cohorts = g_array_new (FALSE, FALSE, sizeof (WbCraftEveningsCohort));

  for (guint i = 0; i < self->cohorts->len; i++)
    {
      const WbAppCalendarCohort *from = g_ptr_array_index (self->cohorts, i);
      WbCraftEveningsCohort cohort = { from->name, from->samples->len, from->done, from->left, from->ready_at,
                                       from->burn_s, from->cool_s, from->experiment, from->cohort, from->begun };

      g_array_append_val (cohorts, cohort);
    }
  return cohorts;
}

static void
plan_evenings (WbAppCalendarRead *self)
{
  g_autoptr (GArray) cohorts = wb_app_calendar_dup_cohorts (self);
  const WbCraftEveningsBench bench = wb_app_calendar_get_bench (self);
  gboolean planned = self->days != WB_EVENINGS_NONE && self->places > 0;

  self->evenings = wb_craft_evenings_new ((const WbCraftEveningsCohort *) (gpointer) cohorts->data, planned ? cohorts->len : 0, &bench);
  for (guint i = 0; i < self->evenings->problems->len; i++)
    g_ptr_array_add (self->problems, g_strdup (g_ptr_array_index (self->evenings->problems, i)));
  if (burns_on (self) && self->places == 0)
    g_ptr_array_add (self->problems, g_strdup (_("How many places the bench has is not said in Preferences: no evening is planned")));
}

static void
read_days (WbAppCalendarRead *self,
           const WbNotebook  *notebook)
{
  g_autoptr (GError) error = NULL, out_error = NULL;

  self->begins_min = get_begins_min (notebook);
  self->places = notebook->bench_places >= 1 ? (guint) notebook->bench_places : 0;
  if (!wb_evenings_parse (notebook->evenings, &self->days, &error))
    g_ptr_array_add (self->problems, g_strdup (error->message));
  self->out = wb_evenings_out_parse (notebook->evenings_out, &out_error);
  if (self->out == NULL)
    g_ptr_array_add (self->problems, g_strdup (out_error->message));
}

void
wb_app_calendar_plan (WbAppCalendarRead *self,
                      const WbNotebook  *notebook,
                      WbInstant          now)
{
  read_days (self, notebook);
  find_first (self, notebook, now);
  plan_evenings (self);
  for (guint i = 0; i < self->evenings->evenings->len; i++)
    {
      const WbCraftEvening *evening = &g_array_index (self->evenings->evenings, WbCraftEvening, i);

      for (guint k = evening->first; k < evening->first + evening->n; k++)
        add_evening_event (self, evening, &g_array_index (self->evenings->burns, WbCraftEveningsBurn, k));
    }
  for (guint i = 0; i < self->cohorts->len; i++)
    add_relight (self, i, now);
  g_ptr_array_sort (self->events, compare_events);
  for (guint i = 0; i < self->events->len; i++)
    {
      const WbAppCalendarEvent *event = g_ptr_array_index (self->events, i);

      if (event->kind == WB_APP_CALENDAR_RELIGHT)
        note_moment (&self->until, event->at, now);
    }
}
