/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <gtk/gtk.h>

/*
 * The floor for bench-window: an empty GTK window of the program's size, from exec to its first painted frame, as a
 * whole process that is linked with GTK alone and then ends.
 */

static void
on_realize_cb (GtkWidget *window)
{
  GdkFrameClock *clock = gdk_surface_get_frame_clock (gtk_native_get_surface (GTK_NATIVE (window)));

  g_signal_connect_swapped (clock, "after-paint", G_CALLBACK (g_application_quit), g_application_get_default ());
}

static void
on_activate_cb (GtkApplication *application)
{
  GtkWidget *window = gtk_application_window_new (application);

  gtk_window_set_default_size (GTK_WINDOW (window), 1180, 780); /* as ui/window.ui */
  g_signal_connect_after (window, "realize", G_CALLBACK (on_realize_cb), NULL);
  gtk_window_present (GTK_WINDOW (window));
}

int
main (int    argc,
      char **argv)
{
  g_autoptr (GtkApplication) application = gtk_application_new ("org.wickbench.Floor", G_APPLICATION_DEFAULT_FLAGS);

  g_signal_connect (application, "activate", G_CALLBACK (on_activate_cb), NULL);
  return g_application_run (G_APPLICATION (application), argc, argv);
}
