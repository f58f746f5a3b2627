/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-bench-throw-private.h"

#include "wb-app-bench-life-private.h"
#include "wb-clock.h"
#include "wb-cure.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/*
 * A nose that smells two candles rates neither: a rating is scored only where no other scented flame was in the room, and what
 * the program knows of that goes into the record by itself (common practice, no source).
 */

#define MINUTE_US ((gint64) 60 * G_USEC_PER_SEC)

static gboolean
is_named (const char *room)
{
  return room != NULL && *room != '\0';
}

gboolean
wb_app_bench_throw_may_be_same_room (const char *a,
                                     const char *b)
{
  g_autofree char *first = NULL, *second = NULL;

  if (!is_named (a) || !is_named (b))
    return TRUE;
  first = g_utf8_casefold (a, -1);
  second = g_utf8_casefold (b, -1);
  return g_str_equal (g_strstrip (first), g_strstrip (second));
}

static gboolean
is_throw_burn (WbAppBenchSample *sample)
{
  const WbBurn *burn = wb_app_bench_sample_get_burn (sample);

  return burn != NULL && burn->kind == WB_BURN_THROW;
}

/* Of its last burn; a session that is closed has told its room to nobody here. */
const char *
wb_app_bench_throw_get_room (WbAppBench       *self,
                             WbAppBenchSample *sample)
{
  const WbBurn *burn = wb_app_bench_sample_get_burn (sample);
  const WbSession *session = wb_app_bench_get_session (self);

  if (burn->kind == WB_BURN_THROW)
    return burn->bench_place;
  return session != NULL && burn->session == session->record.id ? session->place : NULL;
}

gboolean
wb_app_bench_sample_is_scented (WbAppBenchSample *sample)
{
  const WbDataset *data = wb_app_bench_sample_get_data (sample);
  guint cell = g_array_index (data->sample_cell, guint, wb_app_bench_sample_get_index (sample));

  return wb_dataset_get_fragrance (data, cell) != NULL;
}

/* Whether its last burn burnt at that instant. One from a file has no clock. */
static gboolean
burnt_at (WbAppBenchSample *sample,
          WbInstant         at)
{
  const WbAppBenchLife *life = wb_app_bench_sample_get_life (sample);
  WbInstant lit_at = wb_app_bench_sample_get_lit_at (sample);

  if (life->burn == NULL || life->burn->session == 0 || !lit_at.known || lit_at.utc_us > at.utc_us)
    return FALSE;
  return isnan (life->end_min) || lit_at.utc_us + (gint64) (life->end_min * MINUTE_US) > at.utc_us;
}

GPtrArray *
wb_app_bench_dup_beside (WbAppBench       *self,
                         WbAppBenchSample *sample,
                         const char       *room,
                         WbInstant         at,
                         gboolean          scented)
{
  GPtrArray *beside = g_ptr_array_new ();
  GHashTableIter iter;
  gpointer other;

  g_return_val_if_fail (WB_IS_APP_BENCH (self), beside);

  if (!at.known)
    at = wb_clock_now (wb_clock_get ());
  g_hash_table_iter_init (&iter, wb_app_bench_get_samples (self));
  while (g_hash_table_iter_next (&iter, NULL, &other))
    if (other != sample && burnt_at (other, at) && (!scented || wb_app_bench_sample_is_scented (other))
        && wb_app_bench_throw_may_be_same_room (room, wb_app_bench_throw_get_room (self, other)))
      g_ptr_array_add (beside, other);
  g_ptr_array_sort (beside, wb_app_bench_sample_order);
  return beside;
}

/* "T2, T3" */
static char *
dup_codes (const GPtrArray *samples)
{
  g_autoptr (GString) codes = g_string_new (NULL);

  for (guint i = 0; i < samples->len; i++)
    g_string_append_printf (codes, "%s%s", i > 0 ? ", " : "", wb_app_bench_sample_get_code (g_ptr_array_index (samples, i)));
  return g_string_free (g_steal_pointer (&codes), FALSE);
}

/* A room that nobody named may be this one: it is said, so that it can be named. */
static gboolean
any_named (WbAppBench      *self,
           const GPtrArray *beside)
{
  for (guint i = 0; i < beside->len; i++)
    if (is_named (wb_app_bench_throw_get_room (self, g_ptr_array_index (beside, i))))
      return TRUE;
  return FALSE;
}

const char *
wb_app_bench_throw_get_other_kind_words (void)
{
  return _("A rating of the throw stays a note and is not scored: only a throw burn's is.");
}

char *
wb_app_bench_throw_dup_unscored_words (const GPtrArray *beside,
                                       gboolean         named)
{
  g_autofree char *codes = dup_codes (beside);

  if (beside->len == 0)
    return NULL;
  if (!named)
    /* Translators: codes of samples, here and below; the count is theirs. */
    return g_strdup_printf (ngettext ("Not scored: %s burns too, and it is not said in which room. The rating stays a note.",
                                      "Not scored: %s burn too, and it is not said in which room. The rating stays a note.", beside->len),
                            codes);
  return g_strdup_printf (ngettext ("Not scored: %s burns in the same room. The rating stays a note.",
                                    "Not scored: %s burn in the same room. The rating stays a note.", beside->len), codes);
}

char *
wb_app_bench_dup_unscored (WbAppBench       *self,
                           WbAppBenchSample *sample)
{
  g_autoptr (GPtrArray) beside = NULL;
  const char *room;

  g_return_val_if_fail (WB_IS_APP_BENCH (self), NULL);

  if (!is_throw_burn (sample))
    return g_strdup (wb_app_bench_throw_get_other_kind_words ());
  room = wb_app_bench_throw_get_room (self, sample);
  beside = wb_app_bench_dup_beside (self, sample, room, WB_INSTANT_NONE, TRUE);
  return wb_app_bench_throw_dup_unscored_words (beside, is_named (room) && any_named (self, beside));
}

char *
wb_app_bench_throw_dup_smell_refusal (WbAppBenchSample *sample,
                                      WbBurnKind        kind)
{
  return wb_app_bench_throw_dup_early (sample, kind, wb_clock_now (wb_clock_get ()));
}

char *
wb_app_bench_throw_dup_early (WbAppBenchSample *sample,
                              WbBurnKind        kind,
                              WbInstant         at)
{
  WbInstant smell_at = wb_app_bench_sample_get_smell_at (sample);
  g_autofree char *when = NULL;

  if (kind != WB_BURN_THROW || !smell_at.known || !at.known || smell_at.utc_us <= at.utc_us)
    return NULL;
  when = wb_cure_format_at (smell_at);
  return g_strdup_printf (_("%s is fit to smell from %s."), wb_app_bench_sample_get_code (sample), when);
}

char *
wb_app_bench_throw_dup_crowd_words (const GPtrArray *beside,
                                    gboolean         named)
{
  g_autofree char *codes = dup_codes (beside);

  if (beside->len == 0)
    return NULL;
  if (!named)
    return g_strdup_printf (ngettext ("A throw burn stands alone in its room: %s is alight, and it is not said in which room.",
                                      "A throw burn stands alone in its room: %s are alight, and it is not said in which room.", beside->len),
                            codes);
  return g_strdup_printf (ngettext ("A throw burn stands alone in its room: %s is alight there.",
                                    "A throw burn stands alone in its room: %s are alight there.", beside->len), codes);
}

static char *
dup_own (WbAppBench       *self,
         WbAppBenchSample *sample,
         const char       *room)
{
  g_autoptr (GPtrArray) beside = wb_app_bench_dup_beside (self, sample, room, WB_INSTANT_NONE, FALSE);

  return wb_app_bench_throw_dup_crowd_words (beside, is_named (room) && any_named (self, beside));
}

static char *
dup_of_others (WbAppBench       *self,
               WbAppBenchSample *sample)
{
  const WbSession *session = wb_app_bench_get_session (self);
  g_autoptr (GPtrArray) beside = wb_app_bench_dup_beside (self, sample, session != NULL ? session->place : NULL, WB_INSTANT_NONE, FALSE);
  g_autofree char *codes = NULL;

  for (guint i = beside->len; i > 0; i--)
    if (!is_throw_burn (g_ptr_array_index (beside, i - 1)))
      g_ptr_array_remove_index (beside, i - 1);
  if (beside->len == 0)
    return NULL;
  codes = dup_codes (beside);
  return g_strdup_printf (ngettext ("The throw burn of %s is on, and should stand alone in its room.",
                                    "The throw burns of %s are on, and should each stand alone in a room.", beside->len), codes);
}

char *
wb_app_bench_dup_throw_deviation (WbAppBench       *self,
                                  WbAppBenchSample *sample,
                                  WbBurnKind        kind,
                                  const char       *place)
{
  g_autofree char *early = NULL, *crowd = NULL;

  g_return_val_if_fail (WB_IS_APP_BENCH (self), NULL);

  early = wb_app_bench_throw_dup_smell_refusal (sample, kind);
  crowd = kind == WB_BURN_THROW ? dup_own (self, sample, place) : dup_of_others (self, sample);
  if (early != NULL && crowd != NULL)
    return g_strdup_printf ("%s %s", early, crowd);
  return early != NULL ? g_steal_pointer (&early) : g_steal_pointer (&crowd);
}

char *
wb_app_bench_dup_last_room (WbAppBench *self,
                            double     *distance_m)
{
  WbAppBenchSample *last = NULL;
  GHashTableIter iter;
  gpointer sample;

  g_return_val_if_fail (WB_IS_APP_BENCH (self), NULL);

  g_hash_table_iter_init (&iter, wb_app_bench_get_samples (self));
  while (g_hash_table_iter_next (&iter, NULL, &sample))
    if (is_throw_burn (sample) && is_named (wb_app_bench_sample_get_place (sample))
        && (last == NULL || wb_app_bench_sample_get_lit_at (sample).utc_us > wb_app_bench_sample_get_lit_at (last).utc_us))
      last = sample;
  if (distance_m != NULL)
    *distance_m = last != NULL ? wb_app_bench_sample_get_last (last, WB_COLUMN_THROW_DISTANCE_M) : NAN;
  return last != NULL ? g_strdup (wb_app_bench_sample_get_place (last)) : NULL;
}

static void
set_where_empty (WbReading  *reading,
                 char       *const *there,
                 const char *field,
                 const char *text)
{
  if (!is_named (*there) && is_named (text))
    wb_record_set_text (reading, wb_record_type_find_field (&wb_reading_type, field), text);
}

void
wb_app_bench_throw_complete (WbAppBench       *self,
                             WbAppBenchSample *sample,
                             gboolean          now,
                             WbReading        *reading)
{
  static const WbColumn stated[] = { WB_COLUMN_THROW_DISTANCE_M, WB_COLUMN_THROW_BLIND };
  g_autoptr (GPtrArray) beside = NULL;
  WbInstant at = WB_INSTANT_NONE;
  const char *room;

  if (isnan (reading->values[WB_COLUMN_THROW]))
    return;
  room = wb_app_bench_throw_get_room (self, sample);
  /* Its minute is a whole one, and another may have been lit since it began. */
  if (!now)
    {
      at = wb_app_bench_sample_get_lit_at (sample);
      at.utc_us += (gint64) (reading->elapsed_min * MINUTE_US);
    }
  set_where_empty (reading, &reading->throw_room, "throw_room", room);
  if (isnan (reading->values[WB_COLUMN_ALONE]))
    {
      beside = wb_app_bench_dup_beside (self, sample, room, at, TRUE);
      reading->values[WB_COLUMN_ALONE] = beside->len == 0;
    }
  if (!is_throw_burn (sample))
    return;
  for (guint i = 0; i < G_N_ELEMENTS (stated); i++)
    if (isnan (reading->values[stated[i]]))
      reading->values[stated[i]] = wb_app_bench_sample_get_last (sample, stated[i]);
  set_where_empty (reading, &reading->rater, "rater", wb_app_bench_sample_get_last_text (sample, WB_READING_TEXT_RATER));
}

/* Two noses may rate in the same minute; one that is not named is the last one's. */
static gboolean
is_same_nose (const char *typed,
              const char *read)
{
  return !is_named (typed) || !is_named (read) || g_utf8_collate (typed, read) == 0;
}

gboolean
wb_app_bench_find_throw_again (WbAppBenchSample *sample,
                               const WbReading  *typed,
                               WbCraftDoubt     *doubt)
{
  const WbDataset *data;
  double minute;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (sample) && typed != NULL && doubt != NULL, FALSE);

  data = wb_app_bench_sample_get_data (sample);
  minute = isnan (typed->elapsed_min) ? wb_app_bench_sample_get_elapsed_s (sample) / 60.0 : typed->elapsed_min;
  for (guint burn = 0; burn < data->burns->len; burn++)
    {
      guint first, n;

      if (wb_dataset_get_burn (data, burn) != wb_app_bench_sample_get_burn (sample))
        continue;
      wb_readings_get_burn_rows (data->readings, burn, &first, &n);
      for (guint row = first; row < first + n; row++)
        if (is_same_nose (typed->rater, wb_readings_get_text (data->readings, row, WB_READING_TEXT_RATER))
            && wb_craft_doubt_again (typed->values[WB_COLUMN_THROW], wb_readings_get (data->readings, row, WB_COLUMN_THROW),
                                     wb_readings_get_elapsed_min (data->readings, row) - minute, doubt))
          return TRUE;
    }
  return FALSE;
}
