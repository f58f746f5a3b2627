/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-decision.h"
#include "wb-app-notebook.h"

G_BEGIN_DECLS

/* The demo's decision on the Hob (all invented), for whoever signs, withdraws and reopens it. */

typedef struct
{
  WbAppNotebook *notebook;
  gint64         experiment;
  WbCraftAnswer *answer;
  guint          group;      /* of the answer's, of the decided vessel and scent */
} DecisionBench;

/* A demo of its own each time; they are the same, and so is what is worked out of them, once. */
void            decision_bench_open         (DecisionBench *bench);
void            decision_bench_close        (DecisionBench *bench);
/* The only one. Caller frees. */
WbDecision     *decision_bench_dup_decision (WbAppNotebook *notebook);
guint           decision_bench_find_group   (const WbCraftAnswer *answer, gint64 cell);
WbCraftStanding decision_bench_get_standing (DecisionBench *bench);
/* A check burn of a sample of that cell with one reading, at that wall; gives the reading's id. */
gint64          decision_bench_burn_with    (WbAppNotebook *notebook, gint64 cell, WbColumn column, double value);
gint64          decision_bench_burn         (WbAppNotebook *notebook, gint64 cell, double wall_c);
/* All that is in the notebook by now was known; no answer is worked out for it. */
void            decision_bench_sign_what_is (DecisionBench *bench);

G_END_DECLS
