/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-ring-entry.h"

#include "wb-focus-walk.h"
#include "wb-quantity-entry.h"

#include <math.h>

#include <glib/gi18n.h>

/* CSS node: ringentry. A group for assistive technology; each side has its column's name. */

#define N_SIDES 4
#define WIDTH_CHARS 3

static const struct
{
  WbColumn    column;
  const char *clock;
} sides[N_SIDES] = {
  { WB_COLUMN_RING_12_MM, "12" }, { WB_COLUMN_RING_3_MM, "3" }, { WB_COLUMN_RING_6_MM, "6" }, { WB_COLUMN_RING_9_MM, "9" },
};

struct _WbRingEntry
{
  GtkWidget  parent_instance;

  /* children */
  GtkWidget *grid;
  GtkWidget *entry[N_SIDES]; /* WbQuantityEntry */
};

G_DEFINE_FINAL_TYPE (WbRingEntry, wb_ring_entry, GTK_TYPE_WIDGET)

enum { CHANGED, ACTIVATE, TOLD, N_SIGNALS };
static guint signals[N_SIGNALS];

static WbQuantityEntry *
get_entry (WbRingEntry *self,
           int          side)
{
  return WB_QUANTITY_ENTRY (self->entry[side]);
}

static void
on_entry_changed_cb (WbRingEntry *self)
{
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
on_entry_told_cb (WbRingEntry *self)
{
  g_signal_emit (self, signals[TOLD], 0);
}

static void
on_entry_activate_cb (WbRingEntry *self,
                      GtkWidget   *entry)
{
  for (int i = 0; i + 1 < N_SIDES; i++)
    if (entry == self->entry[i])
      {
        gtk_widget_grab_focus (self->entry[i + 1]);
        return;
      }
  g_signal_emit (self, signals[ACTIVATE], 0);
}

static gboolean
wb_ring_entry_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (WB_RING_ENTRY (widget)->entry[0]);
}

static void
wb_ring_entry_dispose (GObject *object)
{
  g_clear_pointer (&WB_RING_ENTRY (object)->grid, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_ring_entry_parent_class)->dispose (object);
}

static void
wb_ring_entry_class_init (WbRingEntryClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_ring_entry_dispose;
  widget_class->grab_focus = wb_ring_entry_grab_focus;
  widget_class->focus = wb_focus_walk;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_RING_ENTRY, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[ACTIVATE] = g_signal_new ("activate", WB_TYPE_RING_ENTRY, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[TOLD] = g_signal_new ("told", WB_TYPE_RING_ENTRY, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "ringentry");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
wb_ring_entry_init (WbRingEntry *self)
{
  GtkWidget *what = g_object_new (GTK_TYPE_LABEL, "label", _("Wax left at the wall, by the clock"), "xalign", 0.0, "wrap", TRUE, NULL);

  self->grid = g_object_new (GTK_TYPE_GRID, "row-spacing", 4, "column-spacing", 4, NULL);
  gtk_widget_add_css_class (what, "dim-label");
  gtk_grid_attach (GTK_GRID (self->grid), what, 0, 0, 4, 1);
  for (int i = 0; i < N_SIDES; i++)
    {
      GtkWidget *clock = g_object_new (GTK_TYPE_LABEL, "label", sides[i].clock, "xalign", 1.0, NULL);

      self->entry[i] = wb_quantity_entry_new (WB_QUANTITY_LENGTH, WB_UNIT_MM);
      wb_quantity_entry_set_width_chars (get_entry (self, i), WIDTH_CHARS);
      gtk_widget_add_css_class (clock, "dim-label");
      gtk_grid_attach (GTK_GRID (self->grid), clock, i % 2 * 2, 1 + i / 2, 1, 1);
      gtk_grid_attach (GTK_GRID (self->grid), self->entry[i], i % 2 * 2 + 1, 1 + i / 2, 1, 1);
      g_signal_connect_swapped (self->entry[i], "changed", G_CALLBACK (on_entry_changed_cb), self);
      g_signal_connect_swapped (self->entry[i], "activate", G_CALLBACK (on_entry_activate_cb), self);
      g_signal_connect_swapped (self->entry[i], "told", G_CALLBACK (on_entry_told_cb), self);
    }
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Ring left at the four sides"), -1);
  gtk_widget_set_parent (self->grid, GTK_WIDGET (self));
}

GtkWidget *
wb_ring_entry_new (WbUnit unit,
                   double widest_mm)
{
  WbRingEntry *self = g_object_new (WB_TYPE_RING_ENTRY, NULL);

  for (int i = 0; i < N_SIDES; i++)
    {
      wb_quantity_entry_set_quantity (get_entry (self, i), WB_QUANTITY_LENGTH, unit);
      wb_quantity_entry_set_range (get_entry (self, i), 0, widest_mm);
      wb_quantity_entry_set_label (get_entry (self, i), _(wb_column_get_spec (sides[i].column)->label));
    }
  return GTK_WIDGET (self);
}

void
wb_ring_entry_set_values (WbRingEntry  *self,
                          const double  values[WB_N_COLUMNS])
{
  g_return_if_fail (WB_IS_RING_ENTRY (self));
  for (int i = 0; i < N_SIDES; i++)
    wb_quantity_entry_set_value (get_entry (self, i), values[sides[i].column]);
}

void
wb_ring_entry_get_values (WbRingEntry *self,
                          double       values[WB_N_COLUMNS])
{
  g_return_if_fail (WB_IS_RING_ENTRY (self));
  for (int i = 0; i < N_SIDES; i++)
    values[sides[i].column] = wb_quantity_entry_get_value (get_entry (self, i));
}

void
wb_ring_entry_clear (WbRingEntry *self)
{
  g_return_if_fail (WB_IS_RING_ENTRY (self));
  for (int i = 0; i < N_SIDES; i++)
    wb_quantity_entry_set_text (get_entry (self, i), "");
}

gboolean
wb_ring_entry_is_blank (WbRingEntry *self)
{
  g_return_val_if_fail (WB_IS_RING_ENTRY (self), TRUE);
  for (int i = 0; i < N_SIDES; i++)
    {
      g_autofree char *text = g_strstrip (g_strdup (wb_quantity_entry_get_text (get_entry (self, i))));

      if (*text != '\0')
        return FALSE;
    }
  return TRUE;
}

gboolean
wb_ring_entry_check (WbRingEntry *self)
{
  int wrong = N_SIDES;

  g_return_val_if_fail (WB_IS_RING_ENTRY (self), FALSE);
  for (int i = N_SIDES - 1; i >= 0; i--)
    if (!wb_quantity_entry_check (get_entry (self, i)))
      wrong = i;
  if (wrong > 0 && wrong < N_SIDES)
    gtk_widget_grab_focus (self->entry[wrong]);
  return wrong == N_SIDES;
}

void
wb_ring_entry_set_told_elsewhere (WbRingEntry *self,
                                  gboolean     told_elsewhere)
{
  g_return_if_fail (WB_IS_RING_ENTRY (self));
  for (int i = 0; i < N_SIDES; i++)
    wb_quantity_entry_set_told_elsewhere (get_entry (self, i), told_elsewhere);
}

const char *
wb_ring_entry_get_problem (WbRingEntry *self)
{
  g_return_val_if_fail (WB_IS_RING_ENTRY (self), NULL);
  for (int i = 0; i < N_SIDES; i++)
    if (wb_quantity_entry_get_problem (get_entry (self, i)) != NULL)
      return wb_quantity_entry_get_problem (get_entry (self, i));
  return NULL;
}
