/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-draft.h"
#include "wb-app-plan.h"
#include "wb-app-touched.h"

G_BEGIN_DECLS

/* Further samples of another experiment's combinations: its record id, theirs, how many of each. */
#define WB_PLAN_SAMPLES_FORMAT "(xaxu)"

/*
 * What the next plan begins with: another experiment's plan, beside it or as its repeat, further samples of it, the test that a
 * decision waits for, or the wicks of a ladder; else what was left half planned, or nothing. Part of the plan page, which owns what stands in it.
 */
typedef struct
{
  WbDataset    *model;       /* NULL: none */
  gboolean      repeating;   /* the model is repeated */
  WbAppTouched *confirming;  /* the decision that is tested again, of which model is the experiment; NULL: none */
  GVariant     *samples;     /* WB_PLAN_SAMPLES_FORMAT, of which model is the experiment; NULL: none */
  GVariant     *ladder;      /* wb-app-plan-ladder.h; NULL: none */
} WbPlanBeginning;

/*
 * Fills a new plan, or the change of the model's own. draft, group: where a half planned one is kept, draft NULL: nowhere. What was
 * filled in is not begun with again; only the decision is remembered until the next. Whether the plan is as an earlier program left it.
 */
gboolean wb_plan_beginning_fill  (WbPlanBeginning *self, WbAppPlan *plan, gboolean changing, WbAppDraft *draft,
                                  const char *group);
/* Of which experiment it asks for the model; 0: of none. */
gint64   wb_plan_beginning_get_asked (const WbPlanBeginning *self);
void     wb_plan_beginning_clear (WbPlanBeginning *self);

G_END_DECLS
