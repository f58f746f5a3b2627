/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-record-dialog.h"

#include "wb-bundle.h"
#include "wb-clock.h"
#include "wb-material.h"
#include "wb-problem.h"
#include "wb-save-mark.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>

struct _WbRecordDialog
{
  GtkWindow      parent_instance;

  /* children */
  WbRecordForm  *form;
  GtkWidget     *save;
  GtkLabel      *problem;
  WbSaveMark    *mark;

  /* owned */
  WbAppNotebook *notebook;
  char          *why;
  WbRecord      *sent;   /* being saved; NULL: nothing is */
};

G_DEFINE_FINAL_TYPE (WbRecordDialog, wb_record_dialog, GTK_TYPE_WINDOW)

enum { SAVED, N_SIGNALS };
static guint signals[N_SIGNALS];

/* Closes, unless something was typed in the meantime: that is still to be saved. */
static void
take_stored (WbRecordDialog *self,
             WbRecord       *record)
{
  wb_record_form_take_stored (self->form, record);
  g_signal_emit (self, signals[SAVED], 0, record->id);
  if (wb_record_form_get_touched (self->form))
    wb_save_mark_set (self->mark, WB_SAVE_IDLE, NULL);
  else
    gtk_window_destroy (GTK_WINDOW (self));
}

static void
on_saved_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      data)
{
  g_autoptr (WbRecordDialog) self = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) ids = NULL;
  g_autoptr (WbRecord) sent = NULL;
  gint64 entry = wb_app_notebook_save_finish (WB_APP_NOTEBOOK (source), result, &ids, &error);

  self = wb_weak_widget_take_or_tell (data, _("The record was not saved"), error);
  if (self == NULL)
    return;
  sent = g_steal_pointer (&self->sent);
  gtk_widget_set_sensitive (self->save, TRUE);
  /* Entry 0 without an error: nothing was different from what is stored. */
  if (error == NULL)
    {
      if (ids != NULL && ids->len > 0)
        sent->id = g_array_index (ids, gint64, 0);
      sent->entry = entry != 0 ? entry : sent->entry;
      take_stored (self, sent);
      return;
    }
  wb_save_mark_set (self->mark, WB_SAVE_FAILED, NULL);
  wb_problem_tell_error (self->problem, error);
}

/* What came in has come: a year that was mistyped would stand before every other lot for decades. TRUE: it was told at the field. */
static gboolean
tell_day_to_come (WbRecordDialog *self,
                  const WbRecord *record)
{
  g_autofree char *day = NULL, *words = NULL;
  WbDay today = wb_instant_get_day (wb_clock_now (wb_clock_get ()));

  if (record->type != &wb_lot_type || ((const WbLot *) (gconstpointer) record)->received_on <= today)
    return FALSE;
  day = wb_day_format_local (today);
  words = g_strdup_printf (_("That day is yet to come: today is %s"), day);
  return wb_record_form_set_problem (self->form, "received_on", words);
}

static void
on_save_clicked_cb (WbRecordDialog *self)
{
  g_autoptr (WbRecord) record = NULL;

  wb_problem_tell (self->problem, NULL);
  if (!gtk_widget_get_sensitive (self->save) || !wb_record_form_check (self->form))
    return;
  record = wb_record_form_dup_record (self->form);
  if (tell_day_to_come (self, record))
    return;
  self->sent = wb_record_copy (record);
  wb_record_form_mark_sent (self->form);
  gtk_widget_set_sensitive (self->save, FALSE);
  wb_save_mark_set (self->mark, WB_SAVE_SAVING, NULL);
  wb_app_notebook_save_record_async (self->notebook, self->why, record, NULL, on_saved_cb, wb_weak_widget_new (self));
}

static void
wb_record_dialog_dispose (GObject *object)
{
  WbRecordDialog *self = WB_RECORD_DIALOG (object);

  g_clear_object (&self->notebook);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_RECORD_DIALOG);
  G_OBJECT_CLASS (wb_record_dialog_parent_class)->dispose (object);
}

static void
wb_record_dialog_finalize (GObject *object)
{
  g_free (WB_RECORD_DIALOG (object)->why);
  g_clear_pointer (&WB_RECORD_DIALOG (object)->sent, wb_record_free);
  G_OBJECT_CLASS (wb_record_dialog_parent_class)->finalize (object);
}

static void
wb_record_dialog_class_init (WbRecordDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_RECORD_FORM);
  g_type_ensure (WB_TYPE_SAVE_MARK);
  G_OBJECT_CLASS (klass)->dispose = wb_record_dialog_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_record_dialog_finalize;
  signals[SAVED] = g_signal_new ("saved", WB_TYPE_RECORD_DIALOG, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "record-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, WbRecordDialog, form);
  gtk_widget_class_bind_template_child (widget_class, WbRecordDialog, save);
  gtk_widget_class_bind_template_child (widget_class, WbRecordDialog, problem);
  gtk_widget_class_bind_template_child (widget_class, WbRecordDialog, mark);
  gtk_widget_class_bind_template_callback (widget_class, on_save_clicked_cb);
}

static void
wb_record_dialog_init (WbRecordDialog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
wb_record_dialog_new (GtkWidget         *where,
                      WbAppNotebook     *notebook,
                      const char        *title,
                      const char        *why,
                      gconstpointer      record,
                      const char *const *hidden)
{
  WbRecordDialog *self;
  const WbNotebook *settings;
  GtkRoot *root = where != NULL ? gtk_widget_get_root (where) : NULL;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  g_return_val_if_fail (title != NULL && why != NULL && record != NULL, NULL);

  self = g_object_new (WB_TYPE_RECORD_DIALOG, "title", title, "transient-for", GTK_IS_WINDOW (root) ? root : NULL, NULL);
  self->notebook = g_object_ref (notebook);
  self->why = g_strdup (why);
  settings = wb_app_notebook_get_settings (notebook);
  wb_record_form_set_us_units (self->form, settings != NULL && settings->us_units);
  if (hidden != NULL)
    wb_record_form_set_hidden (self->form, hidden);
  wb_record_form_set_record (self->form, record);
  return GTK_WIDGET (self);
}

WbRecordForm *
wb_record_dialog_get_form (WbRecordDialog *self)
{
  g_return_val_if_fail (WB_IS_RECORD_DIALOG (self), NULL);
  return self->form;
}
