/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "languages.h"

#include "wb-commands-output-private.h"

#include "wb-app-query.h"
#include "wb-language.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>

/* What every verb says the same way: complaints, numbers, and that the data are invented. */

void
wb_commands_complain (const char *file,
                      const char *format,
                      ...)
{
  g_autofree char *text = NULL;
  va_list arguments;

  va_start (arguments, format);
  text = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  g_strdelimit (g_strchomp (text), "\r\n", ' ');
  if (file != NULL)
    fprintf (stderr, "wickbench: %s: %s\n", file, text);
  else
    fprintf (stderr, "wickbench: %s\n", text);
}

int
wb_commands_fail (const char *file,
                  GError     *error)
{
  g_autoptr (GError) owned = error;

  if (owned == NULL)
    return WB_COMMANDS_FAILED;
  if (g_error_matches (owned, WB_APP_ERROR, WB_APP_ERROR_UNKNOWN))
    {
      wb_commands_complain (NULL, "%s", owned->message);
      return WB_COMMANDS_USAGE;
    }
  /* The lower rooms name the file themselves where they know it. */
  if (file != NULL && strstr (owned->message, file) != NULL)
    file = NULL;
  wb_commands_complain (file, "%s", owned->message);
  return WB_COMMANDS_FAILED;
}

gboolean
wb_commands_speak (const char *tag,
                   int        *status)
{
  g_auto (GStrv) known = g_strsplit (WB_LANGUAGES WB_TRANSLATIONS, ", ", -1);

  if (tag == NULL)
    return TRUE;
  if (!g_strv_contains ((const char *const *) known, tag))
    {
      wb_commands_complain (NULL, "no language “%s”; known are: %s", tag, WB_LANGUAGES WB_TRANSLATIONS);
      *status = WB_COMMANDS_USAGE;
      return FALSE;
    }
  wb_language_choose (tag);
  return TRUE;
}

void
wb_commands_write (const char *text)
{
  fputs (text, stdout);
}

void
wb_commands_print (const char *format,
                   ...)
{
  va_list arguments;

  va_start (arguments, format);
  vprintf (format, arguments);
  va_end (arguments);
}

void
wb_commands_print_mark (WbAppNotebook *notebook)
{
  if (wb_app_notebook_get_invented (notebook))
    wb_commands_write ("Invented data.\n\n");
}

void
wb_commands_print_learnt (const WbCraftEarlier *earlier)
{
  g_autofree char *text = wb_craft_earlier_dup_text (earlier);

  if (text != NULL)
    wb_commands_print ("\n%s\n", text);
}

WbAppNotebook *
wb_commands_open (const char *path,
                  int        *status)
{
  GError *error = NULL;
  WbAppNotebook *notebook = wb_app_notebook_open_sync (path, WB_APP_OPEN_READ, NULL, &error);

  if (notebook == NULL)
    *status = wb_commands_fail (path, error);
  return notebook;
}

gint64
wb_commands_find (WbAppNotebook *notebook,
                  const char    *experiment,
                  int           *status)
{
  GError *error = NULL;
  gint64 id = wb_app_query_find_experiment_sync (notebook, experiment, &error);

  if (id == 0)
    *status = wb_commands_fail (wb_app_notebook_get_path (notebook), error);
  return id;
}

int
wb_commands_find_figure (const char *key,
                         int        *status)
{
  g_autoptr (GString) known = g_string_new (NULL);
  int found = wb_figure_from_key (key);

  if (found >= 0)
    return found;
  for (guint figure = 0; figure < WB_N_FIGURES; figure++)
    g_string_append_printf (known, "%s%s", figure > 0 ? ", " : "", wb_figure_get_key (figure));
  wb_commands_complain (NULL, "no figure “%s”; known are: %s", key, known->str);
  *status = WB_COMMANDS_USAGE;
  return -1;
}

gboolean
wb_commands_read_whole (const char *text,
                        gint64      low,
                        gint64      high,
                        gint64     *value)
{
  return text == NULL || (wb_number_parse_integer (text, value, NULL) && *value >= low && *value <= high);
}

char *
wb_commands_dup_number (double value,
                        int    decimals)
{
  return isfinite (value) ? wb_number_format_trimmed (value, decimals, wb_number_style_for_language ("C")) : g_strdup ("-");
}

char *
wb_commands_dup_p (double p)
{
  return p < 0.0001 ? g_strdup ("<0.0001") : wb_commands_dup_number (p, 4);
}

char *
wb_commands_dup_chance (double chance)
{
  g_autofree char *number = wb_commands_dup_number (chance * 100, 0);

  if (!isfinite (chance))
    return g_strdup ("-");
  if (chance > 0 && chance < 0.01)
    return g_strdup ("<1 %");
  if (chance < 1 && chance > 0.99)
    return g_strdup (">99 %");
  return g_strdup_printf ("%s %%", number);
}

char *
wb_commands_dup_interval (double value,
                          double low,
                          double high,
                          int    decimals)
{
  g_autofree char *middle = wb_commands_dup_number (value, decimals);
  g_autofree char *from = wb_commands_dup_number (low, decimals);
  g_autofree char *to = wb_commands_dup_number (high, decimals);

  if (!isfinite (value) && isfinite (low) && !isfinite (high))
    return g_strdup_printf ("%s or more", from);
  if (!isfinite (value) && isfinite (low) && isfinite (high))
    return g_strdup_printf ("%s to %s", from, to);
  if (!isfinite (value))
    return g_steal_pointer (&middle);
  if (isfinite (low) && isfinite (high))
    return g_strdup_printf ("%s (%s to %s)", middle, from, to);
  if (isfinite (low))
    return g_strdup_printf ("%s (%s or more)", middle, from);
  return isfinite (high) ? g_strdup_printf ("%s (up to %s)", middle, to) : g_steal_pointer (&middle);
}
