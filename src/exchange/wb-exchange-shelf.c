/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-shelf.h"

#include "wb-exchange-output.h"
#include "wb-exchange-text.h"

#include <math.h>
#include <string.h>

#define LINE_BREAK "\r\n"

static const WbRecordType *const types[] = {
  &wb_vessel_type, &wb_wax_type, &wb_wick_type, &wb_fragrance_type, &wb_dye_type, &wb_additive_type,
  &wb_wick_guide_type, &wb_fragrance_part_type, &wb_method_step_type, &wb_lot_type, NULL
};

static const WbRecordType *const kinds[] = {
  &wb_vessel_type, &wb_wax_type, &wb_wick_type, &wb_fragrance_type, &wb_dye_type, &wb_additive_type, NULL
};

static const struct { const WbRecordType *type; const char *owner, *other; } parts[] = {
  { &wb_wick_guide_type, "wick", "wax" },
  { &wb_fragrance_part_type, "fragrance", "part" },
  { &wb_method_step_type, "wax", NULL },
  { &wb_lot_type, "material", NULL },
};

const WbRecordType *const *
wb_exchange_shelf_kinds (void)
{
  return kinds;
}

const WbRecordType *const *
wb_exchange_shelf_types (void)
{
  return types;
}

const WbRecordType *
wb_exchange_shelf_find_kind (const char *name)
{
  for (guint i = 0; kinds[i] != NULL; i++)
    if (g_strcmp0 (kinds[i]->name, name) == 0)
      return kinds[i];
  return NULL;
}

const WbFieldSpec *
wb_exchange_shelf_get_owner (const WbRecordType *part)
{
  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    if (parts[i].type == part)
      return wb_record_type_find_field (part, parts[i].owner);
  return NULL;
}

const WbFieldSpec *
wb_exchange_shelf_get_other (const WbRecordType *part)
{
  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    if (parts[i].type == part && parts[i].other != NULL)
      return wb_record_type_find_field (part, parts[i].other);
  return NULL;
}

const char *const *
wb_exchange_shelf_get_identity (const WbRecordType *kind)
{
  static const char *const vessel[] = { "name", "inner_diameter_mm", NULL };
  static const char *const wick[] = { "series", "size", NULL };
  static const char *const rest[] = { "name", NULL };

  return kind == &wb_vessel_type ? vessel : kind == &wb_wick_type ? wick : rest;
}

static gboolean
is_part_of (const WbRecordType *part,
            const WbRecordType *kind)
{
  const WbFieldSpec *owner = wb_exchange_shelf_get_owner (part);

  return owner != NULL && (owner->target == NULL || owner->target == kind);
}

static void
add_column (GPtrArray  *columns,
            const char *name)
{
  if (!g_ptr_array_find_with_equal_func (columns, name, g_str_equal, NULL))
    g_ptr_array_add (columns, (gpointer) name);
}

/* Borrowed names, in the order in which they are written. */
static GPtrArray *
list_columns (const WbRecordType *kind)
{
  GPtrArray *columns = g_ptr_array_new ();

  add_column (columns, "record");
  add_column (columns, "of");
  for (guint i = 0; types[i] != NULL; i++)
    {
      const WbFieldSpec *owner = wb_exchange_shelf_get_owner (types[i]);

      if (kind != NULL && types[i] != kind && !is_part_of (types[i], kind))
        continue;
      for (guint j = 0; j < types[i]->n_fields; j++)
        if (&types[i]->fields[j] != owner)
          add_column (columns, types[i]->fields[j].name);
    }
  return columns;
}

static const WbRecord *
find (GHashTable *by_id,
      gint64      id)
{
  return g_hash_table_lookup (by_id, &id);
}

static void
add_text (GString    *line,
          const char *text)
{
  g_autofree char *guarded = text != NULL && wb_exchange_text_needs_guard (text) ? g_strconcat ("'", text, NULL) : NULL;

  wb_exchange_output_add_cell (line, guarded != NULL ? guarded : text != NULL ? text : "");
}

static void
add_value (GString           *line,
           const WbRecord    *record,
           const WbFieldSpec *field,
           GHashTable        *by_id)
{
  g_autofree char *text = NULL;
  const WbRecord *other;

  if (!wb_record_is_known (record, field))
    return;
  switch (field->type)
    {
    case WB_FIELD_REAL:
      text = wb_number_shortest (wb_record_get_real (record, field));
      g_string_append (line, text);
      break;
    case WB_FIELD_INTEGER:
      g_string_append_printf (line, "%" G_GINT64_FORMAT, wb_record_get_integer (record, field));
      break;
    case WB_FIELD_ENUM:
      g_string_append (line, field->words[wb_record_get_integer (record, field)].nick);
      break;
    case WB_FIELD_FLAG:
      g_string_append (line, wb_record_get_integer (record, field) ? "yes" : "no");
      break;
    case WB_FIELD_DAY:
      text = wb_day_format ((WbDay) wb_record_get_integer (record, field));
      g_string_append (line, text);
      break;
    case WB_FIELD_REFERENCE:
      other = find (by_id, wb_record_get_integer (record, field));
      if (other != NULL)
        add_text (line, wb_record_get_text (other, wb_record_type_find_field (other->type, "name")));
      break;
    case WB_FIELD_TEXT:
      add_text (line, wb_record_get_text (record, field));
      break;
    case WB_FIELD_INSTANT:
    case WB_FIELD_UUID:
    default:
      break;
    }
}

static void
add_cell (GString        *line,
          const char     *column,
          const WbRecord *record,
          const WbRecord *owner,
          GHashTable     *by_id)
{
  const WbFieldSpec *field = wb_record_type_find_field (record->type, column);

  if (g_str_equal (column, "record"))
    g_string_append (line, record->type->name);
  else if (g_str_equal (column, "of"))
    g_string_append (line, record->type == &wb_lot_type ? owner->type->name : "");
  else if (owner != NULL && g_strv_contains (wb_exchange_shelf_get_identity (owner->type), column))
    add_value (line, owner, wb_record_type_find_field (owner->type, column), by_id);
  else if (field != NULL && field != wb_exchange_shelf_get_owner (record->type))
    add_value (line, record, field, by_id);
}

static gboolean
write_rows (WbExchangeOutput   *output,
            GPtrArray          *columns,
            GPtrArray          *records,
            GHashTable         *by_id,
            const WbRecordType *type,
            const WbRecordType *kind,
            GError            **error)
{
  const WbFieldSpec *reference = wb_exchange_shelf_get_owner (type);

  for (guint i = 0; i < records->len; i++)
    {
      const WbRecord *record = records->pdata[i];
      const WbRecord *owner = record->type == type && reference != NULL ? find (by_id, wb_record_get_integer (record, reference)) : NULL;
      GString *line = wb_exchange_output_get_text (output);

      if (record->type != type || (reference != NULL && (owner == NULL || (kind != NULL && owner->type != kind))))
        continue;
      for (guint j = 0; j < columns->len; j++)
        {
          if (j > 0)
            g_string_append_c (line, ',');
          add_cell (line, columns->pdata[j], record, owner, by_id);
        }
      g_string_append (line, LINE_BREAK);
      if (!wb_exchange_output_flush (output, error))
        return FALSE;
    }
  return TRUE;
}

gboolean
wb_exchange_shelf_write (GFile              *file,
                         GPtrArray          *records,
                         const WbRecordType *kind,
                         GCancellable       *cancellable,
                         GError            **error)
{
  g_autoptr (WbExchangeOutput) output = NULL;
  g_autoptr (GPtrArray) columns = list_columns (kind);
  g_autoptr (GHashTable) by_id = g_hash_table_new (g_int64_hash, g_int64_equal);

  g_return_val_if_fail (G_IS_FILE (file), FALSE);
  g_return_val_if_fail (records != NULL, FALSE);

  for (guint i = 0; i < records->len; i++)
    g_hash_table_insert (by_id, &((WbRecord *) records->pdata[i])->id, records->pdata[i]);
  output = wb_exchange_output_new (file, cancellable, error);
  if (output == NULL)
    return FALSE;
  for (guint i = 0; i < columns->len; i++)
    g_string_append_printf (wb_exchange_output_get_text (output), "%s%s", i > 0 ? "," : "", (const char *) columns->pdata[i]);
  g_string_append (wb_exchange_output_get_text (output), LINE_BREAK);
  for (guint i = 0; types[i] != NULL; i++)
    if ((kind == NULL || types[i] == kind || is_part_of (types[i], kind)) &&
        !write_rows (output, columns, records, by_id, types[i], kind, error))
      return FALSE;
  return wb_exchange_output_close (output, error);
}
