/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-instant.h"
#include "wb-report-options.h"

G_BEGIN_DECLS

/*
 * The plan of the bench of one experiment, for the wall: the check before the first light, the bench from above with the codes in
 * their places or room to write them in, which cohort burns which burn on which evening, and what each cohort holds. Borrowed while it
 * is made.
 */

typedef struct
{
  const char *code;
  const char *cell;     /* what it is; NULL: kept blind */
} WbReportBenchPlanSample;

typedef struct
{
  const char                    *name;     /* "Cohort 2"; NULL: there is only one, and its samples are the experiment's */
  const WbReportBenchPlanSample *samples;
  guint                          n_samples;
} WbReportBenchPlanCohort;

typedef struct
{
  WbDay     day;        /* WB_DAY_NONE: to be filled in */
  WbInstant begins;     /* unknown: to be filled in */
  guint     cohort;     /* index */
  guint     burn;       /* number in its life */
  guint     taken;      /* places of the bench on that evening, others' samples among them; 0: not known */
} WbReportBenchPlanEvening;

typedef struct
{
  const char                     *experiment; /* code and title */
  const WbReportBenchPlanCohort  *cohorts;
  guint                           n_cohorts;
  const WbReportBenchPlanEvening *evenings;   /* by day */
  guint                           n_evenings;
  const char *const              *problems;   /* what is not planned, and why; NULL-terminated; NULL: nothing */
  guint                           places;     /* of the bench; 0: not said, and it is not drawn */
  guint                           columns;    /* in a row; 0: as many as fit */
  const char *const              *at;         /* code at each place, NULL: free; NULL: to be filled in */
  WbDay                           at_day;     /* the evening of which they are */
} WbReportBenchPlan;

WbReportDocument *wb_report_bench_plan_new (const WbReportBenchPlan *plan, const WbReportOptions *options);

G_END_DECLS
