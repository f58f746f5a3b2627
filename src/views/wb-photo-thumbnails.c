/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-photo-thumbnails.h"

#include "wb-accessible-name.h"
#include "wb-app-photo.h"
#include "wb-photo-words.h"

#include <glib/gi18n.h>

/* Of a thumbnail's longer edge, on a screen of twice the usual density too. */
#define DECODED_PX 220
#define THUMBNAIL_PX 110

/* The thumbnail of an item, once it was decoded, is kept with it: the item lives as long as it is listed. */
#define TEXTURE_KEY "wb-photo-thumbnails-texture"

struct _WbPhotoThumbnails
{
  GObject             parent_instance;

  /* owned */
  WbAppNotebook      *notebook;
  char               *code;
  GtkListItemFactory *factory;
  GCancellable       *cancellable;
  GQueue              waiting;     /* Thumbnail, in the order in which they came into sight */

  /* state */
  gboolean            decoding;
};

G_DEFINE_FINAL_TYPE (WbPhotoThumbnails, wb_photo_thumbnails, G_TYPE_OBJECT)

/* The row may show another photo by now: the list item knows. */
typedef struct
{
  WbPhotoThumbnails    *self;
  GtkListItem          *list_item;
  WbAppAttachmentsItem *item;
} Thumbnail;

static void
thumbnail_free (gpointer data)
{
  Thumbnail *thumbnail = data;

  g_clear_object (&thumbnail->self);
  g_object_unref (thumbnail->list_item);
  g_object_unref (thumbnail->item);
  g_free (thumbnail);
}

static gboolean
is_in_sight (const Thumbnail *thumbnail)
{
  return gtk_list_item_get_item (thumbnail->list_item) == thumbnail->item;
}

static void
show_texture (GtkListItem *list_item,
              GdkTexture  *texture)
{
  GtkWidget *box = gtk_list_item_get_child (list_item);

  gtk_picture_set_paintable (GTK_PICTURE (gtk_widget_get_first_child (box)), GDK_PAINTABLE (texture));
}

static void decode_next (WbPhotoThumbnails *self);

static void
on_decoded_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      user)
{
  Thumbnail *thumbnail = user;
  g_autoptr (WbPhotoThumbnails) self = g_steal_pointer (&thumbnail->self);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppPicture) picture = wb_app_photo_load_finish (WB_APP_NOTEBOOK (source), result, &error);

  self->decoding = FALSE;
  if (picture != NULL)
    {
      GdkTexture *texture = wb_photo_words_texture_new (picture);

      g_object_set_data_full (G_OBJECT (thumbnail->item), TEXTURE_KEY, texture, g_object_unref);
      if (is_in_sight (thumbnail))
        show_texture (thumbnail->list_item, texture);
    }
  else if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED) && is_in_sight (thumbnail))
    gtk_label_set_text (GTK_LABEL (gtk_widget_get_last_child (gtk_list_item_get_child (thumbnail->list_item))), _("It cannot be shown."));
  thumbnail_free (thumbnail);
  decode_next (self);
}

/* One after the other: what a decoder takes in memory is taken once. */
static void
decode_next (WbPhotoThumbnails *self)
{
  Thumbnail *next;

  if (self->decoding || self->notebook == NULL)
    return;
  while ((next = g_queue_pop_head (&self->waiting)) != NULL)
    {
      if (is_in_sight (next))
        break;
      thumbnail_free (next);
    }
  if (next == NULL)
    return;
  self->decoding = TRUE;
  next->self = g_object_ref (self);
  wb_app_photo_load_async (self->notebook, wb_app_attachments_item_get_record (next->item), DECODED_PX, self->cancellable,
                           on_decoded_cb, next);
}

static GtkWidget *
caption_new (const char *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "ellipsize", PANGO_ELLIPSIZE_END, "max-width-chars", 14, NULL);

  gtk_widget_add_css_class (label, style);
  return label;
}

static void
on_setup_cb (WbPhotoThumbnails *self,
             GtkListItem       *list_item)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *picture = gtk_picture_new ();

  /* What it shows is said by the row. */
  gtk_picture_set_can_shrink (GTK_PICTURE (picture), TRUE);
  gtk_widget_set_size_request (picture, THUMBNAIL_PX, THUMBNAIL_PX);
  gtk_box_append (GTK_BOX (box), picture);
  gtk_box_append (GTK_BOX (box), caption_new ("numeric"));
  gtk_box_append (GTK_BOX (box), caption_new ("dim-label"));
  gtk_list_item_set_child (list_item, box);
}

static void
on_bind_cb (WbPhotoThumbnails *self,
            GtkListItem       *list_item)
{
  WbAppAttachmentsItem *item = gtk_list_item_get_item (list_item);
  const WbAttachment *record = wb_app_attachments_item_get_record (item);
  GtkWidget *box = gtk_list_item_get_child (list_item);
  GdkTexture *texture = g_object_get_data (G_OBJECT (item), TEXTURE_KEY);
  g_autofree char *place = wb_photo_words_dup_place (item);
  g_autofree char *title = wb_photo_words_dup_title (item, self->code);
  g_autofree char *spoken = record->note != NULL ? g_strdup_printf (_("Photo of %s: %s"), title, record->note)
                                                 : g_strdup_printf (_("Photo of %s"), title);
  Thumbnail *thumbnail;

  gtk_label_set_text (GTK_LABEL (gtk_widget_get_next_sibling (gtk_widget_get_first_child (box))), place);
  gtk_label_set_text (GTK_LABEL (gtk_widget_get_last_child (box)), record->note != NULL ? record->note : "");
  gtk_widget_set_tooltip_text (box, record->note != NULL ? record->note : record->name);
  wb_accessible_name_list_item (list_item, spoken);
  show_texture (list_item, texture);
  if (texture != NULL || self->notebook == NULL)
    return;
  thumbnail = g_new0 (Thumbnail, 1);
  thumbnail->list_item = g_object_ref (list_item);
  thumbnail->item = g_object_ref (item);
  g_queue_push_tail (&self->waiting, thumbnail);
  decode_next (self);
}

static void
on_unbind_cb (WbPhotoThumbnails *self,
              GtkListItem       *list_item)
{
  show_texture (list_item, NULL);
}

static void
wb_photo_thumbnails_dispose (GObject *object)
{
  WbPhotoThumbnails *self = WB_PHOTO_THUMBNAILS (object);

  g_cancellable_cancel (self->cancellable);
  g_queue_clear_full (&self->waiting, thumbnail_free);
  g_clear_object (&self->notebook);
  g_clear_object (&self->factory);
  G_OBJECT_CLASS (wb_photo_thumbnails_parent_class)->dispose (object);
}

static void
wb_photo_thumbnails_finalize (GObject *object)
{
  WbPhotoThumbnails *self = WB_PHOTO_THUMBNAILS (object);

  g_object_unref (self->cancellable);
  g_free (self->code);
  G_OBJECT_CLASS (wb_photo_thumbnails_parent_class)->finalize (object);
}

static void
wb_photo_thumbnails_class_init (WbPhotoThumbnailsClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_photo_thumbnails_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_photo_thumbnails_finalize;
}

static void
wb_photo_thumbnails_init (WbPhotoThumbnails *self)
{
  self->cancellable = g_cancellable_new ();
  g_queue_init (&self->waiting);
  self->factory = gtk_signal_list_item_factory_new ();
  g_signal_connect_object (self->factory, "setup", G_CALLBACK (on_setup_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->factory, "bind", G_CALLBACK (on_bind_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->factory, "unbind", G_CALLBACK (on_unbind_cb), self, G_CONNECT_SWAPPED);
}

WbPhotoThumbnails *
wb_photo_thumbnails_new (WbAppNotebook *notebook,
                         const char    *code)
{
  WbPhotoThumbnails *self;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  g_return_val_if_fail (code != NULL, NULL);

  self = g_object_new (WB_TYPE_PHOTO_THUMBNAILS, NULL);
  self->notebook = g_object_ref (notebook);
  self->code = g_strdup (code);
  return self;
}

GtkListItemFactory *
wb_photo_thumbnails_get_factory (WbPhotoThumbnails *self)
{
  g_return_val_if_fail (WB_IS_PHOTO_THUMBNAILS (self), NULL);
  return self->factory;
}
