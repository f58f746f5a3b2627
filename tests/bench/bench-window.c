/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <gsl/gsl_errno.h>
#include <gtk/gtk.h>

#include "wb-application.h"
#include "wb-host.h"
#include "wb-window.h"

/*
 * From exec to the first usable frame of the program's own window, as a whole process that then ends:
 * experiments are listed, and what is due is shown.
 *
 *   bench-window NOTEBOOK
 */

static gboolean usable; /* with the frame that is being made */

static gboolean
is_usable (WbWindow *window)
{
  WbDesk *desk = wb_host_get_desk (WB_HOST (window));

  return desk != NULL && wb_app_experiments_get_loaded (wb_desk_get_experiments (desk))
         && wb_app_bench_get_loaded (wb_desk_get_bench (desk));
}

static void
on_painted_cb (void)
{
  if (usable)
    g_application_quit (g_application_get_default ());
}

/* Comes before a frame is laid out and painted, and keeps the frames coming until the notebook is there. */
static gboolean
on_tick_cb (GtkWidget     *window,
            GdkFrameClock *clock,
            gpointer       data)
{
  usable = is_usable (WB_WINDOW (window));
  return G_SOURCE_CONTINUE;
}

static void
on_realize_cb (GtkWidget *window)
{
  GdkFrameClock *clock = gdk_surface_get_frame_clock (gtk_native_get_surface (GTK_NATIVE (window)));

  g_signal_connect (clock, "after-paint", G_CALLBACK (on_painted_cb), NULL);
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

int
main (int    argc,
      char **argv)
{
  g_autoptr (WbApplication) application = NULL;

  g_assert_cmpint (argc, ==, 2);
  gsl_set_error_handler_off (); /* as in main.c */
  application = wb_application_new ();
  g_signal_connect (application, "window-added", G_CALLBACK (on_window_added_cb), NULL);
  return g_application_run (G_APPLICATION (application), argc, argv);
}
