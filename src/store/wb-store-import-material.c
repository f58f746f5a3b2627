/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-import-private.h"

#include "wb-store-records.h"

#include <math.h>

/* What an import leans on, found in the notebook or made: materials, and the house's own protocol and profile. */

/* Puts a record and gives its id; frees it. 0 with error. */
gint64
wb_import_put_new (WbStoreImport *self,
                   gpointer       record,
                   GError       **error)
{
  gint64 id = wb_store_change_put (self->change, record, error) ? ((WbRecord *) record)->id : 0;

  wb_record_free (record);
  return id;
}

gint64 *
wb_import_remembered (GHashTable *table,
                      const char *key)
{
  return g_hash_table_lookup (table, key);
}

gint64
wb_import_remember (GHashTable *table,
                    const char *key,
                    gint64      id)
{
  if (id > 0)
    g_hash_table_insert (table, g_strdup (key), g_memdup2 (&id, sizeof id));
  return MAX (id, 0);
}

/* A material whose identity is its name. 0 with error. */
static gint64
ensure_named (WbStoreImport      *self,
              const WbRecordType *type,
              const char         *name,
              GError            **error)
{
  g_autofree char *key = g_strconcat (type->name, " ", name, NULL);
  gint64 *known = wb_import_remembered (self->names, key);
  gint64 id;

  if (known != NULL)
    return *known;
  id = wb_store_find_by_text (self->store, type, "name", name, error);
  if (id == 0)
    {
      gpointer record = wb_record_new (type);

      wb_record_set_text (record, wb_record_type_find_field (type, "name"), name);
      id = wb_import_put_new (self, record, error);
    }
  return wb_import_remember (self->names, key, id);
}

/* 0 for what is not stated, or stated to be none. */
gboolean
wb_import_ensure_stated (WbStoreImport           *self,
                         const WbRecordType      *type,
                         const WbImportStatement *statement,
                         gint64                  *id,
                         GError                 **error)
{
  *id = 0;
  if (!statement->known || *statement->text == '\0')
    return TRUE;
  *id = ensure_named (self, type, statement->text, error);
  return *id != 0;
}

gint64
wb_import_ensure_vessel (WbStoreImport           *self,
                         const WbImportStatement *s,
                         GError                 **error)
{
  double diameter = s[WB_IMPORT_INNER_DIAMETER].number;
  g_autofree char *number = wb_number_shortest (diameter);
  g_autofree char *key = g_strconcat ("vessel ", number, " ", s[WB_IMPORT_VESSEL].text, NULL);
  gint64 *known = wb_import_remembered (self->names, key);
  gint64 id;

  if (known != NULL)
    return *known;
  id = wb_import_find_vessel (self->store, s[WB_IMPORT_VESSEL].text, diameter, error);
  if (id == 0)
    {
      WbVessel *vessel = wb_record_new (&wb_vessel_type);

      vessel->name = g_strdup (s[WB_IMPORT_VESSEL].text);
      vessel->inner_diameter_mm = diameter;
      id = wb_import_put_new (self, vessel, error);
    }
  return wb_import_remember (self->names, key, id);
}

/* The wick of a sample, which a row named in full or the node of the wick has written. */
gint64
wb_import_ensure_wick (WbStoreImport *self,
                       const char    *series,
                       const char    *size,
                       double         step,
                       GError       **error)
{
  g_autofree char *key = wb_import_dup_wick_key (series, size);
  gint64 *known = wb_import_remembered (self->wicks, key);
  gint64 id;

  if (known != NULL)
    return *known;
  id = wb_import_find_wick (self->store, series, size, error);
  if (id == 0)
    {
      WbWick *wick = wb_record_new (&wb_wick_type);

      wick->series = g_strdup (series);
      wick->size = g_strdup (size);
      if (!isnan (step))
        wick->step = (gint64) step;
      id = wb_import_put_new (self, wick, error);
    }
  return wb_import_remember (self->wicks, key, id);
}

/* Whether limits or aims of a stored record are the house's, one for one in any order. */
static gboolean
same_parts (WbStoreImport      *self,
            const WbRecordType *type,
            const char         *owner,
            gint64              id,
            GPtrArray          *house,
            gboolean           *same,
            GError            **error)
{
  g_autoptr (GPtrArray) stored = wb_store_list (self->store, type, owner, id, error);
  const WbFieldSpec *field = wb_record_type_find_field (type, owner);

  if (stored == NULL)
    return FALSE;
  *same = stored->len == house->len;
  for (guint i = 0; i < house->len && *same; i++)
    {
      gboolean found = FALSE;

      wb_record_set_integer (house->pdata[i], field, id);
      for (guint j = 0; j < stored->len && !found; j++)
        found = wb_record_equal (house->pdata[i], stored->pdata[j]);
      *same = found;
    }
  return TRUE;
}

/* A name that no record of that kind has: as it is, or with the next free number. */
gboolean
wb_import_free_name (WbStoreImport      *self,
                     const WbRecordType *type,
                     const char         *field,
                     char              **name,
                     GError            **error)
{
  g_autofree char *wanted = g_strdup (*name);

  for (guint i = 2;; i++)
    {
      gint64 taken = wb_store_find_by_text (self->store, type, field, *name, error);

      if (taken <= 0)
        return taken == 0;
      g_free (*name);
      *name = g_strdup_printf ("%s %u", wanted, i);
    }
}

/*
 * The house's own protocol or profile with its parts. One in the notebook that
 * is still as the house made it serves; one that the maker has changed does
 * not, so that the same log gives the same ranking in any notebook.
 */
static gint64
ensure_house (WbStoreImport      *self,
              gpointer            house,
              GPtrArray          *parts,
              const WbRecordType *part_type,
              const char         *owner,
              GError            **error)
{
  const WbRecordType *type = ((WbRecord *) house)->type;
  const WbFieldSpec *name_field = wb_record_type_find_field (type, "name");
  g_autoptr (GPtrArray) stored = wb_store_list (self->store, type, NULL, 0, error);
  g_autofree char *name = g_strdup (wb_record_get_text (house, name_field));
  gint64 id;

  for (guint i = 0; stored != NULL && i < stored->len; i++)
    {
      gboolean same = FALSE;

      wb_record_set_text (house, name_field, wb_record_get_text (stored->pdata[i], name_field));
      if (!wb_record_equal (house, stored->pdata[i]))
        continue;
      if (!same_parts (self, part_type, owner, ((WbRecord *) stored->pdata[i])->id, parts, &same, error))
        return 0;
      if (same)
        return ((WbRecord *) stored->pdata[i])->id;
    }
  if (stored == NULL || !wb_import_free_name (self, type, "name", &name, error))
    return 0;
  wb_record_set_text (house, name_field, name);
  if (!wb_store_change_put (self->change, house, error))
    return 0;
  id = ((WbRecord *) house)->id;
  for (guint i = 0; i < parts->len; i++)
    {
      wb_record_set_integer (parts->pdata[i], wb_record_type_find_field (part_type, owner), id);
      if (!wb_store_change_put (self->change, parts->pdata[i], error))
        return 0;
    }
  return id;
}

gboolean
wb_import_ensure_rules (WbStoreImport *self,
                        GError       **error)
{
  if (self->protocol == 0)
    {
      g_autoptr (WbRecord) house = (WbRecord *) wb_protocol_new_house ();
      g_autoptr (GPtrArray) limits = wb_limits_new_house ();

      self->protocol = ensure_house (self, house, limits, &wb_limit_type, "protocol", error);
    }
  if (self->protocol != 0 && self->profile == 0)
    {
      g_autoptr (WbRecord) house = (WbRecord *) wb_profile_new_house ();
      g_autoptr (GPtrArray) aims = wb_aims_new_house ();

      self->profile = ensure_house (self, house, aims, &wb_aim_type, "profile", error);
    }
  return self->protocol != 0 && self->profile != 0;
}
