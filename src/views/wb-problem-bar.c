/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-problem-bar.h"

#include <glib/gi18n.h>

/*
 * GTK 4.8 cannot announce: the words are plain labels in an alert, which
 * assistive technology reads when it appears, and they stay until closed.
 */

struct _WbProblemBar
{
  GtkWidget  parent_instance;

  /* children */
  GtkWidget *bar;
  GtkWidget *heading;
  GtkWidget *detail;
};

G_DEFINE_FINAL_TYPE (WbProblemBar, wb_problem_bar, GTK_TYPE_WIDGET)

static void
wb_problem_bar_dispose (GObject *object)
{
  g_clear_pointer (&WB_PROBLEM_BAR (object)->bar, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_problem_bar_parent_class)->dispose (object);
}

static void
wb_problem_bar_class_init (WbProblemBarClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_problem_bar_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_ALERT);
}

static GtkWidget *
line_new (const char *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL,
                                   "xalign", 0.0,
                                   "wrap", TRUE,
                                   "wrap-mode", PANGO_WRAP_WORD_CHAR,
                                   "lines", 3,
                                   "ellipsize", PANGO_ELLIPSIZE_END,
                                   "selectable", TRUE,
                                   NULL);

  gtk_widget_add_css_class (label, style);
  return label;
}

static void
wb_problem_bar_init (WbProblemBar *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);

  self->bar = gtk_info_bar_new ();
  gtk_info_bar_set_message_type (GTK_INFO_BAR (self->bar), GTK_MESSAGE_ERROR);
  gtk_info_bar_set_show_close_button (GTK_INFO_BAR (self->bar), TRUE);
  gtk_info_bar_set_revealed (GTK_INFO_BAR (self->bar), FALSE);
  g_signal_connect_swapped (self->bar, "response", G_CALLBACK (wb_problem_bar_clear), self);
  self->heading = line_new ("heading");
  self->detail = line_new ("body");
  gtk_widget_set_hexpand (box, TRUE);
  gtk_box_append (GTK_BOX (box), self->heading);
  gtk_box_append (GTK_BOX (box), self->detail);
  gtk_info_bar_add_child (GTK_INFO_BAR (self->bar), box);
  gtk_widget_set_parent (self->bar, GTK_WIDGET (self));
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

void
wb_problem_bar_show (WbProblemBar *self,
                     const char   *heading,
                     const char   *detail)
{
  g_return_if_fail (WB_IS_PROBLEM_BAR (self));
  g_return_if_fail (heading != NULL);

  gtk_label_set_text (GTK_LABEL (self->heading), heading);
  gtk_label_set_text (GTK_LABEL (self->detail), detail != NULL ? detail : "");
  gtk_widget_set_tooltip_text (self->detail, detail);
  gtk_widget_set_visible (self->detail, detail != NULL && *detail != '\0');
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, heading, -1);
  gtk_widget_set_visible (GTK_WIDGET (self), TRUE);
  gtk_info_bar_set_revealed (GTK_INFO_BAR (self->bar), TRUE);
}

void
wb_problem_bar_clear (WbProblemBar *self)
{
  g_return_if_fail (WB_IS_PROBLEM_BAR (self));
  gtk_info_bar_set_revealed (GTK_INFO_BAR (self->bar), FALSE);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
  gtk_label_set_text (GTK_LABEL (self->heading), "");
}

const char *
wb_problem_bar_get_heading (WbProblemBar *self)
{
  g_return_val_if_fail (WB_IS_PROBLEM_BAR (self), NULL);
  return gtk_label_get_text (GTK_LABEL (self->heading));
}
