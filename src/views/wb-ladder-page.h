/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-page.h"

G_BEGIN_DECLS

/* "Which wicks do I buy for this vessel?", asked before there is an experiment. Actions: "test", "ask" (int64 vessel), "save-chart". */
#define WB_TYPE_LADDER_PAGE (wb_ladder_page_get_type ())
G_DECLARE_FINAL_TYPE (WbLadderPage, wb_ladder_page, WB, LADDER_PAGE, WbPage)

G_END_DECLS
