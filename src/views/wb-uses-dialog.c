/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-uses-dialog.h"

#include "wb-bundle.h"
#include "wb-lot-dialog.h"

#include <glib/gi18n.h>

struct _WbUsesDialog
{
  GtkWindow      parent_instance;

  /* children */
  GtkLabel      *heading;
  GtkListBox    *list;

  /* owned */
  WbAppNotebook *notebook;
  GPtrArray     *uses; /* WbAppUse, in the list's order */
};

G_DEFINE_FINAL_TYPE (WbUsesDialog, wb_uses_dialog, GTK_TYPE_WINDOW)

static GtkWidget *
row_new (const WbAppUse *use)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", use->text, "xalign", 0.0, "hexpand", TRUE, "wrap", TRUE,
                                   "wrap-mode", PANGO_WRAP_WORD_CHAR, NULL);

  gtk_box_append (GTK_BOX (box), label);
  gtk_box_append (GTK_BOX (box), gtk_image_new_from_icon_name ("go-next-symbolic"));
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, use->text, -1);
  return row;
}

/* The line may go with the dialog: what it says is taken along. */
static void
on_list_row_activated_cb (WbUsesDialog  *self,
                          GtkListBoxRow *row)
{
  g_autoptr (GPtrArray) uses = g_ptr_array_ref (self->uses);
  g_autoptr (WbAppNotebook) notebook = g_object_ref (self->notebook);
  const WbAppUse *use = uses->pdata[gtk_list_box_row_get_index (row)];
  GtkWidget *window = GTK_WIDGET (gtk_window_get_transient_for (GTK_WINDOW (self)));

  if (window == NULL)
    return;
  gtk_window_destroy (GTK_WINDOW (self));
  if (use->experiment != 0)
    gtk_widget_activate_action (window, "win.go", "(sx)", "plan", use->experiment);
  else if (use->code != NULL)
    gtk_window_present (GTK_WINDOW (wb_lot_dialog_new (window, notebook, use->material, use->code)));
  else if (use->type != NULL)
    gtk_widget_activate_action (window, "page.open", "(sx)", use->type->name, use->material);
}

static void
wb_uses_dialog_dispose (GObject *object)
{
  WbUsesDialog *self = WB_USES_DIALOG (object);

  g_clear_object (&self->notebook);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_USES_DIALOG);
  G_OBJECT_CLASS (wb_uses_dialog_parent_class)->dispose (object);
}

static void
wb_uses_dialog_finalize (GObject *object)
{
  g_clear_pointer (&WB_USES_DIALOG (object)->uses, g_ptr_array_unref);
  G_OBJECT_CLASS (wb_uses_dialog_parent_class)->finalize (object);
}

static void
wb_uses_dialog_class_init (WbUsesDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_uses_dialog_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_uses_dialog_finalize;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "uses-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, WbUsesDialog, heading);
  gtk_widget_class_bind_template_child (widget_class, WbUsesDialog, list);
  gtk_widget_class_bind_template_callback (widget_class, on_list_row_activated_cb);
}

static void
wb_uses_dialog_init (WbUsesDialog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
wb_uses_dialog_new (GtkWidget     *where,
                    WbAppNotebook *notebook,
                    const char    *title,
                    GPtrArray     *uses)
{
  GtkRoot *root = where != NULL ? gtk_widget_get_root (where) : NULL;
  g_autofree char *heading = NULL;
  WbUsesDialog *self;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  g_return_val_if_fail (title != NULL && uses != NULL, NULL);

  heading = g_strdup_printf (_("%s is in use"), title);
  self = g_object_new (WB_TYPE_USES_DIALOG, "title", heading, "transient-for", GTK_IS_WINDOW (root) ? root : NULL, NULL);
  self->notebook = g_object_ref (notebook);
  self->uses = g_ptr_array_ref (uses);
  gtk_label_set_text (self->heading, heading);
  for (guint i = 0; i < uses->len; i++)
    gtk_list_box_append (self->list, row_new (uses->pdata[i]));
  return GTK_WIDGET (self);
}
