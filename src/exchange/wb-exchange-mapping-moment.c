/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-mapping-private.h"

#include "wb-exchange-mapping-time-private.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>

/* When a record's burn was lit, which of the sample's it is, and how long after that it was read. */

#define DAY_S 86400
#define HALF_S (DAY_S / 2)
/* A sheet tells its lightings to the minute. */
#define SAME_US (60 * (gint64) G_USEC_PER_SEC)

typedef struct
{
  gint64 us;      /* of UTC; G_MININT64: not known */
  gint64 number;
} Lighting;

const char *
wb_exchange_mapping_get_whole (const WbExchangeMapping *self,
                               int                      output)
{
  return output >= 0 && self->whole.values[output] != NULL ? self->whole.values[output] : "";
}

/* Seconds since midnight; -1: not known. */
static int
get_second (const WbExchangeMoment *moment)
{
  if (!moment->instant.known)
    return moment->second;
  return (int) ((moment->instant.utc_us / G_USEC_PER_SEC + moment->instant.offset_s) - (gint64) wb_instant_get_day (moment->instant) * DAY_S);
}

static WbDay
get_day (const WbExchangeMoment *moment)
{
  return moment->instant.known ? wb_instant_get_day (moment->instant) : moment->day;
}

/*
 * On a clock of 12 hours a time without am and pm is before or after noon as the mapping says of lightings (`lit` NULL), and of a
 * reading as the next that the clock shows from the lighting on.
 */
static void
take_half (const WbExchangeMapping *self, const char *text, const WbExchangeMoment *lit, WbExchangeMoment *moment)
{
  WbLogClock clock = self->plan->mapping->clock;
  int half, from;

  if (clock == WB_LOG_CLOCK_24 || moment->second < HALF_S / 12 || moment->second >= HALF_S + HALF_S / 12
      || wb_exchange_mapping_has_half (text))
    return;
  half = moment->second % HALF_S;
  from = lit != NULL ? get_second (lit) : -1;
  if (lit == NULL)
    moment->second = half + (clock == WB_LOG_CLOCK_PM ? HALF_S : 0);
  else if (from >= 0 && moment->day == WB_DAY_NONE)
    moment->second = (from + (half - from % HALF_S + HALF_S) % HALF_S) % DAY_S;
  else if (from >= 0)
    moment->second = half + (get_day (lit) == moment->day && half < from ? HALF_S : 0);
}

/* A moment from a column of both, or of a day and a time; `lit` is the lighting for that of a reading. FALSE: refused. */
static gboolean
read_moment (WbExchangeMapping *self, int both, int on, int time, const WbExchangeMoment *lit, WbExchangeMoment *moment)
{
  int at = both;
  char *rule = NULL;
  gboolean good = TRUE;

  *moment = WB_EXCHANGE_MOMENT_NONE;
  if (*wb_exchange_mapping_get_whole (self, both) != '\0')
    good = wb_exchange_mapping_read_moment (wb_exchange_mapping_get_whole (self, both), self->plan->mapping->date_order, moment, &rule);
  else if (*wb_exchange_mapping_get_whole (self, on) != '\0')
    {
      WbExchangeMoment day;

      at = on;
      good = wb_exchange_mapping_read_moment (wb_exchange_mapping_get_whole (self, on), self->plan->mapping->date_order, &day, &rule);
      if (good)
        moment->day = day.instant.known ? wb_instant_get_day (day.instant) : day.day;
    }
  if (good && !moment->instant.known && moment->second < 0 && *wb_exchange_mapping_get_whole (self, time) != '\0')
    {
      at = time;
      good = wb_exchange_mapping_read_time (wb_exchange_mapping_get_whole (self, time), &moment->second, &rule);
    }
  if (good && !moment->instant.known)
    take_half (self, wb_exchange_mapping_get_whole (self, at), lit, moment);
  if (good && !moment->instant.known && moment->day != WB_DAY_NONE && moment->second >= 0)
    good = wb_exchange_mapping_find_instant (self->plan->zone, moment->day, moment->second, &moment->instant, &rule);
  if (!good)
    wb_exchange_mapping_breach (self, wb_exchange_mapping_get_source (self, at, -1), rule);
  return good;
}

static gboolean
refuse_far (WbExchangeMapping *self, const char *column, gint64 seconds)
{
  const char *read = wb_exchange_mapping_get_whole (self, self->plan->read_at >= 0 ? self->plan->read_at : self->plan->read_time);

  wb_exchange_mapping_breach (self, column,
                              g_strdup_printf (wb_exchange_mapping_has_half (read)
                                                 ? _("“%s” is %d h %02d min after the lighting at %s: a time without a day is believed up to %d h behind it")
                                                 : _("“%s” is %d h %02d min after the lighting at %s: a time without a day is believed up to %d h behind it; "
                                                     "write am or pm, or say that the clock has 12 hours"),
                                               read, (int) (seconds / 3600), (int) (seconds / 60 % 60), self->lit, WB_EXCHANGE_MAPPING_LONGEST_S / 3600));
  return FALSE;
}

/* Seconds from lighting to reading. FALSE: refused. */
static gboolean
find_elapsed (WbExchangeMapping *self, const WbExchangeMoment *lit, WbExchangeMoment *read, gint64 *seconds)
{
  int of_read = self->plan->read_at >= 0 ? self->plan->read_at : self->plan->read_time;
  int of_lit = self->plan->lit_time >= 0 ? self->plan->lit_time : self->plan->lit_at;
  int lit_second = get_second (lit);
  gboolean timed = !read->instant.known;
  char *rule = NULL;

  if (lit_second < 0)
    rule = g_strdup (_("the time of lighting is missing"));
  else if (!read->instant.known && read->second < 0)
    rule = g_strdup (_("the time of the reading is missing"));
  if (rule != NULL)
    {
      wb_exchange_mapping_breach (self, wb_exchange_mapping_get_source (self, lit_second < 0 ? of_lit : of_read, -1), rule);
      return FALSE;
    }
  /* A time of day alone is the next one that a clock shows from the lighting on. */
  if (!read->instant.known && lit->instant.known
      && !wb_exchange_mapping_find_instant (self->plan->zone, wb_instant_get_day (lit->instant) + (read->second < lit_second ? 1 : 0),
                                            read->second, &read->instant, &rule))
    {
      wb_exchange_mapping_breach (self, wb_exchange_mapping_get_source (self, of_read, -1), rule);
      return FALSE;
    }
  if (!read->instant.known)
    {
      *seconds = (read->second - lit_second + DAY_S) % DAY_S;
      return *seconds <= WB_EXCHANGE_MAPPING_LONGEST_S || refuse_far (self, wb_exchange_mapping_get_source (self, of_read, -1), *seconds);
    }
  if (!lit->instant.known)
    {
      wb_exchange_mapping_breach (self, wb_exchange_mapping_get_source (self, of_lit, -1), g_strdup (_("the day of lighting is missing: the reading has one")));
      return FALSE;
    }
  *seconds = (read->instant.utc_us - lit->instant.utc_us) / G_USEC_PER_SEC;
  if (timed && *seconds > WB_EXCHANGE_MAPPING_LONGEST_S)
    return refuse_far (self, wb_exchange_mapping_get_source (self, of_read, -1), *seconds);
  if (*seconds >= 0)
    return TRUE;
  wb_exchange_mapping_breach (self, wb_exchange_mapping_get_source (self, of_read, -1), g_strdup (_("the reading stands before the lighting")));
  return FALSE;
}

static void
set_whole (WbExchangeMapping *self, int output, char *text)
{
  g_free (self->whole.values[output]);
  self->whole.values[output] = text;
}

/* "Experiment, sample, third": names that cannot be taken for others. */
static char *
dup_key (const WbExchangeMapping *self, const char *third)
{
  return g_strjoin ("\x1f", wb_exchange_mapping_get_whole (self, self->plan->experiment), wb_exchange_mapping_get_whole (self, self->plan->sample), third, NULL);
}

static void
free_lightings (gpointer data)
{
  g_array_unref (data);
}

/* Of a survey: one more lighting of the sample. */
static void
note_lighting (WbExchangeMapping *self, gint64 lit)
{
  g_autofree char *sample = dup_key (self, NULL);
  GArray *lightings;

  if (self->surveyed == NULL)
    self->surveyed = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, free_lightings);
  lightings = g_hash_table_lookup (self->surveyed, sample);
  if (lightings == NULL)
    {
      lightings = g_array_new (FALSE, FALSE, sizeof (gint64));
      g_hash_table_insert (self->surveyed, g_steal_pointer (&sample), lightings);
    }
  for (guint i = lightings->len; i > 0; i--)
    if (g_array_index (lightings, gint64, i - 1) == lit)
      return;
  g_array_append_val (lightings, lit);
}

static int
compare_lightings (gconstpointer a, gconstpointer b)
{
  gint64 one = *(const gint64 *) a, other = *(const gint64 *) b;

  return (one > other) - (one < other);
}

void
wb_exchange_mapping_end_survey (WbExchangeMapping *self)
{
  GHashTableIter iter;
  gpointer lightings;

  self->surveying = FALSE;
  self->over = TRUE;
  for (guint i = 0; i < self->plan->n_names; i++)
    g_clear_pointer (&self->repeated[i], g_free);
  if (self->surveyed == NULL)
    return;
  g_hash_table_iter_init (&iter, self->surveyed);
  while (g_hash_table_iter_next (&iter, NULL, &lightings))
    g_array_sort (lightings, compare_lightings);
}

static void
free_recorded (gpointer data)
{
  WbExchangeMappingRecorded *self = data;

  g_array_unref (self->lightings);
  g_free (self);
}

void
wb_exchange_mapping_put_recorded (WbExchangeMapping *self,
                                  const char        *experiment,
                                  const char        *sample,
                                  WbInstant          lit,
                                  gint64             number)
{
  Lighting lighting = { lit.known ? lit.utc_us : G_MININT64, number };
  g_autofree char *key = g_strjoin ("\x1f", experiment, sample, NULL);
  WbExchangeMappingRecorded *recorded;

  if (self->recorded == NULL)
    self->recorded = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, free_recorded);
  recorded = g_hash_table_lookup (self->recorded, key);
  if (recorded == NULL)
    {
      recorded = g_new0 (WbExchangeMappingRecorded, 1);
      recorded->lightings = g_array_new (FALSE, FALSE, sizeof (Lighting));
      recorded->last = WB_INSTANT_NONE;
      g_hash_table_insert (self->recorded, g_steal_pointer (&key), recorded);
    }
  g_array_append_val (recorded->lightings, lighting);
  if (lit.known && (!recorded->last.known || lit.utc_us > recorded->last.utc_us))
    recorded->last = lit;
  recorded->most = MAX (recorded->most, number);
}

/* Of the burn that the notebook has of that minute; 0: none. */
static gint64
find_recorded (const WbExchangeMappingRecorded *recorded, gint64 us)
{
  for (guint i = 0; i < recorded->lightings->len; i++)
    {
      const Lighting *lighting = &g_array_index (recorded->lightings, Lighting, i);

      if (lighting->us != G_MININT64 && ABS (lighting->us - us) < SAME_US)
        return lighting->number;
    }
  return 0;
}

/* Lightings of the survey, in order, that come after all that the notebook has, up to the one at `at`, which is such a one. */
static guint
count_new (const GArray *lightings, guint at, WbInstant last)
{
  guint first = at;

  while (first > 0 && (!last.known || g_array_index (lightings, gint64, first - 1) - last.utc_us >= SAME_US))
    first--;
  return at - first + 1;
}

/* The number of a lighting of the survey, of a sample of which the notebook has burns. 0: refused. */
static gint64
count_on (WbExchangeMapping *self, WbExchangeMappingRecorded *recorded, const GArray *lightings, guint at)
{
  gint64 us = g_array_index (lightings, gint64, at), number = find_recorded (recorded, us);

  if (number > 0)
    return number;
  if (recorded->last.known && us < recorded->last.utc_us)
    {
      g_autofree char *last = wb_instant_format_short (recorded->last);

      wb_exchange_mapping_breach (self, wb_exchange_mapping_get_source (self, self->plan->lit_on >= 0 ? self->plan->lit_on : self->plan->lit_at, -1),
                                  g_strdup_printf (_("burns are counted by their lightings, and the notebook has one of this sample that was lit later, "
                                                     "%s: its number must be told, in a column of its own"), last));
      return 0;
    }
  number = recorded->most + count_new (lightings, at, recorded->last);
  if (!recorded->told)
    {
      self->said = g_strdup_printf (_("the notebook has burns of this sample up to number %" PRId64 ": counting goes on after it, and this is burn %" PRId64),
                                    recorded->most, number);
      self->said_of = recorded;
    }
  return number;
}

/* The number of the sample's burn that was lit then, by the survey. */
static void
put_counted (WbExchangeMapping *self, WbInstant lit)
{
  g_autofree char *sample = dup_key (self, NULL);
  WbExchangeMappingRecorded *recorded;
  GArray *lightings;
  gint64 number;
  guint at = 0;

  if (!lit.known)
    {
      wb_exchange_mapping_breach (self, wb_exchange_mapping_get_source (self, self->plan->lit_on >= 0 ? self->plan->lit_on : self->plan->lit_at, -1),
                                  g_strdup (_("burns are counted by their lightings, and this one is missing")));
      return;
    }
  if (self->surveying)
    {
      note_lighting (self, lit.utc_us);
      return;
    }
  lightings = self->surveyed != NULL ? g_hash_table_lookup (self->surveyed, sample) : NULL;
  if (lightings == NULL || !g_array_binary_search (lightings, &lit.utc_us, compare_lightings, &at))
    {
      wb_exchange_mapping_breach (self, "", g_strdup (_("the file has changed while it was read")));
      return;
    }
  recorded = self->recorded != NULL ? g_hash_table_lookup (self->recorded, sample) : NULL;
  number = recorded != NULL ? count_on (self, recorded, lightings, at) : at + 1;
  if (number > 0)
    set_whole (self, self->plan->burn, g_strdup_printf ("%" G_GINT64_FORMAT, number));
}

/* The burn's first reading is its lighting. FALSE: refused. */
static gboolean
put_first (WbExchangeMapping *self)
{
  g_autofree char *burn = dup_key (self, wb_exchange_mapping_get_whole (self, self->plan->burn));
  const char *lit = g_hash_table_lookup (self->lightings, burn);
  WbExchangeMoment read;

  if (lit == NULL)
    {
      if (!read_moment (self, self->plan->read_at, self->plan->read_on, self->plan->read_time, NULL, &read))
        return FALSE;
      if (!read.instant.known)
        {
          wb_exchange_mapping_breach (self, wb_exchange_mapping_get_source (self, self->plan->read_at >= 0 ? self->plan->read_at : self->plan->read_on, -1),
                                      g_strdup (_("the burn is lit at its first reading, and day or time of this one is missing")));
          return FALSE;
        }
      lit = wb_instant_format (read.instant);
      g_hash_table_insert (self->lightings, g_steal_pointer (&burn), (gpointer) lit);
    }
  set_whole (self, self->plan->lit_at, g_strdup (lit));
  return TRUE;
}

void
wb_exchange_mapping_put_moments (WbExchangeMapping *self)
{
  const WbExchangeMappingPlan *plan = self->plan;
  WbExchangeMoment lit, read;
  gint64 seconds;

  if ((plan->first && !put_first (self)) || !read_moment (self, plan->lit_at, plan->lit_on, plan->lit_time, NULL, &lit))
    return;
  if (lit.day != WB_DAY_NONE && lit.second < 0)
    {
      wb_exchange_mapping_breach (self, wb_exchange_mapping_get_source (self, plan->lit_on >= 0 ? plan->lit_on : plan->lit_at, -1),
              g_strdup (_("a day of lighting without its time of day")));
      return;
    }
  if (lit.second >= 0)
    g_snprintf (self->lit, sizeof self->lit, "%d:%02d", lit.second / 3600, lit.second / 60 % 60);
  else
    g_strlcpy (self->lit, wb_exchange_mapping_get_whole (self, plan->lit_at), sizeof self->lit);
  if (plan->lit_at >= 0)
    set_whole (self, plan->lit_at, wb_instant_format (lit.instant));
  if (plan->counted)
    put_counted (self, lit.instant);
  if ((plan->read_at < 0 && plan->read_time < 0) || !read_moment (self, plan->read_at, plan->read_on, plan->read_time, &lit, &read))
    return;
  if (find_elapsed (self, &lit, &read, &seconds))
    set_whole (self, plan->elapsed, wb_number_shortest (seconds / 60.0));
}

