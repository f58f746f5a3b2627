/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-calendar.h"

#include "wb-exchange-output.h"
#include "wb-exchange-zone-private.h"

#include <glib/gi18n-lib.h>
#include <libical/ical.h>
#include <string.h>

/* Behind the @ of every UID. */
#define DOMAIN "@wickbench"
/* Whose an export is, so that a later one knows its own. */
#define X_NOTEBOOK "X-WICKBENCH-NOTEBOOK"
#define X_EXPERIMENT "X-WICKBENCH-EXPERIMENT"
/* SEQUENCE counts minutes from 2020-01-01 UTC: it holds until the year 6103. */
#define EPOCH_S G_GINT64_CONSTANT (1577836800)

struct _WbExchangeCalendar
{
  icalcomponent *component;
  GTimeZone     *zone;        /* NULL: UTC */
  char          *zone_name;
  GHashTable    *uids;
  char          *notebook;    /* its UUID; NULL: none */
  char          *experiment;  /* its UUID; NULL: all */
  WbInstant      revised;
  gint64         first_s, last_s; /* of what is in the zone; last before first: nothing is */
  guint          n_events;
  gboolean       invented;
};

static void
find_zone (WbExchangeCalendar *self,
           const char         *name)
{
  if (name == NULL || *name == '\0' || g_str_equal (name, "UTC"))
    return;
  self->zone = g_time_zone_new_identifier (name);
  if (self->zone != NULL)
    self->zone_name = g_strdup (name);
}

WbExchangeCalendar *
wb_exchange_calendar_new (const WbNotebook *notebook,
                          const char       *zone,
                          WbInstant         revised)
{
  WbExchangeCalendar *self = g_new0 (WbExchangeCalendar, 1);

  self->component = icalcomponent_new (ICAL_VCALENDAR_COMPONENT);
  self->uids = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->notebook = notebook != NULL ? wb_uuid_format (&notebook->uuid) : NULL;
  self->invented = notebook != NULL && notebook->invented;
  self->revised = revised;
  self->first_s = G_MAXINT64;
  self->last_s = G_MININT64;
  find_zone (self, zone);
  return self;
}

void
wb_exchange_calendar_free (WbExchangeCalendar *self)
{
  if (self == NULL)
    return;
  icalcomponent_free (self->component);
  g_clear_pointer (&self->zone, g_time_zone_unref);
  g_hash_table_unref (self->uids);
  g_free (self->zone_name);
  g_free (self->notebook);
  g_free (self->experiment);
  g_free (self);
}

void
wb_exchange_calendar_set_scope (WbExchangeCalendar *self,
                                const WbUuid       *experiment)
{
  g_free (self->experiment);
  self->experiment = experiment != NULL ? wb_uuid_format (experiment) : NULL;
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

/* By the clock on the wall of the zone, which is named beside it; UTC where there is none. */
static void
add_moment (WbExchangeCalendar *self,
            icalproperty       *property,
            gint64              utc_s)
{
  struct icaltimetype time = icaltime_from_timet_with_zone ((time_t) utc_s, 0, icaltimezone_get_utc_timezone ());

  if (self->zone != NULL)
    {
      gint32 offset_s = g_time_zone_get_offset (self->zone, g_time_zone_find_interval (self->zone, G_TIME_TYPE_UNIVERSAL, utc_s));

      time = icaltime_from_timet_with_zone ((time_t) (utc_s + offset_s), 0, icaltimezone_get_utc_timezone ());
      time.zone = NULL;
      icalproperty_add_parameter (property, icalparameter_new_tzid (self->zone_name));
      self->first_s = MIN (self->first_s, utc_s);
      self->last_s = MAX (self->last_s, utc_s);
    }
  icalproperty_set_value (property, icalvalue_new_datetime (time));
}

static void
add_times (WbExchangeCalendar    *self,
           icalcomponent         *component,
           const WbExchangeEvent *event)
{
  icalproperty *start, *end;
  gint64 at_s = event->at.utc_us / G_USEC_PER_SEC;

  if (event->day != WB_DAY_NONE)
    {
      icalcomponent_add_property (component, icalproperty_new_dtstart (time_of_day (event->day)));
      icalcomponent_add_property (component, icalproperty_new_dtend (time_of_day (event->day + 1)));
      icalcomponent_add_property (component, icalproperty_new_transp (ICAL_TRANSP_TRANSPARENT));
      return;
    }
  start = icalproperty_new (ICAL_DTSTART_PROPERTY);
  add_moment (self, start, at_s);
  icalcomponent_add_property (component, start);
  if (event->length_s > 0)
    {
      end = icalproperty_new (ICAL_DTEND_PROPERTY);
      add_moment (self, end, at_s + (gint64) event->length_s);
      icalcomponent_add_property (component, end);
    }
  else
    icalcomponent_add_property (component, icalproperty_new_transp (ICAL_TRANSP_TRANSPARENT));
}

static int
get_sequence (const WbExchangeCalendar *self)
{
  gint64 minutes = self->revised.known ? (self->revised.utc_us / G_USEC_PER_SEC - EPOCH_S) / 60 : 0;

  return (int) CLAMP (minutes, 0, G_MAXINT);
}

static void
add_revision (const WbExchangeCalendar *self,
              icalcomponent            *component)
{
  icalcomponent_add_property (component, icalproperty_new_sequence (get_sequence (self)));
  if (self->revised.known)
    icalcomponent_add_property (component, icalproperty_new_lastmodified (time_of_instant (self->revised)));
}

void
wb_exchange_calendar_add (WbExchangeCalendar    *self,
                          const WbExchangeEvent *event)
{
  icalcomponent *component;
  g_autofree char *marked = NULL;
  char *uid;

  g_return_if_fail (event->uid != NULL && event->summary != NULL);
  g_return_if_fail (event->day != WB_DAY_NONE || event->at.known);

  component = icalcomponent_new (ICAL_VEVENT_COMPONENT);
  marked = self->invented ? g_strdup_printf (_("%s (invented data)"), event->summary) : NULL;
  uid = g_strconcat (event->uid, DOMAIN, NULL);
  icalcomponent_add_property (component, icalproperty_new_uid (uid));
  g_hash_table_add (self->uids, uid);
  add_revision (self, component);
  /* One that was cancelled and is planned again is confirmed again. */
  icalcomponent_add_property (component, icalproperty_new_status (ICAL_STATUS_CONFIRMED));
  add_times (self, component, event);
  icalcomponent_add_property (component, icalproperty_new_summary (marked != NULL ? marked : event->summary));
  if (event->description != NULL)
    icalcomponent_add_property (component, icalproperty_new_description (event->description));
  if (event->place != NULL)
    icalcomponent_add_property (component, icalproperty_new_location (event->place));
  icalcomponent_add_component (self->component, component);
  self->n_events++;
}

/* ---- What an earlier export had ---- */

/* The value of a property of ours; NULL: it has none. */
static const char *
find_own (icalcomponent *calendar,
          const char    *name)
{
  for (icalproperty *property = icalcomponent_get_first_property (calendar, ICAL_X_PROPERTY); property != NULL;
       property = icalcomponent_get_next_property (calendar, ICAL_X_PROPERTY))
    if (g_strcmp0 (icalproperty_get_x_name (property), name) == 0)
      return icalproperty_get_x (property);
  return NULL;
}

/* A day or a moment on the wall that lies behind today, whatever zone it is in. */
static gboolean
is_ahead (icalcomponent *event,
          WbInstant      now)
{
  struct icaltimetype start = icalcomponent_get_dtstart (event);
  g_autofree char *day = wb_day_format (wb_instant_get_day (now));
  g_autofree char *own = g_strdup_printf ("%04d-%02d-%02d", start.year, start.month, start.day);

  return !icaltime_is_null_time (start) && strcmp (own, day) > 0;
}

static void
take_back (WbExchangeCalendar *self,
           icalcomponent      *lost)
{
  icalcomponent *component = icalcomponent_new (ICAL_VEVENT_COMPONENT);
  icalproperty *start = icalcomponent_get_first_property (lost, ICAL_DTSTART_PROPERTY);
  struct icaltimetype at = icalproperty_get_dtstart (start);
  const char *uid = icalcomponent_get_uid (lost), *summary = icalcomponent_get_summary (lost);
  icalproperty *again = icalproperty_new (ICAL_DTSTART_PROPERTY);

  icalcomponent_add_property (component, icalproperty_new_uid (uid));
  g_hash_table_add (self->uids, g_strdup (uid));
  add_revision (self, component);
  /* The wall's time in a zone that this file has no rules of would be nobody's. */
  if (at.is_date || icalproperty_get_first_parameter (start, ICAL_TZID_PARAMETER) == NULL)
    icalproperty_set_value (again, at.is_date ? icalvalue_new_date (at) : icalvalue_new_datetime (at));
  else
    {
      GTimeZone *zone = g_time_zone_new_identifier (icalparameter_get_tzid (icalproperty_get_first_parameter (start, ICAL_TZID_PARAMETER)));
      g_autoptr (GTimeZone) known = zone != NULL ? zone : g_time_zone_new_utc ();
      g_autoptr (GDateTime) moment = g_date_time_new (known, at.year, at.month, at.day, at.hour, at.minute, at.second);

      add_moment (self, again, moment != NULL ? g_date_time_to_unix (moment) : 0);
    }
  icalcomponent_add_property (component, again);
  icalcomponent_add_property (component, icalproperty_new_status (ICAL_STATUS_CANCELLED));
  icalcomponent_add_property (component, icalproperty_new_transp (ICAL_TRANSP_TRANSPARENT));
  if (summary != NULL)
    icalcomponent_add_property (component, icalproperty_new_summary (summary));
  icalcomponent_add_component (self->component, component);
  self->n_events++;
}

static gboolean
is_ours (const WbExchangeCalendar *self,
         icalcomponent            *calendar)
{
  return icalcomponent_isa (calendar) == ICAL_VCALENDAR_COMPONENT && self->notebook != NULL
         && g_strcmp0 (find_own (calendar, X_NOTEBOOK), self->notebook) == 0
         && g_strcmp0 (find_own (calendar, X_EXPERIMENT), self->experiment) == 0;
}

guint
wb_exchange_calendar_cancel_lost (WbExchangeCalendar *self,
                                  const char         *earlier,
                                  WbInstant           now)
{
  icalcomponent *calendar = icalparser_parse_string (earlier);
  guint before = self->n_events;

  if (calendar == NULL)
    return 0;
  if (is_ours (self, calendar))
    for (icalcomponent *event = icalcomponent_get_first_component (calendar, ICAL_VEVENT_COMPONENT); event != NULL;
         event = icalcomponent_get_next_component (calendar, ICAL_VEVENT_COMPONENT))
      {
        const char *uid = icalcomponent_get_uid (event);

        if (uid != NULL && g_str_has_suffix (uid, DOMAIN) && !g_hash_table_contains (self->uids, uid) && is_ahead (event, now))
          take_back (self, event);
      }
  icalcomponent_free (calendar);
  return self->n_events - before;
}

/* ---- The file ---- */

guint
wb_exchange_calendar_get_length (const WbExchangeCalendar *self)
{
  return self->n_events;
}

static void
add_own (icalcomponent *calendar,
         const char    *name,
         const char    *value)
{
  icalproperty *property;

  if (value == NULL)
    return;
  property = icalproperty_new_x (value);
  icalproperty_set_x_name (property, name);
  icalcomponent_add_property (calendar, property);
}

static void
add_events (const WbExchangeCalendar *self,
            icalcomponent            *calendar,
            WbInstant                 stamp)
{
  for (icalcomponent *event = icalcomponent_get_first_component (self->component, ICAL_VEVENT_COMPONENT); event != NULL;
       event = icalcomponent_get_next_component (self->component, ICAL_VEVENT_COMPONENT))
    {
      icalcomponent *copy = icalcomponent_new_clone (event);

      icalcomponent_set_dtstamp (copy, time_of_instant (stamp));
      icalcomponent_add_component (calendar, copy);
    }
}

char *
wb_exchange_calendar_to_text (const WbExchangeCalendar *self,
                              WbInstant                 stamp)
{
  icalcomponent *calendar = icalcomponent_new (ICAL_VCALENDAR_COMPONENT);

  icalcomponent_add_property (calendar, icalproperty_new_version ("2.0"));
  icalcomponent_add_property (calendar, icalproperty_new_prodid ("-//Wickbench//Wickbench " WB_VERSION "//EN"));
  add_own (calendar, X_NOTEBOOK, self->notebook);
  add_own (calendar, X_EXPERIMENT, self->experiment);
  if (self->zone != NULL && self->last_s >= self->first_s)
    icalcomponent_add_component (calendar, wb_exchange_zone_new (self->zone, self->zone_name, self->first_s, self->last_s));
  add_events (self, calendar, stamp);

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
