/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-limit-list.h"

#include "wb-house.h"
#include "wb-quantity-entry.h"

#include <glib/gi18n.h>
#include <math.h>

/* CSS node: limitlist. Each control is named by its limit. */

typedef struct
{
  WbLimit         *limit;   /* borrowed from the list's limits */
  WbQuantityEntry *ask;     /* NULL: it has no such step */
  WbQuantityEntry *stop;    /* NULL: none is permitted at all, there is no figure to change */
  GtkCheckButton  *off;
  GtkEditable     *reason;
} Line;

struct _WbLimitList
{
  GtkWidget  parent_instance;

  /* children */
  GtkWidget *box;

  /* owned */
  GPtrArray *limits;
  GPtrArray *lines;   /* Line */
};

G_DEFINE_FINAL_TYPE (WbLimitList, wb_limit_list, GTK_TYPE_WIDGET)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
set_reason (WbLimit    *limit,
            const char *text)
{
  wb_record_set_text (limit, wb_record_type_find_field (&wb_limit_type, "off_reason"), text);
}

static void
show_off (const Line *line)
{
  gtk_widget_set_visible (GTK_WIDGET (line->reason), line->limit->off);
  if (line->ask != NULL)
    gtk_widget_set_sensitive (GTK_WIDGET (line->ask), !line->limit->off);
  if (line->stop != NULL)
    gtk_widget_set_sensitive (GTK_WIDGET (line->stop), !line->limit->off);
}

/* Any control of any line: all of them are read again, they are few. */
static void
on_changed_cb (WbLimitList *self)
{
  for (guint i = 0; i < self->lines->len; i++)
    {
      const Line *line = self->lines->pdata[i];

      if (line->ask != NULL && wb_quantity_entry_get_touched (line->ask))
        line->limit->ask_at = wb_quantity_entry_get_value (line->ask);
      if (line->stop != NULL && wb_quantity_entry_get_touched (line->stop))
        line->limit->stop_at = wb_quantity_entry_get_value (line->stop);
      line->limit->off = gtk_check_button_get_active (line->off);
      set_reason (line->limit, line->limit->off ? gtk_editable_get_text (line->reason) : NULL);
      show_off (line);
    }
  g_signal_emit (self, signals[CHANGED], 0);
}

static WbQuantityEntry *
add_entry (WbLimitList *self,
           GtkWidget   *row,
           const char  *label,
           WbUnit       unit,
           double       value,
           const char  *name)
{
  GtkWidget *entry = wb_quantity_entry_new (wb_unit_get_quantity (unit), unit);
  g_autofree char *whole = g_strdup_printf ("%s, %s", name, label);

  wb_quantity_entry_set_range (WB_QUANTITY_ENTRY (entry), 0, 86400);
  wb_quantity_entry_set_required (WB_QUANTITY_ENTRY (entry), TRUE);
  wb_quantity_entry_set_width_chars (WB_QUANTITY_ENTRY (entry), 5);
  wb_quantity_entry_set_label (WB_QUANTITY_ENTRY (entry), whole);
  wb_quantity_entry_set_value (WB_QUANTITY_ENTRY (entry), value);
  gtk_box_append (GTK_BOX (row), gtk_label_new (label));
  gtk_box_append (GTK_BOX (row), entry);
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (on_changed_cb), self);
  return WB_QUANTITY_ENTRY (entry);
}

static GtkWidget *
label_new (const char *text,
           const char *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR, NULL);

  gtk_widget_add_css_class (label, style);
  return label;
}

static void
add_line (WbLimitList *self,
          WbLimit     *limit,
          gboolean     us_units)
{
  const char *name = _(wb_limit_kind_get_label (limit->kind));
  WbUnit unit = wb_quantity_get_shown_unit (wb_unit_get_quantity (wb_limit_kind_get_unit (limit->kind)), us_units);
  g_autofree char *off = g_strdup_printf (_("%s, switched off"), name);
  g_autofree char *why = g_strdup_printf (_("%s, why it is off"), name);
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  Line *line = g_new0 (Line, 1);

  line->limit = limit;
  gtk_box_append (GTK_BOX (self->box), label_new (name, "strong"));
  gtk_box_append (GTK_BOX (self->box), row);
  if (!isnan (limit->ask_at))
    line->ask = add_entry (self, row, _("ask from"), unit, limit->ask_at, name);
  if (limit->stop_at > 0)
    line->stop = add_entry (self, row, _("stop above"), unit, limit->stop_at, name);
  else
    gtk_box_append (GTK_BOX (row), gtk_label_new (_("none is permitted")));
  line->off = GTK_CHECK_BUTTON (gtk_check_button_new_with_label (_("off")));
  gtk_check_button_set_active (line->off, limit->off);
  gtk_accessible_update_property (GTK_ACCESSIBLE (line->off), GTK_ACCESSIBLE_PROPERTY_LABEL, off, -1);
  gtk_box_append (GTK_BOX (row), GTK_WIDGET (line->off));
  line->reason = GTK_EDITABLE (gtk_entry_new ());
  gtk_entry_set_placeholder_text (GTK_ENTRY (line->reason), _("Why it is off: printed in every report"));
  gtk_entry_set_max_length (GTK_ENTRY (line->reason), 1000);
  gtk_editable_set_text (line->reason, limit->off_reason != NULL ? limit->off_reason : "");
  gtk_accessible_update_property (GTK_ACCESSIBLE (line->reason), GTK_ACCESSIBLE_PROPERTY_LABEL, why, -1);
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (line->reason));
  if (limit->source != NULL)
    gtk_box_append (GTK_BOX (self->box), label_new (wb_house_translate (limit->source), "hint"));
  show_off (line);
  g_signal_connect_swapped (line->off, "toggled", G_CALLBACK (on_changed_cb), self);
  g_signal_connect_swapped (line->reason, "changed", G_CALLBACK (on_changed_cb), self);
  g_ptr_array_add (self->lines, line);
}

static void
clear (WbLimitList *self)
{
  GtkWidget *child;

  g_ptr_array_set_size (self->lines, 0);
  while ((child = gtk_widget_get_first_child (self->box)) != NULL)
    gtk_box_remove (GTK_BOX (self->box), child);
}

static void
wb_limit_list_dispose (GObject *object)
{
  WbLimitList *self = WB_LIMIT_LIST (object);

  g_ptr_array_set_size (self->lines, 0);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_pointer (&self->limits, g_ptr_array_unref);
  G_OBJECT_CLASS (wb_limit_list_parent_class)->dispose (object);
}

static void
wb_limit_list_finalize (GObject *object)
{
  g_ptr_array_unref (WB_LIMIT_LIST (object)->lines);
  G_OBJECT_CLASS (wb_limit_list_parent_class)->finalize (object);
}

static void
wb_limit_list_class_init (WbLimitListClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_limit_list_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_limit_list_finalize;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_LIMIT_LIST, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "limitlist");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
wb_limit_list_init (WbLimitList *self)
{
  self->lines = g_ptr_array_new_with_free_func (g_free);
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Limits"), -1);
}

void
wb_limit_list_set_limits (WbLimitList *self,
                          GPtrArray   *limits,
                          gboolean     us_units)
{
  g_return_if_fail (WB_IS_LIMIT_LIST (self));

  clear (self);
  g_clear_pointer (&self->limits, g_ptr_array_unref);
  if (limits == NULL)
    return;
  self->limits = g_ptr_array_ref (limits);
  for (guint i = 0; i < limits->len; i++)
    add_line (self, limits->pdata[i], us_units);
}

gboolean
wb_limit_list_check (WbLimitList *self)
{
  WbQuantityEntry *first = NULL;

  g_return_val_if_fail (WB_IS_LIMIT_LIST (self), FALSE);

  for (guint i = 0; i < self->lines->len; i++)
    {
      const Line *line = self->lines->pdata[i];
      WbQuantityEntry *entries[] = { line->ask, line->stop };

      for (guint k = 0; k < G_N_ELEMENTS (entries); k++)
        if (entries[k] != NULL && !line->limit->off && !wb_quantity_entry_check (entries[k]) && first == NULL)
          first = entries[k];
    }
  if (first != NULL)
    gtk_widget_grab_focus (GTK_WIDGET (first));
  return first == NULL;
}
