/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-page.h"

G_BEGIN_DECLS

/*
 * The record: every entry, newest first, the fingerprint of the last, and the
 * check. Actions: page.check, page.copy-fingerprint, page.older, page.take-back.
 */
#define WB_TYPE_RECORD_PAGE (wb_record_page_get_type ())
G_DECLARE_FINAL_TYPE (WbRecordPage, wb_record_page, WB, RECORD_PAGE, WbPage)

G_END_DECLS
