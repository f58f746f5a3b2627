/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-timers.h"

#include "wb-clock.h"

typedef struct
{
  char           *words;
  gint64          end_us;   /* steady; while it runs */
  gint64          left_us;  /* while it is paused */
  WbAppTimerState state;
} Timer;

struct _WbAppTimers
{
  GObject     parent_instance;

  GHashTable *timers;       /* char * to Timer */
  guint       source_id;    /* 0: none runs */
};

G_DEFINE_FINAL_TYPE (WbAppTimers, wb_app_timers, G_TYPE_OBJECT)

enum { TICK, ENDED, DROPPED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
timer_free (gpointer data)
{
  Timer *timer = data;

  g_free (timer->words);
  g_free (timer);
}

static gint64
now_us (void)
{
  return wb_clock_steady_us (wb_clock_get ());
}

static void
tell (WbAppTimers *self)
{
  g_signal_emit (self, signals[TICK], 0);
}

/* Ends those whose time has come; TRUE: one still runs. */
static gboolean
end_due (WbAppTimers *self)
{
  g_autoptr (GPtrArray) ended = g_ptr_array_new_with_free_func (g_free);
  gboolean runs = FALSE;
  GHashTableIter iter;
  gpointer key, value;

  g_hash_table_iter_init (&iter, self->timers);
  while (g_hash_table_iter_next (&iter, &key, &value))
    {
      Timer *timer = value;

      if (timer->state != WB_APP_TIMER_RUNNING)
        continue;
      if (timer->end_us > now_us ())
        {
          runs = TRUE;
          continue;
        }
      timer->state = WB_APP_TIMER_ENDED;
      g_ptr_array_add (ended, g_strdup (key));
    }
  /* who is told may begin another */
  for (guint i = 0; i < ended->len; i++)
    {
      const Timer *timer = g_hash_table_lookup (self->timers, g_ptr_array_index (ended, i));
      g_autofree char *words = timer != NULL ? g_strdup (timer->words) : NULL;

      if (words != NULL)
        g_signal_emit (self, signals[ENDED], 0, g_ptr_array_index (ended, i), words);
    }
  return runs;
}

static gboolean
on_second_cb (gpointer user)
{
  WbAppTimers *self = user;
  gboolean runs = end_due (self);

  if (!runs)
    self->source_id = 0;
  tell (self);
  return runs ? G_SOURCE_CONTINUE : G_SOURCE_REMOVE;
}

static void
run (WbAppTimers *self)
{
  if (self->source_id == 0)
    self->source_id = g_timeout_add_seconds (1, on_second_cb, self);
  tell (self);
}

static void
wb_app_timers_finalize (GObject *object)
{
  WbAppTimers *self = WB_APP_TIMERS (object);

  g_clear_handle_id (&self->source_id, g_source_remove);
  g_hash_table_unref (self->timers);
  G_OBJECT_CLASS (wb_app_timers_parent_class)->finalize (object);
}

static void
wb_app_timers_class_init (WbAppTimersClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = wb_app_timers_finalize;
  signals[TICK] = g_signal_new ("tick", WB_TYPE_APP_TIMERS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[ENDED] = g_signal_new ("ended", WB_TYPE_APP_TIMERS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 2, G_TYPE_STRING, G_TYPE_STRING);
  signals[DROPPED] = g_signal_new ("dropped", WB_TYPE_APP_TIMERS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
wb_app_timers_init (WbAppTimers *self)
{
  self->timers = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, timer_free);
}

WbAppTimers *
wb_app_timers_of (WbAppNotebook *notebook)
{
  WbAppTimers *self;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);

  self = g_object_get_data (G_OBJECT (notebook), "wb-app-timers");
  if (self == NULL)
    {
      self = g_object_new (WB_TYPE_APP_TIMERS, NULL);
      g_object_set_data_full (G_OBJECT (notebook), "wb-app-timers", self, g_object_unref);
    }
  return self;
}

void
wb_app_timers_start (WbAppTimers *self,
                     const char  *key,
                     const char  *words,
                     double       seconds)
{
  Timer *timer;

  g_return_if_fail (WB_IS_APP_TIMERS (self));
  g_return_if_fail (key != NULL && words != NULL && seconds > 0);

  if (g_hash_table_contains (self->timers, key))
    g_signal_emit (self, signals[DROPPED], 0, key);
  timer = g_new0 (Timer, 1);
  timer->words = g_strdup (words);
  timer->end_us = now_us () + (gint64) (seconds * G_USEC_PER_SEC);
  timer->state = WB_APP_TIMER_RUNNING;
  g_hash_table_replace (self->timers, g_strdup (key), timer);
  run (self);
}

void
wb_app_timers_pause (WbAppTimers *self,
                     const char  *key)
{
  Timer *timer;

  g_return_if_fail (WB_IS_APP_TIMERS (self));

  timer = g_hash_table_lookup (self->timers, key);
  if (timer == NULL || timer->state != WB_APP_TIMER_RUNNING)
    return;
  timer->left_us = MAX (timer->end_us - now_us (), 0);
  timer->state = WB_APP_TIMER_PAUSED;
  tell (self);
}

void
wb_app_timers_resume (WbAppTimers *self,
                      const char  *key)
{
  Timer *timer;

  g_return_if_fail (WB_IS_APP_TIMERS (self));

  timer = g_hash_table_lookup (self->timers, key);
  if (timer == NULL || timer->state != WB_APP_TIMER_PAUSED)
    return;
  timer->end_us = now_us () + timer->left_us;
  timer->state = WB_APP_TIMER_RUNNING;
  run (self);
}

void
wb_app_timers_drop (WbAppTimers *self,
                    const char  *key)
{
  g_return_if_fail (WB_IS_APP_TIMERS (self));
  if (!g_hash_table_remove (self->timers, key))
    return;
  g_signal_emit (self, signals[DROPPED], 0, key);
  tell (self);
}

WbAppTimerState
wb_app_timers_get (WbAppTimers *self,
                   const char  *key,
                   double      *left_s)
{
  const Timer *timer;
  gint64 left_us = 0;

  g_return_val_if_fail (WB_IS_APP_TIMERS (self), WB_APP_TIMER_NONE);

  timer = g_hash_table_lookup (self->timers, key);
  if (timer != NULL && timer->state == WB_APP_TIMER_RUNNING)
    left_us = MAX (timer->end_us - now_us (), 0);
  else if (timer != NULL && timer->state == WB_APP_TIMER_PAUSED)
    left_us = timer->left_us;
  if (left_s != NULL)
    *left_s = left_us / (double) G_USEC_PER_SEC;
  return timer != NULL ? timer->state : WB_APP_TIMER_NONE;
}
