/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-logger.h"

#include "wb-exchange-error.h"
#include "wb-exchange-log-value-private.h"
#include "wb-exchange-logger-private.h"
#include "wb-exchange-mapping-time-private.h"
#include "wb-reading.h"
#include "wb-text.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>
#include <math.h>
#include <string.h>

#define CHUNK 65536

#define DAY_S 86400.0
#define HALF_DAY_S (DAY_S / 2)

/* What a thermocouple of the usual kind can tell at all; common practice, no source. */
#define OTHER_MINIMUM_C -50.0
#define OTHER_MAXIMUM_C 1400.0

/* The first line of what is kept, and the line between the choice and the file's bytes. */
#define MAGIC "Wickbench logger file 1\n"
#define BORDER "\n--- the file as it was ---\n"

/* One row as it was read, before it is held against its neighbours. */
typedef struct
{
  guint64 line;
  int     column;                         /* where its time stands */
  double  seconds;                        /* since the lighting; of a time of day alone, since midnight */
  double  values[WB_LOGGER_MOST_COLUMNS];
} Raw;

/* While rows are read. */
typedef struct
{
  WbExchangeTable *table;
  WbLogger        *logger;
  int              time, day;                            /* places of the columns; day -1: none */
  int              columns[WB_LOGGER_MOST_COLUMNS];
  double           lit_local_s, lit_utc_s;               /* NAN: not known */
  double           shift_s;                              /* of times of day: midnights passed */
  double           last_s;                               /* NAN: first row */
  GArray          *raw;                                  /* Raw, in the order of the file */
  GArray          *minutes, *values[WB_LOGGER_MOST_COLUMNS];
} Rows;

GBytes *
wb_exchange_logger_load (GFile        *file,
                         GCancellable *cancellable,
                         GError      **error)
{
  g_autoptr (GFileInputStream) stream = NULL;
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  g_autofree guchar *chunk = g_malloc (CHUNK);
  g_autofree char *name = NULL;
  GFileType type;
  gssize got;

  g_return_val_if_fail (G_IS_FILE (file), NULL);

  name = g_file_get_basename (file);
  type = g_file_query_file_type (file, G_FILE_QUERY_INFO_NONE, cancellable);
  /* A pipe would be waited for; what is not there GIO says when it is opened. */
  if (type != G_FILE_TYPE_REGULAR && type != G_FILE_TYPE_UNKNOWN)
    {
      g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT, _("“%s” is no file that holds a table."), name);
      return NULL;
    }
  stream = g_file_read (file, cancellable, error);
  if (stream == NULL)
    return NULL;
  while ((got = g_input_stream_read (G_INPUT_STREAM (stream), chunk, CHUNK, cancellable, error)) > 0)
    {
      if (bytes->len + got > WB_EXCHANGE_LOGGER_BYTES)
        {
          g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT,
                       _("“%s” is larger than %d MiB: cut it to the burn, or have the logger write fewer rows."), name,
                       WB_EXCHANGE_LOGGER_BYTES / (1024 * 1024));
          return NULL;
        }
      g_byte_array_append (bytes, chunk, (guint) got);
    }
  if (got == 0 && bytes->len == 0)
    g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT, _("“%s” is empty."), name);
  return got < 0 || bytes->len == 0 ? NULL : g_byte_array_free_to_bytes (g_steal_pointer (&bytes));
}

WbExchangeTable *
wb_exchange_logger_open_table (GBytes               *bytes,
                               const char           *name,
                               const WbLoggerChoice *shape,
                               GCancellable         *cancellable,
                               GError              **error)
{
  g_autoptr (GInputStream) stream = g_memory_input_stream_new_from_bytes (bytes);
  g_autoptr (WbLogMapping) mapping = wb_log_mapping_new ();
  WbExchangeTable *table;

  g_free (mapping->encoding);
  mapping->encoding = g_strdup (shape->encoding);
  mapping->delimiter = shape->delimiter;
  mapping->header_line = shape->header_line;
  table = wb_exchange_table_new (stream, mapping, cancellable, error);
  if (table == NULL)
    g_prefix_error (error, "“%s”: ", name);
  return table;
}

const char *
wb_exchange_logger_get_cell (const WbExchangeCsvRecord *record,
                             int                        column,
                             GString                   *scratch)
{
  g_autofree char *clean = NULL;

  if (column < 0 || (guint) column >= record->n_cells)
    return "";
  clean = wb_text_dup_clean (record->cells[column].text, record->cells[column].length);
  g_string_assign (scratch, clean != NULL ? clean : "");
  return scratch->str;
}

/* "10:05:30.250": what is less than a second says nothing of a candle. */
static void
cut_fraction (GString *text)
{
  char *colon = strchr (text->str, ':'), *second = colon != NULL ? strchr (colon + 1, ':') : NULL;
  gsize at, digits;

  if (second == NULL || !g_ascii_isdigit (second[1]) || !g_ascii_isdigit (second[2]) || second[3] == '\0' || strchr (".,:", second[3]) == NULL)
    return;
  digits = strspn (second + 4, "0123456789");
  at = (gsize) (second + 3 - text->str);
  if (digits > 0)
    g_string_erase (text, (gssize) at, (gssize) digits + 1);
}

gboolean
wb_exchange_logger_read_moment (const char       *text,
                                WbLogDateOrder    order,
                                WbExchangeMoment *moment,
                                char            **rule)
{
  g_autoptr (GString) whole = g_string_new (text);

  cut_fraction (whole);
  if (!wb_exchange_mapping_read_moment (whole->str, order, moment, rule))
    return FALSE;
  if (moment->instant.known || moment->second >= 0)
    return TRUE;
  *rule = g_strdup_printf (_("“%s”: no time of day stands with the day"), text);
  return FALSE;
}

gboolean
wb_exchange_logger_read_time (const char *text,
                              int        *second,
                              char      **rule)
{
  g_autoptr (GString) whole = g_string_new (text);

  cut_fraction (whole);
  return wb_exchange_mapping_read_time (whole->str, second, rule);
}

/* ---- Time ---- */

/* A spreadsheet may have put midnight behind it. */
static gboolean
read_day (const char    *text,
          WbLogDateOrder order,
          WbDay         *day,
          char         **rule)
{
  WbExchangeMoment moment = WB_EXCHANGE_MOMENT_NONE;

  if (!wb_exchange_mapping_read_moment (text, order, &moment, rule))
    return FALSE;
  *day = moment.instant.known ? wb_instant_get_day (moment.instant) : moment.day;
  return TRUE;
}

/* Seconds since the lighting of a day and a time of day. */
static gboolean
read_date_time (Rows                      *rows,
                const WbExchangeCsvRecord *record,
                GString                   *scratch,
                double                    *seconds,
                int                       *column,
                char                     **rule)
{
  const WbLoggerChoice *choice = rows->logger->choice;
  WbExchangeMoment moment = WB_EXCHANGE_MOMENT_NONE;

  if (rows->day >= 0)
    {
      *column = rows->day;
      if (!read_day (wb_exchange_logger_get_cell (record, rows->day, scratch), choice->date_order, &moment.day, rule))
        return FALSE;
      *column = rows->time;
      if (!wb_exchange_logger_read_time (wb_exchange_logger_get_cell (record, rows->time, scratch), &moment.second, rule))
        return FALSE;
    }
  else if (!wb_exchange_logger_read_moment (wb_exchange_logger_get_cell (record, rows->time, scratch), choice->date_order, &moment, rule))
    return FALSE;
  *seconds = moment.instant.known ? (double) moment.instant.utc_us / G_USEC_PER_SEC - rows->lit_utc_s
                                  : moment.day * DAY_S + moment.second - rows->lit_local_s;
  return TRUE;
}

/* Seconds since the lighting of a time of day alone, of a row behind the one before: the first is less than half a day from the lighting. */
static double
place_time (Rows  *rows,
            double second)
{
  double lit_s = rows->lit_local_s - floor (rows->lit_local_s / DAY_S) * DAY_S, seconds = second - lit_s + rows->shift_s;

  if (isnan (rows->last_s))
    {
      if (seconds < -HALF_DAY_S)
        rows->shift_s = DAY_S;
      else if (seconds > HALF_DAY_S)
        rows->shift_s = -DAY_S;
      seconds += rows->shift_s;
    }
  else if (seconds < rows->last_s - HALF_DAY_S)
    {
      rows->shift_s += DAY_S;
      seconds += DAY_S;
    }
  return seconds;
}

static gboolean
read_number (const char *text,
             char        decimal,
             double     *value,
             char      **rule)
{
  g_autoptr (GError) reason = NULL;
  g_autofree char *quoted = NULL;

  if (wb_number_parse_strict (text, decimal, value, &reason))
    return TRUE;
  quoted = wb_exchange_log_dup_quoted (text);
  *rule = g_strdup_printf (decimal == ',' ? _("%s: a number with a decimal comma is wanted") : _("%s: a number with a decimal point is wanted"),
                           quoted);
  return FALSE;
}

/* As the row alone tells it: since the lighting, or of a time of day since midnight. */
static gboolean
read_seconds (Rows                      *rows,
              const WbExchangeCsvRecord *record,
              GString                   *scratch,
              double                    *seconds,
              int                       *column,
              char                     **rule)
{
  const WbLoggerChoice *choice = rows->logger->choice;
  int second;

  *column = rows->time;
  switch (choice->form)
    {
    case WB_LOGGER_DATE_TIME:
      if (!read_date_time (rows, record, scratch, seconds, column, rule))
        return FALSE;
      break;
    case WB_LOGGER_TIME:
      if (!wb_exchange_logger_read_time (wb_exchange_logger_get_cell (record, rows->time, scratch), &second, rule))
        return FALSE;
      *seconds = second;
      break;
    case WB_LOGGER_MINUTES:
    case WB_LOGGER_SECONDS:
    case WB_LOGGER_N_FORMS:
    default:
      if (!read_number (wb_exchange_logger_get_cell (record, rows->time, scratch), choice->decimal, seconds, rule))
        return FALSE;
      *seconds *= choice->form == WB_LOGGER_MINUTES ? 60.0 : 1.0;
    }
  return TRUE;
}

/* ---- Temperatures ---- */

static void
get_range (WbLoggerPlace place,
           double       *minimum,
           double       *maximum)
{
  int column = wb_logger_place_get_column (place);

  *minimum = column >= 0 ? wb_column_get_spec ((WbColumn) column)->minimum : OTHER_MINIMUM_C;
  *maximum = column >= 0 ? wb_column_get_spec ((WbColumn) column)->maximum : OTHER_MAXIMUM_C;
}

/* An empty cell is NAN. */
static gboolean
read_value (const Rows                *rows,
            const WbExchangeCsvRecord *record,
            guint                      n,
            GString                   *scratch,
            double                    *value,
            char                     **rule)
{
  const WbLoggerChoice *choice = rows->logger->choice;
  const char *text = wb_exchange_logger_get_cell (record, rows->columns[n], scratch);
  double minimum, maximum;

  *value = NAN;
  if (*text == '\0')
    return TRUE;
  if (!read_number (text, choice->decimal, value, rule))
    return FALSE;
  *value = wb_unit_to_stored (choice->unit, *value);
  get_range (choice->columns[n].place, &minimum, &maximum);
  if (*value >= minimum && *value <= maximum)
    return TRUE;

  g_autofree char *quoted = wb_exchange_log_dup_quoted (text);
  g_autofree char *low = wb_quantity_format (choice->unit, minimum, 0), *high = wb_quantity_format (choice->unit, maximum, 0);

  *rule = g_strdup_printf (_("%s: %s to %s is accepted there"), quoted, low, high);
  return FALSE;
}

/* ---- Rows ---- */

static void
refusal_free (gpointer data)
{
  WbLoggerRefusal *self = data;

  g_free (self->column);
  g_free (self->rule);
  g_free (self);
}

/* Takes the rule. column: its place, -1: the row. */
static void
refuse (Rows   *rows,
        guint64 line,
        int     column,
        char   *rule)
{
  const char *const *names = wb_exchange_table_get_names (rows->table);
  WbLogger *logger = rows->logger;
  WbLoggerRefusal *refusal;

  logger->n_refused++;
  if (logger->refused->len >= WB_LOGGER_TOLD)
    {
      g_free (rule);
      return;
    }
  refusal = g_new0 (WbLoggerRefusal, 1);
  refusal->line = line;
  refusal->column = g_strdup (column >= 0 && (guint) column < g_strv_length ((char **) names) ? names[column] : "");
  refusal->rule = rule;
  g_ptr_array_add (logger->refused, refusal);
}

static void
take_row (Rows                      *rows,
          const WbExchangeCsvRecord *record,
          GString                   *scratch)
{
  const WbLoggerChoice *choice = rows->logger->choice;
  Raw raw = { .line = record->line };
  char *rule = NULL;

  if (wb_exchange_record_is_empty (record))
    return;
  if (!read_seconds (rows, record, scratch, &raw.seconds, &raw.column, &rule))
    {
      refuse (rows, record->line, raw.column, rule);
      return;
    }
  for (guint i = 0; i < choice->n_columns; i++)
    if (!read_value (rows, record, i, scratch, &raw.values[i], &rule))
      {
        refuse (rows, record->line, rows->columns[i], rule);
        return;
      }
  g_array_append_val (rows->raw, raw);
}

/* Some loggers write the newest row first: most steps go back then, whatever midnight does. */
static gboolean
is_newest_first (const Rows *rows)
{
  guint back = 0, on = 0;

  for (guint i = 1; i < rows->raw->len; i++)
    {
      double step = g_array_index (rows->raw, Raw, i).seconds - g_array_index (rows->raw, Raw, i - 1).seconds;

      back += step < 0;
      on += step > 0;
    }
  return back > on;
}

/* In the order of time; a row that stands before its forerunner is refused. */
static void
place_rows (Rows *rows)
{
  const WbLoggerChoice *choice = rows->logger->choice;
  gboolean back = is_newest_first (rows);

  for (guint i = 0; i < rows->raw->len; i++)
    {
      const Raw *raw = &g_array_index (rows->raw, Raw, back ? rows->raw->len - 1 - i : i);
      double seconds = choice->form == WB_LOGGER_TIME ? place_time (rows, raw->seconds) : raw->seconds, minute;

      if (seconds < rows->last_s)
        {
          refuse (rows, raw->line, raw->column, g_strdup (back ? _("the time lies before that of the row below") : _("the time lies before that of the row above")));
          continue;
        }
      rows->last_s = seconds;
      minute = seconds / 60.0 + choice->offset_min;
      g_array_append_val (rows->minutes, minute);
      for (guint k = 0; k < choice->n_columns; k++)
        g_array_append_val (rows->values[k], raw->values[k]);
    }
}

static int
by_line (gconstpointer a,
         gconstpointer b)
{
  const WbLoggerRefusal *first = *(WbLoggerRefusal *const *) a, *second = *(WbLoggerRefusal *const *) b;

  return (first->line > second->line) - (first->line < second->line);
}

static gboolean
take_rows (Rows         *rows,
           const char   *name,
           GCancellable *cancellable,
           GError      **error)
{
  g_autoptr (GString) scratch = g_string_new (NULL);
  WbExchangeCsvRecord record;

  for (guint n = 0;; n++)
    {
      WbExchangeCsvResult result = wb_exchange_table_next (rows->table, &record, cancellable, error);

      if (result == WB_EXCHANGE_CSV_END)
        return TRUE;
      if (result == WB_EXCHANGE_CSV_ERROR)
        {
          if (!g_cancellable_is_cancelled (cancellable))
            g_prefix_error (error, "“%s”: ", name);
          return FALSE;
        }
      if (n == WB_EXCHANGE_LOGGER_ROWS)
        {
          g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT,
                       _("“%s” has more than %d rows: cut it to the burn, or have the logger write fewer."), name, WB_EXCHANGE_LOGGER_ROWS);
          return FALSE;
        }
      if (result == WB_EXCHANGE_CSV_BROKEN)
        refuse (rows, record.line, record.fault_cell <= G_MAXINT ? (int) record.fault_cell : -1,
                g_strdup (wb_exchange_csv_fault_get_text (record.fault)));
      else
        take_row (rows, &record, scratch);
    }
}

int
wb_exchange_logger_find_column (const WbExchangeTable *table,
                                const char            *column)
{
  const char *const *names = wb_exchange_table_get_names (table);

  for (int i = 0; column != NULL && names[i] != NULL; i++)
    if (strcmp (names[i], column) == 0)
      return i;
  return -1;
}

static gboolean
find_columns (Rows       *rows,
              const char *name,
              GError    **error)
{
  const WbLoggerChoice *choice = rows->logger->choice;
  const char *missing = NULL;

  rows->time = wb_exchange_logger_find_column (rows->table, choice->time);
  rows->day = choice->form == WB_LOGGER_DATE_TIME ? wb_exchange_logger_find_column (rows->table, choice->day) : -1;
  if (rows->time < 0)
    missing = choice->time;
  else if (choice->form == WB_LOGGER_DATE_TIME && choice->day != NULL && rows->day < 0)
    missing = choice->day;
  for (guint i = 0; i < choice->n_columns; i++)
    if ((rows->columns[i] = wb_exchange_logger_find_column (rows->table, choice->columns[i].name)) < 0)
      missing = choice->columns[i].name;
  if (missing != NULL)
    g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT, _("“%s”, line %" PRIu64 ": no column is named “%s”"), name,
                 wb_exchange_table_get_header_line (rows->table), missing);
  return missing == NULL;
}

/* So that there is something to draw. */
static gboolean
check_taken (const WbLogger *logger,
             const char     *name,
             GError        **error)
{
  const WbLoggerRefusal *first = logger->refused->len > 0 ? g_ptr_array_index (logger->refused, 0) : NULL;

  if (logger->n > 0)
    return TRUE;
  if (first == NULL)
    g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT, _("“%s”: no row stands below the names of the columns"), name);
  else
    g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT,
                 _("“%s”: no row can be read. Line %" PRIu64 ", %s: %s"), name, first->line,
                 *first->column != '\0' ? first->column : _("the row"), first->rule);
  return FALSE;
}

WbLogger *
wb_exchange_logger_read (GBytes               *bytes,
                         const char           *name,
                         const WbLoggerChoice *choice,
                         WbInstant             lit_at,
                         GCancellable         *cancellable,
                         GError              **error)
{
  g_autoptr (WbExchangeTable) table = NULL;
  g_autoptr (WbLogger) logger = g_new0 (WbLogger, 1);
  Rows rows = { .logger = logger, .last_s = NAN };
  gboolean read;

  g_return_val_if_fail (bytes != NULL && name != NULL && choice != NULL, NULL);

  logger->choice = wb_logger_choice_copy (choice);
  logger->refused = g_ptr_array_new_with_free_func (refusal_free);
  if (choice->form <= WB_LOGGER_TIME && !lit_at.known)
    {
      g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT,
                   _("“%s”: it is not known when that burn was lit, so that times of day tell no minute of it"), name);
      return NULL;
    }
  table = wb_exchange_logger_open_table (bytes, name, choice, cancellable, error);
  rows.table = table;
  if (table == NULL || !find_columns (&rows, name, error))
    return NULL;
  rows.lit_utc_s = (double) lit_at.utc_us / G_USEC_PER_SEC;
  rows.lit_local_s = rows.lit_utc_s + lit_at.offset_s;
  rows.minutes = g_array_new (FALSE, FALSE, sizeof (double));
  for (guint i = 0; i < choice->n_columns; i++)
    rows.values[i] = g_array_new (FALSE, FALSE, sizeof (double));
  rows.raw = g_array_new (FALSE, FALSE, sizeof (Raw));
  read = take_rows (&rows, name, cancellable, error);
  place_rows (&rows);
  g_array_unref (rows.raw);
  g_ptr_array_sort (logger->refused, by_line);
  logger->n = rows.minutes->len;
  logger->minutes = (double *) g_array_free (rows.minutes, FALSE);
  for (guint i = 0; i < choice->n_columns; i++)
    logger->values[i] = (double *) g_array_free (rows.values[i], FALSE);
  return read && check_taken (logger, name, error) ? g_steal_pointer (&logger) : NULL;
}

/* ---- As it is kept ---- */

GBytes *
wb_exchange_logger_pack (GBytes               *bytes,
                         const WbLoggerChoice *choice)
{
  g_autoptr (GByteArray) packed = g_byte_array_new ();
  g_autofree char *text = NULL;

  g_return_val_if_fail (bytes != NULL && choice != NULL, NULL);

  text = wb_logger_choice_to_text (choice);
  g_byte_array_append (packed, (const guint8 *) MAGIC, strlen (MAGIC));
  g_byte_array_append (packed, (const guint8 *) text, (guint) strlen (text));
  g_byte_array_append (packed, (const guint8 *) BORDER, strlen (BORDER));
  g_byte_array_append (packed, g_bytes_get_data (bytes, NULL), (guint) g_bytes_get_size (bytes));
  return g_byte_array_free_to_bytes (g_steal_pointer (&packed));
}

GBytes *
wb_exchange_logger_unpack (GBytes          *packed,
                           const char      *name,
                           WbLoggerChoice **choice,
                           GError         **error)
{
  gsize size, head = strlen (MAGIC);
  const char *data, *border;
  g_autofree char *text = NULL;
  g_autoptr (GError) reason = NULL;

  g_return_val_if_fail (packed != NULL && name != NULL && choice != NULL, NULL);

  data = g_bytes_get_data (packed, &size);
  border = size > head && memcmp (data, MAGIC, head) == 0 ? g_strstr_len (data + head, (gssize) (size - head), BORDER) : NULL;
  text = border != NULL ? g_strndup (data + head, (gsize) (border - data) - head) : NULL;
  *choice = text != NULL ? wb_logger_choice_from_text (text, &reason) : NULL;
  if (*choice != NULL)
    return g_bytes_new_from_bytes (packed, (gsize) (border - data) + strlen (BORDER), size - (gsize) (border - data) - strlen (BORDER));
  g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT, _("“%s” is not kept as a logger's file: %s"), name,
               reason != NULL ? reason->message : _("its head is missing"));
  return NULL;
}
