/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>
#include <json-glib/json-glib.h>

G_BEGIN_DECLS

/* Runs the built program (WICKBENCH_PROGRAM) as a shell would, in a folder that the test run throws away. */
typedef struct
{
  int   status;  /* exit status */
  char *out;
  char *err;
} Run;

/* Arguments up to NULL; checks that no display and no bus were there to lean on, and that it did not end by a signal. */
Run      *commands_run       (const char *first, ...) G_GNUC_NULL_TERMINATED;
/* The same with one more variable of the environment. */
Run      *commands_run_with  (const char *variable, const char *value, const char *first, ...) G_GNUC_NULL_TERMINATED;
void      commands_run_free  (Run *run);
/* A path in the test's folder; the folder is made. */
char     *commands_path      (const char *name);
/* The sample logs of the exchange room. */
char     *commands_log       (const char *name);
/* Brings the clean log into a new notebook. */
char     *commands_new_notebook (const char *name);
/* Two wicks of one of its vessels alone, 8 candles of 40: for whom it is the same what is answered. A fifth of the time. */
char     *commands_new_small_notebook (const char *name);
/* The standard output as a JSON object; fails the test where it is none. The caller keeps the parser. */
JsonObject *commands_json    (Run *run, JsonParser *parser);
/* One line, from "wickbench: " to its line feed. */
void      commands_assert_one_line (const char *text);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Run, commands_run_free)

/* Suites of the room, one a file. */
void test_commands_answers_add (void);
void test_commands_earlier_add (void);
void test_commands_few_add     (void);
void test_commands_files_add   (void);
void test_commands_ladder_add  (void);
void test_commands_language_add (void);
void test_commands_lots_add    (void);
void test_commands_manual_add  (void);
void test_commands_materials_add (void);
void test_commands_next_add    (void);
void test_commands_report_add  (void);
void test_commands_recipe_add (void);
void test_commands_slips_add   (void);
void test_commands_table_add   (void);
void test_commands_usage_add   (void);

G_END_DECLS
