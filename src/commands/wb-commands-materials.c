/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-commands-private.h"
#include "wb-commands-table-private.h"

#include "wb-app-shelf.h"
#include "wb-exchange-json.h"

#include <glib/gstdio.h>

static gboolean dry_run, partly, as_json;
static char *to_file, *from_file, *kind_name;

static const GOptionEntry options[] = {
  { "to", 0, 0, G_OPTION_ARG_FILENAME, &to_file, "Write the materials to this file", "FILE.csv" },
  { "from", 0, 0, G_OPTION_ARG_FILENAME, &from_file, "Bring materials in from this file", "FILE.csv" },
  { "kind", 0, 0, G_OPTION_ARG_STRING, &kind_name, "One kind: vessel, wax, wick, fragrance, dye, additive", "K" },
  { "dry-run", 0, 0, G_OPTION_ARG_NONE, &dry_run, "Say what would come in, write nothing", NULL },
  { "partly", 0, 0, G_OPTION_ARG_NONE, &partly, "Write the other rows although some are refused", NULL },
  { "json", 0, 0, G_OPTION_ARG_NONE, &as_json, "Print JSON", NULL },
  G_OPTION_ENTRY_NULL
};

/* Those that change something: what stays as it is has no line. */
static void
print_rows (const WbAppShelf *shelf)
{
  g_autoptr (WbCommandsTable) table = wb_commands_table_new ();

  if (shelf->n[WB_APP_SHELF_NEW] + shelf->n[WB_APP_SHELF_CHANGED] == 0)
    return;
  wb_commands_table_add_column (table, "Line", WB_COMMANDS_RIGHT);
  wb_commands_table_add_column (table, "Row", WB_COMMANDS_LEFT);
  wb_commands_table_add_column (table, "Material", WB_COMMANDS_LEFT);
  wb_commands_table_add_column (table, "Change", WB_COMMANDS_LEFT);
  for (guint i = 0; i < shelf->rows->len; i++)
    {
      const WbAppShelfRow *row = shelf->rows->pdata[i];

      if (row->state != WB_APP_SHELF_NEW && row->state != WB_APP_SHELF_CHANGED)
        continue;
      wb_commands_table_take (table, g_strdup_printf ("%" G_GUINT64_FORMAT, row->line));
      wb_commands_table_add (table, wb_app_shelf_state_get_nick (row->state));
      wb_commands_table_add (table, row->title);
      wb_commands_table_add (table, row->words);
    }
  wb_commands_table_print (table);
}

static void
print_text (const WbAppShelf *shelf,
            gint64            entry)
{
  g_autofree char *sum = wb_app_shelf_dup_sum (shelf);

  wb_commands_print ("%s: %s\n", from_file, sum);
  print_rows (shelf);
  if (entry > 0)
    wb_commands_print ("Written as entry %" G_GINT64_FORMAT "\n", entry);
  else
    wb_commands_write ("Nothing written\n");
}

static void
add_rows (WbExchangeJson   *json,
          const WbAppShelf *shelf)
{
  wb_exchange_json_begin_array (json, "rows");
  for (guint i = 0; i < shelf->rows->len; i++)
    {
      const WbAppShelfRow *row = shelf->rows->pdata[i];

      wb_exchange_json_begin_object (json, NULL);
      wb_exchange_json_add_integer (json, "line", (gint64) row->line);
      wb_exchange_json_add_text (json, "state", wb_app_shelf_state_get_nick (row->state));
      wb_exchange_json_add_text (json, "material", row->title);
      wb_exchange_json_add_text (json, "change", row->words);
      wb_exchange_json_end_object (json);
    }
  wb_exchange_json_end_array (json);
}

static void
add_refused (WbExchangeJson   *json,
             const WbAppShelf *shelf)
{
  wb_exchange_json_begin_array (json, "refused");
  for (guint i = 0; i < shelf->refused->len; i++)
    {
      const WbLogRemark *remark = shelf->refused->pdata[i];

      wb_exchange_json_begin_object (json, NULL);
      wb_exchange_json_add_integer (json, "line", (gint64) remark->line);
      wb_exchange_json_add_text (json, "column", remark->column);
      wb_exchange_json_add_text (json, "rule", remark->rule);
      wb_exchange_json_end_object (json);
    }
  wb_exchange_json_end_array (json);
}

static void
print_json (const WbAppShelf *shelf,
            gint64            entry)
{
  g_autoptr (WbExchangeJson) json = wb_exchange_json_new ();
  g_autofree char *text = NULL;

  add_rows (json, shelf);
  add_refused (json, shelf);
  wb_exchange_json_begin_array (json, "warnings");
  for (guint i = 0; i < shelf->warnings->len; i++)
    wb_exchange_json_add_text (json, NULL, shelf->warnings->pdata[i]);
  wb_exchange_json_end_array (json);
  wb_exchange_json_add_texts (json, "unknown", (const char *const *) shelf->unknown);
  wb_exchange_json_add_flag (json, "dry_run", entry == 0);
  wb_exchange_json_add_integer (json, "entry", entry > 0 ? entry : WB_INTEGER_NONE);
  text = wb_exchange_json_to_text (json, TRUE);
  wb_commands_write (text);
}

/* FILE:12: column: rule, as compilers write it. */
static void
complain (const WbAppShelf *shelf)
{
  for (guint i = 0; shelf->unknown[i] != NULL; i++)
    wb_commands_complain (from_file, "warning: the column “%s” says nothing of a material and is passed over", shelf->unknown[i]);
  for (guint i = 0; i < shelf->warnings->len; i++)
    wb_commands_complain (from_file, "warning: %s", (const char *) shelf->warnings->pdata[i]);
  for (guint i = 0; i < shelf->refused->len; i++)
    {
      const WbLogRemark *remark = shelf->refused->pdata[i];
      g_autofree char *place = g_strdup_printf ("%s:%" G_GUINT64_FORMAT, from_file, remark->line);

      wb_commands_complain (place, "%s%s%s", remark->column, *remark->column != '\0' ? ": " : "", remark->rule);
    }
}

/* Of a notebook that was made here and got nothing, nothing stays; the log beside it is empty then. */
static void
remove_notebook (const char *path)
{
  g_autofree char *journal = g_strconcat (path, "-journal", NULL);

  g_unlink (path);
  g_unlink (journal);
}

static int
bring_in_to (const char         *path,
             const WbRecordType *kind,
             WbAppOpenMode       mode,
             gint64             *written)
{
  GError *error = NULL;
  g_autoptr (WbAppNotebook) notebook = wb_app_notebook_open_sync (path, mode, NULL, &error);
  g_autoptr (WbAppShelf) shelf = NULL;
  gint64 entry = 0;

  if (notebook == NULL)
    return wb_commands_fail (path, error);
  shelf = wb_app_shelf_look_sync (notebook, kind, from_file, &error);
  if (shelf == NULL)
    {
      wb_app_notebook_close (notebook);
      return wb_commands_fail (from_file, error);
    }
  if (!dry_run && (partly || shelf->n[WB_APP_SHELF_REFUSED] == 0))
    entry = wb_app_shelf_write_sync (notebook, shelf, partly, &error);
  wb_app_notebook_close (notebook);
  if (error != NULL)
    return wb_commands_fail (path, error);
  *written = entry;
  if (as_json)
    print_json (shelf, entry);
  else
    print_text (shelf, entry);
  complain (shelf);
  return shelf->n[WB_APP_SHELF_REFUSED] > 0 ? WB_COMMANDS_NO : WB_COMMANDS_DONE;
}

/* The first materials make the notebook, as the first log does. */
static int
bring_in (const char         *path,
          const WbRecordType *kind)
{
  gboolean make = !dry_run && !g_file_test (path, G_FILE_TEST_EXISTS) && g_file_test (from_file, G_FILE_TEST_EXISTS);
  gint64 written = 0;
  int status = bring_in_to (path, kind, dry_run ? WB_APP_OPEN_READ : make ? WB_APP_OPEN_CREATE : WB_APP_OPEN_EXISTING, &written);

  if (make && written <= 0)
    remove_notebook (path);
  return status;
}

static int
write_out (const char         *path,
           const WbRecordType *kind)
{
  int status = WB_COMMANDS_DONE;
  GError *error = NULL;
  g_autoptr (WbAppNotebook) notebook = wb_commands_open (path, &status);

  if (notebook == NULL)
    return status;
  if (!wb_app_shelf_export_sync (notebook, kind, to_file, &error))
    return wb_commands_fail (to_file, error);
  return WB_COMMANDS_DONE;
}

static int
run (char **arguments)
{
  GError *error = NULL;
  const WbRecordType *kind = NULL;

  if ((to_file != NULL) == (from_file != NULL) || (to_file != NULL && (dry_run || partly || as_json)))
    {
      wb_commands_complain ("materials", "usage: wickbench materials NOTEBOOK --to FILE.csv [--kind K], or --from FILE.csv [--kind K] [--dry-run] [--partly] [--json]");
      return WB_COMMANDS_USAGE;
    }
  if (kind_name != NULL)
    {
      kind = wb_app_shelf_find_kind (kind_name, &error);
      if (kind == NULL)
        return wb_commands_fail (NULL, error);
    }
  return to_file != NULL ? write_out (arguments[0], kind) : bring_in (arguments[0], kind);
}

const WbCommandsVerb wb_commands_materials = {
  .name = "materials",
  .arguments = "NOTEBOOK",
  .summary = "Write the materials with their lots as CSV, or bring them in; makes the notebook if there is none",
  .description = "Each row is new, changed, unchanged or refused; a refused one is named on standard error with\n"
                 "its line, column and rule. If any is, nothing is written, unless --partly; exit status 1.\n"
                 "What comes in is one entry, which the window's undo takes back. Where nothing is written, no\n"
                 "new notebook is left behind.",
  .options = options,
  .n_arguments = 1,
  .run = run,
};
