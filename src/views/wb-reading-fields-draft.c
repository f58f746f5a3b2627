/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-reading-fields-private.h"

#include <glib/gi18n.h>

/* What stands in the fields, right or wrong, to be put back another time: a key a field. */

/* "flame_mm", "flame_mm 2" at the second of several wicks. Caller frees. */
static char *
dup_key (guint    wick,
         WbColumn column)
{
  const char *name = wb_column_get_spec (column)->name;

  return wick > 0 ? g_strdup_printf ("%s-%u", name, wick) : g_strdup (name);
}

void
wb_reading_fields_keep (WbReadingFields *self,
                        GKeyFile        *file,
                        const char      *group)
{
  g_return_if_fail (WB_IS_READING_FIELDS (self));

  for (guint wick = 0; wick <= self->n_wicks; wick++)
    for (WbColumn column = 0; column < WB_N_COLUMNS; column++)
      if (wb_reading_fields_is_touched (self, wick, column))
        {
          g_autofree char *key = dup_key (wick, column);
          g_auto (GStrv) texts = wb_reading_field_dup_texts (wb_reading_fields_peek (self, wick, column));

          g_key_file_set_string_list (file, group, key, (const char *const *) texts, g_strv_length (texts));
        }
}

/* Whatever hour it is: a mass that was weighed, and what a person stated of a burn. */
static gboolean
lasts (WbColumn column)
{
  return column == WB_COLUMN_MASS_G || column == WB_COLUMN_THROW_DISTANCE_M || column == WB_COLUMN_THROW_BLIND;
}

/* "Room: 21; Soot: light". */
static void
say (GString     *words,
     WbColumn     column,
     char       **texts)
{
  const WbColumnSpec *spec = wb_column_get_spec (column);
  g_autofree char *text = g_strjoinv (", ", texts);
  int value = (int) g_ascii_strtoll (text, NULL, 10);
  const char *word = NULL;

  for (int i = 0; spec->words != NULL && spec->words[i].nick != NULL; i++)
    if (i == value)
      word = _(spec->words[i].label);
  if (*text != '\0')
    g_string_append_printf (words, "%s%s: %s", words->len > 0 ? "; " : "", _(spec->label), word != NULL ? word : text);
}

char *
wb_reading_fields_put_back (WbReadingFields *self,
                            GKeyFile        *file,
                            const char      *group,
                            gboolean         late)
{
  GString *left;

  g_return_val_if_fail (WB_IS_READING_FIELDS (self), NULL);

  left = g_string_new (NULL);
  for (guint wick = 0; wick <= self->n_wicks; wick++)
    for (WbColumn column = 0; column < WB_N_COLUMNS; column++)
      {
        g_autofree char *key = column != WB_COLUMN_POOL_FULL ? dup_key (wick, column) : NULL;
        g_auto (GStrv) texts = key != NULL ? g_key_file_get_string_list (file, group, key, NULL, NULL) : NULL;

        if (texts != NULL && late && !lasts (column))
          say (left, column, texts);
        else if (texts != NULL)
          wb_reading_field_put_texts (wb_reading_fields_ensure (self, wick, column), (const char *const *) texts);
      }
  return g_string_free (left, left->len == 0);
}
