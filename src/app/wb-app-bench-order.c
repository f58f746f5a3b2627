/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-bench-private.h"

#include "wb-app-save-task-private.h"
#include "wb-app-notebook-private.h"

#include "wb-craft-bench-plan.h"

#include <glib/gi18n-lib.h>

#define WAITS_PLACE 5 /* in the list, behind what cures and before what is at its end */

/* Places of the bench: which is free, which is changed; and the order of its list: what burns by its place, then what needs a hand
 * soonest. */

static int
state_place (WbAppBenchSample *sample)
{
  static const int places[] = {
    [WB_APP_BENCH_ALIGHT] = 0,
    [WB_APP_BENCH_CROSSED] = 1, /* what needs a word before anything is lit */
    [WB_APP_BENCH_FIT] = 2,
    [WB_APP_BENCH_COOLING] = 3,
    [WB_APP_BENCH_CURING] = 4,
    [WB_APP_BENCH_ENDED] = WAITS_PLACE + 1,
  };

  /* what is of tonight's cohort comes first, though it cools still */
  return wb_app_bench_sample_get_waits_for_cohort (sample) > 0 ? WAITS_PLACE : places[wb_app_bench_sample_get_state (sample)];
}

/* Numbered places by their number, before those with another name. */
static int
compare_places (const char *a,
                const char *b)
{
  guint64 first = G_MAXUINT64, second = G_MAXUINT64;

  if (a != NULL)
    g_ascii_string_to_unsigned (a, 10, 0, G_MAXUINT32, &first, NULL);
  if (b != NULL)
    g_ascii_string_to_unsigned (b, 10, 0, G_MAXUINT32, &second, NULL);
  if (first != second)
    return first < second ? -1 : 1;
  return g_strcmp0 (a, b);
}

guint
wb_app_bench_sample_get_place_number (WbAppBenchSample *self,
                                      guint             places)
{
  const WbBurn *burn;
  guint64 number = 0;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), 0);

  burn = wb_app_bench_sample_get_burn (self);
  if (burn == NULL || burn->kind == WB_BURN_THROW || burn->bench_place == NULL)
    return 0;
  return g_ascii_string_to_unsigned (burn->bench_place, 10, 1, places, &number, NULL) ? (guint) number : 0;
}

guint
wb_app_bench_propose_place (WbAppBench       *self,
                            WbAppBenchSample *sample,
                            guint             places)
{
  g_autoptr (GArray) plan = NULL;
  g_autofree gboolean *taken = NULL;
  const GPtrArray *live;

  g_return_val_if_fail (WB_IS_APP_BENCH (self), 1);
  g_return_val_if_fail (places > 0, 1);

  plan = wb_craft_bench_plan_new (places, wb_app_bench_get_seed (self));
  taken = g_new0 (gboolean, places);
  live = wb_app_bench_get_live (self);
  for (guint i = 0; i < live->len; i++)
    {
      WbAppBenchSample *other = g_ptr_array_index (live, i);
      guint number = wb_app_bench_sample_get_state (other) == WB_APP_BENCH_ALIGHT ? wb_app_bench_sample_get_place_number (other, places) : 0;

      if (number > 0)
        taken[number - 1] = TRUE;
    }
  return wb_craft_bench_plan_find (plan, wb_app_bench_sample_get_index (sample), taken) + 1;
}

const char *
wb_app_bench_find_at (WbAppBench       *self,
                      WbAppBenchSample *sample,
                      const char       *place)
{
  const GPtrArray *live;

  g_return_val_if_fail (WB_IS_APP_BENCH (self), NULL);

  live = wb_app_bench_get_live (self);
  for (guint i = 0; i < live->len; i++)
    {
      WbAppBenchSample *other = g_ptr_array_index (live, i);

      if (other != sample && wb_app_bench_sample_get_state (other) == WB_APP_BENCH_ALIGHT
          && wb_app_bench_sample_get_burn (other)->kind != WB_BURN_THROW
          && g_strcmp0 (wb_app_bench_sample_get_place (other), place) == 0)
        return wb_app_bench_sample_get_code (other);
    }
  return NULL;
}

/* Why it cannot stand there; NULL: it can. Caller frees. */
static char *
dup_move_refusal (WbAppBench       *self,
                  WbAppBenchSample *sample,
                  const char       *place)
{
  const char *other;

  if (sample == NULL)
    return g_strdup (_("This sample is not at the bench."));
  if (wb_app_bench_sample_get_state (sample) != WB_APP_BENCH_ALIGHT)
    return g_strdup_printf (_("%s is not alight: its place is said when it is lit."), wb_app_bench_sample_get_code (sample));
  if (wb_app_bench_sample_get_burn (sample)->kind == WB_BURN_THROW)
    return g_strdup_printf (_("%s burns for the throw: its place is its room."), wb_app_bench_sample_get_code (sample));
  if (*place == '\0')
    return g_strdup (_("Say at which place it stands."));
  if (g_utf8_strlen (place, -1) > (glong) wb_record_type_find_field (&wb_burn_type, "bench_place")->maximum)
    return g_strdup (_("This name of a place is too long."));
  other = wb_app_bench_find_at (self, sample, place);
  return other != NULL ? g_strdup_printf (_("%s burns at place %s."), other, place) : NULL;
}

void
wb_app_bench_move_async (WbAppBench         *self,
                         gint64              sample_id,
                         const char         *place,
                         GCancellable       *cancellable,
                         GAsyncReadyCallback callback,
                         gpointer            user)
{
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autofree char *where = NULL, *why = NULL;
  WbAppBenchSample *sample;
  WbRecord *burn;
  char *refusal;
  GTask *task;

  g_return_if_fail (WB_IS_APP_BENCH (self));
  g_return_if_fail (place != NULL);

  task = wb_app_save_task_new (self, wb_app_bench_move_async, cancellable, callback, user);
  sample = wb_app_bench_find (self, sample_id);
  where = g_strstrip (g_strdup (place));
  refusal = dup_move_refusal (self, sample, where);
  if (refusal != NULL)
    {
      wb_app_save_task_refuse (task, refusal);
      return;
    }
  burn = wb_record_copy (wb_app_bench_sample_get_burn (sample));
  wb_record_set_text (burn, wb_record_type_find_field (&wb_burn_type, "bench_place"), where);
  g_ptr_array_add (records, burn);
  why = g_strdup_printf (_("Move %s to place %s"), wb_app_bench_sample_get_code (sample), where);
  wb_app_notebook_save_topic_async (wb_app_bench_get_notebook (self), "burn", why, records, cancellable, wb_app_save_task_end_cb, task);
}

int
wb_app_bench_sample_order (gconstpointer a,
                           gconstpointer b)
{
  WbAppBenchSample *first = *(WbAppBenchSample *const *) a, *second = *(WbAppBenchSample *const *) b;
  int order = state_place (first) - state_place (second);

  if (order == 0 && wb_app_bench_sample_get_state (first) == WB_APP_BENCH_ALIGHT)
    order = compare_places (wb_app_bench_sample_get_place (first), wb_app_bench_sample_get_place (second));
  if (order == 0 && wb_app_bench_sample_get_experiment (first) != wb_app_bench_sample_get_experiment (second))
    order = wb_app_bench_sample_get_experiment (first) < wb_app_bench_sample_get_experiment (second) ? -1 : 1;
  if (order == 0)
    order = g_strcmp0 (wb_app_bench_sample_get_code (first), wb_app_bench_sample_get_code (second));
  return order;
}

gint64
wb_app_bench_sample_get_waits_for_cohort (WbAppBenchSample *self)
{
  const WbSample *record;
  gint64 running;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), 0);

  record = wb_app_bench_sample_get_record (self);
  running = wb_app_bench_sample_get_load (self)->cohort;
  if (running <= 0 || record->cohort <= 0 || record->cohort == running || wb_app_bench_sample_get_state (self) != WB_APP_BENCH_FIT)
    return 0;
  return record->cohort;
}
