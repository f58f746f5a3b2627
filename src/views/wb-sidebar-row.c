/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-sidebar-row.h"

#include "wb-tooltip.h"

/* GTK 4.8 labels no list item: the accessible label is set on the row itself, from the words that it shows. */

/* A title as long as people write them is read whole; one that would fill the list is cut. */
#define LINES_MAX 2

struct _WbSidebarRow
{
  GtkListBoxRow    parent_instance;

  /* owned */
  WbAppExperiment *experiment;

  /* borrowed */
  const char      *place;
};

G_DEFINE_FINAL_TYPE (WbSidebarRow, wb_sidebar_row, GTK_TYPE_LIST_BOX_ROW)

static void
wb_sidebar_row_dispose (GObject *object)
{
  g_clear_object (&WB_SIDEBAR_ROW (object)->experiment);
  G_OBJECT_CLASS (wb_sidebar_row_parent_class)->dispose (object);
}

static void
wb_sidebar_row_class_init (WbSidebarRowClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_sidebar_row_dispose;
}

static void
wb_sidebar_row_init (WbSidebarRow *self)
{
}

static GtkWidget *
line_new (const char *text,
          const char *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL,
                                   "label", text,
                                   "xalign", 0.0,
                                   "wrap", TRUE,
                                   "wrap-mode", PANGO_WRAP_WORD_CHAR,
                                   "lines", LINES_MAX,
                                   "ellipsize", PANGO_ELLIPSIZE_END,
                                   NULL);

  if (style != NULL)
    gtk_widget_add_css_class (label, style);
  return label;
}

GtkWidget *
wb_sidebar_row_new_place (const char *place,
                          const char *title)
{
  WbSidebarRow *self = g_object_new (WB_TYPE_SIDEBAR_ROW, NULL);

  self->place = place;
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (self), line_new (title, NULL));
  gtk_widget_add_css_class (GTK_WIDGET (self), "place");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, title, -1);
  return GTK_WIDGET (self);
}

GtkWidget *
wb_sidebar_row_new_experiment (WbAppExperiment *experiment)
{
  WbSidebarRow *self = g_object_new (WB_TYPE_SIDEBAR_ROW, NULL);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  g_autofree char *head = NULL;
  g_autofree char *name = NULL;

  self->experiment = g_object_ref (experiment);
  head = g_strdup_printf ("%s  %s", wb_app_experiment_get_code (experiment), wb_app_experiment_get_title (experiment));
  name = wb_app_experiment_get_state (experiment) == WB_CRAFT_STATE_FINISHED
           ? g_strdup (head) : g_strdup_printf ("%s, %s", head, wb_app_experiment_get_waits_for (experiment));
  gtk_box_append (GTK_BOX (box), line_new (head, NULL));
  /* A finished one waits for nothing: no line says so. */
  if (wb_app_experiment_get_state (experiment) != WB_CRAFT_STATE_FINISHED)
    gtk_box_append (GTK_BOX (box), line_new (wb_app_experiment_get_waits_for (experiment), "dim-label"));
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (self), box);
  wb_tooltip_set (GTK_WIDGET (self), wb_app_experiment_get_title (experiment));
  gtk_widget_add_css_class (GTK_WIDGET (self), "experiment");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  return GTK_WIDGET (self);
}

const char *
wb_sidebar_row_get_place (WbSidebarRow *self)
{
  g_return_val_if_fail (WB_IS_SIDEBAR_ROW (self), NULL);
  return self->place;
}

WbAppExperiment *
wb_sidebar_row_get_experiment (WbSidebarRow *self)
{
  g_return_val_if_fail (WB_IS_SIDEBAR_ROW (self), NULL);
  return self->experiment;
}
