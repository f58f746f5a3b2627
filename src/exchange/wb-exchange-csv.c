/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-csv.h"

#include "wb-exchange-encoding-private.h"

#include <csv.h>
#include <glib/gi18n-lib.h>
#include <string.h>

/*
 * libcsv splits; what stands here is what it does not do: lines, encoding,
 * bounds, and finding where a record ends when its quoting is wrong. libcsv in
 * its lenient mode would then swallow the records that follow into one cell,
 * and in its strict mode give up the file. So each record is first measured
 * with the quoting of RFC 4180 and handed over whole. One thread at a time.
 */

#define PIECE (64 * 1024)
#define RECORD_MAXIMUM WB_EXCHANGE_CSV_RECORD_MAXIMUM

struct _WbExchangeCsv
{
  GInputStream      *stream;
  struct csv_parser  parser;
  char               delimiter;
  gboolean           utf16;        /* the stream begins as that encoding does */
  gboolean           padded;       /* the record at hand has blanks around a cell in quotation marks */

  char              *buffer;       /* allocated bytes; [start, end) is not yet read */
  gsize              allocated;
  gsize              start, end;
  gsize              line_feed;    /* the next LF at or behind start, or end where there is none */
  gboolean           line_feed_known;
  gboolean           at_end;       /* the stream has no more */
  guint64            behind;       /* bytes of the stream before buffer[0] */
  guint64            line;         /* of start */

  char              *text;         /* cells of the record, each NUL-terminated */
  gsize              text_allocated, text_used;
  WbExchangeCsvCell *cells;        /* grown by hand: GArray divides at each append, a sixth of the time here */
  guint              n_cells, cells_allocated;
};

typedef enum
{
  SPAN_WHOLE,
  SPAN_MORE,      /* the record goes on behind the buffer */
  SPAN_QUOTING,
  SPAN_UNCLOSED
} Span;

WbExchangeCsv *
wb_exchange_csv_new (GInputStream *stream)
{
  WbExchangeCsv *self = g_new0 (WbExchangeCsv, 1);

  self->stream = g_object_ref (stream);
  self->delimiter = ',';
  self->line = 1;
  /* Fails only for a NULL parser. */
  csv_init (&self->parser, 0);
  return self;
}

void
wb_exchange_csv_free (WbExchangeCsv *self)
{
  if (self == NULL)
    return;
  csv_free (&self->parser);
  g_object_unref (self->stream);
  g_free (self->cells);
  g_free (self->buffer);
  g_free (self->text);
  g_free (self);
}

/* Reads a piece behind what is in the buffer. */
static gboolean
fill (WbExchangeCsv *self, GCancellable *cancellable, GError **error)
{
  /* Not every stream asks. */
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return FALSE;
  if (self->start > 0)
    {
      memmove (self->buffer, self->buffer + self->start, self->end - self->start);
      self->behind += self->start;
      self->end -= self->start;
      self->start = 0;
    }
  if (self->allocated < self->end + PIECE)
    {
      self->allocated = self->end + PIECE;
      self->buffer = g_realloc (self->buffer, self->allocated);
    }

  gssize n = g_input_stream_read (self->stream, self->buffer + self->end, PIECE, cancellable, error);

  if (n < 0)
    return FALSE;
  self->at_end = n == 0;
  self->end += n;
  self->line_feed_known = FALSE;
  return TRUE;
}

/* At the very beginning of the stream. */
static gboolean
fill_first (WbExchangeCsv *self, GCancellable *cancellable, GError **error)
{
  static const char mark[] = { '\xef', '\xbb', '\xbf' };

  while (!self->at_end && self->end < PIECE)
    if (!fill (self, cancellable, error))
      return FALSE;
  if (self->end >= sizeof mark && memcmp (self->buffer, mark, sizeof mark) == 0)
    self->start = sizeof mark;
  self->utf16 = wb_exchange_encoding_is_utf16 (self->buffer, self->end);
  return TRUE;
}

/* Where the line that begins at `from` ends: its CR or LF, or the buffer's end. The place of the next LF is kept,
 * so that a file of CRs alone is not searched through for each of its lines. */
static gsize
find_line_end (WbExchangeCsv *self, gsize from)
{
  if (!self->line_feed_known || self->line_feed < from)
    {
      const char *found = memchr (self->buffer + from, '\n', self->end - from);

      self->line_feed = found != NULL ? (gsize) (found - self->buffer) : self->end;
      self->line_feed_known = TRUE;
    }

  const char *found = memchr (self->buffer + from, '\r', self->line_feed - from);

  return found != NULL ? (gsize) (found - self->buffer) : self->line_feed;
}

/* Behind the line break at `at`; FALSE if a CR ends the buffer and its LF may follow. */
static gboolean
skip_line_break (const WbExchangeCsv *self, gsize at, gsize *behind)
{
  *behind = at;
  if (at == self->end)
    return self->at_end;
  *behind = at + 1;
  if (self->buffer[at] != '\r')
    return TRUE;
  if (at + 1 == self->end)
    return self->at_end;
  if (self->buffer[at + 1] == '\n')
    *behind = at + 2;
  return TRUE;
}

static gboolean
is_space (char c)
{
  return c == ' ' || c == '\t';
}

/* Measures a record with quotes in it; `*end` is its line break or the buffer's end. */
static Span
measure_quoted (WbExchangeCsv *self, gsize *end)
{
  enum { AT_START, BLANK, PLAIN, QUOTED, AFTER_QUOTE, AFTER_SPACE } state = AT_START;
  const char *p = self->buffer + self->start, *limit = self->buffer + self->end;

  for (; p < limit; p++)
    {
      gboolean stop = *p == '\r' || *p == '\n';

      if (state == QUOTED)
        {
          if (*p == '"')
            state = AFTER_QUOTE;
        }
      else if (stop)
        break;
      else if (*p == self->delimiter)
        state = AT_START;
      else if (*p == '"')
        {
          if (state != AT_START && state != BLANK && state != AFTER_QUOTE)
            return SPAN_QUOTING;
          self->padded |= state == BLANK;
          state = QUOTED;
        }
      else if (state == AFTER_QUOTE || state == AFTER_SPACE)
        {
          if (!is_space (*p))
            return SPAN_QUOTING;
          self->padded = TRUE;
          state = AFTER_SPACE;
        }
      else if (state != PLAIN)
        state = is_space (*p) ? BLANK : PLAIN;
    }
  *end = p - self->buffer;
  if (p < limit)
    return SPAN_WHOLE;
  if (!self->at_end)
    return SPAN_MORE;
  return state == QUOTED ? SPAN_UNCLOSED : SPAN_WHOLE;
}

static Span
measure (WbExchangeCsv *self, gsize *end)
{
  gsize line_end = find_line_end (self, self->start);

  self->padded = FALSE;
  if (memchr (self->buffer + self->start, '"', line_end - self->start) != NULL)
    return measure_quoted (self, end);
  *end = line_end;
  return line_end == self->end && !self->at_end ? SPAN_MORE : SPAN_WHOLE;
}

static void
on_cell (void *bytes, size_t length, void *data)
{
  WbExchangeCsv *self = data;

  if (self->n_cells == self->cells_allocated)
    {
      self->cells_allocated = MAX (64, 2 * self->cells_allocated);
      self->cells = g_renew (WbExchangeCsvCell, self->cells, self->cells_allocated);
    }
  self->cells[self->n_cells++] = (WbExchangeCsvCell) { self->text + self->text_used, length };
  /* There is room: see split(). */
  if (length > 0)
    memcpy (self->text + self->text_used, bytes, length);
  self->text[self->text_used + length] = '\0';
  self->text_used += length + 1;
}

static void
on_record (int end, void *data)
{
}

/* Blanks belong to a cell (RFC 4180, 2.4); libcsv takes them off. */
static int
is_no_blank (unsigned char c)
{
  return 0;
}

/* FALSE: out of memory, the only way for libcsv to fail in its lenient mode. */
static gboolean
split (WbExchangeCsv *self, gsize from, gsize to)
{
  gsize length = to - from;

  /* Cells are no longer than the record, and each but the last had a delimiter where its NUL goes. */
  if (self->text_allocated < length + 2)
    {
      self->text_allocated = MAX (4096, 2 * (length + 2));
      g_free (self->text);
      self->text = g_malloc (self->text_allocated);
    }
  self->text_used = 0;
  self->n_cells = 0;
  /* Around quotation marks they are outside the cell, and are passed over. */
  csv_set_space_func (&self->parser, self->padded ? NULL : is_no_blank);
  /* The end is told as well: the last record of a file may have no line break. */
  return csv_parse (&self->parser, self->buffer + from, length, on_cell, on_record, self) == length
         && csv_fini (&self->parser, on_cell, on_record, self) == 0;
}

static guint64
count_lines (const char *p, const char *end)
{
  guint64 n = 0;

  for (; p < end; p++)
    if (*p == '\n' || (*p == '\r' && !(p + 1 < end && p[1] == '\n')))
      n++;
  return n;
}

static gboolean
is_blank (const char *p, const char *end)
{
  while (p < end && is_space (*p))
    p++;
  return p == end;
}

static gboolean
has_high_bit (const char *p, gsize n)
{
  guint64 any = 0, eight;
  gsize i = 0;

  for (; i + sizeof eight <= n; i += sizeof eight)
    {
      memcpy (&eight, p + i, sizeof eight);
      any |= eight;
    }
  for (; i < n; i++)
    any |= (guchar) p[i];
  return (any & G_GUINT64_CONSTANT (0x8080808080808080)) != 0;
}

/* Looks into the cells for what no text may hold. */
static gboolean
check_cells (const WbExchangeCsv *self, gsize from, gsize to, WbExchangeCsvRecord *record)
{
  gboolean nul = memchr (self->buffer + from, '\0', to - from) != NULL;

  if (!nul && !has_high_bit (self->buffer + from, to - from))
    return TRUE;
  for (guint i = 0; i < self->n_cells; i++)
    {
      const WbExchangeCsvCell *cell = &self->cells[i];

      record->fault_cell = i;
      record->fault = WB_EXCHANGE_CSV_NUL;
      if (memchr (cell->text, '\0', cell->length) != NULL)
        return FALSE;
      record->fault = WB_EXCHANGE_CSV_ENCODING;
      if (!g_utf8_validate_len (cell->text, cell->length, NULL))
        return FALSE;
    }
  record->fault_cell = G_MAXUINT;
  return TRUE;
}

/* Leaves the line at start behind, however long it is. */
static gboolean
skip_line (WbExchangeCsv *self, GCancellable *cancellable, GError **error)
{
  for (;;)
    {
      gsize line_end = find_line_end (self, self->start), behind;

      if ((line_end < self->end || self->at_end) && skip_line_break (self, line_end, &behind))
        {
          self->start = behind;
          self->line++;
          return TRUE;
        }
      /* A CR that may have its LF in the next piece stays. */
      self->start = line_end;
      if (!fill (self, cancellable, error))
        return FALSE;
    }
}

static WbExchangeCsvResult
break_record (WbExchangeCsv *self, WbExchangeCsvFault fault, WbExchangeCsvRecord *record, GCancellable *cancellable,
              GError **error)
{
  record->fault = fault;
  record->fault_cell = G_MAXUINT;
  return skip_line (self, cancellable, error) ? WB_EXCHANGE_CSV_BROKEN : WB_EXCHANGE_CSV_ERROR;
}

static WbExchangeCsvResult
take_record (WbExchangeCsv *self, gsize end, gsize behind, WbExchangeCsvRecord *record, GError **error)
{
  gsize from = self->start;

  if (!split (self, from, behind))
    {
      g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_NO_SPACE, _("Out of memory"));
      return WB_EXCHANGE_CSV_ERROR;
    }
  record->cells = self->cells;
  record->n_cells = self->n_cells;
  self->start = behind;
  self->line += MAX (1, count_lines (self->buffer + from, self->buffer + behind));
  return check_cells (self, from, end, record) ? WB_EXCHANGE_CSV_RECORD : WB_EXCHANGE_CSV_BROKEN;
}

void
wb_exchange_csv_set_delimiter (WbExchangeCsv *self,
                               char           delimiter)
{
  g_return_if_fail (delimiter > 0 && strchr ("\"\r\n", delimiter) == NULL);

  self->delimiter = delimiter;
  csv_set_delim (&self->parser, (guchar) delimiter);
}

char
wb_exchange_csv_tell_delimiter (WbExchangeCsv *self,
                                guint          line,
                                GCancellable  *cancellable,
                                GError       **error)
{
  static const char candidates[] = { ',', ';', '\t' };
  gsize counts[G_N_ELEMENTS (candidates)] = { 0 };
  gboolean quoted = FALSE;

  if (!fill_first (self, cancellable, error))
    return '\0';

  gsize first = self->start;

  for (guint above = 1; above < line && first < self->end; above++)
    if (!skip_line_break (self, find_line_end (self, first), &first))
      break;
  while (first < self->end && (self->buffer[first] == '\r' || self->buffer[first] == '\n'))
    first++;

  gsize end = find_line_end (self, first);

  /* Reading begins at the blank lines before it. */
  self->line_feed_known = FALSE;
  for (gsize at = first; at < end; at++)
    if (self->buffer[at] == '"')
      quoted = !quoted;
    else if (!quoted)
      for (guint i = 0; i < G_N_ELEMENTS (candidates); i++)
        counts[i] += self->buffer[at] == candidates[i];

  guint best = 0;

  for (guint i = 1; i < G_N_ELEMENTS (candidates); i++)
    if (counts[i] > counts[best])
      best = i;
  wb_exchange_csv_set_delimiter (self, candidates[best]);
  return self->delimiter;
}

WbExchangeCsvResult
wb_exchange_csv_next (WbExchangeCsv       *self,
                      WbExchangeCsvRecord *record,
                      GCancellable        *cancellable,
                      GError             **error)
{
  if (self->buffer == NULL && !fill_first (self, cancellable, error))
    return WB_EXCHANGE_CSV_ERROR;

  for (;;)
    {
      gsize end, behind;
      Span span;

      if (self->start == self->end && self->at_end)
        return WB_EXCHANGE_CSV_END;
      record->line = self->line;
      record->fault_cell = G_MAXUINT;
      record->n_cells = 0;
      if (self->utf16)
        {
          self->start = self->end;
          return break_record (self, WB_EXCHANGE_CSV_UTF16, record, cancellable, error);
        }
      span = measure (self, &end);
      if (span == SPAN_QUOTING)
        return break_record (self, WB_EXCHANGE_CSV_QUOTING, record, cancellable, error);
      if (span == SPAN_UNCLOSED)
        return break_record (self, WB_EXCHANGE_CSV_UNCLOSED, record, cancellable, error);
      if (span == SPAN_MORE || !skip_line_break (self, end, &behind))
        {
          if (self->end - self->start > RECORD_MAXIMUM)
            {
              gboolean one_line = find_line_end (self, self->start) == self->end;

              return break_record (self, one_line ? WB_EXCHANGE_CSV_TOO_LONG : WB_EXCHANGE_CSV_UNCLOSED, record,
                                   cancellable, error);
            }
          if (!fill (self, cancellable, error))
            return WB_EXCHANGE_CSV_ERROR;
          continue;
        }
      if (end - self->start > RECORD_MAXIMUM)
        return break_record (self, WB_EXCHANGE_CSV_TOO_LONG, record, cancellable, error);
      if (!is_blank (self->buffer + self->start, self->buffer + end))
        return take_record (self, end, behind, record, error);
      self->start = behind;
      self->line++;
    }
}

guint64
wb_exchange_csv_get_offset (const WbExchangeCsv *self)
{
  return self->behind + self->start;
}

const char *
wb_exchange_csv_fault_get_text (WbExchangeCsvFault fault)
{
  switch (fault)
    {
    case WB_EXCHANGE_CSV_QUOTING:
      return _("a quotation mark stands where none may: a cell with one in it is enclosed in quotation marks, and the one inside is doubled");
    case WB_EXCHANGE_CSV_UNCLOSED:
      return _("a quotation mark is opened here and never closed");
    case WB_EXCHANGE_CSV_NUL:
      return _("a NUL byte stands in the text");
    case WB_EXCHANGE_CSV_ENCODING:
      return _("the text is not UTF-8");
    case WB_EXCHANGE_CSV_UTF16:
      return _("the text looks like UTF-16: save it as UTF-8");
    case WB_EXCHANGE_CSV_TOO_LONG:
      return _("the record is longer than 1 MiB");
    default:
      g_return_val_if_reached ("");
    }
}
