/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-entry-item.h"

#include <glib/gi18n.h>
#include <inttypes.h>

struct _WbEntryItem
{
  GObject     parent_instance;

  /* owned */
  WbAppEntry *entry;
};

G_DEFINE_FINAL_TYPE (WbEntryItem, wb_entry_item, G_TYPE_OBJECT)

/* The store's words for how an entry came about. */
static const struct { const char *kind; const char *label; } kinds[] = {
  { "create", N_("notebook made") },
  { "edit", N_("window") },
  { "command", N_("command") },
  { "import", N_("import") },
  { "undo", N_("undo") },
  { "redo", N_("redo") },
  { "take_back", N_("taken back") },
  { "migration", N_("new form of the file") },
  { "restore", N_("restored") },
};

static void
wb_entry_item_finalize (GObject *object)
{
  wb_app_entry_free (WB_ENTRY_ITEM (object)->entry);
  G_OBJECT_CLASS (wb_entry_item_parent_class)->finalize (object);
}

static void
wb_entry_item_class_init (WbEntryItemClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = wb_entry_item_finalize;
}

static void
wb_entry_item_init (WbEntryItem *self)
{
}

static char *
dup_what (const WbAppEntry *entry)
{
  const char *why = entry->why != NULL ? entry->why : "";

  if (entry->takes_back != 0)
    return g_strdup_printf (_("%s (takes back entry %" PRId64 ")"), why, entry->takes_back);
  if (entry->taken_back)
    return g_strdup_printf (_("%s (taken back)"), why);
  return g_strdup (why);
}

static char *
dup_kind (const WbAppEntry *entry)
{
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    if (g_strcmp0 (entry->kind, kinds[i].kind) == 0)
      return g_strdup (_(kinds[i].label));
  return g_strdup (entry->kind != NULL ? entry->kind : "");
}

WbEntryItem *
wb_entry_item_new (WbAppEntry *entry)
{
  WbEntryItem *self;

  g_return_val_if_fail (entry != NULL, NULL);

  self = g_object_new (WB_TYPE_ENTRY_ITEM, NULL);
  self->entry = entry;
  return self;
}

const WbAppEntry *
wb_entry_item_get (WbEntryItem *self)
{
  g_return_val_if_fail (WB_IS_ENTRY_ITEM (self), NULL);
  return self->entry;
}

char *
wb_entry_item_dup_text (WbEntryItem *self,
                        WbEntryText  which)
{
  g_return_val_if_fail (WB_IS_ENTRY_ITEM (self), NULL);

  switch (which)
    {
    case WB_ENTRY_NUMBER:
      return g_strdup_printf ("%" G_GINT64_FORMAT, self->entry->number);
    case WB_ENTRY_WHEN:
      return wb_instant_format_short (self->entry->made_at);
    case WB_ENTRY_WHAT:
      return dup_what (self->entry);
    case WB_ENTRY_KIND:
      return dup_kind (self->entry);
    case WB_ENTRY_WHO:
      return g_strdup (self->entry->who != NULL ? self->entry->who : "");
    case WB_N_ENTRY_TEXTS:
    default:
      g_return_val_if_reached (NULL);
    }
}
