/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-commands-private.h"
#include "wb-commands-table-private.h"

#include "wb-app-lot-trace.h"
#include "wb-app-query.h"
#include "wb-exchange-json.h"

static gboolean as_json;
static char *of_experiment;

static const GOptionEntry options[] = {
  { "experiment", 0, 0, G_OPTION_ARG_STRING, &of_experiment, "The other way round: what its samples and decisions are made of", "E" },
  { "json", 0, 0, G_OPTION_ARG_NONE, &as_json, "Print JSON", NULL },
  G_OPTION_ENTRY_NULL
};

/* ---- JSON ---- */

static void
add_uses (WbExchangeJson  *json,
          const GPtrArray *uses)
{
  wb_exchange_json_begin_array (json, "uses");
  for (guint i = 0; i < uses->len; i++)
    {
      const WbAppLotUse *use = g_ptr_array_index (uses, i);
      g_autofree char *day = use->day != WB_DAY_NONE ? wb_day_format (use->day) : NULL;

      wb_exchange_json_begin_object (json, NULL);
      wb_exchange_json_add_text (json, "kind", wb_app_lot_use_kind_get_key (use->kind));
      wb_exchange_json_add_text (json, "experiment", use->experiment_code);
      wb_exchange_json_add_text (json, "code", use->code);
      wb_exchange_json_add_text (json, "combination", use->cell);
      wb_exchange_json_add_text (json, "day", day);
      wb_exchange_json_add_text (json, "state", use->state);
      wb_exchange_json_add_text (json, "limit_crossed", use->worst);
      wb_exchange_json_add_text (json, "rests_on", use->lots);
      wb_exchange_json_end_object (json);
    }
  wb_exchange_json_end_array (json);
}

static void
add_counts (WbExchangeJson      *json,
            const WbAppLotTrace *trace)
{
  wb_exchange_json_add_text (json, "material", trace->title);
  wb_exchange_json_add_text (json, "lot", trace->code);
  wb_exchange_json_add_flag (json, "listed", trace->is_record);
  wb_exchange_json_add_flag (json, "used_up", trace->used_up);
  wb_exchange_json_add_integer (json, "melts", trace->batches);
  wb_exchange_json_add_integer (json, "samples", trace->samples);
  wb_exchange_json_add_integer (json, "decisions", trace->decisions);
  wb_exchange_json_add_integer (json, "samples_crossed", trace->crossed);
}

static void
end_json (WbExchangeJson *json)
{
  g_autofree char *text = wb_exchange_json_to_text (json, TRUE);

  wb_commands_write (text);
}

static WbExchangeJson *
begin_json (WbAppNotebook *notebook)
{
  WbExchangeJson *json = wb_exchange_json_new ();

  wb_exchange_json_add_mark (json, wb_app_notebook_get_settings (notebook));
  return json;
}

/* ---- Tables ---- */

static void
print_uses (const GPtrArray *uses)
{
  g_autoptr (WbCommandsTable) table = wb_commands_table_new ();
  static const char *const heads[] = { "What", "Experiment", "Code", "Combination", "Day", "State", "Limit crossed", "Rests on" };

  for (guint i = 0; i < G_N_ELEMENTS (heads); i++)
    wb_commands_table_add_column (table, heads[i], WB_COMMANDS_LEFT);
  for (guint i = 0; i < uses->len; i++)
    {
      const WbAppLotUse *use = g_ptr_array_index (uses, i);

      wb_commands_table_add (table, wb_app_lot_use_kind_get_key (use->kind));
      wb_commands_table_add (table, use->experiment_code);
      wb_commands_table_add (table, use->code);
      wb_commands_table_add (table, use->cell);
      wb_commands_table_take (table, use->day != WB_DAY_NONE ? wb_day_format (use->day) : NULL);
      wb_commands_table_add (table, use->state);
      wb_commands_table_add (table, use->worst);
      wb_commands_table_add (table, use->lots);
    }
  wb_commands_table_print (table);
}

static void
print_list (const GPtrArray *traces)
{
  g_autoptr (WbCommandsTable) table = wb_commands_table_new ();

  wb_commands_table_add_column (table, "Material", WB_COMMANDS_LEFT);
  wb_commands_table_add_column (table, "Lot", WB_COMMANDS_LEFT);
  wb_commands_table_add_column (table, "Melts", WB_COMMANDS_RIGHT);
  wb_commands_table_add_column (table, "Samples", WB_COMMANDS_RIGHT);
  wb_commands_table_add_column (table, "Crossed", WB_COMMANDS_RIGHT);
  wb_commands_table_add_column (table, "Decisions", WB_COMMANDS_RIGHT);
  wb_commands_table_add_column (table, "Remark", WB_COMMANDS_LEFT);
  for (guint i = 0; i < traces->len; i++)
    {
      const WbAppLotTrace *trace = g_ptr_array_index (traces, i);

      wb_commands_table_add (table, trace->title);
      wb_commands_table_add (table, trace->code);
      wb_commands_table_take (table, g_strdup_printf ("%u", trace->batches));
      wb_commands_table_take (table, g_strdup_printf ("%u", trace->samples));
      wb_commands_table_take (table, g_strdup_printf ("%u", trace->crossed));
      wb_commands_table_take (table, g_strdup_printf ("%u", trace->decisions));
      wb_commands_table_add (table, !trace->is_record ? "not in the list of materials" : trace->used_up ? "used up" : NULL);
    }
  if (traces->len == 0)
    wb_commands_write ("The notebook names no lot.\n");
  else
    wb_commands_table_print (table);
}

/* ---- The three questions ---- */

static int
tell_list (const char    *path,
           WbAppNotebook *notebook)
{
  GError *error = NULL;
  g_autoptr (GPtrArray) traces = wb_app_lot_trace_list_sync (notebook, &error);

  if (traces == NULL)
    return wb_commands_fail (path, error);
  if (as_json)
    {
      g_autoptr (WbExchangeJson) json = begin_json (notebook);

      wb_exchange_json_begin_array (json, "lots");
      for (guint i = 0; i < traces->len; i++)
        {
          wb_exchange_json_begin_object (json, NULL);
          add_counts (json, g_ptr_array_index (traces, i));
          wb_exchange_json_end_object (json);
        }
      wb_exchange_json_end_array (json);
      end_json (json);
      return WB_COMMANDS_DONE;
    }
  wb_commands_print_mark (notebook);
  print_list (traces);
  return WB_COMMANDS_DONE;
}

static int
tell_lot (const char    *path,
          WbAppNotebook *notebook,
          const char    *material,
          const char    *lot)
{
  GError *error = NULL;
  gint64 id = wb_app_lot_trace_find_material_sync (notebook, material, &error);
  g_autoptr (WbAppLotTrace) trace = id != 0 ? wb_app_lot_trace_sync (notebook, id, lot, &error) : NULL;
  g_autofree char *sum = NULL;

  if (trace == NULL)
    return wb_commands_fail (path, error);
  if (trace->uses->len == 0 && !trace->is_record)
    {
      wb_commands_complain (path, "no lot “%s” of %s; see wickbench lots NOTEBOOK", lot, trace->title);
      return WB_COMMANDS_USAGE;
    }
  if (as_json)
    {
      g_autoptr (WbExchangeJson) json = begin_json (notebook);

      add_counts (json, trace);
      add_uses (json, trace->uses);
      end_json (json);
      return WB_COMMANDS_DONE;
    }
  wb_commands_print_mark (notebook);
  sum = wb_app_lot_trace_dup_sum (trace);
  wb_commands_print ("%s %s: %s\n", trace->title, trace->code, sum);
  if (trace->uses->len > 0)
    print_uses (trace->uses);
  return WB_COMMANDS_DONE;
}

static int
tell_back (const char    *path,
           WbAppNotebook *notebook)
{
  int status = WB_COMMANDS_DONE;
  gint64 id = wb_commands_find (notebook, of_experiment, &status);
  GError *error = NULL;
  g_autoptr (GPtrArray) uses = NULL;

  if (id == 0)
    return status;
  uses = wb_app_lot_trace_back_sync (notebook, id, &error);
  if (uses == NULL)
    return wb_commands_fail (path, error);
  if (as_json)
    {
      g_autoptr (WbExchangeJson) json = begin_json (notebook);

      add_uses (json, uses);
      end_json (json);
      return WB_COMMANDS_DONE;
    }
  wb_commands_print_mark (notebook);
  if (uses->len == 0)
    wb_commands_write ("Nothing of it is poured.\n");
  else
    print_uses (uses);
  return WB_COMMANDS_DONE;
}

static int
run (char **arguments)
{
  int status = WB_COMMANDS_DONE;
  g_autoptr (WbAppNotebook) notebook = NULL;

  if ((arguments[1] != NULL) != (arguments[1] != NULL && arguments[2] != NULL) || (arguments[1] != NULL && of_experiment != NULL))
    {
      wb_commands_complain ("lots", "usage: wickbench lots NOTEBOOK [MATERIAL LOT | --experiment E]");
      return WB_COMMANDS_USAGE;
    }
  notebook = wb_commands_open (arguments[0], &status);
  if (notebook == NULL)
    return status;
  if (of_experiment != NULL)
    return tell_back (arguments[0], notebook);
  return arguments[1] != NULL ? tell_lot (arguments[0], notebook, arguments[1], arguments[2]) : tell_list (arguments[0], notebook);
}

const WbCommandsVerb wb_commands_lots = {
  .name = "lots",
  .arguments = "NOTEBOOK [MATERIAL LOT]",
  .summary = "Tell where each lot went, or one of them to the last sample",
  .description = "Without a material it lists every lot. A lot that nothing is known of is an unknown name: exit status 2.",
  .options = options,
  .n_arguments = 1,
  .n_optional = 2,
  .run = run,
};
