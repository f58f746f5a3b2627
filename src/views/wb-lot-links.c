/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-lot-links.h"

#include "wb-craft-lot-part.h"
#include "wb-host.h"
#include "wb-lot-dialog.h"

#include <glib/gi18n.h>

/* CSS node: lotlinks. */

struct _WbLotLinks
{
  GtkWidget  parent_instance;

  /* children */
  GtkWidget *label;
  GtkWidget *box;
};

G_DEFINE_FINAL_TYPE (WbLotLinks, wb_lot_links, GTK_TYPE_WIDGET)

#define MATERIAL_KEY "wb-lot-material"
#define CODE_KEY "wb-lot-code"

static void
on_link_clicked_cb (GtkWidget *button)
{
  WbHost *host = wb_host_find (button);
  WbDesk *desk = host != NULL ? wb_host_get_desk (host) : NULL;
  const gint64 *material = g_object_get_data (G_OBJECT (button), MATERIAL_KEY);

  if (desk != NULL)
    gtk_window_present (GTK_WINDOW (wb_lot_dialog_new (button, wb_desk_get_notebook (desk), *material, g_object_get_data (G_OBJECT (button), CODE_KEY))));
}

static gboolean
has_link (WbLotLinks *self,
          gint64      material,
          const char *code)
{
  for (GtkWidget *child = gtk_widget_get_first_child (self->box); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *link = gtk_flow_box_child_get_child (GTK_FLOW_BOX_CHILD (child));

      if (*(const gint64 *) g_object_get_data (G_OBJECT (link), MATERIAL_KEY) == material
          && g_str_equal (g_object_get_data (G_OBJECT (link), CODE_KEY), code))
        return TRUE;
    }
  return FALSE;
}

static void
add_link (WbLotLinks    *self,
          gconstpointer  material,
          const char    *code)
{
  gint64 id = ((const WbRecord *) material)->id;
  g_autofree char *title = wb_material_dup_title (material);
  g_autofree char *text = g_strdup_printf ("%s %s", title, code);
  g_autofree char *name = g_strdup_printf (_("Where lot %s of %s was used"), code, title);
  GtkWidget *button, *child;

  if (has_link (self, id, code))
    return;
  button = gtk_button_new_with_label (text);
  gtk_widget_set_tooltip_text (button, name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_object_set_data_full (G_OBJECT (button), MATERIAL_KEY, g_memdup2 (&id, sizeof id), g_free);
  g_object_set_data_full (G_OBJECT (button), CODE_KEY, g_strdup (code), g_free);
  g_signal_connect (button, "clicked", G_CALLBACK (on_link_clicked_cb), NULL);
  /* The box itself keeps all the width: drawn together, it would stand in one column, of a height that nobody was asked for. */
  gtk_widget_set_halign (button, GTK_ALIGN_START);
  gtk_flow_box_insert (GTK_FLOW_BOX (self->box), button, -1);
  child = gtk_widget_get_parent (button);
  /* the button alone takes the focus */
  gtk_widget_set_focusable (child, FALSE);
}

static void
wb_lot_links_dispose (GObject *object)
{
  WbLotLinks *self = WB_LOT_LINKS (object);

  g_clear_pointer (&self->label, gtk_widget_unparent);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_lot_links_parent_class)->dispose (object);
}

static void
wb_lot_links_class_init (WbLotLinksClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_lot_links_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "lotlinks");
}

static void
wb_lot_links_init (WbLotLinks *self)
{
  self->label = g_object_new (GTK_TYPE_LABEL, "label", _("Where these lots went"), "xalign", 0.0, NULL);
  gtk_widget_add_css_class (self->label, "dim-label");
  self->box = g_object_new (GTK_TYPE_FLOW_BOX, "selection-mode", GTK_SELECTION_NONE, "max-children-per-line", 6, "column-spacing", 4, NULL);
  gtk_orientable_set_orientation (GTK_ORIENTABLE (gtk_widget_get_layout_manager (GTK_WIDGET (self))), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (gtk_widget_get_layout_manager (GTK_WIDGET (self))), 4);
  gtk_widget_set_parent (self->label, GTK_WIDGET (self));
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

GtkWidget *
wb_lot_links_new (void)
{
  return g_object_new (WB_TYPE_LOT_LINKS, NULL);
}

void
wb_lot_links_show (WbLotLinks      *self,
                   const WbDataset *data,
                   const WbBatch   *batch)
{
  GtkWidget *child;

  g_return_if_fail (WB_IS_LOT_LINKS (self));
  g_return_if_fail (data != NULL && batch != NULL);

  while ((child = gtk_widget_get_first_child (self->box)) != NULL)
    gtk_flow_box_remove (GTK_FLOW_BOX (self->box), child);
  for (guint i = 0; i < data->samples->len; i++)
    {
      g_autoptr (GPtrArray) parts = NULL;

      if (wb_dataset_get_sample (data, i)->batch != batch->record.id)
        continue;
      parts = wb_craft_lot_parts_of_sample (data, i);
      for (guint k = 0; k < parts->len; k++)
        {
          const WbCraftLotPart *part = g_ptr_array_index (parts, k);
          g_auto (GStrv) codes = wb_craft_lot_split (part->lots);

          for (guint c = 0; codes[c] != NULL; c++)
            add_link (self, part->material, codes[c]);
        }
    }
  gtk_widget_set_visible (GTK_WIDGET (self), gtk_widget_get_first_child (self->box) != NULL);
}
