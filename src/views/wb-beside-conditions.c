/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-beside-conditions.h"

#include "wb-beside-order-private.h"
#include "wb-craft-beside-conditions.h"

/* CSS node: besideconditions. */

struct _WbBesideConditions
{
  GtkWidget     parent_instance;

  /* children */
  GtkLabel     *label;

  /* owned */
  GCancellable *cancellable; /* NULL: nothing is on its way */
};

G_DEFINE_FINAL_TYPE (WbBesideConditions, wb_beside_conditions, GTK_TYPE_WIDGET)

static void
work_out (GTask        *task,
          gpointer      source,
          gpointer      data,
          GCancellable *cancellable)
{
  const WbBesideOrder *order = data;
  g_autoptr (GPtrArray) conditions = wb_craft_beside_list_conditions (order->picks, order->n);

  g_task_return_pointer (task, wb_craft_beside_dup_conditions (conditions, order->n), g_free);
}

static void
say (WbBesideConditions *self,
     const char         *text)
{
  gtk_label_set_text (self->label, text);
  gtk_widget_set_visible (GTK_WIDGET (self), *text != '\0');
}

static void
on_worked_out_cb (GObject      *source,
                  GAsyncResult *result,
                  gpointer      user)
{
  WbBesideConditions *self = WB_BESIDE_CONDITIONS (source);
  g_autofree char *text = g_task_propagate_pointer (G_TASK (result), NULL);

  /* Others were asked for since. */
  if (self->label == NULL || self->cancellable != g_task_get_cancellable (G_TASK (result)))
    return;
  g_clear_object (&self->cancellable);
  if (text != NULL)
    say (self, text);
}

static void
stop (WbBesideConditions *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
}

static void
wb_beside_conditions_dispose (GObject *object)
{
  WbBesideConditions *self = WB_BESIDE_CONDITIONS (object);

  stop (self);
  if (self->label != NULL)
    gtk_widget_unparent (GTK_WIDGET (self->label));
  self->label = NULL;
  G_OBJECT_CLASS (wb_beside_conditions_parent_class)->dispose (object);
}

static void
wb_beside_conditions_class_init (WbBesideConditionsClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_beside_conditions_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "besideconditions");
}

static void
wb_beside_conditions_init (WbBesideConditions *self)
{
  self->label = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "wrap", TRUE, NULL);
  gtk_widget_set_parent (GTK_WIDGET (self->label), GTK_WIDGET (self));
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

GtkWidget *
wb_beside_conditions_new (void)
{
  return g_object_new (WB_TYPE_BESIDE_CONDITIONS, NULL);
}

void
wb_beside_conditions_show (WbBesideConditions *self,
                           const WbCraftPick  *picks,
                           gsize               n_picks)
{
  g_autoptr (GTask) task = NULL;

  g_return_if_fail (WB_IS_BESIDE_CONDITIONS (self));
  g_return_if_fail (n_picks == 0 || picks != NULL);

  stop (self);
  say (self, "");
  if (n_picks < 2)
    return;
  self->cancellable = g_cancellable_new ();
  task = g_task_new (self, self->cancellable, on_worked_out_cb, NULL);
  g_task_set_task_data (task, wb_beside_order_new (picks, n_picks), (GDestroyNotify) wb_beside_order_free);
  g_task_run_in_thread (task, work_out);
}

const char *
wb_beside_conditions_get_text (WbBesideConditions *self)
{
  g_return_val_if_fail (WB_IS_BESIDE_CONDITIONS (self), NULL);
  return gtk_label_get_text (self->label);
}
