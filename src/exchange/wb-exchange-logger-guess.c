/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-logger-private.h"

#include "wb-exchange-mapping-guess-private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* So many rows are looked at. */
#define ROWS 60
/* And so much of the beginning for the shape: bytes, lines. */
#define LOOKED_AT (64 * 1024)
#define LINES 60

/* What stands in one column. */
typedef struct
{
  char *folded;        /* its name, in small letters */
  guint n;             /* cells with text */
  guint n_moments[WB_LOG_N_DATE_ORDERS], n_days[WB_LOG_N_DATE_ORDERS], n_times, n_numbers;
  guint n_commas, n_points;
  gboolean ascending;  /* numbers that never fall, and are not all the same */
  double first, last, lowest, highest;
  double off_days[WB_LOG_N_DATE_ORDERS]; /* of the first day from the lighting, read in that order; NAN */
} Column;

static gboolean
has_word (const Column      *column,
          const char *const *words)
{
  for (guint i = 0; words[i] != NULL; i++)
    if (strstr (column->folded, words[i]) != NULL)
      return TRUE;
  return FALSE;
}

static void
look_at_days (Column     *column,
              const char *text,
              WbInstant   lit_at)
{
  for (guint order = 0; order < WB_LOG_N_DATE_ORDERS; order++)
    {
      g_autofree char *rule = NULL, *other = NULL;
      WbExchangeMoment moment = WB_EXCHANGE_MOMENT_NONE;
      WbDay day;

      if (wb_exchange_logger_read_moment (text, (WbLogDateOrder) order, &moment, &rule))
        column->n_moments[order]++;
      else if (wb_exchange_mapping_read_moment (text, (WbLogDateOrder) order, &moment, &other))
        column->n_days[order]++;
      else
        continue;
      day = moment.instant.known ? wb_instant_get_day (moment.instant) : moment.day;
      if (lit_at.known && isnan (column->off_days[order]))
        column->off_days[order] = abs (day - wb_instant_get_day (lit_at));
    }
}

static void
look_at_number (Column     *column,
                const char *text)
{
  double value;

  if (!wb_number_parse (text, &value, NULL))
    return;
  column->n_commas += strchr (text, ',') != NULL;
  column->n_points += strchr (text, '.') != NULL;
  if (column->n_numbers == 0)
    column->first = column->lowest = column->highest = value;
  else if (value < column->last)
    column->ascending = FALSE;
  column->lowest = fmin (column->lowest, value);
  column->highest = fmax (column->highest, value);
  column->last = value;
  column->n_numbers++;
}

static void
look_at (Column     *column,
         const char *text,
         WbInstant   lit_at)
{
  g_autofree char *rule = NULL;
  int second;

  if (*text == '\0')
    return;
  column->n++;
  look_at_days (column, text, lit_at);
  column->n_times += strchr (text, ':') != NULL && wb_exchange_logger_read_time (text, &second, &rule);
  look_at_number (column, text);
}

static Column *
look (WbExchangeTable *table,
      guint            n_columns,
      WbInstant        lit_at,
      GCancellable    *cancellable)
{
  Column *columns = g_new0 (Column, n_columns);
  g_autoptr (GString) scratch = g_string_new (NULL);
  WbExchangeCsvRecord record;

  for (guint i = 0; i < n_columns; i++)
    {
      columns[i].folded = g_utf8_casefold (wb_exchange_table_get_names (table)[i], -1);
      columns[i].ascending = TRUE;
      for (guint order = 0; order < WB_LOG_N_DATE_ORDERS; order++)
        columns[i].off_days[order] = NAN;
    }
  for (guint row = 0; row < ROWS; row++)
    {
      WbExchangeCsvResult result = wb_exchange_table_next (table, &record, cancellable, NULL);

      if (result == WB_EXCHANGE_CSV_END || result == WB_EXCHANGE_CSV_ERROR)
        break;
      for (guint i = 0; result == WB_EXCHANGE_CSV_RECORD && i < n_columns; i++)
        look_at (&columns[i], wb_exchange_logger_get_cell (&record, (int) i, scratch), lit_at);
    }
  for (guint i = 0; i < n_columns; i++)
    columns[i].ascending = columns[i].ascending && columns[i].last > columns[i].first;
  return columns;
}

/* Most of what stands there. */
static gboolean
is_mostly (const Column *column,
           guint         n)
{
  return n > 0 && 2 * n > column->n;
}

/* The order that reads most of it; of those that read as much, the one that comes nearest to the lighting. */
static WbLogDateOrder
find_order (const Column *column,
            gboolean      moments)
{
  guint best = 0;

  for (guint order = 1; order < WB_LOG_N_DATE_ORDERS; order++)
    {
      guint n = moments ? column->n_moments[order] : column->n_days[order];
      guint most = moments ? column->n_moments[best] : column->n_days[best];

      if (n > most || (n == most && column->off_days[order] < column->off_days[best]))
        best = order;
    }
  return (WbLogDateOrder) best;
}

static guint
count_days (const Column *column,
            gboolean      moments)
{
  WbLogDateOrder order = find_order (column, moments);

  return moments ? column->n_moments[order] : column->n_days[order];
}

/* The first column of which most is so; -1: none. */
static int
find_moments (const Column *columns,
              guint         n)
{
  for (guint i = 0; i < n; i++)
    if (is_mostly (&columns[i], count_days (&columns[i], TRUE)))
      return (int) i;
  return -1;
}

static int
find_day (const Column *columns,
          guint         n)
{
  static const char *const words[] = { "dat", "day", "tag", NULL };

  /* "21.5.20" alone may be anything. */
  for (guint i = 0; i < n; i++)
    if (is_mostly (&columns[i], count_days (&columns[i], FALSE)) && has_word (&columns[i], words))
      return (int) i;
  return -1;
}

static int
find_time_of_day (const Column *columns,
                  guint         n)
{
  for (guint i = 0; i < n; i++)
    if (is_mostly (&columns[i], columns[i].n_times))
      return (int) i;
  return -1;
}

/* A count of minutes or seconds: by its name, else the first numbers that only grow. */
static int
find_elapsed (const Column *columns,
              guint         n)
{
  static const char *const words[] = { "time", "zeit", "elapsed", "minute", "second", "sekunde", "(min)", "[min]", "(s)", "[s]", "sec", NULL };

  for (guint i = 0; i < n; i++)
    if (is_mostly (&columns[i], columns[i].n_numbers) && columns[i].ascending && has_word (&columns[i], words))
      return (int) i;
  for (guint i = 0; i < n; i++)
    if (is_mostly (&columns[i], columns[i].n_numbers) && columns[i].ascending)
      return (int) i;
  return -1;
}

static void
guess_time (WbLoggerChoice    *self,
            const Column      *columns,
            guint              n,
            const char *const *names)
{
  static const char *const seconds[] = { "second", "sekunde", "sec", "(s)", "[s]", NULL };
  int moments = find_moments (columns, n), day = find_day (columns, n), time = find_time_of_day (columns, n), elapsed;

  if (moments >= 0)
    {
      self->form = WB_LOGGER_DATE_TIME;
      self->date_order = find_order (&columns[moments], TRUE);
      time = moments;
    }
  else if (time >= 0 && day >= 0 && day != time)
    {
      self->form = WB_LOGGER_DATE_TIME;
      self->date_order = find_order (&columns[day], FALSE);
      self->day = g_strdup (names[day]);
    }
  else if (time >= 0)
    self->form = WB_LOGGER_TIME;
  else
    {
      elapsed = find_elapsed (columns, n);
      time = MAX (elapsed, 0);
      self->form = has_word (&columns[time], seconds) ? WB_LOGGER_SECONDS : WB_LOGGER_MINUTES;
    }
  g_free (self->time);
  self->time = g_strdup (names[time]);
}

static WbLoggerPlace
guess_place (const Column *column)
{
  static const char *const wall[] = { "wall", "side", "glass", "wand", "vessel", NULL };
  static const char *const base[] = { "base", "bottom", "boden", NULL };
  static const char *const room[] = { "room", "ambient", "raum", "air", NULL };

  if (has_word (column, base))
    return WB_LOGGER_BASE;
  if (has_word (column, room))
    return WB_LOGGER_ROOM;
  return has_word (column, wall) ? WB_LOGGER_WALL : WB_LOGGER_OTHER;
}

/* Numbers that may be temperatures, by their name or for want of another; those that are named otherwise are passed over. */
static void
guess_columns (WbLoggerChoice    *self,
               const Column      *columns,
               guint              n,
               const char *const *names)
{
  static const char *const temperature[] = { "temp", "°c", "°f", "(c)", "(f)", "[c]", "[f]", "deg", "wall", "base", "room", "ambient", "probe", NULL };
  static const char *const others[] = { "humid", "rh", "batt", "volt", "index", "sample", "record", "count", "no.", "nr", "#", "dew", "press", NULL };

  for (int named = 1; named >= 0 && self->n_columns == 0; named--)
    for (guint i = 0; i < n && self->n_columns < WB_LOGGER_MOST_COLUMNS; i++)
      {
        gboolean taken = strcmp (names[i], self->time) == 0 || g_strcmp0 (names[i], self->day) == 0;

        if (!taken && is_mostly (&columns[i], columns[i].n_numbers) && !has_word (&columns[i], others)
            && (!named || has_word (&columns[i], temperature)))
          wb_logger_choice_add (self, names[i], guess_place (&columns[i]));
      }
  /* One sensor is on the vessel: that is what a limit asks for. */
  if (self->n_columns == 1 && self->columns[0].place == WB_LOGGER_OTHER)
    self->columns[0].place = WB_LOGGER_WALL;
}

/* "Temperature F", "wall_f". */
static gboolean
ends_in_f (const Column *column)
{
  gsize length = strlen (column->folded);

  return length > 2 && column->folded[length - 1] == 'f' && strchr (" _.,", column->folded[length - 2]) != NULL;
}

/* Of the columns that were taken, and of the time where it counts. */
static void
guess_signs (WbLoggerChoice    *self,
             const Column      *columns,
             guint              n,
             const char *const *names)
{
  static const char *const fahrenheit[] = { "°f", "(f)", "[f]", "fahrenheit", "deg f", "degf", NULL };
  guint commas = 0, points = 0;

  for (guint i = 0; i < n; i++)
    for (guint k = 0; k < self->n_columns; k++)
      if (strcmp (self->columns[k].name, names[i]) == 0)
        {
          commas += columns[i].n_commas;
          points += columns[i].n_points;
          if (has_word (&columns[i], fahrenheit) || ends_in_f (&columns[i]))
            self->unit = WB_UNIT_FAHRENHEIT;
        }
  self->decimal = commas > points ? ',' : '.';
}

/* ---- Shape ---- */

/* Cells with text; those of a quoted text with the sign in it count more, which does no harm. */
static guint
count_filled (const char *line,
              char        sign)
{
  const char delimiter[] = { sign, '\0' };
  g_auto (GStrv) cells = g_strsplit (line, delimiter, -1);
  guint n = 0;

  for (guint i = 0; cells[i] != NULL; i++)
    n += cells[i][strspn (cells[i], " \t\r\"")] != '\0';
  return n;
}

/* The first line that fills more than half as many cells as the fullest: titles above a table fill few. 0: there is one column. */
static guint
find_header (char **lines,
             char   sign)
{
  guint most = 0;

  for (guint i = 0; lines[i] != NULL; i++)
    most = MAX (most, count_filled (lines[i], sign));
  for (guint i = 0; most > 1 && lines[i] != NULL; i++)
    if (2 * count_filled (lines[i], sign) > most)
      return i + 1;
  return 0;
}

/* The first lines, as UTF-8. */
static char **
dup_lines (GBytes     *bytes,
           const char *encoding)
{
  gsize size;
  const char *data = g_bytes_get_data (bytes, &size);
  g_autofree char *text = g_convert_with_fallback (data, (gssize) MIN (size, LOOKED_AT), "UTF-8", encoding, "?", NULL, NULL, NULL);
  char **lines;

  if (text == NULL)
    text = g_utf8_make_valid (data, (gssize) MIN (size, LOOKED_AT));
  lines = g_strsplit (text, strchr (text, '\n') != NULL ? "\n" : "\r", LINES + 1);
  /* The last piece is all the rest. */
  if (g_strv_length (lines) > LINES)
    g_clear_pointer (&lines[LINES], g_free);
  return lines;
}

/* The columns of a table of that shape. NULL: it is none. */
static WbLoggerChoice *
guess_of_shape (GBytes       *bytes,
                const char   *name,
                const char   *encoding,
                char          delimiter,
                guint         header_line,
                WbInstant     lit_at,
                char       ***names,
                GCancellable *cancellable,
                GError      **error)
{
  g_autoptr (WbLoggerChoice) self = wb_logger_choice_new ();
  g_autoptr (WbExchangeTable) table = NULL;
  g_autofree Column *columns = NULL;
  const char *const *found;
  guint n;

  g_free (self->encoding);
  self->encoding = g_strdup (encoding);
  self->delimiter = delimiter;
  self->header_line = header_line;
  table = wb_exchange_logger_open_table (bytes, name, self, cancellable, error);
  if (table == NULL)
    return NULL;
  found = wb_exchange_table_get_names (table);
  n = g_strv_length ((char **) found);
  self->header_line = (guint) wb_exchange_table_get_header_line (table);
  columns = look (table, n, lit_at, cancellable);
  guess_time (self, columns, n, found);
  guess_columns (self, columns, n, found);
  guess_signs (self, columns, n, found);
  for (guint i = 0; i < n; i++)
    g_free (columns[i].folded);
  *names = g_strdupv ((char **) found);
  return g_steal_pointer (&self);
}

/*
 * The sign between columns is the first that makes a table with temperatures; the comma is asked last, as it may stand in
 * every number. NULL: none does.
 */
static WbLoggerChoice *
try_signs (GBytes       *bytes,
           const char   *name,
           const char   *encoding,
           WbInstant     lit_at,
           char       ***names,
           GCancellable *cancellable)
{
  static const char signs[] = { ';', '\t', '|', ',' };
  g_auto (GStrv) lines = dup_lines (bytes, encoding);

  for (guint i = 0; i < G_N_ELEMENTS (signs); i++)
    {
      guint header = find_header (lines, signs[i]);
      g_auto (GStrv) found = NULL;
      g_autoptr (WbLoggerChoice) choice =
        header > 0 ? guess_of_shape (bytes, name, encoding, signs[i], header, lit_at, &found, cancellable, NULL) : NULL;

      if (choice == NULL || choice->n_columns == 0)
        continue;
      *names = g_steal_pointer (&found);
      return g_steal_pointer (&choice);
    }
  return NULL;
}

WbLoggerChoice *
wb_exchange_logger_guess (GFile                *file,
                          GBytes               *bytes,
                          const WbLoggerChoice *shape,
                          WbInstant             lit_at,
                          char               ***names,
                          GCancellable         *cancellable,
                          GError              **error)
{
  g_autoptr (WbLogMapping) guessed = NULL;
  g_autofree char *name = NULL;
  g_auto (GStrv) found = NULL;
  WbLoggerChoice *self;

  g_return_val_if_fail (G_IS_FILE (file) && bytes != NULL, NULL);

  name = g_file_get_basename (file);
  guessed = shape == NULL ? wb_exchange_mapping_guess_shape (file, cancellable, error) : NULL;
  if (shape == NULL && guessed == NULL)
    return NULL;
  self = shape == NULL ? try_signs (bytes, name, guessed->encoding, lit_at, &found, cancellable) : NULL;
  /* No temperature anywhere: it is shown as it looks, and a person says more. */
  if (self == NULL)
    self = guess_of_shape (bytes, name, shape != NULL ? shape->encoding : guessed->encoding,
                           shape != NULL ? shape->delimiter : guessed->delimiter,
                           shape != NULL ? shape->header_line : guessed->header_line, lit_at, &found, cancellable, error);
  if (self != NULL && names != NULL)
    *names = g_steal_pointer (&found);
  return self;
}
