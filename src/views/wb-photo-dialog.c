/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-photo-dialog.h"

#include "wb-accessible-name.h"
#include "wb-app-query.h"
#include "wb-bundle.h"
#include "wb-choice-list.h"
#include "wb-clock.h"
#include "wb-file-choice.h"
#include "wb-grey.h"
#include "wb-photo-place.h"
#include "wb-photo-words.h"
#include "wb-problem.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>
#include <string.h>

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
  GtkDropDown          *owner;
  GtkLabel             *when_label;
  GtkEditable          *when;
  GtkWidget            *place;
  GtkEditable          *reason;
  GtkWidget            *take_out;
  GtkWidget            *copy;
  GtkWidget            *offer;
  GtkLabel             *problem;

  /* owned */
  WbAppNotebook        *notebook;
  WbAppAttachmentsItem *item;
  GPtrArray            *burns;       /* WbBurn of the sample, by their numbers; NULL: not read yet */
  GCancellable         *cancellable;
  char                 *code;
  char                 *when_text;   /* what stands there of the record, to tell what was typed */

  /* state */
  gint64                sample;
};

G_DEFINE_FINAL_TYPE (WbPhotoDialog, wb_photo_dialog, GTK_TYPE_WINDOW)

static void
show_problem (WbPhotoDialog *self,
              const char    *text)
{
  gtk_widget_add_css_class (GTK_WIDGET (self->problem), "cautionline");
  wb_problem_tell (self->problem, text);
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
  const char *why = wb_app_notebook_get_read_only (self->notebook) ? _("The notebook can be read only") : !writable ? _("It is being saved") : NULL;

  wb_grey_set (self->save, why);
  gtk_widget_set_sensitive (self->place, why == NULL && self->burns != NULL);
  wb_grey_set (self->offer, why == NULL && self->burns == NULL ? _("The burns are not read yet") : why);
  wb_grey_set (self->take_out, why);
}

static void
on_loaded_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      user)
{
  g_autoptr (WbPhotoDialog) self = wb_weak_widget_take (user);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppPicture) picture = wb_app_photo_load_finish (WB_APP_NOTEBOOK (source), result, &error);
  g_autoptr (GdkTexture) texture = NULL;

  if (self == NULL)
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
  g_autoptr (WbPhotoDialog) self = NULL;
  g_autoptr (GError) error = NULL;

  wb_app_attachment_finish (WB_APP_NOTEBOOK (source), result, &error);
  self = wb_weak_widget_take_saved (user, _("The photo is as it was"), error);
  if (self == NULL)
    return;
  set_writable (self, TRUE);
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
                                NULL, on_done_cb, wb_weak_widget_new (self));
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
                                    wb_weak_widget_new (self));
}

/* ---- Where it belongs ---- */

/* NULL: to the sample. Borrowed. */
static const WbBurn *
get_burn (WbPhotoDialog *self)
{
  guint chosen = gtk_drop_down_get_selected (self->owner);

  return self->burns != NULL && chosen > 0 && chosen <= self->burns->len ? g_ptr_array_index (self->burns, chosen - 1) : NULL;
}

/* What is asked for depends on whose it is; as it stands in the record where that is as it was. */
static void
show_when (WbPhotoDialog *self)
{
  const WbAttachment *record = wb_app_attachments_item_get_record (self->item);
  const WbBurn *burn = get_burn (self);
  const char *label = burn != NULL ? _("_Minute") : _("_Day and time");
  const char *name = burn != NULL ? _("Minute since lighting") : _("Day and time when it was taken");

  g_free (self->when_text);
  self->when_text = wb_photo_place_dup_text (burn, record->taken_at);
  /* Before it was lit, or days after: no minute of that burn. */
  if (burn != NULL && record->owner != burn->record.id)
    {
      g_free (self->when_text);
      self->when_text = g_strdup ("");
    }
  gtk_label_set_label (self->when_label, label);
  gtk_editable_set_text (self->when, self->when_text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->when), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  /* the shorter words beside it would be said behind the name */
  gtk_accessible_reset_relation (GTK_ACCESSIBLE (self->when), GTK_ACCESSIBLE_RELATION_LABELLED_BY);
}

/* The photo says nothing of it: a time that may be near is offered, and what it is worth is said. */
static void
show_offer (WbPhotoDialog *self)
{
  const WbAttachment *record = wb_app_attachments_item_get_record (self->item);
  const WbAppPhotoOffer *offer = record->taken_at.known ? NULL : wb_app_photo_get_offer (self->notebook, record->sha256);
  g_autofree char *when = NULL, *label = NULL;

  gtk_widget_set_visible (self->offer, offer != NULL);
  if (offer == NULL)
    return;
  when = wb_instant_format_short (offer->when);
  label = g_strdup_printf (offer->of_picture ? _("Take %s, when the picture was last changed")
                                             : _("Take %s, when its file was last written: copying changes that"), when);
  gtk_label_set_text (GTK_LABEL (gtk_button_get_child (GTK_BUTTON (self->offer))), label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->offer), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
}

/* Into the field, to be saved by hand. */
static void
on_offer_clicked_cb (WbPhotoDialog *self)
{
  const WbAppPhotoOffer *offer = wb_app_photo_get_offer (self->notebook, wb_app_attachments_item_get_record (self->item)->sha256);
  g_autofree char *text = offer != NULL ? wb_photo_place_dup_text (get_burn (self), offer->when) : NULL;

  if (text == NULL)
    return;
  gtk_editable_set_text (self->when, text);
  gtk_widget_grab_focus (GTK_WIDGET (self->when));
}

static void
on_owner_chosen_cb (WbPhotoDialog *self)
{
  if (self->burns != NULL)
    show_when (self);
}

static int
order_burns (gconstpointer a,
             gconstpointer b)
{
  const WbBurn *one = *(const WbBurn *const *) a, *other = *(const WbBurn *const *) b;

  return one->number < other->number ? -1 : one->number > other->number;
}

static void
show_owners (WbPhotoDialog *self)
{
  GtkStringList *words = gtk_string_list_new (NULL);
  g_autofree char *of_sample = g_strdup_printf (_("%s, no burn"), self->code);
  guint chosen = 0;

  gtk_string_list_append (words, of_sample);
  for (guint i = 0; i < self->burns->len; i++)
    {
      const WbBurn *burn = g_ptr_array_index (self->burns, i);
      g_autofree char *lit = wb_instant_format_short (burn->lit_at);
      g_autofree char *said = burn->lit_at.known ? g_strdup_printf (_("burn %d, lit %s"), (int) burn->number, lit)
                                                 : g_strdup_printf (_("burn %d"), (int) burn->number);

      gtk_string_list_append (words, said);
      if (burn->record.id == wb_app_attachments_item_get_record (self->item)->owner)
        chosen = i + 1;
    }
  gtk_drop_down_set_model (self->owner, G_LIST_MODEL (words));
  gtk_drop_down_set_selected (self->owner, chosen);
  g_object_unref (words);
}

static void
on_burns_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      user)
{
  g_autoptr (WbPhotoDialog) self = wb_weak_widget_take (user);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) burns = wb_app_query_list_finish (WB_APP_NOTEBOOK (source), result, &error);

  if (self == NULL)
    return;
  if (burns == NULL)
    {
      show_error (self, error);
      return;
    }
  g_ptr_array_sort (burns, order_burns);
  self->burns = g_steal_pointer (&burns);
  show_owners (self);
  show_when (self);
  set_writable (self, TRUE);
}

static void
on_place_clicked_cb (WbPhotoDialog *self)
{
  const WbAttachment *record = wb_app_attachments_item_get_record (self->item);
  const WbBurn *burn = get_burn (self);
  gint64 owner = burn != NULL ? burn->record.id : self->sample;
  WbInstant taken_at = record->taken_at;
  g_autofree char *refusal = NULL;

  if (!gtk_widget_get_sensitive (self->place))
    return;
  /* What was left alone keeps its stored value whole. */
  if ((owner != record->owner || strcmp (gtk_editable_get_text (self->when), self->when_text) != 0)
      && !wb_photo_place_read (burn, gtk_editable_get_text (self->when), wb_clock_now (wb_clock_get ()), &taken_at, &refusal))
    {
      show_problem (self, refusal);
      gtk_widget_grab_focus (GTK_WIDGET (self->when));
      return;
    }
  show_problem (self, NULL);
  set_writable (self, FALSE);
  wb_app_attachment_place_async (self->notebook, record, wb_app_attachments_item_get_burn (self->item), owner, taken_at,
                                 gtk_editable_get_text (self->reason), NULL, on_done_cb, wb_weak_widget_new (self));
}

/* ---- A copy as a file ---- */

typedef struct
{
  gpointer weak; /* the dialog */
  GFile   *file;
} Copy;

/* Whose copy it was; NULL: closed in the meantime. Frees the rest. */
static WbPhotoDialog *
copy_end (Copy *copy)
{
  WbPhotoDialog *self = wb_weak_widget_take (copy->weak);

  g_object_unref (copy->file);
  g_free (copy);
  return self;
}

static void
on_copied_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      user)
{
  g_autoptr (WbPhotoDialog) self = copy_end (user);
  g_autoptr (GError) error = NULL;
  gboolean done = g_file_replace_contents_finish (G_FILE (source), result, NULL, &error);

  if (self != NULL && done)
    {
      g_autofree char *shown = g_file_get_parse_name (G_FILE (source));
      g_autofree char *said = g_strdup_printf (_("Saved as “%s”."), shown);

      show_problem (self, said);
      gtk_widget_remove_css_class (GTK_WIDGET (self->problem), "cautionline");
    }
  else if (self != NULL)
    show_error (self, error);
}

static void
on_bytes_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      user)
{
  Copy *copy = user;
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = wb_app_attachment_load_finish (WB_APP_NOTEBOOK (source), result, &error);
  g_autoptr (WbPhotoDialog) self = NULL;

  if (bytes != NULL)
    {
      g_file_replace_contents_bytes_async (copy->file, bytes, NULL, FALSE, G_FILE_CREATE_REPLACE_DESTINATION, NULL, on_copied_cb, copy);
      return;
    }
  self = copy_end (copy);
  if (self != NULL)
    show_error (self, error);
}

void
wb_photo_dialog_save_copy (WbPhotoDialog *self,
                           const char    *path)
{
  Copy *copy;

  g_return_if_fail (WB_IS_PHOTO_DIALOG (self));
  g_return_if_fail (path != NULL);

  copy = g_new0 (Copy, 1);
  copy->weak = wb_weak_widget_new (self);
  copy->file = g_file_new_for_path (path);
  show_problem (self, NULL);
  wb_app_attachment_load_async (self->notebook, wb_app_attachments_item_get_record (self->item)->sha256, NULL, on_bytes_cb, copy);
}

static void
on_path_chosen_cb (const char *path,
                   gpointer    user)
{
  g_autoptr (WbPhotoDialog) self = wb_weak_widget_take (user);

  if (path != NULL && self != NULL)
    wb_photo_dialog_save_copy (self, path);
}

static void
on_copy_clicked_cb (WbPhotoDialog *self)
{
  int burn = wb_app_attachments_item_get_burn (self->item);
  g_autofree char *name = burn > 0 ? g_strdup_printf (_("%s burn %d.jpg"), self->code, burn) : g_strdup_printf (_("%s.jpg"), self->code);

  wb_file_choice_save (GTK_WIDGET (self), _("Save a copy of the photo"), WB_FILE_PHOTO, name, on_path_chosen_cb, wb_weak_widget_new (self));
}

/* ---- Life ---- */

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
  g_clear_pointer (&self->burns, g_ptr_array_unref);
  g_clear_pointer (&self->code, g_free);
  g_clear_pointer (&self->when_text, g_free);
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
  gtk_widget_class_bind_template_child (widget_class, WbPhotoDialog, owner);
  gtk_widget_class_bind_template_child (widget_class, WbPhotoDialog, when_label);
  gtk_widget_class_bind_template_child (widget_class, WbPhotoDialog, when);
  gtk_widget_class_bind_template_child (widget_class, WbPhotoDialog, place);
  gtk_widget_class_bind_template_child (widget_class, WbPhotoDialog, reason);
  gtk_widget_class_bind_template_child (widget_class, WbPhotoDialog, take_out);
  gtk_widget_class_bind_template_child (widget_class, WbPhotoDialog, copy);
  gtk_widget_class_bind_template_child (widget_class, WbPhotoDialog, offer);
  gtk_widget_class_bind_template_child (widget_class, WbPhotoDialog, problem);
  gtk_widget_class_bind_template_callback (widget_class, on_save_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_owner_chosen_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_offer_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_place_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_take_out_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_copy_clicked_cb);
}

static void
wb_photo_dialog_init (WbPhotoDialog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->cancellable = g_cancellable_new ();
  wb_choice_list_fit (self->owner, 30);
  wb_accessible_name_drop_down (self->owner, _("Belongs to"));
}

GtkWidget *
wb_photo_dialog_new (GtkWidget            *where,
                     WbAppNotebook        *notebook,
                     WbAppAttachmentsItem *item,
                     gint64                sample,
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
  self->sample = sample;
  self->code = g_strdup (code);
  /* A title bar cuts it, or is not there at all. */
  gtk_label_set_text (self->heading, said);
  gtk_picture_set_alternative_text (self->picture, said);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->picture), GTK_ACCESSIBLE_PROPERTY_LABEL, said, -1);
  gtk_editable_set_text (self->note, record->note != NULL ? record->note : "");
  show_offer (self);
  set_writable (self, TRUE);
  wb_app_query_list_by_async (notebook, &wb_burn_type, "sample", sample, self->cancellable, on_burns_cb, wb_weak_widget_new (self));
  wb_app_photo_load_async (notebook, record, EDGE_PX, self->cancellable, on_loaded_cb, wb_weak_widget_new (self));
  return GTK_WIDGET (self);
}

gboolean
wb_photo_dialog_get_shown (WbPhotoDialog *self)
{
  g_return_val_if_fail (WB_IS_PHOTO_DIALOG (self), FALSE);
  return gtk_picture_get_paintable (self->picture) != NULL;
}

gboolean
wb_photo_dialog_get_ready (WbPhotoDialog *self)
{
  g_return_val_if_fail (WB_IS_PHOTO_DIALOG (self), FALSE);
  return self->burns != NULL;
}
