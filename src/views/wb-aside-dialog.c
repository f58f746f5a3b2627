/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-aside-dialog.h"

#include "wb-accessible-name.h"
#include "wb-bundle.h"
#include "wb-grey.h"
#include "wb-problem.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>

struct _WbAsideDialog
{
  GtkWindow    parent_instance;

  /* children */
  GtkLabel    *heading;
  GtkWidget   *crossed;
  GtkDropDown *cause;
  GtkEditable *why;
  GtkWidget   *save;
  GtkLabel    *problem;

  /* owned */
  WbAppBench  *bench;

  /* state */
  gint64       sample;
};

G_DEFINE_FINAL_TYPE (WbAsideDialog, wb_aside_dialog, GTK_TYPE_WINDOW)

static void
on_saved_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      user)
{
  g_autoptr (WbAsideDialog) self = NULL;
  g_autoptr (GError) error = NULL;

  wb_app_bench_finish (WB_APP_BENCH (source), result, &error);
  self = wb_weak_widget_take_saved (user, _("The sample was not set aside"), error);
  if (self == NULL)
    return;
  wb_grey_set (self->save, NULL);
  wb_problem_tell_error (self->problem, error);
}

static void
on_save_clicked_cb (WbAsideDialog *self)
{
  if (!gtk_widget_get_sensitive (self->save) || gtk_drop_down_get_selected (self->cause) == GTK_INVALID_LIST_POSITION)
    return;
  wb_grey_set (self->save, _("It is being saved"));
  wb_problem_tell (self->problem, NULL);
  wb_app_bench_set_aside_async (self->bench, self->sample, (int) gtk_drop_down_get_selected (self->cause),
                                gtk_editable_get_text (self->why), NULL, on_saved_cb, wb_weak_widget_new (self));
}

/* A cause is somebody's finding, never what stood first in a list. */
static void
on_cause_chosen_cb (WbAsideDialog *self)
{
  wb_grey_set (self->save, gtk_drop_down_get_selected (self->cause) == GTK_INVALID_LIST_POSITION ? _("Choose the cause first") : NULL);
}

static void
wb_aside_dialog_dispose (GObject *object)
{
  WbAsideDialog *self = WB_ASIDE_DIALOG (object);

  g_clear_object (&self->bench);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_ASIDE_DIALOG);
  G_OBJECT_CLASS (wb_aside_dialog_parent_class)->dispose (object);
}

static void
wb_aside_dialog_class_init (WbAsideDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_aside_dialog_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "aside-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, WbAsideDialog, heading);
  gtk_widget_class_bind_template_child (widget_class, WbAsideDialog, crossed);
  gtk_widget_class_bind_template_child (widget_class, WbAsideDialog, cause);
  gtk_widget_class_bind_template_child (widget_class, WbAsideDialog, why);
  gtk_widget_class_bind_template_child (widget_class, WbAsideDialog, save);
  gtk_widget_class_bind_template_child (widget_class, WbAsideDialog, problem);
  gtk_widget_class_bind_template_callback (widget_class, on_cause_chosen_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_save_clicked_cb);
}

static void
wb_aside_dialog_init (WbAsideDialog *self)
{
  g_autoptr (GtkStringList) causes = gtk_string_list_new (NULL);

  gtk_widget_init_template (GTK_WIDGET (self));
  for (guint i = 0; wb_cause_words[i].nick != NULL; i++)
    gtk_string_list_append (causes, _(wb_cause_words[i].label));
  gtk_drop_down_set_model (self->cause, G_LIST_MODEL (causes));
  gtk_drop_down_set_selected (self->cause, GTK_INVALID_LIST_POSITION);
  wb_accessible_name_drop_down (self->cause, _("Cause"));
}

GtkWidget *
wb_aside_dialog_new (GtkWidget        *where,
                     WbAppBench       *bench,
                     WbAppBenchSample *sample)
{
  GtkRoot *root = where != NULL ? gtk_widget_get_root (where) : NULL;
  g_autofree char *title = NULL;
  WbAsideDialog *self;

  g_return_val_if_fail (WB_IS_APP_BENCH (bench), NULL);
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (sample), NULL);

  title = g_strdup_printf (_("Set %s aside"), wb_app_bench_sample_get_code (sample));
  self = g_object_new (WB_TYPE_ASIDE_DIALOG, "title", title, "transient-for", GTK_IS_WINDOW (root) ? root : NULL, NULL);
  /* A title bar cuts it, or is not there at all. */
  gtk_label_set_text (self->heading, title);
  self->bench = g_object_ref (bench);
  self->sample = wb_app_bench_sample_get_id (sample);
  gtk_widget_set_visible (self->crossed, wb_app_bench_sample_get_crossed_burn (sample) > 0 || wb_app_bench_sample_get_cracked_burn (sample) > 0);
  return GTK_WIDGET (self);
}
