/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-workers-private.h"

#define MOST_THREADS 8
#define WAKE_US (50 * G_TIME_SPAN_MILLISECOND) /* how often keep_going is asked while others work */

struct _WbCraftWorkers
{
  guint            n;
  WbCraftWork      work;
  gpointer         data;
  WbCraftKeepGoing keep_going;
  gpointer         user;
  GThread         *caller;
  gint             next;     /* atomic: piece to be begun */
  gint             done;     /* atomic */
  gint             stopped;  /* atomic */
  guint            running;  /* by `lock` */
  GMutex           lock;
  GCond            ended;
};

static gint n_threads; /* atomic; 0: as many as there are processors */

void
wb_craft_workers_set_threads (guint threads)
{
  g_atomic_int_set (&n_threads, (gint) threads);
}

gboolean
wb_craft_workers_go_on (WbCraftWorkers *self)
{
  if (self->keep_going != NULL && g_thread_self () == self->caller && !g_atomic_int_get (&self->stopped)
      && !self->keep_going ((double) g_atomic_int_get (&self->done) / self->n, self->user))
    g_atomic_int_set (&self->stopped, TRUE);
  return !g_atomic_int_get (&self->stopped);
}

/* FALSE: none was left. */
static gboolean
do_next (WbCraftWorkers *self)
{
  guint piece;

  if (g_atomic_int_get (&self->stopped))
    return FALSE;
  piece = (guint) g_atomic_int_add (&self->next, 1);
  if (piece >= self->n)
    return FALSE;
  self->work (self, piece, self->data);
  g_atomic_int_inc (&self->done);
  return TRUE;
}

static gpointer
worker_thread (gpointer data)
{
  WbCraftWorkers *self = data;

  while (do_next (self))
    ;
  g_mutex_lock (&self->lock);
  self->running--;
  g_cond_signal (&self->ended);
  g_mutex_unlock (&self->lock);
  return NULL;
}

/* Until the other threads have ended: what they read lives in the caller. */
static void
wait_for_others (WbCraftWorkers *self)
{
  g_mutex_lock (&self->lock);
  while (self->running > 0)
    if (!g_cond_wait_until (&self->ended, &self->lock, g_get_monotonic_time () + WAKE_US))
      {
        g_mutex_unlock (&self->lock);
        wb_craft_workers_go_on (self);
        g_mutex_lock (&self->lock);
      }
  g_mutex_unlock (&self->lock);
}

/* No more threads to be had: those that are there, the caller's at least, do it all. */
static GThread *
begin_thread (WbCraftWorkers *self)
{
  GThread *thread;

  g_mutex_lock (&self->lock);
  thread = g_thread_try_new ("craft", worker_thread, self, NULL);
  if (thread != NULL)
    self->running++;
  g_mutex_unlock (&self->lock);
  return thread;
}

gboolean
wb_craft_workers_run (guint            n,
                      WbCraftWork      work,
                      gpointer         data,
                      WbCraftKeepGoing keep_going,
                      gpointer         user)
{
  guint asked = (guint) g_atomic_int_get (&n_threads);
  guint threads = MIN (MIN (asked > 0 ? asked : g_get_num_processors (), MOST_THREADS), n);
  WbCraftWorkers self = {
    .n = n, .work = work, .data = data, .keep_going = keep_going, .user = user, .caller = g_thread_self ()
  };
  GThread *others[MOST_THREADS] = { NULL };

  g_mutex_init (&self.lock);
  g_cond_init (&self.ended);
  for (guint i = 1; i < threads; i++)
    others[i] = begin_thread (&self);
  while (do_next (&self))
    wb_craft_workers_go_on (&self);
  wait_for_others (&self);
  wb_craft_workers_go_on (&self);
  for (guint i = 1; i < threads; i++)
    if (others[i] != NULL)
      g_thread_join (others[i]);
  g_mutex_clear (&self.lock);
  g_cond_clear (&self.ended);
  return !self.stopped;
}
