/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-log-value-private.h"

#include "wb-exchange-text.h"
#include "wb-text.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* Characters of a cell that a message repeats. */
#define QUOTED_CHARACTERS 40

void
wb_exchange_log_values_init (WbExchangeLogValues *self)
{
  self->decimal = '.';
  self->scratch = g_string_new (NULL);
  self->instant_text = NULL;
  self->instant = WB_INSTANT_NONE;
}

void
wb_exchange_log_values_clear (WbExchangeLogValues *self)
{
  g_string_free (g_steal_pointer (&self->scratch), TRUE);
  g_clear_pointer (&self->instant_text, g_free);
}

/* `text` is taken. */
static gboolean
refuse (char **rule, char *text)
{
  *rule = text;
  return FALSE;
}

char *
wb_exchange_log_dup_quoted (const char *text)
{
  g_autofree char *head = g_utf8_strlen (text, -1) > QUOTED_CHARACTERS ? g_utf8_substring (text, 0, QUOTED_CHARACTERS) : NULL;

  return g_strdup_printf ("“%s%s”", head != NULL ? head : text, head != NULL ? "…" : "");
}

char *
wb_exchange_log_dup_range_rule (const char *text, double low, double high, const char *tail)
{
  g_autofree char *quoted = wb_exchange_log_dup_quoted (text), *from = wb_number_shortest (low), *to = wb_number_shortest (high);

  if (high >= G_MAXINT32)
    return g_strdup_printf (_("%s: %s or more is accepted"), quoted, from);
  /* Translators: what stood there, lowest, highest, and possibly more that is accepted */
  return g_strdup_printf (_("%s: %s to %s%s is accepted"), quoted, from, to, tail);
}

/* Without the white space that may stand inside quotation marks. */
static const char *
trimmed (WbExchangeLogValues *self, const WbExchangeCsvCell *cell)
{
  if (!g_ascii_isspace (cell->text[0]) && !g_ascii_isspace (cell->text[cell->length - 1]))
    return cell->text;
  g_string_truncate (self->scratch, 0);
  g_string_append_len (self->scratch, cell->text, cell->length);
  return g_strstrip (self->scratch->str);
}

static char *
dup_name (const WbExchangeCsvCell *cell)
{
  char *clean = wb_text_dup_clean (cell->text, cell->length);

  if (clean == NULL || clean[0] != '\'')
    return clean;

  g_autofree char *guarded = clean;

  return wb_text_dup_clean (wb_exchange_text_skip_guard (guarded), -1);
}

static gboolean
read_name (const WbExchangeLogColumn *column, const WbExchangeCsvCell *cell, char **slot, char **rule)
{
  /* Most rows say what the row before them said. What stands in the slot is clean, so this is too. */
  if (*slot != NULL && cell->text[0] != '\'' && strcmp (*slot, cell->text) == 0)
    return TRUE;

  g_free (*slot);
  *slot = dup_name (cell);
  if (*slot == NULL)
    return !column->required || refuse (rule, g_strdup (_("must be given")));
  if (strlen (*slot) <= column->maximum)
    return TRUE;

  glong length = g_utf8_strlen (*slot, -1);

  if (length <= column->maximum)
    return TRUE;
  g_clear_pointer (slot, g_free);
  return refuse (rule, g_strdup_printf (_("%ld characters long: at most %ld are accepted"), length, (glong) column->maximum));
}

static gboolean
read_number (const WbExchangeLogValues *self, const WbExchangeCsvCell *cell, double *value, char **rule)
{
  g_autoptr (GError) error = NULL;

  return wb_number_parse_strict (cell->text, self->decimal, value, &error) || refuse (rule, g_strdup (error->message));
}

static gboolean
read_in_range (const WbExchangeLogValues *self, const WbExchangeLogColumn *column, const WbExchangeCsvCell *cell,
               gboolean whole, double *value, char **rule)
{
  double number;

  if (!read_number (self, cell, &number, rule))
    return FALSE;
  if (number < column->minimum || number > column->maximum)
    return refuse (rule, wb_exchange_log_dup_range_rule (cell->text, column->minimum, column->maximum, ""));
  if (whole && number != floor (number))
    {
      g_autofree char *quoted = wb_exchange_log_dup_quoted (cell->text);

      return refuse (rule, g_strdup_printf (_("%s: a whole number is wanted"), quoted));
    }
  *value = number;
  return TRUE;
}

static gboolean
read_word (WbExchangeLogValues *self, const WbExchangeLogColumn *column, const WbExchangeCsvCell *cell, int *word, char **rule)
{
  const char *text = trimmed (self, cell);

  *word = wb_words_find (column->words, text);
  if (*word >= 0)
    return TRUE;

  g_autofree char *quoted = wb_exchange_log_dup_quoted (text);
  g_autoptr (GString) known = g_string_new (NULL);

  for (guint i = 0; column->words[i].nick != NULL; i++)
    g_string_append_printf (known, "%s%s", i > 0 ? ", " : "", column->words[i].nick);
  return refuse (rule, g_strdup_printf (_("%s is none of the words %s"), quoted, known->str));
}

static gboolean
read_pool (WbExchangeLogValues *self, const WbExchangeLogColumn *column, const WbExchangeCsvCell *cell, WbLogRow *row,
           char **rule)
{
  double *bits = &row->values[WB_COLUMN_POOL_FULL];

  if (strcmp (trimmed (self, cell), "full") != 0)
    return read_number (self, cell, &row->values[column->column], rule);
  *bits = (isnan (*bits) ? 0 : *bits) + column->full_bit;
  return TRUE;
}

static gboolean
read_day (WbExchangeLogValues *self, const WbExchangeCsvCell *cell, WbDay *day, char **rule)
{
  g_autoptr (GError) error = NULL;

  return wb_day_parse (trimmed (self, cell), day, &error) || refuse (rule, g_strdup (error->message));
}

static gboolean
read_instant (WbExchangeLogValues *self, const WbExchangeCsvCell *cell, WbInstant *instant, char **rule)
{
  if (self->instant_text == NULL || strcmp (self->instant_text, cell->text) != 0)
    {
      g_autoptr (GError) error = NULL;
      WbInstant read = WB_INSTANT_NONE;

      if (!wb_instant_parse (trimmed (self, cell), &read, &error))
        return refuse (rule, g_strdup (error->message));
      g_free (self->instant_text);
      self->instant_text = g_strdup (cell->text);
      self->instant = read;
    }
  *instant = self->instant;
  return TRUE;
}

gboolean
wb_exchange_log_values_read (WbExchangeLogValues       *self,
                             const WbExchangeLogColumn *column,
                             const WbExchangeCsvCell   *cell,
                             WbLogRow                  *row,
                             char                     **rule)
{
  gpointer at = (char *) row + column->offset;
  double number;
  int word;

  switch (column->kind)
    {
    case WB_EXCHANGE_LOG_NAME:
      return read_name (column, cell, at, rule);
    case WB_EXCHANGE_LOG_REAL:
    case WB_EXCHANGE_LOG_READ_REAL:
      return read_in_range (self, column, cell, FALSE, at, rule);
    case WB_EXCHANGE_LOG_READ_WHOLE:
      return read_in_range (self, column, cell, TRUE, at, rule);
    case WB_EXCHANGE_LOG_INTEGER:
      if (!read_in_range (self, column, cell, TRUE, &number, rule))
        return FALSE;
      *(gint64 *) at = (gint64) number;
      return TRUE;
    case WB_EXCHANGE_LOG_WORD:
      return read_word (self, column, cell, at, rule);
    case WB_EXCHANGE_LOG_READ_WORD:
      if (!read_word (self, column, cell, &word, rule))
        return FALSE;
      *(double *) at = word;
      return TRUE;
    case WB_EXCHANGE_LOG_DAY:
      return read_day (self, cell, at, rule);
    case WB_EXCHANGE_LOG_INSTANT:
      return read_instant (self, cell, at, rule);
    case WB_EXCHANGE_LOG_READ_POOL:
      return read_pool (self, column, cell, row, rule);
    default:
      g_assert_not_reached ();
    }
}
