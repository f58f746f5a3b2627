/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-reminder.h"

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
  g_free (self->id);
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

static char *
dup_time (WbInstant now,
          gint64    in_s)
{
  return wb_instant_format_time (wb_clock_at (wb_clock_get (), now.utc_us + in_s * G_USEC_PER_SEC));
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

  if (left_s > ahead_min * 60)
    return FALSE;
  length = wb_quantity_format_duration (of->length_s);
  when = dup_time (now, left_s);
  if (left_s > 0)
    /* Translators: code of a sample; time of day; a duration; time of day */
    add (found, of, WB_APP_REMINDER_STOP, 0, g_strdup_printf (_("%s: snuff at %s"), of->code, when),
         g_strdup_printf (_("Its burn of %s ends at %s. Read it, then snuff it."), length, when));
  else
    add (found, of, WB_APP_REMINDER_STOP, 1 + get_step (-left_s), g_strdup_printf (_("%s: read and snuff"), of->code),
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
  add (found, of, WB_APP_REMINDER_DUE, get_step (-of->due_in_s), g_strdup_printf (_("%s: reading due"), of->code),
       /* Translators: a duration; time of day */
       g_strdup_printf (_("The reading at %s after lighting was due at %s."), burnt, when));
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
          if (of->set_since_s >= 0 && of->set_since_s < NEWS_S)
            add (found, of, WB_APP_REMINDER_WEIGH, 0, g_strdup_printf (_("%s: weigh it"), of->code),
                 g_strdup (_("Its wax has set since its last burn.")));
          if (of->fit_since_s >= 0 && of->fit_since_s < NEWS_S)
            add (found, of, WB_APP_REMINDER_COOL, 0, g_strdup_printf (_("%s has cooled"), of->code),
                 g_strdup (_("It is fit for its next burn.")));
          continue;
        }
      if (of->over != NULL)
        add (found, of, WB_APP_REMINDER_OVER, 0, g_strdup_printf (_("%s: %s"), of->code, of->over),
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

/* How long ago its wax had set; below 0: it has not, or it was weighed. */
static gint64
get_set_since_s (WbAppBenchSample *sample)
{
  if (wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ENDED || !wb_app_bench_sample_is_to_weigh (sample))
    return -1;
  return (gint64) ((wb_app_bench_sample_get_out_min (sample) - WB_APP_BENCH_SET_MIN) * 60);
}

/* A notebook may hold a thousand samples; few of them are news. */
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
    .elapsed_s = wb_app_bench_sample_get_elapsed_s (sample),
    .due_in_s = wb_app_bench_sample_get_due_in_s (sample),
    .length_s = wb_app_bench_sample_get_length_s (sample),
    .set_since_s = get_set_since_s (sample),
    .fit_since_s = get_fit_since_s (sample),
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

  g_return_val_if_fail (WB_IS_APP_BENCH (bench), NULL);

  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (bench)); i++)
    {
      g_autoptr (WbAppBenchSample) sample = g_list_model_get_item (G_LIST_MODEL (bench), i);
      WbAppReminderCase of;

      if (!is_news (sample))
        continue;
      of = case_of (sample, texts);
      g_array_append_val (cases, of);
    }
  return wb_app_reminders_find ((const WbAppReminderCase *) cases->data, cases->len, ahead_min, wb_clock_now (wb_clock_get ()));
}

static const WbAppReminder *
find_id (GPtrArray  *among,
         const char *id)
{
  for (guint i = 0; among != NULL && i < among->len; i++)
    if (g_str_equal (((const WbAppReminder *) g_ptr_array_index (among, i))->id, id))
      return g_ptr_array_index (among, i);
  return NULL;
}

void
wb_app_reminders_compare (GPtrArray  *before,
                          GPtrArray  *now,
                          GPtrArray **told,
                          GPtrArray **gone)
{
  g_return_if_fail (now != NULL && told != NULL && gone != NULL);

  *told = g_ptr_array_new ();
  *gone = g_ptr_array_new ();
  for (guint i = 0; i < now->len; i++)
    {
      WbAppReminder *reminder = g_ptr_array_index (now, i);
      const WbAppReminder *earlier = find_id (before, reminder->id);

      /* The same step of another reading or another limit is another thing to be told. */
      if (earlier == NULL || reminder->step > earlier->step
          || (reminder->kind == WB_APP_REMINDER_OVER && !g_str_equal (reminder->title, earlier->title)))
        g_ptr_array_add (*told, reminder);
    }
  for (guint i = 0; before != NULL && i < before->len; i++)
    {
      const WbAppReminder *reminder = g_ptr_array_index (before, i);

      if (find_id (now, reminder->id) == NULL)
        g_ptr_array_add (*gone, reminder->id);
    }
}
