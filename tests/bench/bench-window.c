/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <gsl/gsl_errno.h>
#include <gtk/gtk.h>

#include "wb-application.h"
#include "wb-window.h"

/*
 * From exec to the first usable frame, as a whole process that then ends.
 *
 *   bench-window bare          a bare GTK window: its first frame is painted
 *   bench-window NOTEBOOK      the program's own window: experiments and bench are loaded and painted
 */

static gboolean
is_usable (GtkWidget *window)
{
  WbDesk *desk;

  if (!WB_IS_WINDOW (window))
    return TRUE;
  desk = wb_window_get_desk (WB_WINDOW (window));
  return desk != NULL && wb_app_experiments_get_loaded (wb_desk_get_experiments (desk))
         && wb_app_bench_get_loaded (wb_desk_get_bench (desk));
}

/* The first frame that is begun once all is loaded shows it. */
static void
on_painted_cb (GdkFrameClock *clock,
               GtkWidget     *window)
{
  static gboolean loaded;

  if (loaded || !WB_IS_WINDOW (window))
    g_application_quit (g_application_get_default ());
  else if (is_usable (window))
    {
      loaded = TRUE;
      gtk_widget_queue_draw (window);
    }
}

static gboolean
on_tick_cb (GtkWidget     *window,
            GdkFrameClock *clock,
            gpointer       data)
{
  return G_SOURCE_CONTINUE; /* keeps the clock going until the notebook is there */
}

static void
on_realize_cb (GtkWidget *window)
{
  GdkFrameClock *clock = gdk_surface_get_frame_clock (gtk_native_get_surface (GTK_NATIVE (window)));

  g_signal_connect (clock, "after-paint", G_CALLBACK (on_painted_cb), window);
  gtk_widget_add_tick_callback (window, on_tick_cb, NULL, NULL);
}

static void
on_window_added_cb (GtkApplication *application,
                    GtkWindow      *window)
{
  if (gtk_widget_get_realized (GTK_WIDGET (window)))
    on_realize_cb (GTK_WIDGET (window));
  else
    g_signal_connect_after (window, "realize", G_CALLBACK (on_realize_cb), NULL);
}

static void
on_bare_activate_cb (GtkApplication *application)
{
  GtkWidget *window = gtk_application_window_new (application);

  gtk_window_set_default_size (GTK_WINDOW (window), 1180, 780); /* as the program's own */
  gtk_window_present (GTK_WINDOW (window));
}

int
main (int    argc,
      char **argv)
{
  g_autoptr (GtkApplication) application = NULL;

  g_assert_cmpint (argc, ==, 2);
  gsl_set_error_handler_off ();
  if (g_str_equal (argv[1], "bare"))
    {
      application = gtk_application_new ("org.wickbench.Floor", G_APPLICATION_DEFAULT_FLAGS);
      g_signal_connect (application, "activate", G_CALLBACK (on_bare_activate_cb), NULL);
      argc = 1;
    }
  else
    application = GTK_APPLICATION (wb_application_new ());
  g_signal_connect (application, "window-added", G_CALLBACK (on_window_added_cb), NULL);
  return g_application_run (G_APPLICATION (application), argc, argv);
}
