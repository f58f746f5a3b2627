/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-logger-strip.h"

#include "wb-app-logger.h"
#include "wb-bundle.h"
#include "wb-file-choice.h"
#include "wb-focus-walk.h"
#include "wb-logger-dialog.h"
#include "wb-logger-words.h"
#include "wb-problem.h"

#include <glib/gi18n.h>

/* CSS node: loggerstrip. */

struct _WbLoggerStrip
{
  GtkWidget         parent_instance;

  /* children */
  GtkExpander      *expander;
  GtkLabel         *title;
  GtkWidget        *add;
  GtkLabel         *status;
  GtkWidget        *scrolled;
  GtkListBox       *list;

  /* owned */
  WbAppNotebook    *notebook;
  WbAppBenchSample *sample;      /* NULL: nobody's */
  WbAppAttachments *files;       /* NULL while folded */
  GCancellable     *cancellable; /* of what the rows read */

  /* state */
  gboolean          us_units;
  gboolean          focus;       /* the first file gets the keyboard as soon as there is one */
};

G_DEFINE_FINAL_TYPE (WbLoggerStrip, wb_logger_strip, GTK_TYPE_WIDGET)

/* ---- Rows ---- */

/* Whose row it is, while its file is being read. */
typedef struct
{
  GtkWidget *row;
  char      *title;
  gboolean   us_units;
} Look;

static void
look_free (Look *look)
{
  g_object_unref (look->row);
  g_free (look->title);
  g_free (look);
}

static void
show_said (Look       *look,
           const char *said,
           gboolean    over)
{
  GtkWidget *box = gtk_list_box_row_get_child (GTK_LIST_BOX_ROW (look->row));
  GtkWidget *label = gtk_widget_get_last_child (box);
  g_autofree char *spoken = g_strdup_printf ("%s, %s", look->title, said);

  gtk_label_set_text (GTK_LABEL (label), said);
  if (over)
    gtk_widget_add_css_class (label, "cautionline");
  gtk_accessible_update_property (GTK_ACCESSIBLE (look->row), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
}

static void
on_read_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      user)
{
  Look *look = user;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppLogger) logger = wb_app_logger_read_finish (WB_APP_NOTEBOOK (source), result, &error);
  g_autofree char *said = NULL;

  if (logger != NULL && logger->logger != NULL)
    {
      said = wb_logger_words_dup_summary (logger, look->us_units);
      show_said (look, said, wb_craft_logger_is_over (&logger->summary));
    }
  else if (logger != NULL)
    show_said (look, logger->problem, FALSE);
  else if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    {
      wb_problem_dup_words (NULL, error, NULL, &said);
      show_said (look, said != NULL ? said : error->message, FALSE);
    }
  look_free (look);
}

static GtkWidget *
create_row (gpointer item,
            gpointer user)
{
  WbLoggerStrip *self = user;
  const WbAttachment *record = wb_app_attachments_item_get_record (item);
  GtkWidget *row = gtk_list_box_row_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *title = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "ellipsize", PANGO_ELLIPSIZE_MIDDLE, NULL);
  GtkWidget *said = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR, NULL);
  Look *look = g_new0 (Look, 1);

  /* Translators: number of the burn; name of a file. */
  look->title = g_strdup_printf (_("Burn %d: %s"), wb_app_attachments_item_get_burn (item), record->name);
  look->row = g_object_ref_sink (row);
  look->us_units = self->us_units;
  gtk_label_set_text (GTK_LABEL (title), look->title);
  gtk_widget_add_css_class (title, "heading");
  gtk_label_set_text (GTK_LABEL (said), _("It is being read"));
  gtk_box_append (GTK_BOX (box), title);
  gtk_box_append (GTK_BOX (box), said);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, look->title, -1);
  wb_app_logger_load_async (self->notebook, self->sample, record, self->us_units, self->cancellable, on_read_cb, look);
  /* Handed over: the list lets go of what it is given. */
  return g_object_ref (row);
}

static void
on_row_activated_cb (WbLoggerStrip *self,
                     GtkListBoxRow *row)
{
  g_autoptr (WbAppAttachmentsItem) item = g_list_model_get_item (G_LIST_MODEL (self->files), (guint) gtk_list_box_row_get_index (row));

  if (item != NULL)
    wb_logger_strip_open (self, item);
}

/* ---- What is shown ---- */

static void
show_status (WbLoggerStrip *self)
{
  guint n = self->files != NULL ? g_list_model_get_n_items (G_LIST_MODEL (self->files)) : 0;
  gboolean none = n == 0 && self->files != NULL && wb_app_live_list_get_loaded (WB_APP_LIVE_LIST (self->files));

  gtk_label_set_text (self->status, none ? _("None yet. Drop one here.") : "");
  gtk_widget_set_visible (self->scrolled, n > 0);
}

static void
focus_first (WbLoggerStrip *self)
{
  GtkListBoxRow *row;

  if (!self->focus || self->files == NULL || !wb_app_live_list_get_loaded (WB_APP_LIVE_LIST (self->files)))
    return;
  self->focus = FALSE;
  row = gtk_list_box_get_row_at_index (self->list, 0);
  gtk_widget_grab_focus (row != NULL ? GTK_WIDGET (row) : self->add);
}

static void
on_loaded_cb (WbLoggerStrip *self)
{
  const GError *error = wb_app_live_list_get_error (WB_APP_LIVE_LIST (self->files));

  if (error != NULL)
    wb_problem_show (GTK_WIDGET (self), _("The loggers' files could not be read"), error);
  show_status (self);
  focus_first (self);
}

static void
drop_files (WbLoggerStrip *self)
{
  gtk_list_box_bind_model (self->list, NULL, NULL, NULL, NULL);
  g_cancellable_cancel (self->cancellable);
  g_object_unref (self->cancellable);
  self->cancellable = g_cancellable_new ();
  if (self->files != NULL)
    g_signal_handlers_disconnect_by_data (self->files, self);
  g_clear_object (&self->files);
}

/* Follows the fold, and whose files they are. */
static void
update_files (WbLoggerStrip *self)
{
  drop_files (self);
  if (self->sample != NULL && gtk_expander_get_expanded (self->expander))
    {
      self->files = wb_app_attachments_new (self->notebook, wb_app_bench_sample_get_id (self->sample), WB_ATTACHMENT_LOGGER);
      g_signal_connect_swapped (self->files, "notify::loaded", G_CALLBACK (on_loaded_cb), self);
      g_signal_connect_swapped (self->files, "items-changed", G_CALLBACK (show_status), self);
      gtk_list_box_bind_model (self->list, G_LIST_MODEL (self->files), create_row, self, NULL);
    }
  show_status (self);
}

static void
on_expanded_cb (WbLoggerStrip *self)
{
  update_files (self);
}

/* ---- Life ---- */

static void
wb_logger_strip_dispose (GObject *object)
{
  WbLoggerStrip *self = WB_LOGGER_STRIP (object);
  GtkWidget *child;

  if (self->list != NULL)
    drop_files (self);
  g_clear_object (&self->notebook);
  g_clear_object (&self->sample);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_LOGGER_STRIP);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))) != NULL)
    gtk_widget_unparent (child);
  G_OBJECT_CLASS (wb_logger_strip_parent_class)->dispose (object);
}

static void
wb_logger_strip_finalize (GObject *object)
{
  g_object_unref (WB_LOGGER_STRIP (object)->cancellable);
  G_OBJECT_CLASS (wb_logger_strip_parent_class)->finalize (object);
}

static void
wb_logger_strip_class_init (WbLoggerStripClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_logger_strip_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_logger_strip_finalize;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "loggerstrip");
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "logger-strip.ui");
  gtk_widget_class_bind_template_child (widget_class, WbLoggerStrip, expander);
  gtk_widget_class_bind_template_child (widget_class, WbLoggerStrip, title);
  gtk_widget_class_bind_template_child (widget_class, WbLoggerStrip, add);
  gtk_widget_class_bind_template_child (widget_class, WbLoggerStrip, status);
  gtk_widget_class_bind_template_child (widget_class, WbLoggerStrip, scrolled);
  gtk_widget_class_bind_template_child (widget_class, WbLoggerStrip, list);
  gtk_widget_class_bind_template_callback (widget_class, on_expanded_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_row_activated_cb);
  gtk_widget_class_bind_template_callback (widget_class, wb_logger_strip_choose);
}

static void
wb_logger_strip_init (WbLoggerStrip *self)
{
  self->cancellable = g_cancellable_new ();
  gtk_widget_init_template (GTK_WIDGET (self));
  wb_focus_walk_fold (self->expander);
}

static gboolean
may_add (WbLoggerStrip *self)
{
  return self->sample != NULL && self->notebook != NULL && !wb_app_notebook_get_read_only (self->notebook);
}

void
wb_logger_strip_show (WbLoggerStrip    *self,
                      WbAppNotebook    *notebook,
                      WbAppBenchSample *sample,
                      gboolean          us_units)
{
  g_autofree char *title = NULL;

  g_return_if_fail (WB_IS_LOGGER_STRIP (self));
  g_return_if_fail (sample == NULL || notebook != NULL);

  gtk_widget_set_visible (GTK_WIDGET (self), sample != NULL);
  if (sample == self->sample && us_units == self->us_units && notebook == self->notebook)
    return;
  self->us_units = us_units;
  g_set_object (&self->notebook, notebook);
  g_set_object (&self->sample, sample);
  if (sample != NULL)
    title = g_strdup_printf (_("Temperature loggers beside %s"), wb_app_bench_sample_get_code (sample));
  gtk_label_set_text (self->title, title != NULL ? title : "");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->expander), GTK_ACCESSIBLE_PROPERTY_LABEL, title != NULL ? title : "", -1);
  gtk_widget_set_sensitive (self->add, may_add (self));
  update_files (self);
}

void
wb_logger_strip_toggle (WbLoggerStrip *self)
{
  g_return_if_fail (WB_IS_LOGGER_STRIP (self));

  self->focus = wb_focus_walk_toggle (self->expander);
  focus_first (self);
}

/* For whom it was asked: the choice may be another one by the time that the chooser answers. */
typedef struct
{
  WbLoggerStrip    *self;
  WbAppBenchSample *sample;
} Asked;

static GtkWidget *
open_file (WbLoggerStrip    *self,
           WbAppBenchSample *sample,
           GFile            *file)
{
  GtkWidget *dialog = wb_logger_dialog_new (GTK_WIDGET (self), self->notebook, sample, file, self->us_units);

  if (sample == self->sample)
    gtk_expander_set_expanded (self->expander, TRUE);
  gtk_window_present (GTK_WINDOW (dialog));
  return dialog;
}

static void
on_chosen_cb (const char *path,
              gpointer    user)
{
  Asked *asked = user;
  g_autoptr (GFile) file = path != NULL ? g_file_new_for_path (path) : NULL;

  if (file != NULL && asked->self->list != NULL && may_add (asked->self))
    open_file (asked->self, asked->sample, file);
  g_object_unref (asked->self);
  g_object_unref (asked->sample);
  g_free (asked);
}

void
wb_logger_strip_choose (WbLoggerStrip *self)
{
  Asked *asked;

  g_return_if_fail (WB_IS_LOGGER_STRIP (self));

  if (!may_add (self))
    return;
  asked = g_new0 (Asked, 1);
  asked->self = g_object_ref (self);
  asked->sample = g_object_ref (self->sample);
  wb_file_choice_open (GTK_WIDGET (self), _("Add a logger's file"), WB_FILE_LOG, on_chosen_cb, asked);
}

GtkWidget *
wb_logger_strip_add_file (WbLoggerStrip    *self,
                          WbAppBenchSample *sample,
                          GFile            *file)
{
  g_return_val_if_fail (WB_IS_LOGGER_STRIP (self), NULL);
  g_return_val_if_fail (sample == NULL || WB_IS_APP_BENCH_SAMPLE (sample), NULL);
  g_return_val_if_fail (G_IS_FILE (file), NULL);

  return may_add (self) ? open_file (self, sample != NULL ? sample : self->sample, file) : NULL;
}

GtkWidget *
wb_logger_strip_open (WbLoggerStrip        *self,
                      WbAppAttachmentsItem *item)
{
  GtkWidget *dialog;

  g_return_val_if_fail (WB_IS_LOGGER_STRIP (self), NULL);
  g_return_val_if_fail (WB_IS_APP_ATTACHMENTS_ITEM (item), NULL);

  dialog = wb_logger_dialog_new_kept (GTK_WIDGET (self), self->notebook, self->sample, wb_app_attachments_item_get_record (item),
                                      self->us_units);
  gtk_window_present (GTK_WINDOW (dialog));
  return dialog;
}

WbAppAttachments *
wb_logger_strip_get_files (WbLoggerStrip *self)
{
  g_return_val_if_fail (WB_IS_LOGGER_STRIP (self), NULL);
  return self->files;
}
