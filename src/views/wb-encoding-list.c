/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-encoding-list.h"

#include <glib/gi18n.h>

/* As iconv calls them, and for people. */
static const struct { const char *name, *title; } encodings[] = {
  { "UTF-8", N_("UTF-8") },
  { "WINDOWS-1252", N_("Western (Windows-1252)") },
  { "ISO-8859-15", N_("Western (ISO 8859-15)") },
  { "MACINTOSH", N_("Western (Mac)") },
  { "WINDOWS-1250", N_("Central European (Windows-1250)") },
  { "WINDOWS-1251", N_("Cyrillic (Windows-1251)") },
  { "WINDOWS-1253", N_("Greek (Windows-1253)") },
  { "WINDOWS-1254", N_("Turkish (Windows-1254)") },
  { "SHIFT_JIS", N_("Japanese (Shift JIS)") },
  { "GB18030", N_("Chinese (GB 18030)") },
  { "UTF-16", N_("UTF-16") },
  { "UTF-16LE", N_("UTF-16, little end first") },
  { "UTF-16BE", N_("UTF-16, big end first") },
};

GtkStringList *
wb_encoding_list_new (void)
{
  GtkStringList *list = gtk_string_list_new (NULL);

  for (guint i = 0; i < G_N_ELEMENTS (encodings); i++)
    gtk_string_list_append (list, _(encodings[i].title));
  return list;
}

guint
wb_encoding_list_find (const char *name)
{
  g_return_val_if_fail (name != NULL, GTK_INVALID_LIST_POSITION);

  for (guint i = 0; i < G_N_ELEMENTS (encodings); i++)
    if (g_ascii_strcasecmp (encodings[i].name, name) == 0)
      return i;
  return GTK_INVALID_LIST_POSITION;
}

const char *
wb_encoding_list_get (guint position)
{
  return position < G_N_ELEMENTS (encodings) ? encodings[position].name : NULL;
}
