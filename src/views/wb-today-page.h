/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-page.h"

G_BEGIN_DECLS

/* What is due now; without a notebook the ways to get one. */
#define WB_TYPE_TODAY_PAGE (wb_today_page_get_type ())
G_DECLARE_FINAL_TYPE (WbTodayPage, wb_today_page, WB, TODAY_PAGE, WbPage)

G_END_DECLS
