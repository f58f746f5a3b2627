/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-reading-panel-private.h"

#include "wb-clock.h"

#include <glib/gi18n.h>

/* A panel that is half typed, kept from one start of the program to the next. Only its texts: nothing is saved by itself. */

#define ASK_KEY "ask"
#define TYPED_KEY "typed"
#define NOTE_KEY "note"
#define TIME_KEY "time"
#define TRIM_KEY "trim"
#define PLACE_KEY "place"
#define KIND_KEY "kind"

/* So long after it was typed it was seen now as well as then. */
#define SAME_MOMENT_S 60
/* A time of day alone says no more than this which day it was; and the room is not as it was. */
#define ONE_EVENING_S (12 * 3600)

static const struct { const char *key; WbReadingText which; } details[] = {
  { "rater", WB_READING_TEXT_RATER }, { "instrument", WB_READING_TEXT_INSTRUMENT }, { "instrument_place", WB_READING_TEXT_INSTRUMENT_PLACE }
};

gboolean
wb_reading_panel_is_half_typed (WbReadingPanel *self)
{
  g_return_val_if_fail (WB_IS_READING_PANEL (self), FALSE);
  return wb_reading_panel_get_touched (self)
         || (self->ask == WB_APP_ASK_LIGHTING && (self->place_touched || *wb_quantity_entry_get_text (self->trim) != '\0'));
}

void
wb_reading_panel_keep (WbReadingPanel *self,
                       GKeyFile       *file,
                       const char     *group)
{
  g_return_if_fail (WB_IS_READING_PANEL (self));

  g_key_file_set_string (file, group, ASK_KEY, wb_reading_panel_get_ask_name (self->ask));
  g_key_file_set_int64 (file, group, TYPED_KEY, self->typed_us);
  g_key_file_set_string (file, group, NOTE_KEY, gtk_editable_get_text (GTK_EDITABLE (self->note)));
  g_key_file_set_string (file, group, TIME_KEY, wb_time_entry_get_text (self->time));
  if (self->ask == WB_APP_ASK_LIGHTING)
    {
      g_key_file_set_string (file, group, TRIM_KEY, wb_quantity_entry_get_text (self->trim));
      g_key_file_set_string (file, group, KIND_KEY, wb_burn_kind_words[wb_reading_panel_get_kind (self)].nick);
      if (self->place_touched)
        g_key_file_set_string (file, group, PLACE_KEY, wb_reading_panel_get_place (self));
    }
  for (guint i = 0; i < G_N_ELEMENTS (details); i++)
    g_key_file_set_string (file, group, details[i].key, wb_reading_details_get (self->details, details[i].which));
  wb_reading_fields_keep (self->fields, file, group);
}

static void
put_back_lighting (WbReadingPanel *self,
                   GKeyFile       *file,
                   const char     *group)
{
  g_autofree char *trim = g_key_file_get_string (file, group, TRIM_KEY, NULL), *place = g_key_file_get_string (file, group, PLACE_KEY, NULL);
  g_autofree char *kind = g_key_file_get_string (file, group, KIND_KEY, NULL);
  int found = kind != NULL ? wb_words_find (wb_burn_kind_words, kind) : -1;

  if (found >= 0)
    gtk_drop_down_set_selected (self->kind, (guint) found);
  if (trim != NULL)
    wb_quantity_entry_set_text (self->trim, trim);
  self->place_touched = place != NULL;
  if (place != NULL)
    gtk_editable_set_text (self->place, place);
}

static gint64
find_passed_s (gint64 since_us)
{
  return (wb_clock_now (wb_clock_get ()).utc_us - since_us) / G_USEC_PER_SEC;
}

/* It was typed of a flame, and there is none any more. */
static gboolean
is_out_since (WbReadingPanel *self)
{
  return (self->ask == WB_APP_ASK_ROUND || self->ask == WB_APP_ASK_BEFORE_SNUFFING)
         && wb_app_bench_sample_get_state (self->sample) != WB_APP_BENCH_ALIGHT;
}

/*
 * What was seen then is not seen now, and "21:05" was that evening's: the moment stands in the field, where the person can change
 * it, and with its day where that is no more this evening. Unknown: what stands there is for now, or no time.
 */
static WbInstant
put_back_time (WbReadingPanel *self,
               GKeyFile       *file,
               const char     *group)
{
  g_autofree char *typed = g_key_file_get_string (file, group, TIME_KEY, NULL), *time = NULL, *day = NULL, *with_day = NULL;
  WbInstant then = wb_clock_at (wb_clock_get (), self->typed_us), seen = WB_INSTANT_NONE;

  wb_time_entry_set_text (self->time, typed);
  if (typed != NULL && *typed != '\0')
    seen = wb_time_entry_get_at (self->time, then);
  else if (self->ask != WB_APP_ASK_LIGHTING && (find_passed_s (self->typed_us) >= SAME_MOMENT_S || is_out_since (self)))
    seen = then;
  if (!seen.known)
    return seen;
  time = wb_instant_format_time (seen);
  day = wb_day_format (wb_instant_get_day (seen));
  with_day = g_strconcat (day, " ", time, NULL);
  wb_time_entry_set_text (self->time, find_passed_s (seen.utc_us) < ONE_EVENING_S ? time : with_day);
  return seen;
}

/* left: what was not put back; NULL: nothing. */
static void
say_kept (WbReadingPanel *self,
          WbInstant       seen,
          const char     *left)
{
  g_autofree char *when = wb_instant_format_short (wb_clock_at (wb_clock_get (), self->typed_us)), *words = NULL;

  if (left != NULL)
    /* Translators: of what stands in fields; a day and a time; values such as "Room: 21". */
    words = g_strdup_printf (_("Kept from before the program stopped, %s. Not saved yet. Not put back, as it was of that hour: %s."), when, left);
  else if (seen.known && find_passed_s (seen.utc_us) >= ONE_EVENING_S)
    /* Translators: of what stands in fields; a day and a time. */
    words = g_strdup_printf (_("Kept from before the program stopped, %s. Not saved yet: it is of the day and time that stand below, not of now."), when);
  else
    /* Translators: of what stands in fields; a day and a time. */
    words = g_strdup_printf (_("Kept from before the program stopped, %s. Not saved yet."), when);
  gtk_label_set_text (self->kept, words);
  gtk_widget_set_visible (GTK_WIDGET (self->kept), TRUE);
}

void
wb_reading_panel_put_back (WbReadingPanel *self,
                           GKeyFile       *file,
                           const char     *group)
{
  g_autofree char *ask = NULL, *note = NULL, *left = NULL;
  WbInstant seen;
  int found;

  g_return_if_fail (WB_IS_READING_PANEL (self));

  ask = g_key_file_get_string (file, group, ASK_KEY, NULL);
  note = g_key_file_get_string (file, group, NOTE_KEY, NULL);
  found = wb_reading_panel_find_ask (ask);
  self->quiet = TRUE;
  self->typed_us = g_key_file_get_int64 (file, group, TYPED_KEY, NULL);
  if (found >= 0)
    self->ask = (WbAppAsk) found;
  put_back_lighting (self, file, group);
  gtk_editable_set_text (GTK_EDITABLE (self->note), note != NULL ? note : "");
  seen = put_back_time (self, file, group);
  for (guint i = 0; i < G_N_ELEMENTS (details); i++)
    {
      g_autofree char *text = g_key_file_get_string (file, group, details[i].key, NULL);

      wb_reading_details_propose (self->details, details[i].which, text);
    }
  /* What has no moment of its own would be saved as of now: a lighting still to come has another room than that evening's. */
  left = wb_reading_fields_put_back (self->fields, file, group, !seen.known && find_passed_s (self->typed_us) >= ONE_EVENING_S);
  self->quiet = FALSE;
  wb_reading_panel_set_ask (self, self->ask);
  say_kept (self, seen, left);
}
