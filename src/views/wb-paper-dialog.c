/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-paper-dialog.h"

#include "wb-bundle.h"
#include "wb-file-choice.h"
#include "wb-paper-view.h"
#include "wb-print.h"
#include "wb-problem.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>

struct _WbPaperDialog
{
  GtkWindow           parent_instance;

  /* children */
  WbPaperView        *preview;
  GtkLabel           *words;

  /* owned */
  GSimpleActionGroup *actions;
  char               *name;
  char               *path;     /* of the PDF that is being written */

  /* state */
  gboolean            writing;
};

G_DEFINE_FINAL_TYPE (WbPaperDialog, wb_paper_dialog, GTK_TYPE_WINDOW)

enum { USED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
tell_used (GtkWidget *widget)
{
  g_signal_emit (widget, signals[USED], 0);
}

static void
say (WbPaperDialog *self,
     const char    *format)
{
  g_autofree char *words = g_strdup_printf ("%s: %s", format, self->path);

  gtk_label_set_text (self->words, words);
}

static void
set_writing (WbPaperDialog *self,
             gboolean       writing)
{
  GAction *action = g_action_map_lookup_action (G_ACTION_MAP (self->actions), "write-pdf");

  self->writing = writing;
  g_simple_action_set_enabled (G_SIMPLE_ACTION (action), !writing);
}

static void
on_written_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      user)
{
  g_autoptr (WbPaperDialog) self = NULL;
  g_autoptr (GError) error = NULL;
  gboolean written = wb_paper_write_finish (result, &error);

  self = wb_weak_widget_take_or_tell (user, _("The PDF was not written"), error);
  if (self == NULL)
    return;
  set_writing (self, FALSE);
  if (written)
    {
      say (self, _("Written"));
      tell_used (GTK_WIDGET (self));
      return;
    }
  gtk_label_set_text (self->words, "");
  wb_problem_show (GTK_WIDGET (self), _("The PDF was not written"), error);
}

static void
on_path_cb (const char *path,
            gpointer    user)
{
  g_autoptr (WbPaperDialog) self = wb_weak_widget_take (user);

  if (path != NULL && self != NULL && !self->writing)
    wb_paper_dialog_write (self, path);
}

static void
on_write_pdf_cb (GSimpleAction *action,
                 GVariant      *parameter,
                 gpointer       user)
{
  WbPaperDialog *self = user;
  g_autofree char *name = g_strconcat (self->name, ".pdf", NULL);

  /* a name is any text; a file's name is not */
  g_strdelimit (name, "/", '-');
  wb_file_choice_save (GTK_WIDGET (self), _("Write as a PDF"), WB_FILE_PDF, name, on_path_cb, wb_weak_widget_new (self));
}

static void
on_print_cb (GSimpleAction *action,
             GVariant      *parameter,
             gpointer       user)
{
  WbPaperDialog *self = user;

  wb_print_paper (GTK_WIDGET (self), wb_paper_view_get_paper (self->preview), self->name, tell_used);
}

static void
on_close_cb (GSimpleAction *action,
             GVariant      *parameter,
             gpointer       user)
{
  gtk_window_close (GTK_WINDOW (user));
}

static const GActionEntry entries[] = {
  { "write-pdf", on_write_pdf_cb, NULL, NULL, NULL },
  { "print", on_print_cb, NULL, NULL, NULL },
  { "close", on_close_cb, NULL, NULL, NULL },
};

/* Not before it shows: a window of GTK 4.8 that has the focus before that is missing from the accessibility tree. */
static void
wb_paper_dialog_show (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (wb_paper_dialog_parent_class)->show (widget);
  gtk_widget_grab_focus (GTK_WIDGET (WB_PAPER_DIALOG (widget)->preview));
}

static void
wb_paper_dialog_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), WB_TYPE_PAPER_DIALOG);
  G_OBJECT_CLASS (wb_paper_dialog_parent_class)->dispose (object);
}

static void
wb_paper_dialog_finalize (GObject *object)
{
  WbPaperDialog *self = WB_PAPER_DIALOG (object);

  g_object_unref (self->actions);
  g_free (self->name);
  g_free (self->path);
  G_OBJECT_CLASS (wb_paper_dialog_parent_class)->finalize (object);
}

static void
wb_paper_dialog_class_init (WbPaperDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_PAPER_VIEW);
  G_OBJECT_CLASS (klass)->dispose = wb_paper_dialog_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_paper_dialog_finalize;
  widget_class->show = wb_paper_dialog_show;
  signals[USED] = g_signal_new ("used", WB_TYPE_PAPER_DIALOG, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "paper-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, WbPaperDialog, preview);
  gtk_widget_class_bind_template_child (widget_class, WbPaperDialog, words);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "paper.close", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_p, GDK_CONTROL_MASK, "paper.print", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_s, GDK_CONTROL_MASK, "paper.write-pdf", NULL);
}

static void
wb_paper_dialog_init (WbPaperDialog *self)
{
  self->actions = g_simple_action_group_new ();
  g_action_map_add_action_entries (G_ACTION_MAP (self->actions), entries, G_N_ELEMENTS (entries), self);
  gtk_widget_insert_action_group (GTK_WIDGET (self), "paper", G_ACTION_GROUP (self->actions));
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
wb_paper_dialog_new (GtkWidget  *where,
                     WbPaper    *paper,
                     const char *title,
                     const char *name)
{
  WbPaperDialog *self;
  GtkRoot *root;

  g_return_val_if_fail (paper != NULL && title != NULL && name != NULL, NULL);

  root = where != NULL ? gtk_widget_get_root (where) : NULL;
  self = g_object_new (WB_TYPE_PAPER_DIALOG, "title", title, "transient-for", GTK_IS_WINDOW (root) ? root : NULL, NULL);
  self->name = g_strdup (name);
  wb_paper_view_set_paper (self->preview, paper);
  return GTK_WIDGET (self);
}

void
wb_paper_dialog_write (WbPaperDialog *self,
                       const char    *path)
{
  g_return_if_fail (WB_IS_PAPER_DIALOG (self) && path != NULL);
  g_return_if_fail (!self->writing);

  g_free (self->path);
  self->path = g_strdup (path);
  set_writing (self, TRUE);
  say (self, _("Writing"));
  wb_paper_write_async (wb_paper_view_get_paper (self->preview), path, NULL, on_written_cb, wb_weak_widget_new (self));
}
