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
  GtkLabel        *head;    /* of an experiment */
  GtkLabel        *waits;
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

  self->head = GTK_LABEL (line_new (NULL, NULL));
  self->waits = GTK_LABEL (line_new (NULL, "dim-label"));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->head));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->waits));
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (self), box);
  gtk_widget_add_css_class (GTK_WIDGET (self), "experiment");
  wb_sidebar_row_set_experiment (self, experiment);
  return GTK_WIDGET (self);
}

/* TRUE: it says something else than before. */
static gboolean
say (GtkLabel   *label,
     const char *text)
{
  if (g_str_equal (gtk_label_get_text (label), text))
    return FALSE;
  gtk_label_set_text (label, text);
  return TRUE;
}

void
wb_sidebar_row_set_experiment (WbSidebarRow    *self,
                               WbAppExperiment *experiment)
{
  gboolean finished = wb_app_experiment_get_state (experiment) == WB_CRAFT_STATE_FINISHED;
  const char *waits_for = wb_app_experiment_get_waits_for (experiment);
  g_autofree char *head = NULL;
  g_autofree char *name = NULL;
  gboolean said;

  g_return_if_fail (WB_IS_SIDEBAR_ROW (self));
  g_return_if_fail (self->head != NULL);

  g_set_object (&self->experiment, experiment);
  head = g_strdup_printf ("%s  %s", wb_app_experiment_get_code (experiment), wb_app_experiment_get_title (experiment));
  said = say (self->head, head);
  /* A finished one waits for nothing: no line says so. */
  said |= say (self->waits, finished ? "" : waits_for);
  gtk_widget_set_visible (GTK_WIDGET (self->waits), !finished);
  wb_tooltip_set (GTK_WIDGET (self), wb_app_experiment_get_title (experiment));
  if (!said)
    return;
  name = finished ? g_strdup (head) : g_strdup_printf ("%s, %s", head, waits_for);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
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
