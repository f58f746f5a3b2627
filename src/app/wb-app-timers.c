/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-timers.h"

#include "wb-app-draft.h"
#include "wb-clock.h"

#include <glib/gi18n-lib.h>

/* What is kept of one, in a group by its key. */
#define WORDS_KEY "words"
#define STATE_KEY "state"
#define LEFT_KEY "left"      /* us, when it was written */
#define BOOT_KEY "boot"
#define STEADY_KEY "steady"  /* us, the end by the clock that never steps */
#define WALL_KEY "wall"      /* us UTC, when it was written */
#define DOUBT_KEY "doubtful"

typedef struct
{
  char           *words;
  gint64          end_us;   /* steady; while it runs */
  gint64          left_us;  /* while it is paused */
  WbAppTimerState state;
  gboolean        doubtful;
} Timer;

struct _WbAppTimers
{
  GObject     parent_instance;

  GHashTable *timers;       /* char * to Timer */
  WbAppDraft *draft;
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

static gint64
get_left (const Timer *timer)
{
  if (timer->state == WB_APP_TIMER_RUNNING)
    return MAX (timer->end_us - now_us (), 0);
  return timer->state == WB_APP_TIMER_PAUSED ? timer->left_us : 0;
}

static void
keep (WbAppTimers *self,
      const char  *key)
{
  const Timer *timer = g_hash_table_lookup (self->timers, key);
  g_autoptr (GKeyFile) file = g_key_file_new ();

  g_key_file_set_string (file, key, WORDS_KEY, timer->words);
  g_key_file_set_integer (file, key, STATE_KEY, timer->state);
  g_key_file_set_int64 (file, key, LEFT_KEY, get_left (timer));
  g_key_file_set_string (file, key, BOOT_KEY, wb_clock_get_boot_id (wb_clock_get ()));
  g_key_file_set_int64 (file, key, STEADY_KEY, timer->end_us);
  g_key_file_set_int64 (file, key, WALL_KEY, wb_clock_now (wb_clock_get ()).utc_us);
  g_key_file_set_boolean (file, key, DOUBT_KEY, timer->doubtful);
  wb_app_draft_set (self->draft, key, file);
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
      keep (self, key);
      g_ptr_array_add (ended, g_strdup (key));
    }
  /* who is told may begin another */
  for (guint i = 0; i < ended->len; i++)
    {
      const Timer *timer = g_hash_table_lookup (self->timers, g_ptr_array_index (ended, i));
      g_autofree char *words = NULL;

      if (timer != NULL)
        words = timer->doubtful ? g_strdup_printf (_("%s, by the computer's clock: it was started anew meanwhile"), timer->words)
                                : g_strdup (timer->words);

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

/* ---- What an earlier program left ---- */

/* By the clock that never steps, where it is the same one; else by the wall clock, and never more than was left then. */
static void
count_on (Timer      *timer,
          GKeyFile   *file,
          const char *key)
{
  g_autofree char *boot = g_key_file_get_string (file, key, BOOT_KEY, NULL);
  const char *here = wb_clock_get_boot_id (wb_clock_get ());
  gint64 end_us = g_key_file_get_int64 (file, key, STEADY_KEY, NULL);
  gint64 passed_us = wb_clock_now (wb_clock_get ()).utc_us - g_key_file_get_int64 (file, key, WALL_KEY, NULL);

  timer->end_us = end_us;
  if (*here != '\0' && g_strcmp0 (boot, here) == 0 && end_us - now_us () <= timer->left_us)
    return;
  timer->end_us = now_us () + timer->left_us - MAX (passed_us, 0);
  timer->doubtful = TRUE;
}

/* NULL: it is not in our form. */
static Timer *
read_timer (GKeyFile   *file,
            const char *key)
{
  g_autofree char *words = g_key_file_get_string (file, key, WORDS_KEY, NULL);
  int state = g_key_file_get_integer (file, key, STATE_KEY, NULL);
  Timer *timer;

  if (words == NULL || state < WB_APP_TIMER_RUNNING || state > WB_APP_TIMER_ENDED)
    return NULL;
  timer = g_new0 (Timer, 1);
  timer->words = g_steal_pointer (&words);
  timer->state = (WbAppTimerState) state;
  timer->doubtful = g_key_file_get_boolean (file, key, DOUBT_KEY, NULL);
  timer->left_us = MAX (g_key_file_get_int64 (file, key, LEFT_KEY, NULL), 0);
  if (state == WB_APP_TIMER_RUNNING)
    count_on (timer, file, key);
  return timer;
}

static void
take_kept (WbAppTimers *self)
{
  g_auto (GStrv) keys = g_key_file_get_groups (wb_app_draft_get_file (self->draft), NULL);

  for (guint i = 0; keys[i] != NULL; i++)
    {
      Timer *timer = g_hash_table_contains (self->timers, keys[i]) ? NULL : read_timer (wb_app_draft_get_file (self->draft), keys[i]);

      if (timer != NULL)
        g_hash_table_insert (self->timers, g_strdup (keys[i]), timer);
    }
  /* its first second tells those that ended meanwhile */
  run (self);
}

static void
wb_app_timers_finalize (GObject *object)
{
  WbAppTimers *self = WB_APP_TIMERS (object);

  g_clear_handle_id (&self->source_id, g_source_remove);
  g_signal_handlers_disconnect_by_data (self->draft, self);
  g_object_unref (self->draft);
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
      self->draft = g_object_ref (wb_app_draft_of (notebook, "timers"));
      if (wb_app_draft_get_loaded (self->draft))
        take_kept (self);
      else
        g_signal_connect_swapped (self->draft, "loaded", G_CALLBACK (take_kept), self);
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
  keep (self, key);
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
  keep (self, key);
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
  keep (self, key);
  run (self);
}

void
wb_app_timers_drop (WbAppTimers *self,
                    const char  *key)
{
  g_return_if_fail (WB_IS_APP_TIMERS (self));
  wb_app_draft_drop (self->draft, key);
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

  g_return_val_if_fail (WB_IS_APP_TIMERS (self), WB_APP_TIMER_NONE);

  timer = g_hash_table_lookup (self->timers, key);
  if (left_s != NULL)
    *left_s = timer != NULL ? get_left (timer) / (double) G_USEC_PER_SEC : 0;
  return timer != NULL ? timer->state : WB_APP_TIMER_NONE;
}

gboolean
wb_app_timers_get_doubtful (WbAppTimers *self,
                            const char  *key)
{
  const Timer *timer;

  g_return_val_if_fail (WB_IS_APP_TIMERS (self), FALSE);

  timer = g_hash_table_lookup (self->timers, key);
  return timer != NULL && timer->doubtful;
}
