/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-fact-list.h"

#include "wb-house.h"

#include <glib/gi18n.h>

/* CSS node: factlist. Accessible: each value is labelled by its label. */

struct _WbFactList
{
  GtkWidget  parent_instance;

  /* children */
  GtkWidget *grid;

  /* state */
  guint      n;
};

G_DEFINE_FINAL_TYPE (WbFactList, wb_fact_list, GTK_TYPE_WIDGET)

static void
wb_fact_list_dispose (GObject *object)
{
  g_clear_pointer (&WB_FACT_LIST (object)->grid, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_fact_list_parent_class)->dispose (object);
}

static void
wb_fact_list_class_init (WbFactListClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_fact_list_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "factlist");
}

static void
wb_fact_list_init (WbFactList *self)
{
  self->grid = gtk_grid_new ();
  gtk_grid_set_row_spacing (GTK_GRID (self->grid), 4);
  gtk_grid_set_column_spacing (GTK_GRID (self->grid), 14);
  gtk_widget_set_parent (self->grid, GTK_WIDGET (self));
}

GtkWidget *
wb_fact_list_new (void)
{
  return g_object_new (WB_TYPE_FACT_LIST, NULL);
}

void
wb_fact_list_clear (WbFactList *self)
{
  GtkWidget *child;

  g_return_if_fail (WB_IS_FACT_LIST (self));

  while ((child = gtk_widget_get_first_child (self->grid)) != NULL)
    gtk_grid_remove (GTK_GRID (self->grid), child);
  self->n = 0;
}

static GtkWidget *
label_new (const char *text,
           int         least,
           int         most)
{
  return g_object_new (GTK_TYPE_LABEL,
                       "label", text,
                       "xalign", 0.0,
                       "yalign", 0.0,
                       "wrap", TRUE,
                       "wrap-mode", PANGO_WRAP_WORD_CHAR,
                       "width-chars", least,
                       "max-width-chars", most,
                       NULL);
}

static GtkWidget *
add (WbFactList *self,
     const char *label,
     const char *value)
{
  GtkWidget *first, *second;

  first = label_new (label, 20, 26);
  second = label_new (value, -1, 60);
  gtk_widget_add_css_class (first, "dim-label");
  gtk_widget_add_css_class (second, "numeric");
  gtk_label_set_selectable (GTK_LABEL (second), TRUE);
  /* For the pointer only: a stop of the Tab key on each fact would part the page's controls from each other. */
  gtk_widget_set_can_focus (second, FALSE);
  gtk_accessible_update_relation (GTK_ACCESSIBLE (second), GTK_ACCESSIBLE_RELATION_LABELLED_BY, first, NULL, -1);
  gtk_grid_attach (GTK_GRID (self->grid), first, 0, (int) self->n, 1, 1);
  gtk_grid_attach (GTK_GRID (self->grid), second, 1, (int) self->n, 1, 1);
  self->n++;
  return second;
}

void
wb_fact_list_add (WbFactList *self,
                  const char *label,
                  const char *value)
{
  g_return_if_fail (WB_IS_FACT_LIST (self));
  g_return_if_fail (label != NULL && value != NULL);

  add (self, label, value);
}

void
wb_fact_list_add_whole (WbFactList *self,
                        const char *label,
                        const char *value)
{
  g_return_if_fail (WB_IS_FACT_LIST (self));
  g_return_if_fail (label != NULL && value != NULL);

  gtk_label_set_wrap (GTK_LABEL (add (self, label, value)), FALSE);
}

static char *
dup_real (const WbFieldSpec *spec,
          double             value,
          gboolean           us_units)
{
  if (spec->quantity == WB_QUANTITY_DURATION)
    return wb_quantity_format_duration (value);
  if (spec->quantity == WB_QUANTITY_PLAIN)
    return wb_number_format_trimmed (value, 3, NULL);
  return wb_quantity_format (wb_quantity_get_shown_unit (spec->quantity, us_units), value, -1);
}

char *
wb_fact_list_dup_value (gconstpointer      record,
                        const WbFieldSpec *spec,
                        gboolean           us_units)
{
  g_return_val_if_fail (record != NULL && spec != NULL, NULL);

  switch (spec->type)
    {
    case WB_FIELD_REAL:
      if (spec->words != NULL)
        return g_strdup (_(spec->words[(int) wb_record_get_real (record, spec)].label));
      return dup_real (spec, wb_record_get_real (record, spec), us_units);
    case WB_FIELD_INTEGER:
      return g_strdup_printf ("%" G_GINT64_FORMAT, wb_record_get_integer (record, spec));
    case WB_FIELD_ENUM:
      return g_strdup (_(spec->words[wb_record_get_integer (record, spec)].label));
    case WB_FIELD_TEXT:
      /* what the house wrote is stored in English */
      return g_strdup (wb_house_translate (wb_record_get_text (record, spec)));
    case WB_FIELD_INSTANT:
      return wb_instant_format_short (wb_record_get_instant (record, spec));
    case WB_FIELD_DAY:
      return wb_day_format_local ((WbDay) wb_record_get_integer (record, spec));
    case WB_FIELD_REFERENCE:
    case WB_FIELD_FLAG:
    case WB_FIELD_UUID:
    default:
      return NULL;
    }
}

void
wb_fact_list_add_field (WbFactList    *self,
                        gconstpointer  record,
                        const char    *name,
                        gboolean       us_units)
{
  const WbFieldSpec *spec;
  g_autofree char *value = NULL;

  g_return_if_fail (WB_IS_FACT_LIST (self));
  g_return_if_fail (record != NULL);

  spec = wb_record_type_find_field (((const WbRecord *) record)->type, name);
  g_return_if_fail (spec != NULL && spec->label != NULL);
  if (wb_record_is_known (record, spec))
    value = wb_fact_list_dup_value (record, spec, us_units);
  if (value != NULL)
    wb_fact_list_add (self, _(spec->label), value);
}

guint
wb_fact_list_get_n (WbFactList *self)
{
  g_return_val_if_fail (WB_IS_FACT_LIST (self), 0);
  return self->n;
}
