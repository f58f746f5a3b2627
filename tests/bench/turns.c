/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "turns.h"

#include <time.h>

static GPollFunc poll_before;
static gboolean begun;                /* a turn: not before the first poll */
static gint64 wall_began, cpu_began;  /* of this turn */
static gint64 frame_began, in_frames; /* of this turn, CPU time of frames */
static Turn longest;

static gint64
cpu_time_us (void)
{
  struct timespec now;

  clock_gettime (CLOCK_THREAD_CPUTIME_ID, &now);
  return (gint64) now.tv_sec * G_USEC_PER_SEC + now.tv_nsec / 1000;
}

static void
begin (void)
{
  begun = TRUE;
  in_frames = 0;
  wall_began = g_get_monotonic_time ();
  cpu_began = cpu_time_us ();
}

static int
on_poll (GPollFD *fds,
         guint    n,
         int      timeout)
{
  int result;

  if (begun)
    {
      gint64 cpu = cpu_time_us () - cpu_began;

      longest.wall = MAX (longest.wall, (double) (g_get_monotonic_time () - wall_began));
      longest.cpu = MAX (longest.cpu, (double) cpu);
      longest.own = MAX (longest.own, (double) (cpu - in_frames));
    }
  result = poll_before (fds, n, timeout);
  begin ();
  return result;
}

static void
on_before_paint_cb (void)
{
  frame_began = cpu_time_us ();
}

static void
on_after_paint_cb (void)
{
  in_frames += cpu_time_us () - frame_began;
}

void
turns_watch_frames (GdkFrameClock *clock)
{
  g_signal_connect (clock, "before-paint", G_CALLBACK (on_before_paint_cb), NULL);
  g_signal_connect (clock, "after-paint", G_CALLBACK (on_after_paint_cb), NULL);
}

void
turns_watch (void)
{
  poll_before = g_main_context_get_poll_func (NULL);
  g_main_context_set_poll_func (NULL, on_poll);
}

Turn
turns_take_longest (void)
{
  Turn taken = longest;

  longest = (Turn) { 0, 0, 0 };
  begin ();
  return taken;
}
