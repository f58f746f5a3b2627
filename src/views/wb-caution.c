/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-caution.h"

#include <glib/gi18n.h>

static const char *const check[] = {
  N_("A level top that does not burn"),
  N_("Each sample in a heat-proof tray of its own"),
  N_("15 to 20 cm from sample to sample"),
  N_("Nothing above them"),
  N_("The smoke alarm works"),
  N_("A lid and an extinguisher within reach"),
  N_("Hair and sleeves tied"),
  N_("Children and pets out of the room"),
  NULL
};

static const struct
{
  const char *hazard;
  const char *what_to_do;
} hazards[] = {
  { N_("The whole surface or debris is alight"),
    N_("Smother it with a metal lid. No water, do not blow, do not move it. If it does not go out, leave and call the fire service.") },
  { N_("The vessel is cracked or leaks"),
    N_("Do not lift it. Put it out only if that needs no reaching over it. Keep away until the wax is set.") },
  { N_("High flame, smoke, a hot vessel"), N_("Snuff it with a long tool.") },
  { N_("Wax on the skin"), N_("Cool the burn under cool running water at once, then get medical advice.") },
  { N_("At any time"),
    N_("Water never on burning wax. Never carry a lit or liquid candle. Someone stays in the room with every flame.") },
  { N_("In the last inch"),
    N_("Read it every 15 minutes, wall and base, with someone in the room. At the stated end: snuff it.") },
  { N_("At the end"), N_("Nobody leaves until no wick glows.") },
};

const char *const *
wb_caution_get_check (void)
{
  return check;
}

static GtkWidget *
line_new (const char *text,
          const char *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0, "wrap", TRUE, "max-width-chars", 64, NULL);

  gtk_widget_add_css_class (label, style);
  return label;
}

GtkWidget *
wb_caution_window_new (GtkWindow *parent)
{
  GtkWidget *window = g_object_new (GTK_TYPE_WINDOW,
                                    "title", _("While it burns"),
                                    "transient-for", parent,
                                    "destroy-with-parent", TRUE,
                                    "modal", TRUE,
                                    "default-width", 560,
                                    NULL);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  GtkWidget *close = gtk_button_new_with_label (_("Close"));
  GtkEventController *keys = gtk_shortcut_controller_new ();

  gtk_widget_add_css_class (box, "sheet");
  for (guint i = 0; i < G_N_ELEMENTS (hazards); i++)
    {
      gtk_box_append (GTK_BOX (box), line_new (_(hazards[i].hazard), "hazardheading"));
      gtk_box_append (GTK_BOX (box), line_new (_(hazards[i].what_to_do), "body"));
    }
  gtk_box_append (GTK_BOX (box), line_new (_("Local codes, your suppliers' data sheets and the fire service's word take precedence."), "hint"));
  gtk_widget_set_halign (close, GTK_ALIGN_END);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (close), "window.close");
  gtk_box_append (GTK_BOX (box), close);
  gtk_window_set_child (GTK_WINDOW (window), box);
  gtk_window_set_default_widget (GTK_WINDOW (window), close);
  gtk_window_set_focus (GTK_WINDOW (window), close);
  gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys),
                                        gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_Escape, 0),
                                                          gtk_named_action_new ("window.close")));
  gtk_widget_add_controller (window, keys);
  return window;
}
