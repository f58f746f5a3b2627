/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-bench.h"
#include "wb-app-experiment.h"
#include "wb-app-retain.h"
#include "wb-app-touched.h"

G_BEGIN_DECLS

typedef enum
{
  WB_APP_DUE_READING,   /* a burning sample is to be read */
  WB_APP_DUE_SNUFF,     /* a burn has reached its length */
  WB_APP_DUE_CROSSED,   /* samples crossed a limit: kept as evidence, or lit knowingly */
  WB_APP_DUE_STEP,      /* a step after a pour is not done: pierce, top up, let it set */
  WB_APP_DUE_WEIGH,     /* out, and not weighed since */
  WB_APP_DUE_TOUCHED,   /* something changed behind a decision, or the test that confirms it is finished */
  WB_APP_DUE_LIGHT,     /* samples of an experiment may be lit (again) */
  WB_APP_DUE_CURE,      /* a cure ends */
  WB_APP_DUE_POUR,      /* planned, not poured */
  WB_APP_DUE_DECIDE,    /* burnt down, waits for its decision */
  WB_APP_DUE_DRAFT,     /* a form was left half typed: of a material (experiment 0) or a pour */
  WB_APP_DUE_UNSIGNED,  /* a decision was left half typed */
  WB_APP_DUE_REFERENCE  /* a reference was to be kept until a day that is over */
} WbAppDueKind;

/*
 * One thing that is due, in words. Properties: "kind" (int), "title", "detail"
 * (strings, translated), "experiment", "sample", "decision" (int64, 0: none), "at"
 * (string: the moment in words, may be empty), "overdue" (boolean).
 */
#define WB_TYPE_APP_DUE (wb_app_due_get_type ())
G_DECLARE_FINAL_TYPE (WbAppDue, wb_app_due, WB, APP_DUE, GObject)

/* The properties; texts are borrowed, `at` is not known where nothing is timed. */
WbAppDueKind wb_app_due_get_kind       (WbAppDue *self);
const char  *wb_app_due_get_title      (WbAppDue *self);
const char  *wb_app_due_get_detail     (WbAppDue *self);
gint64       wb_app_due_get_experiment (WbAppDue *self);
gint64       wb_app_due_get_sample     (WbAppDue *self);
gint64       wb_app_due_get_decision   (WbAppDue *self);
/* The combination whose decision is half typed; 0: none. */
gint64       wb_app_due_get_cell       (WbAppDue *self);
/* Code of the batch that it speaks of; NULL: none. */
const char  *wb_app_due_get_batch      (WbAppDue *self);
WbInstant    wb_app_due_get_at         (WbAppDue *self);
gboolean     wb_app_due_get_overdue    (WbAppDue *self);

/* What is due now: a GListModel of WbAppDue, most urgent first; follows the bench, the experiments and the clock. */
#define WB_TYPE_APP_TODAY (wb_app_today_get_type ())
G_DECLARE_FINAL_TYPE (WbAppToday, wb_app_today, WB, APP_TODAY, GObject)

/* Holds both. Caller owns it. */
WbAppToday *wb_app_today_new (WbAppBench *bench, WbAppExperiments *experiments);
/* The decisions behind which something changed; borrowed. */
WbAppTouchedList *wb_app_today_get_touched (WbAppToday *self);
/* The samples that are kept as references; borrowed. */
WbAppRetained    *wb_app_today_get_retained (WbAppToday *self);

G_END_DECLS
