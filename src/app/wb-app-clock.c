/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-clock-private.h"

#include "wb-clock.h"
#include "wb-quantity.h"

#include <glib/gi18n-lib.h>
#include <string.h>

void
wb_app_clock_clear (WbAppClock *self)
{
  g_clear_pointer (&self->zone, g_free);
}

static char *
dup_by_how_much (gint64 moved_us)
{
  return wb_quantity_format_duration ((double) ABS (moved_us) / G_USEC_PER_SEC);
}

char *
wb_app_clock_note (WbAppClock *self,
                   gint64      moved_us)
{
  g_autofree char *much = dup_by_how_much (moved_us);

  self->untold_us += moved_us;
  self->on_its_way = FALSE;
  if (moved_us == 0)
    return g_strdup (_("The computer's clock stands before the end of a burn in the record, and how long its wax has cooled is not "
                       "known. It is counted from that end, which is the later time: set the clock right, or let it cool on."));
  /* Translators: a duration */
  return g_strdup_printf (moved_us < 0 ? _("The computer's clock was set back by %s. Flames and what cools go on by a clock that nobody sets; "
                                           "a time of day that you type is by the clock as it stands now.")
                                       : _("The computer's clock was set forward by %s. Flames and what cools go on by a clock that nobody sets; "
                                           "a time of day that you type is by the clock as it stands now."),
                          much);
}

static char *
look_at_zone (WbAppClock *self,
              WbInstant   now)
{
  g_autofree char *zone = NULL, *time = NULL;

  wb_clock_refresh_zone (wb_clock_get ());
  zone = wb_clock_dup_zone (wb_clock_get ());
  if (self->zone == NULL || strcmp (zone, self->zone) == 0)
    {
      g_free (self->zone);
      self->zone = g_steal_pointer (&zone);
      return NULL;
    }
  g_free (self->zone);
  self->zone = g_strdup (zone);
  now = wb_clock_now (wb_clock_get ());
  time = wb_instant_format_time (now);
  /* Translators: name of a time zone such as Europe/Berlin; the time of day there */
  return g_strdup_printf (_("The computer's time zone is now %s, where it is %s. No minute of a flame has changed."),
                          *zone != '\0' ? zone : _("another"), time);
}

char *
wb_app_clock_look (WbAppClock *self)
{
  WbInstant now = wb_clock_now (wb_clock_get ());
  gint64 offset_us = now.utc_us - wb_clock_steady_us (wb_clock_get ());
  gint64 moved_us = self->known ? offset_us - self->offset_us : 0;
  g_autofree char *moved = NULL, *zone = NULL;

  if (!self->known || ABS (moved_us) > WB_APP_CLOCK_LET_PASS_US)
    self->offset_us = offset_us;
  self->known = TRUE;
  if (ABS (moved_us) > WB_APP_CLOCK_LET_PASS_US)
    moved = wb_app_clock_note (self, moved_us);
  zone = look_at_zone (self, now);
  if (moved != NULL && zone != NULL)
    return g_strdup_printf ("%s %s", moved, zone);
  return moved != NULL ? g_steal_pointer (&moved) : g_steal_pointer (&zone);
}

char *
wb_app_clock_dup_why (WbAppClock *self,
                      const char *why)
{
  g_autofree char *much = dup_by_how_much (self->untold_us);

  if (ABS (self->untold_us) <= WB_APP_CLOCK_LET_PASS_US)
    return NULL;
  self->on_its_way = TRUE;
  /* Translators: what was done; a duration */
  return g_strdup_printf (self->untold_us < 0 ? _("%s (before it the clock was set back by %s)")
                                              : _("%s (before it the clock was set forward by %s)"), why, much);
}

void
wb_app_clock_written (WbAppClock *self)
{
  if (!self->on_its_way)
    return;
  self->on_its_way = FALSE;
  self->untold_us = 0;
}
