/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-attachments-private.h"

#include <math.h>

struct _WbAppAttachmentsItem
{
  GObject       parent_instance;

  /* owned */
  WbAttachment *record;

  /* state */
  int           burn;
  double        minute;
};

G_DEFINE_FINAL_TYPE (WbAppAttachmentsItem, wb_app_attachments_item, G_TYPE_OBJECT)

static void
wb_app_attachments_item_finalize (GObject *object)
{
  g_clear_pointer (&WB_APP_ATTACHMENTS_ITEM (object)->record, wb_record_free);
  G_OBJECT_CLASS (wb_app_attachments_item_parent_class)->finalize (object);
}

static void
wb_app_attachments_item_class_init (WbAppAttachmentsItemClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = wb_app_attachments_item_finalize;
}

static void
wb_app_attachments_item_init (WbAppAttachmentsItem *self)
{
  self->minute = NAN;
}

WbAppAttachmentsItem *
wb_app_attachments_item_new (const WbAttachment *record,
                             const WbBurn       *burn)
{
  WbAppAttachmentsItem *self = g_object_new (WB_TYPE_APP_ATTACHMENTS_ITEM, NULL);

  self->record = wb_record_copy (record);
  if (burn == NULL)
    return self;
  self->burn = (int) burn->number;
  if (burn->lit_at.known && record->taken_at.known)
    self->minute = (record->taken_at.utc_us - burn->lit_at.utc_us) / 6e7;
  return self;
}

gboolean
wb_app_attachments_item_is_same (WbAppAttachmentsItem *self,
                                 WbAppAttachmentsItem *other)
{
  return self->record->record.id == other->record->record.id && self->record->record.entry == other->record->record.entry
         && self->burn == other->burn && (self->minute == other->minute || (isnan (self->minute) && isnan (other->minute)));
}

const WbAttachment *
wb_app_attachments_item_get_record (WbAppAttachmentsItem *self)
{
  g_return_val_if_fail (WB_IS_APP_ATTACHMENTS_ITEM (self), NULL);
  return self->record;
}

int
wb_app_attachments_item_get_burn (WbAppAttachmentsItem *self)
{
  g_return_val_if_fail (WB_IS_APP_ATTACHMENTS_ITEM (self), 0);
  return self->burn;
}

double
wb_app_attachments_item_get_minute (WbAppAttachmentsItem *self)
{
  g_return_val_if_fail (WB_IS_APP_ATTACHMENTS_ITEM (self), NAN);
  return self->minute;
}
