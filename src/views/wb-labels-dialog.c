/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-labels-dialog.h"

#include "wb-accessible-name.h"
#include "wb-bundle.h"
#include "wb-paperwork.h"

#include <glib/gi18n.h>

struct _WbLabelsDialog
{
  GtkWindow       parent_instance;

  /* children */
  GtkDropDown    *preset;
  GtkWidget      *first_row;
  GtkSpinButton  *first;
  GtkCheckButton *outlines;
  GtkCheckButton *blind;

  /* owned */
  WbAppPour      *pour;

  /* borrowed, with a weak pointer */
  GtkWidget      *where;

  /* state */
  guint           batch;
};

G_DEFINE_FINAL_TYPE (WbLabelsDialog, wb_labels_dialog, GTK_TYPE_WINDOW)

static WbReportLabelSheet
get_sheet (WbLabelsDialog *self)
{
  guint selected = gtk_drop_down_get_selected (self->preset);

  return wb_report_label_sheet_preset (selected < WB_REPORT_LABELS_N ? (WbReportLabelPreset) selected : WB_REPORT_LABELS_A4_24);
}

/* A sheet that was begun is used up; a roll has nothing to begin at. */
static void
on_preset_selected_cb (WbLabelsDialog *self)
{
  WbReportLabelSheet sheet = get_sheet (self);
  guint places = sheet.columns * sheet.rows;

  gtk_spin_button_set_range (self->first, 1, MAX (places, 1));
  gtk_widget_set_visible (self->first_row, places > 1);
}

static void
on_show_clicked_cb (WbLabelsDialog *self)
{
  WbReportLabelSheet sheet = get_sheet (self);
  guint first = (guint) gtk_spin_button_get_value_as_int (self->first) - 1;

  /* the record may have changed behind the question */
  if (self->where != NULL && self->batch < wb_app_pour_get_batches (self->pour)->len)
    wb_paperwork_labels (self->where, self->pour, self->batch, &sheet, first, gtk_check_button_get_active (self->outlines),
                         gtk_check_button_get_active (self->blind));
  gtk_window_destroy (GTK_WINDOW (self));
}

static void
wb_labels_dialog_dispose (GObject *object)
{
  WbLabelsDialog *self = WB_LABELS_DIALOG (object);

  g_clear_weak_pointer (&self->where);
  g_clear_object (&self->pour);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_LABELS_DIALOG);
  G_OBJECT_CLASS (wb_labels_dialog_parent_class)->dispose (object);
}

static void
wb_labels_dialog_class_init (WbLabelsDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_labels_dialog_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "labels-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, WbLabelsDialog, preset);
  gtk_widget_class_bind_template_child (widget_class, WbLabelsDialog, first_row);
  gtk_widget_class_bind_template_child (widget_class, WbLabelsDialog, first);
  gtk_widget_class_bind_template_child (widget_class, WbLabelsDialog, outlines);
  gtk_widget_class_bind_template_child (widget_class, WbLabelsDialog, blind);
  gtk_widget_class_bind_template_callback (widget_class, on_preset_selected_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_show_clicked_cb);
}

static void
wb_labels_dialog_init (WbLabelsDialog *self)
{
  g_autoptr (GtkStringList) presets = gtk_string_list_new (NULL);

  gtk_widget_init_template (GTK_WIDGET (self));
  for (guint i = 0; i < WB_REPORT_LABELS_N; i++)
    gtk_string_list_append (presets, wb_report_label_preset_get_label ((WbReportLabelPreset) i));
  gtk_drop_down_set_model (self->preset, G_LIST_MODEL (presets));
  wb_accessible_name_drop_down (self->preset, _("Labels on"));
}

GtkWidget *
wb_labels_dialog_new (GtkWidget *where,
                      WbAppPour *pour,
                      guint      batch,
                      gboolean   letter)
{
  WbLabelsDialog *self;
  GtkRoot *root;

  g_return_val_if_fail (GTK_IS_WIDGET (where), NULL);
  g_return_val_if_fail (WB_IS_APP_POUR (pour) && batch < wb_app_pour_get_batches (pour)->len, NULL);

  root = gtk_widget_get_root (where);
  self = g_object_new (WB_TYPE_LABELS_DIALOG, "transient-for", GTK_IS_WINDOW (root) ? root : NULL, NULL);
  self->pour = g_object_ref (pour);
  self->batch = batch;
  g_set_weak_pointer (&self->where, where);
  gtk_drop_down_set_selected (self->preset, letter ? WB_REPORT_LABELS_LETTER_30 : WB_REPORT_LABELS_A4_24);
  on_preset_selected_cb (self);
  return GTK_WIDGET (self);
}
