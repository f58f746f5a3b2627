/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-photo-strip.h"

#include "wb-app-photo.h"
#include "wb-bundle.h"
#include "wb-clock.h"
#include "wb-file-choice.h"
#include "wb-focus-walk.h"
#include "wb-photo-dialog.h"
#include "wb-photo-thumbnails.h"
#include "wb-problem.h"

#include <glib/gi18n.h>

/* CSS node: photostrip. */

struct _WbPhotoStrip
{
  GtkWidget          parent_instance;

  /* children */
  GtkExpander       *expander;
  GtkLabel          *title;
  GtkWidget         *add;
  GtkWidget         *paste;
  GtkLabel          *status;
  GtkLabel          *hint;
  GtkWidget         *scrolled;
  GtkListView       *list;

  /* owned */
  WbAppNotebook     *notebook;
  WbAppBenchSample  *sample;    /* NULL: nobody's */
  WbAppAttachments  *photos;    /* NULL while folded */
  WbPhotoThumbnails *thumbnails; /* the same */
  GQueue             waiting;   /* Waiting, in the order in which they came */
  GString           *refused;   /* sentences of what could not be added since the queue was empty last */

  /* state */
  guint              n_adding;  /* in the queue, and the one that is being read */
  guint              n_pasting; /* asked of the clipboard */
  guint              n_refused;
  gboolean           busy;
  gboolean           focus;     /* the first photo gets the keyboard as soon as there is one */
};

enum { SIGNAL_WENT_ON, N_SIGNALS };

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WbPhotoStrip, wb_photo_strip, GTK_TYPE_WIDGET)

/* A photo that is to be added. */
typedef struct
{
  WbAppBenchSample *sample;
  GFile            *file;    /* NULL: from the stream, pasted at that time, while that burn (0: none) was alight */
  GInputStream     *stream;
  gint64            burn;
  WbInstant         pasted_at;
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

/* Those of which nobody knows when they were taken. */
static guint
count_timeless (WbPhotoStrip *self)
{
  guint n = 0;

  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self->photos)); i++)
    {
      g_autoptr (WbAppAttachmentsItem) item = g_list_model_get_item (G_LIST_MODEL (self->photos), i);

      n += wb_app_attachments_item_get_burn (item) == 0 && !wb_app_attachments_item_get_record (item)->taken_at.known;
    }
  return n;
}

static void
show_hint (WbPhotoStrip *self,
           guint         timeless)
{
  g_autofree char *text = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u without a time: open it to say when.",
                                                        "%u without a time: open one to say when.", timeless), timeless);

  gtk_label_set_text (self->hint, text);
  gtk_widget_set_visible (GTK_WIDGET (self->hint), timeless > 0);
}

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
  show_hint (self, loaded ? count_timeless (self) : 0);
  gtk_label_set_text (self->status, text != NULL ? text : "");
  gtk_widget_set_visible (self->scrolled, n > 0);
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
  gtk_list_view_set_factory (self->list, NULL);
  if (self->thumbnails != NULL)
    g_object_run_dispose (G_OBJECT (self->thumbnails));
  g_clear_object (&self->thumbnails);
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
      self->thumbnails = wb_photo_thumbnails_new (self->notebook, wb_app_bench_sample_get_code (self->sample));
      gtk_list_view_set_factory (self->list, wb_photo_thumbnails_get_factory (self->thumbnails));
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
  wb_problem_show (GTK_WIDGET (self), self->n_refused == 1 ? _("The photo was not added") : _("Photos were not added"), error);
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

  /* The window was closed though it was told what waits. */
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
  g_signal_emit (self, signals[SIGNAL_WENT_ON], 0, added);
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
    wb_app_photo_add_pasted_async (self->notebook, wb_app_bench_sample_get_id (next->sample), wb_app_bench_sample_get_code (next->sample),
                                   next->burn, next->pasted_at, next->stream, NULL, on_added_cb, g_object_ref (self));
  waiting_free (next);
}

/* Takes it. */
static void
queue (WbPhotoStrip *self,
       Waiting      *waiting)
{
  g_queue_push_tail (&self->waiting, waiting);
  self->n_adding++;
  if (waiting->sample == self->sample)
    gtk_expander_set_expanded (self->expander, TRUE);
  add_next (self);
  g_signal_emit (self, signals[SIGNAL_WENT_ON], 0, TRUE);
}

static void
queue_file (WbPhotoStrip     *self,
            WbAppBenchSample *sample,
            GFile            *file)
{
  Waiting *waiting = g_new0 (Waiting, 1);

  waiting->sample = g_object_ref (sample);
  waiting->file = g_object_ref (file);
  queue (self, waiting);
}

static gboolean
may_add (WbPhotoStrip *self)
{
  return self->notebook != NULL && !wb_app_notebook_get_read_only (self->notebook);
}

/* ---- From the clipboard ---- */

/* For whom it was pasted, and when: the choice, and the flame, may be another by the time that the clipboard answers. */
typedef struct
{
  WbPhotoStrip     *self;
  WbAppBenchSample *sample;
  gint64            burn;      /* alight; 0: none */
  WbInstant         pasted_at;
} Paste;

static Paste *
paste_new (WbPhotoStrip *self)
{
  Paste *paste = g_new0 (Paste, 1);

  paste->self = g_object_ref (self);
  paste->sample = g_object_ref (self->sample);
  paste->pasted_at = wb_clock_now (wb_clock_get ());
  if (wb_app_bench_sample_get_state (self->sample) == WB_APP_BENCH_ALIGHT)
    paste->burn = wb_app_bench_sample_get_burn (self->sample)->record.id;
  return paste;
}

static void
paste_free (Paste *paste)
{
  g_object_unref (paste->self);
  g_object_unref (paste->sample);
  g_free (paste);
}

/* The clipboard has answered; `error` NULL: what it gave is queued. Takes the paste. */
static void
end_paste (Paste  *paste,
           GError *error)
{
  WbPhotoStrip *self = paste->self;

  self->n_pasting--;
  if (self->list != NULL)
    {
      if (error != NULL)
        wb_problem_show (GTK_WIDGET (self), _("The photo was not added"), error);
      g_signal_emit (self, signals[SIGNAL_WENT_ON], 0, error == NULL);
    }
  paste_free (paste);
}

static void
on_picture_pasted_cb (GObject      *source,
                      GAsyncResult *result,
                      gpointer      user)
{
  Paste *paste = user;
  g_autoptr (GError) error = NULL;
  g_autoptr (GInputStream) stream = gdk_clipboard_read_finish (GDK_CLIPBOARD (source), result, NULL, &error);

  if (paste->self->list != NULL && stream != NULL && may_add (paste->self))
    {
      Waiting *waiting = g_new0 (Waiting, 1);

      waiting->sample = g_object_ref (paste->sample);
      waiting->stream = g_steal_pointer (&stream);
      waiting->burn = paste->burn;
      waiting->pasted_at = paste->pasted_at;
      queue (paste->self, waiting);
    }
  end_paste (paste, error);
}

static void
on_files_pasted_cb (GObject      *source,
                    GAsyncResult *result,
                    gpointer      user)
{
  Paste *paste = user;
  g_autoptr (GError) error = NULL;
  const GValue *value = gdk_clipboard_read_value_finish (GDK_CLIPBOARD (source), result, &error);

  if (paste->self->list != NULL && value != NULL && may_add (paste->self))
    {
      for (GSList *at = g_value_get_boxed (value); at != NULL; at = at->next)
        queue_file (paste->self, paste->sample, at->data);
    }
  end_paste (paste, error);
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

  g_string_free (self->refused, TRUE);
  G_OBJECT_CLASS (wb_photo_strip_parent_class)->finalize (object);
}

static void
wb_photo_strip_class_init (WbPhotoStripClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_photo_strip_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_photo_strip_finalize;
  signals[SIGNAL_WENT_ON] = g_signal_new ("went-on", WB_TYPE_PHOTO_STRIP, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1,
                                          G_TYPE_BOOLEAN);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "photostrip");
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "photo-strip.ui");
  gtk_widget_class_bind_template_child (widget_class, WbPhotoStrip, expander);
  gtk_widget_class_bind_template_child (widget_class, WbPhotoStrip, title);
  gtk_widget_class_bind_template_child (widget_class, WbPhotoStrip, add);
  gtk_widget_class_bind_template_child (widget_class, WbPhotoStrip, paste);
  gtk_widget_class_bind_template_child (widget_class, WbPhotoStrip, status);
  gtk_widget_class_bind_template_child (widget_class, WbPhotoStrip, hint);
  gtk_widget_class_bind_template_child (widget_class, WbPhotoStrip, scrolled);
  gtk_widget_class_bind_template_child (widget_class, WbPhotoStrip, list);
  gtk_widget_class_bind_template_callback (widget_class, on_expanded_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_activate_cb);
  gtk_widget_class_bind_template_callback (widget_class, wb_photo_strip_choose);
  gtk_widget_class_bind_template_callback (widget_class, wb_photo_strip_paste);
}

static void
wb_photo_strip_init (WbPhotoStrip *self)
{
  self->refused = g_string_new (NULL);
  g_queue_init (&self->waiting);
  gtk_widget_init_template (GTK_WIDGET (self));
  wb_focus_walk_fold (self->expander);
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
  paste = paste_new (self);
  wb_file_choice_open_several (GTK_WIDGET (self), _("Add photos"), WB_FILE_PHOTO, on_chosen_cb, paste);
}

gboolean
wb_photo_strip_add_files (WbPhotoStrip     *self,
                          WbAppBenchSample *sample,
                          GListModel       *files)
{
  g_return_val_if_fail (WB_IS_PHOTO_STRIP (self), FALSE);
  g_return_val_if_fail (sample == NULL || WB_IS_APP_BENCH_SAMPLE (sample), FALSE);
  g_return_val_if_fail (G_IS_LIST_MODEL (files), FALSE);

  if (sample == NULL)
    sample = self->sample;
  if (sample == NULL || !may_add (self))
    return FALSE;
  for (guint i = 0; i < g_list_model_get_n_items (files); i++)
    {
      g_autoptr (GFile) file = g_list_model_get_item (files, i);

      queue_file (self, sample, file);
    }
  return TRUE;
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
  paste = paste_new (self);
  self->n_pasting++;
  g_signal_emit (self, signals[SIGNAL_WENT_ON], 0, TRUE);
  if (gdk_content_formats_contain_gtype (formats, GDK_TYPE_FILE_LIST) || gdk_content_formats_contain_mime_type (formats, "text/uri-list"))
    gdk_clipboard_read_value_async (clipboard, GDK_TYPE_FILE_LIST, G_PRIORITY_DEFAULT, NULL, on_files_pasted_cb, paste);
  else
    gdk_clipboard_read_async (clipboard, (const char **) picture_types, G_PRIORITY_DEFAULT, NULL, on_picture_pasted_cb, paste);
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
  return self->n_adding + self->n_pasting;
}

void
wb_photo_strip_open (WbPhotoStrip         *self,
                     WbAppAttachmentsItem *item)
{
  g_return_if_fail (WB_IS_PHOTO_STRIP (self));
  g_return_if_fail (WB_IS_APP_ATTACHMENTS_ITEM (item));

  gtk_window_present (GTK_WINDOW (wb_photo_dialog_new (GTK_WIDGET (self), self->notebook, item, wb_app_bench_sample_get_id (self->sample),
                                                       wb_app_bench_sample_get_code (self->sample))));
}
