/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-history-dialog.h"

#include "wb-amend-words.h"
#include "wb-app-record.h"
#include "wb-bundle.h"
#include "wb-problem.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>

struct _WbHistoryDialog
{
  GtkWindow     parent_instance;

  /* children */
  GtkLabel     *heading;
  GtkListBox   *list;

  /* owned */
  GCancellable *cancellable;

  /* state */
  guint         n;
  gboolean      us_units;
};

G_DEFINE_FINAL_TYPE (WbHistoryDialog, wb_history_dialog, GTK_TYPE_WINDOW)

/* ---- Words ---- */

static char *
dup_when (const WbAppEntry *entry)
{
  g_autofree char *when = wb_instant_format_short (entry->made_at);

  return entry->who != NULL ? g_strdup_printf (_("%s, by %s"), when, entry->who) : g_steal_pointer (&when);
}

/* The entry's own words; those of undo and redo are the words of what they took back or did again. */
static char *
dup_why (const WbAppEntry *entry)
{
  const char *why = entry->why != NULL ? entry->why : "";

  if (g_strcmp0 (entry->kind, "undo") == 0 || g_strcmp0 (entry->kind, "take_back") == 0)
    return g_strdup_printf (_("Taken back: %s"), why);
  if (g_strcmp0 (entry->kind, "redo") == 0)
    return g_strdup_printf (_("Done again: %s"), why);
  return g_strdup (why);
}

/* before: NULL, the first version. */
static char *
dup_change (const WbAppVersion *before,
            const WbAppVersion *version,
            gboolean            us_units)
{
  const WbRecord *record = version->record, *old = before != NULL ? before->record : NULL;
  g_autofree char *text = NULL;

  if (record->deleted)
    return g_strdup (_("Taken out: it counts no longer."));
  if (old == NULL)
    text = wb_amend_words_dup_record (record, us_units);
  else if (old->deleted)
    return g_strdup (_("Back again: it counts as before."));
  else
    text = wb_amend_words_dup_change (old, record, us_units);
  return *text != '\0' ? g_steal_pointer (&text) : g_strdup (_("nothing stated"));
}

/* ---- Rows ---- */

static void
add_line (GtkBox     *row,
          const char *text,
          const char *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR,
                                   "max-width-chars", 60, NULL);

  gtk_widget_add_css_class (label, style);
  gtk_box_append (row, label);
}

static void
add_version (WbHistoryDialog    *self,
             const WbAppVersion *before,
             const WbAppVersion *version,
             gboolean            last)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *row = g_object_new (GTK_TYPE_LIST_BOX_ROW, "child", box, "activatable", FALSE, NULL);
  g_autofree char *when = dup_when (version->entry), *why = dup_why (version->entry);
  g_autofree char *change = dup_change (before, version, self->us_units);
  g_autofree char *head = last ? g_strdup_printf (_("As it stands: %s"), when) : g_strdup (when);
  g_autofree char *spoken = g_strjoin (". ", head, why, change, NULL);

  add_line (GTK_BOX (box), head, "heading");
  add_line (GTK_BOX (box), change, "numeric");
  add_line (GTK_BOX (box), why, "dim-label");
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
  gtk_list_box_append (self->list, row);
  self->n++;
}

static void
on_read_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      user)
{
  g_autoptr (WbHistoryDialog) self = wb_weak_widget_take (user);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) versions = wb_app_record_versions_finish (WB_APP_NOTEBOOK (source), result, &error);

  if (self == NULL)
    return;
  if (versions == NULL)
    {
      wb_problem_show (GTK_WIDGET (gtk_window_get_transient_for (GTK_WINDOW (self))), _("The history could not be read"), error);
      gtk_window_destroy (GTK_WINDOW (self));
      return;
    }
  for (guint i = 0; i < versions->len; i++)
    add_version (self, i > 0 ? g_ptr_array_index (versions, i - 1) : NULL, g_ptr_array_index (versions, i), i + 1 == versions->len);
  if (gtk_widget_get_mapped (GTK_WIDGET (self)))
    gtk_widget_grab_focus (GTK_WIDGET (gtk_list_box_get_row_at_index (self->list, 0)));
}

static void
wb_history_dialog_dispose (GObject *object)
{
  WbHistoryDialog *self = WB_HISTORY_DIALOG (object);

  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_HISTORY_DIALOG);
  G_OBJECT_CLASS (wb_history_dialog_parent_class)->dispose (object);
}

static void
wb_history_dialog_class_init (WbHistoryDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_history_dialog_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "history-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, WbHistoryDialog, heading);
  gtk_widget_class_bind_template_child (widget_class, WbHistoryDialog, list);
}

static void
wb_history_dialog_init (WbHistoryDialog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->cancellable = g_cancellable_new ();
}

GtkWidget *
wb_history_dialog_new (GtkWidget      *where,
                       WbAppNotebook  *notebook,
                       WbAppAmendItem *item,
                       const char     *code,
                       gboolean        us_units)
{
  GtkRoot *root = where != NULL ? gtk_widget_get_root (where) : NULL;
  g_autofree char *what = NULL, *title = NULL;
  const WbRecord *record;
  WbHistoryDialog *self;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  g_return_val_if_fail (WB_IS_APP_AMEND_ITEM (item), NULL);

  record = wb_app_amend_item_get_record (item);
  what = wb_amend_words_dup_whole (item, code);
  title = g_strdup_printf (_("History: %s"), what);
  self = g_object_new (WB_TYPE_HISTORY_DIALOG, "title", title, "transient-for", GTK_IS_WINDOW (root) ? root : NULL, NULL);
  /* A title bar cuts it, or is not there at all. */
  gtk_label_set_text (self->heading, title);
  self->us_units = us_units;
  wb_app_record_versions_async (notebook, record->type, record->id, self->cancellable, on_read_cb, wb_weak_widget_new (self));
  return GTK_WIDGET (self);
}

guint
wb_history_dialog_get_n (WbHistoryDialog *self)
{
  g_return_val_if_fail (WB_IS_HISTORY_DIALOG (self), 0);
  return self->n;
}
