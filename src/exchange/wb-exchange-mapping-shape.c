/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-mapping-guess-private.h"

#include "wb-exchange-encoding-private.h"

#include <string.h>

#define LOOKED_AT (64 * 1024) /* bytes */
#define LINES 40              /* of them */
#define LONGEST_CELL 4        /* line ends in a cell; more are a mark of inches that stands alone */
#define LONGEST_SIGN 4        /* bytes of UTF-8 that the end may cut */

static char *
read_beginning (GFile *file, gsize *length, GCancellable *cancellable, GError **error)
{
  g_autoptr (GFileInputStream) stream = g_file_read (file, cancellable, error);
  g_autofree char *bytes = g_malloc (LOOKED_AT + 1);

  if (stream == NULL || !g_input_stream_read_all (G_INPUT_STREAM (stream), bytes, LOOKED_AT, length, cancellable, error))
    return NULL;
  bytes[*length] = '\0';
  return g_steal_pointer (&bytes);
}

static const char *
guess_encoding (const char *bytes, gsize length)
{
  const char *bad = NULL;

  if (wb_exchange_encoding_is_utf16 (bytes, length))
    {
      guchar first = length > 0 ? (guchar) bytes[0] : 0;

      if (first == 0xff || first == 0xfe)
        return "UTF-16";
      return first == 0 ? "UTF-16BE" : "UTF-16LE";
    }
  if (g_utf8_validate_len (bytes, length, &bad) || (length == LOOKED_AT && bytes + length - bad < LONGEST_SIGN))
    return "UTF-8";
  return "WINDOWS-1252";
}

static guint
count_sign (const char *line, char sign)
{
  gboolean quoted = FALSE;
  guint n = 0;

  for (; *line != '\0'; line++)
    if (*line == '"')
      quoted = !quoted;
    else if (!quoted)
      n += *line == sign;
  return n;
}

static gboolean
stays_open (const char *line)
{
  gboolean quoted = FALSE;

  for (; *line != '\0'; line++)
    quoted ^= *line == '"';
  return quoted;
}

static guint
count_filled (const char *line, char sign)
{
  const char delimiter[] = { sign, '\0' };
  g_auto (GStrv) cells = g_strsplit (line, delimiter, -1);
  guint n = 0;

  for (guint i = 0; cells[i] != NULL; i++)
    n += cells[i][strspn (cells[i], " \t\r\"")] != '\0';
  return n;
}

/* The sign of which two and more lines have most. */
static char
guess_delimiter (char **lines)
{
  static const char candidates[] = { ',', ';', '\t', '|' };
  char best = ',';
  guint most = 0;

  for (guint c = 0; c < G_N_ELEMENTS (candidates); c++)
    {
      guint first = 0, second = 0;

      for (guint i = 0; lines[i] != NULL && i < LINES; i++)
        {
          guint n = count_sign (lines[i], candidates[c]);

          second = MAX (second, MIN (n, first));
          first = MAX (first, n);
        }
      if (second > most)
        {
          most = second;
          best = candidates[c];
        }
    }
  return best;
}

/* Lines of which a cell goes on over the line's end are one; each stands at its first line, and the others are empty. */
static void
join_lines (char **lines)
{
  for (guint i = 0; lines[i] != NULL; i++)
    for (guint more = 1; more <= LONGEST_CELL && lines[i + more] != NULL && stays_open (lines[i]); more++)
      {
        char *joined = g_strconcat (lines[i], " ", lines[i + more], NULL);

        g_free (lines[i]);
        lines[i] = joined;
        g_free (lines[i + more]);
        lines[i + more] = g_strdup ("");
      }
}

/* The first line that fills more than half of the cells of the fullest: titles and dates above a table fill few. */
static guint
guess_header_line (char **lines, char delimiter)
{
  guint most = 0;

  for (guint i = 0; lines[i] != NULL && i < LINES; i++)
    most = MAX (most, count_filled (lines[i], delimiter));
  for (guint i = 0; lines[i] != NULL && i < LINES; i++)
    if (2 * count_filled (lines[i], delimiter) > most)
      return i + 1;
  return 1;
}

/* Whether some cell is a figure, a date, a time: "1 h" and "Pool 2" are names. */
static gboolean
has_figures (const char *line, char delimiter)
{
  const char text[] = { delimiter, '\0' };
  g_auto (GStrv) cells = g_strsplit (line, text, -1);

  for (guint i = 0; cells[i] != NULL; i++)
    if (g_regex_match_simple ("^[\\s\"]*[-+]?[\\d.,]*\\d(?![\\d.,]*\\s*-?(h|hr|hrs|hours?|min|mins|minutes)\\b)", cells[i], G_REGEX_CASELESS, 0))
      return TRUE;
  return FALSE;
}

/* Not the last cell, which a line may end with. */
static gboolean
has_gaps (const char *line, char delimiter)
{
  const char text[] = { delimiter, '\0' };
  g_auto (GStrv) cells = g_strsplit (line, text, -1);

  for (guint i = 0; cells[i] != NULL && cells[i + 1] != NULL; i++)
    if (cells[i][strspn (cells[i], " \t\r\"")] == '\0')
      return TRUE;
  return FALSE;
}

/* A second row of names, or of units, below: several cells, no figure in any, and behind it rows that have some. */
static gboolean
is_second_row (char **lines, guint at, char delimiter)
{
  guint next = at + 1;

  while (lines[at] != NULL && lines[next] != NULL && count_filled (lines[next], delimiter) == 0)
    next++;
  return lines[at] != NULL && lines[next] != NULL && count_filled (lines[at], delimiter) > 1 && !has_figures (lines[at], delimiter)
         && has_figures (lines[next], delimiter);
}

static void
guess_header (WbLogMapping *shape, char **lines)
{
  guint line = guess_header_line (lines, shape->delimiter), at = line - 1;

  shape->header_line = line;
  if (lines[at] == NULL)
    return;
  /* Groups are few: the line of their names may fill less than half. */
  if (at > 0 && is_second_row (lines, at, shape->delimiter) && count_filled (lines[at - 1], shape->delimiter) > 1
      && has_gaps (lines[at - 1], shape->delimiter))
    {
      shape->header_line = line - 1;
      shape->header_rows = 2;
      return;
    }
  for (at++; lines[at] != NULL && count_filled (lines[at], shape->delimiter) == 0; at++)
    ;
  if (lines[at] != NULL && is_second_row (lines, at, shape->delimiter))
    shape->header_rows = 2;
}

WbLogMapping *
wb_exchange_mapping_guess_shape (GFile        *file,
                                 GCancellable *cancellable,
                                 GError      **error)
{
  gsize length = 0;
  g_autofree char *bytes = read_beginning (file, &length, cancellable, error);
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;
  WbLogMapping *shape;

  if (bytes == NULL)
    return NULL;
  shape = wb_log_mapping_new ();
  g_free (shape->encoding);
  shape->encoding = g_strdup (guess_encoding (bytes, length));
  text = g_convert_with_fallback (bytes, length, "UTF-8", shape->encoding, "?", NULL, NULL, NULL);
  if (text == NULL)
    text = g_utf8_make_valid (bytes, length);
  lines = g_strsplit (text, strchr (text, '\n') != NULL ? "\n" : "\r", LINES + 1);
  join_lines (lines);
  shape->delimiter = guess_delimiter (lines);
  guess_header (shape, lines);
  return shape;
}
