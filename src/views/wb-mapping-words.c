/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-mapping-words.h"

#include "wb-app-mapping.h"

#include <glib/gi18n.h>
#include <math.h>

const char *
wb_mapping_words_get_title (const WbLogTarget *target)
{
  return _(target->title);
}

char *
wb_mapping_words_dup_title (const WbLogTarget *target)
{
  const char *symbol = wb_unit_get_symbol (target->unit);

  return *symbol != '\0' ? g_strdup_printf ("%s, %s", wb_mapping_words_get_title (target), symbol)
                         : g_strdup (wb_mapping_words_get_title (target));
}

char *
wb_mapping_words_dup_column (const WbLogMappingColumn *column)
{
  const WbLogTarget *target = wb_app_mapping_find_target (column->target);
  GString *text;

  if (column->pattern != NULL)
    return g_strdup (column->pattern);
  if (column->target == NULL)
    return g_strdup (_("passed over"));
  if (target == NULL)
    return g_strdup (column->target);
  text = g_string_new (wb_mapping_words_get_title (target));
  if (column->unit < WB_N_UNITS && *wb_unit_get_symbol (column->unit) != '\0')
    g_string_append_printf (text, ", %s", wb_unit_get_symbol (column->unit));
  if (!isnan (column->minute))
    {
      g_autofree char *after = column->minute > 0 ? wb_quantity_format_duration (column->minute * 60) : g_strdup (_("lighting"));

      g_string_append_printf (text, " · %s", after);
    }
  return g_string_free (text, FALSE);
}
