/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-mapping-private.h"

#include "wb-exchange-log-column.h"
#include "wb-exchange-log-value-private.h"
#include "wb-exchange-mapping-time-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* One cell of a sheet in the words and units of the format. */

static gboolean
is_same_word (const char *a, const char *b)
{
  g_autofree char *one = g_utf8_casefold (a, -1), *other = g_utf8_casefold (b, -1);

  return strcmp (one, other) == 0;
}

gboolean
wb_exchange_mapping_is_nothing (const WbExchangeMappingPlan *self,
                                const char                  *text)
{
  g_autofree char *clean = g_strstrip (g_strdup (text));

  if (*clean == '\0')
    return TRUE;
  for (guint i = 0; self->mapping->nothing[i] != NULL; i++)
    if (is_same_word (self->mapping->nothing[i], clean))
      return TRUE;
  return FALSE;
}

static const char *
find_word (const WbLogMappingColumn *column, const char *text)
{
  for (guint i = 0; column != NULL && i < column->words->len; i++)
    {
      const WbLogPair *word = column->words->pdata[i];

      if (is_same_word (word->key, text))
        return word->value;
    }
  return NULL;
}

/* The program's own words, as it writes and as it shows them. */
static const char *
find_own_word (const WbWord *words, const char *text)
{
  for (guint i = 0; words != NULL && words[i].nick != NULL; i++)
    if (is_same_word (words[i].nick, text) || is_same_word (words[i].label, text) || is_same_word (_(words[i].label), text))
      return words[i].nick;
  return NULL;
}

/* 1 1/2 in are 38.1 mm, and 38.099999999999994 as binary fractions multiply: no ruler has 12 digits. */
static double
round_converted (double value)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];

  return g_ascii_strtod (g_ascii_formatd (text, sizeof text, "%.12g", value), NULL);
}

static char *
dup_number (const WbExchangeMappingPlan *self, const WbLogTarget *target, const WbLogMappingColumn *column, const char *text, char **rule)
{
  char other = self->mapping->decimal == ',' ? '.' : ',';
  WbUnit unit = column != NULL && column->unit != WB_N_UNITS ? column->unit : target->unit;
  g_autoptr (GError) error = NULL;
  double stored, value;

  if (column != NULL && strchr (text, other) != NULL && g_ascii_isdigit (strchr (text, other)[1]))
    {
      g_autofree char *quoted = wb_exchange_log_dup_quoted (text);

      *rule = g_strdup_printf (self->mapping->decimal == ',' ? _("%s: the decimal sign here is the comma") : _("%s: the decimal sign here is the point"),
                               quoted);
      return NULL;
    }
  if (!wb_quantity_parse (wb_unit_get_quantity (target->unit), unit, text, &stored, &error))
    {
      *rule = g_strdup (error->message);
      return NULL;
    }
  value = wb_unit_from_stored (target->unit, stored);
  return wb_number_shortest (unit != target->unit || target->unit != wb_quantity_get_stored_unit (wb_unit_get_quantity (unit))
                               ? round_converted (value) : value);
}

static char *
dup_day (const WbExchangeMappingPlan *self, const char *text, char **rule)
{
  WbExchangeMoment moment;

  /* A spreadsheet's day is often a day and 0:00. */
  if (!wb_exchange_mapping_read_moment (text, self->mapping->date_order, &moment, rule))
    return NULL;
  return wb_day_format (moment.instant.known ? wb_instant_get_day (moment.instant) : moment.day);
}

static char *
refuse_word (const WbExchangeMappingOutput *output, const char *text)
{
  g_autofree char *quoted = wb_exchange_log_dup_quoted (text);
  g_autoptr (GString) known = g_string_new (NULL);

  for (const WbWord *word = output->target->words; word->nick != NULL; word++)
    g_string_append_printf (known, "%s%s", known->len > 0 ? ", " : "", _(word->label));
  return g_strdup_printf (_("%s is none of the words %s: say in the mapping how it is read"), quoted, known->str);
}

char *
wb_exchange_mapping_dup_value (const WbExchangeMappingPlan   *self,
                               const WbExchangeMappingOutput *output,
                               const WbLogMappingColumn      *column,
                               const char                    *text,
                               char                         **rule)
{
  g_autofree char *clean = g_strstrip (g_strdup (text));
  const WbLogTarget *target = output->target;
  const char *word = find_word (column, clean);
  int known;

  *rule = NULL;
  if (word != NULL)
    return g_strdup (word);
  if (wb_exchange_mapping_is_nothing (self, clean))
    return g_strdup ("");
  /* What is kept comes back as it was. */
  if (target == NULL)
    return g_strdup (text);
  word = find_own_word (target->words, clean);
  if (word != NULL)
    return g_strdup (word);
  known = wb_exchange_log_column_find (output->name);
  if (known >= 0 && wb_exchange_log_column_get (known)->kind == WB_EXCHANGE_LOG_DAY)
    return dup_day (self, clean, rule);
  if (target->words != NULL && (!target->number || !g_ascii_isdigit (*clean)))
    {
      *rule = refuse_word (output, clean);
      return NULL;
    }
  /* The one word that a pool's diameter may be. */
  if (known >= 0 && wb_exchange_log_column_get (known)->kind == WB_EXCHANGE_LOG_READ_POOL && is_same_word (clean, "full"))
    return g_strdup ("full");
  return target->number ? dup_number (self, target, column, clean, rule) : g_steal_pointer (&clean);
}
