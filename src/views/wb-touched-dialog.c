/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-touched-dialog.h"

#include "wb-bundle.h"
#include "wb-grey.h"
#include "wb-problem.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>

struct _WbTouchedDialog
{
  GtkWindow      parent_instance;

  /* children */
  GtkLabel      *heading;
  GtkLabel      *decision;
  GtkBox        *changes;
  GtkEditable   *why;
  GtkWidget     *explain;
  GtkWidget     *plan;
  GtkLabel      *problem;

  /* owned */
  WbAppNotebook *notebook;
  WbAppTouched  *touched;

  /* state */
  gboolean       saving;
};

G_DEFINE_FINAL_TYPE (WbTouchedDialog, wb_touched_dialog, GTK_TYPE_WINDOW)

static void
update (WbTouchedDialog *self)
{
  g_autofree char *why = g_strstrip (g_strdup (gtk_editable_get_text (self->why)));
  gboolean writable = !wb_app_notebook_get_read_only (self->notebook) && !self->saving;

  wb_grey_set (self->plan, !writable ? _("The notebook can be read only") : *why != '\0' ? _("A reason is typed why no test is needed: take it out to plan one") : NULL);
  wb_grey_set (self->explain, !writable ? _("The notebook can be read only") : *why == '\0' ? _("Say first why no test is needed") : NULL);
}

static void
on_why_changed_cb (WbTouchedDialog *self)
{
  wb_problem_tell (self->problem, NULL);
  update (self);
}

static void
on_explained_cb (GObject      *source,
                 GAsyncResult *result,
                 gpointer      user)
{
  g_autoptr (WbTouchedDialog) self = NULL;
  g_autoptr (GError) error = NULL;

  wb_app_touched_explain_finish (WB_APP_NOTEBOOK (source), result, &error);
  self = wb_weak_widget_take_saved (user, _("The reason was not saved"), error);
  if (self == NULL)
    return;
  self->saving = FALSE;
  update (self);
  wb_problem_tell_error (self->problem, error);
}

static void
on_explain_clicked_cb (WbTouchedDialog *self)
{
  if (!gtk_widget_get_sensitive (self->explain))
    return;
  self->saving = TRUE;
  update (self);
  wb_app_touched_explain_async (self->notebook, self->touched, gtk_editable_get_text (self->why), NULL, on_explained_cb, wb_weak_widget_new (self));
}

static void
on_plan_clicked_cb (WbTouchedDialog *self)
{
  GtkWidget *window = GTK_WIDGET (gtk_window_get_transient_for (GTK_WINDOW (self)));
  gint64 decision = self->touched->decision;

  gtk_window_destroy (GTK_WINDOW (self));
  if (window == NULL)
    return;
  gtk_widget_activate_action (window, "win.new-experiment", NULL);
  gtk_widget_activate_action (window, "page.confirm", "x", decision);
}

static void
add_change (WbTouchedDialog      *self,
            const WbCraftTouched *change)
{
  g_autofree char *text = NULL;
  GtkWidget *label;

  if (change->state == WB_CRAFT_TOUCHED_OPEN)
    text = g_strdup_printf ("• %s", change->text);
  else if (change->state == WB_CRAFT_TOUCHED_TESTED)
    text = g_strdup_printf (_("• %s A test is planned for it."), change->text);
  else
    text = g_strdup_printf (_("• %s No test is needed: %s"), change->text, change->why != NULL ? change->why : "");
  label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR, "max-width-chars", 64, NULL);
  if (change->state != WB_CRAFT_TOUCHED_OPEN)
    gtk_widget_add_css_class (label, "dim-label");
  else if (change->kind == WB_CRAFT_TOUCHED_CROSSED)
    {
      gtk_widget_add_css_class (label, "caution");
      gtk_widget_add_css_class (label, "stop");
    }
  gtk_box_append (self->changes, label);
}

static char *
dup_decision (const WbAppTouched *touched)
{
  g_autofree char *day = touched->signed_at.known ? wb_instant_format_date (touched->signed_at) : NULL;
  GString *text = g_string_new (touched->cell);

  if (touched->signed_by != NULL && day != NULL)
    g_string_append_printf (text, _("\nSigned by %s on %s"), touched->signed_by, day);
  if (touched->lots != NULL)
    g_string_append_printf (text, _("\nIt rests on %s"), touched->lots);
  return g_string_free (text, FALSE);
}

static void
wb_touched_dialog_dispose (GObject *object)
{
  WbTouchedDialog *self = WB_TOUCHED_DIALOG (object);

  g_clear_object (&self->notebook);
  g_clear_pointer (&self->touched, wb_app_touched_unref);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_TOUCHED_DIALOG);
  G_OBJECT_CLASS (wb_touched_dialog_parent_class)->dispose (object);
}

static void
wb_touched_dialog_class_init (WbTouchedDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_touched_dialog_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "touched-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, WbTouchedDialog, heading);
  gtk_widget_class_bind_template_child (widget_class, WbTouchedDialog, decision);
  gtk_widget_class_bind_template_child (widget_class, WbTouchedDialog, changes);
  gtk_widget_class_bind_template_child (widget_class, WbTouchedDialog, why);
  gtk_widget_class_bind_template_child (widget_class, WbTouchedDialog, explain);
  gtk_widget_class_bind_template_child (widget_class, WbTouchedDialog, plan);
  gtk_widget_class_bind_template_child (widget_class, WbTouchedDialog, problem);
  gtk_widget_class_bind_template_callback (widget_class, on_why_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_explain_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_plan_clicked_cb);
}

static void
wb_touched_dialog_init (WbTouchedDialog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

static void
focus_plan (WbTouchedDialog *self)
{
  gtk_widget_grab_focus (self->plan);
}

GtkWidget *
wb_touched_dialog_new (GtkWidget     *where,
                       WbAppNotebook *notebook,
                       WbAppTouched  *touched)
{
  GtkRoot *root = where != NULL ? gtk_widget_get_root (where) : NULL;
  g_autofree char *title = NULL, *decision = NULL;
  WbTouchedDialog *self;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  g_return_val_if_fail (touched != NULL, NULL);

  title = g_strdup_printf (_("Does the decision for %s still hold?"), touched->experiment_code);
  self = g_object_new (WB_TYPE_TOUCHED_DIALOG, "title", title, "transient-for", GTK_IS_WINDOW (root) ? root : NULL, NULL);
  self->notebook = g_object_ref (notebook);
  self->touched = wb_app_touched_ref (touched);
  /* A title bar cuts it, or is not there at all. */
  gtk_label_set_text (self->heading, title);
  decision = dup_decision (touched);
  gtk_label_set_text (self->decision, decision);
  for (guint i = 0; i < touched->changes->len; i++)
    add_change (self, g_ptr_array_index (touched->changes, i));
  update (self);
  /* Focused before it is shown, GTK 4.8 tells assistive technology of no window. */
  g_signal_connect (self, "map", G_CALLBACK (focus_plan), NULL);
  return GTK_WIDGET (self);
}
