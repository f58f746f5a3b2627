/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-material.h"

#include "wb-exchange-csv.h"
#include "wb-exchange-error.h"
#include "wb-exchange-log-writer.h"
#include "wb-exchange-output.h"
#include "wb-exchange-text.h"
#include "wb-text.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#define LINE_BREAK "\r\n"

const WbRecordType *const *
wb_exchange_material_types (void)
{
  static const WbRecordType *const types[] = {
    &wb_vessel_type, &wb_wax_type, &wb_wick_type, &wb_fragrance_type, &wb_dye_type, &wb_additive_type, NULL
  };

  return types;
}

static gboolean
is_column (const WbFieldSpec *field)
{
  return field->type != WB_FIELD_REFERENCE && field->type != WB_FIELD_UUID && field->type != WB_FIELD_INSTANT;
}

/* A flag that is off is what an empty cell stands for. */
static gboolean
is_filled (gconstpointer record, const WbFieldSpec *field)
{
  return wb_record_is_known (record, field)
         && (field->type != WB_FIELD_FLAG || wb_record_get_integer (record, field) != 0);
}

/* The fields that are written: required ones, and those that some record fills. */
static GPtrArray *
choose_fields (const WbRecordType *type, const GPtrArray *records)
{
  GPtrArray *fields = g_ptr_array_new ();

  for (guint i = 0; i < type->n_fields; i++)
    {
      const WbFieldSpec *field = &type->fields[i];
      gboolean wanted = field->required;

      for (guint r = 0; r < records->len && !wanted; r++)
        wanted = is_column (field) && is_filled (g_ptr_array_index (records, r), field);
      if (wanted && is_column (field))
        g_ptr_array_add (fields, (gpointer) field);
    }
  return fields;
}

static void
add_text (GString *out, const char *text)
{
  g_autofree char *guarded = wb_exchange_text_needs_guard (text) ? g_strconcat ("'", text, NULL) : g_strdup (text);

  wb_exchange_output_add_cell (out, guarded);
}

static void
add_field (GString *out, gconstpointer record, const WbFieldSpec *field)
{
  g_autofree char *text = NULL;

  if (!is_filled (record, field))
    return;
  switch (field->type)
    {
    case WB_FIELD_REAL:
      text = wb_number_shortest (wb_record_get_real (record, field));
      break;
    case WB_FIELD_INTEGER:
      text = g_strdup_printf ("%" G_GINT64_FORMAT, wb_record_get_integer (record, field));
      break;
    case WB_FIELD_ENUM:
      text = g_strdup (field->words[wb_record_get_integer (record, field)].nick);
      break;
    case WB_FIELD_FLAG:
      text = g_strdup ("yes");
      break;
    case WB_FIELD_DAY:
      text = wb_day_format ((WbDay) wb_record_get_integer (record, field));
      break;
    case WB_FIELD_TEXT:
      add_text (out, wb_record_get_text (record, field));
      return;
    case WB_FIELD_REFERENCE:
    case WB_FIELD_INSTANT:
    case WB_FIELD_UUID:
    default:
      g_assert_not_reached ();
    }
  g_string_append (out, text);
}

gboolean
wb_exchange_material_write (GFile              *file,
                            const WbRecordType *type,
                            const GPtrArray    *records,
                            gboolean            invented,
                            GCancellable       *cancellable,
                            GError            **error)
{
  g_autoptr (WbExchangeOutput) output = wb_exchange_output_new (file, cancellable, error);
  g_autoptr (GPtrArray) fields = choose_fields (type, records);
  GString *text;

  if (output == NULL)
    return FALSE;
  text = wb_exchange_output_get_text (output);
  for (guint i = 0; i < fields->len; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? "," : "", ((const WbFieldSpec *) fields->pdata[i])->name);
  g_string_append (text, invented ? "," WB_EXCHANGE_LOG_INVENTED_COLUMN LINE_BREAK : LINE_BREAK);
  for (guint r = 0; r < records->len; r++)
    {
      for (guint i = 0; i < fields->len; i++)
        {
          if (i > 0)
            g_string_append_c (text, ',');
          add_field (text, records->pdata[r], fields->pdata[i]);
        }
      g_string_append (text, invented ? "," WB_EXCHANGE_LOG_INVENTED_CELL LINE_BREAK : LINE_BREAK);
      if (!wb_exchange_output_flush (output, error))
        return FALSE;
    }
  return wb_exchange_output_close (output, error);
}

/* What a file's header says; fields NULL where a column is unknown. */
typedef struct
{
  const WbRecordType *type;
  GPtrArray          *names;   /* char * */
  GPtrArray          *fields;  /* WbFieldSpec */
  char                decimal;
  char                delimiter;
} Header;

static void
header_clear (Header *header)
{
  g_clear_pointer (&header->names, g_ptr_array_unref);
  g_clear_pointer (&header->fields, g_ptr_array_unref);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Header, header_clear)

static const WbFieldSpec *
find_column (const WbRecordType *type, const char *name)
{
  const WbFieldSpec *field = wb_record_type_find_field (type, name);

  return field != NULL && is_column (field) ? field : NULL;
}

static gboolean
has_required (const WbRecordType *type, GPtrArray *names, const char **missing)
{
  for (guint i = 0; i < type->n_fields; i++)
    if (type->fields[i].required && is_column (&type->fields[i])
        && !g_ptr_array_find_with_equal_func (names, type->fields[i].name, g_str_equal, NULL))
      {
        *missing = type->fields[i].name;
        return FALSE;
      }
  return TRUE;
}

/* The kind that has its required columns here and knows the most of the others; NULL: none, or two as many. */
static const WbRecordType *
tell_type (GPtrArray *names)
{
  const WbRecordType *best = NULL;
  guint most = 0;

  for (guint t = 0; wb_exchange_material_types ()[t] != NULL; t++)
    {
      const WbRecordType *type = wb_exchange_material_types ()[t];
      const char *missing;
      guint known = 0;

      for (guint i = 0; i < names->len; i++)
        known += find_column (type, names->pdata[i]) != NULL;
      if (known < most || !has_required (type, names, &missing))
        continue;
      best = known > most ? type : NULL;
      most = known;
    }
  return best;
}

static gboolean
refuse_header (GError **error, guint64 line, char *problem)
{
  g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_HEADER, _("line %" G_GUINT64_FORMAT ", the header: %s"), line,
               problem);
  g_free (problem);
  return FALSE;
}

static gboolean
read_names (Header *header, const WbExchangeCsvRecord *record, GError **error)
{
  header->names = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < record->n_cells; i++)
    {
      char *name = wb_text_dup_clean (record->cells[i].text, record->cells[i].length);

      if (name == NULL)
        return refuse_header (error, record->line, g_strdup_printf (_("column %u has no name"), i + 1));
      if (g_ptr_array_find_with_equal_func (header->names, name, g_str_equal, NULL))
        {
          g_autofree char *twice = name;

          return refuse_header (error, record->line, g_strdup_printf (_("the column %s stands twice"), twice));
        }
      g_ptr_array_add (header->names, name);
    }
  return TRUE;
}

static gboolean
bind_fields (Header *header, guint64 line, GPtrArray *remarks, GError **error)
{
  const char *missing;

  if (header->type == NULL)
    header->type = tell_type (header->names);
  if (header->type == NULL)
    return refuse_header (error, line, g_strdup (_("its columns do not tell which kind of material it is")));
  if (!has_required (header->type, header->names, &missing))
    return refuse_header (error, line, g_strdup_printf (_("the column %s is missing"), missing));

  header->fields = g_ptr_array_new ();
  for (guint i = 0; i < header->names->len; i++)
    {
      const char *name = header->names->pdata[i];
      const WbFieldSpec *field = find_column (header->type, name);

      g_ptr_array_add (header->fields, (gpointer) field);
      if (field == NULL && strcmp (name, WB_EXCHANGE_LOG_INVENTED_COLUMN) != 0)
        g_ptr_array_add (remarks, wb_log_remark_new (line, name, g_strdup (_("an unknown column: passed over"))));
    }
  return TRUE;
}

/* `rule` is taken. */
static gboolean
remark (GPtrArray *remarks, guint64 line, const char *column, char *rule)
{
  g_ptr_array_add (remarks, wb_log_remark_new (line, column, rule));
  return FALSE;
}

static gboolean
read_number (Header *header, const char *text, double *value, GError **error)
{
  const char *sign = strpbrk (text, ".,");

  /* Without commas for delimiters the first number that has a sign tells it for the rest of the file. */
  if (sign != NULL && header->decimal == '\0' && strpbrk (sign + 1, ".,") == NULL)
    {
      if (!wb_number_parse_strict (text, *sign, value, error))
        return FALSE;
      header->decimal = *sign;
      return TRUE;
    }
  return wb_number_parse_strict (text, header->decimal == ',' ? ',' : '.', value, error);
}

static gboolean
read_word (gpointer record, const WbFieldSpec *field, const char *text, GError **error)
{
  static const WbWord flag_words[] = { { "no", NULL }, { "yes", NULL }, { NULL, NULL } };
  int word = wb_words_find (field->type == WB_FIELD_FLAG ? flag_words : field->words, text);

  if (word >= 0)
    {
      wb_record_set_integer (record, field, word);
      return TRUE;
    }
  g_set_error (error, WB_RECORD_ERROR, WB_RECORD_ERROR_WORD, _("“%s” is none of its words"), text);
  return FALSE;
}

/* A cell that is not empty. */
static gboolean
read_field (Header *header, gpointer record, const WbFieldSpec *field, const char *text, GError **error)
{
  double value;
  WbDay day;

  switch (field->type)
    {
    case WB_FIELD_REAL:
      if (!read_number (header, text, &value, error))
        return FALSE;
      wb_record_set_real (record, field, value);
      break;
    case WB_FIELD_INTEGER:
      {
        gint64 integer;

        if (!wb_number_parse_integer (text, &integer, error))
          return FALSE;
        wb_record_set_integer (record, field, integer);
        break;
      }
    case WB_FIELD_ENUM:
    case WB_FIELD_FLAG:
      if (!read_word (record, field, text, error))
        return FALSE;
      break;
    case WB_FIELD_DAY:
      if (!wb_day_parse (text, &day, error))
        return FALSE;
      wb_record_set_integer (record, field, day);
      break;
    case WB_FIELD_TEXT:
      wb_record_set_text (record, field, wb_exchange_text_skip_guard (text));
      break;
    case WB_FIELD_REFERENCE:
    case WB_FIELD_INSTANT:
    case WB_FIELD_UUID:
    default:
      g_assert_not_reached ();
    }
  return TRUE;
}

/* NULL: refused, and told. */
static gpointer
read_record (Header *header, const WbExchangeCsvRecord *row, GPtrArray *remarks)
{
  g_autoptr (WbRecord) record = wb_record_new (header->type);

  if (row->n_cells != header->fields->len)
    {
      remark (remarks, row->line, "", g_strdup_printf (_("the row has %u cells, and the header has %u"), row->n_cells,
                                                       header->fields->len));
      return NULL;
    }
  for (guint i = 0; i < row->n_cells; i++)
    {
      const WbFieldSpec *field = header->fields->pdata[i];
      g_autofree char *text = wb_text_dup_clean (row->cells[i].text, row->cells[i].length);
      g_autoptr (GError) error = NULL;

      if (field == NULL)
        continue;
      if ((text != NULL && !read_field (header, record, field, text, &error))
          || !wb_record_validate_field (record, field, &error))
        {
          remark (remarks, row->line, field->name, g_strdup (error->message));
          return NULL;
        }
    }
  return g_steal_pointer (&record);
}

static gboolean
read_header (WbExchangeCsv *csv, Header *header, GPtrArray *remarks, GCancellable *cancellable, GError **error)
{
  WbExchangeCsvRecord record;

  header->delimiter = wb_exchange_csv_tell_delimiter (csv, cancellable, error);
  if (header->delimiter == '\0')
    return FALSE;
  header->decimal = header->delimiter == ',' ? '.' : '\0';
  switch (wb_exchange_csv_next (csv, &record, cancellable, error))
    {
    case WB_EXCHANGE_CSV_RECORD:
      return read_names (header, &record, error) && bind_fields (header, record.line, remarks, error);
    case WB_EXCHANGE_CSV_BROKEN:
      g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT, _("line %" G_GUINT64_FORMAT ", the header: %s"),
                   record.line, wb_exchange_csv_fault_get_text (record.fault));
      return FALSE;
    case WB_EXCHANGE_CSV_END:
      g_set_error_literal (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT, _("the file is empty: a header row is needed"));
      return FALSE;
    case WB_EXCHANGE_CSV_ERROR:
    default:
      return FALSE;
    }
}

GPtrArray *
wb_exchange_material_read (GFile              *file,
                           const WbRecordType *type,
                           GPtrArray          *remarks,
                           GCancellable       *cancellable,
                           GError            **error)
{
  g_autoptr (GFileInputStream) stream = g_file_read (file, cancellable, error);
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_auto (Header) header = { .type = type };
  WbExchangeCsvRecord row;

  if (stream == NULL)
    return NULL;

  g_autoptr (WbExchangeCsv) csv = wb_exchange_csv_new (G_INPUT_STREAM (stream));

  if (!read_header (csv, &header, remarks, cancellable, error))
    return NULL;
  for (;;)
    switch (wb_exchange_csv_next (csv, &row, cancellable, error))
      {
      case WB_EXCHANGE_CSV_RECORD:
        {
          gpointer record = read_record (&header, &row, remarks);

          if (record != NULL)
            g_ptr_array_add (records, record);
          break;
        }
      case WB_EXCHANGE_CSV_BROKEN:
        remark (remarks, row.line, "", g_strdup (wb_exchange_csv_fault_get_text (row.fault)));
        break;
      case WB_EXCHANGE_CSV_END:
        return g_steal_pointer (&records);
      case WB_EXCHANGE_CSV_ERROR:
      default:
        return NULL;
      }
}
