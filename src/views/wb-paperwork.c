/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-paperwork.h"

#include "wb-app-label-sheets.h"
#include "wb-paper-dialog.h"
#include "wb-problem.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>

/* Takes the document; NULL: the error is told. */
static void
show (GtkWidget        *where,
      WbReportDocument *document,
      const char       *title,
      const char       *name,
      const GError     *error)
{
  g_autoptr (WbPaper) paper = document != NULL ? wb_paper_new (document) : NULL;

  if (paper != NULL)
    gtk_window_present (GTK_WINDOW (wb_paper_dialog_new (where, paper, title, name)));
  else
    wb_problem_show (where, _("There is no paper to show"), error);
}

static const WbAppPourBatch *
get_batch (WbAppPour *pour,
           guint      batch)
{
  return g_ptr_array_index (wb_app_pour_get_batches (pour), batch);
}

void
wb_paperwork_batch (GtkWidget *where,
                    WbAppPour *pour,
                    guint      batch)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *name = NULL;
  WbReportDocument *document;

  g_return_if_fail (GTK_IS_WIDGET (where));
  g_return_if_fail (WB_IS_APP_POUR (pour) && batch < wb_app_pour_get_batches (pour)->len);

  document = wb_app_papers_batch_new (pour, batch, -1);
  if (document == NULL)
    {
      const char *refusal = get_batch (pour, batch)->refusal;

      error = g_error_new_literal (WB_APP_ERROR, WB_APP_ERROR_REFUSED, refusal != NULL ? refusal : _("The batch has no candles"));
    }
  /* Translators: name of a file and of a print job; code of the batch. */
  name = g_strdup_printf (_("Batch sheet %s"), get_batch (pour, batch)->batch->code);
  show (where, document, _("Batch sheet"), name, error);
}

/* What is to be shown once its thread has laid it out. */
typedef struct
{
  gpointer   weak;   /* where: the window may go in the meantime */
  const char *title; /* static */
  char      *name;
  char      *sheet;  /* of which labels are used; NULL: of none */
  guint      first, n;
} Shown;

static void
shown_free (gpointer    data,
            GClosure   *closure)
{
  Shown *self = data;

  g_free (self->name);
  g_free (self->sheet);
  g_free (self);
}

/* The next print begins where this one ended. */
static void
on_used_cb (GtkWidget   *dialog,
            const Shown *shown)
{
  GtkWindow *window = gtk_window_get_transient_for (GTK_WINDOW (dialog));
  WbDesk *desk = WB_IS_HOST (window) ? wb_host_get_desk (WB_HOST (window)) : NULL;
  g_autoptr (WbAppLabelSheets) sheets = NULL;
  g_autofree char *text = NULL;

  if (desk == NULL)
    return;
  sheets = wb_app_label_sheets_parse (wb_app_settings_get_label_sheets (wb_desk_get_settings (desk)));
  wb_app_label_sheets_use (sheets, shown->sheet, shown->first, shown->n);
  text = wb_app_label_sheets_format (sheets);
  wb_app_settings_set_label_sheets (wb_desk_get_settings (desk), text);
}

static void
on_laid_out_cb (GObject      *source,
                GAsyncResult *result,
                gpointer      user)
{
  Shown *shown = user;
  g_autoptr (GtkWidget) where = wb_weak_widget_take (shown->weak);
  g_autoptr (GError) error = NULL;
  WbReportDocument *document = wb_app_labels_new_finish (WB_APP_POUR (source), result, &error);
  g_autoptr (WbPaper) paper = document != NULL ? wb_paper_new (document) : NULL;
  GtkWidget *dialog;

  if (where == NULL || paper == NULL)
    {
      if (where != NULL)
        wb_problem_show (where, _("There is no paper to show"), error);
      shown_free (shown, NULL);
      return;
    }
  dialog = wb_paper_dialog_new (where, paper, shown->title, shown->name);
  if (shown->sheet != NULL)
    g_signal_connect_data (dialog, "used", G_CALLBACK (on_used_cb), shown, shown_free, 0);
  else
    shown_free (shown, NULL);
  gtk_window_present (GTK_WINDOW (dialog));
}

void
wb_paperwork_labels (GtkWidget              *where,
                     WbAppPour              *pour,
                     guint                   batch,
                     const WbAppLabelsTerms *terms,
                     const char             *sheet)
{
  Shown *shown;
  guint without_code;

  g_return_if_fail (GTK_IS_WIDGET (where));
  g_return_if_fail (WB_IS_APP_POUR (pour) && batch < wb_app_pour_get_batches (pour)->len);
  g_return_if_fail (terms != NULL);

  shown = g_new0 (Shown, 1);
  shown->weak = wb_weak_widget_new (where);
  shown->title = terms->kind == WB_APP_LABELS_BASE ? _("Labels") : _("Bench cards");
  /* Translators: name of a file and of a print job; code of the batch, here and below. */
  shown->name = g_strdup_printf (terms->kind == WB_APP_LABELS_BASE ? _("Labels %s") : _("Bench cards %s"), get_batch (pour, batch)->batch->code);
  shown->sheet = g_strdup (sheet);
  shown->first = terms->first;
  shown->n = wb_app_labels_count (pour, batch, &without_code);
  wb_app_labels_new_async (pour, batch, terms, NULL, on_laid_out_cb, shown);
}

void
wb_paperwork_alignment (GtkWidget                *where,
                        WbAppPour                *pour,
                        const WbReportLabelSheet *sheet)
{
  Shown *shown;

  g_return_if_fail (GTK_IS_WIDGET (where));
  g_return_if_fail (WB_IS_APP_POUR (pour) && sheet != NULL);

  shown = g_new0 (Shown, 1);
  shown->weak = wb_weak_widget_new (where);
  shown->title = _("Alignment print");
  shown->name = g_strdup (shown->title);
  wb_app_labels_new_alignment_async (pour, sheet, on_laid_out_cb, shown);
}

static void
on_card_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      user)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbReportDocument) document = wb_app_decision_papers_finish (WB_APP_NOTEBOOK (source), result, &error);
  Shown *shown = user;
  g_autoptr (GtkWidget) where = wb_weak_widget_take (shown->weak);

  if (where != NULL)
    show (where, g_steal_pointer (&document), shown->title, shown->name, error);
  shown_free (shown, NULL);
}

void
wb_paperwork_recipe_card (GtkWidget          *where,
                          WbAppNotebook      *notebook,
                          const WbAppTouched *decision)
{
  Shown *shown;

  g_return_if_fail (GTK_IS_WIDGET (where) && WB_IS_APP_NOTEBOOK (notebook) && decision != NULL);

  shown = g_new0 (Shown, 1);
  shown->weak = wb_weak_widget_new (where);
  shown->title = _("Recipe card");
  /* Translators: name of a file and of a print job; code of the experiment. */
  shown->name = g_strdup_printf (_("Recipe card %s"), decision->experiment_code);
  wb_app_decision_papers_async (notebook, decision->decision, NULL, -1, NULL, on_card_cb, shown);
}

/* Borrowed for this turn; NULL: the list does not hold it. */
static WbAppExperiment *
find_experiment (WbDesk *desk,
                 gint64  id)
{
  GListModel *list = G_LIST_MODEL (wb_desk_get_experiments (desk));

  for (guint i = 0; i < g_list_model_get_n_items (list); i++)
    {
      g_autoptr (WbAppExperiment) experiment = g_list_model_get_item (list, i);

      if (wb_app_experiment_get_id (experiment) == id)
        return experiment;
    }
  return NULL;
}

/* An experiment of the open notebook, and that notebook's settings; borrowed. NULL: there is none. */
static WbAppExperiment *
open_experiment (WbHost            *host,
                 gint64             id,
                 const WbNotebook **settings)
{
  WbDesk *desk = wb_host_get_desk (host);

  *settings = desk != NULL ? wb_app_notebook_get_settings (wb_desk_get_notebook (desk)) : NULL;
  return *settings != NULL ? find_experiment (desk, id) : NULL;
}

void
wb_paperwork_log (WbHost *host,
                  gint64  id)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *name = NULL;
  WbAppExperiment *experiment;
  WbReportDocument *document;
  const WbNotebook *settings;

  g_return_if_fail (WB_IS_HOST (host));

  experiment = open_experiment (host, id, &settings);
  if (experiment == NULL)
    return;
  document = wb_app_papers_log_new (wb_desk_get_bench (wb_host_get_desk (host)), settings, id, -1);
  if (document == NULL)
    error = g_error_new_literal (WB_APP_ERROR, WB_APP_ERROR_REFUSED, _("No sample of this experiment is poured and waits for the bench."));
  /* Translators: name of a file and of a print job; code of the experiment. */
  name = g_strdup_printf (_("Log sheet %s"), wb_app_experiment_get_code (experiment));
  show (GTK_WIDGET (host), document, _("Log sheet of an evening"), name, error);
}

void
wb_paperwork_bench_plan (WbHost *host,
                         gint64  id)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *name = NULL;
  WbAppExperiment *experiment;
  WbReportDocument *document;
  const WbNotebook *settings;
  WbDesk *desk;

  g_return_if_fail (WB_IS_HOST (host));

  experiment = open_experiment (host, id, &settings);
  if (experiment == NULL)
    return;
  desk = wb_host_get_desk (host);
  document = wb_app_papers_bench_plan_new (wb_desk_get_calendar (desk), wb_desk_get_bench (desk), settings, id, -1);
  if (document == NULL)
    error = g_error_new_literal (WB_APP_ERROR, WB_APP_ERROR_REFUSED,
                                 _("No sample of this experiment is poured and still burns on: there is nothing to plan."));
  /* Translators: name of a file and of a print job; code of the experiment. */
  name = g_strdup_printf (_("Plan of the bench %s"), wb_app_experiment_get_code (experiment));
  show (GTK_WIDGET (host), document, _("Plan of the bench"), name, error);
}
