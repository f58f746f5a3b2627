/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-identity-private.h"

#include "wb-reading.h"
#include "wb-store-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#define MOST_FIELDS 8

/* Readings have none: two people may read at the same minute. Sessions, steps, inspections, decisions and attachments neither. */
typedef struct
{
  const WbRecordType *type;
  const char         *fields[MOST_FIELDS]; /* ends with NULL; none at all: there is only one */
} Identity;

static const Identity identities[] = {
  { &wb_notebook_type, { NULL } },
  { &wb_vessel_type, { "name", "inner_diameter_mm" } },
  { &wb_wax_type, { "name" } },
  { &wb_wick_type, { "series", "size" } },
  { &wb_wick_guide_type, { "wick", "wax" } },
  { &wb_fragrance_type, { "name" } },
  { &wb_fragrance_part_type, { "fragrance", "part" } },
  { &wb_dye_type, { "name" } },
  { &wb_additive_type, { "name" } },
  { &wb_lot_type, { "material", "code" } },
  { &wb_protocol_type, { "name" } },
  { &wb_limit_type, { "protocol", "kind" } },
  { &wb_profile_type, { "name" } },
  { &wb_aim_type, { "profile", "stage", "figure" } },
  { &wb_experiment_type, { "code" } },
  { &wb_experiment_type, { "title" } },
  { &wb_cell_type, { "experiment", "vessel", "wick", "wick_count", "wick_spacing_mm", "fragrance", "load_pct", "load_basis" } },
  { &wb_batch_type, { "experiment", "code" } },
  { &wb_sample_type, { "experiment", "code" } },
  { &wb_burn_type, { "sample", "number" } },
};

/* Fields that make a record a part of what they refer to. */
static const struct { const WbRecordType *type; const char *field; } parts[] = {
  { &wb_limit_type, "protocol" },
  { &wb_aim_type, "profile" },
  { &wb_wick_guide_type, "wick" },
  { &wb_fragrance_part_type, "fragrance" },
  { &wb_lot_type, "material" },
  { &wb_method_step_type, "wax" },
  { &wb_batch_step_type, "batch" },
  { &wb_confirmation_type, "decision" },
  { &wb_inspection_type, "sample" },
  { &wb_attachment_type, "owner" },
};

static guint
identity_length (const Identity *identity)
{
  guint n = 0;

  while (n < MOST_FIELDS && identity->fields[n] != NULL)
    n++;
  return n;
}

static char *
build_query (const Identity     *identity,
             const WbStoreTable *table)
{
  GString *sql = g_string_new (NULL);

  g_string_append_printf (sql, "SELECT v.id FROM %s AS v WHERE v.id <> ?1", table->type->name);
  for (guint i = 0; i < identity_length (identity); i++)
    g_string_append_printf (sql, " AND v.%s IS ?%u", identity->fields[i], i + 2);
  g_string_append_printf (sql, " AND %s LIMIT 1", table->current);
  return g_string_free (sql, FALSE);
}

static gboolean
find_by (WbStore            *store,
         const Identity     *identity,
         const WbStoreTable *table,
         gconstpointer       record,
         gint64             *id,
         GError            **error)
{
  g_autofree char *sql = build_query (identity, table);
  sqlite3_stmt *statement = wb_store_statement (store, sql, error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, ((const WbRecord *) record)->id);
  for (guint i = 0; i < identity_length (identity); i++)
    wb_store_field_bind (wb_record_type_find_field (table->type, identity->fields[i]), record, statement, (int) i + 2);
  return wb_store_get_integer (store, statement, 0, id, error);
}

gint64
wb_store_identity_find (WbStore            *store,
                        const WbStoreTable *table,
                        gconstpointer       record,
                        GError            **error)
{
  for (guint i = 0; i < G_N_ELEMENTS (identities); i++)
    {
      gint64 id;

      if (identities[i].type != table->type)
        continue;
      if (!find_by (store, &identities[i], table, record, &id, error))
        return -1;
      if (id != 0)
        return id;
    }
  return 0;
}

/* Values of an identity that mean something to a person: not the numbers of other records. */
static char *
dup_values (const Identity     *identity,
            gconstpointer       record)
{
  GString *words = g_string_new (NULL);

  for (guint i = 0; i < identity_length (identity); i++)
    {
      const WbFieldSpec *field = wb_record_type_find_field (((const WbRecord *) record)->type, identity->fields[i]);

      if (field->type == WB_FIELD_REFERENCE || !wb_record_is_known (record, field))
        continue;
      g_string_append (words, words->len > 0 ? ", " : "");
      if (field->type == WB_FIELD_TEXT)
        g_string_append_printf (words, "“%s”", wb_record_get_text (record, field));
      else if (field->type == WB_FIELD_REAL)
        {
          g_autofree char *number = wb_number_shortest (wb_record_get_real (record, field));
          const char *unit = wb_unit_get_symbol (wb_quantity_get_stored_unit (field->quantity));

          g_string_append_printf (words, *unit != '\0' ? "%s\302\240%s" : "%s%s", number, unit);
        }
      else if (field->words != NULL)
        g_string_append (words, _(field->words[wb_record_get_integer (record, field)].label));
      else
        g_string_append_printf (words, "%" G_GINT64_FORMAT, wb_record_get_integer (record, field));
    }
  return g_string_free (words, FALSE);
}

gboolean
wb_store_identity_is_free (WbStore            *store,
                           const WbStoreTable *table,
                           gconstpointer       record,
                           GError            **error)
{
  for (guint i = 0; i < G_N_ELEMENTS (identities); i++)
    {
      g_autofree char *values = NULL;
      gint64 id;

      if (identities[i].type != table->type)
        continue;
      if (!find_by (store, &identities[i], table, record, &id, error))
        return FALSE;
      if (id == 0)
        continue;
      values = dup_values (&identities[i], record);
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_CONFLICT,
                   /* Translators: kind of record, its name and what else tells it apart */
                   _("%s %s is in the notebook already."), _(table->type->label), values);
      return FALSE;
    }
  return TRUE;
}

char *
wb_store_identity_dup_words (gconstpointer record)
{
  const WbRecordType *type = ((const WbRecord *) record)->type;

  for (guint i = 0; i < G_N_ELEMENTS (identities); i++)
    if (identities[i].type == type)
      {
        g_autofree char *values = dup_values (&identities[i], record);

        return g_strdup_printf (*values != '\0' ? "%s %s" : "%s%s", _(type->label), values);
      }
  return g_strdup (_(type->label));
}

gboolean
wb_store_field_is_part_of (const WbRecordType *type,
                           const WbFieldSpec  *field)
{
  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    if (parts[i].type == type && strcmp (parts[i].field, field->name) == 0)
      return TRUE;
  return FALSE;
}

char *
wb_store_uses_dup_words (const GArray *uses)
{
  GString *words = g_string_new (NULL);

  for (guint i = 0; i < uses->len; i++)
    {
      const WbStoreUse *use = &g_array_index (uses, WbStoreUse, i);

      if (!use->part)
        g_string_append_printf (words, "%s%" G_GINT64_FORMAT " × %s", words->len > 0 ? ", " : "", use->count,
                                _(use->type->label));
    }
  return g_string_free (words, words->len == 0);
}
