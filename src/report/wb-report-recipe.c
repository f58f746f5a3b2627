/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-recipe-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "wb-report-words-private.h"

/* Characters of what happened to a decision: a caution is a box that is never broken. */
#define STATE_MOST 600

/* The words of a recipe, for its card and its production sheet. */

static char *
dup_percent (double value)
{
  g_autofree char *number = wb_number_format_trimmed (value, 2, NULL);

  return g_strdup_printf ("%s\302\240%%", number);
}

char *
wb_report_recipe_dup_wick (const WbReportRecipe  *recipe,
                           const WbReportOptions *options)
{
  const WbCell *cell = wb_dataset_get_cell (recipe->data, recipe->cell);
  g_autofree char *wick = wb_dataset_dup_wick_title (recipe->data, recipe->cell);
  g_autofree char *apart = NULL;

  if (cell->wick_count < 2 || isnan (cell->wick_spacing_mm))
    return g_steal_pointer (&wick);
  apart = wb_report_dup_set (options->us_units, WB_UNIT_MM, cell->wick_spacing_mm);
  /* Translators: number and name of the wicks; the distance between them. */
  return g_strdup_printf (_("%s, %s apart"), wick, apart);
}

char *
wb_report_recipe_dup_scent (const WbReportRecipe *recipe)
{
  const WbCell *cell = wb_dataset_get_cell (recipe->data, recipe->cell);
  const WbFragrance *fragrance = wb_dataset_get_fragrance (recipe->data, recipe->cell);
  g_autofree char *load = NULL;

  if (fragrance == NULL)
    return g_strdup (_("no fragrance"));
  load = dup_percent (cell->load_pct);
  return g_strdup_printf (cell->load_basis == WB_BASIS_TOTAL ? _("%s, %s of the total") : _("%s, %s of the wax"), fragrance->name, load);
}

char *
wb_report_recipe_dup_dye (const WbReportRecipe *recipe)
{
  const WbExperiment *experiment = recipe->data->experiment;
  g_autofree char *much = NULL;

  if (recipe->data->dye == NULL)
    return NULL;
  if (experiment->dye_drops_per_kg > 0)
    {
      much = wb_number_format_trimmed (experiment->dye_drops_per_kg, 1, NULL);
      return g_strdup_printf (_("%s, %s drops for each kilogram of wax"), recipe->data->dye->name, much);
    }
  if (isnan (experiment->dye_pct))
    return g_strdup (recipe->data->dye->name);
  much = wb_quantity_format (WB_UNIT_PERCENT, experiment->dye_pct, 3);
  return g_strdup_printf (_("%s, %s of the wax"), recipe->data->dye->name, much);
}

char *
wb_report_recipe_dup_additive (const WbReportRecipe *recipe)
{
  const WbExperiment *experiment = recipe->data->experiment;
  g_autofree char *much = NULL;

  if (recipe->data->additive == NULL)
    return NULL;
  if (isnan (experiment->additive_pct))
    return g_strdup (recipe->data->additive->name);
  much = dup_percent (experiment->additive_pct);
  return g_strdup_printf (_("%s, %s of the wax"), recipe->data->additive->name, much);
}

char *
wb_report_recipe_dup_name (const WbReportRecipe *recipe)
{
  g_autofree char *vessel = wb_material_dup_title (wb_dataset_get_vessel (recipe->data, recipe->cell));
  g_autofree char *wick = wb_dataset_dup_wick_title (recipe->data, recipe->cell);
  g_autofree char *scent = wb_report_recipe_dup_scent (recipe);

  return g_strdup_printf ("%s · %s · %s", vessel, wick, scent);
}

char *
wb_report_recipe_dup_signed (const WbReportRecipe *recipe)
{
  const WbDecision *decision = recipe->decision;
  const char *code = recipe->data->experiment->code != NULL ? recipe->data->experiment->code : recipe->data->experiment->title;
  const char *who = decision->signed_by != NULL ? decision->signed_by : WB_REPORT_NONE;
  g_autofree char *day = decision->signed_at.known ? wb_instant_format_date (decision->signed_at) : g_strdup (WB_REPORT_NONE);

  /* Translators: a person; a day; code of an experiment. */
  return g_strdup_printf (_("Approved by %s on %s, after experiment %s"), who, day, code != NULL ? code : WB_REPORT_NONE);
}

char *
wb_report_recipe_dup_planned (const WbBatchStep     *step,
                              const WbReportOptions *options)
{
  g_autofree char *degrees = isnan (step->to_c) ? NULL : wb_report_dup_set (options->us_units, WB_UNIT_CELSIUS, step->to_c);
  g_autofree char *minutes = step->minutes > 0 ? wb_quantity_format (WB_UNIT_MINUTE, step->minutes * 60, step->minutes == floor (step->minutes) ? 0 : 1) : NULL;

  if (degrees != NULL && minutes != NULL)
    return g_strdup_printf ("%s · %s", degrees, minutes);
  return degrees != NULL ? g_steal_pointer (&degrees) : g_steal_pointer (&minutes);
}

char *
wb_report_recipe_dup_days (double days)
{
  g_autofree char *number = wb_number_format_trimmed (days, 1, NULL);

  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s day", "%s days", days == 1 ? 1 : 2), number);
}

char *
wb_report_recipe_dup_uncovered (const WbReportRecipe *recipe,
                                gint64                material)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; recipe->changes != NULL && i < recipe->changes->len; i++)
    {
      const WbCraftTouched *change = g_ptr_array_index (recipe->changes, i);

      if (wb_craft_touched_is_uncovered (change) && (material == 0 || change->part == material))
        g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", change->lot);
    }
  return text->len > 0 ? g_string_free (g_steal_pointer (&text), FALSE) : NULL;
}

void
wb_report_recipe_add_state (WbReportDocument     *document,
                            const WbReportRecipe *recipe)
{
  g_autofree char *state = NULL, *text = NULL;

  state = wb_report_dup_clipped (recipe->state, STATE_MOST);
  if (recipe->standing == WB_CRAFT_STANDING_IN_PART)
    {
      wb_report_document_add_warning (document, state);
      return;
    }
  if (recipe->standing == WB_CRAFT_STANDING_STANDS)
    {
      wb_report_document_add_paragraph (document, WB_REPORT_TEXT_STRONG, state);
      return;
    }
  /* Translators: sentences: what reopened the decision. */
  text = g_strdup_printf (_("%s Sell or give away no candle that is poured by this paper."), state);
  wb_report_document_add_warning (document, text);
}

/* ---- What was crossed ---- */

/* Kept in the language of its signature, which need not be the reader's. */
static gboolean
tells_crack (const char *sentence)
{
  static const char *const words[] = { "vessel cracked", N_("vessel cracked"), N_("the vessel cracked in burn %d of sample %s") };
  g_autofree char *folded = g_utf8_casefold (sentence, -1);

  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    {
      const char *word = i == 0 ? words[i] : _(words[i]);
      g_autofree char *stem = g_utf8_casefold (word, (gssize) strcspn (word, "%"));

      if (*stem != '\0' && strstr (folded, stem) != NULL)
        return TRUE;
    }
  return FALSE;
}

static void
warn_of (WbReportDocument *document,
         const char       *sentences)
{
  /* Translators: sentences: each limit that was crossed, with what was read and in which sample. */
  g_autofree char *text = g_strdup_printf (_("Limits crossed: %s"), sentences);

  wb_report_document_add_warning (document, text);
}

void
wb_report_recipe_add_crossed (WbReportDocument     *document,
                              const WbReportRecipe *recipe,
                              int                   most)
{
  const char *crossed = recipe->decision->crossed;
  g_auto (GStrv) sentences = crossed != NULL ? g_strsplit (crossed, "\n", -1) : NULL;
  g_autoptr (GString) box = g_string_new (NULL);

  for (guint other = 0; sentences != NULL && other < 2; other++)
    for (char **at = sentences; *at != NULL; at++)
      {
        g_autofree char *sentence = wb_report_dup_clipped (*at, most);

        if (**at == '\0' || tells_crack (*at) == (gboolean) other)
          continue;
        /* a box is never broken over pages: many fill several */
        if (box->len > 0 && box->len + strlen (sentence) > STATE_MOST)
          {
            warn_of (document, box->str);
            g_string_truncate (box, 0);
          }
        g_string_append_printf (box, "%s%s", box->len > 0 ? " " : "", sentence);
      }
  if (box->len > 0)
    warn_of (document, box->str);
}
