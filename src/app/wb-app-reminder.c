/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-reminder.h"

#include "wb-app-bench-private.h"

#include "wb-clock.h"
#include "wb-quantity.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Common practice, no source: what is let pass is told again after ten minutes, three times; a cooled one is news for half an hour. */
#define AGAIN_S 600
#define MOST_STEPS 3
#define NEWS_S 1800

void
wb_app_reminder_free (WbAppReminder *self)
{
  if (self == NULL)
    return;
  g_clear_pointer (&self->members, g_ptr_array_unref);
  g_free (self->id);
  g_free (self->code);
  g_free (self->title);
  g_free (self->body);
  g_free (self);
}

/* Takes title and body. */
static void
add (GPtrArray               *found,
     const WbAppReminderCase *of,
     WbAppReminderKind        kind,
     int                      step,
     gint64                   since_us,
     char                    *title,
     char                    *body)
{
  static const char *const names[] = {
    [WB_APP_REMINDER_OVER] = "over", [WB_APP_REMINDER_STOP] = "stop", [WB_APP_REMINDER_DUE] = "due",
    [WB_APP_REMINDER_WEIGH] = "weigh", [WB_APP_REMINDER_COOL] = "cool",
  };
  WbAppReminder *self = g_new0 (WbAppReminder, 1);

  self->kind = kind;
  self->id = g_strdup_printf ("%s:%s", names[kind], of->alight ? of->burn : of->uuid);
  self->step = step;
  self->code = g_strdup (of->code);
  self->since_us = since_us;
  self->title = title;
  self->body = body;
  self->experiment = of->experiment;
  self->sample = of->sample;
  g_ptr_array_add (found, self);
}

static int
get_step (gint64 late_s)
{
  return (int) MIN (late_s / AGAIN_S, MOST_STEPS);
}

/* Of another day than now's with its date. */
static char *
dup_time (WbInstant now,
          gint64    in_s)
{
  WbInstant then = wb_clock_at (wb_clock_get (), now.utc_us + in_s * G_USEC_PER_SEC);

  return wb_instant_get_day (then) == wb_instant_get_day (now) ? wb_instant_format_time (then) : wb_instant_format_short (then);
}

/* TRUE: the end of the burn is told, and with it its last reading. */
static gboolean
add_stop (GPtrArray               *found,
          const WbAppReminderCase *of,
          int                      ahead_min,
          WbInstant                now)
{
  gint64 left_s = isnan (of->length_s) ? G_MAXINT64 : (gint64) of->length_s - of->elapsed_s;
  g_autofree char *length = NULL, *when = NULL;
  gint64 end_us;

  if (left_s > ahead_min * 60)
    return FALSE;
  end_us = of->lit_us + (gint64) of->length_s * G_USEC_PER_SEC;
  length = wb_quantity_format_duration (of->length_s);
  when = dup_time (now, left_s);
  if (left_s > 0)
    /* Translators: code of a sample; time of day; a duration; time of day */
    add (found, of, WB_APP_REMINDER_STOP, 0, end_us, g_strdup_printf (_("%s: snuff at %s"), of->code, when),
         g_strdup_printf (_("Its burn of %s ends at %s. Read it, then snuff it."), length, when));
  else
    add (found, of, WB_APP_REMINDER_STOP, 1 + get_step (-left_s), end_us, g_strdup_printf (_("%s: read and snuff"), of->code),
         g_strdup_printf (_("Its burn of %s was over at %s."), length, when));
  return left_s <= 0;
}

static void
add_due (GPtrArray               *found,
         const WbAppReminderCase *of,
         WbInstant                now)
{
  g_autofree char *when = NULL, *burnt = NULL;

  if (of->due_in_s > 0)
    return;
  when = dup_time (now, of->due_in_s);
  burnt = wb_quantity_format_duration ((double) (of->elapsed_s + of->due_in_s));
  add (found, of, WB_APP_REMINDER_DUE, get_step (-of->due_in_s), of->lit_us + (of->elapsed_s + of->due_in_s) * G_USEC_PER_SEC,
       g_strdup_printf (_("%s: reading due"), of->code),
       /* Translators: a duration; time of day */
       g_strdup_printf (_("The reading at %s after lighting was due at %s."), burnt, when));
}

/* Two things that come one after the other: the wax is firm enough to be weighed, and later the whole candle is cool enough to be lit. */
static void
add_out (GPtrArray               *found,
         const WbAppReminderCase *of,
         WbInstant                now)
{
  if (of->set_since_s >= 0 && of->set_since_s < NEWS_S)
    {
      g_autofree char *when = of->fit_in_s > 0 ? dup_time (now, of->fit_in_s) : NULL;

      add (found, of, WB_APP_REMINDER_WEIGH, 0, now.utc_us - of->set_since_s * G_USEC_PER_SEC, g_strdup_printf (_("%s: weigh it"), of->code),
           /* Translators: time of day */
           when != NULL ? g_strdup_printf (_("Its wax has set, so it can be weighed. To be lit again it cools until %s."), when)
                        : g_strdup (_("Its wax has set since its last burn, so it can be weighed.")));
    }
  if (of->fit_since_s >= 0 && of->fit_since_s < NEWS_S)
    add (found, of, WB_APP_REMINDER_COOL, 0, now.utc_us - of->fit_since_s * G_USEC_PER_SEC, g_strdup_printf (_("%s is cool enough to light"), of->code),
         g_strdup (_("It has cooled as long as its protocol asks and is fit for its next burn.")));
}

static int
by_urgency (gconstpointer a,
            gconstpointer b)
{
  const WbAppReminder *first = *(WbAppReminder *const *) a, *second = *(WbAppReminder *const *) b;

  if (first->kind != second->kind)
    return first->kind < second->kind ? -1 : 1;
  if (first->step != second->step)
    return first->step > second->step ? -1 : 1;
  return g_strcmp0 (first->title, second->title);
}

GPtrArray *
wb_app_reminders_find (const WbAppReminderCase *cases,
                       guint                    n,
                       int                      ahead_min,
                       WbInstant                now)
{
  GPtrArray *found = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_app_reminder_free);

  g_return_val_if_fail (cases != NULL || n == 0, found);

  for (guint i = 0; i < n; i++)
    {
      const WbAppReminderCase *of = &cases[i];

      if (!of->alight)
        {
          add_out (found, of, now);
          continue;
        }
      if (of->over != NULL)
        add (found, of, WB_APP_REMINDER_OVER, 0, now.utc_us, g_strdup_printf (_("%s: %s"), of->code, of->over),
             g_strdup (of->advice != NULL ? of->advice : _("See to it now.")));
      if (!add_stop (found, of, ahead_min, now))
        add_due (found, of, now);
    }
  g_ptr_array_sort (found, by_urgency);
  return found;
}

/* How long ago it had cooled; below 0: it has not, or never burnt. */
static gint64
get_fit_since_s (WbAppBenchSample *sample)
{
  WbInstant fit_at = wb_app_bench_sample_get_fit_at (sample);

  if (wb_app_bench_sample_get_burn (sample) == NULL || wb_app_bench_sample_get_state (sample) != WB_APP_BENCH_FIT || !fit_at.known)
    return -1;
  return (wb_clock_now (wb_clock_get ()).utc_us - fit_at.utc_us) / G_USEC_PER_SEC;
}

/* In which time it will have cooled; below 1: it has, nothing is known of it, or it is not to be lit again. */
static gint64
get_fit_in_s (WbAppBenchSample *sample)
{
  WbInstant fit_at = wb_app_bench_sample_get_fit_at (sample);

  return wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_COOLING && fit_at.known ? (fit_at.utc_us - wb_clock_now (wb_clock_get ()).utc_us) / G_USEC_PER_SEC : 0;
}

/* How long ago its wax had set; below 0: it has not, or it was weighed. */
static gint64
get_set_since_s (WbAppBenchSample *sample)
{
  if (wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ENDED || !wb_app_bench_sample_is_to_weigh (sample))
    return -1;
  return (gint64) ((wb_app_bench_sample_get_out_min (sample) - WB_APP_BENCH_SET_MIN) * 60);
}

/* Few of them are news. */
static gboolean
is_news (WbAppBenchSample *sample)
{
  gint64 fit_since_s = get_fit_since_s (sample), set_since_s = get_set_since_s (sample);

  return wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ALIGHT || (fit_since_s >= 0 && fit_since_s < NEWS_S)
         || (set_since_s >= 0 && set_since_s < NEWS_S);
}

/* Of one that is news. Texts of a case are owned by `texts`. */
static WbAppReminderCase
case_of (WbAppBenchSample *sample,
         GPtrArray        *texts)
{
  const WbBurn *burn = wb_app_bench_sample_get_burn (sample);
  g_autoptr (GPtrArray) hits = wb_app_bench_dup_unanswered (sample);
  WbAppReminderCase of = {
    .code = wb_app_bench_sample_get_code (sample),
    .experiment = wb_app_bench_sample_get_experiment (sample),
    .sample = wb_app_bench_sample_get_id (sample),
    .alight = wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ALIGHT,
    .lit_us = wb_app_bench_sample_get_lit_at (sample).utc_us,
    .elapsed_s = wb_app_bench_sample_get_elapsed_s (sample),
    .due_in_s = wb_app_bench_sample_get_due_in_s (sample),
    .length_s = wb_app_bench_sample_get_length_s (sample),
    .set_since_s = get_set_since_s (sample),
    .fit_since_s = get_fit_since_s (sample),
    .fit_in_s = get_fit_in_s (sample),
  };

  g_ptr_array_add (texts, wb_uuid_format (&wb_app_bench_sample_get_record (sample)->uuid));
  of.uuid = g_ptr_array_index (texts, texts->len - 1);
  g_ptr_array_add (texts, wb_uuid_format (&burn->uuid));
  of.burn = g_ptr_array_index (texts, texts->len - 1);
  if (hits != NULL)
    {
      const WbAppBenchHit *worst = g_ptr_array_index (hits, 0);

      g_ptr_array_add (texts, g_strdup (worst->text));
      of.over = g_ptr_array_index (texts, texts->len - 1);
      g_ptr_array_add (texts, g_strdup (worst->advice));
      of.advice = g_ptr_array_index (texts, texts->len - 1);
    }
  return of;
}

GPtrArray *
wb_app_reminders_of (WbAppBench *bench,
                     int         ahead_min)
{
  g_autoptr (GArray) cases = g_array_new (FALSE, FALSE, sizeof (WbAppReminderCase));
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  const GPtrArray *live;

  g_return_val_if_fail (WB_IS_APP_BENCH (bench), NULL);

  live = wb_app_bench_get_live (bench);
  for (guint i = 0; i < live->len; i++)
    {
      WbAppBenchSample *sample = g_ptr_array_index (live, i);
      WbAppReminderCase of;

      if (!is_news (sample))
        continue;
      of = case_of (sample, texts);
      g_array_append_val (cases, of);
    }
  return wb_app_reminders_find ((const WbAppReminderCase *) cases->data, cases->len, ahead_min, wb_clock_now (wb_clock_get ()));
}
