/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-material-item.h"

#include "wb-material-kind.h"

struct _WbMaterialItem
{
  GObject   parent_instance;

  /* owned */
  gpointer  record;
  char     *title;
  char     *summary;
  char     *folded; /* both, note and lots, for searching */
};

G_DEFINE_FINAL_TYPE (WbMaterialItem, wb_material_item, G_TYPE_OBJECT)

static void
wb_material_item_finalize (GObject *object)
{
  WbMaterialItem *self = WB_MATERIAL_ITEM (object);

  wb_record_free (self->record);
  g_free (self->title);
  g_free (self->summary);
  g_free (self->folded);
  G_OBJECT_CLASS (wb_material_item_parent_class)->finalize (object);
}

static void
wb_material_item_class_init (WbMaterialItemClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = wb_material_item_finalize;
}

static void
wb_material_item_init (WbMaterialItem *self)
{
}

/* The diameter is in the summary, in the person's unit; the title is the name alone. */
static char *
dup_title (gconstpointer record)
{
  if (((const WbRecord *) record)->type == &wb_vessel_type)
    return g_strdup (((const WbVessel *) record)->name);
  return wb_material_dup_title (record);
}

WbMaterialItem *
wb_material_item_new (gconstpointer record,
                      gboolean      us_units,
                      GPtrArray    *lots)
{
  WbMaterialItem *self;
  g_autoptr (GString) all = NULL;
  const WbFieldSpec *note;

  g_return_val_if_fail (record != NULL, NULL);

  self = g_object_new (WB_TYPE_MATERIAL_ITEM, NULL);
  self->record = wb_record_copy (record);
  self->title = dup_title (record);
  self->summary = wb_material_dup_summary (record, us_units);
  all = g_string_new (self->title);
  g_string_append_printf (all, " %s", self->summary);
  note = wb_record_type_find_field (((const WbRecord *) record)->type, "note");
  if (note != NULL && wb_record_is_known (record, note))
    g_string_append_printf (all, " %s", wb_record_get_text (record, note));
  for (guint i = 0; lots != NULL && i < lots->len; i++)
    if (((const WbLot *) lots->pdata[i])->material == ((const WbRecord *) record)->id)
      g_string_append_printf (all, " %s", ((const WbLot *) lots->pdata[i])->code);
  self->folded = g_utf8_casefold (all->str, -1);
  return self;
}

gconstpointer
wb_material_item_get_record (WbMaterialItem *self)
{
  g_return_val_if_fail (WB_IS_MATERIAL_ITEM (self), NULL);
  return self->record;
}

gint64
wb_material_item_get_id (WbMaterialItem *self)
{
  g_return_val_if_fail (WB_IS_MATERIAL_ITEM (self), 0);
  return ((const WbRecord *) self->record)->id;
}

const char *
wb_material_item_get_title (WbMaterialItem *self)
{
  g_return_val_if_fail (WB_IS_MATERIAL_ITEM (self), NULL);
  return self->title != NULL ? self->title : "";
}

const char *
wb_material_item_get_summary (WbMaterialItem *self)
{
  g_return_val_if_fail (WB_IS_MATERIAL_ITEM (self), NULL);
  return self->summary;
}

gboolean
wb_material_item_matches (WbMaterialItem *self,
                          const char     *text)
{
  g_autofree char *folded = NULL;
  g_auto (GStrv) words = NULL;

  g_return_val_if_fail (WB_IS_MATERIAL_ITEM (self), FALSE);
  g_return_val_if_fail (text != NULL, FALSE);

  folded = g_utf8_casefold (text, -1);
  words = g_strsplit_set (folded, " \t", -1);
  for (char **word = words; *word != NULL; word++)
    if (strstr (self->folded, *word) == NULL)
      return FALSE;
  return TRUE;
}
