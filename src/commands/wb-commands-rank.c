/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-commands-private.h"
#include "wb-commands-table-private.h"

#include "wb-app-answers.h"
#include "wb-craft-told.h"
#include "wb-exchange-json-rank.h"

#include <math.h>

/* Below it the column adds up to 1 as well as rounded figures do. */
#define NONE_TOLD 0.01

static gboolean as_json;
static char *within, *seed_text;

static const GOptionEntry options[] = {
  { "within", 0, 0, G_OPTION_ARG_STRING, &within, "What is compared: scent (wicks of one vessel and scent, the usual), vessel, all", "W" },
  { "seed", 0, 0, G_OPTION_ARG_STRING, &seed_text, "Seed of the draws; the experiment's own unless told otherwise", "N" },
  { "json", 0, 0, G_OPTION_ARG_NONE, &as_json, "Print JSON", NULL },
  G_OPTION_ENTRY_NULL
};

static void
print_columns (WbCommandsTable *table)
{
  wb_commands_table_add_column (table, "Rank", WB_COMMANDS_RIGHT);
  wb_commands_table_add_column (table, "Combination", WB_COMMANDS_LEFT);
  wb_commands_table_add_column (table, "Score", WB_COMMANDS_LEFT);
  wb_commands_table_add_column (table, "P best", WB_COMMANDS_RIGHT);
  wb_commands_table_add_column (table, "P near", WB_COMMANDS_RIGHT);
  wb_commands_table_add_column (table, "P cross", WB_COMMANDS_RIGHT);
  wb_commands_table_add_column (table, "Samples", WB_COMMANDS_RIGHT);
  wb_commands_table_add_column (table, "Burns", WB_COMMANDS_RIGHT);
  wb_commands_table_add_column (table, "Verdict", WB_COMMANDS_LEFT);
}

/* In a group of one vessel and scent the wick says all. */
static char *
dup_name (const WbDataset    *data,
          const WbCraftGroup *group,
          guint               cell)
{
  return group->by_vessel && group->by_scent ? wb_dataset_dup_wick_name (data, cell) : wb_dataset_dup_cell_name (data, cell);
}

static char *
dup_crossing (const WbCraftRanked *ranked)
{
  g_autofree char *chance = wb_commands_dup_chance (ranked->p_cross);
  char *told = wb_craft_ranked_dup_crossing (ranked, isnan (ranked->p_cross) ? NULL : chance);

  return told != NULL ? told : g_steal_pointer (&chance);
}

static void
add_ranked (WbCommandsTable     *table,
            const WbDataset     *data,
            const WbCraftGroup  *group,
            const WbCraftRanked *ranked)
{
  wb_commands_table_take (table, g_strdup_printf ("%u", ranked->rank));
  wb_commands_table_take (table, dup_name (data, group, ranked->cell));
  wb_commands_table_take (table, wb_commands_dup_interval (ranked->score.value, ranked->score.low, ranked->score.high, 2));
  wb_commands_table_take (table, wb_commands_dup_chance (ranked->p_best));
  wb_commands_table_take (table, wb_commands_dup_chance (ranked->p_near));
  wb_commands_table_take (table, dup_crossing (ranked));
  wb_commands_table_take (table, g_strdup_printf ("%u", ranked->samples));
  wb_commands_table_take (table, g_strdup_printf ("%u", ranked->burns));
  wb_commands_table_add (table, wb_craft_ranked_get_verdict_label (ranked));
}

static void
print_sentences (GPtrArray *sentences,
                 GPtrArray *but)
{
  for (guint i = 0; i < sentences->len; i++)
    if (but == NULL || !g_ptr_array_find_with_equal_func (but, g_ptr_array_index (sentences, i), g_str_equal, NULL))
      wb_commands_print ("  - %s\n", (const char *) g_ptr_array_index (sentences, i));
}

/* Why each stands where it does; what all of them say, once. */
static void
print_reasons (const WbDataset    *data,
               const WbCraftGroup *group)
{
  g_autoptr (GPtrArray) common = wb_craft_group_dup_common_sentences (group);

  for (guint i = 0; i < group->n_cells; i++)
    {
      const WbCraftRanked *ranked = &group->cells[i];
      g_autoptr (GPtrArray) sentences = wb_craft_ranked_dup_sentences (ranked);
      g_autofree char *name = NULL;

      if (sentences->len <= common->len)
        continue; /* nothing of its own */
      name = dup_name (data, group, ranked->cell);
      wb_commands_print ("\n%s, %s, because:\n", name, wb_craft_ranked_get_verdict_label (ranked));
      print_sentences (sentences, common);
    }
  if (common->len == 0)
    return;
  wb_commands_write ("\nAll of them:\n");
  print_sentences (common, NULL);
}

/* How far the weights may move: the answer is only as good as what the maker asks for. */
static void
print_weights (const WbDataset    *data,
               const WbCraftGroup *group)
{
  g_autoptr (GPtrArray) sentences = wb_craft_group_dup_weights (data, group);

  if (sentences->len == 0)
    return;
  wb_commands_write ("\nIf the weights were others:\n");
  print_sentences (sentences, NULL);
}

/* The chances of being best add up to less than 1 where draws were won by nobody. */
static void
print_none (const WbCraftGroup *group)
{
  g_autofree char *none = wb_commands_dup_chance (group->p_none);

  if (group->p_none > NONE_TOLD)
    wb_commands_print ("P best leaves out %s: the chance that none of them scores above 0.\n", none);
}

static void
print_group (const WbDataset    *data,
             const WbCraftGroup *group)
{
  g_autoptr (WbCommandsTable) table = wb_commands_table_new ();
  g_autofree char *title = wb_craft_group_dup_title (data, group);
  g_autofree char *answer = wb_craft_group_dup_answer (data, group);
  g_autofree char *sureness = wb_craft_group_dup_sureness (data, group);

  wb_commands_print ("%s\n%s\n%s%s\n", title, answer, sureness, *sureness != '\0' ? "\n" : "");
  print_columns (table);
  for (guint i = 0; i < group->n_cells; i++)
    add_ranked (table, data, group, &group->cells[i]);
  wb_commands_table_print (table);
  print_none (group);
  print_reasons (data, group);
  print_weights (data, group);
}

static void
print_meanings (const WbCraftRanking *ranking)
{
  g_autoptr (GPtrArray) meanings = wb_craft_ranking_dup_meanings (ranking);

  if (meanings->len == 0)
    return;
  wb_commands_write ("\nWhat the verdicts mean:\n");
  print_sentences (meanings, NULL);
}

static void
print_text (WbAppNotebook       *notebook,
            const WbCraftAnswer *answer)
{
  const WbCraftRanking *ranking = answer->ranking;

  wb_commands_print_mark (notebook);
  wb_commands_print ("%s, %s: seed %" G_GUINT64_FORMAT ", scores with their 90 %% interval\n", answer->data->experiment->code,
                     answer->data->experiment->title, ranking->seed);
  for (guint i = 0; i < ranking->n_groups; i++)
    {
      wb_commands_write ("\n");
      print_group (answer->data, &ranking->groups[i]);
    }
  print_meanings (ranking);
  wb_commands_print_learnt (answer->estimates->earlier);
}

static int
run (char **arguments)
{
  int status = WB_COMMANDS_DONE, grouping = WB_CRAFT_WITHIN_SCENT;
  g_autoptr (WbAppNotebook) notebook = NULL;
  g_autoptr (WbCraftAnswer) answer = NULL;
  gint64 id, seed = 0;
  GError *error = NULL;

  if (within != NULL && (grouping = wb_craft_within_from_key (within)) < 0)
    {
      wb_commands_complain (NULL, "no grouping “%s”; known are: scent, vessel, all", within);
      return WB_COMMANDS_USAGE;
    }
  if (!wb_commands_read_whole (seed_text, 1, G_MAXINT64, &seed))
    {
      wb_commands_complain ("rank", "--seed takes a whole number from 1");
      return WB_COMMANDS_USAGE;
    }
  notebook = wb_commands_open (arguments[0], &status);
  if (notebook == NULL || (id = wb_commands_find (notebook, arguments[1], &status)) == 0)
    return status;
  answer = wb_app_answers_compute_sync (notebook, id, grouping, (guint64) seed, NULL, &error);
  if (answer == NULL)
    return wb_commands_fail (arguments[0], error);
  if (as_json)
    {
      g_autofree char *text = wb_exchange_json_rank (answer);

      wb_commands_write (text);
    }
  else
    print_text (notebook, answer);
  return WB_COMMANDS_DONE;
}

const WbCommandsVerb wb_commands_rank = {
  .name = "rank",
  .arguments = "NOTEBOOK EXPERIMENT",
  .summary = "Rank an experiment's combinations, with how sure that is",
  .description = "EXPERIMENT is its code or title. Recommended is only what has burnt to the protocol's\n"
                 "end in enough samples with every measurable limit read; before that the best is a\n"
                 "candidate; one that does poorly itself is the best of a poor field. The same notebook and seed give the same ranking.",
  .options = options,
  .n_arguments = 2,
  .run = run,
};
