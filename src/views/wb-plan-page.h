/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-page.h"

G_BEGIN_DECLS

/*
 * Plan: the form of a new experiment while none is open, else the open one as
 * it was planned. A plan being typed is kept when the page is left. Actions:
 * "page.save", "page.revert" (begin anew), "page.edit" (title, question, note of the open one),
 * "page.print" (the plan of the bench on paper).
 */
#define WB_TYPE_PLAN_PAGE (wb_plan_page_get_type ())
G_DECLARE_FINAL_TYPE (WbPlanPage, wb_plan_page, WB, PLAN_PAGE, WbPage)

G_END_DECLS
