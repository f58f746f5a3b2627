/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-uuid.h"

G_BEGIN_DECLS

/*
 * What a label's QR code says: the sample's UUID in digits and capitals without
 * Y and Z (which keyboards disagree about), and a check character behind it.
 */
#define WB_REPORT_LABEL_CODE_LENGTH 27

char    *wb_report_label_code_new   (const WbUuid *uuid);
/* FALSE for any other length, character or check; the case of letters does not matter. */
gboolean wb_report_label_code_parse (const char *text, WbUuid *uuid);

G_END_DECLS
