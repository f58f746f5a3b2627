/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-job-bar.h"

#include <glib/gi18n.h>

#define DELAY_MS 200 /* what is done sooner shows nothing */

struct _WbJobBar
{
  GtkWidget     parent_instance;

  /* children */
  GtkWidget    *box;
  GtkLabel     *label;
  GtkWidget    *progress;

  /* owned */
  WbAppJob     *job;
  GSignalGroup *signals;

  /* state */
  guint         delay_id;
  guint         pulse_id;
};

G_DEFINE_FINAL_TYPE (WbJobBar, wb_job_bar, GTK_TYPE_WIDGET)

static gboolean
on_pulse_cb (gpointer user)
{
  gtk_progress_bar_pulse (GTK_PROGRESS_BAR (WB_JOB_BAR (user)->progress));
  return G_SOURCE_CONTINUE;
}

static void
update (WbJobBar *self)
{
  const char *text = wb_app_job_get_text (self->job);
  double progress = wb_app_job_get_progress (self->job);

  if (text != NULL && *text != '\0')
    gtk_label_set_text (self->label, text);
  if (progress < 0.0 && self->pulse_id == 0)
    self->pulse_id = g_timeout_add (100, on_pulse_cb, self);
  else if (progress >= 0.0)
    {
      g_clear_handle_id (&self->pulse_id, g_source_remove);
      gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->progress), MIN (progress, 1.0));
    }
}

static gboolean
on_delay_cb (gpointer user)
{
  WbJobBar *self = user;

  self->delay_id = 0;
  update (self);
  gtk_widget_set_visible (GTK_WIDGET (self), TRUE);
  return G_SOURCE_REMOVE;
}

static void
on_cancel_clicked_cb (WbJobBar *self)
{
  if (self->job != NULL)
    wb_app_job_cancel (self->job);
}

static void
wb_job_bar_dispose (GObject *object)
{
  WbJobBar *self = WB_JOB_BAR (object);

  g_clear_handle_id (&self->delay_id, g_source_remove);
  g_clear_handle_id (&self->pulse_id, g_source_remove);
  g_clear_object (&self->signals);
  g_clear_object (&self->job);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_job_bar_parent_class)->dispose (object);
}

static void
wb_job_bar_class_init (WbJobBarClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_job_bar_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "jobbar");
}

static void
wb_job_bar_init (WbJobBar *self)
{
  GtkWidget *cancel = gtk_button_new_with_label (_("Cancel"));

  self->box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  self->label = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "ellipsize", PANGO_ELLIPSIZE_END, "width-chars", 18, NULL);
  self->progress = g_object_new (GTK_TYPE_PROGRESS_BAR, "hexpand", TRUE, "valign", GTK_ALIGN_CENTER, NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->progress), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Progress"), -1);
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->label));
  gtk_box_append (GTK_BOX (self->box), self->progress);
  gtk_box_append (GTK_BOX (self->box), cancel);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  g_signal_connect_swapped (cancel, "clicked", G_CALLBACK (on_cancel_clicked_cb), self);
  self->signals = g_signal_group_new (WB_TYPE_APP_JOB);
  g_signal_group_connect_swapped (self->signals, "notify", G_CALLBACK (update), self);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

GtkWidget *
wb_job_bar_new (void)
{
  return g_object_new (WB_TYPE_JOB_BAR, NULL);
}

void
wb_job_bar_set_job (WbJobBar   *self,
                    WbAppJob   *job,
                    const char *text)
{
  g_return_if_fail (WB_IS_JOB_BAR (self));
  g_return_if_fail (job == NULL || WB_IS_APP_JOB (job));

  g_clear_handle_id (&self->delay_id, g_source_remove);
  g_clear_handle_id (&self->pulse_id, g_source_remove);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
  g_set_object (&self->job, job);
  g_signal_group_set_target (self->signals, job);
  gtk_label_set_text (self->label, text != NULL ? text : "");
  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->progress), 0.0);
  if (job != NULL)
    self->delay_id = g_timeout_add (DELAY_MS, on_delay_cb, self);
}

WbAppJob *
wb_job_bar_get_job (WbJobBar *self)
{
  g_return_val_if_fail (WB_IS_JOB_BAR (self), NULL);
  return self->job;
}
