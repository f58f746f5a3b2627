/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-batch-view.h"

#include "wb-fact-list.h"
#include "wb-pour-words.h"

#include <glib/gi18n.h>
#include <math.h>

/* CSS node: batchview. */

struct _WbBatchView
{
  GtkWidget   parent_instance;

  /* children */
  GtkWidget  *box;
  WbFactList *masses;
  GtkWidget  *worked;
  GtkLabel   *sums;
};

G_DEFINE_FINAL_TYPE (WbBatchView, wb_batch_view, GTK_TYPE_WIDGET)

static void
add_mass (WbBatchView             *self,
          const char              *label,
          double                   g,
          gboolean                 us_units,
          const WbCraftBatchSheet *sheet)
{
  g_autofree char *mass = wb_craft_batch_dup_mass (sheet, g, us_units);

  wb_fact_list_add_whole (self->masses, label, mass);
}

/* "3.2 g, 107 drops"; where a drop's mass is not known the drops alone. */
static void
add_dye (WbBatchView             *self,
         const WbCraftBatchSheet *sheet)
{
  g_autofree char *mass = isnan (sheet->dye_g) ? NULL : wb_quantity_format (WB_UNIT_G, sheet->dye_g, 3);
  g_autofree char *number = isnan (sheet->dye_drops) ? NULL : wb_number_format (sheet->dye_drops, 0, NULL);
  g_autofree char *drops = number != NULL ? g_strdup_printf (_("%s drops"), number) : NULL;
  g_autofree char *text = mass != NULL && drops != NULL ? g_strdup_printf ("%s, %s", mass, drops) : NULL;

  if (mass != NULL || drops != NULL)
    wb_fact_list_add (self->masses, _("Dye"), text != NULL ? text : mass != NULL ? mass : drops);
}

static void
show_masses (WbBatchView          *self,
             const WbAppPourBatch *batch,
             gboolean              us_units)
{
  const WbCraftBatchSheet *sheet = batch->sheet;

  wb_fact_list_clear (self->masses);
  add_mass (self, _("Wax"), sheet->wax_g, us_units, sheet);
  if (sheet->oil_g > 0)
    {
      add_mass (self, _("Fragrance oil"), sheet->oil_g, us_units, sheet);
      for (guint i = 0; i < sheet->oil_parts->len; i++)
        {
          const WbCraftPartMass *oil = &g_array_index (sheet->oil_parts, WbCraftPartMass, i);
          g_autofree char *label = g_strdup_printf (_("of it %s"), oil->name);

          add_mass (self, label, oil->g, us_units, sheet);
        }
    }
  if (sheet->additive_g > 0)
    add_mass (self, _("Additive"), sheet->additive_g, us_units, sheet);
  if (sheet->total_g > sheet->wax_g)
    add_mass (self, _("Together"), sheet->total_g, us_units, sheet);
  add_dye (self, sheet);
}

static void
wb_batch_view_dispose (GObject *object)
{
  g_clear_pointer (&WB_BATCH_VIEW (object)->box, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_batch_view_parent_class)->dispose (object);
}

static void
wb_batch_view_class_init (WbBatchViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_batch_view_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "batchview");
}

static void
wb_batch_view_init (WbBatchView *self)
{
  GtkWidget *heading = g_object_new (GTK_TYPE_LABEL, "label", _("How it is worked out"), "xalign", 0.0, NULL);

  /* masses and their sums side by side: what is weighed out is in sight with the fields below it */
  self->box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 30);
  self->worked = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  self->masses = WB_FACT_LIST (wb_fact_list_new ());
  self->sums = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR, "selectable", TRUE,
                             "can-focus", FALSE, NULL);
  gtk_widget_add_css_class (heading, "dim-label");
  gtk_widget_add_css_class (GTK_WIDGET (self->sums), "numeric");
  gtk_accessible_update_relation (GTK_ACCESSIBLE (self->sums), GTK_ACCESSIBLE_RELATION_LABELLED_BY, heading, NULL, -1);
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->masses));
  gtk_widget_set_hexpand (self->worked, TRUE);
  gtk_widget_set_valign (GTK_WIDGET (self->masses), GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (self->worked), heading);
  gtk_box_append (GTK_BOX (self->worked), GTK_WIDGET (self->sums));
  gtk_box_append (GTK_BOX (self->box), self->worked);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

GtkWidget *
wb_batch_view_new (void)
{
  return g_object_new (WB_TYPE_BATCH_VIEW, NULL);
}

void
wb_batch_view_stack (WbBatchView *self,
                     GtkWidget   *between)
{
  g_return_if_fail (WB_IS_BATCH_VIEW (self));

  gtk_orientable_set_orientation (GTK_ORIENTABLE (self->box), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (self->box), 8);
  gtk_box_insert_child_after (GTK_BOX (self->box), between, GTK_WIDGET (self->masses));
}

void
wb_batch_view_show (WbBatchView          *self,
                    const WbAppPourBatch *batch,
                    gboolean              us_units)
{
  g_autoptr (GString) sums = g_string_new (NULL);

  g_return_if_fail (WB_IS_BATCH_VIEW (self));
  g_return_if_fail (batch != NULL);

  gtk_widget_set_visible (GTK_WIDGET (self->masses), batch->sheet != NULL);
  gtk_widget_set_visible (self->worked, batch->sheet != NULL);
  if (batch->sheet == NULL)
    return;
  show_masses (self, batch, us_units);
  g_string_append (sums, batch->sheet->basis);
  for (guint i = 0; i < batch->sheet->sums->len; i++)
    g_string_append_printf (sums, "\n%s", (const char *) batch->sheet->sums->pdata[i]);
  gtk_label_set_text (self->sums, sums->str);
}

const char *
wb_batch_view_get_sums (WbBatchView *self)
{
  g_return_val_if_fail (WB_IS_BATCH_VIEW (self), NULL);
  return gtk_label_get_text (self->sums);
}
