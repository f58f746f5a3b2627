/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-amend-private.h"

#include "wb-reading.h"
#include "wb-sample.h"

#include <string.h>

struct _WbAppAmendItem
{
  GObject   parent_instance;

  /* owned */
  WbRecord *record;
  WbRecord *before;      /* NULL: no amendment stands */
  char     *reason;
  char     *who;

  /* state */
  WbInstant amended_at;
  gint64    version;     /* entry of the newest version, a deleted one too */
  int       burn;
  gboolean  taken_out;
  gboolean  ends_burn;
};

G_DEFINE_FINAL_TYPE (WbAppAmendItem, wb_app_amend_item, G_TYPE_OBJECT)

static void
wb_app_amend_item_finalize (GObject *object)
{
  WbAppAmendItem *self = WB_APP_AMEND_ITEM (object);

  g_clear_pointer (&self->record, wb_record_free);
  g_clear_pointer (&self->before, wb_record_free);
  g_free (self->reason);
  g_free (self->who);
  G_OBJECT_CLASS (wb_app_amend_item_parent_class)->finalize (object);
}

static void
wb_app_amend_item_class_init (WbAppAmendItemClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = wb_app_amend_item_finalize;
}

static void
wb_app_amend_item_init (WbAppAmendItem *self)
{
  self->amended_at = WB_INSTANT_NONE;
}

/* An amendment that stands: what it found, and its entry. */
typedef struct
{
  const WbRecord *before;
  WbEntry        *entry;
} Amendment;

static void
amendment_clear (gpointer data)
{
  wb_entry_free (((Amendment *) data)->entry);
}

/*
 * Goes through the versions: an amendment comes on top of those that stand, its undo takes the top one off, its redo puts it
 * back. Other commands (a batch marked as poured, a sample set aside) write versions too, and amend nothing.
 */
static GArray *
find_amendments (WbStore   *store,
                 GPtrArray *versions,
                 GError   **error)
{
  g_autoptr (GArray) standing = g_array_new (FALSE, FALSE, sizeof (Amendment));

  g_array_set_clear_func (standing, amendment_clear);
  for (guint i = 1; i < versions->len; i++)
    {
      const WbRecord *version = g_ptr_array_index (versions, i);
      g_autoptr (WbEntry) entry = wb_store_load_entry (store, version->entry, error);

      if (entry == NULL)
        return NULL;
      if (g_strcmp0 (entry->topic, WB_APP_AMEND_TOPIC) != 0)
        continue;
      if (entry->kind == WB_ENTRY_EDIT || entry->kind == WB_ENTRY_REDO)
        {
          Amendment amendment = { g_ptr_array_index (versions, i - 1), g_steal_pointer (&entry) };

          g_array_append_val (standing, amendment);
        }
      else if (standing->len > 0)
        g_array_set_size (standing, standing->len - 1);
    }
  return g_steal_pointer (&standing);
}

/* What was done comes first, then the person's own words. */
static char *
dup_reason (const char *why)
{
  const char *colon = why != NULL ? strstr (why, ": ") : NULL;

  return g_strdup (colon != NULL ? colon + strlen (": ") : why);
}

static void
take_amendments (WbAppAmendItem *self,
                 GArray         *standing)
{
  const Amendment *first, *last;

  if (standing->len == 0)
    return;
  first = &g_array_index (standing, Amendment, 0);
  last = &g_array_index (standing, Amendment, standing->len - 1);
  self->before = wb_record_copy (first->before);
  self->reason = dup_reason (last->entry->why);
  self->who = g_strdup (last->entry->who);
  self->amended_at = last->entry->at;
}

WbAppAmendItem *
wb_app_amend_item_new (WbStore   *store,
                       GPtrArray *versions,
                       int        burn,
                       GError   **error)
{
  const WbRecord *newest = g_ptr_array_index (versions, versions->len - 1);
  g_autoptr (GArray) standing = find_amendments (store, versions, error);
  WbAppAmendItem *self;

  if (standing == NULL || (newest->deleted && standing->len == 0))
    return NULL;
  self = g_object_new (WB_TYPE_APP_AMEND_ITEM, NULL);
  self->record = wb_record_copy (newest->deleted ? g_ptr_array_index (versions, versions->len - 2) : newest);
  self->version = newest->entry;
  self->taken_out = newest->deleted;
  self->burn = burn;
  take_amendments (self, standing);
  return self;
}

void
wb_app_amend_item_set_ends_burn (WbAppAmendItem *self)
{
  self->ends_burn = TRUE;
}

gboolean
wb_app_amend_item_is_same (WbAppAmendItem *self,
                           WbAppAmendItem *other)
{
  return self->record->type == other->record->type && self->record->id == other->record->id && self->version == other->version
         && self->burn == other->burn && self->ends_burn == other->ends_burn;
}

gconstpointer
wb_app_amend_item_get_record (WbAppAmendItem *self)
{
  g_return_val_if_fail (WB_IS_APP_AMEND_ITEM (self), NULL);
  return self->record;
}

int
wb_app_amend_item_get_burn (WbAppAmendItem *self)
{
  g_return_val_if_fail (WB_IS_APP_AMEND_ITEM (self), 0);
  return self->burn;
}

gconstpointer
wb_app_amend_item_get_before (WbAppAmendItem *self)
{
  g_return_val_if_fail (WB_IS_APP_AMEND_ITEM (self), NULL);
  return self->before;
}

gboolean
wb_app_amend_item_get_taken_out (WbAppAmendItem *self)
{
  g_return_val_if_fail (WB_IS_APP_AMEND_ITEM (self), FALSE);
  return self->taken_out;
}

gboolean
wb_app_amend_item_may_take_out (WbAppAmendItem *self)
{
  g_return_val_if_fail (WB_IS_APP_AMEND_ITEM (self), FALSE);
  return self->record->type == &wb_reading_type || self->record->type == &wb_inspection_type;
}

const char *
wb_app_amend_item_get_reason (WbAppAmendItem *self)
{
  g_return_val_if_fail (WB_IS_APP_AMEND_ITEM (self), NULL);
  return self->reason;
}

WbInstant
wb_app_amend_item_get_amended_at (WbAppAmendItem *self)
{
  g_return_val_if_fail (WB_IS_APP_AMEND_ITEM (self), WB_INSTANT_NONE);
  return self->amended_at;
}

const char *
wb_app_amend_item_get_who (WbAppAmendItem *self)
{
  g_return_val_if_fail (WB_IS_APP_AMEND_ITEM (self), NULL);
  return self->who;
}

gboolean
wb_app_amend_item_ends_burn (WbAppAmendItem *self)
{
  g_return_val_if_fail (WB_IS_APP_AMEND_ITEM (self), FALSE);
  return self->ends_burn;
}
