/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"
#include "flames.h"
#include "turns.h"

#include "wb-application.h"
#include "wb-burn-page.h"
#include "wb-clock.h"
#include "wb-host.h"
#include "wb-window.h"

#include <stdlib.h>

/* The longest turn of the main thread while readings are typed into the real window. */

#define ROUNDS 4
#define FRAME_US 16700.0

static WbWindow *window;

static gboolean
has_desk (gpointer data)
{
  WbDesk *desk = wb_host_get_desk (WB_HOST (window));

  return desk != NULL && wb_app_experiments_get_loaded (wb_desk_get_experiments (desk))
         && wb_app_bench_get_loaded (wb_desk_get_bench (desk));
}

static WbReadingPanel *
get_panel (void)
{
  return wb_reading_stack_get_shown (wb_burn_page_get_stack (WB_BURN_PAGE (wb_window_get_page (window))));
}

static gboolean
has_panel (gpointer data)
{
  return get_panel () != NULL && wb_reading_panel_get_field (get_panel (), WB_COLUMN_POOL_MM) != NULL;
}

static gboolean
is_another (gpointer sample)
{
  return has_panel (NULL) && wb_reading_panel_get_sample (get_panel ()) != sample;
}

static void
type (WbColumn    column,
      const char *text)
{
  GtkWidget *field = wb_reading_panel_get_field (get_panel (), column);

  while (!GTK_IS_EDITABLE (field) && gtk_widget_get_first_child (field) != NULL)
    {
      GtkWidget *child = gtk_widget_get_first_child (field);

      while (child != NULL && !GTK_IS_EDITABLE (child) && gtk_widget_get_first_child (child) == NULL)
        child = gtk_widget_get_next_sibling (child);
      g_assert_nonnull (child);
      field = child;
    }
  gtk_editable_set_text (GTK_EDITABLE (field), text);
}

static int frames_left;

static gboolean
on_tick_cb (GtkWidget     *widget,
            GdkFrameClock *clock,
            gpointer       data)
{
  frames_left--;
  return G_SOURCE_CONTINUE;
}

static gboolean
frames_are_drawn (gpointer data)
{
  return frames_left <= 0;
}

/* Whole frames, so that what is laid out and drawn counts. */
static void
draw (int frames)
{
  frames_left = frames;
  app_wait_until (frames_are_drawn, NULL, "frames");
}

/* One reading as it is typed: the longest turn of its typing, and of its save until the next sample's fields show. */
static void
type_one (guint   round,
          Turn   *typing,
          Turn   *saving)
{
  WbAppBenchSample *sample = wb_reading_panel_get_sample (get_panel ());
  g_autofree char *pool = g_strdup_printf ("%u.5", 30 + 2 * round);

  turns_take_longest ();
  type (WB_COLUMN_POOL_MM, pool);
  draw (2);
  type (WB_COLUMN_FLAME_MM, "21");
  draw (2);
  *typing = turns_take_longest ();
  gtk_widget_activate_action (GTK_WIDGET (wb_window_get_page (window)), "page.save", NULL);
  app_wait_until (is_another, sample, "the next sample's fields");
  draw (4);
  *saving = turns_take_longest ();
}

static void
tell_turns (const char *what,
            const Turn *turns,
            guint       n)
{
  g_autofree double *whole = g_new (double, n), *own = g_new (double, n);

  for (guint i = 0; i < n; i++)
    {
      whole[i] = turns[i].cpu;
      own[i] = turns[i].own;
    }
  qsort (whole, n, sizeof *whole, flames_by_value);
  qsort (own, n, sizeof *own, flames_by_value);
  g_print ("%s: longest turn of the main thread %.1f ms in the middle of %u readings, %.1f ms at most: %.0f %% of a frame of 16.7 ms, "
           "aim below 10 ms; with GTK's laying out and drawing %.1f and %.1f ms\n",
           what, own[n / 2] / 1e3, n, own[n - 1] / 1e3, 100 * own[n - 1] / FRAME_US, whole[n / 2] / 1e3, whole[n - 1] / 1e3);
}

static void
measure_turns (void)
{
  Turn typing[ROUNDS * SAMPLES], saving[ROUNDS * SAMPLES], idle;
  GdkFrameClock *clock = gdk_surface_get_frame_clock (gtk_native_get_surface (GTK_NATIVE (window)));
  WbAppBench *bench;
  g_autoptr (GPtrArray) samples = NULL;

  turns_watch_frames (clock);
  app_wait_until (has_desk, NULL, "the notebook");
  bench = wb_desk_get_bench (wb_host_get_desk (WB_HOST (window)));
  flames_light_all (bench);
  wb_app_bench_acknowledge_found (bench);
  samples = flames_dup_twelve (bench);
  wb_clock_advance (wb_clock_get (), 60 * MINUTE_US);
  wb_app_bench_update (bench);
  g_assert_true (wb_window_go (window, "burn", wb_app_bench_sample_get_experiment (g_ptr_array_index (samples, 0))));
  app_wait_until (has_panel, NULL, "a panel");
  draw (30);
  turns_take_longest ();
  draw (60);
  idle = turns_take_longest ();
  tell_turns ("nothing typed, 60 frames", &idle, 1);
  for (guint i = 0; i < ROUNDS * SAMPLES; i++)
    {
      if (i > 0 && i % SAMPLES == 0)
        {
          wb_clock_advance (wb_clock_get (), 60 * MINUTE_US);
          wb_app_bench_update (bench);
          draw (10);
        }
      type_one (i / SAMPLES, &typing[i], &saving[i]);
    }
  tell_turns ("typing a reading", typing, ROUNDS * SAMPLES);
  tell_turns ("saving it, until the next sample's fields show", saving, ROUNDS * SAMPLES);
}

static gboolean
on_ready_cb (gpointer data)
{
  measure_turns ();
  g_application_quit (g_application_get_default ());
  return G_SOURCE_REMOVE;
}

static void
on_window_added_cb (GtkApplication *application,
                    GtkWindow      *added)
{
  window = WB_WINDOW (added);
  gtk_widget_add_tick_callback (GTK_WIDGET (window), on_tick_cb, NULL, NULL);
  g_idle_add (on_ready_cb, NULL);
}

int
flames_run_window (const char *program,
                    const char *path)
{
  g_autoptr (WbApplication) application = wb_application_new ();
  char *argv[] = { (char *) program, (char *) path, NULL };

  turns_watch ();
  g_signal_connect (application, "window-added", G_CALLBACK (on_window_added_cb), NULL);
  return g_application_run (G_APPLICATION (application), 2, argv);
}
