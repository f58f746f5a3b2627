/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-withdraw-dialog.h"

#include "wb-bundle.h"
#include "wb-grey.h"
#include "wb-problem.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>

struct _WbWithdrawDialog
{
  GtkWindow      parent_instance;

  /* children */
  GtkLabel      *heading;
  GtkLabel      *decision;
  GtkEditable   *why;
  GtkWidget     *withdraw;
  GtkLabel      *problem;

  /* owned */
  WbAppNotebook *notebook;
  WbAppTouched  *touched;

  /* state */
  gboolean       saving;
};

G_DEFINE_FINAL_TYPE (WbWithdrawDialog, wb_withdraw_dialog, GTK_TYPE_WINDOW)

static void
update (WbWithdrawDialog *self)
{
  g_autofree char *why = g_strstrip (g_strdup (gtk_editable_get_text (self->why)));

  wb_grey_set (self->withdraw, self->saving ? _("It is being saved") : *why == '\0' ? _("Say first why the decision is withdrawn") : NULL);
}

static void
on_why_changed_cb (WbWithdrawDialog *self)
{
  wb_problem_tell (self->problem, NULL);
  update (self);
}

static void
on_withdrawn_cb (GObject      *source,
                 GAsyncResult *result,
                 gpointer      user)
{
  g_autoptr (WbWithdrawDialog) self = NULL;
  g_autoptr (GError) error = NULL;

  wb_app_decision_sign_finish (WB_APP_NOTEBOOK (source), result, &error);
  self = wb_weak_widget_take_saved (user, _("The decision was not withdrawn"), error);
  if (self == NULL)
    return;
  self->saving = FALSE;
  update (self);
  wb_problem_tell_error (self->problem, error);
}

static void
on_withdraw_clicked_cb (WbWithdrawDialog *self)
{
  if (!gtk_widget_get_sensitive (self->withdraw))
    return;
  self->saving = TRUE;
  update (self);
  wb_app_decision_withdraw_async (self->notebook, self->touched, gtk_editable_get_text (self->why), NULL, on_withdrawn_cb, wb_weak_widget_new (self));
}

static void
wb_withdraw_dialog_dispose (GObject *object)
{
  WbWithdrawDialog *self = WB_WITHDRAW_DIALOG (object);

  g_clear_object (&self->notebook);
  g_clear_pointer (&self->touched, wb_app_touched_unref);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_WITHDRAW_DIALOG);
  G_OBJECT_CLASS (wb_withdraw_dialog_parent_class)->dispose (object);
}

static void
wb_withdraw_dialog_class_init (WbWithdrawDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_withdraw_dialog_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "withdraw-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, WbWithdrawDialog, heading);
  gtk_widget_class_bind_template_child (widget_class, WbWithdrawDialog, decision);
  gtk_widget_class_bind_template_child (widget_class, WbWithdrawDialog, why);
  gtk_widget_class_bind_template_child (widget_class, WbWithdrawDialog, withdraw);
  gtk_widget_class_bind_template_child (widget_class, WbWithdrawDialog, problem);
  gtk_widget_class_bind_template_callback (widget_class, on_why_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_withdraw_clicked_cb);
}

static void
wb_withdraw_dialog_init (WbWithdrawDialog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

static void
focus_why (WbWithdrawDialog *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (self->why));
}

GtkWidget *
wb_withdraw_dialog_new (GtkWidget          *where,
                        WbAppNotebook      *notebook,
                        const WbAppTouched *decision)
{
  GtkRoot *root = where != NULL ? gtk_widget_get_root (where) : NULL;
  g_autofree char *title = NULL, *day = NULL, *text = NULL;
  WbWithdrawDialog *self;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  g_return_val_if_fail (decision != NULL, NULL);

  title = g_strdup_printf (_("Withdraw the decision for %s?"), decision->experiment_code);
  self = g_object_new (WB_TYPE_WITHDRAW_DIALOG, "title", title, "transient-for", GTK_IS_WINDOW (root) ? root : NULL, NULL);
  self->notebook = g_object_ref (notebook);
  self->touched = wb_app_touched_ref ((WbAppTouched *) decision);
  /* A title bar cuts it, or is not there at all. */
  gtk_label_set_text (self->heading, title);
  day = decision->signed_at.known ? wb_instant_format_date (decision->signed_at) : g_strdup ("–");
  text = decision->signed_by != NULL
           /* Translators: a combination; a person; a day. */
           ? g_strdup_printf (_("%s\nSigned by %s on %s"), decision->cell, decision->signed_by, day) : g_strdup (decision->cell);
  gtk_label_set_text (self->decision, text);
  update (self);
  /* Focused before it is shown, GTK 4.8 tells assistive technology of no window. */
  g_signal_connect (self, "map", G_CALLBACK (focus_why), NULL);
  return GTK_WIDGET (self);
}
