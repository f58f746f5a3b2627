/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-logger-dialog.h"

#include "wb-accessible-name.h"
#include "wb-app-query.h"
#include "wb-bundle.h"
#include "wb-chart-view.h"
#include "wb-grey.h"
#include "wb-logger-words.h"
#include "wb-problem.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>

struct _WbLoggerDialog
{
  GtkWindow         parent_instance;

  /* children */
  GtkLabel         *heading;
  GtkDropDown      *burn;
  GtkWidget        *choosing;
  WbLoggerEditor   *editor;
  WbChartView      *chart;
  GtkLabel         *summary;
  GtkLabel         *cut;
  GtkWidget        *refused_scroll;
  GtkLabel         *refused;
  GtkLabel         *problem;
  GtkWidget        *taking_out;
  GtkEditable      *reason;
  GtkWidget        *take_out;
  GtkWidget        *keep;

  /* owned */
  WbAppNotebook    *notebook;
  WbAppBenchSample *sample;
  GFile            *file;        /* NULL: of a kept one */
  WbAttachment     *kept;        /* NULL: of a new one */
  GPtrArray        *burns;       /* WbBurn, newest first; NULL: not read yet */
  WbAppLogger      *logger;      /* what was read last; NULL: nothing */
  GCancellable     *reading;     /* NULL: nothing is on its way */

  /* state */
  gboolean          us_units;
  gboolean          current;     /* what was read last is what is chosen */
  gboolean          saving;
};

G_DEFINE_FINAL_TYPE (WbLoggerDialog, wb_logger_dialog, GTK_TYPE_WINDOW)

static void
show_text (GtkLabel   *label,
           const char *text)
{
  gtk_label_set_text (label, text);
  gtk_widget_set_visible (GTK_WIDGET (label), *text != '\0');
}

static void
update_buttons (WbLoggerDialog *self)
{
  gboolean writable = !self->saving && !wb_app_notebook_get_read_only (self->notebook);
  const char *locked = writable ? NULL : self->saving ? _("It is being saved") : _("The notebook can be read only");
  gboolean full = self->current && self->logger != NULL && self->logger->summary.n > 0;

  wb_grey_set (self->keep, locked != NULL ? locked : !full ? _("No reading of the file lies within the burn, as its columns are chosen") : NULL);
  wb_grey_set (self->take_out, locked);
}

static void
show_logger (WbLoggerDialog *self)
{
  WbAppLogger *logger = self->logger;
  gboolean read = logger != NULL && logger->logger != NULL;
  g_autofree char *summary = read ? wb_logger_words_dup_summary (logger, self->us_units) : g_strdup ("");
  g_autofree char *cut = read ? wb_craft_logger_dup_cut (&logger->summary) : g_strdup ("");
  g_autofree char *refused = read ? wb_logger_words_dup_refused (logger) : g_strdup ("");

  wb_chart_view_set_chart (self->chart, read ? logger->chart : NULL);
  show_text (self->summary, summary);
  if (read && wb_craft_logger_is_over (&logger->summary))
    gtk_widget_add_css_class (GTK_WIDGET (self->summary), "cautionline");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self->summary), "cautionline");
  show_text (self->cut, cut);
  show_text (self->refused, refused);
  gtk_widget_set_visible (self->refused_scroll, *refused != '\0');
  show_text (self->problem, logger != NULL && logger->problem != NULL ? logger->problem : "");
  update_buttons (self);
}

/* The editor is filled where its columns are other ones: what a person is at is left alone. */
static void
fill_editor (WbLoggerDialog    *self,
             const WbAppLogger *before)
{
  if (self->logger->names != NULL
      && (before == NULL || !g_strv_equal ((const char *const *) before->names, (const char *const *) self->logger->names)))
    wb_logger_editor_set (self->editor, self->logger->choice, (const char *const *) self->logger->names);
}

static void
on_read_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      user)
{
  g_autoptr (WbLoggerDialog) self = wb_weak_widget_take (user);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppLogger) logger = wb_app_logger_read_finish (WB_APP_NOTEBOOK (source), result, &error), before = NULL;

  /* Closed in the meantime, or something else was chosen. */
  if (self == NULL || g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  g_clear_object (&self->reading);
  if (logger == NULL)
    {
      wb_problem_tell_error (self->problem, error);
      update_buttons (self);
      return;
    }
  before = g_steal_pointer (&self->logger);
  self->logger = g_steal_pointer (&logger);
  self->current = TRUE;
  fill_editor (self, before);
  show_logger (self);
}

/* By what is chosen; what is on its way is given up. */
static void
read_file (WbLoggerDialog *self)
{
  g_autoptr (WbLoggerChoice) choice = wb_logger_editor_dup_choice (self->editor);
  guint burn = gtk_drop_down_get_selected (self->burn);

  if (self->burns == NULL || burn >= self->burns->len || self->saving)
    return;
  if (self->reading != NULL)
    g_cancellable_cancel (self->reading);
  g_clear_object (&self->reading);
  self->reading = g_cancellable_new ();
  self->current = FALSE;
  update_buttons (self);
  wb_app_logger_read_async (self->notebook, self->sample, g_ptr_array_index (self->burns, burn), self->file, self->logger, choice,
                            self->us_units, self->reading, on_read_cb, wb_weak_widget_new (self));
}

static void
on_editor_changed_cb (WbLoggerDialog *self)
{
  read_file (self);
}

static void
on_burn_selected_cb (WbLoggerDialog *self)
{
  read_file (self);
}

static int
compare_burns (gconstpointer a,
               gconstpointer b)
{
  const WbBurn *one = *(const WbBurn *const *) a, *other = *(const WbBurn *const *) b;

  return one->number > other->number ? -1 : one->number < other->number;
}

static void
on_burns_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      user)
{
  g_autoptr (WbLoggerDialog) self = wb_weak_widget_take (user);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) burns = wb_app_query_list_finish (WB_APP_NOTEBOOK (source), result, &error);
  g_autoptr (GtkStringList) titles = gtk_string_list_new (NULL);

  if (self == NULL)
    return;
  if (burns == NULL)
    {
      wb_problem_tell_error (self->problem, error);
      return;
    }
  if (burns->len == 0)
    {
      show_text (self->problem, _("It was not lit yet: a logger's file stands beside a burn."));
      return;
    }
  g_ptr_array_sort (burns, compare_burns);
  for (guint i = 0; i < burns->len; i++)
    {
      const WbBurn *burn = g_ptr_array_index (burns, i);
      g_autofree char *lit = burn->lit_at.known ? wb_instant_format_short (burn->lit_at) : g_strdup (_("not known when"));
      /* Translators: number of the burn; when it was lit. */
      g_autofree char *title = g_strdup_printf (_("Burn %d, lit %s"), (int) burn->number, lit);

      gtk_string_list_append (titles, title);
    }
  gtk_drop_down_set_model (self->burn, G_LIST_MODEL (titles));
  self->burns = g_steal_pointer (&burns);
  read_file (self);
}

static void
on_done_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      user)
{
  g_autoptr (WbLoggerDialog) self = NULL;
  g_autoptr (GError) error = NULL;

  wb_app_attachment_finish (WB_APP_NOTEBOOK (source), result, &error);
  self = wb_weak_widget_take_saved (user, _("The logger's file is as it was"), error);
  if (self == NULL)
    return;
  self->saving = FALSE;
  wb_problem_tell_error (self->problem, error);
  update_buttons (self);
}

static void
on_keep_clicked_cb (WbLoggerDialog *self)
{
  if (!gtk_widget_get_sensitive (self->keep))
    return;
  self->saving = TRUE;
  update_buttons (self);
  wb_app_logger_add_async (self->notebook, self->logger, wb_app_bench_sample_get_code (self->sample), NULL, on_done_cb, wb_weak_widget_new (self));
}

static void
on_take_out_clicked_cb (WbLoggerDialog *self)
{
  g_autofree char *reason = g_strstrip (g_strdup (gtk_editable_get_text (self->reason)));

  if (!gtk_widget_get_sensitive (self->take_out))
    return;
  if (*reason == '\0')
    {
      show_text (self->problem, _("Say why: the reason stays in the record."));
      gtk_widget_grab_focus (GTK_WIDGET (self->reason));
      return;
    }
  self->saving = TRUE;
  update_buttons (self);
  wb_app_attachment_take_out_async (self->notebook, self->kept, reason, NULL, on_done_cb, wb_weak_widget_new (self));
}

static void
wb_logger_dialog_dispose (GObject *object)
{
  WbLoggerDialog *self = WB_LOGGER_DIALOG (object);

  if (self->reading != NULL)
    g_cancellable_cancel (self->reading);
  g_clear_object (&self->reading);
  g_clear_object (&self->notebook);
  g_clear_object (&self->sample);
  g_clear_object (&self->file);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_LOGGER_DIALOG);
  G_OBJECT_CLASS (wb_logger_dialog_parent_class)->dispose (object);
}

static void
wb_logger_dialog_finalize (GObject *object)
{
  WbLoggerDialog *self = WB_LOGGER_DIALOG (object);

  wb_record_free (self->kept);
  g_clear_pointer (&self->burns, g_ptr_array_unref);
  wb_app_logger_free (self->logger);
  G_OBJECT_CLASS (wb_logger_dialog_parent_class)->finalize (object);
}

static void
wb_logger_dialog_class_init (WbLoggerDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_CHART_VIEW);
  g_type_ensure (WB_TYPE_LOGGER_EDITOR);
  G_OBJECT_CLASS (klass)->dispose = wb_logger_dialog_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_logger_dialog_finalize;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "logger-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, WbLoggerDialog, heading);
  gtk_widget_class_bind_template_child (widget_class, WbLoggerDialog, burn);
  gtk_widget_class_bind_template_child (widget_class, WbLoggerDialog, choosing);
  gtk_widget_class_bind_template_child (widget_class, WbLoggerDialog, editor);
  gtk_widget_class_bind_template_child (widget_class, WbLoggerDialog, chart);
  gtk_widget_class_bind_template_child (widget_class, WbLoggerDialog, summary);
  gtk_widget_class_bind_template_child (widget_class, WbLoggerDialog, cut);
  gtk_widget_class_bind_template_child (widget_class, WbLoggerDialog, refused_scroll);
  gtk_widget_class_bind_template_child (widget_class, WbLoggerDialog, refused);
  gtk_widget_class_bind_template_child (widget_class, WbLoggerDialog, problem);
  gtk_widget_class_bind_template_child (widget_class, WbLoggerDialog, taking_out);
  gtk_widget_class_bind_template_child (widget_class, WbLoggerDialog, reason);
  gtk_widget_class_bind_template_child (widget_class, WbLoggerDialog, take_out);
  gtk_widget_class_bind_template_child (widget_class, WbLoggerDialog, keep);
  gtk_widget_class_bind_template_callback (widget_class, on_editor_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_burn_selected_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_keep_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_take_out_clicked_cb);
}

static void
wb_logger_dialog_init (WbLoggerDialog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  wb_accessible_name_drop_down (self->burn, _("Burn"));
  wb_chart_view_set_minimum (self->chart, 380, 220);
}

/* Either way; name: of the file. */
static WbLoggerDialog *
dialog_new (GtkWidget        *where,
            WbAppNotebook    *notebook,
            WbAppBenchSample *sample,
            const char       *name,
            gboolean          us_units)
{
  GtkRoot *root = where != NULL ? gtk_widget_get_root (where) : NULL;
  /* Translators: the file's name; sample code. */
  g_autofree char *title = g_strdup_printf (_("Logger's file “%s” beside %s"), name, wb_app_bench_sample_get_code (sample));
  WbLoggerDialog *self = g_object_new (WB_TYPE_LOGGER_DIALOG, "title", title, "transient-for", GTK_IS_WINDOW (root) ? root : NULL, NULL);

  self->notebook = g_object_ref (notebook);
  self->sample = g_object_ref (sample);
  self->us_units = us_units;
  gtk_label_set_text (self->heading, title);
  update_buttons (self);
  return self;
}

GtkWidget *
wb_logger_dialog_new (GtkWidget        *where,
                      WbAppNotebook    *notebook,
                      WbAppBenchSample *sample,
                      GFile            *file,
                      gboolean          us_units)
{
  g_autofree char *name = NULL;
  WbLoggerDialog *self;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (sample), NULL);
  g_return_val_if_fail (G_IS_FILE (file), NULL);

  name = g_file_get_basename (file);
  self = dialog_new (where, notebook, sample, name, us_units);
  self->file = g_object_ref (file);
  gtk_widget_set_visible (self->taking_out, FALSE);
  wb_app_query_list_by_async (notebook, &wb_burn_type, "sample", wb_app_bench_sample_get_id (sample), NULL, on_burns_cb, wb_weak_widget_new (self));
  return GTK_WIDGET (self);
}

GtkWidget *
wb_logger_dialog_new_kept (GtkWidget          *where,
                           WbAppNotebook      *notebook,
                           WbAppBenchSample   *sample,
                           const WbAttachment *kept,
                           gboolean            us_units)
{
  WbLoggerDialog *self;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (sample), NULL);
  g_return_val_if_fail (kept != NULL && kept->record.type == &wb_attachment_type, NULL);

  self = dialog_new (where, notebook, sample, kept->name, us_units);
  self->kept = wb_record_copy (kept);
  gtk_widget_set_visible (GTK_WIDGET (self->burn), FALSE);
  gtk_widget_set_visible (self->choosing, FALSE);
  gtk_widget_set_visible (self->keep, FALSE);
  self->reading = g_cancellable_new ();
  wb_app_logger_load_async (notebook, sample, self->kept, us_units, self->reading, on_read_cb, wb_weak_widget_new (self));
  return GTK_WIDGET (self);
}

const WbAppLogger *
wb_logger_dialog_get_logger (WbLoggerDialog *self)
{
  g_return_val_if_fail (WB_IS_LOGGER_DIALOG (self), NULL);
  return self->current ? self->logger : NULL;
}

WbLoggerEditor *
wb_logger_dialog_get_editor (WbLoggerDialog *self)
{
  g_return_val_if_fail (WB_IS_LOGGER_DIALOG (self), NULL);
  return self->editor;
}
