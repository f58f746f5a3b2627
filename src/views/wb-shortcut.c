/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-shortcut.h"

#include <glib/gi18n.h>

typedef struct
{
  const char *group;  /* heading in the shortcuts window; lines of a group stand together */
  const char *action; /* detailed name; "page.*" is the visible page's; NULL: the field itself takes the key */
  const char *accel;
  const char *title;
} WbShortcut;

/* GTK's own shortcuts window takes its lines from a builder only, and in 4.8 warns as soon as they fill two pages. */
static const WbShortcut shortcuts[] = {
  { N_("Notebook"), "app.new", "<Control>n", N_("New notebook") },
  { N_("Notebook"), "app.open", "<Control>o", N_("Open a notebook") },
  { N_("Notebook"), "win.undo", "<Control>z", N_("Undo") },
  { N_("Notebook"), "win.redo", "<Control><Shift>z", N_("Redo") },
  { N_("Notebook"), "win.new-experiment", "<Control><Shift>n", N_("Plan an experiment") },
  { N_("Notebook"), "win.import", "<Control>i", N_("Import a burn log") },
  { N_("Notebook"), "win.export", "<Control>e", N_("Export all") },
  { N_("Notebook"), "win.log-sheet", "<Control><Shift>l", N_("Log sheet of an evening") },
  { N_("Notebook"), "win.bench-plan", "<Control><Shift>b", N_("Plan of the bench on paper") },
  { N_("Notebook"), "win.evening", "<Control><Shift>e", N_("Type in an evening from paper") },
  { N_("Notebook"), "win.rate-blind", "<Control><Shift>r", N_("Rate the throw blind") },
  { N_("Notebook"), "win.close", "<Control>w", N_("Close the window") },
  { N_("Notebook"), "app.quit", "<Control>q", N_("Quit") },

  { N_("Pages"), "win.show::today", "<Alt>1", N_("Today") },
  { N_("Pages"), "win.show::materials", "<Alt>2", N_("Materials") },
  { N_("Pages"), "win.show::record", "<Alt>3", N_("Record") },
  { N_("Pages"), "win.show::ladder", "<Alt>4", N_("Wick ladder") },
  { N_("Pages"), "win.show::plan", "<Alt>5", N_("Plan") },
  { N_("Pages"), "win.show::pour", "<Alt>6", N_("Pour") },
  { N_("Pages"), "win.show::burn", "<Alt>7", N_("Burn") },
  { N_("Pages"), "win.show::compare", "<Alt>8", N_("Compare") },
  { N_("Pages"), "win.show::report", "<Alt>9", N_("Report") },

  { N_("On a page"), "page.new", "<Control><Alt>n", N_("Add what the page lists") },
  { N_("On a page"), "page.save", "<Control>s", N_("Save what is being edited") },
  { N_("On a page"), "page.find", "<Control>f", N_("Search") },
  { N_("On a page"), "page.measure", "<Control><Alt>m", N_("Measure the vessel") },
  { N_("On a page"), "page.sizes", "<Control><Alt>s", N_("Add several sizes of a wick's series") },
  { N_("On a page"), "page.add-paper", "<Control><Alt>a", N_("Keep a document with the material") },
  { N_("On a page"), "page.print", "<Control>p", N_("Print") },

  { N_("In a comparison"), "page.look::answer", "<Control>1", N_("The answer, and why") },
  { N_("In a comparison"), "page.look::beside", "<Control>2", N_("Side by side") },
  { N_("In a comparison"), "page.look::numbers", "<Control>3", N_("The numbers") },
  { N_("In a comparison"), "page.find", "<Control>f", N_("Choose what lies side by side") },
  { N_("In a comparison"), NULL, "<Alt>Up", N_("Put the chosen line of what lies side by side one up") },
  { N_("In a comparison"), NULL, "<Alt>Down", N_("Put it one down") },
  { N_("In a comparison"), NULL, "Delete", N_("Take it away") },
  { N_("In a comparison"), "page.copy-chart::picture", "<Control><Shift>c", N_("Copy the chart as a picture") },
  { N_("In a comparison"), "page.copy-chart::csv", "<Control><Alt>c", N_("Copy its figures as CSV") },
  { N_("In a comparison"), "page.save-chart", "<Control><Shift>s", N_("Save the chart as a picture or PDF") },

  { N_("On the wick ladder"), "page.test", "<Control>Return", N_("Plan a test of these wicks") },
  { N_("On the wick ladder"), "page.save-chart", "<Control><Shift>s", N_("Save the drawing as a picture or PDF") },

  { N_("In a chart"), NULL, "Right", N_("Go to the next value; Left goes back, Down and Up to other lines") },
  { N_("In a chart"), NULL, "Return", N_("Open the sample that the value is of, or the samples of its combination") },
  { N_("In a chart"), NULL, "t", N_("The figures as a table, and back") },
  { N_("In a chart"), NULL, "<Control>c", N_("Copy the figures") },

  { N_("In a wax's method"), NULL, "<Alt>Up", N_("Put the step one earlier") },
  { N_("In a wax's method"), NULL, "<Alt>Down", N_("Put the step one later") },

  { N_("In a bench plan"), NULL, "<Alt>Up", N_("Put the chosen sample into the cohort above") },
  { N_("In a bench plan"), NULL, "<Alt>Down", N_("Put it into the cohort below; below the last, into a new one") },

  { N_("At the bench"), "page.light", "<Control>l", N_("Light the chosen sample") },
  { N_("At the bench"), "page.snuff", "<Control>d", N_("It is snuffed now") },
  { N_("At the bench"), "page.light-row", "<Control><Alt>l", N_("Light a row, one after another") },
  { N_("At the bench"), "page.move", "<Control><Alt>p", N_("Change the place of what is alight") },
  { N_("At the bench"), "page.snuff-row", "<Control><Alt>d", N_("Snuff a row, one after another") },
  { N_("At the bench"), "page.row-next", "<Control><Alt>g", N_("Go to the next of the row") },
  { N_("At the bench"), "page.stop-row", "<Control><Alt>x", N_("Stop the row") },
  { N_("At the bench"), "page.find", "<Control>f", N_("Go to a sample by its code or place") },
  { N_("At the bench"), "page.beside::left", "<Alt>Left", N_("Go to the sample on its left") },
  { N_("At the bench"), "page.beside::right", "<Alt>Right", N_("Go to the sample on its right") },
  { N_("At the bench"), "page.beside::up", "<Alt>Up", N_("Go to the sample behind it") },
  { N_("At the bench"), "page.beside::down", "<Alt>Down", N_("Go to the sample before it") },
  { N_("At the bench"), "win.next-due", "<Control>g", N_("Go to the reading that is due first, from any page") },
  { N_("At the bench"), "page.save-calmly", "<Control>Return", N_("Save the reading, while no hazard asks for an answer") },
  { N_("At the bench"), "page.event", "<Control>h", N_("Say what happened") },
  { N_("At the bench"), "page.note", "<Control>m", N_("Note") },
  { N_("At the bench"), "page.time", "<Control>t", N_("Set the time of the reading back") },
  { N_("At the bench"), "page.readings", "<Control>r", N_("What was read of the chosen sample, to amend it") },
  { N_("At the bench"), "page.inspect", "<Control>u", N_("Look at the chosen sample, unlit") },
  { N_("At the bench"), "page.photos", "<Control><Shift>p", N_("Photos of the chosen sample") },
  { N_("At the bench"), "page.add-photos", "<Control><Shift>a", N_("Add photos from files") },
  { N_("At the bench"), "page.paste-photo", "<Control><Shift>v", N_("Paste a photo") },
  { N_("At the bench"), "page.loggers", "<Control><Shift>t", N_("Temperature loggers beside the chosen sample") },
  { N_("At the bench"), "page.seen-to", "<Control><Alt>h", N_("I have seen to the hazard that is told") },
  { N_("At the bench"), "page.cautions", "F1", N_("What to do, by hazard") },

  { N_("Fields of a reading"), "page.also::pool_mm", "<Alt>p", N_("Pool") },
  { N_("Fields of a reading"), "page.also::depth_mm", "<Alt>d", N_("Depth of the pool") },
  { N_("Fields of a reading"), "page.also::flame_max_mm", "<Alt>h", N_("Highest flame since the last reading") },
  { N_("Fields of a reading"), "page.also::flame_mm", "<Alt>f", N_("Flame height") },
  { N_("Fields of a reading"), "page.also::flame_state", "<Alt>t", N_("Flame: steady, dancing, sputtering, starving") },
  { N_("Fields of a reading"), "page.also::smoke", "<Alt>k", N_("Smoke") },
  { N_("Fields of a reading"), "page.also::soot", "<Alt>s", N_("Soot on the vessel") },
  { N_("Fields of a reading"), "page.also::mushroom", "<Alt>m", N_("Mushroom") },
  { N_("Fields of a reading"), "page.also::vessel_c", "<Alt>v", N_("Hottest outside wall") },
  { N_("Fields of a reading"), "page.also::base_c", "<Alt>b", N_("Outside base") },
  { N_("Fields of a reading"), "page.also::room_c", "<Alt>r", N_("Room") },
  { N_("Fields of a reading"), "page.also::mass_g", "<Alt>w", N_("Mass, vessel included") },
  { N_("Fields of a reading"), "page.also::hang_up_mm", "<Alt>u", N_("Hang-up") },

  { N_("In a field of a reading"), NULL, "Return", N_("On to the next field; in the last one save, or light") },
  { N_("In a field of a reading"), NULL, "0...5", N_("Rate by the digit, and go on") },
  { N_("In a field of a reading"), NULL, "equal", N_("As last time") },
  { N_("In a field of a reading"), NULL, "f", N_("Pool: full, at the wall") },
  { N_("In a field of a reading"), NULL, "x", N_("Pool: a second diameter") },
  { N_("In a field of a reading"), NULL, "r", N_("Pool: a ring at four sides") },
  { N_("In a field of a reading"), NULL, "1...5", N_("In the empty note: note again what was noted lately") },

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

      if (shortcuts[i].action == NULL)
        continue;
      gtk_application_set_accels_for_action (application, shortcuts[i].action, accels);
    }
}

char *
wb_shortcut_dup_label (const char *action)
{
  for (guint i = 0; i < G_N_ELEMENTS (shortcuts); i++)
    {
      GdkModifierType modifiers;
      guint key;

      if (g_strcmp0 (shortcuts[i].action, action) == 0 && gtk_accelerator_parse (shortcuts[i].accel, &key, &modifiers))
        return gtk_accelerator_get_label (key, modifiers);
    }
  return NULL;
}

static GtkWidget *
heading_new (const char *text)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0, NULL);

  gtk_widget_add_css_class (label, "section");
  return label;
}

static GtkWidget *
list_new (void)
{
  GtkWidget *grid = g_object_new (GTK_TYPE_GRID, "row-spacing", 6, "column-spacing", 18, NULL);
  const char *group = NULL;
  int row = 0;

  gtk_widget_add_css_class (grid, "sheet");
  for (guint i = 0; i < G_N_ELEMENTS (shortcuts); i++)
    {
      if (g_strcmp0 (group, shortcuts[i].group) != 0)
        gtk_grid_attach (GTK_GRID (grid), heading_new (_(shortcuts[i].group)), 0, row++, 2, 1);
      group = shortcuts[i].group;
      gtk_grid_attach (GTK_GRID (grid), gtk_shortcut_label_new (shortcuts[i].accel), 0, row, 1, 1);
      gtk_grid_attach (GTK_GRID (grid), g_object_new (GTK_TYPE_LABEL, "label", _(shortcuts[i].title), "xalign", 0.0, "wrap", TRUE, NULL),
                       1, row++, 1, 1);
    }
  return grid;
}

GtkWidget *
wb_shortcuts_window_new (GtkWindow *parent)
{
  GtkWidget *window = g_object_new (GTK_TYPE_WINDOW,
                                    "title", _("Keyboard shortcuts"),
                                    "transient-for", parent,
                                    "modal", TRUE,
                                    "destroy-with-parent", TRUE,
                                    "default-width", 460,
                                    "default-height", 600,
                                    NULL);
  GtkWidget *scrolled = gtk_scrolled_window_new ();
  GtkEventController *keys = gtk_shortcut_controller_new ();

  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), list_new ());
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_window_set_child (GTK_WINDOW (window), scrolled);
  gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys),
                                        gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_Escape, 0),
                                                          gtk_named_action_new ("window.close")));
  gtk_widget_add_controller (window, keys);
  return window;
}
