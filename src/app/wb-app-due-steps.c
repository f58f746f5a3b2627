/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-due-private.h"

#include "wb-app-open-pours.h"
#include "wb-clock.h"
#include "wb-craft-method.h"

#include <glib/gi18n-lib.h>

/* The experiment's code; NULL: it is not there. Caller frees. */
static char *
dup_code (GListModel *experiments,
          gint64      id)
{
  for (guint i = 0; i < g_list_model_get_n_items (experiments); i++)
    {
      g_autoptr (WbAppExperiment) experiment = g_list_model_get_item (experiments, i);

      if (wb_app_experiment_get_id (experiment) == id)
        return g_strdup (wb_app_experiment_get_code (experiment));
    }
  return NULL;
}

/* So long after the step before it as the method says; not known where that has no moment. */
static WbInstant
find_moment (const GPtrArray *steps,
             guint            at)
{
  const WbBatchStep *step = steps->pdata[at], *before = at > 0 ? steps->pdata[at - 1] : NULL;

  if (before == NULL || !before->done_at.known || !(step->minutes > 0))
    return WB_INSTANT_NONE;
  return wb_clock_at (wb_clock_get (), before->done_at.utc_us + (gint64) (step->minutes * 60) * G_USEC_PER_SEC);
}

/* What comes after the first, each by its title; NULL: nothing. */
static char *
dup_then (const GPtrArray *steps,
          guint            first)
{
  g_autoptr (GString) words = g_string_new (NULL);

  for (guint i = first + 1; i < steps->len; i++)
    {
      const WbBatchStep *step = steps->pdata[i];
      g_autofree char *title = wb_craft_method_dup_title (step->kind);

      if (step->kind != WB_STEP_CURE && !step->done_at.known)
        g_string_append_printf (words, "%s%s", words->len > 0 ? ", " : "", title);
    }
  /* Translators: steps of a pour that come after one, "Top up, Let it set". */
  return words->len > 0 ? g_strdup_printf (_("Then: %s"), words->str) : NULL;
}

static WbAppDue *
step_new (const WbAppOpenPour *pour,
          const char          *experiment)
{
  guint at = wb_craft_method_find_waiting (pour->steps);
  g_autofree char *title = wb_craft_method_dup_title (((const WbBatchStep *) pour->steps->pdata[at])->kind);
  WbInstant moment = find_moment (pour->steps, at);
  WbAppDue *due = wb_app_due_new (WB_APP_DUE_STEP,
                                  /* Translators: a step of a pour, "Pierce"; codes of a batch and of its experiment. */
                                  g_strdup_printf (_("%s: batch %s of %s"), title, pour->batch->code, experiment),
                                  dup_then (pour->steps, at), pour->batch->experiment, 0, moment,
                                  moment.known && moment.utc_us <= wb_clock_now (wb_clock_get ()).utc_us);

  wb_app_due_set_batch (due, pour->batch->code);
  return due;
}

void
wb_app_due_add_steps (GPtrArray       *due,
                      const GPtrArray *pours,
                      GListModel      *experiments)
{
  WbDay today = wb_instant_get_day (wb_clock_now (wb_clock_get ()));

  for (guint i = 0; i < pours->len; i++)
    {
      const WbAppOpenPour *pour = pours->pdata[i];
      g_autofree char *code = dup_code (experiments, pour->batch->experiment);

      if (code != NULL && wb_craft_method_is_near (pour->batch, today))
        g_ptr_array_add (due, step_new (pour, code));
    }
}
