/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plan-words.h"

#include "wb-material-stock.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

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
  g_autofree char *vessels = g_strdup_printf (ngettext ("%u vessel", "%u vessels", totals->samples), totals->samples);
  g_autofree char *wax = NULL;
  g_autofree char *oil = NULL;

  if (isnan (totals->wax_g) || isnan (totals->oil_g))
    {
      /* Translators: "12 vessels, 12 wicks". */
      g_ptr_array_add (lines, g_strdup_printf (_("%s, %s"), vessels, wicks));
      g_ptr_array_add (lines, g_strdup (_("How much wax: once its density, each vessel's fill (water or wax height) and each load are known")));
      return;
    }
  wax = wb_quantity_format (mass, totals->wax_g, -1);
  oil = wb_quantity_format (mass, totals->oil_g, -1);
  if (totals->additive_g > 0)
    {
      g_autofree char *additive = wb_quantity_format (mass, totals->additive_g, -1);

      /* Translators: "1840 g of wax, 147 g of oil, 40 g of additive, 12 wicks, 12 vessels; nothing added for the pot". */
      g_ptr_array_add (lines, g_strdup_printf (_("%s of wax, %s of oil, %s of additive, %s, %s; nothing added for the pot"), wax, oil, additive, wicks,
                                               vessels));
      return;
    }
  /* Translators: "1840 g of wax, 147 g of oil, 12 wicks, 12 vessels; nothing added for the pot". */
  g_ptr_array_add (lines, g_strdup_printf (_("%s of wax, %s of oil, %s, %s; nothing added for the pot"), wax, oil, wicks, vessels));
}

static char *
dup_days (double days)
{
  g_autofree char *number = wb_number_format_trimmed (days, 1, NULL);

  return g_strdup_printf (ngettext ("%s day", "%s days", (gulong) ceil (days)), number);
}

/* What other experiments cost it: "Other experiments burn first: by itself it would take 49 days". */
static void
add_others (GPtrArray               *lines,
            const WbCraftGridTotals *totals)
{
  g_autofree char *alone = dup_days (totals->days_alone);

  if (totals->days_alone > 0 && (totals->late || totals->days > totals->days_alone))
    g_ptr_array_add (lines, g_strdup_printf (_("Other experiments burn first: by itself it would take %s"), alone));
}

/* When it is answered: "Poured today, answered about 20 Apr 2026, after 49 days: 14 days of cure, then 16 evenings for about 8 burns of each". */
static void
add_wait (GPtrArray               *lines,
          const WbCraftGridTotals *totals)
{
  g_autofree char *cure = dup_days (totals->cure_days);
  g_autofree char *burns = g_strdup_printf (ngettext ("%u burn", "%u burns", totals->burns), totals->burns);
  g_autofree char *evenings = g_strdup_printf (ngettext ("%u evening", "%u evenings", totals->evenings), totals->evenings);

  if (totals->days > 0)
    {
      g_autofree char *day = wb_day_format_local (totals->answered), *days = dup_days (totals->days);

      /* Translators: day; days; days; evenings; burns. */
      g_ptr_array_add (lines, g_strdup_printf (_("Poured today, answered about %s, after %s: %s of cure, then %s for about %s of each"), day, days, cure,
                                               evenings, burns));
    }
  else if (totals->late)
    /* Translators: days; burns; evenings a week. */
    g_ptr_array_add (lines, g_strdup_printf (_("Poured today, not answered within a year: %s of cure, then about %s of each, at %u evenings a week"), cure,
                                             burns, totals->evenings_a_week));
  else if (totals->cure_days > 0)
    g_ptr_array_add (lines, g_strdup_printf (_("Cure before the first burn: %s"), cure));
  add_others (lines, totals);
  if (totals->evenings_assumed && (totals->days > 0 || totals->late))
    g_ptr_array_add (lines, g_strdup (_("Monday, Wednesday and Friday are taken for its evenings: Preferences state none")));
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
  add_wait (lines, totals);
  if (totals->days == 0 && !isnan (totals->bench_hours))
    {
      g_autofree char *hours = wb_quantity_format_duration (totals->bench_hours * 3600);

      g_ptr_array_add (lines, g_strdup_printf (_("One burn of each: %s on a bench of %u places"), hours,
                                               (guint) settings->bench_places));
    }
  g_ptr_array_add (lines, NULL);
  return g_strjoinv ("\n", (char **) lines->pdata);
}

/* ---- Stock ---- */

static gconstpointer
find_material (const WbAppMaterials *materials,
               gint64                id)
{
  const GPtrArray *const tables[] = { materials->vessels, materials->wicks, materials->waxes, materials->fragrances, materials->dyes,
                                      materials->additives };

  for (guint i = 0; i < G_N_ELEMENTS (tables); i++)
    if (find (tables[i], id) != NULL)
      return find (tables[i], id);
  return NULL;
}

static gboolean
is_counted (gconstpointer material)
{
  const WbRecordType *type = ((const WbRecord *) material)->type;

  return type == &wb_vessel_type || type == &wb_wick_type;
}

/* "120 g of Dunmarl soft", "3 × Tern, 76 mm". */
static char *
dup_amount (gconstpointer material,
            double        amount,
            WbUnit        mass)
{
  g_autofree char *title = wb_material_dup_title (material);
  g_autofree char *text = NULL;

  if (is_counted (material))
    return g_strdup_printf ("%.0f\302\240×\302\240%s", ceil (amount), title);
  text = wb_quantity_format (mass, amount, -1);
  /* Translators: how much; of what. */
  return g_strdup_printf (_("%s of %s"), text, title);
}

/* What may have come out of any lot: nobody wrote which. */
static void
append_unnamed (GString       *text,
                gconstpointer  material,
                double         amount,
                WbUnit         mass)
{
  const WbRecordType *type = ((const WbRecord *) material)->type;
  g_autofree char *poured = NULL;

  if (!(amount > 0))
    return;
  poured = type == &wb_vessel_type || type == &wb_wick_type ? g_strdup_printf ("%.0f", ceil (amount)) : wb_quantity_format (mass, amount, -1);
  /* Translators: how much, behind the name of a material of which there is too little */
  g_string_append_printf (text, _(" (%s poured without a lot are taken off)"), poured);
}

char *
wb_plan_words_dup_stock (const GArray         *needs,
                         const WbCraftStock   *stock,
                         const WbAppMaterials *materials,
                         const WbNotebook     *settings,
                         WbUnit                mass)
{
  WbCraftGridCost cost = wb_craft_grid_cost (needs, stock);
  g_autoptr (GString) lacking = g_string_new (NULL);
  g_autoptr (GString) text = g_string_new (NULL);
  gboolean weighed = FALSE;

  for (guint i = 0; i < needs->len; i++)
    {
      const WbCraftGridNeed *need = &g_array_index (needs, WbCraftGridNeed, i);
      gconstpointer material = find_material (materials, need->material);
      double by = isnan (need->amount) ? NAN : wb_craft_stock_get_short (stock, need->material, need->amount);
      g_autofree char *amount = NULL;

      if (material == NULL || !(by > 0))
        continue;
      amount = dup_amount (material, by, mass);
      weighed = weighed || !is_counted (material);
      g_string_append_printf (lacking, "%s%s", lacking->len > 0 ? ", " : "", amount);
      append_unnamed (lacking, material, wb_craft_stock_get_unnamed (stock, need->material), mass);
    }
  if (cost.priced > 0)
    {
      g_autofree char *money = wb_material_stock_dup_money (cost.money, settings);

      g_string_append_printf (text, _("Materials for %s"), money);
      if (cost.unpriced > 0)
        g_string_append_printf (text, ngettext (", without %u that has no price", ", without %u that have no price", cost.unpriced), cost.unpriced);
    }
  if (lacking->len > 0)
    {
      if (text->len > 0)
        g_string_append_c (text, '\n');
      g_string_append_printf (text, _("Short: %s"), lacking->str);
      if (weighed)
        g_string_append (text, _("; and what stays in the pot"));
    }
  return text->len > 0 ? g_strdup (text->str) : NULL;
}

/* ---- Codes ---- */

typedef char *(*LevelFunc) (const WbDataset *data, guint cell);

static char *
dup_vessel_of (const WbDataset *data,
               guint            cell)
{
  return wb_material_dup_title (wb_dataset_get_vessel (data, cell));
}

/* The letter so many places before the one that stands before the hyphen; 0: there is no letter. */
static gunichar
letter_of (const char *code,
           guint       before)
{
  const char *at = code != NULL ? strrchr (code, '-') : NULL;

  for (guint i = 0; at != NULL && i <= before; i++)
    at = g_utf8_find_prev_char (code, at);
  return at != NULL && g_unichar_isalpha (g_utf8_get_char (at)) ? g_utf8_get_char (at) : 0;
}

/* Read off the codes as they are, for a changed plan keeps those that are written already: only where each level has one letter, and no other has it. */
static gboolean
append_letters (GString         *key,
                const WbDataset *data,
                LevelFunc        level_of,
                guint            before)
{
  g_autoptr (GPtrArray) levels = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GArray) letters = g_array_new (FALSE, FALSE, sizeof (gunichar));

  for (guint i = 0; i < data->samples->len; i++)
    {
      gunichar letter = letter_of (wb_dataset_get_sample (data, i)->code, before);
      g_autofree char *level = level_of (data, g_array_index (data->sample_cell, guint, i));
      guint place = letters->len;

      for (guint k = 0; k < letters->len; k++)
        {
          gboolean same = g_str_equal (levels->pdata[k], level);

          if (same != (g_array_index (letters, gunichar, k) == letter))
            return FALSE;
          place = same ? k : place;
        }
      if (letter == 0)
        return FALSE;
      if (place < letters->len)
        continue;
      g_ptr_array_add (levels, g_steal_pointer (&level));
      g_array_append_val (letters, letter);
    }
  if (letters->len < 2)
    return FALSE;
  for (guint i = 0; i < letters->len; i++)
    {
      g_string_append (key, key->len > 0 ? ", " : "");
      g_string_append_unichar (key, g_array_index (letters, gunichar, i));
      g_string_append_printf (key, "\302\240%s", (const char *) levels->pdata[i]);
    }
  return TRUE;
}

char *
wb_plan_words_dup_code_key (const WbDataset *data)
{
  g_autoptr (GString) key = g_string_new (NULL);
  gboolean scents;
  guint run;

  g_return_val_if_fail (data != NULL, NULL);

  /* codes that somebody else gave, an imported log's, may only look like one */
  if (data->experiment->repeats != 0 && data->samples->len > 0 && (run = wb_craft_grid_run_of_code (wb_dataset_get_sample (data, 0)->code)) > 1)
    /* Translators: in the codes of samples: which run it is. */
    g_string_append_printf (key, _("R%u\302\240a repeat"), run);
  scents = append_letters (key, data, wb_dataset_dup_scent_name, 0);
  append_letters (key, data, dup_vessel_of, scents ? 1 : 0);
  /* Translators: "In the codes: J no fragrance, F Harbour mist 8 %." */
  return key->len > 0 ? g_strdup_printf (_("In the codes: %s."), key->str) : NULL;
}
