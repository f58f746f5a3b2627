/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-growth-words.h"

#include <glib/gi18n-lib.h>

#include "wb-craft-words-private.h"
#include "wb-number.h"

static char *
dup_label (const WbCraftGrowth *growth)
{
  g_autofree char *exponent = NULL;

  if (growth->status != WB_CRAFT_FIT_BENT)
    return g_strdup (wb_craft_fit_status_get_label (growth->status));
  exponent = wb_number_format (growth->exponent, 2, NULL);
  /* Translators: "fitted; the pools grow along a bent curve"; a number. */
  return g_strdup_printf (_("%s (exponent %s on the time)"), wb_craft_fit_status_get_label (growth->status), exponent);
}

GPtrArray *
wb_craft_growth_dup_notes (guint                       n,
                           const char *const          *names,
                           const WbCraftGrowth *const *growths)
{
  GPtrArray *notes = g_ptr_array_new_with_free_func (g_free);

  for (guint status = WB_CRAFT_FIT_OK + 1; status <= WB_CRAFT_FIT_FAILED; status++)
    {
      g_autoptr (GPtrArray) who = g_ptr_array_new ();
      g_autofree char *joined = NULL;
      g_autofree char *label = NULL;

      for (guint i = 0; i < n; i++)
        if (growths[i]->status == (WbCraftFitStatus) status)
          {
            g_ptr_array_add (who, (char *) names[i]);
            if (label == NULL)
              label = dup_label (growths[i]);
          }
      if (who->len == 0)
        continue;
      joined = who->len == n && n > 1 ? g_strdup (_("All of them")) : wb_craft_words_join (who);
      /* Translators: one or more combinations; what is to be known of their curves. */
      g_ptr_array_add (notes, g_strdup_printf (_("%s: %s."), joined, label));
    }
  return notes;
}
