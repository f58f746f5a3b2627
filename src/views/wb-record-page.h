/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-page.h"

G_BEGIN_DECLS

/*
 * The record: every entry, newest first, the fingerprint of the last, the check,
 * and backups. Actions: page.check, page.copy-fingerprint, page.back-up, page.older, page.take-back.
 */
#define WB_TYPE_RECORD_PAGE (wb_record_page_get_type ())
G_DECLARE_FINAL_TYPE (WbRecordPage, wb_record_page, WB, RECORD_PAGE, WbPage)

/* Copies the notebook to that file and says so on the page; what page.back-up does once the person chose a name. */
void wb_record_page_back_up (WbRecordPage *self, const char *path);

G_END_DECLS
