/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-shortcut.h"

#include <glib/gi18n.h>

typedef struct
{
  const char *group;  /* heading in the shortcuts window; lines of a group stand together */
  const char *action; /* detailed name; "page.*" is the visible page's */
  const char *accel;
  const char *title;
} WbShortcut;

static const WbShortcut shortcuts[] = {
  { N_("Notebook"), "app.new", "<Control>n", N_("New notebook") },
  { N_("Notebook"), "app.open", "<Control>o", N_("Open a notebook") },
  { N_("Notebook"), "win.undo", "<Control>z", N_("Undo") },
  { N_("Notebook"), "win.redo", "<Control><Shift>z", N_("Redo") },
  { N_("Notebook"), "win.new-experiment", "<Control><Shift>n", N_("Plan an experiment") },
  { N_("Notebook"), "win.close", "<Control>w", N_("Close the window") },
  { N_("Notebook"), "app.quit", "<Control>q", N_("Quit") },

  { N_("Pages"), "win.show::today", "<Alt>1", N_("Today") },
  { N_("Pages"), "win.show::materials", "<Alt>2", N_("Materials") },
  { N_("Pages"), "win.show::record", "<Alt>3", N_("Record") },
  { N_("Pages"), "win.show::plan", "<Alt>5", N_("Plan") },
  { N_("Pages"), "win.show::pour", "<Alt>6", N_("Pour") },
  { N_("Pages"), "win.show::burn", "<Alt>7", N_("Burn") },
  { N_("Pages"), "win.show::compare", "<Alt>8", N_("Compare") },
  { N_("Pages"), "win.show::report", "<Alt>9", N_("Report") },

  { N_("On a page"), "page.new", "<Control><Alt>n", N_("Add what the page lists") },
  { N_("On a page"), "page.save", "<Control>s", N_("Save what is being edited") },
  { N_("On a page"), "page.find", "<Control>f", N_("Search") },
  { N_("On a page"), "page.print", "<Control>p", N_("Print") },

  { N_("Program"), "app.preferences", "<Control>comma", N_("Preferences") },
  { N_("Program"), "app.shortcuts", "<Control>question", N_("Keyboard shortcuts") },
};

void
wb_shortcuts_install (GtkApplication *application)
{
  g_return_if_fail (GTK_IS_APPLICATION (application));

  for (guint i = 0; i < G_N_ELEMENTS (shortcuts); i++)
    {
      const char *accels[] = { shortcuts[i].accel, NULL };

      gtk_application_set_accels_for_action (application, shortcuts[i].action, accels);
    }
}

GtkWidget *
wb_shortcuts_window_new (GtkWindow *parent)
{
  g_autoptr (GString) xml = g_string_new ("<interface><object class='GtkShortcutsWindow' id='window'>"
                                          "<property name='modal'>1</property><child>"
                                          "<object class='GtkShortcutsSection'>"
                                          "<property name='section-name'>all</property>");
  g_autoptr (GtkBuilder) builder = NULL;
  const char *group = NULL;
  GtkWidget *window;

  /* In GTK 4.8 a shortcuts window takes its sections from a builder only. */
  for (guint i = 0; i < G_N_ELEMENTS (shortcuts); i++)
    {
      g_autofree char *part = NULL;

      if (g_strcmp0 (group, shortcuts[i].group) != 0)
        {
          part = g_markup_printf_escaped ("<child><object class='GtkShortcutsGroup'><property name='title'>%s</property>",
                                          _(shortcuts[i].group));
          if (group != NULL)
            g_string_append (xml, "</object></child>");
          g_string_append (xml, part);
          group = shortcuts[i].group;
          g_clear_pointer (&part, g_free);
        }
      part = g_markup_printf_escaped ("<child><object class='GtkShortcutsShortcut'>"
                                      "<property name='accelerator'>%s</property><property name='title'>%s</property>"
                                      "</object></child>",
                                      shortcuts[i].accel, _(shortcuts[i].title));
      g_string_append (xml, part);
    }
  g_string_append (xml, "</object></child></object></child></object></interface>");
  builder = gtk_builder_new_from_string (xml->str, -1);
  window = GTK_WIDGET (gtk_builder_get_object (builder, "window"));
  gtk_window_set_transient_for (GTK_WINDOW (window), parent);
  return window;
}
