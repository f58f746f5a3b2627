/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-badge.h"

#include "wb-tooltip.h"

/*
 * A few words in a rounded box. CSS node: badge, with the classes note, good,
 * ask, stop. To assistive technology it is its label: the shape is not read.
 */

struct _WbBadge
{
  GtkWidget   parent_instance;

  /* children */
  GtkWidget  *shape;
  GtkWidget  *label;

  /* state */
  WbBadgeKind kind;
};

G_DEFINE_FINAL_TYPE (WbBadge, wb_badge, GTK_TYPE_WIDGET)

static const struct
{
  const char *style;
  const char *shape;
} kinds[] = {
  [WB_BADGE_PLAIN] = { "plain", "" },
  [WB_BADGE_NOTE] = { "note", "●" },
  [WB_BADGE_GOOD] = { "good", "✓" },
  [WB_BADGE_ASK] = { "ask", "▲" },
  [WB_BADGE_STOP] = { "stop", "■" },
};

static void
wb_badge_dispose (GObject *object)
{
  WbBadge *self = WB_BADGE (object);

  g_clear_pointer (&self->shape, gtk_widget_unparent);
  g_clear_pointer (&self->label, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_badge_parent_class)->dispose (object);
}

static void
wb_badge_class_init (WbBadgeClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_badge_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "badge");
}

static void
wb_badge_init (WbBadge *self)
{
  self->shape = g_object_new (GTK_TYPE_LABEL,
                              "accessible-role", GTK_ACCESSIBLE_ROLE_PRESENTATION,
                              "visible", FALSE,
                              NULL);
  gtk_widget_add_css_class (self->shape, "shape");
  self->label = g_object_new (GTK_TYPE_LABEL, "ellipsize", PANGO_ELLIPSIZE_END, NULL);
  gtk_widget_set_parent (self->shape, GTK_WIDGET (self));
  gtk_widget_set_parent (self->label, GTK_WIDGET (self));
  gtk_widget_set_valign (GTK_WIDGET (self), GTK_ALIGN_CENTER);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

GtkWidget *
wb_badge_new (WbBadgeKind  kind,
              const char  *text)
{
  WbBadge *self = g_object_new (WB_TYPE_BADGE, NULL);

  wb_badge_set (self, kind, text);
  return GTK_WIDGET (self);
}

void
wb_badge_set (WbBadge     *self,
              WbBadgeKind  kind,
              const char  *text)
{
  g_return_if_fail (WB_IS_BADGE (self));
  g_return_if_fail (kind < G_N_ELEMENTS (kinds));

  gtk_widget_remove_css_class (GTK_WIDGET (self), kinds[self->kind].style);
  gtk_widget_add_css_class (GTK_WIDGET (self), kinds[kind].style);
  self->kind = kind;
  gtk_label_set_text (GTK_LABEL (self->shape), kinds[kind].shape);
  gtk_widget_set_visible (self->shape, *kinds[kind].shape != '\0');
  gtk_label_set_text (GTK_LABEL (self->label), text != NULL ? text : "");
  wb_tooltip_set (self->label, text);
  gtk_widget_set_visible (GTK_WIDGET (self), text != NULL && *text != '\0');
}

void
wb_badge_set_lines (WbBadge *self,
                    int      lines)
{
  g_return_if_fail (WB_IS_BADGE (self));
  g_return_if_fail (lines >= 1);

  g_object_set (self->label,
                "lines", lines,
                "wrap", lines > 1,
                "justify", GTK_JUSTIFY_CENTER,
                NULL);
}

const char *
wb_badge_get_text (WbBadge *self)
{
  g_return_val_if_fail (WB_IS_BADGE (self), NULL);
  return gtk_label_get_text (GTK_LABEL (self->label));
}
