/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-commands-private.h"

#include "wb-app-import.h"
#include "wb-app-mapping.h"
#include "wb-exchange-json-list.h"

static gboolean dry_run, strict, as_json;
static char *mapping_file;

static const GOptionEntry options[] = {
  { "dry-run", 0, 0, G_OPTION_ARG_NONE, &dry_run, "Say what would come in, write nothing", NULL },
  { "strict", 0, 0, G_OPTION_ARG_NONE, &strict, "Write nothing if any row is refused", NULL },
  { "mapping", 0, 0, G_OPTION_ARG_FILENAME, &mapping_file, "Read a maker's own sheet by this mapping", "FILE" },
  { "json", 0, 0, G_OPTION_ARG_NONE, &as_json, "Print JSON", NULL },
  G_OPTION_ENTRY_NULL
};

/* LOG.csv:12: column: rule, as compilers write it, so that an editor can jump there. */
static void
print_remarks (const char *file,
               GPtrArray  *remarks,
               const char *kind)
{
  for (guint i = 0; i < remarks->len; i++)
    {
      const WbLogRemark *remark = g_ptr_array_index (remarks, i);
      g_autofree char *also = remark->also != NULL ? g_strjoinv (", ", remark->also) : NULL;
      g_autofree char *place = g_strdup_printf ("%s:%" G_GUINT64_FORMAT, file, remark->line);

      wb_commands_complain (place, "%s%s%s%s%s%s", kind, remark->column, also != NULL && *also != '\0' ? ", " : "",
                            also != NULL ? also : "", *remark->column != '\0' ? ": " : "", remark->rule);
    }
}

static const char *
name_delimiter (char delimiter)
{
  switch (delimiter)
    {
    case ';':
      return "semicolons";
    case '\t':
      return "tabs";
    case ',':
      return "commas";
    default:
      return "another sign";
    }
}

static void
print_text (const char               *file,
            const WbAppImportSummary *summary)
{
  g_autofree char *extent = wb_app_import_dup_extent (summary->lines, summary->rows, summary->samples);

  wb_commands_print ("%s: %s: %" G_GUINT64_FORMAT " accepted, %" G_GUINT64_FORMAT " known, %" G_GUINT64_FORMAT " refused\n",
                     file, extent, summary->accepted, summary->known, summary->refused_rows);
  wb_commands_print ("Separated by %s, decimal sign %c\n", name_delimiter (summary->delimiter), summary->decimal);
  if (summary->kept != NULL && summary->kept[0] != NULL)
    {
      g_autofree char *kept = g_strjoinv (", ", summary->kept);

      wb_commands_print ("Unknown columns, kept: %s\n", kept);
    }
  if (summary->entry > 0)
    wb_commands_print ("Written as entry %" G_GINT64_FORMAT "\n", summary->entry);
  else
    wb_commands_write ("Nothing written\n");
}

static void
print_json (const WbAppImportSummary *summary)
{
  const WbExchangeImportTold told = {
    .rows = summary->rows,
    .lines = summary->lines,
    .samples = summary->samples,
    .accepted = summary->accepted,
    .known = summary->known,
    .refused_rows = summary->refused_rows,
    .refused = summary->refused,
    .warnings = summary->warnings,
    .kept = (const char *const *) summary->kept,
    .delimiter = summary->delimiter,
    .decimal = summary->decimal,
    .dry_run = summary->entry == 0,
  };
  g_autofree char *text = wb_exchange_json_import (&told);

  wb_commands_write (text);
}

/* What the log's content or its file did; the rest is the notebook's. */
static gboolean
is_about_the_log (const GError *error)
{
  return error->domain != WB_APP_ERROR || error->code == WB_APP_ERROR_REFUSED || error->code == WB_APP_ERROR_CHANGED;
}

static int
run (char **arguments)
{
  WbAppImportMode mode = dry_run ? WB_APP_IMPORT_DRY_RUN : strict ? WB_APP_IMPORT_STRICT : WB_APP_IMPORT_WRITE;
  GError *error = NULL;
  g_autoptr (WbLogMapping) mapping = mapping_file != NULL ? wb_app_mapping_load (mapping_file, &error) : NULL;
  g_autoptr (WbAppImportSummary) summary = NULL;

  if (error != NULL)
    return wb_commands_fail (mapping_file, error);
  summary = wb_app_import_sync (arguments[0], arguments[1], mapping, mode, NULL, &error);

  if (summary == NULL)
    return wb_commands_fail (is_about_the_log (error) ? arguments[1] : arguments[0], error);
  if (as_json)
    print_json (summary);
  else
    print_text (arguments[1], summary);
  print_remarks (arguments[1], summary->warnings, "warning: ");
  print_remarks (arguments[1], summary->refused, "");
  if (summary->refused_rows > summary->refused->len)
    wb_commands_complain (arguments[1], "%" G_GUINT64_FORMAT " further rows are refused", summary->refused_rows - summary->refused->len);
  return summary->refused_rows > 0 ? WB_COMMANDS_NO : WB_COMMANDS_DONE;
}

const WbCommandsVerb wb_commands_import = {
  .name = "import",
  .arguments = "NOTEBOOK LOG.csv",
  .summary = "Bring in a burn log; makes the notebook if there is none",
  .description = "Each refused row is named on standard error with its line, column and rule; the rows\n"
                 "around it still come in, unless --strict. Exit status 1 if a row is refused.\n"
                 "A sheet of another form comes in by a mapping, made and saved in the window's import.\n"
                 "A new experiment gets the house protocol and seed 1. Where nothing is written, no\n"
                 "notebook is left behind.",
  .options = options,
  .n_arguments = 2,
  .run = run,
};
