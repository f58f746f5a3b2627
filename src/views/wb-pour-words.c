/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-pour-words.h"

#include <glib/gi18n.h>
#include <math.h>

static void
add (GString *text,
     char    *sentence)
{
  if (text->len > 0)
    g_string_append_c (text, '\n');
  g_string_append (text, sentence);
  g_free (sentence);
}

static char *
finish (GString *text)
{
  if (text->len > 0)
    return g_string_free (text, FALSE);
  g_string_free (text, TRUE);
  return NULL;
}

char *
wb_pour_words_dup_fills (const WbAppPourBatch *batch,
                         gboolean              us_units)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; batch->sheet != NULL && i < batch->lines->len; i++)
    {
      const WbAppPourLine *line = &g_array_index (batch->lines, WbAppPourLine, i);
      g_autofree char *vessel = wb_material_dup_title (line->vessel);
      g_autofree char *mass = wb_craft_batch_dup_mass (batch->sheet, g_array_index (batch->sheet->fills, WbCraftBatchFill, i).first_g, us_units);

      /* Translators: "6 × Tern, 76 mm: 315.0 g each". */
      add (text, g_strdup_printf (_("%u × %s: %s each"), line->candles, vessel, mass));
    }
  return finish (text);
}

char *
wb_pour_words_dup_warnings (const WbCraftBatchSheet *sheet)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < sheet->warnings->len; i++)
    add (text, g_strdup_printf ("▲ %s", ((const WbCraftWarning *) sheet->warnings->pdata[i])->text));
  return finish (text);
}

/* "7 days". */
static char *
dup_days (double days)
{
  g_autofree char *number = wb_number_format_trimmed (days, 1, NULL);

  return g_strdup_printf (ngettext ("%s day", "%s days", (gulong) ceil (days)), number);
}

char *
wb_pour_words_dup_cure (const WbCure *cure,
                        WbDay         poured_on,
                        WbInstant     poured_at)
{
  WbCureFit burn = wb_cure_fit (poured_on, poured_at, cure->burn_wait_days), smell = wb_cure_fit (poured_on, poured_at, cure->smell_days);
  g_autofree char *burn_date = wb_cure_fit_format (&burn), *smell_date = wb_cure_fit_format (&smell);
  g_autofree char *burn_wait = dup_days (cure->burn_wait_days);
  g_autofree char *smell_wait = smell_date != NULL ? dup_days (cure->smell_days) : NULL;
  GString *text = g_string_new (NULL);

  if (burn_date != NULL && !isnan (cure->burn_days))
    add (text, g_strdup_printf (_("Fit to burn on %s, after %s."), burn_date, burn_wait));
  else if (burn_date != NULL)
    add (text, g_strdup_printf (_("Fit to burn on %s, after %s in which it sets right through: the wax states no cure, enter it under Materials."),
                                burn_date, burn_wait));
  if (smell_date != NULL)
    add (text, g_strdup_printf (_("Fit to smell on %s, after %s."), smell_date, smell_wait));
  return finish (text);
}
