/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-paperwork.h"

#include "wb-paper-dialog.h"
#include "wb-problem.h"

#include <glib/gi18n.h>

/* A paper between the wish for it and its window. */
typedef struct
{
  GtkWidget *where;
  char      *title;  /* of the window */
  char      *name;   /* of job and file */
} Wish;

static void
wish_free (Wish *wish)
{
  g_object_unref (wish->where);
  g_free (wish->title);
  g_free (wish->name);
  g_free (wish);
}

/* Takes the name. */
static Wish *
wish_new (GtkWidget  *where,
          const char *title,
          char       *name)
{
  Wish *wish = g_new0 (Wish, 1);

  wish->where = g_object_ref (where);
  wish->title = g_strdup (title);
  wish->name = name;
  return wish;
}

static void
on_made_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      user)
{
  Wish *wish = user;
  g_autoptr (GError) error = NULL;
  WbReportDocument *document = wb_app_papers_finish (source, result, &error);
  g_autoptr (WbPaper) paper = document != NULL ? wb_paper_new (document) : NULL;
  GtkRoot *root = gtk_widget_get_root (wish->where);

  if (root == NULL || !gtk_widget_get_realized (GTK_WIDGET (root)))
    ; /* the window has gone in the meantime */
  else if (paper != NULL)
    gtk_window_present (GTK_WINDOW (wb_paper_dialog_new (wish->where, paper, wish->title, wish->name)));
  else
    wb_problem_show (wish->where, _("There is no paper to show"), error);
  wish_free (wish);
}

static const char *
get_batch_code (WbAppPour *pour,
                guint      batch)
{
  return ((const WbAppPourBatch *) g_ptr_array_index (wb_app_pour_get_batches (pour), batch))->batch->code;
}

void
wb_paperwork_batch (GtkWidget *where,
                    WbAppPour *pour,
                    guint      batch)
{
  g_return_if_fail (GTK_IS_WIDGET (where));
  g_return_if_fail (WB_IS_APP_POUR (pour) && batch < wb_app_pour_get_batches (pour)->len);

  /* Translators: name of a file and of a print job; code of the batch. */
  wb_app_papers_batch_async (pour, batch, NULL, on_made_cb,
                             wish_new (where, _("Batch sheet"), g_strdup_printf (_("Batch sheet %s"), get_batch_code (pour, batch))));
}

void
wb_paperwork_labels (GtkWidget         *where,
                     WbAppPour         *pour,
                     guint              batch,
                     const WbAppLabels *how)
{
  g_return_if_fail (GTK_IS_WIDGET (where));
  g_return_if_fail (WB_IS_APP_POUR (pour) && batch < wb_app_pour_get_batches (pour)->len);
  g_return_if_fail (how != NULL);

  /* Translators: name of a file and of a print job; code of the batch. */
  wb_app_papers_labels_async (pour, batch, how, NULL, on_made_cb,
                              wish_new (where, _("Labels"), g_strdup_printf (_("Labels %s"), get_batch_code (pour, batch))));
}

/* A new reference; NULL: the list does not hold it. */
static WbAppExperiment *
find_experiment (WbDesk *desk,
                 gint64  id)
{
  GListModel *list = G_LIST_MODEL (wb_desk_get_experiments (desk));

  for (guint i = 0; i < g_list_model_get_n_items (list); i++)
    {
      g_autoptr (WbAppExperiment) experiment = g_list_model_get_item (list, i);

      if (wb_app_experiment_get_id (experiment) == id)
        return g_steal_pointer (&experiment);
    }
  return NULL;
}

void
wb_paperwork_log (WbWindow *window,
                  gint64    id)
{
  WbDesk *desk;
  g_autoptr (WbAppExperiment) experiment = NULL;

  g_return_if_fail (WB_IS_WINDOW (window));

  desk = wb_window_get_desk (window);
  experiment = desk != NULL ? find_experiment (desk, id) : NULL;
  if (experiment == NULL)
    return;
  /* Translators: name of a file and of a print job; code of the experiment. */
  wb_app_papers_log_async (wb_desk_get_notebook (desk), wb_desk_get_bench (desk), experiment, NULL, on_made_cb,
                           wish_new (GTK_WIDGET (window), _("Log sheet of an evening"),
                                     g_strdup_printf (_("Log sheet %s"), wb_app_experiment_get_code (experiment))));
}
