/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-plan.h"

G_BEGIN_DECLS

/* What a plan is judged by; borrowed. */
typedef struct
{
  const WbAppMaterials *materials;
  const WbExperiment   *experiment;
  const WbProtocol     *protocol;
  const GPtrArray      *limits;
  const GArray         *vessels;  /* gint64 */
  const GArray         *wicks;    /* WbCraftWickChoice */
  const GArray         *scents;   /* WbCraftScent */
  const GPtrArray      *cells;    /* WbCell */
  guint                 cells_on;
  gboolean              is_ordered; /* by its maker: each cell's place is written */
  const GPtrArray      *confirmations; /* WbConfirmation that this experiment is the test of */
  const GPtrArray      *former;   /* WbSample, then WbCell: of the plan that it takes the place of; NULL: it is a new one */
  gboolean              shares_protocol; /* other experiments are burnt by the protocol that it takes the place of: theirs stays */
} WbAppPlanFacts;

/* The plan as it stands now; shares_protocol is not asked. */
WbAppPlanFacts wb_app_plan_get_facts    (WbAppPlan *self);
WbAppNotebook *wb_app_plan_get_notebook (WbAppPlan *self);
/* NULL: none is set. */
WbAppCalendar *wb_app_plan_get_calendar (WbAppPlan *self);
/* The notebook's samples, as they are now; taken. */
void           wb_app_plan_take_samples (WbAppPlan *self, GPtrArray *samples);
/* Takes on the order in which that experiment's cells were planned, where its maker gave them one. */
void           wb_app_plan_take_order    (WbAppPlan *self, const WbDataset *data);
/* What stands at `from` comes to stand at `to`. */
void           wb_app_plan_order_move       (GArray *members, guint from, guint to);
/* The place of a WbCraftWickChoice among others; their number: it is none of them. wicks: WbWick, as everywhere here. */
guint          wb_app_plan_order_find_wick  (const GArray *choices, const WbCraftWickChoice *choice, const GPtrArray *wicks);
/* As they stood in `before`, new ones last; by the materials where that is NULL. */
void           wb_app_plan_order_sort_wicks (GArray *choices, const GArray *before, const GPtrArray *wicks);
/* Brings vessels, wicks and scents into the order in which those cells were planned; FALSE: they have none of their own. */
gboolean       wb_app_plan_order_take       (GArray *vessels, GArray *wicks, GArray *scents, const GPtrArray *records, const WbDataset *data);
/* Of the notebook; NULL while it has none. */
const WbNotebook *wb_app_plan_get_settings (WbAppPlan *self);
/* Takes all of them for its own. former: NULL for a new experiment. */
void           wb_app_plan_put          (WbAppPlan *self, WbExperiment *experiment, WbProtocol *protocol, GPtrArray *limits, GPtrArray *former);
const GPtrArray *wb_app_plan_get_former (WbAppPlan *self);
/* WbAppPlanProblem, what blocks first; caller frees. */
GPtrArray     *wb_app_plan_judge        (const WbAppPlanFacts *facts);
/* The record of that id; NULL: none, or id 0. Borrowed. */
gconstpointer  wb_app_plan_find         (const GPtrArray *records, gint64 id);
/* Whether two combinations are the same one. */
gboolean       wb_app_plan_is_same_cell (const WbCell *a, const WbCell *b);
/* Whether a plan that may be changed is another by now: one of its samples poured, come or gone. samples: as they are now. */
gboolean       wb_app_plan_is_outdated  (const WbAppPlanFacts *facts, const GPtrArray *samples);
/*
 * Everything that the plan writes, in order, with negative ids for references. Where it takes the place of another, cells and samples
 * that both have stay as they are: labels, blind codes, cohorts and references to them live on. Caller frees.
 */
GPtrArray     *wb_app_plan_dup_records  (const WbAppPlanFacts *facts, const GPtrArray *cells, const char *const *codes,
                                         const char *experiment_code);
/* The first of E-1, E-2 ... that no experiment has. experiments: WbAppExperiment. Caller frees. */
char          *wb_app_plan_dup_free_code (const GPtrArray *experiments);

G_END_DECLS
