/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-zone-private.h"

#define DAY_S ((gint64) 86400)
/* Where clocks are put forward and back, they are within so many days. */
#define YEAR_S (400 * DAY_S)

/* What holds in a zone at a moment. */
typedef struct
{
  gint32      offset_s;
  gboolean    dst;
  const char *name; /* of the zone's, borrowed */
} Rule;

/* The rule changes. */
typedef struct
{
  gint64 at_s;
  Rule   before, after;
} Change;

static Rule
get_rule (GTimeZone *zone,
          gint64     at_s)
{
  int interval = g_time_zone_find_interval (zone, G_TIME_TYPE_UNIVERSAL, at_s);

  return (Rule) { g_time_zone_get_offset (zone, interval), g_time_zone_is_dst (zone, interval),
                  g_time_zone_get_abbreviation (zone, interval) };
}

static gboolean
is_same (const Rule *a,
         const Rule *b)
{
  return a->offset_s == b->offset_s && a->dst == b->dst && g_strcmp0 (a->name, b->name) == 0;
}

/* The second of the change between those two moments. */
static gint64
find_moment (GTimeZone  *zone,
             gint64      low_s,
             gint64      high_s,
             const Rule *before)
{
  while (high_s - low_s > 1)
    {
      gint64 middle_s = low_s + (high_s - low_s) / 2;
      Rule rule = get_rule (zone, middle_s);

      if (is_same (&rule, before))
        low_s = middle_s;
      else
        high_s = middle_s;
    }
  return high_s;
}

/* Change; by moment. */
static GArray *
list_changes (GTimeZone *zone,
              gint64     from_s,
              gint64     to_s)
{
  GArray *changes = g_array_new (FALSE, FALSE, sizeof (Change));
  Rule before = get_rule (zone, from_s);

  for (gint64 at_s = from_s; at_s < to_s; at_s += DAY_S)
    {
      Rule after = get_rule (zone, at_s + DAY_S);
      Change change = { 0, before, after };

      if (is_same (&before, &after))
        continue;
      change.at_s = find_moment (zone, at_s, at_s + DAY_S, &before);
      g_array_append_val (changes, change);
      before = after;
    }
  return changes;
}

/* What the clocks on the wall show by that offset. */
static struct icaltimetype
get_wall (gint64 at_s,
          gint32 offset_s)
{
  struct icaltimetype time = icaltime_from_timet_with_zone ((time_t) (at_s + offset_s), 0, icaltimezone_get_utc_timezone ());

  time.zone = NULL;
  return time;
}

static icalcomponent *
add_observance (icalcomponent *into,
                const Rule    *rule,
                gint32         from_offset_s,
                gint64         at_s)
{
  icalcomponent *observance = icalcomponent_new (rule->dst ? ICAL_XDAYLIGHT_COMPONENT : ICAL_XSTANDARD_COMPONENT);

  icalcomponent_add_property (observance, icalproperty_new_dtstart (get_wall (at_s, from_offset_s)));
  icalcomponent_add_property (observance, icalproperty_new_tzoffsetfrom (from_offset_s));
  icalcomponent_add_property (observance, icalproperty_new_tzoffsetto (rule->offset_s));
  if (rule->name != NULL && *rule->name != '\0')
    icalcomponent_add_property (observance, icalproperty_new_tzname (rule->name));
  icalcomponent_add_component (into, observance);
  return observance;
}

static gboolean
is_alike (const Change *a,
          const Change *b)
{
  return is_same (&a->after, &b->after) && a->before.offset_s == b->before.offset_s;
}

/* The changes of one kind stand together: the first of them begins, the others recur. */
static void
add_changes (icalcomponent *into,
             GArray        *changes,
             guint          first)
{
  const Change *change = &g_array_index (changes, Change, first);
  icalcomponent *observance;

  for (guint i = 0; i < first; i++)
    if (is_alike (&g_array_index (changes, Change, i), change))
      return;
  observance = add_observance (into, &change->after, change->before.offset_s, change->at_s);
  for (guint i = first + 1; i < changes->len; i++)
    {
      const Change *other = &g_array_index (changes, Change, i);
      struct icaldatetimeperiodtype again = { .time = get_wall (other->at_s, other->before.offset_s), .period = icalperiodtype_null_period () };

      if (is_alike (other, change))
        icalcomponent_add_property (observance, icalproperty_new_rdate (again));
    }
}

icalcomponent *
wb_exchange_zone_new (GTimeZone  *zone,
                      const char *name,
                      gint64      from_s,
                      gint64      to_s)
{
  icalcomponent *component = icalcomponent_new (ICAL_VTIMEZONE_COMPONENT);
  g_autoptr (GArray) changes = list_changes (zone, from_s - YEAR_S, to_s + YEAR_S);
  Rule first = get_rule (zone, from_s - YEAR_S);

  icalcomponent_add_property (component, icalproperty_new_tzid (name));
  /* A zone whose clocks are never changed is that one rule. */
  add_observance (component, &first, first.offset_s, from_s - YEAR_S);
  for (guint i = 0; i < changes->len; i++)
    add_changes (component, changes, i);
  return component;
}
