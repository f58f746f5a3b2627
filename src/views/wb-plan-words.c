/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plan-words.h"

#include <glib/gi18n.h>
#include <math.h>

static gconstpointer
find (const GPtrArray *records,
      gint64           id)
{
  for (guint i = 0; i < records->len; i++)
    if (((const WbRecord *) records->pdata[i])->id == id)
      return records->pdata[i];
  return NULL;
}

char *
wb_plan_words_dup_material (const GPtrArray *records,
                            gint64           id)
{
  gconstpointer record = find (records, id);

  return record != NULL ? wb_material_dup_title (record) : g_strdup ("?");
}

char *
wb_plan_words_dup_wick (const GPtrArray *wicks,
                        const WbCell    *cell,
                        WbUnit           length)
{
  g_autofree char *one = wb_plan_words_dup_material (wicks, cell->wick);
  g_autofree char *spacing = NULL;

  if (cell->wick_count < 2)
    return g_steal_pointer (&one);
  if (isnan (cell->wick_spacing_mm))
    return g_strdup_printf ("%" G_GINT64_FORMAT "\302\240×\302\240%s", cell->wick_count, one);
  spacing = wb_quantity_format (length, cell->wick_spacing_mm, -1);
  /* Translators: how many wicks, of which, how far apart: "2 × Sedge S-4, 30 mm apart". */
  return g_strdup_printf (_("%d\302\240×\302\240%s, %s apart"), (int) cell->wick_count, one, spacing);
}

char *
wb_plan_words_dup_scent (const GPtrArray *fragrances,
                         const WbCell    *cell)
{
  g_autofree char *load = NULL;
  g_autofree char *name = NULL;

  if (cell->fragrance == 0)
    return g_strdup (_("no fragrance"));
  load = isnan (cell->load_pct) ? g_strdup ("?") : wb_number_format_trimmed (cell->load_pct, 2, NULL);
  name = wb_plan_words_dup_material (fragrances, cell->fragrance);
  return g_strdup_printf (cell->load_basis == WB_BASIS_TOTAL ? _("%s %s\302\240%% of the total") : _("%s %s\302\240%% of the wax"), name, load);
}

char *
wb_plan_words_dup_heading (const WbCraftGridTotals *totals)
{
  g_autofree char *samples = NULL;
  g_autofree char *cells = NULL;

  if (totals->cells == 0)
    return g_strdup (_("No combination yet"));
  samples = g_strdup_printf (ngettext ("%u sample", "%u samples", totals->samples), totals->samples);
  cells = g_strdup_printf (ngettext ("%u combination", "%u combinations", totals->cells), totals->cells);
  /* Translators: "12 samples of 4 combinations". */
  return g_strdup_printf (_("%s of %s"), samples, cells);
}

static void
add_masses (GPtrArray               *lines,
            const WbCraftGridTotals *totals,
            WbUnit                   mass)
{
  g_autofree char *wicks = g_strdup_printf (ngettext ("%u wick", "%u wicks", totals->wicks), totals->wicks);
  g_autofree char *wax = NULL;
  g_autofree char *oil = NULL;

  if (isnan (totals->wax_g) || isnan (totals->oil_g))
    {
      g_ptr_array_add (lines, g_strdup (wicks));
      g_ptr_array_add (lines, g_strdup (_("How much wax is not known: it needs the wax with its density, each vessel's water to the fill "
                                          "line or its wax height, and each load.")));
      return;
    }
  wax = wb_quantity_format (mass, totals->wax_g, -1);
  oil = wb_quantity_format (mass, totals->oil_g, -1);
  /* Translators: "1840 g of wax, 147 g of oil, 12 wicks; nothing added for the pot". */
  g_ptr_array_add (lines, g_strdup_printf (_("%s of wax, %s of oil, %s; nothing added for the pot"), wax, oil, wicks));
}

char *
wb_plan_words_dup_totals (const WbCraftGridTotals *totals,
                          const WbNotebook        *settings,
                          WbUnit                   mass)
{
  g_autoptr (GPtrArray) lines = g_ptr_array_new_with_free_func (g_free);

  if (totals->cells == 0)
    return g_strdup (_("Tick vessels and wicks and add a scent: every combination of them stands here, and can be switched off."));
  add_masses (lines, totals, mass);
  if (totals->cure_days > 0)
    {
      g_autofree char *number = wb_number_format_trimmed (totals->cure_days, 1, NULL);
      g_autofree char *days = g_strdup_printf (ngettext ("%s day", "%s days", (gulong) ceil (totals->cure_days)), number);

      g_ptr_array_add (lines, g_strdup_printf (_("Cure before the first burn: %s"), days));
    }
  if (!isnan (totals->bench_hours))
    {
      g_autofree char *hours = wb_quantity_format_duration (totals->bench_hours * 3600);

      g_ptr_array_add (lines, g_strdup_printf (_("One burn of each: %s on a bench of %u places"), hours,
                                               (guint) settings->bench_places));
    }
  g_ptr_array_add (lines, NULL);
  return g_strjoinv ("\n", (char **) lines->pdata);
}
