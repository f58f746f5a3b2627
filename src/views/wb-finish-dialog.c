/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-finish-dialog.h"

#include "wb-bundle.h"
#include "wb-grey.h"
#include "wb-problem.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>

struct _WbFinishDialog
{
  GtkWindow      parent_instance;

  /* children */
  GtkLabel      *heading;
  GtkEditable   *why;
  GtkWidget     *finish;
  GtkLabel      *problem;

  /* owned */
  WbAppNotebook *notebook;
  WbExperiment  *experiment;

  /* state */
  gboolean       saving;
};

G_DEFINE_FINAL_TYPE (WbFinishDialog, wb_finish_dialog, GTK_TYPE_WINDOW)

static void
update (WbFinishDialog *self)
{
  g_autofree char *why = g_strstrip (g_strdup (gtk_editable_get_text (self->why)));

  wb_grey_set (self->finish, self->saving ? _("It is being saved") : *why == '\0' ? _("Say first why nothing is chosen") : NULL);
}

static void
on_why_changed_cb (WbFinishDialog *self)
{
  wb_problem_tell (self->problem, NULL);
  update (self);
}

static void
on_finished_cb (GObject      *source,
                 GAsyncResult *result,
                 gpointer      user)
{
  g_autoptr (WbFinishDialog) self = NULL;
  g_autoptr (GError) error = NULL;

  wb_app_decision_sign_finish (WB_APP_NOTEBOOK (source), result, &error);
  self = wb_weak_widget_take_saved (user, _("The experiment was not finished"), error);
  if (self == NULL)
    return;
  self->saving = FALSE;
  update (self);
  wb_problem_tell_error (self->problem, error);
}

static void
on_finish_clicked_cb (WbFinishDialog *self)
{
  if (!gtk_widget_get_sensitive (self->finish))
    return;
  self->saving = TRUE;
  update (self);
  wb_app_decision_none_async (self->notebook, self->experiment, gtk_editable_get_text (self->why), NULL, on_finished_cb, wb_weak_widget_new (self));
}

static void
wb_finish_dialog_dispose (GObject *object)
{
  WbFinishDialog *self = WB_FINISH_DIALOG (object);

  g_clear_object (&self->notebook);
  g_clear_pointer (&self->experiment, wb_record_free);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_FINISH_DIALOG);
  G_OBJECT_CLASS (wb_finish_dialog_parent_class)->dispose (object);
}

static void
wb_finish_dialog_class_init (WbFinishDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_finish_dialog_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "finish-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, WbFinishDialog, heading);
  gtk_widget_class_bind_template_child (widget_class, WbFinishDialog, why);
  gtk_widget_class_bind_template_child (widget_class, WbFinishDialog, finish);
  gtk_widget_class_bind_template_child (widget_class, WbFinishDialog, problem);
  gtk_widget_class_bind_template_callback (widget_class, on_why_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_finish_clicked_cb);
}

static void
wb_finish_dialog_init (WbFinishDialog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

static void
focus_why (WbFinishDialog *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (self->why));
}

GtkWidget *
wb_finish_dialog_new (GtkWidget          *where,
                      WbAppNotebook      *notebook,
                      const WbExperiment *experiment)
{
  GtkRoot *root = where != NULL ? gtk_widget_get_root (where) : NULL;
  g_autofree char *title = NULL;
  WbFinishDialog *self;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  g_return_val_if_fail (experiment != NULL, NULL);

  title = g_strdup_printf (_("Finish %s without a decision?"), experiment->code);
  self = g_object_new (WB_TYPE_FINISH_DIALOG, "title", title, "transient-for", GTK_IS_WINDOW (root) ? root : NULL, NULL);
  self->notebook = g_object_ref (notebook);
  self->experiment = wb_record_copy (experiment);
  /* A title bar cuts it, or is not there at all. */
  gtk_label_set_text (self->heading, title);
  update (self);
  /* Focused before it is shown, GTK 4.8 tells assistive technology of no window. */
  g_signal_connect (self, "map", G_CALLBACK (focus_why), NULL);
  return GTK_WIDGET (self);
}
