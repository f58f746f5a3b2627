/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "calendar-rules.h"

#include <stdio.h>
#include <string.h>

/* RFC 5545, 3.1: octets of a line, its end left out. */
#define LINE_MAX_OCTETS 75

typedef struct
{
  char *name;
  char *zone;   /* TZID; NULL: none */
  char *type;   /* VALUE; NULL: none */
  char *value;
} Property;

typedef struct Component Component;
struct Component
{
  char      *name;
  GPtrArray *properties;
  GPtrArray *children;
};

static void
property_free (gpointer data)
{
  Property *self = data;

  g_free (self->name);
  g_free (self->zone);
  g_free (self->type);
  g_free (self->value);
  g_free (self);
}

static void
component_free (gpointer data)
{
  Component *self = data;

  g_free (self->name);
  g_ptr_array_unref (self->properties);
  g_ptr_array_unref (self->children);
  g_free (self);
}

static Component *
component_new (const char *name)
{
  Component *self = g_new0 (Component, 1);

  self->name = g_strdup (name);
  self->properties = g_ptr_array_new_with_free_func (property_free);
  self->children = g_ptr_array_new_with_free_func (component_free);
  return self;
}

/* Content lines, unfolded: a line that begins with a blank goes on the one before. */
static GPtrArray *
unfold (const char *text)
{
  GPtrArray *lines = g_ptr_array_new_with_free_func (g_free);
  g_auto (GStrv) raw = g_strsplit (text, "\r\n", -1);
  guint n = g_strv_length (raw);

  g_assert_true (g_utf8_validate (text, -1, NULL));
  g_assert_cmpuint (n, >, 1);
  g_assert_cmpstr (raw[n - 1], ==, "");
  for (guint i = 0; i + 1 < n; i++)
    {
      g_assert_null (strpbrk (raw[i], "\r\n"));
      g_assert_cmpuint (strlen (raw[i]), <=, LINE_MAX_OCTETS);
      g_assert_cmpuint (strlen (raw[i]), >, 0);
      for (const char *c = raw[i]; *c != '\0'; c++)
        g_assert_true ((guchar) *c >= 0x20 || *c == '\t');
      if (*raw[i] != ' ' && *raw[i] != '\t')
        {
          g_ptr_array_add (lines, g_strdup (raw[i]));
          continue;
        }
      g_assert_cmpuint (lines->len, >, 0);
      char *joined = g_strconcat (g_ptr_array_index (lines, lines->len - 1), raw[i] + 1, NULL);
      g_free (g_ptr_array_index (lines, lines->len - 1));
      g_ptr_array_index (lines, lines->len - 1) = joined;
    }
  return lines;
}

static Property *
read_line (const char *line)
{
  Property *self = g_new0 (Property, 1);
  const char *colon = strchr (line, ':');
  g_auto (GStrv) parts = NULL;

  g_assert_nonnull (colon);
  g_autofree char *head = g_strndup (line, (gsize) (colon - line));
  /* Nothing that is written here needs a quoted parameter, in which a colon may stand. */
  g_assert_null (strchr (head, '"'));
  parts = g_strsplit (head, ";", -1);
  g_assert_cmpuint (strlen (parts[0]), >, 0);
  g_assert_cmpuint (strspn (parts[0], "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-"), ==, strlen (parts[0]));
  self->name = g_strdup (parts[0]);
  self->value = g_strdup (colon + 1);
  for (guint i = 1; parts[i] != NULL; i++)
    {
      if (g_str_has_prefix (parts[i], "TZID="))
        self->zone = g_strdup (parts[i] + strlen ("TZID="));
      else if (g_str_has_prefix (parts[i], "VALUE="))
        self->type = g_strdup (parts[i] + strlen ("VALUE="));
      else
        g_error ("unknown parameter %s", parts[i]);
    }
  return self;
}

static guint
read_component (GPtrArray *lines,
                guint      at,
                Component *into)
{
  while (at < lines->len)
    {
      g_autofree char *end = g_strconcat ("END:", into->name, NULL);
      const char *line = g_ptr_array_index (lines, at);

      if (g_str_equal (line, end))
        return at + 1;
      g_assert_false (g_str_has_prefix (line, "END:"));
      if (g_str_has_prefix (line, "BEGIN:"))
        {
          Component *child = component_new (line + strlen ("BEGIN:"));

          g_ptr_array_add (into->children, child);
          at = read_component (lines, at + 1, child);
          continue;
        }
      g_ptr_array_add (into->properties, read_line (line));
      at++;
    }
  g_error ("%s has no end", into->name);
}

static Property *
find (const Component *self,
      const char      *name)
{
  Property *found = NULL;

  for (guint i = 0; i < self->properties->len; i++)
    {
      Property *property = g_ptr_array_index (self->properties, i);

      if (!g_str_equal (property->name, name))
        continue;
      /* None of those that are asked for by name may stand twice. */
      g_assert_null (found);
      found = property;
    }
  return found;
}

static const char *
need (const Component *self,
      const char      *name)
{
  Property *property = find (self, name);

  if (property == NULL)
    g_error ("%s has no %s", self->name, name);
  return property->value;
}

/* 3.3.11: a backslash, comma or semicolon is escaped, a line's end is \n. */
static char *
dup_text (const Component *self,
          const char      *name)
{
  Property *property = find (self, name);
  GString *text;

  if (property == NULL)
    return NULL;
  text = g_string_new (NULL);
  for (const char *c = property->value; *c != '\0'; c++)
    {
      if (*c == '\\')
        {
          c++;
          g_assert_true (*c != '\0' && strchr ("\\;,nN", *c) != NULL);
          g_string_append_c (text, *c == 'n' || *c == 'N' ? '\n' : *c);
          continue;
        }
      g_assert_null (strchr (",;", *c));
      g_string_append_c (text, *c);
    }
  return g_string_free (text, FALSE);
}

/* Seconds since 1970 as if it were UTC. z: a Z ends it. */
static gint64
read_moment (const char *text,
             gboolean   *z)
{
  int year, month, day, hour, minute, second;
  gsize length = strlen (text);

  *z = length == 16 && text[15] == 'Z';
  g_assert_true (length == 15 || *z);
  g_assert_cmpint (text[8], ==, 'T');
  g_assert_cmpuint (strspn (text, "0123456789"), ==, 8);
  g_assert_cmpuint (strspn (text + 9, "0123456789"), ==, 6);
  g_assert_cmpint (sscanf (text, "%4d%2d%2dT%2d%2d%2d", &year, &month, &day, &hour, &minute, &second), ==, 6);
  g_autoptr (GDateTime) moment = g_date_time_new_utc (year, month, day, hour, minute, second);
  g_assert_nonnull (moment);
  return g_date_time_to_unix (moment);
}

static gint64
read_day (const char *text)
{
  int year, month, day;

  g_assert_cmpuint (strlen (text), ==, 8);
  g_assert_cmpuint (strspn (text, "0123456789"), ==, 8);
  g_assert_cmpint (sscanf (text, "%4d%2d%2d", &year, &month, &day), ==, 3);
  g_autoptr (GDateTime) moment = g_date_time_new_utc (year, month, day, 0, 0, 0);
  g_assert_nonnull (moment);
  return g_date_time_to_unix (moment);
}

/* 3.3.14 */
static int
read_offset (const char *text)
{
  int hours, minutes;

  g_assert_true (strlen (text) == 5 || strlen (text) == 7);
  g_assert_true (*text == '+' || *text == '-');
  g_assert_cmpint (sscanf (text + 1, "%2d%2d", &hours, &minutes), ==, 2);
  g_assert_cmpint (hours, <, 24);
  g_assert_cmpint (minutes, <, 60);
  return (*text == '-' ? -1 : 1) * (hours * 3600 + minutes * 60);
}

/* 3.6.5: the observance with the latest onset not after that time of the wall holds; its onset is by the offset before it. */
static int
find_offset (const Component *calendar,
             const char      *name,
             gint64           wall_s)
{
  const Component *zone = NULL;
  gint64 latest = G_MININT64;
  int offset = 0;

  for (guint i = 0; i < calendar->children->len; i++)
    {
      const Component *child = g_ptr_array_index (calendar->children, i);

      if (g_str_equal (child->name, "VTIMEZONE") && g_str_equal (need (child, "TZID"), name))
        {
          g_assert_null (zone);
          zone = child;
        }
    }
  if (zone == NULL)
    g_error ("%s has no rules in the file", name);
  g_assert_cmpuint (zone->children->len, >, 0);
  for (guint i = 0; i < zone->children->len; i++)
    {
      const Component *rule = g_ptr_array_index (zone->children, i);

      g_assert_true (g_str_equal (rule->name, "STANDARD") || g_str_equal (rule->name, "DAYLIGHT"));
      for (guint k = 0; k < rule->properties->len; k++)
        {
          const Property *property = g_ptr_array_index (rule->properties, k);
          gboolean z;
          gint64 onset;

          if (!g_str_equal (property->name, "DTSTART") && !g_str_equal (property->name, "RDATE"))
            continue;
          onset = read_moment (property->value, &z);
          g_assert_false (z);
          if (onset <= wall_s && onset > latest)
            {
              latest = onset;
              offset = read_offset (need (rule, "TZOFFSETTO"));
            }
        }
      need (rule, "DTSTART");
      read_offset (need (rule, "TZOFFSETFROM"));
    }
  g_assert_cmpint (latest, >, G_MININT64);
  return offset;
}

static gint64
resolve (const Component *calendar,
         const Property  *property,
         gboolean        *day)
{
  gboolean z;
  gint64 at;

  *day = g_strcmp0 (property->type, "DATE") == 0;
  if (*day)
    {
      g_assert_null (property->zone);
      return read_day (property->value);
    }
  g_assert_true (property->type == NULL || g_str_equal (property->type, "DATE-TIME"));
  at = read_moment (property->value, &z);
  /* No time floats: it is of a zone or UTC's, and not both (3.3.5). */
  g_assert_true (z == (property->zone == NULL));
  return z ? at : at - find_offset (calendar, property->zone, at);
}

static gint64
read_utc (const Component *self,
          const char      *name)
{
  gboolean z;
  gint64 at = read_moment (need (self, name), &z);

  g_assert_true (z);
  return at;
}

static void
event_free (gpointer data)
{
  CalendarEvent *self = data;

  g_free (self->uid);
  g_free (self->summary);
  g_free (self->description);
  g_free (self->place);
  g_free (self->status);
  g_free (self->zone);
  g_free (self->start);
  g_free (self);
}

static CalendarEvent *
read_event (const Component *calendar,
            const Component *self)
{
  CalendarEvent *event = g_new0 (CalendarEvent, 1);
  Property *start = find (self, "DTSTART"), *end = find (self, "DTEND");
  gboolean end_day;

  event->uid = g_strdup (need (self, "UID"));
  event->summary = dup_text (self, "SUMMARY");
  event->description = dup_text (self, "DESCRIPTION");
  event->place = dup_text (self, "LOCATION");
  event->status = g_strdup (need (self, "STATUS"));
  g_assert_true (g_str_equal (event->status, "CONFIRMED") || g_str_equal (event->status, "CANCELLED"));
  event->stamp_s = read_utc (self, "DTSTAMP");
  event->modified_s = read_utc (self, "LAST-MODIFIED");
  event->sequence = g_ascii_strtoll (need (self, "SEQUENCE"), NULL, 10);
  g_assert_cmpint (event->sequence, >=, 0);
  g_assert_cmpint (event->sequence, <=, G_MAXINT);
  g_assert_nonnull (start);
  event->zone = g_strdup (start->zone);
  event->start = g_strdup (start->value);
  event->start_s = resolve (calendar, start, &event->day);
  event->end_s = event->start_s;
  if (end != NULL)
    {
      event->end_s = resolve (calendar, end, &end_day);
      g_assert_true (end_day == event->day);
      g_assert_cmpint (event->end_s, >, event->start_s);
    }
  return event;
}

GPtrArray *
calendar_rules_read (const char *text)
{
  g_autoptr (GPtrArray) lines = unfold (text);
  GPtrArray *events = g_ptr_array_new_with_free_func (event_free);
  Component *calendar = component_new ("VCALENDAR");

  g_assert_cmpstr (g_ptr_array_index (lines, 0), ==, "BEGIN:VCALENDAR");
  g_assert_cmpuint (read_component (lines, 1, calendar), ==, lines->len);
  g_assert_cmpstr (need (calendar, "VERSION"), ==, "2.0");
  g_assert_cmpuint (strlen (need (calendar, "PRODID")), >, 0);
  for (guint i = 0; i < calendar->children->len; i++)
    {
      const Component *child = g_ptr_array_index (calendar->children, i);

      if (g_str_equal (child->name, "VEVENT"))
        {
          CalendarEvent *event = read_event (calendar, child);

          g_assert_null (calendar_rules_find (events, event->uid));
          g_ptr_array_add (events, event);
        }
      else
        g_assert_cmpstr (child->name, ==, "VTIMEZONE");
    }
  component_free (calendar);
  return events;
}

CalendarEvent *
calendar_rules_find (const GPtrArray *events,
                     const char      *uid)
{
  for (guint i = 0; i < events->len; i++)
    if (g_str_equal (((CalendarEvent *) g_ptr_array_index (events, i))->uid, uid))
      return g_ptr_array_index (events, i);
  return NULL;
}
