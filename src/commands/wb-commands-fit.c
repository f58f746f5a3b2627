/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-commands-private.h"
#include "wb-commands-table-private.h"

#include "wb-app-fit.h"
#include "wb-craft-growth-words.h"
#include "wb-craft-same-ratings.h"
#include "wb-exchange-json-fit.h"

static gboolean as_json;
static char *stage_key;

static const GOptionEntry options[] = {
  { "stage", 0, 0, G_OPTION_ARG_STRING, &stage_key, "Only burns of this stage: upper, middle, lower; all is the usual", "S" },
  { "json", 0, 0, G_OPTION_ARG_NONE, &as_json, "Print JSON", NULL },
  G_OPTION_ENTRY_NULL
};

static const struct { WbFigure figure; const char *title; int decimals; } shown[] = {
  { WB_FIGURE_DEPTH, "Depth mm", 1 },
  { WB_FIGURE_FLAME, "Flame mm", 1 },
  { WB_FIGURE_VESSEL, "Vessel C", 1 },
  { WB_FIGURE_CONSUMPTION, "g/h", 2 },
};

/* -1: none of that key. */
static int
find_stage (const char *key)
{
  for (int stage = 0; stage <= WB_STAGE_ALL; stage++)
    if (strcmp (wb_stage_get_key (stage), key) == 0)
      return stage;
  return -1;
}

static void
add_interval (WbCommandsTable *table,
              WbCraftInterval  interval,
              int              decimals)
{
  wb_commands_table_take (table, wb_commands_dup_interval (interval.value, interval.low, interval.high, decimals));
}

static void
add_cell (WbCommandsTable   *table,
          const WbDataset   *data,
          const WbCraftCell *cell)
{
  wb_commands_table_take (table, wb_dataset_dup_cell_name (data, cell->cell));
  wb_commands_table_add (table, wb_craft_fit_status_get_key (cell->growth.status));
  wb_commands_table_take (table, g_strdup_printf ("%u", cell->samples));
  wb_commands_table_take (table, g_strdup_printf ("%u", cell->burns));
  add_interval (table, cell->growth.pool_limit_mm, 1);
  add_interval (table, cell->growth.tau_h, 2);
  add_interval (table, cell->growth.full_pool_h, 2);
  wb_commands_table_take (table, wb_commands_dup_chance (cell->growth.p_in_window));
  wb_commands_table_take (table, wb_commands_dup_chance (cell->growth.p_never));
  for (guint i = 0; i < G_N_ELEMENTS (shown); i++)
    add_interval (table, cell->figure[shown[i].figure].told, shown[i].decimals);
}

/* What stands behind a status that is not "ok". */
static void
print_notes (const WbAppFit *fit)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) growths = g_ptr_array_new ();
  g_autoptr (GPtrArray) notes = NULL;

  for (guint i = 0; i < fit->estimates->n_cells; i++)
    {
      g_ptr_array_add (names, wb_dataset_dup_cell_name (fit->data, fit->estimates->cells[i].cell));
      g_ptr_array_add (growths, &fit->estimates->cells[i].growth);
    }
  notes = wb_craft_growth_dup_notes (names->len, (const char *const *) names->pdata, (const WbCraftGrowth *const *) growths->pdata);
  for (guint i = 0; i < notes->len; i++)
    wb_commands_print ("%s- %s\n", i == 0 ? "\nMelt pools that are not plain fits:\n" : "", (const char *) g_ptr_array_index (notes, i));
}

/* Ratings that were all the same: a bound instead of an estimate. */
static void
print_same_ratings (const WbAppFit *fit,
             WbStage         stage)
{
  g_autoptr (GArray) all = wb_craft_same_ratings_new (fit->estimates, stage);

  for (guint i = 0; i < all->len; i++)
    {
      g_autofree char *text = wb_craft_same_ratings_dup_text (&g_array_index (all, WbCraftSameRatings, i));

      wb_commands_print ("%s- %s\n", i == 0 ? "\nRatings that were all the same:\n" : "", text);
    }
}

static void
print_text (WbAppNotebook  *notebook,
            const WbAppFit *fit,
            WbStage         stage)
{
  g_autoptr (WbCommandsTable) table = wb_commands_table_new ();

  wb_commands_table_add_column (table, "Combination", WB_COMMANDS_LEFT);
  wb_commands_table_add_column (table, "Status", WB_COMMANDS_LEFT);
  wb_commands_table_add_column (table, "Samples", WB_COMMANDS_RIGHT);
  wb_commands_table_add_column (table, "Burns", WB_COMMANDS_RIGHT);
  wb_commands_table_add_column (table, "Pool limit mm", WB_COMMANDS_LEFT);
  wb_commands_table_add_column (table, "Tau h", WB_COMMANDS_LEFT);
  wb_commands_table_add_column (table, "Full pool h", WB_COMMANDS_LEFT);
  wb_commands_table_add_column (table, "P in window", WB_COMMANDS_RIGHT);
  wb_commands_table_add_column (table, "P never", WB_COMMANDS_RIGHT);
  for (guint i = 0; i < G_N_ELEMENTS (shown); i++)
    wb_commands_table_add_column (table, shown[i].title, WB_COMMANDS_LEFT);
  for (guint i = 0; i < fit->estimates->n_cells; i++)
    add_cell (table, fit->data, &fit->estimates->cells[i]);
  wb_commands_print_mark (notebook);
  wb_commands_print ("%s, %s: means with their 90 %% interval\n\n", fit->data->experiment->code, fit->data->experiment->title);
  wb_commands_table_print (table);
  wb_commands_print_learnt (fit->estimates->earlier);
  print_notes (fit);
  print_same_ratings (fit, stage);
}

static int
run (char **arguments)
{
  int status = WB_COMMANDS_DONE, stage = stage_key != NULL ? find_stage (stage_key) : WB_STAGE_ALL;
  g_autoptr (WbAppNotebook) notebook = NULL;
  g_autoptr (WbAppFit) fit = NULL;
  gint64 id;
  GError *error = NULL;

  if (stage < 0)
    {
      wb_commands_complain (NULL, "no stage “%s”; known are: upper, middle, lower, all", stage_key);
      return WB_COMMANDS_USAGE;
    }
  notebook = wb_commands_open (arguments[0], &status);
  if (notebook == NULL || (id = wb_commands_find (notebook, arguments[1], &status)) == 0)
    return status;
  fit = wb_app_fit_sync (notebook, id, stage, NULL, &error);
  if (fit == NULL)
    return wb_commands_fail (arguments[0], error);
  if (as_json)
    {
      g_autofree char *text = wb_exchange_json_fit (fit->data, fit->estimates, stage);

      wb_commands_write (text);
    }
  else
    print_text (notebook, fit, (WbStage) stage);
  return WB_COMMANDS_DONE;
}

const WbCommandsVerb wb_commands_fit = {
  .name = "fit",
  .arguments = "NOTEBOOK EXPERIMENT",
  .summary = "Growth and burn figures of each combination",
  .description = "EXPERIMENT is its code or title. Pool growth is D(t) = limit (1 - exp(-t/tau)), a pool at\n"
                 "the wall counts as at least that wide. The other figures are means over the burns, at\n"
                 "the end of the protocol's burn.",
  .options = options,
  .n_arguments = 2,
  .run = run,
};
