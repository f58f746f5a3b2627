/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-job.h"
#include "wb-app-notebook.h"
#include "wb-craft-cohorts.h"
#include "wb-craft-lifetime.h"

G_BEGIN_DECLS

/*
 * The bench plan of an experiment: which of its samples go through their lives together. It stands in the samples' records
 * (WbSample.cohort); making it anew and moving one sample are each one entry, undone like any other.
 */
typedef struct
{
  WbDataset       *data;
  WbCraftCohorts  *cohorts;  /* as recorded */
  WbCraftLifetime *lives;    /* of each sample of the data */
  guint           *burns;    /* of each sample */
  gboolean        *over;     /* of each sample: nobody lights it again */
  gint64           running;  /* cohort at the bench now; 0: none */
  gint64           highest;  /* number of a cohort; 0: there is none */
  guint            places;   /* of the bench */
} WbAppBenchPlan;

/* Where the notebook does not say: as many as a maker burns of an evening. */
#define WB_APP_BENCH_PLAN_USUAL_PLACES 12

/* Places of the notebook's bench. */
guint           wb_app_bench_plan_get_places  (WbAppNotebook *notebook);

/* What is recorded. Caller frees. WB_APP_ERROR_UNKNOWN: no such experiment. */
void            wb_app_bench_plan_load_async  (WbAppNotebook *notebook, gint64 experiment, GCancellable *cancellable,
                                               GAsyncReadyCallback callback, gpointer user);
WbAppBenchPlan *wb_app_bench_plan_load_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);
void            wb_app_bench_plan_free        (WbAppBenchPlan *self);

/* Samples of a cohort (0: of none) that burn: not set aside, not kept as a reference. */
guint           wb_app_bench_plan_count        (const WbAppBenchPlan *self, gint64 cohort);
/* Evenings that a cohort still takes, as its longest life has them; NAN: not known; 0: it is at its end, or has no sample. */
double          wb_app_bench_plan_get_evenings (const WbAppBenchPlan *self, gint64 cohort);
/* Why the sample cannot be moved to another cohort: it was burnt, or does not count. NULL: it can. Caller frees. */
char           *wb_app_bench_plan_dup_refusal  (const WbAppBenchPlan *self, guint sample);

/*
 * Divides the samples by wb_craft_cohorts_new, with the places of the notebook's bench and the experiment's seed, off the main
 * thread, and saves what changed. job: progress, and the way to cancel (G_IO_ERROR_CANCELLED; nothing is written then).
 * WB_APP_ERROR_REFUSED where there is nothing to divide. Plans that come out as they are write nothing.
 */
void            wb_app_bench_plan_make_async  (WbAppNotebook *notebook, gint64 experiment, WbAppJob *job, GAsyncReadyCallback callback, gpointer user);
gboolean        wb_app_bench_plan_make_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);

/*
 * Puts one sample into another cohort (from 1; one more than the highest: a new one). WB_APP_ERROR_REFUSED where it was burnt, or
 * does not count. The words say what that does to the comparisons; caller frees; NULL on error.
 */
void            wb_app_bench_plan_move_async  (WbAppNotebook *notebook, gint64 experiment, gint64 sample, gint64 cohort, GCancellable *cancellable,
                                               GAsyncReadyCallback callback, gpointer user);
char           *wb_app_bench_plan_move_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbAppBenchPlan, wb_app_bench_plan_free)

G_END_DECLS
