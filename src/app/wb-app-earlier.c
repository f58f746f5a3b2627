/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-earlier-private.h"

#include "wb-app-error-private.h"
#include "wb-app-reader-private.h"
#include "wb-clock.h"
#include "wb-store-dataset.h"

#define MOST_ASKED 24 /* experiments: a fit each, for every answer; what still older ones add is little */

/* One experiment's share of the progress. */
typedef struct
{
  WbAppJob *job;
  double    from, to;
} Share;

static gboolean
keep_going (double   done,
            gpointer user)
{
  const Share *share = user;

  return wb_app_job_report (share->job, share->from + done * (share->to - share->from), NULL);
}

/* The newest first, until nothing that the others say would be believed. FALSE: stopped. */
static gboolean
learn_from (WbStore         *store,
            GPtrArray       *experiments,
            const WbDataset *data,
            double           until,
            WbAppJob        *job,
            WbCraftEarlier  *earlier,
            GError         **error)
{
  guint n = MIN (experiments->len, MOST_ASKED), asked = 0;

  for (guint i = experiments->len; i > 0 && asked < MOST_ASKED && !wb_craft_earlier_is_sure (earlier); i--)
    {
      const WbStoreExperiment *experiment = g_ptr_array_index (experiments, i - 1);
      Share share = { job, until * MIN (asked, n - 1) / n, until * MIN (asked + 1, n) / n };
      g_autoptr (WbDataset) other = NULL;

      /* a second sample has a second burn */
      if (experiment->id == data->experiment->record.id || experiment->burnt < 2)
        continue;
      asked++;
      /* taken out or damaged meanwhile: it says nothing, and whoever opens it is told */
      other = wb_store_load_dataset (store, experiment->id, NULL);
      if (other == NULL)
        continue;
      if (keep_going (0, &share) && wb_craft_earlier_learn (earlier, other, keep_going, &share))
        continue;
      g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_CANCELLED, "Cancelled");
      return FALSE;
    }
  return TRUE;
}

gboolean
wb_app_earlier_learn (const char      *path,
                      const WbDataset *data,
                      double           until,
                      WbAppJob        *job,
                      WbCraftEarlier **earlier,
                      GError         **error)
{
  g_autoptr (WbCraftEarlier) learnt = NULL;
  g_autoptr (WbStore) store = NULL;
  g_autoptr (GPtrArray) experiments = NULL;

  *earlier = NULL;
  if (!wb_craft_earlier_is_needed (data))
    return TRUE;
  store = wb_app_reader_connect (path, error);
  if (store == NULL)
    return FALSE;
  learnt = wb_craft_earlier_new ();
  experiments = wb_store_list_experiments (store, wb_clock_now (wb_clock_get ()), error);
  if (experiments == NULL || !learn_from (store, experiments, data, until, job, learnt, error))
    {
      wb_app_error_from_store (error, WB_APP_ERROR_FAILED);
      return FALSE;
    }
  *earlier = g_steal_pointer (&learnt);
  return TRUE;
}
