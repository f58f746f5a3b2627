/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-calendar.h"

#include "wb-cure.h"
#include "wb-exchange-output.h"

#include <glib/gi18n-lib.h>
#include <libical/ical.h>
#include <math.h>

#define HOUSE_BURN_S 14400.0

typedef struct
{
  char     *uid;
  char     *summary;
  char     *description;
  char     *place;     /* NULL: none */
  WbDay     day;       /* of an event that lasts a day, else WB_DAY_NONE */
  WbInstant start;
  double    length_s;
} Event;

struct _WbExchangeCalendar
{
  GPtrArray *events;   /* Event */
  gboolean   invented;
};

static void
event_free (gpointer data)
{
  Event *event = data;

  g_free (event->uid);
  g_free (event->summary);
  g_free (event->description);
  g_free (event->place);
  g_free (event);
}

WbExchangeCalendar *
wb_exchange_calendar_new (const WbNotebook *notebook)
{
  WbExchangeCalendar *self = g_new0 (WbExchangeCalendar, 1);

  self->events = g_ptr_array_new_with_free_func (event_free);
  self->invented = notebook != NULL && notebook->invented;
  return self;
}

void
wb_exchange_calendar_free (WbExchangeCalendar *self)
{
  if (self == NULL)
    return;
  g_ptr_array_unref (self->events);
  g_free (self);
}

static Event *
add_event (WbExchangeCalendar *self, const WbUuid *uuid, const char *kind)
{
  Event *event = g_new0 (Event, 1);
  g_autofree char *text = wb_uuid_format (uuid);

  event->uid = g_strdup_printf ("%s-%s@wickbench", text, kind);
  event->day = WB_DAY_NONE;
  g_ptr_array_add (self->events, event);
  return event;
}

/* The day on which a sample's cure ends; WB_DAY_NONE: it does not wait for one. */
static WbDay
fit_day (const WbDataset *data, guint sample, gboolean smell)
{
  const WbSample *record = wb_dataset_get_sample (data, sample);
  WbCure cure = wb_cure_of_sample (data, sample);

  if (record->set_aside != NULL || record->set_aside_cause >= 0)
    return WB_DAY_NONE;
  return wb_cure_get_day (record->poured_on, smell ? cure.smell_days : cure.burn_days);
}

static gboolean
is_burnt (const WbDataset *data, guint sample)
{
  for (guint i = 0; i < data->burn_sample->len; i++)
    if (g_array_index (data->burn_sample, guint, i) == sample)
      return TRUE;
  return FALSE;
}

/* Sample codes by day: gint day to GString. */
static GHashTable *
collect_days (const WbDataset *data, gboolean smell, WbDay today)
{
  GHashTable *by_day = g_hash_table_new_full (g_direct_hash, g_direct_equal, NULL, (GDestroyNotify) g_ptr_array_unref);

  for (guint i = 0; i < data->samples->len; i++)
    {
      WbDay day = fit_day (data, i, smell);

      if (day == WB_DAY_NONE || day < today || (!smell && is_burnt (data, i)))
        continue;

      GPtrArray *codes = g_hash_table_lookup (by_day, GINT_TO_POINTER (day));

      if (codes == NULL)
        {
          codes = g_ptr_array_new ();
          g_hash_table_insert (by_day, GINT_TO_POINTER (day), codes);
        }
      g_ptr_array_add (codes, wb_dataset_get_sample (data, i)->code);
    }
  return by_day;
}

static int
compare_days (gconstpointer a, gconstpointer b)
{
  return GPOINTER_TO_INT (a) - GPOINTER_TO_INT (b);
}

static void
add_fit_days (WbExchangeCalendar *self, const WbDataset *data, gboolean smell, WbDay today)
{
  g_autoptr (GHashTable) by_day = collect_days (data, smell, today);
  g_autoptr (GList) keys = g_list_sort (g_hash_table_get_keys (by_day), compare_days);

  for (GList *l = keys; l != NULL; l = l->next)
    {
      GPtrArray *codes = g_hash_table_lookup (by_day, l->data);
      g_autofree char *iso = wb_day_format (GPOINTER_TO_INT (l->data));
      g_autofree char *kind = g_strdup_printf ("%s-%s", smell ? "smell" : "burn", iso);
      Event *event = add_event (self, &data->experiment->uuid, kind);
      guint n = codes->len;

      event->day = GPOINTER_TO_INT (l->data);
      event->summary =
        smell ? g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s: %u sample fit to smell", "%s: %u samples fit to smell", n),
                                 data->experiment->code, n)
              : g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s: %u sample fit to burn", "%s: %u samples fit to burn", n),
                                 data->experiment->code, n);
      g_ptr_array_add (codes, NULL);

      g_autofree char *list = g_strjoinv (", ", (char **) codes->pdata);

      event->description = g_strdup_printf ("%s\n%s", data->experiment->title, list);
    }
}

void
wb_exchange_calendar_add_cures (WbExchangeCalendar *self,
                                const WbDataset    *data,
                                WbDay               today)
{
  add_fit_days (self, data, FALSE, today);
  add_fit_days (self, data, TRUE, today);
}

void
wb_exchange_calendar_add_session (WbExchangeCalendar *self,
                                  const WbSession    *session,
                                  WbInstant           now,
                                  double              length_s)
{
  if (!session->opened_at.known || session->closed_at.known || session->opened_at.utc_us < now.utc_us)
    return;

  Event *event = add_event (self, &session->uuid, "session");

  event->start = session->opened_at;
  event->length_s = isnan (length_s) ? HOUSE_BURN_S : length_s;
  event->summary = g_strdup (_("Burn session"));
  event->place = g_strdup (session->place);
  event->description = session->staying != NULL ? g_strdup_printf (_("Stays with the flames: %s"), session->staying)
                                                : g_strdup (_("Somebody stays with the flames until no wick glows."));
}

guint
wb_exchange_calendar_get_length (const WbExchangeCalendar *self)
{
  return self->events->len;
}

static struct icaltimetype
time_of_day (WbDay day)
{
  struct icaltimetype time = icaltime_from_timet_with_zone ((time_t) day * 86400, 0, icaltimezone_get_utc_timezone ());

  time.is_date = 1;
  time.hour = time.minute = time.second = 0;
  /* A day has no zone: it is that day wherever one is. */
  time.zone = NULL;
  return time;
}

static struct icaltimetype
time_of_instant (WbInstant instant)
{
  return icaltime_from_timet_with_zone ((time_t) (instant.utc_us / G_USEC_PER_SEC), 0, icaltimezone_get_utc_timezone ());
}

/* Times in UTC whatever zone the maker is in: no zone's rules need to stand in the file. */
static void
add_times (icalcomponent *component, const Event *event)
{
  if (event->day != WB_DAY_NONE)
    {
      icalcomponent_add_property (component, icalproperty_new_dtstart (time_of_day (event->day)));
      icalcomponent_add_property (component, icalproperty_new_dtend (time_of_day (event->day + 1)));
      icalcomponent_add_property (component, icalproperty_new_transp (ICAL_TRANSP_TRANSPARENT));
      return;
    }

  WbInstant end = event->start;

  end.utc_us += (gint64) (event->length_s * G_USEC_PER_SEC);
  icalcomponent_add_property (component, icalproperty_new_dtstart (time_of_instant (event->start)));
  icalcomponent_add_property (component, icalproperty_new_dtend (time_of_instant (end)));
}

static icalcomponent *
make_event (const WbExchangeCalendar *self, const Event *event, WbInstant stamp)
{
  icalcomponent *component = icalcomponent_new (ICAL_VEVENT_COMPONENT);
  g_autofree char *marked = self->invented ? g_strdup_printf (_("%s (invented data)"), event->summary) : NULL;

  icalcomponent_add_property (component, icalproperty_new_uid (event->uid));
  icalcomponent_add_property (component, icalproperty_new_dtstamp (time_of_instant (stamp)));
  add_times (component, event);
  icalcomponent_add_property (component, icalproperty_new_summary (marked != NULL ? marked : event->summary));
  icalcomponent_add_property (component, icalproperty_new_description (event->description));
  if (event->place != NULL)
    icalcomponent_add_property (component, icalproperty_new_location (event->place));
  return component;
}

char *
wb_exchange_calendar_to_text (const WbExchangeCalendar *self,
                              WbInstant                 stamp)
{
  icalcomponent *calendar = icalcomponent_new (ICAL_VCALENDAR_COMPONENT);

  icalcomponent_add_property (calendar, icalproperty_new_version ("2.0"));
  icalcomponent_add_property (calendar, icalproperty_new_prodid ("-//Wickbench//Wickbench " WB_VERSION "//EN"));
  for (guint i = 0; i < self->events->len; i++)
    icalcomponent_add_component (calendar, make_event (self, g_ptr_array_index (self->events, i), stamp));

  char *text = icalcomponent_as_ical_string_r (calendar);
  char *copy = g_strdup (text);

  icalmemory_free_buffer (text);
  icalcomponent_free (calendar);
  return copy;
}

gboolean
wb_exchange_calendar_save (const WbExchangeCalendar *self,
                           GFile                    *file,
                           WbInstant                 stamp,
                           GCancellable             *cancellable,
                           GError                  **error)
{
  g_autoptr (WbExchangeOutput) output = wb_exchange_output_new (file, cancellable, error);
  g_autofree char *text = NULL;

  if (output == NULL)
    return FALSE;
  text = wb_exchange_calendar_to_text (self, stamp);
  g_string_append (wb_exchange_output_get_text (output), text);
  return wb_exchange_output_close (output, error);
}
