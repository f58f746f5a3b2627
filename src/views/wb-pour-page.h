/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-page.h"

G_BEGIN_DECLS

/*
 * Pour: the batch sheets of the open experiment, and the marking of a batch as
 * poured. What is typed is kept while other pages and experiments are looked
 * at. Actions: "page.mark", "page.batch" (uint32: which batch is in front),
 * "page.batch-of" (string: the same by its code),
 * "page.print" (the batch sheet on paper), "page.labels".
 */
#define WB_TYPE_POUR_PAGE (wb_pour_page_get_type ())
G_DECLARE_FINAL_TYPE (WbPourPage, wb_pour_page, WB, POUR_PAGE, WbPage)

G_END_DECLS
