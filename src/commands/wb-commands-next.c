/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-commands-private.h"
#include "wb-commands-table-private.h"

#include "wb-app-advice.h"
#include "wb-app-answers.h"
#include "wb-exchange-json-next.h"

#include <string.h>

static gboolean as_json;

static const GOptionEntry options[] = {
  { "json", 0, 0, G_OPTION_ARG_NONE, &as_json, "Print JSON", NULL },
  G_OPTION_ENTRY_NULL
};

static void
print_columns (WbCommandsTable *table)
{
  wb_commands_table_add_column (table, "Wick", WB_COMMANDS_LEFT);
  wb_commands_table_add_column (table, "Standing", WB_COMMANDS_LEFT);
  wb_commands_table_add_column (table, "Next burns", WB_COMMANDS_LEFT);
  wb_commands_table_add_column (table, "Light now", WB_COMMANDS_RIGHT);
  wb_commands_table_add_column (table, "Burn on", WB_COMMANDS_RIGHT);
  wb_commands_table_add_column (table, "Pour", WB_COMMANDS_RIGHT);
  wb_commands_table_add_column (table, "Size", WB_COMMANDS_LEFT);
}

static void
add_advised (WbCommandsTable      *table,
             const WbDataset      *data,
             const WbCraftAdvised *advised)
{
  wb_commands_table_take (table, wb_dataset_dup_wick_name (data, advised->cell));
  wb_commands_table_take (table, wb_craft_advised_dup_row_words (advised));
  wb_commands_table_take (table, wb_craft_advised_dup_share_words (advised));
  wb_commands_table_take (table, g_strdup_printf ("%u", advised->burn_on > 0 ? advised->candles.ready : 0));
  wb_commands_table_take (table, g_strdup_printf ("%u", advised->burn_on));
  wb_commands_table_take (table, g_strdup_printf ("%u", advised->pour));
  wb_commands_table_take (table, wb_craft_advised_dup_size_words (advised));
}

static gboolean
is_told (const WbCraftAdvised *advised,
         const WbCraftSign    *sign)
{
  gboolean told = (advised->why != NULL && strstr (advised->why, sign->text) != NULL)
                  || (advised->why_share != NULL && strstr (advised->why_share, sign->text) != NULL);

  for (guint i = 0; i < advised->reasons->len; i++)
    told = told || strstr (g_ptr_array_index (advised->reasons, i), sign->text) != NULL;
  return told;
}

/* What no sentence has told already. */
static void
print_signs (const WbCraftAdvised *advised)
{
  for (guint i = 0; i < advised->signs->len; i++)
    {
      const WbCraftSign *sign = g_ptr_array_index (advised->signs, i);

      if (!is_told (advised, sign))
        wb_commands_print (sign->speaks ? "  - %s\n" : "  - seen, but no reason yet: %s\n", sign->text);
    }
}

static void
print_why (const WbDataset      *data,
           const WbCraftAdvised *advised)
{
  g_autofree char *name = NULL;

  if (advised->why == NULL && advised->why_share == NULL && advised->reasons->len == 0 && advised->signs->len == 0)
    return;
  name = wb_dataset_dup_wick_name (data, advised->cell);
  wb_commands_print ("\n%s:\n", name);
  if (advised->why != NULL)
    wb_commands_print ("  - %s\n", advised->why);
  if (advised->why_share != NULL)
    wb_commands_print ("  - %s\n", advised->why_share);
  for (guint i = 0; i < advised->reasons->len; i++)
    wb_commands_print ("  - %s\n", (const char *) g_ptr_array_index (advised->reasons, i));
  print_signs (advised);
}

static void
print_group (const WbCraftAnswer      *answer,
             const WbCraftAdviceGroup *group)
{
  g_autoptr (WbCommandsTable) table = wb_commands_table_new ();
  g_autofree char *title = wb_craft_group_dup_title (answer->data, &answer->ranking->groups[group->group]);

  wb_commands_print ("%s\n%s\n", title, group->answer);
  if (group->pools != NULL)
    wb_commands_print ("%s\n", group->pools);
  /* the figures of what is over stand in rank */
  if (group->finished)
    return;
  print_columns (table);
  for (guint i = 0; i < group->n_cells; i++)
    add_advised (table, answer->data, &group->cells[i]);
  wb_commands_table_print (table);
  if (group->leader != G_MAXUINT && group->missing->len > 0)
    {
      g_autofree char *name = wb_dataset_dup_wick_name (answer->data, group->cells[group->leader].cell);

      wb_commands_print ("\nBefore %s can be recommended:\n", name);
      for (guint i = 0; i < group->missing->len; i++)
        wb_commands_print ("  - %s\n", (const char *) g_ptr_array_index (group->missing, i));
    }
  for (guint i = 0; i < group->n_cells; i++)
    print_why (answer->data, &group->cells[i]);
}

static void
print_text (WbAppNotebook       *notebook,
            const WbCraftAnswer *answer,
            const WbCraftAdvice *advice)
{
  wb_commands_print_mark (notebook);
  wb_commands_print ("%s, %s: what to burn next\n", answer->data->experiment->code, answer->data->experiment->title);
  for (guint i = 0; i < advice->n_groups; i++)
    {
      wb_commands_write ("\n");
      print_group (answer, &advice->groups[i]);
    }
}

static int
run (char **arguments)
{
  int status = WB_COMMANDS_DONE;
  g_autoptr (WbAppNotebook) notebook = NULL;
  g_autoptr (WbCraftAnswer) answer = NULL;
  g_autoptr (WbCraftAdvice) advice = NULL;
  GError *error = NULL;
  gint64 id;

  notebook = wb_commands_open (arguments[0], &status);
  if (notebook == NULL || (id = wb_commands_find (notebook, arguments[1], &status)) == 0)
    return status;
  answer = wb_app_answers_compute_sync (notebook, id, WB_CRAFT_WITHIN_SCENT, 0, NULL, &error);
  if (answer != NULL)
    advice = wb_app_advice_sync (notebook, answer, &error);
  if (advice == NULL)
    return wb_commands_fail (arguments[0], error);
  if (as_json)
    {
      g_autofree char *text = wb_exchange_json_next (answer, advice);

      wb_commands_write (text);
    }
  else
    print_text (notebook, answer, advice);
  return WB_COMMANDS_DONE;
}

const WbCommandsVerb wb_commands_next = {
  .name = "next",
  .arguments = "NOTEBOOK EXPERIMENT",
  .summary = "Say what to burn next, what cannot win any more, and which size",
  .description = "EXPERIMENT is its code or title. Of each vessel and scent: which wicks the next burns should\n"
                 "go to, which rest and which cannot win, when the search may stop and what a recommendation\n"
                 "still asks for, and of each wick whether to carry on, take one size up or down, or another\n"
                 "series, with the readings that say so. Stopping the search never ends the burn-down.",
  .options = options,
  .n_arguments = 2,
  .run = run,
};
