/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-attachments-private.h"

#include "wb-app-live-list-private.h"
#include "wb-store-records.h"

struct _WbAppAttachments
{
  WbAppLiveList parent_instance;
};

G_DEFINE_FINAL_TYPE (WbAppAttachments, wb_app_attachments, WB_TYPE_APP_LIVE_LIST)

typedef struct
{
  gint64           sample;
  WbAttachmentRole role;
} Question;

static int
order_items (gconstpointer a,
             gconstpointer b)
{
  const WbAttachment *one = wb_app_attachments_item_get_record (*(WbAppAttachmentsItem *const *) a);
  const WbAttachment *other = wb_app_attachments_item_get_record (*(WbAppAttachmentsItem *const *) b);

  if (one->taken_at.known != other->taken_at.known)
    return one->taken_at.known ? -1 : 1;
  if (one->taken_at.known && one->taken_at.utc_us != other->taken_at.utc_us)
    return one->taken_at.utc_us < other->taken_at.utc_us ? -1 : 1;
  return one->record.id < other->record.id ? -1 : one->record.id > other->record.id;
}

/* Attachments are few and have no index by owner: one look at them all. */
static gpointer
read_thread (WbStore      *store,
             gpointer      data,
             GCancellable *cancellable,
             GError      **error)
{
  const Question *question = data;
  g_autoptr (GPtrArray) burns = wb_store_list (store, &wb_burn_type, "sample", question->sample, error);
  g_autoptr (GPtrArray) all = burns != NULL ? wb_store_list (store, &wb_attachment_type, "role", question->role, error) : NULL;
  g_autoptr (GHashTable) by_id = g_hash_table_new (g_int64_hash, g_int64_equal);
  GPtrArray *items;

  if (all == NULL)
    return NULL;
  for (guint i = 0; i < burns->len; i++)
    g_hash_table_insert (by_id, &((WbBurn *) g_ptr_array_index (burns, i))->record.id, g_ptr_array_index (burns, i));
  items = g_ptr_array_new_with_free_func (g_object_unref);
  for (guint i = 0; i < all->len; i++)
    {
      const WbAttachment *attachment = g_ptr_array_index (all, i);
      const WbBurn *burn = g_hash_table_lookup (by_id, &attachment->owner);

      if (burn != NULL || attachment->owner == question->sample)
        g_ptr_array_add (items, wb_app_attachments_item_new (attachment, burn));
    }
  g_ptr_array_sort (items, order_items);
  return items;
}

static gboolean
is_same (gpointer item,
         gpointer other)
{
  return wb_app_attachments_item_is_same (item, other);
}

static const WbRecordType *const types[] = { &wb_attachment_type, &wb_burn_type, NULL };

static const WbAppLiveListKind kind = { wb_app_attachments_item_get_type, is_same, read_thread, types };

static void
wb_app_attachments_class_init (WbAppAttachmentsClass *klass)
{
}

static void
wb_app_attachments_init (WbAppAttachments *self)
{
}

WbAppAttachments *
wb_app_attachments_new (WbAppNotebook   *notebook,
                        gint64           sample,
                        WbAttachmentRole role)
{
  WbAppAttachments *self;
  Question question = { sample, role };

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  g_return_val_if_fail (sample > 0, NULL);

  self = g_object_new (WB_TYPE_APP_ATTACHMENTS, NULL);
  wb_app_live_list_start (WB_APP_LIVE_LIST (self), notebook, &kind, &question, sizeof question);
  return self;
}
