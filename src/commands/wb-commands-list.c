/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-commands-private.h"
#include "wb-commands-table-private.h"

#include "wb-app-query.h"
#include "wb-exchange-json-list.h"

static gboolean as_json;

static const GOptionEntry options[] = {
  { "json", 0, 0, G_OPTION_ARG_NONE, &as_json, "Print JSON", NULL },
  G_OPTION_ENTRY_NULL
};

static void
print_json (WbAppNotebook *notebook,
            GPtrArray     *experiments)
{
  g_autofree WbExchangeListItem *items = g_new0 (WbExchangeListItem, experiments->len);
  g_autofree char *text = NULL;

  for (guint i = 0; i < experiments->len; i++)
    {
      WbAppExperiment *experiment = g_ptr_array_index (experiments, i);

      items[i] = (WbExchangeListItem) {
        .code = wb_app_experiment_get_code (experiment),
        .title = wb_app_experiment_get_title (experiment),
        .state = wb_craft_state_get_key (wb_app_experiment_get_state (experiment)),
        .cells = wb_app_experiment_get_cells (experiment),
        .samples = wb_app_experiment_get_samples (experiment),
        .burns = wb_app_experiment_get_burns (experiment),
        .readings = wb_app_experiment_get_readings (experiment),
      };
    }
  text = wb_exchange_json_list (wb_app_notebook_get_settings (notebook), items, experiments->len);
  wb_commands_write (text);
}

static void
print_table (WbAppNotebook *notebook,
             GPtrArray     *experiments)
{
  g_autoptr (WbCommandsTable) table = wb_commands_table_new ();

  wb_commands_table_add_column (table, "Code", WB_COMMANDS_LEFT);
  wb_commands_table_add_column (table, "Title", WB_COMMANDS_LEFT);
  wb_commands_table_add_column (table, "State", WB_COMMANDS_LEFT);
  wb_commands_table_add_column (table, "Cells", WB_COMMANDS_RIGHT);
  wb_commands_table_add_column (table, "Samples", WB_COMMANDS_RIGHT);
  wb_commands_table_add_column (table, "Burns", WB_COMMANDS_RIGHT);
  wb_commands_table_add_column (table, "Readings", WB_COMMANDS_RIGHT);
  for (guint i = 0; i < experiments->len; i++)
    {
      WbAppExperiment *experiment = g_ptr_array_index (experiments, i);

      wb_commands_table_add (table, wb_app_experiment_get_code (experiment));
      wb_commands_table_add (table, wb_app_experiment_get_title (experiment));
      wb_commands_table_add (table, wb_craft_state_get_key (wb_app_experiment_get_state (experiment)));
      wb_commands_table_take (table, g_strdup_printf ("%u", wb_app_experiment_get_cells (experiment)));
      wb_commands_table_take (table, g_strdup_printf ("%u", wb_app_experiment_get_samples (experiment)));
      wb_commands_table_take (table, g_strdup_printf ("%u", wb_app_experiment_get_burns (experiment)));
      wb_commands_table_take (table, g_strdup_printf ("%u", wb_app_experiment_get_readings (experiment)));
    }
  wb_commands_print_mark (notebook);
  if (experiments->len == 0)
    wb_commands_write ("The notebook holds no experiments.\n");
  else
    wb_commands_table_print (table);
}

static int
run (char **arguments)
{
  int status = WB_COMMANDS_DONE;
  g_autoptr (WbAppNotebook) notebook = wb_commands_open (arguments[0], &status);
  g_autoptr (GPtrArray) experiments = NULL;
  GError *error = NULL;

  if (notebook == NULL)
    return status;
  experiments = wb_app_query_experiments_sync (notebook, &error);
  if (experiments == NULL)
    return wb_commands_fail (arguments[0], error);
  if (as_json)
    print_json (notebook, experiments);
  else
    print_table (notebook, experiments);
  return WB_COMMANDS_DONE;
}

const WbCommandsVerb wb_commands_list = {
  .name = "list",
  .arguments = "NOTEBOOK",
  .summary = "List the experiments of a notebook",
  .description = "State is planned, curing, burning or finished.",
  .options = options,
  .n_arguments = 1,
  .run = run,
};
