/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-retain-dialog.h"

#include "wb-bundle.h"
#include "wb-clock.h"
#include "wb-problem.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>

struct _WbRetainDialog
{
  GtkWindow      parent_instance;

  /* children */
  GtkLabel      *heading;
  GtkEditable   *place;
  GtkEditable   *keep_until;
  GtkWidget     *release;
  GtkWidget     *throw_out;
  GtkWidget     *save;
  GtkLabel      *problem;

  /* owned */
  WbAppNotebook *notebook;
  WbSample      *sample;

  /* state */
  gboolean       saving;
};

G_DEFINE_FINAL_TYPE (WbRetainDialog, wb_retain_dialog, GTK_TYPE_WINDOW)

static void
set_saving (WbRetainDialog *self,
            gboolean        saving)
{
  self->saving = saving;
  gtk_widget_set_sensitive (self->save, !saving);
  gtk_widget_set_sensitive (self->release, !saving);
  gtk_widget_set_sensitive (self->throw_out, !saving);
}

static void
on_saved_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      user)
{
  g_autoptr (WbRetainDialog) self = NULL;
  g_autoptr (GError) error = NULL;

  wb_app_retain_finish (WB_APP_NOTEBOOK (source), result, &error);
  self = wb_weak_widget_take_saved (user, _("That it is kept was not saved"), error);
  if (self == NULL)
    return;
  set_saving (self, FALSE);
  wb_problem_tell_error (self->problem, error);
}

static void
save (WbRetainDialog *self,
      WbAppRetainDeed deed)
{
  const char *text = gtk_editable_get_text (self->keep_until);
  WbDay day = WB_DAY_NONE;

  if (self->saving)
    return;
  wb_problem_tell (self->problem, NULL);
  if (deed == WB_APP_RETAIN_KEEP && *text != '\0' && !wb_day_read (text, wb_instant_get_day (wb_clock_now (wb_clock_get ())), &day, NULL))
    {
      wb_problem_tell (self->problem, _("Write a day such as 14 Mar 2026, or 2026-03-14"));
      return;
    }
  set_saving (self, TRUE);
  wb_app_retain_async (self->notebook, self->sample, deed, gtk_editable_get_text (self->place), day, NULL, on_saved_cb, wb_weak_widget_new (self));
}

static void
on_save_clicked_cb (WbRetainDialog *self)
{
  save (self, WB_APP_RETAIN_KEEP);
}

static void
on_release_clicked_cb (WbRetainDialog *self)
{
  save (self, WB_APP_RETAIN_RELEASE);
}

static void
on_throw_out_clicked_cb (WbRetainDialog *self)
{
  save (self, WB_APP_RETAIN_THROWN_OUT);
}

static void
on_changed_cb (WbRetainDialog *self)
{
  wb_problem_tell (self->problem, NULL);
}

static void
wb_retain_dialog_dispose (GObject *object)
{
  WbRetainDialog *self = WB_RETAIN_DIALOG (object);

  g_clear_object (&self->notebook);
  g_clear_pointer (&self->sample, wb_record_free);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_RETAIN_DIALOG);
  G_OBJECT_CLASS (wb_retain_dialog_parent_class)->dispose (object);
}

static void
wb_retain_dialog_class_init (WbRetainDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_retain_dialog_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "retain-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, WbRetainDialog, heading);
  gtk_widget_class_bind_template_child (widget_class, WbRetainDialog, place);
  gtk_widget_class_bind_template_child (widget_class, WbRetainDialog, keep_until);
  gtk_widget_class_bind_template_child (widget_class, WbRetainDialog, release);
  gtk_widget_class_bind_template_child (widget_class, WbRetainDialog, throw_out);
  gtk_widget_class_bind_template_child (widget_class, WbRetainDialog, save);
  gtk_widget_class_bind_template_child (widget_class, WbRetainDialog, problem);
  gtk_widget_class_bind_template_callback (widget_class, on_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_save_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_release_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_throw_out_clicked_cb);
}

static void
wb_retain_dialog_init (WbRetainDialog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
wb_retain_dialog_new (GtkWidget      *where,
                      WbAppNotebook  *notebook,
                      const WbSample *sample)
{
  GtkRoot *root = where != NULL ? gtk_widget_get_root (where) : NULL;
  g_autofree char *title = NULL, *day = NULL;
  WbDay today = wb_instant_get_day (wb_clock_now (wb_clock_get ())), until;
  WbRetainDialog *self;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  g_return_val_if_fail (sample != NULL, NULL);

  title = g_strdup_printf (sample->retained ? _("%s is kept as a reference") : _("Keep %s as a reference"), sample->code);
  self = g_object_new (WB_TYPE_RETAIN_DIALOG, "title", title, "transient-for", GTK_IS_WINDOW (root) ? root : NULL, NULL);
  self->notebook = g_object_ref (notebook);
  self->sample = wb_record_copy (sample);
  /* A title bar cuts it, or is not there at all. */
  gtk_label_set_text (self->heading, title);
  gtk_editable_set_text (self->place, sample->place != NULL ? sample->place : "");
  /* A day that is over is one to be set anew. */
  until = sample->keep_until != WB_DAY_NONE && sample->keep_until >= today ? sample->keep_until : today + WB_APP_RETAIN_USUAL_DAYS;
  day = wb_day_format_local (until);
  gtk_editable_set_text (self->keep_until, day);
  gtk_widget_set_visible (self->release, sample->retained);
  gtk_widget_set_visible (self->throw_out, sample->retained && sample->keep_until != WB_DAY_NONE);
  return GTK_WIDGET (self);
}
