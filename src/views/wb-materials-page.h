/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-page.h"

G_BEGIN_DECLS

/*
 * Materials by kind: list and search at the left, the form of the chosen one at
 * the right. Actions: page.kind (s, a record type's name), page.new, page.save,
 * page.revert, page.duplicate, page.delete, page.find.
 */
#define WB_TYPE_MATERIALS_PAGE (wb_materials_page_get_type ())
G_DECLARE_FINAL_TYPE (WbMaterialsPage, wb_materials_page, WB, MATERIALS_PAGE, WbPage)

G_END_DECLS
