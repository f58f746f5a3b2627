/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-photo-strip.h"

#include "wb-accessible-name.h"
#include "wb-app-photo.h"
#include "wb-bundle.h"
#include "wb-file-choice.h"
#include "wb-focus-walk.h"
#include "wb-photo-dialog.h"
#include "wb-photo-words.h"
#include "wb-problem.h"

#include <glib/gi18n.h>

/* CSS node: photostrip. */

/* Of a thumbnail's longer edge, on a screen of twice the usual density too. */
#define DECODED_PX 220
#define THUMBNAIL_PX 110

/* The thumbnail of an item, once it was decoded, is kept with it: the item lives as long as it is listed. */
#define TEXTURE_KEY "wb-photo-strip-texture"

struct _WbPhotoStrip
{
  GtkWidget          parent_instance;

  /* children */
  GtkExpander       *expander;
  GtkLabel          *title;
  GtkWidget         *add;
  GtkWidget         *paste;
  GtkLabel          *status;
  GtkWidget         *scrolled;
  GtkListView       *list;

  /* owned */
  WbAppNotebook     *notebook;
  WbAppBenchSample  *sample;    /* NULL: nobody's */
  WbAppAttachments  *photos;    /* NULL while folded */
  GCancellable      *cancellable;
  GQueue             waiting;   /* Waiting, in the order in which they came */
  GString           *refused;   /* sentences of what could not be added since the queue was empty last */

  /* state */
  guint              n_adding;  /* in the queue, and the one that is being read */
  guint              n_refused;
  gboolean           busy;
  gboolean           focus;     /* the first photo gets the keyboard as soon as there is one */
};

G_DEFINE_FINAL_TYPE (WbPhotoStrip, wb_photo_strip, GTK_TYPE_WIDGET)

/* A photo that is to be added. */
typedef struct
{
  WbAppBenchSample *sample;
  GFile            *file;    /* NULL: from the stream */
  GInputStream     *stream;
} Waiting;

static void
waiting_free (gpointer data)
{
  Waiting *self = data;

  g_object_unref (self->sample);
  g_clear_object (&self->file);
  g_clear_object (&self->stream);
  g_free (self);
}

/* ---- What is shown ---- */

static void
show_status (WbPhotoStrip *self)
{
  guint n = self->photos != NULL ? g_list_model_get_n_items (G_LIST_MODEL (self->photos)) : 0;
  gboolean loaded = self->photos != NULL && wb_app_live_list_get_loaded (WB_APP_LIVE_LIST (self->photos));
  g_autofree char *text = NULL;

  if (self->n_adding > 0)
    text = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u photo is being read", "%u photos are being read", self->n_adding), self->n_adding);
  else if (loaded && n == 0)
    text = g_strdup (_("None yet. Drop some here."));
  else if (loaded)
    text = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u photo", "%u photos", n), n);
  gtk_label_set_text (self->status, text != NULL ? text : "");
  gtk_widget_set_visible (self->scrolled, n > 0);
}

static void
show_texture (GtkListItem *list_item,
              GdkTexture  *texture)
{
  GtkWidget *box = gtk_list_item_get_child (list_item);

  gtk_picture_set_paintable (GTK_PICTURE (gtk_widget_get_first_child (box)), GDK_PAINTABLE (texture));
}

/* The row may show another photo by now: the list item knows. */
typedef struct
{
  GtkListItem          *list_item;
  WbAppAttachmentsItem *item;
} Thumbnail;

static void
on_thumbnail_cb (GObject      *source,
                 GAsyncResult *result,
                 gpointer      user)
{
  Thumbnail *thumbnail = user;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppPicture) picture = wb_app_photo_load_finish (WB_APP_NOTEBOOK (source), result, &error);
  GtkWidget *box = gtk_list_item_get_child (thumbnail->list_item);

  if (picture != NULL)
    {
      GdkTexture *texture = wb_photo_words_texture_new (picture);

      g_object_set_data_full (G_OBJECT (thumbnail->item), TEXTURE_KEY, texture, g_object_unref);
      if (gtk_list_item_get_item (thumbnail->list_item) == thumbnail->item)
        show_texture (thumbnail->list_item, texture);
    }
  else if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED) && box != NULL
           && gtk_list_item_get_item (thumbnail->list_item) == thumbnail->item)
    gtk_label_set_text (GTK_LABEL (gtk_widget_get_last_child (box)), _("It cannot be shown."));
  g_object_unref (thumbnail->list_item);
  g_object_unref (thumbnail->item);
  g_free (thumbnail);
}

static GtkWidget *
caption_new (const char *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "ellipsize", PANGO_ELLIPSIZE_END, "max-width-chars", 14, NULL);

  gtk_widget_add_css_class (label, style);
  return label;
}

static void
on_setup_cb (GtkSignalListItemFactory *factory,
             GtkListItem              *list_item)
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
on_bind_cb (GtkSignalListItemFactory *factory,
            GtkListItem              *list_item,
            WbPhotoStrip             *self)
{
  WbAppAttachmentsItem *item = gtk_list_item_get_item (list_item);
  const WbAttachment *record = wb_app_attachments_item_get_record (item);
  GtkWidget *box = gtk_list_item_get_child (list_item);
  GdkTexture *texture = g_object_get_data (G_OBJECT (item), TEXTURE_KEY);
  g_autofree char *place = wb_photo_words_dup_place (item);
  g_autofree char *title = wb_photo_words_dup_title (item, wb_app_bench_sample_get_code (self->sample));
  g_autofree char *spoken = record->note != NULL ? g_strdup_printf (_("Photo of %s: %s"), title, record->note)
                                                 : g_strdup_printf (_("Photo of %s"), title);

  gtk_label_set_text (GTK_LABEL (gtk_widget_get_next_sibling (gtk_widget_get_first_child (box))), place);
  gtk_label_set_text (GTK_LABEL (gtk_widget_get_last_child (box)), record->note != NULL ? record->note : "");
  gtk_widget_set_tooltip_text (box, record->note != NULL ? record->note : record->name);
  wb_accessible_name_list_item (list_item, spoken);
  show_texture (list_item, texture);
  if (texture == NULL)
    {
      Thumbnail *thumbnail = g_new0 (Thumbnail, 1);

      thumbnail->list_item = g_object_ref (list_item);
      thumbnail->item = g_object_ref (item);
      wb_app_photo_load_async (self->notebook, record, DECODED_PX, self->cancellable, on_thumbnail_cb, thumbnail);
    }
}

static void
on_unbind_cb (GtkSignalListItemFactory *factory,
              GtkListItem              *list_item)
{
  show_texture (list_item, NULL);
}

static void
on_activate_cb (WbPhotoStrip *self,
                guint         position)
{
  g_autoptr (WbAppAttachmentsItem) item = g_list_model_get_item (G_LIST_MODEL (self->photos), position);

  if (item != NULL)
    wb_photo_strip_open (self, item);
}

static void
focus_first (WbPhotoStrip *self)
{
  if (!self->focus || self->photos == NULL || !wb_app_live_list_get_loaded (WB_APP_LIVE_LIST (self->photos)))
    return;
  self->focus = FALSE;
  gtk_widget_grab_focus (g_list_model_get_n_items (G_LIST_MODEL (self->photos)) > 0 ? GTK_WIDGET (self->list) : self->add);
}

static void
on_loaded_cb (WbPhotoStrip *self)
{
  const GError *error = wb_app_live_list_get_error (WB_APP_LIVE_LIST (self->photos));

  if (error != NULL)
    wb_problem_show (GTK_WIDGET (self), _("The sample's photos could not be read"), error);
  show_status (self);
  focus_first (self);
}

static void
drop_photos (WbPhotoStrip *self)
{
  gtk_list_view_set_model (self->list, NULL);
  g_cancellable_cancel (self->cancellable);
  g_object_unref (self->cancellable);
  self->cancellable = g_cancellable_new ();
  if (self->photos != NULL)
    g_signal_handlers_disconnect_by_data (self->photos, self);
  g_clear_object (&self->photos);
}

/* Follows the fold, and whose photos they are. */
static void
update_photos (WbPhotoStrip *self)
{
  GtkSelectionModel *selection;

  drop_photos (self);
  if (self->sample != NULL && gtk_expander_get_expanded (self->expander))
    {
      self->photos = wb_app_attachments_new (self->notebook, wb_app_bench_sample_get_id (self->sample), WB_ATTACHMENT_PHOTO);
      g_signal_connect_swapped (self->photos, "notify::loaded", G_CALLBACK (on_loaded_cb), self);
      selection = GTK_SELECTION_MODEL (gtk_no_selection_new (G_LIST_MODEL (g_object_ref (self->photos))));
      gtk_list_view_set_model (self->list, selection);
      g_object_unref (selection);
    }
  show_status (self);
}

static void
on_expanded_cb (WbPhotoStrip *self)
{
  update_photos (self);
}

/* ---- What is added ---- */

static void add_next (WbPhotoStrip *self);

static void
tell_refused (WbPhotoStrip *self)
{
  g_autoptr (GError) error = NULL;

  if (self->n_refused == 0)
    return;
  error = g_error_new_literal (WB_APP_ERROR, WB_APP_ERROR_REFUSED, self->refused->str);
  wb_problem_show (GTK_WIDGET (self), g_dngettext (GETTEXT_PACKAGE, "The photo was not added", "Photos were not added", self->n_refused), error);
  self->n_refused = 0;
  g_string_truncate (self->refused, 0);
}

static void
on_added_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      user)
{
  g_autoptr (WbPhotoStrip) self = user;
  g_autoptr (GError) error = NULL;
  g_autofree char *words = NULL;
  gboolean added = wb_app_photo_add_finish (WB_APP_NOTEBOOK (source), result, &error);

  /* The window was closed in the meantime: what was asked is saved all the same. */
  if (self->list == NULL)
    return;
  self->busy = FALSE;
  self->n_adding--;
  if (!added && !g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    {
      wb_problem_dup_words (NULL, error, NULL, &words);
      g_string_append_printf (self->refused, "%s%s", self->n_refused > 0 ? " " : "", words != NULL ? words : error->message);
      self->n_refused++;
    }
  add_next (self);
}

/* One after the other: a decoder takes memory, and the list stays in order. */
static void
add_next (WbPhotoStrip *self)
{
  Waiting *next = self->busy ? NULL : g_queue_pop_head (&self->waiting);

  show_status (self);
  if (next == NULL)
    {
      if (!self->busy)
        tell_refused (self);
      return;
    }
  self->busy = TRUE;
  if (next->file != NULL)
    wb_app_photo_add_file_async (self->notebook, wb_app_bench_sample_get_id (next->sample), wb_app_bench_sample_get_code (next->sample),
                                 next->file, NULL, on_added_cb, g_object_ref (self));
  else
    wb_app_photo_add_stream_async (self->notebook, wb_app_bench_sample_get_id (next->sample), wb_app_bench_sample_get_code (next->sample),
                                   next->stream, _("Pasted photo"), NULL, on_added_cb, g_object_ref (self));
  waiting_free (next);
}

static void
queue (WbPhotoStrip     *self,
       WbAppBenchSample *sample,
       GFile            *file,
       GInputStream     *stream)
{
  Waiting *waiting = g_new0 (Waiting, 1);

  waiting->sample = g_object_ref (sample);
  waiting->file = file != NULL ? g_object_ref (file) : NULL;
  waiting->stream = stream != NULL ? g_object_ref (stream) : NULL;
  g_queue_push_tail (&self->waiting, waiting);
  self->n_adding++;
  if (sample == self->sample)
    gtk_expander_set_expanded (self->expander, TRUE);
  add_next (self);
}

static gboolean
may_add (WbPhotoStrip *self)
{
  return self->notebook != NULL && !wb_app_notebook_get_read_only (self->notebook);
}

static void
add_list (WbPhotoStrip     *self,
          WbAppBenchSample *sample,
          GSList           *files)
{
  for (GSList *at = files; at != NULL; at = at->next)
    queue (self, sample, at->data, NULL);
}

/* ---- From the clipboard ---- */

/* For whom it was pasted: the choice may be another one by the time that the clipboard answers. */
typedef struct
{
  WbPhotoStrip     *self;
  WbAppBenchSample *sample;
} Paste;

static void
paste_free (Paste *paste)
{
  g_object_unref (paste->self);
  g_object_unref (paste->sample);
  g_free (paste);
}

static void
on_picture_pasted_cb (GObject      *source,
                      GAsyncResult *result,
                      gpointer      user)
{
  Paste *paste = user;
  g_autoptr (GError) error = NULL;
  g_autoptr (GInputStream) stream = gdk_clipboard_read_finish (GDK_CLIPBOARD (source), result, NULL, &error);

  if (paste->self->list != NULL && stream != NULL)
    queue (paste->self, paste->sample, NULL, stream);
  else if (paste->self->list != NULL)
    wb_problem_show (GTK_WIDGET (paste->self), _("The photo was not added"), error);
  paste_free (paste);
}

static void
on_files_pasted_cb (GObject      *source,
                    GAsyncResult *result,
                    gpointer      user)
{
  Paste *paste = user;
  g_autoptr (GError) error = NULL;
  const GValue *value = gdk_clipboard_read_value_finish (GDK_CLIPBOARD (source), result, &error);

  if (paste->self->list != NULL && value != NULL)
    add_list (paste->self, paste->sample, g_value_get_boxed (value));
  else if (paste->self->list != NULL)
    wb_problem_show (GTK_WIDGET (paste->self), _("The photo was not added"), error);
  paste_free (paste);
}

/* The kinds are asked for as bytes: what GDK makes of a picture has no bound to its size. */
static const char *const picture_types[] = { "image/jpeg", "image/png", NULL };

static gboolean
has_picture (GdkContentFormats *formats)
{
  for (guint i = 0; picture_types[i] != NULL; i++)
    if (gdk_content_formats_contain_mime_type (formats, picture_types[i]))
      return TRUE;
  return FALSE;
}

/* ---- Life ---- */

static void
wb_photo_strip_dispose (GObject *object)
{
  WbPhotoStrip *self = WB_PHOTO_STRIP (object);
  GtkWidget *child;

  if (self->list != NULL)
    drop_photos (self);
  g_queue_clear_full (&self->waiting, waiting_free);
  g_clear_object (&self->notebook);
  g_clear_object (&self->sample);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_PHOTO_STRIP);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))) != NULL)
    gtk_widget_unparent (child);
  G_OBJECT_CLASS (wb_photo_strip_parent_class)->dispose (object);
}

static void
wb_photo_strip_finalize (GObject *object)
{
  WbPhotoStrip *self = WB_PHOTO_STRIP (object);

  g_object_unref (self->cancellable);
  g_string_free (self->refused, TRUE);
  G_OBJECT_CLASS (wb_photo_strip_parent_class)->finalize (object);
}

static void
wb_photo_strip_class_init (WbPhotoStripClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_photo_strip_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_photo_strip_finalize;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "photostrip");
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "photo-strip.ui");
  gtk_widget_class_bind_template_child (widget_class, WbPhotoStrip, expander);
  gtk_widget_class_bind_template_child (widget_class, WbPhotoStrip, title);
  gtk_widget_class_bind_template_child (widget_class, WbPhotoStrip, add);
  gtk_widget_class_bind_template_child (widget_class, WbPhotoStrip, paste);
  gtk_widget_class_bind_template_child (widget_class, WbPhotoStrip, status);
  gtk_widget_class_bind_template_child (widget_class, WbPhotoStrip, scrolled);
  gtk_widget_class_bind_template_child (widget_class, WbPhotoStrip, list);
  gtk_widget_class_bind_template_callback (widget_class, on_expanded_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_setup_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_bind_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_unbind_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_activate_cb);
  gtk_widget_class_bind_template_callback (widget_class, wb_photo_strip_choose);
  gtk_widget_class_bind_template_callback (widget_class, wb_photo_strip_paste);
}

static void
wb_photo_strip_init (WbPhotoStrip *self)
{
  self->cancellable = g_cancellable_new ();
  self->refused = g_string_new (NULL);
  g_queue_init (&self->waiting);
  gtk_widget_init_template (GTK_WIDGET (self));
  wb_focus_walk_fold (self->expander);
  wb_photo_strip_take_drops (self, GTK_WIDGET (self), NULL);
}

void
wb_photo_strip_show (WbPhotoStrip     *self,
                     WbAppNotebook    *notebook,
                     WbAppBenchSample *sample)
{
  g_autofree char *title = NULL;

  g_return_if_fail (WB_IS_PHOTO_STRIP (self));
  g_return_if_fail (sample == NULL || notebook != NULL);

  gtk_widget_set_visible (GTK_WIDGET (self), sample != NULL);
  if (sample == self->sample && notebook == self->notebook)
    return;
  /* What waits is of a notebook that goes. */
  if (notebook != self->notebook)
    {
      self->n_adding -= g_queue_get_length (&self->waiting);
      g_queue_clear_full (&self->waiting, waiting_free);
    }
  g_set_object (&self->notebook, notebook);
  g_set_object (&self->sample, sample);
  if (sample != NULL)
    title = g_strdup_printf (_("Photos of %s"), wb_app_bench_sample_get_code (sample));
  gtk_label_set_text (self->title, title != NULL ? title : "");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->expander), GTK_ACCESSIBLE_PROPERTY_LABEL, title != NULL ? title : "", -1);
  gtk_widget_set_sensitive (self->add, may_add (self));
  gtk_widget_set_sensitive (self->paste, may_add (self));
  update_photos (self);
}

void
wb_photo_strip_toggle (WbPhotoStrip *self)
{
  g_return_if_fail (WB_IS_PHOTO_STRIP (self));

  self->focus = wb_focus_walk_toggle (self->expander);
  focus_first (self);
}

static void
on_chosen_cb (GListModel *files,
              gpointer    user)
{
  Paste *paste = user;

  if (files != NULL && paste->self->list != NULL)
    wb_photo_strip_add_files (paste->self, paste->sample, files);
  paste_free (paste);
}

void
wb_photo_strip_choose (WbPhotoStrip *self)
{
  Paste *paste;

  g_return_if_fail (WB_IS_PHOTO_STRIP (self));

  if (self->sample == NULL || !may_add (self))
    return;
  paste = g_new0 (Paste, 1);
  paste->self = g_object_ref (self);
  paste->sample = g_object_ref (self->sample);
  wb_file_choice_open_several (GTK_WIDGET (self), _("Add photos"), WB_FILE_PHOTO, on_chosen_cb, paste);
}

void
wb_photo_strip_add_files (WbPhotoStrip     *self,
                          WbAppBenchSample *sample,
                          GListModel       *files)
{
  g_return_if_fail (WB_IS_PHOTO_STRIP (self));
  g_return_if_fail (WB_IS_APP_BENCH_SAMPLE (sample));
  g_return_if_fail (G_IS_LIST_MODEL (files));

  for (guint i = 0; may_add (self) && i < g_list_model_get_n_items (files); i++)
    {
      g_autoptr (GFile) file = g_list_model_get_item (files, i);

      queue (self, sample, file, NULL);
    }
}

void
wb_photo_strip_paste (WbPhotoStrip *self)
{
  GdkClipboard *clipboard;
  GdkContentFormats *formats;
  g_autoptr (GError) error = NULL;
  Paste *paste;

  g_return_if_fail (WB_IS_PHOTO_STRIP (self));

  if (self->sample == NULL || !may_add (self))
    return;
  clipboard = gtk_widget_get_clipboard (GTK_WIDGET (self));
  formats = gdk_clipboard_get_formats (clipboard);
  if (!gdk_content_formats_contain_gtype (formats, GDK_TYPE_FILE_LIST) && !gdk_content_formats_contain_mime_type (formats, "text/uri-list")
      && !has_picture (formats) && !gdk_content_formats_contain_gtype (formats, GDK_TYPE_TEXTURE))
    {
      error = g_error_new_literal (WB_APP_ERROR, WB_APP_ERROR_REFUSED, _("The clipboard holds no picture in JPEG or PNG, and no file."));
      wb_problem_show (GTK_WIDGET (self), _("The photo was not added"), error);
      return;
    }
  paste = g_new0 (Paste, 1);
  paste->self = g_object_ref (self);
  paste->sample = g_object_ref (self->sample);
  if (gdk_content_formats_contain_gtype (formats, GDK_TYPE_FILE_LIST) || gdk_content_formats_contain_mime_type (formats, "text/uri-list"))
    gdk_clipboard_read_value_async (clipboard, GDK_TYPE_FILE_LIST, G_PRIORITY_DEFAULT, NULL, on_files_pasted_cb, paste);
  else
    gdk_clipboard_read_async (clipboard, (const char **) picture_types, G_PRIORITY_DEFAULT, NULL, on_picture_pasted_cb, paste);
}

gboolean
wb_photo_strip_drop (WbPhotoStrip     *self,
                     const GValue     *value,
                     WbAppBenchSample *sample)
{
  g_return_val_if_fail (WB_IS_PHOTO_STRIP (self), FALSE);

  if (sample == NULL)
    sample = self->sample;
  if (sample == NULL || !may_add (self) || !G_VALUE_HOLDS (value, GDK_TYPE_FILE_LIST))
    return FALSE;
  add_list (self, sample, g_value_get_boxed (value));
  return TRUE;
}

static gboolean
on_drop_cb (GtkDropTarget *target,
            const GValue  *value,
            double         x,
            double         y,
            WbPhotoStrip  *self)
{
  WbPhotoStripFindFunc find = g_object_get_data (G_OBJECT (target), "find");
  GtkWidget *where = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (target));

  return wb_photo_strip_drop (self, value, find != NULL ? find (where, x, y) : NULL);
}

void
wb_photo_strip_take_drops (WbPhotoStrip        *self,
                           GtkWidget           *where,
                           WbPhotoStripFindFunc find)
{
  GtkDropTarget *target;

  g_return_if_fail (WB_IS_PHOTO_STRIP (self));
  g_return_if_fail (GTK_IS_WIDGET (where));

  target = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);
  g_object_set_data (G_OBJECT (target), "find", (gpointer) find);
  g_signal_connect_object (target, "drop", G_CALLBACK (on_drop_cb), self, 0);
  gtk_widget_add_controller (where, GTK_EVENT_CONTROLLER (target));
}

WbAppAttachments *
wb_photo_strip_get_photos (WbPhotoStrip *self)
{
  g_return_val_if_fail (WB_IS_PHOTO_STRIP (self), NULL);
  return self->photos;
}

guint
wb_photo_strip_get_n_adding (WbPhotoStrip *self)
{
  g_return_val_if_fail (WB_IS_PHOTO_STRIP (self), 0);
  return self->n_adding;
}

void
wb_photo_strip_open (WbPhotoStrip         *self,
                     WbAppAttachmentsItem *item)
{
  g_return_if_fail (WB_IS_PHOTO_STRIP (self));
  g_return_if_fail (WB_IS_APP_ATTACHMENTS_ITEM (item));

  gtk_window_present (GTK_WINDOW (wb_photo_dialog_new (GTK_WIDGET (self), self->notebook, item, wb_app_bench_sample_get_code (self->sample))));
}
