/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-commands-private.h"
#include "wb-commands-table-private.h"

#include "wb-app-fit.h"
#include "wb-exchange-json-fit.h"

#include <math.h>

static gboolean as_json;
static char *figure_key, *margin_text;

static const GOptionEntry options[] = {
  { "figure", 0, 0, G_OPTION_ARG_STRING, &figure_key, "What is compared, by its key in the JSON of fit, or soot, mushroom, hang_up_mm, throw, score", "F" },
  { "margin", 0, 0, G_OPTION_ARG_STRING, &margin_text, "How far apart two may be and still count as alike, in the figure's stored unit", "M" },
  { "json", 0, 0, G_OPTION_ARG_NONE, &as_json, "Print JSON", NULL },
  G_OPTION_ENTRY_NULL
};

static void
print_terms (const WbCraftEffects *effects)
{
  g_autoptr (WbCommandsTable) table = wb_commands_table_new ();

  wb_commands_table_add_column (table, "Term", WB_COMMANDS_LEFT);
  wb_commands_table_add_column (table, "df", WB_COMMANDS_RIGHT);
  wb_commands_table_add_column (table, "Sum of squares", WB_COMMANDS_RIGHT);
  wb_commands_table_add_column (table, "F", WB_COMMANDS_RIGHT);
  wb_commands_table_add_column (table, "p", WB_COMMANDS_RIGHT);
  for (guint i = 0; i < effects->terms->len; i++)
    {
      const WbCraftTerm *term = g_ptr_array_index (effects->terms, i);

      wb_commands_table_add (table, term->term);
      wb_commands_table_take (table, wb_commands_dup_number (term->df, 2));
      wb_commands_table_take (table, wb_commands_dup_number (term->sum_sq, 4));
      wb_commands_table_take (table, isinf (term->f) ? g_strdup ("infinite") : wb_commands_dup_number (term->f, 2));
      wb_commands_table_take (table, wb_commands_dup_p (term->p));
    }
  wb_commands_table_print (table);
}

static const char *
alike_word (WbCraftAlike alike)
{
  return alike == WB_CRAFT_ALIKE_YES ? "yes" : alike == WB_CRAFT_ALIKE_NO ? "not shown" : "-";
}

static void
print_comparisons (const WbCraftEffects *effects)
{
  g_autoptr (WbCommandsTable) table = wb_commands_table_new ();

  if (effects->comparisons->len == 0)
    return;
  wb_commands_table_add_column (table, "Compared", WB_COMMANDS_LEFT);
  wb_commands_table_add_column (table, "Against", WB_COMMANDS_LEFT);
  wb_commands_table_add_column (table, "Difference", WB_COMMANDS_LEFT);
  wb_commands_table_add_column (table, "p", WB_COMMANDS_RIGHT);
  wb_commands_table_add_column (table, "Samples", WB_COMMANDS_RIGHT);
  if (!isnan (effects->margin))
    {
      wb_commands_table_add_column (table, "By itself", WB_COMMANDS_LEFT);
      wb_commands_table_add_column (table, "Alike", WB_COMMANDS_LEFT);
    }
  for (guint i = 0; i < effects->comparisons->len; i++)
    {
      const WbCraftComparison *comparison = g_ptr_array_index (effects->comparisons, i);
      const WbCraftInterval *difference = &comparison->difference;

      wb_commands_table_add (table, comparison->a);
      wb_commands_table_add (table, comparison->b);
      wb_commands_table_take (table, wb_commands_dup_interval (difference->value, difference->low, difference->high, 3));
      wb_commands_table_take (table, wb_commands_dup_p (comparison->p));
      wb_commands_table_take (table, g_strdup_printf ("%u", comparison->samples));
      if (isnan (effects->margin))
        continue;
      wb_commands_table_take (table, wb_commands_dup_interval (comparison->alone.value, comparison->alone.low, comparison->alone.high, 3));
      wb_commands_table_add (table, alike_word (comparison->alike));
    }
  wb_commands_write ("\n");
  wb_commands_table_print (table);
}

/* The numbers of an interaction plot: a row a pair of levels. */
static void
print_interaction (const WbCraftInteraction *interaction)
{
  g_autoptr (WbCommandsTable) table = wb_commands_table_new ();

  wb_commands_table_add_column (table, interaction->first, WB_COMMANDS_LEFT);
  wb_commands_table_add_column (table, interaction->second, WB_COMMANDS_LEFT);
  wb_commands_table_add_column (table, "Mean", WB_COMMANDS_RIGHT);
  wb_commands_table_add_column (table, "Samples", WB_COMMANDS_RIGHT);
  for (guint i = 0; i < interaction->means->len; i++)
    {
      const WbCraftInteractionMean *mean = g_ptr_array_index (interaction->means, i);

      wb_commands_table_add (table, mean->first);
      wb_commands_table_add (table, mean->second);
      wb_commands_table_take (table, wb_commands_dup_number (mean->mean, 3));
      wb_commands_table_take (table, g_strdup_printf ("%u", mean->samples));
    }
  wb_commands_write ("\n");
  wb_commands_table_print (table);
}

/* How it was worked out, and how many samples it would take. */
static void
print_method (const WbCraftEffects *effects)
{
  g_autofree char *method = wb_craft_effects_dup_method (effects);
  g_autofree char *margin = isnan (effects->margin) ? NULL : wb_commands_dup_number (effects->margin, 3);

  wb_commands_print ("\n%s\n", method);
  if (margin != NULL)
    wb_commands_print ("Alike: the 90 %% interval of the pair by itself lies within %s either way (two one-sided tests at 5 %%).\n", margin);
  if (effects->needed.text != NULL)
    wb_commands_print ("%s\n", effects->needed.text);
}

static void
print_text (WbAppNotebook        *notebook,
            const WbDataset      *data,
            const WbCraftEffects *effects)
{
  const char *unit = wb_unit_get_symbol (wb_figure_get_unit (effects->figure));

  wb_commands_print_mark (notebook);
  wb_commands_print ("%s, %s: %s%s%s over %u samples\n", data->experiment->code, data->experiment->title,
                     wb_figure_get_label (effects->figure), *unit != '\0' ? ", " : "", unit, effects->n);
  if (effects->finding != NULL)
    wb_commands_print ("%s\n", effects->finding);
  if (effects->refusal != NULL)
    wb_commands_print ("%s\n", effects->refusal);
  if (isfinite (effects->rank_h))
    {
      g_autofree char *h = wb_commands_dup_number (effects->rank_h, 2), *p = wb_commands_dup_p (effects->rank_p);

      wb_commands_print ("Kruskal and Wallis by rank over the wicks: H %s, p %s\n", h, p);
    }
  if (effects->terms == NULL || effects->terms->len == 0)
    return;
  wb_commands_write ("\n");
  print_terms (effects);
  print_comparisons (effects);
  for (guint i = 0; i < effects->interactions->len; i++)
    print_interaction (g_ptr_array_index (effects->interactions, i));
  print_method (effects);
}

static int
run (char **arguments)
{
  int status = WB_COMMANDS_DONE, figure;
  g_autoptr (WbAppNotebook) notebook = NULL;
  g_autoptr (WbAppFit) fit = NULL;
  g_autoptr (WbCraftEffects) effects = NULL;
  gint64 id;
  double margin = NAN;
  GError *error = NULL;

  if (figure_key == NULL)
    {
      wb_commands_complain ("effects", "--figure F is missing; see wickbench effects --help");
      return WB_COMMANDS_USAGE;
    }
  if ((figure = wb_commands_find_figure (figure_key, &status)) < 0)
    return status;
  if (margin_text != NULL && (!wb_number_parse (margin_text, &margin, NULL) || !(margin > 0)))
    {
      wb_commands_complain ("effects", "--margin takes a number above 0");
      return WB_COMMANDS_USAGE;
    }
  notebook = wb_commands_open (arguments[0], &status);
  if (notebook == NULL || (id = wb_commands_find (notebook, arguments[1], &status)) == 0)
    return status;
  fit = wb_app_fit_sync (notebook, id, WB_STAGE_ALL, NULL, &error);
  if (fit == NULL)
    return wb_commands_fail (arguments[0], error);
  effects = wb_app_fit_dup_effects (fit, figure);
  wb_craft_effects_set_margin (effects, margin);
  if (as_json)
    {
      g_autofree char *text = wb_exchange_json_effects (fit->data, effects);

      wb_commands_write (text);
    }
  else
    print_text (notebook, fit->data, effects);
  return WB_COMMANDS_DONE;
}

const WbCommandsVerb wb_commands_effects = {
  .name = "effects",
  .arguments = "NOTEBOOK EXPERIMENT --figure F",
  .summary = "What vessel, wick and scent do to one figure",
  .description = "Analysis of variance with the terms that the grid can carry; the unit is the sample.\n"
                 "Wicks are compared like with like: in the vessels and scents that both were burnt in, by\n"
                 "Tukey and Kramer's method. With a margin it says which pairs are alike within it. What one step\n"
                 "up adds and how many samples would tell two wicks apart are told in a sentence each.",
  .options = options,
  .n_arguments = 2,
  .run = run,
};
