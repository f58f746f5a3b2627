/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-import-dialog.h"

#include "wb-accessible-name.h"
#include "wb-app-import.h"
#include "wb-bundle.h"
#include "wb-grey.h"
#include "wb-host.h"
#include "wb-job-bar.h"
#include "wb-mapping-dialog.h"
#include "wb-problem.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>
#include <inttypes.h>

struct _WbImportDialog
{
  GtkWindow           parent_instance;

  /* children */
  GtkLabel           *file;
  WbJobBar           *job_bar;
  GtkLabel           *summary;
  GtkWidget          *remarks_box;
  GtkListView        *remarks;
  GtkWidget          *match;
  GtkWidget          *close;
  GtkWidget          *import;
  GtkWidget          *show;

  /* owned */
  WbAppNotebook      *notebook;
  char               *path;
  WbAppImportSummary *seen;    /* what the person says yes to; NULL: still looking */

  /* state */
  gint64              experiment; /* that the way on leads to; 0: none yet */
};

G_DEFINE_FINAL_TYPE (WbImportDialog, wb_import_dialog, GTK_TYPE_WINDOW)

enum { IMPORTED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
add_remarks (GtkStringList *list,
             GPtrArray     *remarks,
             const char    *word)
{
  for (guint i = 0; i < remarks->len; i++)
    {
      const WbLogRemark *remark = remarks->pdata[i];
      g_autofree char *line = NULL;

      if (*remark->column != '\0')
        line = g_strdup_printf (_("%s: line %" PRIu64 ", %s: %s"), word, remark->line, remark->column, remark->rule);
      else
        line = g_strdup_printf (_("%s: line %" PRIu64 ": %s"), word, remark->line, remark->rule);
      gtk_string_list_append (list, line);
    }
}

static void
show_remarks (WbImportDialog           *self,
              const WbAppImportSummary *summary)
{
  g_autoptr (GtkStringList) list = gtk_string_list_new (NULL);
  g_autoptr (GtkSelectionModel) selection = NULL;

  add_remarks (list, summary->refused, _("Refused"));
  add_remarks (list, summary->warnings, _("Warning"));
  selection = GTK_SELECTION_MODEL (gtk_no_selection_new (G_LIST_MODEL (g_object_ref (list))));
  gtk_list_view_set_model (self->remarks, selection);
  gtk_widget_set_visible (self->remarks_box, g_list_model_get_n_items (G_LIST_MODEL (list)) > 0);
}

static void
add_count (GString    *text,
           const char *format,
           guint64     n)
{
  g_string_append_printf (text, " · %s: %" G_GUINT64_FORMAT, format, n);
}

static char *
dup_summary (const WbAppImportSummary *summary)
{
  g_autofree char *extent = wb_app_import_dup_extent (summary->lines, summary->rows, summary->samples);
  GString *text = g_string_new (extent);

  add_count (text, summary->entry != 0 ? _("came in") : _("would come in"), summary->accepted);
  add_count (text, _("known already"), summary->known);
  add_count (text, _("refused"), summary->refused_rows);
  add_count (text, _("with a warning"), summary->warning_rows);
  if (summary->experiments != NULL && summary->experiments[0] != NULL)
    {
      g_autofree char *titles = g_strjoinv (", ", summary->experiments);

      g_string_append_printf (text, "\n%s: %s", _("Experiments"), titles);
    }
  if (summary->kept != NULL && summary->kept[0] != NULL)
    {
      g_autofree char *names = g_strjoinv (", ", summary->kept);

      g_string_append_printf (text, "\n%s: %s", _("Unknown columns, kept as they are"), names);
    }
  return g_string_free (text, FALSE);
}

static void
show_error (WbImportDialog *self,
            const char     *what,
            const GError   *error)
{
  g_autofree char *heading = NULL;
  g_autofree char *detail = NULL;
  g_autofree char *text = NULL;

  wb_problem_dup_words (what, error, &heading, &detail);
  text = g_strdup_printf ("%s\n%s", heading, detail);
  gtk_label_set_text (self->summary, text);
  gtk_widget_set_visible (self->remarks_box, FALSE);
}

/* Of another form than the program's own: the way on first, and what is missing below. */
static void
show_foreign (WbImportDialog *self,
              const GError   *error)
{
  g_autoptr (GtkStringList) list = gtk_string_list_new ((const char *const[]) { error->message, NULL });
  g_autoptr (GtkSelectionModel) selection = GTK_SELECTION_MODEL (gtk_no_selection_new (G_LIST_MODEL (g_object_ref (list))));

  gtk_label_set_text (self->summary, _("The log could not be read. Is it a sheet of your own? Its columns can be matched to those of a burn log."));
  gtk_list_view_set_model (self->remarks, selection);
  gtk_widget_set_visible (self->remarks_box, TRUE);
}

/* The window behind this dialog, or behind the dialog from which this one came. NULL: none. */
static WbHost *
find_host (WbImportDialog *self)
{
  GtkWindow *window = gtk_window_get_transient_for (GTK_WINDOW (self));

  while (window != NULL && !WB_IS_HOST (window))
    window = gtk_window_get_transient_for (window);
  return window != NULL ? WB_HOST (window) : NULL;
}

static gboolean
has_experiment (WbAppExperiments *experiments,
                gint64            id)
{
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (experiments)); i++)
    {
      g_autoptr (WbAppExperiment) experiment = g_list_model_get_item (G_LIST_MODEL (experiments), i);

      if (wb_app_experiment_get_id (experiment) == id)
        return TRUE;
    }
  return FALSE;
}

/* As soon as the window knows what has come in. */
static void
update_show (WbImportDialog *self)
{
  WbHost *host = find_host (self);
  WbDesk *desk = host != NULL ? wb_host_get_desk (host) : NULL;
  gboolean shown = desk != NULL && self->experiment != 0 && has_experiment (wb_desk_get_experiments (desk), self->experiment);

  if (shown == gtk_widget_get_visible (self->show))
    return;
  gtk_widget_set_visible (self->import, !shown);
  gtk_widget_set_visible (self->show, shown);
  if (shown)
    gtk_widget_grab_focus (self->show);
}

static void
lead_on (WbImportDialog *self,
         gint64          experiment)
{
  WbHost *host = find_host (self);

  self->experiment = experiment;
  if (experiment == 0 || host == NULL || wb_host_get_desk (host) == NULL)
    return;
  g_signal_connect_object (wb_desk_get_experiments (wb_host_get_desk (host)), "items-changed", G_CALLBACK (update_show), self, G_CONNECT_SWAPPED);
  update_show (self);
}

static void
on_show_clicked_cb (WbImportDialog *self)
{
  WbHost *host = find_host (self);
  gint64 experiment = self->experiment;

  gtk_window_destroy (GTK_WINDOW (self));
  if (host != NULL)
    gtk_widget_activate_action (GTK_WIDGET (host), "win.open-experiment", "x", experiment);
}

static void
on_looked_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      data)
{
  g_autoptr (WbImportDialog) self = wb_weak_widget_take (data);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppImportSummary) summary = wb_app_import_finish (WB_APP_NOTEBOOK (source), result, &error);
  g_autofree char *text = NULL;

  /* Closed in the meantime. */
  if (self == NULL)
    return;
  wb_job_bar_set_job (self->job_bar, NULL, NULL);
  if (summary == NULL)
    {
      if (g_error_matches (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED) && gtk_widget_get_visible (self->match))
        {
          show_foreign (self, error);
          gtk_widget_grab_focus (self->match);
        }
      else
        show_error (self, _("The log could not be read"), error);
      return;
    }
  text = dup_summary (summary);
  gtk_label_set_text (self->summary, text);
  show_remarks (self, summary);
  self->seen = g_steal_pointer (&summary);
  wb_grey_set (self->import, wb_app_notebook_get_read_only (self->notebook) ? _("The notebook can be read only")
                             : self->seen->accepted == 0 ? _("The file has no row that is not in the notebook yet and can be taken") : NULL);
  if (self->seen->accepted > 0)
    gtk_widget_grab_focus (self->import);
  else if (self->seen->known > 0)
    lead_on (self, self->seen->experiment);
}

static void
on_written_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      data)
{
  g_autoptr (WbImportDialog) self = wb_weak_widget_take (data);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppImportSummary) summary = wb_app_import_finish (WB_APP_NOTEBOOK (source), result, &error);
  g_autofree char *text = NULL;

  /* Closed in the meantime. */
  if (self == NULL)
    return;
  wb_job_bar_set_job (self->job_bar, NULL, NULL);
  gtk_button_set_label (GTK_BUTTON (self->close), _("Close"));
  if (summary == NULL)
    {
      show_error (self, _("Nothing was imported"), error);
      return;
    }
  text = dup_summary (summary);
  gtk_label_set_text (self->summary, text);
  show_remarks (self, summary);
  gtk_widget_set_visible (self->match, FALSE);
  gtk_widget_grab_focus (self->close);
  g_signal_emit (self, signals[IMPORTED], 0);
  lead_on (self, summary->experiment);
}

/* In place of this dialog, in front of the same window. */
static void
on_match_clicked_cb (WbImportDialog *self)
{
  GtkWindow *window = gtk_window_get_transient_for (GTK_WINDOW (self));

  gtk_window_present (GTK_WINDOW (wb_mapping_dialog_new (GTK_WIDGET (window), self->notebook, self->path)));
  gtk_window_destroy (GTK_WINDOW (self));
}

static void
on_import_clicked_cb (WbImportDialog *self)
{
  g_autoptr (WbAppJob) job = wb_app_job_new ();

  wb_grey_set (self->import, _("The import is on its way"));
  wb_job_bar_set_job (self->job_bar, job, _("Importing"));
  wb_app_import_write_async (self->notebook, self->seen, job, on_written_cb, wb_weak_widget_new (self));
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
  wb_accessible_name_list_item (item, text);
}

static void
wb_import_dialog_dispose (GObject *object)
{
  WbImportDialog *self = WB_IMPORT_DIALOG (object);

  if (self->job_bar != NULL && wb_job_bar_get_job (self->job_bar) != NULL)
    wb_app_job_cancel (wb_job_bar_get_job (self->job_bar));
  g_clear_object (&self->notebook);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_IMPORT_DIALOG);
  G_OBJECT_CLASS (wb_import_dialog_parent_class)->dispose (object);
}

static void
wb_import_dialog_finalize (GObject *object)
{
  g_clear_pointer (&WB_IMPORT_DIALOG (object)->seen, wb_app_import_summary_free);
  g_free (WB_IMPORT_DIALOG (object)->path);
  G_OBJECT_CLASS (wb_import_dialog_parent_class)->finalize (object);
}

static void
wb_import_dialog_class_init (WbImportDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_JOB_BAR);
  signals[IMPORTED] = g_signal_new ("imported", WB_TYPE_IMPORT_DIALOG, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  G_OBJECT_CLASS (klass)->dispose = wb_import_dialog_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_import_dialog_finalize;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "import-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, WbImportDialog, file);
  gtk_widget_class_bind_template_child (widget_class, WbImportDialog, job_bar);
  gtk_widget_class_bind_template_child (widget_class, WbImportDialog, summary);
  gtk_widget_class_bind_template_child (widget_class, WbImportDialog, remarks_box);
  gtk_widget_class_bind_template_child (widget_class, WbImportDialog, remarks);
  gtk_widget_class_bind_template_child (widget_class, WbImportDialog, match);
  gtk_widget_class_bind_template_child (widget_class, WbImportDialog, close);
  gtk_widget_class_bind_template_child (widget_class, WbImportDialog, import);
  gtk_widget_class_bind_template_child (widget_class, WbImportDialog, show);
  gtk_widget_class_bind_template_callback (widget_class, on_import_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_match_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_show_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_setup_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_bind_cb);
}

static void
wb_import_dialog_init (WbImportDialog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  wb_grey_say (self->import, _("The file is not read yet"));
}

GtkWidget *
wb_import_dialog_new (GtkWidget     *where,
                      WbAppNotebook *notebook,
                      const char    *file)
{
  return wb_import_dialog_new_mapped (where, notebook, file, NULL);
}

GtkWidget *
wb_import_dialog_new_mapped (GtkWidget          *where,
                             WbAppNotebook      *notebook,
                             const char         *file,
                             const WbLogMapping *mapping)
{
  GtkRoot *root = where != NULL ? gtk_widget_get_root (where) : NULL;
  g_autoptr (WbAppJob) job = wb_app_job_new ();
  g_autofree char *name = NULL;
  WbImportDialog *self;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  g_return_val_if_fail (file != NULL, NULL);

  self = g_object_new (WB_TYPE_IMPORT_DIALOG, "transient-for", GTK_IS_WINDOW (root) ? root : NULL, NULL);
  self->notebook = g_object_ref (notebook);
  self->path = g_strdup (file);
  gtk_widget_set_visible (self->match, mapping == NULL);
  name = g_filename_display_basename (file);
  gtk_label_set_text (self->file, name);
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->file), file);
  gtk_label_set_text (self->summary, _("Looking through the file; nothing is written yet."));
  gtk_widget_set_visible (self->remarks_box, FALSE);
  wb_job_bar_set_job (self->job_bar, job, _("Reading"));
  wb_app_import_look_async (notebook, file, mapping, job, on_looked_cb, wb_weak_widget_new (self));
  return GTK_WIDGET (self);
}
