/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-attachments.h"

G_BEGIN_DECLS

/* burn NULL: it is the sample's. */
WbAppAttachmentsItem *wb_app_attachments_item_new     (const WbAttachment *record, const WbBurn *burn);
/* The same version of the same record, told the same way. */
gboolean              wb_app_attachments_item_is_same (WbAppAttachmentsItem *self, WbAppAttachmentsItem *other);

G_END_DECLS
