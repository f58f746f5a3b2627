/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-restore-dialog.h"

#include "wb-app-backup.h"
#include "wb-app-salvage.h"
#include "wb-bundle.h"
#include "wb-file-choice.h"
#include "wb-grey.h"
#include "wb-job-bar.h"
#include "wb-problem.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>

struct _WbRestoreDialog
{
  GtkWindow     parent_instance;

  /* children */
  GtkLabel     *file;
  GtkLabel     *why;
  GtkWidget    *either;      /* what salvage is, and when it is the better way */
  GtkWidget    *scrolled;
  GtkListBox   *list;
  GtkLabel     *none;
  WbJobBar     *job_bar;
  GtkLabel     *problem;
  GtkWidget    *lost;        /* around what was done and, after a salvage, what is lost */
  GtkLabel     *done;
  GtkWidget    *open;
  GtkWidget    *salvage;
  GtkWidget    *elsewhere;
  GtkWidget    *restore;

  /* owned */
  char         *path;
  char         *who;
  char         *salvaged;    /* path of the new notebook; NULL: none */
  GPtrArray    *items;       /* WbAppBackupItem, a row each; NULL: still looking */

  /* borrowed */
  WbAppBackupItem *restoring; /* the one that was asked for last */
  GCancellable *cancellable;
};

G_DEFINE_FINAL_TYPE (WbRestoreDialog, wb_restore_dialog, GTK_TYPE_WINDOW)

static const char *
get_origin_words (WbAppBackupOrigin origin)
{
  switch (origin)
    {
    case WB_APP_BACKUP_BY_HAND:
      return _("made from the Record page");
    case WB_APP_BACKUP_MIGRATION:
      return _("kept before the file was given a newer form");
    case WB_APP_BACKUP_BY_PROGRAM:
    default:
      return _("the day's backup");
    }
}

/* What is different between it and the notebook; NULL where nothing can be said of it. Caller frees. */
static char *
dup_fit (const WbAppBackupItem *item)
{
  gint64 missing = item->now - item->entry;

  switch (item->fit)
    {
    case WB_APP_BACKUP_SAME:
      return g_strdup (_("Holds all that the notebook holds now."));
    case WB_APP_BACKUP_EARLIER:
      if (missing == 1)
        return g_strdup_printf (_("Entry %d of the notebook came later, and is not in it."), (int) item->now);
      return g_strdup_printf (_("Entries %d to %d of the notebook came later, and are not in it."), (int) item->entry + 1, (int) item->now);
    case WB_APP_BACKUP_MORE:
      if (item->from == item->entry)
        return g_strdup_printf (_("Holds entry %d, which the notebook has lost."), (int) item->entry);
      return g_strdup_printf (_("Holds entries %d to %d, which the notebook has lost."), (int) item->from, (int) item->entry);
    case WB_APP_BACKUP_OTHER:
      return g_strdup_printf (_("From entry %d on the two went different ways: neither holds all of the other."), (int) item->from);
    case WB_APP_BACKUP_UNREADABLE:
      return g_strdup (_("This backup cannot be read."));
    case WB_APP_BACKUP_DAMAGED:
      return g_strdup (_("This backup is damaged. Choose another one."));
    case WB_APP_BACKUP_UNKNOWN:
    default:
      return NULL;
    }
}

static char *
dup_facts (const WbAppBackupItem *item)
{
  g_autofree char *size = g_format_size ((guint64) item->bytes);
  g_autofree char *last = item->entry_at.known ? wb_instant_format_short (item->entry_at) : NULL;
  g_autofree char *entries = NULL;

  if (last == NULL)
    return g_strdup_printf ("%s · %s", get_origin_words (item->origin), size);
  entries = g_strdup_printf (ngettext ("%d entry", "%d entries", (gulong) item->entry), (int) item->entry);
  /* Translators: who made it · how many entries, the last when · how large */
  return g_strdup_printf (_("%s · %s, the last of %s · %s"), get_origin_words (item->origin), entries, last, size);
}

static GtkWidget *
line_new (const char *text,
          const char *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR, NULL);

  if (style != NULL)
    gtk_widget_add_css_class (label, style);
  return label;
}

static GtkWidget *
row_new (const WbAppBackupItem *item)
{
  GtkWidget *row = gtk_list_box_row_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  g_autofree char *when = wb_instant_format_short (item->made_at), *facts = dup_facts (item), *fit = dup_fit (item);
  g_autofree char *all = g_strdup_printf ("%s, %s. %s", when, facts, fit != NULL ? fit : "");

  gtk_box_append (GTK_BOX (box), line_new (when, "strong"));
  gtk_box_append (GTK_BOX (box), line_new (facts, "dim-label"));
  if (fit != NULL)
    gtk_box_append (GTK_BOX (box), line_new (fit, NULL));
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_widget_set_tooltip_text (row, item->path);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, all, -1);
  return row;
}

/* The chosen one, where it can be restored. */
static WbAppBackupItem *
get_chosen (WbRestoreDialog *self)
{
  GtkListBoxRow *row = gtk_list_box_get_selected_row (self->list);
  WbAppBackupItem *item = row != NULL ? self->items->pdata[gtk_list_box_row_get_index (row)] : NULL;

  return item != NULL && item->fit != WB_APP_BACKUP_UNREADABLE && item->fit != WB_APP_BACKUP_DAMAGED ? item : NULL;
}

static void
update (WbRestoreDialog *self)
{
  const char *why;

  /* The list lets go of its rows at the end, too. */
  if (self->job_bar == NULL)
    return;
  why = wb_job_bar_get_job (self->job_bar) != NULL ? _("It is being done") : get_chosen (self) == NULL ? _("Choose a backup that is whole first") : NULL;
  wb_grey_set (self->restore, why);
  wb_grey_set (self->elsewhere, why);
  wb_grey_set (self->salvage, wb_job_bar_get_job (self->job_bar) != NULL ? why : NULL);
}

static void
show (GtkLabel   *label,
      const char *text)
{
  gtk_label_set_text (label, text != NULL ? text : "");
  gtk_widget_set_visible (GTK_WIDGET (label), text != NULL);
}

static void
on_listed_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      user)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) items = wb_app_backup_list_finish (result, &error);
  g_autoptr (WbRestoreDialog) self = wb_weak_widget_take (user);

  if (items == NULL || self == NULL)
    return;
  self->items = g_steal_pointer (&items);
  for (guint i = 0; i < self->items->len; i++)
    gtk_list_box_append (self->list, row_new (self->items->pdata[i]));
  gtk_widget_set_visible (self->scrolled, self->items->len > 0);
  show (self->none, self->items->len == 0 ? _("No backup of this notebook was found on this computer.") : NULL);
  gtk_list_box_select_row (self->list, gtk_list_box_get_row_at_index (self->list, 0));
  update (self);
}

/* FALSE: not wished. */
static gboolean
open_new (WbRestoreDialog *self,
          const char      *path)
{
  if (!gtk_check_button_get_active (GTK_CHECK_BUTTON (self->open)))
    return FALSE;
  /* The application's actions reach its windows, not their dialogs. */
  if (gtk_window_get_transient_for (GTK_WINDOW (self)) != NULL)
    gtk_widget_activate_action (GTK_WIDGET (gtk_window_get_transient_for (GTK_WINDOW (self))), "app.open-path", "s", path);
  return TRUE;
}

/* Told as done, and opened where that is wished. */
static void
take_new (WbRestoreDialog *self,
          const char      *path)
{
  g_autofree char *name = g_filename_display_name (path);
  g_autofree char *text = g_strdup_printf (_("“%s” is the new notebook. The old file is as it was."), name);

  show (self->done, text);
  gtk_widget_set_visible (self->lost, TRUE);
  if (open_new (self, path))
    gtk_window_destroy (GTK_WINDOW (self));
}

static void
start (WbRestoreDialog *self,
       WbAppJob        *job,
       const char      *text)
{
  show (self->problem, NULL);
  gtk_widget_set_visible (self->lost, FALSE);
  wb_job_bar_set_job (self->job_bar, job, text);
  update (self);
}

static void
end (WbRestoreDialog *self,
     const char      *what,
     const GError    *error)
{
  g_autofree char *heading = NULL, *words = NULL, *all = NULL;

  wb_job_bar_set_job (self->job_bar, NULL, NULL);
  update (self);
  if (error == NULL || g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  wb_problem_dup_words (what, error, &heading, &words);
  all = g_strdup_printf ("%s. %s", heading, words);
  show (self->problem, all);
}

/* What turned out to be damaged is not offered again; the next older one is. */
static void
rule_out (WbRestoreDialog *self,
          WbAppBackupItem *item)
{
  for (guint i = 0; i < self->items->len; i++)
    {
      GtkListBoxRow *old = gtk_list_box_get_row_at_index (self->list, (int) i);

      if (self->items->pdata[i] != item)
        continue;
      item->fit = WB_APP_BACKUP_DAMAGED;
      gtk_list_box_insert (self->list, row_new (item), (int) i);
      gtk_list_box_remove (self->list, GTK_WIDGET (old));
      gtk_list_box_select_row (self->list, gtk_list_box_get_row_at_index (self->list, (int) MIN (i + 1, self->items->len - 1)));
    }
}

static void
on_restored_cb (GObject      *source,
                GAsyncResult *result,
                gpointer      user)
{
  g_autoptr (WbRestoreDialog) self = wb_weak_widget_take (user);
  g_autoptr (GError) error = NULL;
  g_autofree char *path = wb_app_backup_restore_finish (result, &error);

  if (self == NULL)
    return;
  end (self, _("Nothing was restored"), error);
  if (g_error_matches (error, WB_APP_ERROR, WB_APP_ERROR_DAMAGED))
    rule_out (self, self->restoring);
  else if (path != NULL)
    take_new (self, path);
}

/* What is lost is to be read first: the new notebook opens when the dialog is closed. */
static void
on_salvaged_cb (GObject      *source,
                GAsyncResult *result,
                gpointer      user)
{
  g_autoptr (WbRestoreDialog) self = wb_weak_widget_take (user);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppSalvage) salvage = wb_app_salvage_finish (result, &error);
  g_autoptr (GString) text = NULL;
  g_autofree char *name = NULL;

  if (self == NULL)
    return;
  end (self, _("Nothing was salvaged"), error);
  if (salvage == NULL)
    return;
  name = g_filename_display_name (salvage->path);
  text = g_string_new (NULL);
  g_string_append_printf (text, _("“%s” is the new notebook. The old file is as it was."), name);
  g_string_append_printf (text, " %s", salvage->words);
  for (guint i = 0; i < salvage->lines->len; i++)
    g_string_append_printf (text, "\n%s", (char *) salvage->lines->pdata[i]);
  show (self->done, text->str);
  gtk_widget_set_visible (self->lost, TRUE);
  g_free (self->salvaged);
  self->salvaged = g_strdup (salvage->path);
}

static void
on_salvage_clicked_cb (WbRestoreDialog *self)
{
  g_autoptr (WbAppJob) job = wb_app_job_new ();

  start (self, job, _("Reading what is left"));
  wb_app_salvage_async (self->path, NULL, self->who, job, on_salvaged_cb, wb_weak_widget_new (self));
}

/* to NULL: beside the old one. */
static void
restore_to (WbRestoreDialog *self,
            const char      *to)
{
  WbAppBackupItem *item = get_chosen (self);
  g_autoptr (WbAppJob) job = wb_app_job_new ();

  if (item == NULL)
    return;
  self->restoring = item;
  start (self, job, _("Restoring"));
  wb_app_backup_restore_async (item->path, self->path, to, self->who, job, on_restored_cb, wb_weak_widget_new (self));
}

static void
on_restore_clicked_cb (WbRestoreDialog *self)
{
  restore_to (self, NULL);
}

static void
on_elsewhere_path_cb (const char *path,
                      gpointer    user)
{
  g_autoptr (WbRestoreDialog) self = wb_weak_widget_take (user);

  if (path != NULL && self != NULL)
    restore_to (self, path);
}

static void
on_elsewhere_clicked_cb (WbRestoreDialog *self)
{
  g_autofree char *name = g_path_get_basename (self->path);

  wb_file_choice_save (GTK_WIDGET (self), _("Restore as a new notebook"), WB_FILE_NOTEBOOK, name, on_elsewhere_path_cb,
                       wb_weak_widget_new (self));
}

static gboolean
wb_restore_dialog_close_request (GtkWindow *window)
{
  WbRestoreDialog *self = WB_RESTORE_DIALOG (window);

  if (self->salvaged != NULL)
    open_new (self, self->salvaged);
  return GTK_WINDOW_CLASS (wb_restore_dialog_parent_class)->close_request (window);
}

static void
wb_restore_dialog_dispose (GObject *object)
{
  WbRestoreDialog *self = WB_RESTORE_DIALOG (object);

  g_cancellable_cancel (self->cancellable);
  if (self->job_bar != NULL && wb_job_bar_get_job (self->job_bar) != NULL)
    wb_app_job_cancel (wb_job_bar_get_job (self->job_bar));
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_RESTORE_DIALOG);
  G_OBJECT_CLASS (wb_restore_dialog_parent_class)->dispose (object);
}

static void
wb_restore_dialog_finalize (GObject *object)
{
  WbRestoreDialog *self = WB_RESTORE_DIALOG (object);

  g_free (self->path);
  g_free (self->who);
  g_free (self->salvaged);
  g_clear_pointer (&self->items, g_ptr_array_unref);
  g_object_unref (self->cancellable);
  G_OBJECT_CLASS (wb_restore_dialog_parent_class)->finalize (object);
}

static void
wb_restore_dialog_class_init (WbRestoreDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_JOB_BAR);
  G_OBJECT_CLASS (klass)->dispose = wb_restore_dialog_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_restore_dialog_finalize;
  GTK_WINDOW_CLASS (klass)->close_request = wb_restore_dialog_close_request;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "restore-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, WbRestoreDialog, file);
  gtk_widget_class_bind_template_child (widget_class, WbRestoreDialog, why);
  gtk_widget_class_bind_template_child (widget_class, WbRestoreDialog, either);
  gtk_widget_class_bind_template_child (widget_class, WbRestoreDialog, scrolled);
  gtk_widget_class_bind_template_child (widget_class, WbRestoreDialog, list);
  gtk_widget_class_bind_template_child (widget_class, WbRestoreDialog, none);
  gtk_widget_class_bind_template_child (widget_class, WbRestoreDialog, job_bar);
  gtk_widget_class_bind_template_child (widget_class, WbRestoreDialog, problem);
  gtk_widget_class_bind_template_child (widget_class, WbRestoreDialog, lost);
  gtk_widget_class_bind_template_child (widget_class, WbRestoreDialog, done);
  gtk_widget_class_bind_template_child (widget_class, WbRestoreDialog, open);
  gtk_widget_class_bind_template_child (widget_class, WbRestoreDialog, salvage);
  gtk_widget_class_bind_template_child (widget_class, WbRestoreDialog, elsewhere);
  gtk_widget_class_bind_template_child (widget_class, WbRestoreDialog, restore);
  gtk_widget_class_bind_template_callback (widget_class, update);
  gtk_widget_class_bind_template_callback (widget_class, on_restore_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_salvage_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_elsewhere_clicked_cb);
}

static void
wb_restore_dialog_init (WbRestoreDialog *self)
{
  self->cancellable = g_cancellable_new ();
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
wb_restore_dialog_new (GtkWidget  *where,
                       const char *path,
                       const char *who,
                       const char *problem)
{
  GtkRoot *root = where != NULL ? gtk_widget_get_root (where) : NULL;
  g_autofree char *name = NULL;
  WbRestoreDialog *self;

  g_return_val_if_fail (path != NULL, NULL);

  self = g_object_new (WB_TYPE_RESTORE_DIALOG, "transient-for", GTK_IS_WINDOW (root) ? root : NULL, NULL);
  self->path = g_strdup (path);
  self->who = g_strdup (who);
  name = g_filename_display_name (path);
  gtk_label_set_text (self->file, name);
  show (self->why, problem);
  gtk_widget_set_visible (self->salvage, problem != NULL);
  gtk_widget_set_visible (self->either, problem != NULL);
  update (self);
  wb_app_backup_list_async (path, self->cancellable, on_listed_cb, wb_weak_widget_new (self));
  return GTK_WIDGET (self);
}
