/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-shelf.h"

#include "wb-exchange-error.h"
#include "wb-exchange-table.h"
#include "wb-exchange-text.h"
#include "wb-text.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* More rows and bytes than any workshop's shelf has: a file that is none is stopped there, which also bounds the memory. */
#define MOST_ROWS 10000
#define MOST_BYTES (32 * 1024 * 1024)

typedef struct
{
  WbExchangeShelf    *shelf;
  const WbRecordType *kind;  /* of a file without "record" */
  const char *const  *names; /* of the columns */
  GHashTable         *index; /* name -> place + 1 */
  gboolean            commas; /* between the cells: no decimal sign then */
} Reader;

static void
free_row (gpointer data)
{
  WbExchangeShelfRow *row = data;

  g_clear_pointer (&row->record, wb_record_free);
  g_clear_pointer (&row->owner, wb_record_free);
  g_free (row->other);
  g_free (row);
}

void
wb_exchange_shelf_free (WbExchangeShelf *self)
{
  if (self == NULL)
    return;
  g_ptr_array_unref (self->rows);
  g_ptr_array_unref (self->refused);
  g_strfreev (self->unknown);
  g_strfreev (self->columns);
  g_free (self);
}

/* Takes the rule. */
static void
refuse (Reader     *self,
        guint64     line,
        const char *column,
        char       *rule)
{
  g_ptr_array_add (self->shelf->refused, wb_log_remark_new (line, column, rule));
}

static gboolean
is_known_column (const char *name)
{
  const WbRecordType *const *types = wb_exchange_shelf_types ();

  if (g_str_equal (name, "record") || g_str_equal (name, "of"))
    return TRUE;
  for (guint i = 0; types[i] != NULL; i++)
    if (wb_record_type_find_field (types[i], name) != NULL)
      return TRUE;
  return FALSE;
}

/* The table calls a name that stands twice "NAME (2)" the second time. */
static gboolean
check_doubled (const Reader *self,
               GError      **error)
{
  for (guint i = 0; self->names[i] != NULL; i++)
    {
      g_autofree char *base = g_str_has_suffix (self->names[i], " (2)") ? g_strndup (self->names[i], strlen (self->names[i]) - 4) : NULL;

      if (base == NULL || !g_strv_contains (self->names, base))
        continue;
      g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_HEADER, _("the column “%s” stands twice"), base);
      return FALSE;
    }
  return TRUE;
}

static gboolean
check_header (Reader  *self,
              GError **error)
{
  g_autoptr (GPtrArray) unknown = g_ptr_array_new ();
  guint known = 0;

  if (!check_doubled (self, error))
    return FALSE;
  for (guint i = 0; self->names[i] != NULL; i++)
    {
      g_hash_table_insert (self->index, (gpointer) self->names[i], GUINT_TO_POINTER (i + 1));
      if (is_known_column (self->names[i]))
        known++;
      else
        g_ptr_array_add (unknown, g_strdup (self->names[i]));
    }
  g_ptr_array_add (unknown, NULL);
  self->shelf->unknown = (char **) g_ptr_array_free (g_steal_pointer (&unknown), FALSE);
  if (known == 0)
    {
      g_set_error_literal (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_HEADER,
                           _("no column of it is known here; the first line names them, as an export does"));
      return FALSE;
    }
  /* What the file says of itself counts, wherever it was opened. */
  if (g_hash_table_contains (self->index, "record"))
    self->kind = NULL;
  else if (self->kind == NULL)
    {
      g_set_error_literal (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_HEADER,
                           _("there is no column “record” that says what each row is: vessel, wax, wick …; add it, or say of which kind all are"));
      return FALSE;
    }
  return TRUE;
}

/* Clean, without a spreadsheet's guard; NULL: empty, or there is no such column. Caller frees. */
static char *
dup_cell (const Reader              *self,
          const WbExchangeCsvRecord *record,
          const char                *name)
{
  guint place = GPOINTER_TO_UINT (g_hash_table_lookup (self->index, name));

  if (place == 0 || place > record->n_cells)
    return NULL;
  return wb_text_dup_clean (wb_exchange_text_skip_guard (record->cells[place - 1].text), -1);
}

static const WbRecordType *
find_type (const char *name)
{
  const WbRecordType *const *types = wb_exchange_shelf_types ();

  for (guint i = 0; types[i] != NULL; i++)
    if (g_ascii_strcasecmp (types[i]->name, name) == 0)
      return types[i];
  return NULL;
}

/* By its word in the file or as people read it. */
static int
find_word (const WbFieldSpec *field,
           const char        *text)
{
  for (int i = 0; field->words[i].nick != NULL; i++)
    if (g_ascii_strcasecmp (field->words[i].nick, text) == 0 || g_ascii_strcasecmp (field->words[i].label, text) == 0 ||
        g_str_equal (_(field->words[i].label), text))
      return i;
  return -1;
}

static char *
dup_words (const WbFieldSpec *field)
{
  GString *words = g_string_new (NULL);

  for (int i = 0; field->words[i].nick != NULL; i++)
    g_string_append_printf (words, "%s%s", i > 0 ? ", " : "", field->words[i].nick);
  return g_string_free (words, FALSE);
}

/* As much of it as a line of a list bears. Caller frees. */
static char *
dup_shown (const char *text)
{
  if (g_utf8_strlen (text, -1) <= 60)
    return g_strdup (text);
  return g_strdup_printf ("%.*s…", (int) (g_utf8_offset_to_pointer (text, 59) - text), text);
}

/*
 * A comma between the cells of the file is no decimal sign as well: 1,234 may have been meant for a thousand. NULL: there is
 * none, or it is one. Caller frees the rule.
 */
static char *
dup_comma_rule (const Reader      *self,
                const WbFieldSpec *field,
                const char        *text)
{
  g_autofree char *shown = dup_shown (text);

  if (!self->commas || (field->type != WB_FIELD_REAL && field->type != WB_FIELD_INTEGER) || strchr (text, ',') == NULL)
    return NULL;
  return g_strdup_printf (_("“%s”: in a file whose cells are parted by commas the decimal sign is a point"), shown);
}

/* NULL: it is set. Caller frees the rule. */
static char *
set_value (WbRecord          *record,
           const WbFieldSpec *field,
           const char        *text)
{
  g_autofree char *shown = dup_shown (text);
  g_autoptr (GError) error = NULL;
  double value;
  gint64 integer;
  WbDay day;
  int word;

  switch (field->type)
    {
    case WB_FIELD_REAL:
      if (!wb_quantity_parse (field->quantity, wb_quantity_get_stored_unit (field->quantity), text, &value, &error))
        return g_strdup_printf (_("“%s”: %s"), shown, error->message);
      wb_record_set_real (record, field, value);
      break;
    case WB_FIELD_INTEGER:
      if (!wb_number_parse_integer (text, &integer, &error))
        return g_strdup_printf (_("“%s”: a whole number is needed here"), shown);
      wb_record_set_integer (record, field, integer);
      break;
    case WB_FIELD_ENUM:
      word = find_word (field, text);
      if (word < 0)
        {
          g_autofree char *words = dup_words (field);

          return g_strdup_printf (_("“%s” is none of: %s"), shown, words);
        }
      wb_record_set_integer (record, field, word);
      break;
    case WB_FIELD_FLAG:
      if (g_ascii_strcasecmp (text, "yes") != 0 && g_ascii_strcasecmp (text, "no") != 0 && !g_str_equal (text, "1") && !g_str_equal (text, "0"))
        return g_strdup_printf (_("“%s” is neither yes nor no"), shown);
      wb_record_set_integer (record, field, g_ascii_strcasecmp (text, "yes") == 0 || g_str_equal (text, "1"));
      break;
    case WB_FIELD_DAY:
      if (!wb_day_read (text, WB_DAY_NONE, &day, NULL))
        return g_strdup_printf (_("“%s” is no day; write it as 2026-03-14"), shown);
      wb_record_set_integer (record, field, day);
      break;
    case WB_FIELD_TEXT:
      wb_record_set_text (record, field, text);
      break;
    case WB_FIELD_REFERENCE:
    case WB_FIELD_INSTANT:
    case WB_FIELD_UUID:
    default:
      break;
    }
  if (wb_record_validate_field (record, field, &error))
    return NULL;
  if (field->type == WB_FIELD_REAL || field->type == WB_FIELD_INTEGER)
    {
      g_autofree char *low = wb_number_shortest (field->minimum);
      g_autofree char *high = wb_number_shortest (field->maximum);

      return g_strdup_printf (_("“%s”: permitted is %s to %s"), shown, low, high);
    }
  return g_strdup_printf (_("“%s”: %s"), shown, error->message);
}

/* FALSE: refused. An empty cell leaves the field not known. */
static gboolean
read_field (Reader                    *self,
            const WbExchangeCsvRecord *line,
            WbRecord                  *record,
            const WbFieldSpec         *field,
            gboolean                  *given)
{
  g_autofree char *text = dup_cell (self, line, field->name);
  char *rule;

  *given = text != NULL;
  if (text == NULL)
    return TRUE;
  rule = dup_comma_rule (self, field, text);
  if (rule == NULL)
    rule = set_value (record, field, text);
  if (rule == NULL)
    return TRUE;
  refuse (self, line->line, field->name, rule);
  return FALSE;
}

/* Of which kind the owner of a part is; NULL: refused. */
static const WbRecordType *
find_owner_kind (Reader                    *self,
                 const WbExchangeCsvRecord *line,
                 const WbRecordType        *part)
{
  const WbFieldSpec *reference = wb_exchange_shelf_get_owner (part);
  g_autofree char *of = dup_cell (self, line, "of");
  const WbRecordType *kind;

  if (reference->target != NULL)
    return reference->target;
  kind = of != NULL ? wb_exchange_shelf_find_kind (of) : self->kind;
  if (kind == NULL)
    refuse (self, line->line, "of", of != NULL ? g_strdup_printf (_("“%s” is no kind of material: vessel, wax, wick, fragrance, dye, additive"), of)
                                               : g_strdup (_("a lot needs the kind of its material here: vessel, wax, wick …")));
  return kind;
}

static gboolean
read_owner (Reader                    *self,
            const WbExchangeCsvRecord *line,
            WbExchangeShelfRow        *row)
{
  const WbRecordType *kind = find_owner_kind (self, line, row->type);
  const char *const *identity;
  const WbFieldSpec *other = wb_exchange_shelf_get_other (row->type);
  gboolean given;

  if (kind == NULL)
    return FALSE;
  row->owner = wb_record_new (kind);
  identity = wb_exchange_shelf_get_identity (kind);
  for (guint i = 0; identity[i] != NULL; i++)
    {
      const WbFieldSpec *field = wb_record_type_find_field (kind, identity[i]);

      if (!read_field (self, line, row->owner, field, &given))
        return FALSE;
      /* A vessel's diameter is needed only where two have one name. */
      if (!given && field->type == WB_FIELD_TEXT)
        {
          refuse (self, line->line, field->name, g_strdup_printf (_("empty: whose %s is it?"), _(row->type->label)));
          return FALSE;
        }
    }
  if (other != NULL)
    row->other = dup_cell (self, line, other->name);
  if (other != NULL && other->required && row->other == NULL)
    {
      refuse (self, line->line, other->name, g_strdup (_("a value is needed here")));
      return FALSE;
    }
  return TRUE;
}

/* FALSE: something stands behind the last column, and may have pushed all before it into the wrong one. */
static gboolean
check_length (Reader                    *self,
              const WbExchangeCsvRecord *line)
{
  guint n = g_strv_length ((char **) self->names);

  for (guint i = n; i < line->n_cells; i++)
    {
      g_autofree char *text = wb_text_dup_clean (line->cells[i].text, -1);

      if (text == NULL)
        continue;
      refuse (self, line->line, "", g_strdup_printf (_("there are %u cells, and %u columns; a comma within a number or a text without quotation "
                                                       "marks?"), line->n_cells, n));
      return FALSE;
    }
  return TRUE;
}

/* Cells that say nothing of this kind of row are not passed over in silence: a value may stand in the wrong column. */
static gboolean
check_rest (Reader                    *self,
            const WbExchangeCsvRecord *line,
            const WbExchangeShelfRow  *row)
{
  for (guint i = 0; self->names[i] != NULL; i++)
    {
      const char *name = self->names[i];
      g_autofree char *text = NULL;

      if (!is_known_column (name) || g_str_equal (name, "record") || wb_record_type_find_field (row->type, name) != NULL)
        continue;
      if (row->owner != NULL && (g_str_equal (name, "of") ||
                                 g_strv_contains (wb_exchange_shelf_get_identity (((WbRecord *) row->owner)->type), name)))
        continue;
      text = dup_cell (self, line, name);
      if (text == NULL)
        continue;
      refuse (self, line->line, name, g_strdup_printf (_("“%s”: this column says nothing of a row “%s”"), text, row->type->name));
      return FALSE;
    }
  return TRUE;
}

static gboolean
read_fields (Reader                    *self,
             const WbExchangeCsvRecord *line,
             WbExchangeShelfRow        *row)
{
  const WbFieldSpec *owner = wb_exchange_shelf_get_owner (row->type), *other = wb_exchange_shelf_get_other (row->type);
  gboolean right = TRUE;

  for (guint i = 0; i < row->type->n_fields; i++)
    {
      const WbFieldSpec *field = &row->type->fields[i];
      gboolean given = FALSE;

      if (field == owner || field == other)
        continue;
      if (!read_field (self, line, row->record, field, &given))
        right = FALSE;
      else if (given)
        row->given |= G_GUINT64_CONSTANT (1) << i;
    }
  return right;
}

/* NULL: refused. */
static const WbRecordType *
read_type (Reader                    *self,
           const WbExchangeCsvRecord *line)
{
  g_autofree char *text = dup_cell (self, line, "record");
  const WbRecordType *type = text != NULL ? find_type (text) : self->kind;

  if (type == NULL)
    refuse (self, line->line, "record", text != NULL
            ? g_strdup_printf (_("“%s” is none of: vessel, wax, wick, fragrance, dye, additive, wick_guide, fragrance_part, method_step, lot"), text)
            : g_strdup (_("empty: what is this row?")));
  return type;
}

static void
read_row (Reader                    *self,
          const WbExchangeCsvRecord *line)
{
  const WbRecordType *type = check_length (self, line) ? read_type (self, line) : NULL;
  WbExchangeShelfRow *row;
  gboolean right;

  if (type == NULL)
    return;
  row = g_new0 (WbExchangeShelfRow, 1);
  row->line = line->line;
  row->type = type;
  row->record = wb_record_new (type);
  right = read_fields (self, line, row);
  if (right && wb_exchange_shelf_get_owner (type) != NULL)
    right = read_owner (self, line, row);
  if (right && check_rest (self, line, row))
    g_ptr_array_add (self->shelf->rows, row);
  else
    free_row (row);
}

static gboolean
read_rows (Reader          *self,
           WbExchangeTable *table,
           GCancellable    *cancellable,
           GError         **error)
{
  WbExchangeCsvRecord record;

  for (;;)
    switch (wb_exchange_table_next (table, &record, cancellable, error))
      {
      case WB_EXCHANGE_CSV_RECORD:
        if (self->shelf->rows->len + self->shelf->refused->len >= MOST_ROWS)
          {
            g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT, _("it has more than %d rows: no shelf is that long"), MOST_ROWS);
            return FALSE;
          }
        if (wb_exchange_table_get_offset (table) > MOST_BYTES)
          {
            g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT, _("it has more than %d MiB: no list of materials is that long"),
                         MOST_BYTES / 1024 / 1024);
            return FALSE;
          }
        if (!wb_exchange_record_is_empty (&record))
          read_row (self, &record);
        break;
      case WB_EXCHANGE_CSV_BROKEN:
        if (self->shelf->refused->len >= MOST_ROWS)
          {
            g_set_error_literal (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT, _("nearly no line of it can be read: is it a CSV file?"));
            return FALSE;
          }
        refuse (self, record.line, record.fault_cell < g_strv_length ((char **) self->names) ? self->names[record.fault_cell] : "",
                record.fault == WB_EXCHANGE_CSV_ENCODING
                ? g_strdup (_("the text is not UTF-8: save the sheet again as “CSV UTF-8”"))
                : g_strdup (wb_exchange_csv_fault_get_text (record.fault)));
        break;
      case WB_EXCHANGE_CSV_END:
        return TRUE;
      case WB_EXCHANGE_CSV_ERROR:
      default:
        return FALSE;
      }
}

WbExchangeShelf *
wb_exchange_shelf_read (GFile              *file,
                        const WbRecordType *kind,
                        GCancellable       *cancellable,
                        GError            **error)
{
  g_autoptr (GFileInputStream) stream = NULL;
  g_autoptr (WbExchangeTable) table = NULL;
  g_autoptr (WbLogMapping) shape = wb_log_mapping_new ();
  g_autoptr (WbExchangeShelf) shelf = NULL;
  g_autoptr (GHashTable) index = g_hash_table_new (g_str_hash, g_str_equal);
  Reader reader = { .kind = kind, .index = index };

  g_return_val_if_fail (G_IS_FILE (file), NULL);

  stream = g_file_read (file, cancellable, error);
  table = stream != NULL ? wb_exchange_table_new (G_INPUT_STREAM (stream), shape, cancellable, error) : NULL;
  if (table == NULL)
    return NULL;
  shelf = g_new0 (WbExchangeShelf, 1);
  shelf->rows = g_ptr_array_new_with_free_func (free_row);
  shelf->refused = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
  reader.shelf = shelf;
  reader.names = wb_exchange_table_get_names (table);
  reader.commas = wb_exchange_table_get_delimiter (table) == ',';
  shelf->columns = g_strdupv ((char **) reader.names);
  if (!check_header (&reader, error) || !read_rows (&reader, table, cancellable, error))
    return NULL;
  return g_steal_pointer (&shelf);
}
