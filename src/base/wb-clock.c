/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-clock.h"

#include <glib/gi18n-lib.h>
#include <string.h>
#include <time.h>

/*
 * One clock a process. Its fields are set once, before it is handed out; only
 * the zone, and the test clock's shifts and boot, change later, under the lock.
 */

#define VARIABLE "WICKBENCH_CLOCK"
#define RATE_MAX 1e6
#define ZONE_DIRECTORY "/usr/share/zoneinfo/"
#define BOOT_ID_FILE "/proc/sys/kernel/random/boot_id"

/* WICKBENCH_CLOCK, taken apart. */
typedef struct
{
  WbInstant start;
  gint64 steady_us;
  double rate;
  char *boot_id;
} Setting;

struct _WbClock
{
  gboolean test;
  WbInstant start;      /* INSTANT */
  double rate;
  gint64 started_us;    /* CLOCK_BOOTTIME at the first asking */
  gboolean nameless;    /* the zone is INSTANT's offset */

  GMutex lock;
  GTimeZone *zone;
  char *zone_name;
  const char *boot_id;  /* interned */
  gint64 advanced_us;   /* wall and steady time */
  gint64 stepped_us;    /* wall time only */
  gint64 behind_us;     /* of the steady time, behind INSTANT */
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
parse_start (const char *text, Setting *setting, GError **error)
{
  const char *comma = strrchr (text, ',');
  /* ISO 8601 lets a comma stand before the fraction of a second: that one is followed by an offset. */
  if (comma != NULL && strpbrk (comma, "Z:") != NULL)
    comma = NULL;
  g_autofree char *instant = comma != NULL ? g_strndup (text, comma - text) : g_strdup (text);

  setting->rate = 1;
  if (!wb_instant_parse (instant, &setting->start, error)
      || (comma != NULL && !wb_number_parse_strict (comma + 1, '.', &setting->rate, error)))
    return FALSE;
  setting->steady_us = setting->start.utc_us;
  if (setting->rate >= 0 && setting->rate <= RATE_MAX)
    return TRUE;
  g_set_error_literal (error, WB_NUMBER_ERROR, WB_NUMBER_ERROR_RANGE, _("the rate must be 0 to 1000000"));
  return FALSE;
}

static gboolean
parse_part (const char *part, Setting *setting, GError **error)
{
  WbInstant steady;

  if (g_str_has_prefix (part, "boot=") && part[strlen ("boot=")] != '\0')
    {
      g_free (setting->boot_id);
      setting->boot_id = g_strdup (part + strlen ("boot="));
      return TRUE;
    }
  if (g_str_has_prefix (part, "steady="))
    {
      if (!wb_instant_parse (part + strlen ("steady="), &steady, error))
        return FALSE;
      setting->steady_us = steady.utc_us;
      return TRUE;
    }
  g_set_error (error, WB_NUMBER_ERROR, WB_NUMBER_ERROR_SYNTAX, _("“%s” is neither steady=INSTANT nor boot=NAME"), part);
  return FALSE;
}

static gboolean
parse_setting (const char *text, Setting *setting, GError **error)
{
  g_auto (GStrv) parts = g_strsplit (text, ";", -1);
  gboolean good = parse_start (parts[0] != NULL ? parts[0] : "", setting, error);

  for (guint i = 1; good && parts[i] != NULL; i++)
    good = parse_part (parts[i], setting, error);
  if (!good)
    g_prefix_error (error, "%s: ", VARIABLE);
  return good;
}

gboolean
wb_clock_check_environment (GError **error)
{
  const char *text = g_getenv (VARIABLE);
  Setting setting = { 0 };
  gboolean good = text == NULL || parse_setting (text, &setting, error);

  g_free (setting.boot_id);
  return good;
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
set_up_test (WbClock *clock, const char *text)
{
  g_autoptr (GError) error = NULL;
  Setting setting = { 0 };

  if (!parse_setting (text, &setting, &error))
    g_error ("%s", error->message);
  clock->test = TRUE;
  clock->start = setting.start;
  clock->rate = setting.rate;
  clock->behind_us = setting.start.utc_us - setting.steady_us;
  clock->started_us = read_us (CLOCK_BOOTTIME);
  clock->boot_id = g_intern_string (setting.boot_id != NULL ? setting.boot_id : "test");
  g_free (setting.boot_id);
  if (get_offset (clock->zone, clock->start.utc_us) == clock->start.offset_s)
    return;
  clock->nameless = TRUE;
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
  g_autofree char *boot_id = NULL;

  g_mutex_init (&clock->lock);
  clock->zone = g_time_zone_new_local ();
  clock->zone_name = find_zone_name (clock->zone);
  if (setting != NULL)
    {
      set_up_test (clock, setting);
      return clock;
    }
  clock->boot_id = g_file_get_contents (BOOT_ID_FILE, &boot_id, NULL, NULL) ? g_intern_string (g_strstrip (boot_id)) : "";
  return clock;
}

WbClock *
wb_clock_get (void)
{
  static GOnce once = G_ONCE_INIT;

  return g_once (&once, set_up, NULL);
}

/* The zone in force; the caller unrefs it. */
static GTimeZone *
dup_time_zone (WbClock *clock)
{
  g_mutex_lock (&clock->lock);
  GTimeZone *zone = g_time_zone_ref (clock->zone);
  g_mutex_unlock (&clock->lock);
  return zone;
}

/* The test clock's two times. */
static void
read_test (WbClock *clock, gint64 *wall_us, gint64 *steady_us)
{
  double elapsed = (double) (read_us (CLOCK_BOOTTIME) - clock->started_us) * clock->rate;

  g_mutex_lock (&clock->lock);
  gint64 moved = clock->start.utc_us + (gint64) elapsed + clock->advanced_us;
  *wall_us = moved + clock->stepped_us;
  *steady_us = moved - clock->behind_us;
  g_mutex_unlock (&clock->lock);
}

WbInstant
wb_clock_now (WbClock *clock)
{
  gint64 wall_us, steady_us;

  g_return_val_if_fail (clock != NULL, WB_INSTANT_NONE);

  if (clock->test)
    read_test (clock, &wall_us, &steady_us);
  else
    wall_us = read_us (CLOCK_REALTIME);
  g_autoptr (GTimeZone) zone = dup_time_zone (clock);
  return (WbInstant) { wall_us, get_offset (zone, wall_us), TRUE };
}

WbInstant
wb_clock_at (WbClock *clock, gint64 utc_us)
{
  g_return_val_if_fail (clock != NULL, WB_INSTANT_NONE);

  g_autoptr (GTimeZone) zone = dup_time_zone (clock);
  return (WbInstant) { utc_us, get_offset (zone, utc_us), TRUE };
}

gint64
wb_clock_steady_us (WbClock *clock)
{
  gint64 wall_us, steady_us;

  g_return_val_if_fail (clock != NULL, 0);

  if (!clock->test)
    return read_us (CLOCK_BOOTTIME);
  read_test (clock, &wall_us, &steady_us);
  return steady_us;
}

const char *
wb_clock_get_boot_id (WbClock *clock)
{
  g_return_val_if_fail (clock != NULL, "");

  g_mutex_lock (&clock->lock);
  const char *boot_id = clock->boot_id;
  g_mutex_unlock (&clock->lock);
  return boot_id;
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

void
wb_clock_reboot (WbClock *clock, const char *boot_id)
{
  gint64 wall_us, steady_us;

  g_return_if_fail (clock != NULL && clock->test);
  g_return_if_fail (boot_id != NULL);

  read_test (clock, &wall_us, &steady_us);
  g_mutex_lock (&clock->lock);
  clock->behind_us += steady_us;
  clock->boot_id = g_intern_string (boot_id);
  g_mutex_unlock (&clock->lock);
}

gboolean
wb_clock_refresh_zone (WbClock *clock)
{
  g_return_val_if_fail (clock != NULL, FALSE);

  if (clock->nameless)
    return FALSE;
  /* GLib looks anew at TZ and at the system's own setting. */
  g_autoptr (GTimeZone) zone = g_time_zone_new_local ();
  g_mutex_lock (&clock->lock);
  gboolean changed = strcmp (g_time_zone_get_identifier (zone), g_time_zone_get_identifier (clock->zone)) != 0;
  if (changed)
    {
      g_time_zone_unref (clock->zone);
      clock->zone = g_time_zone_ref (zone);
      g_free (clock->zone_name);
      clock->zone_name = find_zone_name (zone);
    }
  g_mutex_unlock (&clock->lock);
  return changed;
}

char *
wb_clock_dup_zone (WbClock *clock)
{
  g_return_val_if_fail (clock != NULL, g_strdup (""));

  g_mutex_lock (&clock->lock);
  char *name = g_strdup (clock->zone_name);
  g_mutex_unlock (&clock->lock);
  return name;
}

/* That many seconds since 1970 on a wall clock; G_MININT64: no such day or time. */
static gint64
get_wall_s (WbDay day, int hour, int minute, int second)
{
  if (day == WB_DAY_NONE || hour < 0 || hour > 23 || minute < 0 || minute > 59 || second < 0 || second > 59)
    return G_MININT64;
  return day * G_GINT64_CONSTANT (86400) + (hour * 60 + minute) * 60 + second;
}

WbInstant
wb_clock_local (WbClock *clock, WbDay day, int hour, int minute, int second)
{
  gint64 wall = get_wall_s (day, hour, minute, second);

  g_return_val_if_fail (clock != NULL, WB_INSTANT_NONE);

  if (wall == G_MININT64)
    return WB_INSTANT_NONE;
  g_autoptr (GTimeZone) zone = dup_time_zone (clock);
  int interval = g_time_zone_adjust_time (zone, G_TIME_TYPE_STANDARD, &wall);
  int offset = g_time_zone_get_offset (zone, interval);
  return (WbInstant) { (wall - offset) * (gint64) G_USEC_PER_SEC, offset, TRUE };
}

gboolean
wb_clock_local_twice (WbClock *clock, WbDay day, int hour, int minute, int second, WbInstant *first, WbInstant *second_time)
{
  const gint64 day_us = 86400 * (gint64) G_USEC_PER_SEC;
  gint64 wall = get_wall_s (day, hour, minute, second);

  g_return_val_if_fail (clock != NULL, FALSE);
  g_return_val_if_fail (first != NULL && second_time != NULL, FALSE);

  if (wall == G_MININT64)
    return FALSE;
  g_autoptr (GTimeZone) zone = dup_time_zone (clock);
  /* An offset is further east before clocks are put back than after. */
  int before = get_offset (zone, wall * (gint64) G_USEC_PER_SEC - day_us);
  int after = get_offset (zone, wall * (gint64) G_USEC_PER_SEC + day_us);
  *first = (WbInstant) { (wall - before) * (gint64) G_USEC_PER_SEC, before, TRUE };
  *second_time = (WbInstant) { (wall - after) * (gint64) G_USEC_PER_SEC, after, TRUE };
  return before > after && get_offset (zone, first->utc_us) == before && get_offset (zone, second_time->utc_us) == after;
}
