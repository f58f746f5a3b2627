/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-photo-dialog.h"

#include "wb-bundle.h"
#include "wb-photo-words.h"
#include "wb-problem.h"

#include <glib/gi18n.h>

/* As large as it is kept. */
#define EDGE_PX 2048

struct _WbPhotoDialog
{
  GtkWindow             parent_instance;

  /* children */
  GtkLabel             *heading;
  GtkPicture           *picture;
  GtkEditable          *note;
  GtkWidget            *save;
  GtkEditable          *reason;
  GtkWidget            *take_out;
  GtkLabel             *problem;

  /* owned */
  WbAppNotebook        *notebook;
  WbAppAttachmentsItem *item;
  GCancellable         *cancellable;
};

G_DEFINE_FINAL_TYPE (WbPhotoDialog, wb_photo_dialog, GTK_TYPE_WINDOW)

static void
show_problem (WbPhotoDialog *self,
              const char    *text)
{
  gtk_label_set_text (self->problem, text != NULL ? text : "");
  gtk_widget_set_visible (GTK_WIDGET (self->problem), text != NULL);
}

static void
show_error (WbPhotoDialog *self,
            const GError  *error)
{
  g_autofree char *words = NULL;

  wb_problem_dup_words (NULL, error, NULL, &words);
  show_problem (self, words);
}

static void
set_writable (WbPhotoDialog *self,
              gboolean       writable)
{
  writable = writable && !wb_app_notebook_get_read_only (self->notebook);
  gtk_widget_set_sensitive (self->save, writable);
  gtk_widget_set_sensitive (self->take_out, writable);
}

static void
on_loaded_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      user)
{
  g_autoptr (WbPhotoDialog) self = user;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppPicture) picture = wb_app_photo_load_finish (WB_APP_NOTEBOOK (source), result, &error);
  g_autoptr (GdkTexture) texture = NULL;

  /* Closed in the meantime. */
  if (self->picture == NULL)
    return;
  if (picture == NULL)
    {
      show_error (self, error);
      return;
    }
  texture = wb_photo_words_texture_new (picture);
  gtk_picture_set_paintable (self->picture, GDK_PAINTABLE (texture));
}

static void
on_done_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      user)
{
  g_autoptr (WbPhotoDialog) self = user;
  g_autoptr (GError) error = NULL;
  gboolean done = wb_app_attachment_finish (WB_APP_NOTEBOOK (source), result, &error);

  if (self->picture == NULL)
    return;
  set_writable (self, TRUE);
  if (done)
    gtk_window_destroy (GTK_WINDOW (self));
  else
    show_error (self, error);
}

static void
on_save_clicked_cb (WbPhotoDialog *self)
{
  if (!gtk_widget_get_sensitive (self->save))
    return;
  show_problem (self, NULL);
  set_writable (self, FALSE);
  wb_app_attachment_note_async (self->notebook, wb_app_attachments_item_get_record (self->item), gtk_editable_get_text (self->note),
                                NULL, on_done_cb, g_object_ref (self));
}

static void
on_take_out_clicked_cb (WbPhotoDialog *self)
{
  g_autofree char *reason = g_strstrip (g_strdup (gtk_editable_get_text (self->reason)));

  if (!gtk_widget_get_sensitive (self->take_out))
    return;
  if (*reason == '\0')
    {
      show_problem (self, _("Say why: the reason stays in the record."));
      gtk_widget_grab_focus (GTK_WIDGET (self->reason));
      return;
    }
  show_problem (self, NULL);
  set_writable (self, FALSE);
  wb_app_attachment_take_out_async (self->notebook, wb_app_attachments_item_get_record (self->item), reason, NULL, on_done_cb,
                                    g_object_ref (self));
}

/* Not before it is shown: a window that has the keyboard before has no role for assistive technology in GTK 4.8. */
static void
wb_photo_dialog_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (wb_photo_dialog_parent_class)->map (widget);
  gtk_widget_grab_focus (GTK_WIDGET (WB_PHOTO_DIALOG (widget)->note));
}

static void
wb_photo_dialog_dispose (GObject *object)
{
  WbPhotoDialog *self = WB_PHOTO_DIALOG (object);

  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_clear_object (&self->notebook);
  g_clear_object (&self->item);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_PHOTO_DIALOG);
  G_OBJECT_CLASS (wb_photo_dialog_parent_class)->dispose (object);
}

static void
wb_photo_dialog_class_init (WbPhotoDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_photo_dialog_dispose;
  widget_class->map = wb_photo_dialog_map;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "photo-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, WbPhotoDialog, heading);
  gtk_widget_class_bind_template_child (widget_class, WbPhotoDialog, picture);
  gtk_widget_class_bind_template_child (widget_class, WbPhotoDialog, note);
  gtk_widget_class_bind_template_child (widget_class, WbPhotoDialog, save);
  gtk_widget_class_bind_template_child (widget_class, WbPhotoDialog, reason);
  gtk_widget_class_bind_template_child (widget_class, WbPhotoDialog, take_out);
  gtk_widget_class_bind_template_child (widget_class, WbPhotoDialog, problem);
  gtk_widget_class_bind_template_callback (widget_class, on_save_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_take_out_clicked_cb);
}

static void
wb_photo_dialog_init (WbPhotoDialog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->cancellable = g_cancellable_new ();
}

GtkWidget *
wb_photo_dialog_new (GtkWidget            *where,
                     WbAppNotebook        *notebook,
                     WbAppAttachmentsItem *item,
                     const char           *code)
{
  GtkRoot *root = where != NULL ? gtk_widget_get_root (where) : NULL;
  const WbAttachment *record;
  g_autofree char *title = NULL, *said = NULL;
  WbPhotoDialog *self;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  g_return_val_if_fail (WB_IS_APP_ATTACHMENTS_ITEM (item), NULL);

  record = wb_app_attachments_item_get_record (item);
  title = wb_photo_words_dup_title (item, code);
  said = g_strdup_printf (_("Photo of %s"), title);
  self = g_object_new (WB_TYPE_PHOTO_DIALOG, "title", said, "transient-for", GTK_IS_WINDOW (root) ? root : NULL, NULL);
  self->notebook = g_object_ref (notebook);
  self->item = g_object_ref (item);
  /* A title bar cuts it, or is not there at all. */
  gtk_label_set_text (self->heading, said);
  gtk_picture_set_alternative_text (self->picture, said);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->picture), GTK_ACCESSIBLE_PROPERTY_LABEL, said, -1);
  gtk_editable_set_text (self->note, record->note != NULL ? record->note : "");
  set_writable (self, TRUE);
  wb_app_photo_load_async (notebook, record, EDGE_PX, self->cancellable, on_loaded_cb, g_object_ref (self));
  return GTK_WIDGET (self);
}

gboolean
wb_photo_dialog_get_shown (WbPhotoDialog *self)
{
  g_return_val_if_fail (WB_IS_PHOTO_DIALOG (self), FALSE);
  return gtk_picture_get_paintable (self->picture) != NULL;
}
