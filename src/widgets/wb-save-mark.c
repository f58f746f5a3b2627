/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-save-mark.h"

#include "wb-tooltip.h"

#include <glib/gi18n.h>

/* CSS node: savemark, with the classes saving, saved, failed. Its words are a status for assistive technology. */

struct _WbSaveMark
{
  GtkWidget    parent_instance;

  /* children */
  GtkWidget   *shape;
  GtkWidget   *label;

  /* state */
  WbSaveState  state;
};

G_DEFINE_FINAL_TYPE (WbSaveMark, wb_save_mark, GTK_TYPE_WIDGET)

static const struct
{
  const char *style;
  const char *shape;
  const char *text;
} states[] = {
  [WB_SAVE_IDLE] = { "idle", "", "" },
  [WB_SAVE_SAVING] = { "saving", "…", N_("Saving") },
  [WB_SAVE_SAVED] = { "saved", "✓", N_("Saved") },
  [WB_SAVE_FAILED] = { "failed", "■", N_("Not saved") },
};

static void
wb_save_mark_dispose (GObject *object)
{
  WbSaveMark *self = WB_SAVE_MARK (object);

  g_clear_pointer (&self->shape, gtk_widget_unparent);
  g_clear_pointer (&self->label, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_save_mark_parent_class)->dispose (object);
}

static void
wb_save_mark_class_init (WbSaveMarkClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_save_mark_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "savemark");
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_STATUS);
}

static void
wb_save_mark_init (WbSaveMark *self)
{
  self->shape = g_object_new (GTK_TYPE_LABEL, "accessible-role", GTK_ACCESSIBLE_ROLE_PRESENTATION, NULL);
  gtk_widget_add_css_class (self->shape, "shape");
  self->label = g_object_new (GTK_TYPE_LABEL, "ellipsize", PANGO_ELLIPSIZE_END, "xalign", 0.0, NULL);
  gtk_widget_set_parent (self->shape, GTK_WIDGET (self));
  gtk_widget_set_parent (self->label, GTK_WIDGET (self));
}

GtkWidget *
wb_save_mark_new (void)
{
  return g_object_new (WB_TYPE_SAVE_MARK, NULL);
}

void
wb_save_mark_set (WbSaveMark  *self,
                  WbSaveState  state,
                  const char  *text)
{
  g_return_if_fail (WB_IS_SAVE_MARK (self));
  g_return_if_fail (state < G_N_ELEMENTS (states));

  gtk_widget_remove_css_class (GTK_WIDGET (self), states[self->state].style);
  gtk_widget_add_css_class (GTK_WIDGET (self), states[state].style);
  self->state = state;
  if (text == NULL)
    text = *states[state].text != '\0' ? _(states[state].text) : "";
  gtk_label_set_text (GTK_LABEL (self->shape), states[state].shape);
  gtk_label_set_text (GTK_LABEL (self->label), text);
  wb_tooltip_set (self->label, text);
}

WbSaveState
wb_save_mark_get_state (WbSaveMark *self)
{
  g_return_val_if_fail (WB_IS_SAVE_MARK (self), WB_SAVE_IDLE);
  return self->state;
}

const char *
wb_save_mark_get_text (WbSaveMark *self)
{
  g_return_val_if_fail (WB_IS_SAVE_MARK (self), NULL);
  return gtk_label_get_text (GTK_LABEL (self->label));
}
