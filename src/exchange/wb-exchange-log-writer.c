/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-log-writer.h"

#include "wb-exchange-output.h"
#include "wb-exchange-text.h"

#include <math.h>
#include <string.h>

#define LINE_BREAK "\r\n"

struct _WbExchangeLogWriter
{
  WbExchangeOutput *output;
  guint             columns[WB_EXCHANGE_LOG_N_COLUMNS];
  guint             n_columns;
  GArray           *extra;      /* guint: places in WbLogRow.extra that are written */
  gboolean          invented;   /* adds the mark's column */
};

/* A cell that a person's text stands in. */
static void
add_text (GString *text, const char *cell)
{
  g_autofree char *guarded = NULL;

  if (wb_exchange_text_needs_guard (cell))
    guarded = g_strconcat ("'", cell, NULL);
  wb_exchange_output_add_cell (text, guarded != NULL ? guarded : cell);
}

/* A number is no formula, whatever its sign: left as it came in. */
static void
add_extra (GString *text, const char *cell)
{
  double value;

  if (wb_number_parse_strict (cell, '.', &value, NULL) || wb_number_parse_strict (cell, ',', &value, NULL))
    wb_exchange_output_add_cell (text, cell);
  else
    add_text (text, cell);
}

static void
add_real (GString *text, double value)
{
  g_autofree char *number = wb_number_shortest (value);

  g_string_append (text, number);
}

static void
add_pool (GString *text, const WbExchangeLogColumn *column, const WbLogRow *row)
{
  double bits = row->values[WB_COLUMN_POOL_FULL];

  if (!isnan (bits) && ((guint) bits & column->full_bit) != 0)
    g_string_append (text, "full");
  else
    add_real (text, row->values[column->column]);
}

static void
add_day (GString *text, WbDay day)
{
  g_autofree char *iso = wb_day_format (day);

  g_string_append (text, iso);
}

static void
add_instant (GString *text, WbInstant instant)
{
  g_autofree char *iso = wb_instant_format (instant);

  g_string_append (text, iso);
}

/* A cell that is filled. */
static void
add_cell (GString *text, const WbExchangeLogColumn *column, const WbLogRow *row)
{
  gconstpointer at = (const char *) row + column->offset;

  switch (column->kind)
    {
    case WB_EXCHANGE_LOG_NAME:
      add_text (text, *(char *const *) at);
      break;
    case WB_EXCHANGE_LOG_INTEGER:
      g_string_append_printf (text, "%" G_GINT64_FORMAT, *(const gint64 *) at);
      break;
    case WB_EXCHANGE_LOG_WORD:
      g_string_append (text, column->words[*(const int *) at].nick);
      break;
    case WB_EXCHANGE_LOG_READ_WORD:
      g_string_append (text, column->words[(int) *(const double *) at].nick);
      break;
    case WB_EXCHANGE_LOG_DAY:
      add_day (text, *(const WbDay *) at);
      break;
    case WB_EXCHANGE_LOG_INSTANT:
      add_instant (text, *(const WbInstant *) at);
      break;
    case WB_EXCHANGE_LOG_READ_POOL:
      add_pool (text, column, row);
      break;
    case WB_EXCHANGE_LOG_REAL:
    case WB_EXCHANGE_LOG_READ_REAL:
    case WB_EXCHANGE_LOG_READ_WHOLE:
      add_real (text, *(const double *) at);
      break;
    default:
      g_assert_not_reached ();
    }
}

static void
choose_columns (WbExchangeLogWriter *self, const WbExchangeLogFill *fill, const char *const *extra, gboolean invented)
{
  gboolean marked = FALSE;

  for (guint i = 0; i < WB_EXCHANGE_LOG_N_COLUMNS; i++)
    if ((fill->columns >> i & 1) != 0)
      self->columns[self->n_columns++] = i;
  for (guint i = 0; extra != NULL && extra[i] != NULL; i++)
    if (wb_exchange_log_fill_has_extra (fill, i))
      {
        marked |= strcmp (extra[i], WB_EXCHANGE_LOG_INVENTED_COLUMN) == 0;
        g_array_append_val (self->extra, i);
      }
  self->invented = invented && !marked;
}

static gboolean
add_header (WbExchangeLogWriter *self, const char *const *extra, GError **error)
{
  GString *text = wb_exchange_output_get_text (self->output);

  for (guint i = 0; i < self->n_columns; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? "," : "", wb_exchange_log_column_get (self->columns[i])->name);
  for (guint i = 0; i < self->extra->len; i++)
    {
      g_string_append_c (text, ',');
      add_text (text, extra[g_array_index (self->extra, guint, i)]);
    }
  if (self->invented)
    g_string_append (text, "," WB_EXCHANGE_LOG_INVENTED_COLUMN);
  g_string_append (text, LINE_BREAK);
  return wb_exchange_output_flush (self->output, error);
}

WbExchangeLogWriter *
wb_exchange_log_writer_new (GFile                   *file,
                            const WbExchangeLogFill *fill,
                            const char *const       *extra,
                            gboolean                 invented,
                            GCancellable            *cancellable,
                            GError                 **error)
{
  g_autoptr (WbExchangeLogWriter) self = g_new0 (WbExchangeLogWriter, 1);

  self->extra = g_array_new (FALSE, FALSE, sizeof (guint));
  self->output = wb_exchange_output_new (file, cancellable, error);
  if (self->output == NULL)
    return NULL;
  choose_columns (self, fill, extra, invented);
  if (!add_header (self, extra, error))
    return NULL;
  return g_steal_pointer (&self);
}

void
wb_exchange_log_writer_free (WbExchangeLogWriter *self)
{
  if (self == NULL)
    return;
  g_clear_pointer (&self->output, wb_exchange_output_free);
  g_array_unref (self->extra);
  g_free (self);
}

gboolean
wb_exchange_log_writer_add (WbExchangeLogWriter *self,
                            const WbLogRow      *row,
                            GError             **error)
{
  GString *text = wb_exchange_output_get_text (self->output);
  guint n_extra = row->extra != NULL ? g_strv_length (row->extra) : 0;

  for (guint i = 0; i < self->n_columns; i++)
    {
      if (i > 0)
        g_string_append_c (text, ',');
      if (wb_exchange_log_column_is_filled (self->columns[i], row))
        add_cell (text, wb_exchange_log_column_get (self->columns[i]), row);
    }
  for (guint i = 0; i < self->extra->len; i++)
    {
      guint place = g_array_index (self->extra, guint, i);

      g_string_append_c (text, ',');
      if (place < n_extra)
        add_extra (text, row->extra[place]);
    }
  if (self->invented)
    g_string_append (text, "," WB_EXCHANGE_LOG_INVENTED_CELL);
  g_string_append (text, LINE_BREAK);
  return wb_exchange_output_flush (self->output, error);
}

gboolean
wb_exchange_log_writer_close (WbExchangeLogWriter *self,
                              GError             **error)
{
  return wb_exchange_output_close (self->output, error);
}
