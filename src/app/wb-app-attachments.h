/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-attachment.h"
#include "wb-app-live-list.h"

G_BEGIN_DECLS

/* A file kept with a sample or with one of its burns. Immutable. */
#define WB_TYPE_APP_ATTACHMENTS_ITEM (wb_app_attachments_item_get_type ())
G_DECLARE_FINAL_TYPE (WbAppAttachmentsItem, wb_app_attachments_item, WB, APP_ATTACHMENTS_ITEM, GObject)

/* Borrowed. */
const WbAttachment *wb_app_attachments_item_get_record (WbAppAttachmentsItem *self);
/* Number of the burn; 0: it is the sample's. */
int                 wb_app_attachments_item_get_burn   (WbAppAttachmentsItem *self);
/* Minutes since that burn was lit, at which it was taken; NAN: not known, or of no burn. */
double              wb_app_attachments_item_get_minute (WbAppAttachmentsItem *self);

/*
 * What is kept of one role with a sample and its burns: a GListModel of WbAppAttachmentsItem, in the order in which it was
 * taken, what has no time last.
 */
#define WB_TYPE_APP_ATTACHMENTS (wb_app_attachments_get_type ())
G_DECLARE_FINAL_TYPE (WbAppAttachments, wb_app_attachments, WB, APP_ATTACHMENTS, WbAppLiveList)

/* sample: its id. Caller owns it. */
WbAppAttachments *wb_app_attachments_new        (WbAppNotebook *notebook, gint64 sample, WbAttachmentRole role);

G_END_DECLS
