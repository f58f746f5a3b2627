/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-table.h"

#include "wb-exchange-error.h"
#include "wb-text.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>
#include <string.h>

struct _WbExchangeTable
{
  WbExchangeCsv *csv;
  char          *encoding;
  char           delimiter;
  guint64        header_line;
  char         **names;
};

/* iconv's converter in front of what is not UTF-8. */
static GInputStream *
dup_stream (GInputStream *stream, const char *encoding, GError **error)
{
  g_autoptr (GCharsetConverter) converter = NULL;

  if (g_ascii_strcasecmp (encoding, "UTF-8") == 0)
    return g_object_ref (stream);
  converter = g_charset_converter_new ("UTF-8", encoding, NULL);
  if (converter == NULL)
    {
      g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT, _("the encoding “%s” is not known here"), encoding);
      return NULL;
    }
  return g_converter_input_stream_new (stream, G_CONVERTER (converter));
}

/* What the converter says does not tell which encoding was taken. */
static void
name_encoding (const WbExchangeTable *self, GError **error)
{
  if (error == NULL || *error == NULL || (*error)->domain != G_IO_ERROR
      || ((*error)->code != G_IO_ERROR_INVALID_DATA && (*error)->code != G_IO_ERROR_PARTIAL_INPUT))
    return;
  g_clear_error (error);
  g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT,
               _("behind line %" PRIu64 " the text is not %s: choose another encoding"), self->header_line, self->encoding);
}

static char *
dup_cell (const WbExchangeCsvRecord *record, guint i)
{
  char *clean = i < record->n_cells ? wb_text_dup_clean (record->cells[i].text, record->cells[i].length) : NULL;

  /* Names of two lines in a spreadsheet's cell are one line here. */
  if (clean != NULL)
    g_strdelimit (clean, "\r\n\t", ' ');
  return clean;
}

/* One a cell, NULL where none stands there; `upper`, names of groups, is taken. */
static GPtrArray *
join_names (GPtrArray *upper, const WbExchangeCsvRecord *lower)
{
  GPtrArray *joined = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *group = NULL;

  for (guint i = 0; i < MAX (upper->len, lower->n_cells); i++)
    {
      const char *above = i < upper->len ? upper->pdata[i] : NULL;
      g_autofree char *below = dup_cell (lower, i);

      /* A group goes on to the right over empty cells, a name that has nothing below itself does not. */
      if (above != NULL)
        {
          g_free (group);
          group = below != NULL ? g_strdup (above) : NULL;
        }
      if (below != NULL && group != NULL)
        g_ptr_array_add (joined, g_strdup_printf ("%s %s", group, below));
      else
        g_ptr_array_add (joined, below != NULL ? g_steal_pointer (&below) : g_strdup (above));
    }
  g_ptr_array_unref (upper);
  return joined;
}

/* Those of a row, or of two. */
static GPtrArray *
take_names (GPtrArray *upper, const WbExchangeCsvRecord *record)
{
  GPtrArray *names;

  if (upper != NULL)
    return join_names (upper, record);
  names = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < record->n_cells; i++)
    g_ptr_array_add (names, dup_cell (record, i));
  return names;
}

static char **
dup_names (const GPtrArray *cells)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  char **names = g_new0 (char *, cells->len + 1);

  for (guint i = 0; i < cells->len; i++)
    {
      const char *clean = cells->pdata[i];

      /* A mapping names it so, in every language. */
      names[i] = clean != NULL ? g_strdup (clean) : g_strdup_printf ("column %u", i + 1);
      for (guint n = 2; g_hash_table_contains (seen, names[i]); n++)
        {
          g_free (names[i]);
          names[i] = g_strdup_printf ("%s (%u)", clean != NULL ? clean : "column", n);
        }
      g_hash_table_add (seen, names[i]);
    }
  return names;
}

gboolean
wb_exchange_record_is_empty (const WbExchangeCsvRecord *record)
{
  for (guint i = 0; i < record->n_cells; i++)
    if (strspn (record->cells[i].text, " \t\r\n") < record->cells[i].length)
      return FALSE;
  return TRUE;
}

static gboolean
read_header (WbExchangeTable *self, guint wanted, guint rows, GCancellable *cancellable, GError **error)
{
  g_autoptr (GPtrArray) names = NULL;
  WbExchangeCsvRecord record;

  for (;;)
    switch (wb_exchange_csv_next (self->csv, &record, cancellable, error))
      {
      case WB_EXCHANGE_CSV_RECORD:
        if (record.line < wanted || wb_exchange_record_is_empty (&record))
          continue;
        if (names == NULL)
          self->header_line = record.line;
        names = take_names (g_steal_pointer (&names), &record);
        if (--rows > 0)
          continue;
        self->names = dup_names (names);
        return TRUE;
      case WB_EXCHANGE_CSV_BROKEN:
        if (record.line < wanted && record.fault != WB_EXCHANGE_CSV_UTF16)
          continue;
        g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT, _("line %" PRIu64 ", the header: %s"), record.line,
                     wb_exchange_csv_fault_get_text (record.fault));
        return FALSE;
      case WB_EXCHANGE_CSV_END:
        g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT, _("no names of columns stand on line %u or below it"), wanted);
        return FALSE;
      case WB_EXCHANGE_CSV_ERROR:
      default:
        name_encoding (self, error);
        return FALSE;
      }
}

WbExchangeTable *
wb_exchange_table_new (GInputStream       *stream,
                       const WbLogMapping *shape,
                       GCancellable       *cancellable,
                       GError            **error)
{
  g_autoptr (WbExchangeTable) self = g_new0 (WbExchangeTable, 1);
  g_autoptr (GInputStream) text = NULL;
  g_autoptr (GError) reason = NULL;

  g_return_val_if_fail (G_IS_INPUT_STREAM (stream) && shape != NULL, NULL);

  self->encoding = g_strdup (shape->encoding);
  text = dup_stream (stream, shape->encoding, error);
  if (text == NULL)
    return NULL;
  self->csv = wb_exchange_csv_new (text);
  self->delimiter = shape->delimiter;
  if (self->delimiter != '\0')
    wb_exchange_csv_set_delimiter (self->csv, self->delimiter);
  else
    self->delimiter = wb_exchange_csv_tell_delimiter (self->csv, shape->header_line, cancellable, &reason);
  if (self->delimiter != '\0' && read_header (self, shape->header_line, MAX (1, shape->header_rows), cancellable, &reason))
    return g_steal_pointer (&self);
  name_encoding (self, &reason);
  g_propagate_error (error, g_steal_pointer (&reason));
  return NULL;
}

void
wb_exchange_table_free (WbExchangeTable *self)
{
  if (self == NULL)
    return;
  g_clear_pointer (&self->csv, wb_exchange_csv_free);
  g_strfreev (self->names);
  g_free (self->encoding);
  g_free (self);
}

const char *const *
wb_exchange_table_get_names (const WbExchangeTable *self)
{
  return (const char *const *) self->names;
}

char
wb_exchange_table_get_delimiter (const WbExchangeTable *self)
{
  return self->delimiter;
}

guint64
wb_exchange_table_get_header_line (const WbExchangeTable *self)
{
  return self->header_line;
}

WbExchangeCsvResult
wb_exchange_table_next (WbExchangeTable     *self,
                        WbExchangeCsvRecord *record,
                        GCancellable        *cancellable,
                        GError             **error)
{
  WbExchangeCsvResult result = wb_exchange_csv_next (self->csv, record, cancellable, error);

  if (result == WB_EXCHANGE_CSV_ERROR)
    name_encoding (self, error);
  return result;
}

guint64
wb_exchange_table_get_offset (const WbExchangeTable *self)
{
  return wb_exchange_csv_get_offset (self->csv);
}
