/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-material-papers.h"

#include "wb-app-document.h"
#include "wb-app-query.h"
#include "wb-bundle.h"
#include "wb-file-choice.h"
#include "wb-focus-walk.h"
#include "wb-problem.h"
#include "wb-question.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>

struct _WbMaterialPapers
{
  GtkWidget      parent_instance;

  /* children */
  GtkWidget     *box;
  GtkLabel      *status;
  GtkWidget     *add;
  GtkListBox    *list;

  /* owned */
  WbAppNotebook *notebook;
  GPtrArray     *papers;      /* WbAttachment, in the list's order */
  GQueue         waiting;     /* Waiting: of whatever material was shown when they came */
  GCancellable  *cancellable; /* of the reading under way */
  char          *title;

  /* state */
  gint64         owner;
  gint64         busy_for;    /* owner for whom a file is being kept; 0: none is */
};

enum { WENT_ON, N_SIGNALS };
static guint signals[N_SIGNALS];

/* A file on its way into the notebook. */
typedef struct
{
  WbAppNotebook *notebook;
  GFile         *file;
  gint64         owner;
  char          *title;
} Waiting;

static void
waiting_free (gpointer data)
{
  Waiting *self = data;

  g_object_unref (self->notebook);
  g_object_unref (self->file);
  g_free (self->title);
  g_free (self);
}

G_DEFINE_FINAL_TYPE (WbMaterialPapers, wb_material_papers, GTK_TYPE_WIDGET)

static gboolean
may_add (WbMaterialPapers *self)
{
  return self->notebook != NULL && self->owner != 0 && !wb_app_notebook_get_read_only (self->notebook);
}

/* The document of the row that a button stands in. */
static const WbAttachment *
get_paper (WbMaterialPapers *self,
           GtkWidget        *button)
{
  GtkWidget *row = gtk_widget_get_ancestor (button, GTK_TYPE_LIST_BOX_ROW);

  return self->papers->pdata[gtk_list_box_row_get_index (GTK_LIST_BOX_ROW (row))];
}

static void
on_shown_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      user)
{
  g_autoptr (WbMaterialPapers) self = wb_weak_widget_take (user);
  g_autoptr (GError) error = NULL;
  g_autoptr (GFile) file = wb_app_document_write_finish (WB_APP_NOTEBOOK (source), result, &error);
  g_autofree char *uri = NULL;

  if (self == NULL)
    return;
  if (file == NULL)
    {
      wb_problem_show (GTK_WIDGET (self), _("The document could not be opened"), error);
      return;
    }
  uri = g_file_get_uri (file);
  if (!g_app_info_launch_default_for_uri (uri, NULL, &error))
    {
      g_autofree char *path = g_file_get_path (file);
      g_autofree char *words = g_strdup_printf (_("No program of this desktop opens it. It lies here: %s"), path);
      g_autoptr (GError) told = g_error_new_literal (WB_APP_ERROR, WB_APP_ERROR_REFUSED, words);

      wb_problem_show (GTK_WIDGET (self), _("The document could not be opened"), told);
    }
}

static void
on_row_activated_cb (WbMaterialPapers *self,
                     GtkListBoxRow    *row)
{
  wb_app_document_show_async (self->notebook, self->papers->pdata[gtk_list_box_row_get_index (row)], NULL, on_shown_cb,
                              wb_weak_widget_new (self));
}

static void
on_open_clicked_cb (WbMaterialPapers *self,
                    GtkWidget        *button)
{
  wb_app_document_show_async (self->notebook, get_paper (self, button), NULL, on_shown_cb, wb_weak_widget_new (self));
}

/* What a question asks about, until it is answered. */
typedef struct
{
  gpointer      weak;
  WbAttachment *paper;
} Asked;

static Asked *
asked_new (WbMaterialPapers   *self,
           const WbAttachment *paper)
{
  Asked *asked = g_new0 (Asked, 1);

  asked->weak = wb_weak_widget_new (self);
  asked->paper = wb_record_copy (paper);
  return asked;
}

static void
asked_free (Asked *asked)
{
  wb_record_free (asked->paper);
  g_free (asked);
}

static void
on_written_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      user)
{
  g_autoptr (WbMaterialPapers) self = wb_weak_widget_take (user);
  g_autoptr (GError) error = NULL;
  g_autoptr (GFile) file = wb_app_document_write_finish (WB_APP_NOTEBOOK (source), result, &error);

  if (self != NULL && file == NULL)
    wb_problem_show (GTK_WIDGET (self), _("The document was not written"), error);
}

static void
on_place_chosen_cb (const char *path,
                    gpointer    user)
{
  Asked *asked = user;
  g_autoptr (WbMaterialPapers) self = wb_weak_widget_take (asked->weak);

  if (self != NULL && self->notebook != NULL && path != NULL)
    wb_app_document_write_async (self->notebook, asked->paper, path, NULL, on_written_cb, wb_weak_widget_new (self));
  asked_free (asked);
}

static void
on_save_as_clicked_cb (WbMaterialPapers *self,
                       GtkWidget        *button)
{
  const WbAttachment *paper = get_paper (self, button);

  wb_file_choice_save (GTK_WIDGET (self), _("Save a copy of the document"), WB_FILE_ANY, paper->name, on_place_chosen_cb,
                       asked_new (self, paper));
}

static void
on_removed_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      user)
{
  g_autoptr (WbMaterialPapers) self = wb_weak_widget_take (user);
  g_autoptr (GError) error = NULL;

  if (!wb_app_attachment_finish (WB_APP_NOTEBOOK (source), result, &error) && self != NULL)
    wb_problem_show (GTK_WIDGET (self), _("The document was not removed"), error);
}

static void
on_remove_answered_cb (gboolean yes,
                       gpointer user)
{
  Asked *asked = user;
  g_autoptr (WbMaterialPapers) self = wb_weak_widget_take (asked->weak);

  if (yes && self != NULL && self->notebook != NULL)
    wb_app_attachment_take_out_async (self->notebook, asked->paper, _("removed from the material"), NULL, on_removed_cb,
                                      wb_weak_widget_new (self));
  asked_free (asked);
}

static void
on_remove_clicked_cb (WbMaterialPapers *self,
                      GtkWidget        *button)
{
  const WbAttachment *paper = get_paper (self, button);
  g_autofree char *heading = g_strdup_printf (_("Remove “%s”?"), paper->name);

  wb_question_ask (GTK_WIDGET (self), heading, _("Undo brings it back; the record keeps its history."), _("_Remove"), TRUE,
                   on_remove_answered_cb, asked_new (self, paper));
}

static void
add_button (WbMaterialPapers *self,
            GtkWidget        *box,
            const char       *label,
            const char       *name,
            const char       *of,
            GCallback         callback)
{
  GtkWidget *button = gtk_button_new_with_label (label);
  g_autofree char *full = g_strdup_printf ("%s: %s", name, of);

  gtk_button_set_has_frame (GTK_BUTTON (button), FALSE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, full, -1);
  g_signal_connect_swapped (button, "clicked", callback, self);
  gtk_box_append (GTK_BOX (box), button);
}

static GtkWidget *
row_new (WbMaterialPapers   *self,
         const WbAttachment *paper)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 4);
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", paper->name, "xalign", 0.0, "hexpand", TRUE, "ellipsize", PANGO_ELLIPSIZE_MIDDLE, NULL);

  gtk_box_append (GTK_BOX (box), label);
  add_button (self, box, _("Open"), _("Open"), paper->name, G_CALLBACK (on_open_clicked_cb));
  add_button (self, box, _("Save as…"), _("Save as"), paper->name, G_CALLBACK (on_save_as_clicked_cb));
  if (may_add (self))
    add_button (self, box, _("Remove…"), _("Remove"), paper->name, G_CALLBACK (on_remove_clicked_cb));
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, paper->name, -1);
  return row;
}

static void
clear (WbMaterialPapers *self)
{
  GtkListBoxRow *row;

  while ((row = gtk_list_box_get_row_at_index (self->list, 0)) != NULL)
    gtk_list_box_remove (self->list, GTK_WIDGET (row));
  g_ptr_array_set_size (self->papers, 0);
}

static void
on_listed_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      user)
{
  g_autoptr (WbMaterialPapers) self = wb_weak_widget_take (user);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) papers = wb_app_query_list_finish (WB_APP_NOTEBOOK (source), result, &error);

  if (self == NULL || self->list == NULL || g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  if (papers == NULL)
    {
      wb_problem_show (GTK_WIDGET (self), _("The documents could not be read"), error);
      return;
    }
  clear (self);
  for (guint i = 0; i < papers->len; i++)
    {
      g_ptr_array_add (self->papers, wb_record_copy (papers->pdata[i]));
      gtk_list_box_append (self->list, row_new (self, papers->pdata[i]));
    }
}

static void
stop_reading (WbMaterialPapers *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
}

static void
read_papers (WbMaterialPapers *self)
{
  stop_reading (self);
  self->cancellable = g_cancellable_new ();
  wb_app_query_list_by_async (self->notebook, &wb_attachment_type, "owner", self->owner, self->cancellable, on_listed_cb,
                              wb_weak_widget_new (self));
}

static void add_next (WbMaterialPapers *self);

static void
on_kept_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      user)
{
  g_autoptr (WbMaterialPapers) self = wb_weak_widget_take (user);
  g_autoptr (GError) error = NULL;
  gboolean kept = wb_app_document_add_finish (WB_APP_NOTEBOOK (source), result, &error);

  if (self == NULL || self->list == NULL)
    return;
  self->busy_for = 0;
  if (!kept)
    wb_problem_show (GTK_WIDGET (self), _("The document was not kept"), error);
  add_next (self);
  g_signal_emit (self, signals[WENT_ON], 0, kept);
}

/* One after the other, so that they stay in order and memory holds one. */
static void
add_next (WbMaterialPapers *self)
{
  Waiting *next = self->busy_for == 0 ? g_queue_pop_head (&self->waiting) : NULL;

  gtk_label_set_text (self->status, self->busy_for != 0 || next != NULL ? _("Being kept…") : "");
  if (next == NULL)
    return;
  self->busy_for = next->owner;
  wb_app_document_add_async (next->notebook, next->owner, next->title, next->file, NULL, on_kept_cb, wb_weak_widget_new (self));
  waiting_free (next);
}

static void
on_files_chosen_cb (GListModel *files,
                    gpointer    user)
{
  g_autoptr (WbMaterialPapers) self = wb_weak_widget_take (user);

  if (self != NULL && files != NULL)
    wb_material_papers_add (self, files);
}

static void
on_add_clicked_cb (WbMaterialPapers *self)
{
  wb_material_papers_choose (self);
}

static gboolean
on_drop_cb (GtkDropTarget    *target,
            const GValue     *value,
            double            x,
            double            y,
            WbMaterialPapers *self)
{
  g_autoptr (GListStore) files = g_list_store_new (G_TYPE_FILE);

  if (!G_VALUE_HOLDS (value, GDK_TYPE_FILE_LIST))
    return FALSE;
  for (GSList *at = g_value_get_boxed (value); at != NULL; at = at->next)
    g_list_store_append (files, at->data);
  return wb_material_papers_add (self, G_LIST_MODEL (files));
}

static void
wb_material_papers_dispose (GObject *object)
{
  WbMaterialPapers *self = WB_MATERIAL_PAPERS (object);

  stop_reading (self);
  g_queue_clear_full (&self->waiting, waiting_free);
  g_clear_object (&self->notebook);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_MATERIAL_PAPERS);
  G_OBJECT_CLASS (wb_material_papers_parent_class)->dispose (object);
}

static void
wb_material_papers_finalize (GObject *object)
{
  WbMaterialPapers *self = WB_MATERIAL_PAPERS (object);

  g_ptr_array_unref (self->papers);
  g_free (self->title);
  G_OBJECT_CLASS (wb_material_papers_parent_class)->finalize (object);
}

static void
wb_material_papers_class_init (WbMaterialPapersClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_material_papers_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_material_papers_finalize;
  widget_class->focus = wb_focus_walk;
  signals[WENT_ON] = g_signal_new ("went-on", WB_TYPE_MATERIAL_PAPERS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_BOOLEAN);
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "material-papers.ui");
  gtk_widget_class_bind_template_child (widget_class, WbMaterialPapers, box);
  gtk_widget_class_bind_template_child (widget_class, WbMaterialPapers, status);
  gtk_widget_class_bind_template_child (widget_class, WbMaterialPapers, add);
  gtk_widget_class_bind_template_child (widget_class, WbMaterialPapers, list);
  gtk_widget_class_bind_template_callback (widget_class, on_add_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_row_activated_cb);
}

static void
wb_material_papers_init (WbMaterialPapers *self)
{
  self->papers = g_ptr_array_new_with_free_func (wb_record_free);
  g_queue_init (&self->waiting);
  gtk_widget_init_template (GTK_WIDGET (self));
}

void
wb_material_papers_show (WbMaterialPapers *self,
                         WbAppNotebook    *notebook,
                         gint64            owner,
                         const char       *title)
{
  g_return_if_fail (WB_IS_MATERIAL_PAPERS (self));

  /* What waits goes on to the one that it was given to. */
  if (owner != self->owner || notebook != self->notebook)
    clear (self);
  g_set_object (&self->notebook, notebook);
  self->owner = owner;
  g_free (self->title);
  self->title = g_strdup (title);
  gtk_widget_set_sensitive (self->add, may_add (self));
  if (notebook != NULL && owner != 0)
    read_papers (self);
  else
    stop_reading (self);
}

void
wb_material_papers_choose (WbMaterialPapers *self)
{
  g_return_if_fail (WB_IS_MATERIAL_PAPERS (self));

  if (may_add (self))
    wb_file_choice_open_several (GTK_WIDGET (self), _("Keep documents with the material"), WB_FILE_ANY, on_files_chosen_cb, wb_weak_widget_new (self));
}

gboolean
wb_material_papers_add (WbMaterialPapers *self,
                        GListModel       *files)
{
  g_return_val_if_fail (WB_IS_MATERIAL_PAPERS (self), FALSE);
  g_return_val_if_fail (G_IS_LIST_MODEL (files), FALSE);

  if (!may_add (self))
    return FALSE;
  for (guint i = 0; i < g_list_model_get_n_items (files); i++)
    {
      Waiting *waiting = g_new0 (Waiting, 1);

      waiting->notebook = g_object_ref (self->notebook);
      waiting->file = g_list_model_get_item (files, i);
      waiting->owner = self->owner;
      waiting->title = g_strdup (self->title);
      g_queue_push_tail (&self->waiting, waiting);
    }
  add_next (self);
  return TRUE;
}

guint
wb_material_papers_count_adding (WbMaterialPapers *self)
{
  g_return_val_if_fail (WB_IS_MATERIAL_PAPERS (self), 0);
  return g_queue_get_length (&self->waiting) + (self->busy_for != 0);
}

void
wb_material_papers_accept (WbMaterialPapers *self,
                           GtkWidget        *where)
{
  GtkDropTarget *target;

  g_return_if_fail (WB_IS_MATERIAL_PAPERS (self));
  g_return_if_fail (GTK_IS_WIDGET (where));

  target = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);
  g_signal_connect_object (target, "drop", G_CALLBACK (on_drop_cb), self, 0);
  gtk_widget_add_controller (where, GTK_EVENT_CONTROLLER (target));
}
