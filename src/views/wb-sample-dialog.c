/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-sample-dialog.h"

#include "wb-bundle.h"
#include "wb-craft-figures.h"

#include <glib/gi18n.h>

struct _WbSampleDialog
{
  GtkWindow     parent_instance;

  /* children */
  GtkLabel     *heading;
  GtkLabel     *what;
  WbReadingLog *log;
  GtkWidget    *bench;

  /* state */
  gint64        experiment;
  gint64        sample;
};

G_DEFINE_FINAL_TYPE (WbSampleDialog, wb_sample_dialog, GTK_TYPE_WINDOW)

static void
on_bench_clicked_cb (WbSampleDialog *self)
{
  GtkWidget *window = GTK_WIDGET (gtk_window_get_transient_for (GTK_WINDOW (self)));
  gint64 experiment = self->experiment, sample = self->sample;

  gtk_window_destroy (GTK_WINDOW (self));
  if (window == NULL)
    return;
  gtk_widget_activate_action (window, "win.go", "(sx)", "burn", experiment);
  gtk_widget_activate_action (window, "page.choose", "x", sample);
}

static void
wb_sample_dialog_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), WB_TYPE_SAMPLE_DIALOG);
  G_OBJECT_CLASS (wb_sample_dialog_parent_class)->dispose (object);
}

static void
wb_sample_dialog_class_init (WbSampleDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_READING_LOG);
  G_OBJECT_CLASS (klass)->dispose = wb_sample_dialog_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "sample-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, WbSampleDialog, heading);
  gtk_widget_class_bind_template_child (widget_class, WbSampleDialog, what);
  gtk_widget_class_bind_template_child (widget_class, WbSampleDialog, log);
  gtk_widget_class_bind_template_child (widget_class, WbSampleDialog, bench);
  gtk_widget_class_bind_template_callback (widget_class, on_bench_clicked_cb);
}

static void
wb_sample_dialog_init (WbSampleDialog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

static char *
dup_what (const WbDataset *data,
          guint            sample)
{
  guint cell = g_array_index (data->sample_cell, guint, sample);
  g_autofree char *vessel = g_strdup (wb_dataset_get_vessel (data, cell)->name);
  g_autofree char *wick = wb_dataset_dup_wick_title (data, cell);
  g_autofree char *scent = wb_dataset_dup_scent_name (data, cell);
  const WbSample *record = wb_dataset_get_sample (data, sample);
  g_autofree char *text = g_strjoin (" · ", vessel, wick, scent, NULL);

  if (record->set_aside == NULL)
    return g_steal_pointer (&text);
  /* Translators: the sample's vessel, wick and scent, then why it does not count. */
  return g_strdup_printf (_("%s. Set aside, it does not count: %s"), text, record->set_aside);
}

GtkWidget *
wb_sample_dialog_new (GtkWidget       *where,
                      WbDesk          *desk,
                      const WbDataset *data,
                      guint            sample,
                      gint64           burn)
{
  GtkRoot *root = where != NULL ? gtk_widget_get_root (where) : NULL;
  const WbSample *record;
  g_autofree char *title = NULL, *what = NULL;
  WbSampleDialog *self;

  g_return_val_if_fail (WB_IS_DESK (desk) && data != NULL, NULL);
  g_return_val_if_fail (sample < data->samples->len, NULL);

  record = wb_dataset_get_sample (data, sample);
  /* Translators: a sample's code and its experiment's: "B4-2 of HF-1". */
  title = g_strdup_printf (_("%s of %s"), record->code, data->experiment->code);
  what = dup_what (data, sample);
  self = g_object_new (WB_TYPE_SAMPLE_DIALOG, "title", title, "transient-for", GTK_IS_WINDOW (root) ? root : NULL, NULL);
  self->experiment = data->experiment->record.id;
  self->sample = record->record.id;
  gtk_label_set_text (self->heading, title);
  gtk_label_set_text (self->what, what);
  gtk_widget_set_visible (self->bench, wb_app_bench_find (wb_desk_get_bench (desk), self->sample) != NULL);
  wb_reading_log_show_record (self->log, wb_desk_get_notebook (desk), self->sample, record->code,
                              wb_craft_cell_get_inner_mm (data, g_array_index (data->sample_cell, guint, sample), WB_STAGE_UPPER),
                              data->notebook->us_units);
  wb_reading_log_open_at (self->log, burn);
  return GTK_WIDGET (self);
}

WbReadingLog *
wb_sample_dialog_get_log (WbSampleDialog *self)
{
  g_return_val_if_fail (WB_IS_SAMPLE_DIALOG (self), NULL);
  return self->log;
}
