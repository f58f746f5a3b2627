/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-shelf-dialog.h"

#include "wb-accessible-name.h"
#include "wb-app-shelf.h"
#include "wb-bundle.h"
#include "wb-grey.h"
#include "wb-problem.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>
#include <inttypes.h>

#define REFUSED_KEY "wb-shelf-refused"

struct _WbShelfDialog
{
  GtkWindow       parent_instance;

  /* children */
  GtkLabel       *file;
  GtkLabel       *summary;
  GtkWidget      *rows_box;
  GtkListView    *rows;
  GtkCheckButton *partly;
  GtkWidget      *import;

  /* owned */
  WbAppNotebook  *notebook;
  GCancellable   *cancellable;
  WbAppShelf     *seen;    /* what the person says yes to; NULL: still looking */

  /* state */
  gboolean        sending;
};

G_DEFINE_FINAL_TYPE (WbShelfDialog, wb_shelf_dialog, GTK_TYPE_WINDOW)

static const char *
get_word (WbAppShelfState state)
{
  switch (state)
    {
    case WB_APP_SHELF_NEW:
      return _("New");
    case WB_APP_SHELF_CHANGED:
      return _("Changed");
    case WB_APP_SHELF_UNCHANGED:
      return _("Unchanged");
    case WB_APP_SHELF_REFUSED:
      return _("Refused");
    case WB_APP_SHELF_N_STATES:
    default:
      return "";
    }
}

/* It is drawn as wrong; its word says so too. */
static void
mark_last (GtkStringList *list)
{
  g_autoptr (GObject) last = g_list_model_get_item (G_LIST_MODEL (list), g_list_model_get_n_items (G_LIST_MODEL (list)) - 1);

  g_object_set_data (last, REFUSED_KEY, GINT_TO_POINTER (TRUE));
}

static void
add_rows (GtkStringList    *list,
          const WbAppShelf *shelf,
          WbAppShelfState   state)
{
  for (guint i = 0; i < shelf->rows->len; i++)
    {
      const WbAppShelfRow *row = shelf->rows->pdata[i];
      g_autofree char *line = NULL;

      if (row->state != state)
        continue;
      line = g_strdup_printf (_("%s: line %" PRIu64 ": %s%s%s"), get_word (state), row->line, row->title,
                              *row->title != '\0' && *row->words != '\0' ? " · " : "", row->words);
      gtk_string_list_append (list, line);
      if (state == WB_APP_SHELF_REFUSED)
        mark_last (list);
    }
}

/* What asks for a look comes first; a row that changes nothing is only counted. */
static void
show_rows (WbShelfDialog    *self,
           const WbAppShelf *shelf)
{
  g_autoptr (GtkStringList) list = gtk_string_list_new (NULL);
  g_autoptr (GtkSelectionModel) selection = NULL;

  add_rows (list, shelf, WB_APP_SHELF_REFUSED);
  for (guint i = 0; i < shelf->warnings->len; i++)
    {
      g_autofree char *line = g_strdup_printf (_("Warning: %s"), (const char *) shelf->warnings->pdata[i]);

      gtk_string_list_append (list, line);
    }
  add_rows (list, shelf, WB_APP_SHELF_CHANGED);
  add_rows (list, shelf, WB_APP_SHELF_NEW);
  selection = GTK_SELECTION_MODEL (gtk_no_selection_new (G_LIST_MODEL (g_object_ref (list))));
  gtk_list_view_set_model (self->rows, selection);
  gtk_widget_set_visible (self->rows_box, g_list_model_get_n_items (G_LIST_MODEL (list)) > 0);
}

static char *
dup_summary (const WbAppShelf *shelf)
{
  g_autofree char *sum = wb_app_shelf_dup_sum (shelf);
  GString *text = g_string_new (sum);

  if (shelf->unknown != NULL && shelf->unknown[0] != NULL)
    {
      g_autofree char *names = g_strjoinv (", ", shelf->unknown);

      g_string_append_printf (text, "\n%s: %s", _("Columns that say nothing of a material, passed over"), names);
    }
  if (shelf->n[WB_APP_SHELF_NEW] + shelf->n[WB_APP_SHELF_CHANGED] == 0)
    g_string_append_printf (text, "\n%s", _("There is nothing to bring in."));
  else
    g_string_append_printf (text, "\n%s", _("Nothing is written yet. An empty cell leaves what is there as it is, and nothing is deleted."));
  return g_string_free (text, FALSE);
}

static void
update_import (WbShelfDialog *self)
{
  gboolean some = self->seen != NULL && self->seen->records->len > 0;
  gboolean refused = self->seen != NULL && self->seen->n[WB_APP_SHELF_REFUSED] > 0;

  gtk_widget_set_visible (GTK_WIDGET (self->partly), some && refused);
  wb_grey_set (self->import, wb_app_notebook_get_read_only (self->notebook) ? _("The notebook can be read only")
                             : self->sending ? _("It is being saved") : !some ? _("There is nothing new to take")
                             : refused && !gtk_check_button_get_active (self->partly) ? _("Some lines are refused: tick that the others are taken without them")
                             : NULL);
}

static void
show_error (WbShelfDialog *self,
            const char    *what,
            const GError  *error)
{
  g_autofree char *heading = NULL;
  g_autofree char *detail = NULL;
  g_autofree char *text = NULL;

  wb_problem_dup_words (what, error, &heading, &detail);
  text = g_strdup_printf ("%s\n%s", heading, detail);
  gtk_label_set_text (self->summary, text);
}

static void
on_looked_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      data)
{
  g_autoptr (WbShelfDialog) self = wb_weak_widget_take (data);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppShelf) shelf = wb_app_shelf_look_finish (WB_APP_NOTEBOOK (source), result, &error);
  g_autofree char *text = NULL;

  /* Closed in the meantime. */
  if (self == NULL)
    return;
  if (shelf == NULL)
    {
      show_error (self, _("The file could not be read as a list of materials"), error);
      return;
    }
  text = dup_summary (shelf);
  gtk_label_set_text (self->summary, text);
  show_rows (self, shelf);
  self->seen = g_steal_pointer (&shelf);
  update_import (self);
  if (gtk_widget_get_sensitive (self->import))
    gtk_widget_grab_focus (self->import);
  else if (gtk_widget_get_visible (GTK_WIDGET (self->partly)))
    gtk_widget_grab_focus (GTK_WIDGET (self->partly));
}

static void
on_written_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      data)
{
  g_autoptr (WbShelfDialog) self = NULL;
  g_autoptr (GError) error = NULL;

  wb_app_shelf_write_finish (WB_APP_NOTEBOOK (source), result, &error);
  self = wb_weak_widget_take_saved (data, _("The materials were not brought in"), error);
  if (self == NULL)
    return;
  self->sending = FALSE;
  update_import (self);
  show_error (self, _("The materials were not brought in"), error);
}

static void
on_import_clicked_cb (WbShelfDialog *self)
{
  if (self->sending || self->seen == NULL)
    return;
  self->sending = TRUE;
  update_import (self);
  wb_app_shelf_write_async (self->notebook, self->seen, gtk_check_button_get_active (self->partly), on_written_cb, wb_weak_widget_new (self));
}

static void
on_partly_toggled_cb (WbShelfDialog *self)
{
  if (self->notebook != NULL)
    update_import (self);
}

static void
on_setup_cb (GtkSignalListItemFactory *factory,
             GtkListItem              *item)
{
  gtk_list_item_set_child (item, g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR, NULL));
  gtk_list_item_set_activatable (item, FALSE);
}

static void
on_bind_cb (GtkSignalListItemFactory *factory,
            GtkListItem              *item)
{
  const char *text = gtk_string_object_get_string (GTK_STRING_OBJECT (gtk_list_item_get_item (item)));

  gtk_label_set_text (GTK_LABEL (gtk_list_item_get_child (item)), text);
  if (g_object_get_data (gtk_list_item_get_item (item), REFUSED_KEY) != NULL)
    gtk_widget_add_css_class (gtk_list_item_get_child (item), "problem");
  else
    gtk_widget_remove_css_class (gtk_list_item_get_child (item), "problem");
  wb_accessible_name_list_item (item, text);
}

static void
wb_shelf_dialog_dispose (GObject *object)
{
  WbShelfDialog *self = WB_SHELF_DIALOG (object);

  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_clear_object (&self->notebook);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_SHELF_DIALOG);
  G_OBJECT_CLASS (wb_shelf_dialog_parent_class)->dispose (object);
}

static void
wb_shelf_dialog_finalize (GObject *object)
{
  g_clear_pointer (&WB_SHELF_DIALOG (object)->seen, wb_app_shelf_free);
  G_OBJECT_CLASS (wb_shelf_dialog_parent_class)->finalize (object);
}

static void
wb_shelf_dialog_class_init (WbShelfDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_shelf_dialog_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_shelf_dialog_finalize;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "shelf-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, WbShelfDialog, file);
  gtk_widget_class_bind_template_child (widget_class, WbShelfDialog, summary);
  gtk_widget_class_bind_template_child (widget_class, WbShelfDialog, rows_box);
  gtk_widget_class_bind_template_child (widget_class, WbShelfDialog, rows);
  gtk_widget_class_bind_template_child (widget_class, WbShelfDialog, partly);
  gtk_widget_class_bind_template_child (widget_class, WbShelfDialog, import);
  gtk_widget_class_bind_template_callback (widget_class, on_import_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_partly_toggled_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_setup_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_bind_cb);
}

static void
wb_shelf_dialog_init (WbShelfDialog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
wb_shelf_dialog_new (GtkWidget          *where,
                     WbAppNotebook      *notebook,
                     const WbRecordType *kind,
                     const char         *file)
{
  GtkRoot *root = where != NULL ? gtk_widget_get_root (where) : NULL;
  g_autofree char *name = NULL;
  WbShelfDialog *self;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  g_return_val_if_fail (file != NULL, NULL);

  self = g_object_new (WB_TYPE_SHELF_DIALOG, "transient-for", GTK_IS_WINDOW (root) ? root : NULL, NULL);
  self->notebook = g_object_ref (notebook);
  self->cancellable = g_cancellable_new ();
  name = g_filename_display_basename (file);
  gtk_label_set_text (self->file, name);
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->file), file);
  gtk_label_set_text (self->summary, _("Looking through the file; nothing is written yet."));
  gtk_widget_set_visible (self->rows_box, FALSE);
  wb_app_shelf_look_async (notebook, kind, file, self->cancellable, on_looked_cb, wb_weak_widget_new (self));
  return GTK_WIDGET (self);
}
