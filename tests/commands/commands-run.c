/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "commands-run.h"

static Run *
run_program (const char *variable,
             const char *value,
             const char *first,
             va_list     rest)
{
  g_autoptr (GPtrArray) argv = g_ptr_array_new ();
  g_autoptr (GSubprocessLauncher) launcher = g_subprocess_launcher_new (G_SUBPROCESS_FLAGS_STDOUT_PIPE | G_SUBPROCESS_FLAGS_STDERR_PIPE);
  g_autoptr (GSubprocess) process = NULL;
  g_autoptr (GError) error = NULL;
  Run *run = g_new0 (Run, 1);

  g_ptr_array_add (argv, (gpointer) g_getenv ("WICKBENCH_PROGRAM"));
  for (const char *argument = first; argument != NULL; argument = va_arg (rest, const char *))
    g_ptr_array_add (argv, (gpointer) argument);
  g_ptr_array_add (argv, NULL);

  g_subprocess_launcher_unsetenv (launcher, "DISPLAY");
  g_subprocess_launcher_unsetenv (launcher, "WAYLAND_DISPLAY");
  g_subprocess_launcher_setenv (launcher, "DBUS_SESSION_BUS_ADDRESS", "unix:path=/nonexistent", TRUE);
  g_subprocess_launcher_setenv (launcher, "GSETTINGS_BACKEND", "no-such-backend", TRUE);
  /* What the program remembers of notebooks stays in the test's folder too. */
  g_subprocess_launcher_setenv (launcher, "XDG_STATE_HOME", g_get_user_state_dir (), TRUE);
  if (variable != NULL)
    g_subprocess_launcher_setenv (launcher, variable, value, TRUE);
  process = g_subprocess_launcher_spawnv (launcher, (const char *const *) argv->pdata, &error);
  g_assert_no_error (error);
  g_subprocess_communicate_utf8 (process, NULL, NULL, &run->out, &run->err, &error);
  g_assert_no_error (error);
  if (!g_subprocess_get_if_exited (process))
    g_error ("%s ended by a signal: %s", first, run->err);
  run->status = g_subprocess_get_exit_status (process);
  return run;
}

Run *
commands_run (const char *first,
              ...)
{
  va_list rest;
  Run *run;

  va_start (rest, first);
  run = run_program (NULL, NULL, first, rest);
  va_end (rest);
  return run;
}

Run *
commands_run_with (const char *variable,
                   const char *value,
                   const char *first,
                   ...)
{
  va_list rest;
  Run *run;

  va_start (rest, first);
  run = run_program (variable, value, first, rest);
  va_end (rest);
  return run;
}

void
commands_run_free (Run *run)
{
  g_free (run->out);
  g_free (run->err);
  g_free (run);
}

char *
commands_path (const char *name)
{
  g_assert_cmpint (g_mkdir_with_parents (g_get_user_data_dir (), 0700), ==, 0);
  return g_build_filename (g_get_user_data_dir (), name, NULL);
}

char *
commands_log (const char *name)
{
  return g_test_build_filename (G_TEST_DIST, "exchange", "data", name, NULL);
}

static char *
import_log (const char *name,
            const char *log)
{
  char *path = commands_path (name);
  g_autoptr (Run) run = commands_run ("import", path, log, NULL);

  g_assert_cmpstr (run->err, ==, "");
  g_assert_cmpint (run->status, ==, 0);
  return path;
}

char *
commands_new_notebook (const char *name)
{
  g_autofree char *log = commands_log ("burn-log-clean.csv");

  return import_log (name, log);
}

char *
commands_new_small_notebook (const char *name)
{
  g_autofree char *log = commands_log ("burn-log-clean.csv"), *text = NULL, *few = commands_path ("few.csv");
  g_autoptr (GString) rows = g_string_new (NULL);
  g_autoptr (GError) error = NULL;
  g_auto (GStrv) lines = NULL;

  g_assert_true (g_file_get_contents (log, &text, NULL, &error));
  lines = g_strsplit (text, "\n", -1);
  for (guint i = 0; lines[i] != NULL; i++)
    if (i == 0 || (strstr (lines[i], ",Osprey,") != NULL && (strstr (lines[i], ",L-2,") != NULL || strstr (lines[i], ",L-3,") != NULL)))
      g_string_append_printf (rows, "%s\n", lines[i]);
  g_assert_true (g_file_set_contents (few, rows->str, (gssize) rows->len, &error));
  return import_log (name, few);
}

JsonObject *
commands_json (Run        *run,
               JsonParser *parser)
{
  g_autoptr (GError) error = NULL;

  g_assert_cmpstr (run->err, ==, "");
  json_parser_load_from_data (parser, run->out, -1, &error);
  g_assert_no_error (error);
  g_assert_true (JSON_NODE_HOLDS_OBJECT (json_parser_get_root (parser)));
  /* Neither is JSON, whatever a parser lets pass. */
  g_assert_null (strstr (run->out, "nan"));
  g_assert_null (strstr (run->out, "inf"));
  return json_node_get_object (json_parser_get_root (parser));
}

void
commands_assert_one_line (const char *text)
{
  g_assert_true (g_str_has_prefix (text, "wickbench: "));
  g_assert_true (strchr (text, '\n') == text + strlen (text) - 1);
}
