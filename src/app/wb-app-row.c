/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-row-private.h"

#include "wb-clock.h"

void
wb_app_row_free (WbAppRow *self)
{
  if (self == NULL)
    return;
  g_array_unref (self->samples);
  g_free (self);
}

/* Passed over too: set aside meanwhile, or gone from the record. */
static gboolean
is_done (const WbAppRow *self,
         WbAppBench     *bench,
         guint           i)
{
  WbAppBenchSample *sample = wb_app_bench_find (bench, g_array_index (self->samples, gint64, i));
  WbAppBenchState waits = self->kind == WB_APP_ROW_LIGHT ? WB_APP_BENCH_FIT : WB_APP_BENCH_ALIGHT;

  return sample == NULL || wb_app_bench_sample_get_state (sample) != waits;
}

void
wb_app_row_update (WbAppRow   *self,
                   WbAppBench *bench)
{
  guint done = 0;

  if (self == NULL)
    return;
  for (guint i = 0; i < self->samples->len; i++)
    done += is_done (self, bench, i);
  /* Fewer: one was taken back, and its turn comes again by the time that stood. */
  if (done > self->done)
    self->last_us = wb_clock_steady_us (wb_clock_get ());
  self->done = done;
}

void
wb_app_bench_start_row (WbAppBench      *self,
                        WbAppRowKind     kind,
                        const GPtrArray *samples)
{
  WbAppRow **row;

  g_return_if_fail (WB_IS_APP_BENCH (self));

  wb_app_bench_stop_row (self);
  row = wb_app_bench_peek_row (self);
  *row = g_new0 (WbAppRow, 1);
  (*row)->kind = kind;
  (*row)->samples = g_array_new (FALSE, FALSE, sizeof (gint64));
  for (guint i = 0; i < samples->len; i++)
    {
      gint64 id = wb_app_bench_sample_get_id (g_ptr_array_index (samples, i));

      g_array_append_val ((*row)->samples, id);
    }
}

void
wb_app_bench_stop_row (WbAppBench *self)
{
  g_return_if_fail (WB_IS_APP_BENCH (self));
  g_clear_pointer (wb_app_bench_peek_row (self), wb_app_row_free);
}

/* Whole seconds, a second that has begun counted. */
static gint64
get_wait_s (const WbAppRow   *self,
            WbAppBenchSample *next)
{
  gint64 due_us = self->last_us + (gint64) (wb_app_bench_sample_get_protocol (next)->stagger_s * G_USEC_PER_SEC);
  gint64 wait_us = due_us - wb_clock_steady_us (wb_clock_get ());

  return self->done == 0 || wait_us <= 0 ? 0 : (wait_us + G_USEC_PER_SEC - 1) / G_USEC_PER_SEC;
}

gboolean
wb_app_bench_get_row_step (WbAppBench   *self,
                           WbAppRowStep *step)
{
  const WbAppRow *row;

  g_return_val_if_fail (WB_IS_APP_BENCH (self), FALSE);

  row = *wb_app_bench_peek_row (self);
  *step = (WbAppRowStep) { 0 };
  for (guint i = 0; row != NULL && i < row->samples->len; i++)
    {
      if (is_done (row, self, i))
        continue;
      step->after += step->next != NULL;
      if (step->next == NULL)
        step->next = wb_app_bench_find (self, g_array_index (row->samples, gint64, i));
    }
  if (step->next == NULL)
    return FALSE;
  step->kind = row->kind;
  step->in_s = get_wait_s (row, step->next);
  return TRUE;
}
