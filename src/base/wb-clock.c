/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-clock.h"

#include <glib/gi18n-lib.h>
#include <string.h>
#include <time.h>

/*
 * One clock a process. Its fields are set once, before it is handed out; only
 * the test clock's two shifts change later, under the lock.
 */

#define VARIABLE "WICKBENCH_CLOCK"
#define RATE_MAX 1e6
#define ZONE_DIRECTORY "/usr/share/zoneinfo/"
#define BOOT_ID_FILE "/proc/sys/kernel/random/boot_id"

struct _WbClock
{
  GTimeZone *zone;
  char *zone_name;
  char *boot_id;

  gboolean test;
  WbInstant start;      /* INSTANT */
  double rate;
  gint64 started_us;    /* CLOCK_BOOTTIME at the first asking */

  GMutex lock;
  gint64 advanced_us;   /* wall and steady time */
  gint64 stepped_us;    /* wall time only */
};

static WbClock the_clock;

static gint64
read_us (clockid_t id)
{
  struct timespec now;

  if (clock_gettime (id, &now) != 0)
    g_error ("The system's clock %d cannot be read", (int) id);
  return now.tv_sec * (gint64) G_USEC_PER_SEC + now.tv_nsec / 1000;
}

static gboolean
parse_setting (const char *setting, WbInstant *start, double *rate, GError **error)
{
  const char *comma = strrchr (setting, ',');
  /* ISO 8601 lets a comma stand before the fraction of a second: that one is followed by an offset. */
  if (comma != NULL && strpbrk (comma, "Z:") != NULL)
    comma = NULL;
  g_autofree char *instant = comma != NULL ? g_strndup (setting, comma - setting) : g_strdup (setting);

  *rate = 1;
  if (!wb_instant_parse (instant, start, error)
      || (comma != NULL && !wb_number_parse_strict (comma + 1, '.', rate, error)))
    {
      g_prefix_error (error, "%s: ", VARIABLE);
      return FALSE;
    }
  if (*rate < 0 || *rate > RATE_MAX)
    {
      g_set_error (error, WB_NUMBER_ERROR, WB_NUMBER_ERROR_RANGE, _("%s: the rate must be 0 to 1000000"), VARIABLE);
      return FALSE;
    }
  return TRUE;
}

gboolean
wb_clock_check_environment (GError **error)
{
  const char *setting = g_getenv (VARIABLE);
  WbInstant start;
  double rate;

  return setting == NULL || parse_setting (setting, &start, &rate, error);
}

/* The name, if the zone data base has it: TZ may as well hold a rule, or a name that nobody knows. */
static char *
find_zone_name (GTimeZone *zone)
{
  const char *name = g_time_zone_get_identifier (zone);

  if (*name == ':')
    name++;
  if (g_str_has_prefix (name, ZONE_DIRECTORY))
    name += strlen (ZONE_DIRECTORY);
  if (g_str_equal (name, "UTC"))
    return g_strdup (name);
  if (*name == '\0' || *name == '/' || strstr (name, "..") != NULL)
    return g_strdup ("");
  g_autofree char *path = g_strconcat (ZONE_DIRECTORY, name, NULL);
  return g_strdup (g_file_test (path, G_FILE_TEST_IS_REGULAR) ? name : "");
}

static int
get_offset (GTimeZone *zone, gint64 utc_us)
{
  gint64 seconds = utc_us / G_USEC_PER_SEC - (utc_us % G_USEC_PER_SEC < 0 ? 1 : 0);

  return g_time_zone_get_offset (zone, g_time_zone_find_interval (zone, G_TIME_TYPE_UNIVERSAL, seconds));
}

static void
set_up_test (WbClock *clock, const char *setting)
{
  g_autoptr (GError) error = NULL;

  if (!parse_setting (setting, &clock->start, &clock->rate, &error))
    g_error ("%s", error->message);
  clock->test = TRUE;
  clock->started_us = read_us (CLOCK_BOOTTIME);
  clock->boot_id = g_strdup ("test");
  if (get_offset (clock->zone, clock->start.utc_us) == clock->start.offset_s)
    return;
  g_time_zone_unref (clock->zone);
  clock->zone = g_time_zone_new_offset (clock->start.offset_s);
  g_free (clock->zone_name);
  clock->zone_name = g_strdup ("");
}

static gpointer
set_up (gpointer data)
{
  WbClock *clock = &the_clock;
  const char *setting = g_getenv (VARIABLE);

  g_mutex_init (&clock->lock);
  clock->zone = g_time_zone_new_local ();
  clock->zone_name = find_zone_name (clock->zone);
  if (setting != NULL)
    {
      set_up_test (clock, setting);
      return clock;
    }
  if (g_file_get_contents (BOOT_ID_FILE, &clock->boot_id, NULL, NULL))
    g_strstrip (clock->boot_id);
  else
    clock->boot_id = g_strdup ("");
  return clock;
}

WbClock *
wb_clock_get (void)
{
  static GOnce once = G_ONCE_INIT;

  return g_once (&once, set_up, NULL);
}

/* The test clock's time without the steps of its wall clock. */
static gint64
get_test_us (WbClock *clock, gint64 *stepped_us)
{
  double elapsed = (double) (read_us (CLOCK_BOOTTIME) - clock->started_us) * clock->rate;

  g_mutex_lock (&clock->lock);
  gint64 now = clock->start.utc_us + (gint64) elapsed + clock->advanced_us;
  *stepped_us = clock->stepped_us;
  g_mutex_unlock (&clock->lock);
  return now;
}

WbInstant
wb_clock_now (WbClock *clock)
{
  gint64 us, stepped = 0;

  g_return_val_if_fail (clock != NULL, WB_INSTANT_NONE);

  us = clock->test ? get_test_us (clock, &stepped) : read_us (CLOCK_REALTIME);
  us += stepped;
  return (WbInstant) { us, get_offset (clock->zone, us), TRUE };
}

gint64
wb_clock_steady_us (WbClock *clock)
{
  gint64 stepped;

  g_return_val_if_fail (clock != NULL, 0);

  return clock->test ? get_test_us (clock, &stepped) : read_us (CLOCK_BOOTTIME);
}

const char *
wb_clock_get_boot_id (WbClock *clock)
{
  g_return_val_if_fail (clock != NULL, "");

  return clock->boot_id;
}

gboolean
wb_clock_is_test (WbClock *clock)
{
  g_return_val_if_fail (clock != NULL, FALSE);

  return clock->test;
}

void
wb_clock_advance (WbClock *clock, gint64 us)
{
  g_return_if_fail (clock != NULL && clock->test);
  g_return_if_fail (us >= 0);

  g_mutex_lock (&clock->lock);
  clock->advanced_us += us;
  g_mutex_unlock (&clock->lock);
}

void
wb_clock_step (WbClock *clock, gint64 us)
{
  g_return_if_fail (clock != NULL && clock->test);

  g_mutex_lock (&clock->lock);
  clock->stepped_us += us;
  g_mutex_unlock (&clock->lock);
}

char *
wb_clock_dup_zone (WbClock *clock)
{
  g_return_val_if_fail (clock != NULL, g_strdup (""));

  return g_strdup (clock->zone_name);
}

WbInstant
wb_clock_local (WbClock *clock, WbDay day, int hour, int minute, int second)
{
  g_return_val_if_fail (clock != NULL, WB_INSTANT_NONE);

  if (day == WB_DAY_NONE || hour < 0 || hour > 23 || minute < 0 || minute > 59 || second < 0 || second > 59)
    return WB_INSTANT_NONE;

  gint64 wall = day * G_GINT64_CONSTANT (86400) + (hour * 60 + minute) * 60 + second;
  int interval = g_time_zone_adjust_time (clock->zone, G_TIME_TYPE_STANDARD, &wall);
  int offset = g_time_zone_get_offset (clock->zone, interval);
  return (WbInstant) { (wall - offset) * (gint64) G_USEC_PER_SEC, offset, TRUE };
}
