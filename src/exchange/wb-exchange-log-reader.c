/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-log-reader.h"

#include "wb-exchange-csv.h"
#include "wb-exchange-error.h"
#include "wb-exchange-log-cell-private.h"
#include "wb-exchange-log-writer.h"
#include "wb-exchange-mapping.h"
#include "wb-exchange-table.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>
#include <string.h>

/* How far into the file the decimal sign is looked for. */
#define SIGN_RECORDS 1000

struct _WbExchangeLogReader
{
  GFile              *file;
  GCancellable       *cancellable;
  WbExchangeCsv      *csv;      /* NULL where there is a mapping */
  WbLogMapping       *plan;     /* NULL: a burn log of the format */
  WbExchangeTable    *table;
  WbExchangeMapping  *mapping;
  WbExchangeCsvRecord mapped;   /* the row that came last */
  WbExchangeLogCells *cells;    /* what the columns of the file are, and the rules on a row */
  char                delimiter;
  guint64             rows;
  guint64             size;
  char               *etag;
};

/* The words of GIO tell what the program did; a person wants to know what is wrong with which file. */
static gboolean
refuse_file (WbExchangeLogReader *self, GError *reason, GError **error)
{
  g_autofree char *name = g_file_get_parse_name (self->file);

  if (g_error_matches (reason, G_IO_ERROR, G_IO_ERROR_NOT_FOUND))
    g_set_error (error, G_IO_ERROR, reason->code, _("There is no file “%s”."), name);
  else if (g_error_matches (reason, G_IO_ERROR, G_IO_ERROR_PERMISSION_DENIED))
    g_set_error (error, G_IO_ERROR, reason->code, _("“%s” may not be read: its permissions forbid it."), name);
  else
    {
      g_propagate_error (error, reason);
      return FALSE;
    }
  g_error_free (reason);
  return FALSE;
}

static gboolean
query_file (WbExchangeLogReader *self, GError **error)
{
  GError *reason = NULL;
  g_autoptr (GFileInfo) info =
    g_file_query_info (self->file, G_FILE_ATTRIBUTE_STANDARD_TYPE "," G_FILE_ATTRIBUTE_STANDARD_SIZE "," G_FILE_ATTRIBUTE_ETAG_VALUE,
                       G_FILE_QUERY_INFO_NONE, self->cancellable, &reason);

  if (info == NULL)
    return refuse_file (self, reason, error);
  /* Pipes and devices cannot be read twice. */
  if (g_file_info_get_file_type (info) != G_FILE_TYPE_REGULAR)
    {
      g_autofree char *name = g_file_get_parse_name (self->file);

      g_set_error (error, G_IO_ERROR, G_IO_ERROR_NOT_REGULAR_FILE, _("“%s” is not a file."), name);
      return FALSE;
    }

  const char *etag = g_file_info_get_etag (info);

  self->size = g_file_info_get_size (info);
  self->etag = g_strdup_printf ("%" G_GUINT64_FORMAT ":%s", self->size, etag != NULL ? etag : "");
  return TRUE;
}

static GFileInputStream *
open_stream (WbExchangeLogReader *self, GError **error)
{
  GError *reason = NULL;
  GFileInputStream *stream = g_file_read (self->file, self->cancellable, &reason);

  if (stream == NULL)
    refuse_file (self, reason, error);
  return stream;
}

/* Opens from the beginning and reads the first record, the header. */
static gboolean
open_csv (WbExchangeLogReader *self, WbExchangeCsvRecord *header, GError **error)
{
  g_autoptr (GFileInputStream) stream = open_stream (self, error);

  if (stream == NULL)
    return FALSE;
  g_clear_pointer (&self->csv, wb_exchange_csv_free);
  self->csv = wb_exchange_csv_new (G_INPUT_STREAM (stream));
  self->delimiter = wb_exchange_csv_tell_delimiter (self->csv, 1, self->cancellable, error);
  if (self->delimiter == '\0')
    return FALSE;

  switch (wb_exchange_csv_next (self->csv, header, self->cancellable, error))
    {
    case WB_EXCHANGE_CSV_RECORD:
      return TRUE;
    case WB_EXCHANGE_CSV_BROKEN:
      g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT, _("line %" PRIu64 ", the header: %s"),
                   header->line, wb_exchange_csv_fault_get_text (header->fault));
      return FALSE;
    case WB_EXCHANGE_CSV_END:
      g_set_error_literal (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT, _("the file is empty: a header row is needed"));
      return FALSE;
    case WB_EXCHANGE_CSV_ERROR:
    default:
      return FALSE;
    }
}

/* In a file without commas for delimiters the first number that has a sign tells it. */
static gboolean
tell_decimal (WbExchangeLogReader *self, GError **error)
{
  WbExchangeCsvRecord record;
  WbExchangeCsvResult result = WB_EXCHANGE_CSV_RECORD;
  char sign = '\0';

  for (guint i = 0; i < SIGN_RECORDS && sign == '\0'; i++)
    {
      result = wb_exchange_csv_next (self->csv, &record, self->cancellable, error);
      if (result == WB_EXCHANGE_CSV_ERROR)
        return FALSE;
      if (result == WB_EXCHANGE_CSV_END)
        break;
      if (result == WB_EXCHANGE_CSV_RECORD)
        sign = wb_exchange_log_cells_find_decimal (self->cells, &record);
    }
  wb_exchange_log_cells_set_decimal (self->cells, sign == ',' ? ',' : '.');
  return open_csv (self, &record, error);
}

/* Reads the sheet once through, where the mapping must know all of it before its first row. */
static gboolean
survey (WbExchangeLogReader *self, GError **error)
{
  g_autoptr (GFileInputStream) stream = open_stream (self, error);
  g_autoptr (WbExchangeTable) table = stream != NULL ? wb_exchange_table_new (G_INPUT_STREAM (stream), self->plan, self->cancellable, error) : NULL;
  WbExchangeCsvResult result = WB_EXCHANGE_CSV_RECORD;
  WbExchangeCsvRecord record;

  if (table == NULL)
    return FALSE;
  while (result != WB_EXCHANGE_CSV_END)
    {
      result = wb_exchange_table_next (table, &record, self->cancellable, error);
      if (result == WB_EXCHANGE_CSV_ERROR)
        return FALSE;
      if (result == WB_EXCHANGE_CSV_RECORD && !wb_exchange_record_is_empty (&record))
        wb_exchange_mapping_survey (self->mapping, &record);
    }
  wb_exchange_mapping_end_survey (self->mapping);
  return TRUE;
}

static gboolean
open_mapped (WbExchangeLogReader *self, GError **error)
{
  g_autoptr (GFileInputStream) stream = open_stream (self, error);
  WbExchangeCsvRecord header;

  if (stream == NULL)
    return FALSE;
  self->table = wb_exchange_table_new (G_INPUT_STREAM (stream), self->plan, self->cancellable, error);
  if (self->table == NULL)
    return FALSE;
  self->delimiter = self->plan->delimiter = wb_exchange_table_get_delimiter (self->table);
  self->mapping = wb_exchange_mapping_new (self->plan, wb_exchange_table_get_names (self->table), error);
  if (self->mapping == NULL || (wb_exchange_mapping_wants_survey (self->mapping) && !survey (self, error)))
    return FALSE;
  wb_exchange_mapping_get_header (self->mapping, &header);
  self->cells = wb_exchange_log_cells_new (&header, error);
  return self->cells != NULL;
}

static gboolean
reader_open (WbExchangeLogReader *self, GError **error)
{
  WbExchangeCsvRecord header;

  if (self->plan != NULL)
    return query_file (self, error) && open_mapped (self, error);
  if (!query_file (self, error) || !open_csv (self, &header, error))
    return FALSE;
  self->cells = wb_exchange_log_cells_new (&header, error);
  if (self->cells == NULL)
    return FALSE;
  return self->delimiter == ',' || tell_decimal (self, error);
}

WbExchangeLogReader *
wb_exchange_log_reader_new (GFile        *file,
                            GCancellable *cancellable,
                            GError      **error)
{
  return wb_exchange_log_reader_new_mapped (file, NULL, cancellable, error);
}

WbExchangeLogReader *
wb_exchange_log_reader_new_mapped (GFile              *file,
                                   const WbLogMapping *mapping,
                                   GCancellable       *cancellable,
                                   GError            **error)
{
  g_return_val_if_fail (G_IS_FILE (file), NULL);

  g_autoptr (WbExchangeLogReader) self = g_new0 (WbExchangeLogReader, 1);

  self->file = g_object_ref (file);
  self->plan = mapping != NULL ? wb_log_mapping_copy (mapping) : NULL;
  g_set_object (&self->cancellable, cancellable);
  if (!reader_open (self, error))
    return NULL;
  return g_steal_pointer (&self);
}

void
wb_exchange_log_reader_free (WbExchangeLogReader *self)
{
  if (self == NULL)
    return;
  g_clear_pointer (&self->cells, wb_exchange_log_cells_free);
  g_clear_pointer (&self->csv, wb_exchange_csv_free);
  g_clear_pointer (&self->mapping, wb_exchange_mapping_free);
  g_clear_pointer (&self->table, wb_exchange_table_free);
  g_clear_pointer (&self->plan, wb_log_mapping_free);
  g_clear_object (&self->cancellable);
  g_clear_object (&self->file);
  g_free (self->etag);
  g_free (self);
}

static WbExchangeLogResult
refuse_broken (WbExchangeLogReader *self, const WbExchangeCsvRecord *record, GPtrArray *remarks)
{
  const char *column = NULL;

  if (record->fault_cell != G_MAXUINT && self->table != NULL)
    column = record->fault_cell < g_strv_length ((char **) wb_exchange_table_get_names (self->table))
               ? wb_exchange_table_get_names (self->table)[record->fault_cell] : NULL;
  else if (record->fault_cell != G_MAXUINT)
    column = wb_exchange_log_cells_get_name (self->cells, record->fault_cell);

  g_ptr_array_add (remarks, wb_log_remark_new (record->line, column != NULL ? column : "",
                                               g_strdup (wb_exchange_csv_fault_get_text (record->fault))));
  return WB_EXCHANGE_LOG_REFUSED;
}

/* The next row that the mapping makes of the sheet's records. */
static WbExchangeLogResult
next_mapped (WbExchangeLogReader *self, WbLogRow *row, GPtrArray *remarks, GError **error)
{
  guint before = remarks->len;
  WbExchangeCsvRecord record;

  for (;;)
    {
      gboolean good;

      switch (wb_exchange_mapping_next (self->mapping, &record, remarks))
        {
        case WB_EXCHANGE_MAPPING_ROW:
          self->rows++;
          self->mapped = record;
          good = wb_exchange_log_cells_read (self->cells, &record, row, remarks);
          wb_exchange_mapping_name_columns (self->mapping, remarks, before, TRUE);
          /* What is said about a row that comes in does not go for one that does not. */
          if (!good && remarks->len - before > 1)
            g_ptr_array_remove_range (remarks, before, remarks->len - before - 1);
          if (!good)
            wb_exchange_mapping_tell_lost (self->mapping, remarks->pdata[remarks->len - 1]);
          return good ? WB_EXCHANGE_LOG_ROW : WB_EXCHANGE_LOG_REFUSED;
        case WB_EXCHANGE_MAPPING_REFUSED:
          self->rows++;
          row->line = ((const WbLogRemark *) remarks->pdata[remarks->len - 1])->line;
          return WB_EXCHANGE_LOG_REFUSED;
        case WB_EXCHANGE_MAPPING_END:
        default:
          break;
        }
      switch (wb_exchange_table_next (self->table, &record, self->cancellable, error))
        {
        case WB_EXCHANGE_CSV_RECORD:
          if (!wb_exchange_record_is_empty (&record))
            wb_exchange_mapping_feed (self->mapping, &record);
          continue;
        case WB_EXCHANGE_CSV_BROKEN:
          self->rows++;
          row->line = record.line;
          return refuse_broken (self, &record, remarks);
        case WB_EXCHANGE_CSV_END:
          return WB_EXCHANGE_LOG_END;
        case WB_EXCHANGE_CSV_ERROR:
        default:
          return WB_EXCHANGE_LOG_ERROR;
        }
    }
}

WbExchangeLogResult
wb_exchange_log_reader_next (WbExchangeLogReader *self,
                             WbLogRow            *row,
                             GPtrArray           *remarks,
                             GError             **error)
{
  WbExchangeCsvRecord record;

  if (self->mapping != NULL)
    return next_mapped (self, row, remarks, error);
  for (;;)
    switch (wb_exchange_csv_next (self->csv, &record, self->cancellable, error))
      {
      case WB_EXCHANGE_CSV_RECORD:
        if (wb_exchange_record_is_empty (&record))
          continue;
        self->rows++;
        return wb_exchange_log_cells_read (self->cells, &record, row, remarks) ? WB_EXCHANGE_LOG_ROW : WB_EXCHANGE_LOG_REFUSED;
      case WB_EXCHANGE_CSV_BROKEN:
        self->rows++;
        row->line = record.line;
        return refuse_broken (self, &record, remarks);
      case WB_EXCHANGE_CSV_END:
        return WB_EXCHANGE_LOG_END;
      case WB_EXCHANGE_CSV_ERROR:
      default:
        return WB_EXCHANGE_LOG_ERROR;
      }
}

void
wb_exchange_log_reader_finish (const WbExchangeLogReader *self,
                               GPtrArray                 *remarks)
{
  guint before = remarks->len;

  /* A log of the format says what its maker meant; of a sheet a column may have been passed over. */
  if (self->mapping == NULL)
    return;
  wb_exchange_log_cells_finish (self->cells, remarks);
  wb_exchange_mapping_finish (self->mapping, remarks);
  wb_exchange_mapping_name_columns (self->mapping, remarks, before, FALSE);
}

guint64
wb_exchange_log_reader_get_unnamed (const WbExchangeLogReader *self)
{
  return wb_exchange_log_cells_get_unnamed (self->cells);
}

gboolean
wb_exchange_log_reader_wants_recorded (const WbExchangeLogReader *self)
{
  return self->mapping != NULL && wb_exchange_mapping_wants_survey (self->mapping);
}

void
wb_exchange_log_reader_add_recorded (WbExchangeLogReader *self,
                                     const char          *experiment,
                                     const char          *sample,
                                     WbInstant            lit,
                                     gint64               number)
{
  g_return_if_fail (self->mapping != NULL && self->rows == 0);
  wb_exchange_mapping_add_recorded (self->mapping, experiment, sample, lit, number);
}

void
wb_exchange_log_reader_get_mapped (const WbExchangeLogReader *self,
                                   WbExchangeCsvRecord       *header,
                                   WbExchangeCsvRecord       *row)
{
  g_return_if_fail (self->mapping != NULL);

  wb_exchange_mapping_get_header (self->mapping, header);
  *row = self->mapped;
}

void
wb_exchange_log_reader_name_columns (const WbExchangeLogReader *self,
                                     GPtrArray                 *remarks,
                                     guint                      from,
                                     gboolean                   last)
{
  if (self->mapping != NULL)
    wb_exchange_mapping_name_columns (self->mapping, remarks, from, last);
}

void
wb_exchange_log_reader_drop_mark (WbExchangeLogReader *self)
{
  wb_exchange_log_cells_drop (self->cells, WB_EXCHANGE_LOG_INVENTED_COLUMN);
}

char
wb_exchange_log_reader_get_delimiter (const WbExchangeLogReader *self)
{
  return self->delimiter;
}

char
wb_exchange_log_reader_get_decimal (const WbExchangeLogReader *self)
{
  return self->plan != NULL ? self->plan->decimal : wb_exchange_log_cells_get_decimal (self->cells);
}

const char *const *
wb_exchange_log_reader_get_extra (const WbExchangeLogReader *self)
{
  return wb_exchange_log_cells_get_extra (self->cells);
}

guint64
wb_exchange_log_reader_get_rows (const WbExchangeLogReader *self)
{
  return self->rows;
}

guint64
wb_exchange_log_reader_get_offset (const WbExchangeLogReader *self)
{
  return self->table != NULL ? wb_exchange_table_get_offset (self->table) : wb_exchange_csv_get_offset (self->csv);
}

guint64
wb_exchange_log_reader_get_size (const WbExchangeLogReader *self)
{
  return self->size;
}

const char *
wb_exchange_log_reader_get_etag (const WbExchangeLogReader *self)
{
  return self->etag;
}
