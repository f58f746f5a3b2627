/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-logger-words.h"

#include <glib/gi18n.h>
#include <inttypes.h>

/* More of them say the same again. */
#define MOST_ROWS 20

char *
wb_logger_words_dup_summary (const WbAppLogger *logger,
                             gboolean           us_units)
{
  g_autoptr (GString) text = g_string_new (NULL);

  g_return_val_if_fail (logger != NULL && logger->logger != NULL, NULL);

  for (guint i = 0; i < logger->summary.n_columns; i++)
    {
      g_autofree char *told = wb_craft_logger_dup_text (&logger->summary, logger->logger, i, us_units ? WB_UNIT_FAHRENHEIT : WB_UNIT_CELSIUS);

      g_string_append_printf (text, "%s.\n", told);
    }
  g_string_append (text, wb_craft_logger_is_over (&logger->summary)
                           ? _("It is no reading: it does not count in the score. Kept, it crosses the limit as a reading would: its wick is not recommended.")
                           : _("It is no reading: it does not count in the score."));
  return g_string_free (g_steal_pointer (&text), FALSE);
}

char *
wb_logger_words_dup_refused (const WbAppLogger *logger)
{
  g_autoptr (GString) text = g_string_new (NULL);
  const GPtrArray *refused;

  g_return_val_if_fail (logger != NULL && logger->logger != NULL, NULL);

  refused = logger->logger->refused;
  if (refused->len == 0)
    return g_strdup ("");
  g_string_append_printf (text, ngettext ("%u row is not read:", "%u rows are not read:", logger->logger->n_refused), logger->logger->n_refused);
  for (guint i = 0; i < refused->len && i < MOST_ROWS; i++)
    {
      const WbLoggerRefusal *refusal = g_ptr_array_index (refused, i);

      g_string_append_c (text, '\n');
      if (*refusal->column != '\0')
        /* Translators: number of the line; name of the column; the rule. */
        g_string_append_printf (text, _("Line %" PRIu64 ", %s: %s"), refusal->line, refusal->column, refusal->rule);
      else
        g_string_append_printf (text, _("Line %" PRIu64 ": %s"), refusal->line, refusal->rule);
    }
  if (logger->logger->n_refused > MOST_ROWS)
    g_string_append_printf (text, "\n%s", _("The others are not listed."));
  return g_string_free (g_steal_pointer (&text), FALSE);
}
