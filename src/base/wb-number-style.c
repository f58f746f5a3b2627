/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-language.h"
#include "wb-number-private.h"

#include <string.h>

/*
 * How each language writes a number and a date. Decimal signs, month names and
 * days of the week after the Unicode CLDR, from memory. The first line is also the one of "C"
 * and of every language that is not here.
 */
static const WbNumberStyle styles[] = {
  { "en", '.', NULL, "",
    { "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec" },
    { "Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun" } },
  { "da", ',', NULL, ".",
    { "jan.", "feb.", "mar.", "apr.", "maj", "jun.", "jul.", "aug.", "sep.", "okt.", "nov.", "dec." },
    { "man.", "tirs.", "ons.", "tors.", "fre.", "lør.", "søn." } },
  { "de", ',', "CH LI", ".",
    { "Jan.", "Feb.", "März", "Apr.", "Mai", "Juni", "Juli", "Aug.", "Sept.", "Okt.", "Nov.", "Dez." },
    { "Mo", "Di", "Mi", "Do", "Fr", "Sa", "So" } },
  { "es", ',', "DO GT HN MX NI PA PE PR SV US", "",
    { "ene", "feb", "mar", "abr", "may", "jun", "jul", "ago", "sept", "oct", "nov", "dic" },
    { "lun", "mar", "mié", "jue", "vie", "sáb", "dom" } },
  { "fr", ',', NULL, "",
    { "janv.", "févr.", "mars", "avr.", "mai", "juin", "juil.", "août", "sept.", "oct.", "nov.", "déc." },
    { "lun.", "mar.", "mer.", "jeu.", "ven.", "sam.", "dim." } },
  { "it", ',', "CH", "",
    { "gen", "feb", "mar", "apr", "mag", "giu", "lug", "ago", "set", "ott", "nov", "dic" },
    { "lun", "mar", "mer", "gio", "ven", "sab", "dom" } },
  { "nb", ',', NULL, ".",
    { "jan.", "feb.", "mars", "apr.", "mai", "juni", "juli", "aug.", "sep.", "okt.", "nov.", "des." },
    { "man.", "tirs.", "ons.", "tors.", "fre.", "lør.", "søn." } },
  { "nl", ',', NULL, "",
    { "jan", "feb", "mrt", "apr", "mei", "jun", "jul", "aug", "sep", "okt", "nov", "dec" },
    { "ma", "di", "wo", "do", "vr", "za", "zo" } },
  { "pl", ',', NULL, "",
    { "sty", "lut", "mar", "kwi", "maj", "cze", "lip", "sie", "wrz", "paź", "lis", "gru" },
    { "pon.", "wt.", "śr.", "czw.", "pt.", "sob.", "niedz." } },
  { "pt", ',', NULL, "",
    { "jan", "fev", "mar", "abr", "mai", "jun", "jul", "ago", "set", "out", "nov", "dez" },
    { "seg", "ter", "qua", "qui", "sex", "sáb", "dom" } },
  { "sv", ',', NULL, "",
    { "jan.", "feb.", "mars", "apr.", "maj", "juni", "juli", "aug.", "sep.", "okt.", "nov.", "dec." },
    { "mån", "tis", "ons", "tors", "fre", "lör", "sön" } },
};

/* The languages whose line says nothing of a region's own point. */
static WbNumberStyle point_styles[G_N_ELEMENTS (styles)];

static gpointer
make_point_styles (gpointer data)
{
  for (gsize i = 0; i < G_N_ELEMENTS (styles); i++)
    {
      point_styles[i] = styles[i];
      point_styles[i].decimal = '.';
    }
  return point_styles;
}

static gboolean
list_has (const char *list, const char *word, gsize length)
{
  for (const char *at = list; at != NULL && *at != '\0'; at = *at == ' ' ? at + 1 : at)
    {
      gsize n = strcspn (at, " ");
      if (n == length && g_ascii_strncasecmp (at, word, n) == 0)
        return TRUE;
      at += n;
    }
  return FALSE;
}

/* "nn_NO" and "no" read as "nb" does. */
static gboolean
is_language (const WbNumberStyle *style, const char *tag, gsize length)
{
  if (length == 2 && g_str_equal (style->language, "nb")
      && (g_ascii_strncasecmp (tag, "no", 2) == 0 || g_ascii_strncasecmp (tag, "nn", 2) == 0))
    return TRUE;
  return strlen (style->language) == length && g_ascii_strncasecmp (tag, style->language, length) == 0;
}

const WbNumberStyle *
wb_number_style_for_language (const char *tag)
{
  static GOnce once = G_ONCE_INIT;

  if (tag == NULL)
    return &styles[0];
  g_once (&once, make_point_styles, NULL);

  gsize language = strcspn (tag, "_-.@");
  const char *region = tag[language] == '_' || tag[language] == '-' ? tag + language + 1 : "";
  for (gsize i = 0; i < G_N_ELEMENTS (styles); i++)
    {
      if (!is_language (&styles[i], tag, language))
        continue;
      return list_has (styles[i].point_regions, region, strcspn (region, "_-.@")) ? &point_styles[i] : &styles[i];
    }
  return &styles[0];
}

static gpointer
find_default (gpointer data)
{
  g_autofree char *tag = wb_language_dup_tag ();

  return (gpointer) wb_number_style_for_language (tag);
}

const WbNumberStyle *
wb_number_style_default (void)
{
  static GOnce once = G_ONCE_INIT;

  return g_once (&once, find_default, NULL);
}

guint
wb_number_styles_count (void)
{
  return G_N_ELEMENTS (styles);
}

const WbNumberStyle *
wb_number_styles_get (guint i)
{
  g_return_val_if_fail (i < G_N_ELEMENTS (styles), NULL);

  return &styles[i];
}

char
wb_number_style_get_decimal (const WbNumberStyle *style)
{
  g_return_val_if_fail (style != NULL, '.');

  return style->decimal;
}
