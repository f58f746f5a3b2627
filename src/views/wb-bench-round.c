/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-bench-round.h"

struct _WbBenchRound
{
  GPtrArray *alight;  /* WbAppBenchSample, in the bench's order: by place */
  GPtrArray *waiting;
};

static gboolean
is_alight (WbAppBenchSample *sample)
{
  return wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ALIGHT;
}

static gboolean
same_items (const GPtrArray *a,
            const GPtrArray *b)
{
  if (a->len != b->len)
    return FALSE;
  for (guint i = 0; i < a->len; i++)
    if (g_ptr_array_index (a, i) != g_ptr_array_index (b, i))
      return FALSE;
  return TRUE;
}

WbBenchRound *
wb_bench_round_new (void)
{
  WbBenchRound *self = g_new0 (WbBenchRound, 1);

  self->alight = g_ptr_array_new_with_free_func (g_object_unref);
  self->waiting = g_ptr_array_new_with_free_func (g_object_unref);
  return self;
}

void
wb_bench_round_free (WbBenchRound *self)
{
  if (self == NULL)
    return;
  g_ptr_array_unref (self->alight);
  g_ptr_array_unref (self->waiting);
  g_free (self);
}

/* A flame of this session that nobody put out: whoever sits at the bench sees it, whichever experiment they look at. */
static gboolean
is_missed (WbAppBench       *bench,
           WbAppBenchSample *sample)
{
  const WbSession *session = wb_app_bench_get_session (bench);
  const WbBurn *burn = wb_app_bench_sample_get_burn (sample);

  return session != NULL && burn != NULL && burn->session == session->record.id
         && wb_app_bench_sample_get_state (sample) != WB_APP_BENCH_FIT && wb_app_bench_sample_went_out (sample);
}

static void
gather (WbAppBench *bench,
        gint64      experiment,
        GPtrArray  *alight,
        GPtrArray  *waiting)
{
  g_autoptr (GPtrArray) own = wb_app_bench_dup_of_experiment (bench, experiment);

  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (bench)); i++)
    {
      g_autoptr (WbAppBenchSample) sample = g_list_model_get_item (G_LIST_MODEL (bench), i);

      if (is_alight (sample))
        g_ptr_array_add (alight, g_object_ref (sample));
      else if (wb_app_bench_sample_get_experiment (sample) != experiment && is_missed (bench, sample))
        g_ptr_array_add (waiting, g_object_ref (sample));
    }
  for (guint i = 0; i < own->len; i++)
    if (!is_alight (g_ptr_array_index (own, i)))
      g_ptr_array_add (waiting, g_object_ref (g_ptr_array_index (own, i)));
}

gboolean
wb_bench_round_take (WbBenchRound *self,
                     WbAppBench   *bench,
                     gint64        experiment)
{
  g_autoptr (GPtrArray) alight = g_ptr_array_new_with_free_func (g_object_unref);
  g_autoptr (GPtrArray) waiting = g_ptr_array_new_with_free_func (g_object_unref);

  g_return_val_if_fail (self != NULL, FALSE);

  if (bench != NULL)
    gather (bench, experiment, alight, waiting);
  if (same_items (alight, self->alight) && same_items (waiting, self->waiting))
    return FALSE;
  g_ptr_array_unref (self->alight);
  g_ptr_array_unref (self->waiting);
  self->alight = g_steal_pointer (&alight);
  self->waiting = g_steal_pointer (&waiting);
  return TRUE;
}

const GPtrArray *
wb_bench_round_get_alight (const WbBenchRound *self)
{
  g_return_val_if_fail (self != NULL, NULL);
  return self->alight;
}

const GPtrArray *
wb_bench_round_get_waiting (const WbBenchRound *self)
{
  g_return_val_if_fail (self != NULL, NULL);
  return self->waiting;
}

gboolean
wb_bench_round_has (const WbBenchRound *self,
                    WbAppBenchSample   *sample)
{
  g_return_val_if_fail (self != NULL, FALSE);
  return g_ptr_array_find (self->alight, sample, NULL) || g_ptr_array_find (self->waiting, sample, NULL);
}

typedef gboolean (*TakeFunc) (WbAppBenchSample *sample);

static gboolean
is_fit (WbAppBenchSample *sample)
{
  return wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_FIT && wb_app_bench_sample_get_waits_for_cohort (sample) == 0;
}

static gboolean
is_to_weigh (WbAppBenchSample *sample)
{
  return !is_alight (sample) && !wb_app_bench_sample_is_weighed (sample);
}

/* Just put out, and nobody said yet how long it glowed. */
static gboolean
is_glowing (WbAppBenchSample *sample)
{
  return !is_alight (sample) && wb_app_bench_get_ask (sample) == WB_APP_ASK_AFTER_SNUFFING
         && wb_app_bench_sample_get_last (sample, WB_COLUMN_EVENT) == WB_EVENT_SNUFFED;
}

/* The one after the current in a list that is to be taken, going round. */
static WbAppBenchSample *
next_in (const GPtrArray *list,
         gint64           current,
         TakeFunc         take,
         WbBenchSkipFunc  skip,
         gpointer         user)
{
  guint from = 0;

  for (guint i = 0; i < list->len; i++)
    if (wb_app_bench_sample_get_id (g_ptr_array_index (list, i)) == current)
      from = i + 1;
  for (guint i = 0; i < list->len; i++)
    {
      WbAppBenchSample *sample = g_ptr_array_index (list, (from + i) % list->len);

      if (wb_app_bench_sample_get_id (sample) != current && take (sample) && !skip (sample, user))
        return sample;
    }
  return NULL;
}

static int
compare_due (gconstpointer a,
             gconstpointer b)
{
  gint64 first = wb_app_bench_sample_get_due_in_s (*(WbAppBenchSample *const *) a);
  gint64 second = wb_app_bench_sample_get_due_in_s (*(WbAppBenchSample *const *) b);

  return first < second ? -1 : first > second;
}

WbAppBenchSample *
wb_bench_round_next_alight (const WbBenchRound *self,
                            gint64              current,
                            WbBenchSkipFunc     skip,
                            gpointer            user)
{
  g_autoptr (GPtrArray) by_due = g_ptr_array_new ();

  g_return_val_if_fail (self != NULL, NULL);

  for (guint i = 0; i < self->alight->len; i++)
    g_ptr_array_add (by_due, g_ptr_array_index (self->alight, i));
  g_ptr_array_sort (by_due, compare_due);
  return next_in (by_due, current, is_alight, skip, user);
}

WbAppBenchSample *
wb_bench_round_next_overdue (const WbBenchRound *self,
                             gint64              current,
                             WbBenchSkipFunc     skip,
                             gpointer            user)
{
  WbAppBenchSample *next = NULL;

  g_return_val_if_fail (self != NULL, NULL);

  for (guint i = 0; i < self->alight->len; i++)
    {
      WbAppBenchSample *sample = g_ptr_array_index (self->alight, i);

      if (wb_app_bench_sample_get_id (sample) != current && !skip (sample, user) && wb_app_bench_sample_get_due_in_s (sample) <= 0
          && (next == NULL || wb_app_bench_sample_get_due_in_s (sample) < wb_app_bench_sample_get_due_in_s (next)))
        next = sample;
    }
  return next;
}

/* What has burnt its length first, then what burns longest. */
static int
compare_end (gconstpointer a,
             gconstpointer b)
{
  WbAppBenchSample *first = *(WbAppBenchSample *const *) a, *second = *(WbAppBenchSample *const *) b;
  gboolean stop_a = wb_app_bench_sample_get_stop_due (first), stop_b = wb_app_bench_sample_get_stop_due (second);
  gint64 lit_a = wb_app_bench_sample_get_elapsed_s (first), lit_b = wb_app_bench_sample_get_elapsed_s (second);

  if (stop_a != stop_b)
    return stop_a ? -1 : 1;
  return lit_a > lit_b ? -1 : lit_a < lit_b;
}

WbAppBenchSample *
wb_bench_round_next_to_snuff (const WbBenchRound *self,
                              gint64              current,
                              WbBenchSkipFunc     skip,
                              gpointer            user)
{
  g_autoptr (GPtrArray) by_end = g_ptr_array_new ();

  g_return_val_if_fail (self != NULL, NULL);

  for (guint i = 0; i < self->alight->len; i++)
    if (wb_app_bench_sample_get_id (g_ptr_array_index (self->alight, i)) != current)
      g_ptr_array_add (by_end, g_ptr_array_index (self->alight, i));
  g_ptr_array_sort (by_end, compare_end);
  return next_in (by_end, current, is_alight, skip, user);
}

WbAppBenchSample *
wb_bench_round_next_glowing (const WbBenchRound *self,
                             gint64              current,
                             WbBenchSkipFunc     skip,
                             gpointer            user)
{
  g_return_val_if_fail (self != NULL, NULL);
  return next_in (self->waiting, current, is_glowing, skip, user);
}

WbAppBenchSample *
wb_bench_round_next_fit (const WbBenchRound *self,
                         gint64              current,
                         WbBenchSkipFunc     skip,
                         gpointer            user)
{
  g_return_val_if_fail (self != NULL, NULL);
  return next_in (self->waiting, current, is_fit, skip, user);
}

WbAppBenchSample *
wb_bench_round_next_to_weigh (const WbBenchRound *self,
                              gint64              current,
                              WbBenchSkipFunc     skip,
                              gpointer            user)
{
  g_return_val_if_fail (self != NULL, NULL);
  return next_in (self->waiting, current, is_to_weigh, skip, user);
}

WbAppBenchSample *
wb_bench_round_first (const WbBenchRound *self,
                      gint64              experiment,
                      WbBenchSkipFunc     skip,
                      gpointer            user)
{
  WbAppBenchSample *lit, *fit;

  g_return_val_if_fail (self != NULL, NULL);

  lit = wb_bench_round_next_alight (self, 0, skip, user);
  fit = wb_bench_round_next_fit (self, 0, skip, user);
  if (lit != NULL
      && (fit == NULL || wb_app_bench_sample_get_overdue (lit) || wb_app_bench_sample_get_experiment (lit) == experiment))
    return lit;
  if (fit != NULL)
    return fit;
  for (guint i = 0; i < self->waiting->len; i++)
    if (wb_app_bench_sample_get_experiment (g_ptr_array_index (self->waiting, i)) == experiment)
      return g_ptr_array_index (self->waiting, i);
  return self->waiting->len > 0 ? g_ptr_array_index (self->waiting, 0) : NULL;
}
