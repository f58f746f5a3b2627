/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-running-private.h"

#include "wb-app-clock-private.h"
#include "wb-app-state-private.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

/* A file of one line a burn: boot id, steady and wall time in microseconds. One file each, so that nothing has to be merged. */

/* Minutes are read from a clock without seconds, and a second look at the same one is put a tenth later. */
#define MINUTE_US (60 * (gint64) G_USEC_PER_SEC)
/* "-" stands for a computer that does not tell: its steady clock is worth nothing after the program. */
#define NO_BOOT "-"

/* Between the look at a note and its removal nobody writes another. */
static GMutex writing;

WbAppRunning *
wb_app_running_new (const char *boot_id,
                    gint64      steady_us,
                    gint64      wall_us)
{
  WbAppRunning *self = g_new0 (WbAppRunning, 1);

  self->boot_id = g_strdup (boot_id);
  self->steady_us = steady_us;
  self->wall_us = wall_us;
  return self;
}

void
wb_app_running_free (WbAppRunning *self)
{
  if (self == NULL)
    return;
  g_free (self->boot_id);
  g_free (self);
}

static char *
dup_folder (const WbUuid *notebook)
{
  g_autofree char *folder = wb_app_state_dup_folder ("running"), *uuid = wb_uuid_format (notebook);

  return g_build_filename (folder, uuid, NULL);
}

static char *
dup_file (const WbUuid *notebook,
          const WbUuid *burn)
{
  g_autofree char *folder = dup_folder (notebook);
  g_autofree char *uuid = wb_uuid_format (burn);

  return g_build_filename (folder, uuid, NULL);
}

void
wb_app_running_write (const WbUuid       *notebook,
                      const WbUuid       *burn,
                      const WbAppRunning *running)
{
  g_autofree char *file = dup_file (notebook, burn), *text = NULL;
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&writing);

  g_return_if_fail (running != NULL);

  text = g_strdup_printf ("%s %" G_GINT64_FORMAT " %" G_GINT64_FORMAT "\n", *running->boot_id != '\0' ? running->boot_id : NO_BOOT,
                          running->steady_us, running->wall_us);
  /* What a power cut takes is worth nothing after it: that is another start of the computer. */
  wb_app_state_write (file, text, NULL);
}

/* What is not in our form is of no start of the computer: it is overwritten or removed in its turn. */
static WbAppRunning *
parse (const char *text)
{
  g_auto (GStrv) words = g_strsplit (text, " ", -1);
  gint64 steady_us, wall_us;

  if (g_strv_length (words) != 3)
    return wb_app_running_new ("", 0, 0);
  g_strchomp (words[2]);
  if (!g_ascii_string_to_signed (words[1], 10, G_MININT64, G_MAXINT64, &steady_us, NULL)
      || !g_ascii_string_to_signed (words[2], 10, G_MININT64, G_MAXINT64, &wall_us, NULL))
    return wb_app_running_new ("", 0, 0);
  return wb_app_running_new (words[0], steady_us, wall_us);
}

void
wb_app_running_remove (const WbUuid       *notebook,
                       const WbUuid       *burn,
                       const WbAppRunning *seen)
{
  g_autofree char *folder = dup_folder (notebook), *file = dup_file (notebook, burn), *text = NULL;
  g_autoptr (WbAppRunning) there = NULL;
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&writing);

  g_return_if_fail (seen != NULL);

  there = parse (g_file_get_contents (file, &text, NULL, NULL) ? text : "");
  if (!g_str_equal (there->boot_id, seen->boot_id) || there->steady_us != seen->steady_us || there->wall_us != seen->wall_us)
    return;
  g_unlink (file);
  /* The last one takes the folder with it; where others are left this does nothing. */
  g_rmdir (folder);
}

GHashTable *
wb_app_running_list (const WbUuid *notebook)
{
  GHashTable *found = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) wb_app_running_free);
  g_autofree char *folder = dup_folder (notebook);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *file = g_build_filename (folder, name, NULL);
      g_autofree char *text = NULL;
      WbUuid burn;

      if (wb_uuid_parse (name, &burn))
        g_hash_table_insert (found, g_strdup (name), parse (g_file_get_contents (file, &text, NULL, NULL) ? text : ""));
    }
  return found;
}

static gboolean
is_of_this_start (const WbAppRunning     *noted,
                  const WbAppRunningCase *at)
{
  return noted != NULL && *at->boot_id != '\0' && strcmp (noted->boot_id, at->boot_id) == 0 && noted->steady_us <= at->steady_us;
}

WbAppRunningBasis
wb_app_running_judge (const WbAppRunning     *noted,
                      const WbAppRunningCase *at,
                      gint64                 *elapsed_us)
{
  gint64 wall_us, steady_us = 0, read_us = 0, written_us = 0;

  g_return_val_if_fail (at != NULL && at->boot_id != NULL, WB_APP_RUNNING_UNSURE);
  g_return_val_if_fail (elapsed_us != NULL, WB_APP_RUNNING_UNSURE);

  if (!isnan (at->last_min))
    read_us = (gint64) (at->last_min * 60 * G_USEC_PER_SEC);
  if (is_of_this_start (noted, at))
    {
      steady_us = at->steady_us - noted->steady_us;
      /* It was read later than that: whatever became of the clock or the file, neither is believed. */
      if (steady_us + MINUTE_US >= read_us)
        {
          *elapsed_us = steady_us;
          return WB_APP_RUNNING_STEADY;
        }
    }
  wall_us = at->now.utc_us - at->lit_at.utc_us;
  /* Whoever wrote to the record since saw the clock of then. */
  if (at->last_entry.known)
    written_us = MAX (at->last_entry.utc_us - at->lit_at.utc_us, 0);
  *elapsed_us = MAX (wall_us, MAX (read_us, written_us));
  return wall_us + WB_APP_CLOCK_LET_PASS_US < written_us || wall_us + MINUTE_US < read_us ? WB_APP_RUNNING_UNSURE : WB_APP_RUNNING_WALL;
}
