/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-burn-page-private.h"

#include "wb-problem.h"

#include <glib/gi18n.h>

/*
 * A finished experiment has no candle on the bench; a reference of it is lit, for a check burn beside a later batch, once it is
 * open again. The page says so where its candles would stand, and opens it: one entry.
 */

/* The open experiment where it is finished; NULL: it is not, or is not read yet. Borrowed. */
static const WbExperiment *
find_finished (WbBurnPage *self)
{
  WbDesk *desk = wb_page_get_desk (WB_PAGE (self));
  GListModel *experiments = desk != NULL ? G_LIST_MODEL (wb_desk_get_experiments (desk)) : NULL;

  for (guint i = 0; experiments != NULL && i < g_list_model_get_n_items (experiments); i++)
    {
      g_autoptr (WbAppExperiment) item = g_list_model_get_item (experiments, i);
      const WbExperiment *record = wb_app_experiment_get_record (item);

      if (record->record.id == wb_page_get_experiment (WB_PAGE (self)))
        return record->closed ? record : NULL;
    }
  return NULL;
}

gboolean
wb_burn_page_is_finished (WbBurnPage *self)
{
  return find_finished (self) != NULL;
}

void
wb_burn_page_show_finished (WbBurnPage *self)
{
  const WbExperiment *finished = find_finished (self);
  g_autofree char *words = NULL, *button = NULL;

  gtk_widget_set_visible (self->finished, finished != NULL);
  gtk_label_set_text (self->empty, finished != NULL ? _("Nothing burns.")
                                                    : _("Nothing of this experiment is poured yet, and nothing else burns."));
  if (finished == NULL)
    return;
  words = g_strdup_printf (_("%s is finished: its candles are off the bench. To light one of them, such as a reference for a check burn, open it again; "
                             "undo finishes it."), finished->code);
  button = g_strdup_printf (_("_Open %s again"), finished->code);
  gtk_label_set_text (self->finished_words, words);
  gtk_button_set_label (GTK_BUTTON (self->reopen), button);
}

static void
on_reopened_cb (GObject      *source,
                GAsyncResult *result,
                gpointer      user)
{
  g_autoptr (WbBurnPage) self = user;
  g_autoptr (GError) error = NULL;

  wb_app_notebook_save_finish (WB_APP_NOTEBOOK (source), result, NULL, &error);
  if (error != NULL)
    wb_problem_show (GTK_WIDGET (self), _("The experiment was not opened again"), error);
}

void
wb_burn_page_reopen (WbBurnPage *self)
{
  const WbExperiment *finished = find_finished (self);
  g_autoptr (WbRecord) record = NULL;
  g_autofree char *why = NULL;

  if (finished == NULL)
    return;
  record = wb_record_copy (finished);
  ((WbExperiment *) record)->closed = FALSE;
  why = g_strdup_printf (_("Open %s again"), finished->code);
  wb_app_notebook_save_record_async (wb_page_get_notebook (WB_PAGE (self)), why, record, NULL, on_reopened_cb, g_object_ref (self));
}
