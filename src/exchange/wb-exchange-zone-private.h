/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>
#include <libical/ical.h>

G_BEGIN_DECLS

/*
 * The rules of a zone for a calendar, as a VTIMEZONE (RFC 5545, 3.6.5) with the zone's plain name as TZID: what it is by the
 * system's zone data in the year before `from_s`, and every change from there to the year after `to_s` (seconds, UTC), each with
 * its own moment. Such a list is right whatever the law did in those years; libical's own reads the zone data into recurrence
 * rules under a TZID that is a path. Caller frees.
 */
icalcomponent *wb_exchange_zone_new (GTimeZone *zone, const char *name, gint64 from_s, gint64 to_s);

G_END_DECLS
